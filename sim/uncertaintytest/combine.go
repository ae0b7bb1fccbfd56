package uncertaintytest

import (
	"errors"
	"fmt"
	"math"
)

// A Budget is the sum of several components.
type Budget struct {
	Standard         float64 // combined standard uncertainty, in the unit of the result
	DegreesOfFreedom float64 // effective; +Inf when no component limits them
}

// Combine adds components by their squares (GUM 5.1.2, inputs that do not depend on
// one another) and gives the sum the effective degrees of freedom of
// Welch-Satterthwaite (GUM G.4.1). No component at all, or one that makes no sense,
// is an error.
//
//	u² = Σ (c u_i)²        ν = u⁴ / Σ (c u_i)⁴/ν_i
func Combine(components ...Component) (Budget, error) {
	if len(components) == 0 {
		return Budget{}, errors.New("an uncertainty needs at least one component: name the instrument's limit, its step or the scatter")
	}
	var u float64
	for _, c := range components {
		if err := c.check(); err != nil {
			return Budget{}, err
		}
		u = math.Hypot(u, c.Contribution())
	}
	if math.IsInf(u, 0) {
		return Budget{}, errors.New("the components together are too large to work with")
	}
	if u == 0 {
		return Budget{DegreesOfFreedom: math.Inf(1)}, nil
	}
	var sum float64
	for _, c := range components {
		share := c.Contribution() / u // taken first, so that small amounts do not vanish in the fourth power
		sum += share * share * share * share / c.DegreesOfFreedom
	}
	// The sum cannot have fewer degrees than its poorest part, except by rounding.
	return Budget{Standard: u, DegreesOfFreedom: math.Max(1, 1/sum)}, nil
}

// As returns the whole budget as one component of another.
func (b Budget) As(name string) Component {
	return Component{Name: name, Standard: b.Standard, Sensitivity: 1, DegreesOfFreedom: b.DegreesOfFreedom}
}

// Expand returns k times the standard uncertainty, in the unit of the result (GUM
// 6.2). k must be above zero; 2 is the workshop's usual choice and holds about 95 per
// cent when degrees of freedom are plenty.
func (b Budget) Expand(k float64) (float64, error) {
	if !(k > 0) || math.IsInf(k, 0) {
		return 0, fmt.Errorf("the coverage factor is %g: it has to be more than zero, usually 2", k)
	}
	return k * b.Standard, nil
}

// ExpandTo returns the expanded uncertainty that holds the given share of cases, in
// the unit of the result, and the coverage factor it took. See CoverageFactor.
func (b Budget) ExpandTo(level float64) (expanded, k float64, err error) {
	k, err = CoverageFactor(level, b.DegreesOfFreedom)
	if err != nil {
		return 0, 0, err
	}
	return k * b.Standard, k, nil
}

// plentyDegrees is where Student's distribution is followed by its series about the
// normal one. The next term left out is then below 1e-5 of a factor up to 3.
const plentyDegrees = 1000

// degreesSlack keeps rounding from turning five readings' four degrees into three.
const degreesSlack = 1e-9

// CoverageFactor returns Student's two-sided factor for a level of confidence between
// 0 and 1 and the degrees of freedom, which are first cut down to a whole number (GUM
// G.4.1). Degrees of freedom below 1 are an error.
func CoverageFactor(level, degrees float64) (float64, error) {
	if !(level > 0 && level < 1) {
		return 0, fmt.Errorf("the level of confidence is %g: it has to lie between 0 and 1, for example 0.95", level)
	}
	if !(degrees >= 1) {
		return 0, fmt.Errorf("degrees of freedom are %g: they have to be 1 or more, take more readings", degrees)
	}
	if degrees > plentyDegrees {
		z := math.Sqrt2 * math.Erfinv(level)
		if math.IsInf(z, 0) {
			return 0, fmt.Errorf("the level of confidence %g is too near to 1", level)
		}
		return z + (z*z*z+z)/(4*degrees), nil
	}
	n := int(math.Floor(degrees * (1 + degreesSlack)))
	low, high := 0.0, math.Pi/2
	for range 200 {
		mid := (low + high) / 2
		if mid == low || mid == high {
			break
		}
		if insideStudent(mid, n) < level {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Sqrt(float64(n)) * math.Tan(low), nil
}

// insideStudent returns the share of Student's distribution with n degrees of freedom
// between -t and t, where tan angle = t/√n; NBS AMS 55, 26.7.3 and 26.7.4.
func insideStudent(angle float64, n int) float64 {
	sin, cos := math.Sin(angle), math.Cos(angle)
	if n%2 == 0 {
		term, sum := 1.0, 1.0
		for k := 1; k <= n/2-1; k++ {
			term *= cos * cos * float64(2*k-1) / float64(2*k)
			sum += term
		}
		return sin * sum
	}
	if n == 1 {
		return 2 * angle / math.Pi
	}
	term, sum := cos, cos
	for k := 1; k <= (n-3)/2; k++ {
		term *= cos * cos * float64(2*k) / float64(2*k+1)
		sum += term
	}
	return 2 / math.Pi * (angle + sin*sum)
}
