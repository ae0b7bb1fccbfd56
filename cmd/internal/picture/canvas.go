package picture

import "strings"

// An Ink is what something is drawn in. Each reads on a light and on a dark background, and
// none carries a meaning that a word or a glyph does not carry too.
type Ink int

// The inks.
const (
	Bare Ink = iota
	Strong
	Quiet // what is not there, what cannot be done
	Right
	Wrong
	Shim
	Metal // a part that is in
)

func (i Ink) cell(glyph string) cell {
	c := cell{glyph: glyph, fg: outside, bg: outside}
	switch i {
	case Strong:
		c.strong = true
	case Quiet:
		c.fg = 244
	case Right:
		c.fg = 34
	case Wrong:
		c.fg, c.strong = 160, true
	case Shim:
		c.fg, c.strong = 172, true
	case Metal:
		c.fg = 67
	}
	return c
}

// A Canvas is a grid of characters to draw on. What falls outside is not drawn.
type Canvas struct {
	W, H  int
	cells []cell
}

// NewCanvas returns an empty canvas.
func NewCanvas(w, h int) *Canvas {
	c := &Canvas{W: max(w, 0), H: max(h, 0)}
	c.cells = make([]cell, c.W*c.H)
	for i := range c.cells {
		c.cells[i] = Bare.cell(" ")
	}
	return c
}

func (c *Canvas) put(x, y int, what cell) {
	if x >= 0 && x < c.W && y >= 0 && y < c.H {
		c.cells[y*c.W+x] = what
	}
}

// Text writes a text from a place on, cut at the edge, and returns the column after it.
func (c *Canvas) Text(x, y int, s string, ink Ink) int {
	for _, r := range s {
		w := width(string(r))
		if w == 0 {
			continue
		}
		if x+w > c.W {
			break
		}
		c.put(x, y, ink.cell(string(r)))
		for k := 1; k < w; k++ {
			c.put(x+k, y, cell{glyph: "", fg: outside, bg: outside}) // a wide glyph covers two
		}
		x += w
	}
	return x
}

// Fill fills a box, both corners included, with a glyph.
func (c *Canvas) Fill(x0, y0, x1, y1 int, glyph string, ink Ink) {
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			c.put(x, y, ink.cell(glyph))
		}
	}
}

// Draw puts another canvas on this one.
func (c *Canvas) Draw(x, y int, other *Canvas) {
	for dy := range other.H {
		for dx := range other.W {
			c.put(x+dx, y+dy, other.cells[dy*other.W+dx])
		}
	}
}

// String writes the canvas, a line for each row, without blanks at the ends of lines. Without
// color there is not one escape sequence in it.
func (c *Canvas) String(color bool) string {
	rows := make([]string, c.H)
	for y := range c.H {
		row := c.cells[y*c.W : (y+1)*c.W]
		end := len(row)
		for end > 0 && row[end-1].glyph == " " && row[end-1].bg == outside {
			end--
		}
		rows[y] = paint(row[:end], color).text
	}
	return strings.Join(rows, "\n")
}
