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

var (
	scoresTitle   = text.Say("view.class.scores", "Scores")
	attemptsTitle = text.Say("view.class.attempts", "Attempts")
	meansTitle    = text.Say("view.class.means", "Means")
	dearTitle     = text.Say("view.class.decisions-cost-most-minutes", "Decisions that cost most, minutes an attempt")
	sameTitle     = text.Say("view.class.act-for-act-same", "Act for act the same; on a short job that can be chance")
	troubleTitle  = text.Say("view.class.not-graded", "Not graded")
	absentTitle   = text.Say("view.class.nothing-graded", "Nothing graded")
	strangerTitle = text.Say("view.class.not-roster", "Not on the roster")
	passedTitle   = text.Say("view.class.passed-over-no-attempts", "Passed over: no attempts")
	// Where a score stands in brackets, and where there is none.
	bracketsNote = text.Say("view.class.round-brackets-job-not", "In round brackets: the job is not signed off; this is the grade so far, and no mean score counts it.")
	openNote     = text.Say("view.class.square-brackets-job-not", "In square brackets: the job is not signed off, and goes into the mean as its exercise says.")
	missingNote  = text.Say("view.class.dash-nothing-was-handed", "A dash: nothing was handed in for that job, and the mean is of the others.")
	// Where there are several exercises, modes or levels of help.
	termsNote   = text.Say("view.class.these-attempts-were-made", "These attempts were made on different terms, and scores on different terms do not compare: each has its own column and its own mean.")
	classNotice = text.Say("view.class.names-those-folders-files", " Names are those of folders and files; nothing else about a person is known or kept.")
)

func (c Class) title() string {
	return c.Printer.Print(text.Say("view.class.class-attempts", "A class of {trouble} attempts", text.Count("trouble", len(c.Rows)+len(c.Trouble))))
}

func (c Class) summary() string {
	prose := c.Printer.Print(text.Say("view.class.graded-not", "{rows} graded, {trouble} not.", text.Count("rows", len(c.Rows)), text.Count("trouble", len(c.Trouble))))
	if c.Costs != nil {
		prose += " " + c.Printer.Print(CostsUsed(c.Costs))
	}
	return prose
}

func (c Class) notice() string { return c.Printer.Print(notice) + c.Printer.Print(classNotice) }

func (c Class) means() []string {
	if c.Means == nil {
		return nil
	}
	mean := func(name, unit string, m class.Mean) string {
		if m.Of == 0 {
			return c.Printer.Print(text.Say("view.class.mean-there-none-yet", "Mean {name}: there is none yet.", text.Typed("name", name)))
		}
		some := ""
		if m.Of < len(c.Rows) {
			some = c.Printer.Print(text.Say("view.class.attempts-2", " (of {of} attempts)", text.Count("of", m.Of)))
		}
		return c.Printer.Print(text.Say("view.class.mean-2", "Mean {name}: {value}{unit}{some}.", text.Typed("name", name), text.Number("value", m.Value, 1), text.Typed("unit", unit), text.Typed("some", some)))
	}
	out := []string{mean("score", "", c.Means.Score)}
	for _, a := range c.Means.Areas {
		out = append(out, mean(c.Printer.Print(text.Say("view.class.for", "for {area}", text.Of("area", a.Area.Name()))), "", a.Mean))
	}
	return append(out, mean("work", c.Printer.Print(text.Say("view.class.minutes", " minutes")), c.Means.Work), mean("loss", c.Printer.Print(text.Say("view.class.minutes", " minutes")), c.Means.Lost))
}

func (c Class) misconceptions() []string {
	var out []string
	for _, h := range c.Misconceptions {
		out = append(out, c.Printer.Print(text.Say("view.class.idea", "In {attempts} of {rows}: the idea that {believes}.", text.Count("attempts", h.Attempts), text.Count("rows", len(c.Rows)), text.Of("believes", h.Believes))))
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
		out = append(out, Loss{fmt.Sprintf("%s: %s", k.Did, c.Printer.Print(k.Area.Name())), k.Lost, c.Printer.Print(text.Say("view.class.in-of", "in {in} of {rows}", text.Count("in", k.In), text.Count("rows", len(c.Rows))))})
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

func jobText(p text.Printer, r class.Row) string {
	job := JobTitle(p, r.Family, r.Kind, " ", r.Seed)
	if terms := termsText(p, r.Group()); terms != "" {
		job += " (" + terms + ")"
	}
	return job
}

// termsText names the terms of a group; "" for free practice with full help.
func termsText(p text.Printer, g class.Group) string {
	var out []string
	if g.Exercise != "" {
		out = append(out, g.Exercise)
	}
	if g.Mode != "" && g.Mode != attempt.Practice.String() {
		out = append(out, g.Mode)
	} else if g.Help != "" && g.Help != attempt.FullHelp.String() {
		out = append(out, p.Print(text.Say("view.class.help", "help {help}", text.Typed("help", g.Help))))
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
			out = append(out, column{r, jobText(c.Printer, r)})
			named[jobText(c.Printer, r)]++
		}
	}
	for i, x := range out {
		if named[x.name] > 1 {
			out[i].name += c.Printer.Print(text.Say("view.class.terms", " terms {mark}", text.Typed("mark", x.of.Mark)))
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
	t := table{title: c.Printer.Print(scoresTitle), caption: c.Printer.Print(text.Say("view.class.score-each-pupil-each", "The score of each pupil on each job, the mean, and how far to trust it")), head: []string{c.Printer.Print(text.Say("view.class.pupil", "Pupil"))}}
	for _, j := range jobs {
		t.head = append(t.head, " "+j.name)
	}
	for i, g := range groups {
		name := " " + c.Printer.Print(text.Say("view.class.mean", "Mean"))
		if terms := termsText(c.Printer, g); terms != "" && len(groups) > 1 {
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
	has(func(r class.Row) bool { return !r.SignedOff && !r.Counted }, c.Printer.Print(bracketsNote))
	has(func(r class.Row) bool { return !r.SignedOff && r.Counted }, c.Printer.Print(openNote))
	jobs := len(c.jobs())
	if slices.ContainsFunc(t.rows, func(row []string) bool { return slices.Contains(row[1:1+jobs], none) }) {
		out = append(out, c.Printer.Print(missingNote))
	}
	if len(c.groups()) > 1 {
		out = append(out, c.Printer.Print(termsNote))
	}
	for _, m := range grading.TheSurety().Messages() {
		out = append(out, sentence(c.Printer.Print(m)))
	}
	return out
}

// attempts is the table with a row to each attempt.
func (c Class) attempts() table {
	t := table{title: c.Printer.Print(attemptsTitle), caption: c.Printer.Print(text.Say("view.class.one-row-for-each", "One row for each attempt file")), head: []string{c.Printer.Print(text.Say("view.class.pupil", "Pupil")), c.Printer.Print(text.Say("view.class.job", "Job")), " " + c.Printer.Print(text.Say("view.class.score", "Score"))}}
	for _, a := range class.Areas() {
		t.head = append(t.head, " "+string(a))
	}
	t.head = append(t.head, " "+c.Printer.Print(text.Say("view.class.minutes-2", "Minutes")), " "+c.Printer.Print(text.Say("view.class.lost", "Lost")), c.Printer.Print(text.Say("view.class.dearest-decision", "Dearest decision")), c.Printer.Print(text.Say("view.class.lesson", "Lesson")), c.Printer.Print(text.Say("view.class.begun", "Begun")), c.Printer.Print(text.Say("view.class.signed-off", "Signed off")), c.Printer.Print(text.Say("view.class.tries-before", " Tries before")), c.Printer.Print(text.Say("view.class.file", "File")))
	for _, r := range c.Rows {
		row := append([]string{r.Pupil, jobText(c.Printer, r), scoreText(r)}, areaTexts(r, none)...)
		t.rows = append(t.rows, append(row, fmt.Sprintf("%.0f", r.Minutes), fmt.Sprintf("%.1f", r.Lost), dearestText(c.Printer, r.Dearest), r.Lesson, r.Begun, signedText(c.Printer, r), strconv.Itoa(r.Earlier), r.File))
	}
	return t
}

// signedText is when a row was signed off, as its file says, or that it is open.
func signedText(p text.Printer, r class.Row) string {
	switch {
	case !r.SignedOff:
		return p.Print(text.Say("view.class.open", "open"))
	case r.Ended == "":
		return p.Print(text.Say("view.class.yes", "yes"))
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

func actText(p text.Printer, d class.Dearest) string {
	return p.Print(text.Say("view.class.act", "act {act}, {did}", text.Count("act", d.Act), text.Typed("did", d.Did)))
}

func dearestText(p text.Printer, d *class.Dearest) string {
	if d == nil {
		return p.Print(text.Say("view.class.none", "none"))
	}
	return p.Print(text.Say("view.class.minutes-3", "{act_text} ({lost} minutes)", text.Typed("act_text", actText(p, *d)), text.Number("lost", d.Lost, 1)))
}

func (c Class) troubles() table {
	t := table{title: c.Printer.Print(troubleTitle), caption: c.Printer.Print(text.Say("view.class.files-could-not-be", "Files that could not be graded")), head: []string{c.Printer.Print(text.Say("view.class.file", "File")), c.Printer.Print(text.Say("view.class.why", "Why"))}}
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
	list(c.Printer.Print(meansTitle), c.means())
	list(c.Printer.Print(thoughtTitle), c.misconceptions())
	list(c.Printer.Print(sameTitle), c.same())
	list(c.Printer.Print(absentTitle), slices.Clone(c.Absent))
	list(c.Printer.Print(strangerTitle), slices.Clone(c.Strangers))
	tabled(c.troubles())
	list(c.Printer.Print(passedTitle), slices.Clone(c.Passed))
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
		b.WriteString("\n" + Wrap(p.Strong(p.Print(dearTitle)), p.Width, ""))
		b.WriteString(picture.Bars(c.bars(), picture.Options{Columns: p.Width, Unit: p.Print(text.Say("view.class.min", "min"))}))
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
	if prose, ok := t.sideBySide(t.head, p); ok {
		return prose
	}
	numbers := slices.Clone(t.head)
	var key []string
	for i, h := range t.head[1:] {
		numbers[i+1] = h[:len(h)-len(strings.TrimLeft(h, " "))] + strconv.Itoa(i+1)
		key = append(key, fmt.Sprintf("%d %s", i+1, strings.TrimSpace(h)))
	}
	if prose, ok := t.sideBySide(numbers, p); ok {
		return Hang(p.Print(text.Say("view.class.columns", "Columns: {key}.", text.Typed("key", strings.Join(key, "; ")))), p.Width, "  ", "    ") + prose
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
		b.head(2, c.Printer.Print(dearTitle))
		var rows [][]string
		for _, l := range c.dear() {
			rows = append(rows, []string{l.Name, fmt.Sprintf("%.1f", l.Minutes), l.Band})
		}
		b.table([]string{c.Printer.Print(text.Say("view.class.decision", "Decision")), " " + c.Printer.Print(text.Say("view.class.minutes-2", "Minutes")), c.Printer.Print(text.Say("view.class.cost-something", "Cost something"))}, rows)
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
		row := append([]string{r.Pupil, jobText(c.Printer, r), r.File, map[bool]string{true: "yes", false: "no"}[r.SignedOff], strconv.Itoa(r.Score)}, areaTexts(r, "")...)
		did, lost := "", ""
		if r.Dearest != nil {
			did, lost = actText(c.Printer, *r.Dearest), minutes(r.Dearest.Lost)
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
			for i, prose := range r {
				row = append(row, cell{prose, i == 0, pp.Head[i].Number})
			}
			pp.Rows = append(pp.Rows, row)
		}
		parts = append(parts, pp)
	}
	var svg template.HTML
	if len(c.Dear) > 0 {
		var err error
		if svg, err = drawn(func(w io.Writer) error {
			return picture.BarsSVG(w, c.bars(), picture.Options{Title: c.Printer.Print(text.Say("view.class.mean-minutes-lost-by", "Mean minutes lost, by act and area")), Unit: c.Printer.Print(text.Say("view.class.min", "min")), Color: true, ID: "dear"})
		}); err != nil {
			return err
		}
	}
	return writePage(w, "class", struct {
		Title, Summary, Notice string
		Parts                  []pagePart
		DearTitle              string
		DearSVG                template.HTML
	}{c.title(), c.summary(), c.notice(), parts, c.Printer.Print(dearTitle), svg})
}
