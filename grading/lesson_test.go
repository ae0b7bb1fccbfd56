package grading_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// jobOf finds the first job of a family that is as wanted.
func jobOf(t *testing.T, code string, wanted func(scenarios.Card) bool) scenarios.Job {
	t.Helper()
	f, err := family.Shipped(code)
	require.NoError(t, err)
	for seed := uint64(1); seed < 400; seed++ {
		j, err := scenariostest.Sketch(f, seed)
		if err != nil || !wanted(j.Card) {
			continue
		}
		if x, _ := truth.Open(j.Sealed()); len(x.Faults) > 0 {
			continue // what it teaches is to be told apart from faults
		}
		if j, err = scenariostest.Generate(f, seed); err == nil && j.Draws() == 1 {
			return j
		}
	}
	require.Fail(t, "no such job", code)
	return scenarios.Job{}
}

// packBuild builds a pinion in finally on a depth shim and a pack, thousandths of an
// inch.
func preloadShimBuild(t *testing.T, b *bench, shim, shims float64) {
	t.Helper()
	script(t, b, fmt.Sprintf("fit depth-shim %.4fin", shim/1000), fmt.Sprintf("fit preload-shims %.4fin", shims/1000), "fit pinion final")
}

// inspections are all that can be done with the pinion out, so that a build passes over none.
func inspections() []string {
	return []string{"inspect cups", "inspect shim-seat", "inspect gears", "measure pinion-runout", "inspect bearings", "inspect seal", "measure bearings", "test gauge"}
}

// lastIn is the last decision of an area.
func lastIn(t *testing.T, rep grading.Report, a grading.Area) grading.Decision {
	t.Helper()
	for _, d := range slices.Backward(rep.Decisions) {
		if d.Area == a {
			return d
		}
	}
	require.Fail(t, "no decision in "+string(a))
	return grading.Decision{}
}

// With the depth shim behind the cup, a pack left as it was or moved the other way is a
// lesson about the two together; one that followed costs nothing; one that is off by
// itself is a lesson about packs.
func TestPreloadShimsThatDidNotFollowTeachesCupShim(t *testing.T) {
	const leastThou = 5.9 // at 8 lb-in a thousandth far outside a window of 20
	for _, code := range []string{"CEDAR", "FIR", "HAZEL"} {
		moved := func(c scenarios.Card) float64 {
			return c.Known.StarterShim().Thou() - c.Known.OldDepthShim.Thou()
		}
		j := jobOf(t, code, func(c scenarios.Card) bool { return !c.UsedBearings && math.Abs(moved(c)) > leastThou })
		k := j.Card.Known
		by, shim, old, shims := moved(j.Card), k.StarterShim().Thou(), k.OldDepthShim.Thou(), k.OldPreloadShims.Thou()
		built := func(shim, shims float64) grading.Decision {
			b := open(t, j)
			script(t, b, inspections()...)
			preloadShimBuild(t, b, shim, shims)
			return lastIn(t, grade(t, j, b.outs), grading.Preload)
		}
		left, followed, against, off := built(shim, shims), built(shim, shims+by), built(shim, shims-by), built(old, shims+by)
		assert.Equal(t, "cup-shim", left.Lesson, code)
		assert.Greater(t, left.Lost, 10.0, code)
		assert.Equal(t, "cup-shim", against.Lesson, code)
		assert.Greater(t, against.Lost, 10.0, code)
		assert.Less(t, followed.Lost, 1.0, code)
		assert.Equal(t, "solid-spacer", followed.Lesson, code)
		assert.Equal(t, "solid-spacer", off.Lesson, code)
		assert.Greater(t, off.Lost, 3.0, code)
	}
}

// A pack that was read and was right, and stays in when the depth shim changes after it.
func TestPreloadShimsThatStaysInTeachesCupShim(t *testing.T) {
	j := jobOf(t, "CEDAR", func(c scenarios.Card) bool { return !c.UsedBearings && !c.UsedGears })
	b := open(t, j)
	require.NoError(t, technician.Work(b, j.Card.Known, technician.Competent()))
	st := b.Status()
	read := slices.IndexFunc(b.outs, func(o history.Step) bool { return o.Act.Form == act.FitSideShims })
	again := open(t, j)
	for _, o := range b.outs[:read] {
		_, err := again.Do(o.Act)
		require.NoError(t, err)
	}
	script(t, again, "remove pinion")
	preloadShimBuild(t, again, st.DepthShim.Thou()-5, st.PreloadShims.Thou())
	d := lastIn(t, grade(t, j, again.outs), grading.Preload)
	assert.Equal(t, "cup-shim", d.Lesson)
	assert.Greater(t, d.Lost, 10.0)
}

// A cage keeps its pack whatever the depth shim does.
func TestPreloadShimsInACageNeverTeachesCupShim(t *testing.T) {
	j := jobOf(t, "ELM", func(c scenarios.Card) bool {
		return !c.UsedBearings && math.Abs(c.Known.StarterShim().MM()-c.Known.OldDepthShim.MM()) > 0.1
	})
	k := j.Card.Known
	by := k.StarterShim().Thou() - k.OldDepthShim.Thou()
	for _, shims := range []float64{k.OldPreloadShims.Thou() + by, k.OldPreloadShims.Thou() - by} {
		b := open(t, j)
		script(t, b, inspections()...)
		preloadShimBuild(t, b, k.StarterShim().Thou(), shims)
		d := lastIn(t, grade(t, j, b.outs), grading.Preload)
		assert.Equal(t, "solid-spacer", d.Lesson)
		assert.Positive(t, d.Lost)
	}
}

// Turning the nut of a solid spacer on by degrees past its torque is taking it for one
// that crushes. A wrench set too high is a lesson about the nut.
func TestCrushingASolidSpacerTeachesPreloadDesign(t *testing.T) {
	j := jobOf(t, "CEDAR", func(c scenarios.Card) bool { return !c.UsedBearings })
	k := j.Card.Known
	for lines, want := range map[[2]string]string{
		{"tighten nut to 235 lb-ft", "tighten nut 90 deg"}:       "preload-design",
		{"tighten nut to 235 lb-ft", "tighten nut to 400 lb-ft"}: "solid-spacer",
	} {
		b := open(t, j)
		script(t, b, inspections()...)
		preloadShimBuild(t, b, k.StarterShim().Thou(), k.StarterPreloadShims(k.StarterShim()).Thou())
		script(t, b, lines[0])
		_, before := inArea(grade(t, j, b.outs), grading.Preload)
		script(t, b, lines[1])
		rep := grade(t, j, b.outs)
		d := lastIn(t, rep, grading.Preload)
		_, after := inArea(rep, grading.Preload)
		assert.Equal(t, before+1, after, "the nut at its torque is no decision, past it is one")
		assert.Equal(t, want, d.Lesson, lines[1])
		assert.Greater(t, d.Lost, 20.0)
	}
}

// A careful hand that takes the window of a new set for that of a used one gets the
// lesson on used gears; one that goes by the set's own does not.
func TestUsedSetSetAsNewTeachesUsedGears(t *testing.T) {
	for _, code := range []string{"BEECH", "CEDAR", "DOGWOOD"} {
		// The set ran outside what a new one may have.
		j := jobOf(t, code, func(c scenarios.Card) bool {
			return c.UsedGears && c.Family.Sheet.Backlash.Mid() > c.NewBacklash.HighMM
		})
		right, _ := work(t, j, technician.Competent(), nil)
		for _, d := range right.Decisions {
			if d.Lesson == "used-gears" {
				assert.Less(t, d.Lost, 5.0, "%s: %s", code, d.Did)
			}
		}
		assert.NotEqual(t, "used-gears", right.Lesson, code)

		mistaken := j.Card.Known
		mistaken.Sheet.Backlash = j.Card.NewBacklash
		b := open(t, j)
		require.NoError(t, technician.Work(b, mistaken, technician.Competent()))
		rep := grade(t, j, b.outs)
		assert.Condition(t, func() bool {
			return slices.ContainsFunc(rep.Decisions, func(d grading.Decision) bool { return d.Lesson == "used-gears" && d.Lost > 20 })
		}, "%s job %d", code, j.Card.Seed)
		assert.Less(t, rep.Score, right.Score-20, code)
		l, _ := acceptance.Find(rep.Acceptance, "backlash")
		assert.True(t, l.Missed(), code)
		assert.Equal(t, "used-gears", l.Lesson, code)
	}
}

// A cone seen standing off and left teaches its own lesson; an end play read over and over on
// an axle with bearing adjusters teaches theirs.
func TestRingsTeachRings(t *testing.T) {
	f, err := family.Shipped("DOGWOOD")
	require.NoError(t, err)
	var j scenarios.Job
	for seed := uint64(1); ; seed++ {
		j, err = scenariostest.Sketch(f, seed)
		require.NoError(t, err)
		if x, _ := truth.Open(j.Sealed()); len(x.Faults) == 1 && x.Faults[0].ID == fault.RingGearConeHigh {
			break
		}
	}
	rep, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		switch a.Form {
		case act.SeatCones:
			return nil
		case act.MeasureEndPlay:
			return []act.Act{a, a, a}
		}
		return only(a)
	})
	left, played := 0, 0
	for _, d := range rep.Decisions {
		switch {
		case strings.Contains(said(d.Best), "seat cones"):
			left++
			assert.Equal(t, "pressing", d.Lesson)
		case d.Did == "measure end-play":
			played++
			assert.Equal(t, "bearing-adjusters", d.Lesson)
		}
	}
	assert.Equal(t, 1, left)
	assert.GreaterOrEqual(t, played, 2)
}

// What a lesson teaches is there on the axle it is named for, whatever the habits.
func TestLessonsSuitTheDesign(t *testing.T) {
	foreign := func(d family.Design) []string {
		var out []string
		if d.Preload == family.SolidSpacer {
			out = append(out, "crush-spacer")
		} else {
			out = append(out, "solid-spacer")
		}
		if d.SideAdjust == family.BearingAdjusters {
			out = append(out, "side-shims")
		} else {
			out = append(out, "bearing-adjusters")
		}
		if d.DepthShim != family.UnderCageFlange {
			out = append(out, "cage-shim")
		}
		if d.DepthShim != family.BehindInnerCup {
			out = append(out, "cup-shim")
		}
		return out
	}
	for _, f := range longtest.Some(family.Shelf(), 5) {
		for seed := uint64(1); seed <= longtest.Pick[uint64](1, 2); seed++ {
			j, err := scenariostest.Generate(f, seed)
			require.NoError(t, err)
			for _, p := range panel() {
				b := open(t, j)
				if err := technician.Work(b, j.Card.Known, p.habits); err != nil {
					continue // with turned signs not every axle can be closed up
				}
				rep, err := grading.Grade(j.Card, b.outs, quantity.Metric)
				require.NoError(t, err)
				for _, d := range rep.Decisions {
					assert.NotContains(t, foreign(f.Design), d.Lesson, "%s job %d, %s: %s", f.Code, seed, p.name, d.Did)
					if !f.Sheet.Marks.Known() {
						assert.NotEqual(t, "depth-mark", d.Lesson, "%s has no marks: %s", f.Code, d.Did)
					}
				}
				assert.NotContains(t, foreign(f.Design), rep.Lesson, "%s job %d, %s", f.Code, seed, p.name)
			}
		}
	}
}
