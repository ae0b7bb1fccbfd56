// Package line is the loop of every command that a person talks to line by line, and of
// the scripts that stand in for one: prompt, line, answer, until the talk is over, the
// input ends or an interrupt comes. Lines are read in the background, so that an interrupt
// is answered at once.
package line

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"shimwright/cmd/internal/term"
)

// ErrLeft ends a talk that is not over.
var ErrLeft = errors.New("left")

// ErrTooLong is returned for a line that is longer than anything a talk can take.
var ErrTooLong = errors.New("is far too long")

// A Talk is what answers the lines.
type Talk interface {
	// Prompt is what stands before the next line that a person types.
	Prompt() string
	// Take answers a line, without blanks at its ends; n is its number in the input, from
	// 1. Done ends the talk.
	Take(line string, n int) (done bool, err error)
}

// Run reads lines for a talk until it is done. A line that begins with # is passed over.
// Errors: ErrLeft at an interrupt or the end of the input, ErrTooLong, those of the input
// and those of the talk.
func Run(s term.Streams, t Talk) error {
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt)
	defer signal.Stop(interrupts)
	lines, fail := read(s.In)
	for n := 1; ; n++ {
		if s.Person {
			fmt.Fprint(s.Out, t.Prompt())
		}
		s.Flush()
		select {
		case <-interrupts:
			fmt.Fprintln(s.Out)
			return ErrLeft
		case text, more := <-lines:
			if !more {
				if s.Person {
					fmt.Fprintln(s.Out)
				}
				return ended(<-fail, n)
			}
			text = strings.TrimSpace(text)
			if strings.HasPrefix(text, "#") {
				continue
			}
			if done, err := t.Take(text, n); done || err != nil {
				return err
			}
		}
	}
}

// ended says how the input ended, before its line n.
func ended(err error, n int) error {
	switch {
	case errors.Is(err, bufio.ErrTooLong):
		return fmt.Errorf("line %d %w", n, ErrTooLong)
	case err != nil:
		return err
	}
	return ErrLeft
}

func read(r io.Reader) (<-chan string, <-chan error) {
	lines, fail := make(chan string), make(chan error, 1)
	go func() {
		defer close(lines)
		sc := bufio.NewScanner(r)
		for sc.Scan() {
			lines <- sc.Text()
		}
		fail <- sc.Err()
	}()
	return lines, fail
}

// A Word is something a talk answers at any time: its name and what it does are one value,
// so that no word is answered and not explained.
type Word struct {
	Name string
	Also []string // other names
	Help string   // "": not explained now
	Do   func(rest string) error
}

// Leave is the word that ends every talk.
func Leave(help string) Word {
	return Word{"leave", []string{"quit", "exit"}, help, func(string) error { return ErrLeft }}
}

// Find returns the word that a line begins with, in any letter case, and the rest of the
// line.
func Find(words []Word, text string) (w Word, rest string, ok bool) {
	first, rest, _ := strings.Cut(strings.ReplaceAll(text, "\t", " "), " ")
	for _, w := range words {
		for _, name := range append([]string{w.Name}, w.Also...) {
			if strings.EqualFold(name, first) {
				return w, strings.TrimSpace(rest), true
			}
		}
	}
	return Word{}, "", false
}
