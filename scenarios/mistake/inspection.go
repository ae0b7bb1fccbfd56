package mistake

import (
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/text"
)

// NothingInspected is parts fitted without inspection.
func NothingInspected() Mistake {
	return Mistake{ID: "nothing-inspected", Part: Inspection, Lesson: "inspect-first",
		Name:       text.Say("mistake.nothing-inspected.name", "parts not inspected before they were fitted"),
		Shows:      text.Say("mistake.nothing-inspected.shows", "Whatever was wrong with the parts is still in the axle."),
		Told:       text.Say("mistake.nothing-inspected.told", "Inspect the parts with the axle apart."),
		Remedy:     text.Say("mistake.nothing-inspected.remedy", "Take the axle apart, inspect the parts, and put right what is found."),
		Missed:     text.Say("mistake.nothing-inspected.missed", "What was there comes out on the road."),
		Difficulty: 3, Strength: fault.Practice,
		Policy: technician.Policy{Do: technician.LeaveOut(act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectSeal, act.InspectCones, act.InspectCaps, act.InspectShimSeat,
			act.InspectBolts, act.InspectGears, act.MeasureBearings, act.MeasurePinionRunout, act.MeasureRadialRunout, act.TestIndicator, act.TestGauge, act.MeasureDepthShim)},
	}
}
