package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/site"
	"shimwright/cmd/internal/term"

	"shimwright/sim/text"
)

func newSite(s term.Streams) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "site",
		Short: s.Print(text.Say("cli.site.write-bench-as-files", "Write the bench as files for a web space or a disk")),
		Long: s.Print(text.Say("cli.site.write-bench-as-folder", `Write the bench as a folder of files, for practice without a server: put it on any web
space, or open its index.html from a disk. The program runs in the browser, attempts
stay in it, and their files are taken out and brought back on its pages. From a web
space it works without a network once it has been loaded.

It is made from the program's source with Go, which takes a minute or two. It is no
place for an examination: whoever has the page has the program.`)),
		Example: "  shimwright site --out bench",
		Args:    takes(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" {
				return exit.Usage(text.Fail(nil, text.Say("cli.site.name-folder-out-folder", "name a folder: --out FOLDER")))
			}
			p, err := site.Build(c.Context(), ".")
			if err != nil {
				return err
			}
			if err := site.Write(out, p); err != nil {
				return err
			}
			fmt.Fprintln(s.Out, s.Print(text.Say("cli.site.written", "Written: {out}", text.Typed("out", out))))
			return nil
		},
	}
	c.Flags().StringVar(&out, "out", "", s.Print(text.Say("cli.site.folder-write-into", "`FOLDER` to write into")))
	return c
}
