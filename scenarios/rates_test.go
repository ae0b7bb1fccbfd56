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

// drawn counts jobs and the draws they took.
type drawn struct{ jobs, draws float64 }

func (d *drawn) deal(t *testing.T, o scenarios.Order, seeds uint64) (ok bool) {
	t.Helper()
	m, err := o.Maker()
	if err != nil {
		return false // no job of this design
	}
	for seed := uint64(1); seed <= seeds; seed++ {
		if _, err := m.Sketch(seed); err != nil {
			continue // used parts that cannot bring it: no job of the order
		}
		j, err := m.Generate(seed)
		require.NoError(t, err, "%s, job %d", o.Family.Code, seed)
		d.jobs, d.draws = d.jobs+1, d.draws+float64(j.Draws())
	}
	return true
}

// The search for an axle that can be finished passes over one with a fault hardly more often
// than over a sound axle of the same kind of job, on every design that can carry it: else its
// rate would not be the one that is disclosed. Pattern jobs are passed over more often than
// whole ones, with or without a fault: there the pattern alone guides the depth.
func TestFaultyAxlesCanBeFinished(t *testing.T) {
	seeds := longtest.Pick[uint64](1, 20)
	sound := map[string]drawn{}
	for i, f := range fault.All() {
		var faulty, without drawn
		families := family.Shelf()
		for k := range families {
			if !longtest.On() && faulty.jobs >= 4 {
				break // a short run takes some families, others for the next fault
			}
			fam := families[(i+k)%len(families)]
			o := scenarios.Order{Family: fam, Faults: scenarios.FaultRule{None: true, OneOf: []fault.ID{f.ID}}}
			if !f.On(fam.Design, fault.Job{}) {
				o.Kind = scenarios.PatternJob
			}
			if !faulty.deal(t, o, seeds) {
				continue
			}
			key := fam.Code + " " + o.Kind.String()
			if _, ok := sound[key]; !ok {
				o.Faults.OneOf = nil
				var d drawn
				require.True(t, d.deal(t, o, seeds), key)
				sound[key] = d
			}
			without = drawn{without.jobs + sound[key].jobs, without.draws + sound[key].draws}
		}
		require.Positive(t, faulty.jobs, f.ID)
		t.Logf("%-26s %3.0f jobs in %3.0f draws, sound %3.0f in %3.0f", f.ID, faulty.jobs, faulty.draws, without.jobs, without.draws)
		// A fault that passes over one axle in twenty more than sound axles do is dealt that much
		// less often.
		const oftener, few = 1.05, 3
		assert.LessOrEqual(t, faulty.draws, oftener*without.draws/without.jobs*faulty.jobs+few, f.ID)
	}
}
