package cli

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/classweb"
	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/web"
)

// classServed is how a class is served.
type classServed struct {
	place, name, passphrase string
	cert, key               string
}

func (x *classServed) addFlags(c *cobra.Command) {
	c.Flags().StringVar(&x.place, "class", "", "serve the class kept in `PLACE`: a file, or postgres://...")
	c.Flags().StringVar(&x.name, "name", "", "`NAME` of a new class")
	c.Flags().StringVar(&x.passphrase, "passphrase", "", "the instructor's passphrase is the first line of `FILE`")
	c.Flags().StringVar(&x.cert, "cert", "", "encrypt with the certificate in `FILE` (PEM)")
	c.Flags().StringVar(&x.key, "key", "", "and its key in `FILE` (PEM)")
}

// check says what does not go together.
func (x *classServed) check() error {
	switch {
	case x.place == "" && (x.name != "" || x.passphrase != ""):
		return errors.New("--name and --passphrase are of a class: add --class PLACE")
	case (x.cert == "") != (x.key == ""):
		return errors.New("--cert and --key go together")
	}
	return nil
}

// encrypted is a listener that encrypts, where there is a certificate.
func (x *classServed) encrypted(l net.Listener) (net.Listener, error) {
	if x.cert == "" {
		return l, nil
	}
	pair, err := tls.LoadX509KeyPair(x.cert, x.key)
	if err != nil {
		return nil, exit.Usage(err)
	}
	return tls.NewListener(l, &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12}), nil
}

// tell says where to go, with a code for a phone that leads to a path there.
func (x *classServed) tell(s term.Streams, all []string, path string) error {
	if x.cert != "" {
		for i := range all {
			all[i] = strings.Replace(all[i], "http:", "https:", 1)
		}
	}
	for _, a := range all {
		fmt.Fprintf(s.Out, "  %s\n", a)
	}
	code, err := web.QR(all[0]+path, s.Color)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.Out, "\n%s\nCtrl-C ends it.\n", code)
	s.Flush()
	return nil
}

// serve serves the class until the context ends.
func (x *classServed) serve(ctx context.Context, s term.Streams, l net.Listener, all []string) error {
	passphrase := ""
	if x.passphrase != "" {
		said, err := os.ReadFile(x.passphrase)
		if err != nil {
			return exit.Usage(err)
		}
		line, _, _ := strings.Cut(string(said), "\n")
		if passphrase = strings.TrimSpace(line); passphrase == "" {
			return exit.Usage(fmt.Errorf("%s: the first line holds no passphrase", x.passphrase))
		}
	}
	st, err := records.Open(ctx, x.place)
	if err != nil {
		return err
	}
	defer st.Close()
	room := classroom.New(st, clockOf(s))
	f, err := room.Found(ctx, x.name, passphrase)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.Out, "%s, kept in %s. Class code: %s\n", f.Class.Name, records.Shown(x.place), f.Class.Code)
	if f.Passphrase != "" && x.passphrase == "" {
		fmt.Fprintf(s.Out, "Passphrase for the instructor, shown this once: %s\n", f.Passphrase)
	}
	fmt.Fprintf(s.Out, "The instructor signs in at /instructor. Pupils join at:\n")
	if err := x.tell(s, all, "?code="+f.Class.Code); err != nil {
		return err
	}
	return web.Serve(ctx, l, classweb.New(room, classweb.Options{Ended: ctx.Done(), Zone: time.Local, Clock: s.Clock}))
}
