package act

import (
	"slices"
	"strings"
)

// An Amount is a kind of amount that an act takes.
type Amount string

// The kinds of amount.
const (
	LengthAmount  Amount = "length"
	TorqueAmount  Amount = "torque" // of the nut
	AngleAmount   Amount = "angle"
	TurnsAmount   Amount = "turns"
	PlacesAmount  Amount = "places"
	NotchesAmount Amount = "notches"
	AnyAmount     Amount = "amount" // a length, a torque or a share, by what it is of
)

// A Slot is one thing to be filled in before an act can be done: a word out of some, or an
// amount.
type Slot struct {
	Options []Option // empty for an amount
	Amount  Amount   // "" for a word
	After   string   // the literal word before it, such as "opposite"; the verb's object for the first
}

// Slots lists what is to be filled in, in the order it is said; none for an act that is
// complete as it is.
func (f Form) Slots() []Slot {
	e, _ := f.entry()
	var out []Slot
	for i, p := range e.parts {
		if p.literal != "" {
			continue
		}
		s := Slot{Options: slices.Clone(p.choices), Amount: Amount(p.amount)}
		if i > 0 {
			s.After = e.parts[i-1].literal
		}
		out = append(out, s)
	}
	return out
}

// Next lists the words that may follow those of a line, for whoever completes it: verbs
// first of all, then what the verbs are done to, then options. Amounts are not among them.
func (r Reader) Next(line string) []string {
	words := understand(joinUnits(strings.Fields(strings.ToLower(line))))
	var out []string
	add := func(w string) {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	for _, e := range table() {
		if !r.has(e.form) || len(words) >= len(e.parts) || !e.begins(words) {
			continue
		}
		switch p := e.parts[len(words)]; {
		case p.literal != "":
			add(p.literal)
		default:
			for _, c := range p.choices {
				add(string(c))
			}
		}
	}
	return out
}

// begins tells whether words can be the beginning of the entry's line.
func (e entry) begins(words []string) bool {
	for i, w := range words {
		switch p := e.parts[i]; {
		case p.literal != "" && p.literal != w:
			return false
		case p.choices != nil && !slices.Contains(p.choices, Option(w)):
			return false
		}
	}
	return true
}
