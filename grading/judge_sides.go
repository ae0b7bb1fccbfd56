package grading

import (
	"fmt"
	"math"

	"shimwright/grading/belief"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
)

// judgeSpread judges how far a housing is spread.
func (r *reasoner) judgeSpread(a act.Act) {
	over := lengthMM(a, 0) - r.sheet.SpreadLimitMM
	if over <= 1e-9 {
		return
	}
	r.note(Sides, a, "side-shims", sideLateMinutes, "the sheet's limit for spreading, "+r.w.len(r.sheet.SpreadLimitMM),
		"past it the housing stays wider and the side preload is gone with it", "open only as far as the case needs, inside the limit")
}

// sideLesson is the lesson on how this axle's sides are set.
func (r *reasoner) sideLesson() string {
	if r.rings() {
		return "adjuster-rings"
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
func (r *reasoner) ringsCost(back, tooth float64) float64 {
	lm, ls := r.lash(back, tooth)
	fm, fs := r.fit(back, tooth)
	return r.sideCost(fm, fs, lm, ls)
}

// bestRings searches the half slots about what is believed right.
func (r *reasoner) bestRings() (back, tooth, cost float64) {
	half := r.design.Rings.SlotTravelMM() / 2
	line, _ := r.b.Of(belief.Look{lineRow: 1})
	lm, _ := r.lash(0, 0)
	diff := 2 * (lm - r.sheet.Backlash.Mid()) / r.gains.BacklashPerRing
	sum := line + r.sheet.SidePreload.Mid()
	b0, t0 := math.Round((sum+diff)/2/half), math.Round((sum-diff)/2/half)
	cost = math.Inf(1)
	const around = 3
	for db := -around; db <= around; db++ {
		for dt := -around; dt <= around; dt++ {
			b, t := (b0+float64(db))*half, (t0+float64(dt))*half
			if c := r.ringsCost(b, t); c < cost-1e-9 {
				back, tooth, cost = b, t, c
			}
		}
	}
	return back, tooth, cost
}

// slots says how a ring is to be turned from where it is.
func (r *reasoner) slots(ring string, fromMM, toMM float64) string {
	n := math.Round(2*(toMM-fromMM)/r.design.Rings.SlotTravelMM()) / 2
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
	chosen := r.ringsCost(r.back, r.tooth)
	fm, fs := r.fit(r.back, r.tooth)
	lm, ls := r.lash(r.back, r.tooth)
	knew := "the rings as they were run up by hand"
	if r.told[act.MeasureEndPlay] {
		knew += ", the end play"
	}
	if r.told[act.MeasureBacklash] {
		knew += ", the backlash read so far"
	}
	way := r.slots("back-ring", r.back, back) + ", " + r.slots("tooth-ring", r.tooth, tooth)
	r.note(Sides, a, r.placeLesson(lm), chosen-best, knew,
		fmt.Sprintf("so set there should be %s, give or take %s, and backlash about %s, give or take %s",
			r.w.fit(fm), r.w.len(2*fs), r.w.len(lm), r.w.len(2*ls)), way)
	r.weigh(Alternative{way, best, false}, Alternative{"the rings as they stood", chosen, true})
}

// sideCost is the price of putting a pair in.
func (r *reasoner) sideCost(fitMean, fitSD, lashMean, lashSD float64) float64 {
	sh := r.sheet
	lash := average((lashMean-sh.Backlash.Mid())/sh.Backlash.Half(), lashSD/sh.Backlash.Half(), limitRisk)
	fit := average((fitMean-sh.SidePreload.Mid())/sh.SidePreload.Half(), fitSD/sh.SidePreload.Half(), limitRisk)
	cost := r.redoSides()*lash + sideLateMinutes*fit
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
			if c := r.sideCost(fm, fitSD, lm, ls); c < cost-1e-9 {
				back, tooth, cost = b, t, c
			}
		}
	}
	return back, tooth, cost
}

// looseCost is the price of a loose pack to read the end play, and the best pair
// after it.
func (r *reasoner) looseCost(fitMean, fitSD float64) float64 {
	const known = 0.010 // what an end-play reading leaves unsure of the total, mm
	_, _, after := r.bestPair(known)
	tight := average(fitMean, fitSD, func(x float64) float64 { return logistic(x / 0.01) })
	loop := r.minutesOf(act.FitCase, act.TorqueCaps, act.MeasureEndPlay, act.RemoveCase, act.FitSideShims)
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
		best = r.sideCost(fm, fs, lm, ls)
	}
	const slackMM = 0.15
	if c := r.looseCost(-slackMM, fs); c < best {
		best = c
		way = fmt.Sprintf("a loose pack of about %s in all first, and its end play read", r.w.len(line-slackMM))
	}
	chosen := r.sideCost(fm, fs, lm, ls)
	if fm < 0.02 {
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
		r.note(Looking, a, "runout", p*runoutLateMinutes/2, "readings that rise and fall once round the gear",
			"no side shim cures that: something behind the ring gear tilts it", "take the gear off, clean both faces, read the bare flange")
	}
}

func (r *reasoner) lashValue(mean, sd, wrong, fix float64) float64 {
	w := r.sheet.Backlash
	keep := wrong * average((mean-w.Mid())/w.Half(), sd/w.Half(), limitRisk)
	change := fix + wrong*average(r.sheet.SideShims.StepMM/8/w.Half(), sd/w.Half(), limitRisk)
	return math.Min(keep, change)
}

func (r *reasoner) judgeLashReading(a act.Act) {
	n := a.Amounts[0].Number
	cost := r.minutesOf(act.MountIndicator) + 1 + n
	if r.lashReads > 0 {
		cost = 1 + n
	}
	m, sd := r.lash(r.back, r.tooth)
	h, _ := r.lashLook()
	c, _ := gauge.ClassOf(gauge.DialIndicator)
	noise := math.Hypot(ownNoise(c), 0.015) / math.Sqrt(n)
	left, shift := r.b.Narrowed(h, h.Plus(1, belief.Look{dialRow: 1}), noise)
	now := r.lashValue(m, sd, comebackMinutes, r.redoSides())
	after := average(m, shift, func(x float64) float64 { return r.lashValue(x, left, comebackMinutes, r.redoSides()) })
	worth := now - after
	spread := r.swings() * runoutLateMinutes
	if n >= 3 {
		worth += math.Min(spread, runoutLateMinutes/2)
	}
	if r.lashReads == 0 {
		worth = math.Max(worth, cost) // each build's backlash has to be read once
	}
	r.told[act.MeasureBacklash] = true
	r.note(Looking, a, "backlash-reading", cost-worth, "the pair fitted and what was read before",
		fmt.Sprintf("backlash was expected at %s, give or take %s", r.w.len(m), r.w.len(2*sd)), valueWords(worth, cost))
	r.readOrGoOn(cost, worth)
	if n < 3 && spread > 2 {
		r.note(Looking, a, "backlash-reading", math.Min(spread-2, 10), "nothing yet about runout",
			"one or two places cannot show a gear that swings", "read three or four places round the gear")
	}
	if !r.capsTight && !r.rings() {
		r.note(Looking, a, "backlash-reading", 6, "the cap bolts were only snug", "the case still moves when they come to torque", "torque the caps first, then read")
	}
}

func (r *reasoner) judgeEndPlay(a act.Act) {
	fm, fs := r.fit(r.back, r.tooth)
	if r.rings() && !r.told[act.MeasureEndPlay] {
		// Slots are counted from where the play ends: it has to be read once.
		r.told[act.MeasureEndPlay] = true
		return
	}
	now, after := r.bestSides(fs), r.bestSides(0.010)
	loose := average(fm, fs, func(x float64) float64 { return logistic(-x / 0.01) })
	worth := (now - after) * loose
	cost := r.minutesOf(a.Form)
	r.told[act.MeasureEndPlay] = true
	r.note(Looking, a, r.sideLesson(), cost-worth, "the pack fitted and how it went in",
		fmt.Sprintf("its interference was believed to be %s, give or take %s", r.w.len(fm), r.w.len(2*fs)), valueWords(worth, cost))
	r.readOrGoOn(cost, worth)
}
