package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/quantity"
)

func newGrade(s term.Streams) *cobra.Command {
	var l look
	var asJSON, short bool
	c := &cobra.Command{
		Use:   "grade FILE",
		Short: "Grade an attempt file",
		Long: `Play an attempt file again and grade every pivotal decision against the best that
could be decided on the readings shown. For a signed-off job it also tells what the
axle really was. Nothing on disk is changed.`,
		Example: "  shimwright grade shimwright-job-7.jsonl\n  shimwright grade shimwright-job-7.jsonl --json",
		Args:    takes(1, 1, "say which attempt file"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, units, err := l.pen(s)
			if err != nil {
				return err
			}
			f, err := os.Open(args[0])
			if err != nil {
				return usageError{err}
			}
			defer f.Close()
			rec, err := attempt.Read(f)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			job, stand, outs, err := attempt.Replay(rec)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			if rec.Header.Mode != attempt.Practice && !stand.Status().SignedOff {
				return usageError{fmt.Errorf("%s is %s that is still open: it is graded when it is signed off", args[0], view.OneOf(rec.Header.Mode))}
			}
			g, err := gradeOf(axleOf(rec.Header), job, stand, outs, units)
			if err != nil {
				return err
			}
			if asJSON {
				return g.json(s.Out)
			}
			return g.text(s.Out, !short, p)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write the grade as JSON")
	c.Flags().BoolVar(&short, "short", false, "leave the lesson out")
	l.addFlags(c)
	return c
}

// graded is a report and, for a finished job, the reveal.
type graded struct {
	axle   axle
	seed   uint64
	report grading.Report
	reveal *reveal.Reveal
}

func gradeOf(a axle, job scenarios.Job, stand *sim.Stand, outs []sim.Outcome, units quantity.System) (graded, error) {
	rep, err := grading.Grade(job.Card, outs, units)
	if err != nil {
		return graded{}, err
	}
	g := graded{axle: a, seed: job.Card.Seed, report: rep}
	if rep.SignedOff {
		r, err := reveal.Of(job, stand, rep, units)
		if err != nil {
			return graded{}, err
		}
		g.reveal = &r
	}
	return g, nil
}

func (g graded) json(w io.Writer) error {
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
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(struct {
		Family string         `json:"family"`
		Seed   string         `json:"seed"`
		Notice string         `json:"notice"`
		Grade  grading.Report `json:"grade"`
		Reveal *reveal.Reveal `json:"reveal,omitempty"`
	}{g.axle.Code, fmt.Sprint(g.seed), "simulated grade on an invented axle; it certifies nobody", g.report, g.reveal})
}

func (g graded) text(w io.Writer, withLesson bool, p view.Pen) error {
	if _, err := fmt.Fprint(w, view.Debrief(g.report, g.reveal, p)); err != nil {
		return err
	}
	if g.report.Lesson == "" {
		return nil
	}
	again := g.axle.practice(g.seed + 1)
	if v := g.reveal; v != nil {
		again = g.axle.like(v.TryFamily).practice(v.TrySeed)
	}
	if withLesson {
		return printLesson(w, g.report.Lesson, again, p)
	}
	_, err := fmt.Fprintf(w, "%s  %s\n", view.Wrap(fmt.Sprintf("Lesson: %s. To try again, type:", g.report.Lesson), p.Width, ""), p.Command(again))
	return err
}
