package sim

import (
	"fmt"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// Possible lists the forms that can be done now, in catalogue order.
func (s *Stand) Possible() []act.Form {
	var out []act.Form
	for _, u := range act.Usages() {
		if s.standsInTheWay(u.Form) == "" {
			out = append(out, u.Form)
		}
	}
	return out
}

// WhyNot says what stands in the way of a form now, or "" if nothing does.
func (s *Stand) WhyNot(f act.Form) string { return s.standsInTheWay(f) }

// standsInTheWay is the order of work: what must be in or out for each act.
func (s *Stand) standsInTheWay(f act.Form) string {
	if s.signed {
		return "the axle is signed off; the job is closed"
	}
	if why := NotOnThisAxle(s.fam.Design, f); why != "" {
		return why
	}
	if why := s.NotHere(f); why != "" {
		return why
	}
	const (
		caseOut   = "the case is in the way: remove case first"
		pinionOut = "the pinion is in the way: remove pinion first"
		pinionIn  = "the pinion is not in yet: fit depth-shim, then fit pinion"
	)
	caseIn := "the case is not in yet: fit side-shims, then fit case"
	if s.fam.Design.SideAdjust == family.BearingAdjusters {
		caseIn = "the case is not in yet: fit case"
	}
	pinion := s.mode != PinionOut
	switch f {
	case act.InspectCups, act.InspectBearings, act.InspectShimSeat, act.InspectGears, act.MeasureBearings, act.MeasurePinionRunout, act.WashBearings, act.GreaseBearings,
		act.ReplaceBearings, act.CleanShimSeat, act.ReplaceSlinger, act.SeatCups, act.ReplaceGears, act.FitPreloadShims:
		if s.caseIn {
			return caseOut
		}
		if pinion {
			return pinionOut
		}
		if f == act.ReplaceBearings && s.axle.UsedBearings {
			return "this axle's own bearings go back in, as the card says: figures for used and new would be mixed"
		}
		if f == act.ReplaceGears && s.axle.UsedGears {
			return "this axle's own gears go back in, as the card says: the backlash they ran with is theirs alone"
		}
	case act.FitDepthShim:
		// A cage comes forward with its pinion, shim and all.
		if s.fam.Design.DepthShim == family.UnderCageFlange {
			break
		}
		if s.caseIn {
			return caseOut
		}
		if pinion {
			return pinionOut
		}
	case act.MeasureDepthShim:
		if pinion && s.fam.Design.DepthShim != family.UnderCageFlange {
			return pinionOut
		}
		if s.depthMarked == 0 {
			return "no depth shim is in hand: fit depth-shim first"
		}
	case act.FitPinion:
		if s.caseIn {
			return caseOut
		}
		if pinion {
			return pinionOut
		}
		if s.depthMarked == 0 {
			return "no depth shim is chosen: fit depth-shim first"
		}
	case act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.LoosenCaps:
		if !s.caseIn {
			return caseIn
		}
		if s.capsTight != (f == act.LoosenCaps) {
			if s.capsTight {
				return "the torqued caps grip the rings: loosen caps first"
			}
			return "the caps are only snug as it is"
		}
	case act.InspectSpacer, act.ReplaceSpacer:
		if s.mode == PinionFinal {
			return "the spacer is in the axle: remove pinion first"
		}
	case act.InspectSeal, act.ReplaceSeal:
		if s.mode == PinionFinal {
			return "the seal is in the axle under the flange: remove pinion first"
		}
	case act.InspectCones, act.InspectBolts, act.SeatCones, act.MeasureCaseRunout, act.CleanRingGear, act.ReplaceCase, act.FitSideShims, act.SpreadHousing, act.MatchCaps:
		if s.caseIn {
			return caseOut
		}
	case act.MeasureSideShims:
		if s.caseIn {
			return caseOut
		}
		if s.ringGearMarked == 0 {
			return "no side shims are in hand: fit side-shims first"
		}
	case act.FitCase:
		if s.caseIn {
			return "the case is in already"
		}
		if !pinion {
			return pinionIn
		}
		if s.ringGearMarked == 0 && s.fam.Design.SideAdjust != family.BearingAdjusters {
			return "no side shims are chosen: fit side-shims first"
		}
	case act.MeasureDepth:
		if !pinion {
			return pinionIn
		}
		if s.caseIn {
			return "the depth gauge needs the bores: remove case first"
		}
	case act.TurnPinion, act.MeasureTorque, act.MeasurePinionEndPlay:
		if !pinion {
			return pinionIn
		}
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut:
		if s.mode == PinionMockUp {
			return "the trial build has no spacer and its nut is only nipped: fit pinion final to set preload"
		}
		if !pinion {
			return pinionIn
		}
	case act.RemovePinion:
		if s.caseIn {
			return caseOut
		}
		if !pinion {
			return "the pinion is out already"
		}
	case act.RemoveCase, act.MeasureEndPlay, act.MeasureSpread, act.MeasureRunout, act.MeasureRadialRunout, act.MountIndicator:
		if !s.caseIn {
			return caseIn
		}
	case act.InspectShafts, act.RemoveShafts:
		if !s.caseIn {
			return "the case is out, and no shaft is in without it"
		}
	case act.TorqueCaps:
		if !s.caseIn {
			return caseIn
		}
		if s.capsTight {
			return "the caps are at torque already"
		}
	case act.MeasureBacklash:
		if !s.caseIn {
			return caseIn
		}
		if s.mount == nil {
			return "the indicator is not set up: mount indicator first, and say where, how the stem stands and whether the pinion is held"
		}
	case act.PaintTeeth:
		if !s.caseIn {
			return caseIn
		}
	case act.RollGears:
		if !s.caseIn {
			return caseIn
		}
		if s.paint == "" {
			return "the teeth are bare: paint teeth first"
		}
	case act.SignOff:
		if s.goal == DepthChosen {
			if s.depthMarked == 0 {
				return "no depth shim is chosen: there is nothing to sign for yet"
			}
			break
		}
		if s.mode != PinionFinal {
			return "the pinion is not in its final build: there is no axle to sign off yet"
		}
		if !s.caseIn && s.goal != PinionSet {
			return "the case is not in: there is no axle to sign off yet"
		}
	}
	return ""
}

// NotOnThisAxle says why an act has no place on an axle of a design, or "" if it has.
func NotOnThisAxle(d family.Design, f act.Form) string {
	rings, solid := d.SideAdjust == family.BearingAdjusters, d.Preload == family.SolidSpacer
	switch f {
	case act.FitSideShims, act.MeasureSideShims:
		if rings {
			return "this axle has threaded rings, no side shims: fit case, then turn ring-gear-adjuster and opposite-adjuster"
		}
	case act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.LoosenCaps:
		if !rings {
			return "this axle has side shims, no threaded rings: fit side-shims"
		}
	case act.SpreadHousing:
		if d.Entry != family.Spreader {
			return "this housing is not spread: the case goes in without"
		}
	case act.ReplaceSlinger:
		if d.DepthShim == family.UnderCageFlange {
			return "no slinger lies with the shims of this axle: they are under the flange of its cage"
		}
	case act.FitPreloadShims:
		if !solid {
			return "this axle has a collapsible spacer and no pack: the nut sets the preload"
		}
	case act.ReplaceSpacer:
		if solid {
			return "this axle has a solid spacer: it is used again"
		}
	}
	return ""
}

// refuse adds to the order of work what depends on the amounts of the act.
func (s *Stand) refuse(a act.Act) string {
	if why := s.standsInTheWay(a.Form); why != "" {
		return why
	}
	if why := s.NotHere(a.Form, a.Choices...); why != "" {
		return why
	}
	switch a.Form {
	case act.FitDepthShim:
		return offShelf("depth shim", s.fam.Sheet.DepthShims, a.Amounts[0])
	case act.FitPreloadShims:
		return offShelf("pack", s.fam.Design.Solid.PreloadShims, a.Amounts[0])
	case act.FitPinion:
		if a.Choices[0] == "final" && s.fam.Design.Preload == family.SolidSpacer && s.preloadShimsMarked == 0 {
			return "no pack is chosen for between the cones: fit preload-shims first"
		}
	case act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
		at, n := s.ringGearNotches, a.Amounts[0].Number
		if a.Form == act.TurnOppositeAdjuster {
			at = s.oppositeNotches
		}
		if most := math.Floor(ringReachMM / s.fam.Design.Rings.NotchTravelMM()); a.Choices[0] == "out" && at-n < -most {
			return fmt.Sprintf("the ring would come out of its thread: it stands at %g slots and may go %g out from where it was run up", at, most)
		}
	case act.SpreadHousing:
		most := mostSpreadPart * s.fam.Sheet.SpreadLimitMM
		if lengthOf(a.Amounts[0]) > most {
			l := quantity.Millimetres(s.fam.Sheet.SpreadLimitMM)
			return "that is far past what the sheet allows, " + l.Show(quantity.Inch) + " (" + l.Show(quantity.Metric) + "): the housing would be ruined"
		}
	case act.FitSideShims:
		for i, side := range []string{"back side shim", "tooth side shim"} {
			if why := offShelf(side, s.fam.Sheet.SideShims, a.Amounts[i]); why != "" {
				return why
			}
		}
	case act.TightenNutAngle, act.LoosenNut:
		if a.Amounts[0].Number > maxPullDeg {
			return fmt.Sprintf("more than %d degrees in one pull is no way to watch a nut: turn less and read again", maxPullDeg)
		}
	case act.TightenNutTorque:
		if t, _ := a.Amounts[0].Torque(); t > s.wrenchEnd() {
			end := s.wrenchEnd()
			return "the nut wrench ends at " + end.ShowFastener(quantity.Inch) + " (" + end.ShowFastener(quantity.Metric) + ")"
		}
	case act.TurnPinion:
		if a.Amounts[0].Number > maxTurns {
			return fmt.Sprintf("%d turns at a time are plenty", maxTurns)
		}
	}
	return ""
}

// ringReachMM is how far a threaded ring can be screwed out from where it was run up by
// hand; inwards the bearings stop it.
const ringReachMM = 4.0

const (
	maxPullDeg = 720
	maxTurns   = 100
)

// wrenchEnd is the end of the nut wrench's scale: heavy axles have a heavier one.
func (s *Stand) wrenchEnd() quantity.Torque {
	const room = 1.3
	return max(quantity.FootPounds(700), s.fam.Sheet.NutHigh*room)
}

func offShelf(what string, stock family.Stock, e quantity.Entered) string {
	mm := lengthOf(e)
	size, ok := shimOnShelf(stock, mm)
	if ok {
		return ""
	}
	both := func(mm float64) string {
		l := quantity.Millimetres(mm)
		return l.Show(quantity.Inch) + " (" + l.Show(quantity.Metric) + ")"
	}
	return fmt.Sprintf("no %s of that size is on the shelf: sizes run from %s to %s in steps of %s; the nearest is %s",
		what, both(stock.LowMM), both(stock.HighMM), both(stock.StepMM), both(size))
}

// caution returns what a person should be told before the act the first time.
func caution(f act.Form) string {
	switch f {
	case act.SeatCups, act.SeatCones, act.ReplaceBearings, act.ReplaceGears:
		return "Eye protection on: hardened rings chip and a press can throw them. Drive or press on the ring being fitted only, with a soft drift or the right sleeve."
	case act.SpreadHousing:
		return "A spreader can break a housing: watch the dial, stay well inside the manual's limit, and keep clear of the screw's line."
	case act.FitCase, act.RemoveCase:
		return "The case and ring gear are heavy and the teeth are sharp: lift with help or tackle, keep fingers out of the mesh, and leave the caps and a few turns of their bolts on until the case is held."
	case act.WashBearings:
		return "Solvent: ventilate, gloves on, no flame. Never spin a bearing with the air jet."
	case act.TightenNutAngle, act.TightenNutTorque:
		return "Hold the flange with a proper bar on firm ground: a nut this tight can throw a wrench. The bar must never bear on the gear teeth."
	case act.RollGears:
		return "Keep rags, sleeves and fingers clear of turning gears. Use a lead-free compound and wash your hands."
	case act.CleanRingGear, act.MeasureCaseRunout, act.ReplaceCase:
		return "Ring gear bolts: new ones, to the maker's torque in stages, with locker where the manual asks. A bolt that comes loose can lock the axle at speed."
	}
	return ""
}
