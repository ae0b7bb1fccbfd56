package class_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/class"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/scenariostest"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func rows() []class.Row {
	areas := []grading.AreaScore{{Area: grading.Looking, Score: 90}}
	fit := func(lost float64) class.Kind {
		return class.Kind{Did: "fit case", Area: grading.Sides, Lost: lost}
	}
	return []class.Row{
		{Pupil: "bo", Family: "BEECH", Seed: 10, File: "bo/b.jsonl", SignedOff: true, Counted: true, Score: 81, Areas: areas, Lost: 20, ByKind: []class.Kind{fit(19)}},
		{Pupil: "ann", Family: "BEECH", Seed: 9, File: "ann/a.jsonl", SignedOff: true, Counted: true, Score: 60, Areas: areas, Lost: 50, Misconception: "one-place",
			ByKind: []class.Kind{{Did: "sign off", Area: grading.Stopping, Lost: 40}, fit(10)}},
		{Pupil: "ann", Family: "BEECH", Seed: 9, File: "ann/b.jsonl", Score: 33, Areas: areas, Lost: 2, Misconception: "caps-snug"},
		{Pupil: "bo", Family: "BEECH", Seed: 9, File: "bo/a.jsonl", SignedOff: true, Counted: true, Score: 70, Areas: areas, Lost: 5, Misconception: "one-place"},
	}
}

// Worked out by hand: means, sums and order.
func TestAClassAddsUp(t *testing.T) {
	c := class.New(rows(), nil, nil)
	assert.Equal(t, class.Mean{Value: 211.0 / 3, Of: 3}, c.Means.Score)
	assert.Equal(t, class.Mean{Value: 77.0 / 4, Of: 4}, c.Means.Lost)
	sure := grading.TheSurety().PlusMinus
	assert.Equal(t, []class.PersonMean{{Pupil: "ann", Mean: class.Mean{Value: 60, Of: 1, Sure: sure(1)}}, {Pupil: "bo", Mean: class.Mean{Value: 75.5, Of: 2, Sure: sure(2)}}}, c.Means.People)
	assert.InDelta(t, sure(1)/2, sure(4), 1e-9, "four jobs are twice as sure as one")
	require.Len(t, c.Means.Areas, len(class.Areas()))
	assert.Equal(t, class.AreaMean{Area: grading.Looking, Mean: class.Mean{Value: 90, Of: 4}}, c.Means.Areas[0])
	assert.Equal(t, class.AreaMean{Area: grading.Depth}, c.Means.Areas[1])
	assert.Equal(t, []class.Kind{{Did: "sign off", Area: grading.Stopping, Lost: 10, In: 1}, {Did: "fit case", Area: grading.Sides, Lost: 7.25, In: 2}}, c.Dear)
	assert.Equal(t, []class.Held{{ID: "one-place", Attempts: 2}, {ID: "caps-snug", Attempts: 1}}, c.Misconceptions)
	var files []string
	for _, r := range c.Rows {
		files = append(files, r.File)
	}
	assert.Equal(t, []string{"ann/a.jsonl", "ann/b.jsonl", "bo/a.jsonl", "bo/b.jsonl"}, files)
	assert.Nil(t, class.New(nil, nil, nil).Means, "no attempt has no mean")
}

// The order in which attempts were handed in does not show.
func TestAClassHasOneOrder(t *testing.T) {
	want := class.New(rows(), nil, nil)
	shuffle := rand.New(rand.NewSource(1))
	for range 10 {
		some := rows()
		shuffle.Shuffle(len(some), func(i, j int) { some[i], some[j] = some[j], some[i] })
		assert.Equal(t, want, class.New(some, nil, nil))
	}
}

// handIn is an attempt with some acts done.
func handIn(t *testing.T, file string, terms attempt.Terms, seed uint64, acts ...string) class.Attempt {
	t.Helper()
	rec := attempt.New(terms, scenarios.Order{Family: family.Beech()}, "", seed, quantity.Inch)
	job, err := scenariostest.Generate(family.Beech(), seed)
	require.NoError(t, err)
	stand, err := job.Stand()
	require.NoError(t, err)
	for _, line := range acts {
		a, err := act.Parse(line, quantity.Inch)
		require.NoError(t, err)
		o, err := stand.Do(a)
		require.NoError(t, err, line)
		rec.Add(o)
	}
	return class.Attempt{Pupil: file, File: file, Record: rec}
}

func TestAttemptsAreGraded(t *testing.T) {
	acts := []string{"inspect cups", "fit depth-shim 0.030in", "fit pinion final", "fit side-shims ring-gear 0.070in opposite 0.070in", "fit case", "sign off"}
	gone := errors.New("no such file")
	var told []int
	c := class.Grade([]class.Attempt{
		handIn(t, "a", attempt.Terms{}, 7, acts...),
		handIn(t, "b", attempt.Terms{}, 7, acts...),
		handIn(t, "c", attempt.Terms{}, 8, acts[:2]...),
		handIn(t, "d", attempt.Terms{}, 8),
		handIn(t, "e", attempt.Terms{}, 8),
		handIn(t, "f", attempt.Terms{Exercise: "x", Mode: attempt.Exam, Help: attempt.NoHelp}, 7, acts[:2]...),
		{Pupil: "pupil of g", File: "g", Err: gone},
	}, cost.Default(), quantity.Inch, func(n int) { told = append(told, n) })
	assert.Equal(t, []int{1, 2, 3, 4, 5, 6, 7}, told)
	require.Len(t, c.Rows, 5)
	assert.Equal(t, [][]string{{"a", "b"}}, c.Same, "two attempts without an act are not the same attempt")
	r := c.Rows[0]
	assert.True(t, r.SignedOff)
	assert.NotNil(t, r.Dearest)
	assert.Positive(t, r.CriticalUnmet)
	require.NotEmpty(t, r.ByKind)
	sum := 0.0
	for _, k := range r.ByKind {
		sum += k.Lost
		assert.NotContains(t, k.Did, "{")
	}
	assert.GreaterOrEqual(t, sum, r.Lost-1, "all that was charged is in some kind; credits are not")
	assert.False(t, c.Rows[2].SignedOff)
	require.Len(t, c.Trouble, 2)
	assert.Equal(t, "f", c.Trouble[0].File)
	assert.ErrorIs(t, c.Trouble[0].Err, debrief.ErrOpen)
	assert.Equal(t, class.Trouble{Pupil: "pupil of g", File: "g", Why: text.Verbatim("no such file"), Err: gone}, c.Trouble[1])
	assert.Nil(t, c.Costs)

	other := cost.Default()
	other.ComebackMin++
	assert.Equal(t, other.Mark(), class.Grade(nil, other, quantity.Inch, nil).Costs.Mark)
}

// A job left open counts as its exercise says; one in an examination stays ungraded, and out
// of the class unless its exercise says how it counts.
func TestOpenJobsCountAsTheExerciseSays(t *testing.T) {
	done := handIn(t, "done", attempt.Terms{}, 7, "inspect cups", "fit depth-shim 0.030in", "fit pinion final", "fit side-shims ring-gear 0.070in opposite 0.070in", "fit case", "sign off")
	half := func(o attempt.OpenJob, m attempt.Mode) class.Attempt {
		terms := attempt.Terms{Exercise: "x", Mode: m, Open: o}
		if m != attempt.Practice {
			terms.Help = attempt.NoHelp
		}
		return handIn(t, "open", terms, 7, "inspect cups", "fit depth-shim 0.030in")
	}
	for _, c := range []struct {
		open attempt.OpenJob
		mode attempt.Mode
		rows int
		of   int
	}{
		{attempt.AsItStands, attempt.Practice, 2, 2},
		{attempt.CountsNothing, attempt.Practice, 2, 2},
		{attempt.NotCounted, attempt.Practice, 2, 1},
		{attempt.AsItStands, attempt.Exam, 1, 1},
		{attempt.CountsNothing, attempt.Exam, 2, 2},
		{attempt.NotCounted, attempt.Exam, 2, 1},
	} {
		got := class.Grade([]class.Attempt{done, half(c.open, c.mode)}, cost.Default(), quantity.Inch, func(int) {})
		require.Len(t, got.Rows, c.rows, "%s, %s", c.open, c.mode)
		assert.Equal(t, c.of, got.Means.Score.Of, "%s, %s", c.open, c.mode)
		assert.InDelta(t, float64(got.Rows[0].Score)/float64(c.of), got.Means.Score.Value-float64(openScore(got, c.of))/float64(c.of), 1e-9)
		if c.rows == 2 && c.open == attempt.CountsNothing {
			assert.Zero(t, got.Rows[1].Score)
		}
		assert.Len(t, got.Trouble, 2-c.rows)
	}
}

// openScore is what the second of two rows adds to the mean of so many.
func openScore(c class.Class, of int) int {
	if of < 2 {
		return 0
	}
	return c.Rows[1].Score
}

func TestJSONReadsBack(t *testing.T) {
	trouble, err := json.Marshal(class.Trouble{File: "c", Why: text.Say("class.test", "why"), Err: io.EOF})
	require.NoError(t, err)
	assert.JSONEq(t, `{"file":"c","why":"class.test"}`, string(trouble))
	c := class.New(rows(), [][]string{{"a", "b"}}, nil)
	data, err := json.Marshal(c)
	require.NoError(t, err)
	var back class.Class
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, c, back)
}

// A row says what its file says of terms and times; the same acts are the same attempt whenever
// they were done, and another attempt on other terms.
func TestARowSaysItsTerms(t *testing.T) {
	acts := []string{"inspect cups", "fit depth-shim 0.030in"}
	timed := handIn(t, "b", attempt.Terms{Exercise: "x", Digest: "d"}, 7)
	timed.Record.BeginAt(attempt.Begin{At: time.Date(2031, 2, 3, 4, 5, 6, 0, time.UTC), Earlier: 3})
	for _, e := range handIn(t, "", attempt.Terms{}, 7, acts...).Record.Entries {
		timed.Record.Add(history.Step{Act: e.Act})
	}
	c := class.Grade([]class.Attempt{handIn(t, "a", attempt.Terms{Exercise: "x", Digest: "d"}, 7, acts...), timed, handIn(t, "c", attempt.Terms{}, 7, acts...)}, cost.Default(), quantity.Inch, func(int) {})
	assert.Equal(t, [][]string{{"a", "b"}}, c.Same)

	open := handIn(t, "b", attempt.Terms{Exercise: "x", Digest: "d"}, 7)
	open.Record.BeginAt(timed.Record.Header.Begin)
	c = class.Grade([]class.Attempt{open}, cost.Default(), quantity.Inch, func(int) {})
	require.Len(t, c.Rows, 1)
	assert.Equal(t, class.Terms{Exercise: "x", Digest: "d", Mode: "practice", Help: "full", Mark: open.Record.Header.TermsMark(), Begun: "2031-02-03T04:05:06Z", Earlier: 3}, c.Rows[0].Terms)
}

// A pupil never vanishes: who has handed in nothing that can be graded is named, and so is who
// is on the roster and has handed in nothing, or is not on it.
func TestNoPupilVanishes(t *testing.T) {
	bad := errors.New("bad")
	c := class.New(rows(), nil, []class.Trouble{{Pupil: "cy", File: "cy/x", Err: bad}, {Pupil: "cy", File: "cy/y", Err: bad}, {Pupil: "bo", File: "bo/x", Err: bad}})
	assert.Equal(t, []string{"cy"}, c.Absent)
	c.CallRoll([]string{" Ann ", "dee", "", "Cy", "dee"})
	assert.Equal(t, []string{"cy", "dee"}, c.Absent)
	assert.Equal(t, []string{"bo"}, c.Strangers)
}

// However many jobs a class works, one that is let go is made again and graded the same.
func TestManyJobsAreGradedAlike(t *testing.T) {
	one := handIn(t, "a", attempt.Terms{}, 7, "inspect cups", "fit depth-shim 0.030in")
	const jobs = 25 // a few more than are held at once
	c := class.GradeEach(jobs+2, func(i int) class.Attempt {
		a, rec := one, *one.Record
		rec.Header.Exercise = fmt.Sprint(i % jobs) // by its terms another job each
		a.Record = &rec
		return a
	}, cost.Default(), quantity.Inch, func(int) {})
	require.Len(t, c.Rows, jobs+2)
	for _, r := range c.Rows {
		assert.Equal(t, c.Rows[0].Score, r.Score)
	}
}
