package acceptance

import (
	"math"
	"slices"

	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// SheetLines lists what a build sheet must hold at the end of a job.
func SheetLines(card scenarios.Card) []act.Option {
	d := card.Family.Design
	out := []act.Option{act.DepthShimLine}
	if card.Kind == scenarios.DepthJob {
		return out
	}
	if d.Preload == family.SolidSpacer {
		out = append(out, act.PreloadShimsLine)
	}
	if card.Kind == scenarios.PreloadJob {
		return append(out, act.PinionTorqueLine)
	}
	if d.SideAdjust != family.BearingAdjusters {
		out = append(out, act.RingGearShimLine, act.OppositeShimLine)
	}
	out = append(out, act.PinionTorqueLine, act.TotalTorqueLine, act.BacklashLine)
	lacks := record{card: card}
	if !lacks.without(act.MeasureRunout) {
		out = append(out, act.RunoutLine)
	}
	return append(out, act.PatternHeightLine)
}

// missing lists the lines of the build sheet that nobody has written.
func (r *record) missing() []act.Option {
	return slices.DeleteFunc(SheetLines(r.card), func(item act.Option) bool {
		_, ok := r.end.Written(item)
		return ok
	})
}

// proveComplete asks for every line of the build sheet.
func proveComplete(r *record) Result {
	if missing := r.missing(); len(missing) > 0 {
		return Result{Open, Evidence{Why: NotWritten, Line: missing[0]}}
	}
	return Result{Proved, Evidence{Why: Done}}
}

// proveTrue holds what is written against what was fitted and read: a sheet that says
// something else is false, however well the axle is set. A sheet of which most is missing says
// nothing: whoever has the axle next has only somebody's word for it. Where an exercise does not
// ask for the lines, nothing written is nothing false.
func proveTrue(r *record) Result {
	missing := r.missing()
	if r.card.Weights[sheetCompleteID] == scenarios.Uncounted {
		missing = nil
	}
	worst := Result{}
	if len(r.end.Sheet) > 0 {
		worst = Result{Proved, Evidence{Why: Done}}
	}
	if 2*len(missing) > len(SheetLines(r.card)) {
		worst = Result{Open, Evidence{Why: NotWritten, Line: missing[0]}}
	}
	for _, e := range r.end.Sheet {
		if res := r.agrees(e); res.Outcome > worst.Outcome {
			worst = res
		}
	}
	return worst
}

// agrees holds one line of the build sheet against the axle.
func (r *record) agrees(e history.Entry) Result {
	fitted := func(is quantity.Length, stock family.Stock) Result {
		written, _ := e.Value.Length()
		if math.Abs((written - is).MM()) <= stock.StepMM/4 {
			return Result{Proved, Evidence{Why: Done, Line: e.Item}}
		}
		return r.asSigned(Evidence{Why: WrittenOtherwise, Line: e.Item, Of: Length, Read: is.MM(), Written: written.MM()})
	}
	switch e.Item {
	case act.DepthShimLine:
		return fitted(r.end.DepthShim, r.sheet.DepthShims)
	case act.PreloadShimsLine:
		return fitted(r.end.PreloadShims, r.card.Family.Design.Solid.PreloadShims)
	case act.RingGearShimLine:
		return fitted(r.end.RingGearShim, r.sheet.SideShims)
	case act.OppositeShimLine:
		return fitted(r.end.OppositeShim, r.sheet.SideShims)
	}
	return r.wasRead(e)
}

// wasRead holds a written reading against those that were taken: of the axle as it stands,
// or, where there are none, the last ones.
func (r *record) wasRead(e history.Entry) Result {
	var all []taking
	d, written := Rotating, 0.0
	switch e.Item {
	case act.PinionTorqueLine:
		all = r.pinionTorques()
	case act.TotalTorqueLine:
		all = r.totalTorques()
	case act.BacklashLine:
		d, all = Length, r.backlashes()
	case act.RunoutLine:
		d, all = Length, r.takings(gauge.Runout, func(int, gauge.Reading) Why { return NoWhy })
	case act.PatternHeightLine:
		d, all = Share, r.patterns()
	}
	switch d {
	case Length:
		l, _ := e.Value.Length()
		written = l.MM()
	case Rotating:
		t, _ := e.Value.Torque()
		written = t.Nmm()
	default:
		written = e.Value.Number
	}
	if len(all) == 0 {
		was, ok := r.card.Start.Written(e.Item)
		if ok && was == e.Value {
			return Result{Proved, Evidence{Why: Done, Line: e.Item}} // as it was found; nobody here has read it
		}
		return r.asSigned(Evidence{Why: WrittenUnread, Line: e.Item, Of: d, Written: written})
	}
	good := counted(all)
	if len(good) == 0 {
		good = all[len(all)-1:]
	}
	low, high, t := math.Inf(1), math.Inf(-1), good[len(good)-1]
	for _, g := range good {
		l, h := spanOf(g.reading)
		low, high = math.Min(low, l), math.Max(high, h)
	}
	if written >= low && written <= high {
		return Result{Proved, Evidence{Why: Done, Line: e.Item}}
	}
	l, h := spanOf(t.reading)
	return r.asSigned(r.at(t.step, Evidence{Why: WrittenOtherwise, Line: e.Item, Of: d, Kind: t.reading.Kind, Read: (l + h) / 2, Written: written}))
}

// spanOf is what may honestly be written for a reading: its figures, and as much to either
// side as it cannot tell.
func spanOf(rd gauge.Reading) (low, high float64) {
	switch {
	case rd.Kind == gauge.Pattern:
		mean, unsure, _ := patternHeight([]taking{{reading: rd}})
		return mean - unsure, mean + unsure
	case len(rd.Torques) > 0:
		low, high = rd.Torques[0].Nmm(), rd.Torques[len(rd.Torques)-1].Nmm()
		u := expanded(rd.StdNmm)
		return math.Min(low, high) - u, math.Max(low, high) + u
	}
	c, _ := gauge.ClassOf(rd.Tool)
	_, least, most := rd.Summary()
	u := math.Max(expanded(rd.StdMM), c.Step)
	return least.MM() - u, most.MM() + u
}
