package cli

import (
	"io"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/view"
	"shimwright/sim/exhibit"
	"shimwright/sim/quantity"
)

// mostFrames is how many prints a strip shows, mostLines how many lines a table
// prints; of longer sweeps both take positions evenly, first and last among them.
const (
	mostFrames = 9
	mostLines  = 41
)

// evenly picks at most most of n places, both ends among them.
func evenly(n, most int) []int {
	most = min(n, most)
	var out []int
	for i := range most {
		out = append(out, (i*(n-1)+(most-1)/2)/(most-1))
	}
	return out
}

// charted tells that a sweep is shown as lines: its prints hardly change, or there are
// none.
func (x *explore) charted() bool {
	return x.prints == nil || slices.Contains([]string{"nut", "drag", "interference"}, x.knob.name)
}

func (x *explore) sweepText() (string, error) {
	var picked string
	var err error
	switch {
	case x.silent() && x.out == "":
		return "", nil
	case x.charted():
		picked, err = x.lines()
	default:
		picked, err = x.strip()
	}
	if err != nil || x.silent() {
		return "", err
	}
	var b strings.Builder
	b.WriteString(x.head())
	b.WriteString(x.sweepTable())
	b.WriteString("\n" + picked + "\n")
	b.WriteString(x.foot())
	return b.String(), nil
}

// strip draws prints along the sweep.
func (x *explore) strip() (string, error) {
	var frames []picture.Frame
	for _, i := range evenly(len(x.results), mostFrames) {
		s := x.results[i].Settings
		prints, err := x.prints(s)
		if err != nil {
			return "", err
		}
		frames = append(frames, picture.Frame{Label: x.knob.show(s, x.units), Prints: prints})
	}
	title := x.code + ", prints along the sweep of " + x.knob.what
	svg, _ := pictureKind(x.out)
	x.draw = func(w io.Writer) error {
		o := picture.Options{Title: title, Colour: true}
		if svg {
			return picture.StripSVG(w, frames, o)
		}
		return picture.StripPNG(w, frames, o)
	}
	o := picture.Options{Columns: x.pen.Width, Colour: x.pen.Colour, Title: "Prints along the sweep"}
	if x.pen.Colour {
		return picture.StripTerminal(frames, o)
	}
	return picture.StripPlain(frames, o)
}

// lines draws the charts of a sweep of forces.
func (x *explore) lines() (string, error) {
	c := picture.Chart{XName: x.knob.what, XUnit: unitOf(x.knob.kind, x.units)}
	panel := func(name string, k kind, get func(exhibit.Result) float64) picture.Panel {
		p := picture.Panel{Name: name, Unit: unitOf(k, x.units)}
		for _, r := range x.results {
			p.Y = append(p.Y, plotted(k, get(r), x.units))
		}
		return p
	}
	for _, r := range x.results {
		c.X = append(c.X, plotted(x.knob.kind, x.knob.get(r.Settings), x.units))
	}
	switch x.knob.name {
	case "interference", "shim-to-back":
		first := panel("Housing spread", length, func(r exhibit.Result) float64 { return r.Sides.SpreadMM })
		if x.knob.name == "shim-to-back" {
			first = panel("Case moved to the pinion", signed, func(r exhibit.Result) float64 { return r.Sides.ShiftToPinionMM })
		}
		c.Panels = []picture.Panel{first, panel("Total rotating torque", drag, func(r exhibit.Result) float64 { return r.Sides.TotalDragNmm })}
	default:
		nut := panel("Nut torque", tight, func(r exhibit.Result) float64 { return r.Pinion.NutTorqueNmm })
		turn := panel("Rotating torque of the pinion, no seal", drag, func(r exhibit.Result) float64 { return r.Pinion.PinionBearingDragNmm })
		if x.sheet != nil {
			window := x.sheet.PinionDrag(x.used)
			turn.BandName = "axle sheet, new bearings"
			if x.used {
				turn.BandName = "axle sheet, used bearings"
			}
			turn.BandLow, turn.BandHigh = plotted(drag, window.LowNmm, x.units), plotted(drag, window.HighNmm, x.units)
		}
		if x.knob.name == "drag" {
			turn = panel("Nut angle", turned, func(r exhibit.Result) float64 { return r.Pinion.NutDeg })
		}
		c.Panels = []picture.Panel{nut, turn}
	}
	if c.X[0] > c.X[len(c.X)-1] {
		slices.Reverse(c.X)
		for _, p := range c.Panels {
			slices.Reverse(p.Y)
		}
	}
	title := x.code + ", sweep of " + x.knob.what
	svg, _ := pictureKind(x.out)
	x.draw = func(w io.Writer) error {
		o := picture.Options{Title: title, Colour: true}
		if svg {
			return picture.ChartSVG(w, c, o)
		}
		return picture.ChartPNG(w, c, o)
	}
	return picture.ChartText(c, picture.Options{Columns: x.pen.Width, Colour: x.pen.Colour})
}

// plotted is an amount in the unit it is shown in, as a number.
func plotted(k kind, v float64, units quantity.System) float64 {
	metric := units == quantity.Metric
	switch k {
	case length, signed:
		if metric {
			return v
		}
		return quantity.Millimetres(v).Inches()
	case drag:
		if metric {
			return quantity.Torque(v).NewtonMetres()
		}
		return quantity.Torque(v).InchPounds()
	case tight:
		if metric {
			return quantity.Torque(v).NewtonMetres()
		}
		return quantity.Torque(v).FootPounds()
	case force:
		if metric {
			return v
		}
		return quantity.Force(v).PoundsForce()
	case tilt:
		return v / radPerDeg
	}
	return v
}

// A column of the sweep's table, most wanted first.
type column struct {
	name, under string // under: unit, or what part
	kind        kind
	get         func(exhibit.Result) (float64, bool) // false: nothing to show
	of          half                                 // what it takes to know it
}

// columns lists what the table of a sweep shows of the parts there are.
func (x *explore) columns() []column {
	return slices.DeleteFunc(x.allColumns(), func(c column) bool { return c.of&^x.of != 0 })
}

func (x *explore) allColumns() []column {
	colOf := func(of half, name string, k kind, get func(exhibit.Result) float64) column {
		return column{name, unitOf(k, x.units), k, func(r exhibit.Result) (float64, bool) { return get(r), true }, of}
	}
	col := func(name string, k kind, get func(exhibit.Result) float64) column {
		return colOf(mechanics, name, k, get)
	}
	place := func(flank, part string, get func(exhibit.Result) (float64, bool)) column {
		return column{flank, part, share, get, teeth}
	}
	value := colOf(x.knob.of, strings.SplitN(x.knob.name, "-", 2)[0], x.knob.kind, func(r exhibit.Result) float64 { return x.knob.get(r.Settings) })
	backlash := colOf(teeth, "backlash", length, func(r exhibit.Result) float64 { return r.Gears.BacklashMeanMM })
	play := col("play", length, func(r exhibit.Result) float64 { return r.Pinion.EndPlayMM })
	torque := col("nut", tight, func(r exhibit.Result) float64 { return r.Pinion.NutTorqueNmm })
	turn := col("drag", drag, func(r exhibit.Result) float64 { return r.Pinion.PinionBearingDragNmm })
	total := col("total", drag, func(r exhibit.Result) float64 { return r.Sides.TotalDragNmm })
	switch x.knob.name {
	case "nut", "drag":
		angle := col("nut", turned, func(r exhibit.Result) float64 { return r.Pinion.NutDeg })
		first := []column{angle, torque, turn}
		if x.knob.name == "drag" {
			first = []column{value, angle, torque}
		}
		return append(first,
			col("preload", force, func(r exhibit.Result) float64 { return r.Pinion.PreloadN }), play,
			col("stem", force, func(r exhibit.Result) float64 { return r.Pinion.StemN }),
			col("spacer", force, func(r exhibit.Result) float64 { return r.Pinion.SpacerN }),
			col("crush", length, func(r exhibit.Result) float64 { return r.Pinion.SpacerSetMM }), total)
	case "interference":
		value.name = "fit"
		return []column{value,
			col("spread", length, func(r exhibit.Result) float64 { return r.Sides.SpreadMM }),
			col("rise", drag, func(r exhibit.Result) float64 { return r.Sides.SideRiseNmm }), total,
			col("preload", force, func(r exhibit.Result) float64 { return r.Sides.SidePreloadN }),
			col("play", length, func(r exhibit.Result) float64 { return r.Sides.CaseEndPlayMM }), backlash}
	}
	if x.of&teeth == 0 {
		return []column{value, turn, total, play,
			col("preload", force, func(r exhibit.Result) float64 { return r.Pinion.PreloadN }),
			col("moved", signed, func(r exhibit.Result) float64 { return r.Sides.ShiftToPinionMM })}
	}
	cols := []column{value, backlash,
		place("drive", "along", func(r exhibit.Result) (float64, bool) { return r.Gears.Drive.CentreS, !r.Gears.Drive.Empty }),
		place("drive", "up", func(r exhibit.Result) (float64, bool) { return r.Gears.Drive.CentreT, !r.Gears.Drive.Empty }),
		place("coast", "along", func(r exhibit.Result) (float64, bool) { return r.Gears.Coast.CentreS, !r.Gears.Coast.Empty }),
		place("coast", "up", func(r exhibit.Result) (float64, bool) { return r.Gears.Coast.CentreT, !r.Gears.Coast.Empty }),
		colOf(teeth, "least", length, func(r exhibit.Result) float64 { return r.Gears.BacklashMinMM }),
		colOf(teeth|mechanics, "dial", length, func(r exhibit.Result) float64 { return r.Shown.DialBacklashMeanMM }), total}
	return cols
}

// sweepTable writes as many columns as the page takes.
func (x *explore) sweepTable() string {
	picked := evenly(len(x.results), mostLines)
	const gap = 1
	room := x.pen.Width + gap
	var cells [][]string
	for _, c := range x.columns() {
		text := []string{c.name, c.under}
		wide := max(len([]rune(c.name)), len([]rune(c.under)))
		for _, i := range picked {
			v, ok := c.get(x.results[i])
			s := "none"
			if ok {
				s = number(c.kind, v, x.units)
			}
			text = append(text, s)
			wide = max(wide, len(s))
		}
		if room -= wide + gap; room < 0 {
			break
		}
		for i, s := range text {
			text[i] = strings.Repeat(" ", wide-len([]rune(s))) + s
		}
		cells = append(cells, text)
	}
	between := " "
	if room >= len(cells) {
		between = "  "
	}
	var b strings.Builder
	for i := range cells[0] {
		var line []string
		for _, c := range cells {
			line = append(line, c[i])
		}
		text := strings.TrimRight(strings.Join(line, between), " ")
		if i < 2 {
			text = x.pen.Quiet(text)
		}
		b.WriteString(text + "\n")
	}
	if len(picked) < len(x.results) {
		b.WriteString(view.Wrap("A part of the positions, spread evenly; --csv has them all.", x.pen.Width, ""))
	}
	return b.String()
}
