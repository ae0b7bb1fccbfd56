package view

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/lessons/glossary"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func coursePageOf(t *testing.T, write func(*bytes.Buffer) error) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(&b))
	page := b.String()
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		assert.False(t, ids[m[1]], "%s is named twice", m[1])
		ids[m[1]] = true
	}
	for _, m := range regexp.MustCompile(` href="#([^"]+)"`).FindAllStringSubmatch(page, -1) {
		assert.True(t, ids[m[1]], "nothing on the page is called %s", m[1])
	}
	// Nothing is fetched, nothing runs, and every picture says what it shows.
	assert.NotRegexp(t, `(src|href)="[^#]|@import|url\(|<script`, page)
	assert.Equal(t, strings.Count(page, "<svg "), strings.Count(page, "<desc "))
	assert.Equal(t, 1, strings.Count(page, "<h1>"))
	assert.NotContains(t, page, "```")
	return page
}

// The page of the course has every lesson, every word and every sheet, and hangs together.
func TestCoursePage(t *testing.T) {
	try := func(l lessons.Lesson) string { return "practice " + l.TryFamily }
	page := coursePageOf(t, func(b *bytes.Buffer) error {
		return Course(b, lessons.All(), NewPen(text.Printer{}, 80), try)
	})
	for _, l := range lessons.All() {
		assert.Contains(t, page, `<article id="lesson-`+l.ID+`">`)
	}
	for _, w := range glossary.All() {
		assert.Contains(t, page, `<dt id="`+wordID(w)+`">`)
	}
	for _, s := range lessons.Sheets() {
		assert.Contains(t, page, `id="sheet-`+s.ID+`"`)
	}
	assert.Equal(t, 5, strings.Count(page, "<ol start="), "groups")
	one := coursePageOf(t, func(b *bytes.Buffer) error {
		return Course(b, lessons.All()[:1], NewPen(text.Printer{}.In(quantity.Metric), 80), try)
	})
	assert.NotContains(t, one, "Glossary")
	assert.Contains(t, one, "<h1>"+lessons.All()[0].Title+"</h1>")
}

// A slide has the aim, the figures and the question of its lesson, and not its answer.
func TestSlides(t *testing.T) {
	page := coursePageOf(t, func(b *bytes.Buffer) error { return Slides(b, lessons.All(), NewPen(text.Printer{}, 80)) })
	assert.Equal(t, len(lessons.All())+1, strings.Count(page, "<section"), "a title page and one a lesson")
	assert.Equal(t, len(lessons.All()), strings.Count(page, "<h3>Check yourself</h3>"))
	assert.NotContains(t, page, "<h3>Answer</h3>")
	assert.NotContains(t, page, "<h3>On the bench</h3>")
}

func TestSheetPages(t *testing.T) {
	for _, s := range lessons.Sheets() {
		page := coursePageOf(t, func(b *bytes.Buffer) error { return SheetPage(b, s, text.Printer{}) })
		assert.Contains(t, page, "<h1>"+s.Title+"</h1>")
		assert.NotContains(t, page, "[ ]")
		text, err := Sheet(s, NewPen(text.Printer{}, 80))
		require.NoError(t, err)
		assert.Contains(t, text, s.Title)
	}
}
