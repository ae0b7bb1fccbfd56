package drill

import (
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
)

// pack asks for the next pack of a solid spacer.
func (p *draft) shims() (Drill, error) {
	if p.Design.DepthShim == family.BehindInnerCup && p.either() {
		return p.preloadShimsForDepthShim()
	}
	return p.preloadShimsForTorque()
}

// packForDrag asks after a drag reading that is off its window.
func (p *draft) preloadShimsForTorque() (Drill, error) {
	sh, stock := p.Sheet, p.Design.Solid.PreloadShims
	used := p.either()
	w := sh.PinionTorque(used)
	film := p.Film(used)
	wrench, _ := gauge.ClassOf(gauge.LowRangeWrench)
	// The pack of one axle of the family, and what the model says it drags.
	axle := assembly.New(p.Family, assembly.Nominal(p.Family))
	params := axle.Params(assembly.Pinion{PreloadShimMM: axle.ZeroPlayPreloadShimMM})
	const least, most = 0.35, 2.2 // of the middle of the window
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
	// Another axle of the family has another line-to-line pack, such that the pack in
	// hand is one from the shelf.
	now := stock.Nearest(p.in(p.Design.Solid.ZeroEndPlayMM) + from - axle.ZeroPlayPreloadShimMM)
	right := now + to - from
	perMM := (w.Mid() - reads) / (to - from) // below zero: a thicker pack takes torque off
	if !stocked(stock, right) || !stocked(stock, now) {
		return Drill{}, errAgain
	}
	step := quantity.Inches(0.001).MM()
	tol, reason := halfStep(stock)
	state := "new"
	if used {
		state = "used"
	}
	otherSpec := sh.PinionTorque(!used)
	looser := "Too tight, so the cones must stand further apart: more pack"
	if reads < w.Mid() {
		looser = "Too loose, so the cones must come nearer: less pack"
	}
	return Drill{
		Asks: say("%s: solid spacer, %s pinion bearings, seal out, nut at its torque. With a pack of %s the pinion turns with %s. The sheet has %s to %s for used bearings and %s to %s for new ones; aim for the middle. Near here %s of pack is worth %s. What pack next?",
			p.Code, state, length(now), asTorque(reads), asTorque(sh.PinionTorqueUsed.LowNmm), asTorque(sh.PinionTorqueUsed.HighNmm),
			asTorque(sh.PinionTorqueNew.LowNmm), asTorque(sh.PinionTorqueNew.HighNmm), length(step), asTorque(-perMM*step)),
		Answer: Answer{Form: Length, Value: right, Tolerance: tol, Reason: reason},
		Shows: say("The middle is %s, so %s is to go. %s. %s / %s x %s = %s, and %s %s = %s.",
			asTorque(w.Mid()), gained(w.Mid()-reads), looser, asTorque(abs(w.Mid()-reads)), asTorque(-perMM*step), length(step), length(abs(right-now)),
			length(now), plus(right-now), length(right)),
		Wrongs: []Wrong{
			{Misconception: ThickTightens, Value: 2*now - right, Why: say("The spacer holds the cones apart: a thicker pack takes load off the bearings, a thinner one puts it on.")},
			{Misconception: NewForUsed, Value: now + (otherSpec.Mid()-reads)/perMM, Why: say("These bearings are %s; that is the pack for the other window.", state)},
		},
		Lesson: "solid-spacer",
		Source: Source{"TM 10-3930-660-34, p. 9-16 (the direction)", published},
	}, nil
}

// gained writes a change of torque with its sign.
func gained(nmm float64) Text {
	if nmm < 0 {
		return say("-%s", asTorque(-nmm))
	}
	return say("+%s", asTorque(nmm))
}

func (p *draft) in(r family.Range) float64 { return p.Uniform(r.Low, r.High) }

// packForShim asks after another depth shim behind the cup.
func (p *draft) preloadShimsForDepthShim() (Drill, error) {
	sh, stock := p.Sheet, p.Design.Solid.PreloadShims
	oldShim, newShim, now := p.among(sh.DepthShims), p.among(sh.DepthShims), p.among(stock)
	d := newShim - oldShim
	const leastMM, mostMM = 0.05, 0.3
	if abs(d) < leastMM || abs(d) > mostMM || !stocked(stock, now+d) {
		return Drill{}, errAgain
	}
	tol, reason := halfStep(stock)
	apart, more, then := "further apart", "more", "tighter"
	if d < 0 {
		apart, more, then = "nearer together", "less", "looser"
	}
	return Drill{
		Asks: say("%s: solid spacer, depth shim behind the cup of the head bearing. With a shim of %s and a pack of %s the preload is right. For depth you fit a shim of %s. What pack goes with it?",
			p.Code, length(oldShim), length(now), length(newShim)),
		Answer: Answer{Form: Length, Value: now + d, Tolerance: tol, Reason: reason},
		Shows: say("The shim stands the two cups %s %s, and so must the cones stand: as much %s pack between them keeps the preload. %s %s = %s.",
			length(abs(d)), apart, more, length(now), plus(d), length(now+d)),
		Wrongs: []Wrong{
			{Misconception: PreloadShimsLeft, Value: now, Why: say("The cups stand %s %s and the cones where they were: the bearings run %s.", length(abs(d)), apart, then)},
			{Misconception: SignTurned, Value: now - d, Why: say("Pack and shim go the same way: the shim stands the cups apart, the pack the cones.")},
		},
		Lesson: "cup-shim",
		Source: Source{"the stack of cup, cones and pack along the pinion", computed},
	}, nil
}

// What to do about a drag.
const (
	leaveIt = iota
	tighten
	slacken
	startAgain
)

// drag shows a drag reading and asks whether it is right.
func (p *draft) torque() (Drill, error) {
	sh := p.Sheet
	used, seal := p.either(), p.either()
	wrench, _ := gauge.ClassOf(gauge.LowRangeWrench)
	spec := func(used, seal bool) family.TorqueSpec {
		w := sh.PinionTorque(used)
		if seal {
			w = w.Plus(sh.SealDrag)
		}
		return w
	}
	w := spec(used, seal)
	low, high := spec(true, false), spec(false, true)
	reads := wrench.Shown(p.Uniform(0.5*low.LowNmm, 1.3*high.HighNmm))
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
	for _, x := range []family.TorqueSpec{spec(used, seal), spec(!used, seal), spec(used, !seal)} {
		if abs(reads-x.LowNmm) < wrench.Step/2 || abs(reads-x.HighNmm) < wrench.Step/2 {
			return Drill{}, errAgain
		}
	}
	state, lip := "new", "out"
	if used {
		state = "used"
	}
	if seal {
		lip = "in"
	}
	crush := p.Design.Preload == family.CollapsibleSpacer
	doMore, doLess, doAgain, spacer := "nut on, a few degrees at a time", "nut back until the drag is right", "a new spacer and a new nut, and start again", "collapsible spacer"
	if !crush {
		doMore, doLess, doAgain, spacer = "a thinner pack", "nut back until the drag is right", "a thicker pack", "solid spacer"
	}
	out := Drill{
		Asks: say("%s: %s, %s bearings, oiled, seal %s. The pinion turns with a steady %s. The sheet, seal out: %s to %s new, %s to %s used; the seal adds %s to %s. What do you do?",
			p.Code, spacer, state, lip, asTorque(reads), asTorque(sh.PinionTorqueNew.LowNmm), asTorque(sh.PinionTorqueNew.HighNmm),
			asTorque(sh.PinionTorqueUsed.LowNmm), asTorque(sh.PinionTorqueUsed.HighNmm), asTorque(sh.SealDrag.LowNmm), asTorque(sh.SealDrag.HighNmm)),
		Answer: Answer{Form: Choice, Right: right, Options: []Option{
			leaveIt:    {"", say("right, leave it")},
			tighten:    {"", say("too loose: %s", doMore)},
			slacken:    {"", say("too tight: %s", doLess)},
			startAgain: {"", say("too tight: %s", doAgain)},
		}},
		Lesson: "rotating-torque",
		Source: Source{"the family's sheet, and that a seal counts", practice},
	}
	sum := say("The window here is %s to %s", asTorque(w.LowNmm), asTorque(w.HighNmm))
	if seal {
		sum = say("The window here is %s + %s to %s + %s, so %s to %s", asTorque(sh.PinionTorque(used).LowNmm), asTorque(sh.SealDrag.LowNmm),
			asTorque(sh.PinionTorque(used).HighNmm), asTorque(sh.SealDrag.HighNmm), asTorque(w.LowNmm), asTorque(w.HighNmm))
	}
	out.Shows = say("%s for %s bearings with the seal %s, and %s is %s.", sum, state, lip, asTorque(reads),
		map[int]string{leaveIt: "inside it", tighten: "below it: " + doMore, startAgain: "above it: " + doAgain}[right])
	if right == startAgain && crush {
		out.Source = Source{"TM 9-2320-280-34, para 19-3, p. 19-21, steps 48-53", published}
		out.Lesson = "crush-spacer"
	} else if right == startAgain {
		out.Source, out.Lesson = Source{"TM 10-3930-660-34, p. 9-16", published}, "solid-spacer"
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
			wr.Misconception, wr.Why = SpacerBack, say("A crushed spacer does not come back: with the nut let off nothing holds the cones.")
		case as == right:
			wr.Misconception, wr.Why = SpacerBack, say("The nut holds the stack together and stays at its torque; the pack sets the preload.")
		case verdict(spec(!used, seal)) == as:
			wr.Misconception, wr.Why = NewForUsed, say("That goes by the window for the other bearings; these are %s.", state)
		case verdict(spec(used, !seal)) == as:
			wr.Misconception, wr.Why = SealIgnored, say("The seal is %s here, and the sheet's figures are without it.", lip)
		case right == leaveIt:
			wr.Misconception, wr.Why = PerfectFigure, say("It is inside the window; nothing is won by going on.")
		case c == leaveIt:
			wr.Misconception, wr.Why = NearEnough, say("%s is outside the window, %s to %s.", asTorque(reads), asTorque(w.LowNmm), asTorque(w.HighNmm))
		default:
			wr.Misconception, wr.Why = SignTurned, say("%s is on the other side of the window, %s to %s.", asTorque(reads), asTorque(w.LowNmm), asTorque(w.HighNmm))
		}
		out.Wrongs = append(out.Wrongs, wr)
	}
	return out, nil
}
