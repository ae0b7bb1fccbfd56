package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// sides finds the line-to-line total, fits the side shims and moves the ring gear
// until the backlash is inside its window.
func (w *worker) sides() {
	sh := w.k.Sheet
	stock := sh.SideShims
	split := (w.k.OldRingGearShim.MM() - w.k.OldOppositeShim.MM()) / 2
	if !w.fitted {
		w.do(act.TestIndicator) // before anything is read with it
	}
	if st := w.bench.Status(); w.done.goesOn && st.RingGearShim > 0 {
		split = (st.RingGearShim.MM() - st.OppositeShim.MM()) / 2
		w.sidesInHand()
	}
	if w.splitSet {
		split = w.split - w.away
	}
	w.away = 0
	if w.lineMM == 0 && !w.without(act.MeasureSpread) && (w.k.Design.SideAdjust == family.InsideShims || w.without(act.MeasureEndPlay)) {
		w.full(split)
	}
	if w.lineMM == 0 && w.without(act.MeasureEndPlay) {
		w.lineByFeel(split)
	}
	if w.lineMM == 0 {
		w.say("A loose pack first: end play plus pack is the line-to-line total, and preload goes on top of that.")
		slack := 0.15
		for range 3 {
			oldTotal := w.k.OldRingGearShim.MM() + w.k.OldOppositeShim.MM()
			b, t := pair(stock, oldTotal-sh.SidePreload.Mid()-slack, split)
			w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
			in := w.do(act.FitCase)
			if in.Wrong() {
				slack += 0.2
				continue
			}
			w.do(act.TorqueCaps)
			play := firstLength(w.do(act.MeasureEndPlay))
			w.do(act.RemoveCase)
			if w.err != nil {
				return
			}
			w.lineMM = b + t + play
			// A pack that drops in and has no play is at line-to-line itself.
			if play > 0.01 || in.Found(gauge.DropsIn) {
				break
			}
			slack += 0.15
		}
	}
	total := w.lineMM + sh.SidePreload.Mid()
	w.gearOK = false
	defer func() { w.split, w.splitSet = split, true }()
	const tries = 6
	for i := range tries {
		b, t := pair(stock, total, split)
		if st := w.bench.Status(); w.fitted && math.Abs(st.RingGearShim.MM()+st.OppositeShim.MM()-total) < 0.7*sh.SidePreload.Half() {
			// The pack that is in will do.
			b, t = st.RingGearShim.MM(), st.OppositeShim.MM()
			total, split = b+t, (b-t)/2
		} else {
			if w.fitted {
				w.do(act.RemoveCase)
			}
			w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
			w.spread()
			if w.do(act.FitCase).Wrong() {
				total -= stock.StepMM
				continue
			}
			w.do(act.TorqueCaps)
		}
		w.fitted = false
		w.do(act.MountIndicator, act.Heel, act.Square, act.PinionHeld)
		if w.checkRunout() {
			continue
		}
		out := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn))
		mean := meanLength(out)
		w.lash = mean
		if w.err != nil || i == tries-1 {
			return
		}
		margin := 0.15 * sh.Backlash.Half()
		if mean >= sh.Backlash.LowMM+margin && mean <= sh.Backlash.HighMM-margin {
			return
		}
		away := (sh.Backlash.Mid() - mean) / w.k.PerTravel()
		if out.Felt(history.GearsBind) {
			away = 4 * stock.StepMM
		}
		away *= w.sign()
		if w.h.WrongMoveOnce && !w.wrongDone {
			w.wrongDone = true
			away = -away
			w.say("Backlash is off, so a shim goes from one side to the other. (This move is the wrong way round, to show what that looks like.)")
		} else {
			w.say("Backlash is off. Out of one side and into the other by the same amount keeps the preload; thicker behind the ring gear brings it closer and takes backlash away.")
		}
		next := (b-t)/2 - away
		if nb, _ := pair(stock, total, next); nb == b {
			return
		}
		split = next
		w.do(act.RemoveCase)
	}
}

// spreadPerFit is the part of the side interference that a dial across the caps shows;
// the rest goes into the bearings (common practice, no source).
const spreadPerFit = 0.65

// full finds the line-to-line total from a pack like the old one: with shims behind the
// cones every change costs two bearings off and on, so the first pack is the one that may
// stay. A dial across the caps tells what it is.
func (w *worker) full(split float64) {
	sh := w.k.Sheet
	b, t := pair(sh.SideShims, w.k.OldRingGearShim.MM()+w.k.OldOppositeShim.MM(), split)
	if w.k.Design.SideAdjust == family.InsideShims {
		w.say("Shims behind the cones are slow to change, so the old total goes in first and a dial across the caps says what it holds.")
	} else {
		w.say("No dial for the end play: the old total goes in first, and a dial across the caps says what it holds.")
	}
	w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
	w.spread()
	if w.do(act.FitCase).Wrong() {
		w.lineMM = b + t - sh.SpreadLimitMM
		return
	}
	w.do(act.TorqueCaps)
	w.readLine(b + t)
	if w.fitted = w.lineMM != 0; !w.fitted {
		w.do(act.RemoveCase)
	}
}

// readLine reads what a pack that is in holds, and so the total at line-to-line; that stays
// unknown where this bench has nothing to read it with.
func (w *worker) readLine(totalMM float64) {
	grown := firstLength(w.do(act.MeasureSpread))
	fit := grown / spreadPerFit
	const nothing = 0.02 // a dial's worth
	if grown < nothing {
		if w.without(act.MeasureEndPlay) {
			return
		}
		fit = -firstLength(w.do(act.MeasureEndPlay))
	}
	w.lineMM = totalMM - fit
}

// checkRunout reads back face and rim of the ring gear and cures what they show. It
// reports whether the case had to come out.
func (w *worker) checkRunout() bool {
	sh := w.k.Sheet
	if w.gearOK {
		if w.gearCured && !w.without(act.MeasureRunout) {
			w.gearCured = false
			w.swing() // what was cured is proved
		}
		return false
	}
	face := w.swing()
	rim := firstLength(w.do(act.MeasureRadialRunout))
	if w.err != nil {
		return false
	}
	if face <= sh.RunoutMM {
		w.gearOK = true
		if rim <= sh.RunoutMM {
			return false
		}
		w.say("The back face is true and the rim is not: the gear is not down on its register.")
		w.do(act.RemoveCase)
		w.do(act.CleanRingGear)
		return true
	}
	w.say("The back face swings more than the sheet allows. Shims cannot cure that: look behind the gear.")
	w.do(act.RemoveCase)
	w.gearCured = true
	if w.without(act.MeasureCaseRunout) && !w.gearCleaned {
		w.do(act.CleanRingGear)
		w.gearCleaned = true
		return true
	}
	w.gearOK = true
	if w.without(act.MeasureCaseRunout) {
		w.say("Clean faces, and it swings still: that is the case itself.")
		w.do(act.ReplaceCase)
		return true
	}
	out := w.do(act.MeasureCaseRunout)
	if firstLength(out) > sh.CaseFlangeRunoutMM {
		w.do(act.ReplaceCase)
	}
	if out.Wrong() {
		w.say("The gear itself is warped. Another set, and with it the pinion comes out: with the same mark on it the shim stays, without marks the depth is gauged anew.")
		w.do(act.RemovePinion)
		w.do(act.ReplaceGears)
		w.torque, w.perDegree = 0, 0
		if !w.k.Sheet.Marks.Known() {
			w.setDepth(w.depthShim, false)
		}
		w.setPreload(Bare)
	}
	return true
}

// swing is how far the back face swings in a turn; without a reading there, what backlash
// tells of it round the gear.
func (w *worker) swing() float64 {
	if !w.without(act.MeasureRunout) {
		w.face, w.faceRead = firstLength(w.do(act.MeasureRunout)), true
		return w.face
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, r := range w.do(act.MeasureBacklash, count(4, quantity.UnitTurn)).Readings {
		for _, l := range r.Lengths {
			least, most = math.Min(least, l.MM()), math.Max(most, l.MM())
		}
	}
	return math.Max(0, most-least) / w.k.PerTravel()
}

// pair picks the two stocked side shims whose total and half difference are
// nearest to what is wanted; the total, which sets preload, comes first.
func pair(stock family.Stock, total, halfDiff float64) (back, tooth float64) {
	best := math.Inf(1)
	sizes := stock.Sizes()
	for _, b := range sizes {
		for _, t := range sizes {
			miss := math.Abs(b+t-total) + 0.35*math.Abs((b-t)/2-halfDiff)
			if miss < best-1e-9 {
				best, back, tooth = miss, b, t
			}
		}
	}
	return back, tooth
}
