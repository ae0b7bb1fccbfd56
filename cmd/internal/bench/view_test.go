package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

func item(t *testing.T, v bench.View, id string) bench.Item {
	t.Helper()
	for _, i := range v.Paper {
		if i.ID == id {
			return i
		}
	}
	t.Fatalf("the paper has no %s", id)
	return bench.Item{}
}

func TestTheStagesFollowTheWork(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}})
	at := func() bench.Stage { return b.View(quantity.Inch).At }
	v := b.View(quantity.Inch)
	assert.Equal(t, bench.Inspect, v.At)
	assert.Len(t, v.Stages, 6)
	assert.Equal(t, act.InspectCups, v.Left[0].Form)
	assert.True(t, v.Saved)
	do(t, b, "inspect cups")
	assert.NotEqual(t, act.InspectCups, b.View(quantity.Inch).Left[0].Form)
	do(t, b, "fit depth-shim 0.030in")
	assert.Equal(t, bench.Depth, at())
	do(t, b, "fit pinion final")
	assert.Equal(t, bench.PinionPreload, at())
	for _, f := range b.View(quantity.Inch).Left {
		assert.NotEqual(t, act.InspectSeal, f.Form, "what is closed in is no longer asked for")
	}
	for _, line := range []string{"fit side-shims ring-gear 0.070in opposite 0.070in", "fit case"} {
		do(t, b, line)
	}
	assert.Equal(t, bench.Sides, at())
	assert.NotEmpty(t, b.View(quantity.Inch).Lacking())

	part, _ := open(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.DepthJob})
	assert.Equal(t, []bench.Stage{bench.Inspect, bench.Depth, bench.Prove}, part.View(quantity.Inch).Stages)
}

func TestThePaperTellsWhatAReadingIsStillWorth(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}})
	torque := func() bench.Item { return item(t, b.View(quantity.Inch), "pinion-torque") }
	assert.Equal(t, bench.NotRead, torque().State)
	assert.Less(t, torque().Low, torque().High)
	for _, line := range []string{"fit depth-shim 0.030in", "fit pinion final", "tighten nut to 200 lb-ft", "turn pinion 5", "measure torque rotating wrench"} {
		do(t, b, line)
	}
	read := torque()
	assert.Equal(t, bench.Fresh, read.State)
	assert.Equal(t, 5, read.Step)
	assert.Equal(t, -1, read.Side(), "a spacer that is not crushed yet gives no preload")
	assert.Positive(t, read.Unsure)
	do(t, b, "turn pinion 5")
	assert.Equal(t, bench.Fresh, torque().State, "turning changes nothing that is counted")
	do(t, b, "tighten nut 5 deg")
	stale := torque()
	assert.Equal(t, bench.Stale, stale.State)
	assert.Equal(t, 7, stale.Since)
	assert.Equal(t, read.Read, stale.Read, "what was read stays in its place")
}

func TestChoicesHaveLimitsAndReasons(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech()})
	v := b.View(quantity.Inch)
	c, ok := v.Choice(act.FitDepthShim)
	require.True(t, ok)
	assert.Nil(t, c.Why)
	assert.Equal(t, family.Beech().Sheet.DepthShims.LowMM, c.Slots[0].Low)
	assert.Len(t, c.Slots[0].Usual, 17)
	for _, e := range c.Slots[0].Usual {
		_, err := b.Do(act.Act{Form: act.FitDepthShim, Amounts: []quantity.Entered{e}})
		assert.NoError(t, err, "%v is on the shelf", e)
	}
	c, _ = v.Choice(act.MeasureBacklash)
	require.NotNil(t, c.Why)
	assert.Equal(t, history.NotNow, c.Why.Bar)
	_, ok = v.Choice(act.TurnRingGearAdjuster)
	assert.False(t, ok, "what has no place on this axle is not offered")
	record, _ := v.Choice(act.RecordValue)
	assert.NotContains(t, record.Slots[0].Options, act.PreloadShimsLine)
	seen := 0
	for g := bench.Inspecting; g <= bench.Writing; g++ {
		seen += len(v.In(g))
	}
	assert.Equal(t, len(v.Choices)-1, seen, "every act but expect is in a group")
}

func TestTheLastRoundIsRepeated(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech(), Faults: scenarios.FaultRule{None: true}})
	for _, line := range []string{"fit depth-shim 0.030in", "fit pinion final", "tighten nut to 200 lb-ft", "turn pinion 5", "measure torque rotating wrench"} {
		do(t, b, line)
	}
	lines := func() []string {
		var out []string
		for _, a := range b.Repeat() {
			out = append(out, a.String())
		}
		return out
	}
	assert.Equal(t, []string{"tighten nut to 200lb-ft", "turn pinion 5turns", "measure torque rotating wrench"}, lines())
	for _, line := range []string{"tighten nut 10 deg", "turn pinion 5", "measure torque rotating wrench"} {
		do(t, b, line)
	}
	assert.Equal(t, []string{"tighten nut 10deg", "turn pinion 5turns", "measure torque rotating wrench"}, lines())
	do(t, b, "tighten nut 5 deg")
	assert.Equal(t, []string{"tighten nut 5deg"}, lines(), "what has not been read yet is repeated by itself")
	do(t, b, "remove pinion")
	assert.Empty(t, b.Repeat(), "what cannot be done is not repeated")
}

// Whoever follows the hints comes to the signature; asking for one changes nothing.
func TestHintsCanBeFollowed(t *testing.T) {
	for code, kind := range map[string]scenarios.Kind{"BEECH": scenarios.WholeJob, "ALDER": scenarios.WholeJob, "CEDAR": scenarios.WholeJob, "HAZEL": scenarios.SidesJob, "ELM": scenarios.DepthJob} {
		b, k := open(t, scenarios.Order{Family: shipped(t, code), Kind: kind})
		const most = 150
		for range most {
			next, ok := b.Hint()
			if !ok {
				break
			}
			require.Len(t, k.lines, len(b.Shown()))
			_, err := b.Do(next)
			require.NoError(t, err, next)
		}
		assert.True(t, b.Status().SignedOff, "%s: %v", code, b.View(quantity.Inch).Last.Act)
	}
}

func TestWhatWouldBeWritten(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech()})
	_, ok := b.Latest(act.DepthShimLine, quantity.Inch)
	assert.False(t, ok)
	do(t, b, "fit depth-shim 0.031in")
	e, ok := b.Latest(act.DepthShimLine, quantity.Inch)
	assert.True(t, ok)
	assert.Equal(t, "0.031in", e.String())
	assert.False(t, b.View(quantity.Inch).Sheet[0].Written)
	do(t, b, "record depth-shim "+e.String())
	assert.True(t, b.View(quantity.Inch).Sheet[0].Written)
}

func shipped(t *testing.T, code string) family.Family {
	t.Helper()
	f, err := family.Shipped(code)
	require.NoError(t, err)
	return f
}

// Whoever is examined sees the paper, and not what the procedure still asks for.
func TestAViewWithoutHelp(t *testing.T) {
	b, err := bench.Open(attempt.New(attempt.Terms{Mode: attempt.Exam, Help: attempt.NoHelp}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch))
	require.NoError(t, err)
	for _, line := range []string{"fit depth-shim 0.030in", "fit pinion final", "tighten nut to 200 lb-ft", "measure torque breakaway wrench"} {
		do(t, b, line)
	}
	v := b.View(quantity.Inch)
	assert.Empty(t, v.Stages)
	assert.Empty(t, v.Left)
	assert.Zero(t, item(t, v, "pinion-torque").Why)
	assert.Equal(t, bench.Fresh, item(t, v, "pinion-torque").State)
	for _, c := range v.Choices {
		assert.False(t, c.Left, "%s", c.Form)
	}
}
