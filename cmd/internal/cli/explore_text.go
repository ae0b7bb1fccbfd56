package cli

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/view"
	"shimwright/sim/explore"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// singleText shows one setting: table, notes, print.
func (x *exploring) singleText() (string, error) {
	r := x.results[0]
	if x.silent() && x.out == "" {
		return "", nil
	}
	if x.patterns == nil {
		return x.head() + x.table(r) + "\n" + x.foot(), nil
	}
	patterns, err := x.patterns(r.Settings)
	if err != nil {
		return "", err
	}
	title := x.code + ", print on the ring gear"
	svg, _ := store.IsSVG(x.out)
	x.draw = func(w io.Writer) error {
		o := picture.Options{Title: title, Colour: true}
		if svg {
			return picture.SVG(w, patterns, o)
		}
		return picture.PNG(w, patterns, o)
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
		b.WriteString(picture.Terminal(patterns, o))
	} else {
		b.WriteString(picture.Plain(patterns, o))
	}
	b.WriteString("\n")
	b.WriteString(x.foot())
	return b.String(), nil
}

// head says which axle this is and how it is set.
func (x *exploring) head() string {
	text := x.pen.Heading(x.name) + view.Wrap(x.describe(), x.pen.Width, "")
	if x.exact {
		text += view.Wrap("Exact tooth contact: backlash and prints are solved point by point.", x.pen.Width, "")
	}
	return text + "\n"
}

// describe says in words what is set, leaving out what is swept.
func (x *exploring) describe() string {
	s := x.results[0].Settings
	var parts []string
	add := func(of half, text string) {
		if x.of&of != 0 {
			parts = append(parts, text)
		}
	}
	swept := func(names ...string) bool { return x.knob != nil && slices.Contains(names, x.knob.name) }
	way := func(v float64, plus, minus string) string {
		if v < 0 {
			return x.amount(length, -v) + " " + minus
		}
		return x.amount(length, v) + " " + plus
	}
	if s.UsedBearings {
		add(mechanics, "used bearings")
	} else {
		add(mechanics, "new bearings")
	}
	switch {
	case swept("depth"):
	case s.PinionOutMM == 0:
		add(teeth, "pinion at its place")
	default:
		add(teeth, "pinion "+way(s.PinionOutMM, "too far out", "too deep"))
	}
	for _, text := range x.nutWords(s, swept) {
		add(mechanics, text)
	}
	if !swept("interference") {
		add(mechanics, x.sideWords(s.SideFitMM))
	}
	if s.ShimToRingGearMM != 0 && !swept("shim-to-back") {
		what := "shim"
		if x.rings() {
			what = "ring travel"
		}
		add(mechanics, what+" moved "+way(s.ShimToRingGearMM, "to the back side", "to the tooth side"))
	}
	if s.RingAwayMM != 0 && !swept("ring") {
		add(teeth, "ring gear a further "+way(s.RingAwayMM, "away from the pinion", "closer to the pinion"))
	}
	for _, k := range knobs {
		v := k.get(s)
		if k.said == "" || v == 0 || swept(k.name) {
			continue
		}
		text := x.amount(k.kind, v)
		if k.kind == percent {
			text = x.amount(k.kind, math.Abs(v)) + map[bool]string{true: " high", false: " low"}[v > 0]
		}
		add(k.of, fmt.Sprintf(k.said, text))
	}
	for _, t := range toggles {
		if t.said != "" && *t.at(&s) {
			add(t.of, t.said)
		}
	}
	for _, ch := range choices() {
		if w := *ch.at(&s); w != "" && w != ch.words[0] {
			add(instruments, fmt.Sprintf(ch.said, w))
		}
	}
	switch {
	case swept("warm") || s.WarmK == 0:
	case s.WarmK > 0:
		add(teeth|mechanics, "then "+x.amount(warmth, s.WarmK)+" warmer than it was set at")
	default:
		add(teeth|mechanics, "then "+x.amount(warmth, -s.WarmK)+" colder than it was set at")
	}
	if !swept("film") {
		add(teeth, "compound film "+x.amount(length, s.FilmMM))
	}
	return "Set: " + strings.Join(parts, "; ") + "."
}

// nutWords says what is between the cones and how far the nut goes.
func (x *exploring) nutWords(s explore.Settings, swept func(...string) bool) []string {
	var out []string
	byRotating := s.TorqueTargetNmm > 0 && !swept("drag")
	toTorque := x.amount(torque, s.TorqueTargetNmm) + " of pinion bearing drag"
	switch {
	case x.torquePreloadShims && byRotating:
		out = append(out, "pack for "+toTorque)
	case x.spacer == packed && s.PreloadShimMM > 0 && !swept("pack"):
		out = append(out, "pack of "+x.amount(length, s.PreloadShimMM))
	}
	switch {
	case swept("nut", "nut-torque"), swept("drag") && !x.torquePreloadShims:
	case s.NutNmm > 0:
		out = append(out, "nut turned to "+x.amount(tight, s.NutNmm))
	case byRotating:
		out = append(out, "nut turned to "+toTorque)
	case x.spacer == packed && s.NutDeg == 0:
		out = append(out, "nut just up to the pack")
	case x.spacer == packed:
		out = append(out, "nut turned "+x.amount(turned, s.NutDeg)+" from where the pack has closed up")
	case s.NutDeg == 0:
		out = append(out, "nut finger tight")
	default:
		out = append(out, "nut turned "+x.amount(turned, s.NutDeg)+" from finger tight")
	}
	return out
}

// sideWords says what holds the case and how tight.
func (x *exploring) sideWords(fitMM float64) string {
	what, notches := "side shims ", ""
	if x.rings() {
		what = "threaded rings "
		if fitMM != 0 {
			notches = fmt.Sprintf(", %.1f slots each", math.Abs(fitMM)/2/x.design.Rings.NotchTravelMM())
		}
	}
	switch {
	case fitMM < 0:
		return what + x.amount(length, -fitMM) + " loose" + notches
	case fitMM == 0:
		return what + "line-to-line"
	}
	return what + x.amount(length, fitMM) + " tight" + notches
}

// amount shows an amount in the chosen units, or in both.
func (x *exploring) amount(k kind, v float64) string {
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
func (x *exploring) rows(r explore.Result) []tableRow {
	var rows []tableRow
	if x.of&teeth != 0 {
		rows = append(rows, x.gearRows(r)...)
	}
	if x.of&mechanics != 0 {
		rows = append(rows, x.pinionRows(r)...)
		rows = append(rows, x.sideRows(r)...)
	}
	if x.whole() {
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

func (x *exploring) gearRows(r explore.Result) []tableRow {
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
			rows = append(rows, tableRow{fmt.Sprintf("backlash at %d degrees", i*360/explore.Places), a(length, v), a(length, w.DialBacklashMM[i]), "dial"})
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
		eye  explore.PrintPlace
	}{{"drive", g.Drive, w.EyeDrive}, {"coast", g.Coast, w.EyeCoast}} {
		rows = append(rows,
			tableRow{f.name + " print, along, up", pair(f.is.CenterS, f.is.CenterT, f.is.Empty), pair(f.eye.AlongShare, f.eye.UpShare, f.eye.None), "eye"},
			tableRow{f.name + " print, length, height", pair(f.is.MaxS-f.is.MinS, f.is.MaxT-f.is.MinT, f.is.Empty), pair(f.eye.LengthShare, f.eye.HeightShare, f.eye.None), "eye"})
	}
	return append(rows, tableRow{"print area, drive, coast", pair(g.Drive.AreaShare, g.Coast.AreaShare, false), "", ""})
}

func (x *exploring) pinionRows(r explore.Result) []tableRow {
	p, w := r.Pinion, r.Shown
	a := x.amount
	from := "nut from finger tight"
	if x.spacer == packed {
		from = "nut from the pack closed"
	}
	rows := []tableRow{{"PINION", "", "", ""},
		{from, a(turned, p.NutDeg), "", ""},
		{"nut torque", a(tight, p.NutTorqueNmm), a(tight, w.NutWrenchNmm), "nut wrench"},
		{"pull in the stem", a(force, p.StemN), "", ""},
		{"load on the spacer", a(force, p.SpacerN), "", ""},
		{"bearing preload", a(force, p.PreloadN), "", ""}}
	switch x.spacer {
	case crushed:
		rows = append(rows, tableRow{"spacer crush", a(length, p.SpacerSetMM), a(length, w.CaliperSpacerMM), "caliper, length"})
	case packed:
		rows = append(rows, tableRow{"pack between the cones", a(length, p.PreloadShimMM), a(length, w.MicrometerPreloadShimMM), "micrometer"})
	}
	rows = append(rows,
		tableRow{"pinion end play", a(length, p.EndPlayMM), a(length, w.DialPinionEndPlayMM), "dial"},
		tableRow{"drag, bearings alone", a(torque, p.PinionBearingTorqueNmm), "", ""})
	if p.PinionSwingNmm > 0 {
		rows = append(rows, tableRow{"it comes and goes by", a(torque, p.PinionSwingNmm), "", ""})
	}
	rows = append(rows,
		tableRow{"drag, seal in", a(torque, p.PinionTorqueNmm), a(torque, w.WrenchPinionTorqueNmm), "low-range wrench"},
		tableRow{"", "", a(torque, w.StringPinionTorqueNmm), "cord and scale"})
	if r.Settings.InnerCupGapMM > 0 {
		rows = append(rows, tableRow{"gap under head cup", a(length, p.InnerCupGapMM), a(length, w.FeelerInnerCupGapMM), "feeler"})
	}
	if r.Settings.OuterCupGapMM > 0 {
		rows = append(rows, tableRow{"gap under tail cup", a(length, p.OuterCupGapMM), a(length, w.FeelerOuterCupGapMM), "feeler"})
	}
	return rows
}

func (x *exploring) sideRows(r explore.Result) []tableRow {
	s, w := r.Sides, r.Shown
	a := x.amount
	rows := []tableRow{
		{"SIDE BEARINGS", "", "", ""},
		{"side preload", a(force, s.SidePreloadN), "", ""},
		{"case end play", a(length, s.CaseEndPlayMM), a(length, w.DialCaseEndPlayMM), "dial"},
		{"housing spread", a(length, s.SpreadMM), a(length, w.DialSpreadMM), "dial"},
		{"case moved to pinion", a(signed, s.ShiftToPinionMM), "", ""},
		{"rise over pinion drag", a(torque, s.SideRiseNmm), "", ""},
	}
	if s.SideSwingNmm > 0 {
		rows = append(rows, tableRow{"it comes and goes by", a(torque, s.SideSwingNmm), "", ""})
	}
	return append(rows,
		tableRow{"total drag", a(torque, s.TotalTorqueNmm), a(torque, w.WrenchTotalTorqueNmm), "low-range wrench"},
		tableRow{"", "", a(torque, w.StringTotalTorqueNmm), "cord and scale"})
}

// table writes the rows side by side, or one under the other on a narrow page.
func (x *exploring) table(r explore.Result) string {
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
	if fits && x.whole() {
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
			case !x.whole():
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
func (x *exploring) notes() []string {
	var out []string
	note := func(caution, text string, has func(explore.Result) bool) {
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
	note("", "the gears bind: there is no free play and no print to read.", func(r explore.Result) bool { return r.Gears.Binds })
	note("", "the spacer is past what it can give. On the bench it is scrap; a nut is never backed off to get the preload down.",
		func(r explore.Result) bool { return r.Pinion.Bottomed })
	tight := "the side shims are tighter than the sheet's limit. Forcing a case in spreads a housing for good; on a real axle stay within the maker's limit."
	if x.rings() {
		tight = "the rings are screwed in further than the sheet's limit. That spreads a housing for good; on a real axle stay within the maker's limit."
	}
	note("CAUTION", tight, func(r explore.Result) bool { return x.whole() && r.Settings.SideFitMM > x.sheet.SpreadLimitMM })
	if x.whole() {
		note("", "the pinion or the case is loose: it is shown in the middle of its play, and its print and backlash would not repeat.",
			func(r explore.Result) bool { return r.Pinion.EndPlayMM > 0 || r.Sides.CaseEndPlayMM > 0 })
	}
	note("", "everything is at one temperature, and the oil is taken to be as thick as it was when the axle was set: warm oil drags less.",
		func(r explore.Result) bool { return r.Settings.WarmK > 0 })
	note("", "the spacer is loose: the bearings carry the whole pull of the nut.",
		func(r explore.Result) bool {
			return x.spacer != anySpacer && r.Pinion.PreloadN > 0 && r.Pinion.SpacerN == 0
		})
	return out
}

// foot says what the figures stand on.
func (x *exploring) foot() string {
	var b strings.Builder
	for _, n := range x.notes() {
		b.WriteString(view.Hang(n, x.pen.Width, "  ! ", "    "))
	}
	if !x.whole() {
		b.WriteString(view.Wrap(x.remark, x.pen.Width, ""))
		b.WriteString(view.Wrap(x.pen.Quiet(x.notice), x.pen.Width, ""))
		return b.String()
	}
	pm := func(t gauge.Tool, k kind) string {
		v := 0.0
		r := x.results[len(x.results)/2]
		switch t {
		case gauge.LowRangeWrench, gauge.StringAndScale:
			v = r.Pinion.PinionTorqueNmm
		case gauge.NutWrench:
			v = r.Pinion.NutTorqueNmm
		}
		return showAmount(k, 2*explore.Class(t).StandardUncertainty(v, 1), x.units)
	}
	text := fmt.Sprintf("Instruments: about 19 readings in 20 lie within %s (dial), %s (depth gauge), %s (low-range wrench), %s (cord and scale), %s (nut wrench) of the truth. ",
		pm(gauge.DialIndicator, length), pm(gauge.DepthGauge, length), pm(gauge.LowRangeWrench, torque), pm(gauge.StringAndScale, torque), pm(gauge.NutWrench, tight))
	if x.seed == 0 {
		text += "Here they have no error and only round to their steps; --seed 1 gives them one."
	} else {
		text += fmt.Sprintf("Here they have the errors of seed %d.", x.seed)
	}
	b.WriteString(view.Wrap(text, x.pen.Width, ""))
	b.WriteString(view.Wrap(x.pen.Quiet(x.notice), x.pen.Width, ""))
	return b.String()
}
