package store

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"time"

	"shimwright/scenarios/attempt"
)

// DataFolder is where a person's attempts are kept unless they name another place: the
// folder that the system has for programs' data, in a folder of our own. It is not made.
// Errors: a system that names none.
func DataFolder() (string, error) {
	const own = "shimwright"
	if runtime.GOOS == "darwin" || os.PathSeparator == '\\' {
		base, err := os.UserConfigDir() // the same folder as for data
		return filepath.Join(base, own), err
	}
	if base := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(base) {
		return filepath.Join(base, own), nil
	}
	user, err := os.UserHomeDir()
	return filepath.Join(user, ".local", "share", own), err
}

// A Kept is an attempt in a folder.
type Kept struct {
	Path   string
	When   time.Time // last written
	Record *attempt.Record
	Err    error // what is wrong with the file; its record holds what can be read
}

// Open tells whether the job can be gone on with; a torn last line is no hindrance.
func (k Kept) Open() bool {
	if k.Record == nil || k.Err != nil && !errors.Is(k.Err, attempt.ErrCutShort) {
		return false
	}
	return !k.Record.Signed()
}

// KeptIn lists the attempts in a folder, the last written first; none where there is no
// such folder.
func KeptIn(folder string) ([]Kept, error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var out []Kept
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !info.Mode().IsRegular() || filepath.Ext(e.Name()) != ".jsonl" {
			continue
		}
		path := filepath.Join(folder, e.Name())
		rec, err := Read(path)
		out = append(out, Kept{path, info.ModTime(), rec, err})
	}
	slices.SortStableFunc(out, func(a, b Kept) int { return b.When.Compare(a.When) })
	return out, nil
}

// Tries counts the attempts in a folder at the job of a head, on the same terms. Files whose
// heads cannot be read count as none.
func Tries(folder string, h attempt.Header) (int, error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	n := 0
	for _, e := range entries {
		if !e.Type().IsRegular() || filepath.Ext(e.Name()) != ".jsonl" {
			continue
		}
		if other, ok := headOf(filepath.Join(folder, e.Name())); ok && other.Seed == h.Seed && other.TermsMark() == h.TermsMark() {
			n++
		}
	}
	return n, nil
}

// headOf reads the first line of an attempt file.
func headOf(path string) (attempt.Header, bool) {
	f, err := os.Open(path)
	if err != nil {
		return attempt.Header{}, false
	}
	defer f.Close()
	const most = 1 << 20 // a head with a whole family in it is some kilobytes
	line, err := bufio.NewReader(io.LimitReader(f, most)).ReadBytes('\n')
	if err != nil {
		return attempt.Header{}, false
	}
	rec, err := attempt.Read(bytes.NewReader(line))
	if err != nil {
		return attempt.Header{}, false
	}
	return rec.Header, true
}
