package view

import (
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Wrap breaks text at spaces so that no line is wider than width, with indent
// before every line after the first as well as the first.
func Wrap(text string, width int, indent string) string {
	return Hang(text, width, indent, indent)
}

// Hang is Wrap with a different start for the first line. Numbers stay with their
// units: a word that begins with a letter after a number is kept on its line when
// it is a unit. Color codes take no room.
func Hang(text string, width int, first, rest string) string {
	var b strings.Builder
	line := first
	empty := true
	for _, w := range glueUnits(strings.Fields(text)) {
		if !empty && ansi.StringWidth(line)+1+ansi.StringWidth(w) > width {
			b.WriteString(strings.TrimRight(line, " "))
			b.WriteByte('\n')
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line += w
		empty = false
	}
	b.WriteString(strings.TrimRight(line, " "))
	b.WriteByte('\n')
	return b.String()
}

func glueUnits(words []string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		if n := len(out); n > 0 && isUnit(w) && endsInDigit(out[n-1]) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// sentence starts a text with a capital and ends it with a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(text)
	out := strings.ToUpper(string(r)) + text[n:]
	if !strings.ContainsAny(out[len(out)-1:], ".:?") {
		out += "."
	}
	return out
}

// pad fills a text to a width with spaces.
func pad(text string, width int) string {
	if n := ansi.StringWidth(text); n < width {
		return text + strings.Repeat(" ", width-n)
	}
	return text
}

// A Pen writes for one person: in that person's units, to a width, whether color may be
// used, and what starts the program on that person's machine.
type Pen struct {
	text.Printer
	Width   int
	Color   bool
	Program string
}

// NewPen returns a pen that writes as the printer does, to a width.
func NewPen(p text.Printer, width int) Pen { return Pen{Printer: p, Width: width} }

// In returns the pen with other units.
func (p Pen) In(units quantity.System) Pen {
	p.Printer = p.Printer.In(units)
	return p
}

// Command returns a command as the person must type it.
func (p Pen) Command(rest string) string {
	if p.Program == "" {
		return "shimwright " + rest
	}
	return p.Program + " " + rest
}

const (
	bold  = "\x1b[1m"
	faint = "\x1b[2m"
	reset = "\x1b[0m"
)

// Strong returns the text in bold where color may be used.
func (p Pen) Strong(text string) string {
	if !p.Color || text == "" {
		return text
	}
	return bold + text + reset
}

// Quiet returns the text dimmed where color may be used.
func (p Pen) Quiet(text string) string {
	if !p.Color || text == "" {
		return text
	}
	return faint + text + reset
}

// Heading returns a heading with a rule under it.
func (p Pen) Heading(text string) string {
	return Wrap(p.Strong(text), p.Width, "") + strings.Repeat("-", min(p.Width, ansi.StringWidth(text))) + "\n"
}

// Field writes a name and what belongs to it side by side, the text starting at
// the column, or one under the other where the page is too narrow for both.
func (p Pen) Field(name, text string, column int) string {
	const narrowest = 16 // columns that still hold the longest words and numbers
	lead := strings.Repeat(" ", column)
	if p.Width-column >= narrowest && ansi.StringWidth(name) < column {
		return Hang(text, p.Width, pad(name, column), lead)
	}
	indent := name[:len(name)-len(strings.TrimLeft(name, " "))]
	if p.Width-column < narrowest {
		lead = indent + "    "
	}
	return Hang(name, p.Width, indent, indent+"    ") + Wrap(text, p.Width, lead)
}
