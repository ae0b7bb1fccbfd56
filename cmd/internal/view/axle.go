package view

import (
	"io"
	"strings"

	"shimwright/cmd/internal/figure"
	"shimwright/cmd/internal/picture"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// DrawAxle writes an axle of a design with all its parts in, cut open, SVG or PNG, for a light
// or a dark screen.
func DrawAxle(w io.Writer, f family.Family, svg, night bool) error {
	draw := picture.AxlePNG
	if svg {
		draw = picture.AxleSVG
	}
	a, words := figure.Assembled(f.Design)
	return draw(w, a, words, picture.Options{Color: true, Dark: night, Title: f.Code + ", cut open"})
}

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
	a := figure.Axle(d)
	a.PinionIn, a.Final, a.CaseIn, a.CapsTight = st.Pinion != history.PinionOut, st.Pinion == history.PinionFinal, st.CaseIn, st.CapsTight
	a.DepthShim, a.PreloadShims, a.RingGearSide, a.Opposite = size(st.DepthShim), size(st.PreloadShims), size(st.RingGearShim), size(st.OppositeShim)
	a.Nut, a.Outer, a.Inner = p.Print(text.Say("section.nut", "nut")), p.Print(text.Say("section.outer", "outer")), p.Print(text.Say("section.inner", "inner"))
	a.Spacer, a.Depth = p.Print(text.Say("section.spacer", "spacer")), p.Print(text.Say("section.depth-shim", "depth shim"))
	a.GearSide, a.Far = p.Print(text.Say("section.ring-gear-side", "ring-gear side")), p.Print(text.Say("section.opposite", "opposite"))
	a.Thicker = p.Print(text.Say("section.deeper", "thicker: deeper ->"))
	if a.Shim == picture.UnderCage {
		a.Thicker = p.Print(text.Say("section.shallower", "<- thicker: out"))
	}
	if a.Adjusters && st.AdjustersUp {
		a.RingGearSide, a.Opposite = quantity.Decimal(st.RingGearNotches, 1), quantity.Decimal(st.OppositeNotches, 1)
	}
	return a
}
