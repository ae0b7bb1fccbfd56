package family

import (
	"fmt"
	"strings"

	"shimwright/sim/bearing"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// A Window is an accepted range of lengths, in millimetres.
type Window struct{ LowMM, HighMM float64 }

// Mid returns the middle of the window in millimetres.
func (w Window) Mid() float64 { return (w.LowMM + w.HighMM) / 2 }

// Half returns half the window's width in millimetres.
func (w Window) Half() float64 { return (w.HighMM - w.LowMM) / 2 }

// Holds reports whether a length in millimetres lies in the window.
func (w Window) Holds(mm float64) bool { return mm >= w.LowMM && mm <= w.HighMM }

// A TorqueWindow is an accepted range of torques, in newton millimetres.
type TorqueWindow struct{ LowNmm, HighNmm float64 }

// Mid returns the middle of the window in newton millimetres.
func (w TorqueWindow) Mid() float64 { return (w.LowNmm + w.HighNmm) / 2 }

// Half returns half the window's width in newton millimetres.
func (w TorqueWindow) Half() float64 { return (w.HighNmm - w.LowNmm) / 2 }

// Holds reports whether a torque in newton millimetres lies in the window.
func (w TorqueWindow) Holds(nmm float64) bool { return nmm >= w.LowNmm && nmm <= w.HighNmm }

// Plus returns the window moved up by what another window spans: low to low, high
// to high.
func (w TorqueWindow) Plus(o TorqueWindow) TorqueWindow {
	return TorqueWindow{w.LowNmm + o.LowNmm, w.HighNmm + o.HighNmm}
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
	HeadHeightMM           float64 // pinion head to ring gear axis with a zero mark
	DepthToleranceMM       float64 // how far from it the pinion may stand, either way
	PrintHeight            Window  // where the print's centre may lie, 0 root .. 1 top (a share, not mm)
	Marks                  setup.MarkConvention
	DepthShims             Stock
	SideShims              Stock
	Backlash               Window
	BacklashSpreadMM       float64 // most allowed between places
	RunoutMM               float64 // ring gear back face, total reading
	FlangeRunoutMM         float64 // bare case flange
	PinionDragNew          TorqueWindow
	PinionDragUsed         TorqueWindow
	SealDrag               TorqueWindow // add when the seal is in
	SideRiseNew            TorqueWindow // total minus pinion, at the pinion
	SideRiseUsed           TorqueWindow
	SidePreload            Window // total side-shim interference over zero end play
	SpreadLimitMM          float64
	NutLow, NutHigh        quantity.Torque
	CapTorque              quantity.Torque
	SpacerLengthMM         float64
}

// Ratio returns ring teeth over pinion teeth.
func (s Sheet) Ratio() float64 { return float64(s.RingTeeth) / float64(s.PinionTeeth) }

// PinionDrag returns the drag window without seal for new or used bearings.
func (s Sheet) PinionDrag(used bool) TorqueWindow {
	if used {
		return s.PinionDragUsed
	}
	return s.PinionDragNew
}

// SideRise returns the window for the rise of total over pinion drag.
func (s Sheet) SideRise(used bool) TorqueWindow {
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
	Head, Tail, Side   bearing.Tapered
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
	Sheet           Sheet
	Model           Model
}

// Notice is shown wherever a sheet is.
const Notice = "Invented axle for practice. No figure here belongs to a real axle: on the job, the maker's manual, local rules and a qualified person decide."

// Find returns the family with the given code, in any letter case.
func Find(code string) (Family, error) {
	for _, f := range All() {
		if strings.EqualFold(f.Code, code) {
			return f, nil
		}
	}
	return Family{}, fmt.Errorf("axle family %q is not known: there is %s", code, All()[0].Code)
}

// All lists the families.
func All() []Family { return []Family{Beech()} }

// Beech returns a half-ton pickup's rear axle: live, semi-floating, cast-iron
// integral carrier, collapsible spacer, outside side shims.
func Beech() Family {
	nm := func(low, high float64) TorqueWindow { return TorqueWindow{low * 1000, high * 1000} }
	thou := func(x float64) float64 { return quantity.Thou(x).MM() }
	return Family{
		Code: "BEECH",
		Name: "Beech, half-ton rear, semi-floating",
		Use:  "pickup or large saloon; cast-iron carrier, not spread: the last side shim is a drive fit with a soft hammer",
		Sheet: Sheet{
			RingTeeth: 41, PinionTeeth: 12,
			HeadHeightMM:     62.58,
			DepthToleranceMM: thou(2.5),
			PrintHeight:      Window{0.44, 0.56},
			Marks:            setup.ShimCorrection,
			DepthShims:       Stock{thou(20), thou(40), thou(1)},
			SideShims:        Stock{thou(40), thou(100), thou(2)},
			Backlash:         Window{thou(5), thou(8)},
			BacklashSpreadMM: thou(2),
			RunoutMM:         thou(3),
			FlangeRunoutMM:   thou(2),
			PinionDragNew:    nm(2.3, 3.4),
			PinionDragUsed:   nm(0.9, 1.7),
			SealDrag:         nm(0.3, 0.5),
			SideRiseNew:      nm(0.4, 0.9),
			SideRiseUsed:     nm(0.2, 0.6),
			SidePreload:      Window{thou(6), thou(10)},
			SpreadLimitMM:    thou(15),
			NutLow:           quantity.FootPounds(200),
			NutHigh:          quantity.FootPounds(450),
			CapTorque:        quantity.FootPounds(55),
			SpacerLengthMM:   12.70,
		},
		Model: Model{
			Gears: mesh.SetData{PinionTeeth: 12, RingTeeth: 41, OffsetMM: 38, RingDiameterMM: 216, FaceWidthMM: 33.5,
				SpiralDeg: 54.25, CutterRadiusMM: 114, PressureAngleDeg: 20},
			EaseOff: mesh.EaseOff{LengthMM: 0.060, ProfileMM: 0.025, CentreS: 0.45, CentreT: 0.50},
			Head: bearing.Tapered{BoreMM: 41, OutsideMM: 90, WidthMM: 29, ContactAngleDeg: 20.1363, Y: 1.10,
				Rollers: 17, RollerLengthMM: 18, R1: 2.27e-6, S1: 0.018, RingStiffnessNPerMM: 1_000_000},
			Tail: bearing.Tapered{BoreMM: 32, OutsideMM: 73, WidthMM: 24, ContactAngleDeg: 20.1363, Y: 1.10,
				Rollers: 16, RollerLengthMM: 14, R1: 2.27e-6, S1: 0.017, RingStiffnessNPerMM: 780_000},
			Side: bearing.Tapered{BoreMM: 45, OutsideMM: 82, WidthMM: 21, ContactAngleDeg: 15.9958, Y: 1.41,
				Rollers: 19, RollerLengthMM: 12.5, R1: 2.25e-6, S1: 0.011, RingStiffnessNPerMM: 400_000},
			Film:               bearing.Film{ViscosityCst: 200, SpeedRPM: 20},
			NewFriction:        Range{0.13, 0.17},
			UsedFriction:       Range{0.05, 0.09},
			Breakaway:          Range{1.2, 1.6},
			ThreadPitchMM:      25.4 / 14,
			ThreadDiameterMM:   21.047,
			FaceDiameterMM:     31,
			ThreadFriction:     Range{0.10, 0.15},
			PrevailingLbFt:     Range{12, 30},
			HouseNPerMM:        Range{450_000, 800_000},
			NutNPerMM:          Range{550_000, 800_000},
			PedestalNPerMM:     Range{75_000, 115_000},
			SpacerNPerMM:       Range{400_000, 700_000},
			SpacerYieldN:       Range{62_000, 90_000},
			SpacerPeakPart:     Range{1.02, 1.12},
			SpacerPeakDecayMM:  Range{0.08, 0.16},
			SpacerHardening:    Range{2_000, 16_000},
			SpacerUsableMM:     2.5,
			EndPlayAtContactMM: Range{0.30, 0.90},
			CupHoldN:           Range{3_500, 7_500},
			SealNmm:            Range{300, 500},
			MeshEfficiency:     0.97,
			UnseatedRollersMM:  0.035,
		},
	}
}

// Thread returns the nut and stem thread at the given friction and prevailing torque.
func (m Model) Thread(threadFriction, faceFriction, prevailingNmm float64) pinion.Thread {
	return pinion.Thread{PitchMM: m.ThreadPitchMM, PitchDiameterMM: m.ThreadDiameterMM, FaceDiameterMM: m.FaceDiameterMM,
		ThreadFriction: threadFriction, FaceFriction: faceFriction, PrevailingNmm: prevailingNmm}
}
