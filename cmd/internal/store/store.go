// Package store keeps attempts in files. An act is on the disk before the next is asked
// for, and a file that something else has written to is never added to.
package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"shimwright/cmd/internal/exit"
	"shimwright/scenarios/attempt"
)

// Read reads an attempt file. Of one that is damaged or cut short the record holds the
// whole acts before the trouble. Errors name the file; os.ErrNotExist where there is none.
func Read(path string) (*attempt.Record, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, exit.Usage(err)
	}
	defer f.Close()
	rec, err := attempt.Read(f)
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

// A File is an attempt file that acts are added to.
type File struct {
	path string
	file *os.File
	size int64 // as this File left it
}

// Create begins a new attempt file. Errors: one that is there already, or a place where
// none can be kept; then none is left behind.
func Create(path string, rec *attempt.Record) (*File, error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, exit.Usage(fmt.Errorf("the attempt cannot be kept: %w", err))
	}
	out := &File{path: path, file: f}
	if err := out.Append(rec.HeaderLine()); err != nil {
		// A file without its head could not be taken up again.
		f.Close()
		return nil, errors.Join(err, os.Remove(path))
	}
	return out, nil
}

// Open takes an attempt file up again.
func Open(path string) (*File, error) {
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, err
	}
	return &File{path, f, info.Size()}, nil
}

// Path is the file's name.
func (f *File) Path() string { return f.path }

// Append adds a line and makes sure that it is on the disk.
func (f *File) Append(line []byte) error {
	info, err := f.file.Stat()
	switch there, gone := os.Stat(f.path); {
	case err != nil:
	case gone != nil:
		err = errors.New("it is not there any more: it has been moved or deleted; the acts before this one went with it")
	case !os.SameFile(info, there):
		err = errors.New("another file has taken its place; the acts before this one are in the old one")
	case info.Size() != f.size:
		err = errors.New("something else has written to it; another session has it open")
	}
	if err == nil {
		_, err = f.file.Write(line)
	}
	if err == nil {
		err = f.file.Sync()
	}
	if err != nil {
		return fmt.Errorf("the act could not be kept in %s: %w", f.path, err)
	}
	f.size += int64(len(line))
	return nil
}

// Close closes the file.
func (f *File) Close() error { return f.file.Close() }

// Mend sets a troubled attempt file aside under a name of its own and writes the whole acts
// of it again. It returns the name of the one set aside.
func Mend(path string, rec *attempt.Record) (aside string, err error) {
	aside = path + ".before-mending"
	for i := 2; ; i++ {
		if _, err := os.Lstat(aside); errors.Is(err, os.ErrNotExist) {
			break
		}
		aside = fmt.Sprintf("%s.before-mending-%d", path, i)
	}
	whole, err := rec.Bytes()
	if err != nil {
		return "", err
	}
	tmp := path + ".mended"
	if err := os.WriteFile(tmp, whole, 0o600); err != nil {
		return "", err
	}
	if err := os.Rename(path, aside); err != nil {
		return "", err
	}
	return aside, os.Rename(tmp, path)
}

// WriteWhole writes a file that appears whole or not at all.
func WriteWhole(path string, write func(io.Writer) error) error {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".writing-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // gone already when all went well
	if err := write(tmp); err != nil {
		tmp.Close()
		return err
	}
	if err := tmp.Close(); err != nil {
		return err
	}
	if err := os.Chmod(tmp.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), path)
}

// WriteNew writes a file that is not there yet. Errors: os.ErrExist.
func WriteNew(path string, text []byte, mode os.FileMode) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Close())
}
