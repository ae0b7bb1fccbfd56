package view

import (
	"fmt"
	"strings"

	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// Card writes the job card: complaint, what is known, the axle sheet, and how
// often which fault turns up.
func Card(c scenarios.Card, units quantity.System, p Pen) string {
	var b strings.Builder
	k := c.Known
	b.WriteString(p.Heading(fmt.Sprintf("Job %d: %s", c.Seed, c.Family.Name)))
	b.WriteString(Wrap(fmt.Sprintf("Vehicle: %s. Complaint: %s.", c.Vehicle, c.Complaint), p.Width, ""))
	b.WriteString(Wrap("The axle is on a stand, stripped. A new ring and pinion set with matching numbers is on the bench, the pinion cups are in the housing, and the ring gear is bolted to its case.", p.Width, ""))
	b.WriteByte('\n')
	row := func(name, value string) {
		b.WriteString(p.Field("  "+name, value, cardColumn))
	}
	bearings := "new pinion and side bearings"
	if c.UsedBearings {
		bearings = "the used bearings go back in: use the used figures"
	}
	row("Bearings", bearings)
	row("Old depth shim", k.OldDepthShim.Show(units))
	row("Old pinion mark", mark(k.OldMark, units)+", the set that came out")
	row("New pinion mark", mark(k.NewMark, units)+", the set that goes in")
	row("Meaning of a mark", markWords(c))
	row("Old side shims", fmt.Sprintf("back %s, tooth side %s", k.OldBackShim.Show(units), k.OldToothShim.Show(units)))
	b.WriteByte('\n')
	b.WriteString(Sheet(c.Family, c.UsedBearings, units, p))
	b.WriteString("\n" + Wrap(p.Strong("What turns up, out of a hundred such axles"), p.Width, ""))
	b.WriteString(rates(c.Rates, p.Width))
	b.WriteByte('\n')
	b.WriteString(Wrap(fmt.Sprintf("The old shim suited the old set to about %s. A new bearing's height differs from the old one's by about %s. Old side shims put the new gear within about %s of its place; their total is good to about %s.",
		quantity.Millimetres(scenarios.OldBuildSDMM).Show(units), quantity.Millimetres(scenarios.BearingHeightSDMM).Show(units),
		quantity.Millimetres(scenarios.OldSplitSDMM).Show(units), quantity.Millimetres(scenarios.OldTotalSDMM).Show(units)), p.Width, "  "))
	b.WriteString("\n" + Wrap(family.Notice, p.Width, ""))
	return b.String()
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

const cardColumn = 22

func mark(m quantity.Length, units quantity.System) string { return m.ShowSigned(units) }

func markWords(c scenarios.Card) string {
	return c.Family.Sheet.Marks.Explain()
}

// Sheet writes the axle sheet.
func Sheet(f family.Family, used bool, units quantity.System, p Pen) string {
	var b strings.Builder
	sh := f.Sheet
	row := func(name, value string) {
		b.WriteString(p.Field("  "+name, value, cardColumn))
	}
	l := func(mm float64) string { return quantity.Millimetres(mm).Show(units) }
	d := func(w family.TorqueWindow) string {
		return quantity.Torque(w.LowNmm).ShowDrag(units) + " to " + quantity.Torque(w.HighNmm).ShowDrag(units)
	}
	b.WriteString(p.Strong("Axle sheet "+f.Code) + "\n")
	row("Ratio", fmt.Sprintf("%.3f (%d ring teeth, %d pinion teeth)", sh.Ratio(), sh.RingTeeth, sh.PinionTeeth))
	row("Preload design", "collapsible spacer between the pinion bearing cones")
	row("Pinion head height", fmt.Sprintf("%s from head to ring gear axis with a zero mark; a plus mark asks for that much less; within %s", l(sh.HeadHeightMM), l(sh.DepthToleranceMM)))
	row("Depth shim", fmt.Sprintf("under the head bearing cone, thicker = deeper; %s to %s by %s", l(sh.DepthShims.LowMM), l(sh.DepthShims.HighMM), l(sh.DepthShims.StepMM)))
	row("Pinion drag", d(sh.PinionDrag(used))+" turning, in oil, without seal")
	row("Seal adds", d(sh.SealDrag)+" in the final build")
	row("Pinion nut", fmt.Sprintf("%s to %s is where a good spacer usually crushes; the drag decides", sh.NutLow.ShowTight(units), sh.NutHigh.ShowTight(units)))
	row("Side shims", fmt.Sprintf("outside, between cup and housing; thicker behind the ring gear (back) = nearer the pinion; %s to %s by %s", l(sh.SideShims.LowMM), l(sh.SideShims.HighMM), l(sh.SideShims.StepMM)))
	row("Side preload", fmt.Sprintf("%s to %s in all over zero end play; the housing is never spread past %s", l(sh.SidePreload.LowMM), l(sh.SidePreload.HighMM), l(sh.SpreadLimitMM)))
	row("Total drag", "pinion alone plus "+d(sh.SideRise(used)))
	row("Backlash", fmt.Sprintf("%s to %s at the heel, square to the tooth; between places no more than %s", l(sh.Backlash.LowMM), l(sh.Backlash.HighMM), l(sh.BacklashSpreadMM)))
	row("Runout", fmt.Sprintf("ring gear back face %s, bare flange %s", l(sh.RunoutMM), l(sh.FlangeRunoutMM)))
	row("Print", fmt.Sprintf("centre %.2f to %.2f of the way from root to top on both flanks, clear of toe and heel", sh.PrintHeight.LowMM, sh.PrintHeight.HighMM))
	row("Cap bolts", sh.CapTorque.ShowTight(units))
	row("Spacer", "free length "+l(sh.SpacerLengthMM))
	return b.String()
}

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
