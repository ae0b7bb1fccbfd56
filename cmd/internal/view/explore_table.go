package view

import (
	"fmt"
	"strings"

	"shimwright/sim/explore"
	"shimwright/sim/mesh"

	"shimwright/sim/text"
)

// A line of the table: what it is, how it truly is, what an instrument shows.
type exploreRow struct{ name, is, shows, with string }

// rows lists what the table shows of the parts there are. A case has no instruments.
func (x Exhibit) rows(r explore.Result) []exploreRow {
	var rows []exploreRow
	if x.Of&explore.Teeth != 0 {
		rows = append(rows, x.gearRows(r)...)
	}
	if x.Of&explore.Mechanics != 0 {
		rows = append(rows, x.pinionRows(r)...)
		rows = append(rows, x.sideRows(r)...)
	}
	if x.IsWhole() {
		return rows
	}
	var alone []exploreRow
	for _, t := range rows {
		if t.name != "" {
			alone = append(alone, exploreRow{name: t.name, is: t.is})
		}
	}
	return alone
}

func (x Exhibit) gearRows(r explore.Result) []exploreRow {
	g, w := r.Gears, r.Shown
	a := x.amount
	pair := func(one, other float64, none bool) string {
		if none {
			return x.Pen.Print(text.Say("view.explore-table.none", "none"))
		}
		return fmt.Sprintf("%.2f, %.2f", one, other)
	}
	rows := []exploreRow{{x.Pen.Print(text.Say("view.explore-table.gears", "GEARS")), "", "", ""},
		{x.Pen.Print(text.Say("view.explore-table.pinion-out-place", "pinion out of its place")), a(explore.Signed, r.Pinion.PinionOutMM), a(explore.Length, w.DepthGaugeMM), x.Pen.Print(text.Say("view.explore-table.depth-gauge", "depth gauge"))},
		{x.Pen.Print(text.Say("view.explore-table.ring-gear-away", "ring gear away")), a(explore.Signed, r.Sides.RingAwayMM), "", ""},
		{x.Pen.Print(text.Say("view.explore-table.backlash-mean-four", "backlash, mean of four")), a(explore.Length, g.BacklashMeanMM), a(explore.Length, w.DialBacklashMeanMM), x.Pen.Print(text.Say("view.explore-table.dial", "dial"))}}
	if g.RunoutTIRMM > 0 {
		for i, v := range g.BacklashAtMM {
			rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.backlash-degrees", "backlash at {places} degrees", text.Count("places", i*360/explore.Places))), a(explore.Length, v), a(explore.Length, w.DialBacklashMM[i]), x.Pen.Print(text.Say("view.explore-table.dial", "dial"))})
		}
	}
	rows = append(rows,
		exploreRow{x.Pen.Print(text.Say("view.explore-table.backlash-least", "backlash, least")), a(explore.Length, g.BacklashMinMM), "", ""},
		exploreRow{x.Pen.Print(text.Say("view.explore-table.backlash-most", "backlash, most")), a(explore.Length, g.BacklashMaxMM), "", ""})
	if g.RunoutTIRMM > 0 {
		rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.ring-gear-runout", "ring gear runout")), a(explore.Length, g.RunoutTIRMM), a(explore.Length, w.DialRunoutMM), x.Pen.Print(text.Say("view.explore-table.dial", "dial"))})
	}
	for _, f := range []struct {
		name string
		is   mesh.Pattern
		eye  explore.PrintPlace
	}{{x.Pen.Print(text.Say("view.explore-table.drive", "drive")), g.Drive, w.EyeDrive}, {x.Pen.Print(text.Say("view.explore-table.coast", "coast")), g.Coast, w.EyeCoast}} {
		rows = append(rows,
			exploreRow{x.Pen.Print(text.Say("view.explore-table.pattern-along-up", "{name} pattern, along, up", text.Typed("name", f.name))), pair(f.is.CenterS, f.is.CenterT, f.is.Empty), pair(f.eye.AlongShare, f.eye.UpShare, f.eye.None), x.Pen.Print(text.Say("view.explore-table.eye", "eye"))},
			exploreRow{x.Pen.Print(text.Say("view.explore-table.pattern-length-height", "{name} pattern, length, height", text.Typed("name", f.name))), pair(f.is.MaxS-f.is.MinS, f.is.MaxT-f.is.MinT, f.is.Empty), pair(f.eye.LengthShare, f.eye.HeightShare, f.eye.None), x.Pen.Print(text.Say("view.explore-table.eye", "eye"))})
	}
	return append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.pattern-area-drive-coast", "pattern area, drive, coast")), pair(g.Drive.AreaShare, g.Coast.AreaShare, false), "", ""})
}

func (x Exhibit) pinionRows(r explore.Result) []exploreRow {
	p, w := r.Pinion, r.Shown
	a := x.amount
	from := x.Pen.Print(text.Say("view.explore-table.nut-from-finger-tight", "nut from finger tight"))
	if x.Spacer == explore.Solid {
		from = x.Pen.Print(text.Say("view.explore-table.nut-from-shims-closed", "nut from the shims closed"))
	}
	rows := []exploreRow{{x.Pen.Print(text.Say("view.explore-table.pinion", "PINION")), "", "", ""},
		{from, a(explore.Turned, p.NutDeg), "", ""},
		{x.Pen.Print(text.Say("view.explore-table.nut-torque", "nut torque")), a(explore.Fastener, p.NutTorqueNmm), a(explore.Fastener, w.NutWrenchNmm), x.Pen.Print(text.Say("view.explore-table.nut-wrench", "nut wrench"))},
		{x.Pen.Print(text.Say("view.explore-table.pull-pinion-shaft", "pull in the pinion shaft")), a(explore.Force, p.StemN), "", ""},
		{x.Pen.Print(text.Say("view.explore-table.load-spacer", "load on the spacer")), a(explore.Force, p.SpacerN), "", ""},
		{x.Pen.Print(text.Say("view.explore-table.bearing-preload", "bearing preload")), a(explore.Force, p.PreloadN), "", ""}}
	switch x.Spacer {
	case explore.Collapsible:
		rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.spacer-crush", "spacer crush")), a(explore.Length, p.SpacerSetMM), a(explore.Length, w.CaliperSpacerMM), x.Pen.Print(text.Say("view.explore-table.caliper-length", "caliper, length"))})
	case explore.Solid:
		rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.preload-shims", "preload shims")), a(explore.Length, p.PreloadShimMM), a(explore.Length, w.MicrometerPreloadShimMM), x.Pen.Print(text.Say("view.explore-table.micrometer", "micrometer"))})
	}
	rows = append(rows,
		exploreRow{x.Pen.Print(text.Say("view.explore-table.pinion-end-play", "pinion end play")), a(explore.Length, p.EndPlayMM), a(explore.Length, w.DialPinionEndPlayMM), x.Pen.Print(text.Say("view.explore-table.dial", "dial"))},
		exploreRow{x.Pen.Print(text.Say("view.explore-table.rotating-torque-no-seal", "rotating torque, no seal")), a(explore.Rotating, p.PinionBearingTorqueNmm), "", ""})
	if p.PinionSwingNmm > 0 {
		rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.comes-goes-by", "it comes and goes by")), a(explore.Rotating, p.PinionSwingNmm), "", ""})
	}
	rows = append(rows,
		exploreRow{x.Pen.Print(text.Say("view.explore-table.rotating-torque-seal", "rotating torque, seal in")), a(explore.Rotating, p.PinionTorqueNmm), a(explore.Rotating, w.WrenchPinionTorqueNmm), x.Pen.Print(text.Say("view.explore-table.low-range-wrench", "low-range wrench"))},
		exploreRow{"", "", a(explore.Rotating, w.StringPinionTorqueNmm), x.Pen.Print(text.Say("view.explore-table.string-scale", "string and scale"))})
	if r.Settings.InnerCupGapMM > 0 {
		rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.gap-under-inner-cup", "gap under inner cup")), a(explore.Length, p.InnerCupGapMM), a(explore.Length, w.FeelerInnerCupGapMM), x.Pen.Print(text.Say("view.explore-table.feeler", "feeler"))})
	}
	if r.Settings.OuterCupGapMM > 0 {
		rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.gap-under-outer-cup", "gap under outer cup")), a(explore.Length, p.OuterCupGapMM), a(explore.Length, w.FeelerOuterCupGapMM), x.Pen.Print(text.Say("view.explore-table.feeler", "feeler"))})
	}
	return rows
}

func (x Exhibit) sideRows(r explore.Result) []exploreRow {
	s, w := r.Sides, r.Shown
	a := x.amount
	rows := []exploreRow{
		{x.Pen.Print(text.Say("view.explore-table.side-bearings", "SIDE BEARINGS")), "", "", ""},
		{x.Pen.Print(text.Say("view.explore-table.side-bearing-preload", "side bearing preload")), a(explore.Force, s.SidePreloadN), "", ""},
		{x.Pen.Print(text.Say("view.explore-table.case-end-play", "case end play")), a(explore.Length, s.CaseEndPlayMM), a(explore.Length, w.DialCaseEndPlayMM), x.Pen.Print(text.Say("view.explore-table.dial", "dial"))},
		{x.Pen.Print(text.Say("view.explore-table.housing-spread", "housing spread")), a(explore.Length, s.SpreadMM), a(explore.Length, w.DialSpreadMM), x.Pen.Print(text.Say("view.explore-table.dial", "dial"))},
		{x.Pen.Print(text.Say("view.explore-table.case-toward-pinion", "case toward pinion")), a(explore.Signed, s.ShiftToPinionMM), "", ""},
		{x.Pen.Print(text.Say("view.explore-table.rise-over-pinion", "rise over pinion")), a(explore.Rotating, s.SideRiseNmm), "", ""},
	}
	if s.SideSwingNmm > 0 {
		rows = append(rows, exploreRow{x.Pen.Print(text.Say("view.explore-table.comes-goes-by", "it comes and goes by")), a(explore.Rotating, s.SideSwingNmm), "", ""})
	}
	return append(rows,
		exploreRow{x.Pen.Print(text.Say("view.explore-table.total-rotating-torque", "total rotating torque")), a(explore.Rotating, s.TotalTorqueNmm), a(explore.Rotating, w.WrenchTotalTorqueNmm), x.Pen.Print(text.Say("view.explore-table.low-range-wrench", "low-range wrench"))},
		exploreRow{"", "", a(explore.Rotating, w.StringTotalTorqueNmm), x.Pen.Print(text.Say("view.explore-table.string-scale", "string and scale"))})
}

// table writes the rows side by side, or one under the other on a narrow page.
func (x Exhibit) table(r explore.Result) string {
	rows := x.rows(r)
	wide := [4]int{}
	for _, t := range rows {
		for i, c := range [4]string{t.name, t.is, t.shows, t.with} {
			wide[i] = max(wide[i], len([]rune(c)))
		}
	}
	fits := wide[0]+wide[1]+wide[2]+wide[3]+6 <= x.Pen.Width
	var b strings.Builder
	cell := func(prose string, n int) string { return prose + strings.Repeat(" ", max(n-len([]rune(prose)), 0)+2) }
	if fits && x.IsWhole() {
		b.WriteString(x.Pen.Quiet(strings.TrimRight(cell("", wide[0])+cell(x.Pen.Print(text.Say("view.explore-table.true", "true")), wide[1])+cell(x.Pen.Print(text.Say("view.explore-table.shown", "shown")), wide[2])+"by", " ")) + "\n")
	}
	for _, t := range rows {
		switch {
		case t.is == "" && t.shows == "":
			b.WriteString(x.Pen.Strong(t.name) + "\n")
		case fits:
			b.WriteString(strings.TrimRight(cell(t.name, wide[0])+cell(t.is, wide[1])+cell(t.shows, wide[2])+t.with, " ") + "\n")
		default:
			var prose []string
			switch {
			case !x.IsWhole():
				prose = append(prose, t.is)
			case t.is != "":
				prose = append(prose, x.Pen.Print(text.Say("view.explore-table.true-2", "true {is}", text.Typed("is", t.is))))
			}
			if t.shows != "" {
				prose = append(prose, t.with+" "+t.shows)
			}
			name := t.name
			if name != "" {
				name += ": "
			}
			b.WriteString(Hang(name+strings.Join(prose, "; "), x.Pen.Width, "  ", "      "))
		}
	}
	return b.String()
}
