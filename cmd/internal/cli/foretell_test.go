package cli

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
)

const theQuestion = "What do you expect to read?"

// asks types a line that ends in the question and returns what is shown with it.
func (s *sitting) asks(line string) string {
	s.t.Helper()
	_, err := s.keys.Write([]byte(line + "\n"))
	require.NoError(s.t, err)
	return s.wait()
}

// A person is asked before a reading is taken again after a change, once, and may skip it.
func TestAPersonIsAskedWhatTheyExpect(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	s, _ := sit(t, "--seed", "7", "--record", path)
	for _, line := range []string{"fit depth-shim 0.030in", "fit pinion mock-up", "measure depth", "measure depth", "remove pinion", "fit depth-shim 0.028in", "fit pinion mock-up"} {
		assert.NotContains(t, s.asks(line), theQuestion, line)
	}
	assert.Contains(t, s.asks("measure depth"), theQuestion)
	// What does not fit is said, a word of the session is answered, and the question stands.
	assert.Contains(t, s.asks("20 lb-in"), "this reading is a length, such as 0.006in")
	assert.Contains(t, s.asks("deep"), theQuestion)
	assert.Contains(t, s.asks("-1in"), theQuestion)
	assert.Contains(t, s.asks("known"), "act 3, measure depth")
	answer := s.asks("2.46")
	assert.Contains(t, answer, "    pinion depth 2.46")
	assert.NotContains(t, answer, theQuestion)
	assert.NotContains(t, s.asks("measure depth"), theQuestion, "nothing was changed")
	code, _, _ := s.ends("leave")
	assert.Equal(t, exit.Done, code)
	acts := actsIn(t, path)
	assert.Equal(t, []string{"fit pinion mock-up", "expect 2.46in", "measure depth", "measure depth"}, acts[len(acts)-4:])
}

// Enter takes the reading at once, and who skips twice running is asked no more.
func TestWhoSkipsIsLeftAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	s, _ := sit(t, "--seed", "7", "--record", path)
	mockUp := func(size string) {
		for _, line := range []string{"fit depth-shim " + size, "fit pinion mock-up"} {
			s.says(line)
		}
	}
	mockUp("0.030in")
	s.says("measure depth")
	for i, size := range []string{"0.028in", "0.029in"} {
		s.says("remove pinion")
		mockUp(size)
		assert.Contains(t, s.asks("measure depth"), theQuestion)
		answer := s.says("")
		assert.Contains(t, answer, "    pinion depth 2.46")
		assert.Equal(t, i == 1, strings.Contains(plainWords(answer), "You will not be asked again"), size)
	}
	s.says("remove pinion")
	mockUp("0.027in")
	assert.NotContains(t, s.asks("measure depth"), theQuestion)
	s.ends("leave")
	for _, a := range actsIn(t, path) {
		assert.NotContains(t, a, "expect")
	}
}

// A question that nobody answers costs no act: the session can be left at it and gone on
// with.
func TestTheQuestionCanBeLeft(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	s, _ := sit(t, "--seed", "7", "--record", path)
	for _, line := range []string{"fit depth-shim 0.030in", "fit pinion mock-up", "measure depth", "remove pinion", "fit depth-shim 0.028in", "fit pinion mock-up"} {
		s.says(line)
	}
	assert.Contains(t, s.asks("measure depth"), theQuestion)
	code, out, _ := s.ends("leave")
	assert.Equal(t, exit.Done, code)
	assert.Contains(t, plainWords(out), "To go on, type:")
	assert.Equal(t, "fit pinion mock-up", actsIn(t, path)[5])
	assert.Len(t, actsIn(t, path), 6)
}

// A script is never asked, and one that says what it expects is not either.
func TestAScriptIsNeverAsked(t *testing.T) {
	var out, stderr bytes.Buffer
	acts := "fit depth-shim 0.030in\nfit pinion mock-up\nmeasure depth\nremove pinion\nfit depth-shim 0.028in\nfit pinion mock-up\nmeasure depth\n"
	code := Main(term.Streams{In: strings.NewReader(acts), Out: &out, Err: &stderr, Width: 80},
		[]string{"practice", "--seed", "7", "--record", filepath.Join(t.TempDir(), "job.jsonl")})
	assert.Equal(t, exit.Done, code, stderr.String())
	assert.NotContains(t, out.String(), theQuestion)
}
