package sim

import (
	"fmt"
	"math"
	"strconv"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
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

func (s *Stand) removeShafts(out *Outcome) {
	if s.axle.BrakeNmm > 0 {
		out.note("the axle shafts come out and their brakes with them; nothing drags at the ring gear now")
	} else {
		out.note("no shaft and no brake was on the gears")
	}
	s.axle.BrakeNmm = 0
}

func (s *Stand) cleanGear(out *Outcome) {
	if s.axle.GearDirtTIRMM > 0 {
		out.note("there was a chip between the ring gear and the flange; both faces are stoned and wiped now")
	} else {
		out.note("both faces were clean and free of burrs")
	}
	if s.axle.BoltsTIRMM > 0 {
		out.note("some of the old bolts came loose far too easily; the new ones are up in stages")
	}
	if s.axle.RadialTIRMM > 0 {
		out.note("the gear had not been down on its register; now it is drawn on evenly")
	}
	if s.axle.GearLooseMM > 0 {
		out.note("the old bolts were too long for their holes; the new ones clamp the gear")
	}
	s.axle.GearDirtTIRMM, s.axle.BoltsTIRMM, s.axle.RadialTIRMM, s.axle.GearLooseMM = 0, 0, 0, 0
	out.Parts = append(out.Parts, shop.GearBolts)
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
	case act.LoosenCaps:
		s.capsTight = false
		s.changed()
		out.note("cap bolts snug again; the rings can turn")
		return nil
	case act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
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
		loose := (st.EndPlayMM + 2*s.axle.GearLooseMM) * s.chance(label).Uniform(0, 1)
		v := s.kit.Read(gauge.DialIndicator, s.axle.RunoutMM()+loose, label, s.armNoiseMM())
		out.Readings = append(out.Readings, gauge.Reading{What: "runout", Tool: gauge.DialIndicator, How: "ring gear back face, one turn",
			Lengths: []quantity.Length{quantity.Millimetres(math.Max(v, 0))}, StdMM: c.StandardUncertainty(0, 1)})
		if s.axle.WarpTIRMM > s.fam.Sheet.RunoutMM {
			out.note("the needle rises and falls twice in one turn of the gear")
		}
	case act.MeasureRadialRunout:
		c, _ := gauge.ClassOf(gauge.DialIndicator)
		label := s.label("rim-runout")
		v := s.kit.Read(gauge.DialIndicator, s.axle.RadialMM(), label, s.armNoiseMM())
		out.Readings = append(out.Readings, gauge.Reading{What: "radial-runout", Tool: gauge.DialIndicator, How: "ring gear rim, one turn",
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
	ring := &s.ringGearNotches
	if a.Form == act.TurnOppositeAdjuster {
		ring = &s.oppositeNotches
	}
	before := *ring
	*ring += n
	back, tooth := s.axle.FitMM(s.sides())
	if travel := s.fam.Design.Rings.NotchTravelMM(); n > 0 && back+tooth > s.fam.Sheet.SpreadLimitMM {
		*ring = math.Max(before, *ring-math.Ceil(2*(back+tooth-s.fam.Sheet.SpreadLimitMM)/travel)/2)
		out.note(fmt.Sprintf("the ring stopped hard after %s slots: more would spread the housing past its limit", strconv.FormatFloat(*ring-before, 'g', 3, 64)))
	}
	st, err := s.carrierState()
	if err != nil {
		*ring = before
		return err
	}
	out.Readings = append(out.Readings, gauge.Reading{What: "ring", How: "slots turned", Notches: *ring - before})
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
	if s.fam.Design.SideAdjust == family.BearingAdjusters {
		if !s.adjustersUp {
			// Run up by hand to the cups: the rings count from here.
			s.adjustersUp = true
			s.axle.RingGearZeroMM = s.axle.RingAwayMM + s.axle.RingGearConeGapMM
			s.axle.OppositeZeroMM = s.axle.RingPlayMM - s.axle.RingAwayMM + s.axle.OppositeConeGapMM
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
