// Package shop says what each act at the bench costs: shop minutes, and parts
// counted as the minutes of work their price would buy. The figures are
// common practice estimates; what labor guides give for whole pieces of work
// stands beside them (Guide). One table serves the bench, the reference
// technician and the grader, so that all three price a choice alike.
package shop

import (
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/text"
)

// Minutes is work time, and the currency everything else is turned into.
type Minutes float64

// A Part is something taken from the shelf, by its code.
type Part string

// Parts that an act can use up.
const (
	SpacerAndNut Part = "spacer-and-nut"
	Seal         Part = "pinion-seal"
	Case         Part = "differential-case"
	GearBolts    Part = "ring-gear-bolts"
	Bearings     Part = "pinion-bearings"
	SideBearings Part = "side-bearing-pair"
	GearSet      Part = "ring-and-pinion"
	Slinger      Part = "oil-slinger"
)

// Name is what a person calls the part.
func (p Part) Name() text.Message {
	switch p {
	case SpacerAndNut:
		return text.Say("part.spacer-and-nut", "collapsible spacer and nut")
	case Seal:
		return text.Say("part.pinion-seal", "pinion seal")
	case Case:
		return text.Say("part.differential-case", "differential case")
	case GearBolts:
		return text.Say("part.ring-gear-bolts", "ring gear bolts")
	case Bearings:
		return text.Say("part.pinion-bearings", "pair of pinion bearings")
	case SideBearings:
		return text.Say("part.side-bearing-pair", "pair of side bearings")
	case GearSet:
		return text.Say("part.ring-and-pinion", "ring and pinion")
	case Slinger:
		return text.Say("part.oil-slinger", "oil slinger")
	}
	return text.Verbatim(string(p))
}

// Parts lists all parts.
func Parts() []Part {
	return []Part{SpacerAndNut, Seal, Case, GearBolts, Bearings, SideBearings, GearSet, Slinger}
}

// PriceOf returns a part's price in minutes of work.
func PriceOf(p Part) Minutes {
	switch p {
	case SpacerAndNut:
		return 20
	case Seal:
		return 10
	case Case:
		return 90
	case GearBolts:
		return 12
	case Bearings:
		return 45
	case SideBearings:
		return 40
	case GearSet:
		return 150
	case Slinger:
		return 4
	}
	return 0
}

// TimeOf returns the minutes an act takes on an axle of a design. places is the number of
// places for a reading taken round the ring gear.
func TimeOf(d family.Design, f act.Form, places int) Minutes {
	return Minutes(f.Minutes(places)) + extraTime(d, f)
}

// extraTime is what a design adds to an act.
func extraTime(d family.Design, f act.Form) Minutes {
	switch {
	case f == act.FitDepthShim && d.DepthShim == family.BehindInnerCup:
		return 8 // the cup comes out and goes in again
	case f == act.FitDepthShim && d.DepthShim == family.UnderCageFlange:
		return 5 // cage bolts
	case f == act.FitSideShims && d.SideAdjust == family.InsideShims:
		return 12 // side bearing cones off and on
	case f == act.RemoveCase && d.Entry == family.Spreader:
		return 4
	}
	return 0
}
