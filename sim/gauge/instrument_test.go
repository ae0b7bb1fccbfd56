package gauge_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/checkstest"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/uncertaintytest"
)

func tools() []gauge.Tool {
	return []gauge.Tool{gauge.Micrometer, gauge.DepthGauge, gauge.DialIndicator, gauge.Caliper, gauge.Feeler,
		gauge.LowRangeWrench, gauge.StringAndScale, gauge.NutWrench}
}

// typical is a value the tool is used at, in its base unit.
func typical(t gauge.Tool) float64 {
	switch t {
	case gauge.LowRangeWrench, gauge.StringAndScale:
		return quantity.InchPounds(25).Nmm()
	case gauge.NutWrench:
		return quantity.FootPounds(280).Nmm()
	case gauge.DepthGauge:
		return 62.5
	}
	return 0.75
}

func class(t testing.TB, tool gauge.Tool) gauge.Class {
	t.Helper()
	c, ok := gauge.ClassOf(tool)
	require.True(t, ok, tool)
	return c
}

func TestEveryInstrumentHasAClass(t *testing.T) {
	for _, tool := range tools() {
		c := class(t, tool)
		assert.Equal(t, tool, c.Tool)
		assert.Positive(t, c.Step, tool)
		assert.Positive(t, c.Repeat, tool)
		assert.Positive(t, c.Gain+c.Offset, tool)
	}
	for _, not := range []gauge.Tool{gauge.EyeOnCompound, gauge.NoTool, gauge.Tool(99)} {
		_, ok := gauge.ClassOf(not)
		assert.False(t, ok, not)
	}
}

// Limits of torque tools: 6 % up to 10 N·m and 4 % above (ISO 6789 as a tool
// manual restates it); of a micrometer to 25 mm: 4 µm (ISO 3611, from memory).
func TestLimitsAreTheStandards(t *testing.T) {
	assert.Equal(t, 0.06, class(t, gauge.LowRangeWrench).Gain)
	assert.Less(t, typical(gauge.LowRangeWrench), quantity.NewtonMetres(10).Nmm())
	assert.Equal(t, 0.04, class(t, gauge.NutWrench).Gain)
	assert.Greater(t, typical(gauge.NutWrench), quantity.NewtonMetres(10).Nmm())
	assert.Equal(t, 0.004, class(t, gauge.Micrometer).Offset)
}

// many readings of one value on one bench.
func many(k *gauge.Kit, tool gauge.Tool, value, extra float64, n int) (mean, sd float64) {
	var sum, sq float64
	for i := range n {
		v := k.Read(tool, value, "r/"+string(rune('a'+i%26))+string(rune(0x100+i)), extra)
		sum, sq = sum+v, sq+v*v
	}
	mean = sum / float64(n)
	return mean, math.Sqrt(math.Max(0, sq/float64(n)-mean*mean) * float64(n) / float64(n-1))
}

// Readings repeat with the class's noise and the rounding of its step; a base that
// moves adds to it by squares.
func TestRepeatNoise(t *testing.T) {
	const n = 4000
	const close = 0.04 // a standard deviation of n readings is known to about 1 %
	for _, tool := range tools() {
		c, v := class(t, tool), typical(tool)
		own := math.Sqrt(sq(c.Repeat) + sq(c.RepeatPart*v) + sq(c.Step)/12)
		_, sd := many(gauge.NewKit(3, 0, 0), tool, v, 0, n)
		if own > 0.8*c.Step { // else the rounding is not like a spread of its own
			assert.InEpsilon(t, own, sd, close, tool)
		}
		extra := 3 * c.Step
		_, sd = many(gauge.NewKit(3, 0, 0), tool, v, extra, n)
		assert.InEpsilon(t, math.Hypot(own, extra), sd, close, tool)
	}
}

func sq(x float64) float64 { return x * x }

// An instrument's own error is fixed for a job: the mean of any number of readings
// keeps it. Over many jobs it fills the class's limits and does not pass them.
func TestAveragingKeepsTheInstrumentsError(t *testing.T) {
	const n, jobs = 300, 150
	for _, tool := range tools() {
		c, v := class(t, tool), typical(tool)
		limit := c.Gain*v + c.Offset
		noise := 4 * math.Sqrt((sq(c.Repeat)+sq(c.RepeatPart*v)+sq(c.Step))/n)
		most, sum, squares := 0.0, 0.0, 0.0
		for seed := range uint64(jobs) {
			mean, _ := many(gauge.NewKit(seed, 0, 0), tool, v, 0, n)
			e := mean - v
			assert.LessOrEqual(t, math.Abs(e), limit+noise+0.05*c.Step, "%s on job %d", tool, seed)
			most, sum, squares = math.Max(most, math.Abs(e)), sum+e, squares+e*e
		}
		assert.Greater(t, most, 0.85*limit, "%s: some job comes near the limit", tool)
		assert.InDelta(t, 0, sum/jobs, 4*limit/math.Sqrt(3*jobs), "%s: as often high as low", tool)
		if c.Gain == 0 || c.Offset == 0 {
			// Evenly spread within the limit: half width over root three.
			assert.InEpsilon(t, limit/math.Sqrt(3), math.Sqrt(squares/jobs), 0.15, tool)
		}
	}
}

// Two wrenches of one job are two wrenches, and two jobs have two wrenches each.
func TestInstrumentsAreTheirOwn(t *testing.T) {
	seen := map[float64]bool{}
	for seed := range uint64(5) {
		for _, tool := range []gauge.Tool{gauge.LowRangeWrench, gauge.StringAndScale, gauge.NutWrench} {
			g := 1000 / gauge.NewKit(seed, 0, 0).True(tool, 1000)
			assert.False(t, seen[g])
			seen[g] = true
		}
	}
}

// A gain means the same part of any reading, an offset the same amount.
func TestGainAndOffset(t *testing.T) {
	const n = 2000
	k := gauge.NewKit(8, 0, 0)
	for tool, values := range map[gauge.Tool][2]float64{
		gauge.LowRangeWrench: {2000, 6000}, gauge.NutWrench: {200_000, 600_000},
		gauge.DialIndicator: {0.2, 0.6}, gauge.Micrometer: {0.5, 1.5},
	} {
		c := class(t, tool)
		a, _ := many(k, tool, values[0], 0, n)
		b, _ := many(k, tool, values[1], 0, n)
		if c.Gain > 0 {
			assert.InDelta(t, a/values[0], b/values[1], 0.004, tool)
			assert.InDelta(t, values[0], k.True(tool, a), 0.005*values[0], tool)
		} else {
			assert.InDelta(t, a-values[0], b-values[1], 0.1*c.Step, tool)
			assert.InDelta(t, values[0], k.True(tool, a), 0.1*c.Step, tool)
		}
	}
}

// A wrench out of calibration reads off by that part, and nothing else does.
func TestWrenchOutOfCalibration(t *testing.T) {
	const n = 3000
	for _, gain := range []float64{-0.2, 0.25} {
		for _, tool := range []gauge.Tool{gauge.LowRangeWrench, gauge.StringAndScale, gauge.NutWrench} {
			right, _ := many(gauge.NewKit(4, 0, 0), tool, typical(tool), 0, n)
			wrong, _ := many(gauge.NewKit(4, gain, 0), tool, typical(tool), 0, n)
			want := 0.0
			if tool == gauge.LowRangeWrench {
				want = gain
			}
			assert.InDelta(t, want, (wrong-right)/typical(tool), 0.002, tool)
		}
	}
}

// Every figure shown is a whole number of the tool's steps.
func TestReadingsAreWholeSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool := rapid.SampledFrom(tools()).Draw(t, "tool")
		c, _ := gauge.ClassOf(tool)
		v := rapid.Float64Range(0, 3*typical(tool)).Draw(t, "value")
		k := gauge.NewKit(rapid.Uint64().Draw(t, "seed"), rapid.Float64Range(-0.3, 0.3).Draw(t, "gain"), 0)
		r := k.Read(tool, v, rapid.String().Draw(t, "label"), 0)
		steps := r / c.Step
		require.InDelta(t, math.Round(steps), steps, 1e-6)
		require.LessOrEqual(t, math.Abs(r-v), (c.Gain+0.3)*v+c.Offset+c.Step+9*math.Hypot(c.Repeat, c.RepeatPart*v))
		require.InDelta(t, c.Shown(v), v, c.Step/2*(1+1e-6))
		require.InDelta(t, c.Shown(v), c.Shown(c.Shown(v)), 1e-9*c.Step, "a whole step stays")
	})
}

// Half a step goes up, however the last bit falls.
func TestHalfStepsGoUp(t *testing.T) {
	c := class(t, gauge.Micrometer)
	for n := range 200 {
		half := (float64(n) + 0.5) * c.Step
		want := float64(n+1) * c.Step
		for _, v := range []float64{half, math.Nextafter(half, 0), math.Nextafter(half, 1)} {
			assert.InDelta(t, want, c.Shown(v), 1e-9)
		}
	}
}

// The noise of a label is its own: whatever else is read in between, before or
// after, on a kit made again.
func TestALabelsNoiseIsItsOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		tool := rapid.SampledFrom(tools()).Draw(t, "tool")
		label, v := rapid.String().Draw(t, "label"), typical(tool)
		k := gauge.NewKit(seed, 0, 0)
		want := k.Read(tool, v, label, 0)
		for _, other := range rapid.SliceOfN(rapid.String(), 0, 5).Draw(t, "others") {
			k.Read(rapid.SampledFrom(tools()).Draw(t, "other tool"), 1, other, 0)
		}
		require.Equal(t, want, k.Read(tool, v, label, 0))
		require.Equal(t, want, gauge.NewKit(seed, 0, 0).Read(tool, v, label, 0))
	})
	k := gauge.NewKit(1, 0, 0)
	differ := map[float64]bool{}
	for _, label := range []string{"a", "b", "c", "d", "e", "f"} {
		differ[k.Read(gauge.StringAndScale, 3000, label, 0)] = true
	}
	assert.Greater(t, len(differ), 2, "other labels, other noise")
}

// The stated uncertainty is the GUM's combination (JCGM 100:2008): limits and step
// as rectangular distributions (4.3.7, F.2.2.1), noise as the mean of n readings
// (4.2.3), added by squares (5.1.2); worked a second way by package uncertaintytest.
func TestStatedUncertaintyIsTheGUMs(t *testing.T) {
	for _, tool := range tools() {
		c := class(t, tool)
		for _, value := range []float64{0, typical(tool), 2 * typical(tool)} {
			for _, n := range []int{1, 2, 4, 25} {
				gain, err := uncertaintytest.Rectangular("gain", c.Gain)
				require.NoError(t, err)
				offset, err := uncertaintytest.Rectangular("offset", c.Offset)
				require.NoError(t, err)
				step, err := uncertaintytest.Step("step", c.Step)
				require.NoError(t, err)
				repeat, err := uncertaintytest.Normal("repeat", c.Repeat)
				require.NoError(t, err)
				part, err := uncertaintytest.Normal("repeat, part", c.RepeatPart)
				require.NoError(t, err)
				root := 1 / math.Sqrt(float64(n))
				want, err := uncertaintytest.Combine(gain.Times(value), offset, step, repeat.Times(root), part.Times(value*root))
				require.NoError(t, err)
				assert.InEpsilon(t, want.Standard, c.StandardUncertainty(value, n), 1e-12, "%s at %g, %d readings", tool, value, n)
			}
		}
		assert.Equal(t, c.StandardUncertainty(1, 1), c.StandardUncertainty(1, 0), "no reading counts as one")
		assert.Equal(t, c.StandardUncertainty(1, 1), c.StandardUncertainty(1, -3))
		assert.Greater(t, c.StandardUncertainty(1, 1), c.StandardUncertainty(1, 100))
		fixed := math.Hypot(c.Gain, c.Offset) / math.Sqrt(3)
		assert.Greater(t, c.StandardUncertainty(1, 1_000_000), fixed, "averaging does not remove the instrument")
	}
}

// What is stated is what happens: of single readings on many jobs, the share within
// twice the stated uncertainty is about 95 %; a coarse step can take two per cent off.
func TestStatedUncertaintyHolds(t *testing.T) {
	const jobs = 1500
	for _, tool := range tools() {
		c, v := class(t, tool), typical(tool)
		u := c.StandardUncertainty(v, 1)
		inside, squares := 0, 0.0
		for seed := range uint64(jobs) {
			e := gauge.NewKit(seed, 0, 0).Read(tool, v, "x", 0) - v
			squares += e * e
			if math.Abs(e) <= 2*u {
				inside++
			}
		}
		assert.Greater(t, float64(inside)/jobs, 0.92, tool)
		assert.InEpsilon(t, u, math.Sqrt(squares/jobs), 0.06, tool)
	}
}

// An instrument that the bench does not have shows the value as it is.
func TestUnknownTool(t *testing.T) {
	k := gauge.NewKit(1, 0, 0)
	assert.Equal(t, 12.345, k.Read(gauge.Tool(99), 12.345, "x", 0))
	assert.Equal(t, 12.345, k.True(gauge.Tool(99), 12.345))
}

func TestCode(t *testing.T) {
	r := gauge.Reading{Kind: gauge.Backlash, Lengths: []quantity.Length{quantity.Millimetres(0.1651), quantity.Millimetres(0.000_000_4)}}
	assert.Equal(t, "backlash 165100nm 0nm", r.Code())
	r = gauge.Reading{Kind: gauge.NutTorque, Torques: []quantity.Torque{quantity.NewtonMetres(0.0000015)}, Degrees: 12.5}
	assert.Equal(t, "nut-torque 2uNm 12500mdeg", r.Code())
	r = gauge.Reading{Kind: gauge.CupSeats, Finding: gauge.CupGap}
	assert.Equal(t, "cup-seats cup-gap", r.Code())
	r.Finding = gauge.CupsSeated
	assert.Equal(t, "cup-seats cups-seated", r.Code())
	r = gauge.Reading{Kind: gauge.Pattern, Patterns: []gauge.ToothPattern{{Flank: "drive", CenterS: 0.43, CenterT: 0.5}, {Flank: "coast", CenterS: 0.401, CenterT: 1}}}
	assert.Equal(t, "pattern drive:430/500 coast:401/1000", r.Code())
}

func TestToothPatternAt(t *testing.T) {
	p := gauge.ToothPattern{Cols: 3, Rows: 2, Ink: []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5}}
	assert.Equal(t, 0.2, p.At(2, 0), "root row, heel")
	assert.Equal(t, 0.3, p.At(0, 1), "top row, toe")
	for _, out := range [][2]int{{-1, 0}, {3, 0}, {0, -1}, {0, 2}} {
		assert.Zero(t, p.At(out[0], out[1]), out)
	}
	p.Ink = p.Ink[:4]
	assert.Zero(t, p.At(2, 1), "a print cut short")
}

// Compound is rubbed bright where the teeth meet and untouched beyond its film.
func TestInk(t *testing.T) {
	assert.GreaterOrEqual(t, gauge.Ink(0, 0.009), 1.0)
	assert.InDelta(t, 1, gauge.Ink(0.006, 0.009), 1e-12)
	assert.InDelta(t, 0, gauge.Ink(0.009, 0.009), 1e-12)
	assert.Negative(t, gauge.Ink(0.010, 0.009))
}

// The micrometer repeats as a worked example of three operators has it.
func TestMicrometerBesideAPublishedStudy(t *testing.T) {
	c, ok := gauge.ClassOf(gauge.Micrometer)
	require.True(t, ok)
	checkstest.Given(t).Meets(t, checkstest.Find(t, "trade-practice", "40-micrometer-repeat"), c.Repeat)
}
