package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/sim/explore"
)

// caseFile is a file of testdata/cases.
func caseFile(name string) string {
	return filepath.Join("..", "..", "..", "testdata", "cases", name)
}

func TestCasesFitThePage(t *testing.T) {
	gears, parts := []string{"--gears", caseFile("hypoid-11x41.yaml")}, []string{"--parts", caseFile("default-axle.yaml")}
	solid := []string{"--parts", caseFile("default-axle-solid.yaml")}
	for _, width := range []int{40, 80, 100} {
		for _, args := range [][]string{
			gears,
			slices.Concat(gears, []string{"--both", "--runout", "0.003in", "--ring-gear", "-0.3mm"}),
			slices.Concat(gears, []string{"--sweep", "ring-gear=0.2mm..-0.3mm/50", "--units", "metric"}),
			slices.Concat(gears, []string{"--sweep", "film=0..0.02mm/3"}),
			parts,
			slices.Concat(parts, []string{"--both", "--torque", "20lb-in", "--side-preload", "0.5mm", "--used", "--greased", "--caps-snug"}),
			slices.Concat(parts, []string{"--sweep", "torque=0.5Nm..4Nm/5", "--units", "metric"}),
			slices.Concat(solid, []string{"--sweep", "nut=0..90deg/7", "--shim-to-ring-gear", "0.001in"}),
			slices.Concat(solid, []string{"--sweep", "shim-to-ring-gear=-0.1mm..0.1mm/3", "--nut", "40"}),
		} {
			for _, color := range []bool{false, true} {
				text := explored(t, color, append(args, "--width", strconv.Itoa(width))...)
				for _, l := range strings.Split(text, "\n") {
					assert.LessOrEqual(t, ansi.StringWidth(l), width, "%v: %q", args, l)
				}
				assert.NotContains(t, text, "BEECH")
				assert.NotContains(t, text, "sheet")
			}
		}
	}
}

func TestCasesNoteWhatGoesWrong(t *testing.T) {
	assert.Contains(t, explored(t, false, "--gears", caseFile("hypoid-11x41.yaml"), "--ring-gear", "-0.3mm"), "The gears bind")
	assert.Contains(t, explored(t, false, "--parts", caseFile("default-axle.yaml"), "--nut", "1000deg"), "The collapsible spacer is crushed past")
	// A pack half a millimetre too thin never carries anything.
	text, err := os.ReadFile(caseFile("default-axle-solid.yaml"))
	require.NoError(t, err)
	thin := filepath.Join(t.TempDir(), "thin.yaml")
	require.NoError(t, os.WriteFile(thin, bytes.Replace(text, []byte("preload_shims_mm: 0.98"), []byte("preload_shims_mm: 0.48"), 1), 0o600))
	assert.Contains(t, explored(t, false, "--parts", thin, "--torque", "20lb-in"), "The spacer is loose")
	assert.NotContains(t, explored(t, false, "--parts", caseFile("default-axle.yaml"), "--torque", "20lb-in"), "  ! ")
}

// The columns of a case are those of the whole axle that belong to it, in their
// order; together with the readings, and what only a whole axle has, they are all there
// are.
func TestCaseColumnNames(t *testing.T) {
	wholeOnly := []string{"set_warm_C", "set_warm_F", "set_shim_dirt_mm", "set_shim_dirt_in", "set_caps_swapped", "set_cap_rotated",
		"set_wrench_error", "set_string_error", "set_breakaway", "set_pinion_free", "set_arm_loose", "set_thick_coat", "set_rolled_free", "set_indicator_at", "set_plunger"}

	all := strings.Split(strings.TrimSpace(firstLine(t)), ",")
	gears := strings.Split(firstLine(t, "--gears", caseFile("spiral-bevel-11x41.yaml")), ",")
	parts := strings.Split(firstLine(t, "--parts", caseFile("default-axle.yaml")), ",")
	for _, some := range [][]string{gears, parts} {
		last := -1
		for _, name := range some {
			i := slices.Index(all, name)
			assert.Greater(t, i, last, name)
			last = i
		}
	}
	for _, name := range all {
		in := 0
		for _, some := range [][]string{gears, parts} {
			if slices.Contains(some, name) {
				in++
			}
		}
		switch {
		case name == "position":
			assert.Equal(t, 2, in)
		case strings.HasPrefix(name, "shown_"), slices.Contains(wholeOnly, name):
			assert.Zero(t, in, name)
		default:
			assert.Equal(t, 1, in, name)
		}
	}
}

func firstLine(t testing.TB, args ...string) string {
	t.Helper()
	line, _, ok := strings.Cut(explored(t, false, append(args, "--csv", "-")...), "\n")
	require.True(t, ok)
	return line
}

// The page of names has every column there is.
func TestFieldPageIsWhole(t *testing.T) {
	page := explored(t, false, "fields", "--width", "100")
	for _, name := range strings.Split(firstLine(t), ",")[1:] {
		_, name, _ = strings.Cut(name, "_")
		assert.Regexp(t, `(?m)^  (.*, )?`+name+`(,|$)`, page)
	}
	for _, g := range explore.Groups() {
		for _, f := range g.Fields {
			assert.NotEmpty(t, f.What, f.Name)
		}
	}
}

// The examples of the commands under explore are run as they stand there.
func TestExploreExamplesRun(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range newExplore(term.Streams{}).Commands() {
		require.NotEmpty(t, c.Example, c.Name())
		for line := range strings.SplitSeq(c.Example, "\n") {
			words := strings.Fields(line)
			require.Equal(t, []string{"shimwright", "explore"}, words[:2])
			assert.NotEmpty(t, explored(t, false, words[2:]...), line)
		}
	}
}

// A file's name and its text cannot act on a terminal.
func TestCasesDoNotActOnTheTerminal(t *testing.T) {
	var out, errs bytes.Buffer
	dir := t.TempDir()
	bad := filepath.Join(dir, "x\x1b[31m.yaml")
	require.NoError(t, os.WriteFile(bad, []byte("shimwright_gears: 1\nname: \"a\\e[31m\"\n\"k\\e[1m\": 3\n"), 0o600))
	code := Main(term.Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Width: 80}, []string{"explore", "--gears", bad})
	assert.Equal(t, exit.Failed, code)
	assert.NotContains(t, out.String()+errs.String(), "\x1b")
}
