package sim

import (
	"fmt"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// caseWork are the acts with the case in the housing, and those that take it in and out.
func caseWork() map[act.Form]deed {
	sides := history.Changes{Sides: 1}
	capsAre := func(tight bool, why text.Message) need {
		return need{func(s *Stand) bool { return s.capsTight == tight }, always(why)}
	}
	gripped := capsAre(false, text.Say("not.caps-grip", "the torqued caps grip the adjusters: loosen caps first"))
	turn := deed{design: adjustersOnly(), needs: []need{caseIn(), gripped}, asks: adjusterInThread, touches: sides, does: (*Stand).turnAdjuster}
	measure := func(does func(*Stand, carrier.State, act.Act, *history.Step) error, needs ...need) deed {
		return deed{needs: append([]need{caseIn()}, needs...), does: func(s *Stand, a act.Act, out *history.Step) error {
			st, err := s.carrierState()
			if err != nil {
				return err
			}
			return does(s, st, a, out)
		}}
	}
	byTool := func(does func(*Stand, carrier.State, *history.Step)) deed {
		d := measure(func(s *Stand, st carrier.State, _ act.Act, out *history.Step) error {
			does(s, st, out)
			return nil
		})
		d.tool = true
		return d
	}
	caps := func(tight bool, feel history.Feel, needs ...need) deed {
		return deed{needs: append([]need{caseIn()}, needs...), touches: sides, does: plain(func(s *Stand, _ act.Act, out *history.Step) {
			s.capsTight = tight
			out.Feels = append(out.Feels, feel)
			s.changed()
		})}
	}
	loosenCaps := caps(false, history.CapsLoosened, capsAre(true, text.Say("not.caps-snug-already", "the caps are only snug as it is")))
	loosenCaps.design = adjustersOnly()
	return map[act.Form]deed{
		act.SpreadHousing: {design: onlyOn(isSpread, text.Say("not.not-spread", "this housing is not spread: the case goes in without a spreader")),
			needs: []need{caseOut()}, asks: spreadWithinReason, touches: sides,
			does: plain(func(s *Stand, a act.Act, out *history.Step) { s.spreadHousing(lengthOf(a.Amounts[0]), out) })},
		act.FitCase: {needs: []need{
			{func(s *Stand) bool { return !s.caseIn }, always(text.Say("not.case-in-already", "the case is in already"))},
			{func(s *Stand) bool { return s.ringGearMarked > 0 || hasAdjusters(s.fam.Design) }, always(text.Say("not.no-side-shims-chosen", "no side shims are chosen: fit side-shims first"))}},
			touches: sides, does: plain(func(s *Stand, _ act.Act, out *history.Step) { s.fitCase(out) })},
		act.RemoveCase:           {needs: []need{caseIn()}, touches: sides, does: plain(func(s *Stand, _ act.Act, out *history.Step) { s.removeCase(out) })},
		act.TurnRingGearAdjuster: turn,
		act.TurnOppositeAdjuster: turn,
		act.TorqueCaps:           caps(true, history.CapsTorqued, capsAre(false, text.Say("not.caps-torqued-already", "the caps are at torque already"))),
		act.LoosenCaps:           loosenCaps,
		act.MeasureEndPlay: byTool(func(s *Stand, st carrier.State, out *history.Step) {
			s.dial(out, gauge.CaseEndPlay, s.label("end-play"), st.EndPlayMM, s.armNoiseMM()/4)
			if st.EndPlayMM <= 0 {
				out.Feels = append(out.Feels, history.CaseFast)
			}
		}),
		act.MeasureSpread: byTool(func(s *Stand, st carrier.State, out *history.Step) {
			s.dial(out, gauge.HousingSpread, s.label("spread"), st.SpreadMM, s.armNoiseMM())
		}),
		act.MeasureRunout: byTool((*Stand).measureRunout),
		act.MeasureRadialRunout: byTool(func(s *Stand, _ carrier.State, out *history.Step) {
			s.dial(out, gauge.RadialRunout, s.label("rim-runout"), s.axle.RadialMM(), s.armNoiseMM())
		}),
		act.MountIndicator: {needs: []need{caseIn()}, does: plain(func(s *Stand, a act.Act, _ *history.Step) {
			s.mount = &history.Mount{Place: a.Choices[0], Plunger: a.Choices[1], Pinion: a.Choices[2]}
		})},
		act.MeasureBacklash: measure(func(s *Stand, st carrier.State, a act.Act, out *history.Step) error {
			return s.readBacklash(st, int(a.Amounts[0].Number), out)
		}, pinionIn(), need{func(s *Stand) bool { return s.mount != nil },
			always(text.Say("not.indicator-not-mounted", "the indicator is not set up: mount indicator first, and say where, how the plunger stands and whether the pinion is held"))}),
		act.PaintTeeth: {needs: []need{caseIn(), pinionIn()}, does: plain(func(s *Stand, a act.Act, _ *history.Step) { s.compound = a.Choices[0] })},
		act.RollGears: measure(func(s *Stand, st carrier.State, a act.Act, out *history.Step) error {
			return s.readPattern(st, a.Choices[0], out)
		}, need{func(s *Stand) bool { return s.compound != "" }, always(text.Say("not.teeth-bare", "the teeth are bare: paint teeth first"))}),
	}
}

// What a spreader does past the limit: how much of the excess stays, and how far its
// screw will go (estimates).
const (
	growthShare    = 0.3
	mostSpreadPart = 1.8
)

func (s *Stand) spreadHousing(mm float64, out *history.Step) {
	s.spreadMM = mm
	over := mm - s.fam.Sheet.SpreadLimitMM
	if over > 0 {
		s.axle.HousingGrowthMM += growthShare * over
	}
	out.Feels = append(out.Feels, either(over > 0, history.SpreadTooFar, history.SpreaderHolds))
	s.changed()
}

func (s *Stand) removeCase(out *history.Step) {
	if s.axle.BrakeNmm > 0 {
		s.removeShafts(out) // they run in the case
	}
	s.caseIn, s.capsTight, s.mount, s.compound = false, false, nil, ""
	s.changed()
}

// A CaseFit is how the case goes in, and the side bearing preload between which it goes in
// so, mm over zero end play.
type CaseFit struct {
	Finding       gauge.Finding
	LowMM, HighMM float64
}

// CaseFits lists how the case can go in, from loose to not at all, for a housing that
// may be spread so far, mm.
func CaseFits(spreadLimitMM float64) []CaseFit {
	return []CaseFit{
		{gauge.DropsIn, math.Inf(-1), 0},
		{gauge.ByHand, 0, 0.05},
		{gauge.LightTaps, 0.05, 0.15},
		{gauge.FirmTaps, 0.15, 0.28},
		{gauge.HardBlows, 0.28, spreadLimitMM},
		{gauge.WillNotEnter, spreadLimitMM, math.Inf(1)},
	}
}

// CaseFitsOf lists how the case can go into an axle of a family.
func CaseFitsOf(fam family.Family) []CaseFit {
	if fam.Design.Entry == family.Spreader {
		return spreadCaseFits()
	}
	return CaseFits(fam.Sheet.SpreadLimitMM)
}

// spreadCaseFits lists how the case goes into a housing that takes a spreader, against what
// the shims stand over it as it is then.
func spreadCaseFits() []CaseFit {
	return []CaseFit{
		{gauge.DropsIn, math.Inf(-1), -0.02},
		{gauge.ByHand, -0.02, 0.05},
		{gauge.NeedsSpreader, 0.05, math.Inf(1)},
	}
}

// turnAdjuster screws a bearing adjuster in or out. It stops where the housing would be
// spread past its limit.
func (s *Stand) turnAdjuster(a act.Act, out *history.Step) error {
	n := a.Amounts[0].Number
	if a.Choices[0] == act.Out {
		n = -n
	}
	adjuster := &s.ringGearNotches
	if a.Form == act.TurnOppositeAdjuster {
		adjuster = &s.oppositeNotches
	}
	before := *adjuster
	*adjuster += n
	ringGear, opposite := s.axle.FitMM(s.sides())
	if travel := s.fam.Design.Rings.NotchTravelMM(); n > 0 && ringGear+opposite > s.fam.Sheet.SpreadLimitMM {
		*adjuster = math.Max(before, *adjuster-math.Ceil(2*(ringGear+opposite-s.fam.Sheet.SpreadLimitMM)/travel)/2)
		out.Feels = append(out.Feels, history.AdjusterStopped)
	}
	st, err := s.carrierState()
	if err != nil {
		*adjuster = before
		return err
	}
	out.Readings = append(out.Readings, gauge.Reading{Kind: gauge.AdjusterTurn, Notches: *adjuster - before})
	feel := history.NoSidePlay
	switch {
	case st.EndPlayMM > EndPlayTraceMM:
		feel = history.CaseSlides
	case st.EndPlayMM > 0:
		feel = history.CaseClicks
	case n > 0:
		feel = history.AdjusterTightens
	}
	out.Feels = append(out.Feels, feel)
	s.changed()
	return nil
}

func (s *Stand) fitCase(out *history.Step) {
	if s.fam.Design.SideAdjust == family.BearingAdjusters {
		feel := history.AdjustersAsLeft
		if !s.adjustersUp {
			// Run up by hand to the cups: the notches count from here.
			s.adjustersUp, feel = true, history.AdjustersRunUp
			s.axle.RingGearZeroMM = s.axle.RingAwayMM + s.axle.RingGearConeGapMM
			s.axle.OppositeZeroMM = s.axle.RingPlayMM - s.axle.RingAwayMM + s.axle.OppositeConeGapMM
		}
		s.caseGoesIn(out)
		out.Feels = append(out.Feels, feel)
		return
	}
	ringGear, opposite := s.axle.FitMM(s.sides())
	fit := ringGear + opposite - s.spreadMM
	r := gauge.Reading{Kind: gauge.CaseEntry}
	for _, f := range CaseFitsOf(s.fam) {
		if fit > f.LowMM {
			r.Finding = f.Finding
		}
	}
	out.Readings = append(out.Readings, r)
	if r.Wrong() {
		return
	}
	if s.spreadMM > 0 {
		s.spreadMM = 0
		out.Feels = append(out.Feels, history.SpreaderOff)
	}
	s.caseGoesIn(out)
}

// caseGoesIn is what follows however the case went in.
func (s *Stand) caseGoesIn(out *history.Step) {
	s.caseIn, s.capsTight = true, false
	s.caseFits++
	s.changed()
	out.Feels = append(out.Feels, history.CapsSnug)
}

func (s *Stand) measureRunout(st carrier.State, out *history.Step) {
	label := s.label("runout")
	loose := (st.EndPlayMM + 2*s.axle.GearLooseMM) * s.chance(label).Uniform(0, 1)
	s.dial(out, gauge.Runout, label, s.axle.RunoutMM()+loose, s.armNoiseMM())
	if s.axle.WarpTIRMM > s.fam.Sheet.RunoutMM {
		out.Feels = append(out.Feels, history.TwoWaves)
	}
}

// armNoiseMM is what a loose indicator arm adds to every reading taken with it.
func (s *Stand) armNoiseMM() float64 {
	if s.axle.IndicatorLoose {
		return LooseArmMM
	}
	return 0
}

func (s *Stand) readBacklash(st carrier.State, places int, out *history.Step) error {
	c, _ := gauge.ClassOf(gauge.DialIndicator)
	r := gauge.Reading{Kind: gauge.Backlash, Tool: gauge.DialIndicator, StdMM: c.StandardUncertainty(0, 1),
		Method: gauge.Method{Place: s.mount.Place, Plunger: s.mount.Plunger, Pinion: s.mount.Pinion}}
	sees := PlungerShare(s.gears, s.fam.Model.Gears.RingDiameterMM/2, s.mount.Place, s.mount.Plunger)
	label := s.label("backlash")
	bound := false
	for k := range places {
		at := fmt.Sprintf("%s/%d", label, k)
		ch := s.chance(at)
		pushed, phase := ch.Uniform(0, 1), ch.Uniform(0, 1)
		b, err := s.backlashMM(st, 2*math.Pi*float64(k)/float64(places), pushed, phase)
		if err != nil {
			return err
		}
		bound = bound || b <= 0
		b = math.Max(b, 0)
		if s.mount.Pinion == act.PinionFree {
			// Bearing and spline play ride along when the pinion is not held.
			b += FreePinionMM + ch.Uniform(0, FreePinionMM)
		}
		v := s.kit.Read(gauge.DialIndicator, b*sees, at, s.armNoiseMM())
		r.Lengths = append(r.Lengths, quantity.Millimetres(math.Max(v, 0)))
	}
	out.Readings = append(out.Readings, r)
	if bound {
		out.Feels = append(out.Feels, history.GearsBind)
	}
	return nil
}

// What a hand-rolled pattern looks like: compound film left by a thick coat, mm, what is
// left of a film where no brake presses it out, and how closely an eye places its center,
// share of the tooth.
const (
	thickFilmMM = 0.020
	freeFilm    = 0.45
	eyeShare    = 0.020
	patternCols = 48
	patternRows = 16
)

// eyeOf is how closely an eye places the center of a pattern taken in a way, as a standard
// deviation, share of the tooth.
func eyeOf(m gauge.Method) float64 {
	eye := eyeShare
	if m.Coat == act.Thick {
		eye *= 2
	}
	if m.Load == act.Free {
		eye *= 2.5
	}
	return eye
}

// EyeStd is the standard uncertainty of a pattern's center, as a share of the tooth, for a
// way of taking it.
func EyeStd(m gauge.Method) float64 { return math.Hypot(eyeOf(m), 0.01/math.Sqrt(12)) }

func (s *Stand) readPattern(st carrier.State, load act.Option, out *history.Step) error {
	label := s.label("print")
	ch := s.chance(label)
	how := gauge.Method{Coat: s.compound, Load: load}
	film := ThinFilmMM * FilmShare(how.Coat == act.Thick, how.Load == act.Free)
	angle := ch.Uniform(0, 2*math.Pi) // where the marked teeth are
	if err := s.contact.Move(s.gearPosition(st, angle, ch.Uniform(0, 1))); err != nil {
		return err
	}
	if s.contact.Backlash().MeanMM <= 0 {
		out.Feels = append(out.Feels, history.GearsWillNotRoll)
		return nil
	}
	r := gauge.Reading{Kind: gauge.Pattern, Tool: gauge.EyeOnCompound, Method: how}
	for _, fl := range s.fam.Design.Flanks() {
		r.Patterns = append(r.Patterns, s.pattern(fl, film, eyeOf(how), label))
	}
	out.Readings = append(out.Readings, r)
	s.compound = ""
	return nil
}

// pattern draws one flank's pattern and judges its place as an eye would.
func (s *Stand) pattern(fl mesh.Flank, film, eye float64, label string) gauge.ToothPattern {
	ch := s.chance(label + "/" + fl.String())
	pat := s.contact.Pattern(fl, film)
	sep := s.contact.Separation(fl, patternCols, patternRows, nil)
	p := gauge.ToothPattern{Flank: s.fam.Design.FlankName(fl), Crossed: s.fam.Design.DriveFlank == family.Concave, Cols: patternCols, Rows: patternRows, Ink: make([]float64, len(sep))}
	for i, d := range sep {
		ink := gauge.Ink(d, film)
		ink += ch.Normal(0, 0.06)
		p.Ink[i] = share(ink)
	}
	// However badly the eye judges, it puts the center on the tooth.
	p.CenterS = hundredth(share(pat.CenterS + ch.Normal(0, eye)))
	p.CenterT = hundredth(share(pat.CenterT + ch.Normal(0, eye)))
	p.LengthPart = hundredth(pat.MaxS - pat.MinS)
	p.HeightPart = hundredth(pat.MaxT - pat.MinT)
	p.AreaPart = hundredth(pat.AreaShare)
	return p
}

// share keeps a place on the tooth, 0 to 1.
func share(x float64) float64 { return math.Max(0, math.Min(1, x)) }

func hundredth(x float64) float64 { return math.Round(x*100) / 100 }

// paperWork are the acts that write and sign.
func paperWork() map[act.Form]deed {
	return map[act.Form]deed{
		act.ExpectValue: {does: plain(func(*Stand, act.Act, *history.Step) {})},
		act.RecordValue: {does: plain(func(s *Stand, a act.Act, _ *history.Step) {
			s.record(history.Entry{Item: a.Choices[0], Value: a.Amounts[0]})
		})},
		act.SignOff: {needs: []need{
			{func(s *Stand) bool { return s.goal != history.DepthChosen || s.depthMarked > 0 }, always(text.Say("not.nothing-to-sign", "no depth shim is chosen: there is nothing to sign for yet"))},
			{func(s *Stand) bool { return s.goal == history.DepthChosen || s.mode == history.PinionFinal },
				always(text.Say("not.not-final", "the pinion is not in its final assembly: there is no axle to sign off yet"))},
			{func(s *Stand) bool { return s.goal != history.WholeAxle || s.caseIn }, always(text.Say("not.no-case-to-sign", "the case is not in: there is no axle to sign off yet"))},
		}, does: plain(func(s *Stand, _ act.Act, _ *history.Step) { s.signed = true })},
	}
}

func (s *Stand) record(e history.Entry) {
	for i := range s.sheet {
		if s.sheet[i].Item == e.Item {
			s.sheet[i] = e
			return
		}
	}
	s.sheet = append(s.sheet, e)
}
