package inference

import (
	"math"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
)

// Foresee is what a reading is believed to show before it is taken, in mm or N·mm. Of the
// reading only what anyone knows beforehand is used: what is read, with what, and how.
func (t *Tracker) Foresee(rd gauge.Reading) (mean, sd float64) {
	switch rd.Kind {
	case gauge.Depth:
		h, c, noise := t.depthLook(ownLeftOut(rd))
		m, s := t.b.Of(h)
		return m + c, math.Hypot(s, noise)
	case gauge.Backlash:
		factor, offset, noise := t.lashMount(rd)
		h, c := t.lashLook()
		h[dialRow] = 1 / factor
		m, s := t.b.Of(h)
		arm := math.Sqrt(t.risk[fault.IndicatorLoose]/float64(len(rd.Lengths))) * sim.LooseArmMM
		return factor * (m + c + offset), factor * math.Hypot(s, math.Hypot(noise, arm))
	}
	class, _ := gauge.ClassOf(gauge.LowRangeWrench)
	if rd.Tool == gauge.StringAndScale {
		class, _ = gauge.ClassOf(gauge.StringAndScale)
	}
	running := 0.0
	for range 2 { // the noise depends a little on what is read
		rd.StdNmm = class.StandardUncertainty(running, 1)
		h, c, noise := t.torqueReadLook(rd, running)
		if m, _ := t.torque(); m < t.noPlay() && !t.solid() {
			h[torqueRow] = 0 // end play
		}
		m, s := t.b.Of(h)
		running = math.Max(m+c, 0)
		sd = math.Hypot(s, noise)
	}
	if rd.Method.Pull == act.Breakaway {
		rise, _ := t.breakawayRise()
		return t.breaking(rd, running), rise * sd
	}
	return running, sd
}
