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
		return fmt.Errorf("%w for an act (the acts before it are kept in %s)", err, x.path)
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
	return fmt.Errorf("%w; all acts, this one too, are now in %s: go on with practice --record %s", err, beside, term.Quote(beside))
}

// left says where the attempt is and how to go on with it.
func (x *session) left() {
	x.say("%s  %s\n", view.Wrap(fmt.Sprintf("The attempt is kept in %s. To go on, type:", x.path), x.pen.Width, ""), x.command("practice --record"))
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
		return nil, nil, fmt.Errorf("%w; --mend goes on from there and keeps the file as it is beside the new one", err)
	case troubled && rec == nil:
		return nil, nil, err
	}
	if err := a.mismatch(rec.Header); err != nil {
		return nil, nil, exit.Usage(fmt.Errorf("%s holds %w", a.Path, err))
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
	how := ""
	if a.Named.Family {
		how = held.Differs(a.Axle)
	}
	switch {
	case a.Named.Seed && h.Seed != a.Seed:
		return fmt.Errorf("job %d, not job %d: leave --seed out or name another --record", h.Seed, a.Seed)
	case how != "":
		return fmt.Errorf("a job %s: leave --family out or name another --record", how)
	case a.Named.Kind && held.Kind != a.Axle.Kind:
		return fmt.Errorf("a job of kind %s, not %s: leave --kind out or name another --record", held.Kind, a.Axle.Kind)
	case a.Named.Faults && !reflect.DeepEqual(held.Faults, a.Axle.Faults):
		return errors.New("a job with another choice of faults: leave --faults out or name another --record")
	case a.Terms.Exercise != "" && h.Exercise != a.Terms.Exercise:
		return fmt.Errorf("no job of the exercise %s: name another --record", a.Terms.Exercise)
	}
	return nil
}

// greet shows where the job stands, or what it is.
func (x *session) greet() {
	if x.aside != "" {
		x.say("The troubled file is kept as %s.\n\n", x.aside)
	}
	if x.torn {
		x.wrap("", "The last line of %s was torn, as by a full disk or a power cut. It is cut off; every act before it is there.", x.path)
		x.say("\n")
	}
	h := x.Header()
	if n := len(x.Shown()); n > 0 {
		acts := "acts"
		if n == 1 {
			acts = "act"
		}
		x.say("%s", x.pen.Heading(fmt.Sprintf("Job %d on %s, taken up again after %d %s", h.Seed, x.axle.Code, n, acts)))
		x.wrap("", "%s.", x.status())
		x.wrap("", "Words that help: now, known, spent, card, help.")
		return
	}
	text, _ := view.CardPart(x.Card(), view.CardParts(x.axle.Kind)[0], x.pen)
	x.say("%s", text)
	x.say("%s", view.Terms(h.Terms, x.pen))
	begin := ""
	if h.Help.Gives(attempt.FullHelp) {
		begin = fmt.Sprintf("To begin, type %s and press Enter. ", x.firstAct())
	}
	x.say("\n")
	if view.StartsBare(x.axle.Kind) && h.Exercise == "" {
		x.wrap("", "%sWords that help:", begin)
		x.explain("now", "what can be done at this moment, and how to write it")
		x.explain("card", "this page; for the rest "+x.cardPartWords())
		x.explain("help", "how acts are written, and all other words")
		x.explain("leave", fmt.Sprintf("stop and go on later; kept in %s", x.path))
		return
	}
	// A page with more on it has room for the words alone.
	words := []string{x.cardPartWords(), "help", fmt.Sprintf("leave (kept in %s)", x.path)}
	if x.helps(attempt.LittleHelp) == nil {
		words = append([]string{"now"}, words...)
	}
	x.wrap("", "%sWords that help: %s.", begin, strings.Join(words, ", "))
}
