package inference

import (
	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/fault"
	"shimwright/sim/history"
)

// Beliefs are what the readings of an attempt warrant at its end: for checks of the grader
// against the truth, not for the trainee. Lengths in mm, torques in N·mm.
type Beliefs struct {
	Shim         Law // depth shim that would be right, as it really measures
	Lot          Law // what depth shims measure above their marking
	Line         Law // side-shim total at zero end play
	Split        Law // half difference of the side shims that puts backlash in the middle of its spec at right depth
	Torque       Law // of the pinion's bearings, seal and grease left out
	Depth        Law // how much thicker the depth shim in the axle ought to be
	Lash         Law // mean backlash
	Fit          Law // side bearing preload; below zero it is end play
	PreloadShims Law // solid spacer: preload shims for the middle of the torque's spec with the old depth shim in
	Risk         map[fault.ID]float64
}

// Believe returns what the steps of a job warrant at their end. Errors: a family whose
// nominal gains cannot be computed.
func Believe(card scenarios.Card, steps []history.Step) (Beliefs, error) {
	gains, err := sim.NominalGains(card.Family, card.UsedBearings)
	if err != nil {
		return Beliefs{}, err
	}
	t := New(card, gains)
	for _, o := range steps {
		t.Learn(o)
	}
	lash, lashC := t.lashLook()
	fit, fitC := t.fitLook(t.back, t.tooth)
	torque, torqueC := t.torqueLook()
	return Beliefs{
		Shim: t.whole(t.rightShim(), 0), Lot: t.whole(belief.Look{lotRow: 1, inHandRow: 1}, 0),
		Line: t.whole(t.lineTotal(), 0), Split: t.whole(t.evenSplit(), 0), PreloadShims: t.whole(t.rightPreloadShims(), 0),
		Depth: t.whole(t.wantedShim(), t.deeper()*t.givenMM()-t.depthShim),
		Lash:  t.whole(lash, lashC), Fit: t.whole(fit, fitC), Torque: t.whole(torque, torqueC), Risk: t.risk,
	}, nil
}
