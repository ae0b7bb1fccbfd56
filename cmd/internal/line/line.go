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
	"syscall"

	"shimwright/cmd/internal/term"

	"shimwright/sim/text"
)

// ErrLeft ends a talk that is not over.
var ErrLeft = errors.New("left")

// ErrTooLong is returned for a line that is longer than anything a talk can take.
var ErrTooLong = text.Fail(nil, text.Say("line.far-too-long", "is far too long"))

// A Talk is what answers the lines.
type Talk interface {
	// Prompt is what stands before the next line that a person types.
	Prompt() string
	// Take answers a line, without blanks at its ends; n is its number in the input, from
	// 1. Done ends the talk.
	Take(line string, n int) (done bool, err error)
}

// A Completer is a talk that knows the words a line may go on with.
type Completer interface {
	// Complete lists what the last word of a line, begun or not, may become.
	Complete(line string) []string
}

// Run reads lines for a talk until it is done. A line that begins with # is passed over.
// Errors: ErrLeft at an interrupt, a hang-up or the end of the input, ErrTooLong, those of
// the input and those of the talk.
func Run(s term.Streams, t Talk) error {
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer signal.Stop(interrupts)
	next, end := source(s, t)
	defer end()
	for n := 1; ; n++ {
		prompt := ""
		if s.Person {
			prompt = t.Prompt()
		}
		got := next(prompt)
		s.Flush()
		select {
		case <-interrupts:
			fmt.Fprintln(s.Out)
			return ErrLeft
		case l := <-got:
			if l.err != nil {
				if s.Person {
					fmt.Fprintln(s.Out)
				}
				return ended(l.err, n)
			}
			text := strings.TrimSpace(l.text)
			if strings.HasPrefix(text, "#") {
				continue
			}
			if done, err := t.Take(text, n); done || err != nil {
				return err
			}
		}
	}
}

// read is a line, or why there is none.
type read struct {
	text string
	err  error
}

// source returns what asks for the next line, and what gives the terminal back at the end.
func source(s term.Streams, t Talk) (next func(prompt string) <-chan read, end func()) {
	if e, ok := s.Editor(); ok {
		if c, ok := t.(Completer); ok {
			e.Complete = c.Complete
		}
		return func(prompt string) <-chan read {
			// What stands above the line is written by the program, not by the editor.
			above := strings.LastIndex(prompt, "\n") + 1
			fmt.Fprint(s.Out, prompt[:above])
			s.Flush()
			got := make(chan read, 1)
			go func() {
				text, err := e.Line(prompt[above:])
				got <- read{text, err}
			}()
			return got
		}, e.End
	}
	all := scan(s.In)
	return func(prompt string) <-chan read {
		fmt.Fprint(s.Out, prompt)
		return all
	}, func() {}
}

// ended says how the input ended, before its line n.
func ended(err error, n int) error {
	switch {
	case errors.Is(err, bufio.ErrTooLong):
		return text.Fail(ErrTooLong, text.Say("line.line", "line {n} {err_too_long}", text.Count("n", n), text.Cause("err_too_long", ErrTooLong)))
	case errors.Is(err, io.EOF), errors.Is(err, term.ErrInterrupt):
		return ErrLeft
	}
	return err
}

// scan reads lines ahead, and says at the end why there are no more.
func scan(r io.Reader) <-chan read {
	out := make(chan read)
	go func() {
		sc := bufio.NewScanner(r)
		for sc.Scan() {
			out <- read{text: sc.Text()}
		}
		err := sc.Err()
		if err == nil {
			err = io.EOF
		}
		out <- read{err: err}
	}()
	return out
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
