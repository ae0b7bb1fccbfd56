package grading

import (
	"math"
	"slices"

	"shimwright/grading/cost"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/shop"
)

// prices are those of an axle of one design by a table of costs. What has to be done again
// is summed from the times of its acts.
type prices struct {
	design family.Design
	costs  cost.Table
}

// usualPlaces are the places round the ring gear of a good backlash reading.
const usualPlaces = 4

func (p prices) minutesOf(forms ...act.Form) float64 {
	var sum float64
	for _, f := range forms {
		sum += p.costs.TimeOf(p.design, f, usualPlaces)
	}
	return sum
}

// nutStep is one more pull of the nut: pull, turn, read.
func (p prices) nutStep() float64 {
	return p.minutesOf(act.TightenNutAngle, act.TurnPinion, act.MeasureTorque)
}

func (p prices) solid() bool { return p.design.Preload == family.SolidSpacer }
func (p prices) rings() bool { return p.design.SideAdjust == family.BearingAdjusters }
func (p prices) cage() bool  { return p.design.DepthShim == family.UnderCageFlange }

// loopTrial is a further trial build with another depth shim.
func (p prices) loopMockUp() float64 {
	if p.cage() {
		return p.minutesOf(act.FitDepthShim, act.MeasureDepth)
	}
	return p.minutesOf(act.RemovePinion, act.FitDepthShim, act.FitPinion, act.MeasureDepth)
}

// trialBuild is building in for a trial and reading the height.
func (p prices) mockUpBuild() float64 {
	return p.minutesOf(act.FitPinion, act.MeasureDepth, act.RemovePinion)
}

// redoPreload is setting the pinion's preload again, case out: a new spacer after an
// overshoot, or another pack.
func (p prices) redoPreload() float64 {
	if p.solid() {
		return p.minutesOf(act.RemovePinion, act.FitPreloadShims, act.FitPinion, act.TightenNutTorque, act.TurnPinion, act.MeasureTorque)
	}
	return p.minutesOf(act.RemovePinion, act.FitPinion) + p.costs.PriceOf(shop.SpacerAndNut) + 5*p.nutStep()
}

// reopen is taking the case out and putting it back as it was.
func (p prices) reopen() float64 {
	return p.minutesOf(act.RemoveCase, act.FitCase, act.TorqueCaps)
}

// redoSides is another pair of side shims, or other places of the rings, read again.
func (p prices) redoSides() float64 {
	read := p.minutesOf(act.MountIndicator, act.MeasureBacklash)
	if p.rings() {
		return p.minutesOf(act.LoosenCaps, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps) + read
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

// restHalfWindows is how far from the middle of its window a value that has been put right
// usually is: sizes come in steps, and readings scatter.
const restHalfSpecs = 1.0 / 6

// leaveOrRedo is the price of a value that will be read as z half windows from the middle
// of its window: left, at the price of its coming back, or put right for the price of doing
// it again, whichever is less.
func (p prices) leaveOrRedo(z, comeback, redo float64) float64 {
	return math.Min(comeback*p.costs.ComebackRisk(z), redo+comeback*p.costs.ComebackRisk(restHalfSpecs))
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
	faults []fault.ID
}

// checks lists the inspections that settle a fault and when they should be done.
func checks() []check {
	var out []check
	for _, f := range fault.All() {
		switch f.Test {
		case act.MeasureTorque, act.MeasureRunout, act.MeasureRadialRunout, act.MeasureCaseRunout, act.MeasureDepthShim, act.MeasureEndPlay:
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
