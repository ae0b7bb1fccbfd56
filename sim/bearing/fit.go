package bearing

import "math"

// Linear expansion of metals, per degree Celsius: bearing steel from a bearing supplier's
// table; grey iron and cast aluminium from a metric gear handbook.
const (
	SteelPerDegC     = 11.9e-6
	IronPerDegC      = 10.8e-6
	AluminiumPerDegC = 22e-6
)

// CupRacewayMM returns the mean diameter of the cup's raceway, mm: a part of its outside
// diameter (usual proportion, no source).
func (b Tapered) CupRacewayMM() float64 { return 0.886 * b.OutsideMM }

// PinionPair returns the pair that a head and a tail bearing make on a pinion, with a
// spacer between them (mm; 0 takes the usual proportion, no source) and a housing that
// grows so much per degree Celsius.
func PinionPair(head, outer Tapered, spacerMM, housingPerDegC float64) BackToBackPair {
	if spacerMM == 0 {
		spacerMM = head.WidthMM / 2
	}
	return BackToBackPair{
		InnerAngleDeg: head.ContactAngleDeg, OuterAngleDeg: outer.ContactAngleDeg,
		InnerCupRacewayMM: head.CupRacewayMM(), OuterCupRacewayMM: outer.CupRacewayMM(),
		DistanceMM: spacerMM + (head.WidthMM+outer.WidthMM)/2, HousingPerDegC: housingPerDegC, ShaftAndConesPerDegC: SteelPerDegC,
	}
}

// A BackToBackPair is the geometry that decides how temperature changes the
// setting of two opposed bearings mounted as a pinion's are (the cups' seats
// between the bearings, the cones outside). Raceway diameters are those of the
// cups.
type BackToBackPair struct {
	InnerAngleDeg, OuterAngleDeg         float64
	InnerCupRacewayMM, OuterCupRacewayMM float64
	DistanceMM                           float64
	HousingPerDegC, ShaftAndConesPerDegC float64 // expansion coefficients
}

// ThermalBracketMM returns cot αh Do,h/2 + cot αt Do,t/2 − L, mm, [3] p. 81: radial
// growth of the housing lets the cups away from the rollers, axial growth carries
// the cup seats toward the cones.
func (p BackToBackPair) ThermalBracketMM() float64 {
	return 0.5*p.InnerCupRacewayMM/math.Tan(p.InnerAngleDeg*math.Pi/180) +
		0.5*p.OuterCupRacewayMM/math.Tan(p.OuterAngleDeg*math.Pi/180) - p.DistanceMM
}

// EndPlayChangeMM returns the end play gained (mm; negative is tighter) when the
// whole assembly is warmed by riseDegC and the shaft and cones are hotter than the
// housing by shaftHotterDegC. The bracket is published [3]; the sign is worked
// from the geometry:
//
//	[(αhousing − αshaft) ΔT − αshaft ΔTshaft] · bracket
func (p BackToBackPair) EndPlayChangeMM(riseDegC, shaftHotterDegC float64) float64 {
	strain := (p.HousingPerDegC-p.ShaftAndConesPerDegC)*riseDegC - p.ShaftAndConesPerDegC*shaftHotterDegC
	return strain * p.ThermalBracketMM()
}
