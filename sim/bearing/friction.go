package bearing

import "math"

// Constants of the friction model [2] for tapered roller bearings.
const (
	rollingAxial      = 10.9  // R2
	slidingAxial      = 2     // S2
	filmFriction      = 0.002 // μEHL
	rollingDiameterTo = 2.38
	rollingLoadTo     = 0.31
	slidingDiameterTo = 0.82
)

// A Film is what is between rollers and raceways while a bearing turns.
//
// BoundaryFriction is the sliding friction of the surfaces with no oil film
// (catalogue value 0.15 for a new bearing; lower once run in). ViscosityCst is
// the oil's kinematic viscosity at the temperature of the check, mm²/s. SpeedRPM
// is the speed of this bearing, not of some other shaft; its sign is ignored.
type Film struct {
	BoundaryFriction, ViscosityCst, SpeedRPM float64
}

// speedFactor returns ν·n, never negative.
func (f Film) speedFactor() float64 { return math.Abs(f.SpeedRPM) * math.Max(f.ViscosityCst, 0) }

// RunningTorqueNmm returns the friction torque (N·mm) of the bearing turning under
// a pure axial force (N), by [2] with Fr = 0:
//
//	M = R1 dm^2.38 (10.9 Y F)^0.31 (ν n)^0.6 + μsl S1 dm^0.82 · 2 Y F
//
// Valid from standstill to about 60 rev/min in gear oil. Zero for a force of zero
// or less; a seal's drag is not included.
func (b Tapered) RunningTorqueNmm(axialN float64, f Film) float64 {
	if !(axialN > 0) {
		return 0
	}
	dm := b.MeanDiameterMM()
	grr := FrictionVariable(b.R1, dm, rollingDiameterTo, rollingAxial*b.Y*axialN, rollingLoadTo)
	gsl := b.slidingVariable(axialN)
	share := BoundaryShare(f.SpeedRPM, f.ViscosityCst, dm)
	return RollingTorqueNmm(grr, f.ViscosityCst, f.SpeedRPM) +
		gsl*SlidingFriction(share, f.BoundaryFriction, filmFriction)
}

// StartingTorqueNmm returns the torque (N·mm) at which the bearing begins to turn
// under a pure axial force (N): the sliding part alone with boundary friction,
// [2] p. 103. The extra jerk of the first part-turn (stiction) is not in it. Zero
// for a force of zero or less.
func (b Tapered) StartingTorqueNmm(axialN, boundaryFriction float64) float64 {
	if !(axialN > 0) {
		return 0
	}
	return boundaryFriction * b.slidingVariable(axialN)
}

// slidingVariable returns Gsl = S1 dm^0.82 (S2 Y Fa), [2] table 2a with Fr = 0.
func (b Tapered) slidingVariable(axialN float64) float64 {
	return FrictionVariable(b.S1, b.MeanDiameterMM(), slidingDiameterTo, slidingAxial*b.Y*axialN, 1)
}

// FrictionVariable returns constant · dm^a · load^b, the shape that the rolling and
// sliding variables of every bearing type share in [2] table 2a. The mean
// diameter is in mm; the load is whatever combination of forces the type's
// formula asks for, in N to the power it asks for. A load below zero counts as
// zero.
func FrictionVariable(constant, meanDiameterMM, diameterPower, load, loadPower float64) float64 {
	return constant * math.Pow(meanDiameterMM, diameterPower) * math.Pow(math.Max(load, 0), loadPower)
}

// RollingTorqueNmm returns Mrr = Grr (ν n)^0.6 in N·mm, [2] p. 90; viscosity in
// mm²/s, speed in rev/min.
func RollingTorqueNmm(rollingVariable, viscosityCst, speedRPM float64) float64 {
	return rollingVariable * math.Pow(Film{ViscosityCst: viscosityCst, SpeedRPM: speedRPM}.speedFactor(), 0.6)
}

// BoundaryShare returns φ = exp(−2.6e-8 (n ν)^1.4 dm), the share of the sliding
// that is metal on metal: 1 at rest, 0 on a full film. [2] p. 100.
func BoundaryShare(speedRPM, viscosityCst, meanDiameterMM float64) float64 {
	nu := Film{ViscosityCst: viscosityCst, SpeedRPM: speedRPM}.speedFactor()
	return math.Exp(-2.6e-8 * math.Pow(nu, 1.4) * meanDiameterMM)
}

// SlidingFriction returns μsl = φ μbl + (1−φ) μEHL, [2] p. 100.
func SlidingFriction(boundaryShare, boundaryFriction, filmFriction float64) float64 {
	return boundaryShare*boundaryFriction + (1-boundaryShare)*filmFriction
}

// InletShearFactor returns the share of the rolling torque left when oil heats in
// the inlet of the contacts, [2] p. 97:
//
//	1 / (1 + 1.84e-9 (n dm)^1.28 ν^0.64)
//
// It is within 0.1 % of one at hand speed.
func InletShearFactor(speedRPM, meanDiameterMM, viscosityCst float64) float64 {
	return 1 / (1 + 1.84e-9*math.Pow(math.Abs(speedRPM)*meanDiameterMM, 1.28)*math.Pow(math.Max(viscosityCst, 0), 0.64))
}

// RunningMomentNmm adds the parts of the general friction model, [2] p. 89:
//
//	M = φish φrs Mrr + Msl + Mdrag
//
// all torques in N·mm.
func RunningMomentNmm(inletShear, starvation, rollingNmm, slidingNmm, torqueNmm float64) float64 {
	return inletShear*starvation*rollingNmm + slidingNmm + torqueNmm
}
