package handout

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// A Platform is a system and a processor that the program is handed out for.
type Platform struct{ OS, Arch string }

// Platforms lists them.
func Platforms() (out []Platform) {
	for _, system := range []string{"linux", "darwin", "windows"} {
		for _, arch := range []string{"amd64", "arm64"} {
			out = append(out, Platform{system, arch})
		}
	}
	return out
}

// license matches the name of a file that holds terms or a notice that has to go with them.
var license = regexp.MustCompile(`(?i)^((.*[-_.])?(un)?licen[sc]es?|copying|notice|patents|copyright)([-_.].*)?$`)

// code are the ends of names of what is no text.
var code = regexp.MustCompile(`(?i)\.(go|s|c|h|py|sh|json|ya?ml)$`)

// A linked is a module that the program is linked with.
type linked struct {
	path, dir string
	folders   map[string]bool // of its packages that are linked
}

// modules lists what a package is linked with on some of the platforms; folder is where the
// module is that the package is of.
func modules(ctx context.Context, folder, pkg string, on []Platform) ([]*linked, error) {
	all := map[string]*linked{}
	for _, p := range on {
		out, err := tell(ctx, folder, []string{"GOOS=" + p.OS, "GOARCH=" + p.Arch, "CGO_ENABLED=0"},
			"go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Dir}}\t{{$.Dir}}{{end}}{{end}}", pkg)
		if err != nil {
			return nil, fmt.Errorf("%s/%s: %w", p.OS, p.Arch, err)
		}
		for line := range strings.Lines(out) {
			cells := strings.Split(strings.TrimSpace(line), "\t")
			if len(cells) != 3 {
				continue // a package of Go or of ours
			}
			m := all[cells[0]]
			if m == nil {
				m = &linked{cells[0], cells[1], map[string]bool{}}
				all[cells[0]] = m
			}
			m.folders[cells[2]] = true
		}
	}
	return slices.SortedFunc(maps.Values(all), func(a, b *linked) int { return strings.Compare(a.path, b.path) }), nil
}

// files are the names, from the module's folder, of all its licenses and notices that lie in a
// folder of a linked package or in one above.
func (m *linked) files() ([]string, error) {
	looked := map[string]bool{}
	var out []string
	for dir := range m.folders {
		for ; !looked[dir] && len(dir) >= len(m.dir); dir = filepath.Dir(dir) {
			looked[dir] = true
			entries, err := os.ReadDir(dir)
			if err != nil {
				return nil, err
			}
			for _, e := range entries {
				if e.Type().IsRegular() && license.MatchString(e.Name()) && !code.MatchString(e.Name()) {
					rel, err := filepath.Rel(m.dir, filepath.Join(dir, e.Name()))
					if err != nil {
						return nil, err
					}
					out = append(out, filepath.ToSlash(rel))
				}
			}
		}
	}
	slices.Sort(out)
	return out, nil
}

// Licenses writes into a folder the licenses of all modules that a package is linked with on any
// of the platforms, and that of Go itself. source is the folder of the package's module. Errors:
// a module without a license.
func Licenses(ctx context.Context, source, pkg string, on []Platform, folder string) error {
	all, err := modules(ctx, source, pkg, on)
	if err != nil {
		return err
	}
	root, err := tell(ctx, source, nil, "go", "env", "GOROOT")
	if err != nil {
		return err
	}
	all = append(all, &linked{"go", root, map[string]bool{root: true}})
	var none []string
	for _, m := range all {
		names, err := m.files()
		if err != nil {
			return err
		}
		if len(names) == 0 {
			none = append(none, m.path)
		}
		for _, name := range names {
			to := filepath.Join(folder, filepath.FromSlash(path.Join(m.path, name)))
			text, err := os.ReadFile(filepath.Join(m.dir, filepath.FromSlash(name)))
			if err == nil {
				err = write(to, text)
			}
			if err != nil {
				return err
			}
		}
	}
	if len(none) > 0 {
		return fmt.Errorf("no license was found of %s", strings.Join(none, ", "))
	}
	return nil
}

func write(path string, text []byte) error {
	const folderMode, mode fs.FileMode = 0o755, 0o644
	if err := os.MkdirAll(filepath.Dir(path), folderMode); err != nil {
		return err
	}
	return os.WriteFile(path, text, mode)
}
