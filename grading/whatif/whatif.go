package whatif

import (
	"errors"
	"fmt"

	"shimwright/grading"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// Errors a caller may tell apart.
var (
	// ErrOpen is returned for a job that is not signed off.
	ErrOpen = errors.New("the job is not signed off: what another act would have shown stays hidden until it is")
	// ErrNoSuchAct is returned for a number that no act of the attempt has.
	ErrNoSuchAct = errors.New("the attempt has no such act")
)

// A Course is one way a job could go from an act on.
type Course struct {
	Act   act.Act
	Shown history.Step // what that act itself showed and cost
	Rest  []history.Step
	// Minutes from that act on, parts counted in.
	Minutes   shop.Minutes
	Decisions []grading.Decision // of that act
	Grade     grading.Report     // of the whole attempt so
	Anew      text.Message       // what of the work before was undone or done again
	Stopped   error              // why it could not be gone on with, else nil
	Right     bool               // the axle came out with every line of the sheet met
}

// A Fork is an attempt at one of its acts.
type Fork struct {
	N        int
	Happened Course // what was done, and how the trainee went on
	Yours    Course // what was done, and the competent hand after it
	Other    Course // the other act, and the competent hand after it
}

// Known returns the decisions made with act n of a graded attempt, counted from 1: what was
// known, what would have cost least, and what the ways were priced at. An act that decides
// nothing has none. Errors: ErrNoSuchAct.
func Known(outs []history.Step, rep grading.Report, n int) ([]grading.Decision, error) {
	if n < 1 || n > len(outs) {
		return nil, fmt.Errorf("%w: they are numbered from 1 to %d", ErrNoSuchAct, len(outs))
	}
	return decisionsOf(rep, n), nil
}

func decisionsOf(rep grading.Report, n int) []grading.Decision {
	var out []grading.Decision
	for _, d := range rep.Decisions {
		if d.Act == n {
			out = append(out, d)
		}
	}
	return out
}

// At replaces act n of a signed-off attempt, counted from 1. outs is the attempt's outcomes,
// units is for the words only. Errors: ErrNoSuchAct, ErrOpen, a *history.Refusal where the
// other act could not have been done there, and those of grading.Grade.
func At(job scenarios.Job, outs []history.Step, n int, other act.Act, units quantity.System) (Fork, error) {
	if n < 1 || n > len(outs) {
		return Fork{}, fmt.Errorf("%w: they are numbered from 1 to %d", ErrNoSuchAct, len(outs))
	}
	if outs[len(outs)-1].Act.Form != act.SignOff {
		return Fork{}, ErrOpen
	}
	f := Fork{N: n}
	var err error
	if f.Happened, err = course(job, outs[:n-1], outs[n-1].Act, actsOf(outs[n:]), units); err != nil {
		return Fork{}, err
	}
	if f.Yours, err = course(job, outs[:n-1], outs[n-1].Act, nil, units); err != nil {
		return Fork{}, err
	}
	f.Other, err = course(job, outs[:n-1], other, nil, units)
	return f, err
}

func actsOf(outs []history.Step) []act.Act {
	var out []act.Act
	for _, o := range outs {
		out = append(out, o.Act)
	}
	return out
}

// course does what came before, one act, and then the rest, or leaves the rest to the
// competent hand.
func course(job scenarios.Job, before []history.Step, a act.Act, rest []act.Act, units quantity.System) (Course, error) {
	stand, err := job.Stand()
	if err != nil {
		return Course{}, err
	}
	r := &sim.Recorder{Stand: stand}
	for _, o := range before {
		if _, err := r.Do(o.Act); err != nil {
			return Course{}, err
		}
	}
	c := Course{Act: a}
	if c.Shown, err = r.Do(a); err != nil {
		return Course{}, err
	}
	n := len(r.Steps)
	for _, next := range rest {
		if _, err := r.Do(next); err != nil {
			return Course{}, err
		}
	}
	if rest == nil && !r.Status().SignedOff {
		c.Anew, c.Stopped = technician.GoOn(r, job.Card.Known, technician.Competent(), job.Card.Before, r.Steps)
	}
	c.Rest = r.Steps[n:]
	for _, o := range r.Steps[n-1:] {
		c.Minutes += o.Minutes
		for _, p := range o.Parts {
			c.Minutes += shop.PriceOf(p)
		}
	}
	if c.Grade, err = grading.Grade(job.Card, r.Steps, units); err != nil {
		return Course{}, err
	}
	c.Decisions = decisionsOf(c.Grade, n)
	if c.Stopped == nil {
		told, err := reveal.Of(job, stand, c.Grade)
		if err != nil {
			return Course{}, err
		}
		c.Right = told.AllMet
	}
	return c, nil
}
