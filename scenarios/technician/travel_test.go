package technician_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
)

// A technician who counts all of the ring gear's travel as backlash moves it less far.
func TestPerTravelShortensTheMove(t *testing.T) {
	differ := 0
	for seed := uint64(1); seed <= 12; seed++ {
		j, err := scenariostest.Sketch(family.Beech(), seed)
		require.NoError(t, err)
		var first [2]float64
		for i, per := range []float64{0.7, 1.4} {
			s, err := j.Stand()
			require.NoError(t, err)
			kept, known := &sim.Recorder{Stand: s}, j.Card.Known
			known.BacklashPerTravel = per
			require.NoError(t, technician.Work(kept, known, technician.Competent()))
			first[i] = firstMove(kept.Steps)
		}
		assert.LessOrEqual(t, first[1], first[0]+1e-9, "seed %d", seed)
		if first[1] < first[0]-1e-9 {
			differ++
		}
	}
	assert.Positive(t, differ)
}

// firstMove is how far the back shim changes after the first backlash reading, mm.
func firstMove(outs []history.Step) float64 {
	back, read := 0.0, false
	for _, o := range outs {
		switch o.Act.Form {
		case act.MeasureBacklash:
			read = true
		case act.FitSideShims:
			l, _ := o.Act.Amounts[0].Length()
			if read {
				return abs(l.MM() - back)
			}
			back = l.MM()
		}
	}
	return 0
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
