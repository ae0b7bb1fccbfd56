package view

import (
	"bytes"
	_ "embed"
	"html/template"
	"io"
	"sync"

	"shimwright/cmd/internal/picture"

	"shimwright/sim/text"
)

//go:embed page.html.tmpl
var pageSource string

// pages is the pages' templates, read on first use.
var pages = sync.OnceValues(func() (*template.Template, error) { return parsePages(pageSource) })

func parsePages(source string) (*template.Template, error) {
	darkColors := func() template.CSS { return template.CSS(picture.DarkColors()) } // names and colors of our own
	return template.New("pages").Funcs(template.FuncMap{"darkColors": darkColors}).Parse(source)
}

// titles are those of the parts, for the template.
type titles struct{ Losses, Well, Sum, Process, Thought, Foretold, Truth, Areas, Told, All, Print string }

// HTML writes a debrief as one page that needs nothing beside itself.
func (d Debrief) HTML(w io.Writer) error { return d.write(w, "debrief") }

// Body is the debrief as it stands in a page that somebody else writes.
func (d Debrief) Body() (template.HTML, error) {
	return drawn(func(w io.Writer) error { return d.write(w, "debrief-body") })
}

func (d Debrief) write(w io.Writer, page string) error {
	var losses, print, lesson template.HTML
	var err error
	if len(d.Losses) > 0 {
		if losses, err = drawn(func(w io.Writer) error {
			return picture.BarsSVG(w, d.bars(), picture.Options{Title: d.said.Print(text.Say("view.page.minutes-charged-act-by", "Minutes charged, act by act")), Unit: d.said.Print(text.Say("view.page.min", "min")), Color: true, ID: "losses"})
		}); err != nil {
			return err
		}
	}
	if d.Print != nil {
		if print, err = drawn(func(w io.Writer) error {
			return picture.SVG(w, d.Print.patterns, picture.Options{Color: true, ID: "pattern"})
		}); err != nil {
			return err
		}
	}
	if d.Lesson != nil {
		if lesson, err = lessonHTML(d.Lesson.Body, d.Lesson.units, "lesson"); err != nil {
			return err
		}
	}
	return writePage(w, page, struct {
		D                     Debrief
		T                     titles
		Losses, Print, Lesson template.HTML
	}{d, titles{d.said.Print(lossTitle), d.said.Print(wellTitle), d.said.Print(sumTitle), d.said.Print(processTitle), d.said.Print(thoughtTitle), d.said.Print(foretoldTitle), d.said.Print(truthTitle), d.said.Print(areasTitle), d.said.Print(toldTitle), d.said.Print(allTitle), d.said.Print(patternTitle)}, losses, print, lesson})
}

func writePage(w io.Writer, name string, data any) error {
	t, err := pages()
	if err == nil {
		t, err = t.Clone() // a template that has been executed cannot be added to
	}
	if err != nil {
		return err
	}
	return t.ExecuteTemplate(w, name, data)
}

// drawn takes over a picture as it is: package picture escapes what is written in it.
func drawn(draw func(io.Writer) error) (template.HTML, error) {
	var b bytes.Buffer
	err := draw(&b)
	return template.HTML(b.String()), err
}
