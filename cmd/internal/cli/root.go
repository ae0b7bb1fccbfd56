package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/attempt"
	"shimwright/sim/exhibit"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// The exit codes; see the package comment.
const (
	exitDone     = 0
	exitFailed   = 1
	exitUsage    = 2
	exitBadFile  = 3
	exitNoReplay = 4
)

// usageError marks a mistake in how the command was called.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// Main runs the command line and returns the exit code.
func Main(s term.Streams, args []string) int {
	out := bufio.NewWriter(s.Out)
	in := s
	in.Out = out
	root := newRoot(in)
	root.SetArgs(args)
	root.SetIn(s.In)
	root.SetOut(out)
	root.SetErr(s.Err)
	err := root.Execute()
	if flushErr := out.Flush(); err == nil {
		err = flushErr
	}
	if err == nil {
		return exitDone
	}
	fmt.Fprintf(s.Err, "shimwright: %v\n", err)
	return exitCode(err)
}

func exitCode(err error) int {
	var usage usageError
	switch {
	case errors.As(err, &usage):
		return exitUsage
	case errors.Is(err, attempt.ErrForeign), errors.Is(err, attempt.ErrDamaged), errors.Is(err, attempt.ErrCutShort),
		errors.Is(err, family.ErrNotFamily), errors.Is(err, exhibit.ErrNotGears), errors.Is(err, exhibit.ErrNotParts):
		return exitBadFile
	case errors.Is(err, attempt.ErrOtherVersion), errors.Is(err, attempt.ErrNotReproducible):
		return exitNoReplay
	}
	return exitFailed
}

func newRoot(s term.Streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "shimwright",
		Short: "Practice bench for setting up a drive axle's ring and pinion",
		Long: `Practice setting up a drive axle's ring and pinion before a real one pays for it:
depth shim, pinion preload with a collapsible spacer, side shims, backlash,
contact pattern, total rotating torque, sign-off.

The axle on the bench is invented. On a real one the maker's manual, local rules
and a qualified person decide.

Exit status: 0 done; 1 an act in a script could not be done, a family, gears or parts
file has mistakes, or something outside the program failed; 2 command not understood;
3 an attempt file is foreign, damaged or cut short, or a family, gears or parts file
is none; 4 an attempt file is of another version or does not replay.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(newDemo(s), newPractice(s), newGrade(s), newCard(s), newLesson(s), newExplore(s), newFamily(s))
	root.CompletionOptions.HiddenDefaultCmd = true
	for _, c := range append(root.Commands(), root) {
		if args := c.Args; args != nil {
			c.Args = func(c *cobra.Command, a []string) error {
				if err := args(c, a); err != nil {
					return usageError{err}
				}
				return nil
			}
		}
	}
	return root
}

// look holds the flags every printing command shares.
type look struct {
	units string
	width int
	plain bool
}

func (l *look) addFlags(c *cobra.Command) {
	c.Flags().StringVar(&l.units, "units", "inch", "units to show: inch or metric")
	c.Flags().IntVar(&l.width, "width", 0, "columns to write for, 40 to 100 (default: the terminal's, or 80)")
	c.Flags().BoolVar(&l.plain, "plain", false, "no colour and no block pictures")
}

// pen makes the writer's settings from flags and streams.
func (l *look) pen(s term.Streams) (view.Pen, quantity.System, error) {
	units, err := quantity.ParseSystem(l.units)
	if err != nil {
		return view.Pen{}, units, usageError{err}
	}
	p := view.Pen{Width: s.Width, Colour: s.Colour && !l.plain}
	if l.width != 0 {
		if l.width < term.MinWidth || l.width > term.MaxWidth {
			return p, units, usageError{fmt.Errorf("--width %d is outside %d to %d", l.width, term.MinWidth, term.MaxWidth)}
		}
		p.Width = l.width
	}
	return p, units, nil
}

// flush pushes out what has been written when the stream is buffered, so that a
// person sees it before being asked for more.
func flush(w io.Writer) {
	if b, ok := w.(*bufio.Writer); ok {
		_ = b.Flush() // a broken pipe shows at the final flush
	}
}
