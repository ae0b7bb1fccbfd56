package classweb_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"html"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/classweb"
	"shimwright/cmd/internal/recordstest"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
)

const passphrase = "a passphrase for tests"

// A school is a class that is served, and all that it has sent.
type school struct {
	t    *testing.T
	room *classroom.Room
	url  string
	code string

	mu   sync.Mutex
	now  time.Time
	sent map[string]*bytes.Buffer // by who asked
}

func opened(t *testing.T) *school {
	s := &school{t: t, now: time.Date(2026, 9, 7, 8, 0, 0, 0, time.UTC), sent: map[string]*bytes.Buffer{}}
	s.room = classroom.New(recordstest.Open(t, t.TempDir()+"/class.db"), s.clock)
	f, err := s.room.Found(context.Background(), "First year", passphrase)
	require.NoError(t, err)
	s.code = f.Class.Code
	ended := make(chan struct{})
	server := httptest.NewServer(classweb.New(s.room, classweb.Options{Ended: ended, Zone: time.UTC, Rate: 1000}))
	t.Cleanup(server.Close)
	t.Cleanup(func() { close(ended) })
	s.url = server.URL
	return s
}

func (s *school) clock() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now
}

func (s *school) later(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.now = s.now.Add(d)
}

// A person is a browser.
type person struct {
	*school
	name string
	http *http.Client
	made []made
}

// made is a request that a person made.
type made struct {
	method, path, kind, body string
}

func (s *school) person(name string) *person {
	jar, err := cookiejar.New(nil)
	require.NoError(s.t, err)
	return &person{s, name, &http.Client{Jar: jar, Timeout: time.Minute}, nil}
}

type answer struct {
	status int
	body   string
	path   string
	head   http.Header
}

func (p *person) do(m made) answer {
	req, err := http.NewRequest(m.method, p.url+m.path, strings.NewReader(m.body))
	require.NoError(p.t, err)
	if m.kind != "" {
		req.Header.Set("Content-Type", m.kind)
	}
	p.made = append(p.made, m)
	resp, err := p.http.Do(req)
	require.NoError(p.t, err)
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	require.NoError(p.t, err)
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.sent[p.name] == nil {
		p.sent[p.name] = &bytes.Buffer{}
	}
	fmt.Fprintf(p.sent[p.name], "%s %v\n%s\n", resp.Request.URL, resp.Header, body)
	return answer{resp.StatusCode, string(body), resp.Request.URL.Path, resp.Header}
}

func (p *person) get(path string) answer { return p.do(made{method: http.MethodGet, path: path}) }

func (p *person) post(path string, fields ...string) answer {
	v := url.Values{}
	for i := 0; i < len(fields); i += 2 {
		v.Add(fields[i], fields[i+1])
	}
	return p.do(made{http.MethodPost, path, "application/x-www-form-urlencoded", v.Encode()})
}

// send is post with a file.
func (p *person) send(path, field, file, text string, fields ...string) answer {
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	w, err := m.CreateFormFile(field, file)
	require.NoError(p.t, err)
	_, _ = io.WriteString(w, text)
	for i := 0; i < len(fields); i += 2 {
		require.NoError(p.t, m.WriteField(fields[i], fields[i+1]))
	}
	require.NoError(p.t, m.Close())
	return p.do(made{http.MethodPost, path, m.FormDataContentType(), b.String()})
}

func (s *school) instructor() *person {
	p := s.person("instructor")
	a := p.post("/instructor", "passphrase", passphrase)
	require.Equal(s.t, "/class", a.path)
	return p
}

func (s *school) joined(name string) *person {
	p := s.person(name)
	a := p.post("/join", "code", s.code, "name", name, "pin", "4711")
	require.Equal(s.t, "/work", a.path, name)
	return p
}

// begin begins a job and returns the address of its bench.
func (p *person) begin(set string, job int) string {
	a := p.post(fmt.Sprintf("/work/%s/%d", set, job))
	require.Equal(p.t, http.StatusOK, a.status)
	require.Contains(p.t, a.path, "/bench/jobs/")
	return a.path
}

var hadPattern = regexp.MustCompile(`name="had" value="(\d+)"`)

// work types acts at the bench, one request each.
func (p *person) work(bench string, acts ...act.Act) {
	for n, a := range acts {
		got := p.post(bench+"/acts", "had", fmt.Sprint(n), "typed", a.String(), "sign", "yes")
		if m := hadPattern.FindStringSubmatch(got.body); m != nil && m[1] == fmt.Sprint(n) { // it asks what is expected
			got = p.post(bench+"/acts", "had", fmt.Sprint(n), "line", a.String(), "answer", "skip", "sign", "yes")
		}
		require.Less(p.t, got.status, 400, "%s: %s", a, got.body)
	}
}

// careful is what a careful technician does at the job of an attempt.
func (s *school) careful(bench string) (scenarios.Job, []act.Act) {
	ctx := context.Background()
	x, err := s.room.Store.Attempt(ctx, bench[strings.LastIndex(bench, "/")+1:])
	require.NoError(s.t, err)
	rec, err := attempt.Read(strings.NewReader(x.Head))
	require.NoError(s.t, err)
	j, stand, _, err := attempt.Replay(rec)
	require.NoError(s.t, err)
	all := &sim.Recorder{Stand: stand}
	require.NoError(s.t, technician.Work(all, j.Card.Known, technician.Competent()))
	var out []act.Act
	for _, step := range all.Steps {
		out = append(out, step.Act)
	}
	return j, out
}

var setPath = regexp.MustCompile(`/class/sets/([a-z0-9]+)$`)

func (p *person) set(fields ...string) string {
	a := p.post("/class/sets", fields...)
	m := setPath.FindStringSubmatch(a.path)
	require.NotNil(p.t, m, "%d %s", a.status, a.body)
	return m[1]
}

func (s *school) acts(bench string) int {
	x, err := s.room.Store.Attempt(context.Background(), bench[strings.LastIndex(bench, "/")+1:])
	require.NoError(s.t, err)
	return x.Acts
}

const hostile = `=HYPERLINK("x") <img src=x onerror=alert(1)>'; DROP TABLE pupils;--`

// A week by requests alone: roster, exercise, six pupils with planted trouble, results,
// hand-back.
func TestAWeekOfRequests(t *testing.T) {
	s := opened(t)
	teacher := s.instructor()
	a := teacher.send("/class/roster", "file", "first year.csv", "First name,Last name\nAnn,O'Neil\nBo,Karlsen\nCy,Dole\nDee,Ray\n", "names", "Eli Stone\n"+hostile)
	require.Equal(t, "/class", a.path)
	assert.Contains(t, a.body, "6 added, 0 there already")
	assert.NotContains(t, a.body, "<img")
	depth := teacher.set("exercise", "first-depth", "mode", "practice", "jobs", "1", "tries", "1")
	sides := teacher.set("exercise", "first-preload", "mode", "practice")

	ann, bo, cy, dee, evil := s.joined("Ann O'Neil"), s.joined("Bo Karlsen"), s.joined("Cy Dole"), s.joined("Dee Ray"), s.joined(hostile)
	assert.Contains(t, ann.get("/work").body, "Job 1: begin")
	annAt := ann.begin(depth, 1)
	_, acts := s.careful(annAt)
	ann.work(annAt, acts...)
	bo.work(bo.begin(depth, 1), acts...)
	cy.work(cy.begin(depth, 1), acts[:3]...)
	dee.work(dee.begin(sides, 1), act.Act{Form: act.InspectBearings})
	evil.work(evil.begin(depth, 1), acts...)

	s.later(6 * time.Minute)
	board := teacher.get("/class/board").body
	assert.Regexp(t, `(?s)Cy Dole</th><td class="state">stuck: no act for a while, at inspect<`, board)
	assert.Regexp(t, `(?s)Ann O&#39;Neil</th><td class="state">signed off<`, board)
	assert.Regexp(t, `(?s)Eli Stone</th><td class="state">not begun<`, board)
	assert.Contains(t, board, "0 at work, 2 stuck, 3 signed off, 1 not begun.")
	assert.NotContains(t, board, "<img")
	for range 3 {
		cy.post(strings.Replace(annAt, annAt, cy.begin(depth, 1), 1)+"/acts", "had", "3", "typed", "sign off now", "sign", "yes")
		cy.post(cy.begin(depth, 1)+"/acts", "had", "3", "typed", "remove case", "sign", "yes")
	}
	assert.Contains(t, teacher.get("/class/board/rows").body, "stuck: 3 acts refused in a row")

	page := teacher.get("/class/sets/" + depth)
	assert.Contains(t, page.body, "<li>Eli Stone</li>")
	assert.Contains(t, page.body, "<li>Dee Ray (worked at: ")
	assert.Contains(t, page.body, "Ann O&#39;Neil, job 1, and Bo Karlsen, job 1: ")
	assert.Regexp(t, `Cy Dole</th><td class="n">open`, page.body)
	assert.NotContains(t, page.body, "<img")
	change := regexp.MustCompile(`(?s)Ann O&#39;Neil</th>.*?action="(/class/attempts/[a-z0-9]+)"`).FindStringSubmatch(page.body)
	require.NotNil(t, change)
	page = teacher.post(change[1], "score", "55", "reason", "came late")
	assert.Regexp(t, `Ann O&#39;Neil</th><td class="n">55<br><small>given: came late \(graded \d+\)</small>`, page.body)
	assert.Equal(t, http.StatusUnprocessableEntity, teacher.post(change[1], "score", "555", "reason", "x").status)
	table := teacher.get("/class/sets/" + depth + "/results.csv").body
	assert.Contains(t, table, "\"'=HYPERLINK(")
	assert.Contains(t, table, "Eli Stone,first-depth,1,missing,,")

	assert.Equal(t, http.StatusNotFound, ann.get("/work/debriefs/"+annAt[len("/bench/jobs/"):]).status, "not handed back yet")
	teacher.post("/class/sets/"+depth, "do", "return")
	all := teacher.get("/class/sets/" + depth + "/debriefs")
	assert.Equal(t, 3, strings.Count(all.body, `<section class="sheet debrief">`))
	assert.Contains(t, all.body, "<h2>Ann O&#39;Neil: ")
	assert.Contains(t, all.body, "The instructor gave 55: came late")
	ids := regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(all.body, -1)
	seen := map[string]bool{}
	for _, id := range ids {
		assert.False(t, seen[id[1]], id[1])
		seen[id[1]] = true
	}
	assert.Contains(t, ann.get("/work/debriefs/"+annAt[len("/bench/jobs/"):]).body, "The instructor gave 55: came late")
	assert.Contains(t, ann.get("/work").body, "/work/debriefs/")
	packed := teacher.get("/class/sets/" + depth + "/attempts.zip").body
	z, err := zip.NewReader(strings.NewReader(packed), int64(len(packed)))
	require.NoError(t, err)
	assert.Len(t, z.File, 4)
	packed = teacher.get("/class/sets/" + depth + "/debriefs.zip").body
	z, err = zip.NewReader(strings.NewReader(packed), int64(len(packed)))
	require.NoError(t, err)
	assert.Len(t, z.File, 3)
	assert.True(t, strings.HasPrefix(teacher.get("/class/backup").body, "SQLite format 3"))

	// Who is deleted is gone, and one who forgets the PIN chooses another.
	var ann2 string
	for _, m := range regexp.MustCompile(`(?s)<th scope="row">([^<]+)</th>.*?action="(/class/pupils/[a-z0-9]+)"`).FindAllStringSubmatch(teacher.get("/class").body, -1) {
		switch html.UnescapeString(m[1]) {
		case "Ann O'Neil":
			ann2 = m[2]
		case hostile:
			assert.Equal(t, http.StatusUnprocessableEntity, teacher.post(m[2], "do", "delete", "name", "x").status)
			assert.NotContains(t, teacher.post(m[2], "do", "delete", "name", hostile).body, "HYPERLINK")
		}
	}
	assert.Equal(t, "/", evil.get("/work").path)
	teacher.post(ann2, "do", "pin")
	assert.Equal(t, "/", ann.get("/work").path)
	again := s.person("Ann O'Neil")
	assert.Equal(t, "/work", again.post("/join", "code", s.code, "name", "ann o'neil", "pin", "another").path)
}

// truths are texts that would tell what the job of an attempt is: its number and every figure
// of what it hides, as far as they stand in its attempt file or its key.
func (s *school) truths(bench string) []string {
	x, err := s.room.Store.Attempt(context.Background(), bench[strings.LastIndex(bench, "/")+1:])
	require.NoError(s.t, err)
	rec, err := attempt.Read(strings.NewReader(x.Head))
	require.NoError(s.t, err)
	return []string{fmt.Sprint(rec.Header.Seed), rec.Header.Digest, `"seed"`, "shimwright attempt", "What the axle really was", "Debrief: "}
}

// figures are the numbers that the axle of an attempt hides.
func (s *school) figures(bench string) []scenariostest.Figure {
	x, err := s.room.Store.Attempt(context.Background(), bench[strings.LastIndex(bench, "/")+1:])
	require.NoError(s.t, err)
	rec, err := attempt.Read(strings.NewReader(x.Head))
	require.NoError(s.t, err)
	job, stand, _, err := attempt.Replay(rec)
	require.NoError(s.t, err)
	return append(scenariostest.Hidden(job.Sealed()), scenariostest.Hidden(stand.Sealed())...)
}

// Before the end of an examination nothing that is sent to anybody but the instructor holds
// its numbers or what they hide, whatever is asked for; and the requests of one pupil, made
// anew by another, by nobody, out of order, altered or doubled, neither show nor change
// anything of others.
func TestHostilePupils(t *testing.T) {
	s := opened(t)
	teacher := s.instructor()
	teacher.post("/class/roster", "names", "Ann\nBo\nCy")
	exam := teacher.set("exercise", "final-examination", "mode", "exam", "jobs", "1", "tries", "1", "closes", "2026-09-07T09:00")
	check := teacher.set("exercise", "first-depth", "mode", "check", "jobs", "1", "alike", "yes")
	ann, bo, cy := s.joined("Ann"), s.joined("Bo"), s.joined("Cy")
	nobody := s.person("nobody")

	annAt, boAt := ann.begin(exam, 1), bo.begin(exam, 1)
	_, acts := s.careful(annAt)
	ann.work(annAt, acts...)
	_, boActs := s.careful(boAt)
	bo.work(boAt, boActs[:4]...)
	checkAt := ann.begin(check, 1)
	_, acts = s.careful(checkAt)
	ann.work(checkAt, acts[:2]...)
	for _, page := range []string{"", "/card", "/left", "/debrief", "/attempt", "?from=0", "/acts"} {
		ann.get(annAt + page)
		ann.get(checkAt + page)
		bo.get(boAt + page)
	}
	for _, p := range []*person{ann, bo} {
		p.get("/bench/")
		p.get("/work")
		p.get("/bench/lessons")
		p.post("/bench/units", "units", "metric", "back", annAt)
		p.get(annAt)
		p.post("/bench/jobs", "family", "BEECH", "kind", "whole", "number", "1")
	}
	annID := annAt[len("/bench/jobs/"):]
	ann.get("/work/debriefs/" + annID)

	before := map[string]int{annAt: s.acts(annAt), boAt: s.acts(boAt), checkAt: s.acts(checkAt)}
	var annMade, teacherMade []made
	for _, m := range ann.made {
		if m.path != "/join" {
			annMade = append(annMade, m)
		}
	}
	for _, m := range teacher.made {
		if m.path != "/instructor" {
			teacherMade = append(teacherMade, m)
		}
	}
	set := "/class/sets/" + exam
	for _, path := range []string{"/class", "/class/board", "/class/board/rows", "/class/board/live", "/class/backup", set, set + "/results.csv", set + "/attempts.zip", set + "/debriefs", set + "/debriefs.zip"} {
		teacherMade = append(teacherMade, made{method: http.MethodGet, path: path})
	}
	for _, do := range []string{"end", "return", "withdraw", "reopen"} {
		teacherMade = append(teacherMade, made{http.MethodPost, set, "application/x-www-form-urlencoded", "do=" + do})
	}
	teacherMade = append(teacherMade, made{http.MethodPost, "/class/attempts/" + annID, "application/x-www-form-urlencoded", "score=100&reason=x"},
		made{http.MethodPost, set + "/time", "application/x-www-form-urlencoded", "minutes=600&pupil=x"})
	replay := func(who *person, all []made) {
		for i := range all {
			m := all[len(all)-1-i] // out of order
			a := who.do(m)
			if strings.HasPrefix(m.path, "/class") && m.path != "/class.css" && m.path != "/class.js" && a.status < 400 {
				assert.Equal(t, "/", a.path, "%s %s by %s", m.method, m.path, who.name)
			}
			if strings.Contains(m.path, annID) || strings.Contains(m.path, checkAt) {
				assert.True(t, a.status == http.StatusNotFound || a.status == http.StatusForbidden || a.path == "/", "%s %s by %s: %d %s", m.method, m.path, who.name, a.status, a.path)
			}
			m.body = strings.ReplaceAll(m.body, "had=0", "had=-1") + "&had=99999999999999999999&line=%00&typed=%FF"
			who.do(m)
		}
	}
	replay(bo, annMade)
	replay(bo, teacherMade)
	replay(nobody, annMade)
	replay(nobody, teacherMade)
	replay(ann, teacherMade)
	// Doubled by herself: what was done stands once.
	for _, m := range annMade {
		ann.do(m)
		ann.do(m)
	}
	assert.Equal(t, before[annAt], s.acts(annAt))
	assert.Equal(t, before[boAt], s.acts(boAt))
	assert.GreaterOrEqual(t, s.acts(checkAt), before[checkAt])
	// Forged and stolen cookies, and a page of another origin.
	u, err := url.Parse(s.url)
	require.NoError(t, err)
	for _, value := range []string{"instructor", "", strings.Repeat("x", 4000), "' OR 1=1 --"} {
		nobody.http.Jar.SetCookies(u, []*http.Cookie{{Name: "shimwright-class", Value: value}})
		assert.Equal(t, "/", nobody.get("/class").path)
		assert.NotEqual(t, http.StatusOK, nobody.get(annAt).status)
	}
	req, err := http.NewRequest(http.MethodPost, s.url+"/class/sets/"+exam, strings.NewReader("do=end"))
	require.NoError(t, err)
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Origin", "https://elsewhere.example")
	req.Header.Set("Sec-Fetch-Site", "cross-site")
	resp, err := teacher.http.Do(req)
	require.NoError(t, err)
	resp.Body.Close()
	assert.Equal(t, http.StatusForbidden, resp.StatusCode)

	assert.Equal(t, http.StatusConflict, teacher.get("/class/sets/"+exam+"/debriefs").status, "not even the instructor before the end")
	truths := append(append(s.truths(annAt), s.truths(boAt)...), s.truths(checkAt)...)
	for _, who := range []string{"Ann", "Bo", "Cy", "nobody"} {
		sent := s.sent[who].String()
		for _, truth := range truths {
			if who == "Ann" && truth == "Debrief: " {
				continue // the heads of pages of her own are called so
			}
			assert.False(t, strings.Contains(sent, truth), "%s was sent %q", who, truth)
		}
		// No instrument has six digits; the figures with fewer are looked for where the axle is
		// the same each time, since of those that are drawn one may equal a reading.
		const digits = 6
		numbers := scenariostest.Numbers(sent)
		for _, at := range []string{annAt, boAt, checkAt} {
			assert.Empty(t, scenariostest.Told(s.figures(at), numbers, nil, digits), "%s was sent a figure of what an axle is", who)
		}
	}
	assert.True(t, cy != nil)

	// After the end no act is taken, and what is handed back is each one's own.
	s.later(2 * time.Hour)
	a := bo.post(boAt+"/acts", "had", "4", "typed", boActs[4].String())
	assert.Equal(t, http.StatusForbidden, a.status)
	assert.Contains(t, a.body, "Its time is over")
	assert.Equal(t, before[boAt], s.acts(boAt))
	teacher.post("/class/sets/"+exam, "do", "return")
	assert.Contains(t, ann.get("/work/debriefs/"+annID).body, "What the axle really was")
	assert.Equal(t, http.StatusNotFound, bo.get("/work/debriefs/"+annID).status)
	assert.Equal(t, http.StatusNotFound, bo.get("/work/debriefs/"+boAt[len("/bench/jobs/"):]).status, "left open")
}

// The board sends itself when something changes, and ends when the server does or the
// instructor signs out.
func TestTheBoardIsLive(t *testing.T) {
	s := opened(t)
	teacher := s.instructor()
	teacher.post("/class/roster", "names", "Ann")
	req, err := http.NewRequest(http.MethodGet, s.url+"/class/board/live", nil)
	require.NoError(t, err)
	resp, err := teacher.http.Do(req)
	require.NoError(t, err)
	defer resp.Body.Close()
	assert.Equal(t, "text/event-stream", resp.Header.Get("Content-Type"))
	events := make(chan string, 10)
	go func() {
		defer close(events)
		data := make([]byte, 1<<16)
		for {
			n, err := resp.Body.Read(data)
			if n > 0 {
				events <- string(data[:n])
			}
			if err != nil {
				return
			}
		}
	}()
	assert.Contains(t, <-events, "data: ")
	set := teacher.set("exercise", "first-depth")
	ann := s.joined("Ann")
	ann.work(ann.begin(set, 1), act.Act{Form: act.InspectCups})
	got := <-events
	assert.Contains(t, got, "1 at work")
	teacher.post("/leave")
	for range events { // it ends
	}
}

// Pages need no script and fetch nothing from elsewhere.
func TestPagesKeepToThemselves(t *testing.T) {
	s := opened(t)
	teacher := s.instructor()
	teacher.post("/class/roster", "names", "Ann")
	set := teacher.set("exercise", "first-depth")
	ann := s.joined("Ann")
	nobody := s.person("nobody")
	for _, one := range []struct {
		*person
		page string
	}{{nobody, "/"}, {nobody, "/instructor"}, {nobody, "/no-such"}, {teacher, "/class"}, {teacher, "/class/board"}, {teacher, "/class/sets/" + set}, {ann, "/work"}} {
		a := one.get(one.page)
		assert.Contains(t, a.head.Get("Content-Security-Policy"), "default-src 'none'")
		assert.NotRegexp(t, `(?i) on[a-z]+=|<script[^>]*>[^<]|style=|https?://`, a.body)
		assert.Equal(t, 1, strings.Count(a.body, "<h1"), a.path)
		for _, m := range regexp.MustCompile(`(?:src|href)="(/[^"#]*)"`).FindAllStringSubmatch(a.body, -1) {
			assert.Less(t, one.get(m[1]).status, 400, m[1])
		}
	}
	c := s.person("y")
	resp, err := c.http.PostForm(s.url+"/join", url.Values{"code": {s.code}, "name": {"Ann"}, "pin": {"4711"}})
	require.NoError(t, err)
	resp.Body.Close()
	for _, set := range resp.Request.Response.Header["Set-Cookie"] {
		assert.Contains(t, set, "HttpOnly")
		assert.Contains(t, set, "SameSite=Lax")
	}
	assert.NotEmpty(t, resp.Request.Response.Header["Set-Cookie"])
}
