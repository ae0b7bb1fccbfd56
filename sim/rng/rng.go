package rng

import (
	"crypto/sha256"
	"encoding/binary"
	"math"

	//lint:ignore SA1019 deprecated upstream; pinned in go.mod and kept behind this package
	"golang.org/x/exp/rand"
)

// A Source is the chance the rest of the program sees.
type Source interface {
	// Uniform returns a number in [lo, hi).
	Uniform(lo, hi float64) float64
	// Normal returns a normally distributed number with the given mean and
	// standard deviation.
	Normal(mean, sd float64) float64
	// Whole returns a whole number in [0, n). It panics for n <= 0.
	Whole(n int) int
}

// formatTag separates these streams from any other use of the same seed, and is
// changed only if the derivation below changes.
const formatTag = "shimwright stream 1"

// Stream returns the stream of a seed that belongs to a label. Equal arguments
// give equal streams; different labels give unrelated ones.
func Stream(seed uint64, label string) Source {
	h := sha256.New()
	h.Write([]byte(formatTag))
	var b [8]byte
	binary.BigEndian.PutUint64(b[:], seed)
	h.Write(b[:])
	h.Write([]byte(label))
	sum := h.Sum(nil)
	pcg := &rand.PCGSource{}
	// UnmarshalBinary fails only for fewer than 16 bytes.
	if err := pcg.UnmarshalBinary(sum[:16]); err != nil {
		panic("rng: " + err.Error())
	}
	return stream{rand.New(pcg)}
}

type stream struct{ r *rand.Rand }

func (s stream) Uniform(lo, hi float64) float64 { return lo + float64(s.r.Float64()*(hi-lo)) }

func (s stream) Whole(n int) int { return s.r.Intn(n) }

func (s stream) Normal(mean, sd float64) float64 {
	// Half a step in from both ends keeps the inverse finite.
	u := (float64(s.r.Uint64()>>11) + 0.5) / (1 << 53)
	return mean + float64(sd*math.Sqrt2*math.Erfinv(2*u-1))
}
