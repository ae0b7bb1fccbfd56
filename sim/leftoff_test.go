package sim_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
)

// Everything that can be left off has a name that reads back, and nothing else has.
func TestLeftOffNames(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range sim.MayBeLeftOff() {
		again, err := sim.ParseLeftOff(l.String())
		require.NoError(t, err)
		assert.Equal(t, l, again)
		assert.False(t, seen[l.String()], l)
		seen[l.String()] = true
	}
	assert.True(t, seen["measure depth"] && seen["measure torque string"])
	for _, name := range []string{"", "measure torque", "fit case", "measure backlash", "MEASURE DEPTH"} {
		_, err := sim.ParseLeftOff(name)
		assert.ErrorContains(t, err, "bench.cannot-be-left-off", name)
	}
}

// What is left off is refused, not offered, and nothing else changes.
func TestWhatIsLeftOffIsRefused(t *testing.T) {
	fam := shipped(t, "BEECH")
	s := standOf(t, fam, nominalOf(fam))
	before := s.Possible()
	s.Without([]sim.LeftOff{{Form: act.InspectCups}, {Form: act.MeasureTorque, Word: "string"}})
	after := s.Possible()
	assert.Contains(t, before, act.InspectCups)
	assert.NotContains(t, after, act.InspectCups)
	assert.Len(t, after, len(before)-1)
	_, err := s.Do(act.Act{Form: act.InspectCups})
	var no *history.Refusal
	require.True(t, errors.As(err, &no))
	assert.ErrorContains(t, err, "not.left-off")
	assert.Equal(t, "not.word-left-off", s.NotHere(act.MeasureTorque, act.Rotating, act.String).Code())
	assert.True(t, s.NotHere(act.MeasureTorque, act.Rotating, act.Wrench).IsZero())
	s.Without(nil)
	assert.Equal(t, before, s.Possible())
}
