package datasheet

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
)

// A Problem is one mistake in a file. Line and Column count from 1; a key that is
// missing is placed at the group that lacks it.
type Problem struct {
	File         string
	Line, Column int
	What         string // what is wrong
	Right        string // what would be right

	foreign error // marks a file that cannot be read as its kind at all
}

// String writes the problem on one line.
func (p Problem) String() string {
	return fmt.Sprintf("%s:%d:%d: %s; right would be: %s", p.File, p.Line, p.Column, p.What, p.Right)
}

// Problems is the error of a file with mistakes. When the file cannot be read as its
// kind at all it is what the kind says under Foreign.
type Problems []Problem

// Error names the first mistake and how many more there are.
func (p Problems) Error() string {
	switch len(p) {
	case 0:
		return "no mistakes"
	case 1:
		return p[0].String()
	}
	return fmt.Sprintf("%s (and %d more)", p[0], len(p)-1)
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
type Spots map[string][2]int

// Note keeps the place of an entry; nil is none.
func (s Spots) Note(name string, e *Entry) {
	if e != nil {
		line, column := e.At()
		s[name] = [2]int{line, column}
	}
}

// Place keeps the place of a block.
func (s Spots) Place(name string, b *Block) { s[name] = [2]int{b.line, b.column} }

// ReadFile returns the text of a file, of one too large only as much as shows that it
// is. Errors: those of opening and reading, and a name that is a folder's.
func ReadFile(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	s, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !s.Mode().IsRegular() {
		return nil, &os.PathError{Op: "read", Path: name, Err: errors.New("it is no ordinary file")}
	}
	return io.ReadAll(io.LimitReader(f, mostBytes+1))
}
