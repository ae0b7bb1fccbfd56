package sim

import (
	"shimwright/sim/act"
	"shimwright/sim/history"
)

// A Recorder is a Stand that keeps the steps of the acts done on it, in order. An act
// that is refused leaves none.
type Recorder struct {
	*Stand
	Steps []history.Step
}

// Do is that of the Stand.
func (r *Recorder) Do(a act.Act) (history.Step, error) {
	o, err := r.Stand.Do(a)
	if err == nil {
		r.Steps = append(r.Steps, o)
	}
	return o, err
}
