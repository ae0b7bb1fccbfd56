package pinion

import (
	"math"

	"shimwright/sim/text"
)

// A Spacer is a collapsible (crush) spacer.
//
// StiffnessNPerMM is its elastic stiffness k_s, loading and unloading. YieldN is
// Y0, the load it settles to once it crushes; PeakN is Ypk, the load at which it
// first gives; PeakDecayMM is dpk, the crush over which the peak fades to 37 %;
// HardeningNPerMM is H, the rise of the plateau. Past UsableCrushMM its folds
// close and it hardens steeply.
//
// SetMM is the crush it already has when it goes in: 0 for a new one.
type Spacer struct {
	StiffnessNPerMM, YieldN, PeakN, PeakDecayMM, HardeningNPerMM, UsableCrushMM float64

	SetMM float64
}

// bottomingShare is the slope of the crush load past the usable crush, as a share
// of the elastic stiffness: closed folds are nearly a solid sleeve. An engineering
// choice.
const bottomingShare = 0.5

// CrushLoadN returns Y(q), the load (N) that crushes the spacer further when its
// plastic set is q (mm):
//
//	Y = Y0 + (Ypk − Y0) exp(−q/dpk) + H q, plus 0.5 k_s per mm past the usable crush
//
// A set below zero counts as zero. The shape is an engineering choice: an elastic
// rise, a small peak, a slowly rising plateau.
func (s Spacer) CrushLoadN(setMM float64) float64 {
	load, _ := s.crush(math.Max(setMM, 0))
	return load
}

// crush returns Y and dY/dq at a set of zero or more.
func (s Spacer) crush(q float64) (load, slope float64) {
	load = s.YieldN + s.HardeningNPerMM*q
	slope = s.HardeningNPerMM
	if s.PeakN > s.YieldN {
		fade := (s.PeakN - s.YieldN) * math.Exp(-q/s.PeakDecayMM)
		load += fade
		slope -= fade / s.PeakDecayMM
	}
	if over := q - s.UsableCrushMM; over > 0 {
		load += bottomingShare * s.StiffnessNPerMM * over
		slope += bottomingShare * s.StiffnessNPerMM
	}
	return load, slope
}

// force returns the spacer's force at a length shortened by u, and the plastic set
// it then has, starting from set q. Nothing is committed.
//
// The plastic return solves Y(q') + k_s (q' − u) = 0. The left side rises with q'
// and curves upward, and q' = u lies right of the root, so Newton's method walks
// down to it without overshooting.
func (s Spacer) force(u, q float64) (forceN, setMM float64) {
	elastic := s.StiffnessNPerMM * (u - q)
	if elastic <= 0 {
		return 0, q
	}
	if load, _ := s.crush(q); elastic <= load {
		return elastic, q
	}
	set := u
	for range 60 {
		load, slope := s.crush(set)
		step := (load + s.StiffnessNPerMM*(set-u)) / (slope + s.StiffnessNPerMM)
		set -= step
		if math.Abs(step) <= 1e-15*(1+math.Abs(u)) {
			break
		}
	}
	set = math.Max(set, q)
	return s.StiffnessNPerMM * (u - set), set
}

// yieldPoint returns the approach u at which a spacer with set q starts to crush.
func (s Spacer) yieldPoint(q float64) float64 {
	load, _ := s.crush(q)
	return q + load/s.StiffnessNPerMM
}

// ErrSpacerSnaps means that the spacer's load falls off faster after its peak than
// the stem and nut can follow, so the assembly would jump.
var ErrSpacerSnaps error = text.Fail(nil, text.Say("pinion.spacer-snaps", "the spacer would give way suddenly"))

// steepestSofteningShare is the greatest softening slope allowed, as a share of
// the nut's stiffness. At this limit a jump is still far off.
const steepestSofteningShare = 0.25

func (s Spacer) validate(nutStiffness float64) error {
	switch {
	case !(s.StiffnessNPerMM > 0) || math.IsInf(s.StiffnessNPerMM, 0):
		return text.Fail(nil, text.Say("pinion.spacer-stiffness", "the spacer stiffness is {x} N/mm: it must be more than zero", text.Rounded("x", s.StiffnessNPerMM)))
	case !(s.YieldN > 0) || math.IsInf(s.YieldN, 0):
		return text.Fail(nil, text.Say("pinion.crush-load", "the crush load of the spacer is {x} N: it must be more than zero", text.Rounded("x", s.YieldN)))
	case !(s.PeakN >= s.YieldN) || math.IsInf(s.PeakN, 0):
		return text.Fail(nil, text.Say("pinion.peak-load", "the peak load of the spacer is {x} N: it must not be below the crush load, {crush} N", text.Rounded("x", s.PeakN), text.Rounded("crush", s.YieldN)))
	case s.PeakN > s.YieldN && !(s.PeakDecayMM > 0):
		return text.Fail(nil, text.Say("pinion.peak-fades", "the peak of the spacer fades over {x}: it must be more than zero", size("x", s.PeakDecayMM)))
	case !(s.HardeningNPerMM >= 0) || math.IsInf(s.HardeningNPerMM, 0):
		return text.Fail(nil, text.Say("pinion.hardening", "the hardening of the spacer is {x} N/mm: it must be zero or more", text.Rounded("x", s.HardeningNPerMM)))
	case !(s.UsableCrushMM > 0):
		return text.Fail(nil, text.Say("pinion.usable-crush", "the usable crush of the spacer is {x}: it must be more than zero", size("x", s.UsableCrushMM)))
	case !(s.SetMM >= 0 && s.SetMM <= 20):
		return text.Fail(nil, text.Say("pinion.crush-before", "the crush before fitting is {x}: it must be between zero (new) and {most}", size("x", s.SetMM), size("most", 20)))
	}
	// Y is at its steepest, downhill, at the smallest set it can have.
	_, slope := s.crush(s.SetMM)
	// The second test is the jump itself, which a soft spacer reaches sooner: the
	// spacer's own springback and its crush in series fall as fast as the nut pulls.
	limit := steepestSofteningShare * nutStiffness
	if -slope > limit || s.StiffnessNPerMM*slope <= -nutStiffness*(s.StiffnessNPerMM+slope) {
		return text.Fail(ErrSpacerSnaps, text.Say("pinion.load-falls", "the spacer would give way suddenly: its load falls {slope} N per mm after the peak, too fast for this spacer, pinion stem and nut (at most {limit}); lower the peak or let it fade more slowly", text.Number("slope", -slope, 0), text.Number("limit", limit, 0)))
	}
	return nil
}

// The tube formulas below bracket the crush load of a spacer of mean diameter D,
// wall t (mm) and flow stress σ0 (MPa). All return newtons.
