package technician_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// linear is a bench with a solid spacer whose pinion rotating torque falls by so much a millimeter of preload shims,
// from what the first build shows.
type linear struct {
	*sim.Stand
	firstNmm, perMM float64
	first           float64 // shims of the first build, mm
	builds          []float64
}

func (s *linear) Do(a act.Act) (history.Step, error) {
	o, err := s.Stand.Do(a)
	o.Feels = nil
	shims := s.Status().PreloadShims.MM()
	if a.Form == act.FitPinion && err == nil {
		if len(s.builds) == 0 {
			s.first = shims
		}
		s.builds = append(s.builds, shims)
	}
	for i, r := range o.Readings {
		if r.Kind == gauge.PinionTorque {
			o.Readings[i].Torques = []quantity.Torque{quantity.Torque(s.firstNmm - s.perMM*(shims-s.first))}
		}
	}
	return o, err
}

// Two builds show what a thousandth of preload shims is worth on an axle, from too little torque
// and from too much. With that the third is in specification where a shim is worth 0.3 of what is
// usual, and where going on by the usual figure would take five.
func TestTwoBuildsShowWhatAShimIsWorth(t *testing.T) {
	fam, err := family.Shipped("IRONBARK")
	require.NoError(t, err)
	job, err := scenarios.Order{Family: fam, Kind: scenarios.PreloadJob, Faults: scenarios.FaultRule{None: true}}.Generate(3)
	require.NoError(t, err)
	spec := job.Card.Known.PinionTorqueSpec()
	for _, offNmm := range []float64{-2.5 * spec.Half(), 2.5 * spec.Half()} {
		stand, err := job.Stand()
		require.NoError(t, err)
		size := job.Card.Known.RingDiameter.MM() / 216
		usual := 11 * size * size * (spec.Mid() - fam.Sheet.SealDrag.Mid())
		b := &linear{Stand: stand, firstNmm: spec.Mid() + offNmm, perMM: 0.3 * usual}
		require.NoError(t, technician.Work(b, job.Card.Known, technician.Competent()))
		last := b.firstNmm - b.perMM*(b.builds[len(b.builds)-1]-b.first)
		assert.InDelta(t, spec.Mid(), last, spec.Half(), "%+.0f N·mm: %v", offNmm, b.builds)
		assert.Len(t, b.builds, 3)
	}
}
