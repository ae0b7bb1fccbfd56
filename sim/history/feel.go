package history

import (
	"strings"

	"shimwright/sim/text"
)

// A Feel is what anyone doing an act notices beside its readings.
type Feel int

// The feels.
const (
	NoFeel Feel = iota
	BearingsWashed
	BearingsGreased
	CupMoved
	CupsSolid
	BothConesMoved
	RingGearConeMoved
	OppositeConeMoved
	ConesSolid
	CapsWereSwapped
	CapWasReversed
	CapsWereRight
	CaseReplaced
	SeatWasDirty
	SeatWasClean
	SealReplaced
	SpacerReplaced
	SpacerReused
	SpacerScrapped
	BearingsReplaced
	SideBearingsReplaced
	GearsReplaced
	SlingerFitted
	SlingerWasThere
	CupOutAndIn
	CageShimChanged
	BuiltMockUp
	BuiltFinal
	BuiltFinalSolid
	PinionRocks
	PinionSmooth
	PinionBound
	WrenchNeverThere
	WrenchClickedFirst
	SpacerBottomed
	PlentyOfEndPlay
	TraceOfEndPlay
	NoEndPlay
	NotchOnceATurn
	GratesAsItTurns
	CaseTurnsRough
	SpreaderHolds
	SpreadTooFar
	SpreaderOff
	ShaftsDrawn
	NoShaftIn
	ChipBehindGear
	GearFacesClean
	BoltsCameLoose
	GearOffItsPilot
	BoltsWereLong
	CapsTorqued
	CapsLoosened
	CapsSnug
	CaseFast
	TwoWaves
	GearsBind
	GearsWillNotRoll
	AdjustersRunUp
	AdjustersAsLeft
	AdjusterStopped
	CaseSlides
	CaseClicks
	NoSidePlay
	AdjusterTightens
)

// Message is the feel in words.
func (f Feel) Message() text.Message {
	switch f {
	case BearingsWashed:
		return text.Say("feel.bearings-washed", "washed in clean solvent, drained, left to air-dry and oiled with light gear oil")
	case BearingsGreased:
		return text.Say("feel.bearings-greased", "both pinion bearings are packed with grease")
	case CupMoved:
		return text.Say("feel.cup-moved", "the sound of the hammer changes: a cup that was not seated has gone to its shoulder")
	case CupsSolid:
		return text.Say("feel.cups-solid", "both cups ring solid from the first blow: they were seated")
	case BothConesMoved:
		return text.Say("feel.both-cones-moved", "both cones moved under the press before they stopped solid")
	case RingGearConeMoved:
		return text.Say("feel.ring-gear-cone-moved", "the ring-gear-side cone moved under the press before it stopped solid")
	case OppositeConeMoved:
		return text.Say("feel.opposite-cone-moved", "the opposite-side cone moved under the press before it stopped solid")
	case ConesSolid:
		return text.Say("feel.cones-solid", "neither cone moves: both were seated")
	case CapsWereSwapped:
		return text.Say("feel.caps-were-swapped", "the caps had changed sides; now every match mark meets its own")
	case CapWasReversed:
		return text.Say("feel.cap-was-reversed", "one cap was end for end; now every match mark meets its own")
	case CapsWereRight:
		return text.Say("feel.caps-were-right", "both caps were on their own sides")
	case CaseReplaced:
		return text.Say("feel.case-replaced", "new case, side bearings pressed on and seated, ring gear bolted on clean and in stages")
	case SeatWasDirty:
		return text.Say("feel.seat-was-dirty", "a grain of dirt had been pressed into the seat; it is out, and the face is stoned and wiped")
	case SeatWasClean:
		return text.Say("feel.seat-was-clean", "seat and shim were clean")
	case SealReplaced:
		return text.Say("feel.seal-replaced", "new seal, lip oiled, ready for final assembly")
	case SpacerReplaced:
		return text.Say("feel.spacer-replaced", "a new spacer and nut are ready for final assembly")
	case SpacerReused:
		return text.Say("feel.spacer-reused", "spacer and preload shims are ready to be used again")
	case SpacerScrapped:
		return text.Say("feel.spacer-scrapped", "the spacer and nut of that assembly are scrap; a new pair is ready")
	case BearingsReplaced:
		return text.Say("feel.bearings-replaced", "new cones and cups, seated and oiled; their height is their own, so measure them and gauge the depth again")
	case SideBearingsReplaced:
		return text.Say("feel.side-bearings-replaced", "new side bearings: cones pressed against their shoulders, cups clean in their bores; they measure the same as the old ones")
	case GearsReplaced:
		return text.Say("feel.gears-replaced", "another matched ring gear and pinion, with the same depth mark here (a real set has its own); the ring gear is bolted on clean")
	case SlingerFitted:
		return text.Say("feel.slinger-fitted", "the oil slinger lies under the shim again")
	case SlingerWasThere:
		return text.Say("feel.slinger-was-there", "the oil slinger was there")
	case CupOutAndIn:
		return text.Say("feel.cup-out-and-in", "the inner cup is out and in again with this shim behind it")
	case CageShimChanged:
		return text.Say("feel.cage-shim-changed", "cage unbolted, shim changed, cage bolted up again; the pinion stayed in it as it was")
	case BuiltMockUp:
		return text.Say("feel.built-mock-up", "set-up bearing in, no spacer, no seal; the nut is snugged until the pinion turns with a little resistance, and the pinion has been turned")
	case BuiltFinal:
		return text.Say("feel.built-final", "spacer, seal, yoke and nut are in; the nut is finger tight and the pinion has end play")
	case BuiltFinalSolid:
		return text.Say("feel.built-final-solid", "spacer, preload shims, seal, yoke and nut are in; the nut is finger tight")
	case PinionRocks:
		return text.Say("feel.pinion-rocks", "the pinion turns freely and rocks: there is end play")
	case PinionSmooth:
		return text.Say("feel.pinion-smooth", "the pinion turns smoothly, without end play")
	case PinionBound:
		return text.Say("feel.pinion-bound", "the pinion hardly turns: the gears bind")
	case WrenchNeverThere:
		return text.Say("feel.wrench-never-there", "the nut went around and the wrench never reached its torque: the pull was stopped")
	case WrenchClickedFirst:
		return text.Say("feel.wrench-clicked-first", "the wrench clicked before the nut moved: it takes more than that to turn it now")
	case SpacerBottomed:
		return text.Say("feel.spacer-bottomed", "the pull turns hard all at once: the spacer has nothing left to give")
	case PlentyOfEndPlay:
		return text.Say("feel.plenty-of-end-play", "the yoke still pushes and pulls freely: plenty of end play")
	case TraceOfEndPlay:
		return text.Say("feel.trace-of-end-play", "the yoke still clicks when pushed and pulled: a trace of end play")
	case NoEndPlay:
		return text.Say("feel.no-end-play", "no end play can be felt at the yoke")
	case NotchOnceATurn:
		return text.Say("feel.notch-once-a-turn", "it goes tight and easy again within a turn of the pinion")
	case GratesAsItTurns:
		return text.Say("feel.grates-as-it-turns", "it grates and catches, now here and now there")
	case CaseTurnsRough:
		return text.Say("feel.case-turns-rough", "it turns heavy and rough, the same all the way around")
	case SpreaderHolds:
		return text.Say("feel.spreader-holds", "the spreader holds the housing open; it comes off when the case is in")
	case SpreadTooFar:
		return text.Say("feel.spread-too-far", "the indicator went past the specified limit: the housing will not come all the way back")
	case SpreaderOff:
		return text.Say("feel.spreader-off", "the spreader is off again")
	case ShaftsDrawn:
		return text.Say("feel.shafts-drawn", "the axle shafts come out and their brakes with them; nothing drags at the ring gear now")
	case NoShaftIn:
		return text.Say("feel.no-shaft-in", "no axle shaft and no brake was on the gears")
	case ChipBehindGear:
		return text.Say("feel.chip-behind-gear", "there was a chip between the ring gear and the case; both faces are stoned and wiped now")
	case GearFacesClean:
		return text.Say("feel.gear-faces-clean", "both faces were clean and free of burrs")
	case BoltsCameLoose:
		return text.Say("feel.bolts-came-loose", "some of the old bolts came loose far too easily; the new ones are tightened in stages")
	case GearOffItsPilot:
		return text.Say("feel.gear-off-its-pilot", "the gear had not been down on its pilot; now it is drawn on evenly")
	case BoltsWereLong:
		return text.Say("feel.bolts-were-long", "the old bolts were too long for their holes; the new ones clamp the gear")
	case CapsTorqued:
		return text.Say("feel.caps-torqued", "cap bolts at the specified torque")
	case CapsLoosened:
		return text.Say("feel.caps-loosened", "cap bolts snug again; the adjusters turn")
	case CapsSnug:
		return text.Say("feel.caps-snug", "the caps are on and their bolts run down snug, not torqued")
	case CaseFast:
		return text.Say("feel.case-fast", "the case does not move sideways")
	case TwoWaves:
		return text.Say("feel.two-waves", "the needle rises and falls twice in one turn of the gear")
	case GearsBind:
		return text.Say("feel.gears-bind", "at some place there is no backlash at all: the gears bind")
	case GearsWillNotRoll:
		return text.Say("feel.gears-will-not-roll", "the gears bind: they will not roll through, and there is no contact pattern to read")
	case AdjustersRunUp:
		return text.Say("feel.adjusters-run-up", "the adjusters are run up by hand until they touch; notches are counted from here")
	case AdjustersAsLeft:
		return text.Say("feel.adjusters-as-left", "the adjusters stand where they were left; notches are still counted from where they were first run up")
	case AdjusterStopped:
		return text.Say("feel.adjuster-stopped", "the adjuster stopped hard: more would spread the housing past its limit")
	case CaseSlides:
		return text.Say("feel.case-slides", "the case still slides sideways freely")
	case CaseClicks:
		return text.Say("feel.case-clicks", "the case still clicks sideways: a trace of end play")
	case NoSidePlay:
		return text.Say("feel.no-side-play", "no side play can be felt")
	case AdjusterTightens:
		return text.Say("feel.adjuster-tightens", "no side play can be felt; the adjuster turns against the bearings")
	}
	return text.Message{}
}

// String is the feel's code in JSON.
func (f Feel) String() string { return strings.TrimPrefix(f.Message().Code(), "feel.") }

// MarshalText writes the code.
func (f Feel) MarshalText() ([]byte, error) { return []byte(f.String()), nil }
