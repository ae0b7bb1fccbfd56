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
func CardParts() []string { return []string{"job", "axle", "pinion", "case", "rates", "trust"} }

// Card writes the whole job card.
func Card(c scenarios.Card, units quantity.System, p Pen) string {
	g := &page{pen: p, units: units}
	g.job(c)
	g.text.WriteByte('\n')
	g.sheet(c)
	g.text.WriteByte('\n')
	g.rates(c)
	g.text.WriteByte('\n')
	g.trust(c)
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
	case "trust":
		g.trust(c)
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
	gears := "On the bench is a new ring and pinion, the ring gear bolted to its case."
	if c.UsedGears {
		gears = "On the bench are its own ring and pinion, to go back in, the ring gear bolted to its case."
	}
	g.say("The axle is stripped, on a stand, the pinion cups in place. " + gears)
	bearings := "new pinion and side bearings"
	if c.UsedBearings {
		bearings = "the used ones go back in: go by the figures for used"
	}
	g.row("Bearings", bearings)
	if c.UsedGears {
		g.row("Backlash", fmt.Sprintf("the set ran at %s: bring it back to that", g.length(c.Family.Sheet.Backlash.Mid())))
	}
	g.row("Old depth shim", k.OldDepthShim.Show(g.units))
	switch {
	case !c.Family.Sheet.Marks.Known():
		g.row("Pinion marks", unmarked)
	case c.UsedGears:
		g.row("Pinion mark", fmt.Sprintf("%s; old and new pinion are the same one", k.NewMark.ShowSigned(g.units)))
		g.row("What marks mean", c.Family.Sheet.Marks.Explain())
	default:
		g.row("Pinion marks", fmt.Sprintf("old pinion %s, new pinion %s", k.OldMark.ShowSigned(g.units), k.NewMark.ShowSigned(g.units)))
		g.row("What marks mean", c.Family.Sheet.Marks.Explain())
	}
	if d.Preload == family.SolidSpacer {
		g.row("Old pack", k.OldPack.Show(g.units)+strings.TrimSuffix(withOldShim(d), ","))
	}
	if d.SideAdjust == family.ThreadedRings {
		g.row("Side rings", "threaded; taken out, and how far in they stood is not known")
	} else {
		g.row("Old side shims", fmt.Sprintf("back (behind the ring gear) %s, tooth side %s", k.OldBackShim.Show(g.units), k.OldToothShim.Show(g.units)))
	}
}

// withOldShim says, where a depth shim behind the cup moves the bearings apart, which one
// the old pack went with.
func withOldShim(d family.Design) string {
	if d.DepthShim != family.BehindHeadCup {
		return ""
	}
	return ", with the old depth shim,"
}

// rates are how often which fault turns up. With trust they are all that the grader holds
// to be known of an axle before it is read.
func (g *page) rates(c scenarios.Card) {
	g.title("What turns up, out of a hundred such axles")
	g.text.WriteString(rates(c.Rates, g.pen.Width))
}

// trust is how far the old build can be trusted.
func (g *page) trust(c scenarios.Card) {
	d := c.Family.Design
	g.title("How far the old build can be trusted")
	trust := []string{fmt.Sprintf("The old shim suited the old set to about %s. A new bearing's height differs from the old one's by about %s.",
		g.length(scenarios.OldBuildSDMM), g.length(scenarios.BearingHeightSDMM))}
	if c.Family.Sheet.Marks.Known() {
		trust = append(trust, fmt.Sprintf("A depth mark is good to about %s.", g.length(scenarios.MarkSDMM)))
	} else {
		trust = append(trust, fmt.Sprintf("One unmarked pinion differs from another by about %s.", g.length(scenarios.UnmarkedSDMM)))
	}
	if d.Preload == family.SolidSpacer {
		trust = append(trust, fmt.Sprintf("The old pack%s is right to about %s.", withOldShim(d), g.length(scenarios.OldPackSDMM)))
	}
	if d.SideAdjust != family.ThreadedRings {
		trust = append(trust, fmt.Sprintf("Old side shims put the new gear within about %s of its place; their total is good to about %s.",
			g.length(scenarios.OldSplitSDMM), g.length(scenarios.OldTotalSDMM)))
	}
	trust = append(trust, "About two times in three it is no worse than that.")
	if d.SideAdjust == family.ThreadedRings {
		play, away := scenarios.RingPlayMM, scenarios.RingAwayMM
		trust = append(trust, fmt.Sprintf("Rings run up by hand leave %s of play in all and the ring gear %s too far away, one figure as likely as another.",
			g.span(play.Low, play.High), g.span(away.Low, away.High)))
	}
	g.text.WriteString(Wrap(strings.Join(trust, " "), g.pen.Width, "  "))
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

// Status writes one line about how an axle of a design stands.
func Status(d family.Design, st sim.Status, units quantity.System) string {
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
	if st.Pack > 0 {
		add("pack %s", st.Pack.Show(units))
	}
	if st.Spread > 0 {
		add("housing spread %s", st.Spread.Show(units))
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
	if d.SideAdjust == family.ThreadedRings && (st.CaseIn || st.BackSlots != 0 || st.ToothSlots != 0) {
		add("%s", rings(st))
	}
	return strings.Join(parts, "; ")
}

// Rings says in a line of its own how far threaded rings stand from where they were run
// up by hand.
func Rings(st sim.Status, p Pen) string { return Wrap(sentence(rings(st)), p.Width, "    ") }

func rings(st sim.Status) string {
	return fmt.Sprintf("rings since run up by hand: back %s, tooth %s", ringTurned(st.BackSlots), ringTurned(st.ToothSlots))
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
