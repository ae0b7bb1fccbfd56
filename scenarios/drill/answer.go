package drill

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// An Option is one of the choices.
type Option struct {
	Word string       `json:"word,omitempty"` // what may be typed instead of its letter, or ""
	Also []string     `json:"-"`              // other words that are understood
	Text text.Message `json:"text,omitzero"`  // nothing where the word says all
}

// Letter returns what stands before a choice.
func Letter(i int) string { return string(rune('a' + i)) }

// An Answer is what is right, how nearly, and in what form it is given: an amount of some
// measure, or one of several options.
type Answer struct {
	Figure    Figure       `json:"figure,omitzero"` // the right amount
	Tolerance float64      `json:"tolerance,omitempty"`
	Reason    text.Message `json:"reason,omitzero"` // for the tolerance
	Options   []Option     `json:"options,omitempty"`
	Right     int          `json:"right"` // its place in Options
}

// A Reply is what a person answered.
type Reply struct {
	Value  float64 // of an amount, in the base unit of its measure
	Choice int
}

// IsChoice tells that one of Options is to be chosen.
func (a Answer) IsChoice() bool { return len(a.Options) > 0 }

// Says is the right answer.
func (a Answer) Says() text.Message {
	if a.IsChoice() {
		return a.Write(Reply{Choice: a.Right})
	}
	return write(a.Figure)
}

// Write is a reply as a person reads it.
func (a Answer) Write(r Reply) text.Message {
	if !a.IsChoice() {
		return write(figure(a.Figure.Measure, r.Value))
	}
	o := a.Options[r.Choice]
	if o.Text.IsZero() {
		return text.Verbatim(o.Word)
	}
	return text.Say("drill.answer.option", "{letter}, {option}", text.Typed("letter", Letter(r.Choice)), text.Of("option", o.Text))
}

// write says an amount; of notches also which way.
func write(f Figure) text.Message {
	if f.Measure != NotchCount {
		return text.Say("drill.answer.amount", "{amount}", text.Shown("amount", f))
	}
	n := f.Number(quantity.Inch)
	turn := text.Shown("notches", figure(NotchCount, math.Abs(n)))
	switch {
	case n == 0:
		return text.Say("drill.answer.not-turned", "not turned")
	case n == 1:
		return text.Say("drill.answer.one-in", "in 1 notch")
	case n == -1:
		return text.Say("drill.answer.one-out", "out 1 notch")
	case n < 0:
		return text.Say("drill.answer.out", "out {notches} notches", turn)
	}
	return text.Say("drill.answer.in", "in {notches} notches", turn)
}

// Takes says in a few words what kind of answer is wanted.
func (a Answer) Takes() text.Message {
	if a.IsChoice() {
		first, last := text.Typed("first", Letter(0)), text.Typed("last", Letter(len(a.Options)-1))
		if a.Options[0].Word == "" {
			return text.Say("drill.takes.letter", "a letter, {first} to {last}", first, last)
		}
		words := make([]string, len(a.Options))
		for i, o := range a.Options {
			words[i] = o.Word
		}
		return text.Say("drill.takes.word", "one of the words {words}, or a letter, {first} to {last}", text.AllTyped("words", words...), first, last)
	}
	bare := text.Shown("unit", bareUnit(a.Figure.Measure))
	both := func(inch, metric Measure, base float64) []text.Arg {
		return []text.Arg{text.Shown("inch", figure(inch, base)), text.Shown("metric", figure(metric, base)), bare}
	}
	switch a.Figure.Measure {
	case Length:
		return text.Say("drill.takes.length", "a length, such as {inch} or {metric}; a bare number is in {unit}", both(InInches, InMillimeters, quantity.Thou(30).MM())...)
	case Rotating:
		return text.Say("drill.takes.rotating", "a torque, such as {inch} or {metric}; a bare number is in {unit}", both(PoundInches, NewtonMeters, quantity.InchPounds(20).Nmm())...)
	case Fastener:
		return text.Say("drill.takes.fastener", "a torque, such as {inch} or {metric}; a bare number is in {unit}", both(PoundFeet, NewtonMeters, quantity.FootPounds(50).Nmm())...)
	case Angle:
		return text.Say("drill.takes.angle", "an angle in degrees, such as 12")
	case NotchCount:
		return text.Say("drill.takes.notches", "a direction and a number of notches, such as in 3 or out 2.5")
	}
	return text.Say("drill.takes.in-unit", "a number in {unit}", bare)
}

// Read reads what a person answered, in the units named where the line has none. Errors: a
// line that is no answer of this form, with what would be.
func (a Answer) Read(line string, units quantity.System) (Reply, error) {
	line = strings.TrimSpace(line)
	switch {
	case a.IsChoice():
		return a.readChoice(line)
	case a.Figure.Measure == NotchCount:
		return a.readNotches(line)
	}
	bare, only := a.bare(units)
	e, err := quantity.ParseEntered(line, bare)
	if err != nil || only && e.Unit != bare {
		return Reply{}, a.wants(line)
	}
	l, isLength := e.Length()
	t, isTorque := e.Torque()
	isAngle := e.Unit == quantity.UnitDegree
	switch key := a.Figure.Measure.key(); {
	case key == Length.key() && isLength:
		return Reply{Value: l.MM()}, nil
	case key == Rotating.key() && isTorque:
		return Reply{Value: t.Nmm()}, nil
	case key == Angle.key() && isAngle:
		return Reply{Value: e.Number}, nil
	}
	return Reply{}, a.wants(line)
}

// bare is the unit of a number that has none; only tells that no other will do.
func (a Answer) bare(units quantity.System) (u quantity.Unit, only bool) {
	metric := units == quantity.Metric
	switch a.Figure.Measure {
	case PoundInches:
		return quantity.UnitInchLb, true
	case PoundFeet:
		return quantity.UnitFootLb, true
	case NewtonMeters:
		return quantity.UnitNm, true
	case Angle:
		return quantity.UnitDegree, true
	case Length:
		if metric {
			return quantity.UnitMM, false
		}
		return quantity.UnitInch, false
	}
	switch {
	case metric:
		return quantity.UnitNm, false
	case a.Figure.Measure == Rotating:
		return quantity.UnitInchLb, false
	}
	return quantity.UnitFootLb, false
}

func (a Answer) wants(line string) error {
	return text.Fail(nil, text.Say("drill.answer.unread", "{line} does not answer this question: enter {takes}", text.Typed("line", strconv.Quote(line)), text.Of("takes", a.Takes())))
}

func (a Answer) readChoice(line string) (Reply, error) {
	word := strings.ToLower(strings.TrimSuffix(strings.TrimSuffix(line, "."), ")"))
	for i, o := range a.Options {
		if word == Letter(i) || word != "" && (word == o.Word || slices.Contains(o.Also, word)) {
			return Reply{Choice: i}, nil
		}
	}
	return Reply{}, a.wants(line)
}

func (a Answer) readNotches(line string) (Reply, error) {
	words := strings.Fields(strings.ToLower(line))
	if n := len(words); n > 1 && (words[n-1] == "notches" || words[n-1] == "notch") {
		words = words[:n-1]
	}
	var sign float64
	if len(words) == 2 && words[0] == "in" {
		sign = 1
	} else if len(words) == 2 && words[0] == "out" {
		sign = -1
	}
	if len(words) == 0 {
		return Reply{}, a.wants(line)
	}
	x, err := strconv.ParseFloat(words[len(words)-1], 64)
	const most = 1000 // more than any adjuster has
	switch {
	case err != nil || !(math.Abs(x) <= most) || len(words) > 2 || sign != 0 && x < 0 || sign == 0 && len(words) > 1:
		return Reply{}, a.wants(line)
	case sign == 0:
		n := text.Shown("number", figure(NotchCount, math.Abs(x)))
		return Reply{}, text.Fail(nil, text.Say("drill.answer.which-way", "{line} does not say which way to turn: enter in {number} or out {number}", text.Typed("line", strconv.Quote(line)), n))
	}
	return Reply{Value: sign * x}, nil
}

// Judge tells whether a reply is right. For one that is not, it returns what a misconception
// leads to if the reply fits one, the nearest of them. An amount is right that is as near as
// the tolerance to the exact one or to what the working comes to in either system of units,
// since its terms are rounded as they are shown.
func (d Drill) Judge(r Reply) (right bool, wrong *Wrong) {
	a := d.Answer
	if a.IsChoice() {
		for i := range d.Wrongs {
			if d.Wrongs[i].Choice == r.Choice {
				return false, &d.Wrongs[i]
			}
		}
		return r.Choice == a.Right, nil
	}
	// A reply at the very edge of the tolerance is right, whatever its last bit.
	const edge = 1 + 1e-9
	near := func(x float64) bool { return math.Abs(r.Value-x) <= a.Tolerance*edge }
	if near(a.Figure.Exact()) || near(a.Figure.In(quantity.Inch)) || near(a.Figure.In(quantity.Metric)) {
		return true, nil
	}
	for i := range d.Wrongs {
		w := &d.Wrongs[i]
		if near(w.Value) && (wrong == nil || math.Abs(r.Value-w.Value) < math.Abs(r.Value-wrong.Value)) {
			wrong = w
		}
	}
	return false, wrong
}
