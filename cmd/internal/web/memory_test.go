package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/web"
	"shimwright/cmd/internal/web/keepertest"
	"shimwright/sim/act"
)

func TestMemoryKeeps(t *testing.T) {
	keepertest.Run(t, func(*testing.T) web.Keeper { return web.NewMemory() })
}

func TestFolderKeeps(t *testing.T) {
	keepertest.Run(t, func(t *testing.T) web.Keeper { return web.NewFolder(t.TempDir()) })
}

// What is begun in a browser on one's own machine lies where the terminal keeps attempts, and
// is a file as the terminal writes it; nothing outside the folder is reached.
func TestAFolderIsTheTerminals(t *testing.T) {
	dir := t.TempDir()
	k := web.NewFolder(dir)
	server := httptest.NewServer(web.Alone(web.Own, web.New(web.Config{Keeper: k, Who: web.Visitor, Begin: true})))
	t.Cleanup(server.Close)
	p := newPerson(t, server.URL)
	path := p.begin("BEECH", "depth", 7, "full")
	p.post(path+"/acts", url.Values{"had": {"0"}, "typed": {"inspect cups"}})
	kept, err := store.KeptIn(dir)
	require.NoError(t, err)
	require.Len(t, kept, 1)
	assert.Equal(t, "shimwright-depth-7.jsonl", filepath.Base(kept[0].Path))
	assert.Len(t, kept[0].Record.Entries, 1)
	assert.NotEqual(t, path, p.begin("BEECH", "depth", 7, "full"), "another attempt at the same job has a file of its own")

	// The terminal adds to it; the page goes on from there.
	b, err := bench.Open(kept[0].Record)
	require.NoError(t, err)
	file, _, _, err := store.Open(kept[0].Path)
	require.NoError(t, err)
	b.Keep(file)
	page, _, status := p.post(path+"/acts", url.Values{"had": {"1"}, "typed": {"inspect seal"}})
	assert.Equal(t, http.StatusConflict, status)
	assert.Contains(t, page, "open at a terminal")
	_, err = b.Do(act.Act{Form: act.InspectShimSeat})
	require.NoError(t, err)
	require.NoError(t, file.Close())
	page, _, _ = p.get(path)
	assert.Contains(t, page, "Act 2: inspect shim-seat")

	require.NoError(t, os.WriteFile(filepath.Join(dir, "broken.jsonl"), []byte("no attempt\n"), 0o600))
	_, _, status = p.get("/jobs/broken")
	assert.Equal(t, http.StatusConflict, status)
	_, _, status = p.get("/")
	assert.Equal(t, http.StatusOK, status)
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(dir), "outside.jsonl"), nil, 0o600))
	for _, id := range []string{"..%2Foutside", "%2e%2e%2foutside", "a%00b", "visitors%2fann%2fx", "%2Fetc%2Fpasswd"} {
		_, _, status := p.get("/jobs/" + id)
		assert.Equal(t, http.StatusNotFound, status, id)
	}
	key, err := k.Key()
	require.NoError(t, err)
	again, err := web.NewFolder(dir).Key()
	require.NoError(t, err)
	assert.Equal(t, key, again)

	r, err := http.NewRequest(http.MethodGet, server.URL, nil)
	require.NoError(t, err)
	r.Host = "elsewhere.example"
	res, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	res.Body.Close()
	assert.Equal(t, http.StatusMisdirectedRequest, res.StatusCode)
}
