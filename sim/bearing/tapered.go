package bearing

import (
	"math"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// contactConstant is the deflection constant of [1] p. A128 for steel rollers
// between steel raceways, both contacts together; force in N, length in mm.
const contactConstant = 7.7e-5

// loadPower is the power of the force in the same law.
const loadPower = 0.9

// A Tapered is one single-row tapered roller bearing.
//
// Y is the catalogue axial load factor. R1 and S1 are the rolling and sliding
// constants of the friction model [2] table 3d for the bearing's series.
// RingStiffnessNPerMM stands for the stretch of cup, cone and their seats under
// the wedging of the rollers; +Inf means rigid seats.
type Tapered struct {
	BoreMM, OutsideMM, WidthMM float64
	ContactAngleDeg            float64
	Y                          float64
	Rollers                    int
	RollerLengthMM             float64
	R1, S1                     float64
	RingStiffnessNPerMM        float64
}

// Validate says in plain words what is wrong with the bearing's data, or returns
// nil. Every other method expects data that passed.
func (b Tapered) Validate() error {
	switch {
	case !(b.BoreMM > 0) || math.IsInf(b.BoreMM, 0):
		return text.Fail(nil, text.Say("bearing.bore", "the bore of the bearing is {x}: it must be more than zero", size("x", b.BoreMM)))
	case !(b.OutsideMM > b.BoreMM) || math.IsInf(b.OutsideMM, 0):
		return text.Fail(nil, text.Say("bearing.outside", "the outside diameter of the bearing is {x}: it must be larger than the bore, {bore}", size("x", b.OutsideMM), size("bore", b.BoreMM)))
	case !(b.WidthMM > 0) || math.IsInf(b.WidthMM, 0):
		return text.Fail(nil, text.Say("bearing.width", "the width of the bearing is {x}: it must be more than zero", size("x", b.WidthMM)))
	case !(b.ContactAngleDeg >= 5 && b.ContactAngleDeg <= 45):
		return text.Fail(nil, text.Say("bearing.contact-angle", "the contact angle of the bearing is {x} degrees: tapered bearings have between 5 and 45", text.Rounded("x", b.ContactAngleDeg)))
	case !(b.Y > 0 && b.Y <= 10):
		return text.Fail(nil, text.Say("bearing.axial-factor", "the axial factor Y of the bearing is {x}: it must be above 0 and at most 10 (near 0.4 divided by the tangent of the contact angle)", text.Rounded("x", b.Y)))
	case b.Rollers < 5 || b.Rollers > 200:
		return text.Fail(nil, text.Say("bearing.rollers", "the number of rollers is {n}: it must be between 5 and 200", text.Count("n", b.Rollers)))
	case !(b.RollerLengthMM > 0) || math.IsInf(b.RollerLengthMM, 0):
		return text.Fail(nil, text.Say("bearing.roller-length", "the roller length is {x}: it must be more than zero", size("x", b.RollerLengthMM)))
	case !(b.R1 > 0 && b.R1 < 1e-3):
		return text.Fail(nil, text.Say("bearing.rolling", "the rolling constant R1 is {x}: catalog values are near 0.000002", text.Rounded("x", b.R1)))
	case !(b.S1 > 0 && b.S1 < 1):
		return text.Fail(nil, text.Say("bearing.sliding", "the sliding constant S1 is {x}: catalog values are between 0.005 and 0.05", text.Rounded("x", b.S1)))
	case !(b.RingStiffnessNPerMM > 0):
		return text.Fail(nil, text.Say("bearing.stiffness", "the race stiffness is {x} N/mm: it must be more than zero", text.Rounded("x", b.RingStiffnessNPerMM)))
	}
	return nil
}

// MeanDiameterMM returns dm, the mean of bore and outside diameter, in mm.
func (b Tapered) MeanDiameterMM() float64 { return 0.5 * (b.BoreMM + b.OutsideMM) }

// contact returns c of δ = c F^0.9 [1] p. A128, which is [4] Q = Fa/(Z sin α)
// put into the roller's own approach and resolved along the axis:
//
//	c = 7.7e-5 / ((sin α)^1.9 Z^0.9 Le^0.8)
func (b Tapered) contact() float64 {
	sin := math.Sin(b.ContactAngleDeg * math.Pi / 180)
	return contactConstant / (math.Pow(sin, 1+loadPower) *
		math.Pow(float64(b.Rollers), loadPower) * math.Pow(b.RollerLengthMM, 0.8))
}

// DeflectionMM returns how far (mm) cone and cup approach under an axial force
// (N): c F^0.9 for the contacts [1] p. A128 plus F/k for the rings. It is zero
// for a force of zero or less.
func (b Tapered) DeflectionMM(axialN float64) float64 { return InSeries(b).ApproachMM(axialN) }

// StiffnessNPerMM returns dF/dδ (N/mm) at an axial force (N). It grows only as
// F^0.1, so a preloaded bearing is nearly a straight spring; at zero force the
// law's slope has no limit, and the value at a micronewton is returned.
func (b Tapered) StiffnessNPerMM(axialN float64) float64 {
	return InSeries(b).StiffnessNPerMM(axialN)
}

// AxialFactorY returns Y = 0.4 cot α [5] for a contact angle in degrees.
func AxialFactorY(contactAngleDeg float64) float64 {
	return 0.4 / math.Tan(contactAngleDeg*math.Pi/180)
}

// BasicLoadRatingN returns the dynamic radial rating C (N) of the bearing for a
// mean roller diameter in mm [5]:
//
//	C  = 1.1 fc (Le cos α)^(7/9) Z^(3/4) Dw^(29/27)
//	fc = 207.9 · 0.83 γ^(2/9) (1−γ)^(29/27) / (1+γ)^(1/4)
//	     · {1 + [1.04 ((1−γ)/(1+γ))^(143/108)]^(9/2)}^(−2/9),  γ = Dw cos α / dm
//
// It exists to show that assumed roller counts and lengths are believable: a
// catalogue prints C but not what is inside the bearing. Valid for γ below about
// 0.3.
func (b Tapered) BasicLoadRatingN(rollerDiameterMM float64) float64 {
	cos := math.Cos(b.ContactAngleDeg * math.Pi / 180)
	gamma := rollerDiameterMM * cos / b.MeanDiameterMM()
	inner := 1.04 * math.Pow((1-gamma)/(1+gamma), 143.0/108)
	fc := 207.9 * 0.83 * math.Pow(gamma, 2.0/9) * math.Pow(1-gamma, 29.0/27) / math.Pow(1+gamma, 0.25) *
		math.Pow(1+math.Pow(inner, 4.5), -2.0/9)
	return 1.1 * fc * math.Pow(b.RollerLengthMM*cos, 7.0/9) * math.Pow(float64(b.Rollers), 0.75) *
		math.Pow(rollerDiameterMM, 29.0/27)
}

// size is a length of a text, in both units.
func size(name string, mm float64) text.Arg {
	return text.BothLength(name, quantity.Millimetres(mm))
}
