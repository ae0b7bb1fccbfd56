package cost

import (
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/datasheet"
	"shimwright/sim/fault"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// A row is one line of the file: its key, what it prices in plain words, its limits, and
// where it stands in a table.
type row struct {
	key, words string
	unit       []datasheet.Unit
	span       datasheet.Span
	get        func(Table) float64
	set        func(*Table, float64)
}

// A group is some rows under a name.
type group struct {
	key, words string
	rows       []row
}

// The units of a figure.
func minutes() []datasheet.Unit   { return datasheet.Only("_min", "minutes") }
func halfSpecs() []datasheet.Unit { return datasheet.Only("_half_windows", "half windows") }

func field(key, words string, unit []datasheet.Unit, span datasheet.Span, at func(*Table) *float64) row {
	return row{key, words, unit, span,
		func(t Table) float64 { return *at(&t) }, func(t *Table, x float64) { *at(t) = x }}
}

func inMinutes(key, words string, least, most float64, at func(*Table) *float64) row {
	return field(key, words, minutes(), datasheet.Between(least, most), at)
}

func risk(key, words string, at func(*Table) *float64) row {
	return field(key, words, datasheet.Plain(), datasheet.Between(0, 1), at)
}

// Limits in minutes. An act of no minutes would be done for ever, so acts that take time
// here take at least a quarter.
const (
	leastAct, mostAct = 0.25, 600
	mostLate          = 10_000
)

// acts makes a group of what acts take.
func acts(key, words string, forms ...act.Form) group {
	g := group{key: key, words: words}
	for _, f := range forms {
		g.rows = append(g.rows, row{actKey(f), f.Usage().Help.Code(), minutes(), datasheet.Between(leastAct, mostAct),
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
		{"marks", "From minutes to marks.", []row{
			inMinutes("allowance", "a choice this near the best one counts as good as the best", 0, 60, func(t *Table) *float64 { return &t.AllowanceMin }),
			inMinutes("fade", "lost beyond the allowance, it leaves an area 37 of its 100 points", 1, 1000, func(t *Table) *float64 { return &t.FadeMin }),
		}},
		{"comebacks", "An axle that goes out wrong, and what the chances are that it comes back.", []row{
			inMinutes("comeback", "an axle that comes back: strip, find, rebuild, and the customer", 0, mostLate, func(t *Table) *float64 { return &t.ComebackMin }),
			inMinutes("side_comeback", "one that comes back for its side preload alone", 0, mostLate, func(t *Table) *float64 { return &t.SideComebackMin }),
			inMinutes("runout_comeback", "one that goes out with a ring gear that swings", 0, mostLate, func(t *Table) *float64 { return &t.RunoutComebackMin }),
			risk("loose_clamp_risk", "chance that a nut loosened, or a spacer used before, brings it back", func(t *Table) *float64 { return &t.LooseClampRisk }),
			risk("loose_caps_risk", "chance that cap bolts left snug bring it back", func(t *Table) *float64 { return &t.LooseCapsRisk }),
			field("even_odds", "this far from the middle of a window every other axle comes back", halfSpecs(), datasheet.Between(0.5, 5), func(t *Table) *float64 { return &t.EvenOddsHalfSpecs }),
			field("edge", "how sharply chances rise there: smaller is sharper", halfSpecs(), datasheet.Between(0.02, 2), func(t *Table) *float64 { return &t.EdgeHalfSpecs }),
			inMinutes("runout_late", "a ring gear that swings, found when the backlash will not settle, or later", 0, mostLate, func(t *Table) *float64 { return &t.RunoutLateMin }),
		}},
		{"damage", "What work breaks.", []row{
			inMinutes("stripped_nut", "a nut on a solid spacer pulled past its torque", 0, mostLate, func(t *Table) *float64 { return &t.StrippedNutMin }),
			inMinutes("backed_off_nut", "a nut loosened on a crushed spacer: what it hides, beside the new spacer", 0, mostLate, func(t *Table) *float64 { return &t.BackedOffNutMin }),
			inMinutes("spread_too_far", "a housing opened past its limit, and wider from then on", 0, mostLate, func(t *Table) *float64 { return &t.SpreadTooFarMin }),
		}},
		partRows(),
		acts("looks", "Looking.", act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectCones, act.InspectCaps, act.InspectSeal,
			act.InspectShimSeat, act.InspectGears, act.InspectBolts, act.InspectShafts, act.TestIndicator, act.TestString, act.TestGauge),
		measuring(),
		acts("bench", "Nothing has to come apart for these.", act.TurnPinion, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut,
			act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps, act.LoosenCaps, act.SpreadHousing, act.RemoveShafts),
		caseOut(),
		pinionOut(),
		lateRows(),
	}
}

func partRows() group {
	g := group{key: "parts", words: "Parts, as the work they would pay for."}
	for _, p := range shop.Parts() {
		g.rows = append(g.rows, row{wordKey(string(p)), string(p), minutes(), datasheet.Between(0, mostLate),
			func(t Table) float64 { return t.parts[p] }, func(t *Table, x float64) { t.parts[p] = x }})
	}
	return g
}

func measuring() group {
	g := acts("readings", "Measuring.", act.MeasureBearings, act.MeasureDepthShim, act.MeasureSideShims, act.MeasureCaseRunout, act.MeasurePinionRunout,
		act.MeasureDepth, act.MeasurePinionEndPlay, act.MeasureTorque, act.MeasureEndPlay, act.MeasureSpread, act.MeasureRunout, act.MeasureRadialRunout,
		act.MountIndicator, act.MeasureBacklash, act.PaintTeeth, act.RollGears)
	g.rows = append(g.rows, inMinutes("backlash_place", "each place of a backlash reading, on top", 0, mostAct, func(t *Table) *float64 { return &t.PlaceMin }))
	return g
}

func caseOut() group {
	g := acts("case_out", "With the case out, or to get there.", act.RemoveCase, act.FitCase, act.FitSideShims, act.SeatCones, act.MatchCaps, act.CleanRingGear, act.ReplaceCase)
	g.rows = append(g.rows,
		inMinutes("inside_side_shims", "side shims behind the cones, on top: cones off and on", 0, mostAct, func(t *Table) *float64 { return &t.InsideShimsMin }),
		inMinutes("spreader", "case out of a housing that takes a spreader, on top", 0, mostAct, func(t *Table) *float64 { return &t.SpreaderMin }))
	return g
}

func pinionOut() group {
	g := acts("pinion_out", "With the pinion out, or to get there.", act.RemovePinion, act.FitPinion, act.FitDepthShim, act.FitPreloadShims, act.WashBearings,
		act.GreaseBearings, act.ReplaceBearings, act.CleanShimSeat, act.SeatCups, act.ReplaceGears, act.ReplaceSlinger, act.ReplaceSeal, act.ReplaceSpacer)
	g.rows = append(g.rows,
		inMinutes("shim_behind_cup", "a depth shim behind the head cup, on top: cup out and in", 0, mostAct, func(t *Table) *float64 { return &t.CupShimMin }),
		inMinutes("shim_under_cage", "a depth shim under the pinion cage, on top: cage bolts", 0, mostAct, func(t *Table) *float64 { return &t.CageShimMin }))
	return g
}

func lateRows() group {
	g := group{key: "found_late", words: "Faults that were there from the start, found late or by the customer, on average."}
	for _, f := range fault.All() {
		id := f.ID
		g.rows = append(g.rows, row{wordKey(string(id)), text.Printer{}.Print(f.Name), minutes(), datasheet.Between(0, mostLate),
			func(t Table) float64 { return t.late[id] }, func(t *Table, x float64) { t.late[id] = x }})
	}
	return g
}
