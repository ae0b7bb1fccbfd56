package view

import (
	"fmt"
	"strings"

	"shimwright/lessons/figure"

	"shimwright/sim/text"
)

// A sheet is a Markdown document as it is written.
type sheet struct{ strings.Builder }

func (b *sheet) head(level int, text string) {
	b.WriteString(strings.Repeat("#", level) + " " + mdText(text) + "\n\n")
}

func (b *sheet) para(text string) {
	if text != "" {
		b.WriteString(mdText(text) + "\n\n")
	}
}

func (b *sheet) list(items []string) {
	for _, s := range items {
		b.WriteString("- " + mdText(s) + "\n")
	}
	if len(items) > 0 {
		b.WriteByte('\n')
	}
}

func (b *sheet) checked(items []Checked) {
	for _, c := range items {
		box := "[x] "
		if !c.Met {
			box = "[ ] "
		}
		b.WriteString("- " + box + mdText(strings.TrimSpace(c.Text+" "+c.Why)) + "\n")
	}
	if len(items) > 0 {
		b.WriteByte('\n')
	}
}

// table writes rows under a head. Columns whose name begins with a blank hold numbers.
func (b *sheet) table(head []string, rows [][]string) {
	line := func(cells []string) { b.WriteString("| " + strings.Join(cells, " | ") + " |\n") }
	names, rule := make([]string, len(head)), make([]string, len(head))
	for i, h := range head {
		names[i], rule[i] = mdCell(strings.TrimSpace(h)), "---"
		if strings.HasPrefix(h, " ") {
			rule[i] = "---:"
		}
	}
	line(names)
	line(rule)
	for _, r := range rows {
		cells := make([]string, len(r))
		for i, c := range r {
			cells[i] = mdCell(c)
		}
		line(cells)
	}
	b.WriteByte('\n')
}

func (b *sheet) text() string { return strings.TrimRight(b.String(), "\n") + "\n" }

// Markdown writes a debrief as a Markdown document.
func (d Debrief) Markdown() string {
	var b sheet
	b.head(1, d.Title)
	b.para(d.Job)
	if d.Terms != "" {
		b.para(d.Terms)
	}
	b.list(d.First)
	b.head(2, d.said.Print(lossTitle))
	b.para(d.Nothing)
	if len(d.Losses) > 0 {
		var rows [][]string
		for _, l := range d.Losses {
			rows = append(rows, []string{l.Name, fmt.Sprintf("%.1f", l.Minutes), l.Band})
		}
		b.table([]string{d.said.Print(text.Say("view.debrief-markdown.act", "Act")), " " + d.said.Print(text.Say("view.debrief-markdown.minutes", "Minutes")), d.said.Print(text.Say("view.debrief-markdown.was", "Was"))}, rows)
	}
	b.para(strings.Join(d.Adds, " "))
	listed := func(title string, items []string) {
		if len(items) > 0 {
			b.head(2, title)
			b.list(items)
		}
	}
	listed(d.said.Print(wellTitle), d.Well)
	listed(d.said.Print(sumTitle), d.Sum)
	if len(d.Process) > 0 || d.Proved != "" {
		b.head(2, d.said.Print(processTitle))
		b.checked(d.Process)
		b.para(d.Proved)
	}
	if t := d.Thought; t != nil {
		b.head(2, d.said.Print(thoughtTitle))
		b.para(t.Lead)
		b.list(t.Asked)
		b.para(t.Note)
	}
	listed(d.said.Print(foretoldTitle), d.Foretold)
	if t := d.Truth; t != nil {
		b.head(2, d.said.Print(truthTitle))
		b.para(t.Technician)
		b.para(t.None)
		b.list(t.Faults)
		b.para(t.Shim)
		b.checked(t.Lines)
		for _, l := range t.Luck {
			b.para(l)
		}
		if len(t.Service) > 0 {
			b.para(t.Service[0])
			b.list(t.Service[1:])
		}
	}
	if len(d.Areas) > 0 {
		b.head(2, d.said.Print(areasTitle))
		var rows [][]string
		for _, a := range d.Areas {
			rows = append(rows, []string{a.Name, fmt.Sprint(a.Score), a.Words})
		}
		b.table([]string{d.said.Print(text.Say("view.debrief-markdown.area", "Area")), " " + d.said.Print(text.Say("view.debrief-markdown.score", "Score")), d.said.Print(text.Say("view.debrief-markdown.decisions", "Decisions"))}, rows)
	}
	if len(d.Told) > 0 {
		b.head(2, d.said.Print(toldTitle))
	}
	for _, t := range d.Told {
		b.head(3, t.Heading)
		for _, r := range t.Rows {
			fmt.Fprintf(&b, "- **%s:** %s\n", mdText(r.Name), mdRow(r))
		}
		b.WriteByte('\n')
	}
	if len(d.All) > 0 {
		b.head(2, d.said.Print(allTitle))
		var rows [][]string
		for _, x := range d.All {
			rows = append(rows, []string{fmt.Sprint(x.Act), x.Did, fmt.Sprintf("%.1f", x.Lost), x.Band, x.Best})
		}
		b.table([]string{" " + d.said.Print(text.Say("view.debrief-markdown.act", "Act")), d.said.Print(text.Say("view.debrief-markdown.done", "Done")), d.said.Print(text.Say("view.debrief-markdown.minutes-lost", " Minutes lost")), d.said.Print(text.Say("view.debrief-markdown.was", "Was")), d.said.Print(text.Say("view.debrief-markdown.least-costly", "Least costly"))}, rows)
	}
	if d.Print != nil {
		b.head(2, d.said.Print(patternTitle))
		b.list(d.Print.Words)
	}
	if d.More != nil {
		fmt.Fprintf(&b, "%s: %s\n\n", mdText(d.More.Name), mdRow(*d.More))
	}
	if l := d.Lesson; l != nil {
		b.head(2, d.said.Print(text.Say("view.debrief-markdown.lesson", "Lesson {id}: {title}", text.Typed("id", l.ID), text.Typed("title", l.Title))))
		b.para(l.About)
		if l.Body != "" {
			b.WriteString(deeper(figure.Prose(l.Body)) + "\n\n")
		}
		if l.Again != "" {
			fmt.Fprint(&b, d.said.Print(text.Say("view.debrief-markdown.try-again", "**Try again:** {md_code}", text.Typed("md_code", mdCode(l.Again))))+"\n\n")
		}
	}
	b.para(d.Notice)
	return b.text()
}

func mdRow(r Row) string {
	if r.Type {
		return mdCode(r.Text)
	}
	return mdText(r.Text)
}

// mdCode writes a text as code, which holds no backquote of its own.
func mdCode(s string) string { return "`" + strings.ReplaceAll(s, "`", "'") + "`" }

// mdText writes a text so that Markdown takes every sign for itself, for texts that begin
// with a letter or a number.
func mdText(s string) string {
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", ">", "&gt;", "&", "&amp;", "[", `\[`, "]", `\]`, "#", `\#`, "\n", " ").Replace(s)
}

func mdCell(s string) string { return strings.ReplaceAll(mdText(s), "|", `\|`) }

// deeper puts a lesson's headings a level further down, under the lesson's own.
func deeper(body string) string {
	lines := strings.Split(strings.TrimSpace(body), "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, "#") {
			lines[i] = "#" + l
		}
	}
	return strings.Join(lines, "\n")
}
