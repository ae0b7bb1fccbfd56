// Package keepertest holds every keeper of a web bench to what it promises, for tests.
package keepertest

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/web"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// Header is what the attempts of the suite are begun on.
func Header(seed uint64) attempt.Header {
	rec := attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech(), Kind: scenarios.PatternJob}, "", seed, quantity.Inch)
	rec.BeginAt(attempt.Begin{At: time.Date(2026, time.May, 4, 9, 30, 0, 0, time.UTC), Earlier: 2})
	return rec.Header
}

// Run holds keepers to their promises; open returns an empty one. The owners of the suite are
// "ann" and "bea".
func Run(t *testing.T, open func(t *testing.T) web.Keeper) {
	ctx := context.Background()
	begin := func(t *testing.T, k web.Keeper, owner string) string {
		id, err := k.Begin(ctx, owner, Header(7))
		require.NoError(t, err)
		return id
	}
	t.Run("an attempt comes back as it was kept", func(t *testing.T) {
		k := open(t)
		id := begin(t, k, "ann")
		want, stand := fresh(t)
		for had, line := range []string{"paint teeth thin", "roll gears braked", "sign off"} {
			require.NoError(t, k.Append(ctx, "ann", id, had, do(t, stand, want, line)))
			got, err := k.Record(ctx, "ann", id)
			require.NoError(t, err)
			assert.Equal(t, want, got)
		}
		all, err := k.List(ctx, "ann")
		require.NoError(t, err)
		assert.Equal(t, []web.Kept{{ID: id, Header: want.Header, Acts: 3, SignedOff: true}}, all)
	})
	t.Run("what was touched last is listed first", func(t *testing.T) {
		k := open(t)
		first, second := begin(t, k, "ann"), begin(t, k, "ann")
		require.NotEqual(t, first, second)
		rec, stand := fresh(t)
		require.NoError(t, k.Append(ctx, "ann", first, 0, do(t, stand, rec, "paint teeth thin")))
		all, err := k.List(ctx, "ann")
		require.NoError(t, err)
		require.Len(t, all, 2)
		assert.Equal(t, []string{first, second}, []string{all[0].ID, all[1].ID})
		assert.False(t, all[0].SignedOff)
	})
	t.Run("nobody sees or changes what is another's", func(t *testing.T) {
		k := open(t)
		id := begin(t, k, "ann")
		rec, stand := fresh(t)
		line := do(t, stand, rec, "paint teeth thin")
		for owner, name := range map[string]string{"bea": id, "ann": "nosuch", "": id, "ann' or '1'='1": id} {
			_, err := k.Record(ctx, owner, name)
			assert.ErrorIs(t, err, web.ErrNotFound, owner)
			assert.ErrorIs(t, k.Append(ctx, owner, name, 0, line), web.ErrNotFound, owner)
		}
		all, err := k.List(ctx, "bea")
		require.NoError(t, err)
		assert.Empty(t, all)
		got, err := k.Record(ctx, "ann", id)
		require.NoError(t, err)
		assert.Empty(t, got.Entries)
	})
	t.Run("of two who saw the same, one adds", func(t *testing.T) {
		k := open(t)
		id := begin(t, k, "ann")
		rec, stand := fresh(t)
		line := do(t, stand, rec, "paint teeth thin")
		const many = 16
		errs := make([]error, many)
		var all sync.WaitGroup
		for i := range many {
			all.Go(func() { errs[i] = k.Append(ctx, "ann", id, 0, line) })
		}
		all.Wait()
		added := 0
		for _, err := range errs {
			if err == nil {
				added++
			} else {
				assert.True(t, errors.Is(err, web.ErrConflict), "%v", err)
			}
		}
		assert.Equal(t, 1, added)
		assert.ErrorIs(t, k.Append(ctx, "ann", id, 2, line), web.ErrConflict, "an act that is ahead of the attempt")
		got, err := k.Record(ctx, "ann", id)
		require.NoError(t, err)
		assert.Len(t, got.Entries, 1)
	})
}

// fresh is the record of an attempt of Header(7), and the stand it is worked at.
func fresh(t *testing.T) (*attempt.Record, *sim.Stand) {
	t.Helper()
	h := Header(7)
	rec := attempt.New(h.Terms, h.Order, h.FamilyText, h.Seed, h.Units)
	rec.BeginAt(h.Begin)
	_, stand, _, err := attempt.Replay(rec)
	require.NoError(t, err)
	return rec, stand
}

// do does an act and returns its line.
func do(t *testing.T, s *sim.Stand, rec *attempt.Record, line string) []byte {
	t.Helper()
	a, err := act.Parse(line, quantity.Inch)
	require.NoError(t, err)
	o, err := s.Do(a)
	require.NoError(t, err)
	return rec.Add(o)
}
