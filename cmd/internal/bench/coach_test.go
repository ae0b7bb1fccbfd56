package bench_test

import (
	"bytes"
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/view"
	"shimwright/grading"
	"shimwright/grading/coach"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/grading/skill"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// coached opens a coached job; what it keeps is a whole file.
func coached(t *testing.T, o scenarios.Order) (*bench.Bench, *keeper) {
	t.Helper()
	rec := attempt.New(attempt.Terms{Help: attempt.CoachHelp}, o, "", 7, quantity.Inch)
	b, err := bench.Open(rec)
	require.NoError(t, err)
	k := &keeper{lines: [][]byte{rec.HeaderLine()}}
	b.Keep(k)
	return b, k
}

// again reads what was kept, and opens it.
func (k *keeper) again(t *testing.T) *bench.Bench {
	t.Helper()
	rec, err := attempt.Read(bytes.NewReader(bytes.Join(k.lines, nil)))
	require.NoError(t, err)
	b, err := bench.Open(rec)
	require.NoError(t, err)
	return b
}

// What the coach says of each act adds up to the debrief; each stage's purpose is said once;
// an answer does not keep a person waiting.
func TestACoachedJob(t *testing.T) {
	b, k := coached(t, scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}})
	var entered []bench.Stage
	slowest := time.Duration(0)
	spoken := 0
	const most = 150
	for range most {
		v := b.View(quantity.Inch)
		if v.Entering {
			entered = append(entered, v.At)
		}
		next, ok := b.Hint()
		if !ok {
			break
		}
		began := time.Now()
		_, err := b.Do(next)
		slowest = max(slowest, time.Since(began))
		require.NoError(t, err, next)
		if v := b.View(quantity.Inch); v.Word != nil {
			spoken++
			assert.Len(t, v.Word.Messages(), 2)
			assert.Equal(t, len(b.Shown()), v.Word.Act)
		}
	}
	require.True(t, b.Status().SignedOff)
	assert.Equal(t, []bench.Stage{bench.Inspect, bench.Depth, bench.PinionPreload, bench.Sides, bench.ContactPattern, bench.Prove}, entered)
	assert.Greater(t, spoken, 10)
	d, err := b.Debrief(cost.Default(), quantity.Inch, true)
	require.NoError(t, err)
	last, ok := b.LastWord()
	require.True(t, ok)
	assert.Equal(t, d.Report.Lost, last.SoFar)
	assert.Equal(t, &debrief.Coached{}, d.Coached)
	for i, w := range b.Words() {
		assert.Equal(t, d.Report.Lines[i], w.Line)
	}
	assert.Less(t, slowest, time.Second, "100 ms on a machine of one's own")
	t.Logf("slowest act %v", slowest)
	assert.Zero(t, b.FallAway(), "what is signed off stands")
	assert.Equal(t, b.Words(), k.again(t).Words())
}

// Taking back returns to before the last decision, and the job goes on from there as if what
// came after had not been done.
func TestTakingBack(t *testing.T) {
	b, k := coached(t, scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}})
	_, err := b.TakeBack()
	require.ErrorIs(t, err, attempt.ErrStands)
	for _, line := range []string{"inspect cups", "inspect shim-seat", "fit depth-shim 0.040in"} {
		do(t, b, line)
	}
	before := b.Words()[1]
	assert.Equal(t, 1, b.FallAway())
	fell, err := b.TakeBack()
	require.NoError(t, err)
	assert.Len(t, fell, 1)
	assert.Equal(t, act.FitDepthShim, fell[0].Act.Form)
	assert.Zero(t, b.Status().DepthShim)
	assert.Equal(t, 2, b.Status().Acts)
	last := b.Words()
	assert.Equal(t, before, last[len(last)-1])

	for _, line := range []string{"fit depth-shim 0.030in", "fit pinion mock-up", "measure depth"} {
		do(t, b, line)
	}
	read := b.Shown()[4]
	assert.Equal(t, 2, b.FallAway(), "the pinion that was fitted, and the reading after it")
	_, err = b.TakeBack()
	require.NoError(t, err)
	for _, line := range []string{"fit pinion mock-up", "measure depth"} {
		do(t, b, line)
	}
	assert.Equal(t, read, b.Shown()[4], "the same acts show the same")

	again := k.again(t)
	assert.Equal(t, b.Shown(), again.Shown())
	assert.Equal(t, b.Words(), again.Words())
	assert.Equal(t, b.Status(), again.Status())

	d, err := again.Debrief(cost.Default(), quantity.Inch, false)
	require.NoError(t, err)
	assert.Equal(t, &debrief.Coached{TakenBack: 2}, d.Coached)
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	assert.Contains(t, view.NewDebrief(d, view.DebriefWith{Printer: p}).Sum, "Coached: a coach answered each decision, 0 acts were done by the coach to show how, and decisions were taken back 2 times.")

	k.fail = errors.New("disk full")
	_, err = b.TakeBack()
	assert.ErrorIs(t, err, k.fail)
	assert.Len(t, b.Shown(), 5, "what is not kept has not been taken back")

	plain, _ := open(t, scenarios.Order{Family: family.Beech()})
	do(t, plain, "fit depth-shim 0.040in")
	assert.Nil(t, plain.View(quantity.Inch).Word)
	assert.Empty(t, plain.Words())
	_, err = plain.TakeBack()
	assert.ErrorIs(t, err, attempt.ErrStands)
}

// The coach works a first stage as an example: its acts are kept, marked, and stay.
func TestTheFirstStageIsShown(t *testing.T) {
	for _, kind := range []scenarios.Kind{scenarios.WholeJob, scenarios.DepthJob, scenarios.PreloadJob, scenarios.SidesJob, scenarios.PatternJob} {
		b, k := coached(t, scenarios.Order{Family: family.Beech(), Kind: kind, Faults: scenarios.FaultRule{None: true}})
		shown, err := b.ShowStage()
		require.NoError(t, err)
		assert.Len(t, k.lines, 1+len(shown))
		for _, l := range k.lines[1:] {
			assert.Contains(t, string(l), `"by_coach":true`)
		}
		assert.Zero(t, b.FallAway())
		if kind == scenarios.WholeJob || kind == scenarios.DepthJob {
			assert.Equal(t, bench.Depth, b.View(quantity.Inch).At, kind)
			assert.True(t, b.View(quantity.Inch).Entering)
			do(t, b, "fit depth-shim 0.030in")
			assert.Equal(t, 1, b.FallAway())
		}
		again, err := b.ShowStage()
		require.NoError(t, err)
		assert.Empty(t, again)
		assert.Equal(t, b.Shown(), k.again(t).Shown())
		t.Logf("%s: %d acts shown", kind, len(shown))
	}
}

func TestHintsSayMoreEachTime(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech()})
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	seen := map[string]bool{}
	const most = 150
	for range most {
		next, ok := b.Hint()
		if !ok {
			break
		}
		one, two, three := p.Print(b.HintAt(1)), p.Print(b.HintAt(2)), p.Print(b.HintAt(3))
		assert.NotContains(t, one, next.String())
		assert.NotContains(t, two, next.String())
		assert.Contains(t, three, next.String())
		seen[one] = true
		_, err := b.Do(next)
		require.NoError(t, err)
	}
	assert.Greater(t, len(seen), 6, "where to look follows the work")
	assert.Equal(t, "There is nothing left to do.", p.Print(b.HintAt(1)))
}

// What the coach says fades by area, and only what it says: all of it stays in its book.
func TestTheCoachFades(t *testing.T) {
	sound := func(areas ...grading.Area) (out skill.Skill) {
		var j skill.Job
		for _, a := range areas {
			j.Areas = append(j.Areas, grading.AreaScore{Area: a, Decisions: 1, Score: 100})
		}
		return skill.Of([]skill.Job{j, j})
	}
	job, err := scenarios.Order{Family: family.Beech(), Kind: scenarios.DepthJob}.Generate(7)
	require.NoError(t, err)
	sit := func(s skill.Skill) *bench.Bench {
		b, err := bench.OpenOn(job, attempt.New(attempt.Terms{Help: attempt.CoachHelp}, scenarios.Order{Family: family.Beech(), Kind: scenarios.DepthJob}, "", 7, quantity.Inch))
		require.NoError(t, err)
		b.Fade(s)
		return b
	}
	wrong, err := act.Parse("fit depth-shim 0.040in", quantity.Inch)
	require.NoError(t, err)
	for name, c := range map[string]struct {
		knows           skill.Skill
		shows, says, to bool // does the first stage; says what a wrong shim cost; says where to look first at depth
	}{
		"newcomer":                 {skill.Skill{}, true, true, true},
		"sound at depth":           {sound(grading.Depth), false, false, false},
		"sound everywhere":         {sound(grading.Areas()...), false, false, false},
		"sound at backlash":        {sound(grading.Sides), false, true, true},
		"one sound job at looking": {skill.Of([]skill.Job{{Areas: []grading.AreaScore{{Area: grading.Looking}}}}), true, true, true},
	} {
		b := sit(c.knows)
		shown, err := b.ShowStage()
		require.NoError(t, err)
		// Whoever finished a job and decided nothing wrong while inspecting is sound at that.
		assert.Equal(t, c.shows, len(shown) > 0, name)
		to := !b.View(quantity.Inch).Toward.IsZero()
		for next, ok := b.Hint(); ok && next.Form.Verb() != "fit"; next, ok = b.Hint() {
			_, err = b.Do(next)
			require.NoError(t, err)
			to = to || !b.View(quantity.Inch).Toward.IsZero()
		}
		assert.Equal(t, c.to, to, name)
		_, err = b.Do(wrong)
		require.NoError(t, err)
		w, ok := b.LastWord()
		require.True(t, ok, "what is not said is there for whoever asks")
		assert.Greater(t, w.Lost(), coach.Sound)
		assert.Equal(t, c.says, b.Says(w), name)
		assert.Equal(t, c.says, b.View(quantity.Inch).Word != nil, name)
	}
	half, all := sit(skill.Of([]skill.Job{{Areas: []grading.AreaScore{{Area: grading.Depth}}}})), sit(skill.Skill{})
	some, err := half.ShowStage()
	require.NoError(t, err)
	whole, err := all.ShowStage()
	require.NoError(t, err)
	assert.InDelta(t, len(whole), 2*len(some), 1, "half of the example")
	var right act.Act
	for {
		next, ok := all.Hint()
		require.True(t, ok)
		if next.Form == act.FitDepthShim {
			right = next
			break
		}
		_, err = all.Do(next)
		require.NoError(t, err)
	}
	for _, b := range []*bench.Bench{half, all} {
		_, err = b.Do(right)
		require.NoError(t, err)
	}
	assert.NotNil(t, all.View(quantity.Inch).Word, "a sound decision is called so for a newcomer")
	assert.Nil(t, half.View(quantity.Inch).Word, "and passed over half way")
}
