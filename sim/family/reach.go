package family

import (
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/solve"
	"shimwright/sim/text"
)

// Mid returns the middle of the spread.
func (r Range) Mid() float64 { return (r.Low + r.High) / 2 }

// A Reach is what it takes to bring the pinion rotating torque to the two ends of its specification,
// with every parameter at the middle of its spread.
type Reach struct {
	Nut           TorqueSpec // collapsible: nut torque at the two ends; solid: at the middle of its specification, both
	CrushMM       float64    // collapsible: how far the spacer is crushed at the high end
	PreloadShimMM Spec       // solid: shims that give the specified torque at that nut torque, thin to thick
}

// Params returns the pinion assembly of the family with every parameter at the middle
// of its spread, rollers and cups seated.
func (f Family) Params() pinion.Params {
	m := f.Model
	p := pinion.Params{
		Inner: m.Inner, Outer: m.Outer, HouseStiffnessNPerMM: m.HouseNPerMM.Mid(), NutStiffnessNPerMM: m.NutNPerMM.Mid(),
		Thread:        m.Thread(m.ThreadFriction.Mid(), m.ThreadFriction.Mid(), quantity.FootPounds(m.PrevailingLbFt.Mid()).Nmm()),
		InnerCupHoldN: m.CupHoldN.Mid(), OuterCupHoldN: m.CupHoldN.Mid(),
	}
	if f.Design.Preload == SolidSpacer {
		p.SolidStiffnessNPerMM = f.Design.Solid.StiffnessNPerMM.Mid()
		p.PreloadShimMM, p.ZeroPlayPreloadShimMM = f.Design.Solid.ZeroEndPlayMM.Mid(), f.Design.Solid.ZeroEndPlayMM.Mid()
		return p
	}
	yield := m.SpacerYieldN.Mid()
	p.Spacer = &pinion.Spacer{StiffnessNPerMM: m.SpacerNPerMM.Mid(), YieldN: yield, PeakN: yield * m.SpacerPeakPart.Mid(),
		PeakDecayMM: m.SpacerPeakDecayMM.Mid(), HardeningNPerMM: m.SpacerHardening.Mid(), UsableCrushMM: m.SpacerUsableMM}
	p.EndPlayAtContactMM = m.EndPlayAtContactMM.Mid()
	return p
}

// Reach works out what brings the rotating torque, with new or used bearings, to its specification.
//
// Errors: parts that cannot be assembled; a torque that no preload up to 500 kN gives.
func (f Family) Reach(used bool) (Reach, error) {
	p := f.Params()
	if err := p.Validate(); err != nil {
		return Reach{}, err
	}
	film := f.Film(used)
	w := f.Sheet.PinionTorque(used)
	low, err := f.PreloadForTorque(w.LowNmm, film)
	if err != nil {
		return Reach{}, err
	}
	high, err := f.PreloadForTorque(w.HighNmm, film)
	if err != nil {
		return Reach{}, err
	}
	if f.Design.Preload == SolidSpacer {
		// The stem's pull at a nut torque is shared by bearings and spacer; the
		// spacer's share says how short it is then, and that less the bearings'
		// approach is how much thicker the shims are than at zero end play.
		torque := f.Sheet.NutMid().Nmm()
		stemN := p.Thread.StemN(torque)
		pair := bearing.InSeries(p.Inner, p.Outer).With(p.HouseStiffnessNPerMM)
		shims := func(n float64) float64 {
			return p.ZeroPlayPreloadShimMM + (stemN-n)/p.SolidStiffnessNPerMM - pair.ApproachMM(n)
		}
		if high >= stemN {
			return Reach{}, text.Fail(nil, text.Say("family.reach.weak-nut", "the torque of the nut pulls with {pull} N, less than the preload that the rotating torque needs, {preload} N", text.Number("pull", stemN, 0), text.Number("preload", high, 0)))
		}
		return Reach{Nut: TorqueSpec{torque, torque}, PreloadShimMM: Spec{shims(high), shims(low)}}, nil
	}
	a, err := p.AtPreload(low)
	if err != nil {
		return Reach{}, err
	}
	b, err := p.AtPreload(high)
	if err != nil {
		return Reach{}, err
	}
	return Reach{Nut: TorqueSpec{a.TorqueNmm, b.TorqueNmm}, CrushMM: b.SpacerSetMM}, nil
}

// Film returns what is between the rollers of the bearings, new or used, at the speed
// a hand turns the pinion, with friction at the middle of its spread.
func (f Family) Film(used bool) bearing.Film {
	film := f.Model.Film
	film.BoundaryFriction = f.Model.NewFriction.Mid()
	if used {
		film.BoundaryFriction = f.Model.UsedFriction.Mid()
	}
	return film
}

// Sides returns the case and its housing with every parameter at the middle of its
// spread and the cap bolts torqued.
func (f Family) Sides() carrier.Params {
	m := f.Model
	return carrier.Params{Back: m.Side, Tooth: m.Side, RingGearPedestalNPerMM: m.PedestalNPerMM.Mid(),
		OppositePedestalNPerMM: m.PedestalNPerMM.Mid(), CapsTight: true}
}

// PreloadForTorque returns the pinion preload (N) at which both bearings together turn
// with a torque (N·mm), no seal, in the given film. Errors: a torque that no preload
// a pinion could stand gives.
func (f Family) PreloadForTorque(torqueNmm float64, film bearing.Film) (float64, error) {
	n, err := pinion.Params{Inner: f.Model.Inner, Outer: f.Model.Outer}.PreloadForTorque(torqueNmm, film)
	if err != nil {
		return 0, text.Fail(err, text.Say("family.reach.no-preload", "no preload gives a rotating torque of {torque}", text.BothTorque("torque", quantity.Torque(torqueNmm))))
	}
	return n, nil
}

// ReferencePreloadN returns the pinion preload (N) at which the pinion's place is
// defined: the one that brings new bearings to the middle of their torque specification. It is
// zero for a family whose torque cannot be reached, which Reach reports.
func (f Family) ReferencePreloadN() float64 {
	n, err := f.PreloadForTorque(f.Sheet.PinionTorqueNew.Mid(), f.Film(false))
	if err != nil {
		return 0
	}
	return n
}

// PreloadShimsForTorque returns the preload shims (mm) of a solid spacer with which a pinion assembly runs
// at a torque (N·mm, bearings alone) when its nut stands at nutNmm and its rollers are
// seated. Errors: parts that cannot be assembled; a torque that no shims within half a
// millimeter of zero end play give.
func (f Family) PreloadShimsForTorque(p pinion.Params, nutNmm, torqueNmm float64, film bearing.Film) (float64, error) {
	const (
		spanMM, tolMM = 0.5, 1e-7
		turnsHome     = 30
		farDeg        = 3600
	)
	var failed error
	root, err := solve.Bracketed(func(preloadShimMM float64) float64 {
		p.PreloadShimMM = preloadShimMM
		b, err := pinion.New(p)
		if err != nil {
			failed = err
			return 0
		}
		b.RollPinion(turnsHome)
		b.TurnNutToTorque(nutNmm, farDeg)
		return b.RunningTorqueNmm(film) - torqueNmm
	}, p.ZeroPlayPreloadShimMM-spanMM, p.ZeroPlayPreloadShimMM+spanMM, tolMM)
	switch {
	case failed != nil:
		return 0, failed
	case err != nil:
		return 0, text.Fail(err, text.Say("family.reach.no-shims", "no preload shims give a rotating torque of {torque} with the nut at its torque", text.BothTorque("torque", quantity.Torque(torqueNmm))))
	}
	return root.X, nil
}

// Rise returns what side bearings and teeth add to the rotating torque at the pinion (N·mm) at
// the two ends of the side preload specification, with every parameter at its middle.
// Errors: those of carrier.Solve.
func (f Family) Rise(used bool) (TorqueSpec, error) {
	m, p, film := f.Model, f.Sides(), f.Film(used)
	film.SpeedRPM /= f.Sheet.Ratio()
	rise := func(mm float64) (float64, error) {
		st, err := carrier.Solve(p, mm/2, mm/2)
		return carrier.AtPinionNmm(p.TorqueNmm(st.ForceN, film), f.Sheet.Ratio(), m.MeshEfficiency) + carrier.MeshDragNmm(f.Sheet.Backlash.Mid()), err
	}
	low, err := rise(f.Sheet.SidePreload.LowMM)
	if err != nil {
		return TorqueSpec{}, err
	}
	high, err := rise(f.Sheet.SidePreload.HighMM)
	return TorqueSpec{low, high}, err
}
