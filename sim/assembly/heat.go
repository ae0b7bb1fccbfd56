package assembly

import (
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/family"
)

// Linear expansion per kelvin; handbook values, from memory [2].
const (
	steelPerK     = 11.5e-6
	ironPerK      = 10.5e-6
	aluminiumPerK = 21.5e-6
)

// housingOverSteelPerK is how much more the housing grows than steel, per kelvin.
func (a *Axle) housingOverSteelPerK() float64 {
	if a.Fam.Design.Housing == family.Aluminium {
		return aluminiumPerK - steelPerK
	}
	return ironPerK - steelPerK
}

// cupSpanMM estimates the distance between the pinion bearings' centres from their
// widths, mm (an engineering choice; the sheets do not give it).
func (a *Axle) cupSpanMM() float64 {
	const perWidth = 1.28
	return perWidth * (a.Fam.Model.Head.WidthMM + a.Fam.Model.Tail.WidthMM)
}

// raceShare is the mean raceway diameter of a cup as a share of its outside diameter
// (an engineering choice, common proportions).
const raceShare = 0.886

// coneRise is how far along its axis a bearing's cup must follow when its bore grows, mm
// per unit of expansion: half the raceway's diameter over the tangent of the angle.
func coneRise(b bearing.Tapered) float64 {
	return raceShare * b.OutsideMM / 2 / math.Tan(b.ContactAngleDeg*math.Pi/180)
}

// PinionPlayByHeatMM returns how much end play warmth gives the pinion bearings, mm;
// negative takes play away. Everything is at one temperature, WarmK above the shop. A
// housing that grows radially lets the cups away from the rollers, one that grows along
// the pinion carries the cup seats apart, towards the cones: the difference of the two
// lengths times the difference in expansion, for a back-to-back pair [2].
func (a *Axle) PinionPlayByHeatMM() float64 {
	m := a.Fam.Model
	return a.housingOverSteelPerK() * a.WarmK * (coneRise(m.Head) + coneRise(m.Tail) - a.cupSpanMM())
}

// SideGrowthByHeatMM returns how much looser warmth makes the side bearings, mm; negative
// is tighter. Their cups are pushed in from outside, so the housing's width and the bore
// of the cups both let go.
func (a *Axle) SideGrowthByHeatMM() float64 {
	span := a.Fam.Model.Gears.RingDiameterMM * caseSpanShare
	return a.housingOverSteelPerK() * a.WarmK * (span + 2*coneRise(a.Fam.Model.Side))
}

// PinionOutByHeatMM returns how far warmth carries the pinion out of its place, mm: the
// head cup's seat is in the housing, all else is steel.
func (a *Axle) PinionOutByHeatMM() float64 {
	return a.housingOverSteelPerK() * a.WarmK * seatShare * a.Fam.Sheet.HeadHeightMM
}

// seatShare is the distance from the ring gear's axis to the head cup's seat over the
// head height (an engineering choice).
const seatShare = 1.5

// caseSpanShare is the distance between the side bearings as a share of the ring gear's
// diameter (an engineering choice).
const caseSpanShare = 0.9
