package sim

import "shimwright/sim/act"

// A Recorder is a Stand that keeps the outcomes of the acts done on it, in order. An act
// that is refused leaves none.
type Recorder struct {
	*Stand
	Outcomes []Outcome
}

// Do is that of the Stand.
func (r *Recorder) Do(a act.Act) (Outcome, error) {
	o, err := r.Stand.Do(a)
	if err == nil {
		r.Outcomes = append(r.Outcomes, o)
	}
	return o, err
}
