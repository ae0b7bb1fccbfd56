package explore

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// Settings are what the demonstrator turns. The zero value is an axle at its design
// place with a finger-tight nut, the line-to-line pack where the spacer is a solid one,
// and line-to-line side shims; a film of zero takes no print.
type Settings struct {
	PinionOutMM   float64 // of its place, at the reference preload; ±5
	RingAwayMM    float64 // beyond what the side shims give; ±5
	OffsetMM      float64 // ±5
	ShaftAngleRad float64 // ±0.03

	SideFitMM        float64 // both side shims, or rings, together, over line-to-line; ±4
	ShimToRingGearMM float64 // moved across from the tooth side, beyond an equal split; ±2
	CapsSnug         bool    // cap bolts only snug, not torqued

	// How far the nut goes: with a collapsible spacer the first of torque, drag and angle
	// that is above zero counts. With a solid one a drag chooses the pack, and the nut
	// stands at its torque, the sheet's if none is given.
	NutDeg          float64 // from finger tight, 0 to 3600
	NutNmm          float64 // the nut is turned until it takes this; 0 to 3e6
	TorqueTargetNmm float64 // pinion bearings alone; 0 to 20 000
	PreloadShimMM   float64 // solid spacer without a drag; 0: the line-to-line pack; to 100

	UsedBearings bool
	Greased      bool // pinion bearings packed with grease

	// What can be wrong with it.
	InnerCupGapMM     float64 // 0 to 0.3
	OuterCupGapMM     float64 // 0 to 0.3
	RingGearConeGapMM float64 // behind the back side-bearing cone; 0 to 0.5
	ShimDirtMM        float64 // dirt or a wrinkle in the depth pack; 0 to 0.5
	SpacerCrushedMM   float64 // collapsible spacer used before, shorter by this; 0 to 3
	NutGripGone       bool    // nut used before, no longer locks
	NotchNmm          float64 // worn rollers: swing of the torque within a turn; 0 to 5000
	SealExtraNmm      float64 // seal drag above a good seal's; 0 to 5000
	BrakeNmm          float64 // at the ring gear, from shafts and brakes left on; 0 to 50 000
	CapsSwapped       bool    // side-bearing caps changed over
	CapRotated        bool    // one end for end
	HousingGrowthMM   float64 // housing once spread too far stays wider; 0 to 0.5
	RunoutTIRMM       float64 // ring gear, total indicated, once a turn; 0 to 2
	BoltsTIRMM        float64 // more of it from uneven ring gear bolts; 0 to 2
	WarpTIRMM         float64 // and twice a turn; 0 to 2
	WarmK             float64 // everything warmer than the shop, after it was set; -60 to 120

	FilmMM float64 // of marking compound, usually 0.006 to 0.025; 0 to 1

	Reading
}

// A Reading says how readings are taken. The zero value is the right way, with
// instruments without error. Nothing of it changes the true state.
type Reading struct {
	DialAt          act.Option // place of the indicator for backlash: heel (also ""), middle or toe
	Plunger         act.Option // its stem: square to the tooth (also ""), along or tilted
	PinionFree      bool       // the pinion is not held
	ArmLoose        bool       // the indicator's arm is; with a seed only
	ThickCoat       bool       // compound laid on thick
	RolledFree      bool       // no load on the gear while it is rolled
	BreakawayTorque bool       // torque read as the pinion breaks loose
	WrenchGain      float64    // low-range wrench reads high by this share; ±0.5
	StringGain      float64    // so does cord and scale, wound on another radius; ±0.5

	Seed   uint64 // 0: instruments without error
	Repeat uint64 // which time of reading; counts with a seed only
}

// DialPlaces and Stems list how an indicator can stand, the right way first.
func DialPlaces() []act.Option { return []act.Option{act.Heel, act.Middle, act.Toe} }

// Stems lists which way its stem can point, the right way first.
func Plungers() []act.Option { return []act.Option{act.Square, act.Along, act.Tilted} }

// Finished returns the settings of a finished axle of the family: everything at its
// place, side interference and pinion drag in the middle of the sheet's windows, the nut
// of a solid spacer at the middle of its own, and a thin coat of compound.
func Finished(fam family.Family, used bool) Settings {
	s := Settings{
		SideFitMM:       fam.Sheet.SidePreload.Mid(),
		TorqueTargetNmm: fam.Sheet.PinionTorque(used).Mid(),
		UsedBearings:    used,
		FilmMM:          sim.ThinFilmMM,
	}
	if fam.Design.Preload == family.SolidSpacer {
		s.NutNmm = fam.Sheet.NutMid().Nmm()
	}
	return s
}

// ErrSetting marks settings that cannot be shown.
var ErrSetting = errors.New("this cannot be shown")

// Validate says in plain words which setting is out of range, or returns nil. The
// error is ErrSetting.
func (s Settings) Validate() error {
	for _, l := range []struct {
		what            string
		value, low, top float64
	}{
		{"pinion out of its place", s.PinionOutMM, -5, 5},
		{"ring gear away", s.RingAwayMM, -5, 5},
		{"offset error", s.OffsetMM, -5, 5},
		{"side interference", s.SideFitMM, -4, 4},
		{"shim moved to the back side", s.ShimToRingGearMM, -2, 2},
		{"pack", s.PreloadShimMM, 0, 100},
		{"gap under the head cup", s.InnerCupGapMM, 0, 0.3},
		{"gap under the tail cup", s.OuterCupGapMM, 0, 0.3},
		{"gap behind the back cone", s.RingGearConeGapMM, 0, 0.5},
		{"dirt in the depth pack", s.ShimDirtMM, 0, 0.5},
		{"earlier crush of the spacer", s.SpacerCrushedMM, 0, 3},
		{"growth of the housing", s.HousingGrowthMM, 0, 0.5},
		{"ring gear runout", s.RunoutTIRMM, 0, 2},
		{"runout from uneven bolts", s.BoltsTIRMM, 0, 2},
		{"ring gear warp", s.WarpTIRMM, 0, 2},
		{"compound film", s.FilmMM, 0, 1},
	} {
		if !(l.value >= l.low && l.value <= l.top) {
			low, top := quantity.Millimetres(l.low), quantity.Millimetres(l.top)
			return fmt.Errorf("%w: %s is %s (%s); it goes from %s to %s (%s to %s)", ErrSetting, l.what,
				quantity.Millimetres(l.value).Show(quantity.Inch), quantity.Millimetres(l.value).Show(quantity.Metric),
				low.Show(quantity.Inch), top.Show(quantity.Inch), low.Show(quantity.Metric), top.Show(quantity.Metric))
		}
	}
	for _, t := range []struct {
		what      string
		nmm, most float64
		show      func(quantity.Torque, quantity.System) string
	}{
		{"a nut torque", s.NutNmm, 3e6, quantity.Torque.ShowFastener},
		{"a pinion drag", s.TorqueTargetNmm, 20_000, quantity.Torque.ShowRotating},
		{"a roughness of the pinion bearings", s.NotchNmm, 5_000, quantity.Torque.ShowRotating},
		{"an extra seal drag", s.SealExtraNmm, 5_000, quantity.Torque.ShowRotating},
		{"a brake drag", s.BrakeNmm, 50_000, quantity.Torque.ShowRotating},
	} {
		if !(t.nmm >= 0 && t.nmm <= t.most) {
			v, top := quantity.Torque(t.nmm), quantity.Torque(t.most)
			return fmt.Errorf("%w: %s of %s (%s) is asked for; it goes from nothing to %s (%s)", ErrSetting, t.what,
				t.show(v, quantity.Inch), t.show(v, quantity.Metric), t.show(top, quantity.Inch), t.show(top, quantity.Metric))
		}
	}
	const mostRad = 0.03
	switch {
	case !(math.Abs(s.ShaftAngleRad) <= mostRad):
		return fmt.Errorf("%w: the shaft angle is out by %.3g degrees; up to %.2f either way is taken", ErrSetting, s.ShaftAngleRad*180/math.Pi, mostRad*180/math.Pi)
	case !(s.NutDeg >= 0 && s.NutDeg <= 3600):
		return fmt.Errorf("%w: the nut is turned %.6g degrees; it goes from 0 (finger tight) to 3600", ErrSetting, s.NutDeg)
	case !(s.WarmK >= -60 && s.WarmK <= 120):
		const perK = 1.8 // degrees Fahrenheit
		return fmt.Errorf("%w: the axle is %.4g °C (%.4g °F) warmer than when it was set; it goes from -60 °C (-108 °F) to 120 °C (216 °F)", ErrSetting, s.WarmK, s.WarmK*perK)
	}
	return s.Reading.validate()
}

func (r Reading) validate() error {
	for _, g := range []struct {
		what string
		gain float64
	}{{"low-range wrench", r.WrenchGain}, {"cord and scale", r.StringGain}} {
		if !(math.Abs(g.gain) <= 0.5) {
			return fmt.Errorf("%w: the %s is out by %.3g percent; up to 50 either way is taken", ErrSetting, g.what, 100*g.gain)
		}
	}
	for _, c := range []struct {
		what string
		word act.Option
		of   []act.Option
	}{{"place", r.DialAt, DialPlaces()}, {"plunger", r.Plunger, Plungers()}} {
		if c.word != "" && !slices.Contains(c.of, c.word) {
			return fmt.Errorf("%w: the indicator's %s cannot be %q; it is %s", ErrSetting, c.what, c.word, fmt.Sprint(c.of))
		}
	}
	if r.ArmLoose && r.Seed == 0 {
		return fmt.Errorf("%w: a loose indicator arm makes readings scatter, and without a seed nothing does: give a seed too", ErrSetting)
	}
	return nil
}
