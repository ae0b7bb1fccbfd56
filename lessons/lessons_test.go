package lessons

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons/figure"
)

// prose is what a lesson says in words, the captions of its figures among them.
func prose(l Lesson) string { return figure.Prose(l.Body) }

func TestTheCourse(t *testing.T) {
	course := map[string]string{
		"Before you build":   "hear-first read-before-strip teardown reuse-or-replace inspect-first preload-design matched-set ring-gear-bolts pressing",
		"Pinion":             "depth-mark depth-gauge cage-shim cup-shim mock-up crush-spacer solid-spacer rotating-torque seal-and-nut",
		"Case and ring gear": "side-total side-shims bearing-adjusters spread-and-caps backlash-reading runout total-torque used-gears",
		"Contact pattern":    "make-a-pattern depth-height pattern-table which-side-drives",
		"Proving it":         "trust-instruments check-again close-up first-miles",
	}
	got := make(map[string]string)
	var groups []string
	for i, l := range All() {
		assert.Equal(t, i+1, l.Order, l.ID)
		got[l.Group] = strings.TrimSpace(got[l.Group] + " " + l.ID)
		if len(groups) == 0 || groups[len(groups)-1] != l.Group {
			groups = append(groups, l.Group)
		}
	}
	assert.Equal(t, course, got)
	assert.Equal(t, []string{"Before you build", "Pinion", "Case and ring gear", "Contact pattern", "Proving it"}, groups)
	assert.Len(t, All(), 34)
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
	}
	_, err := Find(" ")
	require.ErrorContains(t, err, "give its name")
}

const goodFile = "---\nid: x\ntitle: T\nabout: A\nidea: I\ngroup: G\norder: 1\nskills: depth, measure\nmisconceptions: m-a, m-b\n" +
	"designs: ELM, FIR\ntry_family: ELM\ntry_seed: 7\nsee: y\n---\n## Aim\n\nText.\n"

func TestParseIsStrict(t *testing.T) {
	l, err := parse("text/x.md", goodFile)
	require.NoError(t, err)
	good := Lesson{ID: "x", Title: "T", About: "A", Idea: "I", Group: "G", Order: 1, Skills: []string{"depth", "measure"},
		Misconceptions: []string{"m-a", "m-b"}, Designs: []string{"ELM", "FIR"}, TryFamily: "ELM", TrySeed: 7, See: []string{"y"},
		Body: "## Aim\n\nText.\n"}
	assert.Equal(t, good, l)

	good.Designs, good.See = nil, nil
	l, err = parse("text/x.md", strings.NewReplacer("designs: ELM, FIR", "designs: all", "see: y\n", "").Replace(goodFile))
	require.NoError(t, err)
	assert.Equal(t, good, l, "a lesson for all axles, without related ones")

	for name, c := range map[string]struct{ old, new, want string }{
		"no opening line":      {"---\nid", "id", "text/x.md:1: a lesson starts"},
		"no closing line":      {"---\n##", "##", "no closing line"},
		"key twice":            {"idea: I\n", "idea: I\nidea: J\n", "text/x.md:6: idea is given twice"},
		"unknown key":          {"idea: I\n", "idea: I\nauthor: me\n", `text/x.md:6: "author" is not a known key: use id, title`},
		"empty value":          {"about: A", "about: ", `text/x.md:4: "about: " is not "key: value"`},
		"no colon":             {"about: A", "about A", `text/x.md:4: "about A" is not "key: value"`},
		"family empty":         {"try_family: ELM", "try_family:", `text/x.md:11: "try_family:" is not "key: value"`},
		"seed in words":        {"try_seed: 7", "try_seed: seven", `text/x.md:12: try_seed "seven" is not a whole number`},
		"negative seed":        {"try_seed: 7", "try_seed: -7", "is not a whole number"},
		"seed zero":            {"try_seed: 7", "try_seed: 0", "is not a whole number from 1 up"},
		"order zero":           {"order: 1", "order: 0", `text/x.md:7: order "0" is not a whole number from 1 up`},
		"order too high":       {"order: 1", "order: 100000", "text/x.md:7: order 100000 is above 1000"},
		"other file's id":      {"id: x", "id: y", `text/x.md:2: id "y" does not match the file's name, "x"`},
		"unknown skill":        {"depth, measure", "depth, welding", `text/x.md:8: skills has "welding": use assemble, backlash`},
		"skill twice":          {"depth, measure", "depth, depth", `skills names "depth" twice`},
		"skill left out":       {"depth, measure", "depth,", `skills has ""`},
		"misconception shaped": {"m-a, m-b", "M_A", `text/x.md:9: misconceptions has "M_A": an id is of small letters`},
		"design shaped":        {"ELM, FIR", "ELM, fir", `text/x.md:10: designs has "fir": a family's code`},
		"family shaped":        {"try_family: ELM", "try_family: elm", `text/x.md:11: try_family "elm" is no family's code`},
		"family not about":     {"try_family: ELM", "try_family: ASH", "try_family ASH is not of the designs that the lesson is about: ELM, FIR"},
		"related to itself":    {"see: y", "see: y, x", `text/x.md:13: see has "x"`},
		"faulty figure":        {"Text.\n", "Text.\n\n```figure\nshow: sketch\n```\n", "text/x.md: below the opening block, line 6: show"},
		"nothing to teach":     {"## Aim\n\nText.\n", "\n", "nothing follows"},
	} {
		_, err := parse("text/x.md", strings.Replace(goodFile, c.old, c.new, 1))
		assert.ErrorContains(t, err, c.want, name)
	}
	for _, key := range needed() {
		line := regexp.MustCompile(`(?m)^` + key + `: .*\n`)
		_, err := parse("text/x.md", line.ReplaceAllString(goodFile, ""))
		assert.ErrorContains(t, err, key+" is missing")
	}
	_, err = parse("text/x.md", "")
	assert.Error(t, err)
}

// A course is refused that does not hang together, and the error says where.
func TestLoadIsStrict(t *testing.T) {
	file := func(id, group, order, see string) *fstest.MapFile {
		text := strings.NewReplacer("id: x", "id: "+id, "group: G", "group: "+group, "order: 1", "order: "+order, "see: y", "see: "+see).Replace(goodFile)
		return &fstest.MapFile{Data: []byte(text)}
	}
	fsys := fstest.MapFS{"text/x.md": file("x", "G", "2", "y"), "text/y.md": file("y", "G", "1", "x"), "text/z.md": file("z", "H", "3", "x"), "text/notes.txt": {}}
	all, err := load(fsys)
	require.NoError(t, err)
	assert.Equal(t, []string{"y", "x", "z"}, []string{all[0].ID, all[1].ID, all[2].ID}, "by order, not by name")

	for want, z := range map[string]*fstest.MapFile{
		"lesson z has order 2 where 3 is next":                    file("z", "H", "2", "x"),
		"lesson z has order 4 where 3 is next":                    file("z", "H", "4", "x"),
		`lesson z: no lesson is called "xx"; the nearest is "x"`:  file("z", "H", "3", "xx"),
		`text/z.md:2: id "q" does not match the file's name, "z"`: file("q", "H", "3", "x"),
	} {
		fsys["text/z.md"] = z
		_, err := load(fsys)
		assert.ErrorContains(t, err, want)
	}
	fsys["text/z.md"], fsys["text/w.md"] = file("z", "H", "3", "x"), file("w", "G", "4", "x")
	_, err = load(fsys)
	assert.ErrorContains(t, err, `lesson w is of group "G", which has ended before`)
}

// Headings in the order the package promises.
func TestEveryLessonHasItsParts(t *testing.T) {
	want := []string{"Aim", "The idea", "The trap", "Worked example", "On the bench", "Wrong and right", "Check yourself", "Take care", "Answer"}
	for _, l := range All() {
		parts, order := sections(prose(l))
		assert.Equal(t, want, order, l.ID)
		assert.Contains(t, parts["Check yourself"], "?", "%s asks something", l.ID)
		assert.Contains(t, parts["Worked example"], l.TryFamily+", invented", "%s works on the axle of its job and says it is invented", l.ID)
		assert.Regexp(t, `^\n- \*\*Wrong:\*\* .+\n- \*\*Right:\*\* .+\n$`, parts["Wrong and right"], l.ID)
		steps := regexp.MustCompile(`(?m)^\d\. `).FindAllString(parts["On the bench"], -1)
		assert.GreaterOrEqual(t, len(steps), 4, "%s has numbered steps", l.ID)
		for i, s := range steps {
			assert.Equal(t, strconv.Itoa(i+1)+". ", s, "%s numbers its steps in order", l.ID)
		}
		assert.True(t, strings.HasSuffix(prose(l),
			"\n\nThese numbers are for practice. On a real axle, its maker's manual rules.\n"), "%s ends by deferring to the manual", l.ID)
		assert.LessOrEqual(t, len([]rune(l.About)), 60, "%s: the list of lessons shows its subject on one line of 80 columns", l.ID)
		for what, line := range map[string]string{"title": l.Title, "idea": l.Idea} {
			assert.LessOrEqual(t, len([]rune(line)), 100, "%s: %s stays on one line", l.ID, what)
		}
		assert.True(t, strings.HasSuffix(l.About, "."), l.ID)
		assert.True(t, strings.HasSuffix(l.Idea, "."), l.ID)
	}
}

// Three to six minutes at a bench, by the count of words.
func TestLength(t *testing.T) {
	for _, l := range All() {
		n := len(words(prose(l)))
		assert.GreaterOrEqual(t, n, 450, l.ID)
		assert.LessOrEqual(t, n, 800, l.ID)
	}
}

// A manual is cited so that the page can be found.
func TestManualsAreCitedByPage(t *testing.T) {
	cite := regexp.MustCompile(`TM \d[\d-]*(?:&P2?)?`)
	where := regexp.MustCompile(`^, (p|pp|para|table|step|WP) ?[\d-]`)
	for _, l := range All() {
		body := prose(l)
		for _, at := range cite.FindAllStringIndex(body, -1) {
			assert.Regexp(t, where, body[at[1]:min(at[1]+12, len(body))], "%s: %s", l.ID, body[at[0]:at[1]])
		}
	}
}

// Only what the terminal renderer shows well: no raw HTML, pictures or links, no
// fenced blocks, and one paragraph to a source line.
func TestMarkdownSubset(t *testing.T) {
	banned := regexp.MustCompile("<[a-zA-Z/!]|!\\[|\\]\\(|```|~~~|^\t|^#[^#]|\\*[^*\\s][^*]*[^*]\\*[^*]|_[a-z]+_|\u2014|\u2013")
	for _, l := range All() {
		for line := range strings.SplitSeq(prose(l), "\n") {
			assert.NotRegexp(t, banned, strings.ReplaceAll(line, "**", ""), l.ID)
			assert.Zero(t, strings.Count(line, "**")%2, "%s: bold left open: %s", l.ID, line)
			assert.Zero(t, strings.Count(line, "`")%2, "%s: code left open: %s", l.ID, line)
			assert.Equal(t, strings.TrimRight(line, " "), line, l.ID)
		}
	}
}

// Words about the person instead of the work, and words vague on a shop floor.
func TestWording(t *testing.T) {
	banned := regexp.MustCompile(`(?i)!|\byou failed|\bwrong again|\byour (mistake|error|fault)|\byou (got|did) (it|that) wrong|\bstupid|\bcareless|\bsimply\b|\bobviously\b|\bof course\b|` +
		`\bleft side|\bright side|\bhalf\b|\bquarter|\btighten the gears|\btry again\b|\btry_seed\b`)
	for _, l := range All() {
		for _, text := range []string{l.Title, l.About, l.Idea, prose(l)} {
			assert.NotRegexp(t, banned, text, l.ID)
		}
	}
}

// The trade has one word for each thing, and the lessons use it. A house word may stand
// only in the company that makes it the trade's: seal drag, case flange, O-ring.
// A sentence stands once in a lesson: one that stands twice was put in twice.
func TestNoSentenceStandsTwice(t *testing.T) {
	for _, l := range All() {
		seen := map[string]bool{}
		for _, s := range regexp.MustCompile(`[.?!]\s`).Split(prose(l), -1) {
			if s = strings.TrimSpace(s); len(s) > 30 && !strings.ContainsAny(s, "|`") {
				assert.False(t, seen[s], "%s: %s", l.ID, s)
				seen[s] = true
			}
		}
	}
}

func TestTradeWords(t *testing.T) {
	sound := regexp.MustCompile(`(?i)\b(seal|brake) drag\b|\b(case|cage) flange\b|\bdial indicator\b|\blimited-slip\b|\bO-ring\b|` +
		`\bring( gear|-gear| and pinion)|\bcarrier (housing|bearings)\b|` + "`[^`]*`")
	banned := regexp.MustCompile(`(?i)\bprint(s|ed)?\b|\bdrag(s|ged)?\b|\bfirst pull|\bwindows?\b|\b(head|tail) (bearing|cup|cone)|\bhead height|\bpacks?\b|` +
		`\b(back|tooth) side|\binterference|\bline.to.line|\bhome\b|\bflanges?\b|\bstems?\b|\btrials?\b|\bdry build|\blook(s|ed|ing)?\b|\bslips?\b|` +
		`\bwrong ideas?\b|\bcords?\b|\bvee\b|\bsaddle|\bnip(s|ped)?\b|\bslots?\b|\brings?\b|\bcrush spacer|\bset number|\bcarriers?\b|\bspread of\b|` +
		`\bdials?\b|\b(both|drive|coast|two) flanks?\b|\btaken.over|\bturning torque|` +
		// and the spelling of one country
		`\bcent(re|red|res)\b|aluminium|\bcolour|\bgrey\b|\btowards\b|\btyres?\b|\bpropshaft|\bsaloon|\bmotorway|\bmillimetre|\boverrun\b`)
	for _, l := range All() {
		for _, text := range []string{l.Title, l.About, l.Idea, prose(l)} {
			assert.NotRegexp(t, banned, sound.ReplaceAllString(text, ""), l.ID)
		}
	}
}

// Plain English: reading ease by Flesch's formula of 1948, 206.835 less 1.015 for each
// word of a sentence and 84.6 for each syllable of a word. 60 to 70 is plain, more is
// easier. As in his rule a colon or semicolon ends a sentence too. Tables, code, figures
// with their units and metric equals in brackets are not counted.
func TestReadingEase(t *testing.T) {
	const easy, hardest = 65, 55
	var sum float64
	for _, l := range All() {
		ease := readingEase(prose(l))
		assert.GreaterOrEqual(t, ease, float64(hardest), l.ID)
		sum += ease
	}
	assert.GreaterOrEqual(t, sum/float64(len(All())), float64(easy))
}

func TestReadingEaseTellsPlainFromHeavy(t *testing.T) {
	for word, n := range map[string]int{"cup": 1, "pinion": 2, "seated": 2, "axle": 2, "toe": 1, "gauge": 1, "seating": 2, "notches": 2, "measure": 2} {
		assert.Equal(t, n, syllables(word), word)
	}
	plain := "Press the cone on square. Then feel for a gap in three places."
	heavy := "Subsequent verification of interferential installation necessitates circumferential examination utilizing appropriate instrumentation."
	assert.InDelta(t, 206.835-1.015*13/2-84.6*14/13, readingEase(plain), 1e-9, "13 words, 2 sentences, 14 syllables")
	assert.Greater(t, readingEase(plain), 90.0)
	assert.Less(t, readingEase(heavy), 0.0)
	assert.InDelta(t, readingEase(plain), readingEase(plain+"\n\n| A | Transmission |\n\n`measure torque rotating wrench`"), 1e-9)
}

var (
	uncounted  = regexp.MustCompile("(?m)^(\\||##).*$|`[^`]*`|^(\\d+\\.|-) |\\([^()]*(mm|N·m|N|kPa|km/h|°C)\\)|\\*")
	unitAfter  = regexp.MustCompile(`(\d) (in|lb-in|lb-ft|lb|psi|mph|°F)\b`)
	sentenceAt = regexp.MustCompile(`[.?!:;](\s|$)|\n`)
	anyWord    = regexp.MustCompile(`[\p{L}\d][\p{L}\d'.]*`)
	vowels     = regexp.MustCompile(`[aeiouy]+`)
	silentE    = regexp.MustCompile(`[^aeiouy]e$`)
	spokenLE   = regexp.MustCompile(`[^aeiouy]les?$`)
	silentED   = regexp.MustCompile(`[^aeiouytd]ed$`)
	silentES   = regexp.MustCompile(`[^aeiouyscxzgh]es$`)
)

func readingEase(text string) float64 {
	text = unitAfter.ReplaceAllString(uncounted.ReplaceAllString(text, ""), "$1")
	var sentences, words, syllable float64
	for _, sentence := range sentenceAt.Split(text, -1) {
		before := words
		for _, w := range anyWord.FindAllString(sentence, -1) {
			if strings.ContainsFunc(w, unicode.IsDigit) {
				continue
			}
			words++
			syllable += float64(syllables(w))
		}
		if words > before {
			sentences++
		}
	}
	return 206.835 - 1.015*words/sentences - 84.6*syllable/words
}

// syllables estimates by runs of vowels, less an e that is not spoken: a few words, such as
// "variation", come out one short.
func syllables(word string) int {
	w := strings.ToLower(word)
	n := len(vowels.FindAllString(w, -1))
	if (silentE.MatchString(w) || silentED.MatchString(w) || silentES.MatchString(w)) && !spokenLE.MatchString(w) {
		n--
	}
	return max(n, 1)
}

// No maker's or person's name can slip in: inside a sentence only the symbols
// below may have a capital, a word that opens a sentence must occur in small
// letters elsewhere or be one of the openers, and letters mixed with digits must
// be part of a manual's number.
func TestNoNames(t *testing.T) {
	symbols := set("Right Cost TM P N N·m kPa I D F C API WP V-blocks O-ring °F °C " + families)
	openers := set("Accept Answer Apart Brush Built Cleaned Close-up Creep Divide Drawing Driven Early Expect Families Find Finish Found Hear Highest Hold " +
		"I Inspect Iron Lay Leave Lengthwise Lowest Make Mind Names Others Pitting Plainly Presses Pressing Pressure Question Repeating Reuse Rigid Rock " +
		"Roll Screw Seating Semi-floating Silence Stake Support Suppose Taking Tap Theirs These Tighten Use Warm Wash Weave Which Wind Write Yes Zero")
	token := regexp.MustCompile(`[\p{L}\d]+(?:[·'-][\p{L}\d]+)*`)
	opens := regexp.MustCompile(`(^|[.?:]["*]* |^\d\. |^- |^## |\| )["*(]*$`)
	manual := regexp.MustCompile(`^(\d[\d-]*P?|P2|GL-5)$`)

	code := regexp.MustCompile("`[^`]*`")

	var lines []string
	for _, l := range All() {
		lines = append(lines, l.Title, l.About, l.Idea)
		lines = append(lines, strings.Split(code.ReplaceAllString(prose(l), ""), "\n")...)
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
			if w == lower || symbols[strings.TrimSuffix(w, "'s")] {
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
	typed := regexp.MustCompile("`[^`]*`") // what is typed on the bench needs one unit
	checked := 0
	for _, l := range All() {
		for _, m := range quantity.FindAllStringSubmatch(typed.ReplaceAllString(prose(l), ""), -1) {
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
	assert.Greater(t, checked, 400, "the search for quantities has gone blind")
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
		figure := regexp.MustCompile(`(^|[^\d.])` + regexp.QuoteMeta(expected) + `(-\d+(\.\d+)?)? ` + unit + `(\W|$)`)
		found := false
		for paragraph := range strings.SplitSeq(prose(l), "\n") {
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
		for _, m := range sum.FindAllStringSubmatch(prose(l), -1) {
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
	assert.GreaterOrEqual(t, checked, 120, "the search for sums has gone blind")
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
