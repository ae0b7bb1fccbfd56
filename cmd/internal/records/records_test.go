package records_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/recordstest"
	"shimwright/sim/text"
)

func TestMain(m *testing.M) { recordstest.Main(m) }

// now is the time of the tests; a row keeps microseconds.
func now() time.Time { return time.Date(2026, 9, 1, 8, 0, 0, 123456000, time.UTC) }

// filled are records with a class of two, something set, and an attempt.
func filled(t *testing.T, s *records.Store) {
	ctx := context.Background()
	require.NoError(t, s.Found(ctx, records.Class{Name: "Axles, first year", Code: "k7p2", Passphrase: "hash", Made: now()}))
	for _, p := range []records.Pupil{{ID: "bo", Name: "Bo  Karlsen", Added: now()}, {ID: "ann", Name: "Ann O'Neil", Added: now(), PIN: "pin"}} {
		require.NoError(t, s.Add(ctx, p))
	}
	require.NoError(t, s.Assign(ctx, set()))
	require.NoError(t, s.GiveTime(ctx, "mon", "ann", 15))
	require.NoError(t, s.Begin(ctx, begun()))
	require.NoError(t, s.Append(ctx, "a1", 0, records.Act{Line: "{\"n\":1}\n", Done: now()}))
	require.NoError(t, s.Append(ctx, "a1", 1, records.Act{Line: "{\"n\":2}\n", Done: now(), Signs: true}))
	require.NoError(t, s.Override(ctx, records.Override{Attempt: "a1", Score: 71, Reason: "the bell rang", Made: now()}))
}

func set() records.Assignment {
	return records.Assignment{ID: "mon", Exercise: "first-depth", Title: "First depth", File: "text\n", Families: map[string]string{"mine.yaml": "x: 1\n"}, Mode: "exam", Jobs: 2,
		Numbers: []uint64{1<<63 + 5, 7}, Alike: true, Tries: 1, Made: now(), Opens: now(), Closes: now().Add(time.Hour)}
}

func begun() records.Attempt {
	return records.Attempt{ID: "a1", Pupil: "ann", Assignment: "mon", Job: 1, Try: 1, Head: "head\n", Begun: now(), Latest: now()}
}

func TestWhatIsKeptComesBack(t *testing.T) {
	recordstest.Each(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		where := place()
		s := recordstest.Open(t, where)
		_, err := s.Class(ctx)
		require.ErrorIs(t, err, records.ErrNone)
		filled(t, s)
		require.NoError(t, s.Close())
		s = recordstest.Open(t, where) // its tables are there already
		c, err := s.Class(ctx)
		require.NoError(t, err)
		assert.Equal(t, records.Class{Name: "Axles, first year", Code: "k7p2", Passphrase: "hash", Made: now()}, c)
		assert.ErrorIs(t, s.Found(ctx, c), records.ErrThere)
		pupils, err := s.Pupils(ctx)
		require.NoError(t, err)
		assert.Equal(t, []records.Pupil{{ID: "ann", Name: "Ann O'Neil", Added: now(), PIN: "pin"}, {ID: "bo", Name: "Bo Karlsen", Added: now()}}, pupils)
		a, err := s.Assignment(ctx, "mon")
		require.NoError(t, err)
		assert.Equal(t, set(), a)
		more, err := s.ExtraTime(ctx, "mon")
		require.NoError(t, err)
		assert.Equal(t, map[string]int{"ann": 15}, more)
		x, err := s.AttemptsAt(ctx, "mon")
		require.NoError(t, err)
		want := begun()
		want.Acts, want.Signed = 2, true
		assert.Equal(t, []records.Attempt{want}, x)
		lines, err := s.Lines(ctx, "a1", 0)
		require.NoError(t, err)
		assert.Equal(t, []string{"{\"n\":1}\n", "{\"n\":2}\n"}, lines)
		lines, err = s.Lines(ctx, "a1", 1)
		require.NoError(t, err)
		assert.Equal(t, []string{"{\"n\":2}\n"}, lines)
		overs, err := s.Overrides(ctx, "mon")
		require.NoError(t, err)
		assert.Equal(t, map[string]records.Override{"a1": {Attempt: "a1", Score: 71, Reason: "the bell rang", Made: now()}}, overs)
	})
}

func TestNames(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		s := recordstest.Open(t, place())
		filled(t, s)
		assert.ErrorIs(t, s.Add(ctx, records.Pupil{ID: "x", Name: " ANN  o'neil\n"}), records.ErrThere)
		assert.ErrorIs(t, s.Rename(ctx, "bo", "ann O'Neil"), records.ErrThere)
		assert.ErrorIs(t, s.Rename(ctx, "nobody", "Cy"), records.ErrNone)
		hostile := "=cmd|'/c calc'!A1 '; DROP TABLE pupils;-- \x00<script>\u202e\xff"
		require.NoError(t, s.Add(ctx, records.Pupil{ID: "x", Name: hostile}))
		p, err := s.Named(ctx, hostile)
		require.NoError(t, err)
		assert.Equal(t, "=cmd|'/c calc'!A1 '; DROP TABLE pupils;-- <script>", p.Name)
		_, err = s.Named(ctx, "' OR '1'='1")
		assert.ErrorIs(t, err, records.ErrNone)
		for _, bad := range []string{"a\x00b", "a\xffb"} {
			assert.ErrorIs(t, s.Override(ctx, records.Override{Attempt: "a1", Reason: bad}), records.ErrText)
		}
	})
}

// Whoever comes second at an act is told so, and an attempt that is signed off takes no more.
func TestAppendingInTurn(t *testing.T) {
	recordstest.Each(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		s := recordstest.Open(t, place())
		filled(t, s)
		again := begun()
		again.ID, again.Try = "a2", 2
		require.NoError(t, s.Begin(ctx, again))
		assert.ErrorIs(t, s.Begin(ctx, again), records.ErrThere)
		other := begun()
		other.ID = "a3"
		assert.ErrorIs(t, s.Begin(ctx, other), records.ErrThere, "the same try under another name")
		other.Pupil = "nobody"
		assert.ErrorIs(t, s.Begin(ctx, other), records.ErrNone)
		const writers, acts = 8, 20
		var all sync.WaitGroup
		var mu sync.Mutex
		won := map[int]int{}
		for range writers {
			all.Go(func() {
				for n := range acts {
					err := s.Append(ctx, "a2", n, records.Act{Line: "x\n", Done: now()})
					var late *records.StaleError
					if err == nil {
						mu.Lock()
						won[n]++
						mu.Unlock()
					} else if !errors.As(err, &late) {
						t.Error(err)
					}
				}
			})
		}
		all.Wait()
		x, err := s.Attempt(ctx, "a2")
		require.NoError(t, err)
		assert.Equal(t, acts, x.Acts)
		lines, err := s.Lines(ctx, "a2", 0)
		require.NoError(t, err)
		assert.Len(t, lines, acts)
		for n := range acts {
			assert.Equal(t, 1, won[n], "act %d", n+1)
		}
		require.NoError(t, s.Refuse(ctx, "a2", now().Add(time.Second)))
		require.NoError(t, s.Refuse(ctx, "a2", now().Add(time.Second)))
		require.NoError(t, s.Reach(ctx, "a2", 3))
		latest, err := s.Latest(ctx)
		require.NoError(t, err)
		require.Len(t, latest, 1, "of the two of her attempts the one touched last, and none of who has none")
		assert.Equal(t, "a2", latest[0].ID)
		assert.Equal(t, 3, latest[0].Stage)
		x, err = s.Attempt(ctx, "a2")
		require.NoError(t, err)
		assert.Equal(t, 2, x.Refused)
		require.NoError(t, s.Append(ctx, "a2", acts, records.Act{Line: "sign off\n", Signs: true, Done: now()}))
		var late *records.StaleError
		assert.ErrorAs(t, s.Append(ctx, "a2", acts+1, records.Act{Line: "y\n", Done: now()}), &late)
		x, err = s.Attempt(ctx, "a2")
		require.NoError(t, err)
		assert.Zero(t, x.Refused)
		assert.ErrorAs(t, s.Append(ctx, "nosuch", 0, records.Act{Line: "y\n", Done: now()}), &late)
	})
}

func TestSigningIn(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		s := recordstest.Open(t, place())
		filled(t, s)
		secret, err := s.SignIn(ctx, "ann", now(), now().Add(time.Hour))
		require.NoError(t, err)
		who, err := s.Who(ctx, secret, now())
		require.NoError(t, err)
		assert.Equal(t, "ann", who)
		for _, wrong := range []string{"", secret + "x", "' OR 1=1 --"} {
			_, err = s.Who(ctx, wrong, now())
			assert.ErrorIs(t, err, records.ErrNone)
		}
		_, err = s.Who(ctx, secret, now().Add(2*time.Hour))
		assert.ErrorIs(t, err, records.ErrNone)
		assert.ErrorIs(t, s.ChoosePIN(ctx, "ann", "other"), records.ErrNone, "she has one")
		require.NoError(t, s.ChoosePIN(ctx, "bo", "his"))
		require.NoError(t, s.ClearPIN(ctx, "ann"))
		_, err = s.Who(ctx, secret, now())
		assert.ErrorIs(t, err, records.ErrNone, "whose PIN is taken away is signed out")
		require.NoError(t, s.ChoosePIN(ctx, "ann", "other"))
		for i := range 7 {
			ok, err := s.Try(ctx, "ann", now(), now().Add(-time.Minute), 5)
			require.NoError(t, err)
			assert.Equal(t, i < 5, ok)
		}
		ok, err := s.Try(ctx, "bo", now(), now().Add(-time.Minute), 5)
		require.NoError(t, err)
		assert.True(t, ok)
		ok, err = s.Try(ctx, "ann", now().Add(3*time.Minute), now().Add(2*time.Minute), 5)
		require.NoError(t, err)
		assert.True(t, ok, "after a while")
	})
}

// A pupil who is deleted leaves nothing: in a file not even in what is free in it.
func TestAPupilIsForgotten(t *testing.T) {
	recordstest.Long(t, func(t *testing.T, place func() string) {
		ctx := context.Background()
		where := place()
		s := recordstest.Open(t, where)
		filled(t, s)
		require.NoError(t, s.Remove(ctx, "ann"))
		assert.ErrorIs(t, s.Remove(ctx, "ann"), records.ErrNone)
		x, err := s.AttemptsAt(ctx, "mon")
		require.NoError(t, err)
		assert.Empty(t, x)
		lines, err := s.Lines(ctx, "a1", 0)
		require.NoError(t, err)
		assert.Empty(t, lines)
		if records.IsServer(where) {
			return
		}
		files, err := filepath.Glob(where + "*")
		require.NoError(t, err)
		for _, f := range files {
			info, err := os.Stat(f)
			require.NoError(t, err)
			assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), f)
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			assert.False(t, bytes.Contains(data, []byte("Neil")), f)
		}
	})
}

// A backup of either database goes back into either.
func TestAClassMoves(t *testing.T) {
	recordstest.Each(t, func(t *testing.T, from func() string) {
		recordstest.Each(t, func(t *testing.T, to func() string) {
			ctx := context.Background()
			s, out := recordstest.Open(t, from()), recordstest.Open(t, to())
			filled(t, s)
			secret, err := s.SignIn(ctx, "ann", now(), now().Add(time.Hour))
			require.NoError(t, err)
			kept := filepath.Join(t.TempDir(), "kept.db")
			require.NoError(t, s.Backup(ctx, kept))
			assert.ErrorIs(t, s.Backup(ctx, kept), os.ErrExist)
			beside, err := filepath.Glob(filepath.Join(filepath.Dir(kept), "*"))
			require.NoError(t, err)
			assert.Equal(t, []string{kept}, beside)
			before, err := os.ReadFile(kept)
			require.NoError(t, err)
			require.NoError(t, out.Restore(ctx, kept, false))
			assert.ErrorIs(t, out.Restore(ctx, kept, false), records.ErrNotEmpty)
			require.NoError(t, out.Add(ctx, records.Pupil{ID: "cy", Name: "Cy"}))
			require.NoError(t, out.Restore(ctx, kept, true))
			for _, s := range []*records.Store{s, out} {
				p, err := s.Pupils(ctx)
				require.NoError(t, err)
				require.Len(t, p, 2)
				assert.Equal(t, "Ann O'Neil", p[0].Name)
				a, err := s.Assignment(ctx, "mon")
				require.NoError(t, err)
				assert.Equal(t, set(), a)
				lines, err := s.Lines(ctx, "a1", 0)
				require.NoError(t, err)
				assert.Len(t, lines, 2)
			}
			_, err = out.Who(ctx, secret, now())
			assert.ErrorIs(t, err, records.ErrNone, "who is signed in does not move")
			after, err := os.ReadFile(kept)
			require.NoError(t, err)
			assert.Equal(t, before, after)
		})
	})
}

func TestWhatIsNoBackup(t *testing.T) {
	ctx := context.Background()
	s := recordstest.Open(t, filepath.Join(t.TempDir(), "class.db"))
	filled(t, s)
	empty := filepath.Join(t.TempDir(), "empty.db")
	require.NoError(t, os.WriteFile(empty, nil, 0o600))
	noise := filepath.Join(t.TempDir(), "noise.db")
	require.NoError(t, os.WriteFile(noise, []byte("this is no database, and longer than the head of one would be, which has a hundred bytes or so in it"), 0o600))
	for _, path := range []string{empty, noise, t.TempDir(), filepath.Join(t.TempDir(), "nosuch")} {
		assert.Contains(t, text.Printer{}.Error(s.Restore(ctx, path, true)), "is no backup of a class", path)
	}
	p, err := s.Pupils(ctx)
	require.NoError(t, err)
	assert.Len(t, p, 2, "nothing was changed")
}

func TestShown(t *testing.T) {
	assert.Equal(t, "postgres://ann:xxxxx@db/class", records.Shown("postgres://ann:secret@db/class"))
	assert.Equal(t, "class.db", records.Shown("class.db"))
}

// Several servers may begin on one empty database.
func TestServersBeginAtOnce(t *testing.T) {
	where := recordstest.Postgres(t)
	var all sync.WaitGroup
	for range 3 {
		all.Go(func() {
			s, err := records.Open(context.Background(), where)
			if assert.NoError(t, err) {
				assert.NoError(t, s.Close())
			}
		})
	}
	all.Wait()
}
