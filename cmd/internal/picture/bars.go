package picture

import (
	"math"
	"strconv"
	"strings"
)

// A Bar is one row of a bar chart.
type Bar struct {
	Label string
	Value float64 // in Options.Unit
	Note  string
}

// Bars draws horizontal bars of text, the longest value filling the room there
// is, each with its value to one decimal. A negative value is drawn with "-"
// instead of "#"; a value that is not a finite number is said to be missing.
// Notes stand at the end of the row if every one of them fits there, else on
// lines below. No color and no glyph beyond ASCII is used for the bars
// themselves. No rows give no bars, only the title.
func Bars(rows []Bar, o Options) string {
	columns := o.columns()
	unit := clean(o.Unit)
	labels := make([][]string, len(rows))
	values := make([]string, len(rows))
	notes := make([]string, len(rows))
	var labelW, valueW, noteW int
	longest := 0.0
	for i, r := range rows {
		labels[i] = wrapColumns(clean(r.Label), columns*2/5)
		for _, s := range labels[i] {
			labelW = max(labelW, width(s))
		}
		values[i] = cut(value(r.Value, unit), columns/3)
		valueW = max(valueW, width(values[i]))
		notes[i] = clean(r.Note)
		noteW = max(noteW, width(notes[i]))
		if finite(r.Value) {
			longest = max(longest, math.Abs(r.Value))
		}
	}
	// Label, two blanks, bar, blank, value.
	barW := min(columns-labelW-valueW-3, 40)
	inline := labelW+2+barW+1+valueW+2+noteW <= columns
	if !inline {
		// A shorter bar may make room; below 20 columns it says too little.
		if room := columns - labelW - valueW - noteW - 5; room >= 20 {
			barW, inline = room, true
		}
	}
	var lines []string
	lines = append(lines, wrapColumns(clean(o.Title), columns)...)
	for i, r := range rows {
		label := ""
		if len(labels[i]) > 0 {
			label = labels[i][0]
		}
		b := bar(r.Value, longest, barW)
		line := pad(label, labelW) + "  " + pad(b, barW) + " " + strings.Repeat(" ", valueW-width(values[i])) + values[i]
		if inline && notes[i] != "" {
			line += "  " + notes[i]
		}
		lines = append(lines, line)
		lines = append(lines, labels[i][min(1, len(labels[i])):]...)
		if !inline {
			for _, s := range wrapColumns(notes[i], columns-4) {
				lines = append(lines, "    "+s)
			}
		}
	}
	if len(lines) == 0 {
		return ""
	}
	for i, s := range lines {
		lines[i] = strings.TrimRight(s, " ")
	}
	return strings.Join(lines, "\n") + "\n"
}

func value(x float64, unit string) string {
	if !finite(x) {
		return "missing"
	}
	form := byte('f')
	if math.Abs(x) >= 1e9 {
		form = 'e' // digits by the dozen would only be cut off
	}
	s := strconv.FormatFloat(x, form, 1, 64)
	if s == "-0.0" {
		s = "0.0"
	}
	if unit != "" {
		s += " " + unit
	}
	return s
}

func bar(x, longest float64, room int) string {
	if !finite(x) || longest == 0 || x == 0 {
		return ""
	}
	// Divided first, so that the widest values cannot overflow.
	n := int(math.Abs(x)/longest*float64(room) + 0.5)
	if n == 0 && math.Abs(x) >= 0.05 {
		n = 1 // what is written as more than 0.0 shows
	}
	if x < 0 {
		return strings.Repeat("-", n)
	}
	return strings.Repeat("#", n)
}

func pad(s string, columns int) string { return s + strings.Repeat(" ", max(columns-width(s), 0)) }
