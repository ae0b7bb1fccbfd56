package layout

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	module    = "shimwright/"
	truthPath = module + "sim/truth"
)

// within reports whether a package is one of the folders or lies inside one.
func within(pkg string, folders ...string) bool {
	for _, f := range folders {
		if pkg == f || strings.HasPrefix(pkg, f+"/") {
			return true
		}
	}
	return false
}

// A ban says which packages must not be imported by those of a part.
type ban struct {
	from, to []string
}

func bans() []ban {
	return []ban{
		{[]string{"sim"}, []string{"scenarios", "grading", "lessons", "cmd"}},
		{[]string{"scenarios"}, []string{"grading", "lessons", "cmd"}},
		{[]string{"grading"}, []string{"lessons", "cmd"}},
		{[]string{"lessons"}, []string{"sim", "scenarios", "grading", "lessons", "cmd"}},
		{[]string{"cmd"}, []string{"sim/truth", "scenarios/verdict"}},
		// The terminal knows nothing of the job.
		{[]string{"cmd/internal/term"}, []string{"sim", "scenarios", "grading", "lessons"}},
	}
}

// soleImporters are the libraries that one package alone may use: path of the
// library, path of the package.
func soleImporters() map[string]string {
	return map[string]string{
		"github.com/charmbracelet/glamour": "cmd/internal/view",
		"golang.org/x/term":                "cmd/internal/term",
		"golang.org/x/exp/rand":            "sim/rng",
	}
}

// edge says what is wrong with a package importing a path, or "" if nothing is.
// Packages of the module are named by their folder, imports by their full path.
func edge(pkg, imported string) string {
	if inner, ours := strings.CutPrefix(imported, module); ours {
		for _, b := range bans() {
			if within(pkg, b.from...) && within(inner, b.to...) {
				return fmt.Sprintf("%s imports %s, which it must not see", pkg, inner)
			}
		}
		return ""
	}
	for library, owner := range soleImporters() {
		if within(imported, library) && pkg != owner {
			return fmt.Sprintf("%s imports %s; only %s may", pkg, imported, owner)
		}
	}
	return ""
}

// mayOpen reports whether a package may look into the hidden state, or seal one.
func mayOpen(pkg string) bool { return within(pkg, "sim", "scenarios", "grading/reveal") }

// openings lists where a file of a package that may not do so opens or seals the
// hidden state, under whatever name it imports the package.
func openings(fset *token.FileSet, pkg string, file *ast.File) []string {
	if mayOpen(pkg) {
		return nil
	}
	name := ""
	for _, spec := range file.Imports {
		if importPath(spec) != truthPath {
			continue
		}
		name = path.Base(truthPath)
		if spec.Name != nil {
			name = spec.Name.Name
		}
	}
	if name == "" || name == "_" {
		return nil
	}
	if name == "." {
		return []string{fmt.Sprintf("%s: the hidden state is imported without a name", fset.Position(file.Pos()))}
	}
	var out []string
	ast.Inspect(file, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if x, ok := sel.X.(*ast.Ident); ok && x.Name == name && (sel.Sel.Name == "Open" || sel.Sel.Name == "Seal") {
			out = append(out, fmt.Sprintf("%s: %s must not call truth.%s", fset.Position(sel.Pos()), pkg, sel.Sel.Name))
		}
		return true
	})
	return out
}

func importPath(spec *ast.ImportSpec) string {
	p, err := strconv.Unquote(spec.Path.Value)
	if err != nil {
		return spec.Path.Value
	}
	return p
}

// top is what the module's own folder may hold, besides names that begin with a dot.
func top() []string {
	return []string{"cmd", "sim", "scenarios", "grading", "lessons", "testdata", "README.md", "DEVELOPERS.md", "go.mod", "go.sum", "LICENSE"}
}

// unfinished are the words of unfinished work. They are put together here so that
// this file does not hold them itself.
func unfinished() []string { return []string{"TO" + "DO", "FIX" + "ME", "not " + "implemented"} }

// findUnfinished returns the first word of unfinished work in a text, or "".
func findUnfinished(text []byte) string {
	for _, w := range unfinished() {
		if bytes.Contains(text, []byte(w)) || bytes.Contains(bytes.ToLower(text), []byte(strings.ToLower(w))) && strings.Contains(w, " ") {
			return w
		}
	}
	return ""
}

// root is the module's folder.
func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs(filepath.Join("..", "..", ".."))
	require.NoError(t, err)
	require.FileExists(t, filepath.Join(dir, "go.mod"))
	return dir
}

// A source is one parsed Go file.
type source struct {
	pkg  string // folder, with slashes
	name string
	test bool
	file *ast.File
}

// sources parses every Go file of the module.
func sources(t *testing.T, fset *token.FileSet) []source {
	t.Helper()
	dir := root(t)
	var out []source
	require.NoError(t, filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			// What the go command passes over is no part of the program.
			if n := d.Name(); p != dir && (n == "testdata" || strings.HasPrefix(n, ".") || strings.HasPrefix(n, "_")) {
				return filepath.SkipDir
			}
			return nil
		}
		if filepath.Ext(p) != ".go" {
			return nil
		}
		f, err := parser.ParseFile(fset, p, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, filepath.Dir(p))
		if err != nil {
			return err
		}
		out = append(out, source{filepath.ToSlash(rel), d.Name(), strings.HasSuffix(d.Name(), "_test.go"), f})
		return nil
	}))
	return out
}

func TestImportsPointOneWay(t *testing.T) {
	fset := token.NewFileSet()
	seen := map[string]bool{}
	used := map[string]bool{}
	for _, s := range sources(t, fset) {
		seen[s.pkg] = true
		if s.test && !within(s.pkg, "cmd") {
			// Tests may put parts together to try them; those of what a trainee
			// uses see no more than it does.
			continue
		}
		for _, spec := range s.file.Imports {
			p := importPath(spec)
			if wrong := edge(s.pkg, p); wrong != "" {
				t.Errorf("%s: %s", fset.Position(spec.Pos()), wrong)
			}
			if !s.test {
				used[p] = true
			}
		}
		for _, wrong := range openings(fset, s.pkg, s.file) {
			t.Error(wrong)
		}
	}
	// The walk has met the packages that the rules are about.
	for _, pkg := range []string{"sim", "sim/truth", "scenarios/attempt", "grading", "grading/reveal", "lessons", "cmd/shimwright", "cmd/internal/cli"} {
		assert.True(t, seen[pkg], "%s was not walked", pkg)
	}
	for library, owner := range soleImporters() {
		assert.True(t, used[library], "no code imports %s any more: %s is not its owner", library, owner)
	}
	assert.True(t, used[truthPath])
}

func TestEveryPackageSaysWhatItIsFor(t *testing.T) {
	fset := token.NewFileSet()
	said := map[string]bool{}
	for _, s := range sources(t, fset) {
		if s.test {
			continue
		}
		if _, ok := said[s.pkg]; !ok {
			said[s.pkg] = false
		}
		text := s.file.Doc.Text()
		if text == "" {
			continue
		}
		assert.False(t, said[s.pkg], "%s has a second package comment, in %s", s.pkg, s.name)
		said[s.pkg] = true
		want := "Package " + s.file.Name.Name + " "
		if s.file.Name.Name == "main" {
			want = "Command " + path.Base(s.pkg) + " "
		}
		assert.True(t, strings.HasPrefix(text, want), "%s/%s: the package comment begins with %q", s.pkg, s.name, want)
	}
	for pkg, ok := range said {
		assert.True(t, ok, "package %s has no comment that says what it is for", pkg)
	}
	assert.NotEmpty(t, said)
}

func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(root(t))
	require.NoError(t, err)
	for _, e := range entries {
		// What somebody made by using the program here, an attempt file or a
		// folder of pictures, is theirs: only a source folder would be ours.
		if !e.IsDir() && !strings.HasSuffix(e.Name(), ".go") && !slices.Contains(top(), e.Name()) {
			continue
		}
		if e.IsDir() && !slices.Contains(top(), e.Name()) && !holdsGo(t, filepath.Join(root(t), e.Name())) {
			continue
		}
		assert.True(t, strings.HasPrefix(e.Name(), ".") || slices.Contains(top(), e.Name()), "%s does not belong at the top", e.Name())
	}
	for _, must := range []string{"cmd", "sim", "scenarios", "grading", "lessons", "go.mod"} {
		_, err := os.Stat(filepath.Join(root(t), must))
		assert.NoError(t, err)
	}
}

// holdsGo reports whether a folder has Go files anywhere below it.
func holdsGo(t *testing.T, dir string) bool {
	t.Helper()
	found := false
	err := filepath.WalkDir(dir, func(name string, _ os.DirEntry, err error) error {
		found = found || strings.HasSuffix(name, ".go")
		return err
	})
	require.NoError(t, err)
	return found
}

func TestNothingIsLeftUnfinished(t *testing.T) {
	dir := root(t)
	files := 0
	require.NoError(t, filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == ".git" {
				return filepath.SkipDir
			}
			return nil
		}
		if p == filepath.Join(dir, ".git") || d.Name() == "go.sum" || !d.Type().IsRegular() {
			return nil
		}
		text, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		files++
		if w := findUnfinished(text); w != "" {
			t.Errorf("%s holds %q", p, w)
		}
		return nil
	}))
	assert.Greater(t, files, 100, "the walk has met the tree")
}

// The checkers fail where they should, on edges made up for the purpose.
func TestWrongEdgesAreNoticed(t *testing.T) {
	for _, c := range []struct {
		pkg, imported string
		wrong         bool
	}{
		{"sim", "shimwright/sim/truth", false},
		{"sim/mesh", "shimwright/sim/solve", false},
		{"sim", "shimwright/scenarios", true},
		{"sim/mesh", "shimwright/scenarios/technician", true},
		{"sim/shop", "shimwright/grading", true},
		{"sim/gauge", "shimwright/cmd/internal/view", true},
		{"sim/act", "shimwright/lessons", true},
		{"scenarios", "shimwright/sim/truth", false},
		{"scenarios/technician", "shimwright/sim/fault", false},
		{"scenarios/attempt", "shimwright/grading/belief", true},
		{"sim/fault", "shimwright/lessons", true},
		{"scenarios", "shimwright/cmd/internal/cli", true},
		{"grading", "shimwright/sim/fault", false},
		{"grading/reveal", "shimwright/scenarios/verdict", false},
		{"grading", "shimwright/lessons", true},
		{"grading/belief", "shimwright/cmd/internal/view", true},
		{"lessons", "embed", false},
		{"lessons", "shimwright/sim/quantity", true},
		{"cmd/internal/cli", "shimwright/grading/reveal", false},
		{"cmd/internal/cli", "shimwright/sim/truth", true},
		{"cmd/shimwright", "shimwright/sim/truth", true},
		{"cmd/internal/view", "shimwright/scenarios/verdict", true},
		{"cmd/internal/term", "shimwright/sim", true},
		{"cmd/internal/view", "github.com/charmbracelet/glamour", false},
		{"cmd/internal/view", "github.com/charmbracelet/glamour/ansi", false},
		{"cmd/internal/cli", "github.com/charmbracelet/glamour", true},
		{"cmd/internal/cli", "github.com/charmbracelet/glamour/ansi", true},
		{"cmd/internal/term", "golang.org/x/term", false},
		{"cmd/internal/cli", "golang.org/x/term", true},
		{"cmd/internal/term/deep", "golang.org/x/term", true},
		{"sim/rng", "golang.org/x/exp/rand", false},
		{"sim/gauge", "golang.org/x/exp/rand", true},
		{"scenarios", "golang.org/x/exp/slices", false},
		// A name that only begins alike is another package.
		{"simulate", "shimwright/scenarios", false},
		{"cmd/internal/cli", "shimwright/sim/truthful", false},
	} {
		assert.Equal(t, c.wrong, edge(c.pkg, c.imported) != "", "%s -> %s", c.pkg, c.imported)
	}
}

func TestOpeningsAreNoticed(t *testing.T) {
	count := func(pkg, code string) int {
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, "made-up.go", code, 0)
		require.NoError(t, err)
		return len(openings(fset, pkg, f))
	}
	const (
		open   = `package p; import "shimwright/sim/truth"; func f(s truth.Sealed) { truth.Open(s); _ = truth.Seal }`
		named  = `package p; import hidden "shimwright/sim/truth"; var look = hidden.Open`
		dotted = `package p; import . "shimwright/sim/truth"`
		inert  = `package p; import "shimwright/sim/truth"; const c = truth.SealTight`
		other  = `package p; import truth "os"; var f = truth.Open`
	)
	for _, pkg := range []string{"grading", "grading/belief", "cmd/internal/cli", "lessons"} {
		assert.Equal(t, 2, count(pkg, open), pkg)
		assert.Equal(t, 1, count(pkg, named), pkg)
		assert.Equal(t, 1, count(pkg, dotted), pkg)
		assert.Zero(t, count(pkg, inert), pkg)
		assert.Zero(t, count(pkg, other), pkg)
	}
	for _, pkg := range []string{"sim", "scenarios", "scenarios/verdict", "grading/reveal"} {
		assert.Zero(t, count(pkg, open), pkg)
	}
}

func TestUnfinishedWordsAreNoticed(t *testing.T) {
	for _, w := range unfinished() {
		assert.Equal(t, w, findUnfinished([]byte("// "+w+": later\n")))
	}
	assert.Equal(t, unfinished()[2], findUnfinished([]byte("This is Not "+"Implemented.")))
	assert.Empty(t, findUnfinished([]byte("nothing left to do; fixed and implemented\n")))
}
