package cli

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/explore"
	"shimwright/sim/family"

	"shimwright/sim/text"
)

func newExplore(s term.Streams) *cobra.Command {
	x := exploring{s: s, typed: map[string]*string{}, on: map[string]*bool{}}
	c := &cobra.Command{
		Use:   "explore",
		Short: s.Print(text.Say("cli.explore.show-class-what-one", "Show a class what one change does to an open axle")),
		Long: s.Print(text.Say("cli.explore.set-axle-by-see", `Set an axle by hand and see everything at once: the true state, what each
instrument would show, and the contact pattern. Without any setting it is a
finished axle. For the front of a class; nothing is hidden and nothing is graded.

--gears FILE shows a gear set alone, --parts FILE bearings, nut and housing alone,
such as a case from a book. "explore start gears mine.yaml" writes a file to change.

Amounts carry their unit: 0.004in, 4thou, 0.1mm, 25lb-in, 250lb-ft, 2.8Nm, 180deg,
72F, 40C. A bare number is in, lb-in, lb-ft, deg or F, or with --units metric mm,
Nm, deg or C.

--sweep NAME=FROM..TO/COUNT sets one of the amounts below (without its dashes) to
COUNT values from FROM to TO and shows a table with a strip of contact patterns or,
where they say nothing, line charts. --csv writes every figure of every position,
--json the same for programs: lengths in mm and in, torques in Nm and lb-in or lb-ft,
forces in N and lbf; "explore fields" lists the names.

The options stand in the order: the axle; how it is set; what is wrong with it; how
it is read; what is written.`)),
		Example: `  shimwright explore --depth -0.004in
  shimwright explore --ring-gear 0.1mm --units metric --out pattern.png
  shimwright explore --side-preload 0.012in --shim-to-ring-gear 0.002in --used
  shimwright explore --sweep depth=-0.008in..0.008in/9 --out depth.svg
  shimwright explore --sweep nut=0deg..200deg/41 --csv nut.csv
  shimwright explore --family hazel --sweep preload-shims=0.047in..0.055in/17
  shimwright explore --family alder --sweep warm=0C..60C/13 --units metric
  shimwright explore --wrench-error 20% --seal-extra 6lb-in
  shimwright explore start gears mine.yaml
  shimwright explore --gears mine.yaml --ring-gear 0.005in`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			x.familyNamed, x.asked.SeedNamed = c.Flags().Changed("family"), c.Flags().Changed("seed")
			return x.run()
		},
	}
	c.AddCommand(newExploreStart(s), newExploreFields(s))
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&x.family, "family", job.UsualFamily, s.Print(text.Say("cli.explore.axle-family", "axle family")))
	f.StringVar(&x.gears, "gears", "", s.Print(text.Say("cli.explore.gear-set-alone-from", "a gear set alone, from `FILE`")))
	f.StringVar(&x.parts, "parts", "", s.Print(text.Say("cli.explore.bearings-nut-housing-alone", "bearings, nut and housing alone, from `FILE`")))
	x.addSettings(c)
	f.Uint64Var(&x.asked.Seed, "seed", 0, s.Print(text.Say("cli.explore.give-instruments-errors-another", "give the instruments errors, another set for each `NUMBER`")))
	f.BoolVar(&x.exact, "exact", false, s.Print(text.Say("cli.explore.solve-every-tooth-contact", "solve every tooth contact: slower, and no move is taken as small")))
	f.StringVar(&x.asked.Sweep, "sweep", "", s.Print(text.Say("cli.explore.name-from-count-such", "`NAME=FROM..TO/COUNT`, such as depth=-0.008in..0.008in/9")))
	f.StringVar(&x.csv, "csv", "", s.Print(text.Say("cli.explore.write-every-figure-file", "write every figure to `FILE`, a line a position; - is the screen")))
	f.BoolVar(&x.json, "json", false, s.Print(text.Say("cli.explore.write-every-figure-as", "write every figure as JSON instead of tables and pictures")))
	f.StringVar(&x.out, "out", "", s.Print(text.Say("cli.explore.also-save-picture-file", "also save the picture: `FILE.png` or FILE.svg")))
	addDarkFlag(s, c, &x.night)
	f.BoolVar(&x.both, "both", false, s.Print(text.Say("cli.explore.show-both-unit-systems", "show both unit systems")))
	x.look.addFlags(s, c)
	return c
}

// exploring is what the options of explore say.
type exploring struct {
	s                    term.Streams
	look                 look
	family, gears, parts string
	familyNamed, exact   bool
	typed                map[string]*string // amounts and words
	on                   map[string]*bool   // toggles
	asked                explore.Asked
	csv, out             string
	json, both, night    bool
}

// addSettings adds an option for all that can be set: first the bearings, then the amounts
// and toggles of the axle, then those of its instruments.
func (x *exploring) addSettings(c *cobra.Command) {
	f := c.Flags()
	toggle := func(t explore.Toggle) {
		x.on[t.Name] = new(bool)
		f.BoolVar(x.on[t.Name], t.Name, false, t.Help)
	}
	toggles := explore.Toggles()
	toggle(toggles[0])
	for _, instruments := range []bool{false, true} {
		for _, k := range explore.Knobs() {
			if (k.Of == explore.Instruments) == instruments {
				x.typed[k.Name] = f.String(k.Name, "", k.Help)
			}
		}
		for _, t := range toggles[1:] {
			if (t.Of == explore.Instruments) == instruments {
				toggle(t)
			}
		}
	}
	for _, ch := range explore.Choices() {
		x.typed[ch.Name] = f.String(ch.Name, "", ch.Help)
	}
}

func (x *exploring) run() error {
	p, err := x.look.pen(x.s)
	if err != nil {
		return err
	}
	subject, err := x.subject(p)
	if err != nil {
		return err
	}
	if err := x.check(subject); err != nil {
		return exit.Usage(err)
	}
	x.asked.Units, x.asked.Typed, x.asked.On = p.Units(), map[string]string{}, map[string]bool{}
	for name, v := range x.typed {
		x.asked.Typed[name] = *v
	}
	for name, v := range x.on {
		x.asked.On[name] = *v
	}
	e, err := subject.Ask(x.asked)
	if err != nil {
		return exit.Usage(err)
	}
	shown := view.Exhibit{Exhibit: &e, Pen: p, Both: x.both, Dark: x.night}
	if x.out != "" && !shown.Draws() {
		return exit.Usage(text.Fail(nil, text.Say("cli.explore.out-has-nothing-draw", "--out has nothing to draw: parts have no contact pattern; give --sweep, which draws a chart")))
	}
	if x.exact && e.Swept != nil {
		fmt.Fprintln(x.s.Err, p.Print(text.Say("cli.explore.exact-contact-positions-being", "The exact contact of {settings} positions is being solved. That takes a while: about five a second, fewer with runout.", text.Count("settings", len(e.Settings)))))
	}
	switch err := e.Show(p.Units()); {
	case errors.Is(err, explore.ErrSetting):
		return exit.Usage(err)
	case err != nil:
		return err
	}
	return x.write(shown)
}

// write writes what is shown to the screen and the files asked for.
func (x *exploring) write(e view.Exhibit) error {
	if x.out != "" {
		svg, err := store.IsSVG(x.out)
		if err == nil {
			err = store.WriteWhole(x.out, func(w io.Writer) error { return e.Draw(w, svg) })
		}
		if err != nil {
			return err
		}
	}
	if x.csv == "-" {
		return e.WriteCSV(x.s.Out)
	}
	if x.csv != "" {
		if err := store.WriteWhole(x.csv, e.WriteCSV); err != nil {
			return err
		}
	}
	if x.json {
		return e.WriteJSON(x.s.Out, e.Notice())
	}
	text, err := e.Text()
	if err == nil {
		_, err = io.WriteString(x.s.Out, text)
	}
	return err
}

// check says which options do not go together.
func (x *exploring) check(u explore.Subject) error {
	if x.json && x.csv == "-" {
		return text.Fail(nil, text.Say("cli.explore.json-csv-would-both", "--json and --csv - would both write to the screen: give --csv a file name"))
	}
	if x.exact && u.Of&explore.Teeth == 0 {
		return text.Fail(nil, text.Say("cli.explore.exact-about-teeth-parts", "--exact is about teeth, and parts have none: leave it out"))
	}
	if x.out != "" {
		_, err := store.IsSVG(x.out)
		return err
	}
	return nil
}

// subject returns what the options name.
func (x *exploring) subject(p view.Pen) (explore.Subject, error) {
	switch {
	case x.gears != "" && x.parts != "":
		return explore.Subject{}, exit.Usage(text.Fail(nil, text.Say("cli.explore.gears-parts-shown-one", "--gears and --parts are shown one at a time: give one")))
	case x.familyNamed && x.gears+x.parts != "":
		return explore.Subject{}, exit.Usage(text.Fail(nil, text.Say("cli.explore.family-whole-axle-file", "--family is a whole axle, and a file is a half of one: give one of them")))
	case x.gears != "":
		prose, err := openData(x.gears, "explore start gears FILE")
		if err != nil {
			return explore.Subject{}, err
		}
		c, problems := explore.ReadGearCase(prose, x.gears)
		if len(problems) > 0 {
			return explore.Subject{}, tellMistakes(x.s.Err, x.gears, problems, explore.ErrNotGears, p)
		}
		return explore.OfGears(c, x.exact)
	case x.parts != "":
		prose, err := openData(x.parts, "explore start parts FILE")
		if err != nil {
			return explore.Subject{}, err
		}
		parts, problems := explore.ReadParts(prose, x.parts)
		if len(problems) > 0 {
			return explore.Subject{}, tellMistakes(x.s.Err, x.parts, problems, explore.ErrNotParts, p)
		}
		return explore.OfParts(parts), nil
	}
	fam, err := family.FindAny(x.family)
	if err != nil {
		return explore.Subject{}, exit.Usage(err)
	}
	return explore.OfFamily(fam, *x.on["used"], x.exact)
}

func newExploreFields(s term.Streams) *cobra.Command {
	var l look
	c := &cobra.Command{
		Use:     "fields",
		Short:   s.Print(text.Say("cli.explore.list-names-csv-json", "List the names that --csv and --json write, with what they mean")),
		Long:    s.Print(text.Say("cli.explore.list-names-csv-json-2", "List the names that --csv and --json write, with what they mean.")),
		Example: "  shimwright explore fields",
		Args:    usageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			_, err = io.WriteString(s.Out, view.ExploreFields(p))
			return err
		},
	}
	l.addFlags(s, c)
	return c
}

func newExploreStart(s term.Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "start gears|parts [FILE]",
		Short: s.Print(text.Say("cli.explore.write-file-start-case", "Write a file to start a case of your own from")),
		Long: s.Print(text.Say("cli.explore.write-whole-invented-case", `Write a whole invented case, with a remark at every key, to FILE, or show it on the
screen. Change what the book gives and keep the rest; explore names every mistake.`)),
		Example: "  shimwright explore start gears mine.yaml\n  shimwright explore --gears mine.yaml --depth 0.004in",
		Args:    usageArgs(cobra.RangeArgs(1, 2)),
		RunE: func(_ *cobra.Command, args []string) error {
			prose, err := explore.StartFile(args[0])
			if err != nil {
				return exit.Usage(err)
			}
			if len(args) == 1 {
				_, err = s.Out.Write(prose)
				return err
			}
			// A file that is there may hold somebody's work.
			switch err := store.WriteNew(args[1], prose, 0o644); {
			case errors.Is(err, os.ErrExist):
				return exit.Usage(text.Fail(nil, text.Say("cli.explore.there-already-give-another", "{file_name} is there already: give another name", text.Typed("file_name", view.FileName(args[1])))))
			case err != nil:
				return err
			}
			_, err = fmt.Fprintln(s.Out, s.Print(text.Say("cli.explore.written-change-show-shimwright", "Written. Change it and show it: shimwright explore --{arg} {file_name}", text.Typed("arg", args[0]), text.Typed("file_name", view.FileName(args[1])))))
			return err
		},
	}
}

// usageArgs marks what is wrong with the arguments as a mistake in the call.
func usageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if err := check(c, args); err != nil {
			return exit.Usage(err)
		}
		return nil
	}
}
