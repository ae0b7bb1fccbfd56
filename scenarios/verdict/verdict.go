// Package verdict compares the true finish of an axle with its sheet: the last
// word on whether a job came out right. It opens the sealed state, so only the
// generator (to prove a job can be finished) and the reveal after sign-off use it.
//
// A value counts as met when it lies in the sheet's window widened by the expanded
// uncertainty (k = 2) of the instrument that is meant for it, because nobody at
// the bench could tell a value that close to the edge from one inside.
package verdict

import (
	"math"
	"slices"

	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// An Item is one line of the comparison. Lengths are in millimetres and torques in
// newton millimetres; Kind says which. Guard is the expanded uncertainty, in the same
// unit, by which the window is widened.
type Item struct {
	Name      string
	Kind      Kind
	Value     float64
	Low, High float64
	Guard     float64
	Met       bool
	Why       string // only for conditions without a number
}

// Kind is what an item's figures are.
type Kind int

// The kinds of item.
const (
	Length Kind = iota
	Drag
	Tight // a nut's torque
	Fit   // a length of interference; below zero it is end play
	Condition
)

// An Edge is where a value lies in its window when a measurement could not tell.
type Edge int

// The edges. A value is at one when it is within the guard of a limit.
const (
	NotNear Edge = iota
	JustInside
	JustOutside
)

// Edge tells whether the value is so near a limit that the instrument meant for it
// could not tell the two sides apart. A lower limit of zero is none, where nothing
// can lie below.
func (i Item) Edge() Edge {
	if i.Kind == Condition {
		return NotNear
	}
	near := i.Value > i.High-i.Guard && i.Value <= i.High+i.Guard
	if i.Low != 0 {
		near = near || i.Value < i.Low+i.Guard && i.Value >= i.Low-i.Guard
	}
	switch {
	case !near:
		return NotNear
	case i.Value >= i.Low && i.Value <= i.High:
		return JustInside
	}
	return JustOutside
}

// ClampShare is the part of a proper stem force below which a pinion stack counts
// as loose (estimate; a sound one of this model has 0.8 and more). A nut that was
// backed off and left counts as loose whatever it still holds: a small back-off
// leaves a good part of the clamp, but nothing that will stay.
const ClampShare = 0.6

// Check returns the comparison, line by line, for an axle with new or used bearings.
func Check(fam family.Family, used bool, sealed truth.Sealed) []Item {
	x, f := truth.Open(sealed)
	sh := fam.Sheet
	u := func(t gauge.Tool, value float64) float64 {
		c, _ := gauge.ClassOf(t)
		return 2 * c.StandardUncertainty(value, 1)
	}
	length := func(name string, t gauge.Tool, v, low, high float64) Item {
		g := u(t, 0)
		return Item{name, Length, v, low, high, g, v >= low-g && v <= high+g, ""}
	}
	torque := func(name string, v float64, w family.TorqueSpec) Item {
		g := u(gauge.LowRangeWrench, v)
		return Item{name, Drag, v, w.LowNmm, w.HighNmm, g, v >= w.LowNmm-g && v <= w.HighNmm+g, ""}
	}
	condition := func(name string, met bool, why string) Item {
		return Item{Name: name, Kind: Condition, Met: met, Why: why}
	}
	fit := func(name string, v float64, w family.Spec) Item {
		i := length(name, gauge.DialIndicator, v, w.LowMM, w.HighMM)
		i.Kind = Fit
		return i
	}
	spec := sh.PinionTorque(used)
	spec = family.TorqueSpec{LowNmm: spec.LowNmm + f.SealNmm, HighNmm: spec.HighNmm + f.SealNmm}
	depth := length("pinion depth error", gauge.DepthGauge, f.DepthErrorMM, -sh.DepthToleranceMM, sh.DepthToleranceMM)
	if history.Goal(f.Goal) == history.DepthChosen {
		return []Item{condition("depth shim chosen", f.DepthShimFitted, ""), depth}
	}
	pinion := []Item{
		condition("pinion in its final build", f.PinionFitted, ""),
		depth,
		torque("pinion rotating torque", f.PinionTorqueNmm, spec),
		clamped(fam, x, f),
	}
	left := condition("nothing left in the axle that will move or fail", len(f.Remaining) == 0, "")
	if history.Goal(f.Goal) == history.PinionSet {
		left.Met = !slices.ContainsFunc(f.Remaining, func(id fault.ID) bool {
			left, err := fault.Find(id)
			return err == nil && left.Stage == fault.BeforePinion
		})
		return append(pinion, left)
	}
	return slices.Concat(pinion[:1], []Item{condition("case in, caps at torque", f.CaseFitted && f.CapsTight, "")}, pinion[1:], []Item{
		length("backlash, mean", gauge.DialIndicator, f.BacklashMeanMM, sh.Backlash.LowMM, sh.Backlash.HighMM),
		length("backlash, spread round the gear", gauge.DialIndicator, f.BacklashSpreadMM, 0, sh.BacklashSpreadMM),
		length("ring gear runout", gauge.DialIndicator, f.RunoutTIRMM, 0, sh.RunoutMM),
		fit("side preload, as interference", f.SideFitMM, sh.SidePreload),
		left,
	})
}

// clamped judges what holds the pinion's stack: with a collapsible spacer the pull left
// in the stem, with a solid one the nut at its torque.
func clamped(fam family.Family, x truth.Axle, f truth.Finish) Item {
	if fam.Design.Preload == family.SolidSpacer {
		c, _ := gauge.ClassOf(gauge.NutWrench)
		low, high := fam.Sheet.NutLow.Nmm(), fam.Sheet.NutHigh.Nmm()
		g := 2 * c.StandardUncertainty(f.NutNmm, 1)
		return Item{"pinion nut torque", Tight, f.NutNmm, low, high, g, f.NutNmm >= low-g && f.NutNmm <= high+g, ""}
	}
	return Item{Name: "pinion stack clamped", Kind: Condition, Met: !f.BackedOff && f.ClampN >= ClampShare*ExpectedClampN(x, f), Why: looseWhy(f)}
}

func looseWhy(f truth.Finish) string {
	if f.BackedOff {
		return "the nut was loosened in its final build, so its clamp cannot be relied on"
	}
	return "the nut no longer holds the stack"
}

// ExpectedClampN is the stem force that crushing this axle's new spacer to its
// finished preload leaves, newtons: crush load plus preload.
func ExpectedClampN(x truth.Axle, f truth.Finish) float64 {
	s := x.Spacers[len(x.Spacers)-1]
	return s.YieldN + math.Max(f.PinionPreloadN, 0)
}

// Met reports whether every item is met.
func Met(items []Item) bool {
	for _, i := range items {
		if !i.Met {
			return false
		}
	}
	return true
}

// Text writes an item's value and window in the units asked for.
func (i Item) Text(s quantity.System) (value, spec string) {
	switch i.Kind {
	case Length, Fit:
		value = quantity.Millimetres(i.Value).Show(s)
		if i.Kind == Fit && i.Value < 0 {
			value = quantity.Millimetres(-i.Value).Show(s) + " of end play"
		}
		return value,
			quantity.Millimetres(i.Low).Show(s) + " to " + quantity.Millimetres(i.High).Show(s)
	case Drag:
		return quantity.Torque(i.Value).ShowRotating(s),
			quantity.Torque(i.Low).ShowRotating(s) + " to " + quantity.Torque(i.High).ShowRotating(s)
	case Tight:
		return quantity.Torque(i.Value).ShowFastener(s),
			quantity.Torque(i.Low).ShowFastener(s) + " to " + quantity.Torque(i.High).ShowFastener(s)
	}
	return "", ""
}
