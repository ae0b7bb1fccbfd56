package term

import (
	"bytes"
	"os"
)

// questions are what a screen library asks a terminal when it starts. An answer that comes
// after the program has ended lands in the shell as typed text, so none is asked.
func questions() []string {
	return []string{"\x1b[?2026$p", "\x1b[?2027$p", "\x1b[?u"}
}

// A Mute terminal is not asked anything, whatever is written to it.
type Mute struct{ *os.File }

// Muted takes the questions out of what is written to a terminal.
func Muted(f *os.File) *Mute { return &Mute{f} }

// Write writes what is not a question.
func (m *Mute) Write(b []byte) (int, error) {
	out := b
	for _, q := range questions() {
		out = bytes.ReplaceAll(out, []byte(q), nil)
	}
	if _, err := m.File.Write(out); err != nil {
		return 0, err
	}
	return len(b), nil
}
