package checkstest

import (
	"encoding/csv"
	"flag"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var renew = flag.Bool("given", false, "write what the model gives now into testdata/checks/given")

const givenColumns = "id,gives"

// A Ledger keeps what the model gives for the rows that one package's tests answer.
type Ledger struct {
	kept, now map[string]float64
}

// Given opens the ledger of the package under test.
func Given(t testing.TB) *Ledger {
	t.Helper()
	dir, err := os.Getwd()
	require.NoError(t, err)
	name := filepath.Base(dir)
	l := &Ledger{kept: map[string]float64{}, now: map[string]float64{}}
	if *renew {
		t.Cleanup(func() { l.write(t, name) })
		return l
	}
	l.kept = readGiven(t, name)
	return l
}

// Gives reports what the model gives for a row, in the row's unit. A figure that is
// not the one kept fails the test.
func (l *Ledger) Gives(t testing.TB, id string, figure float64) {
	t.Helper()
	require.False(t, math.IsNaN(figure) || math.IsInf(figure, 0), "%s: the model gives %v", id, figure)
	l.now[id] = figure
	if *renew {
		return
	}
	kept, known := l.kept[id]
	if assert.True(t, known, "%s is not in the ledger; -given writes it", id) {
		// Figures are kept to twelve digits, and another machine may round the last
		// bits of a sum otherwise.
		const share, floor = 1e-6, 1e-8
		assert.InDelta(t, kept, figure, share*math.Abs(kept)+floor, "%s is not what it was; -given writes it anew", id)
	}
}

// write puts the figures of this run in place of those kept. Figures of tests that
// were not run stay.
func (l *Ledger) write(t testing.TB, name string) {
	all := map[string]float64{}
	if _, err := os.Stat(folder(t, "given", name+".csv")); err == nil {
		all = readGiven(t, name)
	}
	maps.Copy(all, l.now)
	f, err := os.Create(folder(t, "given", name+".csv"))
	require.NoError(t, err)
	w := csv.NewWriter(f)
	require.NoError(t, w.Write([]string{"id", "gives"}))
	for _, id := range slices.Sorted(maps.Keys(all)) {
		require.NoError(t, w.Write([]string{id, digits(all[id])}))
	}
	w.Flush()
	require.NoError(t, w.Error())
	require.NoError(t, f.Close())
}

// digits writes a figure to twelve digits, and one that is zero but for rounding as 0.
func digits(x float64) string {
	const rounding = 1e-9
	if math.Abs(x) < rounding {
		return "0"
	}
	return strconv.FormatFloat(x, 'g', 12, 64)
}

func readGiven(t testing.TB, name string) map[string]float64 {
	t.Helper()
	out := map[string]float64{}
	for _, r := range readCSV(t, "given/"+name+".csv", givenColumns) {
		out[r[0]] = number(t, r[0], r[1])
	}
	return out
}

// Meets enters a figure for a row and fails the test when the row does not agree with
// it, unless a remark says that it differs.
func (l *Ledger) Meets(t testing.TB, r Row, figure float64) {
	t.Helper()
	l.Gives(t, r.ID, figure)
	if remark, ok := find(Remarks(t), r.ID); ok && remark.Differs {
		return
	}
	assert.True(t, r.Agrees(figure), "%s: %g %s expected, the model gives %g; %s (%s)", r.ID, r.Expected, r.Unit, figure, r.Source, r.Strength)
}
