package checkstest

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write testdata/checks/CHECKS.md anew")

func TestDocumentIsCurrent(t *testing.T) {
	want := document(t)
	if *update {
		require.NoError(t, os.WriteFile(folder(t, "CHECKS.md"), []byte(want), 0o644))
	}
	// Compared without the difference, which would be the whole document.
	assert.True(t, readDocument(t) == want, "CHECKS.md is not what the tables say; -update writes it anew")
}

// Every table of the folder is in the document, ids are one row's alone, and every row
// is answered, quoted, or has a remark that says why not.
func TestEveryRowHasItsVerdict(t *testing.T) {
	files, err := filepath.Glob(folder(t, "*.csv"))
	require.NoError(t, err)
	assert.Len(t, files, len(tables)+1, "the tables and their remarks")
	figures, remarks, used := given(t), Remarks(t), map[string]bool{}
	seen := map[string]bool{}
	for _, table := range tables {
		for _, e := range entries(t, table[0], figures, remarks) {
			assert.False(t, seen[e.ID], "%s stands in two tables", e.ID)
			seen[e.ID] = true
			_, open := e.verdict(table[0])
			assert.False(t, open, "%s: %+v has neither an answer that agrees nor a remark of its kind", table[0], e)
			if e.remarked {
				used[e.remark.ID] = true
				assert.False(t, e.answered && e.Agrees(e.gives), "%s agrees and needs no remark", e.ID)
			}
		}
	}
	for _, r := range remarks {
		assert.True(t, used[r.ID], "nothing needs the remark on %s", r.ID)
	}
	for id := range figures {
		assert.True(t, seen[id], "%s is in a ledger and in no table", id)
	}
}

func TestAgrees(t *testing.T) {
	sum := Row{ID: "sum", Input: "a=1", Expected: 10, Tolerance: 0.1}
	assert.True(t, sum.Agrees(10.1))
	assert.False(t, sum.Agrees(9.85))
	way := Row{ID: "way", Input: "move=out", Expected: -1, Unit: "sign"}
	assert.True(t, way.Agrees(-0.03))
	assert.False(t, way.Agrees(0))
	assert.False(t, way.Agrees(0.03))
	least := Row{ID: "window-least", Input: "backlash; least", Expected: 5}
	assert.True(t, least.Agrees(5))
	assert.True(t, least.Agrees(7))
	assert.False(t, least.Agrees(4.9))
	most := Row{ID: "runout", Input: "most runout of the gear", Expected: 3}
	assert.True(t, most.Agrees(2))
	assert.False(t, most.Agrees(3.1))
	worked := Row{ID: "1-least", Input: "torque=5", Expected: 5, Tolerance: 0.1}
	assert.False(t, worked.Agrees(7), "a least that is worked out is a figure like any other")
	assert.False(t, sum.Agrees(math.NaN()))
}

func TestFigureShowsWhatTheToleranceCanTell(t *testing.T) {
	for want, e := range map[string]entry{
		"0.01165":   {Row: Row{Tolerance: 0.0001}, gives: 0.0116490123, answered: true},
		"26.565051": {Row: Row{Tolerance: 1e-5}, gives: 26.565051, answered: true},
		"17.815":    {gives: 17.815143, answered: true},
		"0":         {answered: true},
		"":          {gives: 3},
	} {
		assert.Equal(t, want, e.figure())
	}
}

func TestRemarksCover(t *testing.T) {
	remarks := []Remark{{ID: "21h-*", Differs: true}, {ID: "21*"}, {ID: "27-floor"}}
	r, ok := find(remarks, "21h-backlash-least")
	assert.True(t, ok && r.Differs, "the first that covers a row")
	r, ok = find(remarks, "21a-backlash-least")
	assert.True(t, ok && !r.Differs)
	_, ok = find(remarks, "27-floor-2")
	assert.False(t, ok)
}
