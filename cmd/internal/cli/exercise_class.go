package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/difficulty"
	"shimwright/grading/form"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/exercise"

	"shimwright/sim/text"
)

func newExerciseCards(s term.Streams) *cobra.Command {
	var l look
	var jobs int
	var key string
	c := &cobra.Command{
		Use:   "cards NAME|FILE",
		Short: s.Print(text.Say("cli.exercise-class.write-exercises-cards-for", "Write an exercise's cards for a class, and a key")),
		Long: s.Print(text.Say("cli.exercise-class.write-cards-exercises-first", `Write the cards of an exercise's first jobs, to hand out: each person gets another number. What
each axle really is goes into a key file that only the instructor should have; it is
never shown here.`)),
		Example: "  shimwright exercise cards first-depth --jobs 3",
		Args:    takes(1, 1, s.Print(text.Say("cli.exercise-class.say-which-exercise", "say which exercise"))),
		RunE: func(c *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			e, err := findExercise(args[0])
			if err != nil {
				return err
			}
			const most = 500
			if jobs < 1 || jobs > most {
				return exit.Usage(text.Fail(nil, text.Say("cli.exercise-class.jobs-outside-1", "--jobs {jobs} is outside 1 to {most}", text.Count("jobs", jobs), text.Count("most", most))))
			}
			p = ownUnits(c, p, e)
			key = keyFile(key, e)
			return writeCards(s, e, jobs, key, p)
		},
	}
	c.Flags().IntVar(&jobs, "jobs", 12, s.Print(text.Say("cli.exercise-class.how-many-cards-fewer", "how many `CARDS`; fewer where the exercise has fewer jobs")))
	addKey(s, c, &key)
	l.addFlags(s, c)
	return c
}

// writeCards makes every job before it writes anything, so that cards and key belong
// together.
func writeCards(s term.Streams, e exercise.Exercise, most int, key string, p view.Pen) error {
	numbers, err := firstJobs(e, most)
	if err != nil {
		return err
	}
	jobs, err := jobsOf(e, numbers)
	if err != nil {
		return err
	}
	var cards strings.Builder
	for i, job := range jobs {
		if i > 0 {
			cards.WriteString("\n\f")
		}
		cards.WriteString(view.Wrap(p.Print(text.Say("cli.exercise-class.exercise", "Exercise {name}: {title}", text.Typed("name", e.Name), text.Typed("title", e.Title))), p.Width, ""))
		fmt.Fprintf(&cards, "  %s\n\n", p.Command(startOf(e, job.Card.Seed)))
		cards.WriteString(view.Card(job.Card, p))
	}
	answers, err := keyOf(e, jobs, p)
	if err != nil {
		return err
	}
	if err := writeKey(key, answers); err != nil {
		return err
	}
	if _, err := io.WriteString(s.Out, cards.String()); err != nil {
		return err
	}
	return tellOfKey(s, key, p)
}

// jobsOf makes the jobs of an exercise with these numbers.
func jobsOf(e exercise.Exercise, numbers []uint64) ([]scenarios.Job, error) {
	var out []scenarios.Job
	for _, n := range numbers {
		job, err := e.Job(n)
		if err != nil {
			return nil, err
		}
		out = append(out, job)
	}
	return out, nil
}

// startOf is what a trainee types, after the program's name, for a job of an exercise.
func startOf(e exercise.Exercise, n uint64) string {
	name := e.Name
	if _, err := exercise.Find(name); err != nil {
		name = job.File
	}
	return fmt.Sprintf("exercise start %s --seed %d", term.Quote(name), n)
}

// keyOf is what the instructor needs to know of jobs of an exercise.
func keyOf(e exercise.Exercise, jobs []scenarios.Job, p view.Pen) (string, error) {
	var b strings.Builder
	b.WriteString(view.Wrap(p.Print(text.Say("cli.exercise-class.key-exercise-model", "Key to the exercise {name} ({title}), model {model_version}.", text.Typed("name", e.Name), text.Typed("title", e.Title), text.Typed("model_version", scenarios.ModelVersion))), p.Width, ""))
	b.WriteString(view.Wrap(p.Print(text.Say("cli.exercise-class.for-instructor-alone-tells", "For the instructor alone: it tells what every axle really is.")), p.Width, ""))
	for _, job := range jobs {
		key, err := reveal.Key(job)
		if err != nil {
			return "", err
		}
		var lines []string
		for _, m := range key {
			lines = append(lines, p.Print(m))
		}
		tried, err := e.Try(job)
		if err != nil {
			return "", err
		}
		lines = append(lines, p.Print(text.Say("cli.exercise-class.careful-simulated-technician-minutes", "A careful simulated technician: {minutes} minutes of work, parts worth {parts}.", text.Number("minutes", float64(tried.Minutes), 0), text.Number("parts", float64(tried.Parts), 0))))
		order, chosen := e.Order(job.Card.Seed)
		fmt.Fprintln(&b, "\n"+p.Print(text.Say("cli.exercise-class.job", "Job {seed}, {name}, {kind}", text.Typed("seed", fmt.Sprint(job.Card.Seed)), text.Typed("name", chosen.Name), text.Typed("kind", order.Kind.String()))))
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
		Short: s.Print(text.Say("cli.exercise-class.put-together-sets-exercises", "Put together sets of an exercise's jobs that are equally hard")),
		Long: s.Print(text.Say("cli.exercise-class.put-together-sets-exercises-2", `Put together sets of an exercise's jobs that are equally hard, as the command forms does,
so that each person of a class can have another one. What to hand out goes into a folder,
and what each axle really is into a key file that only the instructor should have.`)),
		Example: "  shimwright exercise forms final-examination --forms 12 --jobs 4 --out class",
		Args:    takes(1, 1, s.Print(text.Say("cli.exercise-class.say-which-exercise", "say which exercise"))),
		RunE: func(c *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			e, err := findExercise(args[0])
			if err != nil {
				return err
			}
			p = ownUnits(c, p, e)
			key = keyFile(key, e)
			if _, err := os.Lstat(key); err == nil {
				return exit.Usage(keyIsThere(key))
			}
			b := form.Blueprint{Jobs: jobs, Forms: forms, Kinds: e.Kinds, Faults: e.Faults, Band: difficulty.Band(e.Band), Numbers: searched, Margins: form.Usual(),
				Bench: form.Bench{Off: e.Off, Budget: e.Budget, Weights: e.Weights},
				Among: func(pl form.Place, most int) []uint64 { return e.NumbersOn(pl.Family.Code, pl.Kind, most) }}
			for _, f := range e.Families {
				b.Families = append(b.Families, f.Family)
			}
			if err := b.Validate(); err != nil {
				return exit.Usage(err)
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
			made, err := jobsOf(e, numbers)
			if err != nil {
				return err
			}
			answers, err := keyOf(e, made, p)
			if err != nil {
				return err
			}
			if err := writeKey(key, answers); err != nil {
				return err
			}
			return tellOfKey(s, key, p)
		},
	}
	f := c.Flags()
	f.IntVar(&jobs, "jobs", 4, s.Print(text.Say("cli.exercise-class.number-jobs-form", "`NUMBER` of jobs a form")))
	f.IntVar(&forms, "forms", 4, s.Print(text.Say("cli.exercise-class.number-forms", "`NUMBER` of forms")))
	f.StringVar(&out, "out", "forms", s.Print(text.Say("cli.exercise-class.folder-write-into", "`FOLDER` to write into")))
	addKey(s, c, &key)
	l.addFlags(s, c)
	return c
}

// addKey adds the option that names a key file.
func addKey(s term.Streams, c *cobra.Command, key *string) {
	c.Flags().StringVar(key, "key", "", s.Print(text.Say("cli.exercise-class.file-for-key-which", "`FILE` for the key, which must not be there yet (default: shimwright-EXERCISE-key.txt in this folder)")))
}

// keyFile is where the key of an exercise goes: where it was asked to, or here.
func keyFile(asked string, e exercise.Exercise) string {
	if asked != "" {
		return asked
	}
	return "shimwright-" + e.Name + "-key.txt"
}

func tellOfKey(s term.Streams, key string, p view.Pen) error {
	_, err := io.WriteString(s.Err, view.Wrap(p.Print(text.Say("cli.exercise-class.key-keep-from-class", "The key is in {key}. Keep it from the class.", text.Typed("key", key))), p.Width, ""))
	return err
}

func keyIsThere(path string) error {
	return text.Fail(nil, text.Say("cli.exercise-class.there-already-move-name", "{path} is there already: move it, or name another file with --key", text.Typed("path", path)))
}

// writeKey writes a key file that is not there yet, for its owner's eyes.
func writeKey(path, text string) error {
	err := store.WriteNew(path, []byte(text), 0o600)
	if errors.Is(err, os.ErrExist) {
		return exit.Usage(keyIsThere(path))
	}
	return err
}
