package checkstest

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A Remark says of a row, or of all rows whose id begins alike, why the model does not
// answer it, or why it answers differently.
type Remark struct {
	ID      string // ends in * for all rows that begin so
	Differs bool
	Why     string
}

// Remarks reads testdata/checks/remarks.csv.
func Remarks(t testing.TB) []Remark {
	t.Helper()
	var out []Remark
	for _, r := range readCSV(t, "remarks.csv", "id,verdict,why") {
		require.Contains(t, []string{"differs", "not answered"}, r[1], r[0])
		require.NotEmpty(t, r[2], r[0])
		out = append(out, Remark{ID: r[0], Differs: r[1] == "differs", Why: r[2]})
	}
	return out
}

func (r Remark) covers(id string) bool {
	if begin, group := strings.CutSuffix(r.ID, "*"); group {
		return strings.HasPrefix(id, begin)
	}
	return r.ID == id
}

func find(remarks []Remark, id string) (Remark, bool) {
	for _, r := range remarks {
		if r.covers(id) {
			return r, true
		}
	}
	return Remark{}, false
}
