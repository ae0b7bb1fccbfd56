package store_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/store"
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
