// Package classroom is what goes on in a class: who comes in, what is set for whom and until
// when, the attempts that a pupil may begin and add to, how everybody is getting on, what
// has come of it, and what is handed back. It is the rules over package records, which keeps
// everything, and knows nothing of pages.
//
// The numbers of the jobs of a check and of an examination are drawn from the system's
// randomness and stay in the records until the instructor takes the attempt files out. Of
// what an axle really was nothing is told before the end, which is when the window has
// closed for everybody or the instructor has ended it.
package classroom

import (
	"context"
	"errors"
	"sync"
	"time"

	"shimwright/cmd/internal/records"
	"shimwright/sim/text"
)

// A Room is a class at work. Several may work on the same records.
type Room struct {
	Store   *records.Store
	Clock   func() time.Time
	Printer text.Printer // of what is told of results

	hashing chan struct{} // who hashes holds one: each takes 19 MB
	mu      sync.Mutex
	graded  map[string]kept[Results] // by assignment
	grades  map[string]grade         // by attempt
	stages  map[string]int           // of attempts, as the records have them
}

// kept is something worked out, and what it was worked out from.
type kept[T any] struct {
	from string
	it   T
}

// New returns the room of a class.
func New(s *records.Store, clock func() time.Time) *Room {
	const atOnce = 2
	return &Room{Store: s, Clock: clock, hashing: make(chan struct{}, atOnce), graded: map[string]kept[Results]{}, grades: map[string]grade{}, stages: map[string]int{}}
}

// What cannot be done, and why.
var (
	ErrNotYet  = text.Fail(nil, text.Say("classroom.not-open-yet", "it is not open yet"))
	ErrOver    = text.Fail(nil, text.Say("classroom.time-over", "its time is over"))
	ErrNoTries = text.Fail(nil, text.Say("classroom.every-try-this-job", "every try at this job has been used"))
	ErrNoJob   = text.Fail(nil, text.Say("classroom.has-no-such-job", "it has no such job"))
	ErrNotOver = text.Fail(nil, text.Say("classroom.not-over-for-everybody", "it is not over for everybody yet: end it first, or wait until its time is over"))
	ErrDoor    = text.Fail(nil, text.Say("classroom.class-code-name-pin", "the class code, the name or the PIN is not right"))
	ErrPhrase  = text.Fail(nil, text.Say("classroom.passphrase-not-right", "the passphrase is not right"))
	ErrTooMany = text.Fail(nil, text.Say("classroom.too-many-tries-sign", "too many tries to sign in: wait ten minutes"))
	ErrPIN     = text.Fail(nil, text.Say("classroom.pin-has-4-32", "a PIN has 4 to 32 characters"))
)

// Window tells when an assignment is open to somebody with so many minutes more.
func Window(a records.Assignment, extra int) (opens, closes time.Time) {
	closes = a.Closes
	if !closes.IsZero() {
		closes = closes.Add(time.Duration(extra) * time.Minute)
	}
	if !a.Ended.IsZero() && (closes.IsZero() || a.Ended.Before(closes)) {
		closes = a.Ended
	}
	return a.Opens, closes
}

// open says whether somebody may work at an assignment now.
func (r *Room) open(a records.Assignment, extra int) error {
	opens, closes := Window(a, extra)
	now := r.Clock()
	switch {
	case now.Before(opens):
		return ErrNotYet
	case !closes.IsZero() && !now.Before(closes):
		return ErrOver
	}
	return nil
}

// Over tells whether an assignment has ended for everybody.
func (r *Room) Over(ctx context.Context, a records.Assignment) (bool, error) {
	extra, err := r.Store.ExtraTime(ctx, a.ID)
	if err != nil {
		return false, err
	}
	most := 0
	for _, m := range extra {
		most = max(most, m)
	}
	return errors.Is(r.open(a, most), ErrOver), nil
}

// Return hands the debriefs of an assignment back: from then on each pupil can read their
// own. Errors: ErrNotOver for a check or an examination.
func (r *Room) Return(ctx context.Context, id string) error {
	a, err := r.Store.Assignment(ctx, id)
	if err != nil {
		return err
	}
	if err := r.mayTell(ctx, a); err != nil {
		return err
	}
	a.Returned = r.Clock()
	return r.Store.Reset(ctx, a)
}

// mayTell says whether what the axles of an assignment really were may be told.
func (r *Room) mayTell(ctx context.Context, a records.Assignment) error {
	if a.Mode == "" {
		return nil
	}
	over, err := r.Over(ctx, a)
	if err == nil && !over {
		err = ErrNotOver
	}
	return err
}

// End ends an assignment for everybody now, whatever extra time somebody has.
func (r *Room) End(ctx context.Context, id string) error {
	a, err := r.Store.Assignment(ctx, id)
	if err != nil {
		return err
	}
	a.Ended = r.Clock()
	return r.Store.Reset(ctx, a)
}

// Reopen takes the end of an assignment back, and gives it another end or none.
func (r *Room) Reopen(ctx context.Context, id string, closes time.Time) error {
	a, err := r.Store.Assignment(ctx, id)
	if err != nil {
		return err
	}
	if !a.Returned.IsZero() {
		return text.Fail(nil, text.Say("classroom.has-been-handed-back", "{title} has been handed back: set it anew", text.Typed("title", a.Title)))
	}
	a.Ended, a.Closes = time.Time{}, closes
	return r.Store.Reset(ctx, a)
}
