package sim

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// perform carries out an act that refuse has let through.
func (s *Stand) perform(a act.Act, out *Outcome) error {
	switch a.Form {
	case act.FitPinion, act.TurnPinion, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.RemovePinion, act.MeasureDepth, act.MeasurePinionEndPlay, act.MeasureTorque:
		return s.performPinion(a, out)
	case act.FitCase, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps, act.LoosenCaps, act.MeasureEndPlay, act.MeasureSpread, act.MeasureRunout, act.MeasureRadialRunout, act.MeasureBacklash, act.RollGears:
		return s.performCase(a, out)
	case act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectCones, act.InspectCaps, act.InspectSeal, act.InspectShimSeat, act.InspectBolts, act.InspectShafts, act.InspectGears,
		act.MeasureBearings, act.MeasurePinionRunout, act.MeasureDepthShim, act.MeasureSideShims, act.MeasureCaseRunout, act.TestIndicator, act.TestString, act.TestGauge:
		s.performInspection(a, out)
		return nil
	case act.ReplaceGears:
		return s.replaceGears(out)
	}
	s.performWork(a, out)
	return nil
}

// performWork does the acts that change the axle without reading anything.
func (s *Stand) performWork(a act.Act, out *Outcome) {
	switch a.Form {
	case act.WashBearings:
		s.greased, s.axle.GritNmm = false, 0
		out.note("washed, dried with low-pressure air, oiled with light gear oil")
	case act.GreaseBearings:
		s.greased = true
		out.note("both pinion bearings are packed with grease")
	case act.SeatCups:
		moved := s.axle.InnerCupGapMM > 0 || s.axle.OuterCupGapMM > 0
		s.axle.InnerCupGapMM, s.axle.OuterCupGapMM = 0, 0
		if moved {
			out.note("the hammer note changes: a cup went home that was not")
		} else {
			out.note("both ring solid from the first blow: they were home")
		}
	case act.SeatCones:
		switch x := s.axle; {
		case x.RingGearConeGapMM > 0 && x.OppositeConeGapMM > 0:
			out.note("both cones moved under the press before they stopped solid")
		case x.RingGearConeGapMM > 0:
			out.note("the back cone moved under the press before it stopped solid")
		case x.OppositeConeGapMM > 0:
			out.note("the tooth-side cone moved under the press before it stopped solid")
		default:
			out.note("neither cone moves: both were home")
		}
		s.axle.RingGearConeGapMM, s.axle.OppositeConeGapMM = 0, 0
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
		s.axle.FlangeTIRMM, s.axle.GearDirtTIRMM, s.axle.BoltsTIRMM, s.axle.RadialTIRMM = newCaseTIRMM, 0, 0, 0
		s.axle.GearLooseMM = 0
		s.axle.RingGearConeGapMM, s.axle.OppositeConeGapMM = 0, 0
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
	case act.ReplaceSlinger:
		s.replaceSlinger(out)
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
	case act.FitPreloadShims:
		s.preloadShimsMarked, _ = shimOnShelf(s.fam.Design.Solid.PreloadShims, lengthOf(a.Amounts[0]))
	case act.SpreadHousing:
		s.spreadHousing(lengthOf(a.Amounts[0]), out)
	case act.FitSideShims:
		s.ringGearMarked, _ = shimOnShelf(s.fam.Sheet.SideShims, lengthOf(a.Amounts[0]))
		s.oppositeMarked, _ = shimOnShelf(s.fam.Sheet.SideShims, lengthOf(a.Amounts[1]))
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
	case family.BehindInnerCup:
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

// newCaseTIRMM is the flange runout of a new case, mm.
const newCaseTIRMM = 0.008

func (o *Outcome) note(text string) { o.Notes = append(o.Notes, text) }

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
func (s *Stand) performInspection(a act.Act, out *Outcome) {
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
		if t == gauge.Feeler || r.What == "pinion-runout" {
			v = math.Max(v, 0)
		}
		r.Tool = t
		r.Lengths = append(r.Lengths, quantity.Millimetres(v))
		r.StdMM = c.StandardUncertainty(trueMM, 1)
	}
	switch a.Form {
	case act.InspectCups:
		found := s.axle.InnerCupGapMM > seenMM || s.axle.OuterCupGapMM > seenMM
		r := look("cup-gaps", found, "a feeler goes in behind a cup", "no feeler goes in behind either cup")
		if found {
			length(r, gauge.Feeler, s.axle.InnerCupGapMM)
			length(r, gauge.Feeler, s.axle.OuterCupGapMM)
			r.How = "head cup, tail cup"
		}
	case act.InspectBearings:
		switch {
		case s.greased:
			// Grease hides the tracks.
			look("pinion-bearings", true, "the rollers stand in thick grease", "")
		case s.axle.GritNmm > 0:
			// So does grit.
			look("roller-grit", true, "the bearings grate as they turn: wash them and look again", "")
		case s.axle.NotchNmm > 0:
			look("pinion-bearings", false, "", "a film of light oil")
			look("roller-tracks", true, "a roller track is dented and the bearing turns with a notch", "")
		default:
			look("pinion-bearings", false, "", "a film of light oil; they turn freely and without a notch")
		}
	case act.InspectSpacer:
		sp, collapsible := s.axle.SpacerAt(s.spacersUsed)
		if !collapsible {
			look("spacer", false, "", "a solid spacer, its ends square and clean: it is used again")
			return
		}
		short := sp.ShorterMM > 0
		r := look("spacer", sp.AlreadyCrushedMM > 0, "the bulge is polished and flattened: this spacer has been crushed before", "bright, square and unmarked")
		length(r, gauge.Caliper, s.fam.Sheet.SpacerLengthMM-sp.AlreadyCrushedMM-sp.ShorterMM)
		r.How = "free length"
		if short {
			look("spacer-kind", true, "never crushed, but shorter than the sheet's: a spacer for another axle", "")
		}
		look("nut", s.axle.NutGripGone, "the nut spins down its thread by hand: it has been used before and grips no more", "the nut grips its thread from the first turn")
	case act.InspectCones:
		found := s.axle.RingGearConeGapMM > seenMM || s.axle.OppositeConeGapMM > seenMM
		r := look("side-cones", found, "a feeler goes in behind a side-bearing cone", "no feeler goes in behind either cone")
		if found {
			length(r, gauge.Feeler, s.axle.RingGearConeGapMM)
			length(r, gauge.Feeler, s.axle.OppositeConeGapMM)
			r.How = "back cone, tooth-side cone"
		}
	case act.InspectCaps:
		why := "the witness marks do not meet: the caps have changed sides"
		if s.axle.CapRotated && !s.axle.CapsSwapped {
			why = "the witness marks do not meet: a cap is end for end"
		}
		look("caps", s.axle.CapsSwapped || s.axle.CapRotated, why, "both witness marks meet the housing's")
	case act.InspectSeal:
		look("seal", s.sealTight, "the lip is dry and turned under on one side", "the lip is oiled and stands evenly all round")
	case act.InspectShimSeat:
		look("shim-seat", s.axle.ShimDirtMM > 0, "something hard stands up from the seat of the depth shim", "the seat is bare metal all round")
		if s.axle.SlingerOutMM > 0 {
			look("slinger", true, "the oil slinger that belongs with the shim is not there", "")
		}
	case act.InspectBolts:
		look("ring-bolts", s.axle.BoltsTIRMM > 0, "some ring gear bolts turn on well below their torque, others do not move", "every ring gear bolt holds at its torque")
		if s.axle.GearLooseMM > 0 {
			look("bolt-length", true, "they stand on the bottom of their holes: the gear moves under the hand", "")
		}
	case act.InspectGears:
		look("set-numbers", s.axle.MixedShare > 0, "ring and pinion carry different set numbers", "ring and pinion carry the same set number")
		look("gear-tag", s.axle.GearShortMM > 0, "the ring gear's tag is that of the other case", "the ring gear's tag is that of this case")
	case act.InspectShafts:
		look("shafts", s.axle.BrakeNmm > 0, "an axle shaft is in and its brake drags", "shafts and brakes are clear of the gears")
	case act.TestString:
		look("cord", s.axle.StringGain != 0, "the cord did not lie on the radius that was reckoned with; now it does", "the cord lies on the radius that is reckoned with")
		if s.axle.StringGain != 0 {
			s.axle.StringGain = 0
			s.kit = gauge.NewKit(s.seed, s.axle.WrenchGain, 0)
			s.changed()
		}
	case act.TestGauge:
		look("gauge", s.axle.GaugeOffMM > 0, "a chip lay in a bore under the arbor; now it is out and the gauge agrees with its block", "the arbor lies in clean bores and the gauge agrees with its block")
		if s.axle.GaugeOffMM > 0 {
			s.axle.GaugeOffMM = 0
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
	case act.MeasurePinionRunout:
		r := gauge.Reading{What: "pinion-runout", How: "pinion head, one turn in vee blocks"}
		length(&r, gauge.DialIndicator, s.axle.PinionTIRMM)
		out.Readings = append(out.Readings, r)
	case act.MeasureDepthShim:
		r := gauge.Reading{What: "depth-shim", How: "thickness"}
		length(&r, gauge.Micrometer, s.actualDepthShim())
		out.Readings = append(out.Readings, r)
	case act.MeasureSideShims:
		r := gauge.Reading{What: "side-shims", How: "back, tooth"}
		length(&r, gauge.Micrometer, s.ringGearMarked+s.shimScatter("side", s.ringGearMarked))
		length(&r, gauge.Micrometer, s.oppositeMarked+s.shimScatter("side-other", s.oppositeMarked))
		out.Readings = append(out.Readings, r)
	case act.MeasureCaseRunout:
		r := gauge.Reading{What: "flange-runout", How: "bare flange, one turn"}
		length(&r, gauge.DialIndicator, s.axle.BareFlangeMM())
		out.Readings = append(out.Readings, r)
		flat := look("gear-flatness", s.axle.WarpTIRMM > seenMM, "the ring gear rocks on the plate: it is warped", "the ring gear lies flat on the plate")
		length(flat, gauge.Feeler, s.axle.WarpTIRMM)
		s.cleanGear(out)
		s.changed()
	}
}

// trialShare is how much of the finished preload a trial build is nipped to.
const mockUpShare = 0.9

// EndPlayTraceMM is where the feel at the flange changes from plenty of end play to
// a trace, mm (estimate).
const EndPlayTraceMM = 0.10

// What a hand-rolled print looks like: compound film left by a thin or a thick
// coat, mm, and how closely an eye places its centre, share of the tooth.
const (
	thinFilmMM  = ThinFilmMM
	thickFilmMM = 0.020
	freeFilm    = 0.45 // without a brake the teeth hardly press the compound out
	eyeShare    = 0.020
	patternCols = 48
	patternRows = 16
)
