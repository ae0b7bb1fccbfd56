// Package bench is a job that is being worked, as every face sees it: what is asked for,
// how the axle stands, what has been shown, what can be done now, and one verb, Do. It
// never shows the axle's hidden state, and it keeps each act before it counts.
package bench

import (
	"errors"
	"time"

	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// A Saver keeps the lines of an attempt.
type Saver interface {
	Append(line []byte) error
}

// A Bench is a job being worked.
type Bench struct {
	job   scenarios.Job
	stand *sim.Stand
	rec   *attempt.Record
	outs  []history.Step
	save  Saver
	now   func() time.Time
	coach *coached // nil where the terms give none
}

// Open makes the job of a record and does again what has been done on it. The record is
// the bench's from then on. Errors: those of attempt.Replay, and of a coach where there is one.
func Open(rec *attempt.Record) (*Bench, error) {
	job, err := rec.Header.Order.Generate(rec.Header.Seed)
	if err != nil {
		return nil, err
	}
	return OpenOn(job, rec)
}

// OpenOn is Open for whoever has made the job of the record's order and seed.
func OpenOn(job scenarios.Job, rec *attempt.Record) (*Bench, error) {
	stand, outs, err := attempt.ReplayOn(job, rec)
	if err != nil {
		return nil, err
	}
	b := &Bench{job: job, stand: stand, rec: rec, outs: outs}
	if rec.Header.Help == attempt.CoachHelp {
		err = b.beCoached()
	}
	return b, err
}

// Keep says where acts are kept from now on; nil keeps them nowhere.
func (b *Bench) Keep(s Saver) { b.save = s }

// Clock says what tells the time of the signature; without one it has none. No reading and no
// grade depends on it.
func (b *Bench) Clock(now func() time.Time) { b.now = now }

// Whole is all of the attempt as a file holds it, the last act too where it could not be kept.
func (b *Bench) Whole() ([]byte, error) { return b.rec.Bytes() }

// Card is the job's card.
func (b *Bench) Card() scenarios.Card { return b.job.Card }

// Header is what the attempt was begun on.
func (b *Bench) Header() attempt.Header { return b.rec.Header }

// Status is how the axle stands.
func (b *Bench) Status() history.Status { return b.stand.Status() }

// Shown lists what every act so far has shown. It must not be changed.
func (b *Bench) Shown() []history.Step { return b.outs }

// Possible lists the acts that can be done now.
func (b *Bench) Possible() []act.Form { return b.stand.Possible() }

// HasNoPlace says why an act can never be done here: on no axle of this design, or with
// what this bench has not; the zero Message where it can.
func (b *Bench) HasNoPlace(f act.Form, choices ...act.Option) text.Message {
	if why := sim.NotOnThisAxle(b.job.Card.Family.Design, f); !why.IsZero() {
		return why
	}
	return b.stand.NotHere(f, choices...)
}

// WhyNot says why an act cannot be done now; nil where it can.
func (b *Bench) WhyNot(f act.Form) *history.Refusal { return b.stand.WhyNot(f) }

// Do does an act and keeps it. Errors: *history.Refusal for an act that cannot be done, and
// those of keeping it; such an act does not count.
func (b *Bench) Do(a act.Act) (history.Step, error) {
	return b.do(a, func(o history.Step) []byte {
		var at time.Time
		if a.Form == act.SignOff && b.now != nil {
			at = b.now()
		}
		return b.rec.AddAt(o, at)
	})
}

// do does an act and keeps it as add writes it.
func (b *Bench) do(a act.Act, add func(history.Step) []byte) (history.Step, error) {
	o, err := b.stand.Do(a)
	if err != nil {
		return o, err
	}
	line := add(o)
	if b.save != nil {
		if err := b.save.Append(line); err != nil {
			return o, err
		}
	}
	b.outs = append(b.outs, o)
	b.follow()
	return o, nil
}

// Refused reports whether an error of Do says that the act could not be done.
func Refused(err error) bool {
	var no *history.Refusal
	return errors.As(err, &no)
}

// LastPattern is the last outcome with a contact pattern in it; ok is false while there is
// none.
func (b *Bench) LastPattern() (o history.Step, ok bool) {
	for i := len(b.outs) - 1; i >= 0; i-- {
		for _, r := range b.outs[i].Readings {
			if len(r.Patterns) > 0 {
				return b.outs[i], true
			}
		}
	}
	return history.Step{}, false
}

// UsedUp tells which part of the budget the last act used up; limits of zero are none.
func (b *Bench) UsedUp() (work, parts bool) {
	if len(b.outs) == 0 {
		return false, false
	}
	last, st, allowed := b.outs[len(b.outs)-1], b.stand.Status(), b.job.Card.Budget
	price := shop.Minutes(0)
	for _, p := range last.Parts {
		price += shop.PriceOf(p)
	}
	over := func(limit, spent, before shop.Minutes) bool { return limit > 0 && spent > limit && before <= limit }
	return over(allowed.Minutes, st.Minutes, st.Minutes-last.Minutes), over(allowed.Parts, st.PartsMinutes, st.PartsMinutes-price)
}

// WorthForetelling tells whether a person learns from saying what they expect to read
// before an act: one that can be done and reads again what was changed, unless they have
// just said it.
func (b *Bench) WorthForetelling(a act.Act) bool {
	return debrief.WorthForetelling(a.Form, b.outs)
}

// Debrief grades the attempt as it stands, at a table of costs.
func (b *Bench) Debrief(costs cost.Table, units quantity.System, long bool) (debrief.Debriefing, error) {
	d, err := debrief.Of(costs, b.job, b.stand, b.outs, units, long)
	terms := debrief.TermsOf(b.rec)
	d.Coached, d.Terms = debrief.CoachedBy(b.rec), &terms
	return d, err
}

// Job, Stand and the outcomes are what whatif asks for.
func (b *Bench) Job() scenarios.Job { return b.job }
