package debrief

import (
	"cmp"
	"strings"
	"time"

	"shimwright/scenarios/attempt"
	"shimwright/sim/text"
)

// Terms are what an attempt was worked on and when, as its file says.
type Terms struct {
	Exercise string `json:"exercise,omitempty"`        // its name; "": free practice
	Digest   string `json:"exercise_digest,omitempty"` // of what the exercise's file said
	Mode     string `json:"mode"`
	Help     string `json:"help"`
	Mark     string `json:"terms"`                   // attempt.Header.TermsMark
	Begun    string `json:"begun,omitempty"`         // UTC; "": not known
	Ended    string `json:"signed_at,omitempty"`     // UTC; "": not known, or open
	Earlier  int    `json:"earlier_tries,omitempty"` // at the same job that lay in the same folder when it was begun
}

// TermsOf reads the terms out of a record.
func TermsOf(r *attempt.Record) Terms {
	at := func(t time.Time) string {
		if t.IsZero() {
			return ""
		}
		return t.Format(time.RFC3339)
	}
	h := r.Header
	return Terms{h.Exercise, h.Digest, h.Mode.String(), h.Help.String(), h.TermsMark(), at(h.At), at(r.Ended), h.Earlier}
}

// Messages say them.
func (t Terms) Messages() []text.Message {
	out := []text.Message{text.Say("debrief.terms-free", "Worked without an exercise, as {mode} with help {help}.", text.Typed("mode", t.Mode), text.Typed("help", t.Help))}
	if t.Exercise != "" {
		out[0] = text.Say("debrief.terms", "Worked on exercise {exercise} (its digest is {digest}), as {mode} with help {help}.",
			text.Typed("exercise", t.Exercise), text.Typed("digest", t.Digest), text.Typed("mode", t.Mode), text.Typed("help", t.Help))
	}
	if t.Begun != "" {
		out = append(out, text.Say("debrief.begun", "Begun {when}.", text.Typed("when", clock(t.Begun))))
	}
	if t.Ended != "" {
		out = append(out, text.Say("debrief.signed", "Signed off {when}.", text.Typed("when", clock(t.Ended))))
	}
	if t.Earlier > 0 {
		out = append(out, text.Say("debrief.tries-before", "{n} {n:try|tries} at the same job lay in the same folder before.", text.Count("n", t.Earlier)))
	}
	return out
}

// clock is a time of Terms for people.
func clock(utc string) string {
	return strings.TrimSuffix(strings.Replace(utc, "T", " ", 1), "Z") + " UTC"
}

// Group tells the terms apart under which scores are added up: exercise, mode and help.
type Group struct {
	Exercise string `json:"exercise,omitempty"`
	Digest   string `json:"exercise_digest,omitempty"`
	Mode     string `json:"mode"`
	Help     string `json:"help"`
}

// Group returns the group an attempt is added up in.
func (t Terms) Group() Group { return Group{t.Exercise, t.Digest, t.Mode, t.Help} }

// Compare is an order of groups.
func (g Group) Compare(o Group) int {
	return cmp.Or(strings.Compare(g.Exercise, o.Exercise), strings.Compare(g.Mode, o.Mode), strings.Compare(g.Help, o.Help), strings.Compare(g.Digest, o.Digest))
}
