package uncertaintytest_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/checkstest"
	"shimwright/sim/uncertaintytest"
)

// Coverage factors against another library's quantiles, on both sides of the change of
// method at 1000 degrees of freedom. Beyond it the tolerance is 2e-5, the next term of
// the series, (5z⁵+16z³+3z)/(96·1000²), at the highest level asked. Sources stand in
// testdata/checks/solver.csv.
func TestReferenceCoverageFactors(t *testing.T) {
	ledger, answered := checkstest.Given(t), 0
	for _, row := range checkstest.Read(t, "solver") {
		if !strings.HasPrefix(row.ID, "student-") {
			continue // roots; sim/solve
		}
		in := inputs{t, row, row.Unit}
		k, err := uncertaintytest.CoverageFactor(in.of("level"), in.of("degrees"))
		require.NoError(t, err)
		answered++
		ledger.Gives(t, row.ID, k)
		assert.InDelta(t, row.Expected, k, row.Tolerance, "%s (%s)", row.ID, row.Source)
	}
	assert.GreaterOrEqual(t, answered, 50)
}
