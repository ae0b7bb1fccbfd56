package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of seating.
const (
	InnerCupHigh ID = "inner-cup-high"
	OuterCupHigh ID = "outer-cup-high"
)

// burrHoldN is what a cup stopped on a burr takes before it moves: more than the fit alone,
// so that bench preload leaves it and the first load on the road does not (estimate).
func burrHoldN(s rng.Source) float64 { return s.Uniform(9_000, 16_000) }

func innerCupHigh() Fault {
	return Fault{
		ID: InnerCupHigh, Area: Seating, Stage: BeforePinion,
		Name:     text.Say("fault.inner-cup-high.name", "inner bearing cup not seated"),
		Cause:    text.Say("fault.inner-cup-high.cause", "The cup stopped on a burr in its bore, or it was driven in crooked."),
		Shows:    text.Say("fault.inner-cup-high.shows", "The pinion sits deeper than its shim accounts for, and preload builds up early. When the cup seats later, both are lost."),
		TakenFor: text.Say("fault.inner-cup-high.taken-for", "a depth shim that is too thick"),
		Told:     text.Say("fault.inner-cup-high.told", "A feeler gauge goes in behind the cup, and the shim measures right with a micrometer."),
		Remedy:   text.Say("fault.inner-cup-high.remedy", "Drive the cup in until it is seated, then measure the pinion depth again."),
		Missed:   text.Say("fault.inner-cup-high.missed", "The cup seats under load on the road. Pinion depth and preload change together, and the gears whine."),
		Alikes: []Alike{
			{string(DirtUnderShim), text.Say("fault.inner-cup-high.like-dirt", "The pinion is too deep by the gauge, but the shim is right by the micrometer."),
				text.Say("fault.inner-cup-high.from-dirt", "Inspect the cups."), []act.Form{act.InspectCups}},
			{string(OuterCupHigh), text.Say("fault.inner-cup-high.like-outer", "A feeler gauge goes in behind a cup, and preload comes early."),
				text.Say("fault.inner-cup-high.from-outer", "Measure the depth: only the inner cup moves the pinion."), []act.Form{act.MeasureDepth}},
		},
		Test: act.InspectCups, Cure: act.SeatCups, Also: []act.Form{act.ReplaceBearings}, Lesson: "inspect-first",
		Difficulty: 3, Strength: Practice,
		Rate: 0.05, Late: Late{150, 0.5}, Size: Size{Low: 0.06, High: 0.16, Unit: MM},
		Apply: func(x *truth.Axle, size float64, s rng.Source) {
			x.InnerCupGapMM, x.InnerCupHoldN = size, burrHoldN(s)
		},
		Mend:    func(x *truth.Axle) { x.InnerCupGapMM = 0 },
		Remains: func(s Standing) bool { return s.InnerCupGapMM > 0 },
		Belief:  Belief{Moves: InnerCupGap},
		stream:  "head-cup-high",
	}
}

func outerCupHigh() Fault {
	return Fault{
		ID: OuterCupHigh, Area: Seating, Stage: BeforePinion,
		Name:     text.Say("fault.outer-cup-high.name", "outer bearing cup not seated"),
		Cause:    text.Say("fault.outer-cup-high.cause", "The cup stopped on a burr or a chip at the yoke end of the carrier."),
		Shows:    text.Say("fault.outer-cup-high.shows", "Pinion depth is not affected. Preload comes early and drops when the cup seats."),
		TakenFor: text.Say("fault.outer-cup-high.taken-for", "a collapsible spacer that crushes too easily"),
		Told:     text.Say("fault.outer-cup-high.told", "A feeler gauge goes in behind the outer cup."),
		Remedy:   text.Say("fault.outer-cup-high.remedy", "Drive the cup in until it is seated. Fit a new collapsible spacer if one has been crushed."),
		Missed:   text.Say("fault.outer-cup-high.missed", "The pinion works loose and the pinion seal leaks."),
		Test:     act.InspectCups, Cure: act.SeatCups, Also: []act.Form{act.ReplaceBearings}, Lesson: "inspect-first",
		Difficulty: 3, Strength: Practice,
		Rate: 0.04, Late: Late{130, 0.4}, Size: Size{Low: 0.05, High: 0.14, Unit: MM},
		Apply: func(x *truth.Axle, size float64, s rng.Source) {
			x.OuterCupGapMM, x.OuterCupHoldN = size, burrHoldN(s)
		},
		Mend:    func(x *truth.Axle) { x.OuterCupGapMM = 0 },
		Remains: func(s Standing) bool { return s.OuterCupGapMM > 0 },
		Belief:  Belief{Moves: OuterCupGap},
		stream:  "tail-cup-high",
	}
}
