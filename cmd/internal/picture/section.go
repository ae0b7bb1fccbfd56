package picture

import (
	"errors"
	"fmt"
	"strings"
)

// A Block is a rectangle of a section, in columns from the left and rows from the top, the
// ends not included. Several blocks can be of one part.
type Block struct {
	Part                     int // which of Section.Parts
	Left, Top, Right, Bottom int
}

// A Part is what a block belongs to. Mark is one character that fills it on a screen and
// stands in it on a page.
type Part struct {
	Mark   byte
	Name   string
	Strong bool // what the section is about: shims, spacers, adjusters
}

// A Section is a machine cut open, drawn as blocks: where parts are, not how large they
// are.
type Section struct {
	Wide, High int
	Parts      []Part
	Blocks     []Block // later ones over earlier ones
	Axis       int     // column of a centerline, or below zero for none
	AxisName   string
}

const mostSection = 200 // columns or rows

func (s Section) check() error {
	if s.Wide < 1 || s.High < 1 || s.Wide > mostSection || s.High > mostSection {
		return fmt.Errorf("a section of %d by %d cannot be drawn", s.Wide, s.High)
	}
	for _, b := range s.Blocks {
		if b.Part < 0 || b.Part >= len(s.Parts) || b.Left < 0 || b.Top < 0 || b.Left >= b.Right || b.Top >= b.Bottom || b.Right > s.Wide || b.Bottom > s.High {
			return fmt.Errorf("a block of the section lies outside it or has no part: %+v", b)
		}
	}
	if len(s.Parts) == 0 {
		return errors.New("a section without parts cannot be drawn")
	}
	return nil
}

// SectionText draws the section with characters and lists its parts below. A section that
// is wider than the columns is drawn narrower. Errors: blocks that do not fit.
func SectionText(s Section, o Options) (string, error) {
	if err := s.check(); err != nil {
		return "", err
	}
	columns := o.columns()
	wide := min(s.Wide, columns)
	at := func(x int) int { return (x*wide + s.Wide/2) / s.Wide }
	grid := make([][]byte, s.High)
	for y := range grid {
		grid[y] = []byte(strings.Repeat(" ", wide))
		if s.Axis >= 0 && s.Axis < s.Wide && y%2 == 0 {
			grid[y][min(at(s.Axis), wide-1)] = ':'
		}
	}
	for _, b := range s.Blocks {
		left := at(b.Left)
		for y := b.Top; y < b.Bottom; y++ {
			for x := left; x < max(at(b.Right), left+1) && x < wide; x++ {
				grid[y][x] = s.Parts[b.Part].Mark
			}
		}
	}
	var lines []string
	for _, t := range wrapColumns(clean(o.Title), columns) {
		lines = append(lines, bold(plainSpan(t), o.Color).text)
	}
	if len(lines) > 0 {
		lines = append(lines, "")
	}
	for _, row := range grid {
		lines = append(lines, strings.TrimRight(string(row), " "))
	}
	lines = append(lines, "")
	var items []span
	for _, p := range s.Parts {
		item := plainSpan(string(p.Mark) + " " + clean(p.Name))
		if p.Strong {
			item = bold(item, o.Color)
		}
		items = append(items, item)
	}
	if s.AxisName != "" {
		items = append(items, plainSpan(": "+clean(s.AxisName)))
	}
	lines = append(lines, beside([][]span{flow(items, columns)}, 0)...)
	return strings.Join(lines, "\n") + "\n", nil
}
