package picture

import (
	"fmt"

	"shimwright/sim/gauge"
)

// A shape is one thing to draw. Loops with a fill are areas (a hole turns the other way), with
// a width they are lines; otherwise the shape is text.
type shape struct {
	loops  [][]point
	closed bool
	fill   bool
	width  float64 // of a line
	dash   float64 // length of dash and gap, or 0
	ink    hue
	text   string
	at     point // of text: start of its base line
	size   int   // of text: pixels
	anchor anchor
	strong bool
}

// An anchor is which part of a text stands at its place.
type anchor string

const (
	atStart  anchor = "start"
	atMiddle anchor = "middle"
	atEnd    anchor = "end"
)

// A scene is a picture in pixels, the same for SVG and PNG.
type scene struct {
	wide, high int
	title      string
	words      []string
	shapes     []shape
	faces      typefaces
	theme      theme
	id         string // Options.ID
}

func newBlank(wide float64, o Options) (*scene, error) {
	faces, err := newTypefaces()
	return &scene{wide: int(wide), title: clean(o.Title), id: o.ID, faces: faces, theme: o.theme()}, err
}

const (
	maxPatterns  = 24 // larger pictures are a mistake, not a wish
	margin       = 24.0
	sceneWide    = 1000.0
	flankLeft    = 56.0 // left of the tooth, for "top" and "root"
	flankRight   = 486.0
	teethLeft    = 530.0
	teethScale   = 1.3
	oppositeHigh = 176.0
	bodyHigh     = 14.0
	lineHigh     = 23.0
	textSize     = 18
	titleSize    = 26
)

// inkLevels are the bounds of the brightness steps drawn. The lowest lies above
// the grain of untouched compound.
var inkLevels = [...]float64{0.26, 0.38, half, 0.62, 0.74, 0.88}

// width measures a text of the usual size.
func (sc *scene) width(s string) float64 { return sc.faces.plain.width(s, textSize) }

func (sc *scene) strongWidth(s string) float64 { return sc.faces.strong.width(s, textSize) }

// cut shortens a text to a width.
func (sc *scene) cut(s string, room float64, measure func(string) float64) string {
	if measure(s) <= room {
		return s
	}
	letters := []rune(s)
	for n := len(letters) - 1; n > 0; n-- {
		if short := string(letters[:n]) + "…"; measure(short) <= room {
			return short
		}
	}
	return ""
}

func newScene(patterns []gauge.ToothPattern, o Options) (*scene, error) {
	if len(patterns) > maxPatterns {
		return nil, fmt.Errorf("too many patterns for one picture: %d given, at most %d fit", len(patterns), maxPatterns)
	}
	sc, err := newBlank(sceneWide, o)
	if err != nil {
		return nil, err
	}
	const room = sceneWide - 2*margin
	y := sc.heading(room)
	if len(patterns) == 0 {
		sc.words = []string{noPatterns}
		y += lineHigh
		sc.label(noPatterns, point{margin, y}, ink)
		sc.high = int(y + margin)
		return sc, nil
	}
	for _, p := range patterns {
		y = sc.panel(newFlank(p), y) + 14
	}
	sc.high = int(sc.legend(y, room, len(patterns) > 1) + margin)
	return sc, nil
}

func (sc *scene) add(s shape) { sc.shapes = append(sc.shapes, s) }

func (sc *scene) label(s string, at point, h hue) {
	sc.add(shape{text: s, at: at, size: textSize, ink: h})
}

func (sc *scene) labelEnd(s string, at point, h hue) {
	sc.add(shape{text: s, at: at, size: textSize, ink: h, anchor: atEnd})
}

func (sc *scene) strongLabel(s string, at point) {
	sc.add(shape{text: s, at: at, size: textSize, ink: ink, strong: true})
}

// heading writes the title and returns where it ends.
func (sc *scene) heading(room float64) float64 {
	y := margin
	for _, s := range wrap(sc.title, room, func(s string) float64 { return sc.faces.plain.width(s, titleSize) }) {
		y += titleSize - 5
		sc.add(shape{text: s, at: point{margin, y}, size: titleSize, ink: ink})
		y += 12
	}
	return y
}

func (sc *scene) area(h hue, loops ...[]point) {
	if len(loops) > 0 {
		sc.add(shape{loops: loops, closed: true, fill: true, ink: h})
	}
}

func (sc *scene) line(h hue, width, dash float64, closed bool, loops ...[]point) {
	if len(loops) > 0 {
		sc.add(shape{loops: loops, closed: closed, width: width, dash: dash, ink: h})
	}
}

// cross marks a place so that it shows on dark and on light.
func (sc *scene) cross(at point, arm float64) {
	arms := [][]point{{{at.x - arm, at.y}, {at.x + arm, at.y}}, {{at.x, at.y - arm}, {at.x, at.y + arm}}}
	sc.line(halo, 7, 0, false, arms...)
	sc.line(mark, 3, 0, false, arms...)
}

// rubbed paints a flank's pattern, brighter the more compound is gone, and returns the
// outline of what counts as rubbed. place maps the flank to the picture.
func (sc *scene) rubbed(f flank, place func(s, t float64) point) (edge [][]point) {
	for i, level := range inkLevels {
		loops := f.contour(level)
		for _, l := range loops {
			for k, p := range l {
				l[k] = place(p.x, p.y)
			}
		}
		sc.area(rubbedFrom+hue(i), loops...)
		if level == half {
			edge = loops
		}
	}
	return edge
}

// panel draws one flank flat, with its labels and words, and beside it as it is on the gear,
// and returns where it ends.
func (sc *scene) panel(f flank, top float64) float64 {
	y := top + lineHigh
	sc.strongLabel(sc.cut(f.heading(), flankRight-margin, sc.strongWidth), point{margin, y})
	y += 12
	const x0, x1 = margin + flankLeft, flankRight
	root := y + oppositeHigh
	// place maps a place on the flank to the picture.
	place := func(s, t float64) point {
		return point{x0 + float64(s*(x1-x0)), root - float64(t*heightAt(s)*oppositeHigh)}
	}
	outline := []point{place(0, 0), place(0, 1), place(1, 1), place(1, 0)}
	sc.area(body, []point{{x0 - 6, root}, {x1, root}, {x1, root + bodyHigh}, {x0 - 6, root + bodyHigh}})
	sc.area(compound, outline)
	around := sc.rubbed(f, place)
	sc.line(grid, 1.6, 7, false, []point{place(0, 0.5), place(1, 0.5)}, []point{place(0.5, 0), place(0.5, 1)})
	sc.line(mark, 1.4, 0, true, around...)
	sc.line(ink, 2.4, 0, true, outline)
	if f.found {
		sc.cross(place(f.s, f.t), 9)
	}
	sc.labelEnd("top", point{x0 - 10, place(0, 1).y + 12}, soft)
	sc.labelEnd("root", point{x0 - 10, root}, soft)
	y = root + bodyHigh + lineHigh
	sc.label("toe", point{x0, y}, soft)
	sc.labelEnd("heel", point{x1, y}, soft)
	y += 4
	sc.words = append(sc.words, f.words())
	for _, s := range wrap(f.words(), flankRight-margin, sc.width) {
		y += lineHigh
		sc.label(s, point{margin, y}, ink)
	}
	sc.teeth(f, point{teethLeft, top + 14}, teethScale)
	return max(y, top+14+teethHigh*teethScale)
}

// legend explains the picture's signs and returns where it ends.
func (sc *scene) legend(y, room float64, both bool) float64 {
	k := sc.key(y, room)
	k.item("compound untouched", k.box(compound))
	k.item("rubbed bright", k.box(bright))
	k.item("edge of the pattern", func(at point) {
		k.box(bright)(at)
		sc.line(mark, 1.4, 0, false, []point{{at.x, at.y - 8}, {at.x, at.y + 8}})
	})
	k.item("center of the pattern", func(at point) { sc.cross(at, 9) })
	k.item("middle of the tooth", func(at point) {
		k.box(compound)(at)
		sc.line(grid, 1.6, 7, false, []point{{at.x - 12, at.y}, {at.x + 12, at.y}})
	})
	if both {
		k.item(sameWay, nil)
	}
	return k.y
}

// A key explains the signs of a picture, one after another.
type key struct {
	sc         *scene
	x, y, room float64
}

func (sc *scene) key(y, room float64) *key { return &key{sc, margin, y + lineHigh, room} }

func (k *key) item(text string, sign func(at point)) {
	const signWide = 34.0
	wide := k.sc.width(text)
	if sign != nil {
		wide += signWide
	}
	if k.x > margin && k.x+wide > margin+k.room {
		k.x, k.y = margin, k.y+lineHigh+4
	}
	at := k.x
	if sign != nil {
		sign(point{k.x + 13, k.y - 6})
		at += signWide
	}
	k.sc.label(text, point{at, k.y}, soft)
	k.x += wide + 26
}

// box is the sign of an area.
func (k *key) box(h hue) func(point) {
	return func(at point) {
		b := []point{{at.x - 13, at.y - 8}, {at.x + 13, at.y - 8}, {at.x + 13, at.y + 8}, {at.x - 13, at.y + 8}}
		k.sc.area(h, b)
		k.sc.line(ink, 1.4, 0, true, b)
	}
}
