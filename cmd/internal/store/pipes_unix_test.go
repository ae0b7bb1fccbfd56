//go:build unix

package store_test

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"shimwright/cmd/internal/store"
)

// pipes makes a named pipe into which nobody writes.
func pipes(t *testing.T, path string) {
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
	require.NoError(t, unix.Mkfifo(path, 0o600))
}

// A pipe or a device that is given for a picture or a table is written into, not put away.
func TestWhatIsNoFileIsWrittenInto(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	pipes(t, path)
	read := make(chan string)
	go func() {
		text, err := os.ReadFile(path)
		assert.NoError(t, err)
		read <- string(text)
	}()
	require.NoError(t, store.WriteWhole(path, func(w io.Writer) error {
		_, err := io.WriteString(w, "whole")
		return err
	}))
	assert.Equal(t, "whole", <-read)
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeNamedPipe)
	require.Error(t, store.WriteWhole(filepath.Dir(path), func(io.Writer) error { return nil }), "a folder")
}
