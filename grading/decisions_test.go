package grading_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/grading"
	"shimwright/grading/acceptance"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

func only(a act.Act) []act.Act { return []act.Act{a} }

// Slammed to 600 lb-ft the nut crushes any spacer of this family past its window
// (its sheet foresees 200 to 450).
func TestSlammedNutTeachesCrushSpacer(t *testing.T) {
	for seed := uint64(1); seed <= 8; seed++ {
		j := job(t, seed)
		rep, _ := work(t, j, technician.Competent(), func(n int, a act.Act) []act.Act {
			if a.Form == act.TightenNutTorque && n == 1 {
				return says("tighten nut to 600 lb-ft")
			}
			return only(a)
		})
		require.GreaterOrEqual(t, rep.Weakest, 0)
		d := rep.Decisions[rep.Weakest]
		assert.Equal(t, "tighten nut to 600lb-ft", d.Did, "seed %d", seed)
		assert.Equal(t, grading.Preload, d.Area)
		assert.Greater(t, d.Lost, 20.0)
		assert.Equal(t, "crush-spacer", rep.Lesson)
	}
}

// widelyMarked finds jobs whose marks are four or more apart and whose shim with the
// sign turned is on the shelf.
func widelyMarked(t *testing.T, n int) (jobs []scenarios.Job, turned []act.Act) {
	t.Helper()
	for seed := uint64(1); len(jobs) < n; seed++ {
		j := job(t, seed)
		k := j.Card.Known
		x, _ := truth.Open(j.Sealed())
		wrong := 2*k.OldDepthShim.Thou() - k.StarterShim().Thou()
		stock := k.Sheet.DepthShims
		if math.Abs(k.OldMark.Thou()-k.NewMark.Thou()) < 3.9 || len(x.Faults) > 0 ||
			quantity.Thou(wrong).MM() < stock.LowMM || quantity.Thou(wrong).MM() > stock.HighMM {
			continue
		}
		jobs = append(jobs, j)
		turned = append(turned, act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{{Number: math.Round(wrong) / 1000, Unit: quantity.UnitInch}}})
	}
	return jobs, turned
}

// With marks four or more thousandths apart a turned sign puts the pinion eight or
// more off. Built in finally that is a lesson about marks. In a trial build, which
// is read before anything is spent, it costs a few minutes at most.
func TestTurnedMarkTeachesDepthMark(t *testing.T) {
	jobs, turned := widelyMarked(t, 6)
	for i, j := range jobs {
		right := act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{{Number: math.Round(j.Card.Known.StarterShim().Thou()) / 1000, Unit: quantity.UnitInch}}}
		build := func(shim act.Act, how string) grading.Report {
			b := open(t, j)
			script(t, b, "inspect cups", "inspect bearings", "inspect spacer", "inspect seal")
			_, err := b.Do(shim)
			require.NoError(t, err)
			script(t, b, "fit pinion "+how)
			return grade(t, j, b.outs)
		}
		seed := j.Card.Seed
		final := build(turned[i], "final")
		lost, _ := inArea(final, grading.Depth)
		sound, _ := inArea(build(right, "final"), grading.Depth)
		assert.Equal(t, "depth-mark", final.Lesson, "seed %d", seed)
		assert.Greater(t, lost, 40.0, "seed %d", seed)
		assert.Less(t, sound, lost-30, "seed %d: what it costs not to gauge is the same", seed)

		mockUp := build(turned[i], "mock-up")
		lostMockUp, _ := inArea(mockUp, grading.Depth)
		soundMockUp, _ := inArea(build(right, "mock-up"), grading.Depth)
		assert.Greater(t, lostMockUp, soundMockUp, "seed %d", seed)
		assert.Less(t, lostMockUp, lost/4, "seed %d: a trial build is there to find it", seed)
		assert.Equal(t, "depth-mark", lessonOn(mockUp, grading.Depth), "seed %d", seed)
	}
}

// Cups that were never inspected are charged where they are built over, once.
func TestUnseenCupsAreChargedOnce(t *testing.T) {
	charged := 0
	for seed := uint64(1); seed <= 4; seed++ {
		j := job(t, seed)
		rep, b := work(t, j, technician.Competent(), func(n int, a act.Act) []act.Act {
			if a.Form == act.InspectCups {
				return nil
			}
			return only(a)
		})
		times, at := 0, 0
		for _, d := range rep.Decisions {
			if strings.Contains(said(d.Best), "inspect cups") {
				times, at = times+1, d.Act
				assert.Equal(t, grading.Looking, d.Area)
				assert.Equal(t, "inspect-first", d.Lesson)
				// By the card 0.05 x 150 and 0.04 x 130 minutes, less as often the 8 of the cure, and
				// less the 2 of the inspection: 10, but that the depth that was gauged has told something
				// of the inner cup.
				assert.Greater(t, d.Lost, 2.0)
				assert.Less(t, d.Lost, 12.0)
			}
		}
		assert.LessOrEqual(t, times, 1, "seed %d", seed)
		if times > 0 {
			charged++
			assert.Equal(t, say("fit pinion final"), b.outs[at-1].Act)
		}

		seen, _ := work(t, j, technician.Competent(), nil)
		for _, d := range seen.Decisions {
			assert.NotContains(t, said(d.Best), "inspect cups")
		}
	}
	assert.GreaterOrEqual(t, charged, 3, "a cup that stands off may be all but ruled out by the gauge")
}

// A cup seen standing off and built over, or caps seen changed over and fitted, cost
// more than not having looked: knowing it, only the cure is right.
func TestFoundAndLeftIsCharged(t *testing.T) {
	for _, c := range []struct {
		fault      fault.ID
		look, cure act.Form
	}{{fault.OuterCupHigh, act.InspectCups, act.SeatCups}, {fault.RingGearConeHigh, act.InspectCones, act.SeatCones}, {fault.CapsSwapped, act.InspectCaps, act.MatchCaps}} {
		j := carrying(t, c.fault)
		blind, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
			if a.Form == c.look || a.Form == c.cure {
				return nil
			}
			return only(a)
		})
		left, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
			if a.Form == c.cure {
				return nil
			}
			return only(a)
		})
		cured, _ := work(t, j, technician.Competent(), nil)
		assert.Less(t, left.Sum.Whole, blind.Sum.Whole, "%s", c.fault)
		assert.Less(t, left.Score, 50, "%s", c.fault)
		assert.GreaterOrEqual(t, cured.Score, 85, "%s", c.fault)
		charged := 0
		for _, d := range left.Decisions {
			if strings.Contains(said(d.Best), c.cure.String()) {
				charged++
			}
		}
		assert.Equal(t, 1, charged, "%s", c.fault)
	}
}

// carrying finds a job with exactly one fault.
func carrying(t *testing.T, id fault.ID) scenarios.Job {
	t.Helper()
	for seed := uint64(1); seed < 2000; seed++ {
		j, err := scenariostest.Sketch(family.Beech(), seed)
		require.NoError(t, err)
		if x, _ := truth.Open(j.Sealed()); len(x.Faults) == 1 && x.Faults[0].ID == id {
			return job(t, seed)
		}
	}
	require.Fail(t, "no job with "+string(id))
	return scenarios.Job{}
}

// lostOn is what was lost on acts of a form.
func lostOn(rep grading.Report, outs []history.Step, f act.Form) float64 {
	lost := 0.0
	for _, d := range rep.Decisions {
		if outs[d.Act-1].Act.Form == f {
			lost += d.Lost
		}
	}
	return lost
}

// A reading repeated in one and the same set-up tells next to nothing new and is
// charged the minutes it takes. The gauge's own error does not average out.
func TestRepeatedReadingCostsItsMinutes(t *testing.T) {
	const extra = 4
	for _, c := range []struct {
		form    act.Form
		minutes float64 // of one repeat
		least   float64 // share of the minutes of the repeats that must be charged
	}{{act.MeasureDepth, 5, 0.9}, {act.MeasureEndPlay, 3, 0.8}, {act.MeasureBacklash, 5, 0.5}, {act.InspectCups, 2, 0.99}, {act.MeasureBearings, 3, 0.99}} {
		for _, seed := range []uint64{1, 12} {
			j := job(t, seed)
			once, first := work(t, j, technician.Competent(), nil)
			often, b := work(t, j, technician.Competent(), func(n int, a act.Act) []act.Act {
				if a.Form == c.form && n == 1 {
					return []act.Act{a, a, a, a, a}
				}
				return only(a)
			})
			before, after := lostOn(once, first.outs, c.form), lostOn(often, b.outs, c.form)
			assert.GreaterOrEqual(t, after-before, c.least*extra*c.minutes, "%s, seed %d", c.form, seed)
			// The better-known quantity makes later readings worth a little less.
			assert.LessOrEqual(t, after-before, extra*c.minutes+5, "%s, seed %d", c.form, seed)
			if len(b.outs) == len(first.outs)+extra { // else the technician went on otherwise by what it read
				assert.LessOrEqual(t, often.Sum.Cost, once.Sum.Cost+1, "%s, seed %d", c.form, seed)
			}
			assert.True(t, b.Status().SignedOff)
		}
	}
}

// Signed off with the cap bolts snug, the best of attempts stays under half.
func TestSnugCapsHoldTheScoreDown(t *testing.T) {
	for seed := uint64(1); seed <= 4; seed++ {
		rep, _ := work(t, job(t, seed), technician.Competent(), func(_ int, a act.Act) []act.Act {
			if a.Form == act.SignOff {
				return says("remove case", "fit case", "sign off")
			}
			return only(a)
		})
		assert.Equal(t, acceptance.Contradicted, outcomeOf(rep, "caps"))
		assert.LessOrEqual(t, rep.Score, 49)
		assert.Equal(t, "spread-and-caps", rep.Lesson)
	}
}

// A line of the list that is not proved takes what the formula says off Right, whatever else
// was done.
func TestAcceptanceTakesItsPoints(t *testing.T) {
	var full grading.Report
	var j scenarios.Job
	for seed := uint64(1); seed <= 20 && full.Score < 100; seed++ {
		j = job(t, seed)
		full, _ = work(t, j, technician.Competent(), nil)
	}
	require.Equal(t, 100, full.Score, "a job that can be done without loss")

	f := grading.TheFormula()
	unwritten, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		if a.Form == act.RecordValue {
			return nil
		}
		return only(a)
	})
	assert.Equal(t, acceptance.Open, outcomeOf(unwritten, "sheet-complete"))
	assert.Equal(t, acceptance.Open, outcomeOf(unwritten, "sheet-true"), "an axle without its record is not proved")
	assert.Equal(t, 100-f.Minor-f.Critical, unwritten.Sum.Right)
	assert.LessOrEqual(t, unwritten.Score, full.Score-15)

	atBreakaway, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		if a.Form == act.MeasureTorque && j.Card.Kind == scenarios.WholeJob {
			a.Choices = []act.Option{act.Breakaway, a.Choices[1]}
		}
		return only(a)
	})
	assert.Equal(t, acceptance.Open, outcomeOf(atBreakaway, "pinion-torque"))
	assert.Equal(t, acceptance.Open, outcomeOf(atBreakaway, "total-torque"))
	assert.LessOrEqual(t, atBreakaway.Score, f.UnprovedMost)
	assert.LessOrEqual(t, atBreakaway.Sum.Right, 100-2*f.Critical)
}

// TM 9-2320-387-24-2 p. 30-17: a crushed spacer's nut is never loosened.
func TestBackOffIsCritical(t *testing.T) {
	for seed := uint64(1); seed <= 4; seed++ {
		rep, _ := work(t, job(t, seed), technician.Competent(), func(n int, a act.Act) []act.Act {
			if a.Form == act.RecordValue && n == 1 {
				return append(says("tighten nut 15 deg", "loosen nut 14 deg"), a)
			}
			return only(a)
		})
		assert.Equal(t, acceptance.Contradicted, outcomeOf(rep, "nut"))
		assert.LessOrEqual(t, rep.Score, 49)
		assert.Equal(t, "crush-spacer", rep.Lesson)
	}
	// A build that was loosened and then taken apart for a new spacer is made good.
	rep, _ := work(t, job(t, 1), technician.Competent(), func(n int, a act.Act) []act.Act {
		if a.Form == act.FitPinion && a.Choices[0] == act.Final {
			return append(says("fit pinion final", "tighten nut to 300 lb-ft", "loosen nut 10 deg", "remove pinion"), a)
		}
		return only(a)
	})
	assert.Equal(t, acceptance.Proved, outcomeOf(rep, "nut"))
}

// Torque read in grease proves nothing, whether this bench packed it in or it came
// out of the box and was seen; washed out before the reading it is none.
func TestGreaseIsMajor(t *testing.T) {
	greaseIt := func(lines ...string) func(int, act.Act) []act.Act {
		return func(n int, a act.Act) []act.Act {
			if a.Form == act.FitDepthShim && n == 1 {
				return append(says(lines...), a)
			}
			return only(a)
		}
	}
	packed, _ := work(t, job(t, 1), technician.Competent(), greaseIt("grease bearings"))
	washed, _ := work(t, job(t, 1), technician.Competent(), greaseIt("grease bearings", "wash bearings"))
	assert.Equal(t, acceptance.Open, outcomeOf(packed, "pinion-torque"))
	assert.Equal(t, acceptance.Proved, outcomeOf(washed, "pinion-torque"))

	j := carrying(t, fault.PackingGrease)
	seen, _ := work(t, j, technician.Competent(), func(_ int, a act.Act) []act.Act {
		if a.Form == act.WashBearings {
			return nil
		}
		return only(a)
	})
	cured, _ := work(t, j, technician.Competent(), nil)
	assert.Equal(t, acceptance.Open, outcomeOf(seen, "pinion-torque"))
	assert.Equal(t, acceptance.Proved, outcomeOf(cured, "pinion-torque"))
	for _, rep := range []grading.Report{packed, seen} {
		l, _ := acceptance.Find(rep.Acceptance, "pinion-torque")
		assert.Equal(t, acceptance.Greased, l.Evidence.Why)
	}
}

// Looking once more where nothing can have changed never raises a score by more
// than the rounding of it, in good attempts and in bad ones.
func TestHarmlessLookNeverPays(t *testing.T) {
	for _, p := range panel() {
		if p.habits.NeverMeasures {
			continue // it has never looked: a first look would be a useful one
		}
		for _, seed := range []uint64{1, 6, 12} {
			j := job(t, seed)
			plain, _ := work(t, j, p.habits, nil)
			for _, look := range []string{"inspect bearings", "inspect seal", "inspect cups"} {
				padded, _ := work(t, j, p.habits, func(n int, a act.Act) []act.Act {
					if a.Form == act.FitDepthShim && n == 1 {
						return append(says(look, look), a)
					}
					return only(a)
				})
				assert.LessOrEqual(t, padded.Score, plain.Score+1, "%s, seed %d, %s", p.name, seed, look)
			}
		}
	}
	// A hand that never looked gains nothing by looking at the same thing again.
	for _, seed := range []uint64{1, 6} {
		j := job(t, seed)
		pad := func(times int) int {
			rep, _ := work(t, j, technician.Habits{NeverMeasures: true}, func(n int, a act.Act) []act.Act {
				if a.Form == act.FitDepthShim && n == 1 {
					out := []act.Act{}
					for range times {
						out = append(out, say("inspect bearings"))
					}
					return append(out, a)
				}
				return only(a)
			})
			return rep.Score
		}
		assert.LessOrEqual(t, pad(6), pad(1)+1)
	}
}

// Whatever is done at the bench, sensible or not, the grade keeps within its bounds,
// no decision gains minutes, and the same acts have the same grade.
func TestAnyAttemptHasAGrade(t *testing.T) {
	var jobs []scenarios.Job
	for seed := uint64(1); seed <= 6; seed++ {
		jobs = append(jobs, job(t, seed))
	}
	rapid.Check(t, func(t *rapid.T) {
		j := rapid.SampledFrom(jobs).Draw(t, "job")
		s, err := j.Stand()
		if err != nil {
			t.Fatal(err)
		}
		n := rapid.IntRange(1, 60).Draw(t, "acts")
		var outs []history.Step
		for range n {
			forms := s.Possible()
			if len(forms) == 0 {
				break
			}
			a := drawAct(t, rapid.SampledFrom(forms).Draw(t, "form"))
			o, err := s.Do(a)
			if err == nil {
				outs = append(outs, o)
			}
		}
		rep, err := grading.Grade(j.Card, outs, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		checkBounds(t, rep)
		again, _ := grading.Grade(j.Card, outs, quantity.Metric)
		assert.Equal(t, rep, again)
	})
}

// drawAct fills in a form's blanks with what could be meant.
func drawAct(t *rapid.T, f act.Form) act.Act {
	line := f.String()
	for strings.Contains(line, "{") {
		i := strings.Index(line, "{")
		end := i + strings.Index(line[i:], "}")
		blank := line[i+1 : end]
		var word string
		switch blank {
		case "length":
			if f == act.FitDepthShim {
				word = quantity.Entered{Number: float64(rapid.IntRange(20, 40).Draw(t, "thou")), Unit: quantity.UnitThou}.String()
			} else {
				word = quantity.Entered{Number: float64(2 * rapid.IntRange(30, 40).Draw(t, "half thou")), Unit: quantity.UnitThou}.String()
			}
		case "torque":
			word = quantity.Entered{Number: float64(rapid.IntRange(20, 700).Draw(t, "lb-ft")), Unit: quantity.UnitFootLb}.String()
		case "angle":
			word = quantity.Entered{Number: float64(rapid.IntRange(1, 200).Draw(t, "degrees")), Unit: quantity.UnitDegree}.String()
		case "turns", "places":
			word = quantity.Entered{Number: float64(rapid.IntRange(1, 8).Draw(t, "turns"))}.String()
		case "amount":
			word = "0.2mm"
			switch {
			case strings.Contains(line, "pattern "):
				word = "0.5"
			case strings.Contains(line, "torque "):
				word = "20lb-in"
			}
		default:
			word = rapid.SampledFrom(strings.Split(blank, "|")).Draw(t, "choice")
		}
		line = line[:i] + word + line[end+1:]
	}
	return say(line)
}

// lessonOn is the lesson of the dearest decision of an area.
func lessonOn(rep grading.Report, a grading.Area) string {
	most, lesson := 0.0, ""
	for _, d := range rep.Decisions {
		if d.Area == a && d.Lost > most {
			most, lesson = d.Lost, d.Lesson
		}
	}
	return lesson
}
