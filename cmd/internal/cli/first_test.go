package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/screen"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/peopletest"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// run runs a command with lines typed into it, and returns what it wrote.
func run(t *testing.T, typed string, words ...string) (out, stderr string, code int) {
	t.Helper()
	var o, e bytes.Buffer
	code = Main(term.Streams{In: strings.NewReader(typed), Out: &o, Err: &e, Width: 80}, words)
	return o.String(), e.String(), code
}

func TestAgainDealsTheSamePosition(t *testing.T) {
	data := filepath.Join(t.TempDir(), "data")
	out, _, code := run(t, "inspect cups\nmeasure bearings\n", "practice", "--data", data, "--kind", "depth", "--seed", "7")
	require.Equal(t, exit.Done, code, out)
	one := filepath.Join(data, "shimwright-depth-7.jsonl")
	first := actsIn(t, one)
	require.Len(t, first, 2)

	out, _, code = run(t, "inspect cups\n", "practice", "--data", data)
	require.Equal(t, exit.Done, code)
	assert.Contains(t, out, "taken up again after 2 acts", "practice alone goes on with the open job")
	assert.Len(t, actsIn(t, one), 3)

	_, stderr, code := run(t, "inspect cups\nmeasure bearings\n", "practice", "again", "--data", data)
	require.Equal(t, exit.Done, code, stderr)
	two := filepath.Join(data, "shimwright-depth-7-2.jsonl")
	a, err := os.ReadFile(one)
	require.NoError(t, err)
	b, err := os.ReadFile(two)
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(a, b), "the same job and acts read the same, byte for byte")

	out, _, code = run(t, "", "practice", "history", "--data", data)
	require.Equal(t, exit.Done, code)
	assert.Contains(t, out, "2 attempts in")
	assert.Contains(t, plainWords(out), "shimwright-depth-7.jsonl: BEECH, the depth shim, job 7, 3 acts, open")
	assert.Less(t, strings.Index(out, "-7-2.jsonl"), strings.Index(out, "-7.jsonl"), "the last worked comes first")

	_, stderr, code = run(t, "fit depth-shim 0.030\nfit pinion mock-up\nmeasure depth\nremove pinion\nrecord depth-shim 0.030\nsign off\n", "practice", "--record", two)
	require.Equal(t, exit.Done, code, stderr)
	out, _, code = run(t, "", "practice", "history", "--data", data)
	require.Equal(t, exit.Done, code)
	assert.Regexp(t, `-7-2\.jsonl: BEECH, the depth shim, job 7, 8 acts, \d+ out of 100`, plainWords(out))
	assert.Contains(t, plainWords(out), "job 7, 3 acts, open")

	_, stderr, code = run(t, "", "practice", "again", "--data", filepath.Join(data, "none"))
	assert.Equal(t, exit.Misused, code)
	assert.Contains(t, stderr, "there is no attempt in")
}

func TestTheFirstScreen(t *testing.T) {
	var out strings.Builder
	f := &first{s: term.Streams{Out: &out, Person: true, Width: 80}, p: view.NewPen(text.Printer{}, 80), folder: t.TempDir()}
	f.show()
	assert.LessOrEqual(t, strings.Count(out.String(), "\n"), 10)
	for _, want := range []string{"1  watch", "2  a first job", "3  a whole job", "4  lessons", "5  drills", "6  exercises"} {
		assert.Contains(t, out.String(), want)
	}
	done, err := f.Take("7", 1)
	require.NoError(t, err)
	assert.False(t, done)
	done, err = f.Take("q", 2)
	require.NoError(t, err)
	assert.True(t, done)
	assert.Nil(t, f.then)
	done, err = f.Take("4", 3)
	require.NoError(t, err)
	assert.True(t, done)
	require.NoError(t, f.then())
	assert.Contains(t, out.String(), "crush-spacer")
}

// keysOn is a terminal at which some keys are pressed, one after another, across all screens
// that are shown. It counts them until the coach has said something of a decision.
type keysOn struct {
	keys    []string
	pressed int
	told    int // keys pressed when the coach first spoke; 0: not yet
	screens []string
}

func (k *keysOn) play(m tea.Model, _ term.Streams) error {
	m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	for {
		k.screens = append(k.screens, m.View().Content)
		if b, ok := m.(*screen.Model); ok && k.told == 0 && len(b.Scene().Words) > 0 {
			k.told = k.pressed
		}
		if k.pressed == len(k.keys) {
			return nil
		}
		key := k.keys[k.pressed]
		k.pressed++
		press := tea.KeyPressMsg{Code: []rune(key)[0], Text: key}
		if key == "space" {
			press = tea.KeyPressMsg{Code: tea.KeySpace, Text: " "}
		}
		if key == "enter" {
			press = tea.KeyPressMsg{Code: tea.KeyEnter}
		}
		if _, cmd := m.Update(press); cmd != nil && quits(cmd) {
			return nil
		}
	}
}

// quits tells whether a command ends a program; one that waits does not.
func quits(cmd tea.Cmd) bool {
	said := make(chan tea.Msg, 1)
	go func() { said <- cmd() }()
	select {
	case msg := <-said:
		_, quit := msg.(tea.QuitMsg)
		return quit
	case <-time.After(20 * time.Millisecond):
		return false
	}
}

// From the program's name to what the coach says of a first decision it is five keys: a first
// job, the example read, fit, depth shim, and a size.
func TestTheFirstCoachedDecision(t *testing.T) {
	sit := func(folder string, keys ...string) *keysOn {
		var out strings.Builder
		k := &keysOn{keys: keys}
		f := &first{s: term.Streams{Out: &out, Person: true, Moves: true, Width: 80}, p: view.NewPen(text.Printer{}, 80), folder: folder, play: k.play}
		require.NoError(t, f.run())
		return k
	}
	folder := t.TempDir()
	k := sit(folder, "2", "enter", "3", "1", "g")
	const most = 5
	assert.Positive(t, k.told, strings.Join(k.screens, "\n\n"))
	assert.LessOrEqual(t, k.told, most)
	assert.Contains(t, k.screens[0], "2  a first job with a coach")
	assert.Contains(t, k.screens[1], "Now it is your turn")
	assert.Contains(t, k.screens[len(k.screens)-1], "Cost so far")
	all, err := store.KeptIn(folder)
	require.NoError(t, err)
	require.Len(t, all, 1)
	assert.Equal(t, attempt.CoachHelp, all[0].Record.Header.Help)
	// Whoever's last jobs were sound is shown no example, is told why, and is as near.
	sound := t.TempDir()
	for seed := uint64(1); seed <= 2; seed++ {
		finished(t, sound, seed)
	}
	k = sit(sound, "2", "3", "1", "g")
	assert.Contains(t, k.screens[1], "The coach speaks when it is asked")
	assert.NotContains(t, k.screens[1], "it is your turn")
	assert.NotContains(t, k.screens[len(k.screens)-1], "Cost so far")
}

// finished puts a job that the reference technician signed off into a folder.
func finished(t *testing.T, folder string, seed uint64) {
	t.Helper()
	o := scenarios.Order{Family: family.Beech()}
	j, err := o.Generate(seed)
	require.NoError(t, err)
	r, err := peopletest.TheReference().Play(j)
	require.NoError(t, err)
	rec := attempt.New(attempt.Terms{}, o, "", seed, quantity.Inch)
	for _, s := range r.Steps {
		rec.Add(s)
	}
	whole, err := rec.Bytes()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(folder, fmt.Sprintf("%d.jsonl", seed)), whole, 0o600))
}
