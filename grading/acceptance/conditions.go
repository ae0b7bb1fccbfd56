package acceptance

import (
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// proveCaps asks for the caps at torque when the axle is signed for.
func proveCaps(r *record) Result {
	switch {
	case r.end.CapsTight:
		return Result{Proved, Evidence{Why: Done}}
	case !r.end.CaseIn:
		return Result{Open, Evidence{Why: NotYet}}
	}
	return r.asSigned(Evidence{Why: CapsNotTorqued})
}

// asSigned is a condition that is not met: it contradicts a signature, and is open work
// before one.
func (r *record) asSigned(e Evidence) Result {
	if r.end.SignedOff {
		return Result{Contradicted, e}
	}
	return Result{Open, e}
}

// proveMarks asks that the caps were seen, or put, on their own sides.
func proveMarks(r *record) Result {
	res := Result{Open, Evidence{Why: NotInspected}}
	if r.without(act.InspectCaps) {
		res = Result{}
	}
	for i, s := range r.steps {
		switch {
		case s.Act.Form == act.MatchCaps || s.Found(gauge.MarksMeet):
			res = Result{Proved, r.at(i, Evidence{Why: Done})}
		case s.Found(gauge.CapsSwapped, gauge.CapReversed):
			rd, _ := s.Reading(gauge.CapMarks)
			res = r.asSigned(r.at(i, Evidence{Why: LeftWrong, Kind: gauge.CapMarks, Finding: rd.Finding}))
		}
	}
	return res
}

// proveNut asks that a crushed spacer's nut was not left backed off.
func proveNut(r *record) Result {
	switch {
	case r.end.Pinion != history.PinionFinal:
		return Result{Open, Evidence{Why: NotYet}}
	case r.end.NutBackedOff && (r.card.Kind != scenarios.PreviousWork || r.loosened() >= 0):
		return r.asSigned(r.at(r.loosened(), Evidence{Why: BackedOff}))
	}
	return Result{Proved, Evidence{Why: Done}}
}

// loosened is the last step that loosened the nut; -1 for none.
func (r *record) loosened() int {
	for i := len(r.steps) - 1; i >= 0; i-- {
		if r.steps[i].Act.Form == act.LoosenNut {
			return i
		}
	}
	return -1
}

// proveNutTorque asks that the nut on a solid spacer was pulled to its specification and not
// loosened since.
func proveNutTorque(r *record) Result {
	if r.card.Kind == scenarios.PreviousWork && !r.opened() {
		return Result{}
	}
	t := taking{step: -1}
	for i, s := range r.steps {
		switch s.Act.Form {
		case act.FitPinion, act.RemovePinion, act.LoosenNut:
			t = taking{step: -1}
		}
		if rd, ok := s.Reading(gauge.NutTorque); ok {
			t = taking{step: i, reading: rd}
		}
	}
	switch {
	case r.end.Pinion != history.PinionFinal:
		return Result{Open, Evidence{Why: NotYet}}
	case t.step < 0:
		return Result{Open, Evidence{Why: NeverTightened}}
	}
	return r.of(t, hold(Fastener, t.reading.MeanTorque().Nmm(), r.sheet.NutLow.Nmm(), r.sheet.NutHigh.Nmm(), expanded(t.reading.StdNmm)))
}

// proveSpread asks that the spreader never opened the housing past its limit.
func proveSpread(r *record) Result {
	for i, s := range r.steps {
		if s.Felt(history.SpreadTooFar) {
			return Result{Contradicted, r.at(i, Evidence{Why: Overspread})}
		}
	}
	return Result{Proved, Evidence{Why: Done}}
}

// cures lists the acts that put right what an inspection can find wrong; none for what is
// put right as it is found.
func cures(f gauge.Finding) []act.Form {
	switch f {
	case gauge.CupGap:
		return []act.Form{act.SeatCups, act.ReplaceBearings}
	case gauge.BearingsGreased, gauge.RollersGritty:
		return []act.Form{act.WashBearings, act.ReplaceBearings}
	case gauge.RaceDented:
		return []act.Form{act.ReplaceBearings}
	case gauge.SpacerCrushed, gauge.SpacerShort, gauge.NutSpins:
		return []act.Form{act.ReplaceSpacer}
	case gauge.ConeGap:
		return []act.Form{act.SeatCones, act.ReplaceCase}
	case gauge.SealLipTurned:
		return []act.Form{act.ReplaceSeal}
	case gauge.SeatDirty:
		return []act.Form{act.CleanShimSeat}
	case gauge.SlingerMissing:
		return []act.Form{act.ReplaceSlinger}
	case gauge.BoltsUneven, gauge.BoltsBottomed:
		return []act.Form{act.CleanRingGear, act.MeasureCaseRunout, act.ReplaceCase, act.ReplaceGears}
	case gauge.NumbersDiffer, gauge.TagOfOtherCase, gauge.GearRocks:
		return []act.Form{act.ReplaceGears}
	case gauge.ShaftDrags:
		return []act.Form{act.RemoveShafts, act.RemoveCase}
	}
	return nil
}

// proveFound asks that nothing that was found wrong was left; the caps' marks have a line of
// their own. Where nothing was found there is nothing to put right: it does not apply.
func proveFound(r *record) Result {
	type still struct {
		step int
		rd   gauge.Reading
	}
	var left []still
	found := false
	for i, s := range r.steps {
		kept := left[:0:0]
		for _, l := range left {
			cured := false
			for _, f := range cures(l.rd.Finding) {
				cured = cured || f == s.Act.Form
			}
			// A final assembly that is taken out leaves its spacer and nut behind.
			spacer := l.rd.Kind == gauge.SpacerCondition || l.rd.Kind == gauge.NutCondition
			cured = cured || spacer && s.After.SpacersUsed > s.Before.SpacersUsed
			if !cured {
				kept = append(kept, l)
			}
		}
		left = kept
		for _, rd := range s.Readings {
			if rd.Wrong() && cures(rd.Finding) != nil && r.concerns(rd.Kind) {
				left, found = append(left, still{i, rd}), true
			}
		}
	}
	switch {
	case !found:
		return Result{}
	case len(left) == 0:
		return Result{Proved, Evidence{Why: Done}}
	}
	l := left[len(left)-1]
	return r.asSigned(r.at(l.step, Evidence{Why: LeftWrong, Kind: l.rd.Kind, Finding: l.rd.Finding}))
}

// concerns tells whether what an inspection is of is the job's own: a job that ends with the
// depth shim leaves spacer, seal and oil to who builds the axle.
func (r *record) concerns(k gauge.Kind) bool {
	if r.card.Kind != scenarios.DepthJob {
		return true
	}
	switch k {
	case gauge.CupSeats, gauge.ShimSeat, gauge.SlingerPlace, gauge.MatchNumbers, gauge.RingGearTag:
		return true
	}
	return false
}

// WithinBudget holds what an exercise allows against what was spent, in minutes: lines of
// the budgets that it sets.
func WithinBudget(card scenarios.Card, workMin, partsMin float64) []Line {
	var out []Line
	for _, r := range budgetRows() {
		limit, spent := float64(card.Budget.Minutes), workMin
		if r.ID == partsBudgetID {
			limit, spent = float64(card.Budget.Parts), partsMin
		}
		w := card.Weights[r.ID]
		if limit <= 0 {
			continue
		}
		l := Line{ID: r.ID, Asks: scenarios.PointName(r.ID), Severity: r.Severity, Lesson: r.Lesson, Source: r.Source}
		if w != "" && w != scenarios.Uncounted {
			l.Severity = w
		}
		if w != scenarios.Uncounted {
			l.Result = Result{Proved, Evidence{Why: Inside, Of: Minutes, Read: spent, High: limit}}
			if spent > limit {
				l.Result = Result{Open, Evidence{Why: OverBudget, Of: Minutes, Read: spent, High: limit}}
			}
		}
		out = append(out, l)
	}
	return out
}

// designs that rows are for.
func collapsible(d family.Design) bool { return d.Preload == family.CollapsibleSpacer }
func solid(d family.Design) bool       { return d.Preload == family.SolidSpacer }
func spread(d family.Design) bool      { return d.Entry == family.Spreader }
