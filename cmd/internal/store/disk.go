package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// A disk is what the writers of this package ask of the system. A test puts faults in between.
type disk interface {
	open(path string, flag int, mode fs.FileMode) (handle, error)
	temp(folder string) (handle, error)
	stat(path string) (fs.FileInfo, error)
	link(from, to string) error // errors: fs.ErrExist where to is there
	rename(from, to string) error
	remove(path string) error
	chmod(path string, mode fs.FileMode) error
	syncFolder(folder string) error
}

// A handle is an open file.
type handle interface {
	io.ReadWriteCloser
	Name() string
	Stat() (fs.FileInfo, error)
	Sync() error
	Truncate(size int64) error
	Fd() uintptr
}

// system is the disk itself.
type system struct{}

func (system) open(path string, flag int, mode fs.FileMode) (handle, error) {
	f, err := os.OpenFile(path, flag, mode)
	if err != nil {
		return nil, err
	}
	return f, nil
}

func (system) temp(folder string) (handle, error) {
	f, err := os.CreateTemp(folder, ".writing-*")
	if err != nil {
		return nil, err
	}
	return f, nil
}

func (system) stat(path string) (fs.FileInfo, error)     { return os.Stat(path) }
func (system) link(from, to string) error                { return os.Link(from, to) }
func (system) rename(from, to string) error              { return os.Rename(from, to) }
func (system) remove(path string) error                  { return os.Remove(path) }
func (system) chmod(path string, mode fs.FileMode) error { return os.Chmod(path, mode) }

// syncFolder makes sure that the names in a folder are on the disk, where the system can.
func (system) syncFolder(folder string) error {
	f, err := os.Open(folder)
	if err != nil {
		return nil
	}
	defer f.Close()
	_ = f.Sync() // not every system does that of a folder; the file itself is on the disk
	return nil
}

// noPlace is the error of a path at which no file can be made, whatever is in it.
type noPlace struct{ error }

func (e noPlace) Unwrap() error { return e.error }

// written writes a file under a name of its own beside a path, down to the disk, and returns
// the name. On an error none is left.
func written(on disk, path string, mode fs.FileMode, write func(io.Writer) error) (name string, err error) {
	tmp, err := on.temp(filepath.Dir(path))
	if err != nil {
		return "", noPlace{err}
	}
	err = write(tmp)
	if err == nil {
		err = tmp.Sync()
	}
	if closed := tmp.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = on.chmod(tmp.Name(), mode)
	}
	if err != nil {
		return "", errors.Join(err, on.remove(tmp.Name()))
	}
	return tmp.Name(), nil
}

// writeWhole puts a file in the place of a path, whole or not at all. What is no file, such as
// a device or a pipe, is written into and stays what it is.
func writeWhole(on disk, path string, write func(io.Writer) error) error {
	const mode = 0o644
	if there, err := on.stat(path); err == nil && !there.Mode().IsRegular() {
		f, err := on.open(path, os.O_WRONLY, mode)
		if err != nil {
			return err
		}
		return errors.Join(write(f), f.Close())
	}
	tmp, err := written(on, path, mode, write)
	if err != nil {
		return err
	}
	if err := on.rename(tmp, path); err != nil {
		return errors.Join(err, on.remove(tmp))
	}
	return on.syncFolder(filepath.Dir(path))
}

// writeNew puts a file where none is, whole or not at all. Errors: fs.ErrExist.
func writeNew(on disk, path string, mode fs.FileMode, text []byte) error {
	if _, err := on.stat(path); err == nil {
		return &fs.PathError{Op: "create", Path: path, Err: fs.ErrExist}
	}
	tmp, err := written(on, path, mode, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	var none noPlace
	switch {
	case errors.As(err, &none):
		return noPlace{about(path, err)}
	case err != nil:
		return about(path, err)
	}
	if err := place(on, tmp, path); err != nil {
		return errors.Join(about(path, err), on.remove(tmp))
	}
	return on.syncFolder(filepath.Dir(path))
}

// place gives a file the name of another that is not there.
func place(on disk, from, to string) error {
	switch err := on.link(from, to); {
	case err == nil:
		_ = on.remove(from) // a second name of the file is no harm
		return nil
	case errors.Is(err, fs.ErrExist):
		return err
	}
	// A disk that knows no second names.
	if _, err := on.stat(to); err == nil {
		return fs.ErrExist
	}
	return on.rename(from, to)
}

// about says what went wrong of a path and not of the name it was written under.
func about(path string, err error) error {
	var at *fs.PathError
	var from *os.LinkError
	switch {
	case errors.As(err, &at):
		err = at.Err
	case errors.As(err, &from):
		err = from.Err
	}
	return &fs.PathError{Op: "create", Path: path, Err: err}
}
