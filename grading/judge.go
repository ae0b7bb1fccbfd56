package grading

import (
	"fmt"
	"math"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/scenarios/fault"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// judge prices an act against its alternatives, on what is believed before it.
func (r *reasoner) judge(n int, o sim.Outcome) {
	r.n = n
	a := o.Act
	switch a.Form {
	case act.FitDepthShim:
		r.judgeCageShim(a)
	case act.FitPinion:
		r.judgePinion(a)
		if r.solid() && a.Choices[0] == "final" {
			r.judgePack(a)
		}
	case act.TurnNutAngle, act.TurnNutTorque:
		if r.solid() {
			r.judgeHoldingNut(a, o)
		} else {
			r.judgeNut(a)
		}
	case act.BackNut:
		r.judgeBackOff(a)
	case act.SpreadHousing:
		r.judgeSpread(a)
	case act.FitCase:
		if !r.rings() {
			r.judgeCase(a)
		}
		r.omissions(a, act.LookCones, act.LookCaps, act.LookBolts)
		r.leftIn(a, 0, truth.SideConeHigh, truth.ToothConeHigh)
		r.leftIn(a, 0, truth.CapsSwapped, truth.CapTurned)
		if r.told[act.LookBolts] {
			r.leftIn(a, 0, truth.BoltsUneven)
		}
	case act.TorqueCaps:
		if r.rings() {
			r.judgeRings(a)
		}
	case act.MeasureDepth, act.RollGears:
		r.judgeDepthReading(a)
	case act.MeasureBacklash:
		r.judgeLashReading(a)
	case act.MeasureEndPlay:
		r.judgeEndPlay(a)
	case act.LookCups, act.LookBearings, act.LookSpacer, act.LookCones, act.LookCaps, act.LookSeal,
		act.LookShimSeat, act.LookBolts, act.LookShafts, act.TestIndicator, act.TestCord, act.MeasureBearings:
		r.judgeLook(a)
	case act.RemoveCase, act.RemovePinion:
		r.judgeTeardown(a)
	case act.SignOff:
		r.judgeSignOff(a)
	}
}

// did says what was done with the shims it was done with.
func (r *reasoner) did(a act.Act) string {
	switch a.Form {
	case act.FitPinion:
		if r.solid() && a.Choices[0] == "final" {
			return fmt.Sprintf("%s on the %s shim with a pack of %s", a, r.w.len(r.depthShim), r.w.len(r.pack))
		}
		return fmt.Sprintf("%s on the %s shim", a, r.w.len(r.depthShim))
	case act.FitCase:
		if r.rings() {
			break
		}
		return fmt.Sprintf("%s on back %s, tooth %s", a, r.w.len(r.back), r.w.len(r.tooth))
	case act.TorqueCaps:
		if r.rings() {
			return fmt.Sprintf("%s on %s, %s, since they were run up", a, r.slots("back-ring", 0, r.back), r.slots("tooth-ring", 0, r.tooth))
		}
	}
	return a.String()
}

// note files a decision. Regret below zero is numerical noise.
func (r *reasoner) note(area Area, a act.Act, lesson string, lost float64, knew, means, best string) {
	lost = hundredths(math.Max(lost, 0))
	r.out = append(r.out, Decision{Act: r.n, Did: r.did(a), Area: area, Knew: knew, Means: means, Best: best,
		Lost: lost, Score: hundredths(scoreOf(lost)), Lesson: lesson})
}

func (r *reasoner) depthHalf() float64 { return r.sheet.DepthToleranceMM }

// depthCost is the price of building finally on a shim that is off by a normal
// error of the given mean and spread.
func (r *reasoner) depthCost(mean, sd float64) float64 {
	return r.redoDepth() * average(mean/r.depthHalf(), sd/r.depthHalf(), limitRisk)
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
func (r *reasoner) trialCost(size float64) float64 {
	c, _ := gauge.ClassOf(gauge.DepthGauge)
	h, _ := r.tooFarOut()
	h[gaugeRow], h[tallRow] = 1, -1
	noise := math.Sqrt(sq(c.StandardUncertainty(0, 1)) - c.Offset*c.Offset/3 + sq(scenarios.MarkSD(r.sheet)) + sq(0.004))
	left, shift := r.b.Narrowed(belief.Look{shimRow: 1, lotRow: -1}, h, noise)
	m, _ := r.depthError(size)
	after := average(m, shift, func(mean float64) float64 {
		keep := r.depthCost(mean, left)
		// Another shim, to the nearest step, without a further trial.
		rest := math.Mod(math.Abs(mean), r.sheet.DepthShims.StepMM)
		rest = math.Min(rest, r.sheet.DepthShims.StepMM-rest)
		change := r.minutesOf(act.FitDepthShim) + r.depthCost(rest, left)
		return math.Min(keep, change)
	})
	return r.trialBuild() + after
}

func (r *reasoner) judgePinion(a act.Act) {
	final := a.Choices[0] == "final"
	bestSize, bestFinal := r.bestShim()
	// A trial on the best shim first.
	bestTrial := r.trialCost(bestSize)
	best := math.Min(bestFinal, bestTrial)
	m, sd := r.depthError(r.depthShim)
	chosen, bestOfKind := r.trialCost(r.depthShim), bestTrial
	if final {
		chosen, bestOfKind = r.depthCost(m, sd), bestFinal
	}
	lesson := "depth-height"
	if !r.gauged && r.sheet.Marks.Known() {
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
	if kind := bestOfKind - best; kind > allowanceMinutes && r.card.Kind != scenarios.DepthJob {
		if final {
			r.note(Looking, a, "depth-height", kind, knew, "the old shim and the marks only make a start",
				"a trial build and the depth gauge first")
		} else {
			r.note(Looking, a, "depth-height", kind, knew, fmt.Sprintf("the right shim was known to %s", r.w.len(2*sd)),
				"go to the final build; the print will check the depth")
		}
	}
	right, _ := r.b.Of(belief.Look{shimRow: 1, lotRow: -1})
	r.note(Depth, a, lesson, chosen-bestOfKind, knew,
		fmt.Sprintf("the right shim is about %s, give or take %s", r.w.len(right), r.w.len(2*sd)),
		fmt.Sprintf("the %s shim", r.w.len(bestSize)))
	way, price := "a trial build on %s", r.trialCost
	if final {
		way, price = "a final build on %s", func(mm float64) float64 {
			m, sd := r.depthError(mm)
			return r.depthCost(m, sd)
		}
	}
	r.weigh(r.sizes(r.sheet.DepthShims, way, bestSize, r.depthShim, price)...)
	r.weigh(Alternative{fmt.Sprintf("a final build on %s", r.w.len(bestSize)), bestFinal, false},
		Alternative{fmt.Sprintf("a trial build on %s", r.w.len(bestSize)), bestTrial, false})
	if final {
		r.omissions(a, act.LookCups, act.LookShimSeat, act.LookBearings, act.LookSpacer, act.LookSeal)
		r.leftIn(a, 0, truth.HeadCupHigh, truth.TailCupHigh)
		r.leftIn(a, 0, truth.DirtUnderShim)
		r.leftIn(a, 0, truth.BearingNotched)
		r.leftIn(a, 0, truth.NutUsed)
	}
}

// judgeCageShim judges another shim under the flange of a cage that is in: it costs its
// minutes and the side bearings' setting, and no preload.
func (r *reasoner) judgeCageShim(a act.Act) {
	if r.pinion != sim.PinionFinal {
		return // nothing is built on it yet
	}
	price := func(marked float64) float64 {
		m, sd := r.depthError(marked)
		cost := r.redoDepth() * average(m/r.depthHalf(), sd/r.depthHalf(), limitRisk)
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
	right, sd := r.b.Of(belief.Look{shimRow: 1, lotRow: -1})
	way := fmt.Sprintf("the %s shim", r.w.len(bestSize))
	if bestSize == r.depthShim {
		way = "leave the shim that is in"
	}
	r.note(Depth, a, "cage-shim", price(chosen)-best, "the gauge, the print and what shim is in",
		fmt.Sprintf("the right shim is about %s, give or take %s; under this flange thicker is shallower", r.w.len(right), r.w.len(2*sd)), way)
	r.weigh(r.sizes(r.sheet.DepthShims, "the %s shim", bestSize, chosen, price)...)
}

// packCost is the price of a pack, mm: what it takes to build in another.
func (r *reasoner) packCost(packMM float64) float64 {
	was := r.pack
	r.pack = packMM
	defer func() { r.pack = was }()
	m, sd := r.finalDrag()
	w := r.window()
	return r.overshoot() * average((m-w.Mid())/w.Half(), sd/w.Half(), limitRisk)
}

// finalDrag is the drag a final build with the pack in hand would have.
func (r *reasoner) finalDrag() (mean, sd float64) {
	was := r.pinion
	r.pinion = sim.PinionFinal
	defer func() { r.pinion = was }()
	return r.drag()
}

// judgePack judges the pack of a solid spacer as it is built in.
func (r *reasoner) judgePack(a act.Act) {
	best, bestPack := math.Inf(1), 0.0
	for _, p := range r.design.Solid.Pack.Sizes() {
		if c := r.packCost(p); c < best-1e-9 {
			best, bestPack = c, p
		}
	}
	// A pack chosen to be read is as good as one chosen to stay, while the spread of
	// what is known is wider than the window.
	m, sd := r.finalDrag()
	chosen := r.packCost(r.pack)
	if w := r.window(); !r.packRead && sd > w.Half() && math.Abs(m-w.Mid()) < 2*sd {
		chosen = math.Min(chosen, best)
	}
	knew := "the old pack " + r.w.len(r.card.Known.OldPack.MM())
	if r.design.DepthShim == family.BehindHeadCup {
		knew += fmt.Sprintf(" with the old depth shim %s; the shim in is %s", r.w.len(r.card.Known.OldDepthShim.MM()), r.w.len(r.depthShim))
	}
	if r.packRead {
		knew = "the drag, or the play, of the packs tried"
	}
	r.note(Preload, a, r.packLesson(bestPack), chosen-best, knew,
		fmt.Sprintf("this pack should give a bearing drag of about %s, give or take %s", r.w.drag(math.Max(m, 0)), r.w.drag(2*sd)),
		fmt.Sprintf("a pack of %s", r.w.len(bestPack)))
	r.weigh(r.sizes(r.design.Solid.Pack, "a pack of %s", bestPack, r.pack, r.packCost)...)
}

// packLesson tells a pack that did not follow its depth shim, or followed it the wrong
// way, from one that is wrong by itself: it would have been nearer right with the shim
// that was in before.
func (r *reasoner) packLesson(bestPack float64) string {
	const nearer = 0.6 // a wrong way leaves one part in two, and sizes come in steps
	off, moved := r.pack-bestPack, r.depthShim-r.packShim
	if r.design.DepthShim == family.BehindHeadCup && math.Abs(off+moved) < nearer*math.Abs(off) {
		return "cup-shim"
	}
	return "solid-spacer"
}

// judgeHoldingNut judges the nut of a solid spacer: it has a torque to be at, no more.
func (r *reasoner) judgeHoldingNut(a act.Act, o sim.Outcome) {
	high := r.sheet.NutHigh.Nmm()
	class, _ := gauge.ClassOf(gauge.NutWrench)
	for _, rd := range o.Readings {
		if rd.What != "nut-torque" || len(rd.Torques) == 0 {
			continue
		}
		over := rd.Torques[0].Nmm() - high - 2*class.StandardUncertainty(high, 1)
		if over <= 0 {
			return
		}
		const strippedMinutes = 30 // nut, and stem thread, no longer to be trusted
		lesson := "solid-spacer"
		if a.Form == act.TurnNutAngle {
			lesson = "preload-design" // turned on by degrees, as if something would crush
		}
		r.note(Preload, a, lesson, strippedMinutes, "the sheet's torque for the nut",
			"a solid spacer does not give: past the torque the nut and the stem do", "stop inside the sheet's torque; another pack changes the drag")
	}
}

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

// omissions charges looks that would have been worth their minutes before an act
// that makes them dear. Each is charged once.
func (r *reasoner) omissions(a act.Act, looks ...act.Form) {
	lost := 0.0
	var missed []string
	for _, c := range checks() {
		for _, f := range looks {
			if c.test != f || r.told[f] {
				continue
			}
			r.told[f] = true
			worth := -r.minutesOf(f)
			for _, id := range c.faults {
				worth += r.risk[id] * r.late[id]
			}
			if worth > 0 {
				lost += worth
				missed = append(missed, f.String())
			}
		}
	}
	if len(missed) == 0 {
		return
	}
	list := missed[0]
	for i, m := range missed[1:] {
		if i == len(missed)-2 {
			list += " and " + m
		} else {
			list += ", " + m
		}
	}
	lesson := "inspect-first"
	if len(missed) == 1 && looks[0] == act.TestIndicator {
		lesson = "trust-instruments"
	}
	r.note(Looking, a, lesson, lost, "the fault rates on the card; these had not been looked at",
		"a minute or two of looking now against a teardown later", list+" before this step")
}

// leftIn charges, once, a fault that was seen and then built over. The ids are those
// one look finds and one act cures; access is what it takes to get at them now.
func (r *reasoner) leftIn(a act.Act, access float64, ids ...truth.FaultID) {
	lost := 0.0
	var worst fault.Fault
	for _, id := range ids {
		f, err := fault.Find(id)
		p := r.risk[id]
		if err != nil || p < 0.5 || r.left[id] {
			continue
		}
		r.left[id] = true
		if worth := p*r.late[id] - access - r.minutesOf(f.Cure); worth > lost {
			lost, worst = worth, f
		}
	}
	if lost == 0 {
		return
	}
	lesson := worst.Lesson
	if lesson == "side-shims" {
		lesson = r.sideLesson()
	}
	r.note(Looking, a, lesson, lost, "what the readings had shown: "+worst.Name, worst.Missed, worst.Cure.String()+" before this step")
}

// under is the price of a drag still short of its window: the pulls left to make.
func under(gapNmm float64) float64 {
	if gapNmm <= 0 {
		return 0
	}
	const oneStepNmm = 900
	return nutStepMinutes * (1 + math.Log(1+gapNmm/oneStepNmm))
}

func (r *reasoner) overshoot() float64 {
	cost := r.redoPreload()
	if r.caseIn {
		cost += r.reopen()
	}
	return cost
}

// dragCost is the price of a believed drag: a new spacer above the window, further
// pulls below it. mean and sd are N·mm.
func (r *reasoner) dragCost(mean, sd float64) float64 {
	w := r.window()
	over := r.overshoot()
	width := noticeWidth * w.Half()
	return average(mean, sd, func(y float64) float64 {
		return over*logistic((y-w.HighNmm)/width) + under(w.LowNmm-y)
	})
}

// dragAfter is the drag expected after turning the nut.
func (r *reasoner) dragAfter(degrees float64) (mean, sd float64) {
	m, s := r.drag()
	slope := r.gains.DragPerDegreeNmm
	return m + slope*degrees, math.Hypot(s, 0.15*slope*degrees+0.5*slope)
}

// dragAtTorque is the drag expected where the wrench stops. What torque crushes a
// spacer is known only to a fifth before it has been felt.
func (r *reasoner) dragAtTorque(torqueNmm float64) (mean, sd float64) {
	w := r.window()
	m, s := r.drag()
	if r.contactFelt && r.lastTorque > 0 {
		return m + (torqueNmm-r.lastTorque)/r.gains.NutPerDragNmm, math.Hypot(s, 0.05*r.lastTorque/r.gains.NutPerDragNmm)
	}
	const spread = 0.20
	mean = w.Mid() + (torqueNmm-r.gains.NutAtTargetNmm)/r.gains.NutPerDragNmm
	return math.Max(mean, m), spread * r.gains.NutAtTargetNmm / r.gains.NutPerDragNmm
}

func (r *reasoner) judgeNut(a act.Act) {
	w := r.window()
	var m, sd float64
	if a.Form == act.TurnNutAngle {
		m, sd = r.dragAfter(a.Amounts[0].Number)
	} else {
		t, _ := a.Amounts[0].Torque()
		m, sd = r.dragAtTorque(t.Nmm())
	}
	pull := r.minutesOf(act.TurnNutAngle)
	chosen := pull + r.dragCost(m, sd)
	best, bestDeg := math.Inf(1), 0.0
	for _, deg := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 45, 60, 90, 120} {
		mm, ss := r.dragAfter(deg)
		if c := pull + r.dragCost(mm, ss); c < best {
			best, bestDeg = c, deg
		}
	}
	way := fmt.Sprintf("about %.0f degrees, then turn the pinion and read", bestDeg)
	m0, sd0 := r.drag()
	// Leaving the nut alone is an alternative once there is preload.
	if stay := r.dragCost(m0, sd0); r.contactFelt && stay < best {
		best, way = stay, "leave the nut: the drag is where it belongs"
	}
	// So is reading first, when the last pull has not been read.
	if r.contactFelt && !r.sincePull {
		if c := r.readFirst(m0, sd0); c < best {
			best, way = c, "turn the pinion and read the drag before the nut moves again"
		}
	}
	means := fmt.Sprintf("bearing drag was about %s, give or take %s; the window is %s to %s without the seal",
		r.w.drag(math.Max(m0, 0)), r.w.drag(2*sd0), r.w.drag(w.LowNmm), r.w.drag(w.HighNmm))
	if m0 < 0 {
		means = "there was still end play to take out, and the window is only a few degrees wide once it has gone"
	}
	r.note(Preload, a, "crush-spacer", chosen-best, r.dragKnown(), means, way)
	r.weigh(Alternative{"this pull: " + a.String(), chosen, true}, Alternative{way, best, false})
	for _, deg := range []float64{bestDeg / 2, bestDeg * 2} {
		mm, ss := r.dragAfter(deg)
		r.weigh(Alternative{fmt.Sprintf("about %.3g degrees, then turn the pinion and read", deg), pull + r.dragCost(mm, ss), false})
	}
}

func (r *reasoner) dragKnown() string {
	switch {
	case r.sincePull:
		return "the drag, read since the last pull"
	case r.contactFelt:
		return "no end play; the drag had not been read since the last pull"
	case r.lastTorque > 0:
		return "end play at the flange, nut torque " + r.w.tight(r.lastTorque)
	}
	return "the nut finger tight"
}

// readFirst is the price of reading the drag and then choosing a pull.
func (r *reasoner) readFirst(mean, sd float64) float64 {
	class, _ := gauge.ClassOf(gauge.LowRangeWrench)
	noise := class.StandardUncertainty(math.Max(mean, 500), 1)
	shift := sd * sd / math.Hypot(sd, noise)
	left := math.Sqrt(math.Max(sd*sd-shift*shift, 0))
	slope := r.gains.DragPerDegreeNmm
	after := belief.Expect(mean, shift, func(m float64) float64 {
		best := r.dragCost(m, left)
		for _, deg := range []float64{1, 2, 3, 5, 8, 12, 20} {
			s := math.Hypot(left, 0.15*slope*deg+0.5*slope)
			best = math.Min(best, r.minutesOf(act.TurnNutAngle)+r.dragCost(m+slope*deg, s))
		}
		return best
	})
	return r.minutesOf(act.TurnPinion, act.MeasureDrag) + after
}

func (r *reasoner) judgeBackOff(a act.Act) {
	if r.solid() || !r.contactFelt && r.lastTorque < 0.5*r.sheet.NutLow.Nmm() {
		return // a spacer that has not been crushed loses nothing
	}
	w := r.window()
	m, sd := r.drag()
	over := average(m, sd, func(y float64) float64 { return logistic((y - w.HighNmm) / (noticeWidth * w.Half())) })
	// Whatever the drag was, the build has to come out now; if it was over, it
	// had to anyway, and the back-off only wasted time and hid it.
	lost := (1-over)*r.overshoot() + 10
	r.note(Preload, a, "crush-spacer", lost, "the spacer had been crushed this far",
		"loosened, it springs back a few hundredths and holds little: the drag can read right while the clamp is gone",
		"a new spacer and nut if the drag was too high; otherwise leave it")
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

// depthValue is the price of going on with the depth as believed, or of changing it.
func (r *reasoner) depthValue(mean, sd, wrong, fix float64) float64 {
	half := r.depthHalf()
	keep := wrong * average(mean/half, sd/half, limitRisk)
	rest := r.sheet.DepthShims.StepMM / 4
	change := fix + wrong*average(rest/half, sd/half, limitRisk)
	return math.Min(keep, change)
}

func (r *reasoner) judgeDepthReading(a act.Act) {
	m, sd := r.depthError(r.depthShim)
	wrong, fix := r.redoDepth(), r.loopTrial()
	if r.pinion == sim.PinionFinal {
		wrong, fix = comebackMinutes, r.redoDepth()
	}
	var h belief.Look
	var noise float64
	cost := r.minutesOf(a.Form)
	lesson := "depth-height"
	if a.Form == act.MeasureDepth {
		c, _ := gauge.ClassOf(gauge.DepthGauge)
		h, _, noise = r.depthLook(c.StandardUncertainty(0, 1))
		if r.told[act.MeasureDepth] && r.gaugeReads > 0 {
			// The gauge's own error does not average out; the row for it sees to that.
			lesson = "trust-instruments"
		}
	} else {
		how := "thin coat, " + a.Choices[0]
		h, _, noise = r.printLook(how, 2)
		cost += r.minutesOf(act.PaintTeeth)
	}
	left, shift := r.b.Narrowed(belief.Look{shimRow: 1, lotRow: -1}, h, noise)
	now := r.depthValue(m, sd, wrong, fix)
	after := average(m, shift, func(x float64) float64 { return r.depthValue(x, left, wrong, fix) })
	worth := now - after
	if a.Form == act.RollGears && !r.told[act.RollGears] {
		worth = math.Max(worth, cost) // the sheet asks for one print in any case
	}
	r.told[a.Form] = true
	r.note(Looking, a, lesson, cost-worth, "the readings before this one",
		fmt.Sprintf("the pinion's place was known to about %s", r.w.len(2*sd)), valueWords(worth, cost))
	r.readOrGoOn(cost, worth)
}

func valueWords(worth, cost float64) string {
	if worth >= cost-allowanceMinutes {
		return "worth its minutes"
	}
	return "enough was known already: go on"
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
	noise := math.Hypot(c.StandardUncertainty(0, 1), 0.015/math.Sqrt(n))
	left, shift := r.b.Narrowed(h, h, noise)
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

func (r *reasoner) judgeLook(a act.Act) {
	cost := r.minutesOf(a.Form)
	worth := 0.0
	for _, c := range checks() {
		if c.test == a.Form {
			for _, id := range c.faults {
				worth += r.risk[id] * r.late[id]
			}
		}
	}
	again := r.told[a.Form]
	r.told[a.Form] = true
	if !again || worth >= cost {
		return // a first look is never held against anyone
	}
	r.note(Looking, a, "inspect-first", cost-worth, "this had been looked at before", "nothing has happened since that could change it", "go on")
}

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

func (r *reasoner) preloadLesson() string {
	if r.solid() {
		return "solid-spacer"
	}
	return "crush-spacer"
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
		best := math.Min(cost, math.Min(r.minutesOf(act.MeasureRunout), 4)+p*(r.reopen()+r.minutesOf(act.CleanRingGear))*0.9)
		dims = append(dims, dimension{"runout", cost, best, "read the back face first", "runout", fmt.Sprintf("a chance of %.0f %% that the gear swings", 100*p)})
	}
	return dims
}

func (r *reasoner) depthDimension() dimension {
	m, sd := r.depthError(r.depthShim)
	believe := fmt.Sprintf("depth off by %s, give or take %s", r.w.signed(m), r.w.len(2*sd))
	if r.card.Kind == scenarios.DepthJob {
		c, _ := gauge.ClassOf(gauge.DepthGauge)
		return r.settleUp("pinion depth", "depth-height", believe, m, sd, r.depthHalf(), comebackMinutes,
			r.trialBuild(), c.StandardUncertainty(0, 1), r.loopTrial(), "build in for a trial and gauge the depth")
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
		r.omissions(a, act.LookCups, act.LookShimSeat)
		r.leftIn(a, 0, truth.DirtUnderShim)
	case scenarios.PreloadJob:
		r.omissions(a, act.LookCups)
	default:
		r.omissions(a, act.LookCones, act.LookCaps, act.LookBolts, act.LookCups, act.TestIndicator)
		r.leftIn(a, r.reopen(), truth.CapsSwapped, truth.CapTurned)
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

// judgeTeardown judges taking apart what another hand has finished: worth its minutes only
// if what is believed wrong costs more. A trainee's own builds come apart for reasons that
// are judged where they were put together.
func (r *reasoner) judgeTeardown(a act.Act) {
	if !r.handBefore() || r.opened || a.Form == act.RemoveCase && !r.asFound {
		return
	}
	r.asFound = false
	dims := r.dimensions()
	best, worst := 0.0, -1
	for i, d := range dims {
		if a.Form == act.RemovePinion && (d.name == "backlash" || d.name == "side preload") {
			continue // lost with the case already
		}
		best += d.best
		if worst < 0 || d.close-d.best > dims[worst].close-dims[worst].best {
			worst = i
		}
	}
	undone := r.redoSides()
	if a.Form == act.RemovePinion {
		r.opened = true
		undone = r.redoPreload()
	}
	way, lesson := "sign it: everything has been read and is right", "check-again"
	if worst >= 0 && dims[worst].advice != "" && dims[worst].close-dims[worst].best > 0.5 {
		way, lesson = dims[worst].advice, dims[worst].lesson
	}
	r.note(Stopping, a, lesson, undone-best, "the build sheet, and what had been read",
		"taking a finished axle apart undoes what is right in it too", way)
	r.weigh(Alternative{"take it apart", undone, true}, Alternative{way, best, false})
}
