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

	"shimwright/sim/text"
)

// ExerciseList writes the exercises by name, with what each is called.
func ExerciseList(es []exercise.Exercise, p Pen) string {
	const column = 22
	var b strings.Builder
	for _, e := range es {
		prose := e.Title
		if e.Mode != attempt.Practice {
			prose += fmt.Sprintf(" (%s)", modeWord(p, e.Mode))
		}
		b.WriteString(p.Field("  "+e.Name, prose, column))
	}
	b.WriteString(Wrap(p.Print(text.Say("view.exercise.those-inch-units-have", "Those in inch units have a metric pair with the same jobs: add -metric to the name.")), p.Width, ""))
	return b.String()
}

func modeWord(p Pen, m attempt.Mode) string {
	switch m {
	case attempt.Check:
		return p.Print(text.Say("view.exercise.check", "check"))
	case attempt.Exam:
		return p.Print(text.Say("view.exercise.examination", "examination"))
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
	g.row(p.Print(text.Say("view.exercise.families", "Families")), strings.Join(families, ", "))
	g.row(p.Print(text.Say("view.exercise.kinds-job", "Kinds of job")), strings.Join(kinds, ", "))
	g.row(p.Print(text.Say("view.exercise.faults", "Faults")), faultWords(e.Faults, g.pen))
	g.row(p.Print(text.Say("view.exercise.units", "Units")), e.Units.String())
	g.bench(scenarios.Card{Known: technician.Known{Off: e.Off}, Budget: e.Budget})
	if len(e.Weights) > 0 {
		var weights []string
		for _, id := range scenarios.Points() {
			if w, ok := e.Weights[id]; ok {
				weights = append(weights, fmt.Sprintf("%s: %s", id, w))
			}
		}
		g.row(p.Print(text.Say("view.exercise.points-weighed", "Points weighed")), strings.Join(weights, ", "))
	}
	if e.Band != "" {
		g.row(p.Print(text.Say("view.exercise.difficulty", "Difficulty")), e.Band)
	}
	g.row(p.Print(text.Say("view.exercise.help", "Help")), p.Print(helpWords(e.Help)))
	g.row(p.Print(text.Say("view.exercise.sign-off", "At sign-off")), p.Print(signedWords(e.Mode)))
	if e.Open != attempt.AsItStands {
		g.row(p.Print(text.Say("view.exercise.left-open", "Left open")), p.Print(e.Open.Name()))
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
		g.row(p.Print(text.Say("view.exercise.tasks", "Tasks")), strings.Join(tasks, "; "))
	}
	if e.Note != "" {
		g.row(p.Print(text.Say("view.exercise.note", "Note")), e.Note)
	}
	g.row(p.Print(text.Say("view.exercise.job-numbers", "Job numbers")), numberWords(e, p))
	return g.text.String()
}

func numberWords(e exercise.Exercise, p Pen) string {
	switch {
	case len(e.Seeds) > 0:
	case e.Count > 0:
		return p.Print(text.Say("view.exercise.to", "{first} to {count}", text.Typed("first", fmt.Sprint(e.First)), text.Typed("count", fmt.Sprint(e.First+uint64(e.Count)-1))))
	default:
		return p.Print(text.Say("view.exercise.up", "{first} and up", text.Typed("first", fmt.Sprint(e.First))))
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
		return p.Print(text.Say("view.exercise.one-these", "one of these: {names}", text.Typed("names", names(r.OneOf))))
	case len(r.Only) > 0:
		return p.Print(text.Say("view.exercise.most-these-as-often", "at most these, as often as the card says: {names}", text.Typed("names", names(r.Only))))
	case r.None:
		return p.Print(text.Say("view.exercise.none", "none"))
	}
	return p.Print(text.Say("view.exercise.as-often-as-card", "as often as the card says"))
}

func helpWords(h attempt.Help) text.Message {
	switch h {
	case attempt.CoachHelp:
		return text.Say("view.exercise.coach-all-full-after", "coach: all of full; after each decision what it cost and why, and acts can be taken back")
	case attempt.LittleHelp:
		return text.Say("view.exercise.little-what-can-be", "little: what can be done now, and no lessons")
	case attempt.NoHelp:
		return text.Say("view.exercise.none-only-how-acts", "none: only how acts are written")
	}
	return text.Say("view.exercise.full-what-can-be", "full: what can be done now, where to begin, lessons")
}

func signedWords(m attempt.Mode) text.Message {
	switch m {
	case attempt.Check:
		return text.Say("view.exercise.score-list-points-rest", "the score and the list of points; the rest from the instructor")
	case attempt.Exam:
		return text.Say("view.exercise.nothing-until-instructor-grades", "nothing, until the instructor grades the attempt file")
	}
	return text.Say("view.exercise.whole-debrief", "the whole debrief")
}

// Terms says in a sentence, and a space after it, what an attempt at an exercise is made on.
func Terms(t attempt.Terms, p Pen) string {
	if t.Exercise == "" {
		return ""
	}
	prose := p.Print(text.Say("view.exercise.exercise", "Exercise {exercise}.", text.Typed("exercise", t.Exercise)))
	switch t.Mode {
	case attempt.Check:
		prose = p.Print(text.Say("view.exercise.exercise-check-score-told", "Exercise {exercise}, a check: the score is told at sign-off.", text.Typed("exercise", t.Exercise)))
	case attempt.Exam:
		prose = p.Print(text.Say("view.exercise.exercise-examination-nothing-told", "Exercise {exercise}, an examination: nothing is told at sign-off.", text.Typed("exercise", t.Exercise)))
	}
	return prose + " "
}

// Score writes what a check tells at sign-off: the score by area and the list of points,
// but neither the decisions nor what the axle was.
func Score(r grading.Report, p Pen) string {
	var b strings.Builder
	b.WriteString(p.Heading(p.Print(text.Say("view.exercise.check-out-100", "Check: {score} out of 100", text.Count("score", r.Score)))))
	for _, a := range r.Areas {
		b.WriteString(p.Field(fmt.Sprintf("  %s %3d", pad(p.Print(a.Area.Name()), 26), a.Score), "", 35))
	}
	b.WriteString("\n" + p.Strong(p.Print(processTitle)) + "\n" + checkedText(process(r.Acceptance, p.Printer), p))
	return b.String()
}
