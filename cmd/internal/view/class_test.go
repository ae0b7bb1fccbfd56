package view

import (
	"bytes"
	"encoding/csv"
	"html"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

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
	return Class{class.New(classRows(), [][]string{{"ann/a.jsonl", "bo/a.jsonl"}}, []class.Trouble{{File: "bo/c.jsonl", Why: text.Verbatim("the record is damaged: line 2")}}), true, text.Printer{}}
}

// What a class adds up to is told in words, and its scores stand in one table.
func TestAClassIsTold(t *testing.T) {
	c := sampleClass()
	assert.Equal(t, "A class of 5 attempts", c.title())
	assert.Equal(t, [][]string{{"ann", "60 (33)", "-", "-", "60.0 ±43"}, {"bo", "-", "81", "70", "75.5 ±30"}}, c.scores().rows)
	assert.Equal(t, []string{"Pupil", " BEECH 9", " BEECH 10", " BEECH, side bearings and backlash 9", " Mean"}, c.scores().head)
	notes := c.notes(c.scores())
	assert.Equal(t, []string{c.Printer.Print(bracketsNote), c.Printer.Print(missingNote)}, notes[:2], "each sign in the table is explained, and no other")
	assert.Len(t, notes, 2+len(grading.TheSurety().Messages()))
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
	want := []string{c.title(), c.summary(), c.notice(), c.Printer.Print(bracketsNote), c.Printer.Print(dearTitle), "fit case: side bearings and backlash", "4.8", "in 1 of 4"}
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
			assert.LessOrEqual(t, utf8.RuneCountInString(line), width, line)
		}
	}
}

// A file's name comes from anybody: in a page it is text, and in a spreadsheet no formula.
func TestNamesOfFilesDoNoHarm(t *testing.T) {
	for _, name := range []string{"=1+1", "+1", "-1", "@x", "\t=1", " =1", "＝1"} {
		c := Class{class.New([]class.Row{{Pupil: name, File: name}}, nil, []class.Trouble{{File: name, Why: text.Verbatim("why")}}), true, text.Printer{}}
		var b bytes.Buffer
		require.NoError(t, c.CSV(&b))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, 3)
		for _, cell := range []string{rows[1][0], rows[1][2], rows[2][2]} {
			want := "'" + name
			if strings.HasPrefix(name, "\t") {
				want = `\t=1` // visible, and so no formula
			}
			assert.Equal(t, want, cell)
		}
	}
	c := Class{class.New([]class.Row{{Pupil: "<script>", File: "a|b<script>"}}, nil, nil), true, text.Printer{}}
	var page bytes.Buffer
	require.NoError(t, c.HTML(&page))
	assert.NotContains(t, page.String(), "<script>")
	assert.NotContains(t, c.Markdown(), "<script>")
	assert.Contains(t, c.Markdown(), `a\|b`)
}

// Scores on different terms stand in different columns and different means: another exercise,
// mode, help, or an exercise of the same name whose file says something else.
func TestDifferentTermsNeverShareAColumn(t *testing.T) {
	on := func(file string, score int, terms class.Terms) class.Row {
		return class.Row{Pupil: "ann", File: file, Family: "BEECH", Seed: 9, SignedOff: true, Counted: true, Score: score, Terms: terms}
	}
	exam := class.Terms{Exercise: "final", Digest: "1", Mode: "exam", Help: "none", Mark: "aa", Begun: "2031-02-03T04:05:06Z", Ended: "2031-02-03T05:05:06Z", Earlier: 2}
	changed := exam
	changed.Digest, changed.Mark = "2", "bb"
	rows := []class.Row{
		on("a", 10, class.Terms{Mode: "practice", Help: "full", Mark: "cc"}),
		on("b", 20, exam),
		on("c", 30, changed),
		on("d", 40, class.Terms{Mode: "practice", Help: "little", Mark: "dd"}),
		on("e", 50, exam),
	}
	c := Class{class.New(rows, nil, nil), true, text.Printer{}}
	assert.Equal(t, []string{"Pupil", " BEECH 9", " BEECH 9 (help little)", " BEECH 9 (final, exam) terms aa", " BEECH 9 (final, exam) terms bb",
		" Mean", " Mean (help little)", " Mean (final, exam)", " Mean (final, exam) 4"}, c.scores().head)
	assert.Equal(t, [][]string{{"ann", "10", "40", "20 50", "30", "10.0 ±43", "40.0 ±43", "35.0 ±30", "30.0 ±43"}}, c.scores().rows)
	require.Len(t, c.Means.People, 4)
	assert.Contains(t, c.Text(Pen{Width: 100}), "different terms")

	var b bytes.Buffer
	require.NoError(t, c.CSV(&b))
	cells, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	at := func(row int, name string) string { return cells[row][slices.Index(cells[0], name)] }
	for name, want := range map[string]string{"exercise": "final", "exercise_digest": "1", "mode": "exam", "help": "none", "terms": "aa",
		"begun": "2031-02-03T04:05:06Z", "signed_at": "2031-02-03T05:05:06Z", "earlier_tries": "2"} {
		assert.Equal(t, want, at(3, name), name)
	}
	assert.Equal(t, "practice", at(1, "mode"))

	one := Class{class.New(rows[1:2], nil, nil), true, text.Printer{}}
	assert.Equal(t, []string{"Pupil", " BEECH 9 (final, exam)", " Mean"}, one.scores().head)
	assert.Equal(t, []string{exam.Begun, exam.Ended, "2"}, one.attempts().rows[0][len(one.attempts().rows[0])-4:len(one.attempts().rows[0])-1])
	open := rows[1]
	open.SignedOff = false
	assert.Equal(t, "open", signedText(text.Printer{}, open))
}

// Nothing that a name holds moves a cursor, changes a color, turns the writing round or breaks a
// line, in whatever form it is told.
func TestNamesActOnNothing(t *testing.T) {
	const name = "a\x1b[2J\u202eb\nc\u009bd\x7f"
	row := class.Row{Pupil: name, File: name, Family: "BEECH", Terms: class.Terms{Exercise: name, Begun: name}}
	c := Class{class.New([]class.Row{row}, [][]string{{name, name}}, []class.Trouble{{Pupil: name + "2", File: name, Why: text.Verbatim(name)}}), true, text.Printer{}}
	c.Passed = []string{name}
	var table, page bytes.Buffer
	require.NoError(t, c.CSV(&table))
	require.NoError(t, c.HTML(&page))
	for form, whole := range map[string]string{"text": c.Text(Pen{Width: 100}), "Markdown": c.Markdown(), "page": page.String(), "CSV": table.String()} {
		assert.NotContains(t, whole, name, form)
		for _, r := range whole {
			assert.True(t, r == '\n' || unicode.IsGraphic(r), "%s: %U", form, r)
		}
	}
	assert.Equal(t, `a\x1b[2J\u202eb\nc\u009bd\x7f`, Visible(name))
	assert.Equal(t, "Zoë Müller 李", Visible("Zoë Müller 李"))
	assert.Equal(t, []string{name}, c.Passed, "what is told is not what is kept")
}

// A pupil of whom nothing is graded stands in the table of scores all the same.
func TestAPupilWithoutAScoreIsInTheTable(t *testing.T) {
	c := Class{class.New(classRows(), nil, []class.Trouble{{Pupil: "amy", File: "amy/x"}}), true, text.Printer{}}
	assert.Equal(t, []string{"amy", "-", "-", "-", "-"}, c.scores().rows[0])
	assert.Contains(t, c.Text(Pen{Width: 100}), c.Printer.Print(absentTitle))
}
