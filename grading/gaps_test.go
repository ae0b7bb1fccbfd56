package grading_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/inference"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
)

// sameMM is rounding only: the belief is set from the card, the catalogue and the feeler's figure.
const sameMM = 1e-9

// seenGap is a gap by a feeler's figure and by the even spread of such gaps that the
// catalogue gives, each with the weight of its inverse variance.
func seenGap(t *testing.T, id fault.ID, rd gauge.Reading, i int) float64 {
	t.Helper()
	f, err := fault.Find(id)
	require.NoError(t, err)
	read := rd.Lengths[i].MM()
	require.Positive(t, read)
	usual, feeler := 12/((f.Size.High-f.Size.Low)*(f.Size.High-f.Size.Low)), 1/(rd.StdMM*rd.StdMM)
	return (usual*(f.Size.Low+f.Size.High)/2 + feeler*read) / (usual + feeler)
}

// A head cup that stands off acts as so much more depth shim, so the right shim is
// thinner by the gap; driven home, it is the card's again. (Geometry of the cup seat:
// the pinion goes in with its cup.)
func TestSeenCupGapThinsTheRightShim(t *testing.T) {
	j := carrying(t, fault.InnerCupHigh)
	b := open(t, j)
	script(t, b, "inspect shim-seat", "inspect cups")
	gap := seenGap(t, fault.InnerCupHigh, b.outs[1].Readings[0], 0)
	seen, err := inference.Believe(j.Card, b.outs)
	require.NoError(t, err)
	starter := j.Card.Known.StarterShim().MM()
	assert.InDelta(t, starter-gap, seen.Shim.Mean, sameMM)

	script(t, b, "seat cups")
	home, err := inference.Believe(j.Card, b.outs)
	require.NoError(t, err)
	assert.InDelta(t, starter, home.Shim.Mean, sameMM)
	assert.Less(t, home.Shim.SD, seen.Shim.SD+sameMM)
}

// A back cone that stands off acts as so much more back shim: line-to-line comes at a
// total smaller by the gap, and the split moves by half of it. Pressed home, both are
// the card's again.
func TestSeenConeGapTakesFromTheSides(t *testing.T) {
	j := carrying(t, fault.RingGearConeHigh)
	b := open(t, j)
	script(t, b, "inspect cones")
	gap := seenGap(t, fault.RingGearConeHigh, b.outs[0].Readings[0], 0)
	seen, err := inference.Believe(j.Card, b.outs)
	require.NoError(t, err)
	k := j.Card.Known
	line := k.OldRingGearShim.MM() + k.OldOppositeShim.MM() - k.Sheet.SidePreload.Mid()
	split := (k.OldRingGearShim.MM() - k.OldOppositeShim.MM()) / 2
	assert.InDelta(t, line-gap, seen.Line.Mean, sameMM)
	assert.InDelta(t, split-gap/2, seen.Split.Mean, sameMM)

	script(t, b, "seat cones")
	home, err := inference.Believe(j.Card, b.outs)
	require.NoError(t, err)
	assert.InDelta(t, line, home.Line.Mean, sameMM)
	assert.InDelta(t, split, home.Split.Mean, sameMM)
}
