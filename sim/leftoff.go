package sim

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/sim/act"
)

// A LeftOff is something that can be kept off the bench: an act for want of its tool, or
// one word an act offers.
type LeftOff struct {
	Form act.Form
	Word string // "" for the whole act
}

// String names what is left off as its act is typed, such as "measure torque string".
func (l LeftOff) String() string {
	name, _, _ := strings.Cut(l.Form.String(), " {")
	if l.Word != "" {
		name += " " + l.Word
	}
	return name
}

// MayBeLeftOff lists what the bench can do without: a job can be finished with all of it
// gone but for one of the two ways to read a drag.
func MayBeLeftOff() []LeftOff {
	var out []LeftOff
	for _, f := range []act.Form{
		act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectCones, act.InspectCaps, act.InspectSeal, act.InspectShimSeat, act.InspectBolts,
		act.InspectGears, act.InspectShafts, act.MeasureBearings, act.MeasureDepthShim, act.MeasureSideShims, act.MeasureCaseRunout, act.MeasureDepth,
		act.MeasurePinionEndPlay, act.MeasureEndPlay, act.MeasureSpread, act.MeasureRunout, act.MeasurePinionRunout,
		act.MeasureRadialRunout, act.TestIndicator, act.TestString, act.TestGauge,
	} {
		out = append(out, LeftOff{Form: f})
	}
	return append(out, LeftOff{act.MeasureTorque, "wrench"}, LeftOff{act.MeasureTorque, "string"})
}

// ParseLeftOff reads the name of something left off. Errors: what the bench cannot do
// without, and what it has not.
func ParseLeftOff(name string) (LeftOff, error) {
	var names []string
	for _, l := range MayBeLeftOff() {
		if l.String() == name {
			return l, nil
		}
		names = append(names, l.String())
	}
	return LeftOff{}, fmt.Errorf("%q cannot be left off the bench: that can be %s", name, strings.Join(names, ", "))
}

// Without takes things off the bench; from here their acts are refused.
func (s *Stand) Without(off []LeftOff) { s.off = slices.Clone(off) }

// NotHere says why an act cannot be done at this bench, or "".
func (s *Stand) NotHere(f act.Form, words ...string) string {
	for _, l := range s.off {
		if l.Form != f || l.Word != "" && !slices.Contains(words, l.Word) {
			continue
		}
		if l.Word != "" {
			return fmt.Sprintf("there is no %s at this bench: the exercise does without it", l.Word)
		}
		return "this bench has nothing to do that with: the exercise does without it"
	}
	return ""
}
