package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"

	"shimwright/sim/gauge"
)

// SVG writes the patterns as a drawing of vectors, drive and coast side by side,
// with the words of each pattern in the picture and in its description. Without
// color it is in shades of gray.
//
// The error reports more patterns than a picture holds, or what w reported.
func SVG(w io.Writer, patterns []gauge.ToothPattern, o Options) error {
	sc, err := newScene(patterns, o)
	if err != nil {
		return err
	}
	return writeSVG(w, sc, "Contact patterns on a ring gear tooth")
}

func writeShape(b *bytes.Buffer, s shape) {
	if s.text != "" {
		anchor, weight := "", ""
		if s.toEnd {
			anchor = ` text-anchor="end"`
		}
		if s.strong {
			weight = ` font-weight="bold"`
		}
		// The letter size keeps usual faces within the room that the dot letters of
		// the PNG take.
		fmt.Fprintf(b, `<text x="%s" y="%s" font-family="sans-serif" font-size="%d"%s%s fill="%s">%s</text>`+"\n",
			tenth(s.at.x), tenth(s.at.y), 9*s.size+1, anchor, weight, hex(s.ink), escape(s.text))
		return
	}
	b.WriteString(`<path d="`)
	for _, l := range s.loops {
		for i, p := range l {
			op := "L"
			if i == 0 {
				op = "M"
			}
			b.WriteString(op + tenth(p.x) + " " + tenth(p.y))
		}
		if s.closed {
			b.WriteString("Z")
		}
	}
	if s.fill {
		fmt.Fprintf(b, `" fill="%s" fill-rule="evenodd"/>`+"\n", hex(s.ink))
		return
	}
	fmt.Fprintf(b, `" fill="none" stroke="%s" stroke-width="%s" stroke-linejoin="round"`, hex(s.ink), tenth(s.width))
	if s.dash > 0 {
		fmt.Fprintf(b, ` stroke-dasharray="%s"`, tenth(s.dash))
	}
	b.WriteString("/>\n")
}

// tenth writes a coordinate to a tenth of a pixel. The hair keeps one half way between two from
// falling either way by the last bits on different machines.
func tenth(x float64) string {
	const hair = 1e-6
	s := strings.TrimSuffix(strconv.FormatFloat(math.Floor(float64(x*10)+0.5+hair)/10, 'f', 1, 64), ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func escape(s string) string {
	var b bytes.Buffer
	// Writing to a buffer does not fail.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
