package grading

import (
	"fmt"
	"math"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

func (r *reasoner) depthHalf() float64 { return r.sheet.DepthToleranceMM }

// depthCost is the price of building finally on a shim that is off by a normal
// error of the given mean and spread.
func (r *reasoner) depthCost(mean, sd float64) float64 {
	redo := r.redoDepth()
	return average(mean/r.depthHalf(), sd/r.depthHalf(), func(z float64) float64 { return r.leaveOrRedo(z, r.costs.ComebackMin, redo) })
}

// bestShim is the stocked shim with the least expected price, and that price.
func (r *reasoner) bestShim() (size, cost float64) {
	cost = math.Inf(1)
	for _, s := range r.sheet.DepthShims.Sizes() {
		m, sd := r.depthError(s)
		if c := r.depthCost(m, sd); c < cost-1e-9 {
			size, cost = s, c
		}
	}
	return size, cost
}

// trialCost is the price of a trial build on a marked size, height read once, and
// the best that can then be done.
func (r *reasoner) mockUpCost(size float64) float64 {
	c, _ := gauge.ClassOf(gauge.DepthGauge)
	h, _ := r.tooFarOut()
	h[gaugeRow], h[tallRow], h[markRow] = 1, -1, 0
	left, shift := r.b.Narrowed(r.wantedShim(), h, ownNoise(c))
	m, _ := r.depthError(size)
	after := average(m, shift, func(mean float64) float64 {
		keep := r.depthCost(mean, left)
		// Another shim, to the nearest step, without a further trial.
		rest := math.Mod(math.Abs(mean), r.sheet.DepthShims.StepMM)
		rest = math.Min(rest, r.sheet.DepthShims.StepMM-rest)
		change := r.minutesOf(act.FitDepthShim) + r.depthCost(rest, left)
		return math.Min(keep, change)
	})
	return r.mockUpBuild() + after
}

func (r *reasoner) judgePinion(a act.Act) {
	final := a.Choices[0] == "final"
	bestSize, bestFinal := r.bestShim()
	// A trial on the best shim first.
	bestMockUp := r.mockUpCost(bestSize)
	best := math.Min(bestFinal, bestMockUp)
	if r.without(act.MeasureDepth) {
		best = bestFinal // a trial shows nothing without the gauge
	}
	m, sd := r.depthError(r.depthShim)
	chosen, bestOfKind := r.mockUpCost(r.depthShim), bestMockUp
	if final {
		chosen, bestOfKind = r.depthCost(m, sd), bestFinal
	}
	lesson := "depth-gauge"
	switch {
	case r.told[act.RollGears]:
		lesson = "depth-height"
	case !r.gauged && r.sheet.Marks.Known():
		lesson = "depth-mark"
	}
	k := r.card.Known
	knew := "old shim " + r.w.len(k.OldDepthShim.MM())
	if r.sheet.Marks.Known() {
		knew += fmt.Sprintf(", old mark %s, new mark %s", r.w.signed(k.OldMark.MM()), r.w.signed(k.NewMark.MM()))
	}
	if r.gauged {
		knew += ", and the height as gauged"
	}
	// Whether to try first is a choice about reading; which shim is a choice
	// about depth. Each is charged where it belongs.
	// A job that ends with the depth has no final build to find an error in.
	if kind := bestOfKind - best; kind > r.costs.AllowanceMin && r.card.Kind != scenarios.DepthJob {
		if final {
			r.note(Looking, a, "depth-gauge", kind, knew, "the old shim and the marks only make a start",
				"a trial build and the depth gauge first")
		} else {
			r.note(Looking, a, "depth-gauge", kind, knew, fmt.Sprintf("the right shim was known to %s", r.w.len(2*sd)),
				"go to the final build; the print will check the depth")
		}
	}
	right, _ := r.b.Of(r.wantedShim())
	r.note(Depth, a, lesson, chosen-bestOfKind, knew,
		fmt.Sprintf("the right shim is about %s, give or take %s", r.w.len(right), r.w.len(2*sd)),
		fmt.Sprintf("the %s shim", r.w.len(bestSize)))
	way, price := "a trial build on %s", r.mockUpCost
	if final {
		way, price = "a final build on %s", func(mm float64) float64 {
			m, sd := r.depthError(mm)
			return r.depthCost(m, sd)
		}
	}
	r.weigh(r.sizes(r.sheet.DepthShims, way, bestSize, r.depthShim, price)...)
	r.weigh(Alternative{fmt.Sprintf("a final build on %s", r.w.len(bestSize)), bestFinal, false},
		Alternative{fmt.Sprintf("a trial build on %s", r.w.len(bestSize)), bestMockUp, false})
	if final {
		r.omissions(a, act.InspectCups, act.InspectShimSeat, act.InspectGears, act.MeasurePinionRunout, act.InspectBearings, act.InspectSpacer, act.InspectSeal)
		r.leftIn(a, 0, fault.InnerCupHigh, fault.OuterCupHigh)
		r.leftIn(a, 0, fault.DirtUnderShim)
		r.leftIn(a, 0, fault.SlingerOut)
		r.leftIn(a, 0, fault.SetMixed, fault.GearForOther, fault.PinionBent)
		r.leftIn(a, 0, fault.BearingNotched)
		r.leftIn(a, 0, fault.BearingGritty)
		r.leftIn(a, 0, fault.NutUsed)
		r.leftBeside(a, fault.BeforePinion)
	}
}

// judgeCageShim judges another shim under the flange of a cage that is in: it costs its
// minutes and the side bearings' setting, and no preload.
func (r *reasoner) judgeCageShim(a act.Act) {
	if r.Pinion != history.PinionFinal {
		return // nothing is built on it yet
	}
	price := func(marked float64) float64 {
		m, sd := r.depthError(marked)
		cost := r.redoDepth() * average(m/r.depthHalf(), sd/r.depthHalf(), r.costs.RedoRisk)
		if marked != r.depthShim {
			cost += r.redoDepth() / 2
		}
		return cost
	}
	best, bestSize := math.Inf(1), r.depthShim
	for _, s := range r.sheet.DepthShims.Sizes() {
		if c := price(s); c < best-1e-9 {
			best, bestSize = c, s
		}
	}
	chosen := r.sheet.DepthShims.Nearest(lengthMM(a, 0))
	right, sd := r.b.Of(r.wantedShim())
	way := fmt.Sprintf("the %s shim", r.w.len(bestSize))
	if bestSize == r.depthShim {
		way = "leave the shim that is in"
	}
	r.note(Depth, a, "cage-shim", price(chosen)-best, "the gauge, the print and what shim is in",
		fmt.Sprintf("the right shim is about %s, give or take %s; under this flange thicker is shallower", r.w.len(right), r.w.len(2*sd)), way)
	r.weigh(r.sizes(r.sheet.DepthShims, "the %s shim", bestSize, chosen, price)...)
}

// depthValue is the price of going on with the depth as believed, or of changing it.
func (r *reasoner) depthValue(mean, sd, wrong, fix float64) float64 {
	half := r.depthHalf()
	keep := wrong * average(mean/half, sd/half, r.costs.RedoRisk)
	rest := r.sheet.DepthShims.StepMM / 4
	change := fix + wrong*average(rest/half, sd/half, r.costs.RedoRisk)
	return math.Min(keep, change)
}

// bestPrint is how a print is taken that tells most.
var bestPattern = gauge.Method{Coat: act.Thin, Load: act.Braked}

// judgeDepthReading judges reading the gauge or a print: whether to, and how. A print that
// tells less than one well taken is charged what it leaves to be found out.
func (r *reasoner) judgeDepthReading(a act.Act, o history.Step) {
	m, sd := r.depthError(r.depthShim)
	wrong, fix := r.redoDepth(), r.loopMockUp()
	if r.Pinion == history.PinionFinal {
		wrong, fix = r.costs.ComebackMin, r.redoDepth()
	}
	now := r.depthValue(m, sd, wrong, fix)
	worthOf := func(h belief.Look, noise float64) float64 {
		left, shift := r.b.Narrowed(r.wantedShim(), h, noise)
		return now - average(m, shift, func(x float64) float64 { return r.depthValue(x, left, wrong, fix) })
	}
	cost := r.minutesOf(a.Form)
	lesson := "depth-height"
	var worth, poorer float64
	if a.Form == act.MeasureDepth {
		lesson = "depth-gauge"
		c, _ := gauge.ClassOf(gauge.DepthGauge)
		h, _, noise := r.depthLook(ownNoise(c))
		worth = worthOf(h, noise)
		if r.told[act.MeasureDepth] && r.gaugeReads > 0 {
			// The gauge's own error does not average out; the row for it sees to that.
			lesson = "trust-instruments"
		}
	} else {
		how := howRead(o, gauge.Method{Coat: act.Thin, Load: a.Choices[0]})
		h, _, noise := r.patternLook(how, 2)
		worth = worthOf(h, noise)
		h, _, noise = r.patternLook(bestPattern, 2)
		poorer = math.Max(worthOf(h, noise)-worth, 0)
		cost += r.minutesOf(act.PaintTeeth)
	}
	if a.Form == act.RollGears && !r.told[act.RollGears] {
		worth = math.Max(worth, cost) // the sheet asks for one print in any case
	}
	r.told[a.Form] = true
	way := r.valueWords(worth, cost)
	if poorer > math.Max(cost-worth, 0) {
		way = "a thin coat and the ring gear braked: the print is then twice as sharp and more"
	}
	r.note(Looking, a, lesson, math.Max(cost-worth, 0)+poorer, "the readings before this one",
		fmt.Sprintf("the pinion's place was known to about %s", r.w.len(2*sd)), way)
	r.readOrGoOn(cost, worth-poorer)
}

// howRead is how a reading was taken, as anyone knows before it is read.
func howRead(o history.Step, usual gauge.Method) gauge.Method {
	if len(o.Readings) == 0 {
		return usual
	}
	return o.Readings[0].Method
}

func (r *reasoner) valueWords(worth, cost float64) string {
	if worth >= cost-r.costs.AllowanceMin {
		return "worth its minutes"
	}
	return "enough was known already: go on"
}
