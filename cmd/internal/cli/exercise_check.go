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

	"shimwright/sim/text"
)

func newExerciseWrite(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "write FILE",
		Short: s.Print(text.Say("cli.exercise-check.write-file-begin-exercise", "Write a file to begin an exercise of your own from")),
		Long: s.Print(text.Say("cli.exercise-check.write-file-begin-exercise-2", `Write a file to begin an exercise of your own from, with every key explained; nothing
that is there already is written over. To begin from one that comes with the program, use
show NAME --file.`)),
		Example: "  shimwright exercise write mine.yaml\n  shimwright exercise check mine.yaml",
		Args:    takes(1, 1, s.Print(text.Say("cli.exercise-check.say-which-file", "say which file"))),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			if err := store.WriteNew(args[0], exercise.Template(p.Printer), 0o644); err != nil {
				if errors.Is(err, os.ErrExist) {
					return exit.Usage(text.Fail(nil, text.Say("cli.exercise-check.there-already-name-another", "{file_name} is there already: name another file", text.Typed("file_name", view.FileName(args[0])))))
				}
				return exit.Usage(err)
			}
			_, err = fmt.Fprint(s.Out, view.Wrap(p.Print(text.Say("cli.exercise-check.written-change-then", "Written: {file_name}. Change it, then:", text.Typed("file_name", view.FileName(args[0])))), p.Width, ""), "  ", p.Command("exercise check "+term.Quote(args[0])), "\n")
			return err
		},
	}
	l.addFlags(s, c)
	return c
}

func newExerciseCheck(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: s.Print(text.Say("cli.exercise-check.name-every-mistake-exercise", "Name every mistake in exercise files")),
		Long: s.Print(text.Say("cli.exercise-check.name-every-mistake-exercise-2", `Name every mistake in exercise files, each with its line and column and what would be
right. For a file without any, a careful simulated technician works its first jobs, to see
whether they can be finished on its terms. Exit status 0 no mistakes; 1 mistakes; 3 a file is no exercise
at all.`)),
		Example: "  shimwright exercise check mine.yaml",
		Args:    takes(1, many, s.Print(text.Say("cli.exercise-check.say-which-file", "say which file"))),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			return checkFiles(s, args, exercise.ErrNotExercise, func(name string) (looked, error) { return lookAtExercise(name, p) })
		},
	}
	l.addFlags(s, c)
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
		return looked{says: view.Wrap(p.Print(text.Say("cli.exercise-check.no-mistakes-careful-simulated", "{file_name}: no mistakes; a careful simulated technician finished all {tried} jobs tried on its terms", text.Typed("file_name", view.FileName(name)), text.Count("tried", tried))), p.Width, "")}, nil
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
			trouble = append(trouble, p.Print(text.Say("cli.exercise-check.job", "job {n} ({name}, {kind}): {what}", text.Typed("n", fmt.Sprint(n)), text.Typed("name", chosen.Name), text.Typed("kind", order.Kind.String()), text.Typed("what", what))))
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
			say(p.Print(text.Say("cli.exercise-check.exercise-asks-for-jobs", "it is {band}, and the exercise asks for {band2} jobs", text.Typed("band", band), text.Typed("band2", e.Band))))
		}
	}
	if fitting == 0 && len(trouble) == 0 {
		trouble = append(trouble, p.Print(text.Say("cli.exercise-check.none-first-jobs-ask", "none of the first {numbers} jobs is {band}: ask for another difficulty, or other kinds of job", text.Count("numbers", len(numbers)), text.Typed("band", e.Band))))
	}
	return len(numbers), trouble
}
