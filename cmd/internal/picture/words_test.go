package picture

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/sim/gauge"
)

// place makes a pattern that is known by its numbers alone.
func place(s, t, length, height float64) gauge.ToothPattern {
	return gauge.ToothPattern{Flank: "drive", CenterS: s, CenterT: t, LengthPart: length, HeightPart: height, AreaPart: length * height / 2}
}

// High, low, toe and heel as the trade uses them: common practice, no source.
func TestWordsForPlaces(t *testing.T) {
	for _, c := range []struct {
		s, t float64
		want string
	}{
		{0.50, 0.50, "centered root to top and toe to heel"},
		{0.45, 0.50, "centered root to top, a little toward the toe"},
		{0.53, 0.47, "centered root to top and toe to heel"},
		{0.54, 0.50, "centered root to top, a little toward the heel"},
		{0.50, 0.56, "a little toward the top, centered toe to heel"},
		{0.50, 0.44, "a little toward the root, centered toe to heel"},
		{0.38, 0.62, "a little toward the top, and a little toward the toe"},
		{0.37, 0.63, "toward the top (face contact), and toward the toe"},
		{0.75, 0.25, "toward the root (flank contact), and toward the heel"},
		{0.76, 0.24, "at the root, and at the heel"},
		{0.10, 0.90, "at the top, and at the toe"},
		{-3, 7, "at the top, and at the toe"},
	} {
		assert.Equal(t, "Drive: "+c.want+"; covers about half the length and half the height. "+notKept,
			Words(place(c.s, c.t, 0.5, 0.5)), "s %v t %v", c.s, c.t)
	}
}

func TestWordsForSizes(t *testing.T) {
	for _, c := range []struct {
		length, height float64
		want           string
	}{
		{0.03, 0.10, "a sliver of the length and a tenth of the height"},
		{0.20, 0.25, "about a fifth of the length and a quarter of the height"},
		{0.33, 0.50, "about a third of the length and half the height"},
		{0.67, 0.75, "about two thirds of the length and three quarters of the height"},
		{0.90, 1.00, "nearly all the length and all the height"},
		{0.50, 0, "about half the length"},
	} {
		assert.Contains(t, Words(place(0.5, 0.5, c.length, c.height)), "; covers "+c.want+".")
	}
}

func TestInkThatDoesNotFitIsNotRead(t *testing.T) {
	p := place(0.5, 0.5, 0.5, 0.5)
	p.Cols, p.Rows = 2, 2
	p.Ink = []float64{1, 1, 1, 1}
	assert.NotContains(t, Words(p), notKept)
	p.Ink = append(p.Ink, 1)
	assert.Contains(t, Words(p), notKept)
}

func TestWordsGrid(t *testing.T) {
	var b strings.Builder
	for _, up := range []float64{0.85, 0.70, 0.58, 0.5, 0.42, 0.30, 0.15} {
		for _, s := range []float64{0.15, 0.30, 0.42, 0.5, 0.58, 0.70, 0.85} {
			fmt.Fprintf(&b, "s %.2f t %.2f  %s\n", s, up, Words(ellipse("coast", s, up, 0.45, 0.5)))
		}
	}
	golden(t, "words-grid.txt", b.String())
}

func TestWordsForEdges(t *testing.T) {
	assert.NotContains(t, Words(ellipse("drive", 0.5, 0.5, 0.5, 0.5)), "reaches")
	assert.Contains(t, Words(ellipse("drive", 0.1, 0.5, 0.5, 0.5)), "; reaches the toe end.")
	assert.Contains(t, Words(ellipse("drive", 0.9, 0.5, 0.5, 0.5)), "; reaches the heel end.")
	assert.Contains(t, Words(ellipse("drive", 0.5, 0.1, 0.5, 0.5)), "; reaches the root.")
	assert.Contains(t, Words(ellipse("drive", 0.5, 0.9, 0.5, 0.5)), "; reaches the top edge.")
	assert.Contains(t, Words(ellipse("drive", 0.5, 0.5, 3, 3)), "; reaches the toe end, the heel end, the root and the top edge.")

	grain := ellipse("drive", 0.5, 0.5, 0.5, 0.5)
	grain.Ink[0] = 1
	assert.NotContains(t, Words(grain), "reaches", "one speck at the edge is not a print that reaches it")
}

func TestWordsWithoutAPattern(t *testing.T) {
	const want = "Coast: no pattern; the compound was not touched."
	grained := ellipse("coast", 5, 5, 0.1, 0.1)
	grained.LengthPart, grained.AreaPart = 0, 0
	for _, p := range []gauge.ToothPattern{
		{Flank: "coast"},
		{Flank: "coast", Cols: 2, Rows: 2, Ink: make([]float64, 4), CenterS: 0.5},
		{Flank: "coast", AreaPart: math.NaN(), LengthPart: -1},
		{Flank: "coast", AreaPart: 0.2, CenterS: math.NaN()},
		grained,
	} {
		assert.Equal(t, want, Words(p))
	}
	assert.Equal(t, "Unnamed side: no pattern; the compound was not touched.", Words(gauge.ToothPattern{}))
}

// Where nothing usable is recorded, the ink itself says where it is; the ellipse's
// own center and size are the check.
func TestWordsFromInkAlone(t *testing.T) {
	const cell = 1.0 / 16 // of the grid's coarser direction
	p := ellipse("drive", 0.40, 0.60, 0.50, 0.50)
	p.CenterS, p.CenterT, p.LengthPart, p.HeightPart, p.AreaPart = math.NaN(), math.NaN(), 0, 0, 0
	f := newFlank(p)
	assert.True(t, f.found)
	assert.InDelta(t, 0.40, f.s, cell/4)
	assert.InDelta(t, 0.60, f.t, cell/4)
	assert.InDelta(t, 0.50, f.length, cell)
	assert.InDelta(t, 0.50, f.height, cell)
}
