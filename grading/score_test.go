package grading_test

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/scenarios"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// numbers are those of a sentence, in its order.
func numbers(s string) []float64 {
	var out []float64
	for _, m := range regexp.MustCompile(`\d+(\.\d+)?`).FindAllString(s, -1) {
		x, _ := strconv.ParseFloat(m, 64)
		out = append(out, x)
	}
	return out
}

// byHand makes a score of what is printed: the formula's own sentences, the list with its
// outcomes and severities, the minutes charged. It shares no figure with the code.
func byHand(t *testing.T, lines []acceptance.Line, charged float64, signedOff bool) (right, cost, score int) {
	t.Helper()
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	var said []string
	for _, m := range grading.TheFormula().Messages() {
		said = append(said, p.Print(m))
	}
	require.Len(t, said, 4)
	weights, points, rate, caps := numbers(said[0]), numbers(said[1]), numbers(said[2]), numbers(said[3])
	require.Len(t, weights, 2, said[0])
	require.Len(t, points, 5, said[1]) // 100, the three, 0
	require.Len(t, rate, 4, said[2])   // 100, points, allowance, 0
	require.Len(t, caps, 3, said[3])
	r := points[0]
	most := 100.0
	for _, l := range lines {
		if l.Outcome != acceptance.Open && l.Outcome != acceptance.Contradicted {
			continue
		}
		switch l.Severity {
		case scenarios.Critical:
			r -= points[1]
			most = min(most, caps[0])
		case scenarios.Major:
			r -= points[2]
		case scenarios.Minor:
			r -= points[3]
		}
		if l.Outcome == acceptance.Contradicted && l.Severity != scenarios.Minor {
			most = min(most, caps[1])
		}
	}
	if !signedOff {
		most = min(most, caps[2])
	}
	r = max(r, points[4])
	c := rate[0]
	if charged > rate[2] {
		c -= rate[1] * (charged - rate[2])
	}
	c = max(float64(int(c+0.5)), rate[3])
	if c < 0.5 {
		c = 0
	}
	return int(r), int(c), int(min(most, float64(int((weights[0]*r+weights[1]*min(c, r))/100+0.5))))
}

// Every score of the panel, signed off or cut off anywhere, is what anybody gets from what is
// printed.
func TestScoreAddsUpByHand(t *testing.T) {
	held := map[grading.Hold]bool{}
	for _, p := range panel() {
		for _, one := range played(t, p.name) {
			for _, n := range []int{len(one.bench.outs), len(one.bench.outs) - 1, len(one.bench.outs) / 2} {
				rep := grade(t, one.job, one.bench.outs[:n])
				right, cost, score := byHand(t, rep.Acceptance, rep.Sum.ChargedMin, rep.SignedOff)
				assert.Equal(t, []int{right, cost, score}, []int{rep.Sum.Right, rep.Sum.Cost, rep.Score}, "%s, seed %d, %d acts", p.name, one.job.Card.Seed, n)
				assert.InDelta(t, rep.Lost, rep.Sum.ChargedMin, 0.051)
				held[rep.Sum.Hold] = true
			}
		}
	}
	assert.Len(t, held, 4, "each of the holds came up, and none: %v", held)
}

// What is printed of a sum are the figures of the sum.
func TestSumIsPrinted(t *testing.T) {
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	f := grading.TheFormula()
	lines := []acceptance.Line{
		{ID: "pattern", Severity: scenarios.Critical, Result: acceptance.Result{Outcome: acceptance.Open}},
		{ID: "runout", Severity: scenarios.Major, Result: acceptance.Result{Outcome: acceptance.Proved}},
		{ID: "backlash-variation", Severity: scenarios.Major, Result: acceptance.Result{Outcome: acceptance.Contradicted}},
	}
	s := f.Sum(lines, 31.24, true)
	var said []string
	for _, m := range s.Messages(f) {
		said = append(said, p.Print(m))
	}
	assert.Equal(t, []string{
		"Right 65: 100 less 35 points for 2 lines of the acceptance list not proved",
		"Cost 73: 100 less 1 for each of 31.2 charged minutes beyond 4",
		"Cost counts for no more than Right: 65",
		"60 % of 65 and 40 % of 65 make 65",
		"held at 49: a line of the acceptance list is contradicted",
	}, said)
	assert.Equal(t, 49, s.Score)
	assert.Equal(t, 100, f.Sum(nil, 0, true).Score)
	assert.Equal(t, f.OpenMost, f.Sum(nil, 0, false).Score)
	assert.Equal(t, 0, f.Sum(nil, 1e6, true).Cost)
}
