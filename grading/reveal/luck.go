package reveal

import (
	"slices"

	"shimwright/grading"
	"shimwright/scenarios/verdict"
	"shimwright/sim/act"
)

// A Luck says how what came of a decision compares with how it was judged. It is told and
// never scored.
type Luck string

// The kinds of luck.
const (
	// Lucky is a decision that was a gamble on what was known and came out right.
	Lucky Luck = "lucky"
	// Unlucky is a decision that was sound on what was known and came out wrong.
	Unlucky Luck = "unlucky"
	// AsExpected is a decision that came out as it was judged.
	AsExpected Luck = "as expected"
	// Replaced is a decision that a later one took the place of, so that nobody sees what
	// would have come of it.
	Replaced Luck = "replaced"
	// Unseen is a look or a reading done or left out: the axle's end does not tell.
	Unseen Luck = "does not show"
)

// Scores at which a decision counts as sound and as a gamble: the bounds of
// grading.Decision.Band.
const (
	soundScore  = 0.90
	gambleScore = 0.60
)

// governs names the lines of the sheet that an area's last decision settles; none for the
// signature, which all of them are about.
func governs(a grading.Area) []verdict.Line {
	switch a {
	case grading.Depth:
		return []verdict.Line{verdict.PinionDepth}
	case grading.Preload:
		return []verdict.Line{verdict.PinionTorque, verdict.PinionClamp, verdict.PinionNut}
	case grading.Sides:
		return []verdict.Line{verdict.Backlash, verdict.SidePreload}
	}
	return nil
}

// replaces tells whether an act puts something else in the place of what an earlier one of an
// area settled.
func replaces(a grading.Area, f act.Form) bool {
	switch a {
	case grading.Depth:
		return f == act.FitDepthShim
	case grading.Preload:
		switch f {
		case act.FitPinion, act.FitPreloadShims, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut:
			return true
		}
	case grading.Sides:
		switch f {
		case act.FitSideShims, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
			return true
		}
	}
	return false
}

// luckOf compares each decision with what came of it, in the order of the report.
//
// A part of the sheet that is missed is bad luck only where signing was sound too: else
// the readings had already shown it, and going on was a choice.
func luckOf(rep grading.Report, lines []Line) []Luck {
	last := map[grading.Area]int{} // the act that replaced an area's last
	signedSoundly := true
	for _, d := range rep.Decisions {
		for _, a := range []grading.Area{grading.Depth, grading.Preload, grading.Sides} {
			if replaces(a, d.Form) {
				last[a] = d.Act
			}
		}
		if d.Area == grading.Stopping && d.Score < soundScore {
			signedSoundly = false
		}
	}
	met := func(a grading.Area) bool {
		names := governs(a)
		return !slices.ContainsFunc(lines, func(l Line) bool {
			return !l.Met && (names == nil || slices.Contains(names, l.Line))
		})
	}
	out := make([]Luck, len(rep.Decisions))
	for i, d := range rep.Decisions {
		right := d.Area != grading.Looking && met(d.Area)
		switch {
		case d.Area == grading.Looking:
			out[i] = Unseen
		case d.Act < last[d.Area]:
			out[i] = Replaced
		case right && d.Score < gambleScore:
			out[i] = Lucky
		case !right && d.Score >= soundScore && signedSoundly:
			out[i] = Unlucky
		default:
			out[i] = AsExpected
		}
	}
	return out
}
