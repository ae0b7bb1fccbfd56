package debrief_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A bench keeps what is done at a stand.
type bench struct {
	*sim.Stand
	outs []history.Step
}

func (b *bench) Do(a act.Act) (history.Step, error) {
	o, err := b.Stand.Do(a)
	if err == nil {
		b.outs = append(b.outs, o)
	}
	return o, err
}

// worked is a job with a wrong turn in it, worked to its end.
func worked(t *testing.T) (scenarios.Job, *bench) {
	t.Helper()
	job, err := scenariostest.Generate(family.Beech(), 3)
	require.NoError(t, err)
	stand, err := job.Stand()
	require.NoError(t, err)
	b := &bench{Stand: stand}
	require.NoError(t, technician.Work(b, job.Card.Known, technician.Habits{WrongMoveOnce: true}))
	return job, b
}

func TestWhatIsTold(t *testing.T) {
	job, b := worked(t)
	long, err := debrief.Of(cost.Default(), job, b.Stand, b.outs, quantity.Inch, true)
	require.NoError(t, err)
	short, err := debrief.Of(cost.Default(), job, b.Stand, b.outs, quantity.Inch, false)
	require.NoError(t, err)
	ds := long.Report.Decisions
	require.NotEmpty(t, long.Losses, "the wrong turn cost something")
	for i := range ds {
		assert.Equal(t, ds[i].Lost > debrief.Small, slices.Contains(long.Losses, i))
	}
	assert.Equal(t, long.Losses, short.Losses)
	assert.Len(t, long.Told, len(long.Losses))
	assert.Empty(t, short.Told, "decisions are told in full where that was asked for")
	assert.Equal(t, long.Fork, short.Fork)
	dearest := 0.0
	for _, told := range long.Told {
		assert.NotEmpty(t, told.Luck)
		assert.NotEmpty(t, told.Lesson.Family)
		assert.NotEqual(t, job.Card.Seed, told.Lesson.Seed)
		dearest = max(dearest, ds[told.Decision].Lost)
	}
	assert.True(t, slices.ContainsFunc(ds, func(d grading.Decision) bool { return d.Act == long.Fork && d.Lost == dearest }))
	assert.Equal(t, long.Report.Decisions[long.Report.Weakest].Lost, dearest, "another course is offered at the costliest act")
	require.NotNil(t, long.Last)
	assert.Equal(t, act.RollGears, b.outs[long.Last.Act-1].Act.Form)
	assert.NotEmpty(t, long.Last.Teeth)
	assert.Nil(t, short.Last)
}

// Of a job that is not signed off nothing is told that only the axle knows.
func TestAnOpenJobStaysSealed(t *testing.T) {
	job, b := worked(t)
	outs := b.outs[:len(b.outs)-1]
	d, err := debrief.Of(cost.Default(), job, b.Stand, outs, quantity.Inch, true)
	require.NoError(t, err)
	assert.Nil(t, d.Reveal)
	assert.Zero(t, d.Fork)
	for _, told := range d.Told {
		assert.Empty(t, told.Luck)
		assert.Equal(t, debrief.Again{Lesson: told.Lesson.Lesson, Seed: job.Card.Seed + 1}, told.Lesson)
	}
	assert.NoError(t, debrief.MayGrade(attempt.Practice, false))
	for _, m := range []attempt.Mode{attempt.Check, attempt.Exam} {
		assert.ErrorIs(t, debrief.MayGrade(m, false), debrief.ErrOpen)
		assert.NoError(t, debrief.MayGrade(m, true))
	}
}

// The cheapest way is set against the one that was taken where it would have saved time.
func TestCompare(t *testing.T) {
	a, b := grading.Alternative{What: "a", Minutes: 10}, grading.Alternative{What: "b", Minutes: 12, Chosen: true}
	assert.Equal(t, &debrief.Saved{Cheapest: a, Chosen: b}, debrief.Compare([]grading.Alternative{a, b}))
	b.Minutes = 10.01
	assert.Nil(t, debrief.Compare([]grading.Alternative{a, b}), "a hair is no difference")
	a.Chosen, b.Chosen = true, false
	assert.Nil(t, debrief.Compare([]grading.Alternative{a, b}))
	assert.Nil(t, debrief.Compare(nil))
}

// What is written as JSON is there to be read by programs that know nothing of ours: codes
// and numbers, and every field of the value.
func TestJSONReadsBack(t *testing.T) {
	job, b := worked(t)
	d, err := debrief.Of(cost.Default(), job, b.Stand, b.outs, quantity.Inch, true)
	require.NoError(t, err)
	data, err := json.Marshal(d)
	require.NoError(t, err)
	var back struct {
		Family string `json:"family"`
		Seed   string `json:"seed"`
		Losses []int  `json:"losses"`
		Grade  struct {
			Score     int         `json:"score"`
			Sum       grading.Sum `json:"sum"`
			Decisions []struct {
				Act  int
				Did  string
				Lost float64 `json:"minutes_lost"`
			} `json:"decisions"`
			Ledger     []grading.Line                           `json:"ledger"`
			Acceptance []struct{ ID, Outcome, Severity string } `json:"acceptance"`
		} `json:"grade"`
		Told   []debrief.Told `json:"told"`
		Reveal struct {
			Lines []struct {
				Line string
				Met  bool
			}
			AllMet bool `json:"all_met"`
		} `json:"reveal"`
	}
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, d.Family, back.Family)
	assert.Equal(t, strconv.FormatUint(d.Seed, 10), back.Seed)
	assert.Equal(t, d.Losses, back.Losses)
	assert.Equal(t, d.Report.Score, back.Grade.Score)
	assert.Equal(t, d.Report.Sum, back.Grade.Sum)
	assert.Equal(t, d.Report.Lines, back.Grade.Ledger)
	require.Len(t, back.Grade.Decisions, len(d.Report.Decisions))
	for i, x := range d.Report.Decisions {
		assert.Equal(t, x.Act, back.Grade.Decisions[i].Act)
		assert.Equal(t, x.Did, back.Grade.Decisions[i].Did)
		assert.InDelta(t, x.Lost, back.Grade.Decisions[i].Lost, 1e-9)
	}
	assert.Equal(t, d.Told, back.Told)
	assert.Equal(t, d.Reveal.AllMet, back.Reveal.AllMet)
	require.Len(t, back.Reveal.Lines, len(d.Reveal.Lines))
	for i, l := range d.Reveal.Lines {
		assert.Equal(t, string(l.Line), back.Reveal.Lines[i].Line)
		assert.Equal(t, l.Met, back.Reveal.Lines[i].Met)
	}
	require.Len(t, back.Grade.Acceptance, len(d.Report.Acceptance))
	for i, l := range d.Report.Acceptance {
		assert.Equal(t, struct{ ID, Outcome, Severity string }{l.ID, l.Outcome.String(), string(l.Severity)}, back.Grade.Acceptance[i])
	}
	empty, err := json.Marshal(debrief.New(job, grading.Report{}, nil, nil, false))
	require.NoError(t, err)
	assert.NotContains(t, string(empty), `"decisions":null`)
	assert.Contains(t, string(empty), `"losses":[]`)
}

// Which readings are worth a question: those read before, after a change; the torque once in
// a build, at its second reading; none where the trainee has just said it.
func TestWhatIsWorthForetelling(t *testing.T) {
	const lash, torque = "measure backlash 4", "measure torque rotating wrench"
	for _, c := range []struct {
		before []string
		next   string
		want   bool
	}{
		{nil, lash, false},
		{[]string{lash}, lash, false},
		{[]string{lash, "fit side-shims ring-gear 1mm opposite 1mm"}, lash, true},
		{[]string{lash, "fit side-shims ring-gear 1mm opposite 1mm", "expect 0.2mm"}, lash, false},
		{[]string{lash, "fit side-shims ring-gear 1mm opposite 1mm", lash}, lash, false},
		{[]string{lash, "turn ring-gear-adjuster in 2"}, lash, true},
		{[]string{"fit pinion final", "tighten nut 10deg"}, torque, false},
		{[]string{"fit pinion final", "tighten nut 10deg", torque}, torque, false},
		{[]string{"fit pinion final", torque, "tighten nut 10deg"}, torque, true},
		{[]string{"fit pinion final", torque, "tighten nut 10deg", torque, "tighten nut 10deg"}, torque, false},
		{[]string{torque, "tighten nut 10deg", "fit pinion final"}, torque, false},
		{[]string{lash, "fit side-shims ring-gear 1mm opposite 1mm"}, "roll gears braked", false},
	} {
		var outs []history.Step
		for _, line := range append(c.before, c.next) {
			a, err := act.Parse(line, quantity.Inch)
			require.NoError(t, err, line)
			outs = append(outs, history.Step{Act: a})
		}
		next := outs[len(outs)-1].Act.Form
		assert.Equal(t, c.want, debrief.WorthForetelling(next, outs[:len(outs)-1]), "%v, then %s", c.before, c.next)
	}
}

// The three lines say what the record shows: nothing is called proved that was not read, and
// an axle is called right only when it is.
func TestWhatIsSaidFirst(t *testing.T) {
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	job, err := scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}}.Generate(4)
	require.NoError(t, err)
	told := func(keep func(act.Act) bool, more ...string) debrief.Debriefing {
		stand, err := job.Stand()
		require.NoError(t, err)
		rec := &sim.Recorder{Stand: stand}
		require.NoError(t, technician.Work(rec, job.Card.Known, technician.Competent()))
		acts := rec.Steps
		stand, err = job.Stand()
		require.NoError(t, err)
		b := &bench{Stand: stand}
		for _, o := range acts {
			if o.Act.Form == act.SignOff {
				for _, line := range more {
					a, err := act.Parse(line, quantity.Inch)
					require.NoError(t, err)
					_, err = b.Do(a)
					require.NoError(t, err)
				}
			}
			if keep(o.Act) {
				_, _ = b.Do(o.Act)
			}
		}
		d, err := debrief.Of(cost.Default(), job, b.Stand, b.outs, quantity.Inch, true)
		require.NoError(t, err)
		return d
	}
	all := func(act.Act) bool { return true }
	right := told(all)
	assert.Equal(t, "said.right-proved", right.Said.Right.Code())
	assert.NotEmpty(t, right.Said.Well)
	assert.Contains(t, p.Print(right.Said.Well[0]), "contact pattern")

	blind := told(func(a act.Act) bool {
		return a.Form != act.PaintTeeth && a.Form != act.RollGears && a.Form != act.MeasureTorque
	})
	assert.NotContains(t, []string{"said.right-proved", "said.wrong-proved"}, blind.Said.Right.Code())
	assert.Contains(t, p.Print(blind.Said.Next), "contact pattern")
	assert.Contains(t, p.Print(blind.Said.Next), "was not read")
	for _, m := range blind.Said.Well {
		assert.NotContains(t, p.Print(m), "torque", "nothing of it was read")
	}

	loose := told(all, "remove case", "fit case")
	assert.Equal(t, "said.wrong-unproved", loose.Said.Right.Code())
	lines, open := 0, 0
	for _, l := range loose.Report.Acceptance {
		if l.Outcome != acceptance.NotApplicable {
			lines++
			if l.Outcome != acceptance.Proved {
				open++
			}
		}
	}
	assert.Positive(t, open)
	assert.Contains(t, p.Print(loose.Said.Right), fmt.Sprintf("%d of %d lines", open, lines))
	left := told(func(a act.Act) bool { return a.Form != act.SignOff })
	assert.Equal(t, "said.open", left.Said.Right.Code())
	empty := debrief.New(job, grading.Report{}, nil, nil, false)
	assert.Equal(t, "said.open", empty.Said.Right.Code())
}

// The bars of the picture are what was charged: as they are printed they add up to what the
// score counts, and every act is in one of them once.
func TestBookAddsUpAsPrinted(t *testing.T) {
	job, b := worked(t)
	for _, n := range []int{0, 20, len(b.outs) / 2, len(b.outs)} {
		d, err := debrief.Of(cost.Default(), job, b.Stand, b.outs[:min(n, len(b.outs)-1)], quantity.Inch, false)
		require.NoError(t, err)
		sum, acts := 0.0, 0
		for i, e := range d.Book {
			assert.Equal(t, strconv.FormatFloat(e.Minutes, 'f', 1, 64), strconv.FormatFloat(e.Minutes, 'f', -1, 64)+map[bool]string{true: ".0"}[e.Minutes == math.Trunc(e.Minutes)], "to a tenth")
			assert.False(t, e.Minutes == 0 && math.Signbit(e.Minutes), "no negative zero")
			sum += e.Minutes
			if acts++; e.Act == 0 {
				assert.Equal(t, len(d.Book)-1, i, "what is left stands last")
				acts += e.Acts - 1
			} else {
				assert.Greater(t, math.Abs(e.Minutes), debrief.Small-0.051)
			}
		}
		assert.InDelta(t, d.Report.Sum.ChargedMin, max(sum, 0), 1e-9, "%d acts", n)
		if len(d.Book) > 0 {
			assert.Equal(t, len(d.Report.Lines), acts)
		}
	}
}

// A choice is credited where it followed a reading taken since the choice before it, and only
// then; what it followed is said.
func TestWhatIsCreditedFollowedAReading(t *testing.T) {
	job, b := worked(t)
	d, err := debrief.Of(cost.Default(), job, b.Stand, b.outs, quantity.Inch, false)
	require.NoError(t, err)
	credited := 0
	for _, m := range d.Said.Well {
		if m.Code() != "said.well-placed" {
			continue
		}
		credited++
	}
	assert.Positive(t, credited)

	blind, err := job.Stand()
	require.NoError(t, err)
	bb := &bench{Stand: blind}
	require.NoError(t, technician.Work(bb, job.Card.Known, technician.Habits{NeverMeasures: true}))
	d, err = debrief.Of(cost.Default(), job, bb.Stand, bb.outs, quantity.Inch, false)
	require.NoError(t, err)
	for _, m := range d.Said.Well {
		assert.NotEqual(t, "said.well-placed", m.Code(), "nothing was read")
	}
}

// What an attempt was worked on and when is said whole, and what is not known is not.
func TestTermsAreSaid(t *testing.T) {
	say := func(m debrief.Terms) string {
		var all []string
		for _, one := range m.Messages() {
			all = append(all, text.NewPrinter(quantity.Inch, text.Overlay{}).Print(one))
		}
		return strings.Join(all, " ")
	}
	rec := attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch)
	assert.Equal(t, "Worked without an exercise, as practice with help full.", say(debrief.TermsOf(rec)))
	rec = attempt.New(attempt.Terms{Exercise: "friday", Digest: "0123abcd", Mode: attempt.Exam, Help: attempt.NoHelp}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch)
	rec.BeginAt(attempt.Begin{At: time.Date(2031, 2, 3, 4, 5, 6, 0, time.UTC), Earlier: 2})
	rec.AddAt(history.Step{Act: act.Act{Form: act.SignOff}}, time.Date(2031, 2, 3, 5, 6, 7, 0, time.UTC))
	assert.Equal(t, "Worked on exercise friday (its digest is 0123abcd), as exam with help none. Begun 2031-02-03 04:05:06 UTC. "+
		"Signed off 2031-02-03 05:06:07 UTC. 2 tries at the same job lay in the same folder before.", say(debrief.TermsOf(rec)))
}
