package grading

import (
	"math"
	"strings"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/scenarios/fault"
	"shimwright/scenarios/hand"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/truth"
)

// The rows of the belief. Lengths in mm, torques in N·mm, gains as a share.
const (
	shimRow   = iota // depth shim that would be right, as it really measures, cups as they stand
	lotRow           // what depth shims measure above their marking
	tallRow          // set-up bearing above the one that stays
	gaugeRow         // depth gauge's own error
	splitRow         // half difference of the side shims (back less tooth) that puts backlash mid-window at right depth
	lineRow          // side-shim total at line-to-line
	wrenchRow        // low-range wrench's gain
	cordRow          // cord and scale's gain
	dragRow          // bearing drag of the pinion as it stands; below zero: that far from losing its end play
	sealRow          // seal drag
	greaseRow        // drag of grease
	packRow          // solid spacer: pack for mid-window drag with the old depth shim in
	rows
)

// An amount is something believed of a fault's size, mm: nothing, as likely as not there,
// or seen.
type amount struct{ mean, sd float64 }

func plus(a, b amount) amount { return amount{a.mean + b.mean, math.Hypot(a.sd, b.sd)} }

// reasoner walks through an attempt, believing what the readings warrant.
type reasoner struct {
	prices
	card  scenarios.Card
	sheet family.Sheet
	gains sim.Gains
	b     *belief.Gaussian
	risk  map[truth.FaultID]float64 // chance that the fault is still in the axle
	late  map[truth.FaultID]float64
	told  map[act.Form]bool      // omissions already charged, or looks already taken
	left  map[truth.FaultID]bool // found, left in the axle, and charged for it
	w     words
	out   []Decision

	// The build as anyone can see it.
	n           int
	pinion      sim.PinionBuild
	depthShim   float64
	pack        float64
	packShim    float64 // depth shim of the build that the pack was last known with
	back, tooth float64 // shims, or how far the rings are in since they were run up
	spread      float64 // how far a spreader stands open
	headGap     amount  // behind the head cup
	cupGaps     amount  // behind both cups
	seatDirt    amount  // under the depth shim
	wider       amount  // the housing, from an earlier spread
	ringsUp     bool
	packRead    bool       // the drag of a pack has been read
	coneGaps    [2]float64 // behind back and tooth-side cone, as seen
	caseIn      bool
	capsTight   bool
	turns       float64 // of the pinion since its nut last moved
	backedOff   bool
	backDeg     float64 // how far back of where it was
	sincePull   bool    // drag read since the nut last moved
	lastTorque  float64 // nut torque at the end of the last pull, 0 before
	gaugeReads  int     // depth readings in this build
	lashReads   int     // backlash readings in this build
	gauged      bool    // the depth has been measured with the present idea of the shim
	reused      bool    // the spacer in the build was seen to be crushed before
	loosened    float64 // chance that the hand before backed the nut off
	asFound     bool    // the case has not been out since the hand before put it in
	opened      bool    // the pinion of the hand before has been out
	contactFelt bool    // the nut has been taken past end play in this build
}

func newReasoner(card scenarios.Card, gains sim.Gains, units quantity.System) *reasoner {
	r := &reasoner{prices: prices{card.Family.Design}, card: card, sheet: card.Family.Sheet, gains: gains, w: words{units},
		risk: map[truth.FaultID]float64{}, late: map[truth.FaultID]float64{}, told: map[act.Form]bool{},
		left: map[truth.FaultID]bool{}, pinion: sim.PinionOut, packShim: card.Known.OldDepthShim.MM()}
	size := map[truth.FaultID][2]float64{} // mean and mean square of the effect, chance included
	for _, f := range fault.For(card.Family.Design) {
		rate := card.RateOf(f.Name)
		r.risk[f.ID], r.late[f.ID] = rate, float64(f.Late)
		mean := (f.Low + f.High) / 2
		square := mean*mean + (f.High-f.Low)*(f.High-f.Low)/12
		size[f.ID] = [2]float64{rate * mean, rate * square}
	}
	// sd folds a fault of known rate into a spread; its mean shifts the mean.
	variance := func(id truth.FaultID) float64 { s := size[id]; return s[1] - s[0]*s[0] }
	k := card.Known
	dg, _ := gauge.ClassOf(gauge.DepthGauge)
	lw, _ := gauge.ClassOf(gauge.LowRangeWrench)
	lc, _ := gauge.ClassOf(gauge.CordAndScale)
	sideVar := k.Sheet.SideShims.StepMM * k.Sheet.SideShims.StepMM / 12
	seal := card.Family.Model.SealNmm

	mean, sd := make([]float64, rows), make([]float64, rows)
	may := func(id truth.FaultID) amount { return amount{size[id][0], math.Sqrt(variance(id))} }
	r.headGap, r.seatDirt = may(truth.HeadCupHigh), may(truth.DirtUnderShim)
	r.cupGaps = plus(r.headGap, may(truth.TailCupHigh))
	mean[shimRow], sd[shimRow] = r.shimByCard()
	mean[lotRow] = size[truth.ShimsRunThick][0]
	sd[lotRow] = math.Sqrt(sq(0.003) + variance(truth.ShimsRunThick))
	sd[tallRow] = math.Sqrt(sq(0.004) + size[truth.SetUpBearingOff][1]) // either sign: no shift of the mean
	sd[gaugeRow] = dg.Offset / math.Sqrt(3)
	if r.rings() {
		play, away := scenarios.RingPlayMM, scenarios.RingAwayMM
		mean[splitRow], sd[splitRow] = away.Mid()-play.Mid()/2, math.Hypot(evenSD(away), evenSD(play)/2)
		mean[lineRow], sd[lineRow] = play.Mid(), evenSD(play)
	} else {
		back, tooth, wider := may(truth.SideConeHigh), may(truth.ToothConeHigh), may(truth.HousingSpread)
		mean[splitRow] = (k.OldBackShim.MM()-k.OldToothShim.MM())/2 - (back.mean-tooth.mean)/2
		sd[splitRow] = math.Sqrt(sq(scenarios.OldSplitSDMM) + sideVar/2 + sq(back.sd)/4 + sq(tooth.sd)/4)
		mean[lineRow] = k.OldBackShim.MM() + k.OldToothShim.MM() - k.Sheet.SidePreload.Mid() - back.mean - tooth.mean + wider.mean
		sd[lineRow] = math.Sqrt(sq(scenarios.OldTotalSDMM) + 2*sideVar + sq(back.sd) + sq(tooth.sd) + sq(wider.sd))
		r.wider = wider
	}
	if r.solid() {
		mean[packRow], sd[packRow] = r.packByCard()
	}
	sd[wrenchRow] = math.Sqrt(lw.Gain*lw.Gain/3 + size[truth.WrenchOut][1])
	sd[cordRow] = math.Sqrt(lc.Gain*lc.Gain/3 + size[truth.CordOff][1])
	mean[sealRow] = (seal.Low+seal.High)/2 + size[truth.SealTight][0]
	sd[sealRow] = math.Sqrt(sq(seal.High-seal.Low)/12 + variance(truth.SealTight))
	g := r.risk[truth.PackingGrease]
	mean[greaseRow] = g * assembly.GreaseDragNmm
	sd[greaseRow] = assembly.GreaseDragNmm * math.Sqrt(g*(1-g))
	r.b = belief.New(mean, sd)
	r.takeOver()
	return r
}

// takeOver begins where the trainee does: with what was done and read before them, or with
// another hand's finished axle, whose readings nobody can vouch for.
func (r *reasoner) takeOver() {
	for _, o := range r.card.Before {
		r.told[o.Act.Form] = true
		r.learn(o)
	}
	if !r.handBefore() {
		return
	}
	st := r.card.Start
	r.pinion, r.depthShim, r.pack = st.Pinion, st.DepthShim.MM(), st.Pack.MM()
	r.back, r.tooth = st.BackShim.MM(), st.ToothShim.MM()
	if r.rings() {
		travel := r.design.Rings.SlotTravelMM()
		r.back, r.tooth = st.BackSlots*travel, st.ToothSlots*travel
	}
	r.caseIn, r.capsTight, r.ringsUp, r.contactFelt, r.turns = st.CaseIn, st.CapsTight, true, true, 10
	// Most hands set most things right: each is believed near the middle of its window,
	// with room for one that is not.
	const room = 1.5 // half windows
	w, sides, lash := r.window(), r.sheet.SidePreload, r.sheet.Backlash
	if r.solid() {
		h, c := r.dragLook()
		_ = r.b.Read(h, c, w.Mid(), room*w.Half())
	} else {
		r.b.Set(dragRow, w.Mid(), room*w.Half())
	}
	_ = r.b.Read(belief.Look{lineRow: -1}, r.back+r.tooth, sides.Mid(), room*sides.Half())
	h, c := r.lashLook()
	_ = r.b.Read(h, c, lash.Mid(), room*lash.Half())
	for id := range r.risk {
		if id != truth.BrakesOn { // that came after
			r.risk[id] *= r.slipRate("nothing-inspected")
		}
	}
	r.loosened = r.slipRate("backed-off")
	r.asFound = true
}

// handBefore tells whether the axle was finished by another hand.
func (r *reasoner) handBefore() bool { return r.card.Kind == scenarios.TakenOver }

// slipRate is the disclosed chance that the hand before made a slip.
func (r *reasoner) slipRate(id string) float64 {
	s, err := hand.FindSlip(id)
	if err != nil {
		return 0
	}
	for _, rate := range r.card.Slips {
		if rate.Name == s.Name {
			return rate.Rate
		}
	}
	return 0
}

func sq(x float64) float64 { return x * x }

// evenSD is the standard deviation of an even spread.
func evenSD(f family.Range) float64 { return (f.High - f.Low) / math.Sqrt(12) }

// deeper is 1 where a thicker depth shim brings the pinion in, else -1.
func (r *reasoner) deeper() float64 {
	if r.design.ThickerIsDeeper() {
		return 1
	}
	return -1
}

// packHistoryVar is how well the old pack foretells the right one, mm squared.
func (r *reasoner) packHistoryVar() float64 {
	step := r.design.Solid.Pack.StepMM
	return sq(scenarios.OldPackSDMM) + step*step/12
}

// tooFarOut is the pinion's distance too far out as a look with its constant, mm.
func (r *reasoner) tooFarOut() (h belief.Look, c float64) {
	d := r.deeper()
	return belief.Look{shimRow: d, lotRow: -d}, -d * r.depthShim
}

// Combinations of the belief's rows.

// depthError is how much thicker the depth shim ought to be than the given marked
// one, mm: the pinion's distance too far out.
func (r *reasoner) depthError(markedMM float64) (mean, sd float64) {
	mean, sd = r.b.Of(belief.Look{shimRow: 1, lotRow: -1})
	return mean - markedMM, sd
}

// fit is the side-shim interference of a pair, mm.
func (r *reasoner) fit(back, tooth float64) (mean, sd float64) {
	mean, sd = r.b.Of(belief.Look{lineRow: -1})
	return mean + back + tooth, math.Hypot(sd, r.pairSD())
}

// pairSD is the scatter of two side shims about their markings, or of two rings about
// their slots, mm.
func (r *reasoner) pairSD() float64 {
	if r.rings() {
		return 0.002
	}
	return 0.0045
}

// lash is the mean backlash a pair would give, mm.
func (r *reasoner) lash(back, tooth float64) (mean, sd float64) {
	h, c := r.lashWith(back, tooth)
	mean, sd = r.b.Of(h)
	return mean + c, math.Hypot(sd, 0.003)
}

// lashLook is the backlash of the build as it stands, as a look with its constant.
func (r *reasoner) lashLook() (h belief.Look, c float64) { return r.lashWith(r.back, r.tooth) }

func (r *reasoner) lashWith(back, tooth float64) (h belief.Look, c float64) {
	kg, kp := r.gains.BacklashPerRing, r.gains.BacklashPerPinion
	h, c = r.tooFarOut()
	for i := range h {
		h[i] *= kp
	}
	h[splitRow] = kg
	return h, kp*c + r.sheet.Backlash.Mid() - kg*(back-tooth)/2
}

// dragLook is the drag of the pinion bearings as the build stands, as a look with its
// constant. A solid spacer's drag is its pack's, with the nut at its torque.
func (r *reasoner) dragLook() (h belief.Look, c float64) {
	if !r.solid() || r.pinion != sim.PinionFinal {
		return belief.Look{dragRow: 1}, 0
	}
	k := r.gains.DragPerPackNmmPerMM
	h = belief.Look{packRow: k}
	c = r.window().Mid() - k*r.pack
	if r.design.DepthShim == family.BehindHeadCup {
		// The shim drives the cups apart by as much as it is thicker than the old one.
		h[lotRow] = k
		c += k * (r.depthShim - r.card.Known.OldDepthShim.MM())
	}
	return h, c
}

func (r *reasoner) drag() (mean, sd float64) {
	h, c := r.dragLook()
	mean, sd = r.b.Of(h)
	return mean + c, sd
}

func (r *reasoner) window() family.TorqueWindow { return r.sheet.PinionDrag(r.card.UsedBearings) }

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
			r.risk[truth.BearingNotched] = 0 // grease would have hidden it
		}
		r.b.Set(greaseRow, 0, 20)
		if rd.Found {
			r.b.Set(greaseRow, assembly.GreaseDragNmm, 150)
		}
	case "roller-tracks":
		r.risk[truth.BearingNotched] = 1
	case "spacer":
		r.settle(rd.Found, truth.SpacerCrushed)
	case "nut":
		r.settle(rd.Found, truth.NutUsed)
	case "shim-seat":
		r.settle(rd.Found, truth.DirtUnderShim)
		r.seatKnown(rd.Found)
	case "ring-bolts":
		r.settle(rd.Found, truth.BoltsUneven)
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
		r.runoutSeen(high, 0.97)
	case "flange-runout":
		r.risk[truth.DirtBehindGear], r.risk[truth.BoltsUneven] = 0, 0
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

// historySD is how well old shim and marks foretell the right depth shim, mm, for a
// head cup whose place is known.
func (r *reasoner) historySD() float64 {
	step := r.sheet.DepthShims.StepMM
	return math.Sqrt(sq(scenarios.OldBuildSDMM) + sq(scenarios.MarkSD(r.sheet)) + sq(scenarios.BearingHeightSDMM) + sq(step)/12)
}

// shimByCard is what the card foretells of the depth shim, with what is believed of head
// cup and seat: a cup that stands off and dirt under the shim both take shim away.
func (r *reasoner) shimByCard() (mean, sd float64) {
	mean = r.card.Known.StarterShim().MM() - r.deeper()*r.headGap.mean - r.seatDirt.mean
	return mean, math.Sqrt(sq(r.historySD()) + sq(r.headGap.sd) + sq(r.seatDirt.sd))
}

// packByCard is what the card foretells of a solid spacer's pack. A cup off its shoulder
// takes up play, and so does dirt behind one: the pack that is right then is thicker.
func (r *reasoner) packByCard() (mean, sd float64) {
	up := r.cupGaps
	if r.design.DepthShim == family.BehindHeadCup {
		up = plus(up, r.seatDirt)
	}
	return r.card.Known.OldPack.MM() + up.mean, math.Sqrt(r.packHistoryVar() + sq(up.sd))
}

// byCard goes back to what the card foretells of depth shim and pack, each unless it has
// been read.
func (r *reasoner) byCard() {
	if !r.gauged {
		m, sd := r.shimByCard()
		r.b.Set(shimRow, m, sd)
	}
	if r.solid() && !r.packRead {
		m, sd := r.packByCard()
		r.b.Set(packRow, m, sd)
	}
}

// setSides goes back to what the card foretells of the side shims, with cones that stand
// off by gaps known to within sd each, mm.
func (r *reasoner) setSides(back, tooth, sd float64) {
	k := r.card.Known
	step := sq(k.Sheet.SideShims.StepMM) / 12
	r.b.Set(splitRow, (k.OldBackShim.MM()-k.OldToothShim.MM())/2-(back-tooth)/2, math.Sqrt(sq(scenarios.OldSplitSDMM)+step/2+sd*sd/2))
	r.b.Set(lineRow, k.OldBackShim.MM()+k.OldToothShim.MM()-k.Sheet.SidePreload.Mid()-back-tooth+r.wider.mean,
		math.Sqrt(sq(scenarios.OldTotalSDMM)+2*step+2*sd*sd+sq(r.wider.sd)))
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

// seatClean: dirt that was believed there is gone, and what was read on it moves along.
func (r *reasoner) seatClean() {
	was := r.seatDirt
	r.seatDirt, r.risk[truth.DirtUnderShim] = amount{}, 0
	if was == (amount{}) {
		return
	}
	if r.gauged {
		r.b.Move(shimRow, was.mean, was.sd)
	}
	if r.solid() && r.packRead && r.design.DepthShim == family.BehindHeadCup {
		r.b.Move(packRow, -was.mean, was.sd)
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

// newBearings: another head bearing stands as much taller or shorter as bearings do.
func (r *reasoner) newBearings() {
	const sd = scenarios.BearingHeightSDMM
	r.risk[truth.BearingNotched], r.risk[truth.PackingGrease] = 0, 0
	r.b.Set(greaseRow, 0, 20)
	r.cupsHome()
	r.b.Move(shimRow, 0, sd)
	r.b.Move(tallRow, 0, sd)
	if r.solid() && r.design.DepthShim != family.BehindHeadCup {
		r.b.Move(packRow, 0, sd)
	}
	r.told[act.MeasureBearings], r.told[act.LookBearings] = false, false
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

// swingers are the faults that swing the ring gear once a turn.
func swingers() []truth.FaultID {
	return []truth.FaultID{truth.DirtBehindGear, truth.BentFlange, truth.BoltsUneven}
}

// swings is the chance that something swings the ring gear.
func (r *reasoner) swings() float64 {
	p := 0.0
	for _, id := range swingers() {
		p += r.risk[id]
	}
	return p
}

func (r *reasoner) runoutSeen(high bool, sure float64) {
	// One likelihood for every cause of runout; they keep their proportion.
	p := math.Min(r.swings(), 1)
	hit, miss := sure, 1-sure
	if !high {
		hit, miss = miss, hit
	}
	for _, id := range swingers() {
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
	return factor, offset, math.Sqrt(rd.StdMM*rd.StdMM + sq(wave)/n + extra*extra)
}

// readLash takes in a backlash reading, allowing for how the indicator stood.
func (r *reasoner) readLash(rd gauge.Reading) {
	factor, offset, sd := r.lashMount(rd)
	shown, least, most := rd.Summary()
	h, c := r.lashLook()
	mean := shown.MM()/factor - offset
	if mean > 0.005 {
		_ = r.b.Read(h, c, mean, sd)
	} else {
		_ = r.b.Below(h, -c, sd)
	}
	r.lashReads++
	if len(rd.Lengths) >= 3 {
		r.runoutSeen((most-least).MM() > r.sheet.BacklashSpreadMM+0.01, 0.93)
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
	h, c, sd := r.printLook(rd.How, len(rd.Prints))
	_ = r.b.Read(h, c, sum/float64(len(rd.Prints)), sd)
}

// printLook is the mean height of the prints as a look. The sets of a family do not
// all print at the same height when they are right.
func (r *reasoner) printLook(how string, flanks int) (belief.Look, float64, float64) {
	const setSpread = 0.018 // centre of a right set's print from set to set, and its own housing
	kt := r.gains.PrintHeightPerPinion
	sd := math.Sqrt(sq(sim.EyeStd(how))/float64(flanks) + sq(setSpread))
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
		r.risk[truth.BearingNotched] = math.Max(r.risk[truth.BearingNotched], 0.9)
	}
	h, c, std := r.dragReadLook(rd, v)
	if rd.What == "total-drag" {
		if swings && r.risk[truth.BearingNotched] < 0.5 {
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

// apply moves the visible build and the belief for what an act did.
func (r *reasoner) apply(o sim.Outcome) {
	a := o.Act
	switch a.Form {
	case act.FitDepthShim:
		r.depthShim = r.sheet.DepthShims.Nearest(lengthMM(a, 0))
		if r.pinion != sim.PinionOut {
			// Under the cage: what was read of depth and backlash is of another place.
			r.gaugeReads, r.lashReads = 0, 0
			r.told[act.RollGears] = false
		}
	case act.FitPack:
		r.pack = r.design.Solid.Pack.Nearest(lengthMM(a, 0))
	case act.SpreadHousing:
		r.spread = lengthMM(a, 0)
	case act.TurnBackRing, act.TurnToothRing:
		for _, rd := range o.Readings {
			in := rd.Slots * r.design.Rings.SlotTravelMM()
			if a.Form == act.TurnBackRing {
				r.back += in
			} else {
				r.tooth += in
			}
		}
		r.lashReads = 0
	case act.SlackenCaps:
		r.capsTight = false
	case act.FitSideShims:
		r.back = r.sheet.SideShims.Nearest(lengthMM(a, 0))
		r.tooth = r.sheet.SideShims.Nearest(lengthMM(a, 1))
	case act.FitPinion:
		r.turns, r.gaugeReads, r.lastTorque, r.sincePull, r.backedOff, r.contactFelt = 0, 0, 0, false, false, false
		r.reused = false
		r.told[act.RollGears] = false // a new build's print has to be read once
		if a.Choices[0] == "final" {
			r.pinion, r.packShim = sim.PinionFinal, r.depthShim
			if !r.solid() {
				slope := r.gains.DragPerDegreeNmm
				r.b.Set(dragRow, -r.gains.DegreesToContact*slope, 45*slope)
			}
			r.reused = r.risk[truth.SpacerCrushed] > 0.5
		} else {
			r.pinion, r.turns = sim.PinionTrial, 6
			r.contactFelt = true
			w := r.window()
			r.b.Set(dragRow, w.Mid(), w.Mid()/3)
		}
	case act.RemovePinion:
		if r.pinion == sim.PinionFinal {
			r.risk[truth.SpacerCrushed] = 0
			if !r.solid() {
				r.risk[truth.NutUsed] = 0 // a new pair lies ready
			}
		}
		r.loosened = 0
		r.pinion = sim.PinionOut
	case act.TurnPinion:
		r.turns += a.Amounts[0].Number
	case act.TurnNutAngle:
		r.nutMoved(o, a.Amounts[0].Number)
	case act.TurnNutTorque:
		for _, rd := range o.Readings {
			if rd.What == "nut-angle" {
				r.nutMoved(o, rd.Degrees)
			}
		}
	case act.BackNut:
		if !r.backedOff {
			r.backedOff, r.backDeg = true, 0
		}
		r.backDeg += a.Amounts[0].Number
		r.nutMoved(o, -a.Amounts[0].Number)
	case act.FitCase:
		for _, rd := range o.Readings {
			if rd.What == "case-fit" && rd.Found {
				return
			}
		}
		r.caseIn, r.capsTight, r.lashReads, r.spread, r.ringsUp = true, false, 0, 0, true
	case act.RemoveCase:
		r.caseIn, r.capsTight = false, false
		r.risk[truth.BrakesOn] = 0 // the shafts run in it
	case act.TorqueCaps:
		r.capsTight = true
	case act.SeatCups:
		r.cupsHome()
	case act.SeatCones:
		r.conesHome()
	case act.WashBearings:
		r.risk[truth.PackingGrease] = 0
		r.b.Set(greaseRow, 0, 20)
	case act.ReplaceBearings:
		r.newBearings()
	case act.CleanShimSeat:
		r.seatClean()
	case act.RemoveShafts:
		r.risk[truth.BrakesOn] = 0
	case act.GreaseBearings:
		r.b.Set(greaseRow, assembly.GreaseDragNmm, 150)
	case act.MatchCaps:
		r.risk[truth.CapsSwapped], r.risk[truth.CapTurned] = 0, 0
	case act.ReplaceSeal:
		s := r.card.Family.Model.SealNmm
		r.risk[truth.SealTight] = 0
		r.b.Set(sealRow, (s.Low+s.High)/2, (s.High-s.Low)/math.Sqrt(12))
	case act.ReplaceSpacer:
		r.risk[truth.SpacerCrushed], r.risk[truth.NutUsed] = 0, 0
	case act.CleanRingGear:
		r.risk[truth.DirtBehindGear], r.risk[truth.BoltsUneven] = 0, 0
	case act.ReplaceCase:
		for _, id := range swingers() {
			r.risk[id] = 0
		}
		r.conesHome()
	case act.MeasureDrag:
		if a.Choices[0] == "turning" {
			r.turns += 2
		}
	}
}

// cupsHome: a cup that stood off went in, and took the pinion out by its gap.
func (r *reasoner) cupsHome() {
	if r.risk[truth.HeadCupHigh] == 1 {
		r.headGap, r.cupGaps = amount{}, amount{}
		m, sd := r.shimByCard()
		r.b.Set(shimRow, m, sd)
		r.gauged = false
	}
	r.risk[truth.HeadCupHigh], r.risk[truth.TailCupHigh] = 0, 0
}

// conesHome: cones that stood off went in, and took the ring gear along.
func (r *reasoner) conesHome() {
	back, tooth := r.coneGaps[0], r.coneGaps[1]
	switch {
	case back == 0 && tooth == 0:
	case !r.rings():
		r.setSides(0, 0, 0)
	case r.ringsUp:
		// The rings were run up to cones that have now gone home.
		const feelerSDMM = 0.02
		r.b.Move(splitRow, (back-tooth)/2, feelerSDMM/2)
		r.b.Move(lineRow, back+tooth, feelerSDMM)
	}
	r.coneGaps = [2]float64{}
	r.risk[truth.SideConeHigh], r.risk[truth.ToothConeHigh] = 0, 0
}

// nutMoved carries the drag along with the nut and takes in what the hand felt.
func (r *reasoner) nutMoved(o sim.Outcome, degrees float64) {
	r.turns, r.sincePull = 0, false
	if degrees > 0 && r.backedOff {
		r.backDeg -= degrees
		r.backedOff = r.backDeg >= 0 // past where it was, the spacer crushes on
	}
	if r.solid() {
		r.contactFelt = true
		return // the pack sets the preload, the nut only has to hold
	}
	slope := r.gains.DragPerDegreeNmm
	r.b.Move(dragRow, slope*degrees, 0.15*slope*math.Abs(degrees)+0.5*slope)
	h := belief.Look{dragRow: 1}
	trace := sim.EndPlayTraceMM / r.threadMMPerDegree() * slope
	for _, n := range o.Notes {
		switch {
		case has(n, "plenty of end play"):
			_ = r.b.Below(h, -trace, 0)
		case has(n, "a trace of end play"):
			_ = r.b.Between(h, -trace, 0, 0)
		case has(n, "no end play"):
			_ = r.b.Above(h, 0, 0)
			r.contactFelt = true
		}
	}
}

func (r *reasoner) threadMMPerDegree() float64 { return r.card.Family.Model.ThreadPitchMM / 360 }

func lengthMM(a act.Act, i int) float64 {
	l, _ := a.Amounts[i].Length()
	return l.MM()
}

func has(text, part string) bool { return strings.Contains(text, part) }
