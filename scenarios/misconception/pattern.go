package misconception

import (
	"math"

	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// seePattern turns how far a pattern stands too high into what a technician takes it for.
func seePattern(m technician.Mind, o *history.Step, as func(off float64, p gauge.ToothPattern) float64) {
	mid := m.Known.Sheet.PatternHeight.Mid()
	for i := range o.Readings {
		r := &o.Readings[i]
		r.Patterns = append([]gauge.ToothPattern(nil), r.Patterns...)
		for j := range r.Patterns {
			p := &r.Patterns[j]
			p.CenterT = mid + as(p.CenterT-mid, *p)
		}
	}
}

func lengthwise() Misconception {
	return Misconception{ID: "lengthwise-as-depth", About: Depth, Lesson: "depth-height",
		Believes: text.Say("misconception.lengthwise-as-depth.believes", "a contact pattern toward the toe or the heel asks for another depth"),
		Makes:    text.Say("misconception.lengthwise-as-depth.makes", "the depth shim is changed for a pattern that is right between root and top"),
		Right:    text.Say("misconception.lengthwise-as-depth.right", "Root to top is pinion depth. Toe to heel is mostly backlash."),
		Strength: fault.Manual, Source: text.Say("misconception.lengthwise-as-depth.source", "TM 10-3930-638-24&P, p 4-246"),
		Policy: technician.Policy{See: func(m technician.Mind, o *history.Step) {
			seePattern(m, o, func(_ float64, p gauge.ToothPattern) float64 { return p.CenterS - 0.5 })
		}},
		Signs: Signs{
			Chose: func(s Scene) Answer {
				const seen = 0.03 // what an eye tells along the tooth, share of it
				sh := s.sheet()
				last := s.form() == act.SignOff && s.patternSeen && s.topic == pattern
				out := 1.25 // half ranges: plainly out
				if !s.gauged {
					out = 1.5 // where only the pattern told the depth
				}
				switch {
				case s.chases() && math.Abs(s.patternLong) > seen:
					return did((s.newShim()-s.shim())*s.deeper()*s.patternLong > 0)
				case last && s.patternGood() && !s.chased && math.Abs(s.patternLong) > sh.PatternHeight.Half():
					return NotActedOn
				case last && math.Abs(s.patternOff) > out*sh.PatternHeight.Half() && math.Abs(s.patternLong) < sh.PatternHeight.Half():
					return ActedOn
				}
				return NoChance
			},
			Aims: func(s Scene, p Pick) (Aim, bool) {
				return Aim{s.shim() + s.deeper()*s.patternLong/s.gains.PatternHeightPerPinion, p.SpreadMM}, p.Of == PatternShim
			},
		},
	}
}

func heightAsBacklash() Misconception {
	return Misconception{ID: "height-as-backlash", About: Depth, Lesson: "depth-height",
		Believes: text.Say("misconception.height-as-backlash.believes", "a contact pattern that is high or low asks for another backlash"),
		Makes:    text.Say("misconception.height-as-backlash.makes", "the ring gear is moved although backlash is right"),
		Right:    text.Say("misconception.height-as-backlash.right", "When drive and coast are both high, or both low, the pinion is at the wrong depth. No position of the ring gear cures that."),
		Strength: fault.Practice,
		On:       inCage,
		Policy:   technician.Policy{Do: adjustersForPattern},
		Signs: Signs{Chose: func(s Scene) Answer {
			if s.form() == act.FitDepthShim && s.topic == pattern && !s.patternGood() && s.newShim() != s.shim() {
				return NotActedOn
			}
			if m, is := s.gearMove(); is && m.forPattern {
				return did(math.Abs(m.ringGear-m.opposite) > s.sideStep())
			}
			return NoChance
		}},
	}
}

// adjustersForPattern moves the ring gear in the place of the pinion.
func adjustersForPattern(m technician.Mind, a act.Act) []act.Act {
	last, _ := m.LastReading(gauge.Pattern, gauge.Backlash)
	if a.Form != act.FitDepthShim || len(last.Patterns) == 0 || !m.Status.CaseIn || m.Status.Pinion != history.PinionFinal {
		return technician.Instead(a)
	}
	high := 0.0
	for _, p := range last.Patterns {
		high += p.CenterT - m.Known.Sheet.PatternHeight.Mid()
	}
	const notches = 2.0
	by := math.Copysign(notches, high) // too high: the ring gear is moved nearer
	first, second := adjuster(act.TurnOppositeAdjuster, -by), adjuster(act.TurnRingGearAdjuster, by)
	if by < 0 {
		first, second = second, first
	}
	return technician.Instead(act.Act{Form: act.LoosenCaps}, first, second, act.Act{Form: act.TorqueCaps})
}

// adjuster turns a bearing adjuster in by notches, or out by as many.
func adjuster(f act.Form, notches float64) act.Act {
	way := act.In
	if notches < 0 {
		way = act.Out
	}
	return act.Act{Form: f, Choices: []act.Option{way}, Amounts: []quantity.Entered{technician.Count(math.Abs(notches))}}
}

func pictureChased() Misconception {
	return Misconception{ID: "picture-chased", About: Depth, Lesson: "pattern-table",
		Believes: text.Say("misconception.picture-chased.believes", "a contact pattern has to match the picture in the book"),
		Makes:    text.Say("misconception.picture-chased.makes", "the depth shim is changed for a pattern that was good already"),
		Right:    text.Say("misconception.picture-chased.right", "A pattern is good when it stays off the edges and is at its height. Name what the next change would prevent."),
		Strength: fault.Practice,
		Policy: technician.Policy{Know: func(k *technician.Known) {
			const perfect = 0.1 // of the specification
			w := k.Sheet.PatternHeight
			k.Sheet.PatternHeight = family.Spec{LowMM: w.Mid() - perfect*w.Half(), HighMM: w.Mid() + perfect*w.Half()}
		}},
		Signs: Signs{Chose: func(s Scene) Answer {
			const (
				flawed = 0.3 // half ranges: no perfect picture
				within = 0.6 // of what one size of shim moves the pattern by: no other shim would do better
			)
			sh := s.sheet()
			switch {
			case s.chases():
				return did(s.deeper()*(s.newShim()-s.shim())*s.patternOff > 0)
			case s.form() == act.SignOff && s.patternSeen && s.topic == pattern && s.patternGood() && !s.chased &&
				math.Abs(s.patternOff) > math.Max(flawed*sh.PatternHeight.Half(), within*sh.DepthShims.StepMM*s.gains.PatternHeightPerPinion):
				return NotActedOn
			}
			return NoChance
		}},
	}
}

func patternUnbraked() Misconception {
	return Misconception{ID: "pattern-unbraked", About: Depth, Lesson: "make-a-pattern",
		Believes: text.Say("misconception.pattern-unbraked.believes", "a contact pattern needs no brake"),
		Makes:    text.Say("misconception.pattern-unbraked.makes", "the gears are rolled free"),
		Right:    text.Say("misconception.pattern-unbraked.right", "Without resistance the teeth hardly press the compound out, and the position of the pattern is a guess."),
		Strength: fault.Manual, Source: text.Say("misconception.pattern-unbraked.source", "TM 9-2320-289-34, p 6-22, step 20"),
		Policy: technician.Policy{Do: technician.Choose(act.RollGears, 0, act.Free)},
		Signs:  Signs{Chose: whenever(act.RollGears, func(s Scene) bool { return s.option(0) == act.Free })},
	}
}

func compoundThick() Misconception {
	return Misconception{ID: "compound-thick", About: Depth, Lesson: "make-a-pattern",
		Believes: text.Say("misconception.compound-thick.believes", "more compound shows more"),
		Makes:    text.Say("misconception.compound-thick.makes", "the compound goes on thick"),
		Right:    text.Say("misconception.compound-thick.right", "A thick coat smears and marks where nothing touches. Put it on thin, and on a few teeth only."),
		Strength: fault.Manual, Source: text.Say("misconception.compound-thick.source", "TM 9-2320-266-34, para 19-5: a thin coat"),
		Policy: technician.Policy{Do: technician.Choose(act.PaintTeeth, 0, act.Thick)},
		Signs:  Signs{Chose: whenever(act.RollGears, func(s Scene) bool { return s.Step.Before.Compound == act.Thick })},
	}
}
