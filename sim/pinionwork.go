package sim

import (
	"fmt"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// pinionWork are the acts on the pinion in its housing.
func pinionWork() map[act.Form]deed {
	preload := history.Changes{Preload: 1}
	nut := []need{{func(s *Stand) bool { return s.mode != history.PinionMockUp },
		always(text.Say("not.mock-up-nut", "the mock-up has no spacer and its nut is only snugged: fit pinion final to set preload"))}, pinionIn()}
	inAndOut := history.Changes{Depth: 1, Preload: 1}
	return map[act.Form]deed{
		act.FitPinion: {needs: append(pinionOut(), depthShimChosen(text.Say("not.no-depth-shim", "no depth shim is chosen: fit depth-shim first"))),
			asks: preloadShimsChosen, touches: inAndOut,
			does: func(s *Stand, a act.Act, out *history.Step) error { return s.fitPinion(a.Choices[0] == act.Final, out) }},
		act.RemovePinion: {needs: []need{caseOut(), {func(s *Stand) bool { return s.mode != history.PinionOut },
			always(text.Say("not.pinion-out-already", "the pinion is out already"))}}, touches: inAndOut,
			does: plain(func(s *Stand, _ act.Act, out *history.Step) { s.removePinion(out) })},
		act.TurnPinion:       {needs: []need{pinionIn()}, asks: enoughTurns, does: plain((*Stand).turnPinion)},
		act.TightenNutAngle:  {needs: nut, asks: oneCarefulPull, touches: preload, does: plain((*Stand).turnNut)},
		act.LoosenNut:        {needs: nut, asks: oneCarefulPull, touches: preload, does: plain((*Stand).turnNut)},
		act.TightenNutTorque: {needs: nut, asks: withinWrench, touches: preload, does: plain((*Stand).tightenTo)},
		act.MeasureDepth: {needs: []need{pinionIn(), {func(s *Stand) bool { return !s.caseIn },
			always(text.Say("not.gauge-needs-bores", "the depth gauge needs the bores: remove case first"))}}, tool: true,
			does: plain(func(s *Stand, _ act.Act, out *history.Step) { s.measureDepth(out) })},
		act.MeasurePinionEndPlay: {needs: []need{pinionIn()}, tool: true,
			does: plain(func(s *Stand, _ act.Act, out *history.Step) {
				s.dial(out, gauge.PinionEndPlay, s.label("pinion-play"), s.build.Forces().EndPlayMM, s.armNoiseMM()/4)
			})},
		act.MeasureTorque: {needs: []need{pinionIn()}, does: func(s *Stand, a act.Act, out *history.Step) error { return s.readTorque(a, out) }},
	}
}

// dial adds a reading of the dial indicator, which shows nothing below zero.
func (s *Stand) dial(out *history.Step, k gauge.Kind, label string, trueMM, extraRepeat float64) {
	c, _ := gauge.ClassOf(gauge.DialIndicator)
	v := s.kit.Read(gauge.DialIndicator, trueMM, label, extraRepeat)
	out.Readings = append(out.Readings, gauge.Reading{Kind: k, Tool: gauge.DialIndicator,
		Lengths: []quantity.Length{quantity.Millimetres(math.Max(v, 0))}, StdMM: c.StandardUncertainty(0, 1)})
}

func (s *Stand) measureDepth(out *history.Step) {
	c, _ := gauge.ClassOf(gauge.DepthGauge)
	label := s.label("depth")
	d := s.axle.CheckingDistanceMM + s.depthErrorMM() + s.axle.GaugeOffMM
	if w := s.axle.Sum().PinionWanderMM; w > 0 {
		d += s.chance(label).Uniform(-w, w)
	}
	v := s.kit.Read(gauge.DepthGauge, d, label, 0)
	out.Readings = append(out.Readings, gauge.Reading{Kind: gauge.Depth, Tool: gauge.DepthGauge,
		Lengths: []quantity.Length{quantity.Millimetres(v)}, StdMM: c.StandardUncertainty(0, 1)})
}

func (s *Stand) removePinion(out *history.Step) {
	if s.mode == history.PinionFinal {
		s.finalOut(out)
	}
	// A cup that preload has pushed against its shoulder stays there.
	if s.build.InnerGapMM() == 0 {
		s.axle.InnerCupGapMM = 0
	}
	if s.build.OuterGapMM() == 0 {
		s.axle.OuterCupGapMM = 0
	}
	s.mode, s.build, s.backedOff, s.unseen = history.PinionOut, nil, false, false
	s.nut, s.turns = history.Nut{}, 0
	s.changed()
}

func (s *Stand) turnPinion(a act.Act, out *history.Step) {
	s.build.RollPinion(a.Amounts[0].Number)
	s.turns += a.Amounts[0].Number
	s.nut.Unsettled = false
	f := history.PinionSmooth
	switch {
	case s.build.Forces().EndPlayMM > 0:
		f = history.PinionRocks
	case s.bound():
		f = history.PinionBound
	}
	out.Feels = append(out.Feels, f)
	s.changed()
}

// bound tells whether the gears bind with the case in.
func (s *Stand) bound() bool {
	if !s.caseIn {
		return false
	}
	st, err := s.carrierState()
	if err != nil {
		return false
	}
	b, err := s.backlashMM(st, 0, 0.5, 0.5)
	return err == nil && b <= 0
}

// ChalkDeg is how closely a person stops at a chalk mark, as a standard deviation, degrees
// (common practice, no source).
const ChalkDeg = 0.5

func (s *Stand) turnNut(a act.Act, out *history.Step) {
	asked := a.Amounts[0].Number
	deg := math.Max(asked+s.chance("nut/"+s.label("pull")).Normal(0, ChalkDeg), 0.1)
	if a.Form == act.LoosenNut {
		deg, asked = -deg, -asked
		// A nut that has not yet reached its spacer loses nothing by coming back.
		if f := s.build.Forces(); !s.backedOff && f.SpacerN > 0 {
			s.backedOff, s.furthestDeg = true, s.build.NutAngleDeg()
		}
		s.unseen = false
	}
	s.pulled(s.build.TurnNut(deg), a.Form, asked, out)
	s.goneFurther()
}

func (s *Stand) tightenTo(a act.Act, out *history.Step) {
	t, _ := a.Amounts[0].Torque()
	p := s.build.TurnNutToTorque(s.kit.True(gauge.NutWrench, t.Nmm()), maxPullDeg)
	s.pulled(p, a.Form, math.Round(p.TurnedDeg), out)
	s.goneFurther()
}

// goneFurther forgets a back-off once the nut holds as it did before: a solid spacer has
// no memory and asks only for the nut's torque; a crushed one asks for more crush.
func (s *Stand) goneFurther() {
	if s.fam.Design.Preload == family.SolidSpacer {
		s.backedOff = s.backedOff && s.build.ForwardTorqueNmm() < s.fam.Sheet.NutLow.Nmm()
		return
	}
	s.backedOff = s.backedOff && s.build.NutAngleDeg() <= s.furthestDeg
}

// finalOut takes a final assembly apart.
func (s *Stand) finalOut(out *history.Step) {
	if s.fam.Design.Preload == family.SolidSpacer {
		out.Feels = append(out.Feels, history.SpacerReused)
		return
	}
	s.spacersUsed++
	s.axle.NutGripGone = false
	out.Parts = append(out.Parts, shop.SpacerAndNut)
	out.Feels = append(out.Feels, history.SpacerScrapped)
}

// Of a mock-up: how much of the finished preload its nut is snugged to, and how often the
// pinion is turned (common practice, no source).
const (
	MockUpPreloadShare = 0.9
	mockUpTurns        = 6
)

func (s *Stand) fitPinion(final bool, out *history.Step) error {
	b, err := pinion.New(s.axle.Params(s.pinionAs(!final)))
	if err != nil {
		return fmt.Errorf("the pinion cannot be built in: %w", err)
	}
	s.build, s.backedOff, s.nut, s.turns = b, false, history.Nut{}, 0
	s.mode = history.PinionMockUp
	if final {
		s.mode = history.PinionFinal
		out.Feels = append(out.Feels, either(isSolid(s.fam.Design), history.BuiltFinalSolid, history.BuiltFinal))
	} else {
		snug := b.Params().Thread.TighteningNmm(MockUpPreloadShare * s.axle.ReferencePreloadN())
		b.TurnNutToTorque(snug, 4*maxPullDeg)
		b.RollPinion(mockUpTurns)
		b.TurnNutToTorque(snug, 4*maxPullDeg)
		s.nut.Contact, s.turns = true, mockUpTurns
		out.Feels = append(out.Feels, history.BuiltMockUp)
	}
	s.pinionFits++
	s.changed()
	return nil
}

// EndPlayTraceMM is where the feel at the yoke changes from plenty of end play to a trace,
// mm (estimate).
const EndPlayTraceMM = 0.10

// pulled reports a move of the nut by so many degrees as anyone counts them: the wrench's
// reading and what is felt.
func (s *Stand) pulled(p pinion.Pull, f act.Form, countedDeg float64, out *history.Step) {
	c, _ := gauge.ClassOf(gauge.NutWrench)
	v := math.Max(s.kit.Read(gauge.NutWrench, math.Abs(p.TorqueNmm), s.label("nut"), 0), 0) // a wrench shows nothing below zero
	kind := gauge.NutTorque
	if f == act.LoosenNut {
		kind = gauge.NutLoosening
	}
	out.Readings = append(out.Readings, gauge.Reading{Kind: kind, Tool: gauge.NutWrench,
		Torques: []quantity.Torque{quantity.Torque(v)}, StdNmm: c.StandardUncertainty(v, 1)})
	if f == act.TightenNutTorque {
		switch {
		case !p.Reached:
			out.Feels = append(out.Feels, history.WrenchNeverThere)
		case p.TurnedDeg < 1:
			out.Feels = append(out.Feels, history.WrenchClickedFirst)
		}
		out.Readings = append(out.Readings, gauge.Reading{Kind: gauge.NutAngle, Degrees: countedDeg})
	}
	if p.Bottomed {
		out.Feels = append(out.Feels, history.SpacerBottomed)
	}
	feel := history.NoEndPlay
	switch forces := s.build.Forces(); {
	case forces.EndPlayMM > EndPlayTraceMM:
		feel = history.PlentyOfEndPlay
	case forces.EndPlayMM > 0:
		feel = history.TraceOfEndPlay
	}
	out.Feels = append(out.Feels, feel)
	s.nutMoved(kind, quantity.Torque(v), countedDeg, feel)
	s.changed()
}

// nutMoved keeps what anyone knows of the nut.
func (s *Stand) nutMoved(k gauge.Kind, shown quantity.Torque, countedDeg float64, feel history.Feel) {
	n := &s.nut
	n.Moved, n.Read = true, false
	if k == gauge.NutTorque {
		n.Torque, n.Unsettled = shown, true
	}
	switch {
	case countedDeg < 0:
		n.Back, n.BackDeg = true, n.BackDeg-countedDeg
	case n.Back:
		n.Back = n.BackDeg-countedDeg >= 0
		n.BackDeg = math.Max(n.BackDeg-countedDeg, 0)
	}
	n.Contact = n.Contact || feel == history.NoEndPlay || isSolid(s.fam.Design)
}

func (s *Stand) readTorque(a act.Act, out *history.Step) error {
	pull := a.Choices[0]
	t, err := s.torque(pull == act.Breakaway)
	if err != nil {
		return err
	}
	tool := gauge.LowRangeWrench
	if a.Choices[1] == act.String {
		tool = gauge.StringAndScale
	}
	c, _ := gauge.ClassOf(tool)
	r := gauge.Reading{Kind: gauge.PinionTorque, Tool: tool, Method: gauge.Method{Pull: pull}, StdNmm: c.StandardUncertainty(t.MeanNmm, 1)}
	if s.caseIn {
		r.Kind = gauge.TotalTorque
	}
	label := s.label("drag/" + tool.Stream())
	read := func(nmm float64, label string) quantity.Torque {
		return quantity.Torque(math.Max(s.kit.Read(tool, math.Max(nmm, 0), label, 0), 0))
	}
	if t.SwingNmm > 0 {
		r.Torques = []quantity.Torque{read(t.MeanNmm-t.SwingNmm/2, label+"/low"), read(t.MeanNmm+t.SwingNmm/2, label+"/high")}
		switch {
		case s.axle.NotchNmm > 0:
			out.Feels = append(out.Feels, history.NotchOnceATurn)
		case s.axle.GritNmm > 0:
			out.Feels = append(out.Feels, history.GratesAsItTurns)
		}
	} else {
		r.Torques = []quantity.Torque{read(t.MeanNmm, label)}
	}
	if s.caseIn && s.axle.Sum().CaseNmm > 0 {
		out.Feels = append(out.Feels, history.CaseTurnsRough)
	}
	out.Readings = append(out.Readings, r)
	s.nut.Read = true
	if pull == act.Rotating {
		// Turning it to read it also seats the rollers, after the reading.
		s.build.RollPinion(2)
		s.turns += 2
	}
	return nil
}
