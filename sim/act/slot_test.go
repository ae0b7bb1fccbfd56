package act_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/act"
)

func TestSlots(t *testing.T) {
	assert.Empty(t, act.InspectCups.Slots())
	assert.Equal(t, []act.Slot{{Amount: act.LengthAmount, After: "ring-gear"}, {Amount: act.LengthAmount, After: "opposite"}}, act.FitSideShims.Slots())
	slots := act.MeasureTorque.Slots()
	assert.Equal(t, []act.Option{act.Rotating, act.Breakaway}, slots[0].Options)
	assert.Equal(t, []act.Option{act.Wrench, act.String}, slots[1].Options)
	for _, u := range act.Usages() {
		assert.Equal(t, u.Form.Open(), len(u.Form.Slots()) > 0, "%s", u.Form)
	}
}

func TestNext(t *testing.T) {
	none := act.Reader{Has: func(f act.Form) bool { return f != act.TightenNutTorque }}
	for line, want := range map[string][]string{
		"inspect sh":                        nil,
		"turn":                              {"pinion", "ring-gear-adjuster", "opposite-adjuster"},
		"turn ring gear adjuster":           {"in", "out"},
		"fit side-shims":                    {"ring-gear"},
		"fit side-shims ring-gear 0.070 in": {"opposite"},
		"mount indicator heel":              {"square", "along", "tilted"},
		"measure torque rotating wrench":    nil,
	} {
		assert.Equal(t, want, act.Reader{}.Next(line), line)
	}
	assert.Equal(t, act.Verbs(), act.Reader{}.Next(""))
	assert.Contains(t, act.Reader{}.Next("tighten nut"), "to")
	assert.NotContains(t, none.Next("tighten nut"), "to")
}
