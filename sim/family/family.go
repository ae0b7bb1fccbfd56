package family

import (
	"math"
	"shimwright/sim/bearing"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// A Spec is a specification of a length, in millimetres.
type Spec struct{ LowMM, HighMM float64 }

// Mid returns the middle of the spec in millimetres.
func (w Spec) Mid() float64 { return (w.LowMM + w.HighMM) / 2 }

// Half returns half the spec's width in millimetres.
func (w Spec) Half() float64 { return (w.HighMM - w.LowMM) / 2 }

// Holds reports whether a length in millimetres lies in the spec.
func (w Spec) Holds(mm float64) bool { return mm >= w.LowMM && mm <= w.HighMM }

// A TorqueSpec is a specification of a torque, in newton millimetres.
type TorqueSpec struct{ LowNmm, HighNmm float64 }

// Mid returns the middle of the spec in newton millimetres.
func (w TorqueSpec) Mid() float64 { return (w.LowNmm + w.HighNmm) / 2 }

// Half returns half the spec's width in newton millimetres.
func (w TorqueSpec) Half() float64 { return (w.HighNmm - w.LowNmm) / 2 }

// Holds reports whether a torque in newton millimetres lies in the spec.
func (w TorqueSpec) Holds(nmm float64) bool { return nmm >= w.LowNmm && nmm <= w.HighNmm }

// Plus returns the spec moved up by what another spans: low to low, high
// to high.
func (w TorqueSpec) Plus(o TorqueSpec) TorqueSpec {
	return TorqueSpec{w.LowNmm + o.LowNmm, w.HighNmm + o.HighNmm}
}

// A Stock is a row of shims in stock, in millimetres.
type Stock struct{ LowMM, HighMM, StepMM float64 }

// Nearest returns the stocked thickness nearest to the wanted one, kept inside the
// row, in millimetres.
func (s Stock) Nearest(wantedMM float64) float64 {
	mm, _ := setup.NearestStepMM(wantedMM, s.LowMM, s.HighMM, s.StepMM)
	return mm
}

// Sizes returns every stocked thickness, thinnest first, in millimetres. A row that makes no
// sense (a step not above zero, an end below the start, more sizes than any shelf) has none.
func (s Stock) Sizes() []float64 {
	const most = 100_000
	n := math.Floor((s.HighMM-s.LowMM)/s.StepMM + 1e-3)
	if !(s.StepMM > 0 && n >= 0 && n < most) {
		return nil
	}
	out := make([]float64, int(n)+1)
	for i := range out {
		out[i] = s.LowMM + float64(i)*s.StepMM
	}
	return out
}

// A Sheet is the specification sheet of an axle.
type Sheet struct {
	RingTeeth, PinionTeeth int
	CheckingDistanceMM     float64 // pinion face to ring gear centerline, mark 0
	DepthToleranceMM       float64 // how far off it may be, either way
	PatternHeight          Spec    // where the center of the pattern may be up the profile, 0 root .. 1 tip (a share, not mm)
	Marks                  setup.MarkConvention
	DepthShims             Stock
	SideShims              Stock
	Backlash               Spec
	BacklashSpreadMM       float64 // most variation around the gear
	RunoutMM               float64 // ring gear back face, total reading
	CaseFlangeRunoutMM     float64 // bare case flange
	PinionTorqueNew        TorqueSpec
	PinionTorqueUsed       TorqueSpec
	SealDrag               TorqueSpec // add when the seal is in
	SideRiseNew            TorqueSpec // total minus pinion, at the pinion
	SideRiseUsed           TorqueSpec
	SidePreload            Spec // both side shims together, over zero end play
	SpreadLimitMM          float64
	NutLow, NutHigh        quantity.Torque
	CapTorque              quantity.Torque
	SpacerLengthMM         float64 // collapsible spacer, free; 0 with a solid one
}

// Ratio returns ring teeth over pinion teeth.
func (s Sheet) Ratio() float64 { return float64(s.RingTeeth) / float64(s.PinionTeeth) }

// NutMid returns the middle of the nut's torque spec.
func (s Sheet) NutMid() quantity.Torque { return (s.NutLow + s.NutHigh) / 2 }

// PinionTorque returns the rotating torque spec without seal, new or used bearings.
func (s Sheet) PinionTorque(used bool) TorqueSpec {
	if used {
		return s.PinionTorqueUsed
	}
	return s.PinionTorqueNew
}

// SideRise returns the spec for total less pinion rotating torque.
func (s Sheet) SideRise(used bool) TorqueSpec {
	if used {
		return s.SideRiseUsed
	}
	return s.SideRiseNew
}

// A Range is the spread a parameter is drawn from, evenly.
type Range struct{ Low, High float64 }

// A Model holds the nominal physics of the family and the spreads of one axle of it.
type Model struct {
	Gears              mesh.SetData
	EaseOff            mesh.EaseOff // nominal, both flanks
	Inner, Outer, Side bearing.Tapered
	Film               bearing.Film // boundary friction filled in per axle
	UsedFriction       Range
	NewFriction        Range
	Breakaway          Range
	ThreadPitchMM      float64
	ThreadDiameterMM   float64
	FaceDiameterMM     float64
	ThreadFriction     Range
	PrevailingLbFt     Range
	HouseNPerMM        Range
	NutNPerMM          Range
	PedestalNPerMM     Range
	SpacerNPerMM       Range
	SpacerYieldN       Range
	SpacerPeakPart     Range
	SpacerPeakDecayMM  Range
	SpacerHardening    Range
	SpacerUsableMM     float64
	EndPlayAtContactMM Range
	CupHoldN           Range
	SealNmm            Range
	MeshEfficiency     float64
	UnseatedRollersMM  float64
}

// A Family is one axle family.
type Family struct {
	Code, Name, Use string
	Notes           string // what a person should know of the description itself, or ""
	Invented        string // the notice in the family's own file
	Design          Design
	Sheet           Sheet
	Model           Model
}

// Notice is shown wherever a specification sheet is.
func Notice() text.Message {
	return text.Say("family.notice", "This axle is invented for practice. No figure here belongs to a real axle: on the job, the maker's manual, local codes and licensed practice decide.")
}

// Thread returns the nut and stem thread at the given friction and prevailing torque.
func (m Model) Thread(threadFriction, faceFriction, prevailingNmm float64) pinion.Thread {
	return pinion.Thread{PitchMM: m.ThreadPitchMM, PitchDiameterMM: m.ThreadDiameterMM, FaceDiameterMM: m.FaceDiameterMM,
		ThreadFriction: threadFriction, FaceFriction: faceFriction, PrevailingNmm: prevailingNmm}
}
