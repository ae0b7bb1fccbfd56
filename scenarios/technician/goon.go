package technician

import (
	"errors"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// ErrSignedOff is returned by GoOn for a job that is closed.
var ErrSignedOff = errors.New("the axle is signed off: there is nothing to go on with")

// GoOn takes a job up where another technician has left it and does the rest as the reference
// technician would. before is what was done and read before the job was handed out, where that
// is known, and since what the other has done. What is in hand or built in is used unless a
// reading says that it is wrong; anew tells, as a clause about the technician, what of the work
// was undone or done again because it could not be relied on, and says nothing where the job
// simply went on. Errors as Work, and ErrSignedOff.
func GoOn(b Bench, k Known, h Habits, before, since []history.Step) (anew text.Message, err error) {
	if b.Status().SignedOff {
		return anew, ErrSignedOff
	}
	w := newWorker(b, k, h)
	w.goes, w.patternFirst = true, !w.h.PatternLast
	for _, o := range before {
		w.recall(o)
	}
	opened := false
	for _, o := range since {
		w.recall(o)
		opened = opened || o.Act.Form == act.RemoveCase
	}
	if k.SignedBefore && !opened {
		w = newWorker(b, k, h)
		w.strip()
		return text.Say("technician.anew.strips", "strips the axle and builds it anew: nothing of a previous technician's work is taken for read"), w.err
	}
	from, anew := w.takeUp(opened)
	w.say(text.Say("technician.go-on", "The job goes on where it stands."))
	w.finish(from)
	return anew, w.err
}

// settles is the inspection that an act leaves nothing of.
func settles(f act.Form) (inspection act.Form, is bool) {
	switch f {
	case act.SeatCups:
		return act.InspectCups, true
	case act.WashBearings, act.ReplaceBearings:
		return act.InspectBearings, true
	case act.ReplaceSpacer:
		return act.InspectSpacer, true
	case act.ReplaceSeal:
		return act.InspectSeal, true
	case act.SeatCones, act.ReplaceCase, act.ReplaceSideBearings:
		return act.InspectCones, true
	case act.MatchCaps:
		return act.InspectCaps, true
	case act.CleanShimSeat:
		return act.InspectShimSeat, true
	case act.CleanRingGear:
		return act.InspectBolts, true
	case act.ReplaceGears:
		return act.InspectGears, true
	}
	return 0, false
}

// sidesMM is how far the two sides are filled, shims and adjusters, mm.
func (w *worker) sidesMM(st history.Status) float64 {
	return st.RingGearShim.MM() + st.OppositeShim.MM() + (st.RingGearNotches+st.OppositeNotches)*w.k.Design.Rings.NotchTravelMM()
}

// recall takes in a step that was done before.
func (w *worker) recall(o history.Step) {
	w.seen = append(w.seen, o)
	for _, r := range o.Readings {
		switch r.Kind {
		case gauge.CupSeats, gauge.ShimSeat, gauge.BearingCondition, gauge.SpacerCondition, gauge.SealLip, gauge.ConeSeats, gauge.CapMarks, gauge.RingGearBolts, gauge.MatchNumbers:
			// A second finding of one inspection stands beside the first.
			w.settled[o.Act.Form] = !o.Wrong()
		case gauge.RingGearTag, gauge.SlingerPlace:
			if r.Wrong() { // beside the reading before
				w.settled[o.Act.Form] = false
			}
		case gauge.GaugeBlock, gauge.IndicatorArm:
			w.settled[o.Act.Form] = true
		case gauge.Runout:
			w.runout, w.faceRead, w.faceAt = r.Lengths[0].MM(), true, gearState(o.After)
		case gauge.RadialRunout:
			w.rim, w.rimAt = r.Lengths[0].MM(), gearState(o.After)
		case gauge.PinionRunout:
			w.settled[o.Act.Form] = r.Lengths[0].MM() <= fault.PinionRunoutLimitMM(w.k.Sheet)
		case gauge.BearingHeights:
			w.setUpTall, w.settled[o.Act.Form] = r.Lengths[0].MM(), true
		case gauge.Depth:
			w.recallDepth(o.Before, r.Lengths[0].MM())
		case gauge.Pattern:
			// With the ring gear far from its place a pattern tells little of the depth.
			b := w.k.Sheet.Backlash
			placed := math.Abs(w.lash-b.Mid()) <= 2*b.Half()
			if r.Method.Load == act.Braked && r.Method.Coat == act.Thin && placed {
				w.keep(r, o.Before)
			}
		case gauge.CaseEndPlay:
			if play := r.Lengths[0].MM(); play > zeroAtMM && !o.Felt(history.CaseFast) {
				w.zeroMM = w.sidesMM(o.After) + play
			}
		case gauge.HousingSpread:
			if grown := r.Lengths[0].MM(); grown >= leastSpreadMM {
				w.zeroMM = w.sidesMM(o.After) - grown/spreadPerPreload
			}
		case gauge.PinionTorque:
			if r.Method.Pull != act.Rotating || o.Before.Nut.Unsettled || w.greased {
				break // it says little of the preload
			}
			read := r.Torques[len(r.Torques)-1].Nmm()
			switch {
			case r.Tool != gauge.StringAndScale || w.torque == 0:
				w.torque = read
			case !toolsApart(w.torque, read):
				w.crossed = true
			}
			if o.Before.Nut.Torque >= w.k.Sheet.NutLow {
				w.told = append(w.told, told{o.Before.PreloadShims.MM(), o.Before.DepthShim.MM(), w.torque})
			}
		case gauge.Backlash:
			mean, _, _ := r.Summary()
			w.lash = mean.MM()
			if m := r.Method; m.Place == act.Heel && m.Plunger == act.Square && m.Pinion == act.PinionHeld && len(r.Lengths) > 2 && !o.Felt(history.GearsBind) {
				w.lashAt = lashState(o.After)
			}
		}
	}
	if inspection, is := settles(o.Act.Form); is {
		w.settled[inspection] = true
	}
	switch o.Act.Form {
	case act.FitPinion, act.RemovePinion, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut:
		w.torque = 0
	case act.GreaseBearings:
		w.greased, w.settled[act.InspectBearings] = true, false
	case act.WashBearings, act.ReplaceBearings:
		w.greased, w.told = false, nil
	case act.SeatCups:
		w.told = nil
	case act.SeatCones, act.ReplaceCase, act.ReplaceSideBearings:
		w.zeroMM = 0
	case act.ReplaceGears:
		w.settled[act.MeasurePinionRunout], w.told = true, nil
	}
	w.forget(o.Act.Form)
}

// recallDepth notes the depth shim that a checking distance asks for.
func (w *worker) recallDepth(st history.Status, distanceMM float64) {
	if st.Pinion == history.PinionMockUp {
		distanceMM += w.setUpTall
	}
	w.rightShim = st.DepthShim.MM() + w.deeper()*(distanceMM-w.k.WantedDistance().MM())
}

// gaugedSince tells whether the depth of this build has been measured.
func (w *worker) gaugedSince() bool {
	return w.since(act.MeasureDepth, act.FitPinion, act.RemovePinion, act.FitDepthShim)
}

// asked is the depth shim that was asked for by all that was read, mm, 0 where nothing was: a
// pattern outranks the gauge.
func (w *worker) asked() float64 {
	if w.rightShim != 0 && len(w.prints) > 0 {
		return w.wantedShim()
	}
	return w.rightShim
}

// wrongShim tells whether what was read asks for another depth shim than the one in hand.
func (w *worker) wrongShim() bool {
	if w.rightShim != 0 && w.shim() != 0 && w.patternRead() && len(w.prints) > 0 {
		return math.Abs(w.likelyOff()) > enoughFinal*w.k.Sheet.PatternHeight.Half()
	}
	return w.rightShim != 0 && math.Abs(w.asked()-w.shim()) > w.k.Sheet.DepthToleranceMM
}

// A placing is what the backlash depends on.
type placing struct{ builds, parts, depth, sides int }

func lashState(st history.Status) placing {
	return placing{st.Builds, st.Changes.Parts, st.Changes.Depth, st.Changes.Sides}
}

// gearState counts what the runout of the ring gear depends on.
func gearState(st history.Status) int { return st.Changes.Parts + st.Changes.Depth }

// trueGear tells whether the ring gear has been read, as it is in now, and runs true.
func (w *worker) trueGear() bool {
	now, most := gearState(w.status()), w.k.Sheet.RunoutMM
	return w.goes && w.faceRead && w.faceAt == now && w.runout <= most && w.rimAt == now && w.rim <= most
}

// torqueFits tells whether the torque that was read is in specification.
func (w *worker) torqueFits() bool {
	spec := w.k.PinionTorqueSpec()
	return w.torque >= spec.LowNmm && w.torque <= spec.HighNmm
}

func (w *worker) final() bool { return w.status().Pinion == history.PinionFinal }

// takeUp brings the axle to a stage from which the job can be built on.
func (w *worker) takeUp(opened bool) (from Stage, anew text.Message) {
	undo := func(f act.Form, why text.Message) {
		w.do(f)
		if anew.IsZero() {
			anew = why
		}
	}
	if st := w.status(); st.CaseIn {
		if w.k.From == SidesSet && !opened {
			return SidesSet, anew
		}
		nutLoose := w.solid() && st.Nut.Torque < w.k.Sheet.NutLow
		switch {
		case st.Pinion != history.PinionFinal && w.k.end() == Whole && w.mocksUpCase(Whole) && !w.gaugesFinal():
			w.do(act.RemoveCase) // a case in a mock-up is the way to a pattern
		case st.Pinion != history.PinionFinal:
			undo(act.RemoveCase, text.Say("technician.anew.mock-up", "takes case and pinion out: the case was put in over a mock-up"))
		case w.torque == 0 || w.greased:
			undo(act.RemoveCase, text.Say("technician.anew.unread", "takes the case out: the torque of this pinion had not been read since its nut was last moved"))
		case !w.torqueFits() || st.NutBackedOff || nutLoose:
			undo(act.RemoveCase, text.Say("technician.anew.preload", "takes the case out: pinion bearing preload is not right"))
		case w.wrongShim() && !w.cage():
			undo(act.RemoveCase, text.Say("technician.anew.depth-case", "takes case and pinion out: the depth gauge asked for another depth shim"))
		default:
			return PreloadSet, anew
		}
	}
	w.takeUpPinion(undo)
	if w.final() {
		return w.takeUpPreload(undo), anew
	}
	if w.rightShim == 0 {
		return Bare, anew
	}
	if next := w.k.Sheet.DepthShims.Nearest(w.asked()); w.wrongShim() || w.shim() == 0 {
		w.do(act.FitDepthShim, w.depthSize(next))
	}
	w.gaugedDepth = true
	return DepthSet, anew
}

// takeUpPinion goes on with a pinion that is in and the case out: it leaves in a final assembly
// that can be used, and takes any other out.
func (w *worker) takeUpPinion(undo func(act.Form, text.Message)) {
	st := w.status()
	switch st.Pinion {
	case history.PinionMockUp:
		if !w.gaugedSince() && !w.without(act.MeasureDepth) {
			w.recallDepth(st, w.do(act.MeasureDepth).FirstMM())
		}
		w.do(act.RemovePinion)
	case history.PinionFinal:
		if w.rightShim == 0 && !w.without(act.MeasureDepth) {
			w.recallDepth(st, w.do(act.MeasureDepth).FirstMM())
		}
		switch {
		case w.wrongShim() && w.cage():
			w.do(act.FitDepthShim, w.depthSize(w.k.Sheet.DepthShims.Nearest(w.asked())))
		case w.wrongShim():
			undo(act.RemovePinion, text.Say("technician.anew.depth", "takes the pinion out: the depth gauge asks for another depth shim"))
			w.torque = 0
		case w.greased:
			undo(act.RemovePinion, text.Say("technician.anew.greased", "takes the pinion out: its bearings were packed in grease"))
			w.torque = 0
		case st.NutBackedOff && !w.solid():
			undo(act.RemovePinion, text.Say("technician.anew.backed-off", "takes the pinion out for a new spacer: its nut had been backed off"))
			w.torque = 0
		}
	}
}

// takeUpPreload goes on with a pinion in its final assembly and the case out.
func (w *worker) takeUpPreload(undo func(act.Form, text.Message)) Stage {
	w.gaugedDepth = w.rightShim != 0
	if w.solid() {
		if w.status().Nut.Torque >= w.k.Sheet.NutLow && w.torque != 0 && w.torqueFits() {
			return PreloadSet
		}
		return DepthSet // the preload shims that are in are read first
	}
	if w.torque == 0 {
		w.do(act.TurnPinion, count(5, quantity.UnitTurn))
		w.torque = math.Max(w.readTorque(gauge.PinionTorque), 1)
	}
	if w.torque > w.k.PinionTorqueSpec().HighNmm {
		undo(act.RemovePinion, text.Say("technician.anew.too-far", "takes the pinion out for a new spacer: its torque was above the specification"))
		w.torque = 0
		return DepthSet
	}
	if w.torqueFits() {
		return PreloadSet
	}
	// Where there is end play a torque says nothing yet of the spacer.
	if w.torque < w.k.Sheet.SealDrag.HighNmm {
		w.torque = -1
	}
	return DepthSet
}

// sidesInHand goes on with the side shims that are in, or in hand.
func (w *worker) sidesInHand() {
	b, t := w.sideShims()
	if b == 0 {
		return
	}
	if !w.status().CaseIn {
		w.spread()
		if w.do(act.FitCase).Wrong() {
			return
		}
	}
	w.tightenCaps()
	if w.readZero(b + t); w.zeroMM == 0 {
		w.do(act.RemoveCase)
	}
}
