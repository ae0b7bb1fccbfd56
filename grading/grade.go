package grading

import (
	"fmt"

	"shimwright/grading/acceptance"
	"shimwright/grading/cost"
	"shimwright/grading/ledger"
	"shimwright/grading/misconception"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// Grade scores an attempt from its card and outcomes at the program's own costs. units is
// for the report's words only and changes no number.
//
// Errors: a family whose nominal gains cannot be computed.
func Grade(card scenarios.Card, outs []history.Step, units quantity.System) (Report, error) {
	return GradeAt(cost.Default(), card, outs, units)
}

// GradeAt is Grade at other costs.
func GradeAt(costs cost.Table, card scenarios.Card, outs []history.Step, units quantity.System) (Report, error) {
	gains, err := GainsOf(card)
	if err != nil {
		return Report{}, err
	}
	return GradeWith(gains, costs, card, outs, units), nil
}

// GainsOf returns what the attempts at a job are graded by, the same for all of them.
//
// Errors: a family whose nominal gains cannot be computed.
func GainsOf(card scenarios.Card) (sim.Gains, error) {
	gains, err := sim.NominalGains(card.Family, card.UsedBearings)
	if err != nil {
		return sim.Gains{}, fmt.Errorf("the attempt cannot be graded: %w", err)
	}
	return gains, nil
}

// GradeWith is GradeAt for whoever grades many attempts at one job: with GainsOf of its card.
func GradeWith(gains sim.Gains, costs cost.Table, card scenarios.Card, outs []history.Step, units quantity.System) Report {
	b := newBookkeeper(ledger.New(costs, card, gains), costs, card)
	rep := Report{Model: scenarios.ModelVersion, Seed: card.Seed}
	if !costs.IsDefault() {
		rep.Costs = &CostsUsed{costs.Name, costs.Mark()}
	}
	var said expectations
	rep.Start = hundredths(b.value.Min())
	for i, o := range outs {
		said.take(i+1, o, b.state)
		b.take(i+1, o)
		work, parts := costs.Spent(card.Family.Design, o)
		rep.Minutes += shop.Minutes(work)
		rep.PartsMinutes += shop.Minutes(parts)
		rep.SignedOff = rep.SignedOff || o.Act.Form == act.SignOff
	}
	rep.Lines, rep.Decisions, rep.Expectations = b.lines, b.decisions, said.out
	rep.Acceptance = append(acceptance.Of(card, outs), acceptance.WithinBudget(card, float64(rep.Minutes), float64(rep.PartsMinutes))...)
	rep.Misconception = misconception.Of(card, gains, outs).Finding()
	rep.close(costs, TheFormula(), b.areas)
	return rep
}
