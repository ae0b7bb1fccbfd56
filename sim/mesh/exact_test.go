package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The exact method puts every point of the pinion flank where it really is and
// turns the ring until it touches: no small moves, no straight lines between grid
// points on a contact line, no conjugate arms. It shares only the ring's cones and
// the conjugate pinion with the fast method.

// exactFlank is one flank of the pinion, in the pinion's body.
type exactFlank struct {
	cone  bladeCone
	kappa float64
	body  []vec
	roll  []float64
}

func (b *Blank) exactFlank(t *testing.T, f Flank, ease EaseOff) exactFlank {
	t.Helper()
	grid, err := b.conjugate(f, gridCols, gridRows, toeCol, faceCols)
	require.NoError(t, err)
	x := exactFlank{cone: b.cone(f), kappa: 1}
	if f == Coast {
		x.kappa = -1
	}
	for _, p := range grid {
		q := p.fixed.minus(vec{0, b.Data.OffsetMM, 0}).turnX(p.roll)
		// Out of the ring's metal is into the pinion's.
		x.body = append(x.body, q.plus(p.n.turnX(p.roll).times(ease.at(p.s, p.t))))
		x.roll = append(x.roll, p.roll)
	}
	return x
}

// turnY turns a about y by the right-hand rule.
func (a vec) turnY(rad float64) vec {
	s, c := math.Sincos(rad)
	return vec{c*a[0] + s*a[2], a[1], c*a[2] - s*a[0]}
}

// touching returns the lead, arm and landed place of pinion point k at a roll angle.
func (b *Blank) touching(x *exactFlank, k int, roll float64, p Position) (lead, arm, s, t float64) {
	q := x.body[k].turnX(-roll).plus(vec{p.PinionOutMM, 0, 0}).turnY(p.ShaftAngleRad)
	q = q.plus(vec{0, b.Data.OffsetMM + p.OffsetMM, -p.RingAwayMM})
	a := b.Ratio * roll
	var y, n vec
	for range 2 { // leaves under 1e-7 mm at any position tried
		y = q.turnZ(-a)
		var out float64
		out, n = x.cone.outside(y)
		a += out / y.cross(n)[2]
	}
	y = q.turnZ(-a)
	_, n = x.cone.outside(y)
	s, t = b.share(b.place(math.Hypot(y[0], y[1]), y[2]))
	return x.kappa * (a - b.Ratio*roll), math.Abs(y.cross(n)[2]), s, t
}

// exact solves one flank and leaves the result in w, so that it can be drawn and
// measured. Only rolls within window of a point's conjugate contact are looked at.
func (s *Set) exact(x *exactFlank, p Position, window float64, w *face) {
	b := s.blank
	step := 2 * math.Pi / float64(b.Data.PinionTeeth) / float64(s.rolls)
	first := w.first[:s.rolls]
	for i := range first {
		first[i] = math.Inf(-1)
	}
	type sample struct{ lead, arm, s, t float64 }
	wide := int(window/step) + 1
	at := make([]sample, len(x.body)*(2*wide+1))
	for k := range x.body {
		mid := int(math.Round(x.roll[k] / step))
		for j := -wide; j <= wide; j++ {
			var v sample
			v.lead, v.arm, v.s, v.t = b.touching(x, k, float64(mid+j)*step, p)
			at[k*(2*wide+1)+j+wide] = v
			if i := modulo(mid+j, s.rolls); onTooth(v.s, v.t) && v.lead > first[i] {
				first[i] = v.lead
			}
		}
	}
	w.first[s.rolls] = w.first[0]
	for k := range x.body {
		mid := int(math.Round(x.roll[k] / step))
		row := at[k*(2*wide+1):][:2*wide+1]
		gap := func(j int) float64 { return row[j].arm * (first[modulo(mid+j-wide, s.rolls)] - row[j].lead) }
		best := 1
		for j := 1; j < len(row)-1; j++ {
			if gap(j) < gap(best) {
				best = j
			}
		}
		l, m, r := gap(best-1), gap(best), gap(best+1)
		if bend := l - 2*m + r; bend > 0 && m <= l && m <= r {
			m -= (l - r) * (l - r) / (8 * bend)
		}
		w.sep[k], w.s[k], w.t[k] = math.Max(0, m), row[best].s, row[best].t
	}
	w.fresh = true
}

const exactWindow = 20 * math.Pi / 180

// exactContact is a Contact whose flanks the exact method fills.
type exactContact struct {
	*Contact
	flanks [2]exactFlank
}

func newExact(t *testing.T, s *Set, ease EaseOff) *exactContact {
	t.Helper()
	return &exactContact{s.NewContact(), [2]exactFlank{s.blank.exactFlank(t, Drive, ease), s.blank.exactFlank(t, Coast, ease)}}
}

func (c *exactContact) move(p Position) {
	for f := range c.faces {
		c.set.exact(&c.flanks[f], p, exactWindow, &c.faces[f])
	}
}

// Accuracy of the fast method, from comparing two earlier programs of both methods
// with each other on 151 positions of five sets (computed independently, not
// published).
const (
	tolCentreS = 0.0103
	tolCentreT = 0.0120
	tolArea    = 0.015
	tolDialMM  = 0.0027
)

func TestFastAgainstExact(t *testing.T) {
	const positions = 6
	chance := rand.New(rand.NewPCG(20, 41))
	spread := func(most float64) float64 { return most * (2*chance.Float64() - 1) }
	var worst [4]float64
	for _, name := range []string{"A", "B", "E0 small cutter", "12x41"} {
		s := newSet(t, sets[name])
		fast, exact := s.NewContact(), newExact(t, s, normal)
		exact.move(Position{})
		// Backlash is a change from the design position in both methods.
		exactDesign, _, _ := exact.gap()
		for i := range positions {
			p := Position{PinionOutMM: spread(0.5), RingAwayMM: spread(0.4)}
			if i >= positions/2 {
				p.OffsetMM, p.ShaftAngleRad = spread(0.2), spread(0.001)
			}
			require.NoError(t, fast.Move(p))
			exact.move(p)
			for _, f := range []Flank{Drive, Coast} {
				got, want := fast.Pattern(f, thinFilm), exact.Pattern(f, thinFilm)
				require.False(t, want.Empty)
				assert.InDelta(t, want.CentreS, got.CentreS, tolCentreS, "%s %v %+v", name, f, p)
				assert.InDelta(t, want.CentreT, got.CentreT, tolCentreT, "%s %v %+v", name, f, p)
				assert.InDelta(t, want.AreaShare, got.AreaShare, tolArea, "%s %v %+v", name, f, p)
				worst[0] = math.Max(worst[0], math.Abs(want.CentreS-got.CentreS))
				worst[1] = math.Max(worst[1], math.Abs(want.CentreT-got.CentreT))
				worst[2] = math.Max(worst[2], math.Abs(want.AreaShare-got.AreaShare))
			}
			mean, _, _ := exact.gap()
			want := designLash + s.HeelArmMM()*(mean-exactDesign)
			assert.InDelta(t, want, fast.Backlash().MeanMM, tolDialMM, "%s %+v", name, p)
			worst[3] = math.Max(worst[3], math.Abs(want-fast.Backlash().MeanMM))
		}
	}
	t.Logf("worst difference: centre %.4f along, %.4f up, area %.4f, dial %.4f mm", worst[0], worst[1], worst[2], worst[3])
}

// A window of roll angles must not hide an earlier contact.
func TestExactWindowIsWideEnough(t *testing.T) {
	s := newSet(t, setA)
	narrow, wide := newExact(t, s, normal), newExact(t, s, normal)
	p := Position{PinionOutMM: 0.4, RingAwayMM: -0.3}
	narrow.move(p)
	for f := range wide.faces {
		s.exact(&wide.flanks[f], p, 2*exactWindow, &wide.faces[f])
		assert.Equal(t, wide.faces[f].first, narrow.faces[f].first)
	}
}

// The definition of a conjugate pair: with no ease-off and nothing out of place the
// ring turns by exactly the ratio, on every point and at every roll angle.
func TestConjugatePinionTransmitsTheRatio(t *testing.T) {
	const tolMM = 0.0001 // at the heel; the steps of touching and a grid's chord
	for _, name := range []string{"A", "B", "E0 small cutter", "12x41"} {
		s, err := NewSet(sets[name], EaseOff{}, EaseOff{}, designLash)
		require.NoError(t, err)
		b := s.Blank()
		heel := b.Data.RingDiameterMM / 2
		for _, f := range []Flank{Drive, Coast} {
			x := b.exactFlank(t, f, EaseOff{})
			for k := range x.body {
				// Each point touches at its own roll and leads at no other.
				lead, _, _, _ := b.touching(&x, k, x.roll[k], Position{})
				require.InDelta(t, 0, lead*heel, 1e-9, "%s %v point %d", name, f, k)
				for _, off := range []float64{-0.1, -0.02, 0.02, 0.1} {
					lead, _, _, _ := b.touching(&x, k, x.roll[k]+off, Position{})
					require.LessOrEqual(t, lead*heel, tolMM, "%s %v point %d", name, f, k)
				}
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
		k, b := s.NewContact(), s.blank
		for _, f := range []Flank{Drive, Coast} {
			x := b.exactFlank(t, f, twisted)
			for _, p := range moves {
				at(t, k, Position{})
				still := append([]float64(nil), k.faces[f].lead...)
				at(t, k, p)
				for i := 0; i < gridPoints; i += 97 {
					lead0, _, s0, t0 := b.touching(&x, i, x.roll[i], Position{})
					lead, _, s1, t1 := b.touching(&x, i, x.roll[i], p)
					w, m := &k.faces[f], &s.mates[f]
					fs, ft := b.share(m.along[i], m.over[i])
					assert.InDelta(t, lead-lead0, w.lead[i]-still[i], tolLeadRad, "%s %v %+v point %d", name, f, p, i)
					assert.InDelta(t, s1-s0, w.s[i]-fs, tolPlace, "%s %v %+v point %d", name, f, p, i)
					assert.InDelta(t, t1-t0, w.t[i]-ft, tolPlace, "%s %v %+v point %d", name, f, p, i)
				}
			}
		}
	}
}
