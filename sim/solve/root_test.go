package solve_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/solve"
)

// Roots known by definition: sqrt(2), pi, and the Dottie number (the fixed point of
// the cosine, 0.7390851332151607, from memory).
func TestKnownRoots(t *testing.T) {
	for _, c := range []struct {
		name       string
		f          func(float64) float64
		lo, hi, at float64
	}{
		{"square", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2},
		{"sine", math.Sin, 3, 4, math.Pi},
		{"cosine", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607},
		{"at an end", func(x float64) float64 { return x }, 0, 5, 0},
		{"falling", func(x float64) float64 { return 1 - x*x*x }, -3, 7, 1},
	} {
		r, err := solve.Bracketed(c.f, c.lo, c.hi, 1e-12)
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.at, r.X, 1e-11, c.name)
		assert.Less(t, r.Evaluations, 60, c.name)
	}
}

func TestErrors(t *testing.T) {
	_, err := solve.Bracketed(func(x float64) float64 { return x*x + 1 }, -1, 1, 1e-9)
	assert.ErrorIs(t, err, solve.ErrNoBracket)
	_, err = solve.Bracketed(func(float64) float64 { return math.NaN() }, -1, 1, 1e-9)
	assert.ErrorIs(t, err, solve.ErrNoBracket)
	calls := 0
	_, err = solve.Bracketed(func(x float64) float64 {
		if calls++; calls > 2 {
			return math.NaN()
		}
		return x
	}, -1, 2, 1e-9)
	assert.ErrorIs(t, err, solve.ErrNotConverged)
}

func TestRootStaysInItsBracket(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-10, 10).Draw(t, "root")
		bend := rapid.Float64Range(0, 5).Draw(t, "bend")
		lo, hi := at-rapid.Float64Range(0.01, 20).Draw(t, "below"), at+rapid.Float64Range(0.01, 20).Draw(t, "above")
		r, err := solve.Bracketed(func(x float64) float64 { d := x - at; return d + bend*d*d*d }, lo, hi, 1e-10)
		if err != nil || r.X < lo || r.X > hi || math.Abs(r.X-at) > 1e-9 {
			t.Fatalf("root %v in [%v, %v]: %+v, %v", at, lo, hi, r, err)
		}
	})
}
