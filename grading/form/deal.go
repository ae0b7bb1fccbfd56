package form

import (
	"cmp"
	"math"
	"slices"
)

// dealt is forms under way: what stands in them, and the spares of each place.
type dealt struct {
	forms  [][]Job
	spare  [][]Job // by position; positions of one pair share a pool
	values []value
	sums   [][]float64 // by form and quantity: sum of the form's values
}

// A value is a matched quantity, counted in margins of a form's mean.
type value struct {
	of    func(Job) float64
	total float64 // of all jobs in the forms
}

// deal trims every pool to what is needed and deals it out to and fro.
func deal(b Blueprint, pools []*pool) *dealt {
	places := b.Places()
	d := &dealt{forms: make([][]Job, b.Forms), spare: make([][]Job, len(places))}
	for i := range d.forms {
		d.forms[i] = make([]Job, len(places))
	}
	for _, p := range pools {
		keep, spare := trim(p, b.Margins)
		slices.SortStableFunc(keep, func(x, y Job) int {
			return cmp.Or(cmp.Compare(x.Measure.Number(), y.Measure.Number()), cmp.Compare(x.Number, y.Number))
		})
		turn := 0
		var last int
		for at, place := range places {
			if !place.is(p.place) {
				continue
			}
			last = at
			for k := range b.Forms {
				form := k
				if turn%2 == 1 {
					form = b.Forms - 1 - k
				}
				d.forms[form][at] = keep[turn*b.Forms+k]
			}
			turn++
		}
		d.spare[last] = spare
	}
	d.weigh(b.Margins)
	return d
}

// trim keeps the jobs of a pool nearest to its middle, by the sum of squares over the
// matched quantities in margins.
func trim(p *pool, m Margins) (keep, spare []Job) {
	far := make([]float64, len(p.jobs))
	for _, q := range quantities() {
		if q.margin == nil {
			continue
		}
		values := make([]float64, len(p.jobs))
		for i, j := range p.jobs {
			values[i] = q.of(j.Measure)
		}
		middle := median(values)
		margin := q.margin(m, middle)
		for i, v := range values {
			if margin > 0 {
				far[i] += (v - middle) / margin * (v - middle) / margin
			}
		}
	}
	order := make([]int, len(p.jobs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(far[x], far[y]) })
	for k, i := range order {
		if k < p.need {
			keep = append(keep, p.jobs[i])
		} else {
			spare = append(spare, p.jobs[i])
		}
	}
	return keep, spare
}

func median(v []float64) float64 {
	s := slices.Sorted(slices.Values(v))
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// weigh fixes the scales and adds the forms up.
func (d *dealt) weigh(m Margins) {
	jobs := float64(len(d.forms[0]))
	for _, q := range quantities() {
		if q.margin == nil {
			continue
		}
		mean := 0.0
		for _, f := range d.forms {
			for _, j := range f {
				mean += q.of(j.Measure) / jobs / float64(len(d.forms))
			}
		}
		scale := q.margin(m, mean) * jobs
		if scale <= 0 {
			continue // nothing is asked of it, or it is nought everywhere
		}
		d.values = append(d.values, value{of: func(j Job) float64 { return q.of(j.Measure) / scale }})
	}
	d.sums = make([][]float64, len(d.forms))
	for i, f := range d.forms {
		d.sums[i] = make([]float64, len(d.values))
		for k := range d.values {
			for _, j := range f {
				v := d.values[k].of(j)
				d.sums[i][k] += v
				d.values[k].total += v
			}
		}
	}
}

// exchange is one possible exchange: the job at a position of a form against that at a
// position of another form, or against a spare (form -1).
type exchange struct {
	form, at   int
	other, pos int
}

// enough bounds the exchanges: far more than forms of the greatest size have taken.
const enough = 5000

// swap makes the best exchange as long as there is one that helps. It returns how many were
// made.
func (d *dealt) swap() int {
	// Less than this is rounding, and would go to and fro.
	const least = 1e-9
	for made := range enough {
		best, gain := exchange{}, least
		d.each(func(x exchange) {
			if g := d.gain(x); g > gain {
				best, gain = x, g
			}
		})
		if gain <= least {
			return made
		}
		d.make(best)
	}
	return enough
}

// each goes through every exchange of jobs of one pair of family and kind.
func (d *dealt) each(try func(exchange)) {
	places := d.forms[0]
	for form := range d.forms {
		for at := range places {
			for pos := range places {
				if !places[at].is(places[pos].Place) {
					continue
				}
				for other := form + 1; other < len(d.forms); other++ {
					try(exchange{form, at, other, pos})
				}
				for i := range d.spare[pos] {
					// Spares stand at the last position of their pair.
					try(exchange{form, at, -1 - pos, i})
				}
			}
		}
	}
}

// of returns where the other job of an exchange stands.
func (d *dealt) of(x exchange) *Job {
	if x.other < 0 {
		return &d.spare[-1-x.other][x.pos]
	}
	return &d.forms[x.other][x.pos]
}

// gain is by how much an exchange lowers the sum of squares of the forms' distances from
// their mean: for each quantity, sum of squares less the square of the sum over the forms.
func (d *dealt) gain(x exchange) float64 {
	mine, theirs := d.forms[x.form][x.at], *d.of(x)
	n := float64(len(d.forms))
	sum := 0.0
	for k, v := range d.values {
		by := v.of(theirs) - v.of(mine)
		a := d.sums[x.form][k]
		if x.other >= 0 {
			b := d.sums[x.other][k]
			sum += a*a + b*b - (a+by)*(a+by) - (b-by)*(b-by)
		} else {
			sum += a*a - (a+by)*(a+by) + ((v.total+by)*(v.total+by)-v.total*v.total)/n
		}
	}
	if math.IsNaN(sum) {
		return 0
	}
	return sum
}

func (d *dealt) make(x exchange) {
	mine, theirs := &d.forms[x.form][x.at], d.of(x)
	for k := range d.values {
		v := &d.values[k]
		by := v.of(*theirs) - v.of(*mine)
		d.sums[x.form][k] += by
		if x.other >= 0 {
			d.sums[x.other][k] -= by
		} else {
			v.total += by
		}
	}
	*mine, *theirs = *theirs, *mine
}
