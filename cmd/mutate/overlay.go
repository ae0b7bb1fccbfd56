package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// A mutant is one change of one site.
type mutant struct {
	id   int // of its site
	file string
	pkg  string // import path
	site site
	kind kind
}

// A module is what the go command knows of ours.
type module struct {
	root, path string
	packages   map[string]*listed
}

type listed struct {
	Dir, ImportPath, Export            string
	GoFiles, TestGoFiles, XTestGoFiles []string
	Imports, TestImports, XTestImports []string
}

// load asks the go command for the packages of the module that a folder is in, and for the
// export data of all they need.
func load(folder string) (*module, error) {
	which := exec.Command("go", "list", "-m", "-f", "{{.Dir}}\n{{.Path}}")
	which.Dir = folder
	out, err := which.Output()
	if err != nil {
		return nil, err
	}
	lines := strings.Fields(string(out))
	m := &module{root: lines[0], path: lines[1], packages: map[string]*listed{}}
	cmd := exec.Command("go", "list", "-export", "-deps", "-json", "./...")
	cmd.Dir, cmd.Stderr = m.root, os.Stderr
	out, err = cmd.Output()
	if err != nil {
		return nil, err
	}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		p := &listed{}
		if err := d.Decode(p); err == io.EOF {
			return m, nil
		} else if err != nil {
			return nil, err
		}
		m.packages[p.ImportPath] = p
	}
}

// under returns our packages in the given folders.
func (m *module) under(folders ...string) []string {
	var found []string
	for path := range m.packages {
		for _, f := range folders {
			whole := m.path + "/" + strings.Trim(f, "/")
			if path == whole || strings.HasPrefix(path, whole+"/") {
				found = append(found, path)
			}
		}
	}
	slices.Sort(found)
	return slices.DeleteFunc(slices.Compact(found), func(p string) bool { return strings.HasSuffix(p, "test") })
}

// testers returns a package and those in some folders that import it directly, of those that
// have tests.
func (m *module) testers(pkg string, folders []string) []string {
	all := []string{pkg}
	for _, path := range m.under(folders...) {
		p := m.packages[path]
		if path != pkg && slices.Contains(slices.Concat(p.Imports, p.TestImports, p.XTestImports), pkg) {
			all = append(all, path)
		}
	}
	slices.Sort(all)
	return slices.DeleteFunc(all, func(path string) bool {
		p := m.packages[path]
		return len(p.TestGoFiles)+len(p.XTestGoFiles) == 0
	})
}

// mutants finds all that can be made of a package.
func (m *module) mutants(pkg string) ([]mutant, error) {
	p := m.packages[pkg]
	fset := token.NewFileSet()
	var files []*ast.File
	src := map[string][]byte{}
	for _, name := range p.GoFiles {
		path := filepath.Join(p.Dir, name)
		b, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(fset, path, b, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files, src[path] = append(files, f), b
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}
	conf := types.Config{Importer: importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(m.packages[path].Export)
	})}
	if _, err := conf.Check(pkg, fset, files, info); err != nil {
		return nil, err
	}
	var all []mutant
	for _, f := range files {
		path := fset.Position(f.Pos()).Filename
		for _, s := range sites(fset, f, info, src[path]) {
			for _, k := range s.kinds {
				all = append(all, mutant{file: path, pkg: pkg, site: s, kind: k})
			}
		}
	}
	return all, nil
}

// sample draws n mutants evenly over the packages: the same for the same seed.
func sample(all map[string][]mutant, n int, seed uint64) []mutant {
	r := rand.New(rand.NewPCG(seed, 0))
	left := map[string][]mutant{}
	var names []string
	for pkg, ms := range all {
		names, left[pkg] = append(names, pkg), slices.Clone(ms)
	}
	slices.Sort(names)
	for _, pkg := range names {
		r.Shuffle(len(left[pkg]), func(i, j int) { left[pkg][i], left[pkg][j] = left[pkg][j], left[pkg][i] })
	}
	var chosen []mutant
	for len(chosen) < n {
		before := len(chosen)
		for _, pkg := range names {
			if len(left[pkg]) > 0 && len(chosen) < n {
				chosen, left[pkg] = append(chosen, left[pkg][0]), left[pkg][1:]
			}
		}
		if len(chosen) == before {
			break
		}
	}
	return chosen
}

// number gives each site its id; two mutants of one site share it.
func number(ms []mutant) {
	slices.SortFunc(ms, func(a, b mutant) int {
		if c := strings.Compare(a.file, b.file); c != 0 {
			return c
		}
		if a.site.from != b.site.from {
			return a.site.from - b.site.from
		}
		if a.site.to != b.site.to {
			return b.site.to - a.site.to
		}
		if a.site.comma != b.site.comma { // the whole outside, the sum within
			return strings.Compare(fmt.Sprint(a.site.comma), fmt.Sprint(b.site.comma))
		}
		return strings.Compare(string(a.kind), string(b.kind))
	})
	id := 0
	for i := range ms {
		if i == 0 || ms[i].file != ms[i-1].file || ms[i].site.from != ms[i-1].site.from || ms[i].site.to != ms[i-1].site.to || ms[i].site.call != ms[i-1].site.call { // else two of one site
			id++
		}
		ms[i].id = id
	}
}

// overlay writes all mutants into copies of their files, and returns the file that tells the
// go command to read those.
func (m *module) overlay(folder string, ms []mutant) (string, error) {
	replace := map[string]string{}
	write := func(path, text string) error {
		copied := filepath.Join(folder, fmt.Sprintf("%d.go", len(replace)))
		replace[path] = copied
		return os.WriteFile(copied, []byte(text), 0o644)
	}
	if err := write(filepath.Join(m.root, "mutant", "mutant.go"), helpers); err != nil {
		return "", err
	}
	byFile := map[string][]mutant{}
	for _, u := range ms {
		byFile[u.file] = append(byFile[u.file], u)
	}
	for path, us := range byFile {
		src, err := os.ReadFile(path)
		if err != nil {
			return "", err
		}
		if err := write(path, rewrite(string(src), us, m.path+"/mutant")); err != nil {
			return "", err
		}
	}
	b, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	name := filepath.Join(folder, "overlay.json")
	return name, os.WriteFile(name, b, 0o644)
}

// rewrite puts a call of a helper in the place of each site, on the same lines.
func rewrite(src string, ms []mutant, helpers string) string {
	opens, closes, swaps := map[int]string{}, map[int]string{}, map[int]string{}
	width := map[int]int{}
	done := map[int]bool{}
	for _, u := range ms { // outer sites come before those inside them
		if done[u.id] {
			continue
		}
		done[u.id] = true
		s := u.site
		opens[s.from] += fmt.Sprintf("mutant.%s(%d, ", s.call, u.id)
		closes[s.to] = ")" + closes[s.to]
		if s.comma {
			w := 1
			if c := src[s.op : s.op+2]; c == "<=" || c == ">=" || c == "==" || c == "!=" {
				w = 2
			}
			swaps[s.op], width[s.op] = ",", w
		}
		if s.drop {
			swaps[s.op], width[s.op] = "", 1
		}
	}
	var b strings.Builder
	for i := 0; i <= len(src); i++ {
		b.WriteString(closes[i])
		b.WriteString(opens[i])
		if i == len(src) {
			break
		}
		if text, ok := swaps[i]; ok {
			b.WriteString(text)
			i += width[i] - 1
			continue
		}
		b.WriteByte(src[i])
	}
	// The import stands on the line of the package clause.
	text := b.String()
	at := strings.Index("\n"+text, "\npackage ")
	end := at + strings.IndexByte(text[at:], '\n')
	return text[:end] + "; import \"" + helpers + "\"" + text[end:]
}

// helpers is the package that mutated code calls. It exists in the overlay alone.
const helpers = `package mutant

import (
	"cmp"
	"os"
	"strconv"
	"strings"
	"sync/atomic"
)

var (
	awake  int
	bound  bool
	traced []atomic.Bool
	trace  *os.File
)

func init() {
	id, kind, _ := strings.Cut(os.Getenv("MUTANT"), ":")
	awake, _ = strconv.Atoi(id)
	bound = kind == "boundary"
	if name := os.Getenv("MUTANT_TRACE"); name != "" {
		trace, _ = os.OpenFile(name, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
		traced = make([]atomic.Bool, 1<<16)
		awake = -1
	}
}

func reach(id int) {
	if traced != nil && !traced[id].Swap(true) {
		trace.WriteString(strconv.Itoa(id) + "\n")
	}
}

// on reports whether a site's mutant is awake.
func on(id int) bool {
	if awake < 0 {
		reach(id)
	}
	return id == awake
}

type number interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~float32 | ~float64
}

func Plus[T number](id int, a, b T) T {
	if on(id) {
		return a - b
	}
	return a + b
}

func Less[T number](id int, a, b T) T {
	if on(id) {
		return a + b
	}
	return a - b
}

func Same[T number](id int, a T) T {
	if on(id) {
		return -a
	}
	return a
}

func Minus[T number](id int, a T) T {
	if on(id) {
		return a
	}
	return -a
}

func Under[T cmp.Ordered](id int, a, b T) bool {
	if on(id) {
		if bound {
			return a <= b
		}
		return a > b
	}
	return a < b
}

func Over[T cmp.Ordered](id int, a, b T) bool {
	if on(id) {
		if bound {
			return a >= b
		}
		return a < b
	}
	return a > b
}

func AtMost[T cmp.Ordered](id int, a, b T) bool {
	if on(id) {
		if bound {
			return a < b
		}
		return a >= b
	}
	return a <= b
}

func AtLeast[T cmp.Ordered](id int, a, b T) bool {
	if on(id) {
		if bound {
			return a > b
		}
		return a <= b
	}
	return a >= b
}

func Equal[T comparable](id int, a, b T) bool {
	if on(id) {
		return a != b
	}
	return a == b
}

func Unequal[T comparable](id int, a, b T) bool {
	if on(id) {
		return a == b
	}
	return a != b
}
`
