package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading"
	"shimwright/grading/class"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/grading/whatif"
	"shimwright/sim/text"
)

func newGrade(s term.Streams) *cobra.Command {
	var l look
	var ask gradeAsk
	c := &cobra.Command{
		Use:   "grade FILE...",
		Short: s.Print(text.Say("cli.grade.grade-attempt-file-class", "Grade an attempt file, or a class of them")),
		Long: s.Print(text.Say("cli.grade.play-attempt-file-again", `Play an attempt file again and grade what was done against the best that could be done
on the readings shown. First come three lines: whether the axle is right and proved,
what cost most, one thing to do next time. Then what the acts cost as a picture, what
was done well, and how the score adds up. For a signed-off job it also tells what the
axle really was. --full adds each decision: what was known, what it meant, what would
have cost least. Nothing in the attempt is changed. How a score comes about:
help score.

--out writes the debrief to a file, by the end of its name: .html is a page for the
screen and for paper that needs nothing beside itself, .md Markdown, .txt text, .json
JSON. It may be given several times.

With several files, or a folder of them, it is a class: a table of pupils and jobs, and
what cost most. Pupils go by the folders their files lie in or, where all lie in one, by
the files' names. --out then also takes .csv, for a spreadsheet. A zip file is a folder. A
file that cannot be graded is named and left out, and so is a pupil of whom nothing can be.
--roster names a file with a pupil's name a line, as the folders or files have it: who has
handed in nothing is named then, too.

--from shows the act of that number by itself: what was known, what would have cost
least, and what the other ways would have cost. With --instead, of a signed-off job,
another act takes its place, and a simulated technician goes on from there: what that
would have shown and cost.

Everything is priced by a table of costs: the command costs writes it out, --costs
grades with another.`)),
		Example: `  shimwright grade shimwright-job-7.jsonl
  shimwright grade shimwright-job-7.jsonl --full
  shimwright grade shimwright-job-7.jsonl --out debrief.html
  shimwright grade shimwright-job-7.jsonl --from 2 --instead "fit depth-shim 0.032in"
  shimwright grade attempts --out class.csv --out class.html`,
		Args: takes(1, many, s.Print(text.Say("cli.grade.say-which-attempt-file", "say which attempt file"))),
		RunE: func(c *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			ask.fromSet, ask.insteadSet = c.Flags().Changed("from"), c.Flags().Changed("instead")
			class := isClass(args)
			if err := ask.check(class); err != nil {
				return exit.Usage(err)
			}
			costs, err := readCosts(s, ask.costsFile, p)
			if err != nil {
				return err
			}
			if _, err := warnOfCosts(s.Err, costs, p); err != nil {
				return err
			}
			if class {
				return gradeClass(s, args, ask, costs, p)
			}
			return gradeOne(s, args[0], ask, costs, p)
		},
	}
	c.Flags().BoolVar(&ask.json, "json", false, s.Print(text.Say("cli.grade.write-json-instead-text", "write JSON instead of text")))
	c.Flags().StringVar(&ask.costsFile, "costs", "", s.Print(text.Say("cli.grade.costs", "grade with the costs in this `FILE`")))
	c.Flags().StringArrayVar(&ask.out, "out", nil, s.Print(text.Say("cli.grade.out", "write to `FILE`, which ends in {endings}", endings())))
	c.Flags().BoolVar(&ask.full, "full", false, s.Print(text.Say("cli.grade.each-decision-each-line", "each decision, each line of the acceptance list, the lesson's text; of a class a line for each attempt")))
	c.Flags().StringVar(&ask.roster, "roster", "", s.Print(text.Say("cli.grade.class-file-name-pupil", "of a class: a `FILE` with the name of a pupil a line")))
	c.Flags().IntVar(&ask.from, "from", 0, s.Print(text.Say("cli.grade.show-act-this-number", "show the act of this `NUMBER` by itself")))
	c.Flags().StringVar(&ask.instead, "instead", "", s.Print(text.Say("cli.grade.from-another-act-place", "with --from: another `ACT` in its place")))
	l.addFlags(s, c)
	return c
}

// gradeAsk is what is asked of grade beside the files.
type gradeAsk struct {
	json, full          bool
	out                 []string
	from                int
	instead             string
	costsFile, roster   string
	fromSet, insteadSet bool
}

// everything tells whether some form asked for holds each decision in full.
func (a gradeAsk) everything() bool {
	return a.full || a.json || slices.ContainsFunc(a.out, func(path string) bool {
		as, err := formOf(path)
		return err == nil && (as == asHTML || as == asJSON)
	})
}

// check says what does not go together.
func (a gradeAsk) check(class bool) error {
	switch {
	case class && (a.fromSet || a.insteadSet):
		return text.Fail(nil, text.Say("cli.grade.from-instead-about-one", "--from and --instead are about one attempt: name one file; an act of several words stands in quotes"))
	case !class && a.roster != "":
		return text.Fail(nil, text.Say("cli.grade.roster-class-name-several", "--roster is of a class: name several files or a folder"))
	case a.insteadSet && !a.fromSet:
		return text.Fail(nil, text.Say("cli.grade.instead-needs-number-act", "--instead needs the number of the act it takes the place of: add --from NUMBER"))
	case a.insteadSet && a.costsFile != "":
		return text.Fail(nil, text.Say("cli.grade.instead-reckons-programs-own", "--instead reckons with the program's own costs: leave --costs out"))
	case a.fromSet && (a.json || a.full || len(a.out) > 0):
		return text.Fail(nil, text.Say("cli.grade.from-writes-screen-leave", "--from writes to the screen: leave --json, --out and --full out"))
	case a.json && len(a.out) > 0:
		return text.Fail(nil, text.Say("cli.grade.json-writes-screen-out", "--json writes to the screen and --out to a file: give one of them"))
	}
	for _, path := range a.out {
		as, err := formOf(path)
		if err != nil {
			return err
		}
		if as == asCSV && !class {
			return text.Fail(nil, text.Say("cli.grade.table-several-attempts-name", "{path}: a table is of several attempts: name several files or a folder", text.Typed("path", path)))
		}
	}
	return nil
}

// A writing is a way to write what was graded, named by the end of a file's name.
type writing string

// The ways.
const (
	asText     writing = ".txt"
	asMarkdown writing = ".md"
	asJSON     writing = ".json"
	asHTML     writing = ".html"
	asCSV      writing = ".csv" // of a class
)

func formOf(path string) (writing, error) {
	end := writing(strings.ToLower(filepath.Ext(path)))
	switch end {
	case asText, asMarkdown, asJSON, asHTML, asCSV:
		return end, nil
	}
	return "", text.Fail(nil, text.Say("cli.grade.ending", "{path}: the name of a file for --out ends in {endings}", text.Typed("path", path), endings()))
}

func endings() text.Arg {
	return text.AnyTyped("endings", asHTML, asMarkdown, asText, asJSON, asCSV)
}

// write writes to the screen, or to the files asked for.
func (a gradeAsk) write(w io.Writer, p view.Pen, forms func(writing, view.Pen) func(io.Writer) error) error {
	if len(a.out) == 0 {
		if a.json {
			return forms(asJSON, p)(w)
		}
		return forms(asText, p)(w)
	}
	p.Color = false
	for _, path := range a.out {
		f, err := formOf(path)
		if err != nil {
			return err
		}
		if err := store.WriteWhole(path, forms(f, p)); err != nil {
			return err
		}
		if _, err := fmt.Fprintln(w, p.Print(text.Say("cli.grade.written", "Written: {path}", text.Typed("path", path)))); err != nil {
			return err
		}
	}
	return nil
}

// play reads an attempt file and does it all again.
func play(path string) (*bench.Bench, error) {
	rec, err := store.Read(path)
	if err != nil {
		return nil, err
	}
	b, err := bench.Open(rec)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if err := debrief.MayGrade(rec.Header.Mode, b.Status().SignedOff); err != nil {
		return nil, exit.Usage(fmt.Errorf("%s: %w", path, err))
	}
	return b, nil
}

// gradeOne grades one attempt file, or looks at one of its acts.
func gradeOne(s term.Streams, path string, ask gradeAsk, costs cost.Table, p view.Pen) error {
	b, err := play(path)
	if err != nil {
		return err
	}
	d, err := b.Debrief(costs, p.Units(), ask.everything())
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if ask.fromSet {
		return lookAt(s.Out, b, d.Report, ask, p)
	}
	with := view.DebriefWith{Printer: p.Printer, Again: practice.Again(job.Of(b.Header()), p), Fork: p.Command("grade " + term.Quote(path)), Full: ask.full}
	return ask.write(s.Out, p, func(as writing, p view.Pen) func(io.Writer) error { return debriefForm(d, with, as, p) })
}

func debriefForm(d debrief.Debriefing, with view.DebriefWith, as writing, p view.Pen) func(io.Writer) error {
	return func(w io.Writer) error {
		if as == asJSON {
			return writeJSON(w, struct {
				Notice string `json:"notice"`
				debrief.Debriefing
			}{notice, d})
		}
		with.Full = with.Full || as == asHTML // where it is folded
		said := view.NewDebrief(d, with)
		if as == asHTML {
			return said.HTML(w)
		}
		prose, err := said.Markdown(), error(nil)
		if as == asText {
			prose, err = said.Text(p)
		}
		if err == nil {
			_, err = io.WriteString(w, prose)
		}
		return err
	}
}

// notice stands on every grade that a program reads.
const notice = "simulated grade on an invented axle; it certifies nobody"

func writeJSON(w io.Writer, v any) error {
	text, err := view.JSON(v)
	if err == nil {
		_, err = w.Write(text)
	}
	return err
}

// lookAt writes about one act of an attempt, and puts another in its place where one is
// given.
func lookAt(w io.Writer, b *bench.Bench, rep grading.Report, ask gradeAsk, p view.Pen) error {
	n, outs := ask.from, b.Shown()
	known, err := whatif.Known(outs, rep, n)
	if err != nil {
		return exit.Usage(text.Fail(err, text.Say("cli.grade.from", "--from {n}: {why}", text.Count("n", n), text.Cause("why", err))))
	}
	if !ask.insteadSet {
		_, err := io.WriteString(w, view.Choice(n, outs[n-1], known, p))
		return err
	}
	a, err := bench.ReadAct(b.Card().Family.Design, ask.instead, p.Units())
	if err != nil {
		return exit.Usage(text.Fail(err, text.Say("cli.grade.instead", "--instead {instead}: {why}", text.Quoted("instead", ask.instead), text.Cause("why", err))))
	}
	fork, err := whatif.At(b.Job(), outs, n, a, p.Units())
	switch {
	case errors.Is(err, whatif.ErrOpen):
		return exit.Usage(text.Fail(err, text.Say("cli.grade.from-alone-tells-what", "{why}; --from {n} alone tells what was known", text.Cause("why", err), text.Count("n", n))))
	case bench.Refused(err):
		return exit.Usage(text.Fail(err, text.Say("cli.grade.could-not-have-been", "{it} could not have been done in the place of act {n}: {why}", text.Typed("it", a.String()), text.Count("n", n), text.Cause("why", err))))
	case err != nil:
		return err
	}
	_, err = io.WriteString(w, view.Fork(fork, p))
	return err
}

// isClass reports whether what is to be graded is a class: several files, a folder or a zip file.
func isClass(args []string) bool {
	if len(args) != 1 {
		return true
	}
	info, err := os.Stat(args[0])
	return err == nil && (info.IsDir() || strings.EqualFold(filepath.Ext(args[0]), ".zip"))
}

// gradeClass grades many attempts and writes what they come to. Where a file could not be
// graded, the error that is returned at the end is that of the first.
func gradeClass(s term.Streams, args []string, ask gradeAsk, costs cost.Table, p view.Pen) error {
	found, err := store.Find(args)
	if err != nil {
		return exit.Usage(err)
	}
	defer found.Close()
	var roster []string
	if ask.roster != "" {
		if roster, err = store.Roster(ask.roster); err != nil {
			return exit.Usage(err)
		}
	}
	const steps = 10
	all := len(found.Files)
	c := class.GradeEach(all, func(i int) class.Attempt { return handedIn(found.Files[i]) }, costs, p.Units(), func(n int) {
		if s.Person && steps*n/all != steps*(n-1)/all {
			fmt.Fprintln(s.Err, p.Print(text.Say("cli.grade.attempts-graded", "{n} of {all} attempts graded", text.Count("n", n), text.Count("all", all))))
		}
	})
	c.Passed = found.Passed
	if ask.roster != "" {
		c.CallRoll(roster)
	}
	if err := ask.write(s.Out, p, func(as writing, p view.Pen) func(io.Writer) error {
		return classForm(view.Class{Class: c, Long: ask.full, Printer: p.Printer}, as, p)
	}); err != nil {
		return err
	}
	if len(c.Trouble) > 0 {
		return text.Fail(c.Trouble[0].Err, text.Say("cli.grade.files-could-not-be", "{trouble} of {all} files could not be graded, the first: {visible}: {why}", text.Count("trouble", len(c.Trouble)), text.Count("all", all), text.Typed("visible", view.Visible(c.Trouble[0].File)), text.Cause("why", c.Trouble[0].Err)))
	}
	return nil
}

// handedIn reads what was handed in.
func handedIn(f store.Handed) class.Attempt {
	rec, err := f.Read()
	var notThere *fs.PathError
	switch {
	case errors.As(err, &notThere):
		err = notThere.Err // no mistake in the command
	case err != nil:
		err = store.Unnamed(err)
	default:
		return class.Attempt{File: f.Name, Record: rec, Pupil: f.Pupil(job.ShortOf(rec.Header))}
	}
	return class.Attempt{File: f.Name, Err: err, Pupil: f.Pupil("")}
}

func classForm(c view.Class, as writing, p view.Pen) func(io.Writer) error {
	return func(w io.Writer) error {
		var prose string
		switch as {
		case asJSON:
			return writeJSON(w, struct {
				Notice string `json:"notice"`
				class.Class
			}{notice, c.Class})
		case asCSV:
			return c.CSV(w)
		case asHTML:
			return c.HTML(w)
		case asMarkdown:
			prose = c.Markdown()
		default:
			prose = c.Text(p)
		}
		_, err := io.WriteString(w, prose)
		return err
	}
}
