package scenarios_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
)

// finishes has the competent hand work a job at its own bench, and wants it right.
func finishes(t *testing.T, o scenarios.Order, seed uint64) {
	t.Helper()
	j, err := o.Generate(seed)
	require.NoError(t, err, "%s %s without %s", o.Family.Code, o.Kind, o.Off)
	assert.Equal(t, o.Off, j.Card.Known.Off)
	s, err := j.Stand()
	require.NoError(t, err)
	for _, l := range o.Off {
		a := act.Act{Form: l.Form}
		if l.Word != "" {
			a.Choices = []act.Option{"rotating", l.Word}
		}
		_, err := s.Do(a)
		var no *history.Refusal
		assert.True(t, errors.As(err, &no), "%s: %v", l, err)
	}
	require.NoError(t, technician.Work(s, j.Card.Known, sure()))
	assert.True(t, s.Status().SignedOff)
	if o.Kind != scenarios.DepthJob && o.Kind != scenarios.PreloadJob {
		assert.True(t, verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, s.Sealed())), "%s %s without %s", o.Family.Code, o.Kind, o.Off)
	}
}

// Whatever one thing a bench lacks, jobs of every kind and design stay such that a careful
// hand finishes them there.
func TestABenchThatLacksOneThing(t *testing.T) {
	families := family.Shelf()
	n := 0
	for i, off := range sim.MayBeLeftOff() {
		for k, kind := range scenarios.Kinds() {
			n++
			if !longtest.On() && (i+k)%3 != 0 {
				continue // a third of the pairs, each thing and each kind among them
			}
			o := scenarios.Order{Family: families[n%len(families)], Kind: kind, Off: []sim.LeftOff{off}}
			if kind == scenarios.DepthJob && off.Form == act.MeasureDepth {
				assert.Equal(t, scenarios.OrderError{Wrong: scenarios.NoDepthGauge, Kind: kind}, o.Validate())
				continue
			}
			finishes(t, o, uint64(n))
		}
	}
}

// And where it lacks all it can lack at once.
func TestABareBench(t *testing.T) {
	all := sim.MayBeLeftOff()
	all = all[:len(all)-1] // the cord stays
	for i, fam := range family.Shelf() {
		finishes(t, scenarios.Order{Family: fam, Off: all}, uint64(i))
	}
}

// What a bench lacks makes no other axle of a number where the hand does without it.
func TestLackingChangesNoAxle(t *testing.T) {
	with, err := scenarios.Order{Family: family.Beech()}.Generate(7)
	require.NoError(t, err)
	without, err := scenarios.Order{Family: family.Beech(), Off: []sim.LeftOff{{Form: act.MeasureEndPlay}}}.Generate(7)
	require.NoError(t, err)
	assert.True(t, assert.ObjectsAreEqual(with.Sealed(), without.Sealed()))
}
