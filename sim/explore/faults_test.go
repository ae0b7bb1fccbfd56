package explore_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// show shows the finished axle of a family with something else about it.
func show(t testing.TB, code string, f func(*explore.Settings)) explore.Result {
	t.Helper()
	fam, err := family.FindAny(code)
	require.NoError(t, err)
	s := explore.Finished(fam, false)
	f(&s)
	r, err := explore.Show(fam, s)
	require.NoError(t, err)
	return r
}

func asItIs(*explore.Settings) {}

// Dirt in the depth pack is shim: under the cone and behind the cup it stands the pinion
// deeper, under the flange of a cage shallower; behind the cup it also costs a solid pack
// its end play. What each design does is geometry.
func TestDirtInTheDepthShims(t *testing.T) {
	const dirtMM = 0.05
	for code, way := range map[string]float64{"BEECH": -1, "HAZEL": -1, "CEDAR": -1, "JUNIPER": 1, "IRONBARK": 1} {
		clean, dirty := show(t, code, asItIs), show(t, code, func(s *explore.Settings) { s.ShimDirtMM = dirtMM })
		assert.InDelta(t, way*dirtMM, dirty.Pinion.PinionOutMM-clean.Pinion.PinionOutMM, 1e-6, code)
		shims := func(s *explore.Settings) { s.TorqueTargetNmm, s.PreloadShimMM = 0, clean.Pinion.PreloadShimMM }
		if clean.Pinion.PreloadShimMM == 0 {
			continue
		}
		same := show(t, code, func(s *explore.Settings) { shims(s); s.ShimDirtMM = dirtMM })
		if way < 0 {
			assert.Greater(t, same.Pinion.PreloadN, 1.5*clean.Pinion.PreloadN, code)
			assert.InDelta(t, dirtMM, dirty.Pinion.PreloadShimMM-clean.Pinion.PreloadShimMM, 1e-6, "%s: the pack must be as much thicker", code)
		} else {
			assert.InEpsilon(t, clean.Pinion.PreloadN, same.Pinion.PreloadN, 1e-6, code)
		}
	}
}

// What is wrong at the pinion, with the drag set right all the same.
func TestPinionFaults(t *testing.T) {
	good := show(t, "BEECH", asItIs)
	crushed := show(t, "BEECH", func(s *explore.Settings) { s.SpacerCrushedMM = 0.6 })
	assert.InDelta(t, good.Pinion.PinionBearingTorqueNmm, crushed.Pinion.PinionBearingTorqueNmm, sameNmm)
	assert.Less(t, crushed.Pinion.SpacerN, 0.9*good.Pinion.SpacerN, "a spacer used before holds less")
	assert.Less(t, crushed.Pinion.NutTorqueNmm, good.Pinion.NutTorqueNmm)

	loose := show(t, "BEECH", func(s *explore.Settings) { s.NutGripGone = true })
	grip := family.Beech().Params().Thread.PrevailingNmm
	assert.InDelta(t, grip, good.Pinion.NutTorqueNmm-loose.Pinion.NutTorqueNmm, sameNmm, "only the grip is gone")
	assert.InDelta(t, good.Pinion.StemN, loose.Pinion.StemN, 1e-6)

	rough := show(t, "BEECH", func(s *explore.Settings) { s.NotchNmm = 500 })
	assert.Equal(t, 500.0, rough.Pinion.PinionSwingNmm)
	assert.InDelta(t, good.Pinion.PinionBearingTorqueNmm, rough.Pinion.PinionBearingTorqueNmm, sameNmm)
	assert.Less(t, rough.Pinion.PreloadN, good.Pinion.PreloadN, "roughness passes for preload")

	seal := show(t, "BEECH", func(s *explore.Settings) { s.SealExtraNmm = 700 })
	assert.InDelta(t, 700, seal.Pinion.PinionTorqueNmm-good.Pinion.PinionTorqueNmm, sameNmm)
	assert.Equal(t, good.Pinion.PreloadN, seal.Pinion.PreloadN)
}

// What is wrong at the case.
func TestSideFaults(t *testing.T) {
	good := show(t, "BEECH", asItIs)
	cone := show(t, "BEECH", func(s *explore.Settings) { s.RingGearConeGapMM = 0.1 })
	shim := show(t, "BEECH", func(s *explore.Settings) { s.SideFitMM += 0.1; s.ShimToRingGearMM = 0.05 })
	assert.InEpsilon(t, shim.Sides.SidePreloadN, cone.Sides.SidePreloadN, 1e-9, "a cone off the case is shim on its side")
	assert.InDelta(t, shim.Sides.RingAwayMM, cone.Sides.RingAwayMM, sameMM)

	wide := show(t, "BEECH", func(s *explore.Settings) { s.HousingGrowthMM = 0.1 })
	less := show(t, "BEECH", func(s *explore.Settings) { s.SideFitMM -= 0.1 })
	assert.InEpsilon(t, less.Sides.SidePreloadN, wide.Sides.SidePreloadN, 1e-9, "what the housing has grown is lost from the fit")

	brake := show(t, "BEECH", func(s *explore.Settings) { s.BrakeNmm = 4000 })
	// At the pinion a torque at the ring gear counts divided by the ratio and what the
	// teeth let through: the power that goes in comes out.
	fam := family.Beech()
	assert.InDelta(t, 4000/(fam.Sheet.Ratio()*fam.Model.MeshEfficiency), brake.Sides.SideRiseNmm-good.Sides.SideRiseNmm, sameNmm)
	assert.Equal(t, good.Pinion.PinionTorqueNmm, brake.Pinion.PinionTorqueNmm)

	for _, caps := range []func(*explore.Settings){func(s *explore.Settings) { s.CapsSwapped = true }, func(s *explore.Settings) { s.CapRotated = true }} {
		r := show(t, "BEECH", caps)
		assert.Zero(t, r.Sides.SideSwingNmm, "a cup stands still")
		assert.Greater(t, r.Sides.TotalTorqueNmm, good.Sides.TotalTorqueNmm+200)
	}

	bolts := show(t, "BEECH", func(s *explore.Settings) { s.BoltsTIRMM, s.RunoutTIRMM = 0.04, 0.03 })
	assert.InDelta(t, 0.07, bolts.Gears.RunoutTIRMM, 1e-6, "both are highest at the same place")
	warp := show(t, "BEECH", func(s *explore.Settings) { s.WarpTIRMM = 0.06 })
	assert.InDelta(t, 0.06, warp.Gears.RunoutTIRMM, 1e-6)
	at := warp.Gears.BacklashAtMM
	assert.Equal(t, at[0], at[2])
	assert.Equal(t, at[1], at[3])
	assert.Greater(t, at[0], at[1]+0.02, "a warped gear is tight twice a turn")
}

// An iron housing grows less than the steel in it and the bearings tighten; one of
// aluminium grows more and they slacken, the side bearings too. (Rolling Bearings, Cat.
// E1102m, p. A128 ff: expansion of the metals.)
func TestWarmth(t *testing.T) {
	warm := func(s *explore.Settings) { s.WarmK = 30 }
	alder, warmAlder := show(t, "ALDER", asItIs), show(t, "ALDER", warm)
	assert.Less(t, warmAlder.Pinion.PreloadN, alder.Pinion.PreloadN)
	assert.Less(t, warmAlder.Sides.SidePreloadN, alder.Sides.SidePreloadN)
	for _, code := range []string{"BEECH", "HAZEL"} {
		cold, hot := show(t, code, asItIs), show(t, code, warm)
		assert.Greater(t, hot.Sides.SidePreloadN, cold.Sides.SidePreloadN, code)
		assert.InDelta(t, cold.Pinion.NutDeg, hot.Pinion.NutDeg, 1e-9, "the nut is set cold")
	}
}

// A solid spacer: a drag is a pack, and the nut stands at its torque; the pack decides
// the drag, the nut hardly.
func TestSolidSpacer(t *testing.T) {
	for _, code := range []string{"CEDAR", "ELM", "HAZEL", "IRONBARK"} {
		fam, err := family.FindAny(code)
		require.NoError(t, err)
		byRotating := show(t, code, asItIs)
		assert.InDelta(t, fam.Sheet.NutMid().Nmm(), byRotating.Pinion.NutTorqueNmm, 1, code)
		assert.InDelta(t, fam.Sheet.PinionTorqueNew.Mid(), byRotating.Pinion.PinionBearingTorqueNmm, 1, code)
		byPreloadShim := show(t, code, func(s *explore.Settings) { s.TorqueTargetNmm, s.PreloadShimMM = 0, byRotating.Pinion.PreloadShimMM })
		assert.InEpsilon(t, byRotating.Pinion.PreloadN, byPreloadShim.Pinion.PreloadN, 1e-9)
		byAngle := show(t, code, func(s *explore.Settings) {
			s.TorqueTargetNmm, s.PreloadShimMM, s.NutNmm, s.NutDeg = 0, byRotating.Pinion.PreloadShimMM, 0, byRotating.Pinion.NutDeg
		})
		assert.InEpsilon(t, byRotating.Pinion.PreloadN, byAngle.Pinion.PreloadN, 1e-9)
		thick := show(t, code, func(s *explore.Settings) {
			s.TorqueTargetNmm, s.PreloadShimMM = 0, byRotating.Pinion.PreloadShimMM+0.01
		})
		tighter := show(t, code, func(s *explore.Settings) {
			s.TorqueTargetNmm, s.PreloadShimMM, s.NutNmm = 0, byRotating.Pinion.PreloadShimMM, 1.1*s.NutNmm
		})
		lost, won := byRotating.Pinion.PinionBearingTorqueNmm-thick.Pinion.PinionBearingTorqueNmm, tighter.Pinion.PinionBearingTorqueNmm-byRotating.Pinion.PinionBearingTorqueNmm
		assert.Greater(t, lost, 0.0, "more pack, less preload")
		assert.Greater(t, won, 0.0)
		assert.Less(t, won, 0.2*byRotating.Pinion.PinionBearingTorqueNmm, "a tenth more at the nut is not a tenth more pack")

		rest, err := explore.Show(fam, explore.Settings{})
		require.NoError(t, err)
		assert.InDelta(t, fam.Params().ZeroPlayPreloadShimMM, rest.Pinion.PreloadShimMM, sameMM)
		assert.InDelta(t, 0, rest.Pinion.StemN, 1e-4, "but for a hair of roller seating")
		_, err = explore.Show(fam, explore.Settings{SpacerCrushedMM: 0.5})
		assert.ErrorIs(t, err, explore.ErrSetting)
		says(t, err, "no spacer that crushes")
	}
	_, err := explore.Show(family.Beech(), explore.Settings{PreloadShimMM: 1})
	assert.ErrorIs(t, err, explore.ErrSetting)
	says(t, err, "no preload shims: its spacer is not solid")
}

// The nut turned to a torque is the nut turned to the angle where it first takes it.
func TestNutTorqueIsAnAngle(t *testing.T) {
	byTorque := show(t, "BEECH", func(s *explore.Settings) { s.TorqueTargetNmm, s.NutNmm = 0, 300e3 })
	byAngle := show(t, "BEECH", func(s *explore.Settings) { s.TorqueTargetNmm, s.NutDeg = 0, byTorque.Pinion.NutDeg })
	assert.InDelta(t, 300e3, byTorque.Pinion.NutTorqueNmm, 1)
	assert.InDelta(t, byAngle.Pinion.StemN, byTorque.Pinion.StemN, 0.01)
	_, err := explore.Show(family.Beech(), explore.Settings{NutNmm: -1})
	says(t, err, "the torque of the nut is")
}

// However badly it is read, the axle is what it is, and the readings are off by what the
// bad way does to them.
func TestWaysOfReading(t *testing.T) {
	good := show(t, "BEECH", asItIs)
	read := func(r explore.Reading) explore.Shown {
		t.Helper()
		got := show(t, "BEECH", func(s *explore.Settings) { s.Reading = r })
		assert.Equal(t, good.Gears, got.Gears)
		assert.Equal(t, good.Pinion, got.Pinion)
		assert.Equal(t, good.Sides, got.Sides)
		return got.Shown
	}
	step := func(tool gauge.Tool) float64 { return explore.Class(tool).Step / 2 * 1.0001 }
	dial := step(gauge.DialIndicator)

	// A stem at 30 degrees to the movement sees it over the cosine of 30 degrees.
	assert.InDelta(t, good.Gears.BacklashMeanMM/math.Cos(math.Pi/6), read(explore.Reading{Plunger: "tilted"}).DialBacklashMeanMM, dial)
	assert.Equal(t, good.Shown, read(explore.Reading{DialAt: "heel", Plunger: "square"}))
	toe, middle := read(explore.Reading{DialAt: "toe"}).DialBacklashMeanMM, read(explore.Reading{DialAt: "middle"}).DialBacklashMeanMM
	assert.Less(t, toe, middle)
	assert.Less(t, middle, good.Shown.DialBacklashMeanMM)
	free := read(explore.Reading{PinionFree: true}).DialBacklashMeanMM
	assert.InDelta(t, good.Gears.BacklashMeanMM+1.5*sim.FreePinionMM, free, dial)

	high := read(explore.Reading{WrenchGain: 0.2, StringGain: -0.1})
	assert.InDelta(t, 1.2*good.Sides.TotalTorqueNmm, high.WrenchTotalTorqueNmm, step(gauge.LowRangeWrench))
	assert.InDelta(t, 0.9*good.Pinion.PinionTorqueNmm, high.StringPinionTorqueNmm, step(gauge.StringAndScale))
	assert.Greater(t, read(explore.Reading{BreakawayTorque: true}).WrenchPinionTorqueNmm, good.Shown.WrenchPinionTorqueNmm)

	thick, light := read(explore.Reading{ThickCoat: true}), read(explore.Reading{RolledFree: true})
	assert.Greater(t, thick.EyeDrive.LengthShare, good.Shown.EyeDrive.LengthShare+0.1, "too much compound smears")
	assert.Less(t, light.EyeDrive.LengthShare, good.Shown.EyeDrive.LengthShare-0.05, "without a load little is rubbed")
	b := bench(t)
	patterns, err := b.Patterns(change(func(s *explore.Settings) { s.ThickCoat = true }))
	require.NoError(t, err)
	assert.InDelta(t, thick.EyeDrive.LengthShare, patterns[0].LengthPart, 0.005, "the drawing shows what the eye sees")

	// The spread of many readings, with the arm firm and loose.
	spread := func(loose bool) float64 {
		var sum, square float64
		const times = 100
		for i := range times {
			v := at(t, b, change(func(s *explore.Settings) { s.Seed, s.Repeat, s.ArmLoose = 3, uint64(i), loose })).Shown.DialBacklashMM[0]
			sum, square = sum+v/times, square+v*v/times
		}
		return math.Sqrt(square - sum*sum)
	}
	assert.InDelta(t, sim.LooseArmMM, spread(true), 0.01)
	assert.Less(t, spread(false), 0.01)

	for what, r := range map[string]explore.Reading{
		"indicator cannot be at": {DialAt: "rim"}, "plunger of the indicator cannot be": {Plunger: "bent"}, "give a seed": {ArmLoose: true},
		"wrench reads off": {WrenchGain: 0.7}, "string and spring scale reads off": {StringGain: math.NaN()},
	} {
		_, err := explore.Show(family.Beech(), explore.Settings{Reading: r})
		require.ErrorIs(t, err, explore.ErrSetting)
		says(t, err, what)
	}
}

// The exact contact shows the same axle, within what the fast method is said to be off
// by (package mesh), and everything else is untouched.
func TestExactContact(t *testing.T) {
	s := change(func(s *explore.Settings) { s.PinionOutMM, s.RingAwayMM = 0.05, 0.05 })
	fast := at(t, bench(t), s)
	b := bench(t)
	require.NoError(t, b.Exactly())
	exact := at(t, b, s)
	assert.NotEqual(t, fast.Gears, exact.Gears)
	assert.InDelta(t, fast.Gears.BacklashMeanMM, exact.Gears.BacklashMeanMM, 0.001)
	assert.InDelta(t, fast.Gears.Drive.CenterS, exact.Gears.Drive.CenterS, 0.02)
	assert.InDelta(t, fast.Gears.Coast.CenterT, exact.Gears.Coast.CenterT, 0.02)
	assert.Equal(t, fast.Pinion, exact.Pinion)
	patterns, err := b.Patterns(s)
	require.NoError(t, err)
	assert.Equal(t, exact.Gears.Drive.CenterS, patterns[0].CenterS)
}

func TestWordsOfRanges(t *testing.T) {
	for what, s := range map[string]explore.Settings{
		"252 °F (140 °C) warmer": {WarmK: 140}, "growth of the housing": {HousingGrowthMM: -0.1}, "the brake drag is": {BrakeNmm: 1e6},
		"dirt in the depth shims": {ShimDirtMM: quantity.Inches(1).MM()}, "warp of the ring gear": {WarpTIRMM: 3}, "earlier crush": {SpacerCrushedMM: 4},
	} {
		_, err := explore.Show(family.Beech(), s)
		require.ErrorIs(t, err, explore.ErrSetting)
		says(t, err, what)
	}
}

// By use and not by shape: where the ring gear's concave flank drives, the pattern that is
// called drive is on it. (mesh.Coast is the concave flank; see the package.)
func TestConcaveFlankDrives(t *testing.T) {
	for code, flanks := range map[string][2]mesh.Flank{"CEDAR": {mesh.Coast, mesh.Drive}, "FIR": {mesh.Drive, mesh.Coast}} {
		r := show(t, code, func(s *explore.Settings) { s.OffsetMM = 0.3 })
		fam, err := family.FindAny(code)
		require.NoError(t, err)
		set, err := mesh.NewSet(fam.Model.Gears, fam.Model.EaseOff, fam.Model.EaseOff, fam.Sheet.Backlash.Mid())
		require.NoError(t, err)
		c := set.NewContact()
		require.NoError(t, c.Move(mesh.Position{PinionOutMM: r.Pinion.PinionOutMM, RingAwayMM: r.Sides.RingAwayMM, OffsetMM: 0.3}))
		for i, p := range []mesh.Pattern{r.Gears.Drive, r.Gears.Coast} {
			assert.Equal(t, c.Pattern(flanks[i], r.Settings.FilmMM), p, code)
		}
		assert.NotEqual(t, r.Gears.Drive.CenterS, r.Gears.Coast.CenterS)
	}
}
