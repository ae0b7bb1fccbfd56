package web_test

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/view"
	"shimwright/cmd/internal/web"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/scenariostest"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Every answer has the policy, and every cookie is kept from scripts and from other sites.
func TestEveryAnswerIsStrict(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "depth", 7, "full")
	for _, at := range []string{"/", path, path + "/card", path + "/left", path + "/debrief", path + "/attempt", "/lessons", "/lessons/side-shims", "/lessons/none", "/glossary", "/favicon.ico", "/static/none", "/jobs/none", "/../../etc/passwd"} {
		p.get(at)
	}
	p.post(path+"/acts", url.Values{"had": {"0"}, "typed": {"inspect cups"}})
	p.post(path+"/acts", url.Values{"had": {"7"}, "typed": {"inspect cups"}})
	p.post("/units", url.Values{"units": {"metric"}, "back": {"/"}})
	cookies := 0
	for _, h := range p.headers {
		policy := h.Get("Content-Security-Policy")
		assert.Contains(t, policy, "default-src 'none'")
		assert.NotContains(t, policy, "unsafe")
		assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"))
		for _, c := range h.Values("Set-Cookie") {
			cookies++
			assert.Contains(t, c, "HttpOnly")
			assert.Contains(t, c, "SameSite=Lax")
		}
	}
	all := p.all.String()
	assert.NotContains(t, all, " style=", "the policy refuses it")
	assert.NotContains(t, all, "<style")
	assert.NotContains(t, all, " onclick=")
	for _, part := range strings.Split(all, "http")[1:] {
		assert.Regexp(t, `^(://127\.0\.0\.1|://www\.w3\.org/(2000/svg|1999/xhtml)|-equiv)`, part[:min(len(part), 40)], "nothing from elsewhere is asked for")
	}
}

// What a page asks for with GET changes nothing.
func TestAskingChangesNothing(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "depth", 7, "coach")
	p.post(path+"/acts", url.Values{"had": {"0"}, "typed": {"inspect cups"}})
	before, _, _ := p.get(path + "/attempt")
	for _, at := range []string{"/", path, path + "?from=0&group=3", path + "?from=-1&group=99", path + "/card", path + "/left", path + "/debrief", path + "/acts?had=1&typed=inspect+cups", "/jobs?family=BEECH", "/units?units=metric"} {
		p.get(at)
	}
	after, _, _ := p.get(path + "/attempt")
	assert.Equal(t, before, after)
	page, _, _ := p.get("/")
	assert.Equal(t, 1, strings.Count(page, "acts so far"))
	assert.Contains(t, page, "Show metric")
}

// Whoever is not signed in as the owner of a job sees and changes nothing of it, however they
// ask; a forged cookie is nobody's.
func TestNobodySeesWhatIsAnothers(t *testing.T) {
	address, _ := serve(t)
	ann, bea := newPerson(t, address), newPerson(t, address)
	path := ann.begin("BEECH", "depth", 7, "full")
	bea.get("/")
	for _, at := range []string{"", "/card", "/left", "/debrief", "/attempt"} {
		_, _, status := bea.get(path + at)
		assert.Equal(t, http.StatusNotFound, status, at)
		none, _, _ := bea.get("/jobs/NONE" + at)
		theirs, _, _ := bea.get(path + at)
		assert.Equal(t, strings.ReplaceAll(none, "NONE", ""), strings.ReplaceAll(theirs, strings.TrimPrefix(path, "/jobs/"), ""), "there or not, it is told alike")
	}
	_, _, status := bea.post(path+"/acts", url.Values{"had": {"0"}, "typed": {"inspect cups"}})
	assert.Equal(t, http.StatusNotFound, status)
	u, err := url.Parse(address)
	require.NoError(t, err)
	real := ""
	for _, c := range ann.client.Jar.Cookies(u) {
		if c.Name == "shimwright" {
			real = c.Value
		}
	}
	require.NotEmpty(t, real)
	owner, _, _ := strings.Cut(real, ".")
	for _, forged := range []string{owner, owner + ".", owner + ".AAAA", real + "x", real[:len(real)-2], "x" + real, "." + real} {
		r, err := http.NewRequest(http.MethodGet, address+path, nil)
		require.NoError(t, err)
		r.AddCookie(&http.Cookie{Name: "shimwright", Value: forged})
		res, err := http.DefaultClient.Do(r)
		require.NoError(t, err)
		res.Body.Close()
		assert.Equal(t, http.StatusNotFound, res.StatusCode, forged)
	}
	file, _, _ := ann.get(path + "/attempt")
	assert.Equal(t, 1, strings.Count(file, "\n"), "nothing was done")
}

// Another site cannot have a visitor's browser act for it.
func TestOtherSitesCannotAct(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "depth", 7, "full")
	for name, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "https://elsewhere.example"} {
		r, err := http.NewRequest(http.MethodPost, address+path+"/acts", strings.NewReader("had=0&typed=inspect+cups"))
		require.NoError(t, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set(name, value)
		_, _, status := p.take(p.client.Do(r))
		assert.Equal(t, http.StatusForbidden, status, name)
	}
	for back, want := range map[string]string{"//elsewhere.example/": "/", "https://elsewhere.example/": "/", `/\elsewhere.example`: "/", path: path, "javascript:x": "/", "": "/"} {
		_, at, _ := p.post("/units", url.Values{"units": {"metric"}, "back": {back}})
		assert.Equal(t, want, at.Path, back)
		assert.Equal(t, strings.TrimPrefix(address, "http://"), at.Host)
	}
}

func TestWhatIsTooMuchIsRefused(t *testing.T) {
	address, _ := serve(t, func(c *web.Config) { c.Rate = 4 })
	p := newPerson(t, address)
	path := p.begin("BEECH", "depth", 7, "full")
	_, _, status := p.post(path+"/acts", url.Values{"had": {"0"}, "typed": {strings.Repeat("x", 20_000)}})
	assert.Equal(t, http.StatusRequestEntityTooLarge, status)
	seen := map[int]int{}
	for range 40 {
		_, _, status := p.get(path)
		seen[status]++
	}
	assert.Positive(t, seen[http.StatusOK])
	assert.Greater(t, seen[http.StatusTooManyRequests], 20)
	other := newPerson(t, address)
	_, _, status = other.get("/")
	assert.Equal(t, http.StatusOK, status, "others are not held up by it")
}

// Two tabs on one job: what the second sends after the first has acted is not done, nor is
// anything that is sent twice.
func TestNothingIsDoneTwice(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "depth", 7, "full")
	sent := url.Values{"had": {"0"}, "typed": {"inspect cups"}}
	p.post(path+"/acts", sent)
	page, _, status := p.post(path+"/acts", sent)
	assert.Equal(t, http.StatusConflict, status)
	assert.Contains(t, page, "nothing was done twice")
	for _, had := range []string{"", "-1", "2", "x"} {
		_, _, status := p.post(path+"/acts", url.Values{"had": {had}, "typed": {"inspect cups"}})
		assert.Equal(t, http.StatusConflict, status, had)
	}
	file, _, _ := p.get(path + "/attempt")
	assert.Equal(t, 2, strings.Count(file, "\n"))
}

// Of many who send an act at the same moment one does it, and the others are told so.
func TestOneOfManyActs(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "depth", 7, "full")
	const many = 12
	seen := make([]int, many)
	var all sync.WaitGroup
	for i := range many {
		all.Go(func() {
			res, err := p.client.PostForm(p.at+path+"/acts", url.Values{"had": {"0"}, "typed": {"inspect cups"}})
			if err == nil {
				seen[i] = res.StatusCode
				res.Body.Close()
			}
		})
	}
	all.Wait()
	count := map[int]int{}
	for _, status := range seen {
		count[status]++
	}
	assert.Equal(t, map[int]int{http.StatusOK: 1, http.StatusConflict: many - 1}, count)
	file, _, _ := p.get(path + "/attempt")
	assert.Equal(t, 2, strings.Count(file, "\n"))
}

// secrets are sentences that tell what an axle really was, and what the work was worth.
func secrets(t *testing.T, file []byte) []string {
	t.Helper()
	rec, err := attempt.Read(bytes.NewReader(file))
	require.NoError(t, err)
	b, err := bench.Open(rec)
	require.NoError(t, err)
	d, err := b.Debrief(cost.Default(), quantity.Inch, true)
	require.NoError(t, err)
	told := view.NewDebrief(d, view.DebriefWith{Printer: text.NewPrinter(quantity.Inch, text.Overlay{})})
	require.NotNil(t, told.Truth)
	out := append([]string{told.Truth.Shim, told.Title}, told.Truth.Faults...)
	out = append(out, told.Truth.Luck...)
	for _, l := range told.Truth.Lines {
		if l.Why != "" {
			out = append(out, l.Text+" "+l.Why)
		}
	}
	require.NotEmpty(t, told.Truth.Faults)
	return out
}

// Before the signature no byte that is sent tells what the axle really is; after it that of an
// examination tells nothing, not even the number of the job.
func TestNothingHiddenIsSent(t *testing.T) {
	const seed = 2_718_281_828
	w := work(t, "BEECH", scenarios.WholeJob, seed)
	all := secrets(t, w.file)
	everything := func(p *person, path string) {
		for _, at := range []string{"", "/card", "/left", "/attempt", "/debrief"} {
			p.get(path + at)
		}
		p.get("/")
	}
	for _, help := range []string{"full", "coach"}[:longtest.Pick(1, 2)] {
		address, _ := serve(t)
		p := newPerson(t, address)
		path := p.begin("BEECH", "whole", seed, help)
		n := 0
		p.play(path, w.lines, func(line string) bool {
			if n++; n%15 == 0 {
				everything(p, path)
			}
			return line == "sign off"
		})
		everything(p, path)
		for _, s := range all {
			assert.NotContains(t, p.all.String(), template(s), help)
		}
		before := p.all.String()
		p.post(path+"/acts", url.Values{"had": {strconv.Itoa(len(w.lines) - 1)}, "line": {"sign off"}, "sign": {"yes"}})
		shown, figures := shownOnPurpose(t, w, seed)
		const digits = 3
		assert.Empty(t, scenariostest.Told(figures, scenariostest.Numbers(before), shown, digits), "a figure of what the axle is")
		told, _, _ := p.get(path + "/debrief")
		assert.NotEmpty(t, scenariostest.Told(figures, scenariostest.Numbers(told), shown, digits), "a debrief tells some of them")
		for _, s := range all {
			assert.Contains(t, told, template(s), "what is kept back is told once the job is signed off")
		}
	}

	address, keeper := serve(t, func(c *web.Config) {
		c.Who = func(*http.Request) (string, bool) { return "ann", true }
		c.Begin = false
	})
	h := attempt.New(attempt.Terms{Exercise: "final", Mode: attempt.Exam, Help: attempt.NoHelp}, scenarios.Order{Family: family.Beech()}, "", seed, quantity.Inch).Header
	id, err := keeper.Begin(t.Context(), "ann", h)
	require.NoError(t, err)
	p := newPerson(t, address)
	path := "/jobs/" + id
	p.play(path, w.lines, func(string) bool { return false })
	everything(p, path)
	page, _, status := p.get(path + "/debrief")
	assert.Equal(t, http.StatusOK, status)
	assert.Contains(t, page, "nothing is told until it is graded")
	for _, at := range []string{"/attempt", "/left"} {
		_, _, status := p.get(path + at)
		assert.Equal(t, http.StatusNotFound, status, at)
	}
	for _, s := range append(all, strconv.Itoa(seed), "out of 100") {
		assert.NotContains(t, p.all.String(), template(s))
	}
	shown, figures := shownOnPurpose(t, w, seed)
	const digits = 3
	assert.Empty(t, scenariostest.Told(figures, scenariostest.Numbers(p.all.String()), shown, digits), "nor any figure of what the axle is")
	for _, h := range p.headers {
		for _, values := range h {
			assert.NotContains(t, strings.Join(values, " "), strconv.Itoa(seed))
		}
	}
	_, _, status = p.post("/jobs", url.Values{"family": {"BEECH"}, "kind": {"whole"}})
	assert.Equal(t, http.StatusNotFound, status, "no job of one's own beside an examination")
}

// shownOnPurpose are the numbers that whoever works a job is shown: those that another axle of
// its family has on its pages, and the readings. figures is what its axle hides, at the
// beginning and as it is left.
func shownOnPurpose(t *testing.T, w worked, seed uint64) (shown map[string]bool, figures []scenariostest.Figure) {
	t.Helper()
	const other = 31
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin(w.code, w.kind.String(), other, "full")
	p.play(path, work(t, w.code, w.kind, other).lines, func(line string) bool { return line == "sign off" })
	for _, at := range []string{"", "/card", "/left"} {
		p.get(path + at)
	}
	rec, err := attempt.Read(bytes.NewReader(w.file))
	require.NoError(t, err)
	job, stand, steps, err := attempt.Replay(rec)
	require.NoError(t, err)
	pages := p.all.String() + strings.Join(w.lines, "\n")
	for _, units := range []quantity.System{quantity.Inch, quantity.Metric} {
		pen := view.NewPen(text.NewPrinter(units, text.Overlay{}), 1000)
		pages += view.Card(job.Card, pen)
		for _, s := range steps {
			for _, r := range s.Readings {
				pages += view.Reading(r, pen)
			}
		}
	}
	require.Equal(t, seed, rec.Header.Seed)
	figures = append(scenariostest.Hidden(job.Sealed()), scenariostest.Hidden(stand.Sealed())...)
	require.Greater(t, len(figures), 100)
	return scenariostest.Numbers(pages), figures
}

// template is a text as a page holds it.
func template(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", "+", "&#43;", "'", "&#39;", `"`, "&#34;").Replace(s)
}

// Whatever a page is sent, it answers with a page.
func FuzzForms(f *testing.F) {
	keeper := web.NewMemory()
	h := web.New(web.Config{Keeper: keeper, Who: func(*http.Request) (string, bool) { return "ann", true }, Begin: true, Rate: 1e9})
	head := attempt.New(attempt.Terms{}, scenarios.Order{Family: family.Beech(), Kind: scenarios.PatternJob}, "", 7, quantity.Inch).Header
	for _, body := range []string{
		"had=0&typed=inspect cups", "had=0&form=measure backlash {places}&s0=4", "had=0&form=fit side-shims ring-gear {length} opposite {length}&s0=0.07in",
		"had=0&line=sign off&sign=yes", "had=0&batch=left", "had=0&round=teeth", "had=0&round=sides&s0=1e300in&s1=-1", "had=0&coach=back", "had=0&line=measure runout&answer=say&expect=NaN",
		"family=BEECH&kind=whole&number=7&units=inch&help=coach", "family=../../x&kind=\x00", "had=%zz&typed=%00%ff", "typed=" + strings.Repeat(";", 300), "had=0&typed=record backlash 0.006in; expect 5; sign off",
		"had=0&form=record&s0=<script>", "units=metric&back=//x",
	} {
		f.Add("acts", body)
		f.Add("jobs", body)
		f.Add("units", body)
	}
	f.Fuzz(func(t *testing.T, where, body string) {
		id, err := keeper.Begin(t.Context(), "ann", head)
		require.NoError(t, err)
		path := map[string]string{"jobs": "/jobs", "units": "/units"}[where]
		if path == "" {
			path = "/jobs/" + id + "/acts"
		}
		r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		switch w.Code {
		case http.StatusOK, http.StatusSeeOther, http.StatusConflict, http.StatusUnprocessableEntity, http.StatusRequestEntityTooLarge:
		default:
			t.Fatalf("%s answers %d to %q: %s", path, w.Code, body, w.Body)
		}
		page, _ := io.ReadAll(w.Body)
		if bytes.Contains(page, []byte("<script>")) {
			t.Fatalf("what was sent stands in the page as it is: %q", body)
		}
		if rec, err := keeper.Record(t.Context(), "ann", id); err != nil || rec == nil {
			t.Fatalf("the attempt does not read any more: %v", err)
		}
	})
}

// What cannot be done is told with its reason, and with the lesson on it where there is one
// and the terms give it.
func TestARefusalTellsWhy(t *testing.T) {
	address, keeper := serve(t, func(c *web.Config) { c.Who = func(*http.Request) (string, bool) { return "ann", true } })
	p := newPerson(t, address)
	for help, lesson := range map[attempt.Help]bool{attempt.FullHelp: true, attempt.NoHelp: false} {
		id, err := keeper.Begin(t.Context(), "ann", attempt.New(attempt.Terms{Help: help}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch).Header)
		require.NoError(t, err)
		page, _, status := p.post("/jobs/"+id+"/acts", url.Values{"had": {"0"}, "line": {"fit case"}})
		assert.Equal(t, http.StatusUnprocessableEntity, status)
		assert.Contains(t, page, "Not done: fit case.")
		_, noted, _ := strings.Cut(page, "Not done: fit case.")
		noted, _, _ = strings.Cut(noted, "</section>")
		assert.Equal(t, lesson, strings.Contains(noted, "/lessons/"), "%s: %s", help, noted)
		page, _, status = p.post("/jobs/"+id+"/acts", url.Values{"had": {"0"}, "typed": {"fit nonsense"}})
		assert.Equal(t, http.StatusUnprocessableEntity, status)
		assert.Contains(t, page, `value="fit nonsense"`, "what was typed stays in its field")
	}
}

// An attempt file is taken from one bench to another and stays what it is, to the byte; what
// is none, or of an examination, is refused with the reason.
func TestAnAttemptIsBrought(t *testing.T) {
	address, _ := serve(t)
	ann := newPerson(t, address)
	path := ann.begin("BEECH", "depth", 7, "coach")
	ann.post(path+"/acts", url.Values{"had": {"0"}, "typed": {"inspect cups; inspect shim-seat"}})
	file, _, _ := ann.get(path + "/attempt")

	elsewhere, _ := serve(t)
	bea := newPerson(t, elsewhere)
	_, at, status := bea.post("/import", url.Values{"file": {file}})
	require.Equal(t, http.StatusOK, status)
	again, _, _ := bea.get(at.Path + "/attempt")
	assert.Equal(t, file, again)
	page, _, _ := bea.get(at.Path)
	assert.Contains(t, page, "Act 2: inspect shim-seat")

	exam := attempt.New(attempt.Terms{Mode: attempt.Exam, Help: attempt.NoHelp}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch)
	for text, why := range map[string]string{
		"": "no whole attempt file", "<b>x": "no whole attempt file", file[:len(file)-9]: "no whole attempt file",
		strings.Replace(file, "cups", "caps", 1): "no whole attempt file", string(exam.HeaderLine()): "not worked here",
	} {
		page, _, status := bea.post("/import", url.Values{"file": {text}})
		assert.Equal(t, http.StatusUnprocessableEntity, status)
		assert.Contains(t, page, why)
		assert.NotContains(t, page, "<b>x")
	}
	_, _, status = bea.post("/import", url.Values{"file": {strings.Repeat("x", 600<<10)}})
	assert.Equal(t, http.StatusRequestEntityTooLarge, status)
	page, _, _ = bea.get("/")
	assert.Equal(t, 1, strings.Count(page, "acts so far"), "what is refused leaves nothing")
}
