//go:build unix

package store_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// pipes makes a named pipe into which nobody writes.
func pipes(t *testing.T, path string) {
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
	require.NoError(t, unix.Mkfifo(path, 0o600))
}
