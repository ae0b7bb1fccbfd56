package view

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/debrief"
	"shimwright/grading/misconception"
	"shimwright/grading/reveal"
	"shimwright/lessons"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Debrief is a debriefing in words, in the order it is told. Every form of it, on the
// terminal, in Markdown and as a page, is written from this one value and leaves out none
// of it.
type Debrief struct {
	Title    string   // the score
	Job      string   // family and number
	Terms    string   // exercise, mode, help, when; "" where there is no record
	First    []string // what a teacher says first
	Nothing  string   // said where no act cost anything
	Losses   []Loss
	Adds     []string // what the losses add up to
	Well     []string
	Sum      []string // how the score adds up
	Process  []Checked
	Proved   string // how many lines are proved, where they are not listed
	Thought  *Thought
	Foretold []string // what the trainee said they would read
	Truth    *Truth
	Areas    []AreaLine
	Told     []Told // decisions in full, the first made first
	All      []Line // the others
	More     *Row   // how to see more
	Print    *Print // the last one
	Lesson   *LessonPart
	Notice   string
	said     text.Printer // prints the titles
}

// An AreaLine is the score of one area.
type AreaLine struct {
	Name  string
	Score int
	Words string
}

// A Loss is a decision in the picture of what was lost along the job.
type Loss struct {
	Name    string
	Minutes float64
	Band    string
}

// Told is a decision told in full.
type Told struct {
	Heading string
	Rows    []Row
}

// A Row is a name and what belongs to it.
type Row struct {
	Name string
	Text string
	Type bool // the text is to be typed
}

// A Line is a decision in one line of a table.
type Line struct {
	Act  int
	Did  string
	Lost float64
	Band string
	Best string
}

// A Thought is what may have been behind the acts: told if sure, asked if not.
type Thought struct {
	Lead  string
	Asked []string
	Note  string
}

// Checked is an item with a tick or none, and why.
type Checked struct {
	Met  bool
	Text string
	Why  string
}

// Truth is what the axle really was.
type Truth struct {
	Technician string // what another hand did that had finished it
	None       string // said where it carried no fault
	Faults     []string
	Shim       string
	Lines      []Checked
	Luck       []string
	Service    []string // one sentence, or one that leads in a list
}

// Print is the last pattern on the teeth, in words and as it can be drawn.
type Print struct {
	Words    []string
	patterns []gauge.ToothPattern
}

// LessonPart is the lesson of the whole job.
type LessonPart struct {
	ID    string
	Title string
	About string
	Body  string // Markdown, as the lessons are written
	Again string // the command that tries it
	units quantity.System
}

// DebriefWith is what a debrief needs besides what there is to tell.
type DebriefWith struct {
	text.Printer
	Again func(debrief.Again) string // command that starts a job to try a lesson on; nil: none
	Fork  string                     // command that grades the attempt's file; "": there is none
	Full  bool                       // each decision, each line of the acceptance list, the lesson's text
	Body  bool                       // the lesson's text is added
}

// notice stands on every debrief.
var notice = text.Say("view.debriefing.practice-model-graded-this", "A practice model graded this, on an invented axle; it certifies nobody. On a real axle the maker's manual, local rules and a qualified person decide.")

// NewDebrief puts a debriefing into words.
func NewDebrief(d debrief.Debriefing, with DebriefWith) Debrief {
	r := d.Report
	out := Debrief{said: with.Printer, Title: with.Print(text.Say("view.debriefing.debrief-out-100", "Debrief: {score} out of 100", text.Count("score", r.Score))), Job: JobTitle(with.Printer, d.Family, d.Kind, with.Print(text.Say("view.debriefing.job", ", job ")), d.Seed), Notice: with.Print(notice)}
	said := func(ms ...text.Message) []string {
		var all []string
		for _, m := range ms {
			all = append(all, sentence(with.Print(m)))
		}
		return all
	}
	if d.Terms != nil {
		out.Terms = strings.Join(said(d.Terms.Messages()...), " ")
	}
	out.First = said(d.Said.Right, d.Said.Dearest, d.Said.Next)
	out.Well = said(d.Said.Well...)
	out.Sum = append(said(d.Said.Sum...), said(d.Said.Spent)...)
	if r.Costs != nil {
		out.Sum = append(out.Sum, with.Print(CostsUsed(r.Costs)))
	}
	if d.Coached != nil {
		out.Sum = append(out.Sum, said(d.Coached.Message())...)
	}
	out.Sum = append(out.Sum, said(d.Said.Sure...)...)
	out.losses(d, with)
	out.Thought = newThought(with.Printer, r.Misconception)
	out.Foretold = foretold(with.Printer, r.Expectations, d.Ahead)
	out.acceptance(r.Acceptance, with)
	if d.Reveal != nil {
		out.Truth = newTruth(*d.Reveal, with.Printer)
	}
	if with.Full {
		out.full(d, with)
	} else if with.Fork != "" {
		out.More = &Row{with.Print(text.Say("view.debriefing.for-each-decision-full", "For each decision in full, type")), with.Fork + " --full", true}
	}
	if d.Lesson != nil {
		out.Lesson = lessonPart(*d.Lesson, with)
	}
	return out
}

// losses are the picture of what the acts cost.
func (out *Debrief) losses(d debrief.Debriefing, with DebriefWith) {
	saved := false
	for _, e := range d.Book {
		l := Loss{fmt.Sprintf("%d %s", e.Act, e.Did), e.Minutes, d.Report.BandOf(e.Act)}
		switch {
		case e.Act == 0:
			l.Name = with.Print(text.Say("debrief.other-acts", "the other {n} {n:act|acts}", text.Count("n", e.Acts)))
		case e.Minutes < 0:
			l.Band, saved = with.Print(text.Say("view.debriefing.saved", "saved")), true
		}
		out.Losses = append(out.Losses, l)
	}
	switch {
	case len(d.Report.Lines) == 0:
		out.Nothing = with.Print(text.Say("view.debriefing.you-have-not-decided", "You have not decided anything yet."))
		return
	case len(d.Book) == 0:
		out.Nothing = with.Print(text.Say("view.debriefing.no-act-cost-anything", "No act cost anything beyond what it had to."))
		return
	}
	sum := 0.0
	for _, l := range out.Losses {
		sum += l.Minutes
	}
	out.Adds = append(out.Adds, sentence(with.Print(text.Say("debrief.adds-up", "The bars add up to {sum} charged minutes", text.Number("sum", math.Round(10*sum)/10, 1)))))
	if sum < 0 {
		out.Adds = append(out.Adds, with.Print(text.Say("view.debriefing.less-than-none-not", "Less than none is not charged.")))
	}
	if saved {
		out.Adds = append(out.Adds, with.Print(text.Say("view.debriefing.bar-below-zero-act", "A bar below zero is an act that told or saved more than it cost.")))
	}
}

// acceptance is the list of the trade: all of it, or what of it is not proved.
func (out *Debrief) acceptance(lines []acceptance.Line, with DebriefWith) {
	all := process(lines, with.Printer)
	if with.Full {
		out.Process = all
		return
	}
	for _, c := range all {
		if !c.Met {
			out.Process = append(out.Process, c)
		}
	}
	if n := len(all) - len(out.Process); n > 0 {
		out.Proved = with.Print(text.Say("debrief.proved", "{n} of {all} lines are proved.", text.Count("n", n), text.Count("all", len(all))))
	}
}

// full adds each decision and the last pattern.
func (out *Debrief) full(d debrief.Debriefing, with DebriefWith) {
	ds := d.Report.Decisions
	for _, a := range d.Report.Areas {
		out.Areas = append(out.Areas, AreaLine{with.Print(a.Area.Name()), a.Score, with.Print(areaSays(a))})
	}
	for _, t := range d.Told {
		out.Told = append(out.Told, tellDecision(ds[t.Decision], t, with))
	}
	for i, x := range ds {
		if !slices.Contains(d.Losses, i) {
			out.All = append(out.All, Line{x.Act, x.Did, x.Lost, x.Band(), with.Print(x.Best)})
		}
	}
	if with.Fork != "" && d.Fork > 0 {
		out.More = &Row{with.Print(text.Say("view.debriefing.see-what-another-act", "To see what another act would have shown and cost, for example in place of act {fork}, type", text.Count("fork", d.Fork))), fmt.Sprintf("%s --from %d --instead \"ACT\"", with.Fork, d.Fork), true}
	}
	if d.Last == nil {
		return
	}
	out.Print = &Print{patterns: d.Last.Teeth}
	for _, flank := range d.Last.Teeth {
		out.Print.Words = append(out.Print.Words, picture.Words(flank))
	}
}

// lessonPart is a lesson as it ends a debrief; nil where there is none of that name.
func lessonPart(a debrief.Again, with DebriefWith) *LessonPart {
	l, err := lessons.Find(a.Lesson)
	if err != nil {
		return nil
	}
	part := &LessonPart{ID: l.ID, Title: l.Title, About: sentence(l.About), units: with.Units()}
	if with.Full || with.Body {
		part.Body = strings.TrimSpace(l.Body)
	}
	if with.Again != nil {
		part.Again = with.Again(a)
	}
	return part
}

// tellDecision tells a decision in full.
func tellDecision(x grading.Decision, told debrief.Told, with DebriefWith) Told {
	t := Told{Heading: with.Print(text.Say("view.debriefing.act-minutes", "Act {act}, {first_words}: {band}, {lost} minutes", text.Count("act", x.Act), text.Typed("first_words", firstWords(x.Did)), text.Typed("band", x.Band()), text.Number("lost", x.Lost, 1))), Rows: decisionRows(with.Printer, x, told.Saved)}
	if prose := with.Print(luckWords(told.Luck)); prose != "" {
		t.Rows = append(t.Rows, Row{Name: with.Print(text.Say("view.debriefing.luck", "Luck")), Text: prose})
	}
	if l, err := lessons.Find(told.Lesson.Lesson); err == nil {
		t.Rows = append(t.Rows, Row{Name: with.Print(text.Say("view.debriefing.lesson", "Lesson")), Text: l.ID + ": " + sentence(l.Title)})
		if with.Again != nil {
			t.Rows = append(t.Rows, Row{with.Print(text.Say("view.debriefing.try-again", "Try again")), with.Again(told.Lesson), true})
		}
	}
	return t
}

func decisionRows(say text.Printer, x grading.Decision, saved *debrief.Saved) []Row {
	var rows []Row
	add := func(name string, m text.Message) {
		if !m.IsZero() {
			rows = append(rows, Row{Name: name, Text: sentence(say.Print(m))})
		}
	}
	add(say.Print(text.Say("view.debriefing.known", "Known")), x.KnewMessage())
	add(say.Print(text.Say("view.debriefing.meant", "It meant")), x.Means)
	add(say.Print(text.Say("view.debriefing.done", "Done")), text.Verbatim(x.Did))
	add(say.Print(text.Say("view.debriefing.least-costly", "Least costly")), x.Best)
	if saved != nil {
		rows = append(rows, Row{Name: say.Print(text.Say("view.debriefing.why", "Why")), Text: say.Print(text.Say("view.debriefing.expected-time-still-ahead", "Expected time still ahead, rework included: {minutes} minutes with {what}, {minutes2} with {what2}.", text.Number("minutes", saved.Cheapest.Minutes, 0), text.Typed("what", saved.Cheapest.What), text.Number("minutes2", saved.Chosen.Minutes, 0), text.Typed("what2", saved.Chosen.What)))})
	}
	return rows
}

func luckWords(l reveal.Luck) text.Message {
	switch l {
	case reveal.Lucky:
		return text.Say("view.debriefing.good-luck-came-out", "Good luck: it came out right, though the readings did not support it. Luck does not change the score.")
	case reveal.Unlucky:
		return text.Say("view.debriefing.bad-luck-came-out", "Bad luck: it came out wrong, though the readings supported it. Luck does not change the score.")
	case reveal.AsExpected:
		return text.Say("view.debriefing.none-came-out-as", "None: it came out as the readings said it would.")
	case reveal.Replaced:
		return text.Say("view.debriefing.no-effect-finished-axle", "No effect on the finished axle: later work replaced it.")
	}
	return text.Message{}
}

// newThought says which idea would explain the acts, or asks where several would; nil
// where none is needed.
func newThought(say text.Printer, f misconception.Finding) *Thought {
	if len(f.Misconceptions) == 0 {
		return nil
	}
	if f.Sure {
		c := f.Misconceptions[0]
		return &Thought{
			Lead: say.Print(text.Say("view.debriefing.common-misconception-would-explain", "A common misconception would explain {acts_words}: that {believes}. Its effect: {makes}. {right}", text.Of("acts_words", actsWords(c.Acts)), text.Of("believes", c.Believes), text.Of("makes", c.Makes), text.Of("right", c.Right))),
			Note: say.Print(text.Say("view.debriefing.this-concluded-from-your", "This is concluded from your acts alone, about {probability} % sure. If you had another reason, your reason counts.", text.Number("probability", 100*c.Probability, 0))),
		}
	}
	t := &Thought{Lead: say.Print(text.Say("view.debriefing.your-acts-fit-more", "Your acts fit more than one explanation; only you know which."))}
	for _, c := range f.Misconceptions {
		t.Asked = append(t.Asked, say.Print(text.Say("view.debriefing.did-you-think-if", "Did you think that {believes} ({acts_words})? If so: {right}", text.Of("believes", c.Believes), text.Of("acts_words", actsWords(c.Acts)), text.Of("right", c.Right))))
	}
	return t
}

// actsWords names acts by their numbers: "act 3", "acts 3, 7 and 9".
func actsWords(acts []int) text.Message {
	if len(acts) == 0 {
		return text.Say("debrief.what-was-done", "what was done")
	}
	var n []string
	for _, a := range acts {
		n = append(n, fmt.Sprint(a))
	}
	return text.Say("debrief.acts", "{n:act|acts} {acts}", text.Count("n", len(n)), text.AllTyped("acts", n...))
}

// foretold holds what was expected against what was read, one by one and then all
// together.
func foretold(say text.Printer, all []grading.Expectation, n debrief.Ahead) []string {
	var out []string
	for _, e := range all {
		figure := func(v float64) string { return say.Print(text.Say("foretold.figure", "{it}", e.Arg("it", v))) }
		said := say.Print(text.Say("view.debriefing.act-you-expected-read", "Act {act}, {kind}: you expected {figure} and read {figure2}. The readings before it predicted {figure3}, within {figure4}: ", text.Count("act", e.Act), text.Of("kind", e.Kind.Name()), text.Typed("figure", figure(e.Expected)), text.Typed("figure2", figure(e.Read)), text.Typed("figure3", figure(e.Believed)), text.Typed("figure4", figure(e.Within))))
		switch {
		case e.Hit() && e.Surprise():
			said += say.Print(text.Say("view.debriefing.you-were-closer-than", "you were closer than the readings could predict."))
		case e.Hit():
			said += say.Print(text.Say("view.debriefing.you-were-as-close", "you were as close as the readings allow."))
		case e.Surprise():
			said += say.Print(text.Say("view.debriefing.reading-was-outside-prediction", "the reading was outside its prediction too."))
		default:
			said += say.Print(text.Say("view.debriefing.which-things-you-took", "which of the things you took for granted was not so?"))
		}
		out = append(out, said)
	}
	if n.Said < 2 {
		return out
	}
	return append(out, say.Print(text.Say("view.debriefing.all-your-figures-were", "In all, {hits} of your {said} figures were as close as the readings allow; of the predictions, {believed} were. None of this counts in the grade.", text.Count("hits", n.Hits), text.Count("said", n.Said), text.Count("believed", n.Believed))))
}

// process lists the acceptance list where it applies.
func process(lines []acceptance.Line, p text.Printer) []Checked {
	var out []Checked
	for _, l := range lines {
		if l.Outcome == acceptance.NotApplicable {
			continue
		}
		c := Checked{Met: l.Outcome == acceptance.Proved, Text: sentence(p.Print(l.Asks))}
		if !c.Met {
			c.Why = p.Print(text.Say("debrief.line-missed", "{outcome} ({severity}, {points} {points:point|points}): {why}.", text.Of("outcome", l.Outcome.Name()),
				text.Of("severity", l.Severity.Name()), text.Count("points", grading.TheFormula().PointsOf(l.Severity)), text.Of("why", l.Evidence.Message())))
		}
		out = append(out, c)
	}
	return out
}

func newTruth(v reveal.Reveal, p text.Printer) *Truth {
	t := &Truth{Shim: p.Print(v.RightShim)}
	for _, m := range v.Service.Says {
		t.Service = append(t.Service, p.Print(m))
	}
	for _, m := range v.Luck {
		t.Luck = append(t.Luck, p.Print(m))
	}
	switch s := v.Mistake; {
	case s != nil:
		t.Technician = p.Print(text.Say("view.debriefing.previous-technicians-mistake-signs", "The previous technician's mistake: {name}. Signs: {shows}. Told apart by: {told}. Cured by: {remedy}.", text.Of("name", s.Name), text.Of("shows", s.Shows), text.Of("told", s.Told), text.Of("remedy", s.Remedy)))
	case v.PreviousWork:
		t.Technician = p.Print(text.Say("view.debriefing.previous-technician-had-set", "The previous technician had set it right: it could be signed as it was."))
	case len(v.Faults) == 0:
		t.None = p.Print(text.Say("view.debriefing.axle-had-no-fault", "The axle had no fault; it only had to be set up."))
	}
	for _, f := range v.Faults {
		size := ""
		if amount := p.Print(f.Amount); amount != "" {
			size = " (" + amount + ")"
		}
		state := p.Print(text.Say("view.debriefing.cured", "cured"))
		if f.Still {
			state = p.Print(text.Say("view.debriefing.still-there", "STILL THERE: {missed}", text.Of("missed", f.Missed)))
		}
		t.Faults = append(t.Faults, fmt.Sprintf("%s%s. %s %s", strings.TrimSuffix(sentence(p.Print(f.Name)), "."), size, p.Print(f.Shows), sentence(state)))
	}
	for _, l := range v.Lines {
		line := p.Print(l.Name)
		if !l.Value.IsZero() {
			line += ": " + p.Print(l.Value)
		}
		if !l.Spec.IsZero() {
			line += p.Print(text.Say("view.debriefing.spec", " (spec: {spec})", text.Of("spec", l.Spec)))
		}
		if !l.Near.IsZero() {
			line += "; " + p.Print(l.Near)
		}
		t.Lines = append(t.Lines, Checked{Met: l.Met, Text: line})
	}
	return t
}

// bars are the losses as they are drawn.
func (d Debrief) bars() []picture.Bar {
	var out []picture.Bar
	for _, l := range d.Losses {
		out = append(out, picture.Bar{Label: l.Name, Value: l.Minutes, Note: l.Band})
	}
	return out
}

func areaSays(a grading.AreaScore) text.Message {
	n, lost, missed := text.Count("n", a.Decisions), text.Number("lost", a.Lost, 1), text.Count("missed", a.Missed)
	if a.Missed == 0 {
		return text.Say("debrief.area", "{n} {n:decision|decisions}, {lost} minutes charged", n, lost)
	}
	return text.Say("debrief.area-missed", "{n} {n:decision|decisions}, {lost} minutes charged; {missed} {missed:line|lines} of the acceptance list not proved", n, lost, missed)
}

// firstWords is the act without the shims it was done with.
func firstWords(did string) string {
	act, _, _ := strings.Cut(did, " on ")
	return act
}
