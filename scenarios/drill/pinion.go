package drill

import (
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// preloadShims asks for the next preload shims on a solid spacer.
func (p *draft) preloadShims() (Drill, error) {
	if p.Design.DepthShim == family.BehindInnerCup && p.either() {
		return p.preloadShimsForDepthShim()
	}
	return p.preloadShimsForTorque()
}

// bearings names the state of the pinion bearings.
func bearings(used bool) text.Arg {
	if used {
		return text.Of("bearings", text.Say("drill.bearings.used", "used"))
	}
	return text.Of("bearings", text.Say("drill.bearings.new", "new"))
}

// torqueSpecs are the spec for new bearings and that for used ones, as a text has them.
func (p *draft) torqueSpecs() text.Arg {
	n, u := p.Sheet.PinionTorqueNew, p.Sheet.PinionTorqueUsed
	return text.Of("specs", text.Say("drill.torque-specs", "{new_low} to {new_high} for new bearings and {used_low} to {used_high} for used ones",
		text.Shown("new_low", rotating(n.LowNmm)), text.Shown("new_high", rotating(n.HighNmm)),
		text.Shown("used_low", rotating(u.LowNmm)), text.Shown("used_high", rotating(u.HighNmm))))
}

func middleOf(spec family.TorqueSpec) Figure {
	return meanOf(rotating(spec.LowNmm), rotating(spec.HighNmm))
}

func middleStep(middle Figure) Step {
	return Step{text.Say("drill.step.middle", "Middle of the spec"), middle}
}

func torqueChange(change Figure) Step {
	return Step{text.Say("drill.step.torque-change", "Change in torque"), change}
}

// preloadShimsForTorque asks after a torque reading that is out of spec.
func (p *draft) preloadShimsForTorque() (Drill, error) {
	sh, stock := p.Sheet, p.Design.Solid.PreloadShims
	used := p.either()
	w := sh.PinionTorque(used)
	film := p.Film(used)
	wrench, _ := gauge.ClassOf(gauge.LowRangeWrench)
	// The shims of one axle of the family, and the torque that the model gives with them.
	axle := assembly.New(p.Family, assembly.Nominal(p.Family))
	params := axle.Params(assembly.Pinion{PreloadShimMM: axle.ZeroPlayPreloadShimMM})
	const least, most = 0.35, 2.2 // of the middle of the spec
	reads := wrench.Shown(p.Uniform(least, most) * w.Mid())
	if w.Holds(reads) {
		return Drill{}, errAgain
	}
	at := func(nmm float64) (float64, error) {
		return p.PreloadShimsForTorque(params, sh.NutMid().Nmm(), nmm, film)
	}
	from, err1 := at(reads)
	to, err2 := at(w.Mid())
	if err1 != nil || err2 != nil {
		return Drill{}, errAgain
	}
	// Another axle of the family needs other shims for zero end play, such that those in
	// hand are from the shelf.
	now := stock.Nearest(p.in(p.Design.Solid.ZeroEndPlayMM) + from - axle.ZeroPlayPreloadShimMM)
	perMM := (w.Mid() - reads) / (to - from) // below zero: thicker shims take torque off
	step := quantity.Inches(0.001).MM()
	middle, worth := middleOf(w), rotating(-perMM*step)
	change := apart(middle, rotating(reads))
	steps := change.over(worth, Ratio)
	move := steps.times(length(step), Length)
	tooHigh := reads > w.Mid()
	right := length(now).shifted(tooHigh, move)
	if !stocked(stock, right.Exact()) || !stocked(stock, now) {
		return Drill{}, errAgain
	}
	tol, reason := halfStep(stock)
	way := text.Say("drill.preload-shims.too-low", "The torque is too low: the cones must move closer together, so the preload shims get thinner.")
	if tooHigh {
		way = text.Say("drill.preload-shims.too-high", "The torque is too high: the cones must move farther apart, so the preload shims get thicker.")
	}
	return Drill{
		Asks: text.Say("drill.preload-shims.asks", "{family}: solid spacer, {bearings} pinion bearings, seal out, nut at its torque. With {shims} of preload shims the pinion rotating torque is {reads}. The spec is {specs}; aim for the middle. Near this setting, {step} of shim changes the torque by {worth}. Which preload shims do you fit next?",
			p.named(), bearings(used), text.Shown("shims", length(now)), text.Shown("reads", rotating(reads)), p.torqueSpecs(), text.Shown("step", length(step)), text.Shown("worth", worth)),
		Answer: Answer{Figure: right, Tolerance: tol, Reason: reason},
		Shows:  way,
		Working: []Step{
			middleStep(middle),
			torqueChange(change),
			{text.Say("drill.step.shim-steps", "Steps of shim"), steps},
			{text.Say("drill.step.shim-change", "Change in shims"), move},
			{text.Say("drill.step.new-preload-shims", "New preload shims"), right},
		},
		Wrongs: []Wrong{
			{Misconception: ThickTightens, Value: 2*now - right.Exact(), Why: text.Say("drill.preload-shims.turned", "The spacer holds the cones apart. Thicker shims take load off the bearings, thinner shims put it on.")},
			{Misconception: NewForUsed, Value: now + (sh.PinionTorque(!used).Mid()-reads)/perMM, Why: text.Say("drill.preload-shims.other-spec", "These bearings are {bearings}. Those shims are for the other spec.", bearings(used))},
		},
		Lesson: "solid-spacer",
		Source: Source{text.Say("drill.source.spacer-direction", "TM 10-3930-660-34, p. 9-16, for the direction"), Published},
	}, nil
}

func (p *draft) in(r family.Range) float64 { return p.Uniform(r.Low, r.High) }

// preloadShimsForDepthShim asks after a new depth shim behind the cup.
func (p *draft) preloadShimsForDepthShim() (Drill, error) {
	sh, stock := p.Sheet, p.Design.Solid.PreloadShims
	oldShim, newShim, now := length(p.among(sh.DepthShims)), length(p.among(sh.DepthShims)), length(p.among(stock))
	change := apart(newShim, oldShim)
	thickerNow := newShim.Exact() > oldShim.Exact()
	right := now.shifted(thickerNow, change)
	const leastMM, mostMM = 0.05, 0.3
	if d := change.Exact(); d < leastMM || d > mostMM || !stocked(stock, right.Exact()) {
		return Drill{}, errAgain
	}
	tol, reason := halfStep(stock)
	shows := text.Say("drill.cup-shim.closer", "The thinner depth shim brings the cups closer together. The cones must come closer by as much to keep the preload: that much less of preload shims.")
	left := text.Say("drill.cup-shim.looser", "The cups are now {change} closer together and the cones are where they were: the bearings are looser.", text.Shown("change", change))
	if thickerNow {
		shows = text.Say("drill.cup-shim.farther", "The thicker depth shim holds the cups farther apart. The cones must be held apart by as much to keep the preload: that much more of preload shims.")
		left = text.Say("drill.cup-shim.tighter", "The cups are now {change} farther apart and the cones are where they were: the bearings are tighter.", text.Shown("change", change))
	}
	return Drill{
		Asks: text.Say("drill.cup-shim.asks", "{family}: solid spacer, depth shim behind the cup of the inner pinion bearing. With a {old} depth shim and {shims} of preload shims the preload is right. To correct the depth you fit a {new} depth shim. Which preload shims go with it?",
			p.named(), text.Shown("old", oldShim), text.Shown("shims", now), text.Shown("new", newShim)),
		Answer:  Answer{Figure: right, Tolerance: tol, Reason: reason},
		Shows:   shows,
		Working: []Step{{text.Say("drill.step.depth-shim-change", "Change in depth shim"), change}, {text.Say("drill.step.preload-shims-with-it", "Preload shims"), right}},
		Wrongs: []Wrong{
			{Misconception: PreloadShimsLeft, Value: now.Exact(), Why: left},
			{Misconception: SignTurned, Value: 2*now.Exact() - right.Exact(), Why: text.Say("drill.cup-shim.turned", "Depth shim and preload shims change the same way: one holds the cups apart, the others hold the cones apart.")},
		},
		Lesson: "cup-shim",
		Source: Source{text.Say("drill.source.pinion-stack", "the stack of cup, cones and shims along the pinion"), Computed},
	}, nil
}

// What to do about a torque.
const (
	leaveIt = iota
	tighten
	slacken
	startAgain
)

// torqueOptions says what can be done, in the order above, and what a reading is that asks
// for it.
func (p *draft) torqueOptions() []Option {
	leave := Option{Text: text.Say("drill.pinion-torque.leave", "in spec, so leave it")}
	loosen := Option{Text: text.Say("drill.pinion-torque.loosen", "too high, so loosen the nut until the torque is right")}
	if p.Design.Preload == family.SolidSpacer {
		return []Option{leave, {Text: text.Say("drill.pinion-torque.thinner", "too low, so fit thinner preload shims")}, loosen, {Text: text.Say("drill.pinion-torque.thicker", "too high, so fit thicker preload shims")}}
	}
	return []Option{leave, {Text: text.Say("drill.pinion-torque.tighten", "too low, so tighten the nut a few degrees at a time")}, loosen, {Text: text.Say("drill.pinion-torque.new-spacer", "too high, so fit a new collapsible spacer and a new nut, and start again")}}
}

// pinionTorque shows a rotating torque and asks whether it is right. Where the seal is in,
// its drag has been measured, so that the spec is one and not a span of specs.
func (p *draft) pinionTorque() (Drill, error) {
	sh := p.Sheet
	used, seal := p.either(), p.either()
	wrench, _ := gauge.ClassOf(gauge.LowRangeWrench)
	drag := 0.0
	if seal {
		if drag = wrench.Shown(p.Uniform(sh.SealDrag.LowNmm, sh.SealDrag.HighNmm)); !sh.SealDrag.Holds(drag) {
			return Drill{}, errAgain
		}
	}
	spec := func(used bool, drag float64) family.TorqueSpec {
		return sh.PinionTorque(used).Plus(family.TorqueSpec{LowNmm: drag, HighNmm: drag})
	}
	w := spec(used, drag)
	reads := wrench.Shown(p.Uniform(0.5*spec(true, 0).LowNmm, 1.3*spec(false, sh.SealDrag.HighNmm).HighNmm))
	verdict := func(w family.TorqueSpec) int {
		switch {
		case reads < w.LowNmm:
			return tighten
		case reads > w.HighNmm:
			return startAgain
		}
		return leaveIt
	}
	right := verdict(w)
	// Of three draws in turn one is right, one too loose, one too tight.
	if right != []int{leaveIt, tighten, startAgain}[p.Whole(3)] {
		return Drill{}, errAgain
	}
	for _, x := range []family.TorqueSpec{w, spec(!used, drag), spec(used, 0)} {
		if abs(reads-x.LowNmm) < wrench.Step/2 || abs(reads-x.HighNmm) < wrench.Step/2 {
			return Drill{}, errAgain
		}
	}
	bare := sh.PinionTorque(used)
	low, high := rotating(bare.LowNmm), rotating(bare.HighNmm)
	var working []Step
	sealed := text.Say("drill.pinion-torque.seal-out", "The seal is not fitted.")
	if seal {
		sealed = text.Say("drill.pinion-torque.seal-in", "The seal is fitted, and you measured a seal drag of {seal_drag}.", text.Shown("seal_drag", rotating(drag)))
		low, high = low.plus(rotating(drag)), high.plus(rotating(drag))
		working = []Step{{text.Say("drill.step.spec-low", "Lowest torque with this seal"), low}, {text.Say("drill.step.spec-high", "Highest torque with this seal"), high}}
	}
	crush := p.Design.Preload == family.CollapsibleSpacer
	spacer := text.Say("drill.spacer.solid", "solid spacer")
	if crush {
		spacer = text.Say("drill.spacer.collapsible", "collapsible spacer")
	}
	options := p.torqueOptions()
	limits := []text.Arg{text.Shown("reads", rotating(reads)), text.Shown("low", low), text.Shown("high", high)}
	out := Drill{
		Asks: text.Say("drill.pinion-torque.asks", "{family}: {spacer}, {bearings} pinion bearings, oiled. {seal} The pinion rotating torque is a steady {reads}. The spec, seal out, is {specs}. What do you do?",
			p.named(), text.Of("spacer", spacer), bearings(used), text.Of("seal", sealed), text.Shown("reads", rotating(reads)), p.torqueSpecs()),
		Answer:  Answer{Right: right, Options: options},
		Shows:   text.Say("drill.pinion-torque.shows", "For {bearings} bearings with this seal the torque must be {low} to {high}, and it is {reads}: {do}.", append(limits, bearings(used), text.Of("do", options[right].Text))...),
		Working: working,
		Lesson:  "rotating-torque",
		Source:  Source{text.Say("drill.source.sheet-and-seal", "the family's specification sheet, and seal drag counted"), Practice},
	}
	if !seal {
		out.Shows = text.Say("drill.pinion-torque.shows-out", "For {bearings} bearings with the seal out the torque must be {low} to {high}, and it is {reads}: {do}.", append(limits, bearings(used), text.Of("do", options[right].Text))...)
	}
	if right == startAgain && crush {
		out.Source = Source{text.Say("drill.source.new-spacer", "TM 9-2320-280-34, para 19-3, p. 19-21, steps 48-53"), Published}
		out.Lesson = "crush-spacer"
	} else if right == startAgain {
		out.Source = Source{text.Say("drill.source.thicker-spacer", "TM 10-3930-660-34, p. 9-16"), Published}
		out.Lesson = "solid-spacer"
	}
	for _, c := range []int{leaveIt, tighten, slacken, startAgain} {
		if c == right {
			continue
		}
		as := c
		if c == slacken {
			as = startAgain
		}
		wr := Wrong{Choice: c}
		switch {
		case as == right && crush:
			wr.Misconception, wr.Why = SpacerBack, text.Say("drill.pinion-torque.no-return", "A collapsible spacer does not spring back. With the nut loosened, nothing clamps the cones.")
		case as == right:
			wr.Misconception, wr.Why = SpacerBack, text.Say("drill.pinion-torque.nut-stays", "The nut clamps the parts together and stays at its torque. The preload shims set the preload.")
		case verdict(spec(!used, drag)) == as:
			wr.Misconception, wr.Why = NewForUsed, text.Say("drill.pinion-torque.other-spec", "That goes by the other spec. These bearings are {bearings}.", bearings(used))
		case seal && verdict(spec(used, 0)) == as:
			wr.Misconception, wr.Why = SealIgnored, text.Say("drill.pinion-torque.seal-counts", "The seal is fitted, and the spec is for the seal out: add the seal drag of {seal_drag} to it.", text.Shown("seal_drag", rotating(drag)))
		case right == leaveIt:
			wr.Misconception, wr.Why = PerfectFigure, text.Say("drill.pinion-torque.is-inside", "The torque is in spec. Nothing is gained by going on.")
		case c == leaveIt:
			wr.Misconception, wr.Why = NearEnough, text.Say("drill.pinion-torque.is-outside", "{reads} is out of spec: {low} to {high} is wanted.", limits...)
		default:
			wr.Misconception, wr.Why = SignTurned, text.Say("drill.pinion-torque.other-end", "{reads} is past the other end of the spec, which is {low} to {high}.", limits...)
		}
		out.Wrongs = append(out.Wrongs, wr)
	}
	return out, nil
}
