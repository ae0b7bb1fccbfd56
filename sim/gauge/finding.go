package gauge

import (
	"strings"

	"shimwright/sim/text"
)

// A Finding is what an inspection found, or how the case went in.
type Finding int

// The findings. Those that are as they should be stand before those that are not in each
// group; see Wrong.
const (
	NoFinding Finding = iota
	CupsSeated
	CupGap
	CupTurns
	BearingsSound
	BearingsOiled // of bearings with another finding beside this one
	BearingsGreased
	RollersGritty
	RaceDented
	SpacerSolid
	SpacerNew
	SpacerCrushed
	SpacerShort
	NutGrips
	NutSpins
	ConesSeated
	ConeGap
	MarksMeet
	CapsSwapped
	CapReversed
	SideCupCracked
	AdjusterCrooked
	SealSound
	SealLipTurned
	SeatClean
	SeatDirty
	SlingerMissing
	BoltsEven
	BoltsUneven
	BoltsBottomed
	NumbersMatch
	NumbersDiffer
	TagFits
	TagOfOtherCase
	ShaftsClear
	ShaftDrags
	StringOnRadius
	StringWasOff
	GaugeAgrees
	GaugeWasOff
	IndicatorReturns
	IndicatorWasLoose
	GearFlat
	GearRocks

	DropsIn
	ByHand
	LightTaps
	FirmTaps
	HardBlows
	NeedsSpreader
	WillNotEnter
)

// findingRow is what belongs to a finding.
type findingRow struct {
	words text.Message
	wrong bool
}

func (f Finding) row() findingRow {
	switch f {
	case CupsSeated:
		return findingRow{text.Say("finding.cups-seated", "no feeler gauge goes in behind either cup"), false}
	case CupGap:
		return findingRow{text.Say("finding.cup-gap", "a feeler gauge goes in behind a cup"), true}
	case CupTurns:
		return findingRow{text.Say("finding.cup-turns", "a cup turns in its bore when it is pushed by hand, and its back is polished"), true}
	case BearingsSound:
		return findingRow{text.Say("finding.bearings-sound", "a film of light oil; the bearings turn freely and smoothly"), false}
	case BearingsOiled:
		return findingRow{text.Say("finding.bearings-oiled", "a film of light oil"), false}
	case BearingsGreased:
		return findingRow{text.Say("finding.bearings-greased", "the rollers are packed in thick grease"), true}
	case RollersGritty:
		return findingRow{text.Say("finding.rollers-gritty", "the bearings grate as they turn: wash them and inspect them again"), true}
	case RaceDented:
		return findingRow{text.Say("finding.race-dented", "a race is dented: the bearing catches at one place as it turns"), true}
	case SpacerSolid:
		return findingRow{text.Say("finding.spacer-solid", "a solid spacer, ends square and clean: it is used again"), false}
	case SpacerNew:
		return findingRow{text.Say("finding.spacer-new", "bright, square and unmarked"), false}
	case SpacerCrushed:
		return findingRow{text.Say("finding.spacer-crushed", "the bulge is polished and flattened: this spacer has been crushed before"), true}
	case SpacerShort:
		return findingRow{text.Say("finding.spacer-short", "never crushed, but shorter than specified: a spacer for another axle"), true}
	case NutGrips:
		return findingRow{text.Say("finding.nut-grips", "the nut grips its thread from the first turn"), false}
	case NutSpins:
		return findingRow{text.Say("finding.nut-spins", "the nut spins down its thread by hand: it has been used before and no longer grips"), true}
	case ConesSeated:
		return findingRow{text.Say("finding.cones-seated", "no feeler gauge goes in behind either cone"), false}
	case ConeGap:
		return findingRow{text.Say("finding.cone-gap", "a feeler gauge goes in behind a side bearing cone"), true}
	case MarksMeet:
		return findingRow{text.Say("finding.marks-meet", "both match marks meet the housing's"), false}
	case CapsSwapped:
		return findingRow{text.Say("finding.caps-swapped", "the match marks do not meet: the caps have changed sides"), true}
	case CapReversed:
		return findingRow{text.Say("finding.cap-reversed", "the match marks do not meet: one cap is end for end"), true}
	case SideCupCracked:
		return findingRow{text.Say("finding.side-cup-cracked", "a crack runs across the race of a side bearing cup"), true}
	case AdjusterCrooked:
		return findingRow{text.Say("finding.adjuster-crooked", "a bearing adjuster stands crooked: its thread does not line up in carrier and cap"), true}
	case SealSound:
		return findingRow{text.Say("finding.seal-sound", "the lip is oiled and even all around"), false}
	case SealLipTurned:
		return findingRow{text.Say("finding.seal-lip-turned", "the lip is dry and turned under on one side"), true}
	case SeatClean:
		return findingRow{text.Say("finding.seat-clean", "the seat is bare metal all around"), false}
	case SeatDirty:
		return findingRow{text.Say("finding.seat-dirty", "something hard stands up from the depth shim seat"), true}
	case SlingerMissing:
		return findingRow{text.Say("finding.slinger-missing", "the oil slinger that belongs with the shim is missing"), true}
	case BoltsEven:
		return findingRow{text.Say("finding.bolts-even", "every ring gear bolt holds at its torque"), false}
	case BoltsUneven:
		return findingRow{text.Say("finding.bolts-uneven", "some ring gear bolts turn well below their torque, others do not move"), true}
	case BoltsBottomed:
		return findingRow{text.Say("finding.bolts-bottomed", "the bolts have bottomed in their holes: the gear moves by hand"), true}
	case NumbersMatch:
		return findingRow{text.Say("finding.numbers-match", "ring gear and pinion carry the same match number"), false}
	case NumbersDiffer:
		return findingRow{text.Say("finding.numbers-differ", "ring gear and pinion carry different match numbers"), true}
	case TagFits:
		return findingRow{text.Say("finding.tag-fits", "the ring gear's tag is for this case"), false}
	case TagOfOtherCase:
		return findingRow{text.Say("finding.tag-of-other-case", "the ring gear's tag is for the other case"), true}
	case ShaftsClear:
		return findingRow{text.Say("finding.shafts-clear", "axle shafts and brakes are clear of the gears"), false}
	case ShaftDrags:
		return findingRow{text.Say("finding.shaft-drags", "an axle shaft is in and its brake drags"), true}
	case StringOnRadius:
		return findingRow{text.Say("finding.string-on-radius", "the string lies on the radius used in the arithmetic"), false}
	case StringWasOff:
		return findingRow{text.Say("finding.string-was-off", "the string did not lie on the radius used in the arithmetic; now it does"), true}
	case GaugeAgrees:
		return findingRow{text.Say("finding.gauge-agrees", "the arbor lies in clean bores and the gauge agrees with its block"), false}
	case GaugeWasOff:
		return findingRow{text.Say("finding.gauge-was-off", "a chip lay in a bore under the arbor; it is out now and the gauge agrees with its block"), true}
	case IndicatorReturns:
		return findingRow{text.Say("finding.indicator-returns", "the needle comes back to the same mark every time"), false}
	case IndicatorWasLoose:
		return findingRow{text.Say("finding.indicator-was-loose", "the needle did not come back: a joint of the arm was loose; it is clamped now"), true}
	case GearFlat:
		return findingRow{text.Say("finding.gear-flat", "the ring gear lies flat on the plate"), false}
	case GearRocks:
		return findingRow{text.Say("finding.gear-rocks", "the ring gear rocks on the plate: it is warped"), true}
	case DropsIn:
		return findingRow{text.Say("finding.drops-in", "drops in loose"), false}
	case ByHand:
		return findingRow{text.Say("finding.by-hand", "pushes in by hand with some resistance"), false}
	case LightTaps:
		return findingRow{text.Say("finding.light-taps", "goes in with a light tap or two"), false}
	case FirmTaps:
		return findingRow{text.Say("finding.firm-taps", "goes in with firm taps of a soft hammer"), false}
	case HardBlows:
		return findingRow{text.Say("finding.hard-blows", "enters only under hard blows"), false}
	case NeedsSpreader:
		return findingRow{text.Say("finding.needs-spreader", "will not enter by hand: open the housing with the spreader"), true}
	case WillNotEnter:
		return findingRow{text.Say("finding.will-not-enter", "will not enter: the hammer only bounces, and force would spread the housing past its limit"), true}
	}
	return findingRow{}
}

// String is the finding's code in records and JSON.
func (f Finding) String() string { return strings.TrimPrefix(f.row().words.Code(), "finding.") }

// Message is the finding in words.
func (f Finding) Message() text.Message { return f.row().words }

// Wrong tells whether something is not as it should be, or the case did not go in.
func (f Finding) Wrong() bool { return f.row().wrong }

// MarshalText writes the code.
func (f Finding) MarshalText() ([]byte, error) { return []byte(f.String()), nil }
