package technician

import (
	"errors"
	"math"
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// memory is what a hand takes over from the acts before it.
type memory struct {
	goesOn       bool
	settled      map[act.Form]bool // looks that left nothing to put right
	shimMeasured bool              // the depth shim in hand
	rightShimMM  float64           // depth shim that the gauge asked for, 0 unknown
	heightRead   bool              // in this build
	nutTight     bool              // solid spacer: the nut is at its torque
	opened       bool              // the case has been out
	mockUp       bool              // the build is one
	shim         float64           // marked, mm
	back, tooth  float64           // side shims, or how far the rings are in, mm
}

// ErrSignedOff is returned by GoOn for a job that is closed.
var ErrSignedOff = errors.New("the axle is signed off: there is nothing to go on with")

// GoOn takes a job up where another has left it and does the rest as the competent hand
// would. before is what was done and read before the job was handed out, where that is
// known, and since what the other has done. What is in hand or built in is used unless a
// reading says that it is wrong; anew tells in words what of the work was undone or done
// again because it could not be relied on, and is empty where the job simply went on.
// Errors as Work, and ErrSignedOff.
func GoOn(b Bench, k Known, h Habits, before, since []history.Step) (anew string, err error) {
	w := &worker{bench: b, k: k, h: h, trustWrench: true, done: memory{goesOn: true, settled: map[act.Form]bool{}}}
	if b.Status().SignedOff {
		return "", ErrSignedOff
	}
	if w.rings() {
		w.ringsBefore(append(slices.Clone(before), since...))
	}
	w.recall(before)
	foreign := k.From == SidesSet && len(before) == 0
	w.done.opened = false
	w.recall(since)
	if foreign && !w.done.opened {
		return "strips the axle and builds it anew: of another hand's work nothing is taken for read", Restore(b, k, h)
	}
	from, anew := w.takeUp()
	w.say("Taking up the job where it stands.")
	w.build(from, k.end())
	w.sheet(k.end())
	w.do(act.SignOff)
	return anew, w.err
}

// cures is what settles a look that has found something.
func cures(f act.Form) (look act.Form, is bool) {
	switch f {
	case act.SeatCups:
		return act.InspectCups, true
	case act.WashBearings:
		return act.InspectBearings, true
	case act.ReplaceSpacer:
		return act.InspectSpacer, true
	case act.ReplaceSeal:
		return act.InspectSeal, true
	case act.SeatCones:
		return act.InspectCones, true
	case act.MatchCaps:
		return act.InspectCaps, true
	case act.CleanShimSeat:
		return act.InspectShimSeat, true
	case act.ReplaceBearings:
		return act.InspectBearings, true
	case act.CleanRingGear:
		return act.InspectBolts, true
	case act.ReplaceGears:
		return act.InspectGears, true
	}
	return 0, false
}

// ringsBefore finds where the rings stood before anything that is known was done: another
// hand may have turned them.
func (w *worker) ringsBefore(known []history.Step) {
	st, travel := w.bench.Status(), w.k.Design.Rings.NotchTravelMM()
	w.done.back, w.done.tooth = st.RingGearNotches*travel, st.OppositeNotches*travel
	for _, o := range known {
		for _, r := range o.Readings {
			switch {
			case r.Kind != gauge.AdjusterTurn:
			case o.Act.Form == act.TurnRingGearAdjuster:
				w.done.back -= r.Notches * travel
			default:
				w.done.tooth -= r.Notches * travel
			}
		}
	}
}

// recall goes through what was done and read before.
func (w *worker) recall(seen []history.Step) {
	travel := w.k.Design.Rings.NotchTravelMM()
	m := &w.done
	for _, o := range seen {
		for _, r := range o.Readings {
			switch r.Kind {
			case gauge.CupSeats, gauge.ShimSeat, gauge.BearingCondition, gauge.SpacerCondition, gauge.SealLip, gauge.ConeSeats, gauge.CapMarks, gauge.RingGearBolts, gauge.MatchNumbers:
				// A second finding of one inspection stands beside the first.
				w.done.settled[o.Act.Form] = !o.Wrong()
			case gauge.RingGearTag, gauge.SlingerPlace:
				if r.Wrong() { // beside the reading before
					w.done.settled[o.Act.Form] = false
				}
			case gauge.GaugeBlock:
				w.done.settled[o.Act.Form] = true
			case gauge.PinionRunout:
				w.done.settled[o.Act.Form] = r.Lengths[0].MM() <= fault.PinionRunoutLimitMM(w.k.Sheet)
			case gauge.BearingHeights:
				w.setUpTall, w.done.settled[o.Act.Form] = r.Lengths[0].MM(), true
			case gauge.DepthShimSize:
				w.done.shimMeasured = true
			case gauge.Depth:
				w.gauged(m.shim, r.Lengths[0].MM(), m.mockUp)
			case gauge.CaseEndPlay:
				if play := r.Lengths[0].MM(); play > lineAtMM {
					w.lineMM = m.back + m.tooth + play
				}
			case gauge.AdjusterTurn:
				if o.Act.Form == act.TurnRingGearAdjuster {
					m.back += r.Notches * travel
				} else {
					m.tooth += r.Notches * travel
				}
			case gauge.PinionTorque:
				if r.Method.Pull == act.Rotating && r.Tool != gauge.StringAndScale || w.torque == 0 {
					w.torque = r.Torques[len(r.Torques)-1].Nmm()
				}
			case gauge.Backlash:
				mean, _, _ := r.Summary()
				w.lash = mean.MM()
			case gauge.NutTorque:
				w.done.nutTight = r.Torques[0] >= w.k.Sheet.NutLow
			}
		}
		look, cure := cures(o.Act.Form)
		switch f := o.Act.Form; {
		case f == act.FitDepthShim:
			m.shim = w.k.Sheet.DepthShims.Nearest(amountMM(o.Act, 0))
			w.done.shimMeasured, w.done.heightRead = false, false
		case f == act.FitSideShims:
			m.back, m.tooth = w.k.Sheet.SideShims.Nearest(amountMM(o.Act, 0)), w.k.Sheet.SideShims.Nearest(amountMM(o.Act, 1))
		case f == act.FitPinion, f == act.RemovePinion:
			m.mockUp = f == act.FitPinion && o.Act.Choices[0] == act.MockUp
			w.torque, w.done.nutTight, w.done.heightRead = 0, false, false
		case f == act.TightenNutAngle, f == act.TightenNutTorque, f == act.LoosenNut:
			w.torque = 0
		case f == act.RemoveCase:
			w.done.opened = true
		case f == act.ReplaceCase, f == act.ReplaceSideBearings:
			w.lineMM, w.done.settled[act.InspectCones] = 0, true
		case cure:
			w.done.settled[look] = true
			if f == act.SeatCones {
				w.lineMM = 0
			}
			switch f {
			case act.SeatCups, act.ReplaceGears:
				w.done.rightShimMM = 0
			}
			if f == act.ReplaceGears {
				w.done.settled[act.MeasurePinionRunout] = true
			}
		}
	}
}

// lineAtMM is the end play below which a pack counts as at line-to-line.
const lineAtMM = 0.01

func amountMM(a act.Act, i int) float64 {
	l, _ := a.Amounts[i].Length()
	return l.MM()
}

// gauged notes the depth shim that a height asks for.
func (w *worker) gauged(shimMM, heightMM float64, mockUp bool) {
	if mockUp {
		heightMM += w.setUpTall
	}
	w.done.rightShimMM = shimMM + w.deeper()*(heightMM-w.k.WantedDistance().MM())
	w.done.heightRead = true
}

// wrongShim tells whether the gauge asks for another depth shim than the one in hand.
func (w *worker) wrongShim() bool {
	return w.done.rightShimMM != 0 && math.Abs(w.done.rightShimMM-w.bench.Status().DepthShim.MM()) > w.k.Sheet.DepthToleranceMM
}

// dragFits tells whether the drag that was read lies in its window.
func (w *worker) torqueFits() bool {
	spec := w.k.PinionTorqueSpec()
	return w.torque >= spec.LowNmm && w.torque <= spec.HighNmm
}

// takeUp brings the axle to a stage from which the job can be built on.
func (w *worker) takeUp() (from Stage, anew string) {
	cage := w.k.Design.DepthShim == family.UnderCageFlange
	undo := func(f act.Form, why string) {
		w.do(f)
		if anew == "" {
			anew = why
		}
	}
	if st := w.bench.Status(); st.CaseIn {
		if w.k.From == SidesSet && !w.done.opened {
			return SidesSet, ""
		}
		switch {
		case st.Pinion != history.PinionFinal:
			undo(act.RemoveCase, "takes case and pinion out: the case was put in over a trial build")
		case w.torque == 0:
			undo(act.RemoveCase, "takes the case out: the drag of this pinion had not been read since its nut was last moved")
		case !w.torqueFits() || st.NutBackedOff || w.solid() && !w.done.nutTight:
			undo(act.RemoveCase, "takes the case out: the pinion's preload is not right")
		case w.wrongShim() && !cage:
			undo(act.RemoveCase, "takes case and pinion out: the gauge asked for another depth shim")
		default:
			return PreloadSet, ""
		}
	}
	st := w.bench.Status()
	switch st.Pinion {
	case history.PinionMockUp:
		if !w.done.heightRead && !w.without(act.MeasureDepth) {
			w.gauged(st.DepthShim.MM(), firstLength(w.do(act.MeasureDepth)), true)
		}
		w.do(act.RemovePinion)
	case history.PinionFinal:
		if w.done.rightShimMM == 0 && !w.without(act.MeasureDepth) {
			w.gauged(st.DepthShim.MM(), firstLength(w.do(act.MeasureDepth)), false)
		}
		if w.wrongShim() {
			if cage {
				w.do(act.FitDepthShim, w.depthSize(w.k.Sheet.DepthShims.Nearest(w.done.rightShimMM)))
				break
			}
			undo(act.RemovePinion, "takes the pinion out: the gauge asks for another depth shim")
			w.torque = 0
			break
		}
		if st.NutBackedOff && !w.solid() {
			undo(act.RemovePinion, "takes the pinion out for a new spacer: its nut had been backed off")
			w.torque = 0
		}
	}
	if w.finalBuild() {
		return w.takeUpPreload(undo), anew
	}
	st = w.bench.Status()
	if w.done.rightShimMM == 0 {
		return Bare, anew
	}
	if next := w.k.Sheet.DepthShims.Nearest(w.done.rightShimMM); w.wrongShim() || st.DepthShim == 0 {
		w.do(act.FitDepthShim, w.depthSize(next))
	}
	return DepthSet, anew
}

// takeUpPreload goes on with a pinion in its final build and the case out.
func (w *worker) takeUpPreload(undo func(act.Form, string)) Stage {
	if w.solid() {
		if w.done.nutTight && w.torque != 0 && w.torqueFits() {
			return PreloadSet
		}
		return DepthSet // the pack that is in is read first
	}
	if w.torque == 0 {
		w.do(act.TurnPinion, count(5, quantity.UnitTurn))
		w.torque = math.Max(w.readTorque(gauge.PinionTorque), 1)
	}
	if w.torque > w.k.PinionTorqueSpec().HighNmm {
		undo(act.RemovePinion, "takes the pinion out for a new spacer: the drag was past its window")
		w.torque = 0
		return DepthSet
	}
	if w.torqueFits() {
		return PreloadSet
	}
	// Where there is end play a drag says nothing yet of the spacer.
	if w.torque < w.k.Sheet.SealDrag.HighNmm {
		w.torque = -1
	}
	return DepthSet
}

// sidesInHand goes on with the side shims that are in, or in hand.
func (w *worker) sidesInHand() {
	st := w.bench.Status()
	b, t := st.RingGearShim.MM(), st.OppositeShim.MM()
	if b == 0 {
		return
	}
	if !st.CaseIn {
		if w.lineMM != 0 && math.Abs(b+t-w.lineMM-w.k.Sheet.SidePreload.Mid()) > w.k.Sheet.SidePreload.Half() {
			return
		}
		w.spread()
		if w.do(act.FitCase).Wrong() {
			return
		}
	}
	if !w.bench.Status().CapsTight {
		w.do(act.TorqueCaps)
	}
	if w.lineMM == 0 {
		w.readLine(b + t)
	}
	if w.fitted = w.lineMM != 0; !w.fitted {
		w.do(act.RemoveCase)
	}
}
