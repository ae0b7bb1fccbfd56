package picture

import "math"

// A Spot is a part of a live cutaway that can be pointed at: rectangles of its drawing.
type Spot struct {
	Nut, PinionBearings, Spacer, DepthShim, Pinion, RingGear, SideBearings, SideShims, Caps []Box
}

// A Box is a rectangle of a drawing.
type Box struct{ X, Y, Wide, High float64 }

// CutawaySize is the size of a live cutaway, in the units of its boxes.
func CutawaySize() (wide, high float64) { return liveWide, liveHigh }

// Spots says where the parts of a live cutaway are, each somewhat larger than it is drawn: a
// fingertip is wider than a shim.
func (a Axle) Spots() Spot {
	between := func(x0, y0, x1, y1 float64) Box {
		return Box{min(x0, x1), min(y0, y1), math.Abs(x1 - x0), math.Abs(y1 - y0)}
	}
	// Above the pinion's axis and below it.
	both := func(x0, r0, x1, r1 float64) []Box {
		return []Box{between(x0, liveAxis-r0, x1, liveAxis-r1), between(x0, liveAxis+r0, x1, liveAxis+r1)}
	}
	const low = liveAxis + 90
	s := Spot{
		Nut:            []Box{between(2, liveAxis-72, 80, liveAxis+50)},
		PinionBearings: append(both(82, 0, 124, 90), both(238, 0, 278, 90)...),
		Spacer:         []Box{between(126, liveAxis-40, 236, liveAxis+66), between(126, low-18, 276, low+6)},
		Pinion:         []Box{between(298, liveAxis-50, 358, liveAxis+34)},
		RingGear:       []Box{between(liveCenter-104, liveAxis+36, liveCenter+104, liveAxis+90)},
		SideBearings:   []Box{between(liveCenter-49, liveAxis-112, liveCenter+49, liveAxis+34), between(liveCenter-49, liveAxis+92, liveCenter+49, liveAxis+128)},
		SideShims:      []Box{between(liveCenter-49, 0, liveWide, liveAxis-112), between(liveCenter-49, liveAxis+128, liveWide, liveHigh)},
		DepthShim:      []Box{between(0, low+10, 290, liveHigh)},
	}
	for _, x := range []float64{liveCenter - 72, liveCenter + 49} {
		s.Caps = append(s.Caps, between(x, liveAxis-118, x+23, liveAxis-76), between(x, liveAxis+94, x+23, liveAxis+134))
	}
	if a.Shim == UnderCage {
		s.DepthShim = append(s.DepthShim, both(128, 66, 158, 108)...)
	} else {
		s.DepthShim = append(s.DepthShim, both(279, 0, 297, 60)...)
	}
	return s
}
