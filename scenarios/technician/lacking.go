package technician

import (
	"slices"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// without tells whether this bench has nothing to do an act with.
func (w *worker) without(f act.Form) bool { return slices.Contains(w.k.Off, sim.LeftOff{Form: f}) }

// withoutTool tells whether this bench lacks one of the tools a drag is read with.
func (w *worker) withoutTool(word act.Option) bool {
	return slices.Contains(w.k.Off, sim.LeftOff{Form: act.MeasureTorque, Word: word})
}

// freeOfParts tells whether a cure costs no part: where nobody can look whether it is
// needed, it is done.
func freeOfParts(cure act.Form) bool {
	return slices.Contains([]act.Form{act.SeatCups, act.SeatCones, act.MatchCaps}, cure)
}

// lineByFeel finds the line-to-line total where no end play can be read: from the old pack,
// packs grow until the case no longer drops in, and how it goes in then says how far past
// the line it is.
func (w *worker) lineByFeel(split float64) {
	w.say("Nothing to read the play with: the way the case goes in tells where the line is.")
	stock := w.k.Sheet.SideShims
	// What sim.CaseFits says, middles of its ranges, mm.
	feels := []struct {
		finding gauge.Finding
		fit     float64
	}{{gauge.ByHand, 0.02}, {gauge.LightTaps, 0.10}, {gauge.FirmTaps, 0.21}, {gauge.HardBlows, 0.30}}
	total := w.k.OldRingGearShim.MM() + w.k.OldOppositeShim.MM()
	const tries, stepMM, ringGearMM = 16, 0.05, 0.1
	for range tries {
		b, t := pair(stock, total, split)
		w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
		in := w.do(act.FitCase)
		if w.err != nil {
			return
		}
		if in.Wrong() {
			total -= ringGearMM
			if w.k.Design.Entry == family.Spreader {
				total += stepMM // there the next feel begins sooner
			}
			continue
		}
		w.do(act.RemoveCase)
		w.lineMM = b + t
		if !in.Found(gauge.DropsIn) {
			for _, f := range feels {
				if in.Found(f.finding) {
					w.lineMM -= f.fit
				}
			}
			return
		}
		total += stepMM
	}
}

// ringsByFeel finds where preload begins where no end play can be read: a ring goes in by
// half slots until no play can be felt.
func (w *worker) ringsByFeel() {
	const most = 60
	for range most {
		out := w.do(act.TurnOppositeAdjuster, act.In, count(0.5, quantity.UnitTurn))
		w.tooth += 0.5
		if w.err != nil || out.Felt(history.NoSidePlay, history.AdjusterTightens, history.AdjusterStopped) {
			break
		}
	}
	const lastQuarter = 0.25 // the line lies somewhere in the last half slot
	w.lineMM = (w.back + w.tooth - lastQuarter) * w.k.Design.Rings.NotchTravelMM()
}
