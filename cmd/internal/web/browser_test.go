package web_test

import (
	"context"
	"net/http/httptest"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/web"
)

// browserAsked is the variable that makes a test fail that finds no browser.
const browserAsked = "SHIMWRIGHT_BROWSER"

// theBrowser is one for all tests; it ends with them.
var theBrowser = sync.OnceValues(func() (context.Context, error) {
	ctx, _ := chromedp.NewContext(context.Background())
	return ctx, chromedp.Do(ctx)
})

// tab opens a page of a browser, with cookies of its own. Without a browser the test is left
// out, or fails where one was asked for.
func tab(t *testing.T) context.Context {
	t.Helper()
	found := false
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if _, err := exec.LookPath(name); err == nil {
			found = true
		}
	}
	if !found {
		if os.Getenv(browserAsked) != "" {
			t.Fatal("no Chromium is installed, and " + browserAsked + " asks for one")
		}
		t.Skip("left out: the pages in a browser, for want of Chromium; " + browserAsked + "=1 makes that a failure")
	}
	all, err := theBrowser()
	require.NoError(t, err)
	ctx, cancel := chromedp.NewContext(all, chromedp.WithNewBrowserContext())
	t.Cleanup(cancel)
	ctx, stop := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(stop)
	require.NoError(t, chromedp.Do(ctx))
	return ctx
}

// size is how large a page is shown, and whether it is dark.
type size struct {
	wide, high int64
	dark       bool
}

func (s size) String() string {
	name := map[int64]string{360: "phone", 1280: "laptop", 1920: "projector"}[s.wide]
	if s.dark {
		name += "-dark"
	}
	return name
}

func look(t *testing.T, ctx context.Context, s size) {
	t.Helper()
	scheme := "light"
	if s.dark {
		scheme = "dark"
	}
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(s.wide, s.high)))
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
	require.NoError(t, err)
}

// open serves a bench for a test.
func open(t *testing.T) (address string, keeper *web.Memory) {
	t.Helper()
	keeper = web.NewMemory()
	s := httptest.NewServer(web.Visitors([]byte("a key"), web.New(web.Config{Keeper: keeper, Who: web.Visitor, Begin: true, Rate: 10_000})))
	t.Cleanup(s.Close)
	return s.URL, keeper
}
