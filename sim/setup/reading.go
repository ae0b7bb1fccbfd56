package setup

import (
	"errors"
	"fmt"
	"math"
)

// LeverIndicatorTrueMM returns the travel behind the reading of a lever indicator, in
// millimetres. angleDeg is the angle between stylus and surface, from 0 (right) to
// below 90 degrees, where the lever could not follow. Reading times cosine, by
// instrument makers' pages.
func LeverIndicatorTrueMM(readingMM, angleDeg float64) (float64, error) {
	cos, err := tilt("the reading", readingMM, angleDeg)
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
	cos, err := tilt("the movement", trueMM, offNormalDeg)
	if err != nil {
		return 0, err
	}
	return trueMM / cos, nil
}

func tilt(what string, mm, deg float64) (cos float64, err error) {
	if err := first(number(what, mm), notNegative("the indicator's angle", deg)); err != nil {
		return 0, err
	}
	if deg >= 90 {
		return 0, fmt.Errorf("the indicator's angle is %g degrees: it has to be less than 90, set the indicator square again", deg)
	}
	return math.Cos(radians(deg)), nil
}

// A Spread is what several readings of one thing say together, in millimetres.
type Spread struct {
	MeanMM, MinMM, MaxMM float64
	SpreadMM             float64 // greatest less least
}

// SpreadOf sums up readings taken at different places, in millimetres. Fewer than two
// readings is an error, because one cannot show a spread; so is a reading that is no
// number. A gear is judged by its least backlash and its spread, not by the mean
// alone.
func SpreadOf(readingsMM []float64) (Spread, error) {
	if len(readingsMM) < 2 {
		return Spread{}, errors.New("a spread needs at least two readings: read at three or four places round the gear")
	}
	s := Spread{MinMM: math.Inf(1), MaxMM: math.Inf(-1)}
	for i, r := range readingsMM {
		if err := number(fmt.Sprintf("reading %d", i+1), r); err != nil {
			return Spread{}, err
		}
		s.MinMM = math.Min(s.MinMM, r)
		s.MaxMM = math.Max(s.MaxMM, r)
		s.MeanMM += r / float64(len(readingsMM))
	}
	s.MeanMM = math.Max(s.MinMM, math.Min(s.MeanMM, s.MaxMM))
	s.SpreadMM = s.MaxMM - s.MinMM
	return s, nil
}
