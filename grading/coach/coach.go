// Package coach says at once what each decision of a job cost and why. Its words are made of
// the book that the grade is made of, act by act, so that what it says on the way adds up to
// what the debrief says at the end. Like the grade it sees what could be known, and never the
// axle's hidden state.
package coach

import (
	"strings"

	"shimwright/grading"
	"shimwright/scenarios"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// Sound is the loss, in minutes, up to which a decision is called sound, and Small that up to
// which what the readings meant is not gone into.
const (
	Sound = 1.0
	Small = 3.0
)

// A Coach follows one job.
type Coach struct {
	book  *grading.Book
	words []Word
}

// New begins with the job as it was handed out. Errors: those of grading.OpenBook.
func New(card scenarios.Card) (*Coach, error) {
	book, err := grading.OpenBook(card)
	if err != nil {
		return nil, err
	}
	return &Coach{book: book}, nil
}

// Take follows an act, and returns what there is to say of it.
func (c *Coach) Take(o history.Step) Word {
	b := c.book.Take(o)
	w := Word{Act: b.Line.Act, Line: b.Line, Decisions: b.Decisions, SoFar: b.SoFar}
	c.words = append(c.words, w)
	return w
}

// Back forgets the last n acts.
func (c *Coach) Back(n int) {
	c.book.Back(n)
	c.words = c.words[:len(c.words)-n]
}

// Words are those of every act so far, spoken or not. They must not be changed.
func (c *Coach) Words() []Word { return c.words }

// Decision is the number of the last act, from 1, that was a decision; 0 for none.
func (c *Coach) Decision() int {
	for i := len(c.words) - 1; i >= 0; i-- {
		if len(c.words[i].Decisions) > 0 {
			return i + 1
		}
	}
	return 0
}

// A Word is what a coach has to say of an act, in minutes as the grade has them.
type Word struct {
	Act       int // from 1
	Line      grading.Line
	Decisions []grading.Decision // the dearest part first
	SoFar     float64            // charged so far, this act included
}

// Spoken tells whether there is anything to say: of an act that builds something, that cost
// more than it had to, or that saved something.
func (w Word) Spoken() bool { return len(w.Decisions) > 0 || w.saved() }

func (w Word) saved() bool {
	const worthSaying = -1.0 // minutes charged
	return w.Line.Charge < worthSaying
}

// Lost is what the decision cost beyond the best one.
func (w Word) Lost() float64 {
	sum := 0.0
	for _, d := range w.Decisions {
		sum += d.Lost
	}
	return sum
}

// Messages say it in two lines: what it cost and why, and what would have been cheaper, or
// what all has cost so far. None where nothing is spoken.
func (w Word) Messages() []text.Message {
	if !w.Spoken() {
		return nil
	}
	lost, sofar := text.Minutes("lost", w.Lost()), text.Minutes("sofar", w.SoFar)
	var d grading.Decision
	if len(w.Decisions) > 0 {
		d = w.Decisions[0]
	}
	why := text.Of("why", d.Means)
	var said text.Message
	switch {
	case w.saved() && w.Lost() <= Small:
		said = text.Say("coach.saves", "Well placed: on what was known it saves {saved}.", text.Minutes("saved", -w.Line.Charge))
	case w.Lost() <= Sound && d.Means.IsZero():
		said = text.Say("coach.sound", "Sound.")
	case w.Lost() <= Sound:
		said = text.Say("coach.sound-for", "Sound: {why}.", why)
	case d.Means.IsZero() || w.Lost() <= Small && !strings.HasPrefix(d.Means.Code(), "decision."):
		said = text.Say("coach.cost", "Cost {lost}.", lost)
	default:
		said = text.Say("coach.cost-for", "Cost {lost}: {why}.", lost, why)
	}
	then := text.Say("coach.so-far", "Cost so far {sofar}.", sofar)
	if w.Lost() > Sound && !d.Best.IsZero() {
		then = text.Say("coach.better", "Cheaper here: {best}. Cost so far {sofar}.", text.Of("best", d.Best), sofar)
	}
	return []text.Message{said, then}
}

// Reckoning says how it comes to that, line by line: what had been read, what that meant, what
// was weighed, and the sum.
func (w Word) Reckoning() []text.Message {
	var out []text.Message
	for _, d := range w.Decisions {
		out = append(out, text.Say("coach.why.part", "{did}: {lost} lost", text.Typed("did", d.Did), text.Minutes("lost", d.Lost)))
		out = append(out, text.Say("coach.why.knew", "Known: {knew}.", text.Of("knew", d.KnewMessage())))
		if !d.Means.IsZero() {
			out = append(out, text.Say("coach.why.means", "That means: {means}.", text.Of("means", d.Means)))
		}
		for _, a := range d.Alternatives {
			way := text.Say("coach.why.way", "{what}: {minutes} still to be expected", text.Typed("what", a.What), text.Minutes("minutes", a.Minutes))
			if a.Chosen {
				way = text.Say("coach.why.chosen", "{what}: {minutes}, and that was done", text.Typed("what", a.What), text.Minutes("minutes", a.Minutes))
			}
			out = append(out, way)
		}
		if w.Lost() > Small {
			out = append(out, text.Say("coach.why.lesson", "Lesson: {lesson}.", text.Typed("lesson", d.Lesson)))
		}
	}
	out = append(out, text.Say("coach.why.sum", "In the book: {sum}.", text.Of("sum", w.Line.ReckoningMessage())))
	const tenth = 0.05
	switch luck := w.Line.Luck; {
	case luck > tenth:
		out = append(out, text.Say("coach.why.bad-luck", "What it showed made the job {minutes} dearer than could be expected. That is luck, and is not charged.", text.Minutes("minutes", luck)))
	case luck < -tenth:
		out = append(out, text.Say("coach.why.good-luck", "What it showed made the job {minutes} cheaper than could be expected. That is luck, and is not credited.", text.Minutes("minutes", -luck)))
	}
	return out
}
