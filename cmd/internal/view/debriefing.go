package view

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/grading"
	"shimwright/grading/misconception"
	"shimwright/grading/reveal"
	"shimwright/lessons"
	"shimwright/sim"
	"shimwright/sim/gauge"
)

// A Debriefing is all that a debrief says, in the order it says it. Every form of it, on
// the terminal, in Markdown, as a page and in JSON, is written from this one value and
// leaves out none of it: what is to be short is left out here.
type Debriefing struct {
	Title    string      `json:"title"` // the score
	Job      string      `json:"job"`   // family and number
	Notice   string      `json:"notice"`
	Open     string      `json:"open,omitempty"` // of a job that is not signed off
	Summary  string      `json:"summary"`
	Areas    []AreaLine  `json:"areas,omitempty"`
	Nothing  string      `json:"nothing_lost,omitempty"` // said where no decision cost anything
	Losses   []Loss      `json:"losses,omitempty"`
	Told     []Told      `json:"told,omitempty"` // decisions in full, the first made first
	More     *Row        `json:"more,omitempty"` // how to look at another course
	Thought  *Thought    `json:"thought,omitempty"`
	Foretold []string    `json:"foretold,omitempty"` // what the trainee said they would read
	Process  []Checked   `json:"process,omitempty"`
	Truth    *Truth      `json:"truth,omitempty"`
	Print    *Print      `json:"print,omitempty"` // the last one
	All      []Line      `json:"all_decisions,omitempty"`
	Lesson   *LessonPart `json:"lesson,omitempty"`
}

// An AreaLine is the score of one area.
type AreaLine struct {
	Name  string `json:"name"`
	Score int    `json:"score"`
	Words string `json:"words"`
}

// A Loss is a decision in the picture of what was lost along the job.
type Loss struct {
	Name    string  `json:"name"`
	Minutes float64 `json:"minutes"`
	Band    string  `json:"band,omitempty"`
}

// Told is a decision told in full.
type Told struct {
	Heading string `json:"heading"`
	Rows    []Row  `json:"rows"`
}

// A Row is a name and what belongs to it.
type Row struct {
	Name string `json:"name"`
	Text string `json:"text"`
	Type bool   `json:"command,omitempty"` // the text is to be typed
}

// A Line is a decision in one line of a table.
type Line struct {
	Act  int     `json:"act"`
	Did  string  `json:"did"`
	Lost float64 `json:"minutes_lost"`
	Band string  `json:"band"`
	Best string  `json:"best"`
}

// A Thought is what may have been behind the acts: told if sure, asked if not.
type Thought struct {
	Lead  string   `json:"lead"`
	Asked []string `json:"asked,omitempty"`
	Note  string   `json:"note,omitempty"`
}

// Checked is an item with a tick or none, and why.
type Checked struct {
	Met  bool   `json:"met"`
	Text string `json:"text"`
	Why  string `json:"why,omitempty"`
}

// Truth is what the axle really was.
type Truth struct {
	Technician string    `json:"hand_before,omitempty"` // what another hand did that had finished it
	None       string    `json:"no_fault,omitempty"`    // said where it carried no fault
	Faults     []string  `json:"faults,omitempty"`
	Shim       string    `json:"right_depth_shim"`
	Lines      []Checked `json:"lines"`
	Luck       []string  `json:"luck,omitempty"`
	Service    []string  `json:"service"` // one sentence, or one that leads in a list
}

// Print is the last print on the teeth, in words and as it can be drawn.
type Print struct {
	Words    []string `json:"words"`
	patterns []gauge.ToothPattern
}

// LessonPart is the lesson of the whole job.
type LessonPart struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	About string `json:"about"`
	Body  string `json:"body,omitempty"` // Markdown, as the lessons are written
	Again string `json:"try_again"`      // the command that tries it
}

// few is how many decisions are told in full where the debrief is short, and small the
// minutes up to which a loss is not worth a word.
const (
	few   = 3
	small = 3.0
)

// Graded is what a debrief is made of.
type Graded struct {
	Job    string
	Report grading.Report
	Reveal *reveal.Reveal // of a signed-off job
	Outs   []sim.Outcome
	Again  func(lesson string) string // command that starts a job to try a lesson on; nil: none
	Fork   string                     // command that grades the attempt's file; "": there is none
	// Long adds every decision that cost something, a line to each of all, and the last
	// print; Body the lesson's text.
	Long, Body bool
}

// notice stands on every debrief.
const notice = "A practice model graded this, on an invented axle; it certifies nobody. On a real axle the maker's manual, local rules and a qualified person decide."

// NewDebriefing puts together what a debrief says.
func NewDebriefing(g Graded) Debriefing {
	r := g.Report
	d := Debriefing{Title: fmt.Sprintf("Debrief: %d out of 100", r.Score), Job: g.Job, Notice: notice}
	if !r.SignedOff {
		d.Open = "The job is not signed off; this is the grade of the work so far."
	}
	lost := fmt.Sprintf("about %.0f minutes were lost", r.Lost)
	if r.Lost < 1.5 {
		lost = "hardly a minute was lost"
	}
	d.Summary = fmt.Sprintf("%.0f minutes of work and parts worth %.0f more. Against the best choices on the same readings, %s.",
		float64(r.Minutes), float64(r.PartsMinutes), lost)
	if r.Costs != nil {
		d.Summary += " " + CostsUsed(r.Costs)
	}
	for _, a := range r.Areas {
		d.Areas = append(d.Areas, AreaLine{string(a.Area), a.Score, lostWords(a)})
	}
	d.decisions(g)
	d.Thought = newThought(r.Misconception)
	d.Foretold = foretold(r.Expectations)
	d.Process = process(r.Rubric)
	if g.Reveal != nil {
		d.Truth = newTruth(*g.Reveal)
	}
	if g.Long {
		d.Print = lastPattern(g.Outs)
	}
	if l, err := lessons.Find(r.Lesson); err == nil {
		d.Lesson = &LessonPart{ID: l.ID, Title: l.Title, About: sentence(l.About)}
		if g.Body {
			d.Lesson.Body = strings.TrimSpace(l.Body)
		}
		if g.Again != nil {
			d.Lesson.Again = g.Again(l.ID)
		}
	}
	return d
}

// decisions tells what the decisions cost.
func (d *Debriefing) decisions(g Graded) {
	ds := g.Report.Decisions
	for _, x := range ds {
		if g.Long {
			d.All = append(d.All, Line{x.Act, x.Did, x.Lost, x.Band(), x.Best})
		}
		if x.Lost > small {
			d.Losses = append(d.Losses, Loss{fmt.Sprintf("%d %s", x.Act, firstWords(x.Did)), x.Lost, x.Band()})
		}
	}
	switch {
	case len(ds) == 0:
		d.Nothing = "Nothing has been decided yet."
	case len(d.Losses) == 0:
		d.Nothing = "Every decision was as good as the readings allowed."
	}
	n := few
	if g.Long {
		n = len(ds)
	}
	for _, i := range worst(ds, n) {
		if ds[i].Lost > small {
			d.Told = append(d.Told, tellDecision(g, i))
		}
	}
	if g.Fork != "" && len(d.Told) > 0 {
		at := ds[worst(ds, 1)[0]].Act
		d.More = &Row{"What another act would have shown and cost, such as in the place of act " + fmt.Sprint(at), fmt.Sprintf("%s --from %d --instead \"ACT\"", g.Fork, at), true}
	}
}

// tellDecision tells a decision in full.
func tellDecision(g Graded, i int) Told {
	x := g.Report.Decisions[i]
	t := Told{Heading: fmt.Sprintf("Act %d, %s: %s, %.1f minutes", x.Act, firstWords(x.Did), x.Band(), x.Lost), Rows: decisionRows(x)}
	if g.Reveal != nil {
		if text := luckWords(g.Reveal.Lucks[i]); text != "" {
			t.Rows = append(t.Rows, Row{Name: "Luck", Text: text})
		}
	}
	if l, err := lessons.Find(x.Lesson); err == nil {
		t.Rows = append(t.Rows, Row{Name: "Lesson", Text: l.ID + ": " + sentence(l.Title)})
		if g.Again != nil {
			t.Rows = append(t.Rows, Row{"Try again", g.Again(x.Lesson), true})
		}
	}
	return t
}

func decisionRows(x grading.Decision) []Row {
	rows := []Row{{Name: "Known", Text: sentence(x.Knew)}, {Name: "It meant", Text: sentence(x.Means)}, {Name: "Done", Text: sentence(x.Did)}, {Name: "Least costly", Text: sentence(x.Best)}}
	if why := whyLeast(x.Alternatives); why != "" {
		rows = append(rows, Row{Name: "Why", Text: why})
	}
	return rows
}

// whyLeast holds the price of the cheapest way against that of what was done.
func whyLeast(ways []grading.Alternative) string {
	i := slices.IndexFunc(ways, func(a grading.Alternative) bool { return a.Chosen })
	if i <= 0 || ways[i].Minutes-ways[0].Minutes < 0.05 {
		return ""
	}
	return fmt.Sprintf("Still to be expected, work and what may have to be done again: %.0f minutes with %s, %.0f with %s.",
		ways[0].Minutes, ways[0].What, ways[i].Minutes, ways[i].What)
}

func luckWords(l reveal.Luck) string {
	switch l {
	case reveal.Lucky:
		return "Lucky: it came out right. The score does not count that."
	case reveal.Unlucky:
		return "Unlucky: it came out wrong all the same. The score does not hold that against it."
	case reveal.AsExpected:
		return "None either way: it came out as it was to be expected."
	case reveal.Replaced:
		return "It does not show: later work took its place."
	}
	return ""
}

// newThought says which idea would explain the acts, or asks where several would; nil
// where none is needed.
func newThought(f misconception.Finding) *Thought {
	if len(f.Misconceptions) == 0 {
		return nil
	}
	if f.Sure {
		c := f.Misconceptions[0]
		return &Thought{
			Lead: fmt.Sprintf("The idea that %s would explain %s: %s. %s", c.Says, actsWords(c.Acts), c.Makes, c.Right),
			Note: fmt.Sprintf("That is read from the acts alone, about %.0f %% sure. If you had another reason, that reason counts.", 100*c.Probability),
		}
	}
	t := &Thought{Lead: "The acts leave it open; only you know."}
	for _, c := range f.Misconceptions {
		t.Asked = append(t.Asked, fmt.Sprintf("Did you mean that %s (%s)? If so: %s", c.Says, actsWords(c.Acts), c.Right))
	}
	return t
}

// actsWords names acts by their numbers: "act 3", "acts 3, 7 and 9".
func actsWords(acts []int) string {
	var n []string
	for _, a := range acts {
		n = append(n, fmt.Sprint(a))
	}
	switch len(n) {
	case 0:
		return "what was done"
	case 1:
		return "act " + n[0]
	}
	return "acts " + strings.Join(n[:len(n)-1], ", ") + " and " + n[len(n)-1]
}

// foretold holds what was expected against what was read, one by one and then all
// together.
func foretold(all []grading.Expectation) []string {
	var out []string
	for _, e := range all {
		text := fmt.Sprintf("Act %d, %s: expected %s, read %s. What had been read before it let one expect %s, give or take %s: ",
			e.Act, strings.ReplaceAll(e.What, "-", " "), e.Words.Expected, e.Words.Read, e.Words.Believed, e.Words.Within)
		switch {
		case e.Hit() && e.Surprise():
			text += "nearer than the readings could promise."
		case e.Hit():
			text += "as near as it could be known."
		case e.Surprise():
			text += "the reading surprised a careful reckoning too."
		default:
			text += "which of the things reckoned with was not so?"
		}
		out = append(out, text)
	}
	if len(all) < 2 {
		return out
	}
	hits, careful := 0, 0
	for _, e := range all {
		if e.Hit() {
			hits++
		}
		if !e.Surprise() {
			careful++
		}
	}
	return append(out, fmt.Sprintf("In all %d of %d came as near as it could be known, of a careful reckoning's own figures %d. None of this is in the grade.", hits, len(all), careful))
}

// process lists the points of the rubric that apply.
func process(marks []grading.Mark) []Checked {
	var out []Checked
	for _, m := range marks {
		if m.Outcome == grading.NotApplicable {
			continue
		}
		c := Checked{Met: m.Outcome != grading.NotMet, Text: sentence(m.Item)}
		if !c.Met {
			c.Why = fmt.Sprintf("Not met (%s): %s.", m.Severity, m.Evidence)
		}
		out = append(out, c)
	}
	return out
}

func newTruth(v reveal.Reveal) *Truth {
	t := &Truth{Shim: "The right depth shim, with the cups as they came, measured " + v.RightShim + ".", Luck: v.Luck, Service: v.Service.Says}
	switch s := v.Mistake; {
	case s != nil:
		t.Technician = fmt.Sprintf("The hand before: %s. It leaves %s. Told by: %s. Put right by: %s.", s.Name, s.Shows, s.Told, s.Remedy)
	case v.PreviousWork:
		t.Technician = "The hand before had set it right: it could be signed as it was."
	case len(v.Faults) == 0:
		t.None = "It carried no fault; it only had to be set up."
	}
	for _, f := range v.Faults {
		size := ""
		if f.Amount != "" {
			size = " (" + f.Amount + ")"
		}
		state := "cured"
		if f.Still {
			state = "STILL THERE: " + f.Missed
		}
		t.Faults = append(t.Faults, fmt.Sprintf("%s%s: %s. %s", strings.TrimSuffix(sentence(f.Name), "."), size, f.Shows, sentence(state)))
	}
	for _, l := range v.Lines {
		text := l.Name
		if l.Value != "" {
			text += ": " + l.Value
		}
		if l.Spec != "" {
			text += " (sheet: " + l.Spec + ")"
		}
		if l.Near != "" {
			text += "; " + l.Near
		}
		t.Lines = append(t.Lines, Checked{Met: l.Met, Text: text})
	}
	return t
}

// lastPrint is the last print of an attempt, or nil.
func lastPattern(outs []sim.Outcome) *Print {
	for _, o := range slices.Backward(outs) {
		for _, r := range o.Readings {
			if len(r.Patterns) == 0 {
				continue
			}
			p := &Print{patterns: r.Patterns}
			for _, flank := range r.Patterns {
				p.Words = append(p.Words, picture.Words(flank))
			}
			return p
		}
	}
	return nil
}

// bars are the losses as they are drawn.
func (d Debriefing) bars() []picture.Bar {
	var out []picture.Bar
	for _, l := range d.Losses {
		out = append(out, picture.Bar{Label: l.Name, Value: l.Minutes, Note: l.Band})
	}
	return out
}

// worst returns the indices of the n most costly decisions, in the order they were
// made.
func worst(ds []grading.Decision, n int) []int {
	order := make([]int, len(ds))
	for i := range ds {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ds[b].Lost, ds[a].Lost) })
	order = order[:min(n, len(order))]
	slices.Sort(order)
	return order
}

func lostWords(a grading.AreaScore) string {
	n := "decisions"
	if a.Decisions == 1 {
		n = "decision"
	}
	return fmt.Sprintf("%d %s, %.1f minutes lost", a.Decisions, n, a.Lost)
}

// firstWords is the act without the shims it was done with.
func firstWords(did string) string {
	act, _, _ := strings.Cut(did, " on ")
	return act
}
