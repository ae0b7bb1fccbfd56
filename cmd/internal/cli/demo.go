package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
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
		Short: "Watch a whole job, with one wrong turn, graded at the end",
		Long: `Play a whole job by a competent hand that takes one wrong turn: every act, its
readings, a picture of the print on the teeth, the grade and a lesson. Asks nothing
and writes nothing unless --pictures names a folder.`,
		Example: "  shimwright demo\n  shimwright demo --family hazel\n  shimwright demo --seed 12 --units metric --pictures prints",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, units, err := l.pen(s)
			if err != nil {
				return err
			}
			a, err := findJob(name, kind, faults, seed)
			if err != nil {
				return err
			}
			return runDemo(s, a, seed, pictures, units, p)
		},
	}
	addFamilyFlag(c, &name)
	addKindFlag(c, &kind)
	addFaultsFlag(c, &faults)
	c.Flags().Uint64Var(&seed, "seed", demoSeed, "job `NUMBER`")
	c.Flags().StringVar(&pictures, "pictures", "", "also write each print as PNG and SVG into this `FOLDER`")
	l.addFlags(c)
	return c
}

// shown is a bench that writes down what happens at it.
type shown struct {
	*sim.Stand
	outs  []sim.Outcome
	after func(sim.Outcome) error
}

// Do carries out the act and shows it.
func (b *shown) Do(a act.Act) (sim.Outcome, error) {
	o, err := b.Stand.Do(a)
	if err != nil {
		return o, err
	}
	b.outs = append(b.outs, o)
	return o, b.after(o)
}

func runDemo(s term.Streams, a axle, seed uint64, pictures string, units quantity.System, p view.Pen) error {
	job, err := a.order().Generate(seed)
	if err != nil {
		return err
	}
	stand, err := job.Stand()
	if err != nil {
		return err
	}
	fmt.Fprint(s.Out, view.Card(job.Card, units, p))
	fmt.Fprintln(s.Out)
	bench := &shown{Stand: stand}
	bench.after = func(o sim.Outcome) error {
		fmt.Fprint(s.Out, atMinute(bench.Status().Minutes, o.Act, p))
		fmt.Fprint(s.Out, view.Outcome(o, units, p))
		flush(s.Out)
		if pictures != "" {
			return savePatterns(pictures, fmt.Sprintf("%s-act-%d", a.job(seed), len(bench.outs)), o)
		}
		return nil
	}
	habits := technician.Habits{WrongMoveOnce: true, Say: func(why string) {
		fmt.Fprint(s.Out, "\n"+view.Wrap(why, p.Width, ""))
	}}
	work := technician.Work
	if a.kind == scenarios.PreviousWork {
		work = technician.Restore
	}
	if err := work(bench, job.Card.Known, habits); err != nil {
		return err
	}
	fmt.Fprintln(s.Out)
	g, err := gradeOf(a, job, stand, bench.outs, units)
	if err != nil {
		return err
	}
	return g.atTheBench(s.Out, p)
}

// atMinute writes an act with the minute it was done by.
func atMinute(m shop.Minutes, a act.Act, p view.Pen) string {
	return view.Hang(p.Strong(a.String()), p.Width, fmt.Sprintf("%3.0f min  ", float64(m)), "    ")
}

// savePrints writes an outcome's prints, if it has any, as two files.
func savePatterns(dir, name string, o sim.Outcome) error {
	for _, r := range o.Readings {
		if len(r.Patterns) == 0 {
			continue
		}
		if err := os.MkdirAll(dir, 0o755); err != nil {
			return err
		}
		for _, ext := range []string{".png", ".svg"} {
			if err := savePicture(filepath.Join(dir, name+ext), o); err != nil {
				return err
			}
		}
	}
	return nil
}

// savePicture writes an outcome's prints to one file, PNG or SVG by its name. The
// file appears whole or not at all.
func savePicture(path string, o sim.Outcome) error {
	if path == "" {
		return usageError{errors.New("say what to call the picture: a name that ends in .png or .svg")}
	}
	draw := picture.PNG
	svg, err := pictureKind(path)
	if err != nil {
		return usageError{err}
	}
	if svg {
		draw = picture.SVG
	}
	for _, r := range o.Readings {
		if len(r.Patterns) == 0 {
			continue
		}
		return writeWhole(path, func(w io.Writer) error {
			return draw(w, r.Patterns, picture.Options{Title: "Print on the ring gear, " + r.How, Colour: true})
		})
	}
	return fmt.Errorf("there is no print to draw yet: paint teeth and roll gears first")
}
