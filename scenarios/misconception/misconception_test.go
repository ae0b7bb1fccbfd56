package misconception_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/misconception"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/text"
)

func TestEveryMisconceptionIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range misconception.All() {
		assert.False(t, seen[m.ID], m.ID)
		seen[m.ID] = true
		for _, said := range []text.Message{m.Believes, m.Makes, m.Right} {
			assert.False(t, said.IsZero(), m.ID)
		}
		assert.NotZero(t, m.About, m.ID)
		_, err := lessons.Find(m.Lesson)
		assert.NoError(t, err, m.ID)
		assert.Equal(t, m.Strength == fault.Manual, !m.Source.IsZero(), "%s: a source and no strength, or the reverse", m.ID)
		assert.True(t, m.Policy.Know != nil || m.Policy.Do != nil || m.Policy.See != nil, "%s: nobody acts on it", m.ID)
		assert.True(t, m.Signs.Chose != nil || m.Signs.Aims != nil || m.Signs.Torque != nil, "%s: nothing shows it", m.ID)
		found, err := misconception.Find(m.ID)
		require.NoError(t, err)
		assert.Equal(t, m.Believes, found.Believes)
	}
	_, err := misconception.Find("none-such")
	assert.ErrorContains(t, err, "misconception.unknown")
}

// A technician who holds a misconception works on what it takes a reading for; the reading that
// is kept is the bench's own, as a second bench gives it for the same acts.
func TestMisconceptionsDoNotTouchTheReadings(t *testing.T) {
	worked := map[string]bool{}
	for _, order := range []struct {
		code string
		kind scenarios.Kind
		seed uint64
	}{{"BEECH", scenarios.WholeJob, 11}, {"CEDAR", scenarios.WholeJob, 11}, {"DOGWOOD", scenarios.WholeJob, 11}, {"BEECH", scenarios.WholeJob, usedGears}, {"BEECH", scenarios.PreviousWork, 11}} {
		fam, err := family.Shipped(order.code)
		require.NoError(t, err)
		j, err := scenarios.Order{Family: fam, Kind: order.kind}.Generate(order.seed)
		require.NoError(t, err)
		for _, m := range misconception.All() {
			if !m.CanShowOn(j.Card) {
				continue
			}
			worked[m.ID] = true
			s, err := j.Stand()
			require.NoError(t, err)
			kept := &sim.Recorder{Stand: s}
			_ = technician.WorkBy(kept, j.Card.Known, technician.Competent(), m.Policy) // it may come to where it can do no more
			again, err := j.Stand()
			require.NoError(t, err)
			for i, o := range kept.Steps {
				second, err := again.Do(o.Act)
				require.NoError(t, err, "%s, act %d", m.ID, i+1)
				require.Equal(t, second.Readings, o.Readings, "%s on %s, act %d, %s", m.ID, fam.Code, i+1, o.Act)
			}
		}
	}
	for _, m := range misconception.All() {
		assert.True(t, worked[m.ID], "%s has no axle to show on", m.ID)
	}
}

// usedGears is a job whose gears go back in, far from where a new set would be.
const usedGears = 46

func TestTheJobWithUsedGearsHasThem(t *testing.T) {
	j, err := scenariostest.Sketch(family.Beech(), usedGears)
	require.NoError(t, err)
	assert.True(t, j.Card.UsedGears)
}
