package belief_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/belief"
	"shimwright/sim/checkstest"
)

// A test that finds so many of those that have it, and as many of those that have not, as
// a reading above zero.
func screened(t *testing.T, chance, found, falsely float64, times int) float64 {
	t.Helper()
	quantile := func(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
	m := belief.Mix(belief.New([]float64{quantile(falsely)}, []float64{0}))
	has := m.May(0, chance, belief.Slab{Mean: quantile(found) - quantile(falsely)})
	for range times {
		require.NoError(t, m.Above(belief.Look{0: 1}, 0, 1))
	}
	return m.Chance(has)
}

// Sources and strengths stand in the table's own columns.
func TestAgainstOutsideFigures(t *testing.T) {
	height := belief.Mix(belief.New([]float64{60}, []float64{15}))
	for _, y := range []float64{48.54, 47.11, 55.01, 55.15, 49.89, 40.85, 46.72, 50.05, 51.27, 49.95} {
		require.NoError(t, height.Read(belief.Look{0: 1}, 0, y, 5))
	}

	two := belief.New([]float64{0, 0}, []float64{8, 6})
	may := belief.Mix(belief.New([]float64{0, 0, 0}, []float64{8, 6, 0}))
	biased := may.May(2, 0.15, belief.Slab{Mean: 4})
	first := belief.Look{0: 0.15, 1: 1}
	require.NoError(t, two.Read(first, 0, 5, 0.6))
	require.NoError(t, may.Read(first.Plus(1, belief.Look{2: 1}), 0, 5, 0.6))
	require.NoError(t, two.Read(belief.Look{0: 1}, 0, -3, 0.7))

	cut := func(low, high float64) *belief.Gaussian {
		g := belief.New([]float64{0}, []float64{1})
		require.NoError(t, g.Between(belief.Look{0: 1}, low, high, 0))
		return g
	}
	above, between := cut(0, math.Inf(1)), cut(-1, 1)
	inside := belief.Below([]belief.Chance{{Weight: 1, SD: 1}}, 1) - belief.Below([]belief.Chance{{Weight: 1, SD: 1}}, -1)

	ledger := checkstest.Given(t)
	for id, figure := range map[string]float64{
		"belief-00": may.Chance(biased),
		"belief-01": screened(t, 0.01, 0.8, 0.096, 1),
		"belief-02": screened(t, 0.5, 0.85, 0.15, 1), "belief-03": screened(t, 0.5, 0.85, 0.15, 2), "belief-04": screened(t, 0.5, 0.85, 0.15, 3),
		"belief-05": height.Mean(0), "belief-06": sq(height.SD(0)),
		"belief-07": two.Mean(0), "belief-08": two.Mean(1), "belief-09": sq(two.SD(0)), "belief-10": sq(two.SD(1)),
		"belief-11": above.Mean(0), "belief-12": sq(above.SD(0)), "belief-13": sq(between.SD(0)), "belief-14": inside,
	} {
		ledger.Meets(t, checkstest.Find(t, "statistics", id), figure)
	}
}

func sq(x float64) float64 { return x * x }

// A mixture told as one Gaussian has the mean and variance of its parts: for a size of
// mean 3 and sd 1 that is there one time in four, 0.75 and 0.25 x 10 - 0.75^2, beside the
// 4 that was there before. (By hand.)
func TestWholeHasTheMeanAndVarianceOfItsParts(t *testing.T) {
	m := belief.Mix(belief.New([]float64{1}, []float64{2}))
	s := m.May(0, 0.25, belief.Slab{Mean: 3, SD: 1})
	for _, step := range []string{"apart", "split"} {
		assert.InDelta(t, 1.75, m.Mean(0), 1e-12, step)
		assert.InDelta(t, 4+2.5-0.5625, sq(m.SD(0)), 1e-12, step)
		assert.InDelta(t, 0.25, m.Chance(s), 1e-12, step)
		assert.InDelta(t, 0.25*0.5+0.75*belief.Cumulative(1.5), belief.Below(m.Chances(belief.Look{0: 1}, 0), 4), 1e-12, step)
	}
	m.Forget(s)
	assert.InDelta(t, 1.75, m.Mean(0), 1e-12)
	assert.InDelta(t, 4+2.5-0.5625, sq(m.SD(0)), 1e-12)
	assert.Zero(t, m.Chance(s))
}

// It does not matter whether a switch is settled before or after what a reading says.
func TestSettlingBeforeAndAfterAReading(t *testing.T) {
	make := func() (*belief.Mixture, belief.Switch) {
		m := belief.Mix(belief.New([]float64{1, 0}, []float64{2, 0}))
		return m, m.May(1, 0.1, belief.Slab{Mean: 3, SD: 0.5}, belief.Slab{Mean: -3, SD: 0.5})
	}
	look := belief.Look{0: 1, 1: 1}
	for _, there := range []bool{false, true} {
		a, s := make()
		a.Settle(s, there)
		require.NoError(t, a.Read(look, 0, 4, 1))
		b, s := make()
		require.NoError(t, b.Read(look, 0, 4, 1))
		b.Settle(s, there)
		for i := range 2 {
			assert.InDelta(t, a.Mean(i), b.Mean(i), 1e-12)
			assert.InDelta(t, a.SD(i), b.SD(i), 1e-12)
		}
	}
}

// A switch that has been given up can still turn out to be there.
func TestWhatWasGivenUpCanBeSettled(t *testing.T) {
	m := belief.Mix(belief.New([]float64{0}, []float64{0.1}))
	s := m.May(0, 0.01, belief.Slab{Mean: 10, SD: 1})
	require.NoError(t, m.Read(belief.Look{0: 1}, 0, 0, 0.1))
	assert.Zero(t, m.Chance(s))
	m.Settle(s, true)
	assert.InDelta(t, 1, m.Chance(s), 1e-12)
	assert.InDelta(t, 10, m.Mean(0), 0.1)
	m.Settle(s, false)
	assert.Zero(t, m.Chance(s))
	assert.InDelta(t, 0, m.Mean(0), 0.1)
}

// Scatter tells a switch that only makes readings noisy: by Bayes' rule over two normal
// densities of sd 1 and 5 at 4, the odds are 1/5 exp(8 - 8/25). (By hand.)
func TestNoiseIsToldByScatter(t *testing.T) {
	m := belief.Mix(belief.New([]float64{0}, []float64{1}))
	s := m.May(-1, 0.5, belief.Slab{})
	require.NoError(t, m.Read(belief.Look{}, 0, 4, 1, belief.Noise{From: s, SD: math.Sqrt(24)}))
	odds := math.Exp(8-8.0/25) / 5
	assert.InDelta(t, odds/(1+odds), m.Chance(s), 1e-12)
	assert.InDelta(t, 1, m.SD(0), 1e-12, "it says nothing of the quantity")
}

// An even spread in slabs has its mean and variance, and nearly its distribution: three
// slabs are nowhere further from it than a third of what one normal law is, 0.0615
// (computed independently).
func TestEvenSpread(t *testing.T) {
	m := belief.Mix(belief.New([]float64{0}, []float64{0}))
	m.May(0, 1, belief.Even(-1, 3, 3)...)
	assert.InDelta(t, 1, m.Mean(0), 1e-12)
	assert.InDelta(t, 16.0/12, sq(m.SD(0)), 1e-12)
	laws := m.Chances(belief.Look{0: 1}, 0)
	for x := -1.0; x <= 3; x += 0.01 {
		assert.InDelta(t, (x+1)/4, belief.Below(laws, x), 0.0615/3)
	}
}

// Adding one quantity to another is what reading their sum would be.
func TestAdd(t *testing.T) {
	g := belief.New([]float64{1, 2}, []float64{3, 4})
	g.Add(0, belief.Look{1: 2})
	assert.InDelta(t, 5, g.Mean(0), 1e-12)
	assert.InDelta(t, math.Sqrt(9+4*16), g.SD(0), 1e-12)
	_, sd := g.Of(belief.Look{0: 1, 1: -2})
	assert.InDelta(t, 3, sd, 1e-12, "what was there before")
}

// A switch told aside counts by the likelier answer alone.
func TestAside(t *testing.T) {
	m := belief.Mix(belief.New([]float64{1}, []float64{2}))
	s := m.May(0, 0.1, belief.Slab{Mean: 50, SD: 1})
	m.Aside(s)
	assert.InDelta(t, 1, m.Mean(0), 1e-12, "apart")
	require.NoError(t, m.Read(belief.Look{0: 1}, 0, 1, 200))
	assert.InDelta(t, 1, m.Mean(0), 1e-12, "split, and not likely")
	require.NoError(t, m.Read(belief.Look{0: 1}, 0, 51, 2))
	assert.Greater(t, m.Chance(s), 0.5)
	assert.InDelta(t, 51, m.Mean(0), 0.1, "likely")
}

// What a reading shows beyond the quantity is taken off it, in a belief of one part and of many: a
// rule worn short by 3 shows 48 at 45.
func TestWhatAReadingShowsBesideTheQuantityIsTakenOff(t *testing.T) {
	plain, worn := belief.New([]float64{60}, []float64{15}), belief.New([]float64{60}, []float64{15})
	mixed := belief.Mix(belief.New([]float64{60}, []float64{15}))
	require.NoError(t, plain.Read(belief.Look{0: 1}, 0, 45, 5))
	require.NoError(t, worn.Read(belief.Look{0: 1}, 3, 48, 5))
	require.NoError(t, mixed.Read(belief.Look{0: 1}, 3, 48, 5))
	assert.InDelta(t, 46.5, plain.Mean(0), 1e-12, "(60/225 + 45/25)/(1/225 + 1/25)")
	assert.InDelta(t, plain.Mean(0), worn.Mean(0), 1e-12)
	assert.InDelta(t, plain.Mean(0), mixed.Mean(0), 1e-12)
}

// What no part of a belief gives a chance to is refused, and changes nothing.
func TestWhatCannotBeIsRefused(t *testing.T) {
	m := belief.Mix(belief.New([]float64{1}, []float64{2}))
	s := m.May(0, 0.1, belief.Slab{Mean: 5, SD: 1})
	require.NoError(t, m.Read(belief.Look{0: 1}, 0, 1, 1))
	mean, chance := m.Mean(0), m.Chance(s)
	assert.ErrorIs(t, m.Above(belief.Look{0: 1}, 900, 0), belief.ErrImpossible)
	assert.Equal(t, mean, m.Mean(0))
	assert.Equal(t, chance, m.Chance(s))
}
