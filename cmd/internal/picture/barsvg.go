package picture

import (
	"fmt"
	"io"
	"math"
	"strings"
)

const (
	barsWide = 760.0
	barHigh  = 18.0
	mostBars = 200
	endGap   = 8.0 // between a bar and what stands at its end
)

// BarsSVG writes the bars of Bars as a drawing of vectors: each label over its bar, value
// and note at the bar's end. A negative value's bar is drawn hollow; a value that is not a
// finite number has none and is said to be missing. The picture's description says every
// row, so that nothing is in the bars alone.
//
// The error reports more rows than a picture holds, or what w reported.
func BarsSVG(w io.Writer, rows []Bar, o Options) error {
	if len(rows) > mostBars {
		return fmt.Errorf("a picture takes up to %d bars, not %d", mostBars, len(rows))
	}
	sc, err := barsScene(rows, o)
	if err != nil {
		return err
	}
	return writeSVG(w, sc, "Bars")
}

func barsScene(rows []Bar, o Options) (*scene, error) {
	const room = barsWide - 2*margin
	sc, err := newBlank(barsWide, o)
	if err != nil {
		return nil, err
	}
	y := sc.heading(room)
	longest, endRoom := 0.0, 0.0
	ends := make([]string, len(rows))
	words := make([]string, len(rows))
	for i, r := range rows {
		if finite(r.Value) {
			longest = max(longest, math.Abs(r.Value))
		}
		ends[i] = value(r.Value, clean(o.Unit))
		if note := clean(r.Note); note != "" {
			ends[i] += ", " + note
		}
		words[i] = clean(r.Label) + ": " + ends[i] + "."
		// No end may leave the longest bar less than a third of the room.
		ends[i] = sc.cut(ends[i], room*2/3, sc.width)
		endRoom = max(endRoom, sc.width(ends[i])+endGap)
	}
	less := false
	for i, r := range rows {
		less = less || r.Value < 0
		for _, s := range wrap(clean(r.Label), room, sc.width) {
			y += lineHigh
			sc.label(s, point{margin, y}, ink)
		}
		y += 6
		long := 0.0
		if finite(r.Value) && longest > 0 {
			long = math.Abs(r.Value) / longest * (room - endRoom)
		}
		box := []point{{margin, y}, {margin + long, y}, {margin + long, y + barHigh}, {margin, y + barHigh}}
		if r.Value > 0 {
			sc.area(curve, box)
		}
		sc.line(ink, 1.4, 0, true, box)
		sc.label(ends[i], point{margin + long + endGap, y + barHigh - 3}, ink)
		y += barHigh + 8
	}
	if len(rows) == 0 {
		words = []string{"No bars."}
	}
	sc.words = []string{strings.Join(words, " ")}
	if less {
		k := sc.key(y, room)
		k.item("adds to the sum", k.box(curve))
		k.item("takes from it", k.box(paper))
		y = k.y
	}
	sc.high = int(y + margin)
	return sc, nil
}
