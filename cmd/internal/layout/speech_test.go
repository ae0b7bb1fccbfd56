package layout

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// spoken are the packages whose every text for people is a message: no sentence stands in
// them outside a call of text.Say.
func spoken() []string {
	return []string{
		"grading/cost",
		"scenarios",
		"scenarios/attempt",
		"scenarios/exercise",
		"scenarios/verdict",
		"sim/bearing",
		"sim/carrier",
		"sim/datasheet",
		"sim/family",
		"sim/mesh",
		"sim/pinion",
		"sim/quantity",
		"sim/setup",
		"sim/shop",
		"sim/text",
	}
}

// sentence matches what reads as words in a row. Lines to type, such as commands and lines
// of a file, are none.
var sentence = regexp.MustCompile(`[A-Za-z]{2,} [a-z]{2,}`)

func TestNoSentenceOutsideAMessage(t *testing.T) {
	typed := func(s string) bool {
		return strings.HasPrefix(s, "shimwright ") || strings.HasPrefix(s, "# left_off: [")
	}
	for _, pkg := range spoken() {
		files, err := filepath.Glob(filepath.Join(root(t), filepath.FromSlash(pkg), "*.go"))
		require.NoError(t, err)
		require.NotEmpty(t, files, pkg)
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			fset := token.NewFileSet()
			file, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			said := map[ast.Node]bool{}
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.CallExpr:
					if saysText(n.Fun) && len(n.Args) > 1 {
						said[n.Args[1]] = true
					}
				case *ast.BasicLit:
					s, err := strconv.Unquote(n.Value)
					if n.Kind == token.STRING && err == nil && sentence.MatchString(s) && !typed(s) && !said[n] {
						assert.Fail(t, "a sentence outside a message", "%s: %q", fset.Position(n.Pos()), s)
					}
				}
				return true
			})
		}
	}
}

// saysText tells whether a call is of text.Say, or of Say within package text.
func saysText(fun ast.Expr) bool {
	switch f := fun.(type) {
	case *ast.SelectorExpr:
		x, ok := f.X.(*ast.Ident)
		return ok && x.Name == "text" && f.Sel.Name == "Say"
	case *ast.Ident:
		return f.Name == "Say"
	}
	return false
}
