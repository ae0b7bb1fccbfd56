package family

import (
	"shimwright/sim/bearing"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// A Window is an accepted range of lengths, in millimetres.
type Spec struct{ LowMM, HighMM float64 }

// Mid returns the middle of the window in millimetres.
func (w Spec) Mid() float64 { return (w.LowMM + w.HighMM) / 2 }

// Half returns half the window's width in millimetres.
func (w Spec) Half() float64 { return (w.HighMM - w.LowMM) / 2 }

// Holds reports whether a length in millimetres lies in the window.
func (w Spec) Holds(mm float64) bool { return mm >= w.LowMM && mm <= w.HighMM }

// A TorqueWindow is an accepted range of torques, in newton millimetres.
type TorqueSpec struct{ LowNmm, HighNmm float64 }

// Mid returns the middle of the window in newton millimetres.
func (w TorqueSpec) Mid() float64 { return (w.LowNmm + w.HighNmm) / 2 }

// Half returns half the window's width in newton millimetres.
func (w TorqueSpec) Half() float64 { return (w.HighNmm - w.LowNmm) / 2 }

// Holds reports whether a torque in newton millimetres lies in the window.
func (w TorqueSpec) Holds(nmm float64) bool { return nmm >= w.LowNmm && nmm <= w.HighNmm }

// Plus returns the window moved up by what another window spans: low to low, high
// to high.
func (w TorqueSpec) Plus(o TorqueSpec) TorqueSpec {
	return TorqueSpec{w.LowNmm + o.LowNmm, w.HighNmm + o.HighNmm}
}

// A Stock is a row of shims on the shelf, in millimetres.
type Stock struct{ LowMM, HighMM, StepMM float64 }

// Nearest returns the stocked thickness nearest to the wanted one, kept inside the
// row, in millimetres.
func (s Stock) Nearest(wantedMM float64) float64 {
	mm, _ := setup.NearestStepMM(wantedMM, s.LowMM, s.HighMM, s.StepMM)
	return mm
}

// Sizes returns every stocked thickness, thinnest first, in millimetres.
func (s Stock) Sizes() []float64 {
	var out []float64
	for i := 0; ; i++ {
		mm := s.LowMM + float64(i)*s.StepMM
		if mm > s.HighMM+s.StepMM/1000 {
			return out
		}
		out = append(out, mm)
	}
}

// A Sheet is what the shop's axle sheet says.
type Sheet struct {
	RingTeeth, PinionTeeth int
	CheckingDistanceMM     float64 // pinion head to ring gear axis with a zero mark
	DepthToleranceMM       float64 // how far from it the pinion may stand, either way
	PatternHeight          Spec    // where the print's centre may lie, 0 root .. 1 top (a share, not mm)
	Marks                  setup.MarkConvention
	DepthShims             Stock
	SideShims              Stock
	Backlash               Spec
	BacklashSpreadMM       float64 // most allowed between places
	RunoutMM               float64 // ring gear back face, total reading
	CaseFlangeRunoutMM     float64 // bare case flange
	PinionTorqueNew        TorqueSpec
	PinionTorqueUsed       TorqueSpec
	SealDrag               TorqueSpec // add when the seal is in
	SideRiseNew            TorqueSpec // total minus pinion, at the pinion
	SideRiseUsed           TorqueSpec
	SidePreload            Spec // total side-shim interference over zero end play
	SpreadLimitMM          float64
	NutLow, NutHigh        quantity.Torque
	CapTorque              quantity.Torque
	SpacerLengthMM         float64 // collapsible spacer, free; 0 with a solid one
}

// Ratio returns ring teeth over pinion teeth.
func (s Sheet) Ratio() float64 { return float64(s.RingTeeth) / float64(s.PinionTeeth) }

// NutMid returns the middle of the nut's torque window.
func (s Sheet) NutMid() quantity.Torque { return (s.NutLow + s.NutHigh) / 2 }

// PinionDrag returns the drag window without seal for new or used bearings.
func (s Sheet) PinionTorque(used bool) TorqueSpec {
	if used {
		return s.PinionTorqueUsed
	}
	return s.PinionTorqueNew
}

// SideRise returns the window for the rise of total over pinion drag.
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

// Notice is shown wherever a sheet is.
const Notice = "Invented axle for practice. No figure here belongs to a real axle: on the job, the maker's manual, local rules and a qualified person decide."

// Thread returns the nut and stem thread at the given friction and prevailing torque.
func (m Model) Thread(threadFriction, faceFriction, prevailingNmm float64) pinion.Thread {
	return pinion.Thread{PitchMM: m.ThreadPitchMM, PitchDiameterMM: m.ThreadDiameterMM, FaceDiameterMM: m.FaceDiameterMM,
		ThreadFriction: threadFriction, FaceFriction: faceFriction, PrevailingNmm: prevailingNmm}
}
