package view

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"shimwright/cmd/internal/picture"
)

// A ClassRow is one attempt of a class.
type ClassRow struct {
	Pupil         string  `json:"pupil"`
	Job           string  `json:"job"`
	File          string  `json:"file"`
	SignedOff     bool    `json:"signed_off"`
	Score         int     `json:"score"`
	Areas         []int   `json:"area_scores"` // one to each area of the class, below zero where nothing was decided in it
	Minutes       float64 `json:"shop_minutes"`
	PartsMinutes  float64 `json:"parts_as_minutes"`
	Lost          float64 `json:"minutes_lost"`
	Dearest       string  `json:"dearest_decision,omitempty"`
	DearestLost   float64 `json:"dearest_minutes,omitempty"`
	Lesson        string  `json:"lesson,omitempty"`
	CriticalUnmet int     `json:"critical_items_not_met"`
	Misconception string  `json:"idea,omitempty"` // which the acts speak for
	ByKind        []Loss  `json:"lost_by_kind,omitempty"`
}

// A Trouble is a file that could not be graded, and why.
type Trouble struct {
	File string `json:"file"`
	Why  string `json:"why"`
}

// A Class is what a set of attempts comes to. Every form of it is written from this one
// value.
type Class struct {
	Title          string     `json:"title"`
	Summary        string     `json:"summary"`
	Notice         string     `json:"notice"`
	Areas          []string   `json:"areas"`
	Rows           []ClassRow `json:"attempts"`
	Means          []string   `json:"means,omitempty"`
	Dear           []Loss     `json:"cost_most,omitempty"` // kinds of decision
	Misconceptions []string   `json:"ideas,omitempty"`
	Same           []string   `json:"same_attempt,omitempty"`
	Trouble        []Trouble  `json:"not_graded,omitempty"`

	long bool // with a line to each attempt
}

const (
	scoresTitle   = "Scores"
	attemptsTitle = "Attempts"
	meansTitle    = "Means"
	dearTitle     = "Decisions that cost most, minutes an attempt"
	sameTitle     = "Act for act the same; on a short job that can be chance"
	troubleTitle  = "Not graded"
	// Where a score stands in brackets.
	bracketsNote = "In brackets: the job is not signed off; this is the grade so far, and no mean score counts it."
	classNotice  = " Names are those of folders and files; nothing else about a person is known or kept."
)

// NewClass puts a class together from its attempts, in any order, and the files that could
// not be graded. same holds the names of files with the same attempt in them. Long has a
// line to each attempt.
func NewClass(areas []string, rows []ClassRow, same [][]string, trouble []Trouble, long bool) Class {
	rows = append([]ClassRow{}, rows...)
	slices.SortStableFunc(rows, func(a, b ClassRow) int {
		return cmp.Or(strings.Compare(a.Pupil, b.Pupil), compareJobs(a.Job, b.Job), strings.Compare(a.File, b.File))
	})
	c := Class{Title: fmt.Sprintf("A class of %d attempts", len(rows)+len(trouble)), Summary: fmt.Sprintf("%d graded, %d not.", len(rows), len(trouble)),
		Notice: notice + classNotice, Areas: areas, Rows: rows, Trouble: trouble, long: long}
	c.Means = c.means()
	c.Dear = c.costMost()
	ideas := map[string]int{}
	for _, r := range rows {
		if r.Misconception != "" {
			ideas[r.Misconception]++
		}
	}
	for idea, n := range ideas {
		c.Misconceptions = append(c.Misconceptions, fmt.Sprintf("In %d of %d: the idea that %s.", n, len(rows), idea))
	}
	slices.SortFunc(c.Misconceptions, func(a, b string) int { return cmp.Or(countIn(b)-countIn(a), strings.Compare(a, b)) })
	for _, names := range same {
		c.Same = append(c.Same, strings.Join(names, " and ")+".")
	}
	return c
}

// countIn is the number that a line of ideas begins with.
func countIn(line string) (n int) {
	_, _ = fmt.Sscanf(line, "In %d", &n)
	return n
}

// compareJobs puts jobs in the order of their families and then of their numbers.
func compareJobs(a, b string) int {
	nameA, noA := cutNumber(a)
	nameB, noB := cutNumber(b)
	return cmp.Or(strings.Compare(nameA, nameB), cmp.Compare(noA, noB), strings.Compare(a, b))
}

func cutNumber(job string) (name string, number uint64) {
	name = strings.TrimRight(job, "0123456789")
	number, _ = strconv.ParseUint(job[len(name):], 10, 64)
	return name, number
}

func (c Class) means() []string {
	if len(c.Rows) == 0 {
		return nil
	}
	mean := func(name, unit string, of func(ClassRow) (float64, bool)) string {
		sum, n := 0.0, 0
		for _, r := range c.Rows {
			if v, ok := of(r); ok {
				sum, n = sum+v, n+1
			}
		}
		if n == 0 {
			return fmt.Sprintf("Mean %s: there is none yet.", name)
		}
		some := ""
		if n < len(c.Rows) {
			some = fmt.Sprintf(" (of %d attempts)", n)
		}
		return fmt.Sprintf("Mean %s: %.1f%s%s.", name, sum/float64(n), unit, some)
	}
	out := []string{mean("score", "", func(r ClassRow) (float64, bool) { return float64(r.Score), r.SignedOff })}
	for i, name := range c.Areas {
		out = append(out, mean("for "+name, "", func(r ClassRow) (float64, bool) { return float64(r.Areas[i]), r.Areas[i] >= 0 }))
	}
	return append(out, mean("work", " minutes", func(r ClassRow) (float64, bool) { return r.Minutes, true }),
		mean("loss", " minutes", func(r ClassRow) (float64, bool) { return r.Lost, true }))
}

// costMost is what each kind of decision cost on the mean of all attempts, the dearest
// first.
func (c Class) costMost() []Loss {
	const most = 8
	sum, in := map[string]float64{}, map[string]int{}
	for _, r := range c.Rows {
		for _, l := range r.ByKind {
			sum[l.Name] += l.Minutes
			if l.Minutes > small {
				in[l.Name]++
			}
		}
	}
	var out []Loss
	for name, minutes := range sum {
		if minutes > small {
			out = append(out, Loss{name, minutes / float64(len(c.Rows)), fmt.Sprintf("in %d of %d", in[name], len(c.Rows))})
		}
	}
	slices.SortFunc(out, func(a, b Loss) int {
		return cmp.Or(cmp.Compare(b.Minutes, a.Minutes), strings.Compare(a.Name, b.Name))
	})
	return out[:min(most, len(out))]
}

// scoreText is the score, in brackets where the job is still open.
func (r ClassRow) scoreText() string {
	if !r.SignedOff {
		return fmt.Sprintf("(%d)", r.Score)
	}
	return strconv.Itoa(r.Score)
}

// jobs lists the jobs of a class in order.
func (c Class) jobs() []string {
	var out []string
	for _, r := range c.Rows {
		if !slices.Contains(out, r.Job) {
			out = append(out, r.Job)
		}
	}
	slices.SortFunc(out, compareJobs)
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
// are several attempts, and at the end the mean of the jobs that are signed off: an open one
// has hardly begun to cost anything.
func (c Class) scores() table {
	jobs := c.jobs()
	t := table{title: scoresTitle, caption: "The score of each pupil on each job, and the mean of those signed off", head: []string{"Pupil"}}
	for _, j := range jobs {
		t.head = append(t.head, " "+j)
	}
	t.head = append(t.head, " Mean")
	sum, n := 0, 0
	for i, r := range c.Rows {
		if i == 0 || c.Rows[i-1].Pupil != r.Pupil {
			t.rows = append(t.rows, make([]string, len(t.head)))
			sum, n = 0, 0
		}
		row := t.rows[len(t.rows)-1]
		row[0] = r.Pupil
		cell := &row[1+slices.Index(jobs, r.Job)]
		if *cell != "" {
			*cell += " "
		}
		*cell += r.scoreText()
		mean := &row[len(row)-1]
		if r.SignedOff {
			sum, n = sum+r.Score, n+1
			*mean = fmt.Sprintf("%.1f", float64(sum)/float64(n))
		} else if n == 0 {
			*mean = "-"
		}
	}
	return t
}

// attempts is the table with a row to each attempt.
func (c Class) attempts() table {
	t := table{title: attemptsTitle, caption: "One row for each attempt file", head: []string{"Pupil", "Job", " Score"}}
	for _, a := range c.Areas {
		t.head = append(t.head, " "+a)
	}
	t.head = append(t.head, " Minutes", " Lost", "Dearest decision", "Lesson", "File")
	for _, r := range c.Rows {
		row := []string{r.Pupil, r.Job, r.scoreText()}
		for _, s := range r.Areas {
			row = append(row, areaText(s, "-"))
		}
		t.rows = append(t.rows, append(row, fmt.Sprintf("%.0f", r.Minutes), fmt.Sprintf("%.1f", r.Lost), r.dearestText(), r.Lesson, r.File))
	}
	return t
}

func areaText(score int, none string) string {
	if score < 0 {
		return none
	}
	return strconv.Itoa(score)
}

func (r ClassRow) dearestText() string {
	if r.Dearest == "" {
		return "none"
	}
	return fmt.Sprintf("%s (%.1f minutes)", r.Dearest, r.DearestLost)
}

func (c Class) troubles() table {
	t := table{title: troubleTitle, caption: "Files that could not be graded", head: []string{"File", "Why"}}
	for _, x := range c.Trouble {
		t.rows = append(t.rows, []string{x.File, x.Why})
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
	var notes []string
	if slices.ContainsFunc(c.Rows, func(r ClassRow) bool { return !r.SignedOff }) {
		notes = []string{bracketsNote}
	}
	tabled(c.scores(), notes...)
	if c.long {
		tabled(c.attempts())
	}
	list(meansTitle, c.Means)
	list(thoughtTitle, c.Misconceptions)
	list(sameTitle, c.Same)
	tabled(c.troubles())
	return out
}

func (c Class) bars() []picture.Bar {
	var out []picture.Bar
	for _, l := range c.Dear {
		out = append(out, picture.Bar{Label: l.Name, Value: l.Minutes, Note: l.Band})
	}
	return out
}

// Text writes the class for the terminal.
func (c Class) Text(p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(c.Title))
	b.WriteString(Wrap(c.Summary, p.Width, ""))
	for _, x := range c.parts() {
		b.WriteString("\n" + Wrap(p.Strong(x.title), p.Width, ""))
		b.WriteString(listText(x.list, p))
		b.WriteString(x.table.text(p))
	}
	if len(c.Dear) > 0 {
		b.WriteString("\n" + Wrap(p.Strong(dearTitle), p.Width, ""))
		b.WriteString(picture.Bars(c.bars(), picture.Options{Columns: p.Width, Unit: "min"}))
	}
	b.WriteString("\n" + Wrap(c.Notice, p.Width, ""))
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
	b.head(1, c.Title)
	b.para(c.Summary)
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
		for _, l := range c.Dear {
			rows = append(rows, []string{l.Name, fmt.Sprintf("%.1f", l.Minutes), l.Band})
		}
		b.table([]string{"Decision", " Minutes", "Cost something"}, rows)
	}
	b.para(c.Notice)
	return b.text()
}

// CSV writes a row to each attempt and, after them, to each file that could not be
// graded. No cell can be taken for a formula by a spreadsheet.
func (c Class) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	head := []string{"pupil", "job", "file", "signed_off", "score"}
	for _, a := range c.Areas {
		head = append(head, strings.ReplaceAll(a, " ", "_"))
	}
	head = append(head, "shop_minutes", "parts_as_minutes", "minutes_lost", "dearest_decision", "dearest_minutes", "lesson", "critical_items_not_met", "not_graded_because")
	if err := out.Write(head); err != nil {
		return err
	}
	minutes := func(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }
	for _, r := range c.Rows {
		row := []string{r.Pupil, r.Job, r.File, map[bool]string{true: "yes", false: "no"}[r.SignedOff], strconv.Itoa(r.Score)}
		for _, s := range r.Areas {
			row = append(row, areaText(s, ""))
		}
		dearest := ""
		if r.Dearest != "" {
			dearest = minutes(r.DearestLost)
		}
		row = append(row, minutes(r.Minutes), minutes(r.PartsMinutes), minutes(r.Lost), r.Dearest, dearest, r.Lesson, strconv.Itoa(r.CriticalUnmet), "")
		if err := out.Write(harmless(row)); err != nil {
			return err
		}
	}
	for _, t := range c.Trouble {
		row := make([]string, len(head))
		row[2], row[len(row)-1] = t.File, t.Why
		if err := out.Write(harmless(row)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// harmless puts an apostrophe before every cell that a spreadsheet would work out: those
// that begin with =, +, -, @, a tab or a new line, after any blanks.
func harmless(row []string) []string {
	for i, s := range row {
		if t := strings.TrimLeft(s, " \u00a0"); t != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(t)[0]) {
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
			return picture.BarsSVG(w, c.bars(), picture.Options{Title: "Mean minutes lost, by act and area", Unit: "min", Colour: true, ID: "dear"})
		}); err != nil {
			return err
		}
	}
	return writePage(w, "class", struct {
		C         Class
		Parts     []pagePart
		DearTitle string
		DearSVG   template.HTML
	}{c, parts, dearTitle, svg})
}
