package catalogue

import (
	"slices"
	"strconv"
	"strings"

	"shimwright/scenarios/mistake"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/text"
)

// A Kind says how a thing comes to be wrong.
type Kind string

// The kinds of entry.
const (
	FaultState Kind = "fault"   // the axle came with it
	Mistake    Kind = "mistake" // a previous technician made it, on a finished axle
)

// Kinds lists the kinds.
func Kinds() []Kind { return []Kind{FaultState, Mistake} }

// An Entry is one thing that can be wrong.
type Entry struct {
	Kind       Kind
	ID         string
	Area       string // of the job, as it is typed
	AreaName   text.Message
	Name       text.Message
	Cause      text.Message // faults only
	Shows      text.Message
	TakenFor   text.Message // faults only
	LookAlikes []string     // ids
	Told       text.Message // what tells it apart
	Test, Cure act.Form     // faults only
	Remedy     text.Message
	Missed     text.Message
	Lesson     string
	Difficulty int // 1 one odd reading that points at itself, to 5 nothing on the bench cures it
	Strength   fault.Strength
	Source     text.Message
	Often      float64        // fault: of the jobs that can bring it; mistake: of the previous-work axles of its design, on average over the shelf
	Late       fault.Late     // faults only
	Size       fault.Size     // faults only
	On         []text.Message // which axles or jobs, none for all
}

// All lists every entry, faults before mistakes, each in the order of the job.
func All() []Entry {
	var out []Entry
	for f := range fault.Each() {
		out = append(out, Entry{Kind: FaultState, ID: string(f.ID), Name: f.Name, Area: string(f.Area), AreaName: f.Area.Name(), Cause: f.Cause, Shows: f.Shows,
			TakenFor: f.TakenFor, LookAlikes: alikes(string(f.ID)), Told: f.Told, Test: f.Test, Cure: f.Cure, Remedy: f.Remedy,
			Missed: f.Missed, Lesson: f.Lesson, Difficulty: f.Difficulty, Strength: f.Strength, Source: f.Source,
			Often: f.Rate, Late: f.Late, Size: f.Size, On: faultOn(f)})
	}
	for _, m := range mistake.All() {
		often, on := mistakeOn(m)
		out = append(out, Entry{Kind: Mistake, ID: m.ID, Name: m.Name, Area: string(m.Part), AreaName: m.Part.Name(), Shows: m.Shows,
			LookAlikes: alikes(m.ID), Told: m.Told, Remedy: m.Remedy, Missed: m.Missed, Lesson: m.Lesson,
			Difficulty: m.Difficulty, Strength: m.Strength, Source: m.Source, Often: often, On: on})
	}
	return out
}

// Find returns the entry with an id. Errors: one that there is not, with what is near it.
func Find(id string) (Entry, error) {
	var near []string
	for _, e := range All() {
		if e.ID == id {
			return e, nil
		}
		for _, word := range strings.Split(id, "-") {
			if word != "" && strings.Contains(e.ID, word) && !slices.Contains(near, e.ID) {
				near = append(near, e.ID)
			}
		}
	}
	if len(near) == 0 {
		return Entry{}, text.Fail(nil, text.Say("catalogue.unknown", "{id} is not in the catalogue: its list has the names", text.Typed("id", strconv.Quote(id))))
	}
	return Entry{}, text.Fail(nil, text.Say("catalogue.near", "{id} is not in the catalogue: did you mean {near}?", text.Typed("id", strconv.Quote(id)), text.AnyTyped("near", near...)))
}

// faultOn says which axles and jobs can bring a fault, by trying them.
func faultOn(f fault.Fault) []text.Message {
	limits := familiesWhere(func(fam family.Family) bool { return f.Has == nil || f.Has(fam.Design) })
	if f.Needs == nil {
		return limits
	}
	switch {
	case !f.Needs(fault.Job{}):
		limits = append(limits, text.Say("catalogue.on.case-in", "jobs that begin with the case in"))
	case !f.Needs(fault.Job{UsedBearings: true}):
		limits = append(limits, text.Say("catalogue.on.new-bearings", "new pinion bearings, pinion depth not chosen yet"))
	case !f.Needs(fault.Job{UsedGears: true}):
		limits = append(limits, newGears())
	}
	return limits
}

func newGears() text.Message { return text.Say("catalogue.on.new-gears", "new gears") }

// mistakeOn returns how many of the previous-work axles have a mistake, over the shelf, and
// on which families. One such axle in a few is right.
func mistakeOn(m mistake.Mistake) (often float64, on []text.Message) {
	can := func(fam family.Family, used bool) (int, bool) {
		k := technician.Known{Sheet: fam.Sheet, Design: fam.Design, UsedGears: used, OldMark: 0, NewMark: 1}
		mistakes := mistake.On(k)
		return len(mistakes), slices.ContainsFunc(mistakes, func(o mistake.Mistake) bool { return o.ID == m.ID })
	}
	n := 0
	for _, fam := range family.Shelf() {
		mistakes, yes := can(fam, false)
		if !yes {
			mistakes, yes = can(fam, true)
		}
		if yes {
			often += 1 / float64(mistakes+max(1, mistakes/5))
			n++
		}
	}
	if n > 0 {
		often /= float64(n)
	}
	if m.Has != nil && m.Has(technician.Known{UsedGears: true}) && !m.Has(technician.Known{}) {
		return often, []text.Message{text.Say("catalogue.on.used-gears", "jobs with used gears")}
	}
	return often, familiesWhere(func(fam family.Family) bool { _, yes := can(fam, false); return yes })
}

// familiesWhere names the shelf's families for which something holds; none for all.
func familiesWhere(holds func(family.Family) bool) []text.Message {
	var codes []string
	for _, fam := range family.Shelf() {
		if holds(fam) {
			codes = append(codes, fam.Code)
		}
	}
	if len(codes) == len(family.Shelf()) {
		return nil
	}
	return []text.Message{text.Verbatim(strings.Join(codes, ", "))}
}
