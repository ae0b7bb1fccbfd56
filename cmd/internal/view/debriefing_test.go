package view

import (
	"bytes"
	"fmt"
	"html"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/debrief"
	"shimwright/grading/misconception"
	"shimwright/grading/reveal"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// debriefed is a debrief of a job that has something to say in every part.
func debriefed(t *testing.T, long bool) Debrief {
	t.Helper()
	b := work(t, family.Beech(), 7, technician.Habits{WrongMoveOnce: true})
	rep, err := grading.Grade(b.job.Card, b.outs, quantity.Inch)
	require.NoError(t, err)
	r, err := reveal.Of(b.job, b.stand, rep)
	require.NoError(t, err)
	r.Luck = append(r.Luck, text.Verbatim("That was luck."))
	one := misconception.Candidate{Believes: text.Verbatim("one reading is enough"), Right: text.Verbatim("Read four."), Acts: []int{4}}
	rep.Misconception = misconception.Finding{Misconceptions: []misconception.Candidate{one, one}}
	rep.Expectations = []grading.Expectation{{Act: 9, Kind: gauge.Backlash, Unit: "mm", Expected: 0.178, Read: 0.229, Believed: 0.216, Within: 0.025},
		{Act: 12, Kind: gauge.PinionTorque, Unit: "N·mm", Expected: 2000, Read: 2500, Believed: 2400, Within: 300}}
	rep.Decisions[0].Lost, rep.Decisions[0].Score, rep.Lesson = 40, 0.1, "check-again"
	told := debrief.New(b.job, rep, &r, b.outs, long)
	told.Terms = &debrief.Terms{Exercise: "first-depth", Digest: "0123abcd", Mode: "check", Help: "none", Begun: "2031-02-03T04:05:06Z", Ended: "2031-02-03T05:06:07Z", Earlier: 2}
	d := NewDebrief(told, DebriefWith{Again: again, Fork: "shimwright grade job.jsonl", Full: long})
	if long {
		v := reflect.ValueOf(d)
		for i := range v.NumField() {
			name := v.Type().Field(i).Name
			if name != "Nothing" && name != "Proved" && name != "said" { // of one without a loss, where the list is short, and the printer
				assert.False(t, v.Field(i).IsZero(), "%s is empty", name)
			}
		}
	}
	return d
}

// fill puts something into every part of a value: another word into each text, another
// figure into each number, two of each list. It tells what it put where.
func fill(v reflect.Value, name string, n *int, put func(name, text string)) {
	*n++
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), name, n, put)
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				fill(v.Field(i), name+"."+f.Name, n, put)
			}
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fill(v.Index(i), name, n, put)
		}
	case reflect.Bool:
		v.SetBool(*n%2 == 0)
	case reflect.String:
		text := fmt.Sprintf("word %dx", *n)
		v.SetString(text)
		put(name, text)
	case reflect.Int:
		v.SetInt(int64(1000 + *n))
		put(name, fmt.Sprint(1000+*n))
	case reflect.Float64:
		v.SetFloat(float64(1000+*n) + 0.5)
		put(name, fmt.Sprintf("%d.5", 1000+*n))
	default:
		panic("no way to fill " + name)
	}
}

// bare leaves the letters and figures of a text, so that neither line breaks nor the
// signs of a form count.
func bare(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, text)
}

var tag = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`)

// Whatever a debriefing holds stands in each of its forms, each text and each figure of it:
// no form can say less than another, and none has anything else to say.
func TestEveryFormSaysTheSame(t *testing.T) {
	var d Debrief
	n := 0
	want := map[string]string{}
	fill(reflect.ValueOf(&d).Elem(), "", &n, func(name, text string) { want[text] = name })
	require.Greater(t, len(want), 60)
	terminal, err := d.Text(Pen{Width: 100})
	require.NoError(t, err)
	var page bytes.Buffer
	require.NoError(t, d.HTML(&page))
	forms := map[string]string{"text": terminal, "Markdown": d.Markdown(), "page": html.UnescapeString(tag.ReplaceAllString(page.String(), ""))}
	for form, whole := range forms {
		for text, name := range want {
			assert.Contains(t, bare(whole), bare(text), "%s, %s", form, name)
		}
	}
}

// What a file or a report brings into a page is text there, whatever it looks like.
func TestPagesTakeTextAsText(t *testing.T) {
	const evil = `<script>alert("1")</script>`
	d := debriefed(t, true)
	v := reflect.ValueOf(&d).Elem()
	var poison func(v reflect.Value)
	poison = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				poison(v.Elem())
			}
		case reflect.Struct:
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					poison(v.Field(i))
				}
			}
		case reflect.Slice:
			for i := range v.Len() {
				poison(v.Index(i))
			}
		case reflect.String:
			v.SetString("a " + evil + v.String())
		}
	}
	poison(v)
	var page bytes.Buffer
	require.NoError(t, d.HTML(&page))
	assert.NotContains(t, page.String(), "<script")
	assert.Contains(t, page.String(), "&lt;script&gt;")
	// In Markdown a sign stands for itself but inside code.
	prose := regexp.MustCompile("`[^`]*`").ReplaceAllString(strings.ReplaceAll(d.Markdown(), d.Lesson.Body[:len(evil)+2], ""), "")
	assert.False(t, strings.Contains(prose, "<script"))
}

// A page needs nothing from anywhere: it names no address but those that are names only.
func TestAPageStandsAlone(t *testing.T) {
	var page bytes.Buffer
	require.NoError(t, debriefed(t, true).HTML(&page))
	text := strings.ReplaceAll(page.String(), `xmlns="http://www.w3.org/2000/svg"`, "")
	for _, s := range []string{"http:", "https:", "src=", "href=", "url(", "@import", "<script", "<link", "<iframe"} {
		assert.NotContains(t, text, s)
	}
	assert.Equal(t, 2, strings.Count(text, "<svg"), "the losses and the last print")
	ids := regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(text, -1)
	seen := map[string]bool{}
	for _, m := range ids {
		assert.False(t, seen[m[1]], "two parts of the page are called %s", m[1])
		seen[m[1]] = true
	}
}
