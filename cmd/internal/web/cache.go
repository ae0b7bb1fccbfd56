package web

import (
	"container/list"
	"context"
	"html/template"
	"sync"

	"shimwright/cmd/internal/bench"
	"shimwright/grading/class"
	"shimwright/grading/skill"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/quantity"
)

// benches are attempts that have been played again, kept ready for the next request. They
// hold nothing that the keeper has not: any may be forgotten at any time.
type benches struct {
	keeper Keeper
	most   int
	jobs   jobs

	mu    sync.Mutex
	ready map[name]*list.Element // of *readied
	order *list.List             // the one used last in front
}

// name is an attempt as it is asked for.
type name struct{ owner, id string }

// readied is one attempt; whoever works with it holds its lock.
type readied struct {
	name
	mu    sync.Mutex
	bench *bench.Bench // nil before it has been played
	lines int          // of its record after the head
	told  map[quantity.System]template.HTML
}

func newBenches(k Keeper, most int) *benches {
	return &benches{keeper: k, most: most, ready: map[name]*list.Element{}, order: list.New()}
}

func (c *benches) at(n name) *readied {
	c.mu.Lock()
	defer c.mu.Unlock()
	if e, ok := c.ready[n]; ok {
		c.order.MoveToFront(e)
		return e.Value.(*readied)
	}
	r := &readied{name: n}
	c.ready[n] = c.order.PushFront(r)
	for c.order.Len() > c.most {
		last := c.order.Back()
		delete(c.ready, last.Value.(*readied).name)
		c.order.Remove(last)
	}
	return r
}

func (c *benches) forget(r *readied) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if e, ok := c.ready[r.name]; ok && e.Value == any(r) {
		delete(c.ready, r.name)
		c.order.Remove(e)
	}
}

// with does something at the bench of an attempt as the keeper has it, one caller at a time.
// Errors: those of the keeper and of bench.Open, and what do returns.
func (c *benches) with(ctx context.Context, n name, do func(*readied) error) error {
	rec, err := c.keeper.Record(ctx, n.owner, n.id)
	if err != nil {
		return err // and nothing is made ready for a name that is none
	}
	r := c.at(n)
	r.mu.Lock()
	defer r.mu.Unlock()
	// Attempts only grow: one of the same length is the same.
	if r.bench == nil || r.lines != len(rec.Entries) {
		// Somebody may have added to it while we waited for the lock.
		if rec, err = c.keeper.Record(ctx, n.owner, n.id); err != nil {
			return err
		}
	}
	if r.bench == nil || r.lines != len(rec.Entries) {
		if r.bench, err = c.jobs.open(rec); err != nil {
			c.forget(r)
			return err
		}
		if rec.Header.Help == attempt.CoachHelp {
			r.bench.Fade(c.skillOf(ctx, n))
		}
		r.told = nil
	}
	r.lines = len(rec.Entries)
	r.bench.Keep(&saver{ctx, c.keeper, r})
	defer func() {
		if r.bench != nil {
			r.bench.Keep(nil)
		}
	}()
	return do(r)
}

// skillOf tells what an owner's other jobs show that are finished. One that cannot be read is
// passed over: a coach who says too much does no harm.
func (c *benches) skillOf(ctx context.Context, n name) skill.Skill {
	all, err := c.keeper.List(ctx, n.owner)
	if err != nil {
		return skill.Skill{}
	}
	var some []class.Attempt
	for _, k := range all {
		if k.SignedOff && k.ID != n.id && k.Header.Mode == attempt.Practice && len(some) < skill.MostOld {
			rec, err := c.keeper.Record(ctx, n.owner, k.ID)
			some = append(some, class.Attempt{File: k.ID, Record: rec, Err: err})
		}
	}
	return class.SkillOf(some)
}

// jobs are some that were made, kept for the next attempt at them: making one takes longer
// than doing again what was done on it, and a class works few.
type jobs struct {
	mu   sync.Mutex
	made map[string]func() (scenarios.Job, error)
}

// mostJobs is how many are kept; then all of them are made anew.
const mostJobs = 64

// open is bench.Open.
func (j *jobs) open(rec *attempt.Record) (*bench.Bench, error) {
	h := rec.Header
	mark := h.JobMark()
	j.mu.Lock()
	job, ok := j.made[mark]
	if !ok {
		if j.made == nil || len(j.made) >= mostJobs {
			j.made = map[string]func() (scenarios.Job, error){}
		}
		job = sync.OnceValues(func() (scenarios.Job, error) { return h.Order.Generate(h.Seed) })
		j.made[mark] = job
	}
	j.mu.Unlock()
	made, err := job()
	if err != nil {
		return nil, err
	}
	return bench.OpenOn(made, rec)
}

// saver keeps the acts of one request.
type saver struct {
	ctx    context.Context
	keeper Keeper
	*readied
}

// Append implements bench.Saver.
func (s *saver) Append(line []byte) error {
	if err := s.keeper.Append(s.ctx, s.owner, s.id, s.lines, line); err != nil {
		return err
	}
	s.lines++
	return nil
}
