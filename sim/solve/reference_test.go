package solve_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/checkstest"
	"shimwright/sim/solve"
)

// Roots that another library finds in other ways: eigenvalues of a companion matrix,
// quantiles of a distribution. Sources stand in testdata/checks/solver.csv.
func TestReferenceRoots(t *testing.T) {
	const tol = 1e-12
	ledger, answered := checkstest.Given(t), 0
	for _, row := range checkstest.Read(t, "solver") {
		if !strings.HasPrefix(row.ID, "root-") {
			continue // coverage factors; sim/uncertaintytest
		}
		in := map[string]float64{}
		for pair := range strings.SplitSeq(row.Input, "; ") {
			if name, value, ok := strings.Cut(pair, "="); ok {
				v, err := strconv.ParseFloat(value, 64)
				require.NoError(t, err, row.ID)
				in[name] = v
			}
		}
		f := func(x float64) float64 {
			sum, power := 0.0, 1.0
			for i := 0; ; i++ {
				c, ok := in[fmt.Sprint("c", i)]
				if !ok {
					return sum
				}
				sum += c * power
				power *= x
			}
		}
		if share, ok := in["share"]; ok {
			f = func(x float64) float64 { return math.Erfc(-x/math.Sqrt2)/2 - share }
		}
		r, err := solve.Bracketed(f, in["low"], in["high"], tol)
		require.NoError(t, err, row.ID)
		answered++
		ledger.Gives(t, row.ID, r.X)
		assert.InDelta(t, row.Expected, r.X, row.Tolerance, "%s (%s)", row.ID, row.Source)
	}
	assert.GreaterOrEqual(t, answered, 10)
}
