package lessons

import (
	"encoding/csv"
	"io/fs"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLessonsComeInTeachingOrder(t *testing.T) {
	want := []string{
		"inspect-first", "preload-design", "depth-mark", "depth-gauge", "depth-height", "cage-shim", "cup-shim",
		"crush-spacer", "solid-spacer", "rotating-torque", "side-shims", "adjuster-rings", "backlash-reading",
		"used-gears", "runout", "total-torque", "trust-instruments", "check-again",
	}
	var got, groups []string
	for _, l := range All() {
		got = append(got, l.ID)
		if len(groups) == 0 || groups[len(groups)-1] != l.Group {
			groups = append(groups, l.Group)
		}
	}
	assert.Equal(t, want, got)
	slices.Sort(groups)
	assert.Equal(t, slices.Compact(slices.Clone(groups)), groups, "the lessons of a group stand together")
	assert.NotContains(t, groups, "")
}

func TestEveryFileIsTaught(t *testing.T) {
	entries, err := fs.ReadDir(files, "text")
	require.NoError(t, err)
	assert.Len(t, entries, len(All()), "a file in text/ is missing from the teaching order")
}

func TestAllReturnsACopy(t *testing.T) {
	All()[0].Title = "scribbled over"
	assert.NotEqual(t, "scribbled over", All()[0].Title)
}

func TestFind(t *testing.T) {
	for _, l := range All() {
		got, err := Find(l.ID)
		require.NoError(t, err)
		assert.Equal(t, l, got)
	}
	for asked, near := range map[string]string{
		"backlash":       "backlash-reading",
		"run-out":        "runout",
		"Crush Spacer":   "crush-spacer",
		"crushspacer":    "crush-spacer",
		"side_shims":     "side-shims",
		"depth-marks":    "depth-mark",
		"toatl-torque":   "total-torque",
		"check":          "check-again",
		"rotating-troqe": "rotating-torque",
	} {
		_, err := Find(asked)
		require.Error(t, err, asked)
		assert.Contains(t, err.Error(), strconv.Quote(near), asked)
		assert.Contains(t, err.Error(), "see them all", asked)
	}
	_, err := Find(" ")
	require.ErrorContains(t, err, "see them all")
}

func TestParseIsStrict(t *testing.T) {
	const good = "---\nid: x\ntitle: T\nabout: A\nidea: I\ntry_seed: 7\n---\n## What goes wrong\n\nText.\n"
	l, err := parse("text/x.md", good)
	require.NoError(t, err)
	assert.Equal(t, Lesson{ID: "x", Title: "T", About: "A", Idea: "I", TryFamily: "BEECH", TrySeed: 7, Body: "## What goes wrong\n\nText.\n"}, l)

	l, err = parse("text/x.md", strings.Replace(good, "try_seed", "try_family: ELM\ntry_seed", 1))
	require.NoError(t, err)
	assert.Equal(t, "ELM", l.TryFamily)

	for name, c := range map[string]struct{ old, new, want string }{
		"no opening line":  {"---\nid", "id", "text/x.md:1: "},
		"no closing line":  {"---\n##", "##", "no closing line"},
		"missing key":      {"idea: I\n", "", "idea is missing"},
		"key twice":        {"idea: I\n", "idea: I\nidea: J\n", "text/x.md:6: idea is given twice"},
		"unknown key":      {"idea: I\n", "idea: I\nauthor: me\n", `text/x.md:6: "author" is not a known key`},
		"empty value":      {"about: A", "about: ", `text/x.md:4: "about: " is not "key: value"`},
		"no colon":         {"about: A", "about A", `text/x.md:4: "about A" is not "key: value"`},
		"family empty":     {"try_seed: 7", "try_family:\ntry_seed: 7", `text/x.md:6: "try_family:" is not "key: value"`},
		"seed in words":    {"try_seed: 7", "try_seed: seven", `text/x.md:6: try_seed "seven" is not a whole number`},
		"negative seed":    {"try_seed: 7", "try_seed: -7", "is not a whole number"},
		"seed zero":        {"try_seed: 7", "try_seed: 0", "is not a whole number from 1 up"},
		"other file's id":  {"id: x", "id: y", `id "y" does not match`},
		"nothing to teach": {"## What goes wrong\n\nText.\n", "\n", "nothing follows"},
	} {
		_, err := parse("text/x.md", strings.Replace(good, c.old, c.new, 1))
		assert.ErrorContains(t, err, c.want, name)
	}
	_, err = parse("text/x.md", "")
	assert.Error(t, err)
}

// Headings in the order the package promises.
func TestEveryLessonHasItsParts(t *testing.T) {
	want := []string{
		"What goes wrong", "Why", "On the bench", "Worked example", "Check yourself", "Take care", "Answer",
	}
	for _, l := range All() {
		parts, order := sections(l.Body)
		assert.Equal(t, want, order, l.ID)
		assert.Contains(t, parts["Check yourself"], "?", "%s asks something", l.ID)
		assert.Contains(t, parts["Worked example"], l.TryFamily+", ", "%s works on the axle of its exercise", l.ID)
		assert.Contains(t, parts["Worked example"], "invented", "%s says the axle is invented", l.ID)
		steps := regexp.MustCompile(`(?m)^\d\. `).FindAllString(parts["On the bench"], -1)
		assert.GreaterOrEqual(t, len(steps), 4, "%s has numbered steps", l.ID)
		for i, s := range steps {
			assert.Equal(t, strconv.Itoa(i+1)+". ", s, "%s numbers its steps in order", l.ID)
		}
		assert.True(t, strings.HasSuffix(l.Body,
			"\n\nThese numbers are for practice. On a real axle, its maker's manual rules.\n"), "%s ends by deferring to the manual", l.ID)
		for what, line := range map[string]string{"title": l.Title, "about": l.About, "idea": l.Idea} {
			assert.LessOrEqual(t, len([]rune(line)), 100, "%s: %s stays on one line", l.ID, what)
		}
		assert.True(t, strings.HasSuffix(l.About, "."), l.ID)
		assert.True(t, strings.HasSuffix(l.Idea, "."), l.ID)
	}
}

// Long enough to explain, short enough to read standing at a bench.
func TestLength(t *testing.T) {
	for _, l := range All() {
		n := len(words(l.Body))
		assert.GreaterOrEqual(t, n, 250, l.ID)
		assert.LessOrEqual(t, n, 450, l.ID)
	}
}

// Only what the terminal renderer shows well: no raw HTML, pictures or links, no
// fenced blocks, and one paragraph to a source line.
func TestMarkdownSubset(t *testing.T) {
	banned := regexp.MustCompile("<[a-zA-Z/!]|!\\[|\\]\\(|```|~~~|^\t|^#[^#]|\\*[^*\\s][^*]*[^*]\\*[^*]|_[a-z]+_|\u2014|\u2013")
	for _, l := range All() {
		for line := range strings.SplitSeq(l.Body, "\n") {
			assert.NotRegexp(t, banned, strings.ReplaceAll(line, "**", ""), l.ID)
			assert.Zero(t, strings.Count(line, "**")%2, "%s: bold left open: %s", l.ID, line)
			assert.Zero(t, strings.Count(line, "`")%2, "%s: code left open: %s", l.ID, line)
			assert.Equal(t, strings.TrimRight(line, " "), line, l.ID)
		}
	}
}

// Words about the person instead of the work, and words that are vague on a
// shop floor: sides go by back and tooth, shims go by thousandths or
// millimetres, and a housing or case is called that.
func TestWording(t *testing.T) {
	banned := regexp.MustCompile(`(?i)!|\byou failed|\bwrong again|\byour (mistake|error|fault)|\byou (got|did) (it|that) wrong|\bstupid|\bcareless|\bsimply\b|\bobviously\b|\bof course\b|` +
		`\bcarriers?\b|\bleft side|\bright side|\bhalf\b|\bquarter|\btighten the gears|\btry again\b|\btry_seed\b`)
	for _, l := range All() {
		for _, text := range []string{l.Title, l.About, l.Idea, l.Body} {
			assert.NotRegexp(t, banned, text, l.ID)
		}
	}
}

// No maker's or person's name can slip in: inside a sentence only the symbols
// below may have a capital, a word that opens a sentence must occur in small
// letters elsewhere or be one of the openers, and letters mixed with digits must
// be part of a manual's number.
func TestNoNames(t *testing.T) {
	symbols := set("TM N N·m kPa Q-shim P-inside P-cage I P " + families)
	openers := set("Accept Answer Apart Brush Built Cleaned Creep Divide Driven Early Expect Find Finish Hold I Lay Leave Lengthwise Make Mind " +
		"Names Pitting Presses Pressing Question Repeating Rigid Rock Roll Seating Support Tap These Tighten Use Warm Wash Which Wind " +
		"Write Zero")
	token := regexp.MustCompile(`[\p{L}\d]+(?:[·'-][\p{L}\d]+)*`)
	opens := regexp.MustCompile(`(^|[.?:] |^\d\. |^- |^## |\| )["*(]*$`)
	manual := regexp.MustCompile(`^(\d[\d-]*P?|P2)$`)

	var lines []string
	for _, l := range All() {
		lines = append(lines, l.Title, l.About, l.Idea)
		lines = append(lines, strings.Split(l.Body, "\n")...)
	}
	small := set(strings.Join(token.FindAllString(strings.Join(lines, "\n"), -1), " "))
	for _, line := range lines {
		for _, at := range token.FindAllStringIndex(line, -1) {
			w := line[at[0]:at[1]]
			lower := strings.ToLower(w)
			if strings.ContainsFunc(w, unicode.IsLetter) && strings.ContainsFunc(w, unicode.IsDigit) {
				assert.Regexp(t, manual, w, "a model number? %s", line)
				continue
			}
			if w == lower || symbols[w] {
				continue
			}
			if assert.True(t, opens.MatchString(line[:at[0]]), "%q has a capital inside a sentence: %s", w, line) {
				assert.True(t, small[lower] || openers[w], "%q opens a sentence and nothing else: a name? %s", w, line)
			}
		}
	}
}

// families are the invented axles that come with the program.
const families = "ALDER BEECH CEDAR DOGWOOD ELM FIR GORSE HAZEL IRONBARK JUNIPER"

// A lesson on one design says for which axles it is meant; which those are is checked
// against their files in package reveal's tests.
func TestDesignsAreNamed(t *testing.T) {
	for id, axles := range map[string]string{
		"cage-shim": "DOGWOOD, ELM, IRONBARK and JUNIPER", "cup-shim": "CEDAR, FIR and HAZEL",
		"crush-spacer": "ALDER, BEECH, DOGWOOD, GORSE and JUNIPER", "solid-spacer": "CEDAR, ELM, FIR, HAZEL and IRONBARK",
		"adjuster-rings": "DOGWOOD, ELM, GORSE, IRONBARK and JUNIPER",
	} {
		l, err := Find(id)
		require.NoError(t, err)
		parts, _ := sections(l.Body)
		assert.Contains(t, parts["Why"], axles, id)
	}
}

func set(words string) map[string]bool {
	m := make(map[string]bool)
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}

// Every length, torque and pull stands beside its metric equal, rounded to the
// digits shown. The factors are the exact definitions of the inch (25.4 mm), the
// pound (0.45359237 kg) and standard gravity (9.80665 m/s²).
func TestMetricBesideInch(t *testing.T) {
	const newtonPerPound = 0.45359237 * 9.80665
	units := map[string]struct {
		metric string
		factor float64
	}{
		"in":    {"mm", 25.4},
		"lb":    {"N", newtonPerPound},
		"lb-in": {"N·m", newtonPerPound * 0.0254},
		"lb-ft": {"N·m", newtonPerPound * 0.3048},
		"psi":   {"kPa", newtonPerPound / (0.0254 * 0.0254) / 1000},
	}
	const list = `\d+(?:\.\d+)?(?:(?:, |-| to )\d+(?:\.\d+)?)*`
	quantity := regexp.MustCompile(`(` + list + `) (lb-in|lb-ft|lb|in|psi)\b( \((` + list + `) (mm|N·m|N|kPa)\))?`)
	number := regexp.MustCompile(`\d+(?:\.\d+)?`)
	checked := 0
	for _, l := range All() {
		for _, m := range quantity.FindAllStringSubmatch(l.Body, -1) {
			if !assert.NotEmpty(t, m[3], "%s: %q has no metric beside it", l.ID, m[0]) {
				continue
			}
			u := units[m[2]]
			assert.Equal(t, u.metric, m[5], "%s: %q", l.ID, m[0])
			inch, metric := number.FindAllString(m[1], -1), number.FindAllString(m[4], -1)
			if !assert.Len(t, metric, len(inch), "%s: %q", l.ID, m[0]) {
				continue
			}
			for i := range inch {
				x, err := strconv.ParseFloat(inch[i], 64)
				require.NoError(t, err)
				y, err := strconv.ParseFloat(metric[i], 64)
				require.NoError(t, err)
				_, decimals, _ := strings.Cut(metric[i], ".")
				// Rounding to the last digit shown, with room for a tie and no more.
				tol := 0.5*math.Pow(10, -float64(len(decimals))) + 1e-9
				assert.InDelta(t, x*u.factor, y, tol, "%s: %q", l.ID, m[0])
				checked++
			}
		}
	}
	assert.Greater(t, checked, 100, "the search for quantities has gone blind")
}

// Figures quoted from public technical manuals stand in the same paragraph as
// the manual's number, in the manual's unit.
func TestPublishedFigures(t *testing.T) {
	f, err := os.Open("../testdata/checks/lessons.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, "id,input,expected,tolerance,unit,source,strength", strings.Join(rows[0], ","))
	require.Greater(t, len(rows), 10)
	for _, row := range rows[1:] {
		id, expected, unit, source := row[0], row[2], row[4], row[5]
		part := strings.Split(id, ".")
		require.Len(t, part, 3, id)
		l, err := Find(part[1])
		require.NoError(t, err, id)
		manual, _, _ := strings.Cut(source, ",")
		// The figure itself or as one end of a range.
		figure := regexp.MustCompile(`(^|[^\d.])` + regexp.QuoteMeta(expected) + `(-\d+(\.\d+)?)? ` + unit + `\b`)
		found := false
		for paragraph := range strings.SplitSeq(l.Body, "\n") {
			found = found || strings.Contains(paragraph, manual) && figure.MatchString(paragraph)
		}
		assert.True(t, found, "%s: %s %s beside %s", id, expected, unit, manual)
	}
}

// The sums in the worked examples, redone: each a op b = c written out in a
// lesson must hold to the digits shown.
func TestSums(t *testing.T) {
	sum := regexp.MustCompile(`(\d+(?:\.\d+)?)((?: [-+×/] \d+(?:\.\d+)?)+) = (\d+(?:\.\d+)?)`)
	step := regexp.MustCompile(` ([-+×/]) (\d+(?:\.\d+)?)`)
	checked := 0
	for _, l := range All() {
		text := strings.ReplaceAll(l.Body, " | ", " = ") // the table of depth marks
		for _, m := range sum.FindAllStringSubmatch(text, -1) {
			got, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			for _, s := range step.FindAllStringSubmatch(m[2], -1) {
				x, err := strconv.ParseFloat(s[2], 64)
				require.NoError(t, err)
				switch s[1] {
				case "+":
					got += x
				case "-":
					got -= x
				case "×":
					got *= x
				case "/":
					got /= x
				}
			}
			want, err := strconv.ParseFloat(m[3], 64)
			require.NoError(t, err)
			_, decimals, _ := strings.Cut(m[3], ".")
			tol := 0.5*math.Pow(10, -float64(len(decimals))) + 1e-9 // rounding to the last digit shown
			assert.InDelta(t, got, want, tol, "%s: %s", l.ID, m[0])
			checked++
		}
	}
	assert.GreaterOrEqual(t, checked, 6, "the search for sums has gone blind")
}

// sections splits a body at its second-level headings.
func sections(body string) (parts map[string]string, order []string) {
	parts = make(map[string]string)
	for _, chunk := range strings.Split("\n"+body, "\n## ")[1:] {
		name, text, _ := strings.Cut(chunk, "\n")
		parts[name] = text
		order = append(order, name)
	}
	return parts, order
}

// words counts what a reader would: marks and table rules are not words.
func words(text string) []string {
	var out []string
	for _, w := range strings.Fields(text) {
		if strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			out = append(out, w)
		}
	}
	return out
}
