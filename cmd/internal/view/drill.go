package view

import (
	"fmt"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/scenarios/drill"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// DrillKinds writes the kinds of drill and what each asks.
func DrillKinds(p Pen) string {
	const column = 12
	var b strings.Builder
	for _, k := range drill.Kinds() {
		b.WriteString(p.Field("  "+string(k), k.About(), column))
	}
	return b.String()
}

// DrillNotice is shown before the first question.
func DrillNotice(p Pen) string { return Wrap(p.Quiet(family.Notice), p.Width, "") }

// Question writes a drill, the how-manieth of so many.
func Question(d drill.Drill, n, of int, units quantity.System, p Pen) string {
	var b strings.Builder
	head := p.Strong(fmt.Sprintf("%d of %d, %s.", n, of, d.Kind)) + " "
	if len(d.Patterns) > 0 {
		o := picture.Options{Columns: p.Width, Colour: p.Colour}
		draw := picture.Plain
		if p.Colour {
			draw = picture.Terminal
		}
		// Without its empty lines, print and question fit a screen of 24.
		b.WriteString(strings.ReplaceAll(draw(d.Patterns, o), "\n\n", "\n"))
	}
	b.WriteString(Wrap(head+d.Asks.In(units), p.Width, ""))
	for i, o := range d.Answer.Options {
		if !o.Text.Empty() {
			b.WriteString(Hang(o.Text.In(units), p.Width, "  "+drill.Letter(i)+") ", "     "))
		}
	}
	if text := takes(d.Answer, units); text != "" {
		b.WriteString(Wrap(p.Quiet("Answer with "+text+"."), p.Width, ""))
	}
	return b.String()
}

// takes says what kind of answer is wanted, where the question does not.
func takes(a drill.Answer, units quantity.System) string {
	if a.Form != drill.Choice || !a.Options[0].Text.Empty() {
		return a.Takes(units)
	}
	return ""
}

// Marked writes what a reply was worth, and why.
func Marked(d drill.Drill, r drill.Reply, units quantity.System, p Pen) (text string, right bool) {
	right, wrong := d.Judge(r)
	a := d.Answer
	var b strings.Builder
	switch {
	case right:
		b.WriteString(Hang(p.Strong("Right.")+" "+a.In(units)+".", p.Width, "  ", "  "))
	default:
		b.WriteString(Hang(p.Strong("Not right:")+" "+a.Write(r, units)+".", p.Width, "  ", "  "))
		if wrong != nil {
			b.WriteString(Hang(fmt.Sprintf("It fits the idea: %s. %s", wrong.Misconception, wrong.Why.In(units)), p.Width, "  ", "  "))
		}
		b.WriteString(Hang(p.Strong("It is:")+" "+a.In(units)+".", p.Width, "  ", "  "))
	}
	b.WriteString(rest(d, units, p))
	return b.String(), right
}

// Unanswered writes the right answer of a drill that was passed over.
func Unanswered(d drill.Drill, units quantity.System, p Pen) string {
	return Hang(p.Strong("It is:")+" "+d.Answer.In(units)+".", p.Width, "  ", "  ") + rest(d, units, p)
}

// rest is the explanation, how close is close enough, the lesson and the source.
func rest(d drill.Drill, units quantity.System, p Pen) string {
	out := Wrap(d.Shows.In(units), p.Width, "  ")
	if !d.Answer.Reason.Empty() {
		out += Wrap("Close enough: "+d.Answer.Reason.In(units)+".", p.Width, "  ")
	}
	return out + Wrap(p.Quiet(fmt.Sprintf("Lesson: %s. Rule: %s (%s).", d.Lesson, d.Source.Where, d.Source.Strength)), p.Width, "  ")
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

// An IdeaTally is how often an idea showed.
type MisconceptionTally struct {
	Misconception drill.Misconception
	Times         int
}

// DrillSummary writes how a round of drills went.
func DrillSummary(t Tally, p Pen) string {
	const column = 14
	var b strings.Builder
	right, asked := 0, 0
	for _, k := range t.Kinds {
		right, asked = right+k.Right, asked+k.Asked
	}
	b.WriteString(p.Heading(fmt.Sprintf("%d of %d right", right, asked+t.Left)))
	for _, k := range t.Kinds {
		b.WriteString(p.Field("  "+string(k.Kind), fmt.Sprintf("%d of %d", k.Right, k.Asked), column))
	}
	if t.Left > 0 {
		b.WriteString(p.Field("  not asked", fmt.Sprint(t.Left), column))
	}
	for i, x := range t.Misconceptions {
		if i == 0 {
			b.WriteString("Ideas that showed:\n")
		}
		times := "once"
		if x.Times > 1 {
			times = fmt.Sprintf("%d times", x.Times)
		}
		b.WriteString(Hang(fmt.Sprintf("%s (%s)", x.Misconception, times), p.Width, "  ", "    "))
	}
	return b.String()
}

// DrillSheet writes drills as a sheet of questions for paper and as its key, in Markdown.
func DrillSheet(ds []drill.Drill, title string, units quantity.System) (sheet, key string) {
	var q, k strings.Builder
	fmt.Fprintf(&q, "# %s\n\n%s\n\nName: ______________________  Date: ____________\n", title, family.Notice)
	fmt.Fprintf(&k, "# %s: key\n\n%s\n", title, family.Notice)
	for i, d := range ds {
		fmt.Fprintf(&q, "\n## %d. %s\n\n", i+1, d.Kind)
		if len(d.Patterns) > 0 {
			const columns = 80
			fmt.Fprintf(&q, "```\n%s```\n\n", picture.Plain(d.Patterns, picture.Options{Columns: columns}))
		}
		fmt.Fprintf(&q, "%s\n", d.Asks.In(units))
		for n, o := range d.Answer.Options {
			if n == 0 && !o.Text.Empty() {
				q.WriteString("\n")
			}
			if !o.Text.Empty() {
				fmt.Fprintf(&q, "- %s) %s\n", drill.Letter(n), o.Text.In(units))
			}
		}
		q.WriteString("\nAnswer: ______________________\n")

		fmt.Fprintf(&k, "\n## %d. %s: %s\n\n%s\n", i+1, d.Kind, d.Answer.In(units), d.Shows.In(units))
		if !d.Answer.Reason.Empty() {
			fmt.Fprintf(&k, "\nClose enough: %s.\n", d.Answer.Reason.In(units))
		}
		k.WriteString("\n")
		for _, w := range d.Wrongs {
			fmt.Fprintf(&k, "- %s: %s. %s\n", d.Answer.Write(drill.Reply{Value: w.Value, Choice: w.Choice}, units), w.Misconception, w.Why.In(units))
		}
		fmt.Fprintf(&k, "\nLesson: %s. Rule: %s (%s).\n", d.Lesson, d.Source.Where, d.Source.Strength)
	}
	return q.String(), k.String()
}
