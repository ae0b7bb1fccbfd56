package exhibit

import (
	"fmt"
	"math"

	"shimwright/sim/assembly"
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/pinion"
)

// A PinionState is the true state of the pinion in its housing.
type PinionState struct {
	PinionOutMM          float64 // true place, head bearing and head cup counted
	HeadGiveMM           float64 // what the head bearing gives more (less) than at the reference preload
	NutDeg               float64 // from finger tight
	NutTorqueNmm         float64 // to turn the nut further
	StemN                float64 // pull in the pinion stem
	SpacerN              float64 // on the spacer
	PreloadN             float64 // on the bearings
	PackMM               float64 // solid spacer: pack between the cones
	SpacerSetMM          float64 // crush that stays
	Bottomed             bool    // the spacer is past its usable crush
	EndPlayMM            float64
	HeadCupGapMM         float64 // still open
	TailCupGapMM         float64
	PinionBearingDragNmm float64 // bearings and any grease, no seal
	PinionSwingNmm       float64 // how far that comes and goes within a turn of the pinion
	PinionDragNmm        float64 // with the seal
}

// A SideState is the true state of the case between its side bearings.
type SideState struct {
	RingAwayMM      float64 // true place of the ring gear
	ShiftToPinionMM float64 // the part of it that the side shims make
	SidePreloadN    float64
	CaseEndPlayMM   float64
	SpreadMM        float64 // how much further apart the bearing seats are
	SideBearingNmm  float64 // drag of the side bearings, at the pinion
	SideSwingNmm    float64 // how far that comes and goes within a turn of the ring gear
	MeshDragNmm     float64 // drag of the teeth at the pinion
	SideRiseNmm     float64 // total over pinion drag: both
	TotalDragNmm    float64 // at the pinion, case in, seal in
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
// mesh or whose pinion cannot be built in.
func NewBench(fam family.Family) (*Bench, error) {
	m := fam.Model
	g, err := newGears(m.Gears, m.EaseOff, m.EaseOff, fam.Sheet.Backlash.Mid(), fam.Design.Flanks())
	if err != nil {
		return nil, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	if err := fam.Params().Validate(); err != nil {
		return nil, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	return &Bench{fam: fam, gears: g}, nil
}

// Show is At for a single setting, without keeping a Bench.
func Show(fam family.Family, s Settings) (Result, error) {
	b, err := NewBench(fam)
	if err != nil {
		return Result{}, err
	}
	return b.At(s)
}

// axle returns the nominal axle with what the settings put into it.
func (b *Bench) axle(s Settings) *assembly.Axle {
	x := assembly.Nominal(b.fam)
	x.BoundaryFriction = b.fam.Film(s.UsedBearings).BoundaryFriction
	x.HeadCupGapMM, x.TailCupGapMM, x.BackConeGapMM = s.HeadCupGapMM, s.TailCupGapMM, s.BackConeGapMM
	x.OffsetErrMM, x.ShaftErrRad = s.OffsetMM, s.ShaftAngleRad
	x.GearTIRMM, x.WarpTIRMM, x.WarpWaves = s.RunoutTIRMM, s.WarpTIRMM, 2
	x.NotchNmm, x.BrakeNmm, x.SealDragNmm = s.NotchNmm, s.BrakeNmm, x.SealDragNmm+s.SealExtraNmm
	x.CapsSwapped, x.CapRotated = s.CapsSwapped, s.CapRotated
	a := assembly.New(b.fam, x)
	a.WarmK = s.WarmK
	return a
}

// At returns the axle at the settings. Errors: ErrSetting with what is out of range
// in plain words.
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
	sides := assembly.Sides{BackMM: s.SideFitMM/2 + s.ShimToBackMM, ToothMM: s.SideFitMM/2 - s.ShimToBackMM, CapsTight: !s.CapsSnug}
	st, err := a.Case(sides)
	if err != nil {
		return Result{}, fmt.Errorf("%w: %w", ErrSetting, err)
	}
	const middle = 0.5
	at := a.Place(r.Pinion.PinionOutMM, build.Forces().EndPlayMM, st, sides.CapsTight, 0, middle, s.RingAwayMM-a.WobbleMM(0))
	r.Sides = SideState{
		RingAwayMM: at.RingAwayMM, ShiftToPinionMM: st.ShiftToPinionMM, SidePreloadN: st.ForceN,
		CaseEndPlayMM: math.Max(st.EndPlayMM, 0), SpreadMM: st.SpreadMM,
	}
	var addMM [Places]float64
	for k, rad := range angles {
		addMM[k] = math.Round(a.WobbleMM(rad)*1e9) / 1e9 // a cosine of a right angle is nought
	}
	if r.Gears, err = b.gears.at(at, s.FilmMM, a.RunoutMM(), addMM); err != nil {
		return Result{}, err
	}
	side := a.SideTorque(st.ForceN)
	r.Sides.SideBearingNmm, r.Sides.SideSwingNmm = side.MeanNmm, side.SwingNmm
	r.Sides.MeshDragNmm = carrier.MeshDragNmm(r.Gears.BacklashMinMM)
	r.Sides.SideRiseNmm = r.Sides.SideBearingNmm + r.Sides.MeshDragNmm
	r.Sides.TotalDragNmm = r.Pinion.PinionDragNmm + r.Sides.SideRiseNmm
	r.Shown = b.shown(r)
	return r, nil
}

// Prints returns what the compound shows on the drive and the coast flank. Where the
// gears bind, or the film is zero, nothing is rubbed. Errors as At.
func (b *Bench) Prints(s Settings) ([]gauge.ToothPrint, error) {
	r, err := b.At(s)
	if err != nil {
		return nil, err
	}
	return b.gears.prints(r.Gears, s.FilmMM), nil
}

// setPinion builds the pinion in and turns its nut. It is built in cold, at the shop's
// temperature, and then warmed.
func (b *Bench) setPinion(a *assembly.Axle, s Settings, out *PinionState) (*pinion.Build, error) {
	warm := a.WarmK
	a.WarmK = 0
	cold := a.Params(assembly.Pinion{PackMM: s.PackMM})
	a.WarmK = warm
	film := a.Film()
	target := s.DragTargetNmm
	if s.Greased {
		target -= assembly.GreaseDragNmm
	}
	if s.DragTargetNmm > 0 && target <= 0 {
		return nil, errGreaseDrags
	}
	solid := b.fam.Design.Preload == family.SolidSpacer
	deg, packMM := s.NutDeg, s.PackMM
	var err error
	switch {
	case s.DragTargetNmm > 0 && solid:
		if packMM, err = b.fam.PackForDrag(cold, b.fam.Sheet.NutMid().Nmm(), target, film); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrSetting, err)
		}
	case s.DragTargetNmm > 0:
		if deg, err = nutForDrag(cold, target, film); err != nil {
			return nil, err
		}
	}
	build, err := pinion.New(a.Params(assembly.Pinion{PackMM: packMM}))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrSetting, err)
	}
	build.RollPinion(turnsToSeatAll)
	if solid && deg == 0 {
		if deg, err = degAtTorque(cold, packMM, b.fam.Sheet.NutMid().Nmm()); err != nil {
			return nil, err
		}
	}
	build.TurnNut(deg - build.NutAngleDeg())
	drag := a.BearingTorque(build)
	if s.Greased {
		drag.MeanNmm += assembly.GreaseDragNmm
	}
	*out = stateOf(build, b.fam.Model.Head, b.fam.ReferencePreloadN())
	out.PinionOutMM = s.PinionOutMM + a.PinionOutMM(build, assembly.Pinion{})
	out.PinionBearingDragNmm, out.PinionSwingNmm = drag.MeanNmm, drag.SwingNmm
	out.PinionDragNmm = drag.MeanNmm + a.SealNmm(false)
	return build, nil
}

var errGreaseDrags = fmt.Errorf("%w: packing grease alone drags more than the pinion drag asked for; ask for more, or for clean oiled bearings", ErrSetting)

// stateOf returns what a build itself tells. The head bearing's give is counted from a
// preload, newtons.
func stateOf(build *pinion.Build, head bearing.Tapered, fromN float64) PinionState {
	f, p := build.Forces(), build.Params()
	return PinionState{
		HeadGiveMM: head.DeflectionMM(f.PreloadN) - head.DeflectionMM(fromN),
		NutDeg:     build.NutAngleDeg(), NutTorqueNmm: build.ForwardTorqueNmm(),
		StemN: f.StemN, SpacerN: f.SpacerN, PreloadN: f.PreloadN, EndPlayMM: f.EndPlayMM, PackMM: p.PackMM,
		SpacerSetMM: build.SpacerSetMM(), Bottomed: p.Spacer != nil && build.SpacerSetMM() > p.Spacer.UsableCrushMM,
		HeadCupGapMM: build.HeadGapMM(), TailCupGapMM: build.TailGapMM(),
	}
}

// turnsToSeatAll brings every roller to its rib.
const turnsToSeatAll = 30

// degAtTorque returns the angle a nut has when its torque is reached.
func degAtTorque(p pinion.Params, packMM, nutNmm float64) (float64, error) {
	const farDeg = 3600
	p.PackMM = packMM
	b, err := pinion.New(p)
	if err != nil {
		return 0, fmt.Errorf("%w: %w", ErrSetting, err)
	}
	b.RollPinion(turnsToSeatAll)
	b.TurnNutToTorque(nutNmm, farDeg)
	return b.NutAngleDeg(), nil
}

// nutForDrag returns how far the nut must go, from finger tight and never back, for
// the bearings to run at a torque.
func nutForDrag(p pinion.Params, targetNmm float64, film bearing.Film) (deg float64, err error) {
	n, err := p.PreloadForDrag(targetNmm, film)
	if err != nil {
		return 0, fmt.Errorf("%w: no preload that a pinion could stand gives the drag asked for", ErrSetting)
	}
	// On the way there a cup goes home once the preload reaches what holds it. What
	// the spacer carries depends on its crush alone, so the end state is that of an
	// assembly whose cup was home from the start.
	for _, cup := range []struct {
		gapMM *float64
		holdN float64
	}{{&p.HeadGapMM, p.HeadCupHoldN}, {&p.TailGapMM, p.TailCupHoldN}} {
		if n >= cup.holdN {
			p.EndPlayAtContactMM += *cup.gapMM
			*cup.gapMM = 0
		}
	}
	at, err := p.AtPreload(n)
	if err != nil {
		return 0, fmt.Errorf("%w: %w", ErrSetting, err)
	}
	return at.NutAngleDeg, nil
}
