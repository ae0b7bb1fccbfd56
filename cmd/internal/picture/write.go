package picture

import (
	"bytes"
	"fmt"
	"image/png"
	"io"
	"strings"
)

// writeSVG writes a scene as vectors; untitled names it where it has no title.
func writeSVG(w io.Writer, sc *scene, untitled string) error {
	title := sc.title
	if title == "" {
		title = untitled
	}
	titleID, descID := "title", "desc"
	if sc.id != "" {
		titleID, descID = sc.id+"-title", sc.id+"-desc"
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img" aria-labelledby="%s %s">`+"\n",
		sc.wide, sc.high, sc.wide, sc.high, titleID, descID)
	fmt.Fprintf(&b, "<title id=\"%s\">%s</title>\n<desc id=\"%s\">%s</desc>\n", titleID, escape(title), descID, escape(strings.Join(sc.words, " ")))
	fmt.Fprintf(&b, "<rect width=\"%d\" height=\"%d\" fill=\"%s\"/>\n", sc.wide, sc.high, sc.color(paper))
	for _, s := range sc.shapes {
		sc.writeShape(&b, s)
	}
	b.WriteString("</svg>\n")
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}

// writePNG writes a scene as pixels.
func writePNG(w io.Writer, sc *scene) error {
	r := newRaster(sc.wide, sc.high, sc.theme[paper])
	for _, s := range sc.shapes {
		switch {
		case s.text != "":
			face, start := sc.faces.of(s.strong), spotOf(s.at)
			wide := inUnits(face.width(s.text, s.size))
			switch s.anchor {
			case atMiddle:
				start.x -= wide / 2
			case atEnd:
				start.x -= wide
			}
			r.fill(face.outlines(s.text, s.size, start), sc.theme[s.ink])
		case s.fill:
			loops := make([][]spot, len(s.loops))
			for i, l := range s.loops {
				for _, p := range l {
					loops[i] = append(loops[i], spotOf(p))
				}
			}
			r.fill(loops, sc.theme[s.ink])
		default:
			r.stroke(s, sc.theme[s.ink])
		}
	}
	if err := png.Encode(w, r.img); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}
