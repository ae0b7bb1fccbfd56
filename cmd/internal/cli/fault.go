package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/catalogue"

	"shimwright/sim/text"
)

func newFault(s term.Streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "fault",
		Short: s.Print(text.Say("cli.fault.list-show-what-can", "List and show what can be wrong with an axle")),
		Long: s.Print(text.Say("cli.fault.list-what-can-be", `List what can be wrong with an axle on the bench, or show one entry: its cause and
signs, what it is easily mistaken for, the test that tells it apart, the remedy.`)),
		Example: "  shimwright fault list\n  shimwright fault show caps-swapped",
		Args:    takes(0, 0, ""),
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newFaultList(s), newFaultShow(s))
	return c
}

func newFaultList(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "list [AREA]",
		Short:   s.Print(text.Say("cli.fault.list-catalogue-one-area", "List the catalogue, or one area with how often each comes up")),
		Example: "  shimwright fault list\n  shimwright fault list runout",
		Args:    takes(0, many, ""),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			all := catalogue.All()
			if len(args) == 0 {
				_, err = fmt.Fprint(s.Out, view.FaultList(all, p))
				return err
			}
			word := strings.ToLower(strings.Join(args, " "))
			var found []catalogue.Entry
			for _, e := range all {
				if strings.Contains(e.Area, word) || strings.Contains(strings.ToLower(p.Print(e.AreaName)), word) {
					found = append(found, e)
				}
			}
			if len(found) == 0 {
				return exit.Usage(text.Fail(nil, text.Say("cli.fault.no-area-called-fault", "no area is called {word}: fault list names them", text.Quoted("word", word))))
			}
			_, err = fmt.Fprint(s.Out, view.FaultArea(found, p))
			return err
		},
	}
	l.addFlags(s, c)
	return c
}

func newFaultShow(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "show NAME",
		Short:   s.Print(text.Say("cli.fault.show-one-entry-catalogue", "Show one entry of the catalogue")),
		Example: "  shimwright fault show inner-cup-high --units metric",
		Args:    takes(1, 1, s.Print(text.Say("cli.fault.say-which-fault-list", "say which: fault list names them"))),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			e, err := catalogue.Find(strings.ToLower(args[0]))
			if err != nil {
				return exit.Usage(err)
			}
			_, err = fmt.Fprint(s.Out, view.FaultPage(e, p))
			return err
		},
	}
	l.addFlags(s, c)
	return c
}
