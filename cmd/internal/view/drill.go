package view

import (
	"fmt"
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
	head := p.Strong(p.Print(text.Say("drill.view.head", "{n} of {of}, {kind}.", text.Count("n", n), text.Count("of", of), text.Typed("kind", string(d.Kind))))) + " "
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
	if asksForm(d.Answer) {
		b.WriteString(Wrap(p.Quiet(p.Print(text.Say("drill.view.takes", "Answer with {takes}.", text.Of("takes", d.Answer.Takes())))), p.Width, ""))
	}
	return b.String()
}

// asksForm tells that the question does not say what kind of answer is wanted.
func asksForm(a drill.Answer) bool { return !a.IsChoice() || !a.Options[0].Text.IsZero() }

// Marked writes what a reply was worth, and why.
func Marked(d drill.Drill, r drill.Reply, p Pen) (out string, right bool) {
	right, wrong := d.Judge(r)
	a := d.Answer
	line := func(lead text.Message, of text.Message) string {
		return Hang(p.Strong(p.Print(lead))+" "+p.Print(of)+".", p.Width, "  ", "  ")
	}
	if right {
		return line(text.Say("drill.view.right", "Right."), a.Says()) + rest(d, p), true
	}
	out = line(text.Say("drill.view.not-right", "Not right:"), a.Write(r))
	if wrong != nil {
		out += Hang(p.Print(text.Say("drill.view.misconception", "It fits a common misconception: {misconception}. {why}", text.Of("misconception", wrong.Misconception.Name()), text.Of("why", wrong.Why))), p.Width, "  ", "  ")
	}
	return out + Unanswered(d, p), false
}

// Unanswered writes the right answer of a drill that was passed over.
func Unanswered(d drill.Drill, p Pen) string {
	return Hang(p.Strong(p.Print(text.Say("drill.view.answer", "The answer:")))+" "+p.Print(d.Answer.Says())+".", p.Width, "  ", "  ") + rest(d, p)
}

// closeEnough says the reason of a tolerance, lessonAndRule where to read on.
func closeEnough(a drill.Answer) text.Message {
	return text.Say("drill.view.tolerance", "Close enough: {reason}.", text.Of("reason", a.Reason))
}

func lessonAndRule(d drill.Drill) text.Message {
	return text.Say("drill.view.source", "Lesson: {lesson}. Rule: {where} ({strength}).", text.Typed("lesson", d.Lesson), text.Of("where", d.Source.Where), text.Of("strength", d.Source.Strength.Name()))
}

// rest is the explanation, the working, how close is close enough, the lesson and the source.
func rest(d drill.Drill, p Pen) string {
	out := Wrap(p.Print(d.Shows), p.Width, "  ")
	for _, s := range d.Working {
		out += Hang(p.Print(s.Message()), p.Width, "    ", "      ")
	}
	if !d.Answer.Reason.IsZero() {
		out += Wrap(p.Print(closeEnough(d.Answer)), p.Width, "  ")
	}
	return out + Wrap(p.Quiet(p.Print(lessonAndRule(d))), p.Width, "  ")
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

// DrillSummary writes how a round of drills went.
func DrillSummary(tally Tally, p Pen) string {
	const column = 21
	var b strings.Builder
	right, asked := 0, 0
	for _, k := range tally.Kinds {
		right, asked = right+k.Right, asked+k.Asked
	}
	of := func(right, asked int) []text.Arg {
		return []text.Arg{text.Count("right", right), text.Count("asked", asked)}
	}
	b.WriteString(p.Heading(p.Print(text.Say("drill.view.all-right", "{right} of {asked} right", of(right, asked+tally.Left)...))))
	for _, k := range tally.Kinds {
		b.WriteString(p.Field("  "+string(k.Kind), p.Print(text.Say("drill.view.kind-right", "{right} of {asked}", of(k.Right, k.Asked)...)), column))
	}
	if tally.Left > 0 {
		b.WriteString(p.Field("  "+p.Print(text.Say("drill.view.left", "not asked")), fmt.Sprint(tally.Left), column))
	}
	for i, x := range tally.Misconceptions {
		if i == 0 {
			b.WriteString(p.Print(text.Say("drill.view.misconceptions", "Misconceptions that showed:")) + "\n")
		}
		b.WriteString(Hang(p.Print(text.Say("drill.view.times", "{misconception} ({n} {n:time|times})", text.Of("misconception", x.Misconception.Name()), text.Count("n", x.Times))), p.Width, "  ", "    "))
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
