package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strings"
	"time"

	"rsc.io/qr"
)

// Serve answers requests until the context ends, and then lets those under way finish.
func Serve(ctx context.Context, l net.Listener, h http.Handler) error {
	const head, whole, idle, last, headBytes = 5 * time.Second, 15 * time.Second, 2 * time.Minute, 5 * time.Second, 16 << 10
	s := &http.Server{Handler: h, ReadHeaderTimeout: head, ReadTimeout: whole, WriteTimeout: time.Minute, IdleTimeout: idle, MaxHeaderBytes: headBytes}
	done := make(chan error, 1)
	go func() { done <- s.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	end, cancel := context.WithTimeout(context.WithoutCancel(ctx), last)
	defer cancel()
	err := s.Shutdown(end)
	if served := <-done; !errors.Is(served, http.ErrServerClosed) {
		return errors.Join(err, served)
	}
	return err
}

// Listen opens an address for Serve. Errors: one that other machines can reach, unless it is
// to be open.
func Listen(address string, open bool) (net.Listener, error) {
	host, port, err := net.SplitHostPort(address)
	if err != nil {
		return nil, fmt.Errorf("an address is a host and a port, such as 127.0.0.1:8080, not %q", address)
	}
	ip := net.ParseIP(host)
	near := host == "localhost" || ip != nil && ip.IsLoopback()
	switch {
	case open && near:
		host = "" // every address of this machine
	case !open && !near:
		return nil, fmt.Errorf("other machines can reach %q; say --open if they are meant to", address)
	}
	return net.Listen("tcp", net.JoinHostPort(host, port))
}

// Addresses lists how a listener is reached, for a browser; an open one from other machines
// first.
func Addresses(l net.Listener) []string {
	at, ok := l.Addr().(*net.TCPAddr)
	if !ok {
		return nil
	}
	page := func(ip string) string {
		return "http://" + net.JoinHostPort(ip, fmt.Sprint(at.Port)) + "/"
	}
	if !at.IP.IsUnspecified() {
		return []string{page(at.IP.String())}
	}
	var out []string
	all, err := net.InterfaceAddrs()
	if err != nil {
		all = nil
	}
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && !n.IP.IsLoopback() && !n.IP.IsLinkLocalUnicast() {
			out = append(out, page(n.IP.String()))
		}
	}
	return append(out, page("127.0.0.1"))
}

// QR draws an address as a code that a phone reads, in half blocks: with color dark on light
// whatever the terminal, without it light blocks on a dark terminal.
func QR(address string, color bool) (string, error) {
	c, err := qr.Encode(address, qr.M)
	if err != nil {
		return "", err
	}
	const quiet = 4 // modules of margin that a reader needs
	light := func(x, y int) bool { return !c.Black(x, y) }
	var b strings.Builder
	for y := -quiet; y < c.Size+quiet; y += 2 {
		if color {
			b.WriteString("\x1b[38;5;231;48;5;16m")
		}
		for x := -quiet; x < c.Size+quiet; x++ {
			switch up, down := light(x, y), light(x, y+1); {
			case up && down:
				b.WriteString("█")
			case up:
				b.WriteString("▀")
			case down:
				b.WriteString("▄")
			default:
				b.WriteString(" ")
			}
		}
		if color {
			b.WriteString("\x1b[0m")
		}
		b.WriteByte('\n')
	}
	return b.String(), nil
}
