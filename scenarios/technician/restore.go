package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// restore puts an axle right that a previous technician has signed for. It reads what a finished
// axle tells, takes nothing on its build sheet for read, and takes apart what reads wrong; an
// axle that reads right is left together.
func (w *worker) restore() {
	w.say(text.Say("technician.restore", "A previous technician built this axle. Read it before it comes apart, and take nothing on its build sheet for read."))
	w.patternFirst = !w.h.PatternLast
	w.k.To = Whole
	switch back := w.readFinished(); {
	case back == Whole && !w.h.Strips:
		w.say(text.Say("technician.restore.right", "All that a finished axle tells is right, so it stays together."))
		w.sheet(Whole)
		w.do(act.SignOff)
	case back >= PreloadSet && !w.h.Strips:
		w.do(act.RemoveCase)
		if w.torque = w.readTorque(gauge.PinionTorque); w.torqueFits() {
			w.finish(PreloadSet)
			return
		}
		w.do(act.RemovePinion)
		w.torque = 0
		w.finish(Bare)
	default:
		w.strip()
	}
}

// strip takes a finished axle apart and builds it anew.
func (w *worker) strip() {
	w.do(act.RemoveCase)
	w.do(act.RemovePinion)
	w.torque = 0
	w.patternFirst = !w.h.PatternLast
	w.k.To = Whole
	w.finish(Bare)
}

// readFinished reads a finished axle, and returns the stage that it has to go back to; Whole
// where all is right.
func (w *worker) readFinished() Stage {
	sh := w.k.Sheet
	to := Whole
	wrong := func(is bool, back Stage) {
		if is {
			to = min(to, back)
		}
	}
	w.tightenCaps()
	wrong(w.do(act.InspectCaps).Wrong(), PreloadSet)
	switch {
	case w.adjusters() && !w.h.Strips:
		// No reading tells their preload apart from the pinion's, and setting them costs little.
		w.setAdjusters()
	default:
		w.mountIndicator()
		wrong(w.readRunout() > sh.RunoutMM || w.do(act.MeasureRadialRunout).FirstMM() > sh.RunoutMM, PreloadSet)
		r, _ := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn)).Reading(gauge.Backlash)
		mean, least, most := r.Summary()
		w.lash = mean.MM()
		wrong(!sh.Backlash.Holds(w.lash) || (most-least).MM() > sh.BacklashSpreadMM, PreloadSet)
	}
	if !w.adjusters() && !w.without(act.MeasureSpread) {
		off := w.do(act.MeasureSpread).FirstMM()/spreadPerPreload - sh.SidePreload.Mid()
		wrong(math.Abs(off) > sh.SidePreload.Half(), PreloadSet)
	}
	if !w.solid() {
		w.say(text.Say("technician.restore.nut", "Does the nut hold? A hair tighter tells: one that was backed off moves long before its torque."))
		nut, _ := w.do(act.TightenNutAngle, count(0.5, quantity.UnitDegree)).Reading(gauge.NutTorque)
		const held = 0.75 // of what crushes a spacer
		wrong(nut.MeanTorque() < held*sh.NutLow, Bare)
		w.do(act.TurnPinion, count(5, quantity.UnitTurn))
	}
	spec := w.k.PinionTorqueSpec().Plus(sh.SideRise(w.k.UsedBearings))
	total := w.readTotal()
	wrong(total < spec.LowNmm || total > spec.HighNmm, PreloadSet)
	// Where the ring gear still has to move, a pattern tells little of the depth.
	if to == Whole && w.status().Pinion == history.PinionFinal {
		wrong(w.readPattern() != w.shim(), Bare)
	}
	return to
}
