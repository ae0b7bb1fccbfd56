package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// sideShims are the side shims in hand, ring-gear side and opposite side, mm.
func (w *worker) sideShims() (ringGear, opposite float64) {
	st := w.status()
	return st.RingGearShim.MM(), st.OppositeShim.MM()
}

// fitCase fits the case with a pair of side shims and torques its caps. It returns false where
// the case does not go in.
func (w *worker) fitCase(ringGear, opposite float64) bool {
	if b, t := w.sideShims(); b != ringGear || t != opposite || !w.fittedBefore() {
		w.do(act.FitSideShims, w.sideSize(ringGear), w.sideSize(opposite))
	}
	w.spread()
	if w.do(act.FitCase).Wrong() {
		return false
	}
	w.do(act.TorqueCaps)
	return true
}

// tightenCaps torques caps that are only snug.
func (w *worker) tightenCaps() {
	if !w.status().CapsTight {
		w.do(act.TorqueCaps)
	}
}

// fittedBefore tells whether the side shims in hand went in with this pinion or the one before:
// they need not be chosen again.
func (w *worker) fittedBefore() bool { return w.status().CaseFits > 0 }

// spread opens a housing that takes a spreader, well inside its limit.
func (w *worker) spread() {
	if w.k.Design.Entry == family.Spreader {
		const share = 0.85
		w.do(act.SpreadHousing, inches(share*w.k.Sheet.SpreadLimitMM))
	}
}

// mountIndicator sets the indicator up for backlash.
func (w *worker) mountIndicator() {
	w.testIndicator()
	w.do(act.MountIndicator, act.Heel, act.Square, act.PinionHeld)
}

// testIndicator tests the indicator before anything is read with it.
func (w *worker) testIndicator() {
	if !w.settled[act.TestIndicator] {
		w.do(act.TestIndicator)
		w.settled[act.TestIndicator] = true
	}
}

// findSplit takes the split of the side shims from those that came out, or that are in hand.
func (w *worker) findSplit() {
	if !w.splitSet {
		w.split, w.splitSet = (w.k.OldRingGearShim.MM()-w.k.OldOppositeShim.MM())/2, true
		if b, t := w.sideShims(); w.goes && b > 0 {
			w.split = (b - t) / 2
		}
	}
	w.split -= w.away
	w.away = 0
}

// sidesFirst finds the side bearing preload before the pinion goes in: then no tooth can take
// up end play. It leaves the case out.
func (w *worker) sidesFirst() {
	if w.adjusters() {
		w.adjustersNear()
	} else {
		w.findSplit()
		w.findZero()
	}
	if w.status().CaseIn {
		w.do(act.RemoveCase)
	}
}

// findZero finds the side total at zero end play. It leaves the case out, but for shims that
// may stay.
func (w *worker) findZero() {
	if w.zeroMM != 0 {
		return
	}
	w.testIndicator()
	byPlay := !w.without(act.MeasureEndPlay)
	if !w.without(act.MeasureSpread) && (w.k.Design.SideAdjust == family.InsideShims || !byPlay) {
		w.full()
	}
	if w.zeroMM == 0 && !byPlay {
		w.zeroByFeel()
	}
	if w.zeroMM != 0 {
		return
	}
	w.say(text.Say("technician.zero", "First a pair of side shims that leaves the case loose. Their total plus the end play is the total at zero end play, and preload goes on top of that."))
	slack := 0.15
	for range 3 {
		old := w.k.OldRingGearShim.MM() + w.k.OldOppositeShim.MM()
		b, t := pair(w.k.Sheet.SideShims, old-w.k.Sheet.SidePreload.Mid()-slack, w.split)
		w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
		in := w.do(act.FitCase)
		if in.Wrong() {
			slack += 0.2
			continue
		}
		w.do(act.TorqueCaps)
		out := w.do(act.MeasureEndPlay)
		play := out.FirstMM()
		w.do(act.RemoveCase)
		if w.err != nil {
			return
		}
		// The indicator shows its own floor where the case does not move.
		moves := play > zeroAtMM && !out.Felt(history.CaseFast)
		w.zeroMM = b + t
		if moves {
			w.zeroMM += play
		}
		// Side shims that let the case drop in and have no play are at zero end play themselves.
		if moves || in.Found(gauge.DropsIn) {
			return
		}
		slack += 0.15
	}
}

// zeroAtMM is the end play below which a total counts as that of zero end play.
const zeroAtMM = 0.01

// setSides fits the side shims and moves the ring gear until backlash is in specification.
func (w *worker) setSides() {
	sh := w.k.Sheet
	stock := sh.SideShims
	w.findSplit()
	told := w.goes && !w.status().CaseIn && w.lash > 0 && w.lashAt == lashState(w.status())
	w.testIndicator()
	if w.goes && w.zeroMM == 0 {
		w.sidesInHand()
	}
	w.findZero()
	total := w.zeroMM + sh.SidePreload.Mid()
	if room := 0.85 * sh.Backlash.Half(); told && math.Abs(w.lash-sh.Backlash.Mid()) > room {
		w.split -= w.travel(sh.Backlash.Mid()-w.lash, false) // read before the case came out
	}
	w.gearOK, w.gearRead = w.trueGear(), w.trueGear()
	const tries = 6
	for i := range tries {
		b, t := pair(stock, total, w.split)
		if hb, ht := w.sideShims(); w.status().CaseIn && math.Abs(hb+ht-total) < w.mayStay() && i == 0 {
			// The shims that are in will do.
			b, t = hb, ht
			total, w.split = b+t, (b-t)/2
			w.tightenCaps()
		} else {
			if w.status().CaseIn {
				w.do(act.RemoveCase)
			}
			if !w.fitCase(b, t) {
				total -= stock.StepMM
				continue
			}
		}
		w.mountIndicator()
		if w.checkRunout() {
			continue
		}
		out := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn))
		w.lash = meanLength(out)
		if w.err != nil || i == tries-1 {
			return
		}
		margin := 0.15 * sh.Backlash.Half()
		if w.lash >= sh.Backlash.LowMM+margin && w.lash <= sh.Backlash.HighMM-margin {
			return
		}
		next := w.split - w.travel(sh.Backlash.Mid()-w.lash, out.Felt(history.GearsBind))
		if nb, _ := pair(stock, total, next); nb == b {
			return
		}
		w.split = next
		w.do(act.RemoveCase)
	}
}

// mayStay is how far the total of side shims that are in may be from the middle of the preload's
// specification and stay, mm: behind the cones every change costs two bearings off and on.
func (w *worker) mayStay() float64 {
	share := 0.7
	if w.k.Design.SideAdjust == family.InsideShims {
		share = 0.9
	}
	return share * w.k.Sheet.SidePreload.Half()
}

// freeTravel is how far a ring gear that binds is moved away before it is read again, mm.
func (w *worker) freeTravel() float64 {
	if w.adjusters() {
		return 4 * w.k.Design.Rings.NotchTravelMM()
	}
	return 4 * w.k.Sheet.SideShims.StepMM
}

// travel is how far the ring gear goes away from the pinion where backlash has to change by so
// much, or where the gears bind.
func (w *worker) travel(lashMM float64, binds bool) float64 {
	away := w.sign() * lashMM / w.k.PerTravel()
	if binds {
		away = w.sign() * w.freeTravel()
	}
	if w.h.WrongMoveOnce && !w.wrongDone {
		w.wrongDone = true
		w.say(text.Say("technician.backlash.wrong-way", "Backlash is off, so the ring gear has to move. (This move goes the wrong way, to show what that does.)"))
		return -away
	}
	if w.adjusters() {
		w.say(text.Say("technician.backlash.adjusters", "Backlash is off. One adjuster out and the other in by the same number of notches keeps the preload. In on the ring-gear side moves the ring gear closer and takes backlash away."))
	} else {
		w.say(text.Say("technician.backlash.shims", "Backlash is off. Take shim out of one side and put the same amount in on the other: that keeps the preload. A thicker shim on the ring-gear side moves the ring gear closer and takes backlash away."))
	}
	return away
}

// spreadPerPreload is the part of the side preload that a dial indicator across the caps shows;
// the rest goes into the bearings (common practice, no source).
const spreadPerPreload = 0.65

// leastSpreadMM is the spread below which an indicator may have shown its own worth.
const leastSpreadMM = 0.02

// full finds the total at zero end play from shims like the old ones: with shims behind the
// cones every change costs two bearings off and on, so the first shims are those that may
// stay. An indicator across the caps tells what they hold.
func (w *worker) full() {
	b, t := pair(w.k.Sheet.SideShims, w.k.OldRingGearShim.MM()+w.k.OldOppositeShim.MM(), w.split)
	if w.k.Design.SideAdjust == family.InsideShims {
		w.say(text.Say("technician.full.inside", "Shims behind the cones are slow to change. So the old total goes in first, and an indicator across the caps shows how much preload it gives."))
	} else {
		w.say(text.Say("technician.full.no-play", "There is nothing to measure end play with. So the old total goes in first, and an indicator across the caps shows how much preload it gives."))
	}
	w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
	w.spread()
	if w.do(act.FitCase).Wrong() {
		w.zeroMM = b + t - w.k.Sheet.SpreadLimitMM
		return
	}
	w.do(act.TorqueCaps)
	if w.readZero(b + t); w.zeroMM == 0 {
		w.do(act.RemoveCase)
	}
}

// readZero reads what a total that is in holds, and so the total at zero end play; that stays
// unknown where this bench has nothing to read it with.
func (w *worker) readZero(totalMM float64) {
	grown := w.do(act.MeasureSpread).FirstMM()
	preload := grown / spreadPerPreload
	if grown < leastSpreadMM {
		if w.without(act.MeasureEndPlay) {
			return
		}
		out := w.do(act.MeasureEndPlay)
		if preload = -out.FirstMM(); out.Felt(history.CaseFast) {
			preload = 0
		}
	}
	w.zeroMM = totalMM - preload
}

// checkRunout reads back face and rim of the ring gear and cures what they show. It reports
// whether the case had to come out.
func (w *worker) checkRunout() bool {
	sh := w.k.Sheet
	if w.gearOK && w.gearRead {
		return false
	}
	face := w.readRunout()
	rim := w.do(act.MeasureRadialRunout).FirstMM()
	w.gearRead = true
	if w.err != nil || w.gearOK {
		return false
	}
	defer func() { w.gearRead = w.gearOK && face <= sh.RunoutMM && rim <= sh.RunoutMM }() // a cure is read again
	if face <= sh.RunoutMM {
		w.gearOK = true
		if rim <= sh.RunoutMM {
			return false
		}
		w.say(text.Say("technician.runout.rim", "The back face is true and the rim is not: the ring gear is not seated on its pilot."))
		w.do(act.RemoveCase)
		w.do(act.CleanRingGear)
		return true
	}
	w.say(text.Say("technician.runout.face", "The runout of the back face is more than specified. Shims cannot cure that: find what is behind the gear."))
	w.do(act.RemoveCase)
	if w.without(act.MeasureCaseRunout) && !w.gearCleaned {
		w.do(act.CleanRingGear)
		w.gearCleaned = true
		return true
	}
	w.gearOK = true
	if w.without(act.MeasureCaseRunout) {
		w.say(text.Say("technician.runout.case", "The faces are clean and the gear still runs out: that is the case itself."))
		w.do(act.ReplaceCase)
		return true
	}
	out := w.do(act.MeasureCaseRunout)
	if out.FirstMM() > sh.CaseFlangeRunoutMM {
		w.do(act.ReplaceCase)
	}
	if out.Wrong() {
		w.say(text.Say("technician.runout.warped", "The ring gear itself is warped. Replace the set, so the pinion comes out too. With the same mark the depth shim stays; without marks the depth is measured again."))
		w.do(act.RemovePinion)
		w.do(act.ReplaceGears)
		w.torque, w.perDegree = 0, 0
		if !w.k.Sheet.Marks.Known() {
			w.setDepth(w.shim(), PreloadSet)
		}
		w.setPreload(Bare, true)
	}
	return true
}

// pair picks the two stocked side shims whose total and half difference are nearest to what is
// wanted; the total, which sets preload, comes first.
func pair(stock family.Stock, total, halfDiff float64) (ringGear, opposite float64) {
	best := math.Inf(1)
	sizes := stock.Sizes()
	for _, b := range sizes {
		for _, t := range sizes {
			miss := math.Abs(b+t-total) + 0.35*math.Abs((b-t)/2-halfDiff)
			if miss < best-1e-9 {
				best, ringGear, opposite = miss, b, t
			}
		}
	}
	return ringGear, opposite
}
