package datasheet

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"slices"

	"shimwright/sim/text"
)

// A Problem is one mistake in a file. Line and Column count from 1; a key that is
// missing is placed at the group that lacks it. Key names what the mistake is about with
// the groups it stands in, "" for the file as a whole.
type Problem struct {
	File         string
	Line, Column int
	Key          string
	What         text.Message // what is wrong
	Want         text.Message // what would be right

	foreign error // marks a file that cannot be read as its kind at all
}

// Tell says the mistake in one line, its place in front.
func (p Problem) Tell() text.Message {
	return text.Say("datasheet.problem", "{file}:{line}:{column}: {what}; needed: {want}", text.Typed("file", p.File),
		text.Count("line", p.Line), text.Count("column", p.Column), text.Of("what", p.What), text.Of("want", p.Want))
}

// Error names the place and the codes, for logs.
func (p Problem) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s (%s)", p.File, p.Line, p.Column, p.What.Code(), p.Want.Code())
}

// Problems is the error of a file with mistakes. When the file cannot be read as its
// kind at all it is what the kind says under Foreign.
type Problems []Problem

// Tell names the first mistake and how many more there are.
func (p Problems) Tell() text.Message {
	switch len(p) {
	case 0:
		return text.Say("datasheet.problems.none", "no mistakes")
	case 1:
		return p[0].Tell()
	}
	return text.Say("datasheet.problems.more", "{first} (and {n} more)", text.Of("first", p[0].Tell()), text.Count("n", len(p)-1))
}

// Error is Problem.Error of the first, and how many more there are.
func (p Problems) Error() string {
	if len(p) == 0 {
		return "datasheet.problems.none"
	}
	return fmt.Sprintf("%s +%d", p[0].Error(), len(p)-1)
}

// Is reports whether the problems are what the target marks.
func (p Problems) Is(target error) bool {
	return len(p) > 0 && p[0].foreign != nil && p[0].foreign == target
}

// Sort puts problems in the order of the file.
func Sort(p []Problem) {
	slices.SortStableFunc(p, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}

// Spots are the places that checks after reading point at: of groups and values that
// were read without a complaint.
type Spots map[string]Spot

// A Spot is where something stands in a file, and its key with its groups.
type Spot struct {
	Line, Column int
	Key          string
}

// Note keeps the place of an entry of a block; nil is none.
func (s Spots) Note(name string, b *Block, e *Entry) {
	if e != nil {
		line, column := e.At()
		s[name] = Spot{line, column, b.Path(e.Key)}
	}
}

// Place keeps the place of a block.
func (s Spots) Place(name string, b *Block) { s[name] = Spot{b.line, b.column, b.name} }

// ErrNotAFile marks a name that is a folder's or a device's.
var ErrNotAFile error = text.Fail(nil, text.Say("datasheet.not-a-file", "it is not an ordinary file"))

// An OpenError is that of a file that cannot be opened or read.
type OpenError struct {
	File string
	Of   error // of the system, or ErrNotAFile
}

// Tell names the file and what kept it from being read.
func (e *OpenError) Tell() text.Message {
	why := text.Say("datasheet.open.failed", "it cannot be opened")
	switch {
	case os.IsNotExist(e.Of):
		why = text.Say("datasheet.open.none", "there is no such file")
	case os.IsPermission(e.Of):
		why = text.Say("datasheet.open.permission", "you have no permission to read it")
	case e.Of == ErrNotAFile:
		why = ErrNotAFile.(text.Telling).Tell()
	}
	return text.Say("datasheet.open", "{file}: {why}", text.Typed("file", Printable(e.File)), text.Of("why", why))
}

func (e *OpenError) Error() string { return e.File + ": " + e.Of.Error() }

// Unwrap returns the system's error, or ErrNotAFile.
func (e *OpenError) Unwrap() error { return e.Of }

// ReadFile returns the text of a data file, of one too large only as much as shows that it
// is. Errors: OpenError.
func ReadFile(name string) ([]byte, error) { return ReadUpTo(name, mostBytes) }

// ReadUpTo returns the text of a file, of one longer than most bytes only as much as shows
// that it is. A pipe is not waited for. Errors: OpenError.
func ReadUpTo(name string, most int64) ([]byte, error) {
	fail := func(err error) ([]byte, error) { return nil, &OpenError{name, err} }
	s, err := os.Stat(name) // opening a pipe waits until somebody writes into it
	if err != nil {
		return fail(err)
	}
	if !s.Mode().IsRegular() {
		return fail(ErrNotAFile)
	}
	f, err := os.Open(name)
	if err != nil {
		return fail(err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return fail(err)
	}
	return text, nil
}
