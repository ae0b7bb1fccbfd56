//go:build unix

package datasheet_test

import (
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/datasheet"
)

// A named pipe into which nobody writes is no file, and is not waited for.
func TestAPipeIsNotWaitedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(path, 0o600))
	said := make(chan error, 1)
	go func() {
		_, err := datasheet.ReadFile(path)
		said <- err
	}()
	select {
	case err := <-said:
		assert.ErrorIs(t, err, datasheet.ErrNotAFile)
	case <-time.After(20 * time.Second):
		t.Fatal("it waits for somebody to write")
	}
}
