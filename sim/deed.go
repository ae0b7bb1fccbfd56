package sim

import (
	"sync"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// A deed is what an act needs and does at the bench. What an act is apart from a bench (its
// line, minutes, caution) stands in its row of package act.
type deed struct {
	// design says why the act has no place on axles of a design; nil where it has on all.
	design func(family.Design) text.Message
	// needs are asked in order; the first that is not met is why not.
	needs []need
	// asks are the needs that depend on the act's amounts and options; nil for none.
	asks func(*Stand, act.Act) text.Message
	// does carries the act out. It changes nothing when it fails.
	does func(*Stand, act.Act, *history.Step) error
	// touches are the changes it counts.
	touches history.Changes
	// tool tells whether the act may be left off a bench for want of its tool.
	tool bool
}

// A need is what must be in or out, chosen or set up, before an act.
type need struct {
	met func(*Stand) bool
	why func(*Stand) text.Message
}

// deeds lists what every act needs and does, by form.
var deeds = sync.OnceValue(func() []deed {
	out := make([]deed, len(act.Usages()))
	for _, rows := range []map[act.Form]deed{inspections(), partsWork(), pinionWork(), caseWork(), paperWork()} {
		for f, d := range rows {
			out[f] = d
		}
	}
	return out
})

// plain makes a does of work that cannot fail.
func plain(work func(*Stand, act.Act, *history.Step)) func(*Stand, act.Act, *history.Step) error {
	return func(s *Stand, a act.Act, out *history.Step) error {
		work(s, a, out)
		return nil
	}
}

// Possible lists the forms that can be done now, in catalogue order.
func (s *Stand) Possible() []act.Form {
	var out []act.Form
	for _, u := range act.Usages() {
		if s.WhyNot(u.Form) == nil {
			out = append(out, u.Form)
		}
	}
	return out
}

// WhyNot says what stands in the way of a form now; nil if nothing does.
func (s *Stand) WhyNot(f act.Form) *history.Refusal {
	no := func(b history.Bar, why text.Message) *history.Refusal {
		return &history.Refusal{Act: act.Act{Form: f}, Bar: b, Why: why}
	}
	if s.signed {
		return no(history.Closed, text.Say("not.closed", "the axle is signed off; the job is closed"))
	}
	if why := NotOnThisAxle(s.fam.Design, f); !why.IsZero() {
		return no(history.NotOnThisAxle, why)
	}
	if why := s.NotHere(f); !why.IsZero() {
		return no(history.NotAtThisBench, why)
	}
	for _, n := range deeds()[f].needs {
		if !n.met(s) {
			return no(history.NotNow, n.why(s))
		}
	}
	return nil
}

// refuse adds to WhyNot what depends on the amounts and options of the act.
func (s *Stand) refuse(a act.Act) *history.Refusal {
	if no := s.WhyNot(a.Form); no != nil {
		no.Act = a
		return no
	}
	if why := s.NotHere(a.Form, a.Choices...); !why.IsZero() {
		return &history.Refusal{Act: a, Bar: history.NotAtThisBench, Why: why}
	}
	if asks := deeds()[a.Form].asks; asks != nil {
		if why := asks(s, a); !why.IsZero() {
			return &history.Refusal{Act: a, Bar: history.NotThatAmount, Why: why}
		}
	}
	return nil
}

// NotOnThisAxle says why an act has no place on an axle of a design; the zero Message if it
// has.
func NotOnThisAxle(d family.Design, f act.Form) text.Message {
	if why := deeds()[f].design; why != nil {
		return why(d)
	}
	return text.Message{}
}
