package reveal_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/reveal"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim/act"
	"shimwright/sim/family"
)

// Each case is argued from what the words mean: luck is judgement and outcome falling
// apart.
func TestLuckIsJudgementAgainstOutcome(t *testing.T) {
	n := 0
	decision := func(a grading.Area, score float64) grading.Decision {
		n++
		form := map[grading.Area]act.Form{grading.Depth: act.FitDepthShim, grading.Sides: act.FitSideShims, grading.Stopping: act.SignOff, grading.Looking: act.InspectCups}[a]
		return grading.Decision{Act: n, Form: form, Area: a, Score: score}
	}
	// An act that made the depth dear, and put no other shim in.
	built := func(score float64) grading.Decision {
		d := decision(grading.Depth, score)
		d.Form = act.FitPinion
		return d
	}
	right := []reveal.Line{{Line: verdict.PinionDepth, Met: true}, {Line: verdict.Backlash, Met: true}}
	wrong := []reveal.Line{{Line: verdict.PinionDepth}, {Line: verdict.Backlash, Met: true}}
	for name, c := range map[string]struct {
		decisions []grading.Decision
		lines     []reveal.Line
		want      []reveal.Luck
	}{
		"a gamble that came out right":                {[]grading.Decision{decision(grading.Depth, 0.2)}, right, []reveal.Luck{reveal.Lucky}},
		"a gamble that came out wrong":                {[]grading.Decision{decision(grading.Depth, 0.2)}, wrong, []reveal.Luck{reveal.AsExpected}},
		"a sound choice that came out wrong":          {[]grading.Decision{decision(grading.Depth, 1), decision(grading.Stopping, 1)}, wrong, []reveal.Luck{reveal.Unlucky, reveal.Unlucky}},
		"signed although the readings showed it":      {[]grading.Decision{decision(grading.Depth, 1), decision(grading.Stopping, 0.1)}, wrong, []reveal.Luck{reveal.AsExpected, reveal.AsExpected}},
		"another line is not this decision's":         {[]grading.Decision{decision(grading.Sides, 1), decision(grading.Stopping, 1)}, wrong, []reveal.Luck{reveal.AsExpected, reveal.Unlucky}},
		"a signature in the dark on a good axle":      {[]grading.Decision{decision(grading.Stopping, 0.1)}, right, []reveal.Luck{reveal.Lucky}},
		"the one before the last was replaced":        {[]grading.Decision{decision(grading.Depth, 0.2), decision(grading.Depth, 1)}, right, []reveal.Luck{reveal.Replaced, reveal.AsExpected}},
		"what stands on it does not replace it":       {[]grading.Decision{decision(grading.Depth, 0.2), built(1)}, right, []reveal.Luck{reveal.Lucky, reveal.AsExpected}},
		"a look left out does not show in the result": {[]grading.Decision{decision(grading.Looking, 0.1)}, right, []reveal.Luck{reveal.Unseen}},
	} {
		assert.Equal(t, c.want, reveal.LuckOf(grading.Report{Decisions: c.decisions}, c.lines), name)
	}
}

// The lines that an area answers for are lines of the verdict, on some design at least.
func TestAreasAnswerForLinesThereAre(t *testing.T) {
	lines := map[verdict.Line]bool{}
	for _, fam := range family.Shelf() {
		j, err := scenariostest.Generate(fam, 3)
		require.NoError(t, err)
		s, err := j.Stand()
		require.NoError(t, err)
		require.NoError(t, technician.Work(s, j.Card.Known, technician.Competent()))
		for _, i := range verdict.Check(fam, j.Card.UsedBearings, s.Sealed()) {
			lines[i.Line] = true
		}
	}
	for _, a := range []grading.Area{grading.Depth, grading.Preload, grading.Sides} {
		require.NotEmpty(t, reveal.Governs(a))
		for _, name := range reveal.Governs(a) {
			assert.True(t, lines[name], "%s: no line is called %q", a, name)
		}
	}
}
