package cli

import (
	"io"
	"math"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/view"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
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

func (x *exploring) sweepText() (string, error) {
	var picked string
	var err error
	switch {
	case x.silent() && x.out == "":
		return "", nil
	case x.patterns == nil || len(x.charted()) > 0:
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
func (x *exploring) strip() (string, error) {
	var frames []picture.Frame
	for _, i := range evenly(len(x.results), mostFrames) {
		s := x.results[i].Settings
		patterns, err := x.patterns(s)
		if err != nil {
			return "", err
		}
		frames = append(frames, picture.Frame{Label: x.knob.show(s, x.units), Patterns: patterns})
	}
	title := x.code + ", prints along the sweep of " + x.what()
	svg, _ := store.IsSVG(x.out)
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

// A measure is one figure of a state, as a sweep shows it: a line of the table's column,
// or a chart.
type measure struct {
	name        string // of a chart
	head, under string // of a column; under: what part, or nothing for the unit
	kind        kind
	of          half                         // what it takes to know it
	get         func(explore.Result) float64 // NaN: nothing to show
}

// headed returns the measure with another head to its column.
func (m measure) headed(head string) measure {
	m.head = head
	return m
}

// What sweeps show.
var (
	nutAngle       = measure{"Nut angle", "nut", "", turned, mechanics, func(r explore.Result) float64 { return r.Pinion.NutDeg }}
	nutPull        = measure{"Nut torque", "nut", "", tight, mechanics, func(r explore.Result) float64 { return r.Pinion.NutTorqueNmm }}
	bearings       = measure{"Rotating torque of the pinion, no seal", "drag", "", torque, mechanics, func(r explore.Result) float64 { return r.Pinion.PinionBearingTorqueNmm }}
	sealIn         = measure{"Rotating torque of the pinion, seal in", "+seal", "", torque, mechanics, func(r explore.Result) float64 { return r.Pinion.PinionTorqueNmm }}
	pinPush        = measure{"Pinion bearing preload", "preload", "", force, mechanics, func(r explore.Result) float64 { return r.Pinion.PreloadN }}
	pinPlay        = measure{"Pinion end play", "play", "", length, mechanics, func(r explore.Result) float64 { return r.Pinion.EndPlayMM }}
	plunger        = measure{"Pull in the stem", "stem", "", force, mechanics, func(r explore.Result) float64 { return r.Pinion.StemN }}
	onSpacer       = measure{"Load on the spacer", "spacer", "", force, mechanics, func(r explore.Result) float64 { return r.Pinion.SpacerN }}
	crush          = measure{"Spacer crush", "crush", "", length, mechanics, func(r explore.Result) float64 { return r.Pinion.SpacerSetMM }}
	preloadShimsIn = measure{"Pack", "pack", "", length, mechanics, func(r explore.Result) float64 { return r.Pinion.PreloadShimMM }}
	swing          = measure{"Swing within a turn of the pinion", "swing", "", torque, mechanics, func(r explore.Result) float64 { return r.Pinion.PinionSwingNmm }}
	spread         = measure{"Housing spread", "spread", "", length, mechanics, func(r explore.Result) float64 { return r.Sides.SpreadMM }}
	rise           = measure{"Rise over pinion drag", "rise", "", torque, mechanics, func(r explore.Result) float64 { return r.Sides.SideRiseNmm }}
	total          = measure{"Total rotating torque", "total", "", torque, mechanics, func(r explore.Result) float64 { return r.Sides.TotalTorqueNmm }}
	sidePush       = measure{"Side bearing preload", "preload", "", force, mechanics, func(r explore.Result) float64 { return r.Sides.SidePreloadN }}
	sidePlay       = measure{"Case end play", "play", "", length, mechanics, func(r explore.Result) float64 { return r.Sides.CaseEndPlayMM }}
	moved          = measure{"Case moved to the pinion", "moved", "", signed, mechanics, func(r explore.Result) float64 { return r.Sides.ShiftToPinionMM }}
	backlash       = measure{"Backlash", "backlash", "", length, teeth, func(r explore.Result) float64 { return r.Gears.BacklashMeanMM }}
	least          = measure{"Least backlash", "least", "", length, teeth, func(r explore.Result) float64 { return r.Gears.BacklashMinMM }}
	dial           = measure{"Backlash by the dial", "dial", "", length, instruments, func(r explore.Result) float64 { return r.Shown.DialBacklashMeanMM }}
	byWrench       = measure{"Pinion drag by the low-range wrench", "wrench", "", torque, instruments, func(r explore.Result) float64 { return r.Shown.WrenchPinionTorqueNmm }}
	byString       = measure{"Pinion drag by cord and scale", "cord", "", torque, instruments, func(r explore.Result) float64 { return r.Shown.StringPinionTorqueNmm }}
)

// places are where the prints are.
func places() []measure {
	var out []measure
	for _, f := range []struct {
		name string
		of   func(explore.Result) mesh.Pattern
	}{{"drive", func(r explore.Result) mesh.Pattern { return r.Gears.Drive }}, {"coast", func(r explore.Result) mesh.Pattern { return r.Gears.Coast }}} {
		for _, w := range []struct {
			way string
			at  func(mesh.Pattern) float64
		}{{"along", func(p mesh.Pattern) float64 { return p.CenterS }}, {"up", func(p mesh.Pattern) float64 { return p.CenterT }}} {
			out = append(out, measure{"", f.name, w.way, share, teeth, func(r explore.Result) float64 {
				if p := f.of(r); !p.Empty {
					return w.at(p)
				}
				return math.NaN()
			}})
		}
	}
	return out
}

// charted lists what a sweep is charted by; nothing where its prints say more.
func (x *exploring) charted() []measure {
	switch x.knob.name {
	case "nut":
		return []measure{nutPull, bearings}
	case "drag":
		if x.torquePreloadShims {
			return []measure{preloadShimsIn, pinPush}
		}
		return []measure{nutPull, nutAngle}
	case "nut-torque":
		return []measure{nutAngle, bearings}
	case "pack":
		return []measure{bearings, pinPush}
	case "warm":
		return []measure{pinPush, sidePush}
	case "spacer-crushed":
		return []measure{nutPull, plunger}
	case "rough":
		return []measure{pinPush, swing}
	case "seal-extra":
		return []measure{bearings, sealIn}
	case "brake-drag":
		return []measure{rise, total}
	case "interference", "housing-grown":
		return []measure{spread, total}
	case "wrench-error":
		return []measure{sealIn, byWrench}
	case "string-error":
		return []measure{sealIn, byString}
	}
	switch {
	case x.patterns != nil:
		return nil
	case x.knob.name == "shim-to-back", x.knob.name == "ring-gear-cone-gap":
		return []measure{moved, total}
	}
	return []measure{nutPull, bearings}
}

// lines draws the charts of a sweep.
func (x *exploring) lines() (string, error) {
	c := picture.Chart{XName: x.what(), XUnit: unitOf(x.knob.kind, x.units)}
	for _, r := range x.results {
		c.X = append(c.X, plotted(x.knob.kind, x.knob.get(r.Settings), x.units))
	}
	for _, m := range x.charted() {
		p := picture.Panel{Name: m.name, Unit: unitOf(m.kind, x.units)}
		for _, r := range x.results {
			p.Y = append(p.Y, plotted(m.kind, m.get(r), x.units))
		}
		if x.whole() && m.name == bearings.name {
			used := *x.so["used"]
			spec := x.sheet.PinionTorque(used)
			p.BandName = "axle sheet, new bearings"
			if used {
				p.BandName = "axle sheet, used bearings"
			}
			p.BandLow, p.BandHigh = plotted(torque, spec.LowNmm, x.units), plotted(torque, spec.HighNmm, x.units)
		}
		c.Panels = append(c.Panels, p)
	}
	if c.X[0] > c.X[len(c.X)-1] {
		slices.Reverse(c.X)
		for _, p := range c.Panels {
			slices.Reverse(p.Y)
		}
	}
	title := x.code + ", sweep of " + x.what()
	svg, _ := store.IsSVG(x.out)
	x.draw = func(w io.Writer) error {
		o := picture.Options{Title: title, Colour: true}
		if svg {
			return picture.ChartSVG(w, c, o)
		}
		return picture.ChartPNG(w, c, o)
	}
	return picture.ChartText(c, picture.Options{Columns: x.pen.Width, Colour: x.pen.Colour})
}

// what names the amount that is swept, as the axle has it.
func (x *exploring) what() string {
	if x.rings() && x.knob.name == "shim-to-back" {
		return "ring travel moved to the back"
	}
	return x.knob.what
}

// rings tells that threaded rings hold the case, and not shims.
func (x *exploring) rings() bool { return x.design.SideAdjust == family.BearingAdjusters }

// columns lists what the table of a sweep shows of the parts there are, most wanted
// first.
func (x *exploring) columns() []measure {
	value := measure{"", strings.SplitN(x.knob.name, "-", 2)[0], "", x.knob.kind, x.knob.of, func(r explore.Result) float64 { return x.knob.get(r.Settings) }}
	between := []measure{plunger, onSpacer, crush}
	if x.spacer != crushed {
		between = between[:2]
	}
	var rest []measure
	switch x.knob.name {
	case "nut":
		rest = append([]measure{nutPull, bearings, pinPush, pinPlay}, append(between, total)...)
	case "nut-torque":
		rest = append([]measure{nutAngle, bearings, pinPush, pinPlay}, append(between, total)...)
	case "drag":
		if rest = append([]measure{nutAngle, nutPull, pinPush, pinPlay}, append(between, total)...); x.torquePreloadShims {
			rest[0], rest[1] = preloadShimsIn, nutAngle
		}
	case "pack":
		rest = append([]measure{bearings, pinPush, pinPlay, nutAngle}, append(between, total)...)
	case "spacer-crushed":
		rest = append([]measure{nutAngle, nutPull, bearings, pinPush}, between...)
	case "warm":
		rest = []measure{pinPush.headed("pinion"), sidePush.headed("side"), bearings, total, backlash, pinPlay.headed("pinion"), sidePlay.headed("case")}
	case "rough", "seal-extra", "brake-drag":
		rest = []measure{bearings, swing, sealIn, rise, total, pinPush}
	case "interference", "housing-grown":
		value = value.headed(map[string]string{"interference": "fit", "housing-grown": "grown"}[x.knob.name])
		rest = []measure{spread, rise, total, sidePush, sidePlay, backlash}
	case "wrench-error", "string-error":
		rest = []measure{sealIn, byWrench, byString, total}
	default:
		rest = append(append([]measure{backlash}, places()...), least, dial, total)
		if x.of&teeth == 0 {
			rest = []measure{bearings, total, pinPlay, pinPush, moved, sidePush}
		}
	}
	return slices.DeleteFunc(append([]measure{value}, rest...), func(m measure) bool { return m.of&^x.of != 0 })
}

// sweepTable writes as many columns as the page takes.
func (x *exploring) sweepTable() string {
	picked := evenly(len(x.results), mostLines)
	const gap = 1
	room := x.pen.Width + gap
	var cells [][]string
	for _, c := range x.columns() {
		under := c.under
		if under == "" {
			under = unitOf(c.kind, x.units)
		}
		text := []string{c.head, under}
		wide := max(len([]rune(c.head)), len([]rune(under)))
		for _, i := range picked {
			s := "none"
			if v := c.get(x.results[i]); !math.IsNaN(v) {
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
