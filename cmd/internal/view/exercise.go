package view

import (
	"fmt"
	"strings"

	"shimwright/grading"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/scenarios/technician"
	"shimwright/sim/fault"
)

// ExerciseList writes the exercises by name, with what each is called.
func ExerciseList(es []exercise.Exercise, p Pen) string {
	const column = 22
	var b strings.Builder
	for _, e := range es {
		text := e.Title
		if e.Mode != attempt.Practice {
			text += fmt.Sprintf(" (%s)", modeWord(e.Mode))
		}
		b.WriteString(p.Field("  "+e.Name, text, column))
	}
	b.WriteString(Wrap("Those in inch units have a metric pair with the same jobs: add -metric to the name.", p.Width, ""))
	return b.String()
}

func modeWord(m attempt.Mode) string {
	switch m {
	case attempt.Check:
		return "check"
	case attempt.Exam:
		return "examination"
	}
	return attempt.PracticeInName
}

// ExercisePage writes all that an exercise says.
func ExercisePage(e exercise.Exercise, p Pen) string {
	g := &page{pen: p.In(e.Units)}
	g.text.WriteString(p.Heading(e.Title))
	g.say(e.About)
	var families, kinds []string
	for _, c := range e.Families {
		families = append(families, c.Name)
	}
	for _, k := range e.Kinds {
		kinds = append(kinds, k.String())
	}
	g.row("Families", strings.Join(families, ", "))
	g.row("Kinds of job", strings.Join(kinds, ", "))
	g.row("Faults", faultWords(e.Faults, g.pen))
	g.row("Units", e.Units.String())
	g.bench(scenarios.Card{Known: technician.Known{Off: e.Off}, Budget: e.Budget})
	if len(e.Weights) > 0 {
		var weights []string
		for _, id := range scenarios.Points() {
			if w, ok := e.Weights[id]; ok {
				weights = append(weights, fmt.Sprintf("%s: %s", id, w))
			}
		}
		g.row("Points weighed", strings.Join(weights, ", "))
	}
	if e.Band != "" {
		g.row("Difficulty", e.Band)
	}
	g.row("Help", helpWords(e.Help))
	g.row("At sign-off", signedWords(e.Mode))
	if e.Open != attempt.AsItStands {
		g.row("Left open", p.Print(e.Open.Name()))
	}
	var tasks []string
	for _, t := range exercise.Tasks() {
		for _, id := range e.Tasks {
			if id == t.ID {
				tasks = append(tasks, p.Print(t.Does))
			}
		}
	}
	if len(tasks) > 0 {
		g.row("Tasks", strings.Join(tasks, "; "))
	}
	if e.Note != "" {
		g.row("Note", e.Note)
	}
	g.row("Job numbers", numberWords(e))
	return g.text.String()
}

func numberWords(e exercise.Exercise) string {
	switch {
	case len(e.Seeds) > 0:
	case e.Count > 0:
		return fmt.Sprintf("%d to %d", e.First, e.First+uint64(e.Count)-1)
	default:
		return fmt.Sprintf("%d and up", e.First)
	}
	var out []string
	for _, n := range e.Seeds {
		out = append(out, fmt.Sprint(n))
	}
	return strings.Join(out, ", ")
}

func faultWords(r scenarios.FaultRule, p Pen) string {
	names := func(ids []fault.ID) string {
		var out []string
		for _, id := range ids {
			if f, err := fault.Find(id); err == nil {
				out = append(out, p.Print(f.Name))
			}
		}
		return strings.Join(out, "; ")
	}
	switch {
	case len(r.OneOf) > 0:
		return "one of these: " + names(r.OneOf)
	case len(r.Only) > 0:
		return "at most these, as often as the card says: " + names(r.Only)
	case r.None:
		return "none"
	}
	return "as often as the card says"
}

func helpWords(h attempt.Help) string {
	switch h {
	case attempt.CoachHelp:
		return "coach: all of full; after each decision what it cost and why, and acts can be taken back"
	case attempt.LittleHelp:
		return "little: what can be done now, and no lessons"
	case attempt.NoHelp:
		return "none: only how acts are written"
	}
	return "full: what can be done now, where to begin, lessons"
}

func signedWords(m attempt.Mode) string {
	switch m {
	case attempt.Check:
		return "the score and the list of points; the rest from the instructor"
	case attempt.Exam:
		return "nothing, until the instructor grades the attempt file"
	}
	return "the whole debrief"
}

// Terms says in a line what an attempt at an exercise is made on.
func Terms(t attempt.Terms, p Pen) string {
	if t.Exercise == "" {
		return ""
	}
	text := fmt.Sprintf("Exercise %s.", t.Exercise)
	switch t.Mode {
	case attempt.Check:
		text = fmt.Sprintf("Exercise %s, a check: the score is told at sign-off.", t.Exercise)
	case attempt.Exam:
		text = fmt.Sprintf("Exercise %s, an examination: nothing is told at sign-off.", t.Exercise)
	}
	return Wrap(text, p.Width, "")
}

// Score writes what a check tells at sign-off: the score by area and the list of points,
// but neither the decisions nor what the axle was.
func Score(r grading.Report, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(fmt.Sprintf("Check: %d out of 100", r.Score)))
	for _, a := range r.Areas {
		b.WriteString(p.Field(fmt.Sprintf("  %s %3d", pad(string(a.Area), 26), a.Score), "", 35))
	}
	b.WriteString("\n" + p.Strong(processTitle) + "\n" + checkedText(process(r.Acceptance, p.Printer), p))
	return b.String()
}
