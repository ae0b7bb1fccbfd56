package lessons_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading/acceptance"
	"shimwright/lessons"
	"shimwright/lessons/figure"
	"shimwright/scenarios/catalogue"
	"shimwright/scenarios/drill"
	"shimwright/scenarios/misconception"
	"shimwright/sim/family"
)

// keys are the words by which a lesson is known to treat a thing, each a regular
// expression. All of them must be in its text.
func keys() map[string]string {
	return map[string]string{
		// Faults.
		"inner-cup-high": `inner cup stops|shoulder;feeler`, "outer-cup-high": `cup.* shoulder;feeler`, "pinion-cup-loose": `cup that has turned in its bore`,
		"dirt-under-depth-shim": `dirt|chip;clean shim-seat`, "set-up-bearing-height": `set-up bearing is taller`, "depth-shims-run-thick": `measure depth-shim|micrometer`,
		"slinger-left-out": `slinger`, "depth-gauge-off-its-seat": `test gauge`, "gear-set-mixed": `mixed set;match number`, "ring-gear-for-other-case": `two case heights`,
		"pinion-bent": `bent pinion;V-blocks`, "spacer-crushed-before": `new spacer;full length`, "spacer-for-other-axle": `the one for this axle`, "pinion-nut-used-before": `new nut`,
		"packing-grease": `grease`, "grit-in-pinion-bearings": `dirt`, "pinion-bearing-notched": `dented|dents`, "seal-tight": `lip that has folded|good seal takes`,
		"low-range-wrench-out": `wrench reads high`, "string-on-wrong-radius": `radius`, "ring-gear-cone-high": `seat cones;shim`, "opposite-cone-high": `seat cones;side bearings`,
		"caps-swapped": `left cap left|own place`, "cap-end-for-end": `side, top|witness marks`, "adjuster-cross-threaded": `cross|by hand;thread`, "side-cup-cracked": `cracked`,
		"housing-spread-before": `stays .* open`, "dirt-behind-ring-gear": `trapped behind|chip`, "ring-gear-bolts-uneven": `even torque`, "ring-gear-bolts-too-long": `bolt that bottoms`,
		"bent-case-flange": `case flange`, "ring-gear-warped": `warped`, "ring-gear-off-center": `off center;radial`, "indicator-arm-loose": `arm of the indicator`, "shafts-or-brakes-on": `brakes`,
		// Mistakes and misconceptions; one that is both has one row.
		"mark-turned": `plus`, "mark-forgotten": `mark`, "mark-in-other-units": `hundredths|thousandths`, "new-mark-only": `old mark`, "marks-added": `old mark`,
		"overshot": `new spacer`, "backed-off": `back the nut off|loosen nut`, "wrong-range": `used bearings has a spec|new or used`, "breakaway": `breakaway torque`, "not-turned-in": `turn pinion|not been turned`,
		"seal-counted": `seal`, "plunger-tilted": `not square`, "plunger-at-toe": `at the toe`, "pinion-free": `hold the pinion`, "one-side-only": `total`, "no-side-preload": `zero end play is where preload begins`,
		"side-preload-high": `too much of it|too high`, "caps-snug": `torque caps|caps torqued|caps are torqued`, "nothing-inspected": `inspect`, "used-set-as-new": `used set|wrong for this one`,
		"starter-is-final": `read on a|mock-up`, "thicker-is-deeper": `thicker`, "gauge-turned": `too far out`, "tiny-steps": `by what it is off|new shim`, "preload-shims-not-followed": `preload shims`,
		"thicker-shims-tighten": `thicker sounds tighter`, "lengthwise-as-depth": `toe and heel`, "height-as-backlash": `cannot cure height with backlash`, "pinion-for-backlash": `depth|pinion`,
		"picture-chased": `chase`, "greased": `grease`, "torque-is-preload": `nobody can see preload`, "nut-in-inch-pounds": `lb-ft is`, "sides-swapped": `ring-gear side`, "wrong-way": `thicker|away`,
		"one-to-one": `0\.7`, "gain-turned": `/ 0\.7`, "indicator-floor": `cannot see less`, "tighter-is-better": `end of the spec`, "more-is-quieter": `end of the spec`, "one-place": `one place`,
		"variation-averaged": `average`, "pattern-unbraked": `brake`, "compound-thick": `thick coat`, "not-rechecked": `fresh|again`, "parts-replaced": `do not find a fault`, "strip-first": `before`,
	}
}

func treats(t *testing.T, what, id, lesson string) {
	t.Helper()
	l, err := lessons.Find(lesson)
	require.NoError(t, err, "%s %s", what, id)
	words, ok := keys()[id]
	if !assert.True(t, ok, "%s %s has no key terms here", what, id) {
		return
	}
	text := strings.ToLower(strings.Join([]string{l.Title, l.About, l.Idea, figure.Prose(l.Body)}, "\n"))
	text = strings.NewReplacer("**", "", "`", "").Replace(text)
	for one := range strings.SplitSeq(strings.ToLower(words), ";") {
		assert.Regexp(t, regexp.MustCompile(one), text, "lesson %s, to which the %s %s points, does not treat it", lesson, what, id)
	}
}

// What a debrief sends a trainee to read treats what he is sent for.
func TestLinksLeadToLessonsThatTreatIt(t *testing.T) {
	for _, e := range catalogue.All() {
		treats(t, "fault", e.ID, e.Lesson)
	}
	for _, m := range misconception.All() {
		treats(t, "misconception", m.ID, m.Lesson)
		l, err := lessons.Find(m.Lesson)
		require.NoError(t, err)
		assert.Contains(t, l.Misconceptions, m.ID, "lesson %s answers it", m.Lesson)
	}
}

// So does a line of the acceptance list.
func TestAcceptanceLeadsToLessonsThatTreatIt(t *testing.T) {
	words := map[string]string{"pattern": "pattern", "depth": "depth", "pinion-torque": "rotating torque", "nut": "nut", "nut-torque": "nut goes to", "total-torque": "total",
		"side-rise": "rise", "backlash": "backlash", "backlash-variation": "variation", "runout": "back face", "caps": "torque caps", "match-marks": "witness marks", "housing-spread": "spread",
		"found-wrong": "inspect", "sheet-complete": "record", "sheet-true": "record"}
	for _, r := range acceptance.Rows() {
		l, err := lessons.Find(r.Lesson)
		require.NoError(t, err, r.ID)
		if assert.NotEmpty(t, words[r.ID], "the line %s has no key terms here", r.ID) {
			assert.Contains(t, strings.ToLower(figure.Prose(l.Body)), words[r.ID], "lesson %s, to which the line %s points", r.Lesson, r.ID)
		}
	}
}

// Every skill is trained by some lesson, and a lesson that says it trains one speaks of it.
func TestEverySkillIsTrained(t *testing.T) {
	words := map[string]string{"assemble": `press|drive|fit|bolt|seal`, "backlash": `backlash`, "depth": `depth|pinion (in|out)`, "design": `card|spacer|teeth|drives`, "diagnose": `noise|listen|whine|oil`,
		"inspect": `inspect`, "measure": `measure|read`, "pattern": `pattern|paint teeth`, "preload": `torque|preload`, "records": `write|record|build sheet|sheet`, "runout": `runout`,
		"side-preload": `end-play|end play|preload|total`, "teardown": `remove|lift|take|pull`}
	trained := map[string]bool{}
	for _, l := range lessons.All() {
		text := figure.Prose(l.Body)
		for _, s := range l.Skills {
			trained[s] = true
			if assert.NotEmpty(t, words[s], "%s has no key terms here", s) {
				assert.Regexp(t, "(?i)"+words[s], text, "%s says it trains %s", l.ID, s)
			}
		}
	}
	for _, s := range lessons.Skills() {
		assert.True(t, trained[s], s)
	}
}

// What a drill sends a trainee to read treats what the drill asks.
func TestDrillsLeadToLessonsThatTreatThem(t *testing.T) {
	words := map[drill.Kind]string{drill.Carrier: `reject|carrier housing is replaced`, drill.Heat: `takes .* of side preload`, drill.Hunting: `hunting`, drill.DepthMark: `mark`, drill.CheckingDistance: `measure depth|checking distance`, drill.SetUpBearing: `set-up bearing`, drill.PatternDepth: `pattern`,
		drill.PreloadShims: `preload shims`, drill.NutStep: `degree`, drill.PinionTorque: `rotating torque`, drill.StringScale: `radius`, drill.TorqueUnits: `lb-ft is twelve lb-in`, drill.Adapter: `adapter`,
		drill.SideTotal: `end play`, drill.SideShims: `side shims`, drill.Adjusters: `notch`, drill.Backlash: `tightest|variation`, drill.TotalTorque: `ratio`, drill.Pattern: `pattern`, drill.TellApart: `.`}
	for _, k := range drill.Kinds() {
		if !assert.NotEmpty(t, words[k], "%s has no key terms here", k) {
			continue
		}
		for _, f := range family.Shelf() {
			if k.Fits(f) != nil {
				continue
			}
			d, err := drill.Draw(drill.Item{Kind: k, Family: f, Seed: 1, N: 1})
			require.NoError(t, err, "%s %s", k, f.Code)
			l, err := lessons.Find(d.Lesson)
			require.NoError(t, err, "%s %s", k, f.Code)
			assert.Regexp(t, "(?i)"+words[k], strings.NewReplacer("**", "", "`", "").Replace(figure.Prose(l.Body)), "lesson %s, to which the drill %s leads", l.ID, k)
		}
	}
}

// Every reason why an act cannot be done leads to a lesson that speaks of what it is about;
// left out are those that only say that it is so already, and the limits of the program.
func TestRefusalsLeadToLessonsThatTreatThem(t *testing.T) {
	bare := []string{"not.caps-snug-already", "not.caps-torqued-already", "not.case-in-already", "not.closed", "not.left-off", "not.pinion-out-already", "not.too-many-turns", "not.word-left-off"}
	about := map[string]string{"not.caps-grip": "snug", "not.case-in-the-way": "case", "not.case-not-in": "fit case", "not.case-not-in-shims": "fit side-shims", "not.gauge-needs-bores": "gauge",
		"not.indicator-not-mounted": "mount indicator", "not.mock-up-nut": "no collapsible spacer", "not.no-adjusters": "adjusters", "not.no-case-to-sign": "sign", "not.no-depth-shim": "fit depth-shim",
		"not.no-depth-shim-in-hand": "measure depth-shim", "not.no-preload-shims": "fit preload-shims", "not.no-preload-shims-here": "spacer", "not.no-shaft-without-case": "axle shafts", "not.no-side-shims": "adjusters",
		"not.no-side-shims-chosen": "fit side-shims", "not.no-side-shims-in-hand": "shims", "not.no-slinger": "cage", "not.not-final": "final", "not.not-spread": "no spreader", "not.nothing-to-sign": "sign",
		"not.off-shelf": "steps of", "not.out-of-mesh": "teeth", "not.out-of-thread": "by hand", "not.own-bearings": "used", "not.own-gears": "ran", "not.past-wrench": "long bar", "not.pinion-in-the-way": "pinion",
		"not.pinion-not-in": "fit pinion mock-up", "not.seal-in": "seal", "not.solid-spacer": "spacer", "not.spacer-in": "remove pinion", "not.spread-too-far": "limit", "not.teeth-bare": "paint teeth", "not.too-far-a-pull": "small steps"}
	files, err := filepath.Glob("../sim/*.go")
	require.NoError(t, err)
	code := regexp.MustCompile(`"(not\.[a-z-]+)"`)
	found := map[string]bool{}
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		src, err := os.ReadFile(f)
		require.NoError(t, err)
		for _, m := range code.FindAllStringSubmatch(string(src), -1) {
			found[m[1]] = true
		}
	}
	assert.Greater(t, len(found), 35, "the search for refusals has gone blind")
	for c := range found {
		id, ok := lessons.ForRefusal(c)
		if slices.Contains(bare, c) {
			assert.False(t, ok, c)
			continue
		}
		if assert.True(t, ok, "%s leads to no lesson", c) && assert.NotEmpty(t, about[c], "%s has no key terms here", c) {
			l, err := lessons.Find(id)
			require.NoError(t, err, c)
			assert.Contains(t, strings.NewReplacer("**", "", "`", "").Replace(strings.ToLower(figure.Prose(l.Body))), about[c], "lesson %s, to which %s leads", id, c)
		}
	}
	for c := range about {
		assert.True(t, found[c], "nothing refuses with %s any more", c)
	}
}
