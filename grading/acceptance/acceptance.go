package acceptance

import (
	"slices"

	"shimwright/scenarios"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// An Outcome is how a line of the list came out.
type Outcome int

// The outcomes.
const (
	NotApplicable Outcome = iota // the job, the design or the bench has no place for it, or the exercise does not count it
	Proved
	Open         // nothing shows it, or what was read cannot tell
	Contradicted // what was read, seen or done shows that it is not so
)

// String is the outcome's code in JSON.
func (o Outcome) String() string {
	return [...]string{"not-applicable", "proved", "open", "contradicted"}[o]
}

// MarshalText writes the code.
func (o Outcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// Name is the outcome in words.
func (o Outcome) Name() text.Message {
	switch o {
	case Proved:
		return text.Say("acceptance.proved", "proved")
	case Open:
		return text.Say("acceptance.open", "not proved")
	case Contradicted:
		return text.Say("acceptance.contradicted", "contradicted")
	}
	return text.Say("acceptance.not-applicable", "does not apply")
}

// A Row is one line of the list, whatever the job.
type Row struct {
	ID       string // of scenarios.Points, which says what has to be so
	Severity scenarios.Weight
	Lesson   string // for a line that is not proved
	Source   text.Message
	// Kinds are the kinds of job it belongs to; Design tells whether a design has a place for
	// it, nil for all.
	Kinds  []scenarios.Kind
	Design func(family.Design) bool
	prove  func(*record) Result
}

// On tells whether a row belongs to the jobs of a card.
func (r Row) On(card scenarios.Card) bool {
	return slices.Contains(r.Kinds, card.Kind) && (r.Design == nil || r.Design(card.Family.Design))
}

// A Result is what is shown of one thing: the outcome and what it was made from.
type Result struct {
	Outcome  Outcome  `json:"outcome"`
	Evidence Evidence `json:"evidence"`
}

// A Line is a row of the list as a job has it.
type Line struct {
	ID       string           `json:"id"`
	Asks     text.Message     `json:"-"`
	Severity scenarios.Weight `json:"severity"`
	Lesson   string           `json:"lesson"`
	Source   text.Message     `json:"-"`
	Result
}

// Missed tells whether the line counts and is not proved.
func (l Line) Missed() bool { return l.Outcome == Open || l.Outcome == Contradicted }

// Of holds the steps of a job against the list, in the order of the list. Lines that have no
// place on the job come out NotApplicable; the weights of the card's exercise take the place
// of the usual ones.
func Of(card scenarios.Card, steps []history.Step) []Line {
	rec := newRecord(card, steps)
	rows := Rows()
	out := make([]Line, 0, len(rows))
	for _, r := range rows {
		l := Line{ID: r.ID, Asks: scenarios.PointName(r.ID), Severity: r.Severity, Lesson: r.Lesson, Source: r.Source}
		w := card.Weights[r.ID]
		if w != "" && w != scenarios.Uncounted {
			l.Severity = w
		}
		if r.On(card) && w != scenarios.Uncounted {
			l.Result = r.prove(rec)
		}
		if l.ID == backlashID && card.UsedGears && l.Missed() {
			l.Lesson = "used-gears" // their specification is what they ran with
		}
		out = append(out, l)
	}
	return out
}

// Find returns a line by its row's id; ok is false for one that is not among them.
func Find(lines []Line, id string) (l Line, ok bool) {
	i := slices.IndexFunc(lines, func(l Line) bool { return l.ID == id })
	if i < 0 {
		return Line{}, false
	}
	return lines[i], true
}
