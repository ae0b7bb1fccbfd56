package rng_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/rng"
)

// The sequence is frozen: a change here means that every recorded job and attempt
// would read differently, so the expectation must never be updated to suit a new
// generator.
func TestSequenceIsFrozen(t *testing.T) {
	s := rng.Stream(1, "frozen")
	var got []int
	for range 8 {
		got = append(got, s.Whole(1_000_000))
	}
	assert.Equal(t, []int{215435, 394852, 485112, 888450, 26506, 271271, 664210, 395497}, got)
	assert.InDelta(t, 0.0009621672417539084, s.Uniform(-1, 1), 1e-15)
	assert.InDelta(t, -1.4175280863667572, s.Normal(0, 1), 1e-12)
}

func TestStreamsAreIndependentOfEachOther(t *testing.T) {
	a1 := rng.Stream(7, "a").Whole(1 << 30)
	rng.Stream(7, "b").Whole(1 << 30)
	assert.Equal(t, a1, rng.Stream(7, "a").Whole(1<<30), "a stream depends on its seed and label only")
	assert.NotEqual(t, a1, rng.Stream(7, "b").Whole(1<<30))
	assert.NotEqual(t, a1, rng.Stream(8, "a").Whole(1<<30))
}

// Moments of the standard normal and uniform distributions are definitions; the
// tolerances are five standard errors of 40,000 draws.
func TestMoments(t *testing.T) {
	s := rng.Stream(3, "moments")
	const n = 40_000
	var sum, sq, uni float64
	inside := 0
	for range n {
		x := s.Normal(2, 3)
		sum += x
		sq += (x - 2) * (x - 2)
		if math.Abs(x-2) < 3 {
			inside++
		}
		uni += s.Uniform(4, 6)
	}
	assert.InDelta(t, 2, sum/n, 5*3/math.Sqrt(n))
	assert.InDelta(t, 9, sq/n, 5*9*math.Sqrt(2.0/n))
	assert.InDelta(t, 0.6826894921, float64(inside)/n, 5*math.Sqrt(0.6827*0.3173/n))
	assert.InDelta(t, 5, uni/n, 5*2/math.Sqrt(12*n))
}
