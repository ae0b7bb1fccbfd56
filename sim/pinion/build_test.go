package pinion_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	ax "shimwright/sim/carrier/axletest"
	"shimwright/sim/pinion"
	"shimwright/sim/text"
)

// Tolerances for states that are the same by definition; both are far above the
// solver's own 1e-13 mm (about 1e-8 N) and far below anything an instrument shows.
const (
	sameN  = 1e-3 // N
	sameMM = 1e-8 // mm
)

// anyParams draws an assembly over the ranges an axle may have. Draws whose spacer
// would snap are drawn again.
func anyParams(t *rapid.T) pinion.Params {
	p := ax.Pinion()
	p.HouseStiffnessNPerMM = rapid.Float64Range(200e3, 900e3).Draw(t, "house")
	p.NutStiffnessNPerMM = rapid.Float64Range(500e3, 900e3).Draw(t, "nut")
	p.Thread.ThreadFriction = rapid.Float64Range(0.10, 0.18).Draw(t, "thread friction")
	p.Thread.FaceFriction = rapid.Float64Range(0.10, 0.18).Draw(t, "face friction")
	p.Thread.PrevailingNmm = rapid.Float64Range(3, 40).Draw(t, "prevailing lb-ft") * ax.LbFtNmm
	p.EndPlayAtContactMM = rapid.Float64Range(0.2, 1.3).Draw(t, "end play at contact")
	p.UnseatedRollersMM = rapid.Float64Range(0, 0.06).Draw(t, "unseated")
	p.InnerGapMM = rapid.SampledFrom([]float64{0, 0, 0.02, 0.08, 0.15}).Draw(t, "head gap")
	p.OuterGapMM = rapid.SampledFrom([]float64{0, 0, 0.02, 0.08, 0.15}).Draw(t, "tail gap")
	p.InnerCupHoldN = rapid.Float64Range(3e3, 8e3).Draw(t, "head hold")
	p.OuterCupHoldN = rapid.Float64Range(3e3, 8e3).Draw(t, "tail hold")
	switch rapid.SampledFrom([]string{"crush", "crush", "crush", "solid", "mock-up"}).Draw(t, "design") {
	case "solid":
		p.Spacer = nil
		p.SolidStiffnessNPerMM = rapid.Float64Range(1.5e6, 3.5e6).Draw(t, "solid stiffness")
		p.EndPlayAtContactMM = rapid.Float64Range(-0.08, 0.1).Draw(t, "gap")
	case "mock-up":
		p.Spacer = nil
	default:
		y := rapid.Float64Range(60e3, 130e3).Draw(t, "crush load")
		p.Spacer = &pinion.Spacer{
			StiffnessNPerMM: rapid.Float64Range(350e3, 900e3).Draw(t, "spacer stiffness"),
			YieldN:          y,
			PeakN:           y * rapid.Float64Range(1, 1.15).Draw(t, "peak"),
			PeakDecayMM:     rapid.Float64Range(0.05, 0.2).Draw(t, "decay"),
			HardeningNPerMM: rapid.Float64Range(0, 20000).Draw(t, "hardening"),
			UsableCrushMM:   rapid.Float64Range(1.5, 3).Draw(t, "usable"),
		}
	}
	return p
}

func anyBuild(t *rapid.T) *pinion.Build {
	p := anyParams(t)
	b, err := pinion.New(p)
	if err != nil {
		require.ErrorIs(t, err, pinion.ErrSpacerSnaps)
		t.Skip("redraw")
	}
	return b
}

// The balance, written out again from the forces the Build reports and the
// parameters it was given: stem = spacer + preload; the cones' approach is the nut's
// advance less the stretch; the bearings' law; the spacer's law.
func assertBalance(t require.TestingT, b *pinion.Build) {
	p, f := b.Params(), b.Forces()
	for _, v := range []float64{f.StemN, f.SpacerN, f.PreloadN, f.EndPlayMM} {
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0) || v < 0, "%+v", f)
	}
	assert.Zero(t, f.PreloadN*f.EndPlayMM, "preload and end play together: %+v", f)
	assert.InDelta(t, f.SpacerN+f.PreloadN, f.StemN, sameN)
	u := b.NutAngleDeg()/360*p.Thread.PitchMM - f.StemN/p.NutStiffnessNPerMM
	play := p.EndPlayAtContactMM + p.PreloadShimMM - p.ZeroPlayPreloadShimMM +
		(p.InnerGapMM - b.InnerGapMM()) + (p.OuterGapMM - b.OuterGapMM()) -
		p.UnseatedRollersMM*(1-b.SeatingShare())
	squeeze := p.Inner.DeflectionMM(f.PreloadN) + p.Outer.DeflectionMM(f.PreloadN) + f.PreloadN/p.HouseStiffnessNPerMM
	assert.InDelta(t, u, play+squeeze-f.EndPlayMM, sameMM)
	switch {
	case p.Spacer != nil:
		assert.InDelta(t, math.Max(p.Spacer.StiffnessNPerMM*(u-b.SpacerSetMM()), 0), f.SpacerN, 0.01)
		assert.LessOrEqual(t, f.SpacerN, p.Spacer.CrushLoadN(b.SpacerSetMM())+0.01)
	default:
		assert.InDelta(t, math.Max(p.SolidStiffnessNPerMM*u, 0), f.SpacerN, 0.05)
		assert.Zero(t, b.SpacerSetMM())
	}
	assert.InDelta(t, p.Thread.PrevailingNmm+p.Thread.LeverMM()*f.StemN, b.ForwardTorqueNmm(), 0.01)
}

// Whatever a trainee does, in any order: the balance holds, the set never falls,
// gaps never grow, and no bearing holds a preload above an unseated cup's hold.
func TestAnySequenceKeepsTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBuild(t)
		p := b.Params()
		assertBalance(t, b)
		for range rapid.IntRange(1, 12).Draw(t, "moves") {
			set, head, outer, angle := b.SpacerSetMM(), b.InnerGapMM(), b.OuterGapMM(), b.NutAngleDeg()
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0, 1:
				deg := rapid.Float64Range(-200, 200).Draw(t, "deg")
				pull := b.TurnNut(deg)
				assert.InDelta(t, angle+deg, b.NutAngleDeg(), 1e-9)
				const rounding = 1e-6 // N·mm
				if deg > 0 {
					assert.InDelta(t, b.ForwardTorqueNmm(), pull.TorqueNmm, rounding)
					assert.GreaterOrEqual(t, pull.PeakNmm, pull.TorqueNmm)
				} else if deg < 0 {
					assert.Negative(t, pull.TorqueNmm)
					assert.LessOrEqual(t, pull.PeakNmm, pull.TorqueNmm+rounding)
				}
			case 2:
				set := rapid.Float64Range(10, 600).Draw(t, "lb-ft") * ax.LbFtNmm
				pull := b.TurnNutToTorque(set, 120)
				assert.InDelta(t, angle+pull.TurnedDeg, b.NutAngleDeg(), 1e-9)
				assert.True(t, pull.Reached || pull.TurnedDeg > 120-1e-9, "%+v", pull)
				assert.True(t, pull.Reached || pull.PeakNmm < set, "%+v", pull)
			case 3:
				b.RollPinion(rapid.Float64Range(-5, 5).Draw(t, "turns"))
			case 4:
				b.TapCups()
			}
			assertBalance(t, b)
			assert.GreaterOrEqual(t, b.SpacerSetMM(), set, "the set fell")
			assert.LessOrEqual(t, b.InnerGapMM(), head)
			assert.LessOrEqual(t, b.OuterGapMM(), outer)
			f := b.Forces()
			if b.InnerGapMM() > 0 {
				assert.LessOrEqual(t, f.PreloadN, p.InnerCupHoldN+sameN)
			}
			if b.OuterGapMM() > 0 {
				assert.LessOrEqual(t, f.PreloadN, p.OuterCupHoldN+sameN)
			}
		}
	})
}

func assertSame(t assert.TestingT, want, got *pinion.Build) {
	w, g := want.Forces(), got.Forces()
	assert.InDelta(t, w.StemN, g.StemN, sameN)
	assert.InDelta(t, w.SpacerN, g.SpacerN, sameN)
	assert.InDelta(t, w.PreloadN, g.PreloadN, sameN)
	assert.InDelta(t, w.EndPlayMM, g.EndPlayMM, sameMM)
	assert.InDelta(t, want.SpacerSetMM(), got.SpacerSetMM(), sameMM)
	assert.Equal(t, want.InnerGapMM(), got.InnerGapMM())
	assert.Equal(t, want.OuterGapMM(), got.OuterGapMM())
}

func TestResultDoesNotDependOnStepSize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		once := anyBuild(t)
		steps := once.Clone()
		deg := rapid.Float64Range(1, 400).Draw(t, "deg")
		n := rapid.IntRange(2, 60).Draw(t, "steps")
		pull := once.TurnNut(deg)
		peak := 0.0
		for range n {
			peak = math.Max(peak, steps.TurnNut(deg/float64(n)).PeakNmm)
		}
		assertSame(t, once, steps)
		// The peak of the whole move is the largest of the peaks of its parts.
		assert.InDelta(t, pull.PeakNmm, peak, 0.01)
	})
}

func TestBackingOffAndReturningRetraces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBuild(t)
		b.TurnNut(rapid.Float64Range(0, 400).Draw(t, "forward"))
		b.RollPinion(rapid.Float64Range(0, 5).Draw(t, "turns"))
		top := b.Clone()
		back := rapid.Float64Range(0.1, 90).Draw(t, "back")
		b.TurnNut(-back / 3)
		middle := b.Clone()
		b.TurnNut(-back * 2 / 3)
		b.TurnNut(back * 2 / 3)
		assertSame(t, middle, b)
		assert.InDelta(t, middle.RunningTorqueNmm(ax.NewFilm()), b.RunningTorqueNmm(ax.NewFilm()), 0.01)
		b.TurnNut(back / 3)
		assertSame(t, top, b)
		// Past the old top the build goes on as if it had never been backed off.
		b.TurnNut(30)
		top.TurnNut(30)
		assertSame(t, top, b)
	})
}

// A click wrench stops at the first crossing: the same move made with the nut alone
// must not have passed the setting before, and be at it there.
func TestClickWrenchStopsAtTheFirstCrossing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBuild(t)
		b.TurnNut(rapid.Float64Range(0, 100).Draw(t, "before"))
		c := b.Clone()
		set := rapid.Float64Range(50, 500).Draw(t, "lb-ft") * ax.LbFtNmm
		pull := b.TurnNutToTorque(set, 3600)
		if pull.TurnedDeg == 0 {
			assert.True(t, pull.Reached)
			assert.GreaterOrEqual(t, c.ForwardTorqueNmm(), set)
			assertSame(t, c, b)
			return
		}
		require.True(t, pull.Reached, "ten turns reach any setting here")
		assert.Equal(t, set, pull.TorqueNmm)
		peak := 0.0
		for range 20 {
			peak = math.Max(peak, c.TurnNut(pull.TurnedDeg/20).PeakNmm)
		}
		// Within what the last 1e-13 mm of approach is worth in torque.
		assert.InDelta(t, set, peak, 0.01)
		assertSame(t, c, b)
	})
}

// A 250 lb-ft setting never crushes a spacer that needs 290; computed independently.
func TestClickWrenchTooLowForTheSpacer(t *testing.T) {
	b := newBuild(t, ax.Pinion())
	pull := b.TurnNutToTorque(250*ax.LbFtNmm, 1000)
	assert.True(t, pull.Reached)
	assert.Zero(t, b.SpacerSetMM())
	assert.Positive(t, b.Forces().EndPlayMM)
	again := b.TurnNutToTorque(250*ax.LbFtNmm, 1000)
	assert.True(t, again.Reached)
	assert.InDelta(t, 0, again.TurnedDeg, 1e-6, "a second click does not move the nut")
	assert.Zero(t, b.SpacerSetMM())
}

// A setting between dip and peak is met on the elastic line, not after the dip.
func TestClickWrenchBetweenDipAndPeak(t *testing.T) {
	b := newBuild(t, ax.Pinion())
	pull := b.TurnNutToTorque(285*ax.LbFtNmm, 1000)
	assert.True(t, pull.Reached)
	assert.Less(t, pull.TurnedDeg, 62.0)
	assert.Zero(t, b.SpacerSetMM())

	short := newBuild(t, ax.Pinion())
	pull = short.TurnNutToTorque(300*ax.LbFtNmm, 100)
	assert.False(t, pull.Reached)
	assert.InDelta(t, 100, pull.TurnedDeg, 1e-9)
	assert.InDelta(t, 290, pull.PeakNmm/ax.LbFtNmm, 0.1, "the peak was passed on the way")
	assert.Less(t, pull.TorqueNmm, pull.PeakNmm)
}

// The stepped solver and the closed form of a first tightening are two routes to
// the same state.
func TestAtPreloadAgreesWithTurning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyParams(t)
		p.UnseatedRollersMM, p.InnerGapMM, p.OuterGapMM = 0, 0, 0
		s, err := p.AtPreload(rapid.Float64Range(0, 15000).Draw(t, "preload"))
		if err != nil {
			require.ErrorIs(t, err, pinion.ErrSpacerSnaps)
			t.Skip("redraw")
		}
		b, err := pinion.New(p)
		require.NoError(t, err)
		if s.NutAngleDeg < 0 {
			t.Skip("before contact; a build starts at contact")
		}
		b.TurnNut(s.NutAngleDeg)
		f := b.Forces()
		assert.InDelta(t, s.PreloadN, f.PreloadN, sameN)
		assert.InDelta(t, s.SpacerN, f.SpacerN, sameN)
		assert.InDelta(t, s.StemN, f.StemN, sameN)
		assert.InDelta(t, s.SpacerSetMM, b.SpacerSetMM(), sameMM)
		assert.InDelta(t, s.TorqueNmm, b.ForwardTorqueNmm(), 0.01)
	})
}

func TestThickerPreloadShimsLowersPreload(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		torque := rapid.Float64Range(150, 400).Draw(t, "lb-ft") * ax.LbFtNmm
		gap := rapid.Float64Range(-0.06, 0.01).Draw(t, "gap")
		preload := func(gap float64) float64 {
			b, err := pinion.New(ax.Solid(gap))
			require.NoError(t, err)
			require.True(t, b.TurnNutToTorque(torque, 720).Reached)
			return b.Forces().PreloadN
		}
		thin, thick := preload(gap), preload(gap+0.005)
		assert.Less(t, thick, thin)
	})
}

// With a nut force fixed by the wrench, dP/d(shim) = −k_pair k_sol/(k_pair + k_sol).
func TestSolidShimSlope(t *testing.T) {
	at := func(gap float64) *pinion.Build {
		b := newBuild(t, ax.Solid(gap))
		require.True(t, b.TurnNutToTorque(250*ax.LbFtNmm, 720).Reached)
		return b
	}
	const half = 1e-4
	slope := (at(-0.02+half).Forces().PreloadN - at(-0.02-half).Forces().PreloadN) / (2 * half)
	pair, sol := at(-0.02).PairStiffnessNPerMM(), ax.Solid(0).SolidStiffnessNPerMM
	assert.InEpsilon(t, -pair*sol/(pair+sol), slope, 1e-4)
}

// The gap may be given as two packs or directly.
func TestSolidGapEitherWay(t *testing.T) {
	p := ax.Solid(-0.02)
	q := p
	q.PreloadShimMM, q.ZeroPlayPreloadShimMM, q.EndPlayAtContactMM = 0, 0, -0.02
	a, b := newBuild(t, p), newBuild(t, q)
	a.TurnNut(30)
	b.TurnNut(30)
	assertSame(t, a, b)
}

func TestSolidPreloadShimsFarTooThinIsLoose(t *testing.T) {
	p := ax.Solid(-0.5)
	b := newBuild(t, p)
	require.True(t, b.TurnNutToTorque(100*ax.LbFtNmm, 720).Reached)
	assert.True(t, b.SpacerLoose())
	assert.Equal(t, b.Forces().StemN, b.Forces().PreloadN)
	assert.False(t, setTo(t, 20).SpacerLoose())
}

// Nothing between the cones: the pull of the nut is the preload.
func TestMockUpBuildClosesOnTheBearings(t *testing.T) {
	p := ax.Pinion()
	p.Spacer = nil
	p.EndPlayAtContactMM = 0.3
	b := newBuild(t, p)
	assert.InDelta(t, 0.3, b.Forces().EndPlayMM, sameMM)
	b.TurnNut(0.1 / p.Thread.PitchMM * 360)
	assert.InDelta(t, 0.2, b.Forces().EndPlayMM, sameMM, "with nothing touching, the nut moves the cones by its own advance")
	pull := b.TurnNutToTorque(40*ax.LbFtNmm, 720)
	assert.True(t, pull.Reached)
	assert.InDelta(t, 20*ax.LbFtNmm/p.Thread.LeverMM(), b.Forces().PreloadN, 0.01)
	assert.False(t, b.SpacerLoose(), "there is no spacer to be loose")
}

// Friction changes sides when the nut reverses: the torque drops by twice the rise
// of the thread times the stem force (long form of VDI 2230).
func TestReversalDropsTheTorque(t *testing.T) {
	b := setTo(t, 20)
	n, p := b.Forces().StemN, b.Params()
	forward := b.ForwardTorqueNmm()
	pull := b.TurnNut(-1e-6)
	assert.InDelta(t, 2*p.Thread.PitchMM/(2*math.Pi)*n, forward+pull.TorqueNmm, 5)
	assert.Negative(t, pull.TorqueNmm)
}

// Unturned rollers read tight: rolling the pinion can only let the setting out.
func TestRollingSeatsTheRollers(t *testing.T) {
	p := ax.Pinion()
	p.UnseatedRollersMM = 0.04
	b := newBuild(t, p)
	assert.InDelta(t, 0.66, b.Forces().EndPlayMM, sameMM, "the pair is too tall by the unseated height")
	b.TurnNut(179)
	before := b.Forces()
	b.RollPinion(1.5)
	// r = 1 − exp(−turns/1.5): an engineering choice, no source.
	assert.InDelta(t, 1-1/math.E, b.SeatingShare(), 1e-12)
	after := b.Forces()
	assert.Less(t, after.PreloadN, before.PreloadN)
	assert.InDelta(t, 179, b.NutAngleDeg(), 1e-9, "the nut stays where it was")
	b.RollPinion(-1.5)
	assert.InDelta(t, 1-1/(math.E*math.E), b.SeatingShare(), 1e-12, "either direction seats")
	b.RollPinion(30)
	// Seated, the pair may only differ from one that never was unseated by the
	// extra crush of the taller stage, which is none here: the set rose.
	straight := newBuild(t, ax.Pinion())
	straight.TurnNut(179)
	assert.InDelta(t, straight.Forces().PreloadN, b.Forces().PreloadN, 0.1)
}

func TestRollingAShortlyLoadedPairLeavesEndPlay(t *testing.T) {
	p := ax.Pinion()
	p.UnseatedRollersMM = 0.05
	b := newBuild(t, p)
	turnTo(t, b, 100, 200, func(b *pinion.Build) float64 { return b.Forces().PreloadN - 1500 })
	b.RollPinion(10)
	assert.Zero(t, b.Forces().PreloadN)
	assert.Positive(t, b.Forces().EndPlayMM)
}

func TestCupStaysUntilItsHold(t *testing.T) {
	p := ax.Pinion()
	p.InnerGapMM, p.InnerCupHoldN = 0.05, 5000
	b := newBuild(t, p)
	assert.InDelta(t, 0.70, b.Forces().EndPlayMM, sameMM, "an open gap is already used up in the end play at contact")
	near, err := p.AtPreload(4900)
	require.NoError(t, err)
	b.TurnNut(near.NutAngleDeg)
	assert.Equal(t, 0.05, b.InnerGapMM())
	high := b.Forces().PreloadN
	b.TurnNut(1)
	assert.Zero(t, b.InnerGapMM())
	assert.Less(t, b.Forces().PreloadN, high-3000, "the preload falls when the cup goes home")

	tapped := newBuild(t, p)
	tapped.TurnNut(100)
	tapped.TapCups()
	assert.Zero(t, tapped.InnerGapMM())
	plain := ax.Pinion()
	plain.EndPlayAtContactMM += 0.05
	want := newBuild(t, plain)
	want.TurnNut(100)
	assertForces(t, want, tapped)
}

func assertForces(t *testing.T, want, got *pinion.Build) {
	t.Helper()
	w, g := want.Forces(), got.Forces()
	assert.InDelta(t, w.StemN, g.StemN, sameN)
	assert.InDelta(t, w.PreloadN, g.PreloadN, sameN)
	assert.InDelta(t, w.EndPlayMM, g.EndPlayMM, sameMM)
}

// The cup with the smaller hold goes first, and with equal holds the head's.
func TestWhichCupGoesFirst(t *testing.T) {
	for _, c := range []struct {
		head, outer          float64
		wantInner, wantOuter float64
	}{{4000, 6000, 0, 0.04}, {6000, 4000, 0.04, 0}, {5000, 5000, 0, 0.04}} {
		p := ax.Pinion()
		p.InnerGapMM, p.OuterGapMM, p.InnerCupHoldN, p.OuterCupHoldN = 0.04, 0.04, c.head, c.outer
		b := newBuild(t, p)
		turnTo(t, b, 100, 200, func(b *pinion.Build) float64 {
			if b.InnerGapMM()+b.OuterGapMM() > 0.05 {
				return -1
			}
			return 1
		})
		b.TurnNut(0.01)
		assert.Equal(t, c.wantInner, b.InnerGapMM())
		assert.Equal(t, c.wantOuter, b.OuterGapMM())
	}
}

func TestCloneIsIndependent(t *testing.T) {
	p := ax.Pinion()
	b := newBuild(t, p)
	b.TurnNut(170)
	before := b.Forces()
	c := b.Clone()
	c.TurnNut(40)
	c.RollPinion(5)
	assert.Equal(t, before, b.Forces())
	p.Spacer.YieldN = 1 // the caller's own spacer no longer matters
	b.TurnNut(0.5)
	assert.Greater(t, b.Forces().StemN, before.StemN)
}

// A used spacer serves if the new build crushes it at least 0.05 mm further, and
// loses more than half the clamp if it is asked for less; computed independently.
func TestUsedSpacer(t *testing.T) {
	proper := setTo(t, 20)
	build := func(endPlay float64) pinion.Setting {
		p := ax.Pinion()
		p.EndPlayAtContactMM = endPlay
		p.Spacer.SetMM = proper.SpacerSetMM()
		s, err := p.AtPreload(proper.Forces().PreloadN)
		require.NoError(t, err)
		return s
	}
	further := build(0.75)
	assert.Greater(t, further.SpacerSetMM, proper.SpacerSetMM())
	assert.InEpsilon(t, proper.Forces().StemN, further.StemN, 0.01)
	less := build(0.60)
	assert.Equal(t, proper.SpacerSetMM(), less.SpacerSetMM)
	assert.Less(t, less.StemN, proper.Forces().StemN/2)
}

func TestBottomedSpacer(t *testing.T) {
	b := newBuild(t, ax.Pinion())
	var last pinion.Pull
	for !last.Bottomed {
		last = b.TurnNut(10)
		require.Less(t, b.NutAngleDeg(), 2000.0)
	}
	assert.Greater(t, b.SpacerSetMM(), ax.Pinion().Spacer.UsableCrushMM)
	s := *ax.Pinion().Spacer
	within := s.CrushLoadN(2.5) - s.CrushLoadN(2.4)
	past := s.CrushLoadN(2.6) - s.CrushLoadN(2.5)
	assert.Greater(t, past, 10*within)
	assert.InDelta(t, s.CrushLoadN(2.5), s.CrushLoadN(2.5+1e-9), 0.01, "no step at the end of the usable crush")
	assert.Equal(t, s.PeakN, s.CrushLoadN(0))
	assert.Equal(t, s.PeakN, s.CrushLoadN(-1))
}

// A crushed spacer backed off past its springback is free, and stays crushed.
func TestCrushedSpacerComesFree(t *testing.T) {
	b := setTo(t, 20)
	set := b.SpacerSetMM()
	b.TurnNut(-100)
	assert.Zero(t, b.Forces().StemN)
	assert.Equal(t, set, b.SpacerSetMM())
	p := b.Params()
	// With nothing touching, the cones have closed by the nut's own advance.
	closed := b.NutAngleDeg() / 360 * p.Thread.PitchMM
	require.Less(t, closed, set)
	assert.InDelta(t, p.EndPlayAtContactMM-closed, b.Forces().EndPlayMM, sameMM)
}

// A soft spacer can snap although its own slope is gentle beside the nut's.
func TestSoftSpacerSnaps(t *testing.T) {
	p := ax.Pinion()
	p.Spacer.StiffnessNPerMM, p.Spacer.PeakDecayMM = 200e3, 8000/168e3
	_, err := pinion.New(p)
	require.ErrorIs(t, err, pinion.ErrSpacerSnaps)
	p.Spacer.StiffnessNPerMM = 500e3
	_, err = pinion.New(p)
	require.NoError(t, err)
}

func TestBackedOffBeyondContact(t *testing.T) {
	b := newBuild(t, ax.Pinion())
	assert.Zero(t, b.NutAngleDeg())
	assert.Zero(t, b.Forces().StemN)
	pull := b.TurnNut(-90)
	assert.InDelta(t, -ax.Pinion().Thread.PrevailingNmm, pull.TorqueNmm, 1e-9, "only the locking thread resists")
	assert.InDelta(t, 0.70+ax.Pinion().Thread.PitchMM/4, b.Forces().EndPlayMM, sameMM)
	assert.Zero(t, b.RunningTorqueNmm(ax.NewFilm()))
	assert.Zero(t, b.StartingTorqueNmm(ax.NewFriction))
}

func TestStartingAndRunningUseBothBearings(t *testing.T) {
	b := setTo(t, 20)
	n, h, ta := b.Forces().PreloadN, ax.Inner(), ax.Outer()
	assert.InDelta(t, h.StartingTorqueNmm(n, 0.15)+ta.StartingTorqueNmm(n, 0.15), b.StartingTorqueNmm(0.15), 1e-9)
	assert.InDelta(t, h.RunningTorqueNmm(n, ax.UsedFilm())+ta.RunningTorqueNmm(n, ax.UsedFilm()), b.RunningTorqueNmm(ax.UsedFilm()), 1e-9)
}

func TestOddMovesAreHarmless(t *testing.T) {
	b := setTo(t, 20)
	before := b.Forces()
	for _, deg := range []float64{0, math.NaN()} {
		assert.Zero(t, b.TurnNut(deg).TurnedDeg)
	}
	for _, c := range [][2]float64{{math.NaN(), 10}, {1e6, math.NaN()}, {1e6, 0}, {1e6, -5}} {
		assert.Zero(t, b.TurnNutToTorque(c[0], c[1]).TurnedDeg)
	}
	b.RollPinion(math.NaN())
	b.RollPinion(math.Inf(1))
	assert.Equal(t, before, b.Forces())
	assert.True(t, b.TurnNutToTorque(-5, 10).Reached, "a wrench set below what the nut resists clicks at once")

	for _, deg := range []float64{math.Inf(1), math.Inf(-1), 1e300, -1e300} {
		c := b.Clone()
		pull := c.TurnNut(deg)
		assert.Equal(t, math.Copysign(36000, deg), pull.TurnedDeg)
		assertFinite(t, c.Forces(), pull)
	}
	c := b.Clone()
	pull := c.TurnNutToTorque(math.Inf(1), math.Inf(1))
	assert.False(t, pull.Reached)
	assertFinite(t, c.Forces(), pull)
}

func assertFinite(t *testing.T, f pinion.Forces, p pinion.Pull) {
	t.Helper()
	for _, v := range []float64{f.StemN, f.SpacerN, f.PreloadN, f.EndPlayMM, p.TorqueNmm, p.PeakNmm} {
		assert.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%+v %+v", f, p)
	}
}

func TestThreadPullsBothWays(t *testing.T) {
	th := ax.Thread()
	// The rise of the thread hinders tightening and helps loosening (long form of
	// VDI 2230): the levers differ by pitch/π.
	assert.InDelta(t, th.PitchMM/math.Pi, th.LeverMM()-th.LooseningLeverMM(), 1e-12)
	assert.Less(t, th.LooseningLeverMM(), th.LeverMM())
	assert.InDelta(t, 75000, th.StemN(th.TighteningNmm(75000)), 1e-6)
	assert.Zero(t, th.StemN(0.5*th.PrevailingNmm), "the locking thread takes the first torque")
	assert.Equal(t, th.PrevailingNmm, th.TighteningNmm(-10))
}

func TestNewSaysWhatIsWrong(t *testing.T) {
	cases := map[string]func(p *pinion.Params){
		"inner pinion bearing":      func(p *pinion.Params) { p.Inner.Rollers = 0 },
		"outer pinion bearing":      func(p *pinion.Params) { p.Outer.BoreMM = -1 },
		"housing stiffness":         func(p *pinion.Params) { p.HouseStiffnessNPerMM = 0 },
		"stem and nut stiffness":    func(p *pinion.Params) { p.NutStiffnessNPerMM = math.NaN() },
		"solid spacer stiffness":    func(p *pinion.Params) { p.Spacer, p.SolidStiffnessNPerMM = nil, -1 },
		"one or the other":          func(p *pinion.Params) { p.SolidStiffnessNPerMM = 2e6 },
		"preload shims":             func(p *pinion.Params) { p.PreloadShimMM = 0.5 },
		"thread pitch":              func(p *pinion.Params) { p.Thread.PitchMM = 0 },
		"pitch diameter":            func(p *pinion.Params) { p.Thread.PitchDiameterMM = 0 },
		"nut face diameter":         func(p *pinion.Params) { p.Thread.FaceDiameterMM = 0 },
		"thread friction":           func(p *pinion.Params) { p.Thread.ThreadFriction = -0.1 },
		"nut face friction":         func(p *pinion.Params) { p.Thread.FaceFriction = 2 },
		"unwind by itself":          func(p *pinion.Params) { p.Thread.ThreadFriction, p.Thread.FaceFriction = 0, 0 },
		"prevailing torque":         func(p *pinion.Params) { p.Thread.PrevailingNmm = math.Inf(1) },
		"spacer stiffness":          func(p *pinion.Params) { p.Spacer.StiffnessNPerMM = 0 },
		"crush load":                func(p *pinion.Params) { p.Spacer.YieldN = 0 },
		"peak load":                 func(p *pinion.Params) { p.Spacer.PeakN = 70000 },
		"fades over":                func(p *pinion.Params) { p.Spacer.PeakDecayMM = 0 },
		"hardening":                 func(p *pinion.Params) { p.Spacer.HardeningNPerMM = -1 },
		"usable crush":              func(p *pinion.Params) { p.Spacer.UsableCrushMM = 0 },
		"crush before fitting":      func(p *pinion.Params) { p.Spacer.SetMM = -0.1 },
		"end play at contact":       func(p *pinion.Params) { p.EndPlayAtContactMM = math.NaN() },
		"inner bearing cup":         func(p *pinion.Params) { p.InnerGapMM = -0.1 },
		"outer bearing cup":         func(p *pinion.Params) { p.OuterGapMM = 5 },
		"not yet seated":            func(p *pinion.Params) { p.UnseatedRollersMM = -0.1 },
		"inner bearing cup is held": func(p *pinion.Params) { p.InnerCupHoldN = -1 },
		"outer bearing cup is held": func(p *pinion.Params) { p.OuterCupHoldN = math.Inf(1) },
		"would give way suddenly":   func(p *pinion.Params) { p.Spacer.PeakDecayMM = 0.01 },
	}
	for words, spoil := range cases {
		p := ax.Pinion()
		spoil(&p)
		_, err := pinion.New(p)
		assert.Contains(t, text.Printer{}.Error(err), words)
		_, err = p.AtPreload(5000)
		assert.Contains(t, text.Printer{}.Error(err), words)
	}
	_, err := ax.Pinion().AtPreload(math.NaN())
	assert.Contains(t, text.Printer{}.Error(err), "not a number")
	s, err := ax.Pinion().AtPreload(-50)
	require.NoError(t, err)
	assert.Zero(t, s.PreloadN)
}

// The move a trainee makes near the target. A plain copy is enough to start over,
// because a turn never changes the spacer's data.
func BenchmarkTurnNut10Deg(b *testing.B) {
	start, err := pinion.New(ax.Pinion())
	require.NoError(b, err)
	start.TurnNut(170)
	b.ReportAllocs()
	for b.Loop() {
		c := *start
		c.TurnNut(10)
	}
}

func BenchmarkTurnNutToTorque(b *testing.B) {
	start, err := pinion.New(ax.Pinion())
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		c := *start
		c.TurnNutToTorque(300*ax.LbFtNmm, 720)
	}
}
