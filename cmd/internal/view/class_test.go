package view

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"html"
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func classRows() []ClassRow {
	areas := []int{90, -1}
	return []ClassRow{
		{Pupil: "bo", Job: "BEECH 10", File: "bo/b.jsonl", SignedOff: true, Score: 81, Areas: areas, Lost: 20, Dearest: "act 4, fit case", DearestLost: 19, Lesson: "side-shims", ByKind: []Loss{{Name: "fit case: sides", Minutes: 19}}},
		{Pupil: "ann", Job: "BEECH 9", File: "ann/a.jsonl", SignedOff: true, Score: 60, Areas: areas, Lost: 50, Misconception: "one reading is enough", ByKind: []Loss{{Name: "sign off: stopping", Minutes: 40}, {Name: "fit case: sides", Minutes: 10}}},
		{Pupil: "ann", Job: "BEECH 9", File: "ann/b.jsonl", Score: 33, Areas: areas, Lost: 2},
		{Pupil: "bo", Job: "BEECH 9", File: "bo/a.jsonl", SignedOff: true, Score: 70, Areas: areas, Lost: 5, Misconception: "one reading is enough"},
	}
}

func sampleClass() Class {
	return NewClass([]string{"looking", "depth"}, classRows(), [][]string{{"ann/a.jsonl", "bo/a.jsonl"}}, []Trouble{{"bo/c.jsonl", "the record is damaged: line 2"}}, true)
}

// Worked out by hand: means, sums, order and cells.
func TestAClassAddsUp(t *testing.T) {
	c := sampleClass()
	assert.Equal(t, "A class of 5 attempts", c.Title)
	assert.Equal(t, [][]string{{"ann", "60 (33)", "", "60.0"}, {"bo", "70", "81", "75.5"}}, c.scores().rows)
	assert.Equal(t, []string{"Pupil", " BEECH 9", " BEECH 10", " Mean"}, c.scores().head)
	assert.Equal(t, []Loss{{"sign off: stopping", 10, "in 1 of 4"}, {"fit case: sides", 7.25, "in 2 of 4"}}, c.Dear)
	assert.Contains(t, c.Means, "Mean score: 70.3 (of 3 attempts).")
	assert.Contains(t, c.Means, "Mean for depth: there is none yet.")
	assert.Equal(t, []string{"In 2 of 4: the idea that one reading is enough."}, c.Misconceptions)
}

// The order in which files were named or graded does not show.
func TestAClassHasOneOrder(t *testing.T) {
	want := sampleClass().Text(Pen{Width: 80})
	shuffle := rand.New(rand.NewSource(1))
	for range 10 {
		rows := classRows()
		shuffle.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		c := NewClass([]string{"looking", "depth"}, rows, [][]string{{"ann/a.jsonl", "bo/a.jsonl"}}, []Trouble{{"bo/c.jsonl", "the record is damaged: line 2"}}, true)
		assert.Equal(t, want, c.Text(Pen{Width: 80}))
	}
}

func TestEveryFormOfAClassSaysTheSame(t *testing.T) {
	c := sampleClass()
	var page bytes.Buffer
	require.NoError(t, c.HTML(&page))
	forms := map[string]string{"text": bare(c.Text(Pen{Width: 100})), "Markdown": bare(html.UnescapeString(c.Markdown())), "page": bare(html.UnescapeString(tag.ReplaceAllString(page.String(), "")))}
	want := []string{c.Title, c.Summary, c.Notice, bracketsNote, dearTitle, "fit case: sides", "7.2", "in 2 of 4"}
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
	data, err := json.Marshal(c)
	require.NoError(t, err)
	var back Class
	require.NoError(t, json.Unmarshal(data, &back))
	back.long = true
	assert.Equal(t, c, back)
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
		c := NewClass(nil, []ClassRow{{Pupil: name, File: name}}, nil, []Trouble{{name, "why"}}, true)
		var b bytes.Buffer
		require.NoError(t, c.CSV(&b))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, 3)
		for _, cell := range []string{rows[1][0], rows[1][2], rows[2][2]} {
			assert.Equal(t, "'"+name, cell)
		}
	}
	c := NewClass(nil, []ClassRow{{Pupil: "<script>", File: "a|b<script>"}}, nil, nil, true)
	var page bytes.Buffer
	require.NoError(t, c.HTML(&page))
	assert.NotContains(t, page.String(), "<script>")
	assert.NotContains(t, c.Markdown(), "<script>")
	assert.Contains(t, c.Markdown(), `a\|b`)
}
