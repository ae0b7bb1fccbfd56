package gauge

import (
	"strings"

	"shimwright/sim/text"
)

// A Kind says what was read.
type Kind int

// The kinds of reading, inspections first.
const (
	NoKind Kind = iota

	CupSeats         // pinion bearing cups against their shoulders
	BearingCondition // lubricant, rollers and races of the pinion bearings
	SpacerCondition
	NutCondition
	ConeSeats // side bearing cones against their shoulders
	CapMarks
	SealLip
	ShimSeat
	SlingerPlace
	RingGearBolts
	MatchNumbers
	RingGearTag
	AxleShafts
	StringRadius
	GaugeBlock
	IndicatorArm
	GearFlatness

	BearingHeights
	PinionRunout
	DepthShimSize
	SideShimSizes
	CaseRunout
	Depth
	NutTorque
	NutLoosening
	NutAngle
	PinionEndPlay
	PinionTorque
	TotalTorque
	CaseEntry // how the case went in
	AdjusterTurn
	CaseEndPlay
	HousingSpread
	Runout
	RadialRunout
	Backlash
	Pattern
)

// Name is what the shop calls it.
func (k Kind) Name() text.Message {
	switch k {
	case CupSeats:
		return text.Say("reading.cup-seats", "pinion bearing cups")
	case BearingCondition:
		return text.Say("reading.bearing-condition", "pinion bearings")
	case SpacerCondition:
		return text.Say("reading.spacer", "spacer")
	case NutCondition:
		return text.Say("reading.nut", "pinion nut")
	case ConeSeats:
		return text.Say("reading.cone-seats", "side bearing cones")
	case CapMarks:
		return text.Say("reading.cap-marks", "bearing caps")
	case SealLip:
		return text.Say("reading.seal", "pinion seal")
	case ShimSeat:
		return text.Say("reading.shim-seat", "depth shim seat")
	case SlingerPlace:
		return text.Say("reading.slinger", "oil slinger")
	case RingGearBolts:
		return text.Say("reading.ring-gear-bolts", "ring gear bolts")
	case MatchNumbers:
		return text.Say("reading.match-numbers", "match numbers")
	case RingGearTag:
		return text.Say("reading.ring-gear-tag", "ring gear tag")
	case AxleShafts:
		return text.Say("reading.axle-shafts", "axle shafts")
	case StringRadius:
		return text.Say("reading.string-radius", "radius of the string")
	case GaugeBlock:
		return text.Say("reading.gauge-block", "depth gauge on its block")
	case IndicatorArm:
		return text.Say("reading.indicator-arm", "indicator arm")
	case GearFlatness:
		return text.Say("reading.gear-flatness", "ring gear on a flat plate")
	case BearingHeights:
		return text.Say("reading.bearing-heights", "set-up bearing height")
	case PinionRunout:
		return text.Say("reading.pinion-runout", "pinion runout")
	case DepthShimSize:
		return text.Say("reading.depth-shim", "depth shim")
	case SideShimSizes:
		return text.Say("reading.side-shims", "side shims")
	case CaseRunout:
		return text.Say("reading.case-runout", "case flange runout")
	case Depth:
		return text.Say("reading.depth", "pinion depth")
	case NutTorque:
		return text.Say("reading.nut-torque", "nut torque")
	case NutLoosening:
		return text.Say("reading.nut-loosening", "nut torque, loosening")
	case NutAngle:
		return text.Say("reading.nut-angle", "nut turned")
	case PinionEndPlay:
		return text.Say("reading.pinion-end-play", "pinion end play")
	case PinionTorque:
		return text.Say("reading.pinion-torque", "pinion rotating torque")
	case TotalTorque:
		return text.Say("reading.total-torque", "total rotating torque")
	case CaseEntry:
		return text.Say("reading.case-entry", "case")
	case AdjusterTurn:
		return text.Say("reading.adjuster-turn", "adjuster turned")
	case CaseEndPlay:
		return text.Say("reading.end-play", "side bearing end play")
	case HousingSpread:
		return text.Say("reading.spread", "housing spread")
	case Runout:
		return text.Say("reading.runout", "back-face runout")
	case RadialRunout:
		return text.Say("reading.radial-runout", "radial runout")
	case Backlash:
		return text.Say("reading.backlash", "backlash")
	case Pattern:
		return text.Say("reading.pattern", "contact pattern")
	}
	return text.Message{}
}

// String is the kind's code in records and JSON.
func (k Kind) String() string { return strings.TrimPrefix(k.Name().Code(), "reading.") }

// MarshalText writes the code.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }
