package store

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"shimwright/scenarios/attempt"
	"shimwright/sim/datasheet"
	"shimwright/sim/text"
)

// A Handed is what was handed in as an attempt: where it is, and its name from the folder that
// all of them lie in, with slashes. A file in a zip file has the zip file for a folder.
type Handed struct {
	Path, Name string
	Err        error     // why it is not read; nil where it may be
	member     *zip.File // of a zip file; nil for a file of its own
}

// Read is Read of what is handed in.
func (h Handed) Read() (*attempt.Record, error) {
	switch {
	case h.Err != nil:
		return nil, named{h.Path, h.Err}
	case h.member == nil:
		return Read(h.Path)
	}
	f, err := h.member.Open()
	if err != nil {
		return nil, named{h.Path, unfit(text.Say("attempt.not-unpacked", "it cannot be unpacked: {why}", text.Of("why", text.Reason(err))))}
	}
	defer f.Close()
	return readFrom(f, h.Path, attempt.ReadRestored)
}

// Found is what files and folders hold.
type Found struct {
	Files  []Handed // each once, in the order of their names; a folder in which nobody can look is one, too
	Passed []string // names of files that are no attempts and do not say that they are
	zips   []io.Closer
}

// Close closes what files are read from.
func (f Found) Close() error {
	var err error
	for _, z := range f.zips {
		err = errors.Join(err, z.Close())
	}
	return err
}

const ownExt = ".jsonl"

func unfit(why text.Message) error { return &attempt.Error{Trouble: attempt.ErrForeign, Why: why} }

// finder gathers what is found; names are whole paths until all is.
type finder struct{ Found }

func (f *finder) add(path string, member *zip.File, err error) {
	f.Files = append(f.Files, Handed{Path: path, Name: path, Err: err, member: member})
}

// Find finds the attempt files of files, folders and zip files named. Whatever is wrong with one
// of them is said of that one. Errors: a file named that is not there, and none at all.
func Find(args []string) (Found, error) {
	var f finder
	var folders []string
	for _, a := range args {
		info, err := os.Stat(a)
		if err != nil {
			return Found{}, err
		}
		whole, err := filepath.Abs(a)
		if err != nil {
			return Found{}, err
		}
		switch {
		case info.IsDir():
			folders = append(folders, whole)
			f.walk(whole)
		case isZip(a) && info.Mode().IsRegular():
			folders = append(folders, whole)
			f.unpack(whole)
		default:
			folders = append(folders, filepath.Dir(whole))
			f.add(whole, nil, nil)
		}
	}
	if len(f.Files) == 0 {
		return Found{}, errors.Join(text.Fail(nil, text.Say("store.folder.no-attempt-file", "no attempt file ({own_ext}) in {args}", text.Typed("own_ext", ownExt), text.Typed("args", strings.Join(args, ", ")))), f.Close())
	}
	root, err := commonFolder(folders)
	if err != nil {
		return Found{}, err
	}
	name := func(path string) string {
		if rel, err := filepath.Rel(root, path); err == nil {
			path = rel
		}
		return strings.ToValidUTF8(filepath.ToSlash(path), "�")
	}
	for i, h := range f.Files {
		f.Files[i].Name = name(h.Path) + map[bool]string{true: "/"}[strings.HasSuffix(h.Path, string(filepath.Separator))]
	}
	for i, p := range f.Passed {
		f.Passed[i] = name(p)
	}
	slices.SortFunc(f.Files, func(a, b Handed) int { return strings.Compare(a.Name, b.Name) })
	f.Files = slices.CompactFunc(f.Files, func(a, b Handed) bool { return a.Name == b.Name })
	slices.Sort(f.Passed)
	f.Passed = slices.Compact(f.Passed)
	return f.Found, nil
}

// hidden tells what systems leave in folders by themselves.
func hidden(name string) bool { return strings.HasPrefix(name, ".") || name == "__MACOSX" }

func isZip(name string) bool { return strings.EqualFold(filepath.Ext(name), ".zip") }

// walk looks through a folder. A folder right in it that holds nothing is told too: it is a
// pupil's.
func (f *finder) walk(folder string) {
	var inside []string
	_ = filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error { // errors are told of what they are of
		switch {
		case err != nil:
			f.add(path, nil, unfit(text.Say("attempt.no-entry", "it cannot be opened: {why}", text.Of("why", text.Reason(cause(err))))))
			if d != nil && d.IsDir() {
				return filepath.SkipDir
			}
		case path == folder:
		case hidden(d.Name()):
			if d.IsDir() {
				return filepath.SkipDir
			}
		case d.IsDir():
			if filepath.Dir(path) == folder {
				inside = append(inside, path)
			}
		case d.Type()&fs.ModeSymlink != 0:
			f.add(path, nil, unfit(text.Say("attempt.link", "it is a link to somewhere else")))
		case !d.Type().IsRegular():
			f.add(path, nil, unfit(noFileWhy()))
		case isZip(path):
			f.unpack(path)
		default:
			f.file(path, nil, func() (io.ReadCloser, error) { return os.Open(path) })
		}
		return nil
	})
	for _, dir := range inside {
		within := dir + string(filepath.Separator)
		if !slices.ContainsFunc(f.Files, func(h Handed) bool { return h.Path == dir || strings.HasPrefix(h.Path, within) }) {
			f.add(within, nil, unfit(text.Say("attempt.none-inside", "no attempt file is in this folder")))
		}
	}
}

// file takes a file that is called an attempt or begins as one, and passes over any other.
func (f *finder) file(path string, member *zip.File, open func() (io.ReadCloser, error)) {
	if strings.EqualFold(filepath.Ext(path), ownExt) || begins(open) {
		f.add(path, member, nil)
		return
	}
	f.Passed = append(f.Passed, path)
}

// begins tells whether a file begins as an attempt does. One that cannot be opened does: the
// reason is told when it is read.
func begins(open func() (io.ReadCloser, error)) bool {
	r, err := open()
	if err != nil {
		return true
	}
	defer r.Close()
	const enough = 256
	start := make([]byte, enough)
	n, _ := io.ReadFull(r, start) // a shorter file has what it has
	return bytes.HasPrefix(attempt.Restore(start[:n]), []byte(`{"record":`))
}

// unpack looks through a zip file without writing anything.
func (f *finder) unpack(path string) {
	const most = 50_000 // members; more is no class
	z, err := zip.OpenReader(path)
	if err != nil {
		f.add(path, nil, unfit(text.Say("attempt.not-unpacked", "it cannot be unpacked: {why}", text.Of("why", text.Reason(cause(err))))))
		return
	}
	f.zips = append(f.zips, z)
	if len(z.File) > most {
		f.add(path, nil, unfit(text.Say("attempt.too-many", "it holds more than {n} files", text.Count("n", most))))
		return
	}
	found := len(f.Files)
	for _, m := range z.File {
		name := inZip(m.Name)
		if strings.HasSuffix(m.Name, "/") || slices.ContainsFunc(strings.Split(name, "/"), hidden) {
			continue
		}
		at := filepath.Join(path, filepath.FromSlash(name))
		switch {
		case !m.Mode().IsRegular():
			f.add(at, m, unfit(text.Say("attempt.link", "it is a link to somewhere else")))
		case isZip(name):
			f.add(at, m, unfit(text.Say("attempt.zip-in-zip", "it is a zip file in a zip file: unpack the outer one")))
		default:
			f.file(at, m, m.Open)
		}
	}
	if len(f.Files) == found {
		f.add(path, nil, unfit(text.Say("attempt.none-inside", "no attempt file is in this folder")))
	}
}

// inZip is a member's name with slashes that leads nowhere else.
func inZip(name string) string {
	return strings.TrimPrefix(path.Clean("/"+strings.ReplaceAll(name, `\`, "/")), "/")
}

// cause is what went wrong without the path that it went wrong with.
func cause(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
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
// others, its own name without the job's. A zip file in a pupil's folder is the pupil's; one
// that lies with all others is a folder.
func (h Handed) Pupil(job string) string {
	if i := strings.LastIndex(h.Name, "/"); i >= 0 {
		parts := strings.Split(h.Name[:i], "/")
		if isZip(parts[0]) {
			parts[0] = strings.TrimSuffix(parts[0], path.Ext(parts[0]))
		}
		if n := slices.IndexFunc(parts, isZip); n > 0 {
			parts = parts[:n]
		}
		return strings.Join(parts, "/")
	}
	name := strings.TrimSuffix(h.Name, path.Ext(h.Name))
	short := strings.TrimRight(strings.TrimSuffix(strings.TrimSuffix(name, job), "shimwright-"), "-_. ")
	if short == "" {
		return name
	}
	return short
}

// Roster reads the names of a class: one a line, or the first cell of one where there are commas,
// semicolons or tabs. What begins with # is a remark.
func Roster(path string) ([]string, error) {
	const most = 1 << 20
	data, err := datasheet.ReadUpTo(path, most)
	if err != nil {
		return nil, err
	}
	if len(data) > most {
		return nil, text.Fail(nil, text.Say("store.folder.longer-than-any-roster", "{path} is longer than any roster", text.Typed("path", path)))
	}
	var out []string
	for line := range strings.Lines(string(attempt.Restore(data))) {
		if i := strings.IndexAny(line, ",;\t"); i >= 0 {
			line = line[:i]
		}
		if name := strings.Trim(line, " \"\r\n"); name != "" && !strings.HasPrefix(name, "#") {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return nil, text.Fail(nil, text.Say("store.folder.names-nobody", "{path} names nobody", text.Typed("path", path)))
	}
	return out, nil
}
