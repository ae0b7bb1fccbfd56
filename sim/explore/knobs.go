package explore

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/quantity"
)

// A Half is a part of the axle that can be shown without the other.
type Half int

// The parts of what is shown.
const (
	Teeth       Half = 1 << iota // ring and pinion: places, backlash, contact patterns
	Mechanics                    // bearings, nut, spacer, housing
	Instruments                  // readings, of a whole axle

	Whole = Teeth | Mechanics | Instruments
)

// A Spacer is what stands between the cones of the pinion bearings.
type Spacer int

// The spacers.
const (
	AnySpacer Spacer = iota // or none
	Collapsible
	Solid
)

// A Knob is an amount that can be set, and swept.
type Knob struct {
	Name string
	Help string // one line, its value in back quotes
	What string // what it is called in a table or a chart
	Said string // in a heading, with %s for the amount where it is not zero; "": the heading says it in its own way
	Of   Half
	Only Spacer // the axles that have it
	Kind Kind
	at   func(*Settings) *float64
}

// Set sets the amount, in the unit its kind is held in.
func (k Knob) Set(s *Settings, v float64) { *k.at(s) = v }

// Get returns the amount.
func (k Knob) Get(s Settings) float64 { return *k.at(&s) }

// Parse reads an amount that a person typed.
func (k Knob) Parse(text string, units quantity.System) (float64, error) {
	v, err := k.Kind.Parse(k.What, text, units)
	if err == nil && v <= 0 && (k.Name == torqueKnob || k.Kind == Fastener) {
		return 0, fmt.Errorf("%s %s gives the nut nothing to stop at: ask for more than zero, or turn the nut by its angle", k.What, text)
	}
	return v, err
}

// Names of knobs that depend on each other.
const (
	nutKnob        = "nut"
	nutTorqueKnob  = "nut-torque"
	torqueKnob     = "torque"
	preloadShimsIn = "preload-shims"
)

// Knobs lists the amounts in the order they are explained in.
func Knobs() []Knob {
	return []Knob{
		{"depth", "pinion out of its place by `LENGTH`; minus is too deep", "pinion depth", "", Teeth, AnySpacer, Signed,
			func(s *Settings) *float64 { return &s.PinionOutMM }},
		{"ring-gear", "ring gear a further `LENGTH` away from the pinion; minus is closer", "ring gear", "", Teeth, AnySpacer, Signed,
			func(s *Settings) *float64 { return &s.RingAwayMM }},
		{"side-preload", "side shims or adjusters `LENGTH` over zero end play (default: the spec)", "side preload", "", Mechanics, AnySpacer, Signed,
			func(s *Settings) *float64 { return &s.SideFitMM }},
		{"shim-to-ring-gear", "side shim or adjuster travel moved to the ring-gear side, `LENGTH`", "shim to ring-gear side", "", Mechanics, AnySpacer, Signed,
			func(s *Settings) *float64 { return &s.ShimToRingGearMM }},
		{nutKnob, "nut turned from finger tight by `ANGLE`", "nut angle", "", Mechanics, AnySpacer, Turned,
			func(s *Settings) *float64 { return &s.NutDeg }},
		{nutTorqueKnob, "nut turned until it takes `TORQUE`", "nut torque", "", Mechanics, AnySpacer, Fastener,
			func(s *Settings) *float64 { return &s.NutNmm }},
		{"nut-back", "then loosened again by `ANGLE`, as after an overshoot", "nut loosened", "nut loosened again by %s", Mechanics, AnySpacer, Turned,
			func(s *Settings) *float64 { return &s.NutBackDeg }},
		{torqueKnob, "nut, or shims on a solid spacer, for a pinion rotating torque of `TORQUE`, no seal (default: the spec)", "pinion rotating torque", "", Mechanics, AnySpacer, Rotating,
			func(s *Settings) *float64 { return &s.TorqueTargetNmm }},
		{preloadShimsIn, "solid spacer: preload shims of `LENGTH`", "preload shims", "", Mechanics, Solid, Length,
			func(s *Settings) *float64 { return &s.PreloadShimMM }},
		{"film", "film of marking compound, `LENGTH` (default: a thin coat)", "compound film", "", Teeth, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.FilmMM }},
		{"warm", "axle warmer than when it was set by `DEGREES`, such as 40C or 72F", "warmth", "", Teeth | Mechanics, AnySpacer, Warmth,
			func(s *Settings) *float64 { return &s.WarmK }},

		{"offset", "pinion offset larger than it should be by `LENGTH`", "offset error", "offset out by %s", Teeth, AnySpacer, Signed,
			func(s *Settings) *float64 { return &s.OffsetMM }},
		{"shaft-angle", "shafts open beyond square by `ANGLE`", "shaft angle error", "shaft angle out by %s", Teeth, AnySpacer, Tilt,
			func(s *Settings) *float64 { return &s.ShaftAngleRad }},
		{"inner-cup-gap", "gap under the inner pinion bearing cup, `LENGTH`", "inner cup gap", "inner pinion bearing cup off its shoulder by %s", Mechanics, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.InnerCupGapMM }},
		{"outer-cup-gap", "gap under the outer pinion bearing cup, `LENGTH`", "outer cup gap", "outer pinion bearing cup off its shoulder by %s", Mechanics, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.OuterCupGapMM }},
		{"ring-gear-cone-gap", "side bearing cone on the ring-gear side off the case by `LENGTH`", "side cone gap", "side bearing cone on the ring-gear side off the case by %s", Mechanics, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.RingGearConeGapMM }},
		{"shim-dirt", "dirt or a wrinkle of `LENGTH` in the depth shim", "dirt in the depth shim", "dirt of %s in the depth shim", Teeth | Mechanics, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.ShimDirtMM }},
		{"spacer-crushed", "collapsible spacer used before and shorter by `LENGTH`", "earlier crush", "spacer used before, %s shorter than new", Mechanics, Collapsible, Length,
			func(s *Settings) *float64 { return &s.SpacerCrushedMM }},
		{"rough", "pinion rollers rough: `TORQUE` that comes and goes within a turn", "roughness", "rough pinion bearings, %s coming and going", Mechanics, AnySpacer, Rotating,
			func(s *Settings) *float64 { return &s.NotchNmm }},
		{"seal-extra", "seal drag `TORQUE` above a good one's", "extra seal drag", "seal drag %s above a good one's", Mechanics, AnySpacer, Rotating,
			func(s *Settings) *float64 { return &s.SealExtraNmm }},
		{"brake-drag", "axle shafts and brakes left on: brake drag of `TORQUE` at the ring gear", "brake drag", "axle shafts and brakes left on, brake drag %s at the ring gear", Mechanics, AnySpacer, Rotating,
			func(s *Settings) *float64 { return &s.BrakeNmm }},
		{"housing-grown", "housing once spread too far and wider by `LENGTH` since", "growth of the housing", "housing wider by %s since it was spread too far", Mechanics, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.HousingGrowthMM }},
		{"runout", "ring gear runout, total reading, `LENGTH`", "ring gear runout", "ring gear runout %s", Teeth, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.RunoutTIRMM }},
		{"uneven-bolts", "runout of `LENGTH` from ring gear bolts of uneven torque", "runout from uneven bolts", "uneven ring gear bolts, %s of runout", Teeth, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.BoltsTIRMM }},
		{"warp", "ring gear warped: `LENGTH` of runout twice a turn", "warp", "ring gear warped by %s", Teeth, AnySpacer, Length,
			func(s *Settings) *float64 { return &s.WarpTIRMM }},

		{"wrench-error", "low-range wrench reads high by `PERCENT`; minus is low", "wrench error", "low-range wrench reading %s", Instruments, AnySpacer, Percent,
			func(s *Settings) *float64 { return &s.WrenchGain }},
		{"string-error", "string and spring scale reads high by `PERCENT`: a wrong radius", "string error", "string and spring scale reading %s", Instruments, AnySpacer, Percent,
			func(s *Settings) *float64 { return &s.StringGain }},
	}
}

// A Toggle is something that is so or not. Its column has another name where its own is
// short.
type Toggle struct {
	Name, Column, Help string
	Said               string // in a heading; "": the heading says it in its own way
	Of                 Half
	at                 func(*Settings) *bool
}

// Set sets the toggle.
func (t Toggle) Set(s *Settings, on bool) { *t.at(s) = on }

// Get returns it.
func (t Toggle) Get(s Settings) bool { return *t.at(&s) }

// Toggles lists the toggles in the order they are explained in.
func Toggles() []Toggle {
	return []Toggle{
		{"used", "used_bearings", "used bearings instead of new ones", "", Mechanics, func(s *Settings) *bool { return &s.UsedBearings }},
		{"greased", "greased", "pinion bearings packed with grease", "pinion bearings packed with grease", Mechanics, func(s *Settings) *bool { return &s.Greased }},
		{"caps-snug", "caps_snug", "cap bolts only snug, not torqued", "cap bolts only snug", Mechanics, func(s *Settings) *bool { return &s.CapsSnug }},
		{"caps-swapped", "caps_swapped", "bearing caps changed over", "bearing caps changed over", Teeth | Mechanics, func(s *Settings) *bool { return &s.CapsSwapped }},
		{"cap-rotated", "cap_rotated", "a bearing cap end for end", "a bearing cap end for end", Teeth | Mechanics, func(s *Settings) *bool { return &s.CapRotated }},
		{"nut-grip-gone", "nut_grip_gone", "nut used before, it no longer grips", "nut used before, its grip gone", Mechanics, func(s *Settings) *bool { return &s.NutGripGone }},
		{"breakaway", "breakaway", "breakaway torque is read, not rotating torque", "breakaway torque read", Instruments, func(s *Settings) *bool { return &s.BreakawayTorque }},
		{"pinion-free", "pinion_free", "backlash read without holding the pinion", "pinion not held for backlash", Instruments, func(s *Settings) *bool { return &s.PinionFree }},
		{"arm-loose", "arm_loose", "indicator arm loose; needs a seed", "indicator arm loose", Instruments, func(s *Settings) *bool { return &s.ArmLoose }},
		{"thick-coat", "thick_coat", "compound laid on thick", "compound laid on thick", Instruments, func(s *Settings) *bool { return &s.ThickCoat }},
		{"rolled-free", "rolled_free", "gears rolled without a load", "gears rolled without a load", Instruments, func(s *Settings) *bool { return &s.RolledFree }},
	}
}

// A Choice is one word of a few; the first is the right one and need not be given.
type Choice struct {
	Name, Help, Said string
	Words            []act.Option
	at               func(*Settings) *act.Option
}

// Set sets the word.
func (c Choice) Set(s *Settings, word string) { *c.at(s) = act.Option(word) }

// Get returns the word, and whether it is the right one.
func (c Choice) Get(s Settings) (word act.Option, right bool) {
	if w := *c.at(&s); w != "" {
		return w, w == c.Words[0]
	}
	return c.Words[0], true
}

// Listed writes the words with commas between.
func (c Choice) Listed() string {
	out := make([]string, len(c.Words))
	for i, w := range c.Words {
		out[i] = string(w)
	}
	return strings.Join(out, ", ")
}

// Choices lists the choices.
func Choices() []Choice {
	return []Choice{
		{"indicator-at", "indicator for backlash at the `PLACE` heel, middle or toe", "indicator at the %s", DialPlaces(), func(s *Settings) *act.Option { return &s.DialAt }},
		{"plunger", "its plunger square, along or tilted: which `WAY`", "its plunger %s", Plungers(), func(s *Settings) *act.Option { return &s.Plunger }},
	}
}

// SettingNames lists what can be set of a part of the axle.
func SettingNames(of Half) []string {
	names := KnobNames(of)
	for _, t := range Toggles() {
		if t.Of&^of == 0 {
			names = append(names, t.Name)
		}
	}
	return names
}

// KnobNames lists what can be swept of a part of the axle.
func KnobNames(of Half) []string {
	var names []string
	for _, k := range Knobs() {
		if k.Of&^of == 0 {
			names = append(names, k.Name)
		}
	}
	return names
}

// FindKnob finds a knob by its name.
func FindKnob(name string) (k Knob, ok bool) {
	all := Knobs()
	i := slices.IndexFunc(all, func(k Knob) bool { return k.Name == name })
	if i < 0 {
		return Knob{}, false
	}
	return all[i], true
}
