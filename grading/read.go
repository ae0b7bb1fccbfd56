package grading

import (
	"math"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/scenarios/fault"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/truth"
)

// learn takes in what an act showed and did. It comes after the act is judged.
func (r *reasoner) learn(o sim.Outcome) {
	for _, rd := range o.Readings {
		r.read(rd)
	}
	r.apply(o)
}

func (r *reasoner) read(rd gauge.Reading) {
	length := func(i int) float64 { return rd.Lengths[i].MM() }
	// A reading the belief gives no chance to leaves the belief as it was: the
	// Gaussian has nothing better to say, and later readings count as usual.
	tell := func(h belief.Look, c, y, sd float64) { _ = r.b.Read(h, c, y, sd) }
	switch rd.What {
	case "cup-gaps":
		r.settle(rd.Found, truth.HeadCupHigh, truth.TailCupHigh)
		r.cupsKnown(rd)
	case "pinion-bearings":
		r.settle(rd.Found, truth.PackingGrease)
		if !rd.Found {
			r.clear(truth.BearingNotched, truth.BearingGritty) // grease would have hidden them
		}
		r.b.Set(greaseRow, 0, 20)
		if rd.Found {
			r.b.Set(greaseRow, assembly.GreaseDragNmm, 150)
		}
	case "roller-tracks":
		r.risk[truth.BearingNotched] = 1
	case "roller-grit":
		r.risk[truth.BearingGritty], r.risk[truth.PackingGrease] = 1, 0
		r.b.Set(greaseRow, 0, 20)
	case "spacer":
		r.settle(rd.Found, truth.SpacerCrushed)
		r.risk[truth.SpacerShort] = 0
	case "spacer-kind":
		r.risk[truth.SpacerShort] = 1
	case "nut":
		r.settle(rd.Found, truth.NutUsed)
	case "shim-seat":
		r.settle(rd.Found, truth.DirtUnderShim)
		r.seatKnown(rd.Found)
		r.risk[truth.SlingerOut] = 0
	case "slinger":
		r.noSlinger(1)
	case "set-numbers":
		r.settle(rd.Found, truth.SetMixed)
	case "gear-tag":
		r.settle(rd.Found, truth.GearForOther)
	case "pinion-runout":
		r.settle(length(0) > r.sheet.RunoutMM, truth.PinionBent)
	case "rim-runout":
		r.settle(length(0) > r.sheet.RunoutMM, truth.GearOffCentre)
	case "gear-flatness":
		r.settle(rd.Found, truth.GearWarped)
	case "gauge":
		r.gaugeKnown(rd.Found)
	case "ring-bolts":
		r.settle(rd.Found, truth.BoltsUneven)
		r.risk[truth.BoltsLong] = 0
	case "bolt-length":
		r.risk[truth.BoltsLong] = 1
	case "shafts":
		r.settle(rd.Found, truth.BrakesOn)
	case "cord":
		r.cordKnown(rd.Found)
	case "side-cones":
		r.conesKnown(rd)
	case "caps":
		r.settle(rd.Found, truth.CapsSwapped, truth.CapTurned)
	case "seal":
		r.settle(rd.Found, truth.SealTight)
		s := r.card.Family.Model.SealNmm
		r.b.Set(sealRow, (s.Low+s.High)/2, (s.High-s.Low)/math.Sqrt(12))
		if rd.Found {
			r.b.Set(sealRow, (s.Low+s.High)/2+800, 200)
		}
	case "indicator":
		r.risk[truth.IndicatorLoose] = 0
	case "bearing-heights":
		tell(belief.Look{tallRow: 1}, 0, length(0), rd.StdMM)
		r.risk[truth.SetUpBearingOff] = 0
	case "depth-shim":
		tell(belief.Look{lotRow: 1}, r.depthShim, length(0), rd.StdMM)
		r.risk[truth.ShimsRunThick] = 0
	case "depth":
		h, c, sd := r.depthLook(rd.StdMM)
		const farMM = 0.3 // no mark, shim or bearing accounts for that
		if m, _ := r.b.Of(h); r.risk[truth.SlingerOut] > 0 && length(0)-c-m > farMM {
			r.noSlinger(0.95)
		}
		tell(h, c, length(0), sd)
		r.gaugeReads++
		r.gauged = true
	case "case-fit":
		r.readFit(rd)
	case "spread":
		r.readSpread(rd)
	case "pinion-play":
		r.readPlay(rd)
	case "ring":
		// Counted where the ring was turned.
	case "end-play":
		if v := length(0); v > 0 {
			tell(belief.Look{lineRow: 1}, -(r.back + r.tooth), v, math.Hypot(rd.StdMM, r.pairSD()))
		} else {
			_ = r.b.Below(belief.Look{lineRow: 1}, r.back+r.tooth, r.pairSD())
		}
	case "runout":
		high := length(0) > r.sheet.RunoutMM
		r.runoutSeen(high, 0.97, swingers())
	case "flange-runout":
		r.clear(truth.DirtBehindGear, truth.BoltsUneven, truth.BoltsLong, truth.GearOffCentre)
		r.risk[truth.BentFlange] = 0.01
		if length(0) > r.sheet.FlangeRunoutMM {
			r.risk[truth.BentFlange] = 0.99
		}
	case "backlash":
		r.readLash(rd)
	case "pattern":
		r.readPrint(rd)
	case "pinion-drag", "total-drag":
		r.readDrag(rd)
	case "nut-torque":
		r.lastTorque = rd.Torques[0].Nmm()
		if r.loosened > 0 {
			// A nut that turns on far below what crushes a spacer has been loosened.
			r.loosened = 0
			if r.lastTorque < 0.75*r.sheet.NutLow.Nmm() {
				r.loosened = 0.95
			}
		}
	}
}

// settle records that a look has decided about faults.
func (r *reasoner) settle(found bool, ids ...truth.FaultID) {
	for _, id := range ids {
		r.risk[id] = 0
		if found {
			r.risk[id] = 1
		}
	}
}

// cupsKnown takes the gaps behind the cups out of, or into, the right shim and pack.
func (r *reasoner) cupsKnown(rd gauge.Reading) {
	r.headGap, r.cupGaps = amount{}, amount{}
	for i, l := range rd.Lengths {
		gap := amount{l.MM(), rd.StdMM}
		if i == 0 {
			r.headGap = gap
		}
		r.cupGaps = plus(r.cupGaps, gap)
	}
	r.byCard()
}

// seatKnown does the same for dirt under the depth shim. A look tells no size.
func (r *reasoner) seatKnown(found bool) {
	r.seatDirt = amount{}
	if f, err := fault.Find(truth.DirtUnderShim); err == nil && found {
		r.seatDirt = amount{(f.Low + f.High) / 2, (f.High - f.Low) / math.Sqrt(12)}
	}
	r.byCard()
}

// cordKnown takes in where the cord lies. Where it lay wrong it has been put right, and
// what it said before is worth no more than it was.
func (r *reasoner) cordKnown(found bool) {
	class, _ := gauge.ClassOf(gauge.CordAndScale)
	own := class.Gain / math.Sqrt(3)
	r.risk[truth.CordOff] = 0
	if found {
		r.b.Set(cordRow, 0, own)
	} else {
		_ = r.b.Read(belief.Look{cordRow: 1}, 0, 0, own)
	}
}

// gaugeKnown takes in how the depth gauge stood. Where it stood wrong it has been put
// right, and what it read before was too much by that.
func (r *reasoner) gaugeKnown(found bool) {
	class, _ := gauge.ClassOf(gauge.DepthGauge)
	own := class.Offset / math.Sqrt(3)
	f, err := fault.Find(truth.GaugeOff)
	r.risk[truth.GaugeOff] = 0
	if err != nil || !found {
		_ = r.b.Read(belief.Look{gaugeRow: 1}, 0, 0, own)
		return
	}
	_ = r.b.Read(belief.Look{gaugeRow: 1}, 0, (f.Low+f.High)/2, math.Hypot(own, (f.High-f.Low)/math.Sqrt(12)))
	r.b.Set(gaugeRow, 0, own)
}

// conesKnown takes the gaps behind the cones out of, or into, the side shims, unless those
// have been read.
func (r *reasoner) conesKnown(rd gauge.Reading) {
	const seenMM = 0.04 // more than a feeler's own error
	r.coneGaps = [2]float64{}
	for i, id := range []truth.FaultID{truth.SideConeHigh, truth.ToothConeHigh} {
		if rd.Found && i < len(rd.Lengths) && rd.Lengths[i].MM() > seenMM {
			r.coneGaps[i] = rd.Lengths[i].MM()
		}
		r.settle(r.coneGaps[i] > 0, id)
	}
	// Rings are run up to wherever the cones stand.
	if !r.rings() && r.lashReads == 0 && !r.told[act.MeasureEndPlay] {
		r.setSides(r.coneGaps[0], r.coneGaps[1], rd.StdMM)
	}
}

// depthLook is the depth gauge's reading as a look. A pinion mark cancels between
// gauge and shim, so the mark's own error is noise here.
func (r *reasoner) depthLook(std float64) (belief.Look, float64, float64) {
	h, c := r.tooFarOut()
	h[gaugeRow] = 1
	if r.pinion == sim.PinionTrial {
		h[tallRow] = -1
	}
	dg, _ := gauge.ClassOf(gauge.DepthGauge)
	repeat := math.Sqrt(math.Max(std*std-dg.Offset*dg.Offset/3, 0))
	return h, r.card.Known.WantedHeight().MM() + c, math.Sqrt(repeat*repeat + sq(scenarios.MarkSD(r.sheet)) + sq(0.004))
}

// readFit takes in how the case went in by hand.
func (r *reasoner) readFit(rd gauge.Reading) {
	total := r.back + r.tooth - r.spread
	for _, f := range sim.FeelsOf(r.card.Family) {
		if rd.Observed == f.Words {
			_ = r.b.Between(belief.Look{lineRow: 1}, total-f.HighMM, total-f.LowMM, 0.01)
		}
	}
}

// readSpread takes in how far the case pushes the housing apart.
func (r *reasoner) readSpread(rd gauge.Reading) {
	k, v := r.gains.SpreadPerFit, rd.Lengths[0].MM()
	const housings = 0.12 // stiffness from housing to housing, as a share
	h, c := belief.Look{lineRow: -k}, k*(r.back+r.tooth)
	if v > rd.StdMM {
		_ = r.b.Read(h, c, v, math.Hypot(rd.StdMM, housings*v))
	} else {
		_ = r.b.Below(h, v-c, rd.StdMM)
	}
}

// readPlay takes in the pinion's end play: with a solid spacer it says how much too thick
// the pack is, with a collapsible one how far the nut has still to go.
func (r *reasoner) readPlay(rd gauge.Reading) {
	h, c := r.dragLook()
	perMM := r.gains.DragPerPackNmmPerMM
	if !r.solid() {
		perMM = r.gains.DragPerDegreeNmm / r.threadMMPerDegree()
	}
	if v := rd.Lengths[0].MM(); v > 2*rd.StdMM {
		const slopeShare = 0.3 // the rise from no play to the window, axle to axle
		_ = r.b.Read(h, c, -v*perMM, math.Hypot(math.Hypot(rd.StdMM, 0.012)*perMM, slopeShare*r.window().Mid()))
	}
}

// swingers are the faults that swing the ring gear's back face.
func swingers() []truth.FaultID {
	return []truth.FaultID{truth.DirtBehindGear, truth.BentFlange, truth.BoltsUneven, truth.GearWarped}
}

// lashSwingers are those that swing the backlash.
func lashSwingers() []truth.FaultID {
	return append(swingers(), truth.GearOffCentre, truth.PinionBent)
}

// swings is the chance that something swings the ring gear's back face.
func (r *reasoner) swings() float64 { return r.anyOf(swingers()) }

func (r *reasoner) anyOf(ids []truth.FaultID) float64 {
	p := 0.0
	for _, id := range ids {
		p += r.risk[id]
	}
	return p
}

func (r *reasoner) runoutSeen(high bool, sure float64, causes []truth.FaultID) {
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
// the true mean with the offset, times the factor, to within sd before the factor, mm.
func (r *reasoner) lashMount(rd gauge.Reading) (factor, offset, sd float64) {
	factor, extra := mountFactor(r.card.Family, rd.How)
	n := float64(len(rd.Lengths))
	wave := 0.012 // half the usual swing round the gear, mm
	if r.swings() > 0.02 && n < 4 {
		wave = 0.025
	}
	if !r.capsTight {
		extra = math.Hypot(extra, 0.02)
	}
	if r.risk[truth.IndicatorLoose] > 0 {
		extra = math.Hypot(extra, 0.03*math.Sqrt(r.risk[truth.IndicatorLoose]))
	}
	if has(rd.How, "pinion-free") {
		offset = 0.09
	}
	// The turns of a bent pinion do not average out over places round the ring gear.
	extra = math.Hypot(extra, r.gains.BacklashPerRing*r.swingSD(truth.PinionBent))
	return factor, offset, math.Sqrt(rd.StdMM*rd.StdMM + sq(wave)/n + extra*extra)
}

// swingSD is how far, as a standard deviation, a part that may swing by a fault's size lies
// from its mean at a place that happens to be read, mm.
func (r *reasoner) swingSD(id truth.FaultID) float64 {
	f, err := fault.Find(id)
	if err != nil {
		return 0
	}
	low, high := f.Sizes(r.sheet)
	return (low + high) / 4 / math.Sqrt2 * math.Sqrt(r.risk[id])
}

// readLash takes in a backlash reading, allowing for how the indicator stood.
func (r *reasoner) readLash(rd gauge.Reading) {
	factor, offset, sd := r.lashMount(rd)
	shown, least, most := rd.Summary()
	h, c := r.lashLook()
	mean := shown.MM()/factor - offset
	const farMM = 0.45 // past the window: no side shims that anyone would fit
	if p := r.risk[truth.GearForOther]; p > 0 && r.gearAway == 0 && mean > r.sheet.Backlash.HighMM+farMM {
		r.risk[truth.GearForOther] = math.Max(p, 0.95)
		believed, _ := r.lash(r.back, r.tooth)
		r.gearAway = (mean - believed) / r.gains.BacklashPerRing
		h, c = r.lashLook()
	}
	if mean > 0.005 {
		_ = r.b.Read(h, c, mean, sd)
	} else {
		_ = r.b.Below(h, -c, sd)
	}
	r.lashReads++
	if len(rd.Lengths) >= 3 {
		r.runoutSeen((most-least).MM() > r.sheet.BacklashSpreadMM+0.01, 0.93, lashSwingers())
	}
}

// mountFactor is what the indicator's stand does to a reading, and how unsure that
// leaves it, mm.
func mountFactor(fam family.Family, how string) (factor, extra float64) {
	g := fam.Model.Gears
	heel := g.RingDiameterMM / 2
	factor = 1
	switch {
	case has(how, "middle"):
		factor, extra = (heel-g.FaceWidthMM/2)/heel, 0.008
	case has(how, "toe"):
		factor, extra = (heel-g.FaceWidthMM)/heel, 0.012
	}
	switch {
	case has(how, "along"):
		factor, extra = factor*1.27, extra+0.010
	case has(how, "tilted"):
		factor, extra = factor*1.155, extra+0.010
	}
	if has(how, "pinion-free") {
		extra += 0.02
	}
	return factor, extra
}

// readPrint takes the print's height as a look at the depth.
func (r *reasoner) readPrint(rd gauge.Reading) {
	if len(rd.Prints) == 0 {
		return
	}
	sum := 0.0
	for _, p := range rd.Prints {
		sum += p.CentreT
	}
	if len(rd.Prints) == 2 {
		r.printsApart(math.Abs(rd.Prints[0].CentreT-rd.Prints[1].CentreT), sim.EyeStd(rd.How))
	}
	const offTheToothMM = 0.3 // further out a print stays at the edge, whatever the depth
	if m, _ := r.depthError(r.depthShim); math.Abs(m) > offTheToothMM || r.risk[truth.GearForOther] > 0.5 {
		return
	}
	h, c, sd := r.printLook(rd.How, len(rd.Prints))
	_ = r.b.Read(h, c, sum/float64(len(rd.Prints)), sd)
}

// printsApart weighs whether the prints of both flanks stand so far apart in height that
// ring and pinion are of two sets.
func (r *reasoner) printsApart(apart, eye float64) {
	p := r.risk[truth.SetMixed]
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
	r.risk[truth.SetMixed] = two / (two + one)
}

// printLook is the mean height of the prints as a look. The sets of a family do not
// all print at the same height when they are right.
func (r *reasoner) printLook(how string, flanks int) (belief.Look, float64, float64) {
	const setSpread = 0.018 // centre of a right set's print from set to set, and its own housing
	kt := r.gains.PrintHeightPerPinion
	sd := math.Sqrt(sq(sim.EyeStd(how))/float64(flanks) + sq(setSpread))
	sd = math.Hypot(sd, kt*r.swingSD(truth.GearOffCentre)) // the place that was painted
	h, c := r.tooFarOut()
	for i := range h {
		h[i] *= kt
	}
	return h, r.sheet.PrintHeight.Mid() + kt*c, sd
}

// firstPullRise is what the first pull takes above what keeps the pinion turning.
const firstPullRise = 1.4

// meanDrag is the mean of the torques a reading shows, N·mm.
func meanDrag(rd gauge.Reading) float64 {
	v := 0.0
	for _, t := range rd.Torques {
		v += t.Nmm() / float64(len(rd.Torques))
	}
	return v
}

// dragReadLook is a drag reading of the build as it stands as a look, its constant, and
// its noise near a running torque v, all N·mm.
func (r *reasoner) dragReadLook(rd gauge.Reading, v float64) (h belief.Look, c, std float64) {
	std = rd.StdNmm
	fixed, shown := wrenchRow, v
	if rd.How == "first-pull" {
		shown = firstPullRise * v
	}
	class, _ := gauge.ClassOf(gauge.LowRangeWrench)
	if rd.Tool == gauge.CordAndScale {
		fixed = cordRow
		class, _ = gauge.ClassOf(gauge.CordAndScale)
	}
	// The fixed gain is a row of its own; take it out of the stated figure.
	std = math.Sqrt(math.Max(std*std-sq(class.Gain*shown)/3, sq(class.Step)/12))
	if rd.How == "first-pull" {
		std = math.Hypot(std, 0.10*v)
	}
	if r.turns < 3 && r.pinion == sim.PinionFinal {
		std = math.Hypot(std, 0.08*v) // rollers not home
	}
	h, c = r.dragLook()
	h[greaseRow], h[fixed] = 1, math.Max(v, 0)
	if r.pinion == sim.PinionFinal {
		h[sealRow] = 1
	}
	if rd.What == "total-drag" {
		h[lineRow] = -r.gains.SideRisePerMM
		c += r.gains.ReferenceRiseNmm + r.gains.SideRisePerMM*(r.back+r.tooth-r.gains.ReferenceRiseMM)
		std = math.Hypot(std, 0.25*r.gains.ReferenceRiseNmm)
	}
	return h, c, std
}

func (r *reasoner) readDrag(rd gauge.Reading) {
	v := meanDrag(rd)
	if rd.How == "first-pull" {
		v /= firstPullRise
	}
	swings := len(rd.Torques) > 1
	if swings && rd.What == "pinion-drag" {
		r.rough()
	}
	h, c, std := r.dragReadLook(rd, v)
	if rd.What == "total-drag" {
		if swings && r.risk[truth.BearingNotched]+r.risk[truth.BearingGritty] < 0.5 {
			// Nipped cups: where it is easy the drag is what it should be. Either caps.
			v = rd.Torques[0].Nmm()
			c := r.risk[truth.CapsSwapped] + r.risk[truth.CapTurned]
			for _, id := range []truth.FaultID{truth.CapsSwapped, truth.CapTurned} {
				if c > 0 && c < 0.9 {
					r.risk[id] *= 0.9 / c
				}
			}
		}
		std = math.Hypot(std, r.brakesFelt(h, v-c, std))
	}
	r.sincePull = true
	if r.solid() && r.pinion == sim.PinionFinal {
		r.readPackDrag(rd, h, c, v, std)
		return
	}
	if m, _ := r.drag(); m < 0 && !r.contactFelt {
		return // end play: the reading is seal and churn alone
	}
	_ = r.b.Read(h, c, v, std)
}

// rough: a torque that swings with the case out is a dent or grit, as likely as before
// against each other.
func (r *reasoner) rough() {
	const sure = 0.9
	notched, gritty := r.risk[truth.BearingNotched], r.risk[truth.BearingGritty]
	switch p := notched + gritty; {
	case p == 0:
		r.risk[truth.BearingNotched] = sure
	case p < sure:
		r.risk[truth.BearingNotched], r.risk[truth.BearingGritty] = sure*notched/p, sure*gritty/p
	}
}

// brakesFelt weighs whether a total torque, less its constant, is that of an axle whose
// shafts are on, and returns how unsure that leaves the reading, N·mm.
func (r *reasoner) brakesFelt(h belief.Look, y, std float64) float64 {
	f, err := fault.Find(truth.BrakesOn)
	p := r.risk[truth.BrakesOn]
	if err != nil || p == 0 || p == 1 {
		return p * f.High / r.sheet.Ratio()
	}
	mean, sd := r.b.Of(h)
	without := math.Hypot(sd, std)
	adds, apart := (f.Low+f.High)/2/r.sheet.Ratio(), (f.High-f.Low)/math.Sqrt(12)/r.sheet.Ratio()
	with := math.Hypot(without, apart)
	likely := func(x, sd float64) float64 { return math.Exp(-x*x/(2*sd*sd)) / sd }
	on, off := p*likely(y-mean-adds, with), (1-p)*likely(y-mean, without)
	if on+off == 0 {
		return 0
	}
	p = on / (on + off)
	r.risk[truth.BrakesOn] = p
	return math.Sqrt(p) * adds
}

// readPackDrag takes in the drag of a solid spacer's pack. Below its torque the nut does
// not yet say what the pack gives; where hardly more than the seal drags there is play,
// and only that much is known.
func (r *reasoner) readPackDrag(rd gauge.Reading, h belief.Look, c, v, std float64) {
	if r.lastTorque < 0.85*r.sheet.NutLow.Nmm() || rd.What == "total-drag" && r.b.SD(packRow) > 0.02 {
		return
	}
	r.packRead = true
	const hardly = 0.08 // of the window's middle
	bare := v - r.b.Mean(sealRow) - r.b.Mean(greaseRow)
	if bare < hardly*r.window().Mid() {
		d, dc := r.dragLook()
		_ = r.b.Below(d, hardly*r.window().Mid()-dc, std)
		return
	}
	// Other axles of the family lose a little more or less per shim.
	const slopeShare = 0.3
	_ = r.b.Read(h, c, v, math.Hypot(std, slopeShare*math.Abs(bare-r.window().Mid())))
}
