package reveal_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/reveal"
	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/truth"
)

func shipped(t *testing.T, code string) family.Family {
	t.Helper()
	f, err := family.Shipped(code)
	require.NoError(t, err)
	return f
}

// only lists lessons that are about some axles, and the families of those.
func only() map[string][]string {
	return map[string][]string{
		"depth-mark":        {"ALDER", "BEECH", "CEDAR", "DOGWOOD", "ELM", "FIR", "GORSE", "HAZEL", "IRONBARK"},
		"cage-shim":         {"DOGWOOD", "ELM", "IRONBARK", "JUNIPER"},
		"cup-shim":          {"CEDAR", "FIR", "HAZEL"},
		"crush-spacer":      {"ALDER", "BEECH", "DOGWOOD", "GORSE", "JUNIPER"},
		"solid-spacer":      {"CEDAR", "ELM", "FIR", "HAZEL", "IRONBARK"},
		"side-shims":        {"ALDER", "BEECH", "CEDAR", "FIR", "HAZEL"},
		"bearing-adjusters": {"DOGWOOD", "ELM", "GORSE", "IRONBARK", "JUNIPER"},
	}
}

// The next job to try is on the job's own family unless the lesson is not about its
// design; it is another job, can be finished at its first draw, brings the lesson's
// subject up, and is the same whenever it is asked for.
func TestTryAgainCallsForTheLesson(t *testing.T) {
	for _, l := range lessons.All() {
		covers := map[fault.ID]bool{}
		always := false // one of its faults can be in any job
		for _, f := range fault.All() {
			if f.Lesson == l.ID {
				covers[f.ID] = true
				always = always || f.Needs == nil || f.Needs(fault.Job{})
			}
		}
		for _, from := range []string{"BEECH", "CEDAR", "JUNIPER"} {
			fam := shipped(t, from)
			seed := map[string]uint64{"BEECH": 7, "CEDAR": 123456789, "JUNIPER": math.MaxUint64}[from]
			code, next := reveal.TryAgain(scenarios.Order{Family: fam}, seed, l.ID)
			about, some := only()[l.ID]
			switch {
			case !some:
				assert.Equal(t, from, code, l.ID)
			default:
				assert.Contains(t, about, code, "%s from %s", l.ID, from)
				assert.Equal(t, slices.Contains(about, from), code == from, "%s from %s: %s", l.ID, from, code)
			}
			assert.NotEqual(t, seed, next)
			againCode, again := reveal.TryAgain(scenarios.Order{Family: fam}, seed, l.ID)
			assert.Equal(t, []any{code, next}, []any{againCode, again}, l.ID)
			j, err := scenariostest.Generate(shipped(t, code), next)
			require.NoError(t, err)
			assert.Equal(t, 1, j.Draws())
			assert.True(t, reveal.CallsFor(j, l.ID), "%s from %s: job %d of %s", l.ID, from, next, code)
			k := j.Card.Known
			x, _ := truth.Open(j.Sealed())
			switch {
			case l.ID == "depth-mark":
				assert.GreaterOrEqual(t, math.Abs(k.OldMark.MM()-k.NewMark.MM()), 0.1)
			case l.ID == "cup-shim":
				assert.NotEqual(t, k.OldPreloadShims, k.StarterPreloadShims(k.StarterShim()), "the pack has to follow")
			case l.ID == "used-gears":
				assert.True(t, j.Card.UsedGears)
			case always:
				carries := false
				for _, f := range x.Faults {
					carries = carries || covers[f.ID]
				}
				assert.True(t, carries, "%s after job %d of %s: job %d carries none of its faults", l.ID, seed, from, next)
			}
		}
	}
}

// Jobs of the families listed call for a lesson on their design, and no others do.
func TestOnlySomeDesignsCallForALesson(t *testing.T) {
	const jobs = 60
	for id, about := range only() {
		for _, fam := range family.Shelf() {
			calls := 0
			for seed := uint64(1); seed <= jobs; seed++ {
				if j, err := scenariostest.Sketch(fam, seed); err == nil && reveal.CallsFor(j, id) {
					calls++
				}
			}
			assert.Equal(t, slices.Contains(about, fam.Code), calls > 0, "%s: %d jobs of %s", id, calls, fam.Code)
		}
	}
}

// The exercise that a lesson names calls for the lesson.
func TestLessonsNameAFittingJob(t *testing.T) {
	for _, l := range lessons.All() {
		j, err := scenariostest.Generate(shipped(t, l.TryFamily), l.TrySeed)
		require.NoError(t, err, l.ID)
		assert.True(t, reveal.CallsFor(j, l.ID), "%s: %s job %d does not call for it", l.ID, l.TryFamily, l.TrySeed)
	}
}

// A job with used gears has their own backlash on its card; the search for another one
// goes by the family as everyone has it.
func TestTryAgainAfterUsedGears(t *testing.T) {
	fam := family.Beech()
	_, seed := reveal.TryAgain(scenarios.Order{Family: fam}, 1, "used-gears")
	j, b, rep := work(t, seed, technician.Competent())
	require.True(t, j.Card.UsedGears)
	require.NotEqual(t, fam.Sheet.Backlash, j.Card.Family.Sheet.Backlash)
	assert.Equal(t, fam, j.Order().Family)
	r, err := reveal.Of(j, b.Stand, rep)
	require.NoError(t, err)
	code, next := reveal.TryAgain(scenarios.Order{Family: fam}, seed, rep.Lesson)
	assert.Equal(t, []any{code, next}, []any{r.TryFamily, r.TrySeed})
}
