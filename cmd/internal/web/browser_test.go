package web_test

import (
	"bytes"
	"compress/gzip"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/web"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
)

// browserAsked is the variable that makes a test fail that finds no browser.
const browserAsked = "SHIMWRIGHT_BROWSER"

// theBrowser is one for all tests; it ends with them.
var theBrowser = sync.OnceValues(func() (context.Context, error) {
	ctx, _ := chromedp.NewContext(context.Background())
	return ctx, chromedp.Do(ctx)
})

// A tab is a page of a browser with cookies of its own, and what went wrong on it.
type tab struct {
	ctx context.Context
	t   *testing.T
	mu  sync.Mutex
	bad []string

	saved string // the folder of what is taken out of pages
}

// newTab opens a tab. Without a browser the test is left out, or fails where one was asked for.
func newTab(t *testing.T) *tab {
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
		t.Skip("left out: the pages in a browser, for want of Chromium; " + browserAsked + "=required makes that a failure")
	}
	all, err := theBrowser()
	require.NoError(t, err)
	ctx, cancel := chromedp.NewContext(all, chromedp.WithNewBrowserContext())
	t.Cleanup(cancel)
	ctx, stop := context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(stop)
	b := &tab{ctx: ctx, t: t}
	b.do()
	require.NoError(t, chromedp.Listen(ctx, func(ev any) {
		said := ""
		switch ev := ev.(type) {
		case *cdplog.EventEntryAdded:
			said = ev.Entry.Text
		case *runtime.EventExceptionThrown:
			said = ev.ExceptionDetails.Text
		case *runtime.EventConsoleAPICalled:
			said = fmt.Sprint("console: ", ev.Type)
		}
		if said != "" {
			b.mu.Lock()
			b.bad = append(b.bad, said)
			b.mu.Unlock()
		}
	}))
	_, err = chromedp.Call(ctx, cdplog.Enable, cdp.Empty{})
	require.NoError(t, err)
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		assert.Empty(t, b.bad, "what the browser complained of")
	})
	return b
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, steps...))
}

func (b *tab) open(address string) {
	b.t.Helper()
	b.do(chromedp.Navigate(address))
}

// eval returns what an expression comes to.
func eval[T any](b *tab, js string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, js)
	return v
}

// wait waits until an expression is true.
func (b *tab) wait(js string) {
	b.t.Helper()
	for range 600 {
		v, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](js))
		if err == nil && v {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	b.t.Fatalf("never true: %s", js)
}

// be takes on the cookies of somebody.
func (b *tab) be(p *person) {
	b.t.Helper()
	u, err := url.Parse(p.at)
	require.NoError(b.t, err)
	for _, c := range p.client.Jar.Cookies(u) {
		_, err := chromedp.Call(b.ctx, network.SetCookie, network.SetCookieParams{Name: c.Name, Value: c.Value, URL: p.at})
		require.NoError(b.t, err)
	}
}

// withoutScripts stops the scripts of pages.
func (b *tab) withoutScripts() {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	require.NoError(b.t, err)
}

// A size is how large a page is shown, and whether it is dark.
type size struct {
	wide, high int64
	dark       bool
}

func (s size) String() string {
	name := map[int64]string{320: "zoomed", 360: "phone", 1280: "laptop", 1920: "projector"}[s.wide]
	if s.dark {
		name += "-dark"
	}
	return name
}

func (b *tab) show(s size) {
	b.t.Helper()
	scheme := "light"
	if s.dark {
		scheme = "dark"
	}
	b.do(chromedp.EmulateViewport(s.wide, s.high))
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
	require.NoError(b.t, err)
}

// serve serves a bench for a test.
func serve(t testing.TB, change ...func(*web.Config)) (address string, keeper *web.Memory) {
	t.Helper()
	keeper = web.NewMemory()
	c := web.Config{Keeper: keeper, Who: web.Visitor, Begin: true, Rate: 10_000}
	for _, f := range change {
		f(&c)
	}
	s := httptest.NewServer(web.Visitors([]byte("a key"), web.New(c)))
	t.Cleanup(s.Close)
	return s.URL, keeper
}

//go:embed testdata/axe/axe.min.js.gz
var axeSource []byte

var axe = sync.OnceValues(func() (string, error) {
	r, err := gzip.NewReader(bytes.NewReader(axeSource))
	if err != nil {
		return "", err
	}
	text, err := io.ReadAll(r)
	return string(text) + ";1", err
})

// accessible fails for what the rules of WCAG 2.2 AA, as axe checks them, do not allow.
func (b *tab) accessible(what string) {
	b.t.Helper()
	source, err := axe()
	require.NoError(b.t, err)
	eval[int](b, source)
	found := eval[string](b, `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => JSON.stringify(r.violations.map(v => v.id + ": " + v.nodes.map(n => n.target.join(" ") + " " + n.failureSummary).join(" | "))))`)
	var all []string
	require.NoError(b.t, json.Unmarshal([]byte(found), &all))
	assert.Empty(b.t, all, what)
}

// Every page keeps the rules of accessibility on a phone and on a laptop, light and dark, is
// no wider than what shows it, also at 200 % on a phone's width, and nothing is complained of.
func TestPages(t *testing.T) {
	b := newTab(t)
	address, _ := serve(t)
	p := newPerson(t, address)
	p.get("/")
	b.be(p)
	pages := map[string]string{"lessons": "/lessons", "lesson": "/lessons/side-shims", "glossary": "/glossary", "nowhere": "/nowhere",
		"exercises": "/exercises", "drills": "/drills", "question": "/drills/pattern/7", "choice": "/drills/carrier/7", "amount": "/drills/adjusters/7", "round": "/drills/mixed/7/" + strings.Repeat("wrong.", 9) + "right"}
	w := work(t, "BEECH", scenarios.WholeJob, 7)
	job := func(name string, until func(line string) bool) string {
		path := p.begin("BEECH", "whole", 7, "coach")
		p.play(path, w.lines, until)
		pages[name] = path
		return path
	}
	never := func(string) bool { return false }
	early := job("bench", func(string) bool { return true })
	pages["card"], pages["left"], pages["start"], pages["projector"] = early+"/card", early+"/left", "/", early+"/projector"
	if longtest.On() {
		pages["backlash on a projector"] = job("backlash", after("measure backlash")) + "/projector"
		job("torque", after("measure torque"))
		job("pattern", after("roll gears"))
		pages["debrief"] = job("closed", never) + "/debrief"
	}
	sizes := []size{{360, 760, false}, {360, 760, true}, {1280, 800, false}, {1280, 800, true}}
	if !longtest.On() {
		sizes = []size{{360, 760, false}, {1280, 800, true}}
		pages = map[string]string{"bench": pages["bench"], "start": "/"}
	}
	for name, path := range pages {
		b.open(address + path)
		for _, s := range sizes {
			b.show(s)
			what := name + " " + s.String()
			b.accessible(what)
			b.fits(what, s.wide)
		}
		b.show(size{320, 640, false})
		b.fits(name+" zoomed", 320)
	}
	if longtest.On() {
		b.forgive("404") // the page that is nowhere
	}
}

// Pages print on the paper of either side of an ocean: nothing is wider than the sheet, what
// only a screen has use for is left out, and what can be read is all there.
func TestPagesPrint(t *testing.T) {
	if !longtest.On() {
		t.Skip("left out: pages on paper; SHIMWRIGHT_LONG=1 asks for it")
	}
	b := newTab(t)
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "whole", 7, "full")
	w := work(t, "BEECH", scenarios.WholeJob, 7)
	p.play(path, w.lines, after("roll gears"))
	b.be(p)
	for _, at := range []string{path, path + "/card", "/lessons/side-shims", "/glossary"} {
		b.open(address + at)
		for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
			const margin, dots = 0.5, 96
			_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
			require.NoError(t, err)
			wide := int64((paper.Width - 2*margin) * dots)
			b.do(chromedp.EmulateViewport(wide, 1000))
			b.fits(at+" "+name, wide)
			assert.False(t, eval[bool](b, `[...document.querySelectorAll("button")].some(e => e.checkVisibility())`), "%s: no button on paper", at)
			pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFMargin(margin)))
			require.NoError(t, err)
			assert.Greater(t, len(pdf), 10_000, at)
			assert.Equal(t, "%PDF-", string(pdf[:5]))
		}
	}
}

// fits tells whether a page is no wider than what shows it.
func (b *tab) fits(what string, wide int64) {
	b.t.Helper()
	assert.LessOrEqual(b.t, eval[int64](b, "document.scrollingElement.scrollWidth"), wide, what)
}

// forgive takes a complaint back that was asked for.
func (b *tab) forgive(part string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	var rest []string
	for _, s := range b.bad {
		if !strings.Contains(s, part) {
			rest = append(rest, s)
		}
	}
	b.bad = rest
}

// after stops behind the first line that begins so.
func after(begin string) func(string) bool {
	done := false
	return func(line string) bool {
		was := done
		done = done || strings.HasPrefix(line, begin)
		return was
	}
}

// A hand works the page of a bench in a browser.
type hand interface {
	press(id string)         // a button, or what opens a part of the page
	write(id, text string)   // into a field
	choose(id, value string) // of a list
}

// clicks is a hand with a mouse.
type clicks struct{ *tab }

func (b clicks) press(id string) {
	b.t.Helper()
	at := eval[[]float64](b.tab, fmt.Sprintf(`(function () {
		var e = document.getElementById(%q);
		e.scrollIntoView({block: "center", behavior: "instant"});
		var r = e.getBoundingClientRect();
		return [r.left + Math.min(r.width / 2, 60), r.top + r.height / 2];
	})()`, id))
	b.do(chromedp.MouseClickXY(at[0], at[1]))
}

func (b clicks) write(id, text string) {
	b.press(id)
	eval[int](b.tab, `(document.activeElement.select(), 1)`)
	b.do(chromedp.KeyEvent(text))
}

// choose takes a value of a list, whose entries no headless browser shows to a mouse.
func (b clicks) choose(id, value string) { keys(b).choose(id, value) }

// keys is a hand with a keyboard alone.
type keys struct{ *tab }

func (b keys) at(id string) {
	b.t.Helper()
	require.Equal(b.t, id, eval[string](b.tab, fmt.Sprintf(`(document.getElementById(%q).focus(), document.activeElement.id)`, id)))
}

func (b keys) press(id string) {
	b.t.Helper()
	b.at(id)
	b.do(chromedp.KeyEvent(kb.Enter))
}

func (b keys) write(id, text string) {
	b.t.Helper()
	b.at(id)
	eval[int](b.tab, `(document.activeElement.select(), 1)`)
	b.do(chromedp.KeyEvent(text))
}

func (b keys) choose(id, value string) {
	b.t.Helper()
	b.at(id)
	by := eval[int](b.tab, fmt.Sprintf(`(function () {
		var e = document.getElementById(%q);
		return [...e.options].findIndex(o => o.value === %q) - e.selectedIndex;
	})()`, id, value))
	key := kb.ArrowDown
	if by < 0 {
		key, by = kb.ArrowUp, -by
	}
	b.do(chromedp.KeyEvent(strings.Repeat(key, by)))
	require.Equal(b.t, value, eval[string](b.tab, fmt.Sprintf(`document.getElementById(%q).value`, id)))
}

// idOf is how the page names the form of an act.
func idOf(words ...string) string {
	return strings.NewReplacer(" ", "_", "/", "_").Replace(strings.Join(words, "."))
}

// playIn works a job in a browser, each act by its button.
func (b *tab) playIn(h hand, lines []string) {
	b.t.Helper()
	b.playFrom(h, lines, 0)
}

// playFrom works a job of which so many acts are done.
func (b *tab) playFrom(h hand, lines []string, done int) {
	b.t.Helper()
	for n := done; n < len(lines); n++ {
		line := lines[n]
		a, err := act.Parse(line, quantity.Inch)
		require.NoError(b.t, err)
		name, _, _ := strings.Cut(a.Form.String(), " {")
		id := idOf("act", name)
		if a.Form == act.RecordValue {
			id = idOf("record", string(a.Choices[0]))
		}
		b.reveal(h, id)
		b.fill(h, a, id)
		b.settle(`!!document.querySelector("#skip, #sign, article.debrief")`, n+1)
		if eval[bool](b, `!!document.getElementById("skip")`) {
			h.press("skip")
			b.settle("false", n+1)
		}
		if a.Form == act.SignOff {
			h.press("sign")
			b.settle(`!!document.querySelector("article.debrief")`, -1)
		}
	}
}

// settle waits until the page shows so many acts, or something else, and stands still.
func (b *tab) settle(orElse string, acts int) {
	b.t.Helper()
	b.wait(fmt.Sprintf(`document.readyState === "complete" && !document.querySelector(".htmx-request, .htmx-swapping, .htmx-settling, .htmx-added") &&
		(%s || !!document.querySelector("#bench input[name=had][value='%d']"))`, orElse, acts))
}

// reveal opens the part of the page that an act is in.
func (b *tab) reveal(h hand, id string) {
	b.t.Helper()
	at := eval[string](b, fmt.Sprintf(`(function () {
		var e = document.querySelector('[id="%s"], [id^="%s"]');
		if (!e) { return "none"; }
		var d = e.closest("details.group");
		return d.open ? "" : d.querySelector("summary").id;
	})()`, id, id+"."))
	require.NotEqual(b.t, "none", at, "no button for %s", id)
	if at != "" {
		h.press(at)
		b.wait(fmt.Sprintf(`document.getElementById(%q).parentElement.open`, at))
	}
}

// fill gives an act what it asks for and sends it.
func (b *tab) fill(h hand, a act.Act, id string) {
	b.t.Helper()
	slots := a.Form.Slots()
	has := func(id string) bool { return eval[bool](b, fmt.Sprintf(`!!document.getElementById(%q)`, id)) }
	switch {
	case len(slots) == 0:
		h.press(id)
		return
	case a.Form == act.RecordValue:
		h.write(id+".amount", a.Amounts[0].String())
	case len(slots) == 1:
		given := ""
		if len(a.Choices) > 0 {
			given = string(a.Choices[0])
		} else {
			given = a.Amounts[0].String()
		}
		if has(idOf(id, given)) {
			h.press(idOf(id, given))
			return
		}
		if has(id + ".other") {
			h.write(id+".other", given)
			break
		}
		h.choose(id+".0", given)
	default:
		words, amounts := 0, 0
		for i, s := range slots {
			field := fmt.Sprintf("%s.%d", id, i)
			given := ""
			if s.Amount == "" {
				given = string(a.Choices[words])
				words++
			} else {
				given = a.Amounts[amounts].String()
				amounts++
			}
			if eval[string](b, fmt.Sprintf(`document.getElementById(%q).tagName`, field)) == "SELECT" {
				if eval[string](b, fmt.Sprintf(`document.getElementById(%q).value`, field)) != given {
					h.choose(field, given)
				}
			} else {
				h.write(field, given)
			}
		}
	}
	h.press(id + ".do")
}

// A whole job of every design, worked by clicks, by keyboard, and with scripts turned off,
// gives the attempt file of typed lines, to the byte. The short run works a part of a job of
// one design.
func TestWholeJobsInABrowser(t *testing.T) {
	kind, codes := scenarios.DepthJob, designs()[:1]
	if longtest.On() {
		kind, codes = scenarios.WholeJob, designs()
	}
	ways := map[string]func(*tab) hand{
		"clicks":          func(b *tab) hand { return clicks{b} },
		"keyboard":        func(b *tab) hand { return keys{b} },
		"without scripts": func(b *tab) hand { b.withoutScripts(); return clicks{b} },
	}
	if !longtest.On() {
		delete(ways, "keyboard") // TestTheKeyboardComesEverywhere has it
	}
	for _, code := range codes {
		w := work(t, code, kind, 7)
		for way, of := range ways {
			t.Run(code+" "+way, func(t *testing.T) {
				t.Parallel()
				address, _ := serve(t)
				b := newTab(t)
				b.show(size{1280, 800, false})
				p := newPerson(t, address)
				path := p.begin(code, kind.String(), 7, "full")
				b.be(p)
				b.open(address + path)
				b.playIn(of(b), w.lines)
				file, _, _ := p.get(path + "/attempt")
				assert.Equal(t, string(w.file), file)
			})
		}
	}
}

// Whoever has a keyboard alone comes to everything on the page of a bench by Tab, in its
// order, and what is done keeps their place.
func TestTheKeyboardComesEverywhere(t *testing.T) {
	b := newTab(t)
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "pattern", 7, "full")
	b.be(p)
	b.show(size{1280, 800, false})
	b.open(address + path)
	const all = `[...document.querySelectorAll("a:not([tabindex='-1']), button, input:not([type=hidden]), select, summary")].filter(e => e.checkVisibility() && (e.closest("details") === null || e.closest("details").open || e.matches("summary")))`
	want := eval[int](b, all+".length")
	var seen []string
	for range want {
		b.do(chromedp.KeyEvent(kb.Tab))
		seen = append(seen, eval[string](b, `(function () {
			var e = document.activeElement, s = getComputedStyle(e), r = e.getBoundingClientRect();
			if (s.outlineStyle === "none") { return "no mark of focus: " + e.outerHTML; }
			if (r.bottom < 0 || r.top > innerHeight) { return "out of sight: " + e.outerHTML; }
			return String(`+all+`.indexOf(e));
		})()`))
	}
	for i, s := range seen {
		assert.Equal(t, fmt.Sprint(i), s)
	}
	keys{b}.press("act.paint_teeth.thin")
	b.settle("false", 1)
	assert.Equal(t, "act.paint_teeth.thin", eval[string](b, "document.activeElement.id"), "the keyboard's place is kept")
	assert.Contains(t, eval[string](b, `document.getElementById("live").textContent`), "paint teeth thin")
	keys{b}.press("act.roll_gears.braked")
	b.settle("false", 2)
	assert.Contains(t, eval[string](b, `document.getElementById("live").textContent`), "covers about")
	b.reveal(keys{b}, "act.remove_case")
	keys{b}.press("act.remove_case")
	b.settle("false", 3)
	assert.Equal(t, "shown", eval[string](b, "document.activeElement.id"), "the button has gone, and what it did is at hand")
}

// Whoever taps a part of the axle's drawing, or takes it from the list below it, finds the acts
// that concern it; what is done there leaves that part open. The drawing's parts lie where they
// are drawn, and the list says the same to whoever sees no drawing.
func TestPartsOfTheAxleArePointedAt(t *testing.T) {
	b := newTab(t)
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "whole", 7, "full")
	b.be(p)
	b.show(size{360, 740, false})
	b.open(address + path)
	const names = `[...document.querySelectorAll("nav.parts a")].map(e => e.textContent).join("|")`
	assert.Equal(t, "nut, yoke, seal|pinion bearings|spacer|depth shim|pinion|ring gear|case, side bearings|side shims|bearing caps, housing", eval[string](b, names))
	assert.Equal(t, eval[string](b, names), eval[string](b, `[...document.querySelectorAll(".spots title")].map(e => e.textContent).join("|")`))
	// Where each part is drawn, in the units of the drawing.
	for part, at := range map[string][2]float64{"depth shim": {291, 165}, "pinion": {330, 150}, "spacer": {180, 170}, "ring gear": {340, 210}, "side shims": {410, 32}, "case, side bearings": {410, 100}, "bearing caps, housing": {353, 50}, "nut, yoke, seal": {22, 150}, "pinion bearings": {100, 190}} {
		b.open(address + path)
		spot := eval[[]float64](b, fmt.Sprintf(`(function () {
			var e = document.querySelector(".cutaway");
			e.scrollIntoView({block: "center", behavior: "instant"});
			var p = new DOMPoint(%g, %g).matrixTransform(e.getScreenCTM());
			return [p.x, p.y];
		})()`, at[0], at[1]))
		b.do(chromedp.MouseClickXY(spot[0], spot[1]))
		b.wait(fmt.Sprintf(`location.search !== "" && document.readyState === "complete" && !!document.querySelector("nav.parts a[aria-current]") && document.querySelector("nav.parts a[aria-current]").textContent === %q`, part))
		assert.Equal(t, "At this part: "+part, eval[string](b, `document.querySelector("details.group[open] summary").firstChild.textContent.trim()`))
		assert.Less(t, eval[float64](b, `Math.abs(document.getElementById("choose").getBoundingClientRect().top)`), 200.0, "it is in sight")
		if part == "spacer" {
			b.accessible("a part")
			b.fits("a part", 360)
		}
	}
	b.show(size{1280, 800, true})
	eval[int](b, `([...document.querySelectorAll("nav.parts a")].find(e => e.textContent === "pinion bearings").focus(), 1)`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.wait(`document.readyState === "complete" && !!document.getElementById("part.act.inspect_cups")`)
	b.do(chromedp.KeyEvent(kb.Tab)) // the keyboard goes on at the choices
	assert.Equal(t, "What can be done", eval[string](b, `document.activeElement.closest("section").querySelector("h2").textContent`))
	keys{b}.press("part.act.inspect_cups")
	b.settle("false", 1)
	assert.Equal(t, "part.act.inspect_cups", eval[string](b, "document.activeElement.id"))
	assert.Equal(t, 1, eval[int](b, `document.querySelectorAll("details.group[open]").length`), "the part stays open, and it alone")
}

// A needle swings into its place, but not for whoever asks for less motion.
func TestNothingMovesForWhoeverAsks(t *testing.T) {
	b := newTab(t)
	address, _ := serve(t)
	p := newPerson(t, address)
	w := work(t, "BEECH", scenarios.PatternJob, 7)
	path := p.begin("BEECH", "pattern", 7, "full")
	p.play(path, w.lines, after("measure backlash"))
	b.be(p)
	b.show(size{360, 740, false}) // which asks for less
	b.open(address + path)
	const moving = `document.getAnimations().length`
	assert.Zero(t, eval[int](b, moving))
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "no-preference"}}})
	require.NoError(t, err)
	assert.Equal(t, 1, eval[int](b, moving))
}
