package web_test

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/site"
	"shimwright/scenarios"
	"shimwright/sim/longtest"
)

// The bench as a folder of files: what is loaded first is small, a job that was begun is worked
// to its end without a network, and what the browser keeps of it is the attempt file of typed
// lines, to the byte. So it is from a disk.
func TestASiteNeedsNoServer(t *testing.T) {
	if !longtest.On() {
		// It builds the program for a page, which takes as long as building it for the machine.
		t.Skip("left out: the bench as a folder of files; SHIMWRIGHT_LONG=1 asks for it")
	}
	b := newTab(t)
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
	b.show(size{1280, 800, false})
	b.open(server.URL + "/")
	b.wait(`!!document.getElementById("begin")`)
	b.accessible("the first page of a site")
	b.wait(`!!navigator.serviceWorker.controller`)
	server.Close() // from here on nothing answers but the browser itself
	b.open(server.URL + "/")
	b.workOnSite("HAZEL")

	b.open("file://" + filepath.Join(dir, "index.html"))
	b.workOnSite("BEECH")
}

// workOnSite begins a job on the page of a site and works it to its end.
func (b *tab) workOnSite(code string) {
	b.t.Helper()
	w := work(b.t, code, scenarios.DepthJob, 7)
	b.wait(`!!document.getElementById("begin")`)
	keys{b}.choose("family", code)
	keys{b}.choose("kind", "depth")
	keys{b}.choose("help", "full")
	clicks{b}.write("number", "7")
	clicks{b}.press("begin")
	b.settle("false", 0)
	b.playIn(clicks{b}, w.lines)
	kept := eval[string](b, `localStorage.getItem("shimwright-attempt-" + JSON.parse(localStorage.getItem("shimwright-order"))[0])`)
	assert.Equal(b.t, string(w.file), kept)
	assert.True(b.t, eval[bool](b, `!!document.querySelector("a[download]")`), "the file can be taken out")
}
