package scenarios_test

import (
	"shimwright/sim"
	"shimwright/sim/act"
)

// recorder is a stand that keeps what it showed.
type recorder struct {
	*sim.Stand
	outs []sim.Outcome
}

func (r *recorder) Do(a act.Act) (sim.Outcome, error) {
	o, err := r.Stand.Do(a)
	if err == nil {
		r.outs = append(r.outs, o)
	}
	return o, err
}
