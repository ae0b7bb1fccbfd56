package technician

import (
	"math"
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// mocksUpCase tells whether the case goes into the mock-up for a contact pattern: where the
// same technician goes on to the finished axle, and where nothing else can tell the depth.
func (w *worker) mocksUpCase(to Stage) bool {
	return w.patternFirst && to == Whole || w.without(act.MeasureDepth) && to == DepthSet && !w.without(act.RollGears)
}

// mockUpPattern puts the case into the mock-up with a rough backlash, makes a contact pattern
// and corrects the depth shim by it, while that costs no spacer. It leaves the case out.
func (w *worker) mockUpPattern() {
	const tries = 3
	for range tries {
		if w.status().Pinion == history.PinionOut {
			w.do(act.FitPinion, act.MockUp)
		}
		w.say(text.Say("technician.mock-up", "Now the case goes into the mock-up, with a rough backlash, for a contact pattern. A wrong depth found here costs minutes. Found later, it costs a spacer, a nut and a seal."))
		w.roughSides()
		next := w.readPattern()
		w.do(act.RemoveCase)
		if w.err != nil || next == w.shim() {
			return
		}
		w.say(text.Say("technician.mock-up.off", "The pattern is high or low on both sides of the teeth. That is depth: another shim, and the mock-up once more."))
		w.do(act.RemovePinion)
		was := w.shim()
		w.changeShim(next)
		w.follow(w.shim() - was)
	}
}

// patternRead tells whether a pattern has been read on the depth shim in hand.
func (w *worker) patternRead() bool {
	return slices.ContainsFunc(w.seen, func(o history.Step) bool {
		_, read := o.Reading(gauge.Pattern)
		return read && o.Before.DepthShim == w.status().DepthShim
	})
}

// follow has the ring gear follow a change of the depth shim, mm, the next time it is placed,
// where the backlash that was read would not stay inside.
func (w *worker) follow(shimMM float64) {
	const margin = 0.15 // of the specification's half
	less := w.k.PerPinion() * w.deeper() * shimMM
	if b := w.k.Sheet.Backlash; w.lash == 0 || math.Abs(w.lash-less-b.Mid()) > (1-margin)*b.Half() {
		w.away += less / w.k.PerTravel()
	}
}

// roughSides puts the case into a mock-up: side bearings about as they will be, backlash near
// enough for a pattern.
func (w *worker) roughSides() {
	sh := w.k.Sheet
	if w.adjusters() {
		w.adjustersNear()
	} else {
		w.findSplit()
		w.findZero()
		w.placeCase(w.zeroMM + sh.SidePreload.Mid())
	}
	w.mountIndicator()
	const (
		right = 0.3 // half ranges from the middle
		near  = 2.0 // a pattern hardly moves for less
	)
	for i := range 3 {
		out := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn))
		if w.err != nil {
			return
		}
		// In the final assembly the pinion sits farther out by what the set-up bearing is taller.
		off := sh.Backlash.Mid() - meanLength(out) - w.setUpTall*w.k.PerPinion()
		binds := out.Felt(history.GearsBind)
		if !binds && math.Abs(off) <= right*sh.Backlash.Half() {
			return
		}
		travel := w.travel(off, binds)
		switch enough := !binds && math.Abs(off) <= near*sh.Backlash.Half() || i == 2; {
		case w.adjusters() && enough:
			w.away += travel
			return
		case w.adjusters():
			w.moveAdjusters(travel)
		default:
			w.split -= travel
			if enough {
				return
			}
			w.do(act.RemoveCase)
			w.placeCase(w.zeroMM + sh.SidePreload.Mid())
			w.mountIndicator()
		}
	}
}

// placeCase fits the case with the pair of side shims that is nearest to a total and to the
// split that is wanted, mm. Shims that are in stay where their total will do.
func (w *worker) placeCase(total float64) {
	if b, t := w.sideShims(); w.status().CaseIn && math.Abs(b+t-total) < w.mayStay() {
		w.split = (b - t) / 2
		w.tightenCaps()
		return
	}
	if w.status().CaseIn {
		w.do(act.RemoveCase)
	}
	const tries = 6
	for range tries {
		b, t := pair(w.k.Sheet.SideShims, total, w.split)
		if w.fitCase(b, t) {
			w.split = (b - t) / 2
			return
		}
		total -= w.k.Sheet.SideShims.StepMM
	}
}
