package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/history"
)

// starter applies the marks to the old shim.
func (w *worker) starter() float64 {
	old, starter := w.k.OldDepthShim.MM(), w.k.StarterShim().MM()
	switch {
	case !w.k.Sheet.Marks.Known():
		w.say("No marks on these pinions: the old shim is all there is to start from.")
	case w.k.Sheet.Marks.ShimForMarkMM(1) > 0:
		w.say("The old shim carries the old mark; the new pinion has its own. The difference goes on the shim, and on this axle plus means add.")
	default:
		w.say("The old shim carries the old mark; the new pinion has its own. The difference goes on the shim, and on this axle plus means take away.")
	}
	return old + w.sign()*(starter-old)
}

// inHand fits a depth shim that measures as wanted and returns its marked size.
func (w *worker) inHand(wanted float64) float64 {
	stock := w.k.Sheet.DepthShims
	marked := stock.Nearest(wanted)
	if w.done.goesOn && w.done.shimMeasured && w.bench.Status().DepthShim.MM() == marked {
		return marked // measured already
	}
	if !w.done.goesOn || w.bench.Status().DepthShim.MM() != marked {
		w.do(act.FitDepthShim, w.depthSize(marked))
	}
	if w.without(act.MeasureDepthShim) {
		return marked
	}
	if measured := firstLength(w.do(act.MeasureDepthShim)); w.err == nil && math.Abs(measured-marked) > 0.6*stock.StepMM {
		w.say("The micrometer does not agree with the shim's marking; the micrometer counts.")
		marked = stock.Nearest(wanted - (measured - marked))
		w.do(act.FitDepthShim, w.depthSize(marked))
	}
	return marked
}

// depth fits the shim, reads the height in a trial build and corrects by what it
// shows. It leaves the pinion out with the corrected shim in hand, and returns the
// shim's marked size.
func (w *worker) depth(wanted float64) float64 {
	marked := w.inHand(wanted)
	if w.without(act.MeasureDepth) {
		return marked // a trial build would show nothing
	}
	w.do(act.FitPinion, act.MockUp)
	height := firstLength(w.do(act.MeasureDepth))
	w.do(act.RemovePinion)
	// The final bearing lets the pinion sit as much further out as the set-up
	// bearing is taller.
	return w.byHeight(marked, height+w.setUpTall)
}

func (w *worker) finalBuild() bool { return w.bench.Status().Pinion == history.PinionFinal }

// byHeight puts in the shim that a height asks for, and returns its marked size.
func (w *worker) byHeight(marked, heightMM float64) float64 {
	if w.err != nil {
		return marked
	}
	w.gaugedDepth = true
	off := heightMM - w.k.WantedDistance().MM()
	next := w.k.Sheet.DepthShims.Nearest(marked + w.sign()*w.deeper()*off)
	if next == marked || w.finalBuild() && math.Abs(off) < 0.6*w.k.Sheet.DepthToleranceMM {
		return marked
	}
	if w.deeper() > 0 {
		w.say("The gauge puts the pinion off its height. Too far out asks for a thicker shim, too deep for a thinner one.")
	} else {
		w.say("The gauge puts the pinion off its height. Under this flange a thicker shim lifts the pinion out, so too far out asks for a thinner one.")
	}
	w.do(act.FitDepthShim, w.depthSize(next))
	return next
}
