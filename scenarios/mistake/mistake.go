package mistake

import (
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/text"
)

// A Part is a part of the job.
type Part string

// The parts, in the order of the job.
const (
	Inspection    Part = "inspection"
	PinionDepth   Part = "depth"
	PinionPreload Part = "preload"
	Backlash      Part = "backlash"
	SideBearings  Part = "side-bearings"
)

// Name is what the part is called.
func (p Part) Name() text.Message {
	switch p {
	case Inspection:
		return text.Say("part.inspection", "inspection")
	case PinionDepth:
		return text.Say("part.depth", "pinion depth")
	case PinionPreload:
		return text.Say("part.preload", "pinion bearing preload")
	case Backlash:
		return text.Say("part.backlash", "backlash")
	case SideBearings:
		return text.Say("part.side-bearings", "side bearings")
	}
	return text.Verbatim(string(p))
}

// A Mistake is one thing that a previous technician did wrong. Name is a noun phrase; the
// other texts are sentences.
type Mistake struct {
	ID     string
	Part   Part
	Name   text.Message
	Shows  text.Message // what it leaves behind for whoever reads
	Told   text.Message // the reading that tells it
	Remedy text.Message
	Missed text.Message // what happens if the axle goes out with it
	Lesson string

	Difficulty int // 1 one odd reading that points at itself, to 5 nothing on the bench cures it
	Strength   fault.Strength
	Source     text.Message // where right and wrong are written, if they are

	Has    func(technician.Known) bool // axles on which it can be made; nil for all
	Policy technician.Policy           // how it is made
}

// All lists the mistakes in the order of the job.
func All() []Mistake {
	return []Mistake{
		MarkTurned(), MarkForgotten(), MarkInOtherUnits(),
		Overshot(), BackedOff(), WrongRange(), AtBreakaway(), NotTurnedIn(), SealCounted(),
		PlungerTilted(), PlungerAtToe(), PinionFree(), OneSideOnly(),
		NoSidePreload(), SidePreloadHigh(), CapsSnug(), NothingInspected(), UsedSetAsNew(),
	}
}

// Find returns the mistake with an id. Errors: one that there is not, with those there are.
func Find(id string) (Mistake, error) {
	var ids []string
	for _, m := range All() {
		if m.ID == id {
			return m, nil
		}
		ids = append(ids, m.ID)
	}
	return Mistake{}, text.Fail(nil, text.Say("mistake.unknown", "there is no mistake {id}: there are {ids}", text.Typed("id", id), text.AllTyped("ids", ids...)))
}

// On lists the mistakes that can be made on an axle.
func On(k technician.Known) []Mistake {
	var out []Mistake
	for _, m := range All() {
		if m.CanBeOn(k) {
			out = append(out, m)
		}
	}
	return out
}

// CanBeOn tells whether the mistake can be made on an axle.
func (m Mistake) CanBeOn(k technician.Known) bool { return m.Has == nil || m.Has(k) }

func collapsible(k technician.Known) bool { return k.Design.Preload == family.CollapsibleSpacer }

func marked(k technician.Known) bool { return k.Sheet.Marks.Known() && k.OldMark != k.NewMark }

func sideShims(k technician.Known) bool { return k.Design.SideAdjust != family.BearingAdjusters }
