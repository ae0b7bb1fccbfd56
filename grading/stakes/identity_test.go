package stakes_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/cost"
	"shimwright/grading/ledger"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/misconception"
	"shimwright/scenarios/peopletest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
)

// A tally is the mean of a sample and how sure it is.
type tally struct{ n, sum, square float64 }

func (c *tally) add(x float64) { c.n, c.sum, c.square = c.n+1, c.sum+x, c.square+x*x }

func (c *tally) mean() float64 { return c.sum / c.n }

// error is the standard error of the mean.
func (c *tally) error() float64 {
	m := c.mean()
	return math.Sqrt(math.Max(c.square/c.n-m*m, 0) / max(c.n-1, 1))
}

// A way is one way of working a job. It may stop where it can do no more.
type way struct {
	name string
	work func(b technician.Bench, j scenarios.Job)
}

// by is the reference technician who departs from its way.
func by(name string, h technician.Habits, departs ...technician.Policy) way {
	return way{name, func(b technician.Bench, j scenarios.Job) { _ = technician.WorkBy(b, j.Card.Known, h, departs...) }}
}

// first does typed acts, as far as they can be done, and then works by the reference.
func first(name string, times int, lines ...string) way {
	return way{name, func(b technician.Bench, j scenarios.Job) {
		for range times {
			do(b, lines...)
		}
		_ = technician.Work(b, j.Card.Known, technician.Competent())
	}}
}

// before does typed acts in front of the first act of a form.
func before(name string, f act.Form, times int, lines ...string) way {
	return way{name, func(b technician.Bench, j scenarios.Job) {
		_ = technician.Work(&interrupted{b, f, func() {
			for range times {
				do(b, lines...)
			}
		}, false}, j.Card.Known, technician.Competent())
	}}
}

// interrupted is a bench at which something is done in front of the first act of a form.
type interrupted struct {
	technician.Bench
	at   act.Form
	work func()
	done bool
}

func (b *interrupted) Do(a act.Act) (out history.Step, err error) {
	if a.Form == b.at && !b.done {
		b.done = true
		b.work()
	}
	return b.Bench.Do(a)
}

func do(b technician.Bench, lines ...string) {
	for _, l := range lines {
		a, err := act.Parse(l, quantity.Inch)
		if err != nil {
			panic(err) // one of the lines of this file is wrong
		}
		_, _ = b.Do(a)
	}
}

// ways are the ways of working that the book is held against: sound ones, those of people
// with a misconception, and some that set out to spend for nothing.
func ways(t *testing.T) []way {
	t.Helper()
	out := []way{
		by("one wrong move", technician.Habits{WrongMoveOnce: true}),
		by("signs turned", technician.Habits{SignsTurned: true}),
		by("never measures", technician.Habits{NeverMeasures: true}),
		first("cups seated 40 times", 1, "inspect cups"),
		first("all parts replaced", 1, "replace gears", "replace bearings", "replace case", "replace seal", "replace spacer", "seat cups", "seat cones"),
		first("gears replaced twice", 2, "replace gears"),
		first("bearings greased and washed", 3, "grease bearings", "wash bearings"),
		first("inspected 100 times", 100, "inspect cups"),
		before("backlash read 60 times", act.PaintTeeth, 60, "measure backlash 1"),
		before("case out and in again", act.PaintTeeth, 3, "remove case", "fit case", "torque caps"),
		before("gauge read 20 times", act.RemovePinion, 20, "measure depth"),
		before("torque read 40 times", act.FitSideShims, 40, "measure torque rotating wrench"),
		before("case cleaned and new", act.FitCase, 1, "clean ring-gear", "replace case"),
		before("nut backed off", act.FitSideShims, 1, "loosen nut 20 deg"),
		before("nut pulled on", act.FitSideShims, 1, "tighten nut 40 deg"),
		{"at random first", func(b technician.Bench, j scenarios.Job) {
			chance := rng.Stream(j.Card.Seed, "hostile")
			lines := []string{"inspect cups", "seat cups", "replace seal", "wash bearings", "measure bearings", "clean shim-seat", "fit depth-shim 0.030in", "fit pinion mock-up", "measure depth", "remove pinion", "replace spacer", "test gauge"}
			for range 30 {
				do(b, lines[chance.Whole(len(lines))])
			}
			do(b, "remove pinion")
			_ = technician.Work(b, j.Card.Known, technician.Competent())
		}},
	}
	out[3].work = first("", 40, "seat cups").work
	for _, p := range append(peopletest.Schools(), peopletest.Hostiles()...) {
		out = append(out, way{p.Name, p.Work})
	}
	for _, m := range misconception.All() {
		out = append(out, by(m.ID, technician.Competent(), m.Policy))
	}
	return out
}

// A booked is what a job came to by its book, and in truth.
type booked struct {
	start, charge, allowed, luck, end float64
	spent, rest                       float64
	signed                            bool
}

// book has a job worked and books it.
func book(t *testing.T, j scenarios.Job, gains sim.Gains, w way) booked {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	b := &sim.Recorder{Stand: s}
	w.work(b, j)
	costs := cost.Default()
	// Who finishes an axle makes no pattern in a mock-up: it is allowed, and no value has it.
	rest, err := reveal.RestOf(costs, j, b.Steps, technician.Habits{PatternLast: true})
	require.NoError(t, err, "%s, job %d", w.name, j.Card.Seed)
	l := ledger.New(costs, j.Card, gains)
	start, lines := l.Book(b.Steps)
	out := booked{start: start.Min(), end: start.Min(), rest: rest, signed: b.Status().SignedOff}
	for _, x := range lines {
		out.charge, out.luck, out.spent, out.end = out.charge+x.Charge(), out.luck+x.Luck(), out.spent+x.Spent, x.After.Min()
		out.allowed += x.Allowed
	}
	// What holds by construction: not a minute is charged twice or lost.
	assert.InDelta(t, out.spent+out.end-out.start-out.luck-out.allowed, out.charge, 1e-6, "%s, job %d", w.name, j.Card.Seed)
	return out
}

// Over many jobs what one way of working is charged or allowed more than the reference
// technician is what it costs more in truth: in minutes, in parts, and in what the axles that it
// signs are going to cost at their true state, of which the book sees nothing. That is the
// performance-difference identity (S. Kakade and J. Langford, Approximately optimal
// approximate reinforcement learning, 2002, lemma 6.1; from memory); it holds as far as what
// is believed is right.
func TestChargesAreWhatWorkCosts(t *testing.T) {
	const sure, share, least = 3, 0.10, 4 // standard errors, of the true extra cost, minutes
	jobs := longtest.Pick[uint64](5, 4)   // of a family
	codes := longtest.Pick([]string{"BEECH"}, []string{"BEECH", "FIR", "JUNIPER"})
	all := ways(t)
	if !longtest.On() {
		const every = 5 // another part of them in each family would need another run
		all = slices.DeleteFunc(all, func(w way) bool {
			return slices.IndexFunc(all, func(x way) bool { return x.name == w.name })%every != 0
		})
	}
	type pair struct {
		job       scenarios.Job
		gains     sim.Gains
		reference booked
	}
	var pairs []pair
	var start, truth, luck tally
	for _, code := range codes {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		maker, err := scenarios.Order{Family: fam}.Maker()
		require.NoError(t, err)
		gains := map[bool]sim.Gains{}
		for _, used := range []bool{false, true} {
			gains[used], err = sim.NominalGains(fam, used)
			require.NoError(t, err)
		}
		for seed, n := uint64(21), uint64(0); n < jobs; seed++ {
			j, err := maker.Sketch(seed)
			require.NoError(t, err)
			one := book(t, j, gains[j.Card.UsedBearings], by("reference", technician.Competent()))
			if !one.signed {
				continue
			}
			n++
			pairs = append(pairs, pair{j, gains[j.Card.UsedBearings], one})
			start.add(one.start)
			truth.add(one.spent + one.rest - one.allowed)
			luck.add(one.luck)
		}
	}
	t.Logf("reference: expected %.0f, in truth %.0f ± %.0f, luck %+.1f ± %.1f", start.mean(), truth.mean(), truth.error(), luck.mean(), luck.error())
	assert.InDelta(t, truth.mean(), start.mean(), sure*truth.error()+0.1*truth.mean())
	assert.InDelta(t, 0, luck.mean(), sure*luck.error())
	kinds := 0
	for _, w := range all {
		var charge, extra, gap tally
		for _, p := range pairs {
			one := book(t, p.job, p.gains, w)
			c := one.charge + one.allowed - p.reference.charge - p.reference.allowed
			x := one.spent + one.rest - p.reference.spent - p.reference.rest
			charge.add(c)
			extra.add(x)
			gap.add(c - x)
		}
		kinds++
		t.Logf("%-58s charged %7.1f, in truth %7.1f, apart %+6.1f ± %.1f", w.name, charge.mean(), extra.mean(), gap.mean(), gap.error())
		room := sure*gap.error() + share*math.Abs(extra.mean()) + least
		assert.InDelta(t, 0, gap.mean(), room, w.name)
	}
	assert.GreaterOrEqual(t, kinds, longtest.Pick(12, 60))
}
