package grading

import (
	"fmt"

	"shimwright/grading/belief"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// An Estimate is a mean and a standard deviation.
type Estimate struct{ Mean, SD float64 }

// Beliefs are what the readings of an attempt warrant at its end: for checks of the
// grader against the truth, not for the trainee. Lengths in mm, torques in N·mm.
type Beliefs struct {
	Shim  Estimate // depth shim that would be right, as it really measures
	Lot   Estimate // what depth shims measure above their marking
	Line  Estimate // side-shim total at line-to-line
	Split Estimate // half difference of the side shims that puts backlash mid-window at right depth
	Drag  Estimate // of the pinion's bearings, seal and grease left out
	Depth Estimate // how much thicker the depth shim in the axle ought to be
	Lash  Estimate // mean backlash
	Fit   Estimate // side-shim interference
	Pack  Estimate // solid spacer: pack for mid-window drag with the old depth shim in
	Risk  map[truth.FaultID]float64
}

// Believe returns what a perfect reasoner holds after an attempt. Errors: those of Grade.
func Believe(card scenarios.Card, outs []sim.Outcome) (Beliefs, error) {
	gains, err := sim.NominalGains(card.Family, card.UsedBearings)
	if err != nil {
		return Beliefs{}, fmt.Errorf("the attempt cannot be graded: %w", err)
	}
	r := newReasoner(cost.Default(), card, gains, quantity.Inch)
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
