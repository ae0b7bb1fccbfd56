package technician

import (
	"slices"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// without tells whether this bench has nothing to do an act with.
func (w *worker) without(f act.Form) bool { return slices.Contains(w.k.Off, sim.LeftOff{Form: f}) }

// withoutTool tells whether this bench lacks one of the tools that torque is read with.
func (w *worker) withoutTool(word act.Option) bool {
	return slices.Contains(w.k.Off, sim.LeftOff{Form: act.MeasureTorque, Word: word})
}

// freeOfParts tells whether a cure costs no part: where nobody can look whether it is
// needed, it is done.
func freeOfParts(cure act.Form) bool {
	return slices.Contains([]act.Form{act.SeatCups, act.SeatCones, act.MatchCaps}, cure)
}

// zeroByFeel finds the total at zero end play where no end play can be read: from the old side
// shims, totals grow until the case no longer drops in, and how it goes in then says how far
// past zero end play it is.
func (w *worker) zeroByFeel() {
	w.say(text.Say("technician.zero.feel", "There is nothing to measure end play with: the way the case goes in tells where zero end play is."))
	stock := w.k.Sheet.SideShims
	// What each way of going in says, middles of its ranges, mm.
	feels := []struct {
		finding gauge.Finding
		preload float64
	}{{gauge.ByHand, 0.02}, {gauge.LightTaps, 0.10}, {gauge.FirmTaps, 0.21}, {gauge.HardBlows, 0.30}}
	total := w.k.OldRingGearShim.MM() + w.k.OldOppositeShim.MM()
	const tries, stepMM, coarseMM = 16, 0.05, 0.1
	for range tries {
		b, t := pair(stock, total, w.split)
		w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
		in := w.do(act.FitCase)
		if w.err != nil {
			return
		}
		if in.Wrong() {
			total -= coarseMM
			if w.k.Design.Entry == family.Spreader {
				total += stepMM // there the next feel begins sooner
			}
			continue
		}
		w.do(act.RemoveCase)
		w.zeroMM = b + t
		if !in.Found(gauge.DropsIn) {
			for _, f := range feels {
				if in.Found(f.finding) {
					w.zeroMM -= f.preload
				}
			}
			return
		}
		total += stepMM
	}
}

// adjustersByFeel finds where preload begins where no end play can be read: an adjuster goes in
// by half notches until no play can be felt.
func (w *worker) adjustersByFeel() {
	const most = 60
	for range most {
		out := w.do(act.TurnOppositeAdjuster, act.In, count(0.5, quantity.UnitTurn))
		if w.err != nil || out.Felt(history.NoSidePlay, history.AdjusterTightens, history.AdjusterStopped) {
			break
		}
	}
	const lastQuarter = 0.25 // zero end play is somewhere in the last half notch
	b, t := w.notches()
	w.zeroMM = (b + t - lastQuarter) * w.k.Design.Rings.NotchTravelMM()
}
