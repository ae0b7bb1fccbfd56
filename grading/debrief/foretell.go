package debrief

import (
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/history"
)

// changes lists the acts that change what an act reads; none where a question before it
// teaches nothing.
func changes(f act.Form) []act.Form {
	switch f {
	case act.MeasureDepth:
		return []act.Form{act.FitDepthShim, act.SeatCups, act.CleanShimSeat}
	case act.MeasureBacklash:
		return []act.Form{act.FitSideShims, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.FitPinion, act.CleanRingGear}
	case act.MeasureTorque:
		return []act.Form{act.TightenNutAngle, act.TightenNutTorque, act.FitPreloadShims}
	}
	return nil
}

// WorthForetelling tells whether a trainee learns from saying what they expect before an
// act: it reads again what has been read before, for the first time since what it depends
// on was changed, and they have not just said it. How far the torque climbs with the nut
// is worth it once in each build, at its second reading. Whoever says it first learns more
// from the reading.
func WorthForetelling(f act.Form, outs []history.Step) bool {
	change := changes(f)
	if change == nil || saidAlready(outs) {
		return false
	}
	read, changed, thisBuild := 0, false, 0
	for _, o := range outs {
		switch o.Act.Form {
		case act.FitPinion:
			thisBuild = 0
		case f:
			read, changed, thisBuild = read+1, false, thisBuild+1
		}
		changed = changed || slices.Contains(change, o.Act.Form)
	}
	if f == act.MeasureTorque {
		return changed && thisBuild == 1
	}
	return changed && read > 0
}

// saidAlready reports whether the trainee has said what they expect since the last reading.
func saidAlready(outs []history.Step) bool {
	for _, o := range slices.Backward(outs) {
		switch {
		case o.Act.Form == act.ExpectValue:
			return true
		case len(o.Readings) > 0:
			return false
		}
	}
	return false
}
