package pinion

import (
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
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
	of := func(m text.Message, err error) error {
		return text.Fail(err, text.Say("pinion.part", "{part}: {why}", text.Of("part", m), text.Of("why", text.Reason(err))))
	}
	if err := p.Inner.Validate(); err != nil {
		return of(text.Say("pinion.inner", "inner pinion bearing"), err)
	}
	if err := p.Outer.Validate(); err != nil {
		return of(text.Say("pinion.outer", "outer pinion bearing"), err)
	}
	if err := p.Thread.validate(); err != nil {
		return of(text.Say("pinion.nut", "pinion nut"), err)
	}
	for _, s := range []struct {
		what text.Message
		k    float64
	}{
		{text.Say("pinion.housing-stiffness", "housing stiffness"), p.HouseStiffnessNPerMM},
		{text.Say("pinion.shaft-stiffness", "stem and nut stiffness"), p.NutStiffnessNPerMM},
	} {
		if !(s.k >= 1e3 && s.k <= 1e8) {
			return text.Fail(nil, text.Say("pinion.stiffness", "the {what} is {x} N/mm: it must be between 1000 and 100,000,000", text.Of("what", s.what), text.Rounded("x", s.k)))
		}
	}
	if !(p.SolidStiffnessNPerMM == 0 || p.SolidStiffnessNPerMM >= 1e3 && p.SolidStiffnessNPerMM <= 1e9) {
		return text.Fail(nil, text.Say("pinion.solid-stiffness", "the solid spacer stiffness is {x} N/mm: it must be zero (no solid spacer) or between 1000 and 1,000,000,000", text.Rounded("x", p.SolidStiffnessNPerMM)))
	}
	switch {
	case p.Spacer != nil && p.SolidStiffnessNPerMM > 0:
		return text.Fail(nil, text.Say("pinion.two-spacers", "both a collapsible and a solid spacer are given: an axle has one or the other"))
	case p.SolidStiffnessNPerMM == 0 && (p.PreloadShimMM != 0 || p.ZeroPlayPreloadShimMM != 0):
		return text.Fail(nil, text.Say("pinion.shims-without-spacer", "preload shims belong to a solid spacer, and no solid spacer is given"))
	case p.Spacer != nil:
		if err := p.Spacer.validate(p.NutStiffnessNPerMM); err != nil {
			return of(text.Say("pinion.spacer", "collapsible spacer"), err)
		}
	}
	for _, s := range []struct {
		what          text.Message
		value, lo, hi float64
	}{
		{text.Say("pinion.end-play-at-contact", "end play at contact"), p.contactEndPlay(), -2, 10},
		{text.Say("pinion.preload-shims", "size of the preload shims"), p.PreloadShimMM, 0, 100},
		{text.Say("pinion.zero-shims", "size of the preload shims at zero end play"), p.ZeroPlayPreloadShimMM, 0, 100},
		{text.Say("pinion.inner-gap", "gap under the inner bearing cup"), p.InnerGapMM, 0, 2},
		{text.Say("pinion.outer-gap", "gap under the outer bearing cup"), p.OuterGapMM, 0, 2},
		{text.Say("pinion.unseated", "height of rollers not yet seated"), p.UnseatedRollersMM, 0, 1},
	} {
		if !(s.value >= s.lo && s.value <= s.hi) {
			return text.Fail(nil, text.Say("pinion.size", "the {what} is {x}: it must be between {low} and {high}", text.Of("what", s.what), size("x", s.value), size("low", s.lo), size("high", s.hi)))
		}
	}
	for _, s := range []struct {
		what text.Message
		n    float64
	}{
		{text.Say("pinion.inner-cup", "inner bearing cup"), p.InnerCupHoldN},
		{text.Say("pinion.outer-cup", "outer bearing cup"), p.OuterCupHoldN},
	} {
		if !(s.n >= 0) || math.IsInf(s.n, 0) {
			return text.Fail(nil, text.Say("pinion.cup-hold", "the {what} is held by {x} N: it must be zero or more", text.Of("what", s.what), text.Rounded("x", s.n)))
		}
	}
	return nil
}

// size is a length of a text, in both units.
func size(name string, mm float64) text.Arg {
	return text.BothLength(name, quantity.Millimetres(mm))
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
		return Setting{}, text.Fail(nil, text.Say("pinion.preload", "a preload of {x} N is not a number that can be set", text.Rounded("x", preloadN)))
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
