package drill

import (
	"slices"

	"shimwright/scenarios/catalogue"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/text"
)

// near lists the faults that a fault is taken for, nearest first: its look-alikes, then
// theirs. Only those of a list are looked at.
func near(from fault.Fault, all []fault.Fault) []fault.Fault {
	out := []fault.Fault{from}
	for i := 0; i < len(out); i++ {
		for _, pair := range catalogue.Pairs() {
			other := pair.Other(string(out[i].ID))
			at := slices.IndexFunc(all, func(f fault.Fault) bool { return string(f.ID) == other })
			if at >= 0 && !slices.ContainsFunc(out, func(f fault.Fault) bool { return f.ID == all[at].ID }) {
				out = append(out, all[at])
			}
		}
	}
	return out[1:]
}

// tellApart asks which check tells two look-alikes of the catalogue apart. The checks offered
// beside the right one are those that find their other look-alikes, and neither of the two.
func (p *draft) tellApart() (Drill, error) {
	all := fault.For(p.Design)
	find := func(id string) (fault.Fault, bool) {
		at := slices.IndexFunc(all, func(f fault.Fault) bool { return string(f.ID) == id })
		if at < 0 {
			return fault.Fault{}, false
		}
		return all[at], true
	}
	pairs := catalogue.Pairs()
	pair := pairs[p.Whole(len(pairs))]
	one, isFault := find(pair.A)
	other, areFaults := find(pair.B)
	if !isFault || !areFaults || len(pair.By) != 1 {
		return Drill{}, errAgain
	}
	const distractors = 2
	var others []fault.Fault
	taken := []act.Form{pair.By[0], one.Test, other.Test}
	for _, o := range append(near(one, all), near(other, all)...) {
		if len(others) < distractors && !slices.Contains(taken, o.Test) {
			others, taken = append(others, o), append(taken, o.Test)
		}
	}
	if len(others) < distractors {
		return Drill{}, errAgain
	}
	typed := func(form act.Form) text.Message { return text.Verbatim(form.String()) }
	args := []text.Arg{p.named(), text.Of("agree", pair.Agree), text.Of("one", one.Name), text.Of("other", other.Name)}
	out := Drill{
		Asks: text.Say("drill.tell-apart.asks", "{family}: {agree} Two faults do this: {one}; {other}. Which check tells them apart?", args...),
		Shows: text.Say("drill.tell-apart.shows", "{apart} The act is {check}. How each of them shows. {one}: {told_one} {other}: {told_other}",
			text.Of("apart", pair.Apart), text.Of("check", typed(pair.By[0])), args[2], text.Of("told_one", one.Told), args[3], text.Of("told_other", other.Told)),
		Lesson: one.Lesson,
		Source: Source{text.Say("drill.source.faults", "the bench's own catalogue of faults"), Practice},
	}
	for _, i := range p.deal(distractors + 2) {
		at := len(out.Answer.Options)
		switch {
		case i < distractors:
			out.Answer.Options = append(out.Answer.Options, Option{Text: typed(others[i].Test)})
			out.Wrongs = append(out.Wrongs, Wrong{Misconception: OtherFault, Choice: at, Why: text.Say("drill.tell-apart.other", "It finds this fault: {fault}. It does not tell these two apart.", text.Of("fault", others[i].Name))})
		case i == distractors:
			out.Answer.Right = at
			out.Answer.Options = append(out.Answer.Options, Option{Text: typed(pair.By[0])})
		default:
			out.Answer.Options = append(out.Answer.Options, Option{Text: text.Say("drill.tell-apart.correct", "correct it with a shim or the nut, and read again")})
			out.Wrongs = append(out.Wrongs, Wrong{Misconception: NextShim, Choice: at, Why: text.Say("drill.tell-apart.next-shim", "That changes the reading and leaves both possible causes in place.")})
		}
	}
	return out, nil
}
