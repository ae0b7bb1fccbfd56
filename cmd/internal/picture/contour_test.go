package picture

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/gauge"
)

// area is the signed area inside closed lines, by the shoelace formula: a hole
// counts against what is around it.
func area(loops [][]point) float64 {
	a := 0.0
	for _, l := range loops {
		for i, p := range l {
			q := l[(i+1)%len(l)]
			a += (p.x*q.y - q.x*p.y) / 2
		}
	}
	return math.Abs(a)
}

// inside counts crossings of a ray, even-odd.
func inside(loops [][]point, p point) bool {
	in := false
	for _, l := range loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(b.x-a.x)*(p.y-a.y)/(b.y-a.y) {
				in = !in
			}
		}
	}
	return in
}

func TestContourAreaOfAnEllipse(t *testing.T) {
	// Ink 1 - r²/2 over an ellipse of half axes a and b: level c lies at
	// r² = 2(1-c) and holds 2 pi a b (1-c). Computed independently.
	const cols, rows, a, b = 48, 16, 0.3, 0.35
	p := gauge.ToothPattern{Cols: cols, Rows: rows, Ink: make([]float64, cols*rows)}
	for i := range p.Ink {
		x := ((float64(i%cols)+0.5)/cols - 0.5) / a
		y := ((float64(i/cols)+0.5)/rows - 0.5) / b
		p.Ink[i] = 1 - (x*x+y*y)/2
	}
	// Between cells of size h a straight line stays below this ink by up to
	// h²/(8 half axis²), lengthwise and root to top together; divided by 1-c that
	// is the share of the area lost.
	const below = 1.0/(8*cols*cols*a*a) + 1.0/(8*rows*rows*b*b)
	for _, c := range []float64{0.4, 0.5, 0.7, 0.88} {
		loops := newFlank(p).contour(c)
		require.Len(t, loops, 1)
		assert.InEpsilon(t, 2*math.Pi*a*b*(1-c), area(loops), below/(1-c), "level %v", c)
	}
}

func TestContourSpecialCases(t *testing.T) {
	f := newFlank(gauge.ToothPattern{Cols: 1, Rows: 1, Ink: []float64{1}})
	assert.InDelta(t, 1, area(f.contour(half)), 1e-9, "rubbed all over: the whole flank")
	f = newFlank(gauge.ToothPattern{Cols: 2, Rows: 2, Ink: make([]float64, 4)})
	assert.Empty(t, f.contour(half))
	assert.Empty(t, flank{}.contour(half))

	// Two rubbed corners across from each other touch if the middle is rubbed too.
	f = newFlank(gauge.ToothPattern{Cols: 2, Rows: 2, Ink: []float64{1, 0.2, 0.2, 1}})
	assert.Len(t, f.contour(half), 1)
	f = newFlank(gauge.ToothPattern{Cols: 2, Rows: 2, Ink: []float64{0.8, 0, 0, 0.8}})
	assert.Len(t, f.contour(half), 2)

	ring := []float64{
		1, 1, 1,
		1, 0, 1,
		1, 1, 1,
	}
	f = newFlank(gauge.ToothPattern{Cols: 3, Rows: 3, Ink: ring})
	loops := f.contour(half)
	require.Len(t, loops, 2)
	// The hole is a square standing on a corner, half a cell from its middle to
	// each corner: 2 (1/6)² of the flank.
	assert.InDelta(t, 1-2.0/36, area(loops), 1e-9)
	assert.False(t, inside(loops, point{0.5, 0.5}))
}

func TestContourHoldsWhatIsRubbed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cols, rows := rapid.IntRange(1, 7).Draw(t, "cols"), rapid.IntRange(1, 7).Draw(t, "rows")
		// Values clear of the level, so that a cell is on one side of the line.
		cell := rapid.SampledFrom([]float64{0, 0.2, 0.45, 0.55, 0.8, 1})
		ink := rapid.SliceOfN(cell, cols*rows, cols*rows).Draw(t, "ink")
		f := newFlank(gauge.ToothPattern{Cols: cols, Rows: rows, Ink: ink})
		loops := f.contour(half)
		for row := range rows {
			for col := range cols {
				// A hair beside the center: lines may have corners level with it.
				p := point{(float64(col) + 0.5) / float64(cols), (float64(row)+0.5)/float64(rows) + 1e-7}
				assert.Equal(t, ink[row*cols+col] > half, inside(loops, p), "cell %d, %d", col, row)
			}
		}
	})
}

// Every letter that a picture may be asked for has an outline of its own; one that the typeface
// lacks is spelled.
func TestLettersAreAllThereAndDiffer(t *testing.T) {
	faces, err := newTypefaces()
	require.NoError(t, err)
	for _, face := range []*typeface{faces.plain, faces.strong} {
		seen := map[string]rune{}
		for _, r := range "!\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~±µ·×°–—…→←éßłŻ" {
			_, ok := face.glyph(r)
			assert.True(t, ok, "%q", r)
			outline := fmt.Sprint(face.outlines(string(r), 40, spot{}))
			if other, ok := seen[outline]; ok && !(r == 'µ' || r == '—') {
				assert.Fail(t, "two letters look alike", "%q and %q", other, r)
			}
			seen[outline] = r
		}
		assert.Equal(t, face.width("?", 18), face.width("日", 18))
		assert.Greater(t, face.width("mmm", 18), face.width("iii", 18))
		assert.InDelta(t, 2*face.width("backlash", 18), face.width("backlash", 36), 0.5)
	}
}
