package mesh

import "slices"

// MoveWithoutLanding is Move for a touched point that stays at its place on the ring
// tooth, which leaves of the fast method only what is proportional to its input.
func (c *Contact) MoveWithoutLanding(p Position) {
	for _, f := range []Flank{Drive, Coast} {
		c.solve(f, p)
		c.meet(f, Position{})
		c.at = Position{}
		c.land(f)
	}
	c.at = p
}

// FirstRad returns by how much the ring is turned ahead of the ratio at each roll
// sample of one pinion pitch, positive for early contact on either flank.
func (c *ExactContact) FirstRad(f Flank) []float64 {
	return slices.Clone(c.flanks[f].first[:c.set.rolls])
}
