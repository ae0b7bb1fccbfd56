package hand

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
)

// preload crushes the spacer in steps until the drag is inside its window.
func (w *worker) preload() {
	window := w.k.DragWindow()
	const builds = 3
	for i := range builds {
		last, step := 0.0, 0.0
		if i == 0 && w.done.goesOn && w.finalBuild() {
			last = w.drag
		} else {
			w.do(act.FitPinion, "final")
			start := nutTorque(0.75 * w.k.Sheet.NutLow.Nmm())
			w.say("The final build has a new spacer. Up to about %s nothing crushes; after that the nut goes in small steps, the pinion is turned, and the drag is read.", start)
			w.do(act.TurnNutTorque, start)
		}
		for range 80 {
			if w.err != nil {
				return
			}
			// The step so far decides the next.
			step = w.nextStep()
			out := w.do(act.TurnNutAngle, count(step, quantity.UnitDegree))
			if !noted(out, "no end play") {
				w.drag = 0
				if noted(out, "a trace") {
					w.drag = -1 // nearly there
				}
				continue
			}
			w.do(act.TurnPinion, count(5, quantity.UnitTurn))
			w.drag = math.Max(w.readDrag("pinion-drag"), 1)
			const toldNmm = 250 // a rise that is more than the wrench's scatter
			if rise := w.drag - last; last > 0 && rise > toldNmm {
				w.perDegree = rise / step
			}
			last = w.drag
			if w.drag >= window.LowNmm+0.3*(window.HighNmm-window.LowNmm) {
				break
			}
		}
		if w.err != nil || w.drag <= window.HighNmm || i == builds-1 {
			return
		}
		w.say("Past the window. A crushed spacer does not come back and the nut must not: new spacer, new nut, again.")
		w.do(act.RemovePinion)
		w.drag = 0
	}
}

// nextStep is how far the nut may go before the next reading, degrees.
func (w *worker) nextStep() float64 {
	window := w.k.DragWindow()
	switch {
	case w.drag == 0:
		return 15
	case w.drag < 0:
		return 10
	}
	// A degree is worth about a twentieth of the window's middle, until it has been seen.
	// What has been seen counts only where it asks for more care.
	const usualShare = 0.058
	perDegree := math.Max(usualShare*window.Mid(), w.perDegree)
	aim := window.LowNmm + 0.45*(window.HighNmm-window.LowNmm)
	step := math.Round((aim-w.drag)/perDegree*2) / 2
	return math.Max(1, math.Min(12, step))
}

// shimMove returns how far the depth shim is from the one a height in a final build asks
// for, mm; zero where it is near enough.
func (w *worker) shimMove(heightMM float64) float64 {
	off := heightMM - w.k.WantedHeight().MM()
	if w.err != nil || math.Abs(off) < 0.6*w.k.Sheet.DepthToleranceMM {
		return 0
	}
	return w.k.Sheet.DepthShims.Nearest(w.depthShim+w.sign()*w.deeper()*off) - w.depthShim
}

// pack fits packs until the drag is inside its window with the nut at its torque. With
// gauge it reads the depth in the first of these builds too.
func (w *worker) pack(gauge bool) {
	window := w.k.DragWindow()
	stock := w.k.Design.Solid.Pack
	seal := w.k.Sheet.SealDrag.Mid()
	pack := stock.Nearest(w.k.StarterPack(quantity.Millimetres(w.depthShim)).MM())
	if st := w.bench.Status(); w.done.goesOn && st.Pack > 0 {
		pack = st.Pack.MM()
	}
	w.say("A solid spacer: the pack sets the preload, and the nut only holds. Nut to its torque, pinion turned, drag read; less pack is more preload.")
	lastPack, lastDrag := 0.0, 0.0
	const builds = 7
	for i := range builds {
		if i == 0 && w.done.goesOn && w.finalBuild() {
			pack = w.bench.Status().Pack.MM()
		} else {
			if !w.done.goesOn || w.bench.Status().Pack.MM() != pack {
				w.do(act.FitPack, size(stock, pack))
			}
			w.do(act.FitPinion, "final")
		}
		if !w.done.nutTight {
			w.do(act.TurnNutTorque, nutTorque(w.k.Sheet.NutMid().Nmm()))
		}
		w.done.nutTight = false
		rocks := noted(w.do(act.TurnPinion, count(8, quantity.UnitTurn)), "end play")
		play := 0.0
		if rocks {
			play = firstLength(w.do(act.MeasurePinionPlay))
		}
		w.drag = w.readDrag("pinion-drag")
		move := 0.0 // of the depth shim
		if gauge && i == 0 && !w.without(act.MeasureDepth) {
			move = w.shimMove(firstLength(w.do(act.MeasureDepth)))
			w.gaugedDepth = true
		}
		if w.err != nil || i == builds-1 {
			return
		}
		margin := 0.25 * window.Half()
		if move == 0 && w.drag >= window.LowNmm+margin && w.drag <= window.HighNmm-margin {
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
		perMM := usualShare * size * size * (window.Mid() - seal)
		const apartNmm = 200
		if lastPack > pack && w.drag-lastDrag > apartNmm || lastPack > 0 && lastPack < pack && lastDrag-w.drag > apartNmm && !rocks {
			if seen := (w.drag - lastDrag) / (lastPack - pack); seen > perMM/4 && seen < 4*perMM {
				w.perPack = seen
			}
		}
		if w.perPack > 0 {
			perMM = w.perPack
		}
		lastPack, lastDrag = pack, w.drag
		next := pack - (window.Mid()-w.drag)/perMM
		if rocks {
			// Where the play ends, drag begins.
			lastPack, lastDrag = pack-play, seal
			next = lastPack - (window.Mid()-seal)/perMM
		}
		next = stock.Nearest(next)
		if move != 0 {
			// A thicker shim behind the cup drives the bearings apart: the pack goes with it.
			w.say("The gauge puts the pinion off its height. Another depth shim, and the pack changes by as much.")
			lastPack += move
			next = stock.Nearest(next + move)
			w.do(act.RemovePinion)
			w.depthShim += move
			w.do(act.FitDepthShim, w.depthSize(w.depthShim))
			pack = next
			continue
		}
		if next == pack {
			if w.drag >= window.LowNmm && w.drag <= window.HighNmm {
				return
			}
			next = stock.Nearest(pack + math.Copysign(stock.StepMM, w.drag-window.Mid()))
		}
		pack = next
		w.do(act.RemovePinion)
	}
}

// readDrag reads the turning torque, and once compares wrench with cord.
func (w *worker) readDrag(what string) float64 {
	read := func(tool string) float64 {
		out := w.do(act.MeasureDrag, "turning", tool)
		for _, r := range out.Readings {
			if r.What == what && len(r.Torques) > 0 {
				return r.Torques[len(r.Torques)-1].Nmm()
			}
		}
		return 0
	}
	// A few more turns than the first reading gives settle the rollers.
	if !w.trustWrench || w.withoutTool("wrench") {
		return read("cord")
	}
	wrench := read("wrench")
	if w.withoutTool("cord") || w.crossed || wrench < quantity.InchPounds(8).Nmm() {
		return wrench
	}
	w.crossed = true
	cord := read("cord")
	lw, _ := gauge.ClassOf(gauge.LowRangeWrench)
	lc, _ := gauge.ClassOf(gauge.CordAndScale)
	apart := 2 * math.Hypot(lw.StandardUncertainty(wrench, 1), lc.StandardUncertainty(cord, 1))
	if math.Abs(wrench-cord) > apart {
		w.say("Wrench and cord disagree by more than both can be off. The cord is pull times radius, and the radius can be measured.")
		if !found(w.do(act.TestCord)) {
			if w.without(act.TestCord) {
				w.say("Where the cord lies cannot be proved here. It is the plainer tool of the two, so it is believed.")
			} else {
				w.say("The cord lies where it should, so the cord is believed.")
			}
			w.trustWrench = false
			return cord
		}
		w.say("It lay on another radius. Now it lies right, and the two are compared again.")
		w.crossed = false
		return w.readDrag(what)
	}
	return (wrench + cord) / 2
}
