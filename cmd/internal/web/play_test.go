package web_test

import (
	"bytes"
	"cmp"
	"io"
	"math"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/bench"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
)

// A worked job: what the reference technician does on it, and what its file holds.
type worked struct {
	code  string
	kind  scenarios.Kind
	seed  uint64
	lines []string
	file  []byte
}

// recorder writes down what is done.
type recorder struct {
	*bench.Bench
	acts []act.Act
	file bytes.Buffer
}

func (r *recorder) Do(a act.Act) (history.Step, error) {
	a = r.offered(a)
	o, err := r.Bench.Do(a)
	if err == nil {
		r.acts = append(r.acts, a)
	}
	return o, err
}

// offered is an act with its shims as the page offers them: sizes of the shelf, in inches.
func (r *recorder) offered(a act.Act) act.Act {
	c, ok := r.View(quantity.Inch).Choice(a.Form)
	if !ok || len(a.Amounts) != len(c.Slots) {
		return a
	}
	a.Amounts = slices.Clone(a.Amounts)
	for i, s := range c.Slots {
		want, isLength := a.Amounts[i].Length()
		sizes, _ := s.Shelf(quantity.Inch)
		if !isLength || len(sizes) == 0 {
			continue
		}
		far := func(e quantity.Entered) float64 { l, _ := e.Length(); return math.Abs((l - want).MM()) }
		a.Amounts[i] = slices.MinFunc(sizes, func(x, y quantity.Entered) int { return cmp.Compare(far(x), far(y)) })
	}
	return a
}

func (r *recorder) Append(line []byte) error {
	r.file.Write(line)
	return nil
}

// designs are families that cover the designs: spacers, shims and adjusters, cages, spreaders.
func designs() []string { return []string{"BEECH", "HAZEL", "CEDAR", "ALDER", "JUNIPER"} }

// work has the technician work a job at the bench of every face, as typed lines do.
func work(t testing.TB, code string, kind scenarios.Kind, seed uint64, policies ...technician.Policy) worked {
	t.Helper()
	f, err := family.Shipped(code)
	require.NoError(t, err)
	rec := attempt.New(attempt.Terms{}, scenarios.Order{Family: f, Kind: kind}, "", seed, quantity.Inch)
	head := rec.HeaderLine()
	b, err := bench.Open(rec)
	require.NoError(t, err)
	r := &recorder{Bench: b}
	r.file.Write(head)
	b.Keep(r)
	require.NoError(t, technician.WorkBy(r, b.Card().Known, technician.Competent(), policies...))
	out := worked{code: code, kind: kind, seed: seed, file: r.file.Bytes()}
	for _, a := range r.acts {
		out.lines = append(out.lines, a.String())
	}
	return out
}

// person is a browser without scripts.
type person struct {
	t       *testing.T
	client  *http.Client
	at      string
	all     *bytes.Buffer // every byte that was sent to it
	headers []http.Header
}

func newPerson(t *testing.T, address string) *person {
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	return &person{t: t, client: &http.Client{Jar: jar}, at: address, all: &bytes.Buffer{}}
}

func (p *person) take(res *http.Response, err error) (page string, at *url.URL, status int) {
	p.t.Helper()
	require.NoError(p.t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(p.t, err)
	p.all.Write(body)
	p.headers = append(p.headers, res.Header)
	return string(body), res.Request.URL, res.StatusCode
}

func (p *person) get(path string) (string, *url.URL, int) {
	p.t.Helper()
	res, err := p.client.Get(p.at + path)
	return p.take(res, err)
}

func (p *person) post(path string, values url.Values) (string, *url.URL, int) {
	p.t.Helper()
	res, err := p.client.PostForm(p.at+path, values)
	return p.take(res, err)
}

// begin begins a job and returns its path.
func (p *person) begin(code, kind string, seed uint64, help string) string {
	p.t.Helper()
	_, at, status := p.post("/jobs", url.Values{"family": {code}, "kind": {kind}, "number": {strconv.FormatUint(seed, 10)}, "units": {"inch"}, "help": {help}})
	require.Equal(p.t, http.StatusOK, status)
	require.True(p.t, strings.HasPrefix(at.Path, "/jobs/"), at.Path)
	return at.Path
}

// play works a job by the forms of its page, until a line.
func (p *person) play(path string, lines []string, until func(line string) bool) {
	p.t.Helper()
	p.playOn(path, lines, 0, until)
}

// playOn goes on with a job of which some lines are done, and returns how many are then.
func (p *person) playOn(path string, lines []string, done int, until func(line string) bool) int {
	p.t.Helper()
	for n := done; n < len(lines); n++ {
		line := lines[n]
		if until(line) {
			return n
		}
		v := formOf(p.t, line)
		v.Set("had", strconv.Itoa(n))
		page, at, status := p.post(path+"/acts", v)
		if strings.Contains(page, `name="answer"`) {
			v = url.Values{"had": {strconv.Itoa(n)}, "line": {line}, "answer": {"skip"}}
			_, at, status = p.post(path+"/acts", v)
		}
		if line == act.SignOff.String() {
			_, at, status = p.post(path+"/acts", url.Values{"had": {strconv.Itoa(n)}, "line": {line}, "sign": {"yes"}})
			require.Equal(p.t, path+"/debrief", at.Path)
		}
		require.Equal(p.t, http.StatusOK, status, "%s: %s", line, at)
	}
	return len(lines)
}

// Acts sent by the forms of the pages give the attempt file of typed lines, to the byte.
func TestFormsGiveTheSameFileAsTypedLines(t *testing.T) {
	for _, code := range designs()[:longtest.Pick(1, 5)] {
		w := work(t, code, scenarios.WholeJob, 7)
		address, _ := serve(t)
		p := newPerson(t, address)
		path := p.begin(code, "whole", 7, "full")
		p.play(path, w.lines, func(string) bool { return false })
		file, _, status := p.get(path + "/attempt")
		require.Equal(t, http.StatusOK, status)
		assert.Equal(t, string(w.file), file, code)
	}
}

// formOf is what the page's form of an act sends: the act's line and what fills its blanks.
func formOf(t testing.TB, line string) url.Values {
	t.Helper()
	a, err := act.Parse(line, quantity.Inch)
	require.NoError(t, err)
	v := url.Values{"form": {a.Form.String()}}
	words, amounts := 0, 0
	for i, s := range a.Form.Slots() {
		name := "s" + strconv.Itoa(i)
		if s.Amount == "" {
			v.Set(name, string(a.Choices[words]))
			words++
			continue
		}
		v.Set(name, a.Amounts[amounts].String())
		amounts++
	}
	return v
}

// A projector shows what was done last, and is told nothing while nothing is done.
func TestTheProjectorFollows(t *testing.T) {
	address, _ := serve(t)
	p := newPerson(t, address)
	path := p.begin("BEECH", "depth", 7, "full")
	lines := []string{"inspect cups", "fit depth-shim 0.030in"}
	p.playOn(path, lines, 0, after("inspect"))
	page, _, _ := p.get(path + "/projector")
	assert.Contains(t, page, "Act 1: inspect cups")
	assert.NotContains(t, page, `action="`+path+`/acts"`, "it is for looking on")
	_, _, status := p.get(path + "/projector?had=1")
	assert.Equal(t, http.StatusNoContent, status)
	p.playOn(path, lines, 1, func(string) bool { return false })
	page, _, status = p.get(path + "/projector?had=1")
	assert.Equal(t, http.StatusOK, status)
	assert.Contains(t, page, "Act 2: fit depth-shim 0.03in")
	assert.Contains(t, page, `<th scope="row">pinion depth</th>`)
}
