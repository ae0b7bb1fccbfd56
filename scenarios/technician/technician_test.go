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
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

func job(t *testing.T, seed uint64) (scenarios.Job, *sim.Stand) {
	t.Helper()
	j, err := scenariostest.Sketch(family.Beech(), seed)
	require.NoError(t, err)
	s, err := j.Stand()
	require.NoError(t, err)
	return j, s
}

func TestCompetentTechnicianFinishesWithEveryLineMet(t *testing.T) {
	for seed := uint64(1); seed <= 10; seed++ {
		j, s := job(t, seed)
		require.NoError(t, technician.Work(s, j.Card.Known, technician.Competent()), "seed %d", seed)
		assert.True(t, s.Status().SignedOff)
		for _, i := range verdict.Check(j.Card.Family, j.Card.UsedBearings, s.Sealed()) {
			assert.True(t, i.Met, "seed %d: %s", seed, i.Line)
		}
	}
}

// Hands with a bad habit spoil axles; they do not get stuck or ask for what cannot
// be done.
func TestBadHabitsEndWithASignature(t *testing.T) {
	seeds := longtest.Pick(20, 60)
	for name, h := range map[string]technician.Habits{
		"signs turned": {SignsTurned: true}, "never measures": {NeverMeasures: true}, "one wrong move": {WrongMoveOnce: true}} {
		met := 0
		for seed := uint64(1); seed <= uint64(seeds); seed++ {
			j, s := job(t, seed)
			require.NoError(t, technician.Work(s, j.Card.Known, h), "%s, seed %d", name, seed)
			assert.True(t, s.Status().SignedOff, "%s, seed %d", name, seed)
			if verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, s.Sealed())) {
				met++
			}
		}
		t.Logf("%s: %d of %d axles right", name, met, seeds)
		if name == "one wrong move" {
			assert.GreaterOrEqual(t, met, seeds*95/100, "a move that is read again and put right does no harm")
		} else {
			assert.LessOrEqual(t, met, seeds/10, name)
		}
	}
}

// A hand that says why it does things says so at every turn, and only once for a
// wrong move.
func TestTechnicianSaysWhy(t *testing.T) {
	j, s := job(t, 1)
	said := map[string]int{}
	require.NoError(t, technician.Work(s, j.Card.Known, technician.Habits{WrongMoveOnce: true, Say: func(why text.Message) { said[why.Code()]++ }}))
	assert.Equal(t, 1, said["technician.backlash.wrong-way"])
	for _, turn := range []string{"inspect", "starter.plus-adds", "mock-up", "pattern", "crush", "zero", "sheet"} {
		assert.Positive(t, said["technician."+turn], turn)
	}
}

// The starter shim follows TM 9-2320-289-34, table 6-2: on an axle whose mark is a
// shim correction the new mark is added and the old one taken away. The height wanted
// of the gauge moves the other way by the same amount.
func TestKnownArithmetic(t *testing.T) {
	for seed := uint64(1); seed <= 50; seed++ {
		j, _ := job(t, seed)
		k := j.Card.Known
		require.Equal(t, setup.PlusAddsShim, k.Sheet.Marks)
		assert.InDelta(t, k.OldDepthShim.Thou()-k.OldMark.Thou()+k.NewMark.Thou(), k.StarterShim().Thou(), 1e-9)
		assert.InDelta(t, k.Sheet.CheckingDistanceMM-k.NewMark.MM(), k.WantedDistance().MM(), 1e-12)
		w := k.PinionTorqueSpec()
		bare := k.Sheet.PinionTorque(k.UsedBearings)
		assert.InDelta(t, k.Sheet.SealDrag.Mid(), w.LowNmm-bare.LowNmm, 1e-9)
		assert.InDelta(t, k.Sheet.SealDrag.Mid(), w.HighNmm-bare.HighNmm, 1e-9)
	}
}

// refusing is a bench on which one act cannot be done.
type refusing struct {
	*sim.Stand
	form act.Form
	acts int
}

func (r *refusing) Do(a act.Act) (history.Step, error) {
	r.acts++
	if a.Form == r.form {
		return history.Step{}, &history.Refusal{Act: a, Why: text.Say("test.not-today", "not today")}
	}
	return r.Stand.Do(a)
}

// A refused act stops the hand there and is named in its error.
func TestRefusedActStopsTheTechnician(t *testing.T) {
	j, s := job(t, 2)
	b := &refusing{Stand: s, form: act.FitCase}
	err := technician.Work(b, j.Card.Known, technician.Competent())
	require.Error(t, err)
	var refusal *history.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.ErrorContains(t, err, "technician.stopped")
	assert.Equal(t, s.Status().Acts+1, b.acts, "nothing is tried after the refusal")
}
