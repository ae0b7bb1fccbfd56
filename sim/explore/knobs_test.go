package explore_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func TestKnobsReadAmounts(t *testing.T) {
	for _, c := range []struct {
		knob, text string
		units      quantity.System
		want       float64
	}{
		{"depth", "-0.004in", quantity.Inch, -0.1016}, // 25.4 mm to the inch, exact
		{"depth", "-4", quantity.Metric, -4},
		{"ring-gear", "4thou", quantity.Metric, 0.1016},
		{"nut", "1turns", quantity.Inch, 360},
		{"nut", "15", quantity.Metric, 15},
		{"torque", "2", quantity.Metric, 2000},
		{"shaft-angle", "180", quantity.Inch, math.Pi},
		{"nut-torque", "100", quantity.Metric, 100_000},
		{"rough", "0", quantity.Metric, 0},
		{"warm", "40C", quantity.Inch, 40}, // 1.8 degrees Fahrenheit to a kelvin, exact
		{"warm", "72 °F", quantity.Metric, 40},
		{"warm", "-36", quantity.Inch, -20},
		{"warm", "20degC", quantity.Inch, 20},
		{"warm", "20", quantity.Metric, 20},
		{"wrench-error", "20%", quantity.Inch, 0.2},
		{"string-error", "-5 percent", quantity.Inch, -0.05},
		{"string-error", "3", quantity.Metric, 0.03},
	} {
		knob, ok := explore.FindKnob(c.knob)
		require.True(t, ok, c.knob)
		v, err := knob.Parse(c.text, c.units)
		require.NoError(t, err)
		assert.InDelta(t, c.want, v, 1e-12, c.text)
	}
	for knob, text := range map[string]string{"depth": "3lb-in", "torque": "0", "nut-torque": "-1", "nut": "3mm", "shaft-angle": "1turns", "warm": "hot", "wrench-error": "much", "film": ""} {
		k, ok := explore.FindKnob(knob)
		require.True(t, ok, knob)
		_, err := k.Parse(text, quantity.Inch)
		assert.Error(t, err, knob)
	}
}

func whole(t *testing.T, fam family.Family) explore.Subject {
	t.Helper()
	u, err := explore.OfFamily(fam, false, false)
	require.NoError(t, err)
	return u
}

// A sweep goes through its values evenly, and each is another time of reading.
func TestASweep(t *testing.T) {
	x, err := whole(t, family.Beech()).Ask(explore.Asked{Sweep: "depth=-.008in...008in/9"})
	require.NoError(t, err)
	require.Len(t, x.Settings, 9)
	assert.InDelta(t, -0.2032, x.Settings[0].PinionOutMM, 1e-12) // 25.4 mm to the inch, exact
	assert.Zero(t, x.Settings[4].PinionOutMM, "the middle of a sweep about zero is zero")
	assert.InDelta(t, 0.2032, x.Settings[8].PinionOutMM, 1e-12)
	for i, s := range x.Settings {
		assert.Equal(t, uint64(i), s.Repeat)
	}
	for _, text := range []string{"depth", "depth=1mm", "depth=1mm..2mm", "depth=1mm..2mm/1", "depth=1mm..2mm/x", "depth=1mm..2mm/2001", "depth=1mm..1mm/3", "nosuch=1..2/3", "depth=1lb-in..2mm/3", "depth=1mm..2lb-in/3"} {
		_, err := whole(t, family.Beech()).Ask(explore.Asked{Sweep: text})
		assert.Error(t, err, text)
	}
}

// Two ways of saying the same thing are refused, and what an axle has not.
func TestWhatCannotBeAsked(t *testing.T) {
	hazel, err := family.Shipped("HAZEL")
	require.NoError(t, err)
	gears := explore.Subject{Code: "GEARS", Of: explore.Teeth}
	parts := explore.Subject{Code: "PARTS", Of: explore.Mechanics}
	for _, c := range []struct {
		of    explore.Subject
		asked explore.Asked
		want  string
	}{
		{whole(t, family.Beech()), explore.Asked{Typed: map[string]string{"nut": "20deg", "torque": "20lb-in"}}, "nut and torque both say how far the nut goes"},
		{whole(t, family.Beech()), explore.Asked{Typed: map[string]string{"torque": "20lb-in"}, Sweep: "nut=0..90/3"}, "sweep nut and torque both say how far the nut goes"},
		{whole(t, family.Beech()), explore.Asked{Typed: map[string]string{"nut": "20deg"}, Sweep: "nut=0..90/3"}, "sweep already sets nut"},
		{whole(t, hazel), explore.Asked{Typed: map[string]string{"preload-shims": "1.2mm", "torque": "20lb-in"}}, "both say which preload shims are in"},
		{whole(t, family.Beech()), explore.Asked{Typed: map[string]string{"preload-shims": "1.2mm"}}, "preload-shims has no place here: BEECH has a collapsible spacer"},
		{whole(t, hazel), explore.Asked{Typed: map[string]string{"spacer-crushed": "1mm"}}, "HAZEL has a solid spacer"},
		{gears, explore.Asked{Typed: map[string]string{"nut": "20deg"}}, "a gear set alone takes depth, ring-gear"},
		{gears, explore.Asked{SeedNamed: true}, "seed is about instruments"},
		{parts, explore.Asked{Typed: map[string]string{"depth": "1mm"}}, "parts without teeth take side-preload"},
		{parts, explore.Asked{On: map[string]bool{"caps-swapped": true}}, "caps-swapped has no place here"},
		{parts, explore.Asked{Typed: map[string]string{"plunger": "along"}}, "plunger is about instruments"},
		{whole(t, family.Beech()), explore.Asked{Typed: map[string]string{"depth": "deep"}}, "depth: "},
	} {
		_, err := c.of.Ask(c.asked)
		assert.ErrorContains(t, err, c.want)
	}
}

// Where in a sweep something cannot be shown is said.
func TestWhereASweepEnds(t *testing.T) {
	x, err := whole(t, family.Beech()).Ask(explore.Asked{Sweep: "depth=0..9mm/4"})
	require.NoError(t, err)
	err = x.Show(quantity.Metric)
	assert.ErrorIs(t, err, explore.ErrSetting)
	assert.ErrorContains(t, err, "at depth +6.000 mm: ")
}

// A record has every name once, in each of its forms.
func TestRecordNames(t *testing.T) {
	x, err := whole(t, family.Beech()).Ask(explore.Asked{})
	require.NoError(t, err)
	require.NoError(t, x.Show(quantity.Inch))
	var csv, doc bytes.Buffer
	require.NoError(t, x.WriteCSV(&csv))
	require.NoError(t, x.WriteJSON(&doc, "careful"))
	assert.Contains(t, doc.String(), `"notice": "careful"`)
	head, _, _ := strings.Cut(csv.String(), "\n")
	seen := map[string]bool{}
	for name := range strings.SplitSeq(head, ",") {
		assert.False(t, seen[name], name)
		seen[name] = true
		_, key, _ := strings.Cut(name, "_")
		assert.Contains(t, doc.String(), key)
	}
	assert.Greater(t, len(seen), 100)
}

func TestEvenly(t *testing.T) {
	assert.Equal(t, []int{0, 1, 2}, explore.Evenly(3, 9))
	assert.Equal(t, []int{0, 50, 100}, explore.Evenly(101, 3))
	for n := 2; n < 200; n++ {
		at := explore.Evenly(n, 9)
		assert.Zero(t, at[0])
		assert.Equal(t, n-1, at[len(at)-1])
		for i := 1; i < len(at); i++ {
			assert.Greater(t, at[i], at[i-1])
		}
	}
}

// Whatever is typed for a setting, it is read as a number or refused in words.
func FuzzParseKnob(f *testing.F) {
	for _, s := range []string{"0.03in", "-1 thou", "20 lb-in", "3 turns", "20F", "20 c", "50%", ".", "1e999", "NaN", "yes", "-0 deg", "%"} {
		f.Add(s, uint8(0), true)
	}
	f.Fuzz(func(t *testing.T, typed string, kind uint8, metric bool) {
		u := quantity.Inch
		if metric {
			u = quantity.Metric
		}
		v, err := explore.Kind(kind%uint8(explore.Word+1)).Parse("it", typed, u)
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%q reads as %v", typed, v)
		}
		if err != nil && words(text.Reason(err)) == "" {
			t.Fatalf("%q: an error without a word", typed)
		}
	})
}

// A pattern from 0.2 to 0.7 of the face width is half of it long, and of the ways to say how far
// the nut goes the one that counts has its figure, the others none.
func TestFieldsOfARecord(t *testing.T) {
	r := explore.Result{Settings: explore.Settings{NutNmm: 2000, NutDeg: 90}}
	r.Gears.Drive = mesh.Pattern{MinS: 0.2, MaxS: 0.7, MinT: 0.1, MaxT: 0.4}
	value := func(key string) string {
		for _, g := range explore.Groups() {
			for _, f := range g.Fields {
				for _, one := range f.Figures(r) {
					if one.Key == key {
						return one.Value
					}
				}
			}
		}
		t.Fatalf("no field %s", key)
		return ""
	}
	assert.Equal(t, "0.5", value("drive_length_share"))
	assert.Equal(t, "0.3", value("drive_height_share"))
	assert.Equal(t, "null", value("nut_deg"))
	assert.Equal(t, "2", value("nut_torque_Nm"))
	r.Settings.NutNmm = 0
	assert.Equal(t, "90", value("nut_deg"))
	assert.Equal(t, "null", value("nut_torque_Nm"))
}
