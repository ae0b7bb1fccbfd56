package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/grading/cost"
	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A display keeps what is written to it and tells when a prompt waits for an answer.
type display struct {
	mu    sync.Mutex
	text  strings.Builder
	ready chan struct{}
}

func (s *display) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.text.Write(p)
	if strings.HasSuffix(s.text.String(), "> ") {
		s.ready <- struct{}{}
	}
	return len(p), nil
}

// take returns what was written since it was last called.
func (s *display) take() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	text := s.text.String()
	s.text.Reset()
	return text
}

// A sitting is a person at the bench: types a line, reads the answer.
type sitting struct {
	t    *testing.T
	keys *io.PipeWriter
	out  *display
	err  bytes.Buffer
	code chan int
}

// patience is how long a sitting may be silent before it counts as hung. It is far
// above what any act takes.
const patience = 20 * time.Second

// sit starts a session and returns what it shows up to the first prompt.
func sit(t *testing.T, args ...string) (*sitting, string) {
	return sitAt(t, term.Streams{Width: 80}, args...)
}

func sitAt(t *testing.T, streams term.Streams, args ...string) (*sitting, string) {
	return sitDown(t, streams, append([]string{"practice"}, args...)...)
}

// dataHere puts the data folder of the system into the working folder, which is the test's own.
func dataHere(t *testing.T) string {
	here, err := os.Getwd()
	require.NoError(t, err)
	t.Setenv("XDG_DATA_HOME", here)
	t.Setenv("HOME", here)
	folder, err := store.DataFolder()
	require.NoError(t, err)
	return folder
}

// sitDown starts a session by whatever command.
func sitDown(t *testing.T, streams term.Streams, args ...string) (*sitting, string) {
	dataHere(t)
	in, keys := io.Pipe()
	s := &sitting{t: t, keys: keys, out: &display{ready: make(chan struct{}, 1)}, code: make(chan int, 1)}
	streams.In, streams.Out, streams.Err, streams.Person = in, s.out, &s.err, true
	go func() { s.code <- Main(streams, args) }()
	t.Cleanup(func() { keys.Close() })
	return s, s.wait()
}

// A person's attempt goes into the data folder on a terminal that can do nothing but print, too.
func TestAPersonsAttemptGoesIntoTheDataFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	s, _ := sit(t, "--kind", "depth", "--seed", "7")
	s.says("inspect cups")
	folder, err := store.DataFolder()
	require.NoError(t, err)
	assert.FileExists(t, filepath.Join(folder, "shimwright-depth-7.jsonl"))
	beside, err := filepath.Glob("*.jsonl")
	require.NoError(t, err)
	assert.Empty(t, beside)
}

// wait returns what is shown up to the next prompt.
func (s *sitting) wait() string {
	s.t.Helper()
	select {
	case <-s.out.ready:
	case code := <-s.code:
		s.t.Fatalf("the session ended with code %d: %s%s", code, s.out.take(), s.err.String())
	case <-time.After(patience):
		s.t.Fatalf("no prompt came; so far: %s", s.out.take())
	}
	return s.out.take()
}

// says types a line and returns the answer without the next prompt.
func (s *sitting) says(line string) string {
	s.t.Helper()
	_, err := io.WriteString(s.keys, line+"\n")
	require.NoError(s.t, err)
	answer := s.wait()
	return answer[:strings.LastIndex(answer, "\n")+1]
}

// ends types a last line, or none if it is empty and the input ends there, and
// returns the exit code and what was still written.
func (s *sitting) ends(line string) (code int, out, err string) {
	s.t.Helper()
	if line != "" {
		_, err := io.WriteString(s.keys, line+"\n")
		require.NoError(s.t, err)
	}
	s.keys.Close()
	select {
	case code = <-s.code:
	case <-time.After(patience):
		s.t.Fatal("the session does not end")
	}
	return code, s.out.take(), s.err.String()
}

func actsIn(t *testing.T, path string) []string {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	rec, err := attempt.Read(f)
	require.NoError(t, err)
	var out []string
	for _, a := range rec.Acts() {
		out = append(out, a.String())
	}
	return out
}

// plainWords joins lines, so that a sentence is found wherever it was wrapped.
func plainWords(text string) string { return strings.Join(strings.Fields(text), " ") }

func TestSessionShowsWhatItIsAsked(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	s, hello := sit(t, "--seed", "7", "--record", path)
	assert.Contains(t, hello, "Job 7: ")
	assert.Contains(t, plainWords(hello), "leave stop and go on later")
	assert.True(t, strings.HasSuffix(hello, "\n[inspect, 0 min] > "), "the prompt has the minutes: %q", hello)

	assert.Empty(t, strings.TrimSpace(s.says("")), "an empty line asks for nothing")
	assert.Contains(t, s.says("known"), "Nothing has been read yet")
	assert.Contains(t, s.says("sheet"), "The build sheet is empty")
	assert.Contains(t, s.says("spent"), "0 minutes of work, no parts.")

	_, err := io.WriteString(s.keys, "inspect cups\n")
	require.NoError(t, err)
	answer := s.wait()
	assert.True(t, strings.HasSuffix(answer, "\n[inspect, 2 min] > "), "the minutes go on: %q", answer)

	assert.Contains(t, s.says("known"), "act 1, inspect cups")
	assert.Contains(t, s.says("spent"), "2 minutes of work")
	now := s.says("now")
	assert.Contains(t, now, "pinion out; case out")
	assert.Contains(t, now, "fit depth-shim LENGTH")
	assert.NotContains(t, now, "measure depth ", "what cannot be done yet is not offered")
	assert.NotContains(t, now, "sign off")
	help := s.says("help")
	for _, want := range []string{"torque", "sign", "known", "FILE.png", "units", "leave", "help acts"} {
		assert.Contains(t, help, want)
	}
	assert.Contains(t, plainWords(help), "lb-ft for the nut")
	help += s.says("help acts")
	for _, want := range []string{"sign off", "torque caps", "tighten nut to TORQUE", "fit pinion mock-up/final"} {
		assert.Contains(t, help, want)
	}
	fits := s.says("help Fit")
	assert.Contains(t, fits, "fit pinion mock-up/final")
	assert.NotContains(t, fits, "inspect cups")
	assert.Contains(t, plainWords(s.says("help weld")), `no act begins with "weld": acts begin with inspect, measure`)
	assert.NotContains(t, help, "TORQUE caps", "capitals are for what is filled in")
	assert.NotContains(t, now+help, "{")
	assert.Contains(t, s.says("card"), "Old depth shim")
	assert.Contains(t, s.says("CARD Pinion"), "Specification sheet BEECH: pinion", "letter case does not matter")
	assert.Contains(t, s.says("card case"), "Backlash")
	assert.Contains(t, s.says("card rates"), "Faults found in 100 axles")
	all := s.says("card all")
	for _, part := range []string{"Old depth shim", "Driving forward", "checking distance", "Backlash", "Faults found in 100 axles"} {
		assert.Contains(t, all, part)
	}
	assert.Contains(t, s.says("card back"), `no part called "back"`)

	assert.Contains(t, s.says("units metric"), "Units are now metric.")
	assert.Contains(t, s.says("card pinion"), "62.580 mm", "the specified checking distance")
	assert.Contains(t, s.says("help"), "millimeters or N·m")
	assert.Contains(t, s.says("fit depth-shim 0.762"), "depth shim 0.762 mm")
	assert.Contains(t, s.says("units furlongs"), "use inch or metric")
	assert.Contains(t, s.says("units"), "Units are metric. To change them, type: units inch")
	assert.Contains(t, s.says("units inch"), "Units are now inch.")
	assert.Contains(t, s.says("units"), "Units are inch. To change them, type: units metric")
	s.says("record backlash 0.0065")
	assert.Contains(t, s.says("sheet"), "backlash       0.0065 in")

	list := s.says("lesson")
	for _, lesson := range lessons.All() {
		assert.Contains(t, list, lesson.ID)
	}
	assert.NotContains(t, list, "On the bench", "a list is no lesson")
	assert.Contains(t, s.says("lesson crush-spacer"), "On the bench")
	assert.Contains(t, plainWords(s.says("lesson nosuch")), "; lesson alone lists them all")
	assert.Contains(t, s.says("picture pattern.png"), "there is no contact pattern to draw yet")
	assert.Contains(t, s.says("picture"), "ends in .png or .svg")
	assert.Contains(t, s.says("picture pattern.bmp"), "ends in .png or .svg")

	code, out, stderr := s.ends("leave")
	assert.Equal(t, exit.Done, code)
	assert.Contains(t, plainWords(out), "kept in "+path)
	assert.Contains(t, out, "To go on, type:\n  shimwright practice --record "+path+"\n")
	assert.Empty(t, stderr)
	assert.Equal(t, []string{"inspect cups", "fit depth-shim 0.762mm", "record backlash 0.0065in"}, actsIn(t, path), "words are not acts")
}

func TestSessionExplainsAndGoesOn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	s, _ := sit(t, "--seed", "7", "--record", path)
	for _, c := range []struct{ say, want string }{
		{"measure depth", "not now: the pinion is not in yet: fit depth-shim, then fit pinion"},
		{"fit case", "not now: no side shims are chosen"},
		{"sign off", "not now: the pinion is not in its final assembly"},
		{"fit depth-shim 0.045", "the nearest is 0.0400 in (1.016 mm)"},
		{"weld housing", `"weld" is not an act of this bench; acts begin with inspect, measure`},
		{"knwon", "type help for the other words"},
		{"measure", `after "measure" say one of: bearings, pinion-runout, depth-shim`},
		{"fit depth-shim", "the length is missing; write: fit depth-shim LENGTH"},
		{"fit pinion", "choose mock-up or final; write: fit pinion mock-up/final"},
		{"fit pinion half", `"half" is none of mock-up and final; write: fit pinion mock-up/final`},
		{"record", "write: record depth-shim / preload-shims / ring-gear-shim / opposite-shim / pinion-torque / total-torque / backlash / runout / pattern AMOUNT"},
		{"record backlash", "the amount is missing; write: record backlash AMOUNT"},
		{"record Pinion torque", "the amount is missing; write: record pinion-torque AMOUNT"},
		{"mount indicator heel", "choose square, along or tilted; write: mount indicator heel square/along/tilted pinion-held/pinion-free"},
		{"measure torque first pull", "choose wrench or string; write: measure torque breakaway wrench/string"},
		{"fit side-shims ring-gear 0.070", `"opposite" is missing; write: fit side-shims ring-gear LENGTH opposite LENGTH`},
		{"fit depth-shim 12 lb-ft", "is not a length (in, thou or mm)"},
		{"tighten nut", "the angle is missing; write: tighten nut ANGLE"},
		{strings.Repeat("inspect cups ", 30), "longer than"},
	} {
		answer := plainWords(s.says(c.say))
		assert.True(t, strings.HasPrefix(answer, "- "), "%s: %s", c.say, answer)
		assert.Contains(t, answer, c.want, c.say)
	}
	assert.NotEmpty(t, s.says("inspect cups"))
	code, out, stderr := s.ends("") // the terminal's end of input
	assert.Equal(t, exit.Done, code)
	assert.True(t, strings.HasPrefix(out, "\n"), "the last words do not stand behind the prompt: %q", out)
	assert.Contains(t, out, "To go on")
	assert.Empty(t, stderr)
	assert.Equal(t, []string{"inspect cups"}, actsIn(t, path))

	s, hello := sit(t, "--record", path)
	assert.Contains(t, hello, "Job 7 on BEECH, taken up again after 1 act\n")
	assert.True(t, strings.HasSuffix(hello, "[inspect, 2 min] > "))
	s.ends("quit")
}

// wholeBuild puts an axle of a family together, with the thinnest of every shim. Acts
// that have no place on it are among them.
func wholeBuild(fam family.Family) []act.Act {
	size := func(s family.Stock) string { return fmt.Sprintf("%.3fmm", s.LowMM) }
	var out []act.Act
	for _, line := range []string{"fit depth-shim " + size(fam.Sheet.DepthShims), "fit preload-shims " + size(fam.Design.Solid.PreloadShims), "fit pinion final",
		"fit side-shims ring-gear " + size(fam.Sheet.SideShims) + " opposite " + size(fam.Sheet.SideShims), "spread housing 0.2mm", "fit case",
		"turn ring-gear-adjuster in 2.5", "turn opposite-adjuster out 1", "torque caps", "mount indicator heel square pinion-held", "paint teeth thin"} {
		if a, err := act.Parse(line, quantity.Metric); err == nil {
			out = append(out, a)
		}
	}
	return out
}

// A small terminal window has 24 lines; the prompt and the empty line above it take two.
const screenLines, ownLines = 24, 2

// What a newcomer meets first fits one small screen, whatever the axle: nothing has gone
// off its top.
func TestFirstPagesFitASmallScreen(t *testing.T) {
	lines := func(text string) int { return strings.Count(text, "\n") }
	const oldGears = 45 // the number of a job whose gears go back in
	for _, fam := range longtest.Some(family.Shelf(), 2) {
		for seed, units := range map[uint64]string{7: "inch", 8: "metric", oldGears: "inch"} {
			t.Chdir(t.TempDir())
			s, hello := sit(t, "--family", fam.Code, "--seed", fmt.Sprint(seed), "--units", units)
			assert.LessOrEqual(t, lines(hello), screenLines-1, "the first page, to its prompt: %s", hello)
			assert.Equal(t, seed == oldGears, strings.Contains(hello, "the set ran at"), "%s: %s", fam.Code, hello)
			for _, want := range []string{"To begin, type inspect cups", "card axle/pinion/case/rates", "help", "leave"} {
				assert.Contains(t, hello, want)
			}
			for _, word := range []string{"now", "help", "card", "card axle", "card pinion", "card case", "card rates", "card trust", "help inspect", "help measure"} {
				assert.LessOrEqual(t, lines(s.says(word)), screenLines-ownLines, "%s, %s", fam.Code, word)
			}
			for _, line := range wholeBuild(fam) {
				if sim.NotOnThisAxle(fam.Design, line.Form).IsZero() {
					assert.NotContains(t, s.says(line.String()), "not now", "%s, %s", fam.Code, line)
				}
				assert.LessOrEqual(t, lines(s.says("now")), screenLines-ownLines, "%s: now, after %s", fam.Code, line)
			}
			s.ends("leave")
		}
	}
	for _, fam := range longtest.Some(family.Shelf(), 2) {
		for _, kind := range scenarios.Kinds()[1:] {
			t.Chdir(t.TempDir())
			s, hello := sit(t, "--family", fam.Code, "--kind", kind.String(), "--seed", fmt.Sprint(oldGears))
			assert.LessOrEqual(t, lines(hello), screenLines-1, "the first page, to its prompt: %s", hello)
			for _, word := range []string{"now", "card", "card before"} {
				if kind == scenarios.DepthJob && word == "card before" {
					continue
				}
				answer := s.says(word)
				assert.NotContains(t, answer, "no part called")
				assert.LessOrEqual(t, lines(answer), screenLines-ownLines, "%s %s, %s: %s", fam.Code, kind, word, answer)
			}
			s.ends("leave")
		}
	}
	for _, e := range longtest.Some(exercise.All(), 4) {
		numbers, err := firstJobs(e, len(e.Kinds)*len(e.Families))
		require.NoError(t, err)
		for _, n := range numbers {
			t.Chdir(t.TempDir())
			s, hello := sitDown(t, term.Streams{Width: 80}, "exercise", "start", e.Name, "--seed", fmt.Sprint(n))
			page, _, _ := strings.Cut(hello, "The coach does the first stage") // act by act, below it
			assert.LessOrEqual(t, lines(page), screenLines-1, "%s %d: %s", e.Name, n, page)
			assert.Contains(t, hello, "Exercise "+e.Name)
			s.ends("leave")
		}
	}
	var out bytes.Buffer
	require.Equal(t, exit.Done, Main(term.Streams{In: strings.NewReader(""), Out: &out, Err: io.Discard, Width: 80, Program: "go run ./cmd/shimwright"}, []string{}))
	assert.LessOrEqual(t, lines(out.String()), screenLines-1, "the program without arguments")
	for line := range strings.SplitSeq(out.String(), "\n") {
		assert.LessOrEqual(t, len(line), 80, line)
	}
	assert.Contains(t, plainWords(out.String()), "New here? Watch a job with demo")
}

// The size the shelf gave is told when another was typed, in both units when it was
// typed in the other.
func TestSessionTellsWhichShimWasTaken(t *testing.T) {
	s, _ := sit(t, "--seed", "7", "--record", filepath.Join(t.TempDir(), "job.jsonl"))
	assert.Contains(t, s.says("fit depth-shim 0.0312"), "The shelf has no 0.0312in; the nearest, 0.0310 in, is taken.")
	assert.Contains(t, s.says("fit depth-shim 0.76mm"), "The shelf has no 0.76mm; the nearest, 0.0300 in (0.762 mm), is taken.")
	assert.NotContains(t, s.says("fit depth-shim 31 thou"), "shelf")
	sides := s.says("fit side-shims ring-gear 0.0604 opposite 0.060")
	assert.Contains(t, sides, "The shelf has no 0.0604in; the nearest, 0.0600 in, is taken.")
	assert.Equal(t, 1, strings.Count(sides, "shelf"))
	s.ends("leave")
}

// An act that shows two readings is named once.
func TestKnownNamesAnActOnce(t *testing.T) {
	s, _ := sit(t, "--seed", "7", "--record", filepath.Join(t.TempDir(), "job.jsonl"))
	for _, line := range []string{"fit depth-shim 0.030", "fit pinion final", "tighten nut to 150"} {
		s.says(line)
	}
	known := s.says("known")
	assert.Contains(t, known, "nut turned")
	assert.Equal(t, 1, strings.Count(known, "act 3,"), known)
	s.ends("leave")
}

// What to type is what was typed, in a form that can be typed.
func TestSessionSaysHowItIsStarted(t *testing.T) {
	t.Chdir(t.TempDir())
	s, _ := sitAt(t, term.Streams{Width: 80, Program: "go run ./cmd/shimwright"}, "--seed", "7", "--record", "my job.jsonl")
	_, out, _ := s.ends("leave")
	assert.Contains(t, out, "\n  go run ./cmd/shimwright practice --record 'my job.jsonl'\n")

	var stdout, stderr bytes.Buffer
	streams := term.Streams{In: strings.NewReader(""), Out: &stdout, Err: &stderr, Width: 80, Program: "./shimwright"}
	assert.Equal(t, exit.Misused, Main(streams, []string{"grade"}))
	assert.Contains(t, stderr.String(), "write: ./shimwright grade FILE")
	assert.Equal(t, exit.Done, Main(streams, []string{"lesson", "--help"}))
	assert.Contains(t, stdout.String(), "  ./shimwright lesson crush-spacer\n")
}

func TestSessionToSignOff(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	s, _ := sitAt(t, term.Streams{Width: 80, Color: true}, "--seed", "7", "--record", path)
	for _, line := range []string{"fit depth-shim 0.030", "fit pinion final", "tighten nut to 300", "fit side-shims ring-gear 0.060 opposite 0.060", "fit case", "torque caps"} {
		assert.NotContains(t, s.says(line), "not now", line)
	}
	assert.Contains(t, s.says("sign off"), "Type sign off again to sign")
	code, out, stderr := s.ends("sign off")
	assert.Equal(t, exit.Done, code)
	assert.Contains(t, out, "What the axle really was")
	assert.Contains(t, out, "\x1b[1m", "headings stand out where color may be used")
	assert.Contains(t, plainWords(out), "kept in "+path)
	assert.NotContains(t, out, "To go on")
	assert.Empty(t, stderr)
}

func TestNoLineOfASessionIsTooWide(t *testing.T) {
	for _, width := range []int{40, 80, 100} {
		path := filepath.Join(t.TempDir(), "j") // short, and not wrapped wherever it stands
		s, _ := sitAt(t, term.Streams{Width: width}, "--seed", "7", "--record", path)
		for _, line := range []string{"help", "now", "help acts", "card", "card all", "known", "sheet", "spent", "lesson", "inspect cups", "fit depth-shim 0.0302", "fit pinion mock-up",
			"mount indicator heel square pinion-held", "mount indicator", "measure depth", "fit side-shims ring-gear 0.060 opposite 0.060", "fit case", "now",
			"torque caps", "mount indicator heel square pinion-held", "measure backlash 8", "paint teeth thin", "roll gears braked", "record backlash 0.0065", "known", "sheet", "now", "units", "lesson nosuch", "picture"} {
			for row := range strings.SplitSeq(s.says(line), "\n") {
				assert.LessOrEqual(t, len([]rune(row)), width, "%s at %d: %q", line, width, row)
			}
		}
		s.ends("leave")
	}
}

func TestSecondWriterIsNoticed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	a, _ := sit(t, "--seed", "7", "--record", path)
	assert.Contains(t, a.says("inspect cups"), "feeler")
	kept := actsIn(t, path)
	var stderr bytes.Buffer
	assert.Equal(t, exit.Failed, Main(term.Streams{In: strings.NewReader("inspect seal\n"), Out: io.Discard, Err: &stderr, Width: 80}, []string{"practice", "--record", path}))
	assert.Contains(t, stderr.String(), path+": another bench works on this attempt")
	assert.Equal(t, 1, strings.Count(stderr.String(), "\n"), "one line: %q", stderr.String())
	assert.Equal(t, kept, actsIn(t, path), "the late writer changed nothing")

	assert.NotEmpty(t, a.says("inspect seal"), "the first session goes on")
	a.ends("leave")
	assert.Equal(t, []string{"inspect cups", "inspect seal"}, actsIn(t, path))
}

func TestLineTooLongForAnAct(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.jsonl")
	var out, stderr bytes.Buffer
	code := Main(term.Streams{In: strings.NewReader("inspect cups\n" + strings.Repeat("x", 100_000) + "\n"), Out: &out, Err: &stderr, Width: 80},
		[]string{"practice", "--seed", "7", "--record", path})
	assert.Equal(t, exit.Failed, code)
	assert.Contains(t, stderr.String(), "line 2 is far too long for an act")
	assert.Equal(t, []string{"inspect cups"}, actsIn(t, path))
}

// fewer matches how many forms or jobs an example asks for.
var fewer = regexp.MustCompile(`(--forms|--jobs) [0-9]+`)

// The examples in the help are run as they stand there.
func TestExamplesRun(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("acts.txt", []byte("inspect cups\nfit depth-shim 0.030in\nfit pinion final\nfit side-shims ring-gear 0.070in opposite 0.070in\nfit case\nsign off\n"), 0o600))
	require.NoError(t, os.WriteFile("costs.yaml", cost.Text(cost.Default(), text.Printer{}), 0o600))
	require.NoError(t, os.WriteFile("pupils.csv", []byte("name\nAnn Lee\nBo Karlsen\n"), 0o600))
	commands := newRoot(term.Streams{}).Commands()
	dataHere(t)
	run := func(line string) {
		var out, stderr bytes.Buffer
		line, input, piped := strings.Cut(line, " < ")
		s := term.Streams{In: strings.NewReader(""), Out: &out, Err: &stderr, Width: 80, Person: !piped}
		if piped {
			f, err := os.Open(input)
			require.NoError(t, err)
			defer f.Close()
			s.In = f
		}
		var words []string
		for i, part := range strings.Split(line, `"`) { // every second one stood in quotes
			if i%2 == 1 {
				words = append(words, part)
			} else {
				words = append(words, strings.Fields(part)...)
			}
		}
		require.Equal(t, "shimwright", words[0], line)
		assert.Equal(t, exit.Done, Main(s, words[1:]), "%s: %s", line, stderr.String())
		assert.NotEmpty(t, out.String(), line)
		if words[1] != "forms" && !slices.Contains(words, "attempts") { // which tell a person how far they are
			assert.Empty(t, stderr.String(), line)
		}
	}
	// Practice first: it writes the file that the grade's examples read.
	for _, first := range []bool{true, false} {
		if !first {
			require.NoError(t, os.Mkdir("attempts", 0o700))
			data, err := os.ReadFile("shimwright-job-7.jsonl")
			require.NoError(t, err)
			require.NoError(t, os.WriteFile("attempts/one.jsonl", data, 0o600))
		}
		for _, c := range commands {
			if (c.Name() == "practice") != first || !c.Runnable() || c.Name() == "serve" || c.Name() == "site" { // serve runs until it is ended: TestTheFirstClass; site wants the source around it
				continue
			}
			assert.NotEmpty(t, c.Example, c.Name())
			for line := range strings.SplitSeq(c.Example, "\n") {
				if !longtest.On() { // forms measures every job it deals: the long run takes them as they are printed
					line = fewer.ReplaceAllString(line, "")
					if strings.Contains(line, "shimwright forms") {
						line += " --jobs 1 --forms 1"
						if !strings.Contains(line, "--kind") {
							line += " --kind depth"
						}
					}
				}
				run(strings.TrimSpace(line))
			}
		}
	}
}

func BenchmarkHelpInProcess(b *testing.B) {
	for b.Loop() {
		if code := Main(term.Streams{In: strings.NewReader(""), Out: io.Discard, Err: io.Discard, Width: 80}, []string{"--help"}); code != exit.Done {
			b.Fatal(code)
		}
	}
}
