package handout

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// Manual writes a man page for a command and for each below it into a folder, with a date.
func Manual(root *cobra.Command, date time.Time, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	prepare(root)
	return doc.GenManTree(root, &doc.GenManHeader{Section: "1", Date: &date, Source: "Shimwright", Manual: "Shimwright"}, folder)
}

// prepare makes a command and those below it ready for a page. What the first help leaves out for
// want of room has one, too; pages about a topic stand in that of the program.
func prepare(c *cobra.Command) {
	c.DisableAutoGenTag = true
	c.Long = markdown(c.Long)
	c.Example = strings.TrimRight(c.Example, "\n")
	for _, sub := range c.Commands() {
		switch {
		case sub.Name() == "completion" || sub.Name() == "help":
			c.RemoveCommand(sub)
			continue
		case !c.HasParent() && !sub.Runnable() && !sub.HasSubCommands():
			c.Long += "\n\n**" + strings.ToUpper(sub.Name()) + "**\n\n" + markdown(sub.Long)
			c.RemoveCommand(sub)
			continue
		}
		sub.Hidden = false
		prepare(sub)
	}
}

// markdown writes a text of the help as the maker of man pages reads it: lines that are indented
// stay as they are, and no sign means anything but itself.
func markdown(text string) string {
	var b strings.Builder
	table := false
	for line := range strings.Lines(text) {
		if indented := strings.HasPrefix(line, " "); indented != table {
			table = indented
			b.WriteByte('\n')
		}
		if table {
			b.WriteString("    " + line)
			continue
		}
		b.WriteString(strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "<", `\<`, "`", "\\`").Replace(line))
	}
	return b.String()
}

// Completions writes the completions of a command for bash, zsh, fish and PowerShell into a
// folder.
func Completions(root *cobra.Command, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	name := root.Name()
	for file, write := range map[string]func(io.Writer) error{
		name + ".bash": func(w io.Writer) error { return root.GenBashCompletionV2(w, true) },
		"_" + name:     root.GenZshCompletion,
		name + ".fish": func(w io.Writer) error { return root.GenFishCompletion(w, true) },
		name + ".ps1":  root.GenPowerShellCompletionWithDesc,
	} {
		f, err := os.Create(filepath.Join(folder, file))
		if err != nil {
			return err
		}
		err = write(f)
		if closed := f.Close(); err == nil {
			err = closed
		}
		if err != nil {
			return err
		}
	}
	return nil
}
