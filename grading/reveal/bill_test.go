package reveal_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/cost"
	"shimwright/grading/reveal"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim/fault"
	"shimwright/sim/truth"
)

// Careful work leaves little to pay for; a nut loosened and left, caps that were never
// torqued and a fault left in each cost what the table says, on their own line. (216 is
// nine chances in ten of 240 minutes, both written out here.)
func TestBillNamesWhatIsStillToPay(t *testing.T) {
	costs := cost.Default()
	for seed := uint64(1); seed <= 3; seed++ {
		j, b, _ := work(t, seed, technician.Competent())
		good := reveal.BillOf(costs, j.Card, b.Stand)
		assert.Less(t, good.TotalMin(), 80.0, "seed %d", seed)
		assert.Zero(t, good.ClampMin+good.CapsMin+good.RunoutMin+good.FaultsMin)

		for id, line := range map[string]func(reveal.Bill) float64{
			"backed-off": func(b reveal.Bill) float64 { return b.ClampMin },
			"caps-snug":  func(b reveal.Bill) float64 { return b.CapsMin },
		} {
			s, err := j.Stand()
			require.NoError(t, err)
			wrong, err := mistake.Find(id)
			require.NoError(t, err)
			at, known := technician.With(s, j.Card.Known, wrong.Policy)
			require.NoError(t, technician.Work(at, known, technician.Competent()))
			assert.InDelta(t, 216, line(reveal.BillOf(costs, j.Card, s)), 1e-9, "%s, seed %d", id, seed)
		}
	}
}

// Every fault that is left is on the bill once: as ring gear runout, or by itself at the catalogue's minutes.
func TestFaultsLeftAreOnTheBillOnce(t *testing.T) {
	costs := cost.Default()
	billed := 0
	for seed := uint64(1); seed <= 25; seed++ {
		j, b, _ := work(t, seed, technician.Habits{NeverMeasures: true})
		_, f := truth.Open(b.Sealed())
		want, swings := 0.0, 0.0
		for _, id := range f.Remaining {
			switch id {
			case fault.DirtBehindGear, fault.BentFlange, fault.BoltsUneven, fault.GearWarped:
				swings = costs.RunoutComebackMin // however many: the axle comes back once
			default:
				want += costs.LateMin(id)
				billed++
			}
		}
		bill := reveal.BillOf(costs, j.Card, b.Stand)
		assert.InDelta(t, want, bill.FaultsMin, 1e-9, "seed %d", seed)
		assert.InDelta(t, swings, bill.RunoutMin, 1e-9, "seed %d", seed)
	}
	assert.Positive(t, billed)
}
