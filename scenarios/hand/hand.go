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
	UsedBearings              bool
	OldDepthShim              quantity.Length
	OldMark, NewMark          quantity.Length
	OldBackShim, OldToothShim quantity.Length
}

// StarterShim returns the depth shim that the old shim and the two marks lead to.
func (k Known) StarterShim() quantity.Length {
	return quantity.Millimetres(setup.DepthShimMM(k.Sheet.Marks, k.OldDepthShim.MM(), k.OldMark.MM(), k.NewMark.MM()))
}

// WantedHeight returns the head height the gauge should show for the new pinion.
// Under the shim-correction convention a plus mark asks for a thicker shim, which
// brings the pinion in.
func (k Known) WantedHeight() quantity.Length {
	mark := k.NewMark.MM()
	if k.Sheet.Marks == setup.ShimCorrection {
		mark = -mark
	}
	return quantity.Millimetres(k.Sheet.HeadHeightMM + mark)
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

// printPerMM is how far the print's centre climbs the tooth, as a share of its
// height, for a pinion 1 mm further out: what the tooth model gives for this family,
// mean of both flanks.
const printPerMM = 0.56

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
	lineMM      float64 // side-shim total at line-to-line, 0 unknown
	drag        float64 // last pinion drag, N·mm
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
	w.do(act.FitDepthShim, inches(w.k.Sheet.DepthShims.Nearest(w.k.OldDepthShim.MM())))
	w.do(act.FitPinion, "final")
	w.do(act.TurnNutTorque, count(300, quantity.UnitFootLb))
	w.do(act.FitSideShims, inches(w.k.OldBackShim.MM()), inches(w.k.OldToothShim.MM()))
	out := w.do(act.FitCase)
	if found(out) {
		less := w.k.OldToothShim.MM() - 3*w.k.Sheet.SideShims.StepMM
		w.do(act.FitSideShims, inches(w.k.OldBackShim.MM()), inches(w.k.Sheet.SideShims.Nearest(less)))
		w.do(act.FitCase)
	}
	w.do(act.TorqueCaps)
	w.do(act.SignOff)
}

func (w *worker) job() {
	w.inspect()
	shim := w.starter()
	const builds = 3
	for i := range builds {
		shim = w.depth(shim)
		w.preload()
		w.sides()
		off := w.pattern()
		if w.err != nil || i == builds-1 || math.Abs(off) <= w.k.Sheet.PrintHeight.Half() {
			break
		}
		w.say("The print is off up and down on both flanks. That is depth, so the pinion has to come out again.")
		w.do(act.RemoveCase)
		w.do(act.RemovePinion)
		shim += w.sign() * off / printPerMM
	}
	w.finish()
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
	if found(w.do(act.LookSpacer)) {
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
	w.say("The old shim carries the old mark; the new pinion has its own. The difference goes on the shim, and on this axle plus means add.")
	return old + w.sign()*(starter-old)
}

// depth fits the shim, reads the height in a trial build and corrects by what it
// shows. It leaves the pinion out with the corrected shim in hand, and returns the
// shim's marked size.
func (w *worker) depth(wanted float64) float64 {
	stock := w.k.Sheet.DepthShims
	marked := stock.Nearest(wanted)
	w.do(act.FitDepthShim, inches(marked))
	if measured := firstLength(w.do(act.MeasureDepthShim)); w.err == nil && math.Abs(measured-marked) > 0.6*stock.StepMM {
		w.say("The micrometer does not agree with the shim's marking; the micrometer counts.")
		marked = stock.Nearest(wanted - (measured - marked))
		w.do(act.FitDepthShim, inches(marked))
	}
	w.do(act.FitPinion, "trial")
	height := firstLength(w.do(act.MeasureDepth))
	w.do(act.RemovePinion)
	if w.err != nil {
		return marked
	}
	// The final bearing lets the pinion sit as much further out as the set-up
	// bearing is taller.
	off := height + w.setUpTall - w.k.WantedHeight().MM()
	if next := stock.Nearest(marked + w.sign()*off); next != marked {
		w.say("The gauge puts the pinion off its height. Too far out asks for a thicker shim, too deep for a thinner one.")
		marked = next
		w.do(act.FitDepthShim, inches(marked))
	}
	return marked
}

// preload crushes the spacer in steps until the drag is inside its window.
func (w *worker) preload() {
	window := w.k.DragWindow()
	const builds = 3
	for range builds {
		w.do(act.FitPinion, "final")
		w.say("The final build has a new spacer. Up to about 150 lb-ft nothing crushes; after that the nut goes in small steps, the pinion is turned, and the drag is read.")
		w.do(act.TurnNutTorque, count(150, quantity.UnitFootLb))
		for range 80 {
			if w.err != nil {
				return
			}
			// The step so far decides the next.
			out := w.do(act.TurnNutAngle, count(w.nextStep(), quantity.UnitDegree))
			if !noted(out, "no end play") {
				w.drag = 0
				if noted(out, "a trace") {
					w.drag = -1 // nearly there
				}
				continue
			}
			w.do(act.TurnPinion, count(5, quantity.UnitTurn))
			w.drag = math.Max(w.readDrag("pinion-drag"), 1)
			if w.drag >= window.LowNmm+0.3*(window.HighNmm-window.LowNmm) {
				break
			}
		}
		if w.err != nil || w.drag <= window.HighNmm {
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
	perDegree := quantity.InchPounds(1.6).Nmm()
	if w.k.UsedBearings {
		perDegree /= 2
	}
	aim := window.LowNmm + 0.45*(window.HighNmm-window.LowNmm)
	step := math.Round((aim-w.drag)/perDegree*2) / 2
	return math.Max(1, math.Min(12, step))
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
	if w.lineMM == 0 {
		w.say("A loose pack first: end play plus pack is the line-to-line total, and preload goes on top of that.")
		slack := 0.15
		for range 3 {
			oldTotal := w.k.OldBackShim.MM() + w.k.OldToothShim.MM()
			b, t := pair(stock, oldTotal-sh.SidePreload.Mid()-slack, split)
			w.do(act.FitSideShims, inches(b), inches(t))
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
		w.do(act.FitSideShims, inches(b), inches(t))
		if found(w.do(act.FitCase)) {
			total -= stock.StepMM
			continue
		}
		w.do(act.TorqueCaps)
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
	w.do(act.RecordValue, "depth-shim", inches(st.DepthShim.MM()))
	w.do(act.RecordValue, "back-shim", inches(st.BackShim.MM()))
	w.do(act.RecordValue, "tooth-shim", inches(st.ToothShim.MM()))
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
