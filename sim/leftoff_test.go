package sim_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
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
	assert.True(t, seen["measure depth"] && seen["measure drag cord"])
	for _, name := range []string{"", "measure drag", "fit case", "measure backlash", "MEASURE DEPTH"} {
		_, err := sim.ParseLeftOff(name)
		assert.ErrorContains(t, err, "look cups", name)
	}
}

// What is left off is refused, not offered, and nothing else changes.
func TestWhatIsLeftOffIsRefused(t *testing.T) {
	fam := shipped(t, "BEECH")
	s := standOf(t, fam, nominalOf(fam))
	before := s.Possible()
	s.Without([]sim.LeftOff{{Form: act.LookCups}, {Form: act.MeasureDrag, Word: "cord"}})
	after := s.Possible()
	assert.Contains(t, before, act.LookCups)
	assert.NotContains(t, after, act.LookCups)
	assert.Len(t, after, len(before)-1)
	_, err := s.Do(act.Act{Form: act.LookCups})
	var no *sim.Refusal
	require.True(t, errors.As(err, &no))
	assert.ErrorContains(t, err, "nothing to do that with")
	assert.Contains(t, s.NotHere(act.MeasureDrag, "turning", "cord"), "no cord at this bench")
	assert.Empty(t, s.NotHere(act.MeasureDrag, "turning", "wrench"))
	s.Without(nil)
	assert.Equal(t, before, s.Possible())
}
