package store

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"shimwright/scenarios/attempt"
)

// A Handed is an attempt file among others: where it is, and its name from the folder that
// all of them lie in.
type Handed struct{ Path, Name string }

// Read is Read of what is handed in.
func (h Handed) Read() (*attempt.Record, error) { return Read(h.Path) }

// Find finds the attempt files of files and folders named, each once, in the order of their
// names.
func Find(args []string) ([]Handed, error) {
	var paths, folders []string
	for _, a := range args {
		info, err := os.Stat(a)
		if err != nil {
			return nil, err
		}
		if !info.IsDir() {
			paths, folders = append(paths, a), append(folders, filepath.Dir(a))
			continue
		}
		folders = append(folders, a)
		if err := filepath.WalkDir(a, func(path string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() && strings.EqualFold(filepath.Ext(path), ".jsonl") {
				paths = append(paths, path)
			}
			return err
		}); err != nil {
			return nil, err
		}
	}
	if len(paths) == 0 {
		return nil, fmt.Errorf("no attempt file (.jsonl) in %s", strings.Join(args, ", "))
	}
	root, err := commonFolder(folders)
	if err != nil {
		return nil, err
	}
	var out []Handed
	for _, p := range paths {
		whole, err := filepath.Abs(p)
		if err != nil {
			return nil, err
		}
		name, err := filepath.Rel(root, whole)
		if err != nil {
			return nil, err
		}
		out = append(out, Handed{p, filepath.ToSlash(name)})
	}
	slices.SortFunc(out, func(a, b Handed) int { return strings.Compare(a.Name, b.Name) })
	return slices.CompactFunc(out, func(a, b Handed) bool { return a.Name == b.Name }), nil
}

// commonFolder is the innermost folder that all of the folders lie in.
func commonFolder(folders []string) (string, error) {
	common := ""
	for i, f := range folders {
		whole, err := filepath.Abs(f)
		if err != nil {
			return "", err
		}
		if i == 0 {
			common = whole
		}
		for !inside(common, whole) {
			up := filepath.Dir(common)
			if up == common {
				return common, nil
			}
			common = up
		}
	}
	return common, nil
}

func inside(folder, path string) bool {
	rel, err := filepath.Rel(folder, path)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// Pupil is who an attempt is filed under: the folder it lies in or, where it lies with all
// others, its own name without the job's.
func (h Handed) Pupil(job string) string {
	if i := strings.LastIndex(h.Name, "/"); i >= 0 {
		return h.Name[:i]
	}
	name := strings.TrimSuffix(h.Name, filepath.Ext(h.Name))
	short := strings.TrimRight(strings.TrimSuffix(strings.TrimSuffix(name, job), "shimwright-"), "-_. ")
	if short == "" {
		return name
	}
	return short
}
