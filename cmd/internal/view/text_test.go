package view

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// unitWords are the units the texts of the program use behind a number.
var unitWords = []string{"in", "mm", "lb-in", "lb-ft", "N·m", "degrees", "in,", "mm;", "lb-in.", "N·m)"}

// unitAfterNumber finds a number with its unit in running text.
var unitAfterNumber = regexp.MustCompile(`\d (in|mm|lb-in|lb-ft|N·m|degrees)\b`)

func drawText() *rapid.Generator[string] {
	word := rapid.OneOf(
		rapid.StringMatching(`[a-zäé·/-]{1,14}[.,:;]?`),
		rapid.StringMatching(`[+-]?[0-9]{1,3}(\.[0-9]{1,4})?`),
		rapid.SampledFrom(unitWords),
		rapid.StringMatching(`[a-z]{30,60}`),
	)
	return rapid.Custom(func(t *rapid.T) string {
		blank := rapid.SampledFrom([]string{" ", "  ", "\n", " \t"}).Draw(t, "blank")
		return strings.Join(rapid.SliceOfN(word, 0, 40).Draw(t, "words"), blank)
	})
}

func TestHangProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawText().Draw(t, "text")
		width := rapid.IntRange(20, 100).Draw(t, "width")
		first := rapid.SampledFrom([]string{"", "  ", "  - ", "  name      "}).Draw(t, "first")
		rest := rapid.SampledFrom([]string{"", "  ", "      "}).Draw(t, "rest")
		out := Hang(text, width, first, rest)

		if !strings.HasSuffix(out, "\n") {
			t.Fatalf("no line end: %q", out)
		}
		lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		var words []string
		for i, line := range lines {
			lead := rest
			if i == 0 {
				lead = first
			}
			inner, ok := strings.CutPrefix(line, lead)
			if !ok && line != strings.TrimRight(lead, " ") {
				t.Fatalf("line %d does not start with %q: %q", i, lead, line)
			}
			if line != strings.TrimRight(line, " ") {
				t.Fatalf("blanks at the end of %q", line)
			}
			if !ok {
				inner = ""
			}
			here := strings.Fields(inner)
			words = append(words, here...)
			if n := len([]rune(line)); n > width && !indivisible(here) {
				t.Fatalf("%d columns, want %d: %q", n, width, line)
			}
		}
		if got, want := strings.Join(words, " "), strings.Join(strings.Fields(text), " "); got != want {
			t.Fatalf("text became %q, want %q", got, want)
		}
		// A number and the unit behind it are never on two lines.
		flat := strings.Join(strings.Fields(text), " ")
		want := len(unitAfterNumber.FindAllString(flat, -1))
		got := 0
		for _, line := range lines {
			got += len(unitAfterNumber.FindAllString(line, -1))
		}
		if first == "" && got != want {
			t.Fatalf("%d of %d numbers kept their units: %q", got, want, out)
		}
	})
}

// indivisible reports whether the words can only stand together: one word, or a
// number with its unit.
func indivisible(words []string) bool {
	return len(words) == 1 || len(words) == 2 && unitAfterNumber.MatchString(strings.Join(words, " "))
}

// Color changes where no line ends.
func TestHangDoesNotCountColor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(20, 100).Draw(t, "width")
		loud := Pen{Width: width, Color: true}
		quiet := Pen{Width: width}
		compose := func(p Pen) string {
			return p.Strong("backlash 0.0065 in") + ", each +/- 0.0005 in" + p.Quiet(" (heel, square, pinion-held)") + " and some more words"
		}
		got := Hang(compose(loud), width, "    ", "      ")
		if attribute.ReplaceAllString(strings.ReplaceAll(got, faint, bold), "") != Hang(compose(quiet), width, "    ", "      ") {
			t.Fatalf("%q", got)
		}
	})
}

func TestWrap(t *testing.T) {
	assert.Equal(t, "\n", Wrap("", 40, ""))
	assert.Equal(t, "  one\n  two\n", Wrap("one two", 6, "  "))
	assert.Equal(t, "at\n0.0065 in\nnow\n", Wrap("at 0.0065 in now", 10, ""), "the unit stays with its number")
	assert.Equal(t, "in at\n", Wrap("in at", 10, ""))
}

func TestField(t *testing.T) {
	wide, narrow := Pen{Width: 60}, Pen{Width: 40}
	assert.Equal(t, "  name      a value\n", wide.Field("  name", "a value", 12))
	assert.Equal(t, "  a name of many letters\n            a value\n", wide.Field("  a name of many letters", "a value", 12), "too long for its column")
	assert.Equal(t, "  name\n      a value\n", narrow.Field("  name", "a value", 30), "no room beside it")
}
