package bench_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// Whatever can be done on an axle is found at a part of it, but for what is written; no part
// is without an act, and none lists one twice.
func TestEveryActIsFoundAtAPart(t *testing.T) {
	for _, code := range []string{"BEECH", "HAZEL", "CEDAR", "ALDER", "JUNIPER"} {
		f, err := family.Shipped(code)
		require.NoError(t, err)
		b, err := bench.Open(attempt.New(attempt.Terms{}, scenarios.Order{Family: f}, "", 7, quantity.Inch))
		require.NoError(t, err)
		v := b.View(quantity.Inch)
		found := map[act.Form]bool{}
		for _, p := range bench.Parts() {
			all := v.On(p)
			assert.NotEmpty(t, all, "%s: part %d", code, p)
			var here []act.Form
			cannot := false
			for _, c := range all {
				assert.False(t, slices.Contains(here, c.Form), "%s: %s twice at part %d", code, c.Form, p)
				assert.False(t, cannot && c.Why == nil, "%s: what can be done comes first", code)
				cannot = cannot || c.Why != nil
				here = append(here, c.Form)
				found[c.Form] = true
			}
		}
		for _, c := range v.Choices {
			written := c.Group == bench.Writing || c.Form == act.ExpectValue
			assert.NotEqual(t, written, found[c.Form], "%s: %s", code, c.Form)
		}
	}
}
