package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of the side bearings, their caps and the housing.
const (
	RingGearConeHigh ID = "ring-gear-cone-high"
	OppositeConeHigh ID = "opposite-cone-high"
	CapsSwapped      ID = "caps-swapped"
	CapTurned        ID = "cap-end-for-end"
	AdjusterCrossed  ID = "adjuster-cross-threaded"
	SideCupCracked   ID = "side-cup-cracked"
	HousingSpread    ID = "housing-spread-before"
)

func ringGearConeHigh() Fault {
	return Fault{
		ID: RingGearConeHigh, Area: SideBearings, Stage: BeforeCase,
		Name:     text.Say("fault.ring-gear-cone-high.name", "ring-gear side cone not seated"),
		Cause:    text.Say("fault.ring-gear-cone-high.cause", "The cone stopped on a burr at the bearing journal of the case."),
		Shows:    text.Say("fault.ring-gear-cone-high.shows", "It acts like a thicker shim on the ring-gear side: less backlash and more side bearing preload, until it seats."),
		TakenFor: text.Say("fault.ring-gear-cone-high.taken-for", "the wrong side shims"),
		Told:     text.Say("fault.ring-gear-cone-high.told", "A feeler gauge goes in behind the cone."),
		Remedy:   text.Say("fault.ring-gear-cone-high.remedy", "Press the cone on until it is seated, and choose the side shims again."),
		Missed:   text.Say("fault.ring-gear-cone-high.missed", "The cone creeps to its seat. Side bearing preload is lost, and backlash grows."),
		Alikes: []Alike{
			{"one-side-only", text.Say("fault.ring-gear-cone-high.like-one-side", "There is less backlash and more total rotating torque than the pair of shims should give."),
				text.Say("fault.ring-gear-cone-high.from-one-side", "Inspect the cones."), []act.Form{act.InspectCones}},
		},
		Test: act.InspectCones, Cure: act.SeatCones, Also: []act.Form{act.ReplaceSideBearings, act.ReplaceCase}, Lesson: "pressing",
		Difficulty: 3, Strength: Practice,
		Rate: 0.05, Late: Late{150, 0.45}, Size: Size{Low: 0.08, High: 0.20, Unit: MM},
		Apply:   func(x *truth.Axle, size float64, _ rng.Source) { x.RingGearConeGapMM = size },
		Mend:    func(x *truth.Axle) { x.RingGearConeGapMM = 0 },
		Remains: func(s Standing) bool { return s.Axle.RingGearConeGapMM > 0 },
		Belief:  Belief{Moves: RingGearConeGap},
		stream:  "side-cone-high",
	}
}

func oppositeConeHigh() Fault {
	return Fault{
		ID: OppositeConeHigh, Area: SideBearings, Stage: BeforeCase,
		Name:     text.Say("fault.opposite-cone-high.name", "opposite side cone not seated"),
		Cause:    text.Say("fault.opposite-cone-high.cause", "The cone stopped on a burr at the bearing journal of the case."),
		Shows:    text.Say("fault.opposite-cone-high.shows", "It acts like a thicker shim on the opposite side: more backlash and more side bearing preload, until it seats."),
		TakenFor: text.Say("fault.opposite-cone-high.taken-for", "the wrong side shims"),
		Told:     text.Say("fault.opposite-cone-high.told", "A feeler gauge goes in behind the cone."),
		Remedy:   text.Say("fault.opposite-cone-high.remedy", "Press the cone on until it is seated, and choose the side shims again."),
		Missed:   text.Say("fault.opposite-cone-high.missed", "The cone creeps to its seat. Side bearing preload is lost, and backlash shrinks."),
		Alikes: []Alike{
			{"one-side-only", text.Say("fault.opposite-cone-high.like-one-side", "There is more backlash and more total rotating torque than the pair of shims should give."),
				text.Say("fault.opposite-cone-high.from-one-side", "Inspect the cones."), []act.Form{act.InspectCones}},
		},
		Test: act.InspectCones, Cure: act.SeatCones, Also: []act.Form{act.ReplaceSideBearings, act.ReplaceCase}, Lesson: "pressing",
		Difficulty: 3, Strength: Practice,
		Rate: 0.04, Late: Late{150, 0.45}, Size: Size{Low: 0.08, High: 0.20, Unit: MM},
		Apply:   func(x *truth.Axle, size float64, _ rng.Source) { x.OppositeConeGapMM = size },
		Mend:    func(x *truth.Axle) { x.OppositeConeGapMM = 0 },
		Remains: func(s Standing) bool { return s.Axle.OppositeConeGapMM > 0 },
		Belief:  Belief{Moves: OppositeConeGap},
		stream:  "tooth-cone-high",
	}
}

// ownPlaces is where manuals say that caps go back where they came from.
func ownPlaces() text.Message {
	return text.Say("fault.source.own-places", "TM 9-2320-289-34, para 6-5; TM 9-2320-260-34-1, para 10-8: each cap belongs to its own place")
}

// squeezedMM is how far a case in a squeezed cup lies, either way, from one reading to the
// next, mm (common practice, no source). The torque of a squeezed cup is between 500 and
// 3000 N·mm at the case by shop experience.
const squeezedMM = 0.03

// squeezing completes a fault that squeezes a side bearing out of round: its size is the torque
// that this takes, and the case turns rough.
func squeezing(f Fault) Fault {
	f.Apply = func(x *truth.Axle, size float64, _ rng.Source) {
		x.Put(truth.Effect{Of: f.ID, CaseNmm: size, CaseWanderMM: squeezedMM})
	}
	f.Mend = func(x *truth.Axle) { x.Drop(f.ID) }
	f.Remains = func(s Standing) bool { return s.Axle.Has(f.ID) }
	f.Belief = Belief{Feels: history.CaseTurnsRough, WanderMM: squeezedMM}
	f.Unmodeled = true
	return f
}

func capsSwapped() Fault {
	return squeezing(Fault{
		ID: CapsSwapped, Area: SideBearings, Stage: BeforeCase,
		Name:     text.Say("fault.caps-swapped.name", "side bearing caps changed over"),
		Cause:    text.Say("fault.caps-swapped.cause", "The caps were not marked at teardown."),
		Shows:    text.Say("fault.caps-swapped.shows", "Total rotating torque is high and rough, the same all the way around, and backlash does not repeat."),
		TakenFor: text.Say("fault.caps-swapped.taken-for", "too much side bearing preload"),
		Told:     text.Say("fault.caps-swapped.told", "The match marks on cap and carrier do not meet."),
		Remedy:   text.Say("fault.caps-swapped.remedy", "Put each cap on its own side, the right way up."),
		Missed:   text.Say("fault.caps-swapped.missed", "The cups are squeezed out of round and fail early."),
		Alikes: []Alike{
			{string(CapTurned), text.Say("fault.caps-swapped.like-turned", "Total rotating torque is high and rough, and backlash does not repeat."),
				text.Say("fault.caps-swapped.from-turned", "Inspect the caps."), []act.Form{act.InspectCaps}},
			{"side-preload-high", text.Say("fault.caps-swapped.like-preload", "Total rotating torque is far above the pinion's."),
				text.Say("fault.caps-swapped.from-preload", "Inspect the caps."), []act.Form{act.InspectCaps}},
		},
		Test: act.InspectCaps, Cure: act.MatchCaps, Lesson: "spread-and-caps",
		Difficulty: 3, Strength: Manual, Source: ownPlaces(),
		Rate: 0.04, Late: Late{110, 0.3}, Size: Size{Low: 2000, High: 3000, Unit: Nmm},
	})
}

func capTurned() Fault {
	return squeezing(Fault{
		ID: CapTurned, Area: SideBearings, Stage: BeforeCase,
		Name:     text.Say("fault.cap-end-for-end.name", "side bearing cap end for end"),
		Cause:    text.Say("fault.cap-end-for-end.cause", "Nobody checked the match mark when the cap was put back."),
		Shows:    text.Say("fault.cap-end-for-end.shows", "Total rotating torque is high and rough and backlash does not repeat, the torque less so than with caps changed over."),
		TakenFor: text.Say("fault.cap-end-for-end.taken-for", "caps changed over, or too much side bearing preload"),
		Told:     text.Say("fault.cap-end-for-end.told", "The match mark is on the right cap, but at the wrong end."),
		Remedy:   text.Say("fault.cap-end-for-end.remedy", "Turn the cap round."),
		Missed:   text.Say("fault.cap-end-for-end.missed", "Its cup is squeezed out of round and fails early."),
		Test:     act.InspectCaps, Cure: act.MatchCaps, Lesson: "spread-and-caps",
		Difficulty: 2, Strength: Manual, Source: ownPlaces(),
		Rate: 0.04, Late: Late{110, 0.3}, Size: Size{Low: 1000, High: 2000, Unit: Nmm},
	})
}

func adjusterCrossed() Fault {
	return squeezing(Fault{
		ID: AdjusterCrossed, Area: SideBearings, Stage: BeforeCase,
		Name:     text.Say("fault.adjuster-cross-threaded.name", "bearing adjuster cross-threaded"),
		Cause:    text.Say("fault.adjuster-cross-threaded.cause", "The cap was pulled down over an adjuster that did not sit in its thread."),
		Shows:    text.Say("fault.adjuster-cross-threaded.shows", "The adjuster stands crooked against its cup: total rotating torque is high and rough, and backlash does not repeat."),
		TakenFor: text.Say("fault.adjuster-cross-threaded.taken-for", "too much side bearing preload, or caps changed over"),
		Told:     text.Say("fault.adjuster-cross-threaded.told", "Inspect the caps: the match marks meet, but an adjuster is not square in its thread."),
		Remedy:   text.Say("fault.adjuster-cross-threaded.remedy", "Take the cap off and start the adjuster by hand until it turns freely, then put the cap back. Replace an adjuster with a damaged thread."),
		Missed:   text.Say("fault.adjuster-cross-threaded.missed", "The thread gives way under load, and side bearing preload and backlash are lost."),
		Alikes: []Alike{
			{string(CapsSwapped), text.Say("fault.adjuster-cross-threaded.like-caps", "Total rotating torque is high and rough, and backlash does not repeat."),
				text.Say("fault.adjuster-cross-threaded.from-caps", "Inspect the caps: their match marks meet."), []act.Form{act.InspectCaps}},
		},
		Test: act.InspectCaps, Found: gauge.AdjusterCrooked, Beside: gauge.CapMarks, Cure: act.MatchCaps, Lesson: "bearing-adjusters",
		Difficulty: 2, Strength: Practice,
		Rate: 0.02, Late: Late{110, 0.3}, Size: Size{Low: 600, High: 1500, Unit: Nmm},
		Has: func(d family.Design) bool { return d.SideAdjust == family.BearingAdjusters },
	})
}

func sideCupCracked() Fault {
	return squeezing(Fault{
		ID: SideCupCracked, Area: SideBearings, Stage: BeforeCase,
		Name:     text.Say("fault.side-cup-cracked.name", "side bearing cup cracked"),
		Cause:    text.Say("fault.side-cup-cracked.cause", "The cup was dropped, or the case was driven in against it with blows."),
		Shows:    text.Say("fault.side-cup-cracked.shows", "Total rotating torque is high and rough, and backlash does not repeat, though each cap is in its own place."),
		TakenFor: text.Say("fault.side-cup-cracked.taken-for", "caps changed over"),
		Told:     text.Say("fault.side-cup-cracked.told", "Take the caps off and inspect the cups: the match marks meet, but a crack runs across a race."),
		Remedy:   text.Say("fault.side-cup-cracked.remedy", "Fit a new pair of side bearings, cups and cones, and choose the side shims again."),
		Missed:   text.Say("fault.side-cup-cracked.missed", "The cup breaks up, and its pieces go through the gears."),
		Alikes: []Alike{
			{string(CapsSwapped), text.Say("fault.side-cup-cracked.like-caps", "Total rotating torque is high and rough, and backlash does not repeat."),
				text.Say("fault.side-cup-cracked.from-caps", "Inspect the caps and the cups under them: the match marks meet."), []act.Form{act.InspectCaps}},
		},
		Test: act.InspectCaps, Found: gauge.SideCupCracked, Beside: gauge.CapMarks, Cure: act.ReplaceSideBearings, Lesson: "reuse-or-replace",
		Difficulty: 3, Strength: Practice,
		Rate: 0.01, Late: Late{180, 0.5}, Size: Size{Low: 800, High: 2000, Unit: Nmm},
	})
}

func housingSpread() Fault {
	return Fault{
		ID: HousingSpread, Area: SideBearings, Stage: BeforeCase,
		Name:     text.Say("fault.housing-spread-before.name", "housing spread too far before"),
		Cause:    text.Say("fault.housing-spread-before.cause", "Somebody opened the housing past its limit, and it has stayed wider."),
		Shows:    text.Say("fault.housing-spread-before.shows", "The old side shims go in loose: there is end play where there should be preload."),
		TakenFor: text.Say("fault.housing-spread-before.taken-for", "old side shims that were too thin"),
		Told:     text.Say("fault.housing-spread-before.told", "Measure the end play with side shims of known size. Nothing else has moved, and both sides are short by the same amount."),
		Remedy:   text.Say("fault.housing-spread-before.remedy", "Make up a small amount with shims on both sides. If it is more than that, replace the housing."),
		Missed:   text.Say("fault.housing-spread-before.missed", "The case is loose in its bearings, and the ring gear moves with it."),
		Alikes: []Alike{
			{"no-side-preload", text.Say("fault.housing-spread-before.like-thin", "There is end play where there should be preload."),
				text.Say("fault.housing-spread-before.from-thin", "Measure the side shims: with a wide housing they are as they were, otherwise they are thin."), []act.Form{act.MeasureSideShims}},
		},
		Test: act.MeasureEndPlay, Cure: act.FitSideShims, Lesson: "spread-and-caps",
		Difficulty: 4, Strength: Memory,
		Rate: 0.06, Late: Late{80, 0.2}, Size: Size{Low: 0.04, High: 0.10, Unit: MM},
		Has:      func(d family.Design) bool { return d.Entry == family.Spreader },
		Apply:    func(x *truth.Axle, size float64, _ rng.Source) { x.HousingGrowthMM = size },
		Belief:   Belief{Moves: SideTotal},
		Allowed:  true,
		Outlasts: true,
	}
}
