package view

import (
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Axle is an axle of a design as it stands, ready to be drawn cut open, with its sizes in a
// person's units.
func Axle(d family.Design, st history.Status, p text.Printer) picture.Axle {
	size := func(l quantity.Length) string {
		if l <= 0 {
			return ""
		}
		number, _, _ := strings.Cut(l.Show(p.Units()), " ")
		return number
	}
	a := picture.Axle{
		Solid: d.Preload == family.SolidSpacer, Adjusters: d.SideAdjust == family.BearingAdjusters, Inside: d.SideAdjust == family.InsideShims,
		PinionIn: st.Pinion != history.PinionOut, Final: st.Pinion == history.PinionFinal, CaseIn: st.CaseIn, CapsTight: st.CapsTight,
		DepthShim: size(st.DepthShim), PreloadShims: size(st.PreloadShims), RingGearSide: size(st.RingGearShim), Opposite: size(st.OppositeShim),
		Nut: p.Print(text.Say("section.nut", "nut")), Outer: p.Print(text.Say("section.outer", "outer")), Inner: p.Print(text.Say("section.inner", "inner")),
		Spacer: p.Print(text.Say("section.spacer", "spacer")), Depth: p.Print(text.Say("section.depth-shim", "depth shim")),
		GearSide: p.Print(text.Say("section.ring-gear-side", "ring-gear side")), Far: p.Print(text.Say("section.opposite", "opposite")),
		Thicker: p.Print(text.Say("section.deeper", "thicker: deeper ->")),
	}
	switch d.DepthShim {
	case family.BehindInnerCup:
		a.Shim = picture.BehindCup
	case family.UnderCageFlange:
		a.Shim = picture.UnderCage
		a.Thicker = p.Print(text.Say("section.shallower", "<- thicker: out"))
	}
	if a.Adjusters && st.AdjustersUp {
		a.RingGearSide, a.Opposite = quantity.Decimal(st.RingGearNotches, 1), quantity.Decimal(st.OppositeNotches, 1)
	}
	return a
}
