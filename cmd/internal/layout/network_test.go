package layout

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os/exec"
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// reaching are the packages of the program that import what can reach a network or start another
// program, and what for. The program opens an address in serve alone, and speaks to a database on
// a server where a class was given as one; nothing else of it uses a network.
func reaching() map[string]string {
	return map[string]string{
		"shimwright/cmd/internal/cli net":                      "serve: the address it opens",
		"shimwright/cmd/internal/cli net/http":                 "serve",
		"shimwright/cmd/internal/cli crypto/tls":               "serve --cert",
		"shimwright/cmd/internal/web net":                      "serve",
		"shimwright/cmd/internal/web net/http":                 "serve",
		"shimwright/cmd/internal/classweb net":                 "serve --class",
		"shimwright/cmd/internal/classweb net/http":            "serve --class",
		"github.com/jackc/pgx/v5/pgconn net":                   "a class in a database that was named by a postgres:// address",
		"github.com/jackc/pgx/v5/pgconn crypto/tls":            "the same",
		"github.com/jackc/pgx/v5/pgconn/internal/bgreader net": "the same",
		"github.com/jackc/pgx/v5/pgtype net":                   "values that are addresses",
		"github.com/spf13/pflag net":                           "options that are addresses; none is",
		"github.com/google/uuid net":                           "numbers made of a network card; none is made",
		"shimwright/cmd/internal/site os/exec":                 "site: the go command",
		"modernc.org/libc os/exec":                             "what C programs can do; the database starts nothing",
		"github.com/charmbracelet/colorprofile os/exec":        "asks tmux for its colors",
		"charm.land/bubbletea/v2 os/exec":                      "a program in the place of the screen; none is started",
	}
}

// outward are the packages whose import is told there.
func outward() []string {
	return []string{"net", "net/http", "net/rpc", "net/smtp", "crypto/tls", "os/exec"}
}

// What the program is linked with reaches a network where the list says so and nowhere else.
func TestWhoCanReachANetwork(t *testing.T) {
	c := exec.Command("go", "list", "-deps", "-f", `{{if not .Standard}}{{$p := .ImportPath}}{{range .Imports}}{{$p}} {{.}}{{"\n"}}{{end}}{{end}}`, "./cmd/shimwright")
	c.Dir = root(t)
	out, err := c.Output()
	require.NoError(t, err)
	found := map[string]bool{}
	for line := range strings.Lines(string(out)) {
		pkg, imported, _ := strings.Cut(strings.TrimSpace(line), " ")
		if slices.Contains(outward(), imported) {
			found[pkg+" "+imported] = true
			assert.Contains(t, reaching(), pkg+" "+imported, "%s imports %s", pkg, imported)
		}
	}
	for edge := range reaching() {
		assert.True(t, found[edge], "%s is no longer there: take it out of the list", edge)
	}
}

// asking are functions that ask somebody on a network, or wait to be asked.
func asking() map[string][]string {
	return map[string][]string{
		"net":        {"Dial", "DialTimeout", "DialTCP", "DialUDP", "DialIP", "DialUnix", "Dialer", "Listen", "ListenTCP", "ListenUDP", "ListenPacket", "ListenUnix", "ListenConfig", "LookupHost", "LookupAddr", "LookupIP", "LookupTXT", "LookupCNAME", "DefaultResolver", "Resolver"},
		"net/http":   {"Get", "Post", "PostForm", "Head", "Client", "DefaultClient", "DefaultTransport", "Transport", "ListenAndServe", "ListenAndServeTLS"},
		"crypto/tls": {"Dial", "DialWithDialer", "Dialer", "Listen"},
	}
}

// asked are the only uses of them in our code.
func asked() []string { return []string{"cmd/internal/web/serve.go net.Listen"} }

// Our code waits at an address in one place, which is web.Listen, and asks nobody; web.Listen is
// called by serve alone.
func TestOnlyServeOpensAnAddress(t *testing.T) {
	fset := token.NewFileSet()
	var uses []string
	for _, s := range sources(t, fset) {
		if s.test || forTests(s.pkg) {
			continue
		}
		uses = append(uses, asksOf(s.pkg+"/"+s.name, s.file)...)
		for _, b := range calls(s.file, module+"cmd/internal/web", []string{"Listen", "Serve"}) {
			assert.Contains(t, []string{"cmd/internal/cli/serve.go", "cmd/internal/cli/serve_class.go"}, s.pkg+"/"+s.name, "%s is for serve", b)
		}
	}
	assert.Equal(t, asked(), uses)
}

// asksOf lists where a file uses what asking lists.
func asksOf(name string, file *ast.File) []string {
	var out []string
	for pkg, functions := range asking() {
		for _, f := range calls(file, pkg, functions) {
			out = append(out, name+" "+f)
		}
	}
	return out
}

// calls lists where a file uses functions or types of a package.
func calls(file *ast.File, pkg string, functions []string) (out []string) {
	name := ""
	for _, spec := range file.Imports {
		if importPath(spec) == pkg {
			if name = path.Base(pkg); spec.Name != nil {
				name = spec.Name.Name
			}
		}
	}
	if name == "" {
		return nil
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == name && slices.Contains(functions, sel.Sel.Name) {
				out = append(out, path.Base(pkg)+"."+sel.Sel.Name)
			}
		}
		return true
	})
	return out
}

func TestAskingIsNoticed(t *testing.T) {
	for code, want := range map[string][]string{
		`package p; import "net"; var c, _ = net.Dial("tcp", "h:1")`:                  {"p.go net.Dial"},
		`package p; import web "net/http"; var r, _ = web.Get("http://h")`:            {"p.go http.Get"},
		`package p; import "net/http"; var c http.Client`:                             {"p.go http.Client"},
		`package p; import "net/http"; func f(w http.ResponseWriter) {}`:              nil,
		`package p; import net "shimwright/sim/mesh"; var c, _ = net.Dial("tcp", "")`: nil,
	} {
		file, err := parser.ParseFile(token.NewFileSet(), "p.go", code, 0)
		require.NoError(t, err)
		assert.Equal(t, want, asksOf("p.go", file), code)
	}
}
