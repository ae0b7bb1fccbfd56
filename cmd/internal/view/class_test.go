package view

import (
	"bytes"
	"encoding/csv"
	"html"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/class"
	"shimwright/scenarios"
	"shimwright/sim/text"
)

func classRows() []class.Row {
	areas := []grading.AreaScore{{Area: grading.Looking, Score: 90}}
	sides := class.Kind{Did: "fit case", Area: grading.Sides, Lost: 19}
	return []class.Row{
		{Pupil: "bo", Family: "BEECH", Seed: 10, File: "bo/b.jsonl", SignedOff: true, Counted: true, Score: 81, Areas: areas, Lost: 20, Dearest: &class.Dearest{Act: 4, Did: "fit case", Lost: 19}, Lesson: "side-shims", ByKind: []class.Kind{sides}},
		{Pupil: "ann", Family: "BEECH", Seed: 9, File: "ann/a.jsonl", SignedOff: true, Counted: true, Score: 60, Areas: areas, Lost: 50, Misconception: "one-place", Believes: text.Verbatim("one reading is enough")},
		{Pupil: "ann", Family: "BEECH", Seed: 9, File: "ann/b.jsonl", Score: 33, Areas: areas, Lost: 2},
		{Pupil: "bo", Family: "BEECH", Kind: scenarios.SidesJob, Seed: 9, File: "bo/a.jsonl", SignedOff: true, Counted: true, Score: 70, Areas: areas, Lost: 5, Misconception: "one-place", Believes: text.Verbatim("one reading is enough")},
	}
}

func sampleClass() Class {
	return Class{class.New(classRows(), [][]string{{"ann/a.jsonl", "bo/a.jsonl"}}, []class.Trouble{{File: "bo/c.jsonl", Why: "the record is damaged: line 2"}}), true, text.Printer{}}
}

// What a class adds up to is told in words, and its scores stand in one table.
func TestAClassIsTold(t *testing.T) {
	c := sampleClass()
	assert.Equal(t, "A class of 5 attempts", c.title())
	assert.Equal(t, [][]string{{"ann", "60 (33)", "", "", "60.0"}, {"bo", "", "81", "70", "75.5"}}, c.scores().rows)
	assert.Equal(t, []string{"Pupil", " BEECH 9", " BEECH 10", " BEECH, side bearings and backlash 9", " Mean"}, c.scores().head)
	assert.Equal(t, []Loss{{"fit case: side bearings and backlash", 4.75, "in 1 of 4"}}, c.dear())
	assert.Contains(t, c.means(), "Mean score: 70.3 (of 3 attempts).")
	assert.Contains(t, c.means(), "Mean for pinion depth: there is none yet.")
	assert.Equal(t, []string{"In 2 of 4: the idea that one reading is enough."}, c.misconceptions())
}

func TestEveryFormOfAClassSaysTheSame(t *testing.T) {
	c := sampleClass()
	var page bytes.Buffer
	require.NoError(t, c.HTML(&page))
	forms := map[string]string{"text": bare(c.Text(Pen{Width: 100})), "Markdown": bare(html.UnescapeString(c.Markdown())), "page": bare(html.UnescapeString(tag.ReplaceAllString(page.String(), "")))}
	want := []string{c.title(), c.summary(), c.notice(), bracketsNote, dearTitle, "fit case: side bearings and backlash", "4.8", "in 1 of 4"}
	for _, p := range c.parts() {
		want = append(append(want, p.title), p.list...)
		for _, r := range p.table.rows {
			want = append(want, r...)
		}
	}
	for form, whole := range forms {
		for _, text := range want {
			assert.Contains(t, whole, bare(text), form)
		}
	}
}

func TestAClassFits(t *testing.T) {
	for _, width := range widths {
		for line := range strings.SplitSeq(sampleClass().Text(Pen{Width: width}), "\n") {
			assert.LessOrEqual(t, len(line), width, line)
		}
	}
}

// A file's name comes from anybody: in a page it is text, and in a spreadsheet no formula.
func TestNamesOfFilesDoNoHarm(t *testing.T) {
	for _, name := range []string{"=1+1", "+1", "-1", "@x", "\t=1", " =1", "＝1"} {
		c := Class{class.New([]class.Row{{Pupil: name, File: name}}, nil, []class.Trouble{{File: name, Why: "why"}}), true, text.Printer{}}
		var b bytes.Buffer
		require.NoError(t, c.CSV(&b))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, 3)
		for _, cell := range []string{rows[1][0], rows[1][2], rows[2][2]} {
			assert.Equal(t, "'"+name, cell)
		}
	}
	c := Class{class.New([]class.Row{{Pupil: "<script>", File: "a|b<script>"}}, nil, nil), true, text.Printer{}}
	var page bytes.Buffer
	require.NoError(t, c.HTML(&page))
	assert.NotContains(t, page.String(), "<script>")
	assert.NotContains(t, c.Markdown(), "<script>")
	assert.Contains(t, c.Markdown(), `a\|b`)
}
