package pinion

import (
	"math"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Thread is a pinion nut on its stem: a 60° thread, the face the nut turns on,
// the friction of both, and the prevailing torque of a locking nut.
// FaceDiameterMM is the mean diameter of the nut's bearing face.
type Thread struct {
	PitchMM, PitchDiameterMM, FaceDiameterMM float64
	ThreadFriction, FaceFriction             float64
	PrevailingNmm                            float64
}

// flank is 1/(2 cos 30°): half the pitch diameter, and the wedge of a 60° thread.
const flank = 0.5773502691896258

// rise returns pitch/2π, the part of the lever that lifts the load.
func (t Thread) rise() float64 { return t.PitchMM / (2 * math.Pi) }

// rub returns the part of the lever that friction takes.
func (t Thread) rub() float64 {
	return flank*t.PitchDiameterMM*t.ThreadFriction + 0.5*t.FaceDiameterMM*t.FaceFriction
}

// LeverMM returns λ, nut torque per newton of stem force while tightening, mm:
//
//	λ = p/(2π) + μt d2/(2 cos 30°) + μh Dkm/2     [1]
func (t Thread) LeverMM() float64 { return t.rise() + t.rub() }

// LooseningLeverMM returns λoff, the same while backing off, mm: the rise helps
// instead of hindering [1].
func (t Thread) LooseningLeverMM() float64 { return t.rub() - t.rise() }

// TighteningNmm returns the torque (N·mm) that tightens the nut further against a
// stem force (N), prevailing torque included. A force below zero counts as zero.
func (t Thread) TighteningNmm(stemN float64) float64 {
	return t.PrevailingNmm + t.LeverMM()*math.Max(stemN, 0)
}

// LooseningNmm returns the torque (N·mm, negative) of a nut moving backwards
// against a stem force (N).
func (t Thread) LooseningNmm(stemN float64) float64 {
	return -(t.PrevailingNmm + t.LooseningLeverMM()*math.Max(stemN, 0))
}

// StemN returns the stem force (N) that a tightening torque (N·mm) reaches; zero
// if the torque does not overcome the prevailing torque.
func (t Thread) StemN(torqueNmm float64) float64 {
	return math.Max(torqueNmm-t.PrevailingNmm, 0) / t.LeverMM()
}

func (t Thread) validate() error {
	switch {
	case !(t.PitchMM > 0 && t.PitchMM <= 10):
		return text.Fail(nil, text.Say("pinion.thread-pitch", "the thread pitch is {x} mm: it must be above 0 and at most 10 mm (14 threads per inch is 1.814 mm)", text.Rounded("x", t.PitchMM)))
	case !(t.PitchDiameterMM > t.PitchMM && t.PitchDiameterMM <= 200):
		return text.Fail(nil, text.Say("pinion.pitch-diameter", "the pitch diameter of the thread is {x}: it must be larger than the pitch and at most {most}", size("x", t.PitchDiameterMM), size("most", 200)))
	case !(t.FaceDiameterMM > 0 && t.FaceDiameterMM <= 400):
		return text.Fail(nil, text.Say("pinion.face-diameter", "the nut face diameter is {x}: it must be above zero and at most {most}", size("x", t.FaceDiameterMM), size("most", 400)))
	case !(t.ThreadFriction >= 0 && t.ThreadFriction <= 1):
		return text.Fail(nil, text.Say("pinion.thread-friction", "the thread friction is {x}: it must be between 0 and 1 (oiled steel is near 0.14)", text.Rounded("x", t.ThreadFriction)))
	case !(t.FaceFriction >= 0 && t.FaceFriction <= 1):
		return text.Fail(nil, text.Say("pinion.face-friction", "the nut face friction is {x}: it must be between 0 and 1 (oiled steel is near 0.14)", text.Rounded("x", t.FaceFriction)))
	case !(t.PrevailingNmm >= 0) || math.IsInf(t.PrevailingNmm, 0):
		return text.Fail(nil, text.Say("pinion.prevailing", "the prevailing torque is {x}: it must be zero or more", text.BothFastener("x", quantity.Torque(t.PrevailingNmm))))
	case t.LooseningLeverMM() <= 0:
		return text.Fail(nil, text.Say("pinion.unwinds", "thread friction {thread} and nut face friction {face} are so low that the nut would unwind by itself: both must be above about 0.02", text.Rounded("thread", t.ThreadFriction), text.Rounded("face", t.FaceFriction)))
	}
	return nil
}

// YieldClampN returns the assembly preload (N) at which tension and twist together
// use a share of a bolt's yield stress (MPa) [1]:
//
//	F = ν Rp A0 / sqrt(1 + 3 [1.5 (d2/d0)(p/(π d2) + 1.155 μt)]²)
//
// d0 (mm) and A0 (mm²) belong to the narrowest section; pitch, pitch diameter and
// friction come from the thread.
func (t Thread) YieldClampN(yieldMPa, narrowDiameterMM, narrowAreaMM2, share float64) float64 {
	twist := 1.5 * t.PitchDiameterMM / narrowDiameterMM *
		(t.PitchMM/(math.Pi*t.PitchDiameterMM) + 1.155*t.ThreadFriction)
	return share * yieldMPa * narrowAreaMM2 / math.Sqrt(1+3*twist*twist)
}
