package assembly_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/assembly"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/truth"
)

const sameMM = 1e-12

// axle is the nominal axle of a family with something else about it.
func axle(t testing.TB, code string, change func(*truth.Axle)) *assembly.Axle {
	t.Helper()
	fam, err := family.Shipped(code)
	require.NoError(t, err)
	x := assembly.Nominal(fam)
	if change != nil {
		change(&x)
	}
	return assembly.New(fam, x)
}

// built is a pinion whose rollers are home and whose nut has been turned so far.
func built(t testing.TB, a *assembly.Axle, b assembly.Pinion, deg float64) *pinion.Build {
	t.Helper()
	p, err := pinion.New(a.Params(b))
	require.NoError(t, err)
	p.RollPinion(30)
	p.TurnNut(deg)
	return p
}

// The nominal axle of every family is the one its family describes: same pinion, same
// sides, and in place with a shim of nought at the reference preload.
func TestNominalIsTheFamilys(t *testing.T) {
	for _, fam := range family.Shelf() {
		a := assembly.New(fam, assembly.Nominal(fam))
		want := fam.Params()
		want.UnseatedRollersMM = fam.Model.UnseatedRollersMM
		assert.Equal(t, want, a.Params(assembly.Pinion{PreloadShimMM: want.PreloadShimMM}), fam.Code)
		st, err := a.Case(assembly.Sides{RingGearMM: 0.1, OppositeMM: 0.1, CapsTight: true})
		require.NoError(t, err)
		assert.Positive(t, st.ForceN, fam.Code)

		at, err := want.AtPreload(fam.ReferencePreloadN())
		require.NoError(t, err)
		b, err := pinion.New(a.Params(assembly.Pinion{PreloadShimMM: want.PreloadShimMM}))
		require.NoError(t, err)
		b.RollPinion(100)
		b.TurnNut(at.NutAngleDeg - b.NutAngleDeg())
		const closeMM = 1e-4 // the last of the rollers' way
		assert.InDelta(t, 0, a.PinionOutMM(b, assembly.Pinion{}), closeMM, fam.Code)
	}
}

// Dirt in the depth pack stands the pinion deeper, under a cage shallower; behind the cup
// it takes up end play as a shim there does.
func TestDirtInThePreloadShims(t *testing.T) {
	const dirt = 0.05
	for code, deeper := range map[string]float64{"BEECH": 1, "HAZEL": 1, "JUNIPER": -1} {
		clean, dirty := axle(t, code, nil), axle(t, code, func(x *truth.Axle) { x.ShimDirtMM = dirt })
		shims := assembly.Pinion{PreloadShimMM: clean.ZeroPlayPreloadShimMM}
		moved := dirty.PinionOutMM(built(t, dirty, shims, 0), shims) - clean.PinionOutMM(built(t, clean, shims, 0), shims)
		preloaded := clean.Fam.Design.DepthShim == family.BehindInnerCup
		if preloaded {
			assert.InDelta(t, clean.Params(shims).EndPlayAtContactMM-dirt, dirty.Params(shims).EndPlayAtContactMM, sameMM)
			// What dirt presses the head bearing together comes on top.
			assert.Greater(t, moved, -deeper*dirt-sameMM, code)
			assert.Less(t, moved, 0.0, code)
			continue
		}
		assert.InDelta(t, -deeper*dirt, moved, sameMM, code)
		assert.Equal(t, clean.Params(shims), dirty.Params(shims), code)
	}
}

// Behind the cup a shim that is thicker than the right one takes up end play under a
// collapsible spacer too.
func TestCupShimUnderACollapsibleSpacer(t *testing.T) {
	fam := family.Beech()
	fam.Design.DepthShim = family.BehindInnerCup
	x := assembly.Nominal(fam)
	x.IdealShimMM = 0.8
	a := assembly.New(fam, x)
	assert.InDelta(t, x.EndPlayAtContactMM, a.Params(assembly.Pinion{DepthShimMM: 0.8}).EndPlayAtContactMM, sameMM)
	assert.InDelta(t, x.EndPlayAtContactMM-0.1, a.Params(assembly.Pinion{DepthShimMM: 0.9}).EndPlayAtContactMM, sameMM)
}

// A nut that has lost its grip turns with its prevailing torque less.
func TestNutGripGone(t *testing.T) {
	good, gone := axle(t, "BEECH", nil), axle(t, "BEECH", func(x *truth.Axle) { x.NutGripGone = true })
	free := func(a *assembly.Axle) float64 { return built(t, a, assembly.Pinion{}, 0).ForwardTorqueNmm() }
	assert.InDelta(t, good.PrevailingNmm, free(good)-free(gone), 1e-6)
}

// Runout: what goes once round adds as arrows do; a warped gear goes twice or three times
// round; the swing is between the farthest and the nearest place.
func TestRunout(t *testing.T) {
	once := axle(t, "BEECH", func(x *truth.Axle) {
		x.GearDirtTIRMM, x.FlangeTIRMM, x.BoltsTIRMM = 0.03, 0.04, 0.05
		x.DirtPhaseRad, x.FlangePhaseRad, x.BoltsPhaseRad = 0, math.Pi/2, math.Pi
	})
	assert.InDelta(t, math.Hypot(0.05-0.03, 0.04), once.RunoutMM(), sameMM)
	for _, waves := range []int{2, 3} {
		warped := axle(t, "BEECH", func(x *truth.Axle) { x.WarpTIRMM, x.WarpWaves, x.WarpPhaseRad = 0.1, waves, 1 })
		assert.InDelta(t, 0.1, warped.RunoutMM(), 1e-3*0.1)
		turns, last := 0, warped.WobbleMM(0)
		const places = 720
		for k := 1; k <= places; k++ {
			y := warped.WobbleMM(2 * math.Pi * float64(k) / places)
			if last <= 0 && y > 0 {
				turns++
			}
			last = y
		}
		assert.Equal(t, waves, turns, "waves in a turn")
		both := axle(t, "BEECH", func(x *truth.Axle) { x.WarpTIRMM, x.WarpWaves, x.GearTIRMM = 0.1, waves, 0.1 })
		assert.Greater(t, both.RunoutMM(), 0.1)
		assert.LessOrEqual(t, both.RunoutMM(), 0.2+sameMM)
	}
	assert.InDelta(t, 0.04, once.BareFlangeMM(), sameMM, "dirt and bolts come off with the gear")
}

// What squeezes a cup stands still with it: the case turns heavier all around by its torque,
// and lies differently from one reading to the next. Two effects add up, and one that is
// dropped is gone.
func TestEffectsAtTheCase(t *testing.T) {
	const force = 6000
	straight := axle(t, "BEECH", nil)
	one := axle(t, "BEECH", func(x *truth.Axle) { x.Put(truth.Effect{Of: "a", CaseNmm: 1500, CaseWanderMM: 0.03}) })
	two := axle(t, "BEECH", func(x *truth.Axle) {
		x.Put(truth.Effect{Of: "a", CaseNmm: 1500, CaseWanderMM: 0.03})
		x.Put(truth.Effect{Of: "b", CaseNmm: 1000, CaseWanderMM: 0.01})
		assert.True(t, x.Has("b"))
	})
	rise := func(a *assembly.Axle) float64 {
		return a.SideTorque(force).MeanNmm - straight.SideTorque(force).MeanNmm
	}
	sheet, eta := straight.Fam.Sheet, straight.Fam.Model.MeshEfficiency
	assert.InDelta(t, 1500/(sheet.Ratio()*eta), rise(one), 1e-9)
	assert.InDelta(t, 2500/(sheet.Ratio()*eta), rise(two), 1e-9)
	assert.Zero(t, one.SideTorque(force).SwingNmm)
	assert.InDelta(t, 0.03, one.WanderMM(true), 1e-12)
	assert.InDelta(t, 0.04, two.WanderMM(true), 1e-12)
	two.Drop("a")
	assert.InDelta(t, 1000/(sheet.Ratio()*eta), rise(two), 1e-9)
	two.Drop("b")
	assert.False(t, two.Has("b"))
	assert.Zero(t, rise(two))
	assert.Greater(t, straight.WanderMM(false), straight.WanderMM(true), "snug caps let the case move")
}

// Brakes drag at the ring gear: the pinion feels them divided by the ratio, and by what
// the teeth lose.
func TestBrakesAreFeltThroughTheRatio(t *testing.T) {
	free, held := axle(t, "BEECH", nil), axle(t, "BEECH", func(x *truth.Axle) { x.BrakeNmm = 4100 })
	rise := held.SideTorque(6000).MeanNmm - free.SideTorque(6000).MeanNmm
	assert.InDelta(t, 4100/(41.0/12*0.97), rise, 1e-9)
}

// Notched rollers swing the torque once there is preload to press them into the notch.
func TestNotch(t *testing.T) {
	a := axle(t, "BEECH", func(x *truth.Axle) { x.NotchNmm = 600 })
	assert.Zero(t, a.BearingTorque(built(t, a, assembly.Pinion{}, 10)).SwingNmm, "end play, nothing pressed")
	tight := built(t, a, assembly.Pinion{}, 200)
	require.Positive(t, tight.Forces().PreloadN)
	got := a.BearingTorque(tight)
	assert.InDelta(t, 600, got.SwingNmm, 1e-9)
	assert.InDelta(t, tight.RunningTorqueNmm(a.Film())+300, got.MeanNmm, 1e-9)
	assert.GreaterOrEqual(t, a.BreakawayTorque(tight).MeanNmm, got.MeanNmm)
}

// A housing that stays wider loosens both sides alike; a cone off its shoulder is shim at
// the back.
func TestFits(t *testing.T) {
	s := assembly.Sides{RingGearMM: 0.1, OppositeMM: 0.1, CapsTight: true}
	back, tooth := axle(t, "FIR", func(x *truth.Axle) { x.HousingGrowthMM = 0.06 }).FitMM(s)
	assert.InDelta(t, 0.07, back, sameMM)
	assert.InDelta(t, 0.07, tooth, sameMM)
	back, tooth = axle(t, "FIR", func(x *truth.Axle) { x.RingGearConeGapMM = 0.06 }).FitMM(s)
	assert.InDelta(t, 0.16, back, sameMM)
	assert.InDelta(t, 0.10, tooth, sameMM)
}

// Warmth: aluminium lets go at pinion and sides and carries the pinion out; iron does the
// opposite by far less; no warmth, no change.
func TestWarmth(t *testing.T) {
	alder, beech := axle(t, "ALDER", nil), axle(t, "BEECH", nil)
	for _, a := range []*assembly.Axle{alder, beech} {
		assert.Zero(t, a.PinionPlayByHeatMM())
		assert.Zero(t, a.SideGrowthByHeatMM())
		assert.Zero(t, a.PinionOutByHeatMM())
		a.WarmK = 60
	}
	for what, pair := range map[string][2]float64{
		"pinion play": {alder.PinionPlayByHeatMM(), beech.PinionPlayByHeatMM()},
		"side fit":    {alder.SideGrowthByHeatMM(), beech.SideGrowthByHeatMM()},
		"pinion out":  {alder.PinionOutByHeatMM(), beech.PinionOutByHeatMM()},
	} {
		assert.Positive(t, pair[0], what)
		assert.Negative(t, pair[1], what)
		assert.Greater(t, pair[0], -3*pair[1], what)
	}
	cold, warm := axle(t, "ALDER", nil), axle(t, "ALDER", nil)
	warm.WarmK = 60
	at := 190.0
	assert.Greater(t, built(t, cold, assembly.Pinion{}, at).Forces().PreloadN, built(t, warm, assembly.Pinion{}, at).Forces().PreloadN)
	b1, t1 := cold.FitMM(assembly.Sides{RingGearMM: 0.1, OppositeMM: 0.1})
	b2, t2 := warm.FitMM(assembly.Sides{RingGearMM: 0.1, OppositeMM: 0.1})
	assert.InDelta(t, warm.SideGrowthByHeatMM(), b1+t1-b2-t2, sameMM)
}

// A warm aluminium housing carries a pinion whose bearings are slack out by as much as it
// grows.
func TestWarmthCarriesThePinionOut(t *testing.T) {
	cold, warm := axle(t, "ALDER", nil), axle(t, "ALDER", nil)
	warm.WarmK = 60
	slack := assembly.Pinion{}
	moved := warm.PinionOutMM(built(t, warm, slack, 0), slack) - cold.PinionOutMM(built(t, cold, slack, 0), slack)
	assert.Positive(t, moved)
	assert.InDelta(t, warm.PinionOutByHeatMM(), moved, sameMM)
}

// Pushed one way play leaves the pinion furthest out and the gear nearest to it, pushed the other
// way furthest in and furthest away; a loose seat adds its own to both.
func TestPlayIsTakenUpBothWays(t *testing.T) {
	const pinionPlayMM, casePlayMM, looseMM = 0.10, 0.20, 0.03
	for _, loose := range []float64{0, looseMM} {
		a := axle(t, "BEECH", func(x *truth.Axle) { x.Put(truth.Effect{Of: "a", PinionWanderMM: loose}) })
		at := func(pushed float64) mesh.Position {
			return a.Place(0.5, pinionPlayMM, carrier.State{EndPlayMM: casePlayMM}, true, 0, pushed, 0)
		}
		in, out := at(0), at(1)
		assert.InDelta(t, pinionPlayMM+2*loose, out.PinionOutMM-in.PinionOutMM, sameMM)
		assert.InDelta(t, 0.5, (out.PinionOutMM+in.PinionOutMM)/2, sameMM)
		assert.InDelta(t, 0.5, at(0.5).PinionOutMM, sameMM, "in the middle of it")
		assert.InDelta(t, casePlayMM, in.RingAwayMM-out.RingAwayMM, sameMM)

		a = axle(t, "BEECH", func(x *truth.Axle) { x.Put(truth.Effect{Of: "a", CaseWanderMM: loose}) })
		wanders := a.Place(0.5, 0, carrier.State{}, true, 0, 1, 0).RingAwayMM - a.Place(0.5, 0, carrier.State{}, true, 0, 0, 0).RingAwayMM
		assert.InDelta(t, 2*loose, math.Abs(wanders), sameMM)
	}
}

// What swings with the gears moves them where they stand, and a gear that was made for another
// case stands away from the pinion by what it is short.
func TestWhatSwingsAndWhatIsShort(t *testing.T) {
	straight := axle(t, "BEECH", nil)
	swings := axle(t, "BEECH", func(x *truth.Axle) {
		x.GearTIRMM, x.GearPhaseRad, x.PinionTIRMM, x.RadialTIRMM, x.GearShortMM = 0.10, 0.3, 0.04, 0.06, 0.2
	})
	for _, angle := range []float64{0, 1, 2.5, 4} {
		away, out, across := swings.SwingMM(angle)
		at, without := swings.Place(0.5, 0, carrier.State{}, true, angle, 0.5, 0), straight.Place(0.5, 0, carrier.State{}, true, angle, 0.5, 0)
		assert.InDelta(t, 0.2+away, at.RingAwayMM-without.RingAwayMM, sameMM)
		assert.InDelta(t, out, at.PinionOutMM-without.PinionOutMM, sameMM)
		assert.InDelta(t, across, at.OffsetMM-without.OffsetMM, sameMM)
	}
}
