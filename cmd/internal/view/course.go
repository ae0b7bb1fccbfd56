package view

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"shimwright/lessons"
	"shimwright/lessons/glossary"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

//go:embed course.html.tmpl
var courseSource string

// coursePages are the pages of the course, with the head that all pages share.
var coursePages = sync.OnceValues(func() (*template.Template, error) {
	return parsePages(pageSource + courseSource)
})

var (
	courseTitle  = text.Say("view.course.title", "Setting up a ring and pinion")
	lessonNotice = text.Say("view.course.axles-invented-figures-for", "The axles are invented and the figures are for practice. On a real axle the maker's manual, local rules and a qualified person decide.")
)

// A lessonPage is a lesson as the template writes it.
type lessonPage struct {
	lessons.Lesson
	Body  template.HTML
	Try   string
	Words []wordPage
}

type wordPage struct {
	ID, Other string
	Term      glossary.Term
	Link      bool // the glossary is on the same page
}

type groupPage struct {
	Group   string
	First   int
	Lessons []lessonPage
}

type coursePage struct {
	Title, Notice string
	Single        bool
	Parts         []groupPage
	Words         []wordPage
	Sheets        []sheetPage
}

type sheetPage struct {
	ID, Title, Notice string
	Body              template.HTML
}

func wordID(t glossary.Term) string { return "word-" + strings.ReplaceAll(t.Word, " ", "-") }

// Course writes lessons as one page that needs nothing beside itself: with all of them the
// glossary and the sheets too, with one the lesson alone. try is the command that starts a
// job on a lesson.
func Course(w io.Writer, all []lessons.Lesson, p Pen, try func(lessons.Lesson) string) error {
	page := coursePage{Title: p.Print(courseTitle), Notice: p.Print(lessonNotice), Single: len(all) == 1}
	if page.Single {
		page.Title = all[0].Title
	}
	for _, l := range all {
		write := lessonHTML
		if page.Single { // its headings stand right under the title of the page
			write = func(body string, units quantity.System, id string) (template.HTML, error) {
				return lessonAs(body, units, id, func(s string) string { return s })
			}
		}
		body, err := write(crossed(l.Body, all), p.Units(), l.ID)
		if err != nil {
			return err
		}
		one := lessonPage{Lesson: l, Body: body, Try: try(l)}
		for _, t := range glossary.Of(l.ID) {
			one.Words = append(one.Words, wordPage{ID: wordID(t), Term: t, Link: !page.Single})
		}
		page.add(one)
	}
	if !page.Single {
		for _, t := range glossary.All() {
			page.Words = append(page.Words, wordPage{ID: wordID(t), Term: t, Other: OtherNames(p.Printer, t)})
		}
		for _, s := range lessons.Sheets() {
			one, err := newSheetPage(s, p.Printer, true)
			if err != nil {
				return err
			}
			page.Sheets = append(page.Sheets, one)
		}
	}
	return writeCourse(w, "course", page)
}

// LessonBody is a lesson as it stands in a page that somebody else writes, without its title
// and without what it leads to.
func LessonBody(l lessons.Lesson, units quantity.System) (template.HTML, error) {
	return lessonAs(l.Body, units, l.ID, func(s string) string { return s })
}

// add puts a lesson into its group.
func (c *coursePage) add(l lessonPage) {
	if n := len(c.Parts); n == 0 || c.Parts[n-1].Group != l.Group {
		c.Parts = append(c.Parts, groupPage{Group: l.Group, First: l.Order})
	}
	last := &c.Parts[len(c.Parts)-1]
	last.Lessons = append(last.Lessons, l)
}

// Slides writes lessons one to a page in large letters: aim, figures, what is wrong and
// right, and the question.
func Slides(w io.Writer, all []lessons.Lesson, p Pen) error {
	page := coursePage{Title: p.Print(courseTitle), Notice: p.Print(lessonNotice)}
	if len(all) == 1 {
		page.Title = all[0].Title
	}
	for _, l := range all {
		body, err := lessonHTML(crossed(slide(l), nil), p.Units(), l.ID)
		if err != nil {
			return err
		}
		page.add(lessonPage{Lesson: l, Body: body})
	}
	return writeCourse(w, "slides", page)
}

// slide is what of a lesson stands on a slide, as Markdown with figures.
func slide(l lessons.Lesson) string {
	var b strings.Builder
	b.WriteString(section(l.Body, "Aim") + "\n")
	for i, part := range strings.Split(l.Body, "```") {
		if i%2 == 1 && strings.HasPrefix(part, "figure\n") {
			b.WriteString("```" + part + "```\n\n")
		}
	}
	for _, name := range []string{"Wrong and right", "Check yourself"} {
		b.WriteString("## " + name + "\n\n" + section(l.Body, name) + "\n")
	}
	return b.String()
}

var lessonNamed = regexp.MustCompile("`([a-z]+(?:-[a-z]+)*)`")

// crossed has every lesson that a text names by its id stand there by its title, as a link
// where the lesson is on the same page.
func crossed(md string, page []lessons.Lesson) string {
	return lessonNamed.ReplaceAllStringFunc(md, func(named string) string {
		l, err := lessons.Find(strings.Trim(named, "`"))
		switch {
		case err != nil:
			return named // an act
		case slices.ContainsFunc(page, func(o lessons.Lesson) bool { return o.ID == l.ID }):
			return "[" + l.Title + "](#lesson-" + l.ID + ")"
		}
		return "*" + l.Title + "*"
	})
}

// section is what stands under a second-level heading.
func section(body, name string) string {
	_, after, _ := strings.Cut(body, "## "+name+"\n")
	text, _, _ := strings.Cut(after, "\n## ")
	return strings.TrimSpace(text) + "\n"
}

func newSheetPage(s lessons.Sheet, p text.Printer, inCourse bool) (sheetPage, error) {
	body := s.Body
	if inCourse {
		body = deeper(body)
	}
	var b bytes.Buffer
	err := goldmark.New(goldmark.WithExtensions(extension.Table)).Convert([]byte(strings.ReplaceAll(body, "- [ ] ", "- ☐ ")), &b)
	return sheetPage{ID: s.ID, Title: s.Title, Notice: p.Print(lessonNotice), Body: template.HTML(b.String())}, err
}

// SheetPage writes a sheet as a page to print.
func SheetPage(w io.Writer, s lessons.Sheet, p text.Printer) error {
	page, err := newSheetPage(s, p, false)
	if err != nil {
		return err
	}
	page.Notice = p.Print(text.Say("view.course.for-one-real-axle", "For one real axle: the maker's manual, local rules and licensed practice decide."))
	return writeCourse(w, "sheet", page)
}

// Sheet writes a sheet for a terminal.
func Sheet(s lessons.Sheet, p Pen) (string, error) {
	style := Plain
	if p.Color {
		style = Color
	}
	return Markdown("# "+s.Title+"\n\n"+s.Body, p.Width, style)
}

func writeCourse(w io.Writer, name string, data any) error {
	t, err := coursePages()
	if err != nil {
		return err
	}
	return t.ExecuteTemplate(w, name, data)
}

// LessonPath writes the order of the course, what each lesson trains and the lessons it
// leads to.
func LessonPath(p Pen) string {
	var b strings.Builder
	group := ""
	for _, l := range lessons.All() {
		if l.Group != group {
			group = l.Group
			b.WriteString(p.Heading(group))
		}
		b.WriteString(p.Field(fmt.Sprintf("%3d %s", l.Order, l.ID), p.Print(text.Say("view.course.trains", "{title}. Trains {skills}.", text.Typed("title", l.Title), text.Typed("skills", strings.Join(l.Skills, ", ")))), pathColumn))
	}
	return b.String()
}

const pathColumn = 24

// LessonsFound writes what a search found.
func LessonsFound(found []lessons.Found, p Pen) string {
	var b strings.Builder
	for _, f := range found {
		b.WriteString(Wrap(p.Strong(f.Lesson.ID)+": "+f.Lesson.Title, p.Width, ""))
		b.WriteString(Wrap(strings.NewReplacer("**", "", "`", "").Replace(strings.TrimLeft(f.Line, "-|0123456789. ")), p.Width, "    "))
	}
	return b.String()
}

// OtherNames says what else a term of the glossary is called, and where; "" for nothing.
func OtherNames(p text.Printer, t glossary.Term) string {
	var parts, said []string
	for _, n := range []struct {
		lead  string
		names []string
	}{{p.Print(text.Say("view.course.also", "Also")), t.Also}, {"UK", t.UK}, {p.Print(text.Say("view.course.understood-when-typed", "Understood when typed")), t.Typed}} {
		var names []string
		for _, name := range n.names {
			if name != t.Word && !slices.Contains(said, name) {
				names = append(names, name)
				said = append(said, name)
			}
		}
		if len(names) > 0 {
			parts = append(parts, n.lead+": "+strings.Join(names, ", ")+".")
		}
	}
	return strings.Join(parts, " ")
}

// Glossary writes terms with what they mean.
func Glossary(terms []glossary.Term, p Pen) string {
	var b strings.Builder
	for i, t := range terms {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(p.Strong(t.Word) + "\n" + Wrap(t.Meaning, p.Width, "  "))
		if other := OtherNames(p.Printer, t); other != "" {
			b.WriteString(Wrap(other, p.Width, "  "))
		}
		if len(t.Lessons) > 0 {
			b.WriteString(Wrap(p.Print(text.Say("view.course.read", "Read: {command}{more}", text.Typed("command", p.Command("lesson "+t.Lessons[0])), text.Typed("more", more(p.Printer, t.Lessons[1:])))), p.Width, "  "))
		}
	}
	return b.String()
}

// more lists further lessons.
func more(p text.Printer, ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	return p.Print(text.Say("view.course.and", ", and {ids}", text.Typed("ids", strings.Join(ids, ", "))))
}

// GlossaryList writes all words, close together; a word of several parts stays on its line.
func GlossaryList(p Pen) string {
	var words []string
	for _, t := range glossary.All() {
		words = append(words, strings.ReplaceAll(t.Word, " ", "_"))
	}
	prose := Wrap(strings.Join(words, ", "), p.Width, "")
	return strings.ReplaceAll(prose, "_", " ") + Wrap(p.Print(text.Say("view.course.what-one-means", "What one means: {command}", text.Typed("command", p.Command("glossary WORD")))), p.Width, "")
}

// LessonWords says which words of a lesson the glossary has.
func LessonWords(id string, p Pen) string {
	var words []string
	for _, t := range glossary.Of(id) {
		words = append(words, t.Word)
	}
	if len(words) == 0 {
		return ""
	}
	return Wrap(p.Print(text.Say("view.course.words-what-one-means", "Words: {words}. What one means: {command}", text.Typed("words", strings.Join(words, ", ")), text.Typed("command", p.Command("glossary WORD")))), p.Width, bodyIndent)
}
