package picture_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/picture"
	"shimwright/sim/gauge"
)

// parts counts the elements of a drawing that have a class, after reading all of it.
func parts(t *testing.T, drawing, class string) int {
	t.Helper()
	n := 0
	d := xml.NewDecoder(strings.NewReader(drawing))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return n
		}
		require.NoError(t, err, drawing)
		if e, ok := tok.(xml.StartElement); ok {
			for _, a := range e.Attr {
				assert.NotEqual(t, "style", a.Name.Local, "a page's policy refuses it")
				assert.NotContains(t, a.Value, "NaN")
				assert.NotContains(t, a.Value, "Inf")
				if a.Name.Local == "class" && a.Value == class {
					n++
				}
			}
		}
	}
}

func TestALiveAxleShowsWhatIsIn(t *testing.T) {
	a := picture.Axle{Nut: "nut", Spacer: "spacer", Depth: "depth shim", GearSide: "ring-gear side", Far: "opposite"}
	for _, c := range []struct {
		change func(*picture.Axle)
		class  string
		want   int
	}{
		{func(*picture.Axle) {}, "shim", 0},
		{func(*picture.Axle) {}, "cup", 2},
		{func(a *picture.Axle) { a.DepthShim = "0.030" }, "shim", 0}, // chosen, and under a cone that is out
		{func(a *picture.Axle) { a.PinionIn = true }, "shim", 1},
		{func(a *picture.Axle) { a.Final = true }, "spacer", 1},
		{func(a *picture.Axle) { a.CaseIn = true }, "cap snug", 4},
		{func(*picture.Axle) {}, "shim", 3},
		{func(a *picture.Axle) { a.CapsTight = true }, "cap", 4},
		{func(a *picture.Axle) { a.Inside = true }, "shim", 3},
		{func(a *picture.Axle) { a.Adjusters = true }, "adjuster", 2},
		{func(a *picture.Axle) { a.Shim = picture.UnderCage }, "housing far", 1},
		{func(a *picture.Axle) { a.Solid, a.PreloadShims = true, "0.050" }, "shim", 2},
	} {
		c.change(&a)
		drawing := picture.CutawayLive(a, `words of "it" & <more>`)
		assert.Equal(t, c.want, parts(t, drawing, c.class), "%s in %+v", c.class, a)
		assert.Contains(t, drawing, `aria-label="words of &#34;it&#34; &amp; &lt;more&gt;"`)
	}
}

// Side shims are drawn where they lie: between cup and housing, or behind the cones.
func TestSideShimsLieWhereTheyAre(t *testing.T) {
	outside := picture.CutawayLive(picture.Axle{CaseIn: true}, "")
	inside := picture.CutawayLive(picture.Axle{CaseIn: true, Inside: true}, "")
	assert.Contains(t, outside, `<rect class="shim" x="361"`)
	assert.NotContains(t, inside, `<rect class="shim" x="361"`)
	assert.Contains(t, inside, `<rect class="shim" x="380"`)
}

func TestLiveInstruments(t *testing.T) {
	for value, turned := range map[float64]string{0: "rotate(0 ", 0.005: "rotate(90 ", 0.025: "rotate(90 ", math.NaN(): "rotate(0 ", math.Inf(1): "rotate(0 "} {
		drawing := picture.DialLive(value, 0.020, [4]string{"0", ".005", ".010", ".015"}, "words")
		assert.Equal(t, 1, parts(t, drawing, "face"))
		assert.Contains(t, drawing, turned, "%v", value)
	}
	for _, c := range []struct {
		low, high, least, most float64
		class                  string
		spec                   int
	}{{10, 20, 14, 16, "reading good", 1}, {10, 20, 3, 3, "reading bad", 1}, {0, 0, 5, 7, "reading good", 0}} {
		drawing := picture.NewScale(c.low, c.high, c.least, c.most).Live(true, "lb-in", "words")
		assert.Equal(t, 2, parts(t, drawing, c.class), "%+v", c)
		assert.Equal(t, c.spec, parts(t, drawing, "spec"))
		assert.Equal(t, 1, parts(t, drawing, "spring"))
	}
	parts(t, picture.NewScale(math.NaN(), math.Inf(1), 0, 0).Live(false, "", ""), "")
}

func TestLiveTeeth(t *testing.T) {
	p := gauge.ToothPattern{Flank: "drive", Cols: 4, Rows: 4, Ink: make([]float64, 16), CenterS: 0.5, CenterT: 0.5, LengthPart: 0.5, HeightPart: 0.5, AreaPart: 0.2}
	for _, i := range []int{5, 6, 9, 10} {
		p.Ink[i] = 1
	}
	for _, drawing := range []string{picture.TeethLive(p), picture.FlankLive(p, 0.44, 0.56)} {
		assert.Equal(t, 1, parts(t, drawing, "compound"))
		assert.Equal(t, 1, parts(t, drawing, "cross"))
		assert.Positive(t, parts(t, drawing, "rubbed"))
		assert.Contains(t, drawing, picture.Words(p))
	}
	assert.Equal(t, 2, parts(t, picture.TeethLive(p), "steel"), "a tooth on either side of the middle one")
	assert.Equal(t, 2, parts(t, picture.FlankLive(p, 0.44, 0.56), "limit"))
	assert.Zero(t, parts(t, picture.FlankLive(p, 0, 0), "limit"))
	bare := gauge.ToothPattern{Flank: "coast", Cols: -1, Rows: 3, CenterS: math.NaN()}
	assert.Zero(t, parts(t, picture.TeethLive(bare), "cross"))
}
