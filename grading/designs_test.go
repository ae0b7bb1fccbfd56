package grading_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/inference"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// Every design is graded by the same measure: on every family sound work scores well,
// one wrong move costs, and work that cannot come right fails.
func TestEveryFamilyTellsGoodWorkFromBad(t *testing.T) {
	jobs := longtest.Pick[uint64](3, 5)
	const (
		leastMean, leastOfAll = 90, 95
		margin                = 30
	)
	all, families := 0.0, longtest.Some(family.Shelf(), 5)
	for _, fam := range families {
		mean := map[string]float64{}
		for seed := uint64(1); seed <= jobs; seed++ {
			j, err := scenariostest.Generate(fam, seed)
			require.NoError(t, err)
			for _, p := range panel() {
				b := open(t, j)
				if err := technician.Work(b, j.Card.Known, p.habits); err != nil {
					require.Equal(t, "signs turned", p.name, "%s %d: with turned signs not every axle can be closed up", fam.Code, seed)
				}
				rep := grade(t, j, b.outs)
				checkBounds(t, rep)
				mean[p.name] += float64(rep.Score) / float64(jobs)
			}
		}
		t.Logf("%-9s %v", fam.Code, mean)
		assert.GreaterOrEqual(t, mean["competent"], float64(leastMean), fam.Code)
		all += mean["competent"] / float64(len(families))
		assert.GreaterOrEqual(t, mean["competent"], mean["one wrong move"]-5, fam.Code)
		for _, bad := range []string{"signs turned", "never measures"} {
			if bad == "signs turned" && !fam.Sheet.Marks.Known() {
				// Without marks there is one sign less to turn, and a job that calls for
				// no correction shows nothing of the habit.
				assert.Greater(t, mean["one wrong move"], mean[bad]+margin/2, fam.Code)
				continue
			}
			assert.GreaterOrEqual(t, mean["one wrong move"], mean[bad]+margin, "%s: %s", fam.Code, bad)
			assert.LessOrEqual(t, mean[bad], 49.0, "%s: %s passes", fam.Code, bad)
		}
	}
	assert.GreaterOrEqual(t, all, float64(leastOfAll))
}

// What the reasoner believes at sign-off of depth, backlash, side fit and pinion drag is,
// on every family, as uncertain as it is wrong.
func TestBeliefIsCalibratedOnEveryFamily(t *testing.T) {
	jobs := longtest.Pick[uint64](6, 60)
	const (
		// Wider than for the 300 jobs of one family: the root mean square of 60
		// normal errors has a standard error of 0.09, and backlash is believed less
		// sharply than it could be.
		least, most = 0.5, 1.5
		shift       = 0.5
	)
	// Of few jobs of a family the root mean square has a standard error of 0.3. A short run
	// holds the bounds above for all families together, a long one for each.
	fewMost, fewShift := longtest.Pick(2.5, most), longtest.Pick(1.5, shift)
	type tally struct{ sum, square, n float64 }
	everywhere := map[string]tally{}
	for i, fam := range family.Shelf() {
		// Instruments go with the seed: few jobs of many families need seeds of their own.
		before := longtest.Pick(uint64(i)*jobs, 0)

		sum, square, n := map[string]float64{}, map[string]float64{}, map[string]float64{}
		add := func(what string, true float64, e inference.Law) {
			z := (true - e.Mean) / e.SD
			sum[what], square[what], n[what] = sum[what]+z, square[what]+z*z, n[what]+1
		}
		for seed := uint64(1); seed <= jobs; seed++ {
			j, err := scenariostest.Sketch(fam, before+seed)
			require.NoError(t, err)
			b := open(t, j)
			if technician.Work(b, j.Card.Known, technician.Competent()) != nil {
				continue // a draw that no hand can finish; Generate draws again
			}
			held, err := inference.Believe(j.Card, b.outs)
			require.NoError(t, err)
			_, f := truth.Open(b.Sealed())
			thicker := f.DepthErrorMM
			if !fam.Design.ThickerIsDeeper() {
				thicker = -thicker
			}
			add("depth", thicker, held.Depth)
			add("backlash", f.BacklashMeanMM, held.Lash)
			add("side fit", f.SideFitMM, held.Fit)
			if f.PinionPreloadN > 0 {
				add("drag", f.PinionTorqueNmm-f.SealNmm, held.Torque)
			}
		}
		for what, total := range n {
			require.Greater(t, total, 0.8*float64(jobs), "%s %s", fam.Code, what)
			rms, mean := math.Sqrt(square[what]/total), sum[what]/total
			assert.LessOrEqual(t, rms, fewMost, "%s %s", fam.Code, what)
			assert.InDelta(t, 0, mean, fewShift, "%s %s", fam.Code, what)
			if longtest.On() {
				assert.GreaterOrEqual(t, rms, least, "%s %s", fam.Code, what)
				assert.Greater(t, total, 0.9*float64(jobs), "%s %s", fam.Code, what)
			}
			all := everywhere[what]
			everywhere[what] = tally{all.sum + sum[what], all.square + square[what], all.n + total}
		}
	}
	for what, all := range everywhere {
		rms, mean := math.Sqrt(all.square/all.n), all.sum/all.n
		t.Logf("%s on all families: mean %+.2f, rms %.2f", what, mean, rms)
		assert.True(t, rms >= least && rms <= most, "%s: rms %.2f", what, rms)
		assert.InDelta(t, 0, mean, shift, what)
	}
}

// A solid spacer's pack teaches its lesson: a pack far from what the readings said is
// charged to preload, and the nut of a solid spacer turned by an angle is not.
func TestPreloadShimsIsJudgedOnWhatWasRead(t *testing.T) {
	fam, err := family.Shipped("HAZEL")
	require.NoError(t, err)
	j, err := scenariostest.Generate(fam, 1)
	require.NoError(t, err)
	good := open(t, j)
	require.NoError(t, technician.Work(good, j.Card.Known, technician.Competent()))
	shims := good.Status().PreloadShims
	b := open(t, j)
	nut := quantity.Entered{Number: math.Round(fam.Sheet.NutMid().FootPounds()), Unit: quantity.UnitFootLb}
	build := func(size quantity.Length) {
		entered := quantity.Entered{Number: math.Round(size.Inches()*1000) / 1000, Unit: quantity.UnitInch}
		script(t, b, "fit preload-shims "+entered.String(), "fit pinion final", "tighten nut to "+nut.String(), "turn pinion 10", "measure torque rotating wrench")
	}
	shim := quantity.Entered{Number: math.Round(j.Card.Known.StarterShim().Inches()*1000) / 1000, Unit: quantity.UnitInch}
	script(t, b, "fit depth-shim "+shim.String())
	build(j.Card.Known.StarterPreloadShims(j.Card.Known.StarterShim()))
	script(t, b, "remove pinion")
	build(shims + quantity.Thou(8))
	rep := grade(t, j, b.outs)
	var last grading.Decision // the dearest of the preload
	for _, d := range rep.Decisions {
		if d.Area == grading.Preload && d.Lost > last.Lost {
			last = d
		}
	}
	assert.Equal(t, grading.Preload, last.Area)
	assert.Equal(t, "solid-spacer", last.Lesson)
	assert.Greater(t, last.Lost, 10.0, last)
	for _, d := range rep.Decisions {
		assert.NotEqual(t, "crush-spacer", d.Lesson, d)
	}
}

// Cups that may be off their shoulders take up play: until they have been looked at, the
// pack that would be right is believed thicker than the old one.
func TestCupsMayAskForAThickerPreloadShim(t *testing.T) {
	fam, err := family.Shipped("HAZEL")
	require.NoError(t, err)
	j, err := scenarios.Order{Family: fam, Faults: scenarios.FaultRule{None: true, OneOf: []fault.ID{fault.OuterCupHigh}}}.Generate(3)
	require.NoError(t, err)
	held, err := inference.Believe(j.Card, nil)
	require.NoError(t, err)
	f, err := fault.Find(fault.OuterCupHigh)
	require.NoError(t, err)
	assert.InDelta(t, j.Card.Known.OldPreloadShims.MM()+(f.Size.Low+f.Size.High)/2, held.PreloadShims.Mean, 1e-9)
	b := open(t, j)
	script(t, b, "inspect cups", "seat cups", "inspect cups")
	held, err = inference.Believe(j.Card, b.outs)
	require.NoError(t, err)
	assert.InDelta(t, j.Card.Known.OldPreloadShims.MM(), held.PreloadShims.Mean, 1e-9)
}

// Rings run up to a cone that then goes home: both the sum and the difference of the slots
// that are right move by what the feeler found.
func TestRingsAfterTheConeWentHome(t *testing.T) {
	fam, err := family.Shipped("JUNIPER")
	require.NoError(t, err)
	j, err := scenarios.Order{Family: fam, Faults: scenarios.FaultRule{None: true, OneOf: []fault.ID{fault.RingGearConeHigh}}}.Generate(3)
	require.NoError(t, err)
	b := open(t, j)
	shim := quantity.Entered{Number: math.Round(j.Card.Known.StarterShim().Inches()*1000) / 1000, Unit: quantity.UnitInch}
	script(t, b, "inspect cones", "fit depth-shim "+shim.String(), "fit pinion final", "tighten nut to 200lb-ft", "fit case", "remove case")
	before, err := inference.Believe(j.Card, b.outs)
	require.NoError(t, err)
	script(t, b, "seat cones")
	after, err := inference.Believe(j.Card, b.outs)
	require.NoError(t, err)
	x, _ := truth.Open(j.Sealed())
	const feelerMM = 0.03
	assert.InDelta(t, x.RingGearConeGapMM, after.Line.Mean-before.Line.Mean, feelerMM)
	assert.InDelta(t, x.RingGearConeGapMM/2, after.Split.Mean-before.Split.Mean, feelerMM/2)
}

// Every kind of job is graded on what was known where it began: sound work scores well,
// signing for another hand's axle unread is a gamble and scored as one, and a job that ends
// early is not held to what lies beyond.
func TestEveryKindIsGraded(t *testing.T) {
	jobs := longtest.Pick[uint64](3, 12)
	leastMean := longtest.Pick(85.0, 93.0)
	for _, code := range []string{"BEECH", "HAZEL", "JUNIPER"} {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		for _, kind := range scenarios.Kinds() {
			good, unread := 0.0, 0.0
			for seed := uint64(1); seed <= jobs; seed++ {
				j, err := scenarios.Order{Family: fam, Kind: kind}.Generate(seed)
				require.NoError(t, err)
				b := open(t, j)
				require.NoError(t, technician.Work(b, j.Card.Known, technician.Competent()))
				rep := grade(t, j, b.outs)
				checkBounds(t, rep)
				good += float64(rep.Score) / float64(jobs)
				if kind == scenarios.PreviousWork {
					b := open(t, j)
					script(t, b, "sign off")
					rep := grade(t, j, b.outs)
					unread += float64(rep.Score) / float64(jobs)
					assert.Equal(t, grading.Stopping, rep.Decisions[len(rep.Decisions)-1].Area)
				}
			}
			t.Logf("%s %s: %.1f, unread %.1f", code, kind, good, unread)
			least := leastMean
			if kind == scenarios.PreviousWork {
				least -= 10 // what a previous technician did wrong cannot all be told from a finished axle
			}
			assert.GreaterOrEqual(t, good, least, "%s %s", code, kind)
			assert.LessOrEqual(t, unread, 10.0, "%s %s", code, kind)
		}
	}
}

// On an axle that another hand left right, reading everything and signing loses little.
// Stripping it after all has been read loses the work it undoes, unless what was read
// leaves a real doubt.
func TestARightAxleIsLeftAlone(t *testing.T) {
	charged, right := 0, 0
	for seed := uint64(1); seed <= longtest.Pick[uint64](16, 60); seed++ {
		j, err := scenarios.Order{Family: family.Beech(), Kind: scenarios.PreviousWork}.Generate(seed)
		require.NoError(t, err)
		if x, _ := truth.Open(j.Sealed()); x.Mistake != "" {
			continue
		}
		right++
		last := func(does ...string) grading.Decision {
			b := open(t, j)
			script(t, b, "mount indicator heel square pinion-held", "test indicator", "measure runout", "measure backlash 4", "measure spread", "measure torque rotating wrench",
				"measure torque rotating string", "test string", "tighten nut 0.5deg", "turn pinion 5", "measure torque rotating wrench", "paint teeth thin", "roll gears braked", "paint teeth thin", "roll gears braked")
			script(t, b, does...)
			var last grading.Decision
			for _, d := range grade(t, j, b.outs).Decisions {
				if d.Area == grading.Stopping {
					last = d
				}
			}
			return last
		}
		signs, strips := last("sign off"), last("remove case", "remove pinion")
		assert.Less(t, signs.Lost, 15.0, "job %d: %s", seed, signs.Means)
		if strips.Lost > signs.Lost {
			charged++
		}
	}
	assert.Greater(t, right, longtest.Pick(1, 4))
	assert.GreaterOrEqual(t, charged, right/3, "of %d", right)
}
