package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// starter applies the marks to the old shim.
func (w *worker) starter() float64 {
	old, starter := w.k.OldDepthShim.MM(), w.k.StarterShim().MM()
	switch {
	case !w.k.Sheet.Marks.Known():
		w.say(text.Say("technician.starter.no-marks", "These pinions have no depth marks: the old shim is all there is to start from."))
	case w.k.Sheet.Marks.ShimForMarkMM(1) > 0:
		w.say(text.Say("technician.starter.plus-adds", "The old shim includes the old pinion's mark; the new pinion has its own. The difference goes on the shim, and on this axle a plus mark adds shim."))
	default:
		w.say(text.Say("technician.starter.plus-takes", "The old shim includes the old pinion's mark; the new pinion has its own. The difference goes on the shim, and on this axle a plus mark takes shim away."))
	}
	return old + w.sign()*(starter-old)
}

// takeShim takes a depth shim in hand that measures as wanted, by its marking and by what the
// shims before it measured above theirs.
func (w *worker) takeShim(wanted float64) {
	stock := w.k.Sheet.DepthShims
	marked := stock.Nearest(wanted)
	if w.goes && w.shim() == marked && w.since(act.MeasureDepthShim, act.FitDepthShim) {
		return // measured already
	}
	if w.shim() != marked {
		w.do(act.FitDepthShim, w.depthSize(marked))
	}
	if w.without(act.MeasureDepthShim) {
		return
	}
	measured := w.do(act.MeasureDepthShim).FirstMM()
	if off := measured - marked - w.lot; w.err == nil && math.Abs(off) > 0.6*stock.StepMM {
		w.lot += off
		w.say(text.Say("technician.shim-off-its-mark", "The micrometer does not agree with the shim's marking. The micrometer counts."))
		w.do(act.FitDepthShim, w.depthSize(stock.Nearest(wanted-off)))
	}
}

// changeShim goes from the depth shim that has come out to another by its marking. The one that
// came out is measured too, where no shim of the lot has been.
func (w *worker) changeShim(marked float64) {
	if w.since(act.MeasureDepthShim) || w.without(act.MeasureDepthShim) {
		w.takeShim(marked)
		return
	}
	w.lot = w.do(act.MeasureDepthShim).FirstMM() - w.shim()
	w.takeShim(marked)
}

// gaugeMockUp measures the depth in a mock-up and takes the shim in hand that it asks for. It
// leaves the mock-up in where that shim is the one that is in it.
func (w *worker) gaugeMockUp() {
	if w.without(act.MeasureDepth) {
		return // there is nothing to measure it with
	}
	w.do(act.FitPinion, act.MockUp)
	distance := w.do(act.MeasureDepth).FirstMM()
	// The final bearing lets the pinion sit as much farther out as the set-up bearing is
	// taller.
	if next := w.shimByGauge(distance + w.setUpTall); next != w.shim() {
		w.do(act.RemovePinion)
		w.fitByGauge(next)
	}
}

// shimByGauge returns the stocked shim that a checking distance asks for, as it is marked, mm.
func (w *worker) shimByGauge(distanceMM float64) float64 {
	if w.err != nil {
		return w.shim()
	}
	w.gaugedDepth = true
	off := distanceMM - w.k.WantedDistance().MM()
	w.rightShim = w.shim() + w.sign()*w.deeper()*off
	if w.status().Pinion == history.PinionFinal && math.Abs(off) < 0.6*w.k.Sheet.DepthToleranceMM {
		return w.shim()
	}
	return w.k.Sheet.DepthShims.Nearest(w.rightShim)
}

// fitByGauge fits the shim that the gauge asks for.
func (w *worker) fitByGauge(mm float64) {
	if w.err != nil || mm == w.shim() {
		return
	}
	if w.deeper() > 0 {
		w.say(text.Say("technician.gauge.thicker-deeper", "The gauge shows the pinion off its checking distance. Too far out asks for a thicker shim, too deep for a thinner one."))
	} else {
		w.say(text.Say("technician.gauge.thicker-out", "The gauge shows the pinion off its checking distance. Under this flange a thicker shim lifts the pinion out, so too far out asks for a thinner one."))
	}
	w.do(act.FitDepthShim, w.depthSize(mm))
}

// gaugesFinal tells whether the depth can be measured and put right in a final assembly.
func (w *worker) gaugesFinal() bool { return w.solid() || w.cage() }

// setDepth chooses the depth shim. A crushed spacer makes a final assembly dear, so depth and
// contact pattern are read in a mock-up first; a cage, or a solid spacer, lets the depth be
// measured in the final one, unless the job ends here. It leaves the pinion out.
func (w *worker) setDepth(wantedMM float64, to Stage) {
	if len(w.prints) > 0 {
		w.changeShim(wantedMM)
	} else {
		w.takeShim(wantedMM)
	}
	if to != DepthSet && w.gaugesFinal() {
		return
	}
	w.gaugeMockUp()
	if w.mocksUpCase(to) {
		w.mockUpPattern()
	}
	if w.status().Pinion != history.PinionOut {
		w.do(act.RemovePinion)
	}
}
