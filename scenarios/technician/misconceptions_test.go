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

// A hand with an idea works on what it takes a reading for; the reading that is kept is the
// bench's own, as a second bench gives it for the same acts.
func TestMisconceptionsDoNotTouchTheReadings(t *testing.T) {
	worked := map[string]bool{}
	for _, code := range []string{"BEECH", "CEDAR", "DOGWOOD"} {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		j, err := scenariostest.Generate(fam, 11)
		require.NoError(t, err)
		for _, idea := range technician.Misconceptions() {
			if idea.Has != nil && !idea.Has(j.Card.Known) {
				continue
			}
			worked[idea.ID] = true
			s, err := j.Stand()
			require.NoError(t, err)
			kept := &sim.Recorder{Stand: s}
			b, k := technician.Mistaken(kept, j.Card.Known, idea)
			_ = technician.Work(b, k, technician.Competent()) // it may come to where it can do no more
			again, err := j.Stand()
			require.NoError(t, err)
			for i, o := range kept.Steps {
				second, err := again.Do(o.Act)
				require.NoError(t, err, "%s, act %d", idea.ID, i+1)
				require.Equal(t, second.Readings, o.Readings, "%s on %s, act %d, %s", idea.ID, fam.Code, i+1, o.Act)
			}
		}
	}
	for _, idea := range technician.Misconceptions() {
		assert.True(t, worked[idea.ID], "%s has no axle to show on", idea.ID)
	}
}

func TestMisconceptionsAndMistakesHaveNamesOfTheirOwn(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range append(technician.Mistakes(), technician.Misconceptions()...) {
		assert.False(t, seen[s.ID], s.ID)
		seen[s.ID] = true
		assert.NotEmpty(t, s.Name)
		assert.NotEmpty(t, s.Lesson)
		found, err := technician.FindMistake(s.ID)
		require.NoError(t, err)
		assert.Equal(t, s.Name, found.Name)
	}
}

// A hand that counts all of the ring gear's travel as backlash moves it less far.
func TestPerTravelShortensTheMove(t *testing.T) {
	differ := 0
	for seed := uint64(1); seed <= 12; seed++ {
		j, err := scenariostest.Sketch(family.Beech(), seed)
		require.NoError(t, err)
		var first [2]float64
		for i, per := range []float64{0, 1.4} {
			s, err := j.Stand()
			require.NoError(t, err)
			kept := &sim.Recorder{Stand: s}
			require.NoError(t, technician.Work(kept, j.Card.Known, technician.Habits{PerTravel: per}))
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
