package bearing

import (
	"math"
)

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

// StarvationFactor returns the share of the rolling torque left when the rollers
// outrun the oil, [2] p. 98 (constants from memory; they reproduce the printed
// example):
//
//	exp( −Krs ν n (d+D) sqrt(Kz / (2 (D−d))) )
//
// krs is 3e-8 for a low oil bath, kz the geometry constant of the type (6 for
// tapered, 5.5 for spherical roller bearings). Diameters in mm.
func StarvationFactor(krs, kz, viscosityCst, speedRPM, boreMM, outsideMM float64) float64 {
	nu := Film{ViscosityCst: viscosityCst, SpeedRPM: speedRPM}.speedFactor()
	return math.Exp(-krs * nu * (boreMM + outsideMM) * math.Sqrt(kz/(2*(outsideMM-boreMM))))
}

// RibStartingTorqueNmm returns the starting torque (N·mm) of one tapered bearing
// from the sliding of roller ends on the rib, [1] p. A134:
//
//	M = er μe Fa cos β
//
// er is the height of the contact on the rib (mm), μe its friction (0.20 in the
// catalogue), β half the roller's cone angle (degrees). An opposed pair has twice
// this. It is a second opinion on StartingTorqueNmm; the two agree for er between
// 0.6 and 0.9 mm.
func RibStartingTorqueNmm(contactHeightMM, ribFriction, axialN, rollerHalfAngleDeg float64) float64 {
	return contactHeightMM * ribFriction * math.Max(axialN, 0) * math.Cos(rollerHalfAngleDeg*math.Pi/180)
}

// UnloadingThrustN returns the outside thrust (N) on bearing A that just takes all
// load off bearing B of a preloaded pair of constant stiffness kA and kB (N/mm):
// F0 (1 + kA/kB), [2] p. 210.
func UnloadingThrustN(preloadN, stiffnessANPerMM, stiffnessBNPerMM float64) float64 {
	return preloadN * (1 + stiffnessANPerMM/stiffnessBNPerMM)
}

// ContactAngleFromEDeg returns the contact angle (degrees) of a tapered bearing
// whose catalogue factor e is given: e = 1.5 tan α [5].
func ContactAngleFromEDeg(e float64) float64 { return math.Atan(e/1.5) * 180 / math.Pi }

// StaticAxialFactorY0 returns Y0 = 0.22 cot α [6] for a contact angle in degrees.
func StaticAxialFactorY0(contactAngleDeg float64) float64 {
	return 0.22 / math.Tan(contactAngleDeg*math.Pi/180)
}
