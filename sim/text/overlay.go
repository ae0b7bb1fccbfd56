package text

import (
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// An Overlay is another language's templates by code. The zero Overlay has none.
type Overlay struct {
	tag       language.Tag
	templates map[string]string
	lines     map[string]int // where in its file each stands
}

// ErrOverlay is that of a file that is no file of texts.
var ErrOverlay = errors.New("overlay")

// ParseOverlay reads a file of templates: the key language, a BCP 47 tag, and under texts a
// template for each code. English stands where there is none.
//
// Errors: a file that is not such a one, and a language tag that is none.
func ParseOverlay(file []byte) (Overlay, error) {
	var f struct {
		Language string            `yaml:"language"`
		Texts    map[string]string `yaml:"texts"`
	}
	if err := yaml.UnmarshalWithOptions(file, &f, yaml.Strict()); err != nil {
		return Overlay{}, Fail(ErrOverlay, Say("text.overlay.unreadable", "this is no file of texts: it holds the keys language and texts"))
	}
	tag, err := language.Parse(f.Language)
	if err != nil {
		return Overlay{}, Fail(ErrOverlay, Say("text.overlay.language", "{tag} is no language tag: write one such as es or pl", Typed("tag", fmt.Sprintf("%q", f.Language))))
	}
	return Overlay{tag, f.Texts, linesOf(file)}, nil
}

// linesOf says on which line of a file of texts each code stands.
func linesOf(file []byte) map[string]int {
	lines := map[string]int{}
	tree, err := parser.ParseBytes(file, 0)
	if err != nil {
		return lines // whoever asks has read the file
	}
	for _, doc := range tree.Docs {
		ast.Walk(visit(func(n ast.Node) {
			if v, ok := n.(*ast.MappingValueNode); ok {
				at := v.Key.GetToken()
				lines[at.Value] = at.Position.Line
			}
		}), doc)
	}
	return lines
}

type visit func(ast.Node)

func (v visit) Visit(n ast.Node) ast.Visitor {
	v(n)
	return v
}

// Misfits says what of the overlay does not fit the English texts: codes that there are not,
// and templates that lack a value of the English or name one that it has not. Each is told
// with its line in the file, in their order.
func (o Overlay) Misfits(english Overlay) []Message {
	var out []Message
	for _, code := range slices.SortedFunc(maps.Keys(o.templates), func(a, b string) int { return o.lines[a] - o.lines[b] }) {
		line, at := Count("line", o.lines[code]), Typed("code", code)
		was, ok := english.templates[code]
		if !ok {
			out = append(out, Say("text.overlay.no-code", "line {line}: no text has the code {code}", line, at))
			continue
		}
		need, has := Blanks(was), Blanks(o.templates[code])
		for _, name := range need {
			if !slices.Contains(has, name) {
				out = append(out, Say("text.overlay.value-missing", "line {line}: {code} lacks the value {value}", line, at, Typed("value", "{"+name+"}")))
				break
			}
		}
		for _, name := range has {
			if !slices.Contains(need, name) {
				out = append(out, Say("text.overlay.value-unknown", "line {line}: {code} has no value {value}", line, at, Typed("value", "{"+name+"}")))
				break
			}
		}
	}
	return out
}

// Codes returns the codes that the overlay has templates for.
func (o Overlay) Codes() []string {
	out := make([]string, 0, len(o.templates))
	for c := range o.templates {
		out = append(out, c)
	}
	return out
}

// form picks the form for a count. Forms stand in the order zero, one, two, few, many, other,
// those a language does not use left out; the last stands for all that follow.
func (o Overlay) form(n int, forms []string) string {
	tag := o.tag
	if o.templates == nil {
		tag = language.English
	}
	at := 0
	want := plural.Cardinal.MatchPlural(tag, max(n, -n), 0, 0, 0, 0)
	for _, f := range []plural.Form{plural.Zero, plural.One, plural.Two, plural.Few, plural.Many} {
		if f == want || at == len(forms)-1 {
			break
		}
		if uses(tag, f) {
			at++
		}
		if f == plural.Many {
			break
		}
	}
	return forms[min(at, len(forms)-1)]
}

// uses tells whether a language has a form, tried on counts that show all there are.
func uses(tag language.Tag, f plural.Form) bool {
	for n := range 120 {
		if plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0) == f {
			return true
		}
	}
	return false
}

var blanks = regexp.MustCompile(`\{([a-z0-9_]+)(:[^}]*)?\}`)

// Blanks lists the names of the blanks in a template, for checks of texts.
func Blanks(template string) []string {
	var out []string
	for _, m := range blanks.FindAllStringSubmatch(template, -1) {
		out = append(out, m[1])
	}
	return out
}
