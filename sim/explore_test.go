package sim_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/assembly"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/truth"
)

// middleOnStand builds the axle in the middle of every spread of a family on the Stand,
// with axes that stand offMM further apart than they should and the ring gear as much
// further from the pinion than its place.
func middleOnStand(t testing.TB, fam family.Family, offMM float64) *sim.Stand {
	t.Helper()
	x := assembly.Nominal(fam)
	shims := fam.Sheet.DepthShims
	x.IdealShimMM, x.OffsetErrMM = shims.Nearest((shims.LowMM+shims.HighMM)/2), offMM
	sides := fam.Sheet.SideShims
	sideMM := sides.Nearest((sides.LowMM + sides.HighMM) / 2)
	x.RingGearZeroMM = sideMM - fam.Sheet.SidePreload.Mid()/2 + offMM
	x.OppositeZeroMM = sideMM - fam.Sheet.SidePreload.Mid()/2 - offMM
	x.RingAwayMM = offMM
	s, err := sim.New(fam, truth.Seal(x, truth.Finish{}), 5)
	require.NoError(t, err)
	do(t, s, fmt.Sprintf("fit depth-shim %.4fmm", x.IdealShimMM))
	if fam.Design.Preload == family.SolidSpacer {
		g, err := sim.NominalGains(fam, false)
		require.NoError(t, err)
		do(t, s, fmt.Sprintf("fit preload-shims %.4fmm", fam.Design.Solid.PreloadShims.Nearest(g.PreloadShimsAtTargetMM)), "fit pinion final", "turn pinion 20",
			fmt.Sprintf("tighten nut to %.0fNm", fam.Sheet.NutMid().NewtonMetres()), "turn pinion 20")
	} else {
		do(t, s, "fit pinion final", "turn pinion 20", fmt.Sprintf("tighten nut to %.0fNm", 0.9*fam.Sheet.NutLow.NewtonMetres()), "turn pinion 20")
		for range 100 {
			do(t, s, "tighten nut 2 deg")
			if finish(s).PinionTorqueNmm > fam.Sheet.PinionTorqueNew.Mid() {
				break
			}
		}
	}
	do(t, s, "turn pinion 20")
	if fam.Design.SideAdjust == family.BearingAdjusters {
		notches := int(fam.Sheet.SidePreload.Mid() / 2 / fam.Design.Rings.NotchTravelMM())
		do(t, s, "fit case", fmt.Sprintf("turn ring-gear-adjuster in %d", notches), fmt.Sprintf("turn opposite-adjuster in %d", notches), "torque caps")
		return s
	}
	do(t, s, fmt.Sprintf("fit side-shims ring-gear %.4fmm opposite %.4fmm", sideMM, sideMM))
	if fam.Design.Entry == family.Spreader {
		do(t, s, fmt.Sprintf("spread housing %.3fmm", fam.Sheet.SidePreload.Mid()))
	}
	do(t, s, "fit case", "torque caps")
	return s
}

// The demonstration axle is the practice bench's own, seen openly: the axle in the
// middle of every spread, built on the Stand, and the exhibit set to the same place, drag
// and side fit have the same true state, whatever the design of the family, and the
// flanks go by the same names.
func TestExhibitAgreesWithStand(t *testing.T) {
	for _, code := range []string{"BEECH", "CEDAR", "DOGWOOD", "HAZEL", "IRONBARK"} {
		t.Run(code, func(t *testing.T) {
			fam, err := family.FindAny(code)
			require.NoError(t, err)
			const offMM = 0.3 // a wrong offset carries the print of one flank to the heel and that of the other to the toe
			s := middleOnStand(t, fam, offMM)
			f := finish(s)
			b, err := explore.NewBench(fam)
			require.NoError(t, err)
			set := explore.Finished(fam, false)
			set.TorqueTargetNmm, set.SideFitMM, set.OffsetMM = f.PinionTorqueNmm-f.SealNmm, f.SideFitMM, offMM
			if fam.Design.Preload == family.SolidSpacer {
				set.NutNmm = f.NutNmm
			}
			at := func() explore.Result {
				r, err := b.At(set)
				require.NoError(t, err)
				return r
			}
			r := at()
			set.PinionOutMM = f.DepthErrorMM - r.Pinion.PinionOutMM
			set.RingAwayMM = f.RingAwayMM - r.Sides.RingAwayMM
			r = at()

			const seatingPart = 1e-6 // the Stand's rollers have turned less often
			assert.InEpsilon(t, f.PinionPreloadN, r.Pinion.PreloadN, seatingPart)
			assert.InEpsilon(t, f.SpacerN, r.Pinion.SpacerN, 0.01, "the Stand's rollers seat a little more after the last pull")
			assert.InEpsilon(t, f.ClampN, r.Pinion.StemN, 0.01)
			assert.InEpsilon(t, f.NutNmm, r.Pinion.NutTorqueNmm, 0.01)
			assert.InDelta(t, f.DepthErrorMM, r.Pinion.PinionOutMM, 1e-9)
			assert.InDelta(t, f.RingAwayMM, r.Sides.RingAwayMM, 1e-9)
			assert.InEpsilon(t, f.SidePreloadN, r.Sides.SidePreloadN, 1e-9)
			// Means over twelve places and over four, and over another part of the pinion's pitch.
			const placesMM = 0.003
			assert.InDelta(t, f.BacklashMeanMM, r.Gears.BacklashMeanMM, placesMM)
			assert.InDelta(t, f.TotalTorqueNmm, r.Sides.TotalTorqueNmm, 1)
			if fam.Design.Preload == family.SolidSpacer {
				// Two rolled shims, each off its mark by a few micrometres.
				const scatterMM = 0.015
				assert.InDelta(t, s.Status().PreloadShims.MM(), r.Pinion.PreloadShimMM, scatterMM)
			}

			const times = 16
			const eyeShare = 0.02 // four standard deviations of the mean of so many looks at a thin braked print
			var along [2]float64
			for range times {
				do(t, s, "paint teeth thin")
				patterns := reading(t, do(t, s, "roll gears braked"), gauge.Pattern).Patterns
				require.Len(t, patterns, 2)
				assert.Equal(t, []string{"drive", "coast"}, []string{patterns[0].Flank, patterns[1].Flank})
				for i, p := range patterns {
					along[i] += p.CenterS / times
				}
			}
			assert.Greater(t, math.Abs(r.Gears.Drive.CenterS-r.Gears.Coast.CenterS), 4*eyeShare, "the flanks can be told apart")
			assert.InDelta(t, r.Gears.Drive.CenterS, along[0], eyeShare)
			assert.InDelta(t, r.Gears.Coast.CenterS, along[1], eyeShare)
		})
	}
}
