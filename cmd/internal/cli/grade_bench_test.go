package cli

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/view"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A keeper is a stand that writes down what is done on it.
type keeper struct {
	*sim.Stand
	rec *attempt.Record
}

func (k *keeper) Do(a act.Act) (history.Step, error) {
	o, err := k.Stand.Do(a)
	if err == nil {
		k.rec.Add(o)
	}
	return o, err
}

// BenchmarkFullDebrief reads an attempt of some twenty decisions, plays it again, grades it
// and writes the long debrief in every form. It is to stay under 200 ms on one core.
func BenchmarkFullDebrief(b *testing.B) {
	job, err := scenariostest.Generate(family.Beech(), 3)
	require.NoError(b, err)
	stand, err := job.Stand()
	require.NoError(b, err)
	k := &keeper{stand, attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech()}, "", 3, quantity.Inch)}
	require.NoError(b, technician.Work(k, job.Card.Known, technician.Habits{WrongMoveOnce: true}))
	data, err := k.rec.Bytes()
	require.NoError(b, err)
	path := filepath.Join(b.TempDir(), "job.jsonl")
	require.NoError(b, os.WriteFile(path, data, 0o600))
	p := view.Pen{Width: 80}
	var decisions int
	for b.Loop() {
		again, err := play(path)
		require.NoError(b, err)
		d, err := again.Debrief(cost.Default(), quantity.Inch, true)
		require.NoError(b, err)
		decisions = len(d.Report.Decisions)
		for _, as := range []writing{asText, asMarkdown, asJSON, asHTML} {
			require.NoError(b, debriefForm(d, view.DebriefWith{Full: true}, as, p)(io.Discard))
		}
	}
	b.ReportMetric(float64(decisions), "decisions")
}
