package figure

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
)

// A Show is a way to show what was computed.
type Show string

// The ways.
const (
	Patterns Show = "patterns"
	Strip    Show = "strip"
	Curve    Show = "curve"
	Table    Show = "table"
	Section  Show = "section"
)

// A Setting is one thing about an axle that is not as on a finished one.
type Setting struct {
	Name, Amount string // Amount is empty for what is only named
}

// A Frame is one state of several.
type Frame struct {
	Label string
	Set   []Setting
}

// A Block is a figure as a lesson asks for it.
type Block struct {
	Show    Show
	Family  string
	Set     []Setting
	Frames  []Frame
	Sweep   string
	Of      []string
	Caption string // a sentence that says what there is to see
}

// A Figure is what a block asked for, computed.
type Figure struct {
	Caption string
	Alt     string     // what the figure shows, in words
	Rows    [][]string // of a table, the head first; nil for a drawing
	Drawing Drawing    // nil for a table
}

// A Drawing can be shown on a screen and on a page.
type Drawing interface {
	// Text draws with characters, no line wider than the columns; at least 40 count.
	Text(columns int, color bool) (string, error)
	// SVG draws with vectors. The id keeps the drawings of a page apart.
	SVG(w io.Writer, id string) error
}

// A Maker computes figures. The error says what in the block cannot be shown.
type Maker interface {
	Make(Block) (Figure, error)
}

// A Piece is a part of a lesson: Markdown, or a figure.
type Piece struct {
	Markdown string
	Figure   *Block // nil for Markdown
}

const (
	opening = "```figure"
	closing = "```"
)

// Split cuts the body of a lesson at its figures. The error names the line of the body, from
// 1 up, at which a block is wrong.
func Split(body string) ([]Piece, error) {
	var pieces []Piece
	var run []string
	flush := func() {
		if text := strings.TrimSpace(strings.Join(run, "\n")); text != "" {
			pieces = append(pieces, Piece{Markdown: text + "\n"})
		}
		run = nil
	}
	lines := strings.Split(body, "\n")
	for i := 0; i < len(lines); i++ {
		if lines[i] != opening {
			run = append(run, lines[i])
			continue
		}
		n := slices.Index(lines[i+1:], closing)
		if n < 0 {
			return nil, fmt.Errorf("line %d: the figure has no closing line %q", i+1, closing)
		}
		b, err := parse(lines[i+1:i+1+n], i+2)
		if err != nil {
			return nil, err
		}
		flush()
		pieces = append(pieces, Piece{Figure: &b})
		i += n + 1
	}
	flush()
	return pieces, nil
}

// Prose is the body of a lesson with the caption of each figure in the figure's place, for
// what shows text alone. A body with a faulty block stays as it is.
func Prose(body string) string {
	pieces, err := Split(body)
	if err != nil {
		return body
	}
	parts := make([]string, len(pieces))
	for i, p := range pieces {
		if parts[i] = p.Markdown; p.Figure != nil {
			parts[i] = p.Figure.Caption + "\n"
		}
	}
	return strings.Join(parts, "\n")
}

var (
	nameShape   = regexp.MustCompile(`^[a-z]+(-[a-z0-9]+)*$`)
	familyShape = regexp.MustCompile(`^[A-Z]+$`)
)

// parse reads the lines of a block, of which the first is so many lines into the body.
func parse(lines []string, first int) (Block, error) {
	var b Block
	seen := map[string]bool{}
	for i, line := range lines {
		key, value, ok := strings.Cut(line, ": ")
		value = strings.TrimSpace(value)
		if !ok || value == "" {
			return b, fmt.Errorf("line %d: %q is not \"key: value\"", first+i, line)
		}
		if seen[key] && key != "frame" {
			return b, fmt.Errorf("line %d: %s is given twice", first+i, key)
		}
		seen[key] = true
		if err := b.put(key, value); err != nil {
			return b, fmt.Errorf("line %d: %w", first+i, err)
		}
	}
	if err := b.check(); err != nil {
		return b, fmt.Errorf("line %d: %w", first-1, err)
	}
	return b, nil
}

// put takes the value of one key.
func (b *Block) put(key, value string) (err error) {
	switch key {
	case "show":
		b.Show = Show(value)
		if all := []Show{Patterns, Strip, Curve, Table, Section}; !slices.Contains(all, b.Show) {
			return fmt.Errorf("show %q is none of %v", value, all)
		}
	case "family":
		b.Family = value
		if !familyShape.MatchString(value) {
			return fmt.Errorf("family %q is no family's code, which is of capital letters", value)
		}
	case "set":
		b.Set, err = settings(value)
	case "frame":
		label, set, more := strings.Cut(value, ";")
		f := Frame{Label: strings.TrimSpace(label)}
		if more {
			f.Set, err = settings(set)
		}
		b.Frames = append(b.Frames, f)
	case "sweep":
		b.Sweep = value
	case "of":
		b.Of, err = names(value)
	case "caption":
		b.Caption = value
	default:
		return fmt.Errorf("%q is not a known key: use show, family, set, frame, sweep, of, caption", key)
	}
	return err
}

// names splits a list at its commas.
func names(value string) ([]string, error) {
	var out []string
	for n := range strings.SplitSeq(value, ",") {
		n = strings.TrimSpace(n)
		if !nameShape.MatchString(n) {
			return nil, fmt.Errorf("%q is no name: names are of small letters, their words joined by hyphens", n)
		}
		out = append(out, n)
	}
	return out, nil
}

func settings(value string) ([]Setting, error) {
	var out []Setting
	for part := range strings.SplitSeq(value, ",") {
		name, amount, given := strings.Cut(strings.TrimSpace(part), "=")
		switch {
		case !nameShape.MatchString(name):
			return nil, fmt.Errorf("%q is no setting: write NAME=AMOUNT, or a name alone", part)
		case given && amount == "":
			return nil, fmt.Errorf("%s has no amount after its sign", name)
		case slices.ContainsFunc(out, func(s Setting) bool { return s.Name == name }):
			return nil, fmt.Errorf("%s is set twice", name)
		}
		out = append(out, Setting{name, amount})
	}
	return out, nil
}

// check says what a block lacks, or has without use.
func (b *Block) check() error {
	states := len(b.Frames) > 0
	switch {
	case b.Show == "":
		return fmt.Errorf("the figure does not say what to show")
	case b.Family == "":
		return fmt.Errorf("the figure names no family")
	case b.Caption == "":
		return fmt.Errorf("the figure has no caption")
	case states && b.Sweep != "":
		return fmt.Errorf("frames and a sweep both say which states are shown: give one")
	case (b.Show == Patterns || b.Show == Section) && (states || b.Sweep != ""):
		return fmt.Errorf("%s shows one state: no frames, no sweep", b.Show)
	case b.Show == Section && b.Set != nil:
		return fmt.Errorf("section shows how the family is built: no settings")
	case b.Show == Curve && b.Sweep == "":
		return fmt.Errorf("a curve needs a sweep")
	case (b.Show == Strip || b.Show == Table) && !states && b.Sweep == "":
		return fmt.Errorf("a %s needs frames or a sweep", b.Show)
	case (b.Show == Curve || b.Show == Table) != (b.Of != nil):
		return fmt.Errorf("measures after of belong to a curve and a table, which need them")
	}
	return nil
}
