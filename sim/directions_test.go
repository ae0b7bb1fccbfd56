package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
)

// Which way a reading goes when one thing is changed, against what manuals say.

// printCentre rolls the gears n times and returns the mean centre of both flanks'
// prints: up (root 0, top 1) and along (toe 0, heel 1).
func patternCenter(t *testing.T, s *sim.Stand, n int) (up, along map[string]float64) {
	t.Helper()
	up, along = map[string]float64{}, map[string]float64{}
	for range n {
		do(t, s, "paint teeth thin")
		for _, p := range reading(t, do(t, s, "roll gears braked"), gauge.Pattern).Patterns {
			up[p.Flank] += p.CenterT / float64(n)
			along[p.Flank] += p.CenterS / float64(n)
		}
	}
	require.Len(t, up, 2, "drive and coast")
	return up, along
}

const eightLooks = 8

// looksApart is well beyond the doubt of two means of eight looks.
const looksApart = 0.03

// TM 9-2320-289-34, para 6-5, p 6-22: backlash over its limit asks for a thicker
// shim on the ring gear's side and one thinner by as much on the other.
func TestThickerRingGearShimTakesBacklashAway(t *testing.T) {
	require.Equal(t, 1.0, checkValue(t, "5-back"))
	require.Equal(t, -1.0, checkValue(t, "5-tooth"))
	require.Zero(t, checkValue(t, "5-total"))
	s := built(t, bench(t, handMade(), 1), "0.068in", "0.080in")
	wide := mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm)
	do(t, s, "remove case")
	caseIn(t, s, "0.074in", "0.074in")
	right := mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm)
	do(t, s, "remove case")
	caseIn(t, s, "0.078in", "0.070in")
	narrow := mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm)
	assert.Greater(t, wide, right+thou(3))
	assert.Greater(t, right, narrow+thou(2))
}

// The same page: moving the gear 0.010 in from no backlash gives 0.005 to 0.008 in
// (Table 6-1, p 6-19). Here between two settings that the bench can read.
func TestBacklashPerTravelIsTheManuals(t *testing.T) {
	g, err := sim.NominalGains(family.Beech(), false)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, g.BacklashPerRing, checkValue(t, "3-gain-least"))
	assert.LessOrEqual(t, g.BacklashPerRing, checkValue(t, "3-gain-most"))
	s := built(t, bench(t, handMade(), 1), "0.064in", "0.084in")
	far := mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm)
	do(t, s, "remove case")
	caseIn(t, s, "0.074in", "0.074in")
	near := mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm)
	gain := (far - near) / thou(10)
	assert.GreaterOrEqual(t, gain, checkValue(t, "3-gain-least"))
	assert.LessOrEqual(t, gain, checkValue(t, "3-gain-most"))
}

// What one side gives the other takes (the same page, equal and opposite), and the
// preload does not notice: total drag stays within what the cord can tell.
func TestMovingAShimAcrossKeepsTheDrag(t *testing.T) {
	c, _ := gauge.ClassOf(gauge.StringAndScale)
	s := built(t, bench(t, handMade(), 1), "0.074in", "0.074in")
	do(t, s, "turn pinion 60")
	read := func() float64 { return mean(t, s, plenty, "measure torque rotating string", gauge.TotalTorque, nmm) }
	before := read()
	do(t, s, "remove case")
	caseIn(t, s, "0.068in", "0.080in")
	across := read()
	do(t, s, "remove case")
	caseIn(t, s, "0.070in", "0.082in")
	more := read()
	assert.InDelta(t, before, across, c.StandardUncertainty(before, 1))
	// Common practice, no source: the same on both sides raises the preload.
	assert.Equal(t, 1.0, checkValue(t, "p-both-sides"))
	assert.Greater(t, more, across+150)
	assert.Less(t, more, across+900)
}

// A deeper pinion prints lower on both flanks and one too far out higher
// (TM 10-3930-638-24&P, p 4-246: low on the gear, pull the pinion out; high, push it
// in). A little backlash goes with it.
func TestDeeperPinionPatternsLowerOnBothFlanks(t *testing.T) {
	var drive, coast, lash []float64
	s := bench(t, handMade(), 1)
	for _, shim := range []string{"0.025in", "0.030in", "0.035in"} {
		do(t, s, "fit depth-shim "+shim, "fit pinion final", "tighten nut 155deg", "turn pinion 20")
		caseIn(t, s, "0.070in", "0.078in")
		up, _ := patternCenter(t, s, eightLooks)
		drive, coast = append(drive, up["drive"]), append(coast, up["coast"])
		lash = append(lash, mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm))
		do(t, s, "remove case", "remove pinion")
	}
	for i := range 2 {
		assert.Greater(t, drive[i], drive[i+1]+looksApart)
		assert.Greater(t, coast[i], coast[i+1]+looksApart)
		assert.Greater(t, lash[i], lash[i+1])
	}
}

// Less backlash, with the gear nearer, moves the print to the toe on both sides
// (TM 10-3930-638-24&P, p 4-246; TM 5-3810-306-34, p 8-42; TM 10-3930-660-34, p 9-29).
func TestGearNearerPatternsTowardTheToe(t *testing.T) {
	// The coast flank of this set answers weakly, so many prints are taken.
	const looks = 60
	s := built(t, bench(t, handMade(), 1), "0.060in", "0.088in")
	_, far := patternCenter(t, s, looks)
	do(t, s, "remove case")
	caseIn(t, s, "0.078in", "0.070in")
	_, near := patternCenter(t, s, looks)
	doubt := wide * sim.EyeStd(gauge.Method{Coat: act.Thin, Load: act.Braked}) * math.Sqrt(2.0/looks)
	assert.Greater(t, far["drive"], near["drive"]+doubt)
	assert.Greater(t, far["coast"], near["coast"]+doubt)
}

// A pinion too far out prints high and toward the heel on the drive flank, high and
// toward the toe on the coast flank of a hypoid set (TM 9-2320-266-34, para 19-5).
func TestPinionOutMovesTheFlanksApart(t *testing.T) {
	var drive, coast []float64
	s := bench(t, handMade(), 1)
	for _, shim := range []string{"0.024in", "0.036in"} {
		do(t, s, "fit depth-shim "+shim, "fit pinion final", "tighten nut 155deg", "turn pinion 20")
		caseIn(t, s, "0.070in", "0.078in")
		_, along := patternCenter(t, s, eightLooks)
		drive, coast = append(drive, along["drive"]), append(coast, along["coast"])
		do(t, s, "remove case", "remove pinion")
	}
	assert.Greater(t, drive[0], drive[1]+looksApart)
	assert.Less(t, coast[0], coast[1]-looksApart)
}

// More side preload hardly changes backlash when both sides get the same (common
// practice, no source).
func TestBothSidesAlikeKeepTheGear(t *testing.T) {
	require.Zero(t, checkValue(t, "p-both-sides-gear"))
	s := built(t, bench(t, handMade(), 1), "0.072in", "0.072in")
	before := mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm)
	do(t, s, "remove case")
	caseIn(t, s, "0.076in", "0.076in")
	after := mean(t, s, 4, "measure backlash 8", gauge.Backlash, mm)
	assert.InDelta(t, before, after, std(gauge.DialIndicator))
}

// The pinion at its drawing height with the shim that belongs there: the gauge
// reads the sheet's height, the print stands in the sheet's window, the backlash in
// its own.
func TestANominalAxleComesOutRight(t *testing.T) {
	sh := family.Beech().Sheet
	s := built(t, bench(t, handMade(), 1), "0.074in", "0.074in")
	f := finish(s)
	assert.InDelta(t, 0, f.DepthErrorMM, sh.DepthToleranceMM)
	assert.True(t, sh.Backlash.Holds(f.BacklashMeanMM))
	assert.True(t, sh.SidePreload.Holds(f.SideFitMM))
	up, _ := patternCenter(t, s, eightLooks)
	assert.True(t, sh.PatternHeight.Holds((up["drive"]+up["coast"])/2))
	do(t, s, "remove case")
	assert.InDelta(t, sh.CheckingDistanceMM, mm(t, do(t, s, "measure depth"), gauge.Depth), sh.DepthToleranceMM)
}

// The sign of a hidden depth error: an axle that needs a thicker shim than it has
// stands its pinion too far out, and the gauge reads more.
func TestDepthErrorSign(t *testing.T) {
	x := handMade()
	x.IdealShimMM += 0.1
	s := bench(t, x, 1)
	do(t, s, "fit depth-shim 0.030in", "fit pinion mock-up")
	assert.InDelta(t, 0.1, finish(s).DepthErrorMM, 0.02)
	assert.InDelta(t, x.CheckingDistanceMM+0.1, mean(t, s, 8, "measure depth", gauge.Depth, mm), wide*std(gauge.DepthGauge))
	assert.False(t, finish(s).PinionFitted, "a trial build is not the finished pinion")
}
