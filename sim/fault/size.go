package fault

import (
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Unit says what a size is measured in.
type Unit int

// The units.
const (
	ThereOrNot   Unit = iota // the fault has no size: 1
	MM                       // millimeters
	MMTotal                  // millimeters, total indicator reading
	Nmm                      // newton millimeters
	ShareRead                // share of the reading
	ShareOfTooth             // share of the tooth's height
)

// String writes the unit as a record has it.
func (u Unit) String() string {
	return [...]string{"", "mm", "mm TIR", "N·mm", "of the reading", "of the tooth"}[u]
}

// A Scale says how sizes go with the axle.
type Scale int

// The scales.
const (
	AsGiven     Scale = iota // the same on every axle
	ByRunout                 // with the runout that the specification allows
	ByVariation              // with the backlash variation that the specification allows
)

// A Size is the range that a fault's size is drawn from, evenly, on a light axle.
type Size struct {
	Low, High float64 // in Unit
	Unit      Unit
	Scale     Scale
}

// whole is the size of a fault that is there or not.
func whole() Size { return Size{Low: 1, High: 1} }

// Of returns the range on an axle with a specification sheet. Runout goes with what the
// sheet allows: what is a fault on a light axle is nothing on a heavy one.
func (s Size) Of(sh family.Sheet) (low, high float64) {
	const runoutMM, variationMM = 0.0762, 0.0508 // allowed on the axle that Low and High are for
	times := 1.0
	switch s.Scale {
	case ByRunout:
		times = sh.RunoutMM / runoutMM
	case ByVariation:
		times = sh.BacklashSpreadMM / variationMM
	}
	return s.Low * times, s.High * times
}

// Amount writes one size; it says nothing for a fault without one.
func (s Size) Amount(x float64) text.Message {
	switch s.Unit {
	case MM:
		return text.Say("fault.size.length", "{x}", text.Length("x", quantity.Millimetres(x)))
	case MMTotal:
		return text.Say("fault.size.total", "{x} TIR", text.Length("x", quantity.Millimetres(x)))
	case Nmm:
		return text.Say("fault.size.torque", "{x}", text.Torque("x", quantity.Torque(x)))
	case ShareRead:
		return text.Say("fault.size.of-reading", "{x} of the reading", text.Percent("x", x))
	case ShareOfTooth:
		return text.Say("fault.size.of-tooth", "{x} of the tooth height", text.Percent("x", x))
	}
	return text.Message{}
}

// Range writes the range of sizes; it says nothing for a fault without one.
func (s Size) Range() text.Message {
	switch s.Unit {
	case ThereOrNot:
		return text.Message{}
	case ShareRead:
		return text.Say("fault.size.range-of-reading", "{low} to {high} of the reading", text.Percent("low", s.Low), text.Percent("high", s.High))
	case ShareOfTooth:
		return text.Say("fault.size.range-of-tooth", "{low} to {high} of the tooth height", text.Percent("low", s.Low), text.Percent("high", s.High))
	}
	return text.Say("fault.size.range", "{low} to {high}", text.Of("low", s.Amount(s.Low)), text.Of("high", s.Amount(s.High)))
}
