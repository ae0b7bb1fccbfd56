package service

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
)

func beech(t testing.TB) Parts {
	t.Helper()
	fam := family.Beech()
	m, sh := fam.Model, fam.Sheet
	set, err := mesh.NewSet(m.Gears, m.EaseOff, m.EaseOff, sh.Backlash.Mid())
	require.NoError(t, err)
	n, s := fam.Params(), fam.Sides()
	return Parts{Gears: set, Inner: n.Inner, Outer: n.Outer, Back: s.Back, Tooth: s.Tooth,
		HouseNPerMM: n.HouseStiffnessNPerMM, NutNPerMM: n.NutStiffnessNPerMM, SpacerNPerMM: n.Spacer.StiffnessNPerMM, SpacerCrushN: n.Spacer.YieldN,
		RingGearPedestalNPerMM: s.RingGearPedestalNPerMM, OppositePedestalNPerMM: s.OppositePedestalNPerMM,
		SpacerLengthMM: sh.SpacerLengthMM, BoundaryFriction: 0.15, HousingPerDegC: bearing.IronPerDegC}
}

// right is an axle with both gears in place and usual preloads.
func right(t testing.TB, p Parts) Setting {
	t.Helper()
	at, err := family.Beech().Params().AtPreload(family.Beech().ReferencePreloadN())
	require.NoError(t, err)
	sides, err := carrier.Solve(family.Beech().Sides(), 0.1, 0.1)
	require.NoError(t, err)
	return Setting{PinionPreloadN: at.PreloadN, SidePreloadN: sides.ForceN, StemN: at.StemN, SpacerN: at.SpacerN}
}

func duty(p Parts) Duty {
	d := p.Gears.Blank().Data
	return StatedDuty(d.RingDiameterMM, float64(d.RingTeeth)/float64(d.PinionTeeth))
}

func run(t testing.TB, p Parts, s Setting) Result {
	t.Helper()
	r, err := Run(p, s, duty(p))
	require.NoError(t, err)
	return r
}

// onPitchLine is an ease-off whose middle is the mean point: mid-face, on the pitch
// line, for which the textbook's forces are.
func onPitchLine(t testing.TB, d mesh.SetData) mesh.EaseOff {
	t.Helper()
	b, err := mesh.NewBlank(d)
	require.NoError(t, err)
	return mesh.EaseOff{LengthMM: 0.06, ProfileMM: 0.025, CenterS: 0.5, CenterT: b.PinionAddendumMM / b.WorkingDepthMM}
}

// The force found by virtual work turns both gears as it should: its moment about
// the ring axis is the ring's torque, about the pinion's axis the ring's over the
// ratio (kinematics, computed independently; the hypoid set has no textbook figure
// here), with the contact laid on the mean point.
func TestToothForceBalancesBothTorques(t *testing.T) {
	const near = 0.03 // the unloaded contact runs over the tooth and averages near the point
	set, err := mesh.NewSet(family.Beech().Model.Gears, onPitchLine(t, family.Beech().Model.Gears), onPitchLine(t, family.Beech().Model.Gears), 0.15)
	require.NoError(t, err)
	blank := set.Blank()
	m, c := blank.MeanPointMM, set.NewContact()
	const ringNmm = 1e6
	for f, sign := range map[mesh.Flank]float64{mesh.Drive: 1, mesh.Coast: -1} {
		gain, err := leadGains(c, f, mesh.Position{})
		require.NoError(t, err)
		force := toothForce(gain, ringNmm)
		ring := -(m[0]*force[1] - m[1]*force[0])
		pinion := (m[1]-blank.Data.OffsetMM)*force[2] - m[2]*force[1]
		assert.InEpsilon(t, sign*ringNmm, ring, near, f.String())
		assert.InEpsilon(t, sign*ringNmm*blank.Ratio, pinion, near, f.String())
	}
}

// Both shafts stand still under their loads.
func TestReactionsBalance(t *testing.T) {
	radial, off := [2]float64{700, -300}, [2]float64{-12, 40}
	const at, near, far, axial = 86.0, 104.0, 164.0, 5000.0
	n, f := reactions(at, near, far, radial, off, axial)
	for i := range radial {
		assert.InDelta(t, radial[i], n[i]+f[i], 1e-9)
		assert.InDelta(t, radial[i]*at-off[i]*axial, n[i]*near+f[i]*far, 1e-6)
	}
}

// On drive the pinion is thrust out onto its head bearing, on coast in onto the tail
// (textbook, left-hand pinion; shop rule that the pinion draws in on coast).
func TestThrustGoesToTheBearingThatTakesIt(t *testing.T) {
	p := beech(t)
	r := run(t, p, right(t, p))
	assert.Greater(t, r.Drive.Pinion.First.AxialN, r.Drive.Pinion.Second.AxialN)
	assert.Greater(t, r.Coast.Pinion.Second.AxialN, r.Coast.Pinion.First.AxialN)
	assert.Greater(t, r.Drive.LoadedAt.PinionOutMM, r.Coast.LoadedAt.PinionOutMM)
}

// Under load a print grows and goes toward the heel (shop knowledge, from memory),
// and the harder the pull the more.
func TestLoadedPatternGrowsTowardTheHeel(t *testing.T) {
	p := beech(t)
	s, d := right(t, p), duty(p)
	area, moved := 0.0, 0.0
	for _, share := range []float64{0.25, 0.5, 1} {
		e := d
		e.PinionNmm *= share
		r, err := Run(p, s, e)
		require.NoError(t, err)
		assert.Greater(t, r.Drive.Loaded.AreaShare, area)
		assert.Greater(t, r.Drive.MovesMM, moved)
		area, moved = r.Drive.Loaded.AreaShare, r.Drive.MovesMM
	}
	assert.Greater(t, area, run(t, p, s).Drive.Free.AreaShare)
	assert.Greater(t, run(t, p, Setting{PinionEndPlayMM: 0.1, SidePreloadN: s.SidePreloadN}).Drive.MovesMM, moved, "end play lets it go further")
}

// The springs along the face carry the tooth force between them.
func TestSqueezeCarriesTheForce(t *testing.T) {
	p := beech(t)
	c := p.Gears.NewContact()
	sep := c.Separation(mesh.Drive, gridCols, gridRows, nil)
	const force, face = 13_000.0, 33.5
	squeeze, sum := squeezeMM(sep, force, face), 0.0
	for _, g := range nearest(sep) {
		sum += math.Max(0, squeeze-g) * meshNPerMM2 * face / gridCols
	}
	assert.InDelta(t, force, sum, 0.01)
	// Flat teeth all alike: force over stiffness and face.
	assert.InDelta(t, force/(meshNPerMM2*face), squeezeMM(make([]float64, gridCols*gridRows), force, face), 1e-9)
}

// A print driven off the tooth carries at that end, and a deep pinion carries toward
// the root (the manuals' rule for depth).
func TestMisplacedPatternCarriesAtItsEnd(t *testing.T) {
	p := beech(t)
	s := right(t, p)
	deep, out := s, s
	deep.At.PinionOutMM, out.At.PinionOutMM = -0.15, 0.15
	middle, low, high := run(t, p, s), run(t, p, deep), run(t, p, out)
	assert.Greater(t, low.Coast.Root, middle.Coast.Root+0.3)
	assert.Greater(t, high.Coast.Top, middle.Coast.Top+0.3)
	assert.Less(t, high.Drive.Root, middle.Drive.Root)
	deep.At.PinionOutMM, out.At.PinionOutMM = -0.35, 0.35
	assert.Greater(t, run(t, p, deep).Drive.Toe, 0.5)
	assert.Greater(t, run(t, p, out).Drive.Heel, 0.1)
}

// The two parts of the equivalent load meet where half the rollers carry.
func TestEquivalentLoadJoins(t *testing.T) {
	const hair = 1e-7
	r := newRollers(lineContact(60, 20))
	var got [2]float64
	for i, axial := range []float64{-hair, hair} {
		s, err := r.under(8000, axial)
		require.NoError(t, err)
		got[i] = s.EquivalentN
	}
	assert.InEpsilon(t, got[1], got[0], 0.002, "sums over 60 rollers for integrals")
}

// More preload costs life and makes heat; end play narrows the zone that carries and
// presses the heaviest roller harder.
func TestPreloadAndEndPlay(t *testing.T) {
	p := beech(t)
	s := right(t, p)
	usual := run(t, p, s).Drive.Pinion
	tight := s
	tight.PinionPreloadN *= 3
	much := run(t, p, tight).Drive.Pinion
	assert.Less(t, much.LifeAgainst(usual), 0.5)
	assert.Greater(t, much.HeatW, 1.2*usual.HeatW)
	assert.InDelta(t, 1, usual.LifeAgainst(usual), 1e-12)

	zone, heaviest := usual.Second.ZoneDeg, usual.Second.HeaviestN
	for _, play := range []float64{0.02, 0.05, 0.1, 0.2} {
		loose := s
		loose.PinionPreloadN, loose.PinionEndPlayMM = 0, play
		q := run(t, p, loose).Drive.Pinion
		assert.Less(t, q.Second.ZoneDeg, zone)
		assert.Greater(t, q.Second.HeaviestN, heaviest)
		assert.Greater(t, q.Second.EquivalentN, q.Second.RadialN, "fewer than half carry, and ISO 281 alone would not see it")
		zone, heaviest = q.Second.ZoneDeg, q.Second.HeaviestN
	}
}

// With thrust alone, at hand speed, the heat's torque is the bench's.
func TestFrictionIsTheBenchesAtHandSpeed(t *testing.T) {
	const inletHeating = 0.005 // sim/bearing: below half a per cent
	b := family.Beech().Model.Inner
	want := b.RunningTorqueNmm(7000, bearing.Film{BoundaryFriction: 0.15, ViscosityCst: 200, SpeedRPM: 20})
	assert.InEpsilon(t, want, frictionNmm(b, Share{AxialN: 7000}, 20, 200, 0.15), inletHeating)
}

// Warmth tightens a little in iron and takes the preload in aluminium.
func TestWarmth(t *testing.T) {
	p := beech(t)
	s := right(t, p)
	iron := p.warm(s, 60)
	assert.Greater(t, iron.PinionPreloadN, s.PinionPreloadN)
	assert.Zero(t, iron.PinionEndPlayMM)
	p.HousingPerDegC = bearing.AluminiumPerDegC
	aluminium := p.warm(s, 60)
	assert.Zero(t, aluminium.PinionPreloadN)
	assert.Positive(t, aluminium.PinionEndPlayMM)
	assert.Equal(t, Warm{PinionPreloadN: p.warm(s, 0).PinionPreloadN}, p.warm(s, 0), "no warmth, no change")
	assert.InEpsilon(t, s.PinionPreloadN, p.warm(s, 0).PinionPreloadN, 1e-9)
}

// A sound stack keeps most of its clamp; one that holds little loses it all.
func TestClamp(t *testing.T) {
	p := beech(t)
	s := right(t, p)
	sound := run(t, p, s).Clamp
	assert.Greater(t, sound.LeftN, 0.9*s.SpacerN)
	s.SpacerN, s.StemN = 3000, 10_000
	assert.Zero(t, run(t, p, s).Clamp.LeftN)
}

// A cup that goes home in use leaves what the bench's own assembly, step by step,
// leaves when its cups are tapped home.
func TestCupsSeatedAgreesWithTheBench(t *testing.T) {
	const gap = 0.05
	for _, head := range []bool{true, false} {
		n := family.Beech().Params()
		n.InnerCupHoldN, n.OuterCupHoldN = 1e6, 1e6
		n.EndPlayAtContactMM -= gap
		n.OuterGapMM = gap
		if head {
			n.InnerGapMM, n.OuterGapMM = gap, 0
		}
		b, err := pinion.New(n)
		require.NoError(t, err)
		for b.Forces().PreloadN < 9000 {
			b.TurnNut(1)
		}
		was := b.Forces()
		b.TapCups()
		is := b.Forces()

		p := beech(t)
		s := Setting{PinionPreloadN: was.PreloadN, StemN: was.StemN, SpacerN: was.SpacerN}
		got := p.CupsSeated(s, n.InnerGapMM, n.OuterGapMM)
		const hardens = 150 // N, over the trifle that the spacer crushes on
		assert.InDelta(t, is.PreloadN, got.PinionPreloadN, hardens)
		assert.InDelta(t, is.StemN, got.StemN, hardens)
		assert.Less(t, got.PinionPreloadN, was.PreloadN)
		if head {
			assert.InDelta(t, gap, got.At.PinionOutMM, 0.03, "less what the head bearing gives back")
			assert.Positive(t, got.At.PinionOutMM)
		} else {
			assert.Negative(t, got.At.PinionOutMM)
		}
	}
	p := beech(t)
	s := right(t, p)
	assert.Equal(t, s, p.CupsSeated(s, 0, 0))
}

// A side cone that goes home leaves what the carrier has with that much less shim.
func TestConesSeatedAgreeWithTheBench(t *testing.T) {
	p := beech(t)
	sides := family.Beech().Sides()
	for _, gaps := range [][2]float64{{0, 0}, {0.08, 0}, {0.3, 0}, {0, 0.08}, {0, 0.3}, {0.05, 0.1}} {
		was, err := carrier.Solve(sides, 0.15, 0.15)
		require.NoError(t, err)
		is, err := carrier.Solve(sides, 0.15-gaps[0], 0.15-gaps[1])
		require.NoError(t, err)
		got, err := p.ConesSeated(Setting{SidePreloadN: was.ForceN}, 0.30, gaps[0], gaps[1])
		require.NoError(t, err)
		assert.InDelta(t, is.ForceN, got.SidePreloadN, 1e-6)
		assert.InDelta(t, is.EndPlayMM, got.SideEndPlayMM, 1e-12)
		// The middle of the case's play.
		assert.InDelta(t, was.ShiftToPinionMM-is.ShiftToPinionMM-is.EndPlayMM/2, got.At.RingAwayMM, 1e-12)
		switch {
		case gaps[0] > gaps[1]:
			assert.Positive(t, got.At.RingAwayMM)
		case gaps[1] > gaps[0]:
			assert.Negative(t, got.At.RingAwayMM)
		}
	}
}

// Runout shows once a turn and in the tightest place, and nowhere else.
func TestRunout(t *testing.T) {
	p := beech(t)
	s := right(t, p)
	still := run(t, p, s)
	s.RunoutTIRMM = 0.1
	swung := run(t, p, s)
	assert.Zero(t, still.Drive.OncePerTurnMM)
	assert.Positive(t, swung.Coast.OncePerTurnMM)
	assert.Less(t, swung.LeastBacklashMM, still.LeastBacklashMM)
	assert.Equal(t, still.Drive.ErrorRad, swung.Drive.ErrorRad)
}

func TestRefusals(t *testing.T) {
	p := beech(t)
	s := right(t, p)
	_, err := Run(p, s, Duty{})
	assert.ErrorContains(t, err, "above zero")
	s.At.PinionOutMM = math.NaN()
	_, err = Run(p, s, duty(p))
	assert.ErrorIs(t, err, mesh.ErrPosition)
}

// Whatever state a hand can leave is worked out, the same each time.
func TestManySettings(t *testing.T) {
	p := beech(t)
	for _, preload := range []float64{0, 50, 7000, 60_000} {
		for _, play := range []float64{0, 0.3, 2} {
			for _, side := range []float64{-1, 0, 300, 20_000} {
				for _, out := range []float64{-0.3, 0.3} {
					s := Setting{At: mesh.Position{PinionOutMM: out, RingAwayMM: out / 2}, PinionPreloadN: preload, SidePreloadN: math.Max(side, 0), SideEndPlayMM: math.Max(-side, 0)}
					if preload == 0 {
						s.PinionEndPlayMM = play
					}
					r := run(t, p, s)
					for _, v := range []float64{r.Drive.Pinion.HeatW, r.Coast.Case.HeatW, r.Drive.Pinion.First.EquivalentN, r.Coast.Case.Second.EquivalentN, r.Drive.OppositeN} {
						require.False(t, math.IsNaN(v) || math.IsInf(v, 0) || v <= 0, "%+v: %+v", s, r)
					}
					require.Equal(t, r, run(t, p, s))
				}
			}
		}
	}
}

func BenchmarkRun(b *testing.B) {
	p := beech(b)
	s, d := right(b, p), duty(p)
	for b.Loop() {
		if _, err := Run(p, s, d); err != nil {
			b.Fatal(err)
		}
	}
}
