package web_test

import (
	"context"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"rsc.io/qr"

	"shimwright/cmd/internal/web"
	"shimwright/sim/text"
)

// Nothing but this machine is answered until that is asked for.
func TestOnlyThisMachineUntilOpen(t *testing.T) {
	for _, address := range []string{"127.0.0.1:0", "localhost:0", "[::1]:0"} {
		l, err := web.Listen(address, false)
		if strings.HasPrefix(address, "[") && err != nil {
			continue // a machine without version 6 of the protocol
		}
		require.NoError(t, err, address)
		ip := l.Addr().(*net.TCPAddr).IP
		assert.True(t, ip.IsLoopback(), "%s", ip)
		assert.Len(t, web.Addresses(l), 1)
		l.Close()
	}
	for _, address := range []string{":0", "0.0.0.0:0", "192.0.2.1:80", "example.org:80"} {
		_, err := web.Listen(address, false)
		assert.Contains(t, text.Printer{}.Error(err), "--open", address)
	}
	_, err := web.Listen("8080", false)
	assert.Contains(t, text.Printer{}.Error(err), "127.0.0.1:8080")
	l, err := web.Listen("127.0.0.1:0", true)
	require.NoError(t, err)
	defer l.Close()
	assert.True(t, l.Addr().(*net.TCPAddr).IP.IsUnspecified(), "open is open to all")
	assert.Contains(t, web.Addresses(l)[len(web.Addresses(l))-1], "127.0.0.1")
}

// A server that is told to end finishes what is under way.
func TestAServerEndsGracefully(t *testing.T) {
	l, err := web.Listen("127.0.0.1:0", false)
	require.NoError(t, err)
	ctx, end := context.WithCancel(t.Context())
	begun := make(chan struct{})
	h := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		close(begun)
		time.Sleep(100 * time.Millisecond)
		io.WriteString(w, "whole")
	})
	done := make(chan error)
	go func() { done <- web.Serve(ctx, l, h) }()
	answer := make(chan string)
	go func() {
		res, err := http.Get(web.Addresses(l)[0])
		if err != nil {
			answer <- err.Error()
			return
		}
		defer res.Body.Close()
		body, _ := io.ReadAll(res.Body)
		answer <- string(body)
	}()
	<-begun
	end()
	assert.Equal(t, "whole", <-answer)
	require.NoError(t, <-done)
	_, err = http.Get(web.Addresses(l)[0])
	assert.Error(t, err, "nobody is answered any more")
}

// The code of an address is drawn module by module, with the margin a reader needs.
func TestCodesAreDrawnWhole(t *testing.T) {
	const address = "http://192.0.2.17:8080/"
	code, err := qr.Encode(address, qr.M)
	require.NoError(t, err)
	for _, color := range []bool{false, true} {
		drawn, err := web.QR(address, color)
		require.NoError(t, err)
		drawn = strings.NewReplacer("\x1b[38;5;231;48;5;16m", "", "\x1b[0m", "").Replace(drawn)
		const margin = 4
		black := 0
		for y, line := range strings.Split(strings.TrimSuffix(drawn, "\n"), "\n") {
			for x, r := range []rune(line) {
				up, down := r == ' ' || r == '▄', r == ' ' || r == '▀'
				assert.Equal(t, code.Black(x-margin, 2*y-margin), up)
				assert.Equal(t, code.Black(x-margin, 2*y+1-margin), down)
				if up {
					black++
				}
			}
		}
		assert.Greater(t, black, code.Size, "there is a code at all")
	}
}
