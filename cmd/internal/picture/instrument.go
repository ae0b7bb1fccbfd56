package picture

import (
	"math"
	"strconv"

	"shimwright/sim/gauge"
)

// DialWide and DialHigh are the least size of an indicator's face.
const (
	DialWide = 17
	DialHigh = 5
)

// Dial draws the face of a dial indicator whose needle stands where a value puts it. turn is
// what one turn of the needle reads, and marks are the figures at a quarter turn each, from
// the top on.
func Dial(value, turn float64, marks [4]string, w, h int) *Canvas {
	c := NewCanvas(w, h)
	cx, cy := float64(w-1)/2, float64(h-1)/2
	rx, ry := cx-3, cy
	at := func(share, out float64) (int, int) {
		s, k := math.Sincos(2 * math.Pi * share)
		return int(math.Round(cx + out*rx*s)), int(math.Round(cy - out*ry*k))
	}
	const dots = 40
	for i := range dots {
		x, y := at(float64(i)/dots, 1)
		c.Text(x, y, "·", Quiet)
	}
	share := 0.0
	if turn > 0 && finite(value) {
		share = math.Mod(value/turn, 1)
	}
	s, k := math.Sincos(2 * math.Pi * share)
	glyph := "│"
	switch {
	case math.Abs(s*rx) > 2.5*math.Abs(k*ry):
		glyph = "─"
	case math.Abs(s*rx) < 0.6*math.Abs(k*ry):
	case s*k > 0:
		glyph = "/"
	default:
		glyph = `\`
	}
	const steps = 24
	for i := 1; i < steps; i++ {
		x, y := at(share, 0.92*float64(i)/steps)
		c.Text(x, y, glyph, Strong)
	}
	c.Text(int(math.Round(cx)), int(math.Round(cy)), "o", Strong)
	c.Text(int(math.Round(cx))-width(marks[0])/2, 0, marks[0], Bare)
	c.Text(w-width(marks[1]), int(math.Round(cy)), marks[1], Bare)
	c.Text(int(math.Round(cx))-width(marks[2])/2, h-1, marks[2], Bare)
	c.Text(0, int(math.Round(cy)), marks[3], Bare)
	return c
}

// A Scale is the scale of a torque wrench or a spring scale.
type Scale struct {
	Low, High   float64 // specification; both 0 for none
	Least, Most float64 // of the reading over a turn
	End         float64 // of the scale
	Step        float64 // between the figures
}

// NewScale chooses an end for a scale that shows a specification and a reading.
func NewScale(low, high, least, most float64) Scale {
	s := Scale{Low: low, High: high, Least: least, Most: most}
	end := 1.25 * math.Max(math.Max(high, most), 1e-9)
	if !finite(end) {
		end = 1
	}
	s.Step = math.Pow(10, math.Floor(math.Log10(end)))
	for _, part := range []float64{0.2, 0.5, 1} {
		if end/(s.Step*part) <= 6 {
			s.Step *= part
			break
		}
	}
	s.End = s.Step * math.Ceil(end/s.Step)
	return s
}

// Draw draws the scale in three rows: figures, the scale with its specification shaded, and
// the pointer with what it ran over.
func (s Scale) Draw(w int) *Canvas {
	c := NewCanvas(w, 3)
	at := func(v float64) int {
		return int(math.Round(math.Min(math.Max(v/s.End, 0), 1) * float64(w-2)))
	}
	c.Fill(0, 1, w-2, 1, "─", Bare)
	if s.High > 0 {
		c.Fill(at(s.Low), 1, at(s.High), 1, "▒", Right)
	}
	for i := range int(math.Round(s.End/s.Step)) + 1 {
		v := float64(i) * s.Step
		name := strconv.FormatFloat(v, 'g', 4, 64)
		x := at(v)
		if s.High == 0 || x < at(s.Low) || x > at(s.High) {
			c.Text(x, 1, "┼", Bare)
		}
		c.Text(min(max(0, x-width(name)/2), w-width(name)), 0, name, Bare)
	}
	ink := Right
	mean := (s.Least + s.Most) / 2
	if s.High > 0 && (mean < s.Low || mean > s.High) {
		ink = Wrong
	}
	c.Fill(at(s.Least), 2, at(s.Most), 2, "═", ink)
	c.Text(at(mean), 2, "▲", ink)
	return c
}

// Band draws the patterns of both sides next to each other, toe at the left and root below,
// as high as there is room: for a screen that has more to show. Names stand over them.
func Band(patterns []gauge.ToothPattern, names []string, w, h int, color bool) *Canvas {
	c := NewCanvas(w, h)
	if len(patterns) == 0 || h < 2 {
		return c
	}
	tooth := (w - 2*(len(patterns)-1)) / len(patterns)
	for i, p := range patterns {
		f := newFlank(p)
		x := i * (tooth + 2)
		name := f.name
		if i < len(names) {
			name = names[i]
		}
		c.Text(x, 0, cut(name, tooth), Bare)
		l := layout{columns: w, tooth: tooth, rows: h - 1}
		for r := range l.rows {
			for k := range tooth {
				up := 2*(l.rows-r) - 1
				pair := [2]int{f.level(k, up, l), f.level(k, up-1, l)}
				c.put(x+k, r+1, halfBlock(pair, color))
			}
		}
		if f.found {
			k := min(int(f.s*float64(tooth)), tooth-1)
			up := min(int(f.t*float64(halves(k, l))), halves(k, l)-1)
			c.put(x+k, l.rows-up/2, cell{glyph: "+", fg: darkMark, bg: palette[len(palette)-1], strong: true})
		}
	}
	return c
}
