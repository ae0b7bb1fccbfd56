package cli

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Whatever the number, the axle and the part of the job, a demonstration makes one wrong turn
// that costs something, says so, and fits a page where it is not printed whole.
func TestEveryDemonstrationGoesWrongOnce(t *testing.T) {
	type one struct {
		family, kind, faults string
		seed                 uint64
	}
	all := []one{{"BEECH", "whole", job.UsualFaults, 1}, {"CEDAR", "whole", job.UsualFaults, 2}, {"DOGWOOD", "whole", job.UsualFaults, 3}, {"BEECH", "depth", job.NoFaults, 4}}
	if longtest.On() {
		for _, f := range family.Shelf() {
			for seed := range uint64(2) {
				all = append(all, one{f.Code, "whole", job.UsualFaults, seed})
			}
		}
		for _, k := range scenarios.Kinds() {
			for seed := range uint64(4) {
				all = append(all, one{"BEECH", k.String(), job.UsualFaults, 20 + seed})
			}
		}
	}
	turned := map[string]int{}
	for _, x := range all {
		a, err := job.Find(x.family, x.kind, x.faults, x.seed)
		require.NoError(t, err)
		d, err := demonstrate(a, x.seed, quantity.Inch)
		require.NoError(t, err, x)
		require.Positive(t, d.wrong, x)
		assert.GreaterOrEqual(t, d.price().Lost(), leastPrice, x)
		assert.False(t, d.why.IsZero(), "it is said that this is the wrong turn: %v", x)
		assert.True(t, d.Status().SignedOff, x)
		turned[d.why.Code()]++

		var out bytes.Buffer
		require.NoError(t, runDemo(term.Streams{Out: &out, Width: 80}, a, x.seed, demoForm{}, view.NewPen(text.Printer{}, 80)))
		lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
		assert.LessOrEqual(t, len(lines), mostShort, "%v\n%s", x, out.String())
		for _, l := range lines {
			assert.LessOrEqual(t, len([]rune(l)), 80, l)
		}
		for _, want := range []string{"The wrong turn", "Cost ", "Debrief: ", "demo --full"} {
			assert.Contains(t, out.String(), want, x)
		}
	}
	t.Log(turned)
}

// On the whole screen it plays by itself and by keys.
func TestTheReel(t *testing.T) {
	a, err := job.Find("BEECH", "depth", job.NoFaults, 4)
	require.NoError(t, err)
	k := &keysOn{keys: []string{"space", "space", "b", "x", "q"}}
	require.NoError(t, runDemo(term.Streams{Out: &bytes.Buffer{}, Moves: true, Width: 80}, a, 4, demoForm{play: k.play}, view.NewPen(text.Printer{}, 80)))
	require.Len(t, k.screens, 5)
	assert.NotEqual(t, k.screens[0], k.screens[1])
	assert.Equal(t, k.screens[1], k.screens[3], "b goes back")
	assert.Equal(t, k.screens[3], k.screens[4])
	assert.Contains(t, k.screens[0], "Space goes on   b goes back   q leaves   1 of ")
	k = &keysOn{keys: strings.Split(strings.Repeat("space ", 60)+"q", " ")}
	require.NoError(t, runDemo(term.Streams{Out: &bytes.Buffer{}, Moves: true, Width: 80}, a, 4, demoForm{play: k.play}, view.NewPen(text.Printer{}, 80)))
	whole := strings.Join(k.screens, "\n")
	assert.Contains(t, whole, "What came of it")
	assert.Contains(t, whole, "Debrief: ")
	assert.Contains(t, whole, "with the wrong sign here, to show what that does")
	assert.Contains(t, whole, "Cheaper here")
}
