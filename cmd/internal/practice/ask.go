package practice

import (
	"regexp"
	"slices"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/datasheet"
	"shimwright/sim/text"
)

// tell writes messages, a paragraph each.
func (x *session) tell(indent string, all ...text.Message) {
	for _, m := range all {
		x.say("%s", view.Wrap(x.pen.Print(m), x.pen.Width, indent))
	}
}

// view is the job as it stands.
func (x *session) view() bench.View { return x.View(x.pen.Units()) }

// next lists what is left of the stage, and of the stages after it.
func (x *session) next(string) error {
	if err := x.helps(attempt.LittleHelp); err != nil {
		return err
	}
	v := x.view()
	x.tell("  ", text.Say("next.stage", "Stage: {stage}.", text.Of("stage", v.At.Name())))
	const most = 6
	var here, later []bench.Todo
	for _, t := range v.Left {
		if t.Stage <= v.At {
			here = append(here, t)
		} else {
			later = append(later, t)
		}
	}
	for i, t := range here {
		if i == most {
			x.tell("  ", text.Say("next.more", "and {n} more", text.Count("n", len(here)-most)))
			break
		}
		m := t.Message()
		if t.Line == nil {
			m = text.Say("next.inspection", "{line}: {help}", text.Typed("line", t.Form.String()), text.Of("help", m))
		}
		x.say("%s", view.Hang(x.pen.Print(m), x.pen.Width, "  - ", "    "))
	}
	if len(later) > 0 {
		x.tell("  ", text.Say("next.later", "After it, {n} {n:line|lines} of the acceptance list {n:is|are} still to be proved.", text.Count("n", len(later))))
	}
	return nil
}

// status shows the stage, what is in, and the paper.
func (x *session) standing(string) error {
	v := x.view()
	var stages []string
	for _, s := range v.Stages {
		name := x.pen.Print(s.Name())
		if s == v.At {
			name = x.pen.Strong("[" + name + "]")
		}
		stages = append(stages, name)
	}
	if len(stages) > 0 {
		x.say("%s", view.Wrap(strings.Join(stages, " > "), x.pen.Width, "  "))
	}
	var in []string
	for _, m := range v.Standing() {
		in = append(in, x.pen.Print(m))
	}
	x.say("%s", view.Wrap(strings.Join(in, "; ")+". "+view.Spent(v.Status, x.Card().Budget, x.pen.Printer), x.pen.Width, "  "))
	const column = 24
	for _, i := range v.Paper {
		parts := make([]string, 0, 3)
		for _, m := range []text.Message{i.ReadMessage(), i.StateMessage(), i.SpecMessage()} {
			if !m.IsZero() {
				parts = append(parts, x.pen.Print(m))
			}
		}
		x.say("%s", x.pen.Field("  "+x.pen.Print(i.Name), strings.Join(parts, "; "), column))
	}
	return nil
}

// hint says a little more each time it is asked for at one place of the job.
func (x *session) hint(string) error {
	if err := x.helps(attempt.FullHelp); err != nil {
		return err
	}
	if n := len(x.Shown()); n != x.hintAt {
		x.hintAt, x.hints = n, 0
	}
	x.hints = min(x.hints+1, bench.Hints)
	if x.hints == 1 {
		x.tell("  ", x.view().At.Purpose())
	}
	x.tell("  ", x.HintAt(x.hints))
	if x.hints < bench.Hints {
		x.tell("  ", text.Say("hint.again", "Type hint again for more."))
	}
	return nil
}

// repeat does the acts of the last round again.
func (x *session) repeat(string) error {
	round := x.Repeat()
	if len(round) == 0 {
		return text.Fail(nil, text.Say("repeat.none", "there is no round to repeat yet: it is what was turned or tightened, and the reading after it"))
	}
	for _, a := range round {
		x.say("%s", view.Wrap(x.pen.Strong(a.String()), x.pen.Width, "  "))
		x.refused = false
		if done, err := x.do(a.String(), a); err != nil || done || x.refused {
			return err
		}
	}
	return nil
}

// Complete lists what the last word of a line may become: the words of the session and the
// acts that have a place on this axle.
func (x *session) Complete(line string) []string {
	line = line[strings.LastIndex(line, ";")+1:]
	whole := strings.TrimLeft(line, " ")
	done := ""
	if i := strings.LastIndex(whole, " "); i >= 0 {
		done = whole[:i]
	}
	out := bench.ReaderOn(x.axle.Design, x.pen.Units()).Next(done)
	if strings.TrimSpace(done) == "" {
		for _, w := range x.words() {
			if w.Help != "" {
				out = append(out, w.Name)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// anAmount matches the numbers of a line with what stands behind them.
var anAmount = regexp.MustCompile(`[-+]?[0-9.,]+\S*`)

// nearest names the act or word that a line which is none comes nearest to.
func (x *session) nearest(line string) (string, bool) {
	said := strings.Join(strings.Fields(anAmount.ReplaceAllString(strings.ToLower(line), "")), " ")
	var all []string
	for _, u := range act.Usages() {
		if sim.NotOnThisAxle(x.axle.Design, u.Form).IsZero() {
			name, _, _ := strings.Cut(u.Line, " {")
			all = append(all, name)
		}
	}
	first, _, more := strings.Cut(said, " ")
	if !more {
		for _, w := range x.words() {
			if w.Help != "" {
				all = append(all, w.Name)
			}
		}
		all = append(all, bench.ReaderOn(x.axle.Design, x.pen.Units()).Verbs()...)
		said = first
	}
	near, ok := datasheet.Nearest(said, all)
	return near, ok && near != said
}

// sure tells whether a person means to sign: the first time they are told what the
// acceptance list lacks, where the terms give help, and asked to say it again.
func (x *session) sure() bool {
	if !x.s.Person || x.signing || x.WhyNot(act.SignOff) != nil {
		return true
	}
	x.signing = true
	lacks := x.view().Lacking()
	switch {
	case x.Header().Help == attempt.NoHelp:
	case len(lacks) == 0:
		x.tell("    ", text.Say("sign.nothing-lacks", "Every line of the acceptance list is proved."))
	default:
		x.tell("    ", text.Say("sign.lacks", "The acceptance list is not complete. Not proved:"))
		for _, l := range lacks {
			m := bench.Todo{Line: &l}.Message()
			x.say("%s", view.Hang(x.pen.Print(m), x.pen.Width, "    - ", "      "))
		}
	}
	x.tell("    ", text.Say("sign.again", "Signing closes the job. Type sign off again to sign."))
	return false
}

// meant asks whether another line was meant.
func meant(near string) text.Message {
	return text.Say("near.act", "did you mean {line}?", text.Typed("line", near))
}
