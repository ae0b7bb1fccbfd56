package truth_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/fault"
	"shimwright/sim/truth"
)

// What goes into the envelope comes out of it.
func TestOpenGivesBackWhatWasSealed(t *testing.T) {
	axle := truth.Axle{Family: "BEECH", InnerCupGapMM: 0.1, Spacers: []truth.Spacer{{YieldN: 70_000}}, Faults: []truth.Fault{{ID: fault.InnerCupHigh, Size: 0.1}}}
	finish := truth.Finish{SignedOff: true, DepthErrorMM: -0.02, Remaining: []fault.ID{fault.InnerCupHigh}}
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
