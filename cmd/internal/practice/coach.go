package practice

import (
	"path/filepath"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/view"
	"shimwright/grading/class"
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
		x.purpose(v.At)
		if !v.Toward.IsZero() {
			x.tell("    ", v.Toward)
		}
	}
}

func (x *session) purpose(s bench.Stage) {
	x.say("%s", view.Hang(x.pen.Print(s.Purpose()), x.pen.Width, "  "+x.pen.Strong(x.pen.Print(s.Name()))+": ", "    "))
}

// seen tells the coach what the person's finished jobs show, which lie beside this one.
func (x *session) seen() error {
	if x.Header().Help != attempt.CoachHelp {
		return nil
	}
	all, err := store.KeptIn(filepath.Dir(x.path))
	if err != nil {
		return err
	}
	var some []class.Attempt
	for _, k := range all {
		if k.Path != x.path {
			some = append(some, class.Attempt{File: k.Path, Record: k.Record, Err: k.Err})
		}
	}
	x.Fade(class.SkillOf(some))
	return nil
}

// fading says why the coach speaks or is silent.
func (x *session) fading() {
	if m, ok := x.Fading(); ok {
		x.tell("", m)
	}
}

// example has the coach work the first stage of a coached job, and shows it.
func (x *session) example() error {
	shown, err := x.ShowStage()
	switch {
	case len(shown) > 0 && x.At() == bench.Inspect:
		x.tell("", text.Say("coach.example.half", "The coach does half of the first stage; the other half is yours."))
	case len(shown) > 0:
		x.tell("", text.Say("coach.example", "The coach does the first stage, to show how; then it is your turn."))
	}
	if len(shown) > 0 {
		x.purpose(bench.Inspect)
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
