package sim

import (
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func always(m text.Message) func(*Stand) text.Message {
	return func(*Stand) text.Message { return m }
}

// caseOut: the case is not in the way.
func caseOut() need {
	return need{func(s *Stand) bool { return !s.caseIn }, always(text.Say("not.case-in-the-way", "the case is in the way: remove case first"))}
}

// pinionOut: neither case nor pinion is in the way.
func pinionOut() []need {
	return []need{caseOut(), pinionNotIn()}
}

func pinionNotIn() need {
	return need{func(s *Stand) bool { return s.mode == history.PinionOut }, always(text.Say("not.pinion-in-the-way", "the pinion is in the way: remove pinion first"))}
}

func pinionIn() need {
	return need{func(s *Stand) bool { return s.mode != history.PinionOut }, always(text.Say("not.pinion-not-in", "the pinion is not in yet: fit depth-shim, then fit pinion"))}
}

func caseIn() need {
	return need{func(s *Stand) bool { return s.caseIn }, func(s *Stand) text.Message {
		if s.fam.Design.SideAdjust == family.BearingAdjusters {
			return text.Say("not.case-not-in", "the case is not in yet: fit case")
		}
		return text.Say("not.case-not-in-shims", "the case is not in yet: fit side-shims, then fit case")
	}}
}

// notFinal: what the final assembly closes in is still at hand.
func notFinal(why text.Message) need {
	return need{func(s *Stand) bool { return s.mode != history.PinionFinal }, always(why)}
}

// own: parts of the axle itself do not go back in.
func own(parts func(*Stand) bool, why text.Message) need {
	return need{func(s *Stand) bool { return !parts(s) }, always(why)}
}

func depthShimChosen(why text.Message) need {
	return need{func(s *Stand) bool { return s.depthMarked > 0 }, always(why)}
}

// onlyOn keeps an act to some designs.
func onlyOn(has func(family.Design) bool, why text.Message) func(family.Design) text.Message {
	return func(d family.Design) text.Message {
		if has(d) {
			return text.Message{}
		}
		return why
	}
}

func hasSideShims(d family.Design) bool { return d.SideAdjust != family.BearingAdjusters }
func hasAdjusters(d family.Design) bool { return d.SideAdjust == family.BearingAdjusters }
func isSpread(d family.Design) bool     { return d.Entry == family.Spreader }
func isSolid(d family.Design) bool      { return d.Preload == family.SolidSpacer }
func isCrushed(d family.Design) bool    { return d.Preload != family.SolidSpacer }
func hasSlinger(d family.Design) bool   { return d.DepthShim != family.UnderCageFlange }

func sideShimsOnly() func(family.Design) text.Message {
	return onlyOn(hasSideShims, text.Say("not.no-side-shims", "this axle has bearing adjusters, no side shims: fit case, then turn ring-gear-adjuster and opposite-adjuster"))
}

func adjustersOnly() func(family.Design) text.Message {
	return onlyOn(hasAdjusters, text.Say("not.no-adjusters", "this axle has side shims, no bearing adjusters: fit side-shims"))
}

// adjusterReachMM is how far a bearing adjuster can be screwed out from where it was run up
// by hand; inward the bearings stop it.
const adjusterReachMM = 4.0

const (
	maxPullDeg = 720
	maxTurns   = 100
)

// wrenchEnd is the end of the nut wrench's scale: heavy axles have a heavier one.
func (s *Stand) wrenchEnd() quantity.Torque {
	const room = 1.3
	return max(quantity.FootPounds(700), s.fam.Sheet.NutHigh*room)
}

// onShelf asks that a size is one that is stocked.
func onShelf(what text.Message, stock func(*Stand) family.Stock, amount int) func(*Stand, act.Act) text.Message {
	return func(s *Stand, a act.Act) text.Message {
		shelf := stock(s)
		size, ok := shimOnShelf(shelf, lengthOf(a.Amounts[amount]))
		if ok {
			return text.Message{}
		}
		mm := quantity.Millimetres
		return text.Say("not.off-shelf", "no {what} of that size is on the shelf: sizes run from {low} to {high} in steps of {step}; the nearest is {nearest}",
			text.Of("what", what), text.BothLength("low", mm(shelf.LowMM)), text.BothLength("high", mm(shelf.HighMM)),
			text.BothLength("step", mm(shelf.StepMM)), text.BothLength("nearest", mm(size)))
	}
}

func depthShelf(s *Stand) family.Stock   { return s.fam.Sheet.DepthShims }
func preloadShelf(s *Stand) family.Stock { return s.fam.Design.Solid.PreloadShims }
func sideShelf(s *Stand) family.Stock    { return s.fam.Sheet.SideShims }

// first asks several things in order.
func first(asks ...func(*Stand, act.Act) text.Message) func(*Stand, act.Act) text.Message {
	return func(s *Stand, a act.Act) text.Message {
		for _, ask := range asks {
			if why := ask(s, a); !why.IsZero() {
				return why
			}
		}
		return text.Message{}
	}
}

func oneCarefulPull(_ *Stand, a act.Act) text.Message {
	if a.Amounts[0].Number <= maxPullDeg {
		return text.Message{}
	}
	return text.Say("not.too-far-a-pull", "more than {deg} degrees in one pull is no way to watch a nut: turn less and read again", text.Count("deg", maxPullDeg))
}

func withinWrench(s *Stand, a act.Act) text.Message {
	if t, _ := a.Amounts[0].Torque(); t <= s.wrenchEnd() {
		return text.Message{}
	}
	return text.Say("not.past-wrench", "the nut wrench ends at {end}", text.BothFastener("end", s.wrenchEnd()))
}

func enoughTurns(_ *Stand, a act.Act) text.Message {
	if a.Amounts[0].Number <= maxTurns {
		return text.Message{}
	}
	return text.Say("not.too-many-turns", "{n} turns at a time are plenty", text.Count("n", maxTurns))
}

func adjusterInThread(s *Stand, a act.Act) text.Message {
	at, n := s.ringGearNotches, a.Amounts[0].Number
	if a.Form == act.TurnOppositeAdjuster {
		at = s.oppositeNotches
	}
	most := math.Floor(adjusterReachMM / s.fam.Design.Rings.NotchTravelMM())
	if a.Choices[0] != act.Out || at-n >= -most {
		return text.Message{}
	}
	return text.Say("not.out-of-thread", "the adjuster would come out of its thread: it stands {at} notches in and may go to {most} out from where it was run up",
		text.Number("at", at, -1), text.Number("most", most, 0))
}

func spreadWithinReason(s *Stand, a act.Act) text.Message {
	if lengthOf(a.Amounts[0]) <= mostSpreadPart*s.fam.Sheet.SpreadLimitMM {
		return text.Message{}
	}
	return text.Say("not.spread-too-far", "that is far past the specified limit, {limit}: the housing would be ruined", text.BothLength("limit", quantity.Millimetres(s.fam.Sheet.SpreadLimitMM)))
}

func preloadShimsChosen(s *Stand, a act.Act) text.Message {
	if a.Choices[0] != act.Final || s.fam.Design.Preload != family.SolidSpacer || s.preloadShimsMarked > 0 {
		return text.Message{}
	}
	return text.Say("not.no-preload-shims", "no preload shims are chosen for between the cones: fit preload-shims first")
}
