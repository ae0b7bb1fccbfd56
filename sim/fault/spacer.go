package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of the collapsible spacer and its nut.
const (
	SpacerCrushed ID = "spacer-crushed-before"
	SpacerShort   ID = "spacer-for-other-axle"
	NutUsed       ID = "pinion-nut-used-before"
)

// newEachTime is where a manual asks for a new spacer and nut.
func newEachTime() text.Message {
	return text.Say("fault.source.new-each-time", "TM 9-2320-280-34, para 19-3, p 19-21: spacer and nut are new each time")
}

func spacerCrushed() Fault {
	return Fault{
		ID: SpacerCrushed, Area: Spacer, Stage: BeforePinion,
		Name:     text.Say("fault.spacer-crushed-before.name", "spacer crushed before"),
		Cause:    text.Say("fault.spacer-crushed-before.cause", "The old spacer was put back in the box of the kit."),
		Shows:    text.Say("fault.spacer-crushed-before.shows", "Preload comes at a low nut torque, or all at once, and little clamp force holds the bearings."),
		TakenFor: text.Say("fault.spacer-crushed-before.taken-for", "a soft spacer"),
		Told:     text.Say("fault.spacer-crushed-before.told", "Inspect the spacer: its bulge is polished, and its free length is short."),
		Remedy:   text.Say("fault.spacer-crushed-before.remedy", "Fit a new spacer and a new pinion nut."),
		Missed:   text.Say("fault.spacer-crushed-before.missed", "The pinion nut and the bearing cones work loose."),
		Alikes: []Alike{
			{string(SpacerShort), text.Say("fault.spacer-crushed-before.like-short", "The nut turns below its usual torque."),
				text.Say("fault.spacer-crushed-before.from-short", "Inspect the spacer: only one of them has a polished bulge."), []act.Form{act.InspectSpacer}},
			{string(NutUsed), text.Say("fault.spacer-crushed-before.like-nut", "The nut turns below its usual torque."),
				text.Say("fault.spacer-crushed-before.from-nut", "Inspect the spacer: its length and the grip of the nut are two different things."), []act.Form{act.InspectSpacer}},
		},
		Test: act.InspectSpacer, Cure: act.ReplaceSpacer, Lesson: "crush-spacer",
		Difficulty: 3, Strength: Manual, Source: newEachTime(),
		Rate: 0.05, Late: Late{75, 0.2}, Size: Size{Low: 0.45, High: 0.90, Unit: MM},
		Has: collapsible, Not: []ID{SpacerShort},
		Apply: func(x *truth.Axle, size float64, _ rng.Source) {
			if len(x.Spacers) > 0 {
				x.Spacers[0].AlreadyCrushedMM = size
			}
		},
		Remains: func(s Standing) bool { return s.Final && s.Spacer.AlreadyCrushedMM > 0 },
	}
}

func spacerShort() Fault {
	return Fault{
		ID: SpacerShort, Area: Spacer, Stage: BeforePinion,
		Name:     text.Say("fault.spacer-for-other-axle.name", "spacer for a different axle"),
		Cause:    text.Say("fault.spacer-for-other-axle.cause", "The kits of two axles look alike in the box."),
		Shows:    text.Say("fault.spacer-for-other-axle.shows", "Preload comes before the spacer has begun to crush, at a low nut torque."),
		TakenFor: text.Say("fault.spacer-for-other-axle.taken-for", "a spacer that has been crushed before"),
		Told:     text.Say("fault.spacer-for-other-axle.told", "Compare its free length with the specification. It is bright, and its bulge is unmarked."),
		Remedy:   text.Say("fault.spacer-for-other-axle.remedy", "Fit the spacer that belongs to this axle, and a new pinion nut."),
		Missed:   text.Say("fault.spacer-for-other-axle.missed", "Hardly any clamp force holds the bearings, and the pinion nut and the cones work loose."),
		Test:     act.InspectSpacer, Cure: act.ReplaceSpacer, Lesson: "crush-spacer",
		Difficulty: 3, Strength: Practice,
		Rate: 0.02, Late: Late{75, 0.2}, Size: Size{Low: 0.70, High: 1.10, Unit: MM},
		Has: collapsible, Not: []ID{SpacerCrushed},
		Apply: func(x *truth.Axle, size float64, _ rng.Source) {
			if len(x.Spacers) > 0 {
				x.Spacers[0].ShorterMM = size
			}
		},
		Remains: func(s Standing) bool { return s.Final && s.Spacer.ShorterMM > 0 },
	}
}

func nutUsed() Fault {
	return Fault{
		ID: NutUsed, Area: Spacer, Stage: BeforePinion,
		Name:     text.Say("fault.pinion-nut-used-before.name", "pinion nut used before"),
		Cause:    text.Say("fault.pinion-nut-used-before.cause", "The old nut was put back in the box, or somebody thought it good for one more time."),
		Shows:    text.Say("fault.pinion-nut-used-before.shows", "The nut turns with less torque all the way, by as much as a new one grips."),
		TakenFor: text.Say("fault.pinion-nut-used-before.taken-for", "a soft spacer"),
		Told:     text.Say("fault.pinion-nut-used-before.told", "A new nut cannot be run down its thread by hand."),
		Remedy:   text.Say("fault.pinion-nut-used-before.remedy", "Fit a new nut, and a new spacer with it if one has been crushed."),
		Missed:   text.Say("fault.pinion-nut-used-before.missed", "The nut backs off on the road, and clamp force and preload go with it."),
		Alikes: []Alike{
			{"backed-off", text.Say("fault.pinion-nut-used-before.like-backed-off", "In the final assembly the nut turns on below its usual torque."),
				text.Say("fault.pinion-nut-used-before.from-backed-off", "Try the nut by hand on its thread before it goes in."), nil},
		},
		Test: act.InspectSpacer, Cure: act.ReplaceSpacer, Lesson: "crush-spacer",
		Difficulty: 2, Strength: Manual, Source: newEachTime(),
		Rate: 0.05, Late: Late{75, 0.2}, Size: whole(),
		Has:       collapsible,
		Apply:     func(x *truth.Axle, _ float64, _ rng.Source) { x.NutGripGone = true },
		Mend:      func(x *truth.Axle) { x.NutGripGone = false },
		Remains:   func(s Standing) bool { return s.Final && s.Axle.NutGripGone },
		Unmodeled: true,
	}
}
