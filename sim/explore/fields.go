package explore

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// A Field is one figure of a record. Its name with the unit is what other programs call it.
type Field struct {
	Name, What string
	Of         Half   // what it takes to know it
	Only       Spacer // there is nothing of it with another spacer
	Kind       Kind
	get        func(Result) float64 // NaN for nothing, 1 and 0 for yes and no
	text       func(Result) string  // of a word
}

func bit(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// setFields are the settings.
func setFields() []Field {
	var out []Field
	for _, k := range Knobs() {
		out = append(out, Field{Name: column(k.Name), What: k.What + ", as set by " + k.Name, Of: k.Of, Only: k.Only, Kind: k.Kind, get: k.counts})
	}
	for _, t := range Toggles() {
		out = append(out, Field{Name: t.Column, What: t.Help + ", as set by " + t.Name, Of: t.Of, Kind: YesNo,
			get: func(r Result) float64 { return bit(t.Get(r.Settings)) }})
	}
	for _, c := range Choices() {
		out = append(out, Field{Name: column(c.Name), What: "one of " + c.Listed() + ", as set by " + c.Name, Of: Instruments, Kind: Word,
			text: func(r Result) string {
				w, _ := c.Get(r.Settings)
				return string(w)
			}})
	}
	return out
}

// column is a name as a column has it.
func column(name string) string { return strings.ReplaceAll(name, "-", "_") }

// counts is the amount of a setting that counts: of the ways to say how far the nut goes
// one does, and the others are nothing.
func (k Knob) counts(r Result) float64 {
	v := k.Get(r.Settings)
	switch k.Name {
	case nutKnob:
		if s := r.Settings; s.NutNmm > 0 || s.TorqueTargetNmm > 0 {
			return math.NaN()
		}
	case nutTorqueKnob, torqueKnob, preloadShimsIn:
		if v <= 0 {
			return math.NaN()
		}
	}
	return v
}

// trueFields are the true state.
func trueFields() []Field {
	var out []Field
	gear := func(name, what string, k Kind, get func(Result) float64) {
		out = append(out, Field{Name: name, What: what, Of: Teeth, Kind: k, get: get})
	}
	mech := func(name, what string, k Kind, get func(Result) float64) {
		out = append(out, Field{Name: name, What: what, Of: Mechanics, Kind: k, get: get})
	}
	gear("pinion_out", "pinion out of its place, the inner bearing counted; minus is too deep", Length, func(r Result) float64 { return r.Pinion.PinionOutMM })
	mech("inner_bearing_give", "how much more the inner pinion bearing gives than at the preload its place is counted at", Length, func(r Result) float64 { return r.Pinion.InnerGiveMM })
	gear("ring_away", "ring gear away from its place, out of the pinion", Length, func(r Result) float64 { return r.Sides.RingAwayMM })
	gear("backlash_mean", "backlash at the heel, mean of four places", Length, func(r Result) float64 { return r.Gears.BacklashMeanMM })
	gear("backlash_least", "backlash where it is least, a turn of the pinion counted", Length, func(r Result) float64 { return r.Gears.BacklashMinMM })
	gear("backlash_most", "backlash where it is most", Length, func(r Result) float64 { return r.Gears.BacklashMaxMM })
	for i := range Places {
		at := strconv.Itoa(i * 360 / Places)
		gear("backlash_at_"+at, "backlash at "+at+" degrees of the ring gear", Length, func(r Result) float64 { return r.Gears.BacklashAtMM[i] })
	}
	gear("runout", "ring gear runout, total reading", Length, func(r Result) float64 { return r.Gears.RunoutTIRMM })
	gear("gears_bind", "no backlash is left", YesNo, func(r Result) float64 { return bit(r.Gears.Binds) })
	for _, f := range []mesh.Flank{mesh.Drive, mesh.Coast} {
		part := func(name, what string, get func(mesh.Pattern) float64) {
			gear(f.String()+"_"+name, f.String()+" pattern, "+what, Share, func(r Result) float64 {
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
		part("center_toe_to_heel", "center along the face width, toe 0 to heel 1", func(p mesh.Pattern) float64 { return p.CenterS })
		part("center_root_to_top", "center up the profile, root 0 to top 1", func(p mesh.Pattern) float64 { return p.CenterT })
		part("length_share", "its length, share of the tooth's", func(p mesh.Pattern) float64 { return p.MaxS - p.MinS })
		part("height_share", "its height, share of the tooth's", func(p mesh.Pattern) float64 { return p.MaxT - p.MinT })
		part("toe_end", "its end at the toe, toe 0 to heel 1", func(p mesh.Pattern) float64 { return p.MinS })
		part("heel_end", "its end at the heel", func(p mesh.Pattern) float64 { return p.MaxS })
		part("root_end", "its end at the root, root 0 to top 1", func(p mesh.Pattern) float64 { return p.MinT })
		part("top_end", "its end at the top", func(p mesh.Pattern) float64 { return p.MaxT })
		part("area_share", "its area, share of the flank's", func(p mesh.Pattern) float64 { return p.AreaShare })
	}
	for i, side := range []string{"drive", "coast"} {
		lead := func(name, what string, get func(mesh.Lead) float64) {
			gear(side+"_lead_"+name, side+" side, "+what, Micro, func(r Result) float64 { return get(r.Gears.Leads[i]) * 1e6 })
		}
		lead("mean", "how far it carries the ring gear ahead of a conjugate set, mean of a tooth", func(l mesh.Lead) float64 { return l.MeanRad })
		lead("ripple", "how far that comes and goes within a tooth: the unloaded transmission error", mesh.Lead.PeakToPeakRad)
	}
	mech("nut", "nut turned from finger tight", Turned, func(r Result) float64 { return r.Pinion.NutDeg })
	mech("nut_torque", "torque that turns the nut further", Fastener, func(r Result) float64 { return r.Pinion.NutTorqueNmm })
	mech("pinion_shaft_force", "pull in the pinion shaft", Force, func(r Result) float64 { return r.Pinion.StemN })
	mech("spacer_force", "load on the spacer", Force, func(r Result) float64 { return r.Pinion.SpacerN })
	mech("pinion_preload", "preload of the pinion bearings", Force, func(r Result) float64 { return r.Pinion.PreloadN })
	mech("preload_shims", "preload shims on a solid spacer", Length, func(r Result) float64 { return r.Pinion.PreloadShimMM })
	out[len(out)-1].Only = Solid
	mech("spacer_crush", "crush of the spacer that stays", Length, func(r Result) float64 { return r.Pinion.SpacerSetMM })
	out[len(out)-1].Only = Collapsible
	mech("spacer_bottomed", "the spacer is past its usable crush", YesNo, func(r Result) float64 { return bit(r.Pinion.Bottomed) })
	out[len(out)-1].Only = Collapsible
	mech("pinion_end_play", "end play of the pinion", Length, func(r Result) float64 { return r.Pinion.EndPlayMM })
	mech("inner_cup_gap", "gap still open under the inner pinion bearing cup", Length, func(r Result) float64 { return r.Pinion.InnerCupGapMM })
	mech("outer_cup_gap", "gap still open under the outer pinion bearing cup", Length, func(r Result) float64 { return r.Pinion.OuterCupGapMM })
	mech("pinion_bearing_torque", "pinion rotating torque, no seal", Rotating, func(r Result) float64 { return r.Pinion.PinionBearingTorqueNmm })
	mech("pinion_breakaway_torque", "breakaway torque of the pinion, no seal", Rotating, func(r Result) float64 { return r.Pinion.BreakawayTorqueNmm })
	mech("pinion_pair_approach", "how much the pinion bearings and the housing give under the preload", Length, func(r Result) float64 { return r.Pinion.PairApproachMM })
	mech("pinion_pair_stiffness", "stiffness of the pinion bearings and the housing at that preload", Stiffness, func(r Result) float64 { return r.Pinion.PairStiffnessNPerMM })
	mech("pinion_torque_swing", "how far that comes and goes within a turn of the pinion", Rotating, func(r Result) float64 { return r.Pinion.PinionSwingNmm })
	mech("pinion_torque", "pinion rotating torque, seal in", Rotating, func(r Result) float64 { return r.Pinion.PinionTorqueNmm })
	mech("side_preload", "preload of the side bearings", Force, func(r Result) float64 { return r.Sides.SidePreloadN })
	mech("case_end_play", "end play of the case", Length, func(r Result) float64 { return r.Sides.CaseEndPlayMM })
	mech("housing_spread", "how much further apart the side bearing seats are", Length, func(r Result) float64 { return r.Sides.SpreadMM })
	mech("case_shift_to_pinion", "how far the side shims move the case toward the pinion", Length, func(r Result) float64 { return r.Sides.ShiftToPinionMM })
	mech("side_bearing_torque_at_pinion", "what the side bearings add at the pinion", Rotating, func(r Result) float64 { return r.Sides.SideBearingNmm })
	mech("side_bearing_torque_swing", "how far that comes and goes within a turn of the ring gear", Rotating, func(r Result) float64 { return r.Sides.SideSwingNmm })
	mech("mesh_drag", "what the teeth add at the pinion", Rotating, func(r Result) float64 { return r.Sides.MeshDragNmm })
	mech("side_rise", "side bearings and teeth together", Rotating, func(r Result) float64 { return r.Sides.SideRiseNmm })
	mech("total_torque", "total rotating torque: at the pinion, case and seal in", Rotating, func(r Result) float64 { return r.Sides.TotalTorqueNmm })
	return out
}

// shownFields are the readings.
func shownFields() []Field {
	var out []Field
	one := func(name, what string, k Kind, get func(Result) float64) {
		out = append(out, Field{Name: name, What: what, Of: Instruments, Kind: k, get: get})
	}
	for i := range Places {
		at := strconv.Itoa(i * 360 / Places)
		one("dial_backlash_at_"+at, "backlash at "+at+" degrees by the dial indicator", Length, func(r Result) float64 { return r.Shown.DialBacklashMM[i] })
	}
	one("dial_backlash_mean", "mean of the four", Length, func(r Result) float64 { return r.Shown.DialBacklashMeanMM })
	one("dial_runout", "ring gear runout by the dial indicator", Length, func(r Result) float64 { return r.Shown.DialRunoutMM })
	one("dial_pinion_end_play", "pinion end play by the dial indicator", Length, func(r Result) float64 { return r.Shown.DialPinionEndPlayMM })
	one("dial_case_end_play", "end play of the case by the dial indicator", Length, func(r Result) float64 { return r.Shown.DialCaseEndPlayMM })
	one("dial_housing_spread", "housing spread by the dial indicator", Length, func(r Result) float64 { return r.Shown.DialSpreadMM })
	one("depth_gauge", "checking distance: pinion face to ring gear centerline", Length, func(r Result) float64 { return r.Shown.DepthGaugeMM })
	one("feeler_inner_cup_gap", "gap under the inner pinion bearing cup by the feeler", Length, func(r Result) float64 { return r.Shown.FeelerInnerCupGapMM })
	one("feeler_outer_cup_gap", "gap under the outer pinion bearing cup by the feeler", Length, func(r Result) float64 { return r.Shown.FeelerOuterCupGapMM })
	one("caliper_spacer_length", "length of the spacer taken out again", Length, func(r Result) float64 { return r.Shown.CaliperSpacerMM })
	out[len(out)-1].Only = Collapsible
	one("micrometer_preload_shims", "preload shims on a solid spacer by the micrometer", Length, func(r Result) float64 { return r.Shown.MicrometerPreloadShimMM })
	out[len(out)-1].Only = Solid
	one("nut_wrench", "torque at the nut by its wrench", Fastener, func(r Result) float64 { return r.Shown.NutWrenchNmm })
	one("low_range_wrench_pinion_torque", "pinion rotating torque, seal in, by the low-range wrench", Rotating, func(r Result) float64 { return r.Shown.WrenchPinionTorqueNmm })
	one("low_range_wrench_total_torque", "total rotating torque by the low-range wrench", Rotating, func(r Result) float64 { return r.Shown.WrenchTotalTorqueNmm })
	one("string_and_scale_pinion_torque", "pinion rotating torque, seal in, by string and spring scale", Rotating, func(r Result) float64 { return r.Shown.StringPinionTorqueNmm })
	one("string_and_scale_total_torque", "total rotating torque by string and spring scale", Rotating, func(r Result) float64 { return r.Shown.StringTotalTorqueNmm })
	eye := func(name string, get func(Result) PrintPlace) {
		see := func(part func(PrintPlace) float64) func(Result) float64 {
			return func(r Result) float64 {
				if p := get(r); !p.None {
					return part(p)
				}
				return math.NaN()
			}
		}
		one("eye_"+name+"_toe_to_heel", name+" pattern, center along the face width by eye", Share, see(func(p PrintPlace) float64 { return p.AlongShare }))
		one("eye_"+name+"_root_to_top", name+" pattern, center up the profile by eye", Share, see(func(p PrintPlace) float64 { return p.UpShare }))
		one("eye_"+name+"_length_share", name+" pattern, its length by eye", Share, see(func(p PrintPlace) float64 { return p.LengthShare }))
		one("eye_"+name+"_height_share", name+" pattern, its height by eye", Share, see(func(p PrintPlace) float64 { return p.HeightShare }))
	}
	eye("drive", func(r Result) PrintPlace { return r.Shown.EyeDrive })
	eye("coast", func(r Result) PrintPlace { return r.Shown.EyeCoast })
	return out
}

// A Group is one part of a record.
type Group struct {
	Name, What string
	Fields     []Field
}

func Groups() []Group {
	return []Group{
		{"set", "what was set", setFields()},
		{"true", "how it truly is", trueFields()},
		{"shown", "what instruments show of it; of a whole axle alone", shownFields()},
	}
}

// known leaves only what is known of a subject that is a part of an axle. What its
// spacer has nothing of stays, as nothing, so that axles have the same names.
func known(groups []Group, u Subject) []Group {
	var out []Group
	for _, g := range groups {
		g.Fields = slices.DeleteFunc(g.Fields, func(f Field) bool { return f.Of&^u.Of != 0 })
		for i, f := range g.Fields {
			if f.Only != AnySpacer && f.Only != u.Spacer {
				g.Fields[i].get = func(Result) float64 { return math.NaN() }
			}
		}
		if len(g.Fields) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// A Figure is one value of a field in one unit, as text that JSON takes.
type Figure struct{ Key, Value string }

// Figures writes a field in SI and in inch units. Lengths are kept to the
// nanometre and other figures to as many places as mean anything.
func (f Field) Figures(r Result) []Figure {
	if f.Kind == Word {
		return []Figure{{f.Name, strconv.Quote(f.text(r))}}
	}
	v := f.get(r)
	in := func(suffix string, x float64, decimals int) Figure {
		if math.IsNaN(x) {
			return Figure{f.Name + suffix, "null"}
		}
		p := math.Pow10(decimals)
		if x = math.Round(x*p) / p; x == 0 {
			x = 0 // no negative zero
		}
		return Figure{f.Name + suffix, strconv.FormatFloat(x, 'f', -1, 64)}
	}
	switch f.Kind {
	case Length, Signed:
		return []Figure{in("_mm", v, 6), in("_in", quantity.Millimetres(v).Inches(), 7)}
	case Rotating:
		return []Figure{in("_Nm", quantity.Torque(v).NewtonMetres(), 6), in("_lbin", quantity.Torque(v).InchPounds(), 5)}
	case Fastener:
		return []Figure{in("_Nm", quantity.Torque(v).NewtonMetres(), 4), in("_lbft", quantity.Torque(v).FootPounds(), 4)}
	case Force:
		return []Figure{in("_N", v, 2), in("_lbf", quantity.Force(v).PoundsForce(), 3)}
	case Stiffness:
		return []Figure{in("_N_per_mm", v, 1), in("_lbf_per_thou", quantity.Force(v).PoundsForce()*quantity.Thou(1).MM(), 3)}
	case Micro:
		return []Figure{in("_urad", v, 3)}
	case Turned:
		return []Figure{in("_deg", v, 4)}
	case Tilt:
		return []Figure{in("_rad", v, 8), in("_deg", v/radPerDeg, 6)}
	case Warmth:
		return []Figure{in("_C", v, 4), in("_F", v*fahrenheitPerK, 4)}
	case YesNo:
		if math.IsNaN(v) {
			return []Figure{in("", v, 0)}
		}
		return []Figure{{f.Name, strconv.FormatBool(v != 0)}}
	}
	return []Figure{in("", v, 5)} // shares and percentages
}
