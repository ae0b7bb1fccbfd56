package cli

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// demoSeed is a job whose axle carries a fault and needs its backlash corrected, so
// that the demonstration shows both.
const demoSeed = 3

func newDemo(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var name, kind, faults, pictures string
	c := &cobra.Command{
		Use:   "demo",
		Short: "Watch a whole job with one mistake in it, graded at the end",
		Long: `Watch an experienced technician work a whole job and make one mistake: every act, its
readings, the contact pattern, the grade and a lesson. It asks nothing, and writes
nothing unless --pictures names a folder.`,
		Example: "  shimwright demo\n  shimwright demo --family hazel\n  shimwright demo --seed 12 --units metric --pictures patterns",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			a, err := job.Find(name, kind, faults, seed)
			if err != nil {
				return err
			}
			return runDemo(s, a, seed, pictures, p)
		},
	}
	addFamilyFlag(c, &name)
	addKindFlag(c, &kind)
	addFaultsFlag(c, &faults)
	c.Flags().Uint64Var(&seed, "seed", demoSeed, "job `NUMBER`")
	c.Flags().StringVar(&pictures, "pictures", "", "also write each contact pattern as PNG and SVG into this `FOLDER`")
	l.addFlags(c)
	return c
}

// shown is a bench that writes down what happens at it.
type shown struct {
	*sim.Stand
	outs   []history.Step
	after  func(history.Step) error
	failed error // what kept an act from being shown
}

// Do carries out the act and shows it.
func (b *shown) Do(a act.Act) (history.Step, error) {
	o, err := b.Stand.Do(a)
	if err != nil {
		return o, err
	}
	b.outs = append(b.outs, o)
	b.failed = b.after(o)
	return o, b.failed
}

func runDemo(s term.Streams, a job.Asked, seed uint64, pictures string, p view.Pen) error {
	made, err := a.Order().Generate(seed)
	if err != nil {
		return err
	}
	stand, err := made.Stand()
	if err != nil {
		return err
	}
	fmt.Fprint(s.Out, view.Card(made.Card, p))
	fmt.Fprintln(s.Out)
	bench := &shown{Stand: stand}
	bench.after = func(o history.Step) error {
		fmt.Fprint(s.Out, view.AtMinute(bench.Status().Minutes, o.Act, p))
		fmt.Fprint(s.Out, view.Outcome(o, p))
		s.Flush()
		if pictures != "" {
			return store.SavePatterns(pictures, fmt.Sprintf("%s-act-%d", a.Short(seed), len(bench.outs)), o)
		}
		return nil
	}
	habits := technician.Habits{WrongMoveOnce: true, Say: func(why text.Message) {
		fmt.Fprint(s.Out, "\n"+view.Wrap(p.Print(why), p.Width, ""))
	}}
	if err := technician.Work(bench, made.Card.Known, habits); err != nil {
		return cmp.Or(bench.failed, err)
	}
	fmt.Fprintln(s.Out)
	d, err := debrief.Of(cost.Default(), made, stand, bench.outs, p.Units(), false)
	if err != nil {
		return err
	}
	text, err := view.NewDebrief(d, view.DebriefWith{Printer: p.Printer, Again: practice.Again(a, p), Body: true}).Text(p)
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(s.Out, text)
	return err
}
