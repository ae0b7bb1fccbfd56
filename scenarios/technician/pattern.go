package technician

import (
	"math"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// How closely the depth is known, standard deviations.
const (
	// PatternSetSD is how far the pattern of one set stands from another's at the same depth,
	// share of the tooth (common practice, no source).
	PatternSetSD = 0.016

	gaugedMM               = 0.015        // a depth gauge and its set-up bearing
	markMM, unmarkedMM     = 0.008, 0.040 // what a mark leaves open, and a pinion without one
	cardMM, cardUnmarkedMM = 0.06, 0.08   // old shim and marks together, or without marks
)

// How a pattern is decided.
const (
	mostFinal, mostInMockUp = 4, 2 // readings of one pattern
	// What the readings together may say and the shim stays, in halves of the specification: in
	// the final assembly another shim is a teardown.
	enoughFinal, enoughInMockUp = 1.15, 0.85
	surely                      = 0.5 // of the specification's half: in a mock-up one reading does
	safely                      = 0.6 // of it: where a pattern is put
	flanks                      = 2
)

// A print is a pattern that was read.
type print struct {
	sides  []float64 // how far the center of each side stands too high, share of the tooth
	wanted float64   // the depth shim that would bring their mean to the middle, mm
	built  history.Changes
}

// A stance is how the pattern of the axle as it stands is too high, mean of its readings, share
// of the tooth.
type stance struct {
	off   float64 // mean of both sides
	sides []float64
	n     float64 // readings
}

// unsure is the expanded uncertainty of a mean over so many centers, share of the tooth.
func unsure(centers float64) float64 {
	return 2 * sim.EyeStd(gauge.Method{Coat: act.Thin, Load: act.Braked}) / math.Sqrt(centers)
}

// proved tells whether the pattern is inside a specification's half as closely as it tells: one
// that was read once has to be inside, and each side as closely as an eye can tell.
func (s stance) proved(half float64) bool {
	room := half
	if s.n > 1 {
		room += unsure(flanks * s.n)
	}
	for _, side := range s.sides {
		if math.Abs(side) > half+unsure(1) {
			return false
		}
	}
	return math.Abs(s.off) <= room
}

// near tells whether another reading may still bring it inside.
func (s stance) near(half float64) bool { return math.Abs(s.off) <= half+unsure(flanks*s.n) }

// readPattern makes contact patterns until they tell whether the depth shim may stay, and
// returns the one that is wanted: that in hand where it may. A pattern confirms the gauge. One
// that stands outside by less than an eye can tell is wiped off, painted and rolled again, and
// the mean counts; with what gauge or marks say it decides.
func (w *worker) readPattern() (shimMM float64) {
	w.say(text.Say("technician.pattern", "Now the contact pattern: a thin coat of compound, resistance on the ring gear, both directions."))
	final := w.final()
	most, enough := mostInMockUp, enoughInMockUp
	if final {
		most, enough = mostFinal, enoughFinal
	}
	half := w.k.Sheet.PatternHeight.Half()
	for n := 1; ; n++ {
		if !w.printed() {
			return w.shim()
		}
		s := w.stands()
		if final {
			w.pattern = w.k.Sheet.PatternHeight.Mid() + s.off
		}
		likely := math.Abs(w.likelyOff())
		inside := likely <= enough*half
		switch {
		case w.err != nil || inside && (final && s.proved(half) || !final && (n > 1 || likely <= surely*half)):
			return w.shim()
		case n < most && (inside || s.near(half)):
			w.say(text.Say("technician.pattern.again", "The pattern is outside by less than an eye can tell. Wipe it off, paint and roll again: the mean of the readings counts, beside what the gauge has told."))
		default:
			return w.shimByPattern(s)
		}
	}
}

// printed makes one pattern and keeps it; it tells whether the gears showed one.
func (w *worker) printed() bool {
	w.do(act.PaintTeeth, act.Thin)
	r, _ := w.do(act.RollGears, act.Braked).Reading(gauge.Pattern)
	if len(r.Patterns) == 0 {
		return false
	}
	w.keep(r, w.status())
	return true
}

// keep notes a pattern that was read on an axle as it stood. In the final assembly the pinion
// will sit farther out than in a mock-up by what the set-up bearing is taller.
func (w *worker) keep(r gauge.Reading, st history.Status) {
	p := print{built: st.Changes}
	off := 0.0
	for _, side := range r.Patterns {
		p.sides = append(p.sides, side.CenterT-w.k.Sheet.PatternHeight.Mid())
		off += (side.CenterT - w.k.Sheet.PatternHeight.Mid()) / float64(len(r.Patterns))
	}
	if st.Pinion == history.PinionMockUp {
		off += w.setUpTall * w.k.PatternClimb()
	}
	p.wanted = st.DepthShim.MM() + w.shimFor(off)
	w.prints = append(w.prints, p)
}

// stands is how the pattern of the axle as it stands was read.
func (w *worker) stands() stance {
	s := stance{sides: make([]float64, flanks)}
	now := w.status().Changes
	for _, p := range w.prints {
		if b := p.built; b.Parts != now.Parts || b.Depth != now.Depth || b.Sides != now.Sides || len(p.sides) != flanks {
			continue
		}
		s.n++
		for i, side := range p.sides {
			s.sides[i] += (side - s.sides[i]) / s.n
		}
	}
	for _, side := range s.sides {
		s.off += side / flanks
	}
	return s
}

// wantedShim is the depth shim that would bring the pattern to the middle, by all that has been
// read: gauge or marks, and every pattern on this and other shims, each as closely as it tells.
func (w *worker) wantedShim() float64 {
	before, sd := w.shim(), 0.0
	known := w.k.Sheet.Marks.Known()
	switch {
	case w.ungauged() && known:
		before, sd = w.k.StarterShim().MM(), cardMM
	case w.ungauged():
		before, sd = w.k.OldDepthShim.MM(), cardUnmarkedMM
	case known:
		sd = math.Hypot(gaugedMM, markMM)
	default:
		sd = math.Hypot(gaugedMM, unmarkedMM)
	}
	if w.rightShim != 0 && !w.ungauged() {
		before = w.rightShim
	}
	if len(w.prints) == 0 {
		return before
	}
	mean, n := 0.0, float64(len(w.prints))
	for _, p := range w.prints {
		mean += p.wanted / n
	}
	climb := w.k.PatternClimb()
	a := 1 / (sd*sd + PatternSetSD*PatternSetSD/(climb*climb))
	eye := unsure(flanks*n) / 2 / climb
	b := 1 / (eye * eye)
	return (a*before + b*mean) / (a + b)
}

// likelyOff is how far the pattern is likely to stand too high on the shim in hand, by all that
// has been read, share of the tooth.
func (w *worker) likelyOff() float64 {
	return w.sign() * w.deeper() * (w.wantedShim() - w.shim()) * w.k.PatternClimb()
}

// shimByPattern is the stocked depth shim to go to from a pattern that is not as it should be:
// the one wanted by all that has been read, as far as the pattern itself will then be read safely
// inside.
func (w *worker) shimByPattern(s stance) float64 {
	half := w.k.Sheet.PatternHeight.Half()
	move := w.likelyOff()
	within := func(off, room float64) { move = math.Max(off-room, math.Min(off+room, move)) }
	for _, side := range s.sides {
		within(side, safely*(half+unsure(1)))
	}
	within(s.off, safely*half)
	return w.k.Sheet.DepthShims.Nearest(w.shim() + w.shimFor(move))
}

// ungauged tells whether this technician has only the pattern to go by.
func (w *worker) ungauged() bool {
	return (w.k.From == SidesSet || w.without(act.MeasureDepth)) && !w.gaugedDepth
}

// shimFor returns what a pattern that stands too high by a share of the tooth asks of the
// depth shim, mm.
func (w *worker) shimFor(off float64) float64 {
	return w.sign() * w.deeper() * off / w.k.PatternClimb()
}

// correctCage corrects the depth by the pattern with the shim under the cage's flange, which
// leaves preload and side bearings as they are.
func (w *worker) correctCage(next float64) {
	const tries = 3
	for range tries {
		if w.err != nil || next == w.shim() {
			return
		}
		w.say(text.Say("technician.pattern.cage", "The pattern is high or low on both sides of the teeth. The cage comes out with its pinion, and another shim goes under its flange."))
		w.do(act.FitDepthShim, w.depthSize(next))
		w.setBacklashByAdjusters()
		next = w.readPattern()
	}
}
