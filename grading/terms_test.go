package grading_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
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
						assert.NotContains(t, said(d.Best), lackingWords(l), "%s: %s", l, d.Did)
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
	for _, off := range longtest.Some(sim.MayBeLeftOff(), 8) {
		assert.Greater(t, mean(off), full-slack, off.String())
	}
}

// The words that the test looks for are those a debrief uses where nothing is lacking.
func TestAdviceAtAFullBench(t *testing.T) {
	var words strings.Builder
	for seed := range uint64(12) {
		rep, _ := work(t, job(t, seed), technician.Habits{NeverMeasures: true}, nil)
		for _, d := range rep.Decisions {
			words.WriteString(said(d.Best) + "\n")
			for _, other := range d.Alternatives {
				words.WriteString(other.What + "\n")
			}
		}
	}
	for _, f := range []act.Form{act.InspectCups, act.InspectSeal, act.InspectBearings} {
		assert.Contains(t, words.String(), lackingWords(sim.LeftOff{Form: f}))
	}
}

// A budget is a point of the debrief, met to the minute and missed by one; without one
// nothing is said of it.
func TestBudgets(t *testing.T) {
	marks := func(b scenarios.Budget) (minutes, parts acceptance.Outcome, rep grading.Report) {
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
	assert.Equal(t, []acceptance.Outcome{-1, -1}, []acceptance.Outcome{w, p})
	require.Positive(t, free.PartsMinutes, "a seal is a part")
	w, p, kept := marks(scenarios.Budget{Minutes: free.Minutes, Parts: free.PartsMinutes})
	assert.Equal(t, []acceptance.Outcome{acceptance.Proved, acceptance.Proved}, []acceptance.Outcome{w, p})
	assert.Equal(t, free.Score, kept.Score)
	w, p, over := marks(scenarios.Budget{Minutes: free.Minutes - 1, Parts: free.PartsMinutes - 1})
	assert.Equal(t, []acceptance.Outcome{acceptance.Open, acceptance.Open}, []acceptance.Outcome{w, p})
	assert.Less(t, over.Score, free.Score)
	assert.Equal(t, free.Decisions, over.Decisions, "a budget changes no decision's worth")
}

// Points are named in one place and given in another.
func TestPointsAreTheAcceptanceList(t *testing.T) {
	j, err := scenarios.Order{Family: family.Beech(), Budget: scenarios.Budget{Minutes: 1, Parts: 1}}.Generate(1)
	require.NoError(t, err)
	rep, _ := work(t, j, technician.Competent(), nil)
	var ids []string
	for _, m := range rep.Acceptance {
		ids = append(ids, m.ID)
		assert.NoError(t, scenarios.Order{Family: family.Beech(), Weights: map[string]scenarios.Weight{m.ID: m.Severity}}.Validate())
	}
	assert.Equal(t, scenarios.Points(), ids)
}

// An exercise can make a point weigh more or less, or not count it.
func TestWeights(t *testing.T) {
	f := grading.TheFormula()
	score := func(w map[string]scenarios.Weight) grading.Sum {
		j, err := scenarios.Order{Family: family.Beech(), Weights: w}.Generate(1)
		require.NoError(t, err)
		rep, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
			if a.Form == act.RecordValue {
				return nil // nothing on the build sheet
			}
			return only(a)
		})
		return rep.Sum
	}
	usual := score(nil)
	weighed := func(id string, w scenarios.Weight) grading.Sum { return score(map[string]scenarios.Weight{id: w}) }
	assert.Equal(t, usual.Right+f.Minor+f.Critical, weighed("sheet-complete", scenarios.Uncounted).Right, "what is not asked for")
	assert.Equal(t, usual.Right+f.Minor-f.Major, weighed("sheet-complete", scenarios.Major).Right)
	assert.Equal(t, usual.Right+f.Minor-f.Critical, weighed("sheet-complete", scenarios.Critical).Right)
	assert.LessOrEqual(t, weighed("sheet-complete", scenarios.Critical).Score, f.UnprovedMost)
	assert.Equal(t, usual, weighed("runout", scenarios.Critical), "a line that is proved")

	for _, w := range []map[string]scenarios.Weight{{"tidy-bench": scenarios.Major}, {"build-sheet": "huge"}} {
		assert.Error(t, scenarios.Order{Family: family.Beech(), Weights: w}.Validate())
	}
}
