package bench

import (
	"slices"

	"shimwright/grading/acceptance"
	"shimwright/grading/coach"
	"shimwright/grading/skill"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A View is all that a face shows of a job as it stands. It holds nothing that is hidden
// from a person at the bench, and no wording. Where the terms give no help, Stages and Left
// are empty.
type View struct {
	Card    scenarios.Card
	Header  attempt.Header
	Status  history.Status
	Stages  []Stage
	At      Stage
	Left    []Todo   // of the procedure, in the order of the job
	Choices []Choice // every act that has a place here
	Paper   []Item
	Sheet   []SheetLine
	Last    *history.Step // the last act; nil before the first
	Repeat  []act.Act     // the last round, to be done again
	Rounds  []Round       // acts that go together, and can be begun now
	Write   []act.Act     // what writes the open lines of the build sheet as they were last fitted or read
	Acts    int
	Saved   bool // acts are kept in a file

	Coached  bool
	Entering bool         // a coached job has come to a stage whose Purpose has not been said yet
	Toward   text.Message // where to look first at that stage, for whoever is shown the way; zero for nothing
	Word     *coach.Word  // what the coach says unasked of the last act; nil for nothing
	FallAway int          // how many acts taking back would undo; 0 where nothing can be taken back
}

// View returns the job as it stands, with amounts that are offered in some units.
func (b *Bench) View(units quantity.System) View {
	lines := acceptance.Of(b.Card(), b.outs)
	v := View{
		Card: b.Card(), Header: b.Header(), Status: b.Status(),
		Stages: stagesOf(b.Card().Kind), At: b.stage(lines), Left: b.todos(lines),
		Choices: b.choices(units), Paper: b.paper(lines), Sheet: b.sheetLines(), Repeat: b.Repeat(), Rounds: b.rounds(units), Write: b.Unwritten(units),
		Acts: len(b.outs), Saved: b.save != nil,
	}
	for i := range b.outs {
		v.Last = &b.outs[i]
	}
	if b.coach != nil {
		v.Coached, v.Entering, v.FallAway = true, b.coach.enter, b.FallAway()
		if words := b.Words(); len(words) > 0 && b.Says(words[len(words)-1]) {
			v.Word = &words[len(words)-1]
		}
		if v.Entering && b.coach.level(v.At) == skill.Shown {
			v.Toward = v.At.toward()
		}
	}
	if v.Header.Help == attempt.NoHelp {
		v.keepQuiet()
	}
	return v
}

// keepQuiet takes out what is help: where the job stands, what the procedure asks for, and
// why a reading does not count. The paper stays, with what was read beside what is printed.
func (v *View) keepQuiet() {
	v.Stages, v.At, v.Left = nil, Inspect, nil
	for i := range v.Choices {
		v.Choices[i].Left = false
	}
	for i := range v.Paper {
		v.Paper[i].Why = acceptance.NoWhy
	}
}

// Lacking lists the lines of the acceptance list that are not proved, in their order.
func (v View) Lacking() []acceptance.Line {
	var out []acceptance.Line
	for _, t := range v.Left {
		if t.Line != nil {
			out = append(out, *t.Line)
		}
	}
	return out
}

// Choice returns an act as it can be chosen; ok is false for one without a place here.
func (v View) Choice(f act.Form) (c Choice, ok bool) {
	for _, c := range v.Choices {
		if c.Form == f {
			return c, true
		}
	}
	return Choice{}, false
}

// In lists the acts of a group: those that can be done now first, and of those the ones that
// take long last.
func (v View) In(g Group) []Choice {
	var can, cannot []Choice
	for _, c := range v.Choices {
		switch {
		case c.Group != g || c.Form == act.ExpectValue:
		case c.Why == nil:
			can = append(can, c)
		default:
			cannot = append(cannot, c)
		}
	}
	const long = 15 // minutes
	slices.SortStableFunc(can, func(a, b Choice) int {
		switch {
		case a.Minutes >= long && b.Minutes < long:
			return 1
		case a.Minutes < long && b.Minutes >= long:
			return -1
		}
		return 0
	})
	return append(can, cannot...)
}
