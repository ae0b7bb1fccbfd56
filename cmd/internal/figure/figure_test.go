package figure

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/lessons/figure"
	"shimwright/sim/quantity"
)

func blocks(t *testing.T, l lessons.Lesson) []figure.Block {
	t.Helper()
	pieces, err := figure.Split(l.Body)
	require.NoError(t, err, l.ID)
	var out []figure.Block
	for _, p := range pieces {
		if p.Figure != nil {
			out = append(out, *p.Figure)
		}
	}
	return out
}

// Every figure of the course can be computed, in both unit systems, drawn on narrow and wide
// screens and on a page, and says in words what it shows.
func TestEveryFigureOfTheCourse(t *testing.T) {
	shown := map[figure.Show]int{}
	inch, metric := NewMaker(quantity.Inch), NewMaker(quantity.Metric)
	for _, l := range lessons.All() {
		for _, b := range blocks(t, l) {
			shown[b.Show]++
			for _, m := range []*Maker{inch, metric} {
				f, err := m.Make(b)
				require.NoError(t, err, l.ID)
				assert.NotEmpty(t, f.Alt, l.ID)
				assert.Equal(t, b.Caption, f.Caption)
				if f.Drawing == nil {
					require.Greater(t, len(f.Rows), 2, l.ID)
					for _, row := range f.Rows {
						assert.Len(t, row, 1+len(b.Of), l.ID)
						assert.NotContains(t, row, "", l.ID)
					}
					continue
				}
				for _, columns := range []int{40, 80, 100} {
					for _, color := range []bool{false, true} {
						text, err := f.Drawing.Text(columns, color)
						require.NoError(t, err, l.ID)
						assert.Greater(t, strings.Count(text, "\n"), 8, l.ID)
						for line := range strings.SplitSeq(text, "\n") {
							if !color {
								assert.LessOrEqual(t, len([]rune(line)), columns, "%s: %s", l.ID, line)
							}
						}
					}
				}
				var svg bytes.Buffer
				require.NoError(t, f.Drawing.SVG(&svg, "it"))
				assert.Contains(t, svg.String(), `<title id="it-title">`, l.ID)
				assert.Greater(t, len(wordsOf(t, svg.Bytes())), 40, "%s: the picture is described", l.ID)
			}
		}
	}
	for _, s := range []figure.Show{figure.Patterns, figure.Strip, figure.Curve, figure.Table, figure.Section} {
		assert.GreaterOrEqual(t, shown[s], 2, "%s", s)
	}
}

// wordsOf returns the description within a picture, which has to be well-formed.
func wordsOf(t *testing.T, svg []byte) string {
	t.Helper()
	var desc string
	d := xml.NewDecoder(bytes.NewReader(svg))
	in := false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return desc
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			in = e.Name.Local == "desc"
		case xml.CharData:
			if in {
				desc += string(e)
			}
		case xml.EndElement:
			in = false
		}
	}
}

// A figure shows the state it was asked for: the pattern climbs as the pinion goes out, and
// a tight spec of end play is where the sheet has it.
func TestAFigureFollowsItsState(t *testing.T) {
	m := NewMaker(quantity.Inch)
	table, err := m.Make(figure.Block{Show: figure.Table, Family: "BEECH", Of: []string{"drive-height", "backlash"}, Caption: "C.",
		Frames: []figure.Frame{{Label: "deep", Set: []figure.Setting{{Name: "depth", Amount: "-0.006in"}}}, {Label: "right"},
			{Label: "out", Set: []figure.Setting{{Name: "depth", Amount: "0.006in"}}}}})
	require.NoError(t, err)
	require.Len(t, table.Rows, 4)
	assert.Equal(t, []string{"BEECH", "Drive, up", "Backlash"}, table.Rows[0])
	assert.Less(t, table.Rows[1][1], table.Rows[2][1])
	assert.Less(t, table.Rows[2][1], table.Rows[3][1])
	assert.Contains(t, table.Rows[2][2], " in (", "both units")
	metric, err := NewMaker(quantity.Metric).Make(figure.Block{Show: figure.Table, Family: "BEECH", Of: []string{"backlash"}, Frames: []figure.Frame{{Label: "right"}}})
	require.NoError(t, err)
	assert.Contains(t, metric.Rows[1][1], " mm (")

	strip, err := m.Make(figure.Block{Show: figure.Strip, Family: "BEECH", Sweep: "depth=-0.006in..0.006in/2"})
	require.NoError(t, err)
	assert.Contains(t, strip.Alt, "-0.0060 in. Drive: a little toward the root")
	assert.Contains(t, strip.Alt, "+0.0060 in. Coast: a little toward the top")
}

func TestASectionShowsTheDesign(t *testing.T) {
	m := NewMaker(quantity.Inch)
	for code, parts := range map[string]string{"BEECH": "D depth shim S side shims", "HAZEL": "L preload shims D depth shim", "ELM": "A bearing adjusters G bearing cage", "DOGWOOD": "= spacer"} {
		f, err := m.Make(figure.Block{Show: figure.Section, Family: code})
		require.NoError(t, err)
		text, err := f.Drawing.Text(80, false)
		require.NoError(t, err)
		for part := range strings.SplitSeq(parts, "  ") {
			for _, name := range strings.Split(part, " ") {
				assert.Contains(t, text, name, code)
			}
		}
		assert.Equal(t, code == "ELM" || code == "DOGWOOD", strings.Contains(text, "GGG"), "%s: a cage", code)
		assert.Equal(t, code == "HAZEL" || code == "ELM", strings.Contains(text, "LL"), "%s: preload shims", code)
		assert.Equal(t, code == "BEECH", strings.Contains(text, "PPDDII"), "%s: a shim under the inner cone", code)
		assert.Equal(t, code == "HAZEL", strings.Contains(text, "IIDD//"), "%s: a shim behind the inner cup", code)
	}
}

func TestWhatCannotBeShownIsRefused(t *testing.T) {
	for want, b := range map[string]figure.Block{
		"ASPEN":                    {Show: figure.Section, Family: "ASPEN"},
		"speed is no setting":      {Show: figure.Patterns, Family: "BEECH", Set: []figure.Setting{{Name: "speed", Amount: "3"}}},
		"depth needs an amount":    {Show: figure.Patterns, Family: "BEECH", Set: []figure.Setting{{Name: "depth"}}},
		"used is no setting":       {Show: figure.Patterns, Family: "BEECH", Set: []figure.Setting{{Name: "used", Amount: "3"}}},
		"speed is no measure":      {Show: figure.Table, Family: "BEECH", Of: []string{"speed"}, Frames: []figure.Frame{{Label: "x"}}},
		"goes from the lesser":     {Show: figure.Curve, Family: "BEECH", Of: []string{"torque"}, Sweep: "nut=100deg..0deg/3"},
		"takes up to 12 patterns":  {Show: figure.Strip, Family: "BEECH", Sweep: "depth=0in..0.01in/13"},
		"the strip of BEECH: expl": {Show: figure.Strip, Family: "BEECH", Sweep: "depth=0in..0.9in/2"},
		"the patterns of BEECH: d": {Show: figure.Patterns, Family: "BEECH", Set: []figure.Setting{{Name: "depth", Amount: "4lb"}}},
	} {
		_, err := NewMaker(quantity.Inch).Make(b)
		assert.ErrorContains(t, err, want)
	}
}
