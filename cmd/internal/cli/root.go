package cli

import (
	"bufio"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

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
	c, err := root.ExecuteC()
	if flushErr := out.Flush(); err == nil {
		err = flushErr
	}
	if err != nil {
		fmt.Fprintf(s.Err, "shimwright: %s\n", printer(c).Error(err))
	}
	return exit.Status(err)
}

// printer writes in the units that a command was asked to; in inch units where it was not,
// or not in words that can be understood.
func printer(c *cobra.Command) text.Printer {
	units := quantity.Inch
	if f := c.Flags().Lookup("units"); f != nil {
		if u, err := quantity.ParseSystem(f.Value.String()); err == nil {
			units = u
		}
	}
	return text.NewPrinter(units, text.Overlay{})
}

func newRoot(s term.Streams) *cobra.Command {
	var data string
	var lines bool
	root := &cobra.Command{
		Use:   "shimwright",
		Short: "Practice bench for setting up a drive axle's ring and pinion",
		Long: `Practice setting up a ring and pinion. New here? Watch a job with demo. On a real
axle the maker's manual, local rules and a qualified person decide.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          takes(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			if s.Moves {
				return runFirst(s, data, lines)
			}
			return c.Help()
		},
	}
	addDataFlag(root, &data)
	addLinesFlag(root, &lines)
	root.Flags().Lookup("data").Hidden = true // the first help fits a small screen
	root.Flags().Lookup("lines").Hidden = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return exit.Usage(plainOption(c, err)) })
	root.AddCommand(
		newDemo(s),
		newPractice(s),
		newExercise(s),
		newServe(s),
		newSite(s),
		newClass(s),
		newGrade(s),
		newCard(s),
		newLesson(s),
		newGlossary(s),
		newDrill(s),
		newExplore(s),
		newFamily(s),
		newFault(s),
		newForms(s),
		newCosts(s),
		newVersion(s),
		newDoctor(s),
	)
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(&cobra.Command{
		Use:   "exit-status",
		Short: "What the program's exit status means, for scripts",
		Long: `The exit status, for scripts:

  0  done
  1  an act in a script could not be done, answers of a drill in a script were
     not all right, a family, exercise, costs, gears or parts file has
     mistakes, or something outside the program failed
  2  the command was not understood
  3  an attempt file is foreign, damaged or cut short, or a family,
     exercise, costs, gears or parts file is none
  4  an attempt file is of another version or does not replay`,
	})
	root.AddCommand(&cobra.Command{
		Use:   "score",
		Short: "How a score comes about, and how sure it is",
		Long:  "How a score comes about:\n\n" + strings.Join(view.HowScored(text.NewPrinter(quantity.Inch, text.Overlay{})), "\n\n"),
	})
	// The first help fits a small screen without a section for itself.
	root.InitDefaultHelpFlag()
	root.Flags().Lookup("help").Hidden = true
	// The help speaks of options, in capitals what stands for something.
	root.SetUsageTemplate(strings.NewReplacer(".FlagUsages |", fmt.Sprintf(".FlagUsagesWrapped %d |", helpColumns), "Available Commands:", "Commands:", "Global Flags:", "Options for all:", "Flags:", "Options:",
		"{{if .HasAvailableSubCommands}}\n  {{.CommandPath}} [command]", "{{if .HasAvailableSubCommands}}{{if .HasParent}}\n {{end}} {{.CommandPath}} COMMAND",
		"[command]", "COMMAND",
		"{{rpad .CommandPath .CommandPathPadding}}", "{{rpad .Name .NamePadding}}",
		"{{if .HasHelpSubCommands}}", "{{if false}}", // few, and named in the last line
		`(or .IsAvailableCommand (eq .Name "help"))`, ".IsAvailableCommand", // so is help
		`Use "{{.CommandPath}} [command] --help" for more information about a command.`,
		"About one: {{.CommandPath}} COMMAND --help{{if not .HasParent}}; help score; help exit-status{{end}}",
		"{{if .Runnable}}\n  {{.UseLine}}", "{{if and .Runnable (not .HasAvailableSubCommands)}}\n  {{.UseLine}}").Replace(root.UsageTemplate()))
	if s.Program != "" {
		root.Annotations = map[string]string{cobra.CommandDisplayNameAnnotation: s.Program}
	}
	settle(root)
	return root
}

// helpColumns is how wide a help page is: it asks for no terminal and fits a small one.
const helpColumns = 80

// filled writes the paragraphs of a text anew to the width of a help page; one that is
// indented anywhere is a table and stays.
func filled(text string) string {
	paragraphs := strings.Split(text, "\n\n")
	for i, p := range paragraphs {
		if !strings.HasPrefix(p, " ") && !strings.Contains(p, "\n ") {
			paragraphs[i] = strings.TrimRight(view.Wrap(strings.Join(strings.Fields(p), " "), helpColumns, ""), "\n")
		}
	}
	return strings.Join(paragraphs, "\n\n")
}

// settle gives a command and those under it what all have in common.
func settle(c *cobra.Command) {
	c.DisableFlagsInUseLine = true
	c.SuggestionsMinimumDistance = 2 // letters that may be wrong
	c.Long = filled(c.Long)
	c.Example = strings.ReplaceAll(c.Example, "  shimwright ", "  "+c.Root().CommandPath()+" ")
	if args := c.Args; args != nil {
		c.Args = func(c *cobra.Command, words []string) error {
			if err := args(c, words); err != nil {
				return exit.Usage(err)
			}
			return nil
		}
	}
	for _, sub := range c.Commands() {
		settle(sub)
	}
}

// many is more words than anybody types after a command.
const many = 1 << 16

// takes says in plain words when too few or too many words stand after a command.
func takes(least, most int, missing string) cobra.PositionalArgs {
	return func(c *cobra.Command, words []string) error {
		if len(words) >= least && len(words) <= most {
			return nil
		}
		if len(words) < least {
			return fmt.Errorf("%s; write: %s", missing, c.UseLine())
		}
		if c.HasAvailableSubCommands() {
			return noCommand(c, words[0])
		}
		return fmt.Errorf("%q is more than %s takes; write: %s", words[most], c.Name(), c.UseLine())
	}
}

// noCommand names the commands there are, and the one that is nearly it.
func noCommand(c *cobra.Command, word string) error {
	for _, sub := range c.Commands() {
		if near := c.SuggestionsFor(word); sub.IsAvailableCommand() && slices.Contains(near, sub.Name()) {
			return fmt.Errorf("no command is called %q: did you mean %s?", word, sub.Name())
		}
	}
	var names []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			names = append(names, sub.Name())
		}
	}
	return fmt.Errorf("no command is called %q: there are %s", word, strings.Join(names, ", "))
}

// plainOption says in plain words what was wrong with an option.
func plainOption(c *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	var missing *pflag.ValueRequiredError
	var unknown *pflag.NotExistError
	switch {
	case errors.As(err, &value):
		f := value.GetFlag()
		want := map[string]string{"uint64": "a whole number, 0 or more", "int": "a whole number", "float64": "a number", "bool": "true or false"}[f.Value.Type()]
		if want == "" {
			break // a value of our own says itself what it takes
		}
		return fmt.Errorf("--%s takes %s, not %q", f.Name, want, value.GetValue())
	case errors.As(err, &missing):
		name, _ := pflag.UnquoteUsage(missing.GetFlag())
		return fmt.Errorf("--%s needs something after it; write: --%s %s", missing.GetFlag().Name, missing.GetFlag().Name, name)
	case errors.As(err, &unknown):
		typed := "--" + unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			typed = typed[1:]
		}
		return fmt.Errorf("no option is called %s: see %s --help", typed, c.CommandPath())
	}
	return err
}

// look holds the flags every printing command shares.
type look struct {
	units string
	width int
	plain bool
}

func (l *look) addFlags(c *cobra.Command) {
	c.Flags().StringVar(&l.units, "units", "inch", "`UNITS` to show: inch or metric")
	c.Flags().IntVar(&l.width, "width", 0, "`COLUMNS` to write for, 40 to 100 (default: the terminal's, or 80)")
	c.Flags().BoolVar(&l.plain, "plain", false, "no color and no block pictures")
}

// pen makes the writer's settings from flags and streams.
func (l *look) pen(s term.Streams) (view.Pen, error) {
	units, err := quantity.ParseSystem(l.units)
	if err != nil {
		return view.Pen{}, exit.Usage(err)
	}
	p := view.NewPen(units, s.Width)
	p.Color, p.Program = s.Color && !l.plain, s.Program
	if l.width != 0 {
		if l.width < term.MinWidth || l.width > term.MaxWidth {
			return p, exit.Usage(fmt.Errorf("--width %d is outside %d to %d", l.width, term.MinWidth, term.MaxWidth))
		}
		p.Width = l.width
	}
	return p, nil
}
