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
	"shimwright/sim/explore"
	"shimwright/sim/longtest"
)

// explored runs the command and returns what it writes; it must succeed.
func explored(t testing.TB, color bool, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	code := Main(term.Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Width: 80, Color: color}, append([]string{"explore"}, args...))
	require.Equal(t, exit.Done, code, "%v: %s", args, errs.String())
	return out.String()
}

func TestExploreFitsThePage(t *testing.T) {
	for _, width := range longtest.Pick([]int{40, 100}, []int{40, 80, 100}) {
		for _, args := range [][]string{
			{},
			{"--both", "--runout", "0.003in", "--used", "--inner-cup-gap", "0.05mm", "--outer-cup-gap", "0.05mm", "--torque", "8lb-in"},
			{"--greased", "--caps-snug", "--offset", "0.1mm", "--shaft-angle", "-0.05deg", "--shim-to-ring-gear", "-0.002in", "--ring-gear", "-0.001in", "--seed", "8"},
			{"--ring-gear", "-0.3mm", "--side-preload", "0.6mm"},
			{"--sweep", "depth=-0.008in..0.008in/9"},
			{"--sweep", "ring-gear=0.2mm..-0.3mm/50", "--units", "metric"},
			{"--sweep", "nut=0..800deg/41"},
			{"--sweep", "torque=0.5Nm..4Nm/5", "--units", "metric"},
			{"--sweep", "side-preload=-0.004in..0.02in/12"},
			{"--sweep", "shaft-angle=-0.1deg..0.1deg/3"},
			{"--sweep", "inner-cup-gap=0..0.005in/4", "--torque", "10lb-in"},
			{"--family", "hazel", "--both", "--rough", "3lb-in", "--seal-extra", "5lb-in", "--brake-drag", "30lb-in", "--shim-dirt", "0.002in", "--housing-grown", "0.05mm", "--warp", "0.1mm"},
			{"--family", "cedar", "--nut", "20deg", "--caps-swapped", "--cap-rotated", "--nut-grip-gone", "--ring-gear-cone-gap", "0.1mm", "--warm", "-20C"},
			{"--family", "juniper", "--both", "--side-preload", "0.5mm", "--shim-to-ring-gear", "0.1mm", "--spacer-crushed", "0.5mm", "--uneven-bolts", "0.1mm"},
			{"--indicator-at", "toe", "--plunger", "along", "--pinion-free", "--arm-loose", "--seed", "2", "--thick-coat", "--rolled-free", "--breakaway", "--wrench-error", "-20%", "--string-error", "3 percent"},
		} {
			for _, color := range []bool{false, true} {
				text := explored(t, color, append(args, "--width", strconv.Itoa(width))...)
				for _, l := range strings.Split(text, "\n") {
					assert.LessOrEqual(t, ansi.StringWidth(l), width, "%v: %q", args, l)
				}
				assert.Equal(t, color, strings.Contains(text, "\x1b["), "%v", args)
			}
		}
	}
}

// Everything that can be swept is swept and drawn, on an axle that has it, and what is
// swept is not said to be set.
func TestExploreSweepsEverything(t *testing.T) {
	for _, k := range explore.Knobs() {
		span, family := "0..0.1mm/3", "beech"
		switch k.Kind {
		case explore.Rotating:
			span = "0.5Nm..2Nm/3"
		case explore.Fastener:
			span = "200Nm..300Nm/3"
		case explore.Turned:
			span = "0..100deg/3"
		case explore.Tilt:
			span = "-0.1deg..0.1deg/3"
		case explore.Warmth:
			span = "-10C..40C/3"
		case explore.Percent:
			span = "-20%..20%/3"
		}
		if k.Only == explore.Solid {
			span, family = "1.2mm..1.3mm/3", "hazel"
		}
		for _, width := range []int{40, 80} {
			text := explored(t, false, "--family", family, "--sweep", k.Name+"="+span, "--width", strconv.Itoa(width), "--units", "metric")
			for l := range strings.SplitSeq(text, "\n") {
				assert.LessOrEqual(t, ansi.StringWidth(l), width, "%s: %q", k.Name, l)
			}
			set, _, _ := strings.Cut(text, "\n\n")
			if said, _, _ := strings.Cut(k.Said, "%s"); said != "" {
				assert.NotContains(t, set, said, k.Name)
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
	for _, name := range []string{"true_preload_shims_mm", "shown_micrometer_preload_shims_in"} {
		assert.Nil(t, beech[name], name)
		assert.NotNil(t, hazel[name], name)
	}
	for _, name := range []string{"true_spacer_crush_mm", "true_spacer_bottomed", "shown_caliper_spacer_length_mm"} {
		assert.NotNil(t, beech[name], name)
		assert.Contains(t, hazel, name)
		assert.Nil(t, hazel[name], name)
	}
}

// Every figure that is not in words is in the table without color too.
func TestExplorePlainSaysTheSame(t *testing.T) {
	for _, args := range [][]string{{}, {"--sweep", "depth=-0.1mm..0.1mm/3"}} {
		colored, plain := explored(t, true, args...), explored(t, false, args...)
		head, _, ok := strings.Cut(ansi.Strip(colored), "Contact pattern")
		require.True(t, ok)
		assert.True(t, strings.HasPrefix(plain, head))
	}
}

func TestExploreNotesWhatGoesWrong(t *testing.T) {
	assert.Contains(t, explored(t, false, "--ring-gear", "-0.3mm"), "The gears bind")
	assert.Contains(t, explored(t, false, "--side-preload", "0.5mm"), "CAUTION: the side shims")
	assert.Contains(t, explored(t, false, "--nut", "1000deg"), "The collapsible spacer is crushed past")
	assert.Contains(t, explored(t, false, "--nut", "20deg"), "The pinion or the case is loose")
	assert.Contains(t, explored(t, false, "--sweep", "side-preload=0..0.5mm/3"), "CAUTION, in a part of the sweep:")
	assert.NotContains(t, explored(t, false), "  ! ")
	assert.Contains(t, explored(t, false, "--family", "juniper", "--side-preload", "0.9mm"), "CAUTION: the bearing adjusters are tighter")
	assert.Contains(t, explored(t, false, "--family", "hazel", "--sweep", "preload-shims=1.2mm..1.4mm/5"), "In a part of the sweep the pinion or the case is loose")
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
		assert.Empty(t, values["set_torque_Nm"], "the nut's angle counts")
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
	assert.Equal(t, got, names("--sweep", "ring-gear=0..0.1mm/3", "--used", "--seed", "2"))
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
