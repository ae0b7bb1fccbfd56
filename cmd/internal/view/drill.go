package view

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/scenarios/drill"
	"shimwright/sim/family"
	"shimwright/sim/text"
)

// DrillKinds writes the kinds of drill and what each asks.
func DrillKinds(p Pen) string {
	const column = 21
	var b strings.Builder
	for _, k := range drill.Kinds() {
		b.WriteString(p.Field("  "+string(k), p.Print(k.About()), column))
	}
	return b.String()
}

// DrillNotice is shown before the first question.
func DrillNotice(p Pen) string { return Wrap(p.Quiet(p.Print(family.Notice())), p.Width, "") }

// Question writes a drill, the how-manieth of so many.
func Question(d drill.Drill, n, of int, p Pen) string {
	var b strings.Builder
	head := p.Strong(p.Print(DrillHead(d.Kind, n, of))) + " "
	if len(d.Patterns) > 0 {
		o := picture.Options{Columns: p.Width, Color: p.Color}
		draw := picture.Plain
		if p.Color {
			draw = picture.Terminal
		}
		// Without its empty lines, pattern and question fit a screen of 24.
		b.WriteString(strings.ReplaceAll(draw(d.Patterns, o), "\n\n", "\n"))
	}
	b.WriteString(Wrap(head+p.Print(d.Asks), p.Width, ""))
	for i, o := range d.Answer.Options {
		if !o.Text.IsZero() {
			b.WriteString(Hang(p.Print(o.Text), p.Width, "  "+drill.Letter(i)+") ", "     "))
		}
	}
	if takes := DrillTakes(d.Answer); !takes.IsZero() {
		b.WriteString(Wrap(p.Quiet(p.Print(takes)), p.Width, ""))
	}
	return b.String()
}

// A Marking is what is said of an answer, in one system of units.
type Marking struct {
	Right         bool
	Verdict       string // right or not; "" for a question that was passed over
	Said          string // what was answered, with the verdict
	Misconception string // that a wrong answer fits, "" for none
	Lead, Answer  string // the right answer, where it was not given
	Shows         string
	Working       []string
	Close         string // how near is near enough, "" where nothing is
	Lesson        string // its ID
	Rule          string // where to read on
}

// Mark says what a reply was worth and why; nil is none.
func Mark(d drill.Drill, r *drill.Reply, p text.Printer) Marking {
	m := Marking{Shows: p.Print(d.Shows), Lesson: d.Lesson, Rule: p.Print(lessonAndRule(d))}
	for _, s := range d.Working {
		m.Working = append(m.Working, p.Print(s.Message()))
	}
	if !d.Answer.Reason.IsZero() {
		m.Close = p.Print(closeEnough(d.Answer))
	}
	right := p.Print(d.Answer.Says()) + "."
	if r != nil {
		var wrong *drill.Wrong
		if m.Right, wrong = d.Judge(*r); m.Right {
			m.Verdict, m.Said = p.Print(text.Say("drill.view.right", "Right.")), right
			return m
		}
		m.Verdict, m.Said = p.Print(text.Say("drill.view.not-right", "Not right:")), p.Print(d.Answer.Write(*r))+"."
		if wrong != nil {
			m.Misconception = p.Print(text.Say("drill.view.misconception", "It fits a common misconception: {misconception}. {why}", text.Of("misconception", wrong.Misconception.Name()), text.Of("why", wrong.Why)))
		}
	}
	m.Lead, m.Answer = p.Print(text.Say("drill.view.answer", "The answer:")), right
	return m
}

// Text writes what is said of an answer.
func (m Marking) Text(p Pen) string {
	var b strings.Builder
	line := func(lead, of string) { b.WriteString(Hang(p.Strong(lead)+" "+of, p.Width, "  ", "  ")) }
	if m.Verdict != "" {
		line(m.Verdict, m.Said)
	}
	if m.Misconception != "" {
		b.WriteString(Hang(m.Misconception, p.Width, "  ", "  "))
	}
	if m.Lead != "" {
		line(m.Lead, m.Answer)
	}
	b.WriteString(Wrap(m.Shows, p.Width, "  "))
	for _, s := range m.Working {
		b.WriteString(Hang(s, p.Width, "    ", "      "))
	}
	if m.Close != "" {
		b.WriteString(Wrap(m.Close, p.Width, "  "))
	}
	b.WriteString(Wrap(p.Quiet(m.Rule), p.Width, "  "))
	return b.String()
}

// closeEnough says the reason of a tolerance, lessonAndRule where to read on.
func closeEnough(a drill.Answer) text.Message {
	return text.Say("drill.view.tolerance", "Close enough: {reason}.", text.Of("reason", a.Reason))
}

func lessonAndRule(d drill.Drill) text.Message {
	return text.Say("drill.view.source", "Lesson: {lesson}. Rule: {where} ({strength}).", text.Typed("lesson", d.Lesson), text.Of("where", d.Source.Where), text.Of("strength", d.Source.Strength.Name()))
}

// DrillHead is which question it is, DrillTakes what kind of answer it wants, where the
// question does not say so itself.
func DrillHead(k drill.Kind, n, of int) text.Message {
	return text.Say("drill.view.head", "{n} of {of}, {kind}.", text.Count("n", n), text.Count("of", of), text.Typed("kind", string(k)))
}

// DrillTakes is nothing where the question says it.
func DrillTakes(a drill.Answer) text.Message {
	if a.IsChoice() && a.Options[0].Text.IsZero() {
		return text.Message{}
	}
	return text.Say("drill.view.takes", "Answer with {takes}.", text.Of("takes", a.Takes()))
}

// A Tally is how a round of drills went.
type Tally struct {
	Kinds          []KindTally          // in the order in which they first came
	Misconceptions []MisconceptionTally // the most frequent first
	Left           int                  // not answered
}

// A KindTally is how the drills of one kind went.
type KindTally struct {
	Kind         drill.Kind
	Right, Asked int
}

// A MisconceptionTally is how often a misconception showed.
type MisconceptionTally struct {
	Misconception drill.Misconception
	Times         int
}

// Add enters how a question of a kind went, with the misconception that the answer fits, ""
// for none.
func (t *Tally) Add(k drill.Kind, right bool, m drill.Misconception) {
	i := slices.IndexFunc(t.Kinds, func(x KindTally) bool { return x.Kind == k })
	if i < 0 {
		i = len(t.Kinds)
		t.Kinds = append(t.Kinds, KindTally{Kind: k})
	}
	t.Kinds[i].Asked++
	if right {
		t.Kinds[i].Right++
	}
	if m == "" {
		return
	}
	i = slices.IndexFunc(t.Misconceptions, func(x MisconceptionTally) bool { return x.Misconception == m })
	if i < 0 {
		i = len(t.Misconceptions)
		t.Misconceptions = append(t.Misconceptions, MisconceptionTally{Misconception: m})
	}
	t.Misconceptions[i].Times++
	slices.SortFunc(t.Misconceptions, func(a, b MisconceptionTally) int {
		return cmp.Or(b.Times-a.Times, cmp.Compare(a.Misconception, b.Misconception))
	})
}

// Right is how many answers were right, of so many questions.
func (t Tally) Right() (right, of int) {
	of = t.Left
	for _, k := range t.Kinds {
		right, of = right+k.Right, of+k.Asked
	}
	return right, of
}

// Missed is the kind most often not answered right, of those the first in the order of the job.
func (t Tally) Missed() (k drill.Kind, any bool) {
	most := 0
	for _, one := range drill.Kinds() {
		for _, x := range t.Kinds {
			if n := x.Asked - x.Right; x.Kind == one && n > most {
				k, most = one, n
			}
		}
	}
	return k, most > 0
}

// RightOf says how many of so many were right, AllRight that of a whole round.
func RightOf(right, of int) text.Message {
	return text.Say("drill.view.kind-right", "{right} of {asked}", text.Count("right", right), text.Count("asked", of))
}

// AllRight says how many of a whole round were right.
func AllRight(t Tally) text.Message {
	right, of := t.Right()
	return text.Say("drill.view.all-right", "{right} of {asked} right", text.Count("right", right), text.Count("asked", of))
}

// MisconceptionsShown is the head of a list of MisconceptionTally.
func MisconceptionsShown() text.Message {
	return text.Say("drill.view.misconceptions", "Misconceptions that showed:")
}

// Message says which misconception, and how often it showed.
func (x MisconceptionTally) Message() text.Message {
	return text.Say("drill.view.times", "{misconception} ({n} {n:time|times})", text.Of("misconception", x.Misconception.Name()), text.Count("n", x.Times))
}

// DrillSummary writes how a round of drills went.
func DrillSummary(tally Tally, p Pen) string {
	const column = 21
	var b strings.Builder
	b.WriteString(p.Heading(p.Print(AllRight(tally))))
	for _, k := range tally.Kinds {
		b.WriteString(p.Field("  "+string(k.Kind), p.Print(RightOf(k.Right, k.Asked)), column))
	}
	if tally.Left > 0 {
		b.WriteString(p.Field("  "+p.Print(text.Say("drill.view.left", "not asked")), fmt.Sprint(tally.Left), column))
	}
	for i, x := range tally.Misconceptions {
		if i == 0 {
			b.WriteString(p.Print(MisconceptionsShown()) + "\n")
		}
		b.WriteString(Hang(p.Print(x.Message()), p.Width, "  ", "    "))
	}
	return b.String()
}

// DrillSheet writes drills as a sheet of questions for paper and as its key, in Markdown.
func DrillSheet(ds []drill.Drill, title text.Message, p Pen) (sheet, key string) {
	var q, k strings.Builder
	blank := p.Print(text.Say("drill.view.name-and-date", "Name: ______________________  Date: ____________"))
	fmt.Fprintf(&q, "# %s\n\n%s\n\n%s\n", p.Print(title), p.Print(family.Notice()), blank)
	fmt.Fprintf(&k, "# %s\n\n%s\n", p.Print(text.Say("drill.view.key", "{title}: key", text.Of("title", title))), p.Print(family.Notice()))
	for i, d := range ds {
		fmt.Fprintf(&q, "\n## %d. %s\n\n", i+1, d.Kind)
		if len(d.Patterns) > 0 {
			const columns = 80
			fmt.Fprintf(&q, "```\n%s```\n\n", picture.Plain(d.Patterns, picture.Options{Columns: columns}))
		}
		fmt.Fprintf(&q, "%s\n", p.Print(d.Asks))
		for n, o := range d.Answer.Options {
			if n == 0 && !o.Text.IsZero() {
				q.WriteString("\n")
			}
			if !o.Text.IsZero() {
				fmt.Fprintf(&q, "- %s) %s\n", drill.Letter(n), p.Print(o.Text))
			}
		}
		fmt.Fprintf(&q, "\n%s\n", p.Print(text.Say("drill.view.answer-line", "Answer: ______________________")))

		fmt.Fprintf(&k, "\n## %d. %s: %s\n\n%s\n", i+1, d.Kind, p.Print(d.Answer.Says()), p.Print(d.Shows))
		for n, s := range d.Working {
			if n == 0 {
				k.WriteString("\n")
			}
			fmt.Fprintf(&k, "- %s\n", p.Print(s.Message()))
		}
		if !d.Answer.Reason.IsZero() {
			fmt.Fprintf(&k, "\n%s\n", p.Print(closeEnough(d.Answer)))
		}
		fmt.Fprintf(&k, "\n%s\n\n", p.Print(text.Say("drill.view.wrong-answers", "Wrong answers and why they tempt:")))
		for _, w := range d.Wrongs {
			fmt.Fprintf(&k, "- %s\n", p.Print(text.Say("drill.view.wrong-answer", "{reply}: {misconception}. {why}",
				text.Of("reply", d.Answer.Write(drill.Reply{Value: w.Value, Choice: w.Choice})), text.Of("misconception", w.Misconception.Name()), text.Of("why", w.Why))))
		}
		fmt.Fprintf(&k, "\n%s\n", p.Print(lessonAndRule(d)))
	}
	return q.String(), k.String()
}
