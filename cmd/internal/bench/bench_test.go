package bench_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// A keeper keeps lines until it fails.
type keeper struct {
	lines [][]byte
	fail  error
}

func (k *keeper) Append(line []byte) error {
	if k.fail == nil {
		k.lines = append(k.lines, line)
	}
	return k.fail
}

func open(t *testing.T, o scenarios.Order) (*bench.Bench, *keeper) {
	t.Helper()
	b, err := bench.Open(attempt.New(attempt.Terms{}, o, "", 7, quantity.Inch))
	require.NoError(t, err)
	k := &keeper{}
	b.Keep(k)
	return b, k
}

func do(t *testing.T, b *bench.Bench, line string) {
	t.Helper()
	a, err := act.Parse(line, quantity.Inch)
	require.NoError(t, err)
	_, err = b.Do(a)
	require.NoError(t, err, line)
}

func TestAnActIsKeptOrDoesNotCount(t *testing.T) {
	b, k := open(t, scenarios.Order{Family: family.Beech()})
	do(t, b, "inspect cups")
	assert.Len(t, k.lines, 1)
	assert.Len(t, b.Shown(), 1)
	_, err := b.Do(act.Act{Form: act.FitCase})
	assert.True(t, bench.Refused(err))
	assert.Len(t, k.lines, 1, "what cannot be done is not kept")
	k.fail = errors.New("disk full")
	_, err = b.Do(act.Act{Form: act.InspectSeal})
	assert.ErrorIs(t, err, k.fail)
	assert.False(t, bench.Refused(err))
	assert.Len(t, b.Shown(), 1, "an act that is not kept does not count")
}

func TestLimitsAreToldOnce(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech(), Budget: scenarios.Budget{Minutes: 3}})
	for i, want := range []bool{false, true, false} {
		do(t, b, []string{"inspect cups", "inspect cups", "inspect cups"}[i])
		work, parts := b.UsedUp()
		assert.Equal(t, want, work, "act %d, minute %v", i+1, b.Status().Minutes)
		assert.False(t, parts)
	}
}

func TestTheLastPatternIsFound(t *testing.T) {
	b, _ := open(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.PatternJob})
	_, ok := b.LastPattern()
	assert.False(t, ok)
	for _, line := range []string{"paint teeth thin", "roll gears braked", "record backlash 0.006in"} {
		do(t, b, line)
	}
	o, ok := b.LastPattern()
	assert.True(t, ok)
	assert.Equal(t, act.RollGears, o.Act.Form)
	d, err := b.Debrief(cost.Default(), quantity.Inch, true)
	require.NoError(t, err)
	assert.Equal(t, 2, d.Last.Act)
}
