package stakes

import (
	"fmt"
	"maps"
	"slices"

	"shimwright/grading/cost"
	"shimwright/grading/ledger"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
)

// The limits; see the package comment.
const (
	checkShare  = 0.95
	costShare   = 0.5
	aloneShare  = 0.80
	leastGained = 0.5 // minutes by which a reading must be worth more than signing
)

// A Result is what a table makes of the jobs of a family.
type Result struct {
	Jobs       int
	Reads      float64 // share of jobs on which reading beats signing when the case is first in for good
	Again      float64 // the same after the last change of the axle
	CarefulMin float64 // mean cost of the careful hand, with what its axles are still going to cost
	BlindMin   float64 // of one that never measures
	TurnedMin  float64 // of one that turns every correction round
	Alone      string  // look or reading that is most often all that is worth taking first, if any
	AloneShare float64
}

// Warnings says in plain words what the table does not make worth while; none is best.
func (r Result) Warnings() []string {
	var out []string
	if r.Reads < checkShare {
		out = append(out, fmt.Sprintf("by these costs it pays to sign a finished axle without reading it on %.0f jobs in 100: comebacks cost too little, or readings too much", 100*(1-r.Reads)))
	}
	most := func(what string, minutes float64) {
		if r.CarefulMin > costShare*minutes {
			out = append(out, fmt.Sprintf("by these costs careful work comes to %.0f minutes a job and %s to %.0f: it should be twice as dear at least, or careless work can hardly be marked down", r.CarefulMin, what, minutes))
		}
	}
	most("work without measuring", r.BlindMin)
	most("work with every correction turned round", r.TurnedMin)
	if r.AloneShare > aloneShare {
		out = append(out, fmt.Sprintf("by these costs %q is the only thing worth doing first on %.0f jobs in 100: there is nothing to choose", r.Alone, 100*r.AloneShare))
	}
	return out
}

// Of plays so many jobs of a family, those of the first seeds, at a table of costs. Errors:
// a family that cannot be worked or graded.
func Of(costs cost.Table, fam family.Family, jobs int) (Result, error) {
	whole, err := scenarios.Order{Family: fam}.Maker()
	if err != nil {
		return Result{}, err
	}
	over, err := scenarios.Order{Family: fam, Kind: scenarios.PreviousWork}.Maker()
	if err != nil {
		return Result{}, err
	}
	gains := map[bool]sim.Gains{} // with used bearings and without
	for _, used := range []bool{false, true} {
		if gains[used], err = sim.NominalGains(fam, used); err != nil {
			return Result{}, err
		}
	}
	res := Result{Jobs: jobs}
	careful := technician.Habits{PatternLast: true} // who has read backlash in a mock-up knows it before
	var alone [2]map[string]int                     // by kind of job
	alone[0], alone[1] = map[string]int{}, map[string]int{}
	var begun [2]float64
	var reads, again float64
	n := float64(jobs)
	for seed := uint64(1); seed <= uint64(jobs); seed++ {
		job, err := whole.Sketch(seed)
		if err != nil {
			return Result{}, err
		}
		for _, h := range []struct {
			habits technician.Habits
			mean   *float64
		}{{careful, &res.CarefulMin}, {technician.Habits{NeverMeasures: true}, &res.BlindMin}, {technician.Habits{SignsTurned: true}, &res.TurnedMin}} {
			b, p, err := play(costs, job, h.habits)
			if err != nil {
				return Result{}, err
			}
			*h.mean += p / n
			if h.mean != &res.CarefulMin {
				continue
			}
			pays := func(acts int) bool {
				book := ledger.New(costs, job.Card, gains[job.Card.UsedBearings])
				s := book.Begin()
				for _, o := range b.Steps[:acts] {
					book.Take(s, o)
				}
				return book.Sign(s).Min()-book.Value(s).Min() > leastGained
			}
			if pays(firstReading(b.Steps)) {
				reads++
			}
			if pays(lastChange(b.Steps)) {
				again++
			}
		}
		for i, m := range []*scenarios.Maker{whole, over} {
			j, err := m.Sketch(seed)
			if err != nil {
				continue // a first draw need not be a job of its kind
			}
			begun[i]++
			book := ledger.New(costs, j.Card, gains[j.Card.UsedBearings])
			if w := book.Worthwhile(book.Begin()); len(w) == 1 {
				alone[i][w[0].String()]++
			}
		}
	}
	res.Reads, res.Again = reads/n, again/n
	for i, counts := range alone {
		for _, what := range slices.Sorted(maps.Keys(counts)) {
			if share := float64(counts[what]) / begun[i]; share > res.AloneShare {
				res.Alone, res.AloneShare = what, share
			}
		}
	}
	return res, nil
}

// play has a technician work a job and returns what that cost and is going to cost, an axle that
// is left unsigned to somebody else.
func play(costs cost.Table, job scenarios.Job, h technician.Habits) (*sim.Recorder, float64, error) {
	stand, err := job.Stand()
	if err != nil {
		return nil, 0, err
	}
	b := &sim.Recorder{Stand: stand}
	_ = technician.Work(b, job.Card.Known, h)
	spent := 0.0
	for _, o := range b.Steps {
		work, parts := costs.Spent(job.Card.Family.Design, o)
		spent += work + parts
	}
	rest, err := reveal.RestOf(costs, job, b.Steps, technician.Habits{PatternLast: true})
	return b, spent + rest, err
}

// firstReading returns how many acts there are before backlash is first read.
func firstReading(outs []history.Step) int {
	for i, o := range outs {
		if o.Act.Form == act.MountIndicator || o.Act.Form == act.MeasureBacklash {
			return i
		}
	}
	return len(outs)
}

// lastChange returns how many acts there are up to the last one that changed the axle.
func lastChange(outs []history.Step) int {
	n := 0
	for i, o := range outs {
		switch o.Act.Form {
		case act.FitPinion, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.FitCase, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps, act.FitDepthShim:
			n = i + 1
		}
	}
	return n
}
