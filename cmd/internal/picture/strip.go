package picture

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"shimwright/sim/gauge"
)

// A Frame is one place of a strip: what was set, and the patterns it gave.
type Frame struct {
	Label    string
	Patterns []gauge.ToothPattern
}

// MaxFrames is how many frames a strip takes.
const MaxFrames = 12

func checkFrames(frames []Frame) error {
	if len(frames) == 0 || len(frames) > MaxFrames {
		return fmt.Errorf("a strip takes 1 to %d patterns, not %d", MaxFrames, len(frames))
	}
	return nil
}

// flanksOf returns the names of the flanks in the frames, each once, in the order
// they first come.
func flanksOf(frames []Frame) []string {
	var names []string
	for _, f := range frames {
		for _, p := range f.Patterns {
			if n := newFlank(p).name; !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}

// flank returns the frame's pattern of a flank, made safe to draw.
func (f Frame) flank(name string) flank {
	for _, p := range f.Patterns {
		if k := newFlank(p); k.name == name {
			return k
		}
	}
	return flank{name: name}
}

const (
	stripGutter    = 6  // left of the teeth, for the flank's name
	leastThumb     = 11 // columns that still show a pattern's shape
	mostThumb      = 25
	thumbRows      = 5
	noPatternWords = "none"
)

// stripRows divides frames into lines of text pictures, as even as can be, and says
// how wide a tooth is in them.
func stripRows(columns, frames int) (perLine, tooth int) {
	most := max((columns-stripGutter+1)/(leastThumb+1), 1)
	lines := (frames + most - 1) / most
	perLine = (frames + lines - 1) / lines
	tooth = min((columns-stripGutter+1)/perLine-1, mostThumb)
	return perLine, tooth - (1 - tooth%2)
}

// StripTerminal draws the frames side by side with block glyphs, drive above coast,
// in as many lines as they need, in color if o allows. Errors: no frame or more
// than MaxFrames.
func StripTerminal(frames []Frame, o Options) (string, error) {
	if err := checkFrames(frames); err != nil {
		return "", err
	}
	thumb := func(f flank, l layout) []span {
		var out []span
		for _, cells := range f.grid(l, o.Color)[:l.rows] {
			out = append(out, paint(cells, o.Color))
		}
		return out
	}
	l := newLayout(o, 1, 0)
	l.perRow = 2 // the legend then says how both flanks are drawn
	return strip(frames, o, thumbRows, thumb, terminalLegend(l, o.Color, true)), nil
}

// StripPlain is StripTerminal with ASCII characters alone.
func StripPlain(frames []Frame, o Options) (string, error) {
	if err := checkFrames(frames); err != nil {
		return "", err
	}
	o.Color = false
	o.Title = ascii(o.Title, true)
	frames = slices.Clone(frames)
	for i, f := range frames {
		frames[i].Label = ascii(f.Label, true)
	}
	thumb := func(f flank, l layout) []span {
		var out []span
		for _, s := range f.plainThumb(l) {
			out = append(out, plainSpan(s))
		}
		return out
	}
	legend := flow([]span{plainSpan("# rubbed bright"), plainSpan(". hardly rubbed"), plainSpan("blank: compound untouched"),
		plainSpan("O center of pattern"), plainSpan("> middle of tooth"), plainSpan(sameWay)}, o.columns())
	return strip(frames, o, thumbRows+1, thumb, legend), nil
}

// strip sets out small flanks of the given lines each.
func strip(frames []Frame, o Options, high int, thumb func(flank, layout) []span, legend []span) string {
	columns := o.columns()
	perLine, tooth := stripRows(columns, len(frames))
	l := layout{columns: columns, tooth: tooth, rows: thumbRows}
	var lines []string
	for _, s := range wrapColumns(clean(o.Title), columns) {
		lines = append(lines, bold(plainSpan(s), o.Color).text)
	}
	names := flanksOf(frames)
	for len(frames) > 0 {
		n := min(perLine, len(frames))
		if len(lines) > 0 {
			lines = append(lines, "")
		}
		row := make([][]span, 0, n+1)
		label := []span{{}}
		for _, name := range names {
			for range high - 1 {
				label = append(label, span{})
			}
			// Beside the root; the line after it has room for a word under a pattern.
			label = append(label, plainSpan(cut(name, stripGutter-1)), span{})
		}
		row = append(row, label)
		for _, f := range frames[:n] {
			block := []span{bold(plainSpan(cut(clean(f.Label), tooth)), o.Color)}
			for _, name := range names {
				k := f.flank(name)
				block = append(block, thumb(k, l)...)
				if k.found {
					block = append(block, span{})
				} else {
					block = append(block, plainSpan(cut(noPatternWords, tooth)))
				}
			}
			row = append(row, block)
		}
		lines = append(lines, columnsOf(row, stripGutter, tooth+1)...)
		frames = frames[n:]
	}
	lines = append(lines, "")
	lines = append(lines, beside([][]span{legend}, 0)...)
	return strings.TrimRight(strings.Join(lines, "\n"), "\n") + "\n"
}

// columnsOf sets blocks side by side, the first wide columns broad and the others
// pitch.
func columnsOf(blocks [][]span, wide, pitch int) []string {
	n := 0
	for _, b := range blocks {
		n = max(n, len(b))
	}
	var lines []string
	for i := range n {
		var l strings.Builder
		at, start := 0, 0
		for k, b := range blocks {
			if i < len(b) && b[i].width > 0 {
				l.WriteString(strings.Repeat(" ", max(start-at, 0)))
				l.WriteString(b[i].text)
				at = start + b[i].width
			}
			if k == 0 {
				start = wide
			} else {
				start += pitch
			}
		}
		lines = append(lines, strings.TrimRight(l.String(), " "))
	}
	// The line under the last flank is empty unless a pattern is missing there.
	for len(lines) > 0 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	return lines
}

// plainThumb draws a small flank with characters, top row first.
func (f flank) plainThumb(l layout) []string {
	l.tooth -= 2 // the ends are drawn
	t := f.plainTooth(l)
	var out []string
	for up := l.rows; up >= 0; up-- {
		out = append(out, t.row(up))
	}
	return out
}

// StripSVG writes the frames as a drawing of vectors, one row for each flank, with
// the words of every pattern in its description. Errors as StripTerminal, or what w
// reported.
func StripSVG(w io.Writer, frames []Frame, o Options) error {
	sc, err := stripScene(frames, o)
	if err != nil {
		return err
	}
	return writeSVG(w, sc, "Contact patterns on a ring gear tooth, side by side")
}

// StripPNG writes the frames as pixels. Errors as StripTerminal, or what w reported.
func StripPNG(w io.Writer, frames []Frame, o Options) error {
	sc, err := stripScene(frames, o)
	if err != nil {
		return err
	}
	return writePNG(w, sc)
}

const (
	thumbWide   = 156.0
	thumbHigh   = 74.0
	thumbGap    = 14.0
	stripLabel  = 76.0 // left of the teeth
	leastFrames = 5    // room for the legend
)

func stripScene(frames []Frame, o Options) (*scene, error) {
	if err := checkFrames(frames); err != nil {
		return nil, err
	}
	room := stripLabel + float64(max(len(frames), leastFrames))*(thumbWide+thumbGap) - thumbGap
	sc, err := newBlank(room+2*margin, o)
	if err != nil {
		return nil, err
	}
	y := sc.heading(room) + lineHigh
	lines := 1
	for _, f := range frames {
		lines = max(lines, len(wrap(clean(f.Label), thumbWide, sc.strongWidth)))
	}
	for i, f := range frames {
		over := wrap(clean(f.Label), thumbWide, sc.strongWidth)
		for k, line := range over {
			at := point{thumbLeft(i), y + float64(lines-len(over)+k)*(lineHigh-4)}
			sc.strongLabel(line, at)
		}
	}
	y += 12 + float64(lines-1)*(lineHigh-4)
	names := flanksOf(frames)
	for _, name := range names {
		root := y + thumbHigh
		sc.strongLabel(sc.cut(strings.ToUpper(name), stripLabel-4, sc.strongWidth), point{margin, root - 28})
		for i, f := range frames {
			sc.thumb(f.flank(name), thumbLeft(i), root)
		}
		y = root + 10 + 16
	}
	for _, f := range frames {
		for _, name := range names {
			sc.words = append(sc.words, clean(f.Label)+": "+f.flank(name).words())
		}
	}
	sc.high = int(sc.legend(y, room, true) + margin)
	return sc, nil
}

func thumbLeft(i int) float64 { return margin + stripLabel + float64(i)*(thumbWide+thumbGap) }

// thumb draws a small flank, its root at the given height.
func (sc *scene) thumb(f flank, left, root float64) {
	place := func(s, t float64) point {
		return point{left + float64(s*thumbWide), root - float64(t*heightAt(s)*thumbHigh)}
	}
	outline := []point{place(0, 0), place(0, 1), place(1, 1), place(1, 0)}
	sc.area(body, []point{{left, root}, {left + thumbWide, root}, {left + thumbWide, root + 8}, {left, root + 8}})
	sc.area(compound, outline)
	around := sc.rubbed(f, place)
	sc.line(grid, 1.4, 5, false, []point{place(0, 0.5), place(1, 0.5)}, []point{place(0.5, 0), place(0.5, 1)})
	sc.line(mark, 1.2, 0, true, around...)
	sc.line(ink, 2, 0, true, outline)
	if f.found {
		sc.cross(place(f.s, f.t), 7)
		return
	}
	sc.add(shape{text: "no pattern", at: point{left + thumbWide/2, root - 18}, size: textSize, ink: halo, anchor: atMiddle})
}
