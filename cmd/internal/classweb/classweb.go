// Package classweb is a class in a browser: the pages by which an instructor sets exercises,
// looks on, and hands back, and by which pupils join and find what is set. The rules are those
// of package classroom, the bench that of package web.
//
// Every request is one of nobody, of a pupil, or of the instructor, by a cookie whose secret
// the records know only hashed. A page says nothing else to whoever may not see it than to
// whoever asks for what is not there.
package classweb

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/web"
)

//go:embed templates/*.html
var templateFiles embed.FS

//go:embed static/class.js static/class.css
var staticFiles embed.FS

const cookie = "shimwright-class"

// benchAt is where the bench is mounted.
const benchAt = "/bench"

// face answers the requests of a class.
type face struct {
	*classroom.Room
	ended <-chan struct{} // closed when the server stops
	zone  *time.Location  // that times are read and written in
}

// visit is one request.
type visit struct {
	w   http.ResponseWriter
	r   *http.Request
	who string // "", records.Instructor, or a pupil's id
}

// Options are what a class is served with beside its room.
type Options struct {
	Ended <-chan struct{}  // closed when the server stops: what is still open then ends
	Zone  *time.Location   // of the times on the pages
	Clock func() time.Time // that stands in attempt files; nil: none does
	Rate  float64          // as in web.Config
}

// New returns the handler of a class.
func New(room *classroom.Room, o Options) http.Handler {
	f := &face{Room: room, ended: o.Ended, zone: o.Zone}
	mux := http.NewServeMux()
	mux.Handle(benchAt+"/", web.New(web.Config{
		Keeper: classroom.Keeper{Room: room}, Who: f.pupil, Base: benchAt, Out: "/work", OutName: "Class", Clock: o.Clock, Rate: o.Rate, Printer: room.Printer,
		Did: func(ctx context.Context, id string, b *bench.Bench, refused bool) {
			if err := room.Did(ctx, id, int(b.At()), refused); err != nil {
				slog.Error("the board is behind", "error", err)
			}
		},
	}))
	anybody := func(pattern string, do func(*visit) error) {
		mux.Handle(pattern, f.handle(do, func(string) bool { return true }))
	}
	pupil := func(pattern string, do func(*visit) error) {
		mux.Handle(pattern, f.handle(do, func(who string) bool { return who != "" && who != records.Instructor }))
	}
	instructor := func(pattern string, do func(*visit) error) {
		mux.Handle(pattern, f.handle(do, func(who string) bool { return who == records.Instructor }))
	}
	anybody("GET /{$}", f.door)
	anybody("POST /join", f.join)
	anybody("GET /instructor", f.phrase)
	anybody("POST /instructor", f.instruct)
	anybody("POST /leave", f.leave)
	anybody("GET /class.css", f.file("class.css", "text/css; charset=utf-8"))
	anybody("GET /class.js", f.file("class.js", "text/javascript; charset=utf-8"))
	anybody("/", func(*visit) error { return records.ErrNone })
	mux.Handle("GET /favicon.ico", http.RedirectHandler(benchAt+web.Asset("icon.svg"), http.StatusMovedPermanently))

	pupil("GET /work", f.work)
	pupil("POST /work/{set}/{job}", f.begin)
	pupil("GET /work/debriefs/{attempt}", f.ownDebrief)

	instructor("GET /class", f.class)
	instructor("POST /class/roster", f.roster)
	instructor("POST /class/pupils/{pupil}", f.changePupil)
	instructor("POST /class/sets", f.set)
	instructor("GET /class/board", f.board)
	instructor("GET /class/board/rows", f.boardRows)
	instructor("GET /class/board/live", f.live)
	instructor("GET /class/backup", f.backup)
	instructor("GET /class/sets/{set}", f.results)
	instructor("GET /class/sets/{set}/results.csv", f.table)
	instructor("GET /class/sets/{set}/attempts.zip", f.attempts)
	instructor("GET /class/sets/{set}/debriefs", f.debriefs)
	instructor("GET /class/sets/{set}/debriefs.zip", f.debriefsZip)
	instructor("POST /class/sets/{set}", f.changeSet)
	instructor("POST /class/sets/{set}/time", f.giveTime)
	instructor("POST /class/attempts/{attempt}", f.override)
	return web.Strict(http.NewCrossOriginProtection().Handler(mux))
}

// who tells whose a request is.
func (f *face) who(r *http.Request) (string, error) {
	c, err := r.Cookie(cookie)
	if err != nil {
		return "", nil
	}
	who, err := f.Store.Who(r.Context(), c.Value, f.Room.Clock())
	if errors.Is(err, records.ErrNone) {
		return "", nil
	}
	return who, err
}

func (f *face) pupil(r *http.Request) (string, bool) {
	who, err := f.who(r)
	return who, err == nil && who != "" && who != records.Instructor
}

// mostSent bounds what is read of a request: a roster or an exercise is some kilobytes.
const mostSent = 256 << 10

// handle lets those in who may, and answers errors.
func (f *face) handle(do func(*visit) error, may func(who string) bool) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Body = http.MaxBytesReader(w, r.Body, mostSent)
		who, err := f.who(r)
		v := &visit{w, r, who}
		if err == nil && !may(who) {
			if who == "" && r.Method == http.MethodGet && r.URL.Path != "/" {
				http.Redirect(w, r, "/", http.StatusSeeOther)
				return
			}
			err = records.ErrNone
		}
		if err == nil {
			err = do(v)
		}
		f.answer(v, err)
	})
}

// answer tells of an error.
func (f *face) answer(v *visit, err error) {
	var large *http.MaxBytesError
	var wrong *wrongError
	switch {
	case err == nil, v.r.Context().Err() != nil:
	case errors.As(err, &wrong):
		f.trouble(v, http.StatusUnprocessableEntity, "That was not done", f.Printer.Error(wrong.error))
	case errors.Is(err, records.ErrNone), errors.Is(err, classroom.ErrNoJob), errors.Is(err, web.ErrNotFound):
		f.trouble(v, http.StatusNotFound, "No such page", "There is nothing at this address, or it is not for you.")
	case errors.As(err, &large):
		f.trouble(v, http.StatusRequestEntityTooLarge, "Too long", fmt.Sprintf("What was sent is longer than %d kB.", mostSent>>10))
	case errors.Is(err, classroom.ErrNotYet), errors.Is(err, classroom.ErrOver), errors.Is(err, classroom.ErrNoTries), errors.Is(err, classroom.ErrNotOver):
		f.trouble(v, http.StatusConflict, "That cannot be done now", sentence(f.Printer.Error(err)))
	default:
		slog.Error("request failed", "method", v.r.Method, "path", v.r.URL.Path, "error", err)
		f.trouble(v, http.StatusInternalServerError, "Something failed", "Go back and see whether it was done; then try again.")
	}
}

// A wrongError is one that whoever sent something can put right.
type wrongError struct{ error }

func wrong(err error) error {
	if err == nil {
		return nil
	}
	return &wrongError{err}
}

func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("pages").Funcs(template.FuncMap{
		"asset": func(name string) string { return benchAt + web.Asset(name) },
		"plus":  func(a, b int) int { return a + b },
		"round": func(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) },
	}).ParseFS(templateFiles, "templates/*.html"))
})

// A frame is what every page has around its own.
type frame struct {
	Title string
	Class string
	Who   string // "": nobody; "pupil"; "instructor"
	Name  string // the pupil's
	Wrong string
}

func (f *face) frame(v *visit, title string) frame {
	fr := frame{Title: title}
	if c, err := f.Store.Class(v.r.Context()); err == nil {
		fr.Class = c.Name
	}
	switch v.who {
	case "":
	case records.Instructor:
		fr.Who = records.Instructor
	default:
		fr.Who = "pupil"
		if p, err := f.Store.Pupil(v.r.Context(), v.who); err == nil {
			fr.Name = p.Name
		}
	}
	return fr
}

// write writes a page.
func write(v *visit, status int, name string, data any) error {
	var b bytes.Buffer
	if err := pages().ExecuteTemplate(&b, name, data); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	v.w.Header().Set("Content-Type", "text/html; charset=utf-8")
	v.w.WriteHeader(status)
	_, _ = v.w.Write(b.Bytes()) // whoever asked may have gone
	return nil
}

func (f *face) trouble(v *visit, status int, title, why string) {
	_ = write(v, status, "trouble", struct {
		frame
		Say string
	}{f.frame(v, title), why})
}

// goTo leads on after something was done.
func goTo(v *visit, path string) error {
	http.Redirect(v.w, v.r, path, http.StatusSeeOther)
	return nil
}

func (f *face) file(name, kind string) func(*visit) error {
	return func(v *visit) error {
		data, err := staticFiles.ReadFile("static/" + name)
		if err != nil {
			return err
		}
		v.w.Header().Set("Content-Type", kind)
		_, _ = v.w.Write(data)
		return nil
	}
}

// one is a value of a form.
func one(v *visit, name string) string { return strings.TrimSpace(v.r.PostFormValue(name)) }

// address is where a request comes from, for the rate of signing in.
func address(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

// letIn gives the cookie of somebody who has signed in, and leads on.
func (f *face) letIn(v *visit, secret, path string) error {
	if c, err := v.r.Cookie(cookie); err == nil { // whoever was signed in here before is out
		if err := f.Store.SignOut(v.r.Context(), c.Value); err != nil {
			return err
		}
	}
	http.SetCookie(v.w, &http.Cookie{Name: cookie, Value: secret, Path: "/", HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: v.r.TLS != nil})
	return goTo(v, path)
}

type doorPage struct {
	frame
	Code, Name string
}

// door is the first page.
func (f *face) door(v *visit) error {
	switch v.who {
	case "":
		return write(v, http.StatusOK, "door", doorPage{frame: f.frame(v, "Join the class"), Code: v.r.URL.Query().Get("code")})
	case records.Instructor:
		return goTo(v, "/class")
	}
	return goTo(v, "/work")
}

func (f *face) join(v *visit) error {
	code, name := one(v, "code"), one(v, "name")
	secret, err := f.Join(v.r.Context(), code, name, one(v, "pin"), address(v.r))
	switch {
	case err == nil:
		return f.letIn(v, secret, "/work")
	case errors.Is(err, classroom.ErrDoor), errors.Is(err, classroom.ErrPIN), errors.Is(err, classroom.ErrTooMany):
		p := doorPage{f.frame(v, "Join the class"), code, name}
		p.Wrong = sentence(f.Printer.Error(err))
		return write(v, statusOf(err), "door", p)
	}
	return err
}

func statusOf(err error) int {
	if errors.Is(err, classroom.ErrTooMany) {
		return http.StatusTooManyRequests
	}
	return http.StatusForbidden
}

// phrase is where the instructor signs in.
func (f *face) phrase(v *visit) error {
	return write(v, http.StatusOK, "phrase", f.frame(v, "Instructor"))
}

func (f *face) instruct(v *visit) error {
	secret, err := f.Instruct(v.r.Context(), one(v, "passphrase"), address(v.r))
	switch {
	case err == nil:
		return f.letIn(v, secret, "/class")
	case errors.Is(err, classroom.ErrPhrase), errors.Is(err, classroom.ErrTooMany):
		p := f.frame(v, "Instructor")
		p.Wrong = sentence(f.Printer.Error(err))
		return write(v, statusOf(err), "phrase", p)
	}
	return err
}

func (f *face) leave(v *visit) error {
	if c, err := v.r.Cookie(cookie); err == nil {
		if err := f.Store.SignOut(v.r.Context(), c.Value); err != nil {
			return err
		}
	}
	http.SetCookie(v.w, &http.Cookie{Name: cookie, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: v.r.TLS != nil})
	return goTo(v, "/")
}

// jobPath is where the bench of an attempt is.
func jobPath(id string) string { return benchAt + "/jobs/" + url.PathEscape(id) }

// when writes a time; "" for none.
func (f *face) when(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.In(f.zone).Format("Mon 2 Jan 15:04")
}
