package grading_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/inference"
	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
	"shimwright/sim/truth"
)

// Faults of the gear set and its neighbours: a hand that looks is left with none and is
// believed to be; where nobody has looked, the readings alone point at those that no other
// cause could explain.
func TestReadingsPointAtTheGearSet(t *testing.T) {
	jobs := longtest.Pick[uint64](1, 4)
	told := []fault.ID{fault.SetMixed, fault.GearForOther, fault.SlingerOut}
	for _, id := range []fault.ID{fault.SetMixed, fault.GearForOther, fault.GearWarped, fault.GearOffCenter, fault.PinionBent,
		fault.SlingerOut, fault.SpacerShort, fault.BearingGritty} {
		m, err := scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{OneOf: []fault.ID{id}}}.Maker()
		require.NoError(t, err)
		f, err := fault.Find(id)
		require.NoError(t, err)
		for seed := uint64(1); seed <= jobs; seed++ {
			j, err := m.Generate(seed)
			require.NoError(t, err, id)
			for i := range j.Card.Rates { // what the trainee is told is the usual rate
				if j.Card.Rates[i].ID == string(f.ID) {
					j.Card.Rates[i].Rate = f.Rate
				}
			}
			believe := func(wrong string) (risk float64, left bool) {
				b, k := open(t, j), j.Card.Known
				var at technician.Bench = b
				if wrong != "" {
					m, err := mistake.Find(wrong)
					require.NoError(t, err)
					at, k = technician.With(b, k, m.Policy)
				}
				require.NoError(t, technician.Work(at, k, technician.Competent()))
				held, err := inference.Believe(j.Card, b.outs)
				require.NoError(t, err)
				_, end := truth.Open(b.Sealed())
				return held.Risk[id], slices.Contains(end.Remaining, id)
			}
			risk, left := believe("")
			assert.False(t, left, "%s, job %d", id, seed)
			assert.Less(t, risk, 0.02, "%s, job %d", id, seed)
			risk, left = believe("nothing-inspected")
			if slices.Contains(told, id) {
				assert.True(t, left, "%s, job %d", id, seed)
				assert.Greater(t, risk, 0.9, "%s, job %d", id, seed)
			}
		}
	}
}
