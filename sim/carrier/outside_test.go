package carrier_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	ax "shimwright/sim/carrier/axletest"
	"shimwright/sim/checkstest"
	"shimwright/sim/solve"
)

// Side bearing figures of published machines, and what shops say, against the default
// axle. None of those machines is this axle, so that a range is met when the model's own
// range lies inside it. Sources and strengths stand in testdata/checks/trade-practice.csv,
// differences in remarks.csv.
func TestSideBearingsAgainstPublishedRanges(t *testing.T) {
	p, film := ax.Carrier(), ax.NewFilm()
	meets := checkstest.Given(t).Meets
	row := func(id string) checkstest.Row { return checkstest.Find(t, "trade-practice", id) }

	// What side bearings and teeth add at the pinion with new bearings, over the total
	// interference that trade figures span, 0.004 to 0.012 in (common practice, no source).
	added := func(totalIn float64, film bearing.Film) float64 {
		half := totalIn * ax.InchMM / 2
		return addedNmm(p, solveFor(t, p, half, half).ForceN, film) / ax.LbInNmm
	}
	for _, id := range []string{"23b-rise", "p-total-rise"} {
		meets(t, row(id+"-least"), added(0.004, film))
		meets(t, row(id+"-most"), added(0.012, film))
	}
	// Trade tables of older cars: so much at the pinion, so much in all with 0.008 in of side
	// preload and a seal.
	const seal = ax.SealNmm / ax.LbInNmm
	meets(t, row("35-total-used-least"), 8+seal+added(0.008, ax.UsedFilm()))
	meets(t, row("35-total-used-most"), 12+seal+added(0.008, ax.UsedFilm()))
	meets(t, row("36-total-new-least"), 24+seal+added(0.008, film))
	meets(t, row("36-total-new-most"), 32+seal+added(0.008, film))

	// One loader's manual gives both how far the caps are pushed apart and the drag at
	// the ring gear, pinion out: the drag at the two ends of that growth.
	torque := func(growth checkstest.Row, turned bearing.Film) float64 {
		var at carrier.State
		_, err := solve.Bracketed(func(total float64) float64 {
			at = solveFor(t, p, total/2, total/2)
			return at.SpreadMM - growth.Expected*ax.InchMM
		}, 0.01, 2, 1e-9)
		require.NoError(t, err)
		return p.TorqueNmm(at.ForceN, turned) / ax.LbInNmm
	}
	meets(t, row("24-side-drag-least"), torque(row("24-growth-least"), ax.AtCase(film)))
	meets(t, row("24-side-drag-most"), torque(row("24-growth-most"), ax.AtCase(film)))
}
