package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

func newExercise(s term.Streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "exercise",
		Short: "Ready exercises, and those an instructor writes",
		Long: `List the exercises, show one, start one, or print the cards of one for a class. An
exercise says which axles, kinds of job and faults come, what is on the bench, how much
help is given and what is told at sign-off. It is a text file; show NAME --file writes
one that comes with the program, to begin your own from.`,
		Example: "  shimwright exercise list\n  shimwright exercise start first-depth",
		Args:    takes(0, 0, ""),
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newExerciseList(s), newExerciseShow(s), newExerciseStart(s), newExerciseCards(s), newExerciseCheck(s))
	return c
}

// findExercise finds an exercise by name or file, and says in one line what is wrong.
func findExercise(name string) (exercise.Exercise, error) {
	e, err := exercise.Find(name)
	var wrong datasheet.Problems
	switch {
	case errors.As(err, &wrong):
		return e, fmt.Errorf("%w; exercise check names them all", err)
	case err != nil:
		return e, usageError{err}
	}
	return e, nil
}

func newExerciseList(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "list",
		Short:   "List the exercises that come with the program",
		Example: "  shimwright exercise list",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			_, err = fmt.Fprint(s.Out, view.ExerciseList(exercise.All(), p))
			return err
		},
	}
	l.addFlags(c)
	return c
}

func newExerciseShow(s term.Streams) *cobra.Command {
	var l look
	var file bool
	c := &cobra.Command{
		Use:     "show NAME|FILE",
		Short:   "Show an exercise",
		Example: "  shimwright exercise show first-depth\n  shimwright exercise show first-depth --file > mine.yaml",
		Args:    takes(1, 1, "say which exercise"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			e, err := findExercise(args[0])
			if err != nil {
				return err
			}
			if file {
				_, err = s.Out.Write(e.Encode())
				return err
			}
			_, err = fmt.Fprint(s.Out, view.ExercisePage(e, p))
			return err
		},
	}
	c.Flags().BoolVar(&file, "file", false, "write it as its file has it")
	l.addFlags(c)
	return c
}

func newExerciseStart(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var record string
	var mend bool
	c := &cobra.Command{
		Use:   "start NAME|FILE",
		Short: "Work a job of an exercise",
		Long: `Work a job of an exercise, as practice does. Without --seed it is the first job of the
exercise that is not signed off in this folder yet; one that was left is taken up again.`,
		Example: "  shimwright exercise start first-depth\n  shimwright exercise start first-depth --seed 103",
		Args:    takes(1, 1, "say which exercise"),
		RunE: func(c *cobra.Command, args []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			e, err := findExercise(args[0])
			if err != nil {
				return err
			}
			set := c.Flags().Changed
			if set("seed") && !e.Holds(seed) {
				return usageError{fmt.Errorf("job %d is none of the exercise %s: exercise show tells its numbers", seed, e.Name)}
			}
			if !set("seed") && record == "" {
				if seed, err = nextJob(e); err != nil {
					return usageError{err}
				}
			} else if !set("seed") {
				seed = e.Numbers(1)[0]
			}
			if record == "" {
				record = exerciseRecord(e, seed)
			}
			order, chosen := e.Order(seed)
			units := e.Units
			if set("units") {
				if units, err = quantity.ParseSystem(l.units); err != nil {
					return usageError{err}
				}
			}
			a := axle{Family: order.Family, kind: order.Kind, text: chosen.Text, name: chosen.Name}
			x := &session{s: s, pen: p, units: units, unitsSet: set("units"), path: record, seed: seed, seedSet: set("seed"),
				axle: a, order: order, terms: e.Terms(), mend: mend}
			return x.run()
		},
	}
	c.Flags().Uint64Var(&seed, "seed", 0, "job `NUMBER` (default: the next one)")
	c.Flags().StringVar(&record, "record", "", "attempt `FILE` (default: shimwright-EXERCISE-NUMBER.jsonl in this folder)")
	c.Flags().BoolVar(&mend, "mend", false, "go on from the whole acts of a cut-short or damaged attempt file; the old file is kept beside it")
	l.addFlags(c)
	return c
}

// exerciseRecord names the attempt file of a job of an exercise.
func exerciseRecord(e exercise.Exercise, seed uint64) string {
	return fmt.Sprintf("shimwright-%s-%d.jsonl", e.Name, seed)
}

// nextJob is the first job of an exercise that is not signed off in this folder. A file in
// trouble counts as open: starting it says what the trouble is.
func nextJob(e exercise.Exercise) (uint64, error) {
	const most = 1000
	for _, n := range e.Numbers(most) {
		f, err := os.Open(exerciseRecord(e, n))
		if err != nil {
			return n, nil
		}
		rec, err := attempt.Read(f)
		f.Close()
		if err != nil || !signedOff(rec) {
			return n, nil
		}
	}
	return 0, fmt.Errorf("every job of the exercise %s is signed off in this folder", e.Name)
}

func signedOff(r *attempt.Record) bool {
	acts := r.Acts()
	return len(acts) > 0 && acts[len(acts)-1].String() == "sign off"
}

func newExerciseCards(s term.Streams) *cobra.Command {
	var l look
	var jobs int
	var key string
	c := &cobra.Command{
		Use:   "cards NAME|FILE",
		Short: "Print the cards of an exercise for a class, with a key for the instructor",
		Long: `Print the cards of an exercise's first jobs, to hand out: everyone another number. What
each axle really is goes into a key file that only the instructor should have; it is
never shown here.`,
		Example: "  shimwright exercise cards first-depth --jobs 3",
		Args:    takes(1, 1, "say which exercise"),
		RunE: func(c *cobra.Command, args []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			e, err := findExercise(args[0])
			if err != nil {
				return err
			}
			const most = 500
			if jobs < 1 || jobs > most {
				return usageError{fmt.Errorf("--jobs %d is outside 1 to %d", jobs, most)}
			}
			units := e.Units
			if c.Flags().Changed("units") {
				if units, err = quantity.ParseSystem(l.units); err != nil {
					return usageError{err}
				}
			}
			if key == "" {
				key = "shimwright-" + e.Name + "-key.txt"
			}
			return printCards(s, e, jobs, key, units, p)
		},
	}
	c.Flags().IntVar(&jobs, "jobs", 12, "how many `CARDS`; fewer where the exercise has fewer jobs")
	c.Flags().StringVar(&key, "key", "", "`FILE` for the key, which must not be there yet (default: shimwright-EXERCISE-key.txt in this folder)")
	l.addFlags(c)
	return c
}

// printCards makes every job before it writes anything, so that cards and key belong
// together.
func printCards(s term.Streams, e exercise.Exercise, most int, key string, units quantity.System, p view.Pen) error {
	var cards, answers strings.Builder
	fmt.Fprintf(&answers, "Key to the exercise %s (%s), model %s.\nFor the instructor alone: it tells what every axle really is.\n", e.Name, e.Title, scenarios.ModelVersion)
	for i, n := range e.Numbers(most) {
		order, chosen := e.Order(n)
		job, err := order.Generate(n)
		if err != nil {
			return err
		}
		lines, err := reveal.Key(job, units)
		if err != nil {
			return err
		}
		fmt.Fprintf(&answers, "\nJob %d, %s, %s\n", n, chosen.Name, order.Kind)
		for _, line := range lines {
			answers.WriteString(view.Hang(line, p.Width, "  - ", "    "))
		}
		if i > 0 {
			cards.WriteString("\n\f")
		}
		start := e.Name
		if _, err := exercise.Find(e.Name); err != nil {
			start = aFile
		}
		cards.WriteString(view.Wrap(fmt.Sprintf("Exercise %s: %s", e.Name, e.Title), p.Width, ""))
		fmt.Fprintf(&cards, "  %s\n\n", p.Command(fmt.Sprintf("exercise start %s --seed %d", start, n)))
		cards.WriteString(view.Card(job.Card, units, p))
	}
	if err := writeKey(key, answers.String()); err != nil {
		return err
	}
	if _, err := io.WriteString(s.Out, cards.String()); err != nil {
		return err
	}
	_, err := fmt.Fprintf(s.Err, "%s", view.Wrap(fmt.Sprintf("The key is in %s. Keep it from the class.", key), p.Width, ""))
	return err
}

// writeKey writes a file that is not there yet, for its owner's eyes.
func writeKey(path, text string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, os.ErrExist) {
		return usageError{fmt.Errorf("%s is there already: move it, or name another file with --key", path)}
	}
	if err != nil {
		return usageError{err}
	}
	if _, err := f.WriteString(text); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

func newExerciseCheck(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: "Name every mistake in exercise files",
		Long: `Name every mistake in exercise files, each with its line and column and what would be
right. Exit status 0 no mistakes; 1 mistakes; 3 a file is no exercise at all.`,
		Example: "  shimwright exercise check mine.yaml",
		Args:    takes(1, many, "say which file"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			return checkExercises(s, args, p)
		},
	}
	l.addFlags(c)
	return c
}

// checkExercises looks at every file before it gives up, so that one run tells all.
func checkExercises(s term.Streams, names []string, p view.Pen) error {
	var unopened, unread error
	mistakes, files := 0, 0
	for _, name := range names {
		_, err := exercise.Read(name)
		var wrong datasheet.Problems
		switch {
		case err == nil:
			fmt.Fprintf(s.Out, "%s: no mistakes\n", view.FileName(name))
		case errors.As(err, &wrong):
			fmt.Fprint(s.Out, view.FamilyProblems([]family.Problem(wrong), p))
			mistakes += len(wrong)
			files++
			if unread == nil && errors.Is(wrong, exercise.ErrNotExercise) {
				unread = fmt.Errorf("%s: %w", view.FileName(name), exercise.ErrNotExercise)
			}
		case unopened == nil:
			unopened = usageError{err}
		}
	}
	switch {
	case unopened != nil:
		return unopened
	case unread != nil:
		return unread
	case mistakes > 0:
		return fmt.Errorf("mistakes found: %d, in files: %d", mistakes, files)
	}
	return nil
}
