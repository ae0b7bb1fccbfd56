package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// ideaMemory is what a hand with an idea keeps in mind.
type misconceptionMemory struct {
	preloadDepthShim quantity.Length // depth shim when the pack was chosen
	shimSizes        int
	preloadShimMM    float64 // as the hand wanted it last
	lashMM           float64 // mean backlash as read last
	patternOff       float64 // how far too high the print stood last, share of the tooth
	printed          bool    // a print is the last thing that was read
}

// Ideas lists ways of working by one wrong idea that are no slips of a hand that has
// signed for an axle: a simulated trainee works by one of them and is sensible otherwise.
// Their texts are the grader's.
func Misconceptions() []Mistake {
	return []Mistake{
		{ID: "idea-mark-turned", Name: "marks taken the wrong way round, then gauged", Lesson: "depth-mark", Has: markedOpen,
			know: startAt(func(was, now, _ float64) float64 { return was - now })},
		{ID: "idea-mark-forgotten", Name: "old shim put back, then gauged", Lesson: "depth-mark", Has: markedOpen,
			know: startAt(func(_, _, _ float64) float64 { return 0 })},
		{ID: "new-mark-only", Name: "new mark added, old one left in", Lesson: "depth-mark", Has: markedOpen,
			know: startAt(func(_, now, _ float64) float64 { return now })},
		{ID: "marks-added", Name: "marks added up", Lesson: "depth-mark", Has: markedOpen,
			know: startAt(func(was, now, _ float64) float64 { return now + was })},
		{ID: "idea-mark-units", Name: "marks read in the other unit, then gauged", Lesson: "depth-mark", Has: markedOpen,
			know: startAt(func(was, now, other float64) float64 { return (now - was) * other })},
		{ID: "thicker-is-deeper", Name: "a thicker shim taken for deeper under a cage", Lesson: "cage-shim", Has: caged,
			know: func(k *Known) {
				if marked(*k) {
					startAt(func(was, now, _ float64) float64 { return was - now })(k)
				}
			},
			see: func(s *mistakenly, o *history.Step) { s.seeDepth(o, func(off, _ float64) float64 { return -off }) }},
		{ID: "tiny-steps", Name: "depth shim changed by one size at a time", Lesson: "depth-gauge",
			see: func(s *mistakenly, o *history.Step) {
				s.seeDepth(o, func(off, one float64) float64 { return math.Max(-one, math.Min(one, off)) })
			}},
		{ID: "lengthwise-as-depth", Name: "depth taken from where the print stands along the tooth", Lesson: "depth-height",
			see: func(s *mistakenly, o *history.Step) {
				s.seePattern(o, func(_ float64, p gauge.ToothPattern) float64 { return p.CenterS - 0.5 })
			}},
		{ID: "picture-chased", Name: "depth changed although the print was good", Lesson: "check-again",
			know: func(k *Known) {
				const perfect = 0.1 // of the window
				w := k.Sheet.PatternHeight
				k.Sheet.PatternHeight = family.Spec{LowMM: w.Mid() - perfect*w.Half(), HighMM: w.Mid() + perfect*w.Half()}
			}},
		{ID: "height-as-backlash", Name: "ring gear moved for a print that was high or low", Lesson: "depth-height", Has: caged,
			do: ringsForPattern, see: remember},
		{ID: "pinion-for-backlash", Name: "pinion moved to change the backlash", Lesson: "side-shims", Has: caged,
			do: pinionForLash, see: remember},
		{ID: "preload-shims-not-followed", Name: "pack left when the shim behind the cup changed", Lesson: "cup-shim",
			Has: func(k Known) bool { return k.Design.DepthShim == family.BehindInnerCup }, do: preloadShimsStay},
		{ID: "thicker-shims-tighten", Name: "a thicker pack taken for tighter", Lesson: "solid-spacer",
			Has: func(k Known) bool { return k.Design.Preload == family.SolidSpacer }, do: preloadShimsTurned},
		{ID: "greased", Name: "bearings packed with grease before the drag is read", Lesson: "rotating-torque",
			do: func(_ *mistakenly, a act.Act) []act.Act {
				if a.Form == act.FitPinion && a.Choices[0] == act.Final {
					return instead(act.Act{Form: act.GreaseBearings}, a)
				}
				return instead(a)
			}},
		{ID: "torque-is-preload", Name: "nut to its torque, drag never read", Lesson: "rotating-torque", do: nutOnly},
		{ID: "nut-in-inch-pounds", Name: "nut torque taken for pound-inches", Lesson: "rotating-torque",
			do: func(_ *mistakenly, a act.Act) []act.Act {
				if a.Form == act.TightenNutTorque {
					a.Amounts = []quantity.Entered{{Number: a.Amounts[0].Number, Unit: quantity.UnitInchLb}}
				}
				return instead(a)
			}},
		{ID: "sides-swapped", Name: "back and tooth side taken for each other", Lesson: "side-shims", Has: shims,
			do: func(_ *mistakenly, a act.Act) []act.Act {
				if a.Form == act.FitSideShims {
					a.Amounts = []quantity.Entered{a.Amounts[1], a.Amounts[0]}
				}
				return instead(a)
			}},
		{ID: "wrong-way", Name: "ring gear moved the wrong way for backlash", Lesson: "side-shims",
			see: seeLashTurned},
		{ID: "tighter-is-better", Name: "backlash set to the low end of its window", Lesson: "backlash-reading", know: aimLash(-1)},
		{ID: "more-is-quieter", Name: "backlash set to the high end of its window", Lesson: "backlash-reading", know: aimLash(1)},
		{ID: "one-place", Name: "backlash read at one place", Lesson: "backlash-reading",
			do: func(_ *mistakenly, a act.Act) []act.Act {
				if a.Form == act.MeasureBacklash {
					a.Amounts = []quantity.Entered{{Number: 1, Unit: quantity.UnitTurn}}
				}
				return instead(a)
			}},
		{ID: "variation-averaged", Name: "readings that swing averaged", Lesson: "runout", do: leftOut(act.MeasureRunout)},
		{ID: "pattern-unbraked", Name: "print rolled without a brake", Lesson: "check-again", do: chosen(act.RollGears, 0, act.Free)},
		{ID: "compound-thick", Name: "compound put on thick", Lesson: "check-again", do: chosen(act.PaintTeeth, 0, act.Thick)},
		{ID: "not-rechecked", Name: "backlash not read again after the depth was changed", Lesson: "check-again",
			do: func(s *mistakenly, a act.Act) []act.Act {
				if a.Form == act.FitDepthShim && s.lashRead {
					s.printed = true // the depth has been seen to, and that is all
				}
				if a.Form == act.MeasureBacklash && s.printed {
					return nil
				}
				return instead(a)
			},
			see: func(s *mistakenly, o *history.Step) {
				if o.Act.Form == act.MeasureBacklash && len(o.Readings) == 0 {
					mid := quantity.Millimetres(s.known.Sheet.Backlash.Mid())
					o.Readings = []gauge.Reading{{Kind: gauge.Backlash, Lengths: []quantity.Length{mid}}}
				}
			}},
	}
}

func caged(k Known) bool { return k.Design.DepthShim == family.UnderCageFlange }

// markedOpen is an axle whose first depth shim the marks decide, and nothing else hangs on.
func markedOpen(k Known) bool { return marked(k) && k.Design.DepthShim != family.BehindInnerCup }

// startAt makes a hand start from another shim than the marks ask for, and know the rest as
// it is. change is what it adds to the old shim, from what the old and the new mark ask of
// a shim and what a mark grows by in the other unit, mm.
func startAt(change func(was, now, otherUnit float64) float64) func(*Known) {
	return func(k *Known) {
		shimFor := k.Sheet.Marks.ShimForMarkMM
		was, now := shimFor(k.OldMark.MM()), shimFor(k.NewMark.MM())
		const mmPerHundredth, near = 2.54, 0.1
		other := mmPerHundredth
		if thou := k.Sheet.DepthShims.StepMM / quantity.Thou(1).MM(); math.Abs(thou-1) < near {
			other = 1 / mmPerHundredth
		}
		k.OldDepthShim += quantity.Millimetres(change(was, now, other) - (now - was))
	}
}

// aimLash narrows the backlash window to one of its ends.
func aimLash(end float64) func(*Known) {
	return func(k *Known) {
		const width = 0.4 // of the window
		w := k.Sheet.Backlash
		at := w.Mid() + end*w.Half()
		k.Sheet.Backlash = family.Spec{LowMM: at - width*w.Half(), HighMM: at + width*w.Half()}
	}
}

// seeDepth turns what is read of the depth into what the hand takes it for. as gets how far
// the pinion is too far out and what one size of shim is, both in the reading's own measure.
func (s *mistakenly) seeDepth(o *history.Step, as func(off, one float64) float64) {
	step := s.known.Sheet.DepthShims.StepMM
	for i := range o.Readings {
		if r := &o.Readings[i]; r.Kind == gauge.Depth && len(r.Lengths) > 0 {
			off := r.Lengths[0].MM() - s.known.WantedDistance().MM()
			r.Lengths = []quantity.Length{s.known.WantedDistance() + quantity.Millimetres(as(off, step))}
		}
	}
	perMM := patternPerMM * patternAtMM / s.known.RingDiameter.MM()
	s.seePattern(o, func(off float64, _ gauge.ToothPattern) float64 { return as(off, step*perMM) })
}

// seePrint turns how far a print stands too high into what the hand takes it for.
func (s *mistakenly) seePattern(o *history.Step, as func(off float64, p gauge.ToothPattern) float64) {
	mid := s.known.Sheet.PatternHeight.Mid()
	for i := range o.Readings {
		r := &o.Readings[i]
		r.Patterns = append([]gauge.ToothPattern(nil), r.Patterns...)
		for j := range r.Patterns {
			p := &r.Patterns[j]
			p.CenterT = mid + as(p.CenterT-mid, *p)
		}
	}
}

// seeLashTurned takes a backlash that is too large for one that is too small by as much.
func seeLashTurned(s *mistakenly, o *history.Step) {
	w, mean := s.known.Sheet.Backlash, quantity.Millimetres(meanLength(*o))
	for i := range o.Readings {
		if r := &o.Readings[i]; r.Kind == gauge.Backlash && !w.Holds(mean.MM()) {
			r.Lengths = []quantity.Length{quantity.Millimetres(2*w.Mid()) - mean}
		}
	}
}

// remember keeps in mind what was read last.
func remember(s *mistakenly, o *history.Step) {
	for _, r := range o.Readings {
		switch r.Kind {
		case gauge.Backlash:
			s.lashMM, s.printed = meanLength(*o), false
		case gauge.Pattern:
			s.patternOff, s.printed = 0, len(r.Patterns) > 0
			for _, p := range r.Patterns {
				s.patternOff += (p.CenterT - s.known.Sheet.PatternHeight.Mid()) / float64(len(r.Patterns))
			}
		}
	}
}

func ringAct(f act.Form, notches float64) act.Act {
	way := act.In
	if notches < 0 {
		way = act.Out
	}
	return act.Act{Form: f, Choices: []act.Option{way}, Amounts: []quantity.Entered{count(math.Abs(notches), quantity.UnitTurn)}}
}

// ringsForPrint moves the ring gear in the place of the pinion.
func ringsForPattern(s *mistakenly, a act.Act) []act.Act {
	st := s.Bench.Status()
	if a.Form != act.FitDepthShim || !s.printed || !st.CaseIn || st.Pinion != history.PinionFinal {
		return instead(a)
	}
	const notches = 2.0
	by := math.Copysign(notches, s.patternOff) // too high: the gear is taken nearer
	first, second := ringAct(act.TurnOppositeAdjuster, -by), ringAct(act.TurnRingGearAdjuster, by)
	if by < 0 {
		first, second = second, first
	}
	return instead(act.Act{Form: act.LoosenCaps}, first, second, act.Act{Form: act.TorqueCaps})
}

// pinionForLash moves the pinion in the place of the ring gear.
func pinionForLash(s *mistakenly, a act.Act) []act.Act {
	w := s.known.Sheet.Backlash
	if s.lashMM == 0 || s.printed || w.Holds(s.lashMM) || !s.Bench.Status().CaseIn {
		return instead(a)
	}
	switch a.Form {
	case act.LoosenCaps, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
		return nil
	case act.TorqueCaps:
		const perPinion = 0.35 // what a pinion's travel shows as backlash (estimate)
		out := (w.Mid() - s.lashMM) / perPinion
		stock := s.known.Sheet.DepthShims
		shim := s.Bench.Status().DepthShim.MM()
		way := 1.0
		if s.known.Design.ThickerIsDeeper() {
			way = -1
		}
		s.lashMM = 0
		return instead(act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{size(stock, stock.Nearest(shim+way*out))}})
	}
	return instead(a)
}

// packStays keeps the pack while the shim behind the cup changes.
func preloadShimsStay(s *mistakenly, a act.Act) []act.Act {
	if a.Form != act.FitPreloadShims {
		return instead(a)
	}
	st, stock := s.Bench.Status(), s.known.Design.Solid.PreloadShims
	defer func() { s.preloadDepthShim = st.DepthShim; s.shimSizes++ }()
	switch {
	case s.shimSizes == 0:
		a.Amounts = []quantity.Entered{size(stock, s.known.OldPreloadShims.MM())}
	case s.preloadDepthShim != st.DepthShim:
		a.Amounts = []quantity.Entered{size(stock, st.PreloadShims.MM())}
	}
	return instead(a)
}

// packTurned changes the pack the wrong way, a few sizes at a time.
func preloadShimsTurned(s *mistakenly, a act.Act) []act.Act {
	if a.Form != act.FitPreloadShims {
		return instead(a)
	}
	st, stock := s.Bench.Status(), s.known.Design.Solid.PreloadShims
	wanted, before := lengthIn(a.Amounts[0]), s.preloadShimMM
	s.preloadShimMM = wanted
	defer func() { s.preloadDepthShim = st.DepthShim; s.shimSizes++ }()
	if s.shimSizes == 0 || s.preloadDepthShim != st.DepthShim {
		return instead(a) // the pack follows its shim
	}
	most := 4 * stock.StepMM
	move := math.Max(-most, math.Min(most, wanted-before))
	a.Amounts = []quantity.Entered{size(stock, stock.Nearest(st.PreloadShims.MM()-move))}
	return instead(a)
}

func lengthIn(e quantity.Entered) float64 {
	l, _ := e.Length()
	return l.MM()
}

// nutOnly pulls the nut to its torque and takes the drag for right.
func nutOnly(s *mistakenly, a act.Act) []act.Act {
	switch a.Form {
	case act.MeasureTorque, act.TightenNutAngle:
		return nil
	case act.TightenNutTorque:
		a.Amounts = []quantity.Entered{nutTorque(s.known.Sheet.NutMid().Nmm())}
	}
	return instead(a)
}
