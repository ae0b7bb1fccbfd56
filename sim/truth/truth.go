// Package truth holds what an axle on the practice bench really is, and what
// became of it, sealed so that only code that says it wants the answer can read it.
//
// A Sealed value can be passed through any package; Open is the one way in. The
// bench opens it to compute readings, the generator to build it, and the reveal at
// the end of a job to tell. Nothing a trainee uses imports this package; a test of
// the import graph holds that line. Lengths are millimetres, forces newtons,
// torques newton millimetres, angles radians unless a name says otherwise.
package truth

import (
	"slices"

	"shimwright/sim/mesh"
)

// A FaultID names a fault; package fault has the IDs.
type FaultID string

// An Axle is the hidden state a job starts from.
type Axle struct {
	Family string

	// Gear set: this set's own ease-off and where the housing puts the axes.
	Drive, Coast       mesh.EaseOff
	OffsetErrMM        float64
	ShaftErrRad        float64
	DesignLashMM       float64      // backlash with both members at their design place
	NextDrive          mesh.EaseOff // of the set that a replacement would bring
	NextCoast          mesh.EaseOff
	NextMarkMM         float64 // how much thicker that one's right depth shim is, though its mark is the same
	MixedShare         float64 // ring and pinion of two sets: how far apart they print on drive and coast, share of the tooth
	CheckingDistanceMM float64 // pinion head to ring axis where this pinion belongs
	IdealShimMM        float64 // depth shim that puts the pinion there at finished preload, everything home
	SetUpTallMM        float64 // how much taller the set-up bearing stands than the one that stays
	DepthLotMM         float64 // what depth shims measure above their marking
	InnerCupGapMM      float64
	OuterCupGapMM      float64
	InnerCupHoldN      float64
	OuterCupHoldN      float64
	RingGearZeroMM     float64 // back shim at line-to-line with the ring gear at its design place
	OppositeZeroMM     float64 // tooth-side shim at line-to-line there
	RingGearConeGapMM  float64 // back side-bearing cone stands off the case
	OppositeConeGapMM  float64 // tooth-side cone does
	RingPlayMM         float64 // threaded rings run up by hand: the end play they leave
	RingAwayMM         float64 // and how far from its place the ring gear then stands, away from the pinion

	ShimDirtMM      float64 // dirt under the depth shim, or a wrinkle in its pack
	SlingerOutMM    float64 // the oil slinger that lies with the shim is missing, and was so thick
	GaugeOffMM      float64 // the depth gauge's arbor stands off its bores, away from the pinion
	HousingGrowthMM float64 // the housing has been spread too far and stays wider by this

	RingGearPedestalNPerMM, OppositePedestalNPerMM float64
	HouseNPerMM, NutNPerMM                         float64

	EndPlayAtContactMM    float64 // collapsible spacer: with a new one just touched, cups home
	ZeroPlayPreloadShimMM float64 // solid spacer: pack for neither preload nor end play, with the right depth shim
	SolidNPerMM           float64
	ThreadFriction        float64
	FaceFriction          float64
	PrevailingNmm         float64
	NutGripGone           bool     // the nut has been used before and no longer grips
	Spacers               []Spacer // in the order they will be fitted; the last repeats

	BoundaryFriction float64
	BreakawayFactor  float64
	SealDragNmm      float64
	NewSealDragNmm   float64
	PackedInGrease   bool
	GritNmm          float64 // swing of the torque from grit in the pinion bearings
	NotchNmm         float64 // worn or brinelled rollers: swing of the torque within a turn
	NextTallerMM     float64 // the next head bearing stands taller than the present one by this
	BrakeNmm         float64 // drag at the ring gear from shafts and brakes left on

	GearDirtTIRMM   float64 // back-face runout from dirt under the ring gear
	FlangeTIRMM     float64 // from the case flange
	GearTIRMM       float64 // the gear's own
	GearLooseMM     float64 // ring gear not clamped to its case: how far it lies either way
	BoltsTIRMM      float64 // from ring gear bolts of uneven torque
	WarpTIRMM       float64 // ring gear warped, WarpWaves waves a turn
	WarpWaves       int
	RadialTIRMM     float64 // ring gear off centre on its register: swing of its rim
	RadialPhaseRad  float64
	PinionTIRMM     float64 // pinion stem bent: swing of its head
	PinionPhaseRad  float64
	GearShortMM     float64 // ring gear made for another case: its teeth stand away from the pinion by this
	DirtPhaseRad    float64
	BoltsPhaseRad   float64
	WarpPhaseRad    float64
	FlangePhaseRad  float64
	GearPhaseRad    float64
	Effects         []Effect // of faults that have no quantity of their own here
	WrenchGain      float64  // low-range wrench: reads true x (1 + gain)
	StringGain      float64  // cord over a wrong radius: reads true x (1 + gain)
	IndicatorLoose  bool
	Faults          []Fault
	Mistake         string // what the hand before did wrong, by its id; "" nothing, or no hand before
	UsedBearings    bool
	UsedGears       bool
	OldBuildErrorMM float64 // how far the old depth shim was from right for the old set
}

// Carries tells whether the axle was given a fault state.
func (a Axle) Carries(id FaultID) bool {
	return slices.ContainsFunc(a.Faults, func(f Fault) bool { return f.ID == id })
}

// An Effect is what a fault adds to what an axle does: the way in for faults that change no
// quantity of their own.
type Effect struct {
	Of FaultID
	// At the case: torque that makes it turn heavy and rough, the same all around, N·mm; and
	// how far the ring gear lies, either way, from one reading to the next.
	CaseNmm, CaseWanderMM float64
	// At the pinion: torque that rises and falls within a turn, N·mm; and how far it stands,
	// either way, from one reading to the next.
	PinionSwingNmm, PinionWanderMM float64
}

// Put adds an effect, in place of any that the fault has.
func (a *Axle) Put(e Effect) {
	a.Drop(e.Of)
	a.Effects = append(a.Effects, e)
}

// Drop takes the effect of a fault away.
func (a *Axle) Drop(of FaultID) {
	a.Effects = slices.DeleteFunc(slices.Clone(a.Effects), func(e Effect) bool { return e.Of == of })
}

// Has tells whether a fault has its effect.
func (a *Axle) Has(of FaultID) bool {
	return slices.ContainsFunc(a.Effects, func(e Effect) bool { return e.Of == of })
}

// Sum returns all effects together.
func (a *Axle) Sum() Effect {
	var sum Effect
	for _, e := range a.Effects {
		sum.CaseNmm += e.CaseNmm
		sum.CaseWanderMM += e.CaseWanderMM
		sum.PinionSwingNmm += e.PinionSwingNmm
		sum.PinionWanderMM += e.PinionWanderMM
	}
	return sum
}

// A Spacer is one collapsible spacer as it will behave.
type Spacer struct {
	StiffnessNPerMM, YieldN, PeakN, PeakDecayMM, HardeningNPerMM, UsableCrushMM float64
	AlreadyCrushedMM                                                            float64 // shorter than a new one by this
	ShorterMM                                                                   float64 // made shorter than it should be by this, and never crushed
}

// A Fault is a fault state this axle carries, with its size in the unit its
// catalogue entry names.
type Fault struct {
	ID   FaultID
	Size float64
}

// A Finish is the true state of an axle when it was signed off, or as far as it got.
type Finish struct {
	Goal             string // how far the axle had to be, see history.Goal
	SignedOff        bool
	DepthShimFitted  bool    // one is in hand, or in
	PinionFitted     bool    // final build in
	NutNmm           float64 // what it takes to turn the nut further
	CaseFitted       bool
	CapsTight        bool
	DepthErrorMM     float64 // pinion away from its place: + = too far out
	RingAwayMM       float64 // ring gear from its design place, mean of a turn and middle of any play: + = away
	BacklashMeanMM   float64
	BacklashMinMM    float64
	BacklashSpreadMM float64
	RunoutTIRMM      float64
	PatternDrive     float64 // height of the contact pattern's center on each side, 0 root to 1 tip; 0 where the gears will not roll
	PatternCoast     float64
	PinionTorqueNmm  float64 // running, seal included, clean oil, rollers seated
	SealNmm          float64
	TotalTorqueNmm   float64
	SidePreloadN     float64
	SideFitMM        float64 // interference; negative is end play
	PinionPreloadN   float64
	PinionEndPlayMM  float64
	ClampN           float64 // stem force holding the pinion stack
	SpacerN          float64
	BackedOff        bool // the final nut was backed off and left
	Greased          bool
	Remaining        []FaultID // fault states still in the axle
}

// A Sealed is a hidden state in its envelope.
type Sealed struct {
	axle   Axle
	finish Finish
}

// Seal puts a hidden state, and how the work on it ended, in an envelope.
func Seal(a Axle, f Finish) Sealed { return Sealed{a, f} }

// Open takes both out again.
func Open(s Sealed) (Axle, Finish) { return s.axle, s.finish }
