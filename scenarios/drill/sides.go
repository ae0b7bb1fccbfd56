package drill

import (
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// lash draws a mean backlash reading off its window, and what to do about it.
func (p *draft) lash() (readsMM, changeMM float64, err error) {
	dial, _ := gauge.ClassOf(gauge.DialIndicator)
	w := p.Sheet.Backlash
	const leastMM, mostMM, closedMM = 0.05, 0.35, 0.02
	reads := dial.Shown(w.Mid() + p.sign()*p.Uniform(leastMM, mostMM))
	if w.Holds(reads) || reads < closedMM {
		return 0, 0, errAgain
	}
	return reads, w.Mid() - reads, nil
}

// asksBacklash is how a question about backlash begins.
func (p *draft) asksBacklash(reads float64) Text {
	w, step := p.Sheet.Backlash, quantity.Inches(0.010).MM()
	return say("%s: backlash reads %s on average, with hardly any swing. The sheet has %s to %s; aim for %s. On this axle, moving the ring gear by %s changes the backlash by %s.",
		p.Code, length(reads), length(w.LowMM), length(w.HighMM), length(w.Mid()), length(step), length(step*p.gains.BacklashPerRing))
}

// whichWay says where the ring gear goes for a change of backlash.
func whichWay(changeMM float64) string {
	if changeMM > 0 {
		return "More backlash: the ring gear goes away from the pinion"
	}
	return "Less backlash: the ring gear goes toward the pinion"
}

func gainWhy(gain float64) Text {
	return say("Backlash changes by only %s of what the ring gear moves, so the move is the larger of the two: divide.", number(gain, 2))
}

func backlashSource() Source {
	return Source{"TM 9-2320-289-34, table 6-1 and pp. 6-21, 6-22", published}
}

// split asks for side shims after a backlash reading: one of the two, or which pair.
func (p *draft) split() (Drill, error) {
	sh, gain := p.Sheet, p.gains.BacklashPerRing
	old := setup.SideShims{RingGearMM: p.among(sh.SideShims), OppositeMM: p.among(sh.SideShims)}
	const unlikeMM = 0.3 // packs of one axle are not further apart
	reads, wanted, err := p.lash()
	if err != nil || abs(old.RingGearMM-old.OppositeMM) > unlikeMM {
		return Drill{}, errAgain
	}
	away, err := setup.ShimMoveForBacklashMM(wanted, gain)
	if err != nil {
		return Drill{}, err
	}
	moved := func(away float64) setup.SideShims { return old.MoveRingAwayMM(away) }
	right := moved(away)
	for _, mm := range []float64{right.RingGearMM, right.OppositeMM, moved(-away).RingGearMM, moved(-away).OppositeMM} {
		if !stocked(sh.SideShims, mm) {
			return Drill{}, errAgain
		}
	}
	where := "outside the cups"
	if p.Design.SideAdjust == family.InsideShims {
		where = "inside, behind the cones"
	}
	side := [2]string{"back", "tooth"}
	of := func(s setup.SideShims) float64 { return s.RingGearMM }
	if p.either() {
		side = [2]string{"tooth", "back"}
		of = func(s setup.SideShims) float64 { return s.OppositeMM }
	}
	shows := say("%s, by %s / %s = %s. One side gives what the other takes, or the preload goes too: back %s, tooth %s.",
		whichWay(wanted), length(abs(wanted)), number(gain, 2), length(abs(away)), length(right.RingGearMM), length(right.OppositeMM))
	turned := say("That moves the ring gear the other way. The back shim is behind the ring gear: more of it pushes the gear toward the pinion and takes backlash away.")
	out := Drill{Shows: shows, Lesson: "side-shims", Source: backlashSource()}
	begin := say("%s The side shims lie %s: back %s, tooth %s.", p.asksBacklash(reads), where, length(old.RingGearMM), length(old.OppositeMM))
	if p.Whole(3) > 0 {
		tol, reason := halfStep(sh.SideShims)
		out.Asks = say("%s The preload is right and is to stay. What %s shim do you fit?", begin, side[0])
		out.Answer = Answer{Form: Length, Value: of(right), Tolerance: tol, Reason: reason}
		out.Wrongs = []Wrong{
			{Misconception: SignTurned, Value: of(moved(-away)), Why: turned},
			{Misconception: OneToOne, Value: of(moved(wanted)), Why: gainWhy(gain)},
			{Misconception: GainTurned, Value: of(moved(wanted * gain)), Why: gainWhy(gain)},
		}
		return out, nil
	}
	// In whole steps of the shelf, as far at one side as at the other.
	near := func(away float64) setup.SideShims {
		return moved(old.OppositeMM - sh.SideShims.Nearest(old.OppositeMM-away))
	}
	oneSide := setup.SideShims{RingGearMM: old.RingGearMM, OppositeMM: near(away).OppositeMM}
	if wanted < 0 {
		oneSide = setup.SideShims{RingGearMM: near(away).RingGearMM, OppositeMM: old.OppositeMM}
	}
	out.Asks = say("%s The preload is right and is to stay. Which pair do you fit?", begin)
	out.Answer.Form = Choice
	pairs := []struct {
		setup.SideShims
		idea Misconception
		why  Text
	}{
		{near(away), "", Text{}},
		{near(-away), SignTurned, turned},
		{near(wanted), OneToOne, gainWhy(gain)},
		{oneSide, OneSideOnly, say("Both packs together would change by %s, and the side preload with them.", length(abs(away)))},
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
		out.Answer.Options = append(out.Answer.Options, Option{Text: say("back %s, tooth %s", length(pairs[i].RingGearMM), length(pairs[i].OppositeMM))})
		if pairs[i].idea == "" {
			out.Answer.Right = at
			continue
		}
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: pairs[i].idea, Choice: at, Why: pairs[i].why})
	}
	return out, nil
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

// slots asks how far a ring is turned for a change of backlash.
func (p *draft) notches() (Drill, error) {
	gain, rings := p.gains.BacklashPerRing, p.Design.Rings
	travel := rings.NotchTravelMM()
	reads, wanted, err := p.lash()
	if err != nil {
		return Drill{}, err
	}
	away, err := setup.ShimMoveForBacklashMM(wanted, gain)
	if err != nil {
		return Drill{}, err
	}
	// The tooth side ring goes in to carry the ring gear away.
	asked, other, sign := "tooth", "back", 1.0
	if p.either() {
		asked, other, sign = "back", "tooth", -1
	}
	n := func(away float64) float64 { return sign * away / travel }
	const half = 0.5
	return Drill{
		Asks: say("%s The rings have %d lock slots and a pitch of %s. The preload is right and is to stay. How many slots do you turn the %s side ring, in or out?",
			p.asksBacklash(reads), rings.Notches, length(rings.PitchMM), asked),
		Answer: Answer{Form: NotchCount, Value: n(away), Tolerance: half,
			Reason: say("half a slot, the nearest a ring can be locked; take the near one and read again")},
		Shows: say("%s, by %s / %s = %s. One slot is %s / %d = %s, so %s: the %s side ring %s and the %s side ring as far %s. Finish with a tightening move.",
			whichWay(wanted), length(abs(wanted)), number(gain, 2), length(abs(away)), length(rings.PitchMM), rings.Notches, length(travel),
			sizesOf(abs(away/travel), "slot"), asked, inOrOut(n(away)), other, inOrOut(-n(away))),
		Wrongs: []Wrong{
			{Misconception: SignTurned, Value: n(-away), Why: say("The back side ring is behind the ring gear: in, it pushes the gear toward the pinion and takes backlash away; the tooth side ring does the opposite.")},
			{Misconception: OneToOne, Value: n(wanted), Why: gainWhy(gain)},
			{Misconception: GainTurned, Value: n(wanted * gain), Why: gainWhy(gain)},
		},
		Lesson: "adjuster-rings",
		Source: Source{"TM 9-2320-363-34-2, pp. 16-13, 17-26, 17-32, 17-59; how much, TM 9-2320-289-34, table 6-1", published},
	}, nil
}

func inOrOut(n float64) string {
	if n < 0 {
		return "out"
	}
	return "in"
}

// What to do about four readings.
const (
	accept = iota
	openUp
	closeUp
	seekRunout
)

// judged says what four readings ask for by the sheet: a swing before all, then the
// tightest place, then the widest.
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
	set := explore.Settings{
		SideFitMM:   sh.SidePreload.Mid(),
		RunoutTIRMM: p.Uniform(0, 2.5) * sh.RunoutMM,
		RingAwayMM:  p.Uniform(-1.2, 1.2) * sh.Backlash.Half() / p.gains.BacklashPerRing,
	}
	set.Seed = 1 + uint64(p.Whole(1<<30))
	wantsMost := p.Whole(seekRunout + 1)
	r, err := p.bench.At(set)
	if err != nil {
		return Drill{}, errAgain
	}
	turned := p.Whole(explore.Places)
	var read []float64
	for i := range explore.Places {
		read = append(read, r.Shown.DialBacklashMM[(i+turned)%explore.Places])
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
	mean := say("mean %s, tightest %s, widest %s, spread %s", length(s.MeanMM), length(s.MinMM), length(s.MaxMM), length(s.SpreadMM))
	out := Drill{
		Asks: say("%s: backlash at four places reads %s, %s, %s, %s. The sheet has %s to %s, and no more than %s between places. What do you do?",
			p.Code, length(read[0]), length(read[1]), length(read[2]), length(read[3]), length(sh.Backlash.LowMM), length(sh.Backlash.HighMM), length(sh.BacklashSpreadMM)),
		Answer: Answer{Form: Choice, Right: right, Options: []Option{
			accept: {"accept", Text{}}, openUp: {"more", Text{}}, closeUp: {"less", Text{}}, seekRunout: {"runout", Text{}},
		}},
		Lesson: "backlash-reading",
		Source: Source{"TM 9-2320-289-34, para 6-5, p 6-21, steps 15-16", published},
	}
	out.Asks = say("%s Answer accept, more (move the ring gear for more backlash), less, or runout (find out first why it swings).", out.Asks)
	wrong := func(choice int, idea Misconception, why Text) {
		out.Wrongs = append(out.Wrongs, Wrong{Misconception: idea, Choice: choice, Why: why})
	}
	switch right {
	case accept:
		out.Shows = say("Accept: %s. Every place is inside the window and the spread is within its limit.", mean)
		for _, c := range []int{openUp, closeUp} {
			wrong(c, PerfectFigure, say("Every place is inside already; the middle of the window is where to aim, not what to reach."))
		}
		wrong(seekRunout, PerfectFigure, say("The sheet allows %s between places; dial and teeth always differ a little.", length(sh.BacklashSpreadMM)))
	case seekRunout:
		out.Lesson = "runout"
		out.Shows = say("Runout first: %s, and the sheet allows %s. Shims move all four places together and leave the swing: read the back face, look for dirt, a burr, uneven bolts.", mean, length(sh.BacklashSpreadMM))
		wrong(accept, MeanIsEnough, say("A mean of %s hides a spread of %s.", length(s.MeanMM), length(s.SpreadMM)))
		for _, c := range []int{openUp, closeUp} {
			wrong(c, ShimRunout, say("A shim moves all places by as much; the spread of %s stays.", length(s.SpreadMM)))
		}
	case openUp, closeUp:
		// One place is out: the mean may be out with it or not.
		at, limit, turned, word := s.MinMM, sh.Backlash.LowMM, closeUp, "more"
		if right == closeUp {
			at, limit, turned, word = s.MaxMM, sh.Backlash.HighMM, openUp, "less"
		}
		out.Shows = say("A little %s: %s. One place, at %s, is past the limit of %s, and the spread is within its own, so the whole gear is moved.", word, mean, length(at), length(limit))
		wrong(accept, MeanIsEnough, say("The place at %s is past the limit, whatever the mean of %s says.", length(at), length(s.MeanMM)))
		wrong(turned, SignTurned, say("That takes the place at %s further past the limit of %s.", length(at), length(limit)))
		wrong(seekRunout, PerfectFigure, say("The spread of %s is within the %s that the sheet allows.", length(s.SpreadMM), length(sh.BacklashSpreadMM)))
	}
	return out, nil
}
