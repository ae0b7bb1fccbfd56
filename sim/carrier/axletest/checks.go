package axletest

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A Check is one row of testdata/checks/mechanics.csv: the expected figure and
// tolerance are in Unit, Source and Strength say what the figure is worth.
type Check struct {
	ID                     string
	Input                  map[string]float64
	Expected, Tolerance    float64
	Unit, Source, Strength string
}

// In returns one input of the row, and fails the test if the row does not have it.
func (c Check) In(t testing.TB, name string) float64 {
	t.Helper()
	v, ok := c.Input[name]
	require.True(t, ok, "check %s has no input %q", c.ID, name)
	return v
}

// Checks reads the rows whose id begins with one of the prefixes, in file order.
func Checks(t testing.TB, prefixes ...string) []Check {
	t.Helper()
	rows := table(t, "mechanics.csv")
	var out []Check
	for _, r := range rows {
		c := Check{ID: r[0], Input: map[string]float64{}, Unit: r[4], Source: r[5], Strength: r[6]}
		if !hasPrefix(c.ID, prefixes) {
			continue
		}
		for pair := range strings.SplitSeq(r[1], ";") {
			name, value, ok := strings.Cut(strings.TrimSpace(pair), "=")
			require.True(t, ok, "check %s: input %q is not name=value", c.ID, pair)
			c.Input[name] = number(t, c.ID, value)
		}
		c.Expected, c.Tolerance = number(t, c.ID, r[2]), number(t, c.ID, r[3])
		require.NotEmpty(t, c.Source, "check %s has no source", c.ID)
		require.NotEmpty(t, c.Strength, "check %s does not say how strong it is", c.ID)
		out = append(out, c)
	}
	require.NotEmpty(t, out, "no checks begin with %v", prefixes)
	return out
}

// Expected reads the expected figure of one row of a table in testdata/checks.
func Expected(t testing.TB, file, id string) float64 {
	t.Helper()
	for _, r := range table(t, file) {
		if r[0] == id {
			return number(t, id, r[2])
		}
	}
	require.Failf(t, "check missing", "%s has no row %s", file, id)
	return 0
}

// table reads the rows of a table in testdata/checks, without its heading.
func table(t testing.TB, file string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(moduleRoot(t), "testdata", "checks", file))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"id", "input", "expected", "tolerance", "unit", "source", "strength"}, rows[0])
	return rows[1:]
}

func hasPrefix(id string, prefixes []string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(id, p) {
			return true
		}
	}
	return false
}

func number(t testing.TB, id, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err, "check %s", id)
	return v
}

// moduleRoot walks up from the test's folder to the one with go.mod.
func moduleRoot(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		require.NotEqual(t, dir, up, "no go.mod above the test's folder")
		dir = up
	}
}

// Compare checks every row with one of the prefixes against the answer of the same
// id. A row without an answer and an answer without a row both fail.
func Compare(t *testing.T, answers map[string]func(in func(name string) float64) float64, prefixes ...string) {
	t.Helper()
	used := map[string]bool{}
	for _, c := range Checks(t, prefixes...) {
		t.Run(c.ID, func(t *testing.T) {
			require.False(t, used[c.ID], "the id is used twice")
			used[c.ID] = true
			answer, ok := answers[c.ID]
			require.True(t, ok, "no answer for this row")
			got := answer(func(name string) float64 { return c.In(t, name) })
			assert.InDelta(t, c.Expected, got, c.Tolerance, "%s; %s (%s)", c.Unit, c.Source, c.Strength)
			if c.Expected != 0 {
				t.Logf("%g against %g %s: %+.2f %%", got, c.Expected, c.Unit, 100*(got/c.Expected-1))
			}
		})
	}
	for id := range answers {
		assert.True(t, used[id], "answer %s has no row", id)
	}
}
