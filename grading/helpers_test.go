package grading_test

import (
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A bench is a stand that keeps every outcome and lets a test put other acts in the
// place of the one a hand wants to do.
type bench struct {
	*sim.Stand
	outs []history.Step
	seen map[act.Form]int
	// instead returns what is done in the place of the nth act of its form; an
	// empty list leaves it out. nil does every act as wanted.
	instead func(n int, a act.Act) []act.Act
}

func (b *bench) Do(a act.Act) (history.Step, error) {
	acts := []act.Act{a}
	if b.instead != nil {
		b.seen[a.Form]++
		acts = b.instead(b.seen[a.Form], a)
	}
	last := history.Step{Act: a}
	for _, x := range acts {
		o, err := b.Stand.Do(x)
		if err != nil {
			return o, err
		}
		b.outs = append(b.outs, o)
		last = o
	}
	return last, nil
}

func open(t testing.TB, j scenarios.Job) *bench {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	return &bench{Stand: s, seen: map[act.Form]int{}}
}

func job(t testing.TB, seed uint64) scenarios.Job {
	t.Helper()
	j, err := scenariostest.Generate(family.Beech(), seed)
	require.NoError(t, err)
	return j
}

// gains are the nominal gains of cards that came before, by what they depend on. A set of
// them does not change, and takes longer to work out than most attempts to grade.
var gains sync.Map

func gainsOf(t testing.TB, c scenarios.Card) sim.Gains {
	t.Helper()
	key := fmt.Sprintf("%+v %t", c.Family, c.UsedBearings)
	if g, ok := gains.Load(key); ok {
		return g.(sim.Gains)
	}
	g, err := sim.NominalGains(c.Family, c.UsedBearings)
	require.NoError(t, err)
	gains.Store(key, g)
	return g
}

// grade grades as grading.Grade does; TestGradeIsPure compares the two.
func grade(t testing.TB, j scenarios.Job, outs []history.Step) grading.Report {
	t.Helper()
	return grading.GradeWith(gainsOf(t, j.Card), cost.Default(), j.Card, outs, quantity.Inch)
}

// work has a hand work a job, with other acts put in, and grades it.
func work(t testing.TB, j scenarios.Job, h technician.Habits, instead func(n int, a act.Act) []act.Act) (grading.Report, *bench) {
	t.Helper()
	b := open(t, j)
	b.instead = instead
	require.NoError(t, technician.Work(b, j.Card.Known, h), "seed %d", j.Card.Seed)
	return grade(t, j, b.outs), b
}

// say reads an act the way a trainee would type it.
func say(line string) act.Act {
	a, err := act.Parse(line, quantity.Inch)
	if err != nil {
		panic(err)
	}
	return a
}

func says(lines ...string) []act.Act {
	var out []act.Act
	for _, l := range lines {
		out = append(out, say(l))
	}
	return out
}

// script does typed acts one after the other.
func script(t testing.TB, b *bench, lines ...string) {
	t.Helper()
	for _, l := range lines {
		_, err := b.Do(say(l))
		require.NoError(t, err, l)
	}
}

func inArea(rep grading.Report, a grading.Area) (lost float64, decisions int) {
	for _, d := range rep.Decisions {
		if d.Area == a {
			lost, decisions = lost+d.Lost, decisions+1
		}
	}
	return lost, decisions
}

func outcomeOf(rep grading.Report, id string) acceptance.Outcome {
	l, ok := acceptance.Find(rep.Acceptance, id)
	if !ok {
		return -1
	}
	return l.Outcome
}

// said is a message in English.
func said(m text.Message) string {
	return text.NewPrinter(quantity.Inch, text.Overlay{}).Print(m)
}

// charged is what the acts of a form cost by the book.
func charged(rep grading.Report, outs []history.Step, f act.Form) float64 {
	sum := 0.0
	for _, x := range rep.Lines {
		if outs[x.Act-1].Act.Form == f {
			sum += x.Charge
		}
	}
	return sum
}
