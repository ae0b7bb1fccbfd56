package sim

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// seenMM is a gap that a feeler gauge finds.
const seenMM = 0.02

// inspections are the acts that look at or measure parts by themselves.
func inspections() map[act.Form]deed {
	look := func(needs []need, does func(*Stand, *history.Step)) deed {
		return deed{needs: needs, tool: true, does: plain(func(s *Stand, _ act.Act, out *history.Step) { does(s, out) })}
	}
	sealIn := notFinal(text.Say("not.seal-in", "the seal is in the axle under the yoke: remove pinion first"))
	return map[act.Form]deed{
		act.InspectCups:     look(pinionOut(), (*Stand).inspectCups),
		act.InspectBearings: look(pinionOut(), (*Stand).inspectBearings),
		act.InspectSpacer:   look([]need{spacerAtHand()}, (*Stand).inspectSpacer),
		act.InspectCones:    look([]need{caseOut()}, (*Stand).inspectCones),
		act.InspectCaps:     look(nil, (*Stand).inspectCaps),
		act.InspectSeal:     look([]need{sealIn}, (*Stand).inspectSeal),
		act.InspectShimSeat: look(pinionOut(), (*Stand).inspectShimSeat),
		act.InspectBolts:    look([]need{caseOut()}, (*Stand).inspectBolts),
		act.InspectShafts:   look([]need{shaftsCanBeIn()}, (*Stand).inspectShafts),
		act.InspectGears:    look(pinionOut(), (*Stand).inspectGears),
		act.MeasureBearings: look(pinionOut(), func(s *Stand, out *history.Step) {
			s.length(out, gauge.Reading{Kind: gauge.BearingHeights}, gauge.Micrometer, "bearing-heights", s.axle.SetUpTallMM)
		}),
		act.MeasurePinionRunout: look(pinionOut(), func(s *Stand, out *history.Step) {
			s.length(out, gauge.Reading{Kind: gauge.PinionRunout}, gauge.DialIndicator, "pinion-runout", s.axle.PinionTIRMM)
		}),
		act.MeasureDepthShim: look([]need{depthShimAtHand(), depthShimChosen(text.Say("not.no-depth-shim-in-hand", "no depth shim is in hand: fit depth-shim first"))},
			func(s *Stand, out *history.Step) {
				s.length(out, gauge.Reading{Kind: gauge.DepthShimSize}, gauge.Micrometer, "depth-shim", s.actualDepthShim())
			}),
		act.MeasureSideShims: {design: sideShimsOnly(), tool: true, needs: []need{caseOut(), {func(s *Stand) bool { return s.ringGearMarked > 0 },
			always(text.Say("not.no-side-shims-in-hand", "no side shims are in hand: fit side-shims first"))}},
			does: plain(func(s *Stand, _ act.Act, out *history.Step) {
				in := s.sides() // the very shims that the case is fitted with
				s.length(out, gauge.Reading{Kind: gauge.SideShimSizes}, gauge.Micrometer, "side-shims", in.RingGearMM, in.OppositeMM)
			})},
		act.MeasureCaseRunout: {needs: []need{caseOut()}, tool: true, touches: history.Changes{Parts: 1},
			does: plain(func(s *Stand, _ act.Act, out *history.Step) { s.measureCaseRunout(out) })},
		act.TestIndicator: look(nil, (*Stand).testIndicator),
		act.TestString:    look(nil, (*Stand).testString),
		act.TestGauge:     look(nil, (*Stand).testGauge),
	}
}

// spacerAtHand: the spacer that will be fitted is not in the axle.
func spacerAtHand() need {
	return notFinal(text.Say("not.spacer-in", "the spacer is in the axle: remove pinion first"))
}

// shaftsCanBeIn: axle shafts run in the case.
func shaftsCanBeIn() need {
	return need{func(s *Stand) bool { return s.caseIn }, always(text.Say("not.no-shaft-without-case", "the case is out, and no axle shaft is in without it"))}
}

// depthShimAtHand: the shim can be got at; under a cage it can with the pinion in.
func depthShimAtHand() need {
	n := pinionNotIn()
	return need{func(s *Stand) bool { return n.met(s) || s.fam.Design.DepthShim == family.UnderCageFlange }, n.why}
}

// length adds a reading of lengths to what an act shows, each drawn in the label's stream.
func (s *Stand) length(out *history.Step, r gauge.Reading, t gauge.Tool, label string, trueMM ...float64) {
	c, _ := gauge.ClassOf(t)
	r.Tool = t
	for _, mm := range trueMM {
		v := s.kit.Read(t, mm, s.label(label), 0)
		if t == gauge.Feeler || t == gauge.DialIndicator {
			v = math.Max(v, 0)
		}
		r.Lengths = append(r.Lengths, quantity.Millimetres(v))
		r.StdMM = c.StandardUncertainty(mm, 1)
	}
	out.Readings = append(out.Readings, r)
}

// found adds a finding: the first if it is so, else the second.
func found(out *history.Step, k gauge.Kind, so bool, is, isNot gauge.Finding) {
	f := isNot
	if so {
		f = is
	}
	out.Readings = append(out.Readings, gauge.Reading{Kind: k, Finding: f})
}

// gaps adds what a feeler gauge finds behind two rings.
func (s *Stand) gaps(out *history.Step, k gauge.Kind, label string, gap, seated gauge.Finding, mm ...float64) {
	if math.Max(mm[0], mm[1]) <= seenMM {
		found(out, k, false, gap, seated)
		return
	}
	s.length(out, gauge.Reading{Kind: k, Finding: gap}, gauge.Feeler, label, mm...)
}

func (s *Stand) inspectCups(out *history.Step) {
	s.gaps(out, gauge.CupSeats, "cup-gaps", gauge.CupGap, gauge.CupsSeated, s.axle.InnerCupGapMM, s.axle.OuterCupGapMM)
}

func (s *Stand) inspectCones(out *history.Step) {
	s.gaps(out, gauge.ConeSeats, "side-cones", gauge.ConeGap, gauge.ConesSeated, s.axle.RingGearConeGapMM, s.axle.OppositeConeGapMM)
}

func (s *Stand) inspectBearings(out *history.Step) {
	finding := func(f gauge.Finding) { found(out, gauge.BearingCondition, true, f, f) }
	switch {
	case s.axle.PackedInGrease:
		finding(gauge.BearingsGreased) // grease hides the races
	case s.axle.GritNmm > 0:
		finding(gauge.RollersGritty) // so does grit
	case s.axle.NotchNmm > 0:
		finding(gauge.BearingsOiled)
		finding(gauge.RaceDented)
	default:
		finding(gauge.BearingsSound)
	}
}

func (s *Stand) inspectSpacer(out *history.Step) {
	sp, collapsible := s.axle.SpacerAt(s.spacersUsed)
	if !collapsible {
		found(out, gauge.SpacerCondition, true, gauge.SpacerSolid, gauge.SpacerSolid)
		return
	}
	r := gauge.Reading{Kind: gauge.SpacerCondition, Finding: gauge.SpacerNew}
	if sp.AlreadyCrushedMM > 0 {
		r.Finding = gauge.SpacerCrushed
	}
	s.length(out, r, gauge.Caliper, "spacer", s.fam.Sheet.SpacerLengthMM-sp.AlreadyCrushedMM-sp.ShorterMM)
	if sp.ShorterMM > 0 {
		found(out, gauge.SpacerCondition, true, gauge.SpacerShort, gauge.SpacerNew)
	}
	found(out, gauge.NutCondition, s.axle.NutGripGone, gauge.NutSpins, gauge.NutGrips)
}

func (s *Stand) inspectCaps(out *history.Step) {
	is := gauge.CapsSwapped
	swapped, reversed := s.axle.Has(fault.CapsSwapped), s.axle.Has(fault.CapTurned)
	if reversed && !swapped {
		is = gauge.CapReversed
	}
	found(out, gauge.CapMarks, swapped || reversed, is, gauge.MarksMeet)
}

func (s *Stand) inspectSeal(out *history.Step) {
	found(out, gauge.SealLip, s.axle.SealDragNmm > s.axle.NewSealDragNmm, gauge.SealLipTurned, gauge.SealSound)
}

func (s *Stand) inspectShimSeat(out *history.Step) {
	found(out, gauge.ShimSeat, s.axle.ShimDirtMM > 0, gauge.SeatDirty, gauge.SeatClean)
	if s.axle.SlingerOutMM > 0 {
		found(out, gauge.SlingerPlace, true, gauge.SlingerMissing, gauge.SlingerMissing)
	}
}

func (s *Stand) inspectBolts(out *history.Step) {
	found(out, gauge.RingGearBolts, s.axle.BoltsTIRMM > 0, gauge.BoltsUneven, gauge.BoltsEven)
	if s.axle.GearLooseMM > 0 {
		found(out, gauge.RingGearBolts, true, gauge.BoltsBottomed, gauge.BoltsEven)
	}
}

func (s *Stand) inspectShafts(out *history.Step) {
	found(out, gauge.AxleShafts, s.axle.BrakeNmm > 0, gauge.ShaftDrags, gauge.ShaftsClear)
}

func (s *Stand) inspectGears(out *history.Step) {
	found(out, gauge.MatchNumbers, s.axle.MixedShare > 0, gauge.NumbersDiffer, gauge.NumbersMatch)
	found(out, gauge.RingGearTag, s.axle.GearShortMM > 0, gauge.TagOfOtherCase, gauge.TagFits)
}

// measureCaseRunout takes the ring gear off, which also cleans its faces.
func (s *Stand) measureCaseRunout(out *history.Step) {
	s.length(out, gauge.Reading{Kind: gauge.CaseRunout}, gauge.DialIndicator, "flange-runout", s.axle.BareFlangeMM())
	r := gauge.Reading{Kind: gauge.GearFlatness, Finding: gauge.GearFlat}
	if s.axle.WarpTIRMM > seenMM {
		r.Finding = gauge.GearRocks
	}
	s.length(out, r, gauge.Feeler, "gear-flatness", s.axle.WarpTIRMM)
	s.cleanGear(out)
	s.changed()
}

func (s *Stand) testString(out *history.Step) {
	off := s.axle.StringGain != 0
	found(out, gauge.StringRadius, off, gauge.StringWasOff, gauge.StringOnRadius)
	if off {
		s.kit = gauge.NewKit(s.seed, s.axle.WrenchGain, 0)
		s.changed()
	}
}

func (s *Stand) testGauge(out *history.Step) {
	off := s.axle.GaugeOffMM > 0
	found(out, gauge.GaugeBlock, off, gauge.GaugeWasOff, gauge.GaugeAgrees)
	if off {
		s.changed()
	}
}

func (s *Stand) testIndicator(out *history.Step) {
	loose := s.axle.IndicatorLoose
	found(out, gauge.IndicatorArm, loose, gauge.IndicatorWasLoose, gauge.IndicatorReturns)
	if loose {
		s.changed()
	}
}
