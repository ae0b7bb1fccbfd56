package store_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/store"
	"shimwright/scenarios/attempt"
)

func TestKeptIn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "data")
	kept, err := store.KeptIn(dir)
	require.NoError(t, err)
	assert.Empty(t, kept, "a folder that is not there holds none")
	require.NoError(t, os.Mkdir(dir, 0o700))
	for i, name := range []string{"old.jsonl", "new.jsonl"} {
		f, err := store.Create(filepath.Join(dir, name), record())
		require.NoError(t, err)
		require.NoError(t, f.Close())
		when := time.Now().Add(time.Duration(i) * time.Hour)
		require.NoError(t, os.Chtimes(filepath.Join(dir, name), when, when))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "broken.jsonl"), []byte("no attempt"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("no attempt"), 0o600))
	kept, err = store.KeptIn(dir)
	require.NoError(t, err)
	require.Len(t, kept, 3)
	assert.Equal(t, "new.jsonl", filepath.Base(kept[0].Path))
	assert.True(t, kept[0].Open())
	for _, k := range kept {
		assert.Equal(t, filepath.Base(k.Path) == "broken.jsonl", k.Err != nil)
		assert.Equal(t, k.Err == nil, k.Open())
	}
}

func TestDataFolder(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", "/data")
	at, err := store.DataFolder()
	require.NoError(t, err)
	assert.Equal(t, "shimwright", filepath.Base(at))
}

// Tries are counted by the heads of the files that lie in a folder: those at the same job on the
// same terms, whatever else lies there.
func TestTriesInAFolder(t *testing.T) {
	dir := t.TempDir()
	n, err := store.Tries(filepath.Join(dir, "none"), record().Header)
	require.NoError(t, err)
	assert.Zero(t, n)
	put := func(name string, rec *attempt.Record) {
		f, err := store.Create(filepath.Join(dir, name), rec)
		require.NoError(t, err)
		require.NoError(t, f.Close())
	}
	again := record()
	again.BeginAt(attempt.Begin{At: time.Unix(1e9, 0), Earlier: 1})
	h := record().Header
	put("a.jsonl", record())
	put("b.jsonl", again)
	put("other-job.jsonl", attempt.New(h.Terms, h.Order, "", h.Seed+1, h.Units))
	put("other-terms.jsonl", attempt.New(attempt.Terms{Exercise: "x"}, h.Order, "", h.Seed, h.Units))
	put("other-name.txt", record())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "damaged.jsonl"), again.HeaderLine()[:40], 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder.jsonl"), 0o700))
	n, err = store.Tries(dir, h)
	require.NoError(t, err)
	assert.Equal(t, 2, n)
}
