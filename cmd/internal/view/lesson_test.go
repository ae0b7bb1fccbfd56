package view

import (
	"regexp"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/lessons"
	"shimwright/lessons/figure"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Every lesson fits the screen with its figures, whose captions stand where the blocks did.
func TestLessonsWithFiguresFitTheScreen(t *testing.T) {
	for _, l := range lessons.All() {
		for _, width := range []int{40, 80} {
			p := NewPen(text.Printer{}.In(quantity.Metric), width)
			p.Color = width == 80
			text, err := Lesson(l.Title, l.Body, "", p)
			require.NoError(t, err, l.ID)
			assert.NotContains(t, text, "```", l.ID)
			assert.NotContains(t, text, "caption:", l.ID)
			for line := range strings.SplitSeq(text, "\n") {
				assert.LessOrEqual(t, ansi.StringWidth(line), width, "%s: %s", l.ID, line)
			}
			flat := strings.Join(strings.Fields(ansi.Strip(text)), " ")
			pieces, err := figure.Split(l.Body)
			require.NoError(t, err)
			for _, piece := range pieces {
				if piece.Figure != nil {
					assert.Contains(t, flat, piece.Figure.Caption, l.ID)
				}
			}
		}
	}
}

// A lesson on a page has every figure inline, each named once, tables as tables.
func TestLessonPagesHoldTheirFigures(t *testing.T) {
	ids := regexp.MustCompile(` id="([^"]+)"`)
	for _, l := range lessons.All() {
		page, err := lessonHTML(l.Body, quantity.Inch, l.ID)
		require.NoError(t, err, l.ID)
		seen := map[string]bool{}
		for _, m := range ids.FindAllStringSubmatch(string(page), -1) {
			assert.False(t, seen[m[1]], "%s: %s is named twice", l.ID, m[1])
			seen[m[1]] = true
		}
		pieces, err := figure.Split(l.Body)
		require.NoError(t, err)
		drawings := 0
		for _, piece := range pieces {
			if piece.Figure != nil && piece.Figure.Show != figure.Table {
				drawings++
			}
		}
		assert.Equal(t, drawings, strings.Count(string(page), "<svg "), l.ID)
		assert.Equal(t, drawings, strings.Count(string(page), "<figcaption>"), l.ID)
		assert.Equal(t, drawings, strings.Count(string(page), "<desc "), l.ID)
	}
}

// A lesson with two figures, axle and all. The limit is 60 ms beyond what starting takes.
func BenchmarkLessonWithTwoFigures(b *testing.B) {
	l, err := lessons.Find("depth-height")
	require.NoError(b, err)
	pieces, err := figure.Split(l.Body)
	require.NoError(b, err)
	figures := 0
	for _, p := range pieces {
		if p.Figure != nil {
			figures++
		}
	}
	require.Equal(b, 2, figures)
	for b.Loop() {
		if _, err := Lesson(l.Title, l.Body, "", NewPen(text.Printer{}, 80)); err != nil {
			b.Fatal(err)
		}
	}
}
