package web

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"

	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/store"
	"shimwright/scenarios/attempt"
)

// Own is the owner whose attempts lie in a Folder itself, beside those of the terminal.
const Own = "own"

// Folder keeps attempts as files in a folder, each as a terminal keeps it: one face goes on
// with what the other began. Every owner but Own has a folder in it.
type Folder struct {
	root string
	mu   sync.Mutex
}

// NewFolder returns a Folder of a place that is there.
func NewFolder(root string) *Folder { return &Folder{root: root} }

var (
	anOwner = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z0-9]{1,64}$`) })
	aName   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z0-9_-][A-Za-z0-9._-]{0,200}$`) })
)

const (
	visitorsFolder = "visitors"
	extension      = ".jsonl"
)

// of is the folder of an owner.
func (f *Folder) of(owner string) (string, error) {
	switch {
	case owner == Own:
		return f.root, nil
	case !anOwner().MatchString(owner):
		return "", ErrNotFound
	}
	return filepath.Join(f.root, visitorsFolder, owner), nil
}

// path is the file of an attempt.
func (f *Folder) path(owner, id string) (string, error) {
	dir, err := f.of(owner)
	if err != nil || !aName().MatchString(id) {
		return "", ErrNotFound
	}
	return filepath.Join(dir, id+extension), nil
}

// Begin implements Keeper.
func (f *Folder) Begin(_ context.Context, owner string, h attempt.Header) (string, error) {
	dir, err := f.of(owner)
	if err != nil {
		return "", err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	rec := attempt.New(h.Terms, h.Order, h.FamilyText, h.Seed, h.Units)
	rec.BeginAt(h.Begin)
	name := "shimwright-" + job.ShortOf(h)
	f.mu.Lock()
	defer f.mu.Unlock()
	for n := 1; ; n++ {
		id := name
		if n > 1 {
			id = fmt.Sprintf("%s-%d", name, n)
		}
		file, err := store.Create(filepath.Join(dir, id+extension), rec)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		return id, file.Close()
	}
}

// Record implements Keeper.
func (f *Folder) Record(_ context.Context, owner, id string) (*attempt.Record, error) {
	path, err := f.path(owner, id)
	if err != nil {
		return nil, err
	}
	rec, err := store.Read(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNotFound
	}
	return rec, err
}

// Append implements Keeper.
func (f *Folder) Append(_ context.Context, owner, id string, had int, line []byte) error {
	path, err := f.path(owner, id)
	if err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	file, rec, _, err := store.Open(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return ErrNotFound
	case err != nil:
		return err
	case len(rec.Entries) != had:
		return errors.Join(ErrConflict, file.Close())
	}
	return errors.Join(file.Append(line), file.Close())
}

// List implements Keeper. Files that are no whole attempts are left out.
func (f *Folder) List(_ context.Context, owner string) ([]Kept, error) {
	dir, err := f.of(owner)
	if errors.Is(err, ErrNotFound) {
		return nil, nil // nobody has nothing
	}
	all, err := store.KeptIn(dir)
	if err != nil {
		return nil, err
	}
	var out []Kept
	for _, k := range all {
		id := strings.TrimSuffix(filepath.Base(k.Path), extension)
		if k.Err == nil && aName().MatchString(id) {
			out = append(out, Kept{id, k.Record.Header, len(k.Record.Entries), k.Record.Signed()})
		}
	}
	return out, nil
}

// Key is what the cookies of visitors are signed with, so that they are known again when the
// program is started anew: it is kept in the folder, and made if there is none.
func (f *Folder) Key() ([]byte, error) {
	path := filepath.Join(f.root, visitorsFolder+".key")
	key, err := os.ReadFile(path)
	const length = 32
	if err == nil && len(key) == length {
		return key, nil
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	key = make([]byte, length)
	if _, err := rand.Read(key); err != nil {
		return nil, err
	}
	return key, os.WriteFile(path, key, 0o600)
}
