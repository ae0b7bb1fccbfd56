package misconception

import (
	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func sidesSwapped() Misconception {
	return Misconception{ID: "sides-swapped", About: Sides, Lesson: "side-shims",
		Believes: text.Say("misconception.sides-swapped.believes", "the ring-gear side is the one that the teeth point to"),
		Makes:    text.Say("misconception.sides-swapped.makes", "the two old side shims change places"),
		Right:    text.Say("misconception.sides-swapped.right", "The ring-gear side is behind the ring gear. Mark it on the housing before the case comes out."),
		Strength: fault.Practice,
		On:       sideShims,
		Policy: technician.Policy{Do: func(_ technician.Mind, a act.Act) []act.Act {
			if a.Form == act.FitSideShims {
				a.Amounts = []quantity.Entered{a.Amounts[1], a.Amounts[0]}
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) {
			if p.Of == SideSplit {
				return Aim{-p.RightMM, p.SpreadMM}, true
			}
			return s.travelAim(-p.RightMM), p.Of == GearTravel
		}},
	}
}

func wrongWay() Misconception {
	return Misconception{ID: "wrong-way", About: Sides, Lesson: "side-shims",
		Believes: text.Say("misconception.wrong-way.believes", "the ring gear moves toward the pinion for more backlash"),
		Makes:    text.Say("misconception.wrong-way.makes", "the right amount goes to the wrong side"),
		Right:    text.Say("misconception.wrong-way.right", "Away from the pinion opens backlash: thinner on the ring-gear side, thicker on the opposite side."),
		Strength: fault.Manual, Source: text.Say("misconception.wrong-way.source", "TM 9-2320-289-34, p 6-22, step 17"),
		Policy: technician.Policy{See: func(m technician.Mind, o *history.Step) {
			for i := range o.Readings {
				r := &o.Readings[i]
				mean, _, _ := r.Summary()
				if w := m.Known.Sheet.Backlash; r.Kind == gauge.Backlash && !w.Holds(mean.MM()) {
					r.Lengths = []quantity.Length{quantity.Millimetres(2*w.Mid()) - mean}
				}
			}
		}},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) { return s.travelAim(-p.RightMM), p.Of == GearTravel }},
	}
}

// travels is where a manual tells how much backlash a travel brings.
func travels() text.Message {
	return text.Say("misconception.source.travel", "TM 9-2320-289-34, p 6-19, table 6-1: 0.010 in brings 0.005 to 0.008 in")
}

func oneToOne() Misconception {
	return Misconception{ID: "one-to-one", About: Sides, Lesson: "side-shims",
		Believes: text.Say("misconception.one-to-one.believes", "backlash changes by as much as the ring gear travels"),
		Makes:    text.Say("misconception.one-to-one.makes", "the ring gear moves seven or eight tenths as far as it should"),
		Right:    text.Say("misconception.one-to-one.right", "Only about seven to eight tenths of the travel shows as backlash, so the travel is larger than the change you want."),
		Strength: fault.Manual, Source: travels(),
		Policy: technician.Policy{Know: func(k *technician.Known) { k.BacklashPerTravel = 1 }},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) {
			return s.travelAim(p.RightMM * s.card.Known.PerTravel()), p.Of == GearTravel
		}},
	}
}

func gainTurned() Misconception {
	return Misconception{ID: "gain-turned", About: Sides, Lesson: "side-shims",
		Believes: text.Say("misconception.gain-turned.believes", "the ring gear has to travel less than backlash should change"),
		Makes:    text.Say("misconception.gain-turned.makes", "the ring gear moves about half as far as it should"),
		Right:    text.Say("misconception.gain-turned.right", "The travel is larger than what shows as backlash: divide the change you want by the share that shows, do not multiply."),
		Strength: fault.Manual, Source: travels(),
		Policy: technician.Policy{Know: func(k *technician.Known) { k.BacklashPerTravel = 1 / k.PerTravel() }},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) {
			share := s.card.Known.PerTravel()
			return s.travelAim(p.RightMM * share * share), p.Of == GearTravel
		}},
	}
}

func oneSideOnly() Misconception {
	return Misconception{ID: "one-side-only", About: Sides, Lesson: "side-shims",
		Believes: text.Say("misconception.one-side-only.believes", "a shim on one side is enough to correct backlash"),
		Makes:    text.Say("misconception.one-side-only.makes", "one side shim is changed and the other left"),
		Right:    text.Say("misconception.one-side-only.right", "What comes out of one side goes into the other. Otherwise side bearing preload changes too."),
		Strength: fault.Manual, Source: text.Say("misconception.one-side-only.source", "TM 9-2320-289-34, p 6-21, note, and p 6-22, step 17: the total of the shims does not change"),
		On:     sideShims,
		Policy: mistake.OneSideOnly().Policy,
		Signs: Signs{Chose: func(s Scene) Answer {
			m, is := s.gearMove()
			one, matters := s.oneSided(m)
			if !is || !matters {
				return NoChance
			}
			return did(one)
		}},
	}
}

func pinionForBacklash() Misconception {
	return Misconception{ID: "pinion-for-backlash", About: Sides, Lesson: "side-shims",
		Believes: text.Say("misconception.pinion-for-backlash.believes", "the pinion is moved to change backlash"),
		Makes:    text.Say("misconception.pinion-for-backlash.makes", "the depth shim is changed after a backlash reading, with nothing read of the depth"),
		Right:    text.Say("misconception.pinion-for-backlash.right", "Depth comes first, by gauge and pattern. Backlash is then set by moving the ring gear alone."),
		Strength: fault.Manual, Source: text.Say("misconception.pinion-for-backlash.source", "TM 10-3930-660-34, p 8-28, note: adjust only the ring gear"),
		On:     inCage,
		Policy: technician.Policy{Do: pinionForLash},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.form() == act.FitDepthShim && s.topic == lash && s.newShim() != s.shim() && !s.sheet().Backlash.Holds(s.lashMM) {
				return ActedOn
			}
			if m, is := s.gearMove(); is && !m.forPattern {
				return NotActedOn
			}
			return NoChance
		}},
	}
}

// pinionForLash moves the pinion in the place of the ring gear, once for each reading.
func pinionForLash(m technician.Mind, a act.Act) []act.Act {
	last, _ := m.LastReading(gauge.Pattern, gauge.Backlash)
	mean, _, _ := last.Summary()
	k := m.Known
	if last.Kind != gauge.Backlash || k.Sheet.Backlash.Holds(mean.MM()) || !m.Status.CaseIn || answered(m) {
		return technician.Instead(a)
	}
	switch a.Form {
	case act.LoosenCaps, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
		return nil
	case act.TorqueCaps:
		out := (k.Sheet.Backlash.Mid() - mean.MM()) / k.PerPinion()
		stock := k.Sheet.DepthShims
		way := 1.0
		if k.Design.ThickerIsDeeper() {
			way = -1
		}
		size := technician.Size(stock, stock.Nearest(m.Status.DepthShim.MM()+way*out))
		return technician.Instead(act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{size}})
	}
	return technician.Instead(a)
}

// answered tells whether the depth shim has been changed since backlash was last read.
func answered(m technician.Mind) bool {
	for i := len(m.Steps) - 1; i >= 0; i-- {
		switch m.Steps[i].Act.Form {
		case act.FitDepthShim:
			return true
		case act.MeasureBacklash:
			return false
		}
	}
	return false
}

func noSidePreload() Misconception {
	return Misconception{ID: "no-side-preload", About: Sides, Lesson: "side-total",
		Believes: text.Say("misconception.no-side-preload.believes", "side bearings need no more than zero end play"),
		Makes:    text.Say("misconception.no-side-preload.makes", "the side shims are left at zero end play"),
		Right:    text.Say("misconception.no-side-preload.right", "Without preload the ring gear climbs away under load. The specified preload goes on top of zero end play."),
		Strength: fault.Practice,
		Policy:   mistake.NoSidePreload().Policy,
		Signs: Signs{Aims: func(_ Scene, p Pick) (Aim, bool) {
			const free = -0.03 // mm: just free of play
			return Aim{free, p.SpreadMM}, p.Of == SideTotal
		}},
	}
}

func indicatorFloor() Misconception {
	return Misconception{ID: "indicator-floor", About: Sides, Lesson: "side-total",
		Believes: text.Say("misconception.indicator-floor.believes", "the least movement of the needle is end play"),
		Makes:    text.Say("misconception.indicator-floor.makes", "more side shim goes in, or an adjuster goes in farther, for a case that does not move"),
		Right:    text.Say("misconception.indicator-floor.right", "An indicator shows half a thousandth (0.01 mm) on a case that does not move at all. End play is what you can also feel."),
		Strength: fault.Practice,
		On:       setsSides,
		Policy: technician.Policy{Do: func(m technician.Mind, a act.Act) []act.Act {
			read, measured := m.Last(act.MeasureEndPlay)
			if m.Status.Pinion != history.PinionFinal {
				return technician.Instead(a)
			}
			switch {
			case a.Form == act.PaintTeeth && !(measured && read.Before.CaseFits == m.Status.CaseFits):
				return technician.Instead(act.Act{Form: act.MeasureEndPlay}, a)
			case a.Form == act.RollGears && measured && read.Felt(history.CaseFast) && read.FirstMM() > 0 && !tightened(m):
				return tighten(m, a)
			}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.fast == 0 {
				return NoChance
			}
			at := s.newSides()
			switch more := at[0]+at[1]-s.fast > s.sideStep()/2; {
			case more && (s.form() == act.FitSideShims || s.form() == act.TorqueCaps):
				return ActedOn
			case s.form() == act.SignOff && !more:
				return NotActedOn
			}
			return NoChance
		}, Seldom: rarely},
	}
}

// rarely is how often a sensible technician does by mistake what takes several acts (common
// practice, no source).
const rarely = 0.01

func setsSides(c scenarios.Card) bool {
	return c.Known.To != technician.DepthSet && c.Known.To != technician.PreloadSet
}

// tightened tells whether the side bearings have been tightened since end play was measured.
func tightened(m technician.Mind) bool {
	for i := len(m.Steps) - 1; i >= 0 && m.Steps[i].Act.Form != act.MeasureEndPlay; i-- {
		switch m.Steps[i].Act.Form {
		case act.FitSideShims, act.TurnOppositeAdjuster:
			return true
		}
	}
	return false
}

// tighten takes out an end play that is none, and then does an act.
func tighten(m technician.Mind, then act.Act) []act.Act {
	if m.Known.Design.SideAdjust == family.BearingAdjusters {
		const notches = 2
		return technician.Instead(act.Act{Form: act.LoosenCaps}, adjuster(act.TurnOppositeAdjuster, notches), act.Act{Form: act.TorqueCaps}, then)
	}
	stock, st := m.Known.Sheet.SideShims, m.Status
	const sizes = 2
	shims := act.Act{Form: act.FitSideShims, Amounts: []quantity.Entered{technician.Size(stock, st.RingGearShim.MM()), technician.Size(stock, stock.Nearest(st.OppositeShim.MM()+sizes*stock.StepMM))}}
	acts := technician.Instead(act.Act{Form: act.RemoveCase}, shims)
	if m.Known.Design.Entry == family.Spreader {
		acts = append(acts, act.Act{Form: act.SpreadHousing, Amounts: []quantity.Entered{{Number: m.Known.Sheet.SpreadLimitMM * 0.85, Unit: quantity.UnitMM}}})
	}
	return append(acts, act.Act{Form: act.FitCase}, act.Act{Form: act.TorqueCaps}, act.Act{Form: act.PaintTeeth, Choices: []act.Option{act.Thin}}, then)
}

func sidePreloadHigh() Misconception {
	return Misconception{ID: "side-preload-high", About: Sides, Lesson: "total-torque",
		Believes: text.Say("misconception.side-preload-high.believes", "more side bearing preload is safer"),
		Makes:    text.Say("misconception.side-preload-high.makes", "the side shims are close to what spreads the housing too far"),
		Right:    text.Say("misconception.side-preload-high.right", "Past its specification preload only wears the bearings. Take the same amount off on both sides."),
		Strength: fault.Practice,
		Policy:   mistake.SidePreloadHigh().Policy,
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) {
			const near = 0.75 // of the way to the spread limit
			sh := s.sheet()
			return Aim{sh.SidePreload.HighMM + near*(sh.SpreadLimitMM-sh.SidePreload.HighMM), p.SpreadMM}, p.Of == SideTotal
		}},
	}
}

func variationAveraged() Misconception {
	return Misconception{ID: "variation-averaged", About: Sides, Lesson: "runout",
		Believes: text.Say("misconception.variation-averaged.believes", "backlash that varies around the gear can be averaged"),
		Makes:    text.Say("misconception.variation-averaged.makes", "readings that vary are left without a reading of the runout"),
		Right:    text.Say("misconception.variation-averaged.right", "A variation once a turn is a ring gear that runs out. Read the runout of its back face, then find what is behind it."),
		Strength: fault.Manual, Source: text.Say("misconception.variation-averaged.source", "TM 9-2320-289-34, p 6-21"),
		Policy: technician.Policy{Do: technician.LeaveOut(act.MeasureRunout)},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.form() != act.SignOff || !s.varies {
				return NoChance
			}
			return did(!s.sought)
		}},
	}
}

func capsSnug() Misconception {
	return Misconception{ID: "caps-snug", About: Sides, Lesson: "backlash-reading",
		Believes: text.Say("misconception.caps-snug.believes", "snug caps are good enough for a reading"),
		Makes:    text.Say("misconception.caps-snug.makes", "backlash is read before the caps are at torque"),
		Right:    text.Say("misconception.caps-snug.right", "The cap is part of the bearing's bore, and the case moves when the cap is torqued."),
		Strength: fault.Manual, Source: text.Say("misconception.caps-snug.source", "TM 9-2320-289-34, p 6-21, steps 14 and 15; TM 9-2320-269-34-1, p 2-868, step 90"),
		Policy: mistake.CapsSnug().Policy,
		Signs:  Signs{Chose: whenever(act.MeasureBacklash, func(s Scene) bool { return !s.Step.Before.CapsTight })},
	}
}

// atEnd is a misconception that sets backlash to one end of its specification.
func atEnd(m Misconception, end float64) Misconception {
	m.Lesson, m.Strength = "backlash-reading", fault.Practice
	m.Policy = technician.Policy{Know: func(k *technician.Known) {
		const width = 0.4 // of the specification
		w := k.Sheet.Backlash
		at := w.Mid() + end*w.Half()
		k.Sheet.Backlash.LowMM, k.Sheet.Backlash.HighMM = at-width*w.Half(), at+width*w.Half()
	}}
	m.Signs.Aims = func(s Scene, p Pick) (Aim, bool) {
		const edge = 0.3 // half ranges
		w := s.sheet().Backlash
		at := w.Mid() + end*w.Half()
		if p.Of == GearTravel {
			return s.travelAim((at - s.lashMM) / s.card.Known.PerTravel()), true
		}
		return Aim{at, edge * w.Half()}, p.Of == BacklashGiven
	}
	return m
}

func tighterIsBetter() Misconception {
	return atEnd(Misconception{ID: "tighter-is-better", About: Sides,
		Believes: text.Say("misconception.tighter-is-better.believes", "a small backlash is a good backlash"),
		Makes:    text.Say("misconception.tighter-is-better.makes", "backlash is set to the low end of its specification"),
		Right:    text.Say("misconception.tighter-is-better.right", "The gears grow as they warm. Aim at the middle, so that the tightest tooth has room."),
	}, -1)
}

func moreIsQuieter() Misconception {
	return atEnd(Misconception{ID: "more-is-quieter", About: Sides,
		Believes: text.Say("misconception.more-is-quieter.believes", "a large backlash runs quieter"),
		Makes:    text.Say("misconception.more-is-quieter.makes", "backlash is set to the high end of its specification"),
		Right:    text.Say("misconception.more-is-quieter.right", "More backlash means harder blows at every change of load. Aim at the middle."),
	}, 1)
}

func usedSetAsNew() Misconception {
	return Misconception{ID: "used-set-as-new", About: Sides, Lesson: "used-gears",
		Believes: text.Say("misconception.used-set-as-new.believes", "used gears get a new set's backlash"),
		Makes:    text.Say("misconception.used-set-as-new.makes", "backlash is set closer than the set ran with"),
		Right:    text.Say("misconception.used-set-as-new.right", "Worn teeth have found their own position. Put them back to the backlash they ran with."),
		Strength: fault.Manual, Source: text.Say("misconception.used-set-as-new.source", "TM 5-3895-369-14, p 5-412"),
		On:     usedSet,
		Policy: technician.Policy{Know: func(k *technician.Known) { k.Sheet.Backlash = k.NewBacklash }},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) {
			const inside = 0.5 // half ranges
			w := s.card.NewBacklash
			if p.Of == GearTravel {
				return s.travelAim((w.Mid() - s.lashMM) / s.card.Known.PerTravel()), usedSet(*s.card)
			}
			return Aim{w.Mid(), inside * w.Half()}, p.Of == BacklashGiven && usedSet(*s.card)
		}},
	}
}
