//go:build !js

package view

import (
	"github.com/charmbracelet/glamour"
	gansi "github.com/charmbracelet/glamour/ansi"

	"shimwright/sim/text"
)

// rendered dresses Markdown for a terminal.
func rendered(src string, wrapAt int, style Style) (string, error) {
	r, err := glamour.NewTermRenderer(glamour.WithStyles(styleConfig(style)), glamour.WithWordWrap(wrapAt))
	if err != nil {
		return "", text.Fail(err, text.Say("view.markdown-terminal.set-up-text-renderer", "set up text renderer: {why}", text.Cause("why", err)))
	}
	prose, err := r.Render(src)
	if err != nil {
		return "", text.Fail(err, text.Say("view.markdown-terminal.render-text", "render text: {why}", text.Cause("why", err)))
	}
	return prose, nil
}

// styleConfig is our own: the library's ready-made styles color every word,
// which costs twenty times the time, and its plain one leaves ** in the text.
func styleConfig(style Style) gansi.StyleConfig {
	c := gansi.StyleConfig{
		BlockQuote:            gansi.StyleBlock{Indent: new(uint(1)), IndentToken: new(quoteMark)},
		List:                  gansi.StyleList{LevelIndent: 2},
		Item:                  gansi.StylePrimitive{BlockPrefix: bullet},
		Enumeration:           gansi.StylePrimitive{BlockPrefix: ". "},
		Task:                  gansi.StyleTask{Ticked: bullet + "[x] ", Unticked: bullet + "[ ] "},
		HorizontalRule:        gansi.StylePrimitive{Format: "\n\n----\n\n"},
		ImageText:             gansi.StylePrimitive{Format: "Picture: {{.text}}"},
		CodeBlock:             gansi.StyleCodeBlock{StyleBlock: gansi.StyleBlock{Margin: new(uint(0))}},
		DefinitionDescription: gansi.StylePrimitive{BlockPrefix: "\n" + bullet},
		Table: gansi.StyleTable{
			CenterSeparator: new("+"),
			ColumnSeparator: new("|"),
			RowSeparator:    new("-"),
		},
	}
	if style == Plain {
		return c
	}
	const cyan = "6" // of the base colors, readable on black and on white
	c.Heading.Bold = new(true)
	c.Heading.Color = new(cyan)
	c.H1.Underline = new(true)
	c.Strong.Bold = new(true)
	c.Emph.Underline = new(true)
	c.Link.Underline = new(true)
	c.Code.Color = new(cyan)
	return c
}
