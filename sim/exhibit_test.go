package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/exhibit"
	"shimwright/sim/family"
)

// The demonstration axle is the practice bench's own, seen openly: the hand-made axle
// in the middle of every spread, built on the Stand, and the exhibit set to the same
// place, drag and side fit have the same true state.
func TestExhibitAgreesWithStand(t *testing.T) {
	s := bench(t, handMade(), 5)
	do(t, s, "fit depth-shim 0.030in", "fit pinion final", "turn pinion 20", "turn nut to 240 lb-ft", "turn pinion 20")
	for range 100 {
		do(t, s, "turn nut 2 deg")
		if finish(s).PinionDragNmm > 3000 {
			break
		}
	}
	do(t, s, "turn pinion 20", "fit side-shims back 0.074in tooth 0.074in", "fit case", "torque caps")
	f := finish(s)
	fam := family.Beech()
	set := exhibit.Finished(fam, false)
	set.DragTargetNmm = f.PinionDragNmm - (fam.Model.SealNmm.Low+fam.Model.SealNmm.High)/2
	set.SideFitMM = f.SideFitMM
	b, err := exhibit.NewBench(fam)
	require.NoError(t, err)
	r, err := b.At(set)
	require.NoError(t, err)
	set.PinionOutMM = f.DepthErrorMM - r.Pinion.HeadGiveMM
	r, err = b.At(set)
	require.NoError(t, err)

	assert.InEpsilon(t, f.PinionPreloadN, r.Pinion.PreloadN, 1e-9)
	assert.InEpsilon(t, f.SpacerN, r.Pinion.SpacerN, 0.01, "the Stand's rollers seat a little more after the last pull")
	assert.InEpsilon(t, f.ClampN, r.Pinion.StemN, 0.01)
	assert.InDelta(t, f.DepthErrorMM, r.Pinion.PinionOutMM, 1e-9)
	assert.InEpsilon(t, f.SidePreloadN, r.Sides.SidePreloadN, 1e-9)
	// The two side shims of the Stand are a few micrometres off their marks and the
	// case goes back to its place as closely; 0.7 of that is backlash.
	const shimsMM = 0.012
	assert.InDelta(t, f.BacklashMeanMM, r.Gears.BacklashMeanMM, shimsMM)
	assert.InDelta(t, f.TotalDragNmm, r.Sides.TotalDragNmm, 1)
}
