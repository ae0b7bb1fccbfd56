package picture

import "strings"

// A ShimPlace is where the depth shim lies.
type ShimPlace int

// The places.
const (
	UnderCone ShimPlace = iota
	BehindCup
	UnderCage
)

// An Axle is what there is to see of an axle cut along its two axes: how it is built, and
// which of its parts are in. Sizes are written as they stand here; "" for one that has not
// been chosen.
type Axle struct {
	Solid     bool // spacer and preload shims; else a collapsible spacer
	Adjusters bool // bearing adjusters; else side shims
	Inside    bool // side shims lie behind the cones, on the case; else between cup and housing
	Shim      ShimPlace

	PinionIn, Final, CaseIn, CapsTight, Spread      bool
	DepthShim, PreloadShims, RingGearSide, Opposite string
	Thicker                                         string // what a thicker depth shim does, in words
	Nut, Outer, Spacer, Inner, Depth, GearSide, Far string // names of the parts
}

// Sizes of a cutaway, in characters. From the tall one on every row is drawn twice.
const (
	CutawayWide  = 36
	CutawayHigh  = 10
	cutawayTall  = 20
	gearHalf     = 7
	bearingPart  = 9 // a bearing is this part of the width
	leastBearing = 4
)

// Cutaway draws the axle into a canvas of at least CutawayWide by CutawayHigh: the pinion
// from the yoke at the left to its head, the ring gear at the right below it, and over and
// under it the side bearings. What is in is drawn solid, what is out in dots.
func Cutaway(a Axle, w, h int) *Canvas {
	d := &cutaway{Canvas: NewCanvas(w, h), rows: 1}
	if h >= cutawayTall {
		d.rows = h / CutawayHigh
	}
	const axis = 4 // virtual row of the pinion's axis
	center := w - 2 - gearHalf
	head := center - 6
	bw := max(leastBearing, w/bearingPart)
	outer := 4
	inner := head - 1 - bw
	pinion := func(in bool) bool { return a.PinionIn && in }

	// Pinion, yoke, nut.
	d.bar(axis, 0, head-1, "═", a.PinionIn)
	d.bar(axis-1, head+1, head+2, "█", a.PinionIn)
	d.bar(axis, head, head+3, "█", a.PinionIn)
	d.bar(axis+1, head+1, head+2, "█", a.PinionIn)
	for r := axis - 2; r <= axis+2; r++ {
		d.bar(r, 1, 1, "║", a.PinionIn)
	}
	d.bar(axis-1, 3, 3, "¦", pinion(a.Final)) // seal
	d.bar(axis+1, 3, 3, "¦", pinion(a.Final))

	// Pinion bearings: cups stay in the housing.
	for _, x := range []int{outer, inner} {
		d.bar(axis-2, x, x+bw-1, "▄", true)
		d.bar(axis+2, x, x+bw-1, "▀", true)
		d.bar(axis-1, x, x+bw-1, "o", a.PinionIn)
		d.bar(axis+1, x, x+bw-1, "o", a.PinionIn)
	}
	from, to := outer+bw, inner-1
	glyph := "~"
	if a.Solid {
		glyph = "="
	}
	for _, r := range []int{axis - 1, axis + 1} {
		d.bar(r, from, to, glyph, pinion(a.Final))
		if a.Solid {
			d.shim(r, from, a.PreloadShims != "")
		}
	}

	// Depth shim.
	switch a.Shim {
	case UnderCone:
		d.shim(axis-1, head, a.PinionIn && a.DepthShim != "")
		d.shim(axis+1, head, a.PinionIn && a.DepthShim != "")
	case BehindCup:
		d.shim(axis-2, inner-1, a.DepthShim != "")
		d.shim(axis+2, inner-1, a.DepthShim != "")
	case UnderCage:
		flange := outer + bw + 1
		for _, r := range []int{axis - 2, axis + 2} {
			d.bar(r, flange, flange, "┃", true)
			d.shim(r, flange+1, a.DepthShim != "")
			d.bar(r, flange+2, flange+2, "▕", true)
		}
	}

	// Case, ring gear, side bearings, caps.
	for r := 2; r <= axis+1; r++ {
		d.bar(r, center-2, center-2, "│", a.CaseIn)
		d.bar(r, center+2, center+2, "│", a.CaseIn)
	}
	d.bar(axis+2, center-gearHalf, center+gearHalf, "^", a.CaseIn)
	d.bar(axis+3, center-gearHalf, center+gearHalf, "█", a.CaseIn)
	last := CutawayHigh - 1
	for _, r := range []int{1, last - 1} {
		d.bar(r, center-3, center-3, "o", a.CaseIn)
		d.bar(r, center-2, center+2, "─", a.CaseIn)
		d.bar(r, center+3, center+3, "o", a.CaseIn)
		left, right := "(", ")"
		if a.CapsTight {
			left, right = "[", "]"
		}
		d.bar(r, center-4, center-4, left, a.CaseIn)
		d.bar(r, center+4, center+4, right, a.CaseIn)
	}
	d.side(0, center, a.Adjusters, a.CaseIn)
	d.side(last, center, a.Adjusters, a.CaseIn)

	// Names and sizes.
	d.note(0, 0, center-6, join(a.Far, a.Opposite), true)
	d.note(1, 0, 0, a.Nut, false)
	d.note(1, outer, 0, a.Outer, false)
	middle := a.Spacer
	if a.Solid && a.PreloadShims != "" {
		middle = a.PreloadShims
	}
	d.note(1, max(from, outer+1+width(a.Outer)), 0, middle, false)
	d.note(1, inner+1, 0, a.Inner, false)
	d.note(last-2, 0, center-gearHalf-1, a.Thicker, false)
	d.note(last-1, 0, center-6, join(a.Depth, a.DepthShim), false)
	d.note(last, 0, center-6, join(a.GearSide, a.RingGearSide), true)
	return d.Canvas
}

func join(name, size string) string { return strings.TrimSpace(name + " " + size) }

// cutaway is a canvas with rows that may be several lines high.
type cutaway struct {
	*Canvas
	rows int
}

// bar draws a part in a row; one that is out in dots.
func (d *cutaway) bar(row, x0, x1 int, glyph string, in bool) {
	ink := Metal
	if !in {
		glyph, ink = "·", Quiet
	}
	d.Fill(x0, row*d.rows, x1, row*d.rows+d.rows-1, glyph, ink)
}

// shim draws a shim that is seen from its edge.
func (d *cutaway) shim(row, x int, in bool) {
	glyph, ink := "▌", Shim
	if !in {
		glyph, ink = "·", Quiet
	}
	d.Fill(x, row*d.rows, x, row*d.rows+d.rows-1, glyph, ink)
}

// side draws a side shim or a bearing adjuster.
func (d *cutaway) side(row, center int, adjuster, in bool) {
	glyph, ink := "▬", Shim
	switch {
	case !in:
		glyph, ink = "·", Quiet
	case adjuster:
		glyph = "#"
	}
	d.Fill(center-4, row*d.rows, center+4, row*d.rows+d.rows-1, glyph, ink)
}

// note writes a name in the first line of a row, from a column on or, with right, up to one;
// it ends before the limit, 0 for none.
func (d *cutaway) note(row, x, limit int, s string, right bool) {
	if s == "" {
		return
	}
	if limit > 0 {
		s = cut(s, limit-x)
	}
	if right && limit > 0 {
		x = limit - width(s)
	}
	ink := Bare
	d.Text(x, row*d.rows, s, ink)
}
