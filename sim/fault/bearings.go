package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of the pinion bearings and their seal.
const (
	PackingGrease  ID = "packing-grease"
	BearingGritty  ID = "grit-in-pinion-bearings"
	BearingNotched ID = "pinion-bearing-notched"
	SealTight      ID = "seal-tight"
)

func packingGrease() Fault {
	return Fault{
		ID: PackingGrease, Area: Bearings, Stage: BeforePinion,
		Name:     text.Say("fault.packing-grease.name", "packing grease in pinion bearings"),
		Cause:    text.Say("fault.packing-grease.cause", "The bearings were fitted as they came out of the wrapper."),
		Shows:    text.Say("fault.packing-grease.shows", "Every rotating torque reading is high, because the rollers have to churn the grease."),
		TakenFor: text.Say("fault.packing-grease.taken-for", "too much preload"),
		Told:     text.Say("fault.packing-grease.told", "Inspect the pinion bearings: the rollers stand in grease."),
		Remedy:   text.Say("fault.packing-grease.remedy", "Wash the bearings, let them dry, oil them and read again."),
		Missed:   text.Say("fault.packing-grease.missed", "Preload is set too low by the torque that the grease took."),
		Alikes: []Alike{
			{string(SealTight), text.Say("fault.packing-grease.like-seal", "Rotating torque in the final assembly is too high."),
				text.Say("fault.packing-grease.from-seal", "Inspect the seal."), []act.Form{act.InspectSeal}},
			{"overshot", text.Say("fault.packing-grease.like-overshot", "Rotating torque in the final assembly is too high."),
				text.Say("fault.packing-grease.from-overshot", "Inspect the pinion bearings."), []act.Form{act.InspectBearings}},
		},
		Test: act.InspectBearings, Cure: act.WashBearings, Also: []act.Form{act.ReplaceBearings}, Lesson: "rotating-torque",
		Difficulty: 2, Strength: Practice,
		Rate: 0.05, Late: Late{60, 0.15}, Size: whole(),
		Apply:     func(x *truth.Axle, _ float64, _ rng.Source) { x.PackedInGrease = true },
		Mend:      func(x *truth.Axle) { x.PackedInGrease = false },
		Remains:   func(s Standing) bool { return s.Axle.PackedInGrease },
		Belief:    Belief{Moves: GreaseDrag},
		OnALine:   true,
		Unmodeled: true,
	}
}

func bearingGritty() Fault {
	return Fault{
		ID: BearingGritty, Area: Bearings, Stage: BeforePinion,
		Name:     text.Say("fault.grit-in-pinion-bearings.name", "grit in the pinion bearings"),
		Cause:    text.Say("fault.grit-in-pinion-bearings.cause", "The bearings lay open on the bench beside a grinder."),
		Shows:    text.Say("fault.grit-in-pinion-bearings.shows", "Rotating torque catches and lets go, and the bearings grate when turned by hand."),
		TakenFor: text.Say("fault.grit-in-pinion-bearings.taken-for", "a dented race"),
		Told:     text.Say("fault.grit-in-pinion-bearings.told", "Wash the bearings and turn them again: they turn smoothly. A dented one does not."),
		Remedy:   text.Say("fault.grit-in-pinion-bearings.remedy", "Wash, dry and oil the bearings, then turn them again."),
		Missed:   text.Say("fault.grit-in-pinion-bearings.missed", "The grit dents the races in the first mile."),
		Alikes: []Alike{
			{string(BearingNotched), text.Say("fault.grit-in-pinion-bearings.like-notch", "Pinion rotating torque rises and falls with the case out."),
				text.Say("fault.grit-in-pinion-bearings.from-notch", "Wash the bearings, then inspect them: a dent stays."), []act.Form{act.WashBearings, act.InspectBearings}},
		},
		Test: act.InspectBearings, Cure: act.WashBearings, Also: []act.Form{act.ReplaceBearings}, Lesson: "rotating-torque",
		Difficulty: 1, Strength: Practice,
		Rate: 0.03, Late: Late{90, 0.25}, Size: Size{Low: 300, High: 900, Unit: Nmm},
		Apply:     func(x *truth.Axle, size float64, _ rng.Source) { x.GritNmm = size },
		Mend:      func(x *truth.Axle) { x.GritNmm = 0 },
		Remains:   func(s Standing) bool { return s.Axle.GritNmm > 0 },
		Belief:    Belief{Swings: PinionTurning},
		Unmodeled: true,
	}
}

func bearingNotched() Fault {
	return Fault{
		ID: BearingNotched, Area: Bearings, Stage: BeforePinion,
		Name:     text.Say("fault.pinion-bearing-notched.name", "dented race in a pinion bearing"),
		Cause:    text.Say("fault.pinion-bearing-notched.cause", "The box was dropped, or the bearing was pressed on through its rollers."),
		Shows:    text.Say("fault.pinion-bearing-notched.shows", "Rotating torque rises and falls within every turn of the pinion, and a notch can be felt."),
		TakenFor: text.Say("fault.pinion-bearing-notched.taken-for", "grease or dirt in the bearing, or a cup squeezed out of round"),
		Told:     text.Say("fault.pinion-bearing-notched.told", "A washed bearing still has the notch, and the torque rises at every turn of the pinion."),
		Remedy:   text.Say("fault.pinion-bearing-notched.remedy", "Fit another pair, cups and cones. Measure their height, and measure the pinion depth again."),
		Missed:   text.Say("fault.pinion-bearing-notched.missed", "The bearing growls from the first mile, and its race flakes."),
		Alikes: []Alike{
			{string(CapsSwapped), text.Say("fault.pinion-bearing-notched.like-caps", "Total rotating torque is high, and the gears do not turn smoothly."),
				text.Say("fault.pinion-bearing-notched.from-caps", "Measure the torque with the case out: squeezed cups have no part in it."), nil},
		},
		Test: act.InspectBearings, Cure: act.ReplaceBearings, Lesson: "reuse-or-replace",
		Difficulty: 2, Strength: Practice,
		Rate: 0.04, Late: Late{180, 0.5}, Size: Size{Low: 400, High: 900, Unit: Nmm},
		Needs:     func(j Job) bool { return !j.UsedBearings && !j.DepthGiven },
		Apply:     func(x *truth.Axle, size float64, _ rng.Source) { x.NotchNmm = size },
		Mend:      func(x *truth.Axle) { x.NotchNmm = 0 },
		Remains:   func(s Standing) bool { return s.Axle.NotchNmm > 0 },
		Belief:    Belief{Swings: PinionTurning},
		Unmodeled: true,
	}
}

func sealTight() Fault {
	return Fault{
		ID: SealTight, Area: Bearings, Stage: BeforePinion,
		Name:     text.Say("fault.seal-tight.name", "pinion seal lip turned under"),
		Cause:    text.Say("fault.seal-tight.cause", "The seal was started dry over a burr."),
		Shows:    text.Say("fault.seal-tight.shows", "Rotating torque in the final assembly is high and steady."),
		TakenFor: text.Say("fault.seal-tight.taken-for", "too much preload"),
		Told:     text.Say("fault.seal-tight.told", "Inspect the lip before the seal goes in under the yoke."),
		Remedy:   text.Say("fault.seal-tight.remedy", "Fit a new seal with its lip oiled."),
		Missed:   text.Say("fault.seal-tight.missed", "Preload is set too low by the extra seal drag, and the lip burns."),
		Alikes: []Alike{
			{"overshot", text.Say("fault.seal-tight.like-overshot", "Rotating torque in the final assembly is too high."),
				text.Say("fault.seal-tight.from-overshot", "Inspect the seal."), []act.Form{act.InspectSeal}},
		},
		Test: act.InspectSeal, Cure: act.ReplaceSeal, Lesson: "seal-and-nut",
		Difficulty: 2, Strength: Practice,
		Rate: 0.05, Late: Late{60, 0.15}, Size: Size{Low: 500, High: 1100, Unit: Nmm},
		Apply:     func(x *truth.Axle, size float64, _ rng.Source) { x.SealDragNmm = x.NewSealDragNmm + size },
		Mend:      func(x *truth.Axle) { x.SealDragNmm = x.NewSealDragNmm },
		Remains:   func(s Standing) bool { return s.Axle.SealDragNmm > s.Axle.NewSealDragNmm },
		Belief:    Belief{Moves: SealDrag},
		OnALine:   true,
		Unmodeled: true,
	}
}
