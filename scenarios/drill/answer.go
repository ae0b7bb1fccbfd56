package drill

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"shimwright/sim/quantity"
)

// A Form is what an answer is given as.
type Form int

// The forms of an answer.
const (
	Length     Form = iota + 1 // mm
	Turning                    // a rotating torque, N·mm
	Tight                      // a fastener's torque, N·mm
	NotchCount                 // slots of a ring, in is plus
	Choice                     // one of several
)

// An Option is one of the choices.
type Option struct {
	Word string // what may be typed instead of its letter, or ""
	Text Text   // empty where the word says all
}

// Letter returns what stands before a choice.
func Letter(i int) string { return string(rune('a' + i)) }

// An Answer is what is right, how nearly, and in what form it is given.
type Answer struct {
	Form      Form
	Value     float64
	Tolerance float64
	Reason    Text // for the tolerance
	Options   []Option
	Right     int // its place in Options
}

// A Reply is what a person answered.
type Reply struct {
	Value  float64
	Choice int
}

// In writes the right answer in a person's units.
func (a Answer) In(units quantity.System) string {
	return a.Write(Reply{a.Value, a.Right}, units)
}

// Write writes a reply in a person's units.
func (a Answer) Write(r Reply, units quantity.System) string {
	switch a.Form {
	case Length:
		return length(r.Value).in(units)
	case Turning:
		return asTorque(r.Value).in(units)
	case Tight:
		return tight(r.Value).in(units)
	case NotchCount:
		return notchesInOrOut(r.Value)
	}
	o := a.Options[r.Choice]
	if o.Text.Empty() {
		return o.Word
	}
	return Letter(r.Choice) + ", " + o.Text.In(units)
}

// Takes says in a few words what kind of answer is wanted.
func (a Answer) Takes(units quantity.System) string {
	metric := units == quantity.Metric
	switch {
	case a.Form == Length && metric:
		return "a size, such as 0.76 or 0.030in; a bare number is mm"
	case a.Form == Length:
		return "a size, such as 0.030 or 0.76mm; a bare number is inches"
	case a.Form == Turning && metric:
		return "a torque, such as 2.3 or 20lb-in; a bare number is N·m"
	case a.Form == Turning:
		return "a torque, such as 20 or 2.3Nm; a bare number is lb-in"
	case a.Form == Tight && metric:
		return "a torque, such as 70 or 52lb-ft; a bare number is N·m"
	case a.Form == Tight:
		return "a torque, such as 52 or 70Nm; a bare number is lb-ft"
	case a.Form == NotchCount:
		return "slots, such as in 3, or out 2.5"
	}
	letters := "a letter, " + Letter(0) + " to " + Letter(len(a.Options)-1)
	if a.Options[0].Word != "" {
		letters += ", or the word"
	}
	return letters
}

// Read reads what a person answered, in the units named where the text has none.
// Errors: a text that is no answer of this form, with what would be.
func (a Answer) Read(text string, units quantity.System) (Reply, error) {
	text = strings.TrimSpace(text)
	switch a.Form {
	case Choice:
		return a.readChoice(text)
	case NotchCount:
		return a.readNotches(text, units)
	}
	bare := quantity.UnitInch
	switch metric := units == quantity.Metric; {
	case a.Form == Length && metric:
		bare = quantity.UnitMM
	case a.Form != Length && metric:
		bare = quantity.UnitNm
	case a.Form == Turning:
		bare = quantity.UnitInchLb
	case a.Form == Tight:
		bare = quantity.UnitFootLb
	}
	e, err := quantity.ParseEntered(text, bare)
	if err != nil {
		return Reply{}, a.wants(text, units)
	}
	l, isLength := e.Length()
	t, isTorque := e.Torque()
	switch {
	case a.Form == Length && isLength:
		return Reply{Value: l.MM()}, nil
	case a.Form != Length && isTorque:
		return Reply{Value: t.Nmm()}, nil
	}
	return Reply{}, a.wants(text, units)
}

func (a Answer) wants(text string, units quantity.System) error {
	return fmt.Errorf("%q is no answer here: write %s", text, a.Takes(units))
}

func (a Answer) readChoice(text string) (Reply, error) {
	word := strings.ToLower(strings.TrimSuffix(strings.TrimSuffix(text, "."), ")"))
	for i, o := range a.Options {
		if word == Letter(i) || word == o.Word && word != "" {
			return Reply{Choice: i}, nil
		}
	}
	return Reply{}, a.wants(text, quantity.Inch)
}

func (a Answer) readNotches(text string, units quantity.System) (Reply, error) {
	words := strings.Fields(strings.ToLower(text))
	sign := 1.0
	if len(words) > 1 && (words[0] == "in" || words[0] == "out") {
		if words[0] == "out" {
			sign = -1
		}
		words = words[1:]
	}
	if n := len(words); n > 1 && (words[n-1] == "slots" || words[n-1] == "slot") {
		words = words[:n-1]
	}
	if len(words) != 1 {
		return Reply{}, a.wants(text, units)
	}
	x, err := strconv.ParseFloat(words[0], 64)
	const most = 1000 // more than any ring has
	if err != nil || !(math.Abs(x) <= most) || sign < 0 && x < 0 {
		return Reply{}, a.wants(text, units)
	}
	return Reply{Value: sign * x}, nil
}

// slotsInOrOut says how far a ring goes, to a tenth of a slot.
func notchesInOrOut(n float64) string {
	switch s := number(math.Abs(n), 1); {
	case s == "0":
		return "not at all"
	case n < 0:
		return "out " + s + " slots"
	default:
		return "in " + s + " slots"
	}
}

// Judge tells whether a reply is right. For one that is not, it returns what an idea
// leads to if the reply fits one, the nearest of them.
func (d Drill) Judge(r Reply) (right bool, wrong *Wrong) {
	a := d.Answer
	// A reply at the very edge of the tolerance is right, whatever its last bit.
	const edge = 1 + 1e-9
	near := func(x float64) bool { return math.Abs(r.Value-x) <= a.Tolerance*edge }
	if a.Form == Choice && r.Choice == a.Right || a.Form != Choice && near(a.Value) {
		return true, nil
	}
	for i := range d.Wrongs {
		w := &d.Wrongs[i]
		switch {
		case a.Form == Choice:
			if w.Choice == r.Choice {
				return false, w
			}
		case near(w.Value) && (wrong == nil || math.Abs(r.Value-w.Value) < math.Abs(r.Value-wrong.Value)):
			wrong = w
		}
	}
	return false, wrong
}
