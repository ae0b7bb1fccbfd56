package class_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/grading/class"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// BenchmarkClass grades a class of thirty with eight jobs each, worked in four ways. It is to
// take no more than 4 s on two cores.
func BenchmarkClass(b *testing.B) {
	const pupils, jobs = 30, 8
	ways := []technician.Habits{technician.Competent(), {WrongMoveOnce: true}, {PatternLast: true}, {NeverMeasures: true}}
	var handed []class.Attempt
	for seed := uint64(1); seed <= jobs; seed++ {
		job, err := scenariostest.Generate(family.Beech(), seed)
		require.NoError(b, err)
		for k := range pupils {
			rec := attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech()}, "", seed, quantity.Inch)
			if k < len(ways) {
				stand, err := job.Stand()
				require.NoError(b, err)
				r := &sim.Recorder{Stand: stand}
				require.NoError(b, technician.Work(r, job.Card.Known, ways[k]))
				for _, o := range r.Steps {
					rec.Add(o)
				}
			} else {
				rec = handed[int(seed-1)*pupils+k%len(ways)].Record
			}
			handed = append(handed, class.Attempt{Pupil: fmt.Sprint(k), File: fmt.Sprintf("%d-%d", k, seed), Record: rec})
		}
	}
	for b.Loop() {
		c := class.Grade(handed, cost.Default(), quantity.Inch, func(int) {})
		require.Len(b, c.Rows, pupils*jobs)
	}
}
