package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"sync"

	"shimwright/sim/text"
)

//go:embed templates/*.html
var templateFiles embed.FS

//go:embed static
var staticFiles embed.FS

// pages are the templates, read on first use.
var pages = sync.OnceValue(func() *template.Template {
	t := template.New("pages").Funcs(template.FuncMap{
		"asset":  func(name string) string { return assets().path(name) },
		"wordOf": wordID,
		"after":  func(i int) int { return i + 1 },
		"args": func(acts string, had, group int, it any) any {
			return struct {
				Acts       string
				Had, Group int
				It         any
			}{acts, had, group, it}
		},
	})
	return template.Must(t.ParseFS(templateFiles, "templates/*.html"))
})

// An asset is a file that is served as it is, under a name that changes with it.
type asset struct {
	kind string
	data []byte
}

type assetSet struct {
	byPath map[string]asset
	paths  map[string]string
}

// Asset is the address of a file of the bench, such as its style sheet, from where it is
// mounted.
func Asset(name string) string { return assets().path(name) }

func (a assetSet) path(name string) string { return a.paths[name] }

var assets = sync.OnceValue(func() assetSet {
	out := assetSet{map[string]asset{}, map[string]string{}}
	kinds := map[string]string{".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml"}
	err := fs.WalkDir(staticFiles, "static", func(p string, d fs.DirEntry, err error) error {
		kind, served := kinds[path.Ext(p)]
		if err != nil || d.IsDir() || !served {
			return err
		}
		data, err := staticFiles.ReadFile(p)
		sum := sha256.Sum256(data)
		name := path.Base(p)
		const letters = 12
		at := "/static/" + hex.EncodeToString(sum[:])[:letters] + "/" + name
		out.byPath[at], out.paths[name] = asset{kind, data}, at
		return err
	})
	if err != nil {
		panic(err) // the files are part of the program
	}
	return out
})

// Files are the files that pages are dressed with, by name, for whoever serves them in another
// way; the script that sends forms to a server is not among them.
func Files() map[string][]byte {
	out := map[string][]byte{}
	for _, name := range []string{"bench.css", "bench.js", "icon.svg"} {
		out[name] = assets().byPath[assets().path(name)].data
	}
	return out
}

func (f *face) static() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		a, ok := assets().byPath[r.URL.Path]
		if !ok {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", a.kind)
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		w.Write(a.data)
	})
}

// A frame is what every page has around its own.
type frame struct {
	Base, Title string
	Other       string // what amounts could be shown in
	Here        string // the path of this page
	Out         string
	OutName     string
	Alone       []link    // to what somebody without a class works at besides jobs
	Job         *jobLinks // the pages of a job, on those
}

// A link is where something is, by its name.
type link struct{ Path, Name string }

// jobLinks lead from page to page of a job.
type jobLinks struct {
	Path   string
	Name   string
	At     string // the page that this is
	Left   bool   // what is left is told
	Closed bool
	File   bool
}

func (f *face) frame(v visitor, title, here string) frame {
	u := v.pen.Units()
	out := frame{Base: f.Base, Title: title, Other: u.Other().String(), Here: here, Out: f.Out, OutName: f.OutName}
	if f.Begin {
		out.Alone = []link{{f.Base + "/exercises", v.pen.Print(text.Say("web.nav.exercises", "Exercises"))}, {f.Base + "/drills", v.pen.Print(text.Say("web.nav.drills", "Drills"))}}
	}
	return out
}

// write writes a page.
func (f *face) write(w http.ResponseWriter, status int, name string, data any) error {
	var b bytes.Buffer
	if err := pages().ExecuteTemplate(&b, name, data); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // whoever asked may have gone
	return nil
}

type troublePage struct {
	frame
	Say string
}

// trouble says why there is no page.
func (f *face) trouble(w http.ResponseWriter, v visitor, status int, title, why string) {
	_ = f.write(w, status, "trouble", troublePage{f.frame(v, title, "/"), why})
}
