package grading

import (
	"fmt"

	"shimwright/grading/misconception"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// Grade scores an attempt from its card and outcomes. units is for the report's
// words only and changes no number.
//
// Errors: a family whose nominal gains cannot be computed.
func Grade(card scenarios.Card, outs []sim.Outcome, units quantity.System) (Report, error) {
	gains, err := sim.NominalGains(card.Family, card.UsedBearings)
	if err != nil {
		return Report{}, fmt.Errorf("the attempt cannot be graded: %w", err)
	}
	return GradeWith(gains, card, outs, units), nil
}

// GradeWith is Grade for whoever grades many attempts at one job and has the gains of its
// family at hand: sim.NominalGains of the card's family and bearings.
func GradeWith(gains sim.Gains, card scenarios.Card, outs []sim.Outcome, units quantity.System) Report {
	r := newReasoner(card, gains, units)
	rep := Report{Model: scenarios.ModelVersion, Seed: card.Seed}
	var said expectations
	for i, o := range outs {
		said.take(i+1, o, r)
		r.judge(i+1, o)
		r.learn(o)
		rep.Minutes += o.Minutes
		for _, p := range o.Parts {
			rep.PartsMinutes += shop.PriceOf(p)
		}
		rep.SignedOff = rep.SignedOff || o.Act.Form == act.SignOff
	}
	rep.Decisions, rep.Expectations = r.out, said.out
	rep.Rubric = weighed(append(rubric(card, outs), budget(card.Budget, rep)...), card.Weights)
	rep.Idea = misconception.Of(card, gains, outs).Finding()
	rep.close()
	return rep
}
