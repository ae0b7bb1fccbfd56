package cli

import (
	"fmt"
	"net/http"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/web"

	"shimwright/sim/text"
)

func newServe(s term.Streams) *cobra.Command {
	var address string
	var open bool
	var data string
	var with classServed
	c := &cobra.Command{
		Use:   "serve",
		Short: s.Print(text.Say("cli.serve.open-bench-browser", "Open the bench in a browser")),
		Long: s.Print(text.Say("cli.serve.open-bench-browser-this", `Open the bench in a browser: on this machine alone, or with --open on every phone and
computer that reaches it over the network, which needs nothing installed. The address
is printed, with a code for a phone's camera. Ctrl-C ends it.

On this machine alone the jobs are those of practice, kept where it keeps them (or in
--data FOLDER): either goes on with what the other began. With --open every browser has
jobs of its own, and finds them again the next time.

With --class it is a class: the instructor signs in with the passphrase that is shown when
the class is new (or set by --passphrase), writes the roster, sets exercises, sees who is
where and hands back; pupils join with the class code, their name and a PIN of their own. All of it is
kept in the file named, or on a PostgreSQL server that several of these commands may share.
--cert and --key encrypt what goes over the network.`)),
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
			h, err := benchIn(s, data, open)
			if err != nil {
				return err
			}
			fmt.Fprintln(s.Out, s.Print(text.Say("cli.serve.bench-open", "The bench is open at:")))
			if err := with.tell(s, all, ""); err != nil {
				return err
			}
			return web.Serve(ctx, l, h)
		},
	}
	c.Flags().StringVar(&address, "listen", "127.0.0.1:8080", s.Print(text.Say("cli.serve.address-port-answer", "`ADDRESS` and port to answer at")))
	c.Flags().BoolVar(&open, "open", false, s.Print(text.Say("cli.serve.let-other-machines-network", "let other machines of the network reach it")))
	addDataFlag(s, c, &data)
	with.addFlags(s, c)
	return c
}

// benchIn is a bench whose attempts are kept in a folder, the usual one if none is named: of
// one person, or open to all who come.
func benchIn(s term.Streams, named string, open bool) (http.Handler, error) {
	folder, err := dataIn(named)
	if err != nil {
		return nil, err
	}
	keeper := web.NewFolder(folder)
	h := web.New(web.Config{Keeper: keeper, Who: web.Visitor, Begin: true, Clock: s.Clock, Printer: s.Printer})
	if !open {
		return web.Alone(web.Own, h), nil
	}
	key, err := keeper.Key()
	return web.Visitors(key, h), err
}
