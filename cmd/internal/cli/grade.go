package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/quantity"
)

func newGrade(s term.Streams) *cobra.Command {
	var l look
	var ask gradeAsk
	c := &cobra.Command{
		Use:   "grade FILE...",
		Short: "Grade an attempt file, or a class of them",
		Long: `Play an attempt file again and grade every pivotal decision against the best that
could be decided on the readings shown. For a signed-off job it also tells what the
axle really was. Nothing in the attempt is changed.

--out writes the debrief to a file, by the end of its name: .html is a page for the
screen and for paper that needs nothing beside itself, .md Markdown, .txt text, .json
JSON. It may be given several times.

With several files, or a folder of them, it is a class: a table of pupils and jobs, and
what cost most. Pupils go by the folders their files lie in or, where all lie in one, by
the files' names. --out then also takes .csv, for a spreadsheet. A file that cannot be
graded is named and left out.

--from looks at the act of that number by itself: what was known, what would have cost
least, and what the other ways were priced at. With --instead, of a signed-off job,
another act takes its place, and a competent hand goes on from there: what that would
have shown and cost.

Everything is priced by a table of costs: the command costs writes it out, --costs
grades with another.`,
		Example: `  shimwright grade shimwright-job-7.jsonl
  shimwright grade shimwright-job-7.jsonl --short
  shimwright grade shimwright-job-7.jsonl --out debrief.html
  shimwright grade shimwright-job-7.jsonl --from 2 --instead "fit depth-shim 0.032in"
  shimwright grade attempts --out class.csv --out class.html`,
		Args: takes(1, many, "say which attempt file"),
		RunE: func(c *cobra.Command, args []string) error {
			p, units, err := l.pen(s)
			if err != nil {
				return err
			}
			ask.fromSet, ask.insteadSet = c.Flags().Changed("from"), c.Flags().Changed("instead")
			class := isClass(args)
			if err := ask.check(class); err != nil {
				return usageError{err}
			}
			costs, err := readCosts(s, ask.costsFile, p)
			if err != nil {
				return err
			}
			if _, err := warnOfCosts(s.Err, costs, p); err != nil {
				return err
			}
			if class {
				return gradeClass(s, args, ask, costs, units, p)
			}
			g, err := gradeFile(args[0], costs, units)
			if err != nil {
				return err
			}
			if ask.fromSet {
				return g.from(s.Out, ask, p)
			}
			return ask.write(s.Out, p, g.forms(!ask.short, p))
		},
	}
	c.Flags().BoolVar(&ask.json, "json", false, "write JSON instead of text")
	c.Flags().StringVar(&ask.costsFile, "costs", "", "grade with the costs in this `FILE`")
	c.Flags().StringArrayVar(&ask.out, "out", nil, "write to `FILE`, which ends in "+endings())
	c.Flags().BoolVar(&ask.short, "short", false, "the costliest decisions alone, the lesson without its text; of a class no line to each attempt")
	c.Flags().IntVar(&ask.from, "from", 0, "look at the act of this `NUMBER` by itself")
	c.Flags().StringVar(&ask.instead, "instead", "", "with --from: another `ACT` in its place")
	l.addFlags(c)
	return c
}

// gradeAsk is what is asked of grade beside the files.
type gradeAsk struct {
	json, short         bool
	out                 []string
	from                int
	instead             string
	costsFile           string
	fromSet, insteadSet bool
}

// check says what does not go together.
func (a gradeAsk) check(class bool) error {
	switch {
	case class && (a.fromSet || a.insteadSet):
		return errors.New("--from and --instead are about one attempt: name one file; an act of several words stands in quotes")
	case a.insteadSet && !a.fromSet:
		return errors.New("--instead needs the number of the act it takes the place of: add --from NUMBER")
	case a.insteadSet && a.costsFile != "":
		return errors.New("--instead reckons with the program's own costs: leave --costs out")
	case a.fromSet && (a.json || a.short || len(a.out) > 0):
		return errors.New("--from writes to the screen: leave --json, --out and --short out")
	case a.json && len(a.out) > 0:
		return errors.New("--json writes to the screen and --out to a file: give one of them")
	}
	for _, path := range a.out {
		as, err := formOf(path)
		if err != nil {
			return err
		}
		if as == asCSV && !class {
			return fmt.Errorf("%s: a table is of several attempts: name several files or a folder", path)
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
	return "", fmt.Errorf("%s: the name of a file for --out ends in %s", path, endings())
}

func endings() string { return ".html, .md, .txt, .json or .csv" }

// write writes to the screen, or to the files asked for.
func (a gradeAsk) write(w io.Writer, p view.Pen, forms func(writing, view.Pen) func(io.Writer) error) error {
	if len(a.out) == 0 {
		if a.json {
			return forms(asJSON, p)(w)
		}
		return forms(asText, p)(w)
	}
	p.Colour = false
	for _, path := range a.out {
		f, err := formOf(path)
		if err != nil {
			return err
		}
		if err := writeWhole(path, forms(f, p)); err != nil {
			return err
		}
		if _, err := fmt.Fprintf(w, "Written: %s\n", path); err != nil {
			return err
		}
	}
	return nil
}

// gradeFile plays an attempt file again and grades it.
func gradeFile(path string, costs cost.Table, units quantity.System) (graded, error) {
	a, err := playFile(path)
	if err != nil {
		return graded{}, err
	}
	if err := stillOpen(path, a.rec, a.stand); err != nil {
		return graded{}, err
	}
	g, err := gradeAt(costs, axleOf(a.rec.Header), a.job, a.stand, a.outs, units)
	g.path = path
	return g, err
}

// stillOpen says that a check or an examination is not graded before it is signed off.
func stillOpen(path string, rec *attempt.Record, stand *sim.Stand) error {
	if rec.Header.Mode == attempt.Practice || stand.Status().SignedOff {
		return nil
	}
	return usageError{fmt.Errorf("%s is %s that is still open: it is graded when it is signed off", path, view.OneOf(rec.Header.Mode))}
}

// played is an attempt file as it was played again.
type played struct {
	rec   *attempt.Record
	job   scenarios.Job
	stand *sim.Stand
	outs  []sim.Outcome
}

// playFile reads an attempt file and does it all again. What is wrong is told with the
// file's name.
func playFile(path string) (played, error) {
	f, err := os.Open(path)
	if err != nil {
		return played{}, usageError{err}
	}
	defer f.Close()
	var a played
	if a.rec, err = attempt.Read(f); err == nil {
		a.job, a.stand, a.outs, err = attempt.Replay(a.rec)
	}
	if err != nil {
		return played{}, fmt.Errorf("%s: %w", path, err)
	}
	return a, nil
}

// graded is a report and, for a finished job, the reveal.
type graded struct {
	path   string // of the attempt file; "" where there is none
	axle   axle
	job    scenarios.Job
	outs   []sim.Outcome
	units  quantity.System
	report grading.Report
	reveal *reveal.Reveal
}

// gradeOf grades at the program's own costs.
func gradeOf(a axle, job scenarios.Job, stand *sim.Stand, outs []sim.Outcome, units quantity.System) (graded, error) {
	return gradeAt(cost.Default(), a, job, stand, outs, units)
}

func gradeAt(costs cost.Table, a axle, job scenarios.Job, stand *sim.Stand, outs []sim.Outcome, units quantity.System) (graded, error) {
	rep, err := grading.GradeAt(costs, job.Card, outs, units)
	if err != nil {
		return graded{}, err
	}
	g := graded{axle: a, job: job, outs: outs, units: units, report: rep}
	if rep.SignedOff {
		r, err := reveal.Of(job, stand, rep, units)
		if err != nil {
			return graded{}, err
		}
		g.reveal = &r
	}
	return g, nil
}

// notice stands on every grade that a program reads.
const notice = "simulated grade on an invented axle; it certifies nobody"

func (g graded) json(w io.Writer, d view.Debriefing) error {
	// A list that is empty is written as one, for programs that go through it.
	if g.report.Areas == nil {
		g.report.Areas = []grading.AreaScore{}
	}
	if g.report.Decisions == nil {
		g.report.Decisions = []grading.Decision{}
	}
	if g.reveal != nil && g.reveal.Faults == nil {
		r := *g.reveal
		r.Faults, g.reveal = []reveal.Carried{}, &r
	}
	return writeJSON(w, struct {
		Family  string          `json:"family"`
		Seed    string          `json:"seed"`
		Notice  string          `json:"notice"`
		Grade   grading.Report  `json:"grade"`
		Reveal  *reveal.Reveal  `json:"reveal,omitempty"`
		Debrief view.Debriefing `json:"debrief"`
	}{g.axle.Code, fmt.Sprint(g.job.Card.Seed), notice, g.report, g.reveal, d})
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// again is the command that starts another job to try a lesson on. Each lesson's job is
// looked for once.
func (g graded) again(p view.Pen) func(lesson string) string {
	found := map[string]string{}
	return func(lesson string) string {
		if _, ok := found[lesson]; !ok {
			what := g.axle.practice(g.job.Card.Seed + 1)
			if g.reveal != nil {
				code, seed := reveal.Another(g.job, lesson)
				what = g.axle.like(code).practice(seed)
			}
			found[lesson] = p.Command(what)
		}
		return found[lesson]
	}
}

// debriefing is what every form of the debrief is written from.
func (g graded) debriefing(long, body bool, p view.Pen) view.Debriefing {
	from := view.Graded{Job: g.axle.title(", job ", g.job.Card.Seed), Report: g.report, Reveal: g.reveal, Outs: g.outs,
		Again: g.again(p), Long: long, Body: body}
	if g.path != "" && g.reveal != nil {
		from.Fork = p.Command("grade " + term.Quote(g.path))
	}
	return view.NewDebriefing(from)
}

// forms writes the debrief in every form, long or short.
func (g graded) forms(long bool, p view.Pen) func(writing, view.Pen) func(io.Writer) error {
	d := g.debriefing(long, long, p)
	return func(f writing, p view.Pen) func(io.Writer) error {
		return func(w io.Writer) error {
			switch f {
			case asJSON:
				return g.json(w, d)
			case asHTML:
				return d.HTML(w)
			case asMarkdown:
				_, err := io.WriteString(w, d.Markdown())
				return err
			}
			return writeDebrief(w, d, p)
		}
	}
}

func writeDebrief(w io.Writer, d view.Debriefing, p view.Pen) error {
	text, err := d.Text(p)
	if err == nil {
		_, err = io.WriteString(w, text)
	}
	return err
}

// atTheBench writes the debrief that ends a sitting: the short one with the lesson's text.
func (g graded) atTheBench(w io.Writer, p view.Pen) error {
	return writeDebrief(w, g.debriefing(false, true, p), p)
}
