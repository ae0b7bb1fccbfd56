package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/act"
	"shimwright/sim/checkstest"
	"shimwright/sim/shop"
)

// work sums what some acts take on the plainest design, minutes.
func work(forms ...act.Form) float64 {
	sum := 0.0
	for _, f := range forms {
		sum += float64(shop.TimeOf(beech, f, 4))
	}
	return sum
}

// What whole pieces of work take by the acts that they are made of, beside what labor guides
// and maintenance charts give for them. Sources and strengths stand in the table, and why two
// figures differ in the remarks.
func TestWorkAgainstLaborGuides(t *testing.T) {
	in := []act.Form{act.FitCase, act.TorqueCaps, act.MountIndicator, act.MeasureBacklash}
	again := append([]act.Form{act.RemoveCase, act.FitSideShims}, in...)
	preload := []act.Form{act.FitPinion, act.TightenNutTorque, act.TightenNutAngle, act.TightenNutAngle, act.TightenNutAngle, act.TightenNutAngle,
		act.TurnPinion, act.MeasureTorque, act.TightenNutAngle, act.TurnPinion, act.MeasureTorque}
	depth := []act.Form{act.FitDepthShim, act.FitPinion, act.MeasureDepth, act.RemovePinion}
	prove := []act.Form{act.MeasureRunout, act.PaintTeeth, act.RollGears, act.MeasureTorque}
	sides := append([]act.Form{act.FitSideShims}, in...)
	gears := work(depth...) + work(preload...) + work(sides...) + work(again...) + work(prove...)
	looks := work(act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectCones, act.InspectCaps, act.InspectSeal, act.InspectShimSeat, act.InspectBolts, act.InspectGears)

	ledger := checkstest.Given(t)
	meets := func(id string, minutes float64) {
		ledger.Meets(t, checkstest.Find(t, "minutes", id), minutes)
	}
	both := func(id string, minutes float64) {
		meets(id+"-least", minutes)
		meets(id+"-most", minutes)
	}
	both("min-ring-and-pinion", gears)
	both("min-pinion-bearings", work(act.RemoveCase, act.RemovePinion, act.ReplaceBearings)+work(depth...)+work(preload...)+work(in...))
	both("min-side-bearings", work(act.RemoveCase, act.ReplaceSideBearings)+work(in...))
	both("min-case", work(act.RemoveCase, act.ReplaceCase)+work(in...))
	both("min-overhaul", looks+work(act.ReplaceBearings, act.ReplaceSideBearings, act.ReplaceSeal)+gears)
	meets("min-case-runout", work(act.MeasureCaseRunout))
	meets("min-backlash", work(again...))
}

// What an act is said to rest on is what the table gives, and every act says what it rests on.
func TestGuidesAreThoseOfTheTable(t *testing.T) {
	guided := 0
	for _, u := range act.Usages() {
		assert.False(t, shop.Basis(u.Form).IsZero(), u.Line)
		g, ok := shop.GuideTo(u.Form)
		if !ok {
			assert.Equal(t, "shop.estimate", shop.Basis(u.Form).Code(), u.Line)
			continue
		}
		guided++
		least, most := g.ID, g.ID
		if g.Least != g.Most {
			least, most = g.ID+"-least", g.ID+"-most"
		}
		assert.InDelta(t, checkstest.Expected(t, "minutes", least), float64(g.Least), 1e-9, u.Line)
		assert.InDelta(t, checkstest.Expected(t, "minutes", most), float64(g.Most), 1e-9, u.Line)
	}
	assert.Positive(t, guided)
}
