package view

import (
	"slices"
	"strings"

	"shimwright/lessons/tasklist"
	"shimwright/scenarios/exercise"

	"shimwright/sim/text"
)

// Tasks writes which lessons, drills and exercises train each task of the trade, and which
// published lists ask for it.
func Tasks(p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(p.Print(text.Say("view.tasks.what-trains-each-task", "What trains each task"))))
	does := exercise.Tasks()
	for i, t := range tasklist.Trainings() {
		b.WriteString(Wrap(p.Strong(t.Task)+": "+p.Print(does[i].Does), p.Width, ""))
		var exercises []string
		for _, e := range exercise.All() {
			if slices.Contains(e.Tasks, t.Task) {
				exercises = append(exercises, e.Name)
			}
		}
		const column = 14
		for _, row := range []struct {
			name string
			of   []string
		}{{"  " + p.Print(text.Say("view.tasks.lessons", "lessons")), t.Lessons}, {"  " + p.Print(text.Say("view.tasks.drills", "drills")), t.Drills}, {"  " + p.Print(text.Say("view.tasks.exercises", "exercises")), exercises}} {
			if len(row.of) > 0 {
				b.WriteString(p.Field(row.name, strings.Join(row.of, ", "), column))
			}
		}
	}
	b.WriteString("\n" + p.Heading(p.Print(text.Say("view.tasks.published-lists-ask-for", "Published lists that ask for them"))))
	b.WriteString(Wrap(p.Print(text.Say("view.tasks.numbers-change-edition-check", "Numbers change with the edition: check the current list. What is asked for is told in our own words. This program certifies nobody.")), p.Width, ""))
	for _, e := range tasklist.Entries() {
		standing := p.Print(text.Say("view.tasks.from-memory", "from memory"))
		if e.Verified {
			standing = p.Print(text.Say("view.tasks.verified-public-copy", "verified in a public copy"))
		}
		b.WriteString(Hang(p.Print(text.Say("view.tasks.tasks", "{place}, {list}, {code} ({standing}): {about}. Tasks: {tasks}.", text.Typed("place", e.Place), text.Typed("list", e.List), text.Typed("code", e.Code), text.Typed("standing", standing), text.Typed("about", e.About), text.Typed("tasks", strings.Join(e.Tasks, ", ")))), p.Width, "", "  "))
	}
	return b.String()
}
