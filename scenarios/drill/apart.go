package drill

import (
	"slices"

	"shimwright/sim/fault"
	"shimwright/sim/text"
)

// near lists the areas whose tests may tell something about a fault of the other.
func near(a, b fault.Area) bool {
	if a == b {
		return true
	}
	for _, pair := range [][2]fault.Area{{fault.Depth, fault.Seating}, {fault.Depth, fault.Measuring}, {fault.Seating, fault.SideBearings}, {fault.Runout, fault.Measuring}, {fault.Bearings, fault.Measuring}, {fault.Seating, fault.Spacer}} {
		if pair == [2]fault.Area{a, b} || pair == [2]fault.Area{b, a} {
			return true
		}
	}
	return false
}

// print writes a text of the catalogue.
func print(m text.Message) string { return text.Printer{}.Print(m) }

// apart asks which look or reading tells a fault of the catalogue from what it is taken
// for.
func (p *draft) apart() (Drill, error) {
	all := fault.For(p.Design)
	f := all[p.Whole(len(all))]
	var others []fault.Fault
	for _, i := range p.deal(len(all)) {
		o := all[i]
		tells := func(x fault.Fault) bool {
			return x.Test == o.Test || print(x.Told) == print(o.Told) || near(x.Area, o.Area)
		}
		if near(f.Area, o.Area) || f.Test == o.Test || slices.ContainsFunc(others, tells) {
			continue
		}
		others = append(others, o)
	}
	const distractors = 2
	if len(others) < distractors {
		return Drill{}, errAgain
	}
	out := Drill{
		Asks:   say("%s, this is found. %s It may be %s, or %s. What tells them apart?", p.Code, print(f.Shows), print(f.Name), print(f.TakenFor)),
		Answer: Answer{Form: Choice},
		Shows:  say("What tells them apart: %s Cause: %s Cure: %s If it is missed: %s", print(f.Told), print(f.Cause), print(f.Remedy), print(f.Missed)),
		Lesson: f.Lesson,
		Source: Source{"the bench's own catalogue of faults", practice},
	}
	option := func(text string, idea Misconception, why Text) {
		at := len(out.Answer.Options)
		out.Answer.Options = append(out.Answer.Options, Option{Text: say("%s", text)})
		if idea == "" {
			out.Answer.Right = at
			return
		}
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: idea, Choice: at, Why: why})
	}
	for _, i := range p.deal(distractors + 2) {
		switch {
		case i < distractors:
			o := others[i]
			option(print(o.Told), OtherQuestion, say("That tells %s.", print(o.Name)))
		case i == distractors:
			option(print(f.Told), "", Text{})
		default:
			option("correct it by a shim, or the nut, and read again", NextShim,
				say("That changes the reading and leaves both causes where they were."))
		}
	}
	return out, nil
}
