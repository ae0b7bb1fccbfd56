package drill

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/quantity"
)

// What is worked from a figure is worked from the figure as it is shown, in either system.
func TestEquations(t *testing.T) {
	nm := quantity.NewtonMetres(1).Nmm()
	shim := length(0.9).plus(length(-0.05), length(-0.2))
	back := length(0.9).minus(length(-0.05))
	for _, c := range []struct {
		figure       Figure
		inch, metric string
	}{
		// The exact sum is 0.0256 in.
		{shim, "0.0354 in - 0.0020 in - 0.0079 in = 0.0255 in", "0.900 mm - 0.050 mm - 0.200 mm = 0.650 mm"},
		{back, "0.0354 in + 0.0020 in = 0.0374 in", "0.900 mm + 0.050 mm = 0.950 mm"},
		{shim.plus(length(0.1)), "0.0255 in + 0.0039 in = 0.0294 in", "0.650 mm + 0.100 mm = 0.750 mm"},
		{apart(length(0.1), length(0.3)), "0.0118 in - 0.0039 in = 0.0079 in", "0.300 mm - 0.100 mm = 0.200 mm"},
		{meanOf(length(0.1), length(0.3)), "(0.0039 in + 0.0118 in) ÷ 2 = 0.0079 in", "(0.100 mm + 0.300 mm) ÷ 2 = 0.200 mm"},
		{pull(50).times(size(40), Rotating), "11.24 lb × 1.57 in = 17.6 lb-in", "50 N × 40 mm = 2.00 N·m"},
		{fastener(100*nm).over(figure(Factor, 1.25), Fastener), "74 lb-ft ÷ 1.25 = 59 lb-ft", "100 N·m ÷ 1.25 = 80 N·m"},
		{work(PoundInches, multi, figure(PoundFeet, quantity.FootPounds(18).Nmm()), figure(Factor, 12)), "18 lb-ft × 12 = 216 lb-in", "18 lb-ft × 12 = 216 lb-in"},
		{work(NewtonMeters, divi, figure(PoundInches, quantity.InchPounds(45).Nmm()), figure(Factor, 8.851)), "45 lb-in ÷ 8.851 = 5.08 N·m", "45 lb-in ÷ 8.851 = 5.08 N·m"},
	} {
		assert.Equal(t, c.inch, equation{c.figure}.Show(quantity.Inch))
		assert.Equal(t, c.metric, equation{c.figure}.Show(quantity.Metric))
	}
	assert.InDelta(t, 0.65, shim.Exact(), 1e-12, "nothing rounded")
	assert.InDelta(t, quantity.Inches(0.0255).MM(), shim.In(quantity.Inch), 1e-12)
	assert.Equal(t, []string{"+3", "-2", "0"}, []string{mark(3).Show(quantity.Inch), mark(-2).Show(quantity.Inch), mark(0).Show(quantity.Inch)})
	assert.Equal(t, "0.0000 in", length(-1e-9).Show(quantity.Inch), "no negative zero")
}

func TestFigureJSON(t *testing.T) {
	shim := length(0.5).minus(length(0.25))
	for want, v := range map[string]any{
		`{"mm":0.5}`:   length(0.5),
		`{"nmm":1500}`: rotating(1500),
		`{"deg":5}`:    figure(Angle, 5),
		`{"mm":0.25,"by":"sum","of":[{"mm":0.5},{"mm":-0.25}]}`: equation{shim}.Data(),
	} {
		b, err := json.Marshal(v)
		require.NoError(t, err)
		assert.JSONEq(t, want, string(b))
	}
}
