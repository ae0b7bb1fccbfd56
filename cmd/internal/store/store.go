// Package store keeps attempts in files. An act is on the disk before the next is asked
// for, and a file that something else has written to is never added to.
package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"shimwright/cmd/internal/exit"
	"shimwright/scenarios/attempt"
	"shimwright/sim/text"
)

// Read reads an attempt file. Of one that is damaged or cut short the record holds the
// whole acts before the trouble. Errors name the file; os.ErrNotExist where there is none.
// A pipe is not waited for. A file that was saved with other ends of lines is read all the same.
func Read(path string) (*attempt.Record, error) { return readWith(path, attempt.ReadRestored) }

// ReadExact is Read of a file that acts can be added to: as the program wrote it.
func ReadExact(path string) (*attempt.Record, error) { return readWith(path, attempt.Read) }

func readWith(path string, read func(io.Reader) (*attempt.Record, error)) (*attempt.Record, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, exit.Usage(err)
	}
	if !info.Mode().IsRegular() {
		return nil, noFile(path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, exit.Usage(err)
	}
	defer f.Close()
	return readFrom(f, path, read)
}

func noFile(path string) error { return named{path, unfit(noFileWhy())} }

func noFileWhy() text.Message {
	return text.Say("attempt.no-file", "it is a pipe, a device or a folder")
}

func readFrom(f io.Reader, path string, read func(io.Reader) (*attempt.Record, error)) (*attempt.Record, error) {
	rec, err := read(f)
	if err != nil {
		return rec, named{path, err}
	}
	return rec, nil
}

// A named error is about a file.
type named struct {
	path string
	error
}

func (n named) Error() string { return n.path + ": " + n.error.Error() }
func (n named) Unwrap() error { return n.error }

// Unnamed returns what is wrong with a file without the file's name.
func Unnamed(err error) error {
	var n named
	if errors.As(err, &n) {
		return n.error
	}
	return err
}

// A File is an attempt file that acts are added to. No other process can open it for that
// meanwhile.
type File struct {
	on   disk
	path string
	file handle
	size int64 // as this File left it
}

// ErrInUse is that of an attempt file that another process adds acts to.
var ErrInUse = text.Fail(nil, text.Say("store.another-bench-works-this", "another bench works on this attempt: leave that one first, or name another file"))

// ErrElsewhere is that of an attempt file that is not where it was, or not what it was.
var ErrElsewhere = text.Fail(nil, text.Say("store.file-not-as-this", "the file is not as this bench left it"))

// Create begins a new attempt file. Errors: one that is there already, or a place where
// none can be kept; then none is left behind.
func Create(path string, rec *attempt.Record) (*File, error) { return create(system{}, path, rec) }

func create(on disk, path string, rec *attempt.Record) (*File, error) {
	const mode = 0o600
	if err := writeNew(on, path, mode, rec.HeaderLine()); err != nil {
		var none noPlace
		misused := errors.As(err, &none) || errors.Is(err, os.ErrExist)
		if err = text.Fail(err, text.Say("store.attempt-cannot-be-kept", "the attempt cannot be kept: {why}", text.Cause("why", err))); misused {
			err = exit.Usage(err)
		}
		return nil, err
	}
	f, _, _, err := open(on, path)
	return f, err
}

// Open takes an attempt file up again. A torn last line, as a full disk or a power cut leaves
// one, is cut off; torn is how many bytes that were. Errors: those of Read, and ErrInUse.
func Open(path string) (f *File, rec *attempt.Record, torn int64, err error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, nil, 0, noFile(path)
	}
	return open(system{}, path)
}

func open(on disk, path string) (_ *File, rec *attempt.Record, torn int64, err error) {
	h, err := taken(on, path)
	if err != nil {
		return nil, nil, 0, err
	}
	defer func() {
		if err != nil {
			h.Close()
		}
	}()
	rec, err = readFrom(h, path, attempt.Read)
	if err != nil && !errors.Is(err, attempt.ErrCutShort) {
		return nil, rec, 0, err
	}
	info, errStat := h.Stat()
	if errStat != nil {
		return nil, rec, 0, errStat
	}
	size := info.Size()
	if err != nil {
		whole, errBytes := rec.Bytes()
		if errBytes != nil {
			return nil, rec, 0, errBytes
		}
		torn = size - int64(len(whole))
		size = int64(len(whole))
		if err := cutOff(h, size); err != nil {
			return nil, rec, 0, named{path, err}
		}
	}
	return &File{on, path, h, size}, rec, torn, nil
}

// taken opens a file that is there, to read it and to add to it, for this process alone.
func taken(on disk, path string) (handle, error) {
	h, err := on.open(path, os.O_APPEND|os.O_RDWR, 0)
	if err != nil {
		return nil, exit.Usage(err)
	}
	if lock(h.Fd()) {
		h.Close()
		return nil, named{path, ErrInUse}
	}
	return h, nil
}

func cutOff(h handle, size int64) error {
	if err := h.Truncate(size); err != nil {
		return err
	}
	return h.Sync()
}

// Path is the file's name.
func (f *File) Path() string { return f.path }

// Append adds a line and makes sure that it is on the disk. Of a line that cannot be added
// nothing is left. Errors: ErrElsewhere, and those of the disk.
func (f *File) Append(line []byte) error {
	if err := f.append(line); err != nil {
		return text.Fail(err, text.Say("store.act-could-not-be", "the act could not be kept in {path}: {why}", text.Typed("path", f.path), text.Cause("why", err)))
	}
	return nil
}

func (f *File) append(line []byte) error {
	info, err := f.file.Stat()
	if err != nil {
		return err
	}
	switch there, gone := f.on.stat(f.path); {
	case gone != nil:
		return text.Fail(ErrElsewhere, text.Say("store.has-been-moved-deleted", "{err_elsewhere}: it has been moved or deleted, and the acts before this one went with it", text.Cause("err_elsewhere", ErrElsewhere)))
	case !os.SameFile(info, there):
		return text.Fail(ErrElsewhere, text.Say("store.another-file-has-taken", "{err_elsewhere}: another file has taken its place; the acts before this one are in the old one", text.Cause("err_elsewhere", ErrElsewhere)))
	case info.Size() != f.size:
		return text.Fail(ErrElsewhere, text.Say("store.something-else-has-written", "{err_elsewhere}: something else has written to it; another session has it open", text.Cause("err_elsewhere", ErrElsewhere)))
	}
	_, err = f.file.Write(line)
	if err == nil {
		err = f.file.Sync()
	}
	if err != nil {
		_ = cutOff(f.file, f.size) // else it is cut off when the file is opened again
		return err
	}
	f.size += int64(len(line))
	return nil
}

// Close closes the file.
func (f *File) Close() error { return f.file.Close() }

// Mend puts the whole acts of a troubled attempt file in its place, by one renaming, and keeps
// it as it was under a name of its own, which it returns. Errors: ErrInUse.
func Mend(path string, rec *attempt.Record) (aside string, err error) {
	return mend(system{}, path, rec)
}

func mend(on disk, path string, rec *attempt.Record) (aside string, err error) {
	h, err := taken(on, path)
	if err != nil {
		return "", err
	}
	defer h.Close()
	whole, err := rec.Bytes()
	if err != nil {
		return "", err
	}
	if aside, err = keepAside(on, path); err != nil {
		return "", err
	}
	return aside, writeWhole(on, path, func(w io.Writer) error {
		_, err := w.Write(whole)
		return err
	})
}

// keepAside gives a file a second name, or copies it where the disk knows none.
func keepAside(on disk, path string) (aside string, err error) {
	aside = path + ".before-mending"
	for i := 2; ; i++ {
		err = on.link(path, aside)
		if err != nil && !errors.Is(err, os.ErrExist) {
			err = copied(on, path, aside)
		}
		if !errors.Is(err, os.ErrExist) {
			return aside, err
		}
		aside = fmt.Sprintf("%s.before-mending-%d", path, i)
	}
}

func copied(on disk, from, to string) error {
	h, err := on.open(from, os.O_RDONLY, 0)
	if err != nil {
		return err
	}
	defer h.Close()
	all, err := io.ReadAll(h)
	if err != nil {
		return err
	}
	const mode = 0o600
	return writeNew(on, to, mode, all)
}

// Rescue writes all of a record to a new file beside one that is not there any more or can no
// longer be added to, and returns its name.
func Rescue(path string, whole []byte) (beside string, err error) {
	const mode = 0o600
	for i := 1; ; i++ {
		beside = fmt.Sprintf("%s.rescued-%d.jsonl", strings.TrimSuffix(path, ".jsonl"), i)
		if err := writeNew(system{}, beside, mode, whole); !errors.Is(err, os.ErrExist) {
			return beside, err
		}
	}
}

// WriteWhole writes a file that appears whole or not at all.
func WriteWhole(path string, write func(io.Writer) error) error {
	return writeWhole(system{}, path, write)
}

// WriteNew writes a file that is not there yet, whole or not at all. Errors: os.ErrExist.
func WriteNew(path string, text []byte, mode os.FileMode) error {
	return writeNew(system{}, path, mode, text)
}
