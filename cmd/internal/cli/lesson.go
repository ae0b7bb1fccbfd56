package cli

import (
	"fmt"
	"io"
	"shimwright/sim/family"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/lessons"
	"shimwright/scenarios"
)

func newLesson(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "lesson [NAME]",
		Short:   "Read a lesson, or list them all",
		Example: "  shimwright lesson\n  shimwright lesson crush-spacer",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) == 0 {
				for _, lesson := range lessons.All() {
					fmt.Fprint(s.Out, view.Hang(lesson.About, p.Width, fmt.Sprintf("%-18s ", lesson.ID), "                   "))
				}
				return nil
			}
			return printLesson(s.Out, args[0], 0, p)
		},
	}
	l.addFlags(c)
	return c
}

// printLesson writes a lesson; seed 0 takes the lesson's own try-again job.
func printLesson(w io.Writer, id string, seed uint64, p view.Pen) error {
	lesson, err := lessons.Find(id)
	if err != nil {
		return usageError{err}
	}
	if seed == 0 {
		seed = lesson.TrySeed
	}
	text, err := view.Lesson(lesson.Title, lesson.Body, seed, p)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(w, text)
	return err
}

func newCard(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	c := &cobra.Command{
		Use:     "card",
		Short:   "Print a job's card",
		Example: "  shimwright card --seed 7 --units metric",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			p, units, err := l.pen(s)
			if err != nil {
				return err
			}
			job, err := scenarios.Generate(family.Beech(), seed)
			if err != nil {
				return err
			}
			_, err = fmt.Fprint(s.Out, view.Card(job.Card, units, p))
			return err
		},
	}
	c.Flags().Uint64Var(&seed, "seed", 1, "number of the job")
	l.addFlags(c)
	return c
}
