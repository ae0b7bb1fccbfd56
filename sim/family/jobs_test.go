package family_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios/scenariostest"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

var update = flag.Bool("update", false, "write what the jobs give now into testdata/jobs.txt")

// Jobs handed out before families became files are still the same jobs, to the last
// bit: their cards, their first readings, and what the grader reckons with. The
// file was written by the program as it was when the numbers of BEECH stood in Go.
// It changes only together with scenarios.ModelVersion.
func TestJobsAreWhatTheyWere(t *testing.T) {
	var b strings.Builder
	for _, seed := range []uint64{1, 2, 3, 7, 42, 1000} {
		j, err := scenariostest.Generate(family.Beech(), seed)
		require.NoError(t, err)
		k := j.Card.Known
		fmt.Fprintf(&b, "job %d, draws %d, used %v, %s, %s\n", seed, j.Draws(), k.UsedBearings, j.Card.Vehicle.Code(), j.Card.Complaint.Code())
		fmt.Fprintf(&b, "shim %x marks %x %x sides %x %x\n", k.OldDepthShim.MM(), k.OldMark.MM(), k.NewMark.MM(), k.OldRingGearShim.MM(), k.OldOppositeShim.MM())
		s, err := j.Stand()
		require.NoError(t, err)
		for _, line := range []string{"fit depth-shim 0.030in", "fit pinion mock-up", "measure depth", "remove pinion", "fit pinion final",
			"tighten nut to 150 lb-ft", "tighten nut 10 deg", "turn pinion 5", "measure torque rotating wrench"} {
			a, err := act.Parse(line, quantity.Inch)
			require.NoError(t, err)
			o, err := s.Do(a)
			require.NoError(t, err)
			for _, r := range o.Readings {
				fmt.Fprintf(&b, "%s: %s %x %x\n", line, r.Kind, r.Lengths, r.Torques)
			}
		}
	}
	for _, used := range []bool{false, true} {
		g, err := sim.NominalGains(family.Beech(), used)
		require.NoError(t, err)
		fmt.Fprintf(&b, "gains, used %v: %x %x %x %x %x %x\n", used, g.BacklashPerRing, g.BacklashPerPinion, g.PatternHeightPerPinion,
			g.TorquePerDegreeNmm, g.NutAtTargetNmm, g.ReferenceRiseNmm)
	}
	const file = "testdata/jobs.txt"
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}
