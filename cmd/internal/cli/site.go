package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/site"
	"shimwright/cmd/internal/term"
)

func newSite(s term.Streams) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "site",
		Short: "Write the bench as files for a web space or a disk",
		Long: `Write the bench as a folder of files, for practice without a server: put it on any web
space, or open its index.html from a disk. The program runs in the browser, attempts
stay in it, and their files are taken out and brought back on its pages. From a web
space it works without a network once it has been loaded.

It is made from the program's source with Go, which takes a minute or two. It is no
place for an examination: whoever has the page has the program.`,
		Example: "  shimwright site --out bench",
		Args:    takes(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" {
				return exit.Usage(errors.New("name a folder: --out FOLDER"))
			}
			p, err := site.Build(c.Context(), ".")
			if err != nil {
				return err
			}
			if err := site.Write(out, p); err != nil {
				return err
			}
			fmt.Fprintf(s.Out, "Written: %s\n", out)
			return nil
		},
	}
	c.Flags().StringVar(&out, "out", "", "`FOLDER` to write into")
	return c
}
