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
	axle := truth.Axle{Family: "BEECH", HeadCupGapMM: 0.1, Spacers: []truth.Spacer{{YieldN: 70_000}}, Faults: []truth.Fault{{ID: truth.HeadCupHigh, Size: 0.1}}}
	finish := truth.Finish{SignedOff: true, DepthErrorMM: -0.02, Remaining: []truth.FaultID{truth.HeadCupHigh}}
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
	named := []truth.FaultID{truth.HeadCupHigh, truth.TailCupHigh, truth.DirtBehindGear, truth.BentFlange, truth.SetUpBearingOff,
		truth.ShimsRunThick, truth.SpacerCrushed, truth.PackingGrease, truth.SealTight, truth.WrenchOut, truth.SideConeHigh,
		truth.CapsSwapped, truth.IndicatorLoose, truth.DirtUnderShim, truth.NutUsed, truth.BearingNotched, truth.CordOff,
		truth.ToothConeHigh, truth.CapTurned, truth.HousingSpread, truth.BoltsUneven, truth.BrakesOn,
		truth.SetMixed, truth.GearForOther, truth.GearWarped, truth.GearOffCentre, truth.PinionBent, truth.SlingerOut, truth.GaugeOff,
		truth.SpacerShort, truth.BearingGritty, truth.BoltsLong}
	var listed []truth.FaultID
	for _, f := range fault.All() {
		listed = append(listed, f.ID)
	}
	assert.ElementsMatch(t, named, listed)
}
