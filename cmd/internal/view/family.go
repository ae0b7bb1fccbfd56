package view

import (
	"fmt"
	"strings"
	"unicode"

	"shimwright/sim"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"

	"shimwright/sim/text"
)

// FamilyList writes a line or two for each family.
func FamilyList(fs []family.Family, p Pen) string {
	const column = 10
	var b strings.Builder
	for _, f := range fs {
		spacer, sides := p.Print(text.Say("view.family.collapsible-spacer", "collapsible spacer")), p.Print(text.Say("view.family.side-shims-outside", "side shims outside"))
		if f.Design.Preload == family.SolidSpacer {
			spacer = p.Print(text.Say("view.family.solid-spacer", "solid spacer"))
		}
		switch f.Design.SideAdjust {
		case family.InsideShims:
			sides = p.Print(text.Say("view.family.side-shims-inside", "side shims inside"))
		case family.BearingAdjusters:
			sides = p.Print(text.Say("view.family.bearing-adjusters", "bearing adjusters"))
		}
		b.WriteString(p.Field(f.Code, fmt.Sprintf("%s: %s, %s", f.Name, spacer, sides), column))
	}
	b.WriteString("\n" + Wrap(p.Print(text.Say("view.family.practice-one-them-type", "To practice on one of them, type: {command}.", text.Typed("command", p.Command("practice --family CODE")))), p.Width, ""))
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
	g.title(p.Print(text.Say("view.family.design", "Design")))
	g.row(p.Print(text.Say("view.family.pinion-preload", "Pinion preload")), p.Print(preloadWords(d.Preload)))
	g.depthShim(f)
	if sh.Marks.Known() {
		g.row(p.Print(text.Say("view.family.what-marks-mean", "What marks mean")), g.pen.Print(sh.Marks.Explain()))
	} else {
		g.row(p.Print(text.Say("view.family.pinion-marks", "Pinion marks")), p.Print(unmarked))
	}
	g.row(p.Print(text.Say("view.family.side-adjustment", "Side adjustment")), p.Print(sideWords(d.SideAdjust)))
	g.row(p.Print(text.Say("view.family.housing", "Housing")), p.Print(housingWords(d.Housing)))

	g.text.WriteByte('\n')
	g.title(p.Print(text.Say("view.family.gears", "Gears")))
	g.gears(f)
	g.row(p.Print(text.Say("view.family.ring-gear", "Ring gear")), p.Print(text.Say("view.family.across-teeth-wide", "{ring_diameter} across, teeth {face_width} wide", text.Typed("ring_diameter", g.length(set.RingDiameterMM)), text.Typed("face_width", g.length(set.FaceWidthMM)))))
	g.row(p.Print(text.Say("view.family.pinion", "Pinion")), p.Print(text.Say("view.family.offset-spiral-degrees", "offset {offset}, spiral {spiral_deg} degrees", text.Typed("offset", g.length(set.OffsetMM)), text.Typed("spiral_deg", fmt.Sprintf("%.4g", set.SpiralDeg)))))

	g.text.WriteByte('\n')
	g.title(p.Print(text.Say("view.family.specification-sheet", "Specification sheet")))
	g.height(sh)
	g.spacer(f)
	g.nut(f)
	g.row(p.Print(text.Say("view.family.pinion-torque", "Pinion torque")), p.Print(text.Say("view.family.rotating-torque-new-bearings", "rotating torque with new bearings {pinion_torque_new}, with used ones {pinion_torque_used}; oiled, no seal", text.Typed("pinion_torque_new", g.torque(sh.PinionTorqueNew)), text.Typed("pinion_torque_used", g.torque(sh.PinionTorqueUsed)))))
	g.row(p.Print(text.Say("view.family.seal-adds", "Seal adds")), p.Print(text.Say("view.family.final-assembly", "{seal_drag}, in final assembly", text.Typed("seal_drag", g.torque(sh.SealDrag)))))
	g.sideAdjustment(f)
	g.sidePreload(f)
	g.row(p.Print(text.Say("view.family.total-torque", "Total torque")), p.Print(text.Say("view.family.pinion-rotating-torque-plus", "pinion rotating torque plus {side_rise_new} with new bearings, {side_rise_used} with used ones", text.Typed("side_rise_new", g.torque(sh.SideRiseNew)), text.Typed("side_rise_used", g.torque(sh.SideRiseUsed)))))
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
		b.WriteString(Hang(p.Print(text.Say("view.family.needed", "{what}; needed: {want}", text.Of("what", q.What), text.Of("want", q.Want))), p.Width, fmt.Sprintf("%s:%d:%d: ", FileName(q.File), q.Line, q.Column), "    "))
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

var unmarked = text.Say("view.family.none-start-shim-came", "none: start with the shim that came out")

func preloadWords(d family.PreloadDesign) text.Message {
	if d == family.SolidSpacer {
		return text.Say("view.family.solid-spacer-between-pinion", "solid spacer between the pinion bearings, with preload shims")
	}
	return text.Say("view.family.collapsible-spacer-between-pinion", "collapsible spacer between the pinion bearings")
}

func depthWords(d family.DepthShimPlace) text.Message {
	switch d {
	case family.BehindInnerCup:
		return text.Say("view.family.behind-inner-pinion-bearing", "behind the inner pinion bearing cup")
	case family.UnderCageFlange:
		return text.Say("view.family.under-flange-pinion-cage", "under the flange of the pinion cage")
	}
	return text.Say("view.family.under-inner-pinion-bearing", "under the inner pinion bearing cone")
}

func sideWords(s family.SideAdjust) text.Message {
	switch s {
	case family.InsideShims:
		return text.Say("view.family.shims-behind-side-bearing", "shims behind the side bearing cones, on the case")
	case family.BearingAdjusters:
		return text.Say("view.family.bearing-adjusters-side-bearings", "bearing adjusters at the side bearings")
	}
	return text.Say("view.family.shims-outside-side-bearing", "shims outside the side bearing cups")
}

func housingWords(m family.Material) text.Message {
	if m == family.Aluminum {
		return text.Say("view.family.aluminum-preload-drops-as", "aluminum: preload drops as it warms, so set it cold (the bench does not model heat)")
	}
	return text.Say("view.family.cast-iron", "cast iron")
}

func oppositeWords(t family.ToothForm) text.Message {
	if t == family.FaceHobbed {
		return text.Say("view.family.face-hobbed", "face-hobbed; modeled here as the nearest face-milled set, so its contact patterns are approximate")
	}
	return text.Say("view.family.face-milled", "face-milled")
}

// pairing says how the teeth of ring and pinion meet: every one every other, or some
// only, and then the marks of a set must be paired.
func pairing(ring, pinion int) text.Message {
	a, b := ring, pinion
	for b != 0 {
		a, b = b, a%b
	}
	switch {
	case a == 1:
		return text.Say("view.family.hunting-every-tooth-meets", "hunting: every tooth meets every tooth of the other gear")
	case a == pinion:
		return text.Say("view.family.not-hunting-line-up", "not hunting: line up the timing marks")
	}
	return text.Say("view.family.partly-hunting-line-up", "partly hunting: line up the timing marks")
}
