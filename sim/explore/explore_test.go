package explore_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/carrier/axletest"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// Tolerances: sameMM is rounding; sameNmm allows for the last hair of roller seating,
// which turns of the pinion never quite take away; slopeShare allows for the curve
// between the two ends of a slope and for the inner bearing's give.
const (
	sameMM     = 1e-9
	sameNmm    = 1e-4
	slopeShare = 0.03
)

func bench(t testing.TB) *explore.Bench {
	t.Helper()
	b, err := explore.NewBench(family.Beech())
	require.NoError(t, err)
	return b
}

func at(t testing.TB, b *explore.Bench, s explore.Settings) explore.Result {
	t.Helper()
	r, err := b.At(s)
	require.NoError(t, err)
	return r
}

func finished() explore.Settings { return explore.Finished(family.Beech(), false) }

// change returns the finished axle with something else about it.
func change(f func(*explore.Settings)) explore.Settings {
	s := finished()
	f(&s)
	return s
}

// checkValue reads a row of the table of outside figures.
func checkValue(t testing.TB, id string) float64 {
	t.Helper()
	return axletest.Expected(t, "trade-practice.csv", id)
}

// The gear set alone, at its design position, shows the backlash it was built with
// and prints where its ease-off is centred: what "design position" means.
func TestMeshAtDesignPosition(t *testing.T) {
	m := family.Beech().Model
	g, patterns, err := explore.MeshOnly(m.Gears, m.EaseOff, m.EaseOff, 0.165, mesh.Position{}, sim.ThinFilmMM, 0)
	require.NoError(t, err)
	assert.InDelta(t, 0.165, g.BacklashMeanMM, sameMM)
	for _, v := range g.BacklashAtMM {
		assert.InDelta(t, 0.165, v, sameMM)
	}
	const centerShare = 0.02 // the pattern is not quite even about its ease-off
	for _, p := range []mesh.Pattern{g.Drive, g.Coast} {
		assert.InDelta(t, m.EaseOff.CenterS, p.CenterS, centerShare)
		assert.InDelta(t, m.EaseOff.CenterT, p.CenterT, centerShare)
	}
	require.Len(t, patterns, 2)
	for i, name := range []string{"drive", "coast"} {
		assert.Equal(t, name, patterns[i].Flank)
		inked := 0
		for _, x := range patterns[i].Ink {
			require.True(t, x >= 0 && x <= 1)
			if x > 0 {
				inked++
			}
		}
		const rasterShare = 0.03 // cells are taken by their centers
		assert.InDelta(t, patterns[i].AreaPart, float64(inked)/float64(len(patterns[i].Ink)), rasterShare)
	}
}

// The zero Settings are a finger-tight nut and zero-end-play shims: nothing loaded,
// nothing moved, and the end play the family starts with.
func TestZeroSettings(t *testing.T) {
	fam := family.Beech()
	r, err := explore.Show(fam, explore.Settings{})
	require.NoError(t, err)
	assert.Zero(t, r.Pinion.StemN)
	assert.Zero(t, r.Pinion.PreloadN)
	assert.Zero(t, r.Pinion.PinionBearingTorqueNmm)
	assert.InDelta(t, fam.Params().EndPlayAtContactMM, r.Pinion.EndPlayMM, sameMM)
	assert.Zero(t, r.Sides.SidePreloadN)
	assert.Zero(t, r.Sides.SpreadMM)
	assert.Zero(t, r.Sides.RingAwayMM)
	assert.True(t, r.Gears.Drive.Empty, "no film, no print")
	// Without preload the inner bearing has not given at all.
	assert.InDelta(t, -fam.Model.Inner.DeflectionMM(fam.ReferencePreloadN()), r.Pinion.PinionOutMM, sameMM)
}

// A finished axle is inside every window of its own sheet. The sheet is invented;
// this holds the model and the sheet together.
func TestFinishedAxleMeetsItsSheet(t *testing.T) {
	fam := family.Beech()
	b := bench(t)
	for _, used := range []bool{false, true} {
		r := at(t, b, explore.Finished(fam, used))
		assert.True(t, fam.Sheet.Backlash.Holds(r.Gears.BacklashMeanMM))
		assert.InDelta(t, fam.Sheet.PinionTorque(used).Mid(), r.Pinion.PinionBearingTorqueNmm, sameNmm)
		assert.True(t, fam.Sheet.SideRise(used).Holds(r.Sides.SideRiseNmm), "%g", r.Sides.SideRiseNmm)
		assert.True(t, fam.Sheet.PatternHeight.Holds(r.Gears.Drive.CenterT))
		assert.True(t, fam.Sheet.PatternHeight.Holds(r.Gears.Coast.CenterT))
		assert.True(t, r.Pinion.NutTorqueNmm > fam.Sheet.NutLow.Nmm() && r.Pinion.NutTorqueNmm < fam.Sheet.NutHigh.Nmm())
		assert.InDelta(t, r.Sides.TotalTorqueNmm, r.Pinion.PinionTorqueNmm+r.Sides.SideBearingNmm+r.Sides.MeshDragNmm, sameNmm)
		assert.InDelta(t, r.Pinion.StemN, r.Pinion.SpacerN+r.Pinion.PreloadN, 1e-6, "the stem pulls what the spacer and the bearings carry")
	}
}

// TM 9-2320-289-34, para 6-5, Table 6-1: 0.010 in of ring gear travel from zero
// backlash gives 0.005 to 0.008 in of backlash.
func TestRingTravelAgainstManual(t *testing.T) {
	b := bench(t)
	const travelMM = 0.254
	r0, r1 := at(t, b, finished()), at(t, b, change(func(s *explore.Settings) { s.RingAwayMM = travelMM }))
	gain := (r1.Gears.BacklashMeanMM - r0.Gears.BacklashMeanMM) / travelMM
	assert.GreaterOrEqual(t, gain, checkValue(t, "3-gain-least"))
	assert.LessOrEqual(t, gain, checkValue(t, "3-gain-most"))
}

// The slopes are those the grader works with, for new and used bearings.
func TestSlopesAgreeWithNominalGains(t *testing.T) {
	fam := family.Beech()
	b := bench(t)
	for _, used := range []bool{false, true} {
		g, err := sim.NominalGains(fam, used)
		require.NoError(t, err)
		base := explore.Finished(fam, used)
		slope := func(step float64, set func(*explore.Settings, float64), get func(explore.Result) float64) float64 {
			low, high := base, base
			set(&low, -step)
			set(&high, step)
			return (get(at(t, b, high)) - get(at(t, b, low))) / (2 * step)
		}
		lash := func(r explore.Result) float64 { return r.Gears.BacklashMeanMM }
		ring := slope(0.05, func(s *explore.Settings, v float64) { s.RingAwayMM = v }, lash)
		depth := func(s *explore.Settings, v float64) { s.PinionOutMM = v }
		assert.InEpsilon(t, g.BacklashPerRing, ring, slopeShare)
		assert.InEpsilon(t, g.BacklashPerPinion, slope(0.05, depth, lash), slopeShare)
		assert.InEpsilon(t, g.PatternHeightPerPinion, slope(0.05, depth, func(r explore.Result) float64 {
			return (r.Gears.Drive.CenterT + r.Gears.Coast.CenterT) / 2
		}), slopeShare)
		assert.InEpsilon(t, g.SideRisePerMM, slope(0.05, func(s *explore.Settings, v float64) { s.SideFitMM += v },
			func(r explore.Result) float64 { return r.Sides.SideRiseNmm }), slopeShare)

		r := at(t, b, base)
		assert.InEpsilon(t, g.ReferenceRiseNmm, r.Sides.SideRiseNmm, 1e-6)
		assert.InEpsilon(t, g.NutAtTargetNmm, r.Pinion.NutTorqueNmm, 0.01, "the gains stop at a whole degree")
		nut := base
		nut.TorqueTargetNmm, nut.NutDeg = 0, r.Pinion.NutDeg+1
		assert.InEpsilon(t, g.TorquePerDegreeNmm, at(t, b, nut).Pinion.PinionBearingTorqueNmm-r.Pinion.PinionBearingTorqueNmm, slopeShare)
	}
}

// Turning to a drag and turning by the angle it took are the same thing, with and
// without a cup off its shoulder.
func TestTorqueTargetIsAnAngle(t *testing.T) {
	b := bench(t)
	for _, gaps := range [][2]float64{{0, 0}, {0.1, 0}, {0, 0.08}, {0.1, 0.08}} {
		for _, target := range []float64{600, 1500, 2850, 5000} {
			s := change(func(s *explore.Settings) {
				s.InnerCupGapMM, s.OuterCupGapMM, s.TorqueTargetNmm = gaps[0], gaps[1], target
			})
			byRotating := at(t, b, s)
			assert.InDelta(t, target, byRotating.Pinion.PinionBearingTorqueNmm, 1e-4, "gaps %v", gaps)
			s.TorqueTargetNmm, s.NutDeg = 0, byRotating.Pinion.NutDeg
			byAngle := at(t, b, s)
			assert.InDelta(t, byRotating.Pinion.PreloadN, byAngle.Pinion.PreloadN, 0.01)
			assert.InDelta(t, byRotating.Pinion.NutTorqueNmm, byAngle.Pinion.NutTorqueNmm, 0.1)
		}
	}
	s := change(func(s *explore.Settings) { s.Greased = true })
	assert.InDelta(t, s.TorqueTargetNmm, at(t, b, s).Pinion.PinionBearingTorqueNmm, 1e-4, "grease is part of what the wrench feels")
	assert.Less(t, at(t, b, s).Pinion.PreloadN, at(t, b, finished()).Pinion.PreloadN, "so less of it is preload")
}

// A inner cup that stands off its shoulder holds the pinion in until preload drives
// it home.
func TestCupGapStandsThePinionIn(t *testing.T) {
	b := bench(t)
	light := func(gap float64) explore.Result {
		return at(t, b, change(func(s *explore.Settings) { s.TorqueTargetNmm, s.InnerCupGapMM = 900, gap }))
	}
	home, off := light(0), light(0.1)
	assert.InDelta(t, 0.1, off.Pinion.InnerCupGapMM, sameMM, "the preload is below what holds the cup")
	assert.InDelta(t, -0.1, off.Pinion.PinionOutMM-home.Pinion.PinionOutMM, 1e-6)
	driven := at(t, b, change(func(s *explore.Settings) { s.InnerCupGapMM = 0.1 }))
	assert.Zero(t, driven.Pinion.InnerCupGapMM)
	assert.InDelta(t, at(t, b, finished()).Pinion.PinionOutMM, driven.Pinion.PinionOutMM, 1e-6)
}

// Directions any manual gives: deeper lowers both patterns and the backlash; shim
// moved to the back side takes backlash off at the same side preload; a ring gear
// further away adds backlash.
func TestDirections(t *testing.T) {
	b := bench(t)
	last := at(t, b, change(func(s *explore.Settings) { s.PinionOutMM = -0.25 }))
	for i := 1; i <= 10; i++ {
		r := at(t, b, change(func(s *explore.Settings) { s.PinionOutMM = -0.25 + 0.05*float64(i) }))
		assert.Greater(t, r.Gears.BacklashMeanMM, last.Gears.BacklashMeanMM)
		assert.Greater(t, r.Gears.Drive.CenterT, last.Gears.Drive.CenterT)
		assert.Greater(t, r.Gears.Coast.CenterT, last.Gears.Coast.CenterT)
		last = r
	}
	middle := at(t, b, finished())
	toBack := at(t, b, change(func(s *explore.Settings) { s.ShimToRingGearMM = 0.05 }))
	assert.Less(t, toBack.Gears.BacklashMeanMM, middle.Gears.BacklashMeanMM)
	assert.InDelta(t, middle.Sides.SidePreloadN, toBack.Sides.SidePreloadN, 1e-6, "the total stays, so the preload stays")
	away := at(t, b, change(func(s *explore.Settings) { s.RingAwayMM = -0.05 }))
	assert.InDelta(t, away.Gears.BacklashMeanMM, toBack.Gears.BacklashMeanMM, 1e-6, "shim moved across moves the ring by as much")
}

// What rises must rise: force, spread and drag with interference; stem pull and
// crush with the nut; with the nut's torque dipping only after the spacer's peak.
func TestSweepsRise(t *testing.T) {
	b := bench(t)
	var last explore.Result
	for i := range 21 {
		r := at(t, b, change(func(s *explore.Settings) { s.SideFitMM = -0.1 + 0.025*float64(i) }))
		assert.False(t, r.Sides.SidePreloadN > 0 && r.Sides.CaseEndPlayMM > 0, "never preload and end play at once")
		if i > 0 && r.Settings.SideFitMM > 1e-9 {
			assert.Greater(t, r.Sides.SidePreloadN, last.Sides.SidePreloadN)
			assert.Greater(t, r.Sides.SpreadMM, last.Sides.SpreadMM)
			assert.Greater(t, r.Sides.TotalTorqueNmm, last.Sides.TotalTorqueNmm)
			assert.InDelta(t, 0, r.Sides.ShiftToPinionMM, 1e-6, "equal shims and equal pedestals move nothing")
		}
		last = r
	}
	last = explore.Result{}
	for deg := 0.0; deg <= 260; deg += 4 {
		r := at(t, b, change(func(s *explore.Settings) { s.TorqueTargetNmm, s.NutDeg = 0, deg }))
		assert.GreaterOrEqual(t, r.Pinion.SpacerSetMM, last.Pinion.SpacerSetMM)
		assert.GreaterOrEqual(t, r.Pinion.PinionBearingTorqueNmm, last.Pinion.PinionBearingTorqueNmm)
		assert.False(t, r.Pinion.PreloadN > 0 && r.Pinion.EndPlayMM > 0)
		assert.InDelta(t, deg, r.Pinion.NutDeg, 1e-9)
		last = r
	}
	assert.Greater(t, last.Pinion.PreloadN, 0.0)
}

// Runout swings backlash once a turn, by its gain, about the same mean.
func TestRunout(t *testing.T) {
	fam := family.Beech()
	b := bench(t)
	g, err := sim.NominalGains(fam, false)
	require.NoError(t, err)
	const tirMM = 0.06
	still, r := at(t, b, finished()), at(t, b, change(func(s *explore.Settings) { s.RunoutTIRMM = tirMM }))
	assert.InEpsilon(t, g.BacklashPerRing*tirMM, r.Gears.BacklashAtMM[0]-r.Gears.BacklashAtMM[2], slopeShare)
	assert.Equal(t, still.Gears.BacklashMeanMM, r.Gears.BacklashAtMM[1])
	assert.Equal(t, still.Gears.BacklashMeanMM, r.Gears.BacklashAtMM[3])
	assert.InDelta(t, still.Gears.BacklashMeanMM, r.Gears.BacklashMeanMM, 1e-4)
	assert.LessOrEqual(t, r.Gears.BacklashMinMM, r.Gears.BacklashAtMM[2])
	assert.GreaterOrEqual(t, r.Gears.BacklashMaxMM, r.Gears.BacklashAtMM[0])
	assert.Equal(t, still.Gears.Drive, r.Gears.Drive, "the print is of a tooth where the runout is nought")
}

// Gears pushed through each other bind: no pattern, a dial at nothing, a total that
// has risen.
func TestBinding(t *testing.T) {
	b := bench(t)
	r := at(t, b, change(func(s *explore.Settings) { s.RingAwayMM = -0.3 }))
	assert.True(t, r.Gears.Binds)
	assert.True(t, r.Gears.Drive.Empty && r.Gears.Coast.Empty)
	assert.Equal(t, [explore.Places]float64{}, r.Shown.DialBacklashMM)
	assert.True(t, r.Shown.EyeDrive.None)
	assert.Greater(t, r.Sides.MeshDragNmm, at(t, b, finished()).Sides.MeshDragNmm)
	patterns, err := b.Patterns(r.Settings)
	require.NoError(t, err)
	for _, p := range patterns {
		assert.Zero(t, p.AreaPart)
		for _, ink := range p.Ink {
			require.Zero(t, ink)
		}
	}
}

// Without a seed an instrument shows the truth to its step; with one it is the same
// each time, stays within what its class allows, and another Repeat keeps the fixed
// error.
func TestInstruments(t *testing.T) {
	b := bench(t)
	r := at(t, b, finished())
	step := func(tool gauge.Tool) float64 { return explore.Class(tool).Step }
	assert.InDelta(t, r.Pinion.NutTorqueNmm, r.Shown.NutWrenchNmm, step(gauge.NutWrench)/2)
	assert.InDelta(t, r.Sides.TotalTorqueNmm, r.Shown.WrenchTotalTorqueNmm, step(gauge.LowRangeWrench)/2)
	assert.InDelta(t, r.Gears.BacklashMeanMM, r.Shown.DialBacklashMeanMM, step(gauge.DialIndicator)/2)
	assert.InDelta(t, family.Beech().Sheet.CheckingDistanceMM+r.Pinion.PinionOutMM, r.Shown.DepthGaugeMM, step(gauge.DepthGauge)/2)
	thou := quantity.Millimetres(r.Shown.DialBacklashMM[0]).Thou()
	assert.InDelta(t, math.Round(thou*2)/2, thou, 1e-9, "the dial is read to half a thousandth")

	seeded := change(func(s *explore.Settings) { s.Seed = 9 })
	first := at(t, b, seeded)
	assert.Equal(t, first, at(t, b, seeded))
	assert.Equal(t, first, at(t, bench(t), seeded))
	assert.NotEqual(t, r.Shown, first.Shown)
	assert.Equal(t, r.Gears, first.Gears, "errors never reach the truth")
	assert.Equal(t, r.Pinion, first.Pinion)
	assert.Equal(t, r.Sides, first.Sides)

	const times = 200
	sum, differ := 0.0, false
	for i := range times {
		seeded.Repeat = uint64(i)
		v := at(t, b, seeded).Shown.WrenchTotalTorqueNmm
		sum += v
		differ = differ || v != first.Shown.WrenchTotalTorqueNmm
	}
	assert.True(t, differ, "another time of reading has another repeat error")
	c := explore.Class(gauge.LowRangeWrench)
	fixed := math.Abs(sum/times - r.Sides.TotalTorqueNmm)
	const spread = 4 // standard deviations of the mean; the draws are fixed by the seed
	repeat := math.Hypot(c.Repeat, c.RepeatPart*r.Sides.TotalTorqueNmm) / math.Sqrt(times)
	assert.LessOrEqual(t, fixed, c.Gain*r.Sides.TotalTorqueNmm+spread*repeat)
}

func TestOutOfRangeIsSaidInWords(t *testing.T) {
	b := bench(t)
	for name, c := range map[string]struct {
		set  func(*explore.Settings)
		want string
	}{
		"pinion miles off":  {func(s *explore.Settings) { s.PinionOutMM = 9 }, "the pinion's distance out of position"},
		"teeth apart":       {func(s *explore.Settings) { s.PinionOutMM = 4.9 }, "lose contact"},
		"nut loose":         {func(s *explore.Settings) { s.TorqueTargetNmm, s.NutDeg = 0, -1 }, "finger tight"},
		"not a number":      {func(s *explore.Settings) { s.RingAwayMM = math.NaN() }, "ring gear's distance away"},
		"film":              {func(s *explore.Settings) { s.FilmMM = -1 }, "film of marking compound"},
		"shaft":             {func(s *explore.Settings) { s.ShaftAngleRad = 0.1 }, "shaft angle"},
		"torque":            {func(s *explore.Settings) { s.TorqueTargetNmm = 1e6 }, "pinion rotating torque"},
		"grease takes all":  {func(s *explore.Settings) { s.Greased, s.TorqueTargetNmm = true, 500 }, "grease"},
		"runout":            {func(s *explore.Settings) { s.RunoutTIRMM = 3 }, "runout"},
		"side preload":      {func(s *explore.Settings) { s.SideFitMM = 4.5 }, "side bearing preload"},
		"gap under the cup": {func(s *explore.Settings) { s.InnerCupGapMM = -0.1 }, "gap under the inner cup"},
	} {
		_, err := b.At(change(c.set))
		require.ErrorIs(t, err, explore.ErrSetting, name)
		says(t, err, c.want, name)
		_, err = b.Patterns(change(c.set))
		assert.ErrorIs(t, err, explore.ErrSetting, name)
	}
	_, _, err := explore.MeshOnly(mesh.SetData{}, mesh.EaseOff{}, mesh.EaseOff{}, 0.1, mesh.Position{}, 0.009, 0)
	assert.Error(t, err)
	m := family.Beech().Model
	_, _, err = explore.MeshOnly(m.Gears, m.EaseOff, m.EaseOff, 0.1, mesh.Position{}, -1, 0)
	assert.ErrorIs(t, err, explore.ErrSetting)
	_, _, err = explore.MeshOnly(m.Gears, m.EaseOff, m.EaseOff, 0.1, mesh.Position{RingAwayMM: 100}, 0.009, 0)
	assert.ErrorIs(t, err, explore.ErrSetting)
	// A refused setting leaves the bench as it was.
	assert.Equal(t, at(t, bench(t), finished()), at(t, b, finished()))
}

func TestFamilyThatCannotBeBuilt(t *testing.T) {
	f := family.Beech()
	f.Model.Gears.FaceWidthMM = 0
	_, err := explore.Show(f, explore.Settings{})
	says(t, err, "BEECH")
	f = family.Beech()
	f.Model.Inner.Rollers = 0
	_, err = explore.NewBench(f)
	says(t, err, "inner pinion bearing")
}

func BenchmarkAt(b *testing.B) {
	x := bench(b)
	s := finished()
	for b.Loop() {
		if _, err := x.At(s); err != nil {
			b.Fatal(err)
		}
	}
}

// A nut that went too far and is brought back until the torque reads right leaves the same
// preload and far less clamp: a crushed spacer does not spring back.
func TestBackingOffLosesTheClamp(t *testing.T) {
	b := bench(t)
	right := at(t, b, explore.Finished(family.Beech(), false)).Pinion
	const overDeg = 12
	over := explore.Settings{NutDeg: right.NutDeg + overDeg}
	last := at(t, b, over).Pinion
	back := over
	for back.NutBackDeg < 2*overDeg {
		back.NutBackDeg += 0.25
		p := at(t, b, back).Pinion
		assert.Less(t, p.PreloadN, last.PreloadN)
		assert.InDelta(t, p.StemN, p.SpacerN+p.PreloadN, 1e-6)
		if last = p; p.PreloadN <= right.PreloadN {
			break
		}
	}
	assert.InEpsilon(t, right.PinionBearingTorqueNmm, last.PinionBearingTorqueNmm, 0.05, "the torque reads right again")
	assert.Less(t, last.SpacerN, 0.8*right.SpacerN, "and the spacer has let go")
	assert.Greater(t, last.SpacerSetMM, right.SpacerSetMM)
	_, err := b.At(explore.Settings{NutDeg: 100, NutBackDeg: -1})
	assert.ErrorIs(t, err, explore.ErrSetting)
}

// The stiffness of the pair is the slope of its preload over its approach, and breaking it
// loose takes more than keeping it going.
func TestPairFigures(t *testing.T) {
	b := bench(t)
	s := explore.Finished(family.Beech(), false)
	p := at(t, b, s).Pinion
	s.TorqueTargetNmm *= 1.001
	more := at(t, b, s).Pinion
	assert.InEpsilon(t, p.PairStiffnessNPerMM, (more.PreloadN-p.PreloadN)/(more.PairApproachMM-p.PairApproachMM), 1e-3)
	assert.Greater(t, p.BreakawayTorqueNmm, 1.2*p.PinionBearingTorqueNmm)
}

// Both ends of a pattern stand about its center, and a flank's lead swings as an ease-off
// makes it.
func TestEndsAndLeads(t *testing.T) {
	g := at(t, bench(t), explore.Finished(family.Beech(), false)).Gears
	for _, p := range []mesh.Pattern{g.Drive, g.Coast} {
		assert.True(t, p.MinS < p.CenterS && p.CenterS < p.MaxS && p.MinT < p.CenterT && p.CenterT < p.MaxT, "%+v", p)
	}
	for _, l := range g.Leads {
		assert.Positive(t, l.PeakToPeakRad())
		assert.True(t, l.LeastRad <= l.MeanRad && l.MeanRad <= l.MostRad)
	}
}
