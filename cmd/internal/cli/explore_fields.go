package cli

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"shimwright/sim/exhibit"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// A field is one figure of a record. Its name with the unit is what CSV and JSON
// call it; names are only ever added, never changed.
type field struct {
	name string
	kind kind
	get  func(exhibit.Result) float64 // mm, N·mm, N, degrees, radians, shares; NaN for nothing, 1 and 0 for yes and no
}

// allFields returns the settings, the true state and the readings.
func allFields() (set, is, shown []field) {
	one := func(name string, k kind, get func(exhibit.Result) float64) field { return field{name, k, get} }
	bit := func(yes bool) float64 {
		if yes {
			return 1
		}
		return 0
	}
	for i := range knobs {
		k := &knobs[i]
		get := func(r exhibit.Result) float64 {
			// Of the two ways to say how far the nut goes, one counts.
			if toDrag := r.Settings.DragTargetNmm > 0; k.name == "nut" && toDrag || k.name == "drag" && !toDrag {
				return math.NaN()
			}
			return k.get(r.Settings)
		}
		set = append(set, one(strings.ReplaceAll(k.name, "-", "_"), k.kind, get))
	}
	set = append(set,
		one("used_bearings", yesNo, func(r exhibit.Result) float64 { return bit(r.Settings.UsedBearings) }),
		one("greased", yesNo, func(r exhibit.Result) float64 { return bit(r.Settings.Greased) }),
		one("caps_snug", yesNo, func(r exhibit.Result) float64 { return bit(r.Settings.CapsSnug) }))

	is = []field{
		one("pinion_out", length, func(r exhibit.Result) float64 { return r.Pinion.PinionOutMM }),
		one("head_bearing_give", length, func(r exhibit.Result) float64 { return r.Pinion.HeadGiveMM }),
		one("ring_away", length, func(r exhibit.Result) float64 { return r.Sides.RingAwayMM }),
		one("backlash_mean", length, func(r exhibit.Result) float64 { return r.Gears.BacklashMeanMM }),
		one("backlash_least", length, func(r exhibit.Result) float64 { return r.Gears.BacklashMinMM }),
		one("backlash_most", length, func(r exhibit.Result) float64 { return r.Gears.BacklashMaxMM }),
	}
	for i := range exhibit.Places {
		at := strconv.Itoa(i * 360 / exhibit.Places)
		is = append(is, one("backlash_at_"+at, length, func(r exhibit.Result) float64 { return r.Gears.BacklashAtMM[i] }))
		shown = append(shown, one("dial_backlash_at_"+at, length, func(r exhibit.Result) float64 { return r.Shown.DialBacklashMM[i] }))
	}
	is = append(is,
		one("runout", length, func(r exhibit.Result) float64 { return r.Gears.RunoutTIRMM }),
		one("gears_bind", yesNo, func(r exhibit.Result) float64 { return bit(r.Gears.Binds) }))
	for _, f := range []mesh.Flank{mesh.Drive, mesh.Coast} {
		part := func(name string, get func(mesh.Pattern) float64) {
			is = append(is, one(f.String()+"_"+name, share, func(r exhibit.Result) float64 {
				p := r.Gears.Drive
				if f == mesh.Coast {
					p = r.Gears.Coast
				}
				if p.Empty {
					return math.NaN()
				}
				return get(p)
			}))
		}
		part("centre_toe_to_heel", func(p mesh.Pattern) float64 { return p.CentreS })
		part("centre_root_to_top", func(p mesh.Pattern) float64 { return p.CentreT })
		part("length_share", func(p mesh.Pattern) float64 { return p.MaxS - p.MinS })
		part("height_share", func(p mesh.Pattern) float64 { return p.MaxT - p.MinT })
		part("area_share", func(p mesh.Pattern) float64 { return p.AreaShare })
	}
	is = append(is,
		one("nut", turned, func(r exhibit.Result) float64 { return r.Pinion.NutDeg }),
		one("nut_torque", tight, func(r exhibit.Result) float64 { return r.Pinion.NutTorqueNmm }),
		one("stem_force", force, func(r exhibit.Result) float64 { return r.Pinion.StemN }),
		one("spacer_force", force, func(r exhibit.Result) float64 { return r.Pinion.SpacerN }),
		one("pinion_preload", force, func(r exhibit.Result) float64 { return r.Pinion.PreloadN }),
		one("spacer_crush", length, func(r exhibit.Result) float64 { return r.Pinion.SpacerSetMM }),
		one("spacer_bottomed", yesNo, func(r exhibit.Result) float64 { return bit(r.Pinion.Bottomed) }),
		one("pinion_end_play", length, func(r exhibit.Result) float64 { return r.Pinion.EndPlayMM }),
		one("head_cup_gap", length, func(r exhibit.Result) float64 { return r.Pinion.HeadCupGapMM }),
		one("tail_cup_gap", length, func(r exhibit.Result) float64 { return r.Pinion.TailCupGapMM }),
		one("pinion_bearing_drag", drag, func(r exhibit.Result) float64 { return r.Pinion.PinionBearingDragNmm }),
		one("pinion_drag", drag, func(r exhibit.Result) float64 { return r.Pinion.PinionDragNmm }),
		one("side_preload", force, func(r exhibit.Result) float64 { return r.Sides.SidePreloadN }),
		one("case_end_play", length, func(r exhibit.Result) float64 { return r.Sides.CaseEndPlayMM }),
		one("housing_spread", length, func(r exhibit.Result) float64 { return r.Sides.SpreadMM }),
		one("case_shift_to_pinion", length, func(r exhibit.Result) float64 { return r.Sides.ShiftToPinionMM }),
		one("side_bearing_drag_at_pinion", drag, func(r exhibit.Result) float64 { return r.Sides.SideBearingNmm }),
		one("mesh_drag", drag, func(r exhibit.Result) float64 { return r.Sides.MeshDragNmm }),
		one("side_rise", drag, func(r exhibit.Result) float64 { return r.Sides.SideRiseNmm }),
		one("total_drag", drag, func(r exhibit.Result) float64 { return r.Sides.TotalDragNmm }))

	eye := func(name string, get func(exhibit.Result) exhibit.PrintPlace) []field {
		see := func(part func(exhibit.PrintPlace) float64) func(exhibit.Result) float64 {
			return func(r exhibit.Result) float64 {
				if p := get(r); !p.None {
					return part(p)
				}
				return math.NaN()
			}
		}
		return []field{
			one("eye_"+name+"_toe_to_heel", share, see(func(p exhibit.PrintPlace) float64 { return p.AlongShare })),
			one("eye_"+name+"_root_to_top", share, see(func(p exhibit.PrintPlace) float64 { return p.UpShare }))}
	}
	shown = append(shown,
		one("dial_backlash_mean", length, func(r exhibit.Result) float64 { return r.Shown.DialBacklashMeanMM }),
		one("dial_runout", length, func(r exhibit.Result) float64 { return r.Shown.DialRunoutMM }),
		one("dial_pinion_end_play", length, func(r exhibit.Result) float64 { return r.Shown.DialPinionEndPlayMM }),
		one("dial_case_end_play", length, func(r exhibit.Result) float64 { return r.Shown.DialCaseEndPlayMM }),
		one("dial_housing_spread", length, func(r exhibit.Result) float64 { return r.Shown.DialSpreadMM }),
		one("depth_gauge", length, func(r exhibit.Result) float64 { return r.Shown.DepthGaugeMM }),
		one("feeler_head_cup_gap", length, func(r exhibit.Result) float64 { return r.Shown.FeelerHeadCupGapMM }),
		one("feeler_tail_cup_gap", length, func(r exhibit.Result) float64 { return r.Shown.FeelerTailCupGapMM }),
		one("caliper_spacer_length", length, func(r exhibit.Result) float64 { return r.Shown.CaliperSpacerMM }),
		one("nut_wrench", tight, func(r exhibit.Result) float64 { return r.Shown.NutWrenchNmm }),
		one("low_range_wrench_pinion_drag", drag, func(r exhibit.Result) float64 { return r.Shown.WrenchPinionDragNmm }),
		one("low_range_wrench_total_drag", drag, func(r exhibit.Result) float64 { return r.Shown.WrenchTotalDragNmm }),
		one("cord_and_scale_pinion_drag", drag, func(r exhibit.Result) float64 { return r.Shown.CordPinionDragNmm }),
		one("cord_and_scale_total_drag", drag, func(r exhibit.Result) float64 { return r.Shown.CordTotalDragNmm }))
	shown = append(shown, eye("drive", func(r exhibit.Result) exhibit.PrintPlace { return r.Shown.EyeDrive })...)
	shown = append(shown, eye("coast", func(r exhibit.Result) exhibit.PrintPlace { return r.Shown.EyeCoast })...)
	return set, is, shown
}

// A figureOf is one value of a field in one unit, as text that JSON takes.
type figureOf struct{ key, value string }

// figures writes a field in SI and in inch units. Lengths are kept to the
// nanometre and other figures to as many places as mean anything.
func (f field) figures(r exhibit.Result) []figureOf {
	v := f.get(r)
	in := func(suffix string, x float64, decimals int) figureOf {
		if math.IsNaN(x) {
			return figureOf{f.name + suffix, "null"}
		}
		p := math.Pow10(decimals)
		if x = math.Round(x*p) / p; x == 0 {
			x = 0 // no negative zero
		}
		return figureOf{f.name + suffix, strconv.FormatFloat(x, 'f', -1, 64)}
	}
	switch f.kind {
	case length, signed:
		return []figureOf{in("_mm", v, 6), in("_in", quantity.Millimetres(v).Inches(), 7)}
	case drag:
		return []figureOf{in("_Nm", quantity.Torque(v).NewtonMetres(), 6), in("_lbin", quantity.Torque(v).InchPounds(), 5)}
	case tight:
		return []figureOf{in("_Nm", quantity.Torque(v).NewtonMetres(), 4), in("_lbft", quantity.Torque(v).FootPounds(), 4)}
	case force:
		return []figureOf{in("_N", v, 2), in("_lbf", quantity.Force(v).PoundsForce(), 3)}
	case turned:
		return []figureOf{in("_deg", v, 4)}
	case tilt:
		return []figureOf{in("_rad", v, 8), in("_deg", v/radPerDeg, 6)}
	case yesNo:
		return []figureOf{{f.name, strconv.FormatBool(v != 0)}}
	}
	return []figureOf{in("", v, 5)}
}

// writeCSV writes one line for each position under one line of names: position,
// then set_, true_ and shown_ figures. What there is not is left empty.
func (x *explore) writeCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	for i, r := range x.results {
		names, line := []string{"position"}, []string{strconv.Itoa(i + 1)}
		for _, part := range x.parts(r) {
			for _, f := range part.figures {
				names = append(names, part.name+"_"+f.key)
				if f.value == "null" {
					f.value = ""
				}
				line = append(line, f.value)
			}
		}
		if i == 0 {
			if err := out.Write(names); err != nil {
				return err
			}
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// A part is one group of figures of a record.
type part struct {
	name    string
	figures []figureOf
}

func (x *explore) parts(r exhibit.Result) []part {
	all := func(fields []field) []figureOf {
		var out []figureOf
		for _, f := range fields {
			out = append(out, f.figures(r)...)
		}
		return out
	}
	return []part{{"set", all(x.set)}, {"true", all(x.is)}, {"shown", all(x.shown)}}
}

// writeJSON writes the same figures under the same names, grouped.
func (x *explore) writeJSON(w io.Writer) error {
	var b bytes.Buffer
	swept := "null"
	if x.knob != nil {
		swept = strconv.Quote(x.knob.name)
	}
	notice, err := json.Marshal(family.Notice)
	if err != nil {
		return err
	}
	fmt.Fprintf(&b, `{"family":%q,"notice":%s,"seed":"%d","swept":%s,"positions":[`, x.fam.Code, notice, x.seed, swept)
	for i, r := range x.results {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('{')
		for k, part := range x.parts(r) {
			if k > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(&b, "%q:{", part.name)
			for j, f := range part.figures {
				if j > 0 {
					b.WriteByte(',')
				}
				fmt.Fprintf(&b, "%q:%s", f.key, f.value)
			}
			b.WriteByte('}')
		}
		b.WriteByte('}')
	}
	b.WriteString("]}")
	var pretty bytes.Buffer
	if err := json.Indent(&pretty, b.Bytes(), "", "  "); err != nil {
		return err
	}
	pretty.WriteByte('\n')
	_, err = w.Write(pretty.Bytes())
	return err
}
