package view

import (
	"fmt"
	"strings"

	"shimwright/sim/explore"
	"shimwright/sim/mesh"
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
			return "none"
		}
		return fmt.Sprintf("%.2f, %.2f", one, other)
	}
	rows := []exploreRow{{"GEARS", "", "", ""},
		{"pinion out of its place", a(explore.Signed, r.Pinion.PinionOutMM), a(explore.Length, w.DepthGaugeMM), "depth gauge"},
		{"ring gear away", a(explore.Signed, r.Sides.RingAwayMM), "", ""},
		{"backlash, mean of four", a(explore.Length, g.BacklashMeanMM), a(explore.Length, w.DialBacklashMeanMM), "dial"}}
	if g.RunoutTIRMM > 0 {
		for i, v := range g.BacklashAtMM {
			rows = append(rows, exploreRow{fmt.Sprintf("backlash at %d degrees", i*360/explore.Places), a(explore.Length, v), a(explore.Length, w.DialBacklashMM[i]), "dial"})
		}
	}
	rows = append(rows,
		exploreRow{"backlash, least", a(explore.Length, g.BacklashMinMM), "", ""},
		exploreRow{"backlash, most", a(explore.Length, g.BacklashMaxMM), "", ""})
	if g.RunoutTIRMM > 0 {
		rows = append(rows, exploreRow{"ring gear runout", a(explore.Length, g.RunoutTIRMM), a(explore.Length, w.DialRunoutMM), "dial"})
	}
	for _, f := range []struct {
		name string
		is   mesh.Pattern
		eye  explore.PrintPlace
	}{{"drive", g.Drive, w.EyeDrive}, {"coast", g.Coast, w.EyeCoast}} {
		rows = append(rows,
			exploreRow{f.name + " pattern, along, up", pair(f.is.CenterS, f.is.CenterT, f.is.Empty), pair(f.eye.AlongShare, f.eye.UpShare, f.eye.None), "eye"},
			exploreRow{f.name + " pattern, length, height", pair(f.is.MaxS-f.is.MinS, f.is.MaxT-f.is.MinT, f.is.Empty), pair(f.eye.LengthShare, f.eye.HeightShare, f.eye.None), "eye"})
	}
	return append(rows, exploreRow{"pattern area, drive, coast", pair(g.Drive.AreaShare, g.Coast.AreaShare, false), "", ""})
}

func (x Exhibit) pinionRows(r explore.Result) []exploreRow {
	p, w := r.Pinion, r.Shown
	a := x.amount
	from := "nut from finger tight"
	if x.Spacer == explore.Solid {
		from = "nut from the shims closed"
	}
	rows := []exploreRow{{"PINION", "", "", ""},
		{from, a(explore.Turned, p.NutDeg), "", ""},
		{"nut torque", a(explore.Fastener, p.NutTorqueNmm), a(explore.Fastener, w.NutWrenchNmm), "nut wrench"},
		{"pull in the pinion shaft", a(explore.Force, p.StemN), "", ""},
		{"load on the spacer", a(explore.Force, p.SpacerN), "", ""},
		{"bearing preload", a(explore.Force, p.PreloadN), "", ""}}
	switch x.Spacer {
	case explore.Collapsible:
		rows = append(rows, exploreRow{"spacer crush", a(explore.Length, p.SpacerSetMM), a(explore.Length, w.CaliperSpacerMM), "caliper, length"})
	case explore.Solid:
		rows = append(rows, exploreRow{"preload shims", a(explore.Length, p.PreloadShimMM), a(explore.Length, w.MicrometerPreloadShimMM), "micrometer"})
	}
	rows = append(rows,
		exploreRow{"pinion end play", a(explore.Length, p.EndPlayMM), a(explore.Length, w.DialPinionEndPlayMM), "dial"},
		exploreRow{"rotating torque, no seal", a(explore.Rotating, p.PinionBearingTorqueNmm), "", ""})
	if p.PinionSwingNmm > 0 {
		rows = append(rows, exploreRow{"it comes and goes by", a(explore.Rotating, p.PinionSwingNmm), "", ""})
	}
	rows = append(rows,
		exploreRow{"rotating torque, seal in", a(explore.Rotating, p.PinionTorqueNmm), a(explore.Rotating, w.WrenchPinionTorqueNmm), "low-range wrench"},
		exploreRow{"", "", a(explore.Rotating, w.StringPinionTorqueNmm), "string and scale"})
	if r.Settings.InnerCupGapMM > 0 {
		rows = append(rows, exploreRow{"gap under inner cup", a(explore.Length, p.InnerCupGapMM), a(explore.Length, w.FeelerInnerCupGapMM), "feeler"})
	}
	if r.Settings.OuterCupGapMM > 0 {
		rows = append(rows, exploreRow{"gap under outer cup", a(explore.Length, p.OuterCupGapMM), a(explore.Length, w.FeelerOuterCupGapMM), "feeler"})
	}
	return rows
}

func (x Exhibit) sideRows(r explore.Result) []exploreRow {
	s, w := r.Sides, r.Shown
	a := x.amount
	rows := []exploreRow{
		{"SIDE BEARINGS", "", "", ""},
		{"side bearing preload", a(explore.Force, s.SidePreloadN), "", ""},
		{"case end play", a(explore.Length, s.CaseEndPlayMM), a(explore.Length, w.DialCaseEndPlayMM), "dial"},
		{"housing spread", a(explore.Length, s.SpreadMM), a(explore.Length, w.DialSpreadMM), "dial"},
		{"case toward pinion", a(explore.Signed, s.ShiftToPinionMM), "", ""},
		{"rise over pinion", a(explore.Rotating, s.SideRiseNmm), "", ""},
	}
	if s.SideSwingNmm > 0 {
		rows = append(rows, exploreRow{"it comes and goes by", a(explore.Rotating, s.SideSwingNmm), "", ""})
	}
	return append(rows,
		exploreRow{"total rotating torque", a(explore.Rotating, s.TotalTorqueNmm), a(explore.Rotating, w.WrenchTotalTorqueNmm), "low-range wrench"},
		exploreRow{"", "", a(explore.Rotating, w.StringTotalTorqueNmm), "string and scale"})
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
	cell := func(text string, n int) string { return text + strings.Repeat(" ", max(n-len([]rune(text)), 0)+2) }
	if fits && x.IsWhole() {
		b.WriteString(x.Pen.Quiet(strings.TrimRight(cell("", wide[0])+cell("true", wide[1])+cell("shown", wide[2])+"by", " ")) + "\n")
	}
	for _, t := range rows {
		switch {
		case t.is == "" && t.shows == "":
			b.WriteString(x.Pen.Strong(t.name) + "\n")
		case fits:
			b.WriteString(strings.TrimRight(cell(t.name, wide[0])+cell(t.is, wide[1])+cell(t.shows, wide[2])+t.with, " ") + "\n")
		default:
			var text []string
			switch {
			case !x.IsWhole():
				text = append(text, t.is)
			case t.is != "":
				text = append(text, "true "+t.is)
			}
			if t.shows != "" {
				text = append(text, t.with+" "+t.shows)
			}
			name := t.name
			if name != "" {
				name += ": "
			}
			b.WriteString(Hang(name+strings.Join(text, "; "), x.Pen.Width, "  ", "      "))
		}
	}
	return b.String()
}
