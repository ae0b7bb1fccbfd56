package picture

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A typeface gives the widths and the outlines of letters, in whole numbers of 1/64 pixel, so
// that every machine places and draws them alike.
type typeface struct {
	font *sfnt.Font
	buf  sfnt.Buffer
}

// typefaces are those of a picture: ordinary letters and strong ones.
type typefaces struct{ plain, strong *typeface }

func newTypefaces() (typefaces, error) {
	plain, err := newTypeface(goregular.TTF)
	if err != nil {
		return typefaces{}, err
	}
	strong, err := newTypeface(gobold.TTF)
	return typefaces{plain, strong}, err
}

func newTypeface(source []byte) (*typeface, error) {
	f, err := sfnt.Parse(source)
	if err != nil {
		return nil, fmt.Errorf("the letters of pictures cannot be read: %w", err)
	}
	return &typeface{font: f}, nil
}

func (t typefaces) of(strong bool) *typeface {
	if strong {
		return t.strong
	}
	return t.plain
}

// glyph returns the number of a letter's outline, none for a letter that the typeface lacks.
func (t *typeface) glyph(r rune) (sfnt.GlyphIndex, bool) {
	n, err := t.font.GlyphIndex(&t.buf, r)
	return n, err == nil && n != 0
}

// has tells whether every letter has an outline.
func (t *typeface) has(s string) bool {
	for _, r := range s {
		if _, ok := t.glyph(r); !ok {
			return false
		}
	}
	return true
}

// each visits the outlines of a text that is size pixels high, with where each begins in 1/64
// pixel, and returns where the text ends. A letter without an outline is spelled.
func (t *typeface) each(s string, size int, visit func(n sfnt.GlyphIndex, from fixed.Int26_6)) fixed.Int26_6 {
	var at fixed.Int26_6
	one := func(r rune) bool {
		n, ok := t.glyph(r)
		if !ok {
			return false
		}
		if visit != nil {
			visit(n, at)
		}
		wide, err := t.font.GlyphAdvance(&t.buf, n, fixed.I(size), font.HintingNone)
		if err == nil {
			at += wide
		}
		return true
	}
	for _, r := range s {
		if !one(r) {
			for _, other := range spell(r) {
				one(other)
			}
		}
	}
	return at
}

// width returns how wide a text is, in pixels.
func (t *typeface) width(s string, size int) float64 {
	const parts = 64
	return float64(t.each(s, size, nil)) / parts
}

// outlines returns the loops of a text whose base line begins at a place.
func (t *typeface) outlines(s string, size int, start spot) [][]spot {
	const perPart = unit / 64
	var loops [][]spot
	t.each(s, size, func(n sfnt.GlyphIndex, from fixed.Int26_6) {
		segments, err := t.font.LoadGlyph(&t.buf, n, fixed.I(size), nil)
		if err != nil {
			return // an embedded font has none that cannot be read
		}
		at := func(p fixed.Point26_6) spot {
			return spot{start.x + int64(from+p.X)*perPart, start.y + int64(p.Y)*perPart}
		}
		var loop []spot
		for _, s := range segments {
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				if len(loop) > 0 {
					loops = append(loops, loop)
				}
				loop = []spot{at(s.Args[0])}
			case sfnt.SegmentOpLineTo:
				loop = append(loop, at(s.Args[0]))
			case sfnt.SegmentOpQuadTo: // outlines of this kind of font have no other curve
				const steps = 6
				a, b, c := loop[len(loop)-1], at(s.Args[0]), at(s.Args[1])
				for k := int64(1); k <= steps; k++ {
					u, v, w := (steps-k)*(steps-k), 2*k*(steps-k), k*k
					loop = append(loop, spot{(u*a.x + v*b.x + w*c.x) / (steps * steps), (u*a.y + v*b.y + w*c.y) / (steps * steps)})
				}
			}
		}
		if len(loop) > 0 {
			loops = append(loops, loop)
		}
	})
	return loops
}
