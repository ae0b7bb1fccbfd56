package term

import (
	"errors"
	"io"
	"os"
	"slices"
	"strings"
	"sync"

	"golang.org/x/term"
)

// ErrInterrupt is that of Ctrl-C in place of a line.
var ErrInterrupt = errors.New("interrupted")

// An Editor reads lines that a person types, with editing, the lines before and completion.
// The terminal is as the system left it except while a line is being typed, and it is asked
// nothing.
type Editor struct {
	// Complete lists the words that the last word of a line may become; nil for none.
	Complete func(line string) []string

	in   *keys
	line *term.Terminal

	mu  sync.Mutex  // a line ends, or whoever waits for it leaves
	was *term.State // nil while no line is typed
}

// Editor returns the editor of the process's own terminal; ok is false where lines come from
// elsewhere, or where the terminal cannot move its cursor.
func (s Streams) Editor() (e *Editor, ok bool) {
	if !s.Moves {
		return nil, false
	}
	e = &Editor{in: &keys{from: os.Stdin}}
	e.in.stop = e.stop
	e.line = term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{e.in, os.Stdout}, "")
	e.line.History = &lines{}
	e.line.AutoCompleteCallback = e.key
	return e, true
}

// Line reads a line after a prompt. Errors: ErrInterrupt; io.EOF at the end of the input.
func (e *Editor) Line(prompt string) (string, error) {
	if err := e.begin(); err != nil {
		return "", err
	}
	defer e.End()
	e.line.SetPrompt(prompt)
	text, err := e.line.ReadLine()
	if errors.Is(err, term.ErrPasteIndicator) {
		err = nil // a pasted line is a line
	}
	if e.in.interrupted {
		e.in.interrupted = false
		return "", ErrInterrupt
	}
	return text, err
}

func (e *Editor) begin() error {
	e.mu.Lock()
	defer e.mu.Unlock()
	was, err := term.MakeRaw(int(os.Stdin.Fd()))
	if err != nil {
		return err
	}
	e.was = was
	if w, h, err := term.GetSize(int(os.Stdout.Fd())); err == nil && w > 0 {
		_ = e.line.SetSize(w, h) // the size is only for where long lines break
	}
	e.line.SetBracketedPasteMode(true)
	return nil
}

// End gives the terminal back; also while a line is being typed, for whoever leaves then.
func (e *Editor) End() {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.was == nil {
		return
	}
	e.line.SetBracketedPasteMode(false)
	_ = term.Restore(int(os.Stdin.Fd()), e.was) // nothing is left to do where this fails
	e.was = nil
}

// stop stops the program until the shell lets it go on.
func (e *Editor) stop() {
	if !CanStop() {
		return
	}
	e.End()
	Stop()
	_ = e.begin() // without it the line goes on unedited
}

// key completes the last word at Tab.
func (e *Editor) key(line string, pos int, key rune) (newLine string, newPos int, ok bool) {
	if key != '\t' || e.Complete == nil {
		return "", 0, false
	}
	if pos != len(line) {
		return line, pos, true
	}
	grown, list := Completed(line, e.Complete(line))
	if len(list) > 0 {
		_, _ = e.line.Write([]byte(strings.Join(list, "  ") + "\n")) // the terminal has gone: the line ends too
	}
	return grown, len(grown), true
}

// Completed puts in the place of a line's last word what all words that it may become begin
// with. list is what to show where that says no more than what was typed.
func Completed(line string, words []string) (grown string, list []string) {
	begun := line[strings.LastIndexAny(line, " ;")+1:]
	fits := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return !strings.HasPrefix(w, strings.ToLower(begun)) })
	switch len(fits) {
	case 0:
		return line, nil
	case 1:
		return strings.TrimSuffix(line, begun) + fits[0] + " ", nil
	}
	common := fits[0]
	for _, w := range fits[1:] {
		for !strings.HasPrefix(w, common) {
			common = common[:len(common)-1]
		}
	}
	if len(common) > len(begun) {
		return strings.TrimSuffix(line, begun) + common, nil
	}
	return line, fits
}

// keys are the bytes that the terminal sends. Ctrl-C comes out as an emptied line and is
// noted: a line editor takes it for the end of the input otherwise.
type keys struct {
	from        io.Reader
	stop        func()
	left        []byte
	interrupted bool
}

const (
	ctrlC = 3
	ctrlK = 11
	ctrlU = 21
	ctrlZ = 26
)

func (k *keys) Read(p []byte) (int, error) {
	for len(k.left) == 0 {
		var buf [256]byte
		n, err := k.from.Read(buf[:])
		if n == 0 && err != nil {
			return 0, err
		}
		for _, b := range buf[:n] {
			switch b {
			case ctrlC:
				k.interrupted = true
				k.left = append(k.left, ctrlU, ctrlK, '\r')
			case ctrlZ:
				k.stop()
			default:
				k.left = append(k.left, b)
			}
		}
	}
	n := copy(p, k.left)
	k.left = k.left[n:]
	return n, nil
}

// lines are those typed before, latest last, without empty ones and repeats.
type lines struct{ all []string }

const mostLines = 200

// Add keeps a line.
func (l *lines) Add(text string) {
	if text = strings.TrimSpace(text); text == "" || len(l.all) > 0 && l.all[len(l.all)-1] == text {
		return
	}
	l.all = append(l.all, text)
	l.all = l.all[max(0, len(l.all)-mostLines):]
}

// Len is how many lines are kept.
func (l *lines) Len() int { return len(l.all) }

// At is the line so many before the latest.
func (l *lines) At(i int) string { return l.all[len(l.all)-1-i] }
