package web

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"time"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/attempt"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Config is what a web bench is made of.
type Config struct {
	Keeper Keeper
	// Who says whose a request is; ok is false for a request of nobody, which is refused. An
	// owner is not shown to anybody.
	Who func(*http.Request) (owner string, ok bool)
	// Base is the path that the bench is mounted at, such as "/bench"; "" for the root.
	Base string
	// Begin lets people begin jobs of their own, exercises, and drills. Without it they work the
	// jobs that are in the keeper already.
	Begin bool
	// Out is where a page's way out of the bench leads, with its name; none if empty.
	Out, OutName string
	// Rate is how many requests a second an owner may send for long; 0 for the usual number,
	// which no person reaches.
	Rate float64
	// Did is told of every act that was done or refused, with the bench as it stands then;
	// nobody if nil.
	Did func(ctx context.Context, id string, b *bench.Bench, refused bool)
	// Clock tells when an attempt is begun and signed; without one no time is kept.
	Clock func() time.Time
	// Printer prints what the pages say, in each visitor's units.
	Printer text.Printer
}

// face answers the requests of a web bench.
type face struct {
	Config
	benches *benches
	limits  *limits
	written written
}

// mostReady is how many attempts are kept ready: about a megabyte each.
const mostReady = 128

// New returns the handler of a web bench. It keeps nothing that its keeper has not, but
// caches.
func New(c Config) http.Handler {
	f := &face{Config: c, benches: newBenches(c.Keeper, mostReady), limits: newLimits(c.Rate)}
	mux := http.NewServeMux()
	handle := func(pattern string, do func(http.ResponseWriter, *http.Request, visitor) error) {
		mux.Handle(pattern, f.known(do))
	}
	handle("GET /{$}", f.start)
	handle("POST /jobs", f.begin)
	handle("POST /import", f.bring)
	handle("POST /units", f.units)
	handle("GET /jobs/{id}", f.benchPage)
	handle("GET /jobs/{id}/projector", f.projector)
	handle("POST /jobs/{id}/acts", f.acts)
	handle("GET /jobs/{id}/card", f.card)
	handle("GET /jobs/{id}/left", f.left)
	handle("GET /jobs/{id}/debrief", f.debrief)
	handle("GET /jobs/{id}/attempt", f.attempt)
	if c.Begin {
		handle("GET /exercises", f.exercises)
		handle("POST /exercises/{exercise}", f.exercise)
		handle("GET /drills", f.drills)
		handle("POST /drills", f.drill)
		for _, at := range []string{"/drills/{kind}/{round}", "/drills/{kind}/{round}/{went}"} {
			handle("GET "+at, f.question)
			handle("POST "+at, f.answer)
		}
	}
	handle("GET /lessons", f.lessons)
	handle("GET /lessons/{lesson}", f.lesson)
	handle("GET /glossary", f.glossary)
	handle("/", f.nowhere)
	mux.Handle("GET /static/", f.static())
	mux.Handle("GET /favicon.ico", http.RedirectHandler(c.Base+assets().path("icon.svg"), http.StatusMovedPermanently))
	var h http.Handler = mux
	h = http.NewCrossOriginProtection().Handler(h)
	h = bounded(h)
	if c.Base != "" {
		h = http.StripPrefix(c.Base, h)
	}
	return Strict(h)
}

// A visitor is who asks, and how they want it written.
type visitor struct {
	owner string
	pen   view.Pen
}

// errSaid is an error whose answer has been written.
var errSaid = errors.New("answered")

// known finds out who asks, and answers errors.
func (f *face) known(do func(http.ResponseWriter, *http.Request, visitor) error) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		owner, ok := f.Who(r)
		v := visitor{owner, view.NewPen(f.Printer.In(unitsOf(r)), 80)}
		if !ok {
			f.trouble(w, v, http.StatusForbidden, "You are not signed in", "Go back to the first page and sign in there.")
			return
		}
		if !f.limits.allow(owner) {
			w.Header().Set("Retry-After", "2")
			f.trouble(w, v, http.StatusTooManyRequests, "Too many requests", "Wait a moment and try again. Nothing is lost.")
			return
		}
		err := do(w, r, v)
		var large *http.MaxBytesError
		var unread *attempt.Error
		switch {
		case err == nil || errors.Is(err, errSaid):
		case errors.Is(err, ErrNotFound):
			f.trouble(w, v, http.StatusNotFound, "No such page", "There is no job of yours at this address.")
		case errors.Is(err, ErrClosed):
			if f.Out != "" && r.Header.Get("HX-Request") != "" { // a script swaps in no page of trouble
				w.Header().Set("HX-Redirect", f.Out)
				return
			}
			f.trouble(w, v, http.StatusForbidden, "Its time is over", "The last act was not done. All that you did before is kept.")
		case errors.As(err, &large):
			f.trouble(w, v, http.StatusRequestEntityTooLarge, "Too long", "What was sent is longer than any act.")
		case errors.Is(err, attempt.ErrNotReproducible), errors.As(err, &unread):
			f.trouble(w, v, http.StatusConflict, "This attempt cannot be gone on with", "It was made with another version of the program, or its file has been changed.")
		case errors.Is(err, store.ErrInUse):
			f.trouble(w, v, http.StatusConflict, "This job is open at a terminal", "Leave it there first. The act was not done.")
		case r.Context().Err() != nil:
			// Whoever asked has gone.
		default:
			// What failed inside is for the log, not for visitors.
			slog.Error("request failed", "method", r.Method, "path", r.URL.Path, "error", err)
			f.trouble(w, v, http.StatusInternalServerError, "Something failed", "The last act may not have been kept. Go back to the job and see.")
		}
	})
}

func (f *face) nowhere(http.ResponseWriter, *http.Request, visitor) error { return ErrNotFound }

const unitsCookie = "shimwright-units"

// unitsOf is what a visitor has chosen to see; inch before they have.
func unitsOf(r *http.Request) quantity.System {
	if c, err := r.Cookie(unitsCookie); err == nil {
		if u, err := quantity.ParseSystem(c.Value); err == nil {
			return u
		}
	}
	return quantity.Inch
}

func setUnits(w http.ResponseWriter, r *http.Request, u quantity.System) {
	const year = 365 * 24 * 60 * 60
	http.SetCookie(w, &http.Cookie{Name: unitsCookie, Value: u.String(), Path: "/", MaxAge: year, HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: r.TLS != nil})
}

// units changes what amounts are shown in.
func (f *face) units(w http.ResponseWriter, r *http.Request, _ visitor) error {
	form, err := readForm(w, r)
	if err != nil {
		return err
	}
	u, err := quantity.ParseSystem(form.one("units"))
	if err != nil {
		u = quantity.Inch
	}
	setUnits(w, r, u)
	http.Redirect(w, r, f.Base+localPath(form.one("back")), http.StatusSeeOther)
	return nil
}

// hides tells whether the terms of an attempt keep its number, its file and its debrief from
// whoever works it: with them anybody could play the job again.
func hides(h attempt.Header) bool { return h.Mode != attempt.Practice }

// helps tells whether the terms give a help.
func helps(h attempt.Header, takes attempt.Help) bool {
	return h.Help.Gives(takes)
}

// say prints messages.
func say(p text.Printer, all []text.Message) []string {
	out := make([]string, len(all))
	for i, m := range all {
		out[i] = p.Print(m)
	}
	return out
}
