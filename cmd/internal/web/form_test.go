package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"unicode/utf8"
)

// Whatever a page sends, what is read of it is short lines of text, and a way back that stays on
// this bench. FuzzForms has whole pages answer.
func FuzzReadForm(f *testing.F) {
	for _, s := range []string{"had=0&typed=inspect+cups", "typed=%zz&back=//x", "back=/jobs/1?x", "back=\\\\x", "back=https:x&s0=%00%ff", "a=1&a=2;b=3", "back=/%2f%2fx"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, body string) {
		r := httptest.NewRequest(http.MethodPost, "/", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		sent, err := readForm(httptest.NewRecorder(), r)
		if err != nil {
			t.Fatal(err)
		}
		for name := range sent.values {
			for _, v := range append(sent.all(name), sent.one(name)) {
				if !utf8.ValidString(v) || utf8.RuneCountInString(v) > mostValue || strings.ContainsFunc(v, func(r rune) bool { return r < ' ' || r == 0x7f }) {
					t.Fatalf("%q holds %q", body, v)
				}
				back := localPath(v)
				if u, err := url.Parse(back); err != nil || u.Host != "" || u.Scheme != "" || !strings.HasPrefix(back, "/") || strings.HasPrefix(back, "//") || strings.Contains(back, `\`) {
					t.Fatalf("%q leads to %q", v, back)
				}
			}
		}
	})
}
