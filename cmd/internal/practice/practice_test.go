package practice_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/attempt"
	"shimwright/sim/longtest"
	"shimwright/sim/text"
)

// work sits a person down who types some lines, and returns what they read and the acts that
// were kept.
func work(t *testing.T, terms attempt.Terms, lines ...string) (shown string, acts []string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "a.jsonl")
	axle, err := job.Find("BEECH", "whole", job.NoFaults, 7)
	require.NoError(t, err)
	var out strings.Builder
	require.NoError(t, practice.Run(practice.Sitting{
		Streams: term.Streams{In: strings.NewReader(strings.Join(lines, "\n") + "\n"), Out: &out, Person: true},
		Pen:     view.NewPen(text.Printer{}, 80), Path: path, Seed: 7, Axle: axle, Order: axle.Order(), Terms: terms,
	}))
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	rec, err := attempt.Read(f)
	require.NoError(t, err)
	for _, a := range rec.Acts() {
		acts = append(acts, a.String())
	}
	return strings.Join(strings.Fields(out.String()), " "), acts
}

func TestSeveralActsOnALine(t *testing.T) {
	shown, acts := work(t, attempt.Terms{}, "inspect cups; inspect shim-seat ;; fit depth-shim 0,030; measure depth; inspect seal")
	assert.Equal(t, []string{"inspect cups", "inspect shim-seat", "fit depth-shim 0.03in"}, acts, "what is refused ends the line")
	assert.Contains(t, shown, "not now: the pinion is not in yet")
}

// The words of the shop, singular and plural, and amounts with a comma do what they mean.
func TestTheShopIsUnderstood(t *testing.T) {
	for said, want := range map[string]string{
		"check cup": "inspect cups", "Inspect the cups": "inspect cups", "look at bearing": "inspect bearings", "install depth shim 0,030": "fit depth-shim 0.03in",
		"fit depth-shim .030; fit pinion mockup; spin pinion 5": "turn pinion 5turns", "fit depth-shim .030; fit pinion mockup; check depth": "measure depth",
		"record backlash 0,0065": "record backlash 0.0065in",
	} {
		shown, acts := work(t, attempt.Terms{}, said)
		require.NotEmpty(t, acts, "%s: %s", said, shown)
		assert.Equal(t, want, acts[len(acts)-1], said)
	}
}

func TestTheNearestIsNamed(t *testing.T) {
	for said, want := range map[string]string{"tigthen nut 10": "did you mean tighten nut?", "knwon": "did you mean known?", "inspct cups": "did you mean inspect cups?"} {
		shown, acts := work(t, attempt.Terms{}, said)
		assert.Contains(t, shown, want, said)
		assert.Empty(t, acts)
	}
	shown, _ := work(t, attempt.Terms{}, "weld housing")
	assert.NotContains(t, shown, "did you mean")
}

// built brings the axle to where a question is asked before the torque is read again.
func built() []string {
	return []string{"fit depth-shim 0.030", "fit pinion final", "tighten nut to 200", "turn pinion 5", "measure torque rotating wrench", "tighten nut 10", "turn pinion 5"}
}

func TestAnActAtTheQuestionIsDone(t *testing.T) {
	shown, acts := work(t, attempt.Terms{}, append(built(), "measure torque rotating wrench", "tighten nut 5; measure torque rotating wrench; inspect cones", "9 lb-in")...)
	assert.Contains(t, shown, "What do you expect to read?")
	assert.Equal(t, []string{"tighten nut 5deg", "expect 9lb-in", "measure torque rotating wrench", "inspect cones"}, acts[len(built()):],
		"the act that waited is dropped for the one that was typed, and a line goes on after its answer")
}

func TestTheLastRoundIsRepeatedByOneWord(t *testing.T) {
	_, acts := work(t, attempt.Terms{}, append(built(), "measure torque rotating wrench", "", "r")...)
	assert.Equal(t, []string{"measure torque rotating wrench", "tighten nut 10deg", "turn pinion 5turns", "measure torque rotating wrench"}, acts[len(built()):])
	shown, _ := work(t, attempt.Terms{}, "repeat")
	assert.Contains(t, shown, "no round to repeat yet")
}

func TestWhoSignsIsAskedOnce(t *testing.T) {
	ready := append(built(), "fit side-shims ring-gear 0.060 opposite 0.060", "fit case", "torque caps")
	shown, acts := work(t, attempt.Terms{}, append(ready, "sign off")...)
	assert.Contains(t, shown, "Not proved: - pinion rotating torque was not read again after the last change (act 5)")
	assert.NotContains(t, acts, "sign off")
	shown, acts = work(t, attempt.Terms{}, append(ready, "sign off", "inspect cones", "sign off")...)
	assert.NotContains(t, acts, "sign off", "after another act the question is asked again: %s", shown)
	_, acts = work(t, attempt.Terms{}, append(ready, "sign off", "sign off")...)
	assert.Contains(t, acts, "sign off")
	shown, _ = work(t, attempt.Terms{Mode: attempt.Exam, Help: attempt.NoHelp}, append(ready, "sign off")...)
	assert.Contains(t, shown, "Signing closes the job")
	assert.NotContains(t, shown, "Not proved", "an examination does not tell what lacks")
}

func TestHelpAsItIsAskedFor(t *testing.T) {
	shown, acts := work(t, attempt.Terms{}, "hint", "hint", "hint", "inspect cups", "hint")
	assert.Contains(t, shown, "would do: inspect cups")
	assert.Equal(t, 2, strings.Count(shown, "Parts are inspected while they lie open"), "each place begins anew")
	assert.Equal(t, []string{"inspect cups"}, acts)
	shown, _ = work(t, attempt.Terms{Mode: attempt.Check, Help: attempt.NoHelp}, "hint", "next", "status", "?")
	assert.Equal(t, 2, strings.Count(shown, "gives no such help"))
	assert.Contains(t, shown, "not read; 0.0050 in to 0.0080 in")
	assert.Contains(t, shown, "An act is a line such as")
	shown, _ = work(t, attempt.Terms{}, "next")
	assert.Contains(t, shown, "Stage: inspect. - inspect cups:")
}

// The clock stands in the file, in its head and its signature, and changes nothing that is shown
// but what the debrief says of it: neither do tries that were made before.
func TestTheClockReachesTheFileAlone(t *testing.T) {
	dir := t.TempDir()
	axle, err := job.Find("BEECH", "depth", job.NoFaults, 7)
	require.NoError(t, err)
	sit := func(name string, clock func() time.Time) (shown string, rec *attempt.Record) {
		path := filepath.Join(dir, name)
		var out strings.Builder
		require.NoError(t, practice.Run(practice.Sitting{
			Streams: term.Streams{In: strings.NewReader("inspect cups\nfit depth-shim 0.030in\nsign off\n"), Out: &out, Clock: clock},
			Pen:     view.NewPen(text.Printer{}, 80), Path: path, Seed: 7, Axle: axle, Order: axle.Order(),
		}))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		rec, err = attempt.Read(strings.NewReader(string(data)))
		require.NoError(t, err)
		return strings.ReplaceAll(out.String(), name, "FILE"), rec
	}
	at := time.Date(2031, 2, 3, 4, 5, 6, 0, time.UTC)
	tick := func() time.Time { at = at.Add(time.Minute); return at }
	without, bare := sit("a.jsonl", nil)
	with, timed := sit("b.jsonl", tick)
	again, third := sit("c.jsonl", tick)
	begun := regexp.MustCompile(` Begun 2031[^.]+UTC\. Signed off 2031[^.]+UTC\. \d (try|tries) at the same job lay in the same folder before\.`)
	flat := func(shown string) string { return strings.Join(strings.Fields(shown), " ") }
	for _, clocked := range []string{with, again} {
		assert.Len(t, begun.FindAllString(flat(clocked), -1), 1)
		assert.Equal(t, flat(without), begun.ReplaceAllString(flat(clocked), ""))
	}
	assert.Equal(t, bare.Acts(), timed.Acts())
	assert.Equal(t, attempt.Begin{}, bare.Header.Begin)
	assert.Zero(t, bare.Ended)
	assert.Equal(t, "2031-02-03T04:06:06Z", timed.Header.At.Format(time.RFC3339))
	assert.Equal(t, "2031-02-03T04:07:06Z", timed.Ended.Format(time.RFC3339))
	assert.Equal(t, [2]int{1, 2}, [2]int{timed.Header.Earlier, third.Header.Earlier})
}

// In a coached job each decision is answered at once, why opens the reckoning, and what was
// decided can be taken back; in any other nothing of it is answered.
func TestTheCoachInLines(t *testing.T) {
	coached := attempt.Terms{Help: attempt.CoachHelp}
	shown, acts := work(t, coached, "why", "take back", "inspect cups", "fit depth-shim 0.040in", "why", "take back", "fit depth-shim 0.031in", "fit pinion mock-up", "back")
	assert.Contains(t, shown, "inspect: Parts are inspected while they lie open", "what the stage is for")
	assert.Contains(t, shown, "there is no decision yet to say more about")
	assert.Contains(t, shown, "nothing can be taken back here")
	assert.Contains(t, shown, "Coach: Cost ")
	assert.Contains(t, shown, "Cheaper here: ")
	assert.Contains(t, shown, "In the book: spent ")
	assert.Contains(t, shown, "Back to before fit depth-shim 0.04in: 1 act taken back.")
	assert.Contains(t, shown, "depth: The depth shim sets how deep the pinion stands")
	assert.Contains(t, shown, "The coach speaks at every stage, because no job of yours is finished yet.")
	require.Greater(t, len(acts), 10, "the coach has done the first stage")
	assert.Equal(t, []string{"inspect cups", "fit depth-shim 0.031in"}, acts[len(acts)-2:])
	assert.Contains(t, shown, "First see the old depth shim and the marks", "where to look at a stage that is new to the person")
	shown, acts = work(t, attempt.Terms{}, "inspect cups", "fit depth-shim 0.040in", "why", "take back", "help")
	assert.NotContains(t, shown, "Coach:")
	assert.Equal(t, 2, strings.Count(shown, "gives no such help"))
	assert.NotContains(t, shown, "take back:")
	assert.Len(t, acts, 2)
}

// said gives a line at each reading, and does something before one of them.
type said struct {
	lines  []string
	before map[int]func()
	n      int
}

func (s *said) Read(p []byte) (int, error) {
	if do := s.before[s.n]; do != nil {
		do()
	}
	if s.n == len(s.lines) {
		return 0, io.EOF
	}
	s.n++
	return copy(p, s.lines[s.n-1]+"\n"), nil
}

// An attempt file that goes under the bench, or is written to, ends the sitting at the next act,
// and every act is in another file then.
func TestNoActGoesWithItsFile(t *testing.T) {
	for name, harm := range map[string]func(path string) error{
		"deleted": os.Remove,
		"replaced": func(path string) error {
			return errors.Join(os.Remove(path), os.WriteFile(path, []byte("other"), 0o600))
		},
		"added to": func(path string) error {
			f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
			if err != nil {
				return err
			}
			_, err = f.WriteString("more\n")
			return errors.Join(err, f.Close())
		},
	} {
		path := filepath.Join(t.TempDir(), "a.jsonl")
		axle, err := job.Find("BEECH", "whole", job.NoFaults, 7)
		require.NoError(t, err)
		in := &said{lines: []string{"inspect cups", "inspect seal", "inspect spacer", "inspect cones"}, before: map[int]func(){2: func() {
			// Lines are read ahead: the harm waits until the two acts before it are kept.
			require.Eventually(t, func() bool {
				text, err := os.ReadFile(path)
				return err == nil && strings.Count(string(text), "\n") == 3
			}, time.Minute, time.Millisecond)
			require.NoError(t, harm(path))
		}}}
		var out strings.Builder
		err = practice.Run(practice.Sitting{Streams: term.Streams{In: in, Out: &out}, Pen: view.NewPen(text.Printer{}, 80), Path: path, Seed: 7, Axle: axle, Order: axle.Order()})
		require.Error(t, err, name)
		beside := strings.TrimSuffix(path, ".jsonl") + ".rescued-1.jsonl"
		assert.Contains(t, text.Printer{}.Error(err), beside, name)
		f, err := os.Open(beside)
		require.NoError(t, err, name)
		rec, err := attempt.Read(f)
		require.NoError(t, errors.Join(err, f.Close()), name)
		assert.Len(t, rec.Acts(), 3, name)
	}
}

// A second bench on an attempt is refused at once, and the first goes on.
func TestOneBenchToAnAttempt(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.jsonl")
	axle, err := job.Find("BEECH", "whole", job.NoFaults, 7)
	require.NoError(t, err)
	sit := func(in io.Reader) error {
		return practice.Run(practice.Sitting{Streams: term.Streams{In: in, Out: io.Discard}, Pen: view.NewPen(text.Printer{}, 80), Path: path, Seed: 7, Axle: axle, Order: axle.Order()})
	}
	second := errors.New("not tried")
	in := &said{lines: []string{"inspect cups", "inspect seal"}, before: map[int]func(){1: func() { second = sit(strings.NewReader("inspect spacer\n")) }}}
	require.NoError(t, sit(in))
	assert.ErrorIs(t, second, store.ErrInUse)
	rec, err := store.Read(path)
	require.NoError(t, err)
	assert.Len(t, rec.Acts(), 2)
}

// A script that somebody handed in writes nothing but its attempt, whatever words and names of
// files it holds, and changes no file that is there.
func TestAScriptWritesNothingButItsAttempt(t *testing.T) {
	axle, err := job.Find("BEECH", "pattern", job.NoFaults, 7)
	require.NoError(t, err)
	words := []string{"picture", "record", "record pattern", "card", "lesson", "sheet", "known", "help", "status", "spent", "next", "hint", "now", "units", "why", "back", "repeat", "leave", "expect", "write", "save", "out", "export", "!", "|"}
	for _, word := range words {
		for _, name := range []string{"mine.png", "../mine.svg", "a.jsonl", "new/mine.png", "> mine.png", "--out mine.png"}[:longtest.Pick(1, 6)] {
			dir := t.TempDir()
			folder := filepath.Join(dir, "in")
			require.NoError(t, os.Mkdir(folder, 0o700))
			for _, theirs := range []string{filepath.Join(folder, "mine.png"), filepath.Join(dir, "mine.svg")} {
				require.NoError(t, os.WriteFile(theirs, []byte("theirs"), 0o600))
			}
			t.Chdir(folder)
			script := "paint teeth thin\nroll gears braked\n" + word + " " + name + "\n"
			var out strings.Builder
			_ = practice.Run(practice.Sitting{Streams: term.Streams{In: strings.NewReader(script), Out: &out}, Pen: view.NewPen(text.Printer{}, 80), Path: "a.jsonl", Seed: 7, Axle: axle, Order: axle.Order()})
			var found []string
			require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
				if err == nil && !d.IsDir() {
					rel, _ := filepath.Rel(dir, path)
					found = append(found, filepath.ToSlash(rel))
				}
				return err
			}))
			assert.Equal(t, []string{"in/a.jsonl", "in/mine.png", "mine.svg"}, found, "%s %s", word, name)
			rec, err := store.Read("a.jsonl")
			require.NoError(t, err, "%s %s", word, name)
			assert.GreaterOrEqual(t, len(rec.Acts()), 2, "%s %s: the gears were rolled", word, name)
			for _, theirs := range found[1:] {
				kept, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(theirs)))
				require.NoError(t, err)
				assert.Equal(t, "theirs", string(kept), "%s %s", word, name)
			}
		}
	}
}
