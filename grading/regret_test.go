package grading_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
)

// A pair that came out wrong was charged where it went in. Taking it out again is then the
// best there is, and costs nothing more; taking out what is right does.
func TestTeardownIsChargedOnlyWhereItIsNeedless(t *testing.T) {
	for _, one := range played(t, "one wrong move") {
		for _, d := range one.rep.Decisions {
			if f := one.bench.outs[d.Act-1].Act.Form; f == act.RemoveCase || f == act.RemovePinion {
				assert.Less(t, d.Lost, 5.0, "seed %d: %s", one.job.Card.Seed, d.Did)
			}
		}
	}
	charged := 0
	for seed := uint64(1); seed <= 4; seed++ {
		rep, _ := work(t, job(t, seed), technician.Competent(), func(_ int, a act.Act) []act.Act {
			if a.Form == act.SignOff {
				return []act.Act{say("remove case")}
			}
			return only(a)
		})
		d := rep.Decisions[len(rep.Decisions)-1]
		if d.Did == "remove case" && d.Lost > 10 {
			charged++
			assert.Equal(t, grading.Stopping, d.Area)
		}
	}
	assert.GreaterOrEqual(t, charged, 3, "a job may end near a limit, where taking it out is no loss")
}

// A pattern where the depth has never been gauged is worth something, and worth less with
// thick paint or without a brake: the more so the less it tells. (Uncertainty of a pattern's
// centre: sim.EyeStd, twice as much for a thick coat, two and a half times without a brake.)
func TestAPoorPatternCostsWhatItLeavesUnknown(t *testing.T) {
	maker, err := scenarios.Order{Family: family.Beech(), Kind: scenarios.PatternJob}.Maker()
	require.NoError(t, err)
	lost := map[string]float64{}
	for seed := uint64(1); seed <= 4; seed++ {
		for _, how := range []string{"thin braked", "thick braked", "thin free", "thick free"} {
			j, err := maker.Generate(seed)
			require.NoError(t, err)
			b := open(t, j)
			coat, load, _ := strings.Cut(how, " ")
			script(t, b, "paint teeth "+coat, "roll gears "+load)
			lost[how] += charged(grade(t, j, b.outs), b.outs, act.RollGears) / 4
		}
	}
	assert.Less(t, lost["thin braked"], 1.0, "the procedure is free")
	assert.Greater(t, lost["thick braked"], lost["thin braked"])
	assert.Greater(t, lost["thin free"], lost["thick braked"])
	assert.Greater(t, lost["thick free"], lost["thin free"])
	assert.Less(t, lost["thick free"], cost.Default().ComebackMin/4, "a poor print is still a print, and no axle that comes back")
}

// Backlash read at one place tells less than at four, and with the stem tilted or the
// pinion free less than set up well. What is left unknown is charged, and so are places
// beyond those that tell more than the minute they take.
func TestAPoorBacklashReadingCostsWhatItLeavesUnknown(t *testing.T) {
	lost := map[string]float64{}
	for seed := uint64(1); seed <= 4; seed++ {
		for _, how := range []string{"heel square pinion-held/4", "heel tilted pinion-held/4", "heel square pinion-free/4", "heel square pinion-held/1", "heel square pinion-held/8"} {
			mount, places, _ := strings.Cut(how, "/")
			j := job(t, seed)
			b := open(t, j)
			b.instead = func(n int, a act.Act) []act.Act {
				switch {
				case a.Form == act.MountIndicator:
					return says("mount indicator " + mount)
				case a.Form == act.MeasureBacklash:
					return says("measure backlash " + places)
				}
				return only(a)
			}
			_ = technician.Work(b, j.Card.Known, technician.Competent())
			for _, x := range grade(t, j, b.outs).Lines {
				if b.outs[x.Act-1].Act.Form == act.MeasureBacklash {
					lost[how] += x.Charge / 4
					break // the first reading: later ones depend on what it showed
				}
			}
		}
	}
	good := lost["heel square pinion-held/4"]
	assert.Less(t, good, 3.0)
	assert.Greater(t, lost["heel tilted pinion-held/4"], good)
	assert.Greater(t, lost["heel square pinion-free/4"], good)
	assert.Greater(t, lost["heel square pinion-held/8"], good)
}
