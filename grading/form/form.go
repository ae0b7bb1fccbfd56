package form

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"shimwright/grading/difficulty"
	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/sim"
	"shimwright/sim/family"
)

// A Blueprint is what the forms should be like.
type Blueprint struct {
	Families []family.Family
	Kinds    []scenarios.Kind
	Faults   scenarios.FaultRule
	Bench    Bench           // what else all jobs have in common
	Band     difficulty.Band // "" any
	Mistakes []string        // at least one of them has to show in every job; none: no matter

	Jobs, Forms int    // jobs a form, forms
	First       uint64 // the first job number tried
	Numbers     uint64 // how many numbers may be tried at each place
	Margins     Margins

	// Among, if not nil, lists the job numbers that may be tried at a place, at most so
	// many, in the order to try them in; First then says nothing.
	Among func(p Place, most int) []uint64
}

// A Bench is what jobs have in common besides family, kind and faults; see scenarios.Order.
type Bench struct {
	Off     []sim.LeftOff
	Budget  scenarios.Budget
	Weights map[string]scenarios.Weight
}

// order is what the jobs of a place are made to.
func (b Blueprint) order(p Place) scenarios.Order {
	return scenarios.Order{Family: p.Family, Kind: p.Kind, Faults: b.Faults, Off: b.Bench.Off, Budget: b.Bench.Budget, Weights: b.Bench.Weights}
}

// numbers lists the job numbers to try at a place.
func (b Blueprint) numbers(p Place) []uint64 {
	if b.Among != nil {
		return b.Among(p, int(b.Numbers))
	}
	out := make([]uint64, b.Numbers)
	for i := range out {
		out[i] = b.First + uint64(i)
	}
	return out
}

// Margins are the greatest differences allowed between the means of any two forms.
type Margins struct {
	Difficulty     float64 // points of the number
	MinutesShare   float64 // of the mean of all forms
	Decisions      float64
	Discrimination float64 // points of score
}

// Usual returns the margins that are used where nothing else is said: two points of
// difficulty, a tenth of the minutes, one decision, five points of discrimination.
func Usual() Margins {
	return Margins{Difficulty: 2, MinutesShare: 0.10, Decisions: 1, Discrimination: 5}
}

// The most that is put together at once.
const (
	MostForms = 100
	MostJobs  = 50

	mostNumbers = 1_000_000
)

// spares is how many jobs are measured beyond what the forms need, for each job needed:
// first a few, and more as long as the forms do not come out alike.
func spares() []float64 { return []float64{0.5, 1, 2, 4} }

// A Place is what stands at one position of every form.
type Place struct {
	Family family.Family
	Kind   scenarios.Kind
}

func (p Place) is(o Place) bool { return p.Family.Code == o.Family.Code && p.Kind == o.Kind }

// Places returns the places of a form. Where there are more pairs of family and kind than
// jobs, they are taken evenly from all; where fewer, they come round again.
func (b Blueprint) Places() []Place {
	var all []Place
	for _, k := range b.Kinds {
		for _, f := range b.Families {
			all = append(all, Place{f, k})
		}
	}
	out := make([]Place, b.Jobs)
	for i := range out {
		at := i % len(all)
		if len(all) > b.Jobs {
			at = spread(i, b.Jobs, len(b.Kinds), len(b.Families))
		}
		out[i] = all[at]
	}
	return out
}

// spread picks the ith of n pairs out of kinds times families so that both go round: kinds
// and families each as evenly as n allows.
func spread(i, n, kinds, families int) int {
	k := i % kinds
	f := i * families / n
	if families < n {
		f = (i + i/(kinds*families)) % families
	}
	return k*families + f
}

// Validate says what is wrong with a blueprint.
func (b Blueprint) Validate() error {
	switch {
	case len(b.Families) == 0:
		return errors.New("forms need at least one family")
	case len(b.Kinds) == 0:
		return errors.New("forms need at least one kind of job")
	case b.Jobs < 1 || b.Jobs > MostJobs:
		return fmt.Errorf("%d jobs a form is outside 1 to %d", b.Jobs, MostJobs)
	case b.Forms < 1 || b.Forms > MostForms:
		return fmt.Errorf("%d forms is outside 1 to %d", b.Forms, MostForms)
	case b.Band != "" && !slices.Contains(difficulty.Bands(), b.Band):
		return fmt.Errorf("difficulty %q is not known: there are easy, medium, hard", b.Band)
	case b.Numbers == 0:
		return errors.New("no job numbers to try")
	case b.Numbers > mostNumbers:
		return fmt.Errorf("%d job numbers to try are more than %d", b.Numbers, mostNumbers)
	case b.First+b.Numbers < b.First:
		return fmt.Errorf("job numbers from %d do not go on for %d", b.First, b.Numbers)
	}
	for _, id := range b.Mistakes {
		if _, err := mistake.Find(id); err != nil {
			return err
		}
	}
	for _, f := range b.Families {
		for _, k := range b.Kinds {
			if err := b.order(Place{f, k}).Validate(); err != nil {
				return err
			}
		}
	}
	return nil
}

// A Job is one job of a form and what was measured of it.
type Job struct {
	Place
	Number  uint64
	Measure difficulty.Measure
}

// A Set is forms put together, and the proof that they are alike.
type Set struct {
	Blueprint Blueprint
	Forms     [][]Job // each in the order of the blueprint's places
	Proof     Proof
}

// A Proof is what shows that forms are alike.
type Proof struct {
	Tried, Measured, OutsideBand, WithoutSign, Unfinishable int
	Swaps                                                   int
	Rows                                                    []Row // matched quantities first
}

// A Row compares the forms in one quantity.
type Row struct {
	Name    string
	Means   []float64 // by form
	Worst   float64   // greatest difference between two forms
	Margin  float64   // 0: not matched, shown for comparison
	Decimal int       // places worth showing
}

// Met tells whether the forms are within the margin.
func (r Row) Met() bool { return r.Margin == 0 || r.Worst <= r.Margin }

// A quantity is something that forms are compared in.
type quantity struct {
	name    string
	of      func(difficulty.Measure) float64
	margin  func(m Margins, mean float64) float64 // nil: not matched
	decimal int
}

func quantities() []quantity {
	return []quantity{
		{"difficulty", difficulty.Measure.Number, func(m Margins, _ float64) float64 { return m.Difficulty }, 1},
		{"minutes of the careful technician", func(m difficulty.Measure) float64 { return m.Minutes }, func(m Margins, mean float64) float64 { return m.MinutesShare * mean }, 1},
		{"decisions", func(m difficulty.Measure) float64 { return float64(m.Decisions) }, func(m Margins, _ float64) float64 { return m.Decisions }, 1},
		{"discrimination", func(m difficulty.Measure) float64 { return m.Discrimination }, func(m Margins, _ float64) float64 { return m.Discrimination }, 1},
		{"mean score of the panel", func(m difficulty.Measure) float64 { return m.Panel }, nil, 1},
		{"score of the careful technician", func(m difficulty.Measure) float64 { return float64(m.Careful) }, nil, 1},
		{"left open by the card, bits", func(m difficulty.Measure) float64 { return m.Entropy }, nil, 2},
	}
}

// rows compares forms in every quantity.
func rows(forms [][]Job, m Margins) []Row {
	var out []Row
	for _, q := range quantities() {
		r := Row{Name: q.name, Decimal: q.decimal}
		all := 0.0
		for _, f := range forms {
			mean := 0.0
			for _, j := range f {
				mean += q.of(j.Measure) / float64(len(f))
			}
			r.Means = append(r.Means, mean)
			all += mean / float64(len(forms))
		}
		r.Worst = slices.Max(r.Means) - slices.Min(r.Means)
		if q.margin != nil {
			r.Margin = q.margin(m, all)
		}
		out = append(out, r)
	}
	return out
}

// ErrNotAlike is returned where the forms cannot be brought within their margins.
var ErrNotAlike = errors.New("the forms cannot be made alike enough")

// Make puts forms together. workers is how many jobs are measured at once, at least 1, and
// changes nothing in the result; progress, if not nil, hears how many jobs have been
// measured of about how many. Errors: those of Validate, too few fitting jobs among the
// numbers, ErrNotAlike.
func Make(b Blueprint, workers int, progress func(done, about int)) (Set, error) {
	if err := b.Validate(); err != nil {
		return Set{}, err
	}
	s := Set{Blueprint: b}
	pools := b.pools()
	for _, share := range spares() {
		if err := s.gather(pools, share, workers, progress); err != nil {
			return Set{}, err
		}
		d := deal(b, pools)
		s.Proof.Swaps = d.swap()
		s.Forms = d.forms
		s.Proof.Rows = rows(s.Forms, b.Margins)
		if !slices.ContainsFunc(s.Proof.Rows, func(r Row) bool { return !r.Met() }) {
			return s, nil
		}
	}
	var off []string
	for _, r := range s.Proof.Rows {
		if !r.Met() {
			off = append(off, fmt.Sprintf("%s differs by %.3g, allowed is %.3g", r.Name, r.Worst, r.Margin))
		}
	}
	return s, fmt.Errorf("%w: %s; more jobs a form, fewer forms or one kind of job help", ErrNotAlike, strings.Join(off, "; "))
}
