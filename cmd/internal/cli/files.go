package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// pictureKind tells by a file's name how a picture is written.
func pictureKind(path string) (svg bool, err error) {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".png":
		return false, nil
	case ".svg":
		return true, nil
	}
	return false, fmt.Errorf("%s: a picture's name ends in .png or .svg", path)
}

// writeWhole writes a file that appears whole or not at all.
func writeWhole(path string, write func(io.Writer) error) error {
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

// writeNew writes a file that is not there yet.
func writeNew(path, text string, mode os.FileMode) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return err
	}
	if _, err := f.WriteString(text); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
