package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of seating.
const (
	InnerCupHigh   ID = "inner-cup-high"
	OuterCupHigh   ID = "outer-cup-high"
	PinionCupLoose ID = "pinion-cup-loose"
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
		Test: act.InspectCups, Cure: act.SeatCups, Also: []act.Form{act.ReplaceBearings}, Lesson: "pressing",
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
		Test:     act.InspectCups, Cure: act.SeatCups, Also: []act.Form{act.ReplaceBearings}, Lesson: "pressing",
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

func pinionCupLoose() Fault {
	// What a loose cup lets the torque rise and fall by, per millimeter of looseness, N·mm (estimate).
	const swingNmmPerMM = 10_000
	return Fault{
		ID: PinionCupLoose, Area: Seating, Stage: BeforePinion,
		Name:     text.Say("fault.pinion-cup-loose.name", "pinion bearing cup loose"),
		Cause:    text.Say("fault.pinion-cup-loose.cause", "The cup is undersize, or the cup before it turned in the bore and wore it."),
		Shows:    text.Say("fault.pinion-cup-loose.shows", "Pinion rotating torque rises and falls, and neither pinion depth nor backlash repeats."),
		TakenFor: text.Say("fault.pinion-cup-loose.taken-for", "grit in the bearings, or a dented race"),
		Told:     text.Say("fault.pinion-cup-loose.told", "Push the cup with a finger: it turns in its bore. Its back is polished."),
		Remedy:   text.Say("fault.pinion-cup-loose.remedy", "Fit another pair of bearings. If a new cup is loose too, the bore is worn: have it sleeved or replace the carrier. Do not punch the bore or glue the cup in."),
		Missed:   text.Say("fault.pinion-cup-loose.missed", "The cup spins in the carrier, preload is lost, and the pinion wanders until the gears fail."),
		Alikes: []Alike{
			{string(BearingGritty), text.Say("fault.pinion-cup-loose.like-grit", "Pinion rotating torque rises and falls with the case out."),
				text.Say("fault.pinion-cup-loose.from-grit", "Inspect the cups."), []act.Form{act.InspectCups}},
		},
		Test: act.InspectCups, Found: gauge.CupTurns, Beside: gauge.CupSeats, Cure: act.ReplaceBearings, Lesson: "reuse-or-replace",
		Difficulty: 3, Strength: Practice,
		Rate: 0.01, Late: Late{180, 0.5}, Size: Size{Low: 0.03, High: 0.06, Unit: MM},
		Needs: func(j Job) bool { return !j.UsedBearings && !j.DepthGiven },
		Apply: func(x *truth.Axle, size float64, _ rng.Source) {
			x.Put(truth.Effect{Of: PinionCupLoose, PinionSwingNmm: size * swingNmmPerMM, PinionWanderMM: size})
		},
		Mend:      func(x *truth.Axle) { x.Drop(PinionCupLoose) },
		Remains:   func(s Standing) bool { return s.Axle.Has(PinionCupLoose) },
		Belief:    Belief{Swings: PinionTurning, PinionWanderMM: 0.045},
		Unmodeled: true,
	}
}
