package cli

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/screen"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/coach"
	"shimwright/grading/cost"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// demoSeed is a job whose axle carries a fault and needs its backlash corrected, so
// that the demonstration shows both.
const demoSeed = 2

func newDemo(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var name, kind, faults, pictures string
	var full bool
	c := &cobra.Command{
		Use:   "demo",
		Short: s.Print(text.Say("cli.demo.watch-whole-job-one", "Watch a whole job with one mistake in it, graded at the end")),
		Long: s.Print(text.Say("cli.demo.watch-experienced-technician-work", `Watch an experienced technician work a whole job and make one mistake, what it cost, and
the grade. On a terminal it plays on the whole screen: space goes on, b goes back, q
leaves. Into a file or a pipe it is a page; --full prints every act, its readings, the
contact patterns and the debrief. It asks nothing, and writes nothing unless --pictures
names a folder.`)),
		Example: "  shimwright demo\n  shimwright demo --family hazel\n  shimwright demo --seed 12 --units metric --pictures patterns",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			a, err := job.Find(name, kind, faults, seed)
			if err != nil {
				return err
			}
			return runDemo(s, a, seed, demoForm{full: full, pictures: pictures}, p)
		},
	}
	addFamilyFlag(s, c, &name)
	addKindFlag(s, c, &kind)
	addFaultsFlag(s, c, &faults)
	c.Flags().Uint64Var(&seed, "seed", demoSeed, "job `NUMBER`")
	c.Flags().StringVar(&pictures, "pictures", "", s.Print(text.Say("cli.demo.also-write-each-contact", "also write each contact pattern as PNG and SVG into this `FOLDER`")))
	c.Flags().BoolVar(&full, "full", false, s.Print(text.Say("cli.demo.every-act-readings-whole", "print every act with its readings, and the whole debrief")))
	l.addFlags(s, c)
	return c
}

// A demonstration is a job that has been worked with one wrong turn in it.
type demonstration struct {
	bench *bench.Bench
	units quantity.System
	told  map[int][]text.Message // what is said before an act, by its number from 1
	views []bench.View           // after each act
	wrong int                    // the act that is the wrong turn; 0: not yet
	why   text.Message           // what is said of it
}

// A wrongTurn is a way to go wrong once, and to say so.
type wrongTurn func(d *demonstration) (technician.Habits, []technician.Policy)

// wrongTurns are tried one after another: not every job has a place for each.
func wrongTurns() []wrongTurn {
	one := func(wrong func(d *demonstration, m technician.Mind, a act.Act) (instead act.Act, say text.Message)) wrongTurn {
		return func(d *demonstration) (technician.Habits, []technician.Policy) {
			return technician.Habits{}, []technician.Policy{{Do: func(m technician.Mind, a act.Act) []act.Act {
				if d.wrong == 0 {
					if instead, say := wrong(d, m, a); !say.IsZero() {
						d.wrong = len(d.bench.Shown()) + 1
						d.why = say
						d.say(say)
						return technician.Instead(instead)
					}
				}
				return technician.Instead(a)
			}}}
		}
	}
	return []wrongTurn{
		func(d *demonstration) (technician.Habits, []technician.Policy) {
			return technician.Habits{WrongMoveOnce: true}, []technician.Policy{{Do: func(_ technician.Mind, a act.Act) []act.Act {
				moves := a.Form == act.FitSideShims || a.Form == act.TurnRingGearAdjuster || a.Form == act.TurnOppositeAdjuster
				n := len(d.bench.Shown()) + 1
				for _, m := range d.told[n] {
					if m.Code() == "technician.backlash.wrong-way" {
						d.why = m
					}
				}
				if moves && d.wrong == 0 && !d.why.IsZero() {
					d.wrong = n
				}
				return technician.Instead(a)
			}}}
		},
		one(wrongSides), one(wrongAdjuster), one(wrongDepth), one(wrongNut), one(wrongParts), opensFirst,
	}
}

// opensFirst takes the case out of an axle that is together before anything is read of it.
func opensFirst(d *demonstration) (technician.Habits, []technician.Policy) {
	return technician.Habits{}, []technician.Policy{{Do: func(m technician.Mind, a act.Act) []act.Act {
		if d.wrong > 0 || !m.Status.CaseIn {
			return technician.Instead(a)
		}
		d.wrong = len(d.bench.Shown()) + 1
		d.why = text.Say("demo.wrong.opens", "(The case comes out here before anything is read of it, to show what that costs.)")
		d.say(d.why)
		acts := []act.Act{{Form: act.RemoveCase}}
		if m.Known.Design.Entry == family.Spreader {
			const share = 0.85
			acts = append(acts, act.Act{Form: act.SpreadHousing, Amounts: []quantity.Entered{{Number: share * m.Known.Sheet.SpreadLimitMM, Unit: quantity.UnitMM}}})
		}
		return append(acts, act.Act{Form: act.FitCase}, act.Act{Form: act.TorqueCaps}, a)
	}}}
}

// off is an amount some steps away.
func off(e quantity.Entered, steps, stepMM float64) quantity.Entered {
	l, _ := e.Length()
	e.Number *= (l.MM() + steps*stepMM) / l.MM()
	const places = 1e4
	e.Number = math.Round(e.Number*places) / places
	return e
}

func wrongSides(_ *demonstration, m technician.Mind, a act.Act) (act.Act, text.Message) {
	if a.Form != act.FitSideShims || !m.Did(act.FitSideShims) && m.Known.Design.Entry != family.Spreader {
		return a, text.Message{}
	}
	const steps = 4
	step := m.Known.Sheet.SideShims.StepMM
	a.Amounts = []quantity.Entered{off(a.Amounts[0], steps, step), off(a.Amounts[1], -steps, step)}
	return a, text.Say("demo.wrong.sides", "(The thicker shim goes on the wrong side here, to show what that does.)")
}

func wrongAdjuster(_ *demonstration, m technician.Mind, a act.Act) (act.Act, text.Message) {
	if a.Form != act.TurnRingGearAdjuster || m.Did(act.TurnRingGearAdjuster) {
		return a, text.Message{}
	}
	const notches = 3
	a.Amounts = []quantity.Entered{{Number: a.Amounts[0].Number + notches, Unit: a.Amounts[0].Unit}}
	return a, text.Say("demo.wrong.adjuster", "(This adjuster goes too far here, to show what that does.)")
}

func wrongDepth(_ *demonstration, m technician.Mind, a act.Act) (act.Act, text.Message) {
	stock := m.Known.Sheet.DepthShims
	if a.Form != act.FitDepthShim || m.Did(act.FitDepthShim) {
		return a, text.Message{}
	}
	const steps = 8
	way := float64(steps)
	if l, _ := a.Amounts[0].Length(); l.MM()+way*stock.StepMM > stock.HighMM {
		way = -way
	}
	a.Amounts = []quantity.Entered{off(a.Amounts[0], way, stock.StepMM)}
	return a, text.Say("demo.wrong.depth", "(The mark is read with the wrong sign here, to show what that does.)")
}

func wrongNut(_ *demonstration, m technician.Mind, a act.Act) (act.Act, text.Message) {
	if a.Form != act.TightenNutAngle || !m.Did(act.MeasureTorque) {
		return a, text.Message{}
	}
	const tooFar = 40
	a.Amounts = []quantity.Entered{{Number: a.Amounts[0].Number + tooFar, Unit: quantity.UnitDegree}}
	return a, text.Say("demo.wrong.nut", "(The nut goes too far at once here, to show what that does.)")
}

// wrongParts throws away what is good; there is a place for it on every job.
func wrongParts(_ *demonstration, _ technician.Mind, a act.Act) (act.Act, text.Message) {
	if a.Form != act.InspectBearings && a.Form != act.InspectSeal {
		return a, text.Message{}
	}
	return act.Act{Form: act.ReplaceBearings}, text.Say("demo.wrong.parts", "(The bearings are replaced without being inspected here, to show what that costs.)")
}

// Status is that of the bench.
func (d *demonstration) Status() history.Status { return d.bench.Status() }

// Do does an act and keeps what is to be seen after it.
func (d *demonstration) Do(a act.Act) (history.Step, error) {
	o, err := d.bench.Do(a)
	if err == nil {
		d.views = append(d.views, d.bench.View(d.units))
	}
	return o, err
}

func (d *demonstration) say(m text.Message) {
	n := len(d.bench.Shown()) + 1
	d.told[n] = append(d.told[n], m)
}

// leastPrice is what a wrong turn costs at least, minutes, to be worth showing.
const leastPrice = 5.0

// price is what the coach says that the wrong turn cost; it may show an act or two later, when
// what was chosen goes in.
func (d *demonstration) price() (word coach.Word) {
	if d.wrong <= 0 {
		return coach.Word{}
	}
	const later = 3
	words := d.bench.Words()
	for _, w := range words[d.wrong-1 : min(len(words), d.wrong+later)] {
		if w.Lost() > word.Lost() {
			word = w
		}
	}
	return word
}

// demonstrate works a job with the first wrong turn that costs something on it. Errors: a job
// that cannot be made or finished.
func demonstrate(a job.Asked, seed uint64, units quantity.System) (*demonstration, error) {
	var dear, dearest *demonstration
	var failed error
	for _, turn := range wrongTurns() {
		b, err := bench.Open(attempt.New(attempt.Terms{Help: attempt.CoachHelp}, a.Order(), a.Text, seed, units))
		if err != nil {
			return nil, err
		}
		d := &demonstration{bench: b, units: units, told: map[int][]text.Message{}}
		habits, policies := turn(d)
		habits.Say = d.say
		if err := technician.WorkBy(d, b.Card().Known, habits, policies...); err != nil {
			failed = err
			continue
		}
		if price := d.price().Lost(); price >= leastPrice {
			if d.plain() {
				return d, nil
			}
			dear = cmp.Or(dear, d)
		}
		if dearest == nil || d.price().Lost() > dearest.price().Lost() {
			dearest = d
		}
	}
	if dear = cmp.Or(dear, dearest); dear == nil {
		return nil, failed
	}
	return dear, nil
}

// plain tells whether what would have been cheaper is the same act done right, and nothing
// else that this job has in store.
func (d *demonstration) plain() bool {
	ds := d.price().Decisions
	form, _, _ := strings.Cut(d.bench.Shown()[d.wrong-1].Act.Form.String(), " {")
	return len(ds[0].Alternatives) > 0 && strings.HasPrefix(ds[0].Alternatives[0].What, form)
}

// demoForm is how a demonstration is shown.
type demoForm struct {
	full     bool   // printed whole
	pictures string // folder for the contact patterns; "": none
	play     screen.Player
}

func runDemo(s term.Streams, a job.Asked, seed uint64, form demoForm, p view.Pen) error {
	d, err := demonstrate(a, seed, p.Units())
	if err != nil {
		return err
	}
	if form.pictures != "" {
		for i, o := range d.bench.Shown() {
			if err := store.SavePatterns(s.Printer, form.pictures, fmt.Sprintf("%s-act-%d", a.Short(seed), i+1), o); err != nil {
				return err
			}
		}
	}
	graded, err := d.bench.Debrief(cost.Default(), p.Units(), false)
	if err != nil {
		return err
	}
	graded.Coached = nil // nobody was taught
	with := view.DebriefWith{Printer: p.Printer, Again: practice.Again(a, p), Body: form.full}
	said := view.NewDebrief(graded, with)
	switch {
	case s.Moves && !form.full:
		closing, err := said.Text(p.In(p.Units()))
		if err != nil {
			return err
		}
		s.Flush()
		return screen.PlayReel(screen.NewReel(d.scenes(p), strings.Split(closing, "\n"), p.Printer, p.Color), s, form.play)
	case form.full:
		return d.printWhole(s, said, p)
	}
	return d.printShort(s, said, a.Practice(seed), p)
}

// scenes are what is on the bench after each act.
func (d *demonstration) scenes(p view.Pen) []screen.Scene {
	var out []screen.Scene
	for i, o := range d.bench.Shown() {
		sc := screen.Scene{View: d.views[i], Printer: p.Printer, Shown: []history.Step{o}}
		if w := d.views[i].Word; w != nil {
			sc.Words = []coach.Word{*w}
		}
		for _, m := range d.told[i+1] {
			sc.Told = append(sc.Told, p.Print(m))
		}
		out = append(out, sc)
	}
	return out
}

// mostShort is how many lines a demonstration has at most that is not printed whole.
const mostShort = 60

// printShort writes what was done, stage by stage, the wrong turn and its price, the last
// contact pattern where there is room, and what is said first of the grade.
// again is the command that would start the same job.
func (d *demonstration) printShort(s term.Streams, said view.Debrief, again string, p view.Pen) error {
	var b, pattern, end strings.Builder
	tell := func(to *strings.Builder, indent string, m text.Message) {
		to.WriteString(view.Wrap(p.Print(m), p.Width, indent))
	}
	b.WriteString(p.Heading(said.Job))
	for at, i := 0, 0; i < len(d.views); at = i {
		stage := d.stageBefore(i)
		for i < len(d.views) && d.stageBefore(i) <= stage && !(i > at && d.views[i].Status.Pinion == history.PinionOut && d.stageBefore(i) < stage) {
			i++
		}
		b.WriteString(view.Hang(p.Print(text.Say("demo.stage", "{stage}, to minute {minutes}: {acts}.", text.Of("stage", stage.Name()),
			text.Number("minutes", float64(d.views[i-1].Status.Minutes), 0), text.Typed("acts", d.acts(at, i)))), p.Width, "", "  "))
	}
	if w := d.price(); w.Spoken() {
		b.WriteString("\n" + view.Wrap(p.Strong(p.Print(text.Say("demo.wrong", "The wrong turn"))), p.Width, ""))
		tell(&b, "  ", text.Say("demo.wrong.at", "Act {n}: {act}", text.Count("n", w.Act), text.Typed("act", d.bench.Shown()[w.Act-1].Act.String())))
		for _, m := range slices.Concat([]text.Message{d.why}, w.Messages()) {
			tell(&b, "  ", m)
		}
	}
	end.WriteString("\n" + p.Heading(said.Title))
	for _, first := range said.First {
		end.WriteString(view.Hang(first, p.Width, "  - ", "    "))
	}
	if l := said.Lesson; l != nil {
		tell(&end, "  ", text.Say("demo.lesson", "Lesson: {title}. To try it: {command}", text.Typed("title", l.Title), text.Typed("command", l.Again)))
	}
	tell(&end, "", text.Say("demo.full", "Every act with its readings, and the whole debrief: {command}", text.Typed("command", p.Command(strings.Replace(again, "practice", "demo --full", 1)))))
	if o, ok := d.bench.LastPattern(); ok {
		pattern.WriteString("\n" + view.AtMinute(o.After.Minutes, o.Act, p) + view.Outcome(o, p))
	}
	out := b.String() + pattern.String() + end.String()
	if strings.Count(out, "\n") > mostShort {
		out = b.String() + end.String()
	}
	_, err := io.WriteString(s.Out, out)
	return err
}

// stageBefore is the stage that the job stood at before an act, counted from 0.
func (d *demonstration) stageBefore(i int) bench.Stage {
	if i == 0 {
		return d.views[0].Stages[0]
	}
	return d.views[i-1].At
}

// acts are those from one up to another, the same one after another once.
func (d *demonstration) acts(from, to int) string {
	var out []string
	shown := d.bench.Shown()
	for i := from; i < to; {
		n := 1
		writes := shown[i].Act.Form == act.RecordValue
		for i+n < to && (shown[i+n].Act.String() == shown[i].Act.String() || writes && shown[i+n].Act.Form == act.RecordValue) {
			n++
		}
		line := shown[i].Act.String()
		if writes {
			line = "record"
		}
		if n > 1 {
			line += " x" + strconv.Itoa(n)
		}
		out = append(out, line)
		i += n
	}
	return strings.Join(out, "; ")
}

// printWhole writes every act with all that it showed, and the debrief.
func (d *demonstration) printWhole(s term.Streams, said view.Debrief, p view.Pen) error {
	fmt.Fprint(s.Out, view.Card(d.bench.Card(), p))
	fmt.Fprintln(s.Out)
	for i, o := range d.bench.Shown() {
		for _, m := range d.told[i+1] {
			fmt.Fprint(s.Out, "\n"+view.Wrap(p.Print(m), p.Width, ""))
		}
		fmt.Fprint(s.Out, view.AtMinute(o.After.Minutes, o.Act, p))
		fmt.Fprint(s.Out, view.Outcome(o, p))
	}
	fmt.Fprintln(s.Out)
	text, err := said.Text(p)
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(s.Out, text)
	return err
}
