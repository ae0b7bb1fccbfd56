package web

import (
	"fmt"
	"html/template"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/view"
	"shimwright/grading/coach"
	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A benchPage is the bench as its template writes it.
type benchPage struct {
	frame
	Acts      string // where acts are sent
	Had       int
	Stages    []stage
	Spent     string
	Notes     []string
	Lesson    *lessons.Lesson // on what stands in the way
	Back      []string        // what has been taken back
	Undo      int             // acts that taking back would undo
	Example   bool            // the coach can do the first stage
	Rounds    []choice        // acts that go together
	Shown     []shown
	Hello     []string
	Say       string // what a page that is read aloud says of the last act
	Axle      template.HTML
	Spots     []spot // parts of the axle, to point at
	Wide      float64
	High      float64 // of the drawing that they are in
	PartsName string
	Part      *group // what concerns the part that was pointed at
	Standing  []string
	Paper     []row // of this stage, and what has been read
	Later     []row
	Ask       *question
	Sign      *signing
	Groups    []group
	Repeat    string
	Typed     string
	Focus     template.HTMLAttr // of what a question is answered in
	Over      []string          // what has been used up
	Closed    bool
	Path      string
}

type stage struct {
	Name       string
	Done, Here bool
}

// shown is one act with what it showed.
type shown struct {
	Title   string
	Caution string
	Told    string // how the reading stands to its specification
	Class   string
	Lines   []string
	Tool    []template.HTML
	Pattern []flank
	Key     string // of the marks on patterns
	Coach   *coaching
}

// coaching is what the coach says of an act.
type coaching struct {
	Class      string
	Said, Then string
	Why        []string
}

// A flank is a pattern on one side of the teeth.
type flank struct {
	Name, Words string
	Teeth, Flat template.HTML
}

// A row is a line of the paper.
type row struct{ Name, Spec, Read, State, Class string }

// A question asks what somebody expects to read.
type question struct {
	Act           string
	Lines         []string
	Unit          string
	Wrong, Answer string
	Group         int
}

// A signing asks whether to sign.
type signing struct {
	Help  bool
	Lacks []string
}

// A group is acts that are offered together.
type group struct {
	N       int
	Name    string
	Open    bool
	Part    bool // of the axle, and no group
	Acts    []choice
	Not     []notNow
	Batch   string // done with one click
	BatchIs string // what that is
	Left    int    // inspections still asked for
}

type notNow struct{ Act, Why string }

// A choice is an act that can be done now.
type choice struct {
	ID     string
	Form   string // its line, as it is sent
	Label  string
	Help   string
	Time   string
	Left   bool
	Round  string  // of acts that go together
	Fixed  []fixed // what is sent as it is
	Quick  []quick // buttons of its only slot
	Slots  []slot
	Button string // that sends the slots
}

type fixed struct{ Name, Value string }

type quick struct{ ID, Name, Value, Text string }

// A slot is chosen or typed.
type slot struct {
	ID, Name, Label, Unit, Value string
	Options                      []option
}

type option struct {
	Value, Text string
	Chosen      bool
}

// Classes of what is read: each has its word beside it.
const (
	good  = "good"
	bad   = "bad"
	stale = "stale"
)

func sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	s = string(unicode.ToUpper(r)) + s[n:]
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}

// jobName names a job; without its number where the terms hide it.
func jobName(p text.Printer, h attempt.Header) string {
	name := view.SortOfJob(p, h.Family.Code, h.Kind)
	if !hides(h) {
		name = view.JobTitle(p, h.Family.Code, h.Kind, ", job ", h.Seed)
	}
	if h.Exercise != "" {
		name = h.Exercise + ": " + name
	}
	return name
}

// jobFrame is the frame of a page of a job.
func (s *sitting) jobFrame(title, at string) frame {
	h := s.bench.Header()
	path := "/jobs/" + url.PathEscape(s.id)
	fr := s.f.frame(s.visitor, title, path+at)
	fr.Job = &jobLinks{Path: s.f.Base + path, Name: jobName(s.pen.Printer, h), At: at, Left: helps(h, attempt.LittleHelp), Closed: s.bench.Status().SignedOff, File: !hides(h)}
	return fr
}

// page is the bench as it stands.
func (s *sitting) page(out said) benchPage {
	p, b := s.pen.Printer, s.bench
	v := b.View(p.Units())
	path := s.f.Base + "/jobs/" + url.PathEscape(s.id)
	g := benchPage{
		frame: s.jobFrame(jobName(s.pen.Printer, v.Header), ""), Path: path, Acts: path + "/acts", Had: s.lines, Notes: out.notes, Back: out.told, Typed: out.typed,
		Undo: v.FallAway, Example: v.Coached && v.Entering && len(s.bench.Shown()) == 0 && s.lines == 0,
		Spent: spent(v.Status, v.Card.Budget), Closed: v.Status.SignedOff, Standing: say(p, v.Standing()),
	}
	if l, err := lessons.Find(out.lesson); err == nil {
		g.Lesson = &l
	}
	axle := view.Axle(v.Card.Family.Design, v.Status, p)
	if axle.PreloadShims != "" {
		axle.Spacer = "preload shims"
	}
	g.Focus = " autofocus"
	if s.r.Header.Get("HX-Request") != "" {
		g.Focus = " data-focus" // for the script that swaps the page
	}
	if axle.Adjusters && axle.Opposite != "" {
		axle.RingGearSide += " notches"
		axle.Opposite += " notches"
	}
	g.Axle = template.HTML(picture.CutawayLive(axle, "Axle cut open: "+strings.Join(g.Standing, "; ")))
	if !v.Status.SignedOff {
		g.Spots = s.spots(v, axle, out.group)
		g.Wide, g.High = picture.CutawaySize()
		g.PartsName = p.Print(text.Say("web.parts", "What can be done at a part"))
	}
	for _, st := range v.Stages {
		g.Stages = append(g.Stages, stage{p.Print(st.Name()), st < v.At, st == v.At})
	}
	g.shown(s, v, out)
	for _, it := range v.Paper {
		r := s.row(it)
		if len(v.Stages) == 0 || it.Stage <= v.At || it.State != bench.NotRead {
			g.Paper = append(g.Paper, r)
		} else {
			g.Later = append(g.Later, r)
		}
	}
	if g.Closed {
		return g
	}
	switch {
	case out.asks != nil:
		g.Ask = s.question(out)
	case out.signs:
		g.Sign = &signing{Help: v.Header.Help != attempt.NoHelp}
		for _, l := range v.Lacking() {
			g.Sign.Lacks = append(g.Sign.Lacks, sentence(p.Print(bench.Todo{Line: &l}.Message())))
		}
	}
	if len(v.Repeat) > 0 {
		lines := make([]string, len(v.Repeat))
		for i, a := range v.Repeat {
			lines[i] = a.String()
		}
		g.Repeat = strings.Join(lines, "; ")
	}
	for _, r := range v.Rounds {
		g.Rounds = append(g.Rounds, s.together(v, r))
	}
	open := out.group
	switch {
	case open < 0:
		open = int(likeliest(v))
	case open >= firstPart:
		one := s.part(v, bench.Part(open-firstPart))
		g.Part = &one
	}
	for n := bench.Inspecting; n <= bench.Writing; n++ {
		if one := s.group(v, n); len(one.Acts)+len(one.Not) > 0 {
			one.Open = int(n) == open
			g.Groups = append(g.Groups, one)
		}
	}
	return g
}

// likeliest is the group that something is probably done in next.
func likeliest(v bench.View) bench.Group {
	if v.Last != nil && len(v.Stages) == 0 {
		return bench.Measuring
	}
	switch v.At {
	case bench.Inspect:
		return bench.Inspecting
	case bench.PinionPreload:
		return bench.Turning
	case bench.ContactPattern:
		return bench.Measuring
	case bench.Prove:
		return bench.Writing
	}
	return bench.Fitting
}

func spent(st history.Status, allowed scenarios.Budget) string {
	s := fmt.Sprintf("%.0f min", float64(st.Minutes))
	if allowed.Minutes > 0 {
		s += fmt.Sprintf(" of %.0f", float64(allowed.Minutes))
	}
	if st.PartsMinutes > 0 {
		s += fmt.Sprintf(", parts %.0f min", float64(st.PartsMinutes))
	}
	return s
}

// unitOnce leaves out the unit before what parts two amounts, where the second has it too.
func unitOnce(s, between string) string {
	first, second, two := strings.Cut(s, between)
	number, unit, has := strings.Cut(first, " ")
	if !two || !has || !strings.HasSuffix(second, " "+unit) {
		return s
	}
	return number + between + second
}

// row writes a line of the paper.
func (s *sitting) row(it bench.Item) row {
	p := s.pen.Printer
	r := row{Name: p.Print(it.Name), Spec: unitOnce(p.Print(it.SpecMessage()), " to "), Read: unitOnce(p.Print(it.ReadMessage()), " +/- "), State: p.Print(it.StateMessage())}
	switch {
	case it.State == bench.Stale:
		r.Class = stale
	case it.State == bench.Fresh && it.Spec && it.Side() != 0:
		r.Class = bad
	case it.State == bench.Fresh && it.Spec:
		r.Class = good
	}
	return r
}

// shown fills in what was done last, or how to begin.
func (g *benchPage) shown(s *sitting, v bench.View, out said) {
	p, all := s.pen.Printer, s.bench.Shown()
	if v.Entering && len(all) > 0 {
		g.Hello = []string{"Now: " + sentence(p.Print(v.At.Name())) + " " + p.Print(v.At.Purpose())}
		if !v.Toward.IsZero() {
			g.Hello = append(g.Hello, p.Print(v.Toward))
		}
	}
	if len(all) == 0 {
		if why, ok := s.bench.Fading(); ok {
			g.Hello = append(g.Hello, p.Print(why))
		}
		if len(v.Stages) > 0 {
			g.Hello = append(g.Hello, p.Print(v.At.Purpose()))
		}
		g.Hello = append(g.Hello, "Read the job card first. Then choose what to do below.")
		g.Say = strings.Join(slices.Concat(g.Notes, g.Back, g.Hello), " ")
		return
	}
	from := min(out.from, len(all)-1)
	if len(out.notes) > 0 || out.asks != nil || out.signs {
		from = len(all) - 1
	}
	words := slices.Clone(g.Notes)
	words = append(words, g.Back...)
	coached := s.bench.Words()
	for i, o := range all[from:] {
		one := s.shown(v, o)
		if k := from + i; k < len(coached) && s.bench.Says(coached[k]) {
			one.Coach = s.coaching(coached[k])
			words = append(words, one.Coach.Said, one.Coach.Then)
		}
		g.Shown = append(g.Shown, one)
		words = append(words, one.Title+".", one.Told, strings.Join(one.Lines, " "))
		for _, f := range one.Pattern {
			words = append(words, f.Words)
		}
	}
	work, parts := s.bench.UsedUp()
	if work {
		g.Over = append(g.Over, fmt.Sprintf("The %.0f minutes of work allowed are used up. You can finish the job; the debrief counts the extra time.", float64(v.Card.Budget.Minutes)))
	}
	if parts {
		g.Over = append(g.Over, fmt.Sprintf("The %.0f minutes' worth of parts allowed are used up. You can finish the job; the debrief counts the extra parts.", float64(v.Card.Budget.Parts)))
	}
	g.Say = strings.Join(strings.Fields(strings.Join(append(words, g.Over...), " ")), " ")
}

// coaching is what the coach says of an act, and the reckoning behind it.
func (s *sitting) coaching(w coach.Word) *coaching {
	out := &coaching{Class: good, Why: say(s.pen.Printer, w.Reckoning())}
	if w.Lost() > coach.Sound {
		out.Class = bad
	}
	for i, m := range w.Messages() {
		if i == 0 {
			out.Said = s.pen.Print(m)
		} else {
			out.Then = s.pen.Print(m)
		}
	}
	return out
}

// shown is one act with what it showed.
func (s *sitting) shown(v bench.View, o history.Step) shown {
	p := s.pen.Printer
	out := shown{Title: fmt.Sprintf("Act %d: %s", o.After.Acts, o.Act), Caution: p.Print(o.Caution.Message())}
	for _, it := range v.Paper {
		if it.Spec && it.Step == o.After.Acts && it.State == bench.Fresh {
			r := s.row(it)
			out.Told, out.Class = fmt.Sprintf("Spec %s: %s.", r.Spec, r.State), r.Class
			break
		}
	}
	wide := s.pen
	wide.Width, wide.Color = 1<<12, false
	for _, r := range o.Readings {
		if len(r.Patterns) == 0 {
			out.Lines = append(out.Lines, sentence(strings.Join(strings.Fields(view.Reading(r, wide)), " ")))
			if drawn := s.instrument(v, r); drawn != "" {
				out.Tool = append(out.Tool, template.HTML(drawn))
			}
			continue
		}
		height := v.Card.Family.Sheet.PatternHeight
		for _, q := range r.Patterns {
			words := sentence(picture.Words(q))
			out.Pattern = append(out.Pattern, flank{q.Flank + " side", words, template.HTML(picture.TeethLive(q)), template.HTML(picture.FlankLive(q, height.LowMM, height.HighMM))})
		}
		out.Key = p.Print(text.Say("web.pattern.key", "Dark: compound untouched. Light: rubbed. Cross: center of the pattern. Dashed lines: the specification of its height."))
	}
	for _, f := range o.Feels {
		out.Lines = append(out.Lines, sentence(p.Print(f.Message())))
	}
	if len(out.Lines) == 0 && len(out.Pattern) == 0 {
		out.Lines = []string{sentence("done: " + strings.Join(say(p, v.Standing()), "; "))}
		if o.Act.Form == act.ExpectValue {
			out.Lines = []string{"Noted."}
		}
	}
	return out
}

// instrument draws what a reading was read on; "" where words say it all.
func (s *sitting) instrument(v bench.View, r gauge.Reading) string {
	p := s.pen.Printer
	metric := p.Units() == quantity.Metric
	words := strings.Join(strings.Fields(view.Reading(r, s.pen)), " ")
	switch {
	case len(r.Torques) > 0:
		nut := r.Kind == gauge.NutTorque || r.Kind == gauge.NutLoosening
		unit := "lb-in"
		show := func(t quantity.Torque) float64 {
			switch {
			case metric:
				return t.NewtonMetres()
			case nut:
				return t.FootPounds()
			}
			return t.InchPounds()
		}
		switch {
		case metric:
			unit = "N m"
		case nut:
			unit = "lb-ft"
		}
		low, high := 0.0, 0.0
		for _, it := range v.Paper {
			if it.ID == r.Kind.String() {
				low, high = show(quantity.Torque(it.Low)), show(quantity.Torque(it.High))
			}
		}
		return picture.NewScale(low, high, show(r.Torques[0]), show(r.Torques[len(r.Torques)-1])).Live(r.Tool == gauge.StringAndScale, unit, words)
	case len(r.Lengths) > 0 && r.Tool == gauge.DialIndicator:
		mean, _, _ := r.Summary()
		if metric {
			const turn = 0.4
			return picture.DialLive(mean.MM(), turn, [4]string{"0", ".1", ".2", ".3"}, words)
		}
		const turn = 0.020
		return picture.DialLive(mean.Inches(), turn, [4]string{"0", ".005", ".010", ".015"}, words)
	}
	return ""
}

// question asks what is expected of the act that waits.
func (s *sitting) question(out said) *question {
	q := &question{Act: out.asks[0].String(), Wrong: out.wrong, Answer: out.answer, Group: out.group}
	for _, a := range out.asks {
		q.Lines = append(q.Lines, a.String())
	}
	metric := s.pen.Units() == quantity.Metric
	switch torque := out.asks[0].Form == act.MeasureTorque; {
	case torque && metric:
		q.Unit = "N m"
	case torque:
		q.Unit = "lb-in"
	case metric:
		q.Unit = "mm"
	default:
		q.Unit = "in"
	}
	return q
}
