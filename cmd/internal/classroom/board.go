package classroom

import (
	"context"
	"time"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/records"
)

// How a pupil is getting on.
type Going int

// The ways.
const (
	Absent  Going = iota // has begun nothing
	Working              // at the job
	Stuck                // no act for StuckAfter, or StuckRefused in a row that could not be done
	Signed               // the last job is signed off
)

// When somebody may need help. Common practice, no source.
const (
	StuckAfter   = 5 * time.Minute
	StuckRefused = 3
)

// A Seat is one pupil on the board.
type Seat struct {
	Pupil   records.Pupil
	Going   Going
	Title   string // of what is set
	Job     int
	Stage   bench.Stage
	Acts    int
	Refused int
	Since   time.Duration // the last act
	Over    bool          // its time is over
}

// Board is how everybody is getting on, by name.
func (r *Room) Board(ctx context.Context) ([]Seat, error) {
	pupils, err := r.Store.Pupils(ctx)
	if err != nil {
		return nil, err
	}
	latest, err := r.Store.Latest(ctx)
	if err != nil {
		return nil, err
	}
	set, err := r.Store.Assignments(ctx)
	if err != nil {
		return nil, err
	}
	byID, extra := map[string]records.Assignment{}, map[string]map[string]int{}
	for _, a := range set {
		byID[a.ID] = a
		if extra[a.ID], err = r.Store.ExtraTime(ctx, a.ID); err != nil {
			return nil, err
		}
	}
	at := map[string]records.Attempt{}
	for _, x := range latest {
		at[x.Pupil] = x
	}
	now := r.Clock()
	out := make([]Seat, len(pupils))
	for i, p := range pupils {
		s := Seat{Pupil: p}
		if x, ok := at[p.ID]; ok {
			a := byID[x.Assignment]
			s.Title, s.Job, s.Stage, s.Acts, s.Refused, s.Since = a.Title, x.Job, bench.Stage(x.Stage), x.Acts, x.Refused, now.Sub(x.Latest)
			s.Over = r.open(a, extra[a.ID][p.ID]) != nil
			switch {
			case x.Signed:
				s.Going = Signed
			case !s.Over && (s.Since >= StuckAfter || s.Refused >= StuckRefused):
				s.Going = Stuck
			default:
				s.Going = Working
			}
		}
		out[i] = s
	}
	return out, nil
}
