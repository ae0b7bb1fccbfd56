package setup_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/setup"
	"shimwright/sim/text"
)

var conventions = []setup.MarkConvention{setup.PlusTakesShimAway, setup.PlusThickensCageShim, setup.PlusAddsShim}

// exact allows for the rounding of sums of decimal sizes and for nothing more.
const exact = 1e-9

func shim(t *rapid.T, what string) float64  { return rapid.Float64Range(0.2, 3).Draw(t, what) }
func mark(t *rapid.T, what string) float64  { return rapid.Float64Range(-0.25, 0.25).Draw(t, what) }
func whole(t *rapid.T, what string) float64 { return float64(rapid.IntRange(1, 400).Draw(t, what)) }

func TestDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, o, n := shim(t, "shim"), mark(t, "old"), mark(t, "new")
		for _, c := range conventions {
			assert.Equal(t, s, setup.DepthShimMM(c, s, o, o), "a pinion with the same mark keeps the shim")
			there := setup.DepthShimMM(c, s, o, n)
			assert.InDelta(t, s, setup.DepthShimMM(c, there, n, o), exact, "going back to the old pinion brings the old shim back")
			assert.InDelta(t, setup.GaugeShimMM(c, s, n)-setup.GaugeShimMM(c, s, o), there-s, exact,
				"two marks are the difference of two gauge sums")
		}
		inside := setup.DepthShimMM(setup.PlusTakesShimAway, s, o, n) - s
		cage := setup.DepthShimMM(setup.PlusThickensCageShim, s, o, n) - s
		assert.InDelta(t, -inside, cage, exact, "the cage mirrors the head")
		// A sign turned round misses by twice the difference of the marks.
		q := setup.DepthShimMM(setup.PlusAddsShim, s, o, n)
		assert.InDelta(t, -2*(o-n), q-(s+inside), exact)
	})
}

// A thicker head shim brings the pinion in by its own thickness, a cage shim takes it
// out; so the shim from a height must put the pinion at the wanted height.
func TestDepthFromHeightEndsAtTheWantedDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mockUp := shim(t, "mock-up")
		measured, wanted := 62.58+mark(t, "measured"), 62.58+mark(t, "wanted")
		for _, c := range conventions {
			added := setup.DepthShimFromHeightMM(c, mockUp, measured, wanted) - mockUp
			after := measured - added
			if c == setup.PlusThickensCageShim {
				after = measured + added
			}
			assert.InDelta(t, wanted, after, exact, c.String())
		}
	})
}

// A P mark that is put into the wanted height has to lead to the same shim as the mark
// in the gauge form.
func TestHeightAndGaugeAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const nominal = 62.58
		mockUp, m := shim(t, "mock-up"), mark(t, "mark")
		for _, c := range []setup.MarkConvention{setup.PlusTakesShimAway, setup.PlusThickensCageShim} {
			byHeight := setup.DepthShimFromHeightMM(c, mockUp, nominal, nominal+m)
			assert.InDelta(t, setup.GaugeShimMM(c, mockUp, m), byHeight, exact, c.String())
		}
	})
}

func TestNoConventionNoShim(t *testing.T) {
	for _, c := range []setup.MarkConvention{0, -1, setup.PlusAddsShim + 1} {
		assert.False(t, c.Known())
		assert.Equal(t, "none", c.String())
		assert.Equal(t, "marks.none", c.Explain().Code())
		assert.True(t, math.IsNaN(setup.DepthShimMM(c, 1, 0.1, 0.2)))
		assert.True(t, math.IsNaN(setup.GaugeShimMM(c, 1, 0.1)))
		assert.True(t, math.IsNaN(setup.DepthShimFromHeightMM(c, 1, 50, 51)))
	}
	names := map[string]bool{}
	for _, c := range conventions {
		assert.True(t, c.Known())
		names[c.String()] = true
		names[text.Printer{}.Print(c.Explain())] = true
	}
	assert.Len(t, names, 2*len(conventions), "each convention has its own name and its own words")
}

func TestSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := setup.SideShims{RingGearMM: shim(t, "back"), OppositeMM: shim(t, "tooth")}
		move, each := mark(t, "move"), shim(t, "each")
		moved := s.MoveRingAwayMM(move)
		assert.InDelta(t, s.TotalMM(), moved.TotalMM(), exact, "a move keeps the total")
		assert.InDelta(t, move, moved.OppositeMM-s.OppositeMM, exact)
		again := moved.MoveRingAwayMM(-move)
		assert.InDelta(t, s.RingGearMM, again.RingGearMM, exact, "there and back")
		tight := s.AddPreloadMM(each)
		assert.InDelta(t, s.TotalMM()+2*each, tight.TotalMM(), exact)
		assert.InDelta(t, s.RingGearMM-s.OppositeMM, tight.RingGearMM-tight.OppositeMM, exact, "preload leaves the gear where it is")
	})
}

func TestMoveMakesTheWantedChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want, gain := mark(t, "want"), rapid.Float64Range(0.3, 1.2).Draw(t, "gain")
		away, err := setup.ShimMoveForBacklashMM(want, gain)
		require.NoError(t, err)
		assert.InDelta(t, want, away*gain, exact)
		assert.False(t, want*away < 0, "away opens, toward closes")
	})
}

func TestBacklashPerTravelLimits(t *testing.T) {
	// A very tall ratio makes the gear a flat crown: only the ring's travel counts.
	flat, err := setup.BacklashPerTravel(1e9, 20, 0)
	require.NoError(t, err)
	assert.InDelta(t, 2*math.Sin(20*math.Pi/180), flat.RingNormal, exact)
	assert.InDelta(t, 0, flat.PinionNormal, exact)
	// At 1:1 gear and pinion are alike.
	same, err := setup.BacklashPerTravel(1, 20, 35)
	require.NoError(t, err)
	assert.InDelta(t, same.RingNormal, same.PinionNormal, exact)
}

func TestTotalAndSideAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pinion, side, ratio := whole(t, "pinion"), whole(t, "side"), rapid.Float64Range(1, 12).Draw(t, "ratio")
		total, err := setup.TotalTorqueNmm(pinion, side, ratio)
		require.NoError(t, err)
		back, err := setup.SideTorqueAtCaseNmm(total, pinion, ratio)
		require.NoError(t, err)
		assert.InDelta(t, side, back, 1e-8) // hundreds of N·mm, times the ratio
	})
}

func TestAdapter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, e := whole(t, "wrench"), whole(t, "adapter")
		angle := rapid.Float64Range(0, 90).Draw(t, "angle")
		factor, err := setup.AdapterFactor(l, e, angle)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, factor, 1.0, "an adapter that reaches out adds torque")
		straight, err := setup.AdapterFactor(l, e, 0)
		require.NoError(t, err)
		assert.LessOrEqual(t, factor, straight)
		set, err := setup.WrenchSettingNmm(1000, l, e, angle)
		require.NoError(t, err)
		assert.InDelta(t, 1000, set*factor, 1e-9)
	})
	square, err := setup.AdapterFactor(300, 50, 90)
	require.NoError(t, err)
	assert.Equal(t, 1.0, square)
	back, err := setup.AdapterFactor(300, 50, 180)
	require.NoError(t, err)
	assert.InDelta(t, 250.0/300, back, exact)
}

func TestIndicators(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm, deg := shim(t, "movement"), rapid.Float64Range(0, 80).Draw(t, "angle")
		high, err := setup.PlungerReadingMM(mm, deg)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, high, mm, "a leaning plunger never reads low")
		back, err := setup.LeverIndicatorTrueMM(high, deg)
		require.NoError(t, err)
		assert.InDelta(t, mm, back, exact, "both errors are one cosine")
	})
}

func TestSpread(t *testing.T) {
	s, err := setup.SpreadOf([]float64{0.15, 0.18, 0.16, 0.15})
	require.NoError(t, err)
	assert.InDelta(t, 0.16, s.MeanMM, exact)
	assert.InDelta(t, 0.15, s.MinMM, 0)
	assert.InDelta(t, 0.18, s.MaxMM, 0)
	assert.InDelta(t, 0.03, s.SpreadMM, exact)

	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SliceOfN(rapid.Float64Range(-1, 1), 2, 12).Draw(t, "readings")
		s, err := setup.SpreadOf(r)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, s.MeanMM, s.MinMM)
		assert.LessOrEqual(t, s.MeanMM, s.MaxMM)
		turned := append(append([]float64{}, r[1:]...), r[0])
		other, err := setup.SpreadOf(turned)
		require.NoError(t, err)
		assert.Equal(t, s.SpreadMM, other.SpreadMM, "where round the gear one begins does not matter")
		assert.InDelta(t, s.MeanMM, other.MeanMM, exact)
	})
}

func TestNearestStep(t *testing.T) {
	for _, c := range []struct {
		wanted, lo, hi, step, want float64
		inside                     bool
	}{
		{0.760, 0.51, 1.02, 0.025, 0.760, true},
		{0.7724, 0.51, 1.02, 0.025, 0.760, true},
		{0.7725, 0.51, 1.02, 0.025, 0.785, true}, // half-way, to the thicker
		{0.30, 0.51, 1.02, 0.025, 0.51, false},
		{1.02, 0.51, 1.02, 0.025, 1.01, true}, // the row ends below its stated top
		{1.50, 0.51, 1.02, 0.025, 1.01, false},
		{2.54, 1.02, 2.54, 0.050, 2.52, true},
		{1.00, 1.00, 1.00, 0.025, 1.00, true},
	} {
		got, inside := setup.NearestStepMM(c.wanted, c.lo, c.hi, c.step)
		assert.InDelta(t, c.want, got, exact, "%+v", c)
		assert.Equal(t, c.inside, inside, "%+v", c)
	}
	for _, bad := range [][4]float64{
		{1, 0, 2, 0}, {1, 0, 2, -0.1}, {1, 2, 0, 0.1}, {math.NaN(), 0, 2, 0.1}, {1, math.Inf(-1), 2, 0.1}, {1, 0, math.NaN(), 0.1},
	} {
		got, inside := setup.NearestStepMM(bad[0], bad[1], bad[2], bad[3])
		assert.True(t, math.IsNaN(got), "%v", bad)
		assert.False(t, inside, "%v", bad)
	}
	rapid.Check(t, func(t *rapid.T) {
		lo := shim(t, "lo")
		step := whole(t, "step") / 1000
		n := rapid.IntRange(0, 60).Draw(t, "sizes")
		hi := lo + float64(n)*step
		wanted := rapid.Float64Range(lo, hi).Draw(t, "wanted")
		got, inside := setup.NearestStepMM(wanted, lo, hi, step)
		assert.True(t, inside)
		assert.LessOrEqual(t, math.Abs(got-wanted), step*(0.5+1e-5))
		again, _ := setup.NearestStepMM(got, lo, hi, step)
		assert.InDelta(t, got, again, exact, "a size in stock is its own nearest")
	})
}

// What is wrong is said in the words of the person who entered it.
func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	one := func(_ any, err error) error { return err }
	for _, c := range []struct {
		says string
		err  error
	}{
		{"the backlash per travel of the ring gear is 0: it must be more than zero", one(setup.ShimMoveForBacklashMM(0.1, 0))},
		{"the backlash per travel of the ring gear is -0.7: it must be more than zero", one(setup.ShimMoveForBacklashMM(0.1, -0.7))},
		{"the backlash per travel of the ring gear is not a number: enter it again", one(setup.ShimMoveForBacklashMM(0.1, nan))},
		{"the wanted backlash change is not a number: enter it again", one(setup.ShimMoveForBacklashMM(inf, 0.7))},
		{"the back side shim is -1: it cannot be less than zero", one(setup.CloseBacklashTable(setup.SideShims{RingGearMM: -1, OppositeMM: 1}, 0, 0))},
		{"the tooth side shim is not a number: enter it again", one(setup.CloseBacklashTable(setup.SideShims{RingGearMM: 1, OppositeMM: nan}, 0, 0))},
		{"the distance to draw the ring gear away is -0.1: it cannot be less than zero", one(setup.CloseBacklashTable(setup.SideShims{RingGearMM: 1, OppositeMM: 1}, -0.1, 0))},
		{"the preload allowance on each side is -0.1: it cannot be less than zero", one(setup.CloseBacklashTable(setup.SideShims{RingGearMM: 1, OppositeMM: 1}, 0, -0.1))},
		{"the back side shim would have to lose more than its whole 0.1 mm: check the packs that closed the gears", one(setup.CloseBacklashTable(setup.SideShims{RingGearMM: 0.1, OppositeMM: 1}, 0.3, 0.1))},
		{"the back side shim is -0.2: it cannot be less than zero", setup.SideShims{RingGearMM: 0.25, OppositeMM: 1}.MoveRingAwayMM(0.45).Check()},
		{"the axle ratio is 0: it must be more than zero", one(setup.BacklashPerTravel(0, 20, 30))},
		{"the pressure angle is 90 degrees: it must be less than 90", one(setup.BacklashPerTravel(4, 90, 30))},
		{"the spiral angle is 95 degrees: it must be less than 90", one(setup.BacklashPerTravel(4, 20, 95))},
		{"the axle ratio is -3: it must be more than zero", one(setup.TotalTorqueNmm(1, 1, -3))},
		{"the pinion rotating torque is -1: it cannot be less than zero", one(setup.TotalTorqueNmm(-1, 1, 3))},
		{"the rotating torque of the side bearings is not a number: enter it again", one(setup.TotalTorqueNmm(1, nan, 3))},
		{"the axle ratio is 0: it must be more than zero", one(setup.SideTorqueAtCaseNmm(2, 1, 0))},
		{"the total rotating torque is below that of the pinion alone: measure both again the same way, turning steadily and with the same seal", one(setup.SideTorqueAtCaseNmm(1, 2, 3))},
		{"the pull on the scale is -5: it cannot be less than zero", one(setup.StringTorqueNmm(-5, 50))},
		{"the radius that the string winds on is 0: it must be more than zero", one(setup.StringTorqueNmm(5, 0))},
		{"the two trials do not differ: try a spacer that changes the rotating torque", one(setup.SpacerForTorqueMM(10, 2000, 10, 3000, 2500))},
		{"the thicker spacer gave the higher torque, which a solid spacer cannot do: check which reading belongs to which spacer", one(setup.SpacerForTorqueMM(10, 2000, 10.1, 3000, 2500))},
		{"the line through the two trials leads to a spacer of -0.9 mm: take trials nearer to the wanted torque", one(setup.SpacerForTorqueMM(0.1, 1000, 0.2, 900, 2000))},
		{"the wrench length is 0: it must be more than zero", one(setup.AdapterFactor(0, 50, 0))},
		{"the adapter length is -50: it cannot be less than zero", one(setup.AdapterFactor(300, -50, 0))},
		{"the angle of the adapter is 200 degrees: measure it from 0 (straight on) to 180 (pointing back)", one(setup.AdapterFactor(300, 50, 200))},
		{"the adapter reaches back past the hand: no setting gives the wanted torque; turn the adapter", one(setup.WrenchSettingNmm(1000, 300, 300, 180))},
		{"the wanted torque is 0: it must be more than zero", one(setup.WrenchSettingNmm(0, 300, 50, 0))},
		{"the indicator's angle is 90 degrees: it has to be less than 90, set the indicator square again", one(setup.LeverIndicatorTrueMM(0.1, 90))},
		{"the reading is not a number: enter it again", one(setup.LeverIndicatorTrueMM(nan, 10))},
		{"the indicator's angle is -10: it cannot be less than zero", one(setup.PlungerReadingMM(0.1, -10))},
		{"a variation needs at least two readings: measure at three or four places around the gear", one(setup.SpreadOf([]float64{0.1}))},
		{"reading 2 is not a number: enter it again", one(setup.SpreadOf([]float64{0.1, nan}))},
	} {
		assert.Equal(t, c.says, text.Printer{}.Error(c.err))
	}
}

// The table's own example (TM 9-2320-289-34, table 6-1), worked in inches.
func ExampleCloseBacklashTable() {
	closed := setup.SideShims{RingGearMM: 0.250, OppositeMM: 0.265}
	fit, err := setup.CloseBacklashTable(closed, 0.010, 0.004)
	fmt.Printf("%.3f %.3f %v\n", fit.RingGearMM, fit.OppositeMM, err)
	// Output: 0.244 0.279 <nil>
}
