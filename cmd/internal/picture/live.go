package picture

import (
	"fmt"
	"io"
	"math"
	"strings"

	"shimwright/sim/gauge"
)

// The drawings of this file stand in a page that gives their parts color by class, so that
// one drawing serves a light page and a dark one. Each carries what it shows in words.

// A live drawing is a list of parts, each with a class. A page writes them with it; a scene
// paints them as looks says.
type live struct {
	class      string
	wide, high float64
	words      string
	parts      []livePart
}

type livePart struct {
	class  string
	loops  [][]point
	closed bool
	corner bool // a rectangle: the loop is its corners
	text   string
	anchor anchor
	raw    string // what only a page has
}

func newLive(class string, wide, high float64, words string) *live {
	return &live{class: class, wide: wide, high: high, words: words}
}

// done writes the drawing for a page.
func (d *live) done() string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="%s" viewBox="0 0 %s %s" role="img" aria-label="%s">`+"\n", d.class, tenth(d.wide), tenth(d.high), escape(clean(d.words)))
	for _, p := range d.parts {
		switch {
		case p.raw != "":
			b.WriteString(p.raw)
		case p.text != "":
			at := p.loops[0][0]
			fmt.Fprintf(&b, `<text class="%s" text-anchor="%s" x="%s" y="%s">%s</text>`+"\n", p.class, p.anchor, tenth(at.x), tenth(at.y), escape(p.text))
		case p.corner:
			a, z := p.loops[0][0], p.loops[0][2]
			fmt.Fprintf(&b, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`+"\n", p.class, tenth(a.x), tenth(a.y), tenth(z.x-a.x), tenth(z.y-a.y))
		case len(p.loops) > 0:
			fmt.Fprintf(&b, `<path class="%s" d="`, p.class)
			for _, l := range p.loops {
				op := "M"
				for _, q := range l {
					b.WriteString(op + tenth(q.x) + " " + tenth(q.y))
					op = "L"
				}
				if p.closed {
					b.WriteByte('Z')
				}
			}
			b.WriteString("\"/>\n")
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// A look is how a part of a drawing is painted.
type look struct {
	fill, line  hue
	width, dash float64
}

// looks are those of the classes that are also drawn outside pages.
func looks() map[string]look {
	return map[string]look{
		"housing": {cast, edge, 1, 0}, "housing far": {cast, edge, 1, 0}, "cap": {cast, edge, 1, 0}, "cap snug": {cast, edge, 1, 4}, "case": {cast, edge, 1, 0},
		"cup": {steel, edge, 1, 0}, "cone": {steel, edge, 1, 0}, "shaft": {steel, edge, 1, 0}, "yoke": {steel, edge, 1, 0}, "gear": {steel, edge, 1, 0}, "steel": {steel, edge, 1, 0},
		"roller": {dark, edge, 1, 0}, "nut": {dark, edge, 1, 0}, "end": {dark, edge, 1, 0}, "seal": {edge, edge, 1, 0},
		"hollow": {paper, edge, 1, 0}, "spacer": {land, edge, 1, 0}, "adjuster": {shim, edge, 1, 0}, "land": {land, edge, 1, 0},
		"shim": {shim, shim, 1, 0}, "tooth": {noHue, edge, 1, 0}, "lead": {noHue, soft, 1, 3},
		"compound": {compound, noHue, 0, 0}, "edge": {noHue, edge, 1.6, 0}, "cross": {noHue, cross, 3, 0},
	}
}

// paint adds a drawing to the scene, its corner at a place.
func (sc *scene) paint(d *live, corner point, scale float64) {
	known := looks()
	levels := 0
	for _, p := range d.parts {
		loops := make([][]point, len(p.loops))
		for i, l := range p.loops {
			for _, q := range l {
				loops[i] = append(loops[i], point{corner.x + float64(q.x*scale), corner.y + float64(q.y*scale)})
			}
		}
		if p.text != "" {
			const letterSize = 17
			sc.add(shape{text: p.text, at: loops[0][0], size: int(letterSize*scale + 0.5), ink: ink, anchor: p.anchor, strong: p.class == "size"})
			continue
		}
		class, out := strings.CutSuffix(p.class, " out")
		l, ok := known[class]
		switch {
		case class == "rubbed":
			l = look{rubbedFrom + hue(levels%len(inkLevels)), noHue, 0, 0}
			levels++
		case !ok || out && class == "tooth":
			continue
		case out:
			l = look{noHue, soft, 1, 3}
		}
		if l.fill != noHue {
			sc.area(l.fill, loops...)
		}
		if l.line != noHue {
			sc.line(l.line, l.width*scale, l.dash*scale, p.closed, loops...)
		}
	}
}

// rect draws a rectangle between two corners.
func (d *live) rect(class string, x0, y0, x1, y1 float64) {
	x0, x1, y0, y1 = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
	d.parts = append(d.parts, livePart{class: class, loops: [][]point{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}}, closed: true, corner: true})
}

// area draws closed loops.
func (d *live) area(class string, loops ...[]point) { d.path(class, true, loops...) }

// line draws open lines.
func (d *live) line(class string, loops ...[]point) { d.path(class, false, loops...) }

func (d *live) path(class string, closed bool, loops ...[]point) {
	// A level that is nowhere reached is a part all the same, so that the levels can be counted.
	if len(loops) > 0 || class == "rubbed" {
		d.parts = append(d.parts, livePart{class: class, loops: loops, closed: closed})
	}
}

func (d *live) label(class string, to anchor, x, y float64, s string) {
	if s = clean(s); s != "" {
		d.parts = append(d.parts, livePart{class: class, loops: [][]point{{{x, y}}}, text: s, anchor: to})
	}
}

// raw adds what only a page has.
func (d *live) raw(form string, args ...any) {
	d.parts = append(d.parts, livePart{raw: fmt.Sprintf(form, args...)})
}

// state is the class of a part that is in or out.
func state(class string, in bool) string {
	if in {
		return class
	}
	return class + " out"
}

// Sizes of the live cutaway.
const (
	liveAxis   = 150.0 // of the pinion
	liveCenter = 410.0 // axis of the ring gear
	liveWide   = 530.0
	liveHigh   = 322.0
)

// CutawayLive draws the axle as Cutaway does, for a page, with what it shows in words.
func CutawayLive(a Axle, words string) string { return a.drawing(words).done() }

// AxleSVG writes the same drawing as a picture of its own, with the words below it. The error
// is what w reported.
func AxleSVG(w io.Writer, a Axle, words string, o Options) error {
	sc, err := a.scene(words, o)
	if err != nil {
		return err
	}
	return writeSVG(w, sc, "An axle cut open")
}

// AxlePNG is AxleSVG as pixels.
func AxlePNG(w io.Writer, a Axle, words string, o Options) error {
	sc, err := a.scene(words, o)
	if err != nil {
		return err
	}
	return writePNG(w, sc)
}

func (a Axle) scene(words string, o Options) (*scene, error) {
	sc, err := newBlank(sceneWide, o)
	if err != nil {
		return nil, err
	}
	const room = sceneWide - 2*margin
	const scale = room / liveWide
	sc.words = []string{clean(words)}
	y := sc.heading(room) + 6
	sc.paint(a.drawing(words), point{margin, y}, scale)
	y += liveHigh*scale + 6
	for _, s := range wrap(clean(words), room, sc.width) {
		y += lineHigh
		sc.label(s, point{margin, y}, ink)
	}
	k := sc.key(y+4, room)
	k.item("shims and adjusters: what you choose", k.box(shim))
	k.item("steel", k.box(steel))
	k.item("rollers, nut", k.box(dark))
	k.item("spacer", k.box(land))
	k.item("housing, caps, case", k.box(cast))
	if !(a.PinionIn && a.Final && a.CaseIn) {
		k.item("dashed: not in", func(at point) {
			sc.line(soft, 1.8, 5, true, []point{{at.x - 13, at.y - 8}, {at.x + 13, at.y - 8}, {at.x + 13, at.y + 8}, {at.x - 13, at.y + 8}})
		})
	}
	sc.high = int(k.y + margin)
	return sc, nil
}

func (a Axle) drawing(words string) *live {
	d := &liveAxle{newLive("cutaway", liveWide, liveHigh, words), a}
	d.housing()
	d.shaft()
	d.bearings()
	d.spacer()
	d.depthShim()
	d.ringGear()
	d.sides()
	const low = liveAxis + 90
	d.label("name", atStart, 4, liveAxis-56, a.Nut)
	if a.Shim == UnderCage {
		d.label("name", atEnd, 124, liveAxis-76, a.Outer) // before the flange
	} else {
		d.label("name", atMiddle, 100, liveAxis-76, a.Outer)
	}
	d.label("name", atMiddle, 258, liveAxis-76, a.Inner)
	between := a.Spacer
	if a.Solid {
		between = join(a.Spacer, a.PreloadShims)
	}
	if a.Shim == UnderCage {
		d.label("name", atStart, 177, low, between) // beside the flange
	} else {
		d.label("name", atMiddle, 178, low, between)
	}
	d.label("size", atStart, 4, low+30, join(a.Depth, a.DepthShim))
	d.label("name", atStart, 4, low+52, a.Thicker)
	d.label("size", atEnd, liveWide-2, 14, join(a.Far, a.Opposite))
	d.label("size", atEnd, liveWide-2, liveHigh-6, join(a.GearSide, a.RingGearSide))
	return d.live
}

type liveAxle struct {
	*live
	Axle
}

// both draws a loop above the pinion's axis and below it; y counts away from the axis.
func (d *liveAxle) both(class string, loop ...point) {
	up, down := make([]point, len(loop)), make([]point, len(loop))
	for i, p := range loop {
		up[i], down[i] = point{p.x, liveAxis - p.y}, point{p.x, liveAxis + p.y}
	}
	d.area(class, up, down)
}

func box(x0, r0, x1, r1 float64) []point { return []point{{x0, r0}, {x1, r0}, {x1, r1}, {x0, r1}} }

func (d *liveAxle) housing() {
	right := 294.0
	if d.Shim != BehindCup {
		right = 288
	}
	d.both("housing", box(62, 46, right, 66)...)
	if d.Shim == UnderCage {
		d.both("housing", box(128, 66, 138, 100)...)
		d.both("housing far", box(146, 66, 172, 106)...)
	}
	for _, x := range []float64{liveCenter - 64, liveCenter + 50} { // pedestals and caps
		class := state("cap", d.CaseIn)
		if d.CaseIn && !d.CapsTight {
			class = "cap snug"
		}
		d.rect(class, x, liveAxis-118, x+14, liveAxis-80)
		d.rect(class, x, liveAxis+96, x+14, liveAxis+134)
	}
}

func (d *liveAxle) shaft() {
	in := d.PinionIn
	d.area(state("gear", in), []point{{296, liveAxis - 47}, {356, liveAxis - 33}, {356, liveAxis + 32}, {296, liveAxis + 46}})
	var teeth [][]point
	for i := range 7 {
		r := -1 + float64(i)/3
		teeth = append(teeth, []point{{298, liveAxis + 45*r}, {328, liveAxis + 38*r - 1}, {355, liveAxis + 32*r}})
	}
	d.line(state("tooth", in), teeth...)
	d.rect(state("shaft", in), 4, liveAxis-9, 16, liveAxis+9)
	d.rect(state("shaft", in), 16, liveAxis-12, 296, liveAxis+12)
	d.rect(state("nut", in), 14, liveAxis-19, 30, liveAxis+19)
	d.rect(state("yoke", in), 30, liveAxis-46, 46, liveAxis+46)
	d.rect(state("yoke", in), 46, liveAxis-21, 76, liveAxis+21)
	d.both(state("seal", in && d.Final), box(64, 21, 72, 46)...)
}

// bearings draws both pinion bearings: their cups stay in the housing.
func (d *liveAxle) bearings() {
	for _, b := range []struct{ small, large float64 }{{122, 84}, {240, 286}} {
		d.both("cup", point{b.small, 46}, point{b.large, 46}, point{b.large, 40}, point{b.small, 31})
		d.both(state("roller", d.PinionIn), point{b.small, 30}, point{b.large, 39}, point{b.large, 25}, point{b.small, 20})
		d.both(state("cone", d.PinionIn), point{b.small, 19}, point{b.large, 24}, point{b.large, 12}, point{b.small, 12})
	}
}

func (d *liveAxle) spacer() {
	in := d.PinionIn && d.Final
	if d.Solid {
		d.both(state("spacer", in), box(131, 13, 239, 20)...)
		d.both(state("shim", in && d.PreloadShims != ""), box(123, 13, 130, 22)...)
		return
	}
	d.both(state("spacer", in), point{123, 13}, point{239, 13}, point{239, 18}, point{206, 18}, point{194, 27}, point{168, 27}, point{156, 18}, point{123, 18})
}

func (d *liveAxle) depthShim() {
	chosen := d.Axle.DepthShim != ""
	var from point
	switch d.Shim {
	case BehindCup:
		d.both(state("shim", chosen), box(287, 30, 293, 46)...)
		from = point{290, 46}
	case UnderCage:
		d.both(state("shim", chosen), box(139, 66, 145, 100)...)
		from = point{142, 100}
	default:
		d.both(state("shim", chosen && d.PinionIn), box(287, 12, 295, 34)...)
		from = point{291, 34}
	}
	const low = liveAxis + 90
	d.line("lead", []point{{from.x, liveAxis + from.y + 2}, {from.x, low + 10}, {from.x - 12, low + 10}, {min(from.x-12, 130), low + 12}})
}

func (d *liveAxle) ringGear() {
	in := d.CaseIn
	d.rect(state("case", in), liveCenter-32, liveAxis-82, liveCenter+32, liveAxis+100)
	d.rect(state("case", in), liveCenter-18, liveAxis-116, liveCenter+18, liveAxis-82)
	d.rect(state("case", in), liveCenter-18, liveAxis+100, liveCenter+18, liveAxis+132)
	d.rect(state("hollow", in), liveCenter-22, liveAxis-60, liveCenter+22, liveAxis+56)
	d.rect(state("shaft", in), liveCenter-30, liveAxis-6, liveCenter+30, liveAxis+6)
	d.rect(state("case", in), liveCenter-94, liveAxis+74, liveCenter+94, liveAxis+88)
	for _, side := range []float64{-1, 1} {
		at := func(out, down float64) point { return point{liveCenter + side*out, liveAxis + down} }
		d.area(state("gear", in), []point{at(102, 47), at(46, 33), at(46, 74), at(102, 74)})
		var teeth [][]point
		for i := range 8 {
			out := 50 + 7*float64(i)
			teeth = append(teeth, []point{at(out, 34+float64(i)*1.75), at(out, 46+float64(i)*1.75)})
		}
		d.line(state("tooth", in), teeth...)
	}
}

// sides draws the side bearings, and what places them.
func (d *liveAxle) sides() {
	for _, s := range []struct{ inner, outer float64 }{{-84, -114}, {102, 130}} {
		away := 1.0
		if s.outer < s.inner {
			away = -1
		}
		for _, side := range []float64{-1, 1} {
			at := func(out, down float64) point { return point{liveCenter + side*out, liveAxis + down} }
			d.area(state("cone", d.CaseIn), []point{at(18, s.inner), at(29, s.inner), at(23, s.outer), at(18, s.outer)})
			d.area(state("roller", d.CaseIn), []point{at(30, s.inner), at(43, s.inner), at(34, s.outer), at(24, s.outer)})
			d.area(state("cup", d.CaseIn), []point{at(44, s.inner), at(49, s.inner), at(49, s.outer), at(35, s.outer)})
		}
		from := liveAxis + s.outer + 2*away
		if d.Adjusters {
			d.rect(state("adjuster", d.CaseIn), liveCenter-49, from, liveCenter+49, from+10*away)
			var notches [][]point
			for i := range 9 {
				x := liveCenter - 44 + 11*float64(i)
				notches = append(notches, []point{{x, from + 4*away}, {x, from + 10*away}})
			}
			d.line(state("tooth", d.CaseIn), notches...)
			continue
		}
		if d.Inside {
			d.rect(state("shim", d.CaseIn), liveCenter-30, liveAxis+s.inner, liveCenter+30, liveAxis+s.inner-6*away)
			continue
		}
		d.rect(state("shim", d.CaseIn), liveCenter-49, from, liveCenter+49, from+7*away)
	}
}

// DialLive draws the face of a dial indicator as Dial does, for a page.
func DialLive(value, turn float64, marks [4]string, words string) string {
	const size, center, rim = 200.0, 100.0, 94.0
	d := newLive("dial", size, size, words)
	d.raw(`<circle class="face" cx="%s" cy="%s" r="%s"/>`+"\n", tenth(center), tenth(center), tenth(rim))
	at := func(share, out float64) point {
		s, k := math.Sincos(2 * math.Pi * share)
		return point{center + out*s, center - out*k}
	}
	const ticks, every = 40, 5
	var short, long [][]point
	for i := range ticks {
		share := float64(i) / ticks
		if i%every == 0 {
			long = append(long, []point{at(share, rim-3), at(share, rim-15)})
			continue
		}
		short = append(short, []point{at(share, rim-3), at(share, rim-9)})
	}
	d.line("tick", short...)
	d.line("tick long", long...)
	for i, m := range marks {
		p := at(float64(i)/4, rim-36)
		d.label("name", atMiddle, p.x, p.y+5, m)
	}
	share := 0.0
	if turn > 0 && finite(value) {
		share = math.Mod(value/turn, 1)
	}
	d.raw(`<g transform="rotate(%s %s %s)"><g class="needle">`+"\n", tenth(360*share), tenth(center), tenth(center))
	d.area("pointer", []point{{center - 3, center + 22}, {center - 1, center - rim + 16}, {center + 1, center - rim + 16}, {center + 3, center + 22}})
	d.raw("</g></g>\n")
	d.raw(`<circle class="pointer" cx="%s" cy="%s" r="7"/>`+"\n", tenth(center), tenth(center))
	return d.done()
}

// Live draws the scale of a torque wrench, or with a spring of a string and spring scale, for
// a page: figures, the specification as a band, the pointer and what it ran over.
func (s Scale) Live(spring bool, unit, words string) string {
	const wide, high, left, right, bar = 420.0, 104.0, 18.0, 402.0, 48.0
	d := newLive("scale", wide, high, words)
	at := func(v float64) float64 { return left + (right-left)*share(v/s.End) }
	d.rect("face", left-10, 4, right+10, high-4)
	if s.High > 0 {
		d.rect("spec", at(s.Low), bar-10, at(s.High), bar+10)
	}
	d.line("tick long", []point{{left, bar}, {right, bar}})
	const fine = 5
	steps := int(math.Round(s.End / s.Step))
	var short, long [][]point
	for i := range fine*steps + 1 {
		x := at(float64(i) * s.Step / fine)
		if i%fine == 0 {
			long = append(long, []point{{x, bar - 10}, {x, bar + 4}})
			d.label("name", atMiddle, x, bar-16, short4(float64(i/fine)*s.Step))
			continue
		}
		short = append(short, []point{{x, bar - 5}, {x, bar}})
	}
	d.line("tick", short...)
	d.line("tick long", long...)
	mean := (s.Least + s.Most) / 2
	class := "reading good"
	if s.High > 0 && (mean < s.Low || mean > s.High) {
		class = "reading bad"
	}
	if spring {
		var coil []point
		const turns = 24
		end := math.Max(at(mean)-12, left+6)
		for i := range turns + 1 {
			y := bar + 28
			switch {
			case i == 0 || i == turns:
			case i%2 == 0:
				y += 7
			default:
				y -= 7
			}
			coil = append(coil, point{left + (end-left)*float64(i)/turns, y})
		}
		d.line("spring", coil)
	}
	d.rect(class, at(s.Least), bar+14, math.Max(at(s.Most), at(s.Least)+2), bar+19)
	x := at(mean)
	d.area(class, []point{{x, bar + 2}, {x + 9, bar + 26}, {x - 9, bar + 26}})
	d.label("name", atEnd, right, high-12, unit)
	return d.done()
}

func short4(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.4g", v), ".0")
}

// FlankLive draws a pattern on its flank, toe at the left and root below, for a page, with
// the ends of the specification of its height, zeros for none.
func FlankLive(p gauge.ToothPattern, low, high float64) string {
	f := newFlank(p)
	const wide, tall, left, top, foot = 330.0, 172.0, 8.0, 8.0, 132.0
	d := newLive("flank", wide, tall, f.words())
	x1 := wide - 8
	place := func(s, t float64) point {
		return point{left + s*(x1-left), foot - t*heightAt(s)*(foot-top)}
	}
	d.area("compound", []point{place(0, 0), place(0, 1), place(1, 1), place(1, 0)})
	d.rubbed(f, place)
	for _, t := range []float64{low, high} {
		if t > 0 && high < 1 {
			d.line("limit", []point{place(0, t), place(1, t)})
		}
	}
	d.area("edge", []point{place(0, 0), place(0, 1), place(1, 1), place(1, 0)})
	d.cross(f, place)
	d.label("name", atStart, left, tall-14, "toe")
	d.label("name", atMiddle, wide/2, tall-14, "root")
	d.label("name", atEnd, x1, tall-14, "heel")
	return d.done()
}

// rubbed paints a flank's pattern, brighter the more compound is gone.
func (d *live) rubbed(f flank, place func(s, t float64) point) {
	for _, level := range inkLevels {
		loops := f.contour(level)
		for _, l := range loops {
			for k, p := range l {
				l[k] = place(p.x, p.y)
			}
		}
		d.area("rubbed", loops...)
	}
}

func (d *live) cross(f flank, place func(s, t float64) point) {
	if !f.found {
		return
	}
	const arm = 8
	at := place(f.s, f.t)
	d.line("cross", []point{{at.x - arm, at.y}, {at.x + arm, at.y}}, []point{{at.x, at.y - arm}, {at.x, at.y + arm}})
}

// TeethLive draws three teeth of the ring gear, one behind another, with a pattern on the
// middle one, for a page.
func TeethLive(p gauge.ToothPattern) string { return newFlank(p).teeth().done() }

// Sizes of the three teeth.
const (
	teethWide = 346.0
	teethHigh = 242.0
)

// teeth adds the three teeth to a scene.
func (sc *scene) teeth(f flank, corner point, scale float64) { sc.paint(f.teeth(), corner, scale) }

func (f flank) teeth() *live {
	d := newLive("teeth", teethWide, teethHigh, f.words())
	// A tooth stands on its root from the toe at the left, which is nearer, to the heel at
	// the right; each behind the one before, and smaller.
	for _, tooth := range []struct {
		x, y, size float64
		middle     bool
	}{{66, 84, 0.78, false}, {38, 152, 0.89, true}, {6, 232, 1, false}} {
		place := func(s, t float64) point {
			bend := 16 * math.Sin(math.Pi*s) // the tooth is curved along its length
			x := tooth.x + tooth.size*(262*s+14*t)
			y := tooth.y - tooth.size*(34*s+bend*0.5+t*(44+14*s))
			return point{x, y}
		}
		top := along(place, 1, 0, 0)
		back := along(place, 1, 12*tooth.size, -13*tooth.size)
		d.area("land", append(top, reversed(back)...))
		d.area("end", []point{place(1, 0), place(1, 1), back[len(back)-1], {back[len(back)-1].x + 10*tooth.size, place(1, 0).y - 4*tooth.size}})
		face := append(along(place, 0, 0, 0), reversed(along(place, 1, 0, 0))...)
		if !tooth.middle {
			d.area("steel", face)
			continue
		}
		d.area("compound", face)
		d.rubbed(f, place)
		d.area("edge", face)
		d.cross(f, place)
		d.label("name", atStart, 2, 128, "toe")
		d.label("name", atEnd, teethWide, 92, "heel")
	}
	return d
}

// along is a line from toe to heel at a height, moved.
func along(place func(s, t float64) point, t, dx, dy float64) []point {
	const steps = 16
	out := make([]point, steps+1)
	for i := range out {
		p := place(float64(i)/steps, t)
		out[i] = point{p.x + dx, p.y + dy}
	}
	return out
}

func reversed(l []point) []point {
	out := make([]point, len(l))
	for i, p := range l {
		out[len(l)-1-i] = p
	}
	return out
}
