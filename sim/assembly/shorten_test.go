package assembly

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/pinion"
)

// A spacer that was made shorter has lost length and no crush: from where it touches on, it
// yields, peaks, fades and hardens as the full one does from its start, and is used up as late.
func TestAShortSpacerCrushesAsAFullOneLater(t *testing.T) {
	full := pinion.Spacer{StiffnessNPerMM: 150e3, YieldN: 20e3, PeakN: 26e3, PeakDecayMM: 0.12, HardeningNPerMM: 2e3, UsableCrushMM: 1.2}
	for _, mm := range []float64{0.05, 0.2, 0.6} {
		short := full
		shorten(&short, mm)
		for _, crush := range []float64{0, 0.01, 0.1, 0.5, 1.1, 1.5} {
			assert.InEpsilon(t, full.CrushLoadN(crush), short.CrushLoadN(mm+crush), 1e-9, "%v mm shorter, crushed %v mm", mm, crush)
		}
		assert.InDelta(t, mm, short.SetMM, 1e-12)
	}
	same := full
	shorten(&same, 0)
	assert.Equal(t, full, same)
}
