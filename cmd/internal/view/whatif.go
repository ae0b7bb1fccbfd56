package view

import (
	"fmt"
	"strings"

	"shimwright/grading"
	"shimwright/grading/debrief"
	"shimwright/grading/whatif"
	"shimwright/sim/act"
	"shimwright/sim/history"
)

// Choice writes what was decided with an act: what was known, what would have cost least,
// and what the ways were priced at.
func Choice(n int, o history.Step, ds []grading.Decision, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(fmt.Sprintf("Act %d: %s", n, o.Act)))
	b.WriteString(Outcome(o, p))
	if len(ds) == 0 {
		b.WriteString(Wrap("This act decided nothing that has a price.", p.Width, ""))
		return b.String()
	}
	for _, d := range ds {
		b.WriteString("\n" + Hang(p.Strong(fmt.Sprintf("%s: %s, %.1f minutes lost", sentence(string(d.Area))[:len(sentence(string(d.Area)))-1], d.Band(), d.Lost)), p.Width, "", "  "))
		b.WriteString(rowsText(decisionRows(p.Printer, d, debrief.Compare(d.Alternatives)), p))
		if len(d.Alternatives) > 0 {
			b.WriteString(Wrap("Expected minutes still ahead, on what was known:", p.Width, "  "))
		}
		for _, a := range d.Alternatives {
			text := a.What
			if a.Chosen {
				text += " (this was done)"
			}
			b.WriteString(p.Field(fmt.Sprintf("  %8.1f", a.Minutes), text, 13))
		}
	}
	return b.String()
}

// Fork writes what another act would have shown and cost beside what happened.
func Fork(f whatif.Fork, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(fmt.Sprintf("Another act in place of act %d", f.N)))
	act := func(title string, c whatif.Course) {
		b.WriteString(Hang(p.Strong(title)+" "+c.Act.String(), p.Width, "", "  "))
		o := c.Shown
		o.Caution = act.NoCaution
		if text := Outcome(o, p); text != "" {
			b.WriteString(text)
		} else {
			b.WriteString(Wrap("It shows nothing.", p.Width, "    "))
		}
		for _, d := range c.Decisions {
			b.WriteString(Wrap(fmt.Sprintf("%s: %.1f minutes lost, %s. Least costly: %s.", d.Area, d.Lost, d.Band(), p.Print(d.Best)), p.Width, "    "))
		}
		b.WriteByte('\n')
	}
	act("Done:", f.Happened)
	act("Instead:", f.Other)
	courses := []struct {
		name, after string
		c           whatif.Course
	}{{"as it happened", "", f.Happened}, {"this act", "After this act", f.Yours}, {"other act", "After the other act", f.Other}}
	t := table{head: []string{"From here on"}}
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
	row("minutes and parts", func(c whatif.Course) string { return fmt.Sprintf("%.0f", float64(c.Minutes)) })
	row("acts", func(c whatif.Course) string { return fmt.Sprint(1 + len(c.Rest)) })
	row("score of the whole", func(c whatif.Course) string { return fmt.Sprint(c.Grade.Score) })
	row("every spec met", rightWords)
	b.WriteString(t.text(p))
	b.WriteString("\n" + Wrap("The same simulated technician goes on from both acts, knowing what had been read so far; the first column is what you did. Each is one course with its own reading errors: differences of a few minutes are chance.", p.Width, ""))
	for _, x := range courses[1:] {
		if !x.c.Anew.IsZero() {
			b.WriteString(Wrap(fmt.Sprintf("%s the simulated technician %s.", x.after, p.Print(x.c.Anew)), p.Width, ""))
		}
		if x.c.Stopped != nil {
			b.WriteString(Wrap(fmt.Sprintf("%s the work could not go on (%s); only the act itself is graded.", x.after, p.Error(x.c.Stopped)), p.Width, ""))
		}
	}
	if len(f.Other.Rest) > 0 {
		b.WriteString("\n" + p.Strong("What the simulated technician did then") + "\n")
		var acts []string
		for _, o := range f.Other.Rest {
			acts = append(acts, o.Act.String())
		}
		b.WriteString(Wrap(strings.Join(acts, "; ")+".", p.Width, "  "))
	}
	return b.String()
}

func rightWords(c whatif.Course) string {
	switch {
	case c.Stopped != nil:
		return "not finished"
	case c.Right:
		return "yes"
	}
	return "no"
}
