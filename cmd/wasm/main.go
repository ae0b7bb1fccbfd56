//go:build js && wasm

// Command wasm is the web bench in a page: the handler of a server over a store in the
// browser. The page's script gives it requests and shows what it answers.
package main

import (
	"encoding/json"
	"net/http"
	"strings"
	"syscall/js"

	"shimwright/cmd/internal/web"
)

const cookiesKey = "shimwright-cookies"

func main() {
	b := &bench{store: js.Global().Get("localStorage"), cookies: map[string]string{}}
	b.handler = web.New(web.Config{Keeper: &local{b.store}, Who: func(*http.Request) (string, bool) { return web.Own, true }, Begin: true, Rate: 1e6})
	if kept := b.store.Call("getItem", cookiesKey); kept.Type() == js.TypeString {
		_ = json.Unmarshal([]byte(kept.String()), &b.cookies) // what is not ours is begun anew
	}
	js.Global().Set("shimwright", js.FuncOf(func(_ js.Value, args []js.Value) any {
		method, path, body, done := args[0].String(), args[1].String(), args[2].String(), args[3]
		go func() { done.Invoke(b.answer(method, path, body)) }()
		return nil
	}))
	js.Global().Call("shimwrightReady")
	select {}
}

// bench answers the requests of a page.
type bench struct {
	handler http.Handler
	store   js.Value
	cookies map[string]string
}

func (b *bench) answer(method, path, body string) map[string]any {
	r, err := http.NewRequest(method, path, strings.NewReader(body))
	if err != nil {
		return map[string]any{"status": http.StatusBadRequest, "location": "/"}
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	for name, value := range b.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w := &answer{status: http.StatusOK, head: http.Header{}}
	b.handler.ServeHTTP(w, r)
	for _, line := range w.head.Values("Set-Cookie") {
		if c, err := http.ParseSetCookie(line); err == nil {
			b.cookies[c.Name] = c.Value
		}
	}
	if text, err := json.Marshal(b.cookies); err == nil && len(w.head.Values("Set-Cookie")) > 0 {
		_ = set(b.store, cookiesKey, string(text)) // a choice of units that is not kept is made again
	}
	return map[string]any{"status": w.status, "location": w.head.Get("Location"), "body": w.body.String(), "file": w.head.Get("Content-Disposition")}
}

// answer gathers what the handler answers.
type answer struct {
	status int
	head   http.Header
	body   strings.Builder
}

func (a *answer) Header() http.Header         { return a.head }
func (a *answer) WriteHeader(status int)      { a.status = status }
func (a *answer) Write(p []byte) (int, error) { return a.body.Write(p) }
