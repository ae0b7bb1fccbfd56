package mesh

import (
	"math"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Position is where pinion and ring stand against their design position.
type Position struct {
	PinionOutMM   float64 // + pinion away from the ring axis (not deep enough)
	RingAwayMM    float64 // + ring gear away from the pinion (more backlash)
	OffsetMM      float64 // + larger offset
	ShaftAngleRad float64 // + shafts open beyond a right angle, pinion stem away from the ring gear body
}

// Backlash is the ring gear's free play with the pinion held, mm, on a dial square
// to the tooth at the heel: the mean over one pinion pitch and the least and most
// within it. MeanMM of zero or less means that the gears bind.
type Backlash struct{ MeanMM, MinMM, MaxMM float64 }

// A Pattern is what marking compound of one thickness shows on one flank. CentreS
// and CentreT are the centroid of the marked area, AreaShare its part of the flank.
// An Empty pattern has zeros elsewhere.
type Pattern struct {
	CenterS, CenterT       float64
	MinS, MaxS, MinT, MaxT float64
	AreaShare              float64
	Empty                  bool
}

// A Contact is a set at one position. Make it with Set.NewContact. It is scratch
// space that is used again by every Move; it is not safe for concurrent use.
type Contact struct {
	set   *Set
	faces [2]face
	at    Position
}

// A face is one flank at the present position.
type face struct {
	landing
	lead  []float64 // Q: ring angle by which each point touches ahead of conjugate
	first []float64 // T: the lead of whichever point touches first, by roll sample, and sample 0 again
	fresh bool      // the landing's separation belongs to the present position
	whole bool      // and so do the places of all its points, not of some
}

// NewContact returns scratch space for the set, at the design position.
func (s *Set) NewContact() *Contact {
	c := &Contact{set: s}
	for f := range c.faces {
		c.faces[f] = face{
			landing: newLanding(gridCols, gridRows), lead: make([]float64, gridPoints), first: make([]float64, s.rolls+1),
		}
		c.solve(Flank(f), Position{})
	}
	return c
}

// maxShaftAngleRad bounds a shaft angle error: the moves are taken as small.
const maxShaftAngleRad = 0.03

// Move puts pinion and ring at a position and works out both flanks. Positions in the
// range of the package comment have the accuracy stated there; results beyond are
// plausible, not checked.
//
// Errors: ErrPosition for a number that is not finite, a move over half the working
// depth or a shaft angle over 0.03 rad, or a move that separates the teeth. The
// contact then stays at its last position.
func (c *Contact) Move(p Position) error {
	if err := c.set.check(p); err != nil {
		return err
	}
	c.solve(Drive, p)
	c.solve(Coast, p)
	if broken(c.faces[Drive].first, c.faces[Coast].first) {
		c.solve(Drive, c.at)
		c.solve(Coast, c.at)
		return separated(p)
	}
	c.at = p
	return nil
}

// check refuses a position outside the range the model takes.
func (s *Set) check(p Position) error {
	limit := s.blank.WorkingDepthMM / 2
	size := func(name string, mm float64) text.Arg {
		return text.BothLength(name, quantity.Millimetres(mm))
	}
	for _, v := range []struct {
		what text.Message
		mm   float64
	}{
		{text.Say("mesh.pinion-out", "the pinion is out of position by"), p.PinionOutMM},
		{text.Say("mesh.ring-away", "the ring gear is away from its position by"), p.RingAwayMM},
		{text.Say("mesh.offset-error", "the offset is larger by"), p.OffsetMM},
	} {
		if !(math.Abs(v.mm) <= limit) {
			return text.Fail(ErrPosition, text.Say("mesh.too-far", "{what} {x}; this set takes up to {most} either way, half its working depth", text.Of("what", v.what), size("x", v.mm), size("most", limit)))
		}
	}
	if !(math.Abs(p.ShaftAngleRad) <= maxShaftAngleRad) {
		return text.Fail(ErrPosition, text.Say("mesh.shaft-angle", "the shaft angle is off by {x} rad; this model takes up to {most} rad either way", text.Rounded("x", p.ShaftAngleRad), text.Rounded("most", maxShaftAngleRad)))
	}
	return nil
}

// separated is the error of a position that parts the teeth.
func separated(p Position) error {
	return text.Fail(ErrPosition, text.Say("mesh.apart", "so far out of position (pinion {pinion}, ring gear {ring_gear}) the teeth lose contact before the next pair meets", text.BothLength("pinion", quantity.Millimetres(p.PinionOutMM)), text.BothLength("ring_gear", quantity.Millimetres(p.RingAwayMM))))
}

// broken tells from the first contacts of both flanks whether some roll angle has no
// pair of teeth in reach.
func broken(drive, coast []float64) bool {
	for i := range drive {
		if math.IsInf(drive[i], -1) || math.IsInf(coast[i], -1) {
			return true
		}
	}
	return false
}

// gap returns the ring angle between drive and coast contact with the pinion held,
// against a set without any thinning, from the first contacts of both flanks: mean,
// least and most over a pinion pitch, rad. Sample 0 stands in them twice.
func gap(drive, coast []float64) (mean, least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	n := len(drive) - 1
	for i := range n {
		g := -(drive[i] + coast[i])
		mean += g
		least, most = math.Min(least, g), math.Max(most, g)
	}
	return mean / float64(n), least, most
}

// Backlash returns the free play at the last position, with the dial square to the
// tooth at the heel. A stem out of square by an angle reads more by 1/cos of it; one
// along the ring's direction of travel reads by half the ring diameter over
// Set.HeelArmMM more.
func (c *Contact) Backlash() Backlash {
	return c.set.dial(c.set.designGap, c.faces[Drive].first, c.faces[Coast].first)
}

// dial turns the first contacts of both flanks into the reading of the dial, for a
// mean gap at the design position by the same method.
func (s *Set) dial(designGap float64, drive, coast []float64) Backlash {
	mean, least, most := gap(drive, coast)
	dial := func(gap float64) float64 { return s.lashMM + s.heelArmMM*(gap-designGap) }
	return Backlash{MeanMM: dial(mean), MinMM: dial(least), MaxMM: dial(most)}
}

// separate works out the closest approach of every point over the whole roll. Where the points
// land is left to land and landNear.
func (c *Contact) separate(f Flank) {
	m, w := &c.set.mates[f], &c.faces[f]
	if w.fresh {
		return
	}
	for k, lead := range w.lead {
		i := m.rollAt[k]
		first := w.first[i] + (w.first[i+1]-w.first[i])*m.rollShare[k]
		w.sep[k] = max(0, m.arm[k]*(first-lead))
	}
	w.fresh = true
}

// solve is the fast method for one flank.
func (c *Contact) solve(f Flank, p Position) {
	m, w := &c.set.mates[f], &c.faces[f]
	dP, dG, dE, dS := p.PinionOutMM, p.RingAwayMM, p.OffsetMM, p.ShaftAngleRad
	for k := range w.lead {
		w.lead[k] = m.kP[k]*dP + m.kG[k]*dG + m.kE[k]*dE + m.kS[k]*dS + m.ease[k]
	}
	c.meet(f, p)
	w.fresh, w.whole = false, false
}

// place returns where on the ring tooth a point of the grid lands at a position.
func (m *mate) place(k int32, b *Blank, p *Position) (s, t float64) {
	dr := p.PinionOutMM*m.cosA[k] + p.OffsetMM*m.sinA[k] + p.ShaftAngleRad*m.tiltR[k]
	dz := p.ShaftAngleRad*m.tiltZ[k] - p.RingAwayMM
	along := m.along[k] + dr*b.sinPitch + dz*b.cosPitch
	over := m.over[k] + dr*b.cosPitch - dz*b.sinPitch
	return b.share(along, over)
}

// land works out where every point lands.
func (c *Contact) land(f Flank) {
	w := &c.faces[f]
	if w.whole {
		return
	}
	c.landFrom(f, 0, len(w.sep))
	w.whole = true
}

// landFrom works out where the points from one up to another land.
func (c *Contact) landFrom(f Flank, from, to int) {
	m, w := &c.set.mates[f], &c.faces[f]
	for k := from; k < to; k++ {
		w.s[k], w.t[k] = m.place(int32(k), c.set.blank, &c.at)
	}
}

// landNear works out where those points land that the pinion comes nearer to than a film, and
// those next to them: a pattern is drawn from no others.
func (c *Contact) landNear(f Flank, filmMM float64) {
	w := &c.faces[f]
	if w.whole {
		return
	}
	first, last := [gridRows]int{}, [gridRows]int{} // columns of a row nearer than the film
	for row := range gridRows {
		first[row], last[row] = gridCols, -1
		for col, sep := range w.sep[row*gridCols : (row+1)*gridCols] {
			if sep < filmMM {
				first[row], last[row] = min(first[row], col), col
			}
		}
	}
	for row := range gridRows {
		from, to := gridCols, -1
		for r := max(row-1, 0); r <= min(row+1, gridRows-1); r++ {
			from, to = min(from, first[r]), max(to, last[r])
		}
		if to >= 0 {
			c.landFrom(f, row*gridCols+max(from-1, 0), row*gridCols+min(to+2, gridCols))
		}
	}
}

// meet works out who touches first at each roll angle, over all pairs of teeth.
func (c *Contact) meet(f Flank, p Position) {
	m, w := &c.set.mates[f], &c.faces[f]
	first := w.first[:c.set.rolls]
	for i := range first {
		first[i] = math.Inf(-1)
	}
	for i := range m.crossings {
		x := &m.crossings[i]
		lead := w.lead[x.a] + (w.lead[x.b]-w.lead[x.a])*x.share
		if lead <= first[x.roll] {
			continue
		}
		sa, ta := m.place(x.a, c.set.blank, &p)
		sb, tb := m.place(x.b, c.set.blank, &p)
		if onTooth(sa+(sb-sa)*x.share, ta+(tb-ta)*x.share) {
			first[x.roll] = lead
		}
	}
	w.first[c.set.rolls] = w.first[0]
}

// edgeSlack keeps points exactly on the tooth's edge on the tooth when their place
// has a rounding error.
const edgeSlack = 1e-9

// deepestT is where the tip of a deep pinion still finds flank.
const deepestT = -0.12

// onTooth tells whether a landed point is on the ring's flank between its top and
// deepestT.
func onTooth(s, t float64) bool {
	return s >= -edgeSlack && s <= 1+edgeSlack && t >= deepestT && t <= 1+edgeSlack
}
