package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/drill"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

func newDrill(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var count, sheet int
	var name, out string
	const usual = 10
	c := &cobra.Command{
		Use:   "drill [KIND|list]",
		Short: "Short questions of one decision each",
		Long: `Ask short questions of one decision each: a shim from two marks, slots for a change of
backlash, is this drag right. Answers may be in either unit. A wrong one is told which
idea it fits. Without a KIND all are mixed; list names them.

Answers may also come from a file or a pipe, one a line, in the order of the questions
of a round: drill --seed 7 < answers.txt. Empty lines and lines that begin with # are
passed over; pass gives no answer. Exit status 1 then means that not all were right.

--sheet writes a sheet of questions for paper to FILE.md and its key to FILE-key.md.`,
		Example: "  shimwright drill\n  shimwright drill mark --count 5 --units metric\n  shimwright drill slots --family dogwood\n  shimwright drill --seed 7 --sheet 12 --out monday.md",
		Args:    takes(0, 1, ""),
		RunE: func(c *cobra.Command, args []string) error {
			p, units, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) > 0 && strings.EqualFold(args[0], "list") {
				_, err := fmt.Fprint(s.Out, view.DrillKinds(p))
				return err
			}
			set := c.Flags().Changed
			o := drill.Order{Seed: seed, Count: count, Families: family.Shelf()}
			switch {
			case set("sheet") && set("count"):
				return usageError{errors.New("--sheet says how many questions already: leave --count out")}
			case set("sheet") != set("out"):
				return usageError{errors.New("--sheet NUMBER and --out FILE.md belong together: write both, or neither")}
			case set("sheet"):
				o.Count = sheet
			case !s.Person && !set("seed"):
				return usageError{errors.New("answers from a file or a pipe need --seed NUMBER, so that they meet the questions they are for")}
			}
			if !set("seed") {
				o.Seed = uint64(time.Now().UnixNano()/1000) % 100_000 // printed, so that it can be asked again
			}
			if len(args) > 0 {
				k, err := drill.ParseKind(args[0])
				if err != nil {
					return usageError{err}
				}
				o.Kinds = []drill.Kind{k}
			}
			again := ""
			if name != "" && !strings.EqualFold(name, anyFamily) {
				f, err := findFamily(name)
				if err != nil {
					return err
				}
				o.Families = []family.Family{f}
				again = " --family " + term.Quote(name)
			}
			plan, err := o.Plan()
			if err != nil {
				return usageError{err}
			}
			if set("sheet") {
				return writeDrillSheet(s.Out, out, plan, units, p)
			}
			x := &drilling{s: s, pen: p, units: units, plan: plan, seed: o.Seed, again: again, ideas: map[drill.Misconception]int{}, lessons: map[string]int{}, missed: map[drill.Kind]int{}}
			return x.run()
		},
	}
	c.Flags().StringVar(&name, "family", "", "axle `FAMILY`: a code or the file of one of your own (default: all that come with the program)")
	c.Flags().Uint64Var(&seed, "seed", 0, "`NUMBER` of the round (default: a new one)")
	c.Flags().IntVar(&count, "count", usual, "`NUMBER` of questions")
	c.Flags().IntVar(&sheet, "sheet", 0, "write so many questions (`NUMBER`) for paper instead")
	c.Flags().StringVar(&out, "out", "", "`FILE.md` of the sheet; the key goes beside it")
	l.addFlags(c)
	return c
}

// drilling is one round of drills.
type drilling struct {
	s     term.Streams
	pen   view.Pen
	units quantity.System
	plan  []drill.Item
	seed  uint64
	again string // options to ask for the same again

	at    int // of plan
	now   drill.Drill
	line  int
	right int

	tally   view.Tally
	ideas   map[drill.Misconception]int
	lessons map[string]int // by answers that were not right
	missed  map[drill.Kind]int
}

func (x *drilling) say(format string, args ...any) { fmt.Fprintf(x.s.Out, format, args...) }

func (x *drilling) wrap(format string, args ...any) {
	x.say("%s", view.Wrap(fmt.Sprintf(format, args...), x.pen.Width, "  "))
}

func (x *drilling) run() error {
	x.say("%s", view.DrillNotice(x.pen))
	x.say("%s", view.Wrap(fmt.Sprintf("Round %d. Words that help: help, again, pass, leave.", x.seed), x.pen.Width, ""))
	if err := x.ask(); err != nil {
		return err
	}
	err := x.loop()
	if err != nil && !errors.Is(err, errLeft) {
		return err
	}
	x.summary()
	if !x.s.Person && x.right < len(x.plan) {
		return fmt.Errorf("%d of %d answers are right", x.right, len(x.plan))
	}
	return nil
}

// ask shows the question whose turn it is.
func (x *drilling) ask() error {
	d, err := drill.Draw(x.plan[x.at])
	if err != nil {
		return err
	}
	x.now = d
	x.show()
	return nil
}

func (x *drilling) show() {
	x.say("\n%s", view.Question(x.now, x.at+1, len(x.plan), x.units, x.pen))
}

// loop reads lines until all is asked, the input ends or the person leaves.
func (x *drilling) loop() error {
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt)
	defer signal.Stop(interrupts)
	lines, readErr := readLines(x.s.In)
	for {
		if x.s.Person {
			x.say("> ")
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
					return fmt.Errorf("line %d is far too long for an answer", x.line+1)
				case err != nil:
					return err
				}
				return errLeft
			}
			x.line++
			if done, err := x.take(strings.TrimSpace(line)); done || err != nil {
				return err
			}
		}
	}
}

// take does what one line asks. done is true when all has been asked.
func (x *drilling) take(line string) (done bool, err error) {
	if line == "" || strings.HasPrefix(line, "#") {
		return false, nil
	}
	if !x.s.Person {
		x.say("> %s\n", line)
	}
	word, about, _ := strings.Cut(line, " ")
	switch about = strings.TrimSpace(about); strings.ToLower(word) {
	case "help":
		x.help()
		return false, nil
	case "again":
		x.show()
		return false, nil
	case "lesson":
		x.lesson(about)
		return false, nil
	case "units":
		x.changeUnits(about)
		return false, nil
	case "leave", "quit", "exit":
		return false, errLeft
	case "pass":
		x.say("%s", view.Unanswered(x.now, x.units, x.pen))
		return x.next(false)
	}
	reply, err := x.now.Answer.Read(line, x.units)
	if err != nil {
		x.say("%s", view.Hang(err.Error(), x.pen.Width, "  - ", "    "))
		if x.s.Person {
			return false, nil
		}
		// One bad line must not shift the answers after it.
		x.say("%s", view.Unanswered(x.now, x.units, x.pen))
		return x.next(false)
	}
	text, right := view.Marked(x.now, reply, x.units, x.pen)
	x.say("%s", text)
	if _, wrong := x.now.Judge(reply); wrong != nil {
		x.ideas[wrong.Misconception]++
	}
	return x.next(right)
}

// next enters how the question went and asks the one after it.
func (x *drilling) next(right bool) (done bool, err error) {
	k := x.now.Kind
	i := slices.IndexFunc(x.tally.Kinds, func(t view.KindTally) bool { return t.Kind == k })
	if i < 0 {
		i = len(x.tally.Kinds)
		x.tally.Kinds = append(x.tally.Kinds, view.KindTally{Kind: k})
	}
	x.tally.Kinds[i].Asked++
	if right {
		x.right++
		x.tally.Kinds[i].Right++
	} else {
		x.missed[k]++
		x.lessons[x.now.Lesson]++
	}
	if x.at++; x.at == len(x.plan) {
		return true, nil
	}
	return false, x.ask()
}

func (x *drilling) help() {
	x.wrap("This question takes %s. Other words:", x.now.Answer.Takes(x.units))
	const column = 10
	for _, w := range [][2]string{
		{"again", "the question once more"},
		{"pass", "show the answer and go on"},
		{"lesson", "the lesson on this question; or a name to read another"},
		{"units", "then inch or metric: what is shown and what a bare number means"},
		{"leave", "stop here, with a summary"},
	} {
		x.say("%s", x.pen.Field("  "+w[0], w[1], column))
	}
}

func (x *drilling) lesson(name string) {
	if name == "" {
		name = x.now.Lesson
	}
	if err := patternLesson(x.s.Out, strings.ToLower(name), "", x.pen); err != nil {
		// The question's own lesson is the one at hand.
		what, _, _ := strings.Cut(err.Error(), "; run ")
		x.say("%s", view.Hang(what+"; lesson alone shows this question's", x.pen.Width, "  - ", "    "))
	}
}

func (x *drilling) changeUnits(name string) {
	u, err := quantity.ParseSystem(name)
	if err != nil {
		x.say("%s", view.Hang(err.Error(), x.pen.Width, "  - ", "    "))
		return
	}
	x.units = u
	x.show()
}

// most returns what was counted most often, of those in an order the first.
func most[K comparable](order []K, times map[K]int) (best K, ok bool) {
	for _, k := range order {
		if times[k] > times[best] {
			best, ok = k, true
		}
	}
	return best, ok
}

func (x *drilling) summary() {
	x.tally.Left = len(x.plan) - x.at
	var order []drill.Misconception
	for i := range x.ideas {
		order = append(order, i)
	}
	slices.Sort(order)
	slices.SortStableFunc(order, func(a, b drill.Misconception) int { return x.ideas[b] - x.ideas[a] })
	for _, i := range order {
		x.tally.Misconceptions = append(x.tally.Misconceptions, view.MisconceptionTally{Misconception: i, Times: x.ideas[i]})
	}
	x.say("\n%s", view.DrillSummary(x.tally, x.pen))
	var names []string
	for l := range x.lessons {
		names = append(names, l)
	}
	slices.Sort(names)
	if lesson, ok := most(names, x.lessons); ok {
		x.say("Read:  %s\n", x.pen.Command("lesson "+lesson))
	}
	next := "drill"
	if k, ok := most(drill.Kinds(), x.missed); ok {
		next += " " + string(k)
	}
	if x.units == quantity.Metric {
		x.again += " --units metric"
	}
	x.say("Next:  %s\n", x.pen.Command(fmt.Sprintf("%s --seed %d%s", next, x.seed+1, x.again)))
}

// writeDrillSheet writes a sheet of questions for paper and its key.
func writeDrillSheet(w io.Writer, path string, plan []drill.Item, units quantity.System, p view.Pen) error {
	if !strings.EqualFold(filepath.Ext(path), ".md") {
		return usageError{fmt.Errorf("%s: the sheet's name ends in .md", path)}
	}
	var ds []drill.Drill
	for _, it := range plan {
		d, err := drill.Draw(it)
		if err != nil {
			return err
		}
		ds = append(ds, d)
	}
	sheet, key := view.DrillSheet(ds, fmt.Sprintf("Drills, round %d", plan[0].Seed), units)
	keyPath := strings.TrimSuffix(path, filepath.Ext(path)) + "-key" + filepath.Ext(path)
	for _, f := range [][2]string{{path, sheet}, {keyPath, key}} {
		if err := writeWhole(f[0], func(w io.Writer) error { _, err := io.WriteString(w, f[1]); return err }); err != nil {
			return usageError{err}
		}
	}
	_, err := fmt.Fprint(w, view.Wrap(fmt.Sprintf("Written: the questions %s, the key %s.", path, keyPath), p.Width, ""))
	return err
}
