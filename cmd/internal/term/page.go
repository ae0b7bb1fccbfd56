package term

import (
	"fmt"
	"io"
	"strings"

	"shimwright/sim/text"
)

// Page writes a text. To a person whose screen is too small for it, it comes a screen at a
// time: Enter goes on, q and Enter stop.
func (s Streams) Page(prose string) error {
	const below = 2 // the line that asks, and the one that is typed
	room := s.Height - below
	lines := strings.SplitAfter(prose, "\n")
	if lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	if !s.Person || room < 1 || len(lines) <= s.Height {
		_, err := io.WriteString(s.Out, prose)
		return err
	}
	for {
		n := min(room, len(lines))
		if _, err := io.WriteString(s.Out, strings.Join(lines[:n], "")); err != nil {
			return err
		}
		if lines = lines[n:]; len(lines) == 0 {
			return nil
		}
		fmt.Fprint(s.Out, s.Print(text.Say("term.page.more-lines-enter-goes", "-- {lines} more lines: Enter goes on, q stops -- ", text.Count("lines", len(lines)))))
		s.Flush()
		if answer, err := lineFrom(s.In); err != nil || strings.EqualFold(strings.TrimSpace(answer), "q") {
			return nil // the person is gone, or has seen enough
		}
	}
}

// lineFrom reads one line and nothing after it, which the next question may want.
func lineFrom(r io.Reader) (string, error) {
	var line []byte
	for b := make([]byte, 1); ; {
		n, err := r.Read(b)
		if n > 0 && b[0] == '\n' {
			return string(line), nil
		}
		if err != nil {
			return string(line), err
		}
		line = append(line, b[:n]...)
	}
}
