package bench

import (
	"errors"
	"slices"

	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/history"
)

// errTold ends the work of a technician who is only asked what comes first.
var errTold = errors.New("told")

// asked is a bench where a technician who sees what the trainee sees works along with what
// has been done, and says what would be done next. Nothing is done at it.
type asked struct {
	status history.Status
	ahead  []history.Step // done by the trainee, not yet by the technician
	idle   []history.Step // done, and of an axle that has not changed since: answered once each
	first  *act.Act
}

func (a *asked) Status() history.Status { return a.status }

func (a *asked) Do(x act.Act) (history.Step, error) {
	for i, o := range a.ahead {
		if o.Act.String() == x.String() {
			a.idle = append(slices.Clone(a.idle), a.ahead[:i]...)
			a.ahead, a.status = a.ahead[i+1:], o.After
			return o, nil
		}
		if !changesNothing(o) {
			break
		}
	}
	switch x.Form {
	case act.RecordValue:
		// Whether it is true is for the acceptance list to say.
		_, written := a.status.Written(x.Choices[0])
		if written || slices.ContainsFunc(a.ahead, func(o history.Step) bool {
			return o.Act.Form == act.RecordValue && o.Act.Choices[0] == x.Choices[0]
		}) {
			return history.Step{Act: x}, nil
		}
	case act.SpreadHousing:
		if a.status.Spread > 0 {
			return history.Step{Act: x}, nil
		}
	}
	for i, o := range a.idle {
		if o.Act.String() == x.String() && (o.Before.Changes == a.status.Changes || x.Form.Verb() == "test") {
			a.idle = append(a.idle[:i:i], a.idle[i+1:]...)
			return o, nil
		}
	}
	if a.first == nil {
		a.first = &x
	}
	return history.Step{}, errTold
}

// changesNothing tells whether a step leaves axle and tools as they were.
func changesNothing(o history.Step) bool {
	return o.Before.Changes == o.After.Changes && groupOf(o.Act.Form) != Turning && groupOf(o.Act.Form) != Measuring
}

// Hint is what the reference technician would do next, going by what this bench has shown
// and nothing else; ok is false where there is nothing left to do. The technician takes the
// job up as early as what was done since is what the technician would have done too, so that
// a correction begun is gone through with.
func (b *Bench) Hint() (next act.Act, ok bool) {
	if b.Status().SignedOff {
		return act.Act{}, false
	}
	for k := range len(b.outs) + 1 {
		a := &asked{status: b.Status(), ahead: b.outs[k:], idle: b.outs[:k]}
		if k < len(b.outs) {
			a.status = b.outs[k].Before
		}
		// The error is errTold, or that of a technician who gives up before the first act.
		_, _ = technician.GoOn(a, b.Card().Known, technician.Competent(), b.Card().Before, b.outs[:k])
		if a.first != nil && !movesAny(a.ahead) {
			return *a.first, true
		}
	}
	return act.Act{}, false
}

// movesAny tells whether any of some steps moved or read something.
func movesAny(steps []history.Step) bool {
	for _, o := range steps {
		if !changesNothing(o) {
			return true
		}
	}
	return false
}
