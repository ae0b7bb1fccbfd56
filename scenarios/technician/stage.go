package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Stage is how far an axle has been put together.
type Stage int

// The stages, in the order of the job. The zero value is a bare housing, and the last
// stage an axle that is signed off.
const (
	Bare       Stage = iota
	DepthSet         // the depth shim is in hand and the pinion out
	PreloadSet       // the pinion is in its final assembly, the case out
	SidesSet         // the case is in, preload and backlash set
	Whole            // contact pattern and total torque read, written down
)

// end is where a job ends; a job that says nothing goes all the way.
func (k Known) end() Stage {
	if k.To == Bare {
		return Whole
	}
	return k.To
}

// Work does the job from where it begins to where it ends, and signs. An axle that a previous
// technician has signed for it restores. The error is the first act the bench could not carry
// out; the bench keeps all that was done.
func Work(b Bench, k Known, h Habits) error {
	w := newWorker(b, k, h)
	switch {
	case h.NeverMeasures:
		w.blind()
	case k.SignedBefore:
		w.restore()
	default:
		w.patternFirst = !w.h.PatternLast
		w.finish(k.From)
	}
	return w.err
}

// Prepare does what comes before a stage of a job, and leaves the axle there with what was set
// written on the build sheet. Errors as Work.
func Prepare(b Bench, k Known, h Habits, to Stage) error {
	w := newWorker(b, k, h)
	w.build(Bare, to)
	if to > Bare {
		w.sheet(to)
	}
	return w.err
}

// finish builds the axle from a stage on, writes its sheet and signs.
func (w *worker) finish(from Stage) {
	w.build(from, w.k.end())
	w.sheet(w.k.end())
	w.do(act.SignOff)
}

// build brings the axle from one stage to another.
func (w *worker) build(from, to Stage) {
	shim := w.shim()
	if from == PreloadSet && w.rightShim == 0 {
		w.rightShim = shim // who built the pinion in has gauged it
	}
	w.inspect(from, to)
	if w.h.SidesFirst && from == Bare && to == Whole && w.status().Pinion == history.PinionOut {
		w.sidesFirst()
	}
	switch {
	case from == Bare && len(w.prints) > 0:
		shim = w.k.Sheet.DepthShims.Nearest(w.wantedShim())
	case from == Bare && !(w.goes && shim > 0):
		shim = w.starter()
	}
	const builds = 3
	for i := range builds {
		switch {
		case i > 0:
			w.changeShim(shim) // the pattern has told enough: it will tell again
		case from < DepthSet:
			w.setDepth(shim, to)
		}
		if to == DepthSet {
			return
		}
		if from == DepthSet && i == 0 && w.goes && w.k.From == Bare && !w.final() && !w.gaugesFinal() && w.mocksUpCase(to) && !w.patternRead() {
			w.mockUpPattern()
			if w.status().Pinion != history.PinionOut {
				w.do(act.RemovePinion)
			}
		}
		if from < PreloadSet {
			w.setPreload(from, i == 0)
		} else if from == PreloadSet && w.torque == 0 {
			w.torque = w.readTorque(gauge.PinionTorque)
		}
		if to == PreloadSet {
			return
		}
		switch {
		case from == SidesSet:
			w.takeOver()
		case w.adjusters():
			w.setAdjusters()
		default:
			w.setSides()
		}
		if to == SidesSet {
			return
		}
		next := w.readPattern()
		if w.cage() {
			w.correctCage(next)
			return
		}
		if w.err != nil || i == builds-1 || next == w.shim() {
			return
		}
		w.say(text.Say("technician.pattern.off", "The pattern is high or low on both sides of the teeth. That is depth, so the pinion has to come out again."))
		w.do(act.RemoveCase)
		w.do(act.RemovePinion)
		was := w.shim()
		shim = next
		w.follow(shim - was)
		from = Bare // but for the inspection, which has been done
	}
}

// setPreload builds the pinion in. It gauges the depth on the way where that has not been done
// and no pattern has spoken: a pattern outranks the gauge.
func (w *worker) setPreload(from Stage, gauging bool) {
	if w.solid() {
		w.setPreloadShims(gauging && !w.cage() && from < DepthSet)
	} else {
		w.crush()
	}
	if w.cage() && from < DepthSet && !w.without(act.MeasureDepth) {
		w.fitByGauge(w.shimByGauge(w.do(act.MeasureDepth).FirstMM()))
	}
}

// takeOver reads the backlash of a case that another technician has put in, and brings it right.
func (w *worker) takeOver() {
	st := w.status()
	w.tightenCaps()
	if w.adjusters() {
		w.zeroMM = (st.RingGearNotches+st.OppositeNotches)*w.k.Design.Rings.NotchTravelMM() - w.k.Sheet.SidePreload.Mid()
		w.readByAdjusters()
		return
	}
	w.zeroMM = st.RingGearShim.MM() + st.OppositeShim.MM() - w.k.Sheet.SidePreload.Mid()
	w.setSides()
}

// sheet writes down what has been set so far.
func (w *worker) sheet(to Stage) {
	st := w.status()
	lbin := func(nmm float64) quantity.Entered {
		return count(math.Round(quantity.Torque(nmm).InchPounds()*2)/2, quantity.UnitInchLb)
	}
	total := 0.0
	if to == Whole {
		w.say(text.Say("technician.sheet", "Total rotating torque with everything in, then the build sheet, then sign-off."))
		total = w.readTotal()
	}
	record := func(line act.Option, is bool, v quantity.Entered) {
		if is {
			w.do(act.RecordValue, line, v)
		}
	}
	record(act.DepthShimLine, true, w.depthSize(st.DepthShim.MM()))
	if w.solid() {
		record(act.PreloadShimsLine, to >= PreloadSet, size(w.k.Design.Solid.PreloadShims, st.PreloadShims.MM()))
	}
	if !w.adjusters() {
		record(act.RingGearShimLine, to >= SidesSet, w.sideSize(st.RingGearShim.MM()))
		record(act.OppositeShimLine, to >= SidesSet, w.sideSize(st.OppositeShim.MM()))
	}
	record(act.PinionTorqueLine, to >= PreloadSet && w.torque > 0, lbin(w.torque))
	record(act.TotalTorqueLine, to == Whole, lbin(total))
	record(act.BacklashLine, to >= SidesSet && w.lash > 0, inches(w.lash))
	record(act.RunoutLine, to >= SidesSet && w.faceRead, inches(w.runout))
	if w.pattern > 0 {
		record(act.PatternHeightLine, to == Whole, quantity.Entered{Number: math.Round(w.pattern*100) / 100, Unit: quantity.UnitShare})
	}
}

// readTotal reads the total rotating torque, once for the axle as it stands. Shafts of an axle
// that somebody else has had together may drag.
func (w *worker) readTotal() float64 {
	if w.total > 0 && w.totalAt == w.status().Changes {
		return w.total
	}
	if w.k.From == SidesSet && !w.since(act.InspectShafts) && w.do(act.InspectShafts).Wrong() {
		w.do(act.RemoveShafts)
	}
	w.total = w.readTorque(gauge.TotalTorque)
	w.totalAt = w.status().Changes
	return w.total
}

// blind fits what came out, tightens to a number and signs; what was there before it is signed
// for as it is.
func (w *worker) blind() {
	from, to := w.k.From, w.k.end()
	if from < DepthSet {
		w.do(act.FitDepthShim, w.depthSize(w.k.Sheet.DepthShims.Nearest(w.k.OldDepthShim.MM())))
	}
	if from < PreloadSet && to >= PreloadSet {
		if w.solid() {
			w.do(act.FitPreloadShims, size(w.k.Design.Solid.PreloadShims, w.k.OldPreloadShims.MM()))
		}
		w.do(act.FitPinion, act.Final)
		w.do(act.TightenNutTorque, NutTorque(w.k.Sheet.NutMid()))
	}
	if from < SidesSet && to >= SidesSet {
		w.blindSides()
	}
	w.do(act.SignOff)
}

func (w *worker) blindSides() {
	if w.adjusters() {
		w.do(act.FitCase)
		w.do(act.TurnOppositeAdjuster, act.In, count(3, quantity.UnitTurn))
	} else {
		// What does not go in is made thinner on the easy side until it does.
		stock, opposite := w.k.Sheet.SideShims, w.k.OldOppositeShim.MM()
		for range 20 {
			w.do(act.FitSideShims, w.sideSize(w.k.OldRingGearShim.MM()), w.sideSize(opposite))
			w.spread()
			if !w.do(act.FitCase).Wrong() {
				break
			}
			opposite = stock.Nearest(opposite - 3*stock.StepMM)
		}
	}
	w.do(act.TorqueCaps)
}
