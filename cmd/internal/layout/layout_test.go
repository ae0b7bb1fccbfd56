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

const module = "shimwright/"

// within reports whether a package is one of the folders or lies inside one.
func within(pkg string, folders ...string) bool {
	for _, f := range folders {
		if pkg == f || strings.HasPrefix(pkg, f+"/") {
			return true
		}
	}
	return false
}

// edge says what is wrong with a package importing a path, or "" if nothing is.
// Packages of the module are named by their folder, imports by their full path.
func edge(pkg, imported string, inTest bool) string {
	inner, ours := strings.CutPrefix(imported, module)
	switch {
	case ours && inner == pkg:
		return "" // an outside test
	case ours && forTests(inner):
		if inTest || forTests(pkg) {
			return ""
		}
		return fmt.Sprintf("%s imports %s, which is for tests alone", pkg, inner)
	case ours && inTest:
		// Tests put parts together to try them, but see no more than a trainee does.
		if who, hidden := knowers()[inner]; hidden && !slices.Contains(who, pkg) {
			return fmt.Sprintf("%s -> %s: must not be known there", pkg, inner)
		}
		return ""
	case ours:
		r, ok := ruleOf(pkg)
		if !ok {
			return pkg + " has no row in the order of cmd/internal/layout: add one that says what it is for and what it may import"
		}
		if !slices.Contains(r.imports(), inner) {
			return fmt.Sprintf("%s -> %s: the row of %s in the order of cmd/internal/layout does not list %s", pkg, inner, pkg, inner)
		}
		return ""
	case inTest || !strings.Contains(strings.Split(imported, "/")[0], "."):
		return "" // the standard library, and what tests use
	}
	for library, owners := range libraries() {
		if within(imported, library) {
			if slices.Contains(owners, pkg) {
				return ""
			}
			return fmt.Sprintf("%s imports %s; only %s may", pkg, imported, strings.Join(owners, " and "))
		}
	}
	return fmt.Sprintf("%s imports %s, which is not in the list of libraries of cmd/internal/layout", pkg, imported)
}

// A breach is a use of a guarded function where it may not be.
type breach struct {
	guard
	what string
}

// breaches lists where a file uses functions that a guard keeps from its package, under
// whatever name it imports the guarded package.
func breaches(fset *token.FileSet, pkg string, file *ast.File) []breach {
	var out []breach
	for _, g := range guards() {
		if within(pkg, g.parts...) || pkg == g.pkg {
			continue
		}
		name := ""
		for _, spec := range file.Imports {
			if importPath(spec) != module+g.pkg {
				continue
			}
			name = path.Base(g.pkg)
			if spec.Name != nil {
				name = spec.Name.Name
			}
		}
		if name == "" || name == "_" {
			continue
		}
		if name == "." {
			out = append(out, breach{g, fmt.Sprintf("%s: %s is imported without a name", fset.Position(file.Pos()), g.pkg)})
			continue
		}
		ast.Inspect(file, func(n ast.Node) bool {
			made := ""
			if lit, ok := n.(*ast.CompositeLit); ok { // a value made without a function
				n, made = lit.Type, "{}"
			}
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == name && slices.Contains(g.functions, sel.Sel.Name+made) {
				out = append(out, breach{g, fmt.Sprintf("%s: %s must not use %s.%s; only %s may", fset.Position(sel.Pos()), pkg, path.Base(g.pkg), sel.Sel.Name+made, strings.Join(g.parts, ", "))})
			}
			return true
		})
	}
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

// made is the folder that archives are made in; it is no part of the source.
const made = "dist"

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
	still := map[string]bool{}
	for _, s := range sources(t, fset) {
		seen[s.pkg] = true
		// Tests may know everything, but for those of what a trainee uses.
		free := (s.test || forTests(s.pkg)) && !within(s.pkg, "cmd")
		for _, spec := range s.file.Imports {
			p := importPath(spec)
			if !s.test {
				used[p] = true
			}
			if free && s.test {
				continue
			}
			if wrong := edge(s.pkg, p, s.test); wrong != "" {
				t.Errorf("%s: %s", fset.Position(spec.Pos()), wrong)
			}
		}
		if !free {
			for _, b := range breaches(fset, s.pkg, s.file) {
				if slices.Contains(b.yet, s.pkg) {
					still[b.pkg+" "+s.pkg] = true
					continue
				}
				t.Error(b.what)
			}
		}
	}
	for _, g := range guards() {
		for _, pkg := range g.yet {
			assert.True(t, still[g.pkg+" "+pkg], "%s no longer uses %v of %s: take it out of the guard's list", pkg, g.functions, g.pkg)
		}
	}
	for pkg := range seen {
		_, ok := ruleOf(pkg)
		assert.True(t, ok, "%s has no row in the order of cmd/internal/layout: add one that says what it is for and what it may import", pkg)
	}
	for _, r := range order() {
		assert.True(t, r.pkg == "" || seen[r.pkg], "%s has a row in the order, and no source", r.pkg)
	}
	for library, owners := range libraries() {
		found := false
		for p := range used {
			found = found || within(p, library)
		}
		assert.True(t, found, "no code imports %s any more: %s need not own it", library, owners)
	}
}

// The table itself is an order: every arrow points up to a row above, no row stands twice,
// and what a trainee must not see is listed by those alone that may know it.
func TestTheOrderIsOne(t *testing.T) {
	above := map[string]bool{}
	for _, r := range order() {
		if r.pkg == "" {
			continue
		}
		assert.False(t, above[r.pkg], "%s has two rows", r.pkg)
		assert.NotEmpty(t, r.what, r.pkg)
		assert.True(t, slices.IsSorted(r.imports()), "%s: imports stand in the order of the alphabet", r.pkg)
		for _, to := range r.imports() {
			assert.True(t, above[to], "%s -> %s: an arrow must point to a row above", r.pkg, to)
			assert.True(t, !forTests(to) || forTests(r.pkg), "%s -> %s: only tests import it", r.pkg, to)
			if who, hidden := knowers()[to]; hidden {
				assert.Contains(t, who, r.pkg, "%s -> %s: must not be known there", r.pkg, to)
			}
		}
		above[r.pkg] = true
	}
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
			if d.Name() == ".git" || p == filepath.Join(dir, made) {
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
		inTest, wrong bool
	}{
		{"sim", "shimwright/sim/truth", false, false},
		{"sim/mesh", "shimwright/sim/solve", false, false},
		{"sim", "shimwright/scenarios", false, true},
		{"sim/mesh", "shimwright/scenarios/technician", false, true},
		{"sim/mesh", "shimwright/sim/bearing", false, true},
		{"sim/shop", "shimwright/grading", false, true},
		{"sim/gauge", "shimwright/cmd/internal/view", false, true},
		{"sim/act", "shimwright/lessons", false, true},
		{"scenarios", "shimwright/sim/truth", false, false},
		{"scenarios/technician", "shimwright/sim/fault", false, false},
		{"scenarios/technician", "shimwright/sim/truth", false, true},
		{"scenarios/attempt", "shimwright/grading/belief", false, true},
		{"scenarios", "shimwright/cmd/internal/cli", false, true},
		{"grading/ledger", "shimwright/sim/fault", false, false},
		{"grading", "shimwright/sim/truth", false, true},
		{"grading/misconception", "shimwright/sim/truth", false, true},
		{"grading/reveal", "shimwright/scenarios/verdict", false, false},
		{"grading/reveal", "shimwright/sim/truth", false, false},
		{"grading", "shimwright/lessons", false, true},
		{"grading/belief", "shimwright/cmd/internal/view", false, true},
		{"lessons", "embed", false, false},
		{"lessons", "shimwright/sim/quantity", false, true},
		{"cmd/internal/cli", "shimwright/grading/reveal", false, false},
		{"cmd/internal/cli", "shimwright/sim/truth", false, true},
		{"cmd/internal/cli", "shimwright/sim/truth", true, true},
		{"cmd/shimwright", "shimwright/sim/truth", false, true},
		{"cmd/internal/view", "shimwright/scenarios/verdict", false, true},
		{"cmd/internal/term", "shimwright/sim", false, true},
		{"cmd/internal/view", "github.com/charmbracelet/glamour", false, false},
		{"cmd/internal/view", "github.com/charmbracelet/glamour/ansi", false, false},
		{"cmd/internal/cli", "github.com/charmbracelet/glamour", false, true},
		{"cmd/internal/cli", "github.com/charmbracelet/glamour/ansi", false, true},
		{"cmd/internal/term", "golang.org/x/term", false, false},
		{"cmd/internal/cli", "golang.org/x/term", false, true},
		{"cmd/internal/term/deep", "golang.org/x/term", false, true},
		{"sim/rng", "golang.org/x/exp/rand", false, false},
		{"sim/gauge", "golang.org/x/exp/rand", false, true},
		{"scenarios", "golang.org/x/exp/slices", false, true},
		{"scenarios", "github.com/stretchr/testify/assert", false, true},
		{"scenarios", "github.com/stretchr/testify/assert", true, false},
		// Packages for tests.
		{"sim/gauge", "shimwright/sim/checkstest", false, true},
		{"sim/gauge", "shimwright/sim/checkstest", true, false},
		{"sim/carrier/axletest", "shimwright/sim/checkstest", false, false},
		{"cmd/internal/view", "shimwright/scenarios/scenariostest", true, false},
		// A package without a row, and a name that only begins alike.
		{"simulate", "shimwright/scenarios", false, true},
		{"cmd/internal/cli", "shimwright/sim/truthful", false, true},
	} {
		assert.Equal(t, c.wrong, edge(c.pkg, c.imported, c.inTest) != "", "%s -> %s", c.pkg, c.imported)
	}
	assert.Contains(t, edge("grading", "shimwright/sim/truth", false), "grading -> sim/truth")
}

func TestBreachesAreNoticed(t *testing.T) {
	count := func(pkg, code string) int {
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, "made-up.go", code, 0)
		require.NoError(t, err)
		return len(breaches(fset, pkg, f))
	}
	const (
		open    = `package p; import "shimwright/sim/truth"; func f(s truth.Sealed) { truth.Open(s); _ = truth.Seal }`
		named   = `package p; import hidden "shimwright/sim/truth"; var look = hidden.Open`
		dotted  = `package p; import . "shimwright/sim/truth"`
		inert   = `package p; import "shimwright/sim/truth"; const c = truth.SealTight`
		other   = `package p; import truth "os"; var f = truth.Open`
		printer = `package p; import "shimwright/sim/text"; var p = text.NewPrinter(0)`
		zero    = `package p; import "shimwright/sim/text"; func f(text.Printer) { f(text.Printer{}) }`
		message = `package p; import "shimwright/sim/text"; var m = text.Say("a", "b")`
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
		assert.Equal(t, 1, count(pkg, printer), pkg)
		assert.Equal(t, 1, count(pkg, zero), pkg)
		assert.Zero(t, count(pkg, message), pkg)
	}
	assert.Zero(t, count("cmd/internal/view", printer))
}

func TestUnfinishedWordsAreNoticed(t *testing.T) {
	for _, w := range unfinished() {
		assert.Equal(t, w, findUnfinished([]byte("// "+w+": later\n")))
	}
	assert.Equal(t, unfinished()[2], findUnfinished([]byte("This is Not "+"Implemented.")))
	assert.Empty(t, findUnfinished([]byte("nothing left to do; fixed and implemented\n")))
}
