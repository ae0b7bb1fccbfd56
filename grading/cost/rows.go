package cost

import (
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/datasheet"
	"shimwright/sim/fault"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// A row is one line of the file: its key, what it prices, its limits, and where it stands
// in a table.
type row struct {
	key  string
	what text.Message
	unit []datasheet.Unit
	span datasheet.Span
	get  func(Table) float64
	set  func(*Table, float64)
}

// A group is some rows under a name.
type group struct {
	key  string
	what text.Message
	rows []row
}

// The units of a figure.
func minutes() []datasheet.Unit {
	return datasheet.Only("_min", text.Say("costs.unit.minutes", "minutes"))
}

func field(key string, what text.Message, unit []datasheet.Unit, span datasheet.Span, at func(*Table) *float64) row {
	return row{key, what, unit, span,
		func(t Table) float64 { return *at(&t) }, func(t *Table, x float64) { *at(t) = x }}
}

func inMinutes(key string, what text.Message, least, most float64, at func(*Table) *float64) row {
	return field(key, what, minutes(), datasheet.Between(least, most), at)
}

func risk(key string, what text.Message, at func(*Table) *float64) row {
	return field(key, what, datasheet.Plain(), datasheet.Between(0, 1), at)
}

// Limits in minutes. An act of no minutes would be done for ever, so acts that take time
// here take at least a quarter.
const (
	leastAct, mostAct = 0.25, 600
	mostLate          = 10_000
)

// acts makes a group of what acts take.
func acts(key string, what text.Message, forms ...act.Form) group {
	g := group{key: key, what: what}
	for _, f := range forms {
		what := text.Say("costs.row.act", "{act} ({basis})", text.Of("act", f.Usage().Help), text.Of("basis", shop.Basis(f)))
		g.rows = append(g.rows, row{actKey(f), what, minutes(), datasheet.Between(leastAct, mostAct),
			func(t Table) float64 { return t.acts[f] }, func(t *Table, x float64) { t.acts[f] = x }})
	}
	return g
}

// actKey is the key of an act: its words up to what has to be filled in.
func actKey(f act.Form) string {
	const plain = 2 // verb and object
	words := strings.Fields(f.String())
	n := min(plain, len(words))
	if f == act.TightenNutTorque {
		n++ // tighten nut to
	}
	return strings.ReplaceAll(strings.Join(words[:n], "_"), "-", "_")
}

func wordKey(words string) string {
	return strings.NewReplacer("-", "_", " ", "_").Replace(words)
}

// groups lists the file, top to bottom.
func groups() []group {
	return []group{
		{"scoring", text.Say("costs.scoring", "From minutes to points."), []row{
			inMinutes("allowance", text.Say("costs.row.allowance", "a choice within this of the best one counts as the best"), 0, 60, func(t *Table) *float64 { return &t.AllowanceMin }),
			inMinutes("fade", text.Say("costs.row.fade", "this much lost beyond the allowance leaves an area 37 of its 100 points"), 1, 1000, func(t *Table) *float64 { return &t.FadeMin }),
		}},
		{"comebacks", text.Say("costs.comebacks", "An axle that goes out wrong, and the chance that it comes back."), []row{
			inMinutes("comeback", text.Say("costs.row.comeback", "an axle that comes back: strip it, find the cause, rebuild it, and keep the customer"), 0, mostLate, func(t *Table) *float64 { return &t.ComebackMin }),
			inMinutes("side_comeback", text.Say("costs.row.side-comeback", "an axle that comes back for its side bearing preload alone"), 0, mostLate, func(t *Table) *float64 { return &t.SideComebackMin }),
			inMinutes("runout_comeback", text.Say("costs.row.runout-comeback", "an axle that goes out with too much ring gear runout"), 0, mostLate, func(t *Table) *float64 { return &t.RunoutComebackMin }),
			risk("loose_clamp_risk", text.Say("costs.row.loose-clamp-risk", "chance that a loosened nut or a used spacer brings the axle back"), func(t *Table) *float64 { return &t.LooseClampRisk }),
			risk("loose_caps_risk", text.Say("costs.row.loose-caps-risk", "chance that bearing cap bolts left snug bring the axle back"), func(t *Table) *float64 { return &t.LooseCapsRisk }),
		}},
		{"damage", text.Say("costs.damage", "Damage done at work."), []row{
			inMinutes("stripped_nut", text.Say("costs.row.stripped-nut", "a nut on a solid spacer tightened past its torque"), 0, mostLate, func(t *Table) *float64 { return &t.StrippedNutMin }),
			inMinutes("spread_too_far", text.Say("costs.row.spread-too-far", "a housing spread past its limit, which stays wider"), 0, mostLate, func(t *Table) *float64 { return &t.SpreadTooFarMin }),
		}},
		partRows(),
		acts("inspections", text.Say("costs.inspections", "Inspecting and testing."), act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectCones, act.InspectCaps, act.InspectSeal,
			act.InspectShimSeat, act.InspectGears, act.InspectBolts, act.InspectShafts, act.TestIndicator, act.TestString, act.TestGauge),
		measuring(),
		acts("assembled", text.Say("costs.assembled", "Work for which nothing has to come apart."), act.TurnPinion, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut,
			act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps, act.LoosenCaps, act.SpreadHousing, act.RemoveShafts),
		caseOut(),
		pinionOut(),
		lateRows(),
	}
}

func partRows() group {
	g := group{key: "parts", what: text.Say("costs.parts", "Parts, as the work that they would pay for.")}
	for _, p := range shop.Parts() {
		what := text.Say("costs.row.part", "{part} (estimate)", text.Of("part", p.Name()))
		g.rows = append(g.rows, row{wordKey(string(p)), what, minutes(), datasheet.Between(0, mostLate),
			func(t Table) float64 { return t.parts[p] }, func(t *Table, x float64) { t.parts[p] = x }})
	}
	return g
}

func measuring() group {
	g := acts("measuring", text.Say("costs.measuring", "Measuring."), act.MeasureBearings, act.MeasureDepthShim, act.MeasureSideShims, act.MeasureCaseRunout, act.MeasurePinionRunout,
		act.MeasureDepth, act.MeasurePinionEndPlay, act.MeasureTorque, act.MeasureEndPlay, act.MeasureSpread, act.MeasureRunout, act.MeasureRadialRunout,
		act.MountIndicator, act.MeasureBacklash, act.PaintTeeth, act.RollGears)
	g.rows = append(g.rows, inMinutes("backlash_place", text.Say("costs.row.backlash-place", "more for each place where backlash is read"), 0, mostAct, func(t *Table) *float64 { return &t.PlaceMin }))
	return g
}

func caseOut() group {
	g := acts("case_out", text.Say("costs.case-out", "Work with the differential case out, and taking it out."), act.RemoveCase, act.FitCase, act.FitSideShims, act.SeatCones, act.ReplaceSideBearings, act.MatchCaps, act.CleanRingGear, act.ReplaceCase)
	g.rows = append(g.rows,
		inMinutes("inside_side_shims", text.Say("costs.row.inside-side-shims", "more for side shims behind the cones: cones off and on"), 0, mostAct, func(t *Table) *float64 { return &t.InsideShimsMin }),
		inMinutes("spreader", text.Say("costs.row.spreader", "more to take the case out of a housing that needs a spreader"), 0, mostAct, func(t *Table) *float64 { return &t.SpreaderMin }))
	return g
}

func pinionOut() group {
	g := acts("pinion_out", text.Say("costs.pinion-out", "Work with the pinion out, and taking it out."), act.RemovePinion, act.FitPinion, act.FitDepthShim, act.FitPreloadShims, act.WashBearings,
		act.GreaseBearings, act.ReplaceBearings, act.CleanShimSeat, act.SeatCups, act.ReplaceGears, act.ReplaceSlinger, act.ReplaceSeal, act.ReplaceSpacer)
	g.rows = append(g.rows,
		inMinutes("shim_behind_cup", text.Say("costs.row.shim-behind-cup", "more for a depth shim behind the inner cup: cup out and in"), 0, mostAct, func(t *Table) *float64 { return &t.CupShimMin }),
		inMinutes("shim_under_cage", text.Say("costs.row.shim-under-cage", "more for a depth shim under the pinion cage: cage bolts"), 0, mostAct, func(t *Table) *float64 { return &t.CageShimMin }))
	return g
}

func lateRows() group {
	g := group{key: "found_late", what: text.Say("costs.found-late", "Faults that were there from the start, found late or by the customer, on average.")}
	for f := range fault.Each() {
		id := f.ID
		what := text.Say("costs.row.late", "{fault} (estimate; {back} of such axles assumed to come back)", text.Of("fault", f.Name), text.Percent("back", f.Late.Back))
		g.rows = append(g.rows, row{wordKey(string(id)), what, minutes(), datasheet.Between(0, mostLate),
			func(t Table) float64 { return t.late[id] }, func(t *Table, x float64) { t.late[id] = x }})
	}
	return g
}
