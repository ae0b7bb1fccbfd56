package picture

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A Panel is one line of a chart, on its own scale, so that quantities in different
// units stand one above the other over the same X.
type Panel struct {
	Name, Unit string
	Y          []float64 // one for each X; what is not a number leaves a gap
	// A band to compare with, such as a sheet's window; none without a name.
	BandName          string
	BandLow, BandHigh float64
}

// A Chart is a set of panels over one rising X.
type Chart struct {
	XName, XUnit string
	X            []float64
	Panels       []Panel
}

const (
	maxPanels = 6
	maxPoints = 100_000
	// mostFigure keeps every difference of two figures finite.
	mostFigure = 1e15
)

func (c Chart) check() error {
	if len(c.X) < 2 || len(c.X) > maxPoints {
		return fmt.Errorf("a chart takes 2 to %d points, not %d", maxPoints, len(c.X))
	}
	for i, x := range c.X {
		if !finite(x) || math.Abs(x) > mostFigure || i > 0 && x <= c.X[i-1] {
			return fmt.Errorf("a chart's places must rise from left to right: place %d is %g", i+1, x)
		}
	}
	if len(c.Panels) == 0 || len(c.Panels) > maxPanels {
		return fmt.Errorf("a chart takes 1 to %d lines, not %d", maxPanels, len(c.Panels))
	}
	for _, p := range c.Panels {
		if len(p.Y) != len(c.X) {
			return fmt.Errorf("the line %q has %d values for %d places", clean(p.Name), len(p.Y), len(c.X))
		}
		if p.BandName != "" && !(finite(p.BandLow) && finite(p.BandHigh) && p.BandLow <= p.BandHigh) {
			return fmt.Errorf("the band of %q goes from %g to %g", clean(p.Name), p.BandLow, p.BandHigh)
		}
		switch low, high := p.reach(); {
		case low > high:
			return errors.New("a line without a single number cannot be drawn")
		case max(-low, high) > mostFigure:
			return fmt.Errorf("the line %q reaches %g; a chart shows up to %g", clean(p.Name), max(-low, high), mostFigure)
		}
	}
	return nil
}

// reach returns the least and greatest of the values and the band.
func (p Panel) reach() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, y := range p.Y {
		if finite(y) {
			low, high = min(low, y), max(high, y)
		}
	}
	if p.BandName != "" && low <= high {
		low, high = min(low, p.BandLow), max(high, p.BandHigh)
	}
	return low, high
}

// words says in a sentence what the line does.
func (p Panel) words(c Chart) string {
	first, last, lowAt, highAt := -1, -1, -1, -1
	for i, y := range p.Y {
		if !finite(y) {
			continue
		}
		if first < 0 {
			first, lowAt, highAt = i, i, i
		}
		last = i
		if y < p.Y[lowAt] {
			lowAt = i
		}
		if y > p.Y[highAt] {
			highAt = i
		}
	}
	if first < 0 {
		return ""
	}
	at := func(i int) string {
		return figure(p.Y[i], p.Unit) + " at " + strings.TrimSpace(whereabouts(c.X[i])+" "+clean(c.XUnit))
	}
	s := fmt.Sprintf("%s: from %s to %s", clean(p.Name), at(first), at(last))
	if lowAt != first && lowAt != last {
		s += "; least " + at(lowAt)
	}
	if highAt != first && highAt != last {
		s += "; most " + at(highAt)
	}
	s += "."
	if p.BandName != "" {
		s += fmt.Sprintf(" The band, %s: %s to %s.", clean(p.BandName), figure(p.BandLow, ""), figure(p.BandHigh, p.Unit))
	}
	return s
}

// Words says what each line of the chart does, for people and for screen readers.
func (c Chart) Words() string {
	said := make([]string, len(c.Panels))
	for i, p := range c.Panels {
		said[i] = p.words(c)
	}
	return strings.Join(said, " ")
}

// figure writes a number to about three figures with its unit.
func figure(x float64, unit string) string {
	decimals := 0
	if x != 0 && math.Abs(x) < 100 {
		decimals = min(2-int(math.Floor(math.Log10(math.Abs(x)))), 5)
	}
	return strings.TrimSpace(plainZero(strconv.FormatFloat(x, 'f', decimals, 64)) + " " + clean(unit))
}

// whereabouts writes a place on the axis to four figures, without more noughts than it has.
func whereabouts(x float64) string {
	if x == 0 {
		return "0"
	}
	decimals := max(3-int(math.Floor(math.Log10(math.Abs(x)))), 0)
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func plainZero(s string) string {
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// A scale is an axis: round values from the first to the last, all one step apart.
type scale struct {
	low, step float64
	steps     int
}

// newScale spans low to high in at most most steps of 1, 2 or 5 times a power of
// ten. A span of nothing is widened.
func newScale(low, high float64, most int) scale {
	if !(high-low > 1e-9*math.Max(math.Abs(low), math.Abs(high))) {
		room := math.Max(math.Abs(low)*0.1, 1e-6)
		low, high = low-room, high+room
	}
	rough := (high - low) / float64(most)
	for power := int(math.Floor(math.Log10(rough))); ; power++ {
		for _, m := range [...]float64{1, 2, 5} {
			step := m * math.Pow10(power)
			// A hair of slack keeps an end that is a round value from adding a step.
			from, to := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
			if n := int(to - from); n <= most && n > 0 {
				return scale{from * step, step, n}
			}
		}
	}
}

func (s scale) high() float64           { return s.low + s.step*float64(s.steps) }
func (s scale) at(i int) float64        { return s.low + s.step*float64(i) }
func (s scale) share(v float64) float64 { return (v - s.low) / (s.step * float64(s.steps)) }

func (s scale) label(i int) string {
	decimals := max(0, -int(math.Floor(math.Log10(s.step)+1e-9)))
	return plainZero(strconv.FormatFloat(s.at(i), 'f', decimals, 64))
}

// named joins a name and its unit.
func named(name, unit string) string {
	if unit = clean(unit); unit != "" {
		return clean(name) + ", " + unit
	}
	return clean(name)
}

// ChartText draws the chart with characters: stars for the line, dots for a band,
// each panel with its scale, then each line in words. No line is wider than the
// columns given. Errors: a chart with nothing to draw, with values that do not fit
// its places, or with places that do not rise.
func ChartText(c Chart, o Options) (string, error) {
	if err := c.check(); err != nil {
		return "", err
	}
	columns := o.columns()
	var lines []string
	for _, s := range wrapColumns(clean(o.Title), columns) {
		lines = append(lines, bold(plainSpan(s), o.Color).text)
	}
	for _, p := range c.Panels {
		if len(lines) > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, p.text(c, columns)...)
	}
	lines = append(lines, "")
	for _, p := range c.Panels {
		lines = append(lines, wrapColumns(p.words(c), columns)...)
	}
	for i, s := range lines {
		lines[i] = strings.TrimRight(s, " ")
	}
	return strings.Join(lines, "\n") + "\n", nil
}

func (p Panel) text(c Chart, columns int) []string {
	low, high := p.reach()
	sc := newScale(low, high, 4)
	perStep := 2
	if sc.steps < 3 {
		perStep = 4
	}
	rows := sc.steps*perStep + 1
	labelWide := 0
	for i := range sc.steps + 1 {
		labelWide = max(labelWide, len(sc.label(i)))
	}
	plot := min(columns-labelWide-3, 72)
	grid := make([][]byte, rows)
	for r := range grid {
		grid[r] = []byte(strings.Repeat(" ", plot))
		v := sc.low + (sc.high()-sc.low)*float64(r)/float64(rows-1)
		const hair = 1e-9
		if p.BandName != "" && v >= p.BandLow-hair && v <= p.BandHigh+hair {
			grid[r] = []byte(strings.Repeat(".", plot))
		}
	}
	was, i := -1, 0
	x0, x1 := c.X[0], c.X[len(c.X)-1]
	for col := range plot {
		x := x0 + (x1-x0)*float64(col)/float64(plot-1)
		for i+2 < len(c.X) && c.X[i+1] < x {
			i++
		}
		y := p.Y[i] + (p.Y[i+1]-p.Y[i])*(x-c.X[i])/(c.X[i+1]-c.X[i])
		if !finite(y) {
			was = -1
			continue
		}
		r := min(max(int(sc.share(y)*float64(rows-1)+0.5), 0), rows-1)
		for k := min(r, was) + 1; was >= 0 && k < max(r, was); k++ {
			grid[k][col] = '|'
		}
		grid[r][col] = '*'
		was = r
	}
	var out []string
	out = append(out, wrapColumns(named(p.Name, p.Unit), columns)...)
	for r := rows - 1; r >= 0; r-- {
		label, edge := "", " |"
		if r%perStep == 0 {
			label, edge = sc.label(r/perStep), " +"
		}
		out = append(out, strings.Repeat(" ", labelWide-len(label))+label+edge+string(grid[r]))
	}
	lead := strings.Repeat(" ", labelWide+1)
	out = append(out, lead+"+"+strings.Repeat("-", plot))
	left, right := whereabouts(x0), whereabouts(x1)
	middle := cut(named(c.XName, c.XUnit), max(plot-len(left)-len(right)-4, 3))
	gap := plot - len(left) - len(right) - width(middle)
	out = append(out, lead+" "+left+strings.Repeat(" ", max(gap/2, 1))+middle+strings.Repeat(" ", max(gap-gap/2, 1))+right)
	if p.BandName != "" {
		for _, s := range wrapColumns(fmt.Sprintf(". %s, %s to %s", clean(p.BandName), figure(p.BandLow, ""), figure(p.BandHigh, p.Unit)), columns-labelWide-2) {
			out = append(out, lead+" "+s)
		}
	}
	return out
}

// ChartSVG writes the chart as a drawing of vectors. Errors as ChartText, or what w
// reported.
func ChartSVG(w io.Writer, c Chart, o Options) error {
	sc, err := c.scene(o)
	if err != nil {
		return err
	}
	return writeSVG(w, sc, "Chart")
}

// ChartPNG writes the chart as pixels. Errors as ChartText, or what w reported.
func ChartPNG(w io.Writer, c Chart, o Options) error {
	sc, err := c.scene(o)
	if err != nil {
		return err
	}
	return writePNG(w, sc)
}

const (
	chartWide  = 1000.0
	chartLeft  = 92.0 // for the labels of the scale
	chartHigh  = 230.0
	mostMarked = 60 // points that still get a mark each
)

func (c Chart) scene(o Options) (*scene, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	sc, err := newBlank(chartWide, o)
	if err != nil {
		return nil, err
	}
	const room = chartWide - 2*margin
	y := sc.heading(room)
	left, right := margin+chartLeft, chartWide-margin
	ranges := false
	for _, p := range c.Panels {
		y += lineHigh + 6
		sc.strongLabel(sc.cut(named(p.Name, p.Unit), room, sc.strongWidth), point{margin, y})
		y = p.draw(sc, c, left, right, y+20)
		sc.words = append(sc.words, p.words(c))
		for _, s := range wrap(p.words(c), room, sc.width) {
			y += lineHigh
			sc.label(s, point{margin, y}, ink)
		}
		y += 10
		ranges = ranges || p.BandName != ""
	}
	k := sc.key(y, room)
	if c.marked() {
		k.item("worked out here", func(at point) { sc.square(at) })
	}
	k.item("between them", func(at point) {
		sc.line(curve, 3, 0, false, []point{{at.x - 13, at.y}, {at.x + 13, at.y}})
	})
	if ranges {
		k.item("the range that is named in it, and its ends", func(at point) {
			sc.area(within, []point{{at.x - 13, at.y - 7}, {at.x + 13, at.y - 7}, {at.x + 13, at.y + 7}, {at.x - 13, at.y + 7}})
			sc.line(soft, 1.4, 6, false, []point{{at.x - 13, at.y - 7}, {at.x + 13, at.y - 7}}, []point{{at.x - 13, at.y + 7}, {at.x + 13, at.y + 7}})
		})
	}
	sc.high = int(k.y + margin)
	return sc, nil
}

// marked tells whether every point has a mark of its own.
func (c Chart) marked() bool { return len(c.X) <= mostMarked }

func (sc *scene) square(m point) {
	sc.area(curve, []point{{m.x - 4, m.y - 4}, {m.x + 4, m.y - 4}, {m.x + 4, m.y + 4}, {m.x - 4, m.y + 4}})
}

func (p Panel) draw(sc *scene, c Chart, left, right, top float64) float64 {
	low, high := p.reach()
	ys, foot := newScale(low, high, 5), top+chartHigh
	first, last := c.X[0], c.X[len(c.X)-1]
	at := func(x, y float64) point {
		return point{left + float64((x-first)/(last-first)*(right-left)), foot - float64(ys.share(y)*chartHigh)}
	}
	if p.BandName != "" {
		a, b := at(first, p.BandLow), at(last, p.BandHigh)
		sc.area(within, []point{a, {b.x, a.y}, b, {a.x, b.y}})
		sc.line(soft, 1.4, 6, false, []point{a, {b.x, a.y}}, []point{{a.x, b.y}, b})
	}
	for i := range ys.steps + 1 {
		v := at(first, ys.at(i))
		sc.line(rule, 1, 0, false, []point{v, {right, v.y}})
		sc.labelEnd(ys.label(i), point{left - 8, v.y + 7}, soft)
	}
	xs := newScale(first, last, 8)
	free := left - chartLeft/2 // where the next label may start
	for i := range xs.steps + 1 {
		const hair = 1e-9
		if v := xs.at(i); v < first-hair*(last-first) || v > last+hair*(last-first) {
			continue
		}
		tick := at(xs.at(i), ys.low)
		sc.line(soft, 1.4, 0, false, []point{{tick.x, foot}, {tick.x, foot + 6}})
		wide := sc.width(xs.label(i))
		start := min(tick.x-wide/2, right-wide)
		if start >= free {
			sc.label(xs.label(i), point{start, foot + 24}, soft)
			free = start + wide + 12
		}
	}
	sc.line(ink, 1.8, 0, false, []point{{left, top}, {left, foot}, {right, foot}})
	var run []point
	var runs [][]point
	for i, y := range p.Y {
		if finite(y) {
			run = append(run, at(c.X[i], y))
		}
		if !finite(y) || i == len(p.Y)-1 {
			if len(run) > 1 {
				runs = append(runs, run)
			}
			run = nil
		}
	}
	sc.line(curve, 3, 0, false, runs...)
	for i, y := range p.Y {
		if finite(y) && c.marked() {
			sc.square(at(c.X[i], y))
		}
	}
	if p.BandName != "" {
		// In the band if there is room, else above it.
		name := sc.cut(clean(p.BandName), right-left-20, sc.width)
		a, b := at(first, p.BandHigh), at(first, p.BandLow)
		base := a.y - 6
		if b.y-a.y > 22 {
			base = a.y + 18
		}
		sc.label(name, point{left + 10, base}, soft)
	}
	name := sc.cut(named(c.XName, c.XUnit), right-left, sc.width)
	sc.add(shape{text: name, at: point{(left + right) / 2, foot + 24 + lineHigh}, size: textSize, ink: soft, anchor: atMiddle})
	return foot + 24 + lineHigh + 6
}
