package screen_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
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
	t    *testing.T
	m    *screen.Model
	keys int
	quit bool
}

func (p *typist) press(keys ...string) {
	for _, k := range keys {
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
	b, err := bench.Open(attempt.New(attempt.Terms{}, o, "", 7, quantity.Inch))
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
	assert.Contains(t, p.shown(80, 24), "r: tighten nut 10deg")
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
	v := p.m.Scene().View
	c, ok := v.Choice(a.Form)
	require.True(p.t, ok, "%s", a)
	if menu := p.m.Scene().Menu; menu.Open && menu.Group != c.Group {
		p.press("esc")
	}
	if !p.m.Scene().Menu.Open {
		p.press(keyOf(p.t, p, p.m.Scene().Printer.Print(c.Group.Name())))
	}
	p.press(p.m.KeyOfForm(a.Form))
	choices, amounts := a.Choices, a.Amounts
	for range c.Slots {
		if p.m.Scene().Asks != nil || !p.m.Scene().Menu.Pick {
			break
		}
		if given := p.m.Scene().Menu.Act; len(amounts) == 0 && len(choices) > len(given.Choices)+1 && firsts(c.Slots[len(given.Choices):], choices[len(given.Choices):]) {
			p.press("enter")
			continue
		}
		if len(choices) > len(p.m.Scene().Menu.Act.Choices) {
			p.press(keyOf(p.t, p, string(choices[len(p.m.Scene().Menu.Act.Choices)])))
			continue
		}
		e := amounts[len(p.m.Scene().Menu.Act.Amounts)]
		if key := p.m.KeyOf(e.String()); key != "" {
			p.press(key)
			continue
		}
		p.typed(strings.TrimPrefix(e.String(), "0"))
		p.press("enter")
	}
	for p.m.Scene().Asks != nil {
		p.press("enter")
	}
	if a.Form == act.SignOff {
		p.press("enter")
	}
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
	for _, code := range []string{"BEECH", "ALDER", "HAZEL"} {
		order := sound(code)
		acts := jobOf(t, order)
		dir := t.TempDir()
		byKeys, byLines := filepath.Join(dir, "keys.jsonl"), filepath.Join(dir, "lines.jsonl")

		rec := attempt.New(attempt.Terms{}, order, "", 7, quantity.Inch)
		file, err := store.Create(byKeys, rec)
		require.NoError(t, err)
		b, err := bench.Open(rec)
		require.NoError(t, err)
		b.Keep(file)
		p := &typist{t: t, m: screen.New(b, text.NewPrinter(quantity.Inch, text.Overlay{}), false, screen.Texts{
			Closing: func(quantity.System, int) (string, error) { return "", nil },
		})}
		for i := 0; i < len(acts); i++ {
			if round := b.Repeat(); len(round) > 0 && i+len(round) <= len(acts) && fmt.Sprint(round) == fmt.Sprint(acts[i:i+len(round)]) {
				if p.m.Scene().Menu.Open {
					p.press("esc")
				}
				p.press("r")
				i += len(round) - 1
				continue
			}
			p.do(acts[i])
		}
		require.NoError(t, file.Close())
		require.True(t, b.Status().SignedOff, code)

		var script strings.Builder
		for _, a := range acts {
			fmt.Fprintln(&script, a)
		}
		axle, err := job.Find(code, "whole", job.NoFaults, 7)
		require.NoError(t, err)
		require.NoError(t, practice.Run(practice.Sitting{Streams: term.Streams{In: strings.NewReader(script.String()), Out: &bytes.Buffer{}},
			Pen: view.NewPen(quantity.Inch, 80), Path: byLines, Seed: 7, Axle: axle, Order: order}))
		one, err := os.ReadFile(byKeys)
		require.NoError(t, err)
		other, err := os.ReadFile(byLines)
		require.NoError(t, err)
		assert.Equal(t, string(other), string(one), code)
		t.Logf("%s: %d acts, %d keys", code, len(acts), p.keys)
	}
}

// A careful person who goes the technician's way, makes all inspections with one key and
// writes down what was read with another, needs no more than some keys an act.
func TestACarefulJobTakesFewKeys(t *testing.T) {
	const most = 215
	for code, units := range map[string]quantity.System{"BEECH": quantity.Inch, "ALDER": quantity.Metric, "DOGWOOD": quantity.Inch} {
		order := sound(code)
		b, err := bench.Open(attempt.New(attempt.Terms{}, order, "", 7, units))
		require.NoError(t, err)
		p := &typist{t: t, m: screen.New(b, text.NewPrinter(units, text.Overlay{}), false, screen.Texts{
			Closing: func(quantity.System, int) (string, error) { return "", nil },
		})}
		p.press("1", "=", "enter", "esc")
		const patience = 200
		for range patience {
			next, ok := b.Hint()
			if !ok {
				break
			}
			round := b.Repeat()
			switch {
			case len(round) > 0 && round[0].String() == next.String():
				if p.m.Scene().Menu.Open {
					p.press("esc")
				}
				p.press("r")
			case next.Form == act.RecordValue:
				p.press("7", "=")
			default:
				p.do(next)
			}
		}
		assert.True(t, b.Status().SignedOff, "%s", lines(b))
		assert.LessOrEqual(t, p.keys, most, "%s: %d acts", code, len(b.Shown()))
		t.Logf("%s: %d acts, %d keys", code, len(b.Shown()), p.keys)
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
			for _, h := range []int{1, 10, 20, 24, 33, 34, 60} {
				p.m.Update(tea.WindowSizeMsg{Width: w, Height: h})
				assert.Len(t, strings.Split(p.m.View().Content, "\n"), h, "%d x %d", w, h)
			}
		}
		p.m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	}
}

func BenchmarkKeyToScreen(b *testing.B) {
	bb, err := bench.Open(attempt.New(attempt.Terms{}, sound("BEECH"), "", 7, quantity.Inch))
	if err != nil {
		b.Fatal(err)
	}
	m := screen.New(bb, text.NewPrinter(quantity.Inch, text.Overlay{}), true, screen.Texts{})
	m.Update(tea.WindowSizeMsg{Width: 140, Height: 45})
	for _, k := range strings.Split("/fit depth-shim 0.030; fit pinion final; tighten nut to 200; fit side-shims ring-gear 0.070 opposite 0.070; fit case; torque caps; paint teeth thin; roll gears braked", "") {
		m.Update(press(k))
	}
	m.Update(press("enter"))
	for b.Loop() {
		m.Update(press("/"))
		for _, k := range strings.Split("roll gears braked", "") {
			m.Update(press(k))
		}
		m.Update(press("enter"))
		_ = m.View()
	}
}
