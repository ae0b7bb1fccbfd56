package cli

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/act"
	"shimwright/sim/explore"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// A field is one figure of a record. Its name with the unit is what CSV and JSON
// call it; names are only ever added, never changed. explore fields shows them with
// what they mean.
type field struct {
	name, what string
	of         half   // what it takes to know it
	only       spacer // what there is nothing of with another spacer
	kind       kind
	get        func(explore.Result) float64 // mm, N·mm, N, degrees, radians, kelvin, shares; NaN for nothing, 1 and 0 for yes and no
	text       func(explore.Result) string  // of a word
}

func bit(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// setFields are the settings.
func setFields() []field {
	var out []field
	for i := range knobs {
		k := &knobs[i]
		get := func(r explore.Result) float64 { return k.get(r.Settings) }
		switch k.name {
		case "nut":
			// Of the ways to say how far the nut goes, one counts.
			get = func(r explore.Result) float64 {
				if s := r.Settings; s.NutNmm > 0 || s.TorqueTargetNmm > 0 {
					return math.NaN()
				}
				return r.Settings.NutDeg
			}
		case "nut-torque", "drag", "pack":
			get = func(r explore.Result) float64 {
				if v := k.get(r.Settings); v > 0 {
					return v
				}
				return math.NaN()
			}
		}
		out = append(out, field{name: strings.ReplaceAll(k.name, "-", "_"), what: k.what + ", as set with --" + k.name, of: k.of, only: k.only, kind: k.kind, get: get})
	}
	for i := range toggles {
		t := &toggles[i]
		out = append(out, field{name: t.column, what: t.help + ", as set with --" + t.name, of: t.of, kind: yesNo,
			get: func(r explore.Result) float64 { return bit(*t.at(&r.Settings)) }})
	}
	for _, ch := range choices() {
		out = append(out, field{name: strings.ReplaceAll(ch.name, "-", "_"), what: "one of " + joined(ch.words) + ", as set with --" + ch.name, of: instruments, kind: word,
			text: func(r explore.Result) string {
				if w := *ch.at(&r.Settings); w != "" {
					return string(w)
				}
				return string(ch.words[0])
			}})
	}
	return out
}

// trueFields are the true state.
func trueFields() []field {
	var out []field
	gear := func(name, what string, k kind, get func(explore.Result) float64) {
		out = append(out, field{name: name, what: what, of: teeth, kind: k, get: get})
	}
	mech := func(name, what string, k kind, get func(explore.Result) float64) {
		out = append(out, field{name: name, what: what, of: mechanics, kind: k, get: get})
	}
	gear("pinion_out", "pinion out of its place, head bearing counted; minus is too deep", length, func(r explore.Result) float64 { return r.Pinion.PinionOutMM })
	mech("inner_bearing_give", "what the head bearing gives more than at the preload its place is counted at", length, func(r explore.Result) float64 { return r.Pinion.InnerGiveMM })
	gear("ring_away", "ring gear away from its place, out of the pinion", length, func(r explore.Result) float64 { return r.Sides.RingAwayMM })
	gear("backlash_mean", "backlash at the heel, mean of four places", length, func(r explore.Result) float64 { return r.Gears.BacklashMeanMM })
	gear("backlash_least", "backlash where it is least, a turn of the pinion counted", length, func(r explore.Result) float64 { return r.Gears.BacklashMinMM })
	gear("backlash_most", "backlash where it is most", length, func(r explore.Result) float64 { return r.Gears.BacklashMaxMM })
	for i := range explore.Places {
		at := strconv.Itoa(i * 360 / explore.Places)
		gear("backlash_at_"+at, "backlash at "+at+" degrees of the ring gear", length, func(r explore.Result) float64 { return r.Gears.BacklashAtMM[i] })
	}
	gear("runout", "ring gear runout, total reading", length, func(r explore.Result) float64 { return r.Gears.RunoutTIRMM })
	gear("gears_bind", "no backlash is left", yesNo, func(r explore.Result) float64 { return bit(r.Gears.Binds) })
	for _, f := range []mesh.Flank{mesh.Drive, mesh.Coast} {
		part := func(name, what string, get func(mesh.Pattern) float64) {
			gear(f.String()+"_"+name, f.String()+" print, "+what, share, func(r explore.Result) float64 {
				p := r.Gears.Drive
				if f == mesh.Coast {
					p = r.Gears.Coast
				}
				if p.Empty {
					return math.NaN()
				}
				return get(p)
			})
		}
		part("center_toe_to_heel", "centre along, toe 0 to heel 1", func(p mesh.Pattern) float64 { return p.CenterS })
		part("center_root_to_top", "centre up, root 0 to top 1", func(p mesh.Pattern) float64 { return p.CenterT })
		part("length_share", "its length, share of the tooth's", func(p mesh.Pattern) float64 { return p.MaxS - p.MinS })
		part("height_share", "its height, share of the tooth's", func(p mesh.Pattern) float64 { return p.MaxT - p.MinT })
		part("area_share", "its area, share of the flank's", func(p mesh.Pattern) float64 { return p.AreaShare })
	}
	mech("nut", "nut turned from finger tight", turned, func(r explore.Result) float64 { return r.Pinion.NutDeg })
	mech("nut_torque", "torque that turns the nut further", tight, func(r explore.Result) float64 { return r.Pinion.NutTorqueNmm })
	mech("stem_force", "pull in the pinion stem", force, func(r explore.Result) float64 { return r.Pinion.StemN })
	mech("spacer_force", "load on the spacer", force, func(r explore.Result) float64 { return r.Pinion.SpacerN })
	mech("pinion_preload", "preload of the pinion bearings", force, func(r explore.Result) float64 { return r.Pinion.PreloadN })
	mech("pack", "pack between the cones of a solid spacer", length, func(r explore.Result) float64 { return r.Pinion.PreloadShimMM })
	out[len(out)-1].only = packed
	mech("spacer_crush", "crush of the spacer that stays", length, func(r explore.Result) float64 { return r.Pinion.SpacerSetMM })
	out[len(out)-1].only = crushed
	mech("spacer_bottomed", "the spacer is past its usable crush", yesNo, func(r explore.Result) float64 { return bit(r.Pinion.Bottomed) })
	out[len(out)-1].only = crushed
	mech("pinion_end_play", "end play of the pinion", length, func(r explore.Result) float64 { return r.Pinion.EndPlayMM })
	mech("inner_cup_gap", "gap still open under the head bearing cup", length, func(r explore.Result) float64 { return r.Pinion.InnerCupGapMM })
	mech("outer_cup_gap", "gap still open under the tail bearing cup", length, func(r explore.Result) float64 { return r.Pinion.OuterCupGapMM })
	mech("pinion_bearing_torque", "rotating torque of the pinion, no seal", torque, func(r explore.Result) float64 { return r.Pinion.PinionBearingTorqueNmm })
	mech("pinion_torque_swing", "how far that comes and goes within a turn of the pinion", torque, func(r explore.Result) float64 { return r.Pinion.PinionSwingNmm })
	mech("pinion_torque", "rotating torque of the pinion, seal in", torque, func(r explore.Result) float64 { return r.Pinion.PinionTorqueNmm })
	mech("side_preload", "preload of the side bearings", force, func(r explore.Result) float64 { return r.Sides.SidePreloadN })
	mech("case_end_play", "side movement of the case", length, func(r explore.Result) float64 { return r.Sides.CaseEndPlayMM })
	mech("housing_spread", "how much further apart the side bearing seats are", length, func(r explore.Result) float64 { return r.Sides.SpreadMM })
	mech("case_shift_to_pinion", "how far the side shims move the case to the pinion", length, func(r explore.Result) float64 { return r.Sides.ShiftToPinionMM })
	mech("side_bearing_torque_at_pinion", "what the side bearings add at the pinion", torque, func(r explore.Result) float64 { return r.Sides.SideBearingNmm })
	mech("side_bearing_torque_swing", "how far that comes and goes within a turn of the ring gear", torque, func(r explore.Result) float64 { return r.Sides.SideSwingNmm })
	mech("mesh_drag", "what the teeth add at the pinion", torque, func(r explore.Result) float64 { return r.Sides.MeshDragNmm })
	mech("side_rise", "side bearings and teeth together", torque, func(r explore.Result) float64 { return r.Sides.SideRiseNmm })
	mech("total_torque", "rotating torque at the pinion, case and seal in", torque, func(r explore.Result) float64 { return r.Sides.TotalTorqueNmm })
	return out
}

// shownFields are the readings.
func shownFields() []field {
	var out []field
	one := func(name, what string, k kind, get func(explore.Result) float64) {
		out = append(out, field{name: name, what: what, of: instruments, kind: k, get: get})
	}
	for i := range explore.Places {
		at := strconv.Itoa(i * 360 / explore.Places)
		one("dial_backlash_at_"+at, "backlash at "+at+" degrees by the dial", length, func(r explore.Result) float64 { return r.Shown.DialBacklashMM[i] })
	}
	one("dial_backlash_mean", "mean of the four", length, func(r explore.Result) float64 { return r.Shown.DialBacklashMeanMM })
	one("dial_runout", "ring gear runout by the dial", length, func(r explore.Result) float64 { return r.Shown.DialRunoutMM })
	one("dial_pinion_end_play", "pinion end play by the dial", length, func(r explore.Result) float64 { return r.Shown.DialPinionEndPlayMM })
	one("dial_case_end_play", "side movement of the case by the dial", length, func(r explore.Result) float64 { return r.Shown.DialCaseEndPlayMM })
	one("dial_housing_spread", "housing spread by the dial", length, func(r explore.Result) float64 { return r.Shown.DialSpreadMM })
	one("depth_gauge", "pinion head to ring gear axis", length, func(r explore.Result) float64 { return r.Shown.DepthGaugeMM })
	one("feeler_inner_cup_gap", "gap under the head bearing cup by the feeler", length, func(r explore.Result) float64 { return r.Shown.FeelerInnerCupGapMM })
	one("feeler_outer_cup_gap", "gap under the tail bearing cup by the feeler", length, func(r explore.Result) float64 { return r.Shown.FeelerOuterCupGapMM })
	one("caliper_spacer_length", "length of the spacer taken out again", length, func(r explore.Result) float64 { return r.Shown.CaliperSpacerMM })
	out[len(out)-1].only = crushed
	one("micrometer_preload_shims", "pack of a solid spacer by the micrometer", length, func(r explore.Result) float64 { return r.Shown.MicrometerPreloadShimMM })
	out[len(out)-1].only = packed
	one("nut_wrench", "torque at the nut by its wrench", tight, func(r explore.Result) float64 { return r.Shown.NutWrenchNmm })
	one("low_range_wrench_pinion_drag", "pinion, seal in, by the low-range wrench", torque, func(r explore.Result) float64 { return r.Shown.WrenchPinionTorqueNmm })
	one("low_range_wrench_total_drag", "the whole, by the low-range wrench", torque, func(r explore.Result) float64 { return r.Shown.WrenchTotalTorqueNmm })
	one("string_and_scale_pinion_drag", "pinion, seal in, by cord and scale", torque, func(r explore.Result) float64 { return r.Shown.StringPinionTorqueNmm })
	one("string_and_scale_total_drag", "the whole, by cord and scale", torque, func(r explore.Result) float64 { return r.Shown.StringTotalTorqueNmm })
	eye := func(name string, get func(explore.Result) explore.PrintPlace) {
		see := func(part func(explore.PrintPlace) float64) func(explore.Result) float64 {
			return func(r explore.Result) float64 {
				if p := get(r); !p.None {
					return part(p)
				}
				return math.NaN()
			}
		}
		one("eye_"+name+"_toe_to_heel", name+" print, centre along by eye", share, see(func(p explore.PrintPlace) float64 { return p.AlongShare }))
		one("eye_"+name+"_root_to_top", name+" print, centre up by eye", share, see(func(p explore.PrintPlace) float64 { return p.UpShare }))
		one("eye_"+name+"_length_share", name+" print, its length by eye", share, see(func(p explore.PrintPlace) float64 { return p.LengthShare }))
		one("eye_"+name+"_height_share", name+" print, its height by eye", share, see(func(p explore.PrintPlace) float64 { return p.HeightShare }))
	}
	eye("drive", func(r explore.Result) explore.PrintPlace { return r.Shown.EyeDrive })
	eye("coast", func(r explore.Result) explore.PrintPlace { return r.Shown.EyeCoast })
	return out
}

// A fieldGroup is one part of a record.
type fieldGroup struct {
	name, what string
	fields     []field
}

func fieldGroups() []fieldGroup {
	return []fieldGroup{
		{"set", "what was set", setFields()},
		{"true", "how it truly is", trueFields()},
		{"shown", "what instruments show of it; not with --gears or --parts", shownFields()},
	}
}

// known leaves only what is known of a subject that is a part of an axle. What its
// spacer has nothing of stays, as nothing, so that axles have the same names.
func known(groups []fieldGroup, u subject) []fieldGroup {
	var out []fieldGroup
	for _, g := range groups {
		g.fields = slices.DeleteFunc(g.fields, func(f field) bool { return f.of&^u.of != 0 })
		for i, f := range g.fields {
			if f.only != anySpacer && f.only != u.spacer {
				g.fields[i].get = func(explore.Result) float64 { return math.NaN() }
			}
		}
		if len(g.fields) > 0 {
			out = append(out, g)
		}
	}
	return out
}

func newExploreFields(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "fields",
		Short: "List the names that --csv and --json write, with what they mean",
		Long: `List the names that --csv and --json write, with what they mean. They do not change;
new ones may be added.`,
		Example: "  shimwright explore fields",
		Args:    usageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			_, err = io.WriteString(s.Out, fieldPage(p))
			return err
		},
	}
	l.addFlags(c)
	return c
}

// fieldPage writes every name with its units and its meaning.
func fieldPage(p view.Pen) string {
	var b strings.Builder
	b.WriteString(view.Wrap("A name ends in its unit, and a figure with a unit stands there in metric and in inch units: _mm and _in, _Nm and _lbin or _lbft, _N and _lbf; _C and _F are differences of temperature. A figure without one is a share, a word, yes or no. JSON groups names under set, true and shown; a CSV column has the group's name and _ in front, and the first is position. What there is not is null, and empty in CSV. With --gears and --parts only what belongs to them is written.", p.Width, ""))
	for _, g := range fieldGroups() {
		b.WriteString("\n" + p.Strong(g.name) + ": " + g.what + "\n")
		for _, f := range g.fields {
			var names []string
			for _, one := range f.figures(explore.Result{}) {
				names = append(names, one.key)
			}
			b.WriteString(view.Wrap(strings.Join(names, ", "), p.Width, "  "))
			b.WriteString(view.Wrap(f.what, p.Width, "      "))
		}
	}
	return b.String()
}

// A figureOf is one value of a field in one unit, as text that JSON takes.
type figureOf struct{ key, value string }

// figures writes a field in SI and in inch units. Lengths are kept to the
// nanometre and other figures to as many places as mean anything.
func (f field) figures(r explore.Result) []figureOf {
	if f.kind == word {
		return []figureOf{{f.name, strconv.Quote(f.text(r))}}
	}
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
	case torque:
		return []figureOf{in("_Nm", quantity.Torque(v).NewtonMetres(), 6), in("_lbin", quantity.Torque(v).InchPounds(), 5)}
	case tight:
		return []figureOf{in("_Nm", quantity.Torque(v).NewtonMetres(), 4), in("_lbft", quantity.Torque(v).FootPounds(), 4)}
	case force:
		return []figureOf{in("_N", v, 2), in("_lbf", quantity.Force(v).PoundsForce(), 3)}
	case turned:
		return []figureOf{in("_deg", v, 4)}
	case tilt:
		return []figureOf{in("_rad", v, 8), in("_deg", v/radPerDeg, 6)}
	case warmth:
		return []figureOf{in("_C", v, 4), in("_F", v*fahrenheitPerK, 4)}
	case yesNo:
		if math.IsNaN(v) {
			return []figureOf{in("", v, 0)}
		}
		return []figureOf{{f.name, strconv.FormatBool(v != 0)}}
	}
	return []figureOf{in("", v, 5)} // shares and percentages
}

// writeCSV writes one line for each position under one line of names: position,
// then set_, true_ and shown_ figures. What there is not is left empty.
func (x *exploring) writeCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	for i, r := range x.results {
		names, line := []string{"position"}, []string{strconv.Itoa(i + 1)}
		for _, part := range x.parts(r) {
			for _, f := range part.figures {
				names = append(names, part.name+"_"+f.key)
				if f.value == "null" {
					f.value = ""
				}
				line = append(line, strings.Trim(f.value, `"`))
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

func (x *exploring) parts(r explore.Result) []part {
	all := func(fields []field) []figureOf {
		var out []figureOf
		for _, f := range fields {
			out = append(out, f.figures(r)...)
		}
		return out
	}
	var out []part
	for _, g := range x.groups {
		out = append(out, part{g.name, all(g.fields)})
	}
	return out
}

// writeJSON writes the same figures under the same names, grouped.
func (x *exploring) writeJSON(w io.Writer) error {
	var b bytes.Buffer
	swept := "null"
	if x.knob != nil {
		swept = strconv.Quote(x.knob.name)
	}
	code, err := json.Marshal(x.code)
	if err != nil {
		return err
	}
	notice, err := json.Marshal(x.notice)
	if err != nil {
		return err
	}
	more := ""
	if x.whole() {
		more = fmt.Sprintf(`"seed":"%d",`, x.seed)
	}
	if x.of&teeth != 0 {
		more += fmt.Sprintf(`"exact_contact":%t,`, x.exact)
	}
	fmt.Fprintf(&b, `{%q:%s,"notice":%s,%s"swept":%s,"positions":[`, x.key, code, notice, more, swept)
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

func joined(words []act.Option) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return strings.Join(out, ", ")
}
