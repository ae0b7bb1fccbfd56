package view

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/debrief"
	"shimwright/lessons"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// The lesson about signing says how a job is scored in the words, and by the figures, that
// grades are reckoned with.
func TestTheLessonHasTheFormula(t *testing.T) {
	l, err := lessons.Find("check-again")
	require.NoError(t, err)
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	for _, m := range append(grading.TheFormula().Messages(), grading.TheSurety().Messages()[0]) {
		assert.Contains(t, flat(l.Body), p.Print(m))
	}
	assert.Len(t, HowScored(p), len(grading.TheFormula().Messages())+len(grading.TheSurety().Messages()))
}

// numbers takes the figures out of what a pattern finds in a text.
func numbers(t *testing.T, pattern, in string) []float64 {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(in)
	require.NotNil(t, m, "%s in %s", pattern, in)
	var out []float64
	for _, s := range m[1:] {
		x, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		out = append(out, x)
	}
	return out
}

// Who takes the figures of a debrief as they are printed, and the rule of help score as it is
// printed, comes to the score that is printed: bars to minutes, lines to points, both to the
// score.
func TestADebriefAddsUpByHand(t *testing.T) {
	p := Pen{Printer: text.NewPrinter(quantity.Inch, text.Overlay{}), Width: 100}
	rule := strings.Join(HowScored(p.Printer), " ")
	share := numbers(t, `Score = (\d+) % of Right \+ (\d+) % of Cost`, rule)
	each := numbers(t, `Cost is 100 less (\d+) for each minute charged beyond the first (\d+) min`, rule)
	most := numbers(t, `at most (\d+) where a critical line is not proved, at most (\d+) where a critical or major line is contradicted, and at most (\d+) while`, rule)
	perLine := numbers(t, `less (\d+) points for each critical line .*, (\d+) for each major one and (\d+) for each minor one`, rule)
	held := 0
	for name, c := range map[string]struct {
		habits technician.Habits
		leave  int // acts at the end
	}{
		"careful": {}, "one wrong way": {technician.Habits{WrongMoveOnce: true}, 0}, "blind": {technician.Habits{NeverMeasures: true}, 0}, "left open": {technician.Habits{}, 1},
	} {
		b := work(t, family.Beech(), 3, c.habits)
		outs := b.outs[:len(b.outs)-c.leave]
		rep, err := grading.Grade(b.job.Card, outs, quantity.Inch)
		require.NoError(t, err)
		page, err := NewDebrief(debrief.New(b.job, rep, nil, outs, true), DebriefWith{Printer: p.Printer, Full: true}).Text(p)
		require.NoError(t, err)
		all := flat(page)

		bars := 0.0
		for _, m := range regexp.MustCompile(`(?m)^(?:\d+ [a-z]|the other).* (-?\d+\.\d) min`).FindAllStringSubmatch(page, -1) {
			x, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			bars += x
		}
		charged := numbers(t, `each of (\d+\.\d) charged minutes`, all)[0]
		assert.InDelta(t, charged, math.Max(bars, 0), 1e-6, name)

		right, missed := 100.0, map[string]bool{}
		for _, m := range regexp.MustCompile(`(not proved|contradicted) \((critical|major|minor), (\d+) points\):`).FindAllStringSubmatch(all, -1) {
			points, _ := strconv.ParseFloat(m[3], 64)
			assert.Equal(t, perLine[map[string]int{"critical": 0, "major": 1, "minor": 2}[m[2]]], points)
			right -= points
			missed[m[1]+" "+m[2]] = true
		}
		right = math.Max(right, 0)
		assert.Equal(t, right, numbers(t, `Right (\d+): 100 less`, all)[0], name)
		cost := math.Max(0, math.Round(100-each[0]*math.Max(0, charged-each[1])))
		assert.Equal(t, cost, numbers(t, `Cost (\d+): 100 less`, all)[0], name)
		score := math.Floor((share[0]*right+share[1]*math.Min(cost, right))/100 + 0.5)
		hold := func(so bool, at float64) {
			if so && score > at {
				score, held = at, held+1
			}
		}
		hold(missed["not proved critical"] || missed["contradicted critical"], most[0])
		hold(missed["contradicted critical"] || missed["contradicted major"], most[1])
		hold(!rep.SignedOff, most[2])
		assert.Equal(t, score, numbers(t, `Debrief: (\d+) out of 100`, all)[0], name)
	}
	assert.Positive(t, held, "something was held back")
}
