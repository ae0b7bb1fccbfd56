package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/cost"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/history"
)

// A way of going on that is not worked out, because it cannot be the cheaper one, is dearer
// where it is.
func TestWhatIsNotWorkedOutIsDearer(t *testing.T) {
	saved := 0
	for i, fam := range family.Shelf()[:4] {
		job, err := scenariostest.Sketch(fam, uint64(i)+3)
		require.NoError(t, err)
		gains, err := sim.NominalGains(job.Card.Family, job.Card.UsedBearings)
		require.NoError(t, err)
		stand, err := job.Stand()
		require.NoError(t, err)
		rec := &sim.Recorder{Stand: stand}
		require.NoError(t, technician.Work(rec, job.Card.Known, technician.Habits{WrongMoveOnce: true}))
		l := New(cost.Default(), job.Card, gains)
		s := l.Begin()
		for n, o := range rec.Steps {
			l.Take(s, o)
			p, at := l.plan(s), s.place()
			switch {
			case s.SignedOff || at.pinion != history.PinionFinal:
				continue
			case at.caseIn:
				assert.Equal(t, less(p.stay(at), p.caseOut(at)), p.together(at), "%s, act %d", fam.Code, n+1)
			default:
				assert.Equal(t, less(p.goOn(at), p.pinionOut(at)), p.pinionIn(at), "%s, act %d", fam.Code, n+1)
			}
			saved++
		}
	}
	assert.Positive(t, saved)
}
