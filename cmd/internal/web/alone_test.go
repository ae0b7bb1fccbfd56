package web_test

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/web"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/drill"
	"shimwright/scenarios/exercise"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Every exercise of practice is listed and begun with its first job; what is begun is gone on
// with, and what is signed off leads to the next job. An attempt is the one that a prompt begins.
func TestExercisesInABrowser(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	page, _, _ := p.get("/exercises")
	offered := 0
	for _, e := range exercise.All() {
		assert.Contains(t, page, html.EscapeString(e.Title))
		assert.Equal(t, e.Mode == attempt.Practice, strings.Contains(page, `id="exercise.`+e.Name+`"`), e.Name)
		_, at, status := p.post("/exercises/"+e.Name, nil)
		if e.Mode != attempt.Practice {
			assert.Equal(t, http.StatusNotFound, status, e.Name)
			continue
		}
		require.Equal(t, http.StatusOK, status, e.Name)
		offered++
		_, again, _ := p.post("/exercises/"+e.Name, nil)
		assert.Equal(t, at.Path, again.Path, "%s: the open job is gone on with", e.Name)
	}
	assert.Greater(t, offered, 15)

	bea := newPerson(t, address)
	e, err := exercise.Find("first-depth")
	require.NoError(t, err)
	path := ""
	for _, n := range e.Numbers(2) {
		page, at, _ := bea.post("/exercises/first-depth", nil)
		path = at.Path
		assert.Contains(t, page, "first-depth")
		order, _ := e.Order(n)
		want := attempt.New(e.Terms(), order, "", n, quantity.Inch)
		file, _, _ := bea.get(path + "/attempt")
		assert.Equal(t, string(want.HeaderLine()), file)
		bea.post(path+"/acts", url.Values{"had": {"0"}, "typed": {"fit depth-shim 0.030in; fit pinion mock-up"}})
		_, at, _ = bea.post(path+"/acts", url.Values{"had": {"2"}, "line": {"sign off"}, "sign": {"yes"}})
		require.Equal(t, path+"/debrief", at.Path)
	}
	page, _, _ = bea.get(path + "/debrief")
	assert.Contains(t, page, `action="/exercises/first-depth"`, "on to the next")
	assert.Contains(t, page, "What the axle really was")
	page, _, _ = bea.get("/exercises")
	assert.Contains(t, page, "2 jobs signed off.")
	bea.post("/units", url.Values{"units": {"metric"}, "back": {"/exercises"}})
	page, at, _ := bea.get("/exercises")
	assert.Contains(t, page, `action="/exercises/first-depth-metric"`)
	assert.NotContains(t, page, "2 jobs", "its pair in metric is another exercise")
	assert.Equal(t, "/exercises", at.Path)
}

var next = regexp.MustCompile(`id="next" href="([^"]+)"`)

// A round of every kind in turn: the right answer is called right, a wrong one is told with
// the misconception that it fits, one that is none is asked again, and the working is shown
// only after an answer. The round ends with how it went.
func TestDrillsInABrowser(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	printer := text.NewPrinter(quantity.Inch, text.Overlay{})
	page, _, _ := p.get("/drills")
	for _, k := range drill.Kinds() {
		assert.Contains(t, page, `value="`+string(k)+`"`)
	}
	_, at, status := p.post("/drills", url.Values{"kind": {"mixed"}})
	require.Equal(t, http.StatusOK, status)
	assert.Regexp(t, `^/drills/mixed/\d+$`, at.Path)

	const round = 7
	plan, err := drill.Order{Seed: round, Count: 10, Families: family.Shelf()}.Plan()
	require.NoError(t, err)
	to := "/drills/mixed/" + strconv.Itoa(round)
	for n, it := range plan {
		d, err := drill.Draw(it)
		require.NoError(t, err)
		page, _, _ := p.get(to)
		assert.Contains(t, page, html.EscapeString(strconv.Itoa(n+1)+" of 10, "+string(d.Kind)))
		assert.Contains(t, page, template(printer.Print(d.Asks)))
		shows := template(printer.Print(d.Shows))
		assert.NotContains(t, page, shows, "not before the answer")
		for _, s := range d.Working {
			assert.NotContains(t, page, template(printer.Print(s.Message())))
		}
		page, _, status := p.post(to, url.Values{"answer": {"<b>perhaps"}})
		assert.Equal(t, http.StatusUnprocessableEntity, status)
		assert.NotContains(t, page, shows)
		assert.NotContains(t, page, "<b>perhaps")
		sent, misconception := url.Values{}, ""
		switch n {
		case 0:
			sent.Set("pass", "pass")
		case 1:
			w := d.Wrongs[0]
			sent.Set("answer", typedAnswer(printer, d, drill.Reply{Value: w.Value, Choice: w.Choice}))
			misconception = printer.Print(w.Misconception.Name())
		default:
			sent.Set("answer", typedAnswer(printer, d, drill.Reply{Value: d.Answer.Figure.Exact(), Choice: d.Answer.Right}))
		}
		marked, _, status := p.post(to, sent)
		require.Equal(t, http.StatusOK, status)
		assert.Equal(t, n > 1, strings.Contains(marked, "<strong>Right.</strong>"), "%s: %v", d.Kind, sent)
		assert.Equal(t, n == 1, strings.Contains(marked, "Not right:"))
		assert.Contains(t, marked, template(misconception))
		assert.Contains(t, marked, shows)
		for _, s := range d.Working {
			assert.Contains(t, marked, template(printer.Print(s.Message())))
		}
		to = next.FindStringSubmatch(marked)[1]
	}
	page, _, status = p.get(to)
	require.Equal(t, http.StatusOK, status)
	assert.Contains(t, page, "<h1>8 of 10 right</h1>")
	for _, none := range []string{"/drills/none/7", "/drills/mixed/x", "/drills/mixed/7/right.maybe", "/drills/mixed/7/wrong.", "/drills/mixed/7/" + strings.Repeat("right.", 10) + "right", "/drills/mixed/7/right~sign-turned"} {
		_, _, status := p.get(none)
		assert.Equal(t, http.StatusNotFound, status, none)
	}
	page, _, _ = p.get("/drills/mixed/7/" + strings.Repeat("wrong~nonesuch.", 9) + "passed")
	assert.Contains(t, page, "<h1>0 of 10 right</h1>")
	assert.NotContains(t, page, "<li>nonesuch", "no answer showed it")
	_, _, status = p.post(to, url.Values{"answer": {"1"}})
	assert.Equal(t, http.StatusNotFound, status, "a round that is over asks nothing")
}

// typedAnswer is a reply as a person sends it.
func typedAnswer(p text.Printer, d drill.Drill, r drill.Reply) string {
	if d.Answer.IsChoice() {
		return drill.Letter(r.Choice)
	}
	return p.Print(d.Answer.Write(r))
}

// Where jobs are set by somebody, nothing else is worked.
func TestExercisesAndDrillsAreForOnePerson(t *testing.T) {
	address, keeper := serve(t, func(c *web.Config) {
		c.Who = func(*http.Request) (string, bool) { return "ann", true }
		c.Begin = false
	})
	_, err := keeper.Begin(t.Context(), "ann", attempt.New(attempt.Terms{Exercise: "first-depth", Help: attempt.FullHelp}, scenarios.Order{Family: family.Beech()}, "", 7, quantity.Inch).Header)
	require.NoError(t, err)
	p := newPerson(t, address)
	page, _, _ := p.get("/")
	assert.NotContains(t, page, "/exercises")
	assert.NotContains(t, page, "/drills")
	for _, at := range []string{"/exercises", "/drills", "/drills/mixed/7"} {
		_, _, status := p.get(at)
		assert.Equal(t, http.StatusNotFound, status, at)
		_, _, status = p.post(at, url.Values{"kind": {"mixed"}})
		assert.Equal(t, http.StatusNotFound, status, at)
	}
}
