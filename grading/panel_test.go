package grading_test

import (
	"math"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/inference"
	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// The simulated trainees work one and the same set of jobs.
var panelSeeds = longtest.Pick[uint64](8, 20)

type trainee struct {
	name   string
	habits technician.Habits
}

func panel() []trainee {
	return []trainee{{"competent", technician.Competent()}, {"one wrong move", technician.Habits{WrongMoveOnce: true}},
		{"signs turned", technician.Habits{SignsTurned: true}}, {"never measures", technician.Habits{NeverMeasures: true}}}
}

// A play is one trainee's attempt at one job.
type play struct {
	job   scenarios.Job
	bench *bench
	rep   grading.Report
	moved bool // the wrong move was made: the job called for a move at all
}

var plays = sync.OnceValues(func() (map[string][]play, error) {
	out := map[string][]play{}
	for seed := uint64(1); seed <= panelSeeds; seed++ {
		j, err := scenariostest.Generate(family.Beech(), seed)
		if err != nil {
			return nil, err
		}
		for _, p := range panel() {
			s, err := j.Stand()
			if err != nil {
				return nil, err
			}
			one := play{job: j, bench: &bench{Stand: s}}
			h := p.habits
			h.Say = func(why text.Message) { one.moved = one.moved || why.Code() == "technician.backlash.wrong-way" }
			if err := technician.Work(one.bench, j.Card.Known, h); err != nil {
				return nil, err
			}
			if one.rep, err = grading.Grade(j.Card, one.bench.outs, 0); err != nil {
				return nil, err
			}
			out[p.name] = append(out[p.name], one)
		}
	}
	return out, nil
})

func played(t *testing.T, name string) []play {
	t.Helper()
	all, err := plays()
	require.NoError(t, err)
	return all[name]
}

// Known groups come out in their order, with room between them, on every job.
func TestGraderTellsGoodWorkFromBad(t *testing.T) {
	const (
		leastMean = 85 // for the competent hand; an acceptance figure of this project
		margin    = 30 // points on every job between sound work and work that cannot come right
	)
	mean := map[string]float64{}
	for _, p := range panel() {
		low, high := 100, 0
		for _, one := range played(t, p.name) {
			mean[p.name] += float64(one.rep.Score) / float64(panelSeeds)
			low, high = min(low, one.rep.Score), max(high, one.rep.Score)
		}
		t.Logf("%-15s mean %.1f, from %d to %d", p.name, mean[p.name], low, high)
	}
	good := played(t, "competent")
	assert.GreaterOrEqual(t, mean["competent"], float64(leastMean))
	moved, cost := 0, 0.0
	for i := range good {
		seed := good[i].job.Card.Seed
		wrong := played(t, "one wrong move")[i]
		assert.GreaterOrEqual(t, good[i].rep.Score, wrong.rep.Score, "seed %d", seed)
		if wrong.moved {
			moved, cost = moved+1, cost+wrong.rep.Lost-good[i].rep.Lost
		}
		for _, bad := range []string{"signs turned", "never measures"} {
			b := played(t, bad)[i].rep.Score
			assert.GreaterOrEqual(t, good[i].rep.Score, b+margin, "seed %d, %s", seed, bad)
			assert.GreaterOrEqual(t, wrong.rep.Score, b+margin, "seed %d, one wrong move against %s", seed, bad)
			assert.LessOrEqual(t, b, 49, "seed %d: %s passes", seed, bad)
		}
	}
	// In the mean: after it a job goes another way, and by luck that one is sometimes shorter.
	t.Logf("one wrong move: %.0f minutes a job more, on %d jobs", cost/float64(moved), moved)
	assert.Greater(t, cost/float64(moved), 10.0, "the wrong move cost nothing")
	assert.Greater(t, mean["competent"], mean["one wrong move"]+3, "some 15 minutes, of which the first are free")
	assert.Greater(t, mean["one wrong move"], mean["signs turned"]+margin)
	assert.Greater(t, mean["one wrong move"], mean["never measures"]+margin)
}

// The move of the ring gear the wrong way is what a debrief of that attempt is about.
func TestWrongSideMoveTeachesSideShims(t *testing.T) {
	moves, taught := 0, false
	for _, one := range played(t, "one wrong move") {
		if !one.moved {
			continue
		}
		moves++
		taught = taught || slices.ContainsFunc(one.rep.Decisions, func(d grading.Decision) bool {
			return d.Lesson == "side-shims" && d.Area == grading.Sides && d.Lost > 5
		})
	}
	assert.GreaterOrEqual(t, moves, int(panelSeeds)/2)
	assert.True(t, taught, "a wrong move is what some decision is about")
}

// The hand that never measures puts the old depth shim back too, which is an idea of its
// own and plainer than what else it leaves out.
func TestBadHabitsGetALessonOfTheirOwn(t *testing.T) {
	for _, one := range played(t, "never measures") {
		assert.Contains(t, []string{"crush-spacer", "backlash-reading", "inspect-first", "depth-mark"}, one.rep.Lesson)
	}
	for _, one := range played(t, "signs turned") {
		assert.Contains(t, []string{"backlash-reading", "depth-height", "depth-gauge", "side-shims", "total-torque", "depth-mark"}, one.rep.Lesson)
	}
}

// Whatever the play, a report keeps within its bounds and every lesson it names can
// be opened.
func TestReportsKeepWithinBounds(t *testing.T) {
	for _, p := range panel() {
		for _, one := range played(t, p.name) {
			checkBounds(t, one.rep)
			assert.True(t, one.rep.SignedOff)
			assert.Equal(t, one.bench.Status().Minutes, one.rep.Minutes)
			assert.Equal(t, one.bench.Status().PartsMinutes, one.rep.PartsMinutes)
		}
	}
}

type failer interface {
	Errorf(format string, args ...any)
}

func checkBounds(t failer, rep grading.Report) {
	assert.GreaterOrEqual(t, rep.Score, 0)
	assert.LessOrEqual(t, rep.Score, 100)
	for _, a := range rep.Areas {
		assert.GreaterOrEqual(t, a.Score, 0)
		assert.LessOrEqual(t, a.Score, 100)
		assert.GreaterOrEqual(t, a.Lost, 0.0)
		assert.Positive(t, a.Decisions)
	}
	for _, d := range rep.Decisions {
		assert.GreaterOrEqual(t, d.Lost, 0.0, "%s", d.Did)
		assert.False(t, math.IsNaN(d.Lost) || math.IsInf(d.Lost, 0), "%s", d.Did)
		assert.GreaterOrEqual(t, d.Score, 0.0)
		assert.LessOrEqual(t, d.Score, 1.0)
		assert.False(t, d.KnewMessage().IsZero())
		_, err := lessons.Find(d.Lesson)
		assert.NoError(t, err)
	}
	for _, l := range rep.Acceptance {
		_, err := lessons.Find(l.Lesson)
		assert.NoError(t, err)
		assert.False(t, l.Source.IsZero(), l.ID)
		assert.False(t, l.Asks.IsZero(), l.ID)
		assert.Equal(t, l.Outcome != acceptance.NotApplicable, !l.Evidence.Message().IsZero(), l.ID)
	}
	assert.Less(t, rep.Weakest, len(rep.Decisions))
	if rep.Lesson != "" {
		_, err := lessons.Find(rep.Lesson)
		assert.NoError(t, err)
	}
}

// What the reasoner believes after a competent attempt is as uncertain as it is
// wrong: the error of the depth shim, and of the side-shim total at line-to-line, in
// standard deviations of the belief, has a root mean square near one. A belief far
// too sure, or far too unsure, would price decisions wrongly.
func TestBeliefIsCalibrated(t *testing.T) {
	// The root mean square of 300 normal errors has a standard error of 0.04, their mean one
	// of 0.06; of 60, 0.09 and 0.13.
	jobs, band, shift := longtest.Pick[uint64](60, 300), longtest.Pick(0.4, 0.3), longtest.Pick(0.4, 0.3)
	// The share beyond 2.5 standard deviations is 0.012 for a normal error.
	tails := longtest.Pick(0.07, 0.04)
	type tally struct {
		n, sum, square, far float64
	}
	var shim, line tally
	add := func(c *tally, true float64, e inference.Law) {
		z := (true - e.Mean) / e.SD
		c.n, c.sum, c.square = c.n+1, c.sum+z, c.square+z*z
		if math.Abs(z) > 2.5 {
			c.far++
		}
	}
	for seed := uint64(1); seed <= jobs; seed++ {
		j, err := scenariostest.Sketch(family.Beech(), seed)
		require.NoError(t, err)
		b := open(t, j)
		require.NoError(t, technician.Work(b, j.Card.Known, technician.Competent()))
		held, err := inference.Believe(j.Card, b.outs)
		require.NoError(t, err)
		x, _ := truth.Open(b.Sealed())
		add(&shim, x.IdealShimMM-x.InnerCupGapMM-x.ShimDirtMM, held.Shim)
		add(&line, x.RingGearZeroMM+x.OppositeZeroMM-x.RingGearConeGapMM-x.OppositeConeGapMM, held.Line)
	}
	for name, c := range map[string]tally{"depth shim": shim, "line total": line} {
		rms, mean := math.Sqrt(c.square/c.n), c.sum/c.n
		t.Logf("%s: error over standard deviation has mean %+.2f, rms %.2f, %.1f %% beyond 2.5", name, mean, rms, 100*c.far/c.n)
		assert.InDelta(t, 1, rms, band, name)
		assert.InDelta(t, 0, mean, shift, name)
		assert.LessOrEqual(t, c.far/c.n, tails, name)
	}
}

func BenchmarkGrade(b *testing.B) {
	j := job(b, 7)
	_, w := work(b, j, technician.Competent(), nil)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := grading.Grade(j.Card, w.outs, 0); err != nil {
			b.Fatal(err)
		}
	}
}
