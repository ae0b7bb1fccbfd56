package whatif_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/whatif"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

func worked(t *testing.T, h technician.Habits) (scenarios.Job, []history.Step, grading.Report) {
	t.Helper()
	j, err := scenariostest.Generate(family.Beech(), 7)
	require.NoError(t, err)
	s, err := j.Stand()
	require.NoError(t, err)
	r := &sim.Recorder{Stand: s}
	require.NoError(t, technician.Work(r, j.Card.Known, h))
	rep, err := grading.Grade(j.Card, r.Steps, quantity.Inch)
	require.NoError(t, err)
	return j, r.Steps, rep
}

func say(t *testing.T, line string) act.Act {
	t.Helper()
	a, err := act.Parse(line, quantity.Inch)
	require.NoError(t, err)
	return a
}

// last is the number of the last act of a form.
func last(t *testing.T, outs []history.Step, f act.Form) int {
	t.Helper()
	for i := len(outs) - 1; i >= 0; i-- {
		if outs[i].Act.Form == f {
			return i + 1
		}
	}
	t.Fatalf("%s was not done", f)
	return 0
}

// The same act in its own place shows what it showed, and the same hand goes on alike from
// both; what happened is graded as the attempt was.
func TestTheSameActChangesNothing(t *testing.T) {
	j, outs, rep := worked(t, technician.Competent())
	for _, n := range []int{1, last(t, outs, act.FitDepthShim), last(t, outs, act.FitCase), len(outs)} {
		f, err := whatif.At(j, outs, n, outs[n-1].Act, quantity.Inch)
		require.NoError(t, err)
		assert.Equal(t, f.Yours, f.Other)
		assert.Equal(t, outs[n-1], f.Happened.Shown)
		assert.Equal(t, rep, f.Happened.Grade)
		assert.True(t, f.Yours.Right, "act %d", n)
		assert.NoError(t, f.Yours.Stopped)
		known, err := whatif.Known(outs, rep, n)
		require.NoError(t, err)
		assert.Equal(t, known, f.Happened.Decisions)
	}
}

// A worse shim in the final build costs the grader's price in the decision and, with the
// same hand after it, more minutes.
func TestAWorseShimCostsMore(t *testing.T) {
	j, outs, _ := worked(t, technician.Habits{PatternLast: true}) // no mock-up in which it would be found in time
	n := last(t, outs, act.FitSideShims)
	back, _ := outs[n-1].Act.Amounts[0].Length()
	tooth, _ := outs[n-1].Act.Amounts[1].Length()
	const wrongMM = 8 * 0.0254 // backlash is then far outside
	worse := outs[n-1].Act
	worse.Amounts = []quantity.Entered{{Number: back.MM() - wrongMM, Unit: quantity.UnitMM}, {Number: tooth.MM() + wrongMM, Unit: quantity.UnitMM}}
	f, err := whatif.At(j, outs, n, worse, quantity.Inch)
	require.NoError(t, err)
	assert.Greater(t, f.Other.Minutes, f.Yours.Minutes)
	assert.True(t, f.Other.Right, "the hand reads it and puts it right")
	assert.Less(t, f.Other.Grade.Score, 100)
	assert.Equal(t, f.Happened.Shown.Minutes, f.Other.Shown.Minutes)
}

// Signing in the middle of the work ends the course there.
func TestSigningEndsACourse(t *testing.T) {
	j, outs, _ := worked(t, technician.Competent())
	n := last(t, outs, act.MountIndicator)
	f, err := whatif.At(j, outs, n, say(t, "sign off"), quantity.Inch)
	require.NoError(t, err)
	assert.Empty(t, f.Other.Rest)
	assert.Zero(t, f.Other.Minutes)
	assert.Less(t, f.Other.Grade.Score, f.Yours.Grade.Score)
}

func TestWhatCannotBeAsked(t *testing.T) {
	j, outs, rep := worked(t, technician.Competent())
	for _, n := range []int{0, -1, len(outs) + 1} {
		_, err := whatif.At(j, outs, n, say(t, "sign off"), quantity.Inch)
		assert.ErrorIs(t, err, whatif.ErrNoSuchAct)
		_, err = whatif.Known(outs, rep, n)
		assert.ErrorIs(t, err, whatif.ErrNoSuchAct)
	}
	_, err := whatif.At(j, outs[:5], 3, say(t, "inspect cups"), quantity.Inch)
	assert.ErrorIs(t, err, whatif.ErrOpen)
	var no *history.Refusal
	_, err = whatif.At(j, outs, 1, say(t, "sign off"), quantity.Inch)
	assert.ErrorAs(t, err, &no)
}

// What a course takes is its minutes of work and the prices of its parts (package shop has both).
func TestACourseIsChargedItsParts(t *testing.T) {
	j, outs, _ := worked(t, technician.Competent())
	f, err := whatif.At(j, outs, 1, say(t, "replace gears"), quantity.Inch)
	require.NoError(t, err)
	work, parts := 0, 0
	for _, o := range append([]history.Step{f.Other.Shown}, f.Other.Rest...) {
		work += int(o.Minutes)
		for _, p := range o.Parts {
			parts += int(shop.PriceOf(p))
		}
	}
	assert.Positive(t, parts)
	assert.InDelta(t, work+parts, float64(f.Other.Minutes), 1)
}
