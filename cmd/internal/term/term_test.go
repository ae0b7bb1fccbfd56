package term

import (
	"os"
	"path/filepath"
	"strings"
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
// color goes into it.
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
	assert.False(t, s.Color)
	assert.Equal(t, defaultWidth, s.Width)
}

// The first two names are where the go command (go 1.26) puts what "go run" builds:
// afresh, and when it has built the same before.
func TestCalled(t *testing.T) {
	const byRun = "go run ./cmd/shimwright"
	hash := strings.Repeat("b9570bd0", 8)
	for name, want := range map[string]string{
		"/tmp/go-build2648580763/b001/exe/shimwright":                      byRun,
		"/home/a/.cache/go-build/b9/" + hash + "-d/shimwright":             byRun,
		`C:\Users\a\AppData\Local\Temp\go-build12\b001\exe\shimwright.exe`: byRun,
		"":                            byRun,
		"shimwright":                  "shimwright",
		"./shimwright":                "./shimwright",
		"/home/a/exe/shimwright":      "/home/a/exe/shimwright",
		"/home/a/go-build/shimwright": "/home/a/go-build/shimwright",
		"my tools/shimwright":         "'my tools/shimwright'",
	} {
		assert.Equal(t, want, called(name), name)
	}
}

func TestQuote(t *testing.T) {
	for name, want := range map[string]string{
		"shimwright-job-7.jsonl": "shimwright-job-7.jsonl", "../a/b+c@d.jsonl": "../a/b+c@d.jsonl", "größe.jsonl": "größe.jsonl",
		"my job.jsonl": "'my job.jsonl'", "a$b": "'a$b'", "it's": `'it'\''s'`, "": "''",
	} {
		assert.Equal(t, want, Quote(name), name)
	}
}
