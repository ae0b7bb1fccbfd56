package text

import (
	"strings"

	"shimwright/sim/quantity"
)

// A Printer turns messages into text in a person's units and language. Only what talks to
// people makes one; a test of the imports holds that. The zero Printer prints inch units in
// English.
type Printer struct {
	units   quantity.System
	overlay Overlay
}

// NewPrinter returns a printer. The zero Overlay leaves all texts English.
func NewPrinter(units quantity.System, overlay Overlay) Printer { return Printer{units, overlay} }

// Units returns the units it prints in.
func (p Printer) Units() quantity.System { return p.units }

// In returns the printer with other units.
func (p Printer) In(units quantity.System) Printer { return Printer{units, p.overlay} }

// Print writes a message.
func (p Printer) Print(m Message) string {
	template := m.english
	if t, ok := p.overlay.templates[m.code]; ok {
		template = t
	}
	if len(m.args) == 0 {
		return template
	}
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(template, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		blank, after, closed := strings.Cut(rest, "}")
		if !closed {
			b.WriteString("{" + rest)
			return b.String()
		}
		b.WriteString(p.blank(m, blank))
		template = after
	}
}

// blank fills one blank of a template: a name, or a name with forms.
func (p Printer) blank(m Message, blank string) string {
	name, forms, plural := strings.Cut(blank, ":")
	for _, a := range m.args {
		if a.name != name {
			continue
		}
		if !plural {
			return a.value.print(p)
		}
		if n, ok := a.value.(count); ok {
			return p.overlay.form(int(n), strings.Split(forms, "|"))
		}
	}
	return "{" + blank + "}"
}

// Error prints an error: what it says of itself, with the message it carries in the place of
// the message's code.
func (p Printer) Error(err error) string {
	m, of, ok := told(err)
	if !ok {
		return err.Error()
	}
	return strings.Replace(err.Error(), of.Error(), p.Print(m), 1)
}
