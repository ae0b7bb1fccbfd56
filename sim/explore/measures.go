package explore

import (
	"math"
	"slices"
	"strings"

	"shimwright/sim/mesh"
)

// A Measure is one figure of a state, as a sweep shows it: a line of the table's column,
// or a chart.
type Measure struct {
	Name        string // of a chart
	Head, Under string // of a column; under: what part, or "" for the unit
	Kind        Kind
	of          Half                 // what it takes to know it
	Get         func(Result) float64 // NaN: nothing to show
}

// headed returns the measure with another head to its column.
func (m Measure) headed(head string) Measure {
	m.Head = head
	return m
}

// What sweeps show.
const (
	nutAngle = iota
	nutPull
	bearingTorque
	sealIn
	pinionPreload
	pinionPlay
	shaftPull
	spacerLoad
	crush
	shimsIn
	swing
	spread
	rise
	total
	sidePreload
	sidePlay
	moved
	backlash
	least
	dial
	byWrench
	byString
)

func measureOf(which int) Measure {
	return []Measure{
		nutAngle:      {"Nut angle", "nut", "", Turned, Mechanics, func(r Result) float64 { return r.Pinion.NutDeg }},
		nutPull:       {"Nut torque", "nut", "", Fastener, Mechanics, func(r Result) float64 { return r.Pinion.NutTorqueNmm }},
		bearingTorque: {"Pinion rotating torque, no seal", "torque", "", Rotating, Mechanics, func(r Result) float64 { return r.Pinion.PinionBearingTorqueNmm }},
		sealIn:        {"Pinion rotating torque, seal in", "+seal", "", Rotating, Mechanics, func(r Result) float64 { return r.Pinion.PinionTorqueNmm }},
		pinionPreload: {"Pinion bearing preload", "preload", "", Force, Mechanics, func(r Result) float64 { return r.Pinion.PreloadN }},
		pinionPlay:    {"Pinion end play", "play", "", Length, Mechanics, func(r Result) float64 { return r.Pinion.EndPlayMM }},
		shaftPull:     {"Pull in the pinion shaft", "shaft", "", Force, Mechanics, func(r Result) float64 { return r.Pinion.StemN }},
		spacerLoad:    {"Load on the spacer", "spacer", "", Force, Mechanics, func(r Result) float64 { return r.Pinion.SpacerN }},
		crush:         {"Spacer crush", "crush", "", Length, Mechanics, func(r Result) float64 { return r.Pinion.SpacerSetMM }},
		shimsIn:       {"Preload shims", "shims", "", Length, Mechanics, func(r Result) float64 { return r.Pinion.PreloadShimMM }},
		swing:         {"Change within a turn of the pinion", "change", "", Rotating, Mechanics, func(r Result) float64 { return r.Pinion.PinionSwingNmm }},
		spread:        {"Housing spread", "spread", "", Length, Mechanics, func(r Result) float64 { return r.Sides.SpreadMM }},
		rise:          {"Rise over pinion rotating torque", "rise", "", Rotating, Mechanics, func(r Result) float64 { return r.Sides.SideRiseNmm }},
		total:         {"Total rotating torque", "total", "", Rotating, Mechanics, func(r Result) float64 { return r.Sides.TotalTorqueNmm }},
		sidePreload:   {"Side bearing preload", "preload", "", Force, Mechanics, func(r Result) float64 { return r.Sides.SidePreloadN }},
		sidePlay:      {"Case end play", "play", "", Length, Mechanics, func(r Result) float64 { return r.Sides.CaseEndPlayMM }},
		moved:         {"Case moved toward the pinion", "moved", "", Signed, Mechanics, func(r Result) float64 { return r.Sides.ShiftToPinionMM }},
		backlash:      {"Backlash", "backlash", "", Length, Teeth, func(r Result) float64 { return r.Gears.BacklashMeanMM }},
		least:         {"Least backlash", "least", "", Length, Teeth, func(r Result) float64 { return r.Gears.BacklashMinMM }},
		dial:          {"Backlash by the dial indicator", "dial", "", Length, Instruments, func(r Result) float64 { return r.Shown.DialBacklashMeanMM }},
		byWrench:      {"Pinion rotating torque by the low-range wrench", "wrench", "", Rotating, Instruments, func(r Result) float64 { return r.Shown.WrenchPinionTorqueNmm }},
		byString:      {"Pinion rotating torque by string and spring scale", "string", "", Rotating, Instruments, func(r Result) float64 { return r.Shown.StringPinionTorqueNmm }},
	}[which]
}

func measures(which ...int) []Measure {
	var out []Measure
	for _, w := range which {
		out = append(out, measureOf(w))
	}
	return out
}

// places are where the contact patterns are.
func places() []Measure {
	var out []Measure
	for _, f := range []struct {
		name string
		of   func(Result) mesh.Pattern
	}{{"drive", func(r Result) mesh.Pattern { return r.Gears.Drive }}, {"coast", func(r Result) mesh.Pattern { return r.Gears.Coast }}} {
		for _, w := range []struct {
			way string
			at  func(mesh.Pattern) float64
		}{{"along", func(p mesh.Pattern) float64 { return p.CenterS }}, {"up", func(p mesh.Pattern) float64 { return p.CenterT }}} {
			out = append(out, Measure{"", f.name, w.way, Share, Teeth, func(r Result) float64 {
				if p := f.of(r); !p.Empty {
					return w.at(p)
				}
				return math.NaN()
			}})
		}
	}
	return out
}

// Charted lists what a sweep is charted by; nothing where its contact patterns say more.
func (x *Exhibit) Charted() []Measure {
	switch x.Swept.Name {
	case nutKnob:
		return measures(nutPull, bearingTorque)
	case torqueKnob:
		if x.torqueShim {
			return measures(shimsIn, pinionPreload)
		}
		return measures(nutPull, nutAngle)
	case nutTorqueKnob:
		return measures(nutAngle, bearingTorque)
	case preloadShimsIn:
		return measures(bearingTorque, pinionPreload)
	case "warm":
		return measures(pinionPreload, sidePreload)
	case "spacer-crushed":
		return measures(nutPull, shaftPull)
	case "rough":
		return measures(pinionPreload, swing)
	case "seal-extra":
		return measures(bearingTorque, sealIn)
	case "brake-drag":
		return measures(rise, total)
	case "side-preload", "housing-grown":
		return measures(spread, total)
	case "wrench-error":
		return measures(sealIn, byWrench)
	case "string-error":
		return measures(sealIn, byString)
	}
	switch {
	case x.patterns != nil:
		return nil
	case x.Swept.Name == "shim-to-ring-gear", x.Swept.Name == "ring-gear-cone-gap":
		return measures(moved, total)
	}
	return measures(nutPull, bearingTorque)
}

// Spec is the part of the specification sheet that a measure is held against; ok is false
// where there is none.
func (x *Exhibit) Spec(m Measure) (low, high float64, ok bool) {
	if !x.IsWhole() || m.Name != measureOf(bearingTorque).Name {
		return 0, 0, false
	}
	spec := x.Sheet.PinionTorque(x.base.UsedBearings)
	return spec.LowNmm, spec.HighNmm, true
}

// Columns lists what the table of a sweep shows of the parts there are, most wanted first.
func (x *Exhibit) Columns() []Measure {
	k := *x.Swept
	value := Measure{"", strings.SplitN(k.Name, "-", 2)[0], "", k.Kind, k.Of, func(r Result) float64 { return k.Get(r.Settings) }}
	between := []int{shaftPull, spacerLoad}
	if x.Spacer == Collapsible {
		between = append(between, crush)
	}
	around := func(first ...int) []Measure { return measures(slices.Concat(first, between, []int{total})...) }
	var rest []Measure
	switch k.Name {
	case nutKnob:
		rest = around(nutPull, bearingTorque, pinionPreload, pinionPlay)
	case nutTorqueKnob:
		rest = around(nutAngle, bearingTorque, pinionPreload, pinionPlay)
	case torqueKnob:
		if rest = around(nutAngle, nutPull, pinionPreload, pinionPlay); x.torqueShim {
			rest = around(shimsIn, nutAngle, pinionPreload, pinionPlay)
		}
	case preloadShimsIn:
		value = value.headed("shims")
		rest = around(bearingTorque, pinionPreload, pinionPlay, nutAngle)
	case "spacer-crushed":
		rest = measures(append([]int{nutAngle, nutPull, bearingTorque, pinionPreload}, between...)...)
	case "warm":
		rest = []Measure{measureOf(pinionPreload).headed("pinion"), measureOf(sidePreload).headed("side"), measureOf(bearingTorque), measureOf(total), measureOf(backlash),
			measureOf(pinionPlay).headed("pinion"), measureOf(sidePlay).headed("case")}
	case "rough", "seal-extra", "brake-drag":
		rest = measures(bearingTorque, swing, sealIn, rise, total, pinionPreload)
	case "side-preload", "housing-grown":
		value = value.headed(map[string]string{"side-preload": "over", "housing-grown": "grown"}[k.Name])
		rest = measures(spread, rise, total, sidePreload, sidePlay, backlash)
	case "wrench-error", "string-error":
		rest = measures(sealIn, byWrench, byString, total)
	default:
		rest = slices.Concat(measures(backlash), places(), measures(least, dial, total))
		if x.Of&Teeth == 0 {
			rest = measures(bearingTorque, total, pinionPlay, pinionPreload, moved, sidePreload)
		}
	}
	return slices.DeleteFunc(append([]Measure{value}, rest...), func(m Measure) bool { return m.of&^x.Of != 0 })
}
