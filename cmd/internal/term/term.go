// Package term is all the program knows of the terminal it runs in: the three
// streams, whether a person sits at them, how wide the screen is, whether color is
// wanted, and what was typed to start it. It asks the operating system only; it never sends a query to
// the terminal and waits for an answer. It alone imports golang.org/x/term.
package term

import (
	"bufio"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
	"unicode"

	"golang.org/x/term"

	"shimwright/sim/text"
)

// Streams is where a command reads and writes, and the printer of what it says there.
type Streams struct {
	text.Printer

	In       io.Reader
	Out, Err io.Writer
	Person   bool   // a person types at In and reads Out
	Moves    bool   // In and Out are the process's own terminal, which can move its cursor
	Width    int    // columns to write for
	Height   int    // lines of the screen; 0: there is none
	Color    bool   // Out shows color
	Program  string // what a person types to start the program

	// Clock tells the time that stands in attempt files, and nowhere else; nil: none does.
	Clock func() time.Time
}

// Flush pushes out what has been written where Out is buffered, so that a person sees it
// before being asked for more.
func (s Streams) Flush() {
	if b, ok := s.Out.(*bufio.Writer); ok {
		_ = b.Flush() // a broken pipe shows at the last flush
	}
}

// Widths the program writes for; outside them the text is clamped.
const (
	MinWidth     = 40
	MaxWidth     = 100
	defaultWidth = 80
)

// System returns the process's own streams. Color is off when Out is no terminal,
// TERM is dumb or empty, or NO_COLOR is set to anything.
func System() Streams {
	s := Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Width: defaultWidth, Program: called(os.Args[0])}
	out := int(os.Stdout.Fd())
	outIsTerminal := term.IsTerminal(out)
	s.Person = outIsTerminal && term.IsTerminal(int(os.Stdin.Fd()))
	if w, h, err := term.GetSize(out); outIsTerminal && err == nil {
		s.Width, s.Height = Clamp(w), h
	}
	kind := os.Getenv("TERM")
	s.Moves = s.Person && kind != "" && kind != "dumb"
	_, noColor := os.LookupEnv("NO_COLOR")
	s.Color = outIsTerminal && kind != "" && kind != "dumb" && !noColor
	return s
}

// builtByRun matches where "go run" puts a program: a folder of its own that goes
// when the program ends, or the build cache, in a folder named for its contents.
var builtByRun = regexp.MustCompile(`[/\\](go-build[0-9]+[/\\]b[0-9]+[/\\]exe|[0-9a-f]{64}-d)[/\\][^/\\]+$`)

// called returns what to type to start the program again, by the name it was started
// under.
func called(name string) string {
	if name == "" || builtByRun.MatchString(name) {
		return "go run ./cmd/shimwright"
	}
	return Quote(name)
}

// Quote writes a file's name the way it has to be typed in a command.
func Quote(name string) string {
	special := func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("_./:+@-", r) && r != filepath.Separator
	}
	if name != "" && !strings.ContainsFunc(name, special) {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}

// Clamp keeps a width inside what the program writes for.
func Clamp(width int) int { return max(MinWidth, min(MaxWidth, width)) }
