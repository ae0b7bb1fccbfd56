package web_test

import (
	"flag"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
)

var (
	shots   = flag.String("shots", "", "`FOLDER` to write pictures of the pages into")
	shotsOf = flag.String("shots-of", "BEECH", "`FAMILY` to work a job of for them")
)

// TestPictures writes pictures of the pages at some moments of a job.
func TestPictures(t *testing.T) {
	if *shots == "" {
		t.Skip("pictures are made when -shots names a folder")
	}
	b := newTab(t)
	address, _ := serve(t)
	p := newPerson(t, address)
	w := work(t, *shotsOf, scenarios.WholeJob, 7)
	path := p.begin(*shotsOf, "whole", 7, "coach")
	b.be(p)
	take := func(name, path string, sizes ...size) {
		for _, s := range sizes {
			b.show(s)
			b.open(address + path)
			png, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(*shots, name+"-"+s.String()+".png"), png, 0o644))
		}
	}
	phone, laptop, dark, phoneDark := size{360, 760, false}, size{1280, 800, false}, size{1280, 800, true}, size{360, 760, true}
	take("start", "/", phone)
	take("card", path+"/card", phone, dark)
	take("lesson", "/lessons/side-shims", phone, dark)
	done := map[string]bool{}
	for n, line := range w.lines {
		if line == "sign off" {
			page, _, _ := p.post(path+"/acts", url.Values{"had": {strconv.Itoa(n)}, "line": {line}})
			require.Contains(t, page, "Sign off?")
			p.post(path+"/acts", url.Values{"had": {strconv.Itoa(n)}, "line": {line}, "sign": {"yes"}})
			break
		}
		p.post(path+"/acts", url.Values{"had": {strconv.Itoa(n)}, "line": {line}, "answer": {"skip"}})
		for _, at := range []string{"measure torque rotating wrench", "measure torque rotating string", "measure backlash", "roll gears", "fit depth-shim"} {
			if strings.HasPrefix(line, at) && !done[at] {
				done[at] = true
				take(strings.ReplaceAll(at, " ", "-"), path, phone, laptop, dark, phoneDark)
			}
		}
	}
	take("debrief", path+"/debrief", phone, laptop, dark)
	take("left", path, size{1920, 1080, false})
}
