package grading

import (
	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// An Estimate is a mean and a standard deviation, mm or N·mm.
type Estimate struct{ Mean, SD float64 }

// Beliefs are what the reasoner holds at the end of an attempt, for tests that
// compare it with the truth.
type Beliefs struct {
	Shim, Lot, Line, Split, Drag, Depth, Lash, Fit, Pack Estimate
	Risk                                                 map[truth.FaultID]float64
}

// Believe walks a reasoner through an attempt.
func Believe(card scenarios.Card, outs []sim.Outcome) (Beliefs, error) {
	gains, err := sim.NominalGains(card.Family, card.UsedBearings)
	if err != nil {
		return Beliefs{}, err
	}
	r := newReasoner(card, gains, quantity.Inch)
	for i, o := range outs {
		r.judge(i+1, o)
		r.learn(o)
	}
	row := func(h belief.Look) Estimate {
		m, sd := r.b.Of(h)
		return Estimate{m, sd}
	}
	b := Beliefs{Shim: row(belief.Look{shimRow: 1}), Lot: row(belief.Look{lotRow: 1}), Line: row(belief.Look{lineRow: 1}),
		Split: row(belief.Look{splitRow: 1}), Risk: r.risk}
	b.Drag.Mean, b.Drag.SD = r.drag()
	b.Pack = row(belief.Look{packRow: 1})
	b.Depth.Mean, b.Depth.SD = r.depthError(r.depthShim)
	b.Lash.Mean, b.Lash.SD = r.lash(r.back, r.tooth)
	b.Fit.Mean, b.Fit.SD = r.fit(r.back, r.tooth)
	return b, nil
}

// Average is the mean over a normal variable that prices are taken with.
var Average = average
