package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

func newPractice(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var name, kind, faults, record string
	var mend bool
	c := &cobra.Command{
		Use:   "practice",
		Short: "Work a job of your own",
		Long: `Work a job at the bench, one act a line. Type now to see what can be done, help for
the rest. Each act is written to the attempt file before the next is asked for;
leaving, Ctrl-C or a lost terminal loses nothing: the same command takes up where it
stopped.

Before something is read again after a change you are asked what you expect to read.
Enter skips that; it is no part of the grade.

Acts may also come from a file or a pipe, one a line; a line that begins with # is
passed over. A script stops at the first act that cannot be done.

The axle is of the family named, which the attempt file keeps. With --family any the
job's number picks one: its card says how it is built. With --kind it is a part of the
job (depth, preload, sides), the print of an axle that is together, or an axle that
another hand has finished. With --faults none the parts are sound.`,
		Example: "  shimwright practice\n  shimwright practice --seed 7 --units metric\n  shimwright practice --family hazel\n  shimwright practice --kind depth --seed 7\n  shimwright practice --seed 7 < acts.txt",
		Args:    takes(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			p, units, err := l.pen(s)
			if err != nil {
				return err
			}
			if !c.Flags().Changed("seed") {
				// The one place where chance comes from outside; the seed is
				// printed and kept in the file. A file that is there already
				// has its own.
				seed = uint64(time.Now().UnixNano()/1000) % 100_000
			}
			a, err := findJob(name, kind, faults, seed)
			if err != nil {
				return err
			}
			if record == "" {
				record = "shimwright-" + a.job(seed) + ".jsonl"
			}
			set := c.Flags().Changed
			session := &session{s: s, pen: p, units: units, unitsSet: set("units"), path: record, seed: seed, seedSet: set("seed"),
				axle: a, axleSet: set("family") && !strings.EqualFold(name, anyFamily), kindSet: set("kind"), faultsSet: set("faults"), order: a.order(), mend: mend}
			return session.run()
		},
	}
	addFamilyFlag(c, &name)
	addKindFlag(c, &kind)
	addFaultsFlag(c, &faults)
	c.Flags().Uint64Var(&seed, "seed", 0, "job `NUMBER` (default: a new one)")
	c.Flags().StringVar(&record, "record", "", "attempt `FILE` (default: shimwright-job-NUMBER.jsonl in this folder; the family's code and the kind for job if they are others)")
	c.Flags().BoolVar(&mend, "mend", false, "go on from the whole acts of a cut-short or damaged attempt file; the old file is kept beside it")
	l.addFlags(c)
	return c
}

// session is one sitting at the bench.
type session struct {
	s         term.Streams
	pen       view.Pen
	units     quantity.System
	unitsSet  bool
	path      string
	seed      uint64
	seedSet   bool
	axle      axle
	axleSet   bool
	kindSet   bool
	faultsSet bool
	order     scenarios.Order // of a job that is begun anew
	terms     attempt.Terms   // and what it is begun on
	mend      bool

	job         scenarios.Job
	stand       *sim.Stand
	rec         *attempt.Record
	file        *os.File
	size        int64
	outs        []sim.Outcome
	lastPattern sim.Outcome
	line        int
	aside       string // where a mended file is kept as it was
	asking      foretelling
}

// errLeft ends a sitting that is to be taken up again.
var errLeft = errors.New("left")

func (x *session) say(format string, args ...any) { fmt.Fprintf(x.s.Out, format, args...) }

func (x *session) run() error {
	if err := x.open(); err != nil {
		return err
	}
	defer x.file.Close()
	if x.stand.Status().SignedOff {
		return usageError{x.closed()}
	}
	x.greet()
	err := x.loop()
	if errors.Is(err, errLeft) {
		x.say("%s  %s\n", view.Wrap(fmt.Sprintf("The attempt is kept in %s. To go on, type:", x.path), x.pen.Width, ""), x.command("practice --record"))
		return nil
	}
	return err
}

// closed says that a job is signed off, and what can be done with it.
func (x *session) closed() error {
	if x.rec.Header.Mode != attempt.Practice {
		return fmt.Errorf("job %d is signed off in %s: the instructor has the rest", x.rec.Header.Seed, x.path)
	}
	return fmt.Errorf("job %d is signed off in %s: read its debrief with: %s (or start afresh with another --record)", x.rec.Header.Seed, x.path, x.command("grade"))
}

// open starts a new attempt file or takes up an old one.
func (x *session) open() error {
	old, err := os.Open(x.path)
	if errors.Is(err, os.ErrNotExist) {
		return x.create()
	}
	if err != nil {
		return usageError{err}
	}
	rec, err := attempt.Read(old)
	old.Close()
	troubled := err != nil
	if troubled && (rec == nil || !x.mend) {
		if rec != nil {
			err = fmt.Errorf("%w; --mend goes on from there and keeps the file as it is beside the new one", err)
		}
		return fmt.Errorf("%s: %w", x.path, err)
	}
	if x.seedSet && rec.Header.Seed != x.seed {
		return usageError{fmt.Errorf("%s holds job %d, not job %d: leave --seed out or name another --record", x.path, rec.Header.Seed, x.seed)}
	}
	held := axleOf(rec.Header)
	if x.axleSet {
		if how := held.differs(x.axle); how != "" {
			return usageError{fmt.Errorf("%s holds a job %s: leave --family out or name another --record", x.path, how)}
		}
		held.name = x.axle.name
	}
	if x.kindSet && held.kind != x.axle.kind {
		return usageError{fmt.Errorf("%s holds a job of kind %s, not %s: leave --kind out or name another --record", x.path, held.kind, x.axle.kind)}
	}
	if x.faultsSet && !reflect.DeepEqual(held.faults, x.axle.faults) {
		return usageError{fmt.Errorf("%s holds a job with another choice of faults: leave --faults out or name another --record", x.path)}
	}
	if x.terms.Exercise != "" && rec.Header.Exercise != x.terms.Exercise {
		return usageError{fmt.Errorf("%s holds no job of the exercise %s: name another --record", x.path, x.terms.Exercise)}
	}
	x.rec, x.axle = rec, held
	if !x.unitsSet {
		x.units = rec.Header.Units
	}
	if x.job, x.stand, x.outs, err = attempt.Replay(rec); err != nil {
		return fmt.Errorf("%s: %w", x.path, err)
	}
	if troubled {
		if x.aside, err = mendFile(x.path, rec); err != nil {
			return err
		}
	}
	if x.file, err = os.OpenFile(x.path, os.O_APPEND|os.O_WRONLY, 0); err != nil {
		return err
	}
	info, err := x.file.Stat()
	if err != nil {
		return err
	}
	x.size = info.Size()
	for _, o := range x.outs {
		x.keepPattern(o)
	}
	return nil
}

func (x *session) create() error {
	job, err := x.order.Generate(x.seed)
	if err != nil {
		return err
	}
	if x.stand, err = job.Stand(); err != nil {
		return err
	}
	x.job = job
	x.rec = attempt.NewOn(x.terms, x.order, x.axle.text, x.seed, x.units)
	f, err := os.OpenFile(x.path, os.O_CREATE|os.O_EXCL|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return usageError{fmt.Errorf("the attempt cannot be kept: %w", err)}
	}
	x.file = f
	if err := x.write(x.rec.HeaderLine()); err != nil {
		// A file without its head could not be taken up again.
		f.Close()
		return errors.Join(err, os.Remove(x.path))
	}
	return nil
}

// mendFile sets a troubled file aside under a name of its own and writes the whole
// acts again. It returns the name of the one set aside.
func mendFile(path string, rec *attempt.Record) (aside string, err error) {
	aside = path + ".before-mending"
	for i := 2; ; i++ {
		if _, err := os.Lstat(aside); errors.Is(err, os.ErrNotExist) {
			break
		}
		aside = fmt.Sprintf("%s.before-mending-%d", path, i)
	}
	whole, err := rec.Bytes()
	if err != nil {
		return "", err
	}
	tmp := path + ".mended"
	if err := os.WriteFile(tmp, whole, 0o600); err != nil {
		return "", err
	}
	if err := os.Rename(path, aside); err != nil {
		return "", err
	}
	return aside, os.Rename(tmp, path)
}

// write appends to the attempt file and makes sure that it is on the disk.
func (x *session) write(line []byte) error {
	info, err := x.file.Stat()
	if err == nil && info.Size() != x.size {
		err = errors.New("something else has written to it; another session has it open")
	}
	if err == nil {
		_, err = x.file.Write(line)
	}
	if err == nil {
		err = x.file.Sync()
	}
	if err != nil {
		return fmt.Errorf("the act could not be kept in %s: %w", x.path, err)
	}
	x.size += int64(len(line))
	return nil
}

func (x *session) greet() {
	if x.aside != "" {
		x.say("The troubled file is kept as %s.\n\n", x.aside)
	}
	if len(x.outs) > 0 {
		acts := "acts"
		if len(x.outs) == 1 {
			acts = "act"
		}
		x.say("%s", x.pen.Heading(fmt.Sprintf("Job %d on %s, taken up again after %d %s", x.rec.Header.Seed, x.axle.Code, len(x.outs), acts)))
		x.say("%s", view.Wrap(x.status()+".", x.pen.Width, ""))
		x.say("%s", view.Wrap("Words that help: now, known, spent, card, help.", x.pen.Width, ""))
		return
	}
	text, _ := view.CardPart(x.job.Card, view.CardParts(x.axle.kind)[0], x.units, x.pen)
	x.say("%s", text)
	x.say("%s", view.Terms(x.rec.Header.Terms, x.pen))
	begin := ""
	if x.rec.Header.Help == attempt.FullHelp {
		begin = fmt.Sprintf("To begin, type %s and press Enter. ", x.firstAct())
	}
	now := x.helps(attempt.LittleHelp) == nil
	if view.StartsBare(x.axle.kind) && x.rec.Header.Exercise == "" {
		x.say("\n%s", view.Wrap(begin+"Words that help:", x.pen.Width, ""))
		x.term("now", "what can be done at this moment, and how to write it")
		x.term("card", "this page; for the rest "+x.cardPartWords())
		x.term("help", "how acts are written, and all other words")
		x.term("leave", fmt.Sprintf("stop and go on later; kept in %s", x.path))
		return
	}
	// A page with more on it has room for the words alone.
	words := []string{x.cardPartWords(), "help", fmt.Sprintf("leave (kept in %s)", x.path)}
	if now {
		words = append([]string{"now"}, words...)
	}
	x.say("\n%s", view.Wrap(begin+"Words that help: "+strings.Join(words, ", ")+".", x.pen.Width, ""))
}

// firstAct is a good act to begin with.
func (x *session) firstAct() string {
	first := map[scenarios.Kind]act.Form{
		scenarios.PreloadJob: act.InspectBearings, scenarios.SidesJob: act.InspectCones, scenarios.PreviousWork: act.InspectShafts,
	}[x.axle.kind] // inspect cups unless it is named
	if x.axle.kind == scenarios.PatternJob || x.stand.WhyNot(first) != "" {
		return "now"
	}
	return first.String()
}

// loop reads lines until the job is signed off, the input ends or the person leaves.
func (x *session) loop() error {
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt)
	defer signal.Stop(interrupts)
	lines, readErr := readLines(x.s.In)
	for {
		if x.s.Person {
			x.say("\n%s", x.prompt())
		}
		flush(x.s.Out)
		select {
		case <-interrupts:
			x.say("\n")
			return errLeft
		case line, more := <-lines:
			if !more {
				if x.s.Person {
					x.say("\n")
				}
				switch err := <-readErr; {
				case errors.Is(err, bufio.ErrTooLong):
					return fmt.Errorf("line %d is far too long for an act (the acts before it are kept in %s)", x.line+1, x.path)
				case err != nil:
					return err
				}
				return errLeft
			}
			x.line++
			done, err := x.take(line)
			if err != nil || done {
				return err
			}
		}
	}
}

// readLines reads in the background so that an interrupt can be answered at once.
func readLines(r io.Reader) (<-chan string, <-chan error) {
	lines, fail := make(chan string), make(chan error, 1)
	go func() {
		defer close(lines)
		sc := bufio.NewScanner(r)
		for sc.Scan() {
			lines <- sc.Text()
		}
		fail <- sc.Err()
	}()
	return lines, fail
}

// take does what one line asks. done is true when the job is closed.
func (x *session) take(line string) (done bool, err error) {
	if x.asking.before != "" {
		return x.answer(line)
	}
	line = strings.TrimSpace(line)
	if line == "" || strings.HasPrefix(line, "#") {
		return false, nil
	}
	if handled, err := x.word(line); handled || err != nil {
		return false, err
	}
	a, err := act.Parse(line, x.units)
	if err != nil {
		if why := notHere(x.axle.Design, line); why != "" {
			err = errors.New(why)
		}
		return false, x.decline(line, err)
	}
	if slices.Contains(x.stand.Possible(), a.Form) && x.foretell(line, a) {
		return false, nil
	}
	return x.do(line, a)
}

// do does an act, keeps it and shows what it showed. done is true when the job is closed.
func (x *session) do(line string, a act.Act) (done bool, err error) {
	o, err := x.stand.Do(a)
	if err != nil {
		var no *sim.Refusal
		if errors.As(err, &no) {
			if sim.NotOnThisAxle(x.axle.Design, a.Form) != "" || x.stand.NotHere(a.Form, a.Choices...) != "" {
				return false, x.decline(line, err)
			}
			return false, x.decline(line, fmt.Errorf("not now: %w", err))
		}
		return false, fmt.Errorf("%s: %w", line, err)
	}
	if err := x.write(x.rec.Add(o)); err != nil {
		return false, err
	}
	x.outs = append(x.outs, o)
	x.keepPattern(o)
	if !x.s.Person {
		x.say("%s", atMinute(x.stand.Status().Minutes, a, x.pen))
	}
	x.say("%s", view.Outcome(o, x.units, x.pen))
	x.taken(a)
	if a.Form == act.TurnRingGearAdjuster || a.Form == act.TurnOppositeAdjuster {
		x.say("%s", view.Rings(x.stand.Status(), x.pen))
	}
	if a.Form == act.SignOff {
		return true, x.debrief()
	}
	x.overspent(o)
	switch {
	case !x.s.Person || len(o.Readings) > 0 || len(o.Notes) > 0:
	case a.Form == act.ExpectValue:
		x.say("    Noted.\n")
	default:
		x.say("%s", view.Wrap(fmt.Sprintf("Done: %s.", x.status()), x.pen.Width, "    "))
	}
	return false, nil
}

// overspent says once that what is allowed has been used up: work goes on, and it counts.
func (x *session) overspent(last sim.Outcome) {
	st, allowed := x.stand.Status(), x.job.Card.Budget
	parts := shop.Minutes(0)
	for _, p := range last.Parts {
		parts += shop.PriceOf(p)
	}
	tell := func(what string, limit, spent, before shop.Minutes) {
		if limit > 0 && spent > limit && before <= limit {
			x.say("%s", view.Wrap(fmt.Sprintf("The %s allowed are used up. The work can be finished; the debrief holds it against the budget.", what), x.pen.Width, "    "))
		}
	}
	tell(fmt.Sprintf("%.0f minutes of work", float64(allowed.Minutes)), allowed.Minutes, st.Minutes, st.Minutes-last.Minutes)
	tell(fmt.Sprintf("%.0f minutes' worth of parts", float64(allowed.Parts)), allowed.Parts, st.PartsMinutes, st.PartsMinutes-parts)
}

// decline tells a person what would be right, and stops a script.
func (x *session) decline(line string, err error) error {
	if !x.s.Person {
		// Not wrapped: a script that stops is exit code 1 whatever stopped it.
		return fmt.Errorf("line %d, %s: %v (the acts before it are kept in %s)", x.line, line, plainError(x.axle.Design, line, err), x.path)
	}
	text := plainError(x.axle.Design, line, err)
	if errors.Is(err, act.ErrNotAnAct) {
		text += "; type help for the other words"
	}
	x.say("%s", view.Hang(text, x.pen.Width, "  - ", "    "))
	return nil
}

func (x *session) keepPattern(o sim.Outcome) {
	for _, r := range o.Readings {
		if len(r.Patterns) > 0 {
			x.lastPattern = o
		}
	}
}

// debrief tells of a job that is signed off what its mode lets be told.
func (x *session) debrief() error {
	x.say("%s\n", view.Wrap(view.Signed(x.axle.kind), x.pen.Width, "    "))
	mode := x.rec.Header.Mode
	if mode == attempt.Exam {
		x.say("%s", view.Wrap(fmt.Sprintf("This was an examination: nothing is told until it is graded. Hand in %s.", x.path), x.pen.Width, ""))
		return nil
	}
	g, err := gradeOf(x.axle, x.job, x.stand, x.outs, x.units)
	if err != nil {
		return err
	}
	if mode == attempt.Check {
		x.say("%s%s", view.Score(g.report, x.pen), view.Wrap(fmt.Sprintf("This was a check: the rest is told by the instructor. Hand in %s.", x.path), x.pen.Width, ""))
		return nil
	}
	g.path = x.path
	if err := g.atTheBench(x.s.Out, x.pen); err != nil {
		return err
	}
	x.say("%s  %s\n", view.Wrap(fmt.Sprintf("The attempt is kept in %s. For the whole debrief, here or with --out debrief.html as a page, type:", x.path), x.pen.Width, ""), x.command("grade"))
	return nil
}
