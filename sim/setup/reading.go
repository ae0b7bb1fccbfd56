package setup

import (
	"math"

	"shimwright/sim/text"
)

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
		return Spread{}, text.Fail(nil, text.Say("setup.one-reading", "a variation needs at least two readings: measure at three or four places around the gear"))
	}
	s := Spread{MinMM: math.Inf(1), MaxMM: math.Inf(-1)}
	for i, r := range readingsMM {
		if err := number(text.Say("setup.nth-reading", "reading {n}", text.Count("n", i+1)), r); err != nil {
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
