package grading

import (
	"maps"
	"math"
	"slices"

	"shimwright/grading/cost"
	"shimwright/grading/ledger"
	"shimwright/scenarios"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// A Book is the grade of a job while it goes on: it books each act as Grade will, and can
// take acts back.
type Book struct {
	keeper *bookkeeper
	before []*bookkeeper // as it stood before each act
}

// A Booked is what one act came to. SoFar is what all acts up to it were charged, as
// Report.Lost has it: never below 0.
type Booked struct {
	Line      Line
	Decisions []Decision // none, for an act that builds nothing and cost no more than it had to
	SoFar     float64
}

// OpenBook opens the book of a job at the program's own costs. Errors: those of GradeAt.
func OpenBook(card scenarios.Card) (*Book, error) {
	gains, err := GainsOf(card)
	if err != nil {
		return nil, err
	}
	costs := cost.Default()
	return &Book{keeper: newBookkeeper(ledger.New(costs, card, gains), costs, card)}, nil
}

// Take books a step. A decision that lost nothing worth explaining says what it has come to.
func (k *Book) Take(o history.Step) Booked {
	was := k.keeper.clone()
	k.before = append(k.before, was)
	b := k.keeper
	b.take(len(k.before), o)
	out := Booked{Line: b.lines[len(b.lines)-1], Decisions: slices.Clone(b.decisions[len(was.decisions):]), SoFar: b.sum()}
	for i := range out.Decisions {
		d := &out.Decisions[i]
		if part, ok := partOf(d.Area); ok && d.Means.IsZero() {
			d.Means, d.Knew, d.about = means(b.state, part), was.knew(part), part
		}
	}
	return out
}

// Back takes the last n acts out of the book again.
func (k *Book) Back(n int) {
	left := len(k.before) - n
	k.keeper = k.before[left]
	k.before = k.before[:left]
}

// sum is what has been charged so far.
func (b *bookkeeper) sum() float64 {
	sum := 0.0
	for _, a := range Areas() {
		sum += b.areas[a]
	}
	return hundredths(math.Max(sum, 0))
}

// partOf is the part of the axle that an area is about.
func partOf(a Area) (ledger.Part, bool) {
	switch a {
	case Depth:
		return ledger.Depth, true
	case Preload:
		return ledger.Preload, true
	case Sides:
		return ledger.Sides, true
	}
	return ledger.Looking, false
}

// clone returns an independent copy.
func (b *bookkeeper) clone() *bookkeeper {
	c := *b
	c.state, c.last, c.areas, c.found = b.state.Clone(), maps.Clone(b.last), maps.Clone(b.areas), maps.Clone(b.found)
	c.lines, c.decisions = slices.Clip(b.lines), slices.Clip(b.decisions)
	c.wrong = slices.Clip(b.wrong)
	return &c
}

// ReckoningMessage says how the charge of an act comes about.
func (x Line) ReckoningMessage() text.Message {
	spent, before, after, charge := text.Number("spent", x.Spent, 1), text.Number("before", x.Before, 1), text.Number("expected", x.Expected, 1), text.Number("charge", x.Charge, 1)
	allowed := x.Spent + x.Expected - x.Before - x.Charge
	const tenth = 0.05
	if allowed > tenth {
		return text.Say("ledger.reckoning-allowed", "spent {spent}, of which {allowed} are allowed, + still to be expected after it {expected} - before it {before} = charged {charge} min",
			spent, text.Number("allowed", allowed, 1), after, before, charge)
	}
	return text.Say("ledger.reckoning", "spent {spent} + still to be expected after it {expected} - before it {before} = charged {charge} min", spent, after, before, charge)
}
