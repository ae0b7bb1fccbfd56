package screen_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/screen"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

var update = flag.Bool("update", false, "write the screens as they are drawn now")

func press(key string) tea.KeyPressMsg {
	switch key {
	case "enter":
		return tea.KeyPressMsg{Code: tea.KeyEnter}
	case "esc":
		return tea.KeyPressMsg{Code: tea.KeyEscape}
	case "tab":
		return tea.KeyPressMsg{Code: tea.KeyTab}
	case "backspace":
		return tea.KeyPressMsg{Code: tea.KeyBackspace}
	}
	return tea.KeyPressMsg{Code: []rune(key)[0], Text: key}
}

// A typist presses keys at a model and counts them.
type typist struct {
	t     *testing.T
	m     *screen.Model
	keys  int
	words int // keys that typed a letter of an act
	quit  bool
}

func (p *typist) press(keys ...string) {
	for _, k := range keys {
		if p.m.Scene().Typing {
			p.words++
		}
		_, cmd := p.m.Update(press(k))
		if cmd != nil {
			_, p.quit = cmd().(tea.QuitMsg)
		}
		p.keys++
	}
}

// typed presses the keys of a text one by one.
func (p *typist) typed(s string) { p.press(strings.Split(s, "")...) }

func (p *typist) shown(w, h int) string { return screen.Draw(p.m.Scene(), w, h, false) }

func sit(t *testing.T, o scenarios.Order) (*typist, *bench.Bench) {
	t.Helper()
	return sitOn(t, attempt.Terms{}, o)
}

func sitOn(t *testing.T, terms attempt.Terms, o scenarios.Order) (*typist, *bench.Bench) {
	t.Helper()
	b, err := bench.Open(attempt.New(terms, o, "", 7, quantity.Inch))
	require.NoError(t, err)
	m := screen.New(b, text.NewPrinter(quantity.Inch, text.Overlay{}), false, screen.Texts{
		Card:    func(quantity.System, int) string { return "the card" },
		Closing: func(quantity.System, int) (string, error) { return "all that is told", nil },
	})
	return &typist{t: t, m: m}, b
}

func sound(code string) scenarios.Order {
	f, err := family.Shipped(code)
	if err != nil {
		panic(err)
	}
	return scenarios.Order{Family: f, Faults: scenarios.FaultRule{None: true}}
}

func lines(b *bench.Bench) []string {
	var out []string
	for _, o := range b.Shown() {
		out = append(out, o.Act.String())
	}
	return out
}

func TestKeysDoActs(t *testing.T) {
	p, b := sit(t, sound("BEECH"))
	p.press("1", "=")
	assert.Len(t, b.Shown(), 9)
	assert.Contains(t, p.shown(80, 24), "What was found")
	p.press("enter", "esc", "3", "1")
	p.typed("0.030")
	p.press("enter")
	assert.Equal(t, "fit depth-shim 0.03in", b.Shown()[9].Act.String())
	p.press("3", "2", "2")
	assert.Equal(t, "fit pinion final", b.Shown()[10].Act.String())
	p.press("4", "1", "enter")
	assert.Equal(t, "turn pinion 5turns", b.Shown()[11].Act.String(), "Enter takes the first size")
	p.press("4", "3", "a")
	assert.Contains(t, b.Shown()[12].Act.String(), "tighten nut to")
	n := len(b.Shown())
	p.press("5", "esc", "esc", "esc")
	assert.Len(t, b.Shown(), n)
}

// Typing an act, with completion, does it; a mistake says what would be right.
func TestTypedActs(t *testing.T) {
	p, b := sit(t, sound("BEECH"))
	p.press("/")
	p.typed("insp")
	p.press("tab")
	p.typed("cu")
	p.press("tab")
	p.typed("; inspect seal; weld it")
	p.press("enter")
	assert.Equal(t, []string{"inspect cups", "inspect seal"}, lines(b))
	p.m.Update(tea.PasteMsg{Content: "inspect cones\ninspect caps"})
	p.press("enter")
	assert.Equal(t, []string{"inspect cones", "inspect caps"}, lines(b)[2:])
	p.press("/")
	p.typed("measure depth")
	p.press("enter")
	assert.Len(t, b.Shown(), 4)
	assert.Contains(t, p.shown(80, 24), "measure depth: the pinion is not in yet")
}

func TestARoundIsOneKey(t *testing.T) {
	p, b := sit(t, sound("BEECH"))
	for _, line := range []string{"fit depth-shim 0.030", "fit pinion final", "tighten nut to 200", "turn pinion 5", "measure torque rotating wrench", "tighten nut 10", "turn pinion 5"} {
		p.press("/")
		p.typed(line)
		p.press("enter")
	}
	p.press("2")
	for _, k := range []string{"measure torque"} {
		p.press(keyOf(t, p, k))
	}
	p.press("1", "1")
	assert.Contains(t, p.shown(80, 24), "What do you expect to read?")
	p.press("enter")
	n := len(b.Shown())
	assert.Contains(t, p.shown(80, 24), "r again: tighten nut 10deg")
	p.press("r")
	assert.Equal(t, []string{"tighten nut 10deg", "turn pinion 5turns", "measure torque rotating wrench"}, lines(b)[n:])
}

// keyOf is the key of an entry that is shown with a label.
func keyOf(t *testing.T, p *typist, label string) string {
	t.Helper()
	key := p.m.KeyOf(label)
	require.NotEmpty(t, key, "%s in\n%s", label, p.shown(80, 24))
	return key
}

func TestSigningIsAskedForAndCloses(t *testing.T) {
	p, b := sit(t, sound("BEECH"))
	for _, line := range []string{"fit depth-shim 0.030; fit pinion final; tighten nut to 300", "fit side-shims ring-gear 0.060 opposite 0.060; fit case; torque caps", "sign off"} {
		p.press("/")
		p.typed(line)
		p.press("enter")
	}
	assert.Contains(t, p.shown(80, 24), "backlash was not read")
	p.press("esc")
	assert.False(t, b.Status().SignedOff)
	p.press("/")
	p.typed("sign off")
	p.press("enter", "enter")
	assert.True(t, b.Status().SignedOff)
	assert.Contains(t, p.shown(80, 24), "all that is told")
	assert.False(t, p.quit)
	p.press("q")
	assert.True(t, p.quit)
}

// The coach answers each decision on the screen, opens the reckoning, and takes back; from an
// example that has been shown a decision is three keys away.
func TestTheCoachOnTheScreen(t *testing.T) {
	p, b := sitOn(t, attempt.Terms{Help: attempt.CoachHelp}, sound("BEECH"))
	example, err := b.ShowStage()
	require.NoError(t, err)
	p.m.Example(example)
	assert.Contains(t, p.shown(80, 24), "Now it is your turn")
	p.press("enter")
	assert.Contains(t, p.shown(80, 24), "depth: The depth shim sets how deep the pinion stands")
	assert.Contains(t, p.shown(80, 24), "w why   b take back")
	p.press("b")
	assert.Contains(t, p.shown(80, 24), "nothing can be taken back here")
	p.press("w")
	assert.Contains(t, p.shown(80, 24), "There is no decision yet")
	p.press("3", "1", "a")
	require.Len(t, b.Shown(), len(example)+1)
	assert.Contains(t, p.shown(80, 24), "Cost so far")
	assert.Contains(t, p.shown(60, 20), "Cost so far")
	checkScreens(t, "coach", p)
	p.press("w")
	assert.Contains(t, p.shown(80, 24), "In the book: spent")
	p.press("esc", "b")
	assert.Len(t, b.Shown(), len(example))
	assert.Contains(t, p.shown(80, 24), "Back to before fit depth-shim")
	p.press("h", "h", "h")
	assert.Contains(t, p.shown(80, 24), "An experienced technician would do: test gauge")
}

// An examination shows the job and the paper, and marks nothing.
func TestAnExaminationGivesNoHelp(t *testing.T) {
	b, err := bench.Open(attempt.New(attempt.Terms{Mode: attempt.Exam, Help: attempt.NoHelp}, sound("BEECH"), "", 7, quantity.Inch))
	require.NoError(t, err)
	p := &typist{t: t, m: screen.New(b, text.NewPrinter(quantity.Inch, text.Overlay{}), false, screen.Texts{})}
	assert.Contains(t, p.shown(80, 24), "BEECH, job 7")
	p.press("1")
	assert.NotContains(t, p.shown(80, 24), "*")
	p.press("=", "esc", "n")
	assert.Empty(t, b.Shown())
	assert.Contains(t, p.shown(80, 24), "gives no such help")
	p.press("esc", "h")
	assert.Contains(t, p.shown(80, 24), "gives no such help")
}

// hand lets a technician work at a bench.
type hand struct{ *bench.Bench }

// jobOf lists the acts of a technician's whole job.
func jobOf(t *testing.T, o scenarios.Order) []act.Act {
	t.Helper()
	b, err := bench.Open(attempt.New(attempt.Terms{}, o, "", 7, quantity.Inch))
	require.NoError(t, err)
	require.NoError(t, technician.Work(hand{b}, b.Card().Known, technician.Competent()))
	var out []act.Act
	for _, o := range b.Shown() {
		out = append(out, o.Act)
	}
	return out
}

// do does an act by the keys that are shown for it.
func (p *typist) do(a act.Act) {
	p.t.Helper()
	c, ok := p.m.Scene().View.Choice(a.Form)
	require.True(p.t, ok, "%s", a)
	if p.m.Scene().Page != nil {
		p.press("enter")
	}
	if a.Form == act.SignOff {
		p.press("s", "enter")
		return
	}
	p.press(keyOf(p.t, p, p.m.Scene().Printer.Print(c.Group.Name())))
	p.press(p.m.KeyOfForm(a.Form))
	p.fill(a)
}

// fill gives what an act that has been chosen asks for, and skips the question that may come.
func (p *typist) fill(a act.Act) {
	p.t.Helper()
	c, _ := p.m.Scene().View.Choice(a.Form)
	for p.m.Scene().Menu.Pick {
		given := p.m.Scene().Menu.Act
		if len(a.Amounts) == 0 && len(a.Choices) > len(given.Choices)+1 && firsts(c.Slots[len(given.Choices):], a.Choices[len(given.Choices):]) {
			p.press("enter")
			continue
		}
		if len(a.Choices) > len(given.Choices) {
			p.press(keyOf(p.t, p, string(a.Choices[len(given.Choices)])))
			continue
		}
		e := a.Amounts[len(given.Amounts)]
		if key := p.m.KeyOf(e.String()); key != "" {
			p.press(key)
			continue
		}
		e = bare(e, p.m.Scene().Printer.Units())
		p.typed(strings.TrimPrefix(e.String(), "0"))
		p.press("enter")
	}
	for p.m.Scene().Asks != nil {
		p.press("enter")
	}
	if p.m.Scene().Page != nil {
		p.press("enter")
	}
}

// bare is an amount as short as it can be typed: in the unit that a number without one has.
func bare(e quantity.Entered, units quantity.System) quantity.Entered {
	switch e.Unit {
	case quantity.UnitTurn, quantity.UnitDegree:
		e.Unit = ""
	case quantity.UnitInch, quantity.UnitFootLb, quantity.UnitInchLb:
		if units == quantity.Inch {
			e.Unit = ""
		}
	case quantity.UnitMM, quantity.UnitNm:
		if units == quantity.Metric {
			e.Unit = ""
		}
	}
	return e
}

// firsts tells whether choices are the first of every slot.
func firsts(slots []bench.Slot, choices []act.Option) bool {
	for i, s := range slots {
		if s.Options[0] != choices[i] {
			return false
		}
	}
	return true
}

// A whole job by keys alone keeps the same file as the same acts typed in lines, and takes no
// more keys than a person would put up with.
func TestAWholeJobByKeys(t *testing.T) {
	for i, code := range longtest.Pick([]string{"BEECH", "ALDER", "HAZEL"}, []string{"BEECH", "ALDER", "HAZEL", "CEDAR", "DOGWOOD", "ELM"}) {
		order := sound(code)
		terms := attempt.Terms{Help: attempt.Helps()[i%2]} // with a coach, and without
		acts := jobOf(t, order)
		dir := t.TempDir()
		byKeys, byLines := filepath.Join(dir, "keys.jsonl"), filepath.Join(dir, "lines.jsonl")

		rec := attempt.New(terms, order, "", 7, quantity.Inch)
		file, err := store.Create(byKeys, rec)
		require.NoError(t, err)
		b, err := bench.Open(rec)
		require.NoError(t, err)
		b.Keep(file)
		p := &typist{t: t, m: screen.New(b, text.NewPrinter(quantity.Inch, text.Overlay{}), false, screen.Texts{
			Closing: func(quantity.System, int) (string, error) { return "", nil },
		})}
		p.follow(acts)
		require.NoError(t, file.Close())
		require.True(t, b.Status().SignedOff, code)

		var script strings.Builder
		for _, a := range acts {
			fmt.Fprintln(&script, a)
		}
		axle, err := job.Find(code, "whole", job.NoFaults, 7)
		require.NoError(t, err)
		require.NoError(t, practice.Run(practice.Sitting{Streams: term.Streams{In: strings.NewReader(script.String()), Out: &bytes.Buffer{}},
			Pen: view.NewPen(text.Printer{}, 80), Path: byLines, Seed: 7, Axle: axle, Order: order, Terms: terms}))
		one, err := os.ReadFile(byKeys)
		require.NoError(t, err)
		other, err := os.ReadFile(byLines)
		require.NoError(t, err)
		assert.Equal(t, string(other), string(one), code)
		t.Logf("%s: %d acts, %d keys", code, len(acts), p.keys)
	}
}

// follow does acts in their order, more than one with a key where they are a round.
func (p *typist) follow(acts []act.Act) {
	p.t.Helper()
	for len(acts) > 0 {
		acts = acts[p.ahead(acts):]
	}
}

// ahead does the next of some acts, or the most of them that one key does, and returns how
// many.
func (p *typist) ahead(acts []act.Act) int {
	p.t.Helper()
	v := p.m.Scene().View
	key, n := "", 1
	take := func(k string, round []act.Act) {
		if len(round) > n && len(round) <= len(acts) && fmt.Sprint(round) == fmt.Sprint(acts[:len(round)]) {
			key, n = k, len(round)
		}
	}
	for _, r := range v.Rounds {
		round := r.Acts
		if r.Asks && round[0].Form == acts[0].Form {
			round = append([]act.Act{acts[0]}, round[1:]...)
		}
		take(p.m.KeyOfRound(r.ID), round)
	}
	take("=", v.Write)
	if round := v.Repeat; len(round) > 0 && round[0].String() == acts[0].String() && n == 1 {
		n = 0
		take("r", round)
		n = max(n, 1)
	}
	if key == "" {
		p.do(acts[0])
		return 1
	}
	p.press(key)
	p.fill(acts[0])
	return n
}

// hinted lists the acts of somebody who makes all inspections of the beginning at once, and
// then goes by the hints; what is written is what was last read.
func hinted(t *testing.T, b *bench.Bench, units quantity.System) []act.Act {
	t.Helper()
	do := func(a act.Act) {
		_, err := b.Do(a)
		require.NoError(t, err, a)
	}
	for _, c := range b.View(units).In(bench.Inspecting) {
		if c.Left && c.Why == nil {
			do(act.Act{Form: c.Form})
		}
	}
	for !b.Status().SignedOff {
		next, ok := b.Hint()
		require.True(t, ok)
		if next.Form == act.RecordValue {
			for _, a := range b.View(units).Write {
				do(a)
			}
			continue
		}
		do(next)
	}
	var out []act.Act
	for _, o := range b.Shown() {
		out = append(out, o.Act)
	}
	return out
}

// A careful whole job on any design takes no more keys than a person puts up with, and no act
// needs a word to be typed.
func TestACarefulJobTakesFewKeys(t *testing.T) {
	const most = 120
	for code, units := range longtest.Pick(map[string]quantity.System{"BEECH": quantity.Inch},
		map[string]quantity.System{"BEECH": quantity.Inch, "ALDER": quantity.Metric, "CEDAR": quantity.Inch, "DOGWOOD": quantity.Inch, "ELM": quantity.Metric, "GORSE": quantity.Metric}) {
		order := sound(code)
		open := func() *bench.Bench {
			b, err := bench.Open(attempt.New(attempt.Terms{}, order, "", 7, units))
			require.NoError(t, err)
			return b
		}
		acts, b := hinted(t, open(), units), open()
		p := &typist{t: t, m: screen.New(b, text.NewPrinter(units, text.Overlay{}), false, screen.Texts{
			Closing: func(quantity.System, int) (string, error) { return "", nil },
		})}
		p.press("1", "=")
		p.follow(acts[len(b.Shown()):])
		d, err := b.Debrief(cost.Default(), units, false)
		require.NoError(t, err)
		assert.True(t, b.Status().SignedOff)
		assert.GreaterOrEqual(t, d.Report.Score, 85, "%s: that was careful work", code)
		assert.LessOrEqual(t, p.keys, most, "%s: %d acts", code, len(acts))
		assert.Zero(t, p.words, "a letter was typed into an act")
		t.Logf("%s: %d acts, %d keys, score %d", code, len(acts), p.keys, d.Report.Score)
	}
}

// Screens at the sizes people have, with color and without.
func TestScreens(t *testing.T) {
	moments := map[string][]string{
		"begin":   nil,
		"torque":  {"fit depth-shim 0.030; fit pinion final; tighten nut to 200; turn pinion 5; measure torque rotating wrench"},
		"pattern": {"fit depth-shim 0.030; fit pinion final; tighten nut to 200; turn pinion 5; measure torque rotating wrench; tighten nut 30", "fit side-shims ring-gear 0.070 opposite 0.070; fit case; torque caps; mount indicator heel square pinion-held; measure backlash 4; paint teeth thin; roll gears braked"},
	}
	for name, acts := range moments {
		p, _ := sit(t, sound("BEECH"))
		for _, line := range acts {
			p.press("/")
			p.typed(line)
			p.press("enter")
		}
		checkScreens(t, name, p)
	}
	p, _ := sit(t, sound("CEDAR"))
	p.press("/")
	p.typed("fit depth-shim 0.036in; fit preload-shims 0.060in; fit pinion final")
	p.press("enter", "4")
	checkScreens(t, "solid", p)
}

func checkScreens(t *testing.T, name string, p *typist) {
	t.Helper()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {140, 45}} {
		for _, color := range []bool{false, true} {
			got := screen.Draw(p.m.Scene(), size[0], size[1], color)
			rows := strings.Split(got, "\n")
			assert.Len(t, rows, size[1])
			for _, r := range rows {
				assert.LessOrEqual(t, ansi.StringWidth(r), size[0], r)
			}
			assert.Equal(t, color, strings.Contains(got, "\x1b"), "escapes only with color")
			file := filepath.Join("testdata", fmt.Sprintf("%s-%dx%d.txt", name, size[0], size[1]))
			if color && name != "pattern" { // which has finer steps in color
				assert.Equal(t, screen.Draw(p.m.Scene(), size[0], size[1], false), ansi.Strip(got))
				continue
			}
			if color {
				file = strings.TrimSuffix(file, ".txt") + "-color.txt"
			}
			if *update {
				require.NoError(t, os.MkdirAll("testdata", 0o755))
				require.NoError(t, os.WriteFile(file, []byte(got+"\n"), 0o600))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got+"\n", "%s; run with -update if it is meant", file)
		}
	}
}

// No size and no key breaks a screen.
func TestEverySizeIsDrawn(t *testing.T) {
	p, _ := sit(t, sound("CEDAR"))
	for _, k := range []string{"1", "1", "esc", "2", "esc", "5", "+", "esc", "n", "esc", "c", "esc", "?", "esc", "h", "h", "h", "u", "7"} {
		p.press(k)
		for _, w := range []int{1, 30, 60, 75, 76, 80, 200} {
			for _, h := range []int{1, 10, 20, 24, 41, 42, 60} {
				p.m.Update(tea.WindowSizeMsg{Width: w, Height: h})
				assert.Len(t, strings.Split(p.m.View().Content, "\n"), h, "%d x %d", w, h)
			}
		}
		p.m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	}
}

// From a key to the screen drawn anew, over a coached job with a new contact pattern for each
// of some pairs of side shims: the median, the 95th percentile and the slowest key.
func BenchmarkKeyToScreen(b *testing.B) {
	var took []time.Duration
	for b.Loop() {
		bb, err := bench.Open(attempt.New(attempt.Terms{Help: attempt.CoachHelp}, sound("BEECH"), "", 7, quantity.Inch))
		require.NoError(b, err)
		m := screen.New(bb, text.NewPrinter(quantity.Inch, text.Overlay{}), true, screen.Texts{})
		m.Update(tea.WindowSizeMsg{Width: 140, Height: 45})
		key := func(keys ...string) {
			for _, k := range keys {
				began := time.Now()
				m.Update(press(k))
				_ = m.View()
				took = append(took, time.Since(began))
			}
		}
		key("1", "=", "enter", "3", "1", "i", "3", "2", "2", "4", "3", "a", "t", "c", "v")
		patterns := 0
		for _, pair := range []string{"hh", "hi", "ih", "gi", "ig", "jj"} {
			for _, k := range []string{"d", pair[:1], pair[1:], "l", "p"} {
				for key(k); m.Scene().Asks != nil; {
					key("enter")
				}
			}
			if o, ok := bb.LastPattern(); ok && o.After.Acts > patterns {
				patterns = o.After.Acts
			}
			if key("6"); m.KeyOfForm(act.RemoveCase) != "" {
				key(m.KeyOfForm(act.RemoveCase))
			}
		}
		require.Positive(b, patterns)
	}
	slices.Sort(took)
	ms := func(share float64) float64 {
		return float64(took[int(share*float64(len(took)-1))].Microseconds()) / 1000
	}
	b.ReportMetric(ms(0.5), "ms-median")
	b.ReportMetric(ms(0.95), "ms-p95")
	b.ReportMetric(ms(1), "ms-slowest")
}
