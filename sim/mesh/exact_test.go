package mesh

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func newExact(t testing.TB, s *Set) *ExactContact {
	t.Helper()
	x, err := s.NewExactContact()
	require.NoError(t, err)
	return x
}

// meetAt is the meeting of a grid point at a roll angle.
func (x *exactFlank) meetAt(k int, rollRad float64, p Position) meeting {
	q := x.blank.pose(rollRad, p)
	return x.meet(k, &q)
}

// conjugateRolls are the roll angles at which the points of a flank's grid touch.
func conjugateRolls(t testing.TB, b *Blank, f Flank) []float64 {
	t.Helper()
	grid, err := b.conjugate(f, gridCols, gridRows, toeCol, faceCols)
	require.NoError(t, err)
	var out []float64
	for _, p := range grid {
		out = append(out, p.roll)
	}
	return out
}

// The definition of a conjugate pair: with no ease-off and nothing out of place the
// ring turns by exactly the ratio, on every point and at every roll angle.
func TestConjugatePinionTransmitsTheRatio(t *testing.T) {
	const (
		tolPointMM  = 1e-9 // at the heel; rounding
		tolLineMM   = 0.0001
		tolEarlyMM  = 1e-9 // a point away from its contact stands clear
		tolDesignMM = 1e-9
	)
	for _, name := range meshing {
		s, err := NewSet(sets[name], EaseOff{}, EaseOff{}, designLash)
		require.NoError(t, err)
		heel := s.blank.Data.RingDiameterMM / 2
		c := newExact(t, s)
		assert.InDelta(t, designLash, c.Backlash().MeanMM, tolDesignMM)
		for f := range c.flanks {
			x := &c.flanks[f]
			for k, roll := range conjugateRolls(t, s.blank, Flank(f)) {
				require.InDelta(t, 0, x.meetAt(k, roll, Position{}).lead*heel, tolPointMM, "%s %v point %d", name, Flank(f), k)
				for _, off := range []float64{-0.1, -0.02, 0.02, 0.1} {
					require.LessOrEqual(t, x.meetAt(k, roll+off, Position{}).lead*heel, tolEarlyMM, "%s %v point %d", name, Flank(f), k)
				}
			}
			for i, lead := range x.first {
				assert.InDelta(t, 0, lead*heel, tolLineMM, "%s %v sample %d", name, Flank(f), i)
			}
		}
	}
}

// Every coefficient of the fast method, point by point, for a move so small that
// what the straight-line step leaves out does not count.
func TestEachSmallMoveAgainstExact(t *testing.T) {
	const (
		tolLeadRad = 3e-7 // of moves that make up to 1e-4
		tolPlace   = 3e-5 // of the tooth, of moves that make up to 1e-3
	)
	twisted := normal
	twisted.TwistMM = 0.02
	moves := []Position{{PinionOutMM: 0.01}, {RingAwayMM: 0.01}, {OffsetMM: 0.01}, {ShaftAngleRad: 0.0001}}
	for _, name := range []string{"A", "E0 small cutter"} {
		s, err := NewSet(sets[name], twisted, twisted, designLash)
		require.NoError(t, err)
		k, b, exact := s.NewContact(), s.blank, newExact(t, s)
		for _, f := range []Flank{Drive, Coast} {
			x, roll := &exact.flanks[f], conjugateRolls(t, b, f)
			for _, p := range moves {
				at(t, k, Position{})
				still := append([]float64(nil), k.faces[f].lead...)
				at(t, k, p)
				k.land(f)
				for i := 0; i < gridPoints; i += 97 {
					before, after := x.meetAt(i, roll[i], Position{}), x.meetAt(i, roll[i], p)
					s0, t0 := b.where(before.at)
					s1, t1 := b.where(after.at)
					w, m := &k.faces[f], &s.mates[f]
					fs, ft := b.share(m.along[i], m.over[i])
					assert.InDelta(t, after.lead-before.lead, w.lead[i]-still[i], tolLeadRad, "%s %v %+v point %d", name, f, p, i)
					assert.InDelta(t, s1-s0, w.s[i]-fs, tolPlace, "%s %v %+v point %d", name, f, p, i)
					assert.InDelta(t, t1-t0, w.t[i]-ft, tolPlace, "%s %v %+v point %d", name, f, p, i)
				}
			}
		}
	}
}

// Contact lines followed along rows and columns miss nothing: looking at every point of
// the grid at every roll angle, twice as far, finds no earlier contact, and one nearly as
// early.
func TestNoPinionPointTouchesBeforeTheFirst(t *testing.T) {
	const (
		tolEarlyMM = 0.00002 // at the heel; parabolas against the points between them
		tolLateMM  = 0.004   // no grid point lies just where the teeth touch,
		tolFarMM   = 0.06    // least where they touch at an edge
	)
	far := Position{PinionOutMM: 1.5, RingAwayMM: 1, OffsetMM: -0.5, ShaftAngleRad: 0.003}
	for _, c := range []struct {
		set   string
		p     Position
		tolMM float64
	}{
		{"A", Position{PinionOutMM: -0.5, RingAwayMM: -0.4}, tolLateMM}, // in the corner of toe and root
		{"A", far, tolFarMM},
		{"E0 small cutter", Position{PinionOutMM: 0.5, RingAwayMM: 0.4}, tolLateMM}, // at the top
		{"E0 small cutter", far, tolFarMM},
	} {
		s := newSet(t, sets[c.set])
		exact := newExact(t, s)
		heel, step := s.blank.Data.RingDiameterMM/2, s.rollStep()
		require.NoError(t, exact.Move(c.p))
		for f := range exact.flanks {
			x := &exact.flanks[f]
			brute := make([]float64, s.rolls)
			for i := range brute {
				brute[i] = math.Inf(-1)
			}
			for i := -100; i <= 100; i++ {
				q := s.blank.pose(float64(i)*step, c.p)
				for k := range x.body {
					m := x.meet(k, &q)
					if j := modulo(i, s.rolls); m.lead > brute[j] && x.summitAt(m).on() {
						brute[j] = m.lead
					}
				}
			}
			for i, lead := range brute {
				behind := heel * (x.first[i] - lead)
				require.GreaterOrEqual(t, behind, -tolEarlyMM, "%s %v %+v sample %d", c.set, Flank(f), c.p, i)
				require.LessOrEqual(t, behind, c.tolMM, "%s %v %+v sample %d", c.set, Flank(f), c.p, i)
			}
		}
	}
}

// What a print is by its definition: at every small step of roll the pinion flank is
// laid over the ring tooth and each cell keeps the closest that anything came to it. No
// point is followed to its own closest approach.
func TestExactPatternAgainstSweepingTheFlank(t *testing.T) {
	const (
		cols, rows = 50, 30
		parts      = 3     // steps in a roll sample
		nearRad    = 0.12  // in roll from a point's conjugate contact; further off it prints nothing
		tolCenter  = 0.004 // a cell is 0.02 by 0.033
		tolArea    = 0.006
	)
	s := newSet(t, setA)
	exact := newExact(t, s)
	p := Position{PinionOutMM: 0.3, RingAwayMM: -0.1, OffsetMM: 0.1}
	require.NoError(t, exact.Move(p))
	for _, f := range []Flank{Drive, Coast} {
		// Twice as fine as the exact contact's own, which bends less than a film between
		// its points only near the closest approach.
		now := newLanding(121, 81)
		grid, err := s.blank.conjugate(f, now.cols, now.rows, 4, 112)
		require.NoError(t, err)
		x := s.exactFlank(f, grid)
		least, most := math.Inf(1), math.Inf(-1)
		for _, g := range grid {
			least, most = min(least, g.roll), max(most, g.roll)
		}
		cells := make([]float64, cols*rows)
		for i := range cells {
			cells[i] = math.Inf(1)
		}
		step := s.rollStep() / parts
		for i := int((least - nearRad) / step); i <= int((most+nearRad)/step); i++ {
			roll := float64(i) / parts
			whole := math.Floor(roll)
			first := exact.flanks[f].first[modulo(int(whole), s.rolls):]
			lead := first[0] + (first[1]-first[0])*(roll-whole)
			q := s.blank.pose(float64(i)*step, p)
			for k, g := range grid {
				now.sep[k] = math.Inf(1)
				if math.Abs(g.roll-float64(i)*step) < nearRad {
					m := x.meet(k, &q)
					now.s[k], now.t[k] = s.blank.where(m.at)
					now.sep[k] = m.arm * (lead - m.lead)
				}
			}
			for row := range now.rows - 1 {
				for col := range now.cols - 1 {
					for half := range 2 {
						if a, b, c := now.triangle(row, col, half); max(a.sep, b.sep, c.sep) < math.Inf(1) {
							raster(cells, cols, rows, a, b, c)
						}
					}
				}
			}
		}
		var n, along, up float64
		for i, d := range cells {
			if d < thinFilm {
				n++
				along += (float64(i%cols) + 0.5) / cols
				up += (float64(i/cols) + 0.5) / rows
			}
		}
		got := exact.Pattern(f, thinFilm)
		require.Positive(t, n)
		assert.InDelta(t, along/n, got.CenterS, tolCenter, f)
		assert.InDelta(t, up/n, got.CenterT, tolCenter, f)
		assert.InDelta(t, n/(cols*rows), got.AreaShare, tolArea, f)
	}
}

// The exact contact keeps the promises of the fast one about use.
func TestExactContactInUse(t *testing.T) {
	s := newSet(t, setA)
	exact := newExact(t, s)
	assert.InDelta(t, designLash, exact.Backlash().MeanMM, 1e-12)
	good := Position{PinionOutMM: 0.1, RingAwayMM: 0.05}
	require.NoError(t, exact.Move(good))
	lash, print := exact.Backlash(), exact.Pattern(Drive, thinFilm)
	leads := func() float64 { return exact.Lead(Drive).MeanRad + exact.Lead(Coast).MeanRad }
	play := lash.MeanMM + s.HeelArmMM()*leads()
	for _, p := range []Position{
		{PinionOutMM: math.NaN()}, {RingAwayMM: 4}, {ShaftAngleRad: 0.04},
	} {
		require.ErrorIs(t, exact.Move(p), ErrPosition, "%+v", p)
		assert.Equal(t, lash, exact.Backlash(), "%+v: the contact stays where it was", p)
		assert.Equal(t, print, exact.Pattern(Drive, thinFilm), "%+v", p)
	}
	require.NoError(t, exact.Move(Position{PinionOutMM: -0.4}))
	assert.InDelta(t, play, exact.Backlash().MeanMM+s.HeelArmMM()*leads(), 1e-12, "the play is what the leads leave")
	require.NoError(t, exact.Move(good))
	assert.Equal(t, print, exact.Pattern(Drive, thinFilm), "nothing is carried over")

	for _, film := range []float64{0, -1, math.NaN()} {
		assert.Equal(t, Pattern{Empty: true}, exact.Pattern(Drive, film))
	}
	assert.Equal(t, Pattern{Empty: true}, exact.Pattern(Flank(2), thinFilm))
	assert.Equal(t, Lead{}, exact.Lead(Flank(2)))
	assert.Empty(t, exact.Separation(Flank(2), 4, 4, nil))
	assert.Empty(t, exact.Separation(Drive, 4, 0, nil))

	// The raster draws the print that is measured.
	const cols, rows = 200, 100
	sep := exact.Separation(Drive, cols, rows, nil)
	n := 0
	for _, d := range sep {
		if d < thinFilm {
			n++
		}
	}
	assert.InDelta(t, print.AreaShare, float64(n)/(cols*rows), 0.004)
	assert.Zero(t, testing.AllocsPerRun(1, func() {
		_ = exact.Move(good)
		exact.Pattern(Coast, thinFilm)
		sep = exact.Separation(Coast, cols, rows, sep)
	}))
}
