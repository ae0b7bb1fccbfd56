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

	"shimwright/sim/text"
)

func newLesson(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "lesson [NAME]",
		Short: s.Print(text.Say("cli.lesson.read-lesson-list-them", "Read a lesson, or list them all")),
		Long: s.Print(text.Say("cli.lesson.long", `Read a lesson, or without a name list them all. The course has an order, which
"lesson path" shows; "lesson search" finds words in it. "lesson export" and "lesson
slides" write pages for a browser or the printer, with every picture in them.`)),
		Example: "  shimwright lesson\n  shimwright lesson crush-spacer\n  shimwright lesson search end play\n  shimwright lesson export course.html",
		Args: func(c *cobra.Command, words []string) error {
			if len(words) > 1 {
				return text.Fail(nil, text.Say("cli.lesson.more-than-lesson-takes", "{word} is more than lesson takes; write: {command}, or {command2} search WORD", text.Quoted("word", words[1]), text.Typed("command", c.UseLine()), text.Typed("command2", c.CommandPath())))
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
	l.addFlags(s, c)
	c.AddCommand(newLessonList(s), newLessonShow(s), newLessonPath(s), newLessonSearch(s), newLessonExport(s), newLessonSlides(s), newLessonSheet(s), newLessonTasks(s))
	return c
}

// showLesson writes a lesson and the command that tries it.
func showLesson(s term.Streams, id string, p view.Pen) error {
	l, err := lessons.Find(id)
	if err != nil {
		return exit.Usage(text.Fail(err, text.Say("cli.lesson.run-see-them-all", "{why}; run {command} to see them all", text.Cause("why", err), text.Quoted("command", p.Command("lesson")))))
	}
	prose, err := view.Lesson(l.Title, l.Body, tryLesson(l, p), p)
	if err != nil {
		return err
	}
	return s.Page(prose + view.LessonWords(l.ID, p) + "\n")
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
	l.addFlags(s, c)
	return c
}

func newLessonList(s term.Streams) *cobra.Command {
	return written(s, "list", s.Print(text.Say("cli.lesson.list-lessons-what-each", "List the lessons and what each is about")), "lesson list", takes(0, 0, ""),
		func(_ []string, p view.Pen) (string, error) { return view.LessonList(p), nil })
}

func newLessonShow(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "show NAME",
		Short:   s.Print(text.Say("cli.lesson.read-lesson", "Read a lesson")),
		Example: "  shimwright lesson show crush-spacer",
		Args:    takes(1, 1, s.Print(text.Say("cli.lesson.say-which-lesson", "say which lesson"))),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			return showLesson(s, args[0], p)
		},
	}
	l.addFlags(s, c)
	return c
}

func newLessonPath(s term.Streams) *cobra.Command {
	return written(s, "path", s.Print(text.Say("cli.lesson.show-order-course-what", "Show the order of the course and what each lesson trains")), "lesson path", takes(0, 0, ""),
		func(_ []string, p view.Pen) (string, error) { return view.LessonPath(p), nil })
}

func newLessonSearch(s term.Streams) *cobra.Command {
	return written(s, "search WORD...", s.Print(text.Say("cli.lesson.find-lessons-have-every", "Find the lessons that have every word")), "lesson search end play", takes(1, many, s.Print(text.Say("cli.lesson.say-what-search-for", "say what to search for"))),
		func(args []string, p view.Pen) (string, error) {
			words := strings.Join(args, " ")
			found := lessons.Search(words)
			if len(found) == 0 {
				return "", exit.Usage(text.Fail(nil, text.Say("cli.lesson.no-lesson-has-try", "no lesson has {words}: try one word, or see what {command} says of it", text.Quoted("words", words), text.Quoted("command", p.Command("glossary "+words)))))
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
	c := &cobra.Command{Use: use, Short: short, Long: long, Example: "  shimwright " + strings.ReplaceAll(example, "\n", "\n  shimwright "), Args: takes(1, many, s.Print(text.Say("cli.lesson.say-which-file-write", "say which file to write"))),
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
				return exit.Usage(text.Fail(nil, text.Say("cli.lesson.there-already-give-another", "{file_name} is there already: give another name", text.Typed("file_name", view.FileName(args[0])))))
			case err != nil:
				return err
			}
			_, err = fmt.Fprintln(s.Out, p.Print(text.Say("cli.lesson.written", "Written: {file_name}", text.Typed("file_name", view.FileName(args[0])))))
			return err
		}}
	l.addFlags(s, c)
	return c
}

func newLessonExport(s term.Streams) *cobra.Command {
	return page(s, "export FILE [NAME...]", s.Print(text.Say("cli.lesson.write-course-single-lessons", "Write the course, or single lessons, as one page")),
		s.Print(text.Say("cli.lesson.write-whole-course-glossary", `Write the whole course with glossary and sheets, or the lessons that are named, as one
page for a browser or a printer: the pictures are in it and nothing is fetched. - is the
screen.`)), "lesson export course.html\nlesson export runout.html runout",
		func(w io.Writer, names []string, p view.Pen) error {
			all, err := chosen(names)
			if err != nil {
				return err
			}
			return view.Course(w, all, p, func(l lessons.Lesson) string { return tryLesson(l, p) })
		})
}

func newLessonSlides(s term.Streams) *cobra.Command {
	return page(s, "slides FILE [NAME...]", s.Print(text.Say("cli.lesson.write-lessons-as-slides", "Write lessons as slides, one to a page")),
		s.Print(text.Say("cli.lesson.write-all-lessons-those", `Write all lessons, or those that are named, as slides for the front of a class: one
lesson a page, in large letters. - is the screen.`)), "lesson slides class.html crush-spacer rotating-torque",
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
		Short: s.Print(text.Say("cli.lesson.sheets-for-real-axle", "Sheets for a real axle: tools, checks, build")),
		Long: s.Print(text.Say("cli.lesson.show-sheet-for-real", `Show a sheet to print for a real axle: tools, a list of what it takes; checks, what is
ticked before and after; build, a blank build sheet. --out writes it as a page.`)),
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
				return store.WriteWhole(out, func(w io.Writer) error { return view.SheetPage(w, sheet, p.Printer) })
			}
			prose, err := view.Sheet(sheet, p)
			if err != nil {
				return err
			}
			return s.Page(prose)
		},
	}
	c.Flags().StringVar(&out, "out", "", s.Print(text.Say("cli.lesson.write-page-file", "write a page to print to `FILE`")))
	l.addFlags(s, c)
	return c
}

func newLessonTasks(s term.Streams) *cobra.Command {
	return written(s, "tasks", s.Print(text.Say("cli.lesson.show-what-trains-each", "Show what trains each task of published task lists")), "lesson tasks", takes(0, 0, ""),
		func(_ []string, p view.Pen) (string, error) { return view.Tasks(p), nil })
}

func newGlossary(s term.Streams) *cobra.Command {
	return written(s, "glossary [WORD]", s.Print(text.Say("cli.lesson.what-word-trade-means", "What a word of the trade means")), "glossary crown wheel", takes(0, many, ""),
		func(args []string, p view.Pen) (string, error) {
			if len(args) == 0 {
				return view.GlossaryList(p), nil
			}
			found, err := glossary.Find(strings.Join(args, " "))
			if err != nil {
				return "", exit.Usage(text.Fail(err, text.Say("cli.lesson.run-see-them-all", "{why}; run {command} to see them all", text.Cause("why", err), text.Quoted("command", p.Command("glossary")))))
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
		Short:   s.Print(text.Say("cli.lesson.jobs-card", "Print a job's card")),
		Long:    s.Print(text.Say("cli.lesson.jobs-card-one-part", "Print a job's card, or one part of it: {card_parts}.", text.Typed("card_parts", strings.Join(view.CardParts(scenarios.PreviousWork), ", ")))),
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
			prose, ok := view.CardPart(made.Card, part, p)
			if !ok {
				return exit.Usage(view.NoCardPart(a.Kind, part))
			}
			if err := drawn.save(made.Card.Family); err != nil {
				return err
			}
			_, err = fmt.Fprint(s.Out, prose)
			return err
		},
	}
	addFamilyFlag(s, c, &name)
	addKindFlag(s, c, &kind)
	addFaultsFlag(s, c, &faults)
	c.Flags().Uint64Var(&seed, "seed", 1, "job `NUMBER`")
	drawn.addFlags(s, c)
	l.addFlags(s, c)
	return c
}
