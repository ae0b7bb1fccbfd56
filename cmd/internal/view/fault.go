package view

import (
	"fmt"
	"strings"

	"shimwright/scenarios/catalogue"
	"shimwright/sim/quantity"
)

// FaultList writes the names of the catalogue by kind and area.
func FaultList(all []catalogue.Entry, p Pen) string {
	const column = 22
	var b strings.Builder
	for i, kind := range []catalogue.Kind{catalogue.FaultState, catalogue.Mistake} {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(Wrap(p.Strong(kindTitle(kind)), p.Width, ""))
		for _, area := range catalogue.Areas(kind) {
			var ids []string
			for _, e := range all {
				if e.Kind == kind && e.Area == area {
					ids = append(ids, e.ID)
				}
			}
			b.WriteString(p.Field("  "+area, strings.Join(ids, ", "), column))
		}
	}
	b.WriteString("\n" + Wrap(fmt.Sprintf("How often: %s. One of them: %s.", p.Command("fault list AREA"), p.Command("fault show NAME")), p.Width, ""))
	return b.String()
}

func kindTitle(k catalogue.Kind) string {
	if k == catalogue.Mistake {
		return "Slips of another hand, on a previous-work axle"
	}
	return "Fault states an axle can come with"
}

// FaultArea writes the entries of an area, each with how often it turns up.
func FaultArea(es []catalogue.Entry, p Pen) string {
	const column = 30
	var b strings.Builder
	kind := catalogue.Kind("")
	for _, e := range es {
		if e.Kind != kind {
			if kind != "" {
				b.WriteByte('\n')
			}
			kind = e.Kind
			b.WriteString(Wrap(p.Strong(kindTitle(kind)+", out of a hundred"), p.Width, ""))
		}
		b.WriteString(p.Field(fmt.Sprintf("  %2.0f  %s", 100*e.Often, e.ID), e.Name, column))
	}
	return b.String()
}

// FaultPage writes all that the catalogue has of one entry.
func FaultPage(e catalogue.Entry, units quantity.System, p Pen) string {
	const column = 14
	var b strings.Builder
	plain := func(name, text string) { b.WriteString(p.Field("  "+name, text, column)) }
	row := func(name, text string) {
		if text != "" {
			plain(name, sentence(text))
		}
	}
	b.WriteString(p.Heading(e.ID + ": " + e.Name))
	row("What it is", kindWords(e.Kind)+", "+e.Area)
	row("Cause", e.Cause)
	row("Shows", e.Shows)
	row("Size", sizeWords(e, units))
	row("Taken for", e.TakenFor)
	row("Told by", e.Told)
	if e.Kind == catalogue.FaultState {
		plain("Test", e.Test.String())
	}
	row("Cure", e.Remedy)
	if e.Kind == catalogue.FaultState {
		plain("Done by", e.Cure.String())
	}
	row("If missed", e.Missed)
	often := fmt.Sprintf("about %.0f in a hundred jobs that can bring it", 100*e.Often)
	if e.Kind == catalogue.Mistake {
		often = fmt.Sprintf("about %.0f in a hundred previous-work axles", 100*e.Often)
	}
	row("How often", often)
	row("Only on", e.On)
	row("Difficulty", fmt.Sprintf("%d of 5", e.Difficulty))
	for _, q := range catalogue.Pairs() {
		if other := q.Other(e.ID); other != "" {
			plain("Look-alike", other+". Both: "+q.Agree+". Decides: "+q.Apart+".")
		}
	}
	source := string(e.Strength)
	if e.Source != "" {
		source += ": " + e.Source
	}
	row("Source", source+"; sizes and rates are invented for practice")
	plain("Lesson", p.Command("lesson "+e.Lesson))
	return b.String()
}

func kindWords(k catalogue.Kind) string {
	if k == catalogue.Mistake {
		return "a slip of another hand"
	}
	return "a fault state"
}

// sizeWords writes the range of a size in the units asked for.
func sizeWords(e catalogue.Entry, units quantity.System) string {
	kind, rest, _ := strings.Cut(e.Unit, " ")
	show := func(x float64) string { return fmt.Sprintf("%g", x) }
	switch {
	case e.Unit == "":
		return ""
	case kind == "mm":
		show = func(x float64) string { return quantity.Millimetres(x).Show(units) }
	case kind == "N·mm":
		show = func(x float64) string { return quantity.Torque(x).ShowRotating(units) }
	case e.Unit == "of the reading":
		show = func(x float64) string { return fmt.Sprintf("%.0f%%", 100*x) }
		rest = e.Unit
	}
	return strings.TrimSpace(show(e.Low) + " to " + show(e.High) + " " + rest)
}
