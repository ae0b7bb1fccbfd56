package reveal

import (
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
)

// RestOf is what a job is still going to cost as it was left, in minutes. An axle that is signed
// for costs its bill. One that is not has to be finished by somebody else, of some habits: what that
// technician spends on it from where it stands, and the bill of the axle then.
//
// Errors: steps that the job's axle does not take; an axle that cannot be finished.
func RestOf(costs cost.Table, job scenarios.Job, steps []history.Step, finisher technician.Habits) (minutes float64, err error) {
	left, err := again(job, steps)
	if err != nil || left.Status().SignedOff {
		return BillOf(costs, job.Card, left.Stand).TotalMin(), err
	}
	finish := func() error {
		_, err := technician.GoOn(left, job.Card.Known, finisher, job.Card.Before, left.Steps)
		return err
	}
	if err := finish(); err != nil {
		// From a heap that nobody could go on with, all comes out again.
		if left, err = again(job, steps); err != nil {
			return 0, err
		}
		for _, f := range []act.Form{act.RemoveCase, act.RemovePinion} {
			_, _ = left.Do(act.Act{Form: f}) // what is not in cannot come out
		}
		if err := finish(); err != nil {
			return 0, err
		}
	}
	for _, o := range left.Steps[len(steps):] {
		work, parts := costs.Spent(job.Card.Family.Design, o)
		minutes += work + parts
	}
	return minutes + BillOf(costs, job.Card, left.Stand).TotalMin(), nil
}

// again plays steps on a job's axle once more.
func again(job scenarios.Job, steps []history.Step) (*sim.Recorder, error) {
	s, err := job.Stand()
	if err != nil {
		return nil, err
	}
	r := &sim.Recorder{Stand: s}
	for _, o := range steps {
		if _, err := r.Do(o.Act); err != nil {
			return r, err
		}
	}
	return r, nil
}
