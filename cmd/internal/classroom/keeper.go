package classroom

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"

	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/web"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
)

// Keeper keeps the attempts of the pupils for a web bench; an owner is a pupil's id.
type Keeper struct{ *Room }

// Begin implements web.Keeper: a job of a pupil's own choice, which is no part of anything
// that is set.
func (k Keeper) Begin(ctx context.Context, owner string, h attempt.Header) (string, error) {
	rec := attempt.New(h.Terms, h.Order, h.FamilyText, h.Seed, h.Units)
	rec.BeginAt(h.Begin)
	x := records.Attempt{ID: records.NewID(), Pupil: owner, Head: string(rec.HeaderLine()), Begun: k.Clock()}
	return x.ID, notFound(k.Store.Begin(ctx, x))
}

func notFound(err error) error {
	if errors.Is(err, records.ErrNone) {
		return web.ErrNotFound
	}
	return err
}

// of finds an attempt of an owner.
func (k Keeper) of(ctx context.Context, owner, id string) (records.Attempt, error) {
	x, err := k.Store.Attempt(ctx, id)
	if err == nil && (x.Pupil != owner || owner == "") {
		return records.Attempt{}, web.ErrNotFound
	}
	return x, notFound(err)
}

// Record implements web.Keeper.
func (k Keeper) Record(ctx context.Context, owner, id string) (*attempt.Record, error) {
	x, err := k.of(ctx, owner, id)
	if err != nil {
		return nil, err
	}
	return k.record(ctx, x)
}

// record is the record of an attempt.
func (r *Room) record(ctx context.Context, x records.Attempt) (*attempt.Record, error) {
	lines, err := r.Store.Lines(ctx, x.ID, 0)
	if err != nil {
		return nil, err
	}
	return attempt.Read(strings.NewReader(x.Head + strings.Join(lines, "")))
}

// Append implements web.Keeper. Errors: web.ErrClosed too.
func (k Keeper) Append(ctx context.Context, owner, id string, had int, line []byte) error {
	x, err := k.of(ctx, owner, id)
	if err != nil {
		return err
	}
	switch err := k.mayWork(ctx, x); {
	case errors.Is(err, ErrOver), errors.Is(err, ErrNotYet):
		return fmt.Errorf("%w: %w", web.ErrClosed, err)
	case err != nil:
		return err
	}
	err = k.Store.Append(ctx, id, had, records.Act{Line: string(line), Signs: bytes.Contains(line, []byte(`"act":"`+act.SignOff.String()+`"`)), Done: k.Clock()})
	var stale *records.StaleError
	if errors.As(err, &stale) {
		return web.ErrConflict
	}
	return err
}

// mayWork says whether an attempt can be added to now.
func (r *Room) mayWork(ctx context.Context, x records.Attempt) error {
	if x.Assignment == "" {
		return nil
	}
	a, err := r.Store.Assignment(ctx, x.Assignment)
	if err != nil {
		return err
	}
	extra, err := r.Store.ExtraTime(ctx, a.ID)
	if err != nil {
		return err
	}
	return r.open(a, extra[x.Pupil])
}

// List implements web.Keeper.
func (k Keeper) List(ctx context.Context, owner string) ([]web.Kept, error) {
	all, err := k.Store.AttemptsOf(ctx, owner)
	if err != nil {
		return nil, err
	}
	out := make([]web.Kept, len(all))
	for i, x := range all {
		rec, err := attempt.Read(strings.NewReader(x.Head))
		if err != nil {
			return nil, err
		}
		out[i] = web.Kept{ID: x.ID, Header: rec.Header, Acts: x.Acts, SignedOff: x.Signed}
	}
	return out, nil
}

// Did is told after an act that was done or refused, with the stage that the job has reached,
// for the board.
func (r *Room) Did(ctx context.Context, id string, stage int, refused bool) error {
	if refused {
		return r.Store.Refuse(ctx, id, r.Clock())
	}
	r.mu.Lock()
	last, known := r.stages[id]
	r.stages[id] = stage
	r.mu.Unlock()
	if known && last == stage {
		return nil
	}
	return r.Store.Reach(ctx, id, stage)
}
