package grading

import (
	"errors"
	"math"

	"shimwright/grading/ledger"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// An Expectation is what a trainee said they would read, beside what they read and what
// the readings before it let one expect. It never enters the score. Amounts are mm, or
// N·mm for a drag.
type Expectation struct {
	Said     int        `json:"said"` // number of the act that says it
	Act      int        `json:"act"`  // number of the reading
	Kind     gauge.Kind `json:"what"`
	Unit     string     `json:"unit"`
	Expected float64    `json:"expected"`
	Read     float64    `json:"read"`
	Believed float64    `json:"believed"`
	Within   float64    `json:"within"`         // half of the interval that should hold nineteen readings in twenty
	Score    float64    `json:"interval_score"` // of the trainee's figure, in widths of that interval: 1 is a hit, less there is not
	Careful  float64    `json:"interval_score_believed"`
}

// Arg is an amount of the expectation as a value of a text.
func (e Expectation) Arg(name string, v float64) text.Arg {
	if e.Unit == "mm" {
		return text.Length(name, quantity.Millimetres(v))
	}
	return text.Torque(name, quantity.Torque(v))
}

// Hit reports whether the reading came as near to the trainee's figure as one could
// expect it to.
func (e Expectation) Hit() bool { return math.Abs(e.Expected-e.Read) <= e.Within }

// Surprise reports whether the reading lay outside what a careful reckoning expected.
func (e Expectation) Surprise() bool { return math.Abs(e.Believed-e.Read) > e.Within }

// Misses is the part of readings that an expectation's interval should miss, and
// twoSided how many standard deviations the interval reaches either way.
const (
	missShare = 0.05
	twoSided  = 1.96
)

// ErrInterval is returned for an interval or a share that is none.
var ErrInterval = errors.New("an interval goes from a low to a high figure and misses a share between 0 and 1")

// IntervalScore scores an interval that should miss a share of all readings, against one
// reading: its width, and for a miss 2/share times the distance beside. All amounts are in
// one unit, whichever; the share is between 0 and 1, both left out. The least score is the
// best. Errors: ErrInterval.
//
// Formula: T. Gneiting and A. Raftery, Strictly proper scoring rules, prediction, and
// estimation, Journal of the American Statistical Association 102 (2007), eq. 43.
func IntervalScore(low, high, share, read float64) (float64, error) {
	if !(low <= high && share > 0 && share < 1) || math.IsNaN(read) || math.IsInf(high-low, 0) {
		return 0, ErrInterval
	}
	return high - low + 2/share*(math.Max(low-read, 0)+math.Max(read-high, 0)), nil
}

// expectations walks along an attempt and keeps what was said until it is read.
type expectations struct {
	length, torque *said
	out            []Expectation
}

type said struct {
	act    int
	amount float64 // mm or N·mm
}

// take notes what an act says, or holds it against what the act reads. It comes before
// the reading is learned.
func (x *expectations) take(n int, o history.Step, s *ledger.State) {
	if o.Act.Form == act.ExpectValue {
		if l, ok := o.Act.Amounts[0].Length(); ok {
			x.length = &said{n, l.MM()}
		} else if t, ok := o.Act.Amounts[0].Torque(); ok {
			x.torque = &said{n, t.Nmm()}
		}
		return
	}
	for _, rd := range o.Readings {
		open, unit := &x.length, "mm"
		read := 0.0
		switch rd.Kind {
		case gauge.Depth:
			read = rd.Lengths[0].MM()
		case gauge.Backlash:
			mean, _, _ := rd.Summary()
			read = mean.MM()
		case gauge.PinionTorque, gauge.TotalTorque:
			open, unit = &x.torque, "N·mm"
			read = rd.MeanTorque().Nmm()
		default:
			continue
		}
		if *open == nil {
			continue
		}
		mean, sd := s.Foresee(rd)
		e := Expectation{Said: (*open).act, Act: n, Kind: rd.Kind, Unit: unit, Expected: (*open).amount, Read: read, Believed: math.Max(mean, 0), Within: twoSided * sd}
		e.Score, e.Careful = inWidths(e.Expected, e.Within, read), inWidths(e.Believed, e.Within, read)
		x.out = append(x.out, e)
		*open = nil
	}
}

// inWidths is the interval score about a figure, in widths of the interval.
func inWidths(figure, within, read float64) float64 {
	score, err := IntervalScore(figure-within, figure+within, missShare, read)
	if err != nil || within <= 0 {
		return 0
	}
	return hundredths(score / (2 * within))
}
