package view

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/lessons"
	"shimwright/sim/text"
)

func lessonSource(l lessons.Lesson) string {
	return "# " + l.Title + "\n\n" + figureBlock.ReplaceAllString(l.Body, "")
}

// figureBlock matches what a lesson says of a figure, which is drawn and not written.
var figureBlock = regexp.MustCompile("(?s)```figure\n.*?\n```\n")

var bothStyles = []Style{Plain, Color}

func render(t require.TestingT, src string, width int, style Style) string {
	out, err := Markdown(src, width, style)
	require.NoError(t, err)
	return out
}

// attribute matches the only escape sequences Color may write: reset, bold,
// underline and the 16 base colors (30-37, 90-97), as ECMA-48 numbers them.
var attribute = regexp.MustCompile("\x1b\\[(?:(?:0|1|4|3[0-7]|9[0-7])(?:;(?:1|4|3[0-7]|9[0-7]))*)?m")

// widest measures with a width table other than the one the renderer uses.
func widest(text string) int {
	count := runewidth.Condition{}
	w := 0
	for line := range strings.SplitSeq(attribute.ReplaceAllString(text, ""), "\n") {
		w = max(w, count.StringWidth(line))
	}
	return w
}

func checkShape(t assert.TestingT, out string, width int, style Style, what string) {
	assert.LessOrEqual(t, widest(out), width, what)
	rest := out
	if style == Color {
		rest = attribute.ReplaceAllString(out, "")
	}
	assert.NotContains(t, rest, "\x1b", what)
	for line := range strings.SplitSeq(rest, "\n") {
		assert.Equal(t, strings.TrimRight(line, " \t"), line, "%s: blanks at the line's end", what)
	}
	if out != "" {
		assert.True(t, strings.HasSuffix(out, "\n"), what)
		assert.False(t, strings.HasSuffix(out, "\n\n"), what)
		assert.NotContains(t, rest, "\n\n\n", what)
	}
}

func TestEveryLessonRenders(t *testing.T) {
	// A word ends with a letter or figure: what follows it may stand outside its emphasis.
	word := regexp.MustCompile(`[\p{L}\p{N}](?:[\p{L}\p{N}·.'-]*[\p{L}\p{N}])?`)
	for _, l := range lessons.All() {
		src := lessonSource(l)
		for _, width := range []int{40, 80, 100} {
			for _, style := range bothStyles {
				what := fmt.Sprintf("%s at %d, style %d", l.ID, width, style)
				out := render(t, src, width, style)
				checkShape(t, out, width, style, what)
				assert.Equal(t, out, render(t, src, width, style), "%s: twice the same", what)

				text := attribute.ReplaceAllString(out, "")
				assert.NotContains(t, text, "*", what)
				assert.NotContains(t, text, "`", what)
				assert.NotContains(t, text, "#", what)
				assert.NotContains(t, text, "…", "%s: something was cut short", what)
				shown := make(map[string]bool)
				for _, w := range word.FindAllString(text, -1) {
					shown[w] = true
				}
				for _, w := range word.FindAllString(src, -1) {
					assert.True(t, shown[w], "%s: %q got lost", what, w)
				}
			}
		}
	}
}

func TestLayout(t *testing.T) {
	src := strings.Join([]string{
		"# Title with **bold**", "", "## Part", "", "Some *plain* text that is long enough to be wrapped once or twice.", "",
		"1. First step, which is too long for one line of this width", "2. Second `step`",
		"   - inner step that also needs a second line", "", "> A remark that goes on for a bit more than a line.", "",
		"| A | B | C |", "| --- | --- | --- |", "| 1 | **2** | 3 |", "",
		"```", "raw  **text**", "```", "", "### Last",
	}, "\n")
	want := strings.Join([]string{
		"Title with bold", "", "Part",
		"  Some plain text that is long enough to", "  be wrapped once or twice.", "",
		"  1. First step, which is too long for", "     one line of this width", "  2. Second step",
		"    • inner step that also needs a", "      second line", "",
		"  | A remark that goes on for a bit more", "  | than a line.", "",
		"  A | B | C", "  --+---+---", "  1 | 2 | 3", "",
		"    raw  **text**", "", "Last", "",
	}, "\n")
	assert.Equal(t, want, render(t, src, 40, Plain))
	assert.Equal(t, want, attribute.ReplaceAllString(render(t, src, 40, Color), ""), "color changes no text")
}

func TestNumbersKeepTheirUnits(t *testing.T) {
	src := "- the dial shows 0.005-0.008 in (0.13-0.20 mm), and the wrench 24 lb-in (2.7 N·m), as in TM 9-2320-289-34, p 6-21."
	for width := minWidth; width <= maxWidth; width++ {
		out := render(t, src, width, Plain)
		for _, whole := range []string{"0.005-0.008 in", "(0.13-0.20 mm)", "24 lb-in", "(2.7 N·m)", "TM 9-2320-289-34"} {
			assert.Contains(t, out, whole, "width %d", width)
		}
	}
}

func TestWideTableBecomesList(t *testing.T) {
	src := "| Reading | Before | After it all |\n| --- | --- | --- |\n" +
		"| Backlash | 0.004 in (0.10 mm) | 0.006 in (0.15 mm) |\n"
	assert.Equal(t, "  • Reading: Backlash\n    • Before: 0.004 in (0.10 mm)\n    • After it all: 0.006 in (0.15 mm)\n",
		render(t, src, 40, Plain))
	assert.Contains(t, render(t, src, 80, Plain), "Backlash | 0.004 in (0.10 mm) | 0.006 in (0.15 mm)")

	pair := "| Step | Drag |\n| --- | --- |\n| five degrees more on the nut | 14 lb-in (1.6 N·m) |\n"
	assert.Equal(t, "  Step: Drag\n\n  • five degrees more on the nut:\n    14 lb-in (1.6 N·m)\n", render(t, pair, 40, Plain))
}

// Text can come from a file somebody else wrote: nothing in it may reach the
// terminal as a command, written out or hidden in a character reference.
func TestNoTerminalCommands(t *testing.T) {
	for _, src := range []string{
		"\x1b[2Jgone", "a\x1b]0;title\x07b", "&#27;[2J gone", "`&#x1b;[31m`", "\u009b2J", "a\rb", "a\bb", "x\u202ey",
		"| a\x1b[2J | b |\n| --- | --- |\n| &#27;[H | c |", "```\n\x1b[2J\n```", "[t](http://example.org/\x1b[2J)", "bad \xff\xfe bytes",
	} {
		for _, style := range bothStyles {
			out := render(t, src, 60, style)
			for _, r := range attribute.ReplaceAllString(out, "") {
				assert.False(t, r != '\n' && dangerous(r), "%q left %U in %q", src, r, out)
			}
		}
	}
}

func TestColor(t *testing.T) {
	out := render(t, "## Part\n\nA **bold** word and `code`.", 80, Color)
	assert.Contains(t, out, "\x1b[1mbold\x1b[0m")
	assert.Contains(t, out, "\x1b[36mcode\x1b[0m")
	assert.Contains(t, out, "\x1b[36;1mPart")
}

func TestWidthIsClamped(t *testing.T) {
	src := lessonSource(lessons.All()[0])
	assert.Equal(t, render(t, src, minWidth, Plain), render(t, src, -3, Plain))
	assert.Equal(t, render(t, src, maxWidth, Plain), render(t, src, 1000, Plain))
}

func TestUnknownStyle(t *testing.T) {
	_, err := Markdown("text", 80, Style(7))
	require.Contains(t, text.Printer{}.Error(err), "unknown text style 7")
}

// The environment is the caller's business.
func TestEnvironmentIsIgnored(t *testing.T) {
	src := lessonSource(lessons.All()[0])
	plain, color := render(t, src, 80, Plain), render(t, src, 80, Color)
	for _, kv := range [][2]string{
		{"GLAMOUR_STYLE", "dark"}, {"NO_COLOR", "1"}, {"CLICOLOR_FORCE", "1"}, {"TERM", "dumb"}, {"COLUMNS", "20"},
	} {
		t.Setenv(kv[0], kv[1])
		assert.Equal(t, plain, render(t, src, 80, Plain), kv[0])
		assert.Equal(t, color, render(t, src, 80, Color), kv[0])
	}
}

func TestEmpty(t *testing.T) {
	for _, src := range []string{"", "\n\n", "   ", "<!-- -->"} {
		assert.Empty(t, render(t, src, 80, Plain), "%q", src)
	}
}

// Whatever the text, the shape holds.
func TestShapeHoldsForAnyText(t *testing.T) {
	piece := rapid.SampledFrom([]string{
		"#", "##", "- ", "1. ", "12. ", "> ", "|", "| a | b |", "| --- | --- |", "```", "~~~", "**", "*", "_", "`", "~~", "[x](y)", "![p](q)",
		"<b>", "&#27;", "&lt;", "\\*", "\x1b[31m", "\t", "\n", "\n", "\n\n", " ", " ", "    ", "0.010 in", "lb-in", "N·m", "TM",
		"word", "a-very-long-word-that-does-not-fit-on-any-narrow-line-at-all", "глубина", "深さ", "é", "•", "[ ] ", "---",
	})
	rapid.Check(t, func(t *rapid.T) {
		src := strings.Join(rapid.SliceOfN(piece, 0, 40).Draw(t, "pieces"), "")
		width := rapid.IntRange(minWidth, maxWidth).Draw(t, "width")
		style := rapid.SampledFrom(bothStyles).Draw(t, "style")
		out := render(t, src, width, style)
		checkShape(t, out, width, style, fmt.Sprintf("%q", src))
	})
}

func BenchmarkMarkdown(b *testing.B) {
	src := lessonSource(lessons.All()[0])
	for name, style := range map[string]Style{"plain": Plain, "color": Color} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Markdown(src, 80, style); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
