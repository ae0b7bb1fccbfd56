package layout

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/token"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/longtest"
	"shimwright/sim/text"
)

// A said is one call that makes a message, as it stands in the source.
type said struct {
	where         token.Position
	code, english string
	from, to      int // offsets of the English in its file, quotes included
	args          []string
}

// saying lists every call of text.Say of the program, and what is wrong with those that a
// translator could not read.
func saying(t *testing.T) (all []said, wrong []string) {
	t.Helper()
	fset := token.NewFileSet()
	for _, src := range sources(t, fset) {
		if src.test || strings.HasSuffix(src.pkg, "test") {
			continue
		}
		ast.Inspect(src.file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) < 2 || !isSay(src.pkg, call.Fun) {
				return true
			}
			at := fset.Position(call.Pos())
			code, known := literal(call.Args[0])
			english, plain := literal(call.Args[1])
			lit, _ := call.Args[1].(*ast.BasicLit)
			if !known || !plain || lit == nil {
				wrong = append(wrong, fmt.Sprintf("%s: the code and the English of a message are each written out in one string", at))
				return true
			}
			s := said{at, code, english, fset.Position(lit.Pos()).Offset, fset.Position(lit.End()).Offset, nil}
			for _, a := range call.Args[2:] {
				if c, ok := a.(*ast.CallExpr); ok && len(c.Args) > 0 {
					if name, ok := literal(c.Args[0]); ok {
						s.args = append(s.args, name)
					}
				}
			}
			if call.Ellipsis != token.NoPos || len(s.args) != len(call.Args)-2 {
				s.args = nil // put together elsewhere
			}
			all = append(all, s)
			return true
		})
	}
	return all, wrong
}

// isSay tells whether a call is of text.Say, also within its own package.
func isSay(pkg string, fun ast.Expr) bool {
	switch f := fun.(type) {
	case *ast.SelectorExpr:
		x, ok := f.X.(*ast.Ident)
		return ok && x.Name == "text" && f.Sel.Name == "Say"
	case *ast.Ident:
		return pkg == "sim/text" && f.Name == "Say"
	}
	return false
}

func literal(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, err == nil
}

// Every text has a code of its own, and its blanks and values meet: then another language
// is one file laid over.
func TestTextsCanBeTranslated(t *testing.T) {
	all, wrong := saying(t)
	assert.Empty(t, wrong, strings.Join(wrong, "\n"))
	require.NotEmpty(t, all)
	code := regexp.MustCompile(`^[a-z0-9]+([.-][a-z0-9]+)*$`)
	english := map[string]said{}
	for _, s := range all {
		assert.Regexp(t, code, s.code, "%s", s.where)
		if before, ok := english[s.code]; ok {
			assert.Equal(t, before.english, s.english, "%s: the code %s stands for another text at %s", s.where, s.code, before.where)
		}
		english[s.code] = s
		if s.args == nil {
			continue
		}
		for _, b := range text.Blanks(s.english) {
			assert.Contains(t, s.args, b, "%s: nothing fills the blank %q", s.where, b)
		}
		for _, a := range s.args {
			assert.Contains(t, text.Blanks(s.english), a, "%s: the value %q stands in no blank", s.where, a)
		}
	}
	var b strings.Builder
	b.WriteString("# Every text of the program by its code. A translation is a file like this one, in another\n# language; what it leaves out stays English.\nlanguage: en\ntexts:\n")
	for _, c := range slices.Sorted(maps.Keys(english)) {
		fmt.Fprintf(&b, "  %s: %s\n", c, strconv.Quote(english[c].english))
	}
	file := filepath.Join(root(t), "cmd", "internal", "language", "texts.yaml")
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
	}
	kept, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.NotEmpty(t, kept)
	if longtest.On() { // what stands is checked before it is handed out, not at every change
		assert.True(t, b.String() == string(kept), "cmd/internal/language/texts.yaml is not what the source says: go test ./cmd/internal/layout -update writes it anew")
	}
	o, err := text.ParseOverlay([]byte(b.String()))
	require.NoError(t, err, "the list is a file of texts itself")
	assert.Len(t, o.Codes(), len(english))
}

// gibberish turns every letter of a template but those of its blanks.
func gibberish(english string) string {
	var b strings.Builder
	depth := 0
	for _, r := range english {
		switch {
		case r == '{':
			depth++
		case r == '}':
			depth--
		case depth > 0:
		case r >= 'a' && r <= 'z':
			r = 'a' + (r-'a'+13)%26
		case r >= 'A' && r <= 'Z':
			r = 'A' + (r-'A'+13)%26
		}
		b.WriteRune(r)
	}
	return b.String()
}

// ofTheClock is what of an attempt file and of its grade hangs on when it was worked: times, and the links and
// the seal that hold them.
var ofTheClock = regexp.MustCompile(`"(begun|ended|signed_at|sha256|link)": ?"[^"]*"`)

// The program built with every text turned to gibberish deals the same jobs, its reference
// technician does the same acts, and attempt files, grades and JSON are the same to the
// byte: no decision hangs on a wording.
func TestNothingHangsOnAWording(t *testing.T) {
	if !longtest.On() {
		// It builds the program twice; TestTextsCanBeTranslated reads the same calls each time.
		t.Skip("a long run: SHIMWRIGHT_LONG=1 asks for it")
	}
	dir := t.TempDir()
	all, _ := saying(t)
	byFile := map[string][]said{}
	for _, s := range all {
		byFile[s.where.Filename] = append(byFile[s.where.Filename], s)
	}
	replace := map[string]string{}
	for file, calls := range byFile {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		slices.SortFunc(calls, func(a, b said) int { return b.from - a.from })
		for _, s := range calls {
			src = slices.Concat(src[:s.from], []byte(strconv.Quote(gibberish(s.english))), src[s.to:])
		}
		other := filepath.Join(dir, fmt.Sprintf("%d.go", len(replace)))
		require.NoError(t, os.WriteFile(other, src, 0o644))
		replace[file] = other
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	require.NoError(t, err)
	overlaid := filepath.Join(dir, "overlay.json")
	require.NoError(t, os.WriteFile(overlaid, overlay, 0o644))
	build := func(name string, flags ...string) string {
		out := filepath.Join(dir, name)
		c := exec.Command("go", append(append([]string{"build"}, flags...), "-o", out, "./cmd/shimwright")...)
		c.Dir = root(t)
		msg, err := c.CombinedOutput()
		require.NoError(t, err, string(msg))
		return out
	}
	plain, turned := build("plain"), build("turned", "-overlay", overlaid)
	anAct := regexp.MustCompile(`(?m)^ *\d+ (?:min|zva)  ([a-z].*)$`) // zva: min turned
	run := func(program, stdin string, args ...string) string {
		c := exec.Command(program, args...)
		c.Stdin = strings.NewReader(stdin)
		c.Env = append(os.Environ(), "NO_COLOR=1")
		out, err := c.Output()
		require.NoError(t, err, "%s %s", filepath.Base(program), strings.Join(args, " "))
		return string(out)
	}
	texts := 0
	for i, fam := range []string{"beech", "cedar", "dogwood", "fir", "hazel", "juniper"} {
		kind := []string{"whole", "whole", "sides", "depth", "preload", "pattern"}[i]
		job := []string{"--seed", strconv.Itoa(40 + i), "--family", fam, "--kind", kind}
		var got [2][]string
		for k, program := range []string{plain, turned} {
			var acts []string
			demo := run(program, "", append([]string{"demo", "--full", "--width", "100"}, job...)...)
			for _, m := range anAct.FindAllStringSubmatch(demo, -1) {
				acts = append(acts, m[1])
			}
			require.Greater(t, len(acts), 3, "%s %s", fam, kind)
			file := filepath.Join(dir, fmt.Sprint(k), fam+".jsonl") // a folder each: tries in one are counted
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o700))
			run(program, strings.Join(acts, "\n")+"\n", append([]string{"practice", "--record", file}, job...)...)
			record, err := os.ReadFile(file)
			require.NoError(t, err)
			got[k] = append(acts, ofTheClock.ReplaceAllString(string(record), ""), ofTheClock.ReplaceAllString(run(program, "", "grade", file, "--json"), ""))
			if strings.Contains(demo, " the ") {
				texts++
			}
		}
		require.Equal(t, len(got[0]), len(got[1]), "%s %s: the technician did other acts", fam, kind)
		for n := range got[0] {
			assert.Equal(t, got[0][n], got[1][n], "%s %s", fam, kind)
		}
	}
	t.Logf("%d messages turned to gibberish in %d files; %d demonstrations still held the word \"the\"", len(all), len(replace), texts)
}

// aSentence matches the small words without which there is no English sentence.
var aSentence = regexp.MustCompile(`(?i)\b(the|and|with|this|what|that|of|is|are|not|it|each|which|was|has|can|you|your|from|for)\b`)

// option matches what is typed: an option.
var option = regexp.MustCompile(`--[a-z-]+`)

// One file lays another language over the help of every command, a demonstration, a card and
// a job by typed lines: with gibberish for a language no sentence stays English. Texts that
// are files themselves (lessons, exercises, families) are not asked for; the options of explore
// and what lessons and grading/form say of mistakes are still English.
func TestAnotherLanguageIsOneFile(t *testing.T) {
	if !longtest.On() {
		t.Skip("a long run: SHIMWRIGHT_LONG=1 asks for it; it builds the program")
	}
	dir := t.TempDir()
	program := filepath.Join(dir, "bench")
	c := exec.Command("go", "build", "-o", program, "./cmd/shimwright")
	c.Dir = root(t)
	msg, err := c.CombinedOutput()
	require.NoError(t, err, string(msg))
	all, _ := saying(t)
	var b strings.Builder
	b.WriteString("language: en\ntexts:\n")
	written := map[string]bool{}
	for _, s := range all {
		if !written[s.code] {
			fmt.Fprintf(&b, "  %s: %s\n", s.code, strconv.Quote(gibberish(s.english)))
			written[s.code] = true
		}
	}
	file := filepath.Join(dir, "other.yaml")
	require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
	run := func(stdin string, args ...string) string {
		c := exec.Command(program, append([]string{"--language", file}, args...)...)
		c.Stdin, c.Dir = strings.NewReader(stdin), dir
		c.Env = append(os.Environ(), "NO_COLOR=1", "XDG_DATA_HOME="+dir)
		out, _ := c.CombinedOutput() // what was not understood is told too
		return strings.ReplaceAll(string(out), program, "")
	}
	read := 0
	clean := func(what, out string) {
		assert.NotEmpty(t, out, what)
		for _, l := range strings.Split(out, "\n") {
			assert.False(t, aSentence.MatchString(option.ReplaceAllString(l, "")), "%s: %q", what, l)
			read++
		}
	}
	var help func(path ...string)
	help = func(path ...string) {
		out := run("", append(path, "--help")...)
		if !slices.Equal(path, []string{"explore"}) {
			clean(strings.Join(path, " ")+" --help", out)
		}
		_, after, _ := strings.Cut(out, gibberish("Commands:")+"\n")
		for _, l := range strings.Split(after, "\n") {
			if !strings.HasPrefix(l, "  ") {
				break
			}
			help(append(slices.Clone(path), strings.Fields(l)[0])...)
		}
	}
	help()
	for _, hidden := range []string{"version", "doctor", "language", "costs", "score", "exit-status"} {
		help(hidden)
	}
	clean("demo", run("", "demo", "--seed", "7"))
	clean("practice", run("now\nhelp\nstatus\nhint\nknown\nspent\ninspect cups\nmeasure depth\nnonsense\nleave\n", "practice", "--seed", "7", "--record", "a.jsonl"))
	clean("rates", run("", "card", "rates", "--seed", "7"))
	for _, wrong := range []string{"nonsense", "practice --nope", "practice --seed x", "grade", "grade none.jsonl", "card nonsense", "class show"} {
		clean(wrong, run("", strings.Fields(wrong)...))
	}
	assert.Greater(t, read, 700, "lines that were read")
}
