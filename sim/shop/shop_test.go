package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/shop"
)

// beech is the plainest design.
var beech = family.Beech().Design

// Every act takes time but writing down, saying what is expected, and signing.
func TestEveryActTakesTime(t *testing.T) {
	for _, u := range act.Usages() {
		minutes := shop.TimeOf(beech, u.Form, 4)
		if u.Form == act.RecordValue || u.Form == act.ExpectValue || u.Form == act.SignOff {
			assert.Zero(t, minutes, u.Line)
			continue
		}
		assert.Positive(t, minutes, u.Line)
		assert.LessOrEqual(t, minutes, shop.Minutes(60), u.Line)
	}
	assert.Zero(t, shop.TimeOf(beech, 999, 0), "what the bench does not have takes no time")
}

// Each place round the gear takes a minute, and only for backlash.
func TestPlacesTakeTime(t *testing.T) {
	assert.Equal(t, shop.Minutes(3), shop.TimeOf(beech, act.MeasureBacklash, 8)-shop.TimeOf(beech, act.MeasureBacklash, 5))
	for _, u := range act.Usages() {
		if u.Form != act.MeasureBacklash {
			assert.Equal(t, shop.TimeOf(beech, u.Form, 0), shop.TimeOf(beech, u.Form, 8), u.Line)
		}
	}
}

func TestPrices(t *testing.T) {
	for _, p := range []shop.Part{shop.SpacerAndNut, shop.Seal, shop.Case, shop.GearBolts} {
		assert.Positive(t, shop.PriceOf(p), p)
	}
	for _, p := range []shop.Part{"", "gold"} {
		assert.Zero(t, shop.PriceOf(p), p)
	}
	assert.Greater(t, shop.PriceOf(shop.Case), shop.PriceOf(shop.SpacerAndNut))
}

// What makes looking first worth while: the test of a fault costs less than finding
// it late, and so does its cure on top.
func TestTestAndCureCostLessThanFindingLate(t *testing.T) {
	for _, f := range fault.All() {
		cost := shop.TimeOf(beech, f.Test, 4) + shop.TimeOf(beech, f.Cure, 4)
		switch f.Cure {
		case act.ReplaceCase:
			cost += shop.PriceOf(shop.Case) + shop.PriceOf(shop.GearBolts)
			// A new case is dear; leaving the bent one costs less only to the shop.
			assert.Less(t, shop.TimeOf(beech, f.Test, 4), f.Late.Average, f.ID)
			continue
		case act.ReplaceSeal:
			cost += shop.PriceOf(shop.Seal)
		case act.ReplaceSpacer:
			cost += shop.PriceOf(shop.SpacerAndNut)
		case act.CleanRingGear:
			cost += shop.PriceOf(shop.GearBolts)
		}
		assert.Less(t, cost, f.Late.Average, f.ID)
	}
}
