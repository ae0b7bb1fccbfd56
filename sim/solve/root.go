package solve

import (
	"errors"
	"fmt"
	"math"
)

// ErrNoBracket is returned when the function has the same sign at both ends of
// the interval, so no root is known to lie between them.
var ErrNoBracket = errors.New("no sign change between the two ends")

// ErrNotConverged is returned when the iteration limit is reached before the
// bracket is as narrow as was asked.
var ErrNotConverged = errors.New("root search did not converge")

// maxEvaluations bounds a search; bisection alone needs about 60 for full
// double precision, so reaching this means the function is not a number.
const maxEvaluations = 200

// A Root is the outcome of a search.
type Root struct {
	X           float64 // the root, in the caller's unit
	Residual    float64 // the function's value there
	Evaluations int
}

// Bracketed finds a root of f between lo and hi, where f must change sign. It
// stops when the root is known within tol (absolute, in the unit of x) or the
// residual is exactly zero. The method is Brent's [1]: secant or inverse
// quadratic steps, falling back to bisection so that the bracket always shrinks.
//
// Errors: ErrNoBracket when f(lo) and f(hi) have the same sign or are not
// numbers, ErrNotConverged at the iteration limit.
func Bracketed(f func(x float64) float64, lo, hi, tol float64) (Root, error) {
	a, b := lo, hi
	fa, fb := f(a), f(b)
	n := 2
	switch {
	case fa == 0:
		return Root{X: a, Evaluations: n}, nil
	case fb == 0:
		return Root{X: b, Evaluations: n}, nil
	case math.IsNaN(fa), math.IsNaN(fb), fa > 0 == (fb > 0):
		return Root{}, fmt.Errorf("%w: f(%g) = %g, f(%g) = %g", ErrNoBracket, lo, fa, hi, fb)
	}
	c, fc := a, fa
	d := b - a
	e := d
	for n < maxEvaluations {
		if fb > 0 == (fc > 0) {
			c, fc = a, fa
			d = b - a
			e = d
		}
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		step := 2*epsilon*math.Abs(b) + 0.5*tol
		mid := 0.5 * (c - b)
		if math.Abs(mid) <= step || fb == 0 {
			return Root{X: b, Residual: fb, Evaluations: n}, nil
		}
		if math.Abs(e) >= step && math.Abs(fa) > math.Abs(fb) {
			var p, q float64
			s := fb / fa
			if a == c {
				p = 2 * mid * s
				q = 1 - s
			} else {
				q = fa / fc
				r := fb / fc
				p = s * (2*mid*q*(q-r) - (b-a)*(r-1))
				q = (q - 1) * (r - 1) * (s - 1)
			}
			if p > 0 {
				q = -q
			} else {
				p = -p
			}
			if 2*p < math.Min(3*mid*q-math.Abs(step*q), math.Abs(e*q)) {
				e, d = d, p/q
			} else {
				d = mid
				e = d
			}
		} else {
			d = mid
			e = d
		}
		a, fa = b, fb
		if math.Abs(d) > step {
			b += d
		} else {
			b += math.Copysign(step, mid)
		}
		fb = f(b)
		n++
		if math.IsNaN(fb) {
			return Root{}, fmt.Errorf("%w: f(%g) is not a number", ErrNotConverged, b)
		}
	}
	return Root{X: b, Residual: fb, Evaluations: n}, ErrNotConverged
}

// epsilon is the spacing of double-precision numbers near 1.
const epsilon = 2.220446049250313e-16
