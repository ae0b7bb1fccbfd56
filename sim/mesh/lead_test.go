package mesh

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The play between the flanks is what their leads leave of it, at any position
// (an identity of the two definitions).
func TestBacklashIsWhatTheLeadsLeave(t *testing.T) {
	s := newSet(t, set12)
	c := s.NewContact()
	lash := func() float64 {
		return c.Backlash().MeanMM + s.HeelArmMM()*(c.Lead(Drive).MeanRad+c.Lead(Coast).MeanRad)
	}
	want := lash()
	for _, p := range []Position{{PinionOutMM: 0.1}, {RingAwayMM: -0.08, OffsetMM: 0.05}, {ShaftAngleRad: 0.0005}} {
		require.NoError(t, c.Move(p))
		assert.InDelta(t, want, lash(), 1e-12)
	}
}

// A conjugate pair at its design position carries without error; taking metal off
// toward the ends makes error, in step with how much is taken (the basic law of
// gearing, and linearity in the ease-off).
func TestErrorComesFromTheEaseOff(t *testing.T) {
	errors := map[float64]float64{}
	for _, k := range []float64{0, 1, 2} {
		e := EaseOff{LengthMM: k * normal.LengthMM, ProfileMM: k * normal.ProfileMM, CenterS: normal.CenterS, CenterT: normal.CenterT}
		s, err := NewSet(set12, e, e, designLash)
		require.NoError(t, err)
		c := s.NewContact()
		for _, f := range []Flank{Drive, Coast} {
			l := c.Lead(f)
			assert.LessOrEqual(t, l.LeastRad, l.MeanRad)
			assert.LessOrEqual(t, l.MeanRad, l.MostRad)
			errors[k] += l.PeakToPeakRad()
		}
	}
	assert.InDelta(t, 0, errors[0], 1e-12)
	assert.Positive(t, errors[1])
	assert.InEpsilon(t, 2*errors[1], errors[2], 1e-9)
}

// Ring and pinion brought together carry further on, on both sides.
func TestCloserGearsLead(t *testing.T) {
	s := newSet(t, set12)
	c := s.NewContact()
	drive, coast := c.Lead(Drive).MeanRad, c.Lead(Coast).MeanRad
	require.NoError(t, c.Move(Position{RingAwayMM: -0.1}))
	assert.Greater(t, c.Lead(Drive).MeanRad+c.Lead(Coast).MeanRad, drive+coast)
	assert.Equal(t, Lead{}, c.Lead(Flank(7)))
}
