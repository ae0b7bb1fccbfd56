package cli

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/exercise"
	"shimwright/sim/datasheet"
)

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
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			if err := store.WriteNew(args[0], exercise.Template(p.Printer), 0o644); err != nil {
				if errors.Is(err, os.ErrExist) {
					return exit.Usage(fmt.Errorf("%s is there already: name another file", view.FileName(args[0])))
				}
				return exit.Usage(err)
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
right. For a file without any, a careful simulated technician works its first jobs, to see
whether they can be finished on its terms. Exit status 0 no mistakes; 1 mistakes; 3 a file is no exercise
at all.`,
		Example: "  shimwright exercise check mine.yaml",
		Args:    takes(1, many, "say which file"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			return checkFiles(s, args, exercise.ErrNotExercise, func(name string) (looked, error) { return lookAtExercise(name, p) })
		},
	}
	l.addFlags(c)
	return c
}

// lookAtExercise checks an exercise file and, if it can be read, tries its jobs.
func lookAtExercise(name string, p view.Pen) (looked, error) {
	e, err := exercise.Read(name)
	var wrong datasheet.Problems
	if errors.As(err, &wrong) {
		return looksWrong(wrong, p), nil
	}
	if err != nil {
		return looked{}, err
	}
	tried, trouble := tryJobs(e, p)
	if len(trouble) == 0 {
		return looked{says: view.Wrap(fmt.Sprintf("%s: no mistakes; a careful simulated technician finished all %d jobs tried on its terms", view.FileName(name), tried), p.Width, "")}, nil
	}
	var b strings.Builder
	for _, line := range trouble {
		b.WriteString(view.Hang(line, p.Width, view.FileName(name)+": ", "    "))
	}
	return looked{says: b.String(), mistakes: len(trouble)}, nil
}

// tryJobs has a careful hand work a round of an exercise's jobs, or all it lists, and says
// what is wrong with them.
func tryJobs(e exercise.Exercise, p view.Pen) (tried int, trouble []string) {
	const most = 60
	numbers := e.Numbers(min(most, max(len(e.Seeds), len(e.Kinds)*len(e.Families))))
	fitting := 0
	for _, n := range numbers {
		order, chosen := e.Order(n)
		say := func(what string) {
			trouble = append(trouble, fmt.Sprintf("job %d (%s, %s): %s", n, chosen.Name, order.Kind, what))
		}
		job, err := e.Job(n)
		if err != nil {
			say(p.Error(err))
			continue
		}
		done, err := e.Try(job)
		if err != nil {
			say(p.Error(err))
			continue
		}
		if over := done.Over(); !over.IsZero() {
			say(p.Print(over))
		}
		band, err := bandOfJob(e, job)
		switch {
		case err != nil:
			say(p.Error(err))
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
