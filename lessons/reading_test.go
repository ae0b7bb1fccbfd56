package lessons_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/acceptance"
	"shimwright/lessons"
	"shimwright/lessons/figure"
	"shimwright/scenarios"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// plain is a text without its marks and line ends.
func plain(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("**", "", "`", "").Replace(s)), " ")
}

// sentences are those that the reader quotes, with their lessons. What does something at the
// bench and quotes none is reported.
func sentences(t *testing.T) (out [][2]string) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "reader_test.go", nil, 0)
	require.NoError(t, err)
	calls := func(n ast.Node, name string) (c *ast.CallExpr, ok bool) {
		if c, ok = n.(*ast.CallExpr); !ok {
			return nil, false
		}
		sel, ok := c.Fun.(*ast.SelectorExpr)
		return c, ok && sel.Sel.Name == name
	}
	for _, d := range file.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok {
			continue
		}
		acts, before := false, len(out)
		ast.Inspect(f, func(n ast.Node) bool {
			if _, ok := calls(n, "do"); ok {
				acts = true
			}
			if c, ok := calls(n, "by"); ok {
				var said [2]string
				for i := range said {
					lit, ok := c.Args[i].(*ast.BasicLit)
					require.True(t, ok, "a lesson and its sentence are written out")
					said[i], err = strconv.Unquote(lit.Value)
					require.NoError(t, err)
				}
				out = append(out, said)
			}
			return true
		})
		assert.True(t, !acts || len(out) > before, "%s acts on no sentence", f.Name.Name)
	}
	assert.Greater(t, len(out), 80, "the search for sentences has gone blind")
	return out
}

// Every sentence that the reader follows stands in the lesson that it names, and nothing is
// done but under one.
func TestTheReaderFollowsTheLessons(t *testing.T) {
	for _, s := range sentences(t) {
		l, err := lessons.Find(s[0])
		require.NoError(t, err)
		assert.True(t, strings.Contains(plain(figure.Prose(l.Body)), plain(s[1])), "lesson %s no longer says %q", s[0], s[1])
	}
}

// The course is enough: who knows only its lessons works jobs of every design right, and
// proves it.
func TestTheCourseIsEnough(t *testing.T) {
	jobs := longtest.Pick(1, 50)
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	followed := map[string]bool{}
	right, all := 0, 0
	for fi, f := range family.Shelf() {
		m, err := scenarios.Order{Family: f}.Maker()
		require.NoError(t, err)
		for i := range jobs {
			seed := uint64(100*fi + i + 1)
			j, err := m.Generate(seed)
			require.NoError(t, err)
			s, err := j.Stand()
			require.NoError(t, err)
			rec := &sim.Recorder{Stand: s}
			r := newReader(rec, j.Card)
			err = r.work()
			all++
			var missed []string
			if err != nil {
				missed = append(missed, err.Error())
			}
			for _, l := range acceptance.Of(j.Card, rec.Steps) {
				if l.Missed() {
					missed = append(missed, l.ID+": "+p.Print(l.Evidence.Message()))
				}
			}
			if rec.Status().SignedOff {
				for _, item := range verdict.Check(j.Card.Family, j.Card.UsedBearings, s.Sealed()) {
					if !item.Met {
						missed = append(missed, fmt.Sprintf("truly %s %.4g, specification %.4g to %.4g within %.2g", item.Line, item.Value, item.Low, item.High, item.Guard))
					}
				}
			}
			for q := range r.quotes {
				followed[q] = true
			}
			if len(missed) == 0 {
				right++
				continue
			}
			t.Errorf("%s %d:\n  %s\n    %s", f.Code, seed, strings.Join(missed, "\n  "), strings.Join(r.said, "\n    "))
		}
	}
	t.Logf("%d of %d jobs right and proved, %d sentences followed", right, all, len(followed))
	if longtest.On() {
		for _, s := range sentences(t) {
			assert.True(t, followed[s[0]+": "+s[1]], "no job needed it: %s: %s", s[0], s[1])
		}
	}
}
