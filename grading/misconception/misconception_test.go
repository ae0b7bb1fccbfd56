package misconception_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/misconception"
	"shimwright/scenarios"
	held "shimwright/scenarios/misconception"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// card is a job on the common axle whose old shim and marks leave no two ideas the same:
// old shim 0.030 in, marks 3 and -1, so a shim correction of 4 thousandths less.
func card(t *testing.T) (scenarios.Card, sim.Gains) {
	t.Helper()
	fam := family.Beech()
	require.Equal(t, setup.PlusAddsShim, fam.Sheet.Marks)
	gains, err := sim.NominalGains(fam, false)
	require.NoError(t, err)
	return scenarios.Card{Family: fam, Known: technician.Known{Sheet: fam.Sheet, Design: fam.Design,
		OldDepthShim: quantity.Thou(30), OldMark: quantity.Thou(3), NewMark: quantity.Thou(-1),
		OldRingGearShim: quantity.Thou(72), OldOppositeShim: quantity.Thou(64)}}, gains
}

func outcomes(t *testing.T, lines ...string) []history.Step {
	t.Helper()
	var out []history.Step
	for _, l := range lines {
		a, err := act.Parse(l, quantity.Inch)
		require.NoError(t, err, l)
		out = append(out, history.Step{Act: a})
	}
	return out
}

// The signatures of the marks, worked by hand from the old shim 30, the old mark 3 and the
// new mark -1, all thousandths: TM 9-2320-289-34, table 6-2, takes the old mark off and puts
// the new one on, which is 26.
func TestFirstDepthShimTellsWhatBecameOfTheMarks(t *testing.T) {
	for shim, idea := range map[string]string{
		"0.026in": "",
		"0.034in": "mark-turned",
		"0.030in": "mark-forgotten",
		"0.029in": "new-mark-only",
		"0.032in": "marks-added",
		"0.028in": "mark-in-other-units", // 4 / 2.54 is 1.6
	} {
		c, gains := card(t)
		e := misconception.Of(c, gains, outcomes(t, "fit depth-shim "+shim))
		best, most := "", 1.0
		for _, i := range held.All() {
			if l := e.Log(i.ID); l > most {
				best, most = i.ID, l
			}
		}
		assert.Equal(t, idea, best, "%s, ln %.2f", shim, most)
	}
}

// Equal marks leave the idea of a turned mark nothing to show.
func TestEqualMarksSayNothing(t *testing.T) {
	c, gains := card(t)
	c.Known.NewMark = c.Known.OldMark
	e := misconception.Of(c, gains, outcomes(t, "fit depth-shim 0.030in"))
	assert.Zero(t, e.Log("mark-turned"))
	assert.Empty(t, e.Finding().Misconceptions)
}

// A habit counts twice on one job and no more, and one slip is not yet a habit.
func TestRepetitionIsNotNewEvidence(t *testing.T) {
	c, gains := card(t)
	mount := "mount indicator toe square pinion-held"
	log := math.Log(0.95 / 0.05)
	once := misconception.Of(c, gains, outcomes(t, mount))
	assert.InDelta(t, log, once.Log("plunger-at-toe"), 1e-12)
	assert.Empty(t, once.Finding().Label())
	often := misconception.Of(c, gains, outcomes(t, mount, mount, mount, mount))
	assert.InDelta(t, 2*log, often.Log("plunger-at-toe"), 1e-12)
	f := often.Finding()
	assert.Equal(t, "plunger-at-toe", f.Label())
	assert.Equal(t, []int{1, 2}, f.Misconceptions[0].Acts)
	other := misconception.Of(c, gains, outcomes(t, mount, "mount indicator heel square pinion-held"))
	assert.InDelta(t, 0, other.Log("plunger-at-toe"), 1e-12, "one act for it and one against it")
	assert.InDelta(t, 3*log, often.Plus(once).Log("plunger-at-toe"), 1e-12, "jobs add")
}

// Two ideas that ask for the same shim are both asked about, and neither is named: marks of
// -2 and 2 add up to nothing, and so does a mark forgotten.
func TestCoincidingMisconceptionsAreAskedAbout(t *testing.T) {
	c, gains := card(t)
	c.Known.OldMark, c.Known.NewMark = quantity.Thou(-2), quantity.Thou(2)
	e := misconception.Of(c, gains, outcomes(t, "fit depth-shim 0.030in"))
	assert.InDelta(t, e.Log("mark-forgotten"), e.Log("marks-added"), 1e-9)
	f := e.Finding()
	assert.False(t, f.Sure)
	assert.Empty(t, f.Label())
	var ids []string
	for _, i := range f.Misconceptions {
		ids = append(ids, i.ID)
	}
	assert.Equal(t, []string{"mark-forgotten", "marks-added"}, ids)
}

// The posterior, by hand: prior one half for none, the rest over all ideas, two choices of
// 0.95 against 0.05.
func TestPosterior(t *testing.T) {
	c, gains := card(t)
	mount := "mount indicator toe square pinion-held"
	f := misconception.Of(c, gains, outcomes(t, mount, mount)).Finding()
	each := 0.5 / float64(len(held.All()))
	// The same acts speak against a tilted stem and a free pinion, twice each.
	against := math.Pow(0.05/0.95, 2)
	rest := 0.5 + each*(float64(len(held.All())-3)+2*against)
	yes := each * 19 * 19
	assert.InDelta(t, yes/(yes+rest), f.Misconceptions[0].Probability, 0.005)
	assert.InDelta(t, 0.5/(yes+rest), f.None, 0.005)
}

// Chances over a shelf add up to one, but for its ends.
func TestSizeChancesAddUp(t *testing.T) {
	sum := 0.0
	for i := -20; i < 20; i++ {
		sum += misconception.SizeChance(float64(i), 0.2, 0.8, 1)
	}
	assert.InDelta(t, 1, sum, 1e-3)
}

// Nothing done says nothing.
func TestNothingDone(t *testing.T) {
	c, gains := card(t)
	f := misconception.Of(c, gains, nil).Finding()
	assert.Empty(t, f.Misconceptions)
	assert.Empty(t, f.Label())
	assert.InDelta(t, 0.5, f.None, 1e-12)
	assert.Empty(t, misconception.Evidence{}.Finding().Misconceptions)
}
