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
	cov  []float64 // the lower triangle, row by row: see at
}

// blank returns a Gaussian of zeros over n quantities.
func blank(n int) *Gaussian { return over(n, make([]float64, n+at(n, 0))) }

// over lays means and covariance of n quantities over a slice, so that a copy is one copy.
func over(n int, all []float64) *Gaussian { return &Gaussian{mean: all[:n], cov: all[n:]} }

// at is where the covariance of quantities i and j stands, j no greater than i.
func at(i, j int) int { return i*(i+1)/2 + j }

// New returns independent quantities with the given means and standard deviations, no more of
// them than Quantities.
func New(mean, sd []float64) *Gaussian {
	g := blank(len(mean))
	copy(g.mean, mean)
	for i := range min(len(mean), len(sd)) {
		g.cov[at(i, i)] = sd[i] * sd[i]
	}
	return g
}

// Clone returns an independent copy.
func (g *Gaussian) Clone() *Gaussian {
	n := len(g.mean)
	return over(n, slices.Clone(g.mean[:n+len(g.cov)]))
}

// Mean returns the mean of quantity i.
func (g *Gaussian) Mean(i int) float64 { return g.mean[i] }

// SD returns the standard deviation of quantity i.
func (g *Gaussian) SD(i int) float64 {
	return math.Sqrt(math.Max(g.cov[at(i, i)], 0))
}

// Quantities is how many quantities a Look can combine.
const Quantities = 32

// A Look is a linear combination of the quantities: weights by index.
type Look [Quantities]float64

// Plus returns the combination of a look and another times k.
func (h Look) Plus(k float64, other Look) Look {
	for i, w := range other {
		h[i] += float64(k * w)
	}
	return h
}

// Times returns the combination k times as large.
func (h Look) Times(k float64) Look {
	for i := range h {
		h[i] *= k
	}
	return h
}

// on is the weight of quantity i, which may be none (below 0).
func (h *Look) on(i int) float64 {
	if i < 0 {
		return 0
	}
	return h[i]
}

type term struct {
	i int
	w float64
}

// terms lists a look's weights that are not zero, in the order of the quantities. room is where
// they go, so that no call has to make some.
func (h *Look) terms(room *[Quantities]term) []term {
	out := room[:0]
	for i, w := range h {
		if w != 0 {
			out = append(out, term{i, w})
		}
	}
	return out
}

// Of returns the mean and standard deviation of the combination.
func (g *Gaussian) Of(h Look) (mean, sd float64) {
	var room [Quantities]term
	mean, v := g.of(h.terms(&room))
	return mean, math.Sqrt(math.Max(v, 0))
}

func (g *Gaussian) of(h []term) (mean, variance float64) {
	for _, a := range h {
		mean += float64(a.w * g.mean[a.i])
		for _, b := range h {
			variance += float64(float64(a.w*b.w) * g.cov[at(max(a.i, b.i), min(a.i, b.i))])
		}
	}
	return mean, variance
}

// cross returns h·mean, cov·h and h·cov·h.
func (g *Gaussian) cross(h []term) (mean float64, ph [Quantities]float64, s float64) {
	n := len(g.mean)
	for _, t := range h {
		mean += float64(t.w * g.mean[t.i])
		for i, c := range g.cov[at(t.i, 0):at(t.i+1, 0)] {
			ph[i] += float64(c * t.w)
		}
		for i := t.i + 1; i < n; i++ {
			ph[i] += float64(g.cov[at(i, t.i)] * t.w)
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
	var room [Quantities]term
	_, err := g.read(h.terms(&room), y-c, sd)
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
	g.shift(&ph, off/s, 1/s)
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
	var room [Quantities]term
	_, err := g.between(h.terms(&room), low, high, sd)
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
	g.shift(&ph, m/root, (1-v)/s)
	return math.Log(z), nil
}

// shift moves the mean by ph·k and takes ph·ph'·q off the covariance, keeping its diagonal
// non-negative.
func (g *Gaussian) shift(ph *[Quantities]float64, k, q float64) {
	for i := range g.mean {
		p := ph[i]
		if p == 0 {
			continue
		}
		g.mean[i] += float64(p * k)
		row := g.cov[at(i, 0):at(i+1, 0)]
		for j, x := range ph[:i] {
			row[j] -= float64(float64(p*x) * q)
		}
		row[i] = math.Max(row[i]-float64(float64(p*p)*q), 0)
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
	g.cov[at(i, i)] += sd * sd
}

// Set replaces what is believed of quantity i: it is independent of the others now.
func (g *Gaussian) Set(i int, mean, sd float64) {
	clear(g.cov[at(i, 0):at(i+1, 0)])
	for j := i + 1; j < len(g.mean); j++ {
		g.cov[at(j, i)] = 0
	}
	g.mean[i], g.cov[at(i, i)] = mean, sd*sd
}

// Add adds a combination of the quantities to quantity i.
func (g *Gaussian) Add(i int, h Look) {
	var room [Quantities]term
	mean, ph, s := g.cross(h.terms(&room))
	g.mean[i] += mean
	g.cov[at(i, i)] += 2*ph[i] + s
	for j := range g.mean {
		if j != i {
			g.cov[at(max(i, j), min(i, j))] += ph[j]
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
	var room [Quantities]term
	_, ph, s := g.cross(h.terms(&room))
	s += sd * sd
	if s <= 0 {
		return before, 0
	}
	var c float64
	for _, t := range want.terms(&room) {
		c += float64(t.w * ph[t.i])
	}
	shift = math.Abs(c) / math.Sqrt(s)
	return math.Sqrt(math.Max(before*before-shift*shift, 0)), shift
}
