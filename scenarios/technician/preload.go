package technician

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// preload crushes the spacer in steps until the drag is inside its window.
func (w *worker) preload() {
	spec := w.k.PinionTorqueSpec()
	const builds = 3
	for i := range builds {
		last, step := 0.0, 0.0
		if i == 0 && w.done.goesOn && w.finalBuild() {
			last = w.torque
		} else {
			w.do(act.FitPinion, act.Final)
			start := nutTorque(0.75 * w.k.Sheet.NutLow.Nmm())
			w.say("The final build has a new spacer. Up to about %s nothing crushes; after that the nut goes in small steps, the pinion is turned, and the drag is read.", start)
			w.do(act.TightenNutTorque, start)
		}
		for range 80 {
			if w.err != nil {
				return
			}
			// The step so far decides the next.
			step = w.nextStep()
			out := w.do(act.TightenNutAngle, count(step, quantity.UnitDegree))
			if !out.Felt(history.NoEndPlay) {
				w.torque = 0
				if out.Felt(history.TraceOfEndPlay) {
					w.torque = -1 // nearly there
				}
				continue
			}
			w.do(act.TurnPinion, count(5, quantity.UnitTurn))
			w.torque = math.Max(w.readTorque(gauge.PinionTorque), 1)
			const toldNmm = 250 // a rise that is more than the wrench's scatter
			if rise := w.torque - last; last > 0 && rise > toldNmm {
				w.perDegree = rise / step
			}
			last = w.torque
			if w.torque >= spec.LowNmm+0.3*(spec.HighNmm-spec.LowNmm) {
				break
			}
		}
		if w.err != nil || w.torque <= spec.HighNmm || i == builds-1 {
			return
		}
		w.say("Past the window. A crushed spacer does not come back and the nut must not: new spacer, new nut, again.")
		w.do(act.RemovePinion)
		w.torque = 0
	}
}

// nextStep is how far the nut may go before the next reading, degrees.
func (w *worker) nextStep() float64 {
	spec := w.k.PinionTorqueSpec()
	switch {
	case w.torque == 0:
		return 15
	case w.torque < 0:
		return 10
	}
	// A degree is worth about a twentieth of the window's middle, until it has been seen.
	// What has been seen counts only where it asks for more care.
	const usualShare = 0.058
	perDegree := math.Max(usualShare*spec.Mid(), w.perDegree)
	aim := spec.LowNmm + 0.45*(spec.HighNmm-spec.LowNmm)
	step := math.Round((aim-w.torque)/perDegree*2) / 2
	return math.Max(1, math.Min(12, step))
}

// shimMove returns how far the depth shim is from the one a height in a final build asks
// for, mm; zero where it is near enough.
func (w *worker) shimMove(heightMM float64) float64 {
	off := heightMM - w.k.WantedDistance().MM()
	if w.err != nil || math.Abs(off) < 0.6*w.k.Sheet.DepthToleranceMM {
		return 0
	}
	return w.k.Sheet.DepthShims.Nearest(w.depthShim+w.sign()*w.deeper()*off) - w.depthShim
}

// pack fits packs until the drag is inside its window with the nut at its torque. With
// gauge it reads the depth in the first of these builds too.
func (w *worker) shims(gaugeAnew bool) {
	spec := w.k.PinionTorqueSpec()
	stock := w.k.Design.Solid.PreloadShims
	seal := w.k.Sheet.SealDrag.Mid()
	shims := stock.Nearest(w.k.StarterPreloadShims(quantity.Millimetres(w.depthShim)).MM())
	if st := w.bench.Status(); w.done.goesOn && st.PreloadShims > 0 {
		shims = st.PreloadShims.MM()
	}
	w.say("A solid spacer: the pack sets the preload, and the nut only holds. Nut to its torque, pinion turned, drag read; less pack is more preload.")
	lastPreloadShims, lastRotating := 0.0, 0.0
	const builds = 7
	for i := range builds {
		if i == 0 && w.done.goesOn && w.finalBuild() {
			shims = w.bench.Status().PreloadShims.MM()
		} else {
			if !w.done.goesOn || w.bench.Status().PreloadShims.MM() != shims {
				w.do(act.FitPreloadShims, size(stock, shims))
			}
			w.do(act.FitPinion, act.Final)
		}
		if !w.done.nutTight {
			w.do(act.TightenNutTorque, nutTorque(w.k.Sheet.NutMid().Nmm()))
		}
		w.done.nutTight = false
		rocks := w.do(act.TurnPinion, count(8, quantity.UnitTurn)).Felt(history.PinionRocks)
		play := 0.0
		if rocks {
			play = firstLength(w.do(act.MeasurePinionEndPlay))
		}
		w.torque = w.readTorque(gauge.PinionTorque)
		move := 0.0 // of the depth shim
		if gaugeAnew && i == 0 && !w.without(act.MeasureDepth) {
			move = w.shimMove(firstLength(w.do(act.MeasureDepth)))
			w.gaugedDepth = true
		}
		if w.err != nil || i == builds-1 {
			return
		}
		margin := 0.25 * spec.Half()
		if move == 0 && w.torque >= spec.LowNmm+margin && w.torque <= spec.HighNmm-margin {
			return
		}
		// On an axle of this size a thousandth is worth about seven pound-inches on new
		// bearings, until it has been seen (common practice, no source); a larger axle
		// is stiffer for its drag.
		const (
			usualShare = 11.0 // of the window's middle, per mm
			usualAtMM  = 216.0
		)
		size := w.k.RingDiameter.MM() / usualAtMM
		perMM := usualShare * size * size * (spec.Mid() - seal)
		const apartNmm = 200
		if lastPreloadShims > shims && w.torque-lastRotating > apartNmm || lastPreloadShims > 0 && lastPreloadShims < shims && lastRotating-w.torque > apartNmm && !rocks {
			if seen := (w.torque - lastRotating) / (lastPreloadShims - shims); seen > perMM/4 && seen < 4*perMM {
				w.perPreloadShim = seen
			}
		}
		if w.perPreloadShim > 0 {
			perMM = w.perPreloadShim
		}
		lastPreloadShims, lastRotating = shims, w.torque
		next := shims - (spec.Mid()-w.torque)/perMM
		if rocks {
			// Where the play ends, drag begins.
			lastPreloadShims, lastRotating = shims-play, seal
			next = lastPreloadShims - (spec.Mid()-seal)/perMM
		}
		next = stock.Nearest(next)
		if move != 0 {
			// A thicker shim behind the cup drives the bearings apart: the pack goes with it.
			w.say("The gaugeAnew puts the pinion off its height. Another depth shim, and the pack changes by as much.")
			lastPreloadShims += move
			next = stock.Nearest(next + move)
			w.do(act.RemovePinion)
			w.depthShim += move
			w.do(act.FitDepthShim, w.depthSize(w.depthShim))
			shims = next
			continue
		}
		if next == shims {
			if w.torque >= spec.LowNmm && w.torque <= spec.HighNmm {
				return
			}
			next = stock.Nearest(shims + math.Copysign(stock.StepMM, w.torque-spec.Mid()))
		}
		shims = next
		w.do(act.RemovePinion)
	}
}

// readDrag reads the turning torque, and once compares wrench with cord.
func (w *worker) readTorque(kind gauge.Kind) float64 {
	read := func(tool act.Option) float64 {
		out := w.do(act.MeasureTorque, act.Rotating, tool)
		for _, r := range out.Readings {
			if r.Kind == kind && len(r.Torques) > 0 {
				return r.Torques[len(r.Torques)-1].Nmm()
			}
		}
		return 0
	}
	// A few more turns than the first reading gives settle the rollers.
	if !w.trustWrench || w.withoutTool(act.Wrench) {
		return read(act.String)
	}
	wrench := read(act.Wrench)
	if w.withoutTool(act.String) || w.crossed || wrench < quantity.InchPounds(8).Nmm() {
		return wrench
	}
	w.crossed = true
	stringScale := read(act.String)
	lw, _ := gauge.ClassOf(gauge.LowRangeWrench)
	lc, _ := gauge.ClassOf(gauge.StringAndScale)
	apart := 2 * math.Hypot(lw.StandardUncertainty(wrench, 1), lc.StandardUncertainty(stringScale, 1))
	if math.Abs(wrench-stringScale) > apart {
		w.say("Wrench and cord disagree by more than both can be off. The cord is pull times radius, and the radius can be measured.")
		if !w.do(act.TestString).Wrong() {
			if w.without(act.TestString) {
				w.say("Where the cord lies cannot be proved here. It is the plainer tool of the two, so it is believed.")
			} else {
				w.say("The cord lies where it should, so the cord is believed.")
			}
			w.trustWrench = false
			return stringScale
		}
		w.say("It lay on another radius. Now it lies right, and the two are compared again.")
		w.crossed = false
		return w.readTorque(kind)
	}
	return (wrench + stringScale) / 2
}
