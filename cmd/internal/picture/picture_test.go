package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/gauge"
)

var update = flag.Bool("update", false, "rewrite the golden files from what is drawn now")

// ellipse makes a pattern of the grid size the bench uses: an ellipse of ink with a
// soft edge on lightly grained compound.
func ellipse(name string, s, t, length, height float64) gauge.ToothPattern {
	const cols, rows = 48, 16
	p := gauge.ToothPattern{
		Flank: name, Cols: cols, Rows: rows, Ink: make([]float64, cols*rows),
		CenterS: s, CenterT: t, LengthPart: length, HeightPart: height, AreaPart: length * height * math.Pi / 4,
	}
	for row := range rows {
		for col := range cols {
			x := ((float64(col)+0.5)/cols - s) / (length / 2)
			y := ((float64(row)+0.5)/rows - t) / (height / 2)
			grain := 0.08 * float64((col*7+row*13)%5) / 4
			p.Ink[row*cols+col] = min(max(3*(1-x*x-y*y), grain), 1)
		}
	}
	return p
}

func pair() []gauge.ToothPattern {
	return []gauge.ToothPattern{ellipse("drive", 0.42, 0.5, 0.5, 0.6), ellipse("coast", 0.38, 0.72, 0.45, 0.5)}
}

func mixed() []gauge.ToothPattern {
	lost := ellipse("drive", 0.6, 0.3, 0.4, 0.4)
	lost.Ink = nil
	return []gauge.ToothPattern{lost, {Flank: "coast", Cols: 48, Rows: 16, Ink: make([]float64, 48*16)}, ellipse("drive", 0.92, 0.2, 0.5, 0.6)}
}

const sampleTitle = "BEECH, print 3 – thin coat, gear braked"

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), got, name)
}

// attribute matches the only escape sequences Terminal may write: reset, bold and
// the indexed colors, as ECMA-48 and the common 256-color extension number them.
var attribute = regexp.MustCompile("\x1b\\[[01](?:;1)?(?:;38;5;[0-9]{1,3})?(?:;48;5;[0-9]{1,3})?m")

// checkText holds for every text picture.
func checkText(t assert.TestingT, out string, columns int) {
	count := runewidth.Condition{}
	bare := attribute.ReplaceAllString(out, "")
	assert.NotContains(t, bare, "\x1b")
	for line := range strings.SplitSeq(bare, "\n") {
		assert.LessOrEqual(t, count.StringWidth(line), columns, "%q", line)
		assert.Equal(t, strings.TrimRight(line, " "), line, "blanks at the line's end")
		for _, r := range line {
			if unicode.IsControl(r) {
				assert.Fail(t, "control character", "%q", line)
			}
		}
	}
	if out != "" {
		assert.True(t, strings.HasSuffix(out, "\n"))
	}
}

func checkPlain(t assert.TestingT, out string) {
	for _, r := range out {
		if r > unicode.MaxASCII && !unicode.IsLetter(r) && !unicode.IsMark(r) {
			assert.Fail(t, "neither ASCII nor a letter", "%q", r)
		}
	}
	assert.NotContains(t, out, "\x1b")
}

func TestGoldenPictures(t *testing.T) {
	for _, columns := range []int{40, 80, 120} {
		for _, set := range []struct {
			name     string
			patterns []gauge.ToothPattern
		}{{"pair", pair()}, {"one", pair()[:1]}, {"mixed", mixed()}, {"none", nil}} {
			o := Options{Columns: columns, Title: sampleTitle}
			name := fmt.Sprintf("%s-%d", set.name, columns)
			plain, grey := Plain(set.patterns, o), Terminal(set.patterns, o)
			o.Color = true
			color := Terminal(set.patterns, o)
			golden(t, "plain-"+name+".txt", plain)
			golden(t, "blocks-"+name+".txt", grey)
			golden(t, "color-"+name+".txt", color)
			for _, out := range []string{plain, grey, color} {
				checkText(t, out, columns)
			}
			checkPlain(t, plain)
			assert.NotContains(t, grey, "\x1b", "color was not allowed")
			assert.Equal(t, color, Terminal(set.patterns, o), "the same again")
		}
	}
}

func TestSideBySideFromEightyColumns(t *testing.T) {
	for columns, want := range map[int]bool{40: false, 79: false, 80: true, 120: true} {
		for _, out := range []string{Terminal(pair(), Options{Columns: columns}), Plain(pair(), Options{Columns: columns})} {
			both := false
			for line := range strings.SplitSeq(out, "\n") {
				both = both || strings.Contains(line, "DRIVE") && strings.Contains(line, "COAST")
			}
			assert.Equal(t, want, both, "%d columns", columns)
		}
	}
}

func TestColumnsAreClamped(t *testing.T) {
	for _, c := range [][2]int{{-5, 40}, {0, 40}, {39, 40}, {121, 120}, {math.MaxInt, 120}} {
		assert.Equal(t, Terminal(pair(), Options{Columns: c[1]}), Terminal(pair(), Options{Columns: c[0]}))
		assert.Equal(t, Plain(pair(), Options{Columns: c[1]}), Plain(pair(), Options{Columns: c[0]}))
	}
}

// A pair must leave room for a prompt on the smallest usual terminal, 80 x 24
// (common practice, no source).
func TestPairFitsTheUsualTerminal(t *testing.T) {
	out := Terminal(pair(), Options{Columns: 80, Color: true, Title: sampleTitle})
	assert.Less(t, strings.Count(out, "\n"), 24)
}

// luminance is the relative luminance of the Web Content Accessibility Guidelines
// 2.1 (W3C, 2018).
func luminance(r, g, b uint8) float64 {
	lin := func(v uint8) float64 {
		c := float64(v) / 255
		if c <= 0.03928 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
}

// contrast is the contrast ratio of the same guidelines.
func contrast(a, b float64) float64 { return (max(a, b) + 0.05) / (min(a, b) + 0.05) }

// textContrast is the ratio those guidelines ask of ordinary text (level AA); a
// pattern that reaches it does not need its hue.
const textContrast = 4.5

func TestBrightnessCarriesThePattern(t *testing.T) {
	// The 6 x 6 x 6 cube of the usual 256-color palette (from memory).
	steps := [6]uint8{0, 95, 135, 175, 215, 255}
	var last float64
	for i, n := range palette {
		require.GreaterOrEqual(t, n, 16)
		require.Less(t, n, 232)
		y := luminance(steps[(n-16)/36], steps[(n-16)/6%6], steps[(n-16)%6])
		if i > 0 {
			assert.Greater(t, y, last, "palette step %d", i)
		}
		last = y
	}
	dark := palette[0] - 16
	assert.Greater(t, contrast(luminance(steps[dark/36], steps[dark/6%6], steps[dark%6]), last), textContrast)
	for _, color := range []bool{true, false} {
		for _, night := range []bool{false, true} {
			colors := Options{Color: color, Dark: night}.theme()
			apart := func(a, b hue) float64 {
				return contrast(luminance(colors[a].R, colors[a].G, colors[a].B), luminance(colors[b].R, colors[b].G, colors[b].B))
			}
			assert.Greater(t, apart(compound, bright), textContrast)
			assert.Greater(t, apart(mark, bright), textContrast, "the center's cross on the pattern")
			for _, h := range []hue{ink, soft, curve} {
				assert.Greater(t, apart(h, paper), textContrast, "%s on paper", h)
			}
			assert.Greater(t, apart(ink, within), textContrast, "words in a range")
			assert.Greater(t, apart(edge, cast), textContrast, "outlines of parts")
		}
	}
}

func decode(t require.TestingT, patterns []gauge.ToothPattern, o Options) image.Image {
	var b bytes.Buffer
	require.NoError(t, PNG(&b, patterns, o))
	img, err := png.Decode(&b)
	require.NoError(t, err)
	return img
}

func brightness(img image.Image, x, y int) int {
	return int(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
}

// find returns where the flank of the first panel is drawn, from the picture
// itself: the box of pixels that differ between a flank without a pattern and one
// rubbed all over.
func find(t require.TestingT, o Options) image.Rectangle {
	bare := gauge.ToothPattern{Flank: "drive", Cols: 1, Rows: 1, Ink: []float64{0}, CenterS: 0.5, CenterT: 0.5, LengthPart: 1, HeightPart: 1, AreaPart: 1}
	full := bare
	full.Ink = []float64{1}
	a, b := decode(t, []gauge.ToothPattern{bare, bare}, o), decode(t, []gauge.ToothPattern{full, bare}, o)
	// Only rows above the words, which differ as well, and only the flat view of the first.
	var box image.Rectangle
	for y := range a.Bounds().Dy() * 2 / 5 {
		for x := range a.Bounds().Dx() / 2 {
			if a.At(x, y) != b.At(x, y) {
				box = box.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	require.Greater(t, box.Dx(), 300)
	require.Greater(t, box.Dy(), 100)
	return box
}

func TestPNGShowsThePatternByBrightness(t *testing.T) {
	const clear = 90 // of 255 steps of gray: plain to any eye
	for _, color := range []bool{true, false} {
		o := Options{Color: color, Title: "a title"}
		box := find(t, o)
		// Off the middle lines and off the cross, half way up at a quarter of the
		// length and at three quarters.
		at := func(s float64) (x, y int) {
			x = box.Min.X + int(s*float64(box.Dx()))
			return x, box.Max.Y - int(0.42*heightAt(s)*float64(box.Dy()))
		}
		toe := decode(t, []gauge.ToothPattern{ellipse("drive", 0.25, 0.5, 0.4, 0.6), ellipse("coast", 0.5, 0.5, 0.5, 0.5)}, o)
		heel := decode(t, []gauge.ToothPattern{ellipse("drive", 0.75, 0.5, 0.4, 0.6), ellipse("coast", 0.5, 0.5, 0.5, 0.5)}, o)
		nearToeX, nearToeY := at(0.20)
		nearHeelX, nearHeelY := at(0.80)
		assert.Greater(t, brightness(toe, nearToeX, nearToeY), brightness(toe, nearHeelX, nearHeelY)+clear, "toe is on the left")
		assert.Greater(t, brightness(heel, nearHeelX, nearHeelY), brightness(heel, nearToeX, nearToeY)+clear, "heel is on the right")

		low := decode(t, []gauge.ToothPattern{ellipse("drive", 0.3, 0.2, 0.5, 0.3), ellipse("coast", 0.5, 0.5, 0.5, 0.5)}, o)
		x := box.Min.X + int(0.22*float64(box.Dx()))
		up := func(share float64) int { return box.Max.Y - int(share*heightAt(0.22)*float64(box.Dy())) }
		assert.Greater(t, brightness(low, x, up(0.2)), brightness(low, x, up(0.8))+clear, "root is at the bottom")
	}
}

func TestPNGSizeAndShadesOfGrey(t *testing.T) {
	img := decode(t, pair(), Options{Title: sampleTitle})
	assert.InDelta(t, 1000, img.Bounds().Dx(), 50)
	assert.InDelta(t, 820, img.Bounds().Dy(), 60)
	b := img.Bounds()
	colored := func(img image.Image) int {
		n := 0
		for y := range b.Dy() {
			for x := range b.Dx() {
				if r, g, b, _ := img.At(x, y).RGBA(); r != g || g != b {
					n++
				}
			}
		}
		return n
	}
	assert.Zero(t, colored(img))
	assert.Greater(t, colored(decode(t, pair(), Options{Title: sampleTitle, Color: true})), 10000)
}

func TestSameBytesAgain(t *testing.T) {
	for _, draw := range []func(io.Writer, []gauge.ToothPattern, Options) error{SVG, PNG} {
		var a, b bytes.Buffer
		patterns := pair()
		require.NoError(t, draw(&a, patterns, Options{Color: true, Title: sampleTitle}))
		require.NoError(t, draw(&b, patterns, Options{Color: true, Title: sampleTitle}))
		assert.True(t, bytes.Equal(a.Bytes(), b.Bytes()))
		assert.Equal(t, pair(), patterns, "what was given is left alone")
	}
}

// svgText decodes out and returns the text inside each kind of element.
func svgText(t require.TestingT, out []byte) map[string]string {
	text := map[string]string{}
	d := xml.NewDecoder(bytes.NewReader(out))
	var open []string
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch x := tok.(type) {
		case xml.StartElement:
			open = append(open, x.Name.Local)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				text[open[len(open)-1]] += string(x)
			}
		}
	}
	return text
}

func TestSVGIsWellFormedAndDescribed(t *testing.T) {
	patterns := pair()
	patterns[0].Flank = `drive <&"'>`
	var b bytes.Buffer
	require.NoError(t, SVG(&b, patterns, Options{Color: true, Title: `1 < 2 & "three" ]]>`}))
	text := svgText(t, b.Bytes())
	assert.Equal(t, `1 < 2 & "three" ]]>`, text["title"])
	assert.Equal(t, Words(patterns[0])+" "+Words(patterns[1]), text["desc"])
	for _, s := range []string{"toe", "heel", "top", "root", "COAST SIDE (concave)", `DRIVE <&"'> SIDE`} {
		assert.Contains(t, text["text"], s)
	}
	b.Reset()
	require.NoError(t, SVG(&b, nil, Options{}))
	assert.Equal(t, noPatterns, svgText(t, b.Bytes())["desc"])
}

// A pattern of an axle that drives on the concave side says so.
func TestConcaveDrive(t *testing.T) {
	patterns := pair()
	for i := range patterns {
		patterns[i].Crossed = true
	}
	text := Plain(patterns, Options{Columns: 80})
	assert.Contains(t, text, "DRIVE SIDE (concave)")
	assert.Contains(t, text, "COAST SIDE (convex)")
	assert.Contains(t, Plain(pair(), Options{Columns: 80}), "DRIVE SIDE (convex)")
}

func TestTooManyPatterns(t *testing.T) {
	many := make([]gauge.ToothPattern, maxPatterns+1)
	for _, draw := range []func(io.Writer, []gauge.ToothPattern, Options) error{SVG, PNG} {
		assert.ErrorContains(t, draw(io.Discard, many, Options{}), "25 given, at most 24 fit")
		assert.NoError(t, draw(io.Discard, many[:maxPatterns], Options{}))
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteErrorsAreReported(t *testing.T) {
	for _, draw := range []func(io.Writer, []gauge.ToothPattern, Options) error{SVG, PNG} {
		assert.ErrorContains(t, draw(fullDisk{}, pair(), Options{}), "could not be written: disk full")
	}
}

func wildNumber() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64Range(-0.5, 1.5), rapid.SampledFrom([]float64{0, 1, 0.5, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64}))
}

func wildText() *rapid.Generator[string] {
	return rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
		"", "drive", "coast", "DRIVE", "a\x1b[2Jb", "\x9b31m", "two\nlines", "日本語の歯", "\u202eback", "\xff\xfe", strings.Repeat("long", 60),
	}))
}

func wildPattern() *rapid.Generator[gauge.ToothPattern] {
	return rapid.Custom(func(t *rapid.T) gauge.ToothPattern {
		size := rapid.OneOf(rapid.IntRange(-2, 12), rapid.SampledFrom([]int{math.MinInt, math.MaxInt, 1 << 32}))
		p := gauge.ToothPattern{
			Flank: wildText().Draw(t, "flank"), Cols: size.Draw(t, "cols"), Rows: size.Draw(t, "rows"),
			CenterS: wildNumber().Draw(t, "s"), CenterT: wildNumber().Draw(t, "t"), LengthPart: wildNumber().Draw(t, "length"),
			HeightPart: wildNumber().Draw(t, "height"), AreaPart: wildNumber().Draw(t, "area"),
		}
		n := rapid.IntRange(0, 30).Draw(t, "ink")
		if p.Cols > 0 && p.Rows > 0 && p.Cols < 20 && p.Rows < 20 && rapid.Bool().Draw(t, "fits") {
			n = p.Cols * p.Rows
		}
		p.Ink = rapid.SliceOfN(wildNumber(), n, n).Draw(t, "values")
		return p
	})
}

func TestWildInputIsDrawnWithoutHarm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		patterns := rapid.SliceOfN(wildPattern(), 0, 3).Draw(t, "prints")
		o := Options{Columns: rapid.IntRange(-10, 200).Draw(t, "columns"), Color: rapid.Bool().Draw(t, "color"), Title: wildText().Draw(t, "title")}
		out := Terminal(patterns, o)
		checkText(t, out, o.columns())
		if !o.Color {
			assert.NotContains(t, out, "\x1b")
		}
		plain := Plain(patterns, o)
		checkText(t, plain, o.columns())
		checkPlain(t, plain)
		for _, p := range patterns {
			w := Words(p)
			assert.True(t, strings.HasSuffix(w, "."), w)
			assert.NotContains(t, w, "\n")
		}
		var b bytes.Buffer
		require.NoError(t, SVG(&b, patterns, o))
		svgText(t, b.Bytes())
	})
}

func TestBrokenPatternsAsPNG(t *testing.T) {
	for _, p := range []gauge.ToothPattern{
		{},
		{Cols: 3, Rows: 3, Ink: []float64{1}},
		{Cols: 1 << 32, Rows: 1 << 32},
		{Cols: -1, Rows: -1, Ink: []float64{1}},
		{Cols: 2, Rows: 1, Ink: []float64{math.NaN(), math.Inf(1)}, CenterS: math.NaN(), CenterT: 9},
		{Cols: 1, Rows: 1, Ink: []float64{-4}, AreaPart: 2, LengthPart: 7, CenterS: -3, CenterT: 8, Flank: "日本 \x1b[31m"},
	} {
		decode(t, []gauge.ToothPattern{p, p}, Options{Title: "µ ± 日"})
	}
}

func TestSpellingInASCII(t *testing.T) {
	const in = "Größe 0,05 mm ± 2 µm – “é”\x1b[31m\u202e 日"
	assert.Equal(t, `Grosse 0,05 mm +/- 2 um - "e"[31m ?`, ascii(in, false))
	assert.Equal(t, `Größe 0,05 mm +/- 2 µm - "é"[31m 日`, ascii(in, true), "µ is a letter to Unicode")
}
