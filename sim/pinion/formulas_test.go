package pinion

import (
	"math"
)

// TubeSquashN returns the yield load of the wall in plain compression, π D t σ0.
func TubeSquashN(diameterMM, wallMM, flowMPa float64) float64 {
	return math.Pi * diameterMM * wallMM * flowMPa
}

// TubeFold1960N returns the mean folding load 6 σ0 t^1.5 D^0.5 (1960, [5], from
// memory).
func TubeFold1960N(diameterMM, wallMM, flowMPa float64) float64 {
	return 6 * flowMPa * math.Pow(wallMM, 1.5) * math.Sqrt(diameterMM)
}

// TubeFold1986N returns the mean folding load
// M0 (25.23 (D/t)^0.5 + 15.09), M0 = (2/√3) σ0 t²/4 (1986, [5], from
// memory).
func TubeFold1986N(diameterMM, wallMM, flowMPa float64) float64 {
	m0 := 2 / math.Sqrt(3) * flowMPa * wallMM * wallMM / 4
	return m0 * (25.23*math.Sqrt(diameterMM/wallMM) + 15.09)
}

// TubeFold2001N returns the mean folding load 72.3 (D/t)^0.32 Mp, Mp = σ0 t²/4 [6],
// fitted for D/t from 10 to 450.
func TubeFold2001N(diameterMM, wallMM, flowMPa float64) float64 {
	mp := flowMPa * wallMM * wallMM / 4
	return 72.3 * math.Pow(diameterMM/wallMM, 0.32) * mp
}

// ShortFormForceN returns the bolt force (N) of the short torque formula
// F = T/(K D): torque in N·mm, nut factor K, nominal diameter in mm. (Textbook
// form; K = 0.2 is a dry steel bolt.)
func ShortFormForceN(torqueNmm, nutFactor, diameterMM float64) float64 {
	return torqueNmm / (nutFactor * diameterMM)
}

// ShortFormTorqueNmm is ShortFormForceN the other way: T = K D F.
func ShortFormTorqueNmm(forceN, nutFactor, diameterMM float64) float64 {
	return nutFactor * diameterMM * forceN
}

// ScatterN returns the least and greatest force (N) of a joint whose nominal force
// scatters by ±Γ: (1−Γ)F and (1+Γ)F [7].
func ScatterN(nominalN, scatter float64) (leastN, greatestN float64) {
	return (1 - scatter) * nominalN, (1 + scatter) * nominalN
}

// LeastByTighteningFactorN returns the least force (N) of a joint tightened to at
// most greatestN with tightening factor αA: Fmax/αA [1].
func LeastByTighteningFactorN(greatestN, tighteningFactor float64) float64 {
	return greatestN / tighteningFactor
}

// ProofClampN returns the clamp (N) at a share of a fastener's proof stress (MPa)
// on its stress area (mm²).
func ProofClampN(proofMPa, stressAreaMM2, share float64) float64 {
	return share * proofMPa * stressAreaMM2
}
