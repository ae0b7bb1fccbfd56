package view

import (
	"fmt"
	"strings"

	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// CardParts are the names of the parts of a job card, in the card's order.
func CardParts() []string { return []string{"job", "axle", "pinion", "case", "rates"} }

// Card writes the whole job card.
func Card(c scenarios.Card, units quantity.System, p Pen) string {
	g := &page{pen: p, units: units}
	g.job(c)
	g.text.WriteByte('\n')
	g.sheet(c)
	g.text.WriteByte('\n')
	g.rates(c)
	g.notice()
	return g.text.String()
}

// CardPart writes one part of a job card, no longer than a small screen; ok is false
// when the card has no part of that name. "all" and "sheet" are several parts at once.
func CardPart(c scenarios.Card, part string, units quantity.System, p Pen) (text string, ok bool) {
	g := &page{pen: p, units: units}
	switch part {
	case "all":
		return Card(c, units, p), true
	case "job":
		g.job(c)
		g.say(family.Notice)
		return g.text.String(), true
	case "sheet":
		g.sheet(c)
	case "axle":
		g.axle(c.Family)
	case "pinion":
		g.pinion(c)
	case "case":
		g.sides(c)
	case "rates":
		g.rates(c)
	default:
		return "", false
	}
	g.notice()
	return g.text.String(), true
}

// job is what the person who brought the axle and the person who stripped it tell.
func (g *page) job(c scenarios.Card) {
	k, d := c.Known, c.Family.Design
	g.text.WriteString(g.pen.Heading(fmt.Sprintf("Job %d: %s", c.Seed, c.Family.Name)))
	g.say(fmt.Sprintf("Vehicle: %s. Complaint: %s.", c.Vehicle, c.Complaint))
	g.say("The axle is stripped, on a stand, the pinion cups in place. On the bench is a new ring and pinion with matching numbers, the ring gear bolted to its case.")
	bearings := "new pinion and side bearings"
	if c.UsedBearings {
		bearings = "the used ones go back in: go by the figures for used"
	}
	g.row("Bearings", bearings)
	g.row("Old depth shim", k.OldDepthShim.Show(g.units))
	if c.Family.Sheet.Marks.Known() {
		g.row("Pinion marks", fmt.Sprintf("old pinion %s, new pinion %s", k.OldMark.ShowSigned(g.units), k.NewMark.ShowSigned(g.units)))
		g.row("What marks mean", c.Family.Sheet.Marks.Explain())
	} else {
		g.row("Pinion marks", unmarked)
	}
	if d.SideAdjust != family.ThreadedRings {
		g.row("Old side shims", fmt.Sprintf("back (behind the ring gear) %s, tooth side %s", k.OldBackShim.Show(g.units), k.OldToothShim.Show(g.units)))
	}
}

// rates are how often which fault turns up, and how far the old build can be trusted.
func (g *page) rates(c scenarios.Card) {
	g.title("What turns up, out of a hundred such axles")
	g.text.WriteString(rates(c.Rates, g.pen.Width))
	mm := func(mm float64) string { return quantity.Millimetres(mm).Show(g.units) }
	trust := []string{fmt.Sprintf("The old shim suited the old set to about %s. A new bearing's height differs from the old one's by about %s.",
		mm(scenarios.OldBuildSDMM), mm(scenarios.BearingHeightSDMM))}
	if c.Family.Sheet.Marks.Known() {
		trust = append(trust, fmt.Sprintf("A depth mark is good to about %s.", mm(scenarios.MarkSDMM)))
	}
	if c.Family.Design.SideAdjust != family.ThreadedRings {
		trust = append(trust, fmt.Sprintf("Old side shims put the new gear within about %s of its place; their total is good to about %s.",
			mm(scenarios.OldSplitSDMM), mm(scenarios.OldTotalSDMM)))
	}
	g.text.WriteString("\n" + Wrap(strings.Join(trust, " ")+" About two times in three it is no worse than that.", g.pen.Width, "  "))
}

// rates writes the fault rates in two columns where the width allows.
func rates(rs []scenarios.Rate, width int) string {
	var b strings.Builder
	cell := func(r scenarios.Rate) string { return fmt.Sprintf("  %2.0f  %s", 100*r.Rate, r.Name) }
	if width < 2*rateColumn+2 {
		for _, r := range rs {
			b.WriteString(Hang(r.Name, width, cell(scenarios.Rate{Rate: r.Rate}), "      "))
		}
		return b.String()
	}
	const columns = 2
	rows := (len(rs) + columns - 1) / columns
	for i := range rows {
		line := ""
		for k := i; k < len(rs); k += rows {
			line = pad(line, (k/rows)*rateColumn) + cell(rs[k])
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

// rateColumn leaves room for the longest name on both sides at 80 columns.
const rateColumn = 39

// Status writes one line about how the axle stands.
func Status(st sim.Status, units quantity.System) string {
	parts := []string{}
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	switch st.Pinion {
	case sim.PinionOut:
		add("pinion out")
	case sim.PinionTrial:
		add("pinion in (trial)")
	case sim.PinionFinal:
		add("pinion in (final)")
	}
	if st.DepthShim > 0 {
		add("depth shim %s", st.DepthShim.Show(units))
	}
	switch {
	case st.CaseIn && st.CapsTight:
		add("case in, caps tight")
	case st.CaseIn:
		add("case in, caps snug")
	default:
		add("case out")
	}
	if st.BackShim > 0 {
		add("side shims %s back, %s tooth", st.BackShim.Show(units), st.ToothShim.Show(units))
	}
	return strings.Join(parts, "; ")
}

// Spent writes what the work has cost so far.
func Spent(st sim.Status) string {
	s := fmt.Sprintf("%.0f minutes of work", float64(st.Minutes))
	if len(st.Parts) == 0 {
		return s + ", no parts."
	}
	counts := map[string]int{}
	var order []string
	for _, p := range st.Parts {
		if counts[string(p)] == 0 {
			order = append(order, string(p))
		}
		counts[string(p)]++
	}
	for i, name := range order {
		if counts[name] > 1 {
			order[i] = fmt.Sprintf("%d x %s", counts[name], name)
		}
	}
	return fmt.Sprintf("%s, and parts worth %.0f minutes: %s.", s, float64(st.PartsMinutes), strings.Join(order, ", "))
}
