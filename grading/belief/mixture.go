package belief

import (
	"cmp"
	"math"
	"slices"
)

// A Switch is something that is there or not, and where it is adds to a quantity or to the
// noise of readings.
type Switch int

// A Slab is a size that a switch may add, by mean and standard deviation.
type Slab struct{ Mean, SD float64 }

// Even returns an even spread between two limits as n slabs side by side.
func Even(low, high float64, n int) []Slab {
	out := make([]Slab, n)
	width := (high - low) / float64(n)
	for k := range out {
		out[k] = Slab{low + (float64(k)+0.5)*width, width / math.Sqrt(12)}
	}
	return out
}

// A Mixture is a belief over quantities and switches: one Gaussian for every combination
// of switches that still has a chance worth counting [3].
type Mixture struct {
	parts    []part // the likeliest first
	whole    *Gaussian
	switches []added
	bits     int
}

// A part is the belief where the switches in on are there and the others are not. Each
// slab of a switch has its own bit.
type part struct {
	on     uint64
	weight float64
	g      *Gaussian
	lent   bool // g is that of another mixture too: a copy of it is to be changed
}

type added struct {
	to     int
	first  int // bit of the first slab
	slabs  []Slab
	chance float64 // while it is kept apart
	apart  bool
	aside  bool
}

func (a added) mask() uint64 { return (1<<len(a.slabs) - 1) << a.first }

// Combinations beyond most, and those with less than least of the chance, are given up.
const (
	most  = 48
	least = 1e-4
)

// Mix returns a belief without switches.
func Mix(g *Gaussian) *Mixture { return &Mixture{parts: []part{{weight: 1, g: g}}} }

// May adds a switch that is there with a chance and then adds to quantity i a size out of
// slabs, each as likely; with i below zero it adds to the noise of readings alone. At most
// 64 slabs can be added. Until a reading touches the quantity nothing can have been learnt
// of the switch, and it makes no parts.
func (m *Mixture) May(i int, chance float64, slabs ...Slab) Switch {
	m.whole = nil
	m.switches = append(m.switches, added{to: i, first: m.bits, slabs: slabs, chance: chance, apart: true})
	m.bits += len(slabs)
	return Switch(len(m.switches) - 1)
}

// Aside says that a switch is not to be told with the rest: Whole goes by the likelier of
// there and not there. That is for what is rare and so large that mean and standard
// deviation with it and without it say nothing of either.
func (m *Mixture) Aside(s Switch) {
	m.switches[s].aside = true
	m.whole = nil
}

// told lists the parts that Whole goes by.
func (m *Mixture) told() []part {
	out := m.parts
	for s, a := range m.switches {
		if !a.aside || a.apart {
			continue
		}
		likely := m.Chance(Switch(s)) > 0.5
		var kept []part
		for _, p := range out {
			if m.there(p, Switch(s)) == likely {
				kept = append(kept, p)
			}
		}
		if len(kept) > 0 {
			out = kept
		}
	}
	return out
}

// split makes parts of a switch that has been kept apart.
func (m *Mixture) split(s Switch) {
	a := &m.switches[s]
	if !a.apart {
		return
	}
	a.apart = false
	var out []part
	for _, p := range m.parts {
		for k := range a.slabs {
			out = append(out, part{on: p.on, weight: p.weight * a.chance / float64(len(a.slabs)), g: p.g.Clone()})
			a.put(&out[len(out)-1], k)
		}
		p.weight *= 1 - a.chance
		out = append(out, p)
	}
	m.parts = out
	m.tidy()
}

// touch splits the switches that a reading of h depends on.
func (m *Mixture) touch(h Look) {
	for s, a := range m.switches {
		if a.apart && h.on(a.to) != 0 {
			m.split(Switch(s))
		}
	}
}

// put makes slab k there in a part.
func (a added) put(p *part, k int) {
	p.on |= 1 << (a.first + k)
	if a.to >= 0 {
		p.g.Move(a.to, a.slabs[k].Mean, a.slabs[k].SD)
	}
}

// there tells whether a switch is there in a part.
func (m *Mixture) there(p part, s Switch) bool { return p.on&m.switches[s].mask() != 0 }

// Chance returns the chance that a switch is there.
func (m *Mixture) Chance(s Switch) float64 {
	if a := m.switches[s]; a.apart {
		return a.chance
	}
	sum := 0.0
	for _, p := range m.parts {
		if m.there(p, s) {
			sum += p.weight
		}
	}
	return math.Min(sum, 1)
}

// Settle makes it known whether a switch is there.
func (m *Mixture) Settle(s Switch, there bool) {
	a := &m.switches[s]
	if a.apart {
		a.chance = 0
		if there {
			a.chance = 1
		}
		m.split(s)
		return
	}
	var out []part
	for _, p := range m.parts {
		if m.there(p, s) == there {
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		// That it is so had been given up: now it is.
		m.own()
		for _, p := range m.parts {
			for k, slab := range a.slabs {
				if bit := uint64(1) << (a.first + k); p.on&bit != 0 && a.to >= 0 {
					p.g.Move(a.to, -slab.Mean, 0)
				}
			}
			p.on &^= a.mask()
			if there {
				a.put(&p, 0)
			}
			out = append(out, p)
		}
	}
	m.parts = out
	m.tidy()
}

// Forget drops a switch: nothing hangs any more on whether it was there.
func (m *Mixture) Forget(s Switch) {
	m.split(s)
	for i := range m.parts {
		m.parts[i].on &^= m.switches[s].mask()
	}
	m.tidy()
}

// tidy joins parts that are the same by now, scales the weights to one and gives up what
// has hardly a chance.
func (m *Mixture) tidy() {
	m.whole = nil
	slices.SortStableFunc(m.parts, func(a, b part) int { return cmp.Compare(a.on, b.on) })
	var out []part
	for i := 0; i < len(m.parts); {
		j := i + 1
		for j < len(m.parts) && m.parts[j].on == m.parts[i].on {
			j++
		}
		out = append(out, joined(m.parts[i:j]))
		i = j
	}
	slices.SortStableFunc(out, func(a, b part) int { return cmp.Compare(likeness(b.weight), likeness(a.weight)) })
	out = out[:min(len(out), most)]
	for len(out) > 1 && out[len(out)-1].weight < least*out[0].weight {
		out = out[:len(out)-1]
	}
	sum := 0.0
	for _, p := range out {
		sum += p.weight
	}
	for i := range out {
		out[i].weight /= sum
	}
	m.parts = out
}

// likeness orders weights, those the same that differ in the last bits alone: which of two equally
// likely parts is given up must not depend on the machine.
func likeness(weight float64) uint64 {
	const hair = 28 // bits: a few parts in a hundred million
	return (math.Float64bits(weight) + 1<<(hair-1)) >> hair
}

// joined returns one part with the weight, mean and covariance of all.
func joined(parts []part) part {
	if len(parts) == 1 {
		return parts[0]
	}
	n := len(parts[0].g.mean)
	all := part{on: parts[0].on, g: blank(n)}
	for _, p := range parts {
		all.weight += p.weight
	}
	for _, p := range parts {
		w := p.weight / all.weight
		for i, x := range p.g.mean {
			all.g.mean[i] += float64(w * x)
		}
	}
	var off [Quantities]float64
	for _, p := range parts {
		w := p.weight / all.weight
		for i, x := range p.g.mean {
			off[i] = x - all.g.mean[i]
		}
		for i := range n {
			row, from := all.g.cov[at(i, 0):at(i+1, 0)], p.g.cov[at(i, 0):at(i+1, 0)]
			for j, c := range from {
				row[j] += float64(w * (c + float64(off[i]*off[j])))
			}
		}
	}
	return all
}

// Whole returns the Gaussian with the mean and covariance of the belief, but see Aside. It
// is not to be changed.
func (m *Mixture) Whole() *Gaussian {
	if m.whole != nil {
		return m.whole
	}
	told := m.told()
	if m.whole = joined(told).g; len(told) == 1 {
		m.whole = m.whole.Clone()
	}
	for _, a := range m.switches {
		if a.apart && !a.aside && a.to >= 0 && a.chance > 0 {
			mean, square := 0.0, 0.0
			for _, s := range a.slabs {
				share := a.chance / float64(len(a.slabs))
				mean += float64(share * s.Mean)
				square += float64(share * (float64(s.Mean*s.Mean) + float64(s.SD*s.SD)))
			}
			m.whole.Move(a.to, mean, math.Sqrt(math.Max(square-mean*mean, 0)))
		}
	}
	return m.whole
}

// Mean returns the mean of quantity i.
func (m *Mixture) Mean(i int) float64 { return m.Whole().Mean(i) }

// SD returns the standard deviation of quantity i.
func (m *Mixture) SD(i int) float64 { return m.Whole().SD(i) }

// Of returns the mean and standard deviation of a combination.
func (m *Mixture) Of(h Look) (mean, sd float64) { return m.Whole().Of(h) }

// Narrowed is that of the Gaussian with the belief's mean and covariance.
func (m *Mixture) Narrowed(want, h Look, sd float64) (left, shift float64) {
	return m.Whole().Narrowed(want, h, sd)
}

// Chances returns the belief about a combination, with noise of standard deviation sd
// added: normal laws with their weights, the likeliest first.
func (m *Mixture) Chances(h Look, sd float64) []Chance {
	out := make([]Chance, len(m.parts))
	var room [Quantities]term
	t := h.terms(&room)
	for i, p := range m.parts {
		mean, v := p.g.of(t)
		out[i] = Chance{p.weight, mean, math.Max(v, 0) + sd*sd}
	}
	for _, a := range m.switches {
		if k := h.on(a.to); a.apart && k != 0 && a.chance > 0 {
			out = a.with(out, k)
		}
	}
	for i := range out {
		out[i].SD = math.Sqrt(out[i].SD)
	}
	return out
}

// with adds what a switch that is kept apart may add, k times, to laws whose spreads are
// variances.
func (a added) with(laws []Chance, k float64) []Chance {
	var out []Chance
	for _, l := range laws {
		for _, s := range a.slabs {
			if w := l.Weight * a.chance / float64(len(a.slabs)); w > least {
				out = append(out, Chance{w, l.Mean + k*s.Mean, l.SD + k*k*s.SD*s.SD})
			}
		}
		if w := l.Weight * (1 - a.chance); w > 0 {
			out = append(out, Chance{w, l.Mean, l.SD})
		}
	}
	slices.SortStableFunc(out, func(a, b Chance) int { return cmp.Compare(b.Weight, a.Weight) })
	sum := 0.0
	for _, l := range out {
		sum += l.Weight
	}
	for i := range out {
		out[i].Weight /= sum
	}
	return out
}

// A Chance is a normal law with its weight among others.
type Chance struct{ Weight, Mean, SD float64 }

// Below returns the chance of being below x under laws whose weights add up to one.
func Below(laws []Chance, x float64) float64 {
	sum := 0.0
	for _, l := range laws {
		sum += l.Weight * Cumulative((x-l.Mean)/l.SD)
	}
	return sum
}

// Noise is what a switch adds to the standard deviation of a reading where it is there,
// in squares.
type Noise struct {
	From Switch
	SD   float64
}

// Read updates the belief with a reading as Gaussian.Read does, and weighs the switches by
// how likely it was under each. A reading that no part gives a chance to changes nothing.
func (m *Mixture) Read(h Look, c, y, sd float64, from ...Noise) error {
	m.touch(h)
	for _, n := range from {
		m.split(n.From)
	}
	var room [Quantities]term
	t := h.terms(&room)
	return m.update(func(p part) (float64, error) {
		s := sd
		for _, n := range from {
			if m.there(p, n.From) {
				s = math.Hypot(s, n.SD)
			}
		}
		return p.g.read(t, y-c, s)
	})
}

// Above, Below and Between cut the belief as those of Gaussian do.
func (m *Mixture) Above(h Look, limit, sd float64) error {
	return m.Between(h, limit, math.Inf(1), sd)
}

// Below cuts the belief to h·x + noise < limit.
func (m *Mixture) Below(h Look, limit, sd float64) error {
	return m.Between(h, math.Inf(-1), limit, sd)
}

// Between cuts the belief to low < h·x + noise < high.
func (m *Mixture) Between(h Look, low, high, sd float64) error {
	m.touch(h)
	var room [Quantities]term
	t := h.terms(&room)
	return m.update(func(p part) (float64, error) { return p.g.between(t, low, high, sd) })
}

// update applies a reading to every part and weighs them by how likely it was.
func (m *Mixture) update(by func(part) (logChance float64, err error)) error {
	m.own()
	logs := make([]float64, len(m.parts))
	var first error
	greatest := math.Inf(-1)
	for i, p := range m.parts {
		l, err := by(p)
		if err != nil {
			l = math.Inf(-1)
			if first == nil {
				first = err
			}
		}
		logs[i] = l + math.Log(p.weight)
		greatest = math.Max(greatest, logs[i])
	}
	m.whole = nil
	if math.IsInf(greatest, -1) {
		return first
	}
	for i := range m.parts {
		m.parts[i].weight = math.Exp(logs[i] - greatest)
	}
	m.tidy()
	return nil
}

// Move shifts quantity i by d, unsure by a standard deviation of sd.
func (m *Mixture) Move(i int, d, sd float64) { m.each(func(g *Gaussian) { g.Move(i, d, sd) }) }

// Set replaces what is believed of quantity i.
func (m *Mixture) Set(i int, mean, sd float64) {
	var h Look
	h[i] = 1
	m.touch(h)
	m.each(func(g *Gaussian) { g.Set(i, mean, sd) })
}

// Add adds a combination of the quantities to quantity i.
func (m *Mixture) Add(i int, h Look) {
	m.touch(h)
	m.each(func(g *Gaussian) { g.Add(i, h) })
}

func (m *Mixture) each(do func(*Gaussian)) {
	m.whole = nil
	m.own()
	for _, p := range m.parts {
		do(p.g)
	}
}

// own takes copies of what is another mixture's too, before it is changed.
func (m *Mixture) own() {
	for i, p := range m.parts {
		if p.lent {
			m.parts[i].g, m.parts[i].lent = p.g.Clone(), false
		}
	}
}

// Clone returns an independent copy. Nothing is copied before one of the two changes; two
// clones of one mixture are not to be made at once.
func (m *Mixture) Clone() *Mixture {
	for i := range m.parts {
		m.parts[i].lent = true
	}
	c := *m
	c.parts = slices.Clone(m.parts)
	c.switches = slices.Clone(m.switches)
	return &c
}

// Without returns the belief were some switches known not to be there. It shares what it can
// with the belief it comes from and is only to be asked.
func (m *Mixture) Without(switches ...Switch) *Mixture {
	c := *m
	c.whole = nil
	c.switches = slices.Clone(m.switches)
	var mask uint64
	for _, s := range switches {
		if c.switches[s].apart {
			c.switches[s].chance = 0
		} else {
			mask |= c.switches[s].mask()
		}
	}
	if mask == 0 {
		return &c
	}
	var kept []part
	sum := 0.0
	for _, p := range m.parts {
		if p.on&mask == 0 {
			kept, sum = append(kept, p), sum+p.weight
		}
	}
	if len(kept) == 0 {
		return m
	}
	for i := range kept {
		kept[i].weight /= sum
	}
	c.parts = kept
	return &c
}
