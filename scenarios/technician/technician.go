package technician

import (
	"cmp"
	"math"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// A Bench is what the technician works at.
type Bench interface {
	Do(act.Act) (history.Step, error)
	Status() history.Status
}

// Known is what the job card tells about the axle.
type Known struct {
	Sheet                            family.Sheet
	Design                           family.Design
	From, To                         Stage // where the job begins and where it ends
	SignedBefore                     bool  // a previous technician has signed for it
	UsedBearings, UsedGears          bool
	RingDiameter                     quantity.Length
	OldDepthShim                     quantity.Length
	OldMark, NewMark                 quantity.Length
	OldPreloadShims                  quantity.Length // solid spacer
	OldRingGearShim, OldOppositeShim quantity.Length // no bearing adjusters
	Off                              []sim.LeftOff   // what the bench does without
	NewBacklash                      family.Spec     // what the sheet has, or had, for a new set

	// What moves which reading on this family, 0 where only the usual figure is known.
	BacklashPerTravel float64 // share of the ring gear's travel that shows as backlash
	BacklashPerPinion float64 // share of the pinion's travel that shows as backlash
	PatternPerMM      float64 // climb of the pattern for a pinion 1 mm farther out, share of the tooth
}

// The usual figures, where a family's own are not known.
const (
	// A manual moves the gear 0.010 in for 0.005 to 0.008 in (TM 9-2320-289-34, table 6-1).
	UsualPerTravel = 0.7
	usualPerPinion = 0.35 // estimate of this model
	// A larger tooth is climbed more slowly: what the tooth model gives, mean of both sides.
	usualClimb, climbAtMM = 0.56, 216.0
)

// PerTravel is the share of the ring gear's travel that shows as backlash.
func (k Known) PerTravel() float64 { return cmp.Or(k.BacklashPerTravel, UsualPerTravel) }

// PerPinion is the share of the pinion's travel that shows as backlash.
func (k Known) PerPinion() float64 { return cmp.Or(k.BacklashPerPinion, usualPerPinion) }

// PatternClimb is how far the pattern climbs the tooth for a pinion 1 mm farther out, as a
// share of its height, mean of both sides.
func (k Known) PatternClimb() float64 {
	return cmp.Or(k.PatternPerMM, usualClimb*climbAtMM/k.RingDiameter.MM())
}

// StarterShim returns the depth shim that the old shim and the two marks lead to;
// without marks, the old shim.
func (k Known) StarterShim() quantity.Length {
	if !k.Sheet.Marks.Known() {
		return k.OldDepthShim
	}
	return quantity.Millimetres(setup.DepthShimMM(k.Sheet.Marks, k.OldDepthShim.MM(), k.OldMark.MM(), k.NewMark.MM()))
}

// StarterPreloadShims returns the preload shims that go with a depth shim: the old ones, which
// a shim behind the inner cup takes along.
func (k Known) StarterPreloadShims(depthShim quantity.Length) quantity.Length {
	if k.Design.DepthShim != family.BehindInnerCup {
		return k.OldPreloadShims
	}
	return k.OldPreloadShims + depthShim - k.OldDepthShim
}

// WantedDistance returns the checking distance the gauge should show for the new pinion.
func (k Known) WantedDistance() quantity.Length {
	return quantity.Millimetres(k.Sheet.CheckingDistanceMM + k.Sheet.Marks.OutForMarkMM(k.NewMark.MM()))
}

// PinionTorqueSpec returns the specified pinion rotating torque with the seal in: the sheet's
// moved up by the middle of the seal's.
func (k Known) PinionTorqueSpec() family.TorqueSpec {
	w, seal := k.Sheet.PinionTorque(k.UsedBearings), k.Sheet.SealDrag.Mid()
	return family.TorqueSpec{LowNmm: w.LowNmm + seal, HighNmm: w.HighNmm + seal}
}

// Habits are the ways technicians differ.
type Habits struct {
	SignsTurned   bool // every plus taken for a minus
	NeverMeasures bool // old shims and a nut torque, then sign off
	WrongMoveOnce bool // the first backlash correction goes the wrong way
	PatternLast   bool // no contact pattern in a mock-up
	SidesFirst    bool // zero end play of the side bearings is found with the pinion still out
	Strips        bool // an axle that a previous technician has signed for, whatever it reads
	Say           func(why text.Message)
}

// Competent returns the habits of the reference technician.
func Competent() Habits { return Habits{} }

// OtherUnit is what a depth mark grows by when it is read in the other unit: marks are in
// hundredths of a millimeter or in thousandths of an inch, as the depth shims are.
func (k Known) OtherUnit() float64 {
	const mmPerHundredth, near = 2.54, 0.1
	if thou := k.Sheet.DepthShims.StepMM / quantity.Thou(1).MM(); math.Abs(thou-1) < near {
		return 1 / mmPerHundredth
	}
	return mmPerHundredth
}
