package screen

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/view"
	"shimwright/grading/coach"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// The least size of a screen, and from where on the axle stands beside the paper.
const (
	LeastWide = 60
	LeastHigh = 20
	sideWide  = 76
	tallHigh  = 42
)

// An area is a box of the screen.
type area struct{ x, y, w, h int }

// areas are where everything stands.
type areas struct {
	stacked             bool // one under the other; the tool takes the axle's place for a moment
	axle, paper, tool   area
	choices             area
	rules               []int // rows with a line across
	stage, line, inside int   // rows of the stage and the typed line; column of the line between axle and paper, 0 for none
}

// arrange places everything on a screen of at least LeastWide by LeastHigh.
func arrange(w, h int) areas {
	if w < sideWide {
		const paper, choices = 4, 4
		band := h - 2 - paper - choices
		return areas{stacked: true, axle: area{0, 1, w, band}, tool: area{0, 1, w, band},
			paper: area{0, 1 + band, w, paper}, choices: area{0, 1 + band + paper, w, choices}, line: h - 1}
	}
	top, choices := picture.CutawayHigh, 4
	left := max(picture.CutawayWide+1, w*4/9)
	if h >= tallHigh {
		top, choices = 2*picture.CutawayHigh, 8
		left = w / 2
	}
	tool := h - top - choices - 5
	return areas{
		axle: area{0, 2, left, top}, paper: area{left + 2, 2, w - left - 2, top},
		tool: area{0, 3 + top, w, tool}, choices: area{0, 4 + top + tool, w, choices},
		rules: []int{1, 2 + top, 3 + top + tool}, line: h - 1, inside: left,
	}
}

// Draw draws a scene in rows of a width, as many as the height; without color there is not
// one escape sequence in it. A screen that is too small says so.
func Draw(s Scene, w, h int, color bool) string {
	if w < LeastWide || h < LeastHigh {
		say := s.Printer.Print(text.Say("screen.too-small", "This needs {w} columns and {h} rows. Make the terminal larger, or leave with q and come back with --lines.", text.Count("w", LeastWide), text.Count("h", LeastHigh)))
		c := picture.NewCanvas(max(w, 1), max(h, 1))
		for i, l := range wrapped(say, max(w, 10)) {
			c.Text(0, i, l, picture.Bare)
		}
		return c.String(color)
	}
	c := picture.NewCanvas(w, h)
	if s.Page != nil {
		s.Page.draw(c)
		return c.String(color)
	}
	a := arrange(w, h)
	if s.View.Coached && !a.stacked { // two lines of the coach need the room
		a.rules = a.rules[:2]
		a.tool.h++
	}
	s.drawStages(c, a.stage)
	for _, y := range a.rules {
		c.Fill(0, y, w-1, y, "─", picture.Quiet)
	}
	if a.inside > 0 {
		c.Fill(a.inside, a.axle.y, a.inside, a.axle.y+a.axle.h-1, "│", picture.Quiet)
	}
	tool := s.tool(a.tool.w, a.tool.h, color)
	inHand := len(s.Notes) > 0 || s.Asks != nil || len(s.Words) > 0 && !s.Menu.Open || s.View.Last != nil && !s.Menu.Open && (len(s.View.Last.Readings) > 0 || len(s.View.Last.Feels) > 0)
	if !a.stacked || !inHand {
		c.Draw(a.axle.x, a.axle.y, picture.Cutaway(view.Axle(s.View.Card.Family.Design, s.View.Status, s.Printer), min(a.axle.w-1, 80), a.axle.h))
	}
	if !a.stacked || inHand {
		c.Draw(a.tool.x, a.tool.y, tool)
	}
	c.Draw(a.paper.x, a.paper.y, s.paper(a.paper.w, a.paper.h, a.stacked))
	if s.Foot != "" {
		c.Draw(a.choices.x, a.choices.y, s.narration(a.choices.w, a.choices.h))
		c.Text(0, a.line, s.Foot, picture.Quiet)
		return c.String(color)
	}
	c.Draw(a.choices.x, a.choices.y, s.choices(a.choices.w, a.choices.h))
	ask := s.ask()
	x := c.Text(0, a.line, ask, picture.Bare)
	if !s.Typing && s.Asks == nil && !s.Menu.Open {
		s.drawBar(c, a.line)
	}
	if s.Typing || s.Asks != nil || s.Menu.Pick {
		c.Text(x+1, a.line, s.Typed+"_", picture.Strong)
	}
	return c.String(color)
}

// narration draws what is said of a scene that plays by itself.
func (s Scene) narration(w, h int) *picture.Canvas {
	c := picture.NewCanvas(w, h)
	y := 0
	for _, said := range s.Told {
		for _, l := range wrapped(said, w-2) {
			if y < h {
				c.Text(1, y, l, picture.Strong)
				y++
			}
		}
	}
	return c
}

// drawBar draws the entries of the last line, as many as there is room for.
func (s Scene) drawBar(c *picture.Canvas, y int) {
	x := 1
	for _, e := range s.bar() {
		if wide := ansi.StringWidth(e.label) + 4; x+wide-2 <= c.W {
			c.Text(x, y, e.key, picture.Strong)
			c.Text(x+2, y, e.label, picture.Quiet)
			x += wide + 1
		}
	}
}

func (s Scene) drawStages(c *picture.Canvas, y int) {
	p := s.Printer
	minutes := s.minutes()
	c.Text(c.W-len(minutes), y, minutes, picture.Bare)
	if len(s.View.Stages) == 0 {
		c.Text(0, y, view.JobTitle(p, s.View.Card.Family.Code, s.View.Card.Kind, ", job ", s.View.Card.Seed), picture.Strong)
		return
	}
	room := c.W - len(minutes) - 2
	total := 0
	for _, st := range s.View.Stages {
		total += ansi.StringWidth(p.Print(st.Name())) + 2
	}
	if total+2 > room {
		at := 1
		for i, st := range s.View.Stages {
			if st == s.View.At {
				at = i + 1
			}
		}
		c.Text(0, y, p.Print(text.Say("screen.stage-of", "stage {n} of {all}: {stage}", text.Count("n", at), text.Count("all", len(s.View.Stages)), text.Of("stage", s.View.At.Name()))), picture.Strong)
		return
	}
	x := 0
	for _, st := range s.View.Stages {
		name := p.Print(st.Name())
		switch {
		case st == s.View.At:
			x = c.Text(x, y, "["+name+"]", picture.Strong) + 1
		case st < s.View.At:
			x = c.Text(x, y, name+"✓", picture.Quiet) + 1
		default:
			x = c.Text(x, y, name, picture.Quiet) + 1
		}
	}
}

// short is an amount without its unit.
func short(s string) string {
	number, _, _ := strings.Cut(s, " ")
	return number
}

// paper draws what is read, its specification and the latest reading. Stacked, only what
// belongs to the stage and the stage before it.
func (s Scene) paper(w, h int, stacked bool) *picture.Canvas {
	c := picture.NewCanvas(w, h)
	p := s.Printer
	name, spec := 15, 14
	const wideFrom, fullFrom = 62, 80
	wide := w >= wideFrom
	if wide {
		name, spec = 18, 16
	}
	read := name + spec
	c.Text(name, 0, p.Print(text.Say("screen.spec", "spec")), picture.Quiet)
	c.Text(read, 0, p.Print(text.Say("screen.reading", "reading")), picture.Quiet)
	items := s.View.Paper
	if stacked {
		items = s.ofStage()
	}
	for i, it := range items {
		y := i + 1
		if y >= h {
			break
		}
		c.Text(0, y, cutTo(p.Print(it.Name), name-1), picture.Bare)
		c.Text(name, y, specOf(it, p), picture.Bare)
		ink := picture.Bare
		switch {
		case it.State == bench.Stale:
			ink = picture.Quiet
		case it.State == bench.Fresh && it.Spec && it.Side() != 0:
			ink = picture.Wrong
		case it.State == bench.Fresh && it.Spec:
			ink = picture.Right
		}
		value, state := "-", ""
		if it.State != bench.NotRead {
			value, state = short(p.Print(it.ReadMessage())), p.Print(it.ShortState())
		}
		if wide && it.State != bench.NotRead {
			value = p.Print(it.ReadMessage())
		}
		if w >= fullFrom && it.State != bench.NotRead {
			state = p.Print(it.StateMessage())
		}
		x := c.Text(read, y, value, ink)
		at := read + 7
		if wide {
			at = read + 24
		}
		c.Text(max(x+1, at), y, state, ink)
	}
	return c
}

// ofStage are the items that matter where the job stands, latest stages first in room.
func (s Scene) ofStage() []bench.Item {
	var here, read, others []bench.Item
	for _, it := range s.View.Paper {
		switch {
		case it.Stage == s.View.At:
			here = append(here, it)
		case it.State != bench.NotRead:
			read = append(read, it)
		default:
			others = append(others, it)
		}
	}
	return append(append(here, read...), others...)
}

func specOf(it bench.Item, p text.Printer) string {
	if !it.Spec {
		return ""
	}
	if it.AtMost {
		return "max " + short(p.Print(it.HighMessage()))
	}
	return short(p.Print(it.LowMessage())) + "-" + short(p.Print(it.HighMessage()))
}

// tool draws what was done last with the instrument that read it, or what is said in its
// place.
func (s Scene) tool(w, h int, color bool) *picture.Canvas {
	c := picture.NewCanvas(w, h)
	p := s.Printer
	lines := func(x, y int, all []string, width int) int {
		for _, say := range all {
			for _, l := range wrapped(say, width) {
				if y >= h {
					return y
				}
				c.Text(x, y, l, picture.Bare)
				y++
			}
		}
		return y
	}
	switch {
	case len(s.Notes) > 0:
		lines(1, 0, s.Notes, w-2)
		return c
	case s.Asks != nil:
		lines(1, 0, []string{s.Asks.String()}, w-2)
		return c
	case s.View.Last == nil || len(s.Shown) == 0 && s.View.Acts == 0:
		hello := []string{p.Print(text.Say("screen.begin", "Choose with the numbers below. c shows the job card, ? the keys."))}
		if len(s.View.Stages) > 0 {
			hello = append([]string{p.Print(s.View.At.Purpose())}, hello...)
		}
		lines(1, 0, hello, w-2)
		return c
	}
	shown := s.Shown
	if len(shown) == 0 {
		shown = []history.Step{*s.View.Last}
	}
	last := shown[len(shown)-1]
	x := c.Text(1, 0, s.title(last), picture.Strong)
	if state := s.told(last); state != "" {
		c.Text(x+2, 0, state, picture.Bare)
	}
	x, y := 1, 1
	coached := len(s.Words) > 0 || s.View.Entering
	said := s.linesOf(shown, w-2, !coached)
	if coached {
		y = lines(1, y, s.cautions(shown), w-2)
		y = s.coach(c, y, w-2, h-len(said))
	}
	if len(last.Readings) > 0 && y < h {
		if drawn := s.instrument(last.Readings[0], w, h-y, color); drawn != nil && y+drawn.H <= h {
			c.Draw(1, y, drawn)
			x = drawn.W + 3
		}
	}
	if len(said) == 0 {
		var in []string
		for _, m := range s.View.Standing() {
			in = append(in, p.Print(m))
		}
		said = []string{strings.Join(in, "; ") + "."}
	}
	lines(x, y, said, w-x-1)
	return c
}

// coach draws what the coach has to say, and what the stage is for that the job has come to;
// where to look first there only as far as a row.
func (s Scene) coach(c *picture.Canvas, y, w, end int) int {
	say := func(m text.Message, ink picture.Ink) {
		for _, l := range wrapped(s.Printer.Print(m), w) {
			if y < c.H {
				c.Text(1, y, l, ink)
				y++
			}
		}
	}
	for _, word := range s.Words {
		ink := picture.Right
		if word.Lost() > coach.Sound {
			ink = picture.Wrong
		}
		for i, m := range word.Messages() {
			if i > 0 {
				ink = picture.Bare
			}
			say(m, ink)
		}
	}
	if s.View.Entering {
		say(text.Say("screen.entering", "{stage}: {purpose}", text.Of("stage", s.View.At.Name()), text.Of("purpose", s.View.At.Purpose())), picture.Strong)
		// What was read stays whole; where to look is in a hint too.
		if t := s.View.Toward; !t.IsZero() && y+len(wrapped(s.Printer.Print(t), w)) <= end {
			say(t, picture.Bare)
		}
	}
	return y
}

// cautions are those that some steps gave, the last one first.
func (s Scene) cautions(steps []history.Step) []string {
	var out []string
	for _, o := range slices.Backward(steps) {
		if c := o.Caution.Message(); !c.IsZero() {
			out = append(out, s.Printer.Print(text.Say("screen.caution", "CAUTION: {what}", text.Of("what", c))))
		}
	}
	return out
}

// linesOf say what some steps showed, the last one first, with the cautions that belong to
// them or without.
func (s Scene) linesOf(steps []history.Step, w int, cautions bool) []string {
	var out []string
	for i := len(steps) - 1; i >= 0; i-- {
		o := steps[i]
		pen := view.Pen{Printer: s.Printer, Width: w}
		if cautions {
			out = append(out, s.cautions(steps[i:i+1])...)
		}
		for _, r := range o.Readings {
			for _, q := range r.Patterns {
				out = append(out, picture.Words(q))
			}
			if len(r.Patterns) > 0 {
				continue
			}
			out = append(out, strings.Join(strings.Fields(view.Reading(r, pen)), " "))
		}
		for _, f := range o.Feels {
			out = append(out, s.Printer.Print(f.Message()))
		}
	}
	return out
}

// told says how the reading of a step stands to its specification.
func (s Scene) told(o history.Step) string {
	for _, it := range s.View.Paper {
		if it.Spec && it.Step == o.After.Acts && it.State == bench.Fresh && it.Step > 0 {
			return s.Printer.Print(text.Say("screen.told", "spec {spec}: {state}", text.Of("spec", it.SpecMessage()), text.Of("state", it.StateMessage())))
		}
	}
	return ""
}

// instrument draws what a reading was read on; nil where words say it all.
func (s Scene) instrument(r gauge.Reading, w, h int, color bool) *picture.Canvas {
	wide := min(w*9/20, 4*h+picture.DialWide)
	metric := s.Printer.Units() == quantity.Metric
	switch {
	case len(r.Patterns) > 0:
		names := make([]string, len(r.Patterns))
		for i, q := range r.Patterns {
			names[i] = q.Flank
		}
		return picture.Band(r.Patterns, names, min(w*11/20, 8*h), h, color)
	case len(r.Torques) > 0:
		show := func(t quantity.Torque) float64 {
			nut := r.Kind == gauge.NutTorque || r.Kind == gauge.NutLoosening
			switch {
			case metric:
				return t.NewtonMetres()
			case nut:
				return t.FootPounds()
			}
			return t.InchPounds()
		}
		low, high := 0.0, 0.0
		for _, it := range s.View.Paper {
			if it.ID == r.Kind.String() {
				low, high = show(quantity.Torque(it.Low)), show(quantity.Torque(it.High))
			}
		}
		return picture.NewScale(low, high, show(r.Torques[0]), show(r.Torques[len(r.Torques)-1])).Draw(min(w*9/20, 60))
	case len(r.Lengths) > 0 && r.Tool == gauge.DialIndicator && h >= picture.DialHigh-1:
		mean, _, _ := r.Summary()
		if metric {
			const turn = 0.4
			return picture.Dial(mean.MM(), turn, [4]string{"0", ".1", ".2", ".3"}, min(wide, 31), h)
		}
		const turn = 0.020
		return picture.Dial(mean.Inches(), turn, [4]string{"0", ".005", ".010", ".015"}, min(wide, 31), h)
	}
	return nil
}

// choices draws the entries in columns, each as wide as what stands in it.
func (s Scene) choices(w, h int) *picture.Canvas {
	c := picture.NewCanvas(w, h)
	shown, _ := s.fitting(w, h)
	x := 0
	for column := range slices.Chunk(shown, h) {
		wide := widthOf(column)
		for y, e := range column {
			ink, name := picture.Strong, picture.Bare
			if e.off {
				ink, name = picture.Quiet, picture.Quiet
			}
			if e.key != "" {
				c.Text(x+1, y, e.key, ink)
			}
			c.Text(x+3, y, cutTo(e.label, min(wide-4, w-x-3)), name)
		}
		x += wide
	}
	return c
}

// widthOf is how wide a column of entries is.
func widthOf(column []entry) int {
	const least, most, room = 12, 34, 5
	wide := least
	for _, e := range column {
		wide = max(wide, min(most, ansi.StringWidth(e.label)+room))
	}
	return wide
}

// fits tells whether a list has room in a box.
func fits(list []entry, w, h int) bool {
	x := 0
	for column := range slices.Chunk(list, h) {
		x += widthOf(column)
	}
	const lastGap = 2
	return x-lastGap <= w
}

// fitting are the entries that a box has room for; where it has not for all, the last one
// shows the rest. What cannot be done now is left out first.
func (s Scene) fitting(w, h int) (shown []entry, all bool) {
	list := slices.DeleteFunc(s.entries(), func(e entry) bool { return e.bar })
	skip := min(s.Menu.Skip, len(list))
	list = list[skip:]
	n := len(list)
	for n > 0 && list[n-1].off && list[n-1].key == "" && !fits(list[:n], w, h) {
		n--
	}
	if skip == 0 && fits(list[:n], w, h) {
		return list[:n], true
	}
	rest := entry{key: "+", label: s.Printer.Print(text.Say("screen.more", "more")), does: more}
	for n = len(list); n > 0 && !fits(append(slices.Clone(list[:n]), rest), w, h); n-- {
	}
	return append(slices.Clone(list[:n]), rest), false
}

func (p *Page) draw(c *picture.Canvas) {
	c.Text(0, 0, p.Title, picture.Strong)
	for i := range c.H - 2 {
		if p.Top+i < len(p.Lines) {
			c.Text(0, i+1, p.Lines[p.Top+i], picture.Bare)
		}
	}
	c.Text(0, c.H-1, p.Foot, picture.Quiet)
}

// wrapped breaks a text into lines of a width.
func wrapped(s string, w int) []string {
	return strings.Split(strings.TrimRight(view.Wrap(s, max(w, 10), ""), "\n"), "\n")
}

func cutTo(s string, w int) string { return ansi.Truncate(s, max(w, 1), "") }
