package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/gauge"
)

func sampleChart() Chart {
	c := Chart{XName: "nut angle", XUnit: "deg"}
	rise := Panel{Name: "Nut torque", Unit: "lb-ft"}
	turn := Panel{Name: "Rotating torque", Unit: "N·m", BandName: "axle sheet", BandLow: 2.3, BandHigh: 3.4}
	for i := range 21 {
		x := float64(i) * 10
		c.X = append(c.X, x)
		rise.Y = append(rise.Y, math.Min(x*5, 240))
		turn.Y = append(turn.Y, math.Max(0, (x-140)*0.15))
	}
	c.Panels = []Panel{rise, turn}
	return c
}

// wellFormed reads the whole of an SVG and returns its texts.
func wellFormed(t testing.TB, b []byte) string {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	var text strings.Builder
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return text.String()
		}
		require.NoError(t, err)
		if c, ok := tok.(xml.CharData); ok {
			text.Write(c)
			text.WriteByte(' ')
		}
	}
}

func linesFit(t testing.TB, text string, columns int) {
	t.Helper()
	for _, l := range strings.Split(stripEscapes(text), "\n") {
		if width(l) > columns || strings.HasSuffix(l, " ") {
			t.Fatalf("%d columns, wanted at most %d and no blank at the end: %q", width(l), columns, l)
		}
	}
}

// stripEscapes takes the color codes out again.
func stripEscapes(s string) string {
	var b strings.Builder
	for {
		i := strings.Index(s, "\x1b[")
		if i < 0 {
			b.WriteString(s)
			return b.String()
		}
		b.WriteString(s[:i])
		_, s, _ = strings.Cut(s[i:], "m")
	}
}

func TestChartText(t *testing.T) {
	for _, columns := range []int{40, 80, 100} {
		text, err := ChartText(sampleChart(), Options{Columns: columns, Color: columns == 80, Title: "BEECH, sweep of nut angle, a title long enough to be broken on a narrow page"})
		require.NoError(t, err)
		linesFit(t, text, columns)
		for _, want := range []string{"Nut torque, lb-ft", "nut angle", "Rotating torque, N·m", ". axle sheet, 2.30 to 3.40 N·m", "300 +"} {
			assert.Contains(t, text, want)
		}
	}
	// The line is where its values are: at 0 on the first line's foot, flat at 240.
	text, err := ChartText(Chart{XName: "x", X: []float64{0, 1}, Panels: []Panel{{Name: "y", Y: []float64{0, 4}}}}, Options{Columns: 40})
	require.NoError(t, err)
	rows := strings.Split(text, "\n")
	assert.Equal(t, "y", rows[0])
	assert.True(t, strings.HasPrefix(rows[1], "4 +") && strings.HasSuffix(rows[1], "*"), "the most is at the top right: %q", rows[1])
	foot := rows[9] // four steps of two lines
	assert.True(t, strings.HasPrefix(foot, "0 +*"), "%q", foot)
}

func TestChartWords(t *testing.T) {
	c := Chart{XName: "x", XUnit: "deg", X: []float64{0, 1, 2, 3}, Panels: []Panel{{Name: "Torque", Unit: "lb-ft", Y: []float64{1, 5, 0.5, 2}}}}
	text, err := ChartText(c, Options{Columns: 100})
	require.NoError(t, err)
	assert.Contains(t, strings.Join(strings.Fields(text), " "), "Torque: from 1.00 lb-ft at 0 deg to 2.00 lb-ft at 3 deg; least 0.500 lb-ft at 2 deg; most 5.00 lb-ft at 1 deg.")
}

func TestChartPicturesDecode(t *testing.T) {
	for _, color := range []bool{false, true} {
		o := Options{Color: color, Title: "Sweep <of> nut"}
		var p, s, again bytes.Buffer
		require.NoError(t, ChartPNG(&p, sampleChart(), o))
		img, err := png.Decode(bytes.NewReader(p.Bytes()))
		require.NoError(t, err)
		assert.Equal(t, int(chartWide), img.Bounds().Dx())
		if !color {
			for y := range img.Bounds().Dy() {
				for x := range img.Bounds().Dx() {
					r, g, b, _ := img.At(x, y).RGBA()
					require.True(t, r == g && g == b, "grey without color")
				}
			}
		}
		require.NoError(t, ChartSVG(&s, sampleChart(), o))
		require.NoError(t, ChartSVG(&again, sampleChart(), o))
		assert.Equal(t, s.String(), again.String())
		text := wellFormed(t, s.Bytes())
		for _, want := range []string{"Sweep <of> nut", "Rotating torque, N·m", "axle sheet", "The band, axle sheet: 2.30 to 3.40 N·m."} {
			assert.Contains(t, text, want)
		}
	}
}

func TestChartsThatCannotBeDrawn(t *testing.T) {
	good := func() Chart { return Chart{X: []float64{0, 1}, Panels: []Panel{{Y: []float64{1, 2}}}} }
	for name, spoil := range map[string]func(*Chart){
		"one place":     func(c *Chart) { c.X = c.X[:1] },
		"falling":       func(c *Chart) { c.X = []float64{1, 0} },
		"no number":     func(c *Chart) { c.X[1] = math.NaN() },
		"no line":       func(c *Chart) { c.Panels = nil },
		"short line":    func(c *Chart) { c.Panels[0].Y = []float64{1} },
		"empty line":    func(c *Chart) { c.Panels[0].Y = []float64{math.NaN(), math.Inf(1)} },
		"sky":           func(c *Chart) { c.Panels[0].Y[0] = 1e300 },
		"inverted band": func(c *Chart) { c.Panels[0].BandName, c.Panels[0].BandLow = "b", 1 },
		"many lines":    func(c *Chart) { c.Panels = make([]Panel, maxPanels+1) },
	} {
		c := good()
		spoil(&c)
		_, err := ChartText(c, Options{})
		assert.Error(t, err, name)
		assert.Error(t, ChartSVG(io.Discard, c, Options{}), name)
		assert.Error(t, ChartPNG(io.Discard, c, Options{}), name)
	}
}

// Whatever the values, a chart that is accepted is drawn within its columns.
func TestAnyChart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 30).Draw(t, "n")
		c := Chart{XName: "x", Panels: []Panel{{Name: "y"}}}
		x := rapid.Float64Range(-1e6, 1e6).Draw(t, "x")
		for range n {
			x += rapid.Float64Range(1e-3, 1e3).Draw(t, "dx")
			c.X = append(c.X, x)
			c.Panels[0].Y = append(c.Panels[0].Y, rapid.SampledFrom([]float64{0, 1, -1e-9, 1e-9, 1e12, math.NaN(), math.Inf(1), 3.7, -250}).Draw(t, "y"))
		}
		columns := rapid.IntRange(40, 100).Draw(t, "columns")
		text, err := ChartText(c, Options{Columns: columns})
		if err != nil {
			return
		}
		for _, l := range strings.Split(text, "\n") {
			if width(l) > columns {
				t.Fatalf("%q is wider than %d", l, columns)
			}
		}
		if err := ChartSVG(io.Discard, c, Options{}); err != nil {
			t.Fatal(err)
		}
	})
}

func TestScaleIsRound(t *testing.T) {
	for _, c := range []struct {
		low, high  float64
		most       int
		from, step float64
		steps      int
	}{
		{0, 336, 4, 0, 100, 4},
		{0, 82.8, 4, 0, 50, 2},
		{-0.004, 0.016, 5, -0.005, 0.005, 5},
		{5, 5, 4, 4.5, 0.5, 2}, // a flat line has room on both sides
	} {
		s := newScale(c.low, c.high, c.most)
		assert.InDelta(t, c.from, s.low, 1e-12)
		assert.InDelta(t, c.step, s.step, 1e-12)
		assert.Equal(t, c.steps, s.steps)
	}
}

func sampleFrames(n int) []Frame {
	var out []Frame
	for i := range n {
		up := 0.3 + 0.4*float64(i)/float64(max(n-1, 1))
		out = append(out, Frame{Label: "−0.0080 in", Patterns: []gauge.ToothPattern{ellipse("drive", 0.45, up, 0.5, 0.6), ellipse("coast", 0.45, 1-up, 0.5, 0.6)}})
	}
	return out
}

func TestStripText(t *testing.T) {
	for _, columns := range []int{40, 80, 100} {
		for n := 1; n <= MaxFrames; n++ {
			for _, color := range []bool{false, true} {
				text, err := StripTerminal(sampleFrames(n), Options{Columns: columns, Color: color, Title: "Prints along the sweep"})
				require.NoError(t, err)
				linesFit(t, text, columns)
				assert.Equal(t, color, strings.Contains(text, "\x1b["))
				assert.Equal(t, n, strings.Count(text, "0.0080 in"))
			}
			text, err := StripPlain(sampleFrames(n), Options{Columns: columns, Color: true, Title: "Prints along the sweep"})
			require.NoError(t, err)
			linesFit(t, text, columns)
			for _, r := range text {
				require.Less(t, r, rune(128), "ASCII alone")
			}
			assert.Equal(t, n, strings.Count(text, "-0.0080 in"))
			assert.Equal(t, 2*n+1, strings.Count(text, "O"), "one centre a print, and one in the legend")
			assert.GreaterOrEqual(t, strings.Count(text, "drive"), 1)
		}
	}
}

// A pattern that climbs the tooth climbs in the strip: in the plain form the O of the
// last frame stands on a higher line than that of the first.
func TestStripShowsTheClimb(t *testing.T) {
	f := sampleFrames(2)
	for i := range f {
		f[i].Patterns = f[i].Patterns[:1]
	}
	text, err := StripPlain(f, Options{Columns: 80})
	require.NoError(t, err)
	first, last := -1, -1
	for i, l := range strings.Split(text, "\n") {
		if strings.Contains(l, "center of pattern") {
			break
		}
		for k, r := range l {
			if r == 'O' && k < 30 {
				first = i
			} else if r == 'O' {
				last = i
			}
		}
	}
	require.True(t, first > 0 && last > 0)
	assert.Greater(t, first, last)
}

func TestStripWithoutPattern(t *testing.T) {
	f := sampleFrames(2)
	f[1].Patterns = []gauge.ToothPattern{{Flank: "drive", Cols: 48, Rows: 16, Ink: make([]float64, 48*16)}}
	text, err := StripPlain(f, Options{Columns: 80})
	require.NoError(t, err)
	assert.Equal(t, 2, strings.Count(text, noPatternWords), "an empty print, and one that is not there")
	var s bytes.Buffer
	require.NoError(t, StripSVG(&s, f, Options{Color: true}))
	assert.Contains(t, wellFormed(t, s.Bytes()), "no pattern")
}

func TestStripPicturesDecode(t *testing.T) {
	for _, n := range []int{1, 5, MaxFrames} {
		var p, s bytes.Buffer
		require.NoError(t, StripPNG(&p, sampleFrames(n), Options{Color: true, Title: "Strip – µ"}))
		img, err := png.Decode(&p)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, img.Bounds().Dx(), int(float64(n)*thumbWide))
		require.NoError(t, StripSVG(&s, sampleFrames(n), Options{Title: "Strip"}))
		text := wellFormed(t, s.Bytes())
		assert.Contains(t, text, "Drive: toward the root (flank contact)", "the words are in the description")
	}
	for _, bad := range [][]Frame{nil, make([]Frame, MaxFrames+1)} {
		_, err := StripPlain(bad, Options{})
		assert.Error(t, err)
		_, err = StripTerminal(bad, Options{})
		assert.Error(t, err)
		assert.Error(t, StripSVG(io.Discard, bad, Options{}))
		assert.Error(t, StripPNG(io.Discard, bad, Options{}))
	}
}
