package shop

import (
	"shimwright/sim/act"
	"shimwright/sim/text"
)

// A Guide is what labor guides and maintenance charts give for the work that an act belongs
// to, minutes; their sources stand in testdata/checks/minutes.csv. Such figures hold for whole
// pieces of work: no guide gives a single reading, a pull of the nut or a pattern, and those
// stay estimates.
type Guide struct {
	Least, Most Minutes
	Work        text.Message
	ID          string // of the rows of the table, without -least and -most
}

// GuideTo returns what is published for the work of an act; ok is false for an estimate.
func GuideTo(f act.Form) (g Guide, ok bool) {
	switch f {
	case act.MeasureCaseRunout:
		return Guide{36, 36, text.Say("shop.guide.case-runout", "the same with the axle in the vehicle"), "min-case-runout"}, true
	case act.ReplaceBearings:
		return Guide{90, 138, text.Say("shop.guide.pinion-bearings", "the bearings and all the setting up they ask for"), "min-pinion-bearings"}, true
	case act.ReplaceSideBearings:
		return Guide{36, 96, text.Say("shop.guide.side-bearings", "the bearings, with the case out and in"), "min-side-bearings"}, true
	case act.ReplaceCase:
		return Guide{48, 102, text.Say("shop.guide.case", "the case, with its way out and in"), "min-case"}, true
	case act.ReplaceGears:
		return Guide{108, 120, text.Say("shop.guide.ring-and-pinion", "ring and pinion, set up"), "min-ring-and-pinion"}, true
	}
	return Guide{}, false
}

// Basis says what an act's minutes rest on.
func Basis(f act.Form) text.Message {
	g, ok := GuideTo(f)
	switch {
	case !ok:
		return text.Say("shop.estimate", "estimate")
	case g.Least == g.Most:
		return text.Say("shop.guide-one", "estimate; labor guides: {most} for {work}", text.Minutes("most", float64(g.Most)), text.Of("work", g.Work))
	}
	return text.Say("shop.guide", "estimate; labor guides: {least} to {most} for {work}", text.Minutes("least", float64(g.Least)), text.Minutes("most", float64(g.Most)), text.Of("work", g.Work))
}
