package view

import (
	"fmt"
	"strings"
	"unicode"

	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// FamilyList writes one line or so for each family; bench tells which of them the
// practice bench works on.
func FamilyList(fs []family.Family, bench func(code string) bool, p Pen) string {
	const column = 10
	var b strings.Builder
	for _, f := range fs {
		text := fmt.Sprintf("%s; %s; %s", f.Name, preloadWords(f.Design.Preload), sideWords(f.Design.SideAdjust))
		if bench(f.Code) {
			text += " (on the practice bench)"
		}
		b.WriteString(p.Field(f.Code, text, column))
	}
	b.WriteString("\n" + Wrap(family.Notice, p.Width, ""))
	return b.String()
}

// FamilyPage writes all that a person wants to know of a family: design, gears,
// sheet, shims or rings, and the notices.
func FamilyPage(f family.Family, units quantity.System, p Pen) string {
	var b strings.Builder
	sh, d, g := f.Sheet, f.Design, f.Model.Gears
	row := func(name, value string) { b.WriteString(p.Field("  "+name, value, cardColumn)) }
	l := func(mm float64) string { return quantity.Millimetres(mm).Show(units) }
	span := func(low, high float64) string { return l(low) + " to " + l(high) }
	drag := func(w family.TorqueWindow) string {
		return quantity.Torque(w.LowNmm).ShowDrag(units) + " to " + quantity.Torque(w.HighNmm).ShowDrag(units)
	}
	stock := func(s family.Stock) string { return span(s.LowMM, s.HighMM) + " by " + l(s.StepMM) }

	b.WriteString(p.Heading(f.Code + ": " + f.Name))
	b.WriteString(Wrap(sentence(f.Use), p.Width, ""))
	if f.Notes != "" {
		b.WriteString("\n" + Wrap(sentence(f.Notes), p.Width, ""))
	}

	b.WriteString("\n" + p.Strong("Design") + "\n")
	row("Pinion preload", preloadWords(d.Preload))
	deeper := "thicker = deeper"
	if !d.ThickerIsDeeper() {
		deeper = "thicker = shallower"
	}
	row("Depth shim", depthWords(d.DepthShim)+"; "+deeper)
	if sh.Marks.Known() {
		row("Meaning of a mark", sh.Marks.Explain())
	} else {
		row("Meaning of a mark", "Pinions carry no mark: start from the shim that came out.")
	}
	row("Side adjustment", sideWords(d.SideAdjust))
	row("Driving forward", fmt.Sprintf("loads the %s flank of the ring gear", d.DriveFlank))
	row("Housing", housingWords(d.Housing))

	b.WriteString("\n" + p.Strong("Gears") + "\n")
	row("Ratio", fmt.Sprintf("%.3f (%d ring teeth, %d pinion teeth; %s)", sh.Ratio(), sh.RingTeeth, sh.PinionTeeth, pairing(sh.RingTeeth, sh.PinionTeeth)))
	row("Tooth form", toothWords(d.ToothForm))
	row("Ring gear", fmt.Sprintf("%s across, teeth %s wide", l(g.RingDiameterMM), l(g.FaceWidthMM)))
	row("Pinion", fmt.Sprintf("offset %s, spiral %.4g degrees", l(g.OffsetMM), g.SpiralDeg))

	b.WriteString("\n" + p.Strong("Axle sheet") + "\n")
	row("Pinion head height", fmt.Sprintf("%s from head to ring gear axis with a zero mark, within %s", l(sh.HeadHeightMM), l(sh.DepthToleranceMM)))
	row("Depth shims", stock(sh.DepthShims))
	row("Pinion drag", fmt.Sprintf("new bearings %s, used %s; turning, in oil, without seal", drag(sh.PinionDragNew), drag(sh.PinionDragUsed)))
	row("Seal adds", drag(sh.SealDrag))
	nut := "the drag decides between them"
	if d.Preload == family.SolidSpacer {
		nut = "tighten to the middle, then read the drag; the pack sets it"
	}
	row("Pinion nut", fmt.Sprintf("%s to %s; %s", sh.NutLow.ShowTight(units), sh.NutHigh.ShowTight(units), nut))
	if d.Preload == family.SolidSpacer {
		row("Spacer", fmt.Sprintf("lengths %s; thicker = less preload", stock(d.Solid.Pack)))
	} else {
		row("Spacer", "free length "+l(sh.SpacerLengthMM)+"; a new one for each final build")
	}
	if d.SideAdjust == family.ThreadedRings {
		row("Rings", fmt.Sprintf("%d slots on a pitch of %s: one slot moves the case by %s", d.Rings.Slots, l(d.Rings.PitchMM), l(d.Rings.SlotTravelMM())))
	} else {
		row("Side shims", stock(sh.SideShims))
	}
	row("Side preload", fmt.Sprintf("%s in all over zero end play; the housing is never spread past %s", span(sh.SidePreload.LowMM, sh.SidePreload.HighMM), l(sh.SpreadLimitMM)))
	row("Total drag", fmt.Sprintf("pinion alone plus %s with new bearings, %s with used", drag(sh.SideRiseNew), drag(sh.SideRiseUsed)))
	row("Backlash", fmt.Sprintf("%s at the heel, square to the tooth; between places no more than %s", span(sh.Backlash.LowMM, sh.Backlash.HighMM), l(sh.BacklashSpreadMM)))
	row("Runout", fmt.Sprintf("ring gear back face %s, bare flange %s", l(sh.RunoutMM), l(sh.FlangeRunoutMM)))
	row("Print", fmt.Sprintf("centre %.2f to %.2f of the way from root to top on both flanks", sh.PrintHeight.LowMM, sh.PrintHeight.HighMM))
	row("Cap bolts", sh.CapTorque.ShowTight(units))

	b.WriteString("\n" + Wrap(sentence(f.Invented), p.Width, ""))
	b.WriteString(Wrap(family.Notice, p.Width, ""))
	return b.String()
}

// FamilyProblems writes the mistakes of a family file, each with its place in front.
func FamilyProblems(ps []family.Problem, p Pen) string {
	var b strings.Builder
	for _, q := range ps {
		b.WriteString(Hang(fmt.Sprintf("%s; right would be: %s", q.What, q.Right), p.Width, fmt.Sprintf("%s:%d:%d: ", FileName(q.File), q.Line, q.Column), "    "))
	}
	return b.String()
}

// FileName returns a file's name without what would act on a terminal.
func FileName(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return '?'
	}, name)
}

func preloadWords(d family.PreloadDesign) string {
	if d == family.SolidSpacer {
		return "solid spacer between the pinion bearings, its length chosen"
	}
	return "collapsible spacer between the pinion bearings"
}

func depthWords(d family.DepthShimPlace) string {
	switch d {
	case family.BehindHeadCup:
		return "behind the cup of the head bearing"
	case family.UnderCageFlange:
		return "under the flange of the pinion's cage"
	}
	return "under the cone of the head bearing"
}

func sideWords(s family.SideAdjust) string {
	switch s {
	case family.InsideShims:
		return "shims behind the side bearing cones, on the case"
	case family.ThreadedRings:
		return "threaded rings at the side bearings"
	}
	return "shims outside the side bearing cups"
}

func housingWords(m family.Material) string {
	if m == family.Aluminium {
		return "aluminium: preload falls as it warms, so it is set cold (heat is not modelled)"
	}
	return "cast iron"
}

func toothWords(t family.ToothForm) string {
	if t == family.FaceHobbed {
		return "face-hobbed; stood in for by the nearest face-milled set, because the tooth model has no other: take its prints as a likeness"
	}
	return "face-milled"
}

// pairing says how the teeth of ring and pinion meet: every one every other, or some
// only, and then the marks of a set must be paired.
func pairing(ring, pinion int) string {
	a, b := ring, pinion
	for b != 0 {
		a, b = b, a%b
	}
	switch {
	case a == 1:
		return "hunting: every tooth meets every other"
	case a == pinion:
		return "not hunting: pair the timing marks"
	}
	return "partly hunting: pair the timing marks"
}
