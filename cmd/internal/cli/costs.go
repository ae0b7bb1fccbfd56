package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/cost"
	"shimwright/grading/stakes"
	"shimwright/sim/family"

	"shimwright/sim/text"
)

func newCosts(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "costs [FILE]",
		Short: s.Print(text.Say("cli.costs.show-what-everything-costs", "Show what everything costs in a grade, or check a file of costs")),
		Long: s.Print(text.Say("cli.costs.without-file-write-table", `Without FILE, write the table a grade reckons with: work, parts, faults found late,
axles that come back, damage, all in shop minutes, and what each line prices. Keep it in
a file, change what is different in your shop, and grade with grade --costs FILE.

With FILE, name every mistake in it, and warn of costs that would make careless work pay.
Some jobs are played for that, which takes a few seconds. Exit status 0 no mistakes;
1 mistakes; 3 the file is no table of costs at all.`)),
		Example: "  shimwright costs\n  shimwright costs costs.yaml",
		Args:    takes(0, 1, ""),
		Hidden:  true, // the first help is full; grade names it
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) == 0 {
				_, err := s.Out.Write(cost.Text(cost.Default(), p.Printer))
				return err
			}
			t, err := readCosts(s, args[0], p)
			if err != nil {
				return err
			}
			warned, err := warnOfCosts(s.Out, t, p)
			if err == nil && !warned {
				_, err = fmt.Fprintln(s.Out, p.Print(text.Say("cli.costs.no-mistakes-reading-careful", "{file_name}: no mistakes; reading and careful work pay", text.Typed("file_name", view.FileName(args[0])))))
			}
			return err
		},
	}
	l.addFlags(s, c)
	return c
}

// readCosts reads a file of costs, or the program's own where no file is named. What is
// wrong in it is listed beside the figures, which are for other programs.
func readCosts(s term.Streams, name string, p view.Pen) (cost.Table, error) {
	if name == "" {
		return cost.Default(), nil
	}
	text, err := openData(name, "costs > FILE")
	if err != nil {
		return cost.Table{}, err
	}
	t, found := cost.Read(text, name)
	if len(found) > 0 {
		return cost.Table{}, tellMistakes(s.Err, name, found, cost.ErrNotCosts, p)
	}
	return t, nil
}

// warnOfCosts plays a few jobs of the plainest family and says where costs would make careless work
// pay. The program's own are tested to pass and are not played.
func warnOfCosts(w io.Writer, t cost.Table, p view.Pen) (warned bool, err error) {
	const jobs = 8
	if t.IsDefault() {
		return false, nil
	}
	r, err := stakes.Of(t, family.Beech(), jobs)
	if err != nil {
		return false, err
	}
	for _, line := range r.Warnings() {
		if _, err := io.WriteString(w, view.Wrap(p.Print(text.Say("cli.costs.warning", "Warning: {line}.", text.Typed("line", line))), p.Width, "")); err != nil {
			return true, err
		}
	}
	return len(r.Warnings()) > 0, nil
}
