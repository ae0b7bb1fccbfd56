package stakes_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/misconception"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
)

// A tally is the mean of a sample and how sure it is.
type tally struct{ n, sum, square float64 }

func (c *tally) add(x float64) { c.n, c.sum, c.square = c.n+1, c.sum+x, c.square+x*x }

func (c *tally) mean() float64 { return c.sum / c.n }

// error is the standard error of the mean.
func (c *tally) error() float64 {
	m := c.mean()
	return math.Sqrt(math.Max(c.square/c.n-m*m, 0) / (c.n - 1))
}

// A priced is an attempt's regret and its cost: what was spent, and what the axle is still
// going to cost at its true state; and the luck at its signature, which is what the lines
// of the sheet are going to cost less what was believed they would.
type priced struct{ regret, cost, luck float64 }

func one(p technician.Policy) []technician.Policy { return []technician.Policy{p} }

// holding is the way of one who holds a misconception.
func holding(t *testing.T, id string) []technician.Policy {
	t.Helper()
	m, err := misconception.Find(id)
	require.NoError(t, err)
	return one(m.Policy)
}

// priceOf has a hand work a job and prices it. The second value is false for a hand that
// could not finish.
func priceOf(t *testing.T, j scenarios.Job, gains sim.Gains, h technician.Habits, departs ...technician.Policy) (priced, bool) {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	b := &sim.Recorder{Stand: s}
	if technician.WorkBy(b, j.Card.Known, h, departs...) != nil {
		return priced{}, false
	}
	costs := cost.Default()
	rep := grading.GradeWith(gains, costs, j.Card, b.Steps, quantity.Inch)
	bill := reveal.BillOf(costs, j.Card, b.Stand)
	believed := grading.ProspectOf(gains, costs, j.Card, b.Steps[:len(b.Steps)-1])
	return priced{rep.Lost, float64(rep.Minutes+rep.PartsMinutes) + bill.TotalMin(), bill.TotalMin() - bill.FaultsMin - believed.SignMin}, true
}

// Over many jobs the regrets of one way of working less those of another add up to what
// the one costs more than the other: the performance-difference identity (S. Kakade and J.
// Langford, Approximately optimal approximate reinforcement learning, 2002, lemma 6.1; from
// memory), with the best policy, whose cost nobody knows, taken out by the difference. It
// is exact where the prices are exact. Costs here are real: minutes spent, and what the
// true axle is going to cost, of which the grader sees nothing.
//
// Nothing in it holds by construction; the hands under "apart" break it, by less than the
// share given, and the comment of package grading says why.
func TestRegretsAddUpToWhatWorkCosts(t *testing.T) {
	jobs := longtest.Pick[uint64](8, 40)
	const sure = 3 // standard errors
	maker, err := scenarios.Order{Family: family.Beech()}.Maker()
	require.NoError(t, err)
	gains := map[bool]sim.Gains{}
	for _, used := range []bool{false, true} {
		gains[used], err = sim.NominalGains(family.Beech(), used)
		require.NoError(t, err)
	}
	careful := map[uint64]priced{}
	for _, who := range []struct {
		name    string
		habits  technician.Habits
		departs []technician.Policy
		apart   float64 // share of the cost by which regrets may miss it beyond chance
	}{
		{name: "careful"},
		{name: "one wrong move", habits: technician.Habits{WrongMoveOnce: true}},
		{name: "never measures", habits: technician.Habits{NeverMeasures: true}},
		{name: "signs turned", habits: technician.Habits{SignsTurned: true}},
		{name: "looks at nothing", departs: one(mistake.NothingInspected().Policy)},
		{name: "nothing gauged", departs: one(mistake.StarterKept())},
		{name: "stem tilted", departs: one(mistake.PlungerTilted().Policy), apart: 0.05},
		{name: "nut to its torque, drag never read", departs: holding(t, "torque-is-preload"), apart: 0.10},
		{name: "pinion free", departs: one(mistake.PinionFree().Policy), apart: 0.10},
		{name: "overshot", departs: one(mistake.Overshot().Policy), apart: 0.10},
		{name: "first pull", departs: one(mistake.AtBreakaway().Policy), apart: 0.35},
		{name: "mark turned", departs: one(mistake.MarkTurned().Policy), apart: 0.35},
		{name: "backed off", departs: one(mistake.BackedOff().Policy), apart: 0.25},
		{name: "greased", departs: holding(t, "greased"), apart: 0.35},
		{name: "print chased", departs: holding(t, "picture-chased"), apart: 0.45},
	} {
		var regret, cost, gap, luck tally
		for seed := uint64(1); seed <= jobs; seed++ {
			j, err := maker.Sketch(seed)
			require.NoError(t, err)
			one, finished := priceOf(t, j, gains[j.Card.UsedBearings], who.habits, who.departs...)
			if !finished {
				continue
			}
			luck.add(one.luck)
			if who.name == "careful" {
				careful[seed] = one
				continue
			}
			base, ok := careful[seed]
			if !ok {
				continue
			}
			regret.add(one.regret - base.regret)
			cost.add(one.cost - base.cost)
			gap.add(one.regret - base.regret - (one.cost - base.cost))
		}
		if who.name == "careful" {
			t.Logf("%-35s luck at the signature %+6.1f ± %.1f", who.name, luck.mean(), luck.error())
			assert.InDelta(t, 0, luck.mean(), sure*luck.error()+unsureMin, who.name)
			continue
		}
		t.Logf("%-35s regrets %6.1f, costs %6.1f, apart %+6.1f ± %.1f; luck at the signature %+6.1f ± %.1f",
			who.name, regret.mean(), cost.mean(), gap.mean(), gap.error(), luck.mean(), luck.error())
		assert.InDelta(t, 0, gap.mean(), sure*gap.error()+who.apart*cost.mean(), who.name)
		if who.apart == 0 {
			assert.InDelta(t, 0, luck.mean(), sure*luck.error()+unsureMin, who.name)
		}
	}
}

// unsureMin is how far beyond chance the luck at a signature may be from zero, minutes: a
// limit is sharper than the normal shapes that a belief is made of.
const unsureMin = 1
