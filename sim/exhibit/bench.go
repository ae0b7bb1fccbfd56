package exhibit

import (
	"fmt"
	"math"

	"shimwright/sim"
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/solve"
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
	SpacerSetMM          float64 // crush that stays
	Bottomed             bool    // the spacer is past its usable crush
	EndPlayMM            float64
	HeadCupGapMM         float64 // still open
	TailCupGapMM         float64
	PinionBearingDragNmm float64 // bearings and any grease, no seal
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
	fam    family.Family
	gears  gears
	pinion pinion.Params
	sides  carrier.Params
}

// NewBench builds the nominal axle of a family. Errors: a family whose gears cannot
// mesh or whose pinion cannot be built in.
func NewBench(fam family.Family) (*Bench, error) {
	m := fam.Model
	g, err := newGears(m.Gears, m.EaseOff, m.EaseOff, fam.Sheet.Backlash.Mid())
	if err != nil {
		return nil, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	b := &Bench{fam: fam, gears: g, pinion: sim.NominalPinion(fam), sides: sim.NominalSides(fam)}
	if err := b.pinion.Validate(); err != nil {
		return nil, fmt.Errorf("family %s: %w", fam.Code, err)
	}
	return b, nil
}

// Show is At for a single setting, without keeping a Bench.
func Show(fam family.Family, s Settings) (Result, error) {
	b, err := NewBench(fam)
	if err != nil {
		return Result{}, err
	}
	return b.At(s)
}

// At returns the axle at the settings. Errors: ErrSetting with what is out of range
// in plain words.
func (b *Bench) At(s Settings) (Result, error) {
	if err := s.Validate(); err != nil {
		return Result{}, err
	}
	r := Result{Settings: s}
	film := sim.NominalFilm(b.fam, s.UsedBearings)
	if err := b.setPinion(s, film, &r.Pinion); err != nil {
		return Result{}, err
	}
	side := b.sides
	side.CapsTight = !s.CapsSnug
	st, err := carrier.Solve(side, s.SideFitMM/2+s.ShimToBackMM, s.SideFitMM/2-s.ShimToBackMM)
	if err != nil {
		return Result{}, fmt.Errorf("%w: %w", ErrSetting, err)
	}
	r.Sides = SideState{
		RingAwayMM:      s.RingAwayMM - st.ShiftToPinionMM - st.EndPlayMM/2,
		ShiftToPinionMM: st.ShiftToPinionMM, SidePreloadN: st.ForceN, CaseEndPlayMM: math.Max(st.EndPlayMM, 0), SpreadMM: st.SpreadMM,
	}
	r.Gears, err = b.gears.at(mesh.Position{PinionOutMM: r.Pinion.PinionOutMM, RingAwayMM: r.Sides.RingAwayMM,
		OffsetMM: s.OffsetMM, ShaftAngleRad: s.ShaftAngleRad}, s.FilmMM, s.RunoutTIRMM)
	if err != nil {
		return Result{}, err
	}
	ratio := b.fam.Sheet.Ratio()
	film.SpeedRPM /= ratio
	r.Sides.SideBearingNmm = carrier.AtPinionNmm(side.TorqueNmm(st.ForceN, film), ratio, b.fam.Model.MeshEfficiency)
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

// setPinion builds the pinion in and turns its nut.
func (b *Bench) setPinion(s Settings, film bearing.Film, out *PinionState) error {
	p := b.pinion
	p.EndPlayAtContactMM -= s.HeadCupGapMM + s.TailCupGapMM
	p.HeadGapMM, p.TailGapMM = s.HeadCupGapMM, s.TailCupGapMM
	build, err := pinion.New(p)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrSetting, err)
	}
	const turnsToSeatAll = 30
	build.RollPinion(turnsToSeatAll)
	target := s.DragTargetNmm
	if s.Greased {
		target -= sim.GreaseDragNmm
	}
	switch {
	case s.DragTargetNmm > 0 && target <= 0:
		return fmt.Errorf("%w: packing grease alone drags more than the pinion drag asked for; ask for more, or for clean oiled bearings", ErrSetting)
	case s.DragTargetNmm > 0:
		deg, err := nutForDrag(p, target, film)
		if err != nil {
			return err
		}
		build.TurnNut(deg)
	default:
		build.TurnNut(s.NutDeg)
	}
	f := build.Forces()
	head := b.fam.Model.Head
	give := head.DeflectionMM(f.PreloadN) - head.DeflectionMM(sim.ReferencePreloadN)
	drag := build.RunningTorqueNmm(film)
	if s.Greased {
		drag += sim.GreaseDragNmm
	}
	seal := b.fam.Model.SealNmm
	*out = PinionState{
		PinionOutMM: s.PinionOutMM + give - build.HeadGapMM(), HeadGiveMM: give,
		NutDeg: build.NutAngleDeg(), NutTorqueNmm: build.ForwardTorqueNmm(),
		StemN: f.StemN, SpacerN: f.SpacerN, PreloadN: f.PreloadN, EndPlayMM: f.EndPlayMM,
		SpacerSetMM: build.SpacerSetMM(), Bottomed: p.Spacer != nil && build.SpacerSetMM() > p.Spacer.UsableCrushMM,
		HeadCupGapMM: build.HeadGapMM(), TailCupGapMM: build.TailGapMM(),
		PinionBearingDragNmm: drag, PinionDragNmm: drag + (seal.Low+seal.High)/2,
	}
	return nil
}

// nutForDrag returns how far the nut must go, from finger tight and never back, for
// the bearings to run at a torque.
func nutForDrag(p pinion.Params, targetNmm float64, film bearing.Film) (deg float64, err error) {
	const mostN = 200_000
	root, err := solve.Bracketed(func(n float64) float64 {
		return p.Head.RunningTorqueNmm(n, film) + p.Tail.RunningTorqueNmm(n, film) - targetNmm
	}, 0, mostN, 1e-9)
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
		if root.X >= cup.holdN {
			p.EndPlayAtContactMM += *cup.gapMM
			*cup.gapMM = 0
		}
	}
	at, err := p.AtPreload(root.X)
	if err != nil {
		return 0, fmt.Errorf("%w: %w", ErrSetting, err)
	}
	return at.NutAngleDeg, nil
}
