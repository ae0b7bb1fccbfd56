package technician

import (
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// inspect inspects all that is cheap to inspect before it is built in, between two stages of
// the job.
func (w *worker) inspect(from, to Stage) {
	depth, preload, sides := from < DepthSet, from < PreloadSet && to > DepthSet, from < SidesSet && to > PreloadSet
	// A technician who goes on finds some of it built in already.
	st := w.status()
	depth, preload, sides = depth && st.Pinion == history.PinionOut, preload && st.Pinion == history.PinionOut, sides && !st.CaseIn
	if depth || preload || sides {
		w.say(text.Say("technician.inspect", "First inspect what would cost a teardown if it were found later."))
	}
	look := func(stage bool, look, cure act.Form) {
		switch {
		case !stage || w.settled[look]:
		case w.without(look) && freeOfParts(cure):
			w.do(cure)
		default:
			w.cure(w.do(look), cure)
		}
	}
	look(depth, act.InspectCups, act.SeatCups)
	if depth && !w.settled[act.InspectShimSeat] {
		w.shimSeat()
	}
	if depth && !w.k.UsedGears {
		w.gears()
	}
	if preload && !w.settled[act.InspectBearings] {
		w.bearings()
	}
	look(preload && !w.solid(), act.InspectSpacer, act.ReplaceSpacer)
	look(preload, act.InspectSeal, act.ReplaceSeal)
	look(sides, act.InspectCones, act.SeatCones)
	look(sides, act.InspectCaps, act.MatchCaps)
	look(sides, act.InspectBolts, act.CleanRingGear)
	if depth && !w.settled[act.MeasureBearings] {
		w.setUpTall = w.do(act.MeasureBearings).FirstMM()
	}
	if depth && !w.settled[act.TestGauge] && !w.without(act.MeasureDepth) {
		w.do(act.TestGauge)
	}
}

// cure does what the findings of an inspection call for: each once, and the usual cure for
// those that ask for no other.
func (w *worker) cure(out history.Step, usual act.Form) {
	var done []act.Form
	for _, r := range out.Readings {
		cure, ok := fault.CureOf(r.Finding)
		if !ok {
			cure = usual
		}
		if r.Wrong() && !slices.Contains(done, cure) {
			w.do(cure)
			done = append(done, cure)
		}
	}
}

// shimSeat inspects the seat of the depth shim: for dirt, and for the slinger.
func (w *worker) shimSeat() {
	if w.without(act.InspectShimSeat) {
		w.do(act.CleanShimSeat)
		return
	}
	out := w.do(act.InspectShimSeat)
	if out.Found(gauge.SeatDirty) {
		w.do(act.CleanShimSeat)
	}
	if out.Found(gauge.SlingerMissing) {
		w.do(act.ReplaceSlinger)
	}
}

// gears inspects whether ring gear and pinion are one set, for this case, and the pinion
// straight.
func (w *worker) gears() {
	if !w.settled[act.InspectGears] && w.do(act.InspectGears).Wrong() {
		w.say(text.Say("technician.wrong-set", "This axle cannot run on these gears. Replace the set before anything is measured on it."))
		w.do(act.ReplaceGears)
		return
	}
	if !w.settled[act.MeasurePinionRunout] && w.do(act.MeasurePinionRunout).FirstMM() > fault.PinionRunoutLimitMM(w.k.Sheet) {
		w.say(text.Say("technician.bent-pinion", "The pinion is bent, and a pinion is never straightened. Replace the set."))
		w.do(act.ReplaceGears)
	}
}

// bearings inspects the pinion bearings, and once more when grease has come off them.
func (w *worker) bearings() {
	if w.without(act.InspectBearings) {
		w.do(act.WashBearings)
		return
	}
	for range 2 {
		switch out := w.do(act.InspectBearings); {
		case out.Found(gauge.BearingsGreased, gauge.RollersGritty):
			w.do(act.WashBearings)
		case out.Found(gauge.RaceDented):
			w.say(text.Say("technician.dented-race", "A race is dented. Replace the pinion bearings before anything is measured on them."))
			w.do(act.ReplaceBearings)
			return
		default:
			return
		}
	}
}
