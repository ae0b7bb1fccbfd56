package term

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestClamp(t *testing.T) {
	for width, want := range map[int]int{-1: 40, 0: 40, 39: 40, 40: 40, 41: 41, 80: 80, 100: 100, 101: 100, 1 << 30: 100} {
		assert.Equal(t, want, Clamp(width), "width %d", width)
	}
}

// A file is no terminal, whatever the environment says: nobody sits at it and no
// colour goes into it.
func TestStreamsIntoAFile(t *testing.T) {
	f, err := os.Create(filepath.Join(t.TempDir(), "out"))
	require.NoError(t, err)
	defer f.Close()
	was := os.Stdout
	os.Stdout = f
	t.Cleanup(func() { os.Stdout = was })
	t.Setenv("TERM", "xterm-256color")
	t.Setenv("COLUMNS", "132")
	s := System()
	assert.Equal(t, f, s.Out)
	assert.Equal(t, os.Stdin, s.In)
	assert.Equal(t, os.Stderr, s.Err)
	assert.False(t, s.Person)
	assert.False(t, s.Colour)
	assert.Equal(t, defaultWidth, s.Width)
}
