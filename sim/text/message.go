package text

import (
	"encoding/json"
	"strconv"
	"strings"

	"shimwright/sim/quantity"
)

// A Message is one text for people. The zero Message says nothing.
type Message struct {
	code, english string
	args          []Arg
}

// Say makes a message: its code, its English and the values named in it.
func Say(code, english string, args ...Arg) Message { return Message{code, english, args} }

// Verbatim is a message that is one value and no words: a line as typed, a name, a path.
func Verbatim(s string) Message { return Message{"", "{it}", []Arg{Typed("it", s)}} }

// Code names the text; "" for the zero Message and for a Verbatim one.
func (m Message) Code() string { return m.code }

// IsZero tells whether the message says nothing.
func (m Message) IsZero() bool { return m.english == "" && m.code == "" }

// MarshalJSON writes the code and the values, never the wording: a plain string where there
// are no values, else an object.
func (m Message) MarshalJSON() ([]byte, error) {
	if m.code == "" && len(m.args) == 1 {
		return json.Marshal(m.args[0].value.data())
	}
	if len(m.args) == 0 {
		return json.Marshal(m.code)
	}
	values := make(map[string]any, len(m.args))
	for _, a := range m.args {
		values[a.name] = a.value.data()
	}
	return json.Marshal(struct {
		Code   string         `json:"code"`
		Values map[string]any `json:"values"`
	}{m.code, values})
}

// An Arg is a value and its name in the text.
type Arg struct {
	name  string
	value value
}

// value is what can stand in a text.
type value interface {
	print(p Printer) string
	data() any // for JSON
}

// style is how an amount is written.
type style int

const (
	length style = iota
	signedLength
	bothLength
	torque
	bothTorque
	fastener
	bothFastener
	number
	percent
	minutes
)

// amount is a number in some unit.
type amount struct {
	n        float64
	style    style
	decimals int // of a plain number
}

func (a amount) print(p Printer) string {
	l, t, other := quantity.Millimetres(a.n), quantity.Torque(a.n), p.units.Other()
	switch a.style {
	case length:
		return l.Show(p.units)
	case signedLength:
		return l.ShowSigned(p.units)
	case bothLength:
		return l.Show(p.units) + " (" + l.Show(other) + ")"
	case torque:
		return t.ShowRotating(p.units)
	case bothTorque:
		return t.ShowRotating(p.units) + " (" + t.ShowRotating(other) + ")"
	case fastener:
		return t.ShowFastener(p.units)
	case bothFastener:
		return t.ShowFastener(p.units) + " (" + t.ShowFastener(other) + ")"
	case percent:
		return quantity.Decimal(100*a.n, 0) + " %"
	case minutes:
		return p.Print(Say("text.minutes", "{n} min", Number("n", a.n, 0)))
	}
	return quantity.Decimal(a.n, a.decimals)
}

func (a amount) data() any {
	unit := "number"
	switch a.style {
	case length, signedLength, bothLength:
		unit = "mm"
	case torque, bothTorque, fastener, bothFastener:
		unit = "nmm"
	case percent:
		unit = "share"
	case minutes:
		unit = "minutes"
	}
	return map[string]float64{unit: a.n}
}

// Length is a length as a build sheet has it.
func Length(name string, l quantity.Length) Arg { return Arg{name, amount{n: l.MM(), style: length}} }

// SignedLength is Length with its sign, plus included.
func SignedLength(name string, l quantity.Length) Arg {
	return Arg{name, amount{n: l.MM(), style: signedLength}}
}

// BothLength is a length in the reader's units with the other system's figure in parentheses.
func BothLength(name string, l quantity.Length) Arg {
	return Arg{name, amount{n: l.MM(), style: bothLength}}
}

// Torque is a rotating torque.
func Torque(name string, t quantity.Torque) Arg { return Arg{name, amount{n: t.Nmm(), style: torque}} }

// BothTorque is Torque with the other system's figure in parentheses.
func BothTorque(name string, t quantity.Torque) Arg {
	return Arg{name, amount{n: t.Nmm(), style: bothTorque}}
}

// Fastener is the torque of a nut or bolt.
func Fastener(name string, t quantity.Torque) Arg {
	return Arg{name, amount{n: t.Nmm(), style: fastener}}
}

// BothFastener is Fastener with the other system's figure in parentheses.
func BothFastener(name string, t quantity.Torque) Arg {
	return Arg{name, amount{n: t.Nmm(), style: bothFastener}}
}

// Number is a plain number with so many decimals; with -1, as many as it has.
func Number(name string, n float64, decimals int) Arg {
	return Arg{name, amount{n: n, style: number, decimals: decimals}}
}

// Rounded is a plain number with four significant digits and no power of ten.
func Rounded(name string, x float64) Arg { return Number(name, quantity.Significant(x, 4), -1) }

// Percent is a share, 0 to 1, written as a whole percentage.
func Percent(name string, share float64) Arg { return Arg{name, amount{n: share, style: percent}} }

// A Figure is an amount of another kind: it writes itself with its unit, and without words,
// in the units that a reader has, such as one that is worked out from amounts as they are
// shown.
type Figure interface {
	Show(units quantity.System) string
	Data() any // for JSON: the number under the name of its unit
}

type figure struct{ Figure }

func (f figure) print(p Printer) string { return f.Show(p.units) }
func (f figure) data() any              { return f.Data() }

// Shown is a Figure.
func Shown(name string, f Figure) Arg { return Arg{name, figure{f}} }

// Minutes is work time in whole minutes.
func Minutes(name string, min float64) Arg { return Arg{name, amount{n: min, style: minutes}} }

// count is a whole number that a text's forms go by.
type count int

func (c count) print(Printer) string { return quantity.Decimal(float64(c), 0) }
func (c count) data() any            { return int(c) }

// Count is a whole number; the template chooses forms by it.
func Count(name string, n int) Arg { return Arg{name, count(n)} }

// typed is text that belongs to no language.
type typed string

func (t typed) print(Printer) string { return string(t) }
func (t typed) data() any            { return string(t) }

// Typed is what a person typed or types: the line of an act, a key of a file, a name, a
// path. It is never a phrase of ours.
func Typed(name, s string) Arg { return Arg{name, typed(s)} }

// Quoted is Typed between quotes, cut to what fits a message and without what does not print.
func Quoted(name, s string) Arg {
	const most = 80
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return Typed(name, strconv.Quote(s))
}

func (m Message) print(p Printer) string { return p.Print(m) }
func (m Message) data() any              { return m }

// Of is another message, such as the name of a fault.
func Of(name string, m Message) Arg { return Arg{name, m} }

// cause is what an error tells.
type cause struct{ error }

func (c cause) print(p Printer) string { return p.Error(c.error) }
func (c cause) data() any              { return c.Error() }

// Cause is what an error tells, with all that stands around the message that it carries.
func Cause(name string, err error) Arg { return Arg{name, cause{err}} }

// list is several messages.
type list struct {
	all   []Message
	joint Message
}

func (l list) print(p Printer) string {
	parts := make([]string, len(l.all))
	for i, m := range l.all {
		parts[i] = p.Print(m)
	}
	switch n := len(parts); n {
	case 0:
		return ""
	case 1:
		return parts[0]
	default:
		return strings.Join(parts[:n-1], ", ") + " " + p.Print(l.joint) + " " + parts[n-1]
	}
}

func (l list) data() any { return l.all }

// All is a list of messages joined as "a, b and c".
func All(name string, ms ...Message) Arg { return Arg{name, list{ms, Say("text.and", "and")}} }

// Any is a list of messages joined as "a, b or c".
func Any(name string, ms ...Message) Arg { return Arg{name, list{ms, Say("text.or", "or")}} }

// AnyTyped is a list of things to type, joined as "a, b or c".
func AnyTyped[S ~string](name string, words ...S) Arg { return Any(name, verbatims(words)...) }

// AllTyped is a list of things typed, joined as "a, b and c".
func AllTyped[S ~string](name string, words ...S) Arg { return All(name, verbatims(words)...) }

func verbatims[S ~string](words []S) []Message {
	ms := make([]Message, len(words))
	for i, w := range words {
		ms[i] = Verbatim(string(w))
	}
	return ms
}
