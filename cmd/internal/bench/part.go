package bench

import (
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/text"
)

// A Part is a place of the axle that a person can point at to see what can be done there.
type Part int

// The parts, from the yoke to the far side bearing.
const (
	NutPart Part = iota // with the yoke and the seal
	PinionBearingsPart
	SpacerPart
	DepthShimPart
	PinionPart
	RingGearPart
	SideBearingsPart
	SideShimsPart // or the bearing adjusters
	CapsPart
)

// Parts lists the parts.
func Parts() []Part {
	var out []Part
	for p := NutPart; p <= CapsPart; p++ {
		out = append(out, p)
	}
	return out
}

// Name is what a part is called on an axle of a design.
func (p Part) Name(d family.Design) text.Message {
	switch p {
	case NutPart:
		return text.Say("bench.part.nut", "nut, yoke, seal")
	case PinionBearingsPart:
		return text.Say("bench.part.pinion-bearings", "pinion bearings")
	case SpacerPart:
		if d.Preload == family.SolidSpacer {
			return text.Say("bench.part.preload-shims", "spacer, preload shims")
		}
		return text.Say("bench.part.spacer", "spacer")
	case DepthShimPart:
		return text.Say("bench.part.depth-shim", "depth shim")
	case PinionPart:
		return text.Say("bench.part.pinion", "pinion")
	case RingGearPart:
		return text.Say("bench.part.ring-gear", "ring gear")
	case SideBearingsPart:
		return text.Say("bench.part.side-bearings", "case, side bearings")
	case SideShimsPart:
		if d.SideAdjust == family.BearingAdjusters {
			return text.Say("bench.part.adjusters", "bearing adjusters")
		}
		return text.Say("bench.part.side-shims", "side shims")
	}
	return text.Say("bench.part.caps", "bearing caps, housing")
}

// forms are the acts that concern a part: what is inspected, fitted, turned or put right
// there, and what is measured of it.
func (p Part) forms() []act.Form {
	switch p {
	case NutPart:
		return []act.Form{act.TightenNutTorque, act.TightenNutAngle, act.LoosenNut, act.TurnPinion, act.MeasureTorque, act.MeasurePinionEndPlay, act.InspectSeal, act.ReplaceSeal, act.TestString}
	case PinionBearingsPart:
		return []act.Form{act.InspectCups, act.InspectBearings, act.MeasureBearings, act.WashBearings, act.GreaseBearings, act.ReplaceBearings, act.SeatCups, act.TurnPinion, act.MeasureTorque, act.MeasurePinionEndPlay}
	case SpacerPart:
		return []act.Form{act.InspectSpacer, act.ReplaceSpacer, act.FitPreloadShims, act.TightenNutAngle, act.MeasureTorque, act.MeasurePinionEndPlay}
	case DepthShimPart:
		return []act.Form{act.InspectShimSeat, act.CleanShimSeat, act.FitDepthShim, act.MeasureDepthShim, act.MeasureDepth, act.TestGauge, act.ReplaceSlinger}
	case PinionPart:
		return []act.Form{act.InspectGears, act.MeasurePinionRunout, act.FitPinion, act.MeasureDepth, act.TurnPinion, act.MeasureTorque, act.MeasurePinionEndPlay, act.RemovePinion, act.TestGauge, act.ReplaceGears}
	case RingGearPart:
		return []act.Form{act.InspectGears, act.InspectBolts, act.MountIndicator, act.TestIndicator, act.MeasureBacklash, act.PaintTeeth, act.RollGears, act.MeasureRunout, act.MeasureRadialRunout, act.MeasureCaseRunout, act.CleanRingGear, act.ReplaceGears}
	case SideBearingsPart:
		return []act.Form{act.InspectCones, act.SeatCones, act.ReplaceSideBearings, act.FitCase, act.MeasureEndPlay, act.MeasureTorque, act.RemoveCase, act.InspectShafts, act.RemoveShafts, act.MeasureCaseRunout, act.ReplaceCase}
	case SideShimsPart:
		return []act.Form{act.FitSideShims, act.MeasureSideShims, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.MeasureEndPlay, act.MeasureBacklash}
	}
	return []act.Form{act.InspectCaps, act.MatchCaps, act.TorqueCaps, act.LoosenCaps, act.SpreadHousing, act.MeasureSpread, act.MeasureEndPlay}
}

// On lists the acts that concern a part, those that can be done now first.
func (v View) On(p Part) []Choice {
	var can, cannot []Choice
	for _, f := range p.forms() {
		c, ok := v.Choice(f)
		switch {
		case !ok:
		case c.Why == nil:
			can = append(can, c)
		default:
			cannot = append(cannot, c)
		}
	}
	return slices.Concat(can, cannot)
}
