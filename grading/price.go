package grading

import (
	"math"
	"slices"

	"shimwright/scenarios/fault"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/shop"
	"shimwright/sim/truth"
)

// Prices in shop minutes (common practice estimates, no source). Work that repeats
// acts of the bench is summed from their own times, so the two cannot drift apart.
const (
	comebackMinutes   = 240.0 // an axle that comes back: strip, find, rebuild, and the customer
	sideComeback      = 120.0 // one that comes back for its side preload alone
	sideLateMinutes   = 80.0  // side preload wrong, blended over being noticed at total torque or later
	allowanceMinutes  = 3.0   // as good as best within this
	rhoMinutes        = 20.0  // regret that costs a factor e
	clampLossRisk     = 0.9   // chance that a backed-off or reused spacer brings the axle back
	looseCapRisk      = 0.9
	runoutLateMinutes = 80.0
	nutStepMinutes    = 4.0 // pull, turn, read
	noticeWidth       = 0.2 // how sharply a limit bites, in half windows
	comebackMargin    = 1.2 // half windows at which half the axles come back
)

// prices are those of an axle of one design.
type prices struct{ design family.Design }

func (p prices) minutesOf(forms ...act.Form) float64 {
	var sum shop.Minutes
	for _, f := range forms {
		sum += shop.TimeOf(p.design, f, 4)
	}
	return float64(sum)
}

func (p prices) solid() bool { return p.design.Preload == family.SolidSpacer }
func (p prices) rings() bool { return p.design.SideAdjust == family.ThreadedRings }
func (p prices) cage() bool  { return p.design.DepthShim == family.UnderCageFlange }

// loopTrial is a further trial build with another depth shim.
func (p prices) loopTrial() float64 {
	if p.cage() {
		return p.minutesOf(act.FitDepthShim, act.MeasureDepth)
	}
	return p.minutesOf(act.RemovePinion, act.FitDepthShim, act.FitPinion, act.MeasureDepth)
}

// trialBuild is building in for a trial and reading the height.
func (p prices) trialBuild() float64 {
	return p.minutesOf(act.FitPinion, act.MeasureDepth, act.RemovePinion)
}

// redoPreload is setting the pinion's preload again, case out: a new spacer after an
// overshoot, or another pack.
func (p prices) redoPreload() float64 {
	if p.solid() {
		return p.minutesOf(act.RemovePinion, act.FitPack, act.FitPinion, act.TurnNutTorque, act.TurnPinion, act.MeasureDrag)
	}
	return p.minutesOf(act.RemovePinion, act.FitPinion) + float64(shop.PriceOf(shop.SpacerAndNut)) + 5*nutStepMinutes
}

// reopen is taking the case out and putting it back as it was.
func (p prices) reopen() float64 {
	return p.minutesOf(act.RemoveCase, act.FitCase, act.TorqueCaps)
}

// redoSides is another pair of side shims, or other places of the rings, read again.
func (p prices) redoSides() float64 {
	read := p.minutesOf(act.MountIndicator, act.MeasureBacklash)
	if p.rings() {
		return p.minutesOf(act.SlackenCaps, act.TurnBackRing, act.TurnToothRing, act.TorqueCaps) + read
	}
	return p.reopen() + p.minutesOf(act.FitSideShims) + read
}

// redoDepth is another depth shim after the final build, everything read again.
func (p prices) redoDepth() float64 {
	if p.cage() {
		return p.minutesOf(act.FitDepthShim) + p.redoSides()
	}
	cost := p.redoSides() + p.redoPreload() + p.minutesOf(act.FitDepthShim)
	if p.rings() {
		cost += p.reopen()
	}
	return cost
}

// limitRisk is the chance that an error of z half windows will have to be put
// right: one half at the limit, rising over a tenth or two either way.
func limitRisk(z float64) float64 { return logistic((math.Abs(z) - 1) / noticeWidth) }

// comebackRisk is the chance that an error of z half windows brings the axle back.
func comebackRisk(z float64) float64 {
	return logistic((math.Abs(z) - comebackMargin) / noticeWidth)
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// average is the mean of f over a normal variable, by 41 even steps over four
// standard deviations: limits are too sharp for a five-point rule.
func average(mean, sd float64, f func(float64) float64) float64 {
	if sd <= 0 {
		return f(mean)
	}
	var sum, weight float64
	for i := -20; i <= 20; i++ {
		z := float64(i) / 5
		w := math.Exp(-z * z / 2)
		sum += float64(w * f(mean+float64(z*sd)))
		weight += w
	}
	return sum / weight
}

// A looked-for fault is settled by one act.
type check struct {
	test   act.Form
	faults []truth.FaultID
}

// checks lists the inspections that settle a fault and when they should be done.
func checks() []check {
	var out []check
	for _, f := range fault.All() {
		switch f.Test {
		case act.MeasureDrag, act.MeasureRunout, act.MeasureRimRunout, act.MeasureFlangeRunout, act.MeasureDepthShim, act.MeasureEndPlay:
			continue // settled by readings, not by a look
		}
		i := slices.IndexFunc(out, func(c check) bool { return c.test == f.Test })
		if i < 0 {
			out = append(out, check{test: f.Test})
			i = len(out) - 1
		}
		out[i].faults = append(out[i].faults, f.ID)
	}
	return out
}
