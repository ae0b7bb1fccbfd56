package misconception

import (
	"math"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// What the last reading was about.
type topic int

const (
	nothing topic = iota
	height
	print
	lash
)

// walk goes through an attempt with what the person in front of it knew.
type walk struct {
	card  scenarios.Card
	k     technician.Known
	gains sim.Gains

	accounts []Account
	at       map[string]int // index of an idea
	counted  map[string]int // chances of one kind and way so far
	n        int            // number of the act
	silent   bool           // what was done before counts for nothing

	last        topic
	shim        float64 // depth shim, marked
	depthFits   int
	heightMM    float64 // as gauged
	mockUp      bool
	tallMM      float64 // set-up bearing above the one that stays
	patternOff  float64 // how far too high, share of the tooth
	patternLong float64 // how far from the middle towards the heel, share of the tooth
	patterns    int     // read since anything moved; the two above are their mean
	patternSeen bool
	chased      bool // the depth was changed for a print that was well inside
	gauged      bool
	moved       bool // the depth has been changed since the backlash was read
	movedOnce   bool // at any time

	shims            float64
	preloadDepthShim float64 // depth shim when the pack was chosen
	preloadShimsRead bool
	rocked           bool
	final            bool // the pinion is in its final build
	accepted         bool
	nutMoved         bool
	turned           bool
	greased          bool
	torque           float64                            // mean of the readings since the nut moved, of this build, 0 none
	torques          int                                // how many
	wentOn           [len(torqueMisconceptions)]float64 // what going on past readings of this build has said for them
	sawOver          bool
	looked           bool
	readAny          bool
	takenApart       bool

	back, tooth    float64 // shims, or how far the rings are in
	sideFits       int
	caseIn         bool
	capsTight      bool
	lineMM         float64 // line-to-line total, 0 unknown
	sideTotalLoose bool    // the pack in was to find it
	lashMM         float64 // mean of the last reading, of the pair it was read on
	lashKnown      bool
	lashRingGear   float64
	lashOpposite   float64
	thick          bool
	swing          bool // readings once round differed by more than the sheet allows
	swingSought    bool // the gear's back face, or its flange, has been read
}

// Of weighs the acts of an attempt. gains are the family's own.
func Of(card scenarios.Card, gains sim.Gains, outs []history.Step) Evidence {
	w := &walk{card: card, k: card.Known, gains: gains, at: map[string]int{}, counted: map[string]int{}}
	for i, idea := range All() {
		w.accounts = append(w.accounts, Account{ID: idea.ID})
		w.at[idea.ID] = i
	}
	st := card.Start
	w.silent = true
	for _, o := range card.Before {
		w.weigh(o)
		w.learn(o)
	}
	w.silent, w.looked, w.readAny = false, false, false
	if card.Kind == scenarios.PreviousWork {
		travel := card.Family.Design.Rings.NotchTravelMM()
		w.shim, w.shims, w.preloadDepthShim = st.DepthShim.MM(), st.PreloadShims.MM(), st.DepthShim.MM()
		w.back, w.tooth = st.RingGearShim.MM()+st.RingGearNotches*travel, st.OppositeShim.MM()+st.OppositeNotches*travel
		w.caseIn, w.capsTight, w.final, w.accepted = st.CaseIn, st.CapsTight, true, true
	}
	for i, o := range outs {
		w.n = i + 1
		w.weigh(o)
		w.learn(o)
	}
	return Evidence{w.accounts}
}

func (w *walk) sheet() family.Sheet { return w.k.Sheet }

func (w *walk) rings() bool { return w.k.Design.SideAdjust == family.BearingAdjusters }

func (w *walk) solid() bool { return w.k.Design.Preload == family.SolidSpacer }

func (w *walk) cage() bool { return w.k.Design.DepthShim == family.UnderCageFlange }

func (w *walk) deeper() float64 {
	if w.k.Design.ThickerIsDeeper() {
		return 1
	}
	return -1
}

// add enters what an act says for an idea.
func (w *walk) add(id string, log float64) {
	i, known := w.at[id]
	if !known || w.silent {
		return
	}
	a := &w.accounts[i]
	a.Log += log
	const speaks = 1 // e to one
	if log >= speaks && (len(a.Acts) == 0 || a.Acts[len(a.Acts)-1] != w.n) {
		a.Acts = append(a.Acts, w.n)
	}
}

// choice enters whether a person did at a chance what an idea asks for.
func (w *walk) choice(id string, did bool) {
	way, log := "-"+id, math.Log((1-often)/(1-seldom))
	if did {
		way, log = id, math.Log(often/seldom)
	}
	if w.silent || w.counted[way] >= twice {
		return
	}
	w.counted[way]++
	w.add(id, log)
}

// A guess is the size that an idea aims at.
type guess struct {
	id     string
	at     float64
	spread float64
}

// size enters a size picked against what a sensible hand aims at.
func (w *walk) size(picked, right, spread, step float64, guesses ...guess) {
	sensible := SizeChance(picked, right, spread, step)
	for _, g := range guesses {
		w.add(g.id, math.Log(SizeChance(picked, g.at, g.spread, step)/sensible))
	}
}

func lengthMM(e quantity.Entered) float64 {
	l, _ := e.Length()
	return l.MM()
}

// weigh enters what an act says, on what was known before it.
func (w *walk) weigh(o history.Step) {
	a := o.Act
	switch a.Form {
	case act.FitDepthShim:
		w.weighDepthShim(w.sheet().DepthShims.Nearest(lengthMM(a.Amounts[0])))
	case act.FitPreloadShims:
		w.weighPreloadShims(w.k.Design.Solid.PreloadShims.Nearest(lengthMM(a.Amounts[0])))
	case act.FitPinion:
		if a.Choices[0] == "final" {
			w.choice("greased", w.greased)
			if kind := w.card.Kind; !w.final && (kind == scenarios.WholeJob || kind == scenarios.DepthJob) {
				w.choice("nothing-inspected", !w.looked)
			}
		}
	case act.TightenNutAngle:
		w.weighTorque(false)
	case act.TightenNutTorque:
		if t, ok := a.Amounts[0].Torque(); ok {
			const perFoot, room = 12, 1.3
			w.choice("nut-in-inch-pounds", t.Nmm()*perFoot < w.sheet().NutHigh.Nmm()*room)
		}
	case act.LoosenNut:
		if w.final && !w.solid() && w.torque > 0 {
			w.choice("backed-off", true)
			// Who comes back knows that the nut had gone too far.
			for i := range w.wentOn {
				w.add(torqueMisconceptions[i], -w.wentOn[i])
			}
			w.wentOn = [len(torqueMisconceptions)]float64{}
		}
	case act.MeasureTorque:
		w.choice("breakaway", a.Choices[0] == "breakaway")
		if !w.caseIn && w.nutMoved && a.Choices[0] == "rotating" {
			w.choice("not-turned-in", !w.turned)
		}
	case act.FitSideShims:
		w.weighSideShims(w.sheet().SideShims.Nearest(lengthMM(a.Amounts[0])), w.sheet().SideShims.Nearest(lengthMM(a.Amounts[1])))
	case act.FitCase:
		w.accept()
	case act.TorqueCaps:
		if w.rings() {
			w.weighMove(w.back, w.tooth)
		}
	case act.MountIndicator:
		w.choice("plunger-at-toe", a.Choices[0] == "toe")
		w.choice("plunger-tilted", a.Choices[1] != "square")
		w.choice("pinion-free", a.Choices[2] == "pinion-free")
	case act.MeasureBacklash:
		const enough = 3
		w.choice("one-place", a.Amounts[0].Number < enough)
		w.choice("caps-snug", !w.capsTight)
		w.weighTotal()
	case act.RollGears:
		w.choice("pattern-unbraked", a.Choices[0] == "free")
		w.choice("compound-thick", w.thick)
	case act.RemoveCase, act.RemovePinion:
		if w.card.Kind == scenarios.PreviousWork && !w.takenApart {
			w.choice("strip-first", !w.readAny)
			w.takenApart = true
		}
		if a.Form == act.RemovePinion && w.sawOver {
			w.choice("backed-off", false)
		}
	case act.SignOff:
		w.weighSignature()
	}
}

// weighDepthShim weighs a depth shim as it is put in.
func (w *walk) weighDepthShim(picked float64) {
	step := w.sheet().DepthShims.StepMM
	if w.depthFits == 0 && w.last == nothing && w.k.From == technician.Bare && w.sheet().Marks.Known() && w.k.OldMark != w.k.NewMark {
		shimFor := w.sheet().Marks.ShimForMarkMM
		was, now := shimFor(w.k.OldMark.MM()), shimFor(w.k.NewMark.MM())
		base, spread := w.k.OldDepthShim.MM(), step/2
		guesses := []guess{
			{"mark-turned", base - (now - was), spread}, {"mark-forgotten", base, spread},
			{"new-mark-only", base + now, spread}, {"marks-added", base + now + was, spread},
			{"mark-in-other-units", base + (now-was)*w.otherUnit(), spread},
		}
		if w.cage() {
			guesses = append(guesses, guess{"thicker-is-deeper", base - (now - was), spread})
		}
		w.size(picked, w.k.StarterShim().MM(), spread, step, guesses...)
		return
	}
	switch w.last {
	case height:
		off := w.heightMM - w.k.WantedDistance().MM()
		if w.mockUp {
			off += w.tallMM
		}
		const rounds = 0.7 // steps by which a hand rounds what the gauge asks for
		w.weighDepthMove(picked, w.deeper()*off, rounds*step)
	case print:
		w.weighByPattern(picked)
	case lash:
		if picked != w.shim && !w.sheet().Backlash.Holds(w.lashMM) {
			w.choice("pinion-for-backlash", true)
		}
	}
}

// otherUnit is what a mark grows by when it is read in the other unit.
func (w *walk) otherUnit() float64 {
	const mmPerHundredth, near = 2.54, 0.1
	if thou := w.sheet().DepthShims.StepMM / quantity.Thou(1).MM(); math.Abs(thou-1) < near {
		return 1 / mmPerHundredth
	}
	return mmPerHundredth
}

// weighDepthMove weighs a shim against the move that a reading asks for, and against what
// other ideas would have made of the reading.
func (w *walk) weighDepthMove(picked, moveMM, spread float64, guesses ...guess) {
	step := w.sheet().DepthShims.StepMM
	const (
		several = 1.5 // steps
		rightly = 0.4 // of a step: one size is one size
	)
	if math.Abs(moveMM) < step {
		return
	}
	right := w.shim + moveMM
	if w.cage() {
		guesses = append(guesses, guess{"thicker-is-deeper", w.shim - moveMM, spread})
	}
	if math.Abs(moveMM) > several*step {
		guesses = append(guesses, guess{"tiny-steps", w.shim + math.Copysign(step, moveMM), rightly * step})
	}
	w.size(picked, right, spread, step, guesses...)
}

// printInside reports whether the print stood well within its place. Where the depth was
// gauged, less of a print will do.
func (w *walk) patternInside() bool {
	const well, gauged = 0.6, 0.9 // half windows
	room := well
	if w.gauged {
		room = gauged
	}
	return math.Abs(w.patternOff) <= room*w.sheet().PatternHeight.Half()
}

// weighByPrint weighs a shim that was changed after a print.
func (w *walk) weighByPattern(picked float64) {
	change := picked - w.shim
	if change == 0 {
		return
	}
	step := w.sheet().DepthShims.StepMM
	const (
		eyeMM    = 0.04 // what an eye's place of a print leaves unsure of the depth
		seenLong = 0.03 // what an eye tells along the tooth, share of it
	)
	spread := math.Max(eyeMM, step)
	byLength := w.deeper() * w.patternLong / w.gains.PatternHeightPerPinion
	if w.patternInside() {
		// The marks of an axle that nobody has gauged may ask for what its print does not.
		if want := w.k.StarterShim().MM() - w.shim; !w.gauged && w.sheet().Marks.Known() && want*change > 0 {
			return
		}
		w.chased = true
		w.choice("picture-chased", w.deeper()*change*w.patternOff > 0)
		if math.Abs(w.patternLong) > seenLong {
			w.choice("lengthwise-as-depth", byLength*change > 0)
		}
		return
	}
	byHeight := w.deeper() * w.patternOff / w.gains.PatternHeightPerPinion
	w.choice("height-as-backlash", false)
	w.weighDepthMove(picked, byHeight, spread, guess{"lengthwise-as-depth", w.shim + byLength, spread})
}

// weighPack weighs the pack of a solid spacer.
func (w *walk) weighPreloadShims(picked float64) {
	stock := w.k.Design.Solid.PreloadShims
	follows := w.k.Design.DepthShim == family.BehindInnerCup
	const clear = 1.5 // steps
	if w.shims == 0 {
		right, old := w.k.StarterPreloadShims(quantity.Millimetres(w.shim)).MM(), w.k.OldPreloadShims.MM()
		if follows && math.Abs(right-old) > clear*stock.StepMM {
			w.size(picked, right, stock.StepMM, stock.StepMM, guess{"preload-shims-not-followed", old, stock.StepMM})
		}
		return
	}
	moved := 0.0
	if follows {
		moved = w.shim - w.preloadDepthShim
	}
	if math.Abs(moved) > clear*stock.StepMM {
		// Whoever takes over a pack that nobody has read may reckon from the old one.
		if w.preloadShimsRead || w.card.Kind != scenarios.PreviousWork {
			w.choice("preload-shims-not-followed", picked == w.shims)
		}
		return
	}
	if !w.preloadShimsRead || picked == w.shims {
		return
	}
	w.weighTorque(false)
	thicker := picked > w.shims
	if d := w.torque - w.spec().Mid(); w.rocked || math.Abs(d) > w.spec().Half() {
		w.choice("thicker-shims-tighten", thicker == (w.rocked || d < 0))
	}
}

// window is the drag window with the seal in.
func (w *walk) spec() family.TorqueSpec { return w.k.PinionTorqueSpec() }

// accept weighs the pinion's preload where it is left as it is.
func (w *walk) accept() {
	if !w.final || w.accepted {
		return
	}
	w.accepted = true
	if w.torque == 0 {
		if w.nutMoved {
			w.choice("torque-is-preload", true)
		}
		return
	}
	w.choice("torque-is-preload", false)
	w.weighTorque(true)
}

// stops is the chance that a hand leaves a drag as it is that aims at a window: from a good
// way inside it and not past it. Chance enters as the lapse does elsewhere.
func (w *walk) stops(spec family.TorqueSpec) float64 {
	const sharp, past = 0.1, 1.2 // half windows
	from := -0.5                 // a spacer is crushed by steps until it will do
	if w.solid() {
		from = -0.9 // packs are few
	}
	z := (w.torque - spec.Mid()) / spec.Half()
	step := func(x float64) float64 { return 1 / (1 + math.Exp(-x/sharp)) }
	return lapse/2 + (1-lapse)*step(z-from)*step(past-z)
}

// dragIdeas aim at another drag than the sheet's.
var torqueMisconceptions = [...]string{"wrong-range", "seal-counted"}

// weighDrag weighs a drag that was left as it is, or was not.
func (w *walk) weighTorque(left bool) {
	if w.torque == 0 {
		return
	}
	other := w.k
	other.UsedBearings = !other.UsedBearings
	chance := func(spec family.TorqueSpec) float64 {
		p := w.stops(spec)
		if !left {
			p = 1 - p
		}
		return p
	}
	right := chance(w.spec())
	for i, aim := range [len(torqueMisconceptions)]family.TorqueSpec{other.PinionTorqueSpec(), w.sheet().PinionTorque(w.k.UsedBearings)} {
		const tells = 1 // to go on by small steps says the same again and again
		id, log := torqueMisconceptions[i], math.Log(chance(aim)/right)
		if !left {
			if log > tells {
				if w.counted["on/"+id] >= twice {
					continue
				}
				w.counted["on/"+id]++
			}
			w.wentOn[i] += log
		}
		w.add(id, log)
	}
}

// weighSideShims weighs a pair of side shims as it is chosen.
func (w *walk) weighSideShims(back, tooth float64) {
	w.accept()
	if w.sideFits == 0 && w.k.From <= technician.PreloadSet && w.k.OldRingGearShim > 0 {
		split, spread := (w.k.OldRingGearShim.MM()-w.k.OldOppositeShim.MM())/2, w.sheet().SideShims.StepMM*0.6
		w.size((back-tooth)/2, split, spread, w.sheet().SideShims.StepMM, guess{"sides-swapped", -split, spread})
	}
	w.weighMove(back, tooth)
}

// weighMove weighs where the ring gear is taken after a backlash reading.
func (w *walk) weighMove(back, tooth float64) {
	sh := w.sheet()
	step := sh.SideShims.StepMM
	if w.rings() {
		step = w.k.Design.Rings.NotchTravelMM() / 2
	}
	const (
		same  = 1e-6
		binds = 0.01 // mm: gears that bind give no figure to move by
	)
	db, dt := back-w.lashRingGear, tooth-w.lashOpposite
	if !w.lashKnown || w.lashMM < binds || w.moved || math.Abs(db)+math.Abs(dt) < same || w.swing && w.swingSought {
		return
	}
	wanted := sh.Backlash.Mid() - w.lashMM
	in := sh.Backlash.Holds(w.lashMM)
	if w.last == print && !w.patternInside() && in {
		w.choice("height-as-backlash", math.Abs(db-dt) > step)
		return
	}
	const well = 0.6 // half windows: near the middle there is nothing to move for
	if in && math.Abs(wanted) < well*sh.Backlash.Half() {
		return
	}
	w.choice("pinion-for-backlash", false)
	right := wanted / technician.BacklashPerTravel
	travel := (dt - db) / 2
	if math.Abs(right) < step {
		return
	}
	const clear = 1.4 // steps
	if !w.rings() && math.Abs(right) >= clear*step {
		one := (math.Abs(db) < same) != (math.Abs(dt) < same)
		w.choice("one-side-only", one)
		if one {
			travel *= 2
		}
	}
	const (
		roughly = 0.08 // share of a move that a hand rounds by
		rounds  = 0.35 // steps by which the shelf makes it round, standard deviation
		target  = 0.12 // how closely it aims at the middle, half windows
	)
	at := func(id string, mm float64) guess { return guess{id, mm, math.Hypot(rounds*step, roughly*mm)} }
	lowest, highest := (sh.Backlash.LowMM-w.lashMM)/technician.BacklashPerTravel, (sh.Backlash.HighMM-w.lashMM)/technician.BacklashPerTravel
	guesses := []guess{at("wrong-way", -right), at("sides-swapped", -right),
		at("one-to-one", wanted), at("gain-turned", wanted*technician.BacklashPerTravel),
		at("tighter-is-better", lowest), at("more-is-quieter", highest)}
	if w.usedSet() {
		guesses = append(guesses, at("used-set-as-new", (w.card.NewBacklash.Mid()-w.lashMM)/technician.BacklashPerTravel))
	}
	w.size(travel, right, math.Hypot(math.Hypot(rounds*step, roughly*right), target*sh.Backlash.Half()), step, guesses...)
}

// usedSet reports whether these are used gears that belong elsewhere than a new set.
func (w *walk) usedSet() bool {
	const clear = 0.5 // half windows
	b := w.sheet().Backlash
	return w.card.UsedGears && math.Abs(b.Mid()-w.card.NewBacklash.Mid()) > clear*b.Half()
}

// weighTotal weighs the side-shim total of a pack that is read for its backlash.
func (w *walk) weighTotal() {
	if w.lineMM == 0 || w.sideTotalLoose || w.lashKnown && w.lashRingGear+w.lashOpposite == w.back+w.tooth {
		return
	}
	sh := w.sheet()
	step := sh.SideShims.StepMM
	if w.rings() {
		step = w.k.Design.Rings.NotchTravelMM() / 2
	}
	spread := math.Max(0.7*step, sh.SidePreload.Half()/2)
	const (
		free = -0.03 // just free of play
		near = 0.75  // of the way to the spread limit
	)
	high := sh.SidePreload.HighMM + near*(sh.SpreadLimitMM-sh.SidePreload.HighMM)
	w.size(w.back+w.tooth-w.lineMM, sh.SidePreload.Mid(), spread, step,
		guess{"no-side-preload", free, spread}, guess{"side-preload-high", high, spread})
}

// weighSignature weighs what has been left when the job is signed for.
func (w *walk) weighSignature() {
	w.accept()
	sh := w.sheet()
	const (
		flawed = 0.3  // half windows: no perfect picture
		within = 0.6  // of what one size of shim moves the print by: no other shim would do better
		plain  = 1.25 // half windows: plainly out
		hidden = 1.5  // the same, where only the print told the depth
	)
	if w.k.From == technician.Bare && w.card.Kind == scenarios.WholeJob {
		w.choice("starter-is-final", !w.gauged && !w.patternSeen)
	}
	if w.card.Kind == scenarios.PreviousWork && !w.takenApart {
		w.choice("strip-first", false)
	}
	if w.swing {
		w.choice("variation-averaged", !w.swingSought)
	}
	if w.movedOnce {
		w.choice("not-rechecked", w.moved && w.caseIn)
	}
	if w.patternSeen && w.last == print && w.patternInside() && !w.chased {
		if math.Abs(w.patternOff) > math.Max(flawed*sh.PatternHeight.Half(), within*sh.DepthShims.StepMM*w.gains.PatternHeightPerPinion) {
			w.choice("picture-chased", false)
		}
		if math.Abs(w.patternLong) > sh.PatternHeight.Half() {
			w.choice("lengthwise-as-depth", false)
		}
	}
	out := plain
	if !w.gauged {
		out = hidden
	}
	if w.patternSeen && w.last == print && math.Abs(w.patternOff) > out*sh.PatternHeight.Half() && math.Abs(w.patternLong) < sh.PatternHeight.Half() {
		w.choice("lengthwise-as-depth", true)
	}
	if !w.lashKnown {
		return
	}
	const (
		inside = 0.5 // half windows: anything in it is taken
		edge   = 0.3
		steps  = 5
	)
	half := sh.Backlash.Half()
	guesses := []guess{{"tighter-is-better", sh.Backlash.LowMM, edge * half}, {"more-is-quieter", sh.Backlash.HighMM, edge * half}}
	if w.usedSet() {
		guesses = append(guesses, guess{"used-set-as-new", w.card.NewBacklash.Mid(), inside * w.card.NewBacklash.Half()})
	}
	w.size(w.lashMM, sh.Backlash.Mid(), inside*half, half/steps, guesses...)
}

// learn takes in what an act showed and did.
func (w *walk) learn(o history.Step) {
	for _, r := range o.Readings {
		w.read(r)
	}
	a := o.Act
	switch a.Form {
	case act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectSeal, act.InspectCones, act.InspectCaps, act.MeasureBearings:
		w.looked = true
	case act.GreaseBearings:
		w.greased = true
	case act.WashBearings:
		w.greased = false
	case act.FitDepthShim:
		w.shim = w.sheet().DepthShims.Nearest(lengthMM(a.Amounts[0]))
		w.depthFits++
		w.moved = w.moved || w.lashKnown && !w.silent
		w.movedOnce = w.movedOnce || w.moved
		w.last = nothing
	case act.MeasureDepthShim:
		w.last = nothing
	case act.FitPreloadShims:
		w.shims, w.preloadDepthShim, w.preloadShimsRead = w.k.Design.Solid.PreloadShims.Nearest(lengthMM(a.Amounts[0])), w.shim, false
	case act.FitPinion:
		w.mockUp, w.final = a.Choices[0] == act.MockUp, a.Choices[0] == "final"
		w.wentOn = [len(torqueMisconceptions)]float64{}
		w.accepted, w.nutMoved, w.turned, w.torque, w.torques, w.sawOver, w.rocked = false, false, false, 0, 0, false, false
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut:
		w.nutMoved, w.turned, w.torques = true, false, 0
	case act.TurnPinion:
		w.turned = true
		w.rocked = w.rocked || o.Felt(history.PinionRocks)
	case act.FitSideShims:
		w.sideFits++
		w.back, w.tooth = w.sheet().SideShims.Nearest(lengthMM(a.Amounts[0])), w.sheet().SideShims.Nearest(lengthMM(a.Amounts[1]))
		w.sideTotalLoose = false
	case act.FitCase:
		w.caseIn = w.rings() || len(o.Readings) == 0 || !o.Wrong()
		w.capsTight = false
	case act.RemoveCase:
		w.caseIn = false
	case act.RemovePinion:
		w.final = false
	case act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
		for _, r := range o.Readings {
			by := r.Notches * w.k.Design.Rings.NotchTravelMM()
			if a.Form == act.TurnRingGearAdjuster {
				w.back += by
			} else {
				w.tooth += by
			}
		}
		w.sideTotalLoose = false
	case act.TorqueCaps:
		w.capsTight = true
	case act.LoosenCaps:
		w.capsTight = false
	case act.PaintTeeth:
		w.thick = a.Choices[0] == "thick"
	case act.MeasureRunout, act.MeasureCaseRunout:
		w.swingSought = true
	case act.TestString:
		w.torques = 0 // what was read with it before may have been wrong
	}
}

func (w *walk) read(r gauge.Reading) {
	switch r.Kind {
	case gauge.BearingHeights:
		w.tallMM = r.Lengths[0].MM()
	case gauge.Depth:
		w.heightMM, w.last, w.gauged, w.readAny = r.Lengths[0].MM(), height, true, true
	case gauge.Pattern:
		w.readPattern(r)
	case gauge.Backlash:
		mean, _, _ := r.Summary()
		w.lashMM, w.lashKnown, w.last, w.moved, w.readAny = mean.MM(), true, lash, false, true
		w.lashRingGear, w.lashOpposite = w.back, w.tooth
		low, high := math.Inf(1), math.Inf(-1)
		for _, l := range r.Lengths {
			low, high = math.Min(low, l.MM()), math.Max(high, l.MM())
		}
		const clear = 1.5 // of the spread allowed
		w.swing = w.swing || high-low > clear*w.sheet().BacklashSpreadMM
	case gauge.PinionTorque:
		w.torques++
		w.torque += (r.Torques[len(r.Torques)-1].Nmm() - w.torque) / float64(w.torques)
		w.preloadShimsRead, w.readAny = true, true
		w.sawOver = w.sawOver || w.torque > w.spec().HighNmm
	case gauge.TotalTorque, gauge.Runout:
		w.readAny = true
	case gauge.HousingSpread:
		w.readAny = true
		if grown := r.Lengths[0].MM(); w.lineMM == 0 && grown > 0 && w.gains.SpreadPerFit > 0 {
			w.lineMM = w.back + w.tooth - grown/w.gains.SpreadPerFit
		}
	case gauge.CaseEndPlay:
		w.readAny = true
		if play := r.Lengths[0].MM(); play > 0 {
			w.lineMM, w.sideTotalLoose = w.back+w.tooth+play, true
		}
	}
}

func (w *walk) readPattern(r gauge.Reading) {
	if len(r.Patterns) == 0 {
		return
	}
	var off, long float64
	for _, p := range r.Patterns {
		off += (p.CenterT - w.sheet().PatternHeight.Mid()) / float64(len(r.Patterns))
		long += (p.CenterS - 0.5) / float64(len(r.Patterns))
	}
	if w.last != print {
		w.patterns = 0
	}
	w.patterns++
	w.patternOff += (off - w.patternOff) / float64(w.patterns)
	w.patternLong += (long - w.patternLong) / float64(w.patterns)
	w.patternSeen, w.last = true, print
}
