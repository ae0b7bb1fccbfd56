package line_test

import (
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/line"
	"shimwright/cmd/internal/term"
	"shimwright/sim/text"
)

// A talk keeps what it is told, and is over at the word done.
type talk struct {
	took  []string
	lines []int
	fail  error
}

func (t *talk) Prompt() string { return "> " }

func (t *talk) Take(text string, n int) (bool, error) {
	t.took, t.lines = append(t.took, text), append(t.lines, n)
	return text == "done", t.fail
}

func TestLinesComeInOrder(t *testing.T) {
	var out strings.Builder
	x := &talk{}
	err := line.Run(term.Streams{In: strings.NewReader("  one \n# a remark\n\ntwo\ndone\nthree\n"), Out: &out, Person: true}, x)
	require.NoError(t, err)
	assert.Equal(t, []string{"one", "", "two", "done"}, x.took)
	assert.Equal(t, []int{1, 3, 4, 5}, x.lines, "a remark counts as a line")
	assert.Equal(t, strings.Repeat("> ", 5), out.String())
}

func TestHowATalkEnds(t *testing.T) {
	for _, person := range []bool{true, false} {
		var out strings.Builder
		x := &talk{}
		assert.ErrorIs(t, line.Run(term.Streams{In: strings.NewReader("one"), Out: &out, Person: person}, x), line.ErrLeft)
		assert.Equal(t, []string{"one"}, x.took, "a last line without an end counts")
		assert.Equal(t, map[bool]string{true: "> > \n", false: ""}[person], out.String())
	}
	err := line.Run(term.Streams{In: strings.NewReader("one\n" + strings.Repeat("x", 100_000) + "\n"), Out: io.Discard}, &talk{})
	assert.ErrorIs(t, err, line.ErrTooLong)
	assert.Equal(t, "line 2 is far too long", text.Printer{}.Error(err))
	broken := errors.New("the input broke")
	assert.ErrorIs(t, line.Run(term.Streams{In: io.MultiReader(strings.NewReader("one\n"), failing{broken}), Out: io.Discard}, &talk{}), broken)
	stop := errors.New("stop")
	assert.ErrorIs(t, line.Run(term.Streams{In: strings.NewReader("one\ntwo\n"), Out: io.Discard}, &talk{fail: stop}), stop)
}

type failing struct{ error }

func (f failing) Read([]byte) (int, error) { return 0, f.error }

// An interrupt is answered while the input is silent.
func TestAnInterruptEndsATalk(t *testing.T) {
	in, keys := io.Pipe()
	defer keys.Close()
	self, err := os.FindProcess(os.Getpid())
	require.NoError(t, err)
	shown := prompted(func() { assert.NoError(t, self.Signal(os.Interrupt)) })
	assert.ErrorIs(t, line.Run(term.Streams{In: in, Out: shown, Person: true}, &talk{}), line.ErrLeft)
}

// prompted is called once something has been shown.
type prompted func()

func (p prompted) Write(b []byte) (int, error) {
	if string(b) == "> " {
		p()
	}
	return len(b), nil
}

func TestWordsAreFound(t *testing.T) {
	words := []line.Word{{Name: "help"}, line.Leave("stop")}
	for text, want := range map[string][2]string{
		"help":             {"help", ""},
		"HELP measure":     {"help", "measure"},
		"help\t measure  ": {"help", "measure"},
		"quit":             {"leave", ""},
		"helpful":          {},
		"":                 {},
	} {
		w, rest, ok := line.Find(words, text)
		assert.Equal(t, want, [2]string{w.Name, rest}, text)
		assert.Equal(t, want[0] != "", ok, text)
	}
	w, _, _ := line.Find(words, "exit")
	assert.ErrorIs(t, w.Do(""), line.ErrLeft)
}
