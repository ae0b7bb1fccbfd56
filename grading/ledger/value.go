package ledger

import (
	"math"
	"slices"
	"sync"

	"shimwright/grading/inference"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// A place is how far the axle is together: as it stands, or taken apart from there.
type place struct {
	pinion       history.PinionBuild
	caseIn, caps bool
	apart        bool // taken apart from how it stands
	deeper       bool // the pinion has come out
	line         bool // zero end play has been found on the way
}

// Value is what is still to be expected to be spent on a job from how it stands, on what is
// believed, by the reference way of working, and what the axle is going to cost when it is
// signed off, in minutes.
func (l *Ledger) Value(s *State) Worth {
	if s.SignedOff {
		return l.signed(s)
	}
	return l.plan(s).value(s.place())
}

func (s *State) place() place {
	return place{pinion: s.Status.Pinion, caseIn: s.CaseIn, caps: s.CapsTight}
}

// plan begins to work out one value.
func (l *Ledger) plan(s *State) *plan {
	p := &plan{Ledger: l, s: s, full: s}
	// What will be looked for before it is built in will not be there then.
	if ahead := p.ahead(s.place()); len(ahead) > 0 {
		p.s = &State{s.Assuming(ahead...), s.Progress}
	}
	if it, ok := itemOf(act.MeasureBearings); ok && p.reachable(it, s.place()) && p.pending(it, s.place()) {
		p.s = &State{p.s.HeightsRead(), s.Progress}
	}
	p.wanted = p.s.WantedShim()
	return p
}

// A Worth is a value by what it is for, in minutes.
type Worth [Parts]float64

// A Part is what minutes are for.
type Part int

// The parts of a value.
const (
	Looking Part = iota // inspections, readings, and faults that may be in the axle
	Depth
	Preload
	Sides
	Parts int = iota
)

// Min is the sum, in minutes.
func (w Worth) Min() float64 { return w[Looking] + w[Depth] + w[Preload] + w[Sides] }

func (w Worth) plus(p Part, minutes float64) Worth {
	w[p] += minutes
	return w
}

// less is the smaller of two values.
func less(a, b Worth) Worth {
	if b.Min() < a.Min() {
		return b
	}
	return a
}

func (w Worth) times(k float64) Worth {
	for i := range w {
		w[i] *= k
	}
	return w
}

func (w Worth) add(o Worth) Worth {
	for i := range w {
		w[i] += o[i]
	}
	return w
}

// plan works out one value.
type plan struct {
	*Ledger
	s      *State // without what will be looked for
	full   *State
	looked bool // nothing is left to inspect
	wanted inference.Law
	torque *inference.Law
	sides  *inference.Sides
	error  *inference.Law

	pattern *inference.Learned
	gauges  [2]*inference.Learned // in a final assembly, and in a mock-up
	wrench  *inference.Learned    // at the middle of the spec
	scratch *float64              // a new final assembly on a collapsible spacer
}

// once works something out the first time it is asked for.
func once[T any](kept **T, work func() T) T {
	if *kept == nil {
		v := work()
		*kept = &v
	}
	return **kept
}

func (p *plan) byPattern() inference.Learned { return once(&p.pattern, p.s.ByPattern) }

func (p *plan) byGauge(mockUp bool) inference.Learned {
	i := 0
	if mockUp {
		i = 1
	}
	return once(&p.gauges[i], func() inference.Learned { return p.s.ByGauge(mockUp) })
}

func (p *plan) byWrench() inference.Learned {
	return once(&p.wrench, func() inference.Learned { return p.s.ByWrench(p.s.Spec().Mid()) })
}

func (p *plan) value(at place) Worth {
	if at.caseIn {
		return p.together(at)
	}
	switch at.pinion {
	case history.PinionFinal:
		return p.pinionIn(at)
	case history.PinionMockUp:
		return p.mockUp(at)
	}
	return p.bare(at)
}

// together: the case is in.
func (p *plan) together(at place) Worth {
	if at.pinion != history.PinionFinal || !p.whole() {
		return p.caseOut(at)
	}
	stay := p.stay(at)
	// It does not come out for less than going in again takes, and its readings.
	out := at
	out.caseIn, out.caps, out.apart = false, false, true
	if p.minutes(act.RemoveCase, act.FitCase, act.TorqueCaps)+p.reads(out) >= stay.Min() {
		return stay
	}
	return less(stay, p.caseOut(at))
}

// stay is leaving the case in, other than where a reading will ask for more.
func (p *plan) stay(at place) Worth {
	return Worth{Looking: p.faults(at) + p.reads(at), Depth: p.depthIn(at), Preload: p.torqueIn(at), Sides: p.runout(at) + p.sidesIn(at)}
}

// caseOut is taking the case out at once.
func (p *plan) caseOut(at place) Worth {
	out := at
	out.caseIn, out.caps, out.apart = false, false, true
	apart := p.value(out).plus(Sides, p.minutes(act.RemoveCase))
	if p.s.line || p.rings() || !p.whole() || !p.has(act.MeasureEndPlay) {
		return apart
	}
	// While it is in, its end play can be read, if it has any.
	loose := p.sideLaws().Fit.Below(0)
	found := out
	found.line = true
	read := p.minutes(act.MeasureEndPlay, act.RemoveCase)
	if !at.caps {
		read += p.minutes(act.TorqueCaps)
	}
	return less(apart, p.value(found).times(loose).add(p.value(out).times(1-loose)).plus(Sides, read))
}

// pinionIn: the pinion is in its final assembly, the case out.
func (p *plan) pinionIn(at place) Worth {
	on := p.goOn(at)
	out := at
	out.pinion, out.apart, out.deeper = history.PinionOut, true, true
	ahead := 0.0
	if p.whole() {
		ahead = p.reads(out) + p.minutes(act.FitCase, act.TorqueCaps)
	}
	if p.minutes(act.RemovePinion, act.FitPinion)+p.spacer()+ahead >= on.Min() {
		return on // it does not come out for less than that
	}
	return less(on, p.pinionOut(at))
}

// goOn is going on with the pinion as it is in.
func (p *plan) goOn(at place) Worth {
	w := Worth{Looking: p.inspections(at) + p.faults(at), Depth: p.depthIn(at), Preload: p.torqueIn(at)}
	return w.add(p.caseAhead(at))
}

// pinionOut is taking a final assembly out at once.
func (p *plan) pinionOut(at place) Worth {
	out := at
	out.pinion, out.apart, out.deeper = history.PinionOut, true, true
	return p.bare(out).plus(Preload, p.minutes(act.RemovePinion)+p.spacer())
}

// caseAhead is what the case costs that is still to go in.
func (p *plan) caseAhead(at place) Worth {
	if !p.whole() {
		return Worth{}
	}
	return Worth{Looking: p.reads(at), Sides: p.runout(at) + p.sidesOut(at)}
}

// mockUp: the case is out, the pinion in a mock-up.
func (p *plan) mockUp(at place) Worth {
	out := at
	out.pinion = history.PinionOut
	read := p.gaugePending(at)
	w := Worth{Looking: p.inspections(at) + p.faults(out), Depth: p.minutes(act.RemovePinion) + p.depthOut(out, read)}
	if read {
		w[Depth] += p.minutes(act.MeasureDepth)
	}
	if p.kind() != scenarios.DepthJob {
		w[Preload] = p.preload(out)
	}
	return w.add(p.caseAhead(at))
}

// asksGauge tells whether the procedure asks for the depth gauge: where the axle has been together
// before, a pattern may have told enough.
func (p *plan) asksGauge() bool {
	return p.kind() != scenarios.PatternJob && p.kind() != scenarios.PreviousWork
}

// gaugePending tells whether the depth is still to be gauged in a mock-up.
func (p *plan) gaugePending(at place) bool {
	return !p.s.gauged && p.has(act.MeasureDepth) && p.gaugesMockUp() && !at.deeper
}

// bare: pinion and case are out.
func (p *plan) bare(at place) Worth {
	w := Worth{Looking: p.inspections(at) + p.faults(at), Depth: p.depthOut(at, false)}
	if p.gaugePending(at) {
		gauged := p.minutes(act.FitPinion, act.MeasureDepth, act.RemovePinion) + p.depthOut(at, true)
		if p.asksGauge() || gauged < w[Depth] {
			w[Depth] = gauged
		}
	}
	if p.kind() != scenarios.DepthJob {
		w[Preload] = p.preload(at)
	}
	return w.add(p.caseAhead(at))
}

func (p *plan) kind() scenarios.Kind { return p.card.Kind }

func (p *plan) whole() bool {
	return p.kind().WholeAxle()
}

// gaugesMockUp tells whether the depth is gauged in a mock-up: a cage or a solid spacer lets
// it be gauged and put right in the final assembly.
func (p *plan) gaugesMockUp() bool {
	return p.kind() == scenarios.DepthJob || !p.solid() && p.design.DepthShim != family.UnderCageFlange
}

// spacer is what a collapsible spacer and its nut cost when the assembly comes out.
func (p *plan) spacer() float64 {
	if p.solid() {
		return 0
	}
	return p.costs.PriceOf(shop.SpacerAndNut)
}

// ahead lists the faults that the procedure still looks for before what they harm is built.
func (p *plan) ahead(at place) []fault.ID {
	var out []fault.ID
	for _, f := range p.list {
		it, ok := itemOf(f.Test)
		if f.Test == act.MeasureDepthShim {
			if !p.s.mic && p.has(f.Test) && !at.caseIn && at.pinion == history.PinionOut {
				out = append(out, f.ID)
			}
			continue
		}
		if p.full.Risk(f.ID) > 0.5 && p.leaves(f) && p.curable(f, at) {
			out = append(out, f.ID)
			continue
		}
		if ok && it.reach <= atHand && p.reachable(it, at) && p.pending(it, at) && !(it.reach == atHand && at.caseIn && it.Form == act.TestGauge) {
			out = append(out, f.ID)
		}
	}
	return out
}

// pending tells whether an item is still to be done on the axle as it would stand.
func (p *plan) pending(it Item, at place) bool {
	if !p.asked[it.Form] {
		return false
	}
	n, ok := p.s.done[it.Form]
	if !ok {
		return true
	}
	if it.after == nil {
		return false
	}
	if it.reach == caseIn && (it.count(history.Changes{Sides: 1}) > 0 && (at.apart || !at.caseIn || !at.caps) || at.deeper) {
		return true
	}
	return n != it.count(p.s.Changes)
}

// inspections is the time of the looks that are still to be taken and possible.
func (p *plan) inspections(at place) float64 {
	sum := 0.0
	for _, it := range p.items {
		if it.reach < atHand && p.reachable(it, at) && p.pending(it, at) {
			sum += p.minutes(it.Form)
		}
	}
	return sum
}

// reachable tells whether an item of taken-apart axles can be done, now or on the way.
func (p *plan) reachable(it Item, at place) bool {
	switch it.reach {
	case pinionOut:
		return !at.caseIn && at.pinion != history.PinionFinal
	case caseOut:
		return !at.caseIn && p.whole()
	}
	return true
}

// reads is the time of the readings that are still to be taken with the case in, and of what
// they need.
func (p *plan) reads(at place) float64 {
	sum := 0.0
	for _, it := range p.items {
		if it.reach < atHand || !p.pending(it, at) {
			continue
		}
		switch it.Form {
		case act.MeasureBacklash:
			sum += p.minutes(it.Form)
			if p.s.Indicator == nil || at.apart {
				sum += p.minutes(act.MountIndicator)
			}
		case act.RollGears:
			sum += p.minutes(it.Form)
			if p.s.Compound == "" || at.apart {
				sum += p.minutes(act.PaintTeeth)
			}
		case act.TestGauge:
			if !p.s.gauged && !at.caseIn {
				sum += p.minutes(it.Form)
			}
		default:
			sum += p.minutes(it.Form)
		}
	}
	return sum
}

// usualPlaces are the places around the ring gear of a good backlash reading.
const usualPlaces = 4

// faults is what the faults that may be in the axle are going to cost: those that can still
// be looked for are cured, the others found late.
func (p *plan) faults(at place) float64 {
	sum := 0.0
	for _, f := range p.list {
		r := p.full.Risk(f.ID)
		if r == 0 || !p.leaves(f) {
			continue
		}
		late, cure := r*p.late(f), r*p.cure(f)
		if !p.curable(f, at) {
			sum += late
			continue
		}
		if it, ok := itemOf(f.Test); ok && p.pending(it, at) {
			sum += cure // the look is among the inspections
			continue
		}
		sum += min(late, p.minutes(f.Test)*r+cure) // known, or all but
	}
	return sum
}

// leaves tells whether a fault is one that the axle would go out with: not of the bench, not
// allowed for, and no swing of the ring gear, which is read.
func (p *plan) leaves(f *fault.Fault) bool {
	return f.Remains != nil && f.Belief.Swings != fault.BackFace
}

// late is what a fault costs when the axle goes out with it.
func (p *plan) late(f *fault.Fault) float64 {
	if p.kind() == scenarios.DepthJob && (f.Area == fault.Bearings || f.Area == fault.Spacer) ||
		!p.whole() && f.Stage != fault.BeforePinion {
		return 0
	}
	return p.costs.LateMin(f.ID)
}

// cure is what it takes to put a fault right with its place open.
func (p *plan) cure(f *fault.Fault) float64 { return p.minutes(f.Cure) + p.parts(f.Cure) }

// parts is what the parts of an act cost.
func (p *plan) parts(f act.Form) float64 {
	switch f {
	case act.ReplaceBearings:
		return p.costs.PriceOf(shop.Bearings)
	case act.ReplaceGears:
		return p.costs.PriceOf(shop.GearSet) + p.costs.PriceOf(shop.GearBolts)
	case act.ReplaceSideBearings:
		return p.costs.PriceOf(shop.SideBearings)
	case act.ReplaceCase:
		return p.costs.PriceOf(shop.Case) + p.costs.PriceOf(shop.GearBolts)
	case act.CleanRingGear, act.MeasureCaseRunout:
		return p.costs.PriceOf(shop.GearBolts)
	case act.ReplaceSeal:
		return p.costs.PriceOf(shop.Seal)
	case act.ReplaceSlinger:
		return p.costs.PriceOf(shop.Slinger)
	case act.ReplaceSpacer:
		return p.costs.PriceOf(shop.SpacerAndNut)
	}
	return 0
}

// curable tells whether a fault can be put right without taking the axle further apart.
func (p *plan) curable(f *fault.Fault, at place) bool {
	if at.caseIn {
		return f.ID == fault.BrakesOn
	}
	switch f.Cure {
	case act.SeatCones, act.MatchCaps, act.CleanRingGear, act.ReplaceCase, act.ReplaceSideBearings:
		return true
	}
	return at.pinion != history.PinionFinal
}

// out is the price of a value that may be outside of its spec.
func (p *plan) out(minutes, mean, sd, half float64) float64 {
	return minutes * inference.ComesBack(mean, sd, half)
}

// afterReading is what a value is going to cost that a reading is still to tell of: left, or
// put right for the price of redoing it, whichever is less by what the reading will show.
// mean is its distance from the middle of its spec, rest how closely it is put right.
func (p *plan) afterReading(minutes, mean float64, by inference.Learned, half, redo, rest float64) float64 {
	key := reckoned{minutes, mean, half, redo, rest, by}
	v, ok := p.kept[key]
	if !ok {
		right := redo + p.out(minutes, 0, math.Hypot(by.Left, rest), half)
		v = average(mean, by.Shift, func(m float64) float64 {
			return min(p.out(minutes, m, by.Left, half), right)
		})
		p.kept[key] = v
	}
	return v
}

// reckoned is all that afterReading goes by: of the ways in which an act could have turned out
// most leave some part of the axle as it was.
type reckoned struct {
	minutes, mean, half, redo, rest float64
	by                              inference.Learned
}

// averageSteps are the places and weights of average, in standard deviations.
var averageSteps = sync.OnceValue(func() (out [41][2]float64) {
	const half, reach = 20, 4.0
	sum := 0.0
	for i := range out {
		z := reach * float64(i-half) / half
		out[i] = [2]float64{z, math.Exp(-z * z / 2)}
		sum += out[i][1]
	}
	for i := range out {
		out[i][1] /= sum
	}
	return out
})

// average is the mean of f over a normal variable, by even steps over four standard
// deviations: limits are too sharp for a five-point rule.
func average(mean, sd float64, f func(float64) float64) float64 {
	if sd <= 1e-12 {
		return f(mean)
	}
	sum := 0.0
	for _, step := range averageSteps() {
		sum += float64(step[1] * f(mean+float64(step[0]*sd)))
	}
	return sum
}

// Depth.

func (p *plan) depthHalf() float64 { return p.s.DepthHalfMM() }

// depthRest is how closely a depth shim can be chosen: sizes come in steps.
func (p *plan) depthRest() float64 { return p.sheet.DepthShims.StepMM / math.Sqrt(12) }

// newShim is choosing another depth shim.
func (p *plan) newShim() float64 {
	cost := p.minutes(act.FitDepthShim)
	if p.has(act.MeasureDepthShim) {
		cost += p.minutes(act.MeasureDepthShim)
	}
	return cost
}

// redoDepth is another depth shim in a finished axle, everything read again.
func (p *plan) redoDepth() float64 {
	read := p.minutes(act.PaintTeeth, act.RollGears)
	for _, f := range []act.Form{act.MeasureRunout, act.MeasureRadialRunout} {
		if p.has(f) {
			read += p.minutes(f)
		}
	}
	if p.design.DepthShim == family.UnderCageFlange {
		return p.minutes(act.FitDepthShim) + p.redoSides() + read
	}
	return p.newShim() + p.redoPreload() + p.redoSides() + read
}

// depthError is what is believed of the depth as it stands, and left to a pattern.
func (p *plan) depthError() inference.Law {
	return once(&p.error, p.s.DepthError)
}

// built is what the depth is going to cost once the pinion is built in on a shim that is off
// by so much: the contact pattern tells, and where it says so all is done again.
func (p *plan) built(mean, sd float64) float64 {
	if !p.whole() {
		return p.out(p.costs.ComebackMin, mean, sd, p.depthHalf())
	}
	pattern := p.byPattern()
	if p.wanted.SD > 0 {
		// The pattern's own law, on what is then known.
		noise := pattern.Left * p.wanted.SD / math.Max(pattern.Shift, 1e-6)
		pattern.Shift = sd * sd / math.Hypot(sd, noise)
		pattern.Left = math.Sqrt(math.Max(sd*sd-pattern.Shift*pattern.Shift, 0))
	}
	return p.afterReading(p.costs.ComebackMin, mean, pattern, p.depthHalf(), p.redoDepth(), p.depthRest())
}

// depthOut is what the depth costs with the pinion out, its gauge readings counted elsewhere;
// read tells that one is still to come.
func (p *plan) depthOut(at place, read bool) float64 {
	e := p.depthError()
	inHand := p.s.DepthShim > 0
	best := p.newShim() + p.chosen(0, math.Hypot(p.wanted.SD, p.depthRest()), read)
	if !inHand {
		return best
	}
	mic := 0.0
	if !p.s.mic && p.has(act.MeasureDepthShim) && !at.deeper {
		mic = p.minutes(act.MeasureDepthShim)
	}
	return min(best, mic+p.chosen(e.Mean, e.SD, read))
}

// chosen is what the depth costs on a shim that is off by so much.
func (p *plan) chosen(mean, sd float64, read bool) float64 {
	if p.gaugesMockUp() {
		if !read {
			return p.built(mean, sd)
		}
		return p.gaugedThen(mean, p.scaled(p.byGauge(true), sd), p.newShim())
	}
	if p.s.gauged || !p.has(act.MeasureDepth) {
		return p.built(mean, sd)
	}
	return p.minutes(act.MeasureDepth) + p.gaugedThen(mean, p.scaled(p.byGauge(false), sd), p.changeFinal())
}

// scaled is what a reading tells where the spread is another than the one it was worked out
// with.
func (p *plan) scaled(by inference.Learned, sd float64) inference.Learned {
	if by.Shift <= 0 || sd <= 0 {
		return inference.Learned{Left: sd}
	}
	was := math.Hypot(by.Left, by.Shift)
	noise := by.Left * was / by.Shift
	shift := sd * sd / math.Hypot(sd, noise)
	return inference.Learned{Left: math.Sqrt(math.Max(sd*sd-shift*shift, 0)), Shift: shift}
}

// gaugedThen is what the depth costs before the gauge is read: kept, or changed.
func (p *plan) gaugedThen(mean float64, by inference.Learned, change float64) float64 {
	right := change + p.built(0, math.Hypot(by.Left, p.depthRest()))
	return average(mean, by.Shift, func(m float64) float64 {
		if p.out(p.costs.ComebackMin, m, by.Left, p.depthHalf()) > right {
			return right
		}
		return min(p.built(m, by.Left), right)
	})
}

// changeFinal is another depth shim where the final assembly was gauged.
func (p *plan) changeFinal() float64 {
	if p.design.DepthShim == family.UnderCageFlange {
		return p.minutes(act.FitDepthShim)
	}
	const anyway = 0.6 // the assembly comes out again for its preload as often as that
	return p.newShim() + (1-anyway)*p.redoPreload()
}

// depthIn is what the depth costs with the pinion in its final assembly.
func (p *plan) depthIn(at place) float64 {
	if p.kind() == scenarios.PreloadJob {
		return 0
	}
	e := p.depthError()
	if at.caseIn {
		it, _ := itemOf(act.RollGears)
		leave := p.costs.ComebackMin * e.ComesBack(-p.depthHalf(), p.depthHalf())
		if !p.pending(it, at) {
			return min(leave, p.redoDepth()+p.out(p.costs.ComebackMin, 0, math.Hypot(e.SD, p.depthRest()), p.depthHalf()))
		}
		return min(leave, p.built(e.Mean, e.SD))
	}
	if !p.gaugesMockUp() && !p.s.gauged && p.has(act.MeasureDepth) {
		return p.minutes(act.MeasureDepth) + p.gaugedThen(e.Mean, p.scaled(p.byGauge(false), e.SD), p.changeFinal())
	}
	stay := p.built(e.Mean, e.SD)
	if p.design.DepthShim == family.UnderCageFlange {
		return min(stay, p.minutes(act.FitDepthShim)+p.built(0, math.Hypot(e.SD, p.depthRest())))
	}
	return stay
}

// Pinion preload.

// readTorque is turning the pinion and reading its torque.
func (p *plan) readTorque() float64 { return p.minutes(act.TurnPinion, act.MeasureTorque) }

// redoPreload is setting the pinion's preload again, case out: a new spacer, or other shims.
func (p *plan) redoPreload() float64 {
	if p.solid() {
		return p.minutes(act.RemovePinion, act.FitPreloadShims, act.FitPinion, act.TightenNutTorque) + p.readTorque()
	}
	return p.minutes(act.RemovePinion) + p.spacer() + p.fromScratch()
}

// fromScratch is a new final assembly on a collapsible spacer, to its preload.
func (p *plan) fromScratch() float64 {
	return once(&p.scratch, func() float64 {
		slope := p.gains.TorquePerDegreeNmm
		return p.minutes(act.FitPinion, act.TightenNutTorque) + p.pulls(p.gains.TorqueAtContactNmm-p.gains.DegreesToContact*slope, inference.NutStartSDDeg*slope)
	})
}

// pulls is what is left to do on a nut, from a torque that is believed to be short of its
// spec: pulls that are only felt while there is end play, then pulls that are turned in and
// read.
func (p *plan) pulls(mean, sd float64) float64 {
	spec := p.s.Spec()
	slope := p.gains.TorquePerDegreeNmm
	const feltDeg, readDeg, again = 13.0, 12.0, 0.4
	aim := spec.LowNmm + aimShare*(spec.HighNmm-spec.LowNmm)
	none := p.s.NoPlay()
	over := overshoot * (p.minutes(act.RemovePinion, act.FitPinion) + p.spacer())
	return average(mean, sd, func(y float64) float64 {
		cost := 0.0
		if y < none {
			cost += p.minutes(act.TightenNutAngle) * (0.5 + (none-y)/slope/feltDeg)
			y = none + readDeg/2*slope
			cost += p.readTorque()
		}
		if gap := (aim - y) / slope; gap > 0 {
			cost += (again + math.Max(gap/readDeg, 0.5)) * (p.minutes(act.TightenNutAngle) + p.readTorque())
		}
		return cost
	}) + over
}

// aimShare is where in its spec a torque is aimed at, where more is quickly had and less is a
// new spacer.
const aimShare = 0.45

// crossCheck is comparing wrench and string once.
func (p *plan) crossCheck() float64 {
	if p.s.wrench && p.s.string || p.lacks(act.Wrench) || p.lacks(act.String) {
		return 0
	}
	return p.minutes(act.MeasureTorque)
}

// lacks tells whether this bench lacks one of the tools that torque is read with.
func (p *plan) lacks(tool act.Option) bool {
	return slices.Contains(p.card.Known.Off, sim.LeftOff{Form: act.MeasureTorque, Word: tool})
}

// overshoot is how often a spacer is crushed too far on the way.
const overshoot = 0.03

// preload is what the preload costs from a pinion that is out.
func (p *plan) preload(place) float64 {
	if !p.solid() {
		return p.fromScratch() + p.crossCheck()
	}
	cost := p.minutes(act.FitPinion, act.TightenNutTorque) + p.readTorque() + p.crossCheck()
	spec := p.s.Spec()
	half := spec.Half()
	any := p.s.TorqueWith(p.s.PreloadShims.MM())
	shimRest := p.solidRest()
	redo := p.redoPreload() + p.again()
	value := func(mean float64) float64 {
		by := p.scaled(p.byWrench(), math.Hypot(any.SD, shimRest))
		return p.afterReading(p.costs.ComebackMin, mean, by, half, redo, shimRest)
	}
	best := p.minutes(act.FitPreloadShims) + value(0)
	if p.s.PreloadShims > 0 {
		best = min(best, value(any.Mean-spec.Mid()))
	}
	return cost + best
}

// solidRest is how closely preload shims can be chosen, as torque.
func (p *plan) solidRest() float64 {
	return p.design.Solid.PreloadShims.StepMM / math.Sqrt(12) * p.gains.TorquePerPreloadShimNmmPerMM
}

// again is what further assemblies cost where preload shims are chosen by what the ones
// before gave.
func (p *plan) again() float64 {
	const share = 0.35
	return share * p.minutes(act.RemovePinion, act.FitPreloadShims, act.FitPinion)
}

// believedTorque is the pinion's torque as it stands.
func (p *plan) believedTorque() inference.Law {
	return once(&p.torque, p.s.Torque)
}

// torqueIn is what the preload costs with the pinion in its final assembly.
func (p *plan) torqueIn(at place) float64 {
	spec, law := p.s.Spec(), p.believedTorque()
	mid, half := spec.Mid(), spec.Half()
	leave := p.costs.ComebackMin*law.ComesBack(spec.LowNmm, spec.HighNmm) + p.clamp(at)
	if at.caseIn {
		return leave
	}
	redo := p.redoPreload()
	if p.solid() {
		cost := 0.0
		turn := p.minutes(act.MeasureTorque)
		if p.s.Nut.Unsettled || !p.s.Nut.Moved {
			turn += p.minutes(act.TurnPinion)
		}
		if p.s.Nut.Torque < p.sheet.NutLow*97/100 && !(p.s.Previous() && !p.s.Opened() && !p.s.Nut.Moved) {
			cost = p.minutes(act.TightenNutTorque)
			leave -= p.clamp(at)
		}
		right := redo + p.again() + p.out(p.costs.ComebackMin, 0, math.Hypot(p.byWrench().Left, p.solidRest()), half)
		cost += p.crossCheck()
		if p.s.Nut.Read && p.s.Nut.Torque >= p.sheet.NutLow*97/100 {
			return min(leave, right) + cost
		}
		return cost + turn + p.afterReading(p.costs.ComebackMin, law.Mean-mid, p.s.ByWrench(law.Mean), half, redo+p.again(), p.solidRest())
	}
	if p.s.NutBackedOff || p.loosened() > 0.5 {
		return min(leave, redo)
	}
	reading := 0.0
	if !p.s.Nut.Read {
		reading = p.minutes(act.MeasureTorque)
		if p.s.Nut.Unsettled {
			reading += p.minutes(act.TurnPinion)
		}
	}
	rest := p.torqueRest()
	if law.Mean < p.s.NoPlay() && !p.s.Nut.Contact {
		return min(p.pulls(law.Mean, law.SD)+rest, redo+rest) + p.crossCheck()
	}
	then := func(m, sd, leave float64) float64 {
		on, anew := p.nutAhead(m, sd)
		return min(leave, on, anew)
	}
	if p.s.Nut.Read {
		return then(law.Mean, law.SD, leave) + p.crossCheck()
	}
	by := p.s.ByWrench(law.Mean)
	return p.crossCheck() + reading + average(law.Mean, by.Shift, func(m float64) float64 {
		return then(m, by.Left, p.out(p.costs.ComebackMin, m-mid, by.Left, half)+p.clamp(at))
	})
}

// torqueRest is what a torque that has been brought to its aim may still cost.
func (p *plan) torqueRest() float64 {
	half := p.s.Spec().Half()
	return p.out(p.costs.ComebackMin, (aimShare-0.5)*2*half, math.Hypot(p.byWrench().Left, sim.ChalkDeg*p.gains.TorquePerDegreeNmm), half)
}

// nutAhead is what tightening a nut further costs from a torque that has been read, and what
// a new spacer does.
func (p *plan) nutAhead(mean, sd float64) (on, anew float64) {
	spec, rest := p.s.Spec(), p.torqueRest()
	on = p.pulls(mean, sd) + rest
	if aim := spec.LowNmm + aimShare*(spec.HighNmm-spec.LowNmm); mean >= aim {
		on = math.Inf(1)
	}
	return on, p.redoPreload() + rest
}

func (p *plan) loosened() float64 { return p.s.LoosenedBefore() }

// clamp is what a stack that is not held is going to cost.
func (p *plan) clamp(place) float64 {
	price := p.costs.LooseClampRisk * p.costs.ComebackMin
	if p.solid() {
		if p.s.Previous() && !p.s.Opened() && !p.s.Nut.Moved {
			return 0
		}
		return price * inference.Outside(p.s.Nut.Torque.Nmm(), nutSD(p.sheet.NutLow), p.sheet.NutLow.Nmm(), math.Inf(1))
	}
	if p.s.NutBackedOff {
		return price
	}
	return price * p.loosened()
}

// nutSD is how closely a nut wrench tells a torque, N·mm.
func nutSD(t quantity.Torque) float64 { return 0.03 * t.Nmm() }

// Side bearings and backlash.

func (p *plan) sideLaws() *inference.Sides {
	once(&p.sides, p.s.Sides)
	return p.sides
}

// redoSides is another pair of side shims, or other places of the adjusters, read again.
func (p *plan) redoSides() float64 {
	read := p.costs.TimeOf(p.design, act.MeasureBacklash, usualPlaces) + p.readAgain()
	if p.rings() {
		return p.minutes(act.LoosenCaps, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps) + read
	}
	return p.minutes(act.RemoveCase, act.MountIndicator) + p.fitSides() + read
}

// readAgain is the time of those readings of a finished axle that have been taken and will have
// to be taken once more when its sides are set anew.
func (p *plan) readAgain() float64 {
	at, sum := p.s.place(), 0.0
	for _, f := range []act.Form{act.RollGears, act.MeasureTorque} {
		if it, ok := itemOf(f); ok && at.caseIn && p.whole() && p.has(f) && !p.pending(it, at) {
			sum += p.minutes(f)
			if f == act.RollGears {
				sum += p.minutes(act.PaintTeeth)
			}
		}
	}
	return sum
}

// fitSides is putting the case in on other side shims.
func (p *plan) fitSides() float64 {
	cost := p.minutes(act.FitSideShims, act.FitCase, act.TorqueCaps)
	if p.design.Entry == family.Spreader {
		cost += p.minutes(act.SpreadHousing)
	}
	return cost
}

// sideRest is how closely side shims or adjusters set the backlash and the preload, mm.
func (p *plan) sideRest() (lash, fit float64) {
	step := p.sheet.SideShims.StepMM
	if p.rings() {
		step = p.design.Rings.NotchTravelMM() / 2
	}
	fit = step / math.Sqrt(12)
	return fit * p.gains.BacklashPerRing, fit
}

// A reading tells which readings of the sides are still to come.
type reading struct{ lash, total, spread bool }

// placed is what backlash and side preload are going to cost with the case in, off by so
// much, each as far as it is still to be read.
func (p *plan) placed(lash, lashSD, fit, fitSD float64, read reading) float64 {
	s := p.sideLaws()
	lashRest, fitRest := p.sideRest()
	b, f := p.sheet.Backlash, p.sheet.SidePreload
	redo := p.redoSides()
	cost := 0.0
	if read.lash {
		cost += p.afterReading(p.costs.ComebackMin, lash, p.scaled(s.ByIndicator, lashSD), b.Half(), redo, lashRest)
	} else {
		cost += min(p.out(p.costs.ComebackMin, lash, lashSD, b.Half()), redo+p.out(p.costs.ComebackMin, 0, math.Hypot(lashSD, lashRest), b.Half()))
	}
	by := inference.Learned{Left: fitSD}
	if read.total {
		by = p.scaled(s.ByTotal, fitSD)
	}
	if read.spread {
		cost += p.minutes(act.MeasureSpread)
		spread := p.s.BySpread(by.Left)
		by = inference.Learned{Left: spread.Left, Shift: math.Hypot(by.Shift, spread.Shift)}
	}
	return cost + p.afterReading(p.costs.SideComebackMin, fit, by, f.Half(), redo, fitRest)
}

// knownFitSD is how closely the end play of loose side shims tells where zero end play lies,
// mm.
const knownFitSD = 0.010

// sidesOut is what the sides cost with the case out.
func (p *plan) sidesOut(at place) float64 {
	s := p.sideLaws()
	lashRest, fitRest := p.sideRest()
	lashSD, fitSD := math.Hypot(s.Lash.SD, lashRest), s.Fit.SD
	if p.rings() {
		cost := p.minutes(act.FitCase, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps)
		if !p.s.line && p.has(act.MeasureEndPlay) {
			cost += p.minutes(act.MeasureEndPlay)
			fitSD = min(fitSD, knownFitSD)
		}
		best := cost + p.placed(0, lashSD, 0, math.Hypot(fitSD, fitRest), reading{lash: true, total: true})
		if p.s.AdjustersUp {
			b, f := p.sheet.Backlash, p.sheet.SidePreload
			best = min(best, p.minutes(act.FitCase, act.TorqueCaps)+p.placed(s.Lash.Mean-b.Mid(), s.Lash.SD, s.Fit.Mean-f.Mid(), s.Fit.SD, reading{lash: true, total: true}))
		}
		return best
	}
	cost, known, spread := p.fitSides(), fitSD, false
	switch {
	case at.line:
		known = min(fitSD, knownFitSD)
	case p.s.line || at.deeper:
	case p.readsSpread():
		// Read with the pair that may stay.
		spread = true
	case p.has(act.MeasureEndPlay):
		cost += p.minutes(act.FitSideShims, act.FitCase, act.TorqueCaps, act.MeasureEndPlay, act.RemoveCase)
		if p.s.RingGearShim > 0 && s.Fit.Mean < 0 {
			cost -= p.minutes(act.FitSideShims) // loose shims are in hand
		}
		known = min(fitSD, knownFitSD)
	}
	if p.s.Spread > 0 && !at.apart {
		cost -= p.minutes(act.SpreadHousing)
	}
	best := cost + p.placed(0, lashSD, 0, math.Hypot(known, fitRest), reading{lash: true, total: true, spread: spread})
	if p.s.RingGearShim > 0 && !at.line && (p.s.line || at.deeper || at.apart || spread) {
		b, f := p.sheet.Backlash, p.sheet.SidePreload
		best = min(best, cost-p.minutes(act.FitSideShims)+p.placed(s.Lash.Mean-b.Mid(), s.Lash.SD, s.Fit.Mean-f.Mid(), s.Fit.SD, reading{lash: true, total: true, spread: spread}))
	}
	return best
}

// readsSpread tells whether where zero end play lies is found from the housing's spread.
func (p *plan) readsSpread() bool {
	return p.has(act.MeasureSpread) && (p.design.SideAdjust == family.InsideShims || !p.has(act.MeasureEndPlay))
}

// sidesIn is what the sides cost with the case in, other than by taking it out at once.
func (p *plan) sidesIn(at place) float64 {
	s := p.sideLaws()
	b, f := p.sheet.Backlash, p.sheet.SidePreload
	lash, _ := itemOf(act.MeasureBacklash)
	total, _ := itemOf(act.MeasureTorque)
	lashRead, fitRead := p.pending(lash, at), p.pending(total, at)
	stay := p.placed(s.Lash.Mean-b.Mid(), s.Lash.SD, s.Fit.Mean-f.Mid(), s.Fit.SD, reading{lash: lashRead, total: fitRead, spread: !p.s.line && p.readsSpread() && !p.rings()})
	if !lashRead && !fitRead {
		stay = min(stay, p.costs.ComebackMin*s.Lash.ComesBack(b.LowMM, b.HighMM)+p.costs.SideComebackMin*s.Fit.ComesBack(f.LowMM, f.HighMM))
	}
	if p.rings() {
		turn := p.minutes(act.TurnRingGearAdjuster, act.TurnOppositeAdjuster)
		fitSD := s.Fit.SD
		if !p.s.line && p.has(act.MeasureEndPlay) {
			turn += p.minutes(act.MeasureEndPlay)
			fitSD = min(fitSD, knownFitSD)
		}
		lashRest, fitRest := p.sideRest()
		best := turn + p.placed(0, math.Hypot(s.Lash.SD, lashRest), 0, math.Hypot(fitSD, fitRest), reading{lash: true, total: true})
		if at.caps {
			best += p.minutes(act.LoosenCaps, act.TorqueCaps) + p.minutes(act.MeasureBacklash)*boolean(!lashRead) + p.readAgain()
			return min(stay, best)
		}
		return p.minutes(act.TorqueCaps) + min(stay, best)
	}
	if !at.caps {
		stay += p.minutes(act.TorqueCaps)
	}
	return stay
}

func boolean(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// runout is what a ring gear that swings is going to cost.
func (p *plan) runout(at place) float64 {
	r := p.s.Swings()
	if r == 0 {
		return 0
	}
	leave := r * p.costs.RunoutComebackMin
	it, _ := itemOf(act.MeasureRunout)
	fix := p.swingCure()
	if at.caseIn {
		fix += p.minutes(act.RemoveCase)
	}
	again := p.minutes(act.FitCase, act.TorqueCaps, act.MountIndicator, act.MeasureRunout)
	switch {
	case p.pending(it, at) && at.caseIn:
		return min(leave, r*(fix+again))
	case p.pending(it, at):
		return min(leave, r*(fix+again+p.minutes(act.RemoveCase)), fix)
	case at.caseIn:
		return leave
	}
	return min(leave, fix)
}

// swingCure is taking the ring gear off, and what is then found; or, where that is known, what
// it takes.
func (p *plan) swingCure() float64 {
	form := act.MeasureCaseRunout
	if !p.has(form) {
		form = act.CleanRingGear
	}
	whole := p.minutes(form) + p.parts(form)
	r := max(p.s.Swings(), 1e-9)
	for _, f := range p.list {
		if f.Belief.Swings != fault.BackFace {
			continue
		}
		cure := 0.0
		if f.Cure != act.CleanRingGear {
			cure = p.cure(f)
		}
		if f.Cure == act.ReplaceGears {
			cure += p.minutes(act.RemovePinion) + p.redoPreload()
		}
		const known = 0.9
		if p.s.Risk(f.ID) > known && f.Test == act.MeasureCaseRunout {
			return cure
		}
		whole += p.s.Risk(f.ID) / r * cure
	}
	return whole
}

// signed is what an axle that is signed off is going to cost, on what is believed of it: the
// chance that each line of the specification sheet is truly missed, and what is left in it.
func (l *Ledger) signed(s *State) Worth {
	p := plan{Ledger: l, s: s, full: s}
	gone := place{pinion: s.Status.Pinion, caseIn: true, caps: s.CapsTight}
	w := Worth{Looking: p.faults(gone)}
	if p.kind() != scenarios.PreloadJob {
		w[Depth] = p.costs.ComebackMin * p.depthError().ComesBack(-p.depthHalf(), p.depthHalf())
	}
	if p.kind() == scenarios.DepthJob {
		return w
	}
	spec := p.s.Spec()
	w[Preload] = p.costs.ComebackMin*p.believedTorque().ComesBack(spec.LowNmm, spec.HighNmm) + p.clamp(gone)
	if !p.whole() {
		return w
	}
	sides := p.sideLaws()
	b, f := p.sheet.Backlash, p.sheet.SidePreload
	w[Sides] = p.costs.ComebackMin*sides.Lash.ComesBack(b.LowMM, b.HighMM) + p.costs.SideComebackMin*sides.Fit.ComesBack(f.LowMM, f.HighMM) +
		p.s.Swings()*p.costs.RunoutComebackMin
	if !s.CapsTight {
		w[Sides] += p.costs.LooseCapsRisk * p.costs.ComebackMin
	}
	return w
}
