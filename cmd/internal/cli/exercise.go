package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/difficulty"
	"shimwright/grading/form"
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
		Long: `List the exercises, show one, start one, print the cards of one for a class, or put
together equally hard sets of its jobs. An exercise says which axles, kinds of job and
faults come, what is on the bench, how much help is given and what is told at sign-off.
It is a text file; write makes one to begin your own from, with every key explained, and
check names what is wrong in it.`,
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
					return usageError{errors.Join(err, fmt.Errorf("job %d is %s; the exercise %s is of %s jobs", seed, band, e.Name, e.Band))}
				}
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

// searchedIn is how many numbers of an exercise are looked through at most.
const searchedIn = 1000

// bandOf is how hard a job of an exercise is, where the exercise asks for that; "" where it
// does not matter. Errors: a job that cannot be made.
func bandOf(e exercise.Exercise, n uint64) (string, error) {
	if e.Band == "" {
		return "", nil
	}
	order, _ := e.Order(n)
	job, err := order.Generate(n)
	if err != nil {
		return "", err
	}
	m, err := difficulty.Of(job)
	return string(m.Band()), err
}

// fits tells whether a job of an exercise can be made and is as hard as it asks for.
func fits(e exercise.Exercise, n uint64) (bool, error) {
	band, err := bandOf(e, n)
	if errors.Is(err, scenarios.ErrNoJob) {
		return false, nil
	}
	return err == nil && band == e.Band, err
}

// firstJobs are the first so many jobs of an exercise that are as hard as it asks for.
func firstJobs(e exercise.Exercise, most int) ([]uint64, error) {
	var out []uint64
	for _, n := range e.Numbers(max(most, searchedIn)) {
		ok, err := fits(e, n)
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
		return nil, usageError{fmt.Errorf("none of the first jobs of the exercise %s is %s", e.Name, e.Band)}
	}
	return out, nil
}

// nextJob is the first job of an exercise that is not signed off in this folder; the first
// of all where the file is named. A file in trouble counts as open: starting it says what
// the trouble is.
func nextJob(e exercise.Exercise, fileNamed bool) (uint64, error) {
	for _, n := range e.Numbers(searchedIn) {
		f, err := os.Open(exerciseRecord(e, n))
		if err != nil || fileNamed {
			ok, err := fits(e, n)
			if ok || err != nil {
				return n, err
			}
			continue
		}
		rec, err := attempt.Read(f)
		f.Close()
		if err != nil || !signedOff(rec) {
			return n, nil
		}
	}
	return 0, usageError{fmt.Errorf("every job of the exercise %s is signed off in this folder", e.Name)}
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
	numbers, err := firstJobs(e, most)
	if err != nil {
		return err
	}
	var cards strings.Builder
	for i, n := range numbers {
		order, _ := e.Order(n)
		job, err := order.Generate(n)
		if err != nil {
			return err
		}
		if i > 0 {
			cards.WriteString("\n\f")
		}
		cards.WriteString(view.Wrap(fmt.Sprintf("Exercise %s: %s", e.Name, e.Title), p.Width, ""))
		fmt.Fprintf(&cards, "  %s\n\n", p.Command(startOf(e, n)))
		cards.WriteString(view.Card(job.Card, units, p))
	}
	answers, err := keyOf(e, numbers, units, p)
	if err != nil {
		return err
	}
	if err := writeKey(key, answers); err != nil {
		return err
	}
	if _, err := io.WriteString(s.Out, cards.String()); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.Err, "%s", view.Wrap(fmt.Sprintf("The key is in %s. Keep it from the class.", key), p.Width, ""))
	return err
}

// startOf is what a trainee types, after the program's name, for a job of an exercise.
func startOf(e exercise.Exercise, n uint64) string {
	name := e.Name
	if _, err := exercise.Find(name); err != nil {
		name = aFile
	}
	return fmt.Sprintf("exercise start %s --seed %d", term.Quote(name), n)
}

// keyOf is what the instructor needs to know of jobs of an exercise.
func keyOf(e exercise.Exercise, numbers []uint64, units quantity.System, p view.Pen) (string, error) {
	var b strings.Builder
	b.WriteString(view.Wrap(fmt.Sprintf("Key to the exercise %s (%s), model %s.", e.Name, e.Title, scenarios.ModelVersion), p.Width, ""))
	b.WriteString(view.Wrap("For the instructor alone: it tells what every axle really is.", p.Width, ""))
	for _, n := range numbers {
		order, chosen := e.Order(n)
		job, err := order.Generate(n)
		if err != nil {
			return "", err
		}
		lines, err := reveal.Key(job, units)
		if err != nil {
			return "", err
		}
		tried, err := e.Try(n)
		if err != nil {
			return "", err
		}
		lines = append(lines, fmt.Sprintf("A careful hand: %.0f minutes of work, parts worth %.0f.", float64(tried.Minutes), float64(tried.Parts)))
		fmt.Fprintf(&b, "\nJob %d, %s, %s\n", n, chosen.Name, order.Kind)
		for _, line := range lines {
			b.WriteString(view.Hang(line, p.Width, "  - ", "    "))
		}
	}
	return b.String(), nil
}

func newExerciseForms(s term.Streams) *cobra.Command {
	var l look
	var jobs, forms int
	var out, key string
	c := &cobra.Command{
		Use:   "forms NAME|FILE",
		Short: "Put together sets of an exercise's jobs that are equally hard",
		Long: `Put together sets of an exercise's jobs that are equally hard, as the command forms does,
so that each person of a class can have another one. What to hand out goes into a folder,
and what each axle really is into a key file that only the instructor should have.`,
		Example: "  shimwright exercise forms final-examination --forms 12 --jobs 4 --out class",
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
			units := e.Units
			if c.Flags().Changed("units") {
				if units, err = quantity.ParseSystem(l.units); err != nil {
					return usageError{err}
				}
			}
			if key == "" {
				key = "shimwright-" + e.Name + "-key.txt"
			}
			if _, err := os.Lstat(key); err == nil {
				return usageError{keyIsThere(key)}
			}
			b := form.Blueprint{Jobs: jobs, Forms: forms, Kinds: e.Kinds, Faults: e.Faults, Band: difficulty.Band(e.Band), Numbers: searched, Margins: form.Usual(),
				Bench: form.Bench{Off: e.Off, Budget: e.Budget, Weights: e.Weights},
				Among: func(pl form.Place, most int) []uint64 { return e.NumbersOn(pl.Family.Code, pl.Kind, most) }}
			for _, f := range e.Families {
				b.Families = append(b.Families, f.Family)
			}
			if err := b.Validate(); err != nil {
				return usageError{err}
			}
			set, err := makeForms(s, b, func(j form.Job) string { return startOf(e, j.Number) }, out, p)
			if err != nil {
				return err
			}
			var numbers []uint64
			for _, f := range set.Forms {
				for _, j := range f {
					numbers = append(numbers, j.Number)
				}
			}
			slices.Sort(numbers)
			answers, err := keyOf(e, numbers, units, p)
			if err != nil {
				return err
			}
			if err := writeKey(key, answers); err != nil {
				return err
			}
			_, err = fmt.Fprintf(s.Err, "%s", view.Wrap(fmt.Sprintf("The key is in %s. Keep it from the class.", key), p.Width, ""))
			return err
		},
	}
	f := c.Flags()
	f.IntVar(&jobs, "jobs", 4, "`NUMBER` of jobs a form")
	f.IntVar(&forms, "forms", 4, "`NUMBER` of forms")
	f.StringVar(&out, "out", "forms", "`FOLDER` to write into")
	f.StringVar(&key, "key", "", "`FILE` for the key, which must not be there yet (default: shimwright-EXERCISE-key.txt in this folder)")
	l.addFlags(c)
	return c
}

func keyIsThere(path string) error {
	return fmt.Errorf("%s is there already: move it, or name another file with --key", path)
}

// writeKey writes a key file that is not there yet, for its owner's eyes.
func writeKey(path, text string) error {
	err := writeNew(path, text, 0o600)
	if errors.Is(err, os.ErrExist) {
		return usageError{keyIsThere(path)}
	}
	return err
}

// writeNew writes a file that is not there yet.
func writeNew(path, text string, mode os.FileMode) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return err
	}
	if _, err := f.WriteString(text); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

func newExerciseWrite(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "write FILE",
		Short: "Write a file to begin an exercise of your own from",
		Long: `Write a file to begin an exercise of your own from, with every key explained; nothing
that is there already is written over. To begin from one that comes with the program, use
show NAME --file.`,
		Example: "  shimwright exercise write mine.yaml\n  shimwright exercise check mine.yaml",
		Args:    takes(1, 1, "say which file"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			if err := writeNew(args[0], string(exercise.Template()), 0o644); err != nil {
				if errors.Is(err, os.ErrExist) {
					return usageError{fmt.Errorf("%s is there already: name another file", view.FileName(args[0]))}
				}
				return usageError{err}
			}
			_, err = fmt.Fprint(s.Out, view.Wrap(fmt.Sprintf("Written: %s. Change it, then:", view.FileName(args[0])), p.Width, ""), "  ", p.Command("exercise check "+term.Quote(args[0])), "\n")
			return err
		},
	}
	l.addFlags(c)
	return c
}

func newExerciseCheck(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: "Name every mistake in exercise files",
		Long: `Name every mistake in exercise files, each with its line and column and what would be
right. A file without any has its first jobs worked by a careful hand: whether they can be
finished, and on its terms. Exit status 0 no mistakes; 1 mistakes; 3 a file is no exercise
at all.`,
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
		e, err := exercise.Read(name)
		var wrong datasheet.Problems
		switch {
		case err == nil:
			tried, trouble := tryJobs(e)
			for _, line := range trouble {
				fmt.Fprint(s.Out, view.Hang(line, p.Width, view.FileName(name)+": ", "    "))
			}
			if len(trouble) == 0 {
				fmt.Fprint(s.Out, view.Wrap(fmt.Sprintf("%s: no mistakes; a careful hand finishes the jobs tried, %d of them, on its terms", view.FileName(name), tried), p.Width, ""))
				continue
			}
			mistakes += len(trouble)
			files++
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

// tryJobs has a careful hand work a round of an exercise's jobs, or all it lists, and says
// what is wrong with them.
func tryJobs(e exercise.Exercise) (tried int, trouble []string) {
	const most = 60
	numbers := e.Numbers(min(most, max(len(e.Seeds), len(e.Kinds)*len(e.Families))))
	fitting := 0
	for _, n := range numbers {
		order, chosen := e.Order(n)
		say := func(what string) {
			trouble = append(trouble, fmt.Sprintf("job %d (%s, %s): %s", n, chosen.Name, order.Kind, what))
		}
		done, err := e.Try(n)
		if err != nil {
			say(err.Error())
			continue
		}
		if over := done.Over(); over != "" {
			say(over)
		}
		band, err := bandOf(e, n)
		switch {
		case err != nil:
			say(err.Error())
		case band == e.Band:
			fitting++
		case len(e.Seeds) > 0:
			say(fmt.Sprintf("it is %s, and the exercise asks for %s jobs", band, e.Band))
		}
	}
	if fitting == 0 && len(trouble) == 0 {
		trouble = append(trouble, fmt.Sprintf("none of the first %d jobs is %s: ask for another difficulty, or other kinds of job", len(numbers), e.Band))
	}
	return len(numbers), trouble
}
