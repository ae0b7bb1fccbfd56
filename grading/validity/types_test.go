package validity_test

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/history"
)

// turned is a bench at which something else is done than what a hand asks for.
type turned struct {
	technician.Bench
	do func(b technician.Bench, a act.Act) (history.Step, error)
}

func (x turned) Do(a act.Act) (history.Step, error) { return x.do(x.Bench, a) }

// otherwise is a careful hand at a turned bench.
func otherwise(do func(b technician.Bench, a act.Act) (history.Step, error)) func(technician.Bench, scenarios.Job) {
	return func(b technician.Bench, j scenarios.Job) { competent().work(turned{b, do}, j) }
}

func with(h technician.Habits) func(technician.Bench, scenarios.Job) {
	return func(b technician.Bench, j scenarios.Job) { _ = technician.Work(b, j.Card.Known, h) }
}

// readsAll reads everything four times over.
func readsAll(b technician.Bench, a act.Act) (history.Step, error) {
	const times = 4
	o, err := b.Do(a)
	switch a.Form {
	case act.MeasureDepth, act.MeasureTorque, act.MeasureBacklash, act.MeasureRunout, act.MeasureBearings, act.MeasureEndPlay, act.InspectCups, act.InspectBearings, act.InspectCaps:
		for range times - 1 {
			_, _ = b.Do(a)
		}
	}
	return o, err
}

// readsOnce takes the first reading for the truth: no cord beside the wrench, the backlash
// at one place and nothing sought behind its swing, no print to check the gauge.
func readsOnce(b technician.Bench, a act.Act) (history.Step, error) {
	switch {
	case a.Form == act.TestIndicator, a.Form == act.TestString, a.Form == act.MeasureRunout, a.Form == act.PaintTeeth, a.Form == act.RollGears:
		return history.Step{Act: a}, nil
	case a.Form == act.MeasureTorque:
		a.Choices = []act.Option{a.Choices[0], "wrench"}
	case a.Form == act.MeasureBacklash:
		a.Amounts = slices.Clone(a.Amounts)
		a.Amounts[0].Number = 1
	}
	return b.Do(a)
}

// checksNothing signs as soon as all is in: no print, no total torque.
func checksNothing(b technician.Bench, a act.Act) (history.Step, error) {
	switch {
	case a.Form == act.PaintTeeth, a.Form == act.RollGears, a.Form == act.MeasureTorque && b.Status().CaseIn,
		a.Form == act.RecordValue && a.Choices[0] == "total-torque":
		return history.Step{Act: a}, nil
	}
	return b.Do(a)
}

func noIndicatorTest(b technician.Bench, a act.Act) (history.Step, error) {
	if a.Form == act.TestIndicator {
		return history.Step{Act: a}, nil
	}
	return b.Do(a)
}

// firstOnTheMenu does the first act of a list that the bench lets it, and none twice.
func firstOnTheMenu(b technician.Bench, j scenarios.Job) {
	for _, a := range menu(j.Card.Known, func(int) int { return 0 }) {
		_, _ = b.Do(a)
	}
	_, _ = b.Do(act.Act{Form: act.SignOff})
}

// copies does what the competent hand did on another axle of the family, as far as the
// bench goes along.
func copies(t testing.TB) func(technician.Bench, scenarios.Job) {
	return func(b technician.Bench, j scenarios.Job) {
		other := place{family: j.Card.Family.Code, kind: j.Card.Kind}.generate(t, j.Card.Seed+1000)
		for _, o := range competent().play(t, other) {
			_, _ = b.Do(o.Act)
		}
	}
}

func pureOf(t testing.TB, idea string) func(technician.Bench, scenarios.Job) {
	t.Helper()
	all := pure()
	i := slices.IndexFunc(all, func(p trainee) bool { return p.idea == idea })
	require.GreaterOrEqual(t, i, 0, idea)
	return all[i].work
}

func wholeJobs(codes ...string) []place {
	var out []place
	for _, c := range codes {
		out = append(out, place{family: c})
	}
	return out
}

// Every kind of hand that a grader must not be taken in by, on a few jobs: how far it lies
// below the competent hand. The bounds leave room for other prices, not for another order.
func TestTypesOfTechnician(t *testing.T) {
	faulty := func(code string, of ...fault.ID) place {
		return place{family: code, faults: scenarios.FaultRule{OneOf: of}}
	}
	loose, swings := faulty("BEECH", fault.IndicatorLoose), faulty("CEDAR", fault.DirtBehindGear, fault.BentFlange)
	everywhere := wholeJobs("BEECH", "CEDAR", "DOGWOOD", "GORSE")
	for _, x := range []struct {
		name        string
		work        func(technician.Bench, scenarios.Job)
		places      []place
		least, most float64 // points below the competent hand
	}{
		{"counts less of the travel", counting("", 0.6).work, everywhere, -5, 10},
		{"counts more of the travel", counting("", 0.8).work, everywhere, -5, 10},
		{"one wrong move", with(technician.Habits{WrongMoveOnce: true}), everywhere, 5, 60},
		{"turns every sign", with(technician.Habits{SignsTurned: true}), everywhere, 40, 100},
		{"never measures", with(technician.Habits{NeverMeasures: true}), everywhere, 40, 100},
		{"reads everything four times", otherwise(readsAll), everywhere, 5, 60},
		{"believes one reading", otherwise(readsOnce), []place{swings, swings, swings}, 20, 90},
		{"takes the pack not to move with the shim", pureOf(t, "preload-shims-not-followed"), wholeJobs("CEDAR", "FIR", "HAZEL"), 5, 60},
		{"does not look at a loose indicator", otherwise(noIndicatorTest), []place{loose, loose, loose}, 5, 60},
		{"checks nothing at the end", otherwise(checksNothing), everywhere, 1, 60},
		{"does anything", atRandom(1)[0].work, everywhere, 60, 100},
		{"first on the menu", firstOnTheMenu, everywhere, 60, 100},
		{"copies another axle", copies(t), everywhere, 40, 100},
	} {
		t.Run(x.name, func(t *testing.T) {
			below := 0.0
			for i, p := range x.places {
				j := p.generate(t, uint64(700+i))
				own := scoreOf(gradeOf(t, j, trainee{work: x.work}.play(t, j)))
				right := scoreOf(gradeOf(t, j, competent().play(t, j)))
				below += (right - own) / float64(len(x.places))
				t.Logf("%s %.0f against %.0f", p.family, own, right)
			}
			assert.GreaterOrEqual(t, below, x.least)
			assert.LessOrEqual(t, below, x.most)
		})
	}
}

// The careful hand is careful on every kind of job: none on which sensible work is charged
// for, or on which it is none.
func TestCarefulTechnicianOnEveryKindOfJob(t *testing.T) {
	const (
		anyKind     = 80.0 // few jobs of a kind
		atTakenOver = 65.0 // it strips what it may have left alone
	)
	for _, kind := range scenarios.Kinds() {
		t.Run(kind.String(), func(t *testing.T) {
			sum, least := 0.0, anyKind
			if kind == scenarios.PreviousWork {
				least = atTakenOver
			}
			codes := []string{"BEECH", "CEDAR", "DOGWOOD", "ELM", "HAZEL", "JUNIPER"}
			for i, code := range codes {
				j := place{family: code, kind: kind}.generate(t, uint64(9000+i))
				score := scoreOf(gradeOf(t, j, competent().play(t, j)))
				t.Logf("%s %.0f", code, score)
				sum += score / float64(len(codes))
			}
			assert.GreaterOrEqual(t, sum, least)
		})
	}
}

// One hand for each wrong idea, on three jobs on which it shows: it is told its own idea.
func TestEachMisconceptionIsToldAsItself(t *testing.T) {
	const from = 60001
	for _, p := range pure() {
		t.Run(p.idea, func(t *testing.T) {
			f := together(t, suitedJobs(t, p, 3, from))
			assert.Equal(t, p.idea, f.Label(), "%+v", f)
			assert.Len(t, f.Misconceptions, 1, "one that is sure is told alone")
		})
	}
}

// same compares two grades to the last bit.
func same(a, b grading.Report) bool {
	return reflect.DeepEqual(a, b) && fmt.Sprintf("%#v", a) == fmt.Sprintf("%#v", b)
}

// The same outcomes give the same grade, and so does the same work done again.
func TestGradingAgainIsTheSame(t *testing.T) {
	for i, place := range formPlaces()[:4] {
		j := place.generate(t, uint64(40+i))
		for _, p := range []trainee{competent(), mistakenTechnicians("beginner", 1, 1)[0]} {
			outs := p.play(t, j)
			first := gradeOf(t, j, outs)
			assert.True(t, same(first, gradeOf(t, j, outs)))
			assert.True(t, same(first, gradeOf(t, j, p.play(t, j))), "worked again")
		}
	}
}
