package view

import (
	"io"
	"math"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/quantity"

	"shimwright/sim/text"
)

// An Exhibit writes what is explored: one setting, or a sweep.
type Exhibit struct {
	*explore.Exhibit
	Pen  Pen
	Both bool // amounts in both systems
	Dark bool // pictures for a dark screen
}

var halfNotice = text.Say("view.explore.case-worked-for-practice", "A case worked for practice. No figure may be used on a real axle: the maker's manual for the axle on the bench is what counts.")

// Notice is the caution that belongs to it.
func (x Exhibit) Notice() string {
	if x.IsWhole() {
		return x.Pen.Print(family.Notice())
	}
	return x.Pen.Print(halfNotice)
}

// name is the heading.
func (x Exhibit) name() string {
	switch {
	case x.IsWhole():
		return x.Pen.Print(text.Say("view.explore.open-demonstration", "{name}, open demonstration", text.Typed("name", x.Name)))
	case x.Of == explore.Teeth:
		return x.Pen.Print(text.Say("view.explore.gears-alone", "{name}, gears alone", text.Typed("name", x.Name)))
	}
	return x.Pen.Print(text.Say("view.explore.mechanics-alone", "{name}, mechanics alone", text.Typed("name", x.Name)))
}

// amount shows an amount in the chosen units, or in both.
func (x Exhibit) amount(k explore.Kind, v float64) string {
	text := k.Show(v, x.Pen.Units())
	if x.Both {
		if other := k.Show(v, quantity.Inch+quantity.Metric-x.Pen.Units()); other != text {
			text += " (" + other + ")"
		}
	}
	return text
}

// mostFrames is how many contact patterns a strip shows, mostLines how many lines a table
// has; of longer sweeps both take positions evenly, first and last among them.
const (
	mostFrames = 9
	mostLines  = 41
)

// Text writes it for the terminal.
func (x Exhibit) Text() (string, error) {
	var table, drawn string
	var err error
	switch {
	case x.Swept == nil && !x.HasPatterns():
		table = x.table(x.Results[0])
	case x.Swept == nil:
		table = x.table(x.Results[0])
		drawn, err = x.patterns()
	case x.charts():
		table = x.sweepTable()
		drawn, err = picture.ChartText(x.chart(), picture.Options{Columns: x.Pen.Width, Color: x.Pen.Color})
	default:
		table = x.sweepTable()
		drawn, err = x.strip()
	}
	if err != nil {
		return "", err
	}
	if drawn != "" {
		drawn += "\n"
	}
	return x.head() + table + "\n" + drawn + x.foot(), nil
}

// Draws tells whether there is a picture of it.
func (x Exhibit) Draws() bool { return x.HasPatterns() || x.Swept != nil }

// charts tells that a sweep is shown in line charts and not in contact patterns.
func (x Exhibit) charts() bool { return !x.HasPatterns() || len(x.Charted()) > 0 }

// Draw writes the picture of it, SVG or PNG.
func (x Exhibit) Draw(w io.Writer, svg bool) error {
	o := picture.Options{Color: true, Dark: x.Dark}
	switch {
	case x.Swept == nil:
		patterns, err := x.PatternsAt(0)
		if err != nil {
			return err
		}
		o.Title = x.Pen.Print(text.Say("view.explore.contact-pattern-ring-gear", "{code}, contact pattern on the ring gear", text.Typed("code", x.Code)))
		if svg {
			return picture.SVG(w, patterns, o)
		}
		return picture.PNG(w, patterns, o)
	case x.charts():
		o.Title = x.Pen.Print(text.Say("view.explore.sweep", "{code}, sweep of {what}", text.Typed("code", x.Code), text.Typed("what", x.what())))
		if svg {
			return picture.ChartSVG(w, x.chart(), o)
		}
		return picture.ChartPNG(w, x.chart(), o)
	}
	frames, err := x.frames()
	if err != nil {
		return err
	}
	o.Title = x.Pen.Print(text.Say("view.explore.contact-patterns-along-sweep", "{code}, contact patterns along the sweep of {what}", text.Typed("code", x.Code), text.Typed("what", x.what())))
	if svg {
		return picture.StripSVG(w, frames, o)
	}
	return picture.StripPNG(w, frames, o)
}

func (x Exhibit) patterns() (string, error) {
	patterns, err := x.PatternsAt(0)
	if err != nil {
		return "", err
	}
	o := picture.Options{Columns: x.Pen.Width, Color: x.Pen.Color, Title: x.Pen.Print(text.Say("view.explore.contact-pattern-ring-gear-2", "Contact pattern on the ring gear"))}
	if x.Pen.Color {
		return picture.Terminal(patterns, o), nil
	}
	return picture.Plain(patterns, o), nil
}

func (x Exhibit) frames() ([]picture.Frame, error) {
	var frames []picture.Frame
	for _, i := range explore.Evenly(len(x.Results), mostFrames) {
		patterns, err := x.PatternsAt(i)
		if err != nil {
			return nil, err
		}
		frames = append(frames, picture.Frame{Label: x.Swept.Kind.Show(x.Swept.Get(x.Settings[i]), x.Pen.Units()), Patterns: patterns})
	}
	return frames, nil
}

func (x Exhibit) strip() (string, error) {
	frames, err := x.frames()
	if err != nil {
		return "", err
	}
	o := picture.Options{Columns: x.Pen.Width, Color: x.Pen.Color, Title: x.Pen.Print(text.Say("view.explore.contact-patterns-along-sweep-2", "Contact patterns along the sweep"))}
	if x.Pen.Color {
		return picture.StripTerminal(frames, o)
	}
	return picture.StripPlain(frames, o)
}

// chart is a sweep as line charts.
func (x Exhibit) chart() picture.Chart {
	c := picture.Chart{XName: x.what(), XUnit: x.Swept.Kind.Unit(x.Pen.Units())}
	for _, r := range x.Results {
		c.X = append(c.X, x.Swept.Kind.Plotted(x.Swept.Get(r.Settings), x.Pen.Units()))
	}
	for _, m := range x.Charted() {
		p := picture.Panel{Name: m.Name, Unit: m.Kind.Unit(x.Pen.Units())}
		for _, r := range x.Results {
			p.Y = append(p.Y, m.Kind.Plotted(m.Get(r), x.Pen.Units()))
		}
		if low, high, ok := x.Spec(m); ok {
			p.BandName = x.Pen.Print(text.Say("view.explore.spec-new-bearings", "spec, new bearings"))
			if x.Results[0].Settings.UsedBearings {
				p.BandName = x.Pen.Print(text.Say("view.explore.spec-used-bearings", "spec, used bearings"))
			}
			p.BandLow, p.BandHigh = m.Kind.Plotted(low, x.Pen.Units()), m.Kind.Plotted(high, x.Pen.Units())
		}
		c.Panels = append(c.Panels, p)
	}
	if c.X[0] > c.X[len(c.X)-1] {
		slices.Reverse(c.X)
		for _, p := range c.Panels {
			slices.Reverse(p.Y)
		}
	}
	return c
}

// what names the amount that is swept, as the axle has it.
func (x Exhibit) what() string {
	if x.Adjusters() && x.Swept.Name == "shim-to-ring-gear" {
		return x.Pen.Print(text.Say("view.explore.adjuster-travel-ring-gear", "adjuster travel to the ring-gear side"))
	}
	return x.Swept.What
}

// sweepTable writes as many columns as the page takes.
func (x Exhibit) sweepTable() string {
	picked := explore.Evenly(len(x.Results), mostLines)
	const gap = 1
	room := x.Pen.Width + gap
	var cells [][]string
	for _, m := range x.Columns() {
		column, wide := x.column(m, picked)
		if room -= wide + gap; room < 0 {
			break
		}
		for i, s := range column {
			column[i] = strings.Repeat(" ", wide-len([]rune(s))) + s
		}
		cells = append(cells, column)
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
		prose := strings.TrimRight(strings.Join(line, between), " ")
		if i < 2 {
			prose = x.Pen.Quiet(prose)
		}
		b.WriteString(prose + "\n")
	}
	if len(picked) < len(x.Results) {
		b.WriteString(Wrap(x.Pen.Print(text.Say("view.explore.part-positions-spread-evenly", "A part of the positions, spread evenly; --csv has them all.")), x.Pen.Width, ""))
	}
	return b.String()
}

// column is what a measure shows at some positions, under two lines of head.
func (x Exhibit) column(m explore.Measure, at []int) (cells []string, wide int) {
	under := m.Under
	if under == "" {
		under = m.Kind.Unit(x.Pen.Units())
	}
	cells = []string{m.Head, under}
	for _, i := range at {
		s := x.Pen.Print(text.Say("view.explore.none", "none"))
		if v := m.Get(x.Results[i]); !math.IsNaN(v) {
			s = m.Kind.Number(v, x.Pen.Units())
		}
		cells = append(cells, s)
	}
	for _, s := range cells {
		wide = max(wide, len([]rune(s)))
	}
	return cells, wide
}

// ExploreFields writes the name of every figure of a record with its units and its meaning.
func ExploreFields(p Pen) string {
	var b strings.Builder
	b.WriteString(Wrap(p.Print(text.Say("view.explore.name-ends-unit-figure", "A name ends in its unit, and a figure with a unit stands there in metric and in inch units: _mm and _in, _Nm and _lbin or _lbft, _N and _lbf; _C and _F are differences of temperature. A figure without one is a share, a word, yes or no. JSON groups names under set, true and shown; a CSV column has the group's name and _ in front, and the first is position. What there is not is null, and empty in CSV. With --gears and --parts only what belongs to them is written.")), p.Width, ""))
	for _, g := range explore.Groups() {
		b.WriteString("\n" + p.Strong(g.Name) + ": " + g.What + "\n")
		for _, f := range g.Fields {
			var names []string
			for _, one := range f.Figures(explore.Result{}) {
				names = append(names, one.Key)
			}
			b.WriteString(Wrap(strings.Join(names, ", "), p.Width, "  "))
			b.WriteString(Wrap(f.What, p.Width, "      "))
		}
	}
	return b.String()
}
