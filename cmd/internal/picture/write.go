package picture

import (
	"bytes"
	"fmt"
	"image"
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
	fmt.Fprintf(&b, "<rect width=\"%d\" height=\"%d\" fill=\"#ffffff\"/>\n", sc.wide, sc.high)
	for _, s := range sc.shapes {
		writeShape(&b, s)
	}
	b.WriteString("</svg>\n")
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}

// writePNG writes a scene as pixels.
func writePNG(w io.Writer, sc *scene) error {
	r := &raster{img: image.NewRGBA(image.Rect(0, 0, sc.wide, sc.high)), cover: make([]uint16, sc.wide*sc.high)}
	for i := range r.img.Pix {
		r.img.Pix[i] = 255
	}
	for _, s := range sc.shapes {
		switch {
		case s.text != "":
			r.text(s)
		case s.fill:
			r.fill(s.loops, s.ink)
		default:
			r.stroke(s)
		}
	}
	if err := png.Encode(w, r.img); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}
