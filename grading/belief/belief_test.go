package belief_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/grading/belief"
)

// The measurements are a published worked example of a static one-dimensional
// filter (a building's height: prior 60, variance 225; reading variance 25); means
// and variances recomputed independently.
func TestBuildingHeightExample(t *testing.T) {
	g := belief.New([]float64{60}, []float64{15})
	rows := []struct{ reading, mean, variance float64 }{
		{48.54, 49.686000, 22.500000}, {47.11, 48.465789, 11.842105}, {55.01, 50.569286, 8.035714},
		{55.15, 51.683514, 6.081081}, {49.89, 51.332609, 4.891304}, {40.85, 49.617273, 4.090909},
		{46.72, 49.209844, 3.515625}, {50.05, 49.313425, 3.082192}, {51.27, 49.528171, 2.743902}, {49.95, 49.569890, 2.472527},
	}
	for _, r := range rows {
		require.NoError(t, g.Read(belief.Look{0: 1}, 0, r.reading, 5))
		assert.InDelta(t, r.mean, g.Mean(0), 5e-7)
		assert.InDelta(t, r.variance, g.SD(0)*g.SD(0), 5e-7)
	}
}

// Exact rationals, computed independently.
func TestTwoQuantities(t *testing.T) {
	g := belief.New([]float64{0, 0}, []float64{8, 6})
	first := belief.Look{0: 0.15, 1: 1}
	require.NoError(t, g.Read(first, 0, 5, 0.6))
	assert.InDelta(t, 80.0/63, g.Mean(0), 1e-12)
	assert.InDelta(t, 100.0/21, g.Mean(1), 1e-12)
	require.NoError(t, g.Read(belief.Look{0: 1}, 0, -3, 0.7))
	assert.InDelta(t, -2.9662827075131672, g.Mean(0), 1e-12)
	assert.InDelta(t, 5.391032085274233, g.Mean(1), 1e-12)
	assert.InDelta(t, 0.4861306586651728, g.SD(0)*g.SD(0), 1e-12)
	assert.InDelta(t, 0.36715806275852014, g.SD(1)*g.SD(1), 1e-12)

	other := belief.New([]float64{0, 0}, []float64{8, 6})
	require.NoError(t, other.Read(belief.Look{0: 1}, 0, -3, 0.7))
	require.NoError(t, other.Read(first, 0, 5, 0.6))
	assert.InDelta(t, g.Mean(0), other.Mean(0), 1e-12, "order of independent readings does not matter")
	assert.InDelta(t, g.SD(1), other.SD(1), 1e-12)
}

func TestCutBelowIsCutAboveTurnedRound(t *testing.T) {
	above, below := belief.New([]float64{0}, []float64{1}), belief.New([]float64{0}, []float64{1})
	require.NoError(t, above.Above(belief.Look{0: 1}, 0.3, 0.2))
	require.NoError(t, below.Below(belief.Look{0: 1}, -0.3, 0.2))
	assert.InDelta(t, -above.Mean(0), below.Mean(0), 1e-12)
	assert.InDelta(t, above.SD(0), below.SD(0), 1e-12)
	assert.ErrorIs(t, below.Above(belief.Look{0: 1}, 60, 0), belief.ErrImpossible)
}

// Moments of the standard normal distribution are 1, 0, 1, 0, 3, 0, 15, 0, 105.
func TestExpectIntegratesMoments(t *testing.T) {
	for power, want := range []float64{1, 0, 1, 0, 3, 0, 15, 0, 105} {
		got := belief.Expect(0, 1, func(x float64) float64 { return math.Pow(x, float64(power)) })
		assert.InDelta(t, want, got, 1e-8, "x^%d", power)
	}
}

func TestReadingNeverWidensAndNarrowedForetellsIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		g := belief.New([]float64{f("m0", -5, 5), f("m1", -5, 5)}, []float64{f("s0", 0.1, 9), f("s1", 0.1, 9)})
		_ = g.Read(belief.Look{0: 1, 1: f("w", -2, 2)}, 0, f("y", -9, 9), f("sd", 0.1, 5))
		h := belief.Look{0: f("h0", -2, 2), 1: f("h1", -2, 2)}
		sd := f("sd2", 0.1, 5)
		want := belief.Look{1: 1}
		left, shift := g.Narrowed(want, h, sd)
		_, before := g.Of(want)
		if err := g.Read(h, 0, f("y2", -9, 9), sd); err != nil {
			t.Fatal(err)
		}
		_, after := g.Of(want)
		if after > before+1e-9 || math.Abs(after-left) > 1e-6*(1+before) {
			t.Fatalf("before %v, foretold %v, after %v", before, left, after)
		}
		if math.Abs(left*left+shift*shift-before*before) > 1e-6*(1+before*before) {
			t.Fatal("what is left and what is expected to move must add up to what was")
		}
	})
}

func TestSetCutsTies(t *testing.T) {
	g := belief.New([]float64{0, 0}, []float64{1, 1})
	require.NoError(t, g.Read(belief.Look{0: 1, 1: 1}, 0, 2, 0.1))
	g.Set(0, 5, 2)
	before := g.Mean(1)
	require.NoError(t, g.Read(belief.Look{0: 1}, 0, 9, 0.1))
	assert.Equal(t, before, g.Mean(1))
	c := g.Clone()
	c.Move(1, 1, 0)
	assert.Equal(t, before, g.Mean(1))
}
