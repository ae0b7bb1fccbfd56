package bench

import (
	"slices"
	"strings"

	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// ReaderOn reads acts and offers those that have a place on axles of a design.
func ReaderOn(d family.Design, units quantity.System) act.Reader {
	return act.Reader{Units: units, Has: func(f act.Form) bool { return sim.NotOnThisAxle(d, f).IsZero() }}
}

// ReadAct reads an act that a person typed for an axle of a design. Errors say what would
// be right there.
func ReadAct(d family.Design, line string, units quantity.System) (act.Act, error) {
	a, err := ReaderOn(d, units).Parse(line)
	if err == nil {
		return a, nil
	}
	f, ok := act.Begun(line)
	if !ok {
		f, ok = onlyForm(d, line)
	}
	if ok {
		if why := sim.NotOnThisAxle(d, f); !why.IsZero() {
			return a, text.Fail(nil, why)
		}
	}
	return a, err
}

// onlyForm is the form that a line's first word begins, where no form that it begins has a
// place on axles of a design.
func onlyForm(d family.Design, line string) (only act.Form, ok bool) {
	verb, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(line)), " ")
	for _, u := range act.Usages() {
		if u.Form.Verb() != verb {
			continue
		}
		if sim.NotOnThisAxle(d, u.Form).IsZero() {
			return 0, false
		}
		only, ok = u.Form, true
	}
	return only, ok
}

// Asks tells whether a person is asked first what they expect to read: where the terms give
// help, and something is learned from it.
func (b *Bench) Asks(a act.Act) bool {
	return b.Header().Help != attempt.NoHelp && slices.Contains(b.Possible(), a.Form) && b.WorthForetelling(a)
}

// Expected reads what a person expects an act to read; a bare number is in the units given.
// Errors say what would be right.
func Expected(said string, a act.Act, units quantity.System) (act.Act, error) {
	unit, example := quantity.UnitInch, text.Say("expect.length", "a length, such as {example}", text.Typed("example", "0.006in"))
	if units == quantity.Metric {
		unit = quantity.UnitMM
	}
	torque := a.Form == act.MeasureTorque
	if torque {
		unit, example = quantity.UnitInchLb, text.Say("expect.torque", "a torque, such as {example}", text.Typed("example", "20lb-in"))
		if units == quantity.Metric {
			unit = quantity.UnitNm
		}
	}
	e, err := quantity.ParseEntered(said, unit)
	if err != nil {
		return act.Act{}, err
	}
	_, isLength := e.Length()
	_, isTorque := e.Torque()
	if e.Number < 0 || isTorque != torque || isLength == torque {
		return act.Act{}, text.Fail(nil, text.Say("expect.wrong", "this reading is {example}; write what you expect, or press Enter", text.Of("example", example)))
	}
	return act.Act{Form: act.ExpectValue, Amounts: []quantity.Entered{e}}, nil
}
