package grading_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
)

// lackingWords are words that a debrief advises a tool with, by the act it is for; the act
// itself where there are no others.
func lackingWords(off sim.LeftOff) string {
	words := map[string]string{"measure depth": "gaug", "measure runout": "back face", "measure case-runout": "bare flange",
		"measure end-play": "end play", "measure torque string": "string"}
	if w := words[off.String()]; w != "" {
		return w
	}
	return off.String()
}

// What a bench lacks is held against nobody and advised to nobody: a careful hand there
// scores about as well as at a full bench, and one that never measures is not sent for the
// tool.
func TestWhatABenchLacksIsNotAskedFor(t *testing.T) {
	families := family.Shelf()
	kinds := []scenarios.Kind{scenarios.WholeJob, scenarios.SidesJob, scenarios.PatternJob, scenarios.WholeJob}
	kinds = kinds[:longtest.Pick(2, len(kinds))]
	mean := func(off ...sim.LeftOff) float64 {
		sum, n := 0.0, 0.0
		for i, k := range kinds {
			o := scenarios.Order{Family: families[(3*i+2)%len(families)], Kind: k, Off: off}
			j, err := o.Generate(uint64(100 + i))
			require.NoError(t, err)
			careful, _ := work(t, j, technician.Competent(), nil)
			blind, _ := work(t, j, technician.Habits{NeverMeasures: true}, nil)
			sum, n = sum+float64(careful.Score), n+1
			for _, l := range off {
				for _, rep := range []grading.Report{careful, blind} {
					for _, d := range rep.Decisions {
						assert.NotContains(t, d.Best, lackingWords(l), "%s: %s", l, d.Did)
						for _, other := range d.Alternatives {
							assert.NotContains(t, other.What, lackingWords(l), "%s: %s", l, d.Did)
						}
					}
				}
			}
		}
		return sum / n
	}
	full := mean()
	slack := longtest.Pick(15.0, 10.0) // points: other readings, other luck, and the dearer way round
	for _, off := range sim.MayBeLeftOff() {
		assert.Greater(t, mean(off), full-slack, off.String())
	}
}

// The words that the test looks for are those a debrief uses where nothing is lacking.
func TestAdviceAtAFullBench(t *testing.T) {
	var said strings.Builder
	for seed := range uint64(12) {
		rep, _ := work(t, job(t, seed), technician.Habits{NeverMeasures: true}, nil)
		for _, d := range rep.Decisions {
			said.WriteString(d.Best + "\n")
			for _, other := range d.Alternatives {
				said.WriteString(other.What + "\n")
			}
		}
	}
	for _, f := range []act.Form{act.InspectCups, act.InspectSeal, act.MeasureEndPlay, act.TestIndicator} {
		assert.Contains(t, said.String(), lackingWords(sim.LeftOff{Form: f}))
	}
}

// A budget is a point of the debrief, met to the minute and missed by one; without one
// nothing is said of it.
func TestBudgets(t *testing.T) {
	marks := func(b scenarios.Budget) (minutes, parts grading.Outcome, rep grading.Report) {
		j, err := scenarios.Order{Family: family.Beech(), Budget: b}.Generate(1)
		require.NoError(t, err)
		rep, _ = work(t, j, technician.Competent(), func(n int, a act.Act) []act.Act {
			if a.Form == act.InspectSeal {
				return []act.Act{a, say("replace seal")} // a part
			}
			return only(a)
		})
		return outcomeOf(rep, "work-budget"), outcomeOf(rep, "parts-budget"), rep
	}
	w, p, free := marks(scenarios.Budget{})
	assert.Equal(t, []grading.Outcome{"no such item", "no such item"}, []grading.Outcome{w, p})
	require.Positive(t, free.PartsMinutes, "a seal is a part")
	w, p, kept := marks(scenarios.Budget{Minutes: free.Minutes, Parts: free.PartsMinutes})
	assert.Equal(t, []grading.Outcome{grading.IsMet, grading.IsMet}, []grading.Outcome{w, p})
	assert.Equal(t, free.Score, kept.Score)
	w, p, over := marks(scenarios.Budget{Minutes: free.Minutes - 1, Parts: free.PartsMinutes - 1})
	assert.Equal(t, []grading.Outcome{grading.NotMet, grading.NotMet}, []grading.Outcome{w, p})
	assert.Less(t, over.Score, free.Score)
	assert.Equal(t, free.Decisions, over.Decisions, "a budget changes no decision's worth")
}

// Points are named in one place and given in another.
func TestPointsAreTheRubrics(t *testing.T) {
	j, err := scenarios.Order{Family: family.Beech(), Budget: scenarios.Budget{Minutes: 1, Parts: 1}}.Generate(1)
	require.NoError(t, err)
	rep, _ := work(t, j, technician.Competent(), nil)
	var ids []string
	for _, m := range rep.Rubric {
		ids = append(ids, m.ID)
		assert.NoError(t, scenarios.Order{Family: family.Beech(), Weights: map[string]scenarios.Weight{m.ID: scenarios.Weight(m.Severity)}}.Validate())
	}
	assert.Equal(t, scenarios.Points(), ids)
}

// An exercise can make a point weigh more or less, or not count it.
func TestWeights(t *testing.T) {
	score := func(w map[string]scenarios.Weight) int {
		j, err := scenarios.Order{Family: family.Beech(), Weights: w}.Generate(1)
		require.NoError(t, err)
		rep, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
			if a.Form == act.RecordValue {
				return nil // nothing on the build sheet: a minor point
			}
			return only(a)
		})
		return rep.Score
	}
	usual := score(nil)
	assert.Equal(t, usual+3, score(map[string]scenarios.Weight{"build-sheet": scenarios.Uncounted}))
	assert.Equal(t, usual+3-10, score(map[string]scenarios.Weight{"build-sheet": scenarios.Major}))
	assert.LessOrEqual(t, score(map[string]scenarios.Weight{"build-sheet": scenarios.Critical}), 49)
	assert.Equal(t, usual, score(map[string]scenarios.Weight{"oil-not-grease": scenarios.Critical}), "a point that is met")

	for _, w := range []map[string]scenarios.Weight{{"tidy-bench": scenarios.Major}, {"build-sheet": "huge"}} {
		assert.Error(t, scenarios.Order{Family: family.Beech(), Weights: w}.Validate())
	}
}
