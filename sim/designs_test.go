package sim_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// nominalOf is the axle in the middle of a family's spreads, its right shims on the
// family's own shelves: depth shim and side shims in the middle of their drawers.
func nominalOf(fam family.Family) truth.Axle {
	x := assembly.Nominal(fam)
	sh := fam.Sheet
	x.IdealShimMM = sh.DepthShims.Nearest((sh.DepthShims.LowMM + sh.DepthShims.HighMM) / 2)
	if fam.Design.SideAdjust == family.BearingAdjusters {
		x.RingPlayMM, x.RingAwayMM = 0.05, 0.30
		return x
	}
	side := sh.SideShims.Nearest((sh.SideShims.LowMM + sh.SideShims.HighMM) / 2)
	x.RingGearZeroMM, x.OppositeZeroMM = side, side
	return x
}

func standOf(t testing.TB, fam family.Family, x truth.Axle) *sim.Stand {
	t.Helper()
	s, err := sim.New(fam, truth.Seal(x, truth.Finish{}), 1)
	require.NoError(t, err, fam.Code)
	return s
}

func shipped(t testing.TB, code string) family.Family {
	t.Helper()
	f, err := family.Shipped(code)
	require.NoError(t, err)
	return f
}

func size(mm float64) string { return quantity.Entered{Number: mm, Unit: quantity.UnitMM}.String() }

// rightPack is the pack on the shelf nearest to the one for the middle of the window.
func rightPreloadShims(t testing.TB, fam family.Family) float64 {
	t.Helper()
	g, err := sim.NominalGains(fam, false)
	require.NoError(t, err)
	return fam.Design.Solid.PreloadShims.Nearest(g.PreloadShimsAtTargetMM)
}

// fitPinion builds the pinion in on a depth shim; a solid spacer gets a pack and its nut
// its torque, a collapsible one is crushed until the drag is inside its window.
func fitPinion(t testing.TB, s *sim.Stand, shimMM, preloadShimMM float64) {
	t.Helper()
	fam := s.Family()
	do(t, s, "fit depth-shim "+size(shimMM))
	if fam.Design.Preload == family.SolidSpacer {
		nut := quantity.Entered{Number: fam.Sheet.NutMid().Nmm() / 1000, Unit: quantity.UnitNm}
		do(t, s, "fit preload-shims "+size(preloadShimMM), "fit pinion final", "turn pinion 30", "tighten nut to "+nut.String())
		return
	}
	do(t, s, "fit pinion final", "turn pinion 30")
	for range 400 {
		if f := finish(s); f.PinionTorqueNmm-f.SealNmm > fam.Sheet.PinionTorqueNew.Mid() {
			return
		}
		do(t, s, "tighten nut 1deg")
	}
	require.Fail(t, "the drag never came", fam.Code)
}

// caseFits puts the case in with the side bearings pressed in the middle of the window.
func caseFits(t testing.TB, s *sim.Stand, x truth.Axle) {
	t.Helper()
	fam := s.Family()
	fit := fam.Sheet.SidePreload.Mid()
	if fam.Design.SideAdjust == family.BearingAdjusters {
		travel := fam.Design.Rings.NotchTravelMM()
		half := func(mm float64) string {
			n := float64(int(2*mm/travel+0.5)) / 2
			return quantity.Entered{Number: n, Unit: quantity.UnitTurn}.String()
		}
		do(t, s, "fit case", "turn opposite-adjuster out "+half(x.RingAwayMM-x.RingPlayMM-fit/2), "turn ring-gear-adjuster in "+half(x.RingAwayMM+fit/2))
	} else {
		stock := fam.Sheet.SideShims
		do(t, s, "fit side-shims ring-gear "+size(stock.Nearest(x.RingGearZeroMM+fit/2))+" opposite "+size(stock.Nearest(x.OppositeZeroMM+fit/2)))
		if fam.Design.Entry == family.Spreader {
			do(t, s, "spread housing "+size(fam.Sheet.SpreadLimitMM))
		}
		do(t, s, "fit case")
	}
	do(t, s, "torque caps")
}

// Every family can be built on the bench, and the axle in the middle of its spreads,
// built as its sheet asks, is what the sheet asks for.
func TestEveryFamilyComesTogether(t *testing.T) {
	for _, fam := range family.Shelf() {
		x := nominalOf(fam)
		s := standOf(t, fam, x)
		shims := 0.0
		if fam.Design.Preload == family.SolidSpacer {
			shims = rightPreloadShims(t, fam)
		}
		fitPinion(t, s, x.IdealShimMM, shims)
		caseFits(t, s, x)
		f := finish(s)
		const scatterMM = 0.02 // shims off their marks, parts that go back a little differently
		assert.InDelta(t, 0, f.DepthErrorMM, scatterMM, fam.Code)
		torque := f.PinionTorqueNmm - f.SealNmm
		w := fam.Sheet.PinionTorqueNew
		assert.True(t, w.Holds(torque), "%s: drag %.0f in %v", fam.Code, torque, w)
		// The sides come only to the nearest shim or half slot.
		step := max(fam.Sheet.SideShims.StepMM, fam.Design.Rings.NotchTravelMM())
		assert.InDelta(t, fam.Sheet.SidePreload.Mid(), f.SideFitMM, step, fam.Code)
		assert.InDelta(t, fam.Sheet.Backlash.Mid(), f.BacklashMeanMM, 0.85*step+scatterMM, fam.Code)
		do(t, s, "paint teeth thin")
		p := reading(t, do(t, s, "roll gears braked"), gauge.Pattern).Patterns
		require.Len(t, p, 2)
		assert.Equal(t, []string{"drive", "coast"}, []string{p[0].Flank, p[1].Flank})
		for _, print := range p {
			assert.InDelta(t, fam.Sheet.PatternHeight.Mid(), print.CenterT, 0.1, "%s %s", fam.Code, print.Flank)
		}
		do(t, s, "sign off")
	}
}

// Which way a depth shim moves the pinion: in with a thicker one under the cone or
// behind the cup, out under a cage (TM 5-3895-369-14, table 5-4; TM 9-2320-280-34, table
// 9-1).
func TestThickerShimMovesThePinion(t *testing.T) {
	for _, fam := range family.Shelf() {
		x := nominalOf(fam)
		stock := fam.Sheet.DepthShims
		depth := func(mm float64) float64 {
			s := standOf(t, fam, x)
			do(t, s, "fit depth-shim "+size(mm), "fit pinion mock-up")
			return finish(s).DepthErrorMM
		}
		thin, thick := stock.Nearest(x.IdealShimMM-2*stock.StepMM), stock.Nearest(x.IdealShimMM+2*stock.StepMM)
		moved := depth(thick) - depth(thin)
		want := thin - thick
		if fam.Design.DepthShim == family.UnderCageFlange {
			want = thick - thin
		}
		const scatterMM = 0.02
		assert.InDelta(t, want, moved, scatterMM, fam.Code)
	}
}

// Only a depth shim behind the cup moves the preload, and by as much as the pack would:
// what is added behind the cup must be added to the pack (common practice, no source;
// geometry: both move the bearings apart by their thickness).
func TestCupShimTakesThePreloadShimsAlong(t *testing.T) {
	for _, fam := range family.Shelf() {
		if fam.Design.Preload != family.SolidSpacer {
			continue
		}
		x := nominalOf(fam)
		shims := rightPreloadShims(t, fam)
		preload := func(shim, shims float64) float64 {
			s := standOf(t, fam, x)
			fitPinion(t, s, shim, shims)
			return finish(s).PinionPreloadN
		}
		right := preload(x.IdealShimMM, shims)
		const scatter = 0.25 // three shims of the bench are a few micrometres off their marks
		step := fam.Sheet.DepthShims.StepMM
		for step < 0.02 {
			step *= 2
		}
		thicker := preload(x.IdealShimMM+step, shims)
		if fam.Design.DepthShim != family.BehindInnerCup {
			assert.InEpsilon(t, right, thicker, scatter, fam.Code)
			continue
		}
		assert.Greater(t, thicker, 1.3*right, fam.Code)
		with := preload(x.IdealShimMM+step, fam.Design.Solid.PreloadShims.Nearest(shims+step))
		assert.InEpsilon(t, right, with, scatter, fam.Code)
	}
}

// A solid spacer's nut can be loosened and brought back; less pack is more preload; the
// nut beyond its torque adds little beside a shim.
func TestSolidSpacer(t *testing.T) {
	fam := shipped(t, "HAZEL")
	x := nominalOf(fam)
	shims := rightPreloadShims(t, fam)
	s := standOf(t, fam, x)
	fitPinion(t, s, x.IdealShimMM, shims)
	before := finish(s)
	do(t, s, "loosen nut 60deg")
	assert.True(t, finish(s).BackedOff)
	assert.Less(t, finish(s).NutNmm, fam.Sheet.NutLow.Nmm())
	do(t, s, "tighten nut to 380Nm")
	after := finish(s)
	assert.False(t, after.BackedOff, "back at its torque it holds as before")
	assert.InEpsilon(t, before.PinionPreloadN, after.PinionPreloadN, 0.02)
	assert.Empty(t, do(t, s, "remove pinion").Parts, "nothing is scrap")

	thinner := standOf(t, fam, x)
	fitPinion(t, thinner, x.IdealShimMM, shims-fam.Design.Solid.PreloadShims.StepMM)
	shim := finish(thinner).PinionTorqueNmm - before.PinionTorqueNmm
	assert.Positive(t, shim)
	tighter := standOf(t, fam, x)
	fitPinion(t, tighter, x.IdealShimMM, shims)
	do(t, tighter, "tighten nut to 420Nm")
	nut := finish(tighter).PinionTorqueNmm - before.PinionTorqueNmm
	assert.Positive(t, nut)
	assert.Less(t, nut, shim)

	// End play with a thick pack is read on a dial.
	loose := standOf(t, fam, x)
	fitPinion(t, loose, x.IdealShimMM, shims+0.127)
	play := finish(loose).PinionEndPlayMM
	assert.Positive(t, play)
	assert.InDelta(t, play, mean(t, loose, plenty, "measure pinion-end-play", gauge.PinionEndPlay, mm), wide*std(gauge.DialIndicator))
}

// A shim under a cage is changed with the pinion in it, and leaves preload and side
// bearings alone.
func TestCageShimLeavesThePreload(t *testing.T) {
	fam := shipped(t, "JUNIPER")
	x := nominalOf(fam)
	s := standOf(t, fam, x)
	fitPinion(t, s, x.IdealShimMM, 0)
	caseFits(t, s, x)
	before := finish(s)
	do(t, s, "fit depth-shim "+size(x.IdealShimMM+2*fam.Sheet.DepthShims.StepMM))
	after := finish(s)
	assert.InDelta(t, before.PinionTorqueNmm, after.PinionTorqueNmm, 1e-6)
	assert.InDelta(t, before.SidePreloadN, after.SidePreloadN, 1e-6)
	assert.InDelta(t, 2*fam.Sheet.DepthShims.StepMM, after.DepthErrorMM-before.DepthErrorMM, 0.02, "thicker is shallower")
	assert.Greater(t, after.BacklashMeanMM, before.BacklashMeanMM, "further out, more backlash")
}

// Rings: in at the back brings the ring gear closer, in on both sides presses the
// bearings, one out and the other in leaves the preload (TM 9-2320-266-34, para 19-5, ring
// rules; TM 5-3805-261-34 p. 14-99, the housing grows).
func TestBearingAdjusters(t *testing.T) {
	for _, code := range []string{"DOGWOOD", "ELM", "GORSE", "IRONBARK", "JUNIPER"} {
		fam := shipped(t, code)
		x := nominalOf(fam)
		s := standOf(t, fam, x)
		shims := 0.0
		if fam.Design.Preload == family.SolidSpacer {
			shims = rightPreloadShims(t, fam)
		}
		fitPinion(t, s, x.IdealShimMM, shims)
		do(t, s, "fit case")
		run := finish(s)
		assert.InDelta(t, -x.RingPlayMM, run.SideFitMM, 1e-9, "%s: run up by hand there is a little play", code)
		assert.Greater(t, run.BacklashMeanMM, fam.Sheet.Backlash.HighMM, code)
		travel := fam.Design.Rings.NotchTravelMM()
		do(t, s, "turn ring-gear-adjuster in 2", "turn opposite-adjuster in 1")
		pressed := finish(s)
		assert.InDelta(t, 3*travel-x.RingPlayMM, pressed.SideFitMM, 1e-9, code)
		assert.Positive(t, pressed.SidePreloadN, code)
		assert.Less(t, pressed.BacklashMeanMM, run.BacklashMeanMM, code)
		do(t, s, "torque caps")
		grown := finish(s)
		assert.Greater(t, grown.SidePreloadN, pressed.SidePreloadN, "%s: torqued caps stiffen the housing", code)
		assert.Positive(t, mean(t, s, plenty, "measure spread", gauge.HousingSpread, mm), code)
		var no *history.Refusal
		_, err := s.Do(parse(t, "turn ring-gear-adjuster in 1"))
		require.ErrorAs(t, err, &no, "%s: torqued caps grip the rings", code)
		do(t, s, "loosen caps", "turn opposite-adjuster out 1", "turn ring-gear-adjuster in 1", "torque caps")
		across := finish(s)
		assert.InEpsilon(t, grown.SidePreloadN, across.SidePreloadN, 1e-9, "%s: one out, one in", code)
		assert.Less(t, across.BacklashMeanMM, grown.BacklashMeanMM, code)
		st := s.Status()
		assert.InDelta(t, 3, st.RingGearNotches, 1e-12)
		assert.Zero(t, st.OppositeNotches)

		// Far in, the ring stops before the housing is hurt.
		do(t, s, "loosen caps")
		out := do(t, s, "turn opposite-adjuster in 40")
		assert.Less(t, reading(t, out, gauge.AdjusterTurn).Notches, 40.0, code)
		assert.LessOrEqual(t, finish(s).SideFitMM, fam.Sheet.SpreadLimitMM+1e-9, code)
	}
}

// Rings are run up to wherever the cones stand: a cone off its shoulder changes nothing
// then, and lets go of its gap when it is pressed home.
func TestRingsAreRunUpToTheCones(t *testing.T) {
	fam := shipped(t, "JUNIPER")
	x := nominalOf(fam)
	const gap = 0.12
	x.RingGearConeGapMM = gap
	s := standOf(t, fam, x)
	fitPinion(t, s, x.IdealShimMM, 0)
	do(t, s, "fit case")
	assert.InDelta(t, -x.RingPlayMM, finish(s).SideFitMM, 1e-9)
	before := finish(s).RingAwayMM
	do(t, s, "remove case", "seat cones", "fit case")
	assert.InDelta(t, -x.RingPlayMM-gap, finish(s).SideFitMM, 1e-9)
	// The case lies in the middle of its play: half the gap further back.
	assert.InDelta(t, gap/2, finish(s).RingAwayMM-before, 0.01)
}

// A housing spread inside its limit comes back; past it it does not, and the side
// bearings lose what it grew.
func TestSpreader(t *testing.T) {
	fam := shipped(t, "FIR")
	x := nominalOf(fam)
	limit := fam.Sheet.SpreadLimitMM
	fitAfter := func(spreadMM float64) float64 {
		s := standOf(t, fam, x)
		fitPinion(t, s, x.IdealShimMM, rightPreloadShims(t, fam))
		do(t, s, "fit side-shims ring-gear "+size(x.RingGearZeroMM+0.1)+" opposite "+size(x.OppositeZeroMM+0.1))
		if spreadMM == 0 {
			assert.True(t, reading(t, do(t, s, "fit case"), gauge.CaseEntry).Wrong(), "without a spreader the case does not go in")
			return 0
		}
		do(t, s, "spread housing "+size(spreadMM), "fit case")
		assert.True(t, s.Status().CaseIn)
		assert.Zero(t, s.Status().Spread, "the spreader is off again")
		return finish(s).SideFitMM
	}
	fitAfter(0)
	inside := fitAfter(limit)
	assert.InDelta(t, inside, fitAfter(0.9*limit), 1e-9)
	assert.InDelta(t, inside-0.3*0.4*limit, fitAfter(1.4*limit), 1e-9)
	s := standOf(t, fam, x)
	_, err := s.Do(parse(t, "spread housing "+size(2*limit)))
	assert.ErrorContains(t, err, "not.spread-too-far")
}

// In axles whose gears run on the other flank the print is named by use: the flank that
// drives is the ring gear's concave one, which is the gear model's coast flank.
func TestConcaveDriveFlank(t *testing.T) {
	cedar := shipped(t, "CEDAR").Design
	assert.Equal(t, [2]mesh.Flank{mesh.Coast, mesh.Drive}, cedar.Flanks())
	assert.Equal(t, "drive", cedar.FlankName(mesh.Coast))
	assert.Equal(t, "coast", cedar.FlankName(mesh.Drive))
	beech := family.Beech().Design
	assert.Equal(t, "drive", beech.FlankName(mesh.Drive))
	assert.Equal(t, "coast", beech.FlankName(mesh.Coast))
}

// What an axle of a design has no use for is refused with what it has instead, and every
// act has a design that takes it.
func TestActsBelongToDesigns(t *testing.T) {
	taken := map[act.Form]bool{}
	for _, fam := range family.Shelf() {
		s := standOf(t, fam, nominalOf(fam))
		for _, u := range act.Usages() {
			why := sim.NotOnThisAxle(fam.Design, u.Form)
			if why.IsZero() {
				taken[u.Form] = true
				continue
			}
			no := s.WhyNot(u.Form)
			assert.Equal(t, history.NotOnThisAxle, no.Bar, "%s %s", fam.Code, u.Line)
			assert.Equal(t, why, no.Why, "%s %s", fam.Code, u.Line)
		}
	}
	for _, u := range act.Usages() {
		assert.True(t, taken[u.Form], u.Line)
	}
}
