package scenarios_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// Every kind of job there is, on families of every design: the competent hand finishes it,
// the job comes out the same again, and what was done before is charged to nobody.
func TestEveryKindOnEveryDesign(t *testing.T) {
	jobs := longtest.Pick[uint64](1, 3)
	for i, fam := range family.Shelf() {
		for k, kind := range scenarios.Kinds() {
			for seed := uint64(1); seed <= jobs; seed++ {
				o := scenarios.Order{Family: fam, Kind: kind}
				j, err := o.Generate(seed)
				require.NoError(t, err, "%s %s %d", fam.Code, kind, seed)
				s, err := j.Stand()
				require.NoError(t, err)
				st := s.Status()
				assert.Zero(t, st.Minutes)
				assert.Zero(t, st.Acts)
				assert.Empty(t, st.Parts)
				if kind != scenarios.WholeJob && kind != scenarios.DepthJob {
					assert.Equal(t, j.Card.Start, st, "%s %s", fam.Code, kind)
				}
				require.NoError(t, technician.Work(s, j.Card.Known, sure()))
				assert.True(t, s.Status().SignedOff)
				assert.True(t, verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, s.Sealed())), "%s %s %d", fam.Code, kind, seed)

				if !longtest.On() && (i+k)%3 != 0 {
					continue // a short run makes a third of them twice
				}
				again, err := o.Generate(seed)
				require.NoError(t, err)
				assert.Equal(t, j.Card, again.Card)
			}
		}
	}
}

// sure is the reference technician who strips a previous technician's axle, so that what no
// reading tells is put right too.
func sure() technician.Habits {
	h := technician.Competent()
	h.Strips = true
	return h
}

// Where a job begins: as its kind says.
func TestKindsBeginWhereTheySay(t *testing.T) {
	for kind, want := range map[scenarios.Kind]history.PinionBuild{
		scenarios.PreloadJob: history.PinionOut, scenarios.SidesJob: history.PinionFinal,
		scenarios.PatternJob: history.PinionFinal, scenarios.PreviousWork: history.PinionFinal,
	} {
		j, err := scenarios.Order{Family: family.Beech(), Kind: kind}.Generate(4)
		require.NoError(t, err)
		st := j.Card.Start
		assert.Equal(t, want, st.Pinion, kind)
		assert.Positive(t, st.DepthShim, kind)
		assert.Equal(t, kind == scenarios.PatternJob || kind == scenarios.PreviousWork, st.CaseIn, kind)
		assert.Equal(t, kind != scenarios.PreviousWork, len(j.Card.Before) > 0, "%s: another hand's readings are not to be relied on", kind)
		assert.NotEmpty(t, st.Sheet, kind)
		assert.NotEmpty(t, kind.Explain())
	}
}

// A job is signed off at its goal and not before.
func TestGoals(t *testing.T) {
	for kind, early := range map[scenarios.Kind]string{scenarios.DepthJob: "no depth shim", scenarios.PreloadJob: "final assembly", scenarios.SidesJob: "the case is not in"} {
		j, err := scenarios.Order{Family: family.Beech(), Kind: kind}.Generate(2)
		require.NoError(t, err)
		s, err := j.Stand()
		require.NoError(t, err)
		_, err = s.Do(act.Act{Form: act.SignOff})
		assert.Contains(t, text.Printer{}.Error(err), early, kind)
	}
}

// An axle taken over is wrong as its slip makes it, or right where there is none; both
// turn up, and the card tells how often.
func TestTakenOver(t *testing.T) {
	mistakes, right := map[string]int{}, 0
	for seed := uint64(1); seed <= longtest.Pick[uint64](30, 60); seed++ {
		j, err := scenarios.Order{Family: family.Beech(), Kind: scenarios.PreviousWork}.Generate(seed)
		require.NoError(t, err)
		s, err := j.Stand()
		require.NoError(t, err)
		x, _ := truth.Open(j.Sealed())
		_, f := truth.Open(s.Sealed())
		met := verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, truth.Seal(x, f)))
		assert.Equal(t, x.Mistake == "", met, "job %d: %s", seed, x.Mistake)
		if x.Mistake == "" {
			right++
			continue
		}
		mistakes[x.Mistake]++
		sum := 0.0
		for _, r := range j.Card.Mistakes {
			sum += r.Rate
		}
		assert.True(t, sum > 0.75 && sum < 0.95, "now and then an axle is right: %g", sum)
	}
	assert.Positive(t, right)
	assert.GreaterOrEqual(t, len(mistakes), 8, "%v", mistakes)
}

// Every slip spoils an axle on which it can be made, and each is named once.
func TestMistakesSpoilAxles(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range mistake.All() {
		assert.False(t, seen[s.ID], s.ID)
		seen[s.ID] = true
		for _, m := range []text.Message{s.Name, s.Shows, s.Told, s.Remedy, s.Missed, s.Part.Name()} {
			assert.False(t, m.IsZero(), s.ID)
		}
		assert.NotEmpty(t, s.Lesson, s.ID)
		again, err := mistake.Find(s.ID)
		require.NoError(t, err)
		assert.Equal(t, s.Name, again.Name)
	}
	_, err := mistake.Find("no-such-mistake")
	assert.ErrorContains(t, err, "mistake.unknown")
}

// What an order says of faults is what its jobs carry and what their cards tell.
func TestFaultRules(t *testing.T) {
	jobs := longtest.Pick(15, 40)
	carried := func(r scenarios.FaultRule) (map[fault.ID]int, scenarios.Card) {
		got := map[fault.ID]int{}
		var card scenarios.Card
		for seed := uint64(1); seed <= uint64(jobs); seed++ {
			j, err := scenarios.Order{Family: family.Beech(), Faults: r}.Generate(seed)
			require.NoError(t, err)
			x, _ := truth.Open(j.Sealed())
			for _, f := range x.Faults {
				got[f.ID]++
			}
			card = j.Card
		}
		return got, card
	}
	none, card := carried(scenarios.FaultRule{None: true})
	assert.Empty(t, none)
	for _, r := range card.Rates {
		assert.Zero(t, r.Rate, r.Name)
	}
	only, _ := carried(scenarios.FaultRule{Only: []fault.ID{fault.SealTight, fault.CapsSwapped}})
	for id := range only {
		assert.Contains(t, []fault.ID{fault.SealTight, fault.CapsSwapped}, id)
	}
	assert.NotEmpty(t, only)
	one, card := carried(scenarios.FaultRule{None: true, OneOf: []fault.ID{fault.InnerCupHigh, fault.RingGearConeHigh}})
	assert.Equal(t, jobs, one[fault.InnerCupHigh]+one[fault.RingGearConeHigh], "one of the two, always")
	assert.Positive(t, one[fault.InnerCupHigh])
	assert.Positive(t, one[fault.RingGearConeHigh])
	f, err := fault.Find(fault.InnerCupHigh)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, card.RateOf(f.ID), 1e-12)
}

func TestOrdersThatCannotBe(t *testing.T) {
	hazel, err := family.Shipped("HAZEL")
	require.NoError(t, err)
	for want, o := range map[string]scenarios.Order{
		`there is no kind of job "paint"`: {Family: family.Beech(), Kind: "paint"},
		`"rust" is not in the catalogue`:  {Family: family.Beech(), Faults: scenarios.FaultRule{Only: []fault.ID{"rust"}}},
		"HAZEL cannot have the fault":     {Family: hazel, Faults: scenarios.FaultRule{OneOf: []fault.ID{fault.SpacerCrushed}}},
	} {
		_, err := o.Generate(1)
		assert.Contains(t, text.Printer{}.Print(text.Reason(err)), want)
	}
	k, err := scenarios.ParseKind("whole")
	require.NoError(t, err)
	assert.Equal(t, scenarios.WholeJob, k)
}

// What a mark leaves out of a pinion moves the height at which it runs right and the shim
// that brings it there: the gauge over a given shim does not see it. Where thicker is
// deeper the two go against each other, under a cage together.
func TestAPinionsOwnErrorIsInHeightAndShim(t *testing.T) {
	jobs := longtest.Pick[uint64](1000, 3000)
	for code, want := range map[string]float64{"BEECH": -1, "HAZEL": -1, "JUNIPER": 1, "DOGWOOD": 1} {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		sum, n := 0.0, 0.0
		for seed := uint64(1); seed <= jobs; seed++ {
			j, err := scenariostest.Sketch(fam, seed)
			require.NoError(t, err)
			if j.Card.UsedGears {
				continue
			}
			x, _ := truth.Open(j.Sealed())
			k := j.Card.Known
			height := x.CheckingDistanceMM - k.WantedDistance().MM()
			shim := x.IdealShimMM - k.StarterShim().MM()
			sum, n = sum+height*shim, n+1
		}
		covariance, sd := sum/n, scenarios.MarkSD(fam.Sheet)
		// Its standard error is the mark's spread times that of the shim's history.
		assert.InDelta(t, want*sd*sd, covariance, 4*sd*0.075/math.Sqrt(n), code)
		assert.Positive(t, want*covariance, code)
	}
}
