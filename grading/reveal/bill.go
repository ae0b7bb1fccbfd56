package reveal

import (
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/truth"
)

// A Bill is what an axle as it stands is still going to cost, in minutes: each line of its
// specification sheet that is truly missed, and the faults left in it. It is what a grade
// reckons with from what was read, here with the truth in its place.
type Bill struct {
	DepthMin, BacklashMin, SideFitMin, TorqueMin float64
	ClampMin, CapsMin, RunoutMin, FaultsMin      float64
}

// TotalMin sums the bill.
func (b Bill) TotalMin() float64 {
	return b.DepthMin + b.BacklashMin + b.SideFitMin + b.TorqueMin + b.ClampMin + b.CapsMin + b.RunoutMin + b.FaultsMin
}

// BillOf returns what a job's axle is going to cost as it stands on the bench, by a table
// of costs. A job that ends before an axle is whole is billed for what it ends with.
func BillOf(costs cost.Table, card scenarios.Card, stand *sim.Stand) Bill {
	_, f := truth.Open(stand.Sealed())
	sh := card.Family.Sheet
	var b Bill
	back := func(off, half, minutes float64) float64 { return minutes * cost.ComesBack(off, half) }
	b.DepthMin = back(f.DepthErrorMM, sh.DepthToleranceMM, costs.ComebackMin)
	if card.Kind == scenarios.DepthJob {
		b.FaultsMin = leftMin(costs, f, func(l fault.Fault) bool { return l.Area != fault.Bearings && l.Area != fault.Spacer })
		return b
	}
	w := sh.PinionTorque(card.UsedBearings)
	b.TorqueMin = back(f.PinionTorqueNmm-f.SealNmm-w.Mid(), w.Half(), costs.ComebackMin)
	loose := f.BackedOff
	if card.Family.Design.Preload == family.SolidSpacer {
		loose = false
		for _, i := range verdict.Check(card.Family, card.UsedBearings, stand.Sealed()) {
			loose = loose || i.Kind == verdict.Fastener && i.Value < i.Low-i.Guard
		}
	}
	if loose {
		b.ClampMin = costs.LooseClampRisk * costs.ComebackMin
	}
	if card.Kind == scenarios.PreloadJob {
		b.DepthMin = 0 // the shim was given
		b.FaultsMin = leftMin(costs, f, func(fault.Fault) bool { return true })
		return b
	}
	if mean := (f.PatternDrive + f.PatternCoast) / 2; mean > 0 { // the gears roll: the pattern outranks the depth
		w := sh.PatternHeight
		b.DepthMin = back(mean-w.Mid(), w.Half(), costs.ComebackMin)
	}
	b.BacklashMin = back(f.BacklashMeanMM-sh.Backlash.Mid(), sh.Backlash.Half(), costs.ComebackMin)
	b.SideFitMin = back(f.SideFitMM-sh.SidePreload.Mid(), sh.SidePreload.Half(), costs.SideComebackMin)
	if !f.CapsTight {
		b.CapsMin = costs.LooseCapsRisk * costs.ComebackMin
	}
	for _, id := range f.Remaining {
		switch left, err := fault.Find(id); {
		case err != nil:
		case left.Belief.Swings == fault.BackFace:
			b.RunoutMin = costs.RunoutComebackMin
		default:
			b.FaultsMin += costs.LateMin(id)
		}
	}
	return b
}

// leftMin prices the faults under and in the pinion's assembly that are still there, those
// of them that the job is about and whose harm is no line of the sheet.
func leftMin(costs cost.Table, f truth.Finish, about func(fault.Fault) bool) float64 {
	sum := 0.0
	for _, id := range f.Remaining {
		if left, err := fault.Find(id); err == nil && left.Stage == fault.BeforePinion && about(left) {
			sum += costs.LateMin(id)
		}
	}
	return sum
}
