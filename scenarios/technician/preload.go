package technician

import (
	"cmp"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// crush crushes the spacer in steps until pinion rotating torque is in specification.
func (w *worker) crush() {
	spec := w.k.PinionTorqueSpec()
	const builds = 3
	for i := range builds {
		last, step := 0.0, 0.0
		if i == 0 && w.goes && w.final() {
			last = w.torque
		} else {
			w.do(act.FitPinion, act.Final)
			const untouched = 0.75 // of the nut's torque: nothing crushes yet
			start := quantity.Torque(untouched) * w.k.Sheet.NutLow
			w.say(text.Say("technician.crush", "The final assembly has a new spacer. Up to about {torque} nothing crushes. After that tighten the nut in small steps, turn the pinion, and read the torque.", text.BothFastener("torque", start)))
			w.do(act.TightenNutTorque, NutTorque(start))
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
				w.perDegree = math.Max(w.perDegree, rise/step) // at first the rollers only settle
			}
			last = w.torque
			if w.torque >= spec.LowNmm+0.3*(spec.HighNmm-spec.LowNmm) {
				break
			}
		}
		if w.err != nil || w.torque <= spec.HighNmm || i == builds-1 {
			return
		}
		w.say(text.Say("technician.crush.too-far", "The torque is above its specification. A crushed spacer does not spring back, and the nut must not be loosened. Start again with a new spacer and a new nut."))
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
	// A degree is worth about a twentieth of the specification's middle, until it has been seen.
	// What has been seen counts only where it asks for more care.
	const usualShare = 0.058
	perDegree := math.Max(usualShare*spec.Mid(), w.perDegree)
	aim := spec.LowNmm + 0.45*(spec.HighNmm-spec.LowNmm)
	step := math.Round((aim-w.torque)/perDegree*2) / 2
	return math.Max(1, math.Min(12, step))
}

// setPreloadShims fits preload shims until pinion rotating torque is in specification with the
// nut at its torque. With gauge it measures the depth in the first of these assemblies too.
func (w *worker) setPreloadShims(gaugeToo bool) {
	spec := w.k.PinionTorqueSpec()
	stock := w.k.Design.Solid.PreloadShims
	seal := w.k.Sheet.SealDrag.Mid()
	shims := stock.Nearest(w.k.StarterPreloadShims(quantity.Millimetres(w.shim())).MM())
	if st := w.status(); w.goes && st.PreloadShims > 0 {
		shims = w.preloadShimsTold()
	}
	w.say(text.Say("technician.preload-shims", "A solid spacer: the preload shims set the preload, and the nut only holds. Torque the nut, turn the pinion, read the torque. Thinner shims give more preload."))
	lastPreloadShims, lastRotating := 0.0, 0.0
	const builds = 7
	for i := range builds {
		known := false
		if i == 0 && w.goes && w.final() {
			shims = w.status().PreloadShims.MM()
			known = w.torque > w.k.Sheet.SealDrag.HighNmm && w.status().Nut.Torque >= w.k.Sheet.NutLow
		} else {
			if !w.goes || w.status().PreloadShims.MM() != shims {
				w.do(act.FitPreloadShims, size(stock, shims))
			}
			w.do(act.FitPinion, act.Final)
		}
		if w.status().Nut.Torque < w.k.Sheet.NutLow {
			w.do(act.TightenNutTorque, NutTorque(w.k.Sheet.NutMid()))
		}
		rocks, play := false, 0.0
		if !known {
			if rocks = w.do(act.TurnPinion, count(8, quantity.UnitTurn)).Felt(history.PinionRocks); rocks {
				play = w.do(act.MeasurePinionEndPlay).FirstMM()
			}
			w.torque = w.readTorque(gauge.PinionTorque)
		}
		move := 0.0 // of the depth shim
		if gaugeToo && i == 0 && !w.without(act.MeasureDepth) {
			move = w.shimByGauge(w.do(act.MeasureDepth).FirstMM()) - w.shim()
		}
		if w.err != nil || i == builds-1 {
			return
		}
		margin := 0.05 * spec.Half()
		if move == 0 && w.torque >= spec.LowNmm+margin && w.torque <= spec.HighNmm-margin {
			return
		}
		perMM := w.usualPerShim()
		const apartNmm = 200
		if lastPreloadShims > shims && w.torque-lastRotating > apartNmm || lastPreloadShims > 0 && lastPreloadShims < shims && lastRotating-w.torque > apartNmm && !rocks {
			if seen := (w.torque - lastRotating) / (lastPreloadShims - shims); seen > perMM/4 && seen < 4*perMM {
				w.perShim = seen
			}
		}
		if w.perShim > 0 {
			perMM = w.perShim
		}
		lastPreloadShims, lastRotating = shims, w.torque
		next := shims - (spec.Mid()-w.torque)/perMM
		if rocks {
			// Where the end play ends, torque begins.
			lastPreloadShims, lastRotating = shims-play, seal
			next = lastPreloadShims - (spec.Mid()-seal)/perMM
		}
		next = stock.Nearest(next)
		if move != 0 {
			// A thicker shim behind the cup moves the cups apart: the preload shims go with it.
			w.say(text.Say("technician.gauge.shims-follow", "The gauge shows the pinion off its checking distance. Another depth shim, and the preload shims change by the same amount."))
			lastPreloadShims += move
			next = stock.Nearest(next + move)
			w.do(act.RemovePinion)
			w.do(act.FitDepthShim, w.depthSize(w.shim()+move))
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

// usualPerShim is what a millimeter of preload shims is worth until it has been seen, N·mm: on an
// axle of usual size a thousandth about 7 lb-in on new bearings (common practice, no source); a
// larger axle is stiffer for its torque.
func (w *worker) usualPerShim() float64 {
	const (
		usualShare = 11.0 // of the middle of the specification, per mm
		usualAtMM  = 216.0
	)
	size := w.k.RingDiameter.MM() / usualAtMM
	return usualShare * size * size * (w.k.PinionTorqueSpec().Mid() - w.k.Sheet.SealDrag.Mid())
}

// A told torque is one that another technician read, and what was in the axle then.
type told struct{ preloadShimsMM, depthShimMM, torqueNmm float64 }

// preloadShimsTold are the preload shims for a job that another has begun: those in hand or in the
// axle, unless they are to be built in and the torques that were read say that they are wrong.
func (w *worker) preloadShimsTold() float64 {
	now := w.status().PreloadShims.MM()
	// A shim behind the inner cup takes the preload shims along.
	alike := func(t told) float64 {
		if w.k.Design.DepthShim == family.BehindInnerCup {
			return t.preloadShimsMM + w.shim() - t.depthShimMM
		}
		return t.preloadShimsMM
	}
	var last told
	perMM := w.usualPerShim()
	for _, t := range w.told {
		if t.torqueNmm <= w.k.Sheet.SealDrag.HighNmm {
			continue // end play, of which a torque tells nothing
		}
		const apartNmm, apartMM = 200, 1e-6
		if off := alike(last) - alike(t); last.torqueNmm > 0 && math.Abs(off) > apartMM && math.Abs(t.torqueNmm-last.torqueNmm) > apartNmm {
			if seen := (t.torqueNmm - last.torqueNmm) / off; seen > perMM/4 && seen < 4*perMM {
				w.perShim = seen
			}
		}
		last = t
	}
	if w.final() || last.torqueNmm == 0 {
		return now
	}
	spec, slope := w.k.PinionTorqueSpec(), cmp.Or(w.perShim, perMM)
	const doubt = 1.5 // halves of the specification
	want := alike(last) - (spec.Mid()-last.torqueNmm)/slope
	if math.Abs(want-now)*slope <= doubt*spec.Half() {
		return now
	}
	return w.k.Design.Solid.PreloadShims.Nearest(want)
}

// toolsApart tells whether wrench and string disagree by more than both can be off.
func toolsApart(wrenchNmm, stringNmm float64) bool {
	lw, _ := gauge.ClassOf(gauge.LowRangeWrench)
	lc, _ := gauge.ClassOf(gauge.StringAndScale)
	return math.Abs(wrenchNmm-stringNmm) > 2*math.Hypot(lw.StandardUncertainty(wrenchNmm, 1), lc.StandardUncertainty(stringNmm, 1))
}

// readTorque reads rotating torque, and once compares the wrench with string and scale.
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
	if toolsApart(wrench, stringScale) {
		w.say(text.Say("technician.tools.apart", "Wrench and string disagree by more than both can be off. With the string, torque is pull times radius, and the radius can be measured."))
		if !w.do(act.TestString).Wrong() {
			if w.without(act.TestString) {
				w.say(text.Say("technician.tools.unproved", "The string's radius cannot be checked here. It is the simpler tool of the two, so believe the string."))
			} else {
				w.say(text.Say("technician.tools.string", "The string is on its stated radius, so believe the string."))
			}
			w.trustWrench = false
			return stringScale
		}
		w.say(text.Say("technician.tools.radius", "The string was on another radius. Now it is right, and the two are compared again."))
		w.crossed = false
		return w.readTorque(kind)
	}
	return (wrench + stringScale) / 2
}
