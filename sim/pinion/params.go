package pinion

import (
	"errors"
	"fmt"
	"math"

	"shimwright/sim/bearing"
)

// Params is one pinion assembly before its nut is tightened.
//
// Exactly one of three designs:
//
//   - Spacer set: collapsible spacer.
//   - SolidStiffnessNPerMM above zero: solid spacer with shims.
//   - neither: trial build, nothing between the cones.
//
// EndPlayAtContactMM is g0: the end play left when the nut has just brought flange,
// cones and a new free spacer into contact, the rollers being on their ribs and
// the cups standing where they were pressed. A gap that is still open under a cup
// is therefore counted as already used up in it: when the cup goes home the end
// play grows by the gap. A caller who knows the end play with the cups home passes
// that less both gaps. In the trial build it is the end play at nut angle zero.
//
// In the solid design the end play at contact is
// EndPlayAtContactMM + PackMM − LineToLinePackMM, so that the caller may give
// either the gap itself or two shim packs: PackMM is the pack fitted,
// LineToLinePackMM the pack that would leave neither preload nor end play when the
// nut is snug. A thicker pack gives less preload. A negative sum is preload that
// the shims leave the bearings to carry before the pack is tight.
//
// HeadCupHoldN and TailCupHoldN are the push-on forces of the cups' fits; they
// matter only for a cup with a gap. UnseatedRollersMM is how much too tall the pair
// stands before the pinion has been turned.
type Params struct {
	Inner, Outer         bearing.Tapered
	HouseStiffnessNPerMM float64 // between the cup seats
	NutStiffnessNPerMM   float64 // stem, threads, flange and cones in series
	Thread               Thread

	Spacer *Spacer

	SolidStiffnessNPerMM                 float64
	PreloadShimMM, ZeroPlayPreloadShimMM float64

	EndPlayAtContactMM           float64
	InnerGapMM, OuterGapMM       float64
	InnerCupHoldN, OuterCupHoldN float64
	UnseatedRollersMM            float64
}

// contactEndPlay returns g0 of the design in use.
func (p Params) contactEndPlay() float64 {
	return p.EndPlayAtContactMM + p.PreloadShimMM - p.ZeroPlayPreloadShimMM
}

// series returns the pair's deflection law, housing included.
func (p Params) series() bearing.Series {
	return bearing.InSeries(p.Inner, p.Outer).With(p.HouseStiffnessNPerMM)
}

// Validate says in plain words what is wrong with the assembly, or returns nil. A
// spacer that would snap gives an error that is ErrSpacerSnaps.
func (p Params) Validate() error {
	if err := p.Inner.Validate(); err != nil {
		return fmt.Errorf("inner pinion bearing: %w", err)
	}
	if err := p.Outer.Validate(); err != nil {
		return fmt.Errorf("outer pinion bearing: %w", err)
	}
	if err := p.Thread.validate(); err != nil {
		return fmt.Errorf("pinion nut: %w", err)
	}
	springs := []struct {
		what string
		k    float64
	}{{"housing stiffness", p.HouseStiffnessNPerMM}, {"stem and nut stiffness", p.NutStiffnessNPerMM}}
	for _, s := range springs {
		if !(s.k >= 1e3 && s.k <= 1e8) {
			return fmt.Errorf("pinion %s %g N/mm: it must be between 1000 and 100 000 000", s.what, s.k)
		}
	}
	if !(p.SolidStiffnessNPerMM == 0 || p.SolidStiffnessNPerMM >= 1e3 && p.SolidStiffnessNPerMM <= 1e9) {
		return fmt.Errorf("solid spacer stiffness %g N/mm: it must be zero (no solid spacer) or between 1000 and 1 000 000 000", p.SolidStiffnessNPerMM)
	}
	switch {
	case p.Spacer != nil && p.SolidStiffnessNPerMM > 0:
		return errors.New("pinion spacer: a collapsible and a solid spacer are both given; an axle has one or the other")
	case p.SolidStiffnessNPerMM == 0 && (p.PreloadShimMM != 0 || p.ZeroPlayPreloadShimMM != 0):
		return errors.New("preload shims: they belong to a solid spacer, and none is given")
	case p.Spacer != nil:
		if err := p.Spacer.validate(p.NutStiffnessNPerMM); err != nil {
			return fmt.Errorf("pinion spacer: %w", err)
		}
	}
	sizes := []struct {
		what          string
		value, lo, hi float64
	}{
		{"end play at contact", p.contactEndPlay(), -2, 10},
		{"preload shims", p.PreloadShimMM, 0, 100},
		{"preload shims at zero end play", p.ZeroPlayPreloadShimMM, 0, 100},
		{"gap under the inner bearing cup", p.InnerGapMM, 0, 2},
		{"gap under the outer bearing cup", p.OuterGapMM, 0, 2},
		{"height of rollers not yet seated", p.UnseatedRollersMM, 0, 1},
	}
	for _, s := range sizes {
		if !(s.value >= s.lo && s.value <= s.hi) {
			return fmt.Errorf("pinion %s %g mm: it must be between %g and %g", s.what, s.value, s.lo, s.hi)
		}
	}
	for _, s := range []struct {
		what string
		n    float64
	}{{"head", p.InnerCupHoldN}, {"tail", p.OuterCupHoldN}} {
		if !(s.n >= 0) || math.IsInf(s.n, 0) {
			return fmt.Errorf("pinion %s bearing cup held by %g N: it must be zero or more", s.what, s.n)
		}
	}
	return nil
}

// A Setting is where a first tightening, never reversed, stands at a given preload:
// the numbers an answer key needs.
type Setting struct {
	PreloadN, SpacerN, StemN float64
	ApproachMM               float64 // u, how far the cones have closed
	SpacerSetMM              float64
	NutAngleDeg              float64
	TorqueNmm                float64
}

// AtPreload returns the setting of a first tightening at a preload (N), with the
// rollers on their ribs and both cups where they stand in Params: no stepping is
// needed, because the load of a spacer depends on its set alone. A preload below
// zero counts as zero, the point where the last end play goes. In the solid and
// trial designs it is the setting with that preload.
//
// Errors: those of Validate.
func (p Params) AtPreload(preloadN float64) (Setting, error) {
	if err := p.Validate(); err != nil {
		return Setting{}, err
	}
	preload := math.Max(preloadN, 0)
	if math.IsNaN(preload) || math.IsInf(preload, 0) {
		return Setting{}, fmt.Errorf("preload %g N is not a number that can be set", preloadN)
	}
	u := p.contactEndPlay() + p.series().ApproachMM(preload)
	s, q := p.between(u, p.startSet())
	n := s + preload
	x := u + n/p.NutStiffnessNPerMM
	return Setting{
		PreloadN: preload, SpacerN: s, StemN: n, ApproachMM: u, SpacerSetMM: q,
		NutAngleDeg: x / p.Thread.PitchMM * 360, TorqueNmm: p.Thread.TighteningNmm(n),
	}, nil
}

// startSet returns the set the spacer goes in with.
func (p Params) startSet() float64 {
	if p.Spacer != nil {
		return p.Spacer.SetMM
	}
	return 0
}

// between returns the force of what stands between the cones when they have closed
// by u, and the plastic set it then has, starting from set q.
func (p Params) between(u, q float64) (forceN, setMM float64) {
	if p.Spacer != nil {
		return p.Spacer.force(u, q)
	}
	return p.SolidStiffnessNPerMM * math.Max(u, 0), 0
}
