package text

import (
	"errors"

	"shimwright/sim/quantity"
)

// An Error is a message for people about what went wrong, and the error of the program that
// it wraps, if any.
type Error struct {
	Message Message
	Of      error
}

// Fail makes an error that carries a message. of is what callers may test for with
// errors.Is; nil for nothing.
func Fail(of error, m Message) *Error { return &Error{m, of} }

// Error names the text by its code: people are told by a Printer.
func (e *Error) Error() string {
	if e.Message.code == "" {
		b, _ := e.Message.MarshalJSON()
		return string(b)
	}
	return e.Message.code
}

// Unwrap returns what the error wraps.
func (e *Error) Unwrap() error { return e.Of }

// Telling is an error of another kind that carries a message.
type Telling interface {
	error
	Tell() Message
}

// Tell returns the message.
func (e *Error) Tell() Message { return e.Message }

// MessageOf returns the message of the outermost error in the chain that carries one.
func MessageOf(err error) (Message, bool) {
	m, _, ok := told(err)
	return m, ok
}

// told returns the message of an error, and the error in its chain that carries it.
func told(err error) (m Message, of error, ok bool) {
	var t Telling
	if errors.As(err, &t) {
		return t.Tell(), t, true
	}
	var q *quantity.Error
	if errors.As(err, &q) {
		return ofQuantity(q), q, true
	}
	return Message{}, nil, false
}

// ofQuantity has the words for package quantity, which comes before this one.
func ofQuantity(e *quantity.Error) Message {
	said := Quoted("typed", e.Typed)
	switch e.Fault {
	case quantity.NoSystem:
		return Say("quantity.no-system", "there are no units {typed}: use inch or metric", said)
	case quantity.NoUnit:
		return Say("quantity.no-unit", "{typed} needs a unit, such as in, mm, lb-in, lb-ft, Nm or deg", said)
	case quantity.UnknownUnit:
		return Say("quantity.unknown-unit", "there is no unit {unit} in {typed}: use in, thou, mm, lb-in, lb-ft, Nm, deg or turns", Quoted("unit", e.Unit), said)
	}
	return Say("quantity.no-amount", "{typed} is not an amount: write a number and its unit, such as 0.030in or 0.76mm", said)
}

// Reason returns what an error tells: the message it carries, or what it says of itself
// where it carries none, as an error of the system does.
func Reason(err error) Message {
	if m, ok := MessageOf(err); ok {
		return m
	}
	return Verbatim(err.Error())
}
