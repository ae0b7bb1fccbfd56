package technician_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// goingOn takes a job up after n acts of another attempt at it and tells whether the axle
// came out right.
func goingOn(t *testing.T, j scenarios.Job, done []history.Step) (right bool, anew text.Message) {
	t.Helper()
	s, err := j.Stand()
	require.NoError(t, err)
	for _, o := range done {
		_, err := s.Do(o.Act)
		require.NoError(t, err)
	}
	before := s.Status()
	anew, err = technician.GoOn(s, j.Card.Known, technician.Competent(), j.Card.Before, done)
	require.NoError(t, err, "%s %s after act %d: %s, %+v", j.Card.Family.Code, j.Card.Kind, len(done), anew.Code(), before)
	require.True(t, s.Status().SignedOff)
	return verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, s.Sealed())), anew
}

// Wherever another hand has got to, the job can be gone on with to a right axle: on every
// family, for every kind of job, after good work and after bad.
func TestGoesOnFromAnyState(t *testing.T) {
	stride := longtest.Pick(51, 17) // acts from one taking-up to the next, so that the test stays short
	const (
		// A reading taken with an indicator that nobody has tested yet leaves the hand
		// itself wrong once in a while, and rings that were turned far the wrong way.
		least = 0.94
	)
	rights, n, undone := 0, 0, map[bool]int{}
	for i, fam := range family.Shelf() {
		for _, kind := range scenarios.Kinds() {
			j, err := scenarios.Order{Family: fam, Kind: kind}.Generate(uint64(3 + i))
			require.NoError(t, err)
			for _, h := range []technician.Habits{{}, {WrongMoveOnce: true}, {SignsTurned: true}} {
				first, err := j.Stand()
				require.NoError(t, err)
				whole := &sim.Recorder{Stand: first}
				require.NoError(t, technician.Work(whole, j.Card.Known, h))
				for k := (17*n + i) % stride; k < len(whole.Steps); k += stride {
					right, anew := goingOn(t, j, whole.Steps[:k])
					if n++; right {
						rights++
					} else {
						t.Logf("%s %s after act %d (%+v) came out wrong: %s", fam.Code, kind, k, h, anew.Code())
					}
					undone[h.SignsTurned && !anew.IsZero()]++
				}
				_, err = technician.GoOn(whole, j.Card.Known, technician.Competent(), j.Card.Before, whole.Steps)
				assert.ErrorIs(t, err, technician.ErrSignedOff)
			}
		}
	}
	t.Logf("%d of %d came out right", rights, n)
	assert.GreaterOrEqual(t, float64(rights), least*float64(n))
	assert.Positive(t, undone[true], "work with signs turned has to be undone")
}

// What was done well is not done again, and what cannot be relied on is.
func TestGoesOnOrBeginsAnew(t *testing.T) {
	j, err := scenariostest.Generate(family.Beech(), 7)
	require.NoError(t, err)
	s, err := j.Stand()
	require.NoError(t, err)
	good := &sim.Recorder{Stand: s}
	require.NoError(t, technician.Work(good, j.Card.Known, technician.Competent()))
	at := func(f act.Form) int {
		for i, o := range good.Steps {
			if o.Act.Form == f {
				return i
			}
		}
		t.Fatalf("%s was never done", f)
		return 0
	}
	_, anew := goingOn(t, j, good.Steps[:at(act.RollGears)])
	assert.True(t, anew.IsZero(), anew.Code())

	// Nothing was read of this pinion before the case went in.
	blind := &sim.Recorder{}
	blind.Stand, err = j.Stand()
	require.NoError(t, err)
	for _, line := range []string{"fit depth-shim 0.030in", "fit pinion final", "tighten nut to 200lb-ft", "fit side-shims ring-gear 0.060in opposite 0.060in", "fit case"} {
		a, err := act.Parse(line, quantity.Inch)
		require.NoError(t, err)
		_, err = blind.Do(a)
		require.NoError(t, err)
	}
	_, anew = goingOn(t, j, blind.Steps)
	assert.Equal(t, "technician.anew.unread", anew.Code())
}
