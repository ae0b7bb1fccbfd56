package setup

import (
	"math"
)

// ShimMoveForBacklashMM returns how far the ring gear has to go for a wanted change
// of backlash, in millimetres, positive away from the pinion (more backlash).
//
// gain is the part of the travel that shows as backlash, above zero and commonly
// 0.5 to 0.8 (TM 9-2320-289-34, table 6-1: 0.010 in of travel gives 0.005 to 0.008
// in). It must be for backlash measured the way the reading was taken. A gain of
// zero or less, or an amount that is no number, is an error.
func ShimMoveForBacklashMM(wantedChangeMM, gain float64) (ringAwayMM float64, err error) {
	if err := first(number(nameBacklashChange(), wantedChangeMM),
		positive(nameBacklashPerTravel(), gain)); err != nil {
		return 0, err
	}
	return wantedChangeMM / gain, nil
}

// SideShims are the shims outside the two side bearings, in millimetres.
type SideShims struct {
	RingGearMM float64 // behind the ring gear
	OppositeMM float64 // on the side its teeth face
}

// MoveRingAwayMM returns the shims that carry the ring gear away from the pinion by
// an amount in millimetres, toward it when negative. One side gives what the other
// takes, so that the total and with it the preload stays (TM 9-2320-289-34, pp. 6-21
// and 6-22). Bearing adjusters follow the same rule: the ring-gear side is backed out as far
// as the opposite side is run in.
func (s SideShims) MoveRingAwayMM(away float64) SideShims {
	return SideShims{RingGearMM: s.RingGearMM - away, OppositeMM: s.OppositeMM + away}
}

// A BacklashGain is how much backlash each millimetre of travel makes, in millimetres
// for each millimetre.
type BacklashGain struct {
	RingNormal   float64 // ring gear travel, indicator square to the flank
	RingCircle   float64 // ring gear travel, indicator along the circle of motion
	PinionNormal float64 // pinion travel, indicator square to the flank
}

// BacklashPerTravel returns the gains by the formulas for straight bevel gears at the
// mean point. ratio is ring teeth over pinion teeth, above zero; the mean normal
// pressure angle lies above 0 and below 90 degrees, the gear's spiral angle from 0 to
// below 90 degrees.
//
// Worked from the geometry, not published. Legend: a pressure angle, b spiral angle,
// d pitch angle of the gear with tan d = ratio.
//
//	ring, normal 2 sin a sin d    ring, circle 2 tan a sin d / cos b
//	pinion, normal 2 sin a cos d
//
// The package comment says how this differs from the tooth model.
func BacklashPerTravel(ratio, pressureAngleDeg, spiralAngleDeg float64) (BacklashGain, error) {
	if err := first(positive(nameRatio(), ratio),
		positive(namePressureAngle(), pressureAngleDeg), belowSquare(namePressureAngle(), pressureAngleDeg),
		notNegative(nameSpiralAngle(), spiralAngleDeg), belowSquare(nameSpiralAngle(), spiralAngleDeg)); err != nil {
		return BacklashGain{}, err
	}
	a, b, d := radians(pressureAngleDeg), radians(spiralAngleDeg), math.Atan(ratio)
	return BacklashGain{
		RingNormal:   2 * math.Sin(a) * math.Sin(d),
		RingCircle:   2 * math.Tan(a) * math.Sin(d) / math.Cos(b),
		PinionNormal: 2 * math.Sin(a) * math.Cos(d),
	}, nil
}

// shelfSlack is the share of a step by which arithmetic on decimal sizes may miss.
const shelfSlack = 1e-6

// NearestStepMM returns the size in stock nearest to the wanted one, in millimetres,
// for a row that starts at lo and rises by step while it is not above hi. Half-way
// goes to the thicker. The flag tells whether the wanted size lies within lo to hi;
// if not, the returned size is the end of the row. A row that makes no sense (step
// not above zero, hi below lo, no number) gives NaN and false.
func NearestStepMM(wanted, lo, hi, step float64) (float64, bool) {
	if !isNumber(wanted) || !isNumber(lo) || !isNumber(hi) || !isNumber(step) || step <= 0 || hi < lo {
		return math.NaN(), false
	}
	last := math.Floor((hi-lo)/step + shelfSlack)
	n := math.Floor((wanted-lo)/step + 0.5 + shelfSlack)
	n = math.Max(0, math.Min(n, last))
	slack := step * shelfSlack
	return lo + n*step, wanted >= lo-slack && wanted <= hi+slack
}
