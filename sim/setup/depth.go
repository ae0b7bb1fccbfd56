package setup

import (
	"math"

	"shimwright/sim/text"
)

// A MarkConvention says what a plus on a pinion means and where the depth shim
// sits. Its zero value is no convention at all.
type MarkConvention int

// The conventions found on axles.
const (
	// PlusTakesShimAway: the pinion runs right when it is farther out. The shim is
	// under the inner cone or behind its cup, so a thicker one makes the pinion deeper
	// and a plus asks for a thinner one.
	PlusTakesShimAway MarkConvention = iota + 1
	// PlusThickensCageShim: the plus means the same, but the shim is under the flange
	// of the pinion cage, where a thicker one makes the pinion shallower.
	PlusThickensCageShim
	// PlusAddsShim: the mark is added to the shim itself. The shim is under the inner
	// cone or behind its cup, where a thicker one makes the pinion deeper.
	PlusAddsShim
)

// String returns the code of the convention.
func (c MarkConvention) String() string {
	switch c {
	case PlusTakesShimAway:
		return "plus-takes-shim"
	case PlusThickensCageShim:
		return "plus-thickens-cage-shim"
	case PlusAddsShim:
		return "plus-adds-shim"
	}
	return "none"
}

// Explain says the convention for the person at the bench.
func (c MarkConvention) Explain() text.Message {
	switch c {
	case PlusTakesShimAway:
		return text.Say("marks.plus-takes-shim", "Plus takes shim away. A plus mark means the pinion must sit farther from the ring gear centerline; a thicker shim makes the pinion deeper.")
	case PlusThickensCageShim:
		return text.Say("marks.plus-thickens-cage-shim", "Plus means a thicker cage shim. A plus mark means the pinion must sit farther from the ring gear centerline; the shim is under the cage, where a thicker one makes the pinion shallower.")
	case PlusAddsShim:
		return text.Say("marks.plus-adds-shim", "Plus adds shim. The mark corrects the shim itself: add a plus mark to the shim, subtract a minus mark; a thicker shim makes the pinion deeper.")
	}
	return text.Say("marks.none", "No convention for the marks is given. Find it in the manual before you work out a shim.")
}

// Known reports whether c is one of the conventions above.
func (c MarkConvention) Known() bool {
	return c >= PlusTakesShimAway && c <= PlusAddsShim
}

// markSign is how a plus changes the shim: +1 thicker, -1 thinner, NaN unknown.
func (c MarkConvention) markSign() float64 {
	switch c {
	case PlusTakesShimAway:
		return -1
	case PlusThickensCageShim, PlusAddsShim:
		return 1
	}
	return math.NaN()
}

// ShimForMarkMM returns what a pinion's mark (mm) adds to the shim of an unmarked one, mm:
// nothing under no known convention.
func (c MarkConvention) ShimForMarkMM(markMM float64) float64 {
	if !c.Known() {
		return 0
	}
	return c.markSign() * markMM
}

// OutForMarkMM returns how much further out than an unmarked pinion one with this mark
// (mm) runs right, mm: nothing under no known convention.
func (c MarkConvention) OutForMarkMM(markMM float64) float64 {
	if !c.Known() {
		return 0
	}
	return -c.deeperSign() * c.markSign() * markMM
}

// deeperSign is how a thicker shim moves the pinion: +1 deeper, -1 shallower, NaN
// unknown.
func (c MarkConvention) deeperSign() float64 {
	switch c {
	case PlusTakesShimAway, PlusAddsShim:
		return 1
	case PlusThickensCageShim:
		return -1
	}
	return math.NaN()
}

// DepthShimMM returns the starter shim for a new pinion from the old shim and the
// two marks, in millimetres. Marks carry their sign. A convention that is not
// Known gives NaN: no answer is better than a shim of the wrong sign.
//
// P-inside S + o - n: TM 9-2320-280-34, table 9-1. P-cage S - o + n: TM
// 5-3895-369-14, table 5-4. Q-shim S - o + n: the difference of two gauge sums of
// TM 9-2320-289-34, table 6-2; no manual prints it for two marks.
func DepthShimMM(conv MarkConvention, oldShimMM, oldMarkMM, newMarkMM float64) float64 {
	return oldShimMM + conv.markSign()*(newMarkMM-oldMarkMM)
}
