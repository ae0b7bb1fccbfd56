package gauge

import (
	"shimwright/sim/act"
	"shimwright/sim/text"
)

// How says in words how the reading was taken, or which figure is which; the zero Message
// where there is nothing to say.
func (r Reading) How() text.Message {
	switch r.Kind {
	case CupSeats:
		return text.Say("how.cup-gaps", "inner cup, outer cup")
	case ConeSeats:
		return text.Say("how.cone-gaps", "ring-gear-side cone, opposite-side cone")
	case SpacerCondition:
		return text.Say("how.free-length", "free length")
	case BearingHeights:
		return text.Say("how.bearing-heights", "set-up bearing above the bearing that stays")
	case PinionRunout:
		return text.Say("how.pinion-runout", "at the pinion face, one turn in V-blocks")
	case DepthShimSize:
		return text.Say("how.thickness", "thickness")
	case SideShimSizes:
		return text.Say("how.side-shims", "ring-gear side, opposite side")
	case CaseRunout:
		return text.Say("how.case-runout", "bare case flange, one turn")
	case Depth:
		return text.Say("how.depth", "pinion face to ring gear centerline")
	case NutTorque:
		return text.Say("how.nut-torque", "at the end of the pull")
	case NutLoosening:
		return text.Say("how.nut-loosening", "while loosening")
	case PinionEndPlay:
		return text.Say("how.pinion-end-play", "yoke pushed and pulled")
	case CaseEndPlay:
		return text.Say("how.end-play", "case rocked sideways")
	case HousingSpread:
		return text.Say("how.spread", "across the bearing caps, against slack bearings")
	case Runout:
		return text.Say("how.runout", "ring gear back face, one turn")
	case RadialRunout:
		return text.Say("how.radial-runout", "ring gear rim, one turn")
	case PinionTorque, TotalTorque:
		return text.Say("how.torque", "{pull}, {tool}", text.Of("pull", OptionName(r.Method.Pull)), text.Of("tool", r.Tool.Name()))
	case Backlash:
		return text.Say("how.backlash", "{place}, {plunger}, {pinion}", text.Of("place", OptionName(r.Method.Place)),
			text.Of("plunger", OptionName(r.Method.Plunger)), text.Of("pinion", OptionName(r.Method.Pinion)))
	case Pattern:
		return text.Say("how.pattern", "{coat}, {load}", text.Of("coat", OptionName(r.Method.Coat)), text.Of("load", OptionName(r.Method.Load)))
	}
	return text.Message{}
}

// OptionName says an option of a reading in words.
func OptionName(o act.Option) text.Message {
	switch o {
	case act.Rotating:
		return text.Say("option.rotating", "rotating")
	case act.Breakaway:
		return text.Say("option.breakaway", "breakaway")
	case act.Heel:
		return text.Say("option.heel", "heel")
	case act.Middle:
		return text.Say("option.middle", "middle")
	case act.Toe:
		return text.Say("option.toe", "toe")
	case act.Square:
		return text.Say("option.square", "plunger square")
	case act.Along:
		return text.Say("option.along", "plunger along the travel")
	case act.Tilted:
		return text.Say("option.tilted", "plunger tilted")
	case act.PinionHeld:
		return text.Say("option.pinion-held", "pinion held")
	case act.PinionFree:
		return text.Say("option.pinion-free", "pinion free")
	case act.Thin:
		return text.Say("option.thin", "thin coat")
	case act.Thick:
		return text.Say("option.thick", "thick coat")
	case act.Braked:
		return text.Say("option.braked", "braked")
	case act.Free:
		return text.Say("option.free", "free")
	}
	return text.Message{}
}
