package fault

import "shimwright/sim/history"

// A Quantity is something that a fault shifts by its size, and readings tell of.
type Quantity int

// The quantities. Their order is the one in which a reasoner takes them up.
const (
	Nothing         Quantity = iota
	InnerCupGap              // behind the inner pinion bearing cup
	OuterCupGap              // behind the outer one
	UnderShim                // dirt under the depth shim
	SlingerMissing           // thickness that the oil slinger should take up
	RingGearPlace            // how far the teeth stand from the pinion
	GaugeError               // the depth gauge's own
	ShimLot                  // depth shims above their marking
	SetUpHeight              // set-up bearing above the one that stays
	RingGearConeGap          // behind the ring-gear side bearing cone
	OppositeConeGap          // behind the opposite one
	SideTotal                // side shims at zero end play, both together
	WrenchGain               // the low-range torque wrench's, a share
	StringGain               // the string and scale's, a share
	SealDrag
	BrakeDrag        // at the ring gear
	IndicatorScatter // of every reading with the dial indicator
	GreaseDrag
)

// A Swing is a reading that a fault makes rise and fall round a turn.
type Swing int

// The swings.
const (
	BackFace      Swing = iota + 1 // of the ring gear, and the backlash with it
	BacklashAlone                  // the back face runs true
	PinionTurning                  // the pinion's rotating torque, within a turn
)

// A Belief is what may be believed of a fault by someone who only reads: what it moves, and
// what it makes swing.
type Belief struct {
	Moves     Quantity
	EitherWay bool // the shift goes one way or the other
	Apart     bool // rare, and so large that an axle is weighed as one with it or without
	Swings    Swing
	Feels     history.Feel // what turning the gears with it feels like
	// How far the ring gear, and the pinion, lie either way from one reading to the next, mm.
	WanderMM, PinionWanderMM float64
}
