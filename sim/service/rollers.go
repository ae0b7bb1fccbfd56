package service

import (
	"fmt"
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/solve"
)

// A Share is how one bearing carries its load.
type Share struct {
	RadialN, AxialN float64
	HeaviestN       float64 // load of the most loaded roller
	ZoneDeg         float64 // arc over which rollers carry load, 360 when all do
	EquivalentN     float64 // dynamic equivalent load
	radialMM        float64 // how far the cone goes off centre
}

// rollers is one bearing with the law of a single roller.
type rollers struct {
	b        bearing.Tapered
	ring     bearing.Series
	sin, cos float64
	cosAt    []float64 // of each roller's place from the middle of the load
}

func newRollers(b bearing.Tapered) rollers {
	r := rollers{b: b, ring: bearing.InSeries(b), cosAt: make([]float64, b.Rollers)}
	r.sin, r.cos = math.Sincos(b.ContactAngleDeg * math.Pi / 180)
	for i := range r.cosAt {
		r.cosAt[i] = math.Cos(2 * math.Pi * float64(i) / float64(b.Rollers))
	}
	return r
}

// loadN is the law of one roller: what it carries when squeezed by mm along its
// normal. It is the bearing's axial law [2] taken back to one of its rollers.
func (r rollers) loadN(mm float64) float64 {
	if mm <= 0 {
		return 0
	}
	return r.ring.ForceN(mm/r.sin) / (float64(r.b.Rollers) * r.sin)
}

// squeezeMM is the inverse of loadN.
func (r rollers) squeezeMM(loadN float64) float64 {
	return r.ring.ApproachMM(loadN*float64(r.b.Rollers)*r.sin) * r.sin
}

// sums returns the radial and axial force for a cone that has moved axially by
// axialMM into its cup (negative: backed off) and off centre by offMM.
func (r rollers) sums(axialMM, offMM float64) (radialN, axialN float64) {
	for _, c := range r.cosAt {
		q := r.loadN(axialMM*r.sin + offMM*r.cos*c)
		radialN += q * c * r.cos
		axialN += q * r.sin
	}
	return radialN, axialN
}

// offTolMM is how closely a displacement is solved, far below what anything here
// can see.
const offTolMM = 1e-9

// under returns how the bearing carries a radial force when its cone stands axialMM
// into the cup.
func (r rollers) under(radialN, axialMM float64) (Share, error) {
	s := Share{RadialN: radialN}
	if radialN > 0 {
		// With this displacement the middle roller alone would do, and a hair more.
		alone := r.squeezeMM(radialN/r.cos) + offTolMM
		most := math.Max(alone, alone-axialMM*r.sin) / r.cos
		root, err := solve.Bracketed(func(off float64) float64 {
			f, _ := r.sums(axialMM, off)
			return f - radialN
		}, 0, most, offTolMM)
		if err != nil {
			return s, fmt.Errorf("bearing under %.0f N across it: %w", radialN, err)
		}
		s.radialMM = root.X
	}
	_, s.AxialN = r.sums(axialMM, s.radialMM)
	s.HeaviestN = r.loadN(axialMM*r.sin + s.radialMM*r.cos)
	s.ZoneDeg = zoneDeg(axialMM*r.sin, s.radialMM*r.cos)
	s.EquivalentN = ISO281EquivalentN(r.b, radialN, s.AxialN)
	if s.ZoneDeg < 180 {
		s.EquivalentN = math.Max(s.EquivalentN, r.narrowZoneN(axialMM, s.radialMM))
	}
	return s, nil
}

// zoneDeg returns the arc (degrees) over which a squeeze of even + wave·cos ψ is
// above zero.
func zoneDeg(even, wave float64) float64 {
	switch {
	case wave == 0 && even <= 0:
		return 0
	case even >= wave:
		return 360
	}
	return 2 * math.Acos(math.Max(-1, -even/wave)) * 180 / math.Pi
}

// narrowZoneN returns the dynamic equivalent load where fewer than half the rollers
// carry, for which ISO 281 has no rule: the mean of the rollers' fourth powers, which
// a point on the turning cone meets [3], scaled to be the radial load itself where
// half of them carry, as ISO 281 has it there [4].
func (r rollers) narrowZoneN(axialMM, offMM float64) float64 {
	sum := 0.0
	for _, c := range r.cosAt {
		q := r.loadN(axialMM*r.sin + offMM*r.cos*c)
		sum += q * q * q * q
	}
	return math.Pow(sum/float64(r.b.Rollers), 0.25) * float64(r.b.Rollers) * r.cos * halfZone
}

// halfZone is Jr/J1 where half the rollers carry, for the power 10/9 of line contact:
// the mean of cos^(19/9) over the mean fourth power of cos^(10/9).
const halfZone = 0.37637

// ISO281EquivalentN returns the dynamic equivalent load (N) of a single-row tapered
// bearing by the catalogue rule [4]: the radial force alone up to Fa/Fr = e, and
// 0.4 Fr + Y Fa above, with e = 1.5 tan α. Both forces in N, neither negative.
func ISO281EquivalentN(b bearing.Tapered, radialN, axialN float64) float64 {
	e := 1.5 * math.Tan(b.ContactAngleDeg*math.Pi/180)
	if axialN <= e*radialN {
		return radialN
	}
	return 0.4*radialN + b.Y*axialN
}

// lifePower is the exponent of ISO 281 for roller bearings [4].
const lifePower = 10.0 / 3

// SystemLife returns the rating life of two bearings as one, of which either may
// fail first: (L1^-9/8 + L2^-9/8)^-8/9, the Weibull slope of roller bearings [4].
// Lives in any one unit, above zero.
func SystemLife(first, second float64) float64 {
	const slope = 9.0 / 8
	return math.Pow(math.Pow(first, -slope)+math.Pow(second, -slope), -1/slope)
}

// RelativeLife returns the rating life under one equivalent load as a multiple of
// that under another: (P other / P)^(10/3) [4]. Zero for a load that is not above
// zero.
func RelativeLife(equivalentN, otherN float64) float64 {
	if !(equivalentN > 0 && otherN > 0) {
		return 0
	}
	return math.Pow(otherN/equivalentN, lifePower)
}

// A pair is two opposed bearings on one shaft. A thrust above zero presses A home.
type pair struct {
	a, b                rollers
	aSeat, bSeat        float64 // axial stiffness of the seats, N/mm
	preloadN, endPlayMM float64
}

// A loaded is a pair under load. shiftMM is how far the shaft went toward A from
// where it stood unloaded, or from the middle of its play.
type loaded struct {
	a, b    Share
	shiftMM float64
}

// under solves the balance: both radial forces, the thrust, and the room the pair
// was set with. The interference the preload needed, or the end play with its sign
// changed, is what the two approaches must add up to.
func (p pair) under(aRadialN, bRadialN, thrustN float64) (loaded, error) {
	room := -p.endPlayMM
	aAt := -p.endPlayMM / 2
	if p.preloadN > 0 {
		aAt = p.a.ring.ApproachMM(p.preloadN) + p.preloadN/p.aSeat
		room = aAt + p.b.ring.ApproachMM(p.preloadN) + p.preloadN/p.bSeat
	}
	var out loaded
	var failed error
	residual := func(aMM float64) float64 {
		a, err := p.a.under(aRadialN, aMM)
		if err != nil {
			failed = err
			return math.NaN()
		}
		bN := a.AxialN - thrustN
		bMM := room - aMM - a.AxialN/p.aSeat - bN/p.bSeat
		b, err := p.b.under(bRadialN, bMM)
		if err != nil {
			failed = err
			return math.NaN()
		}
		out = loaded{a, b, aMM + a.AxialN/p.aSeat - aAt}
		return b.AxialN - bN
	}
	reach := 1 + p.endPlayMM
	root, err := solve.Bracketed(residual, -reach, reach, offTolMM)
	if failed != nil {
		return out, failed
	}
	if err != nil {
		return out, fmt.Errorf("bearing pair under a thrust of %.0f N: %w", thrustN, err)
	}
	residual(root.X)
	return out, failed
}
