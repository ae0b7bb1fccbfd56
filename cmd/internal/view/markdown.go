package view

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"shimwright/sim/text"
)

// A Style says how rendered text may be dressed.
type Style int

const (
	// Plain is text only: no escape sequences and no Markdown marks, fit for a
	// pipe, a file or a screen reader.
	Plain Style = iota
	// Color adds bold, underline and the 16 base terminal colors, which the
	// user's own theme keeps readable on dark and on light. Color never carries
	// meaning that the words do not.
	Color
)

// Widths outside this range are brought inside it: narrower breaks tables,
// wider is hard to follow from line to line.
const (
	minWidth = 40
	maxWidth = 100
)

// bodyIndent sets text back from its headings, so that headings stand out
// without marks or color.
const bodyIndent = "  "

// Markdown renders src for a terminal of the given width in columns, clamped to
// 40..100, and returns text that ends in one newline (or is empty). No line is
// wider than the clamped width and none ends in a blank. The result depends on
// the arguments alone: neither the environment nor the terminal is consulted, so
// whether color is wanted is the caller's decision.
//
// Understood are headings, paragraphs, lists, quotes, tables whose lines start
// with a bar, fenced blocks, bold, emphasis and code spans. A number is kept on
// one line with its unit. Raw HTML and control characters are dropped. A hard
// line break inside a paragraph becomes a blank.
//
// The error reports a style that is neither Plain nor Color, or text the
// renderer could not take.
func Markdown(src string, width int, style Style) (string, error) {
	if style != Plain && style != Color {
		return "", text.Fail(nil, text.Say("view.markdown.unknown-text-style-use", "unknown text style {style}: use plain or color", text.Count("style", int(style))))
	}
	width = min(max(width, minWidth), maxWidth)
	var b strings.Builder
	for _, blk := range splitBlocks(cleanSource(src)) {
		lines, err := blk.render(width, style)
		if err != nil {
			return "", err
		}
		if len(lines) == 0 {
			continue
		}
		if b.Len() > 0 && (!blk.afterHeading || blk.kind == headingBlock) {
			b.WriteByte('\n')
		}
		for _, line := range lines {
			b.WriteString(trimLine(line))
			b.WriteByte('\n')
		}
	}
	return b.String(), nil
}

type blockKind int

const (
	proseBlock blockKind = iota
	headingBlock
	tableBlock
	codeBlock
)

// A block is a run of source lines that is laid out in one way.
type block struct {
	kind         blockKind
	text         string
	afterHeading bool
}

// splitBlocks cuts the source where the layout changes. The library would wrap
// everything by itself, but it breaks lines inside numbers and units ("0." /
// "010 in") and gives list items no hanging indent, which spoils bench steps; so
// it gets each block at full length and the wrapping is done here.
func splitBlocks(src string) []block {
	var blocks []block
	var run []string
	kind := proseBlock
	flush := func() {
		text := strings.Join(run, "\n")
		run = nil
		if strings.TrimSpace(text) == "" {
			return
		}
		after := len(blocks) > 0 && blocks[len(blocks)-1].kind == headingBlock
		blocks = append(blocks, block{kind, text, after})
	}
	enter := func(k blockKind) {
		if k != kind {
			flush()
			kind = k
		}
	}
	fence := ""
	for line := range strings.SplitSeq(src, "\n") {
		switch {
		case fence != "":
			run = append(run, line)
			if closesFence(line, fence) {
				fence = ""
				enter(proseBlock)
			}
		case openFence(line) != "":
			enter(codeBlock)
			fence = openFence(line)
			run = append(run, line)
		case isHeading(line):
			flush()
			kind = headingBlock
			run = append(run, line)
			enter(proseBlock)
		case strings.HasPrefix(line, "|"):
			enter(tableBlock)
			run = append(run, line)
		default:
			enter(proseBlock)
			run = append(run, line)
		}
	}
	flush()
	return blocks
}

// openFence returns the fence a line opens ("```" or longer, or tildes), or "".
func openFence(line string) string {
	for _, mark := range []string{"`", "~"} {
		n := len(line) - len(strings.TrimLeft(line, mark))
		if n >= 3 && !strings.Contains(line[n:], "`") {
			return line[:n]
		}
	}
	return ""
}

func closesFence(line, fence string) bool {
	line = strings.TrimSpace(line)
	return len(line) >= len(fence) && strings.Trim(line, fence[:1]) == ""
}

func isHeading(line string) bool {
	n := len(line) - len(strings.TrimLeft(line, "#"))
	return n >= 1 && n <= 6 && strings.HasPrefix(line[n:], " ")
}

func (blk block) render(width int, style Style) ([]string, error) {
	body := width - len(bodyIndent)
	if blk.kind == tableBlock {
		if rows := tableRows(blk.text); len(rows) > 1 && tableWidth(rows) > body {
			blk.kind, blk.text = proseBlock, tableAsList(rows)
		}
	}
	// Nothing rendered is longer than its source plus the bullet or number in
	// front of it, so at this width the library has no reason to wrap.
	wrapAt := len(blk.text) + minWidth
	if blk.kind == tableBlock {
		wrapAt = tableWidth(tableRows(blk.text))
	}
	text, err := rendered(blk.text, wrapAt, style)
	if err != nil {
		return nil, err
	}
	lines := trimBlankLines(strings.Split(cleanOutput(text, style), "\n"))
	switch blk.kind {
	case headingBlock:
		return wrapWords(strings.Join(lines, " "), width, "", ""), nil
	case tableBlock:
		for i, line := range lines {
			// The library sets the whole table in by one column.
			if line != "" && (line[0] == ' ' || line[0] == '-') {
				lines[i] = line[1:]
			}
		}
		return indentLines(hardWrap(lines, body), bodyIndent), nil
	case codeBlock:
		const codeIndent = "    "
		return indentLines(hardWrap(lines, width-len(codeIndent)), codeIndent), nil
	default:
		return indentLines(reflow(lines, body), bodyIndent), nil
	}
}

// reflow wraps the lines of paragraphs, lists and quotes. A list item's later
// lines line up with its first word.
func reflow(lines []string, width int) []string {
	var out []string
	var current, first, rest string
	flush := func() {
		if current != "" {
			out = append(out, wrapWords(current, width, first, rest)...)
		}
		current, first, rest = "", "", ""
	}
	for _, line := range lines {
		line = strings.TrimRight(line, " ")
		if ansi.StringWidth(line) == 0 {
			flush()
			if len(out) > 0 && out[len(out)-1] != "" {
				out = append(out, "")
			}
			continue
		}
		lead, hang, text := splitMarker(line)
		if lead != "" && (lead != quoteMark || first != quoteMark) {
			flush()
			first, rest = lead, hang
		}
		if current != "" {
			current += " "
		}
		current += text
	}
	flush()
	return trimBlankLines(out)
}

const (
	bullet    = "• "
	quoteMark = "| "
)

// splitMarker parts a rendered line into its list or quote marker, the lead for
// the lines that follow, and the text. A line without a marker has an empty lead.
func splitMarker(line string) (lead, hang, text string) {
	inner := strings.TrimLeft(line, " ")
	indent := line[:len(line)-len(inner)]
	if t, ok := strings.CutPrefix(inner, bullet); ok {
		return indent + bullet, indent + "  ", t
	}
	if t, ok := strings.CutPrefix(inner, quoteMark); ok {
		return quoteMark, quoteMark, t
	}
	n := 0
	for n < len(inner) && inner[n] >= '0' && inner[n] <= '9' {
		n++
	}
	if n > 0 && n <= 3 && strings.HasPrefix(inner[n:], ". ") {
		n += len(". ")
		return indent + inner[:n], indent + strings.Repeat(" ", n), inner[n:]
	}
	return "", "", inner
}

// wrapWords fills lines up to width columns; first and rest stand before the
// first line and the ones after it.
func wrapWords(text string, width int, first, rest string) []string {
	words := gluedWords(text)
	if len(words) == 0 {
		return nil
	}
	var out []string
	lead := first
	line := ""
	for _, w := range words {
		room := max(width-ansi.StringWidth(lead), 1)
		switch {
		case line == "":
			line = w
		case ansi.StringWidth(line)+1+ansi.StringWidth(w) <= room:
			line += " " + w
			continue
		default:
			out = append(out, lead+line)
			lead, line = rest, w
			room = max(width-ansi.StringWidth(lead), 1)
		}
		// A word longer than the line has to be cut somewhere.
		for ansi.StringWidth(line) > room {
			head, outer, cut := strings.Cut(ansi.Hardwrap(line, room, false), "\n")
			if !cut {
				break
			}
			out = append(out, lead+head)
			lead, line = rest, strings.ReplaceAll(outer, "\n", "")
			room = max(width-ansi.StringWidth(lead), 1)
		}
	}
	return append(out, lead+line)
}

// gluedWords splits text at blanks, except between a number and its unit and
// between TM and the number of the manual.
func gluedWords(text string) []string {
	fields := strings.Fields(text)
	words := make([]string, 0, len(fields))
	for _, f := range fields {
		if n := len(words); n > 0 && (isUnit(f) && endsInDigit(words[n-1]) || ansi.Strip(words[n-1]) == "TM") {
			words[n-1] += " " + f
			continue
		}
		words = append(words, f)
	}
	return words
}

func isUnit(word string) bool {
	switch strings.TrimRight(ansi.Strip(word), ".,;:)?") {
	case "in", "mm", "lb-in", "lb-ft", "lb", "N", "N·m", "°C", "psi", "kPa", "%", "degrees":
		return true
	}
	return false
}

func endsInDigit(word string) bool {
	word = ansi.Strip(word)
	return word != "" && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

// tableRows returns the cells of a table's heading and rows. A cell cannot hold a
// bar.
func tableRows(text string) [][]string {
	var rows [][]string
	for line := range strings.SplitSeq(text, "\n") {
		if strings.Trim(line, " |:-") == "" {
			continue
		}
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		rows = append(rows, cells)
	}
	return rows
}

// tableWidth is the room a table needs to show every cell on one line.
func tableWidth(rows [][]string) int {
	var widest []int
	for _, cells := range rows {
		for i, cell := range cells {
			if i == len(widest) {
				widest = append(widest, 0)
			}
			shown := strings.ReplaceAll(strings.ReplaceAll(cell, "**", ""), "`", "")
			widest[i] = max(widest[i], ansi.StringWidth(shown))
		}
	}
	const perColumn = 3 // a blank each side and one rule
	total := 0
	for _, w := range widest {
		total += w + perColumn
	}
	return max(total-1, 1)
}

// tableAsList turns a table that does not fit into a list, a row to an item and
// every value with its column's heading. Squeezed columns would cut headings
// short and break words and numbers.
func tableAsList(rows [][]string) string {
	head, rest := rows[0], rows[1:]
	bold := func(cell string) string { return "**" + strings.ReplaceAll(cell, "**", "") + "**" }
	var b strings.Builder
	if len(head) == 2 {
		fmt.Fprintf(&b, "%s: %s\n\n", bold(head[0]), head[1])
	}
	for _, cells := range rest {
		if len(head) == 2 && len(cells) == 2 {
			fmt.Fprintf(&b, "- %s: %s\n", bold(cells[0]), cells[1])
			continue
		}
		for i, cell := range cells {
			lead, text := "- ", bold(cell)
			if i > 0 {
				lead, text = "  - ", cell
			}
			if i < len(head) && head[i] != "" {
				lead += head[i] + ": "
			}
			b.WriteString(lead + text + "\n")
		}
	}
	return b.String()
}

// hardWrap cuts lines that are still too wide, such as those of a fenced block.
func hardWrap(lines []string, width int) []string {
	var out []string
	for _, line := range lines {
		line = strings.TrimRight(line, " ")
		if ansi.StringWidth(line) <= width {
			out = append(out, line)
			continue
		}
		out = append(out, strings.Split(ansi.Hardwrap(line, width, true), "\n")...)
	}
	return out
}

// trimLine drops the blanks a line ends in, also where attribute sequences stand
// between them.
func trimLine(line string) string {
	end := 0 // just past the last character that shows
	for i := 0; i < len(line); {
		if n := attributeLength(line[i:]); n > 0 {
			i += n
			continue
		}
		i++
		if line[i-1] != ' ' {
			end = i
		}
	}
	return line[:end] + strings.ReplaceAll(line[end:], " ", "")
}

func indentLines(lines []string, indent string) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		out[i] = indent + line
	}
	return out
}

func trimBlankLines(lines []string) []string {
	for len(lines) > 0 && strings.TrimSpace(lines[0]) == "" {
		lines = lines[1:]
	}
	for len(lines) > 0 && strings.TrimSpace(lines[len(lines)-1]) == "" {
		lines = lines[:len(lines)-1]
	}
	return lines
}

// cleanSource drops characters that could move the cursor or change the
// terminal: text may come from a scenario file somebody else wrote.
func cleanSource(src string) string {
	src = strings.ToValidUTF8(src, "")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t':
			return ' '
		case dangerous(r):
			return -1
		}
		return r
	}, src)
}

// cleanOutput keeps, of all control characters, line ends and (in Color) the
// sequences that set text attributes. A character reference such as &#27; only
// turns into a control character inside the renderer, so cleaning the source is
// not enough.
func cleanOutput(text string, style Style) string {
	var b strings.Builder
	for len(text) > 0 {
		n := 0
		if style == Color {
			n = attributeLength(text)
		}
		if n == 0 {
			var r rune
			r, n = utf8.DecodeRuneInString(text)
			if r != '\n' && dangerous(r) {
				text = text[n:]
				continue
			}
		}
		b.WriteString(text[:n])
		text = text[n:]
	}
	return b.String()
}

// dangerous reports a character that acts on the terminal or hides in the text
// instead of being printed.
func dangerous(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r)
}

// attributeLength is the length of the attribute sequence (ESC [ digits and
// semicolons m) that text starts with, or 0.
func attributeLength(text string) int {
	if !strings.HasPrefix(text, "\x1b[") {
		return 0
	}
	for i := 2; i < len(text); i++ {
		switch c := text[i]; {
		case c == 'm':
			return i + 1
		case c != ';' && (c < '0' || c > '9'):
			return 0
		}
	}
	return 0
}
