package sim_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/truth"
)

// Depth, drag, end play, runout, backlash at four places and total drag: all the
// figures of a build sheet, without taking anything apart.
func BenchmarkFullSetOfReadings(b *testing.B) {
	gauge := bench(b, handMade(), 1)
	do(b, gauge, "fit depth-shim 0.030in", "fit pinion mock-up")
	s := bench(b, handMade(), 1)
	do(b, s, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 155deg", "turn pinion 20")
	pinion := bench(b, handMade(), 1)
	do(b, pinion, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 155deg", "turn pinion 20")
	caseIn(b, s, "0.074in", "0.074in")
	for b.Loop() {
		do(b, gauge, "measure depth")
		do(b, pinion, "measure torque rotating wrench")
		do(b, s, "measure end-play", "measure runout", "measure backlash 4", "measure torque rotating wrench")
	}
}

func BenchmarkPatternReading(b *testing.B) {
	s := bench(b, handMade(), 1)
	do(b, s, "fit depth-shim 0.030in", "fit pinion final", "tighten nut 155deg", "turn pinion 20")
	caseIn(b, s, "0.074in", "0.074in")
	for b.Loop() {
		do(b, s, "paint teeth thin", "roll gears braked")
	}
}

func BenchmarkNewStand(b *testing.B) {
	sealed, fam := truth.Seal(handMade(), truth.Finish{}), family.Beech()
	for b.Loop() {
		_, err := sim.New(fam, sealed, 1)
		require.NoError(b, err)
	}
}

func BenchmarkNominalGains(b *testing.B) {
	fam := family.Beech()
	for b.Loop() {
		_, err := sim.NominalGains(fam, false)
		require.NoError(b, err)
	}
}
