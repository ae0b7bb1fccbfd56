package term

import (
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/term"
)

// A typist sends keys and keeps what is echoed.
type typist struct {
	io.Reader
	strings.Builder
}

func typed(text string) (*Editor, *typist) {
	to := &typist{Reader: strings.NewReader(text)}
	e := &Editor{in: &keys{from: to.Reader}}
	e.line = term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{e.in, to}, "> ")
	e.line.History = &lines{}
	e.line.AutoCompleteCallback = e.key
	return e, to
}

// Ctrl-C ends a line, not the input, and what was typed before it is gone.
func TestAnInterruptIsNoEndOfInput(t *testing.T) {
	e, _ := typed("inspect cu\x03sign off\r")
	text, err := e.line.ReadLine()
	require.NoError(t, err)
	assert.Empty(t, text)
	assert.True(t, e.in.interrupted)
	text, err = e.line.ReadLine()
	require.NoError(t, err)
	assert.Equal(t, "sign off", text)
	_, err = e.line.ReadLine()
	assert.ErrorIs(t, err, io.EOF)
}

func TestLinesBefore(t *testing.T) {
	const up = "\x1b[A"
	e, _ := typed("one\r\rone\rtwo\r" + up + up + "\r")
	var got []string
	for range 5 {
		text, err := e.line.ReadLine()
		require.NoError(t, err)
		got = append(got, text)
	}
	assert.Equal(t, []string{"one", "", "one", "two", "one"}, got, "empty lines and repeats are not among those before")
}

func TestTabCompletes(t *testing.T) {
	e, out := typed("ins\t\t\tu\t\r")
	e.Complete = func(line string) []string {
		if strings.HasPrefix(line, "inspect ") {
			return []string{"cups", "cones", "caps"}
		}
		return []string{"inspect", "measure"}
	}
	text, err := e.line.ReadLine()
	require.NoError(t, err)
	assert.Equal(t, "inspect cups ", text)
	assert.Contains(t, out.String(), "cups  cones  caps")
}

func TestCompleted(t *testing.T) {
	for line, want := range map[string]string{"": "", "me": "measure ", "fit de": "fit depth-shim ", "inspect cups; me": "inspect cups; measure ", "x": "x", "t": "t", "ti": "tighten "} {
		grown, _ := Completed(line, []string{"measure", "depth-shim", "turn", "tighten"})
		assert.Equal(t, want, grown, line)
	}
	grown, list := Completed("in", []string{"inspect", "inspection"})
	assert.Equal(t, "inspect", grown)
	assert.Empty(t, list)
}
