package cli

import (
	"fmt"
	"io"
	"strings"

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
		Args:    takes(0, 1, ""),
		RunE: func(_ *cobra.Command, args []string) error {
			p, _, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) == 0 {
				_, err := fmt.Fprint(s.Out, lessonList(p))
				return err
			}
			return patternLesson(s.Out, args[0], "", p)
		},
	}
	l.addFlags(c)
	return c
}

// lessonList writes the names of the lessons and what each is about, by the parts of
// the job.
func lessonList(p view.Pen) string {
	const column = 20
	var b strings.Builder
	group := ""
	for _, lesson := range lessons.All() {
		if lesson.Group != group {
			group = lesson.Group
			b.WriteString(view.Wrap(p.Strong(group), p.Width, ""))
		}
		b.WriteString(p.Field("  "+lesson.ID, lesson.About, column))
	}
	return b.String()
}

// printLesson writes a lesson and the command that tries it again; "" takes the job the
// lesson itself names.
func patternLesson(w io.Writer, id, again string, p view.Pen) error {
	lesson, err := lessons.Find(id)
	if err != nil {
		return usageError{err}
	}
	if again == "" {
		again = axle{name: lesson.TryFamily}.practice(lesson.TrySeed)
	}
	text, err := view.Lesson(lesson.Title, lesson.Body, p.Command(again), p)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(w, text)
	return err
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
			p, units, err := l.pen(s)
			if err != nil {
				return err
			}
			a, err := findJob(name, kind, faults, seed)
			if err != nil {
				return err
			}
			job, err := a.order().Generate(seed)
			if err != nil {
				return err
			}
			part := "all"
			if len(args) > 0 {
				part = strings.ToLower(args[0])
			}
			text, ok := view.CardPart(job.Card, part, units, p)
			if !ok {
				return usageError{noCardPart(a.kind, part)}
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
