package misconception

import (
	"math"

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

// marks is where manuals have the old mark taken off the old shim and the new one put on.
func marks() text.Message {
	return text.Say("misconception.source.marks", "TM 9-2320-280-34, p 19-12, table 9-1; TM 5-3895-369-14, p 5-409, table 5-4")
}

// byMarks is a misconception of the marks. change is what it adds to the old shim, from what
// the old and the new mark ask of a shim and what a mark grows by in the other unit, mm.
func byMarks(m Misconception, change func(was, now, otherUnit float64) float64) Misconception {
	of := func(k technician.Known) (was, changed, now float64) {
		shimFor := k.Sheet.Marks.ShimForMarkMM
		was, now = shimFor(k.OldMark.MM()), shimFor(k.NewMark.MM())
		return was, change(was, now, k.OtherUnit()), now
	}
	m.Lesson, m.On = "depth-mark", starterOpen
	m.Policy.Know = func(k *technician.Known) {
		was, changed, now := of(*k)
		k.OldDepthShim += quantity.Millimetres(changed - (now - was))
	}
	m.Signs.Aims = func(s Scene, p Pick) (Aim, bool) {
		_, changed, _ := of(s.card.Known)
		return Aim{s.card.Known.OldDepthShim.MM() + changed, p.SpreadMM}, p.Of == StarterShim
	}
	return m
}

func markTurned() Misconception {
	return byMarks(Misconception{ID: "mark-turned", About: Depth,
		Believes: text.Say("misconception.mark-turned.believes", "a plus mark on the pinion moves the shim the other way"),
		Makes:    text.Say("misconception.mark-turned.makes", "the first depth shim is wrong by twice the difference of the marks"),
		Right:    text.Say("misconception.mark-turned.right", "The specification sheet says what plus means on this axle. Say first where the pinion must end up, then which shim puts it there."),
		Strength: fault.Manual, Source: marks(),
	}, func(was, now, _ float64) float64 { return was - now })
}

func markForgotten() Misconception {
	return byMarks(Misconception{ID: "mark-forgotten", About: Depth,
		Believes: text.Say("misconception.mark-forgotten.believes", "the old shim is right for the new pinion too"),
		Makes:    text.Say("misconception.mark-forgotten.makes", "the old depth shim goes back although the marks differ"),
		Right:    text.Say("misconception.mark-forgotten.right", "The old shim was right for the old mark. The difference of the two marks goes on the shim."),
		Strength: fault.Manual, Source: marks(),
	}, func(_, _, _ float64) float64 { return 0 })
}

func newMarkOnly() Misconception {
	return byMarks(Misconception{ID: "new-mark-only", About: Depth,
		Believes: text.Say("misconception.new-mark-only.believes", "only the new pinion's mark counts"),
		Makes:    text.Say("misconception.new-mark-only.makes", "the old mark is left in the shim"),
		Right:    text.Say("misconception.new-mark-only.right", "The old shim has the old mark in it already. Take that out before the new mark goes in."),
		Strength: fault.Manual, Source: marks(),
	}, func(_, now, _ float64) float64 { return now })
}

func marksAdded() Misconception {
	return byMarks(Misconception{ID: "marks-added", About: Depth,
		Believes: text.Say("misconception.marks-added.believes", "the two marks are added"),
		Makes:    text.Say("misconception.marks-added.makes", "the old mark goes on the shim a second time"),
		Right:    text.Say("misconception.marks-added.right", "Think of two pinions with the same mark: nothing should change. So it is the difference that counts."),
		Strength: fault.Manual, Source: marks(),
	}, func(was, now, _ float64) float64 { return now + was })
}

func markInOtherUnits() Misconception {
	return byMarks(Misconception{ID: "mark-in-other-units", About: Depth,
		Believes: text.Say("misconception.mark-in-other-units.believes", "the marks are in the other unit"),
		Makes:    text.Say("misconception.mark-in-other-units.makes", "the shim changes by 2.54 times the right amount, or by 0.39 of it"),
		Right:    text.Say("misconception.mark-in-other-units.right", "The specification sheet says what one unit of the mark is: a thousandth of an inch, or a hundredth of a millimeter."),
		Strength: fault.Manual, Source: text.Say("misconception.mark-in-other-units.source", "TM 9-2320-366-34-4, para 24-2: marks are in either unit"),
	}, func(was, now, other float64) float64 { return (now - was) * other })
}

func starterIsFinal() Misconception {
	return Misconception{ID: "starter-is-final", About: Depth, Lesson: "depth-gauge",
		Believes: text.Say("misconception.starter-is-final.believes", "the shim that the marks give is the right one"),
		Makes:    text.Say("misconception.starter-is-final.makes", "the depth is not measured and no contact pattern is read"),
		Right:    text.Say("misconception.starter-is-final.right", "The marks know nothing of a bearing that is higher or a cup that is not seated. The depth gauge and the contact pattern do."),
		Strength: fault.Practice,
		On:       wholeJob,
		Policy:   mistake.StarterKept(),
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.form() != act.SignOff || !wholeJob(*s.card) {
				return NoChance
			}
			return did(!s.gauged && !s.patternSeen)
		}, Seldom: hardly},
	}
}

// hardly is how often a sensible technician leaves out a whole part of the job by mistake
// (common practice, no source).
const hardly = 0.005

func wholeJob(c scenarios.Card) bool { return c.Kind == scenarios.WholeJob }

func thicker() Misconception {
	return Misconception{ID: "thicker-is-deeper", About: Depth, Lesson: "cage-shim",
		Believes: text.Say("misconception.thicker-is-deeper.believes", "a thicker shim always moves the pinion toward the ring gear"),
		Makes:    text.Say("misconception.thicker-is-deeper.makes", "under a cage flange the shim is changed the wrong way"),
		Right:    text.Say("misconception.thicker-is-deeper.right", "Under the flange of a cage a thicker shim lifts cage and pinion out together. Draw the stack before you choose."),
		Strength: fault.Manual, Source: text.Say("misconception.thicker-is-deeper.source", "TM 10-3930-660-34, p 9-29"),
		On: inCage,
		Policy: technician.Policy{
			Know: func(k *technician.Known) {
				if k.Sheet.Marks.Known() && k.OldMark != k.NewMark {
					markTurned().Policy.Know(k)
				}
			},
			See: func(m technician.Mind, o *history.Step) {
				seeDepth(m, o, true, func(off, _ float64) float64 { return -off })
			},
		},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) {
			if p.Of == StarterShim {
				aim, _ := markTurned().Signs.Aims(s, p)
				return aim, inCage(*s.card)
			}
			return turned(s, p), inCage(*s.card) && (p.Of == GaugeShim || p.Of == PatternShim)
		}},
	}
}

// turned aims as far to the other side of the depth shim that is in.
func turned(s Scene, p Pick) Aim { return Aim{2*s.shim() - p.RightMM, p.SpreadMM} }

func gaugeTurned() Misconception {
	return Misconception{ID: "gauge-turned", About: Depth, Lesson: "depth-gauge",
		Believes: text.Say("misconception.gauge-turned.believes", "a gauge reading above the checking distance asks for a thinner shim"),
		Makes:    text.Say("misconception.gauge-turned.makes", "the depth shim is changed by the right amount the wrong way"),
		Right:    text.Say("misconception.gauge-turned.right", "A reading above the checking distance means that the pinion is too far out. Say first which way it has to move, then which shim moves it there."),
		Strength: fault.Practice,
		On: func(c scenarios.Card) bool {
			return c.Known.From == technician.Bare && !inCage(c) // in a cage it is one with thicker-is-deeper
		},
		Policy: technician.Policy{See: func(m technician.Mind, o *history.Step) {
			seeDepth(m, o, false, func(off, _ float64) float64 { return -off })
		}},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) { return turned(s, p), p.Of == GaugeShim && !inCage(*s.card) }},
	}
}

func tinySteps() Misconception {
	return Misconception{ID: "tiny-steps", About: Depth, Lesson: "depth-gauge",
		Believes: text.Say("misconception.tiny-steps.believes", "a shim should be changed by one size at a time"),
		Makes:    text.Say("misconception.tiny-steps.makes", "the shim changes by one size where the depth gauge asks for three or more"),
		Right:    text.Say("misconception.tiny-steps.right", "The gauge says how far. Go the whole way, then measure how much is left."),
		Strength: fault.Practice,
		Policy: technician.Policy{See: func(m technician.Mind, o *history.Step) {
			seeDepth(m, o, true, func(off, one float64) float64 { return math.Max(-one, math.Min(one, off)) })
		}},
		Signs: Signs{Aims: func(s Scene, p Pick) (Aim, bool) {
			const several, closely = 1.5, 0.4 // steps: one size is one size
			move := p.RightMM - s.shim()
			return Aim{s.shim() + math.Copysign(p.StepMM, move), closely * p.StepMM}, (p.Of == GaugeShim || p.Of == PatternShim) && math.Abs(move) > several*p.StepMM
		}},
	}
}

// seeDepth turns what is read of the depth, and with patterns what a pattern tells of it, into
// what a technician takes it for. as gets how far the pinion is too far out and what one size
// of shim is, both in the reading's own measure.
func seeDepth(m technician.Mind, o *history.Step, patterns bool, as func(off, one float64) float64) {
	step := m.Known.Sheet.DepthShims.StepMM
	for i := range o.Readings {
		if r := &o.Readings[i]; r.Kind == gauge.Depth && len(r.Lengths) > 0 {
			off := r.Lengths[0].MM() - m.Known.WantedDistance().MM()
			r.Lengths = []quantity.Length{m.Known.WantedDistance() + quantity.Millimetres(as(off, step))}
		}
	}
	if patterns {
		one := step * m.Known.PatternClimb()
		seePattern(m, o, func(off float64, _ gauge.ToothPattern) float64 { return as(off, one) })
	}
}

func shimsNotFollowed() Misconception {
	return Misconception{ID: "preload-shims-not-followed", About: Preload, Lesson: "cup-shim",
		Believes: text.Say("misconception.preload-shims-not-followed.believes", "the preload shims have nothing to do with the depth shim"),
		Makes:    text.Say("misconception.preload-shims-not-followed.makes", "the preload shims stay when the shim behind the cup is changed"),
		Right:    text.Say("misconception.preload-shims-not-followed.right", "A thicker shim behind the inner cup moves the cups farther apart by as much. The preload shims must follow it."),
		Strength: fault.Practice,
		On:       func(c scenarios.Card) bool { return c.Known.Design.DepthShim == family.BehindInnerCup },
		Policy: technician.Policy{Do: func(m technician.Mind, a act.Act) []act.Act {
			if a.Form != act.FitPreloadShims {
				return technician.Instead(a)
			}
			stock := m.Known.Design.Solid.PreloadShims
			switch last, fitted := m.Last(act.FitPreloadShims); {
			case !fitted:
				a.Amounts = []quantity.Entered{technician.Size(stock, m.Known.OldPreloadShims.MM())}
			case last.Before.DepthShim != m.Status.DepthShim:
				a.Amounts = []quantity.Entered{technician.Size(stock, m.Status.PreloadShims.MM())}
			}
			return technician.Instead(a)
		}},
		Signs: Signs{
			Chose: func(s Scene) Answer {
				// Whoever takes over shims that nobody has read may work from the old ones.
				if s.form() != act.FitPreloadShims || s.Step.Before.PreloadShims == 0 || !s.shimsMustFollow() || !s.shimsRead && s.card.Kind == scenarios.PreviousWork {
					return NoChance
				}
				return did(s.newPreloadShims() == s.Step.Before.PreloadShims.MM())
			},
			Aims: func(s Scene, p Pick) (Aim, bool) {
				return Aim{s.card.Known.OldPreloadShims.MM(), p.SpreadMM}, p.Of == PreloadShims
			},
		},
	}
}

func thickerShimsTighten() Misconception {
	return Misconception{ID: "thicker-shims-tighten", About: Preload, Lesson: "solid-spacer",
		Believes: text.Say("misconception.thicker-shims-tighten.believes", "thicker preload shims tighten the bearings"),
		Makes:    text.Say("misconception.thicker-shims-tighten.makes", "the preload shims are changed the wrong way"),
		Right:    text.Say("misconception.thicker-shims-tighten.right", "The preload shims hold the cones apart: thicker is looser."),
		Strength: fault.Manual, Source: text.Say("misconception.thicker-shims-tighten.source", "TM 10-3930-660-34, p 9-16"),
		On: solid,
		Policy: technician.Policy{Do: func(m technician.Mind, a act.Act) []act.Act {
			last, fitted := m.Last(act.FitPreloadShims)
			if a.Form != act.FitPreloadShims || !fitted || last.Before.DepthShim != m.Status.DepthShim {
				return technician.Instead(a) // first shims, or they follow their depth shim
			}
			stock := m.Known.Design.Solid.PreloadShims
			const sizes = 4 // at a time
			move := math.Max(-sizes*stock.StepMM, math.Min(sizes*stock.StepMM, lengthOf(a)-lastWanted(m, act.FitPreloadShims)))
			a.Amounts = []quantity.Entered{technician.Size(stock, stock.Nearest(m.Status.PreloadShims.MM()-move))}
			return technician.Instead(a)
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			d := s.torque - s.TorqueSpec().Mid()
			if !s.reworksShims() || !s.rocked && math.Abs(d) <= s.TorqueSpec().Half() {
				return NoChance
			}
			return did((s.newPreloadShims() > s.Step.Before.PreloadShims.MM()) == (s.rocked || d < 0))
		}},
	}
}

// lengthOf is the first length of an act, mm.
func lengthOf(a act.Act) float64 {
	l, _ := a.Amounts[0].Length()
	return l.MM()
}

// lastWanted is the length that was last wanted of an act, mm.
func lastWanted(m technician.Mind, f act.Form) float64 {
	for i := len(m.Wanted) - 1; i >= 0; i-- {
		if m.Wanted[i].Form == f {
			return lengthOf(m.Wanted[i])
		}
	}
	return 0
}
