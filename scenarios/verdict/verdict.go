// Package verdict compares the true finish of an axle with its sheet: the last
// word on whether a job came out right. It opens the sealed state, so only the
// generator (to prove a job can be finished) and the reveal after sign-off use it.
//
// A value counts as met when it is within the spec widened by the expanded
// uncertainty (k = 2) of the instrument that is meant for it, because nobody at
// the bench could tell a value that close to the edge from one inside.
package verdict

import (
	"math"
	"slices"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// A Line names one line of the comparison.
type Line string

// The lines, in the order of the work.
const (
	DepthShim         Line = "depth-shim"
	PinionBuilt       Line = "pinion-built"
	CaseBuilt         Line = "case-built"
	PinionDepth       Line = "pinion-depth"
	PinionTorque      Line = "pinion-torque"
	PinionNut         Line = "pinion-nut"
	PinionClamp       Line = "pinion-clamp"
	Backlash          Line = "backlash"
	BacklashVariation Line = "backlash-variation"
	Runout            Line = "runout"
	Pattern           Line = "pattern"
	SidePreload       Line = "side-preload"
	NothingLeft       Line = "nothing-left"
)

// Name is what the line is called.
func (l Line) Name() text.Message {
	switch l {
	case DepthShim:
		return text.Say("verdict.depth-shim", "depth shim selected")
	case PinionBuilt:
		return text.Say("verdict.pinion-built", "pinion in its final assembly")
	case CaseBuilt:
		return text.Say("verdict.case-built", "differential case in, bearing caps at torque")
	case PinionDepth:
		return text.Say("verdict.pinion-depth", "pinion depth error")
	case PinionTorque:
		return text.Say("verdict.pinion-torque", "pinion rotating torque")
	case PinionNut:
		return text.Say("verdict.pinion-nut", "pinion nut torque")
	case PinionClamp:
		return text.Say("verdict.pinion-clamp", "pinion bearings clamped by the nut")
	case Backlash:
		return text.Say("verdict.backlash", "backlash, mean")
	case BacklashVariation:
		return text.Say("verdict.backlash-variation", "backlash variation")
	case Runout:
		return text.Say("verdict.runout", "ring gear runout")
	case Pattern:
		return text.Say("verdict.pattern", "contact pattern up the profile, mean of drive and coast")
	case SidePreload:
		return text.Say("verdict.side-preload", "side bearing preload, shims over zero end play")
	}
	return text.Say("verdict.nothing-left", "nothing left in the axle that will move or fail")
}

// An Item is one line of the comparison. Lengths are in millimeters and torques in
// newton millimeters; Kind says which. Guard is the expanded uncertainty, in the same
// unit, by which the spec is widened.
type Item struct {
	Line      Line
	Kind      Kind
	Value     float64
	Low, High float64
	Guard     float64
	Met       bool
	Why       text.Message // only for conditions without a number
	Drive     float64      // of the contact pattern, on each side
	Coast     float64
}

// Kind is what an item's figures are.
type Kind int

// The kinds of item.
const (
	Length   Kind = iota
	Rotating      // a rotating torque
	Fastener      // a nut's torque
	Share         // of the tooth, 0 root to 1 tip
	Fit           // shims over zero end play; below zero it is end play
	Condition
)

// An Edge is where a value lies in its spec when a measurement could not tell.
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

// ClampShare is the part of a proper stem force below which the pinion bearings count
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
	length := func(line Line, t gauge.Tool, v, low, high float64) Item {
		g := u(t, 0)
		return Item{Line: line, Kind: Length, Value: v, Low: low, High: high, Guard: g, Met: v >= low-g && v <= high+g}
	}
	torque := func(line Line, v float64, w family.TorqueSpec) Item {
		g := u(gauge.LowRangeWrench, v)
		return Item{Line: line, Kind: Rotating, Value: v, Low: w.LowNmm, High: w.HighNmm, Guard: g, Met: v >= w.LowNmm-g && v <= w.HighNmm+g}
	}
	condition := func(line Line, met bool) Item {
		return Item{Line: line, Kind: Condition, Met: met}
	}
	fit := func(line Line, v float64, w family.Spec) Item {
		i := length(line, gauge.DialIndicator, v, w.LowMM, w.HighMM)
		i.Kind = Fit
		return i
	}
	spec := sh.PinionTorque(used)
	spec = family.TorqueSpec{LowNmm: spec.LowNmm + f.SealNmm, HighNmm: spec.HighNmm + f.SealNmm}
	depth := length(PinionDepth, gauge.DepthGauge, f.DepthErrorMM, -sh.DepthToleranceMM, sh.DepthToleranceMM)
	if history.Goal(f.Goal) == history.DepthChosen {
		return []Item{condition(DepthShim, f.DepthShimFitted), depth}
	}
	pinion := []Item{
		condition(PinionBuilt, f.PinionFitted),
		depth,
		torque(PinionTorque, f.PinionTorqueNmm, spec),
		clamped(fam, x, f),
	}
	left := condition(NothingLeft, len(f.Remaining) == 0)
	if history.Goal(f.Goal) == history.PinionSet {
		left.Met = !slices.ContainsFunc(f.Remaining, func(id fault.ID) bool {
			left, err := fault.Find(id)
			return err == nil && left.Stage == fault.BeforePinion
		})
		return append(pinion, left)
	}
	return slices.Concat(pinion[:1], []Item{condition(CaseBuilt, f.CaseFitted && f.CapsTight)}, pinion[1:], []Item{
		length(Backlash, gauge.DialIndicator, f.BacklashMeanMM, sh.Backlash.LowMM, sh.Backlash.HighMM),
		length(BacklashVariation, gauge.DialIndicator, f.BacklashSpreadMM, 0, sh.BacklashSpreadMM),
		length(Runout, gauge.DialIndicator, f.RunoutTIRMM, 0, sh.RunoutMM),
		pattern(f, sh.PatternHeight),
		fit(SidePreload, f.SideFitMM, sh.SidePreload),
		left,
	})
}

// pattern compares the contact pattern that the gears leave. An eye places the mean of two
// sides as closely as one over the square root of two of what it can do on one.
func pattern(f truth.Finish, w family.Spec) Item {
	g := 2 * sim.EyeStd(gauge.Method{Coat: act.Thin, Load: act.Braked}) / math.Sqrt2
	mean := (f.PatternDrive + f.PatternCoast) / 2
	return Item{Line: Pattern, Kind: Share, Value: mean, Low: w.LowMM, High: w.HighMM, Guard: g, Drive: f.PatternDrive, Coast: f.PatternCoast,
		Met: mean >= w.LowMM-g && mean <= w.HighMM+g}
}

// clamped judges what holds the pinion bearings: with a collapsible spacer the pull left
// in the stem, with a solid one the nut at its torque.
func clamped(fam family.Family, x truth.Axle, f truth.Finish) Item {
	if fam.Design.Preload == family.SolidSpacer {
		c, _ := gauge.ClassOf(gauge.NutWrench)
		low, high := fam.Sheet.NutLow.Nmm(), fam.Sheet.NutHigh.Nmm()
		g := 2 * c.StandardUncertainty(f.NutNmm, 1)
		return Item{Line: PinionNut, Kind: Fastener, Value: f.NutNmm, Low: low, High: high, Guard: g, Met: f.NutNmm >= low-g && f.NutNmm <= high+g}
	}
	return Item{Line: PinionClamp, Kind: Condition, Met: !f.BackedOff && f.ClampN >= ClampShare*ExpectedClampN(x, f), Why: looseWhy(f)}
}

func looseWhy(f truth.Finish) text.Message {
	if f.BackedOff {
		return text.Say("verdict.backed-off", "the nut was loosened in the final assembly, so its clamp cannot be relied on")
	}
	return text.Say("verdict.loose", "the nut no longer clamps the pinion bearings")
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

// Text tells an item's value and its spec; nothing for a condition.
func (i Item) Text() (value, spec text.Message) {
	value = text.Say("verdict.value", "{value}", i.amount("value", i.Value))
	switch {
	case i.Kind == Condition:
		return text.Message{}, text.Message{}
	case i.Kind == Share && i.Value == 0:
		value = text.Say("verdict.no-pattern", "the gears will not roll")
	case i.Kind == Share:
		value = text.Say("verdict.pattern-value", "{value} (drive {drive}, coast {coast})", i.amount("value", i.Value), i.amount("drive", i.Drive), i.amount("coast", i.Coast))
	case i.Kind == Fit && i.Value < 0:
		value = text.Say("verdict.end-play", "{play} of end play", i.amount("play", -i.Value))
	}
	return value, text.Say("verdict.spec", "{low} to {high}", i.amount("low", i.Low), i.amount("high", i.High))
}

// amount is one of the item's figures.
func (i Item) amount(name string, x float64) text.Arg {
	switch i.Kind {
	case Share:
		return text.Number(name, x, 2)
	case Rotating:
		return text.Torque(name, quantity.Torque(x))
	case Fastener:
		return text.Fastener(name, quantity.Torque(x))
	}
	return text.Length(name, quantity.Millimetres(x))
}
