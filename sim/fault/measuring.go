package fault

import (
	"shimwright/sim/act"
	"shimwright/sim/rng"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The faults of instruments, and of what is measured along with the axle.
const (
	GaugeOff       ID = "depth-gauge-off-its-seat"
	WrenchOut      ID = "low-range-wrench-out"
	StringOff      ID = "string-on-wrong-radius"
	IndicatorLoose ID = "indicator-arm-loose"
	BrakesOn       ID = "shafts-or-brakes-on"
)

func gaugeOff() Fault {
	return Fault{
		ID: GaugeOff, Area: Measuring, Stage: AnyTime,
		Name:     text.Say("fault.depth-gauge-off-its-seat.name", "chip under the depth gauge arbor"),
		Cause:    text.Say("fault.depth-gauge-off-its-seat.cause", "The bearing bores were not wiped before the arbor was laid in them."),
		Shows:    text.Say("fault.depth-gauge-off-its-seat.shows", "The gauge shows the pinion too far from the ring gear centerline, in the mock-up and in the final assembly alike."),
		TakenFor: text.Say("fault.depth-gauge-off-its-seat.taken-for", "a depth shim that is too thin, or a set-up bearing that is too short"),
		Told:     text.Say("fault.depth-gauge-off-its-seat.told", "Check the gauge on its setting block, with the arbor in clean bores. The contact pattern does not depend on the gauge."),
		Remedy:   text.Say("fault.depth-gauge-off-its-seat.remedy", "Wipe the bores and the arbor, and measure again."),
		Missed:   text.Say("fault.depth-gauge-off-its-seat.missed", "The pinion is set too deep by the error of the gauge."),
		Alikes: []Alike{
			{string(SetUpBearingOff), text.Say("fault.depth-gauge-off-its-seat.like-set-up", "The pinion is too far out by the gauge in the mock-up."),
				text.Say("fault.depth-gauge-off-its-seat.from-set-up", "Test the gauge."), []act.Form{act.TestGauge}},
		},
		Test: act.TestGauge, Cure: act.TestGauge, Lesson: "trust-instruments",
		Difficulty: 3, Strength: Practice,
		Rate: 0.03, Late: Late{70, 0.2}, Size: Size{Low: 0.05, High: 0.11, Unit: MM},
		Apply:  func(x *truth.Axle, size float64, _ rng.Source) { x.GaugeOffMM = size },
		Mend:   func(x *truth.Axle) { x.GaugeOffMM = 0 },
		Belief: Belief{Moves: GaugeError},
	}
}

func wrenchOut() Fault {
	return Fault{
		ID: WrenchOut, Area: Measuring, Stage: AnyTime,
		Name:     text.Say("fault.low-range-wrench-out.name", "torque wrench out of calibration"),
		Cause:    text.Say("fault.low-range-wrench-out.cause", "It was dropped, or its zero was bent back by hand."),
		Shows:    text.Say("fault.low-range-wrench-out.shows", "Every rotating torque reading taken with it is off by the same percentage."),
		TakenFor: text.Say("fault.low-range-wrench-out.taken-for", "preload that needs correcting"),
		Told:     text.Say("fault.low-range-wrench-out.told", "Read the same torque with the string and spring scale."),
		Remedy:   text.Say("fault.low-range-wrench-out.remedy", "Check the radius that the string lies on. If wrench and string still disagree, go by the string and have the wrench calibrated."),
		Missed:   text.Say("fault.low-range-wrench-out.missed", "Preload is wrong by the same percentage."),
		Alikes: []Alike{
			{string(StringOff), text.Say("fault.low-range-wrench-out.like-string", "Torque wrench and string disagree."),
				text.Say("fault.low-range-wrench-out.from-string", "Test the string."), []act.Form{act.TestString}},
			{"overshot", text.Say("fault.low-range-wrench-out.like-overshot", "The torque wrench reads too high."),
				text.Say("fault.low-range-wrench-out.from-overshot", "Measure the rotating torque with the string and spring scale."), nil},
		},
		Test: act.MeasureTorque, Cure: act.MeasureTorque, Lesson: "trust-instruments",
		Difficulty: 3, Strength: Practice,
		Rate: 0.05, Late: Late{70, 0.2}, Size: Size{Low: 0.16, High: 0.28, Unit: ShareRead},
		Apply:    func(x *truth.Axle, size float64, s rng.Source) { x.WrenchGain = eitherWay(size, s) },
		Belief:   Belief{Moves: WrenchGain, EitherWay: true},
		Allowed:  true,
		Outlasts: true,
	}
}

func stringOff() Fault {
	return Fault{
		ID: StringOff, Area: Measuring, Stage: AnyTime,
		Name:     text.Say("fault.string-on-wrong-radius.name", "string on a different radius"),
		Cause:    text.Say("fault.string-on-wrong-radius.cause", "The string winds on a different step of the yoke than the one that was measured."),
		Shows:    text.Say("fault.string-on-wrong-radius.shows", "Every rotating torque reading taken with it is off by the same percentage."),
		TakenFor: text.Say("fault.string-on-wrong-radius.taken-for", "a torque wrench out of calibration, or preload that needs correcting"),
		Told:     text.Say("fault.string-on-wrong-radius.told", "Measure the radius where the string really lies."),
		Remedy:   text.Say("fault.string-on-wrong-radius.remedy", "Wind the string on the stated radius, and read again."),
		Missed:   text.Say("fault.string-on-wrong-radius.missed", "Preload is wrong by the same percentage."),
		Test:     act.TestString, Cure: act.TestString, Lesson: "trust-instruments",
		Difficulty: 3, Strength: Manual, Source: text.Say("fault.string-on-wrong-radius.source", "TM 5-3810-300-24&P2, about p 4-256: torque is pull times radius"),
		Rate: 0.04, Late: Late{70, 0.2}, Size: Size{Low: 0.16, High: 0.28, Unit: ShareRead},
		Apply:    func(x *truth.Axle, size float64, s rng.Source) { x.StringGain = eitherWay(size, s) },
		Mend:     func(x *truth.Axle) { x.StringGain = 0 },
		Belief:   Belief{Moves: StringGain, EitherWay: true},
		Outlasts: true,
		stream:   "cord-on-wrong-radius",
	}
}

func indicatorLoose() Fault {
	return Fault{
		ID: IndicatorLoose, Area: Measuring, Stage: AnyTime,
		Name:     text.Say("fault.indicator-arm-loose.name", "indicator arm loose"),
		Cause:    text.Say("fault.indicator-arm-loose.cause", "The clamp was not tightened after the last job."),
		Shows:    text.Say("fault.indicator-arm-loose.shows", "Readings with the indicator scatter and do not repeat."),
		TakenFor: text.Say("fault.indicator-arm-loose.taken-for", "loose side bearings, or runout"),
		Told:     text.Say("fault.indicator-arm-loose.told", "Tap the indicator: the needle does not come back to the same mark."),
		Remedy:   text.Say("fault.indicator-arm-loose.remedy", "Tighten the joint, and read again."),
		Missed:   text.Say("fault.indicator-arm-loose.missed", "Backlash and runout are judged from readings that mean nothing."),
		Alikes: []Alike{
			{"no-side-preload", text.Say("fault.indicator-arm-loose.like-loose-case", "Backlash does not repeat."),
				text.Say("fault.indicator-arm-loose.from-loose-case", "Test the indicator."), []act.Form{act.TestIndicator}},
			{"caps-snug", text.Say("fault.indicator-arm-loose.like-caps-snug", "Backlash does not repeat."),
				text.Say("fault.indicator-arm-loose.from-caps-snug", "Test the indicator."), []act.Form{act.TestIndicator}},
		},
		Test: act.TestIndicator, Cure: act.TestIndicator, Lesson: "trust-instruments",
		Difficulty: 1, Strength: Practice,
		Rate: 0.05, Late: Late{40, 0.05}, Size: whole(),
		Apply:  func(x *truth.Axle, _ float64, _ rng.Source) { x.IndicatorLoose = true },
		Mend:   func(x *truth.Axle) { x.IndicatorLoose = false },
		Belief: Belief{Moves: IndicatorScatter},
	}
}

func brakesOn() Fault {
	return Fault{
		ID: BrakesOn, Area: Measuring, Stage: AnyTime,
		Name:     text.Say("fault.shafts-or-brakes-on.name", "axle shaft and brake left on"),
		Cause:    text.Say("fault.shafts-or-brakes-on.cause", "An axle shaft was put back in before the axle was measured."),
		Shows:    text.Say("fault.shafts-or-brakes-on.shows", "Total rotating torque is far above the pinion's, though the side shims are right."),
		TakenFor: text.Say("fault.shafts-or-brakes-on.taken-for", "too much side bearing preload"),
		Told:     text.Say("fault.shafts-or-brakes-on.told", "Inspect the axle shafts and brakes. The spread of the housing is as it should be."),
		Remedy:   text.Say("fault.shafts-or-brakes-on.remedy", "Pull the axle shafts clear, and read again."),
		Missed:   text.Say("fault.shafts-or-brakes-on.missed", "Side shims that belong in are taken out, and the case is loose."),
		Alikes: []Alike{
			{"side-preload-high", text.Say("fault.shafts-or-brakes-on.like-preload", "Total rotating torque is far above the pinion's."),
				text.Say("fault.shafts-or-brakes-on.from-preload", "Inspect the axle shafts."), []act.Form{act.InspectShafts}},
		},
		Test: act.InspectShafts, Cure: act.RemoveShafts, Also: []act.Form{act.RemoveCase}, Lesson: "total-torque",
		Difficulty: 1, Strength: Practice,
		Rate: 0.08, Late: Late{60, 0.1}, Size: Size{Low: 4000, High: 12000, Unit: Nmm},
		Needs:    func(j Job) bool { return j.CaseIn },
		Apply:    func(x *truth.Axle, size float64, _ rng.Source) { x.BrakeNmm = size },
		Mend:     func(x *truth.Axle) { x.BrakeNmm = 0 },
		Belief:   Belief{Moves: BrakeDrag},
		Outlasts: true,
	}
}
