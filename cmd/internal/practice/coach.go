package practice

import (
	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/view"
	"shimwright/grading/coach"
	"shimwright/scenarios/attempt"
	"shimwright/sim/text"
)

// coach says in two lines what the coach has to say of an act.
func (x *session) coach(w coach.Word) {
	first, rest := "    "+x.pen.Print(text.Say("coach.says", "Coach:"))+" ", "      "
	for _, m := range w.Messages() {
		x.say("%s", view.Hang(x.pen.Print(m), x.pen.Width, first, rest))
		first = rest
	}
}

// enter says what a stage is for when a coached job comes to it.
func (x *session) enter() {
	if v := x.view(); v.Entering {
		x.say("%s", view.Hang(x.pen.Print(v.At.Purpose()), x.pen.Width, "  "+x.pen.Strong(x.pen.Print(v.At.Name()))+": ", "    "))
	}
}

// example has the coach work the first stage of a coached job, and shows it.
func (x *session) example() error {
	shown, err := x.ShowStage()
	if len(shown) > 0 {
		x.tell("", text.Say("coach.example", "The coach does the first stage, to show how; then it is your turn."))
	}
	for _, o := range shown {
		x.say("%s", view.AtMinute(o.After.Minutes, o.Act, x.pen))
		x.say("%s", view.Outcome(o, x.pen))
	}
	if len(shown) > 0 {
		x.say("\n")
	}
	return err
}

// why opens the reckoning of what the coach said last.
func (x *session) why(string) error {
	if err := x.helps(attempt.CoachHelp); err != nil {
		return err
	}
	w, ok := x.LastWord()
	if !ok {
		return text.Fail(nil, text.Say("coach.nothing-said", "there is no decision yet to say more about"))
	}
	x.tell("  ", text.Say("coach.of-act", "Act {n}, {act}:", text.Count("n", w.Act), text.Typed("act", x.Shown()[w.Act-1].Act.String())))
	for _, m := range w.Reckoning() {
		x.say("%s", view.Hang(x.pen.Print(m), x.pen.Width, "  - ", "    "))
	}
	return nil
}

// takeBack goes back to before the last decision.
func (x *session) takeBack(string) error {
	if err := x.helps(attempt.CoachHelp); err != nil {
		return err
	}
	fell, err := x.TakeBack()
	if err != nil {
		return err
	}
	x.tell("  ", bench.TakenBackMessage(fell))
	x.wrap("  ", "%s.", x.status())
	return nil
}
