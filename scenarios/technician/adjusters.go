package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// notches is how far the bearing adjusters are in, ring-gear side and opposite side, since they
// were first run up.
func (w *worker) notches() (ringGear, opposite float64) {
	st := w.status()
	return st.RingGearNotches, st.OppositeNotches
}

// adjustersNear runs the adjusters up, takes the play out and brings them where preload and
// backlash should be, with the caps torqued.
func (w *worker) adjustersNear() {
	sh, travel := w.k.Sheet, w.k.Design.Rings.NotchTravelMM()
	if st := w.status(); !st.CaseIn {
		w.do(act.FitCase)
	} else if st.CapsTight {
		w.do(act.LoosenCaps)
	}
	b, t := w.notches()
	diff := b - t
	const (
		usualAwayMM = 0.35 // adjusters run up by hand leave the gear about so far out
		farMM       = 1.0  // beyond: whoever moved it there did not know why
	)
	if usual := 2 * usualAwayMM / travel; b == 0 && t == 0 || w.goes && math.Abs(diff-usual)*travel/2 > farMM {
		diff = usual
	}
	diff -= 2 * w.away / travel
	w.away = 0
	if w.zeroMM == 0 {
		w.testIndicator()
		w.say(text.Say("technician.adjusters.zero", "The adjusters are run up by hand. The end play that is left, in notches, is where preload begins to count."))
		if b != 0 || t != 0 {
			// Set by another technician: out until there is play to read.
			const looseMM = 0.15
			w.do(act.TurnOppositeAdjuster, act.Out, count(math.Ceil((sh.SidePreload.HighMM+looseMM)/travel), quantity.UnitTurn))
		}
		if w.without(act.MeasureEndPlay) {
			w.adjustersByFeel()
		} else {
			out := w.do(act.MeasureEndPlay)
			b, t = w.notches()
			w.zeroMM = (b + t) * travel
			if !out.Felt(history.CaseFast) {
				w.zeroMM += out.FirstMM()
			}
		}
	}
	w.adjustersTo((w.zeroMM+sh.SidePreload.Mid())/travel, diff)
	w.do(act.TorqueCaps)
}

// setAdjusters sets side bearing preload and backlash by the adjusters.
func (w *worker) setAdjusters() {
	w.adjustersNear()
	w.readByAdjusters()
}

// readByAdjusters reads the ring gear's runout, puts it right, and sets backlash by the adjusters
// from where they stand.
func (w *worker) readByAdjusters() {
	w.mountIndicator()
	w.gearOK, w.gearRead = w.trueGear(), w.trueGear()
	for w.checkRunout() {
		w.do(act.FitCase)
		w.do(act.TorqueCaps)
		w.mountIndicator()
	}
	w.setBacklashByAdjusters()
}

// setBacklashByAdjusters reads backlash and moves both adjusters until it is in specification.
func (w *worker) setBacklashByAdjusters() {
	sh, travel := w.k.Sheet, w.k.Design.Rings.NotchTravelMM()
	const tries = 7
	for i := range tries {
		out := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn))
		w.lash = meanLength(out)
		const hopelessMM = 0.8   // past its specification: whoever moved it there does not know why
		left := w.goes && i == 0 // by another, who may not have known
		if w.err != nil || i == tries-1 || w.lash > sh.Backlash.HighMM+hopelessMM && !left {
			return
		}
		margin := 0.1 * sh.Backlash.Half()
		if w.lash >= sh.Backlash.LowMM+margin && w.lash <= sh.Backlash.HighMM-margin {
			return
		}
		away := w.travel(sh.Backlash.Mid()-w.lash, out.Felt(history.GearsBind))
		const mostMM = 0.3 // at once, with a reading after it
		if !left {
			away = math.Max(-mostMM, math.Min(mostMM, away))
		}
		b, t := w.notches()
		if nb, nt := w.nearestNotches((w.zeroMM+sh.SidePreload.Mid())/travel, b-t-2*away/travel); nb == b && nt == t {
			return
		}
		w.moveAdjusters(away)
	}
}

// moveAdjusters moves the ring gear away from the pinion, mm, and keeps the preload.
func (w *worker) moveAdjusters(away float64) {
	travel := w.k.Design.Rings.NotchTravelMM()
	b, t := w.notches()
	w.do(act.LoosenCaps)
	w.adjustersTo((w.zeroMM+w.k.Sheet.SidePreload.Mid())/travel, b-t-2*away/travel)
	w.do(act.TorqueCaps)
}

// nearestNotches returns the two adjuster positions, in half notches, that are best for a sum
// and a difference, both counted in half ranges of the sheet: the sum is the preload, the
// difference the backlash.
func (w *worker) nearestNotches(sum, diff float64) (ringGear, opposite float64) {
	sh, travel := w.k.Sheet, w.k.Design.Rings.NotchTravelMM()
	best := math.Inf(1)
	for n := math.Round(2*sum) - 1; n <= math.Round(2*sum)+1; n++ {
		for k := math.Round((n+2*diff)/2) - 1; k <= math.Round((n+2*diff)/2)+1; k++ {
			b, t := k/2, (n-k)/2
			preload := (b + t - sum) * travel / sh.SidePreload.Half()
			lash := (b - t - diff) / 2 * travel * w.k.PerTravel() / sh.Backlash.Half()
			if miss := preload*preload + lash*lash; miss < best-1e-9 {
				best, ringGear, opposite = miss, b, t
			}
		}
	}
	return ringGear, opposite
}

// adjustersTo turns the adjusters to a sum and a difference of notches, the outgoing one first.
func (w *worker) adjustersTo(sum, diff float64) {
	b, t := w.nearestNotches(sum, diff)
	atB, atT := w.notches()
	move := func(f act.Form, n float64) {
		switch {
		case n > 0:
			w.do(f, act.In, count(n, quantity.UnitTurn))
		case n < 0:
			w.do(f, act.Out, count(-n, quantity.UnitTurn))
		}
	}
	if t < atT {
		move(act.TurnOppositeAdjuster, t-atT)
		move(act.TurnRingGearAdjuster, b-atB)
	} else {
		move(act.TurnRingGearAdjuster, b-atB)
		move(act.TurnOppositeAdjuster, t-atT)
	}
}
