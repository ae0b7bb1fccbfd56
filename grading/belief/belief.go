package belief

import (
	"errors"
	"math"
	"slices"
)

// ErrImpossible is returned for a reading that cannot happen under the belief: its
// variance is not positive or its probability is zero to double precision.
var ErrImpossible = errors.New("a reading that the belief gives no chance to")

// A Gaussian is a mean and covariance over n quantities. The zero value is not
// usable; make one with New.
type Gaussian struct {
	mean []float64
	cov  []float64 // row by row
}

// New returns independent quantities with the given means and standard deviations.
func New(mean, sd []float64) *Gaussian {
	n := len(mean)
	g := &Gaussian{mean: slices.Clone(mean), cov: make([]float64, n*n)}
	for i := range min(n, len(sd)) {
		g.cov[i*n+i] = sd[i] * sd[i]
	}
	return g
}

// Clone returns an independent copy.
func (g *Gaussian) Clone() *Gaussian {
	return &Gaussian{mean: slices.Clone(g.mean), cov: slices.Clone(g.cov)}
}

// Mean returns the mean of quantity i.
func (g *Gaussian) Mean(i int) float64 { return g.mean[i] }

// SD returns the standard deviation of quantity i.
func (g *Gaussian) SD(i int) float64 {
	return math.Sqrt(math.Max(g.cov[i*len(g.mean)+i], 0))
}

// A Look is a linear combination of the quantities: weights by index.
type Look map[int]float64

// Plus returns the combination of a look and another times k.
func (h Look) Plus(k float64, other Look) Look {
	sum := make(Look, len(h)+len(other))
	for i, w := range h {
		sum[i] = w
	}
	for i, w := range other {
		sum[i] += k * w
	}
	return sum
}

// Times returns the combination k times as large.
func (h Look) Times(k float64) Look { return Look{}.Plus(k, h) }

type term struct {
	i int
	w float64
}

// terms lists a look's weights in index order, so that sums do not depend on the
// order of a map.
func (h Look) terms() []term {
	out := make([]term, 0, len(h))
	for i, w := range h {
		if w != 0 {
			out = append(out, term{i, w})
		}
	}
	slices.SortFunc(out, func(a, b term) int { return a.i - b.i })
	return out
}

// Of returns the mean and standard deviation of the combination.
func (g *Gaussian) Of(h Look) (mean, sd float64) {
	mean, v := g.of(h.terms())
	return mean, math.Sqrt(math.Max(v, 0))
}

func (g *Gaussian) of(h []term) (mean, variance float64) {
	n := len(g.mean)
	for _, a := range h {
		mean += float64(a.w * g.mean[a.i])
		for _, b := range h {
			variance += float64(float64(a.w*b.w) * g.cov[a.i*n+b.i])
		}
	}
	return mean, variance
}

// cross returns h·mean, cov·h and h·cov·h.
func (g *Gaussian) cross(h []term) (mean float64, ph []float64, s float64) {
	n := len(g.mean)
	ph = make([]float64, n)
	for _, t := range h {
		mean += float64(t.w * g.mean[t.i])
		for i, c := range g.cov[t.i*n : t.i*n+n] {
			ph[i] += float64(c * t.w)
		}
	}
	for _, t := range h {
		s += float64(t.w * ph[t.i])
	}
	return mean, ph, s
}

// Read updates the belief with a reading y = h·x + c + noise, where noise has
// standard deviation sd [1].
func (g *Gaussian) Read(h Look, c, y, sd float64) error {
	_, err := g.read(h.terms(), y-c, sd)
	return err
}

// read is Read for y less its constant. It returns the log of the density that the
// belief gave the reading.
func (g *Gaussian) read(h []term, y, sd float64) (logDensity float64, err error) {
	mean, ph, s := g.cross(h)
	s += sd * sd
	if !(s > 0) || math.IsNaN(y) || math.IsInf(s, 0) {
		if math.IsInf(s, 1) {
			return 0, nil // infinitely noisy: nothing learnt
		}
		return 0, ErrImpossible
	}
	off := y - mean
	g.shift(ph, off/s, 1/s)
	return -(off*off/s + math.Log(2*math.Pi*s)) / 2, nil
}

// Above cuts the belief to h·x + noise > limit (or below it), noise of standard
// deviation sd, and keeps mean and variance of what is left [2].
func (g *Gaussian) Above(h Look, limit, sd float64) error {
	return g.Between(h, limit, math.Inf(1), sd)
}

// Below cuts the belief to h·x + noise < limit; see Above.
func (g *Gaussian) Below(h Look, limit, sd float64) error {
	return g.Between(h, math.Inf(-1), limit, sd)
}

// Between cuts the belief to low < h·x + noise < high; see Above.
func (g *Gaussian) Between(h Look, low, high, sd float64) error {
	_, err := g.between(h.terms(), low, high, sd)
	return err
}

// between returns the log of the probability that the belief gave to being there.
func (g *Gaussian) between(h []term, low, high, sd float64) (logChance float64, err error) {
	mu, ph, s := g.cross(h)
	s += sd * sd
	if !(s > 0) {
		return 0, ErrImpossible
	}
	root := math.Sqrt(s)
	m, v, z := truncated((low-mu)/root, (high-mu)/root)
	if !(z > 1e-12) {
		return 0, ErrImpossible
	}
	g.shift(ph, m/root, (1-v)/s)
	return math.Log(z), nil
}

// shift moves the mean by ph·k and takes ph·ph'·q off the covariance, keeping it
// symmetric and its diagonal non-negative.
func (g *Gaussian) shift(ph []float64, k, q float64) {
	n := len(g.mean)
	for i, p := range ph {
		if p == 0 {
			continue
		}
		g.mean[i] += float64(p * k)
		for j := 0; j < i; j++ {
			v := g.cov[i*n+j] - float64(float64(p*ph[j])*q)
			g.cov[i*n+j], g.cov[j*n+i] = v, v
		}
		g.cov[i*n+i] = math.Max(g.cov[i*n+i]-float64(float64(p*p)*q), 0)
	}
}

// truncated returns mean and variance of a standard normal kept between a and b,
// and the probability of being there.
func truncated(a, b float64) (mean, variance, z float64) {
	pa, pb := density(a), density(b)
	z = Cumulative(b) - Cumulative(a)
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

// Cumulative is the chance that a standard normal variable is below x.
func Cumulative(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// Move shifts quantity i by d, unsure by a standard deviation of sd.
func (g *Gaussian) Move(i int, d, sd float64) {
	g.mean[i] += d
	g.cov[i*len(g.mean)+i] += sd * sd
}

// Set replaces what is believed of quantity i: it is independent of the others now.
func (g *Gaussian) Set(i int, mean, sd float64) {
	n := len(g.mean)
	for j := range n {
		g.cov[i*n+j], g.cov[j*n+i] = 0, 0
	}
	g.mean[i], g.cov[i*n+i] = mean, sd*sd
}

// Add adds a combination of the quantities to quantity i.
func (g *Gaussian) Add(i int, h Look) {
	n := len(g.mean)
	mean, ph, s := g.cross(h.terms())
	g.mean[i] += mean
	g.cov[i*n+i] += 2*ph[i] + s
	for j := range n {
		if j != i {
			g.cov[i*n+j] += ph[j]
			g.cov[j*n+i] = g.cov[i*n+j]
		}
	}
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
	_, ph, s := g.cross(h.terms())
	s += sd * sd
	if s <= 0 {
		return before, 0
	}
	var c float64
	for _, t := range want.terms() {
		c += float64(t.w * ph[t.i])
	}
	shift = math.Abs(c) / math.Sqrt(s)
	return math.Sqrt(math.Max(before*before-shift*shift, 0)), shift
}
