package ledger

import (
	"math"
	"testing"

	"shimwright/sim/checkstest"
)

// The mean of max(0, x) over a normal variable is the unit normal loss integral: the
// average by even steps that every value is taken with keeps to it. Sources and strengths
// stand in the table's own columns.
func TestAverageGivesTheUnitNormalLoss(t *testing.T) {
	book := checkstest.Given(t)
	for id, at := range map[string]float64{"stat-50": 0, "stat-51": 0.5, "stat-52": 1, "stat-53": 2} {
		loss := average(-at, 1, func(x float64) float64 { return math.Max(0, x) })
		book.Meets(t, checkstest.Find(t, "statistics", id), loss)
	}
}
