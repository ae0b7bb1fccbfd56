package family_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim"
	"shimwright/sim/bearing"
	"shimwright/sim/carrier/axletest"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// published reads one row of the check table on trade practice.
func published(t testing.TB, id string) float64 {
	t.Helper()
	return axletest.Expected(t, "trade-practice.csv", id)
}

func TestFind(t *testing.T) {
	for _, code := range []string{"BEECH", "beech", "Beech"} {
		f, err := family.FindAny(code)
		require.NoError(t, err)
		assert.Equal(t, "BEECH", f.Code)
		assert.Equal(t, family.Beech(), f)
	}
	for _, code := range []string{"", "OAK", "BEECH ", "BEECHES"} {
		_, err := family.FindAny(code)
		said := text.Printer{}.Error(err)
		assert.Contains(t, said, strconv.Quote(code), "the message repeats what was asked")
		assert.Contains(t, said, "BEECH", "and says what there is")
	}
}

func TestFamiliesHaveTheirOwnCode(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range []family.Family{family.Beech()} {
		assert.NotEmpty(t, f.Code)
		assert.NotEmpty(t, f.Name)
		assert.NotEmpty(t, f.Use)
		assert.False(t, seen[strings.ToUpper(f.Code)], f.Code)
		seen[strings.ToUpper(f.Code)] = true
	}
	notice := say(family.Notice())
	assert.Contains(t, notice, "invented")
	assert.Contains(t, notice, "maker's manual")
}

// Every window of a sheet has its low end first and room inside.
func TestSheetSpecsAreOrdered(t *testing.T) {
	for _, f := range []family.Family{family.Beech()} {
		s := f.Sheet
		for what, w := range map[string]family.Spec{"print height": s.PatternHeight, "backlash": s.Backlash, "side preload": s.SidePreload} {
			assert.Positive(t, w.LowMM, "%s %s", f.Code, what)
			assert.Less(t, w.LowMM, w.HighMM, "%s %s", f.Code, what)
		}
		assert.Less(t, s.PatternHeight.HighMM, 1.0, f.Code)
		for what, w := range map[string]family.TorqueSpec{"drag, new": s.PinionTorqueNew, "drag, used": s.PinionTorqueUsed,
			"seal": s.SealDrag, "rise, new": s.SideRiseNew, "rise, used": s.SideRiseUsed} {
			assert.Positive(t, w.LowNmm, "%s %s", f.Code, what)
			assert.Less(t, w.LowNmm, w.HighNmm, "%s %s", f.Code, what)
		}
		assert.Less(t, s.PinionTorqueUsed.HighNmm, s.PinionTorqueNew.LowNmm, "%s: used and new bearings are not to be mixed up", f.Code)
		assert.Less(t, s.NutLow, s.NutHigh, f.Code)
		assert.Positive(t, s.CapTorque, f.Code)
		assert.Less(t, s.SidePreload.HighMM, s.SpreadLimitMM, "%s: full side preload can be fitted", f.Code)
		assert.Less(t, s.CaseFlangeRunoutMM, s.RunoutMM, "%s: the bare flange is held closer", f.Code)
		assert.Less(t, s.BacklashSpreadMM, s.Backlash.HighMM-s.Backlash.LowMM, "%s: a gear can be inside at every place", f.Code)
		assert.Greater(t, s.RingTeeth, s.PinionTeeth, f.Code)
		assert.InDelta(t, float64(s.RingTeeth)/float64(s.PinionTeeth), s.Ratio(), 1e-12)
		assert.True(t, s.Marks.Known(), f.Code)
		assert.Equal(t, f.Model.Gears.RingTeeth, s.RingTeeth, "%s: the sheet names the gears it has", f.Code)
		assert.Equal(t, f.Model.Gears.PinionTeeth, s.PinionTeeth, f.Code)
		assert.Equal(t, s.PinionTorqueUsed, s.PinionTorque(true))
		assert.Equal(t, s.PinionTorqueNew, s.PinionTorque(false))
		assert.Equal(t, s.SideRiseUsed, s.SideRise(true))
		assert.Equal(t, s.SideRiseNew, s.SideRise(false))
	}
}

// Sizes on the shelf run from end to end in whole steps, and a step is fine enough
// to reach the middle of what it serves.
func TestShimsLandOnWholeSteps(t *testing.T) {
	for _, f := range []family.Family{family.Beech()} {
		for what, s := range map[string]family.Stock{"depth": f.Sheet.DepthShims, "side": f.Sheet.SideShims} {
			sizes := s.Sizes()
			require.Greater(t, len(sizes), 5, "%s %s", f.Code, what)
			assert.InDelta(t, s.LowMM, sizes[0], 1e-9)
			assert.InDelta(t, s.HighMM, sizes[len(sizes)-1], 1e-9, "%s %s: the last step is a whole one", f.Code, what)
			for i, mm := range sizes {
				assert.InDelta(t, s.LowMM+float64(i)*s.StepMM, mm, 1e-9)
				assert.InDelta(t, mm, s.Nearest(mm), 1e-9, "a stocked size is nearest to itself")
			}
		}
		assert.LessOrEqual(t, f.Sheet.DepthShims.StepMM/2, f.Sheet.DepthToleranceMM, f.Code)
		// Moving one step across: total kept, the gear goes one step.
		assert.Less(t, f.Sheet.SideShims.StepMM*0.8, f.Sheet.Backlash.HighMM-f.Sheet.Backlash.LowMM, f.Code)
	}
}

func TestNearestStaysOnTheShelf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := family.Beech().Sheet.SideShims
		wanted := rapid.Float64Range(-5, 10).Draw(t, "wanted")
		got := s.Nearest(wanted)
		require.GreaterOrEqual(t, got, s.LowMM-1e-9)
		require.LessOrEqual(t, got, s.HighMM+1e-9)
		best := s.Sizes()[0]
		for _, mm := range s.Sizes() {
			if abs(mm-wanted) < abs(best-wanted) {
				best = mm
			}
		}
		require.InDelta(t, abs(best-wanted), abs(got-wanted), 1e-9, "no other size is nearer")
	})
}

func abs(x float64) float64 { return max(x, -x) }

func TestSpecs(t *testing.T) {
	w := family.Spec{LowMM: 0.13, HighMM: 0.20}
	assert.InDelta(t, 0.165, w.Mid(), 1e-12)
	assert.InDelta(t, 0.035, w.Half(), 1e-12)
	for mm, in := range map[float64]bool{0.129: false, 0.13: true, 0.165: true, 0.20: true, 0.201: false} {
		assert.Equal(t, in, w.Holds(mm), mm)
	}
	q := family.TorqueSpec{LowNmm: 2300, HighNmm: 3400}
	assert.InDelta(t, 2850, q.Mid(), 1e-9)
	assert.InDelta(t, 550, q.Half(), 1e-9)
	for nmm, in := range map[float64]bool{2299: false, 2300: true, 3400: true, 3401: false} {
		assert.Equal(t, in, q.Holds(nmm), nmm)
	}
	assert.Equal(t, family.TorqueSpec{LowNmm: 2600, HighNmm: 3900}, q.Plus(family.TorqueSpec{LowNmm: 300, HighNmm: 500}))
}

// The light axle's sheet against manuals for light axles; none of them is this
// axle, so a window has to overlap and not to match, save where light axles share a
// figure.
func TestBeechAgainstPublishedFigures(t *testing.T) {
	s := family.Beech().Sheet
	in := func(x float64) float64 { return quantity.Inches(x).MM() }
	lbin := func(x float64) float64 { return quantity.InchPounds(x).Nmm() }
	// TM 9-2320-289-34, para 6-5, p 6-21.
	assert.InDelta(t, in(published(t, "4-backlash-least")), s.Backlash.LowMM, 1e-9)
	assert.InDelta(t, in(published(t, "4-backlash-most")), s.Backlash.HighMM, 1e-9)
	assert.InDelta(t, in(published(t, "4-investigate")), s.BacklashSpreadMM, 1e-9)
	assert.LessOrEqual(t, s.RunoutMM, in(published(t, "4-runout")), "and no more than its own variation allows")
	// TM 9-2320-289-34, para 6-17, p 6-119, and TM 9-2320-280-34, para 19-3, p 19-21:
	// new between the lower of one and the upper of the other, used likewise.
	assert.Greater(t, s.PinionTorqueNew.LowNmm, lbin(published(t, "15a-drag-new-least")))
	assert.Less(t, s.PinionTorqueNew.HighNmm, lbin(published(t, "15-drag-new-most")))
	assert.Greater(t, s.PinionTorqueUsed.LowNmm, lbin(published(t, "15-drag-used-least")))
	assert.Less(t, s.PinionTorqueUsed.HighNmm, lbin(published(t, "15a-drag-used-most"))+lbin(0.5))
	// Common practice, no source.
	assert.LessOrEqual(t, s.SpreadLimitMM, in(published(t, "p-spread-limit"))+1e-9)
	assert.GreaterOrEqual(t, s.NutLow.FootPounds()+1e-9, published(t, "p-spacer-nut-least"))
	assert.Less(t, s.NutHigh.FootPounds(), published(t, "p-spacer-nut-most"))
}

// Ring travel shows as backlash by the manual's share (TM 9-2320-289-34, Table 6-1,
// p 6-19), pinion travel by less, and a pinion further out prints higher.
func TestNominalGains(t *testing.T) {
	f := family.Beech()
	g, err := sim.NominalGains(f, false)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, g.BacklashPerRing, published(t, "3-gain-least"))
	assert.LessOrEqual(t, g.BacklashPerRing, published(t, "3-gain-most"))
	assert.Positive(t, g.BacklashPerPinion)
	assert.Less(t, g.BacklashPerPinion, g.BacklashPerRing)
	assert.Positive(t, g.PatternHeightPerPinion)
	used, err := sim.NominalGains(f, true)
	require.NoError(t, err)
	assert.Equal(t, g.BacklashPerRing, used.BacklashPerRing, "teeth do not know the bearings")
	assert.Less(t, used.TorquePerDegreeNmm, g.TorquePerDegreeNmm, "used bearings answer less")
	assert.Less(t, used.SideRisePerMM, g.SideRisePerMM)
	assert.Positive(t, used.SideRisePerMM)
	for _, c := range []struct {
		g    sim.Gains
		used bool
	}{{g, false}, {used, true}} {
		assert.True(t, f.Sheet.SideRise(c.used).Holds(c.g.ReferenceRiseNmm), "the rise at the middle side preload is on the sheet")
		assert.InDelta(t, f.Sheet.SidePreload.Mid(), c.g.ReferenceRiseMM, 1e-12)
	}
}

// The reference preload is the one that the sheet's drag goes with.
func TestReferencePreload(t *testing.T) {
	for _, f := range family.Shelf() {
		n := f.ReferencePreloadN()
		const sameNmm = 1e-3
		film := f.Film(false)
		assert.InDelta(t, f.Sheet.PinionTorqueNew.Mid(), f.Model.Inner.RunningTorqueNmm(n, film)+f.Model.Outer.RunningTorqueNmm(n, film), sameNmm, f.Code)
	}
	lost := family.Beech()
	lost.Sheet.PinionTorqueNew = family.TorqueSpec{LowNmm: 9e8, HighNmm: 9.1e8}
	assert.Zero(t, lost.ReferencePreloadN())
}

func TestGainsSayWhatIsWrong(t *testing.T) {
	f := family.Beech()
	f.Model.Gears.PinionTeeth = 0
	_, err := sim.NominalGains(f, false)
	assert.ErrorContains(t, err, "BEECH")
	f = family.Beech()
	f.Model.Inner.Rollers = 0
	_, err = sim.NominalGains(f, false)
	assert.ErrorContains(t, err, "BEECH")
	f = family.Beech()
	f.Sheet.PinionTorqueNew = family.TorqueSpec{LowNmm: 9e8, HighNmm: 9.1e8}
	_, err = sim.NominalGains(f, false)
	assert.ErrorContains(t, err, "do not bring the rotating torque")
}

// Every spread has its low end first, and every axle that can be drawn from the
// corners of the spreads can be built: a spacer that crushes without a snap, gears
// that mesh.
func TestSpreadsCanBeBuilt(t *testing.T) {
	for _, f := range []family.Family{family.Beech()} {
		m := f.Model
		for what, r := range map[string]family.Range{"used friction": m.UsedFriction, "new friction": m.NewFriction, "breakaway": m.Breakaway,
			"thread friction": m.ThreadFriction, "prevailing": m.PrevailingLbFt, "house": m.HouseNPerMM, "nut": m.NutNPerMM, "pedestal": m.PedestalNPerMM,
			"spacer": m.SpacerNPerMM, "yield": m.SpacerYieldN, "peak": m.SpacerPeakPart, "decay": m.SpacerPeakDecayMM,
			"end play": m.EndPlayAtContactMM, "cup hold": m.CupHoldN, "seal": m.SealNmm} {
			assert.Positive(t, r.Low, "%s %s", f.Code, what)
			assert.Less(t, r.Low, r.High, "%s %s", f.Code, what)
		}
		assert.Less(t, m.UsedFriction.High, m.NewFriction.Low, "%s: used bearings are run in", f.Code)
		assert.InDelta(t, f.Sheet.SealDrag.LowNmm, m.SealNmm.Low, 1e-9, "%s: the sheet's seal is the seal", f.Code)
		assert.InDelta(t, f.Sheet.SealDrag.HighNmm, m.SealNmm.High, 1e-9, f.Code)
		assert.Less(t, m.MeshEfficiency, 1.0, f.Code)

		_, err := mesh.NewSet(m.Gears, m.EaseOff, m.EaseOff, f.Sheet.Backlash.Mid())
		assert.NoError(t, err, f.Code)
		for _, b := range []bearing.Tapered{m.Inner, m.Outer, m.Side} {
			assert.NoError(t, b.Validate(), f.Code)
		}
		ends := func(r family.Range) []float64 { return []float64{r.Low, r.High} }
		for _, nut := range ends(m.NutNPerMM) {
			for _, k := range ends(m.SpacerNPerMM) {
				for _, yield := range ends(m.SpacerYieldN) {
					for _, peak := range ends(m.SpacerPeakPart) {
						for _, decay := range ends(m.SpacerPeakDecayMM) {
							for _, hard := range ends(m.SpacerHardening) {
								_, err := pinion.New(pinion.Params{Inner: m.Inner, Outer: m.Outer, HouseStiffnessNPerMM: m.HouseNPerMM.Low, NutStiffnessNPerMM: nut,
									Thread: m.Thread(m.ThreadFriction.Low, m.ThreadFriction.High, 0),
									Spacer: &pinion.Spacer{StiffnessNPerMM: k, YieldN: yield, PeakN: yield * peak, PeakDecayMM: decay,
										HardeningNPerMM: hard, UsableCrushMM: m.SpacerUsableMM},
									EndPlayAtContactMM: m.EndPlayAtContactMM.Low})
								assert.NoError(t, err, f.Code)
							}
						}
					}
				}
			}
		}
	}
}

// Seen from the thread: what a torque does needs the friction of both faces.
func TestThread(t *testing.T) {
	m := family.Beech().Model
	th := m.Thread(0.12, 0.14, 20_000)
	assert.Equal(t, pinion.Thread{PitchMM: m.ThreadPitchMM, PitchDiameterMM: m.ThreadDiameterMM, FaceDiameterMM: m.FaceDiameterMM,
		ThreadFriction: 0.12, FaceFriction: 0.14, PrevailingNmm: 20_000}, th)
}
