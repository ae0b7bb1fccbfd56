package assembly

import (
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/family"
)

// housingPerK is how much the housing's metal grows, per kelvin.
func (a *Axle) housingPerK() float64 {
	if a.Fam.Design.Housing == family.Aluminum {
		return bearing.AluminiumPerDegC
	}
	return bearing.IronPerDegC
}

// overSteel is how much more the housing has grown than steel, as a strain.
func (a *Axle) overSteel() float64 { return (a.housingPerK() - bearing.SteelPerDegC) * a.WarmK }

// PinionPlayByHeatMM returns how much end play warmth gives the pinion bearings, mm;
// negative takes play away. Everything is at one temperature, WarmK above the shop.
func (a *Axle) PinionPlayByHeatMM() float64 {
	m := a.Fam.Model
	return bearing.PinionPair(m.Inner, m.Outer, a.Fam.Sheet.SpacerLengthMM, a.housingPerK()).EndPlayChangeMM(a.WarmK, 0)
}

// SideGrowthByHeatMM returns how much looser warmth makes the side bearings, mm; negative
// is tighter. Their cups are pushed in from outside, so the housing's width and the bore
// of the cups both let go.
func (a *Axle) SideGrowthByHeatMM() float64 {
	side := a.Fam.Model.Side
	cupRise := side.CupRacewayMM() / 2 / math.Tan(side.ContactAngleDeg*math.Pi/180)
	return a.overSteel() * (caseSpanShare*a.Fam.Model.Gears.RingDiameterMM + 2*cupRise)
}

// PinionOutByHeatMM returns how far warmth carries the pinion out of its place, mm: the
// head cup's seat is in the housing, all else is steel.
func (a *Axle) PinionOutByHeatMM() float64 {
	return a.overSteel() * seatShare * a.Fam.Sheet.CheckingDistanceMM
}

// Engineering choices, no source: the distance between the side bearings over the ring
// gear's diameter, and that from the ring gear's axis to the head cup's seat over the
// head height.
const (
	caseSpanShare = 0.9
	seatShare     = 1.5
)
