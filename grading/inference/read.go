package inference

import (
	"math"
	"slices"
	"sync"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// Learn takes in what an act showed and did.
func (t *Tracker) Learn(o history.Step) {
	for _, rd := range o.Readings {
		if _, beside := fault.CureOf(rd.Finding); !beside {
			t.read(rd, o)
		}
	}
	t.besides(o)
	t.apply(o)
	t.reweigh()
}

// besides takes in what an inspection found, or did not, of faults that it has no reading of
// its own for.
func (t *Tracker) besides(o history.Step) {
	for _, f := range beside()[o.Act.Form] {
		t.settle(o.Found(f.Found), f.ID)
	}
}

// beside lists by inspection the faults that show themselves beside its readings.
var beside = sync.OnceValue(func() map[act.Form][]fault.Fault {
	out := map[act.Form][]fault.Fault{}
	for f := range fault.Each() {
		if f.Found != gauge.NoFinding {
			out[f.Test] = append(out[f.Test], f)
		}
	}
	return out
})

func (t *Tracker) read(rd gauge.Reading, o history.Step) {
	length := func(i int) float64 { return rd.Lengths[i].MM() }
	// A reading the belief gives no chance to leaves the belief as it was: the
	// Gaussian has nothing better to say, and later readings count as usual.
	tell := func(h belief.Look, c, y, sd float64) { _ = t.b.Read(h, c, y, sd) }
	switch rd.Kind {
	case gauge.CupSeats:
		t.gapsKnown(rd, [2]fault.ID{fault.InnerCupHigh, fault.OuterCupHigh}, [2]int{innerGapRow, outerGapRow})
	case gauge.BearingCondition:
		t.readBearings(rd.Finding)
	case gauge.SpacerCondition:
		if rd.Finding == gauge.SpacerShort {
			t.risk[fault.SpacerShort] = 1
			break
		}
		t.settle(rd.Wrong(), fault.SpacerCrushed)
		t.risk[fault.SpacerShort] = 0
	case gauge.NutCondition:
		t.settle(rd.Wrong(), fault.NutUsed)
	case gauge.ShimSeat:
		t.settle(rd.Wrong(), fault.DirtUnderShim)
		t.settle(o.Found(gauge.SlingerMissing), fault.SlingerOut)
	case gauge.MatchNumbers:
		t.settle(rd.Wrong(), fault.SetMixed)
	case gauge.RingGearTag:
		t.settle(rd.Wrong(), fault.GearForOther)
	case gauge.PinionRunout:
		t.settle(length(0) > fault.PinionRunoutLimitMM(t.sheet), fault.PinionBent)
	case gauge.RadialRunout:
		t.settle(length(0) > t.sheet.RunoutMM, fault.GearOffCenter)
	case gauge.GearFlatness:
		t.settle(rd.Wrong(), fault.GearWarped)
	case gauge.GaugeBlock:
		t.ownKnown(rd.Wrong(), fault.GaugeOff, gaugeRow)
	case gauge.RingGearBolts:
		if rd.Finding == gauge.BoltsBottomed {
			t.risk[fault.BoltsLong] = 1
			break
		}
		t.settle(rd.Wrong(), fault.BoltsUneven)
		t.risk[fault.BoltsLong] = 0
	case gauge.AxleShafts:
		t.settle(rd.Wrong(), fault.BrakesOn)
	case gauge.StringRadius:
		t.ownKnown(rd.Wrong(), fault.StringOff, stringRow)
	case gauge.ConeSeats:
		t.gapsKnown(rd, [2]fault.ID{fault.RingGearConeHigh, fault.OppositeConeHigh}, [2]int{ringGearGapRow, oppositeGapRow})
	case gauge.CapMarks:
		t.settle(rd.Finding == gauge.CapsSwapped, fault.CapsSwapped)
		t.settle(rd.Finding == gauge.CapReversed, fault.CapTurned)
	case gauge.SealLip:
		t.settle(rd.Wrong(), fault.SealTight)
	case gauge.IndicatorArm:
		t.settle(rd.Wrong(), fault.IndicatorLoose)
		t.cured(fault.IndicatorLoose) // found or not, it is clamped now
	case gauge.BearingHeights:
		tell(belief.Look{tallRow: 1, micRow: 1}, 0, length(0), ownLeftOut(rd))
		t.cured(fault.SetUpBearingOff) // it is known, and allowed for
	case gauge.DepthShimSize:
		tell(belief.Look{lotRow: 1, inHandRow: 1, micRow: 1}, t.depthShim, length(0), ownLeftOut(rd))
		t.cured(fault.ShimsRunThick)
	case gauge.Depth:
		h, c, sd := t.depthLook(ownLeftOut(rd))
		tell(h, c, length(0), math.Hypot(sd, t.pinionWanderSD()))
	case gauge.CaseEntry:
		t.readFit(rd)
	case gauge.HousingSpread:
		t.readSpread(rd)
	case gauge.PinionEndPlay:
		t.readPlay(rd)
	case gauge.AdjusterTurn:
		// Counted where the ring was turned.
	case gauge.CaseEndPlay:
		// Held between its bearings the case does not move, whatever the dial shows.
		h, c := t.fitLook(t.back, t.tooth)
		if o.Felt(history.CaseFast) {
			_ = t.b.Above(h, -c, 0)
			break
		}
		tell(h.Times(-1).Plus(1, belief.Look{dialRow: 1}), -c, length(0), ownLeftOut(rd))
	case gauge.Runout:
		high := length(0) > t.sheet.RunoutMM
		t.runoutSeen(high, runoutSure, swingers())
	case gauge.CaseRunout:
		t.risk[fault.BentFlange] = 0.01
		if length(0) > t.sheet.CaseFlangeRunoutMM {
			t.risk[fault.BentFlange] = 0.99
		}
	case gauge.Backlash:
		t.readLash(rd, o.Felt(history.GearsBind))
	case gauge.Pattern:
		t.readPattern(rd)
	case gauge.PinionTorque, gauge.TotalTorque:
		t.readTorque(rd, o)
	case gauge.NutTorque:
		if t.loosened > 0 {
			// A nut that turns on far below what crushes a spacer has been loosened.
			t.loosened = 0
			if rd.Torques[0].Nmm() < 0.75*t.sheet.NutLow.Nmm() {
				t.loosened = 0.95
			}
		}
	}
}

// readBearings takes in what an inspection of the pinion bearings found. Grease and grit
// hide what is under them.
func (t *Tracker) readBearings(f gauge.Finding) {
	switch f {
	case gauge.BearingsGreased:
		t.settle(true, fault.PackingGrease)
	case gauge.RollersGritty:
		t.settle(false, fault.PackingGrease)
		t.risk[fault.BearingGritty] = 1
	case gauge.RaceDented:
		t.risk[fault.BearingNotched] = 1
	default:
		t.settle(false, fault.PackingGrease)
		t.cured(fault.BearingNotched, fault.BearingGritty)
	}
}

// settle records that a look has decided about faults.
func (t *Tracker) settle(found bool, ids ...fault.ID) {
	for _, id := range ids {
		t.risk[id] = 0
		if found {
			t.risk[id] = 1
		}
		if s, ok := t.may[id]; ok {
			t.b.Settle(s, found)
		}
	}
}

// cured records that faults are there no more, or are known and allowed for: nothing hangs
// on them now. What a fault has added to a row stays there.
func (t *Tracker) cured(ids ...fault.ID) {
	for _, id := range ids {
		t.risk[id] = 0
		if s, ok := t.may[id]; ok {
			t.b.Forget(s)
			delete(t.may, id)
		}
	}
}

// ownKnown takes in how an instrument stood. Where it stood wrong it has been put right, and
// what it said before is worth no more than it was.
func (t *Tracker) ownKnown(wrong bool, id fault.ID, row int) {
	t.settle(wrong, id)
	if wrong {
		t.cured(id)
		t.b.Set(row, 0, t.ownSD(row))
	}
}

// gapsKnown takes in what a feeler found behind two cups or cones.
func (t *Tracker) gapsKnown(rd gauge.Reading, ids [2]fault.ID, rows [2]int) {
	const seenMM = 0.03 // more than a feeler's own error, less than a gap that is one
	for i, id := range ids {
		there := rd.Wrong() && i < len(rd.Lengths) && rd.Lengths[i].MM() > seenMM
		t.settle(there, id)
		if there {
			var h belief.Look
			h[rows[i]] = 1
			_ = t.b.Read(h, 0, rd.Lengths[i].MM(), rd.StdMM)
		}
	}
}

// ownLeftOut is a length reading's standard uncertainty without the instrument's own fixed
// error, mm: that has a row.
func ownLeftOut(rd gauge.Reading) float64 {
	class, _ := gauge.ClassOf(rd.Tool)
	return math.Sqrt(math.Max(sq(rd.StdMM)-sq(class.Offset)/3, 0))
}

// ownNoise is the standard uncertainty of one reading near nothing with a length instrument
// of a class, its own fixed error left out, mm.
func ownNoise(c gauge.Class) float64 { return math.Hypot(c.Repeat, c.Step/math.Sqrt(12)) }

// depthLook is the depth gauge's reading as a look. What a pinion mark leaves out cancels
// between gauge and shim: the gauge is read against the marked height.
func (t *Tracker) depthLook(std float64) (belief.Look, float64, float64) {
	return t.depthLookIn(t.Pinion == history.PinionMockUp, std)
}

// depthLookIn is depthLook in a trial build, on the set-up bearing, or in a final one.
func (t *Tracker) depthLookIn(mockUp bool, std float64) (belief.Look, float64, float64) {
	h, c := t.tooFarOut()
	h[gaugeRow], h[markRow] = 1, 0
	if mockUp {
		h[tallRow] = -1
	}
	return h, t.card.Known.WantedDistance().MM() + c, std
}

// readFit takes in how the case went in by hand.
func (t *Tracker) readFit(rd gauge.Reading) {
	h, c := t.fitLook(t.back, t.tooth)
	c -= t.spread
	for _, f := range sim.CaseFitsOf(t.card.Family) {
		if rd.Finding == f.Finding {
			_ = t.b.Between(h, f.LowMM-c, f.HighMM-c, 0)
		}
	}
}

// readSpread takes in how far the case pushes the housing apart.
func (t *Tracker) readSpread(rd gauge.Reading) {
	v, std := rd.Lengths[0].MM(), ownLeftOut(rd)
	fit, c := t.fitLook(t.back, t.tooth)
	h, c := fit.Times(t.gains.SpreadPerFit), t.gains.SpreadPerFit*c
	h[shareRow], h[dialRow] = v, 1
	if v > 2*rd.StdMM {
		_ = t.b.Read(h, c, v, std, t.looseArm(1)...)
	} else {
		_ = t.b.Below(h, v-c, math.Hypot(std, rd.StdMM))
	}
}

// looseArm is what an indicator whose arm is loose adds to the mean of n readings.
func (t *Tracker) looseArm(n float64) []belief.Noise {
	s, ok := t.may[fault.IndicatorLoose]
	if !ok {
		return nil
	}
	return []belief.Noise{{From: s, SD: sim.LooseArmMM / math.Sqrt(n)}}
}

// readPlay takes in the pinion's end play: with a solid spacer it says how much too thick
// the pack is, with a collapsible one how far the nut has still to go.
func (t *Tracker) readPlay(rd gauge.Reading) {
	h, c := t.torqueLook()
	perMM := t.perMM()
	if v := rd.Lengths[0].MM(); v > 2*rd.StdMM {
		none := t.noPlay()
		if t.solid() {
			h[slopeRow] = none - t.spec().Mid()
		}
		_ = t.b.Read(h, c+t.unseated(), none-v*perMM, math.Hypot(rd.StdMM, endPlayMM)*perMM)
	}
}

// swingers are the faults that swing the ring gear's back face.
var swingers = sync.OnceValue(func() []fault.ID { return swinging(fault.BackFace) })

// lashSwingers are those that swing the backlash.
var lashSwingers = sync.OnceValue(func() []fault.ID { return swinging(fault.BackFace, fault.BacklashAlone) })

func swinging(swings ...fault.Swing) []fault.ID {
	var out []fault.ID
	for f := range fault.Each() {
		if slices.Contains(swings, f.Belief.Swings) {
			out = append(out, f.ID)
		}
	}
	return out
}

// swings is the chance that something swings the ring gear's back face.
func (t *Tracker) swings() float64 { return t.anyOf(swingers()) }

func (t *Tracker) anyOf(ids []fault.ID) float64 {
	p := 0.0
	for _, id := range ids {
		p += t.risk[id]
	}
	return p
}

// How often a reading that is too high or not tells right whether something swings the ring
// gear: the back-face runout, and the backlash from place to place.
const (
	runoutSure    = 0.995
	variationSure = 0.93
)

func (t *Tracker) runoutSeen(high bool, sure float64, causes []fault.ID) {
	// One likelihood for every cause; they keep their proportion.
	p := math.Min(t.anyOf(causes), 1)
	hit, miss := sure, 1-sure
	if !high {
		hit, miss = miss, hit
	}
	for _, id := range causes {
		t.risk[id] *= hit / (p*hit + (1-p)*miss)
	}
}

// lashMount is what the indicator's stand and the places read do to a backlash reading:
// the true mean with the offset, times the factor, to within sd before the factor, mm. The
// indicator's own error and a loose arm come on top.
func (t *Tracker) lashMount(rd gauge.Reading) (factor, offset, sd float64) {
	factor, extra := t.mountFactor(rd.Method)
	n := float64(len(rd.Lengths))
	class, _ := gauge.ClassOf(gauge.DialIndicator)
	// From place to place: the needle's repeat, the step that is read, and where within its
	// pitch the pinion happens to stand.
	each := sq(class.Repeat) + sq(class.Step)/12 + sq(t.gains.BacklashPitchMM)/12
	kg := t.gains.BacklashPerRing
	if n < 2 {
		// Once round, the gear swings away as much as it comes near: at places evenly
		// spaced that cancels, at one it does not.
		swing := wave(scenarios.FlangeSwingMM) + wave(scenarios.GearSwingMM)
		if f, err := fault.Find(fault.DirtBehindGear); err == nil {
			low, high := f.Size.Of(t.sheet)
			swing += t.swings() * wave(family.Range{Low: low, High: high})
		}
		each += sq(kg) * swing
	}
	if !t.CapsTight {
		each += sq(kg * assembly.SnugCapsMM / math.Sqrt(3))
	}
	for _, f := range wanderers() {
		each += t.risk[f.id] * sq(kg*f.WanderMM/math.Sqrt(3))
	}
	each += sq(t.gains.BacklashPerPinion * t.pinionWanderSD())
	if m, _ := t.fit(t.back, t.tooth); m < 0 {
		each += sq(kg*m) / 12 // the case lies anywhere within its play
	}
	if rd.Method.Pinion == act.PinionFree {
		offset = 1.5 * sim.FreePinionMM
		each += sq(sim.FreePinionMM) / 12
	}
	// The turns of a bent pinion do not average out over places round the ring gear.
	extra = math.Hypot(extra, kg*t.swingSD(fault.PinionBent))
	return factor, offset, math.Sqrt(each/n + extra*extra)
}

// swingSD is how far, as a standard deviation, a part that may swing by a fault's size lies
// from its mean at a place that happens to be read, mm.
func (t *Tracker) swingSD(id fault.ID) float64 {
	f, err := fault.Find(id)
	if err != nil {
		return 0
	}
	low, high := f.Size.Of(t.sheet)
	return (low + high) / 4 / math.Sqrt2 * math.Sqrt(t.risk[id])
}

// wave is the mean square of what a swing round the gear, given as a range of total
// readings, does at one place, mm squared.
func wave(tir family.Range) float64 { return (sq(tir.Mid()) + sq(evenSD(tir))) / 8 }

// readLash takes in a backlash reading, allowing for how the indicator stood. Where the
// gears bind there is less than none, which no indicator shows.
func (t *Tracker) readLash(rd gauge.Reading, bind bool) {
	factor, offset, sd := t.lashMount(rd)
	shown, least, most := rd.Summary()
	h, c := t.lashLook()
	h[dialRow] = 1 / factor
	mean, arm := shown.MM()/factor-offset, t.looseArm(float64(len(rd.Lengths)))
	if bind {
		_ = t.b.Below(h, mean-c, sd)
	} else {
		_ = t.b.Read(h, c, mean, sd, arm...)
	}
	if n := len(rd.Lengths); n >= 4 && n%2 == 0 && !bind {
		// Every other place against those between: round the gear the swing cancels, and what
		// is left is scatter, of which a loose arm makes more.
		scatter := 0.0
		for i, l := range rd.Lengths {
			scatter += float64(1-2*(i%2)) * l.MM() / math.Sqrt(float64(n))
		}
		_ = t.b.Read(belief.Look{}, 0, scatter, sd*factor*math.Sqrt(float64(n)), t.looseArm(1)...)
	}
	if len(rd.Lengths) >= 3 {
		t.runoutSeen((most-least).MM() > t.sheet.BacklashSpreadMM+0.01, variationSure, lashSwingers())
	}
}

// mountFactor is what the indicator's stand does to a reading, and how unsure that
// leaves it, mm.
func (t *Tracker) mountFactor(how gauge.Method) (factor, extra float64) {
	switch how.Place {
	case act.Middle:
		extra = 0.008
	case act.Toe:
		extra = 0.012
	}
	if how.Plunger != act.Square {
		extra += 0.010
	}
	return t.gains.PlungerShare(how.Place, how.Plunger), extra
}

// readPrint takes the print's height as a look at the depth.
func (t *Tracker) readPattern(rd gauge.Reading) {
	if len(rd.Patterns) == 0 {
		return
	}
	sum := 0.0
	for _, p := range rd.Patterns {
		sum += p.CenterT
	}
	if len(rd.Patterns) == 2 {
		t.patternsApart(math.Abs(rd.Patterns[0].CenterT-rd.Patterns[1].CenterT), sim.EyeStd(rd.Method))
	}
	const offTheToothMM = 0.3 // further out a print stays at the edge, whatever the depth
	if m, _ := t.depthError(t.depthShim); math.Abs(m) > offTheToothMM || t.risk[fault.GearForOther] > 0.5 {
		return
	}
	h, c, sd := t.patternLook(rd.Method, len(rd.Patterns))
	_ = t.b.Read(h, c, sum/float64(len(rd.Patterns)), sd)
}

// How far the patterns of both sides stand apart in height, share of the tooth: from set to
// set, and about how far with gears of two sets.
const (
	patternSetSD = 0.02
	patternApart = 0.22
)

// printsApart weighs whether the prints of both flanks stand so far apart in height that
// ring and pinion are of two sets.
func (t *Tracker) patternsApart(apart, eye float64) {
	p := t.risk[fault.SetMixed]
	if p == 0 || p == 1 {
		return
	}
	const mixedSD = 0.06
	likely := func(mean, sd float64) float64 {
		z := (apart - mean) / sd
		return math.Exp(-z*z/2) / sd
	}
	own := math.Sqrt2 * math.Hypot(eye, patternSetSD)
	two, one := p*likely(patternApart, math.Hypot(own, mixedSD)), (1-p)*2*likely(0, own)
	t.risk[fault.SetMixed] = two / (two + one)
}

// printLook is the mean height of the prints as a look. The sets of a family do not
// all print at the same height when they are right.
func (t *Tracker) patternLook(how gauge.Method, flanks int) (belief.Look, float64, float64) {
	kt := t.gains.PatternHeightPerPinion
	sd := math.Hypot(sim.EyeStd(how)/math.Sqrt(float64(flanks)), kt*t.swingSD(fault.GearOffCenter)) // the place that was painted
	out, c := t.tooFarOut()
	return out.Times(kt).Plus(1, belief.Look{patternRow: 1}), t.sheet.PatternHeight.Mid() + kt*c, sd
}

// breakawayRise is how much more it takes to break the pinion loose than to keep it turning,
// on the middle axle of the family, and sd from axle to axle.
func (t *Tracker) breakawayRise() (mean, sd float64) {
	b := t.card.Family.Model.Breakaway
	return b.Mid(), evenSD(b)
}

// meanDrag is the mean of the torques a reading shows, N·mm.
func meanTorque(rd gauge.Reading) float64 {
	v := 0.0
	for _, torque := range rd.Torques {
		v += torque.Nmm() / float64(len(rd.Torques))
	}
	return v
}

// dragReadLook is a drag reading of the build as it stands as a look, its constant, and
// its noise near a running torque v, all N·mm.
func (t *Tracker) torqueReadLook(rd gauge.Reading, v float64) (h belief.Look, c, std float64) {
	std = rd.StdNmm
	fixed, shown := wrenchRow, t.breaking(rd, v)
	class, _ := gauge.ClassOf(gauge.LowRangeWrench)
	if rd.Tool == gauge.StringAndScale {
		fixed = stringRow
		class, _ = gauge.ClassOf(gauge.StringAndScale)
	}
	// The fixed gain is a row of its own; take it out of the stated figure.
	std = math.Sqrt(math.Max(std*std-sq(class.Gain*shown)/3, sq(class.Step)/12))
	if rd.Method.Pull == act.Breakaway {
		rise, sd := t.breakawayRise()
		std = math.Hypot(std, float64(sd*math.Max(v-t.beside(rd), 0))) / rise
	}
	h, c = t.torqueLook()
	h[greaseRow], h[fixed] = 1, math.Max(v, 0)
	if t.Pinion == history.PinionFinal {
		h[sealRow] = 1
		c += t.unseated()
	}
	if rd.Kind == gauge.TotalTorque {
		k := t.gains.SideRisePerMM
		fit, at := t.fitLook(t.back, t.tooth)
		h = h.Plus(k, fit)
		h[brakeRow], h[riseRow] = 1, t.gains.ReferenceRiseNmm
		c += t.gains.ReferenceRiseNmm + k*(at-t.gains.ReferenceRiseMM)
		tight, unsure := t.tightTeeth()
		c += tight
		std = math.Hypot(std, unsure)
	}
	return h, c, std
}

// beside is what a reading of torque is believed to hold beside the pinion bearings, N·mm: it
// does not rise when the pinion breaks loose.
func (t *Tracker) beside(rd gauge.Reading) float64 {
	rd.Method.Pull = act.Rotating
	h, c, _ := t.torqueReadLook(rd, 0)
	d, dc := t.torqueLook()
	mean, _ := t.b.Of(h.Plus(-1, d))
	return math.Max(mean+c-dc-t.unseated(), 0)
}

// breaking is what would be read as the pinion breaks loose where it reads v while turning,
// N·mm, and turning the other way round; both are v for a reading that was taken turning.
func (t *Tracker) breaking(rd gauge.Reading, v float64) float64 {
	if rd.Method.Pull != act.Breakaway {
		return v
	}
	rise, _ := t.breakawayRise()
	return v + float64((rise-1)*math.Max(v-t.beside(rd), 0))
}

func (t *Tracker) turning(rd gauge.Reading, v float64) float64 {
	if rd.Method.Pull != act.Breakaway {
		return v
	}
	rise, _ := t.breakawayRise()
	return v - float64((1-1/rise)*math.Max(v-t.beside(rd), 0))
}

// tightTeeth is what teeth with too little backlash are believed to add to a total torque,
// and how unsure that is, N·mm: none while there is backlash to spare. How hard forced
// teeth drag nobody knows to better than a half.
func (t *Tracker) tightTeeth() (mean, sd float64) {
	const roomMM = 0.0254 // above it the mesh turns freely
	lash, unsure := t.lash(t.back, t.tooth)
	over := func(x float64) float64 { return carrier.MeshDragNmm(x) - carrier.MeshDragNmm(roomMM) }
	mean = average(lash, unsure, over)
	square := average(lash, unsure, func(x float64) float64 { return sq(over(x)) })
	return mean, math.Sqrt(math.Max(square-mean*mean, 0) + sq(mean/2))
}

// endPlay tells whether a torque read now is of seal and oil alone.
func (t *Tracker) endPlay() bool {
	return t.rocks || !t.solid() && !t.Nut.Contact && t.b.Mean(torqueRow) < t.noPlay()
}

// wanderers are the faults that let the case or the pinion wander from one reading to the
// next.
var wanderers = sync.OnceValue(func() []wanderer {
	var out []wanderer
	for f := range fault.Each() {
		if f.Belief.WanderMM > 0 || f.Belief.PinionWanderMM > 0 {
			out = append(out, wanderer{f.ID, f.Belief})
		}
	}
	return out
})

type wanderer struct {
	id fault.ID
	fault.Belief
}

// pinionWanderSD is how far, as a standard deviation, the pinion may lie from its place in
// one reading, mm.
func (t *Tracker) pinionWanderSD() float64 {
	square := 0.0
	for _, f := range wanderers() {
		square += t.risk[f.id] * sq(f.PinionWanderMM) / 3
	}
	return math.Sqrt(square)
}

// rougheners are the faults that make the torque vary within a turn of the pinion.
var rougheners = sync.OnceValue(func() []fault.ID { return swinging(fault.PinionTurning) })

// feelers are the faults that are felt when the gears are turned, by what they feel like.
var feelers = sync.OnceValue(func() map[history.Feel][]fault.ID {
	out := map[history.Feel][]fault.ID{}
	for f := range fault.Each() {
		if f.Belief.Feels != history.NoFeel {
			out[f.Belief.Feels] = append(out[f.Belief.Feels], f.ID)
		}
	}
	return out
})

// feltOf takes in what turning the gears felt like: one of the faults that feel so, as likely
// as before against each other; or none of them. It tells whether anything did.
func (t *Tracker) feltOf(o history.Step) bool {
	const sure = 0.9
	any := false
	for feel, ids := range feelers() {
		p, felt := t.anyOf(ids), o.Felt(feel)
		any = any || felt
		for _, id := range ids {
			switch {
			case !felt:
				t.risk[id] = 0
			case p > 0 && p < sure:
				t.risk[id] *= sure / p
			}
		}
	}
	return any
}

func (t *Tracker) readTorque(rd gauge.Reading, o history.Step) {
	v := t.turning(rd, meanTorque(rd))
	swings := len(rd.Torques) > 1
	switch {
	case swings:
		t.rough()
	case !t.endPlay():
		for _, id := range rougheners() {
			t.risk[id] = 0
		}
	}
	h, c, std := t.torqueReadLook(rd, v)
	if rd.Kind == gauge.TotalTorque && t.feltOf(o) {
		return // how much of it is the damage nobody knows
	}
	switch {
	case t.endPlay():
		// End play: the reading is of seal and oil alone.
		d, dc := t.torqueLook()
		_ = t.b.Read(h.Plus(-1, d), c-dc-t.unseated(), v, std)
	case t.solid() && t.Pinion == history.PinionFinal:
		t.readPreloadShimTorque(rd, h, c, v, std)
	default:
		_ = t.b.Read(h, c, v, std)
	}
}

// rough: a torque that varies within a turn of the pinion is one of the faults that make it
// do so, as likely as before against each other.
func (t *Tracker) rough() {
	const sure = 0.9
	ids := rougheners()
	switch p := t.anyOf(ids); {
	case p == 0:
		t.risk[fault.BearingNotched] = sure
	case p < sure:
		for _, id := range ids {
			t.risk[id] *= sure / p
		}
	}
}

// readPackDrag takes in the drag of a solid spacer's pack. Below its torque the nut does
// not yet say what the pack gives; where hardly more than the seal drags there is play,
// and only that much is known.
func (t *Tracker) readPreloadShimTorque(rd gauge.Reading, h belief.Look, c, v, std float64) {
	// A previous technician's nut is taken to hold, and its total torque is all there is to read.
	finished := t.previousTechnician() && !t.opened
	if !finished && (t.Nut.Torque.Nmm() < 0.85*t.sheet.NutLow.Nmm() || rd.Kind == gauge.TotalTorque && t.b.SD(preloadShimRow) > 0.02) {
		return
	}
	t.preloadShimsRead = true
	const hardly = 0.08 // of the window's middle
	bare := v - t.b.Mean(sealRow) - t.b.Mean(greaseRow)
	if bare < hardly*t.spec().Mid() {
		d, dc := t.torqueLook()
		limit, _ := t.straight(hardly * t.spec().Mid())
		_ = t.b.Below(d, limit-dc, std)
		return
	}
	straight, scale := t.straight(bare)
	h[slopeRow] = straight - t.spec().Mid()
	_ = t.b.Read(h, c, v-bare+straight, std*scale)
}

// straight is what a drag of a pack would be if every shim were worth as much as about the
// middle of the window, N·mm, and how much more a step of it is worth there.
func (t *Tracker) straight(torque float64) (straight, scale float64) {
	k, mid, by := t.gains.TorquePerPreloadShimNmmPerMM, t.spec().Mid(), t.gains.TorquesByPreloadShim
	i := 1
	for i < len(by)-1 && torque > by[i].TorqueNmm {
		i++
	}
	a, b := by[i-1], by[i]
	perNmm := (b.PreloadShimMM - a.PreloadShimMM) / (b.TorqueNmm - a.TorqueNmm)
	return mid - k*(a.PreloadShimMM+perNmm*(torque-a.TorqueNmm)), -k * perNmm
}
