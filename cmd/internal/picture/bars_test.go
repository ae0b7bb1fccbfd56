package picture

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func sampleBars() []Bar {
	return []Bar{
		{"Pinion depth", 34.5, "two loops; the second shim went the wrong way"},
		{"Backlash", 12, ""},
		{"Collapsible spacer and preload of the pinion bearings", 0.4, "one spacer crushed past its range"},
		{"Ring gear bolts", -3.2, "quicker than allowed for"},
		{"Sign-off", math.NaN(), ""},
	}
}

func TestBarsGolden(t *testing.T) {
	for _, columns := range []int{40, 80, 120} {
		out := Bars(sampleBars(), Options{Columns: columns, Colour: true, Unit: "min", Title: "Minutes lost along the job"})
		golden(t, fmt.Sprintf("bars-%d.txt", columns), out)
		checkText(t, out, columns)
		assert.NotContains(t, out, "\x1b")
	}
}

func TestBarsAreInProportion(t *testing.T) {
	out := Bars([]Bar{{"a", 8, ""}, {"b", 4, ""}, {"c", -2, ""}, {"d", 0.04, ""}, {"e", 0.06, ""}, {"f", 0, ""}}, Options{Columns: 80})
	lines := strings.Split(strings.TrimSpace(out), "\n")
	require.Len(t, lines, 6)
	a := strings.Count(lines[0], "#")
	assert.Positive(t, a)
	assert.InDelta(t, float64(a)/2, strings.Count(lines[1], "#"), 0.5)
	assert.InDelta(t, float64(a)/4, strings.Count(lines[2], "-")-len("-"), 0.5, "less the sign of its value")
	assert.Zero(t, strings.Count(lines[3], "#"), "prints as 0.0")
	assert.Equal(t, 1, strings.Count(lines[4], "#"), "prints as 0.1")
	assert.Zero(t, strings.Count(lines[5], "#"))
	assert.Contains(t, lines[0], "8.0")
}

func TestBarsWithNothing(t *testing.T) {
	assert.Empty(t, Bars(nil, Options{}))
	assert.Equal(t, "Title\n", Bars(nil, Options{Title: "Title"}))
}

func TestBarsKeepWithinTheirWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Bar {
			return Bar{wildText().Draw(t, "label"), rapid.OneOf(rapid.Float64(), wildNumber()).Draw(t, "value"), wildText().Draw(t, "note")}
		}), 0, 4).Draw(t, "rows")
		o := Options{Columns: rapid.IntRange(-10, 200).Draw(t, "columns"), Unit: wildText().Draw(t, "unit"), Title: wildText().Draw(t, "title")}
		checkText(t, Bars(rows, o), o.columns())
	})
}
