package setup

import "math"

// A MarkConvention says what a plus on a pinion means and where the depth shim
// sits. Its zero value is no convention at all.
type MarkConvention int

// The conventions found on axles.
const (
	// PinionPlusOutHeadShim, "P-inside": a plus says that the pinion runs right when
	// it stands further out. The shim lies between head and housing, so a thicker
	// one brings the pinion deeper and a plus asks for a thinner one.
	PlusTakesShimAway MarkConvention = iota + 1
	// PinionPlusOutCageShim, "P-cage": the plus means the same, but the shim lies
	// under the flange of the bearing cage, where a thicker one lifts the pinion out.
	PlusThickensCageShim
	// ShimCorrection, "Q-shim": the mark is added to the shim as it stands. The
	// shim lies at the head, thicker is deeper.
	PlusAddsShim
)

// String returns the short name used on axle sheets.
func (c MarkConvention) String() string {
	switch c {
	case PlusTakesShimAway:
		return "P-inside"
	case PlusThickensCageShim:
		return "P-cage"
	case PlusAddsShim:
		return "Q-shim"
	}
	return "no mark convention"
}

// Explain says the convention in a sentence for the person at the bench.
func (c MarkConvention) Explain() string {
	switch c {
	case PlusTakesShimAway:
		return "A plus means the pinion runs further out; the shim is at the head, thicker is deeper, so a plus takes shim away."
	case PlusThickensCageShim:
		return "A plus means the pinion runs further out; the shim is under the cage, thicker is shallower, so a plus adds shim."
	case PlusAddsShim:
		return "The mark corrects the shim itself: a plus adds shim, a minus takes it away; thicker is deeper."
	}
	return "Nothing says what the marks mean: find it in the manual before working out a shim."
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
