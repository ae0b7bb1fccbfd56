package misconception

import (
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func wrongRange() Misconception {
	return Misconception{ID: "wrong-range", About: Preload, Lesson: "rotating-torque",
		Believes: text.Say("misconception.wrong-range.believes", "one torque specification is for all bearings"),
		Makes:    text.Say("misconception.wrong-range.makes", "the pinion is set to the specification of the other kind of bearing"),
		Right:    text.Say("misconception.wrong-range.right", "New bearings have their bedding in still ahead and get more. The job card says which bearings these are."),
		Strength: fault.Manual, Source: text.Say("misconception.wrong-range.source", "TM 9-2320-289-34, p 6-119"),
		On:     setsPreload,
		Policy: mistake.WrongRange().Policy,
		Signs: Signs{Torque: func(s Scene) family.TorqueSpec {
			other := s.card.Known
			other.UsedBearings = !other.UsedBearings
			return other.PinionTorqueSpec()
		}},
	}
}

func sealCounted() Misconception {
	return Misconception{ID: "seal-counted", About: Preload, Lesson: "rotating-torque",
		Believes: text.Say("misconception.seal-counted.believes", "seal drag is part of the preload"),
		Makes:    text.Say("misconception.seal-counted.makes", "the torque is set to the bare specification with the seal in"),
		Right:    text.Say("misconception.seal-counted.right", "The specification is for the bearings. With the seal in, seal drag comes on top."),
		Strength: fault.Practice,
		On:       setsPreload,
		Policy:   mistake.SealCounted().Policy,
		Signs:    Signs{Torque: func(s Scene) family.TorqueSpec { return s.sheet().PinionTorque(s.card.UsedBearings) }},
	}
}

func breakaway() Misconception {
	return Misconception{ID: "breakaway", About: Preload, Lesson: "rotating-torque",
		Believes: text.Say("misconception.breakaway.believes", "breakaway torque tells the preload"),
		Makes:    text.Say("misconception.breakaway.makes", "the torque is read as the pinion breaks loose"),
		Right:    text.Say("misconception.breakaway.right", "Breakaway torque is friction at rest. Preload is the torque to keep the pinion turning."),
		Strength: fault.Manual, Source: text.Say("misconception.breakaway.source", "TM 10-3930-660-34, p 9-16"),
		Policy: mistake.AtBreakaway().Policy,
		Signs:  Signs{Chose: whenever(act.MeasureTorque, func(s Scene) bool { return s.option(0) == act.Breakaway })},
	}
}

func notTurnedIn() Misconception {
	return Misconception{ID: "not-turned-in", About: Preload, Lesson: "rotating-torque",
		Believes: text.Say("misconception.not-turned-in.believes", "the bearings are seated as soon as the nut has moved"),
		Makes:    text.Say("misconception.not-turned-in.makes", "the torque is read without turning the pinion"),
		Right:    text.Say("misconception.not-turned-in.right", "Rollers seat themselves only as they roll. Turn the pinion, then read."),
		Strength: fault.Manual, Source: text.Say("misconception.not-turned-in.source", "TM 9-2320-387-24-2, p 30-17"),
		On:     setsPreload,
		Policy: mistake.NotTurnedIn().Policy,
		Signs: Signs{Chose: func(s Scene) Answer {
			st := s.Step.Before
			if s.form() != act.MeasureTorque || st.CaseIn || !st.Nut.Moved || s.option(0) != act.Rotating {
				return NoChance
			}
			return did(st.Nut.Unsettled)
		}},
	}
}

func greased() Misconception {
	return Misconception{ID: "greased", About: Preload, Lesson: "rotating-torque",
		Believes: text.Say("misconception.greased.believes", "grease is good for the pinion bearings"),
		Makes:    text.Say("misconception.greased.makes", "the bearings are packed with grease before the torque is read"),
		Right:    text.Say("misconception.greased.right", "Grease adds torque of its own and hides the preload. Oil the bearings lightly."),
		Strength: fault.Manual, Source: text.Say("misconception.greased.source", "TM 9-2320-387-24-2, p 30-17, step 23"),
		On: setsPreload,
		Policy: technician.Policy{Do: func(_ technician.Mind, a act.Act) []act.Act {
			if a.Form == act.FitPinion && a.Choices[0] == act.Final {
				return technician.Instead(act.Act{Form: act.GreaseBearings}, a)
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.form() != act.FitPinion || s.option(0) != act.Final {
				return NoChance
			}
			return did(s.greased)
		}},
	}
}

func torqueIsPreload() Misconception {
	return Misconception{ID: "torque-is-preload", About: Preload, Lesson: "rotating-torque",
		Believes: text.Say("misconception.torque-is-preload.believes", "the nut's torque sets the preload"),
		Makes:    text.Say("misconception.torque-is-preload.makes", "the nut goes to its torque and no rotating torque is read"),
		Right:    text.Say("misconception.torque-is-preload.right", "The nut's torque goes into threads and spacer. Only rotating torque tells what the bearings carry."),
		Strength: fault.Practice,
		On:       setsPreload,
		Policy: technician.Policy{Do: func(m technician.Mind, a act.Act) []act.Act {
			switch a.Form {
			case act.MeasureTorque, act.TightenNutAngle:
				return nil
			case act.TightenNutTorque:
				a.Amounts = []quantity.Entered{technician.NutTorque(m.Known.Sheet.NutMid())}
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			if !s.leavesPreload() || s.torque == 0 && !s.Step.Before.Nut.Moved {
				return NoChance
			}
			return did(s.torque == 0)
		}, Seldom: hardly},
	}
}

func nutInInchPounds() Misconception {
	return Misconception{ID: "nut-in-inch-pounds", About: Preload, Lesson: "rotating-torque",
		Believes: text.Say("misconception.nut-in-inch-pounds.believes", "the nut's torque is in pound-inches"),
		Makes:    text.Say("misconception.nut-in-inch-pounds.makes", "the nut is tightened to a twelfth of its torque"),
		Right:    text.Say("misconception.nut-in-inch-pounds.right", "The nut's torque is in pound-feet, rotating torque in pound-inches. Write the unit with every number."),
		Strength: fault.Practice,
		On:       setsPreload,
		Policy: technician.Policy{Do: func(_ technician.Mind, a act.Act) []act.Act {
			if a.Form == act.TightenNutTorque {
				a.Amounts = []quantity.Entered{{Number: a.Amounts[0].Number, Unit: quantity.UnitInchLb}}
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.form() != act.TightenNutTorque {
				return NoChance
			}
			t, is := s.Step.Act.Amounts[0].Torque()
			const perFoot, room = 12, 1.3
			if !is {
				return NoChance
			}
			return did(t.Nmm()*perFoot < s.sheet().NutHigh.Nmm()*room)
		}},
	}
}

func backedOff() Misconception {
	return Misconception{ID: "backed-off", About: Preload, Lesson: "crush-spacer",
		Believes: text.Say("misconception.backed-off.believes", "too much preload is cured by loosening the nut"),
		Makes:    text.Say("misconception.backed-off.makes", "the nut comes back and the spacer stays"),
		Right:    text.Say("misconception.backed-off.right", "A crushed spacer does not spring back: with the nut loosened, nothing clamps the bearings. Fit a new spacer and a new nut."),
		Strength: fault.Manual, Source: text.Say("misconception.backed-off.source", "TM 9-2320-387-24-2, p 30-17"),
		On:     collapsible,
		Policy: mistake.BackedOff().Policy,
		Signs: Signs{Chose: func(s Scene) Answer {
			switch {
			case s.form() == act.LoosenNut && s.Step.Before.Pinion == history.PinionFinal && !s.ByShims() && s.torque > 0:
				return ActedOn
			case s.form() == act.RemovePinion && s.sawOver:
				return NotActedOn
			}
			return NoChance
		}},
	}
}
