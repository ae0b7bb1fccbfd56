package picture

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// width counts terminal columns. The zero condition keeps the environment out.
func width(s string) int { return (&runewidth.Condition{}).StringWidth(s) }

// wrap breaks s into lines no longer than limit as measured by measure; a word
// longer than a line is broken inside.
func wrap(s string, limit float64, measure func(string) float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && measure(line+" "+word) <= limit {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
		for _, r := range word {
			if line != "" && measure(line+string(r)) > limit {
				lines = append(lines, line)
				line = ""
			}
			line += string(r)
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

func wrapColumns(s string, columns int) []string {
	return wrap(s, float64(columns), func(s string) float64 { return float64(width(s)) })
}

// A span is text whose width is known apart from its escape sequences.
type span struct {
	text  string
	width int
}

func plainSpan(s string) span { return span{s, width(s)} }

// beside sets blocks of lines side by side, each column starting pitch after the
// one before.
func beside(blocks [][]span, pitch int) []string {
	n := 0
	for _, b := range blocks {
		n = max(n, len(b))
	}
	lines := make([]string, n)
	for i := range lines {
		var l strings.Builder
		at := 0
		for k, b := range blocks {
			if i >= len(b) || b[i].width == 0 {
				continue
			}
			l.WriteString(strings.Repeat(" ", max(k*pitch-at, 0)))
			l.WriteString(b[i].text)
			at = k*pitch + b[i].width
		}
		lines[i] = strings.TrimRight(l.String(), " ")
	}
	return lines
}

// A layout is how much room a text picture of a flank gets.
type layout struct {
	columns int // of the whole picture
	perRow  int // flanks side by side
	pitch   int // columns from one flank's block to the next
	block   int // columns of a block
	tooth   int // columns of the drawn flank, odd so that it has a middle one
	rows    int // character rows of the heel end
}

// gutter is the room left of the tooth for "top" and "root".
const gutter = 5

func newLayout(o Options, patterns, frame int) layout {
	l := layout{columns: o.columns(), perRow: 1}
	l.block = min(l.columns, 64)
	if l.columns >= pairColumns && patterns > 1 {
		l.perRow = 2
		l.block = (l.columns - 3) / 2
	}
	l.pitch = l.block + 3
	l.tooth = l.block - gutter - frame
	l.tooth -= 1 - l.tooth%2
	// Taller than true to scale: how high a pattern sits is what is judged first.
	l.rows = 10
	if l.tooth > 45 {
		l.rows = 12
	}
	return l
}

// ends is the line under the tooth that names its ends.
func (l layout) ends(frame int) string {
	const toe, heel = "toe", "heel"
	return strings.Repeat(" ", gutter) + toe + strings.Repeat(" ", l.tooth+frame-len(toe)-len(heel)) + heel
}

// assemble puts title, blocks and legend together.
func (l layout) assemble(title []span, blocks [][]span, legend []span) string {
	var lines []string
	for _, s := range title {
		lines = append(lines, s.text)
	}
	if len(title) > 0 {
		lines = append(lines, "")
	}
	for len(blocks) > 0 {
		n := min(l.perRow, len(blocks))
		lines = append(lines, beside(blocks[:n], l.pitch)...)
		lines = append(lines, "")
		blocks = blocks[n:]
	}
	lines = append(lines, beside([][]span{legend}, 0)...)
	return strings.Join(lines, "\n") + "\n"
}

// flow sets items after one another, three blanks apart, breaking lines between
// items.
func flow(items []span, columns int) []span {
	var lines []span
	for _, it := range items {
		if n := len(lines); n > 0 && lines[n-1].width+3+it.width <= columns {
			lines[n-1].text += "   " + it.text
			lines[n-1].width += 3 + it.width
			continue
		}
		lines = append(lines, it)
	}
	return lines
}
