package act

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// An Act is one thing done at the bench: its form, the words chosen where the
// form offers a choice, and the amounts given, each in the order they are said.
type Act struct {
	Form    Form
	Choices []Option
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
	Help text.Message
}

type part struct {
	literal string
	choices []Option
	amount  string // kind of amount, empty for a literal or a choice
}

type entry struct {
	spec
	parts []part
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
				e.parts = append(e.parts, part{literal: word})
			case strings.Contains(inner, "|"):
				e.parts = append(e.parts, part{choices: options(inner)})
			default:
				e.parts = append(e.parts, part{amount: inner})
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

// Minutes is the work time of the act on the usual design, with so many places where it
// reads at places: estimates from common practice.
func (f Form) Minutes(places int) float64 {
	e, _ := f.entry()
	return e.minutes + e.perPlace*float64(places)
}

// Caution is what a person should be told before doing the act for the first time.
func (f Form) Caution() Caution {
	e, _ := f.entry()
	return e.caution
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
	for i, s := range e.parts {
		if i > 0 {
			b.WriteByte(' ')
		}
		switch {
		case s.literal != "":
			b.WriteString(s.literal)
		case s.choices != nil:
			if choice < len(a.Choices) {
				b.WriteString(string(a.Choices[choice]))
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
	if kind == "places" || kind == "notches" || e.Unit == quantity.UnitShare {
		return strings.TrimSuffix(e.String(), string(e.Unit))
	}
	return e.String()
}

// maxLine bounds what a person could mean to type as one act.
const maxLine = 200

// Parse is that of a Reader of every act.
func Parse(line string, system quantity.System) (Act, error) {
	return Reader{Units: system}.Parse(line)
}

// A Reader reads acts that a person types.
type Reader struct {
	Units quantity.System
	// Has tells whether the axle has a place for an act; nil for all. Others are read too, and
	// are left out of what is offered.
	Has func(Form) bool
}

// Parse reads an act. Bare numbers take the reader's units: lengths in or mm, rotating
// torques lb-in or Nm, nut torques lb-ft or Nm; angles are degrees. A number may stand apart
// from its unit. Other words of the shop are understood (Synonyms).
//
// Errors are text.Errors that wrap ErrNotAnAct when the text names no act and ErrIncomplete
// when a choice or amount is missing or wrong; the message says what would be right.
func (r Reader) Parse(line string) (Act, error) {
	if len(line) > maxLine {
		return Act{}, text.Fail(ErrNotAnAct, text.Say("act.too-long", "the line is longer than {n} characters", text.Count("n", maxLine)))
	}
	words := understand(joinUnits(strings.Fields(strings.ToLower(line))))
	if len(words) == 0 {
		return Act{}, text.Fail(ErrNotAnAct, text.Say("act.empty", "the line is empty"))
	}
	best, bestDepth := entry{}, 0
	for _, e := range table() {
		if depth := literalDepth(e, words); depth > bestDepth {
			best, bestDepth = e, depth
		}
	}
	if bestDepth == 0 {
		return Act{}, text.Fail(ErrNotAnAct, text.Say("act.unknown-verb", "{word} is not an act of this bench; acts begin with {verbs}",
			text.Typed("word", quoted(words[0])), text.AnyTyped("verbs", r.Verbs()...)))
	}
	if bestDepth < leadingLiterals(best) {
		return Act{}, text.Fail(ErrNotAnAct, text.Say("act.unknown-object", "after {word} say one of: {objects}",
			text.Typed("word", quoted(words[0])), text.AnyTyped("objects", r.objects(words[0])...)))
	}
	return fill(best, words, r.Units)
}

// Begun returns the form that a line begins with, whole or not.
func Begun(line string) (Form, bool) {
	words := understand(joinUnits(strings.Fields(strings.ToLower(line))))
	for _, e := range table() {
		if n := leadingLiterals(e); literalDepth(e, words) == n {
			return e.form, true
		}
	}
	return 0, false
}

func quoted(s string) string { return fmt.Sprintf("%q", s) }

// literalDepth counts how many leading literal words of the form the text has.
// "tighten nut to" and "tighten nut" share a start; the longer literal run wins.
func literalDepth(e entry, words []string) int {
	n := 0
	for i, s := range e.parts {
		if s.literal == "" || i >= len(words) || words[i] != s.literal {
			break
		}
		n++
	}
	return n
}

func leadingLiterals(e entry) int {
	n := 0
	for _, s := range e.parts {
		if s.literal == "" {
			break
		}
		n++
	}
	return n
}

func fill(e entry, words []string, system quantity.System) (Act, error) {
	a := Act{Form: e.form}
	need := func(what text.Message) error {
		return text.Fail(ErrIncomplete, text.Say("act.needs-more", "{what}; write: {line}", text.Of("what", what), text.Typed("line", chosen(e, a.Choices))))
	}
	for i, s := range e.parts {
		word := ""
		if i < len(words) {
			word = words[i]
		}
		switch {
		case s.literal != "":
			if word != s.literal {
				return Act{}, need(text.Say("act.word-missing", "{word} is missing", text.Typed("word", quoted(s.literal))))
			}
		case s.choices != nil:
			if !slices.Contains(s.choices, Option(word)) {
				if word == "" {
					return Act{}, need(text.Say("act.choose", "choose {options}", text.AnyTyped("options", s.choices...)))
				}
				return Act{}, need(text.Say("act.no-such-option", "{word} is none of {options}", text.Typed("word", quoted(word)), text.AllTyped("options", s.choices...)))
			}
			a.Choices = append(a.Choices, Option(word))
		default:
			if word == "" {
				return Act{}, need(text.Say("act.amount-missing", "the {amount} is missing", text.Of("amount", amountName(s.amount))))
			}
			v, err := readAmount(s.amount, word, e.form, a.Choices, system)
			if err != nil {
				return Act{}, need(text.Reason(err))
			}
			a.Amounts = append(a.Amounts, v)
		}
	}
	if n := len(e.parts); n < len(words) {
		return Act{}, need(text.Say("act.too-much", "{words} is more than the act takes", text.Typed("words", quoted(strings.Join(words[n:], " ")))))
	}
	return a, nil
}

// amountName names a kind of amount.
func amountName(kind string) text.Message {
	switch kind {
	case "length":
		return text.Say("act.amount.length", "length")
	case "torque":
		return text.Say("act.amount.torque", "torque")
	case "angle":
		return text.Say("act.amount.angle", "angle")
	case "turns":
		return text.Say("act.amount.turns", "number of turns")
	case "places":
		return text.Say("act.amount.places", "number of places")
	case "notches":
		return text.Say("act.amount.notches", "number of notches")
	}
	return text.Say("act.amount.any", "amount")
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
func readAmount(kind, word string, f Form, choices []Option, system quantity.System) (quantity.Entered, error) {
	v, err := quantity.ParseEntered(word, fallbackUnit(kind, f, choices, system))
	if err != nil {
		return v, err
	}
	_, isLength := v.Length()
	_, isTorque := v.Torque()
	bad := func(want text.Message) error {
		return text.Fail(nil, text.Say("act.wrong-amount", "{word} is not {want}", text.Typed("word", quoted(word)), text.Of("want", want)))
	}
	switch kind {
	case "length":
		if !isLength {
			return v, bad(text.Say("act.want.length", "a length (in, thou or mm)"))
		}
		if v.Number <= 0 {
			return v, bad(text.Say("act.want.thickness", "a thickness above zero"))
		}
	case "torque":
		if !isTorque || v.Number <= 0 {
			return v, bad(text.Say("act.want.torque", "a torque above zero (lb-ft or Nm)"))
		}
	case "angle":
		if v.Unit == quantity.UnitTurn {
			v = quantity.Entered{Number: v.Number * 360, Unit: quantity.UnitDegree}
		}
		if v.Unit != quantity.UnitDegree || v.Number <= 0 {
			return v, bad(text.Say("act.want.angle", "an angle above zero (deg)"))
		}
	case "turns":
		if v.Unit != quantity.UnitTurn || v.Number <= 0 {
			return v, bad(text.Say("act.want.turns", "a number of turns above zero"))
		}
	case "places":
		if v.Unit != quantity.UnitTurn || v.Number != math.Trunc(v.Number) || v.Number < 1 || v.Number > 8 {
			return v, bad(text.Say("act.want.places", "a whole number of places from 1 to 8"))
		}
	case "notches":
		if v.Unit != quantity.UnitTurn || 2*v.Number != math.Trunc(2*v.Number) || v.Number < 0.5 || v.Number > 60 {
			return v, bad(text.Say("act.want.notches", "a number of notches from 0.5 to 60, in halves"))
		}
	default: // any amount
		if f == RecordValue && len(choices) > 0 {
			return v, wrongOnSheet(choices[0], v, bad)
		}
		if !isLength && !isTorque {
			return v, bad(text.Say("act.want.any", "a length or a torque"))
		}
		if v.Number < 0 {
			return v, bad(text.Say("act.want.not-negative", "an amount of zero or more"))
		}
	}
	return v, nil
}

// wrongOnSheet says why an amount cannot stand on a line of the build sheet.
func wrongOnSheet(line Option, v quantity.Entered, bad func(text.Message) error) error {
	_, isLength := v.Length()
	_, isTorque := v.Torque()
	switch {
	case line == PatternHeightLine && (v.Unit != quantity.UnitShare || v.Number < 0 || v.Number > 1):
		return bad(text.Say("act.want.pattern", "the height of the pattern, mean of drive and coast: 0 at the root, 1 at the top"))
	case line == PatternHeightLine:
	case (line == PinionTorqueLine || line == TotalTorqueLine) && !isTorque:
		return bad(text.Say("act.want.rotating-torque", "a rotating torque (lb-in or Nm)"))
	case line != PinionTorqueLine && line != TotalTorqueLine && !isLength:
		return bad(text.Say("act.want.length", "a length (in, thou or mm)"))
	case v.Number < 0:
		return bad(text.Say("act.want.not-negative", "an amount of zero or more"))
	}
	return nil
}

func fallbackUnit(kind string, f Form, choices []Option, system quantity.System) quantity.Unit {
	pick := func(inch, mm quantity.Unit) quantity.Unit {
		if system == quantity.Metric {
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
		return "" // a length or a torque: nothing but the unit tells which
	}
	if f == RecordValue && len(choices) > 0 && (choices[0] == PinionTorqueLine || choices[0] == TotalTorqueLine) {
		return pick(quantity.UnitInchLb, quantity.UnitNm)
	}
	if f == RecordValue && len(choices) > 0 && choices[0] == PatternHeightLine {
		return quantity.UnitShare
	}
	return pick(quantity.UnitInch, quantity.UnitMM)
}

// chosen is the form's line to be filled in, with the choices that have been made.
func chosen(e entry, made []Option) string {
	words := make([]string, len(e.parts))
	for i, s := range e.parts {
		words[i] = s.blank()
		if s.choices != nil && len(made) > 0 {
			words[i], made = string(made[0]), made[1:]
		}
	}
	return strings.Join(words, " ")
}

// few is how many choices may stand together without a blank between them.
const few = 3

// blank writes a part of a line the way it is explained to people: what is to be filled in
// as a word in capitals, a choice with strokes.
func (s part) blank() string {
	switch {
	case s.literal != "":
		return s.literal
	case s.choices != nil:
		words := make([]string, len(s.choices))
		for i, c := range s.choices {
			words[i] = string(c)
		}
		if len(words) > few {
			return strings.Join(words, " / ")
		}
		return strings.Join(words, "/")
	}
	return strings.ToUpper(s.amount)
}

// Pattern is the form's line as it is explained to people, such as "fit depth-shim LENGTH".
func (f Form) Pattern() string {
	e, _ := f.entry()
	return chosen(e, nil)
}

// Verb is the first word of the form, and Object what follows it, without what is to be
// filled in.
func (f Form) Verb() string {
	e, _ := f.entry()
	return e.parts[0].literal
}

// Object is what follows the verb as it is explained to people; "" for nothing.
func (f Form) Object() string {
	e, _ := f.entry()
	if len(e.parts) < 2 {
		return ""
	}
	return e.parts[1].blank()
}

// Open tells whether something is to be filled in or chosen.
func (f Form) Open() bool {
	e, _ := f.entry()
	return slices.ContainsFunc(e.parts, func(s part) bool { return s.literal == "" })
}

// Verbs lists the first words of all acts, each once.
func Verbs() []string { return Reader{}.Verbs() }

// Verbs lists the first words of the acts that the axle has a place for, each once.
func (r Reader) Verbs() []string {
	var out []string
	for _, e := range table() {
		if v := e.parts[0].literal; r.has(e.form) && !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}

func (r Reader) has(f Form) bool { return r.Has == nil || r.Has(f) }

// objects lists what may follow a verb.
func (r Reader) objects(verb string) []string {
	var out []string
	for _, e := range table() {
		if o := e.form.Object(); e.parts[0].literal == verb && o != "" && r.has(e.form) && !slices.Contains(out, o) {
			out = append(out, o)
		}
	}
	return out
}

// options splits the inside of a choice, such as "in|out".
func options(inner string) []Option {
	var out []Option
	for c := range strings.SplitSeq(inner, "|") {
		out = append(out, Option(c))
	}
	return out
}
