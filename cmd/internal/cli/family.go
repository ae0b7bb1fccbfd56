package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"

	"shimwright/sim/text"
)

func newFamily(s term.Streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "family",
		Short: s.Print(text.Say("cli.family.list-show-check-axle", "List, show, begin and check axle families")),
		Long: s.Print(text.Say("cli.family.list-axle-families-show", `List the axle families, show one, begin one of your own from the figures of a manual, or
check its file. A family is a text file; show CODE says what is in one that comes with the
program. To practice on one, type practice --family CODE, or FILE for one of your own.`)),
		Example: "  shimwright family list\n  shimwright family show juniper --units metric",
		Args:    takes(0, 0, ""),
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newFamilyList(s), newFamilyShow(s), newFamilyWrite(s), newFamilyCheck(s))
	return c
}

func newFamilyList(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "list",
		Short:   s.Print(text.Say("cli.family.list-families-come-program", "List the families that come with the program")),
		Example: "  shimwright family list",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			_, err = fmt.Fprint(s.Out, view.FamilyList(family.Shelf(), p))
			return err
		},
	}
	l.addFlags(s, c)
	return c
}

// A drawn axle is what the options of a picture of an axle say.
type drawnAxle struct {
	path  string
	night bool
}

func (d *drawnAxle) addFlags(s term.Streams, c *cobra.Command) {
	c.Flags().StringVar(&d.path, "picture", "", s.Print(text.Say("cli.family.picture", "also save the axle cut open: `FILE.png` or FILE.svg")))
	addDarkFlag(s, c, &d.night)
}

func addDarkFlag(s term.Streams, c *cobra.Command, night *bool) {
	c.Flags().BoolVar(night, "dark", false, s.Print(text.Say("cli.family.dark", "the picture for a dark screen")))
}

func (d drawnAxle) save(f family.Family) error {
	if d.path == "" {
		return nil
	}
	svg, err := store.IsSVG(d.path)
	if err != nil {
		return exit.Usage(err)
	}
	return store.WriteWhole(d.path, func(w io.Writer) error { return view.DrawAxle(w, f, svg, d.night) })
}

func newFamilyShow(s term.Streams) *cobra.Command {
	var l look
	var drawn drawnAxle
	c := &cobra.Command{
		Use:     "show CODE|FILE",
		Short:   s.Print(text.Say("cli.family.show-family-design-gears", "Show a family: design, gears, axle sheet")),
		Example: "  shimwright family show beech\n  shimwright family show mine.yaml --units metric\n  shimwright family show elm --picture elm.png",
		Args:    takes(1, 1, s.Print(text.Say("cli.family.say-which-family", "say which family"))),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			f, err := job.FindFamily(args[0])
			if err != nil {
				return err
			}
			if err := drawn.save(f); err != nil {
				return err
			}
			_, err = fmt.Fprint(s.Out, view.FamilyPage(f, p))
			return err
		},
	}
	drawn.addFlags(s, c)
	l.addFlags(s, c)
	return c
}

func newFamilyCheck(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: s.Print(text.Say("cli.family.name-every-mistake-family", "Name every mistake in family files")),
		Long: s.Print(text.Say("cli.family.name-every-mistake-family-2", `Name every mistake in family files, each with its line and column and what would be
right. It checks the writing, the range of each number, and whether the specification
can be met: shims that end on a step, gears that mesh, a rotating torque that is reached
within the spec of the nut. Exit status 0 no mistakes; 1 mistakes; 3 a file is no family at all.`)),
		Example: "  shimwright family check mine.yaml",
		Args:    takes(1, many, s.Print(text.Say("cli.family.say-which-file", "say which file"))),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			return checkFiles(s, args, family.ErrNotFamily, func(name string) (looked, error) { return lookAtFamily(name, p) })
		},
	}
	l.addFlags(s, c)
	return c
}

// lookAtFamily checks a family file.
func lookAtFamily(name string, p view.Pen) (looked, error) {
	prose, err := datasheet.ReadFile(name)
	if err != nil {
		return looked{}, err
	}
	if found := family.Check(prose, name); len(found) > 0 {
		return looksWrong(found, p), nil
	}
	return looked{says: p.Print(text.Say("cli.family.no-mistakes", "{file_name}: no mistakes", text.Typed("file_name", view.FileName(name)))) + "\n"}, nil
}
