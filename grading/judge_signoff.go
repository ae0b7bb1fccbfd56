package grading

import (
	"fmt"
	"math"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
)

// dimension is one thing that can bring an axle back.
type dimension struct {
	name    string
	close   float64 // expected minutes if signed now
	best    float64 // with the best of measuring, correcting, or signing
	advice  string
	lesson  string
	believe string
	reading bool // best is a reading, which then decides
}

// settleUp prices signing against reading once more or putting right. fix is what putting
// right takes for a value so far off; learn is what one more reading would leave unknown.
func (r *reasoner) settleUp(name, lesson, believe string, mean, sd, half, comeback, read float64, learn learned, fix func(off float64) float64, reading string) dimension {
	risk := func(m, s float64) float64 { return comeback * average(m/half, s/half, r.costs.ComebackRisk) }
	d := dimension{name: name, close: risk(mean, sd), lesson: lesson, believe: believe}
	rest := restHalfSpecs * half
	d.best, d.advice = d.close, ""
	correct := fix(mean) + risk(rest, sd)
	if correct < d.best {
		d.best, d.advice = correct, "put the "+name+" right first"
	}
	look := read + average(mean, learn.shift, func(m float64) float64 {
		return math.Min(risk(m, learn.left), fix(m)+risk(rest, learn.left))
	})
	if look < d.best {
		d.best, d.advice, d.reading = look, reading+" first", true
	}
	return d
}

// learned is what a reading is expected to leave unknown of a value, and how far it is
// expected to move what is believed, as standard deviations.
type learned struct{ left, shift float64 }

// afresh is what a reading tells that shares no error with those before it.
func afresh(sd, noise float64) learned {
	shift := sd * sd / math.Hypot(sd, noise)
	return learned{math.Sqrt(math.Max(sd*sd-shift*shift, 0)), shift}
}

// again is what a reading tells that repeats what is fixed in those before it: the own
// error of an instrument, the height at which this set prints.
func (r *reasoner) again(want, reading belief.Look, noise float64) learned {
	left, shift := r.b.Narrowed(want, reading, noise)
	return learned{left, shift}
}

// onceMore adds to the words for a reading that it has been taken before.
func onceMore(reading string, before bool) string {
	if before {
		return reading + " once more"
	}
	return reading
}

func flat(minutes float64) func(float64) float64 { return func(float64) float64 { return minutes } }

// dimensions lists what can bring the axle back as it stands, with what is believed of
// each: of what the job asks for.
func (r *reasoner) dimensions() []dimension {
	switch r.card.Kind {
	case scenarios.DepthJob:
		return []dimension{r.depthDimension()}
	case scenarios.PreloadJob:
		return append([]dimension{r.torqueDimension(r.redoPreload())}, r.clampDimensions(r.redoPreload())...)
	}
	dims := []dimension{r.depthDimension(), r.lashDimension(), r.fitDimension(), r.torqueDimension(r.redoPreload() + r.reopen())}
	dims = append(dims, r.clampDimensions(r.redoPreload()+r.reopen())...)
	if !r.CapsTight {
		dims = append(dims, dimension{name: "the caps", close: r.costs.LooseCapsRisk * r.costs.ComebackMin, best: r.minutesOf(act.TorqueCaps), advice: "torque the caps first", lesson: "check-again", believe: "the cap bolts are only snug"})
	}
	if p := r.swings(); p > 0.03 {
		cost := p * r.costs.RunoutComebackMin
		clean, way := r.reopen()+r.minutesOf(act.CleanRingGear), "read the back face first"
		best := math.Min(cost, math.Min(r.minutesOf(act.MeasureRunout), 4)+p*clean*0.9)
		if r.without(act.MeasureRunout) {
			best, way = math.Min(cost, clean), "take the gear off and clean both faces first"
		}
		dims = append(dims, dimension{name: "runout", close: cost, best: best, advice: way, lesson: "runout", believe: fmt.Sprintf("a chance of %.0f %% that the gear swings", 100*p), reading: !r.without(act.MeasureRunout)})
	}
	return dims
}

func (r *reasoner) depthDimension() dimension {
	m, sd := r.depthError(r.depthShim)
	believe := fmt.Sprintf("depth off by %s, give or take %s", r.w.signed(m), r.w.len(2*sd))
	if r.card.Kind == scenarios.DepthJob {
		c, _ := gauge.ClassOf(gauge.DepthGauge)
		h, _, noise := r.depthLookIn(true, ownNoise(c))
		look := r.mockUpBuild()
		if r.without(act.MeasureDepth) {
			look = math.Inf(1)
		}
		return r.settleUp("pinion depth", "depth-gauge", believe, m, sd, r.depthHalf(), r.costs.ComebackMin,
			look, r.again(r.wantedShim(), h, noise), flat(r.loopMockUp()), "build in for a trial and gauge the depth")
	}
	h, _, eye := r.patternLook(bestPattern, 2)
	return r.settleUp("pinion depth", "depth-height", believe, m, sd, r.depthHalf(), r.costs.ComebackMin,
		r.minutesOf(act.PaintTeeth, act.RollGears), r.again(r.wantedShim(), h, eye), flat(r.redoDepth()), onceMore("read the print", r.told[act.RollGears]))
}

func (r *reasoner) lashDimension() dimension {
	w := r.sheet.Backlash
	m, sd := r.lash(r.back, r.tooth)
	lesson := "backlash-reading"
	if r.asNewSet(m) {
		lesson = "used-gears"
	}
	const places = 4
	h, _ := r.lashLook()
	_, _, noise := r.lashMount(gauge.Reading{Method: bestMount, Lengths: make([]quantity.Length, places)})
	return r.settleUp("backlash", lesson, fmt.Sprintf("backlash %s, give or take %s", r.w.len(m), r.w.len(2*sd)),
		m-w.Mid(), sd, w.Half(), r.costs.ComebackMin, r.minutesOf(act.MountIndicator, act.MeasureBacklash),
		r.again(h, h.Plus(1, belief.Look{dialRow: 1}), noise), flat(r.redoSides()), onceMore("read the backlash at four places", r.lashReads > 0))
}

func (r *reasoner) fitDimension() dimension {
	w := r.sheet.SidePreload
	m, sd := r.fit(r.back, r.tooth)
	return r.settleUp("side preload", "total-torque", fmt.Sprintf("side fit %s, give or take %s", r.w.fit(m), r.w.len(2*sd)),
		m-w.Mid(), sd, w.Half(), r.costs.SideComebackMin, r.minutesOf(act.MeasureTorque), afresh(sd, r.riseNoiseMM()), flat(r.redoSides()), "read the total torque")
}

// dragDimension takes what another preload costs: a drag too low only asks the nut on, if
// a spacer crushes and is not another hand's, for which nobody can vouch.
func (r *reasoner) torqueDimension(redo float64) dimension {
	w := r.spec()
	fix := func(off float64) float64 {
		if off < 0 && !r.solid() && !r.NutBackedOff && (r.opened || !r.previousTechnician()) {
			return math.Min(redo, r.nutStep()+r.under(w.Mid()+off))
		}
		return redo
	}
	m, sd := r.torque()
	return r.settleUp("pinion preload", r.preloadLesson(), "bearing drag "+r.torqueBelieved(m, sd),
		m-w.Mid(), sd, w.Half(), r.costs.ComebackMin, r.minutesOf(act.TurnPinion, act.MeasureTorque), afresh(sd, quantity.InchPounds(1.6).Nmm()), fix, onceMore("read the drag", r.Nut.Read))
}

// clampDimensions lists what may be wrong with what holds the pinion's stack.
func (r *reasoner) clampDimensions(fix float64) []dimension {
	if r.solid() {
		class, _ := gauge.ClassOf(gauge.NutWrench)
		low := r.sheet.NutLow.Nmm()
		if r.Nut.Torque.Nmm() >= low-2*class.StandardUncertainty(low, 1) || r.previousTechnician() && r.Nut.Torque.Nmm() == 0 {
			return nil
		}
		return []dimension{{name: "the pinion nut", close: r.costs.LooseClampRisk * r.costs.ComebackMin, best: r.minutesOf(act.TightenNutTorque),
			advice: "bring the nut to its torque first", lesson: "solid-spacer", believe: "the nut was last at " + r.w.tight(r.Nut.Torque.Nmm())}}
	}
	if r.NutBackedOff || r.reused {
		return []dimension{{name: "the spacer's clamp", close: r.costs.LooseClampRisk * r.costs.ComebackMin, best: fix,
			advice: "build in a new spacer and nut first", lesson: "crush-spacer", believe: "the stack is hardly clamped"}}
	}
	if r.loosened > 0.02 {
		cost := r.loosened * r.costs.LooseClampRisk * r.costs.ComebackMin
		best := math.Min(cost, r.minutesOf(act.TightenNutAngle)+r.loosened*fix)
		return []dimension{{name: "the spacer's clamp", close: cost, best: best, advice: "try the nut: it must not turn on before its torque", lesson: "crush-spacer",
			believe: fmt.Sprintf("a chance of %.0f %% that the hand before backed the nut off", 100*r.loosened), reading: true}}
	}
	return nil
}

func (r *reasoner) judgeSignOff(a act.Act) {
	dims := r.dimensions()
	switch r.card.Kind {
	case scenarios.DepthJob:
		r.omissions(a, act.InspectCups, act.InspectShimSeat, act.InspectGears, act.MeasurePinionRunout)
		r.leftIn(a, 0, fault.DirtUnderShim)
		r.leftIn(a, 0, fault.SlingerOut)
		r.leftIn(a, 0, fault.SetMixed, fault.GearForOther, fault.PinionBent)
	case scenarios.PreloadJob:
		r.omissions(a, act.InspectCups)
	default:
		r.omissions(a, act.InspectCones, act.InspectCaps, act.InspectBolts, act.InspectCups, act.TestIndicator)
		r.leftIn(a, r.reopen(), fault.CapsSwapped, fault.CapTurned)
		r.leftIn(a, r.reopen(), fault.GearOffCenter)
		r.leftIn(a, r.redoDepth(), fault.GearWarped, fault.SetMixed, fault.GearForOther, fault.PinionBent)
	}

	closeCost, best := 0.0, 0.0
	worst := -1
	for i, d := range dims {
		closeCost += d.close
		best += d.best
		if d.close-d.best > 0.5 && (worst < 0 || d.close-d.best > dims[worst].close-dims[worst].best) {
			worst = i
		}
	}
	lesson, means, way := "check-again", "every line of the sheet had been read and lay where it should", "sign"
	if worst >= 0 {
		lesson, means, way = dims[worst].lesson, dims[worst].believe, dims[worst].advice
	} else {
		means = fmt.Sprintf("expected minutes lost to comebacks, all lines together: %.0f", closeCost)
	}
	r.note(Stopping, a, lesson, closeCost-best, "all readings of the last build", means, way)
	r.weigh(Alternative{"signing", closeCost, true})
	if way != "sign" {
		r.weigh(Alternative{"what was left to read or to put right, then signing", best, false})
	}
}
