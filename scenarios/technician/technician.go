package technician

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// A Bench is what the hand works at.
type Bench interface {
	Do(act.Act) (history.Step, error)
	Status() history.Status
}

// Known is what the job card tells about the axle.
type Known struct {
	Sheet                            family.Sheet
	Design                           family.Design
	From, To                         Stage // where the job begins and where it ends
	UsedBearings, UsedGears          bool
	RingDiameter                     quantity.Length
	OldDepthShim                     quantity.Length
	OldMark, NewMark                 quantity.Length
	OldPreloadShims                  quantity.Length // solid spacer
	OldRingGearShim, OldOppositeShim quantity.Length // no rings
	Off                              []sim.LeftOff   // what the bench does without
	NewBacklash                      family.Spec     // what the sheet has, or had, for a new set

	// What moves which reading on this family, 0 where only the usual figure is known.
	BacklashPerTravel float64 // share of the ring gear's travel that shows as backlash
	BacklashPerPinion float64 // share of the pinion's travel that shows as backlash
	PatternPerMM      float64 // climb of the pattern for a pinion 1 mm farther out, share of the tooth
}

// The usual figures, where a family's own are not known.
const (
	// A manual moves the gear 0.010 in for 0.005 to 0.008 in (TM 9-2320-289-34, table 6-1).
	UsualPerTravel = 0.7
	usualPerPinion = 0.35 // estimate of this model
	// A larger tooth is climbed more slowly: what the tooth model gives, mean of both sides.
	usualClimb, climbAtMM = 0.56, 216.0
)

// PerTravel is the share of the ring gear's travel that shows as backlash.
func (k Known) PerTravel() float64 { return cmp.Or(k.BacklashPerTravel, UsualPerTravel) }

// PerPinion is the share of the pinion's travel that shows as backlash.
func (k Known) PerPinion() float64 { return cmp.Or(k.BacklashPerPinion, usualPerPinion) }

// PatternClimb is how far the pattern climbs the tooth for a pinion 1 mm farther out, as a
// share of its height, mean of both sides.
func (k Known) PatternClimb() float64 {
	return cmp.Or(k.PatternPerMM, usualClimb*climbAtMM/k.RingDiameter.MM())
}

// StarterShim returns the depth shim that the old shim and the two marks lead to;
// without marks, the old shim.
func (k Known) StarterShim() quantity.Length {
	if !k.Sheet.Marks.Known() {
		return k.OldDepthShim
	}
	return quantity.Millimetres(setup.DepthShimMM(k.Sheet.Marks, k.OldDepthShim.MM(), k.OldMark.MM(), k.NewMark.MM()))
}

// StarterPack returns the pack that goes with a depth shim: the old one, which a shim
// behind the head cup takes along.
func (k Known) StarterPreloadShims(depthShim quantity.Length) quantity.Length {
	if k.Design.DepthShim != family.BehindInnerCup {
		return k.OldPreloadShims
	}
	return k.OldPreloadShims + depthShim - k.OldDepthShim
}

// WantedHeight returns the head height the gauge should show for the new pinion.
func (k Known) WantedDistance() quantity.Length {
	return quantity.Millimetres(k.Sheet.CheckingDistanceMM + k.Sheet.Marks.OutForMarkMM(k.NewMark.MM()))
}

// DragWindow returns the rotating-torque window of the pinion with its seal in:
// the sheet's window moved up by the middle of the seal's.
func (k Known) PinionTorqueSpec() family.TorqueSpec {
	w, seal := k.Sheet.PinionTorque(k.UsedBearings), k.Sheet.SealDrag.Mid()
	return family.TorqueSpec{LowNmm: w.LowNmm + seal, HighNmm: w.HighNmm + seal}
}

// Habits are the ways hands differ.
type Habits struct {
	SignsTurned   bool // every plus taken for a minus
	NeverMeasures bool // old shims and a nut torque, then sign off
	WrongMoveOnce bool // the first backlash correction goes the wrong way
	Say           func(why string)
}

// Competent returns the habits of a careful hand.
func Competent() Habits { return Habits{} }

type worker struct {
	bench          Bench
	k              Known
	h              Habits
	err            error
	trustWrench    bool
	crossed        bool    // wrench and cord have been compared
	setUpTall      float64 // mm, measured
	wrongDone      bool
	fitted         bool // the case is in with its caps torqued and nothing read of the backlash
	gearOK         bool // nothing more to do about a gear that swings
	gearCleaned    bool
	gearCured      bool    // and its face not read again since
	lineMM         float64 // side-shim total at line-to-line, 0 unknown
	torque         float64 // last pinion drag, N·mm
	perDegree      float64 // what a degree of the nut was worth, N·mm, 0 unknown
	perPreloadShim float64 // what a millimetre of pack was worth, N·mm, 0 unknown
	depthShim      float64 // marked, mm
	back, tooth    float64 // rings: slots in since they were run up
	lash           float64 // mean of the last backlash reading, mm
	face           float64 // back-face runout as read last, mm
	faceRead       bool
	height         float64 // of the contact pattern as read last, mean of drive and coast, 0 root to 1 top
	split          float64 // half difference of the side shims as it was left, mm
	splitSet       bool
	gaugedDepth    bool    // this hand has
	away           float64 // how far the ring gear has to follow another depth, mm away from the pinion
	done           memory  // of work that this hand goes on with
}

func (w *worker) say(format string, args ...any) {
	if w.h.Say != nil && w.err == nil {
		w.h.Say(fmt.Sprintf(format, args...))
	}
}

func (w *worker) do(f act.Form, rest ...any) history.Step {
	if w.err != nil {
		return history.Step{}
	}
	if w.without(f) {
		return history.Step{}
	}
	a := act.Act{Form: f}
	for _, r := range rest {
		switch v := r.(type) {
		case act.Option:
			a.Choices = append(a.Choices, v)
		case quantity.Entered:
			a.Amounts = append(a.Amounts, v)
		default:
			panic(fmt.Sprintf("technician: %T is neither an option nor an amount of %s", r, f))
		}
	}
	out, err := w.bench.Do(a)
	if err != nil {
		w.err = fmt.Errorf("%s: %w", a, err)
	}
	return out
}

// sign turns a correction round for a hand that takes plus for minus.
func (w *worker) sign() float64 {
	if w.h.SignsTurned {
		return -1
	}
	return 1
}

func inches(mm float64) quantity.Entered {
	tenths := math.Round(quantity.Millimetres(mm).Thou() * 10)
	return quantity.Entered{Number: tenths / 10000, Unit: quantity.UnitInch}
}

// size says a stocked size in the unit its shelf is kept in.
func size(stock family.Stock, mm float64) quantity.Entered {
	const sameMM = 1e-6
	if n := stock.StepMM / quantity.Thou(1).MM(); math.Abs(n-math.Round(n)) < sameMM {
		return inches(mm)
	}
	return quantity.Entered{Number: math.Round(mm*1000) / 1000, Unit: quantity.UnitMM}
}

func (w *worker) depthSize(mm float64) quantity.Entered { return size(w.k.Sheet.DepthShims, mm) }
func (w *worker) sideSize(mm float64) quantity.Entered  { return size(w.k.Sheet.SideShims, mm) }

func (w *worker) solid() bool { return w.k.Design.Preload == family.SolidSpacer }
func (w *worker) rings() bool { return w.k.Design.SideAdjust == family.BearingAdjusters }

// deeper is the sense of the depth shim: 1 where a thicker one brings the pinion in.
func (w *worker) deeper() float64 {
	if w.k.Design.ThickerIsDeeper() {
		return 1
	}
	return -1
}

// NutTorque is a nut torque as a specification sheet has it.
func NutTorque(t quantity.Torque) quantity.Entered {
	return quantity.Entered{Number: math.Round(t.FootPounds()/5) * 5, Unit: quantity.UnitFootLb}
}

func nutTorque(nmm float64) quantity.Entered { return NutTorque(quantity.Torque(nmm)) }

func count(n float64, u quantity.Unit) quantity.Entered { return quantity.Entered{Number: n, Unit: u} }

func firstLength(o history.Step) float64 {
	for _, r := range o.Readings {
		if len(r.Lengths) > 0 {
			return r.Lengths[0].MM()
		}
	}
	return 0
}

// blind fits what came out, tightens to a number and signs; what was there before it is
// signed for as it is.
func (w *worker) blind() {
	from, to := w.k.From, w.k.end()
	if from < DepthSet {
		w.do(act.FitDepthShim, w.depthSize(w.k.Sheet.DepthShims.Nearest(w.k.OldDepthShim.MM())))
	}
	if from < PreloadSet && to >= PreloadSet {
		if w.solid() {
			w.do(act.FitPreloadShims, size(w.k.Design.Solid.PreloadShims, w.k.OldPreloadShims.MM()))
		}
		w.do(act.FitPinion, act.Final)
		w.do(act.TightenNutTorque, nutTorque(w.k.Sheet.NutMid().Nmm()))
	}
	if from < SidesSet && to >= SidesSet {
		w.blindSides()
	}
	w.do(act.SignOff)
}

func (w *worker) blindSides() {
	if w.rings() {
		w.do(act.FitCase)
		w.do(act.TurnOppositeAdjuster, act.In, count(3, quantity.UnitTurn))
	} else {
		// What does not go in is made thinner on the easy side until it does.
		sh, tooth := w.k.Sheet, w.k.OldOppositeShim.MM()
		for range 20 {
			w.do(act.FitSideShims, w.sideSize(w.k.OldRingGearShim.MM()), w.sideSize(tooth))
			w.spread()
			if !w.do(act.FitCase).Wrong() {
				break
			}
			tooth = sh.SideShims.Nearest(tooth - 3*sh.SideShims.StepMM)
		}
	}
	w.do(act.TorqueCaps)
}

// spread opens a housing that takes a spreader, well inside its limit.
func (w *worker) spread() {
	if w.k.Design.Entry == family.Spreader {
		const share = 0.85
		w.do(act.SpreadHousing, inches(share*w.k.Sheet.SpreadLimitMM))
	}
}

// inspect looks at everything that is cheap to look at before it is built in, between two
// stages of the job.
func (w *worker) inspect(from, to Stage) {
	depth, preload, sides := from < DepthSet, from < PreloadSet && to > DepthSet, from < SidesSet && to > PreloadSet
	// A hand that goes on finds some of it built in already.
	st := w.bench.Status()
	depth, preload, sides = depth && st.Pinion == history.PinionOut, preload && st.Pinion == history.PinionOut, sides && !st.CaseIn
	if depth || preload || sides {
		w.say("First a look at what would cost a teardown if it were found later.")
	}
	look := func(stage bool, look, cure act.Form) {
		switch {
		case !stage || w.done.settled[look]:
		case w.without(look) && freeOfParts(cure):
			w.do(cure)
		default:
			w.cure(w.do(look), cure)
		}
	}
	look(depth, act.InspectCups, act.SeatCups)
	if depth && !w.done.settled[act.InspectShimSeat] {
		w.shimSeat()
	}
	if depth && !w.k.UsedGears {
		w.gears()
	}
	if preload && !w.done.settled[act.InspectBearings] {
		w.bearings()
	}
	look(preload && !w.solid(), act.InspectSpacer, act.ReplaceSpacer)
	look(preload, act.InspectSeal, act.ReplaceSeal)
	look(sides, act.InspectCones, act.SeatCones)
	look(sides, act.InspectCaps, act.MatchCaps)
	look(sides, act.InspectBolts, act.CleanRingGear)
	if depth && !w.done.settled[act.MeasureBearings] {
		w.setUpTall = firstLength(w.do(act.MeasureBearings))
	}
	if depth && !w.done.settled[act.TestGauge] && !w.without(act.MeasureDepth) {
		w.do(act.TestGauge)
	}
}

// cure does what the findings of an inspection call for: each once, and the usual cure for
// those that ask for no other.
func (w *worker) cure(out history.Step, usual act.Form) {
	var done []act.Form
	for _, r := range out.Readings {
		cure, ok := fault.CureOf(r.Finding)
		if !ok {
			cure = usual
		}
		if r.Wrong() && !slices.Contains(done, cure) {
			w.do(cure)
			done = append(done, cure)
		}
	}
}

// shimSeat looks at the seat of the depth shim: for dirt, and for the slinger.
func (w *worker) shimSeat() {
	if w.without(act.InspectShimSeat) {
		w.do(act.CleanShimSeat)
		return
	}
	out := w.do(act.InspectShimSeat)
	if out.Found(gauge.SeatDirty) {
		w.do(act.CleanShimSeat)
	}
	if out.Found(gauge.SlingerMissing) {
		w.do(act.ReplaceSlinger)
	}
}

// gears looks whether ring and pinion are one set, for this case, and the pinion straight.
func (w *worker) gears() {
	if !w.done.settled[act.InspectGears] && w.do(act.InspectGears).Wrong() {
		w.say("Not a set that this axle can run on. Another, before anything is measured on it.")
		w.do(act.ReplaceGears)
		return
	}
	if !w.done.settled[act.MeasurePinionRunout] && firstLength(w.do(act.MeasurePinionRunout)) > fault.PinionRunoutLimitMM(w.k.Sheet) {
		w.say("The pinion is bent, and no pinion is straightened: another set.")
		w.do(act.ReplaceGears)
	}
}

// bearings looks at the pinion bearings, and once more when grease has come off them.
func (w *worker) bearings() {
	if w.without(act.InspectBearings) {
		w.do(act.WashBearings)
		return
	}
	for range 2 {
		switch out := w.do(act.InspectBearings); {
		case out.Found(gauge.BearingsGreased, gauge.RollersGritty):
			w.do(act.WashBearings)
		case out.Found(gauge.RaceDented):
			w.say("A dented track: another pair of bearings, before anything is measured on them.")
			w.do(act.ReplaceBearings)
			return
		default:
			return
		}
	}
}

func meanLength(o history.Step) float64 {
	sum, n := 0.0, 0
	for _, r := range o.Readings {
		for _, l := range r.Lengths {
			sum, n = sum+l.MM(), n+1
		}
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

// OtherUnit is what a depth mark grows by when it is read in the other unit: marks are in
// hundredths of a millimeter or in thousandths of an inch, as the depth shims are.
func (k Known) OtherUnit() float64 {
	const mmPerHundredth, near = 2.54, 0.1
	if thou := k.Sheet.DepthShims.StepMM / quantity.Thou(1).MM(); math.Abs(thou-1) < near {
		return 1 / mmPerHundredth
	}
	return mmPerHundredth
}
