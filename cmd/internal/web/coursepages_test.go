package web_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/view"
	"shimwright/lessons"
	"shimwright/sim/longtest"
	"shimwright/sim/text"
)

var courseShots = flag.String("course-shots", "", "`FOLDER` to write pictures of the course's pages into")

// The pages that the course is written out to, in a browser as a file: nothing wider than a
// phone, no complaint, and what axe checks, on a screen and as they would be printed.
func TestPagesOfTheCourse(t *testing.T) {
	b := newTab(t)
	folder := t.TempDir()
	try := func(l lessons.Lesson) string { return "shimwright practice" }
	page := func(name string, write func(*bytes.Buffer) error) string {
		var out bytes.Buffer
		require.NoError(t, write(&out))
		file := filepath.Join(folder, name+".html")
		require.NoError(t, os.WriteFile(file, out.Bytes(), 0o600))
		return file
	}
	pen := view.NewPen(text.Printer{}, 80)
	some := []lessons.Lesson{}
	for _, id := range longtest.Pick([]string{"depth-height", "pattern-table"}, []string{"backlash-reading", "depth-height"}) {
		l, err := lessons.Find(id)
		require.NoError(t, err)
		some = append(some, l)
	}
	whole := longtest.Pick(some, lessons.All())
	pages := map[string]string{
		"course": page("course", func(w *bytes.Buffer) error { return view.Course(w, whole, pen, try) }),
		"slides": page("slides", func(w *bytes.Buffer) error { return view.Slides(w, whole, pen) }),
		"sheet": page("sheet", func(w *bytes.Buffer) error {
			return view.SheetPage(w, lessons.Sheets()[len(lessons.Sheets())-1], text.Printer{})
		}),
	}
	for _, l := range some[longtest.Pick(1, 0):] {
		pages[l.ID] = page(l.ID, func(w *bytes.Buffer) error { return view.Course(w, []lessons.Lesson{l}, pen, try) })
	}
	for name, file := range pages {
		sizes := []size{{360, 760, false}, {1280, 800, true}}
		if longtest.On() && name != "course" && name != "slides" {
			sizes = append(sizes, size{1280, 800, false})
		}
		for _, s := range sizes {
			b.show(s)
			b.open("file://" + file)
			assert.LessOrEqual(t, eval[int](b, `document.documentElement.scrollWidth`), int(s.wide), "%s is wider than the %s", name, s)
			assert.Zero(t, eval[int](b, `[...document.querySelectorAll('a[href^="#"]')].filter(a => !document.getElementById(decodeURIComponent(a.hash.slice(1)))).length`), "%s has links that lead nowhere", name)
			b.accessible(name + " on a " + s.String())
			if *courseShots != "" {
				png, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
				require.NoError(t, err)
				require.NoError(t, os.WriteFile(filepath.Join(*courseShots, name+"-"+s.String()+".png"), png, 0o644))
			}
		}
		b.show(size{1280, 800, false})
		_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		require.NoError(t, err)
		b.do(chromedp.EmulateViewport(794, 1123)) // a sheet of A4 at 96 dots to the inch
		b.open("file://" + file)
		assert.LessOrEqual(t, eval[int](b, `document.documentElement.scrollWidth`), 794, "%s is wider than its paper", name)
		assert.Equal(t, "rgb(0, 0, 0)", eval[string](b, `getComputedStyle(document.body).color`), "%s prints in black", name)
		assert.Zero(t, eval[int](b, `[...document.querySelectorAll("figure svg")].filter(s => s.getBoundingClientRect().width > 794).length`), "%s has a picture wider than its paper", name)
		if *courseShots != "" {
			png, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(*courseShots, name+"-print.png"), png, 0o644))
		}
	}
}
