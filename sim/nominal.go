package sim

import (
	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/pinion"
)

// ThinFilmMM is the compound film a thin coat leaves when the gear is braked, mm.
const ThinFilmMM = thinFilmMM

// GreaseDragNmm is what packing grease adds to the rotating torque of the pinion
// pair, N·mm (shop experience puts it between 500 and 1100).
const GreaseDragNmm = 800

// NominalPinion returns the pinion assembly in the middle of the family's spreads,
// with a new spacer, both cups home and the rollers seated.
func NominalPinion(fam family.Family) pinion.Params {
	m := fam.Model
	yield := mid(m.SpacerYieldN)
	return pinion.Params{
		Head: m.Head, Tail: m.Tail, HouseStiffnessNPerMM: mid(m.HouseNPerMM), NutStiffnessNPerMM: mid(m.NutNPerMM),
		Thread: m.Thread(mid(m.ThreadFriction), mid(m.ThreadFriction), mid(m.PrevailingLbFt)*nmmPerFootPound),
		Spacer: &pinion.Spacer{StiffnessNPerMM: mid(m.SpacerNPerMM), YieldN: yield, PeakN: yield * mid(m.SpacerPeakPart),
			PeakDecayMM: mid(m.SpacerPeakDecayMM), HardeningNPerMM: mid(m.SpacerHardening), UsableCrushMM: m.SpacerUsableMM},
		EndPlayAtContactMM: mid(m.EndPlayAtContactMM),
		HeadCupHoldN:       mid(m.CupHoldN), TailCupHoldN: mid(m.CupHoldN),
	}
}

// NominalSides returns the case and its housing in the middle of the family's
// spreads, with the cap bolts torqued.
func NominalSides(fam family.Family) carrier.Params {
	m := fam.Model
	return carrier.Params{Back: m.Side, Tooth: m.Side, BackPedestalNPerMM: mid(m.PedestalNPerMM),
		ToothPedestalNPerMM: mid(m.PedestalNPerMM), CapsTight: true}
}

// NominalFilm returns what is between the rollers of the pinion bearings, new or
// used, at the speed a hand turns the pinion.
func NominalFilm(fam family.Family, used bool) bearing.Film {
	f := fam.Model.Film
	f.BoundaryFriction = mid(fam.Model.NewFriction)
	if used {
		f.BoundaryFriction = mid(fam.Model.UsedFriction)
	}
	return f
}
