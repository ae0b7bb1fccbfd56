package classroom

import (
	"archive/zip"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/view"
	"shimwright/grading"
	"shimwright/grading/class"
	"shimwright/grading/cost"
	"shimwright/scenarios/exercise"
	"shimwright/sim/text"
)

// Results are what has come of an assignment.
type Results struct {
	Assignment records.Assignment
	Lines      []Line // of every pupil, by name
	Class      class.Class
	Near       []class.Near
	PlusMinus  float64 // how sure one score is, in points
}

// A Line is one pupil.
type Line struct {
	Pupil     records.Pupil
	Cells     []Cell // one for each job
	Mean      float64
	Of        int     // jobs in the mean
	PlusMinus float64 // how sure the mean is, in points
	Missing   bool    // has begun none of the jobs
	Elsewhere string  // what somebody who is missing worked at instead
}

// A Cell is a pupil's best try at a job.
type Cell struct {
	Attempt  string // "" for none
	File     string // its name among the files that are taken out
	Tries    int
	Signed   bool
	Row      *class.Row // its grade; nil while it is open
	Override *records.Override
	Trouble  string // why it cannot be graded
}

// Score is what counts of a cell; ok is false for a job without a score.
func (c Cell) Score() (score int, ok bool) {
	switch {
	case c.Override != nil:
		return c.Override.Score, true
	case c.Row != nil:
		return c.Row.Score, true
	}
	return 0, false
}

// A work is an attempt with what it belongs to.
type work struct {
	records.Attempt
	pupil records.Pupil
	file  string
}

// works lists the attempts at an assignment by name, job and try.
func (r *Room) works(ctx context.Context, a records.Assignment) ([]work, []records.Pupil, error) {
	pupils, err := r.Store.Pupils(ctx)
	if err != nil {
		return nil, nil, err
	}
	attempts, err := r.Store.AttemptsAt(ctx, a.ID)
	if err != nil {
		return nil, nil, err
	}
	folders := folders(pupils)
	var out []work
	for _, p := range pupils {
		for _, x := range attempts {
			if x.Pupil == p.ID {
				name := fmt.Sprintf("%s/%s-%d", folders[p.ID], safe(a.Exercise), x.Job)
				if x.Try > 1 {
					name += fmt.Sprintf("-try-%d", x.Try)
				}
				out = append(out, work{x, p, name + ".jsonl"})
			}
		}
	}
	return out, pupils, nil
}

// safe is a name as that of a file or a folder on any system.
func safe(name string) string {
	name = strings.Map(func(c rune) rune {
		switch {
		case unicode.IsLetter(c) || unicode.IsDigit(c) || unicode.Is(unicode.Mn, c) || strings.ContainsRune("-_'", c):
			return c
		case c == ' ':
			return c
		}
		return -1
	}, name)
	const most = 60
	if r := []rune(name); len(r) > most {
		name = string(r[:most])
	}
	name = strings.TrimLeft(strings.TrimSpace(name), "-")
	switch strings.ToUpper(name) {
	case "", "CON", "PRN", "AUX", "NUL": // names of devices, to some systems
		return name + "_"
	}
	return name
}

// folders gives every pupil a folder of their own, by their names.
func folders(pupils []records.Pupil) map[string]string {
	out, taken := map[string]string{}, map[string]bool{}
	for _, p := range pupils {
		name := safe(p.Name)
		for n := 2; taken[strings.ToLower(name)]; n++ {
			name = fmt.Sprintf("%s %d", safe(p.Name), n)
		}
		taken[strings.ToLower(name)] = true
		out[p.ID] = name
	}
	return out
}

// Results grades what has been signed off of an assignment. What was worked out is kept until
// something changes.
func (r *Room) Results(ctx context.Context, id string) (Results, error) {
	a, err := r.Store.Assignment(ctx, id)
	if err != nil {
		return Results{}, err
	}
	works, pupils, err := r.works(ctx, a)
	if err != nil {
		return Results{}, err
	}
	overrides, err := r.Store.Overrides(ctx, id)
	if err != nil {
		return Results{}, err
	}
	latest, err := r.Store.Latest(ctx)
	if err != nil {
		return Results{}, err
	}
	state := fmt.Sprint(a, pupils, works, overrides, latest)
	r.mu.Lock()
	done, ok := r.graded[id]
	r.mu.Unlock()
	if ok && done.from == state {
		return done.it, nil
	}
	e, err := exerciseOf(a)
	if err != nil {
		return Results{}, err
	}
	var handed, fresh []class.Attempt
	var signed []work
	for _, w := range works {
		if !w.Signed {
			continue
		}
		rec, err := r.record(ctx, w.Attempt)
		one := class.Attempt{Pupil: w.pupil.Name, File: w.file, Record: rec, Err: err}
		handed, signed = append(handed, one), append(signed, w)
		if _, ok := r.gradeOf(w.ID); !ok {
			one.File = w.ID
			fresh = append(fresh, one)
		}
	}
	r.keepGrades(class.Grade(fresh, cost.Default(), e.Units, func(int) {}))
	var rows []class.Row
	var trouble []class.Trouble
	for _, w := range signed {
		g, _ := r.gradeOf(w.ID)
		if g.trouble != nil {
			trouble = append(trouble, class.Trouble{File: w.file, Why: g.trouble.Why, Err: g.trouble.Err})
			continue
		}
		g.row.Pupil, g.row.File = w.pupil.Name, w.file // a pupil may have been renamed since
		rows = append(rows, g.row)
	}
	out := Results{Assignment: a, Class: class.New(rows, nil, trouble), Near: class.NearCopies(handed), PlusMinus: grading.TheSurety().PlusMinus(1)}
	titles, err := r.elsewhere(ctx, latest)
	if err != nil {
		return Results{}, err
	}
	for _, p := range pupils {
		out.Lines = append(out.Lines, out.line(p, works, overrides, titles, view.NewPen(r.Printer.In(e.Units), 80).Print))
	}
	r.mu.Lock()
	r.graded[id] = kept[Results]{state, out}
	r.mu.Unlock()
	return out, nil
}

// A grade is that of an attempt that is signed off, which does not change any more.
type grade struct {
	row     class.Row
	trouble *class.Trouble
}

func (r *Room) gradeOf(attempt string) (grade, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	g, ok := r.grades[attempt]
	return g, ok
}

// keepGrades keeps grades of attempts that go by their ids.
func (r *Room) keepGrades(c class.Class) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, row := range c.Rows {
		r.grades[row.File] = grade{row: row}
	}
	for _, t := range c.Trouble {
		r.grades[t.File] = grade{trouble: &t}
	}
}

// elsewhere is what each pupil worked at last.
func (r *Room) elsewhere(ctx context.Context, latest []records.Attempt) (map[string]string, error) {
	set, err := r.Store.Assignments(ctx)
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, x := range latest {
		for _, a := range set {
			if a.ID == x.Assignment {
				out[x.Pupil] = a.Title
			}
		}
	}
	return out, nil
}

func (res *Results) line(p records.Pupil, works []work, overrides map[string]records.Override, titles map[string]string, print func(text.Message) string) Line {
	l := Line{Pupil: p, Cells: make([]Cell, res.Assignment.Jobs), Missing: true}
	for _, w := range works {
		if w.pupil.ID != p.ID || w.Job > len(l.Cells) {
			continue
		}
		l.Missing = false
		c := &l.Cells[w.Job-1]
		x := Cell{Attempt: w.ID, File: w.file, Tries: c.Tries + 1, Signed: w.Signed}
		if i := slices.IndexFunc(res.Class.Rows, func(row class.Row) bool { return row.File == w.file }); i >= 0 {
			x.Row = &res.Class.Rows[i]
		}
		for _, t := range res.Class.Trouble {
			if t.File == w.file {
				x.Trouble = print(t.Why)
			}
		}
		if o, ok := overrides[w.ID]; ok {
			x.Override = &o
		}
		had, hadOne := c.Score()
		if now, ok := x.Score(); c.Attempt == "" || ok && (!hadOne || now >= had) || !ok && !hadOne {
			*c = x
		}
		c.Tries = x.Tries
	}
	if l.Missing {
		l.Elsewhere = titles[p.ID]
	}
	for _, c := range l.Cells {
		if s, ok := c.Score(); ok {
			l.Mean, l.Of = l.Mean+float64(s), l.Of+1
		}
	}
	if l.Of > 0 {
		l.Mean /= float64(l.Of)
		l.PlusMinus = grading.TheSurety().PlusMinus(l.Of)
	}
	return l
}

// CSV writes a row to each pupil and job. No cell can be taken for a formula by a
// spreadsheet, and a job without a score has an empty cell.
func (res Results) CSV(w io.Writer, p text.Printer) error {
	out := csv.NewWriter(w)
	if err := out.Write([]string{"pupil", "exercise", "job", "state", "score", "plus_minus", "score_given_because", "misconception", "acts_for_it", "file"}); err != nil {
		return err
	}
	for _, l := range res.Lines {
		for i, c := range l.Cells {
			row := []string{l.Pupil.Name, res.Assignment.Exercise, strconv.Itoa(i + 1), p.Print(c.State()), "", "", "", "", "", c.File}
			if s, ok := c.Score(); ok {
				row[4] = strconv.Itoa(s)
			}
			if c.Override != nil {
				row[6] = c.Override.Reason
			}
			if c.Row != nil {
				row[5] = fmt.Sprintf("%.0f", res.PlusMinus)
				row[7], row[8] = c.Row.Misconception, strings.Trim(fmt.Sprint(c.Row.SpeakFor), "[]")
			}
			if err := out.Write(view.Harmless(row)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

// State is how far a cell is, in a word.
func (c Cell) State() text.Message {
	switch {
	case c.Attempt == "":
		return text.Say("classroom.cell.missing", "missing")
	case c.Trouble != "":
		return text.Say("classroom.cell.not-graded", "not graded")
	case !c.Signed:
		return text.Say("classroom.cell.open", "open")
	}
	return text.Say("classroom.cell.signed-off", "signed off")
}

// Override gives an attempt another score, and says why.
func (r *Room) Override(ctx context.Context, attempt string, score int, reason string) error {
	const most = 300
	reason = records.Plain(reason)
	switch {
	case score < 0 || score > 100:
		return text.Fail(nil, text.Say("classroom.results.score-0-100-not", "a score is 0 to 100, not {score}", text.Count("score", score)))
	case reason == "":
		return text.Fail(nil, text.Say("classroom.results.say-why-score-another", "say why the score is another: it stands beside it"))
	case len([]rune(reason)) > most:
		return text.Fail(nil, text.Say("classroom.results.reason-longer-than-characters", "the reason is longer than {most} characters", text.Count("most", most)))
	}
	return r.Store.Override(ctx, records.Override{Attempt: attempt, Score: score, Reason: reason, Made: r.Clock()})
}

// A Debriefed is the debrief of an attempt, with whose it is.
type Debriefed struct {
	Pupil    string
	Title    string // of the exercise
	Job, Try int
	File     string // without its ending
	Override *records.Override
	Page     view.Debrief
}

// Heading names whose debrief it is and of what.
func (d Debriefed) Heading(p text.Printer) string {
	h := p.Print(text.Say("classroom.results.job", "{pupil}: {title}, job {job}", text.Typed("pupil", d.Pupil), text.Typed("title", d.Title), text.Count("job", d.Job)))
	if d.Try > 1 {
		h += p.Print(text.Say("classroom.results.try", ", try {try}", text.Count("try", d.Try)))
	}
	return h
}

// Given says which score the instructor gave; "" for none.
func (d Debriefed) Given() text.Message {
	if d.Override == nil {
		return text.Message{}
	}
	return text.Say("classroom.results.instructor-gave", "The instructor gave {score}: {reason}", text.Count("score", d.Override.Score), text.Typed("reason", d.Override.Reason))
}

func (r *Room) debriefed(ctx context.Context, e exercise.Exercise, w work, overrides map[string]records.Override) (Debriefed, error) {
	rec, err := r.record(ctx, w.Attempt)
	if err != nil {
		return Debriefed{}, err
	}
	b, err := bench.Open(rec)
	if err != nil {
		return Debriefed{}, err
	}
	told, err := b.Debrief(cost.Default(), e.Units, true)
	if err != nil {
		return Debriefed{}, err
	}
	p := view.NewPen(r.Printer.In(e.Units), 80)
	d := Debriefed{Pupil: w.pupil.Name, Title: e.Title, Job: w.Job, Try: w.Try, File: strings.TrimSuffix(w.file, ".jsonl"),
		Page: view.NewDebrief(told, view.DebriefWith{Printer: p.Printer, Full: true})}
	if o, ok := overrides[w.ID]; ok {
		d.Override = &o
	}
	return d, nil
}

// Debriefs are those of all that is signed off of an assignment, by name, one after the
// other. Errors: ErrNotOver for a check or an examination, and what each returns.
func (r *Room) Debriefs(ctx context.Context, id string, each func(Debriefed) error) error {
	a, err := r.Store.Assignment(ctx, id)
	if err != nil {
		return err
	}
	if err := r.mayTell(ctx, a); err != nil {
		return err
	}
	e, err := exerciseOf(a)
	if err != nil {
		return err
	}
	works, _, err := r.works(ctx, a)
	if err != nil {
		return err
	}
	overrides, err := r.Store.Overrides(ctx, id)
	if err != nil {
		return err
	}
	for _, w := range works {
		if !w.Signed {
			continue
		}
		d, err := r.debriefed(ctx, e, w, overrides)
		if err != nil {
			return fmt.Errorf("%s: %w", w.file, err)
		}
		if err := each(d); err != nil {
			return err
		}
	}
	return nil
}

// DebriefOf is a pupil's own, once it has been handed back. Errors: records.ErrNone, alike for
// what is another's, open, or not handed back.
func (r *Room) DebriefOf(ctx context.Context, pupil, attempt string) (Debriefed, error) {
	x, err := r.Store.Attempt(ctx, attempt)
	if err != nil {
		return Debriefed{}, err
	}
	if x.Pupil != pupil || !x.Signed || x.Assignment == "" {
		return Debriefed{}, records.ErrNone
	}
	a, err := r.Store.Assignment(ctx, x.Assignment)
	if err != nil {
		return Debriefed{}, err
	}
	if a.Returned.IsZero() {
		return Debriefed{}, records.ErrNone
	}
	e, err := exerciseOf(a)
	if err != nil {
		return Debriefed{}, err
	}
	p, err := r.Store.Pupil(ctx, pupil)
	if err != nil {
		return Debriefed{}, err
	}
	overrides, err := r.Store.Overrides(ctx, a.ID)
	if err != nil {
		return Debriefed{}, err
	}
	return r.debriefed(ctx, e, work{x, p, ""}, overrides)
}

// Zip writes every debrief of an assignment as a page of its own, in a folder for each pupil.
func (r *Room) Zip(ctx context.Context, id string, to io.Writer) error {
	z := zip.NewWriter(to)
	if err := r.Debriefs(ctx, id, func(d Debriefed) error {
		f, err := z.CreateHeader(&zip.FileHeader{Name: d.File + ".html", Method: zip.Deflate, Modified: r.Clock()})
		if err != nil {
			return err
		}
		page := d.Page
		page.Title = d.Heading(r.Printer) + ". " + page.Title
		if g := r.Printer.Print(d.Given()); g != "" {
			page.First = append([]string{g + "."}, page.First...)
		}
		return page.HTML(f)
	}); err != nil {
		return err
	}
	return z.Close()
}

// Files writes the attempt files of an assignment, in a folder for each pupil; the command
// that grades a class takes the folder they lie in. They hold the numbers of the jobs and are
// for the instructor alone.
func (r *Room) Files(ctx context.Context, id string, each func(name string, data []byte) error) error {
	a, err := r.Store.Assignment(ctx, id)
	if err != nil {
		return err
	}
	works, _, err := r.works(ctx, a)
	if err != nil {
		return err
	}
	for _, w := range works {
		rec, err := r.record(ctx, w.Attempt)
		if err != nil {
			return fmt.Errorf("%s: %w", w.file, err)
		}
		data, err := rec.Bytes()
		if err != nil {
			return fmt.Errorf("%s: %w", w.file, err)
		}
		if err := each(w.file, data); err != nil {
			return err
		}
	}
	return nil
}

// FilesZip is Files in one.
func (r *Room) FilesZip(ctx context.Context, id string, to io.Writer) error {
	z := zip.NewWriter(to)
	if err := r.Files(ctx, id, func(name string, data []byte) error {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: r.Clock()})
		if err != nil {
			return err
		}
		_, err = f.Write(data)
		return err
	}); err != nil {
		return err
	}
	return z.Close()
}
