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
	"shimwright/sim/quantity"
)

// The readings of one axle come from one hidden state. Each test here reads the
// same thing in two ways, on several benches with instruments of their own, and
// asks for agreement within what the readings say of themselves.

// wide is how many combined standard uncertainties two single readings may differ
// by. The stated figures cover a bench's fixed errors as well as its noise.
const wide = 3.0

// benches is how many benches each comparison is made on.
const benches = 16

// refitMM is how well a part comes back to its place when it is fitted again (the
// package comment's estimate), and shimMM how far two shims of one size differ.
const refitMM, shimMM = 0.002, 0.003

// agree compares differences, one from each bench, that should be zero.
func agree(t *testing.T, differences []float64, u float64) {
	t.Helper()
	sum := 0.0
	for seed, d := range differences {
		assert.InDelta(t, 0, d, wide*u, "bench %d", seed)
		sum += d
	}
	n := float64(len(differences))
	assert.InDelta(t, 0, sum/n, wide*u/math.Sqrt(n), "mean of all benches")
}

func thou(x float64) float64 { return quantity.Thou(x).MM() }

func std(tool gauge.Tool) float64 {
	c, _ := gauge.ClassOf(tool)
	return c.StandardUncertainty(0, 1)
}

// What the micrometer finds between two depth shims is what the depth gauge finds
// between the two builds: the thicker shim stands the pinion closer to the ring
// gear's axis.
func TestDepthGaugeAgreesWithMicrometer(t *testing.T) {
	var off []float64
	for seed := range uint64(benches) {
		s := bench(t, handMade(), seed)
		thin := mm(t, do(t, s, "fit depth-shim 0.027in", "measure depth-shim"), gauge.DepthShimSize)
		far := mm(t, do(t, s, "fit pinion mock-up", "measure depth"), gauge.Depth)
		thick := mm(t, do(t, s, "remove pinion", "fit depth-shim 0.033in", "measure depth-shim"), gauge.DepthShimSize)
		near := mm(t, do(t, s, "fit pinion mock-up", "measure depth"), gauge.Depth)
		assert.Greater(t, far, near)
		off = append(off, (far-near)-(thick-thin))
	}
	u := math.Sqrt2 * math.Hypot(math.Hypot(std(gauge.DepthGauge), std(gauge.Micrometer)), refitMM)
	agree(t, off, u)
}

// built is a stand with the pinion in its final build, preloaded and turned, and
// the case in on the given side shims with its caps tight.
func built(t testing.TB, s *sim.Stand, ringGearIn, oppositeIn string) *sim.Stand {
	t.Helper()
	do(t, s, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 155deg", "turn pinion 20")
	caseIn(t, s, ringGearIn, oppositeIn)
	return s
}

func caseIn(t testing.TB, s *sim.Stand, ringGearIn, oppositeIn string) {
	t.Helper()
	do(t, s, "fit side-shims ring-gear "+ringGearIn+" opposite "+oppositeIn, "fit case", "torque caps", "mount indicator heel square pinion-held")
	require.True(t, s.Status().CaseIn)
}

// Backlash changes by the ring gear's travel times the family's nominal gain.
func TestBacklashFollowsRingTravel(t *testing.T) {
	g, err := sim.NominalGains(family.Beech(), false)
	require.NoError(t, err)
	const travelThou = 4
	var off []float64
	for seed := range uint64(benches) {
		s := built(t, bench(t, handMade(), seed), "0.074in", "0.074in")
		before := mm(t, do(t, s, "measure backlash 8"), gauge.Backlash)
		do(t, s, "remove case")
		caseIn(t, s, "0.070in", "0.078in")
		after := mm(t, do(t, s, "measure backlash 8"), gauge.Backlash)
		off = append(off, (after-before)-thou(travelThou)*g.BacklashPerRing)
	}
	// Half the difference of the side shims places the case.
	agree(t, off, math.Sqrt2*math.Sqrt(std(gauge.DialIndicator)*std(gauge.DialIndicator)+refitMM*refitMM+shimMM*shimMM/2))
}

// End play and the pack that leaves it always add up to the same line-to-line
// total, and the total is the axle's own.
func TestEndPlayAndPreloadShimsMakeZeroEndPlay(t *testing.T) {
	var first, second []float64
	for seed := range uint64(benches) {
		s := bench(t, handMade(), seed)
		do(t, s, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 100deg")
		total := func(ringGearIn, oppositeIn string) float64 {
			caseIn(t, s, ringGearIn, oppositeIn)
			play := mm(t, do(t, s, "measure end-play"), gauge.CaseEndPlay)
			shims := do(t, s, "remove case", "measure side-shims")
			assert.Positive(t, play)
			return play + 2*mm(t, shims, gauge.SideShimSizes)
		}
		a, b := total("0.064in", "0.066in"), total("0.060in", "0.068in")
		first, second = append(first, a-2*thou(1000*lineSideIn)), append(second, b-a)
	}
	u := math.Hypot(math.Sqrt2*std(gauge.Micrometer), std(gauge.DialIndicator))
	agree(t, first, u)
	agree(t, second, math.Sqrt2*u)
}

// What the case adds to the drag at the pinion is what its side bearings' preload
// and a free mesh take, seen through the ratio.
func TestTotalTorqueIsPinionTorqueAndSideRise(t *testing.T) {
	g, err := sim.NominalGains(family.Beech(), false)
	require.NoError(t, err)
	sh := family.Beech().Sheet
	const each = 12
	c, _ := gauge.ClassOf(gauge.StringAndScale)
	for seed := range uint64(benches) {
		s := bench(t, handMade(), seed)
		do(t, s, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 155deg", "turn pinion 60")
		alone := mean(t, s, each, "measure torque rotating string", gauge.PinionTorque, nmm)
		caseIn(t, s, "0.074in", "0.074in")
		total := mean(t, s, each, "measure torque rotating string", gauge.TotalTorque, nmm)
		want := g.ReferenceRiseNmm + g.SideRisePerMM*(finish(s).SideFitMM-g.ReferenceRiseMM)
		// The cord's own gain is common to both readings and acts on the rise alone.
		noise := c.StandardUncertainty(total, each)
		fixed := c.Gain * total / math.Sqrt(3)
		u := math.Hypot(math.Sqrt2*math.Sqrt(noise*noise-fixed*fixed), c.Gain*want/math.Sqrt(3))
		assert.InDelta(t, want, total-alone, wide*u, "bench %d", seed)
		assert.True(t, sh.SideRiseNew.Holds(want), "the sheet's window holds the rise of its own side preload: %.0f N·mm", want)
	}
	// Common practice, no source: 5 to 15 lb-in above the pinion alone.
	rise := quantity.Torque(g.ReferenceRiseNmm).InchPounds()
	assert.GreaterOrEqual(t, rise, checkValue(t, "p-total-rise-least"))
	assert.LessOrEqual(t, rise, checkValue(t, "p-total-rise-most"))
}

// Wrench and cord on one drag agree within their combined expanded uncertainty
// (k = 2) nearly always, and nearly never when the wrench is out.
func TestWrenchAndStringAgreeUnlessTheWrenchIsOut(t *testing.T) {
	apart := func(gain float64) int {
		n := 0
		for seed := range uint64(3 * benches) {
			x := handMade()
			x.WrenchGain = gain
			s := bench(t, x, seed)
			do(t, s, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 157deg", "turn pinion 60")
			wrench := reading(t, do(t, s, "measure torque rotating wrench"), gauge.PinionTorque)
			stringScale := reading(t, do(t, s, "measure torque rotating string"), gauge.PinionTorque)
			require.Greater(t, stringScale.Torques[0], quantity.InchPounds(15))
			if math.Abs((wrench.Torques[0] - stringScale.Torques[0]).Nmm()) > 2*math.Hypot(wrench.StdNmm, stringScale.StdNmm) {
				n++
			}
		}
		return n
	}
	all := 3 * benches
	assert.LessOrEqual(t, apart(0), all/10, "sound wrench")
	assert.GreaterOrEqual(t, apart(0.22), all*8/10, "reads 22 % high")
	assert.GreaterOrEqual(t, apart(-0.22), all*8/10, "reads 22 % low")
}

// The print climbs with the depth the gauge shows, by the nominal gain.
func TestPatternFollowsDepth(t *testing.T) {
	g, err := sim.NominalGains(family.Beech(), false)
	require.NoError(t, err)
	heights := func(s *sim.Stand) float64 {
		sum := 0.0
		const patterns = 6
		for range patterns {
			do(t, s, "paint teeth thin")
			for _, p := range reading(t, do(t, s, "roll gears braked"), gauge.Pattern).Patterns {
				sum += p.CenterT / (2 * patterns)
			}
		}
		return sum
	}
	s := bench(t, handMade(), 2)
	var height, depth []float64
	for _, shim := range []string{"0.027in", "0.033in"} {
		do(t, s, "fit depth-shim "+shim, "fit pinion final", "tighten nut 155deg", "turn pinion 20")
		depth = append(depth, mm(t, do(t, s, "measure depth"), gauge.Depth))
		caseIn(t, s, "0.074in", "0.074in")
		height = append(height, heights(s))
		do(t, s, "remove case", "remove pinion")
	}
	// Two means of twelve looks, each as sure as an eye on a thin braked print.
	u := sim.EyeStd(gauge.Method{Coat: act.Thin, Load: act.Braked}) / math.Sqrt(12) * math.Sqrt2
	u = math.Hypot(u, g.PatternHeightPerPinion*math.Sqrt2*std(gauge.DepthGauge))
	assert.InDelta(t, g.PatternHeightPerPinion*(depth[0]-depth[1]), height[0]-height[1], wide*u)
	assert.Greater(t, height[0], height[1]+wide*u, "the change is larger than the doubt")
}

// Looking twice does not change what is looked at, and the instrument's noise
// belongs to the reading: a second reading differs, its mean stays.
func TestRepeatedReadingsScatterAboutOneValue(t *testing.T) {
	s := built(t, bench(t, handMade(), 4), "0.074in", "0.074in")
	var seen []float64
	for range 40 {
		seen = append(seen, mm(t, do(t, s, "measure runout"), gauge.Runout))
	}
	lo, hi := seen[0], seen[0]
	for _, v := range seen {
		lo, hi = min(lo, v), max(hi, v)
	}
	c, _ := gauge.ClassOf(gauge.DialIndicator)
	assert.Greater(t, hi, lo, "not every reading is the same")
	assert.Less(t, hi-lo, 6*c.Repeat+2*c.Step)
}

// The stated uncertainty travels with the reading.
func TestReadingsStateTheirInstrument(t *testing.T) {
	s := built(t, bench(t, handMade(), 4), "0.074in", "0.074in")
	for line, tool := range map[string]gauge.Tool{
		"measure backlash 4": gauge.DialIndicator, "measure runout": gauge.DialIndicator, "measure end-play": gauge.DialIndicator,
		"measure torque rotating wrench": gauge.LowRangeWrench, "measure torque rotating string": gauge.StringAndScale, "tighten nut 1deg": gauge.NutWrench,
	} {
		r := do(t, s, line).Readings[0]
		assert.Equal(t, tool, r.Tool, line)
		c, ok := gauge.ClassOf(tool)
		require.True(t, ok)
		if len(r.Torques) > 0 {
			// The figure is worked at the true value, of which the reading is a sample.
			assert.InEpsilon(t, c.StandardUncertainty(r.Torques[0].Nmm(), 1), r.StdNmm, 0.25, line)
		} else {
			assert.Equal(t, c.StandardUncertainty(0, 1), r.StdMM, line)
		}
	}
	do(t, s, "paint teeth thick")
	assert.Equal(t, gauge.Method{Coat: act.Thick, Load: act.Free}, do(t, s, "roll gears free").Readings[0].Method)
	assert.InDelta(t, math.Hypot(0.1, 0.01/math.Sqrt(12)), sim.EyeStd(gauge.Method{Coat: act.Thick, Load: act.Free}), 1e-12, "twice the eye for a thick coat, two and a half times without a brake")
}
