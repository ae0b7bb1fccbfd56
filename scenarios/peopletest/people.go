package peopletest

import (
	"fmt"

	"shimwright/scenarios"
	"shimwright/scenarios/misconception"
	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/rng"
)

// A Sort is what a person stands for.
type Sort string

// The sorts.
const (
	Reference Sort = "reference"
	School    Sort = "school"  // another legitimate way of work
	Slow      Sort = "slow"    // right, and slower than it needs to be
	Hostile   Sort = "hostile" // after a score without the work
	Pure      Sort = "pure"    // one misconception, sensible otherwise
	Mixed     Sort = "mixed"   // misconceptions acted on now and then, mistakes beside them
	Random    Sort = "random"
)

// A Person is a simulated technician.
type Person struct {
	Name  string
	Sort  Sort
	Holds []string // ids of misconceptions
	work  func(b technician.Bench, j scenarios.Job) error
}

// Play has a person work a job. A person may come to where it can do no more: what it has done
// until then counts. Errors: a job that cannot be put on a bench.
func (p Person) Play(j scenarios.Job) (*sim.Recorder, error) {
	s, err := j.Stand()
	if err != nil {
		return nil, err
	}
	r := &sim.Recorder{Stand: s}
	_ = p.work(r, j)
	return r, nil
}

// Work has a person work a job at a bench, as far as that person comes.
func (p Person) Work(b technician.Bench, j scenarios.Job) { _ = p.work(b, j) }

// by is work by policies.
func by(h technician.Habits, policies ...technician.Policy) func(technician.Bench, scenarios.Job) error {
	return func(b technician.Bench, j scenarios.Job) error {
		return technician.WorkBy(b, j.Card.Known, h, policies...)
	}
}

// TheReference is the reference technician.
func TheReference() Person {
	return Person{Name: "reference", Sort: Reference, work: by(technician.Competent())}
}

// Holding is a person for each misconception: sensible but for it.
func Holding() []Person {
	var out []Person
	for _, m := range misconception.All() {
		out = append(out, Person{Name: m.ID, Sort: Pure, Holds: []string{m.ID}, work: func(b technician.Bench, j scenarios.Job) error {
			if !m.CanShowOn(j.Card) {
				return technician.Work(b, j.Card.Known, technician.Competent())
			}
			return technician.WorkBy(b, j.Card.Known, technician.Competent(), m.Policy)
		}})
	}
	return out
}

// Mixtures are so many persons who hold two misconceptions and act on either in part of their
// chances, and make another mistake on part of their jobs.
func Mixtures(persons int, acts, mistakes float64) []Person {
	all := misconception.All()
	var out []Person
	for n := range persons {
		draw := rng.Stream(uint64(n), "peopletest/mixture")
		first := draw.Whole(len(all))
		second := (first + 1 + draw.Whole(len(all)-1)) % len(all)
		held := []misconception.Misconception{all[first], all[second]}
		name := fmt.Sprintf("mixture %d", n+1)
		out = append(out, Person{Name: name, Sort: Mixed, Holds: []string{held[0].ID, held[1].ID}, work: func(b technician.Bench, j scenarios.Job) error {
			chance := rng.Stream(j.Card.Seed, "peopletest/"+name)
			var departs []technician.Policy
			for _, m := range held {
				if m.CanShowOn(j.Card) {
					departs = append(departs, partly(m.Policy, acts, chance))
				}
			}
			if may := mistake.On(j.Card.Known); chance.Uniform(0, 1) < mistakes {
				departs = append(departs, may[chance.Whole(len(may))].Policy)
			}
			return technician.WorkBy(b, j.Card.Known, technician.Competent(), departs...)
		}})
	}
	return out
}

// Mistaken are so many persons who make a mistake on part of their jobs.
func Mistaken(name string, persons int, rate float64) []Person {
	var out []Person
	for n := range persons {
		label := fmt.Sprintf("peopletest/%s/%d", name, n)
		out = append(out, Person{Name: name, Sort: Mixed, work: func(b technician.Bench, j scenarios.Job) error {
			chance := rng.Stream(j.Card.Seed, label)
			if may := mistake.On(j.Card.Known); chance.Uniform(0, 1) < rate {
				return technician.WorkBy(b, j.Card.Known, technician.Competent(), may[chance.Whole(len(may))].Policy)
			}
			return technician.Work(b, j.Card.Known, technician.Competent())
		}})
	}
	return out
}

// partly acts on a policy in part of the chances: what it knows once a job, what it does and
// sees act by act.
func partly(p technician.Policy, share float64, chance rng.Source) technician.Policy {
	out := p
	if p.Know != nil && chance.Uniform(0, 1) >= share {
		out.Know = nil
	}
	if p.Do != nil {
		out.Do = func(m technician.Mind, a act.Act) []act.Act {
			if chance.Uniform(0, 1) >= share {
				return technician.Instead(a)
			}
			return p.Do(m, a)
		}
	}
	if p.See != nil {
		out.See = func(m technician.Mind, o *history.Step) {
			if chance.Uniform(0, 1) < share {
				p.See(m, o)
			}
		}
	}
	return out
}

// turned is a bench at which acts are done another way.
type turned struct {
	technician.Bench
	do func(technician.Bench, act.Act) (history.Step, error)
}

func (x turned) Do(a act.Act) (history.Step, error) { return x.do(x.Bench, a) }

// otherwise is the reference technician at such a bench.
func otherwise(do func(technician.Bench, act.Act) (history.Step, error)) func(technician.Bench, scenarios.Job) error {
	return func(b technician.Bench, j scenarios.Job) error {
		return technician.Work(turned{b, do}, j.Card.Known, technician.Competent())
	}
}
