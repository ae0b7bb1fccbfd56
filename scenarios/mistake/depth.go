package mistake

import (
	"slices"

	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// ungauged has a technician do without all that would tell the depth: the shim that was first
// chosen stays.
func ungauged(k *technician.Known) {
	for _, f := range []act.Form{act.MeasureDepth, act.PaintTeeth, act.RollGears, act.MeasureBearings} {
		k.Off = append(slices.Clone(k.Off), sim.LeftOff{Form: f})
	}
}

// StarterKept is the way of one who puts an axle together for somebody else to read its
// pattern: the depth is neither gauged nor read. No axle that was signed off carries it by
// itself.
func StarterKept() technician.Policy { return technician.Policy{Know: ungauged} }

// marks is where a manual has the old mark taken off and the new one put on.
func marks() text.Message {
	return text.Say("mistake.source.marks", "TM 9-2320-280-34, para 19-3, p 19-12, table 9-1; TM 5-3895-369-14, p 5-409, table 5-4")
}

// atWrongDepth is what an axle with its pinion at the wrong depth comes to.
func atWrongDepth() text.Message {
	return text.Say("mistake.missed.depth", "The gears are noisy, and one side of the teeth wears at its edge.")
}

// MarkTurned is the depth mark applied the wrong way round.
func MarkTurned() Mistake {
	return Mistake{ID: "mark-turned", Part: PinionDepth, Lesson: "depth-mark", Has: marked,
		Name:       text.Say("mistake.mark-turned.name", "depth mark applied the wrong way round"),
		Shows:      text.Say("mistake.mark-turned.shows", "Pinion depth is off by twice the difference of the marks, and the contact pattern is high or low on both sides of the teeth."),
		Told:       text.Say("mistake.mark-turned.told", "Work the shim out again from the old shim and the two marks, and read the contact pattern."),
		Remedy:     text.Say("mistake.mark-turned.remedy", "Fit the shim that the marks ask for, then measure the depth."),
		Missed:     atWrongDepth(),
		Difficulty: 3, Strength: fault.Manual, Source: marks(),
		Policy: technician.Policy{Know: func(k *technician.Known) {
			ungauged(k)
			k.OldMark, k.NewMark = k.NewMark, k.OldMark
		}},
	}
}

// MarkForgotten is the old depth shim under a new pinion.
func MarkForgotten() Mistake {
	return Mistake{ID: "mark-forgotten", Part: PinionDepth, Lesson: "depth-mark", Has: marked,
		Name:       text.Say("mistake.mark-forgotten.name", "old depth shim put back under a new pinion"),
		Shows:      text.Say("mistake.mark-forgotten.shows", "Pinion depth is off by the difference of the marks."),
		Told:       text.Say("mistake.mark-forgotten.told", "Compare the shim on the build sheet with the one that the marks ask for, and read the contact pattern."),
		Remedy:     text.Say("mistake.mark-forgotten.remedy", "Allow for both marks, then measure the depth."),
		Missed:     atWrongDepth(),
		Difficulty: 2, Strength: fault.Manual, Source: marks(),
		Policy: technician.Policy{Know: func(k *technician.Known) {
			ungauged(k)
			k.NewMark = k.OldMark
		}},
	}
}

// MarkInOtherUnits is a mark in hundredths of a millimeter read as thousandths of an inch, or
// the reverse.
func MarkInOtherUnits() Mistake {
	return Mistake{ID: "mark-in-other-units", Part: PinionDepth, Lesson: "depth-mark", Has: marked,
		Name:       text.Say("mistake.mark-in-other-units.name", "depth mark read in the other unit"),
		Shows:      text.Say("mistake.mark-in-other-units.shows", "Pinion depth is off by about 1.5 times the difference of the marks, or by 0.6 of it."),
		Told:       text.Say("mistake.mark-in-other-units.told", "Read the contact pattern, and work the shim out again: the error fits a factor of 2.54."),
		Remedy:     text.Say("mistake.mark-in-other-units.remedy", "Find out which unit the marks are in, and fit the shim they ask for."),
		Missed:     atWrongDepth(),
		Difficulty: 3, Strength: fault.Manual, Source: text.Say("mistake.mark-in-other-units.source", "TM 9-2320-366-34-4, para 24-2: marks are in either unit"),
		Policy: technician.Policy{Know: func(k *technician.Known) {
			ungauged(k)
			f := quantity.Length(k.OtherUnit())
			k.OldMark, k.NewMark = k.OldMark*f, k.NewMark*f
		}},
	}
}
