package cli

import (
	"errors"
	"fmt"
	"io"

	"shimwright/cmd/internal/view"
	"shimwright/grading/whatif"
	"shimwright/sim"
	"shimwright/sim/act"
)

// from looks at one act of an attempt, and puts another in its place where one is given.
func (g graded) from(w io.Writer, ask gradeAsk, p view.Pen) error {
	n := ask.from
	known, err := whatif.Known(g.outs, g.report, n)
	if err != nil {
		return usageError{fmt.Errorf("--from %d: %w", n, err)}
	}
	if !ask.insteadSet {
		_, err := io.WriteString(w, view.Choice(n, g.outs[n-1], known, g.units, p))
		return err
	}
	a, err := act.Parse(ask.instead, g.units)
	if err != nil {
		what := plainError(g.axle.Design, ask.instead, err)
		if why := notHere(g.axle.Design, ask.instead); why != "" {
			what = why
		}
		return usageError{fmt.Errorf("--instead %q: %s", ask.instead, what)}
	}
	fork, err := whatif.At(g.job, g.outs, n, a, g.units)
	var no *sim.Refusal
	switch {
	case errors.Is(err, whatif.ErrOpen):
		return usageError{fmt.Errorf("%w; --from %d alone tells what was known", err, n)}
	case errors.As(err, &no):
		return usageError{fmt.Errorf("%s could not have been done in the place of act %d: %w", a, n, err)}
	case err != nil:
		return err
	}
	_, err = io.WriteString(w, view.Fork(fork, g.units, p))
	return err
}
