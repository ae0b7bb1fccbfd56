package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/text"
)

// readPattern makes a contact pattern and returns how far its center stands too high, as a
// share of the tooth's height: the mean of both sides, since depth moves both the same way.
func (w *worker) readPattern() float64 {
	w.say(text.Say("technician.pattern", "Now the contact pattern: a thin coat of compound, resistance on the ring gear, both directions."))
	mid := w.k.Sheet.PatternHeight.Mid()
	shown := false
	read := func() float64 {
		w.do(act.PaintTeeth, act.Thin)
		r, _ := w.do(act.RollGears, act.Braked).Reading(gauge.Pattern)
		if len(r.Patterns) == 0 {
			return 0
		}
		shown = true
		sum := 0.0
		for _, p := range r.Patterns {
			sum += p.CenterT - mid
		}
		return sum / float64(len(r.Patterns))
	}
	off := read()
	if !shown {
		return 0
	}
	// Where nobody has measured the depth, much hangs on the pattern.
	if w.err == nil && (w.ungauged() || math.Abs(off) > w.k.Sheet.PatternHeight.Half()) {
		off = (off + read()) / 2
	}
	w.pattern = mid + off
	return off
}

// ungauged tells whether this technician has only the pattern to go by.
func (w *worker) ungauged() bool {
	return (w.k.From == SidesSet || w.without(act.MeasureDepth)) && !w.gaugedDepth
}

// patternEnough is how far a pattern may stand off and be left, as a share of the tooth: within
// a share of its specification, and on an axle whose depth nobody has measured no farther than
// what the depth allows.
func (w *worker) patternEnough(share float64) float64 {
	enough := share * w.k.Sheet.PatternHeight.Half()
	if w.ungauged() {
		const surely = 0.7 // of the depth's tolerance
		enough = math.Min(enough, surely*w.k.Sheet.DepthToleranceMM*w.k.PatternClimb())
	}
	return enough
}

// shimFor returns what a pattern that stands too high by a share of the tooth asks of the
// depth shim, mm.
func (w *worker) shimFor(off float64) float64 {
	return w.sign() * w.deeper() * off / w.k.PatternClimb()
}

// withMarks joins what patterns say of the depth with what the old shim and the marks say, for
// an axle whose depth nobody has measured: either alone is too coarse. It returns how far the
// pattern would stand too high.
func (w *worker) withMarks(off float64) float64 {
	if !w.ungauged() {
		return off
	}
	const (
		eye            = 0.02       // what two patterns leave unsure, share of the tooth
		marked, unread = 0.06, 0.08 // what old shim and marks do, or no marks, mm
	)
	card := marked
	if !w.k.Sheet.Marks.Known() {
		card = unread
	}
	marks := w.deeper() * (w.k.StarterShim().MM() - w.shim()) * w.k.PatternClimb()
	trust := card * card / (card*card + eye*eye/(w.k.PatternClimb()*w.k.PatternClimb()))
	return trust*off + (1-trust)*marks
}

// correctCage corrects the depth by the pattern with the shim under the cage's flange, which
// leaves preload and side bearings as they are.
func (w *worker) correctCage(off float64) {
	closeEnough := 1.0 // of the pattern's specification
	if !w.k.Sheet.Marks.Known() || w.k.From == SidesSet || w.without(act.MeasureDepth) {
		closeEnough = 0.6 // without a mark the pattern is the only judge of this pinion
	}
	for range 3 {
		next := w.k.Sheet.DepthShims.Nearest(w.shim() + w.shimFor(off))
		if w.err != nil || math.Abs(off) <= w.patternEnough(closeEnough) || next == w.shim() {
			return
		}
		w.say(text.Say("technician.pattern.cage", "The pattern is high or low on both sides of the teeth. The cage comes out with its pinion, and another shim goes under its flange."))
		w.do(act.FitDepthShim, w.depthSize(next))
		w.setBacklashByAdjusters()
		off = w.withMarks(w.readPattern())
	}
}
