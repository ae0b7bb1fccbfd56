package cli

import (
	"crypto/rand"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/web"
)

func newServe(s term.Streams) *cobra.Command {
	var address string
	var open bool
	c := &cobra.Command{
		Use:   "serve",
		Short: "Open the bench in a browser",
		Long: `Open the bench in a browser: on this machine alone, or with --open on every phone and
computer that reaches it over the network, which needs nothing installed. The address
is printed, with a code for a phone's camera. Ctrl-C ends it.

Every browser has jobs of its own. They are kept for as long as the command runs: take
the attempt file of a job from its page to keep or to grade it.`,
		Example: "  shimwright serve\n  shimwright serve --open --listen 0.0.0.0:8080",
		Args:    takes(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			l, err := web.Listen(address, open)
			if err != nil {
				return exit.Usage(err)
			}
			key := make([]byte, 32)
			if _, err := rand.Read(key); err != nil {
				return err
			}
			all := web.Addresses(l)
			code, err := web.QR(all[0], s.Color)
			if err != nil {
				return err
			}
			fmt.Fprintf(s.Out, "The bench is open at:\n")
			for _, a := range all {
				fmt.Fprintf(s.Out, "  %s\n", a)
			}
			fmt.Fprintf(s.Out, "\n%s\nCtrl-C ends it.\n", code)
			s.Flush()
			ctx, stop := signal.NotifyContext(c.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			return web.Serve(ctx, l, web.Visitors(key, web.New(web.Config{Keeper: web.NewMemory(), Who: web.Visitor, Begin: true, Clock: s.Clock})))
		},
	}
	c.Flags().StringVar(&address, "listen", "127.0.0.1:8080", "`ADDRESS` and port to answer at")
	c.Flags().BoolVar(&open, "open", false, "let other machines of the network reach it")
	return c
}
