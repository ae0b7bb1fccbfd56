package truth_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/scenarios/fault"
	"shimwright/sim/truth"
)

// What goes into the envelope comes out of it.
func TestOpenGivesBackWhatWasSealed(t *testing.T) {
	axle := truth.Axle{Family: "BEECH", InnerCupGapMM: 0.1, Spacers: []truth.Spacer{{YieldN: 70_000}}, Faults: []truth.Fault{{ID: truth.InnerCupHigh, Size: 0.1}}}
	finish := truth.Finish{SignedOff: true, DepthErrorMM: -0.02, Remaining: []truth.FaultID{truth.InnerCupHigh}}
	a, f := truth.Open(truth.Seal(axle, finish))
	assert.Equal(t, axle, a)
	assert.Equal(t, finish, f)
	a, f = truth.Open(truth.Sealed{})
	assert.Zero(t, a)
	assert.Zero(t, f)
}

// An envelope has no field or method by which another package could read it.
func TestAnEnvelopeHasNothingToRead(t *testing.T) {
	typ := reflect.TypeFor[truth.Sealed]()
	for i := range typ.NumField() {
		assert.False(t, typ.Field(i).IsExported(), typ.Field(i).Name)
	}
	assert.Zero(t, typ.NumMethod())
}

// The names of fault states here are those of the catalogue, each once.
func TestFaultNamesAreTheCatalogues(t *testing.T) {
	named := []truth.FaultID{truth.InnerCupHigh, truth.OuterCupHigh, truth.DirtBehindGear, truth.BentFlange, truth.SetUpBearingOff,
		truth.ShimsRunThick, truth.SpacerCrushed, truth.PackingGrease, truth.SealTight, truth.WrenchOut, truth.SideConeHigh,
		truth.CapsSwapped, truth.IndicatorLoose, truth.DirtUnderShim, truth.NutUsed, truth.BearingNotched, truth.StringOff,
		truth.OppositeConeHigh, truth.CapTurned, truth.HousingSpread, truth.BoltsUneven, truth.BrakesOn,
		truth.SetMixed, truth.GearForOther, truth.GearWarped, truth.GearOffCenter, truth.PinionBent, truth.SlingerOut, truth.GaugeOff,
		truth.SpacerShort, truth.BearingGritty, truth.BoltsLong}
	var listed []truth.FaultID
	for _, f := range fault.All() {
		listed = append(listed, f.ID)
	}
	assert.ElementsMatch(t, named, listed)
}
