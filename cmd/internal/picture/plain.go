package picture

import (
	"strings"

	"shimwright/sim/gauge"
)

// density stands for ink from untouched to rubbed bright.
const density = " .:*#"

// Plain draws the patterns with ASCII characters alone (a title or flank name in
// another script keeps its letters): no color, no block glyphs, no escape
// sequences. The more rubbed, the denser the character. A sentence per flank
// follows.
func Plain(patterns []gauge.ToothPattern, o Options) string {
	const frame = 2
	l := newLayout(o, len(patterns), frame)
	var title []span
	for _, s := range wrapColumns(ascii(o.Title, true), l.columns) {
		title = append(title, plainSpan(s))
	}
	if len(patterns) == 0 {
		return l.assemble(title, nil, []span{plainSpan(noPatterns)})
	}
	blocks := make([][]span, len(patterns))
	var legend []span
	for i, p := range patterns {
		p.Flank = ascii(p.Flank, true)
		f := newFlank(p)
		for _, s := range f.plainRows(l) {
			blocks[i] = append(blocks[i], plainSpan(s))
		}
		for _, s := range wrapColumns(f.words(), l.columns) {
			legend = append(legend, plainSpan(s))
		}
	}
	legend = append(legend, span{})
	items := []span{plainSpan("# rubbed bright"), plainSpan(". hardly rubbed"), plainSpan("blank: compound untouched"),
		plainSpan("O center of pattern"), plainSpan("> ^ < middle of tooth")}
	if l.perRow > 1 {
		items = append(items, plainSpan(sameWay))
	}
	legend = append(legend, flow(items, l.columns)...)
	return l.assemble(title, blocks, legend)
}

// A plainTooth is a flank drawn with characters: rows above the root, and where in
// them the pattern's center stands (-1 where there is none).
type plainTooth struct {
	f                flank
	tooth, rows      int
	center, centerUp int
}

func (f flank) plainTooth(l layout) plainTooth {
	t := plainTooth{f: f, tooth: l.tooth, rows: l.rows, center: -1, centerUp: -1}
	if f.found {
		t.center = min(int(f.s*float64(l.tooth)), l.tooth-1)
		t.centerUp = min(int(f.t*float64(t.high(t.center))), t.high(t.center)-1)
	}
	return t
}

// high is how many rows the tooth has at a column.
func (t plainTooth) high(column int) int {
	return int(float64(t.rows)*heightAt((float64(column)+0.5)/float64(t.tooth)) + 0.5)
}

// row draws the row that stands so many rows above the root, both ends included.
func (t plainTooth) row(up int) string {
	var b strings.Builder
	b.WriteString(side(up, t.high(0), '>'))
	for c := range t.tooth {
		h := t.high(c)
		switch {
		case up > h:
			b.WriteByte(' ')
		case up == h:
			b.WriteByte('_')
		case c == t.center && up == t.centerUp:
			b.WriteByte('O')
		default:
			ink := t.f.over((float64(c)+0.5)/float64(t.tooth), (float64(up)+0.5)/float64(h), 0.5/float64(t.tooth), 0.5/float64(h))
			b.WriteByte(density[min(int(ink*float64(len(density))), len(density)-1)])
		}
	}
	b.WriteString(side(up, t.high(t.tooth-1), '<'))
	return b.String()
}

func (f flank) plainRows(l layout) []string {
	t := f.plainTooth(l)
	out := []string{cut(f.heading(), l.block)}
	for up := l.rows; up >= 0; up-- {
		name := "     "
		switch up {
		case t.high(0) - 1:
			name = " top "
		case 0:
			name = "root "
		}
		out = append(out, strings.TrimRight(name+t.row(up), " "))
	}
	edge := strings.Repeat("-", l.tooth/2)
	out = append(out, strings.Repeat(" ", gutter)+"+"+edge+"^"+edge+"+", l.ends(2))
	return out
}

// side draws the toe or heel end: a bar with a pointer at half its height.
func side(up, high int, pointer rune) string {
	switch {
	case up >= high:
		return " "
	case up == high/2:
		return string(pointer)
	}
	return "|"
}
