package view

import (
	"encoding/csv"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"shimwright/cmd/internal/picture"
	"shimwright/grading"
	"shimwright/grading/class"
	"shimwright/scenarios/attempt"
	"shimwright/sim/text"
)

// A Class writes what a set of attempts comes to.
type Class struct {
	class.Class
	Long    bool // with a line to each attempt
	Printer text.Printer
}

const (
	scoresTitle   = "Scores"
	attemptsTitle = "Attempts"
	meansTitle    = "Means"
	dearTitle     = "Decisions that cost most, minutes an attempt"
	sameTitle     = "Act for act the same; on a short job that can be chance"
	troubleTitle  = "Not graded"
	absentTitle   = "Nothing graded"
	strangerTitle = "Not on the roster"
	passedTitle   = "Passed over: no attempts"
	// Where a score stands in brackets, and where there is none.
	bracketsNote = "In round brackets: the job is not signed off; this is the grade so far, and no mean score counts it."
	openNote     = "In square brackets: the job is not signed off, and goes into the mean as its exercise says."
	missingNote  = "A dash: nothing was handed in for that job, and the mean is of the others."
	// Where there are several exercises, modes or levels of help.
	termsNote   = "These attempts were made on different terms, and scores on different terms do not compare: each has its own column and its own mean."
	classNotice = " Names are those of folders and files; nothing else about a person is known or kept."
)

func (c Class) title() string {
	return fmt.Sprintf("A class of %d attempts", len(c.Rows)+len(c.Trouble))
}

func (c Class) summary() string {
	text := fmt.Sprintf("%d graded, %d not.", len(c.Rows), len(c.Trouble))
	if c.Costs != nil {
		text += " " + CostsUsed(c.Costs)
	}
	return text
}

func (c Class) notice() string { return notice + classNotice }

func (c Class) means() []string {
	if c.Means == nil {
		return nil
	}
	mean := func(name, unit string, m class.Mean) string {
		if m.Of == 0 {
			return fmt.Sprintf("Mean %s: there is none yet.", name)
		}
		some := ""
		if m.Of < len(c.Rows) {
			some = fmt.Sprintf(" (of %d attempts)", m.Of)
		}
		return fmt.Sprintf("Mean %s: %.1f%s%s.", name, m.Value, unit, some)
	}
	out := []string{mean("score", "", c.Means.Score)}
	for _, a := range c.Means.Areas {
		out = append(out, mean("for "+string(a.Area), "", a.Mean))
	}
	return append(out, mean("work", " minutes", c.Means.Work), mean("loss", " minutes", c.Means.Lost))
}

func (c Class) misconceptions() []string {
	var out []string
	for _, h := range c.Misconceptions {
		out = append(out, fmt.Sprintf("In %d of %d: the idea that %s.", h.Attempts, len(c.Rows), c.Printer.Print(h.Believes)))
	}
	return out
}

func (c Class) same() []string {
	var out []string
	for _, names := range c.Same {
		out = append(out, strings.Join(names, " and ")+".")
	}
	return out
}

// dear is what each kind of decision cost.
func (c Class) dear() []Loss {
	var out []Loss
	for _, k := range c.Dear {
		out = append(out, Loss{fmt.Sprintf("%s: %s", k.Did, k.Area), k.Lost, fmt.Sprintf("in %d of %d", k.In, len(c.Rows))})
	}
	return out
}

// scoreText is the score, in brackets where the job is still open: square ones where it
// counts all the same.
func scoreText(r class.Row) string {
	switch {
	case r.SignedOff:
		return strconv.Itoa(r.Score)
	case r.Counted:
		return fmt.Sprintf("[%d]", r.Score)
	}
	return fmt.Sprintf("(%d)", r.Score)
}

func jobText(r class.Row) string {
	job := JobTitle(r.Family, r.Kind, " ", r.Seed)
	if terms := termsText(r.Group()); terms != "" {
		job += " (" + terms + ")"
	}
	return job
}

// termsText names the terms of a group; "" for free practice with full help.
func termsText(g class.Group) string {
	var out []string
	if g.Exercise != "" {
		out = append(out, g.Exercise)
	}
	if g.Mode != "" && g.Mode != attempt.Practice.String() {
		out = append(out, g.Mode)
	} else if g.Help != "" && g.Help != attempt.FullHelp.String() {
		out = append(out, "help "+g.Help)
	}
	return strings.Join(out, ", ")
}

// A column is a job on its terms. Two whose names are the same but whose terms are not, as after a
// change of the exercise's file, are told apart by the mark of their terms.
type column struct {
	of   class.Row
	name string
}

// jobs lists the jobs of a class in order, each set of terms for itself.
func (c Class) jobs() []column {
	var out []column
	named := map[string]int{}
	for _, r := range slices.SortedStableFunc(slices.Values(c.Rows), class.CompareJobs) {
		if n := len(out); n == 0 || class.CompareJobs(out[n-1].of, r) != 0 {
			out = append(out, column{r, jobText(r)})
			named[jobText(r)]++
		}
	}
	for i, x := range out {
		if named[x.name] > 1 {
			out[i].name += " terms " + x.of.Mark
		}
	}
	return out
}

// groups lists the groups of terms of a class in order.
func (c Class) groups() []class.Group {
	var out []class.Group
	for _, j := range c.jobs() {
		if g := j.of.Group(); !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}

// A table is rows under a head; a column's name that begins with a blank says that it holds
// numbers.
type table struct {
	title, caption string
	head           []string
	rows           [][]string
}

// scores is the table of pupils and jobs: each cell the score, or the scores where there
// are several attempts, and at the end the mean of those that count, for each group of terms
// its own, and how sure it is.
func (c Class) scores() table {
	jobs, groups := c.jobs(), c.groups()
	t := table{title: scoresTitle, caption: "The score of each pupil on each job, the mean, and how far to trust it", head: []string{"Pupil"}}
	for _, j := range jobs {
		t.head = append(t.head, " "+j.name)
	}
	for i, g := range groups {
		name := " Mean"
		if terms := termsText(g); terms != "" && len(groups) > 1 {
			name += " (" + terms + ")"
		}
		if slices.Contains(t.head, name) {
			name += " " + strconv.Itoa(i+1)
		}
		t.head = append(t.head, name)
	}
	for i, r := range c.Rows {
		if i == 0 || c.Rows[i-1].Pupil != r.Pupil {
			row := []string{r.Pupil}
			for range jobs {
				row = append(row, none)
			}
			for _, g := range groups {
				row = append(row, c.mean(r.Pupil, g))
			}
			t.rows = append(t.rows, row)
		}
		cell := &t.rows[len(t.rows)-1][1+slices.IndexFunc(jobs, func(j column) bool { return class.CompareJobs(j.of, r) == 0 })]
		if *cell == none {
			*cell = scoreText(r)
		} else {
			*cell += " " + scoreText(r)
		}
	}
	if len(c.Rows) > 0 {
		for _, pupil := range c.Absent {
			row := []string{pupil}
			for range t.head[1:] {
				row = append(row, none)
			}
			t.rows = append(t.rows, row)
		}
		slices.SortStableFunc(t.rows, func(a, b []string) int { return strings.Compare(a[0], b[0]) })
	}
	return t
}

// none stands where there is no score.
const none = "-"

// mean is the mean of a pupil's scores that count, on a group of terms.
func (c Class) mean(pupil string, g class.Group) string {
	for _, p := range c.Means.People {
		if p.Pupil == pupil && p.Group == g {
			return fmt.Sprintf("%.1f ±%.0f", p.Value, p.Sure)
		}
	}
	return none
}

// notes say what the signs in the table of scores mean, those that are in it.
func (c Class) notes(t table) []string {
	var out []string
	has := func(in func(class.Row) bool, note string) {
		if slices.ContainsFunc(c.Rows, in) {
			out = append(out, note)
		}
	}
	has(func(r class.Row) bool { return !r.SignedOff && !r.Counted }, bracketsNote)
	has(func(r class.Row) bool { return !r.SignedOff && r.Counted }, openNote)
	jobs := len(c.jobs())
	if slices.ContainsFunc(t.rows, func(row []string) bool { return slices.Contains(row[1:1+jobs], none) }) {
		out = append(out, missingNote)
	}
	if len(c.groups()) > 1 {
		out = append(out, termsNote)
	}
	for _, m := range grading.TheSurety().Messages() {
		out = append(out, sentence(c.Printer.Print(m)))
	}
	return out
}

// attempts is the table with a row to each attempt.
func (c Class) attempts() table {
	t := table{title: attemptsTitle, caption: "One row for each attempt file", head: []string{"Pupil", "Job", " Score"}}
	for _, a := range class.Areas() {
		t.head = append(t.head, " "+string(a))
	}
	t.head = append(t.head, " Minutes", " Lost", "Dearest decision", "Lesson", "Begun", "Signed off", " Tries before", "File")
	for _, r := range c.Rows {
		row := append([]string{r.Pupil, jobText(r), scoreText(r)}, areaTexts(r, none)...)
		t.rows = append(t.rows, append(row, fmt.Sprintf("%.0f", r.Minutes), fmt.Sprintf("%.1f", r.Lost), dearestText(r.Dearest), r.Lesson, r.Begun, signedText(r), strconv.Itoa(r.Earlier), r.File))
	}
	return t
}

// signedText is when a row was signed off, as its file says, or that it is open.
func signedText(r class.Row) string {
	switch {
	case !r.SignedOff:
		return "open"
	case r.Ended == "":
		return "yes"
	}
	return r.Ended
}

// areaTexts are the scores of the areas, with none where nothing was decided.
func areaTexts(r class.Row, none string) []string {
	var out []string
	for _, a := range class.Areas() {
		text := none
		if score, ok := r.AreaScore(a); ok {
			text = strconv.Itoa(score)
		}
		out = append(out, text)
	}
	return out
}

func actText(d class.Dearest) string { return fmt.Sprintf("act %d, %s", d.Act, d.Did) }

func dearestText(d *class.Dearest) string {
	if d == nil {
		return "none"
	}
	return fmt.Sprintf("%s (%.1f minutes)", actText(*d), d.Lost)
}

func (c Class) troubles() table {
	t := table{title: troubleTitle, caption: "Files that could not be graded", head: []string{"File", "Why"}}
	for _, x := range c.Trouble {
		t.rows = append(t.rows, []string{x.File, c.Printer.Print(x.Why)})
	}
	return t
}

// A part of a class is a list or a table.
type part struct {
	title string
	list  []string
	table table
}

// parts lists what a class says, in order, without what is empty.
func (c Class) parts() []part {
	var out []part
	list := func(title string, items []string) {
		if len(items) > 0 {
			out = append(out, part{title: title, list: items})
		}
	}
	tabled := func(t table, notes ...string) {
		if len(t.rows) > 0 {
			out = append(out, part{title: t.title, list: notes, table: t})
		}
	}
	scores := c.scores()
	tabled(scores, c.notes(scores)...)
	if c.Long {
		tabled(c.attempts())
	}
	list(meansTitle, c.means())
	list(thoughtTitle, c.misconceptions())
	list(sameTitle, c.same())
	list(absentTitle, slices.Clone(c.Absent))
	list(strangerTitle, slices.Clone(c.Strangers))
	tabled(c.troubles())
	list(passedTitle, slices.Clone(c.Passed))
	for _, p := range out {
		p.visible()
	}
	return out
}

// visible makes what names of files and pupils hold visible, in place.
func (p part) visible() {
	for i, s := range p.list {
		p.list[i] = Visible(s)
	}
	for _, cells := range append([][]string{p.table.head}, p.table.rows...) {
		for i, s := range cells {
			cells[i] = Visible(s)
		}
	}
}

func (c Class) bars() []picture.Bar {
	var out []picture.Bar
	for _, l := range c.dear() {
		out = append(out, picture.Bar{Label: l.Name, Value: l.Minutes, Note: l.Band})
	}
	return out
}

// Text writes the class for the terminal.
func (c Class) Text(p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(c.title()))
	b.WriteString(Wrap(c.summary(), p.Width, ""))
	for _, x := range c.parts() {
		b.WriteString("\n" + Wrap(p.Strong(x.title), p.Width, ""))
		b.WriteString(listText(x.list, p))
		b.WriteString(x.table.text(p))
	}
	if len(c.Dear) > 0 {
		b.WriteString("\n" + Wrap(p.Strong(dearTitle), p.Width, ""))
		b.WriteString(picture.Bars(c.bars(), picture.Options{Columns: p.Width, Unit: "min"}))
	}
	b.WriteString("\n" + Wrap(c.notice(), p.Width, ""))
	return b.String()
}

// text writes a table side by side where it fits, if need be with numbers for the names of
// its columns, and else row by row, each cell with the name of its column.
func (t table) text(p Pen) string {
	if len(t.rows) == 0 {
		return ""
	}
	if text, ok := t.sideBySide(t.head, p); ok {
		return text
	}
	numbers := slices.Clone(t.head)
	var key []string
	for i, h := range t.head[1:] {
		numbers[i+1] = h[:len(h)-len(strings.TrimLeft(h, " "))] + strconv.Itoa(i+1)
		key = append(key, fmt.Sprintf("%d %s", i+1, strings.TrimSpace(h)))
	}
	if text, ok := t.sideBySide(numbers, p); ok {
		return Hang("Columns: "+strings.Join(key, "; ")+".", p.Width, "  ", "    ") + text
	}
	var b strings.Builder
	for _, r := range t.rows {
		var cells []string
		for i, cell := range r[1:] {
			if name := strings.TrimSpace(t.head[i+1]) + " "; cell != "" {
				if len(r) == 2 { // nothing to tell it from
					name = ""
				}
				cells = append(cells, name+cell)
			}
		}
		b.WriteString(Hang(r[0]+": "+strings.Join(cells, "; ")+".", p.Width, "  ", "    "))
	}
	return b.String()
}

// sideBySide writes a table with its columns under a head, if it is narrow enough.
func (t table) sideBySide(head []string, p Pen) (text string, fits bool) {
	room := make([]int, len(head))
	all := 0
	for i, h := range head {
		room[i] = ansi.StringWidth(strings.TrimSpace(h))
		for _, r := range t.rows {
			room[i] = max(room[i], ansi.StringWidth(r[i]))
		}
		all += 2 + room[i]
	}
	if all > p.Width {
		return "", false
	}
	var b strings.Builder
	for _, cells := range append([][]string{head}, t.rows...) {
		line := ""
		for i, cell := range cells {
			cell = strings.TrimSpace(cell)
			if strings.HasPrefix(head[i], " ") {
				cell = strings.Repeat(" ", room[i]-ansi.StringWidth(cell)) + cell
			}
			line += "  " + pad(cell, room[i])
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String(), true
}

// Markdown writes the class as a Markdown document.
func (c Class) Markdown() string {
	var b sheet
	b.head(1, c.title())
	b.para(c.summary())
	for _, x := range c.parts() {
		b.head(2, x.title)
		b.list(x.list)
		if len(x.table.rows) > 0 {
			b.table(x.table.head, x.table.rows)
		}
	}
	if len(c.Dear) > 0 {
		b.head(2, dearTitle)
		var rows [][]string
		for _, l := range c.dear() {
			rows = append(rows, []string{l.Name, fmt.Sprintf("%.1f", l.Minutes), l.Band})
		}
		b.table([]string{"Decision", " Minutes", "Cost something"}, rows)
	}
	b.para(c.notice())
	return b.text()
}

// CSV writes a row to each attempt and, after them, to each file that could not be
// graded. No cell can be taken for a formula by a spreadsheet.
func (c Class) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	head := []string{"pupil", "job", "file", "signed_off", "score"}
	for _, a := range class.Areas() {
		head = append(head, strings.ReplaceAll(string(a), " ", "_"))
	}
	head = append(head, "shop_minutes", "parts_as_minutes", "minutes_lost", "dearest_decision", "dearest_minutes", "lesson", "critical_items_not_met",
		"exercise", "exercise_digest", "mode", "help", "terms", "begun", "signed_at", "earlier_tries", "not_graded_because")
	if err := out.Write(head); err != nil {
		return err
	}
	minutes := func(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }
	for _, r := range c.Rows {
		row := append([]string{r.Pupil, jobText(r), r.File, map[bool]string{true: "yes", false: "no"}[r.SignedOff], strconv.Itoa(r.Score)}, areaTexts(r, "")...)
		did, lost := "", ""
		if r.Dearest != nil {
			did, lost = actText(*r.Dearest), minutes(r.Dearest.Lost)
		}
		row = append(row, minutes(r.Minutes), minutes(r.PartsMinutes), minutes(r.Lost), did, lost, r.Lesson, strconv.Itoa(r.CriticalUnmet),
			r.Exercise, r.Digest, r.Mode, r.Help, r.Mark, r.Begun, r.Ended, strconv.Itoa(r.Earlier), "")
		if err := out.Write(Harmless(row)); err != nil {
			return err
		}
	}
	for _, t := range c.Trouble {
		row := make([]string, len(head))
		row[0], row[2], row[len(row)-1] = t.Pupil, t.File, c.Printer.Print(t.Why)
		if err := out.Write(Harmless(row)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Harmless makes every cell visible, and puts an apostrophe before those that a spreadsheet
// would work out: those that begin with =, +, -, @, after any blanks.
func Harmless(row []string) []string {
	for i, s := range row {
		s = Visible(s)
		row[i] = s
		if t := strings.TrimLeft(s, " \u00a0"); t != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(t)[0]) {
			row[i] = "'" + s
		}
	}
	return row
}

// A cell of a page's table.
type cell struct {
	Text         string
	Head, Number bool
}

// HTML writes the class as one page that needs nothing beside itself.
func (c Class) HTML(w io.Writer) error {
	type pagePart struct {
		Title, Caption string
		List           []string
		Head           []cell
		Rows           [][]cell
	}
	var parts []pagePart
	for _, x := range c.parts() {
		pp := pagePart{Title: x.title, Caption: x.table.caption, List: x.list}
		for _, h := range x.table.head {
			pp.Head = append(pp.Head, cell{Text: strings.TrimSpace(h), Number: strings.HasPrefix(h, " ")})
		}
		for _, r := range x.table.rows {
			var row []cell
			for i, text := range r {
				row = append(row, cell{text, i == 0, pp.Head[i].Number})
			}
			pp.Rows = append(pp.Rows, row)
		}
		parts = append(parts, pp)
	}
	var svg template.HTML
	if len(c.Dear) > 0 {
		var err error
		if svg, err = drawn(func(w io.Writer) error {
			return picture.BarsSVG(w, c.bars(), picture.Options{Title: "Mean minutes lost, by act and area", Unit: "min", Color: true, ID: "dear"})
		}); err != nil {
			return err
		}
	}
	return writePage(w, "class", struct {
		Title, Summary, Notice string
		Parts                  []pagePart
		DearTitle              string
		DearSVG                template.HTML
	}{c.title(), c.summary(), c.notice(), parts, dearTitle, svg})
}
