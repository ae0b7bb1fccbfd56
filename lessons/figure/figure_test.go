package figure

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const block = "```figure\nshow: strip\nfamily: BEECH\nset: used, film=0.010mm\nframe: too deep; depth=-0.006in, ring-gear=0.002in\nframe: right\ncaption: What it shows.\n```\n"

func TestSplit(t *testing.T) {
	pieces, err := Split("## Aim\n\nText.\n\n" + block + "\nMore.\n")
	require.NoError(t, err)
	require.Len(t, pieces, 3)
	assert.Equal(t, Piece{Markdown: "## Aim\n\nText.\n"}, pieces[0])
	assert.Equal(t, Piece{Markdown: "More.\n"}, pieces[2])
	assert.Equal(t, Piece{Figure: &Block{Show: Strip, Family: "BEECH", Set: []Setting{{"used", ""}, {"film", "0.010mm"}},
		Frames:  []Frame{{"too deep", []Setting{{"depth", "-0.006in"}, {"ring-gear", "0.002in"}}}, {Label: "right"}},
		Caption: "What it shows."}}, pieces[1])
	assert.Equal(t, "Text.\n\nWhat it shows.\n\nMore.\n", Prose("Text.\n\n"+block+"\nMore.\n"))

	pieces, err = Split("Nothing but words.\n")
	require.NoError(t, err)
	assert.Equal(t, []Piece{{Markdown: "Nothing but words.\n"}}, pieces)
}

func TestABlockIsReadStrictly(t *testing.T) {
	for want, c := range map[string][2]string{
		"line 1: the figure has no closing line":   {"```\n", ""},
		`line 2: show "sketch" is none of`:         {"show: strip", "show: sketch"},
		`line 3: family "beech" is no family's`:    {"BEECH", "beech"},
		`line 4: "Used" is no setting`:             {"used,", "Used,"},
		"line 4: film has no amount":               {"film=0.010mm", "film="},
		"line 4: film is set twice":                {"used", "film=1mm"},
		`line 5: "" is no setting`:                 {"; depth=-0.006in, ring-gear=0.002in", "; "},
		`line 7: "size" is not a known key`:        {"caption: ", "size: "},
		"line 3: show is given twice":              {"family: BEECH", "show: strip"},
		`line 6: "frame right" is not "key: value`: {"frame: right", "frame right"},
		"line 1: the figure has no caption":        {"caption: What it shows.\n", ""},
		"line 1: the figure names no family":       {"family: BEECH\n", ""},
		"line 1: the figure does not say what":     {"show: strip\n", ""},
		"frames and a sweep both":                  {"set: used", "sweep: depth=0in..1in/3\nset: used"},
		"patterns shows one state":                 {"show: strip", "show: patterns"},
		"a curve needs a sweep":                    {"show: strip", "show: curve"},
		"a strip needs frames or a sweep":          {"frame: too deep; depth=-0.006in, ring-gear=0.002in\nframe: right\n", ""},
		"measures after of belong to":              {"show: strip", "show: table"},
		`"Torque" is no name`:                      {"set: used", "of: Torque\nset: used"},
	} {
		_, err := Split(strings.Replace(block, c[0], c[1], 1))
		assert.ErrorContains(t, err, want)
	}
	assert.Equal(t, "```figure\n", Prose("```figure\n"), "a faulty block stays")
	_, err := Split("```figure\nshow: section\nfamily: ELM\nset: used\ncaption: C.\n```")
	assert.ErrorContains(t, err, "section shows how the family is built")
}
