package checkstest

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A Row is one outside figure. Expected and Tolerance are in Unit.
type Row struct {
	ID, Input              string
	Expected, Tolerance    float64
	Unit, Source, Strength string
}

// columns is the heading of every table.
const columns = "id,input,expected,tolerance,unit,source,strength"

// Strengths lists how far a figure can be trusted, as the tables write it.
func Strengths() []string {
	return []string{"published", "second-hand", "computed independently", "second program", "from memory", "common practice, no source"}
}

// Read reads a table of testdata/checks, named without its ending, in file order.
// The test fails on a table that is not in order.
func Read(t testing.TB, table string) []Row {
	t.Helper()
	records := readCSV(t, table+".csv", columns)
	rows := make([]Row, 0, len(records))
	seen := map[string]bool{}
	for _, r := range records {
		row := Row{ID: r[0], Input: r[1], Expected: number(t, r[0], r[2]), Tolerance: number(t, r[0], r[3]),
			Unit: r[4], Source: r[5], Strength: r[6]}
		require.False(t, seen[row.ID], "%s appears twice in %s", row.ID, table)
		seen[row.ID] = true
		require.GreaterOrEqual(t, row.Tolerance, 0.0, row.ID)
		require.NotEmpty(t, row.Source, "%s has no source", row.ID)
		require.Contains(t, Strengths(), row.Strength, row.ID)
		rows = append(rows, row)
	}
	require.NotEmpty(t, rows, table)
	return rows
}

// Expected returns the expected figure of one row.
func Expected(t testing.TB, table, id string) float64 {
	t.Helper()
	return Find(t, table, id).Expected
}

// Find returns one row of a table, which must be there.
func Find(t testing.TB, table, id string) Row {
	t.Helper()
	for _, r := range Read(t, table) {
		if r.ID == id {
			return r
		}
	}
	require.Failf(t, "check missing", "%s has no row %s", table, id)
	return Row{}
}

// Limit reports whether the row quotes a limit: words only, nothing to work on.
func (r Row) Limit() bool { return !strings.Contains(r.Input, "=") }

// sameShare is how far two figures that are meant to be the same may lie apart, as a
// share: inch figures that were turned into millimetres and back.
const sameShare = 1e-9

// Agrees reports whether a figure, in the row's unit, is what the row expects. A
// direction agrees by its sign. A limit that is a least or a most (by the end of its
// id, or by its words) is kept from its own side; any other limit is met exactly, any
// other figure within its tolerance.
func (r Row) Agrees(figure float64) bool {
	near := r.Tolerance + sameShare*math.Abs(r.Expected)
	says := func(end string) bool {
		return r.Limit() && (strings.HasSuffix(r.ID, "-"+end) || strings.Contains(" "+r.Input, " "+end+" "))
	}
	switch {
	case r.Unit == "sign" && r.Expected != 0:
		return figure*r.Expected > 0
	case says("least"):
		return figure >= r.Expected-near
	case says("most"):
		return figure <= r.Expected+near
	}
	return math.Abs(figure-r.Expected) <= near
}

// folder returns a path in testdata/checks of the module that the test belongs to.
func folder(t testing.TB, parts ...string) string {
	t.Helper()
	dir, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(append([]string{dir, "testdata", "checks"}, parts...)...)
		}
		up := filepath.Dir(dir)
		require.NotEqual(t, dir, up, "no go.mod above the test's folder")
		dir = up
	}
}

// readCSV reads a file of testdata/checks with the given heading, without the heading.
func readCSV(t testing.TB, file, heading string) [][]string {
	t.Helper()
	f, err := os.Open(folder(t, filepath.FromSlash(file)))
	require.NoError(t, err)
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err, file)
	require.NotEmpty(t, records, file)
	require.Equal(t, heading, strings.Join(records[0], ","), file)
	return records[1:]
}

func number(t testing.TB, id, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err, "check %s", id)
	return v
}
