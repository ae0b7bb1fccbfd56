package inference

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"shimwright/grading/belief"
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/assembly"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// The rows of the belief. Lengths in mm, torques in N·mm, gains as a share. What is the
// same in every reading, an instrument's own error, is a row; what is another each time is
// noise.
const (
	shimRow        = iota // depth shim that would be right by the gauge, as it really measures, cups home and seat clean
	markRow               // what the pinion's mark leaves out: no gauge shows it
	innerGapRow           // behind the head cup
	outerGapRow           // behind the tail cup
	dirtRow               // under the depth shim
	slingerRow            // of the pack that an oil slinger left out takes away
	gearRow               // how far away the teeth of a ring gear for another case stand
	lotRow                // what depth shims measure above their marking
	inHandRow             // the depth shim in hand above the others of its lot, and how the pinion went in on it
	tallRow               // set-up bearing above the one that stays
	gaugeRow              // depth gauge's own error
	micRow                // micrometer's own error
	dialRow               // dial indicator's own error
	splitRow              // half difference of the side shims (back less tooth) that puts backlash mid-window at right depth, cones home; rings: how far the gear was away when they were run up
	lineRow               // side-shim total at line-to-line, cones home; rings: the play they were run up with
	ringGearGapRow        // behind the back cone
	oppositeGapRow        // behind the tooth-side cone
	pairRow               // the two side shims in hand together above their markings
	placeRow              // half their difference above that of their markings, and how the case went in on them
	shareRow              // how much more of its interference this housing shows as spread, as a share
	patternRow            // how much higher this set's right print stands, share of the tooth
	wrenchRow             // low-range wrench's gain
	stringRow             // cord and scale's gain
	torqueRow             // bearing drag of the pinion as it stands; below zero: that far from losing its end play
	sealRow               // seal drag
	greaseRow             // drag of grease
	preloadShimRow        // solid spacer: pack for mid-window drag with the old depth shim in, cups home and seat clean
	slopeRow              // how much more drag a degree of nut or a shim of pack gives on this axle, as a share
	riseRow               // how much more the side bearings drag on this axle, as a share
	brakeRow              // drag of shafts and brakes at the pinion
	rows
)

// held is the belief: a belief.Mixture, or one that is followed by something else.
type held interface {
	May(i int, chance float64, slabs ...belief.Slab) belief.Switch
	Aside(s belief.Switch)
	Settle(s belief.Switch, there bool)
	Forget(s belief.Switch)
	Chance(s belief.Switch) float64
	Read(h belief.Look, c, y, sd float64, from ...belief.Noise) error
	Above(h belief.Look, limit, sd float64) error
	Below(h belief.Look, limit, sd float64) error
	Between(h belief.Look, low, high, sd float64) error
	Move(i int, d, sd float64)
	Set(i int, mean, sd float64)
	Add(i int, h belief.Look)
	Mean(i int) float64
	SD(i int) float64
	Of(h belief.Look) (mean, sd float64)
	Narrowed(want, h belief.Look, sd float64) (left, shift float64)
	Chances(h belief.Look, sd float64) []belief.Chance
}

// A Tracker walks through a job, believing what its readings warrant. The status of the axle
// as it stands is part of it.
type Tracker struct {
	history.Status
	card   scenarios.Card
	design family.Design
	sheet  family.Sheet
	gains  sim.Gains
	b      held
	may    map[fault.ID]belief.Switch // faults that the belief weighs by every reading
	risk   map[fault.ID]float64       // chance that the fault is still in the axle

	// The status in mm.
	depthShim   float64
	shims       float64
	back, tooth float64 // shims, or how far the adjusters are in since they were run up
	spread      float64 // how far a spreader stands open

	preloadShimsRead bool    // what preload shims give has been read
	loosened         float64 // chance that the previous technician backed the nut off
	opened           bool    // the pinion of the previous technician has been out
	rocks            bool    // the pinion was turned last and had end play
}

// stand takes in how the axle stands.
func (t *Tracker) stand(st history.Status) {
	if st.Pinion == "" {
		st.Pinion = history.PinionOut // a bare housing
	}
	t.Status = st
	t.depthShim, t.shims, t.spread = st.DepthShim.MM(), st.PreloadShims.MM(), st.Spread.MM()
	t.back, t.tooth = st.RingGearShim.MM(), st.OppositeShim.MM()
	if t.rings() {
		travel := t.design.Rings.NotchTravelMM()
		t.back, t.tooth = st.RingGearNotches*travel, st.OppositeNotches*travel
	}
}

// New begins with what the card discloses, and with what was done and read before the job was
// handed out. gains are sim.NominalGains of the card's family and bearings.
func New(card scenarios.Card, gains sim.Gains) *Tracker {
	t := &Tracker{card: card, design: card.Family.Design, sheet: card.Family.Sheet, gains: gains, risk: map[fault.ID]float64{}}
	for _, f := range fault.For(card.Family.Design) {
		t.risk[f.ID] = card.RateOf(f.ID)
		if t.previousTechnician() && !f.Outlasts {
			t.risk[f.ID] *= t.mistakeRate("nothing-inspected")
		}
	}
	t.stand(history.Status{})
	t.b = belief.Mix(t.prior())
	t.mayCarry()
	t.takeOver()
	return t
}

// Clone returns an independent copy.
func (t *Tracker) Clone() *Tracker {
	c := *t
	if m, ok := t.b.(*belief.Mixture); ok {
		c.b = m.Clone()
	}
	c.may, c.risk = maps.Clone(t.may), maps.Clone(t.risk)
	return &c
}

func (t *Tracker) solid() bool { return t.design.Preload == family.SolidSpacer }
func (t *Tracker) rings() bool { return t.design.SideAdjust == family.BearingAdjusters }

// prior is what the card discloses of an axle without a fault: the spreads that it was
// drawn with.
func (t *Tracker) prior() *belief.Gaussian {
	mean, sd := make([]float64, rows), make([]float64, rows)
	k, m := t.card.Known, t.card.Family.Model
	for _, row := range []int{gaugeRow, micRow, wrenchRow, stringRow} {
		sd[row] = t.ownSD(row)
	}
	step := t.sheet.DepthShims.StepMM
	mean[shimRow] = k.StarterShim().MM()
	sd[shimRow] = math.Sqrt(sq(scenarios.OldBuildSDMM) + sq(scenarios.BearingHeightSDMM) + sq(step)/12)
	if !t.card.UsedGears {
		sd[markRow] = scenarios.MarkSD(t.sheet) // else what is off in the pinion is in the old build already
	}
	sd[inHandRow] = sim.ShimScatterMM
	sd[tallRow] = scenarios.SetUpBearingSDMM
	if t.rings() {
		away, play := scenarios.RingAwayMM, scenarios.RingPlayMM
		mean[splitRow], sd[splitRow] = away.Mid(), evenSD(away)
		mean[lineRow], sd[lineRow] = play.Mid(), evenSD(play)
		sd[placeRow] = sim.RefitMM
	} else {
		back, tooth, step := k.OldRingGearShim.MM(), k.OldOppositeShim.MM(), t.sheet.SideShims.StepMM
		mean[splitRow], sd[splitRow] = (back-tooth)/2, math.Sqrt(sq(scenarios.OldSplitSDMM)+sq(step)/24)
		mean[lineRow], sd[lineRow] = back+tooth-t.sheet.SidePreload.Mid(), math.Sqrt(sq(scenarios.OldTotalSDMM)+sq(step)/6)
		sd[pairRow], sd[placeRow] = math.Sqrt2*sim.ShimScatterMM, math.Hypot(sim.ShimScatterMM/math.Sqrt2, sim.RefitMM)
	}
	sd[shareRow] = t.gains.SpreadPerFitSD / t.gains.SpreadPerFit
	sd[patternRow], sd[slopeRow], sd[riseRow] = technician.PatternSetSD, slopeSD, riseSD
	mean[sealRow], sd[sealRow] = m.SealNmm.Mid(), evenSD(m.SealNmm)
	if t.solid() {
		step := t.design.Solid.PreloadShims.StepMM
		mean[preloadShimRow], sd[preloadShimRow] = k.OldPreloadShims.MM(), math.Sqrt(sq(scenarios.OldPreloadShimsSDMM)+sq(step)/12)
	}
	return belief.New(mean, sd)
}

// ownSD is how far an instrument's own fixed error lies from none, as a standard deviation,
// given its row.
func (t *Tracker) ownSD(row int) float64 {
	c, _ := gauge.ClassOf(map[int]gauge.Tool{gaugeRow: gauge.DepthGauge, micRow: gauge.Micrometer,
		wrenchRow: gauge.LowRangeWrench, stringRow: gauge.StringAndScale}[row])
	return (c.Offset + c.Gain) / math.Sqrt(3)
}

// Spreads from axle to axle, standard deviations (common practice, no source).
const (
	slopeSD = 0.12 // drag per degree of nut or shim of pack, axle to axle: friction in the bearings and the stiffness about them
	riseSD  = 0.11 // drag of the side bearings, axle to axle: friction again, and the pedestals
)

// mayCarry adds the faults that readings tell of, as often and as large as the card and the
// catalogue say.
func (t *Tracker) mayCarry() {
	t.may = map[fault.ID]belief.Switch{}
	// Of a backlash that has been read, the dial's own error is most of what is not known, and
	// it is evenly spread: a law of its own, and no normal one.
	dial, _ := gauge.ClassOf(gauge.DialIndicator)
	t.b.May(dialRow, 1, belief.Even(-dial.Offset, dial.Offset, 3)...)
	movers := slices.DeleteFunc(fault.All(), func(f fault.Fault) bool { return f.Belief.Moves == fault.Nothing || t.risk[f.ID] == 0 })
	slices.SortStableFunc(movers, func(a, b fault.Fault) int { return cmp.Compare(a.Belief.Moves, b.Belief.Moves) })
	for _, f := range movers {
		row, per := t.rowOf(f.Belief.Moves)
		low, high := f.Size.Of(t.sheet)
		slab := func(sign float64) belief.Slab {
			return belief.Slab{Mean: sign * per * (low + high) / 2, SD: per * (high - low) / math.Sqrt(12)}
		}
		sizes := []belief.Slab{slab(1)}
		if f.Belief.EitherWay {
			sizes = append(sizes, slab(-1))
		}
		t.may[f.ID] = t.b.May(row, t.risk[f.ID], sizes...)
	}
	for _, f := range movers {
		if f.Belief.Apart { // prices are of an axle with or without it
			t.b.Aside(t.may[f.ID])
		}
	}
}

// rowOf returns the row that a quantity stands in, and what a unit of a fault's size is worth
// there.
func (t *Tracker) rowOf(q fault.Quantity) (row int, per float64) {
	switch q {
	case fault.InnerCupGap:
		return innerGapRow, 1
	case fault.OuterCupGap:
		return outerGapRow, 1
	case fault.UnderShim:
		return dirtRow, 1
	case fault.SlingerMissing:
		return slingerRow, 1
	case fault.RingGearPlace:
		return gearRow, 1
	case fault.GaugeError:
		return gaugeRow, 1
	case fault.ShimLot:
		return lotRow, 1
	case fault.SetUpHeight:
		return tallRow, 1
	case fault.RingGearConeGap:
		return ringGearGapRow, 1
	case fault.OppositeConeGap:
		return oppositeGapRow, 1
	case fault.SideTotal:
		return lineRow, 1
	case fault.WrenchGain:
		return wrenchRow, 1
	case fault.StringGain:
		return stringRow, 1
	case fault.SealDrag:
		return sealRow, 1
	case fault.BrakeDrag:
		return brakeRow, 1 / (t.sheet.Ratio() * t.card.Family.Model.MeshEfficiency)
	case fault.GreaseDrag:
		return greaseRow, assembly.GreaseDragNmm
	}
	return noRow, 0 // it only makes readings scatter
}

// noRow stands for no row: a fault that makes readings scatter.
const noRow = -1

// reweigh keeps what the readings say of the faults that they tell of.
func (t *Tracker) reweigh() {
	for id, s := range t.may {
		t.risk[id] = t.b.Chance(s)
	}
}

// takeOver begins where the trainee does: with what was done and read before them, or with
// another hand's finished axle, whose readings nobody can vouch for.
func (t *Tracker) takeOver() {
	for _, o := range t.card.Before {
		t.Learn(o)
	}
	t.stand(t.card.Start)
	if !t.previousTechnician() {
		return
	}
	// Most hands set most things right: each is believed near the middle of its window,
	// with room for one that is not.
	const room = 1.5 // half windows
	w, sides, lash := t.spec(), t.sheet.SidePreload, t.sheet.Backlash
	if t.solid() {
		h, c := t.torqueLook()
		_ = t.b.Read(h, c, w.Mid(), room*w.Half())
	} else {
		t.b.Set(torqueRow, w.Mid(), room*w.Half())
	}
	h, c := t.fitLook(t.back, t.tooth)
	_ = t.b.Read(h, c, sides.Mid(), room*sides.Half())
	h, c = t.lashLook()
	_ = t.b.Read(h, c, lash.Mid(), room*lash.Half())
	t.loosened = t.mistakeRate("backed-off")
}

// handBefore tells whether the axle was finished by another hand.
func (t *Tracker) previousTechnician() bool { return t.card.Kind == scenarios.PreviousWork }

// mistakeRate is the disclosed chance that the previous technician made a mistake.
func (t *Tracker) mistakeRate(id string) float64 {
	for _, rate := range t.card.Mistakes {
		if rate.ID == id {
			return rate.Rate
		}
	}
	return 0
}

func sq(x float64) float64 { return x * x }

// evenSD is the standard deviation of an even spread.
func evenSD(f family.Range) float64 { return (f.High - f.Low) / math.Sqrt(12) }

// deeper is 1 where a thicker depth shim brings the pinion in, else -1.
func (t *Tracker) deeper() float64 {
	if t.design.ThickerIsDeeper() {
		return 1
	}
	return -1
}

// Combinations of the belief's rows.

// rightShim is the depth shim that would be right in this axle as it stands: a cup that
// stands off and dirt under the shim put the pinion elsewhere.
func (t *Tracker) rightShim() belief.Look {
	return belief.Look{shimRow: 1, markRow: 1, innerGapRow: -t.deeper(), dirtRow: -1, slingerRow: 1}
}

// wantedShim is the depth shim that would be right by its marking.
func (t *Tracker) wantedShim() belief.Look {
	return t.rightShim().Plus(-1, belief.Look{lotRow: 1, inHandRow: 1})
}

// tooFarOut is the pinion's distance too far out as a look with its constant, mm.
func (t *Tracker) tooFarOut() (h belief.Look, c float64) {
	d := t.deeper()
	return t.wantedShim().Times(d), t.givenMM() - d*t.depthShim
}

// givenMM is how far the head bearing lets the pinion out under its preload as it stands,
// less what it does where the pinion's place is defined, mm.
func (t *Tracker) givenMM() float64 {
	head, ref := t.card.Family.Model.Inner, t.gains.ReferencePreloadN
	n := t.gains.PreloadAtTargetN
	switch t.Pinion {
	case history.PinionMockUp:
		n = sim.MockUpPreloadShare * ref
	case history.PinionFinal:
		m, _ := t.torque()
		n *= math.Max(m, 0) / t.spec().Mid()
	}
	return head.DeflectionMM(n) - head.DeflectionMM(ref)
}

// depthError is how much thicker the depth shim ought to be than the given marked
// one, mm: the pinion's distance too far out.
func (t *Tracker) depthError(markedMM float64) (mean, sd float64) {
	mean, sd = t.b.Of(t.wantedShim())
	return mean + t.deeper()*t.givenMM() - markedMM, sd
}

// fitLook is the side interference of a pair of shims, or of two rings, as a look with its
// constant. Rings are run up to wherever the cones stand.
func (t *Tracker) fitLook(back, tooth float64) (h belief.Look, c float64) {
	return t.lineTotal().Times(-1).Plus(1, belief.Look{pairRow: 1}), back + tooth
}

// lineTotal is the side-shim total at line-to-line in this axle as it stands.
func (t *Tracker) lineTotal() belief.Look {
	if t.rings() {
		return belief.Look{lineRow: 1}
	}
	return belief.Look{lineRow: 1, ringGearGapRow: -1, oppositeGapRow: -1}
}

// fit is the side interference of a pair, mm.
func (t *Tracker) fit(back, tooth float64) (mean, sd float64) {
	h, c := t.fitLook(back, tooth)
	mean, sd = t.b.Of(h)
	return mean + c, sd
}

// lash is the mean backlash a pair would give, mm.
func (t *Tracker) lash(back, tooth float64) (mean, sd float64) {
	h, c := t.lashWith(back, tooth)
	mean, sd = t.b.Of(h)
	return mean + c, sd
}

// lashLook is the backlash of the build as it stands, as a look with its constant.
func (t *Tracker) lashLook() (h belief.Look, c float64) { return t.lashWith(t.back, t.tooth) }

func (t *Tracker) lashWith(back, tooth float64) (h belief.Look, c float64) {
	kg, kp := t.gains.BacklashPerRing, t.gains.BacklashPerPinion
	out, c := t.tooFarOut()
	return t.evenSplit().Plus(-1, belief.Look{placeRow: 1}).Times(kg).Plus(kp, out), kp*c + t.sheet.Backlash.Mid() - kg*(back-tooth)/2
}

// evenSplit is the half difference of the side shims that puts backlash mid-window at right
// depth in this axle as it stands.
func (t *Tracker) evenSplit() belief.Look {
	if t.rings() {
		return belief.Look{splitRow: 1, gearRow: 1, lineRow: -0.5}
	}
	return belief.Look{splitRow: 1, gearRow: 1, ringGearGapRow: -0.5, oppositeGapRow: 0.5}
}

// rightPack is the pack of a solid spacer that would be right with the old depth shim in
// this axle as it stands: a cup off its shoulder takes up play, and so does what is too
// thick behind one.
func (t *Tracker) rightPreloadShims() belief.Look {
	h := belief.Look{preloadShimRow: 1, innerGapRow: 1, outerGapRow: 1}
	if t.design.DepthShim == family.BehindInnerCup {
		h[lotRow], h[inHandRow], h[dirtRow], h[slingerRow] = 1, 1, 1, -1
	}
	return h
}

// dragLook is the drag of the pinion bearings as the build stands, as a look with its
// constant. A solid spacer's drag is its pack's, with the nut at its torque.
func (t *Tracker) torqueLook() (h belief.Look, c float64) {
	if !t.solid() || t.Pinion != history.PinionFinal {
		return belief.Look{torqueRow: 1}, 0
	}
	k := t.gains.TorquePerPreloadShimNmmPerMM
	c = t.spec().Mid() - k*t.shims
	if t.design.DepthShim == family.BehindInnerCup {
		// The shim drives the cups apart by as much as it is thicker than the old one.
		c += k * (t.depthShim - t.card.Known.OldDepthShim.MM())
	}
	return t.rightPreloadShims().Times(k), c
}

func (t *Tracker) torque() (mean, sd float64) {
	h, c := t.torqueLook()
	mean, sd = t.b.Of(h)
	return mean + c, sd
}

func (t *Tracker) spec() family.TorqueSpec { return t.sheet.PinionTorque(t.card.UsedBearings) }
