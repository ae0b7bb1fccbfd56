package technician

import (
	"math"
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// worker is a technician at work: the bench, what it has seen, and what it makes of that.
type worker struct {
	bench Bench
	k     Known
	h     Habits
	err   error
	seen  []history.Step // by this technician, and by those before it as far as it is known
	goes  bool           // on with a job that another has begun

	settled     map[act.Form]bool // inspections that left nothing to put right
	trustWrench bool
	crossed     bool    // wrench and string have been compared
	lot         float64 // what depth shims measure above their marking, mm
	setUpTall   float64 // set-up bearing above the one that stays, mm
	gaugedDepth bool    // by this technician
	greased     bool    // the pinion bearings are packed in grease
	rightShim   float64 // depth shim that the gauge asked for, mm, 0 unknown
	perDegree   float64 // what a degree of the nut was worth, N·mm, 0 unknown
	perShim     float64 // what a millimeter of preload shims was worth, N·mm, 0 unknown
	torque      float64 // pinion rotating torque as it was read last, N·mm, 0 none
	total       float64 // total rotating torque as it was read last, N·mm, 0 none
	totalAt     history.Changes
	zeroMM      float64 // side total at zero end play, 0 unknown
	split       float64 // half difference of the side shims as it is wanted, mm
	splitSet    bool
	away        float64 // how far the ring gear has to follow another depth, mm away from the pinion
	gearOK      bool    // nothing more to do about a ring gear that runs out
	gearRead    bool    // its runout, as it is now
	gearCleaned bool
	lash        float64 // mean of the last backlash reading, mm
	runout      float64 // of the back face, mm
	faceRead    bool    // it has been read
	faceAt      int     // and the gear then; see gearState
	rim         float64 // radial runout that another technician read, mm
	rimAt       int
	lashAt      placing // of the axle whose backlash another technician read well
	told        []told  // torques that another technician read
	pattern     float64 // center of the pattern, mean of both sides and of its readings, share of the tooth
	prints      []print // patterns that were read on these parts
	wrongDone   bool

	patternFirst bool // before the spacer is crushed
}

func newWorker(b Bench, k Known, h Habits) *worker {
	return &worker{bench: b, k: k, h: h, trustWrench: true, settled: map[act.Form]bool{}}
}

func (w *worker) say(why text.Message) {
	if w.h.Say != nil && w.err == nil {
		w.h.Say(why)
	}
}

func (w *worker) do(f act.Form, rest ...any) history.Step {
	if w.err != nil || w.without(f) {
		return history.Step{}
	}
	a := act.Act{Form: f}
	for _, r := range rest {
		switch v := r.(type) {
		case act.Option:
			a.Choices = append(a.Choices, v)
		case quantity.Entered:
			a.Amounts = append(a.Amounts, v)
		}
	}
	out, err := w.bench.Do(a)
	if err != nil {
		why, _ := text.MessageOf(err)
		w.err = text.Fail(err, text.Say("technician.stopped", "the technician cannot go on at {act}: {why}", text.Typed("act", a.String()), text.Of("why", why)))
		return out
	}
	w.seen = append(w.seen, out)
	w.forget(f)
	return out
}

// forget drops what was read of the depth before an act that changes where the pinion lies.
func (w *worker) forget(f act.Form) {
	switch f {
	case act.SeatCups, act.ReplaceBearings, act.ReplaceGears, act.CleanShimSeat, act.ReplaceSlinger:
		w.rightShim, w.prints = 0, nil
	}
}

func (w *worker) status() history.Status { return w.bench.Status() }

// shim is the depth shim in hand, as it is marked, mm.
func (w *worker) shim() float64 { return w.status().DepthShim.MM() }

// since tells whether an act of one form has been done since the last of others.
func (w *worker) since(f act.Form, others ...act.Form) bool {
	for i := len(w.seen) - 1; i >= 0; i-- {
		switch form := w.seen[i].Act.Form; {
		case form == f:
			return true
		case slices.Contains(others, form):
			return false
		}
	}
	return false
}

// sign turns a correction round for a technician who takes plus for minus.
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

func (w *worker) solid() bool     { return w.k.Design.Preload == family.SolidSpacer }
func (w *worker) adjusters() bool { return w.k.Design.SideAdjust == family.BearingAdjusters }
func (w *worker) cage() bool      { return w.k.Design.DepthShim == family.UnderCageFlange }

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

func count(n float64, u quantity.Unit) quantity.Entered { return quantity.Entered{Number: n, Unit: u} }

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

// readsRunout tells what a back face runs out by, mm; without a reading there, what backlash
// tells of it around the gear.
func (w *worker) readRunout() float64 {
	if !w.without(act.MeasureRunout) {
		w.runout, w.faceRead = w.do(act.MeasureRunout).FirstMM(), true
		return w.runout
	}
	r, _ := w.do(act.MeasureBacklash, count(4, quantity.UnitTurn)).Reading(gauge.Backlash)
	_, least, most := r.Summary()
	return (most - least).MM() / w.k.PerTravel()
}
