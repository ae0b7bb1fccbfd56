package grading

import (
	"math"
	"slices"

	"shimwright/grading/belief"
	"shimwright/grading/cost"
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
	gearAway    float64 // how far away the teeth of a ring gear for another case stand, as read
	reused      bool    // the spacer in the build was seen to be crushed before
	loosened    float64 // chance that the hand before backed the nut off
	asFound     bool    // the case has not been out since the hand before put it in
	opened      bool    // the pinion of the hand before has been out
	contactFelt bool    // the nut has been taken past end play in this build
}

func newReasoner(costs cost.Table, card scenarios.Card, gains sim.Gains, units quantity.System) *reasoner {
	r := &reasoner{prices: prices{card.Family.Design, costs}, card: card, sheet: card.Family.Sheet, gains: gains, w: words{units},
		risk: map[truth.FaultID]float64{}, late: map[truth.FaultID]float64{}, told: map[act.Form]bool{},
		left: map[truth.FaultID]bool{}, pinion: sim.PinionOut, packShim: card.Known.OldDepthShim.MM()}
	size := map[truth.FaultID][2]float64{} // mean and mean square of the effect, chance included
	for _, f := range fault.For(card.Family.Design) {
		rate := card.RateOf(f.Name)
		r.risk[f.ID], r.late[f.ID] = rate, costs.LateMin(f.ID)
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
	mean[gaugeRow] = size[truth.GaugeOff][0]
	sd[gaugeRow] = math.Sqrt(sq(dg.Offset)/3 + variance(truth.GaugeOff))
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

// without tells whether an act cannot be done at this bench.
func (r *reasoner) without(f act.Form) bool {
	return slices.Contains(r.card.Known.Off, sim.LeftOff{Form: f})
}

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
	return h, kp*c + r.sheet.Backlash.Mid() + kg*(r.gearAway-(back-tooth)/2)
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
