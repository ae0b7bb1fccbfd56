package mistake

import (
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// past moves the specified torque up by a share of its middle.
func past(share float64) func(*technician.Known) {
	moved := func(t family.TorqueSpec) family.TorqueSpec {
		by := share * t.Mid()
		return family.TorqueSpec{LowNmm: t.LowNmm + by, HighNmm: t.HighNmm + by}
	}
	return func(k *technician.Known) {
		k.Sheet.PinionTorqueNew, k.Sheet.PinionTorqueUsed = moved(k.Sheet.PinionTorqueNew), moved(k.Sheet.PinionTorqueUsed)
	}
}

// tooFar is the share of the specified torque by which a spacer is crushed too far.
const tooFar = 0.6

// Overshot is a spacer crushed too far and left.
func Overshot() Mistake {
	return Mistake{ID: "overshot", Part: PinionPreload, Lesson: "crush-spacer", Has: collapsible,
		Name:       text.Say("mistake.overshot.name", "spacer crushed too far and left"),
		Shows:      text.Say("mistake.overshot.shows", "Pinion rotating torque is above the specification, steady and smooth."),
		Told:       text.Say("mistake.overshot.told", "Measure pinion rotating torque with the case out."),
		Remedy:     text.Say("mistake.overshot.remedy", "Fit a new spacer and a new nut."),
		Missed:     text.Say("mistake.overshot.missed", "The outer pinion bearing runs hot and fails early."),
		Difficulty: 2, Strength: fault.Manual, Source: text.Say("mistake.overshot.source", "TM 9-2320-280-34, para 19-3, p 19-21"),
		Policy: technician.Policy{Know: past(tooFar)},
	}
}

// BackedOff is a spacer crushed too far and the nut turned back.
func BackedOff() Mistake {
	return Mistake{ID: "backed-off", Part: PinionPreload, Lesson: "crush-spacer", Has: collapsible,
		Name:       text.Say("mistake.backed-off.name", "spacer crushed too far, and the nut backed off"),
		Shows:      text.Say("mistake.backed-off.shows", "Pinion rotating torque is in specification, but the nut turns on long before its torque."),
		Told:       text.Say("mistake.backed-off.told", "Tighten the nut a little: it moves at a torque far below what it takes to crush a spacer."),
		Remedy:     text.Say("mistake.backed-off.remedy", "Fit a new spacer and a new nut."),
		Missed:     text.Say("mistake.backed-off.missed", "The nut works loose, and the pinion with it."),
		Difficulty: 4, Strength: fault.Manual, Source: text.Say("mistake.backed-off.source", "TM 9-2320-280-34, para 19-3, p 19-21: the nut is never loosened to bring preload down"),
		Policy: technician.Policy{Know: past(tooFar), Do: func(m technician.Mind, a act.Act) []act.Act {
			if m.Did(act.LoosenNut) || m.Status.Pinion != history.PinionFinal || a.Form != act.FitSideShims && a.Form != act.FitCase {
				return technician.Instead(a)
			}
			const back = 8 // degrees
			return technician.Instead(act.Act{Form: act.LoosenNut, Amounts: []quantity.Entered{{Number: back, Unit: quantity.UnitDegree}}}, a)
		}},
	}
}

// WrongRange is the specification of the other kind of bearing.
func WrongRange() Mistake {
	return Mistake{ID: "wrong-range", Part: PinionPreload, Lesson: "rotating-torque",
		Name:       text.Say("mistake.wrong-range.name", "new-bearing specification used for run-in bearings, or the reverse"),
		Shows:      text.Say("mistake.wrong-range.shows", "Pinion rotating torque is in the specification of the other kind of bearing."),
		Told:       text.Say("mistake.wrong-range.told", "The specification sheet has two ranges, and the job card says which bearings these are."),
		Remedy:     text.Say("mistake.wrong-range.remedy", "Set preload to the right range."),
		Missed:     text.Say("mistake.wrong-range.missed", "The bearings run hot, or they are loose after bedding in."),
		Difficulty: 2, Strength: fault.Manual, Source: text.Say("mistake.wrong-range.source", "TM 9-2320-289-34, para 6-17, p 6-119: a range each for new and used bearings"),
		Policy: technician.Policy{Know: func(k *technician.Known) { k.UsedBearings = !k.UsedBearings }},
	}
}

// AtBreakaway is breakaway torque taken for rotating torque.
func AtBreakaway() Mistake {
	return Mistake{ID: "breakaway", Part: PinionPreload, Lesson: "rotating-torque",
		Name:       text.Say("mistake.breakaway.name", "breakaway torque taken for rotating torque"),
		Shows:      text.Say("mistake.breakaway.shows", "True rotating torque is low by a quarter or more."),
		Told:       text.Say("mistake.breakaway.told", "Read the torque while the pinion turns."),
		Remedy:     text.Say("mistake.breakaway.remedy", "Add preload, and read it in motion."),
		Missed:     text.Say("mistake.breakaway.missed", "The pinion is loose after bedding in."),
		Difficulty: 1, Strength: fault.Manual, Source: text.Say("mistake.breakaway.source", "TM 5-3805-262-34, para 4-4; TM 10-3930-660-34, p 9-16: read while turning"),
		Policy: technician.Policy{Do: technician.Choose(act.MeasureTorque, 0, act.Breakaway)},
	}
}

// NotTurnedIn is a torque read before the rollers had seated.
func NotTurnedIn() Mistake {
	return Mistake{ID: "not-turned-in", Part: PinionPreload, Lesson: "rotating-torque",
		Name:       text.Say("mistake.not-turned-in.name", "pinion not turned before its torque was read"),
		Shows:      text.Say("mistake.not-turned-in.shows", "Rotating torque is low once the rollers are seated, and there may be end play."),
		Told:       text.Say("mistake.not-turned-in.told", "Turn the pinion and read again."),
		Remedy:     text.Say("mistake.not-turned-in.remedy", "Set preload with the rollers seated."),
		Missed:     text.Say("mistake.not-turned-in.missed", "The pinion is loose."),
		Difficulty: 1, Strength: fault.Practice,
		Policy: technician.Policy{Do: technician.LeaveOut(act.TurnPinion)},
	}
}

// SealCounted is seal drag taken for bearing preload.
func SealCounted() Mistake {
	return Mistake{ID: "seal-counted", Part: PinionPreload, Lesson: "rotating-torque",
		Name:       text.Say("mistake.seal-counted.name", "seal drag taken for bearing preload"),
		Shows:      text.Say("mistake.seal-counted.shows", "Rotating torque is low by what the seal drags."),
		Told:       text.Say("mistake.seal-counted.told", "Compare the reading with the specification plus seal drag."),
		Remedy:     text.Say("mistake.seal-counted.remedy", "Set preload to the specification with the seal's drag on top."),
		Missed:     text.Say("mistake.seal-counted.missed", "Preload is a fifth too low."),
		Difficulty: 2, Strength: fault.Practice,
		Policy: technician.Policy{Know: func(k *technician.Known) { k.Sheet.SealDrag = family.TorqueSpec{} }},
	}
}
