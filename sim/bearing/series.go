package bearing

import "math"

// A Series is a set of bearings and plain springs that carry one and the same
// axial force, so that their deflections add: approach = C F^0.9 + F·s. It is the
// force-against-interference law of a preloaded pair [1] section 10.3.
//
// The zero value is rigid.
type Series struct {
	ContactSum   float64 // C, the sum of the contact constants, mm per N^0.9
	SpringMMPerN float64 // s, the sum of the linear compliances, mm/N
}

// InSeries returns the Series of the given bearings, rings included.
func InSeries(bearings ...Tapered) Series {
	var s Series
	for _, b := range bearings {
		s.ContactSum += b.contact()
		s.SpringMMPerN += 1 / b.RingStiffnessNPerMM
	}
	return s
}

// With returns the Series with one more linear spring (N/mm) in the chain.
func (s Series) With(stiffnessNPerMM float64) Series {
	s.SpringMMPerN += 1 / stiffnessNPerMM
	return s
}

// ApproachMM returns the total approach (mm) at a force (N); zero for a force of
// zero or less.
func (s Series) ApproachMM(forceN float64) float64 {
	if !(forceN > 0) {
		return 0
	}
	return s.ContactSum*math.Pow(forceN, loadPower) + forceN*s.SpringMMPerN
}

// leastForceN is the force at which the stiffness is taken when the true force is
// smaller, because F^-0.1 has no limit at zero.
const leastForceN = 1e-6

// StiffnessNPerMM returns dF/d(approach) (N/mm) at a force (N).
func (s Series) StiffnessNPerMM(forceN float64) float64 {
	if !(forceN > leastForceN) {
		forceN = leastForceN
	}
	return 1 / (loadPower*s.ContactSum*math.Pow(forceN, loadPower-1) + s.SpringMMPerN)
}

// ForceN returns the force (N) that an interference (mm) produces: the inverse of
// ApproachMM, to about 1e-12 of its value. Zero for an interference of zero or
// less. The Series must hold at least one bearing.
//
// Newton's method runs on log F, where the law is all but a straight line (its
// slope lies between 0.9 and 1), so it cannot leave the bracket and needs three
// or four steps from any start.
func (s Series) ForceN(interferenceMM float64) float64 {
	if !(interferenceMM > leastInterferenceMM) {
		return 0
	}
	// At this force the two terms together are near the target already.
	force := interferenceMM * s.StiffnessNPerMM(6000)
	for range 30 {
		contact := s.ContactSum * math.Pow(force, loadPower)
		spring := force * s.SpringMMPerN
		step := math.Log(interferenceMM/(contact+spring)) * (contact + spring) / (loadPower*contact + spring)
		force *= math.Exp(step)
		if math.Abs(step) < 1e-13 {
			break
		}
	}
	return force
}

// leastInterferenceMM is the interference below which the force counts as zero. It
// is far below the size of an atom and keeps the logarithms in range.
const leastInterferenceMM = 1e-30
