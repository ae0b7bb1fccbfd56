package scenarios_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
	"shimwright/sim/truth"
)

// A dealt is how many jobs could carry a fault, how many do, and how many should.
type dealt struct{ could, carry, want, variance float64 }

// deal makes jobs with the generator, the search for an axle that can be finished included,
// and counts what they carry against what their cards disclose.
func deal(t *testing.T, o scenarios.Order, first, seeds uint64, count map[fault.ID]dealt) {
	t.Helper()
	m, err := o.Maker()
	require.NoError(t, err)
	for seed := first; seed < first+seeds; seed++ {
		j, err := m.Generate(seed)
		require.NoError(t, err, "%s, job %d", o.Family.Code, seed)
		x, _ := truth.Open(j.Sealed())
		for _, r := range j.Card.Rates {
			c := count[fault.ID(r.ID)]
			c.could++
			c.want += r.Rate
			c.variance += r.Rate * (1 - r.Rate)
			if x.Carries(fault.ID(r.ID)) {
				c.carry++
			}
			count[fault.ID(r.ID)] = c
		}
	}
}

// Every fault is dealt as often as its card says, over all designs. An axle that the reference
// technician cannot finish is drawn again, so a fault that nobody can cure would be disclosed
// and never dealt. Five standard errors of a binomial share, and some of each.
func TestFaultsAreDealtAtTheDisclosedRates(t *testing.T) {
	seeds := longtest.Pick[uint64](60, 600)
	count, first := map[fault.ID]dealt{}, uint64(1)
	for _, fam := range family.Shelf() {
		deal(t, scenarios.Order{Family: fam}, first, seeds, count)
		first += seeds // the same seed brings the same faults in every family
	}
	deal(t, scenarios.Order{Family: family.Beech(), Kind: scenarios.PatternJob}, first, 3*seeds, count) // begins with the case in
	for _, f := range fault.All() {
		c := count[f.ID]
		z := (c.carry - c.want) / math.Sqrt(c.variance)
		t.Logf("%-26s %5.0f jobs, %4.0f carry it, %6.1f should: %+.1f standard errors", f.ID, c.could, c.carry, c.want, z)
		assert.Less(t, math.Abs(z), 5.0, f.ID)
		assert.Positive(t, c.carry, f.ID)
	}
}

// The search for an axle that can be finished passes over one with a fault hardly more often
// than any other, on every design that can carry it: else its rate would not be the one that
// is disclosed.
func TestFaultyAxlesCanBeFinished(t *testing.T) {
	seeds := longtest.Pick[uint64](1, 20)
	for _, f := range fault.All() {
		jobs, draws := 0.0, 0.0
		for _, fam := range family.Shelf() {
			o := scenarios.Order{Family: fam, Faults: scenarios.FaultRule{None: true, OneOf: []fault.ID{f.ID}}}
			if !f.On(fam.Design, fault.Job{}) {
				o.Kind = scenarios.PatternJob
			}
			m, err := o.Maker()
			if err != nil {
				continue // not on this design
			}
			for seed := uint64(1); seed <= seeds; seed++ {
				if _, err := m.Sketch(seed); err != nil {
					continue // used parts that cannot bring it: no job of the order
				}
				j, err := m.Generate(seed)
				require.NoError(t, err, "%s in %s, job %d", f.ID, fam.Code, seed)
				jobs, draws = jobs+1, draws+float64(j.Draws())
			}
		}
		require.Positive(t, jobs, f.ID)
		t.Logf("%-26s %3.0f jobs in %3.0f draws", f.ID, jobs, draws)
		// A fault that passes over one axle in ten is dealt that much less often. Most pass over
		// one in sixty, as sound axles do; brakes left on, one in eleven.
		const oftener, few = 1.10, 3
		assert.LessOrEqual(t, draws, oftener*jobs+few, f.ID)
	}
}
