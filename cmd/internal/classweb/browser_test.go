package classweb_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/act"
	"shimwright/sim/longtest"
)

// browserAsked is the variable that makes a test fail that finds no browser.
const browserAsked = "SHIMWRIGHT_BROWSER"

// axe is the rules of WCAG as a script.
func axe(t *testing.T) string {
	data, err := os.ReadFile("../web/testdata/axe/axe.min.js.gz")
	require.NoError(t, err)
	r, err := gzip.NewReader(bytes.NewReader(data))
	require.NoError(t, err)
	text, err := io.ReadAll(r)
	require.NoError(t, err)
	return string(text) + ";1"
}

// The pages of a class in a browser: accessible by the rules of WCAG 2.2 AA on a phone and on
// a laptop, light and dark, without a word of complaint and no wider than the screen; and the
// board renews itself.
func TestClassInABrowser(t *testing.T) {
	if _, err := exec.LookPath("chromium"); err != nil {
		if os.Getenv(browserAsked) != "" {
			t.Fatal("no Chromium is installed, and " + browserAsked + " asks for one")
		}
		t.Skip("left out: the pages of a class in a browser, for want of Chromium; " + browserAsked + "=required makes that a failure")
	}
	s := opened(t)
	teacher := s.instructor()
	teacher.post("/class/roster", "names", "Ann\nBo\nCy\n"+hostile)
	exam := teacher.set("exercise", "final-examination", "mode", "exam", "closes", "2026-09-07T12:00", "tries", "1")
	depth := teacher.set("exercise", "first-depth", "mode", "practice", "jobs", "2")
	ann, bo, cy := s.joined("Ann"), s.joined("Bo"), s.joined("Cy")
	ann.begin(exam, 1)
	annAt := ann.begin(depth, 1)
	_, acts := s.careful(annAt)
	ann.work(annAt, acts...)
	bo.work(bo.begin(depth, 1), acts...)
	cy.work(cy.begin(depth, 1), acts[:2]...)
	teacher.post("/class/sets/"+depth, "do", "return")

	root, end := chromedp.NewContext(context.Background())
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(root))
	source := axe(t)
	type page struct {
		who  *person
		path string
	}
	pages := []page{{nil, "/"}, {nil, "/instructor"}, {ann, "/work"}, {ann, "/work/debriefs/" + annAt[len("/bench/jobs/"):]}, {ann, "/nosuch"},
		{teacher, "/class"}, {teacher, "/class/board"}, {teacher, "/class/sets/" + depth}, {teacher, "/class/sets/" + exam}, {teacher, "/class/sets/" + depth + "/debriefs"}}
	pages = longtest.Some(pages, 4)
	for _, who := range []*person{nil, ann, teacher} {
		ctx, done := chromedp.NewContext(root, chromedp.WithNewBrowserContext())
		t.Cleanup(done)
		ctx, stop := context.WithTimeout(ctx, 2*time.Minute)
		t.Cleanup(stop)
		require.NoError(t, chromedp.Do(ctx))
		var mu sync.Mutex
		var bad []string
		require.NoError(t, chromedp.Listen(ctx, func(ev any) {
			said := ""
			switch ev := ev.(type) {
			case *cdplog.EventEntryAdded:
				said = ev.Entry.Text + " " + ev.Entry.URL
			case *runtime.EventExceptionThrown:
				said = ev.ExceptionDetails.Text
			}
			if said != "" {
				mu.Lock()
				bad = append(bad, said)
				mu.Unlock()
			}
		}))
		_, err := chromedp.Call(ctx, cdplog.Enable, cdp.Empty{})
		require.NoError(t, err)
		if who != nil {
			u, err := url.Parse(s.url)
			require.NoError(t, err)
			for _, c := range who.http.Jar.Cookies(u) {
				_, err := chromedp.Call(ctx, network.SetCookie, network.SetCookieParams{Name: c.Name, Value: c.Value, URL: s.url})
				require.NoError(t, err)
			}
		}
		for _, p := range pages {
			if p.who != who {
				continue
			}
			for i, look := range []string{"360 dark", "1280 light", "1280 dark", "360 light"} {
				if i >= longtest.Pick(1, 4) {
					break
				}
				var wide int64
				var scheme string
				_, err := fmt.Sscan(look, &wide, &scheme)
				require.NoError(t, err)
				require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(wide, 800)))
				_, err = chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
				require.NoError(t, err)
				require.NoError(t, chromedp.Do(ctx, chromedp.Navigate(s.url+p.path)))
				over, err := chromedp.Run(ctx, chromedp.Evaluate[int](`document.querySelectorAll("details").forEach(d => d.open = true), document.documentElement.scrollWidth - window.innerWidth`))
				require.NoError(t, err)
				assert.LessOrEqual(t, over, 0, "%s at %s is wider than the screen", p.path, look)
				_, err = chromedp.Run(ctx, chromedp.Evaluate[int](source))
				require.NoError(t, err)
				found, err := chromedp.Run(ctx, chromedp.Evaluate[string](`axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => JSON.stringify(r.violations.map(v => v.id + ": " + v.nodes.map(n => n.target.join(" ") + " " + n.failureSummary).join(" | "))))`, chromedp.EvalAwaitPromise))
				require.NoError(t, err)
				assert.Equal(t, "[]", found, "%s at %s", p.path, look)
			}
		}
		if who == teacher {
			require.NoError(t, chromedp.Do(ctx, chromedp.Navigate(s.url+"/class/board")))
			s.later(time.Minute)
			bo.work(bo.begin(depth, 2), act.Act{Form: act.InspectCups})
			renewed := false
			for range 100 {
				n, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`document.getElementById("board").textContent.includes("job 2")`))
				require.NoError(t, err)
				if renewed = n; renewed {
					break
				}
				time.Sleep(100 * time.Millisecond)
			}
			assert.True(t, renewed, "the board renews itself")
		}
		mu.Lock()
		for _, said := range bad {
			assert.Contains(t, said, "404", "what the browser complained of")
			assert.Contains(t, said, "/nosuch")
		}
		mu.Unlock()
	}
}
