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
	"regexp"
	"regexp/syntax"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A wording is what no text of the program says, with what it says instead. But lists
// where the same letters are right: a find that lies inside a match of but is none.
type wording struct {
	never string // matched in small letters
	use   string
	but   string
}

// A matcher is a wording ready to match. One of its stems stands in every match: whether a
// text holds any is found much sooner than whether the expression matches.
type matcher struct {
	never, but *regexp.Regexp
	stems      []string
}

var matchers = sync.OnceValue(func() (out []matcher) {
	for _, w := range wordings() {
		tree, err := syntax.Parse(w.never, syntax.Perl)
		if err != nil {
			panic(err) // a row of wordings is wrong
		}
		m := matcher{never: regexp.MustCompile(w.never), stems: stems(tree)}
		if w.but != "" {
			m.but = regexp.MustCompile(strings.ReplaceAll(w.but, " ", " +"))
		}
		out = append(out, m)
	}
	return out
})

// stems returns strings of which every match of an expression holds at least one; none
// where there are no such strings.
func stems(e *syntax.Regexp) []string {
	switch e.Op {
	case syntax.OpLiteral:
		return []string{string(e.Rune)}
	case syntax.OpCapture, syntax.OpPlus:
		return stems(e.Sub[0])
	case syntax.OpAlternate:
		var all []string
		for _, sub := range e.Sub {
			some := stems(sub)
			if some == nil {
				return nil
			}
			all = append(all, some...)
		}
		return all
	case syntax.OpConcat:
		var best []string
		least := func(words []string) int {
			return len(slices.MinFunc(words, func(a, b string) int { return len(a) - len(b) }))
		}
		for _, sub := range e.Sub {
			if some := stems(sub); some != nil && (best == nil || least(some) > least(best)) {
				best = some
			}
		}
		return best
	}
	return nil
}

// find lists where a text in small letters has the words.
func (m matcher) find(low string) [][]int {
	if m.stems != nil && !slices.ContainsFunc(m.stems, func(s string) bool { return strings.Contains(low, s) }) {
		return nil
	}
	found := m.never.FindAllStringIndex(low, -1)
	if m.but == nil || len(found) == 0 {
		return found
	}
	right := m.but.FindAllStringIndex(low, -1)
	return slices.DeleteFunc(found, func(at []int) bool {
		return slices.ContainsFunc(right, func(r []int) bool { return r[0] <= at[0] && at[1] <= r[1] })
	})
}

// wordings are the words of the shop, the manual and the test paper, and US spelling.
// People learn their trade's words here, so one thing has one name.
func wordings() []wording {
	const person = `an?|the|this|that|another|other|same|each|every|which|whose|such|competent|careful|simulated|blind|reference|sensible|previous|good|clumsy|wise|trained`
	return []wording{
		{`\b(foot|finger)?prints?\b`, "pattern, contact pattern", `\bto print\b|\bprints? (it|them|this|that|the|every|each|all|as|out|only|what|a|one|its|no)\b|\b(prints?|write) .{0,30}on paper\b|in print\b|print(s|ed)? page`},
		{`\bdrags?\b`, "rotating torque", `\b(seal|seals|brake|brakes|oil|seal's|brake's)('s)?[ -]drags?\b|\bdrag that the seal\b|\bdrag of (the|a) (pinion )?(seal|brake|oil)s?\b|\b(nothing|something|shafts?)[- ]drags?\b|\bdrags? (at|on) the (ring gear|gears)\b|seal_drag`},
		{`\bpreload drag\b|\bdrag torque\b|\bturning torque\b`, "rotating torque", ``},
		{`\b(a|the|depth|preload|shim|old|right|thicker|thinner|of|first|known|starting|by)('s)? packs?\b|\bpacks?\b`, "shims, preload shims", `\bpack(s|ed|ing)? (the |a )?(pinion )?(bearings?|grease|wheel bearings?)\b`},
		{`\b(drive|coast|convex|concave|both|each|ring gear) flanks?\b`, "drive side, coast side; flank is toward the root", ``},
		{`\bwindows?\b`, "specification, spec", `\b(terminal|browser) windows?\b|\bclosing the window\b|\bon windows\b|\bfor windows\b|^windows$`},
		{`\b(head|tail)[ -](side )?(bearings?|cups?|cones?|shims?)\b|\bpinion head\b|\bpinion's (head|tail)\b`, "inner, outer pinion bearing; pinion face", ``},
		{`\bhead heights?\b`, "checking distance, pinion depth", ``},
		{`\b(tooth|back)[- ](side|ring|rings|shims?|cones?|cups?|bearings?|pedestals?)\b|\bback and tooth\b|\btooth and back\b`, "ring-gear side, opposite side", `\bback sides?\b of|tooth side of the (ring )?gear`},
		{`\bslots?\b`, "notches", `\bslot[- ](factor|width)\b`},
		{`\brings?\b`, "bearing adjusters; ring gear", `\bring[- ]+(gears?|and[- ]pinion|and the pinion|spiral|diameter|addendum|dedendum|pitch|outer|mean|root|face|outside|crown|away|toward|normal|circle|thrust|travel)\b|\bmember=ring\b|\{ring\}|\bring[- ](teeth|tooth)\b|\bhardened rings\b|\bthe ring you are fitting\b|\bthick-ring\b|\bring_\w+|\bgear ring\b|\b(snap|retaining|lock|o|inner|outer|bearing|piston|sealing|wear|sensor|tone|gauge|tooth|toothed|slotted)[- ]rings?\b|\brings? of (the |a )?bearings?\b|\bthreaded rings?\b|\b(ring|rings) (solid|true|dull)\b`},
		{`\bline[- ]to[- ]line\b|\bline total\b|\bloose packs?\b`, "zero end play", ``},
		{`\binterference\b`, "preload, side bearing preload", `\binterference fits?\b`},
		{`\bhome\b`, "seated", `\b(at|take|takes|taken|took|go|goes|went|drive|drives|drove|driven|driving|way|back) home\b|\bhome (folder|directory|page|study|garage)\b|\$home`},
		{`\btrial\b|\bdry build\b|\btry-out build\b`, "mock-up", `\bon trial\b|\btrial and error\b`},
		{`\blook(s|ed|ing)?\b`, "inspect", `\blook-alikes?\b|\blook(s|ed|ing)? (like|alike|up|for|ahead|back|the same|right|good|wrong|(it |them )?over|how|at (the (act|writing|difference)|one act|what|how))\b`},
		{`\bslips?\b`, "mistake", `\bslip(s|ping|ped)? (off|on|over|into|out|back|onto|through|under|in|away|down|past|fit|ring|joint|yoke|differential)\b|\b(limited|non|no|anti|may|can|could|will|would|must|not|tire|tires|wheel|wheels|feeler|socket|wrench|adapter|clutch)[- ]slips?\b|\bslip between\b|\bslip-?(yoke|fit|on)\b`},
		{`\b(` + person + `) hands?\b|\bhands (that|who|before|do|make|work|of)\b|\bhand before\b|\bhand that\b`, "technician, previous technician", `\b(by|at|on|in|to|of|under) (the |one |the other )?hand\b|\ba hand (on the|is no|in)\b|\bpast the hand\b|\b(your|both) hands\b`},
		{`\bcords?\b`, "string and spring scale", `\b(extension|power|drop)[- ]cords?\b`},
		{`\bfish scales?\b`, "string and spring scale", ``},
		{`\bstems?\b`, "plunger (of an indicator), shaft (of a pinion)", `\bpinion'?s? (stem|shaft)s?\b|\bstem_and_nut\w*|\bstems? from\b|\bvalve stems?\b|\bstem(,| and|-and)[ -](the )?(nut|threads)\b|\bnut and the stem\b|\b(in|on) the stem\b|\bpull in the stem\b|\bstem=\d+`},
		{`\bfirst pulls?\b`, "breakaway torque", ``},
		{`\bswings?\b|\bwobbles?\b`, "runout", `\b(needle|pointer|dial|wrench|bar|handle)( \w+)? swings?\b|\bswing at you\b|\bswing(s|ing)? (the|of the) (needle|wrench|bar|handle)\b`},
		{`\bspread of (the )?backlash\b|\bbacklash spreads?\b`, "backlash variation", ``},
		{`\bset numbers?\b`, "match number", ``},
		{`\bwrong ideas?\b|\bideas\b`, "misconception", ``},
		{`\btaken[ -]over\b`, "previous technician's work", ``},
		{`\bmounting distance\b`, "checking distance, pinion depth", ``},
		{`\bsaddle caps?\b`, "bearing caps", ``},
		{`\bnip(s|ped)?\b`, "snug", ``},
		{`\bprop(eller)?[ -]?shafts?\b`, "driveshaft", ``},
		{`\bv(ee)?[ -]blocks?\b`, "V-blocks", `\bv-blocks?\b`},
		{`\bsaloons?\b`, "sedan", ``},
		{`\bestate (car|pickup)s?\b|\bestates?\b`, "station wagon, pickup", `\breal estate\b`},
		{`\bmotorways?\b`, "highway", ``},
		{`\blorr(y|ies)\b`, "truck", ``},
		{`\bcent(re|red|res|ring)\b`, "center", ``},
		{`\b(milli|centi|newton )?met(re|res)\b|\blit(re|res)\b|\bfibres?\b|\bcalibres?\b`, "meter, liter, fiber", ``},
		{`\baluminium\b`, "aluminum", ``},
		{`\w*colour\w*|\bbehaviours?\b|\bfavour\w*|\bneighbour\w*|\bvapours?\b|\blabour\w*|\bhonour\w*`, "color, behavior, neighbor", ``},
		{`\bgrey\w*`, "gray", ``},
		{`\btowards\b`, "toward", ``},
		{`\b(recogni|organi|minimi|maximi|normali|summari|memori|initiali|reali|standardi|emphasi|optimi|apologi|generali|speciali|criticis)(s|z)?is(e|es|ed|ing|ation)\b|\b(recogn|organ|minim|maxim|normal|summar|memor|initial|real|standard|emphas|optim|general|special)is(e|es|ed|ing|ation|ations)\b|\banalys(e|es|ed|ing)\b`, "-ize", ``},
		{`\b(travel|label|model|cancel|level|signal|total|channel)l(ed|ing|er)\b`, "one l: traveled, labeled", ``},
		{`\btyres?\b|\bkerbs?\b|\bmoulds?\b|\bsulphur\b|\bgearbox(es)?\b|\bbonnets?\b|\bper cent\b|\bjudgements?\b|\blicences?\b|\bwhilst\b|\bamongst\b|\bpractis(e|es|ed|ing)\b`, "US spelling and words", ``},
	}
}

// streamers are the functions that are given the name of a random stream.
func streamers() []string { return []string{"Stream", "stream", "in", "label", "shimScatter"} }

// identities are names of random streams that stand where no function is called.
func identities() []string { return []string{"cord and scale"} }

// namesAStream tells whether a node of a source gives a random stream its name. A stream
// keeps its name for good, whatever the trade calls the thing: another name would be other
// readings. It never reaches a person.
func namesAStream(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CallExpr:
		switch f := n.Fun.(type) {
		case *ast.SelectorExpr:
			return slices.Contains(streamers(), f.Sel.Name)
		case *ast.Ident:
			return slices.Contains(streamers(), f.Name)
		}
	case *ast.KeyValueExpr:
		key, ok := n.Key.(*ast.Ident)
		return ok && key.Name == "stream"
	}
	return false
}

// understood are the sources that list what people may type in the place of the trade's words.
func understood() []string { return []string{"sim/act/synonym.go"} }

// A find is one place where a text says what it should not.
type find struct {
	path string // in the module, with slashes
	line int
	said string
	use  string
}

// misworded lists what a text says that it should not. line is that of the text's beginning.
func misworded(path, text string, line int) []find {
	var out []find
	// A line may end anywhere, in a comment too.
	low := strings.NewReplacer("\n# ", "   ", "\n", " ").Replace(strings.ToLower(text))
	for i, w := range wordings() {
		for _, at := range matchers()[i].find(low) {
			from, to := max(0, at[0]-25), min(len(low), at[1]+25)
			around := strings.Join(strings.Fields(strings.ToValidUTF8(low[from:to], "")), " ")
			out = append(out, find{path, line + strings.Count(text[:min(at[0], len(text))], "\n"), fmt.Sprintf("%q in %q", low[at[0]:at[1]], around), w.use})
		}
	}
	return out
}

// texts calls look for every text of the module that people read: string literals of Go
// files outside tests, and whole Markdown and YAML files.
func texts(t *testing.T, look func(path, text string, line int)) {
	t.Helper()
	dir := root(t)
	require.NoError(t, filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		if d.IsDir() {
			if rel != "." && (strings.HasPrefix(d.Name(), ".") || rel == "cmd/internal/layout" || rel == made) {
				return filepath.SkipDir
			}
			return nil
		}
		if strings.HasPrefix(d.Name(), ".") {
			return nil // for tools
		}
		switch ext := path.Ext(rel); {
		case rel == "cmd/internal/language/texts.yaml": // what the source says, read there
		case ext == ".md" || ext == ".yaml":
			text, err := os.ReadFile(p)
			if err != nil {
				return err
			}
			if rel == "testdata/checks/CHECKS.md" {
				// The first cell of a row is its id, which names a figure and no thing.
				text = regexp.MustCompile(`(?m)^\| \S+ \|`).ReplaceAllFunc(text, func(id []byte) []byte { return bytes.Repeat([]byte(" "), len(id)) })
			}
			look(rel, string(text), 1)
		case ext == ".go" && !slices.Contains(understood(), rel) && !strings.HasSuffix(rel, "_test.go") && !forTests(path.Dir(rel)):
			fset := token.NewFileSet()
			f, err := parser.ParseFile(fset, p, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if namesAStream(n) {
					return false
				}
				switch n := n.(type) {
				case *ast.ImportSpec:
					return false
				case *ast.Field:
					if n.Tag != nil {
						tag := n.Tag
						n.Tag = nil
						text, _ := strconv.Unquote(tag.Value)
						look(rel, text, fset.Position(tag.Pos()).Line)
					}
				case *ast.BasicLit:
					if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING && !slices.Contains(identities(), text) {
						look(rel, text, fset.Position(n.Pos()).Line)
					}
				}
				return true
			})
		}
		return nil
	}))
}

// Texts use the trade's words and US spelling.
func TestTextsUseTheTradesWords(t *testing.T) {
	read := 0
	texts(t, func(file, text string, line int) {
		read++
		for _, f := range misworded(file, text, line) {
			t.Errorf("%s:%d: %s; use: %s", f.path, f.line, f.said, f.use)
		}
	})
	assert.Greater(t, read, 1000, "the walk has met the texts")
}

// The search finds what it should, with its line, and leaves alone what is right.
func TestWordsAreNoticed(t *testing.T) {
	for text, use := range map[string]string{
		"DRIVE flank (convex side)":          "drive side, coast side; flank is toward the root",
		"the pattern on both flanks":         "drive side, coast side; flank is toward the root",
		"read the print on both sides":       "pattern, contact pattern",
		"bring the drag into its spec":       "rotating torque",
		"the low end of its window":          "specification, spec",
		"the head bearing cup":               "inner, outer pinion bearing; pinion face",
		"out three slots":                    "notches",
		"the rings are run up":               "bearing adjusters; ring gear",
		"left at line-to-line":               "zero end play",
		"the cups are not home":              "seated",
		"after the trial build":              "mock-up",
		"a look at the cups":                 "inspect",
		"a slip of somebody else":            "mistake",
		"a careful hand does it":             "technician, previous technician",
		"the stem square to the tooth":       "plunger (of an indicator), shaft (of a pinion)",
		"a gear that swings":                 "runout",
		"ring-gear-off-centre":               "center",
		"an aluminium carrier":               "aluminum",
		"choose the pack between the cones":  "shims, preload shims",
		"measured with a cord":               "string and spring scale",
		"an estate, driven on the motorway":  "station wagon, pickup",
		"the wrong idea that explains it":    "misconception",
		"shims behind the tooth side":        "ring-gear side, opposite side",
		"read the colour of the compound":    "color, behavior, neighbor",
		"the interference of the side shims": "preload, side bearing preload",
	} {
		found := misworded("made-up.md", "First line.\n\n"+text+".", 1)
		if assert.NotEmpty(t, found, text) {
			assert.Equal(t, use, found[0].use, text)
			assert.Equal(t, 3, found[0].line, text)
		}
	}
	for _, text := range []string{
		"write it out or print it", "seal drag and brake drag", "close the terminal window", "ring gear and ring-gear side", "a snap ring",
		"drive home", "run up by hand", "a hand on the yoke", "look-alikes", "it will slip off the nut", "V-blocks under the pinion", "pack the bearings with grease",
		"a deburring tool", "the homepage", "handle", "cordless", "printed", "inspect the cups",
	} {
		assert.Empty(t, misworded("made-up.md", text, 1), text)
	}
}
