package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// setRings runs the rings up, takes the play out, and moves both until backlash and
// preload are where they belong.
func (w *worker) setRings() {
	sh, travel := w.k.Sheet, w.k.Design.Rings.NotchTravelMM()
	if st := w.bench.Status(); !st.CaseIn {
		w.do(act.FitCase)
	} else if st.CapsTight {
		w.do(act.LoosenCaps)
	}
	diff := w.back - w.tooth
	if w.back == 0 && w.tooth == 0 {
		const usualAwayMM = 0.35 // hand-run rings leave the gear about so far out
		diff = 2 * usualAwayMM / travel
	}
	diff -= 2 * w.away / travel
	w.away = 0
	if w.lineMM == 0 {
		w.say("The rings are run up by hand. What play is left, in slots, is where preload begins to count.")
		if w.back != 0 || w.tooth != 0 {
			// Set by another hand: out until there is play to read.
			const looseMM = 0.15
			n := math.Ceil((sh.SidePreload.HighMM + looseMM) / travel)
			w.do(act.TurnOppositeAdjuster, act.Out, count(n, quantity.UnitTurn))
			w.tooth -= n
		}
		// Position zero is where the hands first left them.
		if w.without(act.MeasureEndPlay) {
			w.ringsByFeel()
		} else {
			w.lineMM = firstLength(w.do(act.MeasureEndPlay)) + (w.back+w.tooth)*travel
		}
	}
	total := w.lineMM + sh.SidePreload.Mid()
	w.ringsTo(total/travel, diff)
	w.do(act.TorqueCaps)
	w.do(act.MountIndicator, act.Heel, act.Square, act.PinionHeld)
	w.do(act.TestIndicator)
	w.gearOK = false
	for w.checkRunout() {
		w.do(act.FitCase)
		w.do(act.TorqueCaps)
		w.do(act.MountIndicator, act.Heel, act.Square, act.PinionHeld)
	}
	w.moveRings()
}

// moveRings reads the backlash and moves both rings until it is where it belongs.
func (w *worker) moveRings() {
	sh, travel := w.k.Sheet, w.k.Design.Rings.NotchTravelMM()
	total := w.lineMM + sh.SidePreload.Mid()
	const tries = 7
	for i := range tries {
		out := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn))
		mean := meanLength(out)
		w.lash = mean
		const hopelessMM = 0.8 // past its window: whoever moved it there does not know why
		if w.err != nil || i == tries-1 || mean > sh.Backlash.HighMM+hopelessMM {
			return
		}
		margin := 0.1 * sh.Backlash.Half()
		if mean >= sh.Backlash.LowMM+margin && mean <= sh.Backlash.HighMM-margin {
			return
		}
		away := (sh.Backlash.Mid() - mean) / w.k.PerTravel()
		if out.Felt(history.GearsBind) {
			away = 4 * travel
		}
		const mostMM = 0.3 // in one go, with a reading after it
		away = math.Max(-mostMM, math.Min(mostMM, away))
		away *= w.sign()
		if w.h.WrongMoveOnce && !w.wrongDone {
			w.wrongDone = true
			away = -away
			w.say("Backlash is off, so one ring goes out and the other in. (This move is the wrong way round, to show what that looks like.)")
		} else {
			w.say("Backlash is off. One ring out and the other in by as many slots keeps the preload; in at the back brings the ring gear closer and takes backlash away.")
		}
		diff := w.back - w.tooth - 2*away/travel
		if b, t := w.nearestNotches(total/travel, diff); b == w.back && t == w.tooth {
			return
		}
		w.do(act.LoosenCaps)
		w.ringsTo(total/travel, diff)
		w.do(act.TorqueCaps)
	}
}

// nearestSlots returns the two ring positions, in half slots, that are best for a sum and
// a difference, both counted in half windows of the sheet: the sum is the preload, the
// difference the backlash.
func (w *worker) nearestNotches(sum, diff float64) (back, tooth float64) {
	sh, travel := w.k.Sheet, w.k.Design.Rings.NotchTravelMM()
	best := math.Inf(1)
	for n := math.Round(2*sum) - 1; n <= math.Round(2*sum)+1; n++ {
		for k := math.Round((n+2*diff)/2) - 1; k <= math.Round((n+2*diff)/2)+1; k++ {
			b, t := k/2, (n-k)/2
			fit := (b + t - sum) * travel / sh.SidePreload.Half()
			lash := (b - t - diff) / 2 * travel * w.k.PerTravel() / sh.Backlash.Half()
			if miss := fit*fit + lash*lash; miss < best-1e-9 {
				best, back, tooth = miss, b, t
			}
		}
	}
	return back, tooth
}

// ringsTo turns the rings to a sum and difference of slots, the outgoing one first.
func (w *worker) ringsTo(sum, diff float64) {
	b, t := w.nearestNotches(sum, diff)
	move := func(f act.Form, n float64) {
		switch {
		case n > 0:
			w.do(f, act.In, count(n, quantity.UnitTurn))
		case n < 0:
			w.do(f, act.Out, count(-n, quantity.UnitTurn))
		}
	}
	if t < w.tooth {
		move(act.TurnOppositeAdjuster, t-w.tooth)
		move(act.TurnRingGearAdjuster, b-w.back)
	} else {
		move(act.TurnRingGearAdjuster, b-w.back)
		move(act.TurnOppositeAdjuster, t-w.tooth)
	}
	st := w.bench.Status()
	w.back, w.tooth = st.RingGearNotches, st.OppositeNotches
}
