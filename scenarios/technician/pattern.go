package technician

import (
	"math"

	"shimwright/sim/act"
)

// pattern reads a print and returns how far its centre stands too high, as a share
// of the tooth's height: the mean of both flanks, since depth moves both the same way.
func (w *worker) pattern() float64 {
	w.say("Now the print: thin compound, a brake on the ring gear, both ways.")
	read := func() float64 {
		w.do(act.PaintTeeth, act.Thin)
		out := w.do(act.RollGears, act.Braked)
		sum, n := 0.0, 0.0
		for _, r := range out.Readings {
			for _, p := range r.Patterns {
				sum, n = sum+p.CenterT-w.k.Sheet.PatternHeight.Mid(), n+1
			}
		}
		if n == 0 {
			return 0
		}
		w.height = w.k.Sheet.PatternHeight.Mid() + sum/n
		return sum / n
	}
	off := read()
	// Where nobody has gauged the depth, much hangs on the print.
	if w.err == nil && (w.ungauged() || math.Abs(off) > w.k.Sheet.PatternHeight.Half()) {
		off = (off + read()) / 2
	}
	return off
}

// ungauged tells whether this hand has only the print to go by.
func (w *worker) ungauged() bool {
	return (w.k.From == SidesSet || w.without(act.MeasureDepth)) && !w.gaugedDepth
}

// printEnough is how far a print may stand off and be left, as a share of the tooth: within
// a share of its window, and on an axle whose depth nobody has gauged no further than what
// the depth allows.
func (w *worker) patternEnough(share float64) float64 {
	enough := share * w.k.Sheet.PatternHeight.Half()
	if w.ungauged() {
		const surely = 0.7 // of the depth's tolerance
		enough = math.Min(enough, surely*w.k.Sheet.DepthToleranceMM*w.k.PatternClimb())
	}
	return enough
}

// shimFor returns what a print that stands too high by a share of the tooth asks of the
// depth shim, mm.
func (w *worker) shimFor(off float64) float64 {
	return w.sign() * w.deeper() * off / w.k.PatternClimb()
}

// cage corrects the depth by the print with the shim under the cage's flange, which
// leaves preload and side bearings as they are.
func (w *worker) cage(off float64) {
	closeEnough := 1.0 // of the print's window
	if !w.k.Sheet.Marks.Known() || w.k.From == SidesSet || w.without(act.MeasureDepth) {
		closeEnough = 0.6 // without a mark the print is the only judge of this pinion
	}
	for range 3 {
		next := w.k.Sheet.DepthShims.Nearest(w.depthShim + w.shimFor(off))
		if w.err != nil || math.Abs(off) <= w.patternEnough(closeEnough) || next == w.depthShim {
			return
		}
		w.say("The print is off up and down on both flanks. The cage comes forward with its pinion; another shim under its flange does it.")
		w.depthShim = next
		w.do(act.FitDepthShim, w.depthSize(next))
		w.moveRings()
		off = w.withMarks(w.pattern())
	}
}
