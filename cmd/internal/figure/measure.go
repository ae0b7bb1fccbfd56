package figure

import (
	"math"
	"slices"

	"shimwright/sim/explore"
	"shimwright/sim/mesh"
)

// A measure is one figure of a state, under the name that blocks use.
type measure struct {
	name, head string
	short      string // the head of a column
	kind       explore.Kind
	get        func(explore.Result) float64 // NaN: nothing to show
	spec       bool                         // held against the pinion torque spec
}

// measures lists what a curve or a table can show.
func measures() []measure {
	pinion := func(name, head, short string, kind explore.Kind, get func(explore.PinionState) float64) measure {
		return measure{name, head, short, kind, func(r explore.Result) float64 { return get(r.Pinion) }, name == "torque"}
	}
	sides := func(name, head, short string, kind explore.Kind, get func(explore.SideState) float64) measure {
		return measure{name, head, short, kind, func(r explore.Result) float64 { return get(r.Sides) }, false}
	}
	gears := func(name, head, short string, kind explore.Kind, get func(explore.GearState) float64) measure {
		return measure{name, head, short, kind, func(r explore.Result) float64 { return get(r.Gears) }, false}
	}
	up := func(name, head, short string, of func(explore.GearState) mesh.Pattern, get func(mesh.Pattern) float64) measure {
		return gears(name, head, short, explore.Share, func(g explore.GearState) float64 {
			if p := of(g); !p.Empty {
				return get(p)
			}
			return math.NaN()
		})
	}
	drive, coast := func(g explore.GearState) mesh.Pattern { return g.Drive }, func(g explore.GearState) mesh.Pattern { return g.Coast }
	height, length := func(p mesh.Pattern) float64 { return p.CenterT }, func(p mesh.Pattern) float64 { return p.CenterS }
	shown := func(name, head, short string, kind explore.Kind, get func(explore.Shown) float64) measure {
		return measure{name, head, short, kind, func(r explore.Result) float64 { return get(r.Shown) }, false}
	}
	return []measure{
		pinion("nut-torque", "Nut torque", "Nut torque", explore.Fastener, func(p explore.PinionState) float64 { return p.NutTorqueNmm }),
		pinion("torque", "Pinion rotating torque, no seal", "Rotating, no seal", explore.Rotating, func(p explore.PinionState) float64 { return p.PinionBearingTorqueNmm }),
		pinion("breakaway-torque", "Breakaway torque, no seal", "Breakaway, no seal", explore.Rotating, func(p explore.PinionState) float64 { return p.BreakawayTorqueNmm }),
		pinion("torque-with-seal", "Pinion rotating torque, seal in", "Rotating, seal in", explore.Rotating, func(p explore.PinionState) float64 { return p.PinionTorqueNmm }),
		pinion("pinion-preload", "Pinion bearing preload", "Pinion preload", explore.Force, func(p explore.PinionState) float64 { return p.PreloadN }),
		pinion("pinion-end-play", "Pinion end play", "End play", explore.Length, func(p explore.PinionState) float64 { return p.EndPlayMM }),
		pinion("preload-shims", "Preload shims", "Preload shims", explore.Length, func(p explore.PinionState) float64 { return p.PreloadShimMM }),
		sides("spread", "Housing spread", "Spread", explore.Length, func(s explore.SideState) float64 { return s.SpreadMM }),
		sides("case-end-play", "Case end play", "Case end play", explore.Length, func(s explore.SideState) float64 { return s.CaseEndPlayMM }),
		sides("side-preload", "Side bearing preload", "Side preload", explore.Force, func(s explore.SideState) float64 { return s.SidePreloadN }),
		sides("side-torque", "Side bearings and teeth, at the pinion", "Side bearings add", explore.Rotating, func(s explore.SideState) float64 { return s.SideRiseNmm }),
		sides("total-torque", "Total rotating torque", "Total", explore.Rotating, func(s explore.SideState) float64 { return s.TotalTorqueNmm }),
		gears("backlash", "Backlash", "Backlash", explore.Length, func(g explore.GearState) float64 { return g.BacklashMeanMM }),
		gears("backlash-0", "Backlash at 0 degrees", "At 0°", explore.Length, func(g explore.GearState) float64 { return g.BacklashAtMM[0] }),
		gears("backlash-90", "Backlash at 90 degrees", "At 90°", explore.Length, func(g explore.GearState) float64 { return g.BacklashAtMM[1] }),
		gears("backlash-180", "Backlash at 180 degrees", "At 180°", explore.Length, func(g explore.GearState) float64 { return g.BacklashAtMM[2] }),
		gears("backlash-270", "Backlash at 270 degrees", "At 270°", explore.Length, func(g explore.GearState) float64 { return g.BacklashAtMM[3] }),
		gears("variation", "Variation", "Variation", explore.Length, func(g explore.GearState) float64 {
			return slices.Max(g.BacklashAtMM[:]) - slices.Min(g.BacklashAtMM[:])
		}),
		up("drive-height", "Drive, up from the root", "Drive, up", drive, height),
		up("coast-height", "Coast, up from the root", "Coast, up", coast, height),
		up("drive-length", "Drive, along from the toe", "Drive, along", drive, length),
		up("coast-length", "Coast, along from the toe", "Coast, along", coast, length),
		shown("indicator", "The indicator shows", "Indicator shows", explore.Length, func(s explore.Shown) float64 { return s.DialBacklashMeanMM }),
		shown("depth-gauge", "The depth gauge shows", "Gauge shows", explore.Length, func(s explore.Shown) float64 { return s.DepthGaugeMM }),
		shown("wrench", "The wrench shows", "Wrench shows", explore.Rotating, func(s explore.Shown) float64 { return s.WrenchPinionTorqueNmm }),
		shown("string", "String and spring scale show", "String shows", explore.Rotating, func(s explore.Shown) float64 { return s.StringPinionTorqueNmm }),
	}
}

// Measures lists the names that a block can give after of.
func Measures() []string {
	var out []string
	for _, m := range measures() {
		out = append(out, m.name)
	}
	return out
}
