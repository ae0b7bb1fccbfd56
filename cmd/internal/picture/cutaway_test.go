package picture

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What is in is told from what is out, and every design is drawn with its own parts.
func TestCutaway(t *testing.T) {
	a := Axle{DepthShim: "0.030", PreloadShims: "0.060", Opposite: "0.072", RingGearSide: "0.074", Thicker: "deeper", Far: "far", GearSide: "near", Depth: "depth"}
	draw := func(a Axle) string {
		return Cutaway(a, CutawayWide, CutawayHigh).String(false)
	}
	bare := draw(a)
	for _, part := range []string{"o", "█", "▬", "║", "~"} {
		assert.NotContains(t, strings.ReplaceAll(bare, "opposite", ""), part, "nothing is in: %s", bare)
	}
	assert.Contains(t, bare, "far 0.072")
	assert.Contains(t, bare, "depth 0.030")
	a.PinionIn, a.Final = true, true
	final := draw(a)
	assert.Contains(t, final, "~", "a collapsible spacer")
	assert.Contains(t, final, "¦", "the seal")
	a.Final = false
	assert.NotContains(t, draw(a), "~", "a mock-up has no spacer")
	a.Final, a.Solid, a.CaseIn = true, true, true
	solid := draw(a)
	assert.Contains(t, solid, "=")
	assert.Contains(t, solid, "▬▬▬")
	assert.Contains(t, solid, "(o", "caps that are only snug")
	a.CapsTight = true
	assert.Contains(t, draw(a), "[o")
	a.Adjusters = true
	assert.Contains(t, draw(a), "###")
	places := map[string]bool{}
	for _, place := range []ShimPlace{UnderCone, BehindCup, UnderCage} {
		a.Shim = place
		places[draw(a)] = true
	}
	assert.Len(t, places, 3, "the depth shim is drawn where it lies")
	for _, row := range strings.Split(Cutaway(a, 70, 20).String(false), "\n") {
		assert.LessOrEqual(t, len([]rune(row)), 70)
	}
}

func TestScale(t *testing.T) {
	s := NewScale(20, 30, 8, 10)
	assert.GreaterOrEqual(t, s.End, 30.0)
	assert.InDelta(t, 0, s.End/s.Step-float64(int(s.End/s.Step+0.5)), 1e-9, "the scale ends at a figure")
	rows := strings.Split(s.Draw(41).String(false), "\n")
	at := []rune(rows[2])
	pointer := strings.IndexRune(string(at), '▲')
	assert.Greater(t, pointer, -1)
	band := strings.IndexRune(rows[1], '▒')
	assert.Less(t, len([]rune(rows[2][:pointer])), len([]rune(rows[1][:band])), "a reading below the specification stands left of it")
	for _, end := range []float64{0, 0.003, 1, 700} {
		assert.Positive(t, NewScale(0, end, 0, end).Step)
	}
}

func TestDial(t *testing.T) {
	marks := [4]string{"0", "5", "10", "15"}
	faces := map[string]bool{}
	for _, v := range []float64{0, 2.5, 5, 7.5, 10, 12.5, 15, 17.5} {
		faces[Dial(v, 20, marks, DialWide, DialHigh).String(false)] = true
	}
	assert.Len(t, faces, 8, "the needle turns")
	for _, m := range marks {
		assert.Contains(t, Dial(3, 20, marks, DialWide, DialHigh).String(false), m)
	}
	assert.Equal(t, Dial(3, 20, marks, 17, 5).String(false), Dial(23, 20, marks, 17, 5).String(false), "one turn on it stands where it stood")
}

func TestBand(t *testing.T) {
	c := Band(pair(), []string{"drive", "coast"}, 40, 5, false)
	plain := c.String(false)
	assert.Contains(t, plain, "drive")
	assert.Equal(t, 2, strings.Count(plain, "+"), "both centers: %s", plain)
	assert.NotContains(t, plain, "\x1b")
	assert.Contains(t, Band(pair(), nil, 40, 5, true).String(true), "\x1b")
	assert.Empty(t, strings.TrimSpace(Band(nil, nil, 40, 5, false).String(false)))
}

// A wide glyph takes its two columns, and nothing is drawn outside.
func TestCanvas(t *testing.T) {
	c := NewCanvas(5, 1)
	assert.Equal(t, 4, c.Text(0, 0, "歯車", Bare))
	c.Text(4, 0, "歯", Bare)
	c.Text(-1, 3, "x", Bare)
	assert.Equal(t, "歯車", strings.TrimRight(c.String(false), " "))
}
