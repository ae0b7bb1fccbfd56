package history

import (
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/shop"
)

// A Step is one act done at the bench: how the axle stood before and after, what was read,
// what was felt, and what it cost.
type Step struct {
	Act           act.Act
	Before, After Status
	Readings      []gauge.Reading
	Feels         []Feel // in the order they were felt
	Minutes       shop.Minutes
	Parts         []shop.Part
	Caution       act.Caution // given the first time it matters
}

// Felt tells whether one of some feels was felt.
func (s Step) Felt(any ...Feel) bool {
	return slices.ContainsFunc(s.Feels, func(f Feel) bool { return slices.Contains(any, f) })
}

// Reading returns the step's first reading of a kind.
func (s Step) Reading(k gauge.Kind) (gauge.Reading, bool) {
	for _, r := range s.Readings {
		if r.Kind == k {
			return r, true
		}
	}
	return gauge.Reading{}, false
}

// FirstMM is the first length that the step shows, mm; zero for none.
func (s Step) FirstMM() float64 {
	for _, r := range s.Readings {
		if len(r.Lengths) > 0 {
			return r.Lengths[0].MM()
		}
	}
	return 0
}

// Found tells whether an inspection came to a finding.
func (s Step) Found(any ...gauge.Finding) bool {
	return slices.ContainsFunc(s.Readings, func(r gauge.Reading) bool { return slices.Contains(any, r.Finding) })
}

// Wrong tells whether an inspection found something wrong, or the case did not go in.
func (s Step) Wrong() bool { return slices.ContainsFunc(s.Readings, gauge.Reading.Wrong) }
