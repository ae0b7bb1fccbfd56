package practice

import (
	"strings"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// readerOn reads acts and offers those that have a place on axles of a design.
func readerOn(d family.Design, units quantity.System) act.Reader {
	return act.Reader{Units: units, Has: func(f act.Form) bool { return sim.NotOnThisAxle(d, f).IsZero() }}
}

// actsOn lists the acts that have a place on axles of a design.
func actsOn(d family.Design) []act.Usage {
	var out []act.Usage
	for _, u := range act.Usages() {
		if sim.NotOnThisAxle(d, u.Form).IsZero() {
			out = append(out, usageOn(d, u))
		}
	}
	return out
}

// usageOn leaves out of an act's usage the lines of the build sheet that axles of a design
// do not have.
func usageOn(d family.Design, u act.Usage) act.Usage {
	if d.Preload != family.SolidSpacer {
		u.Line = strings.Replace(u.Line, "|preload-shims|", "|", 1)
	}
	if d.SideAdjust == family.BearingAdjusters {
		u.Line = strings.Replace(u.Line, "|ring-gear-shim|opposite-shim|", "|", 1)
	}
	return u
}

// ReadAct reads an act that a person typed for an axle of a design. Errors say what would
// be right there.
func ReadAct(d family.Design, line string, units quantity.System) (act.Act, error) {
	a, err := readerOn(d, units).Parse(line)
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
