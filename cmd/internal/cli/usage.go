package cli

import (
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"shimwright/cmd/internal/term"
	"shimwright/sim/text"
)

// usage writes what stands below the text of a help page: how a command is typed, examples,
// commands, and options, in capitals what stands for something.
func usage(s term.Streams, c *cobra.Command, w io.Writer) error {
	var b strings.Builder
	part := func(title text.Message, body string) {
		if body != "" {
			b.WriteString("\n\n" + s.Print(title) + "\n" + body)
		}
	}
	b.WriteString(s.Print(text.Say("help.usage", "Usage:")))
	switch {
	case !c.HasAvailableSubCommands():
		b.WriteString("\n  " + c.UseLine())
	case c.HasParent():
		b.WriteString("\n  " + c.CommandPath() + " COMMAND")
	default:
		b.WriteString(" " + c.CommandPath() + " COMMAND")
	}
	part(text.Say("help.examples", "Examples:"), c.Example)
	var commands []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			commands = append(commands, fmt.Sprintf("  %-*s %s", sub.NamePadding(), sub.Name(), sub.Short))
		}
	}
	part(text.Say("help.commands", "Commands:"), strings.Join(commands, "\n"))
	part(text.Say("help.options", "Options:"), options(s, c.LocalFlags()))
	part(text.Say("help.options-for-all", "Options for all:"), options(s, c.InheritedFlags()))
	if c.HasAvailableSubCommands() {
		about := text.Say("help.about", "About one: {command} COMMAND --help", text.Typed("command", c.CommandPath()))
		if !c.HasParent() {
			about = text.Say("help.about-more", "About one: {command} COMMAND --help; help score; help exit-status", text.Typed("command", c.CommandPath()))
		}
		b.WriteString("\n\n" + s.Print(about))
	}
	b.WriteByte('\n')
	_, err := io.WriteString(w, b.String())
	return err
}

var defaults = regexp.MustCompile(`\(default ("[^"]*"|[^ )]+)\)`)

// options writes options with what each is for. The library knows the word default in
// English only.
func options(s term.Streams, all *pflag.FlagSet) string {
	return defaults.ReplaceAllStringFunc(strings.TrimRight(all.FlagUsagesWrapped(helpColumns), " \n"), func(found string) string {
		return s.Print(text.Say("help.default", "(default {value})", text.Typed("value", defaults.FindStringSubmatch(found)[1])))
	})
}
