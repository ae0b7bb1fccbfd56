package grading_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func gradeAt(t testing.TB, costs cost.Table, one play) grading.Report {
	t.Helper()
	rep, err := grading.GradeAt(costs, one.job.Card, one.bench.outs, quantity.Inch)
	require.NoError(t, err)
	return rep
}

// The same costs give the same grade to the last byte, wherever the table came from.
func TestCostsReadBackGradeTheSame(t *testing.T) {
	dear := cost.Default()
	dear.Name, dear.ComebackMin, dear.PlaceMin = "dear", 600, 2.5
	dearAgain, problems := cost.Read(cost.Text(dear, text.Printer{}), "x")
	require.Empty(t, problems)
	own, problems := cost.Read(cost.Text(cost.Default(), text.Printer{}), "x")
	require.Empty(t, problems)
	for _, name := range []string{"competent", "never measures"} {
		for _, one := range played(t, name)[:longtest.Pick(1, 4)] {
			assert.Equal(t, asJSON(t, one.rep), asJSON(t, gradeAt(t, own, one)), "a written-out default is the default")
			first := gradeAt(t, dear, one)
			assert.Equal(t, asJSON(t, first), asJSON(t, gradeAt(t, dearAgain, one)))
			assert.NotEqual(t, asJSON(t, one.rep), asJSON(t, first))
		}
	}
}

// A report says which costs it was made with when they are not the program's own.
func TestReportNamesOtherCosts(t *testing.T) {
	one := played(t, "competent")[0]
	assert.Nil(t, one.rep.Costs)
	assert.NotContains(t, asJSON(t, one.rep), `"costs"`)
	mine := cost.Default()
	mine.Name, mine.SideComebackMin = "night class", 200
	rep := gradeAt(t, mine, one)
	require.NotNil(t, rep.Costs)
	assert.Equal(t, grading.CostsUsed{Name: "night class", Mark: mine.Mark()}, *rep.Costs)
	assert.Contains(t, asJSON(t, rep), `"costs":{"name":"night class"`)
}

// Every kind of price reaches the grade: what a comeback costs, work, parts, late faults,
// damage and the allowance each change some report.
func TestEveryGroupOfCostsCounts(t *testing.T) {
	change := map[string]func(*cost.Table){
		"comebacks": func(c *cost.Table) { c.ComebackMin *= 2 },
		"side":      func(c *cost.Table) { c.SideComebackMin *= 2 },
		"runout":    func(c *cost.Table) { c.RunoutComebackMin *= 2 },
		"places":    func(c *cost.Table) { c.PlaceMin *= 3 },
		"allowance": func(c *cost.Table) { c.AllowanceMin = 0 },
		"fade":      func(c *cost.Table) { c.FadeMin /= 2 },
	}
	for what, f := range change {
		costs := cost.Default()
		f(&costs)
		differs := false
		for _, name := range []string{"one wrong move", "never measures"} {
			for _, one := range played(t, name)[:longtest.Pick(2, 4)] {
				rep := gradeAt(t, costs, one)
				checkBounds(t, rep)
				rep.Costs = nil
				differs = differs || asJSON(t, rep) != asJSON(t, one.rep)
			}
		}
		assert.True(t, differs, what)
	}
}
