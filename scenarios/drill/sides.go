package drill

import (
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// A lash is a mean backlash out of spec and how far the ring gear has to go for the middle
// of the spec.
type lash struct {
	reads, middle, change, gain, travel Figure
	changeMM, awayMM, perRing           float64 // signed: more backlash, away from the pinion; exact gain
	asks, rule                          text.Message
}

// lash draws a mean backlash that is out of spec.
func (p *draft) lash() (lash, error) {
	dial, _ := gauge.ClassOf(gauge.DialIndicator)
	w := p.Sheet.Backlash
	const leastMM, mostMM, closedMM = 0.05, 0.35, 0.02
	reads := dial.Shown(w.Mid() + p.sign()*p.Uniform(leastMM, mostMM))
	if w.Holds(reads) || reads < closedMM {
		return lash{}, errAgain
	}
	m, err := p.model()
	if err != nil {
		return lash{}, err
	}
	step := quantity.Inches(0.010).MM()
	moved, worth := length(step), length(step*m.gains.BacklashPerRing)
	l := lash{reads: length(reads), middle: meanOf(length(w.LowMM), length(w.HighMM)), gain: worth.over(moved, Ratio), changeMM: w.Mid() - reads}
	l.change = apart(l.middle, l.reads)
	l.travel = l.change.over(l.gain, Length)
	l.perRing = m.gains.BacklashPerRing
	if l.awayMM, err = setup.ShimMoveForBacklashMM(l.changeMM, l.perRing); err != nil {
		return lash{}, err
	}
	l.asks = text.Say("drill.lash.asks", "{family}: the backlash reads {reads} on average, with almost no variation. The spec is {low} to {high}; aim for the middle. On this axle, moving the ring gear {moved} changes the backlash by {worth}.",
		p.named(), text.Shown("reads", l.reads), text.Shown("low", length(w.LowMM)), text.Shown("high", length(w.HighMM)), text.Shown("moved", moved), text.Shown("worth", worth))
	l.rule = text.Say("drill.lash.toward", "For less backlash the ring gear moves toward the pinion.")
	if l.changeMM > 0 {
		l.rule = text.Say("drill.lash.away", "For more backlash the ring gear moves away from the pinion.")
	}
	return l, nil
}

// steps are the working up to the travel of the ring gear.
func (l lash) steps() []Step {
	return []Step{
		{text.Say("drill.step.middle-backlash", "Middle of the spec"), l.middle},
		{text.Say("drill.step.backlash-change", "Change in backlash"), l.change},
		{text.Say("drill.step.gain", "Backlash for each unit of travel"), l.gain},
		{text.Say("drill.step.travel", "Travel of the ring gear"), l.travel},
	}
}

// wrongs are the answers of those who are wrong about direction or size, for the amount
// that a travel away from the pinion comes to.
func (l lash) wrongs(turned text.Message, of func(awayMM float64) float64) []Wrong {
	why := text.Say("drill.lash.gain", "The backlash changes by only {gain} of what the ring gear moves, so the ring gear must move more than the backlash is to change: divide.", text.Shown("gain", l.gain))
	return []Wrong{
		{Misconception: SignTurned, Value: of(-l.awayMM), Why: turned},
		{Misconception: OneToOne, Value: of(l.changeMM), Why: why},
		{Misconception: GainTurned, Value: of(l.changeMM * l.perRing), Why: why},
	}
}

func backlashSource() Source {
	return Source{text.Say("drill.source.side-shims", "TM 9-2320-289-34, table 6-1 and pp. 6-21, 6-22"), Published}
}

// sidePair says both side shims.
func sidePair(ring, opposite Figure) text.Message {
	return text.Say("drill.side-pair", "ring-gear side {ring_gear_side}, opposite side {opposite_side}", text.Shown("ring_gear_side", ring), text.Shown("opposite_side", opposite))
}

// sideShims asks for side shims after a backlash reading: one of the two, or which pair.
func (p *draft) sideShims() (Drill, error) {
	sh := p.Sheet
	old := setup.SideShims{RingGearMM: p.among(sh.SideShims), OppositeMM: p.among(sh.SideShims)}
	const unlikeMM = 0.3 // the two shims of one axle do not differ more
	l, err := p.lash()
	if err != nil || abs(old.RingGearMM-old.OppositeMM) > unlikeMM {
		return Drill{}, errAgain
	}
	moved := func(away float64) setup.SideShims { return old.MoveRingAwayMM(away) }
	right := moved(l.awayMM)
	for _, mm := range []float64{right.RingGearMM, right.OppositeMM, moved(-l.awayMM).RingGearMM, moved(-l.awayMM).OppositeMM} {
		if !stocked(sh.SideShims, mm) {
			return Drill{}, errAgain
		}
	}
	where := text.Say("drill.side-shims.outside", "outside, between the bearing cups and the housing")
	if p.Design.SideAdjust == family.InsideShims {
		where = text.Say("drill.side-shims.inside", "inside, behind the bearing cones")
	}
	more := l.changeMM > 0
	ring, opposite := length(old.RingGearMM).shifted(!more, l.travel), length(old.OppositeMM).shifted(more, l.travel)
	ringStep := Step{text.Say("drill.step.ring-gear-side", "Ring-gear side shim"), ring}
	oppositeStep := Step{text.Say("drill.step.opposite-side", "Opposite side shim"), opposite}
	turned := text.Say("drill.side-shims.turned", "That moves the ring gear the wrong way. The ring-gear side shim is behind the ring gear: a thicker one pushes the gear toward the pinion and takes backlash away.")
	out := Drill{
		Shows:  text.Say("drill.side-shims.shows", "{rule} One side gives up what the other side gets, so that the preload stays.", text.Of("rule", l.rule)),
		Lesson: "side-shims",
		Source: backlashSource(),
	}
	args := []text.Arg{text.Of("backlash", l.asks), text.Of("where", where), text.Of("shims", sidePair(length(old.RingGearMM), length(old.OppositeMM)))}
	if p.Whole(3) > 0 {
		tol, reason := halfStep(sh.SideShims)
		of := func(away float64) float64 { return moved(away).RingGearMM }
		out.Asks = text.Say("drill.side-shims.asks-ring-gear-side", "{backlash} The side shims are {where}: {shims}. The side bearing preload is right and must stay. Which shim do you fit on the ring-gear side?", args...)
		out.Answer = Answer{Figure: ring, Tolerance: tol, Reason: reason}
		out.Working = append(l.steps(), oppositeStep, ringStep)
		if p.either() {
			of = func(away float64) float64 { return moved(away).OppositeMM }
			out.Asks = text.Say("drill.side-shims.asks-opposite-side", "{backlash} The side shims are {where}: {shims}. The side bearing preload is right and must stay. Which shim do you fit on the opposite side?", args...)
			out.Answer.Figure = opposite
			out.Working = append(l.steps(), ringStep, oppositeStep)
		}
		out.Wrongs = l.wrongs(turned, of)
		return out, nil
	}
	// In whole steps of the shelf, as far at one side as at the other.
	near := func(away float64) setup.SideShims {
		return moved(old.OppositeMM - sh.SideShims.Nearest(old.OppositeMM-away))
	}
	oneSide := setup.SideShims{RingGearMM: old.RingGearMM, OppositeMM: near(l.awayMM).OppositeMM}
	if !more {
		oneSide = setup.SideShims{RingGearMM: near(l.awayMM).RingGearMM, OppositeMM: old.OppositeMM}
	}
	out.Asks = text.Say("drill.side-shims.asks-pair", "{backlash} The side shims are {where}: {shims}. The side bearing preload is right and must stay. Which pair do you fit?", args...)
	out.Working = append(l.steps(), ringStep, oppositeStep)
	ws := l.wrongs(turned, func(float64) float64 { return 0 })
	pairs := []struct {
		setup.SideShims
		Wrong
	}{
		{near(l.awayMM), Wrong{}},
		{near(-l.awayMM), ws[0]},
		{near(l.changeMM), ws[1]},
		{oneSide, Wrong{Misconception: OneSideOnly, Why: text.Say("drill.side-shims.one-side", "Both shims together would change by {travel}, and the side bearing preload would change with them.", text.Shown("travel", l.travel))}},
	}
	for i, a := range pairs {
		for _, b := range pairs[:i] {
			if abs(a.RingGearMM-b.RingGearMM)+abs(a.OppositeMM-b.OppositeMM) < sh.SideShims.StepMM {
				return Drill{}, errAgain
			}
		}
	}
	for _, i := range p.deal(len(pairs)) {
		at := len(out.Answer.Options)
		out.Answer.Options = append(out.Answer.Options, Option{Text: sidePair(length(pairs[i].RingGearMM), length(pairs[i].OppositeMM))})
		w := pairs[i].Wrong
		if w.Choice = at; w.Misconception == "" {
			out.Answer.Right = at
			continue
		}
		out.Wrongs = append(out.Wrongs, w)
	}
	return out, nil
}

// sideTotal asks for the total of the side shims from the end play that some of them leave.
func (p *draft) sideTotal() (Drill, error) {
	sh := p.Sheet
	dial, _ := gauge.ClassOf(gauge.DialIndicator)
	const leastMM, mostMM, unlikeMM = 0.08, 0.6, 0.3
	play := length(dial.Shown(p.Uniform(leastMM, mostMM)))
	ring, opposite := length(p.among(sh.SideShims)), length(p.among(sh.SideShims))
	d := p.totalOf(ring, opposite, play)
	// Each side gets about half of it.
	if each := d.Answer.Figure.Exact() / 2; apart(ring, opposite).Exact() > unlikeMM || !stocked(sh.SideShims, each+unlikeMM/2) {
		return Drill{}, errAgain
	}
	return d, nil
}

// totalOf is the drill on two side shims that leave some end play.
func (p *draft) totalOf(ring, opposite, play Figure) Drill {
	sh := p.Sheet
	now := ring.plus(opposite)
	zero := now.plus(play)
	preload := meanOf(length(sh.SidePreload.LowMM), length(sh.SidePreload.HighMM))
	right := zero.plus(preload)
	tol, reason := halfStep(sh.SideShims)
	return Drill{
		Asks: text.Say("drill.side-total.asks", "{family}: with these side shims, {shims}, and the bearing caps torqued, the case has {play} of end play. The side bearing preload spec is {low} to {high} of shim over zero end play; aim for the middle. What total of side shims, both sides together, do you fit?",
			p.named(), text.Of("shims", sidePair(ring, opposite)), text.Shown("play", play), text.Shown("low", length(sh.SidePreload.LowMM)), text.Shown("high", length(sh.SidePreload.HighMM))),
		Answer: Answer{Figure: right, Tolerance: tol, Reason: reason},
		Shows:  text.Say("drill.side-total.shows", "The end play is the shim that is missing for zero end play. The preload comes on top of that. Then the total is divided between the two sides for the backlash."),
		Working: []Step{
			{text.Say("drill.step.total-now", "Total now"), now},
			{text.Say("drill.step.total-zero", "Total for zero end play"), zero},
			{text.Say("drill.step.middle-preload", "Middle of the preload spec"), preload},
			{text.Say("drill.step.total-shims", "Total to fit"), right},
		},
		Wrongs: []Wrong{
			{Misconception: ZeroIsEnough, Value: zero.Exact(), Why: text.Say("drill.side-total.no-preload", "That total leaves zero end play and no preload.")},
			{Misconception: PreloadEachSide, Value: right.Exact() + preload.Exact(), Why: text.Say("drill.side-total.twice", "The spec is for both sides together: {preload} altogether, half of it on each side.", text.Shown("preload", preload))},
			{Misconception: SignTurned, Value: now.Exact() - play.Exact() + preload.Exact(), Why: text.Say("drill.side-total.turned", "End play means that shims are missing. Thinner shims make more end play.")},
		},
		Lesson: "side-total",
		Source: Source{text.Say("drill.source.preload-over-zero", "the sum of shims and gap; the preload over zero end play, TM 9-2320-289-34, table 6-1"), Computed},
	}
}

// deal returns the numbers below n in another order.
func (p *draft) deal(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	for i := n - 1; i > 0; i-- {
		k := p.Whole(i + 1)
		out[i], out[k] = out[k], out[i]
	}
	return out
}

// adjusters asks how far a bearing adjuster is turned for a change in backlash.
func (p *draft) adjusters() (Drill, error) {
	rings := p.Design.Rings
	l, err := p.lash()
	if err != nil {
		return Drill{}, err
	}
	args := []text.Arg{text.Of("backlash", l.asks), text.Shown("notches", count(rings.Notches)), text.Shown("pitch", length(rings.PitchMM))}
	// The opposite side adjuster goes in to move the ring gear away from the pinion.
	asks := text.Say("drill.adjusters.asks-opposite-side", "{backlash} The bearing adjusters have {notches} notches and a thread pitch of {pitch}. The side bearing preload is right and must stay. How many notches do you turn the opposite side adjuster, in or out?", args...)
	in := l.changeMM > 0
	if p.either() {
		asks = text.Say("drill.adjusters.asks-ring-gear-side", "{backlash} The bearing adjusters have {notches} notches and a thread pitch of {pitch}. The side bearing preload is right and must stay. How many notches do you turn the ring-gear side adjuster, in or out?", args...)
		in = !in
	}
	travel := length(rings.PitchMM).over(count(rings.Notches), FineLength)
	turns := l.travel.over(travel, NotchCount)
	right := turns
	if !in {
		right = turns.times(figure(Count, -1), NotchCount)
	}
	of := func(away float64) float64 { return signed(in == (l.awayMM > 0), away) / rings.NotchTravelMM() }
	shows := text.Say("drill.adjusters.shows-out", "{rule} This adjuster goes out and the other one in by as much, so that the preload stays. Finish with a tightening move.", text.Of("rule", l.rule))
	if in {
		shows = text.Say("drill.adjusters.shows-in", "{rule} This adjuster goes in and the other one out by as much, so that the preload stays. Finish with a tightening move.", text.Of("rule", l.rule))
	}
	const half = 0.5
	return Drill{
		Asks:    asks,
		Answer:  Answer{Figure: right, Tolerance: half, Reason: text.Say("drill.reason.half-notch", "half a notch: an adjuster is locked at a notch, and the backlash is read again")},
		Shows:   shows,
		Working: append(l.steps(), Step{text.Say("drill.step.notch-travel", "Travel for each notch"), travel}, Step{text.Say("drill.step.notches", "Notches"), turns}),
		Wrongs: l.wrongs(text.Say("drill.adjusters.turned", "The ring-gear side adjuster is behind the ring gear: turned in, it pushes the gear toward the pinion and takes backlash away. The opposite side adjuster does the reverse."),
			of),
		Lesson: "bearing-adjusters",
		Source: Source{text.Say("drill.source.adjusters", "TM 9-2320-363-34-2, p. 17-32; how much, TM 9-2320-289-34, table 6-1"), Published},
	}, nil
}

// What to do about four readings.
const (
	accept = iota
	openUp
	closeUp
	seekRunout
)

// judged says what four readings ask for by the specification sheet: variation before all,
// then the tightest place, then the widest.
func judged(sh family.Sheet, s setup.Spread) int {
	switch {
	case s.SpreadMM > sh.BacklashSpreadMM:
		return seekRunout
	case s.MinMM < sh.Backlash.LowMM:
		return openUp
	case s.MaxMM > sh.Backlash.HighMM:
		return closeUp
	}
	return accept
}

// backlash shows four readings of the bench and asks what to do.
func (p *draft) backlash() (Drill, error) {
	sh := p.Sheet
	m, err := p.model()
	if err != nil {
		return Drill{}, err
	}
	set := explore.Settings{
		SideFitMM:   sh.SidePreload.Mid(),
		RunoutTIRMM: p.Uniform(0, 2.5) * sh.RunoutMM,
		RingAwayMM:  p.Uniform(-1.2, 1.2) * sh.Backlash.Half() / m.gains.BacklashPerRing,
	}
	set.Seed = 1 + uint64(p.Whole(1<<30))
	wantsMost := p.Whole(seekRunout + 1)
	r, err := m.bench.At(set)
	if err != nil {
		return Drill{}, errAgain
	}
	turned := p.Whole(explore.Places)
	var read []float64
	var figures []Figure
	for i := range explore.Places {
		read = append(read, r.Shown.DialBacklashMM[(i+turned)%explore.Places])
		figures = append(figures, length(read[i]))
	}
	s, err := setup.SpreadOf(read)
	if err != nil {
		return Drill{}, err
	}
	right := judged(sh, s)
	dial, _ := gauge.ClassOf(gauge.DialIndicator)
	edge := dial.Step / 4 // a reading on a limit is no question
	for _, gap := range []float64{s.SpreadMM - sh.BacklashSpreadMM, s.MinMM - sh.Backlash.LowMM, s.MaxMM - sh.Backlash.HighMM} {
		if abs(gap) < edge {
			return Drill{}, errAgain
		}
	}
	if right != wantsMost || s.MinMM <= 0 {
		return Drill{}, errAgain
	}
	tightest, widest := length(s.MinMM), length(s.MaxMM)
	average, variation := meanOf(figures[0], figures[1:]...), widest.minus(tightest)
	allowed := text.Shown("allowed", length(sh.BacklashSpreadMM))
	varies := text.Shown("variation", variation)
	out := Drill{
		Asks: text.Say("drill.backlash.asks", "{family}: the backlash at four places reads {a}, {b}, {c} and {d}. The spec is {low} to {high}, with no more than {allowed} of variation between places. What do you do? Answer accept, more or less (move the ring gear for more or for less backlash) or runout (find out first why the readings differ).",
			p.named(), text.Shown("a", figures[0]), text.Shown("b", figures[1]), text.Shown("c", figures[2]), text.Shown("d", figures[3]),
			text.Shown("low", length(sh.Backlash.LowMM)), text.Shown("high", length(sh.Backlash.HighMM)), allowed),
		Answer:  Answer{Right: right, Options: []Option{accept: {Word: "accept"}, openUp: {Word: "more"}, closeUp: {Word: "less"}, seekRunout: {Word: "runout"}}},
		Working: []Step{{text.Say("drill.step.variation", "Variation"), variation}, {text.Say("drill.step.average", "Average"), average}},
		Lesson:  "backlash-reading",
		Source:  Source{text.Say("drill.source.four-readings", "TM 9-2320-289-34, para 6-5, p 6-21, steps 15-16"), Published},
	}
	wrong := func(choice int, m Misconception, why text.Message) {
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: m, Choice: choice, Why: why})
	}
	switch right {
	case accept:
		out.Shows = text.Say("drill.backlash.accept", "Accept. Every place is in spec, from {tightest} to {widest}, and the variation is within {allowed}.", text.Shown("tightest", tightest), text.Shown("widest", widest), allowed)
		for _, c := range []int{openUp, closeUp} {
			wrong(c, PerfectFigure, text.Say("drill.backlash.in-spec", "Every place is in spec already. The middle of the spec is an aim, not a requirement."))
		}
		wrong(seekRunout, PerfectFigure, text.Say("drill.backlash.variation-in-spec", "The variation of {variation} is within the {allowed} that the spec allows.", varies, allowed))
	case seekRunout:
		out.Lesson = "runout"
		out.Shows = text.Say("drill.backlash.runout", "Runout first: the variation is {variation} and the spec allows {allowed}. Side shims move all four places together and leave the variation. Measure the back-face runout, and look for dirt, a burr or uneven bolts.", varies, allowed)
		wrong(accept, MeanIsEnough, text.Say("drill.backlash.average-hides", "The average of {average} hides a variation of {variation}.", text.Shown("average", average), varies))
		for _, c := range []int{openUp, closeUp} {
			wrong(c, ShimRunout, text.Say("drill.backlash.all-places", "A shim moves all places by the same amount. The variation of {variation} stays.", varies))
		}
	case openUp, closeUp:
		// One place is out: the average may be out with it or not.
		at, limit, turned := tightest, length(sh.Backlash.LowMM), closeUp
		shows := text.Say("drill.backlash.more", "A little more backlash. The place at {at} is below the limit of {limit}. The variation of {variation} is within its own limit, so the whole gear is moved.", text.Shown("at", at), text.Shown("limit", limit), varies)
		if right == closeUp {
			at, limit, turned = widest, length(sh.Backlash.HighMM), openUp
			shows = text.Say("drill.backlash.less", "A little less backlash. The place at {at} is above the limit of {limit}. The variation of {variation} is within its own limit, so the whole gear is moved.", text.Shown("at", at), text.Shown("limit", limit), varies)
		}
		out.Shows = shows
		past := []text.Arg{text.Shown("at", at), text.Shown("limit", limit)}
		wrong(accept, MeanIsEnough, text.Say("drill.backlash.place-past", "The place at {at} is past the limit of {limit}, whatever the average of {average} says.", append(past, text.Shown("average", average))...))
		wrong(turned, SignTurned, text.Say("drill.backlash.farther-past", "That takes the place at {at} even farther past the limit of {limit}.", past...))
		wrong(seekRunout, PerfectFigure, text.Say("drill.backlash.variation-allowed", "The variation of {variation} is within the {allowed} that the spec allows; only the backlash is off.", varies, allowed))
	}
	return out, nil
}
