package grading

import (
	"fmt"

	"shimwright/grading/belief"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// An Estimate is what is believed of a quantity: its mean, its standard deviation and the
// whole law.
type Estimate struct {
	Mean, SD float64
	laws     []belief.Chance
}

// Below returns the chance that the quantity is below x.
func (e Estimate) Below(x float64) float64 { return belief.Below(e.laws, x) }

// Beliefs are what the readings of an attempt warrant at its end: for checks of the
// grader against the truth, not for the trainee. Lengths in mm, torques in N·mm.
type Beliefs struct {
	Shim         Estimate // depth shim that would be right, as it really measures
	Lot          Estimate // what depth shims measure above their marking
	Line         Estimate // side-shim total at line-to-line
	Split        Estimate // half difference of the side shims that puts backlash mid-window at right depth
	Drag         Estimate // of the pinion's bearings, seal and grease left out
	Depth        Estimate // how much thicker the depth shim in the axle ought to be
	Lash         Estimate // mean backlash
	Fit          Estimate // side-shim interference
	PreloadShims Estimate // solid spacer: pack for mid-window drag with the old depth shim in
	Risk         map[fault.ID]float64
}

// Believe returns what a perfect reasoner holds after an attempt. Errors: those of Grade.
func Believe(card scenarios.Card, outs []history.Step) (Beliefs, error) {
	gains, err := sim.NominalGains(card.Family, card.UsedBearings)
	if err != nil {
		return Beliefs{}, fmt.Errorf("the attempt cannot be graded: %w", err)
	}
	r := newReasoner(cost.Default(), card, gains, quantity.Inch)
	for i, o := range outs {
		r.judge(i+1, o)
		r.learn(o)
	}
	of := func(h belief.Look, c float64) Estimate {
		mean, sd := r.b.Of(h)
		e := Estimate{Mean: mean + c, SD: sd, laws: r.b.Chances(h, 0)}
		for i := range e.laws {
			e.laws[i].Mean += c
		}
		return e
	}
	lash, lashC := r.lashLook()
	fit, fitC := r.fitLook(r.back, r.tooth)
	torque, torqueC := r.torqueLook()
	d := r.deeper()
	return Beliefs{
		Shim: of(r.rightShim(), 0), Lot: of(belief.Look{lotRow: 1, inHandRow: 1}, 0),
		Line: of(r.lineTotal(), 0), Split: of(r.evenSplit(), 0),
		PreloadShims: of(r.rightPreloadShims(), 0),
		Depth:        of(r.wantedShim(), d*r.givenMM()-r.depthShim),
		Lash:         of(lash, lashC), Fit: of(fit, fitC), Drag: of(torque, torqueC), Risk: r.risk,
	}, nil
}
