package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"shimwright/cmd/internal/store"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/history"
)

// asNobody does something as a person who may read only what everybody may. The system's
// administrator, whom no mode keeps out, is made one for a thread that ends with it.
func asNobody(do func()) {
	done := make(chan struct{})
	go func() {
		defer close(done)
		if os.Geteuid() == 0 {
			const nobody = 65534
			runtime.LockOSThread() // and never unlocked: the thread is not used again
			_ = unix.Setfsuid(nobody)
		}
		do()
	}()
	<-done
}

// A folder, a file and a zip file that may not be read are named, each with its pupil, and stop
// none of the others.
func TestWhatMayNotBeReadStopsNothing(t *testing.T) {
	dir, err := os.MkdirTemp("", "class-*") // in no folder that is somebody's alone, as those of a test are
	require.NoError(t, err)
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	rec := record()
	good := append(rec.HeaderLine(), rec.Add(history.Step{Act: act.Act{Form: act.InspectCups}})...)
	put := func(name string, data []byte) {
		t.Helper()
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, data, 0o644))
	}
	for _, name := range []string{"amy/a.jsonl", "bob/a.jsonl", "cyd/a.jsonl", "cyd/sub/b.jsonl", "dan/a.jsonl", "fay/a.jsonl"} {
		put(name, good)
	}
	put("eli.zip", zipped(t, map[string][]byte{"a.jsonl": good}))
	require.NoError(t, os.Chmod(dir, 0o755))
	for _, closed := range []string{"bob", "cyd/sub", "dan/a.jsonl", "eli.zip"} {
		path := filepath.Join(dir, filepath.FromSlash(closed))
		require.NoError(t, os.Chmod(path, 0))
		t.Cleanup(func() { _ = os.Chmod(path, 0o700) }) // so that it can be removed
	}

	read, kept := map[string]int{}, map[string]string{}
	asNobody(func() {
		_, err := os.ReadDir(filepath.Join(dir, "bob"))
		assert.ErrorIs(t, err, os.ErrPermission, "the test keeps nobody out")
		found, err := store.Find([]string{dir})
		if !assert.NoError(t, err) {
			return
		}
		defer found.Close()
		for _, f := range found.Files {
			if rec, err := f.Read(); err == nil {
				assert.Len(t, rec.Entries, 1, f.Name)
				read[f.Pupil("")]++
			} else {
				kept[f.Name] = f.Pupil("")
				var trouble *attempt.Error
				assert.True(t, errors.As(err, &trouble) || errors.Is(err, os.ErrPermission), "%s: %v", f.Name, err)
			}
		}
	})
	assert.Equal(t, map[string]int{"amy": 1, "cyd": 1, "fay": 1}, read)
	assert.Equal(t, map[string]string{"bob": "bob", "cyd/sub": "cyd", "dan/a.jsonl": "dan", "eli.zip": "eli"}, kept)
}
