package technician

import (
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A Policy is where a technician departs from the reference one: in what it takes for true
// of the axle, in what it does, in what it takes a step to have shown. Everything else that
// technician does well. The zero Policy departs in nothing.
type Policy struct {
	Know func(*Known)                     // changes what is taken for true before the start
	Do   func(Mind, act.Act) []act.Act    // what is done in the place of an act; nothing: it is left out and taken for done
	See  func(Mind, *history.Step)        // changes what a step is taken to have shown
	Work func(Bench, Known, Habits) error // takes the place of Work; nil: Work
}

// A Mind is what a technician has before it when it departs from an act.
type Mind struct {
	Known  Known
	Status history.Status
	Wanted []act.Act      // what the reference technician would have done so far
	Steps  []history.Step // what was done, with what it was taken to have shown
}

// Did tells whether an act of a form has been done.
func (m Mind) Did(f act.Form) bool {
	_, did := m.Last(f)
	return did
}

// Last returns the last step of a form.
func (m Mind) Last(f act.Form) (history.Step, bool) {
	for _, s := range slices.Backward(m.Steps) {
		if s.Act.Form == f {
			return s, true
		}
	}
	return history.Step{}, false
}

// LastReading returns the last reading of one of some kinds.
func (m Mind) LastReading(kinds ...gauge.Kind) (gauge.Reading, bool) {
	for _, s := range slices.Backward(m.Steps) {
		for _, r := range slices.Backward(s.Readings) {
			if slices.Contains(kinds, r.Kind) {
				return r, true
			}
		}
	}
	return gauge.Reading{}, false
}

// With returns the bench and the knowledge of a technician who departs by some policies, the
// first of them nearest to the axle.
func With(b Bench, k Known, policies ...Policy) (Bench, Known) {
	for _, p := range policies {
		if p.Know != nil {
			p.Know(&k)
		}
		b = &departing{Bench: b, policy: p, mind: Mind{Known: k}}
	}
	return b, k
}

// WorkBy does a job by some policies. Errors as Work.
func WorkBy(b Bench, k Known, h Habits, policies ...Policy) error {
	work := Work
	for _, p := range policies {
		if p.Work != nil {
			work = p.Work
		}
	}
	b, k = With(b, k, policies...)
	return work(b, k, h)
}

// departing is a bench at which a technician departs by a policy.
type departing struct {
	Bench
	policy Policy
	mind   Mind
}

// Do does what the policy has in the place of an act. An act left out shows the technician
// what it expects to see.
func (d *departing) Do(a act.Act) (history.Step, error) {
	d.mind.Status = d.Bench.Status()
	acts := Instead(a)
	if d.policy.Do != nil {
		acts = d.policy.Do(d.mind, a)
	}
	d.mind.Wanted = append(d.mind.Wanted, a)
	out := d.imagined(a)
	for i, x := range acts {
		var err error
		if out, err = d.Bench.Do(x); err != nil {
			return out, err
		}
		if i < len(acts)-1 {
			d.mind.Steps = append(d.mind.Steps, out)
		}
	}
	if d.policy.See != nil {
		out.Readings, out.Feels = slices.Clone(out.Readings), slices.Clone(out.Feels) // whoever keeps the step keeps what was read
		d.policy.See(d.mind, &out)
	}
	d.mind.Steps = append(d.mind.Steps, out)
	return out, nil
}

// imagined is what a technician who leaves a reading out takes for read.
func (d *departing) imagined(a act.Act) history.Step {
	out, known := history.Step{Act: a, Before: d.mind.Status, After: d.mind.Status}, d.mind.Known
	switch a.Form {
	case act.MeasureDepth:
		out.Readings = []gauge.Reading{{Kind: gauge.Depth, Lengths: []quantity.Length{known.WantedDistance()}}}
	case act.MeasureDepthShim:
		out.Readings = []gauge.Reading{{Kind: gauge.DepthShimSize, Lengths: []quantity.Length{d.mind.Status.DepthShim}}}
	case act.TightenNutAngle:
		out.Feels = []history.Feel{history.NoEndPlay}
	case act.MeasureTorque:
		kind, right := gauge.PinionTorque, known.PinionTorqueSpec().Mid()
		if d.mind.Status.CaseIn {
			kind = gauge.TotalTorque
		}
		out.Readings = []gauge.Reading{{Kind: kind, Torques: []quantity.Torque{quantity.Torque(right)}}}
	}
	return out
}

// Instead lists acts, for a policy's Do.
func Instead(acts ...act.Act) []act.Act { return acts }

// LeaveOut is a policy's Do that never does some acts.
func LeaveOut(forms ...act.Form) func(Mind, act.Act) []act.Act {
	return func(_ Mind, a act.Act) []act.Act {
		if slices.Contains(forms, a.Form) {
			return nil
		}
		return Instead(a)
	}
}

// Choose is a policy's Do that takes another option than an act's own.
func Choose(f act.Form, at int, option act.Option) func(Mind, act.Act) []act.Act {
	return func(_ Mind, a act.Act) []act.Act {
		if a.Form == f {
			a.Choices = slices.Clone(a.Choices)
			a.Choices[at] = option
		}
		return Instead(a)
	}
}

// Size is a stocked size as it is typed, in the unit its shelf is kept in.
func Size(stock family.Stock, mm float64) quantity.Entered { return size(stock, mm) }

// Count is a number of turns, notches or places as it is typed.
func Count(n float64) quantity.Entered { return count(n, quantity.UnitTurn) }
