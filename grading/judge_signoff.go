package grading

import (
	"fmt"
	"math"

	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// dimension is one thing that can bring an axle back.
type dimension struct {
	name    string
	close   float64 // expected minutes if signed now
	best    float64 // with the best of measuring, correcting, or signing
	advice  string
	lesson  string
	believe string
}

// settleUp prices signing against reading once more or putting right.
func (r *reasoner) settleUp(name, lesson, believe string, mean, sd, half, comeback, read, noise, fix float64, reading string) dimension {
	risk := func(m, s float64) float64 { return comeback * average(m/half, s/half, comebackRisk) }
	d := dimension{name: name, close: risk(mean, sd), lesson: lesson, believe: believe}
	rest := half / 6
	d.best, d.advice = d.close, ""
	correct := fix + risk(rest, sd)
	if correct < d.best {
		d.best, d.advice = correct, "put "+name+" right first"
	}
	shift := sd * sd / math.Hypot(sd, noise)
	left := math.Sqrt(math.Max(sd*sd-shift*shift, 0))
	look := read + average(mean, shift, func(m float64) float64 { return math.Min(risk(m, left), fix+risk(rest, left)) })
	if look < d.best {
		d.best, d.advice = look, reading+" first"
	}
	return d
}

// dimensions lists what can bring the axle back as it stands, with what is believed of
// each: of what the job asks for.
func (r *reasoner) dimensions() []dimension {
	switch r.card.Kind {
	case scenarios.DepthJob:
		return []dimension{r.depthDimension()}
	case scenarios.PreloadJob:
		return append([]dimension{r.dragDimension(r.redoPreload())}, r.clampDimensions(r.redoPreload())...)
	}
	dims := []dimension{r.depthDimension(), r.lashDimension(), r.fitDimension(), r.dragDimension(r.redoPreload() + r.reopen())}
	dims = append(dims, r.clampDimensions(r.redoPreload()+r.reopen())...)
	if !r.capsTight {
		dims = append(dims, dimension{"the caps", looseCapRisk * comebackMinutes, r.minutesOf(act.TorqueCaps), "torque the caps first", "check-again", "the cap bolts are only snug"})
	}
	if p := r.swings(); p > 0.03 {
		cost := p * comebackMinutes / 2
		clean, way := r.reopen()+r.minutesOf(act.CleanRingGear), "read the back face first"
		best := math.Min(cost, math.Min(r.minutesOf(act.MeasureRunout), 4)+p*clean*0.9)
		if r.without(act.MeasureRunout) {
			best, way = math.Min(cost, clean), "take the gear off and clean both faces first"
		}
		dims = append(dims, dimension{"runout", cost, best, way, "runout", fmt.Sprintf("a chance of %.0f %% that the gear swings", 100*p)})
	}
	return dims
}

func (r *reasoner) depthDimension() dimension {
	m, sd := r.depthError(r.depthShim)
	believe := fmt.Sprintf("depth off by %s, give or take %s", r.w.signed(m), r.w.len(2*sd))
	if r.card.Kind == scenarios.DepthJob {
		c, _ := gauge.ClassOf(gauge.DepthGauge)
		look := r.trialBuild()
		if r.without(act.MeasureDepth) {
			look = math.Inf(1)
		}
		return r.settleUp("pinion depth", "depth-height", believe, m, sd, r.depthHalf(), comebackMinutes,
			look, c.StandardUncertainty(0, 1), r.loopTrial(), "build in for a trial and gauge the depth")
	}
	_, _, eye := r.printLook("thin coat, braked", 2)
	return r.settleUp("pinion depth", "depth-height", believe, m, sd, r.depthHalf(), comebackMinutes,
		r.minutesOf(act.PaintTeeth, act.RollGears), eye/r.gains.PrintHeightPerPinion, r.redoDepth(), "read the print")
}

func (r *reasoner) lashDimension() dimension {
	w := r.sheet.Backlash
	m, sd := r.lash(r.back, r.tooth)
	lesson := "backlash-reading"
	if r.asNewSet(m) {
		lesson = "used-gears"
	}
	return r.settleUp("backlash", lesson, fmt.Sprintf("backlash %s, give or take %s", r.w.len(m), r.w.len(2*sd)),
		m-w.Mid(), sd, w.Half(), comebackMinutes, r.minutesOf(act.MountIndicator, act.MeasureBacklash), 0.009, r.redoSides(), "read the backlash at four places")
}

func (r *reasoner) fitDimension() dimension {
	w := r.sheet.SidePreload
	m, sd := r.fit(r.back, r.tooth)
	riseNoise := 0.25 * r.gains.ReferenceRiseNmm / math.Max(r.gains.SideRisePerMM, 1)
	return r.settleUp("side preload", "total-torque", fmt.Sprintf("side fit %s, give or take %s", r.w.fit(m), r.w.len(2*sd)),
		m-w.Mid(), sd, w.Half(), sideComeback, r.minutesOf(act.MeasureDrag), riseNoise, r.redoSides(), "read the total torque")
}

func (r *reasoner) dragDimension(fix float64) dimension {
	w := r.window()
	m, sd := r.drag()
	return r.settleUp("pinion preload", r.preloadLesson(), fmt.Sprintf("bearing drag %s, give or take %s", r.w.drag(math.Max(m, 0)), r.w.drag(2*sd)),
		m-w.Mid(), sd, w.Half(), comebackMinutes, r.minutesOf(act.TurnPinion, act.MeasureDrag), quantity.InchPounds(1.6).Nmm(), fix, "read the drag")
}

// clampDimensions lists what may be wrong with what holds the pinion's stack.
func (r *reasoner) clampDimensions(fix float64) []dimension {
	if r.solid() {
		class, _ := gauge.ClassOf(gauge.NutWrench)
		low := r.sheet.NutLow.Nmm()
		if r.lastTorque >= low-2*class.StandardUncertainty(low, 1) || r.handBefore() && r.lastTorque == 0 {
			return nil
		}
		return []dimension{{"the pinion nut", clampLossRisk * comebackMinutes, r.minutesOf(act.TurnNutTorque), "bring the nut to its torque first", "solid-spacer",
			"the nut was last at " + r.w.tight(r.lastTorque)}}
	}
	if r.backedOff || r.reused {
		return []dimension{{"the spacer's clamp", clampLossRisk * comebackMinutes, fix, "build in a new spacer and nut first", "crush-spacer", "the stack is hardly clamped"}}
	}
	if r.loosened > 0.02 {
		cost := r.loosened * clampLossRisk * comebackMinutes
		best := math.Min(cost, r.minutesOf(act.TurnNutAngle)+r.loosened*fix)
		return []dimension{{"the spacer's clamp", cost, best, "try the nut: it must not turn on before its torque", "crush-spacer",
			fmt.Sprintf("a chance of %.0f %% that the hand before backed the nut off", 100*r.loosened)}}
	}
	return nil
}

func (r *reasoner) judgeSignOff(a act.Act) {
	dims := r.dimensions()
	switch r.card.Kind {
	case scenarios.DepthJob:
		r.omissions(a, act.LookCups, act.LookShimSeat, act.LookGears, act.MeasurePinionRunout)
		r.leftIn(a, 0, truth.DirtUnderShim)
		r.leftIn(a, 0, truth.SlingerOut)
		r.leftIn(a, 0, truth.SetMixed, truth.GearForOther, truth.PinionBent)
	case scenarios.PreloadJob:
		r.omissions(a, act.LookCups)
	default:
		r.omissions(a, act.LookCones, act.LookCaps, act.LookBolts, act.LookCups, act.TestIndicator)
		r.leftIn(a, r.reopen(), truth.CapsSwapped, truth.CapTurned)
		r.leftIn(a, r.reopen(), truth.GearOffCentre)
		r.leftIn(a, r.redoDepth(), truth.GearWarped, truth.SetMixed, truth.GearForOther, truth.PinionBent)
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
	r.weigh(Alternative{"sign", closeCost, true})
	if way != "sign" {
		r.weigh(Alternative{"what was left to read or to put right, then sign", best, false})
	}
}
