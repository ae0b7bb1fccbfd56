package web_test

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/cli"
	"shimwright/cmd/internal/site"
	"shimwright/cmd/internal/term"
	"shimwright/scenarios"
	"shimwright/sim/longtest"
)

// The bench as a folder of files: what is loaded first is small, and with no network from there
// on a whole job is worked to its end. Half way its file is taken out, the browser forgets all,
// and the job goes on from the file. The file at the end is that of typed lines, to the byte,
// and is graded as theirs is. So it is from a disk. The short run does the same with a short job
// and a server, which is the same handler and no program for a page to be built.
func TestASiteNeedsNoServer(t *testing.T) {
	b := newTab(t)
	b.show(size{1280, 800, false})
	b.saves()
	if !longtest.On() {
		address, _ := serve(t)
		b.open(address + "/")
		b.workInTwo(work(t, "HAZEL", scenarios.PatternJob, 7), func() {})
		return
	}
	program, err := site.Build(t.Context(), filepath.Join("..", "..", ".."))
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, site.Write(dir, program))
	first := int64(0)
	for _, name := range []string{"index.html", "bench.css", "bench.js", "icon.svg", "site.js", "sw.js", "wasm_exec.js", "bench.wasm.gz"} {
		info, err := os.Stat(filepath.Join(dir, name))
		require.NoError(t, err)
		first += info.Size()
	}
	t.Logf("%d bytes are loaded first", first)
	assert.Less(t, first, int64(6<<20))

	server := httptest.NewServer(http.FileServer(http.Dir(dir)))
	t.Cleanup(server.Close)
	b.open(server.URL + "/")
	b.wait(`!!document.getElementById("begin")`)
	b.accessible("the first page of a site")
	b.wait(`!!navigator.serviceWorker.controller`)
	server.Close() // from here on nothing answers but the browser itself
	forget := func(address string) func() {
		return func() {
			eval[int](b, `(localStorage.clear(), 1)`)
			b.open("about:blank")
			b.open(address)
		}
	}
	b.open(server.URL + "/")
	b.workInTwo(work(t, "HAZEL", scenarios.WholeJob, 7), forget(server.URL+"/"))

	disk := "file://" + filepath.Join(dir, "index.html")
	b.open(disk)
	b.workInTwo(work(t, "BEECH", scenarios.DepthJob, 7), forget(disk))
}

// saves has the browser save what is taken out of a page.
func (b *tab) saves() {
	b.t.Helper()
	b.saved = b.t.TempDir()
	_, err := chromedp.Call(b.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllow, BrowserContextID: chromedp.FromContext(b.ctx).BrowserContextID, DownloadPath: b.saved})
	require.NoError(b.t, err)
}

// takeOut saves the attempt file that a page hands out, and returns its path.
func (b *tab) takeOut() string {
	b.t.Helper()
	require.NoError(b.t, os.RemoveAll(b.saved))
	require.NoError(b.t, os.MkdirAll(b.saved, 0o700))
	eval[int](b, `(document.querySelector("nav.job a[download]").click(), 1)`)
	for range 600 {
		if all, err := filepath.Glob(filepath.Join(b.saved, "*.jsonl")); err == nil && len(all) == 1 {
			return all[0]
		}
		time.Sleep(5 * time.Millisecond)
	}
	b.t.Fatal("no attempt file was saved")
	return ""
}

// workInTwo begins a job on the first page of a bench, takes its file out half way, brings the
// file in again after what is done between, and works the job to its end.
func (b *tab) workInTwo(w worked, between func()) {
	b.t.Helper()
	b.wait(`!!document.getElementById("begin")`)
	keys{b}.choose("family", w.code)
	keys{b}.choose("kind", w.kind.String())
	keys{b}.choose("help", "full")
	clicks{b}.write("number", "7")
	clicks{b}.press("begin")
	b.settle("false", 0)
	half := len(w.lines) / 2
	b.playIn(clicks{b}, w.lines[:half])
	path := filepath.Join(b.t.TempDir(), "half.jsonl")
	require.NoError(b.t, os.Rename(b.takeOut(), path))
	between()
	b.wait(`!!document.querySelector("header nav a")`)
	eval[int](b, `(document.querySelector("header nav a").click(), 1)`)
	b.wait(`!!document.getElementById("bring-it")`)
	b.do(chromedp.SetUploadFiles("#file", []string{path}))
	clicks{b}.press("bring-it")
	b.settle("false", half)
	b.playFrom(clicks{b}, w.lines, half)
	path = b.takeOut()
	file, err := os.ReadFile(path)
	require.NoError(b.t, err)
	assert.Equal(b.t, string(w.file), string(file))
	typed := filepath.Join(b.t.TempDir(), filepath.Base(path))
	said := command(b.t, strings.Join(w.lines, "\n")+"\n", "practice", "--lines", "--family", w.code, "--kind", w.kind.String(), "--seed", "7", "--record", typed)
	assert.Contains(b.t, said, "Debrief", "line mode signs the job off")
	assert.Equal(b.t, command(b.t, "", "grade", "--json", typed), command(b.t, "", "grade", "--json", path))
}

// command runs a command of the program and returns what it says.
func command(t *testing.T, in string, args ...string) string {
	t.Helper()
	var out, trouble bytes.Buffer
	code := cli.Main(term.Streams{In: strings.NewReader(in), Out: &out, Err: &trouble, Width: 80, Program: "shimwright"}, args)
	require.Equal(t, 0, code, "%v: %s", args, trouble.String())
	return out.String()
}
