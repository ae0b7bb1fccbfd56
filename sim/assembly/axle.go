package assembly

import (
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/truth"
)

// An Axle is a family with the hidden state of one axle of it. The hidden state may be
// changed between calls: what is mended is no longer there.
type Axle struct {
	truth.Axle
	Fam   family.Family
	WarmK float64 // everything warmer than the shop by this

	referenceN float64
}

// New returns the axle of a family with a hidden state.
func New(fam family.Family, hidden truth.Axle) *Axle {
	return &Axle{Axle: hidden, Fam: fam, referenceN: fam.ReferencePreloadN()}
}

// Nominal returns the hidden state in the middle of every spread of the family, without
// a fault, its depth shim and side shims right at zero thickness: a demonstrator counts
// from the right place.
func Nominal(fam family.Family) truth.Axle {
	m := fam.Model
	p := fam.Params()
	x := truth.Axle{
		Family: fam.Code, Drive: m.EaseOff, Coast: m.EaseOff, DesignLashMM: fam.Sheet.Backlash.Mid(), CheckingDistanceMM: fam.Sheet.CheckingDistanceMM,
		NextDrive: m.EaseOff, NextCoast: m.EaseOff,
		InnerCupHoldN: p.InnerCupHoldN, OuterCupHoldN: p.OuterCupHoldN,
		RingGearPedestalNPerMM: m.PedestalNPerMM.Mid(), OppositePedestalNPerMM: m.PedestalNPerMM.Mid(),
		HouseNPerMM: p.HouseStiffnessNPerMM, NutNPerMM: p.NutStiffnessNPerMM,
		EndPlayAtContactMM: p.EndPlayAtContactMM, ThreadFriction: m.ThreadFriction.Mid(), FaceFriction: m.ThreadFriction.Mid(),
		PrevailingNmm: p.Thread.PrevailingNmm, ZeroPlayPreloadShimMM: p.ZeroPlayPreloadShimMM, SolidNPerMM: p.SolidStiffnessNPerMM,
		BoundaryFriction: m.NewFriction.Mid(), BreakawayFactor: m.Breakaway.Mid(), NewSealDragNmm: m.SealNmm.Mid(), SealDragNmm: m.SealNmm.Mid(),
	}
	if s := p.Spacer; s != nil {
		x.Spacers = []truth.Spacer{{StiffnessNPerMM: s.StiffnessNPerMM, YieldN: s.YieldN, PeakN: s.PeakN, PeakDecayMM: s.PeakDecayMM,
			HardeningNPerMM: s.HardeningNPerMM, UsableCrushMM: s.UsableCrushMM}}
	}
	return x
}

// ReferencePreloadN returns the preload at which the pinion's place is defined, newtons.
func (a *Axle) ReferencePreloadN() float64 { return a.referenceN }

// A Pinion says what a pinion is built in with. Sizes are as the parts really measure.
type Pinion struct {
	MockUp        bool    // set-up bearing, nothing between the cones, an old nut
	DepthShimMM   float64 // dirt not counted
	PreloadShimMM float64 // solid spacer only
	Spacer        int     // which of the axle's spacers; past the last the last again
}

// SpacerAt returns the axle's spacer with a number; ok is false where it has none.
func (a *Axle) SpacerAt(n int) (s truth.Spacer, ok bool) {
	if len(a.Spacers) == 0 {
		return truth.Spacer{}, false
	}
	return a.Spacers[min(n, len(a.Spacers)-1)], true
}

// Params returns the pinion assembly with the nut at first contact.
func (a *Axle) Params(b Pinion) pinion.Params {
	m := a.Fam.Model
	p := pinion.Params{
		Inner: m.Inner, Outer: m.Outer, HouseStiffnessNPerMM: a.HouseNPerMM, NutStiffnessNPerMM: a.NutNPerMM,
		Thread:             m.Thread(a.ThreadFriction, a.FaceFriction, a.PrevailingNmm),
		EndPlayAtContactMM: -a.InnerCupGapMM - a.OuterCupGapMM + a.PinionPlayByHeatMM(),
		InnerGapMM:         a.InnerCupGapMM, OuterGapMM: a.OuterCupGapMM,
		InnerCupHoldN: a.InnerCupHoldN, OuterCupHoldN: a.OuterCupHoldN,
		UnseatedRollersMM: m.UnseatedRollersMM,
	}
	if a.NutGripGone {
		p.Thread.PrevailingNmm = 0
	}
	cupShim := 0.0 // how much further apart the cups stand than with the right shim
	if a.Fam.Design.DepthShim == family.BehindInnerCup {
		cupShim = b.DepthShimMM + a.ShimDirtMM - a.SlingerOutMM - a.IdealShimMM
	}
	switch {
	case b.MockUp:
		// The set-up pack has its own end play and an old nut without grip.
		p.EndPlayAtContactMM += mockUpPlayMM
		p.Thread.PrevailingNmm = 0
	case a.Fam.Design.Preload == family.SolidSpacer:
		p.SolidStiffnessNPerMM = a.SolidNPerMM
		p.PreloadShimMM, p.ZeroPlayPreloadShimMM = b.PreloadShimMM, a.ZeroPlayPreloadShimMM
		p.EndPlayAtContactMM -= cupShim
	default:
		p.EndPlayAtContactMM += a.EndPlayAtContactMM - cupShim
		if sp, ok := a.SpacerAt(b.Spacer); ok {
			p.Spacer = &pinion.Spacer{StiffnessNPerMM: sp.StiffnessNPerMM, YieldN: sp.YieldN, PeakN: sp.PeakN,
				PeakDecayMM: sp.PeakDecayMM, HardeningNPerMM: sp.HardeningNPerMM, UsableCrushMM: sp.UsableCrushMM, SetMM: sp.AlreadyCrushedMM}
			shorten(p.Spacer, sp.ShorterMM)
		}
	}
	return p
}

// shorten turns a spacer into one that was made shorter, mm. Counted from where the full
// length touches it starts as one with that set does; but what has been lost is length, no
// crush, so that the curve of its crush load begins there.
func shorten(s *pinion.Spacer, mm float64) {
	if mm == 0 {
		return
	}
	peak := (s.PeakN - s.YieldN) * math.Exp(mm/s.PeakDecayMM)
	s.YieldN -= s.HardeningNPerMM * mm
	s.PeakN = s.YieldN + peak
	s.UsableCrushMM += mm
	s.SetMM += mm
}

// trialPlayMM is the end play of a trial build before its nut is nipped, mm.
const mockUpPlayMM = 0.6

// PinionOutMM returns how far the pinion stands out of its place, mm: by its shim, by a
// head cup that is not home, and by what the head bearing gives under the preload of the
// build. In a trial build the set-up bearing's height counts too. Loose parts lie where
// their preload of nothing puts them; end play is the caller's to add.
func (a *Axle) PinionOutMM(build *pinion.Build, b Pinion) float64 {
	head := a.Fam.Model.Inner
	out := a.byShimMM(b.DepthShimMM) - build.InnerGapMM() + a.PinionOutByHeatMM()
	out += head.DeflectionMM(build.Forces().PreloadN) - head.DeflectionMM(a.referenceN)
	if b.MockUp {
		out -= a.SetUpTallMM
	}
	return out
}

// byShimMM is how far out of its place a depth shim alone leaves the pinion, mm.
func (a *Axle) byShimMM(shimMM float64) float64 {
	shims := shimMM + a.ShimDirtMM - a.SlingerOutMM
	if a.Fam.Design.ThickerIsDeeper() {
		return a.IdealShimMM - shims
	}
	return shims - a.IdealShimMM
}

// ShimErrorMM returns how far out of its place the pinion will stand on a depth shim, mm,
// in a finished build with its bearings as they now stand.
func (a *Axle) ShimErrorMM(shimMM float64) float64 { return a.byShimMM(shimMM) - a.InnerCupGapMM }

// A Sides is how the case stands between its side bearings.
type Sides struct {
	RingGearMM, OppositeMM float64 // shims as they measure, or how far the rings are screwed in
	CapsTight              bool
}

// FitMM returns the interference that each side contributes, mm.
func (a *Axle) FitMM(s Sides) (back, tooth float64) {
	wider := (a.HousingGrowthMM + a.SideGrowthByHeatMM()) / 2
	return s.RingGearMM + a.RingGearConeGapMM - a.RingGearZeroMM - wider, s.OppositeMM + a.OppositeConeGapMM - a.OppositeZeroMM - wider
}

// Case returns what the side bearings carry and where they hold the case. Errors: those
// of carrier.Solve.
func (a *Axle) Case(s Sides) (carrier.State, error) {
	back, tooth := a.FitMM(s)
	return carrier.Solve(a.carrierParams(s.CapsTight), back, tooth)
}

func (a *Axle) carrierParams(tight bool) carrier.Params {
	return carrier.Params{Back: a.Fam.Model.Side, Tooth: a.Fam.Model.Side, RingGearPedestalNPerMM: a.RingGearPedestalNPerMM,
		OppositePedestalNPerMM: a.OppositePedestalNPerMM, CapsTight: tight}
}

// SnugCapsMM is how far caps that are not torqued let the case wander from one reading to the
// next, mm either way (common practice, no source).
const SnugCapsMM = 0.02

// WanderMM returns how far, either way, the ring gear may lie from where it belongs from
// one reading to the next, mm: with its case in squeezed cups or snug caps, or on its case.
func (a *Axle) WanderMM(tight bool) float64 {
	mm := a.GearLooseMM + a.Sum().CaseWanderMM
	if !tight {
		mm = math.Max(mm, a.GearLooseMM+SnugCapsMM)
	}
	return mm
}

// waves lists the runouts that go once round: total reading (mm) and phase (radians).
func (a *Axle) waves() [4][2]float64 {
	return [4][2]float64{{a.GearDirtTIRMM, a.DirtPhaseRad}, {a.FlangeTIRMM, a.FlangePhaseRad}, {a.GearTIRMM, a.GearPhaseRad}, {a.BoltsTIRMM, a.BoltsPhaseRad}}
}

// WobbleMM returns how far the ring gear stands away from the pinion at an angle
// (radians), about its mean over a turn, mm.
func (a *Axle) WobbleMM(angleRad float64) float64 {
	y := 0.0
	for _, w := range a.waves() {
		y += w[0] / 2 * math.Cos(angleRad-w[1])
	}
	if a.WarpTIRMM != 0 {
		y += a.WarpTIRMM / 2 * math.Cos(float64(a.WarpWaves)*angleRad-a.WarpPhaseRad)
	}
	return y
}

// RunoutMM returns the swing of the ring gear's back face over a turn, mm.
func (a *Axle) RunoutMM() float64 {
	if a.WarpTIRMM == 0 {
		var re, im float64
		for _, w := range a.waves() {
			re += w[0] * math.Cos(w[1])
			im += w[0] * math.Sin(w[1])
		}
		return math.Hypot(re, im)
	}
	const places = 360
	low, high := math.Inf(1), math.Inf(-1)
	for k := range places {
		y := a.WobbleMM(2 * math.Pi * float64(k) / places)
		low, high = math.Min(low, y), math.Max(high, y)
	}
	return high - low
}

// RimMM returns the swing of the ring gear's rim over a turn, mm.
func (a *Axle) RadialMM() float64 { return a.RadialTIRMM }

// SwingMM returns how the place of the ring gear against the pinion swings about its mean
// at a ring gear angle (radians), mm: away from the pinion, along the pinion's axis (as a
// pinion further out), and across both. A tilted gear swings its teeth away and back; one
// that is off centre carries its teeth along the pinion and across it; a bent pinion carries
// its head round in a circle, the ratio as often as the ring gear turns.
func (a *Axle) SwingMM(angleRad float64) (away, out, across float64) {
	away = a.WobbleMM(angleRad)
	out = a.RadialTIRMM / 2 * math.Cos(angleRad-a.RadialPhaseRad)
	across = a.RadialTIRMM / 2 * math.Sin(angleRad-a.RadialPhaseRad)
	turned := angleRad*a.Fam.Sheet.Ratio() - a.PinionPhaseRad
	away += a.PinionTIRMM / 2 * math.Cos(turned)
	across += a.PinionTIRMM / 2 * math.Sin(turned)
	return away, out, across
}

// BareFlangeMM returns the swing of the case flange without its gear, mm.
func (a *Axle) BareFlangeMM() float64 { return a.FlangeTIRMM }

// Place returns where pinion and ring gear stand at a ring gear angle (radians), for a
// pinion that stands pinionOutMM out and has pinionPlayMM of end play. pushed, 0 to 1,
// says where within all play the parts lie: at 0 the pinion is furthest in and the case
// furthest back, at 1 the pinion is furthest out and the case nearest to it. awayMM is
// added to the ring gear's place.
func (a *Axle) Place(pinionOutMM, pinionPlayMM float64, st carrier.State, tight bool, angleRad, pushed, awayMM float64) mesh.Position {
	away := -st.ShiftToPinionMM - pushed*st.EndPlayMM + awayMM
	away += (2*pushed - 1) * a.WanderMM(tight)
	swing, out, across := a.SwingMM(angleRad)
	return mesh.Position{PinionOutMM: pinionOutMM + (pushed-0.5)*pinionPlayMM + (2*pushed-1)*a.Sum().PinionWanderMM + out, RingAwayMM: away + swing + a.GearShortMM,
		OffsetMM: a.OffsetErrMM + across, ShaftAngleRad: a.ShaftErrRad}
}

// Film returns what is between the rollers of the pinion bearings.
func (a *Axle) Film() bearing.Film {
	f := a.Fam.Model.Film
	f.BoundaryFriction = a.BoundaryFriction
	return f
}

// A Torque is what a turning pinion takes, newton millimetres: the mean over a turn and
// how far it swings from low to high.
type Torque struct{ MeanNmm, SwingNmm float64 }

func (t Torque) plus(o Torque) Torque {
	return Torque{t.MeanNmm + o.MeanNmm, t.SwingNmm + o.SwingNmm}
}

// BearingTorque returns what the pinion bearings alone take to keep turning.
func (a *Axle) BearingTorque(build *pinion.Build) Torque {
	t := Torque{MeanNmm: build.RunningTorqueNmm(a.Film())}
	if rough := a.NotchNmm + a.GritNmm + a.Sum().PinionSwingNmm; rough > 0 && build.Forces().PreloadN > 0 {
		t = t.plus(Torque{rough / 2, rough})
	}
	return t
}

// BreakawayTorque returns what it takes to break the pinion loose, bearings alone, N·mm. In
// used bearings most of the running torque is rolling, which the starting formula leaves
// out; to start is never easier than to keep going.
func (a *Axle) BreakawayTorque(build *pinion.Build) Torque {
	t := a.BearingTorque(build)
	t.MeanNmm = math.Max(t.MeanNmm, build.StartingTorqueNmm(a.BoundaryFriction)) * a.BreakawayFactor
	return t
}

// GreaseDragNmm is what packing grease adds to the rotating torque of the pinion
// pair, N·mm (shop experience puts it between 500 and 1100).
const GreaseDragNmm = 800

// SideTorque returns what the side bearings, squeezed or damaged cups and dragging brakes add
// at the pinion under a side force (N). A cup stands still: what squeezes it is felt the same
// all around.
func (a *Axle) SideTorque(forceN float64) Torque {
	ratio, eta := a.Fam.Sheet.Ratio(), a.Fam.Model.MeshEfficiency
	film := a.Film()
	film.SpeedRPM /= ratio
	atCase := a.carrierParams(true).TorqueNmm(forceN, film) + a.BrakeNmm + a.Sum().CaseNmm
	return Torque{MeanNmm: carrier.AtPinionNmm(atCase, ratio, eta)}
}
