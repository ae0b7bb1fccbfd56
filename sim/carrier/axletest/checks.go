package axletest

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/checkstest"
)

// A Check is one row of testdata/checks/mechanics.csv with its inputs as numbers.
type Check struct {
	checkstest.Row
	in map[string]float64
}

// In returns one input of the row, and fails the test if the row does not have it.
func (c Check) In(t testing.TB, name string) float64 {
	t.Helper()
	v, ok := c.in[name]
	require.True(t, ok, "check %s has no input %q", c.ID, name)
	return v
}

// Checks reads the rows whose id begins with one of the prefixes, in file order.
func Checks(t testing.TB, prefixes ...string) []Check {
	t.Helper()
	var out []Check
	for _, r := range checkstest.Read(t, "mechanics") {
		if !hasPrefix(r.ID, prefixes) {
			continue
		}
		c := Check{Row: r, in: map[string]float64{}}
		for pair := range strings.SplitSeq(r.Input, ";") {
			name, value, ok := strings.Cut(strings.TrimSpace(pair), "=")
			require.True(t, ok, "check %s: input %q is not name=value", r.ID, pair)
			number, err := strconv.ParseFloat(value, 64)
			require.NoError(t, err, "check %s", r.ID)
			c.in[name] = number
		}
		out = append(out, c)
	}
	require.NotEmpty(t, out, "no checks begin with %v", prefixes)
	return out
}

// Expected reads the expected figure of one row of a table in testdata/checks.
func Expected(t testing.TB, file, id string) float64 {
	t.Helper()
	return checkstest.Expected(t, strings.TrimSuffix(file, ".csv"), id)
}

func hasPrefix(id string, prefixes []string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(id, p) {
			return true
		}
	}
	return false
}

// Compare checks every row with one of the prefixes against the answer of the same
// id, and enters the answer in the package's ledger. A row without an answer and an answer without a row both fail.
func Compare(t *testing.T, answers map[string]func(in func(name string) float64) float64, prefixes ...string) {
	t.Helper()
	used := map[string]bool{}
	ledger := checkstest.Given(t)
	for _, c := range Checks(t, prefixes...) {
		t.Run(c.ID, func(t *testing.T) {
			require.False(t, used[c.ID], "the id is used twice")
			used[c.ID] = true
			answer, ok := answers[c.ID]
			require.True(t, ok, "no answer for this row")
			got := answer(func(name string) float64 { return c.In(t, name) })
			ledger.Gives(t, c.ID, got)
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
