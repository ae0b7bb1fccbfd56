package mesh

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/text"
)

var meshing = []string{"A", "B", "E0 small cutter", "12x41"}

// The drive flank is the ring's convex side and is pushed toward increasing angle:
// TM 10-3930-638-24&P p 4-246 and TM 10-3930-671-24 p F-318 (published). A wrong
// hand, offset side or pinion rotation turns this round.
func TestDriveIsTheConvexSide(t *testing.T) {
	for _, name := range meshing {
		s := newSet(t, sets[name])
		b := s.Blank()
		for _, f := range []Flank{Drive, Coast} {
			grid, err := b.conjugate(f, 5, 5, 0, 4)
			require.NoError(t, err)
			for _, p := range grid {
				// The centre of a convex flank's curve lies on the metal's side.
				inMetal := vecOf(b.CutterCenterMM).minus(p.body).dot(p.bodyN) < 0
				assert.Equal(t, f == Drive, inMetal, "%s %v", name, f)
				assert.Equal(t, f == Drive, p.arm < 0, "%s %v", name, f)
			}
		}
		assert.GreaterOrEqual(t, b.PinionSpiralRad, b.RingSpiralRad, "an offset below centre raises the pinion's spiral")
		assert.LessOrEqual(t, b.DriveAngleRad, b.CoastAngleRad, "the drive side is the lower blade angle")
	}
}

// Rm cos ψ of both members stand in the ratio of their teeth at the mean radii
// (Wildhaber; from memory, an identity of the pitch design).
func TestToothNumberCondition(t *testing.T) {
	for _, name := range meshing {
		b := newSet(t, sets[name]).Blank()
		ring := b.RingMeanRadiusMM * math.Cos(b.RingSpiralRad) * b.Ratio
		pinion := b.PinionMeanRadiusMM * math.Cos(b.PinionSpiralRad)
		assert.InDelta(t, 1, ring/pinion, 1e-9, name)
		assert.InDelta(t, 0, b.PinionSpiralRad-b.RingSpiralRad-b.OffsetAngleRad, 1e-9, "%s: spirals differ by the offset angle", name)
	}
}

// The limit pressure angle by another road: the pressure angle at which the common
// normal does not turn against the sliding, worked from the velocities alone. With n
// tilted by α from the pitch plane, contact persists along the trace when
// n·(ω1×v2 − ω2×v1) = 0.
func TestLimitAngleFromVelocities(t *testing.T) {
	for _, name := range []string{"A", "12x41"} {
		b := newSet(t, sets[name]).Blank()
		m := vecOf(b.MeanPointMM)
		w1, w2 := vec{-1, 0, 0}, vec{0, 0, b.Ratio}
		v1, v2 := w1.cross(m.minus(vec{0, b.Data.OffsetMM, 0})), w2.cross(m)
		normal := v1.cross(v2).unit()
		if normal.z > 0 {
			normal = normal.times(-1)
		}
		trace := v1.minus(v2).unit()
		across := trace.cross(normal)
		turn := w1.cross(v2).minus(w2.cross(v1))
		limit := math.Atan(-across.dot(turn) / normal.dot(turn))
		assert.InDelta(t, math.Abs(b.LimitAngleRad), math.Abs(limit), 1e-6, name)
	}
}

// Spiral angle along a face-milled tooth, with the circle laid in the pitch plane
// (ISO 23509, from memory). The cutter really stands on the root plane and the two
// flanks are not at mid-slot, which is worth up to 1.4 degrees (computed
// independently).
func TestSpiralAlongTheFace(t *testing.T) {
	const tolDeg = 1.5
	for _, name := range []string{"A", "B"} {
		b := newSet(t, sets[name]).Blank()
		rm, rc := b.RingMeanConeMM, b.Data.CutterRadiusMM
		for _, f := range []Flank{Drive, Coast} {
			c := b.cone(f)
			pitchLine := b.PinionAddendumMM / b.WorkingDepthMM
			for _, s := range []float64{0.02, 0.98} {
				p, ok1 := b.point(&c, s-0.001, pitchLine)
				q, ok2 := b.point(&c, s+0.001, pitchLine)
				require.True(t, ok1 && ok2)
				across := math.Hypot(p.x, p.y) * wrap(math.Atan2(q.y, q.x)-math.Atan2(p.y, p.x))
				got := degrees(math.Atan2(across, 0.002*b.Data.FaceWidthMM))
				r := rm + (s-0.5)*b.Data.FaceWidthMM
				want := degrees(math.Asin((2*rm*rc*math.Sin(b.RingSpiralRad) - rm*rm + r*r) / (2 * r * rc)))
				assert.InDelta(t, want, got, tolDeg, "%s %v s=%.2f", name, f, s)
			}
		}
	}
}

// Ring moved axially: the mean-point formula sin Γ (tan αD + tan αC)/cos ψ scaled to
// the outside radius (derived; reduces to the handbook's 2 tan α sin Γ for a straight
// bevel). It stood 1.3 to 4.1% off the contact solution (computed independently).
func TestBacklashPerRingTravelFormula(t *testing.T) {
	for _, name := range meshing {
		s := newSet(t, sets[name])
		b, k := s.Blank(), s.NewContact()
		plus := meanGap(at(t, k, Position{RingAwayMM: 0.05}))
		minus := meanGap(at(t, k, Position{RingAwayMM: -0.05}))
		got := (plus - minus) / 0.1
		want := math.Sin(b.RingPitchAngleRad) * (math.Tan(b.DriveAngleRad) + math.Tan(b.CoastAngleRad)) /
			math.Cos(b.RingSpiralRad) / b.RingMeanRadiusMM
		assert.InDelta(t, 1, got/want, 0.05, name)
	}
}

func TestRollIsMonotoneOverTheFlank(t *testing.T) {
	for _, name := range meshing {
		b := newSet(t, sets[name]).Blank()
		for _, f := range []Flank{Drive, Coast} {
			grid, err := b.conjugate(f, gridCols, gridRows, toeCol, faceCols)
			require.NoError(t, err)
			up := map[Flank]float64{Drive: -1, Coast: 1}[f]
			for k := range grid {
				if (k+1)%gridCols != 0 {
					require.Less(t, grid[k+1].roll, grid[k].roll, "%s %v point %d toward the heel", name, f, k)
				}
				if k+gridCols < len(grid) {
					require.Positive(t, up*(grid[k+gridCols].roll-grid[k].roll), "%s %v point %d up the tooth", name, f, k)
				}
			}
		}
	}
}

// At the design position a pattern sits on the ease-off's centre.
func TestPatternSitsOnTheEaseOffCenter(t *testing.T) {
	const tol = 0.006 // tooth-pair hand-over clips the two ends unequally
	for _, name := range meshing {
		k := newSet(t, sets[name]).NewContact()
		for _, f := range []Flank{Drive, Coast} {
			p := k.Pattern(f, thinFilm)
			require.False(t, p.Empty)
			assert.InDelta(t, normal.CenterS, p.CenterS, tol, "%s %v", name, f)
			assert.InDelta(t, normal.CenterT, p.CenterT, tol, "%s %v", name, f)
		}
		assert.InDelta(t, designLash, k.Backlash().MeanMM, 1e-12)
	}
}

// The pinion too far out and the ring too far away both raise the pattern, whatever
// the set; backlash rises steadily with the ring's distance.
func TestFirmRules(t *testing.T) {
	for _, name := range meshing {
		k := newSet(t, sets[name]).NewContact()
		for _, f := range []Flank{Drive, Coast} {
			lastP, lastG := -1.0, -1.0
			for _, v := range []float64{-0.3, -0.15, 0, 0.15, 0.3} {
				up := at(t, k, Position{PinionOutMM: v}).Pattern(f, thinFilm).CenterT
				assert.Greater(t, up, lastP, "%s %v pinion %.2f", name, f, v)
				lastP = up
				up = at(t, k, Position{RingAwayMM: v}).Pattern(f, thinFilm).CenterT
				assert.Greater(t, up, lastG, "%s %v ring %.2f", name, f, v)
				lastG = up
			}
		}
		last := math.Inf(-1)
		for v := -0.5; v <= 1.5; v += 0.05 {
			lash := at(t, k, Position{RingAwayMM: v}).Backlash()
			assert.Greater(t, lash.MeanMM, last, "%s ring %.2f", name, v)
			last = lash.MeanMM
		}
		assert.LessOrEqual(t, at(t, k, Position{RingAwayMM: -0.5}).Backlash().MeanMM, 0.0, "%s: a ring driven home binds", name)
	}
}

// Without landing the fast method is linear: ease-off, film and errors scaled
// together leave a pattern where it was, so halving all three moves it by no more
// than the landing of the full error does.
func TestScalingLeavesThePattern(t *testing.T) {
	half := EaseOff{LengthMM: normal.LengthMM / 2, ProfileMM: normal.ProfileMM / 2, CenterS: normal.CenterS, CenterT: normal.CenterT}
	p := Position{PinionOutMM: 0.12, RingAwayMM: -0.08, OffsetMM: 0.05, ShaftAngleRad: 0.0003}
	for _, name := range meshing {
		full := at(t, newSet(t, sets[name]).NewContact(), p)
		s, err := NewSet(sets[name], half, half, designLash)
		require.NoError(t, err)
		small := at(t, s.NewContact(), p.times(0.5))
		for _, f := range []Flank{Drive, Coast} {
			var landS, landT float64
			full.land(f)
			small.land(f)
			for k := range small.faces[f].lead {
				require.InDelta(t, full.faces[f].lead[k]/2, small.faces[f].lead[k], 1e-15)
				landS = math.Max(landS, math.Abs(full.faces[f].s[k]-small.faces[f].s[k]))
				landT = math.Max(landT, math.Abs(full.faces[f].t[k]-small.faces[f].t[k]))
			}
			a, b := full.Pattern(f, thinFilm), small.Pattern(f, thinFilm/2)
			assert.InDelta(t, a.CenterS, b.CenterS, landS+1e-3, "%s %v", name, f)
			assert.InDelta(t, a.CenterT, b.CenterT, landT+1e-3, "%s %v", name, f)
		}
	}
}

// Half the ease-off makes a set twice as sensitive. Its pattern grows, but by less
// than the √2 of a lone tooth, because the next tooth's contact ends it.
func TestFlatterEaseOffMovesMore(t *testing.T) {
	flat := EaseOff{LengthMM: normal.LengthMM / 2, ProfileMM: normal.ProfileMM / 2, CenterS: normal.CenterS, CenterT: normal.CenterT}
	s, err := NewSet(setA, flat, flat, designLash)
	require.NoError(t, err)
	soft, hard := s.NewContact(), newSet(t, setA).NewContact()
	length := func(k *Contact) float64 { p := k.Pattern(Drive, thinFilm); return p.MaxS - p.MinS }
	assert.Greater(t, length(soft)/length(hard), 1.1)
	assert.Less(t, length(soft)/length(hard), math.Sqrt2)
	move := func(k *Contact) float64 {
		plus := at(t, k, Position{PinionOutMM: 0.03}).Pattern(Drive, thinFilm).CenterS
		return plus - at(t, k, Position{PinionOutMM: -0.03}).Pattern(Drive, thinFilm).CenterS
	}
	assert.InDelta(t, 2, move(soft)/move(hard), 0.2)
}

// A pattern measured on triangles agrees with counting the cells of a fine raster of
// the separation, which shares none of its cutting.
func TestPatternAgreesWithItsRaster(t *testing.T) {
	const cols, rows = 400, 200
	const tol = 0.002 // a cell's width at the edges
	for _, name := range meshing {
		k := newSet(t, sets[name]).NewContact()
		for _, p := range []Position{{}, {PinionOutMM: 0.5, RingAwayMM: -0.2}, {PinionOutMM: -0.4, RingAwayMM: 0.3, OffsetMM: 0.1}} {
			at(t, k, p)
			for _, f := range []Flank{Drive, Coast} {
				got := k.Pattern(f, thinFilm)
				want := Pattern{MinS: 2, MinT: 2}
				n := 0.0
				for i, d := range k.Separation(f, cols, rows, nil) {
					if d >= thinFilm {
						continue
					}
					s, t := (float64(i%cols)+0.5)/cols, (float64(i/cols)+0.5)/rows
					n++
					want.CenterS += s
					want.CenterT += t
					want.MinS, want.MaxS = math.Min(want.MinS, s), math.Max(want.MaxS, s)
					want.MinT, want.MaxT = math.Min(want.MinT, t), math.Max(want.MaxT, t)
				}
				require.Positive(t, n)
				assert.InDelta(t, want.CenterS/n, got.CenterS, tol, "%s %v %+v", name, f, p)
				assert.InDelta(t, want.CenterT/n, got.CenterT, tol, "%s %v %+v", name, f, p)
				assert.InDelta(t, n/(cols*rows), got.AreaShare, tol, "%s %v %+v", name, f, p)
				assert.InDelta(t, want.MinS, got.MinS, 3*tol, "%s %v %+v", name, f, p)
				assert.InDelta(t, want.MaxS, got.MaxS, 3*tol, "%s %v %+v", name, f, p)
				assert.InDelta(t, want.MinT, got.MinT, 5*tol, "%s %v %+v", name, f, p)
				assert.InDelta(t, want.MaxT, got.MaxT, 5*tol, "%s %v %+v", name, f, p)
			}
		}
	}
}

func TestSeparationLayout(t *testing.T) {
	k := at(t, newSet(t, setA).NewContact(), Position{PinionOutMM: 0.3})
	const cols, rows = 40, 100
	sep := k.Separation(Drive, cols, rows, nil)
	require.Len(t, sep, cols*rows)
	var marked, s, up float64
	for i, d := range sep {
		if d < thinFilm {
			marked++
			s += (float64(i%cols) + 0.5) / cols
			up += (float64(i/cols) + 0.5) / rows
		}
	}
	require.Positive(t, marked)
	assert.Greater(t, s/marked, 0.52, "columns run from toe to heel, and the pattern is at the heel")
	assert.Greater(t, up/marked, 0.6, "rows run from root to top, and the pattern is high")

	// Moved out by 0.3 mm nothing of the pinion reaches the root end.
	assert.True(t, math.IsInf(sep[cols/2], 1))
	assert.False(t, math.IsInf(sep[(rows-1)*cols+cols/2], 1))

	keep := make([]float64, 3, cols*rows)
	assert.Same(t, &keep[0], &k.Separation(Drive, cols, rows, keep)[0], "a large enough slice is used again")
	assert.Empty(t, k.Separation(Drive, 0, rows, nil))
	assert.Empty(t, k.Separation(Drive, cols, -1, keep))
	assert.Empty(t, k.Separation(Flank(7), cols, rows, nil))
}

func TestPatternEdges(t *testing.T) {
	k := newSet(t, setA).NewContact()
	for _, film := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		assert.Equal(t, Pattern{Empty: true}, k.Pattern(Drive, film))
	}
	assert.Equal(t, Pattern{Empty: true}, k.Pattern(Flank(-1), thinFilm))
	all := k.Pattern(Drive, math.Inf(1))
	assert.InDelta(t, 1, all.AreaShare, 1e-9, "a film without limit marks the whole flank")
	assert.InDelta(t, 0.5, all.CenterS, 1e-9)
	assert.InDelta(t, 0.5, all.CenterT, 1e-9)
	assert.Equal(t, [4]float64{0, 1, 0, 1}, [4]float64{all.MinS, all.MaxS, all.MinT, all.MaxT})
}

// anyPosition is one the model takes, near or far.
func anyPosition(r *rapid.T) Position {
	far := rapid.SampledFrom([]float64{0.2, 1, 3.5}).Draw(r, "far")
	mm := func(label string) float64 { return rapid.Float64Range(-far, far).Draw(r, label) }
	return Position{mm("pinion"), mm("ring"), mm("offset"), rapid.Float64Range(-0.005, 0.005).Draw(r, "angle")}
}

// Whatever the position, results are finite, in order and grow with the film; and a
// contact carries nothing over from where it was before.
func TestAnyPosition(t *testing.T) {
	contacts := map[string][2]*Contact{}
	for _, name := range meshing {
		s := newSet(t, sets[name])
		contacts[name] = [2]*Contact{s.NewContact(), s.NewContact()}
	}
	rapid.Check(t, func(r *rapid.T) {
		name := rapid.SampledFrom(meshing).Draw(r, "set")
		k, other := contacts[name][0], contacts[name][1]
		p := anyPosition(r)
		if err := k.Move(p); err != nil {
			require.ErrorIs(r, err, ErrPosition)
			return
		}
		require.NoError(r, other.Move(p.times(0.1)))
		other.Pattern(Coast, thinFilm)
		require.NoError(r, other.Move(p))
		lash := k.Backlash()
		require.LessOrEqual(r, lash.MinMM, lash.MeanMM)
		require.LessOrEqual(r, lash.MeanMM, lash.MaxMM)
		require.Less(r, math.Abs(lash.MaxMM), 10.0)
		require.Equal(r, lash, other.Backlash())
		film := rapid.Float64Range(0.001, 0.05).Draw(r, "film")
		for _, f := range []Flank{Drive, Coast} {
			x := k.Pattern(f, film)
			require.Equal(r, x, other.Pattern(f, film))
			if x.Empty {
				continue
			}
			require.True(r, 0 <= x.MinS && x.MinS <= x.CenterS && x.CenterS <= x.MaxS && x.MaxS <= 1, "%+v", x)
			require.True(r, 0 <= x.MinT && x.MinT <= x.CenterT && x.CenterT <= x.MaxT && x.MaxT <= 1, "%+v", x)
			require.True(r, x.AreaShare > 0 && x.AreaShare <= (x.MaxS-x.MinS)*(x.MaxT-x.MinT)+1e-12, "%+v", x)
			require.GreaterOrEqual(r, k.Pattern(f, 1.5*film).AreaShare, x.AreaShare)
			for _, d := range k.Separation(f, 12, 6, nil) {
				require.GreaterOrEqual(r, d, 0.0)
			}
		}
	})
}

func TestMoveRefuses(t *testing.T) {
	k := newSet(t, setA).NewContact()
	good := Position{PinionOutMM: 0.1}
	want := at(t, k, good).Backlash()
	for _, p := range []Position{
		{PinionOutMM: math.NaN()}, {RingAwayMM: math.Inf(1)}, {OffsetMM: math.Inf(-1)}, {ShaftAngleRad: math.NaN()},
		{PinionOutMM: 4}, {RingAwayMM: -4}, {OffsetMM: 5}, {ShaftAngleRad: 0.04},
		{PinionOutMM: 3.9, RingAwayMM: 3.9, OffsetMM: 3.9, ShaftAngleRad: 0.029},
	} {
		require.ErrorIs(t, k.Move(p), ErrPosition, "%+v", p)
		assert.Equal(t, want, k.Backlash(), "%+v: the contact stays where it was", p)
	}
}

func TestNewBlankRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*SetData)
		says   string
		kind   error
	}{
		{"no pinion teeth", func(d *SetData) { d.PinionTeeth = 0 }, "pinion has 0 teeth", nil},
		{"negative teeth", func(d *SetData) { d.RingTeeth = -41 }, "ring gear has -41 teeth", nil},
		{"ring smaller", func(d *SetData) { d.RingTeeth = 11 }, "more than the pinion", nil},
		{"too many teeth", func(d *SetData) { d.RingTeeth = 1000 }, "400", nil},
		{"no diameter", func(d *SetData) { d.RingDiameterMM = 0 }, "ring gear diameter", nil},
		{"diameter not a number", func(d *SetData) { d.RingDiameterMM = math.NaN() }, "ring gear diameter", nil},
		{"negative offset", func(d *SetData) { d.OffsetMM = -1 }, "offset", nil},
		{"offset beyond the ring", func(d *SetData) { d.OffsetMM = 110 }, "offset", nil},
		{"no face", func(d *SetData) { d.FaceWidthMM = 0 }, "face width", nil},
		{"spiral", func(d *SetData) { d.SpiralDeg = 90 }, "spiral angle", nil},
		{"cutter", func(d *SetData) { d.CutterRadiusMM = math.Inf(1) }, "cutter radius", nil},
		{"pressure angle", func(d *SetData) { d.PressureAngleDeg = 0 }, "pressure angle", nil},
		{"depth", func(d *SetData) { d.DepthFactor = -2 }, "depth factor", nil},
		{"addendum", func(d *SetData) { d.RingAddendumShare = 1 }, "ring addendum share", nil},
		{"slot", func(d *SetData) { d.SlotFactor = 1 }, "tooth space factor", nil},
		{"cutter without a pitch design", func(d *SetData) { d.CutterRadiusMM = 30 }, "cutter radius must be", ErrNoPitchDesign},
		{"slot closes", func(d *SetData) { d.PressureAngleDeg = 28 }, "closes before its bottom", ErrTeeth},
		{"pointed ring teeth", func(d *SetData) { d.RingAddendumShare = 0.9 }, "come to a point", ErrTeeth},
		{"undercut", func(d *SetData) { d.RingAddendumShare = 0.5 }, "undercut", ErrTeeth},
		{"drive angle lost", func(d *SetData) { d.OffsetMM = 80 }, "drive side would have", ErrTeeth},
		{"small cutter misses the heel", func(d *SetData) { *d = setB; d.CutterRadiusMM = 22 }, "does not reach the heel", ErrTeeth},
		{"flank without contact", func(d *SetData) { d.PressureAngleDeg = 10 }, "never meets a pinion tooth", ErrTeeth},
	} {
		d := setA
		c.change(&d)
		_, err := NewBlank(d)
		require.Contains(t, text.Printer{}.Error(err), c.says, c.name)
		if c.kind != nil {
			require.ErrorIs(t, err, c.kind, c.name)
		}
		_, err = NewSet(d, normal, normal, designLash)
		require.Error(t, err, c.name)
	}
}

func TestNewSetRefuses(t *testing.T) {
	for name, change := range map[string]func(e *EaseOff, lash *float64){
		"ridge":        func(e *EaseOff, _ *float64) { e.LengthMM = -0.05 },
		"saddle":       func(e *EaseOff, _ *float64) { e.TwistMM = 0.08 },
		"only a twist": func(e *EaseOff, _ *float64) { *e = EaseOff{TwistMM: 0.01, CenterS: 0.5, CenterT: 0.5} },
		"huge":         func(e *EaseOff, _ *float64) { e.ProfileMM = 5 },
		"not a number": func(e *EaseOff, _ *float64) { e.LengthMM = math.NaN() },
		"off the face": func(e *EaseOff, _ *float64) { e.CenterS = 1.2 },
		"centre lost":  func(e *EaseOff, _ *float64) { e.CenterT = math.NaN() },
		"negative":     func(_ *EaseOff, lash *float64) { *lash = -0.1 },
		"no backlash":  func(_ *EaseOff, lash *float64) { *lash = math.NaN() },
	} {
		e, lash := normal, designLash
		change(&e, &lash)
		_, err := NewSet(setA, e, normal, lash)
		require.Error(t, err, name)
		_, err = NewSet(setA, normal, e, lash)
		require.Error(t, err, name)
	}
}

// Any drawing data give a set or an error in words, never a panic or a number that
// is not one.
func TestAnyDrawing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		in := func(label string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(r, label) }
		d := SetData{
			PinionTeeth: rapid.IntRange(-1, 25).Draw(r, "pinion"), RingTeeth: rapid.IntRange(-1, 60).Draw(r, "ring"),
			OffsetMM: in("offset", 0, 80), RingDiameterMM: in("diameter", 100, 300), FaceWidthMM: in("face", 5, 70),
			SpiralDeg: in("spiral", 0, 65), CutterRadiusMM: in("cutter", 20, 300), PressureAngleDeg: in("pressure", 10, 30),
		}
		b, err := NewBlank(d)
		if err != nil {
			require.NotContains(r, text.Printer{}.Error(err), "NaN")
			return
		}
		for name, value := range blankValues {
			v := value(b)
			require.False(r, math.IsNaN(v) || math.IsInf(v, 0), name)
		}
	})
}

// A corner of the ease-off by its definition, and which corners a twist opens.
func TestEaseOffTwist(t *testing.T) {
	e := EaseOff{LengthMM: 0.06, ProfileMM: 0.025, TwistMM: 0.02, CenterS: 0.5, CenterT: 0.5}
	assert.InDelta(t, 0.105, e.at(1, 1), 1e-15)
	assert.InDelta(t, 0.065, e.at(0, 1), 1e-15)
	assert.Zero(t, e.at(0.5, 0.5))
	plain := e
	plain.TwistMM = 0
	for _, f := range []Flank{Drive, Coast} {
		corner := func(e EaseOff) (heelTop, toeTop float64) {
			s, err := NewSet(setA, e, e, designLash)
			require.NoError(t, err)
			sep := s.NewContact().Separation(f, 10, 10, nil)
			return sep[99], sep[90]
		}
		heel, toe := corner(e)
		plainHeel, plainToe := corner(plain)
		assert.Greater(t, heel, plainHeel+0.01, "%v: twist opens the heel end of the top", f)
		assert.Less(t, toe, plainToe-0.01, "%v: and closes the toe end", f)
	}
}

// No point may touch earlier than the earliest contact at its own roll angle. The
// curve of earliest contact is drawn through samples a degree apart, and the chord
// cuts its hand-over corners by less than the tolerance.
func TestNoPointBeatsTheEarliestContact(t *testing.T) {
	const tolMM = 0.0004
	for _, name := range meshing {
		k := newSet(t, sets[name]).NewContact()
		for f := range k.faces {
			k.land(Flank(f))
			m, w := &k.set.mates[f], &k.faces[f]
			for i := range w.lead {
				if !onTooth(w.s[i], w.t[i]) {
					continue
				}
				first := w.first[m.rollAt[i]]*(1-m.rollShare[i]) + w.first[m.rollAt[i]+1]*m.rollShare[i]
				require.GreaterOrEqual(t, m.arm[i]*(first-w.lead[i]), -tolMM, "%s %v point %d", name, Flank(f), i)
			}
		}
	}
}

// The invented 12 by 41 set: the pinion spiral that leaves the ring near 32 degrees.
func TestTwelveByFortyOneSpiral(t *testing.T) {
	b := newSet(t, set12).Blank()
	assert.InDelta(t, 32, degrees(b.RingSpiralRad), 0.05)
	assert.InDelta(t, 114, b.LimitRadiusMM, 1e-6)
}

func TestBlankIsACopy(t *testing.T) {
	s := newSet(t, setA)
	s.Blank().RingMeanRadiusMM = 0
	assert.NotZero(t, s.Blank().RingMeanRadiusMM)
}

func TestFlankNames(t *testing.T) {
	assert.Equal(t, "drive", Drive.String())
	assert.Equal(t, "coast", Coast.String())
	assert.Equal(t, "Flank(9)", Flank(9).String())
}

func TestSteadyStateAllocatesNothing(t *testing.T) {
	k := newSet(t, setA).NewContact()
	dst := make([]float64, 48*16)
	p := Position{PinionOutMM: 0.1}
	assert.Zero(t, testing.AllocsPerRun(20, func() {
		if k.Move(p) != nil {
			return
		}
		k.Backlash()
		k.Pattern(Drive, thinFilm)
		k.Pattern(Coast, thinFilm)
		dst = k.Separation(Drive, 48, 16, dst)
	}))
}

// meanGap is the mean ring angle between the flanks' contacts.
func meanGap(c *Contact) float64 {
	mean, _, _ := gap(c.faces[Drive].first, c.faces[Coast].first)
	return mean
}
