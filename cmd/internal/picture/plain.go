package picture

import (
	"strings"

	"shimwright/sim/gauge"
)

// density stands for ink from untouched to rubbed bright.
const density = " .:*#"

// Plain draws the prints with ASCII characters alone (a title or flank name in
// another script keeps its letters): no colour, no block glyphs, no escape
// sequences. The more rubbed, the denser the character. A sentence per flank
// follows.
func Plain(prints []gauge.ToothPrint, o Options) string {
	const frame = 2
	l := newLayout(o, len(prints), frame)
	var title []span
	for _, s := range wrapColumns(ascii(o.Title, true), l.columns) {
		title = append(title, plainSpan(s))
	}
	if len(prints) == 0 {
		return l.assemble(title, nil, []span{plainSpan(noPrints)})
	}
	blocks := make([][]span, len(prints))
	var legend []span
	for i, p := range prints {
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
		plainSpan("O centre of print"), plainSpan("> ^ < middle of tooth")}
	if l.perRow > 1 {
		items = append(items, plainSpan(sameWay))
	}
	legend = append(legend, flow(items, l.columns)...)
	return l.assemble(title, blocks, legend)
}

func (f flank) plainRows(l layout) []string {
	high := func(c int) int {
		return int(float64(l.rows)*heightAt((float64(c)+0.5)/float64(l.tooth)) + 0.5)
	}
	centre, centreUp := -1, -1
	if f.found {
		centre = min(int(f.s*float64(l.tooth)), l.tooth-1)
		centreUp = min(int(f.t*float64(high(centre))), high(centre)-1)
	}
	out := []string{cut(f.heading(), l.block)}
	toe, heel := high(0), high(l.tooth-1)
	for up := l.rows; up >= 0; up-- {
		var b strings.Builder
		switch up {
		case toe - 1:
			b.WriteString(" top ")
		case 0:
			b.WriteString("root ")
		default:
			b.WriteString("     ")
		}
		b.WriteString(side(up, toe, '>'))
		for c := range l.tooth {
			h := high(c)
			switch {
			case up > h:
				b.WriteByte(' ')
			case up == h:
				b.WriteByte('_')
			case c == centre && up == centreUp:
				b.WriteByte('O')
			default:
				s, t := (float64(c)+0.5)/float64(l.tooth), (float64(up)+0.5)/float64(h)
				ink := f.over(s, t, 0.5/float64(l.tooth), 0.5/float64(h))
				b.WriteByte(density[min(int(ink*float64(len(density))), len(density)-1)])
			}
		}
		b.WriteString(side(up, heel, '<'))
		out = append(out, strings.TrimRight(b.String(), " "))
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
