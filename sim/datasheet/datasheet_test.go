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
	"shimwright/sim/text"
)

var errNotCard = errors.New("no card")

func card() datasheet.Kind {
	return datasheet.Kind{Key: "card", Version: 3, Name: text.Say("test.card", "a bench card"), Groups: []string{"shims"}, See: "card show", Foreign: errNotCard}
}

func say(m text.Message) string { return text.Printer{}.Print(m) }

func sizeOf() text.Message { return text.Say("test.size", "size of the shim") }
func sizes() text.Message  { return text.Say("test.sizes", "the sizes") }
func tools() text.Message  { return text.Say("test.tools", "the tools") }

// read reads a card with one group and returns what it holds.
func read(file string) (size float64, clean bool, problems datasheet.Problems) {
	r, b := datasheet.Read([]byte(file), "x", card())
	if b == nil {
		return 0, false, r.Problems()
	}
	in := b.Sub("shims", sizes())
	size = in.Number("size", sizeOf(), datasheet.Lengths(), datasheet.Between(0.1, 2))
	in.Done()
	b.Done()
	return size, in.Clean(), r.Problems()
}

func TestReads(t *testing.T) {
	for _, file := range []string{"card: 3\nshims: {size_mm: 0.127}", "card: 3 # remark\nshims:\n  size_in: 0.005\n", "\ufeffcard: 3\r\nshims:\r\n  size_mm: 1.27e-1\r\n"} {
		size, clean, problems := read(file)
		require.Empty(t, problems, file)
		assert.True(t, clean)
		assert.Equal(t, 0.127, size, "25.4 mm to the inch, exact: %s", file)
	}
}

func TestNamesMistakes(t *testing.T) {
	for _, c := range []struct {
		text         string
		line, column int
		key          string
		what, want   string
	}{
		{"shims: {size_mm: 1}", 1, 1, "card", "the file has no card", "card: 3"},
		{"card: three\nshims: {size_mm: 1}", 1, 7, "card", `card holds the text "three"`, "the format version: card: 3"},
		{"card: 3\nshims: {}", 2, 1, "shims: size_in", "the group shims has no size_in or size_mm", "size of the shim, between 0.003937 and 0.07874 in"},
		{"card: 3\nshims: {size: 1}", 2, 9, "shims: size", "shims: size is not a key", "size_mm"},
		{"card: 3\nshims: {size_mm: 1, size_in: 0.04}", 2, 21, "shims: size_in", "size_in repeats what size_mm in line 2 says", "only one of the two"},
		{"card: 3\nshims: {size_in: 1}", 2, 18, "shims: size_in", "size_in is 1", "between 0.003937 and 0.07874 in"},
		{"card: 3\nshims: {size_mm: *a}", 2, 18, "shims: size_mm", "a reference, which these files do not use", "a number"},
		{"card: 3\nshims: {size_mm: 1}\ncolour: red", 3, 1, "colour", "colour is not a key", "one of the keys of this group: card or shims"},
	} {
		_, _, problems := read(c.text)
		require.Len(t, problems, 1, "%s: %v", c.text, problems)
		p := problems[0]
		assert.Equal(t, [2]int{c.line, c.column}, [2]int{p.Line, p.Column}, c.text)
		assert.Contains(t, say(p.What), c.what)
		assert.Contains(t, say(p.Want), c.want)
		assert.Equal(t, c.key, p.Key, c.text)
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
	lists := func(file string) (words, wholes []datasheet.Item, problems datasheet.Problems) {
		r, b := datasheet.Read([]byte("card: 3\nshims: {}\n"+file), "x", card())
		b.Sub("shims", sizes()).Done()
		words = b.Words("tools", tools(), 3, true, "dial", "string", "wrench")
		wholes = b.Wholes("sizes", sizes(), 3, true, datasheet.Between(1, 9))
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
		what, want   string
		good         int
	}{
		{"tools: [string, dail]", 3, 17, `tools holds "dail"`, "dial", 1},
		{"tools: [string, string, dial]", 3, 17, `tools holds "string" a second time`, "each value once", 2},
		{"tools: [string, 7]", 3, 17, "tools holds the number 7", "the tools", 1},
		{"tools: [string, [dial]]", 3, 17, "tools holds a list", "the tools", 1},
		{"tools: string", 3, 8, "tools holds the text", "[one, two]", 0},
		{"tools: []", 3, 1, "tools is an empty list", "the tools", 0},
		{"tools: [a, b, c, d]", 3, 1, "tools holds 4 values", "at most 3", 0},
		{"sizes: [1, 10]", 3, 12, "sizes holds 10", "whole numbers between 1 and 9", 1},
		{"sizes: [1, 1.5]", 3, 12, "sizes holds 1.5", "whole numbers between 1 and 9", 1},
		{"sizes: [1, 1]", 3, 12, "sizes holds 1 a second time", "each value once", 1},
		{"sizes: [1, two]", 3, 12, "sizes holds the text", "whole numbers", 1},
	} {
		words, wholes, problems := lists(c.text)
		require.Len(t, problems, 1, "%s: %v", c.text, problems)
		assert.Equal(t, [2]int{c.line, c.column}, [2]int{problems[0].Line, problems[0].Column}, c.text)
		assert.Contains(t, say(problems[0].What), c.what)
		assert.Contains(t, say(problems[0].Want), c.want)
		assert.Len(t, append(words, wholes...), c.good, c.text)
	}
}

func TestWhatIsNoneAtAll(t *testing.T) {
	for file, what := range map[string]string{"": "is empty", "- 1": "not a list of keys", "a: 1": "this is not a bench card: it has no shims",
		"card: 4": "version 4", "card: 3\n---\ncard: 3": "a second document", "\xff": "UTF-8", "a: [": "cannot be read past this point", "\x00": "control character"} {
		_, _, problems := read(file)
		require.Len(t, problems, 1, file)
		assert.Contains(t, say(problems[0].What), what)
		assert.ErrorIs(t, problems, errNotCard)
	}
	assert.NotErrorIs(t, datasheet.Problems(nil), errNotCard)
}

func TestProblemsAsAnError(t *testing.T) {
	all := datasheet.Problems{{File: "x", Line: 2, Column: 3, What: text.Say("test.wrong", "wrong"), Want: text.Say("test.this", "this")}, {File: "x", Line: 2, Column: 1}, {File: "x", Line: 1, Column: 9}}
	assert.Equal(t, "x:2:3: wrong; needed: this (and 2 more)", text.Printer{}.Error(all))
	assert.Equal(t, "x:2:3: wrong; needed: this", text.Printer{}.Error(all[:1]))
	assert.Equal(t, "no mistakes", text.Printer{}.Error(all[:0]))
	assert.EqualError(t, all, "x:2:3: test.wrong (test.this) +2")
	datasheet.Sort(all)
	assert.Equal(t, []int{9, 1, 3}, []int{all[0].Column, all[1].Column, all[2].Column})
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	_, err := datasheet.ReadFile(filepath.Join(dir, "none"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	assert.Equal(t, filepath.Join(dir, "none")+": there is no such file", text.Printer{}.Error(err))
	_, err = datasheet.ReadFile(dir)
	assert.ErrorIs(t, err, datasheet.ErrNotAFile)
	assert.Equal(t, dir+": it is not an ordinary file", text.Printer{}.Error(err))
	big := filepath.Join(dir, "big")
	require.NoError(t, os.WriteFile(big, []byte(strings.Repeat("# x\n", 20_000)), 0o600))
	file, err := datasheet.ReadFile(big)
	require.NoError(t, err)
	_, _, problems := read(string(file))
	require.Len(t, problems, 1)
	assert.Contains(t, say(problems[0].What), "bytes", "enough of it is read to tell that it is too large")
}

// The unit that is offered is the one in which the figure can be right; of several, the one
// that the group uses, then the file.
func TestOfferedUnit(t *testing.T) {
	offered := func(file string) string {
		r, b := datasheet.Read([]byte("card: 3\n"+file), "x", card())
		in := b.Sub("shims", sizes())
		for _, key := range []string{"thin", "thick"} {
			in.Number(key, sizeOf(), datasheet.Lengths(), datasheet.Between(0.005, 2))
		}
		in.Row("row", sizes(), datasheet.Lengths(), datasheet.Between(0.005, 2), nil, true)
		in.Done()
		b.Allow("other")
		b.Done()
		require.Len(t, r.Problems(), 1, "%v", r.Problems())
		return say(r.Problems()[0].Want)
	}
	for _, c := range []struct{ file, want string }{
		{"shims: {thin: 0.003, thick_in: 0.06, row_in: {low: 0.001, high: 0.003}}", "thin_in"},
		{"shims: {thin: 0.003, thick_mm: 1.5, row_mm: {low: 1, high: 2}}", "thin_in"},
		{"shims: {thin: 1.5, thick_in: 0.06, row_in: {low: 0.001, high: 0.003}}", "thin_mm"},
		{"shims: {thin: 0.03, thick_in: 0.06, row_in: {low: 0.001, high: 0.003}}", "thin_in"},
		{"shims: {thin: 0.03, thick_mm: 1.5, row_mm: {low: 1, high: 2}}", "thin_mm"},
		{"shims: {thin_in: 0.01, thick_mm: 1.5, row: {low: 0.01, high: 0.02}}\nother: {a_in: 1}", "row_in"},
		{"shims: {thin_in: 0.01, thick_mm: 1.5, row: {low: 0.01, high: 0.02}}\nother: {a_mm: 1}", "row_mm"},
		{"shims: {thin_in: 0.01, thick_mm: 1.5, row: {low: 0.001, high: 0.002}}\nother: {a_mm: 1}", "row_in"},
		{"shims: {thinn: 1.5, thick_in: 0.06, row_in: {low: 0.001, high: 0.003}}", "thin_mm"},
		{"shims: {thin_thou: 10, thick_in: 0.06, row_in: {low: 0.001, high: 0.003}}", "thin_in"},
		{"shims: {thin_lb_in: 0.01, thick_mm: 1.5, row_mm: {low: 1, high: 2}}", "thin_mm"},
		{"shims: {thick_mm: 1.5, row_mm: {low: 1, high: 2}}", "size of the shim, between 0.005 and 2 mm"},
	} {
		assert.Equal(t, c.want, offered(c.file), c.file)
	}
}

// Two letters that changed places are one slip of the pen, and less than two.
func TestNeighborsThatChangedPlaces(t *testing.T) {
	for typed, want := range map[string]string{"adler": "alder", "laddre": "ladder"} {
		got, ok := datasheet.Nearest(typed, []string{"addlers", "alder", "laddier", "ladder"})
		assert.True(t, ok, typed)
		assert.Equal(t, want, got, typed)
	}
	_, ok := datasheet.Nearest("zzzzz", []string{"addlers", "alder"})
	assert.False(t, ok)
}
