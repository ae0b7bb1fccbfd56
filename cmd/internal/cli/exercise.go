package cli

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/difficulty"
	"shimwright/scenarios"
	"shimwright/scenarios/exercise"
	"shimwright/sim/datasheet"

	"shimwright/sim/text"
)

func newExercise(s term.Streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "exercise",
		Short: s.Print(text.Say("cli.exercise.ready-exercises-those-instructor", "Ready exercises, and those an instructor writes")),
		Long: s.Print(text.Say("cli.exercise.list-exercises-show-one", `List the exercises, show one, start one, print the cards of one for a class, or put
together equally hard sets of its jobs. An exercise says which axles, kinds of job and
faults come, what is on the bench, how much help is given and what is told at sign-off.
It is a text file; write makes one to begin your own from, with every key explained, and
check names what is wrong in it.`)),
		Example: "  shimwright exercise list\n  shimwright exercise start first-depth",
		Args:    takes(0, 0, ""),
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newExerciseList(s), newExerciseShow(s), newExerciseStart(s), newExerciseCards(s), newExerciseForms(s), newExerciseWrite(s), newExerciseCheck(s))
	return c
}

// findExercise finds an exercise by name or file, and says in one line what is wrong.
func findExercise(name string) (exercise.Exercise, error) {
	e, err := exercise.Find(name)
	var wrong datasheet.Problems
	switch {
	case errors.As(err, &wrong):
		return e, text.Fail(err, text.Say("cli.exercise.exercise-check-names-them", "{why}; exercise check names them all", text.Cause("why", err)))
	case err != nil:
		return e, exit.Usage(err)
	}
	return e, nil
}

func newExerciseList(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "list",
		Short:   s.Print(text.Say("cli.exercise.list-exercises-come-program", "List the exercises that come with the program")),
		Example: "  shimwright exercise list",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			_, err = fmt.Fprint(s.Out, view.ExerciseList(exercise.All(), p))
			return err
		},
	}
	l.addFlags(s, c)
	return c
}

func newExerciseShow(s term.Streams) *cobra.Command {
	var l look
	var file bool
	c := &cobra.Command{
		Use:     "show NAME|FILE",
		Short:   s.Print(text.Say("cli.exercise.show-exercise", "Show an exercise")),
		Example: "  shimwright exercise show first-depth\n  shimwright exercise show first-depth --file > mine.yaml",
		Args:    takes(1, 1, s.Print(text.Say("cli.exercise.say-which-exercise", "say which exercise"))),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
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
	c.Flags().BoolVar(&file, "file", false, s.Print(text.Say("cli.exercise.write-as-file-has", "write it as its file has it")))
	l.addFlags(s, c)
	return c
}

func newExerciseStart(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var record string
	var mend, lines bool
	c := &cobra.Command{
		Use:   "start NAME|FILE",
		Short: s.Print(text.Say("cli.exercise.work-job-exercise", "Work a job of an exercise")),
		Long: s.Print(text.Say("cli.exercise.work-job-exercise-as", `Work a job of an exercise, as practice does. Without --seed it is the first job of the
exercise that is not signed off in this folder yet; one that was left is taken up again.`)),
		Example: "  shimwright exercise start first-depth\n  shimwright exercise start first-depth --seed 103",
		Args:    takes(1, 1, s.Print(text.Say("cli.exercise.say-which-exercise", "say which exercise"))),
		RunE: func(c *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			e, err := findExercise(args[0])
			if err != nil {
				return err
			}
			set := c.Flags().Changed
			if set("seed") && !e.Holds(seed) {
				return exit.Usage(text.Fail(nil, text.Say("cli.exercise.job-none-exercise-exercise", "job {seed} is none of the exercise {name}: exercise show tells its numbers", text.Typed("seed", fmt.Sprint(seed)), text.Typed("name", e.Name))))
			}
			if !set("seed") {
				if seed, err = nextJob(e, record != ""); err != nil {
					return err
				}
			}
			if record == "" {
				record = exerciseRecord(e, seed)
			}
			if _, err := os.Lstat(record); err != nil && set("seed") {
				if band, err := bandOf(e, seed); err != nil || band != e.Band {
					return exit.Usage(errors.Join(err, text.Fail(nil, text.Say("cli.exercise.job-exercise-jobs", "job {seed} is {band}; the exercise {name} is of {band2} jobs", text.Typed("seed", fmt.Sprint(seed)), text.Typed("band", band), text.Typed("name", e.Name), text.Typed("band2", e.Band)))))
				}
			}
			order, chosen := e.Order(seed)
			p = ownUnits(c, p, e)
			return practice.Run(practice.Sitting{Streams: s, Pen: p, Path: record, Seed: seed, Mend: mend, Lines: lines,
				Axle:  job.Asked{Family: order.Family, Kind: order.Kind, Text: chosen.Text, Name: chosen.Name},
				Order: order, Terms: e.Terms(), Named: practice.Named{Units: set("units"), Seed: set("seed")}})
		},
	}
	c.Flags().Uint64Var(&seed, "seed", 0, s.Print(text.Say("cli.exercise.job-number-default-next", "job `NUMBER` (default: the next one)")))
	c.Flags().StringVar(&record, "record", "", s.Print(text.Say("cli.exercise.attempt-file-default-shimwright", "attempt `FILE` (default: shimwright-EXERCISE-NUMBER.jsonl in this folder)")))
	c.Flags().BoolVar(&mend, "mend", false, s.Print(text.Say("cli.exercise.go-from-whole-acts", "go on from the whole acts of a cut-short or damaged attempt file; the old file is kept beside it")))
	addLinesFlag(s, c, &lines)
	l.addFlags(s, c)
	return c
}

// exerciseRecord names the attempt file of a job of an exercise.
func exerciseRecord(e exercise.Exercise, seed uint64) string {
	return fmt.Sprintf("shimwright-%s-%d.jsonl", e.Name, seed)
}

// searchedIn is how many numbers of an exercise are looked through at most.
const searchedIn = 1000

// bandOf is how hard a job of an exercise is, where the exercise asks for that; "" where it
// does not matter, and then the job is not made. Errors: a job that cannot be made.
func bandOf(e exercise.Exercise, n uint64) (string, error) {
	if e.Band == "" {
		return "", nil
	}
	job, err := e.Job(n)
	if err != nil {
		return "", err
	}
	return bandOfJob(e, job)
}

// bandOfJob is bandOf for a job that is made.
func bandOfJob(e exercise.Exercise, job scenarios.Job) (string, error) {
	if e.Band == "" {
		return "", nil
	}
	m, err := difficulty.Of(job)
	return string(m.Band()), err
}

// firstJobs are the first so many jobs of an exercise that are as hard as it asks for.
func firstJobs(e exercise.Exercise, most int) ([]uint64, error) {
	var out []uint64
	for _, n := range e.Numbers(max(most, searchedIn)) {
		ok, err := difficulty.Fits(e, n)
		if err != nil {
			return nil, err
		}
		if ok {
			out = append(out, n)
		}
		if len(out) == most {
			break
		}
	}
	if len(out) == 0 {
		return nil, exit.Usage(text.Fail(nil, text.Say("cli.exercise.none-first-jobs-exercise", "none of the first jobs of the exercise {name} is {band}", text.Typed("name", e.Name), text.Typed("band", e.Band))))
	}
	return out, nil
}

// nextJob is the first job of an exercise that is not signed off in this folder; the first
// of all where the file is named. A file in trouble counts as open: starting it says what
// the trouble is.
func nextJob(e exercise.Exercise, fileNamed bool) (uint64, error) {
	for _, n := range e.Numbers(searchedIn) {
		rec, err := store.Read(exerciseRecord(e, n))
		if rec == nil && errors.Is(err, os.ErrNotExist) || fileNamed {
			ok, err := difficulty.Fits(e, n)
			if ok || err != nil {
				return n, err
			}
			continue
		}
		if err != nil || !rec.Signed() {
			return n, nil
		}
	}
	return 0, exit.Usage(text.Fail(nil, text.Say("cli.exercise.every-job-exercise-signed", "every job of the exercise {name} is signed off in this folder", text.Typed("name", e.Name))))
}

// ownUnits shows an exercise in its own units, unless others are asked for.
func ownUnits(c *cobra.Command, p view.Pen, e exercise.Exercise) view.Pen {
	if c.Flags().Changed("units") {
		return p
	}
	return p.In(e.Units)
}
