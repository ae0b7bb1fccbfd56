package belief

import (
	"errors"
	"math"
)

// ErrImpossible is returned for a reading that cannot happen under the belief: its
// variance is not positive or its probability is zero to double precision.
var ErrImpossible = errors.New("a reading that the belief gives no chance to")

// A Gaussian is a mean and covariance over n quantities. The zero value is not
// usable; make one with New.
type Gaussian struct {
	mean []float64
	cov  [][]float64
}

// New returns independent quantities with the given means and standard deviations.
func New(mean, sd []float64) *Gaussian {
	g := &Gaussian{mean: append([]float64(nil), mean...), cov: make([][]float64, len(mean))}
	for i := range g.cov {
		g.cov[i] = make([]float64, len(mean))
		if i < len(sd) {
			g.cov[i][i] = sd[i] * sd[i]
		}
	}
	return g
}

// Clone returns an independent copy.
func (g *Gaussian) Clone() *Gaussian {
	c := &Gaussian{mean: append([]float64(nil), g.mean...), cov: make([][]float64, len(g.cov))}
	for i := range g.cov {
		c.cov[i] = append([]float64(nil), g.cov[i]...)
	}
	return c
}

// Mean returns the mean of quantity i.
func (g *Gaussian) Mean(i int) float64 { return g.mean[i] }

// SD returns the standard deviation of quantity i.
func (g *Gaussian) SD(i int) float64 { return math.Sqrt(math.Max(g.cov[i][i], 0)) }

// A Look is a linear combination of the quantities: weights by index.
type Look map[int]float64

// terms lists a look's weights in index order, so that sums do not depend on the
// order of a map.
func (g *Gaussian) terms(h Look) []float64 {
	w := make([]float64, len(g.mean))
	for i := range w {
		w[i] = h[i]
	}
	return w
}

// Of returns the mean and standard deviation of the combination.
func (g *Gaussian) Of(h Look) (mean, sd float64) {
	w := g.terms(h)
	var v float64
	for i, wi := range w {
		mean += float64(wi * g.mean[i])
		for j, wj := range w {
			v += float64(float64(wi*wj) * g.cov[i][j])
		}
	}
	return mean, math.Sqrt(math.Max(v, 0))
}

// cross returns cov·w and w·cov·w.
func (g *Gaussian) cross(w []float64) (ph []float64, s float64) {
	ph = make([]float64, len(w))
	for i := range w {
		for j := range w {
			ph[i] += float64(g.cov[i][j] * w[j])
		}
		s += float64(w[i] * ph[i])
	}
	return ph, s
}

// Read updates the belief with a reading y = h·x + c + noise, where noise has
// standard deviation sd [1].
func (g *Gaussian) Read(h Look, c, y, sd float64) error {
	w := g.terms(h)
	ph, s := g.cross(w)
	s += sd * sd
	if !(s > 0) || math.IsNaN(y) || math.IsInf(s, 0) {
		if math.IsInf(s, 1) {
			return nil // infinitely noisy: nothing learnt
		}
		return ErrImpossible
	}
	expected := c
	for i := range w {
		expected += float64(w[i] * g.mean[i])
	}
	g.shift(ph, (y-expected)/s, 1/s)
	return nil
}

// Above cuts the belief to h·x + noise > limit (or below it), noise of standard
// deviation sd, and keeps mean and variance of what is left [2].
func (g *Gaussian) Above(h Look, limit, sd float64) error { return g.cut(h, limit, math.Inf(1), sd) }

// Below cuts the belief to h·x + noise < limit; see Above.
func (g *Gaussian) Below(h Look, limit, sd float64) error { return g.cut(h, math.Inf(-1), limit, sd) }

// Between cuts the belief to low < h·x + noise < high; see Above.
func (g *Gaussian) Between(h Look, low, high, sd float64) error { return g.cut(h, low, high, sd) }

func (g *Gaussian) cut(h Look, low, high, sd float64) error {
	w := g.terms(h)
	ph, s := g.cross(w)
	s += sd * sd
	if !(s > 0) {
		return ErrImpossible
	}
	mu := 0.0
	for i := range w {
		mu += float64(w[i] * g.mean[i])
	}
	root := math.Sqrt(s)
	a, b := (low-mu)/root, (high-mu)/root
	m, v, z := truncated(a, b)
	if !(z > 1e-12) {
		return ErrImpossible
	}
	g.shift(ph, m/root, (1-v)/s)
	return nil
}

// shift moves the mean by ph·k and takes ph·ph'·q off the covariance, keeping it
// symmetric and its diagonal non-negative.
func (g *Gaussian) shift(ph []float64, k, q float64) {
	for i := range g.mean {
		g.mean[i] += float64(ph[i] * k)
		for j := 0; j <= i; j++ {
			v := g.cov[i][j] - float64(float64(ph[i]*ph[j])*q)
			if i == j {
				v = math.Max(v, 0)
			}
			g.cov[i][j], g.cov[j][i] = v, v
		}
	}
}

// truncated returns mean and variance of a standard normal kept between a and b,
// and the probability of being there.
func truncated(a, b float64) (mean, variance, z float64) {
	pa, pb := density(a), density(b)
	z = cumulative(b) - cumulative(a)
	if z <= 0 {
		return 0, 0, 0
	}
	mean = (pa - pb) / z
	variance = 1 + (finite(a*pa)-finite(b*pb))/z - mean*mean
	return mean, math.Max(variance, 0), z
}

// finite turns the 0·∞ of an infinite bound into the limit, which is 0.
func finite(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

func density(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }

func cumulative(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// Move shifts quantity i by d, unsure by a standard deviation of sd.
func (g *Gaussian) Move(i int, d, sd float64) {
	g.mean[i] += d
	g.cov[i][i] += sd * sd
}

// Set replaces what is believed of quantity i: it is independent of the others now.
func (g *Gaussian) Set(i int, mean, sd float64) {
	for j := range g.mean {
		g.cov[i][j], g.cov[j][i] = 0, 0
	}
	g.mean[i], g.cov[i][i] = mean, sd*sd
}

// Five-point Gauss-Hermite rule for the standard normal distribution, exact for
// polynomials up to the ninth degree (from memory; the test checks its moments).
var (
	nodes   = [5]float64{-2.8569700138728, -1.3556261799742659, 0, 1.3556261799742659, 2.8569700138728}
	weights = [5]float64{0.011257411327720688, 0.22207592200561264, 0.5333333333333333, 0.22207592200561264, 0.011257411327720688}
)

// Expect returns the mean of f over a normal variable with the given mean and
// standard deviation, by a five-point rule.
func Expect(mean, sd float64, f func(x float64) float64) float64 {
	var sum float64
	for i, z := range nodes {
		sum += float64(weights[i] * f(mean+float64(z*sd)))
	}
	return sum
}

// Narrowed returns the standard deviation left in a combination of quantities after a
// reading of h with noise sd, and the standard deviation of the shift of its mean
// that the reading is expected to bring.
func (g *Gaussian) Narrowed(want, h Look, sd float64) (left, shift float64) {
	_, before := g.Of(want)
	w := g.terms(want)
	ph, s := g.cross(g.terms(h))
	s += sd * sd
	if s <= 0 {
		return before, 0
	}
	var c float64
	for i := range w {
		c += float64(w[i] * ph[i])
	}
	shift = math.Abs(c) / math.Sqrt(s)
	return math.Sqrt(math.Max(before*before-shift*shift, 0)), shift
}
