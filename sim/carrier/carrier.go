package carrier

import (
	"math"

	"shimwright/sim/bearing"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Params is the case, its bearings and the housing they sit in. Back is the
// bearing behind the ring gear, Tooth the one on the other side; each pedestal is
// the housing under one of them. CapsTight tells that the cap bolts are torqued.
type Params struct {
	Back, Tooth                                    bearing.Tapered
	RingGearPedestalNPerMM, OppositePedestalNPerMM float64
	CapsTight                                      bool
}

// looseCaps is the share of a pedestal's stiffness left with its cap bolts not
// torqued. An engineering choice.
const looseCaps = 0.6

// pedestals returns the stiffness of back and tooth side as bolted, N/mm.
func (p Params) pedestals() (back, tooth float64) {
	if p.CapsTight {
		return p.RingGearPedestalNPerMM, p.OppositePedestalNPerMM
	}
	return looseCaps * p.RingGearPedestalNPerMM, looseCaps * p.OppositePedestalNPerMM
}

// Validate says in plain words what is wrong with the parameters, or returns nil.
func (p Params) Validate() error {
	for _, side := range []struct {
		bearing, pedestal text.Message
		b                 bearing.Tapered
		k                 float64
	}{
		{text.Say("carrier.ring-gear-bearing", "side bearing on the ring-gear side"), text.Say("carrier.ring-gear-pedestal", "bearing pedestal on the ring-gear side"), p.Back, p.RingGearPedestalNPerMM},
		{text.Say("carrier.opposite-bearing", "side bearing on the opposite side"), text.Say("carrier.opposite-pedestal", "bearing pedestal on the opposite side"), p.Tooth, p.OppositePedestalNPerMM},
	} {
		if err := side.b.Validate(); err != nil {
			return text.Fail(err, text.Say("carrier.part", "{part}: {why}", text.Of("part", side.bearing), text.Of("why", text.Reason(err))))
		}
		if !(side.k >= 1e3 && side.k <= 1e8) {
			return text.Fail(nil, text.Say("carrier.stiffness", "the stiffness of the {part} is {x} N/mm: it must be between 1000 and 100,000,000", text.Of("part", side.pedestal), text.Rounded("x", side.k)))
		}
	}
	return nil
}

// A State is where the case rests. ForceN is the side preload and EndPlayMM the
// side movement; at most one is above zero. SpreadMM is how much farther apart the
// two bearing seats are pushed. ShiftToPinionMM is how far the case stands towards
// the pinion from where zero interference on both sides would hold it.
type State struct {
	ForceN, EndPlayMM, SpreadMM, ShiftToPinionMM float64
}

// mostInterferenceMM is the greatest interference on one side that is accepted; a
// real housing is damaged long before.
const mostInterferenceMM = 5

// Solve returns the state for the interference (mm) of the shims behind the ring
// gear and on the other side. A negative interference on one side is a thinner
// pack there; only the sum decides the force, so moving shim across at a constant
// total leaves the force unchanged [3].
//
// If the sum is zero or less there is end play: the force and the spread are zero
// and ShiftToPinionMM is backInterferenceMM, the place of the case when it is
// pushed back, away from the pinion, against the shims behind the ring gear. From
// there it is free to move EndPlayMM towards the pinion.
//
// Errors: those of Validate, and an interference beyond ±5 mm.
func Solve(p Params, ringGearInterferenceMM, oppositeInterferenceMM float64) (State, error) {
	if err := p.Validate(); err != nil {
		return State{}, err
	}
	for _, side := range []struct {
		shim text.Message
		mm   float64
	}{
		{text.Say("carrier.ring-gear-shim", "ring-gear side shim"), ringGearInterferenceMM},
		{text.Say("carrier.opposite-shim", "opposite side shim"), oppositeInterferenceMM},
	} {
		if !(math.Abs(side.mm) <= mostInterferenceMM) {
			size := func(name string, mm float64) text.Arg {
				return text.BothLength(name, quantity.Millimetres(mm))
			}
			return State{}, text.Fail(nil, text.Say("carrier.preload", "the preload of the {shim} is {x}: it must be between {low} and {high}", text.Of("shim", side.shim), size("x", side.mm), size("low", -mostInterferenceMM), size("high", mostInterferenceMM)))
		}
	}
	sum := ringGearInterferenceMM + oppositeInterferenceMM
	if sum <= 0 {
		return State{EndPlayMM: -sum, ShiftToPinionMM: ringGearInterferenceMM}, nil
	}
	back, tooth := p.pedestals()
	force := bearing.InSeries(p.Back, p.Tooth).With(back).With(tooth).ForceN(sum)
	return State{
		ForceN:          force,
		SpreadMM:        force/back + force/tooth,
		ShiftToPinionMM: ringGearInterferenceMM - p.Back.DeflectionMM(force) - force/back,
	}, nil
}

// TorqueNmm returns the torque (N·mm) at the case that keeps both side bearings
// turning under a force (N). Film.SpeedRPM is the case's speed, not the pinion's.
func (p Params) TorqueNmm(forceN float64, f bearing.Film) float64 {
	return p.Back.RunningTorqueNmm(forceN, f) + p.Tooth.RunningTorqueNmm(forceN, f)
}

// AtPinionNmm returns what a torque at the case (N·mm) adds to the torque at the
// pinion: M/(i η), for an axle ratio i (ring teeth over pinion teeth, above 1) and a
// mesh efficiency η (0 to 1). The ratio divides: the pinion turns i times for one
// turn of the case.
func AtPinionNmm(carrierNmm, ratio, efficiency float64) float64 {
	return carrierNmm / (ratio * efficiency)
}

// Drag of the tooth mesh at the pinion; engineering choices, no source.
const (
	lbInNmm       = 112.9848290276167
	meshDragNmm   = 1.0 * lbInNmm
	tightMeshMM   = 0.0254                      // 0.001 in
	tightMeshRise = 5.0 * lbInNmm / tightMeshMM // N·mm per mm of backlash missing
)

// MeshDragNmm returns the torque (N·mm) at the pinion that turning the meshed teeth
// takes, for a backlash in mm at the tightest tooth: 1 lb-in in a free mesh, and
// 5 lb-in more for each 0.001 in by which the backlash falls short of 0.001 in. A
// backlash below zero is teeth forced together and keeps rising. Continuous. The
// constants are engineering choices with no source.
func MeshDragNmm(backlashMM float64) float64 {
	if !(backlashMM < tightMeshMM) {
		return meshDragNmm
	}
	return meshDragNmm + tightMeshRise*(tightMeshMM-backlashMM)
}
