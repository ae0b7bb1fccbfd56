package misconception_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/misconception"
	"shimwright/scenarios"
	held "shimwright/scenarios/misconception"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
)

// A worked job, and what the reference technician's work on it says.
type worked struct {
	job       scenarios.Job
	gains     sim.Gains
	reference misconception.Evidence
}

func (w worked) by(t *testing.T, policies ...technician.Policy) misconception.Evidence {
	t.Helper()
	s, err := w.job.Stand()
	require.NoError(t, err)
	kept := &sim.Recorder{Stand: s}
	_ = technician.WorkBy(kept, w.job.Card.Known, technician.Competent(), policies...) // it may come to where it can do no more
	return misconception.Of(w.job.Card, w.gains, kept.Steps)
}

// Whoever works by a misconception speaks for it on the whole, and the reference technician on
// the same jobs less: a sign turned in what shows it is found here.
func TestWhoHoldsAMisconceptionSpeaksForIt(t *testing.T) {
	var jobs []worked
	add := func(code string, kind scenarios.Kind, seeds ...uint64) {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		m, err := scenarios.Order{Family: fam, Kind: kind}.Maker()
		require.NoError(t, err)
		for _, seed := range seeds {
			w := worked{}
			w.job, err = m.Generate(seed)
			require.NoError(t, err)
			w.gains, err = sim.NominalGains(fam, w.job.Card.UsedBearings)
			require.NoError(t, err)
			w.reference = w.by(t)
			jobs = append(jobs, w)
		}
	}
	for _, code := range []string{"BEECH", "CEDAR", "DOGWOOD"} {
		add(code, scenarios.WholeJob, longtest.Pick([]uint64{1, 2, 3}, []uint64{1, 2, 3, 4, 5, 6, 7, 8})...)
	}
	add("BEECH", scenarios.WholeJob, 46) // used gears that go back in
	add("BEECH", scenarios.PreviousWork, 1, 2)
	add("CEDAR", scenarios.PatternJob, 1, 2, 3, 4, 5, 6)
	add("DOGWOOD", scenarios.PatternJob, 1, 2, 3, 4, 5, 6) // a cage, and adjusters beside it
	for _, m := range held.All() {
		own, reference, n := 0.0, 0.0, 0
		for _, w := range jobs {
			if m.CanShowOn(w.job.Card) {
				own, reference, n = own+w.by(t, m.Policy).Log(m.ID), reference+w.reference.Log(m.ID), n+1
			}
		}
		t.Logf("%-25s %2d jobs: ln %+.1f, the reference technician's %+.1f", m.ID, n, own, reference)
		assert.Greater(t, own, reference, m.ID)
		assert.Positive(t, own, m.ID)
	}
}
