package grading

import (
	"fmt"
	"math"

	"shimwright/grading/belief"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// packCost is the price of a pack, mm: what it takes to build in another.
func (r *reasoner) preloadShimCost(preloadShimMM float64) float64 {
	was := r.shims
	r.shims = preloadShimMM
	defer func() { r.shims = was }()
	m, sd := r.finalTorque()
	w := r.spec()
	return r.overshoot() * average((m-w.Mid())/w.Half(), sd/w.Half(), r.costs.RedoRisk)
}

// finalDrag is the drag a final build with the pack in hand would have.
func (r *reasoner) finalTorque() (mean, sd float64) {
	was := r.Pinion
	r.Pinion = history.PinionFinal
	defer func() { r.Pinion = was }()
	return r.torque()
}

// judgePack judges the pack of a solid spacer as it is built in.
func (r *reasoner) judgePreloadShims(a act.Act) {
	best, bestPreloadShims := math.Inf(1), 0.0
	for _, p := range r.design.Solid.PreloadShims.Sizes() {
		if c := r.preloadShimCost(p); c < best-1e-9 {
			best, bestPreloadShims = c, p
		}
	}
	// A pack chosen to be read is as good as one chosen to stay, while the spread of
	// what is known is wider than the window.
	m, sd := r.finalTorque()
	chosen := r.preloadShimCost(r.shims)
	if w := r.spec(); !r.preloadShimsRead && sd > w.Half() && math.Abs(m-w.Mid()) < 2*sd {
		chosen = math.Min(chosen, best)
	}
	knew := "the old pack " + r.w.len(r.card.Known.OldPreloadShims.MM())
	if r.design.DepthShim == family.BehindInnerCup {
		knew += fmt.Sprintf(" with the old depth shim %s; the shim in is %s", r.w.len(r.card.Known.OldDepthShim.MM()), r.w.len(r.depthShim))
	}
	if r.preloadShimsRead {
		knew = "the drag, or the play, of the packs tried"
	}
	r.note(Preload, a, r.preloadShimLesson(bestPreloadShims), chosen-best, knew,
		"this pack should give a bearing drag of "+r.torqueBelieved(m, sd),
		fmt.Sprintf("a pack of %s", r.w.len(bestPreloadShims)))
	r.weigh(r.sizes(r.design.Solid.PreloadShims, "a pack of %s", bestPreloadShims, r.shims, r.preloadShimCost)...)
}

// packLesson tells a pack that did not follow its depth shim, or followed it the wrong
// way, from one that is wrong by itself: it would have been nearer right with the shim
// that was in before.
func (r *reasoner) preloadShimLesson(bestPreloadShims float64) string {
	const nearer = 0.6 // a wrong way leaves one part in two, and sizes come in steps
	off, moved := r.shims-bestPreloadShims, r.depthShim-r.preloadDepthShim
	if r.design.DepthShim == family.BehindInnerCup && math.Abs(off+moved) < nearer*math.Abs(off) {
		return "cup-shim"
	}
	return "solid-spacer"
}

// judgeHoldingNut judges the nut of a solid spacer: it has a torque to be at, no more.
func (r *reasoner) judgeHoldingNut(a act.Act, o history.Step) {
	high := r.sheet.NutHigh.Nmm()
	class, _ := gauge.ClassOf(gauge.NutWrench)
	for _, rd := range o.Readings {
		if rd.Kind != gauge.NutTorque || len(rd.Torques) == 0 {
			continue
		}
		over := rd.Torques[0].Nmm() - high - 2*class.StandardUncertainty(high, 1)
		if over <= 0 {
			return
		}
		lesson := "solid-spacer"
		if a.Form == act.TightenNutAngle {
			lesson = "preload-design" // turned on by degrees, as if something would crush
		}
		r.note(Preload, a, lesson, r.costs.StrippedNutMin, "the sheet's torque for the nut",
			"a solid spacer does not give: past the torque the nut and the stem do", "stop inside the sheet's torque; another pack changes the drag")
	}
}

// under is the price of a drag still short of its window: the pulls left to make. While
// there is end play a pull is only felt; after that each is turned in and read.
func (r *reasoner) under(torqueNmm float64) float64 {
	const oneStepNmm = 900 // what a careful pull is good for; further off takes more, but ever longer ones
	gap := r.spec().LowNmm - math.Max(torqueNmm, 0)
	if gap <= 0 {
		return 0
	}
	cost := r.nutStep() * (1 + math.Log(1+gap/oneStepNmm))
	if torqueNmm < 0 {
		cost += r.minutesOf(act.TightenNutAngle) * math.Log(1-torqueNmm/oneStepNmm)
	}
	return cost
}

func (r *reasoner) overshoot() float64 {
	cost := r.redoPreload()
	if r.CaseIn {
		cost += r.reopen()
	}
	return cost
}

// dragCost is the price of a believed drag: a new spacer above the window, further
// pulls below it. mean and sd are N·mm.
func (r *reasoner) torqueCost(mean, sd float64) float64 {
	w := r.spec()
	over := r.overshoot()
	width := r.costs.EdgeHalfSpecs * w.Half()
	return average(mean, sd, func(y float64) float64 {
		return over*logistic((y-w.HighNmm)/width) + r.under(y)
	})
}

// dragAfter is the drag expected after turning the nut.
func (r *reasoner) torqueAfter(degrees float64) (mean, sd float64) {
	m, s := r.torque()
	slope := r.gains.TorquePerDegreeNmm
	return m + slope*degrees, math.Hypot(s, 0.15*slope*degrees+0.5*slope)
}

// dragAtTorque is the drag expected where the wrench stops. What torque crushes a
// spacer is known only to a fifth before it has been felt.
func (r *reasoner) torqueAtNut(torqueNmm float64) (mean, sd float64) {
	w := r.spec()
	m, s := r.torque()
	if r.Nut.Contact && r.Nut.Torque.Nmm() > 0 {
		return m + (torqueNmm-r.Nut.Torque.Nmm())/r.gains.NutPerTorqueNmm, math.Hypot(s, 0.05*r.Nut.Torque.Nmm()/r.gains.NutPerTorqueNmm)
	}
	const spread = 0.20
	mean = w.Mid() + (torqueNmm-r.gains.NutAtTargetNmm)/r.gains.NutPerTorqueNmm
	return math.Max(mean, m), spread * r.gains.NutAtTargetNmm / r.gains.NutPerTorqueNmm
}

func (r *reasoner) judgeNut(a act.Act) {
	w := r.spec()
	var m, sd float64
	if a.Form == act.TightenNutAngle {
		m, sd = r.torqueAfter(a.Amounts[0].Number)
	} else {
		t, _ := a.Amounts[0].Torque()
		m, sd = r.torqueAtNut(t.Nmm())
	}
	pull := r.minutesOf(act.TightenNutAngle)
	chosen := pull + r.torqueCost(m, sd)
	best, bestDeg := math.Inf(1), 0.0
	for _, deg := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 45, 60, 90, 120} {
		mm, ss := r.torqueAfter(deg)
		if c := pull + r.torqueCost(mm, ss); c < best {
			best, bestDeg = c, deg
		}
	}
	way := fmt.Sprintf("about %.0f degrees, then turn the pinion and read", bestDeg)
	m0, sd0 := r.torque()
	// Leaving the nut alone is an alternative once there is preload.
	if stay := r.torqueCost(m0, sd0); r.Nut.Contact && stay < best {
		best, way = stay, "leave the nut: the drag is where it belongs"
	}
	// So is reading first, when the last pull has not been read.
	if r.Nut.Contact && !r.Nut.Read {
		if c := r.readFirst(m0, sd0); c < best {
			best, way = c, "turn the pinion and read the drag before the nut moves again"
		}
	}
	means := fmt.Sprintf("bearing drag was %s; the window is %s to %s without the seal",
		r.torqueBelieved(m0, sd0), r.w.torque(w.LowNmm), r.w.torque(w.HighNmm))
	if m0 < 0 {
		means = "there was still end play to take out, and the window is only a few degrees wide once it has gone"
	}
	r.note(Preload, a, "crush-spacer", chosen-best, r.torqueKnown(), means, way)
	r.weigh(Alternative{"this pull: " + a.String(), chosen, true}, Alternative{way, best, false})
	for _, deg := range []float64{bestDeg / 2, bestDeg * 2} {
		mm, ss := r.torqueAfter(deg)
		r.weigh(Alternative{fmt.Sprintf("about %.3g degrees, then turn the pinion and read", deg), pull + r.torqueCost(mm, ss), false})
	}
}

// dragBelieved puts a believed bearing drag into words, N·mm. Where nothing has been read
// there is no figure to give or take from.
func (r *reasoner) torqueBelieved(mean, sd float64) string {
	mean = math.Max(mean, 0)
	if 2*sd > r.spec().HighNmm {
		return "anything up to about " + r.w.torque(mean+2*sd)
	}
	return fmt.Sprintf("about %s, give or take %s", r.w.torque(mean), r.w.torque(2*sd))
}

func (r *reasoner) torqueKnown() string {
	switch {
	case r.Nut.Read:
		return "the drag, read since the last pull"
	case r.Nut.Contact:
		return "no end play; the drag had not been read since the last pull"
	case r.Nut.Torque.Nmm() > 0:
		return "end play at the flange, nut torque " + r.w.tight(r.Nut.Torque.Nmm())
	}
	return "the nut finger tight"
}

// readFirst is the price of reading the drag and then choosing a pull.
func (r *reasoner) readFirst(mean, sd float64) float64 {
	class, _ := gauge.ClassOf(gauge.LowRangeWrench)
	noise := class.StandardUncertainty(math.Max(mean, 500), 1)
	shift := sd * sd / math.Hypot(sd, noise)
	left := math.Sqrt(math.Max(sd*sd-shift*shift, 0))
	slope := r.gains.TorquePerDegreeNmm
	after := belief.Expect(mean, shift, func(m float64) float64 {
		best := r.torqueCost(m, left)
		for _, deg := range []float64{1, 2, 3, 5, 8, 12, 20} {
			s := math.Hypot(left, 0.15*slope*deg+0.5*slope)
			best = math.Min(best, r.minutesOf(act.TightenNutAngle)+r.torqueCost(m+slope*deg, s))
		}
		return best
	})
	return r.minutesOf(act.TurnPinion, act.MeasureTorque) + after
}

func (r *reasoner) judgeBackOff(a act.Act) {
	if r.solid() || !r.Nut.Contact && r.Nut.Torque.Nmm() < 0.5*r.sheet.NutLow.Nmm() {
		return // a spacer that has not been crushed loses nothing
	}
	w := r.spec()
	m, sd := r.torque()
	over := average(m, sd, func(y float64) float64 { return logistic((y - w.HighNmm) / (r.costs.EdgeHalfSpecs * w.Half())) })
	// Whatever the drag was, the build has to come out now; if it was over, it
	// had to anyway, and the back-off only wasted time and hid it.
	lost := (1-over)*r.overshoot() + r.costs.BackedOffNutMin
	r.note(Preload, a, "crush-spacer", lost, "the spacer had been crushed this far",
		"loosened, it springs back a few hundredths and holds little: the drag can read right while the clamp is gone",
		"a new spacer and nut if the drag was too high; otherwise leave it")
}

func (r *reasoner) preloadLesson() string {
	if r.solid() {
		return "solid-spacer"
	}
	return "crush-spacer"
}
