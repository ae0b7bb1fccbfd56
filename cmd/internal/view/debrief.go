package view

import (
	"fmt"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/lessons"

	"shimwright/sim/text"
)

// The titles of the parts of a debrief.
var (
	lossTitle     = text.Say("view.debrief.what-acts-cost-minutes", "What the acts cost, in minutes")
	wellTitle     = text.Say("view.debrief.done-well", "Done well")
	sumTitle      = text.Say("view.debrief.how-score-adds-up", "How the score adds up")
	processTitle  = text.Say("view.debrief.acceptance-list", "Acceptance list")
	thoughtTitle  = text.Say("view.debrief.what-you-may-have", "What you may have thought")
	foretoldTitle = text.Say("view.debrief.what-you-expected-what", "What you expected and what you read")
	truthTitle    = text.Say("view.debrief.what-axle-really-was", "What the axle really was")
	areasTitle    = text.Say("view.debrief.score-by-area", "Score by area")
	toldTitle     = text.Say("view.debrief.each-decision-cost-more", "Each decision that cost more than 3 minutes, in the order of the work")
	allTitle      = text.Say("view.debrief.other-decisions", "The other decisions")
	patternTitle  = text.Say("view.debrief.last-contact-pattern", "The last contact pattern")
)

// Text writes a debrief for the terminal.
func (d Debrief) Text(p Pen) (string, error) {
	var b strings.Builder
	part := func(title string) { b.WriteString("\n" + Wrap(p.Strong(title), p.Width, "")) }
	b.WriteString(p.Heading(d.Title))
	b.WriteString(Wrap(d.Job, p.Width, ""))
	if d.Terms != "" {
		b.WriteString(Wrap(d.Terms, p.Width, ""))
	}
	b.WriteString(listText(d.First, p))
	part(p.Print(lossTitle))
	if d.Nothing != "" {
		b.WriteString(Wrap(d.Nothing, p.Width, ""))
	}
	b.WriteString(picture.Bars(d.bars(), picture.Options{Columns: p.Width, Unit: p.Print(text.Say("view.debrief.min", "min"))}))
	b.WriteString(Wrap(strings.Join(d.Adds, " "), p.Width, ""))
	listed := func(title string, items []string) {
		if len(items) > 0 {
			part(title)
			b.WriteString(listText(items, p))
		}
	}
	listed(p.Print(wellTitle), d.Well)
	listed(p.Print(sumTitle), d.Sum)
	if len(d.Process) > 0 || d.Proved != "" {
		part(p.Print(processTitle))
		b.WriteString(checkedText(d.Process, p))
	}
	if d.Proved != "" {
		b.WriteString(Wrap(d.Proved, p.Width, "  "))
	}
	if t := d.Thought; t != nil {
		part(p.Print(thoughtTitle))
		b.WriteString(Wrap(t.Lead, p.Width, "  "))
		b.WriteString(listText(t.Asked, p))
		if t.Note != "" {
			b.WriteString(Wrap(t.Note, p.Width, "  "))
		}
	}
	listed(p.Print(foretoldTitle), d.Foretold)
	if d.Truth != nil {
		part(p.Print(truthTitle))
		b.WriteString(d.Truth.text(p))
	}
	if len(d.Areas) > 0 {
		part(p.Print(areasTitle))
	}
	for _, a := range d.Areas {
		b.WriteString(p.Field(fmt.Sprintf("  %s %3d", pad(a.Name, 26), a.Score), a.Words, 35))
	}
	if len(d.Told) > 0 {
		part(p.Print(toldTitle))
	}
	for i, t := range d.Told {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(Hang(p.Strong(t.Heading), p.Width, "", "  "))
		b.WriteString(rowsText(t.Rows, p))
	}
	if len(d.All) > 0 {
		part(p.Print(allTitle))
	}
	for _, x := range d.All {
		said := x.Did
		if x.Best != "" {
			said += p.Print(text.Say("view.debrief.least-costly", "; least costly: {best}", text.Typed("best", x.Best)))
		}
		b.WriteString(p.Field(p.Print(text.Say("view.debrief.min-2", "  {act} {lost} min, {band}", text.Typed("act", fmt.Sprintf("%3d", x.Act)), text.Typed("lost", fmt.Sprintf("%6.1f", x.Lost)), text.Typed("band", x.Band))), said, 30))
	}
	if d.Print != nil {
		part(p.Print(patternTitle))
		b.WriteString(listText(d.Print.Words, p))
	}
	if d.More != nil {
		b.WriteString("\n" + Wrap(d.More.Name+":", p.Width, "") + "  " + d.More.Text + "\n")
	}
	b.WriteString("\n" + Wrap(d.Notice, p.Width, ""))
	if l := d.Lesson; l != nil {
		prose, err := l.text(p)
		b.WriteString("\n" + prose)
		return b.String(), err
	}
	return b.String(), nil
}

func rowsText(rows []Row, p Pen) string {
	var b strings.Builder
	for _, r := range rows {
		b.WriteString(p.Field("  "+r.Name, r.Text, 16))
	}
	return b.String()
}

func listText(items []string, p Pen) string {
	var b strings.Builder
	for _, s := range items {
		b.WriteString(Hang(s, p.Width, "  - ", "    "))
	}
	return b.String()
}

func checkedText(items []Checked, p Pen) string {
	var b strings.Builder
	for _, c := range items {
		box := "[x]"
		if !c.Met {
			box = "[ ]"
		}
		b.WriteString(Hang(c.Text, p.Width, "  "+box+" ", "      "))
		if c.Why != "" {
			b.WriteString(Hang(c.Why, p.Width, "      ", "      "))
		}
	}
	return b.String()
}

func (t Truth) text(p Pen) string {
	var b strings.Builder
	for _, s := range []string{t.Technician, t.None} {
		if s != "" {
			b.WriteString(Wrap(s, p.Width, "  "))
		}
	}
	for _, f := range t.Faults {
		b.WriteString(Hang(f, p.Width, "  * ", "    "))
	}
	b.WriteString(Wrap(t.Shim, p.Width, "  "))
	b.WriteByte('\n')
	b.WriteString(checkedText(t.Lines, p))
	for _, l := range t.Luck {
		b.WriteString(Wrap(l, p.Width, "  "))
	}
	if len(t.Service) > 0 {
		b.WriteString("\n" + Wrap(t.Service[0], p.Width, "  "))
		b.WriteString(listText(t.Service[1:], p))
	}
	return b.String()
}

// text writes the lesson: what it is called and about, and its text if there is any.
func (l LessonPart) text(p Pen) (string, error) {
	if l.Body == "" {
		prose := Wrap(p.Print(text.Say("view.debrief.lesson", "Lesson {id}: {title}. {about}", text.Typed("id", l.ID), text.Typed("title", l.Title), text.Typed("about", l.About))), p.Width, "")
		if l.Again != "" {
			prose += Wrap(p.Print(text.Say("view.debrief.try-again-type", "To try again, type:")), p.Width, "") + "  " + l.Again + "\n"
		}
		return prose, nil
	}
	prose, err := Lesson(l.Title, l.Body, l.Again, p)
	return Wrap(p.Print(text.Say("view.debrief.lesson-2", "Lesson {id}: {about}", text.Typed("id", l.ID), text.Typed("about", l.About))), p.Width, "") + "\n" + prose + "\n", err
}

// LessonNames writes the names of the lessons alone, by the parts of the job, for a small
// screen.
func LessonNames(p Pen) string {
	var b strings.Builder
	var names []string
	all := lessons.All()
	for i, lesson := range all {
		names = append(names, lesson.ID)
		if i == len(all)-1 || all[i+1].Group != lesson.Group {
			b.WriteString(Wrap(p.Strong(lesson.Group), p.Width, "") + Wrap(strings.Join(names, ", "), p.Width, "  "))
			names = nil
		}
	}
	return b.String()
}

// LessonList writes the names of the lessons and what each is about, by the parts of
// the job.
func LessonList(p Pen) string {
	const column = 20
	var b strings.Builder
	group := ""
	for _, lesson := range lessons.All() {
		if lesson.Group != group {
			group = lesson.Group
			b.WriteString(Wrap(p.Strong(group), p.Width, ""))
		}
		b.WriteString(p.Field("  "+lesson.ID, lesson.About, column))
	}
	return b.String()
}

// Lesson writes a lesson with its title and the command to try again with, if any.
func Lesson(title, body, tryAgain string, p Pen) (string, error) {
	style := Plain
	if p.Color {
		style = Color
	}
	if tryAgain != "" {
		body = p.Print(text.Say("view.debrief.try-again", "{trim_right}\n\n**Try again:** `{try_again}`\n", text.Typed("trim_right", strings.TrimRight(body, "\n")), text.Typed("try_again", tryAgain)))
	}
	return withFigures(fmt.Sprintf("# %s\n\n%s\n", title, body), p, style)
}
