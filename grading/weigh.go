package grading

import (
	"fmt"
	"math"
	"slices"

	"shimwright/sim/family"
)

// An Alternative is one way that a decision could have gone, with the minutes that were
// still to be expected of it on what was known: of the work it asks for and of what may
// have to be done again. Only differences count.
type Alternative struct {
	What    string  `json:"what"`
	Minutes float64 `json:"minutes"`
	Chosen  bool    `json:"chosen,omitempty"`
}

// weigh adds to the decision just noted what it was weighed against, the cheapest first.
// The same words count once, and a way that could not be priced not at all.
func (r *reasoner) weigh(ways ...Alternative) {
	d := &r.out[len(r.out)-1]
	for _, w := range ways {
		if math.IsInf(w.Minutes, 0) || math.IsNaN(w.Minutes) {
			continue
		}
		w.Minutes = hundredths(w.Minutes)
		i := slices.IndexFunc(d.Alternatives, func(a Alternative) bool { return a.What == w.What })
		if i < 0 {
			d.Alternatives = append(d.Alternatives, w)
			continue
		}
		d.Alternatives[i].Chosen = d.Alternatives[i].Chosen || w.Chosen
	}
	slices.SortStableFunc(d.Alternatives, func(a, b Alternative) int {
		switch {
		case a.Minutes < b.Minutes:
			return -1
		case a.Minutes > b.Minutes:
			return 1
		}
		return 0
	})
}

// readOrGoOn weighs a reading against going on without it.
func (r *reasoner) readOrGoOn(cost, worth float64) {
	r.weigh(Alternative{"this reading", cost, true}, Alternative{"going on without it", worth, false})
}

// sizes prices the best stocked size, its neighbours and the one taken.
func (r *reasoner) sizes(stock family.Stock, what string, best, taken float64, price func(mm float64) float64) []Alternative {
	const neighbours = 2
	var out []Alternative
	add := func(mm float64) {
		w := Alternative{fmt.Sprintf(what, r.w.len(mm)), price(mm), math.Abs(mm-taken) < stock.StepMM/4}
		out = append(out, w)
	}
	for _, s := range stock.Sizes() {
		if math.Abs(s-best) < (neighbours+0.5)*stock.StepMM || math.Abs(s-taken) < stock.StepMM/4 {
			add(s)
		}
	}
	return out
}
