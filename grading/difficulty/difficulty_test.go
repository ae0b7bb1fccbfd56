package difficulty

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
)

func measure(t *testing.T, o scenarios.Order, seed uint64, mistakes ...string) (Measure, scenarios.Job) {
	t.Helper()
	j, err := o.Generate(seed)
	require.NoError(t, err)
	m, err := Of(j, mistakes...)
	require.NoError(t, err)
	return m, j
}

// On every design and kind the panel finishes, the careful hand is at its head, and the
// numbers keep within their bounds. Measuring again gives the same.
func TestEveryKindCanBeMeasured(t *testing.T) {
	for _, code := range longtest.Pick([]string{"IRONBARK"}, []string{"BEECH", "HAZEL", "IRONBARK", "JUNIPER"}) {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		for _, kind := range scenarios.Kinds() {
			m, j := measure(t, scenarios.Order{Family: fam, Kind: kind}, 3)
			for _, p := range m.Plays {
				assert.True(t, p.Done, "%s %s: %s", code, kind, p.Technician)
				assert.LessOrEqual(t, p.Score, 100)
			}
			assert.GreaterOrEqual(t, m.Careful, 50, "%s %s", code, kind)
			lost := map[string]float64{}
			for _, p := range m.Plays {
				lost[p.Technician] = p.Lost
			}
			for name, loses := range map[string]float64{WrongMove: m.WrongMoveLoses, SignsTurned: m.SignsTurnedLoses, NeverMeasures: m.NeverMeasuresLoses} {
				if loses > 0 {
					assert.InDelta(t, lost[name], lost[Careful]+loses, 1e-9, "%s %s: %s", code, kind, name)
				} else {
					assert.LessOrEqual(t, lost[name], lost[Careful], "%s %s: %s", code, kind, name)
				}
			}
			assert.GreaterOrEqual(t, m.Discrimination, 0.0, "%s %s", code, kind)
			if kind == scenarios.WholeJob {
				assert.Greater(t, m.NeverMeasuresLoses, 0.0, code)
			}
			assert.True(t, m.Number() > 0 && m.Number() < 100, "%s %s: %g", code, kind, m.Number())
			assert.Positive(t, m.Acts)
			assert.Positive(t, m.Minutes)
			again, err := Of(j)
			require.NoError(t, err)
			assert.Equal(t, m, again)
		}
	}
}

// A whole job holds all that a depth job on its axle does, and more.
func TestAWholeJobIsHarderThanItsBeginning(t *testing.T) {
	for seed := uint64(1); seed <= 3; seed++ {
		whole, _ := measure(t, scenarios.Order{Family: family.Beech()}, seed)
		depth, _ := measure(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.DepthJob}, seed)
		assert.Greater(t, whole.Number(), depth.Number())
		assert.Greater(t, whole.Minutes, depth.Minutes)
		assert.Greater(t, whole.Decisions, depth.Decisions)
		assert.Greater(t, whole.Entropy, depth.Entropy)
		assert.Equal(t, Easy, depth.Band())
	}
}

// Two faults even: one bit each way of knowing which, counted for each by itself. Nothing
// open: no bits.
func TestEntropyIsOfTheDisclosedRates(t *testing.T) {
	none, _ := measure(t, scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}}, 1)
	assert.Zero(t, none.Entropy)
	even, _ := measure(t, scenarios.Order{Family: family.Beech(),
		Faults: scenarios.FaultRule{None: true, OneOf: []fault.ID{fault.InnerCupHigh, fault.RingGearConeHigh}}}, 1)
	assert.InDelta(t, 2, even.Entropy, 1e-12)
	// Two mistakes of one in four each and none otherwise: a bit and a half (arithmetic).
	assert.InDelta(t, 1.5, entropy(scenarios.Card{Family: family.Beech(), Mistakes: []scenarios.Rate{{Rate: 0.25}, {Rate: 0.25}}}, nil), 1e-12)
	// One fault in four axles: 2 - (3/4) log2(3) bits (arithmetic).
	assert.InDelta(t, 2-0.75*math.Log2(3), surprise(0.25)+surprise(0.75), 1e-12)
}

// A mark turned round shows twice the difference of the marks in the depth, where there is
// one; a slip that cannot be made on the axle sets nothing apart.
func TestSignsOfMistakes(t *testing.T) {
	told := 0
	for seed := uint64(1); seed <= 6; seed++ {
		m, j := measure(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.DepthJob, Faults: scenarios.FaultRule{None: true}}, seed, "mark-turned", "used-set-as-new")
		require.Len(t, m.Signs, 2)
		k := j.Card.Known
		if !j.Card.UsedGears {
			want := 2 * math.Abs(k.NewMark.MM()-k.OldMark.MM()) / k.Sheet.DepthShims.StepMM
			const others = 4 // steps: what the careful hand corrects of the old build, twice its standard deviation
			assert.InDelta(t, want, m.Signs[0].Steps, others, "job %d", seed)
			assert.Zero(t, m.Signs[1].Steps)
		}
		if m.Signs[0].Steps >= ApartSteps {
			told++
		}
	}
	assert.Positive(t, told)
	j, err := scenariostest.Generate(family.Beech(), 1)
	require.NoError(t, err)
	_, err = Of(j, "no-such-mistake")
	assert.ErrorContains(t, err, "mistake.unknown")
}

// The values that shims set are found under the names that package verdict gives them.
func TestVerdictHasTheValuesThatShimsSet(t *testing.T) {
	j, err := scenariostest.Generate(family.Beech(), 1)
	require.NoError(t, err)
	s, err := j.Stand()
	require.NoError(t, err)
	require.NoError(t, technician.Work(s, j.Card.Known, technician.Competent()))
	names := map[verdict.Line]verdict.Item{}
	for _, i := range finished(j.Card, s) {
		names[i.Line] = i
	}
	require.Contains(t, names, verdict.PinionDepth)
	require.Contains(t, names, verdict.Backlash)
	sh := j.Card.Family.Sheet
	assert.Equal(t, sh.DepthShims.StepMM, step(j.Card, names[verdict.PinionDepth]))
	assert.InDelta(t, j.Card.Known.PerTravel()*sh.SideShims.StepMM, step(j.Card, names[verdict.Backlash]), 1e-12)
}

// The number by hand: a panel at 50, two hours, half the decisions, a quarter of the bits.
func TestNumberFollowsItsRule(t *testing.T) {
	m := Measure{Panel: 50, Minutes: 120, Decisions: 15, Entropy: 2}
	assert.InDelta(t, 30+10+5+2.5, m.Number(), 1e-12)
	assert.Equal(t, Medium, m.Band())
	m.Panel = 20
	assert.Equal(t, Hard, m.Band())
	m.Panel = 100
	assert.Equal(t, Easy, m.Band())
	m.Minutes, m.Decisions, m.Entropy, m.Panel = 1e6, 1000, 1000, 0
	assert.Equal(t, 100.0, m.Number())
}
