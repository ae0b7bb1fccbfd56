package view

import (
	"fmt"
	"strings"

	"shimwright/grading"
	"shimwright/grading/debrief"
	"shimwright/grading/whatif"
	"shimwright/sim/act"
	"shimwright/sim/history"

	"shimwright/sim/text"
)

// Choice writes what was decided with an act: what was known, what would have cost least,
// and what the ways were priced at.
func Choice(n int, o history.Step, ds []grading.Decision, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(p.Print(text.Say("view.whatif.act", "Act {n}: {act}", text.Count("n", n), text.Typed("act", o.Act.String())))))
	b.WriteString(Outcome(o, p))
	if len(ds) == 0 {
		b.WriteString(Wrap(p.Print(text.Say("view.whatif.this-act-decided-nothing", "This act decided nothing that has a price.")), p.Width, ""))
		return b.String()
	}
	for _, d := range ds {
		area := strings.TrimSuffix(sentence(p.Print(d.Area.Name())), ".")
		b.WriteString("\n" + Hang(p.Strong(p.Print(text.Say("view.whatif.minutes-lost", "{it}: {band}, {lost} minutes lost", text.Typed("it", area), text.Typed("band", d.Band()), text.Number("lost", d.Lost, 1)))), p.Width, "", "  "))
		b.WriteString(rowsText(decisionRows(p.Printer, d, debrief.Compare(d.Alternatives)), p))
		if len(d.Alternatives) > 0 {
			b.WriteString(Wrap(p.Print(text.Say("view.whatif.expected-minutes-still-ahead", "Expected minutes still ahead, on what was known:")), p.Width, "  "))
		}
		for _, a := range d.Alternatives {
			prose := a.What
			if a.Chosen {
				prose += p.Print(text.Say("view.whatif.this-was-done", " (this was done)"))
			}
			b.WriteString(p.Field(fmt.Sprintf("  %8.1f", a.Minutes), prose, 13))
		}
	}
	return b.String()
}

// Fork writes what another act would have shown and cost beside what happened.
func Fork(f whatif.Fork, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(p.Print(text.Say("view.whatif.another-act-place-act", "Another act in place of act {n}", text.Count("n", f.N)))))
	act := func(title string, c whatif.Course) {
		b.WriteString(Hang(p.Strong(title)+" "+c.Act.String(), p.Width, "", "  "))
		o := c.Shown
		o.Caution = act.NoCaution
		if prose := Outcome(o, p); prose != "" {
			b.WriteString(prose)
		} else {
			b.WriteString(Wrap(p.Print(text.Say("view.whatif.shows-nothing", "It shows nothing.")), p.Width, "    "))
		}
		for _, d := range c.Decisions {
			b.WriteString(Wrap(p.Print(text.Say("view.whatif.minutes-lost-least-costly", "{area}: {lost} minutes lost, {band}. Least costly: {best}.", text.Of("area", d.Area.Name()), text.Number("lost", d.Lost, 1), text.Typed("band", d.Band()), text.Of("best", d.Best))), p.Width, "    "))
		}
		b.WriteByte('\n')
	}
	act(p.Print(text.Say("view.whatif.done", "Done:")), f.Happened)
	act(p.Print(text.Say("view.whatif.instead", "Instead:")), f.Other)
	courses := []struct {
		name, after string
		c           whatif.Course
	}{{p.Print(text.Say("view.whatif.as-happened", "as it happened")), "", f.Happened}, {p.Print(text.Say("view.whatif.this-act", "this act")), p.Print(text.Say("view.whatif.after-this-act", "After this act")), f.Yours}, {p.Print(text.Say("view.whatif.other-act", "other act")), p.Print(text.Say("view.whatif.after-other-act", "After the other act")), f.Other}}
	t := table{head: []string{p.Print(text.Say("view.whatif.from-here", "From here on"))}}
	for _, x := range courses {
		t.head = append(t.head, " "+x.name)
	}
	row := func(name string, of func(whatif.Course) string) {
		cells := []string{name}
		for _, x := range courses {
			cells = append(cells, of(x.c))
		}
		t.rows = append(t.rows, cells)
	}
	row(p.Print(text.Say("view.whatif.minutes-parts", "minutes and parts")), func(c whatif.Course) string { return fmt.Sprintf("%.0f", float64(c.Minutes)) })
	row(p.Print(text.Say("view.whatif.acts", "acts")), func(c whatif.Course) string { return fmt.Sprint(1 + len(c.Rest)) })
	row(p.Print(text.Say("view.whatif.score-whole", "score of the whole")), func(c whatif.Course) string { return fmt.Sprint(c.Grade.Score) })
	row(p.Print(text.Say("view.whatif.every-spec-met", "every spec met")), func(c whatif.Course) string { return p.Print(rightWords(c)) })
	b.WriteString(t.text(p))
	b.WriteString("\n" + Wrap(p.Print(text.Say("view.whatif.same-simulated-technician-goes", "The same simulated technician goes on from both acts, knowing what had been read so far; the first column is what you did. Each is one course with its own reading errors: differences of a few minutes are chance.")), p.Width, ""))
	for _, x := range courses[1:] {
		if !x.c.Anew.IsZero() {
			b.WriteString(Wrap(p.Print(text.Say("view.whatif.simulated-technician", "{after} the simulated technician {anew}.", text.Typed("after", x.after), text.Of("anew", x.c.Anew))), p.Width, ""))
		}
		if x.c.Stopped != nil {
			b.WriteString(Wrap(p.Print(text.Say("view.whatif.work-could-not-go", "{after} the work could not go on ({it}); only the act itself is graded.", text.Typed("after", x.after), text.Typed("it", p.Error(x.c.Stopped)))), p.Width, ""))
		}
	}
	if len(f.Other.Rest) > 0 {
		b.WriteString("\n" + p.Strong(p.Print(text.Say("view.whatif.what-simulated-technician-did", "What the simulated technician did then"))) + "\n")
		var acts []string
		for _, o := range f.Other.Rest {
			acts = append(acts, o.Act.String())
		}
		b.WriteString(Wrap(strings.Join(acts, "; ")+".", p.Width, "  "))
	}
	return b.String()
}

func rightWords(c whatif.Course) text.Message {
	switch {
	case c.Stopped != nil:
		return text.Say("view.whatif.not-finished", "not finished")
	case c.Right:
		return text.Say("view.whatif.yes", "yes")
	}
	return text.Say("view.whatif.no", "no")
}
