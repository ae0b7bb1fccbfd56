package catalogue

import (
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/text"
)

// A Pair is two entries that are easily mistaken for one another.
type Pair struct {
	A, B  string       // ids
	Agree text.Message // the reading they share
	Apart text.Message // the test that decides
	By    []act.Form   // the acts of that test; nil where acts alone do not decide
}

// Pairs lists the look-alikes: those that faults name, then those of two mistakes.
func Pairs() []Pair {
	var out []Pair
	for f := range fault.Each() {
		for _, l := range f.Alikes {
			out = append(out, Pair{string(f.ID), l.With, l.Agree, l.Apart, l.By})
		}
	}
	return append(out,
		Pair{"mark-turned", "mark-forgotten", text.Say("catalogue.pair.marks.agree", "The pinion is off the same way, and the contact pattern with it."),
			text.Say("catalogue.pair.marks.apart", "Measure the depth: with the mark turned round the error is twice the other."), []act.Form{act.MeasureDepth}},
		Pair{"plunger-tilted", "pinion-free", text.Say("catalogue.pair.plunger.agree", "Backlash reads larger than it is."),
			text.Say("catalogue.pair.plunger.apart", "Setting the plunger square to the tooth cures only one of them."), nil},
	)
}

// Other returns the other entry of a pair, "" if the id is in neither place.
func (p Pair) Other(id string) string {
	switch id {
	case p.A:
		return p.B
	case p.B:
		return p.A
	}
	return ""
}

// alikes lists what an entry may be taken for, by id.
func alikes(id string) []string {
	var out []string
	for _, p := range Pairs() {
		if other := p.Other(id); other != "" {
			out = append(out, other)
		}
	}
	return out
}
