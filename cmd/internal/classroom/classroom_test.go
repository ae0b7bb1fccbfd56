package classroom_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/recordstest"
	"shimwright/cmd/internal/web"
	"shimwright/cmd/internal/web/keepertest"
	"shimwright/grading"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

func TestMain(m *testing.M) { recordstest.Main(m) }

// A clock is set by hand.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

func opened(t *testing.T, place string) (*classroom.Room, *clock) {
	c := &clock{time.Date(2026, 9, 7, 8, 0, 0, 0, time.UTC)}
	return classroom.New(recordstest.Open(t, place), c.now), c
}

// The keeper of a class keeps what every keeper of the bench does, on every database.
func TestKeeper(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		keepertest.Run(t, func(t *testing.T) web.Keeper {
			r := classroom.New(recordstest.Open(t, place()), time.Now)
			for _, who := range []string{"ann", "bea"} {
				require.NoError(t, r.Store.Add(context.Background(), records.Pupil{ID: who, Name: who}))
			}
			return classroom.Keeper{Room: r}
		})
	})
}

func enroll(t *testing.T, r *classroom.Room, names ...string) map[string]string {
	ctx := context.Background()
	_, err := r.Enroll(ctx, names)
	require.NoError(t, err)
	ids := map[string]string{}
	for _, n := range names {
		p, err := r.Store.Named(ctx, n)
		require.NoError(t, err)
		ids[n] = p.ID
	}
	return ids
}

func found(t *testing.T, name string) exercise.Exercise {
	e, err := exercise.Find(name)
	require.NoError(t, err)
	return e
}

// work works at a job as a careful technician, up to so many acts (0: all), each act kept as
// the bench keeps it. change may change an act before it is done.
func work(t *testing.T, r *classroom.Room, pupil, assignment string, job, most int, change func(act.Act) act.Act) string {
	ctx := context.Background()
	id, err := r.Begin(ctx, pupil, assignment, job)
	require.NoError(t, err)
	k := classroom.Keeper{Room: r}
	rec, err := k.Record(ctx, pupil, id)
	require.NoError(t, err)
	j, stand, _, err := attempt.Replay(rec)
	require.NoError(t, err)
	for i, s := range careful(t, rec) {
		if i == most && most > 0 {
			break
		}
		a := s.Act
		if change != nil {
			a = change(a)
		}
		o, err := stand.Do(a)
		require.NoError(t, err)
		require.NoError(t, k.Append(ctx, pupil, id, i, rec.Add(o)))
	}
	_ = j
	return id
}

// careful is what a careful technician does on the job of a record.
func careful(t *testing.T, rec *attempt.Record) []history.Step {
	j, stand, _, err := attempt.Replay(rec)
	require.NoError(t, err)
	all := &sim.Recorder{Stand: stand}
	require.NoError(t, technician.Work(all, j.Card.Known, technician.Competent()))
	return all.Steps
}

// A week: a roster, an exercise, six pupils with planted trouble, results, hand-back.
func TestAWeek(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		r, now := opened(t, place())
		f, err := r.Found(ctx, "First year", "")
		require.NoError(t, err)
		require.Len(t, f.Class.Code, 4)
		const hostile = `=cmd|'/c calc'!A1 <script>alert(1)</script>`
		names, err := classroom.Roster(strings.NewReader("\ufeffName;Group\nAnn O'Neil;a\nBo Karlsen;a\nCy Dole;b\n\"" + hostile + "\";b\nDee Ray;b\nEli Stone;b\n"))
		require.NoError(t, err)
		require.Len(t, names, 6)
		ids := enroll(t, r, names...)

		depth, err := r.Set(ctx, found(t, "first-depth"), classroom.Setting{Jobs: 1, Closes: now.at.Add(48 * time.Hour)})
		require.NoError(t, err)
		other, err := r.Set(ctx, found(t, "first-preload"), classroom.Setting{Jobs: 1})
		require.NoError(t, err)

		work(t, r, ids["Ann O'Neil"], depth.ID, 1, 0, nil)
		// Bo does the same in millimeters: a near copy.
		work(t, r, ids["Bo Karlsen"], depth.ID, 1, 0, func(a act.Act) act.Act {
			for i, e := range a.Amounts {
				if l, ok := e.Length(); ok && e.Unit == quantity.UnitInch {
					a.Amounts = append([]quantity.Entered{}, a.Amounts...)
					a.Amounts[i] = quantity.Entered{Number: float64(int(l.MM()*10000+.5)) / 10000, Unit: quantity.UnitMM}
				}
			}
			return a
		})
		work(t, r, ids["Cy Dole"], depth.ID, 1, 3, nil) // left open
		work(t, r, ids["Dee Ray"], other.ID, 1, 2, nil) // at another exercise
		bad := work(t, r, ids[hostile], depth.ID, 1, 0, nil)
		// Eli Stone has begun nothing.

		now.at = now.at.Add(10 * time.Minute)
		board, err := r.Board(ctx)
		require.NoError(t, err)
		going := map[string]classroom.Going{}
		for _, s := range board {
			going[s.Pupil.Name] = s.Going
		}
		assert.Equal(t, map[string]classroom.Going{"Ann O'Neil": classroom.Signed, "Bo Karlsen": classroom.Signed, "Cy Dole": classroom.Stuck, "Dee Ray": classroom.Stuck, hostile: classroom.Signed, "Eli Stone": classroom.Absent}, going)

		require.NoError(t, r.Override(ctx, bad, 50, "=worked with help"))
		assert.Error(t, r.Override(ctx, bad, 101, "x"))
		assert.Error(t, r.Override(ctx, bad, 50, " "))
		res, err := r.Results(ctx, depth.ID)
		require.NoError(t, err)
		lines := map[string]classroom.Line{}
		for _, l := range res.Lines {
			lines[l.Pupil.Name] = l
		}
		require.Len(t, lines, 6)
		ann, bo := lines["Ann O'Neil"], lines["Bo Karlsen"]
		score, ok := ann.Cells[0].Score()
		assert.True(t, ok)
		assert.Greater(t, score, 80)
		assert.InDelta(t, grading.TheSurety().PlusMinus(1), ann.PlusMinus, 1e-9)
		assert.Equal(t, "signed off", r.Printer.Print(bo.Cells[0].State()))
		assert.Equal(t, "open", r.Printer.Print(lines["Cy Dole"].Cells[0].State()))
		assert.False(t, lines["Cy Dole"].Missing)
		assert.True(t, lines["Eli Stone"].Missing)
		assert.Empty(t, lines["Eli Stone"].Elsewhere)
		assert.Equal(t, other.Title, lines["Dee Ray"].Elsewhere)
		score, _ = lines[hostile].Cells[0].Score()
		assert.Equal(t, 50, score)
		var pairs []string
		for _, n := range res.Near {
			pairs = append(pairs, n.A+" and "+n.B)
		}
		assert.Contains(t, strings.Join(pairs, "; "), "Ann O'Neil/first-depth-1.jsonl and Bo Karlsen/first-depth-1.jsonl")
		again, err := r.Results(ctx, depth.ID)
		require.NoError(t, err)
		assert.Equal(t, res, again)

		var table bytes.Buffer
		require.NoError(t, res.CSV(&table, r.Printer))
		rows, err := csv.NewReader(&table).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, 7)
		for _, row := range rows[1:] {
			for _, cell := range row {
				assert.NotRegexp(t, `^[=+\-@]`, cell)
			}
		}

		// Nothing of it is handed back to a pupil before the instructor does so.
		_, err = r.DebriefOf(ctx, ids["Ann O'Neil"], ann.Cells[0].Attempt)
		assert.ErrorIs(t, err, records.ErrNone)
		require.NoError(t, r.Return(ctx, depth.ID))
		d, err := r.DebriefOf(ctx, ids["Ann O'Neil"], ann.Cells[0].Attempt)
		require.NoError(t, err)
		assert.Equal(t, "Ann O'Neil: "+depth.Title+", job 1", d.Heading(r.Printer))
		_, err = r.DebriefOf(ctx, ids["Bo Karlsen"], ann.Cells[0].Attempt)
		assert.ErrorIs(t, err, records.ErrNone, "nobody reads another's")
		_, err = r.DebriefOf(ctx, ids["Cy Dole"], lines["Cy Dole"].Cells[0].Attempt)
		assert.ErrorIs(t, err, records.ErrNone, "an open one has none")

		var packed bytes.Buffer
		require.NoError(t, r.Zip(ctx, depth.ID, &packed))
		pages := unzip(t, packed.Bytes())
		require.Len(t, pages, 3)
		assert.Contains(t, pages["Ann O'Neil/first-depth-1.html"], "Ann O&#39;Neil: "+depth.Title+", job 1")
		for name, page := range pages {
			assert.NotContains(t, name, "<")
			assert.NotContains(t, page, "<script")
			if strings.Contains(page, "The instructor gave 50: =worked with help") {
				assert.Contains(t, name, "alert1")
			}
		}
		packed.Reset()
		require.NoError(t, r.FilesZip(ctx, depth.ID, &packed))
		files := unzip(t, packed.Bytes())
		require.Len(t, files, 4)
		for name, data := range files {
			rec, err := attempt.Read(strings.NewReader(data))
			require.NoError(t, err, name)
			_, _, _, err = attempt.Replay(rec)
			require.NoError(t, err, name)
		}
	})
}

func unzip(t *testing.T, data []byte) map[string]string {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	out := map[string]string{}
	for _, f := range z.File {
		in, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(in)
		require.NoError(t, err)
		out[f.Name] = string(text)
	}
	return out
}

// The window, extra time and the tries of an examination hold, and what is drawn for it is
// each pupil's own, of one kind on one family.
func TestAnExamination(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		r, now := opened(t, place())
		ids := enroll(t, r, "Ann", "Bo")
		exam := classroom.Setting{Mode: attempt.Exam, Jobs: 2, Tries: 1, Opens: now.at.Add(time.Hour), Closes: now.at.Add(2 * time.Hour)}
		a, err := r.Set(ctx, found(t, "final-examination"), exam)
		require.NoError(t, err)
		require.NoError(t, r.Store.GiveTime(ctx, a.ID, ids["Bo"], 30))
		_, err = r.Begin(ctx, ids["Ann"], a.ID, 1)
		assert.ErrorIs(t, err, classroom.ErrNotYet)
		now.at = now.at.Add(61 * time.Minute)
		for _, job := range []int{0, 3, -1} {
			_, err = r.Begin(ctx, ids["Ann"], a.ID, job)
			assert.ErrorIs(t, err, classroom.ErrNoJob)
		}
		k := classroom.Keeper{Room: r}
		heads := map[string]attempt.Header{}
		seeds := map[uint64]bool{}
		for _, who := range []string{"Ann", "Bo"} {
			for job := 1; job <= 2; job++ {
				id, err := r.Begin(ctx, ids[who], a.ID, job)
				require.NoError(t, err)
				same, err := r.Begin(ctx, ids[who], a.ID, job)
				require.NoError(t, err)
				assert.Equal(t, id, same, "an open try is gone on with")
				rec, err := k.Record(ctx, ids[who], id)
				require.NoError(t, err)
				h := rec.Header
				heads[fmt.Sprint(who, job)], seeds[h.Seed] = h, true
				assert.Equal(t, attempt.Exam, h.Mode)
				assert.Equal(t, attempt.NoHelp, h.Help)
			}
		}
		assert.Len(t, seeds, 4)
		for job := 1; job <= 2; job++ {
			ann, bo := heads[fmt.Sprint("Ann", job)], heads[fmt.Sprint("Bo", job)]
			assert.Equal(t, ann.Kind, bo.Kind)
			assert.Equal(t, ann.Family.Code, bo.Family.Code)
		}
		id, err := r.Begin(ctx, ids["Ann"], a.ID, 1)
		require.NoError(t, err)
		rec, err := k.Record(ctx, ids["Ann"], id)
		require.NoError(t, err)
		_, stand, _, err := attempt.Replay(rec)
		require.NoError(t, err)
		o, err := stand.Do(act.Act{Form: act.InspectCups})
		if err != nil { // the job begins with an axle that is together
			o, err = stand.Do(act.Act{Form: act.SignOff})
		}
		require.NoError(t, err)
		line := rec.Add(o)
		assert.ErrorIs(t, k.Append(ctx, ids["Bo"], id, 0, line), web.ErrNotFound)
		require.NoError(t, k.Append(ctx, ids["Ann"], id, 0, line))
		assert.ErrorIs(t, k.Append(ctx, ids["Ann"], id, 0, line), web.ErrConflict)

		now.at = now.at.Add(65 * time.Minute) // Ann's time is over, Bo has 24 minutes more
		assert.ErrorIs(t, k.Append(ctx, ids["Ann"], id, 1, line), classroom.ErrOver)
		_, err = r.Begin(ctx, ids["Ann"], a.ID, 1)
		assert.ErrorIs(t, err, classroom.ErrOver)
		_, err = r.Begin(ctx, ids["Bo"], a.ID, 1)
		assert.NoError(t, err)
		assert.ErrorIs(t, r.Return(ctx, a.ID), classroom.ErrNotOver)
		var nothing bytes.Buffer
		assert.ErrorIs(t, r.Zip(ctx, a.ID, &nothing), classroom.ErrNotOver)
		require.NoError(t, r.End(ctx, a.ID))
		_, err = r.Begin(ctx, ids["Bo"], a.ID, 1)
		assert.ErrorIs(t, err, classroom.ErrOver, "ended is ended, whatever time somebody has")
		assert.NoError(t, r.Return(ctx, a.ID))
	})
}

func TestTries(t *testing.T) {
	ctx := context.Background()
	r, _ := opened(t, t.TempDir()+"/class.db")
	ids := enroll(t, r, "Ann")
	a, err := r.Set(ctx, found(t, "first-depth"), classroom.Setting{Mode: attempt.Check, Jobs: 1, Tries: 2})
	require.NoError(t, err)
	first := work(t, r, ids["Ann"], a.ID, 1, 0, nil)
	second := work(t, r, ids["Ann"], a.ID, 1, 0, nil)
	assert.NotEqual(t, first, second)
	_, err = r.Begin(ctx, ids["Ann"], a.ID, 1)
	assert.ErrorIs(t, err, classroom.ErrNoTries)
	for _, wrong := range []classroom.Setting{{Jobs: 0}, {Jobs: 51}, {Jobs: 1, Tries: -1}, {Jobs: 1, Closes: time.Unix(1, 0)}} {
		_, err := r.Set(ctx, found(t, "first-depth"), wrong)
		assert.Error(t, err)
	}
}

func TestTheDoor(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		r, now := opened(t, place())
		f, err := r.Found(ctx, "", "")
		require.NoError(t, err)
		again, err := r.Found(ctx, "", "")
		require.NoError(t, err)
		assert.Empty(t, again.Passphrase, "it is told once")
		assert.NotContains(t, f.Class.Passphrase, f.Passphrase)
		ids := enroll(t, r, "Ann O'Neil", "Bo")
		secret, err := r.Join(ctx, strings.ToUpper(f.Class.Code), "ann  O'NEIL", "4711", "here")
		require.NoError(t, err)
		who, err := r.Store.Who(ctx, secret, now.at)
		require.NoError(t, err)
		assert.Equal(t, ids["Ann O'Neil"], who)
		for _, wrong := range [][3]string{{f.Class.Code, "Ann O'Neil", "4712"}, {"zzzz", "Ann O'Neil", "4711"}, {f.Class.Code, "Nobody", "4711"}, {"zzzz", "Bo", "4711"}} {
			_, err := r.Join(ctx, wrong[0], wrong[1], wrong[2], "here")
			assert.ErrorIs(t, err, classroom.ErrDoor, "%v", wrong)
		}
		p, err := r.Store.Named(ctx, "Bo")
		require.NoError(t, err)
		assert.Empty(t, p.PIN, "a wrong code chooses no PIN")
		_, err = r.Join(ctx, f.Class.Code, "Bo", "12", "here")
		assert.ErrorIs(t, err, classroom.ErrPIN)
		secret, err = r.Instruct(ctx, f.Passphrase, "here")
		require.NoError(t, err)
		who, err = r.Store.Who(ctx, secret, now.at)
		require.NoError(t, err)
		assert.Equal(t, records.Instructor, who)
		for range 10 {
			_, err = r.Instruct(ctx, "wrong", "there")
			assert.ErrorIs(t, err, classroom.ErrPhrase)
		}
		_, err = r.Instruct(ctx, f.Passphrase, "there")
		assert.ErrorIs(t, err, classroom.ErrTooMany)
		_, err = r.Instruct(ctx, f.Passphrase, "here")
		assert.NoError(t, err, "who tries from elsewhere does not lock the instructor out")
		for i := range 300 { // many names, one try each
			ok, err := r.Store.Try(ctx, "anybody from afar", now.at, now.at.Add(-time.Minute), 300)
			require.NoError(t, err)
			require.True(t, ok, i)
		}
		_, err = r.Join(ctx, f.Class.Code, "Bo", "4711", "afar")
		assert.ErrorIs(t, err, classroom.ErrTooMany)
		now.at = now.at.Add(11 * time.Minute)
		_, err = r.Instruct(ctx, f.Passphrase, "there")
		assert.NoError(t, err)
		changed, err := r.Found(ctx, "", "another passphrase")
		require.NoError(t, err)
		assert.Equal(t, "another passphrase", changed.Passphrase)
		_, err = r.Store.Who(ctx, secret, now.at)
		assert.ErrorIs(t, err, records.ErrNone, "who came in by the old one is out")
		_, err = r.Found(ctx, "", "short")
		assert.Error(t, err)
	})
}

func TestRosters(t *testing.T) {
	for in, want := range map[string][]string{
		"Ann\nBo\n":           {"Ann", "Bo"},
		"name\nAnn\n\n  \nBo": {"Ann", "Bo"},
		"id,First Name,Last Name\n1,Ann,O'Neil\n2,Bo,\n": {"Ann O'Neil", "Bo"},
		"Surname\tFirst name\nDole\tCy\n":                {"Cy Dole"},
		"\"Ann, the first\",x\n":                         {"Ann, the first"},
	} {
		got, err := classroom.Roster(strings.NewReader(in))
		require.NoError(t, err, in)
		assert.Equal(t, want, got, in)
	}
	for _, in := range []string{"", "name\n", "\xff\xfe\x00A", strings.Repeat("Ann\n", classroom.MostRoster/4) + "Bo\n"} {
		_, err := classroom.Roster(strings.NewReader(in))
		assert.Error(t, err, "%.20q", in)
	}
}

// An exercise that comes over the network reads no file of this machine.
func TestAnUploadedExerciseReadsNothing(t *testing.T) {
	e := found(t, "first-depth")
	said := strings.Replace(string(e.Encode()), `families: ["BEECH"]`, `families: ["/etc/hostname.yaml"]`, 1)
	require.Contains(t, said, "hostname")
	_, err := classroom.Uploaded("mine.yaml", []byte(said))
	assert.Error(t, err)
	_, err = classroom.Uploaded("mine.yaml", e.Encode())
	assert.NoError(t, err)
}

// Whatever a roster holds, its names can be printed, or it is refused.
func FuzzRoster(f *testing.F) {
	for _, s := range []string{"Ann\nBo\n", "\ufeffName;Group\nAnn O'Neil;a\n", "Surname\tFirst name\nDole\tCy\n", "\"a\n\"\"b", "name,name\n,\x00\n\x1b[2J", "\xff\xfeA"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		names, err := classroom.Roster(bytes.NewReader(file))
		if err == nil && len(names) == 0 {
			t.Fatal("neither names nor an error")
		}
		for _, n := range names {
			if n == "" || strings.ContainsFunc(n, func(r rune) bool { return !unicode.IsPrint(r) }) || records.Plain(n) != n {
				t.Fatalf("%q is no name", n)
			}
		}
	})
}
