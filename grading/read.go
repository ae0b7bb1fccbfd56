package grading

import (
	"math"
	"slices"

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

// learn takes in what an act showed and did. It comes after the act is judged.
func (r *reasoner) learn(o history.Step) {
	for _, rd := range o.Readings {
		r.read(rd, o)
	}
	r.besides(o)
	r.apply(o)
	r.reweigh()
}

// besides takes in what an inspection found, or did not, of faults that it has no reading of
// its own for.
func (r *reasoner) besides(o history.Step) {
	for _, f := range fault.All() {
		if f.Found != gauge.NoFinding && f.Test == o.Act.Form {
			r.settle(o.Found(f.Found), f.ID)
		}
	}
}

func (r *reasoner) read(rd gauge.Reading, o history.Step) {
	length := func(i int) float64 { return rd.Lengths[i].MM() }
	// A reading the belief gives no chance to leaves the belief as it was: the
	// Gaussian has nothing better to say, and later readings count as usual.
	tell := func(h belief.Look, c, y, sd float64) { _ = r.b.Read(h, c, y, sd) }
	switch rd.Kind {
	case gauge.CupSeats:
		r.gapsKnown(rd, [2]fault.ID{fault.InnerCupHigh, fault.OuterCupHigh}, [2]int{innerGapRow, outerGapRow})
	case gauge.BearingCondition:
		r.readBearings(rd.Finding)
	case gauge.SpacerCondition:
		if rd.Finding == gauge.SpacerShort {
			r.risk[fault.SpacerShort] = 1
			break
		}
		r.settle(rd.Wrong(), fault.SpacerCrushed)
		r.risk[fault.SpacerShort] = 0
	case gauge.NutCondition:
		r.settle(rd.Wrong(), fault.NutUsed)
	case gauge.ShimSeat:
		r.settle(rd.Wrong(), fault.DirtUnderShim)
		r.settle(o.Found(gauge.SlingerMissing), fault.SlingerOut)
	case gauge.MatchNumbers:
		r.settle(rd.Wrong(), fault.SetMixed)
	case gauge.RingGearTag:
		r.settle(rd.Wrong(), fault.GearForOther)
	case gauge.PinionRunout:
		r.settle(length(0) > fault.PinionRunoutLimitMM(r.sheet), fault.PinionBent)
	case gauge.RadialRunout:
		r.settle(length(0) > r.sheet.RunoutMM, fault.GearOffCenter)
	case gauge.GearFlatness:
		r.settle(rd.Wrong(), fault.GearWarped)
	case gauge.GaugeBlock:
		r.ownKnown(rd.Wrong(), fault.GaugeOff, gaugeRow)
	case gauge.RingGearBolts:
		if rd.Finding == gauge.BoltsBottomed {
			r.risk[fault.BoltsLong] = 1
			break
		}
		r.settle(rd.Wrong(), fault.BoltsUneven)
		r.risk[fault.BoltsLong] = 0
	case gauge.AxleShafts:
		r.settle(rd.Wrong(), fault.BrakesOn)
	case gauge.StringRadius:
		r.ownKnown(rd.Wrong(), fault.StringOff, stringRow)
	case gauge.ConeSeats:
		r.gapsKnown(rd, [2]fault.ID{fault.RingGearConeHigh, fault.OppositeConeHigh}, [2]int{ringGearGapRow, oppositeGapRow})
	case gauge.CapMarks:
		r.settle(o.Found(gauge.CapsSwapped), fault.CapsSwapped)
		r.settle(o.Found(gauge.CapReversed), fault.CapTurned)
	case gauge.SealLip:
		r.settle(rd.Wrong(), fault.SealTight)
	case gauge.IndicatorArm:
		r.settle(rd.Wrong(), fault.IndicatorLoose)
		r.cured(fault.IndicatorLoose) // found or not, it is clamped now
	case gauge.BearingHeights:
		tell(belief.Look{tallRow: 1, micRow: 1}, 0, length(0), ownLeftOut(rd))
		r.cured(fault.SetUpBearingOff) // it is known, and allowed for
	case gauge.DepthShimSize:
		tell(belief.Look{lotRow: 1, inHandRow: 1, micRow: 1}, r.depthShim, length(0), ownLeftOut(rd))
		r.cured(fault.ShimsRunThick)
	case gauge.Depth:
		h, c, sd := r.depthLook(ownLeftOut(rd))
		tell(h, c, length(0), math.Hypot(sd, r.pinionWanderSD()))
		r.gaugeReads++
		r.gauged = true
	case gauge.CaseEntry:
		r.readFit(rd)
	case gauge.HousingSpread:
		r.readSpread(rd)
	case gauge.PinionEndPlay:
		r.readPlay(rd)
	case gauge.AdjusterTurn:
		// Counted where the ring was turned.
	case gauge.CaseEndPlay:
		// Held between its bearings the case does not move, whatever the dial shows.
		h, c := r.fitLook(r.back, r.tooth)
		if o.Felt(history.CaseFast) {
			_ = r.b.Above(h, -c, 0)
			break
		}
		tell(h.Times(-1).Plus(1, belief.Look{dialRow: 1}), -c, length(0), ownLeftOut(rd))
	case gauge.Runout:
		high := length(0) > r.sheet.RunoutMM
		r.runoutSeen(high, 0.97, swingers())
	case gauge.CaseRunout:
		r.risk[fault.BentFlange] = 0.01
		if length(0) > r.sheet.CaseFlangeRunoutMM {
			r.risk[fault.BentFlange] = 0.99
		}
	case gauge.Backlash:
		r.readLash(rd, o.Felt(history.GearsBind))
	case gauge.Pattern:
		r.readPattern(rd)
	case gauge.PinionTorque, gauge.TotalTorque:
		r.readTorque(rd, o)
	case gauge.NutTorque:
		if r.loosened > 0 {
			// A nut that turns on far below what crushes a spacer has been loosened.
			r.loosened = 0
			if rd.Torques[0].Nmm() < 0.75*r.sheet.NutLow.Nmm() {
				r.loosened = 0.95
			}
		}
	}
}

// readBearings takes in what an inspection of the pinion bearings found. Grease and grit
// hide what is under them.
func (r *reasoner) readBearings(f gauge.Finding) {
	switch f {
	case gauge.BearingsGreased:
		r.settle(true, fault.PackingGrease)
	case gauge.RollersGritty:
		r.settle(false, fault.PackingGrease)
		r.risk[fault.BearingGritty] = 1
	case gauge.RaceDented:
		r.risk[fault.BearingNotched] = 1
	default:
		r.settle(false, fault.PackingGrease)
		r.cured(fault.BearingNotched, fault.BearingGritty)
	}
}

// settle records that a look has decided about faults.
func (r *reasoner) settle(found bool, ids ...fault.ID) {
	for _, id := range ids {
		r.risk[id] = 0
		if found {
			r.risk[id] = 1
		}
		if s, ok := r.may[id]; ok {
			r.b.Settle(s, found)
		}
	}
}

// cured records that faults are there no more, or are known and allowed for: nothing hangs
// on them now. What a fault has added to a row stays there.
func (r *reasoner) cured(ids ...fault.ID) {
	for _, id := range ids {
		r.risk[id] = 0
		if s, ok := r.may[id]; ok {
			r.b.Forget(s)
			delete(r.may, id)
		}
	}
}

// ownKnown takes in how an instrument stood. Where it stood wrong it has been put right, and
// what it said before is worth no more than it was.
func (r *reasoner) ownKnown(wrong bool, id fault.ID, row int) {
	r.settle(wrong, id)
	if wrong {
		r.cured(id)
		r.b.Set(row, 0, r.ownSD(row))
	}
}

// gapsKnown takes in what a feeler found behind two cups or cones.
func (r *reasoner) gapsKnown(rd gauge.Reading, ids [2]fault.ID, rows [2]int) {
	const seenMM = 0.03 // more than a feeler's own error, less than a gap that is one
	for i, id := range ids {
		there := rd.Wrong() && i < len(rd.Lengths) && rd.Lengths[i].MM() > seenMM
		r.settle(there, id)
		if there {
			_ = r.b.Read(belief.Look{rows[i]: 1}, 0, rd.Lengths[i].MM(), rd.StdMM)
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
func (r *reasoner) depthLook(std float64) (belief.Look, float64, float64) {
	return r.depthLookIn(r.Pinion == history.PinionMockUp, std)
}

// depthLookIn is depthLook in a trial build, on the set-up bearing, or in a final one.
func (r *reasoner) depthLookIn(mockUp bool, std float64) (belief.Look, float64, float64) {
	h, c := r.tooFarOut()
	h[gaugeRow], h[markRow] = 1, 0
	if mockUp {
		h[tallRow] = -1
	}
	return h, r.card.Known.WantedDistance().MM() + c, std
}

// readFit takes in how the case went in by hand.
func (r *reasoner) readFit(rd gauge.Reading) {
	h, c := r.fitLook(r.back, r.tooth)
	c -= r.spread
	for _, f := range sim.CaseFitsOf(r.card.Family) {
		if rd.Finding == f.Finding {
			_ = r.b.Between(h, f.LowMM-c, f.HighMM-c, 0)
		}
	}
}

// readSpread takes in how far the case pushes the housing apart.
func (r *reasoner) readSpread(rd gauge.Reading) {
	v, std := rd.Lengths[0].MM(), ownLeftOut(rd)
	fit, c := r.fitLook(r.back, r.tooth)
	h, c := fit.Times(r.gains.SpreadPerFit), r.gains.SpreadPerFit*c
	h[shareRow], h[dialRow] = v, 1
	if v > 2*rd.StdMM {
		_ = r.b.Read(h, c, v, std, r.looseArm(1)...)
	} else {
		_ = r.b.Below(h, v-c, math.Hypot(std, rd.StdMM))
	}
}

// looseArm is what an indicator whose arm is loose adds to the mean of n readings.
func (r *reasoner) looseArm(n float64) []belief.Noise {
	s, ok := r.may[fault.IndicatorLoose]
	if !ok {
		return nil
	}
	return []belief.Noise{{From: s, SD: sim.LooseArmMM / math.Sqrt(n)}}
}

// readPlay takes in the pinion's end play: with a solid spacer it says how much too thick
// the pack is, with a collapsible one how far the nut has still to go.
func (r *reasoner) readPlay(rd gauge.Reading) {
	h, c := r.torqueLook()
	perMM := r.gains.TorquePerPreloadShimNmmPerMM
	if !r.solid() {
		perMM = r.gains.TorquePerDegreeNmm / r.threadMMPerDegree()
	}
	if v := rd.Lengths[0].MM(); v > 2*rd.StdMM {
		none := r.noPlay()
		if r.solid() {
			h[slopeRow] = none - r.spec().Mid()
		}
		_ = r.b.Read(h, c+r.unseated(), none-v*perMM, math.Hypot(rd.StdMM, 0.012)*perMM)
	}
}

// swingers are the faults that swing the ring gear's back face.
func swingers() []fault.ID { return swinging(fault.BackFace) }

// lashSwingers are those that swing the backlash.
func lashSwingers() []fault.ID { return swinging(fault.BackFace, fault.BacklashAlone) }

func swinging(swings ...fault.Swing) []fault.ID {
	var out []fault.ID
	for _, f := range fault.All() {
		if slices.Contains(swings, f.Belief.Swings) {
			out = append(out, f.ID)
		}
	}
	return out
}

// swings is the chance that something swings the ring gear's back face.
func (r *reasoner) swings() float64 { return r.anyOf(swingers()) }

func (r *reasoner) anyOf(ids []fault.ID) float64 {
	p := 0.0
	for _, id := range ids {
		p += r.risk[id]
	}
	return p
}

func (r *reasoner) runoutSeen(high bool, sure float64, causes []fault.ID) {
	// One likelihood for every cause; they keep their proportion.
	p := math.Min(r.anyOf(causes), 1)
	hit, miss := sure, 1-sure
	if !high {
		hit, miss = miss, hit
	}
	for _, id := range causes {
		r.risk[id] *= hit / (p*hit + (1-p)*miss)
	}
}

// lashMount is what the indicator's stand and the places read do to a backlash reading:
// the true mean with the offset, times the factor, to within sd before the factor, mm. The
// indicator's own error and a loose arm come on top.
func (r *reasoner) lashMount(rd gauge.Reading) (factor, offset, sd float64) {
	factor, extra := r.mountFactor(rd.Method)
	n := float64(len(rd.Lengths))
	class, _ := gauge.ClassOf(gauge.DialIndicator)
	// From place to place: the needle's repeat, the step that is read, and where within its
	// pitch the pinion happens to stand.
	each := sq(class.Repeat) + sq(class.Step)/12 + sq(r.gains.BacklashPitchMM)/12
	kg := r.gains.BacklashPerRing
	if n < 2 {
		// Once round, the gear swings away as much as it comes near: at places evenly
		// spaced that cancels, at one it does not.
		swing := wave(scenarios.FlangeSwingMM) + wave(scenarios.GearSwingMM)
		if f, err := fault.Find(fault.DirtBehindGear); err == nil {
			low, high := f.Size.Of(r.sheet)
			swing += r.swings() * wave(family.Range{Low: low, High: high})
		}
		each += sq(kg) * swing
	}
	if !r.CapsTight {
		each += sq(kg * assembly.SnugCapsMM / math.Sqrt(3))
	}
	for _, f := range fault.All() {
		each += r.risk[f.ID] * sq(kg*f.Belief.WanderMM/math.Sqrt(3))
	}
	each += sq(r.gains.BacklashPerPinion * r.pinionWanderSD())
	if m, _ := r.fit(r.back, r.tooth); m < 0 {
		each += sq(kg*m) / 12 // the case lies anywhere within its play
	}
	if rd.Method.Pinion == act.PinionFree {
		offset = 1.5 * sim.FreePinionMM
		each += sq(sim.FreePinionMM) / 12
	}
	// The turns of a bent pinion do not average out over places round the ring gear.
	extra = math.Hypot(extra, kg*r.swingSD(fault.PinionBent))
	return factor, offset, math.Sqrt(each/n + extra*extra)
}

// pinionWanderSD is how far, as a standard deviation, the pinion may lie from its place in
// one reading, mm.
func (r *reasoner) pinionWanderSD() float64 {
	square := 0.0
	for _, f := range fault.All() {
		square += r.risk[f.ID] * sq(f.Belief.PinionWanderMM) / 3
	}
	return math.Sqrt(square)
}

// swingSD is how far, as a standard deviation, a part that may swing by a fault's size lies
// from its mean at a place that happens to be read, mm.
func (r *reasoner) swingSD(id fault.ID) float64 {
	f, err := fault.Find(id)
	if err != nil {
		return 0
	}
	low, high := f.Size.Of(r.sheet)
	return (low + high) / 4 / math.Sqrt2 * math.Sqrt(r.risk[id])
}

// wave is the mean square of what a swing round the gear, given as a range of total
// readings, does at one place, mm squared.
func wave(tir family.Range) float64 { return (sq(tir.Mid()) + sq(evenSD(tir))) / 8 }

// readLash takes in a backlash reading, allowing for how the indicator stood. Where the
// gears bind there is less than none, which no indicator shows.
func (r *reasoner) readLash(rd gauge.Reading, bind bool) {
	factor, offset, sd := r.lashMount(rd)
	shown, least, most := rd.Summary()
	h, c := r.lashLook()
	h[dialRow] = 1 / factor
	mean, arm := shown.MM()/factor-offset, r.looseArm(float64(len(rd.Lengths)))
	if bind {
		_ = r.b.Below(h, mean-c, sd)
	} else {
		_ = r.b.Read(h, c, mean, sd, arm...)
	}
	if n := len(rd.Lengths); n >= 4 && n%2 == 0 && !bind {
		// Every other place against those between: round the gear the swing cancels, and what
		// is left is scatter, of which a loose arm makes more.
		scatter := 0.0
		for i, l := range rd.Lengths {
			scatter += float64(1-2*(i%2)) * l.MM() / math.Sqrt(float64(n))
		}
		_ = r.b.Read(belief.Look{}, 0, scatter, sd*factor*math.Sqrt(float64(n)), r.looseArm(1)...)
	}
	r.lashReads++
	if len(rd.Lengths) >= 3 {
		r.runoutSeen((most-least).MM() > r.sheet.BacklashSpreadMM+0.01, 0.93, lashSwingers())
	}
}

// mountFactor is what the indicator's stand does to a reading, and how unsure that
// leaves it, mm.
func (r *reasoner) mountFactor(how gauge.Method) (factor, extra float64) {
	switch how.Place {
	case act.Middle:
		extra = 0.008
	case act.Toe:
		extra = 0.012
	}
	if how.Plunger != act.Square {
		extra += 0.010
	}
	return r.gains.PlungerShare(how.Place, how.Plunger), extra
}

// readPrint takes the print's height as a look at the depth.
func (r *reasoner) readPattern(rd gauge.Reading) {
	if len(rd.Patterns) == 0 {
		return
	}
	sum := 0.0
	for _, p := range rd.Patterns {
		sum += p.CenterT
	}
	if len(rd.Patterns) == 2 {
		r.patternsApart(math.Abs(rd.Patterns[0].CenterT-rd.Patterns[1].CenterT), sim.EyeStd(rd.Method))
	}
	const offTheToothMM = 0.3 // further out a print stays at the edge, whatever the depth
	if m, _ := r.depthError(r.depthShim); math.Abs(m) > offTheToothMM || r.risk[fault.GearForOther] > 0.5 {
		return
	}
	h, c, sd := r.patternLook(rd.Method, len(rd.Patterns))
	_ = r.b.Read(h, c, sum/float64(len(rd.Patterns)), sd)
}

// printsApart weighs whether the prints of both flanks stand so far apart in height that
// ring and pinion are of two sets.
func (r *reasoner) patternsApart(apart, eye float64) {
	p := r.risk[fault.SetMixed]
	if p == 0 || p == 1 {
		return
	}
	const setSD, mixed, mixedSD = 0.02, 0.22, 0.06 // of the tooth: one set, and two
	likely := func(mean, sd float64) float64 {
		z := (apart - mean) / sd
		return math.Exp(-z*z/2) / sd
	}
	own := math.Sqrt2 * math.Hypot(eye, setSD)
	two, one := p*likely(mixed, math.Hypot(own, mixedSD)), (1-p)*2*likely(0, own)
	r.risk[fault.SetMixed] = two / (two + one)
}

// printLook is the mean height of the prints as a look. The sets of a family do not
// all print at the same height when they are right.
func (r *reasoner) patternLook(how gauge.Method, flanks int) (belief.Look, float64, float64) {
	kt := r.gains.PatternHeightPerPinion
	sd := math.Hypot(sim.EyeStd(how)/math.Sqrt(float64(flanks)), kt*r.swingSD(fault.GearOffCenter)) // the place that was painted
	out, c := r.tooFarOut()
	return out.Times(kt).Plus(1, belief.Look{patternRow: 1}), r.sheet.PatternHeight.Mid() + kt*c, sd
}

// breakawayRise is how much more it takes to break the pinion loose than to keep it turning,
// on the middle axle of the family, and sd from axle to axle.
func (r *reasoner) breakawayRise() (mean, sd float64) {
	b := r.card.Family.Model.Breakaway
	return b.Mid(), evenSD(b)
}

// meanDrag is the mean of the torques a reading shows, N·mm.
func meanTorque(rd gauge.Reading) float64 {
	v := 0.0
	for _, t := range rd.Torques {
		v += t.Nmm() / float64(len(rd.Torques))
	}
	return v
}

// dragReadLook is a drag reading of the build as it stands as a look, its constant, and
// its noise near a running torque v, all N·mm.
func (r *reasoner) torqueReadLook(rd gauge.Reading, v float64) (h belief.Look, c, std float64) {
	std = rd.StdNmm
	fixed, shown := wrenchRow, v
	if rd.Method.Pull == act.Breakaway {
		rise, _ := r.breakawayRise()
		shown = rise * v
	}
	class, _ := gauge.ClassOf(gauge.LowRangeWrench)
	if rd.Tool == gauge.StringAndScale {
		fixed = stringRow
		class, _ = gauge.ClassOf(gauge.StringAndScale)
	}
	// The fixed gain is a row of its own; take it out of the stated figure.
	std = math.Sqrt(math.Max(std*std-sq(class.Gain*shown)/3, sq(class.Step)/12))
	if rd.Method.Pull == act.Breakaway {
		_, sd := r.breakawayRise()
		std = math.Hypot(std, sd*v)
	}
	h, c = r.torqueLook()
	h[greaseRow], h[fixed] = 1, math.Max(v, 0)
	if r.Pinion == history.PinionFinal {
		h[sealRow] = 1
		c += r.unseated()
	}
	if rd.Kind == gauge.TotalTorque {
		k := r.gains.SideRisePerMM
		fit, at := r.fitLook(r.back, r.tooth)
		h = h.Plus(k, fit)
		h[brakeRow], h[riseRow] = 1, r.gains.ReferenceRiseNmm
		c += r.gains.ReferenceRiseNmm + k*(at-r.gains.ReferenceRiseMM)
		tight, unsure := r.tightTeeth()
		c += tight
		std = math.Hypot(std, unsure)
	}
	return h, c, std
}

// tightTeeth is what teeth with too little backlash are believed to add to a total torque,
// and how unsure that is, N·mm: none while there is backlash to spare. How hard forced
// teeth drag nobody knows to better than a half.
func (r *reasoner) tightTeeth() (mean, sd float64) {
	const roomMM = 0.0254 // above it the mesh turns freely
	lash, unsure := r.lash(r.back, r.tooth)
	over := func(x float64) float64 { return carrier.MeshDragNmm(x) - carrier.MeshDragNmm(roomMM) }
	mean = average(lash, unsure, over)
	square := average(lash, unsure, func(x float64) float64 { return sq(over(x)) })
	return mean, math.Sqrt(math.Max(square-mean*mean, 0) + sq(mean/2))
}

// feltOf takes in what turning the gears felt like: one of the faults that feel so, as likely
// as before against each other. It tells whether anything did.
func (r *reasoner) feltOf(o history.Step) bool {
	const sure = 0.9
	felt := false
	for _, feel := range o.Feels {
		var ids []fault.ID
		for _, f := range fault.All() {
			if f.Belief.Feels == feel {
				ids = append(ids, f.ID)
			}
		}
		felt = felt || len(ids) > 0
		p := r.anyOf(ids)
		for _, id := range ids {
			if p > 0 && p < sure {
				r.risk[id] *= sure / p
			}
		}
	}
	return felt
}

func (r *reasoner) readTorque(rd gauge.Reading, o history.Step) {
	v := meanTorque(rd)
	if rd.Method.Pull == act.Breakaway {
		rise, _ := r.breakawayRise()
		v /= rise
	}
	swings := len(rd.Torques) > 1
	if swings && rd.Kind == gauge.PinionTorque {
		r.rough()
	}
	h, c, std := r.torqueReadLook(rd, v)
	if rd.Kind == gauge.TotalTorque && r.feltOf(o) {
		return // how much of it is the damage nobody knows
	}
	switch {
	case r.rocks || !r.solid() && !r.Nut.Contact && r.b.Mean(torqueRow) < r.noPlay():
		// End play: the reading is of seal and oil alone.
		d, dc := r.torqueLook()
		_ = r.b.Read(h.Plus(-1, d), c-dc-r.unseated(), v, std)
	case r.solid() && r.Pinion == history.PinionFinal:
		r.readPreloadShimTorque(rd, h, c, v, std)
	default:
		_ = r.b.Read(h, c, v, std)
	}
}

// rough: a torque that swings with the case out is one of the faults that make it swing, as
// likely as before against each other.
func (r *reasoner) rough() {
	const sure = 0.9
	ids := swinging(fault.PinionTurning)
	switch p := r.anyOf(ids); {
	case p == 0:
		r.risk[fault.BearingNotched] = sure
	case p < sure:
		for _, id := range ids {
			r.risk[id] *= sure / p
		}
	}
}

// readPackDrag takes in the drag of a solid spacer's pack. Below its torque the nut does
// not yet say what the pack gives; where hardly more than the seal drags there is play,
// and only that much is known.
func (r *reasoner) readPreloadShimTorque(rd gauge.Reading, h belief.Look, c, v, std float64) {
	if r.Nut.Torque.Nmm() < 0.85*r.sheet.NutLow.Nmm() || rd.Kind == gauge.TotalTorque && r.b.SD(preloadShimRow) > 0.02 {
		return
	}
	r.preloadShimsRead = true
	const hardly = 0.08 // of the window's middle
	bare := v - r.b.Mean(sealRow) - r.b.Mean(greaseRow)
	if bare < hardly*r.spec().Mid() {
		d, dc := r.torqueLook()
		limit, _ := r.straight(hardly * r.spec().Mid())
		_ = r.b.Below(d, limit-dc, std)
		return
	}
	straight, scale := r.straight(bare)
	h[slopeRow] = straight - r.spec().Mid()
	_ = r.b.Read(h, c, v-bare+straight, std*scale)
}

// straight is what a drag of a pack would be if every shim were worth as much as about the
// middle of the window, N·mm, and how much more a step of it is worth there.
func (r *reasoner) straight(torque float64) (straight, scale float64) {
	k, mid, by := r.gains.TorquePerPreloadShimNmmPerMM, r.spec().Mid(), r.gains.TorquesByPreloadShim
	i := 1
	for i < len(by)-1 && torque > by[i].TorqueNmm {
		i++
	}
	a, b := by[i-1], by[i]
	perNmm := (b.PreloadShimMM - a.PreloadShimMM) / (b.TorqueNmm - a.TorqueNmm)
	return mid - k*(a.PreloadShimMM+perNmm*(torque-a.TorqueNmm)), -k * perNmm
}
