package picture

import (
	"bytes"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func twoParts() Section {
	return Section{Wide: 20, High: 4, Axis: 2, AxisName: "axis", Parts: []Part{{Mark: 'P', Name: "plate"}, {Mark: 'S', Name: "shim <thin>", Strong: true}},
		Blocks: []Block{{0, 4, 0, 10, 4}, {1, 9, 1, 10, 3}}}
}

func TestSectionText(t *testing.T) {
	got, err := SectionText(twoParts(), Options{Columns: 60})
	require.NoError(t, err)
	assert.Equal(t, "  : PPPPPP\n    PPPPPS\n  : PPPPPS\n    PPPPPP\n\nP plate   S shim <thin>   : axis\n", got)

	wide := twoParts()
	wide.Wide, wide.Blocks = 120, append(wide.Blocks, Block{1, 100, 0, 101, 1})
	got, err = SectionText(wide, Options{Columns: 40})
	require.NoError(t, err)
	for line := range strings.SplitSeq(got, "\n") {
		assert.LessOrEqual(t, len(line), 40)
	}
	assert.Regexp(t, `PS* +S\n`, got, "a thin part stays to be seen")
}

// The picture of an axle says what it shows, on its own and in a page.
func TestAxlePictures(t *testing.T) {
	a := Axle{PinionIn: true, Nut: "nut <N>", DepthShim: "0.030", Depth: "depth shim"}
	var b bytes.Buffer
	require.NoError(t, AxleSVG(&b, a, "A shim & a plate.", Options{ID: "cut", Color: true}))
	assert.Contains(t, b.String(), `<desc id="cut-desc">A shim &amp; a plate.</desc>`)
	assert.Contains(t, b.String(), "var(--p-shim, #a83a06)", "a page may give it its own colors")
	text := svgText(t, b.Bytes())["text"]
	for _, want := range []string{"nut <N>", "depth shim 0.030", "A shim & a plate.", "dashed: not in"} {
		assert.Contains(t, text, want)
	}
	shims := func(a Axle, night bool) int {
		var b bytes.Buffer
		require.NoError(t, AxlePNG(&b, a, "", Options{Color: true, Dark: night}))
		img, err := png.Decode(&b)
		require.NoError(t, err)
		n := 0
		want := Options{Color: true, Dark: night}.theme()[shim]
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if img.At(x, y) == want {
					n++
				}
			}
		}
		return n
	}
	out := a
	out.PinionIn = false
	for _, night := range []bool{false, true} {
		assert.Greater(t, shims(a, night), shims(out, night)+100, "the shim under the cone")
	}
}

func TestSectionsThatDoNotFitAreRefused(t *testing.T) {
	for name, change := range map[string]func(*Section){
		"no parts":      func(s *Section) { s.Parts, s.Blocks = nil, nil },
		"no such part":  func(s *Section) { s.Blocks[0].Part = 2 },
		"outside":       func(s *Section) { s.Blocks[0].Right = 21 },
		"left of it":    func(s *Section) { s.Blocks[0].Left = -1 },
		"upside down":   func(s *Section) { s.Blocks[0].Bottom = 0 },
		"no width":      func(s *Section) { s.Wide = 0 },
		"without limit": func(s *Section) { s.High = 100000 },
	} {
		s := twoParts()
		change(&s)
		_, err := SectionText(s, Options{})
		assert.Error(t, err, name)
	}
}
