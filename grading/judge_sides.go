package grading

import (
	"fmt"
	"math"

	"shimwright/grading/belief"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// judgeSpread judges how far a housing is spread.
func (r *reasoner) judgeSpread(a act.Act) {
	over := lengthMM(a, 0) - r.sheet.SpreadLimitMM
	if over <= 1e-9 {
		return
	}
	r.note(Sides, a, "side-shims", r.costs.SpreadTooFarMin, "the sheet's limit for spreading, "+r.w.len(r.sheet.SpreadLimitMM),
		"past it the housing stays wider and the side preload is gone with it", "open only as far as the case needs, inside the limit")
}

// sideLesson is the lesson on how this axle's sides are set.
func (r *reasoner) sideLesson() string {
	if r.rings() {
		return "bearing-adjusters"
	}
	return "side-shims"
}

// placeLesson is the lesson for where the ring gear was put, with the backlash that is
// believed to come of it, mm. Before any was read nobody could aim at one.
func (r *reasoner) placeLesson(lashMM float64) string {
	if r.told[act.MeasureBacklash] && r.asNewSet(lashMM) {
		return "used-gears"
	}
	return r.sideLesson()
}

// asNewSet reports whether used gears have, or would have, a backlash that is right for
// a new set and not for them.
func (r *reasoner) asNewSet(lashMM float64) bool {
	return r.card.UsedGears && r.card.NewBacklash.Holds(lashMM) && !r.sheet.Backlash.Holds(lashMM)
}

// ringsCost is the price of torquing the caps with the rings so far in, mm.
func (r *reasoner) ringsCost(back, tooth float64, price fitPrice) float64 {
	lm, ls := r.lash(back, tooth)
	fm, fs := r.fit(back, tooth)
	return r.sideCost(fm, fs, lm, ls, price)
}

// bestRings searches the half slots about what is believed right.
func (r *reasoner) bestRings() (back, tooth, cost float64) {
	half := r.design.Rings.NotchTravelMM() / 2
	line, _ := r.b.Of(belief.Look{lineRow: 1})
	lm, _ := r.lash(0, 0)
	diff := 2 * (lm - r.sheet.Backlash.Mid()) / r.gains.BacklashPerRing
	sum := line + r.sheet.SidePreload.Mid()
	b0, t0 := math.Round((sum+diff)/2/half), math.Round((sum-diff)/2/half)
	cost = math.Inf(1)
	price := r.fitPrices()
	const around = 3
	for db := -around; db <= around; db++ {
		for dt := -around; dt <= around; dt++ {
			b, t := (b0+float64(db))*half, (t0+float64(dt))*half
			if c := r.ringsCost(b, t, price); c < cost-1e-9 {
				back, tooth, cost = b, t, c
			}
		}
	}
	return back, tooth, cost
}

// slots says how a ring is to be turned from where it is.
func (r *reasoner) notches(ring string, fromMM, toMM float64) string {
	n := math.Round(2*(toMM-fromMM)/r.design.Rings.NotchTravelMM()) / 2
	switch {
	case n > 0:
		return fmt.Sprintf("%s in %g", ring, n)
	case n < 0:
		return fmt.Sprintf("%s out %g", ring, -n)
	}
	return ring + " as it is"
}

// judgeRings judges where the rings stand when the caps are torqued over them.
func (r *reasoner) judgeRings(a act.Act) {
	back, tooth, best := r.bestRings()
	chosen := r.ringsCost(r.back, r.tooth, r.fitCost)
	fm, fs := r.fit(r.back, r.tooth)
	lm, ls := r.lash(r.back, r.tooth)
	knew := "the rings as they were run up by hand"
	if r.told[act.MeasureEndPlay] {
		knew += ", the end play"
	}
	if r.told[act.MeasureBacklash] {
		knew += ", the backlash read so far"
	}
	way := r.notches("ring-gear-adjuster", r.back, back) + ", " + r.notches("opposite-adjuster", r.tooth, tooth)
	r.note(Sides, a, r.placeLesson(lm), chosen-best, knew,
		fmt.Sprintf("so set there should be %s, give or take %s, and backlash about %s, give or take %s",
			r.w.fit(fm), r.w.len(2*fs), r.w.len(lm), r.w.len(2*ls)), way)
	r.weigh(Alternative{way, best, false}, Alternative{"the rings as they stood", chosen, true})
}

// A fitPrice is fitCost, perhaps kept in mind.
type fitPrice func(mean, sd float64) (cost, again float64)

// fitPrices is fitCost for a search: pairs of one total have one price.
func (r *reasoner) fitPrices() fitPrice {
	type prices struct{ cost, again float64 }
	known := map[[2]int64]prices{}
	return func(mean, sd float64) (float64, float64) {
		const sameMM = 1e-6
		at := [2]int64{int64(math.Round(mean / sameMM)), int64(math.Round(sd / sameMM))}
		p, ok := known[at]
		if !ok {
			p.cost, p.again = r.fitCost(mean, sd)
			known[at] = p
		}
		return p.cost, p.again
	}
}

// sideCost is the price of putting a pair in.
func (r *reasoner) sideCost(fitMean, fitSD, lashMean, lashSD float64, price fitPrice) float64 {
	sh := r.sheet
	redo := r.redoSides()
	half := sh.Backlash.Half()
	moved := 0.0 // chance that the backlash asks for another pair
	lash := average((lashMean-sh.Backlash.Mid())/half, lashSD/half, func(z float64) float64 { return r.leaveOrRedo(z, r.costs.ComebackMin, redo) })
	if alone := r.leaveOrRedo(math.Inf(1), r.costs.ComebackMin, redo); alone > 0 {
		moved = math.Min(lash/alone, 1)
	}
	fit, again := price(fitMean, fitSD)
	cost := lash + fit - redo*moved*again // one more time puts both right
	if !r.rings() {
		limit := sh.SpreadLimitMM
		if r.design.Entry == family.Spreader {
			limit = r.spread + 0.05
		}
		no := average(fitMean, fitSD, func(x float64) float64 { return logistic((x - limit) / 0.01) })
		cost += r.minutesOf(act.FitCase, act.FitSideShims) * no
	}
	return cost
}

// playKnownMM is what an end-play reading of a loose pack leaves unsure of the total.
const playKnownMM = 0.010

// riseNoiseMM is how well the rise of the total torque tells the side-bearing fit.
func (r *reasoner) riseNoiseMM() float64 {
	return 0.25 * r.gains.ReferenceRiseNmm / math.Max(r.gains.SideRisePerMM, 1)
}

// fitCost is the price of a side-bearing fit that only the total torque will tell of: left,
// or done again, with a loose pack first if the torque says too little. again is the chance
// that it is done again.
func (r *reasoner) fitCost(mean, sd float64) (cost, again float64) {
	w := r.sheet.SidePreload
	off, half, noise := mean-w.Mid(), w.Half(), r.riseNoiseMM()
	risk := func(m, s float64) float64 {
		return r.costs.SideComebackMin * average(m/half, s/half, r.costs.ComebackRisk)
	}
	shift := sd * sd / math.Hypot(sd, noise)
	left := math.Sqrt(math.Max(sd*sd-shift*shift, 0))
	redo := r.redoSides() + risk(restHalfSpecs*half, left)
	if !r.rings() {
		redo = math.Min(redo, r.redoSides()+r.looseLoop()+risk(restHalfSpecs*half, math.Min(left, playKnownMM)))
	}
	var keep []float64 // at each step of the average
	cost = average(off, shift, func(m float64) float64 {
		keep = append(keep, risk(m, left))
		return math.Min(keep[len(keep)-1], redo)
	})
	step := 0
	again = average(off, shift, func(float64) float64 {
		step++
		if keep[step-1] <= redo {
			return 0
		}
		return 1
	})
	return cost, again
}

// looseLoop is having a loose pack in, its end play read, and out again.
func (r *reasoner) looseLoop() float64 {
	return r.minutesOf(act.FitCase, act.TorqueCaps, act.MeasureEndPlay, act.RemoveCase, act.FitSideShims)
}

// bestSides returns the price of the best shims or ring places, with the interference
// known to within fitSD, mm.
func (r *reasoner) bestSides(fitSD float64) float64 {
	if r.rings() {
		_, _, cost := r.bestRings()
		return cost
	}
	_, _, cost := r.bestPair(fitSD)
	return cost
}

// bestPair searches the shelf. Total and difference matter apart, so each is
// searched by itself and the nearest pair of both is priced.
func (r *reasoner) bestPair(fitSD float64) (back, tooth, cost float64) {
	cost = math.Inf(1)
	price := r.fitPrices()
	sizes := r.sheet.SideShims.Sizes()
	step := r.sheet.SideShims.StepMM
	line, _ := r.b.Of(belief.Look{lineRow: 1})
	for i, b := range sizes {
		for j, t := range sizes {
			// Only pairs near the preload wanted can be best.
			if math.Abs(b+t-line-r.sheet.SidePreload.Mid()) > 1.5*step {
				continue
			}
			lm, ls := r.lash(b, t)
			if math.Abs(lm-r.sheet.Backlash.Mid()) > 2*step && i > 0 && j > 0 {
				continue
			}
			fm, _ := r.fit(b, t)
			if c := r.sideCost(fm, fitSD, lm, ls, price); c < cost-1e-9 {
				back, tooth, cost = b, t, c
			}
		}
	}
	return back, tooth, cost
}

// looseCost is the price of a loose pack to read the end play, and the best pair
// after it.
func (r *reasoner) looseCost(fitMean, fitSD float64) float64 {
	_, _, after := r.bestPair(playKnownMM)
	tight := average(fitMean, fitSD, func(x float64) float64 { return logistic(x / 0.01) })
	loop := r.looseLoop()
	return loop + after + tight*loop
}

func (r *reasoner) judgeCase(a act.Act) {
	fm, fs := r.fit(r.back, r.tooth)
	lm, ls := r.lash(r.back, r.tooth)
	back, tooth, best := r.bestPair(fs)
	bestTight := best
	line, _ := r.b.Of(belief.Look{lineRow: 1})
	way := fmt.Sprintf("back %s, tooth %s", r.w.len(back), r.w.len(tooth))
	if math.IsInf(best, 1) {
		best = r.sideCost(fm, fs, lm, ls, r.fitCost)
	}
	const slackMM = 0.15
	if c := r.looseCost(-slackMM, fs); c < best && !r.without(act.MeasureEndPlay) {
		best = c
		way = fmt.Sprintf("a loose pack of about %s in all first, and its end play read", r.w.len(line-slackMM))
	}
	chosen := r.sideCost(fm, fs, lm, ls, r.fitCost)
	if fm < 0.02 && !r.without(act.MeasureEndPlay) {
		chosen = math.Min(chosen, r.looseCost(fm, fs))
	}
	knew := "the old side shims"
	if r.told[act.MeasureEndPlay] {
		knew += ", the end play of a loose pack"
	}
	if r.told[act.MeasureBacklash] {
		knew += ", the backlash read so far"
	}
	r.note(Sides, a, r.placeLesson(lm), chosen-best, knew,
		fmt.Sprintf("this pair should give %s, give or take %s, and backlash about %s, give or take %s",
			r.w.fit(fm), r.w.len(2*fs), r.w.len(lm), r.w.len(2*ls)), way)
	r.weigh(Alternative{fmt.Sprintf("back %s, tooth %s", r.w.len(r.back), r.w.len(r.tooth)), chosen, true}, Alternative{way, best, false},
		Alternative{fmt.Sprintf("back %s, tooth %s", r.w.len(back), r.w.len(tooth)), bestTight, false})
	if p := r.swings(); p > 0.5 && r.told[act.MeasureBacklash] {
		r.note(Looking, a, "runout", p*r.redoSides(), "readings that rise and fall once round the gear",
			"no side shim cures that: something behind the ring gear tilts it", r.gearOff())
	}
}

// gearOff is what to do about a gear that swings.
func (r *reasoner) gearOff() string {
	if r.without(act.MeasureCaseRunout) {
		return "take the gear off, clean both faces"
	}
	return "take the gear off, clean both faces, read the bare flange"
}

// lashValue is the price of going on with the backlash as believed, or of changing it.
func (r *reasoner) lashValue(mean, sd float64) float64 {
	w := r.sheet.Backlash
	risk := func(off float64) float64 {
		return r.costs.ComebackMin * average(off/w.Half(), sd/w.Half(), r.costs.ComebackRisk)
	}
	return math.Min(risk(mean-w.Mid()), r.redoSides()+risk(restHalfSpecs*w.Half()))
}

// lashWorth is what a backlash reading at so many places is worth with the indicator set up
// in a way, minutes. From three places on it also shows a gear that swings.
func (r *reasoner) lashWorth(how gauge.Method, places int) float64 {
	h, _ := r.lashLook()
	_, _, noise := r.lashMount(gauge.Reading{Method: how, Lengths: make([]quantity.Length, places)})
	m, sd := r.lash(r.back, r.tooth)
	left, shift := r.b.Narrowed(h, h.Plus(1, belief.Look{dialRow: 1}), noise)
	worth := r.lashValue(m, sd) - average(m, shift, func(x float64) float64 { return r.lashValue(x, left) })
	if places >= placesForRunout {
		worth += math.Min(r.swings(), 0.5) * r.costs.RunoutLateMin
	}
	return worth
}

// placesForRunout is how many places round the gear show that it swings.
const placesForRunout = 3

// bestMount is how an indicator stands that reads backlash best.
var bestMount = gauge.Method{Place: act.Heel, Plunger: act.Square, Pinion: act.PinionHeld}

// judgeLashReading judges reading the backlash: whether to, at how many places, and with
// the indicator set up how, against the best way of reading it at that moment.
func (r *reasoner) judgeLashReading(a act.Act, o history.Step) {
	n := int(a.Amounts[0].Number)
	minutes := func(places int) float64 { return r.costs.TimeOf(r.design, act.MeasureBacklash, places) }
	mount := 0.0
	if r.lashReads == 0 {
		mount = r.minutesOf(act.MountIndicator)
	}
	m, sd := r.lash(r.back, r.tooth)
	how := howRead(o, bestMount)
	worth, cost := r.lashWorth(how, n), mount+minutes(n)
	best, places := 0.0, 0 // of what reading gains
	if r.lashReads == 0 {
		best = math.Inf(-1) // each build's backlash has to be read once
	}
	for p := 1; p <= 8; p++ {
		if gain := r.lashWorth(bestMount, p) - mount - minutes(p); gain > best {
			best, places = gain, p
		}
	}
	r.told[act.MeasureBacklash] = true
	way := r.valueWords(worth, cost)
	lost := best - (worth - cost)
	if places > 0 && lost > r.costs.AllowanceMin {
		way = fmt.Sprintf("heel, stem square, pinion held, caps at torque, and about %d places round the gear", places)
	}
	r.note(Looking, a, "backlash-reading", lost, "the pair fitted and what was read before",
		fmt.Sprintf("backlash was expected at %s, give or take %s", r.w.len(m), r.w.len(2*sd)), way)
	ways := []Alternative{{"this reading", cost - worth, true}}
	if r.lashReads > 0 {
		ways = append(ways, Alternative{"going on without it", 0, false})
	}
	if places > 0 {
		ways = append(ways, Alternative{fmt.Sprintf("heel, square, pinion held, %d places", places), -best, false})
	}
	r.weigh(ways...)
	if !r.CapsTight && !r.rings() {
		tight := *r
		tight.CapsTight = true
		r.note(Looking, a, "backlash-reading", tight.lashWorth(how, n)-worth, "the cap bolts were only snug",
			"the case still moves when they come to torque", "torque the caps first, then read")
	}
}

func (r *reasoner) judgeEndPlay(a act.Act) {
	fm, fs := r.fit(r.back, r.tooth)
	if r.rings() && !r.told[act.MeasureEndPlay] {
		// Slots are counted from where the play ends: it has to be read once.
		r.told[act.MeasureEndPlay] = true
		return
	}
	now, after := r.bestSides(fs), r.bestSides(playKnownMM)
	loose := average(fm, fs, func(x float64) float64 { return logistic(-x / 0.01) })
	worth := (now - after) * loose
	cost := r.minutesOf(a.Form)
	r.told[act.MeasureEndPlay] = true
	r.note(Looking, a, r.sideLesson(), cost-worth, "the pack fitted and how it went in",
		fmt.Sprintf("its interference was believed to be %s, give or take %s", r.w.len(fm), r.w.len(2*fs)), r.valueWords(worth, cost))
	r.readOrGoOn(cost, worth)
}
