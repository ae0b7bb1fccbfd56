package setup

import (
	"errors"
	"fmt"
	"math"

	"shimwright/sim/text"
)

// GaugeShimMM returns the shim from a depth gauge that reads the shim of an unmarked
// pinion, and the mark of the pinion to be fitted, in millimetres. A convention
// that is not Known gives NaN.
//
// PlusAddsShim adds the mark (TM 9-2320-289-34, table 6-2); PlusTakesShimAway takes it away (TM
// 9-2320-280-34, para 19-3, steps 23-31); PlusThickensCageShim adds it, by the same reasoning as
// for two marks.
func GaugeShimMM(conv MarkConvention, gaugeReadingMM, markMM float64) float64 {
	return gaugeReadingMM + conv.markSign()*markMM
}

// DepthShimFromHeightMM returns the shim that brings a pinion from the head height
// measured over a trial shim to the wanted height, all in millimetres and both
// heights from the ring gear axis (add the arbor's radius if the gauge starts at its
// side). A pinion that stands too far out gets more shim at the head, less under a
// cage. The marks' meaning does not enter here, only the shim's place; the wanted
// height must already contain the mark. A convention that is not Known gives NaN.
func DepthShimFromHeightMM(conv MarkConvention, mockUpShimMM, measuredMM, wantedMM float64) float64 {
	return mockUpShimMM + conv.deeperSign()*(measuredMM-wantedMM)
}

// LeverIndicatorTrueMM returns the travel behind the reading of a lever indicator, in
// millimetres. angleDeg is the angle between stylus and surface, from 0 (right) to
// below 90 degrees, where the lever could not follow. Reading times cosine, by
// instrument makers' pages.
func LeverIndicatorTrueMM(readingMM, angleDeg float64) (float64, error) {
	cos, err := tilt(text.Verbatim("the reading"), readingMM, angleDeg)
	if err != nil {
		return 0, err
	}
	return readingMM * cos, nil
}

// PlungerReadingMM returns what a plunger indicator shows for a true movement square
// to the flank, in millimetres, when the plunger leans off that direction by
// offNormalDeg, from 0 to below 90 degrees, and its tip slides along the flank. It
// reads high, never low: movement over cosine. That tempts a fitter to close the
// gears. Far off square the tip also sticks; trust it to about 30 degrees.
func PlungerReadingMM(trueMM, offNormalDeg float64) (float64, error) {
	cos, err := tilt(text.Verbatim("the movement"), trueMM, offNormalDeg)
	if err != nil {
		return 0, err
	}
	return trueMM / cos, nil
}

func tilt(what text.Message, mm, deg float64) (cos float64, err error) {
	if err := first(number(what, mm), notNegative(text.Verbatim("the indicator's angle"), deg)); err != nil {
		return 0, err
	}
	if deg >= 90 {
		return 0, fmt.Errorf("the indicator's angle is %g degrees: it has to be less than 90, set the indicator square again", deg)
	}
	return math.Cos(radians(deg)), nil
}

// TotalMM returns both packs together, in millimetres. Side preload follows the
// total, backlash the split.
func (s SideShims) TotalMM() float64 { return s.RingGearMM + s.OppositeMM }

// AddPreloadMM returns the packs made thicker by an amount in millimetres on each
// side. The ring gear stays where it is.
func (s SideShims) AddPreloadMM(each float64) SideShims {
	return SideShims{RingGearMM: s.RingGearMM + each, OppositeMM: s.OppositeMM + each}
}

// Check returns an error for a pack that cannot exist: thinner than nothing, or not
// a number.
func (s SideShims) Check() error {
	return first(notNegative(text.Verbatim("the back side shim"), s.RingGearMM),
		notNegative(text.Verbatim("the tooth side shim"), s.OppositeMM))
}

// CloseBacklashTable returns the side shims to fit, starting from packs that bring
// the gears just to zero backlash with no end play at the side bearings: the gear is
// drawn away by openMM, then each side gets preloadEachMM, all in millimetres. This
// is the working of TM 9-2320-289-34, table 6-1.
//
// An amount that is negative or no number is an error, and so is a back pack too
// thin to give up what the gear is drawn away.
func CloseBacklashTable(closed SideShims, openMM, preloadEachMM float64) (SideShims, error) {
	if err := first(closed.Check(),
		notNegative(text.Verbatim("the distance to draw the ring gear away"), openMM),
		notNegative(text.Verbatim("the preload allowance on each side"), preloadEachMM)); err != nil {
		return SideShims{}, err
	}
	fit := closed.MoveRingAwayMM(openMM).AddPreloadMM(preloadEachMM)
	if fit.RingGearMM < 0 {
		return SideShims{}, fmt.Errorf("the back side shim would have to lose more than its whole %g mm: check the packs that closed the gears", closed.RingGearMM)
	}
	return fit, nil
}

// SpacerForTorqueMM returns the solid spacer, in millimetres, for a wanted pinion
// rotating torque, on the straight line through two trials (spacers in millimetres,
// torques in newton millimetres). A thicker spacer holds the cones further apart and
// lowers the torque (TM 10-3930-660-34, p. 9-16), so trials that say otherwise, or
// two that hardly differ, are an error. The line serves between and near the trials;
// it knows nothing of end play, where the torque stops falling.
//
// Never for a collapsible spacer: that one does not come back.
func SpacerForTorqueMM(spacer1MM, torque1Nmm, spacer2MM, torque2Nmm, wantedNmm float64) (float64, error) {
	if err := first(positive(text.Verbatim("the first spacer"), spacer1MM), notNegative(text.Verbatim("the first rotating torque"), torque1Nmm),
		positive(text.Verbatim("the second spacer"), spacer2MM), notNegative(text.Verbatim("the second rotating torque"), torque2Nmm),
		notNegative(text.Verbatim("the wanted rotating torque"), wantedNmm)); err != nil {
		return 0, err
	}
	if spacer1MM == spacer2MM || torque1Nmm == torque2Nmm {
		return 0, errors.New("the two trials do not differ: try a spacer that changes the rotating torque")
	}
	if (spacer2MM > spacer1MM) == (torque2Nmm > torque1Nmm) {
		return 0, errors.New("the thicker spacer gave the higher torque, which a solid spacer cannot do: check which reading belongs to which spacer")
	}
	s := spacer1MM + (wantedNmm-torque1Nmm)*(spacer2MM-spacer1MM)/(torque2Nmm-torque1Nmm)
	if s <= 0 {
		return 0, fmt.Errorf("the line through the two trials leads to a spacer of %g mm: take trials nearer to the wanted torque", s)
	}
	return s, nil
}
