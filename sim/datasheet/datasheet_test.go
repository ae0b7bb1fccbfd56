package datasheet_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim/datasheet"
)

var errNotCard = errors.New("no card")

func card() datasheet.Kind {
	return datasheet.Kind{Key: "card", Version: 3, Name: "card", Full: "bench card", Groups: []string{"shims"}, See: "the drawer", Foreign: errNotCard}
}

// read reads a card with one group and returns what it holds.
func read(text string) (size float64, clean bool, problems datasheet.Problems) {
	r, b := datasheet.Read([]byte(text), "x", card())
	if b == nil {
		return 0, false, r.Problems()
	}
	in := b.Sub("shims", "the sizes")
	size = in.Number("size", "size of the shim", datasheet.Lengths(), datasheet.Between(0.1, 2))
	in.Done()
	b.Done()
	return size, in.Clean(), r.Problems()
}

func TestReads(t *testing.T) {
	for _, text := range []string{"card: 3\nshims: {size_mm: 0.127}", "card: 3 # remark\nshims:\n  size_in: 0.005\n", "\ufeffcard: 3\r\nshims:\r\n  size_mm: 1.27e-1\r\n"} {
		size, clean, problems := read(text)
		require.Empty(t, problems, text)
		assert.True(t, clean)
		assert.Equal(t, 0.127, size, "25.4 mm to the inch, exact: %s", text)
	}
}

func TestNamesMistakes(t *testing.T) {
	for _, c := range []struct {
		text         string
		line, column int
		what, right  string
	}{
		{"shims: {size_mm: 1}", 1, 1, "the file lacks card", "card: 3"},
		{"card: three\nshims: {size_mm: 1}", 1, 7, `card holds the text "three"`, "the version of the format: 3"},
		{"card: 3\nshims: {}", 2, 1, "the group shims lacks size_mm or size_in", "size of the shim, between 0.1 and 2 mm"},
		{"card: 3\nshims: {size: 1}", 2, 9, "shims: size is no key", "size_mm"},
		{"card: 3\nshims: {size_mm: 1, size_in: 0.04}", 2, 21, "size_in says what size_mm in line 2 says too", "one of the two"},
		{"card: 3\nshims: {size_in: 1}", 2, 18, "size_in is 1", "between 0.003937 and 0.07874 in"},
		{"card: 3\nshims: {size_mm: *a}", 2, 18, "a reference, which a card file does not use", "a number"},
		{"card: 3\nshims: {size_mm: 1}\ncolour: red", 3, 1, "colour is no key", "one of the keys of this group: card, shims"},
	} {
		_, _, problems := read(c.text)
		require.Len(t, problems, 1, "%s: %v", c.text, problems)
		p := problems[0]
		assert.Equal(t, [2]int{c.line, c.column}, [2]int{p.Line, p.Column}, c.text)
		assert.Contains(t, p.What, c.what)
		assert.Contains(t, p.Right, c.right)
		assert.NotErrorIs(t, problems, errNotCard)
	}
	_, clean, _ := read("card: 3\nshims: {size_mm: 9}")
	assert.False(t, clean)
	_, clean, _ = read("card: 3\n")
	assert.False(t, clean, "a group that is missing is not clean")
}

// Lists hold each value once, within limits and of the words there are; every wrong value is
// named at its own place and the others are read.
func TestLists(t *testing.T) {
	lists := func(text string) (words, wholes []datasheet.Item, problems datasheet.Problems) {
		r, b := datasheet.Read([]byte("card: 3\nshims: {}\n"+text), "x", card())
		b.Sub("shims", "the sizes").Done()
		words = b.Words("tools", "the tools", 3, true, "dial", "string", "wrench")
		wholes = b.Wholes("sizes", "the sizes", 3, true, datasheet.Between(1, 9))
		b.Done()
		return words, wholes, r.Problems()
	}
	words, wholes, problems := lists("tools: [string, dial]\nsizes:\n  - 3\n  - 1\n")
	require.Empty(t, problems)
	assert.Equal(t, []string{"string", "dial"}, []string{words[0].Text, words[1].Text})
	assert.Equal(t, []float64{3, 1}, []float64{wholes[0].Number, wholes[1].Number})
	words, wholes, problems = lists("")
	assert.True(t, words == nil && wholes == nil && len(problems) == 0)
	for _, c := range []struct {
		text         string
		line, column int
		what, right  string
		good         int
	}{
		{"tools: [string, dail]", 3, 17, `tools holds "dail"`, "dial", 1},
		{"tools: [string, string, dial]", 3, 17, `tools holds "string" a second time`, "each value once", 2},
		{"tools: [string, 7]", 3, 17, "tools holds the number 7", "the tools", 1},
		{"tools: [string, [dial]]", 3, 17, "tools holds a list", "the tools", 1},
		{"tools: string", 3, 8, "tools holds the text", "[one, two]", 0},
		{"tools: []", 3, 1, "tools is empty", "the tools", 0},
		{"tools: [a, b, c, d]", 3, 1, "tools holds 4 values", "at most 3", 0},
		{"sizes: [1, 10]", 3, 12, "sizes holds 10", "whole numbers between 1 and 9", 1},
		{"sizes: [1, 1.5]", 3, 12, "sizes holds 1.5", "whole numbers between 1 and 9", 1},
		{"sizes: [1, 1]", 3, 12, "sizes holds 1 a second time", "each value once", 1},
		{"sizes: [1, two]", 3, 12, "sizes holds the text", "whole numbers", 1},
	} {
		words, wholes, problems := lists(c.text)
		require.Len(t, problems, 1, "%s: %v", c.text, problems)
		assert.Equal(t, [2]int{c.line, c.column}, [2]int{problems[0].Line, problems[0].Column}, c.text)
		assert.Contains(t, problems[0].What, c.what)
		assert.Contains(t, problems[0].Right, c.right)
		assert.Len(t, append(words, wholes...), c.good, c.text)
	}
}

func TestWhatIsNoneAtAll(t *testing.T) {
	for text, what := range map[string]string{"": "says nothing", "- 1": "no list of keys", "a: 1": "this is no bench card: it has none of a card's groups",
		"card: 4": "version 4", "card: 3\n---\ncard: 3": "a second document", "\xff": "UTF-8", "a: [": "cannot be read on", "\x00": "control character"} {
		_, _, problems := read(text)
		require.Len(t, problems, 1, text)
		assert.Contains(t, problems[0].What, what)
		assert.ErrorIs(t, problems, errNotCard)
	}
	assert.NotErrorIs(t, datasheet.Problems(nil), errNotCard)
}

func TestProblemsAsAnError(t *testing.T) {
	all := datasheet.Problems{{File: "x", Line: 2, Column: 3, What: "wrong", Right: "this"}, {File: "x", Line: 2, Column: 1}, {File: "x", Line: 1, Column: 9}}
	assert.Equal(t, "x:2:3: wrong; right would be: this (and 2 more)", all.Error())
	assert.Equal(t, "x:2:3: wrong; right would be: this", all[:1].Error())
	datasheet.Sort(all)
	assert.Equal(t, []int{9, 1, 3}, []int{all[0].Column, all[1].Column, all[2].Column})
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	_, err := datasheet.ReadFile(filepath.Join(dir, "none"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = datasheet.ReadFile(dir)
	assert.ErrorContains(t, err, "no ordinary file")
	big := filepath.Join(dir, "big")
	require.NoError(t, os.WriteFile(big, []byte(strings.Repeat("# x\n", 20_000)), 0o600))
	text, err := datasheet.ReadFile(big)
	require.NoError(t, err)
	_, _, problems := read(string(text))
	require.Len(t, problems, 1)
	assert.Contains(t, problems[0].What, "bytes", "enough of it is read to tell that it is too large")
}
