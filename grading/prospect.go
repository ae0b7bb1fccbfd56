package grading

import (
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A Prospect is what a job looked like at some point of it, on what had been read: what it
// would have cost to sign there, what the best there would have cost, in expected minutes,
// and which looks and readings were worth more than their minutes.
type Prospect struct {
	SignMin, BestMin float64
	Worth            []string
}

// ProspectOf returns the prospect after the outcomes of a job's first acts; for checks of a
// table of costs, not for the trainee. gains are sim.NominalGains of the card's family and
// bearings.
func ProspectOf(gains sim.Gains, costs cost.Table, card scenarios.Card, outs []history.Step) Prospect {
	r := newReasoner(costs, card, gains, quantity.Inch)
	for i, o := range outs {
		r.judge(i+1, o)
		r.learn(o)
	}
	var p Prospect
	for _, c := range checks() {
		worth := -r.minutesOf(c.test)
		for _, id := range c.faults {
			worth += r.risk[id] * r.late[id]
		}
		if worth > 0 && !r.told[c.test] {
			p.Worth = append(p.Worth, c.test.String())
		}
	}
	if r.Pinion != history.PinionFinal && card.Kind != scenarios.DepthJob {
		return p // nothing that could be signed yet
	}
	for _, d := range r.dimensions() {
		p.SignMin += d.close
		p.BestMin += d.best
		if d.best < d.close && d.reading {
			p.Worth = append(p.Worth, d.advice)
		}
	}
	return p
}
