package datasheet

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Unit is one that a key may end in. to turns a number in it into the program's,
// per is how much of the program's unit one of it is, for showing limits.
type Unit struct {
	Suffix string
	name   text.Message // the zero Message for a pure number
	to     func(float64) float64
	per    float64
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
	return []Unit{{"_in", text.Verbatim("in"), thousandths, 25.4}, Millimeters()}
}

// Millimeters is the unit of a length that has no other.
func Millimeters() Unit { return Unit{"_mm", text.Verbatim("mm"), same, 1} }

// Torques are the units of a torque, read as newton millimetres.
func Torques() []Unit {
	return []Unit{
		{"_lb_in", text.Verbatim("lb-in"), func(x float64) float64 { return quantity.InchPounds(x).Nmm() }, quantity.InchPounds(1).Nmm()},
		{"_lb_ft", text.Verbatim("lb-ft"), func(x float64) float64 { return quantity.FootPounds(x).Nmm() }, quantity.FootPounds(1).Nmm()},
		{"_nm", text.Verbatim("N·m"), func(x float64) float64 { return quantity.NewtonMetres(x).Nmm() }, 1000},
	}
}

// FootPounds are the units of a torque that the model keeps in lb-ft.
func FootPounds() []Unit {
	return []Unit{
		{"_lb_ft", text.Verbatim("lb-ft"), same, 1},
		{"_nm", text.Verbatim("N·m"), func(x float64) float64 { return quantity.NewtonMetres(x).FootPounds() }, 1 / quantity.FootPounds(1).NewtonMetres()},
	}
}

// Only is one unit, read as it stands.
func Only(suffix string, name text.Message) []Unit { return []Unit{{suffix, name, same, 1}} }

// Units of a figure that has one alone.
func Degrees() []Unit   { return Only("_deg", text.Say("datasheet.unit.degrees", "degrees")) }
func Newtons() []Unit   { return Only("_n", text.Verbatim("N")) }
func Stiffness() []Unit { return Only("_n_per_mm", text.Verbatim("N/mm")) }

// Plain is a number without a unit.
func Plain() []Unit { return Only("", text.Message{}) }

// ending returns the unit that a key ends in, "" for none of those that a choice is left
// between.
func ending(key string) string {
	for _, u := range []string{"_n_per_mm", "_lb_in", "_lb_ft", "_in", "_mm", "_nm"} {
		if strings.HasSuffix(key, u) {
			return u
		}
	}
	return ""
}

// countEndings counts the keys of groups within groups by their units.
func countEndings(values []*ast.MappingValueNode, into map[string]int) {
	for _, v := range values {
		if v == nil || v.Key == nil {
			continue
		}
		if key, ok := v.Key.(*ast.StringNode); ok {
			into[ending(key.Value)]++
		}
		if in, ok := mapping(v.Value); ok {
			countEndings(in, into)
		}
	}
}

// unitFor returns the unit in which an amount is most likely meant: one in which the
// figures of the entry, if there is one, lie within the limits; of several the one that
// the group uses most, then the file.
func (b *Block) unitFor(a ask, e *Entry) Unit {
	all := a.units
	if e != nil {
		if fit := slices.DeleteFunc(slices.Clone(all), func(u Unit) bool { return !fits(e.value, u, a.span) }); len(fit) > 0 {
			all = fit
		}
	}
	here := map[string]int{}
	for _, o := range b.entries {
		here[ending(o.Key)]++
	}
	best := all[0]
	for _, u := range all[1:] {
		if d := here[u.Suffix] - here[best.Suffix]; d > 0 || d == 0 && b.r.endings[u.Suffix] > b.r.endings[best.Suffix] {
			best = u
		}
	}
	return best
}

// fits tells whether a value is a number within limits, or a group whose low and high are.
func fits(n ast.Node, u Unit, s Span) bool {
	if x, ok := plainNumber(n); ok {
		y := u.to(x)
		return y >= s.Low && y <= s.High
	}
	values, _ := mapping(n)
	found := false
	for _, v := range values {
		if key, ok := v.Key.(*ast.StringNode); ok && (key.Value == "low" || key.Value == "high") {
			if found = fits(v.Value, u, s); !found {
				return false
			}
		}
	}
	return found
}

// inOrder lists the keys of what was asked for, the likeliest unit first.
func (b *Block) inOrder(a ask) []string {
	if a.base == "" {
		return a.keys
	}
	first := a.base + b.unitFor(a, nil).Suffix
	out := []string{first}
	for _, k := range a.keys {
		if k != first {
			out = append(out, k)
		}
	}
	return out
}

// A Span is the least and most a number may be, in the program's unit.
type Span struct{ Low, High float64 }

// Between returns the span of two limits.
func Between(low, high float64) Span { return Span{low, high} }

// words tells the limits in a unit.
func (s Span) words(u Unit) text.Message {
	low, high := text.Rounded("low", s.Low/u.per), text.Rounded("high", s.High/u.per)
	if u.name.IsZero() {
		return text.Say("datasheet.limits", "between {low} and {high}", low, high)
	}
	return text.Say("datasheet.limits.unit", "between {low} and {high} {unit}", low, high, text.Of("unit", u.name))
}

// amount finds a key in any of its units.
func (b *Block) amount(base string, what text.Message, units []Unit, s Span, optional bool) (*Entry, Unit) {
	keys := make([]string, len(units))
	for i, u := range units {
		keys[i] = base + u.Suffix
	}
	e := b.find(ask{keys: keys, want: what, base: base, units: units, span: s, optional: optional})
	if e == nil {
		return nil, Unit{}
	}
	i := slices.Index(keys, e.Key)
	return e, units[i]
}

// Number reads one number and checks its limits; it is zero when there is no good
// one.
func (b *Block) Number(base string, what text.Message, units []Unit, s Span) float64 {
	e, u := b.amount(base, what, units, s, false)
	if e == nil {
		return 0
	}
	x, _ := b.Value(e, what, u, s)
	return x
}

// Spare reads a number that may be left out; then it is zero.
func (b *Block) Spare(base string, what text.Message, units []Unit, s Span) float64 {
	e, u := b.amount(base, what, units, s, true)
	if e == nil {
		return 0
	}
	x, _ := b.Value(e, what, u, s)
	return x
}

// Value reads the number of an entry; the second value is false when there is no good
// one.
func (b *Block) Value(e *Entry, what text.Message, u Unit, s Span) (float64, bool) {
	wanted, limits := text.Of("what", what), text.Of("limits", s.words(u))
	x, ok := plainNumber(e.value)
	if !ok {
		want := text.Say("datasheet.want.number", "{what}: a number {limits}", wanted, limits)
		if t, isText := e.value.(*ast.StringNode); isText {
			switch _, number := decimal(strings.Replace(t.Value, ",", ".", 1)); {
			case number && strings.Contains(t.Value, ","):
				want = text.Say("datasheet.want.point", "{what}: a number {limits}, with a decimal point and not a comma", wanted, limits)
			case number:
				want = text.Say("datasheet.want.unquoted", "{what}: a number {limits}, without quotes", wanted, limits)
			}
		}
		b.Say(e, b.holds(e), want)
		return 0, false
	}
	y := u.to(x)
	if !(y >= s.Low && y <= s.High) {
		b.Say(e, b.is(e), text.Say("datasheet.want.limits", "{what}: {limits}", wanted, limits))
		return 0, false
	}
	return y, true
}

// is says what figure an entry holds.
func (b *Block) is(e *Entry) text.Message {
	return text.Say("datasheet.is", "{key} is {value}", b.Key(e), figureOf("value", e))
}

// figureOf is the figure of an entry as it was written.
func figureOf(name string, e *Entry) text.Arg {
	return text.Typed(name, Printable(e.value.GetToken().Value))
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

func decimal(s string) (float64, bool) {
	if s == "" || len(s) > 30 || strings.Trim(s, "0123456789+-.eE") != "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil
}

// Whole reads a count; it is zero when there is no good one.
func (b *Block) Whole(base string, what text.Message, low, high int) int {
	s := Span{float64(low), float64(high)}
	e, u := b.amount(base, what, Plain(), s, false)
	if e == nil {
		return 0
	}
	x, ok := b.Value(e, what, u, s)
	if ok && x != math.Trunc(x) {
		b.Say(e, b.is(e), text.Say("datasheet.want.whole", "{what}: a whole number {limits}", text.Of("what", what), text.Of("limits", s.words(u))))
		return 0
	}
	return int(x)
}

// Row reads low, high and, when step limits are given, step; strict asks for room
// between low and high. The entry is nil when any of them is not good.
func (b *Block) Row(base string, what text.Message, units []Unit, s Span, step *Span, strict bool) (low, high, by float64, e *Entry) {
	e, u := b.amount(base, what, units, s, false)
	if e == nil {
		return 0, 0, 0, nil
	}
	shape := "{low: , high: }"
	if step != nil {
		shape = "{low: , high: , step: }"
	}
	want := text.Say("datasheet.want.row", "{what} as {shape}, {limits}", text.Of("what", what), text.Typed("shape", shape), text.Of("limits", s.words(u)))
	values, ok := mapping(e.value)
	if !ok {
		b.Say(e, b.holds(e), want)
		return 0, 0, 0, nil
	}
	in := b.r.block(b.Path(e.Key), e.line, e.column, values)
	one := func(key string, s Span) (float64, bool) {
		got := in.Find(false, want, key)
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
	switch {
	case !okLow || !okHigh:
		return low, high, by, nil
	case low > high:
		in.Say(in.Entry("low"), text.Say("datasheet.row.reversed", "{key} is reversed: low is {low}, high is {high}", b.Key(e), figureOf("low", in.Entry("low")), figureOf("high", in.Entry("high"))),
			text.Say("datasheet.want.low-first", "the smaller number as low"))
		return low, high, by, nil
	case strict && low == high:
		in.Say(in.Entry("low"), text.Say("datasheet.row.no-room", "{key} has no room: low and high are both {low}", b.Key(e), figureOf("low", in.Entry("low"))),
			text.Say("datasheet.want.room", "a high that is above the low"))
		return low, high, by, nil
	case !okStep:
		return low, high, by, nil
	}
	return low, high, by, e
}

// Choice reads one of a few words; it is empty when none of them stands there.
func (b *Block) Choice(key string, what text.Message, words ...string) string {
	want := text.Say("datasheet.want.choice", "{what}: {words}", text.Of("what", what), text.AnyTyped("words", words...))
	e := b.Find(false, want, key)
	if e == nil {
		return ""
	}
	t, ok := e.value.(*ast.StringNode)
	if !ok {
		b.Say(e, b.holds(e), want)
		return ""
	}
	if slices.Contains(words, t.Value) {
		return t.Value
	}
	if near, ok := Nearest(t.Value, words); ok {
		want = text.Verbatim(near)
	}
	b.Say(e, text.Say("datasheet.is.word", "{key} is {word}", b.Key(e), text.Quoted("word", t.Value)), want)
	return ""
}

// Text reads words for people, at most so many characters; the entry is nil when there
// are no good ones.
func (b *Block) Text(key string, what text.Message, most int, optional bool) (string, *Entry) {
	e := b.Find(optional, what, key)
	if e == nil {
		return "", nil
	}
	var words string
	switch v := e.value.(type) {
	case *ast.StringNode:
		words = v.Value
	case *ast.LiteralNode:
		if v.Value != nil {
			words = v.Value.Value
		}
	default:
		want := what
		if _, isNumber := plainNumber(e.value); isNumber {
			want = text.Say("datasheet.want.quoted", "{what}, in quotes if it is a number", text.Of("what", what))
		}
		b.Say(e, b.holds(e), want)
		return "", nil
	}
	words = strings.Join(strings.Fields(words), " ")
	switch n := len([]rune(words)); {
	case words == "":
		b.Say(e, text.Say("datasheet.text.empty", "{key} is empty", b.Key(e)), what)
		return "", nil
	case n > most:
		b.Say(e, text.Say("datasheet.text.long", "{key} has {n} characters", b.Key(e), text.Count("n", n)),
			text.Say("datasheet.want.shorter", "{what}, at most {most} characters", text.Of("what", what), text.Count("most", most)))
		return "", nil
	case strings.ContainsFunc(words, func(c rune) bool { return !unicode.IsPrint(c) }):
		b.Say(e, text.Say("datasheet.text.unprintable", "{key} holds characters that cannot be shown", b.Key(e)), plainLetters(what))
		return "", nil
	}
	return words, e
}

// plainLetters asks for a text that can be shown.
func plainLetters(what text.Message) text.Message {
	return text.Say("datasheet.want.plain-letters", "{what}, in plain letters", text.Of("what", what))
}
