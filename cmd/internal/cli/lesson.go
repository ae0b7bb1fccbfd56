package cli

import (
	"bytes"
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
	"shimwright/lessons"
	"shimwright/lessons/glossary"
	"shimwright/scenarios"
)

func newLesson(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "lesson [NAME]",
		Short: "Read a lesson, or list them all",
		Long: `Read a lesson, or without a name list them all. The course has an order, which
"lesson path" shows; "lesson search" finds words in it. "lesson export" and "lesson
slides" write pages for a browser or the printer, with every picture in them.`,
		Example: "  shimwright lesson\n  shimwright lesson crush-spacer\n  shimwright lesson search end play\n  shimwright lesson export course.html",
		Args: func(c *cobra.Command, words []string) error {
			if len(words) > 1 {
				return fmt.Errorf("%q is more than lesson takes; write: %s, or %s search WORD", words[1], c.UseLine(), c.CommandPath())
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) == 0 {
				return s.Page(view.LessonList(p))
			}
			return showLesson(s, args[0], p)
		},
	}
	l.addFlags(c)
	c.AddCommand(newLessonList(s), newLessonShow(s), newLessonPath(s), newLessonSearch(s), newLessonExport(s), newLessonSlides(s), newLessonSheet(s), newLessonTasks(s))
	return c
}

// showLesson writes a lesson and the command that tries it.
func showLesson(s term.Streams, id string, p view.Pen) error {
	l, err := lessons.Find(id)
	if err != nil {
		return exit.Usage(fmt.Errorf("%w; run %q to see them all", err, p.Command("lesson")))
	}
	text, err := view.Lesson(l.Title, l.Body, tryLesson(l, p), p)
	if err != nil {
		return err
	}
	return s.Page(text + view.LessonWords(l.ID, p) + "\n")
}

// tryLesson is the command that starts a job on a lesson.
func tryLesson(l lessons.Lesson, p view.Pen) string {
	return p.Command(job.Asked{Name: l.TryFamily}.Practice(l.TrySeed))
}

// written is a command that writes a text to the screen.
func written(s term.Streams, use, short, example string, args cobra.PositionalArgs, write func(args []string, p view.Pen) (string, error)) *cobra.Command {
	var l look
	c := &cobra.Command{Use: use, Short: short, Example: "  shimwright " + example, Args: args,
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			text, err := write(args, p)
			if err != nil {
				return err
			}
			return s.Page(text)
		}}
	l.addFlags(c)
	return c
}

func newLessonList(s term.Streams) *cobra.Command {
	return written(s, "list", "List the lessons and what each is about", "lesson list", takes(0, 0, ""),
		func(_ []string, p view.Pen) (string, error) { return view.LessonList(p), nil })
}

func newLessonShow(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "show NAME",
		Short:   "Read a lesson",
		Example: "  shimwright lesson show crush-spacer",
		Args:    takes(1, 1, "say which lesson"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			return showLesson(s, args[0], p)
		},
	}
	l.addFlags(c)
	return c
}

func newLessonPath(s term.Streams) *cobra.Command {
	return written(s, "path", "Show the order of the course and what each lesson trains", "lesson path", takes(0, 0, ""),
		func(_ []string, p view.Pen) (string, error) { return view.LessonPath(p), nil })
}

func newLessonSearch(s term.Streams) *cobra.Command {
	return written(s, "search WORD...", "Find the lessons that have every word", "lesson search end play", takes(1, many, "say what to search for"),
		func(args []string, p view.Pen) (string, error) {
			words := strings.Join(args, " ")
			found := lessons.Search(words)
			if len(found) == 0 {
				return "", exit.Usage(fmt.Errorf("no lesson has %q: try one word, or see what %q says of it", words, p.Command("glossary "+words)))
			}
			return view.LessonsFound(found, p), nil
		})
}

// chosen returns the lessons that are named, or all, in the order of the course.
func chosen(names []string) ([]lessons.Lesson, error) {
	if len(names) == 0 {
		return lessons.All(), nil
	}
	var out []lessons.Lesson
	for _, name := range names {
		l, err := lessons.Find(name)
		if err != nil {
			return nil, exit.Usage(err)
		}
		out = append(out, l)
	}
	slices.SortFunc(out, func(a, b lessons.Lesson) int { return a.Order - b.Order })
	return slices.CompactFunc(out, func(a, b lessons.Lesson) bool { return a.ID == b.ID }), nil
}

// page is a command that writes a page to a file that is not there yet, or with - to the
// screen.
func page(s term.Streams, use, short, long, example string, write func(w io.Writer, names []string, p view.Pen) error) *cobra.Command {
	var l look
	c := &cobra.Command{Use: use, Short: short, Long: long, Example: "  shimwright " + strings.ReplaceAll(example, "\n", "\n  shimwright "), Args: takes(1, many, "say which file to write"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			p.Program = "" // a page goes to others, who type the program's own name
			var b bytes.Buffer
			if err := write(&b, args[1:], p); err != nil {
				return err
			}
			if args[0] == "-" {
				_, err := s.Out.Write(b.Bytes())
				return err
			}
			// A file that is there may hold somebody's work.
			switch err := store.WriteNew(args[0], b.Bytes(), 0o644); {
			case errors.Is(err, os.ErrExist):
				return exit.Usage(fmt.Errorf("%s is there already: give another name", view.FileName(args[0])))
			case err != nil:
				return err
			}
			_, err = fmt.Fprintf(s.Out, "Written: %s\n", view.FileName(args[0]))
			return err
		}}
	l.addFlags(c)
	return c
}

func newLessonExport(s term.Streams) *cobra.Command {
	return page(s, "export FILE [NAME...]", "Write the course, or single lessons, as one page",
		`Write the whole course with glossary and sheets, or the lessons that are named, as one
page for a browser or a printer: the pictures are in it and nothing is fetched. - is the
screen.`, "lesson export course.html\nlesson export runout.html runout",
		func(w io.Writer, names []string, p view.Pen) error {
			all, err := chosen(names)
			if err != nil {
				return err
			}
			return view.Course(w, all, p, func(l lessons.Lesson) string { return tryLesson(l, p) })
		})
}

func newLessonSlides(s term.Streams) *cobra.Command {
	return page(s, "slides FILE [NAME...]", "Write lessons as slides, one to a page",
		`Write all lessons, or those that are named, as slides for the front of a class: one
lesson a page, in large letters. - is the screen.`, "lesson slides class.html crush-spacer rotating-torque",
		func(w io.Writer, names []string, p view.Pen) error {
			all, err := chosen(names)
			if err != nil {
				return err
			}
			return view.Slides(w, all, p)
		})
}

func newLessonSheet(s term.Streams) *cobra.Command {
	var l look
	var out string
	c := &cobra.Command{
		Use:   "sheet [NAME]",
		Short: "Sheets for a real axle: tools, checks, build",
		Long: `Show a sheet to print for a real axle: tools, a list of what it takes; checks, what is
ticked before and after; build, a blank build sheet. --out writes it as a page.`,
		Example: "  shimwright lesson sheet tools\n  shimwright lesson sheet build --out build.html",
		Args:    takes(0, 1, ""),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) == 0 {
				for _, sheet := range lessons.Sheets() {
					fmt.Fprint(s.Out, p.Field(sheet.ID, sheet.Title, 10))
				}
				return nil
			}
			sheet, err := lessons.FindSheet(args[0])
			if err != nil {
				return exit.Usage(err)
			}
			if out != "" {
				return store.WriteWhole(out, func(w io.Writer) error { return view.SheetPage(w, sheet) })
			}
			text, err := view.Sheet(sheet, p)
			if err != nil {
				return err
			}
			return s.Page(text)
		},
	}
	c.Flags().StringVar(&out, "out", "", "write a page to print to `FILE`")
	l.addFlags(c)
	return c
}

func newLessonTasks(s term.Streams) *cobra.Command {
	return written(s, "tasks", "Show what trains each task of published task lists", "lesson tasks", takes(0, 0, ""),
		func(_ []string, p view.Pen) (string, error) { return view.Tasks(p), nil })
}

func newGlossary(s term.Streams) *cobra.Command {
	return written(s, "glossary [WORD]", "What a word of the trade means", "glossary crown wheel", takes(0, many, ""),
		func(args []string, p view.Pen) (string, error) {
			if len(args) == 0 {
				return view.GlossaryList(p), nil
			}
			found, err := glossary.Find(strings.Join(args, " "))
			if err != nil {
				return "", exit.Usage(fmt.Errorf("%w; run %q to see them all", err, p.Command("glossary")))
			}
			return view.Glossary(found, p), nil
		})
}

func newCard(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var name, kind, faults string
	var drawn drawnAxle
	c := &cobra.Command{
		Use:     "card [PART]",
		Short:   "Print a job's card",
		Long:    fmt.Sprintf(`Print a job's card, or one part of it: %s.`, strings.Join(view.CardParts(scenarios.PreviousWork), ", ")),
		Example: "  shimwright card --seed 7 --units metric\n  shimwright card before --kind previous-work --seed 7\n  shimwright card rates --family hazel --seed 7\n  shimwright card --seed 7 --picture axle.png",
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
			if err := drawn.save(made.Card.Family); err != nil {
				return err
			}
			_, err = fmt.Fprint(s.Out, text)
			return err
		},
	}
	addFamilyFlag(c, &name)
	addKindFlag(c, &kind)
	addFaultsFlag(c, &faults)
	c.Flags().Uint64Var(&seed, "seed", 1, "job `NUMBER`")
	drawn.addFlags(c)
	l.addFlags(c)
	return c
}
