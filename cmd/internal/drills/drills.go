// Package drills is a round of short questions, asked and answered in typed lines.
package drills

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/line"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/lessons"
	"shimwright/scenarios/drill"
	"shimwright/sim/quantity"

	"shimwright/sim/text"
)

// round is one round of drills.
type round struct {
	s     term.Streams
	pen   view.Pen
	plan  []drill.Item
	seed  uint64
	again string // options to ask for the same again

	at  int // of plan
	now drill.Drill

	tally   view.Tally
	lessons map[string]int // by answers that were not right
}

func (x *round) say(format string, args ...any) { fmt.Fprintf(x.s.Out, format, args...) }

// Run asks a round of questions. again is what is added to the command that asks for
// another. Errors: of a script, answers that were not all right.
func Run(s term.Streams, plan []drill.Item, seed uint64, again string, p view.Pen) error {
	x := &round{s: s, pen: p, plan: plan, seed: seed, again: again, lessons: map[string]int{}}
	x.say("%s", view.DrillNotice(p))
	x.say("%s", view.Wrap(p.Print(text.Say("drills.round-words-help-help", "Round {seed}. Words that help: help, again, pass, leave.", text.Typed("seed", fmt.Sprint(seed)))), p.Width, ""))
	if err := x.ask(); err != nil {
		return err
	}
	switch err := line.Run(s, x); {
	case errors.Is(err, line.ErrTooLong):
		return text.Fail(err, text.Say("drills.for-answer", "{why} for an answer", text.Cause("why", err)))
	case err != nil && !errors.Is(err, line.ErrLeft):
		return err
	}
	x.summary()
	if right, of := x.tally.Right(); !s.Person && right < of {
		return text.Fail(nil, text.Say("drills.answers-right", "{right} of {plan} answers are right", text.Count("right", right), text.Count("plan", of)))
	}
	return nil
}

// ask shows the question whose turn it is.
func (x *round) ask() error {
	d, err := drill.Draw(x.plan[x.at])
	if err != nil {
		return err
	}
	x.now = d
	return x.show("")
}

func (x *round) show(string) error {
	x.say("\n%s", view.Question(x.now, x.at+1, len(x.plan), x.pen))
	return nil
}

// Prompt is what stands before the next answer.
func (x *round) Prompt() string { return "> " }

// words are what is answered at any time besides answers.
func (x *round) words() []line.Word {
	return []line.Word{
		{Name: "help", Do: x.help},
		{Name: "again", Help: x.s.Print(text.Say("drills.question-once-more", "the question once more")), Do: x.show},
		{Name: "pass", Help: x.s.Print(text.Say("drills.show-answer-go", "show the answer and go on")), Do: func(string) error { return errPassed }},
		{Name: "lesson", Help: x.s.Print(text.Say("drills.lesson-this-question-name", "the lesson on this question; or a name to read another")), Do: x.lesson},
		{Name: "units", Help: x.s.Print(text.Say("drills.then-inch-metric-what", "then inch or metric: what is shown and what a bare number means")), Do: x.changeUnits},
		line.Leave(x.s.Print(text.Say("drills.stop-here-summary", "stop here, with a summary"))),
	}
}

// errPassed is that of a question that gets no answer.
var errPassed = errors.New("passed")

// Take does what one line asks. done is true when all has been asked.
func (x *round) Take(typed string, _ int) (done bool, err error) {
	if typed == "" {
		return false, nil
	}
	if !x.s.Person {
		x.say("> %s\n", typed)
	}
	if w, rest, ok := line.Find(x.words(), typed); ok {
		switch err := w.Do(rest); {
		case errors.Is(err, errPassed):
			return x.pass()
		case err == nil, errors.Is(err, line.ErrLeft):
			return false, err
		default:
			x.decline(x.pen.Error(err))
			return false, nil
		}
	}
	reply, err := x.now.Answer.Read(typed, x.pen.Units())
	if err != nil {
		x.decline(x.pen.Error(err))
		if x.s.Person {
			return false, nil
		}
		return x.pass() // one bad line must not shift the answers after it
	}
	x.say("%s", view.Mark(x.now, &reply, x.pen.Printer).Text(x.pen))
	right, wrong := x.now.Judge(reply)
	if wrong != nil {
		return x.next(right, wrong.Misconception)
	}
	return x.next(right, "")
}

// next enters how the question went and asks the one after it.
func (x *round) next(right bool, m drill.Misconception) (done bool, err error) {
	x.tally.Add(x.now.Kind, right, m)
	if !right {
		x.lessons[x.now.Lesson]++
	}
	if x.at++; x.at == len(x.plan) {
		return true, nil
	}
	return false, x.ask()
}

// pass shows the answer and goes on.
func (x *round) pass() (done bool, err error) {
	x.say("%s", view.Mark(x.now, nil, x.pen.Printer).Text(x.pen))
	return x.next(false, "")
}

func (x *round) decline(why string) { x.say("%s", view.Hang(why, x.pen.Width, "  - ", "    ")) }

func (x *round) help(string) error {
	x.say("%s", view.Wrap(x.s.Print(text.Say("drills.this-question-takes-other", "This question takes {takes}. Other words:", text.Of("takes", x.now.Answer.Takes()))), x.pen.Width, "  "))
	const column = 10
	for _, w := range x.words() {
		if w.Help != "" {
			x.say("%s", x.pen.Field("  "+w.Name, w.Help, column))
		}
	}
	return nil
}

func (x *round) lesson(name string) error {
	if name == "" {
		name = x.now.Lesson
	}
	l, err := lessons.Find(strings.ToLower(name))
	if err != nil {
		return text.Fail(err, text.Say("drills.lesson-alone-shows-this", "{why}; lesson alone shows this question's", text.Cause("why", err)))
	}
	page, err := view.Lesson(l.Title, l.Body, x.pen.Command(job.Asked{Name: l.TryFamily}.Practice(l.TrySeed)), x.pen)
	x.say("%s\n", page)
	return err
}

func (x *round) changeUnits(name string) error {
	u, err := quantity.ParseSystem(name)
	if err != nil {
		return err
	}
	x.pen = x.pen.In(u)
	return x.show("")
}

func (x *round) summary() {
	x.tally.Left = len(x.plan) - x.at
	x.say("\n%s", view.DrillSummary(x.tally, x.pen))
	var names []string
	for l := range x.lessons {
		names = append(names, l)
	}
	slices.Sort(names)
	slices.SortStableFunc(names, func(a, b string) int { return x.lessons[b] - x.lessons[a] })
	if len(names) > 0 {
		x.say("%s\n", x.s.Print(text.Say("drills.read", "Read:  {command}", text.Typed("command", x.pen.Command("lesson "+names[0])))))
	}
	next := "drill"
	if k, ok := x.tally.Missed(); ok {
		next += " " + string(k)
	}
	if x.pen.Units() == quantity.Metric {
		x.again += " --units metric"
	}
	x.say("%s\n", x.s.Print(text.Say("drills.next", "Next:  {command}", text.Typed("command", x.pen.Command(fmt.Sprintf("%s --seed %d%s", next, x.seed+1, x.again))))))
}
