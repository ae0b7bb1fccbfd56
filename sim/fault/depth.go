package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of pinion depth.
const (
	DirtUnderShim   ID = "dirt-under-depth-shim"
	SetUpBearingOff ID = "set-up-bearing-height"
	ShimsRunThick   ID = "depth-shims-run-thick"
	SlingerOut      ID = "slinger-left-out"
)

func dirtUnderShim() Fault {
	return Fault{
		ID: DirtUnderShim, Area: Depth, Stage: BeforePinion,
		Name:     text.Say("fault.dirt-under-depth-shim.name", "dirt under the depth shim"),
		Cause:    text.Say("fault.dirt-under-depth-shim.cause", "The seat was not stoned and wiped before the shim went in, or the shim has a wrinkle."),
		Shows:    text.Say("fault.dirt-under-depth-shim.shows", "The pinion stands where a thicker shim would put it, but the shim measures right."),
		TakenFor: text.Say("fault.dirt-under-depth-shim.taken-for", "a shim of the wrong thickness, or a bearing of a different height"),
		Told:     text.Say("fault.dirt-under-depth-shim.told", "Inspect the bare shim seat. The shim itself measures right."),
		Remedy:   text.Say("fault.dirt-under-depth-shim.remedy", "Stone and wipe the seat and the shim, then measure the pinion depth again."),
		Missed:   text.Say("fault.dirt-under-depth-shim.missed", "The dirt is pressed flat under load. Pinion depth changes, and part of the preload is lost."),
		Alikes: []Alike{
			{string(ShimsRunThick), text.Say("fault.dirt-under-depth-shim.like-thick", "The pinion is too deep by the gauge."),
				text.Say("fault.dirt-under-depth-shim.from-thick", "Measure the depth shim."), []act.Form{act.MeasureDepthShim}},
		},
		Test: act.InspectShimSeat, Cure: act.CleanShimSeat, Lesson: "inspect-first",
		Difficulty: 3, Strength: Practice,
		Rate: 0.05, Late: Late{90, 0.25}, Size: Size{Low: 0.04, High: 0.09, Unit: MM},
		Apply:   func(x *truth.Axle, size float64, _ rng.Source) { x.ShimDirtMM = size },
		Mend:    func(x *truth.Axle) { x.ShimDirtMM = 0 },
		Remains: func(s Standing) bool { return s.Axle.ShimDirtMM > 0 },
		Belief:  Belief{Moves: UnderShim},
	}
}

func setUpBearingOff() Fault {
	return Fault{
		ID: SetUpBearingOff, Area: Depth, Stage: BeforePinion,
		Name:     text.Say("fault.set-up-bearing-height.name", "set-up bearing of another height"),
		Cause:    text.Say("fault.set-up-bearing-height.cause", "The slip-fit bearing used for mock-ups is not as tall as the bearing that stays in."),
		Shows:    text.Say("fault.set-up-bearing-height.shows", "Pinion depth is right in the mock-up and wrong in the final assembly."),
		TakenFor: text.Say("fault.set-up-bearing-height.taken-for", "a mistake in choosing the depth shim"),
		Told:     text.Say("fault.set-up-bearing-height.told", "Measure both bearings, or measure the pinion depth again after final assembly."),
		Remedy:   text.Say("fault.set-up-bearing-height.remedy", "Allow for the difference in height when you choose the depth shim."),
		Missed:   text.Say("fault.set-up-bearing-height.missed", "The contact pattern lies too far toward the face or the flank, and the teeth wear at the edge."),
		Alikes: []Alike{
			{string(ShimsRunThick), text.Say("fault.set-up-bearing-height.like-thick", "The pinion is too deep by the gauge in the mock-up."),
				text.Say("fault.set-up-bearing-height.from-thick", "Measure the bearings."), []act.Form{act.MeasureBearings}},
		},
		Test: act.MeasureBearings, Cure: act.FitDepthShim, Lesson: "depth-gauge",
		Difficulty: 4, Strength: Practice,
		Rate: 0.05, Late: Late{90, 0.25}, Size: Size{Low: 0.05, High: 0.11, Unit: MM},
		Apply: func(x *truth.Axle, size float64, s rng.Source) {
			x.SetUpTallMM = eitherWay(size, s)
		},
		Belief:   Belief{Moves: SetUpHeight, EitherWay: true},
		Allowed:  true,
		Outlasts: true,
	}
}

// eitherWay turns a size round for one fault in two.
func eitherWay(size float64, s rng.Source) float64 {
	if s.Whole(2) == 0 {
		return -size
	}
	return size
}

func shimsRunThick() Fault {
	return Fault{
		ID: ShimsRunThick, Area: Depth, Stage: BeforePinion,
		Name:     text.Say("fault.depth-shims-run-thick.name", "depth shims thicker than marked"),
		Cause:    text.Say("fault.depth-shims-run-thick.cause", "The shims are from a different lot, or every shim has a film of preservative on it."),
		Shows:    text.Say("fault.depth-shims-run-thick.shows", "The pinion does not stand where the calculated shim should put it."),
		TakenFor: text.Say("fault.depth-shims-run-thick.taken-for", "a bearing of a different height"),
		Told:     text.Say("fault.depth-shims-run-thick.told", "Measure the shim in hand with a micrometer."),
		Remedy:   text.Say("fault.depth-shims-run-thick.remedy", "Go by the micrometer, not by the marking."),
		Missed:   text.Say("fault.depth-shims-run-thick.missed", "Pinion depth is wrong, and the contact pattern is off the same way on the drive side and the coast side."),
		Test:     act.MeasureDepthShim, Cure: act.FitDepthShim, Lesson: "depth-mark",
		Difficulty: 3, Strength: Practice,
		Rate: 0.05, Late: Late{45, 0.1}, Size: Size{Low: 0.04, High: 0.09, Unit: MM},
		Apply:    func(x *truth.Axle, size float64, _ rng.Source) { x.DepthLotMM = size },
		Belief:   Belief{Moves: ShimLot},
		Allowed:  true,
		Outlasts: true,
	}
}

func slingerOut() Fault {
	return Fault{
		ID: SlingerOut, Area: Depth, Stage: BeforePinion,
		Name:     text.Say("fault.slinger-left-out.name", "oil slinger left out"),
		Cause:    text.Say("fault.slinger-left-out.cause", "The slinger stuck to the old cone or cup and was thrown away with it."),
		Shows:    text.Say("fault.slinger-left-out.shows", "The pinion is off by the thickness of the slinger, far more than any mark or shim accounts for."),
		TakenFor: text.Say("fault.slinger-left-out.taken-for", "a depth shim of the wrong size"),
		Told:     text.Say("fault.slinger-left-out.told", "Inspect the shim seat: the slinger belongs there with the shim."),
		Remedy:   text.Say("fault.slinger-left-out.remedy", "Fit the slinger, and choose the shim as before."),
		Missed:   text.Say("fault.slinger-left-out.missed", "Shims in its place set the depth, but the bearing beside it gets no oil."),
		Alikes: []Alike{
			{string(GaugeOff), text.Say("fault.slinger-left-out.like-gauge", "The pinion is too far out by the gauge, but the shim is right by the micrometer."),
				text.Say("fault.slinger-left-out.from-gauge", "Inspect the shim seat."), []act.Form{act.InspectShimSeat}},
		},
		Test: act.InspectShimSeat, Cure: act.ReplaceSlinger, Lesson: "inspect-first",
		Difficulty: 2, Strength: Practice,
		Rate: 0.02, Late: Late{120, 0.35}, Size: Size{Low: 0.5, High: 0.8, Unit: MM},
		Has:       func(d family.Design) bool { return d.DepthShim != family.UnderCageFlange },
		Apply:     func(x *truth.Axle, size float64, _ rng.Source) { x.SlingerOutMM = size },
		Mend:      func(x *truth.Axle) { x.SlingerOutMM = 0 },
		Remains:   func(s Standing) bool { return s.Axle.SlingerOutMM > 0 },
		Belief:    Belief{Moves: SlingerMissing, Apart: true},
		Unmodeled: true,
	}
}
