package view

import (
	"bytes"
	"fmt"
	"html/template"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	computed "shimwright/cmd/internal/figure"
	"shimwright/lessons/figure"
	"shimwright/sim/quantity"
)

// withFigures writes a lesson for a terminal: its text, and every figure where its block
// stands.
func withFigures(src string, p Pen, style Style) (string, error) {
	pieces, err := figure.Split(src)
	if err != nil {
		return "", err
	}
	maker := computed.NewMaker(p.Units())
	parts := make([]string, len(pieces))
	for i, piece := range pieces {
		md := piece.Markdown
		if piece.Figure != nil {
			f, err := maker.Make(*piece.Figure)
			if err != nil {
				return "", err
			}
			caption := Wrap(p.Strong(f.Caption), min(max(p.Width, minWidth), maxWidth), bodyIndent)
			if f.Drawing != nil {
				text, err := f.Drawing.Text(p.Width, p.Color)
				if err != nil {
					return "", err
				}
				parts[i] = caption + "\n" + text
				continue
			}
			md, parts[i] = markdownTable(f.Rows), caption+"\n"
		}
		text, err := Markdown(md, p.Width, style)
		if err != nil {
			return "", err
		}
		parts[i] += text
	}
	return strings.Join(parts, "\n"), nil
}

func markdownTable(rows [][]string) string {
	var b strings.Builder
	for i, row := range rows {
		b.WriteString("| " + strings.Join(row, " | ") + " |\n")
		if i == 0 {
			b.WriteString(strings.Repeat("| --- ", len(row)) + "|\n")
		}
	}
	return b.String()
}

// lessonHTML writes the text of a lesson, which comes with the program, with its figures in
// place; id keeps their names apart from others on the page. Raw HTML in it would be left
// out.
func lessonHTML(body string, units quantity.System, id string) (template.HTML, error) {
	return lessonAs(body, units, id, deeper)
}

// lessonAs is lessonHTML with the headings put to a level.
func lessonAs(body string, units quantity.System, id string, level func(string) string) (template.HTML, error) {
	pieces, err := figure.Split(body)
	if err != nil {
		return "", err
	}
	md := goldmark.New(goldmark.WithExtensions(extension.Table))
	maker := computed.NewMaker(units)
	var b bytes.Buffer
	for i, piece := range pieces {
		if piece.Figure == nil {
			if err := md.Convert([]byte(level(piece.Markdown)), &b); err != nil {
				return "", err
			}
			continue
		}
		f, err := maker.Make(*piece.Figure)
		if err != nil {
			return "", err
		}
		if err := figureHTML(&b, f, fmt.Sprintf("%s-%d", id, i)); err != nil {
			return "", err
		}
	}
	return template.HTML(b.String()), nil
}

// figureHTML writes a figure with its caption. A drawing carries what it shows in words
// within itself; the words stand below it too, where they say more than the picture can.
func figureHTML(b *bytes.Buffer, f figure.Figure, id string) error {
	esc := template.HTMLEscapeString
	if f.Drawing == nil {
		b.WriteString("<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"" + esc(f.Caption) + "\"><table>\n<caption>" + esc(f.Caption) + "</caption>\n")
		for i, row := range f.Rows {
			b.WriteString("<tr>")
			for k, cell := range row {
				switch {
				case i == 0:
					b.WriteString(`<th scope="col">` + esc(cell) + "</th>")
				case k == 0:
					b.WriteString(`<th scope="row">` + esc(cell) + "</th>")
				default:
					b.WriteString("<td>" + esc(cell) + "</td>")
				}
			}
			b.WriteString("</tr>\n")
		}
		b.WriteString("</table></div>\n")
		return nil
	}
	b.WriteString("<figure tabindex=\"0\">\n") // a wide one scrolls, by keys too
	if err := f.Drawing.SVG(b, id); err != nil {
		return err
	}
	b.WriteString("<figcaption>" + esc(f.Caption) + "</figcaption>\n</figure>\n")
	return nil
}
