// Package practice is a job worked at the bench in typed lines: an act a line, and words
// that help. A person is answered; a script stops at the first line that cannot be done.
package practice

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/line"
	"shimwright/cmd/internal/screen"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Sitting is what a person asks to sit down to. What is named must be what the attempt
// file holds, if it is there already; what is not named is taken from it.
type Sitting struct {
	Streams term.Streams
	Pen     view.Pen
	Path    string // of the attempt file
	Seed    uint64
	Axle    job.Asked
	Order   scenarios.Order // of a job that is begun anew
	Terms   attempt.Terms   // and what it is begun on
	Mend    bool            // goes on from a troubled file
	Named   Named
	Lines   bool          // typed lines, also where the terminal could show the full screen
	Play    screen.Player // nil: the process's own terminal

	Pictures bool // a script may save pictures; a person may in any case
}

// Named tells what was asked for by name.
type Named struct{ Units, Seed, Family, Kind, Faults bool }

// Run sits a person down at the bench, or a script in the place of one, until the job is
// signed off or left.
func Run(a Sitting) error {
	x, file, err := open(a)
	if err != nil {
		return err
	}
	defer file.Close()
	if x.Status().SignedOff {
		return exit.Usage(x.closed())
	}
	if a.Streams.Person || a.Streams.Moves { // a script has no last jobs
		if err := x.seen(); err != nil {
			return err
		}
	}
	return x.rescued(x.work(a))
}

// work is the sitting itself.
func (x *session) work(a Sitting) error {
	if a.Streams.Moves && !a.Lines {
		return x.fullScreen(a.Play)
	}
	x.greet()
	if a.Streams.Person { // a script does what it says
		x.fading()
		if err := x.example(); err != nil {
			return err
		}
	}
	x.enter()
	switch err := line.Run(a.Streams, x); {
	case errors.Is(err, line.ErrLeft):
		x.left()
		return nil
	case errors.Is(err, line.ErrTooLong):
		return text.Fail(err, text.Say("practice.for-act-acts-before", "{why} for an act (the acts before it are kept in {path})", text.Cause("why", err), text.Typed("path", x.path)))
	default:
		return err
	}
}

// rescued writes all acts to another file where the attempt's own is gone or has been written
// to by something else, so that none is lost with it.
func (x *session) rescued(err error) error {
	if !errors.Is(err, store.ErrElsewhere) {
		return err
	}
	whole, errBytes := x.Whole()
	if errBytes != nil {
		return errors.Join(err, errBytes)
	}
	beside, errWrite := store.Rescue(x.path, whole)
	if errWrite != nil {
		return errors.Join(err, errWrite)
	}
	return text.Fail(err, text.Say("practice.all-acts-this-one", "{why}; all acts, this one too, are now in {beside}: go on with practice --record {beside2}", text.Cause("why", err), text.Typed("beside", beside), text.Typed("beside2", term.Quote(beside))))
}

// left says where the attempt is and how to go on with it.
func (x *session) left() {
	x.say("%s  %s\n", view.Wrap(x.s.Print(text.Say("practice.attempt-kept-go-type", "The attempt is kept in {path}. To go on, type:", text.Typed("path", x.path))), x.pen.Width, ""), x.command("practice --record"))
}

// fullScreen works the job on the whole of the terminal.
func (x *session) fullScreen(play screen.Player) error {
	x.s.Flush()
	in := func(units quantity.System, width int) view.Pen {
		pen := x.pen.In(units)
		pen.Width, pen.Color = term.Clamp(width), false
		return pen
	}
	m := screen.New(x.Bench, x.pen.Printer, x.pen.Color, screen.Texts{
		Card: func(units quantity.System, width int) string { return view.Card(x.Card(), in(units, width)) },
		Closing: func(units quantity.System, width int) (string, error) {
			var told strings.Builder
			y := *x
			y.s.Out, y.pen = &told, in(units, width)
			err := y.debrief()
			return told.String(), err
		},
	})
	shown, err := x.ShowStage()
	if err != nil {
		return err
	}
	m.Example(shown)
	err = screen.Run(m, x.s, play)
	switch {
	case err != nil:
	case x.Status().SignedOff:
		x.kept()
	default:
		x.left()
	}
	return err
}

// open begins a new attempt file or takes up an old one.
func open(a Sitting) (*session, *store.File, error) {
	rec, err := store.ReadExact(a.Path)
	if errors.Is(err, os.ErrNotExist) {
		return begin(a)
	}
	troubled := err != nil
	if troubled && !errors.Is(err, attempt.ErrCutShort) {
		if whole, errWhole := store.Read(a.Path); errWhole == nil {
			rec = whole // saved by an editor: nothing is lost
		}
	}
	switch {
	case troubled && rec != nil && !a.Mend && !errors.Is(err, attempt.ErrCutShort):
		return nil, nil, text.Fail(err, text.Say("practice.mend-goes-from-there", "{why}; --mend goes on from there and keeps the file as it is beside the new one", text.Cause("why", err)))
	case troubled && rec == nil:
		return nil, nil, err
	}
	if err := a.mismatch(rec.Header); err != nil {
		return nil, nil, exit.Usage(text.Fail(err, text.Say("practice.holds", "{path} holds {why}", text.Typed("path", a.Path), text.Cause("why", err))))
	}
	if troubled {
		if _, err := bench.Open(rec); err != nil { // before anything is changed
			return nil, nil, fmt.Errorf("%s: %w", a.Path, err)
		}
	}
	x := &session{pictures: a.Pictures, s: a.Streams, pen: a.Pen, path: a.Path, axle: job.Of(rec.Header)}
	if a.Named.Family {
		x.axle.Name = a.Axle.Name
	}
	if !a.Named.Units {
		x.pen = x.pen.In(rec.Header.Units)
	}
	if troubled && a.Mend {
		if x.aside, err = store.Mend(a.Path, rec); err != nil {
			return nil, nil, err
		}
	}
	file, rec, torn, err := store.Open(a.Path)
	if err != nil {
		return nil, nil, err
	}
	x.torn = torn > 0
	if x.Bench, err = bench.Open(rec); err != nil {
		return nil, nil, errors.Join(fmt.Errorf("%s: %w", a.Path, err), file.Close())
	}
	x.Keep(file)
	x.Clock(a.Streams.Clock)
	return x, file, nil
}

func begin(a Sitting) (*session, *store.File, error) {
	rec := attempt.New(a.Terms, a.Order, a.Axle.Text, a.Seed, a.Pen.Units())
	if a.Streams.Clock != nil {
		earlier, err := store.Tries(filepath.Dir(a.Path), rec.Header)
		if err != nil {
			return nil, nil, err
		}
		rec.BeginAt(attempt.Begin{At: a.Streams.Clock(), Earlier: earlier})
	}
	b, err := bench.Open(rec)
	if err != nil {
		return nil, nil, err
	}
	file, err := store.Create(a.Path, rec)
	if err != nil {
		return nil, nil, err
	}
	b.Keep(file)
	b.Clock(a.Streams.Clock)
	return &session{pictures: a.Pictures, Bench: b, s: a.Streams, pen: a.Pen, path: a.Path, axle: a.Axle}, file, nil
}

// mismatch says what an attempt file holds instead of what was named; nil where it holds
// that.
func (a Sitting) mismatch(h attempt.Header) error {
	held := job.Of(h)
	how := text.Message{}
	if a.Named.Family {
		how = held.Differs(a.Axle)
	}
	switch {
	case a.Named.Seed && h.Seed != a.Seed:
		return text.Fail(nil, text.Say("practice.job-not-job-leave", "job {seed}, not job {seed2}: leave --seed out or name another --record", text.Typed("seed", fmt.Sprint(h.Seed)), text.Typed("seed2", fmt.Sprint(a.Seed))))
	case !how.IsZero():
		return text.Fail(nil, text.Say("practice.job-leave-family-out", "a job {how}: leave --family out or name another --record", text.Of("how", how)))
	case a.Named.Kind && held.Kind != a.Axle.Kind:
		return text.Fail(nil, text.Say("practice.job-kind-not-leave", "a job of kind {kind}, not {kind2}: leave --kind out or name another --record", text.Typed("kind", held.Kind.String()), text.Typed("kind2", a.Axle.Kind.String())))
	case a.Named.Faults && !reflect.DeepEqual(held.Faults, a.Axle.Faults):
		return text.Fail(nil, text.Say("practice.job-another-choice-faults", "a job with another choice of faults: leave --faults out or name another --record"))
	case a.Terms.Exercise != "" && h.Exercise != a.Terms.Exercise:
		return text.Fail(nil, text.Say("practice.no-job-exercise-name", "no job of the exercise {exercise}: name another --record", text.Typed("exercise", a.Terms.Exercise)))
	}
	return nil
}

// greet shows where the job stands, or what it is.
func (x *session) greet() {
	if x.aside != "" {
		x.say("%s\n\n", x.s.Print(text.Say("practice.troubled-file-kept-as", "The troubled file is kept as {aside}.", text.Typed("aside", x.aside))))
	}
	if x.torn {
		x.wrap("", "%s", x.s.Print(text.Say("practice.last-line-was-torn", "The last line of {path} was torn, as by a full disk or a power cut. It is cut off; every act before it is there.", text.Typed("path", x.path))))
		x.say("\n")
	}
	h := x.Header()
	if n := len(x.Shown()); n > 0 {
		x.say("%s", x.pen.Heading(x.pen.Print(text.Say("practice.taken-up", "Job {number} on {family}, taken up again after {n} {n:act|acts}",
			text.Typed("number", fmt.Sprint(h.Seed)), text.Typed("family", x.axle.Code), text.Count("n", n)))))
		x.wrap("", "%s.", x.status())
		x.wrap("", "%s", x.s.Print(text.Say("practice.words-help-now-known", "Words that help: now, known, spent, card, help.")))
		return
	}
	prose, _ := view.CardPart(x.Card(), view.CardParts(x.axle.Kind)[0], x.pen)
	x.say("%s", prose)
	begin := ""
	if h.Help.Gives(attempt.FullHelp) {
		begin = x.s.Print(text.Say("practice.begin-type-press-enter", "To begin, type {first_act} and press Enter. ", text.Typed("first_act", x.firstAct())))
	}
	if h.Exercise == "" {
		x.say("\n")
	}
	if view.StartsBare(x.axle.Kind) && h.Exercise == "" {
		x.wrap("", "%s", x.s.Print(text.Say("practice.words-help", "{begin}Words that help:", text.Typed("begin", begin))))
		x.explain("now", x.s.Print(text.Say("practice.what-can-be-done", "what can be done at this moment, and how to write it")))
		x.explain("card", x.s.Print(text.Say("practice.this-page-for-rest", "this page; for the rest {card_part_words}", text.Typed("card_part_words", x.cardPartWords()))))
		x.explain("help", x.s.Print(text.Say("practice.how-acts-written-all", "how acts are written, and all other words")))
		x.explain("leave", x.s.Print(text.Say("practice.stop-go-later-kept", "stop and go on later; kept in {path}", text.Typed("path", x.path))))
		return
	}
	// A page with more on it has room for the words alone.
	words := []string{x.cardPartWords(), "help", x.s.Print(text.Say("practice.leave-kept", "leave (kept in {path})", text.Typed("path", x.path)))}
	if x.helps(attempt.LittleHelp) == nil {
		words = append([]string{"now"}, words...)
	}
	x.wrap("", "%s%s", view.Terms(h.Terms, x.pen), x.s.Print(text.Say("practice.words-help-2", "{begin}Words that help: {words}.", text.Typed("begin", begin), text.Typed("words", strings.Join(words, ", ")))))
}
