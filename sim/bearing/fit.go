package bearing

import "math"

// ringModulusMPa is the elastic modulus of [1] section 15.2 for ring and seat
// alike.
const ringModulusMPa = 208000

// A RingFit is what a tight fit does to a ring and its seat. RacewayMM is the
// change of the raceway diameter in the direction that takes up clearance: growth
// for a cone, shrinkage for a cup.
type RingFit struct {
	PressureMPa, RacewayMM, HoopStressMPa float64
}

// ConeOnSolidShaft returns the effect of a cone of bore d (mm) and raceway mean
// diameter Di (mm) pressed with tightΔd (mm, on diameter) on a solid steel shaft,
// [1] section 15.2 completed by [7], with k = d/Di:
//
//	p = (E/2)(Δd/d)(1−k²),  ΔDi = Δd k,  σ = p (1+k²)/(1−k²) at the bore
//
// Zero for a fit that is not tight. Valid for 0 < d < Di.
func ConeOnSolidShaft(boreMM, racewayMM, tightMM float64) RingFit {
	tight := math.Max(tightMM, 0)
	k := boreMM / racewayMM
	p := ringModulusMPa / 2 * tight / boreMM * (1 - k*k)
	return RingFit{PressureMPa: p, RacewayMM: tight * k, HoopStressMPa: p * (1 + k*k) / (1 - k*k)}
}

// CupInHousing returns the effect of a cup of outside diameter D (mm) and raceway
// mean diameter De (mm) pressed with tight ΔD (mm, on diameter) into a housing
// ring of outside diameter D0 (mm) of the same material, [1] section 15.2
// completed by [7], with h = De/D and h0 = D/D0:
//
//	p = (E/2)(ΔD/D)(1−h²)(1−h0²)/(1−h²h0²),  ΔDe = ΔD h (1−h0²)/(1−h²h0²)
//
// HoopStressMPa is the compression at the raceway, 2p/(1−h²). Zero for a fit that
// is not tight. Valid for 0 < De < D < D0.
func CupInHousing(outsideMM, racewayMM, housingMM, tightMM float64) RingFit {
	tight := math.Max(tightMM, 0)
	h, h0 := racewayMM/outsideMM, outsideMM/housingMM
	share := (1 - h0*h0) / (1 - h*h*h0*h0)
	p := ringModulusMPa / 2 * tight / outsideMM * (1 - h*h) * share
	return RingFit{PressureMPa: p, RacewayMM: tight * h * share, HoopStressMPa: 2 * p / (1 - h*h)}
}

// PushOnForceN returns the axial force (N) that slides a ring against its fit
// pressure (MPa) over the seat's diameter and width (mm): μ p π d B, from memory;
// μ is 0.10 to 0.15.
func PushOnForceN(pressureMPa, seatDiameterMM, widthMM, friction float64) float64 {
	return friction * math.Max(pressureMPa, 0) * math.Pi * seatDiameterMM * widthMM
}

// ConeSettingLossMM returns the end play (mm) that a tight cone takes away, which
// is also how much taller the bearing stands: 0.5 cot α (d/do) Δ, [3] p. 79, for a
// cone of bore d and raceway mean diameter do on a solid steel shaft, tight by Δ on
// diameter (mm).
func ConeSettingLossMM(contactAngleDeg, boreMM, racewayMM, tightMM float64) float64 {
	return settingLoss(contactAngleDeg, boreMM/racewayMM, tightMM)
}

// CupSettingLossMM returns the end play (mm) that a tight cup in a heavy ferrous
// housing takes away: 0.5 cot α (Do/D) Δ, [3] p. 79, for a cup of outside diameter
// D and raceway mean diameter Do, tight by Δ on diameter (mm).
func CupSettingLossMM(contactAngleDeg, outsideMM, racewayMM, tightMM float64) float64 {
	return settingLoss(contactAngleDeg, racewayMM/outsideMM, tightMM)
}

func settingLoss(contactAngleDeg, ratio, tightMM float64) float64 {
	return 0.5 / math.Tan(contactAngleDeg*math.Pi/180) * ratio * math.Max(tightMM, 0)
}

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
