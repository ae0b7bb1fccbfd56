package misconception

import (
	"math"

	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// usedSet: used gears that belong elsewhere than a new set.
func usedSet(c scenarios.Card) bool {
	const clearly = 0.5 // half ranges
	b := c.Known.Sheet.Backlash
	return c.UsedGears && math.Abs(b.Mid()-c.NewBacklash.Mid()) > clearly*b.Half()
}

// mounted is a sign in how the indicator is set up.
func mounted(wrong func(Scene) bool) Signs {
	return Signs{Chose: whenever(act.MountIndicator, func(s Scene) bool { return wrong(s) })}
}

// indicatorSetUp is where manuals set the indicator up for backlash.
func indicatorSetUp() text.Message {
	return text.Say("misconception.source.indicator", "TM 10-3930-638-24&P, p 4-246; TM 9-2320-289-34, p 6-21")
}

func plungerTilted() Misconception {
	return Misconception{ID: "plunger-tilted", About: Sides, Lesson: "backlash-reading",
		Believes: text.Say("misconception.plunger-tilted.believes", "it does not matter which way the indicator's plunger points"),
		Makes:    text.Say("misconception.plunger-tilted.makes", "the plunger is not square to the tooth"),
		Right:    text.Say("misconception.plunger-tilted.right", "A plunger that is not square to the tooth reads high, so the gears end up closer than you think."),
		Strength: fault.Manual, Source: indicatorSetUp(),
		Policy: mistake.PlungerTilted().Policy,
		Signs:  mounted(func(s Scene) bool { return s.option(1) != act.Square }),
	}
}

func plungerAtToe() Misconception {
	return Misconception{ID: "plunger-at-toe", About: Sides, Lesson: "backlash-reading",
		Believes: text.Say("misconception.plunger-at-toe.believes", "backlash is the same anywhere on the tooth"),
		Makes:    text.Say("misconception.plunger-at-toe.makes", "backlash is read at the toe"),
		Right:    text.Say("misconception.plunger-at-toe.right", "Read at the heel: nearer the center of the gear the same backlash is a shorter distance."),
		Strength: fault.Manual, Source: indicatorSetUp(),
		Policy: mistake.PlungerAtToe().Policy,
		Signs:  mounted(func(s Scene) bool { return s.option(0) == act.Toe }),
	}
}

func pinionFree() Misconception {
	return Misconception{ID: "pinion-free", About: Sides, Lesson: "backlash-reading",
		Believes: text.Say("misconception.pinion-free.believes", "the pinion stands still by itself"),
		Makes:    text.Say("misconception.pinion-free.makes", "backlash is read with the pinion free"),
		Right:    text.Say("misconception.pinion-free.right", "A free pinion turns along, and its movement is counted too. Hold it."),
		Strength: fault.Manual, Source: text.Say("misconception.pinion-free.source", "TM 10-3930-660-34, p 9-27, step d"),
		Policy: mistake.PinionFree().Policy,
		Signs:  mounted(func(s Scene) bool { return s.option(2) == act.PinionFree }),
	}
}

func onePlace() Misconception {
	return Misconception{ID: "one-place", About: Sides, Lesson: "backlash-reading",
		Believes: text.Say("misconception.one-place.believes", "one reading of backlash is enough"),
		Makes:    text.Say("misconception.one-place.makes", "backlash is read at one place or two"),
		Right:    text.Say("misconception.one-place.right", "The tightest tooth decides. Read three or four places around the gear."),
		Strength: fault.Practice,
		Policy: technician.Policy{Do: func(_ technician.Mind, a act.Act) []act.Act {
			if a.Form == act.MeasureBacklash {
				a.Amounts = []quantity.Entered{technician.Count(1)}
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: whenever(act.MeasureBacklash, func(s Scene) bool {
			const enough = 3
			return s.Step.Act.Amounts[0].Number < enough
		})},
	}
}

func notRechecked() Misconception {
	return Misconception{ID: "not-rechecked", About: Proving, Lesson: "check-again",
		Believes: text.Say("misconception.not-rechecked.believes", "a change of depth leaves backlash as it was"),
		Makes:    text.Say("misconception.not-rechecked.makes", "the depth is changed and backlash is not read again"),
		Right:    text.Say("misconception.not-rechecked.right", "Moving the pinion changes backlash too. After a change, read again all that it touches."),
		Strength: fault.Practice,
		Policy: technician.Policy{
			Do: func(m technician.Mind, a act.Act) []act.Act {
				if a.Form == act.MeasureBacklash && deepenedAfterLash(m) {
					return nil
				}
				return technician.Instead(a)
			},
			See: func(m technician.Mind, o *history.Step) {
				if o.Act.Form == act.MeasureBacklash && len(o.Readings) == 0 {
					mid := quantity.Millimetres(m.Known.Sheet.Backlash.Mid())
					o.Readings = []gauge.Reading{{Kind: gauge.Backlash, Lengths: []quantity.Length{mid}}}
				}
			},
		},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.form() != act.SignOff || !s.movedOnce {
				return NoChance
			}
			return did(s.moved && s.Step.Before.CaseIn)
		}},
	}
}

// deepenedAfterLash tells whether the depth shim was ever changed after backlash was read in a
// final assembly.
func deepenedAfterLash(m technician.Mind) bool {
	read := false
	for _, s := range m.Steps {
		switch s.Act.Form {
		case act.MeasureBacklash:
			read = read || s.Before.Pinion == history.PinionFinal
		case act.FitDepthShim:
			if read {
				return true
			}
		}
	}
	return false
}

func nothingInspected() Misconception {
	return Misconception{ID: "nothing-inspected", About: Inspecting, Lesson: "inspect-first",
		Believes: text.Say("misconception.nothing-inspected.believes", "parts out of the box need no inspection"),
		Makes:    text.Say("misconception.nothing-inspected.makes", "nothing is inspected before it is built in"),
		Right:    text.Say("misconception.nothing-inspected.right", "An inspection costs minutes. Finding the fault later costs a teardown."),
		Strength: fault.Practice,
		Policy:   mistake.NothingInspected().Policy,
		Signs: Signs{Chose: func(s Scene) Answer {
			first := s.form() == act.FitPinion && s.option(0) == act.Final && s.Step.Before.Pinion != history.PinionFinal
			if kind := s.card.Kind; !first || kind != scenarios.WholeJob && kind != scenarios.DepthJob {
				return NoChance
			}
			return did(!s.inspected)
		}, Seldom: hardly},
	}
}

func partsReplaced() Misconception {
	return Misconception{ID: "parts-replaced", About: Inspecting, Lesson: "reuse-or-replace",
		Believes: text.Say("misconception.parts-replaced.believes", "new parts save the search for a fault"),
		Makes:    text.Say("misconception.parts-replaced.makes", "bearings, gears or case are replaced without a finding against them"),
		Right:    text.Say("misconception.parts-replaced.right", "A new part costs money, moves the settings, and leaves a fault that is somewhere else. Find the fault first, then replace what has it."),
		Strength: fault.Practice,
		Policy: technician.Policy{Do: func(m technician.Mind, a act.Act) []act.Act {
			switch {
			case a.Form == act.InspectBearings && !m.Did(act.ReplaceBearings):
				return technician.Instead(act.Act{Form: act.ReplaceBearings})
			case a.Form == act.InspectGears && !m.Did(act.ReplaceGears):
				return technician.Instead(act.Act{Form: act.ReplaceGears})
			case a.Form == act.InspectCones && !m.Did(act.ReplaceCase):
				return technician.Instead(act.Act{Form: act.ReplaceCase})
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			switch s.form() {
			case act.ReplaceBearings, act.ReplaceSideBearings, act.ReplaceGears, act.ReplaceCase:
				return did(s.suspects == 0)
			}
			return NoChance
		}, Seldom: rarely},
	}
}

func stripFirst() Misconception {
	return Misconception{ID: "strip-first", About: Inspecting, Lesson: "read-before-strip",
		Believes: text.Say("misconception.strip-first.believes", "a finished axle is not worth reading before it comes apart"),
		Makes:    text.Say("misconception.strip-first.makes", "a finished axle is taken apart before anything is read"),
		Right:    text.Say("misconception.strip-first.right", "Once it is apart, nobody can tell what was wrong. Read first."),
		Strength: fault.Practice,
		On:       func(c scenarios.Card) bool { return c.Kind == scenarios.PreviousWork },
		Policy: technician.Policy{Do: func(m technician.Mind, a act.Act) []act.Act {
			if !m.Did(act.RemoveCase) && readsFinished(a.Form) {
				return nil
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.card.Kind != scenarios.PreviousWork || s.apart {
				return NoChance
			}
			switch s.form() {
			case act.RemoveCase, act.RemovePinion:
				return did(!s.read)
			case act.SignOff:
				return NotActedOn
			}
			return NoChance
		}},
	}
}

// readsFinished tells whether an act reads a finished axle.
func readsFinished(f act.Form) bool {
	switch f {
	case act.MountIndicator, act.MeasureBacklash, act.MeasureTorque, act.MeasureRunout, act.MeasureRadialRunout, act.MeasureEndPlay, act.MeasureSpread, act.PaintTeeth, act.RollGears:
		return true
	}
	return false
}
