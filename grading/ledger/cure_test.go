package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/cost"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
)

// Who puts right at once what an inspection has found is charged next to nothing for it: what
// the cure costs was to be expected once the fault was found.
func TestACureOfWhatWasFoundIsFree(t *testing.T) {
	const most = 8.0 // minutes; bolts that were uneven, 7: the swing they had was to be read anyway
	cures := map[act.Form]int{}
	for f := range fault.Each() {
		if f.Cure != act.FitDepthShim && f.Cure != f.Test { // a shim is changed for other reasons too
			cures[f.Cure] = 0
		}
	}
	for _, fam := range longtest.Some(family.Shelf(), 5) {
		gains := map[bool]sim.Gains{}
		for _, used := range []bool{false, true} {
			var err error
			gains[used], err = sim.NominalGains(fam, used)
			require.NoError(t, err)
		}
		for seed := uint64(1); seed <= longtest.Pick[uint64](6, 60); seed++ {
			job, err := scenariostest.Sketch(fam, seed)
			require.NoError(t, err)
			stand, err := job.Stand()
			require.NoError(t, err)
			rec := &sim.Recorder{Stand: stand}
			if technician.Work(rec, job.Card.Known, technician.Competent()) != nil {
				continue
			}
			_, lines := New(cost.Default(), job.Card, gains[job.Card.UsedBearings]).Book(rec.Steps)
			for i, o := range rec.Steps {
				if _, cure := cures[o.Act.Form]; !cure || o.Before.CaseIn || i == 0 || !rec.Steps[i-1].Wrong() {
					continue
				}
				cures[o.Act.Form]++
				t.Logf("%s job %d: %s charged %.1f", fam.Code, seed, o.Act, lines[i].Charge())
				assert.Less(t, lines[i].Charge(), most, "%s job %d: %s", fam.Code, seed, o.Act)
			}
		}
	}
	t.Log(cures)
}
