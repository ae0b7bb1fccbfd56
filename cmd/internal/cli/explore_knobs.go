package cli

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/explore"
	"shimwright/sim/quantity"
)

// A kind is what an amount measures.
type kind int

const (
	length kind = iota
	signed      // length that can go either way
	torque      // rotating torque
	tight       // fastener torque
	force
	turned  // degrees
	tilt    // small angle, radians
	warmth  // difference of temperature, kelvin
	percent // share, typed and shown in hundredths
	share
	yesNo
	word
)

// A spacer is what stands between the cones of the pinion bearings.
type spacer int

const (
	anySpacer spacer = iota
	crushed
	packed
)

// A knob is an amount that the demonstrator turns: a flag and a name for a sweep.
type knob struct {
	name, help, what string
	said             string // in the heading, with %s for the amount where it is not nought; or described by hand
	of               half
	only             spacer // the axles that have it
	kind             kind
	at               func(*explore.Settings) *float64 // mm, N·mm, degrees, radians, kelvin or a share
}

func (k *knob) set(s *explore.Settings, v float64) { *k.at(s) = v }
func (k *knob) get(s explore.Settings) float64     { return *k.at(&s) }

// show writes the setting's value.
func (k *knob) show(s explore.Settings, units quantity.System) string {
	return showAmount(k.kind, k.get(s), units)
}

var knobs = []knob{
	{"depth", "pinion out of its place by `LENGTH`; minus is too deep", "pinion depth", "", teeth, anySpacer, signed,
		func(s *explore.Settings) *float64 { return &s.PinionOutMM }},
	{"ring", "ring gear a further `LENGTH` away from the pinion; minus is closer", "ring gear", "", teeth, anySpacer, signed,
		func(s *explore.Settings) *float64 { return &s.RingAwayMM }},
	{"interference", "side shims or rings over line-to-line by `LENGTH` (default: sheet's)", "interference", "", mechanics, anySpacer, signed,
		func(s *explore.Settings) *float64 { return &s.SideFitMM }},
	{"shim-to-back", "shim or ring travel from the tooth side to the back, `LENGTH`", "shim moved to the back", "", mechanics, anySpacer, signed,
		func(s *explore.Settings) *float64 { return &s.ShimToRingGearMM }},
	{"nut", "nut turned from finger tight by `ANGLE`", "nut angle", "", mechanics, anySpacer, turned,
		func(s *explore.Settings) *float64 { return &s.NutDeg }},
	{"nut-torque", "nut turned until it takes `TORQUE`", "nut torque", "", mechanics, anySpacer, tight,
		func(s *explore.Settings) *float64 { return &s.NutNmm }},
	{"drag", "nut, or solid pack, for a pinion drag of `TORQUE`, no seal (default: sheet's)", "pinion bearing drag", "", mechanics, anySpacer, torque,
		func(s *explore.Settings) *float64 { return &s.TorqueTargetNmm }},
	{"pack", "solid spacer: pack between the cones, `LENGTH`", "pack", "", mechanics, packed, length,
		func(s *explore.Settings) *float64 { return &s.PreloadShimMM }},
	{"film", "film of marking compound, `LENGTH` (default: a thin coat)", "compound film", "", teeth, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.FilmMM }},
	{"warm", "axle warmer than when it was set by `DEGREES`, such as 40C or 72F", "warmth", "", teeth | mechanics, anySpacer, warmth,
		func(s *explore.Settings) *float64 { return &s.WarmK }},

	{"offset", "pinion offset larger than it should be by `LENGTH`", "offset error", "offset out by %s", teeth, anySpacer, signed,
		func(s *explore.Settings) *float64 { return &s.OffsetMM }},
	{"shaft-angle", "shafts open beyond square by `ANGLE`", "shaft angle error", "shaft angle out by %s", teeth, anySpacer, tilt,
		func(s *explore.Settings) *float64 { return &s.ShaftAngleRad }},
	{"inner-cup-gap", "gap under the head bearing cup, `LENGTH`", "head cup gap", "head cup off its shoulder by %s", mechanics, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.InnerCupGapMM }},
	{"outer-cup-gap", "gap under the tail bearing cup, `LENGTH`", "tail cup gap", "tail cup off its shoulder by %s", mechanics, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.OuterCupGapMM }},
	{"ring-gear-cone-gap", "back side-bearing cone off the case by `LENGTH`", "back cone gap", "back side-bearing cone off the case by %s", mechanics, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.RingGearConeGapMM }},
	{"shim-dirt", "dirt or a wrinkle of `LENGTH` in the depth shim pack", "dirt in the depth pack", "dirt of %s in the depth shim pack", teeth | mechanics, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.ShimDirtMM }},
	{"spacer-crushed", "collapsible spacer used before and shorter by `LENGTH`", "earlier crush", "spacer used before, %s shorter than new", mechanics, crushed, length,
		func(s *explore.Settings) *float64 { return &s.SpacerCrushedMM }},
	{"rough", "pinion rollers rough: `TORQUE` that comes and goes within a turn", "roughness", "rough pinion bearings, %s coming and going", mechanics, anySpacer, torque,
		func(s *explore.Settings) *float64 { return &s.NotchNmm }},
	{"seal-extra", "seal drags `TORQUE` more than a good one", "extra seal drag", "seal dragging %s more than a good one", mechanics, anySpacer, torque,
		func(s *explore.Settings) *float64 { return &s.SealExtraNmm }},
	{"brake-drag", "shafts and brakes left on drag `TORQUE` at the ring gear", "brake drag", "shafts and brakes dragging %s at the ring gear", mechanics, anySpacer, torque,
		func(s *explore.Settings) *float64 { return &s.BrakeNmm }},
	{"housing-grown", "housing once spread too far and wider by `LENGTH` since", "growth of the housing", "housing wider by %s since it was spread too far", mechanics, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.HousingGrowthMM }},
	{"runout", "ring gear runout, total reading, `LENGTH`", "ring gear runout", "ring gear runout %s", teeth, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.RunoutTIRMM }},
	{"uneven-bolts", "runout of `LENGTH` from ring gear bolts of uneven torque", "runout from uneven bolts", "uneven ring gear bolts, %s of runout", teeth, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.BoltsTIRMM }},
	{"warp", "ring gear warped: `LENGTH` of runout twice a turn", "warp", "ring gear warped by %s", teeth, anySpacer, length,
		func(s *explore.Settings) *float64 { return &s.WarpTIRMM }},

	{"wrench-error", "low-range wrench reads high by `PERCENT`; minus is low", "wrench error", "low-range wrench reading %s", instruments, anySpacer, percent,
		func(s *explore.Settings) *float64 { return &s.WrenchGain }},
	{"string-error", "cord and scale reads high by `PERCENT`: a wrong radius", "cord error", "cord and scale reading %s", instruments, anySpacer, percent,
		func(s *explore.Settings) *float64 { return &s.StringGain }},
}

// A toggle is something that is so or not: a flag. Its column has another name where
// the flag is short.
type toggle struct {
	name, column, help, said string
	of                       half
	at                       func(*explore.Settings) *bool
}

var toggles = []toggle{
	{"used", "used_bearings", "used bearings instead of new ones", "", mechanics, func(s *explore.Settings) *bool { return &s.UsedBearings }},
	{"greased", "greased", "pinion bearings packed with grease", "pinion bearings packed with grease", mechanics, func(s *explore.Settings) *bool { return &s.Greased }},
	{"caps-snug", "caps_snug", "cap bolts only snug, not torqued", "cap bolts only snug", mechanics, func(s *explore.Settings) *bool { return &s.CapsSnug }},
	{"caps-swapped", "caps_swapped", "side-bearing caps changed over", "side-bearing caps changed over", teeth | mechanics, func(s *explore.Settings) *bool { return &s.CapsSwapped }},
	{"cap-rotated", "cap_rotated", "a side-bearing cap end for end", "a side-bearing cap end for end", teeth | mechanics, func(s *explore.Settings) *bool { return &s.CapRotated }},
	{"nut-grip-gone", "nut_grip_gone", "nut used before, it no longer grips", "nut used before, its grip gone", mechanics, func(s *explore.Settings) *bool { return &s.NutGripGone }},
	{"breakaway", "breakaway", "torque read as the pinion breaks loose, not turning", "torque read as the pinion breaks loose", instruments, func(s *explore.Settings) *bool { return &s.BreakawayTorque }},
	{"pinion-free", "pinion_free", "backlash read without holding the pinion", "pinion not held for backlash", instruments, func(s *explore.Settings) *bool { return &s.PinionFree }},
	{"arm-loose", "arm_loose", "indicator arm loose; with --seed", "indicator arm loose", instruments, func(s *explore.Settings) *bool { return &s.ArmLoose }},
	{"thick-coat", "thick_coat", "compound laid on thick", "compound laid on thick", instruments, func(s *explore.Settings) *bool { return &s.ThickCoat }},
	{"rolled-free", "rolled_free", "gears rolled without a load", "gears rolled without a load", instruments, func(s *explore.Settings) *bool { return &s.RolledFree }},
}

// A choice is one word of a few; the first is the right one and need not be given.
type choice struct {
	name, help, said string
	words            []act.Option
	at               func(*explore.Settings) *act.Option
}

func choices() []choice {
	return []choice{
		{"dial-at", "indicator for backlash at the `PLACE` heel, middle or toe", "indicator at the %s", explore.DialPlaces(), func(s *explore.Settings) *act.Option { return &s.DialAt }},
		{"plunger", "its plunger square, along or tilted: which `WAY`", "its plunger %s", explore.Plungers(), func(s *explore.Settings) *act.Option { return &s.Plunger }},
	}
}

// settingNames lists what can be set of a part of the axle.
func settingNames(of half) string {
	names := knobNames(of)
	for _, t := range toggles {
		if t.of&^of == 0 {
			names = append(names, t.name)
		}
	}
	return strings.Join(names, ", ")
}

// knobNames lists what can be swept of a part of the axle.
func knobNames(of half) []string {
	var names []string
	for _, k := range knobs {
		if k.of&^of == 0 {
			names = append(names, k.name)
		}
	}
	return names
}

func knobCalled(name string) *knob {
	if i := slices.IndexFunc(knobs, func(k knob) bool { return k.name == name }); i >= 0 {
		return &knobs[i]
	}
	return nil
}

// parse reads an amount a person typed and returns it in the unit set takes.
func (k *knob) parse(text string, units quantity.System) (float64, error) {
	metric := units == quantity.Metric
	like, fallback := "a length, such as 0.004in or 0.1mm", quantity.UnitInch
	if metric {
		fallback = quantity.UnitMM
	}
	switch k.kind {
	case warmth:
		return parseWarmth(text, metric)
	case percent:
		return parsePercent(text)
	case torque:
		if like, fallback = "a torque, such as 25lb-in or 2.8Nm", quantity.UnitInchLb; metric {
			fallback = quantity.UnitNm
		}
	case tight:
		if like, fallback = "a torque, such as 250lb-ft or 340Nm", quantity.UnitFootLb; metric {
			fallback = quantity.UnitNm
		}
	case turned, tilt:
		like, fallback = "an angle, such as 180deg", quantity.UnitDegree
	}
	e, err := quantity.ParseEntered(text, fallback)
	if err != nil {
		return 0, err
	}
	wrong := fmt.Errorf("%s is not what %s takes: write %s", e, k.what, like)
	switch k.kind {
	case torque, tight:
		t, ok := e.Torque()
		if !ok {
			return 0, wrong
		}
		if t <= 0 && (k.name == "drag" || k.kind == tight) {
			return 0, fmt.Errorf("a %s of %s gives the nut nothing to go by: ask for more than none, or turn the nut by its angle", k.what, e)
		}
		return t.Nmm(), nil
	case turned, tilt:
		deg := e.Number
		switch {
		case e.Unit == quantity.UnitTurn && k.kind == turned:
			deg *= 360
		case e.Unit != quantity.UnitDegree:
			return 0, wrong
		}
		if k.kind == tilt {
			return deg * radPerDeg, nil
		}
		return deg, nil
	}
	l, ok := e.Length()
	if !ok {
		return 0, wrong
	}
	return l.MM(), nil
}

// fahrenheitPerK is how many degrees Fahrenheit a difference of one kelvin is.
const fahrenheitPerK = 1.8

// parseWarmth reads a difference of temperature and returns it in kelvin.
func parseWarmth(text string, metric bool) (float64, error) {
	t := strings.ToUpper(strings.TrimSpace(text))
	perK := fahrenheitPerK
	if metric {
		perK = 1
	}
	switch {
	case strings.HasSuffix(t, "C"):
		perK = 1
	case strings.HasSuffix(t, "F"):
		perK = fahrenheitPerK
	}
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.TrimRight(t, "CF"), "DEG"), "°"))
	v, err := plainNumber(number)
	if err != nil {
		return 0, fmt.Errorf("%q is no difference of temperature: write how much warmer, such as 40C or 72F", text)
	}
	return v / perK, nil
}

func parsePercent(text string) (float64, error) {
	t := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(text), "%"), "percent"))
	v, err := plainNumber(t)
	if err != nil {
		return 0, fmt.Errorf("%q is no percentage: write how much too high it reads, such as 20%%, or -20%% for too low", text)
	}
	return v / 100, nil
}

// plainNumber reads digits and a point, with a sign.
func plainNumber(text string) (float64, error) {
	if strings.Trim(text, "+-.0123456789") != "" {
		return 0, errors.New("no plain number")
	}
	return strconv.ParseFloat(text, 64)
}

const radPerDeg = 3.14159265358979323846 / 180

// showAmount writes an amount with its unit.
func showAmount(k kind, v float64, units quantity.System) string {
	switch k {
	case length:
		return quantity.Millimetres(v).Show(units)
	case signed:
		const nothingMM = 1e-6
		if math.Abs(v) < nothingMM {
			v = 0 // one sign for nothing
		}
		return quantity.Millimetres(v).ShowSigned(units)
	case torque:
		return quantity.Torque(v).ShowRotating(units)
	case tight:
		return quantity.Torque(v).ShowFastener(units)
	case force:
		if units == quantity.Metric {
			return strconv.FormatFloat(v, 'f', 0, 64) + " N"
		}
		return strconv.FormatFloat(quantity.Force(v).PoundsForce(), 'f', 0, 64) + " lbf"
	case turned:
		return strconv.FormatFloat(v, 'f', 0, 64) + " deg"
	case tilt:
		return strconv.FormatFloat(v/radPerDeg, 'f', 3, 64) + " deg"
	case warmth:
		if units == quantity.Metric {
			return strconv.FormatFloat(v, 'f', 0, 64) + " °C"
		}
		return strconv.FormatFloat(v*fahrenheitPerK, 'f', 0, 64) + " °F"
	case percent:
		return strconv.FormatFloat(100*v, 'f', 1, 64) + " %"
	}
	return strconv.FormatFloat(v, 'f', 2, 64)
}

// number is showAmount without the unit, and unitOf the unit alone.
func number(k kind, v float64, units quantity.System) string {
	return strings.Fields(showAmount(k, v, units))[0]
}

func unitOf(k kind, units quantity.System) string {
	if f := strings.Fields(showAmount(k, 0, units)); len(f) > 1 {
		return f[1]
	}
	return ""
}

// plotted is an amount in the unit it is shown in, as a number.
func plotted(k kind, v float64, units quantity.System) float64 {
	metric := units == quantity.Metric
	switch k {
	case length, signed:
		if metric {
			return v
		}
		return quantity.Millimetres(v).Inches()
	case torque:
		if metric {
			return quantity.Torque(v).NewtonMetres()
		}
		return quantity.Torque(v).InchPounds()
	case tight:
		if metric {
			return quantity.Torque(v).NewtonMetres()
		}
		return quantity.Torque(v).FootPounds()
	case force:
		if metric {
			return v
		}
		return quantity.Force(v).PoundsForce()
	case tilt:
		return v / radPerDeg
	case warmth:
		if metric {
			return v
		}
		return v * fahrenheitPerK
	case percent:
		return 100 * v
	}
	return v
}
