package attempt

import (
	"fmt"

	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/text"
)

// Trouble a record can be in: what an Error wraps.
var (
	ErrForeign         error = text.Fail(nil, text.Say("attempt.foreign", "this is not an attempt file"))
	ErrDamaged         error = text.Fail(nil, text.Say("attempt.damaged", "the attempt file is damaged"))
	ErrCutShort        error = text.Fail(nil, text.Say("attempt.cut-short", "the attempt file is cut short"))
	ErrOtherVersion    error = text.Fail(nil, text.Say("attempt.other-version", "the attempt file is from another version of the program"))
	ErrNotReproducible error = text.Fail(nil, text.Say("attempt.no-replay", "the attempt does not replay"))
)

// ErrStands is returned for acts that cannot be taken back.
var ErrStands error = text.Fail(nil, text.Say("attempt.stands", "nothing can be taken back here: that is for a coached job, for what you did in it and has not been signed off, and {n} times at most", text.Count("n", mostTakenBack)))

// An Error is the trouble a record is in.
type Error struct {
	Trouble error // one of those above
	Line    int   // of the file; 0 for all of it
	Act     int   // counted from 1; 0 where it is no act that is in trouble
	Intact  int   // how many acts before it are intact, where Line is one of an act
	Why     text.Message
}

func (e *Error) Error() string {
	return fmt.Sprintf("%v: line %d, act %d: %s", e.Trouble, e.Line, e.Act, e.Why.Code())
}

// Unwrap returns the trouble.
func (e *Error) Unwrap() error { return e.Trouble }

// Tell says what the trouble is, where, and what is left.
func (e *Error) Tell() text.Message {
	trouble, why := text.Of("trouble", text.Reason(e.Trouble)), text.Of("why", e.Why)
	switch {
	case e.Line > 1:
		return text.Say("attempt.at-line", "{trouble}: line {line} {why}; {n} {n:act|acts} before it {n:is|are} intact", trouble, text.Count("line", e.Line), why, text.Count("n", e.Intact))
	case e.Line == 1:
		return text.Say("attempt.at-head", "{trouble}: line 1 {why}", trouble, why)
	case e.Act > 0:
		return text.Say("attempt.at-act", "{trouble}: act {act}: {why}", trouble, text.Count("act", e.Act), why)
	}
	return text.Say("attempt.as-a-whole", "{trouble}: {why}", trouble, why)
}

func foreign(why text.Message) error { return &Error{Trouble: ErrForeign, Why: why} }

// badHead is the trouble of a first line that is damaged.
func badHead(why text.Message) error { return &Error{Trouble: ErrDamaged, Line: 1, Why: why} }

// holds is why a first line cannot be used.
func holds(err error) error {
	return badHead(text.Say("attempt.head-holds", "cannot be used: {why}", text.Of("why", text.Reason(err))))
}

// otherVersion names both versions.
func otherVersion(h headerLine) error {
	return &Error{Trouble: ErrOtherVersion, Why: text.Say("attempt.versions", "it has format {format}, model {model}; this program has format {ours}, model {ourmodel}",
		text.Count("format", h.Format), text.Typed("model", h.Model), text.Count("ours", formatNumber), text.Typed("ourmodel", scenarios.ModelVersion))}
}

// notAsWritten is of a line that is no other but is spelled otherwise.
func notAsWritten() text.Message {
	return text.Say("attempt.not-as-written", "is not as the program writes it")
}

// noReplay is the trouble of an act, counted from 1, that cannot be done again.
func noReplay(n int, a act.Act, err error) error {
	return &Error{Trouble: ErrNotReproducible, Act: n, Why: text.Say("attempt.act-refused", "{act}: {why}", text.Typed("act", a.String()), text.Of("why", text.Reason(err)))}
}

// otherReading is that of one that shows something else than it did.
func otherReading(n int, a act.Act) error {
	return &Error{Trouble: ErrNotReproducible, Act: n, Why: text.Say("attempt.other-reading", "{act} now shows something else", text.Typed("act", a.String()))}
}
