package reveal_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

func work(t *testing.T, seed uint64, h technician.Habits) (scenarios.Job, *sim.Recorder, grading.Report) {
	t.Helper()
	j, err := scenariostest.Generate(family.Beech(), seed)
	require.NoError(t, err)
	s, err := j.Stand()
	require.NoError(t, err)
	b := &sim.Recorder{Stand: s}
	require.NoError(t, technician.Work(b, j.Card.Known, h))
	rep, err := grading.Grade(j.Card, b.Steps, quantity.Inch)
	require.NoError(t, err)
	return j, b, rep
}

// While a job is open nothing of its axle is told, at whatever act it stands.
func TestOpenJobStaysHidden(t *testing.T) {
	j, b, _ := work(t, 6, technician.Competent())
	for _, n := range []int{0, 1, len(b.Steps) / 2, len(b.Steps) - 1} {
		rep, err := grading.Grade(j.Card, b.Steps[:n], quantity.Inch)
		require.NoError(t, err)
		r, err := reveal.Of(j, b.Stand, rep)
		require.ErrorIs(t, err, reveal.ErrNotSignedOff)
		assert.Equal(t, reveal.Reveal{}, r)
	}
}

// After sign-off each fault the axle came with is named with its size, and said to
// be there still or not.
func TestEachCarriedFaultIsTold(t *testing.T) {
	told := 0
	for seed := uint64(1); seed <= longtest.Pick[uint64](8, 25); seed++ {
		for _, h := range []technician.Habits{technician.Competent(), {NeverMeasures: true}} {
			j, b, rep := work(t, seed, h)
			r, err := reveal.Of(j, b.Stand, rep)
			require.NoError(t, err)
			came, _ := truth.Open(j.Sealed())
			_, finish := truth.Open(b.Sealed())
			require.Len(t, r.Faults, len(came.Faults), "seed %d", seed)
			for i, f := range came.Faults {
				entry, err := fault.Find(f.ID)
				require.NoError(t, err)
				got := r.Faults[i]
				assert.Equal(t, entry.Name, got.Name)
				assert.Equal(t, entry.Told, got.Told)
				assert.InDelta(t, f.Size, got.Size, 0.0005)
				assert.False(t, got.Shows.IsZero())
				assert.False(t, got.Remedy.IsZero())
				assert.False(t, got.Missed.IsZero())
				still := false
				for _, id := range finish.Remaining {
					still = still || id == f.ID
				}
				assert.Equal(t, still, got.Still, "seed %d: %s", seed, f.ID)
				if !h.NeverMeasures {
					assert.False(t, got.Still, "seed %d: a competent hand leaves %s", seed, f.ID)
				}
				told++
			}
			met := true
			for _, l := range r.Lines {
				assert.False(t, l.Name.IsZero())
				met = met && l.Met
			}
			assert.Equal(t, met, r.AllMet)
			assert.True(t, strings.HasSuffix(text.NewPrinter(quantity.Metric, text.Overlay{}).Print(r.RightShim), " mm."))
		}
	}
	assert.Greater(t, told, 20)
}

// Luck is told apart from judgement and never scored: a report goes in and comes out
// as it was.
func TestLuckIsNotScored(t *testing.T) {
	lucky, unlucky := 0, 0
	signatures := longtest.Pick[uint64](15, 40)
	for seed := uint64(1); seed <= signatures; seed++ {
		j, b, rep := work(t, seed, technician.Habits{NeverMeasures: true})
		score := rep.Score
		r, err := reveal.Of(j, b.Stand, rep)
		require.NoError(t, err)
		assert.Equal(t, score, rep.Score)
		for _, l := range r.Luck {
			if l.Code() == "reveal.lucky" {
				lucky++
				assert.True(t, r.AllMet)
			} else {
				unlucky++
				assert.False(t, r.AllMet)
			}
		}
	}
	t.Logf("of %d blind signatures %d were lucky, %d unlucky", signatures, lucky, unlucky)
	assert.Zero(t, unlucky, "a blind signature is never a sound one")
}
