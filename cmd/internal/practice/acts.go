package practice

import (
	"errors"
	"slices"
	"strings"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// actsOn lists the acts that have a place on axles of a design.
func actsOn(d family.Design) []act.Usage {
	var out []act.Usage
	for _, u := range act.Usages() {
		if sim.NotOnThisAxle(d, u.Form) == "" {
			out = append(out, usageOn(d, u))
		}
	}
	return out
}

// usageOn leaves out of an act's usage what an axle of a design has not.
func usageOn(d family.Design, u act.Usage) act.Usage {
	u.Line = lineOn(d, u.Line)
	cage, rings := d.DepthShim == family.UnderCageFlange, d.SideAdjust == family.BearingAdjusters
	switch {
	case u.Form == act.FitCase && !rings:
		u.Help, _, _ = strings.Cut(u.Help, "; threaded rings")
	case u.Form == act.FitDepthShim && cage:
		u.Help, _, _ = strings.Cut(u.Help, " (pinion out)") // a cage takes its pinion along
	}
	return u
}

// lineOn leaves out of a list of the build sheet's items those that an axle of a design
// has not.
func lineOn(d family.Design, line string) string {
	if d.Preload != family.SolidSpacer {
		line = strings.Replace(line, "|pack|", "|", 1)
	}
	if d.SideAdjust == family.BearingAdjusters {
		line = strings.Replace(line, "|ring-gear-shim|opposite-shim|", "|", 1)
	}
	return line
}

// verbsOn lists the first words of the acts on axles of a design, each once.
func verbsOn(d family.Design) []string {
	var out []string
	for _, u := range actsOn(d) {
		if verb, _, _ := strings.Cut(u.Line, " "); !slices.Contains(out, verb) {
			out = append(out, verb)
		}
	}
	return out
}

// objectsOn lists what may follow a verb on axles of a design, each once.
func objectsOn(d family.Design, verb string) []string {
	var out []string
	for _, u := range actsOn(d) {
		first, rest, _ := strings.Cut(u.Line, " ")
		thing, _, _ := strings.Cut(rest, " ")
		if thing = plainForm(thing); first == verb && !slices.Contains(out, thing) {
			out = append(out, thing)
		}
	}
	return out
}

// notHere says why the act that a line begins with has no place on an axle of a design,
// or "". It is for lines that cannot be read as a whole act.
func notHere(d family.Design, line string) string {
	// Two words that belong together may be written apart.
	apart := func(text string) string {
		return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(text), "-", " ")), " ") + " "
	}
	for _, u := range act.Usages() {
		name, _, _ := strings.Cut(u.Line, "{")
		if why := sim.NotOnThisAxle(d, u.Form); why != "" && strings.HasPrefix(apart(line), apart(name)) {
			return why
		}
	}
	return ""
}

// ReadAct reads an act that a person typed for an axle of a design. Errors say what would
// be right there.
func ReadAct(d family.Design, text string, units quantity.System) (act.Act, error) {
	a, err := act.Parse(text, units)
	if err == nil {
		return a, nil
	}
	if why := notHere(d, text); why != "" {
		return a, errors.New(why)
	}
	return a, errors.New(plainError(d, text, err))
}
