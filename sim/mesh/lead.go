package mesh

import "math"

// A Lead is how much further on a flank carries the ring gear than the conjugate
// set at its design position would, in radians of ring gear rotation in the
// direction that flank drives: its mean over one pinion pitch, and the least and
// most within it. A larger lead on either flank is less backlash.
type Lead struct{ MeanRad, LeastRad, MostRad float64 }

// PeakToPeakRad returns the transmission error of the unloaded set over one pinion
// pitch, radians of ring gear rotation.
func (l Lead) PeakToPeakRad() float64 { return l.MostRad - l.LeastRad }

// Lead returns the lead of a flank at the last position. A flank that does not
// exist has none.
//
// Because work is neither made nor lost in a mesh without friction, the change of
// MeanRad with a small move of one member, times the torque at the ring gear, is
// the force the teeth put up against that move.
func (c *Contact) Lead(f Flank) Lead {
	if !f.known() {
		return Lead{}
	}
	return leadOf(c.faces[f].first)
}

// leadOf sums up first contacts by roll sample, with sample 0 in them twice.
func leadOf(first []float64) Lead {
	out := Lead{LeastRad: math.Inf(1), MostRad: math.Inf(-1)}
	n := len(first) - 1
	for _, v := range first[:n] {
		out.MeanRad += v / float64(n)
		out.LeastRad, out.MostRad = math.Min(out.LeastRad, v), math.Max(out.MostRad, v)
	}
	return out
}
