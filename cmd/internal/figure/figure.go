package figure

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/lessons/figure"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
)

// A Maker computes figures in one unit system. An axle that is built once serves every
// figure of its family. It is not safe for concurrent use.
type Maker struct {
	units    quantity.System
	subjects map[string]explore.Subject
}

// NewMaker returns a maker that draws in the units.
func NewMaker(units quantity.System) *Maker {
	return &Maker{units, map[string]explore.Subject{}}
}

var _ figure.Maker = (*Maker)(nil)

// Make computes a figure. Errors: a family, a setting or a measure that does not exist, and
// a state that cannot be shown.
func (m *Maker) Make(b figure.Block) (figure.Figure, error) {
	f, err := m.compute(b)
	f.Caption = b.Caption
	if err != nil {
		err = fmt.Errorf("the %s of %s: %w", b.Show, b.Family, err)
	}
	return f, err
}

func (m *Maker) compute(b figure.Block) (figure.Figure, error) {
	if b.Show == figure.Section {
		fam, err := family.Shipped(b.Family)
		if err != nil {
			return figure.Figure{}, err
		}
		return section(fam.Design), nil
	}
	switch b.Show {
	case figure.Patterns:
		states, err := m.states(b)
		if err != nil {
			return figure.Figure{}, err
		}
		p, err := states[0].patterns()
		return figure.Figure{Alt: words(p), Drawing: pair{p}}, err
	case figure.Strip:
		return m.strip(b)
	case figure.Curve:
		return m.curve(b)
	}
	return m.table(b)
}

// A state is one axle of a figure, set.
type state struct {
	label   string
	subject explore.Subject
	set     explore.Settings
}

func (s state) patterns() ([]gauge.ToothPattern, error) { return s.subject.Patterns(s.set) }

// subject returns the open axle of a family.
func (m *Maker) subject(code string, used bool) (explore.Subject, error) {
	key := fmt.Sprint(code, used)
	if u, ok := m.subjects[key]; ok {
		return u, nil
	}
	fam, err := family.Shipped(code)
	if err != nil {
		return explore.Subject{}, err
	}
	u, err := explore.OfFamily(fam, used, false)
	if err == nil {
		m.subjects[key] = u
	}
	return u, err
}

// ask returns an axle with settings put to it, and a sweep if one is asked for.
func (m *Maker) ask(code string, set []figure.Setting, sweep string) (explore.Exhibit, error) {
	a := explore.Asked{Units: m.units, Typed: map[string]string{}, On: map[string]bool{}, Sweep: sweep}
	used := false
	for _, s := range set {
		_, amount := explore.FindKnob(s.Name)
		toggle := slices.ContainsFunc(explore.Toggles(), func(t explore.Toggle) bool { return t.Name == s.Name })
		choice := slices.ContainsFunc(explore.Choices(), func(c explore.Choice) bool { return c.Name == s.Name })
		switch {
		case (amount || choice) && s.Amount != "":
			a.Typed[s.Name] = s.Amount
		case toggle && s.Amount == "":
			a.On[s.Name] = true
			used = used || s.Name == "used"
		case amount || choice:
			return explore.Exhibit{}, fmt.Errorf("%s needs an amount: write %s=AMOUNT", s.Name, s.Name)
		default:
			return explore.Exhibit{}, fmt.Errorf("%s is no setting; there are %s", s.Name, strings.Join(explore.SettingNames(explore.Whole), ", "))
		}
	}
	u, err := m.subject(code, used)
	if err != nil {
		return explore.Exhibit{}, err
	}
	return u.Ask(a)
}

// states lists the axles of a figure: one for each frame, or each position of the sweep.
func (m *Maker) states(b figure.Block) ([]state, error) {
	frames := b.Frames
	if len(frames) == 0 {
		frames = []figure.Frame{{}}
	}
	var out []state
	for _, f := range frames {
		x, err := m.ask(b.Family, append(slices.Clone(b.Set), f.Set...), b.Sweep)
		if err != nil {
			return nil, err
		}
		for _, s := range x.Settings {
			label := f.Label
			if x.Swept != nil {
				label = x.Swept.Kind.Show(x.Swept.Get(s), m.units)
			}
			out = append(out, state{label, x.Subject, s})
		}
	}
	return out, nil
}

// words says where patterns sit.
func words(patterns []gauge.ToothPattern) string {
	said := make([]string, len(patterns))
	for i, p := range patterns {
		said[i] = picture.Words(p)
	}
	return strings.Join(said, " ")
}

func (m *Maker) strip(b figure.Block) (figure.Figure, error) {
	states, err := m.states(b)
	if err != nil {
		return figure.Figure{}, err
	}
	var d strip
	var said []string
	for _, s := range states {
		p, err := s.patterns()
		if err != nil {
			return figure.Figure{}, err
		}
		d.frames = append(d.frames, picture.Frame{Label: s.label, Patterns: p})
		for _, one := range p {
			said = append(said, s.label+". "+picture.Words(one))
		}
	}
	if len(d.frames) > picture.MaxFrames {
		return figure.Figure{}, fmt.Errorf("a strip takes up to %d patterns, not %d", picture.MaxFrames, len(d.frames))
	}
	return figure.Figure{Alt: strings.Join(said, " "), Drawing: d}, nil
}

// wanted finds the measures that a block names.
func wanted(names []string) ([]measure, error) {
	var out []measure
	for _, name := range names {
		i := slices.IndexFunc(measures(), func(m measure) bool { return m.name == name })
		if i < 0 {
			return nil, fmt.Errorf("%s is no measure; there are %s", name, strings.Join(Measures(), ", "))
		}
		out = append(out, measures()[i])
	}
	return out, nil
}

func (m *Maker) curve(b figure.Block) (figure.Figure, error) {
	lines, err := wanted(b.Of)
	if err != nil {
		return figure.Figure{}, err
	}
	x, err := m.ask(b.Family, b.Set, b.Sweep)
	if err == nil {
		err = x.Show(m.units)
	}
	if err != nil {
		return figure.Figure{}, err
	}
	c := picture.Chart{XName: x.Swept.What, XUnit: x.Swept.Kind.Unit(m.units)}
	for _, r := range x.Results {
		c.X = append(c.X, x.Swept.Kind.Plotted(x.Swept.Get(r.Settings), m.units))
	}
	for _, l := range lines {
		p := picture.Panel{Name: l.head, Unit: l.kind.Unit(m.units)}
		for _, r := range x.Results {
			p.Y = append(p.Y, l.kind.Plotted(l.get(r), m.units))
		}
		if l.spec {
			used := x.Results[0].Settings.UsedBearings
			spec := x.Sheet.PinionTorque(used)
			p.BandName = map[bool]string{false: "spec, new bearings", true: "spec, used bearings"}[used]
			p.BandLow, p.BandHigh = l.kind.Plotted(spec.LowNmm, m.units), l.kind.Plotted(spec.HighNmm, m.units)
		}
		c.Panels = append(c.Panels, p)
	}
	if c.X[0] > c.X[len(c.X)-1] {
		return figure.Figure{}, errors.New("the sweep of a curve goes from the lesser value to the greater")
	}
	return figure.Figure{Alt: c.Words(), Drawing: chart{c}}, nil
}

func (m *Maker) table(b figure.Block) (figure.Figure, error) {
	columns, err := wanted(b.Of)
	if err != nil {
		return figure.Figure{}, err
	}
	states, err := m.states(b)
	if err != nil {
		return figure.Figure{}, err
	}
	head := []string{b.Family}
	if name, _, ok := strings.Cut(b.Sweep, "="); ok {
		k, _ := explore.FindKnob(name) // states has found it
		head[0] = b.Family + ", " + k.What
	}
	for _, c := range columns {
		head = append(head, c.short)
	}
	rows := [][]string{head}
	for _, s := range states {
		r, err := s.subject.At(s.set)
		if err != nil {
			return figure.Figure{}, err
		}
		row := []string{s.label}
		for _, c := range columns {
			row = append(row, m.amount(c.kind, c.get(r), len(columns) <= mostBoth))
		}
		rows = append(rows, row)
	}
	return figure.Figure{Alt: b.Caption, Rows: rows}, nil
}

// mostBoth is how many columns a table has room for in both unit systems.
const mostBoth = 2

// amount writes an amount in the maker's units, and if asked with the others in brackets.
func (m *Maker) amount(k explore.Kind, v float64, both bool) string {
	if math.IsNaN(v) {
		return "none"
	}
	text := k.Show(v, m.units)
	if other := k.Show(v, quantity.Inch+quantity.Metric-m.units); both && other != text {
		text += " (" + other + ")"
	}
	return text
}

// A pair is a contact pattern on both sides of a tooth.
type pair struct{ patterns []gauge.ToothPattern }

func (d pair) Text(columns int, color bool) (string, error) {
	o := picture.Options{Columns: columns, Color: color}
	if color {
		return picture.Terminal(d.patterns, o), nil
	}
	return picture.Plain(d.patterns, o), nil
}

func (d pair) SVG(w io.Writer, id string) error {
	return picture.SVG(w, d.patterns, picture.Options{Color: true, ID: id})
}

type strip struct{ frames []picture.Frame }

func (d strip) Text(columns int, color bool) (string, error) {
	o := picture.Options{Columns: columns, Color: color}
	if color {
		return picture.StripTerminal(d.frames, o)
	}
	return picture.StripPlain(d.frames, o)
}

func (d strip) SVG(w io.Writer, id string) error {
	return picture.StripSVG(w, d.frames, picture.Options{Color: true, ID: id})
}

type chart struct{ picture.Chart }

func (d chart) Text(columns int, color bool) (string, error) {
	return picture.ChartText(d.Chart, picture.Options{Columns: columns, Color: color})
}

func (d chart) SVG(w io.Writer, id string) error {
	return picture.ChartSVG(w, d.Chart, picture.Options{Color: true, ID: id})
}
