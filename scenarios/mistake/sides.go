package mistake

import (
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// indicatorSetUp is where a manual sets the indicator up for backlash.
func indicatorSetUp() text.Message {
	return text.Say("mistake.source.indicator", "TM 9-2320-289-34, para 6-5, p 6-21; TM 10-3930-638-24&P, p 4-246")
}

// PlungerTilted is backlash read with the plunger out of square.
func PlungerTilted() Mistake {
	return Mistake{ID: "plunger-tilted", Part: Backlash, Lesson: "backlash-reading",
		Name:       text.Say("mistake.plunger-tilted.name", "indicator plunger not square to the tooth"),
		Shows:      text.Say("mistake.plunger-tilted.shows", "True backlash is less than the build sheet says."),
		Told:       text.Say("mistake.plunger-tilted.told", "Read it with the plunger square to the tooth."),
		Remedy:     text.Say("mistake.plunger-tilted.remedy", "Set backlash with the plunger square."),
		Missed:     text.Say("mistake.plunger-tilted.missed", "The gears are too close: they run hot and howl."),
		Difficulty: 2, Strength: fault.Manual, Source: indicatorSetUp(),
		Policy: technician.Policy{Do: technician.Choose(act.MountIndicator, 1, act.Along)},
	}
}

// PlungerAtToe is backlash read at the toe.
func PlungerAtToe() Mistake {
	return Mistake{ID: "plunger-at-toe", Part: Backlash, Lesson: "backlash-reading",
		Name:       text.Say("mistake.plunger-at-toe.name", "backlash read at the toe"),
		Shows:      text.Say("mistake.plunger-at-toe.shows", "True backlash is more than the build sheet says."),
		Told:       text.Say("mistake.plunger-at-toe.told", "Read it at the heel."),
		Remedy:     text.Say("mistake.plunger-at-toe.remedy", "Set backlash at the heel."),
		Missed:     text.Say("mistake.plunger-at-toe.missed", "Backlash is too large."),
		Difficulty: 2, Strength: fault.Manual, Source: indicatorSetUp(),
		Policy: technician.Policy{Do: technician.Choose(act.MountIndicator, 0, act.Toe)},
	}
}

// PinionFree is backlash read with nobody holding the pinion.
func PinionFree() Mistake {
	return Mistake{ID: "pinion-free", Part: Backlash, Lesson: "backlash-reading",
		Name:       text.Say("mistake.pinion-free.name", "pinion not held while the ring gear was rocked"),
		Shows:      text.Say("mistake.pinion-free.shows", "True backlash is well below what the build sheet says."),
		Told:       text.Say("mistake.pinion-free.told", "Hold the pinion and read again."),
		Remedy:     text.Say("mistake.pinion-free.remedy", "Set backlash with the pinion held."),
		Missed:     text.Say("mistake.pinion-free.missed", "The gears bind when they are warm."),
		Difficulty: 1, Strength: fault.Manual, Source: text.Say("mistake.pinion-free.source", "TM 10-3930-660-34, p 9-27, step d"),
		Policy: technician.Policy{Do: technician.Choose(act.MountIndicator, 2, act.PinionFree)},
	}
}

// OneSideOnly is backlash corrected by one of the two side shims.
func OneSideOnly() Mistake {
	return Mistake{ID: "one-side-only", Part: SideBearings, Lesson: "side-shims", Has: sideShims,
		Name:       text.Say("mistake.one-side-only.name", "backlash corrected on one side only"),
		Shows:      text.Say("mistake.one-side-only.shows", "Backlash is in specification, and side bearing preload is far off."),
		Told:       text.Say("mistake.one-side-only.told", "Measure total rotating torque, end play, or the spread of the housing."),
		Remedy:     text.Say("mistake.one-side-only.remedy", "Keep the total: what comes out of one side goes into the other."),
		Missed:     text.Say("mistake.one-side-only.missed", "The side bearings wear, or the case is loose in them."),
		Difficulty: 2, Strength: fault.Manual, Source: text.Say("mistake.one-side-only.source", "TM 9-2320-289-34, para 6-5, p 6-21, note, and p 6-22, step 17: the total of the shims does not change"),
		Policy: technician.Policy{Do: func(m technician.Mind, a act.Act) []act.Act {
			if a.Form == act.FitSideShims && m.Did(act.MeasureBacklash) {
				moved := a.Amounts[0]
				a.Amounts = []quantity.Entered{moved, {Number: m.Status.OppositeShim.MM(), Unit: quantity.UnitMM}}
			}
			return technician.Instead(a)
		}},
	}
}

// NoSidePreload is side bearings left without preload.
func NoSidePreload() Mistake {
	return Mistake{ID: "no-side-preload", Part: SideBearings, Lesson: "side-total",
		Name:       text.Say("mistake.no-side-preload.name", "side bearings left without preload"),
		Shows:      text.Say("mistake.no-side-preload.shows", "There is end play, or total rotating torque does not rise above the pinion's. Backlash does not repeat."),
		Told:       text.Say("mistake.no-side-preload.told", "Compare total rotating torque with the pinion's own."),
		Remedy:     text.Say("mistake.no-side-preload.remedy", "Add the same amount on both sides."),
		Missed:     text.Say("mistake.no-side-preload.missed", "The ring gear climbs away from the pinion under load, and the teeth hammer."),
		Difficulty: 2, Strength: fault.Practice,
		Policy: technician.Policy{Know: func(k *technician.Known) {
			const free, light = -0.08, 0.02 // mm about zero end play
			k.Sheet.SidePreload = family.Spec{LowMM: free, HighMM: light}
		}},
	}
}

// SidePreloadHigh is side bearing preload far above its specification.
func SidePreloadHigh() Mistake {
	return Mistake{ID: "side-preload-high", Part: SideBearings, Lesson: "total-torque",
		Name:       text.Say("mistake.side-preload-high.name", "too much side bearing preload"),
		Shows:      text.Say("mistake.side-preload-high.shows", "Total rotating torque is too far above the pinion's, and it is smooth."),
		Told:       text.Say("mistake.side-preload-high.told", "Measure total rotating torque and the spread of the housing."),
		Remedy:     text.Say("mistake.side-preload-high.remedy", "Take the same amount off on both sides."),
		Missed:     text.Say("mistake.side-preload-high.missed", "The side bearings fail early."),
		Difficulty: 2, Strength: fault.Practice,
		Policy: technician.Policy{Know: func(k *technician.Known) {
			const toLimit = 0.75 // of the way to the spread limit
			w := k.Sheet.SidePreload
			at := w.HighMM + toLimit*(k.Sheet.SpreadLimitMM-w.HighMM)
			k.Sheet.SidePreload = family.Spec{LowMM: at - w.Half()/2, HighMM: at + w.Half()/2}
		}},
	}
}

// CapsSnug is side bearing caps never torqued.
func CapsSnug() Mistake {
	return Mistake{ID: "caps-snug", Part: SideBearings, Lesson: "check-again",
		Name:       text.Say("mistake.caps-snug.name", "side bearing caps never torqued"),
		Shows:      text.Say("mistake.caps-snug.shows", "Readings do not repeat: the caps are only snug."),
		Told:       text.Say("mistake.caps-snug.told", "Put a torque wrench on the cap bolts."),
		Remedy:     text.Say("mistake.caps-snug.remedy", "Torque the caps, and read everything again."),
		Missed:     text.Say("mistake.caps-snug.missed", "The caps walk, and the cups fret in their bores."),
		Difficulty: 1, Strength: fault.Manual, Source: text.Say("mistake.caps-snug.source", "TM 9-2320-289-34, p 6-21, steps 14 and 15; TM 9-2320-269-34-1, p 2-868, step 90: torque the caps, then read backlash"),
		Policy: technician.Policy{Do: technician.LeaveOut(act.TorqueCaps, act.LoosenCaps)},
	}
}

// UsedSetAsNew is a used gear set at a new set's backlash.
func UsedSetAsNew() Mistake {
	return Mistake{ID: "used-set-as-new", Part: Backlash, Lesson: "used-gears", Has: func(k technician.Known) bool { return k.UsedGears },
		Name:       text.Say("mistake.used-set-as-new.name", "used gears set to a new set's backlash"),
		Shows:      text.Say("mistake.used-set-as-new.shows", "Backlash is that of a new set, not what these gears ran with."),
		Told:       text.Say("mistake.used-set-as-new.told", "Compare it with the teardown reading on the job card."),
		Remedy:     text.Say("mistake.used-set-as-new.remedy", "Go back to the backlash read at teardown."),
		Missed:     text.Say("mistake.used-set-as-new.missed", "A quiet gear set becomes noisy."),
		Difficulty: 3, Strength: fault.Manual, Source: text.Say("mistake.used-set-as-new.source", "TM 5-3895-369-14, p 5-412"),
		Policy: technician.Policy{Know: func(k *technician.Known) {
			const closer = 2.4 // half ranges
			by := closer * k.Sheet.Backlash.Half()
			k.Sheet.Backlash = family.Spec{LowMM: k.Sheet.Backlash.LowMM - by, HighMM: k.Sheet.Backlash.HighMM - by}
		}},
	}
}
