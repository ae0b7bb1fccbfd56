package axletest

import (
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/pinion"
)

// Exact factors, from the definitions of the inch and the pound-force.
const (
	InchMM  = 25.4
	LbInNmm = 4.4482216152605 * InchMM
	LbFtNmm = 12 * LbInNmm
)

// Conditions of the default axle.
const (
	Ratio        = 41.0 / 11
	Efficiency   = 0.97
	SealNmm      = 3 * LbInNmm
	PinionRPM    = 20
	ViscosityCst = 200
	NewFriction  = 0.15
	UsedFriction = 0.07
)

// NewFilm and UsedFilm are the conditions of a pinion turned by hand.
func NewFilm() bearing.Film {
	return bearing.Film{BoundaryFriction: NewFriction, ViscosityCst: ViscosityCst, SpeedRPM: PinionRPM}
}

// UsedFilm is NewFilm with run-in bearings.
func UsedFilm() bearing.Film {
	f := NewFilm()
	f.BoundaryFriction = UsedFriction
	return f
}

// AtCase returns the film of a side bearing while the pinion turns as f says.
func AtCase(f bearing.Film) bearing.Film {
	f.SpeedRPM /= Ratio
	return f
}

// Head is the default pinion head bearing.
func Inner() bearing.Tapered {
	return bearing.Tapered{
		BoreMM: 34.925, OutsideMM: 72.233, WidthMM: 25.400, ContactAngleDeg: 20.1363, Y: 1.10,
		Rollers: 16, RollerLengthMM: 15.2, R1: 2.60e-6, S1: 0.020, RingStiffnessNPerMM: 896000,
	}
}

// Tail is the default pinion tail bearing.
func Outer() bearing.Tapered {
	return bearing.Tapered{
		BoreMM: 30.162, OutsideMM: 64.292, WidthMM: 21.433, ContactAngleDeg: 20.1363, Y: 1.10,
		Rollers: 16, RollerLengthMM: 12.5, R1: 2.48e-6, S1: 0.015, RingStiffnessNPerMM: 759200,
	}
}

// Side is the default side bearing, the same on both sides.
func Side() bearing.Tapered {
	return bearing.Tapered{
		BoreMM: 45.242, OutsideMM: 77.788, WidthMM: 19.842, ContactAngleDeg: 15.9958, Y: 1.41,
		Rollers: 19, RollerLengthMM: 12.0, R1: 2.25e-6, S1: 0.011, RingStiffnessNPerMM: 393400,
	}
}

// Thread is the default pinion nut, 7/8-14.
func Thread() pinion.Thread {
	return pinion.Thread{
		PitchMM: InchMM / 14, PitchDiameterMM: 21.047, FaceDiameterMM: 31,
		ThreadFriction: 0.14, FaceFriction: 0.14, PrevailingNmm: 20 * LbFtNmm,
	}
}

// Pinion is the default pinion with a new collapsible spacer.
func Pinion() pinion.Params {
	return pinion.Params{
		Inner: Inner(), Outer: Outer(),
		HouseStiffnessNPerMM: 600000, NutStiffnessNPerMM: 650000,
		Thread: Thread(),
		Spacer: &pinion.Spacer{
			StiffnessNPerMM: 500000, YieldN: 80000, PeakN: 88000, PeakDecayMM: 0.10,
			HardeningNPerMM: 8000, UsableCrushMM: 2.5,
		},
		EndPlayAtContactMM: 0.70,
	}
}

// Solid is the default pinion with a solid spacer and the given gap: the shim pack
// less the line-to-line pack.
func Solid(gapMM float64) pinion.Params {
	p := Pinion()
	p.Spacer = nil
	p.SolidStiffnessNPerMM = 2200000
	p.EndPlayAtContactMM = 0
	p.ZeroPlayPreloadShimMM = 1.0
	p.PreloadShimMM = 1.0 + gapMM
	return p
}

// Carrier is the default case in its housing, caps torqued.
func Carrier() carrier.Params {
	return carrier.Params{Back: Side(), Tooth: Side(), RingGearPedestalNPerMM: 90000, OppositePedestalNPerMM: 90000, CapsTight: true}
}
