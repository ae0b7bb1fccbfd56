package ledger

import (
	"math"

	"shimwright/grading/inference"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// Next is the act that the reference way of working does next, on what is believed.
func (l *Ledger) Next(s *State) act.Act { return l.plan(s).next() }

// NextBuilding is Next were all inspections done.
func (l *Ledger) NextBuilding(s *State) act.Act {
	p := l.plan(s)
	p.looked = true
	return p.next()
}

func (p *plan) next() act.Act {
	at := p.s.place()
	if at.caseIn {
		return p.nextTogether(at)
	}
	if at.pinion == history.PinionFinal {
		return p.nextPinionIn(at)
	}
	return p.nextApart(at)
}

func do(f act.Form, choices ...act.Option) act.Act { return act.Act{Form: f, Choices: choices} }

func amounts(f act.Form, of ...quantity.Entered) act.Act { return act.Act{Form: f, Amounts: of} }

func number(n float64, u quantity.Unit) quantity.Entered { return quantity.Entered{Number: n, Unit: u} }

// size says a stocked size in the unit that its shelf is kept in.
func size(stock family.Stock, mm float64) quantity.Entered {
	const sameMM = 1e-6
	if n := stock.StepMM / quantity.Thou(1).MM(); math.Abs(n-math.Round(n)) < sameMM {
		return number(math.Round(quantity.Millimetres(mm).Thou()*10)/10000, quantity.UnitInch)
	}
	return number(math.Round(mm*1000)/1000, quantity.UnitMM)
}

// look returns the next inspection that is pending and possible, or the cure of what was
// found; ok is false where there is none.
func (p *plan) look(at place) (act.Act, bool) {
	if p.looked {
		return act.Act{}, false
	}
	for _, f := range p.list {
		if p.full.Risk(f.ID) > 0.5 && p.leaves(f) && p.curable(f, at) && p.cure(f) < p.late(f)+p.minutes(f.Cure) {
			return do(f.Cure), true
		}
	}
	for _, it := range p.items {
		if it.reach < atHand && p.reachable(it, at) && p.pending(it, at) {
			return do(it.Form), true
		}
	}
	return act.Act{}, false
}

// nextApart: the case is out, and the pinion too or in a mock-up.
func (p *plan) nextApart(at place) act.Act {
	mockUp := at.pinion == history.PinionMockUp
	if mockUp {
		if p.gaugePending(at) {
			return do(act.MeasureDepth)
		}
		return do(act.RemovePinion)
	}
	if a, ok := p.look(at); ok {
		return a
	}
	if a, ok := p.straighten(); ok && p.whole() {
		return a
	}
	read := p.gaugePending(at)
	best := p.bestShim()
	e := p.depthError()
	keep := p.s.DepthShim > 0 && p.chosen(e.Mean, e.SD, read) <= p.newShim()+p.chosen(0, math.Hypot(p.wanted.SD, p.depthRest()), read)
	if p.kind() != scenarios.PreloadJob && !keep && math.Abs(best-p.s.DepthShim.MM()) > p.sheet.DepthShims.StepMM/2 {
		return amounts(act.FitDepthShim, size(p.sheet.DepthShims, best))
	}
	if p.s.DepthShim > 0 && !p.s.mic && !p.looked && p.has(act.MeasureDepthShim) && p.kind() != scenarios.PreloadJob {
		return do(act.MeasureDepthShim)
	}
	switch {
	case p.kind() == scenarios.DepthJob && !read:
		return do(act.SignOff)
	case read:
		return do(act.FitPinion, act.MockUp)
	}
	if p.solid() {
		if shims := p.bestPreloadShims(); math.Abs(shims-p.s.PreloadShims.MM()) > p.design.Solid.PreloadShims.StepMM/2 {
			return amounts(act.FitPreloadShims, size(p.design.Solid.PreloadShims, shims))
		}
	}
	return do(act.FitPinion, act.Final)
}

// bestShim is the stocked depth shim nearest to the one that is wanted, mm.
func (p *plan) bestShim() float64 {
	return p.sheet.DepthShims.Nearest(p.s.DepthShim.MM() + p.depthError().Mean)
}

// bestPreloadShims are the stocked preload shims nearest to the middle of the torque's spec,
// mm.
func (p *plan) bestPreloadShims() float64 {
	now := p.s.PreloadShims.MM()
	off := p.s.TorqueWith(now).Mean - p.s.Spec().Mid()
	return p.design.Solid.PreloadShims.Nearest(now + off/p.gains.TorquePerPreloadShimNmmPerMM)
}

// nextPinionIn: the pinion is in its final assembly, the case out.
func (p *plan) nextPinionIn(at place) act.Act {
	if p.pinionOut(at).Min() < p.goOn(at).Min() {
		return do(act.RemovePinion)
	}
	if p.tooTight() {
		return do(act.RemovePinion) // no further reading would change that
	}
	if a, ok := p.nextNut(at); ok {
		return a
	}
	if p.torqueWrong() {
		return do(act.RemovePinion)
	}
	if !p.gaugesMockUp() && !p.s.gauged && p.has(act.MeasureDepth) && p.kind() != scenarios.PreloadJob {
		return do(act.MeasureDepth)
	}
	if p.design.DepthShim == family.UnderCageFlange && p.kind() != scenarios.PreloadJob {
		e := p.depthError()
		best := p.bestShim()
		if p.minutes(act.FitDepthShim)+p.built(0, math.Hypot(e.SD, p.depthRest())) < p.built(e.Mean, e.SD) && math.Abs(best-p.s.DepthShim.MM()) > p.sheet.DepthShims.StepMM/2 {
			return amounts(act.FitDepthShim, size(p.sheet.DepthShims, best))
		}
	}
	if !p.whole() {
		return do(act.SignOff)
	}
	if a, ok := p.look(at); ok {
		return a
	}
	if a, ok := p.straighten(); ok {
		return a
	}
	if p.rings() {
		return do(act.FitCase)
	}
	b, o := p.bestPair(at)
	if math.Abs(b-p.s.RingGearShim.MM())+math.Abs(o-p.s.OppositeShim.MM()) > p.sheet.SideShims.StepMM/2 {
		return amounts(act.FitSideShims, size(p.sheet.SideShims, b), size(p.sheet.SideShims, o))
	}
	if p.design.Entry == family.Spreader && p.s.Spread == 0 {
		const share = 0.85
		return amounts(act.SpreadHousing, number(math.Round(share*p.sheet.SpreadLimitMM*100)/100, quantity.UnitMM))
	}
	return do(act.FitCase)
}

// nextNut is what the nut and its torque still need.
func (p *plan) nextNut(place) (act.Act, bool) {
	spec, law := p.s.Spec(), p.believedTorque()
	turn := amounts(act.TurnPinion, number(5, quantity.UnitTurn))
	read := do(act.MeasureTorque, act.Rotating, act.Wrench)
	if p.lacks(act.Wrench) || p.s.wrench && !p.s.string && !p.lacks(act.String) && p.s.Nut.Read {
		read = do(act.MeasureTorque, act.Rotating, act.String)
	}
	if p.solid() {
		if p.s.Nut.Torque < p.sheet.NutLow*97/100 && !(p.s.Previous() && !p.s.Opened()) {
			return amounts(act.TightenNutTorque, number(math.Round(p.sheet.NutMid().FootPounds()/5)*5, quantity.UnitFootLb)), true
		}
	} else {
		slope := p.gains.TorquePerDegreeNmm
		if !p.s.Nut.Contact && law.Mean < p.s.NoPlay() {
			if !p.s.Nut.Moved {
				return amounts(act.TightenNutTorque, number(math.Round(0.75*p.sheet.NutLow.FootPounds()/5)*5, quantity.UnitFootLb)), true
			}
			deg := math.Max(5, math.Min(15, math.Round((p.s.NoPlay()-law.Mean)/slope)))
			return amounts(act.TightenNutAngle, number(deg, quantity.UnitDegree)), true
		}
		on, anew := p.nutAhead(law.Mean, law.SD)
		if leave := p.costs.ComebackMin*law.ComesBack(spec.LowNmm, spec.HighNmm) + p.clamp(place{}); p.s.Nut.Read && on < leave && on <= anew && !p.s.NutBackedOff {
			aim := spec.LowNmm + aimShare*(spec.HighNmm-spec.LowNmm)
			deg := math.Max(1, math.Min(12, math.Round(2*(aim-law.Mean)/slope)/2))
			return amounts(act.TightenNutAngle, number(deg, quantity.UnitDegree)), true
		}
	}
	switch {
	case p.s.Nut.Read && p.crossCheck() == 0:
		return act.Act{}, false
	case p.s.Nut.Unsettled:
		return turn, true
	}
	return read, true
}

// tooTight tells whether a torque that has been read is surely above what can be brought back
// without taking the assembly out.
func (p *plan) tooTight() bool {
	const surely = 0.95
	high := p.s.Spec().HighNmm
	return p.s.Nut.Read && p.believedTorque().Below(high) < 1-surely && p.torqueWrong()
}

// torqueWrong tells whether a torque that has been read is better had anew than left.
func (p *plan) torqueWrong() bool {
	spec, law := p.s.Spec(), p.believedTorque()
	leave := p.costs.ComebackMin*law.ComesBack(spec.LowNmm, spec.HighNmm) + p.clamp(place{})
	if p.solid() {
		return leave > p.redoPreload()+p.again()+p.out(p.costs.ComebackMin, 0, math.Hypot(p.byWrench().Left, p.solidRest()), spec.Half())
	}
	_, anew := p.nutAhead(law.Mean, law.SD)
	return leave > anew
}

// straighten is what to do about a ring gear that swings, with its case out.
func (p *plan) straighten() (act.Act, bool) {
	r := p.s.Swings()
	if r*p.costs.RunoutComebackMin < p.swingCure() || r < 0.5 {
		return act.Act{}, false
	}
	const known = 0.9
	for _, f := range p.list {
		if f.Belief.Swings == fault.BackFace && f.Test == act.MeasureCaseRunout && p.s.Risk(f.ID) > known {
			if f.Cure == act.ReplaceGears && p.s.Status.Pinion != history.PinionOut {
				return do(act.RemovePinion), true
			}
			return do(f.Cure), true
		}
	}
	if p.has(act.MeasureCaseRunout) {
		return do(act.MeasureCaseRunout), true
	}
	return do(act.CleanRingGear), true
}

// bestPair is the stocked pair of side shims to fit next, mm: loose ones where zero end play
// is still to be found, else those nearest to the middle of both specs, counted in their
// halves.
func (p *plan) bestPair(at place) (ringGear, opposite float64) {
	s := p.sideLaws()
	b, f := p.sheet.Backlash, p.sheet.SidePreload
	fit := f.Mid()
	if !p.s.line && !at.deeper && !p.readsSpread() && p.has(act.MeasureEndPlay) {
		const looseMM = 0.15
		fit = -looseMM
	}
	least := math.Inf(1)
	for _, r := range p.sheet.SideShims.Sizes() {
		for _, o := range p.sheet.SideShims.Sizes() {
			fitOff := (s.Fit.Mean + (r - s.RingGear) + (o - s.Other) - fit) / f.Half()
			if math.Abs(fitOff) > 2 {
				continue
			}
			lashOff := (s.Lash.Mean - s.PerTravel*((r-s.RingGear)-(o-s.Other))/2 - b.Mid()) / b.Half()
			if miss := fitOff*fitOff + lashOff*lashOff; miss < least-1e-9 {
				least, ringGear, opposite = miss, r, o
			}
		}
	}
	return ringGear, opposite
}

// nextTogether: the case is in.
func (p *plan) nextTogether(at place) act.Act {
	final := at.pinion == history.PinionFinal && p.whole()
	if !final || p.caseOut(at).Min() < p.stay(at).Min() {
		if !p.s.line && !p.rings() && final && p.has(act.MeasureEndPlay) && p.sideLaws().Fit.Below(0) > 0.5 {
			if !at.caps {
				return do(act.TorqueCaps)
			}
			return do(act.MeasureEndPlay)
		}
		return do(act.RemoveCase)
	}
	if p.rings() {
		if a, ok := p.nextAdjuster(at); ok {
			return a
		}
	}
	if !at.caps {
		return do(act.TorqueCaps)
	}
	if !p.s.line && p.readsSpread() && !p.rings() {
		return do(act.MeasureSpread)
	}
	for _, it := range p.items {
		if it.reach < atHand || !p.pending(it, at) {
			continue
		}
		switch it.Form {
		case act.MeasureBacklash:
			if p.s.Indicator == nil {
				return do(act.MountIndicator, act.Heel, act.Square, act.PinionHeld)
			}
			return amounts(it.Form, number(usualPlaces, quantity.UnitTurn))
		case act.RollGears:
			if p.lashWrong() && !p.rings() {
				return do(act.RemoveCase)
			}
			if p.s.Compound == "" {
				return do(act.PaintTeeth, act.Thin)
			}
			return do(it.Form, act.Braked)
		case act.MeasureTorque:
			if p.lacks(act.Wrench) {
				return do(it.Form, act.Rotating, act.String)
			}
			return do(it.Form, act.Rotating, act.Wrench)
		case act.TestGauge:
			continue
		}
		return do(it.Form)
	}
	e, s := p.depthError(), p.sideLaws()
	if p.costs.ComebackMin*e.ComesBack(-p.depthHalf(), p.depthHalf()) > p.redoDepth()+p.out(p.costs.ComebackMin, 0, math.Hypot(e.SD, p.depthRest()), p.depthHalf()) {
		if best := p.bestShim(); p.design.DepthShim == family.UnderCageFlange && math.Abs(best-p.s.DepthShim.MM()) > p.sheet.DepthShims.StepMM/2 {
			return amounts(act.FitDepthShim, size(p.sheet.DepthShims, best))
		}
		return do(act.RemoveCase)
	}
	_, fitRest := p.sideRest()
	f := p.sheet.SidePreload
	if p.lashWrong() || p.costs.SideComebackMin*s.Fit.ComesBack(f.LowMM, f.HighMM) > p.redoSides()+p.out(p.costs.SideComebackMin, 0, math.Hypot(s.Fit.SD, fitRest), f.Half()) {
		if p.rings() {
			return do(act.LoosenCaps)
		}
		return do(act.RemoveCase)
	}
	return do(act.SignOff)
}

// lashWrong tells whether the backlash is better set anew than left.
func (p *plan) lashWrong() bool {
	s, b := p.sideLaws(), p.sheet.Backlash
	rest, _ := p.sideRest()
	return p.costs.ComebackMin*s.Lash.ComesBack(b.LowMM, b.HighMM) > p.redoSides()+p.out(p.costs.ComebackMin, 0, math.Hypot(s.Lash.SD, rest), b.Half())
}

// nextAdjuster is how the bearing adjusters are to be turned from where they stand.
func (p *plan) nextAdjuster(at place) (act.Act, bool) {
	s := p.sideLaws()
	if !p.s.line && p.has(act.MeasureEndPlay) && !at.caps {
		return do(act.MeasureEndPlay), true
	}
	lash, _ := itemOf(act.MeasureBacklash)
	total, _ := itemOf(act.MeasureTorque)
	b, f := p.sheet.Backlash, p.sheet.SidePreload
	here := p.placed(s.Lash.Mean-b.Mid(), s.Lash.SD, s.Fit.Mean-f.Mid(), s.Fit.SD, reading{lash: p.pending(lash, at), total: p.pending(total, at)})
	lashRest, fitRest := p.sideRest()
	turned := p.minutes(act.TurnRingGearAdjuster, act.TurnOppositeAdjuster) + p.placed(0, math.Hypot(s.Lash.SD, lashRest), 0, math.Hypot(s.Fit.SD, fitRest), reading{lash: true, total: true})
	if at.caps {
		turned += p.minutes(act.LoosenCaps, act.TorqueCaps) + p.minutes(act.MeasureBacklash)*boolean(!p.pending(lash, at)) + p.readAgain()
	}
	if here <= turned {
		return act.Act{}, false
	}
	r, o := p.Adjusters(s)
	if r == 0 && o == 0 {
		return act.Act{}, false
	}
	if at.caps {
		return do(act.LoosenCaps), true
	}
	turn := func(f act.Form, n float64) act.Act {
		way := act.In
		if n < 0 {
			way = act.Out
		}
		return act.Act{Form: f, Choices: []act.Option{way}, Amounts: []quantity.Entered{number(math.Abs(n), quantity.UnitTurn)}}
	}
	// The one that goes out first, so that the housing is not spread.
	if r != 0 && (r < 0 || o >= 0) {
		return turn(act.TurnRingGearAdjuster, r), true
	}
	if o != 0 {
		return turn(act.TurnOppositeAdjuster, o), true
	}
	return turn(act.TurnRingGearAdjuster, r), true
}

// Adjusters is how far the bearing adjusters have to be turned from where they stand, in
// notches, in is positive.
func (p *plan) Adjusters(s *inference.Sides) (ringGear, opposite float64) {
	travel := p.design.Rings.NotchTravelMM()
	b, f := p.sheet.Backlash, p.sheet.SidePreload
	sum := (f.Mid() - s.Fit.Mean) / travel
	diff := 2 * (s.Lash.Mean - b.Mid()) / s.PerTravel / travel
	least := math.Inf(1)
	for n := math.Round(2*sum) - 1; n <= math.Round(2*sum)+1; n++ {
		for k := math.Round((n+2*diff)/2) - 1; k <= math.Round((n+2*diff)/2)+1; k++ {
			r, o := k/2, (n-k)/2
			fit := (r + o - sum) * travel / f.Half()
			lash := (r - o - diff) / 2 * travel * s.PerTravel / b.Half()
			if miss := fit*fit + lash*lash; miss < least-1e-9 {
				least, ringGear, opposite = miss, r, o
			}
		}
	}
	return ringGear, opposite
}

// Pending lists the acts of the procedure that are still to be done and possible, as the
// axle stands.
func (l *Ledger) Pending(s *State) []act.Form {
	p, at := l.plan(s), s.place()
	var out []act.Form
	for _, it := range p.items {
		if p.reachable(it, at) && p.pending(it, at) {
			out = append(out, it.Form)
		}
	}
	return out
}

// Left is the fault that had been found before an act and that the act put out of reach; ok
// is false where there is none.
func (l *Ledger) Left(before, after *State) (left fault.Fault, ok bool) {
	if after.Status.Pinion == history.PinionMockUp {
		return fault.Fault{}, false // all of it comes out again
	}
	p, q := l.plan(before), l.plan(after)
	most := 0.0
	for _, f := range l.list {
		if !p.leaves(f) || before.Risk(f.ID) < 0.5 || !p.curable(f, before.place()) || q.curable(f, after.place()) {
			continue
		}
		if late := before.Risk(f.ID) * p.late(f); late > most {
			left, most, ok = *f, late, true
		}
	}
	return left, ok
}

// BestPreloadShims are the stocked preload shims of a solid spacer nearest to the middle of
// the torque's spec, mm.
func (l *Ledger) BestPreloadShims(s *State) float64 { return l.plan(s).bestPreloadShims() }
