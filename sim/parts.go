package sim

import (
	"fmt"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// partsWork are the acts that clean, seat, replace and choose parts.
func partsWork() map[act.Form]deed {
	depth, preload, parts, sides := history.Changes{Depth: 1}, history.Changes{Preload: 1}, history.Changes{Parts: 1}, history.Changes{Sides: 1}
	work := func(needs []need, touches history.Changes, does func(*Stand, *history.Step)) deed {
		return deed{needs: needs, touches: touches, does: plain(func(s *Stand, _ act.Act, out *history.Step) {
			does(s, out)
			s.changed()
		})}
	}
	sealOpen := notFinal(text.Say("not.seal-in", "the seal is in the axle under the yoke: remove pinion first"))
	gears := deed{touches: parts, does: func(s *Stand, _ act.Act, out *history.Step) error { return s.replaceGears(out) },
		needs: append(pinionOut(), own(func(s *Stand) bool { return s.axle.UsedGears },
			text.Say("not.own-gears", "this axle's own gears go back in, as the card says: the backlash they ran with is theirs alone")))}
	bearings := work(append(pinionOut(), own(func(s *Stand) bool { return s.axle.UsedBearings },
		text.Say("not.own-bearings", "this axle's own bearings go back in, as the card says: the specs for used and new bearings differ"))), parts, (*Stand).replaceBearings)
	slinger := work(pinionOut(), depth, (*Stand).replaceSlinger)
	slinger.design = onlyOn(hasSlinger, text.Say("not.no-slinger", "no slinger lies with the shims of this axle: they are under the flange of its cage"))
	spacer := work([]need{spacerAtHand()}, preload, (*Stand).replaceSpacer)
	spacer.design = onlyOn(isCrushed, text.Say("not.solid-spacer", "this axle has a solid spacer: it is used again"))
	return map[act.Form]deed{
		act.WashBearings: work(pinionOut(), preload, func(s *Stand, out *history.Step) {
			out.Feels = append(out.Feels, history.BearingsWashed)
		}),
		act.GreaseBearings: work(pinionOut(), preload, func(s *Stand, out *history.Step) {
			s.axle.PackedInGrease = true
			out.Feels = append(out.Feels, history.BearingsGreased)
		}),
		act.ReplaceBearings: bearings,
		act.CleanShimSeat: work(pinionOut(), depth, func(s *Stand, out *history.Step) {
			out.Feels = append(out.Feels, either(s.axle.ShimDirtMM > 0, history.SeatWasDirty, history.SeatWasClean))
		}),
		act.SeatCups: work(pinionOut(), parts, func(s *Stand, out *history.Step) {
			out.Feels = append(out.Feels, either(s.axle.InnerCupGapMM > 0 || s.axle.OuterCupGapMM > 0, history.CupMoved, history.CupsSolid))
		}),
		act.SeatCones: work([]need{caseOut()}, parts, (*Stand).seatCones),
		act.ReplaceSideBearings: work([]need{caseOut()}, parts, func(s *Stand, out *history.Step) {
			out.Parts = append(out.Parts, shop.SideBearings)
			out.Feels = append(out.Feels, history.SideBearingsReplaced)
		}),
		act.MatchCaps: work([]need{caseOut()}, sides, (*Stand).matchCaps),
		act.CleanRingGear: work([]need{caseOut()}, parts, func(s *Stand, out *history.Step) {
			s.cleanGear(out)
		}),
		act.ReplaceCase: work([]need{caseOut()}, parts, func(s *Stand, out *history.Step) {
			out.Parts = append(out.Parts, shop.Case, shop.GearBolts)
			out.Feels = append(out.Feels, history.CaseReplaced)
		}),
		act.ReplaceGears:   gears,
		act.ReplaceSlinger: slinger,
		act.ReplaceSeal: work([]need{sealOpen}, preload, func(s *Stand, out *history.Step) {
			out.Parts = append(out.Parts, shop.Seal)
			out.Feels = append(out.Feels, history.SealReplaced)
		}),
		act.ReplaceSpacer: spacer,
		act.RemoveShafts:  work([]need{shaftsCanBeIn()}, sides, (*Stand).removeShafts),
		act.FitDepthShim: {needs: depthShimFits(), asks: onShelf(text.Say("part.depth-shim", "depth shim"), depthShelf, 0), touches: depth,
			does: plain((*Stand).fitDepthShim)},
		act.FitPreloadShims: {design: onlyOn(isSolid, text.Say("not.no-preload-shims-here", "this axle has a collapsible spacer and no preload shims: the nut sets the preload")),
			needs: pinionOut(), asks: onShelf(text.Say("part.preload-shims", "preload shim"), preloadShelf, 0), touches: preload,
			does: plain(func(s *Stand, a act.Act, _ *history.Step) {
				s.preloadShimsMarked, _ = shimOnShelf(preloadShelf(s), lengthOf(a.Amounts[0]))
				s.changed()
			})},
		act.FitSideShims: {design: sideShimsOnly(), needs: []need{caseOut()}, touches: sides,
			asks: first(onShelf(text.Say("part.ring-gear-shim", "ring-gear-side shim"), sideShelf, 0), onShelf(text.Say("part.opposite-shim", "opposite-side shim"), sideShelf, 1)),
			does: plain(func(s *Stand, a act.Act, _ *history.Step) {
				s.ringGearMarked, _ = shimOnShelf(sideShelf(s), lengthOf(a.Amounts[0]))
				s.oppositeMarked, _ = shimOnShelf(sideShelf(s), lengthOf(a.Amounts[1]))
				s.changed()
			})},
	}
}

func either(so bool, is, isNot history.Feel) history.Feel {
	if so {
		return is
	}
	return isNot
}

// depthShimFits: the pinion is out, but for a cage, which comes forward with its pinion.
func depthShimFits() []need {
	var out []need
	for _, n := range pinionOut() {
		out = append(out, need{func(s *Stand) bool { return s.fam.Design.DepthShim == family.UnderCageFlange || n.met(s) }, n.why})
	}
	return out
}

func (s *Stand) seatCones(out *history.Step) {
	f := history.ConesSolid
	switch x := s.axle; {
	case x.RingGearConeGapMM > 0 && x.OppositeConeGapMM > 0:
		f = history.BothConesMoved
	case x.RingGearConeGapMM > 0:
		f = history.RingGearConeMoved
	case x.OppositeConeGapMM > 0:
		f = history.OppositeConeMoved
	}
	out.Feels = append(out.Feels, f)
}

func (s *Stand) matchCaps(out *history.Step) {
	f := history.CapsWereRight
	switch {
	case s.axle.Has(fault.CapsSwapped):
		f = history.CapsWereSwapped
	case s.axle.Has(fault.CapTurned):
		f = history.CapWasReversed
	}
	out.Feels = append(out.Feels, f)
}

func (s *Stand) replaceSpacer(out *history.Step) {
	s.spacersUsed++
	out.Parts = append(out.Parts, shop.SpacerAndNut)
	out.Feels = append(out.Feels, history.SpacerReplaced)
}

// fitDepthShim puts a depth shim in hand, or, under a cage, in.
func (s *Stand) fitDepthShim(a act.Act, out *history.Step) {
	s.depthMarked, _ = shimOnShelf(s.fam.Sheet.DepthShims, lengthOf(a.Amounts[0]))
	switch s.fam.Design.DepthShim {
	case family.BehindInnerCup:
		out.Feels = append(out.Feels, history.CupOutAndIn)
	case family.UnderCageFlange:
		if s.mode != history.PinionOut {
			s.pinionFits++
			out.Feels = append(out.Feels, history.CageShimChanged)
		}
	}
	s.changed()
}

// replaceBearings puts in the next pair of pinion bearings. The inner bearing has its own
// height, which goes into the pinion's place, the play between the cups and the difference
// to the set-up bearing.
func (s *Stand) replaceBearings(out *history.Step) {
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
	x.NextTallerMM = 0 // any further pair is of the same lot
	out.Parts = append(out.Parts, shop.Bearings)
	out.Feels = append(out.Feels, history.BearingsReplaced)
}

// replaceGears puts in another ring gear and pinion that were lapped together. Its pinion
// carries the same mark; what a mark leaves out is its own, and moves the pinion's right
// place and right shim together. The ring gear is bolted on clean and in stages.
func (s *Stand) replaceGears(out *history.Step) error {
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
		// The shim that is right now stands the cups so much farther apart.
		x.EndPlayAtContactMM -= x.NextMarkMM
		x.ZeroPlayPreloadShimMM += x.NextMarkMM
	}
	x.NextMarkMM = 0 // any further set is of the same lot
	out.Parts = append(out.Parts, shop.GearSet, shop.GearBolts)
	out.Feels = append(out.Feels, history.GearsReplaced)
	s.changed()
	return nil
}

func (s *Stand) replaceSlinger(out *history.Step) {
	if s.axle.SlingerOutMM > 0 {
		out.Parts = append(out.Parts, shop.Slinger)
	}
	out.Feels = append(out.Feels, either(s.axle.SlingerOutMM > 0, history.SlingerFitted, history.SlingerWasThere))
}

func (s *Stand) removeShafts(out *history.Step) {
	out.Feels = append(out.Feels, either(s.axle.BrakeNmm > 0, history.ShaftsDrawn, history.NoShaftIn))
}

func (s *Stand) cleanGear(out *history.Step) {
	x := s.axle
	out.Feels = append(out.Feels, either(x.GearDirtTIRMM > 0, history.ChipBehindGear, history.GearFacesClean))
	for _, f := range []struct {
		so   bool
		feel history.Feel
	}{{x.BoltsTIRMM > 0, history.BoltsCameLoose}, {x.RadialTIRMM > 0, history.GearOffItsPilot}, {x.GearLooseMM > 0, history.BoltsWereLong}} {
		if f.so {
			out.Feels = append(out.Feels, f.feel)
		}
	}
	out.Parts = append(out.Parts, shop.GearBolts)
}
