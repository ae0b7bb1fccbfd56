package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
)

// A Stage is how far an axle has been put together.
type Stage int

// The stages, in the order of the job. The zero value is a bare housing, and the last
// stage an axle that is signed off.
const (
	Bare       Stage = iota
	DepthSet         // the depth shim is in hand and the pinion out
	PreloadSet       // the pinion is in its final build, the case out
	SidesSet         // the case is in, preload and backlash set
	Whole            // print and total torque read, written down
)

// end is where a job ends; a job that says nothing goes all the way.
func (k Known) end() Stage {
	if k.To == Bare {
		return Whole
	}
	return k.To
}

// Work does the job from where it begins to where it ends, and signs. The error is the
// first act the bench could not carry out, or says that the hand gave up; the bench keeps
// all that was done.
func Work(b Bench, k Known, h Habits) error {
	w := &worker{bench: b, k: k, h: h, trustWrench: true}
	if h.NeverMeasures {
		w.blind()
	} else {
		w.build(k.From, k.end())
		w.sheet(k.end())
		w.do(act.SignOff)
	}
	return w.err
}

// Prepare does what comes before a stage of a job, and leaves the axle there with what
// was set written on the build sheet. Errors as Work.
func Prepare(b Bench, k Known, h Habits, to Stage) error {
	w := &worker{bench: b, k: k, h: h, trustWrench: true}
	w.build(Bare, to)
	if to > Bare {
		w.sheet(to)
	}
	return w.err
}

// Restore puts an axle right that another hand has signed for, the sure way: it strips the
// axle and builds it anew, trusting nothing on its build sheet. Errors as Work.
func Restore(b Bench, k Known, h Habits) error {
	w := &worker{bench: b, k: k, h: h, trustWrench: true}
	w.say("Somebody else's work: nothing on its build sheet is taken for read.")
	w.do(act.RemoveCase)
	w.do(act.RemovePinion)
	w.build(Bare, Whole)
	w.sheet(Whole)
	w.do(act.SignOff)
	return w.err
}

// build brings the axle from one stage to another.
func (w *worker) build(from, to Stage) {
	st := w.bench.Status()
	shim := st.DepthShim.MM()
	w.depthShim, w.back, w.tooth = shim, st.RingGearNotches, st.OppositeNotches
	w.inspect(from, to)
	if from == Bare && !(w.done.goesOn && shim > 0) {
		shim = w.starter()
	}
	const builds = 3
	for i := range builds {
		switch {
		case i > 0:
			w.depthShim = w.inHand(shim) // the print has told enough: it will tell again
		case from < DepthSet:
			w.setDepth(shim, to == DepthSet)
		}
		if to == DepthSet {
			return
		}
		if from < PreloadSet {
			w.setPreload(from)
		} else if from == PreloadSet && w.torque == 0 {
			w.torque = w.readTorque(gauge.PinionTorque)
		}
		if to == PreloadSet {
			return
		}
		switch {
		case from == SidesSet:
			w.takeOver()
		case w.rings():
			w.setRings()
		default:
			w.sides()
		}
		if to == SidesSet {
			return
		}
		off := w.withMarks(w.pattern())
		if w.k.Design.DepthShim == family.UnderCageFlange {
			w.cage(off)
			return
		}
		if w.err != nil || i == builds-1 || math.Abs(off) <= w.patternEnough(1) {
			return
		}
		w.say("The print is off up and down on both flanks. That is depth, so the pinion has to come out again.")
		w.do(act.RemoveCase)
		w.do(act.RemovePinion)
		shim = w.depthShim + w.shimFor(off)
		w.away += w.k.PerPinion() * w.deeper() * (shim - w.depthShim) / w.k.PerTravel()
		from = Bare // but for the inspection, which has been done
	}
}

// setDepth chooses the depth shim. A crushed spacer makes a final build dear, so the depth
// is gauged in a trial build first; a cage, or a solid spacer, lets it be gauged in the
// final one, unless the job ends here.
func (w *worker) setDepth(wantedMM float64, endsHere bool) {
	if endsHere || !w.gaugesFinal() {
		w.depthShim = w.depth(wantedMM)
		return
	}
	w.depthShim = w.inHand(wantedMM)
}

// gaugesFinal tells whether the depth can be gauged and put right in a final build.
func (w *worker) gaugesFinal() bool {
	return w.solid() || w.k.Design.DepthShim == family.UnderCageFlange
}

func (w *worker) setPreload(from Stage) {
	inCage := w.k.Design.DepthShim == family.UnderCageFlange
	if w.solid() {
		w.shims(!inCage && from < DepthSet)
	} else {
		w.preload()
	}
	if inCage && from < DepthSet && !w.without(act.MeasureDepth) {
		w.depthShim = w.byHeight(w.depthShim, firstLength(w.do(act.MeasureDepth)))
	}
}

// takeOver reads the backlash of a case that another hand has put in, and brings it right.
func (w *worker) takeOver() {
	st := w.bench.Status()
	if !st.CapsTight {
		w.do(act.TorqueCaps)
	}
	w.do(act.MountIndicator, act.Heel, act.Square, act.PinionHeld)
	w.do(act.TestIndicator)
	if w.rings() {
		w.lineMM = (st.RingGearNotches+st.OppositeNotches)*w.k.Design.Rings.NotchTravelMM() - w.k.Sheet.SidePreload.Mid()
		w.moveRings()
		return
	}
	w.lineMM = st.RingGearShim.MM() + st.OppositeShim.MM() - w.k.Sheet.SidePreload.Mid()
	w.fitted = true
	w.sides()
}

// withMarks joins what prints say of the depth with what the old shim and the marks say, for
// an axle whose depth nobody has gauged: either alone is too coarse. It returns how far the
// print would stand too high.
func (w *worker) withMarks(off float64) float64 {
	if !w.ungauged() {
		return off
	}
	const (
		eye            = 0.02       // what two prints leave unsure, share of the tooth
		marked, unread = 0.06, 0.08 // what old shim and marks do, or no marks, mm
	)
	card := marked
	if !w.k.Sheet.Marks.Known() {
		card = unread
	}
	marks := w.deeper() * (w.k.StarterShim().MM() - w.depthShim) * w.k.PatternClimb()
	trust := card * card / (card*card + eye*eye/(w.k.PatternClimb()*w.k.PatternClimb()))
	return trust*off + (1-trust)*marks
}

// sheet writes down what has been set so far.
func (w *worker) sheet(to Stage) {
	st := w.bench.Status()
	lbin := func(nmm float64) quantity.Entered {
		return count(math.Round(quantity.Torque(nmm).InchPounds()*2)/2, quantity.UnitInchLb)
	}
	total := 0.0
	if to == Whole {
		w.say("Total torque with everything in, then the build sheet, then the signature.")
		if w.k.From == SidesSet && w.do(act.InspectShafts).Wrong() {
			w.do(act.RemoveShafts)
		}
		total = w.readTorque(gauge.TotalTorque)
	}
	w.do(act.RecordValue, act.DepthShimLine, w.depthSize(st.DepthShim.MM()))
	if to >= PreloadSet && w.solid() {
		w.do(act.RecordValue, act.PreloadShimsLine, size(w.k.Design.Solid.PreloadShims, st.PreloadShims.MM()))
	}
	if to >= SidesSet && !w.rings() {
		w.do(act.RecordValue, act.RingGearShimLine, w.sideSize(st.RingGearShim.MM()))
		w.do(act.RecordValue, act.OppositeShimLine, w.sideSize(st.OppositeShim.MM()))
	}
	if to >= PreloadSet && w.torque > 0 {
		w.do(act.RecordValue, act.PinionTorqueLine, lbin(w.torque))
	}
	if to == Whole {
		w.do(act.RecordValue, act.TotalTorqueLine, lbin(total))
	}
	if to >= SidesSet && w.lash > 0 {
		w.do(act.RecordValue, act.BacklashLine, inches(w.lash))
	}
	if to >= SidesSet && w.faceRead {
		w.do(act.RecordValue, act.RunoutLine, inches(w.face))
	}
	if to == Whole && w.height > 0 {
		w.do(act.RecordValue, act.PatternHeightLine, count(math.Round(100*w.height)/100, quantity.UnitShare))
	}
}
