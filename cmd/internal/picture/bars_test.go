package picture

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
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
		out := Bars(sampleBars(), Options{Columns: columns, Color: true, Unit: "min", Title: "Minutes lost along the job"})
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

// The drawing holds every label, value and note, in the picture and in its description,
// keeps inside its frame and comes out the same twice.
func TestBarsAsADrawing(t *testing.T) {
	o := Options{Color: true, Unit: "min", Title: `Lost & "found"`, ID: "losses"}
	var b, again bytes.Buffer
	require.NoError(t, BarsSVG(&b, sampleBars(), o))
	require.NoError(t, BarsSVG(&again, sampleBars(), o))
	assert.Equal(t, b.String(), again.String())
	texts := wellFormed(t, b.Bytes())
	for _, s := range []string{"Pinion depth", "-3.2 min, quicker than allowed for", "missing", `Lost & "found"`} {
		assert.GreaterOrEqual(t, strings.Count(texts, s), 2, s)
	}
	assert.Contains(t, texts, "Pinion depth: 34.5 min, two loops; the second shim went the wrong way.", "too long for the picture, whole in its description")
	assert.Contains(t, b.String(), `aria-labelledby="losses-title losses-desc"`)
	assert.Error(t, BarsSVG(io.Discard, make([]Bar, mostBars+1), o))
	require.NoError(t, BarsSVG(io.Discard, nil, Options{}))
}

// Bars are in proportion: half the value is half the bar.
func TestDrawnBarsAreInProportion(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, BarsSVG(&b, []Bar{{"a", 8, ""}, {"b", 4, ""}}, Options{}))
	var long []float64
	for _, m := range regexp.MustCompile(`d="M24 \d+L([\d.]+) [^"]*" fill="none"`).FindAllStringSubmatch(b.String(), -1) {
		x, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		long = append(long, x-24)
	}
	require.Len(t, long, 2)
	assert.InDelta(t, long[0]/2, long[1], 0.1, "written to a tenth")
}

func TestDrawnBarsTakeAnything(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Bar {
			return Bar{wildText().Draw(t, "label"), rapid.OneOf(rapid.Float64(), wildNumber()).Draw(t, "value"), wildText().Draw(t, "note")}
		}), 0, 4).Draw(rt, "rows")
		var b bytes.Buffer
		require.NoError(rt, BarsSVG(&b, rows, Options{Unit: wildText().Draw(rt, "unit"), Title: wildText().Draw(rt, "title")}))
		wellFormed(t, b.Bytes())
		assert.NotContains(rt, b.String(), "NaN")
		assert.NotContains(rt, b.String(), "Inf")
	})
}
