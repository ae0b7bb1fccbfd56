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
	var with classServed
	c := &cobra.Command{
		Use:   "serve",
		Short: "Open the bench in a browser",
		Long: `Open the bench in a browser: on this machine alone, or with --open on every phone and
computer that reaches it over the network, which needs nothing installed. The address
is printed, with a code for a phone's camera. Ctrl-C ends it.

Every browser has jobs of its own. They are kept for as long as the command runs: take
the attempt file of a job from its page to keep or to grade it.

With --class it is a class: the instructor signs in with the passphrase that is shown when
the class is new (or set by --passphrase), writes the roster, sets exercises, sees who is
where and hands back; pupils join with the class code, their name and a PIN of their own. All of it is
kept in the file named, or on a PostgreSQL server that several of these commands may share.
--cert and --key encrypt what goes over the network.`,
		Example: "  shimwright serve\n  shimwright serve --open --class class.db\n  shimwright serve --open --class postgres://shop@db/class --cert school.pem --key school.key",
		Args:    takes(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := with.check(); err != nil {
				return exit.Usage(err)
			}
			l, err := web.Listen(address, open)
			if err != nil {
				return exit.Usage(err)
			}
			defer l.Close()
			all := web.Addresses(l)
			if l, err = with.encrypted(l); err != nil {
				return err
			}
			ctx, stop := signal.NotifyContext(c.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			if with.place != "" {
				return with.serve(ctx, s, l, all)
			}
			key := make([]byte, 32)
			if _, err := rand.Read(key); err != nil {
				return err
			}
			fmt.Fprintf(s.Out, "The bench is open at:\n")
			if err := with.tell(s, all, ""); err != nil {
				return err
			}
			return web.Serve(ctx, l, web.Visitors(key, web.New(web.Config{Keeper: web.NewMemory(), Who: web.Visitor, Begin: true, Clock: s.Clock})))
		},
	}
	c.Flags().StringVar(&address, "listen", "127.0.0.1:8080", "`ADDRESS` and port to answer at")
	c.Flags().BoolVar(&open, "open", false, "let other machines of the network reach it")
	with.addFlags(c)
	return c
}
