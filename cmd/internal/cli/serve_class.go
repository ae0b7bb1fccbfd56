package cli

import (
	"context"
	"crypto/tls"
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

	"shimwright/sim/text"
)

// classServed is how a class is served.
type classServed struct {
	place, name, passphrase string
	cert, key               string
}

func (x *classServed) addFlags(s term.Streams, c *cobra.Command) {
	c.Flags().StringVar(&x.place, "class", "", s.Print(text.Say("cli.serve-class.serve-class-kept-place", "serve the class kept in `PLACE`: a file, or postgres://...")))
	c.Flags().StringVar(&x.name, "name", "", s.Print(text.Say("cli.serve-class.name-new-class", "`NAME` of a new class")))
	c.Flags().StringVar(&x.passphrase, "passphrase", "", s.Print(text.Say("cli.serve-class.instructors-passphrase-first-line", "the instructor's passphrase is the first line of `FILE`")))
	c.Flags().StringVar(&x.cert, "cert", "", s.Print(text.Say("cli.serve-class.encrypt-certificate-file-pem", "encrypt with the certificate in `FILE` (PEM)")))
	c.Flags().StringVar(&x.key, "key", "", s.Print(text.Say("cli.serve-class.key-file-pem", "and its key in `FILE` (PEM)")))
}

// check says what does not go together.
func (x *classServed) check() error {
	switch {
	case x.place == "" && (x.name != "" || x.passphrase != ""):
		return text.Fail(nil, text.Say("cli.serve-class.name-passphrase-class-add", "--name and --passphrase are of a class: add --class PLACE"))
	case (x.cert == "") != (x.key == ""):
		return text.Fail(nil, text.Say("cli.serve-class.cert-key-go-together", "--cert and --key go together"))
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
	fmt.Fprintln(s.Out, "\n"+s.Print(text.Say("cli.serve-class.ctrl-c-ends", `{code}
Ctrl-C ends it.`, text.Typed("code", code))))
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
			return exit.Usage(text.Fail(nil, text.Say("cli.serve-class.first-line-holds-no", "{passphrase}: the first line holds no passphrase", text.Typed("passphrase", x.passphrase))))
		}
	}
	st, err := records.Open(ctx, x.place)
	if err != nil {
		return err
	}
	defer st.Close()
	room := classroom.New(st, clockOf(s))
	room.Printer = s.Printer
	f, err := room.Found(ctx, x.name, passphrase)
	if err != nil {
		return err
	}
	fmt.Fprintln(s.Out, s.Print(text.Say("cli.serve-class.kept-class-code", "{name}, kept in {shown}. Class code: {code}", text.Typed("name", f.Class.Name), text.Typed("shown", records.Shown(x.place)), text.Typed("code", f.Class.Code))))
	if f.Passphrase != "" && x.passphrase == "" {
		fmt.Fprintln(s.Out, s.Print(text.Say("cli.serve-class.passphrase-for-instructor-shown", "Passphrase for the instructor, shown this once: {passphrase}", text.Typed("passphrase", f.Passphrase))))
	}
	fmt.Fprintln(s.Out, s.Print(text.Say("cli.serve-class.instructor-signs-instructor-pupils", "The instructor signs in at /instructor. Pupils join at:")))
	if err := x.tell(s, all, "?code="+f.Class.Code); err != nil {
		return err
	}
	return web.Serve(ctx, l, classweb.New(room, classweb.Options{Ended: ctx.Done(), Zone: time.Local, Clock: s.Clock}))
}
