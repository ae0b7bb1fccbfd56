package datasheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"

	"shimwright/sim/quantity"
)

// A Unit is one that a key may end in. to turns a number in it into the program's,
// per is how much of the program's unit one of it is, for showing limits.
type Unit struct {
	Suffix, word string
	to           func(float64) float64
	per          float64
}

func same(x float64) float64 { return x }

// thousandths reads inches as thousandths, shifting the decimal point in the text:
// 0.0025 must become exactly 2.5.
func thousandths(in float64) float64 {
	digits, power, _ := strings.Cut(strconv.FormatFloat(in, 'e', -1, 64), "e")
	n, err := strconv.Atoi(power)
	if err != nil {
		return math.NaN()
	}
	thou, err := strconv.ParseFloat(digits+"e"+strconv.Itoa(n+3), 64)
	if err != nil {
		return math.NaN()
	}
	return quantity.Thou(thou).MM()
}

// Lengths are the units of a length, read as millimetres.
func Lengths() []Unit {
	return []Unit{{"_mm", "mm", same, 1}, {"_in", "in", thousandths, 25.4}}
}

// Torques are the units of a torque, read as newton millimetres.
func Torques() []Unit {
	return []Unit{
		{"_nm", "N·m", func(x float64) float64 { return quantity.NewtonMetres(x).Nmm() }, 1000},
		{"_lb_in", "lb-in", func(x float64) float64 { return quantity.InchPounds(x).Nmm() }, quantity.InchPounds(1).Nmm()},
		{"_lb_ft", "lb-ft", func(x float64) float64 { return quantity.FootPounds(x).Nmm() }, quantity.FootPounds(1).Nmm()},
	}
}

// FootPounds are the units of a torque that the model keeps in lb-ft.
func FootPounds() []Unit {
	return []Unit{
		{"_lb_ft", "lb-ft", same, 1},
		{"_nm", "N·m", func(x float64) float64 { return quantity.NewtonMetres(x).FootPounds() }, 1 / quantity.FootPounds(1).NewtonMetres()},
	}
}

// Only is one unit, read as it stands.
func Only(Suffix, word string) []Unit { return []Unit{{Suffix, word, same, 1}} }

// Plain is a number without a unit.
func Plain() []Unit { return Only("", "") }

// A Span is the least and most a number may be, in the program's unit.
type Span struct{ Low, High float64 }

// Between returns the span of two limits.
func Between(low, high float64) Span { return Span{low, high} }

// words writes the limits in a unit.
func (s Span) words(u Unit) string {
	text := fmt.Sprintf("between %s and %s", Short(s.Low/u.per), Short(s.High/u.per))
	if u.word != "" {
		text += " " + u.word
	}
	return text
}

// Short writes a number with four significant digits and no power of ten.
func Short(x float64) string {
	return strconv.FormatFloat(RoundTo(x, 4), 'f', -1, 64)
}

// RoundTo rounds to a number of significant digits.
func RoundTo(x float64, digits int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// amount finds a key in any of its units.
func (b *Block) amount(base, what string, units []Unit, s Span, optional bool) (*Entry, Unit) {
	keys := make([]string, len(units))
	for i, u := range units {
		keys[i] = base + u.Suffix
	}
	e := b.Find(optional, what+", "+s.words(units[0]), keys...)
	if e == nil {
		return nil, Unit{}
	}
	for _, u := range units {
		if base+u.Suffix == e.Key {
			return e, u
		}
	}
	return e, units[0]
}

// Number reads one number and checks its limits; it is zero when there is no good
// one.
func (b *Block) Number(base, what string, units []Unit, s Span) float64 {
	e, u := b.amount(base, what, units, s, false)
	if e == nil {
		return 0
	}
	x, _ := b.Value(e, what, u, s)
	return x
}

// Spare reads a number that may be left out; then it is zero.
func (b *Block) Spare(base, what string, units []Unit, s Span) float64 {
	e, u := b.amount(base, what, units, s, true)
	if e == nil {
		return 0
	}
	x, _ := b.Value(e, what, u, s)
	return x
}

// Value reads the number of an entry; the second value is false when there is no good
// one.
func (b *Block) Value(e *Entry, what string, u Unit, s Span) (float64, bool) {
	line, column := e.At()
	x, ok := plainNumber(e.value)
	if !ok {
		right := fmt.Sprintf("%s: a number %s", what, s.words(u))
		if t, isText := e.value.(*ast.StringNode); isText {
			switch _, comma := decimal(strings.Replace(t.Value, ",", ".", 1)); {
			case comma && strings.Contains(t.Value, ","):
				right += ", with a decimal point and not a comma"
			case comma:
				right += ", without quotes"
			}
		}
		b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(e.Key), b.r.holds(e.value)), right)
		return 0, false
	}
	y := u.to(x)
	if !(y >= s.Low && y <= s.High) {
		b.r.Say(line, column, fmt.Sprintf("%s is %s", b.Path(e.Key), printable(e.value.GetToken().Value)), fmt.Sprintf("%s: %s", what, s.words(u)))
		return 0, false
	}
	return y, true
}

// plainNumber reads an ordinary decimal number. Octal, hexadecimal and numbers with
// underscores are not what a person at a bench writes or expects.
func plainNumber(n ast.Node) (float64, bool) {
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode:
		if t := n.GetToken(); t != nil {
			return decimal(t.Value)
		}
	}
	return 0, false
}

func decimal(text string) (float64, bool) {
	if text == "" || len(text) > 30 || strings.Trim(text, "0123456789+-.eE") != "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil
}

// Whole reads a count; it is zero when there is no good one.
func (b *Block) Whole(base, what string, low, high int) int {
	s := Span{float64(low), float64(high)}
	e, u := b.amount(base, what, Plain(), s, false)
	if e == nil {
		return 0
	}
	x, ok := b.Value(e, what, u, s)
	if ok && x != math.Trunc(x) {
		line, column := e.At()
		b.r.Say(line, column, fmt.Sprintf("%s is %s", b.Path(e.Key), printable(e.value.GetToken().Value)), what+": a whole number "+s.words(u))
		return 0
	}
	return int(x)
}

// Row reads low, high and, when step limits are given, step; strict asks for room
// between low and high. The entry is nil when any of them is not good.
func (b *Block) Row(base, what string, units []Unit, s Span, step *Span, strict bool) (low, high, by float64, e *Entry) {
	e, u := b.amount(base, what, units, s, false)
	if e == nil {
		return 0, 0, 0, nil
	}
	shape := "{low: , high: }"
	if step != nil {
		shape = "{low: , high: , step: }"
	}
	values, ok := mapping(e.value)
	if !ok {
		line, column := e.At()
		b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(e.Key), b.r.holds(e.value)), fmt.Sprintf("%s as %s, %s", what, shape, s.words(u)))
		return 0, 0, 0, nil
	}
	in := b.r.block(b.Path(e.Key), e.line, e.column, values)
	one := func(key string, s Span) (float64, bool) {
		got := in.Find(false, fmt.Sprintf("%s as %s, %s", what, shape, s.words(u)), key)
		if got == nil {
			return 0, false
		}
		return in.Value(got, what, u, s)
	}
	low, okLow := one("low", s)
	high, okHigh := one("high", s)
	okStep := true
	if step != nil {
		by, okStep = one("step", *step)
	}
	in.Done()
	if okLow && okHigh && (low > high || strict && low == high) {
		line, column := in.Entry("low").At()
		fault, right := "is upside down", "the smaller number at low"
		if low == high {
			fault, right = "has no room", "a high that is above the low"
		}
		b.r.Say(line, column, fmt.Sprintf("%s %s: low is %s, high is %s", b.Path(e.Key), fault,
			printable(in.Entry("low").value.GetToken().Value), printable(in.Entry("high").value.GetToken().Value)), right)
		return low, high, by, nil
	}
	if !okLow || !okHigh || !okStep {
		return low, high, by, nil
	}
	return low, high, by, e
}

// Choice reads one of a few words; it is empty when none of them stands there.
func (b *Block) Choice(key, what string, words ...string) string {
	list := strings.Join(words, ", ")
	e := b.Find(false, what+": one of "+list, key)
	if e == nil {
		return ""
	}
	line, column := e.At()
	t, ok := e.value.(*ast.StringNode)
	if !ok {
		b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(key), b.r.holds(e.value)), what+": one of "+list)
		return ""
	}
	for _, w := range words {
		if t.Value == w {
			return w
		}
	}
	right := what + ": one of " + list
	if near, ok := Nearest(t.Value, words); ok {
		right = near
	}
	b.r.Say(line, column, fmt.Sprintf("%s is %q", b.Path(key), clip(t.Value)), right)
	return ""
}

// Text reads words for people, at most so many characters; the entry is nil when there
// are no good ones.
func (b *Block) Text(key, what string, most int, optional bool) (string, *Entry) {
	e := b.Find(optional, what, key)
	if e == nil {
		return "", nil
	}
	line, column := e.At()
	var text string
	switch v := e.value.(type) {
	case *ast.StringNode:
		text = v.Value
	case *ast.LiteralNode:
		if v.Value != nil {
			text = v.Value.Value
		}
	default:
		right := what
		if _, isNumber := plainNumber(e.value); isNumber {
			right += ", between quotes if it is a number"
		}
		b.r.Say(line, column, fmt.Sprintf("%s holds %s", b.Path(key), b.r.holds(e.value)), right)
		return "", nil
	}
	text = strings.Join(strings.Fields(text), " ")
	switch {
	case text == "":
		b.r.Say(line, column, b.Path(key)+" is empty", what)
		return "", nil
	case len([]rune(text)) > most:
		b.r.Say(line, column, fmt.Sprintf("%s has %d characters", b.Path(key), len([]rune(text))), fmt.Sprintf("%s, at most %d characters", what, most))
		return "", nil
	case strings.ContainsFunc(text, func(c rune) bool { return !unicode.IsPrint(c) }):
		b.r.Say(line, column, b.Path(key)+" holds characters that cannot be shown", what+", in plain letters")
		return "", nil
	}
	return text, e
}
