package cli

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/line"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/exercise"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func newFamilyWrite(s term.Streams) *cobra.Command {
	var l look
	var code string
	typed := map[string]*string{}
	c := &cobra.Command{
		Use:   "write FILE",
		Short: s.Print(text.Say("cli.family-write.short", "Begin a family of your own from the figures of a manual")),
		Long: s.Print(text.Say("cli.family-write.long", `Begin a family of your own from the figures that a manual gives; nothing that is there
already is written over. Give the figures as options, in inch or metric units. Without any,
each is asked for in turn, and an empty line leaves it to be estimated. Every other line is
estimated from the shipped family that is nearest by design and size, so that gears mesh, a
spacer crushes and preload gives its torque. The file says of each line whether it is given
or how it is estimated. An estimate is for practice only: the maker's manual decides.`)),
		Example: "  shimwright family write mine.yaml\n  shimwright family write mine.yaml --ring-teeth 41 --pinion-teeth 11 --backlash 0.006-0.010in\n  shimwright practice --family mine.yaml",
		Args:    takes(1, 1, s.Print(text.Say("cli.family-write.which-file", "say which file"))),
		RunE: func(c *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			file := args[0]
			there := exit.Usage(text.Fail(nil, text.Say("cli.family-write.there", "{file} is there already: name another file", text.Typed("file", view.FileName(file)))))
			if _, err := os.Lstat(file); err == nil {
				return there
			}
			if code == "" {
				code = codeOf(file)
			}
			a := &familyAsker{s: s, p: p, code: strings.ToUpper(code)}
			options := false
			for _, f := range family.Figures() {
				if !c.Flags().Changed(f.Name) {
					continue
				}
				options = true
				g, err := f.Read(*typed[f.Name], p.Units())
				if err != nil {
					return exit.Usage(err)
				}
				a.given = append(a.given, g)
			}
			if !options {
				err := a.ask()
				if errors.Is(err, line.ErrLeft) {
					if !a.left {
						return exit.Usage(text.Fail(nil, text.Say("cli.family-write.cut-short", "the input ended before done: nothing is written")))
					}
					_, err = fmt.Fprint(s.Out, view.Wrap(p.Print(text.Say("cli.family-write.nothing", "Nothing is written.")), p.Width, ""))
					return err
				}
				if err != nil {
					return err
				}
			}
			written, err := family.Begin(a.code, a.given, p.Printer)
			if err != nil {
				return exit.Usage(err)
			}
			switch err := store.WriteNew(file, written, 0o644); {
			case errors.Is(err, os.ErrExist):
				return there
			case err != nil:
				return exit.Usage(err)
			}
			done := text.Say("cli.family-write.done", "Written: {file}, with {n} {n:figure|figures} given and the rest estimated. Then:", text.Typed("file", view.FileName(file)), text.Count("n", len(a.given)))
			name := term.Quote(file)
			_, err = fmt.Fprint(s.Out, view.Wrap(p.Print(done), p.Width, ""),
				"  ", p.Command("family show "+name), "\n  ", p.Command("practice --family "+name), "\n")
			return err
		},
	}
	c.Flags().StringVar(&code, "code", "", s.Print(text.Say("cli.family-write.code", "`NAME` of the family in capital letters (default: that of the file)")))
	for _, f := range family.Figures() {
		typed[f.Name] = c.Flags().String(f.Name, "", s.Print(text.Say("cli.family-write.figure", "{what}: `{kind}`, such as {example}",
			text.Of("what", f.Asks), text.Typed("kind", kindOfFigure(f)), text.Typed("example", f.Like(quantity.Inch)))))
	}
	l.addFlags(s, c)
	return c
}

func kindOfFigure(f family.Figure) string {
	if len(f.Words) > 0 {
		return "WORD"
	}
	return "FIGURE"
}

// codeOf makes a family's code of the name of its file.
func codeOf(file string) string {
	code := strings.Trim(strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9':
			return c
		}
		return '-'
	}, exercise.NameOf(file)), "-0123456789")
	if code == "" {
		return "MINE"
	}
	return code[:min(len(code), 20)]
}

// A familyAsker asks for the figures of a manual, one after another.
type familyAsker struct {
	s     term.Streams
	p     view.Pen
	code  string
	given []family.Given
	at    int  // of family.Figures
	left  bool // leave was typed
}

func (a *familyAsker) say(m text.Message) {
	fmt.Fprint(a.s.Out, view.Wrap(a.p.Print(m), a.p.Width, ""))
}

func (a *familyAsker) ask() error {
	a.say(text.Say("cli.family-write.hello", "Give what the manual says, in inch or metric units, one figure at a time. An empty line leaves a figure to be estimated; done ends the questions, and leave writes nothing."))
	a.repeat()
	return line.Run(a.s, a)
}

func (a *familyAsker) figure() family.Figure { return family.Figures()[a.at] }

// question says what is asked for.
func (a *familyAsker) question() {
	f := a.figure()
	if len(f.Words) > 0 {
		a.say(text.Say("cli.family-write.which", "{what}: {words}", text.Of("what", f.Asks), text.AnyTyped("words", f.Words...)))
		return
	}
	a.say(text.Say("cli.family-write.how-much", "{what}, such as {example}", text.Of("what", f.Asks), text.Typed("example", f.Like(a.p.Units()))))
}

// repeat says what is asked for where no prompt does.
func (a *familyAsker) repeat() {
	if !a.s.Person {
		a.question()
	}
}

// Prompt asks for the next figure.
func (a *familyAsker) Prompt() string {
	a.question()
	return "> "
}

// Complete lists the words of a figure that has some.
func (a *familyAsker) Complete(string) []string { return a.figure().Words }

// Take takes a figure. One that does not go with those before it is refused and asked for
// again.
func (a *familyAsker) Take(said string, _ int) (done bool, err error) {
	switch strings.ToLower(said) {
	case "leave", "quit", "exit":
		a.left = true
		return false, line.ErrLeft
	case "done":
		return true, nil
	case "":
	default:
		g, err := a.figure().Read(said, a.p.Units())
		if err == nil {
			_, err = family.Begin(a.code, append(a.given[:len(a.given):len(a.given)], g), a.p.Printer)
		}
		if err != nil {
			fmt.Fprint(a.s.Out, view.Wrap(a.p.Error(err), a.p.Width, ""))
			a.repeat()
			return false, nil
		}
		a.given = append(a.given, g)
	}
	if a.at++; a.at == len(family.Figures()) {
		return true, nil
	}
	a.repeat()
	return false, nil
}
