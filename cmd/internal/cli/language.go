package cli

import (
	"errors"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/language"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/datasheet"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// languageSetting names the file of a language where no option does.
const languageSetting = "SHIMWRIGHT_LANGUAGE"

// printerFor makes the printer of a run. Which language is asked for has to be known before
// there are commands, as their help is in it too.
func printerFor(args []string, env func(string) string) (text.Printer, error) {
	path := env(languageSetting)
	for i, word := range args {
		if word == "--" {
			break
		}
		if file, ok := strings.CutPrefix(word, "--language="); ok {
			path = file
		} else if word == "--language" && i+1 < len(args) {
			path = args[i+1]
		}
	}
	if path == "" {
		return text.Printer{}, nil
	}
	o, err := language.Load(path)
	if none := (*datasheet.OpenError)(nil); errors.As(err, &none) {
		err = exit.Usage(err)
	}
	return text.NewPrinter(quantity.Inch, o), err
}

// addLanguageFlag adds the option to every command. It is read by printerFor.
func addLanguageFlag(s term.Streams, root *cobra.Command) {
	root.PersistentFlags().String("language", "", s.Print(text.Say("language.option", "another language, from `FILE`")))
	root.PersistentFlags().Lookup("language").Hidden = true // help language tells of it
}

func newLanguage(s term.Streams) *cobra.Command {
	c := &cobra.Command{
		Use:    "language",
		Hidden: true, // the first help fits a small screen
		Short:  s.Print(text.Say("language.short", "The program in another language")),
		Long: s.Print(text.Say("language.long", `Every command takes --language FILE: all that the program says then comes in the language
of the file, and stays English where the file has nothing. Set {setting} to a file to
have it without the option. language write makes a file of all texts, in English, to put
into another language: the words in braces stand for values and stay, in any order.`, text.Typed("setting", languageSetting))),
		Example: "  shimwright language write words.yaml\n  shimwright --language words.yaml practice",
		Args:    takes(0, 0, ""),
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(&cobra.Command{
		Use:     "write FILE",
		Short:   s.Print(text.Say("language.write.short", "Write every text of the program, for a translator")),
		Example: "  shimwright language write words.yaml",
		Args:    takes(1, 1, s.Print(text.Say("language.write.which", "say to which file"))),
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := os.Stat(args[0]); err == nil {
				return exit.Usage(text.Fail(nil, text.Say("language.write.there", "{path} is there already: name another file", text.Typed("path", view.FileName(args[0])))))
			}
			err := store.WriteWhole(args[0], func(w io.Writer) error {
				_, err := w.Write(language.Starter())
				return err
			})
			if err == nil {
				_, err = io.WriteString(s.Out, s.Print(text.Say("language.write.done", "Written: {path}", text.Typed("path", view.FileName(args[0]))))+"\n")
			}
			return err
		},
	})
	return c
}
