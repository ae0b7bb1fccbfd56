package coach_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/coach"
	"shimwright/scenarios/peopletest"
	"shimwright/scenarios/scenariostest"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// people are technicians whose jobs differ in what there is to say of them: the reference one,
// some who hold a misconception, and the hostile ones.
func people() []peopletest.Person {
	out := []peopletest.Person{peopletest.TheReference()}
	held, hostile := peopletest.Holding(), peopletest.Hostiles()
	n := longtest.Pick(1, 6)
	return append(append(out, held[:n]...), hostile[:n]...)
}

// What the coach says on the way is the debrief's ledger: every decision of the debrief is
// spoken at its act with the same loss, and the costs spoken add up to what all is charged.
func TestTheCoachSaysWhatTheDebriefSays(t *testing.T) {
	printer := text.NewPrinter(quantity.Inch, text.Overlay{})
	for _, code := range longtest.Pick([]string{"BEECH", "CEDAR"}, []string{"ALDER", "BEECH", "CEDAR", "DOGWOOD", "ELM", "HAZEL"}) {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		for _, who := range people() {
			job, err := scenariostest.Generate(fam, 3)
			require.NoError(t, err)
			played, err := who.Play(job)
			require.NoError(t, err)
			rep, err := grading.Grade(job.Card, played.Steps, quantity.Inch)
			require.NoError(t, err)
			c, err := coach.New(job.Card)
			require.NoError(t, err)

			var decisions []grading.Decision
			charged, spoken, small := 0.0, 0.0, 0.0
			for i, o := range played.Steps {
				w := c.Take(o)
				assert.Equal(t, rep.Lines[i], w.Line)
				charged += w.Line.Charge
				if !w.Spoken() {
					assert.Empty(t, w.Messages())
					small += w.Line.Charge
					assert.GreaterOrEqual(t, w.Line.Charge, -1.0, "what saved something is said: %s", o.Act)
					continue
				}
				lines := w.Messages()
				require.Len(t, lines, 2)
				for _, m := range append(lines, w.Reckoning()...) {
					assert.NotEmpty(t, printer.Print(m))
					assert.NotContains(t, printer.Print(m), "..")
				}
				decisions = append(decisions, w.Decisions...)
				spoken += w.Line.Charge
				const cents = 0.005
				assert.InDelta(t, max(0, spoken+small), w.SoFar, cents*float64(i+2), "%s, %s, act %d", code, who.Name, i+1)
			}
			require.Len(t, decisions, len(rep.Decisions), "%s, %s", code, who.Name)
			for i, d := range decisions {
				want := rep.Decisions[i]
				if want.Means.IsZero() { // the coach says of a sound one too what the readings meant
					want.Means, want.Knew = d.Means, d.Knew
				}
				assert.Equal(t, want, d)
			}
			words := c.Words()
			assert.Equal(t, rep.Lost, words[len(words)-1].SoFar, "%s, %s", code, who.Name)
			assert.InDelta(t, rep.Lost, math.Max(0, charged), 0.01*float64(len(words)))
		}
	}
}

// What is taken back is as if it had never been booked.
func TestBackForgets(t *testing.T) {
	job, err := scenariostest.Generate(family.Beech(), 3)
	require.NoError(t, err)
	played, err := peopletest.TheReference().Play(job)
	require.NoError(t, err)
	c, err := coach.New(job.Card)
	require.NoError(t, err)
	for _, o := range played.Steps {
		c.Take(o)
	}
	words := append([]coach.Word(nil), c.Words()...)
	last := c.Decision()
	assert.True(t, words[last-1].Spoken())
	for _, w := range words[last:] {
		assert.False(t, w.Spoken())
	}
	n := len(words)
	for _, back := range []int{1, 3, n / 2, n - 1 - n/2} {
		at := len(c.Words()) - back
		if at < 0 {
			break
		}
		c.Back(back)
		for _, o := range played.Steps[at:] {
			c.Take(o)
		}
		assert.Equal(t, words, c.Words())
	}
}

func BenchmarkWord(b *testing.B) {
	job, err := scenariostest.Generate(family.Beech(), 3)
	require.NoError(b, err)
	played, err := peopletest.TheReference().Play(job)
	require.NoError(b, err)
	for b.Loop() {
		c, err := coach.New(job.Card)
		require.NoError(b, err)
		for _, o := range played.Steps {
			c.Take(o)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(played.Steps)), "µs/act")
}

// A word says what its figures are: what was saved as minutes saved, luck as what it was, and
// something cheaper only where something was lost.
func TestAWordSaysWhichWay(t *testing.T) {
	printer := text.NewPrinter(quantity.Inch, text.Overlay{})
	print := func(said []text.Message) string {
		all := ""
		for _, m := range said {
			all += printer.Print(m) + "\n"
		}
		return all
	}
	best := text.Say("test.best", "measure backlash first")
	lost := func(minutes float64) coach.Word {
		return coach.Word{Decisions: []grading.Decision{{Lost: minutes, Best: best}}, SoFar: minutes}
	}
	assert.False(t, coach.Word{}.Spoken(), "nothing built, nothing lost, nothing saved")
	assert.False(t, coach.Word{Line: grading.Line{Charge: 5}}.Spoken())
	saves := coach.Word{Line: grading.Line{Charge: -4}}
	assert.True(t, saves.Spoken())
	assert.Contains(t, print(saves.Messages()), "it saves 4 min")
	assert.Contains(t, print(lost(0.5).Messages()), "Sound.")
	assert.NotContains(t, print(lost(0.5).Messages()), "Cheaper here")
	assert.Contains(t, print(lost(12).Messages()), "Cost 12 min")
	assert.Contains(t, print(lost(12).Messages()), "Cheaper here: measure backlash first")

	luck := func(minutes float64) string { return print(coach.Word{Line: grading.Line{Luck: minutes}}.Reckoning()) }
	assert.Contains(t, luck(7), "made the job 7 min dearer")
	assert.Contains(t, luck(-7), "made the job 7 min cheaper")
	for _, hardly := range []float64{0, 0.04, -0.04} {
		assert.NotContains(t, luck(hardly), "luck")
	}
}

// The first act can be the decision that is asked for.
func TestTheFirstActCanBeTheDecision(t *testing.T) {
	job, err := scenariostest.Generate(family.Beech(), 3)
	require.NoError(t, err)
	stand, err := job.Stand()
	require.NoError(t, err)
	c, err := coach.New(job.Card)
	require.NoError(t, err)
	assert.Zero(t, c.Decision())
	for i, line := range []string{"replace gears", "fit depth-shim 0.030in"} {
		a, err := act.Parse(line, quantity.Inch)
		require.NoError(t, err)
		out, err := stand.Do(a)
		require.NoError(t, err)
		assert.NotEmpty(t, c.Take(out).Decisions)
		assert.Equal(t, i+1, c.Decision())
	}
}
