package sim

import (
	"slices"
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/text"
)

// A LeftOff is something that can be kept off the bench: an act for want of its tool, or
// one option of an act.
type LeftOff struct {
	Form act.Form
	Word act.Option // "" for the whole act
}

// String names what is left off as its act is typed, such as "measure torque string".
func (l LeftOff) String() string {
	name, _, _ := strings.Cut(l.Form.String(), " {")
	if l.Word != "" {
		name += " " + string(l.Word)
	}
	return name
}

// MayBeLeftOff lists what the bench can do without: a job can be finished with all of it
// gone but for one of the two ways to read a torque.
func MayBeLeftOff() []LeftOff {
	var out []LeftOff
	for f, d := range deeds() {
		if d.tool {
			out = append(out, LeftOff{Form: act.Form(f)})
		}
	}
	return append(out, LeftOff{act.MeasureTorque, act.Wrench}, LeftOff{act.MeasureTorque, act.String})
}

// ParseLeftOff reads the name of something left off. Errors: what the bench cannot do
// without, and what it does not have.
func ParseLeftOff(name string) (LeftOff, error) {
	var names []string
	for _, l := range MayBeLeftOff() {
		if l.String() == name {
			return l, nil
		}
		names = append(names, l.String())
	}
	return LeftOff{}, text.Fail(nil, text.Say("bench.cannot-be-left-off", "{name} cannot be left off the bench: what can is {names}", text.Typed("name", quoted(name)), text.AllTyped("names", names...)))
}

func quoted(s string) string { return `"` + s + `"` }

// Without takes things off the bench; from here their acts are refused.
func (s *Stand) Without(off []LeftOff) { s.off = slices.Clone(off) }

// NotHere says why an act cannot be done at this bench; the zero Message if it can.
func (s *Stand) NotHere(f act.Form, words ...act.Option) text.Message {
	for _, l := range s.off {
		if l.Form != f || l.Word != "" && !slices.Contains(words, l.Word) {
			continue
		}
		if l.Word != "" {
			return text.Say("not.word-left-off", "there is no {word} at this bench: the exercise does without it", text.Typed("word", string(l.Word)))
		}
		return text.Say("not.left-off", "this bench has nothing to do that with: the exercise does without it")
	}
	return text.Message{}
}
