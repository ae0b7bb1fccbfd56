package misconception

import (
	"math"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A Scene is a step of an attempt, and what its technician knew before it.
type Scene struct {
	N       int // number of the step, from 1 up
	Step    history.Step
	Picks   []Pick  // the sizes picked by it
	Preload Verdict // what was made of the pinion's preload

	card  *scenarios.Card
	gains *sim.Gains
	facts
}

// A Verdict is what was made of the pinion's preload as it was read.
type Verdict int

// The verdicts.
const (
	NoVerdict  Verdict = iota
	LeftAsIs           // the next part of the job is begun
	GoneOn             // it is changed once more
	TurnedBack         // the nut is loosened
)

// A Decision is which size was picked.
type Decision int

// The decisions.
const (
	StarterShim   Decision = iota // first depth shim, by the marks
	GaugeShim                     // depth shim after the depth was measured
	PatternShim                   // depth shim after a contact pattern that was off
	PreloadShims                  // first preload shims of a solid spacer
	SideSplit                     // half difference of the first side shims
	GearTravel                    // ring gear travel after backlash was read
	SideTotal                     // side shims over zero end play, as backlash is read on them
	BacklashGiven                 // backlash that is signed for
)

// A Pick is a size picked, and what a sensible technician would have aimed at; mm.
type Pick struct {
	Of               Decision
	PickedMM         float64
	RightMM, OrMM    float64 // two ways of working out the right size; alike where there is one
	SpreadMM, StepMM float64 // how closely it is aimed at, and the step from size to size
}

// topic is what the last reading that bears on the pinion's place was about.
type topic int

const (
	nothing topic = iota
	depth
	pattern
	lash
)

// facts are what a technician knows from the steps before.
type facts struct {
	topic       topic
	depthMM     float64 // as gauged
	inMockUp    bool    // where it was gauged
	tallMM      float64 // set-up bearing above the one that stays
	patternOff  float64 // how far too high, share of the tooth; mean since anything moved
	patternLong float64 // how far from the middle toward the heel, share of the tooth
	patterns    int
	patternSeen bool
	chased      bool // the depth was changed for a pattern that was good
	gauged      bool
	moved       bool // the depth has been changed since backlash was read
	movedOnce   bool // at any time
	starters    int  // depth shims fitted

	shimsAt   float64 // depth shim when the preload shims were chosen, mm
	shimsRead bool    // torque has been read on them
	rocked    bool
	greased   bool
	judged    bool    // the preload of this assembly has been left as it is
	torque    float64 // mean of the readings since the nut moved, of this assembly, 0 none
	torques   int
	sawOver   bool // the torque was seen above its specification

	inspected bool
	read      bool // anything
	apart     bool

	sideFits  int
	zeroMM    float64 // side total at zero end play, 0 unknown
	sideLoose bool    // the shims in were to find it
	fast      float64 // side total on which a case that does not move showed a reading of end play, mm, 0 none
	suspects  int     // parts found wrong and not replaced yet
	lashMM    float64 // mean of the last reading
	lashKnown bool
	lashAt    [2]float64 // where the sides stood at it
	varies    bool       // readings once around differed by more than is specified
	sought    bool       // runout of the gear's back face, or of its flange, has been read
}

// Scenes goes through an attempt. gains are the family's own.
func Scenes(card scenarios.Card, gains sim.Gains, steps []history.Step) []Scene {
	s := Scene{card: &card, gains: &gains}
	for _, o := range card.Before {
		s.Step = o
		s.learn()
	}
	s.inspected, s.read, s.moved, s.movedOnce = false, false, false, false
	if card.Kind == scenarios.PreviousWork {
		s.judged = true
	}
	out := make([]Scene, 0, len(steps))
	for i, o := range steps {
		s.N, s.Step = i+1, o
		s.Preload = s.verdict()
		s.Picks = s.picks()
		out = append(out, s)
		s.learn()
	}
	return out
}

// TorqueNmm is the pinion rotating torque as it was known before the step: the mean of the
// readings since the nut last moved; 0 for none.
func (s Scene) TorqueNmm() float64 { return s.torque }

// TorqueSpec is the specification with the seal in.
func (s Scene) TorqueSpec() family.TorqueSpec { return s.card.Known.PinionTorqueSpec() }

// ByShims tells whether preload is set by shims, which are few, and not by a nut's angle.
func (s Scene) ByShims() bool { return s.card.Known.Design.Preload == family.SolidSpacer }

func (s Scene) sheet() family.Sheet { return s.card.Known.Sheet }

func (s Scene) form() act.Form { return s.Step.Act.Form }

func (s Scene) option(i int) act.Option { return s.Step.Act.Choices[i] }

// amount is a length of the act, mm.
func (s Scene) amount(i int) float64 {
	l, _ := s.Step.Act.Amounts[i].Length()
	return l.MM()
}

func (s Scene) onAdjusters() bool {
	return s.card.Known.Design.SideAdjust == family.BearingAdjusters
}

// deeper is the sense of the depth shim: 1 where a thicker one brings the pinion in.
func (s Scene) deeper() float64 {
	if s.card.Known.Design.ThickerIsDeeper() {
		return 1
	}
	return -1
}

func (s Scene) shim() float64 { return s.Step.Before.DepthShim.MM() }

// newShim is the depth shim that the step fits, as it is on the shelf, mm.
func (s Scene) newShim() float64 { return s.sheet().DepthShims.Nearest(s.amount(0)) }

func (s Scene) newPreloadShims() float64 {
	return s.card.Known.Design.Solid.PreloadShims.Nearest(s.amount(0))
}

// sides is where the two sides stand: shims, or how far the adjusters are in, mm.
func (s Scene) sides(st history.Status) [2]float64 {
	travel := s.card.Known.Design.Rings.NotchTravelMM()
	return [2]float64{st.RingGearShim.MM() + st.RingGearNotches*travel, st.OppositeShim.MM() + st.OppositeNotches*travel}
}

// sideStep is the smallest change of one side, mm.
func (s Scene) sideStep() float64 {
	if s.onAdjusters() {
		return s.card.Known.Design.Rings.NotchTravelMM() / 2
	}
	return s.sheet().SideShims.StepMM
}

// leavesPreload tells whether the step begins what comes after the pinion's preload.
func (s Scene) leavesPreload() bool {
	switch s.form() {
	case act.FitSideShims, act.FitCase, act.SignOff:
		return s.Step.Before.Pinion == history.PinionFinal && !s.judged
	}
	return false
}

// reworksShims tells whether the step changes preload shims for what was read on them, and
// not because the depth shim that they follow has changed.
func (s Scene) reworksShims() bool {
	return s.form() == act.FitPreloadShims && s.Step.Before.PreloadShims > 0 && !s.shimsMustFollow() && s.shimsRead && s.newPreloadShims() != s.Step.Before.PreloadShims.MM()
}

// clearShims is how many steps of preload shims are a clear change.
const clearShims = 1.5

// shimsMustFollow tells whether the depth shim under the inner cup has changed since the
// preload shims were chosen.
func (s Scene) shimsMustFollow() bool {
	return s.card.Known.Design.DepthShim == family.BehindInnerCup && math.Abs(s.shim()-s.shimsAt) > clearShims*s.card.Known.Design.Solid.PreloadShims.StepMM
}

func (s Scene) verdict() Verdict {
	switch {
	case s.torque == 0:
	case s.leavesPreload():
		return LeftAsIs
	case s.form() == act.TightenNutAngle, s.reworksShims():
		return GoneOn
	case s.form() == act.LoosenNut && s.Step.Before.Pinion == history.PinionFinal && !s.ByShims():
		return TurnedBack
	}
	return NoVerdict
}

// patternGood tells whether the pattern stood well within its specification. Where the depth
// was gauged, less of a pattern will do.
func (s Scene) patternGood() bool {
	const well, gauged = 0.6, 0.9 // half ranges
	room := well
	if s.gauged {
		room = gauged
	}
	return math.Abs(s.patternOff) <= room*s.sheet().PatternHeight.Half()
}

// chases tells whether the step changes the depth for a pattern that was good: for no more
// than its looks.
func (s Scene) chases() bool {
	if s.form() != act.FitDepthShim || s.topic != pattern || !s.patternGood() {
		return false
	}
	change := s.newShim() - s.shim()
	// The marks of an axle that nobody has gauged may ask for what its pattern does not.
	byMarks := s.card.Known.StarterShim().MM() - s.shim()
	return change != 0 && (s.gauged || !s.sheet().Marks.Known() || byMarks*change <= 0)
}

// picks lists the sizes that the step picks.
func (s Scene) picks() []Pick {
	switch s.form() {
	case act.FitDepthShim:
		return s.pickDepthShim()
	case act.FitPreloadShims:
		return s.pickPreloadShims()
	case act.FitSideShims:
		return append(s.pickSplit(), s.pickTravel()...)
	case act.TorqueCaps:
		if s.onAdjusters() {
			return s.pickTravel()
		}
	case act.MeasureBacklash:
		return s.pickTotal()
	case act.SignOff:
		return s.pickBacklash()
	}
	return nil
}

func one(p Pick) []Pick {
	if p.OrMM == 0 {
		p.OrMM = p.RightMM
	}
	return []Pick{p}
}

func (s Scene) pickDepthShim() []Pick {
	step, k := s.sheet().DepthShims.StepMM, s.card.Known
	move := 0.0
	p := Pick{PickedMM: s.newShim(), StepMM: step}
	switch s.topic {
	case nothing:
		if s.starters > 0 || k.From != technician.Bare || !marked(*s.card) {
			return nil
		}
		p.Of, p.RightMM, p.SpreadMM = StarterShim, k.StarterShim().MM(), step/2
		return one(p)
	case depth:
		off := s.depthMM - k.WantedDistance().MM()
		if s.inMockUp {
			off += s.tallMM
		}
		const rounds = 0.7 // steps by which anyone rounds what the gauge asks for
		p.Of, move, p.SpreadMM = GaugeShim, s.deeper()*off, rounds*step
	case pattern:
		if p.PickedMM == s.shim() || s.patternGood() {
			return nil
		}
		const eyeMM = 0.04 // what an eye's place of a pattern leaves unsure of the depth
		p.Of, move, p.SpreadMM = PatternShim, s.deeper()*s.patternOff/s.gains.PatternHeightPerPinion, math.Max(eyeMM, step)
	default:
		return nil
	}
	if math.Abs(move) < step {
		return nil
	}
	p.RightMM = s.shim() + move
	return one(p)
}

func (s Scene) pickPreloadShims() []Pick {
	k := s.card.Known
	right, step := k.StarterPreloadShims(quantity.Millimetres(s.shim())).MM(), k.Design.Solid.PreloadShims.StepMM
	if s.Step.Before.PreloadShims > 0 || math.Abs(right-k.OldPreloadShims.MM()) <= clearShims*step {
		return nil
	}
	return one(Pick{Of: PreloadShims, PickedMM: s.newPreloadShims(), RightMM: right, SpreadMM: step, StepMM: step})
}

// newSides are the side shims that the step fits, or where the adjusters stand, mm.
func (s Scene) newSides() [2]float64 {
	if s.form() != act.FitSideShims {
		return s.sides(s.Step.Before)
	}
	stock := s.sheet().SideShims
	return [2]float64{stock.Nearest(s.amount(0)), stock.Nearest(s.amount(1))}
}

// oldSplit is half the difference of the side shims that came out, mm.
func (s Scene) oldSplit() float64 {
	return (s.card.Known.OldRingGearShim.MM() - s.card.Known.OldOppositeShim.MM()) / 2
}

func (s Scene) pickSplit() []Pick {
	if s.sideFits > 0 || s.card.Known.From > technician.PreloadSet || s.card.Known.OldRingGearShim == 0 {
		return nil
	}
	const rounds = 0.6 // steps
	at, step := s.newSides(), s.sideStep()
	return one(Pick{Of: SideSplit, PickedMM: (at[0] - at[1]) / 2, RightMM: s.oldSplit(), SpreadMM: rounds * step, StepMM: step})
}

// A move is what a step does to the ring gear after backlash was read.
type move struct {
	ringGear, opposite float64 // change of either side, mm
	wantedMM           float64 // change of backlash to the middle of its specification
	forPattern         bool    // backlash is right, and the pattern that was read last is not
	rightMM            float64 // travel that would bring it there
}

// gearMove returns the step's move; false where it is none that backlash was read for.
func (s Scene) gearMove() (move, bool) {
	adjusted := s.form() == act.TorqueCaps && s.onAdjusters()
	if s.form() != act.FitSideShims && !adjusted {
		return move{}, false
	}
	const (
		same  = 1e-6
		binds = 0.01 // mm: gears that bind give no figure to move by
	)
	sh, at := s.sheet(), s.newSides()
	m := move{ringGear: at[0] - s.lashAt[0], opposite: at[1] - s.lashAt[1]}
	if !s.lashKnown || s.lashMM < binds || s.moved || math.Abs(m.ringGear)+math.Abs(m.opposite) < same || s.varies && s.sought {
		return move{}, false
	}
	m.wantedMM = sh.Backlash.Mid() - s.lashMM
	m.rightMM = m.wantedMM / s.card.Known.PerTravel()
	in := sh.Backlash.Holds(s.lashMM)
	m.forPattern = s.topic == pattern && !s.patternGood() && in
	const well = 0.6 // half ranges: near the middle there is nothing to move for
	return m, m.forPattern || !in || math.Abs(m.wantedMM) >= well*sh.Backlash.Half()
}

// oneSided tells whether only one of two side shims was changed, where it matters.
func (s Scene) oneSided(m move) (one, matters bool) {
	const same, clearly = 1e-6, 1.4 // mm; steps
	matters = !s.onAdjusters() && !m.forPattern && math.Abs(m.rightMM) >= clearly*s.sideStep()
	return matters && (math.Abs(m.ringGear) < same) != (math.Abs(m.opposite) < same), matters
}

// How closely a ring gear travel is aimed at.
const (
	roughly = 0.08 // share of a travel that anyone rounds by
	rounds  = 0.35 // steps by which the shelf makes it round, standard deviation
	target  = 0.12 // how closely the middle is aimed at, half ranges
)

// travelAim is a travel aimed at.
func (s Scene) travelAim(mm float64) Aim { return Aim{mm, math.Hypot(rounds*s.sideStep(), roughly*mm)} }

func (s Scene) pickTravel() []Pick {
	m, is := s.gearMove()
	step := s.sideStep()
	if !is || m.forPattern || math.Abs(m.rightMM) < step {
		return nil
	}
	travel := (m.opposite - m.ringGear) / 2
	if one, _ := s.oneSided(m); one {
		travel *= 2
	}
	return one(Pick{Of: GearTravel, PickedMM: travel, RightMM: m.rightMM, OrMM: m.wantedMM / technician.UsualPerTravel,
		SpreadMM: math.Hypot(s.travelAim(m.rightMM).SpreadMM, target*s.sheet().Backlash.Half()), StepMM: step})
}

func (s Scene) pickTotal() []Pick {
	at := s.sides(s.Step.Before)
	const rounds, same = 0.7, 1e-6 // steps; mm
	if s.zeroMM == 0 || s.sideLoose || s.lashKnown && math.Abs(s.lashAt[0]+s.lashAt[1]-at[0]-at[1]) < same {
		return nil
	}
	sh, step := s.sheet(), s.sideStep()
	return one(Pick{Of: SideTotal, PickedMM: at[0] + at[1] - s.zeroMM, RightMM: sh.SidePreload.Mid(),
		SpreadMM: math.Max(rounds*step, sh.SidePreload.Half()/2), StepMM: step})
}

func (s Scene) pickBacklash() []Pick {
	if !s.lashKnown {
		return nil
	}
	const inside, steps = 0.5, 5 // half ranges: anything in it is taken
	w := s.sheet().Backlash
	return one(Pick{Of: BacklashGiven, PickedMM: s.lashMM, RightMM: w.Mid(), SpreadMM: inside * w.Half(), StepMM: w.Half() / steps})
}

// learn takes in what the step showed and did.
func (s *Scene) learn() {
	o, at := s.Step, s.sides(s.Step.After)
	if s.chases() {
		s.chased = true
	}
	if s.leavesPreload() {
		s.judged = true
	}
	for _, r := range o.Readings {
		s.learnReading(o, r)
		if r.Wrong() || s.runsOut(r) {
			s.suspects++
		}
	}
	switch o.Act.Form {
	case act.ReplaceBearings, act.ReplaceSideBearings, act.ReplaceGears, act.ReplaceCase:
		s.suspects = max(0, s.suspects-1)
	case act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectSeal, act.InspectCones, act.InspectCaps, act.InspectShimSeat, act.InspectBolts, act.InspectGears, act.MeasureBearings:
		s.inspected = true
	case act.GreaseBearings:
		s.greased = true
	case act.WashBearings:
		s.greased = false
	case act.FitDepthShim:
		s.starters++
		s.moved = s.moved || s.lashKnown
		s.movedOnce = s.movedOnce || s.moved
		s.topic = nothing
	case act.MeasureDepthShim:
		s.topic = nothing
	case act.FitPreloadShims:
		s.shimsAt, s.shimsRead = o.Before.DepthShim.MM(), false
	case act.FitPinion:
		s.judged, s.torque, s.torques, s.sawOver, s.rocked = false, 0, 0, false, false
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.TestString:
		s.torques = 0 // what comes is another torque, or read another way
	case act.TurnPinion:
		s.rocked = s.rocked || o.Felt(history.PinionRocks)
	case act.FitSideShims:
		s.sideFits++
		s.sideLoose = false
	case act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
		s.sideLoose = false
	case act.MeasureBacklash:
		s.lashAt = at
	case act.MeasureRunout, act.MeasureCaseRunout:
		s.sought = true
	case act.RemoveCase, act.RemovePinion:
		s.apart = true
	}
}

// runsOut tells whether a reading of runout is above what is specified.
func (s *Scene) runsOut(r gauge.Reading) bool {
	sh := s.sheet()
	switch r.Kind {
	case gauge.PinionRunout:
		return r.Lengths[0].MM() > fault.PinionRunoutLimitMM(sh)
	case gauge.Runout, gauge.RadialRunout:
		return r.Lengths[0].MM() > sh.RunoutMM
	case gauge.CaseRunout:
		return r.Lengths[0].MM() > sh.CaseFlangeRunoutMM
	}
	return false
}

func (s *Scene) learnReading(o history.Step, r gauge.Reading) {
	sh, at := s.sheet(), s.sides(o.After)
	total := at[0] + at[1]
	switch r.Kind {
	case gauge.BearingHeights:
		s.tallMM = r.Lengths[0].MM()
	case gauge.Depth:
		s.depthMM, s.inMockUp, s.topic, s.gauged, s.read = r.Lengths[0].MM(), o.Before.Pinion == history.PinionMockUp, depth, true, true
	case gauge.Pattern:
		s.learnPattern(r)
	case gauge.Backlash:
		mean, least, most := r.Summary()
		s.lashMM, s.lashKnown, s.topic, s.moved, s.read = mean.MM(), true, lash, false, true
		const clearly = 1.5 // of the variation allowed
		s.varies = s.varies || (most-least).MM() > clearly*sh.BacklashSpreadMM
	case gauge.PinionTorque:
		s.torques++
		s.torque += (r.Torques[len(r.Torques)-1].Nmm() - s.torque) / float64(s.torques)
		s.shimsRead, s.read = true, true
		s.sawOver = s.sawOver || s.torque > s.TorqueSpec().HighNmm
	case gauge.TotalTorque, gauge.Runout:
		s.read = true
	case gauge.HousingSpread:
		s.read = true
		if grown := r.Lengths[0].MM(); s.zeroMM == 0 && grown > 0 && s.gains.SpreadPerFit > 0 {
			s.zeroMM = total - grown/s.gains.SpreadPerFit
		}
	case gauge.CaseEndPlay:
		s.read = true
		// A case that does not move shows the indicator's own floor.
		switch play := r.Lengths[0].MM(); {
		case play > 0 && o.Felt(history.CaseFast):
			s.fast = total
		case play > 0:
			s.zeroMM, s.sideLoose, s.fast = total+play, true, 0
		}
	}
}

func (s *Scene) learnPattern(r gauge.Reading) {
	if len(r.Patterns) == 0 {
		return
	}
	var off, long float64
	for _, p := range r.Patterns {
		off += (p.CenterT - s.sheet().PatternHeight.Mid()) / float64(len(r.Patterns))
		long += (p.CenterS - 0.5) / float64(len(r.Patterns))
	}
	if s.topic != pattern {
		s.patterns = 0
	}
	s.patterns++
	s.patternOff += (off - s.patternOff) / float64(s.patterns)
	s.patternLong += (long - s.patternLong) / float64(s.patterns)
	s.patternSeen, s.topic = true, pattern
}

// NewAssembly tells whether the step puts the pinion in anew.
func (s Scene) NewAssembly() bool { return s.form() == act.FitPinion }
