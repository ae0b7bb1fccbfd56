package view

import (
	"fmt"
	"strings"
	"unicode"

	"shimwright/sim"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
)

// FamilyList writes a line or two for each family.
func FamilyList(fs []family.Family, p Pen) string {
	const column = 10
	var b strings.Builder
	for _, f := range fs {
		spacer, sides := "collapsible spacer", "side shims outside"
		if f.Design.Preload == family.SolidSpacer {
			spacer = "solid spacer"
		}
		switch f.Design.SideAdjust {
		case family.InsideShims:
			sides = "side shims inside"
		case family.BearingAdjusters:
			sides = "bearing adjusters"
		}
		b.WriteString(p.Field(f.Code, fmt.Sprintf("%s: %s, %s", f.Name, spacer, sides), column))
	}
	b.WriteString("\n" + Wrap("To practice on one of them, type: "+p.Command("practice --family CODE")+".", p.Width, ""))
	b.WriteString("\n" + Wrap(p.Print(family.Notice()), p.Width, ""))
	return b.String()
}

// FamilyPage writes all that a person wants to know of a family: design, gears,
// specifications, shims or adjusters, and the notices.
func FamilyPage(f family.Family, p Pen) string {
	g := &page{pen: p}
	sh, d, set := f.Sheet, f.Design, f.Model.Gears

	g.text.WriteString(p.Heading(f.Code + ": " + f.Name))
	g.say(sentence(f.Use))
	if f.Notes != "" {
		g.text.WriteByte('\n')
		g.say(sentence(f.Notes))
	}

	g.text.WriteByte('\n')
	g.title("Design")
	g.row("Pinion preload", preloadWords(d.Preload))
	g.depthShim(f)
	if sh.Marks.Known() {
		g.row("What marks mean", g.pen.Print(sh.Marks.Explain()))
	} else {
		g.row("Pinion marks", unmarked)
	}
	g.row("Side adjustment", sideWords(d.SideAdjust))
	g.row("Housing", housingWords(d.Housing))

	g.text.WriteByte('\n')
	g.title("Gears")
	g.gears(f)
	g.row("Ring gear", fmt.Sprintf("%s across, teeth %s wide", g.length(set.RingDiameterMM), g.length(set.FaceWidthMM)))
	g.row("Pinion", fmt.Sprintf("offset %s, spiral %.4g degrees", g.length(set.OffsetMM), set.SpiralDeg))

	g.text.WriteByte('\n')
	g.title("Specification sheet")
	g.height(sh)
	g.spacer(f)
	g.nut(f)
	g.row("Pinion torque", fmt.Sprintf("rotating torque with new bearings %s, with used ones %s; oiled, no seal", g.torque(sh.PinionTorqueNew), g.torque(sh.PinionTorqueUsed)))
	g.row("Seal adds", g.torque(sh.SealDrag)+", in final assembly")
	g.sideAdjustment(f)
	g.sidePreload(f)
	g.row("Total torque", fmt.Sprintf("pinion rotating torque plus %s with new bearings, %s with used ones", g.torque(sh.SideRiseNew), g.torque(sh.SideRiseUsed)))
	g.ringGear(sh, false)
	if gains, err := sim.NominalGains(f, false); err == nil {
		g.travel(gains.BacklashPerRing, gains.BacklashPerPinion)
	}

	g.text.WriteByte('\n')
	g.say(sentence(f.Invented))
	g.say(p.Print(family.Notice()))
	return g.text.String()
}

// Mistakes writes what is wrong in a technician-written file, each with its place in front.
func Mistakes(ps []datasheet.Problem, p Pen) string {
	var b strings.Builder
	for _, q := range ps {
		b.WriteString(Hang(fmt.Sprintf("%s; needed: %s", p.Print(q.What), p.Print(q.Want)), p.Width, fmt.Sprintf("%s:%d:%d: ", FileName(q.File), q.Line, q.Column), "    "))
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

const unmarked = "none: start with the shim that came out"

func preloadWords(d family.PreloadDesign) string {
	if d == family.SolidSpacer {
		return "solid spacer between the pinion bearings, with preload shims"
	}
	return "collapsible spacer between the pinion bearings"
}

func depthWords(d family.DepthShimPlace) string {
	switch d {
	case family.BehindInnerCup:
		return "behind the inner pinion bearing cup"
	case family.UnderCageFlange:
		return "under the flange of the pinion cage"
	}
	return "under the inner pinion bearing cone"
}

func sideWords(s family.SideAdjust) string {
	switch s {
	case family.InsideShims:
		return "shims behind the side bearing cones, on the case"
	case family.BearingAdjusters:
		return "bearing adjusters at the side bearings"
	}
	return "shims outside the side bearing cups"
}

func housingWords(m family.Material) string {
	if m == family.Aluminum {
		return "aluminum: preload drops as it warms, so set it cold (the bench does not model heat)"
	}
	return "cast iron"
}

func oppositeWords(t family.ToothForm) string {
	if t == family.FaceHobbed {
		return "face-hobbed; modeled here as the nearest face-milled set, so its contact patterns are approximate"
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
		return "hunting: every tooth meets every tooth of the other gear"
	case a == pinion:
		return "not hunting: line up the timing marks"
	}
	return "partly hunting: line up the timing marks"
}
