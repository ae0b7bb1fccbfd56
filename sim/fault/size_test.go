package fault_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func TestSizesInBothUnits(t *testing.T) {
	inch := text.NewPrinter(quantity.Inch, text.Overlay{})
	for _, c := range []struct {
		size         float64
		unit         fault.Unit
		inch, metric string
		span         string
	}{
		{0.127, fault.MM, "0.0050 in", "0.127 mm", "0.0050 in to 0.0050 in"},
		{0.127, fault.MMTotal, "0.0050 in TIR", "0.127 mm TIR", "0.0050 in TIR to 0.0050 in TIR"},
		{1000, fault.Nmm, "8.9 lb-in", "1.00 N·m", "8.9 lb-in to 8.9 lb-in"},
		{0.22, fault.ShareRead, "22 % of the reading", "22 % of the reading", "22 % to 22 % of the reading"},
		{0.3, fault.ShareOfTooth, "30 % of the tooth height", "30 % of the tooth height", "30 % to 30 % of the tooth height"},
		{1, fault.ThereOrNot, "", "", ""},
	} {
		s := fault.Size{Low: c.size, High: c.size, Unit: c.unit}
		assert.Equal(t, c.inch, inch.Print(s.Amount(c.size)))
		assert.Equal(t, c.metric, inch.In(quantity.Metric).Print(s.Amount(c.size)))
		assert.Equal(t, c.span, inch.Print(s.Range()))
	}
}
