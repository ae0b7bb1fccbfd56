package picture

import (
	"fmt"
	"image/color"

	"shimwright/sim/gauge"
)

// A shape is one thing to draw. Loops with a fill are areas (even-odd), with a
// width they are lines; otherwise the shape is text.
type shape struct {
	loops  [][]point
	closed bool
	fill   bool
	width  float64 // of a line
	dash   float64 // length of dash and gap, or 0
	ink    color.RGBA
	text   string
	at     point // of text: start of its base line
	size   int   // of text: dots per dot letter dot
	toEnd  bool  // at is the end of the text, not its start
	strong bool
}

// A scene is a picture in pixels, the same for SVG and PNG.
type scene struct {
	wide, high int
	title      string
	words      []string
	shapes     []shape
	id         string // Options.ID
}

const (
	maxPatterns  = 24 // larger pictures are a mistake, not a wish
	margin       = 24.0
	panelWide    = 464.0
	panelGap     = 24.0
	labelWide    = 58.0 // left of the tooth, for "top" and "root"
	oppositeHigh = 176.0
	bodyHigh     = 14.0
	lineHigh     = 21.0
	textSize     = 2
	titleSize    = 3
	letterWide   = glyphPitch * textSize
)

// inkLevels are the bounds of the brightness steps drawn. The lowest lies above
// the grain of untouched compound.
var inkLevels = [...]float64{0.26, 0.38, half, 0.62, 0.74, 0.88}

type paints struct{ paper, text, soft, compound, bright, body, line color.RGBA }

func newPaints(inColor bool) paints {
	p := paints{
		paper:    color.RGBA{255, 255, 255, 255},
		text:     color.RGBA{24, 24, 24, 255},
		soft:     color.RGBA{84, 84, 84, 255},
		compound: color.RGBA{31, 78, 107, 255},
		bright:   color.RGBA{246, 238, 214, 255},
		body:     color.RGBA{150, 153, 156, 255},
		line:     color.RGBA{150, 178, 194, 255},
	}
	if !inColor {
		for _, c := range []*color.RGBA{&p.compound, &p.bright, &p.body, &p.line} {
			y := color.GrayModel.Convert(*c).(color.Gray).Y
			*c = color.RGBA{y, y, y, 255}
		}
	}
	return p
}

func mix(a, b color.RGBA, x float64) color.RGBA {
	m := func(a, b uint8) uint8 { return uint8(float64(a) + (float64(b)-float64(a))*x + 0.5) }
	return color.RGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), 255}
}

func letters(s string) float64 { return float64(len([]rune(s)) * letterWide) }

func newScene(patterns []gauge.ToothPattern, o Options) (*scene, error) {
	if len(patterns) > maxPatterns {
		return nil, fmt.Errorf("too many patterns for one picture: %d given, at most %d fit", len(patterns), maxPatterns)
	}
	perRow := min(max(len(patterns), 1), 2)
	wide := 2*margin + float64(perRow)*panelWide + float64(perRow-1)*panelGap
	c := newPaints(o.Color)
	sc := &scene{id: o.ID, wide: int(wide), title: clean(o.Title)}
	y := margin
	room := wide - 2*margin
	for _, s := range wrap(sc.title, room*textSize/titleSize, letters) {
		y += 7 * titleSize
		sc.add(shape{text: s, at: point{margin, y}, size: titleSize, ink: c.text})
		y += 10
	}
	if len(patterns) == 0 {
		sc.words = []string{noPatterns}
		y += lineHigh
		sc.label(noPatterns, point{margin, y}, c.text)
		sc.high = int(y + margin)
		return sc, nil
	}
	for len(patterns) > 0 {
		n := min(perRow, len(patterns))
		below := y
		for i, p := range patterns[:n] {
			left := margin + float64(i)*(panelWide+panelGap)
			below = max(below, sc.panel(newFlank(p), left, y, c))
		}
		y = below
		patterns = patterns[n:]
		if len(patterns) > 0 {
			y += 14
		}
	}
	y = sc.legend(y+6, room, perRow > 1, c)
	sc.high = int(y + margin)
	return sc, nil
}

func (sc *scene) add(s shape) { sc.shapes = append(sc.shapes, s) }

func (sc *scene) label(s string, at point, ink color.RGBA) {
	sc.add(shape{text: s, at: at, size: textSize, ink: ink})
}

func (sc *scene) labelEnd(s string, at point, ink color.RGBA) {
	sc.add(shape{text: s, at: at, size: textSize, ink: ink, toEnd: true})
}

func (sc *scene) area(ink color.RGBA, loops ...[]point) {
	if len(loops) > 0 {
		sc.add(shape{loops: loops, closed: true, fill: true, ink: ink})
	}
}

func (sc *scene) line(ink color.RGBA, width, dash float64, closed bool, loops ...[]point) {
	if len(loops) > 0 {
		sc.add(shape{loops: loops, closed: closed, width: width, dash: dash, ink: ink})
	}
}

// cross marks a place so that it shows on dark and on light.
func (sc *scene) cross(at point, arm float64, c paints) {
	arms := [][]point{{{at.x - arm, at.y}, {at.x + arm, at.y}}, {{at.x, at.y - arm}, {at.x, at.y + arm}}}
	sc.line(c.paper, 7, 0, false, arms...)
	sc.line(c.text, 3, 0, false, arms...)
}

// rubbed paints a flank's pattern, brighter the more compound is gone, and returns the
// outline of what counts as rubbed. place maps the flank to the picture.
func (sc *scene) rubbed(f flank, place func(s, t float64) point, c paints) (edge [][]point) {
	for i, level := range inkLevels {
		loops := f.contour(level)
		for _, l := range loops {
			for k, p := range l {
				l[k] = place(p.x, p.y)
			}
		}
		sc.area(mix(c.compound, c.bright, float64(i+1)/float64(len(inkLevels))), loops...)
		if level == half {
			edge = loops
		}
	}
	return edge
}

// panel draws one flank with its labels and words and returns where it ends.
func (sc *scene) panel(f flank, left, y float64, c paints) float64 {
	y += lineHigh
	heading := cut(f.heading(), int(panelWide)/letterWide)
	sc.add(shape{text: heading, at: point{left, y}, size: textSize, ink: c.text, strong: true})
	y += 12
	x0, x1 := left+labelWide, left+panelWide
	root := y + oppositeHigh
	// place maps a place on the flank to the picture.
	place := func(s, t float64) point {
		return point{x0 + s*(x1-x0), root - t*heightAt(s)*oppositeHigh}
	}
	outline := []point{place(0, 0), place(0, 1), place(1, 1), place(1, 0)}
	sc.area(c.body, []point{{x0 - 6, root}, {x1, root}, {x1, root + bodyHigh}, {x0 - 6, root + bodyHigh}})
	sc.area(c.compound, outline)
	edge := sc.rubbed(f, place, c)
	sc.line(c.line, 1.6, 7, false, []point{place(0, 0.5), place(1, 0.5)}, []point{place(0.5, 0), place(0.5, 1)})
	sc.line(c.text, 1.4, 0, true, edge...)
	sc.line(c.text, 2.4, 0, true, outline)
	if f.found {
		sc.cross(place(f.s, f.t), 9, c)
	}
	sc.labelEnd("top", point{x0 - 10, place(0, 1).y + 12}, c.soft)
	sc.labelEnd("root", point{x0 - 10, root}, c.soft)
	y = root + bodyHigh + lineHigh
	sc.label("toe", point{x0, y}, c.soft)
	sc.labelEnd("heel", point{x1, y}, c.soft)
	y += 8
	sc.words = append(sc.words, f.words())
	for _, s := range wrap(f.words(), panelWide, letters) {
		y += lineHigh
		sc.label(s, point{left, y}, c.text)
	}
	return y + 6
}

// legend explains the picture's signs and returns where it ends.
func (sc *scene) legend(y, room float64, both bool, c paints) float64 {
	x := margin
	y += lineHigh
	item := func(text string, sign func(at point)) {
		const signWide = 34.0
		w := signWide + letters(text)
		if sign == nil {
			w = letters(text)
		}
		if x > margin && x+w > margin+room {
			x, y = margin, y+lineHigh+4
		}
		at := x
		if sign != nil {
			sign(point{x + 13, y - 7})
			at += signWide
		}
		sc.label(text, point{at, y}, c.soft)
		x += w + 26
	}
	box := func(ink color.RGBA) func(point) {
		return func(at point) {
			b := []point{{at.x - 13, at.y - 8}, {at.x + 13, at.y - 8}, {at.x + 13, at.y + 8}, {at.x - 13, at.y + 8}}
			sc.area(ink, b)
			sc.line(c.text, 1.4, 0, true, b)
		}
	}
	item("compound untouched", box(c.compound))
	item("rubbed bright", box(c.bright))
	item("center of pattern", func(at point) { sc.cross(at, 9, c) })
	item("middle of tooth", func(at point) {
		box(c.compound)(at)
		sc.line(c.line, 1.6, 7, false, []point{{at.x - 12, at.y}, {at.x + 12, at.y}})
	})
	if both {
		item(sameWay, nil)
	}
	return y
}
