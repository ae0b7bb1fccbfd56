package gauge

import (
	"fmt"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/quantity"
)

// A Method is how a reading was taken, where that is a choice; options that do not belong
// to its kind are empty.
type Method struct {
	Pull                   act.Option // torque: Rotating or Breakaway
	Place, Plunger, Pinion act.Option // backlash: where the indicator stands, how, and whether the pinion is held
	Coat, Load             act.Option // pattern: Thin or Thick, Braked or Free
}

// A Reading is what crosses from the axle to the bench: what was read, with what, the
// figures shown and how sure they are. A finding is of an inspection, or of how the case
// went in.
type Reading struct {
	Kind     Kind
	Tool     Tool
	Method   Method
	Finding  Finding
	Lengths  []quantity.Length // backlash by place; cups inner and outer; cones and side shims ring-gear side and opposite side
	Torques  []quantity.Torque // one, or least and most where it varies within a turn
	Degrees  float64           // how far a nut turned, for a pull to a torque
	Notches  float64           // how far a bearing adjuster turned, in is positive
	StdMM    float64           // standard uncertainty of one length shown
	StdNmm   float64           // standard uncertainty of one torque shown
	Patterns []ToothPattern
}

// Wrong tells whether an inspection found something wrong, or the case did not go in.
func (r Reading) Wrong() bool { return r.Finding.Wrong() }

// Summary returns the mean, least and most of the lengths shown; zeros for none.
func (r Reading) Summary() (mean, least, most quantity.Length) {
	for i, l := range r.Lengths {
		if i == 0 {
			least, most = l, l
		}
		mean, least, most = mean+l, min(least, l), max(most, l)
	}
	return mean / quantity.Length(max(len(r.Lengths), 1)), least, most
}

// MeanTorque is the mean of the torques shown; zero for none.
func (r Reading) MeanTorque() quantity.Torque {
	var sum quantity.Torque
	for _, t := range r.Torques {
		sum += t / quantity.Torque(len(r.Torques))
	}
	return sum
}

// Code writes the reading in a fixed, unit-bound form for records: whole
// nanometres, whole micronewton metres, whole thousandths for a pattern's place.
func (r Reading) Code() string {
	out := r.Kind.String()
	for _, l := range r.Lengths {
		out += fmt.Sprintf(" %dnm", int64(math.Round(l.MM()*1e6)))
	}
	for _, t := range r.Torques {
		out += fmt.Sprintf(" %duNm", int64(math.Round(t.Nmm()*1e3)))
	}
	if r.Degrees != 0 {
		out += fmt.Sprintf(" %dmdeg", int64(math.Round(r.Degrees*1000)))
	}
	if r.Notches != 0 {
		out += fmt.Sprintf(" %dhalf-notches", int64(math.Round(2*r.Notches)))
	}
	for _, p := range r.Patterns {
		out += fmt.Sprintf(" %s:%d/%d", p.Flank, int64(math.Round(p.CenterS*1000)), int64(math.Round(p.CenterT*1000)))
	}
	if r.Finding != NoFinding {
		out += " " + r.Finding.String()
	}
	return out
}
