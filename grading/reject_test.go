package grading_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/exercise"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/truth"
)

// The exercise on a case to reject: the case with a bent flange is rejected on the reading of
// its bare flange, which costs nothing; nothing else brings the axle inside its specification;
// and a sound case rejected unread is a dear mistake.
func TestACaseIsRejectedOnProof(t *testing.T) {
	e, err := exercise.Find("case-to-reject")
	require.NoError(t, err)
	jobs := map[fault.ID]scenarios.Job{}
	for n := e.First; len(jobs) < len(e.Faults.OneOf); n++ {
		o, _ := e.Order(n)
		m, err := o.Maker()
		require.NoError(t, err)
		j, err := m.Sketch(n)
		require.NoError(t, err)
		if x, _ := truth.Open(j.Sealed()); len(x.Faults) == 1 && jobs[x.Faults[0].ID].Card.Seed == 0 {
			jobs[x.Faults[0].ID], err = e.Job(n)
			require.NoError(t, err)
		}
		require.Less(t, n, e.First+60)
	}
	// A new case in the place of the act that finds or cures it.
	without := func(f ...act.Form) func(int, act.Act) []act.Act {
		return func(_ int, a act.Act) []act.Act {
			for _, x := range f {
				if a.Form == x {
					return says("replace case")
				}
			}
			return []act.Act{a}
		}
	}

	bent := jobs[fault.BentFlange]
	rep, b := work(t, bent, technician.Competent(), nil)
	assert.Contains(t, forms(b.outs), act.ReplaceCase)
	assert.Zero(t, lostOn(rep, b.outs, act.ReplaceCase), "proved: it costs nothing")
	assert.True(t, verdict.Met(verdict.Check(bent.Card.Family, bent.Card.UsedBearings, b.Sealed())))
	read := 0.0
	for _, o := range b.outs {
		if o.Act.Form == act.MeasureCaseRunout {
			for _, r := range o.Readings {
				if r.Kind == gauge.CaseRunout {
					read = r.Lengths[0].MM()
				}
			}
		}
	}
	assert.Greater(t, read, bent.Card.Family.Sheet.CaseFlangeRunoutMM, "the reading that is the reason")

	for _, id := range []fault.ID{fault.BoltsUneven, fault.GearWarped} {
		rep, b = work(t, jobs[id], technician.Competent(), nil)
		assert.NotContains(t, forms(b.outs), act.ReplaceCase, "%s: the case is sound", id)
		good := rep.Score
		b = open(t, jobs[id])
		b.instead = without(act.MeasureCaseRunout, act.CleanRingGear)
		_ = technician.Work(b, jobs[id].Card.Known, technician.Competent())
		rep = grade(t, jobs[id], b.outs)
		require.Contains(t, forms(b.outs), act.ReplaceCase)
		assert.Greater(t, lostOn(rep, b.outs, act.ReplaceCase), 20.0, "%s: minutes lost on a sound case", id)
		assert.Less(t, rep.Score, good)
		t.Logf("%s: %.0f minutes lost, score %d and not %d", id, lostOn(rep, b.outs, act.ReplaceCase), rep.Score, good)
	}
}

func forms(outs []history.Step) []act.Form {
	var out []act.Form
	for _, o := range outs {
		out = append(out, o.Act.Form)
	}
	return out
}
