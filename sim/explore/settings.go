package explore

import (
	"errors"
	"math"
	"slices"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Settings are what the demonstrator turns. The zero value is an axle at its design
// place with a finger-tight nut, the preload shims of zero end play where the spacer is solid,
// and side shims of zero end play; a film of zero takes no pattern.
type Settings struct {
	PinionOutMM   float64 // of its place, at the reference preload; ±5
	RingAwayMM    float64 // beyond what the side shims give; ±5
	OffsetMM      float64 // ±5
	ShaftAngleRad float64 // ±0.03

	SideFitMM        float64 // both side shims, or adjusters, together, over zero end play; ±4
	ShimToRingGearMM float64 // moved across from the opposite side, beyond an equal split; ±2
	CapsSnug         bool    // cap bolts only snug, not torqued

	// How far the nut goes: with a collapsible spacer the first of nut torque, rotating
	// torque and angle that is above zero counts. With a solid one a rotating torque chooses
	// the shims, and the nut is at its torque, the sheet's if none is given.
	NutDeg          float64 // from finger tight, 0 to 3600
	NutNmm          float64 // the nut is turned until it takes this; 0 to 3e6
	TorqueTargetNmm float64 // pinion bearings alone; 0 to 20 000
	NutBackDeg      float64 // then loosened again by this, after an overshoot; 0 to 720
	PreloadShimMM   float64 // solid spacer without a torque target; 0: zero end play; to 100

	UsedBearings bool
	Greased      bool // pinion bearings packed with grease

	// What can be wrong with it.
	InnerCupGapMM     float64 // 0 to 0.3
	OuterCupGapMM     float64 // 0 to 0.3
	RingGearConeGapMM float64 // behind the ring-gear-side cone; 0 to 0.5
	ShimDirtMM        float64 // dirt or a wrinkle in the depth shims; 0 to 0.5
	SpacerCrushedMM   float64 // collapsible spacer used before, shorter by this; 0 to 3
	NutGripGone       bool    // nut used before, no longer locks
	NotchNmm          float64 // worn rollers: how the torque comes and goes within a turn; 0 to 5000
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
	Plunger         act.Option // square to the tooth (also ""), along or tilted
	PinionFree      bool       // the pinion is not held
	ArmLoose        bool       // the indicator's arm is; with a seed only
	ThickCoat       bool       // compound laid on thick
	RolledFree      bool       // no load on the gear while it is rolled
	BreakawayTorque bool       // torque read as the pinion breaks loose
	WrenchGain      float64    // low-range wrench reads high by this share; ±0.5
	StringGain      float64    // so does the string and scale, wound on another radius; ±0.5

	Seed   uint64 // 0: instruments without error
	Repeat uint64 // which time of reading; counts with a seed only
}

// DialPlaces lists where an indicator can stand, the right way first.
func DialPlaces() []act.Option { return []act.Option{act.Heel, act.Middle, act.Toe} }

// Plungers lists which way its plunger can point, the right way first.
func Plungers() []act.Option { return []act.Option{act.Square, act.Along, act.Tilted} }

// Finished returns the settings of a finished axle of the family: everything at its
// place, side preload and pinion rotating torque in the middle of their specs, the nut
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
var ErrSetting error = text.Fail(nil, text.Say("explore.setting", "these settings cannot be shown"))

func refused(m text.Message) error { return text.Fail(ErrSetting, m) }

// refusedFor is the refusal for an error of the parts.
func refusedFor(err error) error {
	return text.Fail(errors.Join(ErrSetting, err), text.Reason(err))
}

// Validate says which setting is out of range, or returns nil. The error is ErrSetting.
func (s Settings) Validate() error {
	for _, l := range []struct {
		what            text.Message
		value, low, top float64
	}{
		{text.Say("explore.pinion-out", "the pinion's distance out of position"), s.PinionOutMM, -5, 5},
		{text.Say("explore.ring-gear-away", "the ring gear's distance away from the pinion"), s.RingAwayMM, -5, 5},
		{text.Say("explore.offset", "the offset error"), s.OffsetMM, -5, 5},
		{text.Say("explore.side-fit", "the side bearing preload over zero end play"), s.SideFitMM, -4, 4},
		{text.Say("explore.shim-moved", "the shim moved to the ring-gear side"), s.ShimToRingGearMM, -2, 2},
		{text.Say("explore.preload-shims", "the size of the preload shims"), s.PreloadShimMM, 0, 100},
		{text.Say("explore.nut-back", "how far the nut is loosened again"), s.NutBackDeg, 0, 720},
		{text.Say("explore.inner-gap", "the gap under the inner cup"), s.InnerCupGapMM, 0, 0.3},
		{text.Say("explore.outer-gap", "the gap under the outer cup"), s.OuterCupGapMM, 0, 0.3},
		{text.Say("explore.cone-gap", "the gap behind the ring-gear-side cone"), s.RingGearConeGapMM, 0, 0.5},
		{text.Say("explore.shim-dirt", "the dirt in the depth shims"), s.ShimDirtMM, 0, 0.5},
		{text.Say("explore.spacer-crushed", "the earlier crush of the spacer"), s.SpacerCrushedMM, 0, 3},
		{text.Say("explore.housing-growth", "the growth of the housing"), s.HousingGrowthMM, 0, 0.5},
		{text.Say("explore.runout", "the ring gear runout"), s.RunoutTIRMM, 0, 2},
		{text.Say("explore.bolts", "the runout from uneven bolts"), s.BoltsTIRMM, 0, 2},
		{text.Say("explore.warp", "the warp of the ring gear"), s.WarpTIRMM, 0, 2},
		{text.Say("explore.film", "the film of marking compound"), s.FilmMM, 0, 1},
	} {
		if !(l.value >= l.low && l.value <= l.top) {
			return outside(l.what, func(name string, mm float64) text.Arg { return text.BothLength(name, quantity.Millimetres(mm)) }, l.value, l.low, l.top)
		}
	}
	rotating := func(name string, nmm float64) text.Arg { return text.BothTorque(name, quantity.Torque(nmm)) }
	fastener := func(name string, nmm float64) text.Arg { return text.BothFastener(name, quantity.Torque(nmm)) }
	for _, t := range []struct {
		what      text.Message
		nmm, most float64
		show      func(string, float64) text.Arg
	}{
		{text.Say("explore.nut-torque", "the torque of the nut"), s.NutNmm, 3e6, fastener},
		{text.Say("explore.torque-target", "the pinion rotating torque"), s.TorqueTargetNmm, 20_000, rotating},
		{text.Say("explore.roughness", "the roughness of the pinion bearings"), s.NotchNmm, 5_000, rotating},
		{text.Say("explore.seal-extra", "the extra seal drag"), s.SealExtraNmm, 5_000, rotating},
		{text.Say("explore.brake", "the brake drag"), s.BrakeNmm, 50_000, rotating},
	} {
		if !(t.nmm >= 0 && t.nmm <= t.most) {
			return outside(t.what, t.show, t.nmm, 0, t.most)
		}
	}
	const mostRad, mostDeg, coldK, hotK = 0.03, 3600, -60, 120
	plain := func(name string, x float64) text.Arg { return text.Rounded(name, x) }
	switch {
	case !(math.Abs(s.ShaftAngleRad) <= mostRad):
		const perRad = 180 / math.Pi
		return refused(text.Say("explore.shaft-angle", "the shaft angle is off by {value} degrees; it can be off by up to {most} degrees either way", plain("value", s.ShaftAngleRad*perRad), plain("most", mostRad*perRad)))
	case !(s.NutDeg >= 0 && s.NutDeg <= mostDeg):
		return refused(text.Say("explore.nut-turned", "the nut is turned {value} degrees; it can be turned from 0 (finger tight) to {most} degrees", plain("value", s.NutDeg), plain("most", mostDeg)))
	case !(s.WarmK >= coldK && s.WarmK <= hotK):
		return refused(text.Say("explore.warm", "the axle is {value} warmer than when it was set; that can be from {cold} to {hot}", text.Of("value", warmth(s.WarmK)), text.Of("cold", warmth(coldK)), text.Of("hot", warmth(hotK))))
	}
	return s.Reading.validate()
}

// outside refuses an amount that is not within its limits.
func outside(what text.Message, show func(string, float64) text.Arg, value, low, top float64) error {
	return refused(text.Say("explore.outside", "{what} is {value}; it can be from {low} to {top}", text.Of("what", what), show("value", value), show("low", low), show("top", top)))
}

// warmth is a difference of temperature.
func warmth(k float64) text.Message {
	const perK = 1.8 // degrees Fahrenheit
	return text.Say("explore.warmth", "{f} °F ({c} °C)", text.Rounded("f", k*perK), text.Rounded("c", k))
}

func (r Reading) validate() error {
	const mostGain = 0.5
	for _, g := range []struct {
		what text.Message
		gain float64
	}{{text.Say("explore.wrench", "the low-range torque wrench"), r.WrenchGain}, {text.Say("explore.string", "the string and spring scale"), r.StringGain}} {
		if !(math.Abs(g.gain) <= mostGain) {
			return refused(text.Say("explore.gain", "{what} reads off by {value} %; it can be off by up to {most} % either way", text.Of("what", g.what), text.Rounded("value", 100*g.gain), text.Rounded("most", 100*mostGain)))
		}
	}
	if r.DialAt != "" && !slices.Contains(DialPlaces(), r.DialAt) {
		return refused(text.Say("explore.dial-place", "the indicator cannot be at {word}: it is at {words}", text.Quoted("word", string(r.DialAt)), text.AnyTyped("words", DialPlaces()...)))
	}
	if r.Plunger != "" && !slices.Contains(Plungers(), r.Plunger) {
		return refused(text.Say("explore.plunger", "the plunger of the indicator cannot be {word}: it is {words}", text.Quoted("word", string(r.Plunger)), text.AnyTyped("words", Plungers()...)))
	}
	if r.ArmLoose && r.Seed == 0 {
		return refused(text.Say("explore.arm-loose", "a loose indicator arm makes readings scatter, and without a seed nothing scatters: give a seed too"))
	}
	return nil
}
