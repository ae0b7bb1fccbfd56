package web

import (
	"errors"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// policy lets a page load nothing but what this program serves, and run or style nothing that
// stands in it.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; font-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// Strict adds the headers that keep a page to itself.
func Strict(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "same-origin")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Cache-Control", "no-store")
		h.ServeHTTP(w, r)
	})
}

// mostSent is more than any form of the bench sends, mostBrought than an attempt file holds.
const (
	mostSent    = 16 << 10
	mostBrought = 512 << 10
)

// bounded bounds what is read of a request.
func bounded(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		most := int64(mostSent)
		if r.URL.Path == "/import" {
			most = mostBrought
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		h.ServeHTTP(w, r)
	})
}

// A form is what a page sent: a few short values.
type form struct{ values url.Values }

// readForm reads a form. Errors: one that is too large. What cannot be read is left out.
func readForm(w http.ResponseWriter, r *http.Request) (form, error) {
	if err := r.ParseForm(); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return form{}, large
		}
	}
	return form{r.PostForm}, nil
}

// mostValue is how long a value may be; more is cut off.
const mostValue = 400

// one is the first value of a name, in one line of text that can be printed.
func (f form) one(name string) string {
	if all := f.all(name); len(all) > 0 {
		return all[0]
	}
	return ""
}

// all are the values of a name, not more than a page sends.
func (f form) all(name string) []string {
	const most = 16
	var out []string
	for i, v := range f.values[name] {
		if i == most {
			break
		}
		out = append(out, plain(v))
	}
	return out
}

// plain is one line of text of bounded length, without control characters.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == '\uFFFD' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	if r := []rune(s); len(r) > mostValue {
		s = string(r[:mostValue])
	}
	return strings.TrimSpace(s)
}

// localPath is a path of this bench, or its first page where it would lead away.
func localPath(p string) string {
	u, err := url.Parse(p)
	if err != nil || u.Scheme != "" || u.Host != "" || u.Opaque != "" || !strings.HasPrefix(u.Path, "/") || strings.HasPrefix(p, "//") || strings.Contains(p, `\`) {
		return "/"
	}
	return u.EscapedPath()
}

// limits holds every owner to a rate that no person reaches.
type limits struct {
	perSecond float64
	mu        sync.Mutex
	all       map[string]*limited
}

type limited struct {
	asks, begins *rate.Limiter
	used         time.Time
}

func newLimits(perSecond float64) *limits {
	if perSecond <= 0 {
		perSecond = usualRate
	}
	return &limits{perSecond: perSecond, all: map[string]*limited{}}
}

const (
	usualRate  = 20 // requests a second
	burst      = 3  // seconds' worth at once
	beginsRate = 40 // requests that a begin is worth
	mostOwners = 4096
	forgotten  = time.Minute
)

// allow tells whether an owner may ask now.
func (l *limits) allow(owner string) bool {
	o := l.of(owner)
	return o != nil && o.asks.Allow()
}

// begins tells whether an owner may begin another job now.
func (l *limits) begins(owner string) bool {
	o := l.of(owner)
	return o != nil && o.begins.Allow()
}

// of finds the limits of an owner; nil where there are too many owners.
func (l *limits) of(owner string) *limited {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := time.Now()
	o := l.all[owner]
	if o == nil {
		if len(l.all) >= mostOwners {
			for name, old := range l.all {
				if now.Sub(old.used) > forgotten {
					delete(l.all, name)
				}
			}
		}
		if len(l.all) >= mostOwners {
			return nil
		}
		each := rate.Limit(l.perSecond)
		o = &limited{asks: rate.NewLimiter(each, int(burst*l.perSecond)), begins: rate.NewLimiter(each/beginsRate, max(1, int(l.perSecond/2)))}
		l.all[owner] = o
	}
	o.used = now
	return o
}
