package web_test

import (
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/misconception"
)

var (
	pictures   = flag.String("pictures", "", "`FOLDER` to write pictures of the bench and of a debrief into, and what pages they are of")
	picturesOf = flag.String("pictures-of", "BEECH", "`FAMILY` to work a job of for them")
)

// pagesFile holds a digest of what each page tells that there is a picture of.
const pagesFile = "pages.txt"

// The pictures of the bench and of a debrief in the user's guide are of the pages as they are now.
// With -pictures they are made anew: a browser draws them, and what the pages were is kept beside
// them, because no two browsers draw the same bytes.
func TestPictures(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	var b *tab
	if *pictures != "" {
		b = newTab(t)
	}
	var kept strings.Builder
	take := func(name, path, at string, s size) {
		page, _, _ := p.get(path + at)
		// What stands around it, and the style that it shares with other pages, may change.
		_, of, ok := strings.Cut(page, "<main")
		require.True(t, ok)
		of, _, _ = strings.Cut(of, "</main>")
		fmt.Fprintf(&kept, "%s %x\n", name, sha256.Sum256([]byte(strings.ReplaceAll(of, path, "/jobs/ID"))))
		if b == nil {
			return
		}
		b.be(p)
		b.show(s)
		b.open(address + path + at)
		png, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(*pictures, name+".png"), png, 0o600))
	}
	w, done := work(t, *picturesOf, scenarios.WholeJob, 7), 0
	path := p.begin(*picturesOf, "whole", 7, "coach")
	for _, c := range []struct {
		name, at, after string
		size            size
	}{
		{"bench-phone", "", "measure torque", size{360, 780, false}},
		{"bench-dark", "", "measure backlash", size{1280, 860, true}},
		{"bench-pattern", "", "roll gears", size{1280, 860, false}},
		{"bench-projector", "/projector", "", size{1280, 720, false}},
	} {
		if c.after != "" {
			done = p.playOn(path, w.lines, done, after(c.after))
		}
		take(c.name, path, c.at, c.size)
	}
	// Of a job in which the shim that was to start with was never corrected.
	starter, err := misconception.Find("starter-is-final")
	require.NoError(t, err)
	w = work(t, *picturesOf, scenarios.WholeJob, 7, starter.Policy)
	path = p.begin(*picturesOf, "whole", 7, "full")
	p.play(path, w.lines, func(string) bool { return false })
	take("debrief", path, "/debrief", size{1000, 1180, false})
	if *picturesOf != "BEECH" {
		return
	}
	file := filepath.Join("..", "..", "..", "testdata", "pictures", pagesFile)
	if *pictures != "" {
		file = filepath.Join(*pictures, pagesFile)
		require.NoError(t, os.WriteFile(file, []byte(kept.String()), 0o600))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), kept.String(), "a page has changed: make its picture anew with -pictures, and look at it")
}
