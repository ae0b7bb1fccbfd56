package figure

import (
	"io"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/lessons/figure"
	"shimwright/sim/family"
)

// The parts of a section, in the order of its legend.
const (
	ringGear = iota
	differentialCase
	sideBearing
	housing
	thePinion
	innerBearing
	outerBearing
	theSpacer
	yoke
	nut
	cage
	depthShim
	sideShim
	adjuster
	preloadShims
)

func partOf(which int) picture.Part {
	return []picture.Part{
		ringGear:         {Mark: 'R', Name: "ring gear"},
		differentialCase: {Mark: 'C', Name: "differential case"},
		sideBearing:      {Mark: 'B', Name: "side bearings"},
		housing:          {Mark: '/', Name: "carrier housing"},
		thePinion:        {Mark: 'P', Name: "pinion"},
		innerBearing:     {Mark: 'I', Name: "inner pinion bearing"},
		outerBearing:     {Mark: 'O', Name: "outer pinion bearing"},
		theSpacer:        {Mark: '=', Name: "spacer"},
		yoke:             {Mark: 'Y', Name: "yoke"},
		nut:              {Mark: 'N', Name: "pinion nut"},
		cage:             {Mark: 'G', Name: "bearing cage"},
		depthShim:        {Mark: 'D', Name: "depth shim", Strong: true},
		sideShim:         {Mark: 'S', Name: "side shims", Strong: true},
		adjuster:         {Mark: 'A', Name: "bearing adjusters", Strong: true},
		preloadShims:     {Mark: 'L', Name: "preload shims", Strong: true},
	}[which]
}

// A cut is the section of an axle, with what it shows in words: as blocks on a screen of
// characters, as it is built in a picture.
type cut struct {
	picture.Section
	axle  picture.Axle
	words string
}

// Axle is an axle of a design, nothing in it yet.
func Axle(d family.Design) picture.Axle {
	a := picture.Axle{Solid: d.Preload == family.SolidSpacer, Adjusters: d.SideAdjust == family.BearingAdjusters, Inside: d.SideAdjust == family.InsideShims}
	switch d.DepthShim {
	case family.BehindInnerCup:
		a.Shim = picture.BehindCup
	case family.UnderCageFlange:
		a.Shim = picture.UnderCage
	}
	return a
}

// Assembled is an axle of a design with all its parts in and named, and what there is to see.
func Assembled(d family.Design) (picture.Axle, string) { return assembled(d), section(d).Alt }

func assembled(d family.Design) picture.Axle {
	a := Axle(d)
	a.PinionIn, a.Final, a.CaseIn, a.CapsTight = true, true, true, true
	a.Nut, a.Outer, a.Inner, a.Spacer, a.Depth, a.DepthShim = "nut", "outer bearing", "inner bearing", "collapsible spacer", "depth shim", " "
	a.Far, a.GearSide = "opposite side: shims", "ring-gear side: shims"
	a.Thicker = "thicker: deeper →"
	if a.Shim == picture.UnderCage {
		a.Thicker = "← thicker: out"
	}
	if a.Solid {
		a.Spacer, a.PreloadShims = "spacer, preload shims", " "
		if a.Shim == picture.UnderCage {
			a.Spacer = "preload shims" // there is no room for more
		}
	}
	if a.Adjusters {
		a.Far, a.GearSide = "opposite side: adjuster", "ring-gear side: adjuster"
	}
	return a
}

func (d cut) Text(columns int, color bool) (string, error) {
	return picture.SectionText(d.Section, picture.Options{Columns: columns, Color: color})
}

func (d cut) SVG(w io.Writer, id string) error {
	return picture.AxleSVG(w, d.axle, d.words, picture.Options{Color: true, ID: id})
}

// section draws how a design is built, seen from above: the case across at the left with
// the ring gear on it, the pinion along to the right.
func section(d family.Design) figure.Figure {
	const wide, high, centerline = 60, 19, 10
	s := picture.Section{Wide: wide, High: high, Axis: centerline, AxisName: "ring gear centerline"}
	number := map[int]int{}
	add := func(part, left, top, right, bottom int) {
		n, ok := number[part]
		if !ok {
			n = len(s.Parts)
			number[part] = n
			s.Parts = append(s.Parts, partOf(part))
		}
		s.Blocks = append(s.Blocks, picture.Block{Part: n, Left: left, Top: top, Right: right, Bottom: bottom})
	}
	// both adds what lies above and below the pinion's axis, of which one half is given.
	both := func(part, left, top, right, bottom int) {
		const axis = 20 // top and bottom of a half add up to it
		add(part, left, top, right, bottom)
		add(part, left, axis-bottom, right, axis-top)
	}
	add(ringGear, 2, 5, 20, 7)
	add(differentialCase, 6, 7, 15, 14)
	words := []string{"Seen from above."}
	end := 1 // row of the housing at the end of the case
	switch d.SideAdjust {
	case family.InsideShims:
		add(sideBearing, 7, 2, 14, 4)
		add(sideShim, 7, 4, 14, 5)
		add(sideBearing, 7, 15, 14, 17)
		add(sideShim, 7, 14, 14, 15)
		words = append(words, "The side shims lie between the differential case and the cones of the side bearings.")
	case family.BearingAdjusters:
		add(sideBearing, 7, 3, 14, 5)
		add(adjuster, 6, 1, 15, 3)
		add(sideBearing, 7, 14, 14, 16)
		add(adjuster, 6, 16, 15, 18)
		end = 0
		words = append(words, "A threaded bearing adjuster stands outside each side bearing and pushes on its cup.")
	default:
		add(sideBearing, 7, 3, 14, 5)
		add(sideShim, 7, 2, 14, 3)
		add(sideBearing, 7, 14, 14, 16)
		add(sideShim, 7, 16, 14, 17)
		words = append(words, "The side shims lie outside, between the cups of the side bearings and the carrier housing.")
	}
	add(housing, 5, end, 16, end+1)
	add(housing, 5, high-1-end, 16, high-end)
	add(thePinion, 17, 7, 23, 13)
	add(thePinion, 23, 9, 52, 11)
	inner := 23
	between := housing
	switch d.DepthShim {
	case family.UnderInnerCone:
		both(depthShim, 23, 7, 25, 9)
		inner = 25
		words = append(words, "The depth shim lies between the pinion and the cone of the inner bearing: a thicker one moves the pinion deeper.")
	case family.BehindInnerCup:
		words = append(words, "The depth shim lies behind the cup of the inner bearing: a thicker one pushes cup and pinion deeper and tightens the bearings.")
	case family.UnderCageFlange:
		between = cage
		words = append(words, "Both pinion bearings sit in a cage. The depth shim lies under its flange: a thicker one moves the pinion out.")
	}
	both(innerBearing, inner, 5, inner+6, 9)
	shoulder := inner + 6
	if d.DepthShim == family.BehindInnerCup {
		both(depthShim, shoulder, 5, shoulder+2, 7)
		shoulder += 2
	}
	both(between, shoulder, 5, 42, 7)
	if between == cage {
		both(cage, 38, 3, 41, 5)
		both(depthShim, 36, 3, 38, 5)
		both(housing, 29, 3, 36, 5)
	}
	spacerEnd := 42
	if d.Preload == family.SolidSpacer {
		both(preloadShims, 40, 7, 42, 9)
		spacerEnd = 40
		words = append(words, "A solid spacer with preload shims stands between the cones of the pinion bearings: fewer of them give more preload.")
	} else {
		words = append(words, "A collapsible spacer stands between the cones of the pinion bearings, and the nut crushes it.")
	}
	both(theSpacer, inner+6, 8, spacerEnd, 9)
	both(outerBearing, 42, 5, 48, 9)
	both(yoke, 49, 7, 52, 9)
	add(nut, 52, 8, 56, 12)
	said := strings.Join(words, " ")
	return figure.Figure{Alt: said, Drawing: cut{s, assembled(d), said}}
}
