package cli

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/sim/quantity"
)

// explored runs the command and returns what it writes; it must succeed.
func explored(t testing.TB, colour bool, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	code := Main(term.Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Width: 80, Colour: colour}, append([]string{"explore"}, args...))
	require.Equal(t, exit.Done, code, "%v: %s", args, errs.String())
	return out.String()
}

func TestExploreFitsThePage(t *testing.T) {
	for _, width := range []int{40, 80, 100} {
		for _, args := range [][]string{
			{},
			{"--both", "--runout", "0.003in", "--used", "--inner-cup-gap", "0.05mm", "--outer-cup-gap", "0.05mm", "--drag", "8lb-in"},
			{"--greased", "--caps-snug", "--offset", "0.1mm", "--shaft-angle", "-0.05deg", "--shim-to-back", "-0.002in", "--ring", "-0.001in", "--seed", "8"},
			{"--ring", "-0.3mm", "--interference", "0.6mm"},
			{"--sweep", "depth=-0.008in..0.008in/9"},
			{"--sweep", "ring=0.2mm..-0.3mm/50", "--units", "metric"},
			{"--sweep", "nut=0..800deg/41"},
			{"--sweep", "drag=0.5Nm..4Nm/5", "--units", "metric"},
			{"--sweep", "interference=-0.004in..0.02in/12"},
			{"--sweep", "shaft-angle=-0.1deg..0.1deg/3"},
			{"--sweep", "inner-cup-gap=0..0.005in/4", "--drag", "10lb-in"},
			{"--family", "hazel", "--both", "--rough", "3lb-in", "--seal-extra", "5lb-in", "--brake-drag", "30lb-in", "--shim-dirt", "0.002in", "--housing-grown", "0.05mm", "--warp", "0.1mm"},
			{"--family", "cedar", "--nut", "20deg", "--caps-swapped", "--cap-rotated", "--nut-grip-gone", "--ring-gear-cone-gap", "0.1mm", "--warm", "-20C"},
			{"--family", "juniper", "--both", "--interference", "0.5mm", "--shim-to-back", "0.1mm", "--spacer-crushed", "0.5mm", "--uneven-bolts", "0.1mm"},
			{"--dial-at", "toe", "--stem", "along", "--pinion-free", "--arm-loose", "--seed", "2", "--thick-coat", "--rolled-free", "--breakaway", "--wrench-error", "-20%", "--string-error", "3 percent"},
		} {
			for _, colour := range []bool{false, true} {
				text := explored(t, colour, append(args, "--width", strconv.Itoa(width))...)
				for _, l := range strings.Split(text, "\n") {
					assert.LessOrEqual(t, ansi.StringWidth(l), width, "%v: %q", args, l)
				}
				assert.Equal(t, colour, strings.Contains(text, "\x1b["), "%v", args)
			}
		}
	}
}

// Everything that can be swept is swept and drawn, on an axle that has it, and what is
// swept is not said to be set.
func TestExploreSweepsEverything(t *testing.T) {
	for _, k := range knobs {
		span, family := "0..0.1mm/3", "beech"
		switch k.kind {
		case torque:
			span = "0.5Nm..2Nm/3"
		case tight:
			span = "200Nm..300Nm/3"
		case turned:
			span = "0..100deg/3"
		case tilt:
			span = "-0.1deg..0.1deg/3"
		case warmth:
			span = "-10C..40C/3"
		case percent:
			span = "-20%..20%/3"
		}
		if k.only == packed {
			span, family = "1.2mm..1.3mm/3", "hazel"
		}
		for _, width := range []int{40, 80} {
			text := explored(t, false, "--family", family, "--sweep", k.name+"="+span, "--width", strconv.Itoa(width), "--units", "metric")
			for l := range strings.SplitSeq(text, "\n") {
				assert.LessOrEqual(t, ansi.StringWidth(l), width, "%s: %q", k.name, l)
			}
			set, _, _ := strings.Cut(text, "\n\n")
			if said, _, _ := strings.Cut(k.said, "%s"); said != "" {
				assert.NotContains(t, set, said, k.name)
			}
		}
	}
}

// A record tells of every spacer under the same names: what an axle has not is nothing.
func TestExploreRecordsOfOtherDesigns(t *testing.T) {
	shownOf := func(family string) map[string]any {
		var doc struct {
			Positions []map[string]map[string]any
		}
		require.NoError(t, json.Unmarshal([]byte(explored(t, false, "--family", family, "--json")), &doc))
		all := map[string]any{}
		for group, fields := range doc.Positions[0] {
			for name, v := range fields {
				all[group+"_"+name] = v
			}
		}
		return all
	}
	beech, hazel := shownOf("beech"), shownOf("hazel")
	assert.Len(t, hazel, len(beech))
	for _, name := range []string{"true_preload_shims_mm", "shown_micrometer_pack_in"} {
		assert.Nil(t, beech[name], name)
		assert.NotNil(t, hazel[name], name)
	}
	for _, name := range []string{"true_spacer_crush_mm", "true_spacer_bottomed", "shown_caliper_spacer_length_mm"} {
		assert.NotNil(t, beech[name], name)
		assert.Contains(t, hazel, name)
		assert.Nil(t, hazel[name], name)
	}
}

// Every figure that is not in words is in the table without colour too.
func TestExplorePlainSaysTheSame(t *testing.T) {
	for _, args := range [][]string{{}, {"--sweep", "depth=-0.1mm..0.1mm/3"}} {
		coloured, plain := explored(t, true, args...), explored(t, false, args...)
		head, _, ok := strings.Cut(ansi.Strip(coloured), "Print")
		require.True(t, ok)
		assert.True(t, strings.HasPrefix(plain, head))
	}
}

func TestExploreNotesWhatGoesWrong(t *testing.T) {
	assert.Contains(t, explored(t, false, "--ring", "-0.3mm"), "The gears bind")
	assert.Contains(t, explored(t, false, "--interference", "0.5mm"), "CAUTION: the side shims")
	assert.Contains(t, explored(t, false, "--nut", "1000deg"), "The spacer is past")
	assert.Contains(t, explored(t, false, "--nut", "20deg"), "The pinion or the case is loose")
	assert.Contains(t, explored(t, false, "--sweep", "interference=0..0.5mm/3"), "CAUTION, in a part of the sweep:")
	assert.NotContains(t, explored(t, false), "  ! ")
	assert.Contains(t, explored(t, false, "--family", "juniper", "--interference", "0.9mm"), "CAUTION: the rings are screwed in")
	assert.Contains(t, explored(t, false, "--family", "hazel", "--sweep", "pack=1.2mm..1.4mm/5"), "In a part of the sweep the pinion or the case is loose")
	for _, f := range []string{"alder", "cedar", "dogwood", "elm", "fir", "gorse", "hazel", "ironbark", "juniper"} {
		assert.NotContains(t, explored(t, false, "--family", f), "  ! ", f)
	}
}

// A record holds the same figure in both unit systems, and CSV and JSON agree.
func TestExploreRecords(t *testing.T) {
	args := []string{"--sweep", "nut=0..200deg/6", "--runout", "0.05mm", "--seed", "5"}
	rows, err := csv.NewReader(strings.NewReader(explored(t, false, append(args, "--csv", "-")...))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 7)
	var doc struct {
		Family, Seed string
		Swept        *string
		Positions    []map[string]map[string]any
	}
	require.NoError(t, json.Unmarshal([]byte(explored(t, false, append(args, "--json")...)), &doc))
	assert.Equal(t, "BEECH", doc.Family)
	assert.Equal(t, "5", doc.Seed)
	require.NotNil(t, doc.Swept)
	assert.Equal(t, "nut", *doc.Swept)
	require.Len(t, doc.Positions, 6)
	// Exact factors, NIST SP 811 (from memory): what one of the second unit is in the
	// first.
	pairs := []struct {
		si, inch string
		factor   float64
	}{{"_mm", "_in", 25.4}, {"_N", "_lbf", 4.4482216152605}, {"_Nm", "_lbin", 0.1129848290276167}, {"_Nm", "_lbft", 1.3558179483314004}}
	for i, row := range rows[1:] {
		assert.Equal(t, strconv.Itoa(i+1), row[0])
		values := map[string]string{}
		for k, name := range rows[0] {
			_, twice := values[name]
			require.False(t, twice, name)
			values[name] = row[k]
			if k == 0 {
				continue
			}
			group, key, _ := strings.Cut(name, "_")
			v, there := doc.Positions[i][group][key]
			require.True(t, there, name)
			switch v := v.(type) {
			case nil:
				assert.Empty(t, row[k], name)
			case string:
				assert.Equal(t, v, row[k], name)
			case bool:
				assert.Equal(t, strconv.FormatBool(v), row[k], name)
			case float64:
				f, err := strconv.ParseFloat(row[k], 64)
				require.NoError(t, err, name)
				assert.Equal(t, v, f, name)
			default:
				t.Fatalf("%s is a %T", name, v)
			}
		}
		seen := 0
		for name, text := range values {
			for _, p := range pairs {
				other, ok := values[strings.TrimSuffix(name, p.si)+p.inch]
				if !strings.HasSuffix(name, p.si) || !ok || text == "" {
					continue
				}
				seen++
				a, _ := strconv.ParseFloat(text, 64)
				b, _ := strconv.ParseFloat(other, 64)
				const rounding = 1e-4 // the last figure kept, of the coarser of the two units
				assert.InDelta(t, a, b*p.factor, rounding+1e-6*math.Abs(a), name)
			}
		}
		assert.Greater(t, seen, 40)
		assert.Empty(t, values["set_drag_Nm"], "the nut's angle counts")
	}
}

// The column names are what other programs go by: one to a line in the golden file,
// the same for one position and for a sweep. A name may be added and never changed.
func TestExploreColumnNames(t *testing.T) {
	path := filepath.Join("testdata", "explore-columns.txt")
	names := func(args ...string) string {
		head, _, ok := strings.Cut(explored(t, false, append(args, "--csv", "-")...), "\n")
		require.True(t, ok)
		return strings.ReplaceAll(head, ",", "\n") + "\n"
	}
	got := names()
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
	assert.Equal(t, got, names("--sweep", "ring=0..0.1mm/3", "--used", "--seed", "2"))
}

func TestKnobsReadAmounts(t *testing.T) {
	for _, c := range []struct {
		knob, text string
		units      quantity.System
		want       float64
	}{
		{"depth", "-0.004in", quantity.Inch, -0.1016}, // 25.4 mm to the inch, exact
		{"depth", "-4", quantity.Metric, -4},
		{"ring", "4thou", quantity.Metric, 0.1016},
		{"nut", "1turns", quantity.Inch, 360},
		{"nut", "15", quantity.Metric, 15},
		{"drag", "2", quantity.Metric, 2000},
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
		for i := range knobs {
			if knobs[i].name == c.knob {
				v, err := knobs[i].parse(c.text, c.units)
				require.NoError(t, err)
				assert.InDelta(t, c.want, v, 1e-12, c.text)
			}
		}
	}
	sw, err := parseSweep("depth=-.008in...008in/9", quantity.Inch)
	require.NoError(t, err)
	assert.InDelta(t, -0.2032, sw.at(0), 1e-12)
	assert.Zero(t, sw.at(4), "the middle of a sweep about nought is nought")
	assert.InDelta(t, 0.2032, sw.at(8), 1e-12)
}

func TestEvenly(t *testing.T) {
	assert.Equal(t, []int{0, 1, 2}, evenly(3, 9))
	assert.Equal(t, []int{0, 50, 100}, evenly(101, 3))
	for n := 2; n < 200; n++ {
		at := evenly(n, 9)
		assert.Zero(t, at[0])
		assert.Equal(t, n-1, at[len(at)-1])
		for i := 1; i < len(at); i++ {
			assert.Greater(t, at[i], at[i-1])
		}
	}
}

func BenchmarkSweepOf1000(b *testing.B) {
	for _, family := range []string{"beech", "hazel"} {
		b.Run(family, func(b *testing.B) {
			for b.Loop() {
				explored(b, false, "--family", family, "--sweep", "depth=-0.2mm..0.2mm/1000", "--csv", "-")
			}
		})
	}
}
