package sim

import (
	"fmt"
	"math"
	"strconv"

	"shimwright/sim/act"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// perform carries out an act that refuse has let through.
func (s *Stand) perform(a act.Act, out *Outcome) error {
	switch a.Form {
	case act.FitPinion, act.TurnPinion, act.TurnNutAngle, act.TurnNutTorque, act.BackNut, act.RemovePinion, act.MeasureDepth, act.MeasurePinionPlay, act.MeasureDrag:
		return s.performPinion(a, out)
	case act.FitCase, act.TurnBackRing, act.TurnToothRing, act.TorqueCaps, act.SlackenCaps, act.MeasureEndPlay, act.MeasureSpread, act.MeasureRunout, act.MeasureBacklash, act.RollGears:
		return s.performCase(a, out)
	case act.LookCups, act.LookBearings, act.LookSpacer, act.LookCones, act.LookCaps, act.LookSeal, act.LookShimSeat, act.LookBolts, act.LookShafts,
		act.MeasureBearings, act.MeasureDepthShim, act.MeasureSideShims, act.MeasureFlangeRunout, act.TestIndicator, act.TestCord:
		s.performLook(a, out)
		return nil
	}
	s.performWork(a, out)
	return nil
}

// performWork does the acts that change the axle without reading anything.
func (s *Stand) performWork(a act.Act, out *Outcome) {
	switch a.Form {
	case act.WashBearings:
		s.greased = false
		out.note("washed, dried with low-pressure air, oiled with light gear oil")
	case act.GreaseBearings:
		s.greased = true
		out.note("both pinion bearings are packed with grease")
	case act.SeatCups:
		moved := s.axle.HeadCupGapMM > 0 || s.axle.TailCupGapMM > 0
		s.axle.HeadCupGapMM, s.axle.TailCupGapMM = 0, 0
		if moved {
			out.note("the hammer note changes: a cup went home that was not")
		} else {
			out.note("both ring solid from the first blow: they were home")
		}
	case act.SeatCones:
		switch x := s.axle; {
		case x.BackConeGapMM > 0 && x.ToothConeGapMM > 0:
			out.note("both cones moved under the press before they stopped solid")
		case x.BackConeGapMM > 0:
			out.note("the back cone moved under the press before it stopped solid")
		case x.ToothConeGapMM > 0:
			out.note("the tooth-side cone moved under the press before it stopped solid")
		default:
			out.note("neither cone moves: both were home")
		}
		s.axle.BackConeGapMM, s.axle.ToothConeGapMM = 0, 0
	case act.MatchCaps:
		switch {
		case s.axle.CapsSwapped:
			out.note("the caps had changed places; now every witness mark meets its own")
		case s.axle.CapRotated:
			out.note("one cap was end for end; now every witness mark meets its own")
		default:
			out.note("both caps were on their own side")
		}
		s.axle.CapsSwapped, s.axle.CapRotated = false, false
	case act.CleanRingGear:
		s.cleanGear(out)
	case act.ReplaceCase:
		s.axle.FlangeTIRMM, s.axle.GearDirtTIRMM, s.axle.BoltsTIRMM = newCaseTIRMM, 0, 0
		s.axle.BackConeGapMM, s.axle.ToothConeGapMM = 0, 0
		out.Parts = append(out.Parts, shop.Case, shop.GearBolts)
		out.note("new case, side bearings pressed home, ring gear bolted on clean and in stages")
	case act.ReplaceBearings:
		s.replaceBearings(out)
	case act.CleanShimSeat:
		if s.axle.ShimDirtMM > 0 {
			out.note("a grain of dirt had been pressed into the seat; it is out, and the face is stoned and wiped")
		} else {
			out.note("seat and shim were clean")
		}
		s.axle.ShimDirtMM = 0
	case act.RemoveShafts:
		s.removeShafts(out)
	case act.ReplaceSeal:
		s.sealTight = false
		out.Parts = append(out.Parts, shop.Seal)
		out.note("new seal, lip oiled, ready for the final build")
	case act.ReplaceSpacer:
		s.spacersUsed++
		out.Parts = append(out.Parts, shop.SpacerAndNut)
		s.axle.NutGripGone = false
		out.note("a new spacer and nut lie ready for the final build")
	case act.FitDepthShim:
		s.fitDepthShim(a, out)
	case act.FitPack:
		s.packMarked, _ = shimOnShelf(s.fam.Design.Solid.Pack, lengthOf(a.Amounts[0]))
	case act.SpreadHousing:
		s.spreadHousing(lengthOf(a.Amounts[0]), out)
	case act.FitSideShims:
		s.backMarked, _ = shimOnShelf(s.fam.Sheet.SideShims, lengthOf(a.Amounts[0]))
		s.toothMarked, _ = shimOnShelf(s.fam.Sheet.SideShims, lengthOf(a.Amounts[1]))
	case act.MountIndicator:
		s.mount = &Mount{a.Choices[0], a.Choices[1], a.Choices[2]}
		return
	case act.PaintTeeth:
		s.paint = a.Choices[0]
		return
	case act.RemoveCase:
		if s.axle.BrakeNmm > 0 {
			s.removeShafts(out) // they run in the case
		}
		s.caseIn, s.capsTight, s.mount, s.paint = false, false, nil, ""
	case act.RecordValue:
		s.record(a)
		return
	case act.ExpectValue:
		return
	case act.SignOff:
		s.signed = true
		return
	}
	s.changed()
}

// fitDepthShim puts a depth shim in hand, or, under a cage, in.
func (s *Stand) fitDepthShim(a act.Act, out *Outcome) {
	s.depthMarked, _ = shimOnShelf(s.fam.Sheet.DepthShims, lengthOf(a.Amounts[0]))
	switch s.fam.Design.DepthShim {
	case family.BehindHeadCup:
		out.note("the head cup is out and in again with this shim behind it")
	case family.UnderCageFlange:
		if s.mode != PinionOut {
			s.pinionFits++
			out.note("cage unbolted, shim changed, cage bolted up again; the pinion stayed in it as it was")
		}
	}
}

// What a spreader does past the limit: how much of the excess stays, and how far its
// screw will go (estimates).
const (
	growthShare    = 0.3
	mostSpreadPart = 1.8
)

func (s *Stand) spreadHousing(mm float64, out *Outcome) {
	s.spreadMM = mm
	over := mm - s.fam.Sheet.SpreadLimitMM
	if over <= 0 {
		out.note("the spreader holds the housing open; it comes off when the case is in")
		return
	}
	s.axle.HousingGrowthMM += growthShare * over
	out.note("the dial went past the sheet's limit: the housing will not come all the way back")
}

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
	if s.fam.Design.DepthShim != family.BehindHeadCup {
		// Behind the cup the right shim takes back what the bearing takes up.
		x.EndPlayAtContactMM -= taller
		x.LineToLinePackMM += taller
	}
	x.SetUpTallMM -= taller
	x.NextTallerMM, x.NotchNmm = 0, 0 // any further pair is of the same lot
	x.HeadCupGapMM, x.TailCupGapMM = 0, 0
	s.greased = false
	out.Parts = append(out.Parts, shop.Bearings)
	out.note("new cones and cups, pressed home and oiled; their height is their own, so measure them and gauge the depth again")
}

func (s *Stand) removeShafts(out *Outcome) {
	if s.axle.BrakeNmm > 0 {
		out.note("the axle shafts come out and their brakes with them; nothing drags at the ring gear now")
	} else {
		out.note("no shaft and no brake was on the gears")
	}
	s.axle.BrakeNmm = 0
}

// newCaseTIRMM is the flange runout of a new case, mm.
const newCaseTIRMM = 0.008

func (o *Outcome) note(text string) { o.Notes = append(o.Notes, text) }

func (s *Stand) cleanGear(out *Outcome) {
	if s.axle.GearDirtTIRMM > 0 {
		out.note("there was a chip between the ring gear and the flange; both faces are stoned and wiped now")
	} else {
		out.note("both faces were clean and free of burrs")
	}
	if s.axle.BoltsTIRMM > 0 {
		out.note("some of the old bolts came loose far too easily; the new ones are up in stages")
	}
	s.axle.GearDirtTIRMM, s.axle.BoltsTIRMM = 0, 0
	out.Parts = append(out.Parts, shop.GearBolts)
}

func (s *Stand) record(a act.Act) {
	e := Entry{a.Choices[0], a.Amounts[0]}
	for i := range s.sheet {
		if s.sheet[i].Item == e.Item {
			s.sheet[i] = e
			return
		}
	}
	s.sheet = append(s.sheet, e)
}

// performLook does the inspections.
func (s *Stand) performLook(a act.Act, out *Outcome) {
	look := func(what string, found bool, yes, no string) *gauge.Reading {
		r := gauge.Reading{What: what, Observed: no, Found: found}
		if found {
			r.Observed = yes
		}
		out.Readings = append(out.Readings, r)
		return &out.Readings[len(out.Readings)-1]
	}
	const seenMM = 0.02 // a gap a feeler finds
	length := func(r *gauge.Reading, t gauge.Tool, trueMM float64) {
		c, _ := gauge.ClassOf(t)
		v := s.kit.Read(t, trueMM, s.label(r.What), 0)
		if t == gauge.Feeler {
			v = math.Max(v, 0)
		}
		r.Tool = t
		r.Lengths = append(r.Lengths, quantity.Millimetres(v))
		r.StdMM = c.StandardUncertainty(trueMM, 1)
	}
	switch a.Form {
	case act.LookCups:
		found := s.axle.HeadCupGapMM > seenMM || s.axle.TailCupGapMM > seenMM
		r := look("cup-gaps", found, "a feeler goes in behind a cup", "no feeler goes in behind either cup")
		if found {
			length(r, gauge.Feeler, s.axle.HeadCupGapMM)
			length(r, gauge.Feeler, s.axle.TailCupGapMM)
			r.How = "head cup, tail cup"
		}
	case act.LookBearings:
		switch {
		case s.greased:
			// Grease hides the tracks.
			look("pinion-bearings", true, "the rollers stand in thick grease", "")
		case s.axle.NotchNmm > 0:
			look("pinion-bearings", false, "", "a film of light oil")
			look("roller-tracks", true, "a roller track is dented and the bearing turns with a notch", "")
		default:
			look("pinion-bearings", false, "", "a film of light oil; they turn freely and without a notch")
		}
	case act.LookSpacer:
		sp, collapsible := s.axle.SpacerAt(s.spacersUsed)
		if !collapsible {
			look("spacer", false, "", "a solid spacer, its ends square and clean: it is used again")
			return
		}
		r := look("spacer", sp.AlreadyCrushedMM > 0, "the bulge is polished and flattened: this spacer has been crushed before", "bright, square and unmarked")
		length(r, gauge.Caliper, s.fam.Sheet.SpacerLengthMM-sp.AlreadyCrushedMM)
		r.How = "free length"
		look("nut", s.axle.NutGripGone, "the nut spins down its thread by hand: it has been used before and grips no more", "the nut grips its thread from the first turn")
	case act.LookCones:
		found := s.axle.BackConeGapMM > seenMM || s.axle.ToothConeGapMM > seenMM
		r := look("side-cones", found, "a feeler goes in behind a side-bearing cone", "no feeler goes in behind either cone")
		if found {
			length(r, gauge.Feeler, s.axle.BackConeGapMM)
			length(r, gauge.Feeler, s.axle.ToothConeGapMM)
			r.How = "back cone, tooth-side cone"
		}
	case act.LookCaps:
		why := "the witness marks do not meet: the caps have changed sides"
		if s.axle.CapRotated && !s.axle.CapsSwapped {
			why = "the witness marks do not meet: a cap is end for end"
		}
		look("caps", s.axle.CapsSwapped || s.axle.CapRotated, why, "both witness marks meet the housing's")
	case act.LookSeal:
		look("seal", s.sealTight, "the lip is dry and turned under on one side", "the lip is oiled and stands evenly all round")
	case act.LookShimSeat:
		look("shim-seat", s.axle.ShimDirtMM > 0, "something hard stands up from the seat of the depth shim", "the seat is bare metal all round")
	case act.LookBolts:
		look("ring-bolts", s.axle.BoltsTIRMM > 0, "some ring gear bolts turn on well below their torque, others do not move", "every ring gear bolt holds at its torque")
	case act.LookShafts:
		look("shafts", s.axle.BrakeNmm > 0, "an axle shaft is in and its brake drags", "shafts and brakes are clear of the gears")
	case act.TestCord:
		look("cord", s.axle.CordGain != 0, "the cord did not lie on the radius that was reckoned with; now it does", "the cord lies on the radius that is reckoned with")
		if s.axle.CordGain != 0 {
			s.axle.CordGain = 0
			s.kit = gauge.NewKit(s.seed, s.axle.WrenchGain, 0)
			s.changed()
		}
	case act.TestIndicator:
		look("indicator", s.axle.IndicatorLoose, "the needle does not come back: a joint of the arm was loose, now it is clamped", "the needle comes back to the same mark every time")
		if s.axle.IndicatorLoose {
			s.axle.IndicatorLoose = false
			s.changed()
		}
	case act.MeasureBearings:
		r := gauge.Reading{What: "bearing-heights", How: "set-up bearing above the one that stays"}
		length(&r, gauge.Micrometer, s.axle.SetUpTallMM)
		out.Readings = append(out.Readings, r)
	case act.MeasureDepthShim:
		r := gauge.Reading{What: "depth-shim", How: "thickness"}
		length(&r, gauge.Micrometer, s.actualDepthShim())
		out.Readings = append(out.Readings, r)
	case act.MeasureSideShims:
		r := gauge.Reading{What: "side-shims", How: "back, tooth"}
		length(&r, gauge.Micrometer, s.backMarked+s.shimScatter("side", s.backMarked))
		length(&r, gauge.Micrometer, s.toothMarked+s.shimScatter("side-other", s.toothMarked))
		out.Readings = append(out.Readings, r)
	case act.MeasureFlangeRunout:
		r := gauge.Reading{What: "flange-runout", How: "bare flange, one turn"}
		length(&r, gauge.DialIndicator, s.axle.BareFlangeMM())
		out.Readings = append(out.Readings, r)
		s.cleanGear(out)
		s.changed()
	}
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
		if s.build.HeadGapMM() == 0 {
			s.axle.HeadCupGapMM = 0
		}
		if s.build.TailGapMM() == 0 {
			s.axle.TailCupGapMM = 0
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
	case act.TurnNutAngle, act.BackNut:
		const handDeg = 0.5 // how closely a person stops at a chalk mark
		deg := a.Amounts[0].Number + s.chance("nut/"+s.label("pull")).Normal(0, handDeg)
		deg = math.Max(deg, 0.1)
		if a.Form == act.BackNut {
			deg = -deg
			// A nut that has not yet reached its spacer loses nothing by coming back.
			if f := s.build.Forces(); !s.backedOff && f.SpacerN > 0 {
				s.backedOff, s.furthestDeg = true, s.build.NutAngleDeg()
			}
		}
		s.pulled(s.build.TurnNut(deg), a.Form, out)
		s.goneFurther()
	case act.TurnNutTorque:
		t, _ := a.Amounts[0].Torque()
		s.pulled(s.build.TurnNutToTorque(s.kit.True(gauge.NutWrench, t.Nmm()), maxPullDeg), a.Form, out)
		s.goneFurther()
	case act.MeasureDepth:
		c, _ := gauge.ClassOf(gauge.DepthGauge)
		d := s.axle.HeadHeightMM + s.depthErrorMM()
		v := s.kit.Read(gauge.DepthGauge, d, s.label("depth"), 0)
		out.Readings = append(out.Readings, gauge.Reading{What: "depth", Tool: gauge.DepthGauge, How: "pinion head to ring gear axis",
			Lengths: []quantity.Length{quantity.Millimetres(v)}, StdMM: c.StandardUncertainty(0, 1)})
	case act.MeasurePinionPlay:
		c, _ := gauge.ClassOf(gauge.DialIndicator)
		v := s.kit.Read(gauge.DialIndicator, s.build.Forces().EndPlayMM, s.label("pinion-play"), s.armNoiseMM()/4)
		out.Readings = append(out.Readings, gauge.Reading{What: "pinion-play", Tool: gauge.DialIndicator, How: "flange pushed and pulled",
			Lengths: []quantity.Length{quantity.Millimetres(math.Max(v, 0))}, StdMM: c.StandardUncertainty(0, 1)})
	case act.MeasureDrag:
		return s.readDrag(a, out)
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
	s.mode = PinionTrial
	if final {
		s.mode = PinionFinal
		if s.fam.Design.Preload == family.SolidSpacer {
			out.note("spacer, pack, seal, flange and nut are in; the nut is finger tight")
		} else {
			out.note("spacer, seal, flange and nut are in; the nut is finger tight and the pinion has end play")
		}
	} else {
		nipped := b.Params().Thread.TighteningNmm(trialShare * s.axle.ReferencePreloadN())
		b.TurnNutToTorque(nipped, 4*maxPullDeg)
		b.RollPinion(6)
		b.TurnNutToTorque(nipped, 4*maxPullDeg)
		out.note("set-up bearing in, no spacer, no seal; the nut is nipped until the pinion turns with a little drag, and it has been turned")
	}
	s.pinionFits++
	s.changed()
	return nil
}

// trialShare is how much of the finished preload a trial build is nipped to.
const trialShare = 0.9

// EndPlayTraceMM is where the feel at the flange changes from plenty of end play to
// a trace, mm (estimate).
const EndPlayTraceMM = 0.10

// pulled reports a move of the nut: the wrench's reading and what the hand feels.
func (s *Stand) pulled(p pinion.Pull, f act.Form, out *Outcome) {
	c, _ := gauge.ClassOf(gauge.NutWrench)
	v := s.kit.Read(gauge.NutWrench, math.Abs(p.TorqueNmm), s.label("nut"), 0)
	what, how := "nut-torque", "at the end of the pull"
	if f == act.BackNut {
		what, how = "nut-loosening", "while loosening"
	}
	out.Readings = append(out.Readings, gauge.Reading{What: what, Tool: gauge.NutWrench, How: how,
		Torques: []quantity.Torque{quantity.Torque(v)}, StdNmm: c.StandardUncertainty(v, 1)})
	if f == act.TurnNutTorque {
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

func (s *Stand) readDrag(a act.Act, out *Outcome) error {
	first := a.Choices[0] == "first-pull"
	t, err := s.drag(first)
	if err != nil {
		return err
	}
	drag, swing := t.MeanNmm, t.SwingNmm
	tool := gauge.LowRangeWrench
	if a.Choices[1] == "cord" {
		tool = gauge.CordAndScale
	}
	what := "pinion-drag"
	if s.caseIn {
		what = "total-drag"
	}
	c, _ := gauge.ClassOf(tool)
	r := gauge.Reading{What: what, Tool: tool, How: a.Choices[0]}
	label := s.label("drag/" + string(tool))
	if swing > 0 {
		low := s.kit.Read(tool, math.Max(drag-swing/2, 0), label+"/low", 0)
		high := s.kit.Read(tool, drag+swing/2, label+"/high", 0)
		r.Torques = []quantity.Torque{quantity.Torque(math.Max(low, 0)), quantity.Torque(high)}
		if s.axle.NotchNmm > 0 {
			out.note("it goes tight and easy again within a turn of the pinion")
		}
		if s.caseIn && (s.axle.CapsSwapped || s.axle.CapRotated) {
			out.note("it goes tight and easy again once for every turn of the ring gear")
		}
	} else {
		r.Torques = []quantity.Torque{quantity.Torque(math.Max(s.kit.Read(tool, drag, label, 0), 0))}
	}
	r.StdNmm = c.StandardUncertainty(drag, 1)
	out.Readings = append(out.Readings, r)
	if !first {
		// Turning it to read it also seats the rollers, after the reading.
		s.build.RollPinion(2)
	}
	return nil
}

// performCase does the acts with the case in the housing.
func (s *Stand) performCase(a act.Act, out *Outcome) error {
	if a.Form == act.FitCase {
		return s.fitCase(out)
	}
	switch a.Form {
	case act.TorqueCaps:
		s.capsTight = true
		s.changed()
		out.note("cap bolts at the sheet's torque")
		return nil
	case act.SlackenCaps:
		s.capsTight = false
		s.changed()
		out.note("cap bolts snug again; the rings can turn")
		return nil
	case act.TurnBackRing, act.TurnToothRing:
		return s.turnRing(a, out)
	}
	st, err := s.carrierState()
	if err != nil {
		return err
	}
	switch a.Form {
	case act.MeasureEndPlay:
		c, _ := gauge.ClassOf(gauge.DialIndicator)
		v := s.kit.Read(gauge.DialIndicator, st.EndPlayMM, s.label("end-play"), s.armNoiseMM()/4)
		r := gauge.Reading{What: "end-play", Tool: gauge.DialIndicator, How: "case rocked sideways",
			Lengths: []quantity.Length{quantity.Millimetres(math.Max(v, 0))}, StdMM: c.StandardUncertainty(0, 1)}
		out.Readings = append(out.Readings, r)
		if st.EndPlayMM <= 0 {
			out.note("the case does not move sideways")
		}
	case act.MeasureSpread:
		c, _ := gauge.ClassOf(gauge.DialIndicator)
		v := s.kit.Read(gauge.DialIndicator, st.SpreadMM, s.label("spread"), s.armNoiseMM())
		out.Readings = append(out.Readings, gauge.Reading{What: "spread", Tool: gauge.DialIndicator, How: "across the side-bearing caps, against slack bearings",
			Lengths: []quantity.Length{quantity.Millimetres(math.Max(v, 0))}, StdMM: c.StandardUncertainty(0, 1)})
	case act.MeasureRunout:
		c, _ := gauge.ClassOf(gauge.DialIndicator)
		label := s.label("runout")
		loose := st.EndPlayMM * s.chance(label).Uniform(0, 1)
		v := s.kit.Read(gauge.DialIndicator, s.axle.RunoutMM()+loose, label, s.armNoiseMM())
		out.Readings = append(out.Readings, gauge.Reading{What: "runout", Tool: gauge.DialIndicator, How: "ring gear back face, one turn",
			Lengths: []quantity.Length{quantity.Millimetres(math.Max(v, 0))}, StdMM: c.StandardUncertainty(0, 1)})
	case act.MeasureBacklash:
		return s.readBacklash(st, int(a.Amounts[0].Number), out)
	case act.RollGears:
		return s.readPattern(st, a.Choices[0] == "braked", out)
	}
	return nil
}

// A Feel is how the case goes in, and the side-shim interference between which it
// goes in so, mm.
type Feel struct {
	Words         string
	LowMM, HighMM float64
}

// Feels lists how the case can go in, from loose to not at all, for a housing that
// may be spread so far, mm.
func Feels(spreadLimitMM float64) []Feel {
	return []Feel{
		{"drops in loose", math.Inf(-1), 0},
		{"pushes in by hand with some drag", 0, 0.05},
		{"goes in with a light tap or two", 0.05, 0.15},
		{"goes in with firm taps of a soft hammer", 0.15, 0.28},
		{"enters only under hard blows", 0.28, spreadLimitMM},
		{"will not enter: the hammer only bounces, and forcing it would spread the housing past its limit", spreadLimitMM, math.Inf(1)},
	}
}

// FeelsOf lists how the case can go into an axle of a family.
func FeelsOf(fam family.Family) []Feel {
	if fam.Design.Entry == family.Spreader {
		return spreadFeels()
	}
	return Feels(fam.Sheet.SpreadLimitMM)
}

// spreadFeels lists how the case goes into a housing that takes a spreader, against what
// the shims stand over it as it is then.
func spreadFeels() []Feel {
	return []Feel{
		{"drops in loose", math.Inf(-1), -0.02},
		{"pushes in by hand with some drag", -0.02, 0.05},
		{"will not enter by hand: open the housing with the spreader", 0.05, math.Inf(1)},
	}
}

// turnRing screws a threaded ring in or out. It stops where the housing would be spread
// past its limit.
func (s *Stand) turnRing(a act.Act, out *Outcome) error {
	n := a.Amounts[0].Number
	if a.Choices[0] == "out" {
		n = -n
	}
	ring := &s.backSlots
	if a.Form == act.TurnToothRing {
		ring = &s.toothSlots
	}
	before := *ring
	*ring += n
	back, tooth := s.axle.FitMM(s.sides())
	if travel := s.fam.Design.Rings.SlotTravelMM(); n > 0 && back+tooth > s.fam.Sheet.SpreadLimitMM {
		*ring = math.Max(before, *ring-math.Ceil(2*(back+tooth-s.fam.Sheet.SpreadLimitMM)/travel)/2)
		out.note(fmt.Sprintf("the ring stopped hard after %s slots: more would spread the housing past its limit", strconv.FormatFloat(*ring-before, 'g', 3, 64)))
	}
	st, err := s.carrierState()
	if err != nil {
		*ring = before
		return err
	}
	out.Readings = append(out.Readings, gauge.Reading{What: "ring", How: "slots turned", Slots: *ring - before})
	switch {
	case st.EndPlayMM > EndPlayTraceMM:
		out.note("the case still slides sideways freely")
	case st.EndPlayMM > 0:
		out.note("the case still clicks sideways: a trace of end play")
	case n > 0:
		out.note("no side play can be felt; the ring turns against the bearings")
	default:
		out.note("no side play can be felt")
	}
	s.changed()
	return nil
}

func (s *Stand) fitCase(out *Outcome) error {
	if s.fam.Design.SideAdjust == family.ThreadedRings {
		if !s.ringsUp {
			// Run up by hand to the cups: the rings count from here.
			s.ringsUp = true
			s.axle.BackZeroMM = s.axle.RingAwayMM + s.axle.BackConeGapMM
			s.axle.ToothZeroMM = s.axle.RingPlayMM - s.axle.RingAwayMM + s.axle.ToothConeGapMM
		}
		s.caseGoesIn(out)
		out.note("the rings are run up by hand until they touch; slots are counted from here")
		return nil
	}
	back, tooth := s.axle.FitMM(s.sides())
	fit := back + tooth - s.spreadMM
	feels := FeelsOf(s.fam)
	r := gauge.Reading{What: "case-fit"}
	for i, f := range feels {
		if fit > f.LowMM {
			r.Observed, r.Found = f.Words, i == len(feels)-1
		}
	}
	out.Readings = append(out.Readings, r)
	if r.Found {
		return nil
	}
	if s.spreadMM > 0 {
		s.spreadMM = 0
		out.note("the spreader is off again")
	}
	s.caseGoesIn(out)
	return nil
}

// caseGoesIn is what follows however the case went in.
func (s *Stand) caseGoesIn(out *Outcome) {
	s.caseIn, s.capsTight = true, false
	s.caseFits++
	s.changed()
	out.note("the caps are on and their bolts run down snug, not torqued")
}

// armNoiseMM is what a loose indicator arm adds to every reading taken with it.
func (s *Stand) armNoiseMM() float64 {
	if s.axle.IndicatorLoose {
		return LooseArmMM
	}
	return 0
}

func (s *Stand) readBacklash(st carrier.State, places int, out *Outcome) error {
	c, _ := gauge.ClassOf(gauge.DialIndicator)
	r := gauge.Reading{What: "backlash", Tool: gauge.DialIndicator,
		How: s.mount.Where + ", " + s.mount.Stem + ", " + s.mount.Pinion, StdMM: c.StandardUncertainty(0, 1)}
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
		if s.mount.Pinion == "pinion-free" {
			// Bearing and spline play ride along when the pinion is not held.
			b += FreePinionMM + ch.Uniform(0, FreePinionMM)
		}
		v := s.kit.Read(gauge.DialIndicator, b*s.placement(), at, s.armNoiseMM())
		r.Lengths = append(r.Lengths, quantity.Millimetres(math.Max(v, 0)))
	}
	out.Readings = append(out.Readings, r)
	if bound {
		out.note("at some place there is no free play at all: the gears bind")
	}
	return nil
}

// placement is what the indicator's stem sees of a movement square to the tooth
// at the heel.
func (s *Stand) placement() float64 {
	return StemShare(s.gears, s.fam.Model.Gears.RingDiameterMM/2, s.mount.Where, s.mount.Stem)
}

// What a hand-rolled print looks like: compound film left by a thin or a thick
// coat, mm, and how closely an eye places its centre, share of the tooth.
const (
	thinFilmMM  = ThinFilmMM
	thickFilmMM = 0.020
	freeFilm    = 0.45 // without a brake the teeth hardly press the compound out
	eyeShare    = 0.020
	printCols   = 48
	printRows   = 16
)

func (s *Stand) readPattern(st carrier.State, braked bool, out *Outcome) error {
	label := s.label("print")
	ch := s.chance(label)
	film, eye := thinFilmMM, eyeShare
	how := s.paint + " coat, "
	if s.paint == "thick" {
		film, eye = thickFilmMM, 2*eyeShare
	}
	if braked {
		how += "braked"
	} else {
		film, eye = film*freeFilm, 2.5*eye
		how += "free"
	}
	angle := ch.Uniform(0, 2*math.Pi) // where the marked teeth are
	pos := s.gearPosition(st, angle, ch.Uniform(0, 1))
	if err := s.contact.Move(pos); err != nil {
		return err
	}
	if s.contact.Backlash().MeanMM <= 0 {
		out.note("the gears bind: they will not roll through, and there is no print to read")
		return nil
	}
	r := gauge.Reading{What: "pattern", Tool: gauge.EyeOnCompound, How: how}
	for _, fl := range s.fam.Design.Flanks() {
		r.Prints = append(r.Prints, s.print(fl, film, eye, label))
	}
	out.Readings = append(out.Readings, r)
	s.paint = ""
	return nil
}

// print draws one flank's print and judges its place as an eye would.
func (s *Stand) print(fl mesh.Flank, film, eye float64, label string) gauge.ToothPrint {
	ch := s.chance(label + "/" + fl.String())
	pat := s.contact.Pattern(fl, film)
	sep := s.contact.Separation(fl, printCols, printRows, nil)
	p := gauge.ToothPrint{Flank: s.fam.Design.FlankName(fl), Crossed: s.fam.Design.DriveFlank == family.Concave, Cols: printCols, Rows: printRows, Ink: make([]float64, len(sep))}
	for i, d := range sep {
		ink := gauge.Ink(d, film)
		ink += ch.Normal(0, 0.06)
		p.Ink[i] = share(ink)
	}
	// However badly the eye judges, it puts the centre on the tooth.
	p.CentreS = hundredth(share(pat.CentreS + ch.Normal(0, eye)))
	p.CentreT = hundredth(share(pat.CentreT + ch.Normal(0, eye)))
	p.LengthPart = hundredth(pat.MaxS - pat.MinS)
	p.HeightPart = hundredth(pat.MaxT - pat.MinT)
	p.AreaPart = hundredth(pat.AreaShare)
	return p
}

// share keeps a place on the tooth, 0 to 1.
func share(x float64) float64 { return math.Max(0, math.Min(1, x)) }

func hundredth(x float64) float64 { return math.Round(x*100) / 100 }

// EyeStd is the standard uncertainty of a print's centre, as a share of the tooth,
// for a way of taking it ("thin coat, braked").
func EyeStd(how string) float64 {
	eye := eyeShare
	if len(how) >= 5 && how[:5] == "thick" {
		eye *= 2
	}
	if len(how) >= 4 && how[len(how)-4:] == "free" {
		eye *= 2.5
	}
	return math.Hypot(eye, 0.01/math.Sqrt(12))
}
