package form

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"shimwright/grading/difficulty"
	"shimwright/scenarios"
)

// A pool is the jobs that fit one pair of family and kind.
type pool struct {
	place   Place
	need    int // by all forms together
	jobs    []Job
	numbers []uint64 // to try yet
}

// want is how many jobs a pool gathers for so many spares a job.
func (p *pool) want(spares float64) int {
	return p.need + max(2, int(math.Ceil(spares*float64(p.need))))
}

// batch is how many numbers are tried before it is asked whether that is enough. It does
// not follow the number of workers, so that neither does the pool.
const batch = 8

// pools returns an empty pool for every pair of family and kind in the forms.
func (b Blueprint) pools() []*pool {
	var out []*pool
	for _, place := range b.Places() {
		at := slices.IndexFunc(out, func(p *pool) bool { return p.place.is(place) })
		if at < 0 {
			out, at = append(out, &pool{place: place, numbers: b.numbers(place)}), len(out)
		}
		out[at].need += b.Forms
	}
	return out
}

// gather fills the pools up to so many spares a job, as far as there are numbers.
func (s *Set) gather(pools []*pool, spares float64, workers int, progress func(done, about int)) error {
	b := s.Blueprint
	done, about := 0, 0
	for _, p := range pools {
		done += len(p.jobs)
		about += p.want(spares)
	}
	for _, p := range pools {
		maker, err := b.order(p.place).Maker()
		if err != nil {
			return err
		}
		for len(p.jobs) < p.want(spares) && len(p.numbers) > 0 {
			some := p.numbers[:min(batch, len(p.numbers))]
			before := len(p.jobs)
			if err := s.sift(p, some, measured(maker, b, some, workers)); err != nil {
				return err
			}
			p.numbers = p.numbers[len(some):]
			if done += len(p.jobs) - before; progress != nil {
				progress(min(done, about), about)
			}
		}
		if len(p.jobs) < p.need {
			return s.tooFew(p)
		}
	}
	return nil
}

// sift puts what fits of a batch of numbers into its pool.
func (s *Set) sift(p *pool, numbers []uint64, batch []found) error {
	b := s.Blueprint
	for i, one := range batch {
		s.Proof.Tried++
		if errors.Is(one.err, scenarios.ErrNoJob) {
			s.Proof.Unfinishable++
			continue
		}
		if one.err != nil {
			return one.err
		}
		s.Proof.Measured++
		switch {
		case b.Band != "" && one.measure.Band() != b.Band:
			s.Proof.OutsideBand++
		case !shows(b, one.measure):
			s.Proof.WithoutSign++
		default:
			p.jobs = append(p.jobs, Job{p.place, numbers[i], one.measure})
		}
	}
	return nil
}

func (s *Set) tooFew(p *pool) error {
	b := s.Blueprint
	why := ""
	if b.Band != "" {
		why = fmt.Sprintf("; %d of %d jobs measured were not %s", s.Proof.OutsideBand, s.Proof.Measured, b.Band)
	}
	if len(b.Mistakes) > 0 {
		why += fmt.Sprintf("; in %d the mistake would not have shown", s.Proof.WithoutSign)
	}
	return fmt.Errorf("family %s, kind %s: only %d of %d jobs found among %d numbers%s", p.place.Family.Code, p.place.Kind, len(p.jobs), p.need, len(b.numbers(p.place)), why)
}

// shows tells whether a job sets apart one of the slips that the blueprint names.
func shows(b Blueprint, m difficulty.Measure) bool {
	return len(b.Mistakes) == 0 || slices.ContainsFunc(m.Signs, func(s difficulty.Sign) bool { return s.Steps >= difficulty.ApartSteps })
}

type found struct {
	measure difficulty.Measure
	err     error
}

// measured makes and measures jobs, several at a time; each result has its own place.
func measured(maker *scenarios.Maker, b Blueprint, numbers []uint64, workers int) []found {
	n := len(numbers)
	out := make([]found, n)
	var wait sync.WaitGroup
	next := make(chan int)
	for range max(1, min(workers, n)) {
		wait.Go(func() {
			for i := range next {
				job, err := maker.Generate(numbers[i])
				if err == nil {
					out[i].measure, err = difficulty.Of(job, b.Mistakes...)
				}
				out[i].err = err
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	return out
}
