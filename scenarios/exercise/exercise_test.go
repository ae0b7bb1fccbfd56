package exercise_test

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/scenarios/technician"
	"shimwright/scenarios/verdict"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Every ready exercise gives jobs that a competent hand finishes at its bench, on its own
// terms.
func TestReadyExercisesCanBeFinished(t *testing.T) {
	for _, e := range exercise.All() {
		numbers := max(len(e.Kinds)*len(e.Families), len(e.Seeds))
		if testing.Short() {
			numbers = 1
		}
		for _, n := range e.Numbers(numbers) {
			o, c := e.Order(n)
			j, err := o.Generate(n)
			require.NoError(t, err, "%s %d", e.Name, n)
			s, err := j.Stand()
			require.NoError(t, err)
			require.NoError(t, technician.Work(s, j.Card.Known, technician.Competent()), "%s %d on %s", e.Name, n, c.Name)
			assert.True(t, s.Status().SignedOff)
			// What no reading of a finished axle tells can be put right by who takes it apart.
			sure, stripped := technician.Competent(), s
			if sure.Strips = o.Kind == scenarios.PreviousWork; sure.Strips {
				stripped, err = j.Stand()
				require.NoError(t, err)
				require.NoError(t, technician.Work(stripped, j.Card.Known, sure))
			}
			assert.True(t, verdict.Met(verdict.Check(j.Card.Family, j.Card.UsedBearings, stripped.Sealed())), "%s %d on %s", e.Name, n, c.Name)

			tried, err := e.Try(j)
			require.NoError(t, err)
			assert.Equal(t, exercise.Tried{Order: o, Minutes: s.Status().Minutes, Parts: s.Status().PartsMinutes}, tried)
			assert.True(t, tried.Over().IsZero(), "%s %d: an experienced technician keeps within the budget", e.Name, n)
		}
	}
}

// Each ready exercise in inch units has a metric pair with the same jobs, and no name stands
// for two.
func TestEveryInchExerciseHasAMetricPair(t *testing.T) {
	pairs := 0
	for _, e := range exercise.All() {
		pair, ok := e.InMetric()
		require.Equal(t, e.Units == quantity.Inch, ok, e.Name)
		if !ok {
			continue
		}
		pairs++
		found, err := exercise.Find(strings.ToUpper(pair.Name))
		require.NoError(t, err)
		assert.Equal(t, pair, found)
		assert.Equal(t, quantity.Metric, found.Units)
		assert.Equal(t, e.Numbers(5), found.Numbers(5), e.Name)
		assert.False(t, slices.ContainsFunc(exercise.All(), func(o exercise.Exercise) bool { return o.Name == pair.Name }))
	}
	assert.GreaterOrEqual(t, pairs, 15)
	_, err := exercise.Find("metric-depth-metric")
	assert.Error(t, err)
}

// Exercises on a state of the axle have jobs in that state.
func TestExercisesHaveWhatTheyAreAbout(t *testing.T) {
	used, err := exercise.Find("used-set")
	require.NoError(t, err)
	for _, n := range used.Numbers(4) {
		j, err := used.Job(n)
		require.NoError(t, err)
		assert.True(t, j.Card.UsedGears, "job %d", n)
	}
	bare, err := exercise.Find("no-marks")
	require.NoError(t, err)
	for _, c := range bare.Families {
		assert.False(t, c.Family.Sheet.Marks.Known(), c.Name)
	}
	light, err := exercise.Find("aluminum-carrier")
	require.NoError(t, err)
	for _, c := range light.Families {
		assert.Equal(t, family.Aluminum, c.Family.Design.Housing, c.Name)
	}
	// A housing that was opened too far leaves the old side shims loose.
	open, err := exercise.Find("stretched-housing")
	require.NoError(t, err)
	for _, n := range open.Numbers(3) {
		j, err := open.Job(n)
		require.NoError(t, err)
		assert.Equal(t, []fault.ID{fault.HousingSpread}, j.Order().Faults.OneOf, "job %d", n)
		assert.Equal(t, family.Spreader, j.Card.Family.Design.Entry)
	}
	// Who crushes a second spacer in the exercise on the mock-up is over its budget.
	mock, err := exercise.Find("mock-up-first")
	require.NoError(t, err)
	for _, n := range mock.Numbers(3) {
		j, err := mock.Job(n)
		require.NoError(t, err)
		tried, err := mock.Try(j)
		require.NoError(t, err)
		assert.LessOrEqual(t, tried.Parts, mock.Budget.Parts, "job %d", n)
		s, err := j.Stand()
		require.NoError(t, err)
		a, err := act.Parse("replace spacer", quantity.Inch)
		require.NoError(t, err)
		_, err = s.Do(a)
		require.NoError(t, err)
		assert.Greater(t, tried.Parts+s.Status().PartsMinutes, mock.Budget.Parts, "job %d: %v and %v", n, tried.Parts, s.Status().PartsMinutes)
	}
}

// A budget that the reference technician cannot keep is told, and one that it just keeps is not.
func TestTriedTellsWhatIsOver(t *testing.T) {
	e, err := exercise.Parse([]byte(whole), "x.yaml")
	require.NoError(t, err)
	j, err := e.Job(3)
	require.NoError(t, err)
	got, err := e.Try(j)
	require.NoError(t, err)
	got.Order.Budget = scenarios.Budget{Minutes: got.Minutes, Parts: got.Parts}
	assert.True(t, got.Over().IsZero())
	got.Order.Budget.Minutes--
	assert.Contains(t, words(got.Over()), "and minutes allows")
	got.Order.Budget = scenarios.Budget{Parts: 1}
	got.Parts = 2
	assert.Contains(t, words(got.Over()), "an experienced technician needs 2 min, and parts_minutes allows 1 min")
}

// Together the ready exercises meet every design, every kind, every level of help, every
// mode, both unit systems and every task.
func TestReadyExercisesCoverEverything(t *testing.T) {
	met := map[string]bool{}
	designs := map[family.Design]bool{}
	for _, e := range exercise.All() {
		met[e.Units.String()], met["help "+e.Help.String()], met["mode "+e.Mode.String()] = true, true, true
		for _, k := range e.Kinds {
			met["kind "+k.String()] = true
		}
		for _, c := range e.Families {
			met[c.Family.Code] = true
			d := c.Family.Design
			d.Solid, d.Rings = family.Design{}.Solid, family.Design{}.Rings
			designs[d] = true
		}
		for _, task := range e.Tasks {
			met["task "+task] = true
		}
		met["band "+e.Band], met["weights"], met["budget"], met["left off"] = true, met["weights"] || e.Weights != nil, met["budget"] || e.Budget != scenarios.Budget{}, met["left off"] || e.Off != nil
		assert.NotEmpty(t, e.About)
	}
	for _, f := range family.Shelf() {
		assert.True(t, met[f.Code], f.Code)
	}
	for _, k := range scenarios.Kinds() {
		assert.True(t, met["kind "+k.String()], k)
	}
	for _, h := range attempt.Helps() {
		assert.True(t, met["help "+h.String()], h)
	}
	for _, m := range attempt.Modes() {
		assert.True(t, met["mode "+m.String()], m)
	}
	for _, task := range exercise.Tasks() {
		assert.True(t, met["task "+task.ID], task.ID)
	}
	for _, what := range []string{"inch", "metric", "band hard", "weights", "budget", "left off"} {
		assert.True(t, met[what], what)
	}
	assert.GreaterOrEqual(t, len(exercise.All()), 12)
	assert.GreaterOrEqual(t, len(designs), 7)
}

// A row of numbers meets every pair of kind and family once.
func TestNumbersAreDealtOutInTurn(t *testing.T) {
	for _, e := range exercise.All() {
		pairs := map[string]int{}
		numbers := e.Numbers(len(e.Kinds) * len(e.Families))
		for _, n := range numbers {
			o, c := e.Order(n)
			pairs[o.Kind.String()+" "+c.Name]++
			assert.True(t, e.Holds(n))
			require.NoError(t, o.Validate())
		}
		for pair, times := range pairs {
			assert.Equal(t, 1, times, "%s: %s", e.Name, pair)
		}
	}
}

const whole = `shimwright_exercise: 1
title: "One \"more\" \\ try"
about: "Shims: two of them."
families: ["BEECH", "HAZEL"]
kinds: [sides, whole]
faults: one-of
fault_list: [seal-tight, ring-gear-cone-high]
units: metric
left_off: [measure spread, measure torque string]
minutes: 300
parts_minutes: 45.5
weights:
  total-torque: critical
  sheet-complete: none
difficulty: hard
help: none
mode: exam
tasks: [backlash, records]
note: "own list, 2026"
jobs: [7, 3, 12]
`

// A row of numbers ends where its count says, and the numbers of a pair are those that fall
// to it.
func TestRowsAndPairs(t *testing.T) {
	text := strings.Replace(whole, "jobs: [7, 3, 12]", "first_job: 5\njob_count: 6", 1)
	e, err := exercise.Parse([]byte(text), "x.yaml")
	require.NoError(t, err)
	assert.Equal(t, []uint64{5, 6, 7, 8, 9, 10}, e.Numbers(24))
	assert.Equal(t, []uint64{5, 6}, e.Numbers(2))
	assert.True(t, e.Holds(10))
	assert.False(t, e.Holds(11) || e.Holds(4))
	assert.Equal(t, text, string(e.Encode()))
	all := map[uint64]bool{}
	for _, c := range e.Families {
		for _, k := range e.Kinds {
			for _, n := range e.NumbersOn(c.Family.Code, k, 100) {
				o, _ := e.Order(n)
				assert.Equal(t, []string{c.Family.Code, k.String()}, []string{o.Family.Code, o.Kind.String()})
				assert.False(t, all[n])
				all[n] = true
			}
		}
	}
	assert.Len(t, all, 6)
	e.Count = 0
	assert.Equal(t, []uint64{6, 10, 14}, e.NumbersOn("HAZEL", scenarios.SidesJob, 3))
}

// How a job counts that is not signed off is read, handed to the attempts and written back.
func TestOpenJob(t *testing.T) {
	for _, o := range attempt.OpenJobs() {
		e, err := exercise.Parse([]byte(strings.Replace(whole, "mode: exam\n", "mode: exam\nopen_job: "+o.String()+"\n", 1)), "x.yaml")
		require.NoError(t, err)
		assert.Equal(t, o, e.Open)
		assert.Equal(t, o, e.Terms().Open)
		again, err := exercise.Parse(e.Encode(), "x.yaml")
		require.NoError(t, err)
		assert.Equal(t, e, again)
	}
	_, err := exercise.Parse([]byte(strings.Replace(whole, "mode: exam\n", "mode: exam\nopen_job: never\n", 1)), "x.yaml")
	assert.Error(t, err)
}

// What is read writes itself back the same.
func TestRoundTrip(t *testing.T) {
	e, err := exercise.Parse([]byte(whole), "one-more.yaml")
	require.NoError(t, err)
	assert.Equal(t, whole, string(e.Encode()))
	assert.Equal(t, "one-more", e.Name)
	assert.Equal(t, `One "more" \ try`, e.Title)
	assert.Equal(t, []uint64{7, 3}, e.Numbers(2))
	assert.Equal(t, []uint64{7, 3, 12}, e.Numbers(24))
	assert.True(t, e.Faults.None, "nothing besides the one")
	assert.Equal(t, map[string]scenarios.Weight{"total-torque": scenarios.Critical, "sheet-complete": scenarios.Uncounted}, e.Weights)
	assert.Equal(t, "hard", e.Band)
	assert.Equal(t, scenarios.Budget{Minutes: 300, Parts: 45.5}, e.Budget)
	for _, e := range append(exercise.All(), e) {
		again, err := exercise.Parse(e.Encode(), e.Name+".yaml")
		require.NoError(t, err, e.Name)
		assert.Equal(t, e, again)
	}
}

func words(m text.Message) string { return text.Printer{}.Print(m) }

func TestNamesMistakes(t *testing.T) {
	change := func(old, new string) string {
		require.Equal(t, 1, strings.Count(whole, old), old)
		return strings.Replace(whole, old, new, 1)
	}
	for _, c := range []struct {
		text         string
		line, column int
		what, want   string
	}{
		{change(`"HAZEL"`, "HASEL"), 4, 21, "HASEL", "HAZEL"},
		{change(`"HAZEL"`, "TEAK"), 4, 21, "TEAK", "the code of a family"},
		{change("[sides, whole]", "[sids, whole]"), 5, 9, `kinds holds "sids"`, "sides"},
		{change("[sides, whole]", "sides"), 5, 8, "kinds holds the text", "[one, two]"},
		{change("[sides, whole]", "[]"), 5, 1, "kinds is an empty list", "the kinds of job"},
		{change("[sides, whole]", "[sides, sides]"), 5, 16, "a second time", "each value once"},
		{change("one-of", "one-off"), 6, 9, `faults is "one-off"`, "one-of"},
		{change("seal-tight", "seal-tigth"), 7, 14, "seal-tigth", "seal-tight"},
		{change("one-of", "none"), 7, 1, "fault_list does not belong here", "no fault_list"},
		{change("measure spread", "fit case"), 9, 12, "fit case", "measure"},
		{change("measure spread", "measure torque wrench"), 7, 1, "the wrench or the string", "a way to measure torque"},
		{change("minutes: 300", "minutes: -3"), 10, 10, "minutes is -3", "between 1 and 10000"},
		{change("total-torque", "total-torques"), 13, 3, "weights: total-torques is not a key", "total-torque"},
		{change("critical", "critcal"), 13, 17, `weights: total-torque is "critcal"`, "critical"},
		{change("difficulty: hard", "difficulty: harder"), 15, 13, `difficulty is "harder"`, "hard"},
		{change("help: none", "help: nothing"), 16, 7, "help", "full, little or none"},
		{change("help: none", "help: little"), 16, 7, "gives no help", "help: none"},
		{change("mode: exam", "mode: exams"), 17, 7, `mode is "exams"`, "exam"},
		{change("backlash", "backlashes"), 18, 9, "backlashes", "backlash"},
		{change("12]", "1.5]"), 20, 14, "jobs holds 1.5", "whole numbers"},
		{change("12]", "-1]"), 20, 14, "jobs holds -1", "whole numbers"},
		{whole + "first_job: 3\n", 21, 1, "first_job does not belong here", "only one of the two"},
		{whole + "job_count: 3\n", 21, 1, "job_count does not belong here", "only one of the two"},
		{change("jobs: [7, 3, 12]", "first_job: 5\njob_count: 0"), 21, 12, "job_count is 0", "between 1"},
		{change(`"HAZEL"`, "beech"), 4, 21, "BEECH a second time", "each family once"},
		{change("jobs: [7, 3, 12]\n", ""), 1, 1, "the file has no first_job", "first job number"},
		{change("title:", "titel:"), 2, 1, "titel is not a key", "title"},
		{change("seal-tight", "pinion-nut-used-before"), 7, 1, "HAZEL", "go together"},
	} {
		_, err := exercise.Parse([]byte(c.text), "x.yaml")
		var p datasheet.Problems
		require.ErrorAs(t, err, &p, c.what)
		require.Len(t, p, 1, "%s: %v", c.what, p)
		assert.Equal(t, [2]int{c.line, c.column}, [2]int{p[0].Line, p[0].Column}, "%s", p[0])
		assert.Contains(t, words(p[0].What), c.what)
		assert.Contains(t, words(p[0].Want), c.want, p[0].Error())
	}
	// All at once, in the order of the file.
	_, err := exercise.Parse([]byte("shimwright_exercise: 1\ntitle: x\nkinds: [deth]\nmode: quiz\n"), "x.yaml")
	var p datasheet.Problems
	require.ErrorAs(t, err, &p)
	assert.GreaterOrEqual(t, len(p), 7)
	assert.True(t, slices.IsSortedFunc(p, func(a, b datasheet.Problem) int { return a.Line - b.Line }))

	for _, text := range []string{"", "inspect cups", "shimwright_family: 1\n", "shimwright_exercise: 9\n", "\xff"} {
		_, err := exercise.Parse([]byte(text), "x.yaml")
		assert.ErrorIs(t, err, exercise.ErrNotExercise, text)
	}
}

// The file to begin from reads as it stands, and with every line that only wants its # taken
// away; it names every key and every word there is.
func TestTemplate(t *testing.T) {
	text := string(exercise.Template(text.Printer{}))
	e, err := exercise.Parse([]byte(text), "mine.yaml")
	require.NoError(t, err)
	assert.Equal(t, "My exercise", e.Title)
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len(line), 90, line)
	}
	for _, l := range sim.MayBeLeftOff() {
		assert.Contains(t, text, l.String())
	}
	for _, words := range [][]string{scenarios.Points(), exercise.Bands()} {
		for _, w := range words {
			assert.Contains(t, text, w)
		}
	}
	for _, task := range exercise.Tasks() {
		assert.Contains(t, text, task.ID)
	}
	all := regexp.MustCompile(`(?m)^# (( {2})?[a-z_-]+:( .*)?)$`).ReplaceAllStringFunc(text, func(line string) string {
		if strings.HasPrefix(line, "# jobs:") {
			return line
		}
		return line[2:]
	})
	all = strings.Replace(all, "faults: all", "faults: one-of", 1)
	e, err = exercise.Parse([]byte(all), "mine.yaml")
	require.NoError(t, err, all)
	assert.True(t, e.Off != nil && e.Weights != nil && e.Band != "" && e.Tasks != nil && e.Note != "" && e.Count > 0 && len(e.Faults.OneOf) == 2)
	assert.Equal(t, scenarios.Budget{Minutes: 330, Parts: 60}, e.Budget)
	for _, key := range regexp.MustCompile(`(?m)^[a-z_]+:`).FindAllString(whole, -1) {
		assert.Contains(t, text, key, "the template explains every key")
	}
}

// A family of the instructor's own stands beside the exercise's file.
func TestFamilyFileBesideIt(t *testing.T) {
	dir := t.TempDir()
	hazel, err := os.ReadFile(filepath.Join("..", "..", "sim", "family", "data", "hazel.yaml"))
	require.NoError(t, err)
	own := strings.Replace(string(hazel), "code: HAZEL", "code: OAK", 1)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "oak.yaml"), []byte(own), 0o600))
	mine := filepath.Join(dir, "mine.yaml")
	require.NoError(t, os.WriteFile(mine, []byte(strings.Replace(whole, "HAZEL", "oak.yaml", 1)), 0o600))
	e, err := exercise.Find(mine)
	require.NoError(t, err)
	assert.Equal(t, "OAK", e.Families[1].Family.Code)
	assert.Equal(t, own, e.Families[1].Text)

	require.NoError(t, os.WriteFile(filepath.Join(dir, "oak.yaml"), []byte(strings.Replace(own, "gears:", "geers:", 1)), 0o600))
	_, err = exercise.Find(mine)
	assert.Contains(t, words(text.Reason(err)), "family check")
	require.NoError(t, os.Remove(filepath.Join(dir, "oak.yaml")))
	_, err = exercise.Find(mine)
	assert.Contains(t, words(text.Reason(err)), "cannot be opened")

	for file, name := range map[string]string{"a/My own.yaml": "My own", "x\x1b[31m.yaml": "x_[31m", "\xff.yaml": "_"} {
		assert.Equal(t, name, exercise.NameOf(filepath.FromSlash(file)))
	}
	_, err = exercise.Find("first-deth")
	assert.Equal(t, &exercise.UnknownError{Name: "first-deth"}, err)
	assert.Contains(t, words(text.Reason(err)), "first-depth")
	_, err = exercise.Find(filepath.Join(dir, "none.yaml"))
	assert.True(t, errors.Is(err, os.ErrNotExist))
}

// Whatever bytes a file holds, reading never panics, and what reads writes itself back to
// the same exercise.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(whole))
	f.Add(exercise.All()[0].Encode())
	f.Add([]byte("shimwright_exercise: 1\njobs: [1e3, 0x3]\nkinds: {a: b}\nfaults: [none]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		e, err := exercise.Parse(text, "x.yaml")
		if err != nil {
			var p datasheet.Problems
			if !errors.As(err, &p) {
				t.Fatalf("an error of no known sort: %v", err)
			}
			return
		}
		again, err := exercise.Parse(e.Encode(), "x.yaml")
		if err != nil {
			t.Fatalf("what reads does not write: %v\n%s", err, e.Encode())
		}
		assert.Equal(t, e, again)
	})
}

// An exercise holds the numbers that it names, or those from its first on.
func TestAnExerciseHoldsItsNumbers(t *testing.T) {
	named, counted, open := exercise.Exercise{Seeds: []uint64{4, 9}}, exercise.Exercise{First: 10, Count: 3}, exercise.Exercise{First: 10}
	for seed, want := range map[uint64][3]bool{4: {true, false, false}, 5: {}, 9: {true, false, false}, 10: {false, true, true}, 12: {false, true, true}, 13: {false, false, true}} {
		assert.Equal(t, want, [3]bool{named.Holds(seed), counted.Holds(seed), open.Holds(seed)}, seed)
	}
}
