package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/view"
	"shimwright/sim/exhibit"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// singleText shows one setting: table, notes, print.
func (x *explore) singleText() (string, error) {
	r := x.results[0]
	if x.silent() && x.out == "" {
		return "", nil
	}
	if x.prints == nil {
		return x.head() + x.table(r) + "\n" + x.foot(), nil
	}
	prints, err := x.prints(r.Settings)
	if err != nil {
		return "", err
	}
	title := x.code + ", print on the ring gear"
	svg, _ := pictureKind(x.out)
	x.draw = func(w io.Writer) error {
		o := picture.Options{Title: title, Colour: true}
		if svg {
			return picture.SVG(w, prints, o)
		}
		return picture.PNG(w, prints, o)
	}
	if x.silent() {
		return "", nil
	}
	var b strings.Builder
	b.WriteString(x.head())
	b.WriteString(x.table(r))
	b.WriteString("\n")
	o := picture.Options{Columns: x.pen.Width, Colour: x.pen.Colour, Title: "Print on the ring gear"}
	if x.pen.Colour {
		b.WriteString(picture.Terminal(prints, o))
	} else {
		b.WriteString(picture.Plain(prints, o))
	}
	b.WriteString("\n")
	b.WriteString(x.foot())
	return b.String(), nil
}

// head says which axle this is and how it is set.
func (x *explore) head() string {
	return x.pen.Heading(x.name) + view.Wrap(x.describe(), x.pen.Width, "") + "\n"
}

// describe says in words what is set, leaving out what is swept.
func (x *explore) describe() string {
	s := x.results[0].Settings
	var parts []string
	add := func(name, text string) {
		of := mechanics
		if i := slices.IndexFunc(knobs, func(k knob) bool { return k.name == name }); i >= 0 {
			of = knobs[i].of
		}
		if x.of&of != 0 && (x.knob == nil || x.knob.name != name) {
			parts = append(parts, text)
		}
	}
	amount := func(k kind, v float64) string { return x.amount(k, v) }
	way := func(v float64, plus, minus string) string {
		if v < 0 {
			return amount(length, -v) + " " + minus
		}
		return amount(length, v) + " " + plus
	}
	if s.UsedBearings {
		add("used", "used bearings")
	} else {
		add("used", "new bearings")
	}
	if s.PinionOutMM == 0 {
		add("depth", "pinion at its place")
	} else {
		add("depth", "pinion "+way(s.PinionOutMM, "too far out", "too deep"))
	}
	if x.knob == nil || x.knob.name != "nut" && x.knob.name != "drag" {
		switch {
		case s.DragTargetNmm > 0:
			add("drag", "nut turned to "+amount(drag, s.DragTargetNmm)+" of pinion bearing drag")
		case s.NutDeg == 0:
			add("nut", "nut finger tight")
		default:
			add("nut", "nut turned "+amount(turned, s.NutDeg)+" from finger tight")
		}
	}
	switch {
	case s.SideFitMM < 0:
		add("interference", "side shims "+amount(length, -s.SideFitMM)+" loose")
	case s.SideFitMM == 0:
		add("interference", "side shims line-to-line")
	default:
		add("interference", "side shims "+amount(length, s.SideFitMM)+" tight")
	}
	if s.ShimToBackMM != 0 {
		add("shim-to-back", "shim moved "+way(s.ShimToBackMM, "to the back side", "to the tooth side"))
	}
	if s.RingAwayMM != 0 {
		add("ring", "ring gear a further "+way(s.RingAwayMM, "away from the pinion", "closer to the pinion"))
	}
	if s.OffsetMM != 0 {
		add("offset", "offset out by "+amount(signed, s.OffsetMM))
	}
	if s.ShaftAngleRad != 0 {
		add("shaft-angle", "shaft angle out by "+amount(tilt, s.ShaftAngleRad))
	}
	if s.HeadCupGapMM > 0 {
		add("head-cup-gap", "head cup off its shoulder by "+amount(length, s.HeadCupGapMM))
	}
	if s.TailCupGapMM > 0 {
		add("tail-cup-gap", "tail cup off its shoulder by "+amount(length, s.TailCupGapMM))
	}
	if s.RunoutTIRMM > 0 {
		add("runout", "ring gear runout "+amount(length, s.RunoutTIRMM))
	}
	if s.Greased {
		add("greased", "pinion bearings packed with grease")
	}
	if s.CapsSnug {
		add("caps-snug", "cap bolts only snug")
	}
	add("film", "compound film "+amount(length, s.FilmMM))
	return "Set: " + strings.Join(parts, "; ") + "."
}

// amount shows an amount in the chosen units, or in both.
func (x *explore) amount(k kind, v float64) string {
	text := showAmount(k, v, x.units)
	if x.both {
		if other := showAmount(k, v, quantity.Inch+quantity.Metric-x.units); other != text {
			text += " (" + other + ")"
		}
	}
	return text
}

// A line of the table: what it is, how it truly is, what an instrument shows.
type tableRow struct{ name, is, shows, with string }

// rows lists what the table shows of the parts there are. A case has no instruments.
func (x *explore) rows(r exhibit.Result) []tableRow {
	var rows []tableRow
	if x.of&teeth != 0 {
		rows = append(rows, x.gearRows(r)...)
	}
	if x.of&mechanics != 0 {
		rows = append(rows, x.pinionRows(r)...)
		rows = append(rows, x.sideRows(r)...)
	}
	if x.sheet != nil {
		return rows
	}
	var alone []tableRow
	for _, t := range rows {
		if t.name != "" {
			alone = append(alone, tableRow{name: t.name, is: t.is})
		}
	}
	return alone
}

func (x *explore) gearRows(r exhibit.Result) []tableRow {
	g, w := r.Gears, r.Shown
	a := x.amount
	pair := func(one, other float64, none bool) string {
		if none {
			return "none"
		}
		return fmt.Sprintf("%.2f, %.2f", one, other)
	}
	rows := []tableRow{{"GEARS", "", "", ""},
		{"pinion out of its place", a(signed, r.Pinion.PinionOutMM), a(length, w.DepthGaugeMM), "depth gauge"},
		{"ring gear away", a(signed, r.Sides.RingAwayMM), "", ""},
		{"backlash, mean of four", a(length, g.BacklashMeanMM), a(length, w.DialBacklashMeanMM), "dial"}}
	if g.RunoutTIRMM > 0 {
		for i, v := range g.BacklashAtMM {
			rows = append(rows, tableRow{fmt.Sprintf("backlash at %d degrees", i*360/exhibit.Places), a(length, v), a(length, w.DialBacklashMM[i]), "dial"})
		}
	}
	rows = append(rows,
		tableRow{"backlash, least", a(length, g.BacklashMinMM), "", ""},
		tableRow{"backlash, most", a(length, g.BacklashMaxMM), "", ""})
	if g.RunoutTIRMM > 0 {
		rows = append(rows, tableRow{"ring gear runout", a(length, g.RunoutTIRMM), a(length, w.DialRunoutMM), "dial"})
	}
	for _, f := range []struct {
		name string
		is   mesh.Pattern
		eye  exhibit.PrintPlace
	}{{"drive", g.Drive, w.EyeDrive}, {"coast", g.Coast, w.EyeCoast}} {
		rows = append(rows,
			tableRow{f.name + " print, along, up", pair(f.is.CentreS, f.is.CentreT, f.is.Empty), pair(f.eye.AlongShare, f.eye.UpShare, f.eye.None), "eye"},
			tableRow{f.name + " print, length, height", pair(f.is.MaxS-f.is.MinS, f.is.MaxT-f.is.MinT, f.is.Empty), "", ""})
	}
	return append(rows, tableRow{"print area, drive, coast", pair(g.Drive.AreaShare, g.Coast.AreaShare, false), "", ""})
}

func (x *explore) pinionRows(r exhibit.Result) []tableRow {
	p, w := r.Pinion, r.Shown
	a := x.amount
	rows := []tableRow{{"PINION", "", "", ""},
		{"nut from finger tight", a(turned, p.NutDeg), "", ""},
		{"nut torque", a(tight, p.NutTorqueNmm), a(tight, w.NutWrenchNmm), "nut wrench"},
		{"pull in the stem", a(force, p.StemN), "", ""},
		{"load on the spacer", a(force, p.SpacerN), "", ""},
		{"bearing preload", a(force, p.PreloadN), "", ""},
		{"spacer crush", a(length, p.SpacerSetMM), a(length, w.CaliperSpacerMM), "caliper, length"},
		{"pinion end play", a(length, p.EndPlayMM), a(length, w.DialPinionEndPlayMM), "dial"},
		{"drag, bearings alone", a(drag, p.PinionBearingDragNmm), "", ""},
		{"drag, seal in", a(drag, p.PinionDragNmm), a(drag, w.WrenchPinionDragNmm), "low-range wrench"},
		{"", "", a(drag, w.CordPinionDragNmm), "cord and scale"}}
	if r.Settings.HeadCupGapMM > 0 {
		rows = append(rows, tableRow{"gap under head cup", a(length, p.HeadCupGapMM), a(length, w.FeelerHeadCupGapMM), "feeler"})
	}
	if r.Settings.TailCupGapMM > 0 {
		rows = append(rows, tableRow{"gap under tail cup", a(length, p.TailCupGapMM), a(length, w.FeelerTailCupGapMM), "feeler"})
	}
	return rows
}

func (x *explore) sideRows(r exhibit.Result) []tableRow {
	s, w := r.Sides, r.Shown
	a := x.amount
	return []tableRow{
		{"SIDE BEARINGS", "", "", ""},
		{"side preload", a(force, s.SidePreloadN), "", ""},
		{"case end play", a(length, s.CaseEndPlayMM), a(length, w.DialCaseEndPlayMM), "dial"},
		{"housing spread", a(length, s.SpreadMM), a(length, w.DialSpreadMM), "dial"},
		{"case moved to pinion", a(signed, s.ShiftToPinionMM), "", ""},
		{"rise over pinion drag", a(drag, s.SideRiseNmm), "", ""},
		{"total drag", a(drag, s.TotalDragNmm), a(drag, w.WrenchTotalDragNmm), "low-range wrench"},
		{"", "", a(drag, w.CordTotalDragNmm), "cord and scale"},
	}
}

// table writes the rows side by side, or one under the other on a narrow page.
func (x *explore) table(r exhibit.Result) string {
	rows := x.rows(r)
	wide := [4]int{}
	for _, t := range rows {
		for i, c := range [4]string{t.name, t.is, t.shows, t.with} {
			wide[i] = max(wide[i], len([]rune(c)))
		}
	}
	fits := wide[0]+wide[1]+wide[2]+wide[3]+6 <= x.pen.Width
	var b strings.Builder
	cell := func(text string, n int) string { return text + strings.Repeat(" ", max(n-len([]rune(text)), 0)+2) }
	if fits && x.sheet != nil {
		b.WriteString(x.pen.Quiet(strings.TrimRight(cell("", wide[0])+cell("true", wide[1])+cell("shown", wide[2])+"by", " ")) + "\n")
	}
	for _, t := range rows {
		switch {
		case t.is == "" && t.shows == "":
			b.WriteString(x.pen.Strong(t.name) + "\n")
		case fits:
			b.WriteString(strings.TrimRight(cell(t.name, wide[0])+cell(t.is, wide[1])+cell(t.shows, wide[2])+t.with, " ") + "\n")
		default:
			var text []string
			switch {
			case x.sheet == nil:
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
			b.WriteString(view.Hang(name+strings.Join(text, "; "), x.pen.Width, "  ", "      "))
		}
	}
	return b.String()
}

// notes are what a class must be told about a state.
func (x *explore) notes() []string {
	var out []string
	note := func(caution, text string, has func(exhibit.Result) bool) {
		if !slices.ContainsFunc(x.results, has) {
			return
		}
		switch {
		case x.knob != nil && caution != "":
			text = caution + ", in a part of the sweep: " + text
		case x.knob != nil:
			text = "In a part of the sweep " + text
		case caution != "":
			text = caution + ": " + text
		default:
			text = strings.ToUpper(text[:1]) + text[1:]
		}
		out = append(out, text)
	}
	note("", "the gears bind: there is no free play and no print to read.", func(r exhibit.Result) bool { return r.Gears.Binds })
	note("", "the spacer is past what it can give. On the bench it is scrap; a nut is never backed off to get the preload down.",
		func(r exhibit.Result) bool { return r.Pinion.Bottomed })
	note("CAUTION", "the side shims are tighter than the sheet's limit. Forcing a case in spreads a housing for good; on a real axle stay within the maker's limit.",
		func(r exhibit.Result) bool { return x.sheet != nil && r.Settings.SideFitMM > x.sheet.SpreadLimitMM })
	if x.of == teeth|mechanics {
		note("", "the pinion or the case is loose: it is shown in the middle of its play, and its print and backlash would not repeat.",
			func(r exhibit.Result) bool { return r.Pinion.EndPlayMM > 0 || r.Sides.CaseEndPlayMM > 0 })
	}
	note("", "the spacer is loose: the bearings carry the whole pull of the nut.",
		func(r exhibit.Result) bool { return x.solid && r.Pinion.PreloadN > 0 && r.Pinion.SpacerN == 0 })
	return out
}

// foot says what the figures stand on.
func (x *explore) foot() string {
	var b strings.Builder
	for _, n := range x.notes() {
		b.WriteString(view.Hang(n, x.pen.Width, "  ! ", "    "))
	}
	if x.sheet == nil {
		b.WriteString(view.Wrap(x.remark, x.pen.Width, ""))
		b.WriteString(view.Wrap(x.pen.Quiet(x.notice), x.pen.Width, ""))
		return b.String()
	}
	pm := func(t gauge.Tool, k kind) string {
		v := 0.0
		r := x.results[len(x.results)/2]
		switch t {
		case gauge.LowRangeWrench, gauge.CordAndScale:
			v = r.Pinion.PinionDragNmm
		case gauge.NutWrench:
			v = r.Pinion.NutTorqueNmm
		}
		return showAmount(k, 2*exhibit.Class(t).StandardUncertainty(v, 1), x.units)
	}
	text := fmt.Sprintf("Instruments: about 19 readings in 20 lie within %s (dial), %s (depth gauge), %s (low-range wrench), %s (cord and scale), %s (nut wrench) of the truth. ",
		pm(gauge.DialIndicator, length), pm(gauge.DepthGauge, length), pm(gauge.LowRangeWrench, drag), pm(gauge.CordAndScale, drag), pm(gauge.NutWrench, tight))
	if x.seed == 0 {
		text += "Here they have no error and only round to their steps; --seed 1 gives them one."
	} else {
		text += fmt.Sprintf("Here they have the errors of seed %d.", x.seed)
	}
	b.WriteString(view.Wrap(text, x.pen.Width, ""))
	b.WriteString(view.Wrap(x.pen.Quiet(x.notice), x.pen.Width, ""))
	return b.String()
}
