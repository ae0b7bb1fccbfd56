package hand

import (
	"fmt"
	"math"
	"strings"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
)

// A Bench is what the hand works at.
type Bench interface {
	Do(act.Act) (sim.Outcome, error)
	Status() sim.Status
}

// Known is what the job card tells about the axle.
type Known struct {
	Sheet                     family.Sheet
	Design                    family.Design
	UsedBearings, UsedGears   bool
	RingDiameter              quantity.Length
	OldDepthShim              quantity.Length
	OldMark, NewMark          quantity.Length
	OldPack                   quantity.Length // solid spacer
	OldBackShim, OldToothShim quantity.Length // no rings
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
func (k Known) StarterPack(depthShim quantity.Length) quantity.Length {
	if k.Design.DepthShim != family.BehindHeadCup {
		return k.OldPack
	}
	return k.OldPack + depthShim - k.OldDepthShim
}

// WantedHeight returns the head height the gauge should show for the new pinion.
func (k Known) WantedHeight() quantity.Length {
	return quantity.Millimetres(k.Sheet.HeadHeightMM + k.Sheet.Marks.OutForMarkMM(k.NewMark.MM()))
}

// DragWindow returns the rotating-torque window of the pinion with its seal in:
// the sheet's window moved up by the middle of the seal's.
func (k Known) DragWindow() family.TorqueWindow {
	w, seal := k.Sheet.PinionDrag(k.UsedBearings), k.Sheet.SealDrag.Mid()
	return family.TorqueWindow{LowNmm: w.LowNmm + seal, HighNmm: w.HighNmm + seal}
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

// BacklashPerTravel is the part of the ring gear's travel that shows as backlash,
// as a hand counts it: a manual moves the gear 0.010 in for 0.005 to 0.008 in
// (TM 9-2320-289-34, table 6-1).
const BacklashPerTravel = 0.7

// printPerMM is how far the print's centre climbs the tooth, as a share of its height,
// for a pinion 1 mm further out, on a ring gear of printAtMM diameter: what the tooth
// model gives, mean of both flanks. A larger tooth is climbed more slowly.
const (
	printPerMM = 0.56
	printAtMM  = 216.0
)

// Work does the job. The error is the first act the bench could not carry out, or
// says that the hand gave up; the bench keeps all that was done.
func Work(b Bench, k Known, h Habits) error {
	w := &worker{bench: b, k: k, h: h, trustWrench: true}
	if h.NeverMeasures {
		w.blind()
	} else {
		w.job()
	}
	return w.err
}

type worker struct {
	bench       Bench
	k           Known
	h           Habits
	err         error
	trustWrench bool
	crossed     bool    // wrench and cord have been compared
	setUpTall   float64 // mm, measured
	wrongDone   bool
	fitted      bool    // the case is in with its caps torqued and nothing read of the backlash
	lineMM      float64 // side-shim total at line-to-line, 0 unknown
	drag        float64 // last pinion drag, N·mm
	perDegree   float64 // what a degree of the nut was worth, N·mm, 0 unknown
	perPack     float64 // what a millimetre of pack was worth, N·mm, 0 unknown
	depthShim   float64 // marked, mm
	back, tooth float64 // rings: slots in since they were run up
	lash        float64 // mean of the last backlash reading, mm
}

func (w *worker) say(format string, args ...any) {
	if w.h.Say != nil && w.err == nil {
		w.h.Say(fmt.Sprintf(format, args...))
	}
}

func (w *worker) do(f act.Form, rest ...any) sim.Outcome {
	if w.err != nil {
		return sim.Outcome{}
	}
	a := act.Act{Form: f}
	for _, r := range rest {
		switch v := r.(type) {
		case string:
			a.Choices = append(a.Choices, v)
		case quantity.Entered:
			a.Amounts = append(a.Amounts, v)
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
func (w *worker) rings() bool { return w.k.Design.SideAdjust == family.ThreadedRings }

// deeper is the sense of the depth shim: 1 where a thicker one brings the pinion in.
func (w *worker) deeper() float64 {
	if w.k.Design.ThickerIsDeeper() {
		return 1
	}
	return -1
}

// nutTorque says a nut torque as the sheet would.
func nutTorque(nmm float64) quantity.Entered {
	return quantity.Entered{Number: math.Round(quantity.Torque(nmm).FootPounds()/5) * 5, Unit: quantity.UnitFootLb}
}

func count(n float64, u quantity.Unit) quantity.Entered { return quantity.Entered{Number: n, Unit: u} }

func found(o sim.Outcome) bool {
	for _, r := range o.Readings {
		if r.Found {
			return true
		}
	}
	return false
}

func observed(o sim.Outcome, words string) bool {
	for _, r := range o.Readings {
		if strings.Contains(r.Observed, words) {
			return true
		}
	}
	return false
}

func noted(o sim.Outcome, words string) bool {
	for _, n := range o.Notes {
		if strings.Contains(n, words) {
			return true
		}
	}
	return false
}

func firstLength(o sim.Outcome) float64 {
	for _, r := range o.Readings {
		if len(r.Lengths) > 0 {
			return r.Lengths[0].MM()
		}
	}
	return 0
}

// blind fits what came out, tightens to a number and signs.
func (w *worker) blind() {
	sh := w.k.Sheet
	w.do(act.FitDepthShim, w.depthSize(sh.DepthShims.Nearest(w.k.OldDepthShim.MM())))
	if w.solid() {
		w.do(act.FitPack, size(w.k.Design.Solid.Pack, w.k.OldPack.MM()))
	}
	w.do(act.FitPinion, "final")
	w.do(act.TurnNutTorque, nutTorque(sh.NutMid().Nmm()))
	if w.rings() {
		w.do(act.FitCase)
		w.do(act.TurnToothRing, "in", count(3, quantity.UnitTurn))
	} else {
		// What does not go in is made thinner on the easy side until it does.
		tooth := w.k.OldToothShim.MM()
		for range 20 {
			w.do(act.FitSideShims, w.sideSize(w.k.OldBackShim.MM()), w.sideSize(tooth))
			w.spread()
			if !found(w.do(act.FitCase)) {
				break
			}
			tooth = sh.SideShims.Nearest(tooth - 3*sh.SideShims.StepMM)
		}
	}
	w.do(act.TorqueCaps)
	w.do(act.SignOff)
}

// spread opens a housing that takes a spreader, well inside its limit.
func (w *worker) spread() {
	if w.k.Design.Entry == family.Spreader {
		const share = 0.85
		w.do(act.SpreadHousing, inches(share*w.k.Sheet.SpreadLimitMM))
	}
}

func (w *worker) job() {
	w.inspect()
	shim := w.starter()
	const builds = 3
	for i := range builds {
		// A crushed spacer makes a final build dear, so the depth is gauged in a trial
		// build first; a cage, or a solid spacer, lets it be gauged in the final one.
		inCage := w.k.Design.DepthShim == family.UnderCageFlange
		if inCage || w.solid() {
			w.depthShim = w.inHand(shim)
		} else {
			w.depthShim = w.depth(shim)
		}
		if w.solid() {
			w.pack(!inCage)
		} else {
			w.preload()
		}
		if inCage {
			w.depthShim = w.byHeight(w.depthShim, firstLength(w.do(act.MeasureDepth)))
		}
		shim = w.depthShim
		if w.rings() {
			w.setRings()
		} else {
			w.sides()
		}
		off := w.pattern()
		if w.k.Design.DepthShim == family.UnderCageFlange {
			w.cage(off)
			break
		}
		if w.err != nil || i == builds-1 || math.Abs(off) <= w.k.Sheet.PrintHeight.Half() {
			break
		}
		w.say("The print is off up and down on both flanks. That is depth, so the pinion has to come out again.")
		w.do(act.RemoveCase)
		w.do(act.RemovePinion)
		shim += w.shimFor(off)
	}
	w.finish()
}

// shimFor returns what a print that stands too high by a share of the tooth asks of the
// depth shim, mm.
func (w *worker) shimFor(off float64) float64 {
	return w.sign() * w.deeper() * off / (printPerMM * printAtMM / w.k.RingDiameter.MM())
}

// cage corrects the depth by the print with the shim under the cage's flange, which
// leaves preload and side bearings as they are.
func (w *worker) cage(off float64) {
	closeEnough := 1.0 // of the print's window
	if !w.k.Sheet.Marks.Known() {
		closeEnough = 0.6 // without a mark the print is the only judge of this pinion
	}
	for range 3 {
		next := w.k.Sheet.DepthShims.Nearest(w.depthShim + w.shimFor(off))
		if w.err != nil || math.Abs(off) <= closeEnough*w.k.Sheet.PrintHeight.Half() || next == w.depthShim {
			return
		}
		w.say("The print is off up and down on both flanks. The cage comes forward with its pinion; another shim under its flange does it.")
		w.depthShim = next
		w.do(act.FitDepthShim, w.depthSize(next))
		w.moveRings()
		off = w.pattern()
	}
}

// inspect looks at everything that is cheap to look at before anything is built.
func (w *worker) inspect() {
	w.say("First a look at what would cost a teardown if it were found later.")
	if found(w.do(act.LookCups)) {
		w.do(act.SeatCups)
	}
	if found(w.do(act.LookBearings)) {
		w.do(act.WashBearings)
	}
	if !w.solid() && found(w.do(act.LookSpacer)) {
		w.do(act.ReplaceSpacer)
	}
	if found(w.do(act.LookSeal)) {
		w.do(act.ReplaceSeal)
	}
	if found(w.do(act.LookCones)) {
		w.do(act.SeatCones)
	}
	if found(w.do(act.LookCaps)) {
		w.do(act.MatchCaps)
	}
	w.setUpTall = firstLength(w.do(act.MeasureBearings))
}

// starter applies the marks to the old shim.
func (w *worker) starter() float64 {
	old, starter := w.k.OldDepthShim.MM(), w.k.StarterShim().MM()
	switch {
	case !w.k.Sheet.Marks.Known():
		w.say("No marks on these pinions: the old shim is all there is to start from.")
	case w.k.Sheet.Marks.ShimForMarkMM(1) > 0:
		w.say("The old shim carries the old mark; the new pinion has its own. The difference goes on the shim, and on this axle plus means add.")
	default:
		w.say("The old shim carries the old mark; the new pinion has its own. The difference goes on the shim, and on this axle plus means take away.")
	}
	return old + w.sign()*(starter-old)
}

// inHand fits a depth shim that measures as wanted and returns its marked size.
func (w *worker) inHand(wanted float64) float64 {
	stock := w.k.Sheet.DepthShims
	marked := stock.Nearest(wanted)
	w.do(act.FitDepthShim, w.depthSize(marked))
	if measured := firstLength(w.do(act.MeasureDepthShim)); w.err == nil && math.Abs(measured-marked) > 0.6*stock.StepMM {
		w.say("The micrometer does not agree with the shim's marking; the micrometer counts.")
		marked = stock.Nearest(wanted - (measured - marked))
		w.do(act.FitDepthShim, w.depthSize(marked))
	}
	return marked
}

// depth fits the shim, reads the height in a trial build and corrects by what it
// shows. It leaves the pinion out with the corrected shim in hand, and returns the
// shim's marked size.
func (w *worker) depth(wanted float64) float64 {
	marked := w.inHand(wanted)
	w.do(act.FitPinion, "trial")
	height := firstLength(w.do(act.MeasureDepth))
	w.do(act.RemovePinion)
	// The final bearing lets the pinion sit as much further out as the set-up
	// bearing is taller.
	return w.byHeight(marked, height+w.setUpTall)
}

func (w *worker) finalBuild() bool { return w.bench.Status().Pinion == sim.PinionFinal }

// byHeight puts in the shim that a height asks for, and returns its marked size.
func (w *worker) byHeight(marked, heightMM float64) float64 {
	if w.err != nil {
		return marked
	}
	off := heightMM - w.k.WantedHeight().MM()
	next := w.k.Sheet.DepthShims.Nearest(marked + w.sign()*w.deeper()*off)
	if next == marked || w.finalBuild() && math.Abs(off) < 0.6*w.k.Sheet.DepthToleranceMM {
		return marked
	}
	if w.deeper() > 0 {
		w.say("The gauge puts the pinion off its height. Too far out asks for a thicker shim, too deep for a thinner one.")
	} else {
		w.say("The gauge puts the pinion off its height. Under this flange a thicker shim lifts the pinion out, so too far out asks for a thinner one.")
	}
	w.do(act.FitDepthShim, w.depthSize(next))
	return next
}

// preload crushes the spacer in steps until the drag is inside its window.
func (w *worker) preload() {
	window := w.k.DragWindow()
	const builds = 3
	for i := range builds {
		w.do(act.FitPinion, "final")
		start := nutTorque(0.75 * w.k.Sheet.NutLow.Nmm())
		w.say("The final build has a new spacer. Up to about %s nothing crushes; after that the nut goes in small steps, the pinion is turned, and the drag is read.", start)
		w.do(act.TurnNutTorque, start)
		last, step := 0.0, 0.0
		for range 80 {
			if w.err != nil {
				return
			}
			// The step so far decides the next.
			step = w.nextStep()
			out := w.do(act.TurnNutAngle, count(step, quantity.UnitDegree))
			if !noted(out, "no end play") {
				w.drag = 0
				if noted(out, "a trace") {
					w.drag = -1 // nearly there
				}
				continue
			}
			w.do(act.TurnPinion, count(5, quantity.UnitTurn))
			w.drag = math.Max(w.readDrag("pinion-drag"), 1)
			const toldNmm = 250 // a rise that is more than the wrench's scatter
			if rise := w.drag - last; last > 0 && rise > toldNmm {
				w.perDegree = rise / step
			}
			last = w.drag
			if w.drag >= window.LowNmm+0.3*(window.HighNmm-window.LowNmm) {
				break
			}
		}
		if w.err != nil || w.drag <= window.HighNmm || i == builds-1 {
			return
		}
		w.say("Past the window. A crushed spacer does not come back and the nut must not: new spacer, new nut, again.")
		w.do(act.RemovePinion)
		w.drag = 0
	}
}

// nextStep is how far the nut may go before the next reading, degrees.
func (w *worker) nextStep() float64 {
	window := w.k.DragWindow()
	switch {
	case w.drag == 0:
		return 15
	case w.drag < 0:
		return 10
	}
	// A degree is worth about a twentieth of the window's middle, until it has been seen.
	// What has been seen counts only where it asks for more care.
	const usualShare = 0.058
	perDegree := math.Max(usualShare*window.Mid(), w.perDegree)
	aim := window.LowNmm + 0.45*(window.HighNmm-window.LowNmm)
	step := math.Round((aim-w.drag)/perDegree*2) / 2
	return math.Max(1, math.Min(12, step))
}

// shimMove returns how far the depth shim is from the one a height in a final build asks
// for, mm; zero where it is near enough.
func (w *worker) shimMove(heightMM float64) float64 {
	off := heightMM - w.k.WantedHeight().MM()
	if w.err != nil || math.Abs(off) < 0.6*w.k.Sheet.DepthToleranceMM {
		return 0
	}
	return w.k.Sheet.DepthShims.Nearest(w.depthShim+w.sign()*w.deeper()*off) - w.depthShim
}

// pack fits packs until the drag is inside its window with the nut at its torque. With
// gauge it reads the depth in the first of these builds too.
func (w *worker) pack(gauge bool) {
	window := w.k.DragWindow()
	stock := w.k.Design.Solid.Pack
	seal := w.k.Sheet.SealDrag.Mid()
	pack := stock.Nearest(w.k.StarterPack(quantity.Millimetres(w.depthShim)).MM())
	w.say("A solid spacer: the pack sets the preload, and the nut only holds. Nut to its torque, pinion turned, drag read; less pack is more preload.")
	lastPack, lastDrag := 0.0, 0.0
	const builds = 7
	for i := range builds {
		w.do(act.FitPack, size(stock, pack))
		w.do(act.FitPinion, "final")
		w.do(act.TurnNutTorque, nutTorque(w.k.Sheet.NutMid().Nmm()))
		rocks := noted(w.do(act.TurnPinion, count(8, quantity.UnitTurn)), "end play")
		play := 0.0
		if rocks {
			play = firstLength(w.do(act.MeasurePinionPlay))
		}
		w.drag = w.readDrag("pinion-drag")
		move := 0.0 // of the depth shim
		if gauge && i == 0 {
			move = w.shimMove(firstLength(w.do(act.MeasureDepth)))
		}
		if w.err != nil || i == builds-1 {
			return
		}
		margin := 0.1 * window.Half()
		if move == 0 && w.drag >= window.LowNmm+margin && w.drag <= window.HighNmm-margin {
			return
		}
		// On an axle of this size a thousandth is worth about seven pound-inches on new
		// bearings, until it has been seen (common practice, no source); a larger axle
		// is stiffer for its drag.
		const (
			usualShare = 11.0 // of the window's middle, per mm
			usualAtMM  = 216.0
		)
		size := w.k.RingDiameter.MM() / usualAtMM
		perMM := usualShare * size * size * (window.Mid() - seal)
		const apartNmm = 200
		if lastPack > pack && w.drag-lastDrag > apartNmm || lastPack > 0 && lastPack < pack && lastDrag-w.drag > apartNmm && !rocks {
			if seen := (w.drag - lastDrag) / (lastPack - pack); seen > perMM/4 && seen < 4*perMM {
				w.perPack = seen
			}
		}
		if w.perPack > 0 {
			perMM = w.perPack
		}
		lastPack, lastDrag = pack, w.drag
		next := pack - (window.Mid()-w.drag)/perMM
		if rocks {
			// Where the play ends, drag begins.
			lastPack, lastDrag = pack-play, seal
			next = lastPack - (window.Mid()-seal)/perMM
		}
		next = stock.Nearest(next)
		if move != 0 {
			// A thicker shim behind the cup drives the bearings apart: the pack goes with it.
			w.say("The gauge puts the pinion off its height. Another depth shim, and the pack changes by as much.")
			lastPack += move
			next = stock.Nearest(next + move)
			w.do(act.RemovePinion)
			w.depthShim += move
			w.do(act.FitDepthShim, w.depthSize(w.depthShim))
			pack = next
			continue
		}
		if next == pack {
			if w.drag >= window.LowNmm && w.drag <= window.HighNmm {
				return
			}
			next = stock.Nearest(pack + math.Copysign(stock.StepMM, w.drag-window.Mid()))
		}
		pack = next
		w.do(act.RemovePinion)
	}
}

// readDrag reads the turning torque, and once compares wrench with cord.
func (w *worker) readDrag(what string) float64 {
	read := func(tool string) float64 {
		out := w.do(act.MeasureDrag, "turning", tool)
		for _, r := range out.Readings {
			if r.What == what && len(r.Torques) > 0 {
				return r.Torques[len(r.Torques)-1].Nmm()
			}
		}
		return 0
	}
	// A few more turns than the first reading gives settle the rollers.
	if !w.trustWrench {
		return read("cord")
	}
	wrench := read("wrench")
	if w.crossed || wrench < quantity.InchPounds(8).Nmm() {
		return wrench
	}
	w.crossed = true
	cord := read("cord")
	lw, _ := gauge.ClassOf(gauge.LowRangeWrench)
	lc, _ := gauge.ClassOf(gauge.CordAndScale)
	apart := 2 * math.Hypot(lw.StandardUncertainty(wrench, 1), lc.StandardUncertainty(cord, 1))
	if math.Abs(wrench-cord) > apart {
		w.say("Wrench and cord disagree by more than both can be off. The cord is length times pull, so the cord is believed.")
		w.trustWrench = false
		return cord
	}
	return (wrench + cord) / 2
}

// sides finds the line-to-line total, fits the side shims and moves the ring gear
// until the backlash is inside its window.
func (w *worker) sides() {
	sh := w.k.Sheet
	stock := sh.SideShims
	split := (w.k.OldBackShim.MM() - w.k.OldToothShim.MM()) / 2
	if w.lineMM == 0 && w.k.Design.SideAdjust == family.InsideShims {
		w.full(split)
	}
	if w.lineMM == 0 {
		w.say("A loose pack first: end play plus pack is the line-to-line total, and preload goes on top of that.")
		slack := 0.15
		for range 3 {
			oldTotal := w.k.OldBackShim.MM() + w.k.OldToothShim.MM()
			b, t := pair(stock, oldTotal-sh.SidePreload.Mid()-slack, split)
			w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
			in := w.do(act.FitCase)
			if found(in) {
				slack += 0.2
				continue
			}
			w.do(act.TorqueCaps)
			play := firstLength(w.do(act.MeasureEndPlay))
			w.do(act.RemoveCase)
			if w.err != nil {
				return
			}
			w.lineMM = b + t + play
			// A pack that drops in and has no play is at line-to-line itself.
			if play > 0.01 || observed(in, "drops in") {
				break
			}
			slack += 0.15
		}
	}
	total := w.lineMM + sh.SidePreload.Mid()
	tested := false
	const tries = 6
	for i := range tries {
		b, t := pair(stock, total, split)
		if st := w.bench.Status(); w.fitted && math.Abs(st.BackShim.MM()+st.ToothShim.MM()-total) < 0.7*sh.SidePreload.Half() {
			// The pack that is in will do.
			b, t = st.BackShim.MM(), st.ToothShim.MM()
			total = b + t
		} else {
			if w.fitted {
				w.do(act.RemoveCase)
			}
			w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
			w.spread()
			if found(w.do(act.FitCase)) {
				total -= stock.StepMM
				continue
			}
			w.do(act.TorqueCaps)
		}
		w.fitted = false
		w.do(act.MountIndicator, "heel", "square", "pinion-held")
		if !tested {
			w.do(act.TestIndicator)
			tested = true
			if w.checkRunout() {
				continue
			}
		}
		out := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn))
		mean := meanLength(out)
		w.lash = mean
		if w.err != nil || i == tries-1 {
			return
		}
		margin := 0.15 * sh.Backlash.Half()
		if mean >= sh.Backlash.LowMM+margin && mean <= sh.Backlash.HighMM-margin {
			return
		}
		away := (sh.Backlash.Mid() - mean) / BacklashPerTravel
		if noted(out, "bind") {
			away = 4 * stock.StepMM
		}
		away *= w.sign()
		if w.h.WrongMoveOnce && !w.wrongDone {
			w.wrongDone = true
			away = -away
			w.say("Backlash is off, so a shim goes from one side to the other. (This move is the wrong way round, to show what that looks like.)")
		} else {
			w.say("Backlash is off. Out of one side and into the other by the same amount keeps the preload; thicker behind the ring gear brings it closer and takes backlash away.")
		}
		next := (b-t)/2 - away
		if nb, _ := pair(stock, total, next); nb == b {
			return
		}
		split = next
		w.do(act.RemoveCase)
	}
}

// setRings runs the rings up, takes the play out, and moves both until backlash and
// preload are where they belong.
func (w *worker) setRings() {
	sh, travel := w.k.Sheet, w.k.Design.Rings.SlotTravelMM()
	w.do(act.FitCase)
	if w.lineMM == 0 {
		w.say("The rings are run up by hand. What play is left, in slots, is where preload begins to count.")
		// Position zero is where the hands left them.
		w.lineMM = firstLength(w.do(act.MeasureEndPlay)) + (w.back+w.tooth)*travel
	}
	total := w.lineMM + sh.SidePreload.Mid()
	diff := w.back - w.tooth
	if w.back == 0 && w.tooth == 0 {
		const usualAwayMM = 0.35 // hand-run rings leave the gear about so far out
		diff = 2 * usualAwayMM / travel
	}
	w.ringsTo(total/travel, diff)
	w.do(act.TorqueCaps)
	w.do(act.MountIndicator, "heel", "square", "pinion-held")
	w.do(act.TestIndicator)
	if w.checkRunout() {
		w.do(act.FitCase)
		w.do(act.TorqueCaps)
		w.do(act.MountIndicator, "heel", "square", "pinion-held")
	}
	w.moveRings()
}

// moveRings reads the backlash and moves both rings until it is where it belongs.
func (w *worker) moveRings() {
	sh, travel := w.k.Sheet, w.k.Design.Rings.SlotTravelMM()
	total := w.lineMM + sh.SidePreload.Mid()
	const tries = 7
	for i := range tries {
		out := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn))
		mean := meanLength(out)
		w.lash = mean
		if w.err != nil || i == tries-1 {
			return
		}
		margin := 0.1 * sh.Backlash.Half()
		if mean >= sh.Backlash.LowMM+margin && mean <= sh.Backlash.HighMM-margin {
			return
		}
		away := (sh.Backlash.Mid() - mean) / BacklashPerTravel
		if noted(out, "bind") {
			away = 4 * travel
		}
		const mostMM = 0.3 // in one go, with a reading after it
		away = math.Max(-mostMM, math.Min(mostMM, away))
		away *= w.sign()
		if w.h.WrongMoveOnce && !w.wrongDone {
			w.wrongDone = true
			away = -away
			w.say("Backlash is off, so one ring goes out and the other in. (This move is the wrong way round, to show what that looks like.)")
		} else {
			w.say("Backlash is off. One ring out and the other in by as many slots keeps the preload; in at the back brings the ring gear closer and takes backlash away.")
		}
		diff := w.back - w.tooth - 2*away/travel
		if b, t := w.nearestSlots(total/travel, diff); b == w.back && t == w.tooth {
			return
		}
		w.do(act.SlackenCaps)
		w.ringsTo(total/travel, diff)
		w.do(act.TorqueCaps)
	}
}

// nearestSlots returns the two ring positions, in half slots, that are best for a sum and
// a difference, both counted in half windows of the sheet: the sum is the preload, the
// difference the backlash.
func (w *worker) nearestSlots(sum, diff float64) (back, tooth float64) {
	sh, travel := w.k.Sheet, w.k.Design.Rings.SlotTravelMM()
	best := math.Inf(1)
	for n := math.Round(2*sum) - 1; n <= math.Round(2*sum)+1; n++ {
		for k := math.Round((n+2*diff)/2) - 1; k <= math.Round((n+2*diff)/2)+1; k++ {
			b, t := k/2, (n-k)/2
			fit := (b + t - sum) * travel / sh.SidePreload.Half()
			lash := (b - t - diff) / 2 * travel * BacklashPerTravel / sh.Backlash.Half()
			if miss := fit*fit + lash*lash; miss < best-1e-9 {
				best, back, tooth = miss, b, t
			}
		}
	}
	return back, tooth
}

// ringsTo turns the rings to a sum and difference of slots, the outgoing one first.
func (w *worker) ringsTo(sum, diff float64) {
	b, t := w.nearestSlots(sum, diff)
	move := func(f act.Form, n float64) {
		switch {
		case n > 0:
			w.do(f, "in", count(n, quantity.UnitTurn))
		case n < 0:
			w.do(f, "out", count(-n, quantity.UnitTurn))
		}
	}
	if t < w.tooth {
		move(act.TurnToothRing, t-w.tooth)
		move(act.TurnBackRing, b-w.back)
	} else {
		move(act.TurnBackRing, b-w.back)
		move(act.TurnToothRing, t-w.tooth)
	}
	st := w.bench.Status()
	w.back, w.tooth = st.BackSlots, st.ToothSlots
}

// spreadPerFit is the part of the side interference that a dial across the caps shows;
// the rest goes into the bearings (common practice, no source).
const spreadPerFit = 0.65

// full finds the line-to-line total from a pack like the old one: with shims behind the
// cones every change costs two bearings off and on, so the first pack is the one that may
// stay. A dial across the caps tells what it is.
func (w *worker) full(split float64) {
	sh := w.k.Sheet
	b, t := pair(sh.SideShims, w.k.OldBackShim.MM()+w.k.OldToothShim.MM(), split)
	w.say("Shims behind the cones are slow to change, so the old total goes in first and a dial across the caps says what it holds.")
	w.do(act.FitSideShims, w.sideSize(b), w.sideSize(t))
	w.spread()
	if found(w.do(act.FitCase)) {
		w.lineMM = b + t - sh.SpreadLimitMM
		return
	}
	w.do(act.TorqueCaps)
	grown := firstLength(w.do(act.MeasureSpread))
	fit := grown / spreadPerFit
	const nothing = 0.02 // a dial's worth
	if grown < nothing {
		fit = -firstLength(w.do(act.MeasureEndPlay))
	}
	w.lineMM = b + t - fit
	w.fitted = true
}

// checkRunout reads the back face and cures what it shows. It reports whether the
// case had to come out.
func (w *worker) checkRunout() bool {
	sh := w.k.Sheet
	if firstLength(w.do(act.MeasureRunout)) <= sh.RunoutMM || w.err != nil {
		return false
	}
	w.say("The back face swings more than the sheet allows. Shims cannot cure that: look behind the gear.")
	w.do(act.RemoveCase)
	if firstLength(w.do(act.MeasureFlangeRunout)) > sh.FlangeRunoutMM {
		w.do(act.ReplaceCase)
	}
	return true
}

// pattern reads a print and returns how far its centre stands too high, as a share
// of the tooth's height: the mean of both flanks, since depth moves both the same way.
func (w *worker) pattern() float64 {
	w.say("Now the print: thin compound, a brake on the ring gear, both ways.")
	read := func() float64 {
		w.do(act.PaintTeeth, "thin")
		out := w.do(act.RollGears, "braked")
		sum, n := 0.0, 0.0
		for _, r := range out.Readings {
			for _, p := range r.Prints {
				sum, n = sum+p.CentreT-w.k.Sheet.PrintHeight.Mid(), n+1
			}
		}
		if n == 0 {
			return 0
		}
		return sum / n
	}
	off := read()
	if w.err == nil && math.Abs(off) > w.k.Sheet.PrintHeight.Half() {
		off = (off + read()) / 2
	}
	return off
}

// finish reads what the sheet asks for, writes it down and signs.
func (w *worker) finish() {
	st := w.bench.Status()
	w.say("Total torque with everything in, then the build sheet, then the signature.")
	total := w.readDrag("total-drag")
	lbin := func(nmm float64) quantity.Entered {
		return count(math.Round(quantity.Torque(nmm).InchPounds()*2)/2, quantity.UnitInchLb)
	}
	w.do(act.RecordValue, "depth-shim", w.depthSize(st.DepthShim.MM()))
	if w.solid() {
		w.do(act.RecordValue, "pack", size(w.k.Design.Solid.Pack, st.Pack.MM()))
	}
	if !w.rings() {
		w.do(act.RecordValue, "back-shim", w.sideSize(st.BackShim.MM()))
		w.do(act.RecordValue, "tooth-shim", w.sideSize(st.ToothShim.MM()))
	}
	w.do(act.RecordValue, "pinion-drag", lbin(w.drag))
	w.do(act.RecordValue, "total-drag", lbin(total))
	w.do(act.RecordValue, "backlash", inches(w.lash))
	w.do(act.SignOff)
}

func meanLength(o sim.Outcome) float64 {
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

// pair picks the two stocked side shims whose total and half difference are
// nearest to what is wanted; the total, which sets preload, comes first.
func pair(stock family.Stock, total, halfDiff float64) (back, tooth float64) {
	best := math.Inf(1)
	sizes := stock.Sizes()
	for _, b := range sizes {
		for _, t := range sizes {
			miss := math.Abs(b+t-total) + 0.35*math.Abs((b-t)/2-halfDiff)
			if miss < best-1e-9 {
				best, back, tooth = miss, b, t
			}
		}
	}
	return back, tooth
}
