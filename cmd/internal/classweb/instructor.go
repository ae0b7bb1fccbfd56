package classweb

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"

	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/sim/quantity"
)

type classPage struct {
	frame
	Code      string
	Join      string // where pupils join
	Zone      string
	Pupils    []pupilRow
	Sets      []setRow
	Exercises []exerciseRow
	Added     string
	There     string
}

type pupilRow struct {
	ID, Name string
	Joined   bool
}

type setRow struct {
	ID, Title, Mode, Window string
	Begun, Signed           int
	Returned                bool
}

type exerciseRow struct{ Name, Title string }

// class is the instructor's first page.
func (f *face) class(v *visit) error {
	ctx := v.r.Context()
	c, err := f.Store.Class(ctx)
	if err != nil {
		return err
	}
	pupils, err := f.Store.Pupils(ctx)
	if err != nil {
		return err
	}
	sets, err := f.Store.Assignments(ctx)
	if err != nil {
		return err
	}
	q := v.r.URL.Query()
	g := classPage{frame: f.frame(v, "Class"), Code: c.Code, Join: v.join(), Zone: f.Room.Clock().In(f.zone).Format("MST"), Added: q.Get("added"), There: q.Get("there")}
	for _, p := range pupils {
		g.Pupils = append(g.Pupils, pupilRow{p.ID, p.Name, p.PIN != ""})
	}
	for i := len(sets) - 1; i >= 0; i-- {
		a := sets[i]
		row := setRow{ID: a.ID, Title: a.Title, Mode: attempt.Mode(a.Mode).String(), Window: f.window(a), Returned: !a.Returned.IsZero()}
		all, err := f.Store.AttemptsAt(ctx, a.ID)
		if err != nil {
			return err
		}
		for _, x := range all {
			row.Begun++
			if x.Signed {
				row.Signed++
			}
		}
		g.Sets = append(g.Sets, row)
	}
	for _, e := range exercise.All() {
		g.Exercises = append(g.Exercises, exerciseRow{e.Name, e.Title})
	}
	return write(v, http.StatusOK, "class", g)
}

// window says when an assignment is open.
func (f *face) window(a records.Assignment) string {
	opens, closes := classroom.Window(a, 0)
	now := f.Room.Clock()
	switch {
	case !closes.IsZero() && !now.Before(closes):
		return "over since " + f.when(closes)
	case now.Before(opens) && closes.IsZero():
		return "opens " + f.when(opens)
	case now.Before(opens):
		return "opens " + f.when(opens) + ", until " + f.when(closes)
	case closes.IsZero():
		return "open"
	}
	return "open until " + f.when(closes)
}

// upload reads a file of a form; "" and nothing where none was sent.
func upload(v *visit, field string) (name string, data []byte, err error) {
	file, head, err := v.r.FormFile(field)
	if errors.Is(err, http.ErrMissingFile) || errors.Is(err, http.ErrNotMultipart) {
		return "", nil, nil
	}
	if err != nil {
		return "", nil, err
	}
	defer file.Close()
	data, err = io.ReadAll(file)
	return head.Filename, data, err
}

// roster adds names that were typed, a row each, or sent as a table.
func (f *face) roster(v *visit) error {
	file, data, err := upload(v, "file")
	if err != nil {
		return err
	}
	var names []string
	if len(data) > 0 {
		if names, err = classroom.Roster(strings.NewReader(string(data))); err != nil {
			return wrong(fmt.Errorf("%s: %w", records.Plain(file), err))
		}
	}
	for line := range strings.Lines(v.r.PostFormValue("names")) {
		names = append(names, line)
	}
	out, err := f.Enroll(v.r.Context(), names)
	if err != nil {
		return wrong(err)
	}
	return goTo(v, "/class?"+url.Values{"added": {fmt.Sprint(len(out.Added))}, "there": {fmt.Sprint(len(out.There))}}.Encode()+"#roster")
}

// changePupil renames or deletes a pupil, or takes the PIN away.
func (f *face) changePupil(v *visit) error {
	ctx, id := v.r.Context(), v.r.PathValue("pupil")
	p, err := f.Store.Pupil(ctx, id)
	if err != nil {
		return err
	}
	switch one(v, "do") {
	case "pin":
		err = f.Store.ClearPIN(ctx, id)
	case "rename":
		name := records.Plain(one(v, "name"))
		if name == "" {
			return wrong(errors.New("a pupil has a name"))
		}
		if err = f.Store.Rename(ctx, id, name); errors.Is(err, records.ErrThere) {
			return wrong(fmt.Errorf("the class has a %s already", name))
		}
	case "delete":
		if records.Folded(records.Plain(one(v, "name"))) != records.Folded(p.Name) {
			return wrong(errors.New("type the name of the pupil to delete them with every attempt"))
		}
		err = f.Store.Remove(ctx, id)
	default:
		err = records.ErrNone
	}
	if err != nil {
		return err
	}
	return goTo(v, "/class#roster")
}

// whole reads a whole number; empty is another.
func whole(v *visit, name string, empty int) (int, error) {
	said := one(v, name)
	if said == "" {
		return empty, nil
	}
	n, err := strconv.Atoi(said)
	if err != nil {
		return 0, wrong(fmt.Errorf("%s is a whole number, not %q", name, said))
	}
	return n, nil
}

// clock reads a time of the instructor's; empty is none.
func (f *face) clock(v *visit, name string) (time.Time, error) {
	said := one(v, name)
	if said == "" {
		return time.Time{}, nil
	}
	t, err := time.ParseInLocation("2006-01-02T15:04", said, f.zone)
	if err != nil {
		return t, wrong(fmt.Errorf("%s is a time such as 2026-09-07T08:30, not %q", name, said))
	}
	return t, nil
}

// set sets an exercise.
func (f *face) set(v *visit) error {
	file, data, err := upload(v, "file")
	if err != nil {
		return err
	}
	var e exercise.Exercise
	if len(data) > 0 {
		e, err = classroom.Uploaded(filepath.Base(file), data)
	} else {
		name := one(v, "exercise")
		e, err = exercise.Exercise{}, fmt.Errorf("there is no exercise %q", name)
		for _, known := range exercise.All() {
			if known.Name == name {
				e, err = known, nil
				if pair, ok := e.InMetric(); ok && one(v, "units") == quantity.Metric.String() {
					e = pair
				}
			}
		}
	}
	if err != nil {
		return wrong(err)
	}
	s := classroom.Setting{Alike: one(v, "alike") != ""}
	switch one(v, "mode") {
	case attempt.Check.String():
		s.Mode = attempt.Check
	case attempt.Exam.String():
		s.Mode = attempt.Exam
	}
	if s.Jobs, err = whole(v, "jobs", 1); err != nil {
		return err
	}
	if s.Tries, err = whole(v, "tries", 0); err != nil {
		return err
	}
	if s.Opens, err = f.clock(v, "opens"); err != nil {
		return err
	}
	if s.Closes, err = f.clock(v, "closes"); err != nil {
		return err
	}
	a, err := f.Set(v.r.Context(), e, s)
	if err != nil {
		return wrong(err)
	}
	return goTo(v, "/class/sets/"+a.ID)
}

type boardPage struct {
	frame
	Seats []seatRow
	Sum   string
	Code  string
	Join  string
}

// join is the address that pupils open, as the instructor's browser has it; "" where that is one
// which no other machine can reach.
func (v *visit) join() string {
	host := v.r.Host
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	if ip := net.ParseIP(name); name == "localhost" || ip != nil && ip.IsLoopback() {
		return ""
	}
	if v.r.TLS != nil {
		return "https://" + host + "/"
	}
	return "http://" + host + "/"
}

type seatRow struct {
	Name, State, Class, At, Acts, Since string
}

// seats is the board in words.
func (f *face) seats(v *visit) ([]seatRow, string, error) {
	board, err := f.Board(v.r.Context())
	if err != nil {
		return nil, "", err
	}
	p := view.NewPen(f.Printer, 80)
	var out []seatRow
	n := map[classroom.Going]int{}
	for _, s := range board {
		n[s.Going]++
		row := seatRow{Name: s.Pupil.Name}
		if s.Going != classroom.Absent {
			row.At, row.Acts, row.Since = fmt.Sprintf("%s, job %d", s.Title, s.Job), strconv.Itoa(s.Acts), ago(s.Since)
		}
		switch s.Going {
		case classroom.Absent:
			row.State = "not begun"
		case classroom.Signed:
			row.State, row.Class = "signed off", "good"
		case classroom.Stuck:
			row.State, row.Class = "stuck: no act for a while", "bad"
			if s.Refused >= classroom.StuckRefused {
				row.State = fmt.Sprintf("stuck: %d acts refused in a row", s.Refused)
			}
			row.State += ", at " + p.Print(s.Stage.Name())
		default:
			row.State = p.Print(s.Stage.Name())
			if s.Over {
				row.State, row.Class = "open when its time ended", "stale"
			}
		}
		out = append(out, row)
	}
	return out, fmt.Sprintf("%d at work, %d stuck, %d signed off, %d not begun", n[classroom.Working], n[classroom.Stuck], n[classroom.Signed], n[classroom.Absent]), nil
}

func ago(d time.Duration) string {
	if d < time.Minute {
		return "now"
	}
	if d < time.Hour {
		return fmt.Sprintf("%d min ago", int(d.Minutes()))
	}
	return fmt.Sprintf("%d h ago", int(d.Hours()))
}

func (f *face) board(v *visit) error {
	seats, sum, err := f.seats(v)
	if err != nil {
		return err
	}
	c, err := f.Store.Class(v.r.Context())
	if err != nil {
		return err
	}
	return write(v, http.StatusOK, "board", boardPage{f.frame(v, "Board"), seats, sum, c.Code, v.join()})
}

// boardRows is the part of the board that changes, for a page that asks again and again.
func (f *face) boardRows(v *visit) error {
	seats, sum, err := f.seats(v)
	if err != nil {
		return err
	}
	return write(v, http.StatusOK, "rows", boardPage{Seats: seats, Sum: sum})
}

// live sends the part of the board that changes whenever it does.
func (f *face) live(v *visit) error {
	out := http.NewResponseController(v.w)
	if err := out.SetWriteDeadline(time.Time{}); err != nil {
		return f.boardRows(v)
	}
	v.w.Header().Set("Content-Type", "text/event-stream")
	const every, alive = 2 * time.Second, 15 // looks without a change between two signs of life
	tick := time.NewTicker(every)
	defer tick.Stop()
	last, quiet := "", 0
	for {
		who, err := f.who(v.r) // who signs out sees no more
		if err != nil || who != records.Instructor {
			return nil
		}
		seats, sum, err := f.seats(v)
		if err != nil {
			return nil // the page asks again by itself
		}
		var b strings.Builder
		if err := pages().ExecuteTemplate(&b, "rows", boardPage{Seats: seats, Sum: sum}); err != nil {
			return nil
		}
		quiet++
		if b.String() != last || quiet >= alive {
			last, quiet = b.String(), 0
			if _, err := io.WriteString(v.w, "data: "+strings.ReplaceAll(strings.TrimSpace(last), "\n", "\ndata: ")+"\n\n"); err != nil || out.Flush() != nil {
				return nil
			}
		}
		select {
		case <-tick.C:
		case <-v.r.Context().Done():
			return nil
		case <-f.ended:
			return nil
		}
	}
}

type resultsPage struct {
	frame
	Set            setRow
	Jobs           []int
	Lines          []lineRow
	Misconceptions []heldRow
	Near           []string
	Missing        []string
	PlusMinus      float64
	Pupils         []pupilRow
	Extra          []extraRow
	Over           bool
	Exam           bool
	Trouble        []string
}

type lineRow struct {
	Name  string
	Cells []cellRow
	Mean  string
}

type cellRow struct {
	Text, Note string
	Attempt    string
	Score      string
}

type heldRow struct {
	Believes string
	Who      []string
}

type extraRow struct {
	Name    string
	Minutes int
}

// results is the page of one assignment.
func (f *face) results(v *visit) error {
	ctx := v.r.Context()
	res, err := f.Results(ctx, v.r.PathValue("set"))
	if err != nil {
		return err
	}
	over, err := f.Over(ctx, res.Assignment)
	if err != nil {
		return err
	}
	a := res.Assignment
	g := resultsPage{frame: f.frame(v, a.Title), PlusMinus: res.PlusMinus, Over: over, Exam: a.Mode != "",
		Set: setRow{ID: a.ID, Title: a.Title, Mode: attempt.Mode(a.Mode).String(), Window: f.window(a), Returned: !a.Returned.IsZero()}}
	p := view.NewPen(f.Printer, 80)
	for job := range a.Jobs {
		g.Jobs = append(g.Jobs, job+1)
	}
	names := map[string]string{} // of files
	held := map[string]int{}
	extra, err := f.Store.ExtraTime(ctx, a.ID)
	if err != nil {
		return err
	}
	for _, l := range res.Lines {
		g.Pupils = append(g.Pupils, pupilRow{ID: l.Pupil.ID, Name: l.Pupil.Name})
		if m := extra[l.Pupil.ID]; m != 0 {
			g.Extra = append(g.Extra, extraRow{l.Pupil.Name, m})
		}
		row := lineRow{Name: l.Pupil.Name}
		if l.Of > 0 {
			row.Mean = fmt.Sprintf("%.0f ± %.0f", l.Mean, l.PlusMinus)
		}
		for job, c := range l.Cells {
			x := cellRow{Text: f.Printer.Print(c.State()), Attempt: c.Attempt}
			if score, ok := c.Score(); ok {
				x.Text, x.Score = strconv.Itoa(score), strconv.Itoa(score)
			}
			if c.Tries > 1 {
				x.Note = fmt.Sprintf("%d tries", c.Tries)
			}
			if c.Override != nil {
				x.Note = strings.TrimPrefix(x.Note+"; given: "+c.Override.Reason, "; ")
				if c.Row != nil {
					x.Note += fmt.Sprintf(" (graded %d)", c.Row.Score)
				}
			}
			if c.Trouble != "" {
				g.Trouble = append(g.Trouble, fmt.Sprintf("%s, job %d: %s", l.Pupil.Name, job+1, c.Trouble))
			}
			if c.Row != nil && c.Row.Misconception != "" {
				i, ok := held[c.Row.Misconception]
				if !ok {
					i = len(g.Misconceptions)
					held[c.Row.Misconception] = i
					g.Misconceptions = append(g.Misconceptions, heldRow{Believes: p.Print(c.Row.Believes)})
				}
				g.Misconceptions[i].Who = append(g.Misconceptions[i].Who, fmt.Sprintf("%s, job %d (%s)", l.Pupil.Name, job+1, acts(c.Row.SpeakFor)))
			}
			names[c.File] = fmt.Sprintf("%s, job %d", l.Pupil.Name, job+1)
			row.Cells = append(row.Cells, x)
		}
		if l.Missing {
			why := l.Pupil.Name
			if l.Elsewhere != "" {
				why += " (worked at: " + l.Elsewhere + ")"
			}
			g.Missing = append(g.Missing, why)
		}
		g.Lines = append(g.Lines, row)
	}
	name := func(file string) string {
		if n, ok := names[file]; ok {
			return n
		}
		return strings.TrimSuffix(file, ".jsonl")
	}
	for _, n := range res.Near {
		g.Near = append(g.Near, fmt.Sprintf("%s, and %s: %d of %d acts the same, in the same order", name(n.A), name(n.B), n.Same, n.Of))
	}
	return write(v, http.StatusOK, "results", g)
}

// acts lists the numbers of acts.
func acts(all []int) string {
	if len(all) == 1 {
		return fmt.Sprintf("act %d", all[0])
	}
	return "acts " + strings.ReplaceAll(strings.Trim(fmt.Sprint(all), "[]"), " ", ", ")
}

// attach names a file that is taken out.
func attach(v *visit, kind, name string) {
	v.w.Header().Set("Content-Type", kind)
	v.w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
}

// sent sends a file that is whole, or says why there is none.
func sent(v *visit, kind, name string, to func(io.Writer) error) error {
	var b strings.Builder
	if err := to(&b); err != nil {
		return err
	}
	attach(v, kind, name)
	_, _ = io.WriteString(v.w, b.String())
	return nil
}

func (f *face) table(v *visit) error {
	res, err := f.Results(v.r.Context(), v.r.PathValue("set"))
	if err != nil {
		return err
	}
	return sent(v, "text/csv; charset=utf-8", "results.csv", func(to io.Writer) error { return res.CSV(to, f.Printer) })
}

func (f *face) attempts(v *visit) error {
	return sent(v, "application/zip", "attempts.zip", func(w io.Writer) error { return f.FilesZip(v.r.Context(), v.r.PathValue("set"), w) })
}

func (f *face) debriefsZip(v *visit) error {
	return sent(v, "application/zip", "debriefs.zip", func(w io.Writer) error { return f.Zip(v.r.Context(), v.r.PathValue("set"), w) })
}

// debriefs is one page with every debrief, each beginning a sheet of paper.
func (f *face) debriefs(v *visit) error {
	ctx, id := v.r.Context(), v.r.PathValue("set")
	a, err := f.Store.Assignment(ctx, id)
	if err != nil {
		return err
	}
	g := debriefPage{frame: f.frame(v, "Debriefs: "+a.Title), Back: "/class/sets/" + id, Zip: "/class/sets/" + id + "/debriefs.zip"}
	if err := f.Debriefs(ctx, id, func(d classroom.Debriefed) error {
		one, err := f.onPage(d, len(g.Debriefs)+1)
		g.Debriefs = append(g.Debriefs, one)
		return err
	}); err != nil {
		return err
	}
	return write(v, http.StatusOK, "debriefs", g)
}

// ids matches what names and refers to parts of a page.
var ids = regexp.MustCompile(`( (?:id|for|aria-labelledby|aria-describedby)=")([^"]+)"`)

// refs matches what refers to them by an address.
var refs = regexp.MustCompile(`(url\(#|href="#)`)

// onPage is a debrief as one of several on a page: what names its parts is its own.
func (f *face) onPage(d classroom.Debriefed, n int) (debriefed, error) {
	body, err := d.Page.Body()
	if err != nil {
		return debriefed{}, err
	}
	own := fmt.Sprintf("d%d-", n)
	said := ids.ReplaceAllStringFunc(string(body), func(s string) string {
		parts := ids.FindStringSubmatch(s)
		return parts[1] + own + strings.Join(strings.Fields(parts[2]), " "+own) + `"`
	})
	said = refs.ReplaceAllString(said, "${1}"+own)
	return debriefed{Heading: d.Heading(f.Printer), Given: f.Room.Printer.Print(d.Given()), Body: template.HTML(said)}, nil
}

// changeSet ends, reopens, hands back, or withdraws an assignment.
func (f *face) changeSet(v *visit) error {
	ctx, id := v.r.Context(), v.r.PathValue("set")
	a, err := f.Store.Assignment(ctx, id)
	if err != nil {
		return err
	}
	switch one(v, "do") {
	case "end":
		err = f.End(ctx, id)
	case "reopen":
		closes, e := f.clock(v, "closes")
		if e != nil {
			return e
		}
		err = wrong(f.Reopen(ctx, id, closes))
	case "return":
		err = f.Return(ctx, id)
	case "withdraw":
		if one(v, "title") != a.Title {
			return wrong(errors.New("type the title of the exercise to delete it with every attempt at it"))
		}
		if err = f.Store.Withdraw(ctx, id); err == nil {
			return goTo(v, "/class")
		}
	default:
		err = records.ErrNone
	}
	if err != nil {
		return err
	}
	return goTo(v, "/class/sets/"+id)
}

// giveTime gives a pupil more time.
func (f *face) giveTime(v *visit) error {
	id := v.r.PathValue("set")
	minutes, err := whole(v, "minutes", 0)
	if err != nil {
		return err
	}
	const most = 7 * 24 * 60
	if minutes < 0 || minutes > most {
		return wrong(fmt.Errorf("%d minutes is outside 0 to %d", minutes, most))
	}
	if err := f.Store.GiveTime(v.r.Context(), id, one(v, "pupil"), minutes); err != nil {
		return err
	}
	return goTo(v, "/class/sets/"+id)
}

// override gives an attempt another score.
func (f *face) override(v *visit) error {
	ctx, id := v.r.Context(), v.r.PathValue("attempt")
	x, err := f.Store.Attempt(ctx, id)
	if err != nil {
		return err
	}
	if one(v, "do") == "restate" {
		err = f.Store.Restate(ctx, id)
	} else {
		var score int
		if score, err = whole(v, "score", -1); err != nil {
			return err
		}
		err = wrong(f.Override(ctx, id, score, one(v, "reason")))
	}
	if err != nil {
		return err
	}
	return goTo(v, "/class/sets/"+x.Assignment)
}

// backup sends a backup of the class.
func (f *face) backup(v *visit) error {
	dir, err := os.MkdirTemp("", "backup-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "class.db")
	if err := f.Store.Backup(v.r.Context(), path); err != nil {
		return err
	}
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	attach(v, "application/octet-stream", "class-"+f.Room.Clock().In(f.zone).Format("2006-01-02")+".db")
	_, _ = io.Copy(v.w, file)
	return nil
}
