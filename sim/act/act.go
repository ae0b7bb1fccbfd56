package act

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"shimwright/sim/quantity"
)

// An Act is one thing done at the bench: its form, the words chosen where the
// form offers a choice, and the amounts given, each in the order they are said.
type Act struct {
	Form    Form
	Choices []string
	Amounts []quantity.Entered
}

// Errors a caller may tell apart.
var (
	// ErrNotAnAct means that the text names no act of the bench.
	ErrNotAnAct = errors.New("not an act of this bench")
	// ErrIncomplete means that the act is known but a choice or amount is missing
	// or of the wrong kind.
	ErrIncomplete = errors.New("the act needs more")
)

// A Usage describes a form to people.
type Usage struct {
	Form Form
	Line string
	Help string
}

type notch struct {
	literal string
	choices []string
	amount  string // kind of amount, empty for a literal or a choice
}

type entry struct {
	spec
	notches []notch
}

// table is the catalogue with its lines split, built on first use.
var table = sync.OnceValue(func() []entry {
	specs := catalogue()
	out := make([]entry, len(specs))
	for i, sp := range specs {
		e := entry{spec: sp}
		for _, word := range strings.Fields(sp.line) {
			inner, isSlot := strings.CutPrefix(word, "{")
			inner = strings.TrimSuffix(inner, "}")
			switch {
			case !isSlot:
				e.notches = append(e.notches, notch{literal: word})
			case strings.Contains(inner, "|"):
				e.notches = append(e.notches, notch{choices: strings.Split(inner, "|")})
			default:
				e.notches = append(e.notches, notch{amount: inner})
			}
		}
		out[i] = e
	}
	return out
})

func (f Form) entry() (entry, bool) {
	t := table()
	if f < 0 || int(f) >= len(t) || t[f].form != f {
		return entry{}, false
	}
	return t[f], true
}

// Usages lists every form in catalogue order.
func Usages() []Usage {
	t := table()
	out := make([]Usage, len(t))
	for i, e := range t {
		out[i] = Usage{e.form, e.line, e.help}
	}
	return out
}

// Usage returns the line and help of the form.
func (f Form) Usage() Usage {
	e, _ := f.entry()
	return Usage{f, e.line, e.help}
}

// String returns the form's line with its blanks, such as "fit depth-shim {length}".
func (f Form) String() string { return f.Usage().Line }

// String writes the act as its line. Parse reads the same act back.
func (a Act) String() string {
	e, ok := a.Form.entry()
	if !ok {
		return fmt.Sprintf("act %d", int(a.Form))
	}
	var b strings.Builder
	choice, amount := 0, 0
	for i, s := range e.notches {
		if i > 0 {
			b.WriteByte(' ')
		}
		switch {
		case s.literal != "":
			b.WriteString(s.literal)
		case s.choices != nil:
			if choice < len(a.Choices) {
				b.WriteString(a.Choices[choice])
			}
			choice++
		default:
			if amount < len(a.Amounts) {
				b.WriteString(amountText(s.amount, a.Amounts[amount]))
			}
			amount++
		}
	}
	return b.String()
}

func amountText(kind string, e quantity.Entered) string {
	if kind == "places" || kind == "notches" {
		return strings.TrimSuffix(e.String(), string(e.Unit))
	}
	return e.String()
}

// pairs of words people write apart that are one word in an act.
func joinWords(words []string) []string {
	out := make([]string, 0, len(words))
	for i := 0; i < len(words); i++ {
		if i+1 < len(words) {
			switch words[i] + " " + words[i+1] {
			case "depth shim", "side shim", "side shims", "end play", "ring gear", "flange runout", "first pull",
				"pinion held", "pinion free", "ring-gear shim", "opposite shim", "pinion torque", "total torque", "ring-gear adjuster", "opposite adjuster", "preload shims", "axle shafts", "shim seat":
				j := words[i] + "-" + words[i+1]
				if j == "side-shim" {
					j = "side-shims"
				}
				out = append(out, j)
				i++
				continue
			}
		}
		switch words[i] {
		case "side-shim":
			out = append(out, "side-shims")
		case "sign-off":
			out = append(out, "sign", "off")
		case "slot", "slots", "notch", "notches": // "in 3 slots" is "in 3"
		default:
			out = append(out, words[i])
		}
	}
	return out
}

// Parse reads an act. Bare numbers take the units of the system: lengths in or
// mm, rotating torques lb-in or Nm, nut torques lb-ft or Nm; angles are degrees.
// A number may stand apart from its unit.
//
// Errors wrap ErrNotAnAct when the text names no act and ErrIncomplete when a
// choice or amount is missing or wrong; the message says what would be right.
func Parse(text string, system quantity.System) (Act, error) {
	if len(text) > maxLine {
		return Act{}, fmt.Errorf("%w: the line is longer than %d characters", ErrNotAnAct, maxLine)
	}
	words := joinWords(joinUnits(strings.Fields(strings.ToLower(text))))
	if len(words) == 0 {
		return Act{}, fmt.Errorf("%w: the line is empty", ErrNotAnAct)
	}
	best, bestDepth := entry{}, 0
	for _, e := range table() {
		depth := literalDepth(e, words)
		if depth > bestDepth {
			best, bestDepth = e, depth
		}
	}
	if bestDepth == 0 {
		return Act{}, fmt.Errorf("%w: %q; acts begin with %s", ErrNotAnAct, words[0], strings.Join(Verbs(), ", "))
	}
	if bestDepth < leadingLiterals(best) {
		return Act{}, fmt.Errorf("%w: after %q say one of: %s", ErrNotAnAct, words[0], strings.Join(objects(words[0]), ", "))
	}
	return fill(best, words, system)
}

// maxLine bounds what a person could mean to type as one act.
const maxLine = 200

// literalDepth counts how many leading literal words of the form the text has.
// "tighten nut to" and "turn nut" share a start; the longer literal run wins.
func literalDepth(e entry, words []string) int {
	n := 0
	for i, s := range e.notches {
		if s.literal == "" || i >= len(words) || words[i] != s.literal {
			break
		}
		n++
	}
	return n
}

func leadingLiterals(e entry) int {
	n := 0
	for _, s := range e.notches {
		if s.literal == "" {
			break
		}
		n++
	}
	return n
}

func fill(e entry, words []string, system quantity.System) (Act, error) {
	a := Act{Form: e.form}
	need := func(what string) error {
		return fmt.Errorf("%w: %s; write: %s", ErrIncomplete, what, e.line)
	}
	i := 0
	for _, s := range e.notches {
		word := ""
		if i < len(words) {
			word = words[i]
		}
		switch {
		case s.literal != "":
			if word != s.literal {
				return Act{}, need(fmt.Sprintf("%q is missing", s.literal))
			}
		case s.choices != nil:
			pick := ""
			for _, c := range s.choices {
				if c == word {
					pick = c
				}
			}
			if pick == "" {
				what := "choose " + strings.Join(s.choices, " or ")
				if word != "" {
					what = fmt.Sprintf("%q is none of %s", word, strings.Join(s.choices, ", "))
				}
				return Act{}, need(what)
			}
			a.Choices = append(a.Choices, pick)
		default:
			if word == "" {
				return Act{}, need("the " + s.amount + " is missing")
			}
			v, err := readAmount(s.amount, word, e.form, a.Choices, system)
			if err != nil {
				return Act{}, need(err.Error())
			}
			a.Amounts = append(a.Amounts, v)
		}
		i++
	}
	if i < len(words) {
		return Act{}, need(fmt.Sprintf("%q is more than the act takes", strings.Join(words[i:], " ")))
	}
	return a, nil
}

// joinUnits glues a unit that stands apart to the number before it.
func joinUnits(words []string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		if n := len(out); n > 0 && isNumber(out[n-1]) {
			if _, err := quantity.ParseEntered(out[n-1]+w, ""); err == nil {
				out[n-1] += w
				continue
			}
		}
		out = append(out, w)
	}
	return out
}

func isNumber(w string) bool {
	_, err := quantity.ParseEntered(w, quantity.UnitTurn)
	if err != nil {
		return false
	}
	_, err = quantity.ParseEntered(w, "")
	return err != nil // a number without a unit
}

// readAmount reads one amount of the given kind.
func readAmount(kind, word string, f Form, choices []string, system quantity.System) (quantity.Entered, error) {
	fallback := fallbackUnit(kind, f, choices, system)
	v, err := quantity.ParseEntered(word, fallback)
	if err != nil {
		return v, err
	}
	_, isLength := v.Length()
	_, isTorque := v.Torque()
	bad := func(want string) error { return fmt.Errorf("%q is not %s", word, want) }
	switch kind {
	case "length":
		if !isLength {
			return v, bad("a length (in, thou or mm)")
		}
		if v.Number <= 0 {
			return v, bad("a thickness above zero")
		}
	case "torque":
		if !isTorque || v.Number <= 0 {
			return v, bad("a torque above zero (lb-ft or Nm)")
		}
	case "angle":
		if v.Unit == quantity.UnitTurn {
			v = quantity.Entered{Number: v.Number * 360, Unit: quantity.UnitDegree}
		}
		if v.Unit != quantity.UnitDegree || v.Number <= 0 {
			return v, bad("an angle above zero (deg)")
		}
	case "turns":
		if v.Unit != quantity.UnitTurn || v.Number <= 0 {
			return v, bad("a number of turns above zero")
		}
	case "places":
		if v.Unit != quantity.UnitTurn || v.Number != math.Trunc(v.Number) || v.Number < 1 || v.Number > 8 {
			return v, bad("a whole number of places from 1 to 8")
		}
	case "notches":
		if v.Unit != quantity.UnitTurn || 2*v.Number != math.Trunc(2*v.Number) || v.Number < 0.5 || v.Number > 60 {
			return v, bad("a number of slots from 0.5 to 60, in halves")
		}
	default: // any amount
		if !isLength && !isTorque {
			return v, bad("a length or a torque")
		}
		if v.Number < 0 {
			return v, bad("an amount of zero or more")
		}
	}
	return v, nil
}

func fallbackUnit(kind string, f Form, choices []string, system quantity.System) quantity.Unit {
	metric := system == quantity.Metric
	pick := func(inch, mm quantity.Unit) quantity.Unit {
		if metric {
			return mm
		}
		return inch
	}
	switch kind {
	case "length":
		return pick(quantity.UnitInch, quantity.UnitMM)
	case "torque":
		return pick(quantity.UnitFootLb, quantity.UnitNm)
	case "angle":
		return quantity.UnitDegree
	case "turns", "places", "notches":
		return quantity.UnitTurn
	}
	if f == ExpectValue {
		return "" // a length or a drag: nothing but the unit tells which
	}
	if f == RecordValue && len(choices) > 0 && strings.HasSuffix(choices[0], "-torque") {
		return pick(quantity.UnitInchLb, quantity.UnitNm)
	}
	return pick(quantity.UnitInch, quantity.UnitMM)
}

// Verbs lists the first words of all acts, each once.
func Verbs() []string {
	var out []string
	seen := map[string]bool{}
	for _, e := range table() {
		v := e.notches[0].literal
		if !seen[v] {
			seen[v] = true
			out = append(out, v)
		}
	}
	return out
}

// objects lists what may follow a verb.
func objects(verb string) []string {
	var out []string
	seen := map[string]bool{}
	for _, e := range table() {
		if e.notches[0].literal != verb || len(e.notches) < 2 {
			continue
		}
		o := e.notches[1].literal
		if o == "" {
			o = strings.Join(e.notches[1].choices, "|")
		}
		if !seen[o] {
			seen[o] = true
			out = append(out, o)
		}
	}
	return out
}
