package practice

import (
	"strings"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
)

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
