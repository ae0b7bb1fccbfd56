package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"

	"shimwright/sim/gauge"
)

// SVG writes the patterns as a drawing of vectors, each flat and beside it on three teeth of
// the ring gear, with its words in the picture and in its description. Without
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

// PNG writes the same picture as pixels, 1000 wide and about 650 high for a pair. Errors as
// SVG.
func PNG(w io.Writer, patterns []gauge.ToothPattern, o Options) error {
	sc, err := newScene(patterns, o)
	if err != nil {
		return err
	}
	return writePNG(w, sc)
}

func (sc *scene) writeShape(b *bytes.Buffer, s shape) {
	if s.text != "" {
		more := ""
		if s.anchor != "" && s.anchor != atStart {
			more += ` text-anchor="` + string(s.anchor) + `"`
		}
		if s.strong {
			more += ` font-weight="bold"`
		}
		if face := sc.faces.of(s.strong); face.has(s.text) {
			// Whatever letters the viewer has, they take the room that was reckoned with.
			more += ` textLength="` + tenth(face.width(s.text, s.size)) + `" lengthAdjust="spacingAndGlyphs"`
		}
		fmt.Fprintf(b, `<text x="%s" y="%s" font-family="sans-serif" font-size="%d"%s fill="%s">%s</text>`+"\n",
			tenth(s.at.x), tenth(s.at.y), s.size, more, sc.color(s.ink), escape(s.text))
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
		fmt.Fprintf(b, `" fill="%s"/>`+"\n", sc.color(s.ink))
		return
	}
	fmt.Fprintf(b, `" fill="none" stroke="%s" stroke-width="%s" stroke-linejoin="round"`, sc.color(s.ink), tenth(s.width))
	if s.dash > 0 {
		fmt.Fprintf(b, ` stroke-dasharray="%s"`, tenth(s.dash))
	}
	b.WriteString("/>\n")
}

// color is what a hue is painted with: in a page, what the page says of it, or the color that
// it has on its own.
func (sc *scene) color(h hue) string {
	if sc.id == "" {
		return hex(sc.theme[h])
	}
	return fmt.Sprintf("var(--p-%s, %s)", h, hex(sc.theme[h]))
}

// tenth writes a coordinate to a tenth of a pixel.
func tenth(x float64) string {
	n := inTenths(x)
	s := strconv.FormatInt(n/10, 10)
	if n < 0 && n/10 == 0 {
		s = "-0"
	}
	if n%10 != 0 {
		return s + "." + strconv.FormatInt(max(n%10, -(n%10)), 10)
	}
	return s
}

func escape(s string) string {
	var b bytes.Buffer
	// Writing to a buffer does not fail.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
