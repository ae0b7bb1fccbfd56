package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of the gear set.
const (
	SetMixed     ID = "gear-set-mixed"
	GearForOther ID = "ring-gear-for-other-case"
)

func setMixed() Fault {
	return Fault{
		ID: SetMixed, Area: GearSet, Stage: BeforePinion,
		Name:     text.Say("fault.gear-set-mixed.name", "ring gear and pinion of two sets"),
		Cause:    text.Say("fault.gear-set-mixed.cause", "Two sets lay on the same bench, or a box was packed from two sets."),
		Shows:    text.Say("fault.gear-set-mixed.shows", "The contact pattern is toward the face on one side of the teeth and toward the flank on the other. No depth shim brings both right."),
		TakenFor: text.Say("fault.gear-set-mixed.taken-for", "wrong pinion depth"),
		Told:     text.Say("fault.gear-set-mixed.told", "Compare the match numbers on ring gear and pinion. Wrong depth moves the pattern the same way on both sides of the teeth."),
		Remedy:   text.Say("fault.gear-set-mixed.remedy", "Fit a ring gear and pinion that are a matched set."),
		Missed:   text.Say("fault.gear-set-mixed.missed", "The axle is noisy for life, and the teeth pit where they carry the load."),
		Alikes: []Alike{
			{"mark-forgotten", text.Say("fault.gear-set-mixed.like-mark", "The drive-side pattern is off toward the face or the flank."),
				text.Say("fault.gear-set-mixed.from-mark", "Read the coast-side pattern: wrong depth moves both the same way."), nil},
		},
		Test: act.InspectGears, Cure: act.ReplaceGears, Lesson: "matched-set",
		Difficulty: 3, Strength: Practice,
		Rate: 0.02, Late: Late{200, 0.5}, Size: Size{Low: 0.24, High: 0.40, Unit: ShareOfTooth},
		Needs: newGears, Not: []ID{GearForOther},
		Apply: func(x *truth.Axle, size float64, s rng.Source) {
			x.MixedShare = size
			size = eitherWay(size, s)
			x.Drive.CenterT += size / 2
			x.Coast.CenterT -= size / 2
		},
		Mend:    func(x *truth.Axle) { x.MixedShare = 0 }, // the new set brings its own ease-off
		Remains: func(s Standing) bool { return s.Axle.MixedShare > 0 },
	}
}

func gearForOther() Fault {
	return Fault{
		ID: GearForOther, Area: GearSet, Stage: BeforePinion,
		Name:     text.Say("fault.ring-gear-for-other-case.name", "ring gear for a different case"),
		Cause:    text.Say("fault.ring-gear-for-other-case.cause", "The axle is built with cases of two flange heights, and this gear set is for the other one."),
		Shows:    text.Say("fault.ring-gear-for-other-case.shows", "With the old side shims there is far too much backlash, and no shims in stock take it up."),
		TakenFor: text.Say("fault.ring-gear-for-other-case.taken-for", "side shims fitted on the wrong sides"),
		Told:     text.Say("fault.ring-gear-for-other-case.told", "Compare the tag on the ring gear with the case."),
		Remedy:   text.Say("fault.ring-gear-for-other-case.remedy", "Fit the gear set that belongs to this case."),
		Missed:   text.Say("fault.ring-gear-for-other-case.missed", "The axle cannot be set up, and all the work on it is lost."),
		Alikes: []Alike{
			{string(OppositeConeHigh), text.Say("fault.ring-gear-for-other-case.like-cone", "There is more backlash than the pair of side shims should give."),
				text.Say("fault.ring-gear-for-other-case.from-cone", "Inspect the gears."), []act.Form{act.InspectGears}},
		},
		Test: act.InspectGears, Cure: act.ReplaceGears, Lesson: "matched-set",
		Difficulty: 2, Strength: Practice,
		Rate: 0.02, Late: Late{180, 0.1}, Size: Size{Low: 0.9, High: 1.6, Unit: MM},
		Has:   func(d family.Design) bool { return d.SideAdjust != family.BearingAdjusters },
		Needs: newGears, Not: []ID{SetMixed},
		Apply:   func(x *truth.Axle, size float64, _ rng.Source) { x.GearShortMM = size },
		Mend:    func(x *truth.Axle) { x.GearShortMM = 0 },
		Remains: func(s Standing) bool { return s.Axle.GearShortMM > 0 },
		Belief:  Belief{Moves: RingGearPlace, Apart: true},
	}
}
