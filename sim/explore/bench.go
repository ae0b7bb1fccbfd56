package explore

import (
	"math"

	"shimwright/sim/assembly"
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/pinion"
	"shimwright/sim/rng"
	"shimwright/sim/text"
)

// A PinionState is the true state of the pinion in its housing.
type PinionState struct {
	PinionOutMM            float64 // true depth error, inner bearing and its cup counted
	InnerGiveMM            float64 // what the inner bearing gives more (less) than at the reference preload
	NutDeg                 float64 // from finger tight
	NutTorqueNmm           float64 // to turn the nut further
	StemN                  float64 // pull in the pinion stem
	SpacerN                float64 // on the spacer
	PreloadN               float64 // on the bearings
	PreloadShimMM          float64 // solid spacer: shims between the cones
	SpacerSetMM            float64 // crush that stays
	Bottomed               bool    // the spacer is past its usable crush
	EndPlayMM              float64
	InnerCupGapMM          float64 // still open
	OuterCupGapMM          float64
	PinionBearingTorqueNmm float64 // bearings and any grease, no seal
	PinionSwingNmm         float64 // how far that comes and goes within a turn of the pinion
	PinionTorqueNmm        float64 // with the seal
	BreakawayTorqueNmm     float64 // of the bearings and any grease, to get the pinion moving; no seal
	PairApproachMM         float64 // how much bearings and housing give under the preload
	PairStiffnessNPerMM    float64 // of bearings and housing together at that preload
}

// A SideState is the true state of the case between its side bearings.
type SideState struct {
	RingAwayMM      float64 // true place of the ring gear
	ShiftToPinionMM float64 // the part of it that the side shims make
	SidePreloadN    float64
	CaseEndPlayMM   float64
	SpreadMM        float64 // how much further apart the bearing seats are
	SideBearingNmm  float64 // torque of the side bearings, at the pinion
	SideSwingNmm    float64 // how far that comes and goes within a turn of the ring gear
	MeshDragNmm     float64 // drag of the teeth at the pinion
	SideRiseNmm     float64 // total less pinion rotating torque: both
	TotalTorqueNmm  float64 // at the pinion, case in, seal in
}

// A Result is all there is to know of the axle at one setting.
type Result struct {
	Settings Settings
	Gears    GearState
	Pinion   PinionState
	Sides    SideState
	Shown    Shown
}

// A Bench is the nominal axle of one family, ready to be set one way after another.
type Bench struct {
	fam   family.Family
	gears gears
}

// NewBench builds the nominal axle of a family. Errors: a family whose gears cannot
// mesh or whose pinion cannot be assembled.
func NewBench(fam family.Family) (*Bench, error) {
	m := fam.Model
	g, err := newGears(m.Gears, m.EaseOff, m.EaseOff, fam.Sheet.Backlash.Mid(), fam.Design.Flanks())
	if err != nil {
		return nil, ofFamily(fam, err)
	}
	if err := fam.Params().Validate(); err != nil {
		return nil, ofFamily(fam, err)
	}
	return &Bench{fam: fam, gears: g}, nil
}

// ofFamily is the error of a family of which no bench can be built.
func ofFamily(fam family.Family, err error) error {
	return text.Fail(err, text.Say("explore.family", "family {code}: {why}", text.Typed("code", fam.Code), text.Of("why", text.Reason(err))))
}

// Exactly makes the bench solve every tooth contact from here on, as GearBench.Exactly.
func (b *Bench) Exactly() error { return b.gears.exactly() }

// Show is At for a single setting, without keeping a Bench.
func Show(fam family.Family, s Settings) (Result, error) {
	b, err := NewBench(fam)
	if err != nil {
		return Result{}, err
	}
	return b.At(s)
}

// axle returns the nominal axle with what the settings put into it, at the shop's
// temperature.
func (b *Bench) axle(s Settings) *assembly.Axle {
	x := assembly.Nominal(b.fam)
	x.BoundaryFriction = b.fam.Film(s.UsedBearings).BoundaryFriction
	x.InnerCupGapMM, x.OuterCupGapMM, x.RingGearConeGapMM = s.InnerCupGapMM, s.OuterCupGapMM, s.RingGearConeGapMM
	x.OffsetErrMM, x.ShaftErrRad = s.OffsetMM, s.ShaftAngleRad
	x.ShimDirtMM, x.HousingGrowthMM, x.NutGripGone = s.ShimDirtMM, s.HousingGrowthMM, s.NutGripGone
	x.NotchNmm, x.BrakeNmm, x.SealDragNmm = s.NotchNmm, s.BrakeNmm, x.SealDragNmm+s.SealExtraNmm
	put := func(is bool, id fault.ID) {
		if f, err := fault.Find(id); is && err == nil {
			f.Apply(&x, (f.Size.Low+f.Size.High)/2, rng.Stream(0, f.Stream()))
		}
	}
	put(s.CapsSwapped, fault.CapsSwapped)
	put(s.CapRotated, fault.CapTurned)
	for i := range x.Spacers {
		x.Spacers[i].AlreadyCrushedMM = s.SpacerCrushedMM
	}
	a := assembly.New(b.fam, x)
	swings(a, s)
	return a
}

// At returns the axle at the settings. Errors: ErrSetting with what is out of range, or
// not on this axle, in plain words.
func (b *Bench) At(s Settings) (Result, error) {
	if err := s.Validate(); err != nil {
		return Result{}, err
	}
	r := Result{Settings: s}
	a := b.axle(s)
	build, err := b.setPinion(a, s, &r.Pinion)
	if err != nil {
		return Result{}, err
	}
	sides := assembly.Sides{RingGearMM: s.SideFitMM/2 + s.ShimToRingGearMM, OppositeMM: s.SideFitMM/2 - s.ShimToRingGearMM, CapsTight: !s.CapsSnug}
	st, err := a.Case(sides)
	if err != nil {
		return Result{}, refusedFor(err)
	}
	const middle = 0.5
	at := a.Place(r.Pinion.PinionOutMM, build.Forces().EndPlayMM, st, sides.CapsTight, 0, middle, s.RingAwayMM-a.WobbleMM(0))
	if r.Gears, err = b.gears.at(at, s.FilmMM, a); err != nil {
		return Result{}, err
	}
	r.Sides = sideState(st, at.RingAwayMM, a.SideTorque(st.ForceN), r.Gears.BacklashMinMM, r.Pinion.PinionTorqueNmm)
	r.Shown = b.shown(r, a.BreakawayTorque(build).MeanNmm-a.BearingTorque(build).MeanNmm)
	return r, nil
}

// Patterns returns what the compound shows on the drive and the coast flank, laid on and
// rolled as the settings say. Where the gears bind, or the film is zero, nothing is
// rubbed. Errors as At.
func (b *Bench) Patterns(s Settings) ([]gauge.ToothPattern, error) {
	r, err := b.At(s)
	if err != nil {
		return nil, err
	}
	return b.gears.toothPatterns(b.gears.under(r.Gears, s), s.filmMM()), nil
}

// sideState puts together what a case between its side bearings does, for its place,
// the torque its side bearings add at the pinion, the least backlash and the torque of the
// pinion alone.
func sideState(st carrier.State, ringAwayMM float64, side assembly.Torque, leastBacklashMM, pinionTorqueNmm float64) SideState {
	meshNmm := carrier.MeshDragNmm(leastBacklashMM)
	return SideState{
		RingAwayMM: ringAwayMM, ShiftToPinionMM: st.ShiftToPinionMM, SidePreloadN: st.ForceN,
		CaseEndPlayMM: math.Max(st.EndPlayMM, 0), SpreadMM: st.SpreadMM,
		SideBearingNmm: side.MeanNmm, SideSwingNmm: side.SwingNmm, MeshDragNmm: meshNmm,
		SideRiseNmm: side.MeanNmm + meshNmm, TotalTorqueNmm: pinionTorqueNmm + side.MeanNmm + meshNmm,
	}
}

// setPinion builds the pinion in and turns its nut. That is done cold, at the shop's
// temperature; then the axle is warmed.
func (b *Bench) setPinion(a *assembly.Axle, s Settings, out *PinionState) (*pinion.Build, error) {
	of := assembly.Pinion{PreloadShimMM: s.PreloadShimMM}
	if b.fam.Design.Preload == family.SolidSpacer {
		if s.SpacerCrushedMM > 0 {
			return nil, refused(notCrushed())
		}
		if of.PreloadShimMM == 0 {
			of.PreloadShimMM = a.ZeroPlayPreloadShimMM
		}
		if s.TorqueTargetNmm > 0 {
			if s.NutNmm == 0 {
				s.NutNmm = b.fam.Sheet.NutMid().Nmm()
			}
			target, err := s.bearingTarget()
			if err != nil {
				return nil, err
			}
			if of.PreloadShimMM, err = b.fam.PreloadShimsForTorque(a.Params(of), s.NutNmm, target, a.Film()); err != nil {
				return nil, refusedFor(err)
			}
		}
	} else if s.PreloadShimMM > 0 {
		return nil, refused(noPreloadShims())
	}
	cold := a.Params(of)
	a.WarmK = s.WarmK
	build, err := buildIn(cold, a.Params(of), s, a.Film())
	if err != nil {
		return nil, err
	}
	torque := a.BearingTorque(build)
	if s.Greased {
		torque.MeanNmm += assembly.GreaseDragNmm
	}
	*out = stateOf(build, b.fam.Model.Inner, b.fam.ReferencePreloadN())
	out.PinionOutMM = s.PinionOutMM + a.PinionOutMM(build, of)
	out.PinionBearingTorqueNmm, out.PinionSwingNmm = torque.MeanNmm, torque.SwingNmm
	out.PinionTorqueNmm = torque.MeanNmm + a.SealDragNmm
	out.BreakawayTorqueNmm = a.BreakawayTorque(build).MeanNmm + torque.MeanNmm - a.BearingTorque(build).MeanNmm
	return build, nil
}

// What is said of a spacer of the other kind.
func noPreloadShims() text.Message {
	return text.Say("explore.no-preload-shims", "this axle has no preload shims: its spacer is not solid, and the nut alone sets the preload")
}

func notCrushed() text.Message {
	return text.Say("explore.not-crushed", "this axle has no spacer that crushes")
}

// bearingTarget returns what is left of a torque target for the preload to make: grease
// and rough rollers are part of what a wrench feels.
func (s Settings) bearingTarget() (float64, error) {
	rest := s.TorqueTargetNmm - s.NotchNmm/2
	if s.Greased {
		rest -= assembly.GreaseDragNmm
	}
	if rest <= 0 {
		return 0, refused(text.Say("explore.torque-below-grease", "packing grease or rough rollers alone turn harder than the rotating torque asked for: ask for more torque, or for clean oiled bearings"))
	}
	return rest, nil
}

// buildIn builds a pinion in and turns its nut as far as the settings say, which is
// found with the cold parts; it returns the build with the parts as they then are.
func buildIn(cold, warm pinion.Params, s Settings, film bearing.Film) (*pinion.Build, error) {
	deg := s.NutDeg
	var err error
	switch {
	case s.NutNmm > 0:
		deg, err = nutForTorque(cold, s.NutNmm)
	case s.TorqueTargetNmm > 0:
		var target float64
		if target, err = s.bearingTarget(); err == nil {
			deg, err = nutForRotating(cold, target, film)
		}
	}
	if err != nil {
		return nil, err
	}
	build, err := pinion.New(warm)
	if err != nil {
		return nil, refusedFor(err)
	}
	build.RollPinion(turnsToSeatAll)
	build.TurnNut(deg - build.NutAngleDeg())
	if s.NutBackDeg > 0 {
		build.TurnNut(-s.NutBackDeg)
	}
	return build, nil
}

// stateOf returns what a build itself tells. The inner bearing's give is counted from a
// preload, newtons.
func stateOf(build *pinion.Build, inner bearing.Tapered, fromN float64) PinionState {
	f, p := build.Forces(), build.Params()
	return PinionState{
		InnerGiveMM: inner.DeflectionMM(f.PreloadN) - inner.DeflectionMM(fromN),
		NutDeg:      build.NutAngleDeg(), NutTorqueNmm: build.ForwardTorqueNmm(),
		StemN: f.StemN, SpacerN: f.SpacerN, PreloadN: f.PreloadN, EndPlayMM: f.EndPlayMM, PreloadShimMM: p.PreloadShimMM,
		SpacerSetMM: build.SpacerSetMM(), Bottomed: p.Spacer != nil && build.SpacerSetMM() > p.Spacer.UsableCrushMM,
		InnerCupGapMM: build.InnerGapMM(), OuterCupGapMM: build.OuterGapMM(),
		PairApproachMM: build.PairApproachMM(), PairStiffnessNPerMM: build.PairStiffnessNPerMM(),
	}
}

// turnsToSeatAll brings every roller to its rib.
const turnsToSeatAll = 30

// nutForTorque returns how far the nut must go, from finger tight, to take a torque.
func nutForTorque(p pinion.Params, nutNmm float64) (deg float64, err error) {
	const farDeg = 3600
	b, err := pinion.New(p)
	if err != nil {
		return 0, refusedFor(err)
	}
	b.RollPinion(turnsToSeatAll)
	if !b.TurnNutToTorque(nutNmm, farDeg).Reached {
		return 0, refused(text.Say("explore.nut-torque-not-reached", "ten turns of the nut do not bring it to that torque"))
	}
	return b.NutAngleDeg(), nil
}

// nutForRotating returns how far the nut must go, from finger tight and never back, for
// the bearings to run at a torque.
func nutForRotating(p pinion.Params, targetNmm float64, film bearing.Film) (deg float64, err error) {
	n, err := p.PreloadForTorque(targetNmm, film)
	if err != nil {
		return 0, refused(text.Say("explore.no-preload", "no preload that a pinion could stand gives the rotating torque asked for"))
	}
	// On the way there a cup seats once the preload reaches what holds it. What
	// the spacer carries depends on its crush alone, so the end state is that of an
	// assembly whose cup was seated from the start.
	for _, cup := range []struct {
		gapMM *float64
		holdN float64
	}{{&p.InnerGapMM, p.InnerCupHoldN}, {&p.OuterGapMM, p.OuterCupHoldN}} {
		if n >= cup.holdN {
			p.EndPlayAtContactMM += *cup.gapMM
			*cup.gapMM = 0
		}
	}
	at, err := p.AtPreload(n)
	if err != nil {
		return 0, refusedFor(err)
	}
	return at.NutAngleDeg, nil
}
