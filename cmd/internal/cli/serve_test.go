package cli

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
)

// browser is somebody at a served class.
type browser struct {
	t *testing.T
	*http.Client
	at string
}

func newBrowser(t *testing.T, at string) browser {
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	return browser{t, &http.Client{Jar: jar, Timeout: time.Minute}, at}
}

// post sends a form and returns where it led and what stands there.
func (b browser) post(path string, fields url.Values) (string, string) {
	resp, err := b.PostForm(b.at+path, fields)
	require.NoError(b.t, err)
	return b.read(resp)
}

func (b browser) get(path string) string {
	resp, err := b.Get(b.at + path)
	require.NoError(b.t, err)
	_, body := b.read(resp)
	return body
}

func (b browser) read(resp *http.Response) (string, string) {
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	require.NoError(b.t, err)
	require.Less(b.t, resp.StatusCode, 400, "%s: %s", resp.Request.URL, body)
	return resp.Request.URL.Path, string(body)
}

func among(t *testing.T, text, pattern string) string {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	require.NotNil(t, m, "%s in %s", pattern, text)
	return m[1]
}

// The README's first class, step by step: its commands as they stand there, and what each
// step asks of a page.
func TestTheFirstClass(t *testing.T) {
	readme, err := os.ReadFile("../../../README.md")
	require.NoError(t, err)
	_, guide, ok := strings.Cut(string(readme), "## A class in the browser\n")
	require.True(t, ok)
	guide, _, _ = strings.Cut(guide, "\n## ")
	var serve []string
	var prompt [][]string
	for _, m := range regexp.MustCompile(`(?m)^ *go run ./cmd/shimwright (.+)$`).FindAllStringSubmatch(guide, -1) {
		if words := strings.Fields(m[1]); words[0] == "serve" {
			serve = words
		} else {
			prompt = append(prompt, words)
		}
	}
	require.NotNil(t, serve)
	require.Len(t, prompt, 5)
	t.Chdir(t.TempDir())

	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	out, in := io.Pipe()
	root := newRoot(term.Streams{In: strings.NewReader(""), Out: in, Err: io.Discard, Width: 80, Clock: time.Now})
	root.SetArgs(append(serve, "--listen", "127.0.0.1:0"))
	ended := make(chan error, 1)
	go func() {
		err := root.ExecuteContext(ctx)
		in.Close()
		ended <- err
	}()
	var said bytes.Buffer
	for buf := make([]byte, 4096); !strings.Contains(said.String(), "Ctrl-C ends it."); {
		n, err := out.Read(buf)
		said.Write(buf[:n])
		require.NoError(t, err, said.String())
	}
	go func() { _, _ = io.Copy(io.Discard, out) }()
	passphrase := among(t, said.String(), `shown this once: (\S+)`)
	code := among(t, said.String(), `Class code: (\S+)`)
	at := "http://127.0.0.1:" + among(t, said.String(), `:(\d+)/`)

	teacher, pupil := newBrowser(t, at), newBrowser(t, at)
	path, _ := teacher.post("/instructor", url.Values{"passphrase": {passphrase}})
	assert.Equal(t, "/class", path)
	_, page := teacher.post("/class/roster", url.Values{"names": {"Ann Lee\nBo Karlsen"}})
	assert.Contains(t, page, "2 added")
	set, _ := teacher.post("/class/sets", url.Values{"exercise": {"first-depth"}, "mode": {"practice"}})
	path, page = pupil.post("/join", url.Values{"code": {code}, "name": {"Ann Lee"}, "pin": {"4711"}})
	assert.Equal(t, "/work", path)
	bench, _ := pupil.post(among(t, page, `action="(/work/[^"]+)"`), nil)
	pupil.post(bench+"/acts", url.Values{"had": {"0"}, "typed": {"inspect cups"}})
	assert.Contains(t, teacher.get("/class/board"), "1 at work, 0 stuck, 0 signed off, 1 not begun")
	pupil.post(bench+"/acts", url.Values{"had": {"1"}, "typed": {"fit depth-shim 0.030in; sign off"}, "sign": {"yes"}})
	assert.Contains(t, teacher.get("/class/board"), "0 at work, 0 stuck, 1 signed off, 1 not begun")
	page = teacher.get(set)
	assert.Contains(t, page, "<li>Bo Karlsen</li>")
	teacher.post(set, url.Values{"do": {"return"}})
	assert.Contains(t, teacher.get(set+"/debriefs"), "Ann Lee: ")
	assert.Contains(t, pupil.get(among(t, pupil.get("/work"), `href="(/work/debriefs/[^"]+)"`)), "Ann Lee: ")

	for _, words := range prompt { // while the class goes on
		var out, stderr bytes.Buffer
		assert.Equal(t, exit.Done, Main(term.Streams{In: strings.NewReader(""), Out: &out, Err: &stderr, Width: 80}, words), "%v: %s", words, stderr.String())
		assert.NotEmpty(t, out.String(), "%v", words)
	}
	// The scores of a page and of grade on the attempt files are the same.
	table, err := os.ReadFile("results.csv")
	require.NoError(t, err)
	score := among(t, string(table), `Ann Lee,first-depth,1,signed off,(\d+),`)
	var graded bytes.Buffer
	require.Equal(t, exit.Done, Main(term.Streams{In: strings.NewReader(""), Out: &graded, Err: io.Discard, Width: 80}, []string{"grade", "monday", "--json"}))
	assert.Contains(t, graded.String(), `"score": `+score+",")
	require.Equal(t, exit.Done, Main(term.Streams{In: strings.NewReader(""), Out: &graded, Err: io.Discard, Width: 80}, []string{"class", "restore", "monday.db", "--class", "other.db"}))

	stop()
	select {
	case err := <-ended:
		assert.NoError(t, err)
	case <-time.After(20 * time.Second):
		t.Fatal("the class did not end")
	}
}

// With a certificate of one's own the class is encrypted, and the cookie goes no other way.
func TestAClassIsEncrypted(t *testing.T) {
	t.Chdir(t.TempDir())
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	of := &x509.Certificate{SerialNumber: big.NewInt(1), NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	cert, err := x509.CreateCertificate(rand.Reader, of, of, &key.PublicKey, key)
	require.NoError(t, err)
	secret, err := x509.MarshalECPrivateKey(key)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("school.pem", pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: cert}), 0o600))
	require.NoError(t, os.WriteFile("school.key", pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: secret}), 0o600))
	require.NoError(t, os.WriteFile("phrase.txt", []byte("a long passphrase\n"), 0o600))

	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	out, in := io.Pipe()
	root := newRoot(term.Streams{In: strings.NewReader(""), Out: in, Err: io.Discard, Width: 80})
	root.SetArgs([]string{"serve", "--class", "class.db", "--cert", "school.pem", "--key", "school.key", "--passphrase", "phrase.txt", "--listen", "127.0.0.1:0"})
	ended := make(chan error, 1)
	go func() {
		err := root.ExecuteContext(ctx)
		in.Close()
		ended <- err
	}()
	var said bytes.Buffer
	for buf := make([]byte, 4096); !strings.Contains(said.String(), "Ctrl-C ends it."); {
		n, err := out.Read(buf)
		said.Write(buf[:n])
		require.NoError(t, err, said.String())
	}
	assert.NotContains(t, said.String(), "a long passphrase")
	b := newBrowser(t, among(t, said.String(), `(https://127.0.0.1:\d+)/`))
	trusted := x509.NewCertPool()
	mine, err := x509.ParseCertificate(cert)
	require.NoError(t, err)
	trusted.AddCert(mine)
	b.Transport = &http.Transport{TLSClientConfig: &tls.Config{RootCAs: trusted}}
	resp, err := b.PostForm(b.at+"/instructor", url.Values{"passphrase": {"a long passphrase"}})
	require.NoError(t, err)
	path, _ := b.read(resp)
	assert.Equal(t, "/class", path)
	assert.Contains(t, resp.Request.Response.Header.Get("Set-Cookie"), "Secure")
	stop()
	assert.NoError(t, <-ended)
}

func TestWhatAClassIsNotServedWith(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("empty.txt", nil, 0o600))
	require.NoError(t, os.WriteFile("short.txt", []byte("short\n"), 0o600))
	require.NoError(t, os.WriteFile("noise.db", []byte("this is no database; this is no database; this is no database; this is no database; and so on"), 0o600))
	for _, c := range []struct {
		args string
		code int
		says string
	}{
		{"serve --name x", exit.Misused, "add --class"},
		{"serve --cert x", exit.Misused, "go together"},
		{"serve --cert x --key y", exit.Misused, "no such file"},
		{"serve --class class.db --passphrase nosuch.txt", exit.Misused, "no such file"},
		{"serve --class class.db --passphrase empty.txt", exit.Misused, "holds no passphrase"},
		{"serve --class class.db --passphrase short.txt", exit.Failed, "8 characters or more"},
		{"serve --class noise.db", exit.Failed, "cannot be opened"},
		{"class show --class nosuch.db", exit.Failed, "there is no class in nosuch.db"},
		{"class backup x.db --class nosuch.db", exit.Failed, "there is no class in nosuch.db"},
		{"class set first-depth --as final", exit.Misused, "practice, check or exam"},
		{"class set first-depth --closes yesterday", exit.Misused, "a time is such as"},
		{"class set nosuch", exit.Misused, "there is no exercise"},
		{"class restore noise.db", exit.Failed, "is no backup"},
		{"class roster nosuch.csv", exit.Misused, "no such file"},
	} {
		var stderr bytes.Buffer
		args := strings.Fields(c.args)
		if args[0] == "serve" {
			args = append(args, "--listen", "127.0.0.1:0")
		}
		assert.Equal(t, c.code, Main(term.Streams{In: strings.NewReader(""), Out: io.Discard, Err: &stderr, Width: 80}, args), c.args)
		assert.Contains(t, stderr.String(), c.says, c.args)
	}
}
