package mesh

import (
	"math"

	"shimwright/sim/text"
)

// An EaseOff is how much metal the pinion flank lacks against the one exactly
// conjugate to the ring flank: nothing at the centre, more toward the edges,
//
//	e = LengthMM·u² + ProfileMM·v² + TwistMM·u·v,  u = 2(s − CentreS), v = 2(t − CentreT)
//
// measured along the normal, mm.
type EaseOff struct {
	LengthMM, ProfileMM, TwistMM float64
	CenterS, CenterT             float64 // shares of face (toe 0) and of working depth (root 0)
}

func (e EaseOff) at(s, t float64) float64 {
	u, v := 2*(s-e.CenterS), 2*(t-e.CenterT)
	return e.LengthMM*u*u + e.ProfileMM*v*v + e.TwistMM*u*v
}

func (e EaseOff) check(f Flank) error {
	for _, v := range []float64{e.LengthMM, e.ProfileMM, e.TwistMM} {
		if !(math.Abs(v) <= 1) {
			return text.Fail(nil, text.Say("mesh.ease-off-large", "the ease-off of the {side} has {x} mm; each part should be at most 1 mm", text.Of("side", f.Side()), text.Rounded("x", v)))
		}
	}
	for _, v := range []float64{e.CenterS, e.CenterT} {
		if !(v >= 0 && v <= 1) {
			return text.Fail(nil, text.Say("mesh.ease-off-center", "the ease-off of the {side} has its center at {x}; the center should be on the tooth, between 0 and 1 both ways", text.Of("side", f.Side()), text.Rounded("x", v)))
		}
	}
	if e == (EaseOff{CenterS: e.CenterS, CenterT: e.CenterT}) {
		return nil // the conjugate pinion itself
	}
	if e.LengthMM <= 0 || e.ProfileMM <= 0 || 4*e.LengthMM*e.ProfileMM <= e.TwistMM*e.TwistMM {
		return text.Fail(nil, text.Say("mesh.ease-off-valley", "the ease-off of the {side} ({along} along, {up} up, {twist} twist) is not a valley; along and up should be positive and their product more than a quarter of the twist squared", text.Of("side", f.Side()), text.Rounded("along", e.LengthMM), text.Rounded("up", e.ProfileMM), text.Rounded("twist", e.TwistMM)))
	}
	return nil
}

// The grid of each flank. Columns 2 and 58 are exactly the toe and the heel, so
// that contact lines end where the tooth does; the spare columns let a pinion moved
// along the face still cover all of it.
const (
	gridCols, gridRows = 61, 41
	toeCol, faceCols   = 2, 56
	gridPoints         = gridCols * gridRows
)

// aboutRollStep is about how far the pinion turns between samples of the contact. The
// true step divides the pinion's pitch exactly.
const aboutRollStep = math.Pi / 180

// A crossing is one place where a row or column of the grid meets the contact
// line of a sampled roll angle: share along from point a to point b.
type crossing struct {
	a, b, roll int32
	share      float64
}

// A mate is one flank of a set, ready for the fast method. Everything is per
// grid point except the crossings.
type mate struct {
	// kappa·(change of ring angle) per mm of PinionOut, RingAway, Offset and per
	// rad of ShaftAngle, and the part the ease-off makes.
	kP, kG, kE, kS, ease []float64
	per                  []float64    // the same per mm along the normal
	conjugate            [][2]float64 // (s, t) of the contact
	arm                  []float64    // |moment arm|, mm

	// Where the touched point lands: place in the axial plane and what a pinion
	// moved adds to it: radially cos and sin of the contact's angle round the
	// ring, and the shaft angle's two parts.
	along, over, cosA, sinA, tiltR, tiltZ []float64

	rollAt    []int32 // sample at or before the point's roll angle
	rollShare []float64
	crossings []crossing
}

// A Set is a ring and pinion: the geometry, the ease-off of both flanks and the
// contact worked out once. It does not change and may be shared.
type Set struct {
	blank     *Blank
	mates     [2]mate
	ease      [2]EaseOff
	rolls     int // samples in one pinion pitch
	heelArmMM float64
	lashMM    float64
	designGap float64 // mean angle between the flanks at the design position, rad
}

// maxDesignBacklashMM bounds what NewSet takes as a backlash at the design position.
const maxDesignBacklashMM = 5

var errNoHandOver error = text.Fail(ErrTeeth, text.Say("mesh.no-hand-over", "contact does not carry on from one pinion tooth to the next; more face width, spiral or depth is needed"))

// NewSet works out a set from its drawing data, the ease-off of its two flanks and
// the backlash (mm, on a dial square to the tooth at the heel, mean over a pinion
// pitch) it shows with both members at the design position.
//
// Errors: those of NewBlank, an ease-off that is no valley, a backlash that is
// negative or over 5 mm, and a set whose contact does not carry on from one tooth
// to the next.
func NewSet(data SetData, drive, coast EaseOff, designBacklashMM float64) (*Set, error) {
	b, err := NewBlank(data)
	if err != nil {
		return nil, err
	}
	pitch := 2 * math.Pi / float64(b.Data.PinionTeeth)
	s := &Set{blank: b, rolls: int(math.Round(pitch / aboutRollStep))}
	for _, f := range []Flank{Drive, Coast} {
		grid, err := b.conjugate(f, gridCols, gridRows, toeCol, faceCols)
		if err != nil {
			return nil, err
		}
		s.mates[f] = b.mate(f, grid, s.rolls)
	}
	c := b.cone(Drive)
	heel, ok := b.point(&c, 1, 0.5)
	if !ok {
		return nil, text.Fail(ErrTeeth, text.Say("mesh.no-heel", "the cutter does not reach the heel"))
	}
	_, n := c.outside(heel)
	s.heelArmMM = math.Abs(heel.cross(n).z)
	return s.With(drive, coast, designBacklashMM)
}

// With returns a set of the same drawing with another ease-off and design backlash, as
// NewSet does, in a fraction of its time: all that the ease-off does not touch is shared.
// Errors: those of NewSet that are not of the drawing.
func (s *Set) With(drive, coast EaseOff, designBacklashMM float64) (*Set, error) {
	if !(designBacklashMM >= 0 && designBacklashMM <= maxDesignBacklashMM) {
		return nil, text.Fail(nil, text.Say("mesh.design-backlash", "the design backlash is {x} mm; it should be between 0 and {most} mm", text.Rounded("x", designBacklashMM), text.Rounded("most", maxDesignBacklashMM)))
	}
	of := *s
	of.ease, of.lashMM = [2]EaseOff{drive, coast}, designBacklashMM
	for _, f := range []Flank{Drive, Coast} {
		if err := of.ease[f].check(f); err != nil {
			return nil, err
		}
		m := &of.mates[f]
		m.ease = make([]float64, len(m.per))
		for k, at := range m.conjugate {
			m.ease[k] = m.per[k] * of.ease[f].at(at[0], at[1])
		}
	}
	mockUp := of.NewContact()
	first := [2][]float64{mockUp.faces[Drive].first, mockUp.faces[Coast].first}
	if broken(first[Drive], first[Coast]) {
		return nil, errNoHandOver
	}
	of.designGap, _, _ = gap(first[Drive], first[Coast])
	return &of, nil
}

// Blank returns the geometry of the set.
func (s *Set) Blank() *Blank {
	b := *s.blank
	return &b
}

// HeelArmMM returns how far a dial square to the drive flank at the heel, half way
// up, moves per radian of ring gear rotation.
func (s *Set) HeelArmMM() float64 { return s.heelArmMM }

// mate turns a conjugate flank into the tables of the fast method.
func (b *Blank) mate(f Flank, grid []touch, rolls int) mate {
	col := func() []float64 { return make([]float64, len(grid)) }
	m := mate{
		kP: col(), kG: col(), kE: col(), kS: col(), per: col(), conjugate: make([][2]float64, len(grid)), arm: col(),
		along: col(), over: col(), cosA: col(), sinA: col(), tiltR: col(), tiltZ: col(),
		rollAt: make([]int32, len(grid)), rollShare: col(),
	}
	kappa := b.cone(f).side
	step := 2 * math.Pi / float64(b.Data.PinionTeeth) / float64(rolls)
	for k, p := range grid {
		r := math.Hypot(p.fixed.x, p.fixed.y)
		// Displacement of the pinion by a shaft angle: y × (X − (0, E, 0)).
		tilt := vec{p.fixed.z, 0, -p.fixed.x}
		per := kappa / p.arm
		m.kP[k] = per * p.n.x
		m.kE[k] = per * p.n.y
		m.kG[k] = -per * p.n.z
		m.kS[k] = per * p.n.dot(tilt)
		m.per[k], m.conjugate[k] = per, [2]float64{p.s, p.t}
		m.arm[k] = math.Abs(p.arm)
		m.along[k], m.over[k] = b.axial(p.s, p.t)
		m.cosA[k], m.sinA[k] = p.fixed.x/r, p.fixed.y/r
		m.tiltR[k], m.tiltZ[k] = tilt.x*m.cosA[k], tilt.z

		turned := p.roll / step
		whole := math.Floor(turned)
		m.rollAt[k], m.rollShare[k] = int32(modulo(int(whole), rolls)), turned-whole
	}
	line := func(a, c int) {
		from, to := grid[a].roll/step, grid[c].roll/step
		low, high := math.Min(from, to), math.Max(from, to)
		if high == low {
			return
		}
		for n := math.Ceil(low); n <= high; n++ {
			m.crossings = append(m.crossings, crossing{
				a: int32(a), b: int32(c), roll: int32(modulo(int(n), rolls)),
				share: (n - from) / (to - from),
			})
		}
	}
	// The middle of the tooth comes first: the contact lies near it, and who touches later than
	// what was found already is passed over.
	for _, r := range fromMiddle(gridRows) {
		for _, j := range fromMiddle(gridCols) {
			k := r*gridCols + j
			if j+1 < gridCols {
				line(k, k+1)
			}
			if r+1 < gridRows {
				line(k, k+gridCols)
			}
		}
	}
	return m
}

// fromMiddle lists 0 to n-1 from the middle outward.
func fromMiddle(n int) []int {
	out := make([]int, n)
	at := n / 2
	for i := range out {
		if i%2 == 1 {
			at -= i
		} else {
			at += i
		}
		out[i] = at
	}
	return out
}

// rollStep returns how far the pinion turns between samples, rad.
func (s *Set) rollStep() float64 {
	return 2 * math.Pi / float64(s.blank.Data.PinionTeeth) / float64(s.rolls)
}

func modulo(n, m int) int { return ((n % m) + m) % m }

// ErrPosition marks a position outside the model's range.
var ErrPosition error = text.Fail(nil, text.Say("mesh.position", "the gears cannot be in this position"))
