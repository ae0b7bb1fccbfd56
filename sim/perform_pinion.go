package sim

import (
	"fmt"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// replaceBearings puts in the next pair of pinion bearings. The head bearing has its own
// height, which goes into the pinion's place, the play between the cups and the difference
// to the set-up bearing.
func (s *Stand) replaceBearings(out *Outcome) {
	x, taller := s.axle, s.axle.NextTallerMM
	if s.fam.Design.ThickerIsDeeper() {
		x.IdealShimMM -= taller
	} else {
		x.IdealShimMM += taller
	}
	if s.fam.Design.DepthShim != family.BehindInnerCup {
		// Behind the cup the right shim takes back what the bearing takes up.
		x.EndPlayAtContactMM -= taller
		x.ZeroPlayPreloadShimMM += taller
	}
	x.SetUpTallMM -= taller
	x.NextTallerMM, x.NotchNmm, x.GritNmm = 0, 0, 0 // any further pair is of the same lot
	x.InnerCupGapMM, x.OuterCupGapMM = 0, 0
	s.greased = false
	out.Parts = append(out.Parts, shop.Bearings)
	out.note("new cones and cups, pressed home and oiled; their height is their own, so measure them and gauge the depth again")
}

// replaceGears puts in another ring and pinion that were lapped together. Its pinion
// carries the same mark; what a mark leaves out is its own, and moves the pinion's right
// height and right shim together. The ring gear is bolted on clean and in stages.
func (s *Stand) replaceGears(out *Outcome) error {
	x := s.axle
	gears, err := s.gears.With(x.NextDrive, x.NextCoast, x.DesignLashMM)
	if err != nil {
		return fmt.Errorf("the other set: %w", err)
	}
	s.gears, s.contact = gears, gears.NewContact()
	x.Drive, x.Coast = x.NextDrive, x.NextCoast
	x.IdealShimMM += x.NextMarkMM
	if s.fam.Design.ThickerIsDeeper() {
		x.CheckingDistanceMM -= x.NextMarkMM
	} else {
		x.CheckingDistanceMM += x.NextMarkMM
	}
	if s.fam.Design.DepthShim == family.BehindInnerCup {
		// The shim that is right now stands the cups so much further apart.
		x.EndPlayAtContactMM -= x.NextMarkMM
		x.ZeroPlayPreloadShimMM += x.NextMarkMM
	}
	x.NextMarkMM = 0 // any further set is of the same lot
	x.MixedShare, x.GearShortMM, x.WarpTIRMM, x.PinionTIRMM = 0, 0, 0, 0
	x.GearDirtTIRMM, x.BoltsTIRMM, x.RadialTIRMM, x.GearLooseMM = 0, 0, 0, 0
	out.Parts = append(out.Parts, shop.GearSet, shop.GearBolts)
	out.note("another ring and pinion of one set, with the same depth mark; the ring gear is bolted on clean")
	s.changed()
	return nil
}

func (s *Stand) replaceSlinger(out *Outcome) {
	if s.axle.SlingerOutMM > 0 {
		out.Parts = append(out.Parts, shop.Slinger)
		out.note("the oil slinger lies under the shim, as the pack was reckoned")
	} else {
		out.note("the oil slinger was there")
	}
	s.axle.SlingerOutMM = 0
}

// performPinion does the acts on the pinion in its housing.
func (s *Stand) performPinion(a act.Act, out *Outcome) error {
	switch a.Form {
	case act.FitPinion:
		return s.fitPinion(a.Choices[0] == "final", out)
	case act.RemovePinion:
		if s.mode == PinionFinal {
			s.finalOut(out)
		}
		// A cup that preload has pushed home stays home.
		if s.build.InnerGapMM() == 0 {
			s.axle.InnerCupGapMM = 0
		}
		if s.build.OuterGapMM() == 0 {
			s.axle.OuterCupGapMM = 0
		}
		s.mode, s.build, s.backedOff = PinionOut, nil, false
		s.changed()
	case act.TurnPinion:
		s.build.RollPinion(a.Amounts[0].Number)
		if s.build.Forces().EndPlayMM > 0 {
			out.note("the pinion turns freely and rocks: there is end play")
		} else {
			out.note("the pinion turns smoothly")
		}
		s.changed()
	case act.TightenNutAngle, act.LoosenNut:
		const handDeg = 0.5 // how closely a person stops at a chalk mark
		deg := a.Amounts[0].Number + s.chance("nut/"+s.label("pull")).Normal(0, handDeg)
		deg = math.Max(deg, 0.1)
		if a.Form == act.LoosenNut {
			deg = -deg
			// A nut that has not yet reached its spacer loses nothing by coming back.
			if f := s.build.Forces(); !s.backedOff && f.SpacerN > 0 {
				s.backedOff, s.furthestDeg = true, s.build.NutAngleDeg()
			}
		}
		s.pulled(s.build.TurnNut(deg), a.Form, out)
		s.goneFurther()
	case act.TightenNutTorque:
		t, _ := a.Amounts[0].Torque()
		s.pulled(s.build.TurnNutToTorque(s.kit.True(gauge.NutWrench, t.Nmm()), maxPullDeg), a.Form, out)
		s.goneFurther()
	case act.MeasureDepth:
		c, _ := gauge.ClassOf(gauge.DepthGauge)
		d := s.axle.CheckingDistanceMM + s.depthErrorMM() + s.axle.GaugeOffMM
		v := s.kit.Read(gauge.DepthGauge, d, s.label("depth"), 0)
		out.Readings = append(out.Readings, gauge.Reading{What: "depth", Tool: gauge.DepthGauge, How: "pinion head to ring gear axis",
			Lengths: []quantity.Length{quantity.Millimetres(v)}, StdMM: c.StandardUncertainty(0, 1)})
	case act.MeasurePinionEndPlay:
		c, _ := gauge.ClassOf(gauge.DialIndicator)
		v := s.kit.Read(gauge.DialIndicator, s.build.Forces().EndPlayMM, s.label("pinion-play"), s.armNoiseMM()/4)
		out.Readings = append(out.Readings, gauge.Reading{What: "pinion-play", Tool: gauge.DialIndicator, How: "flange pushed and pulled",
			Lengths: []quantity.Length{quantity.Millimetres(math.Max(v, 0))}, StdMM: c.StandardUncertainty(0, 1)})
	case act.MeasureTorque:
		return s.readTorque(a, out)
	}
	return nil
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

// finalOut takes a final build apart.
func (s *Stand) finalOut(out *Outcome) {
	if s.fam.Design.Preload == family.SolidSpacer {
		out.note("spacer and pack lie ready to be used again")
		return
	}
	s.spacersUsed++
	s.axle.NutGripGone = false
	out.Parts = append(out.Parts, shop.SpacerAndNut)
	out.note("the spacer and nut of that build are scrap; a new pair lies ready")
}

func (s *Stand) fitPinion(final bool, out *Outcome) error {
	b, err := pinion.New(s.axle.Params(s.pinionAs(!final)))
	if err != nil {
		return fmt.Errorf("the pinion cannot be built in: %w", err)
	}
	s.build, s.backedOff = b, false
	s.mode = PinionMockUp
	if final {
		s.mode = PinionFinal
		if s.fam.Design.Preload == family.SolidSpacer {
			out.note("spacer, pack, seal, flange and nut are in; the nut is finger tight")
		} else {
			out.note("spacer, seal, flange and nut are in; the nut is finger tight and the pinion has end play")
		}
	} else {
		nipped := b.Params().Thread.TighteningNmm(mockUpShare * s.axle.ReferencePreloadN())
		b.TurnNutToTorque(nipped, 4*maxPullDeg)
		b.RollPinion(6)
		b.TurnNutToTorque(nipped, 4*maxPullDeg)
		out.note("set-up bearing in, no spacer, no seal; the nut is nipped until the pinion turns with a little drag, and it has been turned")
	}
	s.pinionFits++
	s.changed()
	return nil
}

// pulled reports a move of the nut: the wrench's reading and what the hand feels.
func (s *Stand) pulled(p pinion.Pull, f act.Form, out *Outcome) {
	c, _ := gauge.ClassOf(gauge.NutWrench)
	v := s.kit.Read(gauge.NutWrench, math.Abs(p.TorqueNmm), s.label("nut"), 0)
	what, how := "nut-torque", "at the end of the pull"
	if f == act.LoosenNut {
		what, how = "nut-loosening", "while loosening"
	}
	out.Readings = append(out.Readings, gauge.Reading{What: what, Tool: gauge.NutWrench, How: how,
		Torques: []quantity.Torque{quantity.Torque(v)}, StdNmm: c.StandardUncertainty(v, 1)})
	if f == act.TightenNutTorque {
		switch {
		case !p.Reached:
			out.note("the nut went round and the wrench never got there: the pull was stopped")
		case p.TurnedDeg < 1:
			out.note("the wrench clicked before the nut moved: it takes more than that to turn it now")
		}
		out.Readings = append(out.Readings, gauge.Reading{What: "nut-angle", How: "turned", Degrees: math.Round(p.TurnedDeg)})
	}
	if p.Bottomed {
		out.note("the pull turns hard all at once: the spacer has nothing left to give")
	}
	switch forces := s.build.Forces(); {
	case forces.EndPlayMM > EndPlayTraceMM:
		out.note("the flange still pushes and pulls freely: plenty of end play")
	case forces.EndPlayMM > 0:
		out.note("the flange still clicks when pushed and pulled: a trace of end play")
	default:
		out.note("no end play can be felt")
	}
	s.changed()
}

func (s *Stand) readTorque(a act.Act, out *Outcome) error {
	first := a.Choices[0] == "breakaway"
	t, err := s.torque(first)
	if err != nil {
		return err
	}
	torque, swing := t.MeanNmm, t.SwingNmm
	tool := gauge.LowRangeWrench
	if a.Choices[1] == "string" {
		tool = gauge.StringAndScale
	}
	what := "pinion-torque"
	if s.caseIn {
		what = "total-torque"
	}
	c, _ := gauge.ClassOf(tool)
	r := gauge.Reading{What: what, Tool: tool, How: a.Choices[0]}
	label := s.label("drag/" + string(tool))
	if swing > 0 {
		low := s.kit.Read(tool, math.Max(torque-swing/2, 0), label+"/low", 0)
		high := s.kit.Read(tool, torque+swing/2, label+"/high", 0)
		r.Torques = []quantity.Torque{quantity.Torque(math.Max(low, 0)), quantity.Torque(high)}
		if s.axle.NotchNmm > 0 {
			out.note("it goes tight and easy again within a turn of the pinion")
		} else if s.axle.GritNmm > 0 {
			out.note("it grates and catches, now here and now there")
		}
		if s.caseIn && (s.axle.CapsSwapped || s.axle.CapRotated) {
			out.note("it goes tight and easy again once for every turn of the ring gear")
		}
	} else {
		r.Torques = []quantity.Torque{quantity.Torque(math.Max(s.kit.Read(tool, torque, label, 0), 0))}
	}
	r.StdNmm = c.StandardUncertainty(torque, 1)
	out.Readings = append(out.Readings, r)
	if !first {
		// Turning it to read it also seats the rollers, after the reading.
		s.build.RollPinion(2)
	}
	return nil
}
