package misconception

import (
	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/text"
)

// A Misconception is a belief that leads to wrong decisions. Believes and Makes are clauses,
// the first to follow "that"; Right is one sentence or more.
type Misconception struct {
	ID       string
	Believes text.Message
	Makes    text.Message // what it makes a person do
	Right    text.Message
	About    About
	Lesson   string
	Strength fault.Strength
	Source   text.Message // where what is right is written, if it is

	On     func(scenarios.Card) bool // jobs on which it can show; nil for all
	Policy technician.Policy         // how one who holds it works
	Signs  Signs
}

// An About is the part of the work that a misconception leads astray.
type About int

// What there is to be wrong about.
const (
	Depth About = iota + 1
	Preload
	Sides
	Inspecting
	Proving
)

// Signs are what tells a misconception from sensible work.
type Signs struct {
	// Chose tells whether a step was a chance to act on it, and what became of the chance;
	// nil where no choice does.
	Chose func(Scene) Answer
	// Seldom is how often a sensible technician makes the same choice by mistake, 0 for
	// UsualMistakes.
	Seldom float64
	// Aims is the size it aims at where one was picked; nil where no size does.
	Aims func(Scene, Pick) (Aim, bool)
	// Torque is the specification that it sets pinion preload to; nil where it is the sheet's.
	Torque func(Scene) family.TorqueSpec
}

// UsualMistakes is how often a sensible technician makes a misconception's choice by mistake
// (common practice, no source).
const UsualMistakes = 0.05

// An Answer is what became of a chance to act on a misconception.
type Answer int

// The answers.
const (
	NoChance Answer = iota
	ActedOn
	NotActedOn
)

// did makes an answer of a chance.
func did(it bool) Answer {
	if it {
		return ActedOn
	}
	return NotActedOn
}

// whenever is a chance at each act of a form.
func whenever(form act.Form, wrong func(Scene) bool) func(Scene) Answer {
	return func(s Scene) Answer {
		if s.form() != form {
			return NoChance
		}
		return did(wrong(s))
	}
}

// An Aim is a size aimed at and how closely, standard deviation, mm.
type Aim struct{ AtMM, SpreadMM float64 }

// CanShowOn tells whether a misconception can show on a job.
func (m Misconception) CanShowOn(c scenarios.Card) bool { return m.On == nil || m.On(c) }

// All lists the misconceptions in the order of the job.
func All() []Misconception {
	return []Misconception{
		markTurned(), markForgotten(), newMarkOnly(), marksAdded(), markInOtherUnits(), starterIsFinal(), thicker(), gaugeTurned(), tinySteps(),
		shimsNotFollowed(), thickerShimsTighten(), lengthwise(), heightAsBacklash(), pinionForBacklash(), pictureChased(),
		wrongRange(), sealCounted(), breakaway(), notTurnedIn(), greased(), torqueIsPreload(), nutInInchPounds(), backedOff(),
		sidesSwapped(), wrongWay(), oneToOne(), gainTurned(), oneSideOnly(), noSidePreload(), indicatorFloor(), sidePreloadHigh(),
		tighterIsBetter(), moreIsQuieter(), usedSetAsNew(), plungerTilted(), plungerAtToe(), pinionFree(), onePlace(), variationAveraged(), capsSnug(),
		patternUnbraked(), compoundThick(), notRechecked(), nothingInspected(), partsReplaced(), stripFirst(),
	}
}

// Find returns the misconception with an id. Errors: one that there is not, with those there
// are.
func Find(id string) (Misconception, error) {
	var ids []string
	for _, m := range All() {
		if m.ID == id {
			return m, nil
		}
		ids = append(ids, m.ID)
	}
	return Misconception{}, text.Fail(nil, text.Say("misconception.unknown", "there is no misconception {id}: there are {ids}", text.Typed("id", id), text.AllTyped("ids", ids...)))
}

// Jobs that more than one misconception can show on.

func marked(c scenarios.Card) bool {
	return c.Known.Sheet.Marks.Known() && c.Known.OldMark != c.Known.NewMark
}

// starterOpen: the marks decide the first depth shim, and no other shim hangs on it.
func starterOpen(c scenarios.Card) bool {
	return marked(c) && c.Known.From == technician.Bare && c.Known.Design.DepthShim != family.BehindInnerCup
}

func inCage(c scenarios.Card) bool { return c.Known.Design.DepthShim == family.UnderCageFlange }

func solid(c scenarios.Card) bool { return c.Known.Design.Preload == family.SolidSpacer }

func collapsible(c scenarios.Card) bool { return c.Known.Design.Preload == family.CollapsibleSpacer }

func sideShims(c scenarios.Card) bool { return c.Known.Design.SideAdjust != family.BearingAdjusters }

// setsPreload: the pinion's preload is set on the job.
func setsPreload(c scenarios.Card) bool {
	return c.Known.From < technician.PreloadSet && c.Known.To != technician.DepthSet
}
