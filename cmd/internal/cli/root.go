package cli

import (
	"bufio"
	"errors"
	"fmt"
	"os"
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
	var err error
	if s.Printer, err = printerFor(args, os.Getenv); err != nil {
		fmt.Fprintf(s.Err, "shimwright: %s\n", s.Error(err))
		return exit.Status(err)
	}
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
		fmt.Fprintf(s.Err, "shimwright: %s\n", printer(s, c).Error(err))
	}
	return exit.Status(err)
}

// printer writes in the units that a command was asked to; in inch units where it was not,
// or not in words that can be understood.
func printer(s term.Streams, c *cobra.Command) text.Printer {
	units := quantity.Inch
	if f := c.Flags().Lookup("units"); f != nil {
		if u, err := quantity.ParseSystem(f.Value.String()); err == nil {
			units = u
		}
	}
	return s.Printer.In(units)
}

// Commands is the tree of commands, for who describes it. None of it is to be run.
func Commands() *cobra.Command { return newRoot(term.Streams{}) }

func newRoot(s term.Streams) *cobra.Command {
	var data string
	var lines bool
	root := &cobra.Command{
		Use:   "shimwright",
		Short: s.Print(text.Say("cli.root.practice-bench-for-setting", "Practice bench for setting up a drive axle's ring and pinion")),
		Long: s.Print(text.Say("cli.root.practice-setting-up-pinion", `Practice setting up a ring and pinion. New here? Watch a job with demo. On a real
axle the maker's manual, local rules and a qualified person decide.`)),
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
	addDataFlag(s, root, &data)
	addLinesFlag(s, root, &lines)
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
		newLanguage(s),
	)
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(&cobra.Command{
		Use:   "exit-status",
		Short: s.Print(text.Say("cli.root.what-programs-exit-status", "What the program's exit status means, for scripts")),
		Long: s.Print(text.Say("cli.root.exit-status-for-scripts", `The exit status, for scripts:

  0  done
  1  an act in a script could not be done, answers of a drill in a script were
     not all right, a family, exercise, costs, gears, parts or language
     file has mistakes, or something outside the program failed
  2  the command was not understood
  3  an attempt file is foreign, damaged or cut short, or a family,
     exercise, costs, gears, parts or language file is none
  4  an attempt file is of another version or does not replay`)),
	})
	root.AddCommand(&cobra.Command{
		Use:   "score",
		Short: s.Print(text.Say("cli.root.how-score-comes-about", "How a score comes about, and how sure it is")),
		Long: s.Print(text.Say("cli.root.how-score-comes-about-2", `How a score comes about:

{how_scored}`, text.Typed("how_scored", strings.Join(view.HowScored(s.Printer), "\n\n")))),
	})
	root.SetUsageFunc(func(c *cobra.Command) error { return usage(s, c, c.OutOrStderr()) })
	addLanguageFlag(s, root)
	if s.Program != "" {
		root.Annotations = map[string]string{cobra.CommandDisplayNameAnnotation: s.Program}
	}
	settle(s, root)
	root.Flags().Lookup("help").Hidden = true // the first help fits a small screen
	// Only the help that is asked for is written out: there are many.
	plain := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, words []string) {
		c.Long = filled(c.Long)
		plain(c, words)
	})
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
func settle(s term.Streams, c *cobra.Command) {
	c.DisableFlagsInUseLine = true
	c.Flags().BoolP("help", "h", false, s.Print(text.Say("help.option", "help for {command}", text.Typed("command", c.Name()))))
	c.SuggestionsMinimumDistance = 2 // letters that may be wrong
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
		settle(s, sub)
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
			return text.Fail(nil, text.Say("cli.root.write", "{missing}; write: {command}", text.Typed("missing", missing), text.Typed("command", c.UseLine())))
		}
		if c.HasAvailableSubCommands() {
			return noCommand(c, words[0])
		}
		return text.Fail(nil, text.Say("cli.root.more-than-takes-write", "{word} is more than {it} takes; write: {command}", text.Quoted("word", words[most]), text.Typed("it", c.Name()), text.Typed("command", c.UseLine())))
	}
}

// noCommand names the commands there are, and the one that is nearly it.
func noCommand(c *cobra.Command, word string) error {
	for _, sub := range c.Commands() {
		if near := c.SuggestionsFor(word); sub.IsAvailableCommand() && slices.Contains(near, sub.Name()) {
			return text.Fail(nil, text.Say("cli.root.no-command-called-did", "no command is called {word}: did you mean {sub}?", text.Quoted("word", word), text.Typed("sub", sub.Name())))
		}
	}
	var names []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			names = append(names, sub.Name())
		}
	}
	return text.Fail(nil, text.Say("cli.root.no-command-called-there", "no command is called {word}: there are {names}", text.Quoted("word", word), text.Typed("names", strings.Join(names, ", "))))
}

// plainOption says in plain words what was wrong with an option.
func plainOption(c *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	var missing *pflag.ValueRequiredError
	var unknown *pflag.NotExistError
	switch {
	case errors.As(err, &value):
		f := value.GetFlag()
		want := map[string]text.Message{
			"uint64":  text.Say("option.count", "a whole number, 0 or more"),
			"int":     text.Say("option.whole", "a whole number"),
			"float64": text.Say("option.number", "a number"),
			"bool":    text.Say("option.switch", "true or false"),
		}[f.Value.Type()]
		if want.IsZero() {
			break // a value of our own says itself what it takes
		}
		return text.Fail(nil, text.Say("cli.root.takes-not", "--{name} takes {want}, not {get_value}", text.Typed("name", f.Name), text.Of("want", want), text.Quoted("get_value", value.GetValue())))
	case errors.As(err, &missing):
		name, _ := pflag.UnquoteUsage(missing.GetFlag())
		return text.Fail(nil, text.Say("cli.root.needs-something-after-write", "--{name} needs something after it; write: --{name} {name2}", text.Typed("name", missing.GetFlag().Name), text.Typed("name2", name)))
	case errors.As(err, &unknown):
		typed := "--" + unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			typed = typed[1:]
		}
		return text.Fail(nil, text.Say("cli.root.no-option-called-see", "no option is called {typed}: see {command} --help", text.Typed("typed", typed), text.Typed("command", c.CommandPath())))
	}
	return err
}

// look holds the flags every printing command shares.
type look struct {
	units string
	width int
	plain bool
}

func (l *look) addFlags(s term.Streams, c *cobra.Command) {
	c.Flags().StringVar(&l.units, "units", "inch", s.Print(text.Say("cli.root.units-show-inch-metric", "`UNITS` to show: inch or metric")))
	c.Flags().IntVar(&l.width, "width", 0, s.Print(text.Say("cli.root.columns-write-for-40", "`COLUMNS` to write for, 40 to 100 (default: the terminal's, or 80)")))
	c.Flags().BoolVar(&l.plain, "plain", false, s.Print(text.Say("cli.root.no-color-no-block", "no color and no block pictures")))
}

// pen makes the writer's settings from flags and streams.
func (l *look) pen(s term.Streams) (view.Pen, error) {
	units, err := quantity.ParseSystem(l.units)
	if err != nil {
		return view.Pen{}, exit.Usage(err)
	}
	p := view.NewPen(s.Printer.In(units), s.Width)
	p.Color, p.Program = s.Color && !l.plain, s.Program
	if l.width != 0 {
		if l.width < term.MinWidth || l.width > term.MaxWidth {
			return p, exit.Usage(text.Fail(nil, text.Say("cli.root.width-outside", "--width {width} is outside {min_width} to {max_width}", text.Count("width", l.width), text.Count("min_width", term.MinWidth), text.Count("max_width", term.MaxWidth))))
		}
		p.Width = l.width
	}
	return p, nil
}
