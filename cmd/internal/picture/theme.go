package picture

import (
	"fmt"
	"image/color"
	"math"
	"strings"
)

// A hue is what something is painted as. Which color that is, the theme says.
type hue int

const (
	paper hue = iota
	ink       // words, outlines
	soft      // words and lines of less weight
	compound
	bright
	body   // steel behind a flank
	grid   // lines on compound
	curve  // the line of a chart, a bar
	within // a range on a chart
	rule   // fine lines of a chart
	steel
	cast
	dark
	land // the top of a tooth, spacers
	shim
	edge  // outlines of a drawing
	mark  // a mark on a pattern, and its line
	halo  // round a mark
	cross // the center of a pattern on a tooth
	rubbedFrom
	hues = rubbedFrom + hue(len(inkLevels))
)

// noHue paints nothing.
const noHue hue = -1

func (h hue) String() string {
	if h >= rubbedFrom {
		return fmt.Sprintf("rubbed%d", h-rubbedFrom+1)
	}
	return [...]string{"paper", "ink", "soft", "compound", "bright", "body", "grid", "curve", "range", "rule", "steel", "cast", "dark", "land", "shim", "edge", "mark", "halo", "cross"}[h]
}

// A theme is a color for every hue.
type theme [hues]color.RGBA

func rgb(v uint32) color.RGBA { return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255} }

// theme returns the colors that the options ask for.
func (o Options) theme() theme {
	t := theme{
		paper: rgb(0xffffff), ink: rgb(0x181818), soft: rgb(0x545454), compound: rgb(0x1f4e6b), bright: rgb(0xf6eed6), body: rgb(0x96999c), grid: rgb(0x96b2c2),
		curve: rgb(0x1f4e6b), steel: rgb(0xb9c0c5), cast: rgb(0xd9d4c8), dark: rgb(0x5c666d), land: rgb(0xe6eaec), shim: rgb(0xa83a06), edge: rgb(0x2d3338),
		mark: rgb(0x181818), halo: rgb(0xffffff), cross: rgb(0xc2410c),
	}
	if o.Dark {
		t[paper], t[ink], t[soft], t[body], t[curve] = rgb(0x14171a), rgb(0xeceeef), rgb(0xb4bcc1), rgb(0x5c666d), rgb(0x85c3ff)
		t[steel], t[cast], t[dark], t[land], t[shim], t[edge] = rgb(0x7d878e), rgb(0x3d3f3c), rgb(0xa9b3ba), rgb(0x2c3338), rgb(0xff9b5c), rgb(0xd7dde1)
	}
	t[within], t[rule] = mix(t[paper], t[curve], 0.18), mix(t[paper], t[ink], 0.18)
	for i := range inkLevels {
		t[rubbedFrom+hue(i)] = mix(t[compound], t[bright], float64(i+1)/float64(len(inkLevels)))
	}
	if !o.Color {
		for i, c := range t {
			y := color.GrayModel.Convert(c).(color.Gray).Y
			t[i] = color.RGBA{y, y, y, 255}
		}
	}
	return t
}

// mix goes a share of the way from a to b. The hair keeps a half from falling either way.
func mix(a, b color.RGBA, x float64) color.RGBA {
	const hair = 1e-6
	m := func(a, b uint8) uint8 {
		return uint8(math.Floor(float64(a) + float64((float64(b)-float64(a))*x) + 0.5 + hair))
	}
	return color.RGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), 255}
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// DarkColors are the declarations by which the style of a dark page gives the pictures in it
// their dark colors; where a page has none they are light.
func DarkColors() string {
	light, night := Options{Color: true}.theme(), Options{Color: true, Dark: true}.theme()
	var b strings.Builder
	for h := range hues {
		if light[h] != night[h] {
			fmt.Fprintf(&b, "--p-%s: %s; ", h, hex(night[h]))
		}
	}
	return strings.TrimSpace(b.String())
}
