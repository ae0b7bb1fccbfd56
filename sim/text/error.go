package text

import "errors"

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
	var t Telling
	if errors.As(err, &t) {
		return t.Tell(), true
	}
	return Message{}, false
}
