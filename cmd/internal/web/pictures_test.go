package web_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
)

var (
	pictures   = flag.String("pictures", "", "`FOLDER` to write pictures of the bench into")
	picturesOf = flag.String("pictures-of", "BEECH", "`FAMILY` to work a job of for them")
)

// TestPictures writes pictures of the bench at some moments of a job.
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("pictures are made when -pictures names a folder")
	}
	b := newTab(t)
	address, _ := serve(t)
	p := newPerson(t, address)
	w := work(t, *picturesOf, scenarios.WholeJob, 7)
	for _, c := range []struct {
		name, after string
		size        size
	}{
		{"bench-phone", "measure torque", size{360, 780, false}},
		{"bench-pattern", "roll gears", size{1280, 860, false}},
		{"bench-dark", "measure backlash", size{1280, 860, true}},
	} {
		path := p.begin(*picturesOf, "whole", 7, "coach")
		p.play(path, w.lines, after(c.after))
		b.be(p)
		b.show(c.size)
		b.open(address + path)
		png, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(*pictures, c.name+".png"), png, 0o644))
	}
}
