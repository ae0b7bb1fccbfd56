package sim_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/checkstest"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// A specification sheet does not contradict itself: a contact pattern inside its
// specification means a pinion inside its depth tolerance, on every family, with the
// backlash in the middle of its own. The specification is as wide as that allows to 0.01 of
// the tooth. An eye places the mean of drive and coast to about 0.03 (k = 2), which is as
// much as the specification has to either side: no specification could take that off and
// leave room for a right axle, so one pattern just inside can stand for a depth as far out
// as the eye is unsure, and no further.
func TestPatternSpecMeansDepthInside(t *testing.T) {
	const grainShare = 0.01
	for _, f := range family.Shelf() {
		set, err := sim.Gears(f)
		require.NoError(t, err)
		c := set.NewContact()
		heights := func(outMM float64) (drive, coast float64) {
			require.NoError(t, c.Move(mesh.Position{PinionOutMM: outMM}))
			return c.Pattern(mesh.Drive, sim.ThinFilmMM).CenterT, c.Pattern(mesh.Coast, sim.ThinFilmMM).CenterT
		}
		w, tol := f.Sheet.PatternHeight, f.Sheet.DepthToleranceMM
		eye := 2 * sim.EyeStd(gauge.Method{Coat: act.Thin, Load: act.Braked}) / math.Sqrt2
		g, err := sim.NominalGains(f, false)
		require.NoError(t, err)
		inside, widest := 0, 0.0
		for _, share := range []float64{-2, -1.5, -1.2, -1.1, -1.02, -1, -0.9, -0.5, 0, 0.5, 0.9, 1, 1.02, 1.1, 1.2, 1.5, 2} {
			out := share * tol
			drive, coast := heights(out)
			mean := (drive + coast) / 2
			if w.Holds(mean) {
				inside++
				assert.LessOrEqual(t, math.Abs(share), 1.02, "%s: pattern at %.3f, depth off by %.3f mm", f.Code, mean, out)
			}
			if w.Holds(drive) && w.Holds(coast) {
				assert.True(t, w.Holds(mean))
			}
			if math.Abs(share) <= 1 {
				widest = max(widest, math.Abs(mean-w.Mid()))
			}
			// What a reading just inside may stand for.
			if w.LowMM-eye <= mean && mean <= w.HighMM+eye {
				assert.LessOrEqual(t, math.Abs(out), tol+(eye+grainShare)/g.PatternHeightPerPinion, f.Code)
			}
		}
		assert.Positive(t, inside, f.Code)
		assert.Less(t, widest, w.Half()+grainShare, "%s: the specification could be wider", f.Code)
		drive, coast := heights(0)
		assert.InDelta(t, w.Mid(), drive, 0.3*w.Half(), "%s: a pinion at its place prints in the middle", f.Code)
		assert.InDelta(t, w.Mid(), coast, 0.3*w.Half(), f.Code)
	}
}

// Neither of two limits lets through what the other stops: a ring gear whose back face swings
// as far as it may varies the backlash no more than that may vary.
func TestRunoutLimitGoesWithBacklashVariation(t *testing.T) {
	for _, f := range family.Shelf() {
		g, err := sim.NominalGains(f, false)
		require.NoError(t, err)
		assert.LessOrEqual(t, g.BacklashPerRing*f.Sheet.RunoutMM, f.Sheet.BacklashSpreadMM, f.Code)
		assert.Greater(t, g.BacklashPerRing*f.Sheet.RunoutMM, 0.6*f.Sheet.BacklashSpreadMM, "%s: the runout limit has nothing to say", f.Code)
		assert.Less(t, f.Sheet.CaseFlangeRunoutMM, f.Sheet.RunoutMM, f.Code)
	}
}

// What a thousandth of preload shims is worth, and what backlash a pinion's travel makes, beside
// what little has been published of either.
func TestSensitivitiesBesidePublishedOnes(t *testing.T) {
	gains := func(code string) (sim.Gains, family.TorqueSpec) {
		f, err := family.Shipped(code)
		require.NoError(t, err)
		g, err := sim.NominalGains(f, false)
		require.NoError(t, err)
		return g, f.Sheet.PinionTorqueNew
	}
	perThou := func(code string) (lbIn, inSpec float64) {
		g, spec := gains(code)
		nmm := g.TorquePerPreloadShimNmmPerMM * quantity.Thou(1).MM()
		return quantity.Torque(nmm).InchPounds(), (spec.HighNmm - spec.LowNmm) / nmm
	}
	ledger := checkstest.Given(t)
	row := func(id string) checkstest.Row { return checkstest.Find(t, "trade-practice", id) }
	heavy, _ := perThou("IRONBARK")
	ledger.Meets(t, row("31-torque-per-thou"), heavy)
	_, inSpec := perThou("ELM")
	ledger.Meets(t, row("31-spec-in-thou-heavy"), inSpec)
	_, inSpec = perThou("CEDAR")
	ledger.Meets(t, row("31-spec-in-thou-light"), inSpec)
	beech, _ := gains("BEECH")
	ledger.Meets(t, row("37-gain-pinion"), beech.BacklashPerPinion)
	ledger.Meets(t, row("39-preload-torque"), beech.TorquePerDegreeNmm)
}
