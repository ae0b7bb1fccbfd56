package mesh

import "math"

// An ExactContact answers what a Contact answers by solving every contact: it puts the
// points of the pinion's flanks where they really are, at every sample of roll, and
// turns the ring until they touch [9]. Nothing is taken as a small move, and no contact
// as lying where the conjugate one does. It is what the fast method is measured against
// and takes some 150 times as long.
//
// Make it with Set.NewExactContact. It is scratch space that is used again by every
// Move; it is not safe for concurrent use.
type ExactContact struct {
	set       *Set
	flanks    [2]exactFlank
	poses     []pose // the pinion at every roll sample that a flank is looked at
	at        Position
	designGap float64 // as the set's, by this method
}

// An exactFlank is a flank of the pinion, and what it does at the present position.
type exactFlank struct {
	landing
	blank      *Blank
	cone       bladeCone
	body       []vec // points of the grid in the pinion's own body
	own        []int // roll sample nearest to each point's conjugate contact
	rows, cols []line
	first      []float64 // as a face's
}

// A line is a row or a column of the grid, along s or along t.
type line struct {
	axis                 int // 0 along s, 1 along t
	from, stride, points int
	at                   int // the point of it that last touched first
}

// The ring's flank along s and along t, as in onTooth.
var flankFrom, flankTo = [2]float64{0, deepestT}, [2]float64{1, 1}

// NewExactContact returns scratch space for the exact method, at the design position.
//
// Errors: ErrTeeth for a set whose contact, solved exactly, does not carry on from one
// tooth to the next, however little it lacks.
func (s *Set) NewExactContact() (*ExactContact, error) {
	c := &ExactContact{set: s}
	for _, f := range []Flank{Drive, Coast} {
		grid, err := s.blank.conjugate(f, gridCols, gridRows, toeCol, faceCols)
		if err != nil {
			return nil, err
		}
		c.flanks[f] = s.exactFlank(f, grid)
		c.solve(f, Position{})
	}
	if broken(c.flanks[Drive].first, c.flanks[Coast].first) {
		return nil, errNoHandOver
	}
	c.designGap, _, _ = gap(c.flanks[Drive].first, c.flanks[Coast].first)
	return c, nil
}

// exactFlank turns a conjugate flank into the pinion's true one, which falls short of it
// by the ease-off.
func (s *Set) exactFlank(f Flank, grid []touch) exactFlank {
	x := exactFlank{
		landing: newLanding(gridCols, gridRows), blank: s.blank, cone: s.blank.cone(f),
		first: make([]float64, s.rolls+1),
	}
	for _, p := range grid {
		// Out of the ring's metal is into the pinion's.
		q := p.fixed.minus(vec{0, s.blank.Data.OffsetMM, 0}).plus(p.n.times(s.ease[f].at(p.s, p.t)))
		x.body = append(x.body, q.turnX(p.roll))
		x.own = append(x.own, int(math.Round(p.roll/s.rollStep())))
	}
	for r := range gridRows {
		x.rows = append(x.rows, line{axis: 0, from: r * gridCols, stride: 1, points: gridCols})
	}
	for c := range gridCols {
		x.cols = append(x.cols, line{axis: 1, from: c, stride: gridCols, points: gridRows})
	}
	return x
}

// Move puts pinion and ring at a position and solves both flanks. It takes the positions
// that Contact.Move takes, with the same errors for others; badly out of place it may
// still find the corner of a tooth where Contact.Move finds none. What it leaves out is
// the fineness of grid and roll samples alone: up to 0.002 of the tooth at a pattern's
// centre, 0.003 of the flank's area and 0.0002 mm of mean backlash.
func (c *ExactContact) Move(p Position) error {
	if err := c.set.check(p); err != nil {
		return err
	}
	c.solve(Drive, p)
	c.solve(Coast, p)
	if broken(c.flanks[Drive].first, c.flanks[Coast].first) {
		c.solve(Drive, c.at)
		c.solve(Coast, c.at)
		return separated(p)
	}
	c.at = p
	return nil
}

// Backlash returns the free play at the last position, as Contact.Backlash does.
func (c *ExactContact) Backlash() Backlash {
	return c.set.dial(c.designGap, c.flanks[Drive].first, c.flanks[Coast].first)
}

// Lead returns the lead of a flank at the last position, as Contact.Lead does.
func (c *ExactContact) Lead(f Flank) Lead {
	if !f.known() {
		return Lead{}
	}
	return leadOf(c.flanks[f].first)
}

// Pattern returns what compound of the given film thickness (mm) shows on a ring flank
// at the last position, as Contact.Pattern does.
func (c *ExactContact) Pattern(f Flank, filmMM float64) Pattern {
	if !f.known() {
		return Pattern{Empty: true}
	}
	return c.flanks[f].pattern(filmMM)
}

// Separation returns the closest approach (mm) over the whole roll at the centres of
// cols × rows cells of the ring tooth, as Contact.Separation does.
func (c *ExactContact) Separation(f Flank, cols, rows int, dst []float64) []float64 {
	if !f.known() {
		return dst[:0]
	}
	return c.flanks[f].separation(cols, rows, dst)
}

// A pose carries points of the pinion's body, with the pinion where it stands at one
// roll angle, into the body of a ring turned by the ratio alone.
type pose struct {
	x, y, z vec // where the pinion's own axes point
	origin  vec
}

func (b *Blank) pose(rollRad float64, p Position) pose {
	ring := -b.Ratio * rollRad
	stand := func(v vec) vec { return v.turnX(-rollRad).turnY(p.ShaftAngleRad).turnZ(ring) }
	out := vec{p.PinionOutMM, 0, 0}.turnY(p.ShaftAngleRad)
	return pose{
		x: stand(vec{1, 0, 0}), y: stand(vec{0, 1, 0}), z: stand(vec{0, 0, 1}),
		origin: out.plus(vec{0, b.Data.OffsetMM + p.OffsetMM, -p.RingAwayMM}).turnZ(ring),
	}
}

func (q *pose) carry(v vec) vec {
	return vec{
		q.x.x*v.x + q.y.x*v.y + q.z.x*v.z + q.origin.x,
		q.x.y*v.x + q.y.y*v.y + q.z.y*v.z + q.origin.y,
		q.x.z*v.x + q.y.z*v.y + q.z.z*v.z + q.origin.z,
	}
}

// A meeting is the contact of one pinion point with the ring's flank at one roll angle.
type meeting struct {
	lead float64 // ring angle by which it touches ahead of the ratio, rad
	arm  float64 // |moment arm|, mm
	at   vec     // in the ring's body
}

// settledRad is a step of Newton's method worth its last one. What remains goes with its
// square and is under a millionth of a millimetre.
const settledRad = 1e-5

// meet turns the ring until its flank reaches a point of the pinion.
func (x *exactFlank) meet(k int, q *pose) meeting {
	y := q.carry(x.body[k])
	turn, arm := 0.0, 0.0
	for range newtonSteps {
		out, n := x.cone.outside(y)
		arm = y.x*n.y - y.y*n.x
		by := out / arm
		turn += by
		y = y.turnZ(-by)
		if math.Abs(by) < settledRad {
			break
		}
	}
	return meeting{x.cone.side * turn, math.Abs(arm), y}
}

// where returns the place on the ring tooth of a point in the ring's body.
func (b *Blank) where(at vec) (s, t float64) {
	return b.share(b.place(math.Hypot(at.x, at.y), at.z))
}

// vertex returns where the parabola through three even samples has its vertex, in steps
// from the middle one, and how high it is.
func vertex(before, here, after float64) (share, height float64) {
	share = (before - after) / (2 * (before - 2*here + after))
	return share, here - (before-after)*share/4
}

// A summit is the place along a line of the grid that touches first at one roll angle:
// where the contact line crosses it, an end of it, or where it leaves the ring's flank.
type summit struct {
	lead  float64
	place [2]float64 // (s, t)
}

func (x *exactFlank) summitAt(m meeting) summit {
	s, t := x.blank.where(m.at)
	return summit{m.lead, [2]float64{s, t}}
}

func (a summit) on() bool { return onTooth(a.place[0], a.place[1]) }

// toward returns the place a share of the way to another summit.
func (a summit) toward(o summit, share float64) summit {
	for i := range a.place {
		a.place[i] += (o.place[i] - a.place[i]) * share
	}
	a.lead += (o.lead - a.lead) * share
	return a
}

// atEdge returns the place on the edge of the flank along an axis, on the way to a
// summit beyond it.
func (a summit) atEdge(beyond summit, axis int) summit {
	share := 1.0
	from, to := a.place[axis], beyond.place[axis]
	switch {
	case to > flankTo[axis]:
		share = max(0, flankTo[axis]-from) / (to - from)
	case to < flankFrom[axis]:
		share = max(0, from-flankFrom[axis]) / (from - to)
	}
	return a.toward(beyond, share)
}

// summit climbs along a line of the grid, from where its last summit was, and goes back
// to the ring's flank if that took it off it, while its lead is over the floor.
func (x *exactFlank) summit(l *line, q *pose, floor float64) summit {
	at := func(j int) meeting { return x.meet(l.from+j*l.stride, q) }
	j := min(max(l.at, 1), l.points-2)
	before, here, after := at(j-1), at(j), at(j+1)
	for after.lead > here.lead && j+2 < l.points {
		j++
		before, here, after = here, after, at(j+1)
	}
	for before.lead > here.lead && j > 1 {
		j--
		before, here, after = at(j-1), before, here
	}
	l.at = j
	beside, share, lead := before, 1.0, before.lead
	switch {
	case after.lead > max(before.lead, here.lead):
		beside, lead = after, after.lead
	case here.lead >= before.lead && here.lead > min(before.lead, after.lead):
		share, lead = vertex(before.lead, here.lead, after.lead)
		if share > 0 {
			beside = after
		}
		share = math.Abs(share)
	}
	top := x.summitAt(here).toward(x.summitAt(beside), share)
	top.lead = lead

	back := 0
	switch {
	case top.place[l.axis] > flankTo[l.axis]+edgeSlack:
		back = -1
	case top.place[l.axis] < flankFrom[l.axis]-edgeSlack:
		back = 1
	}
	for ; back != 0 && j >= 0 && j < l.points && top.lead >= floor; j += back {
		next := x.summitAt(at(j))
		if v := next.place[l.axis]; v >= flankFrom[l.axis] && v <= flankTo[l.axis] {
			return next.atEdge(top, l.axis)
		}
		top = next
	}
	return top
}

// earliest returns the greatest lead on the ring's flank among the summits of a pose,
// followed from one line of the grid to the next, or the floor if that is more.
func (x *exactFlank) earliest(lines []line, q *pose, floor float64) float64 {
	var last summit
	for i := range lines {
		top := x.summit(&lines[i], q, floor)
		if top.on() {
			floor = max(floor, top.lead)
		}
		if i > 0 && top.on() != last.on() {
			// Between the two lines they reach an edge that the lines run along.
			in, out := top, last
			if last.on() {
				in, out = last, top
			}
			if edge := in.atEdge(out, 1-lines[i].axis); edge.on() {
				floor = max(floor, edge.lead)
			}
		}
		last = top
	}
	return floor
}

// reachRad is how far in roll beyond all conjugate contacts the teeth are looked at: a
// contact moves by a few degrees within the range of Move.
const reachRad = 20 * math.Pi / 180

// solve is the exact method for one flank: who touches first at each roll angle, over
// all pairs of teeth, then how close every point comes and where.
func (c *ExactContact) solve(f Flank, p Position) {
	x, rolls, step := &c.flanks[f], c.set.rolls, c.set.rollStep()
	start, end := x.own[0], x.own[0]
	for _, i := range x.own {
		start, end = min(start, i), max(end, i)
	}
	reach := int(reachRad / step)
	start, end = start-reach, end+reach
	c.poses = c.poses[:0]
	for i := start; i <= end; i++ {
		c.poses = append(c.poses, x.blank.pose(float64(i)*step, p))
	}

	for i := range x.first {
		x.first[i] = math.Inf(-1)
	}
	// Every point near its own contact shows what it takes to touch first.
	for k, i := range x.own {
		m, first := x.meet(k, &c.poses[i-start]), &x.first[modulo(i, rolls)]
		if m.lead > *first && x.summitAt(m).on() {
			*first = m.lead
		}
	}
	// Where a climb begins must not depend on the last position.
	for _, lines := range [2][]line{x.rows, x.cols} {
		for i := range lines {
			lines[i].at = 0
		}
	}
	for i := start; i <= end; i++ {
		q, first := &c.poses[i-start], &x.first[modulo(i, rolls)]
		*first = x.earliest(x.rows, q, *first)
		*first = x.earliest(x.cols, q, *first)
	}
	x.first[rolls] = x.first[0]

	// A point comes closest at the bottom of the valley that its own contact lies in. Far
	// away from that it may come closer to where the cone goes on beyond the ring's
	// tooth, which prints nothing.
	for k := range x.body {
		gap := func(i int) float64 {
			m := x.meet(k, &c.poses[i-start])
			return m.arm * (x.first[modulo(i, rolls)] - m.lead)
		}
		i := x.own[k]
		before, here, after := gap(i-1), gap(i), gap(i+1)
		for after < here && i+2 <= end {
			i++
			before, here, after = here, after, gap(i+1)
		}
		for before < here && i-2 >= start {
			i--
			before, here, after = gap(i-1), before, here
		}
		share := 0.0
		if here <= min(before, after) && here < max(before, after) {
			share, here = vertex(before, here, after)
		}
		q := x.blank.pose((float64(i)+share)*step, p)
		x.s[k], x.t[k] = x.blank.where(x.meet(k, &q).at)
		x.sep[k] = max(0, here)
	}
}
