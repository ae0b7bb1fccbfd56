package web

import (
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"net"
	"net/http"
	"strings"
)

const visitorCookie = "shimwright"

type visitorKey struct{}

// Visitors tells apart those who come without signing in: each browser has a name of its own
// in a cookie that is signed with a key, and sees what it has begun itself.
func Visitors(key []byte, h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		owner := ""
		if c, err := r.Cookie(visitorCookie); err == nil {
			owner = unsigned(key, c.Value)
		}
		if owner == "" {
			owner = rand.Text()
			const year = 365 * 24 * 60 * 60
			http.SetCookie(w, &http.Cookie{Name: visitorCookie, Value: signed(key, owner), Path: "/", MaxAge: year, HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: r.TLS != nil})
		}
		h.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), visitorKey{}, owner)))
	})
}

// Visitor is whom Visitors has found a request to be of.
func Visitor(r *http.Request) (owner string, ok bool) {
	owner, ok = r.Context().Value(visitorKey{}).(string)
	return owner, ok
}

func signed(key []byte, owner string) string {
	m := hmac.New(sha256.New, key)
	m.Write([]byte(visitorCookie + " " + owner))
	return owner + "." + base64.RawURLEncoding.EncodeToString(m.Sum(nil))
}

// unsigned is the owner of a cookie; "" for one that was not signed here.
func unsigned(key []byte, value string) string {
	owner, _, ok := strings.Cut(value, ".")
	if !ok || owner == "" || !hmac.Equal([]byte(signed(key, owner)), []byte(value)) {
		return ""
	}
	return owner
}

// Alone is for a bench that one person has on their own machine: every request is the
// owner's. It refuses a request that was sent to another name than this machine's own, which
// a page from elsewhere could have made a browser take for its own.
func Alone(owner string, h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host := r.Host
		if name, _, err := net.SplitHostPort(host); err == nil {
			host = name
		}
		if ip := net.ParseIP(strings.Trim(host, "[]")); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
			http.Error(w, "this bench answers on this machine alone", http.StatusMisdirectedRequest)
			return
		}
		h.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), visitorKey{}, owner)))
	})
}
