package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
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
		Args:    takes(0, 1, ""),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) == 0 {
				_, err := fmt.Fprint(s.Out, view.LessonList(p))
				return err
			}
			text, err := readLesson(args[0], p)
			if err != nil {
				return err
			}
			_, err = fmt.Fprintln(s.Out, text)
			return err
		},
	}
	l.addFlags(c)
	return c
}

// readLesson writes a lesson and the command that tries it.
func readLesson(id string, p view.Pen) (string, error) {
	l, err := lessons.Find(id)
	if err != nil {
		return "", exit.Usage(fmt.Errorf("%w; run %q to see them all", err, p.Command("lesson")))
	}
	return view.Lesson(l.Title, l.Body, p.Command(job.Asked{Name: l.TryFamily}.Practice(l.TrySeed)), p)
}

func newCard(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var name, kind, faults string
	c := &cobra.Command{
		Use:     "card [PART]",
		Short:   "Print a job's card",
		Long:    fmt.Sprintf(`Print a job's card, or one part of it: %s.`, strings.Join(view.CardParts(scenarios.PreviousWork), ", ")),
		Example: "  shimwright card --seed 7 --units metric\n  shimwright card before --kind previous-work --seed 7\n  shimwright card rates --family hazel --seed 7",
		Args:    takes(0, 1, ""),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			a, err := job.Find(name, kind, faults, seed)
			if err != nil {
				return err
			}
			made, err := a.Order().Generate(seed)
			if err != nil {
				return err
			}
			part := "all"
			if len(args) > 0 {
				part = strings.ToLower(args[0])
			}
			text, ok := view.CardPart(made.Card, part, p)
			if !ok {
				return exit.Usage(view.NoCardPart(a.Kind, part))
			}
			_, err = fmt.Fprint(s.Out, text)
			return err
		},
	}
	addFamilyFlag(c, &name)
	addKindFlag(c, &kind)
	addFaultsFlag(c, &faults)
	c.Flags().Uint64Var(&seed, "seed", 1, "job `NUMBER`")
	l.addFlags(c)
	return c
}
