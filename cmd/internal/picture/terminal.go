package picture

import (
	"strconv"
	"strings"

	"shimwright/sim/gauge"
)

// Colors of the 256-color palette, from compound untouched to rubbed bright.
// Each is brighter than the one before, so that a gray screen shows the same.
var palette = [...]int{24, 67, 110, 152, 188, 230}

// shades stand for the same steps without color.
var shades = [...]string{"░", "░", "▒", "▒", "▓", "█"}

const (
	outside   = -1  // no tooth here
	bodyColor = 242 // the gear below the root
	darkMark  = 16
	lightMark = 153
)

// Terminal draws the patterns with block glyphs, in color if o allows, and says
// each in words below it. Drive and coast stand side by side from 80 columns up,
// one above the other below that. No line is wider than the columns given and
// none ends in a blank.
func Terminal(patterns []gauge.ToothPattern, o Options) string {
	l := newLayout(o, len(patterns), 0)
	var title []span
	for _, s := range wrapColumns(clean(o.Title), l.columns) {
		title = append(title, bold(plainSpan(s), o.Color))
	}
	if len(patterns) == 0 {
		return l.assemble(title, nil, []span{plainSpan(noPatterns)})
	}
	blocks := make([][]span, len(patterns))
	shaped, any := false, false
	for i, p := range patterns {
		f := newFlank(p)
		shaped = shaped || f.ink != nil
		any = any || f.found
		blocks[i] = f.block(l, o.Color)
	}
	return l.assemble(title, blocks, terminalLegend(l, o.Color, any))
}

func bold(s span, color bool) span {
	if color && s.text != "" {
		s.text = "\x1b[1m" + s.text + "\x1b[0m"
	}
	return s
}

func terminalLegend(l layout, color, center bool) []span {
	swatch := func(level int) span {
		c := cell{glyph: "█", fg: palette[level], bg: outside}
		if !color {
			c = cell{glyph: shades[level], fg: outside, bg: outside}
		}
		return paint([]cell{c, c}, color)
	}
	item := func(s span, text string) span {
		return span{s.text + " " + text, s.width + 1 + width(text)}
	}
	items := []span{
		item(swatch(0), "compound untouched"),
		item(swatch(len(palette)-1), "rubbed bright"),
	}
	if center {
		items = append(items, plainSpan("+ center of pattern"))
	}
	items = append(items, plainSpan("┊ middle of tooth"))
	if l.perRow > 1 {
		items = append(items, plainSpan(sameWay))
	}
	return flow(items, l.columns)
}

// A cell is one character with its colors, or outside for the terminal's own.
type cell struct {
	glyph  string
	fg, bg int
	strong bool
}

// paint writes cells, one escape sequence per change of color.
func paint(cells []cell, color bool) span {
	var b strings.Builder
	was := cell{fg: outside, bg: outside}
	for _, c := range cells {
		if color && (c.fg != was.fg || c.bg != was.bg || c.strong != was.strong) {
			b.WriteString("\x1b[0")
			if c.strong {
				b.WriteString(";1")
			}
			if c.fg != outside {
				b.WriteString(";38;5;" + strconv.Itoa(c.fg))
			}
			if c.bg != outside {
				b.WriteString(";48;5;" + strconv.Itoa(c.bg))
			}
			b.WriteString("m")
			was = c
		}
		b.WriteString(c.glyph)
	}
	if was.fg != outside || was.bg != outside || was.strong {
		b.WriteString("\x1b[0m")
	}
	return span{b.String(), len(cells)}
}

// block is one flank's part of the picture.
func (f flank) block(l layout, color bool) []span {
	out := []span{bold(plainSpan(cut(f.heading(), l.block)), color)}
	grid := f.grid(l, color)
	toeRow := l.rows - (halves(0, l)+1)/2
	for r, cells := range grid {
		label := strings.Repeat(" ", gutter)
		switch r {
		case toeRow:
			label = " top "
		case l.rows - 1:
			label = "root "
		}
		s := paint(cells, color)
		out = append(out, span{label + s.text, gutter + s.width})
	}
	out = append(out, plainSpan(l.ends(0)))
	for _, s := range wrapColumns(f.words(), l.block) {
		out = append(out, plainSpan(s))
	}
	return out
}

// halves is the height of the flank at column c, in half rows.
func halves(c int, l layout) int {
	s := (float64(c) + 0.5) / float64(l.tooth)
	return int(float64(2*l.rows)*heightAt(s) + 0.5)
}

// grid lays out the flank's cells, top row first; the last row is the gear body.
func (f flank) grid(l layout, color bool) [][]cell {
	// Two levels to a cell: the upper and the lower half.
	levels := make([][][2]int, l.rows)
	grid := make([][]cell, l.rows+1)
	for r := range l.rows {
		levels[r] = make([][2]int, l.tooth)
		grid[r] = make([]cell, l.tooth)
		for c := range l.tooth {
			fromRoot := 2*(l.rows-r) - 1
			levels[r][c] = [2]int{f.level(c, fromRoot, l), f.level(c, fromRoot-1, l)}
			grid[r][c] = halfBlock(levels[r][c], color)
		}
	}
	for range l.tooth {
		grid[l.rows] = append(grid[l.rows], cell{glyph: "▀", fg: bodyColor, bg: outside})
	}
	mark := func(c, fromRoot int, glyph string, strong bool) {
		r := l.rows - 1 - fromRoot/2
		pair := levels[r][c]
		if pair[0] == outside && r+1 < l.rows {
			r++ // only a cell wholly on the flank can carry a mark
			pair = levels[r][c]
		}
		if pair[0] != pair[1] && !strong {
			return // the edge of the pattern matters more than a line across it
		}
		m := cell{glyph: glyph, fg: lightMark, bg: palette[max(pair[1], 0)], strong: strong}
		if pair[1] >= len(palette)/2 {
			m.fg = darkMark
		}
		grid[r][c] = m
	}
	middle := l.tooth / 2
	for c := middle % 2; c < l.tooth; c += 2 {
		mark(c, halves(c, l)/2, "╌", false)
	}
	for y := 0; y < halves(middle, l)-1; y += 2 {
		mark(middle, y, "┊", false)
	}
	if f.found {
		c := min(int(f.s*float64(l.tooth)), l.tooth-1)
		mark(c, min(int(f.t*float64(halves(c, l))), halves(c, l)-1), "+", true)
	}
	return grid
}

// level is the brightness step of half a cell, or outside.
func (f flank) level(c, fromRoot int, l layout) int {
	high := halves(c, l)
	if fromRoot >= high {
		return outside
	}
	s, t := (float64(c)+0.5)/float64(l.tooth), (float64(fromRoot)+0.5)/float64(high)
	ink := f.over(s, t, 0.5/float64(l.tooth), 0.5/float64(high))
	return min(int(ink*float64(len(palette))), len(palette)-1)
}

// halfBlock shows two levels, the upper first, in a single character.
func halfBlock(pair [2]int, color bool) cell {
	switch {
	case pair[1] == outside:
		return cell{glyph: " ", fg: outside, bg: outside}
	case pair[0] == outside && color:
		return cell{glyph: "▄", fg: palette[pair[1]], bg: outside}
	case pair[0] == outside:
		return cell{glyph: "▄", fg: outside, bg: outside}
	case color:
		return cell{glyph: "▀", fg: palette[pair[0]], bg: palette[pair[1]]}
	}
	return cell{glyph: shades[(pair[0]+pair[1]+1)/2], fg: outside, bg: outside}
}

// cut shortens s to the given columns.
func cut(s string, columns int) string {
	if width(s) <= columns {
		return s
	}
	n := 0
	for i, r := range s {
		if n += width(string(r)); n > columns-3 {
			return s[:i] + "..."
		}
	}
	return s
}
