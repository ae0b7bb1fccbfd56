package view

import (
	"fmt"
	"strings"

	"shimwright/scenarios/catalogue"
	"shimwright/sim/text"
)

// forPractice is said wherever rates stand.
func forPractice() text.Message {
	return text.Say("faults.for-practice", "Rates and sizes are chosen for practice, not for how often a fault is met on the road.")
}

// FaultList writes the names of the catalogue by kind and area.
func FaultList(all []catalogue.Entry, p Pen) string {
	const column = 22
	var b strings.Builder
	for i, kind := range catalogue.Kinds() {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(Wrap(p.Strong(p.Print(kindTitle(kind))), p.Width, ""))
		seen := map[string]bool{}
		for _, e := range all {
			if e.Kind != kind || seen[e.Area] {
				continue
			}
			seen[e.Area] = true
			var ids []string
			for _, o := range all {
				if o.Kind == kind && o.Area == e.Area {
					ids = append(ids, o.ID)
				}
			}
			b.WriteString(p.Field("  "+e.Area, strings.Join(ids, ", "), column))
		}
	}
	b.WriteString("\n" + Wrap(p.Print(text.Say("faults.next", "How often: {area}. One of them: {show}. {practice}",
		text.Typed("area", p.Command("fault list AREA")), text.Typed("show", p.Command("fault show NAME")), text.Of("practice", forPractice()))), p.Width, ""))
	return b.String()
}

func kindTitle(k catalogue.Kind) text.Message {
	if k == catalogue.Mistake {
		return text.Say("faults.kind.mistakes", "Mistakes of the previous technician, on a previous-work axle")
	}
	return text.Say("faults.kind.faults", "Faults an axle can come with")
}

// FaultArea writes the entries of an area, each with how often it comes up.
func FaultArea(es []catalogue.Entry, p Pen) string {
	const column = 34
	var b strings.Builder
	kind := catalogue.Kind("")
	for _, e := range es {
		if e.Kind != kind {
			if kind != "" {
				b.WriteByte('\n')
			}
			kind = e.Kind
			b.WriteString(Wrap(p.Strong(p.Print(text.Say("faults.in-100", "{kind}, in 100", text.Of("kind", kindTitle(kind))))), p.Width, ""))
		}
		b.WriteString(p.Field("  "+fmt.Sprintf("%2.0f", 100*e.Often)+"  "+e.ID, p.Print(e.Name), column))
	}
	b.WriteString("\n" + Wrap(p.Print(forPractice()), p.Width, ""))
	return b.String()
}

// FaultPage writes all that the catalogue has of one entry.
func FaultPage(e catalogue.Entry, p Pen) string {
	const column = 17
	var b strings.Builder
	row := func(name text.Message, what text.Message) {
		if s := p.Print(what); s != "" {
			b.WriteString(p.Field("  "+p.Print(name), sentence(s), column))
		}
	}
	typed := func(name text.Message, what string) { b.WriteString(p.Field("  "+p.Print(name), what, column)) }
	b.WriteString(p.Heading(e.ID + ": " + p.Print(e.Name)))
	row(text.Say("faults.row.kind", "What it is"), text.Say("faults.row.kind.is", "{kind}, {area}", text.Of("kind", kindName(e.Kind)), text.Of("area", e.AreaName)))
	row(text.Say("faults.row.cause", "Cause"), e.Cause)
	row(text.Say("faults.row.shows", "Shows"), e.Shows)
	row(text.Say("faults.row.size", "Size"), e.Size.Range())
	row(text.Say("faults.row.taken-for", "Mistaken for"), e.TakenFor)
	row(text.Say("faults.row.told", "Told apart by"), e.Told)
	if e.Kind == catalogue.FaultState {
		typed(text.Say("faults.row.test", "Test"), e.Test.String())
	}
	row(text.Say("faults.row.remedy", "Remedy"), e.Remedy)
	if e.Kind == catalogue.FaultState {
		typed(text.Say("faults.row.cure", "Act"), e.Cure.String())
	}
	row(text.Say("faults.row.missed", "If missed"), e.Missed)
	if e.Kind == catalogue.FaultState {
		row(text.Say("faults.row.late", "Found late"), text.Say("faults.row.late.is", "{min} on average; {back} of such axles are assumed to come back, the rest are found on the bench",
			text.Minutes("min", float64(e.Late.Average)), text.Percent("back", e.Late.Back)))
	}
	row(text.Say("faults.row.rate", "Rate"), rate(e))
	for _, on := range e.On {
		row(text.Say("faults.row.on", "Only on"), on)
	}
	row(text.Say("faults.row.difficulty", "Difficulty"), text.Say("faults.row.difficulty.is", "{n} of 5", text.Number("n", float64(e.Difficulty), 0)))
	for _, q := range catalogue.Pairs() {
		if other := q.Other(e.ID); other != "" {
			typed(text.Say("faults.row.alike", "Look-alike"), p.Print(text.Say("faults.row.alike.is", "{other}. {agree} {apart}",
				text.Typed("other", other), text.Of("agree", q.Agree), text.Of("apart", q.Apart))))
		}
	}
	source := text.Say("faults.row.source.none", "{strength}. {practice}", text.Of("strength", e.Strength.Name()), text.Of("practice", forPractice()))
	if !e.Source.IsZero() {
		source = text.Say("faults.row.source.is", "{strength}: {source}. {practice}", text.Of("strength", e.Strength.Name()), text.Of("source", e.Source), text.Of("practice", forPractice()))
	}
	row(text.Say("faults.row.source", "Source"), source)
	typed(text.Say("faults.row.lesson", "Lesson"), p.Command("lesson "+e.Lesson))
	return b.String()
}

func rate(e catalogue.Entry) text.Message {
	if e.Kind == catalogue.Mistake {
		return text.Say("faults.rate.mistakes", "about {n} in 100 previous-work axles", text.Number("n", 100*e.Often, 0))
	}
	return text.Say("faults.rate.faults", "about {n} in 100 jobs that can bring it", text.Number("n", 100*e.Often, 0))
}

func kindName(k catalogue.Kind) text.Message {
	if k == catalogue.Mistake {
		return text.Say("faults.kind.mistake", "a mistake of the previous technician")
	}
	return text.Say("faults.kind.fault", "a fault the axle comes with")
}
