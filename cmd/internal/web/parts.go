package web

import (
	"fmt"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/picture"
	"shimwright/sim/text"
)

// firstPart is the number of the first part among the groups of a page.
const firstPart = int(bench.Writing) + 1

// A spot is a part of the axle that is pointed at, in the drawing or in the list below it.
type spot struct {
	Name, Path string
	Here       bool
	Boxes      []picture.Box
}

// spots are the parts of an axle, from the yoke to the far side; of two that overlap in the
// drawing the later one is above.
func (s *sitting) spots(v bench.View, a picture.Axle, open int) []spot {
	at := a.Spots()
	boxes := map[bench.Part][]picture.Box{
		bench.NutPart: at.Nut, bench.PinionBearingsPart: at.PinionBearings, bench.SpacerPart: at.Spacer, bench.DepthShimPart: at.DepthShim, bench.PinionPart: at.Pinion,
		bench.RingGearPart: at.RingGear, bench.SideBearingsPart: at.SideBearings, bench.SideShimsPart: at.SideShims, bench.CapsPart: at.Caps,
	}
	var out []spot
	for i, p := range bench.Parts() {
		n := firstPart + i
		out = append(out, spot{s.pen.Print(p.Name(v.Card.Family.Design)), fmt.Sprintf("%s/jobs/%s?group=%d#choose", s.f.Base, s.id, n), n == open, boxes[p]})
	}
	return out
}

// part lists the acts that concern a part. Its buttons have names of their own: the acts stand
// in their groups too.
func (s *sitting) part(v bench.View, p bench.Part) group {
	g := group{N: firstPart + int(p), Name: s.pen.Print(text.Say("web.part", "At this part: {part}", text.Of("part", p.Name(v.Card.Family.Design)))), Open: true, Part: true}
	s.list(&g, v, v.On(p))
	for i := range g.Acts {
		c := &g.Acts[i]
		c.ID = id("part", c.ID)
		for k := range c.Quick {
			c.Quick[k].ID = id("part", c.Quick[k].ID)
		}
		for k := range c.Slots {
			c.Slots[k].ID = id("part", c.Slots[k].ID)
		}
	}
	return g
}
