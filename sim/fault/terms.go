package fault

import "shimwright/sim/text"

// An Area is the part of the job that a fault belongs to, as it is typed.
type Area string

// The areas.
const (
	Seating      Area = "seating"
	Depth        Area = "depth"
	GearSet      Area = "gear-set"
	Spacer       Area = "spacer"
	Bearings     Area = "bearings"
	SideBearings Area = "side-bearings"
	Runout       Area = "runout"
	Measuring    Area = "measuring"
)

// Areas lists the areas in the order of the job.
func Areas() []Area {
	return []Area{Seating, Depth, GearSet, Spacer, Bearings, SideBearings, Runout, Measuring}
}

// Name returns what the area is called.
func (a Area) Name() text.Message {
	switch a {
	case Seating:
		return text.Say("fault.area.seating", "seating")
	case Depth:
		return text.Say("fault.area.depth", "pinion depth")
	case GearSet:
		return text.Say("fault.area.gear-set", "gear set")
	case Spacer:
		return text.Say("fault.area.spacer", "collapsible spacer")
	case Bearings:
		return text.Say("fault.area.bearings", "pinion bearings and seal")
	case SideBearings:
		return text.Say("fault.area.side-bearings", "side bearings")
	case Runout:
		return text.Say("fault.area.runout", "runout")
	case Measuring:
		return text.Say("fault.area.measuring", "measuring")
	}
	return text.Verbatim(string(a))
}

// A Stage says which step of the job builds over a fault.
type Stage int

// The stages.
const (
	BeforePinion Stage = iota // under, or in, the pinion's final assembly
	BeforeCase                // in the case, its bearings, or behind them
	AnyTime                   // in the bench, or at the wheels: nothing is built over it
)

// Strength says how well an entry is founded.
type Strength string

// The strengths of a source.
const (
	Manual   Strength = "manual"
	Standard Strength = "standard"
	Practice Strength = "practice"
	Memory   Strength = "memory"
)

// Name returns what the strength is called.
func (s Strength) Name() text.Message {
	switch s {
	case Manual:
		return text.Say("fault.strength.manual", "manual")
	case Standard:
		return text.Say("fault.strength.standard", "standard")
	case Practice:
		return text.Say("fault.strength.practice", "common practice, no source")
	case Memory:
		return text.Say("fault.strength.memory", "from memory")
	}
	return text.Verbatim(string(s))
}
