// Package term is all the program knows of the terminal it runs in: the three
// streams, whether a person sits at them, how wide the screen is and whether
// colour is wanted. It asks the operating system only; it never sends a query to
// the terminal and waits for an answer. It alone imports golang.org/x/term.
package term

import (
	"io"
	"os"

	"golang.org/x/term"
)

// Streams is where a command reads and writes.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
	Person   bool // a person types at In and reads Out
	Width    int  // columns to write for
	Colour   bool // Out shows colour
}

// Widths the program writes for; outside them the text is clamped.
const (
	MinWidth     = 40
	MaxWidth     = 100
	defaultWidth = 80
)

// System returns the process's own streams. Colour is off when Out is no terminal,
// TERM is dumb or empty, or NO_COLOR is set to anything.
func System() Streams {
	s := Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Width: defaultWidth}
	out := int(os.Stdout.Fd())
	outIsTerminal := term.IsTerminal(out)
	s.Person = outIsTerminal && term.IsTerminal(int(os.Stdin.Fd()))
	if w, _, err := term.GetSize(out); outIsTerminal && err == nil {
		s.Width = Clamp(w)
	}
	kind := os.Getenv("TERM")
	_, noColour := os.LookupEnv("NO_COLOR")
	s.Colour = outIsTerminal && kind != "" && kind != "dumb" && !noColour
	return s
}

// Clamp keeps a width inside what the program writes for.
func Clamp(width int) int { return max(MinWidth, min(MaxWidth, width)) }
