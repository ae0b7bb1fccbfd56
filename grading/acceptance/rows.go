package acceptance

import (
	"slices"

	"shimwright/scenarios"
	"shimwright/sim/text"
)

// Ids that others go by.
const (
	patternID       = "pattern"
	totalTorqueID   = "total-torque"
	backlashID      = "backlash"
	sheetCompleteID = "sheet-complete"
	workBudgetID    = "work-budget"
	partsBudgetID   = "parts-budget"
)

// Rows is the list of the trade, in the order of a debrief. Severities are the project's
// judgement; the source is of what the row asks.
func Rows() []Row {
	whole := []scenarios.Kind{scenarios.WholeJob, scenarios.SidesJob, scenarios.PatternJob, scenarios.PreviousWork}
	pinion := append(slices.Clone(whole), scenarios.PreloadJob)
	depthToo := append(slices.Clone(whole), scenarios.DepthJob)
	return []Row{
		{ID: patternID,
			Severity: scenarios.Critical, Lesson: "depth-height", Source: from("TM 10-3930-638-24&P p. 4-246; TM 9-2320-266-34 para 19-5"), Kinds: whole, prove: provePattern},
		{ID: "depth",
			Severity: scenarios.Critical, Lesson: "depth-gauge", Source: from("TM 9-2320-280-34 p. 19-12"), Kinds: depthToo, prove: proveDepth},
		{ID: "pinion-torque",
			Severity: scenarios.Critical, Lesson: "rotating-torque", Source: from("TM 10-3930-660-34 p. 9-16; TM 9-2320-387-24-2 p. 30-17"), Kinds: pinion, prove: provePinionTorque},
		{ID: "nut",
			Severity: scenarios.Critical, Lesson: "crush-spacer", Source: from("TM 9-2320-387-24-2 p. 30-17"), Kinds: pinion, Design: collapsible, prove: proveNut},
		{ID: "nut-torque",
			Severity: scenarios.Critical, Lesson: "solid-spacer", Source: common(), Kinds: pinion, Design: solid, prove: proveNutTorque},
		{ID: totalTorqueID,
			Severity: scenarios.Critical, Lesson: "total-torque", Source: from("TM 10-3930-669-34 p. 10-29"), Kinds: whole, prove: proveTotalTorque},
		{ID: "side-rise",
			Severity: scenarios.Major, Lesson: "total-torque", Source: from("TM 10-3930-669-34 p. 10-29"), Kinds: whole, prove: proveSideRise},
		{ID: backlashID,
			Severity: scenarios.Critical, Lesson: "backlash-reading", Source: from("TM 9-2320-289-34 p. 6-21; TM 9-2320-269-34-1 p. 2-868"), Kinds: whole, prove: proveBacklash},
		{ID: "backlash-variation",
			Severity: scenarios.Major, Lesson: "runout", Source: from("TM 5-3895-369-14 p. 5-412"), Kinds: whole, prove: proveVariation},
		{ID: "runout",
			Severity: scenarios.Major, Lesson: "runout", Source: from("TM 10-3930-653-14&P p. 4-124"), Kinds: whole, prove: proveRunout},
		{ID: "caps",
			Severity: scenarios.Critical, Lesson: "spread-and-caps", Source: from("TM 9-2320-289-34 p. 6-21"), Kinds: whole, prove: proveCaps},
		{ID: "match-marks",
			Severity: scenarios.Major, Lesson: "spread-and-caps", Source: common(), Kinds: whole, prove: proveMarks},
		{ID: "housing-spread",
			Severity: scenarios.Major, Lesson: "spread-and-caps", Source: common(), Kinds: whole, Design: spread, prove: proveSpread},
		{ID: "found-wrong",
			Severity: scenarios.Major, Lesson: "inspect-first", Source: common(), Kinds: scenarios.Kinds(), prove: proveFound},
		{ID: sheetCompleteID,
			Severity: scenarios.Minor, Lesson: "check-again", Source: common(), Kinds: scenarios.Kinds(), prove: proveComplete},
		{ID: "sheet-true",
			Severity: scenarios.Critical, Lesson: "check-again", Source: common(), Kinds: scenarios.Kinds(), prove: proveTrue},
	}
}

// budgetRows are of what an exercise allows.
func budgetRows() []Row {
	exercise := text.Say("source.exercise", "the exercise")
	return []Row{
		{ID: workBudgetID, Severity: scenarios.Minor, Lesson: "inspect-first", Source: exercise},
		{ID: partsBudgetID, Severity: scenarios.Minor, Lesson: "inspect-first", Source: exercise},
	}
}

// from is a published source.
func from(title string) text.Message { return text.Verbatim(title) }

// common is the source of what the trade does and no manual at hand asks for.
func common() text.Message { return text.Say("source.common-practice", "common practice, no source") }

// HoldsBack tells whether a score is held back by the line: nobody signs for an axle while a
// critical one is not proved.
func (l Line) HoldsBack() bool { return l.Missed() && l.Severity == scenarios.Critical }
